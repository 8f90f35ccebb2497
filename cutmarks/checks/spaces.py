"""Rules about what lies between two areas: ground that no tile covers, and joints that nearly meet across a border."""

from __future__ import annotations

import math
from bisect import bisect_left
from collections import defaultdict
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Literal

from msgspec import Struct

from cutmarks.checks.model import Finding
from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.frames import Surface
from cutmarks.geometry.regions import Region, region, spans_across, spans_up
from cutmarks.geometry.spans import Span
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.limits import Limits
from cutmarks.setout.model import SetOut
from cutmarks.sides import Side
from cutmarks.tiling.layout import Layout
from cutmarks.units import Style, say

Way = Literal["up", "across"]
"""From one area to the next: upward, or to the right."""
MOST_JOINTS = 10_000
"""A stretch with more joints runs off over a side that was not read."""
INSIDE = 0.01
"""How far behind its border an area's last row or column is looked for, mm."""


class Facing(Struct, frozen=True):
    """A stretch along which two areas face each other with nothing between them but ground.

    way     from `first` to `second`; start, end: where the stretch lies on the other axis, mm, Surface frame.
    ends    the border of `first` and that of `second` at the start of the stretch, on the way's own axis.
    space   the most ground that is left between them, mm.
    """

    first: Layout
    second: Layout
    way: Way
    start: float
    end: float
    ends: Span
    space: float


def facing(setout: SetOut, layouts: Sequence[Layout]) -> list[Facing]:
    """Every stretch along which two areas of a surface face each other; what a void lies between does not."""
    if len(layouts) < 2:
        return []
    grounds: list[tuple[Layout | None, Region[Surface]]] = [
        (layout, layout.bounds.moved(layout.grid.to_surface)) for layout in layouts if not layout.bounds.is_empty
    ]
    grounds += [(None, region(void.ring)) for void in setout.voids]
    ways: tuple[Way, Way] = ("up", "across")
    return [one for way in ways for one in _joined(_swept(grounds, setout.clear, way))]


def _swept(
    grounds: Sequence[tuple[Layout | None, Region[Surface]]], clear: Region[Surface], way: Way
) -> Iterator[Facing]:
    """The stretches, between each two places where any outline has a corner."""
    boxes = [ground.bounds for _, ground in grounds]
    order = sorted(range(len(grounds)), key=lambda k: _along(boxes[k], way)[0])
    corners = {(v.x if way == "up" else v.y) for _, ground in grounds for ring in ground.rings for v in ring.vertices}
    active: list[int] = []
    for start, end in pairwise(sorted(corners)):
        if end - start <= TOUCH:
            continue
        while order and _along(boxes[order[0]], way)[0] <= start + TOUCH:
            active.append(order.pop(0))
        active = [k for k in active if _along(boxes[k], way)[1] > start + TOUCH]
        here = sorted((span, k) for k in active for span in _spans(grounds[k][1], way, start, at_start=True))
        for (near, one), (far, other) in pairwise(here):
            a, b = grounds[one][0], grounds[other][0]
            if a is None or b is None or a is b:
                continue
            there = _between(grounds[one][1], grounds[other][1], way, end, near, far)
            space = max(_of_ground(clear, way, start, (near[1], far[0])), _of_ground(clear, way, end, there, last=True))
            yield Facing(a, b, way, start, end, (near[1], far[0]), space)


def _along(box: Bounds, way: Way) -> Span:
    return (box.min_x, box.max_x) if way == "up" else (box.min_y, box.max_y)


def _spans(ground: Region[Surface], way: Way, at: float, *, at_start: bool) -> list[Span]:
    """What of a line across the stretch lies in the ground, just behind the start of the stretch or before its end."""
    if way == "up":
        return spans_up(ground, at, "right" if at_start else "left")
    return spans_across(ground, at, "above" if at_start else "below")


def _between(first: Region[Surface], second: Region[Surface], way: Way, at: float, near: Span, far: Span) -> Span:
    """The two borders at the end of a stretch; those at its start where an outline ends there."""
    befores = [span[1] for span in _spans(first, way, at, at_start=False)]
    behinds = [span[0] for span in _spans(second, way, at, at_start=False)]
    low = min(befores, key=lambda border: abs(border - near[1]), default=near[1])
    return low, min(behinds, key=lambda border: abs(border - far[0]), default=far[0])


def _of_ground(clear: Region[Surface], way: Way, at: float, ends: Span, *, last: bool = False) -> float:
    """How much of the way between two borders is ground that tile may come on, mm."""
    spans = _spans(clear, way, at, at_start=not last)
    return sum(max(0.0, min(high, ends[1]) - max(low, ends[0])) for low, high in spans)


def _joined(stretches: Iterator[Facing]) -> Iterator[Facing]:
    """Stretches of the same two borders that follow each other as one."""
    whole: dict[tuple[int, int, Span], list[Facing]] = defaultdict(list)
    for one in stretches:
        ends = round(one.ends[0], 3), round(one.ends[1], 3)
        whole[id(one.first), id(one.second), ends].append(one)
    for row in whole.values():
        run = row[:1]
        for one in row[1:]:
            if one.start > run[-1].end + TOUCH:
                yield _as_one(run)
                run = []
            run.append(one)
        yield _as_one(run)


def _as_one(run: Sequence[Facing]) -> Facing:
    first = run[0]
    space = max(one.space for one in run)
    return Facing(first.first, first.second, first.way, first.start, run[-1].end, first.ends, space)


