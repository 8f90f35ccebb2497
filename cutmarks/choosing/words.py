"""A start in a tiler's own words: "joint on V", "sits on B", "left on 122 right of V"."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction

from cutmarks.choosing.steps import is_whole
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.readings import Anchor, From, Reading, Start
from cutmarks.setout.model import Line
from cutmarks.sides import Axis, SurfaceKind
from cutmarks.units import MM_PER, Style, Unit, say

ANCHORS: Mapping[Axis, tuple[Anchor, ...]] = {
    "across": ("joint", "middle", "left", "right"),
    "up": ("joint", "middle", "sits on", "hangs from"),
}
EDGE_FIRST: Mapping[Axis, tuple[Anchor, ...]] = {
    "across": ("left", "right", "joint", "middle"),
    "up": ("sits on", "hangs from", "joint", "middle"),
}
"""Where a figure is needed: an edge of a tile is what is marked."""
SIXTY_FOURTH = Style(Unit.INCH, Fraction(1, 64))


def before(anchor: Anchor, size: float, joint: float) -> float:
    """How far what lies on the line lies from the tile's left or lower edge, into the tile, mm."""
    return {"joint": -joint / 2, "middle": size / 2, "right": size, "hangs from": size}.get(anchor, 0.0)


def start_at(
    axis: Axis, at: float, size: float, joint: float, lines: Sequence[Line], kind: SurfaceKind, unit: Unit, step: float
) -> Start:
    """A start whose tile's left or lower edge lies at `at`, mm: on a line where that says it, else so far from one.

    From the nearest line that it is a whole figure from, else from the nearest. `lines` fix this axis; there is at
    least one, and the main one comes first.
    """
    for line in lines:
        for anchor in ANCHORS[axis]:
            if abs(at + before(anchor, size, joint) - line.at) <= TOUCH:
                return Start(anchor, Reading("centre", 0.0, None, From("line", line.name), line.name))

    def in_whole_steps(line: Line) -> Anchor | None:
        offs = ((one, at + before(one, size, joint) - line.at) for one in EDGE_FIRST[axis])
        return next((one for one, off in offs if is_whole(off, step)), None)

    line = min(lines, key=lambda one: (in_whole_steps(one) is None, abs(one.at - at)))
    anchor = in_whole_steps(line) or EDGE_FIRST[axis][0]
    by = at + before(anchor, size, joint) - line.at
    text = f"{figure(abs(by), unit)} {_way(axis, kind, by)} {line.name}"
    return Start(anchor, Reading("centre", by, None, From("line", line.name), text))


def start_words(start: Start) -> str:
    """As it stands in a job file behind `across:` or `up:`."""
    of = start.at.text.removeprefix("on ")
    return f"{start.anchor} {of}" if start.anchor in ("sits on", "hangs from") else f"{start.anchor} on {of}"


def _way(axis: Axis, kind: SurfaceKind, by: float) -> str:
    if axis == "across":
        return "right of" if by > 0 else "left of"
    if kind == "floor":
        return "in from" if by > 0 else "short of"
    return "above" if by > 0 else "below"


def figure(mm: float, unit: Unit) -> str:
    """A length as it is written in a job of this unit: whole, by parts of an inch, or with what decimals it needs."""
    if unit.is_imperial:
        inches = mm / float(MM_PER[Unit.INCH])
        part = say(mm, SIXTY_FOURTH) if abs(inches * 64 - round(inches * 64)) < 1e-6 else f"{inches:.6f}".rstrip("0")
        return part if unit is Unit.INCH else f"{part} in"
    return f"{mm / float(MM_PER[unit]):.6f}".rstrip("0").rstrip(".")


def of_axis(lines: Iterable[Line], axis: Axis) -> tuple[Line, ...]:
    """The lines that fix one axis, in the order of the job."""
    return tuple(line for line in lines if line.fixes == ("x" if axis == "across" else "y"))
