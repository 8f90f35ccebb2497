"""Where each cut's middle is: a ring with a cross in a clear field, ticks outside core and cover, and lines to tape to.

A core hides the centre that it stands on, so each middle is told again outside of all that is cut or covered: by a tick
at each quarter, or by the line that stands there in any case, a measure or a line to tape to.
"""

from __future__ import annotations

from collections.abc import Iterator

from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.frames import Point, Tile
from cutmarks.marks.clip import clipped, clipped_circle
from cutmarks.marks.model import CircleMark, Mark, Role, Stroke, line
from cutmarks.marks.rulers import measured_sides
from cutmarks.marks.template import TOO_NEAR, Subject, tape_at
from cutmarks.openings.model import Cut
from cutmarks.saying.measures import centre_on_tile, is_bite
from cutmarks.sides import SIDES, Axis, Side

RING, FIELD = 3.0, 6.0
"""Radius of the ring, and of the field about the middle that no other line and no word comes into, mm."""
TICK = 8.0
_OUTSIDE = 1.5
"""A tick begins so far outside what is cut and covered."""
_BEYOND = 2.0
"""A cross reaches so far past the ring's inside as to meet it and no further, in shares of its radius."""


def centre_marks(shown: Subject) -> Iterator[Mark[Tile]]:
    """All middles of a template's cuts; none of a piece that must not be cut."""
    if not shown.stopped:
        for number, cut in enumerate(shown.cuts):
            if centre_on_tile(cut):
                yield from _ring(shown, cut.centre, cut.share.bounds)
                for side in SIDES:
                    if side not in _told(shown, cut, first=number == 0):
                        yield from _tick(shown, cut, side)
            elif _is_seen_outside(shown, cut):
                yield from _ring(shown, cut.centre, cut.share.bounds)
            for middle in cut.drill_at:
                if middle != cut.centre:
                    yield from _ring(shown, middle, cut.share.bounds)
    yield from _tape_lines(shown)


def _is_seen_outside(shown: Subject, cut: Cut) -> bool:
    """Whether the middle of a bite lies on paper past the tile's edge, clear of it: not where that is folded away."""
    if not is_bite(cut):
        return False
    (over,) = cut.runs_out
    return over not in shown.registration.edges and -cut.from_edges[over] > RING + TOO_NEAR


def centre_fields(shown: Subject) -> Iterator[Bounds]:
    """The clear field about each middle."""
    for cut in shown.cuts:
        for at in (cut.centre, *cut.drill_at):
            yield Bounds(at.x - FIELD, at.y - FIELD, at.x + FIELD, at.y + FIELD)


def _ring(shown: Subject, at: Point[Tile], cut: Bounds) -> Iterator[Mark[Tile]]:
    """The ring and the cross that fills it; smaller in a small hole, so that the cut's own line stays clear."""
    radius = min(RING, min(cut.width, cut.height) / 4)
    yield from clipped_circle(CircleMark(at, radius, Role.CENTRE_RING), shown.view)
    for dx, dy in ((radius, 0.0), (0.0, radius)):
        stroke: Stroke[Tile] = line(at.x - dx, at.y - dy, at.x + dx, at.y + dy, Role.CENTRE)
        yield from clipped(stroke, shown.view)


def _told(shown: Subject, cut: Cut, *, first: bool) -> set[Side]:
    """The sides of a middle on which another line tells where it is."""
    told = set(measured_sides(shown, cut))
    if first:
        for side in shown.registration.tape:
            across = {one for one in SIDES if one.axis != side.axis}
            told |= across
    return told


def _tick(shown: Subject, cut: Cut, side: Side) -> Iterator[Mark[Tile]]:
    """A tick on one side of the middle, outside core and cover."""
    begin = _reach(cut, side) + _OUTSIDE
    x, y = cut.centre.x, cut.centre.y
    way = side.sign
    if side.axis == "across":
        stroke: Stroke[Tile] = line(x + way * begin, y, x + way * (begin + TICK), y, Role.CENTRE)
    else:
        stroke = line(x, y + way * begin, x, y + way * (begin + TICK), Role.CENTRE)
    yield from clipped(stroke, shown.view)


def _reach(cut: Cut, side: Side) -> float:
    """How far from its middle a cut with its cover reaches towards a side, mm."""
    box = cut.share.bounds
    middle = cut.centre.x if side.axis == "across" else cut.centre.y
    own = side.sign * (box.at(side) - middle)
    hides = [one for one in (cut.opening.cover, cut.opening.keep_clear) if one is not None]
    return max([own, *((one.w if side.axis == "across" else one.h) / 2 for one in hides)])


def _tape_lines(shown: Subject) -> Iterator[Mark[Tile]]:
    """A line right across the paper for each measure by tape: clear of the middle, and of a measure along it."""
    at = tape_at(shown.piece, shown.registration)
    for side in shown.registration.tape:
        along: Axis = "up" if side.axis == "across" else "across"
        yield from _tape_line(shown, shown.cuts[0], along, at)


def _tape_line(shown: Subject, cut: Cut, along: Axis, at: Point[Tile]) -> Iterator[Mark[Tile]]:
    """The line through `at` that runs along an axis, but for the middle that it goes through and the measure there."""
    view, tile = shown.view, shown.piece.piece.tile
    low, high = (view.min_x, view.max_x) if along == "across" else (view.min_y, view.max_y)
    through = abs((cut.centre.y - at.y) if along == "across" else (cut.centre.x - at.x)) < FIELD
    stretches = [(low, high)]
    if through and not shown.stopped and centre_on_tile(cut):
        middle = cut.centre.x if along == "across" else cut.centre.y
        stretches = [(low, middle - FIELD), (middle + FIELD, high)]
        for side in measured_sides(shown, cut):
            if side.axis == along:
                edge = tile.box.at(side)
                stretches = [(low, edge), stretches[1]] if side.sign < 0 else [stretches[0], (edge, high)]
    for start, end in stretches:
        if end > start:
            x0, y0, x1, y1 = (start, at.y, end, at.y) if along == "across" else (at.x, start, at.x, end)
            yield line(x0, y0, x1, y1, Role.CENTRE)
