"""The starts that may be chosen, side by side: each as a small elevation, with what it leaves in figures under it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec import Struct

from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.frames import Page, Placement, Point
from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.marks.elevation import bare_elevation
from cutmarks.marks.elevation_view import View, extent
from cutmarks.marks.model import Mark, Role, Tone, Words, WordsAnchor, block, line, moved
from cutmarks.marks.room import ink_box
from cutmarks.plan import Plan, SurfacePlan
from cutmarks.registering import Paper
from cutmarks.sheets.model import PaperSheet
from cutmarks.sheets.setting import TextSetting
from cutmarks.sides import Side

MARGIN = 12.0
MOST_ABREAST = 3
TITLE_HEIGHT, NAME_HEIGHT, TEXT_HEIGHT = 4.4, 2.6, 1.9
LEADING = 1.7
AIR = 5.0
BESIDE, BELOW = 22.0, 5.0
"""For the sizes beside each picture, and over and under it, mm."""
SIZE_HEIGHT = 1.7
NAMED_ABOVE = 6.0
"""For the names of lines, over the sizes at the top, mm."""


class SizeAt(Struct, frozen=True):
    """What stands at one end in the picture: of an area, or of a window (thing) on its `side`."""

    area: str
    thing: str
    side: Side
    words: str


class Pictured(Struct, frozen=True):
    """One start: its number and words, the job laid out with it, and what is written into and under its picture.

    sizes  what is left at each end; holes: what is said beside each hole that lands badly.
    """

    name: str
    plan: Plan
    lines: tuple[str, ...]
    sizes: tuple[SizeAt, ...] = ()
    holes: tuple[tuple[str, str], ...] = ()


def starts_page(surface: str, starts: Sequence[Pictured], paper: Paper) -> PaperSheet:
    """All starts of one surface on one page, laid across."""
    wide, high = max(paper.width, paper.height), min(paper.width, paper.height)
    job = starts[0].plan
    title = f"{job.job} \u00b7 {surface} \u00b7 where to start"
    marks = [*_head(job, surface, wide, high), *_cells(surface, starts, wide, high)]
    return PaperSheet("starts.svg", title, wide, high, tuple(marks))


def start_picture(surface: str, one: Pictured, wide: float, most_high: float) -> PaperSheet:
    """One start without its words, as high as the wall is in that width, with the names of its lines and holes.

    wide, most_high  mm; for who sets words beside it.
    """
    there: Placement[Page, SheetFrame] = Placement.shift(0.0, 0.0)
    shown = extent(one.plan, next(plan for plan in one.plan.surfaces if plan.setout.name == surface))
    drawn = (wide - 2 * BESIDE) * shown.height / max(shown.width, 1.0)
    high = min(most_high, drawn + 2 * BELOW + NAMED_ABOVE)
    marks = tuple(moved(mark, there) for mark in _picture(surface, one, wide, high, with_names=True))
    return PaperSheet("start.svg", one.name, wide, high, marks)


def _head(plan: Plan, surface: str, wide: float, high: float) -> Iterator[Mark[SheetFrame]]:
    head = TextSetting(leading=LEADING, y=high - MARGIN)
    head.line(f"{surface.upper()}: WHERE TO START", MARGIN, TITLE_HEIGHT, bold=True)
    head.line(f"{plan.job}. Nothing is decided yet. Not to scale.", MARGIN, TEXT_HEIGHT)
    yield from head.marks
    yield line(MARGIN, head.y, wide - MARGIN, head.y, Role.GRID)


def _cells(surface: str, starts: Sequence[Pictured], wide: float, high: float) -> Iterator[Mark[SheetFrame]]:
    abreast = min(MOST_ABREAST, max(2, (len(starts) + 1) // 2)) if len(starts) > 1 else 1
    rows = -(-len(starts) // abreast)
    top = high - MARGIN - LEADING * (TITLE_HEIGHT + TEXT_HEIGHT) - AIR
    cell_w = (wide - 2 * MARGIN + AIR) / abreast
    cell_h = (top - MARGIN + AIR) / rows
    for number, one in enumerate(starts):
        row, column = divmod(number, abreast)
        left, above = MARGIN + column * cell_w, top - row * cell_h
        yield from _cell(surface, one, left, above, cell_w - AIR, cell_h - AIR)


def _cell(
    surface: str, one: Pictured, left: float, above: float, wide: float, high: float
) -> Iterator[Mark[SheetFrame]]:
    name = TextSetting(leading=LEADING, y=above)
    name.lines(one.name, left, NAME_HEIGHT, wide, bold=True)
    yield from name.marks
    under = TextSetting(leading=LEADING, y=above - high)
    for text in one.lines:
        under.lines(text, left, TEXT_HEIGHT, wide)
    # What stands under the picture is set first: the picture has the rest.
    raised = under.y - (above - high)
    foot = above - high - raised + 1.0
    there: Placement[Page, SheetFrame] = Placement.shift(left, foot)
    for mark in _picture(surface, one, wide, name.y - foot):
        yield moved(mark, there)
    lifted: Placement[SheetFrame, SheetFrame] = Placement.shift(0.0, -raised)
    for words in under.marks:
        yield moved(words, lifted)


def _picture(
    surface: str, one: Pictured, wide: float, high: float, *, with_names: bool = False
) -> Iterator[Mark[Page]]:
    """The elevation alone, with what is left at each end, in a box of wide by high mm."""
    shown = next(plan for plan in one.plan.surfaces if plan.setout.name == surface)
    room = Bounds(BESIDE, BELOW, wide - BESIDE, high - BELOW - (NAMED_ABOVE if with_names else 0.0))
    view, marks = bare_elevation(one.plan, shown, room, with_names=with_names)
    yield from (*marks, *_sizes(one, shown, view), *_holes(one, surface, view))


def _sizes(one: Pictured, surface: SurfacePlan, view: View) -> Iterator[Mark[Page]]:
    """What is left at each end: beside the area, and inside each window."""
    grounds = {area.name: area.ground.moved(area.grid.to_surface).bounds for area in surface.areas}
    voids = {void.name: void.measured.bounds for void in surface.setout.voids}
    for at in one.sizes:
        box = voids.get(at.thing) if at.thing else grounds.get(at.area)
        if box is None:
            continue
        low_x, low_y = view.xy(box.min_x, box.min_y)
        high_x, high_y = view.xy(box.max_x, box.max_y)
        x, y = (low_x + high_x) / 2, (low_y + high_y) / 2 - SIZE_HEIGHT / 2
        away = -1.0 if at.thing else 1.0  # inside a window, and outside the wall
        anchor: WordsAnchor = "middle"
        match at.side:
            case Side.LEFT:
                x, anchor = low_x - away, "start" if at.thing else "end"
                y += SIZE_HEIGHT if at.thing else 0.0  # the two of a narrow window stand one under the other
            case Side.RIGHT:
                x, anchor = high_x + away, "end" if at.thing else "start"
                y -= SIZE_HEIGHT if at.thing else 0.0
            case Side.BOTTOM:
                y = low_y + 1.0 if at.thing else low_y - SIZE_HEIGHT - 1.2
            case Side.TOP:
                y = high_y - SIZE_HEIGHT - 1.0 if at.thing else high_y + 1.2
        yield from _on_white(Words(at.words, Point(x, y), SIZE_HEIGHT, anchor, bold=True))


def _holes(one: Pictured, surface: str, view: View) -> Iterator[Mark[Page]]:
    """What is said of the holes that land badly, beside them."""
    said = dict(one.holes)
    for opening in one.plan.openings:
        if opening.surface == surface and opening.name in said:
            x, y = view.xy(opening.ring.bounds.max_x, opening.at.y)
            yield from _on_white(Words(said[opening.name], Point(x + 0.8, y - SIZE_HEIGHT / 2), SIZE_HEIGHT, bold=True))


def _on_white(words: Words[Page]) -> Iterator[Mark[Page]]:
    box = ink_box(words)
    if box is not None:
        yield block(box.min_x - 0.3, box.min_y - 0.3, box.width + 0.6, box.height + 0.6, Tone.WHITE)
    yield words
