"""Rules about what was measured from: a line that leans, two that are not square, an edge that rakes."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, cast

from cutmarks.checks.model import Finding
from cutmarks.job.references import over_the_floor
from cutmarks.job.tokens import plain_words
from cutmarks.locating.model import Located
from cutmarks.locating.precision import SIGMAS, one_sigma
from cutmarks.setout.edges import position_at
from cutmarks.setout.finished import come_in
from cutmarks.setout.model import SetOut
from cutmarks.sides import Axis, Side
from cutmarks.units import Style, Unit, say

if TYPE_CHECKING:
    from cutmarks.limits import Limits
    from cutmarks.readings import Reading, Square


def lines_that_lean(located: Sequence[Located], setout: SetOut, limits: Limits, style: Style) -> Iterator[Finding]:
    """What a line that is off does at each thing that is read from it, where that matters.

    With it stands what would be read there from the line drawn true.
    """
    for thing in located:
        for axis, reading in _readings(thing):
            line = setout.lines.get(reading.start.name) if reading.start and reading.start.kind == "line" else None
            if line is None or line.off == 0.0:
                continue
            reach = thing.at.y if axis == "across" else thing.at.x
            effect = line.off * reach
            if abs(effect) < limits.slope_matters.value:
                continue
            way = _way(effect, axis, setout.kind)
            yield Finding(
                "warn",
                "line is off",
                (thing.spec.name,),
                f"{thing.spec.name} is read from {line.name}, which is not {line.kind}: there the line is "
                f"{say(abs(effect), style)} {way} of where it should be. From {line.name} drawn true it would read "
                f"{_read_true(reading, effect, axis, setout.kind, style)}. Draw it again, or read from another.",
                abs(effect),
                limits.slope_matters.value,
                limits.slope_matters.source,
            )


def lines_over_the_floor(setout: SetOut, unit: Unit, limits: Limits, style: Style) -> Iterator[Finding]:
    """A level line said to be so much above the floor, which the floor's own reading does not bear out.

    Where the floor's finish is not known only a line that is said to be higher than the floor as measured is one; of a
    floor that rakes it has to be out everywhere.
    """
    floor = setout.edges.get(Side.BOTTOM)
    if floor is None or setout.kind != "wall" or Side.BOTTOM in setout.open_sides:
        return
    whats = floor.whats or (floor.what,) * len(floor.measured)
    heights = [
        (point.y, point.y + come)
        for point, come, what in zip(floor.measured, come_in(floor), whats, strict=True)
        if not what or "floor" in plain_words(what)
    ]
    for line in setout.lines.values() if heights else ():
        said = over_the_floor(line.words, unit, setout.lines) if line.fixes == "y" else None
        if said is None:
            continue
        bare, finished = ([line.at - at for at in column] for column in zip(*heights, strict=True))
        most, least = max(*bare, *finished), min(*bare, *finished)
        if floor.still_to_come is None:
            least = min(least, said)
        out = max(said - most, least - said)
        if out > limits.line_over_floor.value:
            nearest = max if said > most else min
            read = f"{say(nearest(bare), style)} below it"
            if nearest(bare) != nearest(finished):
                read += f", {say(nearest(finished), style)} with what is still to come on it"
            yield Finding(
                "warn",
                "line and floor disagree",
                (line.name,),
                f"{setout.name}: {line.name} is said to be {say(said, style)} above the floor, and the bottom edge was "
                f"read {read}: measure it again, and mend the words of the line or the edge.",
                out,
                limits.line_over_floor.value,
                limits.line_over_floor.source,
            )


_HANDS: Mapping[tuple[str, str], tuple[str, str]] = {
    ("across", "wall"): ("left side ", "right side "),
    ("across", "floor"): ("left side ", "right side "),
    ("up", "wall"): ("underside ", "top "),
    ("up", "floor"): ("near side ", "far side "),
}
"""The side of a thing with the smaller coordinate, and the other."""
_WAYS: Mapping[tuple[str, str], tuple[str, str]] = {
    ("across", "wall"): ("left", "right"),
    ("across", "floor"): ("left", "right"),
    ("up", "wall"): ("below", "above"),
    ("up", "floor"): ("short", "in"),
}


def _read_true(reading: Reading, effect: float, axis: Axis, kind: str, style: Style) -> str:
    """What a tape reads from the line where it should be, "64½ to 80½ left"; `effect` is how far off it is, mm."""
    low, high = reading.low + effect, None if reading.high is None else reading.high + effect
    less, more = _WAYS[axis, kind]
    if high is None:
        hand = {"low": _HANDS[axis, kind][0], "high": _HANDS[axis, kind][1]}.get(reading.how, "centre ")
        return f"{hand}{say(abs(low), style)} {less if low < 0.0 else more}"
    if low < 0.0 < high:
        return f"{say(-low, style)} {less} to {say(high, style)} {more}"
    near, far = sorted((abs(low), abs(high)))
    return f"{say(near, style)} to {say(far, style)} {less if high <= 0.0 else more}"


def edges_that_rake(located: Sequence[Located], setout: SetOut, limits: Limits, style: Style) -> Iterator[Finding]:
    """What an edge out of true does at a thing that is read from it: taken in, and worth knowing."""
    for thing in located:
        for axis, reading in _readings(thing):
            if reading.start is None or reading.start.kind != "edge":
                continue
            edge = setout.edges.get(cast("Side", reading.start.name))
            if edge is None:
                continue
            beside = thing.at.y if axis == "across" else thing.at.x
            effect = position_at(edge, beside) - position_at(edge, 0.0)
            if abs(effect) < limits.slope_matters.value:
                continue
            yield Finding(
                "note",
                "read from a raking edge",
                (thing.spec.name,),
                f"{thing.spec.name} is read from the {edge.side} edge, which is out of true: there it is "
                f"{say(abs(effect), style)} {_way(effect, axis, setout.kind)} of where it is at the set-out line. "
                "It was taken as it is there.",
                abs(effect),
                limits.slope_matters.value,
                limits.slope_matters.source,
            )


def not_square(
    square: Square | None, located: Sequence[Located], setout: SetOut, limits: Limits, style: Style
) -> Iterator[Finding]:
    """The main lines by a triangle, 3-4-5 or any: what the angle does at the thing that is furthest out."""
    if square is None:
        return
    out = out_of_square(square)
    if abs(out) <= give_or_take(square, limits):
        return
    furthest = max(located, key=lambda thing: abs(thing.at.y), default=None)
    effect = 0.0 if furthest is None else abs(math.tan(math.radians(out)) * furthest.at.y)
    if furthest is None or effect < limits.slope_matters.value:
        return
    yield Finding(
        "warn",
        "lines not square",
        (furthest.spec.name,),
        f"{setout.name}: the lines are {abs(out):.2f} degrees out of square by the triangle {square.text}: at "
        f"{furthest.spec.name} that is {say(effect, style)}. Draw one again before anything is read from it.",
        effect,
        limits.slope_matters.value,
        limits.slope_matters.source,
    )


def out_of_square(square: Square) -> float:
    """By how much the angle between the lines is over a right one, degrees (law of cosines)."""
    cosine = (square.across**2 + square.up**2 - square.diagonal**2) / (2 * square.across * square.up)
    return math.degrees(math.acos(cosine)) - 90.0


def give_or_take(square: Square, limits: Limits) -> float:
    """How well the triangle knows the angle, degrees at two standard deviations: each side is one tape."""
    a, b, c = square.across, square.up, square.diagonal
    angle = math.radians(90.0 + out_of_square(square))
    # From c2 = a2 + b2 - 2 a b cos(angle): what a mm of each side turns the angle by.
    by_sides = (b * math.cos(angle) - a, a * math.cos(angle) - b, c)
    return math.degrees(SIGMAS * one_sigma(limits.by_tape.value) * math.hypot(*by_sides) / (a * b * math.sin(angle)))


def _readings(thing: Located) -> Iterator[tuple[Axis, Reading]]:
    spec = thing.spec
    if spec.across is not None:
        yield "across", spec.across
    if spec.up is not None:
        yield "up", spec.up
    for taken in spec.readings:
        if taken.axis is not None and taken.reading is not None:
            yield taken.axis, taken.reading


def _way(effect: float, axis: Axis, kind: str) -> str:
    if axis == "across":
        return "right" if effect > 0 else "left"
    if kind == "floor":
        return "further in" if effect > 0 else "short"
    return "above" if effect > 0 else "below"
