"""The set-out drawn: pieces with the sizes of those at the edges, lines, batten, heights of courses, marks of the rod.

All marks are in the Page frame, mm, origin at the bottom-left corner of the box that the caller gives. Words are no
smaller than `LETTER`, lines as wide as what is read at arm's length wants.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from cutmarks.gauging.model import Gauged, Rod
from cutmarks.geometry.frames import Page, Point, Surface
from cutmarks.geometry.regions import intersection, region
from cutmarks.geometry.rings import Bounds, Ring, polygon
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.marks.elevation_surface import opening_marks
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
from cutmarks.marks.model import Filled, Mark, Role, Tone, Words, block, line, outline
from cutmarks.openings.model import CutPiece
from cutmarks.plan import Plan
from cutmarks.saying.dialect import wording
from cutmarks.saying.figures import goes_in, goes_in_both_ways
from cutmarks.setout.model import Void
from cutmarks.sides import Side
from cutmarks.units import Style, say

LETTER = 2.4
"""Height of capitals, mm: type of 9 points."""
NAME = 3.2
"""Of the names of the set-out lines."""
LEFT, RIGHT, FOOT, HEAD = 17.0, 24.0, 8.0, 7.0
"""What stands beside the drawing: heights on its left, courses on its right, the rod under it, names over it, mm."""
AIR = 1.2
MOST_PLACES = 1_500
"""Above this many places whole tiles are not drawn one by one."""


def gauge_drawing(one: Gauged, plan: Plan, w: float, h: float) -> tuple[Mark[Page], ...]:
    """A surface in a box of w by h mm."""
    view = fitted(extent(plan, one.surface), Bounds(LEFT, FOOT, w - RIGHT, h - HEAD))
    marks: list[Mark[Page]] = [*_voids(one, view), *_pieces(one, plan, view)]
    for opening in openings_of(plan, one.surface.setout):
        marks += opening_marks(opening, view)
    marks += [
        *_edges(one, view),
        *_lines(one, view),
        *_batten(one, view, wording(plan.say.words).batten),
        *_names(one, view),
    ]
    marks += [*_heights(one, view, plan.say.style), *_rod_marks(one, view, plan.say.style)]
    return tuple(marks)


def gauge_height(one: Gauged, plan: Plan, w: float) -> float:
    """The height, mm, of the box of width `w` that the drawing fills without waste."""
    shown = extent(plan, one.surface)
    return (w - LEFT - RIGHT) * shown.height / max(shown.width, 1.0) + FOOT + HEAD


def gauge_scale(one: Gauged, plan: Plan, w: float, h: float) -> float:
    """By how much the drawing in such a box is reduced, mm of it for one on the surface."""
    return fitted(extent(plan, one.surface), Bounds(LEFT, FOOT, w - RIGHT, h - HEAD)).scale


def _voids(one: Gauged, view: View) -> Iterator[Mark[Page]]:
    for void in one.surface.setout.voids:
        for ring in _shown(void, view):
            yield Filled((ring,), Tone.GREY)
            yield outline(ring, Role.OUTLINE)


def _shown(void: Void, view: View) -> Sequence[Ring[Page]]:
    """What of a void lies in what is drawn: one that goes on past the surface would cover the words round it."""
    e = view.extent
    drawn: Ring[Surface] = polygon(((e.min_x, e.min_y), (e.max_x, e.min_y), (e.max_x, e.max_y), (e.min_x, e.max_y)))
    return [view.ring(ring) for ring in intersection(region(void.measured), region(drawn)).rings]


def _names(one: Gauged, view: View) -> Iterator[Mark[Page]]:
    """What a void is called, on a ground of its own over the lines that cross it."""
    for void, ring in ((each, ring) for each in one.surface.setout.voids for ring in _shown(each, view)):
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
    pieces, drawn = pieces_of(plan, one.surface.setout), drawn_of(plan, one.surface.setout)
    taken = {(piece.piece.area, piece.piece.place) for piece in drawn}
    for gauge in one.areas:
        area, rows = gauge.area, courses(gauge.area, view.extent)
        if sum(last - first + 1 for _, first, last in rows) <= MOST_PLACES:
            for place in whole_places(area, view.extent, taken, rows):
                yield outline(view.ring(tile_ring(area.grid.w, area.grid.h, area.grid.placement(place))), Role.JOINT)
    for piece in drawn:
        for ring in on_surface(piece, piece.piece.outline).rings:
            yield outline(view.ring(ring), Role.JOINT)
    for piece in pieces:
        if piece.name in one.waiting:
            continue
        yield from _size(piece, view, plan.say.style)


def _size(piece: CutPiece, view: View, style: Style) -> Iterator[Mark[Page]]:
    """In a piece that is trimmed across "295½", in one that is trimmed in height "x 227", both in a corner.

    At its smaller end, as it is told wherever it has one figure.
    """
    if piece.sizes is None or piece.piece.turn:
        return
    tile, (wide_mm, high_mm) = piece.piece.tile, goes_in_both_ways(piece)
    words = [goes_in(wide_mm, style)] if wide_mm < tile.w - TOUCH else []
    words += [f"x {goes_in(high_mm, style)}"] if high_mm < tile.h - TOUCH else []
    room = view.ring(on_surface(piece, piece.piece.outline).rings[0]).bounds
    wide = max((width(text, LETTER) for text in words), default=0.0)
    joined = " ".join(words)
    lines = [joined] if width(joined, LETTER) + AIR <= room.width else words
    high = len(lines) * LETTER * 1.4
    if not words or piece.cuts or wide + AIR > room.width or high + AIR / 2 > room.height:
        return
    x, y = (room.min_x + room.max_x) / 2, (room.min_y + room.max_y) / 2 + high / 2
    for number, text in enumerate(lines, start=1):
        yield Words(text, Point(x, y - number * LETTER * 1.4 + LETTER * 0.2), LETTER, "middle")


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
        for stretch in base.stretches:
            if stretch.on in ("batten", "void"):
                (x1, y), (x2, _) = view.xy(stretch.low, base.y), view.xy(stretch.high, base.y)
                yield block(x1, y - 1.0, x2 - x1, 1.0)
                # Between the names of the courses over and under it, where they leave it room.
                if stretch is base.stretches[-1] and _pitch_of(base.area, one) * view.scale >= 3.0 * LETTER:
                    yield Words(batten, Point(view.page.max_x + 2.6, y - LETTER / 2), LETTER, bold=True)


def _heights(one: Gauged, view: View, style: Style) -> Iterator[Mark[Page]]:
    """On the left the level of each course's bottom from the main line, on the right what the course is called."""
    last_left = last_right = None
    level = view.xy(0.0, 0.0)[1]
    for gauge in one.areas:
        for course in gauge.courses:
            _, y = view.xy(0.0, course.bottom)
            low, high = max(course.bottom, view.extent.min_y), min(course.top, view.extent.max_y)
            middle = view.xy(0.0, (low + high) / 2)[1]
            if view.page.min_y - TOUCH <= y and _is_apart(y, level) and _is_apart(y, last_left):
                last_left = y
                yield line(view.page.min_x - 2.0, y, view.page.min_x, y, Role.JOINT)
                text = say(abs(course.bottom), style)
                at: Point[Page] = Point(view.page.min_x - 2.6, y - LETTER / 2)
                yield Words(text, at, LETTER, "end")
            if _is_apart(middle, last_right) and view.page.min_y <= middle <= view.page.max_y:
                last_right = middle
                name = str(course.course) if course.course > 0 else f"under {-course.course}"
                of = f"{gauge.area.name} " if len(one.areas) > 1 else "course "
                fits = of if width(of + name, LETTER) <= RIGHT - 3.0 else ""
                yield Words(f"{fits}{name}", Point(view.page.max_x + 2.6, middle - LETTER / 2), LETTER)


def _rod_marks(one: Gauged, view: View, style: Style) -> Iterator[Mark[Page]]:
    """Under the drawing the nearer edges of the joints of the lowest area's first courses, from the upright line."""
    rods = _first_rods(one)
    page, last = view.page, None
    places = sorted((rod.way.sign * joint.far, joint.far) for rod in rods for joint in rod.joints)
    for at, far in places:
        x, _ = view.xy(at, 0.0)
        text = say(far, style)
        half = width(text, LETTER) / 2
        if page.min_x <= x <= page.max_x and (last is None or x - half - AIR > last):
            last = x + half
            yield line(x, page.min_y - 2.2, x, page.min_y - 0.4, Role.JOINT)
            yield Words(text, Point(x, page.min_y - 3.0 - LETTER), LETTER, "middle")


def _first_rods(one: Gauged) -> Sequence[Rod]:
    """Both ways of one rod across: that of the lowest area's first course."""
    first = next((gauge.across for gauge in one.areas if gauge.across), ())
    return [rod for rod in first if rod.courses == first[0].courses and rod.way in (Side.LEFT, Side.RIGHT)]


def _is_apart(y: float, last: float | None) -> bool:
    return last is None or abs(y - last) >= LETTER * 1.35
