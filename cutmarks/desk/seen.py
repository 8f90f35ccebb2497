"""What the page shows of a plan beside its drawing: findings, where each hole lands, and what was not looked at."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from cutmarks.checks.model import SAID, Finding
from cutmarks.checks.pieces import listed
from cutmarks.checks.returned import SAY_WHY
from cutmarks.desk.form import FormThing, things_in
from cutmarks.desk.says import spelt
from cutmarks.errors import JobPath
from cutmarks.openings.model import Cut, CutPiece
from cutmarks.patterns import late
from cutmarks.plan import Plan
from cutmarks.readings import base_name
from cutmarks.saying.clearances import PASS, verdict
from cutmarks.saying.edges import fixed_from, unread_words
from cutmarks.saying.figures import four_measures, may_be_words, size
from cutmarks.saying.findings import STOP, figures_held, worst_first
from cutmarks.saying.from_lines import place_words
from cutmarks.saying.measures import check_words
from cutmarks.sides import SIDES
from cutmarks.tiling.unlaid import Unlooked
from cutmarks.units import Style, say

SO_FAR: Mapping[str, str] = {
    "tiles": f"{PASS} by itself: no tile was looked at",
    "start": "not known before there is a start",
}
"""What is said of a fitting that nothing is against, by what its surface lacks."""
_SLOT = late(r"\bwrite slot: (?P<value>[^,.;]+)", re.IGNORECASE)
_NO_GAP = late(r"\bassumed at the (?P<side>left|right|bottom|top) edge: write gap: 0\b")
"""What a finding says to write of a hole, or of an edge: it can be written where it is said."""


def findings(plan: Plan, made: FormThing) -> Iterator[dict[str, Any]]:
    """The findings, worst first, each with the place of the thing of the form that it is about.

    laid   whether it is about a tile, so that another start may do away with it.
    write  what it says to write of its one hole, or of an edge, with the place of that key; {} where it says nothing
           of the kind.
    """
    things = list(things_in(made))
    holes = {one.title.casefold(): one.path for one in things if one.kind == "hole"}
    surfaces = {one.title: one.path for one in things if one.kind == "surface"}
    edges = {(one.path[:2], one.title): one.path for one in things if one.kind == "edge"}
    walls = {piece.name: surfaces.get(piece.piece.surface) for piece in plan.pieces}
    places = {one.title.casefold(): spelt(one.path) for one in things if one.kind in ("hole", "area")}
    pieces = {piece.name for piece in plan.pieces}
    for one in worst_first(plan.findings):
        at = next((places[name.casefold()] for name in one.about if name.casefold() in places), "")
        yield {
            "level": SAID[one.level],
            "text": one.text.replace(SAY_WHY, "say why by the button here"),
            "rule": one.rule,
            "at": at,
            "about": list(one.about),
            "last": one.about[-1] if one.about else "",
            "accepted": one.accepted or "",
            "laid": not pieces.isdisjoint(one.about),
            "write": _slot(one, [holes[name.casefold()] for name in one.about if name.casefold() in holes])
            or _no_gap(one, edges, walls),
        }


def _slot(one: Finding, holes: Sequence[JobPath]) -> dict[str, Any]:
    said = _SLOT.search(one.text)
    if said is None or len(holes) != 1 or one.accepted:
        return {}
    return {"path": [*holes[0], "slot"], "key": "slot", "value": said["value"].strip(), "of": ""}


def _no_gap(
    one: Finding, edges: Mapping[tuple[JobPath, str], JobPath], walls: Mapping[str, JobPath | None]
) -> dict[str, Any]:
    said = _NO_GAP.search(one.text)
    found = {walls.get(name) for name in one.about} - {None}
    path = None if said is None or len(found) != 1 else edges.get((found.pop() or (), said["side"]))
    if said is None or path is None or one.accepted:
        return {}
    return {"path": [*path, "gap"], "key": "gap", "value": "0", "of": f" at the {said['side']} edge"}


def holes(plan: Plan) -> Iterator[dict[str, str]]:
    """Where each hole lands: its piece, the figures to mark and to check by, what is cut, and what to read first.

    Of a piece that is stopped there is nothing to mark.
    """
    style = plan.say.style
    for piece in plan.pieces:
        for cut in piece.cuts:
            row = {"hole": cut.opening.name, "piece": piece.name, "marks": STOP, "check": "", "cut": "", "read": ""}
            if not figures_held(plan, piece):
                shown_as = four_measures(cut, piece, style)
                from_sides = {side: f"{shown_as[side]} from the {side}" for side in SIDES}
                row["marks"] = ", ".join(words for side, words in from_sides.items() if side in cut.mark_from)
                row["check"] = ", ".join(words for side, words in from_sides.items() if side not in cut.mark_from)
                row["cut"] = _cut_words(cut, style)
                row["read"] = "; ".join(_to_read(plan, piece, cut))
            yield row


def _cut_words(cut: Cut, style: Style) -> str:
    """What is cut, and how far it may be off."""
    if cut.opening.core is not None:
        what = f"core {say(cut.opening.core, style)}"
    elif cut.sides is not None:
        left, right, bottom, top = cut.sides
        what = size(right - left, top - bottom, style)
    else:
        what = cut.opening.why
    return ", ".join(filter(None, (what, may_be_words(cut.opening, style))))


def _to_read(plan: Plan, piece: CutPiece, cut: Cut) -> Iterator[str]:
    """What is read on the wall when the piece goes up, and where there is nothing to read from."""
    for check in cut.wall_checks:
        if check.fixed:
            yield f"{check_words(check, plan.say.style)} from {fixed_from(plan, piece, check)}"
    for unread in cut.unread:
        yield unread_words(plan, piece, unread)


def clearances(plan: Plan) -> Iterator[dict[str, str]]:
    """The fittings of surfaces without a grid; that nothing is against one is said as far as it goes."""
    lacks = {one.surface: SO_FAR[one.lacks] for one in unlooked(plan)}
    for one in plan.clearances:
        at = place_words(one.opening.at, plan.setout(one.opening.surface), plan.say.style)
        said = verdict(one)
        shown = lacks.get(one.opening.surface, PASS) if said == PASS else said
        yield {"hole": one.opening.name, "at": ", ".join(at), "verdict": shown}


def unlooked(plan: Plan) -> list[Unlooked]:
    """What was not looked at, surface by surface."""
    return [one.unlooked for one in plan.surfaces if one.unlooked is not None]


def unlooked_words(plan: Plan) -> Iterator[str]:
    """The same in sentences, with what to do about it on the page."""
    for one in unlooked(plan):
        if one.lacks == "tiles":
            yield (
                f"{one.surface} has no tiles yet: valves and boxes are looked at by themselves. Add a tile, and an "
                "area that is laid with it."
            )
        else:
            yield (
                f"{one.surface} has no start yet for {listed(one.areas)}: which tile each thing lands on is not known, "
                'nor whether it survives. Choose one under "Where to start".'
            )
        if one.half:
            yield f"Half a start: {listed(one.half)} is not said."
        if one.holes:
            is_, its = ("is", "its") if len(one.holes) == 1 else ("are", "their")
            yield (
                f"{listed(one.holes)} {is_} read from a course or a tile: nothing at all was looked at there before "
                f"the tiles have {its} place."
            )


def pieces(plan: Plan) -> Iterator[dict[str, Any]]:
    """Every tile that is cut, those with holes first, and its holes: what was read at the wall is said of one of these.

    A tile that is parted is one here.
    """
    holes: dict[str, list[str]] = {}
    for piece in plan.pieces:
        holes.setdefault(base_name(piece.name), []).extend(cut.opening.name for cut in piece.cuts)
    for name in sorted(holes, key=lambda name: not holes[name]):
        yield {"piece": name, "holes": list(dict.fromkeys(holes[name]))}
