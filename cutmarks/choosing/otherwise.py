"""An area otherwise than the job says: with another joint, its bond to the other hand, thirds for halves."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import TYPE_CHECKING, Literal

from msgspec.structs import replace

from cutmarks.tiling.grid import tile_as_laid

if TYPE_CHECKING:
    from cutmarks.job import Job
    from cutmarks.job.models import AreaSpec

NEAR_JOINT = 2.0
"""A spacer is tried in place of a joint that differs by no more, mm: the look of a wall goes by it."""


def other_joints(area: AreaSpec, all_hairy: bool, job: Job) -> Iterator[AreaSpec]:
    """The area with another joint: one that it names, and a spacer that is owned, where all starts leave a hair."""
    tried = {area.joint}
    for joint in (*area.joint_or, *(own_joints(area, job) if all_hairy else ())):
        if joint not in tried:
            tried.add(joint)
            yield replace(area, joint=joint)


def own_joints(area: AreaSpec, job: Job) -> tuple[float, ...]:
    """The spacers that are owned and differ little from the area's joint."""
    return tuple(one for one in job.tools.spacers if abs(one - area.joint) <= NEAR_JOINT)


def ways_of(area: AreaSpec, surface: str, job: Job, free: bool) -> Iterator[AreaSpec]:
    """The area of a surface as it is, with its bond to the other hand, begun otherwise, and with thirds for halves.

    free  what is said of its start, its bond with it, is looked for too.
    """
    yield area
    decided = area.start_across is not None and area.start_up is not None
    if (decided and not free) or _goes_round(area, surface, job):
        return
    bond = area.bond
    yield from _in_thirds(area, job)
    if bond.carried is not None:
        # Laid from the other end it goes on from there.
        other_end: Literal["left", "right"] = "right" if bond.carried == "left" else "left"
        words = "offcut carried on, from the right" if other_end == "right" else "offcut carried on"
        yield replace(area, bond=replace(bond, carried=other_end, words=words))
    if bond.way != "alternate" or bond.part * 2 == 1 or not (bond.part or bond.mm):
        return
    words = bond.words
    for one, other in (("left", "right"), ("right", "left")):
        if one in words:
            yield replace(area, bond=replace(bond, part=-bond.part, mm=-bond.mm, words=words.replace(one, other)))
            return


def _in_thirds(area: AreaSpec, job: Job) -> Iterator[AreaSpec]:
    """Thirds for halves, where the tile is too long for them: where it is bowed a half shows most."""
    bond, limits = area.bond, job.limits.figures()
    if abs(bond.part) != Fraction(1, 2) or bond.way != "alternate" or limits.offset_part.value >= 0.5:
        return
    tile = tile_as_laid(job.tiles[area.tile], area)
    if max(tile.w, tile.h) > limits.offset_side.value:
        for hand, part in (("right", Fraction(1, 3)), ("left", Fraction(-1, 3))):
            yield replace(area, bond=replace(bond, part=part, words=f"third {hand}"))


def _goes_round(area: AreaSpec, surface: str, job: Job) -> bool:
    """Whether its courses go round a corner, to or from another wall: both have the bond that they have."""
    names = {surface.casefold(), area.name.casefold()}
    others = (one.carries_on_from for each in job.surfaces for one in each.areas)
    return area.carries_on_from is not None or any(one is not None and one.of.casefold() in names for one in others)
