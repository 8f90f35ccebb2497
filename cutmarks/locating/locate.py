"""From what was read to where each thing is on its surface."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, cast

from cutmarks.errors import Fault
from cutmarks.geometry.frames import Point, Surface
from cutmarks.geometry.rings import Ring, Vertex, polygon, self_crossing
from cutmarks.geometry.shapes import Circle, Outline, Rect, Shape, Slot, ring_of
from cutmarks.locating.model import Located
from cutmarks.setout.edges import position_at
from cutmarks.setout.lines import on_lines
from cutmarks.setout.model import SetOut, Side
from cutmarks.setout.spans import ROUNDS
from cutmarks.tiling.layout import Layout

if TYPE_CHECKING:
    from cutmarks.job import Job
    from cutmarks.job.models import HoleSpec
    from cutmarks.job.phrases import Axis, From, Reading, Spot

ROUND_WITHIN = 2.0
"""A thing of unknown kind whose two measures differ by no more than this, mm, is taken as round (common practice)."""
HIDES_ONLY = ("plate", "cover", "device")
"""Kinds of fitting that lie on the tile and do not come through it."""
BOX_WORDS = ("box", "socket", "switch", "plate", "valve box", "spur", "outlet")


class Unlocatable(Exception):
    """A reading that names no place; the sentence says why. Caught here and turned into a fault of the job."""


@dataclass(slots=True)
class Locator:
    """Locates the holes of one surface; `layouts` is empty while the start is not decided."""

    job: Job
    setout: SetOut
    layouts: Sequence[Layout]
    faults: list[Fault]
    done: dict[str, Located]
    waiting: Mapping[str, HoleSpec]
    under_way: set[str]

    def locate(self, spec: HoleSpec) -> Located | None:
        """The thing in its place, or None and a fault; what it is level with is located first, whatever the order."""
        if spec.name in self.done:
            return self.done[spec.name]
        self.under_way.add(spec.name)
        try:
            found = self._locate(spec)
        except Unlocatable as error:
            self.faults.append(self.job.fault(spec.where, f'hole "{spec.name}"', str(error)))
            return None
        finally:
            self.under_way.discard(spec.name)
        self.done[spec.name] = found
        return found

    def _locate(self, spec: HoleSpec) -> Located:
        if spec.corners:
            return self._box_by_corners(spec)
        if spec.outline:
            return self._outlined(spec)
        if spec.across is None or spec.up is None:
            raise Unlocatable("no position: give across and up, or corners, or an outline.")
        shape, diameter = _shape_known(spec)
        wide, high = _extent(shape)
        x, y = (0.0, 0.0), (0.0, 0.0)
        for _ in range(ROUNDS):
            before = x, y
            x = self._on_axis(spec.across, "across", wide, (y[0] + y[1]) / 2)
            y = self._on_axis(spec.up, "up", high, (x[0] + x[1]) / 2)
            if (x, y) == before:
                break
        read = (_read(spec.across), _read(spec.up))
        if shape is None:
            shape, diameter = _shape_as_read(spec, read)
        at: Point[Surface] = Point((x[0] + x[1]) / 2, (y[0] + y[1]) / 2)
        return Located(spec, at, shape, ring_of(shape, at), read, diameter)

    def _on_axis(self, reading: Reading, axis: Axis, size: float | None, beside: float) -> tuple[float, float]:
        """Both sides of the thing on one axis of the surface, mm, low first; `beside` is its middle on the other."""
        if reading.how == "level with":
            other = self._other(reading)
            middle = other.at.x if axis == "across" else other.at.y
            return middle, middle
        if reading.how == "course":
            at = self._course_bottom(reading)
            place: Callable[[float], float] = lambda reach: at + reach  # noqa: E731
        else:
            assert reading.start is not None
            place = self._placer(reading.start, axis, beside)
        if reading.high is not None:
            a, b = place(reading.low), place(reading.high)
            return min(a, b), max(a, b)
        if reading.how in ("low", "high"):
            if size is None:
                raise Unlocatable(
                    f'"{reading.text}" is one side of something whose size is not known: read both sides, as in '
                    "67 to 83 left of V, or say what it is (15 copper)."
                )
            other_side = reading.low + size if reading.how == "low" else reading.low - size
            a, b = place(reading.low), place(other_side)
            return min(a, b), max(a, b)
        middle = place(reading.low)
        return middle, middle

    def _placer(self, start: From, axis: Axis, beside: float) -> Callable[[float], float]:
        """How a signed reading from `start` becomes a coordinate."""
        if start.kind == "line":
            origin = self.setout.lines[start.name].at
            return lambda reach: origin + reach
        if start.kind == "edge":
            side = cast("Side", start.name)
            edge = self.setout.edges.get(side)
            if edge is None:
                raise Unlocatable(f"it is read from the {side} edge, which has no reading: give edges: {side}: ...")
            origin = position_at(edge, beside)
            inward = 1.0 if side in ("left", "bottom") else -1.0
            return lambda reach: origin + inward * reach
        origin = self._piece_edge(start, axis)
        return lambda reach: origin + reach

    def _piece_edge(self, start: From, axis: Axis) -> float:
        """The coordinate of a named fixed piece's edge."""
        for layout in self.layouts:
            piece = layout.named(start.name)
            if piece is None:
                continue
            if layout.grid.turn:
                raise Unlocatable(f"{start.name} lies turned, so that none of its edges is plumb or level.")
            box = piece.outline.moved(piece.tile_at).bounds
            edges = {"left": box.min_x, "right": box.max_x, "bottom": box.min_y, "top": box.max_y}
            assert start.side is not None
            if (start.side in ("left", "right")) != (axis == "across"):
                raise Unlocatable(f"the {start.side} edge of {start.name} says nothing about {axis}.")
            return edges[start.side]
        raise Unlocatable(f"there is no piece {start.name}: names are area, course and number, as in splash 3-7.")

    def _course_bottom(self, reading: Reading) -> float:
        layouts = [la for la in self.layouts if reading.area in (None, la.area)]
        if not layouts:
            raise Unlocatable(f'"{reading.text}" needs the start of its area.')
        if len(layouts) > 1:
            raise Unlocatable(f'"{reading.text}": say of which area, as in course 4 of {layouts[0].area}, 98 up.')
        layout = layouts[0]
        if layout.grid.turn:
            raise Unlocatable(f"the courses of {layout.area} are turned: measure from a line.")
        assert reading.course is not None
        row = reading.course - 1 if layout.open_below else reading.course - 1 + layout.lowest_row()
        return layout.grid.to_surface.dy + row * layout.grid.pitch_v

    def _other(self, reading: Reading) -> Located:
        assert reading.other is not None
        if reading.other in self.under_way:
            raise Unlocatable(f'it is level with "{reading.other}", which is level with it in turn.')
        if reading.other not in self.waiting:
            raise Unlocatable(f'it is level with "{reading.other}", which is not a hole on this surface.')
        found = self.locate(self.waiting[reading.other])
        if found is None:
            raise Unlocatable(f'it is level with "{reading.other}", which has no place.')
        return found

    def _spot(self, spot: Spot) -> tuple[float, float]:
        return on_lines(spot.across, self.setout.lines), on_lines(spot.up, self.setout.lines)

    def _box_by_corners(self, spec: HoleSpec) -> Located:
        """A box by its four corners: its lean from its two long-way sides, its size so that every corner is inside."""
        corners = _round_the_middle([self._spot(spot) for spot in spec.corners])
        bl, br, tr, tl = corners
        lean = math.degrees((_angle(bl, br) + _angle(tl, tr)) / 2)
        middle = (sum(x for x, _ in corners) / 4, sum(y for _, y in corners) / 4)
        c, s = math.cos(math.radians(lean)), math.sin(math.radians(lean))
        along = [(x - middle[0]) * c + (y - middle[1]) * s for x, y in corners]
        over = [(y - middle[1]) * c - (x - middle[0]) * s for x, y in corners]
        u, v = (min(along) + max(along)) / 2, (min(over) + max(over)) / 2
        at: Point[Surface] = Point(middle[0] + u * c - v * s, middle[1] + u * s + v * c)
        thing = Rect(max(along) - min(along), max(over) - min(over), lean)
        ring: Ring[Surface] = polygon(corners)
        return Located(spec, at, thing, ring, (None, None), None)

    def _outlined(self, spec: HoleSpec) -> Located:
        ring: Ring[Surface] = polygon([self._spot(spot) for spot in spec.outline])
        crossing = self_crossing(ring)
        if crossing is not None:
            raise Unlocatable(
                f"its outline crosses itself near {crossing.x:g} across, {crossing.y:g} up: list its corners in order, "
                "once round."
            )
        if ring.area < 0:
            ring = ring.reversed()
        box = ring.bounds
        at: Point[Surface] = Point((box.min_x + box.max_x) / 2, (box.min_y + box.max_y) / 2)
        thing = Outline(tuple(Vertex(v.x - at.x, v.y - at.y, v.bulge) for v in ring.vertices))
        return Located(spec, at, thing, ring, (box.width, box.height), None)


