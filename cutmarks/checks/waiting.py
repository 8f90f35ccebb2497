"""Which findings are about a piece, and which of them hold it up."""

from __future__ import annotations

from collections.abc import Iterable

from cutmarks.checks.model import Finding
from cutmarks.openings.model import CutPiece


def about_piece(findings: Iterable[Finding], piece: CutPiece) -> tuple[Finding, ...]:
    """The findings about the piece or about an opening that is cut in it, in their order."""
    names = {piece.name, piece.piece.name, *(cut.opening.name for cut in piece.cuts)}
    return tuple(finding for finding in findings if names.intersection(finding.about))


def holding_up(findings: Iterable[Finding], piece: CutPiece) -> tuple[Finding, ...]:
    """Those that are not accepted and hold it up: it must not be cut, or not be trimmed, while there is one."""
    found = (one for one in about_piece(findings, piece) if one.accepted is None)
    return tuple(one for one in found if one.level == "stop" or one.holds == "trimming")
