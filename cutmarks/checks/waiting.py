"""Which findings are about a piece, and which of them hold it up."""

from __future__ import annotations

from collections.abc import Iterable

from cutmarks.checks.model import Finding
from cutmarks.openings.model import CutPiece

OF_WHAT_IS_LEFT = frozenset({"thin bridge", "thin leg", "long strip", "sharp horn", "core breaks in", "much cut out"})
"""Rules about what is left of a tile: they are of the pieces that they name, and of no other that the hole meets."""


def about_piece(findings: Iterable[Finding], piece: CutPiece) -> tuple[Finding, ...]:
    """The findings about the piece or about an opening that is cut in it, in their order.

    One of what is left of a tile is about that tile alone; but what holds up an opening holds up every piece of it:
    what is done about that moves the cuts in all of them.
    """
    return tuple(one for one in findings if _is_about(one, piece))


def is_of_its_pieces(one: Finding) -> bool:
    """Whether it is about the pieces that it names alone."""
    return one.rule in OF_WHAT_IS_LEFT and not _holds_up(one)


def _is_about(one: Finding, piece: CutPiece) -> bool:
    if not {piece.name, piece.piece.name}.isdisjoint(one.about):
        return True
    return not is_of_its_pieces(one) and any(cut.opening.name in one.about for cut in piece.cuts)


def _holds_up(one: Finding) -> bool:
    return one.level == "stop" or one.holds == "trimming"


def holding_up(findings: Iterable[Finding], piece: CutPiece) -> tuple[Finding, ...]:
    """Those that are not accepted and hold it up: it must not be cut, or not be trimmed, while there is one."""
    return tuple(one for one in findings if one.accepted is None and _holds_up(one) and _is_about(one, piece))
