"""The set-out drawn: pieces with the sizes of those at the edges, lines, batten, heights of courses, marks of the rod.

All marks are in the Page frame, mm, origin at the bottom-left corner of the box that the caller gives. Words are no
smaller than `LETTER`, lines as wide as what is read at arm's length wants.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator, Sequence

from msgspec.structs import replace

from cutmarks.gauging.model import Base, Gauged, Rod
from cutmarks.geometry.frames import Page, Point
from cutmarks.geometry.regions import intersection, region
from cutmarks.geometry.rings import Bounds, Ring
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.marks.elevation_surface import drawn_box, opening_marks, void_shown, voids
from cutmarks.marks.elevation_view import (
    View,
    courses,
    drawn_of,
    extent,
    fitted,
    on_surface,
    openings_of,
    pieces_of,
    tile_ring,
    whole_places,
)
from cutmarks.marks.lettering import width
from cutmarks.marks.model import Mark, Role, Stroke, Tone, Words, WordsAnchor, block, line, outline
from cutmarks.marks.room import Room, ink_box
from cutmarks.openings.model import CutPiece, Opening
from cutmarks.plan import AreaPlan, Plan
from cutmarks.saying.dialect import wording
from cutmarks.saying.figures import goes_in, goes_in_both_ways
from cutmarks.saying.from_lines import place_words
from cutmarks.setout.model import SetOut
from cutmarks.sides import Side
from cutmarks.tiling.model import Place
from cutmarks.units import Style, say

LETTER = 2.4
"""Height of capitals, mm: type of 9 points."""
NAME = 3.2
"""Of the names of the set-out lines."""
LEFT, RIGHT, FOOT, HEAD = 21.0, 24.0, 8.0, 7.0
"""What stands beside the drawing: heights on its left, courses on its right, the rod under it, names over it, mm."""
AIR = 1.2
APART = LETTER * 1.35
"""How far two heights on the left are apart at least, mm."""
MOST_IN_FULL = 2
"""So many holes have their sizes and places beside them."""
START = "START"
MOST_NAMED = 60
"""So many whole tiles of a course have their names."""
MOST_PLACES = 1_500
"""Above this many places whole tiles are not drawn one by one."""


def gauge_drawing(one: Gauged, plan: Plan, w: float, h: float) -> tuple[Mark[Page], ...]:
    """A surface in a box of w by h mm."""
    view = fitted(extent(plan, one.surface), Bounds(LEFT, FOOT, w - RIGHT, h - HEAD))
    marks: list[Mark[Page]] = [*voids(one.surface, view), *_pieces(one, plan, view)]
    for opening in openings_of(plan, one.surface.setout):
        marks += opening_marks(opening, view)
    marks += [
        *_edges(one, view),
        *_lines(one, view),
        *_batten(one, view, wording(plan.say.words).batten),
        *_in_pieces(one, plan, view),
        *_names(one, view),
    ]
    marks += [
        *_heights(one, view, plan.say.style, wording(plan.say.words).batten),
        *_rod_marks(one, view, plan.say.style),
    ]
    return tuple(marks)


def gauge_height(one: Gauged, plan: Plan, w: float) -> float:
    """The height, mm, of the box of width `w` that the drawing fills without waste."""
    shown = extent(plan, one.surface)
    return (w - LEFT - RIGHT) * shown.height / max(shown.width, 1.0) + FOOT + HEAD


def gauge_scale(one: Gauged, plan: Plan, w: float, h: float) -> float:
    """By how much the drawing in such a box is reduced, mm of it for one on the surface."""
    return fitted(extent(plan, one.surface), Bounds(LEFT, FOOT, w - RIGHT, h - HEAD)).scale


def _names(one: Gauged, view: View) -> Iterator[Mark[Page]]:
    """What a void is called, on a ground of its own over the lines that cross it."""
    for void, ring in ((each, ring) for each in one.surface.setout.voids for ring in void_shown(each, view)):
        box, wide = ring.bounds, width(void.called, LETTER, True)
        if wide < box.width - AIR and box.height > 2 * LETTER:
            x, y = (box.min_x + box.max_x) / 2, (box.min_y + box.max_y) / 2
            yield block(x - wide / 2 - 0.5, y - 0.6, wide + 1.0, LETTER + 1.2, Tone.GREY)
            yield Words(void.called, Point(x, y), LETTER, "middle", bold=True)


def _edges(one: Gauged, view: View) -> Iterator[Mark[Page]]:
    setout = one.surface.setout
    for ring in setout.outline.rings if setout.outline is not None else ():
        yield outline(view.ring(ring), Role.OUTLINE)


def _pieces(one: Gauged, plan: Plan, view: View) -> Iterator[Mark[Page]]:
    """Every piece; what is cut at an edge has its size in it, where that has room."""
    drawn = drawn_of(plan, one.surface.setout)
    taken = {(piece.piece.area, piece.piece.place) for piece in drawn}
    for gauge in one.areas:
        area, rows = gauge.area, courses(gauge.area, view.extent)
        if sum(last - first + 1 for _, first, last in rows) <= MOST_PLACES:
            for place in whole_places(area, view.extent, taken, rows):
                yield outline(view.ring(tile_ring(area.grid.w, area.grid.h, area.grid.placement(place))), Role.JOINT)
    for piece in drawn:
        for ring in on_surface(piece, piece.piece.outline).rings:
            yield outline(view.ring(ring), Role.JOINT)


def _in_pieces(one: Gauged, plan: Plan, view: View) -> Iterator[Mark[Page]]:
    """What stands in the pieces, where it finds room: the start tile, sizes of what is cut, then what each is called.

    Of whole tiles those of the start's course have their numbers: the others are counted over or under them.
    """
    pieces, drawn = pieces_of(plan, one.surface.setout), drawn_of(plan, one.surface.setout)
    room: Room[Page] = Room(view.page)
    for opening in openings_of(plan, one.surface.setout):
        room.take_box(drawn_box(opening, view))
    for void in one.surface.setout.voids:
        for ring in void_shown(void, view):
            room.take_box(ring.bounds)
    named: set[str] = set()
    unsaid: list[AreaPlan] = []
    for gauge in one.areas:
        found = list(_start_tile(gauge.area, view, room))
        start = "" if gauge.area.work is None else gauge.area.work.start
        place = start.removeprefix(f"{gauge.area.name} ")
        said = " ".join(mark.text for mark in found if isinstance(mark, Words))
        named |= {start} if place in said else set()
        unsaid += [] if START in said else [gauge.area]
        yield from found
    openings = openings_of(plan, one.surface.setout)
    for opening in openings:
        in_full = len(openings) <= MOST_IN_FULL
        yield from _opening_named(opening, one.surface.setout, view, plan.say.style, room, in_full=in_full)
    for area in unsaid:
        yield from _start_beside(area, view, room)
    room.take(mark for mark in _lines(one, view) if isinstance(mark, Stroke))
    sized = [piece for piece in pieces if piece.name not in one.waiting and _size_lines(piece, plan.say.style)]
    for piece in sized:
        marks = list(_size(piece, view, plan.say.style, room, is_named=piece.name in named))
        named |= {piece.name for mark in marks if isinstance(mark, Words) and _short(piece) in mark.text}
        yield from marks
    for piece in pieces:
        if piece.name in named:
            continue
        box = view.ring(on_surface(piece, piece.piece.outline).rings[0]).bounds
        yield from _call(_short(piece), box, room)
    taken = {(piece.piece.area, piece.piece.place) for piece in drawn}
    for gauge in one.areas:
        yield from _numbers(gauge.area, view, taken, room, named)


def _opening_named(
    opening: Opening, setout: SetOut, view: View, style: Style, room: Room[Page], *, in_full: bool
) -> Iterator[Mark[Page]]:
    """What a hole is called, and `in_full` how large its thing is and where its middle; less where there is no room."""
    box = drawn_box(opening, view)
    size = opening.what
    if opening.read_size is not None and not any(letter.isdigit() for letter in size):
        size = " x ".join(say(mm, style) for mm in opening.read_size)
    across, up = place_words(opening.at, setout, style)
    full = ((f"{opening.name}, {size}", across, up), (opening.name, size)) if in_full else ()
    for text in (*full, (opening.name,)):
        if words := room.place_group(_beside(text, box), AIR / 3):
            for ink in filter(None, map(ink_box, words)):
                yield block(ink.min_x - 0.3, ink.min_y - 0.3, ink.width + 0.6, ink.height + 0.6, Tone.WHITE)
            yield from words
            return


def _beside(lines: Sequence[str], box: Bounds) -> Iterator[Sequence[Words[Page]]]:
    """Lines right of a box, left of it, over it and under it."""
    step, middle = LETTER * 1.4, (box.min_x + box.max_x) / 2
    high = (len(lines) - 1) * step + LETTER
    centre = (box.min_y + box.max_y) / 2 + high / 2
    places: tuple[tuple[float, float, WordsAnchor], ...] = (
        (box.max_x + AIR, centre, "start"),
        (box.min_x - AIR, centre, "end"),
        (middle, box.max_y + AIR + high, "middle"),
        (middle, box.min_y - AIR, "middle"),
    )
    for x, top, anchor in places:
        yield [Words(text, Point(x, top - LETTER - number * step), LETTER, anchor) for number, text in enumerate(lines)]


def _start_rings(area: AreaPlan, view: View) -> Iterator[Ring[Page]]:
    """The start tile as far as it is there."""
    if area.work is not None and area.work.start:
        tile = region(tile_ring(area.grid.w, area.grid.h, area.grid.placement((0, 0))))
        for ring in intersection(tile, area.ground.moved(area.grid.to_surface)).rings:
            yield view.ring(ring)


def _start_tile(area: AreaPlan, view: View, room: Room[Page]) -> Iterator[Mark[Page]]:
    """The start tile in a fat line, and START in it with its number, or one of them."""
    place = "" if area.work is None else area.work.start.removeprefix(f"{area.name} ")
    for ring in _start_rings(area, view):
        yield outline(ring, Role.CUT)
        ways = ((START, place), (f"{START} {place}",), (START,), (place,))
        groups = (group for lines in ways for group in _stacks(lines, ring.bounds, bold=True))
        yield from _on_white(room.place_group(groups, AIR / 2))


def _start_beside(area: AreaPlan, view: View, room: Room[Page]) -> Iterator[Mark[Page]]:
    """START beside a start tile that is drawn too small to hold it."""
    for ring in _start_rings(area, view):
        beside = ([replace(one, bold=True) for one in group] for group in _beside((START,), ring.bounds))
        yield from _on_white(room.place_group(beside, AIR / 3))


def _on_white(words: Sequence[Words[Page]]) -> Iterator[Mark[Page]]:
    """Words on a ground of their own: a set-out line often goes through them."""
    for ink in filter(None, map(ink_box, words)):
        yield block(ink.min_x - 0.4, ink.min_y - 0.4, ink.width + 0.8, ink.height + 0.8, Tone.WHITE)
    yield from words


def _stacks(lines: Sequence[str], box: Bounds, *, bold: bool = False) -> Iterator[Sequence[Words[Page]]]:
    """Lines one under the other at the places of a box that hold them: its middle, then towards its corners."""
    wide = max(width(text, LETTER, bold) for text in lines)
    step = LETTER * 1.4
    high = (len(lines) - 1) * step + LETTER
    if wide + AIR > box.width or high + AIR > box.height:
        return
    aside, over = (box.width - wide - AIR) / 2, (box.height - high - AIR) / 2
    for across, up in ((0, 0), (-1, 0), (1, 0), (0, -1), (0, 1), (-1, -1), (1, -1), (-1, 1), (1, 1)):
        x = (box.min_x + box.max_x) / 2 + across * aside
        top = (box.min_y + box.max_y) / 2 + up * over + high / 2
        yield [
            Words(text, Point(x, top - LETTER - number * step), LETTER, "middle", bold=bold)
            for number, text in enumerate(lines)
        ]


def _call(name: str, box: Bounds, room: Room[Page]) -> Iterator[Mark[Page]]:
    """What a piece is called, where there is room for it."""
    yield from room.place_group(_stacks((name,), box), AIR / 3)


def _short(piece: CutPiece) -> str:
    """A piece's name without its area."""
    return f"{piece.piece.course_said}-{piece.piece.number}{piece.piece.part or ''}"


