"""The walls round which courses run at one height, and the area of each whose courses do."""

from __future__ import annotations

from typing import TYPE_CHECKING

from cutmarks.geometry.tolerance import TOUCH
from cutmarks.tiling.grid import tile_as_laid

if TYPE_CHECKING:
    from cutmarks.errors import Faults
    from cutmarks.job import Job
    from cutmarks.job.models import AreaSpec


def areas_run_round(job: Job) -> dict[str, str]:
    """By wall, in the order that the job names them, the area whose courses run round; of the first wall its first.

    Those that have none with courses as high are left out: `look_at_rounds` tells them.
    """
    found: dict[str, str] = {}
    first: AreaSpec | None = None
    for name in job.courses_run_round:
        surface = next((one for one in job.surfaces if one.name.casefold() == name.casefold()), None)
        alike = [one for one in (surface.areas if surface else ()) if first is None or _is_as_high(job, one, first)]
        if surface is not None and alike:
            first = first or alike[0]
            found[surface.name] = alike[0].name
    return found


def _is_as_high(job: Job, one: AreaSpec, other: AreaSpec) -> bool:
    heights = [tile_as_laid(job.tiles[area.tile], area).h for area in (one, other)]
    return abs(heights[0] - heights[1]) <= TOUCH and abs(one.joint - other.joint) <= TOUCH


def look_at_rounds(job: Job, faults: Faults) -> None:
    """Names that are no wall, and walls whose courses are not as high, are told."""
    round_them = areas_run_round(job)
    for name in job.courses_run_round:
        surface = next((one for one in job.surfaces if one.name.casefold() == name.casefold()), None)
        with faults.about("courses run round", ("courses run round",)):
            if surface is None:
                names = ", ".join(one.name for one in job.surfaces)
                faults.tell(f'there is no wall called "{name}": write the names of those that there are, {names}.')
            elif surface.kind != "wall":
                faults.tell(f"{surface.name} is a floor: courses run round walls.")
            elif surface.areas and surface.name not in round_them:
                first = next(iter(round_them))
                faults.tell(
                    f"{surface.name} has no area with tile and joint as high as those of {round_them[first]} on "
                    f"{first}: courses that run round are alike."
                )