def wide_spaces(setout: SetOut, found: Sequence[Facing], limits: Limits, style: Style) -> Iterator[Finding]:
    """Ground between two areas, over so many of the larger joint, that no tile covers: meant, or a slip?"""
    spaces: dict[tuple[str, str], list[Facing]] = defaultdict(list)
    for one in found:
        if one.space > limits.wide_space.value * _joint(one) + TOUCH:
            spaces[one.first.area, one.second.area].append(one)
    times = "twice" if limits.wide_space.value == 2.0 else f"{limits.wide_space.value:g} times"
    for (a, b), wide in spaces.items():
        least, most = (say(pick(one.space for one in wide), style) for pick in (min, max))
        apart = most if least == most else f"{least} to {most}"
        joint = _joint(wide[0])
        yield Finding(
            "note",
            "wide space",
            (a, b),
            f"{a} and {b} lie {apart} apart on {setout.name}, over {times} the joint of {say(joint, style)}, and no "
            "tile covers the ground between them: meant?",
            max(one.space for one in wide),
            limits.wide_space.value * joint,
            limits.wide_space.source,
        )


def _joint(one: Facing) -> float:
    return max(one.first.grid.joint, one.second.grid.joint)


def joints_nearly_meet(found: Sequence[Facing], limits: Limits, style: Style) -> Iterator[Finding]:
    """Joints that run on from one area into the next, but for a little: a slip, or a pitch that does not divide."""
    said: set[tuple[str, str, Way]] = set()
    for one in found:
        key = (one.first.area, one.second.area, one.way)
        offs = joints_off(one, limits)
        if not offs or key in said:
            continue
        said.add(key)
        a, b = one.first.area, one.second.area
        least, most = min(map(abs, offs)), max(map(abs, offs))
        if max(offs) - min(offs) <= limits.reading.value:
            by = sum(offs) / len(offs)
            towards = _towards(one.way, by)
            text = (
                f"{a} and {b}: their joints miss each other by {say(most, style)}. Moving the start of {b} "
                f"{say(abs(by), style)} towards the {towards} lets them run through."
            )
        else:
            miss = f"{say(least, style)} to {say(most, style)}"
            text = (
                f"{a} and {b}: their joints miss each other by {miss}, since their tiles and joints do not add up to "
                "each other: another joint in one of them, or set them plainly apart."
            )
        yield Finding(
            "warn", "joints nearly meet", (a, b), text, most, limits.joints_meet.value, limits.joints_meet.source
        )


def _towards(way: Way, by: float) -> Side:
    """Where joints on the first area's side lie, seen from those of the second."""
    if way == "up":
        return Side.RIGHT if by > 0 else Side.LEFT
    return Side.TOP if by > 0 else Side.BOTTOM


def joints_off(one: Facing, limits: Limits) -> list[float]:
    """By how much each joint of the wider pitch misses one of the other area, mm: first less second.

    Empty where they meet, where any of them plainly does not, or where the two do not lie a joint apart.
    """
    offs = _missed_by(one, limits)
    far = max(map(abs, offs), default=0.0)
    return offs if limits.reading.value < far <= limits.joints_meet.value else []


def joints_run_through(one: Facing, limits: Limits) -> bool:
    """Whether each joint of the wider pitch meets one of the other area."""
    offs = _missed_by(one, limits)
    return bool(offs) and max(map(abs, offs)) <= limits.reading.value


def _missed_by(one: Facing, limits: Limits) -> list[float]:
    """By how much each joint of the wider pitch misses the nearest of the other area, mm: first less second.

    Empty where the two do not lie a joint apart, or are turned.
    """
    if one.space > limits.wide_space.value * _joint(one) + TOUCH or one.first.grid.turn or one.second.grid.turn:
        return []
    areas = (one.first, one.ends[0] - INSIDE), (one.second, one.ends[1] + INSIDE)
    is_first = _pitch(one.first, one.way) >= _pitch(one.second, one.way)
    wider, finer = areas if is_first else areas[::-1]
    near = limits.joints_meet.value
    there = _joints(one, *finer, near)
    offs = [_nearest(there, at) - at for at in _joints(one, *wider, -TOUCH)] if there else []
    return [-off if is_first else off for off in offs]


def _pitch(layout: Layout, way: Way) -> float:
    return layout.grid.pitch_u if way == "up" else layout.grid.pitch_v


def _nearest(places: Sequence[float], at: float) -> float:
    index = bisect_left(places, at)
    return min(places[max(index - 1, 0) : index + 1], key=lambda place: abs(place - at))


def _joints(one: Facing, layout: Layout, border: float, slack: float) -> list[float]:
    """The middles of an area's joints that run up to a border, along the stretch and `slack` mm past both its ends.

    Ascending, in the Surface frame; none where the stretch runs off over a side that was not read.
    """
    grid = layout.grid
    x, y = grid.to_surface.xy(0.0, 0.0)
    if one.way == "up":
        size, pitch, first = grid.w, grid.pitch_u, x + grid.shift(layout.row_at(border - y))
    else:
        size, pitch, first = grid.h, grid.pitch_v, y
    middle = first + size + grid.joint / 2.0
    low, high = one.start - slack, one.end + slack
    if high - low > MOST_JOINTS * pitch:
        return []
    return [
        middle + n * pitch for n in range(math.ceil((low - middle) / pitch), math.floor((high - middle) / pitch) + 1)
    ]
