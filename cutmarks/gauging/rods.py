"""The rod: every joint of an area from the main lines on, both ways, and the courses with their heights."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from cutmarks.gauging.model import REACH, AreaGauge, Begun, CourseLevel, Creeps, OwnJoint, Rod, RodJoint
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.plan import AreaPlan, SurfacePlan
from cutmarks.setout.edges import position_at
from cutmarks.sides import Side

MOST_RODS = 3
"""Courses that are moved otherwise than the ones before have a rod of their own, up to a bond in thirds; of a bond with
more each has one joint, and the pitch."""
MOST_DOWN = 6
"""A rule is sought from a course to one of so many below it."""
MOST_JOINTS = 2_000
"""So many joints has no rod."""
NEAR = 1.0
"""An area ends at an edge where it comes this near to what that keeps clear, mm."""


def gauge_of(area: AreaPlan, surface: SurfacePlan) -> AreaGauge:
    """The rods of an area that is not turned, and its courses; none of both where it is, or runs on unmeasured."""
    if area.grid.turn or not area.places:
        return AreaGauge(area, (), (), ())
    alike = _alike(area)
    creeps = _creeps(area, alike) if len(alike) > MOST_RODS else None
    across = tuple(_across(area, surface, alike))
    begun = () if creeps else tuple(_begun(area, across))
    return AreaGauge(area, across, tuple(_up(area, surface)), tuple(_levels(area)), begun, creeps)


def _alike(area: AreaPlan) -> list[list[tuple[int, int, int]]]:
    """The rows (row, first and last column) that lie alike, the first course first and what lies under it last."""
    grid = area.grid
    alike: dict[float, list[tuple[int, int, int]]] = {}
    for place in sorted(area.places, key=lambda one: (area.courses[one[0]] < 0, abs(area.courses[one[0]]))):
        key = round(grid.shift(place[0]) % grid.pitch_u / TOUCH) * TOUCH
        alike.setdefault(key, []).append(place)
    return list(alike.values())


def _courses(area: AreaPlan, rows: Sequence[tuple[int, int, int]]) -> tuple[int, ...]:
    """The first two of these, and of what lies under the batten the first: it is laid on another day, by the same."""
    named = [area.courses[one[0]] for one in rows]
    return tuple(dict.fromkeys((*named[:2], *[one for one in named if one < 0][:1])))


def _creeps(area: AreaPlan, alike: Sequence[Sequence[tuple[int, int, int]]]) -> Creeps:
    """A joint for each set of courses, and how far each lies beside one not far below it: the least that there is."""
    grid = area.grid

    def beside(down: int) -> float:
        by = grid.bond_shift * down % grid.pitch_u
        return by if by <= grid.pitch_u / 2 else by - grid.pitch_u

    down = min(range(1, MOST_DOWN + 1), key=lambda number: (round(abs(beside(number)) / TOUCH), number))
    joints = (_own_joint(area, rows) for rows in alike)
    return Creeps(tuple(one for one in joints if one is not None), beside(down), down)


def _own_joint(area: AreaPlan, rows: Sequence[tuple[int, int, int]]) -> OwnJoint | None:
    """The first joint right of the upright line that the first of these rows has, else its last one left of it."""
    grid, (row, first, last) = area.grid, rows[0]
    begin = grid.to_surface.dx + grid.shift(row)
    joints = [
        (begin + column * grid.pitch_u + grid.w, begin + (column + 1) * grid.pitch_u)
        for column in range(first, min(last, first + MOST_JOINTS))
    ]
    right = [one for one in joints if one[0] >= -TOUCH]
    chosen = right[0] if right else joints[-1] if joints else None
    return None if chosen is None else OwnJoint(_courses(area, rows), *chosen)


def _begun(area: AreaPlan, across: Sequence[Rod]) -> Iterator[Begun]:
    """With which tile those courses begin that are moved against the start's, the courses as their rod has them."""
    for course, piece, left in () if area.work is None else area.work.moved:
        courses = next((rod.courses for rod in across if course in rod.courses), (course,))
        yield Begun(courses, piece, left)


