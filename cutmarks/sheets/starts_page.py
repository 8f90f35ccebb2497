"""The starts that may be chosen, side by side: each as a small elevation, with what it leaves in figures under it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec import Struct

from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.frames import Page, Placement, Point
from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.marks.elevation import bare_elevation
from cutmarks.marks.elevation_surface import drawn_box, void_shown
from cutmarks.marks.elevation_view import View, extent
from cutmarks.marks.lettering import width
from cutmarks.marks.model import Mark, Role, Tone, Words, WordsAnchor, block, line, moved
from cutmarks.marks.room import Room, ink_box
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
BESIDE, BELOW = 9.0, 5.0
"""For the sizes beside each picture, more where they are longer, and over and under it, mm."""
SIZE_HEIGHT = 2.0
AWAY, CLEAR = 1.0, 0.8
"""How far a size stands off what it is of, and keeps from other words, mm."""
ASIDE = (0, 1, -1, 2, -2, 3, -3)
"""By how many of its own lengths, or lines, a size goes aside where its own place is taken."""
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
    drawn = (wide - 2 * _beside(one)) * shown.height / max(shown.width, 1.0)
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
    top = high - MARGIN - LEADING * (TITLE_HEIGHT + TEXT_HEIGHT) - AIR

    def cell(abreast: int) -> tuple[float, float]:
        rows = -(-len(starts) // abreast)
        return (wide - 2 * MARGIN + AIR) / abreast - AIR, (top - MARGIN + AIR) / rows - AIR

    most = min(MOST_ABREAST, len(starts))
    # As many abreast as give the largest pictures: of a low wide wall fewer.
    abreast = max(range(1, most + 1), key=lambda many: min(_scale(surface, one, *cell(many)) for one in starts))
    cell_w, cell_h = cell(abreast)
    for number, one in enumerate(starts):
        row, column = divmod(number, abreast)
        left, above = MARGIN + column * (cell_w + AIR), top - row * (cell_h + AIR)
        yield from _cell(surface, one, left, above, cell_w, cell_h)


def _scale(surface: str, one: Pictured, wide: float, high: float) -> float:
    """By how much a picture is reduced in a cell."""
    name, under = _set_words(one, 0.0, high, wide)
    shown = extent(one.plan, next(plan for plan in one.plan.surfaces if plan.setout.name == surface))
    room = name.y + under.y - 1.0 - 2 * BELOW  # what is set under the picture lies below 0
    return min((wide - 2 * _beside(one)) / max(shown.width, 1.0), room / max(shown.height, 1.0))


def _set_words(one: Pictured, left: float, above: float, wide: float) -> tuple[TextSetting, TextSetting]:
    """What stands over a picture, downward from `above`, and what stands under it, downward from 0."""
    name = TextSetting(leading=LEADING, y=above)
    name.lines(one.name, left, NAME_HEIGHT, wide, bold=True)
    under = TextSetting(leading=LEADING, y=0.0)
    for text in one.lines:
        under.lines(text, left, TEXT_HEIGHT, wide)
    return name, under


def _cell(
    surface: str, one: Pictured, left: float, above: float, wide: float, high: float
) -> Iterator[Mark[SheetFrame]]:
    name, under = _set_words(one, left, above, wide)
    yield from name.marks
    # What stands under the picture is set first: the picture has the rest.
    foot = above - high - under.y + 1.0
    there: Placement[Page, SheetFrame] = Placement.shift(left, foot)
    for mark in _picture(surface, one, wide, name.y - foot):
        yield moved(mark, there)
    lifted: Placement[SheetFrame, SheetFrame] = Placement.shift(0.0, above - high - under.y)
    for words in under.marks:
        yield moved(words, lifted)


def _beside(one: Pictured) -> float:
    """The room for the sizes beside a picture, mm."""
    sides = [at.words for at in one.sizes if not at.thing and at.side.axis == "across"]
    return max([BESIDE, *(width(words, SIZE_HEIGHT, True) + 2.0 * AWAY for words in sides)])


def _picture(
    surface: str, one: Pictured, wide: float, high: float, *, with_names: bool = False
) -> Iterator[Mark[Page]]:
    """The elevation alone, with what is left at each end, in a box of wide by high mm."""
    shown = next(plan for plan in one.plan.surfaces if plan.setout.name == surface)
    beside = _beside(one)
    room = Bounds(beside, BELOW, wide - beside, high - BELOW - (NAMED_ABOVE if with_names else 0.0))
    view, marks = bare_elevation(one.plan, shown, room, with_names=with_names)
    yield from marks
    taken: Room[Page] = Room(Bounds(0.0, 0.0, wide, high))
    taken.take(mark for mark in marks if isinstance(mark, Words))
    for opening in one.plan.openings:
        if opening.surface == surface:
            taken.take_box(drawn_box(opening, view))
    for places in (*_sizes(one, shown, view), *_holes(one, surface, view)):
        # Where none is free it stands at its own place all the same: nothing is left out.
        yield from _on_white(taken.place(places, CLEAR) or places[0])


def _sizes(one: Pictured, surface: SurfacePlan, view: View) -> Iterator[Sequence[Words[Page]]]:
    """What is left at each end, at its places, the best first: beside the area, and inside each window."""
    grounds = {area.name: area.ground.moved(area.grid.to_surface).bounds for area in surface.areas}
    on_page = {
        void.name: _hull([ring.bounds for ring in rings])
        for void in surface.setout.voids
        if (rings := void_shown(void, view))
    }
    for at in one.sizes:
        if at.thing:
            box = on_page.get(at.thing)
        else:
            ground = grounds.get(at.area)
            box = ground and Bounds(*view.xy(ground.min_x, ground.min_y), *view.xy(ground.max_x, ground.max_y))
        if box is not None:
            yield _about(at, box)


def _hull(boxes: Sequence[Bounds]) -> Bounds:
    return Bounds(
        min(box.min_x for box in boxes),
        min(box.min_y for box in boxes),
        max(box.max_x for box in boxes),
        max(box.max_y for box in boxes),
    )


def _about(at: SizeAt, box: Bounds) -> Sequence[Words[Page]]:
    """One size at its side of a box on the page, inside a window and outside the wall; moved along that side."""
    inside = bool(at.thing)
    x, y = (box.min_x + box.max_x) / 2, (box.min_y + box.max_y) / 2 - SIZE_HEIGHT / 2
    away = -AWAY if inside else AWAY
    anchor: WordsAnchor = "middle"
    match at.side:
        case Side.LEFT:
            x, anchor = box.min_x - away, "start" if inside else "end"
        case Side.RIGHT:
            x, anchor = box.max_x + away, "end" if inside else "start"
        case Side.BOTTOM:
            y = box.min_y + AWAY if inside else box.min_y - SIZE_HEIGHT - AWAY
        case Side.TOP:
            y = box.max_y - SIZE_HEIGHT - AWAY if inside else box.max_y + AWAY
    along = at.side.axis == "up"
    step = width(at.words, SIZE_HEIGHT, True) + AWAY if along else SIZE_HEIGHT * LEADING
    return [
        Words(
            at.words,
            Point(x + moves * step if along else x, y if along else y + moves * step),
            SIZE_HEIGHT,
            anchor,
            bold=True,
        )
        for moves in ASIDE
    ]


def _holes(one: Pictured, surface: str, view: View) -> Iterator[Sequence[Words[Page]]]:
    """What is said of the holes that land badly, beside them, or over or under them."""
    said = dict(one.holes)
    for opening in one.plan.openings:
        if opening.surface == surface and opening.name in said:
            box, text = drawn_box(opening, view), said[opening.name]
            x, y = (box.min_x + box.max_x) / 2, (box.min_y + box.max_y) / 2 - SIZE_HEIGHT / 2
            places: tuple[tuple[float, float, WordsAnchor], ...] = (
                (box.max_x + AWAY, y, "start"),
                (box.min_x - AWAY, y, "end"),
                (x, box.max_y + AWAY, "middle"),
                (x, box.min_y - AWAY - SIZE_HEIGHT, "middle"),
            )
            yield [Words(text, Point(px, py), SIZE_HEIGHT, anchor, bold=True) for px, py, anchor in places]


def _on_white(words: Words[Page]) -> Iterator[Mark[Page]]:
    box = ink_box(words)
    if box is not None:
        yield block(box.min_x - 0.3, box.min_y - 0.3, box.width + 0.6, box.height + 0.6, Tone.WHITE)
    yield words
