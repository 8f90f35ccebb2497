"""Which findings stand on a piece's sheet, and what of the piece waits for them."""

from __future__ import annotations

from collections.abc import Iterable

from cutmarks.checks.holes import SIDES_DISAGREE
from cutmarks.checks.model import SAID, Finding, Holds, Level
from cutmarks.checks.waiting import about_piece, holding_up
from cutmarks.openings.model import CutPiece
from cutmarks.plan import Plan

STOP, STOP_SAW, DAY_TWO = "STOP", "STOP BEFORE THE SAW", "DAY TWO"
"""What a piece waits for, in a word: nothing is cut in it, it is not trimmed, it is trimmed on day two."""
READ_AGAIN = "READ IT AGAIN FIRST"
"""What leads where a place is in doubt: a core in large letters was drilled before what stands under it was read."""
_IN_DOUBT = frozenset({SIDES_DISAGREE, "reading does not fit", "tapes cross flat", "not sure"})
"""The rules that doubt a place."""
_ORDER: tuple[Level, ...] = ("stop", "warn", "note")


def findings_of(plan: Plan, piece: CutPiece) -> tuple[Finding, ...]:
    """The findings about the piece or about an opening that is cut in it, stops first."""
    return worst_first(about_piece(plan.findings, piece))


def worst_first(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Stops, then what has to be checked, then notes."""
    return tuple(sorted(findings, key=lambda finding: _ORDER.index(finding.level)))


def called(plan: Plan, finding: Finding) -> str:
    """What a finding is called on the job sheet, and by a template that has no room for it: "NOTE 4".

    They are numbered through, the worst first.
    """
    return f"{SAID[finding.level]} {worst_first(plan.findings).index(finding) + 1}"


def in_short(finding: Finding) -> str:
    """Its first sentence, which has its figure: what to do about it stands on the job sheet."""
    first, stop, _ = finding.text.partition(". ")
    return f"{first}." if stop else finding.text


def waiting_for(plan: Plan, piece: CutPiece) -> tuple[Finding, ...]:
    """Those that hold it up and are not accepted: it must not be cut, or not be trimmed, while there is one."""
    return worst_first(holding_up(plan.findings, piece))


def held(plan: Plan, piece: CutPiece) -> Holds | None:
    """What must wait in this piece: all of it, its trimming alone, or nothing (None)."""
    waits = waiting_for(plan, piece)
    if any(one.holds == "all" for one in waits):
        return "all"
    return "trimming" if waits else None


def held_words(plan: Plan, piece: CutPiece) -> str:
    """What a piece waits for, in a word; "" for nothing."""
    waits = waiting_for(plan, piece)
    if any(one.holds == "all" for one in waits):
        return STOP
    if any(one.level == "stop" for one in waits):
        return STOP_SAW
    return DAY_TWO if waits else ""


def to_check(plan: Plan, piece: CutPiece) -> tuple[str, ...]:
    """The rules that ask for a look at this piece before it is cut, each once; an accepted finding asks no more."""
    found = (one for one in findings_of(plan, piece) if one.level == "warn" and one.accepted is None)
    return tuple(dict.fromkeys(one.rule for one in found if one.holds == "all"))


def to_read_again(plan: Plan, piece: CutPiece) -> bool:
    """Whether the place of something that is cut in this piece is in doubt, and nobody accepted that."""
    return not _IN_DOUBT.isdisjoint(to_check(plan, piece))


def figures_held(plan: Plan, piece: CutPiece) -> bool:
    """Whether what is cut in this piece is not to be marked yet: no figure to mark it by stands anywhere then."""
    return held(plan, piece) == "all"


def size_held(plan: Plan, piece: CutPiece) -> bool:
    """Whether the piece is not to be trimmed yet: no size to trim it to stands anywhere then."""
    return held(plan, piece) is not None
