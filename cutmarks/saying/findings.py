"""Which findings stand on a piece's sheet."""

from __future__ import annotations

from collections.abc import Iterable

from cutmarks.checks.model import Finding, Holds, Level
from cutmarks.openings.model import CutPiece
from cutmarks.plan import Plan

_ORDER: tuple[Level, ...] = ("stop", "warn", "note")


def findings_of(plan: Plan, piece: CutPiece) -> tuple[Finding, ...]:
    """The findings about the piece or about an opening that is cut in it, stops first."""
    names = {piece.name, piece.piece.name, *(cut.opening.name for cut in piece.cuts)}
    found = [finding for finding in plan.findings if names.intersection(finding.about)]
    return worst_first(found)


def worst_first(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Stops, then what has to be checked, then notes."""
    return tuple(sorted(findings, key=lambda finding: _ORDER.index(finding.level)))


def stops_of(plan: Plan, piece: CutPiece) -> tuple[Finding, ...]:
    """Those that say stop and are not accepted: while there is one, the piece must not be cut, or not be trimmed."""
    return tuple(one for one in findings_of(plan, piece) if one.level == "stop" and one.accepted is None)


def held(plan: Plan, piece: CutPiece) -> Holds | None:
    """What must wait in this piece: all of it, its trimming alone, or nothing (None)."""
    stops = stops_of(plan, piece)
    if any(one.holds == "all" for one in stops):
        return "all"
    return "trimming" if stops else None