def _numbers(
    area: AreaPlan, view: View, taken: set[tuple[str, Place]], room: Room[Page], named: Collection[str]
) -> Iterator[Mark[Page]]:
    """The names of the whole tiles of the start's course, but of those that have theirs."""
    if area.work is None or not area.places:
        return  # an open area has no first tile that they could be counted from
    grid, row = area.grid, area.work.start_row
    for _, first, last in (one for one in courses(area, view.extent) if one[0] == row):
        begins = next(one[1] for one in area.places if one[0] == row)
        course = area.courses[row]
        said = str(course) if course > 0 else f"under {-course}"
        for place in whole_places(area, view.extent, taken, [(row, first, min(last, first + MOST_NAMED))]):
            box, name = view.ring(tile_ring(grid.w, grid.h, grid.placement(place))).bounds, place[0] - begins + 1
            if f"{area.name} {said}-{name}" not in named:
                yield from _call(f"{said}-{name}", box, room)


def _size_lines(piece: CutPiece, style: Style) -> list[str]:
    """Of a piece that is trimmed across "295½", of one that is trimmed in height "x 227", both of a corner."""
    if piece.sizes is None or piece.piece.turn or piece.cuts:
        return []
    tile, (wide_mm, high_mm) = piece.piece.tile, goes_in_both_ways(piece)
    words = [goes_in(wide_mm, style)] if wide_mm < tile.w - TOUCH else []
    return words + ([f"x {goes_in(high_mm, style)}"] if high_mm < tile.h - TOUCH else [])


