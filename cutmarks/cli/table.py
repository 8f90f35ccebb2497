"""A plan in words for the terminal: holes with their four measures, wall checks, findings, what was assumed.

Every figure comes from the plan; here it is only put in words. Figures on the tile and figures on the wall stand
apart: the wall's may hold the joint and must never be marked on a tile.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from cutmarks.checks.model import SAID
from cutmarks.cli.clearance import clearance_lines
from cutmarks.cli.sure import sure_lines
from cutmarks.cli.terminal import columns, figure, wrapped
from cutmarks.cli.unlooked import unlaid_words
from cutmarks.saying.edges import fixed_from, unread_words
from cutmarks.saying.figures import four_measures, size
from cutmarks.saying.findings import STOP, figures_held, worst_first
from cutmarks.saying.measures import check_words
from cutmarks.sides import SIDES
from cutmarks.units import Style, Unit, say, say_spare

if TYPE_CHECKING:
    from cutmarks.checks.model import Finding
    from cutmarks.openings.model import Cut, CutPiece
    from cutmarks.plan import Plan
    from cutmarks.tiling.model import Counts

INDENT = "  "
ON_THE_TILE = "ON THE TILE: mark. From the whole tile's edges, seen on its FACE; * are the two to mark from"
ON_THE_WALL = "ON THE WALL: read first. From what is there when the tile goes up, to the near and the far side"


def check_lines(plan: Plan) -> list[str]:
    """All that `cutmarks check` prints."""
    units = {Unit.MM: "millimetres", Unit.INCH: "inches"}[plan.say.style.unit]
    lines = wrapped(f"{plan.job}   fingerprint {plan.fingerprint}   {units}", "", INDENT)
    for surface in plan.surfaces:
        for area in surface.areas:
            lines += wrapped(f"{surface.setout.name}, {area.name}: {_counted(area.counts)}", INDENT, INDENT * 2)
    for surface in plan.surfaces:
        if surface.unlooked is not None:
            lines += wrapped(f"{surface.setout.name}: {unlaid_words(surface.unlooked)}", INDENT, INDENT * 2)
    lines += clearance_lines(plan)
    for title, block in (
        (ON_THE_TILE, tile_lines(plan)),
        (ON_THE_WALL, wall_lines(plan)),
        ("BEFORE YOU CUT", finding_lines(plan)),
        ("HOW SURE", sure_lines(plan)),
        ("Assumed", assumed_lines(plan.assumed)),
    ):
        if block:
            lines += ["", *wrapped(title, "", INDENT), *block]
    return lines


def assumed_lines(assumed: Sequence[str]) -> list[str]:
    """What was taken for granted, one sentence after the other."""
    return [line for text in assumed for line in wrapped(text, INDENT, INDENT * 2)]


def tile_lines(plan: Plan) -> list[str]:
    """The table of holes: one row for each piece that a hole meets, its centre from all four edges.

    A piece that is stopped has no figure to mark it by.
    """
    style = plan.say.style
    rows: list[tuple[str, ...]] = [("hole", "piece", "kind", *SIDES, "cut", "you may be")]
    extra: list[str] = []
    for piece, cut in _cuts(plan):
        if figures_held(plan, piece):
            rows.append((cut.opening.name, piece.name, cut.kind, STOP, *("-" for _ in SIDES[1:]), "-", "-"))
            continue
        shown = four_measures(cut, piece, style)
        marked = (f"{figure(shown[side])}{'*' if side in cut.mark_from else ''}" for side in SIDES)
        rows.append((cut.opening.name, piece.name, cut.kind, *marked, cut_size(cut, style), may_be(cut, style)))
        extra += _extra_lines(piece, cut, style)
    return [] if len(rows) == 1 else columns(rows, INDENT) + extra


def wall_lines(plan: Plan) -> list[str]:
    """The wall checks: what to read from what is there when each piece goes up, and where there is nothing."""
    style = plan.say.style
    rows, without = [], []
    for piece, cut in _cuts(plan):
        for check in cut.wall_checks:
            if check.fixed:
                words = f"from {fixed_from(plan, piece, check)}"
                rows.append((cut.opening.name, piece.name, words, figure(check_words(check, style))))
        for unread in cut.unread:
            without.append(f"{cut.opening.name}, {piece.name}: {unread_words(plan, piece, unread)}")
    lines = columns(rows, INDENT, headed=False) if rows else []
    return lines + [line for text in without for line in wrapped(text, INDENT, INDENT * 2)]


def finding_lines(plan: Plan) -> list[str]:
    """The findings, what stops first."""
    return [line for finding in worst_first(plan.findings) for line in _finding(finding)]


def says_stop(plan: Plan) -> bool:
    """Whether a finding says stop and is not accepted."""
    return any(finding.level == "stop" and finding.accepted is None for finding in plan.findings)


def measure(mm: float, style: Style) -> str:
    """A measure as a terminal shows it; one that lies off the tile is said in words, never with a sign."""
    return figure(say(mm, style)) if mm >= 0.0 else f"{figure(say(-mm, style))} outside"


def cut_size(cut: Cut, style: Style) -> str:
    """What is cut: the core, a box's width and height, or how the size came about."""
    if cut.opening.core is not None:
        return f"core {measure(cut.opening.core, style)}"
    if cut.sides is not None:
        left, right, bottom, top = cut.sides
        return figure(size(right - left, top - bottom, style))
    return cut.opening.why


