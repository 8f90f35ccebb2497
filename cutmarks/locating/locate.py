"""From what was read to where each thing is on its surface."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, cast

from msgspec import Struct
from msgspec.structs import replace

from cutmarks.errors import Faults, GeometryError
from cutmarks.geometry.frames import Placement, Point, Surface
from cutmarks.geometry.rings import Ring, Vertex, polygon
from cutmarks.geometry.shapes import Outline, Rect, ring_of
from cutmarks.job.thing_size import one_side
from cutmarks.locating.courses import lower_edge
from cutmarks.locating.model import Doubt, Located
from cutmarks.locating.precision import of_corners, of_two
from cutmarks.locating.shapes import FollowsOn, Unlocatable, extent, read_across, shape_as_read, shape_known
from cutmarks.setout.edges import position_at
from cutmarks.setout.lines import on_lines
from cutmarks.setout.model import SetOut
from cutmarks.setout.outlines import ring_through
from cutmarks.setout.spans import ROUNDS
from cutmarks.sides import Axis, Side
from cutmarks.tiling.layout import Layout

if TYPE_CHECKING:
    from cutmarks.job import Job
    from cutmarks.job.models import HoleSpec
    from cutmarks.job.taped import PairSpec
    from cutmarks.limits import Limits
    from cutmarks.readings import From, PointRead, Reading, Spot


class Locator(Struct):
    """Locates the holes of one surface; `layouts` is empty while the start is not decided."""

    job: Job
    setout: SetOut
    layouts: Sequence[Layout]
    faults: Faults
    done: dict[str, Located]
    waiting: Mapping[str, HoleSpec]
    under_way: set[str]
    failed: set[str]
    pairs: Sequence[PairSpec]
    points: Mapping[str, PointRead]
    limits: Limits
    together: Mapping[str, tuple[str, ...]]
    """For each hole that is adjusted with others, or has readings to spare: all of its network, itself too."""

    def locate(self, spec: HoleSpec) -> Located | None:
        """The thing in its place, or None and a fault; what it is level with is located first, whatever the order."""
        if spec.name in self.done:
            return self.done[spec.name]
        if spec.name in self.failed:
            return None
        if spec.name in self.together:
            return self._locate_together(spec)
        self.under_way.add(spec.name)
        try:
            found = self._locate(spec)
        except FollowsOn:
            self.failed.add(spec.name)
            return None
        except (Unlocatable, GeometryError) as error:
            self.failed.add(spec.name)
            self._refuse(spec, str(error))
            return None
        finally:
            self.under_way.discard(spec.name)
        self.done[spec.name] = found
        return found

    def first(self, spec: HoleSpec) -> Iterator[HoleSpec]:
        """What a hole is level with, and what that is level with in turn, the last of them first; then the hole."""
        seen = {spec.name}
        under_way = [(spec, self._level_with(spec))]
        while under_way:
            one, others = under_way[-1]
            other = next((hole for hole in others if hole.name not in seen and hole.name not in self.done), None)
            if other is None:
                under_way.pop()
                yield one
            else:
                seen.add(other.name)
                under_way.append((other, self._level_with(other)))

    def _level_with(self, spec: HoleSpec) -> Iterator[HoleSpec]:
        """The holes that a hole's own readings name."""
        for reading in (spec.across, spec.up):
            if reading is not None and reading.other is not None and reading.other in self.waiting:
                yield self.waiting[reading.other]

    def _locate_together(self, spec: HoleSpec) -> Located | None:
        """The holes of one network, all at once; a fault is said once, of the hole that it is about."""
        from cutmarks.locating.joined import place_together  # late, as in `_together`
        from cutmarks.locating.network import Unplaced

        names = self.together[spec.name]
        specs = [self.waiting[name] for name in names]
        about = spec
        try:
            for about in specs:
                if about.corners or about.outline:
                    raise Unlocatable("it is read together with others, and placed by corners: read it across and up.")
            about = spec
            placed = place_together(specs, self.pairs, self.points, self, self.limits, self.job.setting)
        except Unplaced as error:
            about, sentence = specs[error.hole], str(error)
        except (Unlocatable, GeometryError) as error:
            sentence = str(error)
        else:
            self.done |= {found.spec.name: found for found in placed}
            return self.done[spec.name]
        self._refuse(about, sentence)
        return None

    def _refuse(self, spec: HoleSpec, sentence: str) -> None:
        """Tell why a hole has no place."""
        with self.faults.about(f'hole "{spec.name}"', spec.where):
            self.faults.tell(sentence)

    def _locate(self, spec: HoleSpec) -> Located:
        if spec.corners or spec.outline:
            found = self._box_by_corners(spec) if spec.corners else self._outlined(spec)
            return found if spec.across is None and spec.up is None else self._read_elsewhere(found)
        if spec.across is None or spec.up is None:
            raise Unlocatable("no position: give across and up, or corners, or an outline.")
        doubt = of_two(spec, self.limits, self._doubt_of_other(spec.across), self._doubt_of_other(spec.up))
        shape, diameter = shape_known(spec)
        wide, high = extent(shape)
        x, y = (0.0, 0.0), (0.0, 0.0)
        for _ in range(ROUNDS):
            before = x, y
            x = self.on_axis(spec.across, "across", wide, (y[0] + y[1]) / 2)
            y = self.on_axis(spec.up, "up", high, (x[0] + x[1]) / 2)
            if (x, y) == before:
                break
        read = (read_across(spec.across), read_across(spec.up))
        if shape is None:
            shape, diameter = shape_as_read(spec, read, self.limits.round_within.value, self.job.setting)
        at: Point[Surface] = Point((x[0] + x[1]) / 2, (y[0] + y[1]) / 2)
        return Located(spec, at, shape, ring_of(shape, at), read, diameter, doubt)

    def _doubt_of_other(self, reading: Reading) -> Doubt | None:
        return self._other(reading).doubt if reading.how == "level with" else None

    def on_axis(self, reading: Reading, axis: Axis, size: float | None, beside: float | None) -> tuple[float, float]:
        """Both sides of the thing on one axis of the surface, mm, low first.

        `beside` is its middle on the other axis, which only a reading from an edge or in a course asks for; None where
        that is not known, and then a reading from an edge is an error of the program.
        """
        if reading.how == "level with":
            other = self._other(reading)
            middle = (other.at.x if axis == "across" else other.at.y) + reading.low
            return middle, middle
        if reading.how == "course":
            at = lower_edge(reading, self.layouts, beside, self.limits.two_sizes.value)
            place: Callable[[float], float] = lambda reach: at + reach  # noqa: E731
        else:
            assert reading.start is not None
            place = self._placer(reading.start, axis, beside)
        if reading.high is not None:
            a, b = place(reading.low), place(reading.high)
            return min(a, b), max(a, b)
        if reading.how in ("low", "high"):
            if size is None:
                raise Unlocatable(one_side(reading))
            side = place(reading.low)
            return (side, side + size) if reading.how == "low" else (side - size, side)
        middle = place(reading.low)
        return middle, middle

    def _placer(self, start: From, axis: Axis, beside: float | None) -> Callable[[float], float]:
        """How a signed reading from `start` becomes a coordinate."""
        if start.kind == "line":
            origin = self.setout.lines[start.name].at
            return lambda reach: origin + reach
        if start.kind == "edge":
            side = cast("Side", start.name)
            edge = self.setout.edges[side]
            assert beside is not None
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
            assert start.side is not None
            if start.side.axis != axis:
                raise Unlocatable(f"the {start.side} edge of {start.name} says nothing about {axis}.")
            return box.at(start.side)
        raise Unlocatable(f"there is no piece {start.name}: names are area, course and number, as in splash 3-7.")

    def _other(self, reading: Reading) -> Located:
        assert reading.other is not None
        if reading.other in self.under_way:
            raise Unlocatable(f'it is level with "{reading.other}", which is level with it in turn.')
        if reading.other not in self.waiting:
            raise Unlocatable(f'it is level with "{reading.other}", which is not a hole on this surface.')
        found = self.locate(self.waiting[reading.other])
        if found is None:
            raise FollowsOn
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
        return Located(spec, at, thing, ring, (None, None), None, of_corners(len(corners), self.limits))

    def _read_elsewhere(self, found: Located) -> Located:
        """A thing whose shape its corners give, and whose place in a room was read by its outermost sides."""
        spec, box = found.spec, found.ring.bounds
        x, y = (box.min_x, box.max_x), (box.min_y, box.max_y)
        was = (x[0] + x[1]) / 2, (y[0] + y[1]) / 2
        for _ in range(ROUNDS):
            before = x, y
            if spec.across is not None:
                x = self.on_axis(spec.across, "across", box.width, (y[0] + y[1]) / 2)
            if spec.up is not None:
                y = self.on_axis(spec.up, "up", box.height, (x[0] + x[1]) / 2)
            if (x, y) == before:
                break
        step: Placement[Surface, Surface] = Placement.shift((x[0] + x[1]) / 2 - was[0], (y[0] + y[1]) / 2 - was[1])
        read = tuple(None if one is None else read_across(one) for one in (spec.across, spec.up))
        return replace(found, at=step.apply(found.at), ring=found.ring.moved(step), read=(read[0], read[1]))

    def _outlined(self, spec: HoleSpec) -> Located:
        ring = ring_through(spec.outline, self.setout.lines)
        box = ring.bounds
        at: Point[Surface] = Point((box.min_x + box.max_x) / 2, (box.min_y + box.max_y) / 2)
        thing = Outline(tuple(Vertex(v.x - at.x, v.y - at.y, v.bulge) for v in ring.vertices))
        doubt = of_corners(len(spec.outline), self.limits)
        return Located(spec, at, thing, ring, (box.width, box.height), None, doubt)