def _size(piece: CutPiece, view: View, style: Style, room: Room[Page], *, is_named: bool) -> Iterator[Mark[Page]]:
    """Its size in a piece, at its smaller end, as it is told wherever it has one figure; its name over it."""
    words = _size_lines(piece, style)
    box = view.ring(on_surface(piece, piece.piece.outline).rings[0]).bounds
    name, joined = _short(piece), " ".join(words)
    with_name = [] if is_named else [(name, joined), (name, *words)]
    for lines in (*with_name, (joined,), tuple(words)):
        if placed := room.place_group(_stacks(lines, box), AIR / 3):
            yield from placed
            return


def _lines(one: Gauged, view: View) -> Iterator[Mark[Page]]:
    """The set-out lines, each with its name past its end."""
    page, over = view.page, 2.0
    for set_out in one.surface.setout.lines.values():
        x, y = view.xy(set_out.at, set_out.at)
        if set_out.fixes == "x" and page.min_x <= x <= page.max_x:
            yield line(x, page.min_y - over, x, page.max_y + over, Role.MAIN_LINE)
            yield Words(set_out.name, Point(x, page.max_y + over + 0.8), NAME, "middle", bold=True)
        elif set_out.fixes == "y" and page.min_y <= y <= page.max_y:
            yield line(page.min_x - LEFT + NAME * 1.6, y, page.max_x + over, y, Role.MAIN_LINE)
            yield Words(set_out.name, Point(page.min_x - LEFT, y - NAME / 2), NAME, bold=True)


