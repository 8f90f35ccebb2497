"""The front sheet: how to print, how to use a sheet, a map of all sheets, and the day's list."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from msgspec.structs import replace

from cutmarks.checks.holes import SIDES_DISAGREE
from cutmarks.geometry.frames import Page, Placement, Point
from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.marks.model import Mark, Words, moved
from cutmarks.marks.sheet_map import map_height, sheet_map
from cutmarks.plan import Plan, SurfacePlan, paper_of
from cutmarks.registering.paper import FOOT, Paper
from cutmarks.registering.sides import mark_sides
from cutmarks.saying.findings import figures_held, to_check
from cutmarks.saying.measures import is_bite
from cutmarks.saying.trust import printed_how
from cutmarks.sheets.days_list import Listed, days_list, sheet_numbers
from cutmarks.sheets.flow import (
    SMALL,
    Block,
    heading,
    on_page,
    paginate,
    paragraph,
    placed,
    space,
)
from cutmarks.sheets.furniture import bar_marks, bars, corner_marks, small_print
from cutmarks.sheets.model import PaperSheet, Series
from cutmarks.units import Unit

BARE_WALL = "READ on the bare wall or floor, before adhesive covers the line; what is read from is fixed by then."
LEAST_ROWS = 3
"""A last page has no fewer rows of the list than these."""
_IN = 2.0
_GAP = 5.0
"""Between the words and the map beside them."""
_INDENT = 3.0
_WORDS_WIDE = 96.0
_LEAST_BESIDE, _MOST_BESIDE, _MOST_NUMBERS = 45.0, 2, 40
"""A map beside the words has at least so much height, mm; more maps than these, or maps of more tiles, follow at full
width."""
_MOST_NAMED = 12
_MAP_HEIGHT = 87.0
_MOST_MAP = 200.0


def front_sheets(plan: Plan, listed: Sequence[Listed]) -> Series:
    """The front sheet, going on over as many pages as its list takes; none where the job has no template."""
    paper = paper_of(plan.say)
    return Series(
        (paper.width, paper.height),
        lambda: _bodies(plan, listed, paper),
        lambda number, count: _around(plan, listed, paper, number, count),
    )


def _bodies(plan: Plan, listed: Sequence[Listed], paper: Paper) -> Iterator[tuple[Mark[SheetFrame], ...]]:
    if not listed:
        return
    top = paper.height - paper.margin - _IN
    blocks = _blocks(plan, listed, paper, paper.view_width - _IN)
    for page in paginate(blocks, paper.safe_height - FOOT - 2 * _IN, least=LEAST_ROWS):
        yield tuple(on_page(page, paper.margin + _IN, top))


def _around(plan: Plan, listed: Sequence[Listed], paper: Paper, number: int, count: int) -> PaperSheet:
    total = listed[-1].last
    of = f"FRONT SHEET, page {number} of {count}, for {total} {'sheet' if total == 1 else 'sheets'}"
    small = (f"{plan.job} \u00b7 {of} \u00b7 {paper.name} \u00b7 job {plan.fingerprint}", printed_how(plan))
    marks = (
        *corner_marks(paper),
        *bar_marks(paper, plan.say.style, "right", boxed=number == 1),
        *small_print(paper, small, "right"),
    )
    return PaperSheet(f"front_{number}.svg", f"{plan.job}: {of}", paper.width, paper.height, marks)


def _blocks(plan: Plan, listed: Sequence[Listed], paper: Paper, width: float) -> Iterator[Block]:
    for one in paragraph(plan.job, width - 55.0, bold=True, height=5.0):
        yield replace(one, keep=True)
    yield Block(0.0, (Words("FRONT SHEET", Point(width, 6.4), 3.6, "end", bold=True),), keep=True)
    yield space(1.0)
    yield from _printing(plan, paper, width)
    yield space(1.5)
    numbers = sheet_numbers(listed)
    surfaces = [surface for surface in plan.surfaces if _has_sheets(plan, surface, numbers)]
    using = _using(plan, listed, _WORDS_WIDE)
    high = max(sum(one.height for one in using), _LEAST_BESIDE * len(surfaces))
    beside: list[tuple[Block, ...] | None] = [None]
    if len(surfaces) <= _MOST_BESIDE and len(numbers) <= _MOST_NUMBERS:
        wide = width - _WORDS_WIDE - _GAP
        beside = [_map(plan, surface, numbers, wide, high / len(surfaces)) for surface in surfaces]
    maps = [one for one in beside if one is not None]
    if len(maps) == len(surfaces):
        yield _side_by_side(using, maps)
    else:
        yield from _using(plan, listed, width)
        yield space(2.0)
        for surface in surfaces:
            yield from _wide_map(plan, surface, numbers, width)
    yield space(2.0)
    yield from days_list(plan, listed, width)


def _has_sheets(plan: Plan, surface: SurfacePlan, numbers: Mapping[str, str]) -> bool:
    return any(piece.piece.surface == surface.setout.name and piece.name in numbers for piece in plan.pieces)


def _side_by_side(words: Sequence[Block], maps: Sequence[tuple[Block, ...]]) -> Block:
    """The words at the left, the maps one under the other at their right."""
    marks: list[Mark[SheetFrame]] = []
    y = 0.0
    for one in words:
        marks += placed(one, 0.0, y)
        y -= one.height
    down = 0.0
    for own in maps:
        for one in own:
            marks += placed(one, _WORDS_WIDE + _GAP, down)
            down -= one.height
    return Block(-min(y, down), tuple(marks))


def _printing(plan: Plan, paper: Paper, width: float) -> Iterator[Block]:
    """How the sheets are printed."""
    yield heading("HOW TO PRINT", width)
    for sentence in _how_to_print(plan, paper):
        yield from _point(sentence, width)


def _using(plan: Plan, listed: Sequence[Listed], width: float) -> list[Block]:
    """How a sheet is used."""
    said = (one for sentence in _how_to_use(plan, listed) for one in _point(sentence, width))
    return [heading("HOW TO USE A SHEET", width), *said]


def _point(sentence: str, width: float) -> list[Block]:
    return paragraph(sentence, width, height=SMALL, label="-", indent=_INDENT)


def _how_to_print(plan: Plan, paper: Paper) -> tuple[str, ...]:
    style = plan.say.style
    across, along = bars(paper, style)
    close = "1/32 in" if style.unit is Unit.INCH else "\u00bd"
    return (
        f"On {paper.name}, one side, at 100 %, actual size: no fit to page, no shrink, not borderless. From a phone: "
        "out of a PDF reader, scale 100 %. By command: lp -o print-scaling=none pack.pdf",
        f"Measure both bars of this page before the first cut, and write down what you found. More than {close} off "
        f"{across.figure} or {along.figure}: print again; still off: tell whoever made this pack both figures, for "
        "sheets that fit your printer. A corner mark missing: the sheet was clipped.",
    )


def _how_to_use(plan: Plan, listed: Sequence[Listed]) -> Iterator[str]:
    pieces = {piece.name: piece for piece in plan.pieces}
    tick = "1/32 in" if plan.say.style.unit is Unit.INCH else "1 mm"
    yield (
        "LINE UP is an edge of the tile: fold the paper back along it, the squares' black half behind, hang the "
        "folds on its edges, stick it on. First write UP and FACE on it."
    )
    yield BARE_WALL
    is_doubted = any(SIDES_DISAGREE in to_check(plan, pieces[one.registration.piece]) for one in listed)
    doubted = ", but where READ says IN DOUBT" if is_doubted else ""
    yield (
        f"Found more, or less: do as the sheet says, each reading by itself; a tick is {tick}. Both sides of one thing "
        f"differ by the same{doubted}: if not, or past the ticks, measure again."
    )
    bites = any(is_bite(cut) for one in listed for cut in pieces[one.registration.piece].cuts)
    but = ", but for what goes BY THE PAPER" if bites else ""
    yield (
        "Prick the marks through the paper, then take it off, or put clear sticky tape over it: ink runs under a wet "
        f"core. The figures win{but}: check by tape measure."
    )
    is_sawn = any(pieces[one.registration.piece].corners for one in listed)
    saw = ["A saw line is the finished edge: the blade runs in what goes."] if is_sawn else []
    goes_on = is_sawn or _is_measured_from_off_a_sheet(plan, listed)
    zigzag = ["At a zigzag a line goes on off the sheet."] if goes_on else []
    if saw or zigzag:
        yield " ".join((*saw, *zigzag))
    if any(one.registration.back for one in listed):
        yield (
            "BACK - MIRRORED in a black band: that sheet lies on the back of the tile, UP still up. "
            "Never lay it on the face."
        )
    if any(one.registration.tape for one in listed):
        yield "MEASURE: mark that figure on the tile by tape measure, and lay the sheet's chain line on the mark."
    if any(one.registration.how == "joined" for one in listed):
        yield (
            "JOINED: cut the sheet that says so along its line and lay it on the other's line, cross on cross; the "
            "figures at the joins must be alike. Lay both edges on the tile first. The longest ticks of the two scales "
            "meet; where the third ticks meet instead, the sheet is 0.3 mm out along the join."
        )
    if any(piece.infills and not piece.cuts for piece in plan.pieces):
        yield "Trimmed: measure what to KEEP from the edge beside what it is READ from. Found 3 more: keep 3 more."
    if any(figures_held(plan, piece) for piece in plan.pieces):
        yield (
            "STOP, a drawing crossed out: do not cut. The job file is changed, or says why that is accepted; then the "
            "sheet is printed anew."
        )


def _is_measured_from_off_a_sheet(plan: Plan, listed: Sequence[Listed]) -> bool:
    """Whether some sheet has a measure from an edge that is not on it."""
    pieces = {piece.name: piece for piece in plan.pieces}
    return any(
        side not in one.registration.edges
        for one in listed
        for index in one.registration.cuts
        for side in mark_sides(pieces[one.registration.piece].spots[index])
    )


def _map(
    plan: Plan, surface: SurfacePlan, numbers: Mapping[str, str], width: float, height: float
) -> tuple[Block, ...] | None:
    """A map with its heading, both in so much height; None where it would be crowded."""
    name = surface.setout.name.upper()
    drawn = sheet_map(plan, surface, numbers, width, height - heading(name, width).height)
    if drawn.left_out or drawn.crowded:
        return None
    band = heading(name, width, "sheets; a part of it" if drawn.part else "sheets")
    room = height - band.height
    down: Placement[Page, SheetFrame] = Placement.shift(0.0, -room)
    return band, Block(room, tuple(moved(mark, down) for mark in drawn.marks))


def _wide_map(plan: Plan, surface: SurfacePlan, numbers: Mapping[str, str], width: float) -> Iterator[Block]:
    high = min(map_height(plan, surface, numbers, width, _MAP_HEIGHT), _MOST_MAP)
    drawn = sheet_map(plan, surface, numbers, width, high)
    down: Placement[Page, SheetFrame] = Placement.shift(0.0, -high)
    part = ", a part of it" if drawn.part else ""
    yield heading(f"SHEETS: {surface.setout.name.upper()}", width, f"the numbers are those of the sheets{part}")
    yield Block(high, tuple(moved(mark, down) for mark in drawn.marks))
    left = drawn.left_out
    if left:
        which = ", ".join(left) if len(left) <= _MOST_NAMED else f"those of {len(left)} tiles"
        yield from paragraph(f"Without room on the map, see the list: {which}.", width, height=SMALL)
    yield space(2.0)
