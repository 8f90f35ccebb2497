"""What the first course of an area stands on: packers, another area, or a batten, and how high its top is."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

from cutmarks.gauging.model import REACH, Base, BaseStretch, Height, UnderBase
from cutmarks.geometry.frames import Point, Surface
from cutmarks.geometry.regions import Region, contains, region, spans_across
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.openings.edge_work import AT_THE_EDGE
from cutmarks.plan import AreaPlan, SurfacePlan
from cutmarks.setout.edges import FAR, is_unfinished_at, position_at, stretch_at, what_at
from cutmarks.setout.model import SetOut, SurfaceEdge, is_a_floor
from cutmarks.sides import Side

INSIDE = 0.5
"""A level is looked at so far inside it, mm, so that rounding cannot put it outside."""
LOOKED = (3.0, 7.0, 12.0, 18.0, REACH)
"""How far below a base another area's tile, or the head of a window, is looked for, mm: any joint that is laid."""


def base_of(area: AreaPlan, surface: SurfacePlan, packers: float, least: float) -> Base | None:
    """The base of one area on a wall; None where it stands on none, hangs, is turned, or runs on unmeasured.

    packers  what lies no further below carries the first course on packers, mm; least: what is narrower is no piece.
    """
    work = area.work
    if work is None or work.base is None or surface.setout.kind != "wall" or area.grid.turn or not area.places:
        return None
    spans = _spans(area, work.base)
    found = [stretch for low, high in spans for stretch in _stretches(area, surface, work.base, low, high, packers)]
    found += _cut_to_what_carries(area, surface.setout, work.base, spans)
    found += _over_what_stands_out(area, surface.setout, work.base, least)
    found.sort(key=lambda one: (one.course or 0, one.low))
    return Base(area.name, work.base, work.base_words, tuple(found)) if found else None


def _cut_to_what_carries(
    area: AreaPlan, setout: SetOut, base: float, whole: Sequence[tuple[float, float]]
) -> Iterator[BaseStretch]:
    """Where the first course is cut to what lies below, and stands on that: the base lies past the edge there."""
    edge = setout.edges.get(Side.BOTTOM)
    if edge is None:
        return
    top = base + area.grid.h
    for low, high in _spans(area, top - 2.0 * INSIDE):
        low, high = _to_the_edges(setout, top, low, high)
        jumps = [x for x in _jumps(edge) if low < x < high]
        for a, b in pairwise([low, *jumps, high]):
            middle = (a + b) / 2.0
            index = stretch_at(edge, middle)
            is_whole = any(one <= middle <= other for one, other in whole)
            is_cut = base < position_at(edge, middle) + edge.clears[index] < top
            if b - a > REACH and is_cut and not is_whole:
                yield BaseStretch(a, b, "cut", what_at(edge, middle), edge.gaps[index], top=top)


def _over_what_stands_out(area: AreaPlan, setout: SetOut, base: float, least: float) -> Iterator[BaseStretch]:
    """Where a step stands out over all of the first course, a trough or a bath: the course that begins on it there."""
    edge, grid = setout.edges.get(Side.BOTTOM), area.grid
    if edge is None or not edge.read:
        return
    begin = grid.to_surface.dy
    for low, high in pairwise([-FAR, *_jumps(edge), FAR]):
        index = stretch_at(edge, (low + high) / 2.0)
        in_sight = [(max(low, a), min(high, b)) for a, b in _spans(area, base) if a < high and low < b]
        ends = [x for x in (low, high) if abs(x) < FAR] + [x for span in in_sight for x in span]
        tops = [_just_inside(edge, x, low, high) for x in ends]
        over = max(tops) + edge.clears[index]
        if over < base + grid.h - TOUCH:
            continue  # the base itself lies there, or the first course is cut to it
        row = next((row for row in sorted(area.courses) if begin + row * grid.pitch_v + grid.h - over >= least), None)
        if row is None:
            continue
        bottom = begin + row * grid.pitch_v
        packers = edge.gaps[index] if bottom < over - TOUCH else bottom - max(tops)
        for a, b in _spans(area, over):
            a, b = _to_the_edges(setout, over, max(a, low), min(b, high))
            if b - a > REACH:
                yield BaseStretch(
                    max(a, low),
                    min(b, high),
                    "cut" if bottom < over - TOUCH else "packers",
                    what_at(edge, (a + b) / 2.0),
                    packers,
                    top=bottom + grid.h,
                    course=area.courses[row],
                )