def _together(holes: Sequence[HoleSpec], pairs: Sequence[PairSpec]) -> Mapping[str, tuple[str, ...]]:
    """For each hole with readings to spare, or tied to one that has, all of its network; most jobs have none."""
    if not pairs and not any(spec.readings for spec in holes):
        return {}
    from cutmarks.locating.joined import is_joined, ties  # late: a job without networks does not wait for them
    from cutmarks.locating.network import connected

    groups = connected([spec.name for spec in holes], ties(holes, pairs))
    joined = {spec.name for spec in holes if is_joined(spec, pairs)}
    return {name: group for name, group in groups.items() if not joined.isdisjoint(group)}


def locate_all(
    holes: Sequence[HoleSpec],
    setout: SetOut,
    layouts: Sequence[Layout],
    job: Job,
    faults: Faults,
    pairs: Sequence[PairSpec] = (),
    points: Mapping[str, PointRead] | None = None,
) -> list[Located]:
    """Every hole of a surface in its place, in the order of the job.

    `pairs` and `points` are the surface's: what was read between two holes, and the named places that tapes are held
    to.
    """
    locator = Locator(
        job,
        setout,
        layouts,
        faults,
        done={},
        waiting={spec.name: spec for spec in holes},
        under_way=set(),
        failed=set(),
        pairs=pairs,
        points=points or {},
        limits=job.limits.figures(),
        together=_together(holes, pairs),
    )
    for spec in holes:
        # In turn, and not each from within the next: a row of pipes may each be level with the one before.
        for one in locator.first(spec):
            locator.locate(one)
    found = [locator.locate(spec) for spec in holes]
    return [located for located in found if located is not None]


def _angle(a: tuple[float, float], b: tuple[float, float]) -> float:
    return math.atan2(b[1] - a[1], b[0] - a[0])


def _round_the_middle(corners: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    """Four corners in any order, as bottom left, bottom right, top right, top left."""
    mx, my = sum(x for x, _ in corners) / 4, sum(y for _, y in corners) / 4
    turning = sorted(corners, key=lambda p: math.atan2(p[1] - my, p[0] - mx))
    first = min(range(4), key=lambda i: turning[i][0] + turning[i][1])
    return turning[first:] + turning[:first]
