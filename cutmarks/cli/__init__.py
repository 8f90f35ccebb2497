"""The command line: commands, progress, exit codes; no arithmetic."""

from __future__ import annotations

from cutmarks.cli.app import main

__all__ = ["main"]
