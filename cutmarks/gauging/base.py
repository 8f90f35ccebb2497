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
from cutmarks.setout.edges import is_unfinished_at, position_at, stretch_at, what_at
from cutmarks.setout.model import SetOut, SurfaceEdge
from cutmarks.sides import Side

INSIDE = 0.5
"""A level is looked at so far inside it, mm, so that rounding cannot put it outside."""
LOOKED = (3.0, 7.0, 12.0, 18.0, REACH)
"""How far below a base another area's tile, or the head of a window, is looked for, mm: any joint that is laid."""


def base_of(area: AreaPlan, surface: SurfacePlan) -> Base | None:
    """The base of one area on a wall; None where it stands on none, hangs, is turned, or runs on unmeasured."""
    work = area.work
    if work is None or work.base is None or surface.setout.kind != "wall" or area.grid.turn or not area.places:
        return None
    found = [
        stretch for low, high in _spans(area, work.base) for stretch in _stretches(area, surface, work.base, low, high)
    ]
    return Base(area.name, work.base, work.base_words, tuple(found)) if found else None


def _spans(area: AreaPlan, base: float) -> list[tuple[float, float]]:
    """Where the area has tile right above its base, x on the Surface."""
    to_surface = area.grid.to_surface
    v = base - to_surface.dy + INSIDE
    return [(a + to_surface.dx, b + to_surface.dx) for a, b in spans_across(area.ground, v)]


def _stretches(area: AreaPlan, surface: SurfacePlan, base: float, low: float, high: float) -> Iterator[BaseStretch]:
    setout = surface.setout
    low, high = _to_the_edges(setout, base, low, high)
    others = [other.ground.moved(other.grid.to_surface) for other in surface.areas if other is not area]
    voids = [region(void.measured) for void in setout.voids]
    places = sorted({low, high, *(x for x in _breaks(setout, others, voids, base) if low < x < high)})
    # A strip no wider than a joint beside what carries the first course is no batten of its own.
    places = [low, *(x for x in places if low + REACH < x < high - REACH), high]
    made: list[tuple[tuple[object, ...], BaseStretch]] = []
    for a, b in pairwise(places):
        one = _stretch(area, setout, others, voids, base, a, b)
        alike = (one.on, one.what, one.packers, *(_kept_below(setout, (a + b) / 2.0) if one.on == "batten" else ()))
        if made and made[-1][0] == alike:
            one = _stretch(area, setout, others, voids, base, made.pop()[1].low, b)
        made.append((alike, one))
    yield from (one for _, one in made)


def _kept_below(setout: SetOut, x: float) -> tuple[object, ...]:
    """The gap at the floor there, all that is kept clear of it, mm, and whether its finish is not known yet."""
    edge = setout.edges.get(Side.BOTTOM)
    if edge is None:
        return ()
    index = stretch_at(edge, x)
    return edge.gaps[index], edge.clears[index], is_unfinished_at(edge, x)


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
        yield from (a.x for a, b in pairwise(edge.measured) if abs(a.x - b.x) <= TOUCH)
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
    what, off = what_at(edge, middle), base - position_at(edge, middle)
    if off <= REACH:
        return BaseStretch(low, high, "packers", what, off)
    return _over(area, edge, base, low, high, what)


def _over(area: AreaPlan, edge: SurfaceEdge, base: float, low: float, high: float, what: str) -> BaseStretch:
    """A batten over a floor that was read: its height at both ends and the middle, and how the lowest adds up."""
    index = stretch_at(edge, (low + high) / 2.0)
    to_come = edge.clears[index] - edge.gaps[index] - edge.trim + edge.passes
    read = [point.x for point in edge.measured if low < point.x < high]
    heights = [Height(x, base - _just_inside(edge, x, low, high) - to_come) for x in (low, (low + high) / 2.0, high)]
    every = [*heights, *(Height(x, base - position_at(edge, x) - to_come) for x in read)]
    lowest = max(every, key=lambda one: one.over)
    return BaseStretch(
        low,
        high,
        "batten",
        what,
        heights=tuple(heights),
        lowest=lowest,
        finished=not is_unfinished_at(edge, (low + high) / 2.0),
        under=_adds_up(area, lowest.over, edge.gaps[index]),
        to_come=to_come,
    )


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
