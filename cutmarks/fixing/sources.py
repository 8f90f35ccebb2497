"""What a piece is read and marked from, each way: only what is there when it goes up.

In this order: an earlier piece beside it; what the first course stands on; a set-out line that no earlier piece covers;
the nearest earlier piece across a window; an edge as measured, or the upright face of a step in one. All of it is read
on the bare wall, before adhesive is combed over the line.
"""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from cutmarks.fixing.beside import PAST, Neighbour, neighbour
from cutmarks.fixing.model import ReadFrom, Reference
from cutmarks.fixing.order import AreaOrder, Order, base_words
from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.frames import Point, Surface
from cutmarks.geometry.near import Near
from cutmarks.geometry.regions import Region, contains, region, spans_across, spans_up
from cutmarks.geometry.spans import Span
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.setout.edges import position_at, runs_up, step_begins, what_at
from cutmarks.setout.model import Void
from cutmarks.sides import ON_AXIS, Axis, Side
from cutmarks.tiling.model import Piece, Place

ON_LINE = 1.5
"""A line this near to where the first course stands is the top of what it stands on, mm."""
MOST_WALKED = 500
"""So many places are looked at, one by one, for an earlier piece that covers a line; only where pieces are put in
out of turn."""


class Thing(Struct, frozen=True):
    """What is to be read to, on one axis of a piece, in its Tile frame, mm: its two sides, and its level."""

    axis: Axis
    low: float
    high: float
    at: float

    def from_edge(self, side: Side, edge: float) -> tuple[float, float]:
        """What a tape reads from an edge on `side` to its near and far side; negative where it lies past the edge."""
        if side.sign < 0:
            return self.low - edge, self.high - edge
        return edge - self.high, edge - self.low


