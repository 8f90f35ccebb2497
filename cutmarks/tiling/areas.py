"""The areas of a surface: their ground, their grids, and the spaces between them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import TYPE_CHECKING

from cutmarks.errors import Faults
from cutmarks.geometry.distance import gap
from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.frames import Courses, Placement, Surface
from cutmarks.geometry.near import pairs_near
from cutmarks.geometry.regions import Region, difference, intersection, region, without
from cutmarks.geometry.rings import Ring, edges, polygon
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.setout.edges import FAR
from cutmarks.setout.lines import on_lines
from cutmarks.setout.model import SetOut
from cutmarks.setout.outlines import ring_through
from cutmarks.sides import SIDES, FourSides, Side
from cutmarks.tiling.bonds import bond_shift, kerf_of
from cutmarks.tiling.frames import taken
from cutmarks.tiling.grid import grid_of, start_reference, tile_as_laid
from cutmarks.tiling.layout import Layout

if TYPE_CHECKING:
    from cutmarks.job import Job
    from cutmarks.job.models import AreaSpec, SurfaceSpec
    from cutmarks.readings import Reading


def lay_out(
    surface: SurfaceSpec,
    setout: SetOut,
    job: Job,
    faults: Faults,
    offered: Mapping[str, Sequence[str]] = MappingProxyType({}),
) -> tuple[Layout, ...]:
    """Each area's grid over its ground, in the order of the job; needs every start.

    `offered` has by area what one that has no start may be started with, in words.
    """
    before = len(faults)
    layouts: list[Layout] = []
    for area in surface.areas:
        with faults.about(f'area "{area.name}"', area.where):
            if area.carries_on_from and area.start_across is None:
                continue  # what it carries on from is at fault, which has been told
            if area.start_across is None or area.start_up is None:
                faults.tell(_no_start(area.half_missing, offered.get(area.name, ())))
                continue
            if "equal" in (area.start_across.anchor, area.start_up.anchor):
                continue  # it could not be worked out, which has been told
            why_not = why_not_carried(area, setout)
            if why_not:
                faults.tell(why_not)
                continue
            layouts.append(layout_of(area, setout, job))
            sits_on = area.start_up.at.text if area.start_up.anchor == "sits on" else "B"
            look_at_first_course(layouts[-1], job, faults, sits_on)
    if len(faults) == before:
        look_at_spaces(surface, setout, job, faults)
    return tuple(layouts)


def why_not_carried(area: AreaSpec, setout: SetOut) -> str:
    """Why no offcut can be carried on from course to course, as a sentence; "" where it can, or none is."""
    if area.bond.carried is None:
        return ""
    if area.turn:
        return f"bond: {area.bond.words} is of courses that end square, and turn: {area.turn:g} cuts them to points."
    ends = open_sides(area, setout) & {Side.LEFT, Side.RIGHT}
    if ends:
        return (
            f"bond: {area.bond.words} needs both ends of its courses, and nothing ends them on the "
            f"{' and the '.join(sorted(ends))}: read that edge, or write third right."
        )
    return ""


def _no_start(missing: str, offered: Sequence[str]) -> str:
    """What to write for an area that has no start, or half of one; nobody but the tiler decides it."""
    if missing:
        return f"half a start: say {missing} too, as in {'joint on V' if missing == 'across' else 'sits on B'}."
    named = " or ".join(offered) or "start: {across: joint on V, up: sits on B}"
    more = "`cutmarks setout` shows what each would leave, and --take writes it"
    return f"no start: write {named}; {more}."


def layout_of(area: AreaSpec, setout: SetOut, job: Job) -> Layout:
    """The grid of one area, over its limits less gaps and voids."""
    tile = tile_as_laid(job.tiles[area.tile], area)
    bounds = limits(area, setout)
    grid = grid_of(area, tile, setout.lines, bond_shift(area, tile, bounds, kerf_of(job)[0]))
    ground = without(bounds, [region(void.ring) for void in setout.voids if void.goes_under is None])
    # From which sides tile comes to a frame that it goes under is told by what all the others leave.
    comes_from = ground
    for void in setout.voids:
        if void.goes_under is not None:
            ground = difference(ground, taken(void, void.goes_under, void.beside, comes_from))
    to_courses = grid.to_surface.inverse()
    along_courses = bounds.moved(to_courses)
    open_to = open_sides(area, setout)
    if runs_off_below(along_courses, open_to):
        open_to |= {Side.BOTTOM}
    return Layout(
        area=area.name,
        surface=setout.name,
        tile=tile,
        grid=grid,
        bounds=along_courses,
        ground=ground.moved(to_courses),
        reference=start_reference(area, tile),
        open_to=open_to,
        least_piece=job.limits.figures().least_piece.value,
        stands_at=_stands_at(area, setout, to_courses),
    )


def _stands_at(area: AreaSpec, setout: SetOut, to_courses: Placement[Surface, Courses]) -> float | None:
    """The height of the area's base, v in the Courses frame: where its start sits, or its own lower limit over that.

    None where it has neither, or is turned: then no course lies along a level line.
    """
    if area.turn:
        return None
    own = area.from_ or area.nothing_below
    lower = None if own is None else on_lines(own, setout.lines)
    sits = area.start_up is not None and area.start_up.anchor == "sits on"
    if area.outline and sits:
        lower = ring_through(area.outline, setout.lines).bounds.min_y
    found = [0.0] if sits else []
    if lower is not None:
        found.append(to_courses.xy(0.0, lower)[1])
    return max(found, default=None)


def own_limits(area: AreaSpec) -> FourSides[Reading | None]:
    """The area's own limit on each side of the surface, None where it has none; an outline aside."""
    return FourSides(area.right_of, area.left_of, area.from_ or area.nothing_below, area.to)


