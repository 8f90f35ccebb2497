"""Registering: which edges of the tile each opening is measured from on paper."""

from cutmarks.registering.error import error_at
from cutmarks.registering.model import Registration
from cutmarks.registering.paper import PAPERS, Paper, paper_named
from cutmarks.registering.register import register

__all__ = ["PAPERS", "Paper", "Registration", "error_at", "paper_named", "register"]
