"""The job sheet's beginning and end: what the job is, what must be known before cutting, and the surfaces drawn."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from cutmarks.checks.model import SAID, Finding, Level
from cutmarks.geometry.frames import Page, Placement, Point, Surface
from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.marks.elevation import elevation, elevation_height
from cutmarks.marks.model import Mark, Role, Words, line, moved
from cutmarks.plan import Plan, SurfacePlan
from cutmarks.saying.dialect import cautions
from cutmarks.saying.findings import called
from cutmarks.saying.from_lines import across_words, up_words
from cutmarks.setout.edges import step_begins
from cutmarks.setout.model import SetOut, SurfaceEdge, Void
from cutmarks.sheets.flow import BODY, SMALL, Block, heading, paragraph, space, title
from cutmarks.units import Style, Unit, say

LEVELS: tuple[Level, ...] = ("stop", "warn", "note")
LABEL_WIDTH = 22.0
LEAST_ELEVATION, MOST_ELEVATION = 80.0, 215.0
LEAST_SHARED, LEAST_CROWDED = 100.0, 150.0
"""An elevation is made no lower than this to share a page with what stands before it, mm; one with many holes."""
MANY_HOLES = 24
UNDER_DRAWING = 2.0


def title_blocks(plan: Plan, width: float) -> Iterator[Block]:
    """The job's name, biggest, and what the job comes to in one line."""
    for one in paragraph(plan.job, width - 40.0, bold=True, height=5.0):
        yield Block(one.height, one.marks, keep=True)
    yield Block(0.0, (Words("JOB SHEET", Point(width, 6.4), 3.2, "end", bold=True),), keep=True)
    yield space(1.0)
    units = "millimetres" if plan.say.style.unit is Unit.MM else "inches"
    when = "cut on the day, after the wall check" if plan.say.cut == "on the day" else "cut ahead, without a wall check"
    yield from paragraph(f"{_sum(plan)} Measures in {units}; {when}.", width, height=SMALL)
    yield Block(2.0, (line(0.0, -0.5, width, -0.5, Role.CUT),))


def _sum(plan: Plan) -> str:
    holed = sum(1 for piece in plan.pieces if piece.cuts)
    trimmed = sum(1 for piece in plan.pieces if piece.piece.trimmed)
    holes = _count(len(plan.openings) - len(plan.clearances), "hole")
    return f"{holes} in {_count(holed, 'tile')}; {_count(trimmed, 'tile')} trimmed."


def _count(number: int, thing: str) -> str:
    return f"{number} {thing}" if number == 1 else f"{number} {thing}s"


def findings_blocks(plan: Plan, width: float) -> Iterator[Block]:
    """What must be known before cutting: STOP first, then CHECK, then NOTE; then what was assumed."""
    yield heading("BEFORE YOU CUT", width, _tally(plan))
    if not plan.findings:
        yield from paragraph(
            "Nothing was found that you need to know beyond the cautions at the foot of this page.", width
        )
    for level in LEVELS:
        for finding in plan.findings:
            if finding.level == level:
                high = SMALL if level == "note" else BODY
                said = finding_sentence(finding)
                yield from paragraph(said, width, height=high, label=called(plan, finding), indent=LABEL_WIDTH)
                yield space(0.9)
    if plan.assumed:
        yield space(1.5)
        yield from title("Assumed, because the job does not say it", width)
        for sentence in plan.assumed:
            yield from paragraph(sentence, width, height=SMALL, label="-", indent=3.0)
    yield space(4.0)


def _tally(plan: Plan) -> str:
    counts = {level: sum(1 for one in plan.findings if one.level == level) for level in LEVELS}
    return ", ".join(f"{number} {SAID[level]}" for level, number in counts.items() if number)


def finding_sentence(finding: Finding) -> str:
    """The finding's sentence, where its limit comes from, the names that it leaves out, and the tiler's answer."""
    unnamed = [name for name in finding.about if name not in finding.text]
    parts = [finding.text]
    if finding.source:
        parts.append(f"({finding.source})")
    if unnamed:
        parts.append(f"For: {', '.join(unnamed)}.")
    if finding.accepted is not None:
        parts.append(f"Accepted: {finding.accepted}")
    return " ".join(parts)


def notes_blocks(plan: Plan, width: float) -> Iterator[Block]:
    """The tiler's own remarks, each with what it is about."""
    if not plan.notes:
        return
    yield heading("NOTES", width)
    for note in plan.notes:
        yield from paragraph(note, width, label="-", indent=3.0)
    yield space(4.0)


def surface_blocks(
    plan: Plan, surface: SurfacePlan, width: float, sheets: Mapping[str, str] | None = None
) -> Iterator[Block]:
    """One surface: its elevation as large as the page allows, with the numbers of the sheets, and what was measured."""
    setout = surface.setout
    yield heading(setout.name.upper(), width, _seen(setout))
    height = min(max(elevation_height(plan, surface, width, sheets), LEAST_ELEVATION), MOST_ELEVATION)
    yield _drawing(plan, surface, width, height + UNDER_DRAWING, sheets)
    measured = list(_measured(setout, plan.say.style))
    if measured:
        yield from title(f"{setout.name}, as measured", width)
        lines = [one for sentence in measured for one in paragraph(sentence, width, height=SMALL)]
        yield from (Block(one.height, one.marks, keep=one is not lines[-1]) for one in lines)
    yield space(4.0)


