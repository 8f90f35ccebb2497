"""From a plan to what is marked on each of its surfaces before the first tile."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from msgspec.structs import replace

from cutmarks.checks.model import Holds
from cutmarks.gauging.base import base_of
from cutmarks.gauging.columns import across_voids
from cutmarks.gauging.corners import corners_of, walls_in_order
from cutmarks.gauging.cuts import cut_groups, holes_from_top
from cutmarks.gauging.ends import sealed_joints
from cutmarks.gauging.meets import meetings
from cutmarks.gauging.model import Base, Gauged
from cutmarks.gauging.rods import gauge_of
from cutmarks.gauging.rounds import runs_round
from cutmarks.gauging.square import square_of
from cutmarks.limits import Limits
from cutmarks.openings.model import CutPiece
from cutmarks.plan import AreaPlan, Plan, SurfacePlan
from cutmarks.units import Unit


def gauged(plan: Plan, held: Callable[[CutPiece], Holds | None]) -> tuple[Gauged, ...]:
    """Every surface of which it is known which tile lies where, in the order of the job.

    held  what waits in a piece: no figure of that is among the cuts.
    """
    corners = corners_of([surface.setout for surface in plan.laid])
    found = tuple(
        replace(_gauged(plan, surface, held), corners=corners.get(surface.setout.name, ())) for surface in plan.laid
    )
    order = walls_in_order(corners)
    found = tuple(replace(one, order=order) if one.surface.setout.name in order else one for one in found)
    one_level = runs_round(found, plan.rounds)
    if one_level is None:
        return found
    return tuple(replace(one, round=one_level) if one.surface.setout.name in one_level.walls else one for one in found)


def in_order(surface: SurfacePlan) -> list[AreaPlan]:
    """The areas of a surface in the order in which they are fixed."""
    return sorted(surface.areas, key=lambda area: 0 if area.work is None else area.work.number)


def _gauged(plan: Plan, surface: SurfacePlan, held: Callable[[CutPiece], Holds | None]) -> Gauged:
    setout = surface.setout
    pieces = [piece for piece in plan.pieces if piece.piece.surface == setout.name]
    areas = in_order(surface)
    across = []
    for area in areas:
        own = {piece.piece.place: piece for piece in pieces if piece.piece.area == area.name}
        across += list(across_voids(area, setout.voids, own))
    return Gauged(
        surface=surface,
        areas=tuple(gauge_of(area, surface) for area in areas),
        bases=tuple(_bases(areas, surface, plan.limits)),
        across=tuple(across),
        meetings=tuple(meetings(areas, plan.limits)),
        cuts=cut_groups([piece for piece in pieces if held(piece) is None]),
        waiting=tuple(piece.name for piece in pieces if held(piece) is not None),
        from_top=tuple(holes_from_top([piece for piece in pieces if held(piece) != "all"])),
        sealed=sealed_joints(areas, setout, plan.limits.packers.value),
        square=square_of(setout, plan.say.style.unit is Unit.INCH),
    )


def _bases(areas: list[AreaPlan], surface: SurfacePlan, limits: Limits) -> Iterator[Base]:
    for area in areas:
        base = base_of(area, surface, limits.packers.value, limits.least_piece.value)
        if base is not None:
            yield base