def may_be(cut: Cut, style: Style) -> str:
    """How far off any way it may sit, or that this is not known."""
    if cut.opening.you_may_be is None:
        return "?"
    spare = say_spare(cut.opening.you_may_be, style)
    return "nothing" if spare == "nothing" else f"{figure(spare)} any way"


def _extra_lines(piece: CutPiece, cut: Cut, style: Style) -> Iterator[str]:
    """What does not fit the table: where a box's own sides lie, and measures from cut edges."""
    head = f"{cut.opening.name}, {piece.name}: "
    if cut.sides is not None:
        left, right, bottom, top = (measure(side, style) for side in cut.sides)
        cut_out = f"{head}cut-out from {left} to {right} from the left, from {bottom} to {top} from the bottom"
        yield from wrapped(cut_out, INDENT, INDENT * 2)
    for side, distance in cut.from_cut_edges:
        from_cut_edge = f"{head}{measure(distance, style)} from the {side} edge, which is a cut edge"
        yield from wrapped(from_cut_edge, INDENT, INDENT * 2)


def _finding(finding: Finding) -> Iterator[str]:
    unnamed = [name for name in finding.about if name not in finding.text]
    about = f" For: {', '.join(unnamed)}." if unnamed else ""
    source = "; ".join(filter(None, (finding.rule, finding.source)))
    accepted = "" if finding.accepted is None else f" Accepted: {finding.accepted}"
    yield from wrapped(f"{finding.text} ({source}){about}{accepted}", f"{INDENT}{SAID[finding.level]:<6}")
    if finding.level == "stop" and finding.accepted is None:
        named = f"about: {finding.about[-1]}, " if finding.about else ""
        accepting = f"To accept it, under accept: in the job: {{rule: {finding.rule}, {named}reason: ...}}"
        yield from wrapped(accepting, f"{INDENT}{'':<6}")


def _counted(counts: Counts) -> str:
    """How many pieces an area has; one that is open to a side has no number of them."""
    known = [f"{counts.whole} whole", f"{counts.cut} cut"]
    gone = [f"{counts.gone} gone"] if counts.gone else []
    return ", ".join((*(known if counts.whole is not None else ["not counted, a side was not measured"]), *gone))


def _cuts(plan: Plan) -> Iterator[tuple[CutPiece, Cut]]:
    for piece in plan.pieces:
        for cut in piece.cuts:
            yield piece, cut