def _jumps(edge: SurfaceEdge) -> list[float]:
    """Where an edge steps."""
    return [a.x for a, b in pairwise(edge.measured) if abs(a.x - b.x) <= TOUCH]


def _spans(area: AreaPlan, base: float) -> list[tuple[float, float]]:
    """Where the area has tile right above its base, x on the Surface."""
    to_surface = area.grid.to_surface
    v = base - to_surface.dy + INSIDE
    return [(a + to_surface.dx, b + to_surface.dx) for a, b in spans_across(area.ground, v)]


def _stretches(
    area: AreaPlan, surface: SurfacePlan, base: float, low: float, high: float, packers: float
) -> Iterator[BaseStretch]:
    setout = surface.setout
    low, high = _to_the_edges(setout, base, low, high)
    others = [other.ground.moved(other.grid.to_surface) for other in surface.areas if other is not area]
    voids = [region(void.measured) for void in setout.voids]
    places = sorted({low, high, *(x for x in _breaks(setout, others, voids, base) if low < x < high)})
    # A strip no wider than a joint beside what carries the first course is no batten of its own.
    places = [low, *(x for x in places if low + REACH < x < high - REACH), high]
    made: list[tuple[tuple[object, ...], BaseStretch]] = []
    for a, b in pairwise(places):
        one = _stretch(area, setout, others, voids, base, a, b, packers)
        alike = (one.on, one.what, *(_kept_below(setout, (a + b) / 2.0) if one.on in ("batten", "packers") else ()))
        if made and made[-1][0] == alike:
            one = _stretch(area, setout, others, voids, base, made.pop()[1].low, b, packers)
        made.append((alike, one))
    yield from (one for _, one in made)


def _kept_below(setout: SetOut, x: float) -> tuple[object, ...]:
    """Of the stretch there of what lies below: which it is, its gap, all that is kept clear of it, mm, its finish."""
    edge = setout.edges.get(Side.BOTTOM)
    if edge is None:
        return ()
    index = stretch_at(edge, x)
    before = sum(jump < x for jump in _jumps(edge))
    return before, edge.gaps[index], edge.clears[index], is_unfinished_at(edge, x)


def _to_the_edges(setout: SetOut, base: float, low: float, high: float) -> tuple[float, float]:
    """The span of tile made longer to the edges that it keeps clear of: a batten goes to the wall."""
    ends = [low, high]
    for number, side in enumerate((Side.LEFT, Side.RIGHT)):
        edge = setout.edges.get(side)
        if edge is not None:
            at = position_at(edge, base)
            if 0.0 <= (at - ends[number]) * side.sign <= max(edge.clears) + AT_THE_EDGE:
                ends[number] = at
    return ends[0], ends[1]


def _breaks(
    setout: SetOut, others: Sequence[Region[Surface]], voids: Sequence[Region[Surface]], base: float
) -> Iterator[float]:
    """Where what lies below the base changes: at a step, at another area, at a window."""
    edge = setout.edges.get(Side.BOTTOM)
    if edge is not None:
        yield from _jumps(edge)
    for one in (*others, *voids):
        for down in LOOKED:
            yield from (x for span in spans_across(one, base - down) for x in span)