def _across(area: AreaPlan, surface: SurfacePlan, alike: Sequence[Sequence[tuple[int, int, int]]]) -> Iterator[Rod]:
    """A rod to the right and one to the left, for each set of courses that lie alike; of too many the first's alone."""
    grid = area.grid
    for rows in alike if len(alike) <= MOST_RODS else alike[:1]:
        # The longest way of any of these courses: of a wall that steps the rod is the whole wall's.
        first, last = min(one[1] for one in rows), max(one[2] for one in rows)
        begin = grid.to_surface.dx + grid.shift(rows[0][0])
        joints = [
            (begin + column * grid.pitch_u + grid.w, begin + (column + 1) * grid.pitch_u)
            for column in range(first, min(last, first + MOST_JOINTS))
        ]
        courses = _courses(area, rows) if len(alike) > 1 else ()
        for way, found in _both_ways(joints, (Side.RIGHT, Side.LEFT)):
            yield Rod(way, found, grid.pitch_u, courses, _end(area, surface, way))


def _up(area: AreaPlan, surface: SurfacePlan) -> Iterator[Rod]:
    grid = area.grid
    rows = [row for row, _, _ in area.places]
    begin = grid.to_surface.dy
    joints = [
        (begin + row * grid.pitch_v + grid.h, begin + (row + 1) * grid.pitch_v)
        for row in range(min(rows), min(max(rows), min(rows) + MOST_JOINTS))
    ]
    for way, found in _both_ways(joints, (Side.TOP, Side.BOTTOM)):
        yield Rod(way, found, grid.pitch_v, (), _end(area, surface, way))


def _both_ways(
    joints: Sequence[tuple[float, float]], ways: tuple[Side, Side]
) -> Iterator[tuple[Side, tuple[RodJoint, ...]]]:
    """The joints beyond the main line and those before it; one that lies on the line is on both."""
    beyond = tuple(RodJoint(max(low, 0.0), high) for low, high in joints if high > TOUCH)
    before = tuple(RodJoint(max(-high, 0.0), -low) for low, high in reversed(joints) if low < -TOUCH)
    return ((way, found) for way, found in zip(ways, (beyond, before), strict=True) if found)


def _end(area: AreaPlan, surface: SurfacePlan, way: Side) -> str:
    """What ends an area on a side: the surface's own edge, or another area; "" where its own limit alone does."""
    box = area.ground.moved(area.grid.to_surface).bounds
    across = way.axis == "across"
    along = (box.min_y + box.max_y) / 2.0 if across else (box.min_x + box.max_x) / 2.0
    edge = surface.setout.edges.get(way)
    if edge is not None:
        read = [point.x if across else point.y for point in edge.measured]
        rakes = max(read) - min(read)
        if abs(position_at(edge, along) - box.at(way)) <= max(edge.clears) + rakes + NEAR:
            # Where it steps, what the rod comes to last.
            outermost = max(edge.measured, key=lambda point: way.sign * (point.x if across else point.y))
            last = edge.measured.index(outermost)
            return f"the {(edge.whats[last] if edge.whats else '') or edge.what or edge.called}"
    for other in surface.areas:
        beside = other.ground.moved(other.grid.to_surface).bounds if other is not area and other.ground.rings else None
        if beside is not None and 0.0 <= (beside.at(way.opposite) - box.at(way)) * way.sign <= REACH:
            return f"area {other.name}"
    return ""


def _levels(area: AreaPlan) -> Iterator[CourseLevel]:
    begin, grid = area.grid.to_surface.dy, area.grid
    for row in sorted(area.courses):
        bottom = begin + row * grid.pitch_v
        yield CourseLevel(area.courses[row], bottom, bottom + grid.h)