class Sources:
    """The sources of a surface's pieces, by the order of fixing."""

    def __init__(self, order: Order) -> None:
        self.order = order
        self.layouts = [one.layout for one in order.areas.values()]
        self._voids = [(void, region(void.measured)) for void in order.setout.voids]
        self._voids_near = Near(shape.bounds for _, shape in self._voids)
        self._ends_near = Near(_where_tiles_end(void) for void in order.setout.voids)

    def beside(self, piece: Piece, side: Side, at: float) -> tuple[Reference, bool] | None:
        """The piece beside this one on a side, at a level, and whether it is fixed earlier."""
        found = neighbour(side, at, piece, self._area(piece).layout, self.layouts)
        if found is None:
            return None
        return Reference(ReadFrom("piece", found.name), side, found.edge), self._is_earlier(
            found.layout.area, found.place, piece
        )

    def without_neighbour(self, piece: Piece, thing: Thing, only: Side | None = None) -> Reference | None:
        """What is read from where no earlier piece is beside it, by the order that this module's head gives.

        `only`: on that side of the thing.
        """
        for candidates in (self._support, self._lines, self._across, self._edges):
            found = [one for one in candidates(piece, thing) if only in (None, one.side)]
            if found:
                return min(found, key=lambda one: thing.from_edge(one.side, one.edge)[0])
        return None

    def lines_reached(self, piece: Piece, thing: Thing) -> list[tuple[Side, float]]:
        """The set-out lines that the thing lies over: by side how far it is from each, mm, which is nothing or less.

        Once it comes off one it is read from there.
        """
        fixes = "x" if thing.axis == "across" else "y"
        lines = [] if piece.turn else [line for line in self.order.setout.lines.values() if line.fixes == fixes]
        edges = [line.at - (piece.tile_at.dx if fixes == "x" else piece.tile_at.dy) for line in lines]
        nears = [(side, thing.from_edge(side, edge)[0]) for edge in edges for side in ON_AXIS[thing.axis]]
        return [(side, near) for side, near in nears if near <= TOUCH]

    def _area(self, piece: Piece) -> AreaOrder:
        return self.order.areas[piece.area]

    def _is_earlier(self, area: str, place: Place, piece: Piece) -> bool:
        return self.order.rank(area, place) < self.order.rank(piece.area, piece.place)

    def _support(self, piece: Piece, thing: Thing) -> list[Reference]:
        """The batten or packers that the first course of an area stands on: there is no joint in it."""
        area = self._area(piece)
        stands_at, row = area.layout.stands_at, piece.place[1]
        if thing.axis != "up" or not area.on_wall or area.hangs or stands_at is None:
            return []
        if row != area.start_row or row != area.layout.base_row:
            return []
        y = area.layout.grid.to_surface.xy(0.0, stands_at)[1]
        edge = y - piece.tile_at.dy
        if thing.from_edge(Side.BOTTOM, edge)[0] <= TOUCH:
            return []
        lines = [line for line in self.order.setout.lines.values() if line.fixes == "y"]
        at_its_top = (line.name for line in lines if abs(line.at - y) <= ON_LINE)
        name = next(at_its_top, None) or base_words(self.order.specs[piece.area])
        return [Reference(ReadFrom("support", name), Side.BOTTOM, edge)]

    def _lines(self, piece: Piece, thing: Thing) -> list[Reference]:
        """The set-out lines of this axis that lie beside the thing, with bare wall from there to it."""
        if piece.turn:
            return []
        fixes = "x" if thing.axis == "across" else "y"
        found = []
        for line in self.order.setout.lines.values():
            if line.fixes != fixes:
                continue
            edge = line.at - (piece.tile_at.dx if fixes == "x" else piece.tile_at.dy)
            for side in ON_AXIS[thing.axis]:
                if (
                    thing.from_edge(side, edge)[0] > TOUCH
                    and self._is_seen(piece, thing, edge)
                    and self._is_bare(piece, thing, side, edge)
                ):
                    found.append(Reference(ReadFrom("line", line.name), side, edge))
        return found

    def _across(self, piece: Piece, thing: Thing) -> list[Reference]:
        """The nearest earlier piece of the same course, or of those under or over it, across a window."""
        found = []
        for side in ON_AXIS[thing.axis]:
            other = self._past_a_void(piece, thing, side)
            if other is not None and self._is_earlier(other.layout.area, other.place, piece):
                reference = Reference(ReadFrom("piece", other.name, across=True), side, other.edge)
                if thing.from_edge(side, other.edge)[0] > TOUCH and self._is_bare(
                    piece, thing, side, other.edge, past_a_void=True
                ):
                    found.append(reference)
        return found

    def _edges(self, piece: Piece, thing: Thing) -> list[Reference]:
        """The surface's edges and the windows beside the thing as measured, with bare wall from there to it."""
        if piece.turn:
            return []
        found = []
        for side in ON_AXIS[thing.axis]:
            nearest = min(
                self._ends(piece, thing, side), key=lambda one: thing.from_edge(side, one.edge)[0], default=None
            )
            if nearest is not None and self._is_bare(piece, thing, side, nearest.edge):
                found.append(nearest)
        return found

    def _ends(self, piece: Piece, thing: Thing, side: Side) -> Iterator[Reference]:
        """Where the bare surface ends on a side, at the thing's level: at its edge, or at a window."""
        setout, dx, dy = self.order.setout, piece.tile_at.dx, piece.tile_at.dy
        across = thing.axis == "across"
        level = thing.at + (dy if across else dx)
        own = dx if across else dy
        if side in setout.edges and side not in setout.open_sides:
            edge = setout.edges[side]
            at = position_at(edge, level) - own
            if thing.from_edge(side, at)[0] > TOUCH:
                yield Reference(ReadFrom("edge", str(side), what=what_at(edge, level)), side, at)
            yield from self._risers(thing, side, level, own)
        elif setout.outline is not None:
            spans = spans_across(setout.outline, level) if across else spans_up(setout.outline, level)
            for at in (span[0 if side.sign < 0 else 1] - own for span in spans):
                if thing.from_edge(side, at)[0] > TOUCH:
                    yield Reference(ReadFrom("edge", str(side)), side, at)
        for void, shape in self._voids_at(level, across=across):
            spans = spans_across(shape, level) if across else spans_up(shape, level)
            for at in (span[1 if side.sign < 0 else 0] - own for span in spans):
                if thing.from_edge(side, at)[0] > TOUCH:
                    yield Reference(ReadFrom("edge", void.called), side, at)

    def _risers(self, thing: Thing, side: Side, level: float, own: float) -> Iterator[Reference]:
        """The upright faces of steps on a side, at the thing's level: a trough that stands in the floor."""
        for edge in self.order.setout.edges.values():
            if edge.side.axis == side.axis or not edge.read:
                continue
            across = side.axis == "across"
            points = [(p.x, p.y) if across else (p.y, p.x) for p in edge.measured]
            for number in step_begins(edge)[1:]:
                (t, before), (_, after) = points[number - 1], points[number]
                # Of what stands out one sees the face that looks to the thing: it stands out beyond the step.
                is_face = (after - before) * edge.side.sign * side.sign < 0.0
                if (
                    is_face
                    and min(before, after) < level < max(before, after)
                    and thing.from_edge(side, t - own)[0] > TOUCH
                ):
                    what = edge.whats[number if side.sign > 0 else number - 1] or f"step of the {edge.called}"
                    yield Reference(ReadFrom("edge", str(edge.side), what=what), side, t - own)

    def _is_open(self, piece: Piece, thing: Thing, low: float, high: float) -> bool:
        """Whether a tape can be held from `low` to `high` at the thing's level: through a window, not a step."""
        setout = self.order.setout
        if piece.turn or not any(edge.read for edge in setout.edges.values()):
            return True
        dx, dy = piece.tile_at.dx, piece.tile_at.dy
        across = thing.axis == "across"
        level, own = (thing.at + dy, dx) if across else (thing.at + dx, dy)
        spans = spans_across(setout.bare, level) if across else spans_up(setout.bare, level)
        # An edge itself is as far as it goes.
        return any(a - own <= low + TOUCH and high - TOUCH <= b - own for a, b in spans)

    def voids_about(self, at: Point[Surface], slack: float) -> Iterator[Void]:
        """The windows, niches and doors at which a tile may end within `slack` mm of a place, in their order."""
        near = self._ends_near.within(Bounds(at.x, at.y, at.x, at.y), slack)
        return (self._voids[number][0] for number in near)

    def _voids_at(self, level: float, *, across: bool) -> Iterator[tuple[Void, Region[Surface]]]:
        """The windows, niches and doors that a level line, or a plumb one, may come to."""
        near = self._voids_near
        return (self._voids[number] for number in (near.at_level if across else near.at_plumb)(level, TOUCH))

    def _is_seen(self, piece: Piece, thing: Thing, edge: float) -> bool:
        """Whether a line lies on the wall at the thing's level: not in a window, nor past an edge."""
        x, y = (edge, thing.at) if thing.axis == "across" else (thing.at, edge)
        at: Point[Surface] = Point(x + piece.tile_at.dx, y + piece.tile_at.dy)
        here = self._voids_near.within(Bounds(at.x, at.y, at.x, at.y), TOUCH)
        if any(contains(self._voids[number][1], at) for number in here):
            return False
        for side, one in self.order.setout.edges.items():
            if side in self.order.setout.open_sides:
                continue
            own, along = (at.x, at.y) if runs_up(side) else (at.y, at.x)
            if (own - position_at(one, along)) * side.sign > TOUCH:
                return False
        outline = self.order.setout.outline
        return outline is None or contains(outline, at)

    def _is_bare(self, piece: Piece, thing: Thing, side: Side, edge: float, *, past_a_void: bool = False) -> bool:
        """Whether no earlier piece lies at its level between an edge or line on `side` and the thing, nor a step.

        `past_a_void`: the edge is that of the nearest earlier piece beyond a window, which is none that lies between.
        """
        near = thing.low if side.sign < 0 else thing.high
        low, high = min(edge, near), max(edge, near)
        if not self._is_open(piece, thing, low, high):
            return False
        layout = self._area(piece).layout
        # On the other side too: past this piece's own end, where the thing comes through an earlier one.
        found = [(one, neighbour(one, thing.at, piece, layout, self.layouts)) for one in (side, side.opposite)]
        found.append((side, self._past_a_void(piece, thing, side)))
        for one, other in found:
            if other is None or not self._is_earlier(other.layout.area, other.place, piece):
                continue
            if low <= other.edge - TOUCH if one.sign < 0 else high >= other.edge + TOUCH:
                return False
        walked = self.order.mixed or (self.order.waits_at_windows and not past_a_void)
        if walked and any(self._walked(piece, thing, side, edge)):
            return False
        return not any(self._other_areas(piece, thing, low, high))

    def _walked(self, piece: Piece, thing: Thing, side: Side, edge: float) -> Iterator[bool]:
        """Of each piece of the own area from this one towards an edge whether it is earlier."""
        layout = self._area(piece).layout
        u, v = piece.tile_at.then(layout.grid.to_surface.inverse()).xy(0.0, 0.0)
        x = piece.tile.box.at(side)
        step = layout.grid.pitch_u if thing.axis == "across" else layout.grid.pitch_v
        for _ in range(MOST_WALKED):
            x += side.sign * step
            inside = x - side.sign * step / 2
            row = layout.row_at(v + (thing.at if thing.axis == "across" else inside))
            place = (layout.column_at(u + (inside if thing.axis == "across" else thing.at), row), row)
            if layout.shape(place) is not None:
                yield self._is_earlier(piece.area, place, piece)
            if (x - edge) * side.sign > 0.0:
                return

    def _other_areas(self, piece: Piece, thing: Thing, low: float, high: float) -> Iterator[bool]:
        """Of each piece of another area that ends a stretch between `low` and `high` whether it is earlier."""
        for order in self.order.areas.values():
            layout = order.layout
            if layout.area == piece.area or layout.grid.turn or piece.turn:
                continue
            dx = piece.tile_at.dx - layout.grid.to_surface.dx
            dy = piece.tile_at.dy - layout.grid.to_surface.dy
            along, level = (dx, dy + thing.at) if thing.axis == "across" else (dy, dx + thing.at)
            for a, b in self._spans(order, thing.axis, level):
                first, last = max(a, low + along), min(b, high + along)
                if first >= last - TOUCH:
                    continue
                for at in (first + PAST, last - PAST):
                    u, v = (at, level) if thing.axis == "across" else (level, at)
                    row = layout.row_at(v)
                    place = (layout.column_at(u, row), row)
                    if layout.shape(place) is not None:
                        yield self._is_earlier(layout.area, place, piece)

    def _spans(self, order: AreaOrder, axis: Axis, level: float) -> list[Span]:
        ground = order.layout.ground
        if ground.is_empty:
            return []
        return spans_across(ground, level) if axis == "across" else spans_up(ground, level)

    def _past_a_void(self, piece: Piece, thing: Thing, side: Side) -> Neighbour | None:
        """The piece of the own area that lies next on `side`, across a window, niche or door; its edge as it faces."""
        order = self._area(piece)
        layout = order.layout
        u, v = piece.tile_at.then(layout.grid.to_surface.inverse()).xy(0.0, 0.0)
        across = thing.axis == "across"
        level, middle = (v + thing.at, u) if across else (u + thing.at, v)
        own = middle + min(max((thing.low + thing.high) / 2, 0.0), piece.tile.w if across else piece.tile.h)
        spans = self._spans(order, thing.axis, level)
        if side.sign < 0:
            beyond = max((span for span in spans if span[1] < own), default=None)
        else:
            beyond = min((span for span in spans if span[0] > own), default=None)
        if beyond is None:
            return None
        end = beyond[1] if side.sign < 0 else beyond[0]
        inside = end + side.sign * PAST
        row = layout.row_at(level if across else inside)
        place = (layout.column_at(inside if across else level, row), row)
        if place == piece.place or layout.shape(place) is None:
            return None
        corner = layout.grid.corner(place)[0 if across else 1]
        size = layout.grid.w if across else layout.grid.h
        edge = min(end, corner + size) if side.sign < 0 else max(end, corner)
        return Neighbour(layout, place, layout.name(place), edge - middle)


def _where_tiles_end(void: Void) -> Bounds:
    """A box with every place in it at which a void's gap, or its frame's, lets a tile end."""
    ring, box, most = void.ring.bounds, void.measured.bounds, max(void.gap, void.beside)
    return Bounds(
        min(ring.min_x, box.min_x - most),
        min(ring.min_y, box.min_y - most),
        max(ring.max_x, box.max_x + most),
        max(ring.max_y, box.max_y + most),
    )