def locate_all(
    holes: Sequence[HoleSpec], setout: SetOut, layouts: Sequence[Layout], job: Job, faults: list[Fault]
) -> list[Located]:
    """Every hole of a surface in its place, in the order of the job."""
    locator = Locator(job, setout, layouts, faults, {}, {spec.name: spec for spec in holes}, set())
    found = [locator.locate(spec) for spec in holes]
    return [located for located in found if located is not None]


def _shape_known(spec: HoleSpec) -> tuple[Shape | None, float | None]:
    """The thing's shape where its kind or its own size says it, before its position is known."""
    if spec.slot is not None:
        first, second = spec.slot.first, spec.slot.second
        lean = spec.lean or 0.0
        return (Slot(first, second, lean) if first >= second else Slot(second, first, lean + 90)), None
    if spec.size is not None:
        return Rect(spec.size.first, spec.size.second, spec.lean or 0.0), None
    if spec.diameter is not None:
        return Circle(spec.diameter), spec.diameter
    fitting = spec.fitting
    if fitting is None or fitting.kind in HIDES_ONLY:
        return None, None
    if fitting.od is not None:
        return Circle(fitting.od), fitting.od
    if fitting.w is not None and fitting.h is not None and None in (_read_or_none(spec.across), _read_or_none(spec.up)):
        return Rect(fitting.w, fitting.h, spec.lean or 0.0), None
    return None, None


