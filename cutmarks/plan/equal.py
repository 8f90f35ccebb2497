"""Starts that are said to be equal, worked out where the edges were read: the larger pieces, alike at both ends."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from msgspec.structs import replace

from cutmarks.choosing.asking import AXES, Asking
from cutmarks.choosing.breakpoints import easily_said
from cutmarks.choosing.figures import opposite_ends
from cutmarks.choosing.leaves import Left
from cutmarks.choosing.question import StartQuestion
from cutmarks.choosing.words import of_axis, start_at, start_words
from cutmarks.geometry.tolerance import COINCIDE
from cutmarks.readings import Start
from cutmarks.setout.model import SetOut
from cutmarks.setout.surface import set_out
from cutmarks.sides import ON_AXIS, Axis
from cutmarks.units import Style, say_down

if TYPE_CHECKING:
    from cutmarks.errors import Faults
    from cutmarks.job import Job
    from cutmarks.job.models import AreaSpec, SurfaceSpec

TwoEnds = tuple[Left, Left]


def with_equal_starts(job: Job, style: Style, faults: Faults) -> tuple[Job, tuple[str, ...]]:
    """The job with every start that is `equal` worked out, and what each came to, as sentences.

    One that cannot be worked out is told to `faults`.
    """
    if not any(_is_equal(area, axis) for surface in job.surfaces for area in surface.areas for axis in AXES):
        return job, ()
    said: list[str] = []
    surfaces = []
    for surface in job.surfaces:
        own = job.faults()
        setout = set_out(surface, job, own)
        surfaces.append(surface if own else _worked_out(surface, setout, job, style, faults, said))
    return replace(job, surfaces=tuple(surfaces)), tuple(said)


def _is_equal(area: AreaSpec, axis: Axis) -> bool:
    start = area.start_across if axis == "across" else area.start_up
    return start is not None and start.anchor == "equal"


def _worked_out(
    surface: SurfaceSpec, setout: SetOut, job: Job, style: Style, faults: Faults, said: list[str]
) -> SurfaceSpec:
    areas = []
    for area in surface.areas:
        found_starts: dict[str, Any] = {}
        for axis in AXES:
            if not _is_equal(area, axis):
                continue
            found = _best(Asking(surface.areas, setout, (), job), area, axis)
            if found is None:
                with faults.about(f'area "{area.name}"', (*area.where, f"start {axis}")):
                    one, other = ON_AXIS[axis]
                    faults.tell(
                        f"equal needs what ends it on both sides, and a {AXES[axis]} line to write it from: read its "
                        f"{one} and its {other} edge, or write joint on V."
                    )
                continue
            start, (low, high) = found
            left, right = (say_down(end.least + COINCIDE, style) for end in (low, high))
            said.append(
                f"{surface.name}, {area.name}: equal {axis} is {start_words(start)}, and leaves {left} and {right}."
            )
            found_starts[f"start_{axis}"] = start
        areas.append(replace(area, **found_starts))
    return replace(surface, areas=tuple(areas))


def _best(asking: Asking, area: AreaSpec, axis: Axis) -> tuple[Start, TwoEnds] | None:
    """The start with a joint or a tile in the middle that leaves the larger pieces, and what it leaves at both ends."""
    if not all(of_axis(asking.setout.lines.values(), one) for one in AXES) or area.turn:
        return None
    bare = replace(
        area,
        start_across=None if _is_equal(area, "across") else area.start_across,
        start_up=None if _is_equal(area, "up") else area.start_up,
    )
    asked = asking.question(bare, ())
    places = {place for place, way in easily_said(asked, axis, (), asking.step) if way}
    found = [(place, ends) for place in sorted(places) if (ends := _left(asked, axis, place)) is not None]
    if not found:
        return None
    place, ends = max(found, key=lambda one: _evenly(one[1], asked.limits.equal_ends.value))
    grid, lines = asked.grid, of_axis(asking.setout.lines.values(), axis)
    size = grid.w if axis == "across" else grid.h
    start = start_at(axis, place, size, grid.joint, lines, asking.setout.kind, asking.job.units, asking.step)
    return start, ends


def _evenly(ends: TwoEnds, within: float) -> tuple[bool, float]:
    """Greater for what is alike at both ends, and for what is larger; a window under an end may keep some of it low."""
    low, high = ends
    off = min(abs(low.least - high.least), abs(low.most - high.most))
    return off <= within + COINCIDE, min(low.least, high.least)


def _left(asked: StartQuestion, axis: Axis, place: float) -> TwoEnds | None:
    """What a start leaves at the two own ends of an axis; None where it has not both."""
    x, y = asked.laid_at
    left = asked.ends.left(asked.grid, *((place, y) if axis == "across" else (x, place)))
    own = (pair for pair in opposite_ends(left) if pair[0].side.axis == axis and not pair[0].thing)
    return next(((left[one], left[other]) for one, other in own), None)