def _pitch_of(name: str, one: Gauged) -> float:
    return next((gauge.area.grid.pitch_v for gauge in one.areas if gauge.area.name == name), 0.0)


def _batten(one: Gauged, view: View, batten: str) -> Iterator[Mark[Page]]:
    """A fat line under the first course where a batten carries it, with its name beside it."""
    for base in one.bases:
        own = [stretch for stretch in base.stretches if stretch.course is None]
        for stretch in own:
            if stretch.on in ("batten", "void"):
                (x1, y), (x2, _) = view.xy(stretch.low, base.y), view.xy(stretch.high, base.y)
                yield block(x1, y - 1.0, x2 - x1, 1.0)
                # Between the names of the courses over and under it, where they leave it room; else by its height.
                if stretch is own[-1] and _has_name_beside(base, one, view):
                    yield Words(batten, Point(view.page.max_x + 2.6, y - LETTER / 2), LETTER, bold=True)


def _has_name_beside(base: Base, one: Gauged, view: View) -> bool:
    return _pitch_of(base.area, one) * view.scale >= 3.0 * LETTER


def _heights(one: Gauged, view: View, style: Style, batten: str) -> Iterator[Mark[Page]]:
    """On the left the level of each course's bottom from the main line, on the right what the course is called."""
    last_left = last_right = None
    level = view.xy(0.0, 0.0)[1]
    on_batten = [base.y for base in one.bases if base.has_batten and not _has_name_beside(base, one, view)]
    for gauge in one.areas:
        for course in gauge.courses:
            _, y = view.xy(0.0, course.bottom)
            low, high = max(course.bottom, view.extent.min_y), min(course.top, view.extent.max_y)
            middle = view.xy(0.0, (low + high) / 2)[1]
            beside = y if _is_apart(y, level) else level + math.copysign(APART, y - level)
            if view.page.min_y - TOUCH <= y and abs(course.bottom) > TOUCH and _is_apart(beside, last_left):
                last_left = beside
                yield line(view.page.min_x - 2.0, y, view.page.min_x, y, Role.JOINT)
                text = say(abs(course.bottom), style)
                text = f"{batten} {text}" if any(abs(course.bottom - mm) <= TOUCH for mm in on_batten) else text
                at: Point[Page] = Point(view.page.min_x - 2.6, beside - LETTER / 2)
                yield Words(text, at, LETTER, "end")
            if _is_apart(middle, last_right) and view.page.min_y <= middle <= view.page.max_y:
                last_right = middle
                name = str(course.course) if course.course > 0 else f"under {-course.course}"
                of = f"{gauge.area.name} " if len(one.areas) > 1 else "course "
                fits = of if width(of + name, LETTER) <= RIGHT - 3.0 else ""
                yield Words(f"{fits}{name}", Point(view.page.max_x + 2.6, middle - LETTER / 2), LETTER)