def _shape_as_read(spec: HoleSpec, read: tuple[float | None, float | None]) -> tuple[Shape, float | None]:
    """The thing's shape from its readings alone."""
    wide, high = read
    if wide is None and high is None:
        if isinstance(spec.opening, (int, float)):
            return Circle(spec.opening), None
        if spec.opening is not None:
            return Rect(spec.opening.first, spec.opening.second), None
        if spec.fitting is not None and spec.fitting.choices:
            sizes = ", ".join(f"{choice.words} ({choice.od:g})" for choice in spec.fitting.choices if choice.od)
            raise Unlocatable(
                f'"{spec.what}" is more than one size: {sizes}. Read both its sides, or write diameter: with what you '
                "measured."
            )
        raise Unlocatable(
            "its size is not known: read both its sides, as in 67 to 83 left of V, or say what it is (15 copper), "
            "or give size: 70 x 70."
        )
    if wide is None or high is None:
        one = wide if wide is not None else high
        assert one is not None
        return Circle(one), one
    is_box = any(word in spec.what.lower() for word in BOX_WORDS)
    if not is_box and abs(wide - high) <= ROUND_WITHIN:
        diameter = max(wide, high)
        return Circle(diameter), diameter
    return Rect(wide, high), None


def _extent(shape: Shape | None) -> tuple[float | None, float | None]:
    if shape is None:
        return None, None
    box = ring_of(shape, cast("Point[Surface]", Point(0.0, 0.0))).bounds
    return box.width, box.height


def _read(reading: Reading) -> float | None:
    return None if reading.high is None else abs(reading.high - reading.low)


def _read_or_none(reading: Reading | None) -> float | None:
    return None if reading is None else _read(reading)


def _angle(a: tuple[float, float], b: tuple[float, float]) -> float:
    return math.atan2(b[1] - a[1], b[0] - a[0])


def _round_the_middle(corners: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    """Four corners in any order, as bottom left, bottom right, top right, top left."""
    mx, my = sum(x for x, _ in corners) / 4, sum(y for _, y in corners) / 4
    turning = sorted(corners, key=lambda p: math.atan2(p[1] - my, p[0] - mx))
    first = min(range(4), key=lambda i: turning[i][0] + turning[i][1])
    return turning[first:] + turning[:first]