def _stretch(
    area: AreaPlan,
    setout: SetOut,
    others: Sequence[Region[Surface]],
    voids: Sequence[Region[Surface]],
    base: float,
    low: float,
    high: float,
    packers: float,
) -> BaseStretch:
    middle = (low + high) / 2.0
    under: list[Point[Surface]] = [Point(middle, base - down) for down in LOOKED]
    if any(contains(ground, point) for ground in others for point in under):
        return BaseStretch(low, high, "course")
    for void, shape in zip(setout.voids, voids, strict=True):
        if any(contains(shape, point) for point in under):
            return BaseStretch(low, high, "void", void.called)
    edge = setout.edges.get(Side.BOTTOM)
    if edge is None:
        return BaseStretch(low, high, "batten")
    what = what_at(edge, middle)
    heights, lowest = _over_what_is_there(edge, base, low, high)
    if lowest.over <= packers + TOUCH:
        return BaseStretch(low, high, "packers", what, heights[1].over, heights=heights, lowest=lowest)
    return _over(area, edge, base, low, high, what)


def _over_what_is_there(
    edge: SurfaceEdge, base: float, low: float, high: float, to_come: float = 0.0
) -> tuple[tuple[Height, ...], Height]:
    """How far a base lies over what is below, at both ends and the middle; and where that lies lowest."""
    read = [point.x for point in edge.measured if low < point.x < high]
    heights = [Height(x, base - _just_inside(edge, x, low, high) - to_come) for x in (low, (low + high) / 2.0, high)]
    every = [*heights, *(Height(x, base - position_at(edge, x) - to_come) for x in read)]
    return tuple(heights), max(every, key=lambda one: one.over)


def _over(area: AreaPlan, edge: SurfaceEdge, base: float, low: float, high: float, what: str) -> BaseStretch:
    """A batten over a floor that was read: its height at both ends and the middle, and how the lowest adds up."""
    index = stretch_at(edge, (low + high) / 2.0)
    to_come = edge.clears[index] - edge.gaps[index] - edge.trim + edge.passes
    heights, lowest = _over_what_is_there(edge, base, low, high, to_come)
    under = _adds_up(area, lowest.over, edge.gaps[index])
    return BaseStretch(
        low,
        high,
        "batten",
        what,
        heights=heights,
        lowest=lowest,
        finished=not is_unfinished_at(edge, (low + high) / 2.0),
        under=under,
        to_come=to_come,
        instead=_cut_course_first(area, base, under, what),
    )


def _cut_course_first(area: AreaPlan, base: float, under: UnderBase | None, what: str) -> Point[Surface] | None:
    """Where a start would lie that has the cut course go first, on what is there, and needs no batten.

    None where more than the cut course lies under the base, or a floor, or nothing is known of it.
    """
    if under is None or under.courses or is_a_floor(what):
        return None
    grid = area.grid
    row = round((base - grid.to_surface.dy) / grid.pitch_v) - 1
    left = grid.to_surface.dx + grid.shift(row)
    # The tile that lies nearest to the line.
    left -= round((left + grid.w / 2.0) / grid.pitch_u) * grid.pitch_u
    return Point(left, base - grid.pitch_v)


def _just_inside(edge: SurfaceEdge, x: float, low: float, high: float) -> float:
    """Where an edge lies at one end of a stretch: not on the other side of a step that begins there."""
    inside = min(max(x, low + INSIDE), high - INSIDE)
    if abs(inside - x) <= TOUCH:
        return position_at(edge, x)
    # Straight on from inside the stretch to its very end.
    at, further = position_at(edge, inside), position_at(edge, inside + (inside - x))
    return at + (at - further)


def _adds_up(area: AreaPlan, over: float, gap: float) -> UnderBase | None:
    """The courses and the cut that lie under a base `over` mm high; None where the area goes no further down."""
    if not any(course < 0 for course in area.courses.values()):
        return None
    grid = area.grid
    courses = max(0, math.ceil((over - gap - grid.joint - grid.h - TOUCH) / grid.pitch_v))
    cut = over - gap - grid.joint - courses * grid.pitch_v
    return UnderBase(courses, grid.pitch_v, grid.joint, cut, gap) if cut > TOUCH else None