def _rod_marks(one: Gauged, view: View, style: Style) -> Iterator[Mark[Page]]:
    """Under the drawing the left edges of the tiles of the lowest area's first course, from the upright line."""
    rods = _first_rods(one)
    page, last = view.page, None
    places = sorted((joint.far if rod.way is Side.RIGHT else -joint.near) for rod in rods for joint in rod.joints)
    for at in places:
        x, _ = view.xy(at, 0.0)
        text = say(abs(at), style)
        half = width(text, LETTER) / 2
        if page.min_x <= x <= page.max_x and (last is None or x - half - AIR > last):
            last = x + half
            yield line(x, page.min_y - 2.2, x, page.min_y - 0.4, Role.JOINT)
            yield Words(text, Point(x, page.min_y - 3.0 - LETTER), LETTER, "middle")
    name = next((each.name for each in one.surface.setout.lines.values() if each.fixes == "x" and each.at == 0.0), "")
    x, _ = view.xy(0.0, 0.0)
    if places and name and page.min_x < x < page.max_x:
        y = page.min_y - 3.0 - LETTER
        yield Words(f"left of {name}", Point(page.min_x - LEFT, y), LETTER)
        yield Words(f"right of {name}", Point(page.max_x + 5.0, y), LETTER)


def _first_rods(one: Gauged) -> Sequence[Rod]:
    """Both ways of one rod across: that of the lowest area's first course."""
    first = next((gauge.across for gauge in one.areas if gauge.across), ())
    return [rod for rod in first if rod.courses == first[0].courses and rod.way in (Side.LEFT, Side.RIGHT)]


def _is_apart(y: float, last: float | None) -> bool:
    return last is None or abs(y - last) >= APART - TOUCH