def _drawing(plan: Plan, surface: SurfacePlan, width: float, height: float, sheets: Mapping[str, str] | None) -> Block:
    """The elevation in a block `height` mm high; it may be made lower."""

    def drawn(high: float) -> Iterator[Mark[SheetFrame]]:
        room = high - UNDER_DRAWING
        down: Placement[Page, SheetFrame] = Placement.shift(0.0, -room)
        return (moved(mark, down) for mark in elevation(plan, surface, width, room, sheets))

    holes = sum(one.surface == surface.setout.name for one in plan.openings)
    return Block(height, picture=drawn, least=LEAST_SHARED if holes <= MANY_HOLES else LEAST_CROWDED)


def _seen(setout: SetOut) -> str:
    if setout.kind == "wall":
        return "a wall, seen face on"
    return f"a floor, seen from above; UP is {setout.up}" if setout.up else "a floor, seen from above"


def _measured(setout: SetOut, style: Style) -> Iterator[str]:
    for side, edge in setout.edges.items():
        what = f" ({edge.what})" if edge.what else ""
        if edge.read:
            yield f"{side} edge{what}: {'; '.join((*_stretches(edge, setout, style), *_at_the_edge(edge, style)))}"
            continue
        readings = [_reading(edge, point, setout, style, alone=len(edge.measured) == 1) for point in edge.measured]
        extra = f", still to come {_to_come(edge, style)}" if edge.still_to_come != 0.0 else ""
        round_it = "".join(f"; {words}" for words in _at_the_edge(edge, style))
        yield f"{side} edge{what}: {'; '.join(readings)}; gap {say(edge.gap, style)}{extra}{round_it}"
    for void in setout.voids:
        bounds = void.measured.bounds
        yield (
            f"{void.called}: "
            f"{across_words(bounds.min_x, setout, style)} to {across_words(bounds.max_x, setout, style)}, "
            f"{up_words(bounds.min_y, setout, style)} to {up_words(bounds.max_y, setout, style)}; {_kept(void, style)}"
            f"{''.join(f'; {words}' for words in _round_the_void(void, style))}"
        )


def _stretches(edge: SurfaceEdge, setout: SetOut, style: Style) -> Iterator[str]:
    """The stretches of an edge that steps, each with its readings as they were taken and from where to where it lies.

    With its own gap, and what is still to come there.
    """
    upright = edge.side.axis == "across"
    running = [point.y if upright else point.x for point in edge.measured]
    begins = step_begins(edge)
    words = up_words if upright else across_words
    for number, (at, read) in enumerate(zip(begins, edge.read, strict=True)):
        come = edge.clears[at] - edge.gaps[at] - edge.trim + edge.passes
        coming = "?" if edge.unfinished[at] else say(come, style) if come > TOUCH else ""
        extra = f", still to come {coming}" if coming else ""
        alone = len({(point.x if upright else point.y) for point in read}) == 1
        said = ", ".join(dict.fromkeys(_reading(edge, point, setout, style, alone=alone) for point in read))
        start = f" from {words(running[at], setout, style)}" if number else ""
        end = ""
        if number + 1 < len(begins):
            end = f" {'to' if number else 'as far as'} {words(running[begins[number + 1]], setout, style)}"
        what = f"{edge.whats[at]} " if len(set(edge.whats)) > 1 and edge.whats[at] else ""
        yield f"{what}{said}{'' if alone else ','}{start}{end} (gap {say(edge.gaps[at], style)}{extra})"


def _kept(void: Void, style: Style) -> str:
    """The gap round it, or how far tile goes under it."""
    if void.goes_under is None or void.undercut is None:
        return f"gap {say(void.gap, style)}"
    return f"cut off {say(void.undercut, style)} up, tile goes {say(void.goes_under, style)} under"


def _at_the_edge(edge: SurfaceEdge, style: Style) -> Iterator[str]:
    """What else the job says of an edge."""
    if edge.trim:
        yield f"trim {say(edge.trim, style)}"
    if edge.hidden_by:
        yield f"hidden by {edge.hidden_by}"
    yield from _corner(edge, style)
    if edge.corner is not None or edge.lining is not None:
        yield f"tile passes it by {say(edge.passes, style)}"


def _round_the_void(void: Void, style: Style) -> Iterator[str]:
    """How a void is lined, and what its inside is then."""
    yield from _corner(void, style)
    if void.passes is not None:
        yield f"tile passes its edge by {say(void.passes.top, style)}, its foot by {say(void.passes.bottom, style)}"
    if void.sill is not None:
        yield f"sill board {void.sill.text}: it laps the tile below"
    if void.inside is not None:
        wide, high = void.inside
        yield f"inside when lined {say(wide, style)} x {say(high, style)}"


def _corner(of: SurfaceEdge | Void, style: Style) -> Iterator[str]:
    if of.lining is not None:
        yield f"lining {say(of.lining, style)}"
    if of.corner is not None:
        yield f"corner {of.corner.way}{f' {say(of.corner.wide, style)}' if of.corner.wide else ''}"
    if of.finish:
        yield f"every tile's edge there {of.finish}, whole tiles' too"


def _to_come(edge: SurfaceEdge, style: Style) -> str:
    return "?" if edge.still_to_come is None else say(edge.still_to_come, style)


def _reading(edge: SurfaceEdge, point: Point[Surface], setout: SetOut, style: Style, *, alone: bool) -> str:
    """One reading in words, with its place along the edge unless it stands `alone`, for all of a stretch."""
    upright = edge.side.axis == "across"
    at = across_words(point.x, setout, style) if upright else up_words(point.y, setout, style)
    if alone:
        return at
    along = up_words(point.y, setout, style) if upright else across_words(point.x, setout, style)
    return f"{at} at {along.removeprefix('on ')}"


def cautions_blocks(plan: Plan, width: float) -> Iterator[Block]:
    """The cautions, once a job."""
    yield heading("CAUTIONS", width)
    for sentence in cautions(plan.say.words):
        yield from paragraph(sentence, width, height=SMALL, label="-", indent=3.0)