def open_sides(area: AreaSpec, setout: SetOut) -> frozenset[Side]:
    """The sides, as seen along the area's own courses, on which neither an edge nor a limit of its own ends it."""
    if area.outline:
        return frozenset()
    to_courses: Placement[Surface, Courses] = Placement.turned(-area.turn)
    found: set[Side] = set()
    for side in setout.open_sides:
        if own_limits(area)[side] is None:
            u, v = to_courses.xy(*side.step)
            found |= {way for way in SIDES if way.step[0] * u + way.step[1] * v > TOUCH}
    return frozenset(found)


def runs_off_below(bounds: Region[Courses], open_to: frozenset[Side]) -> bool:
    """Whether the area's lowest place lies out where it is open to the left or right, because its lower edge rakes.

    Its lowest course is then nowhere near, so that no course can be counted from it.
    """
    if bounds.is_empty or not open_to & {"left", "right"}:
        return False
    lowest = bounds.bounds.min_y
    row = [edge for ring in bounds.rings for edge in edges(ring)]
    return not any(edge.length > TOUCH and max(edge.y0, edge.y1) <= lowest + TOUCH for edge in row)


def limits(area: AreaSpec, setout: SetOut) -> Region[Surface]:
    """Where the area may lie, voids left aside: its own limits inside the surface's edges less their gaps."""
    if area.outline:
        return intersection(region(ring_through(area.outline, setout.lines)), setout.clear)
    left, right, bottom, top = (
        far if reading is None else on_lines(reading, setout.lines)
        for reading, far in zip(own_limits(area), (-FAR, FAR, -FAR, FAR), strict=True)
    )
    if left >= right or bottom >= top:
        return Region(())
    box: Ring[Surface] = polygon([(left, bottom), (right, bottom), (right, top), (left, top)])
    return intersection(region(box), setout.clear)


def look_at_spaces(surface: SurfaceSpec, setout: SetOut, job: Job, faults: Faults) -> None:
    """Areas may not overlap, nor come closer than the least space: what is between them is the joint."""
    least = job.limits.figures().least_space.value
    grounds: Sequence[tuple[AreaSpec, Region[Surface]]] = [(area, limits(area, setout)) for area in surface.areas]
    for area, ground in grounds:
        if ground.is_empty:
            with faults.about(f'area "{area.name}"', area.where):
                faults.tell("nothing of it lies inside the surface's edges: look at from, to, left of, right of.")
    laid = [one for one in grounds if not one[1].is_empty]
    for (a, a_ground), (b, b_ground) in pairs_near([(one, one[1].bounds) for one in laid], least):
        both = intersection(a_ground, b_ground)
        if both.area > TOUCH:
            sentence = (
                f'overlaps area "{a.name}" {_by(both.bounds)}: the borders are the '
                "tiles' own edges and the space between them is the joint, as in to: 597 above B and from: 600 above B."
            )
        elif (space := min(gap(p, q) for p in a_ground.rings for q in b_ground.rings)) < least - TOUCH:
            sentence = (
                f'leaves {space:g} to area "{a.name}", and no joint fits in less than {least:g}: the borders are the '
                "tiles' own edges, as in to: 597 above B and from: 600 above B."
            )
        else:
            continue
        with faults.about(f'area "{b.name}"', b.where):
            faults.tell(sentence)


def _by(both: Bounds) -> str:
    """How far two areas overlap: in figures, unless they do so to a side on which nothing ends either of them."""
    if max(both.width, both.height) > FAR / 2:
        return "on a side where nothing ends either of them"
    return f"by {both.width:g} x {both.height:g}"


def look_at_first_course(layout: Layout, job: Job, faults: Faults, sits_on: str = "B") -> None:
    """A first course so low that nobody lays it is a fault: the start was forgotten.

    sits_on  what the start sits on, in the job's words.
    """
    if layout.is_open or layout.grid.turn or layout.bounds.is_empty:
        return
    row = layout.lowest_row()
    high = row * layout.grid.pitch_v + layout.grid.h - layout.extent.min_y
    if high < job.limits.figures().first_course.value - TOUCH:
        faults.tell(
            f"its first course would be {high:g} high, which is never a course: write nothing below: {sits_on} "
            f"(or from: {sits_on}) if the tiles start there, on a batten or packers, or move the start."
        )
