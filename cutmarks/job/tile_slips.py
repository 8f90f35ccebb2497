"""Slips of a figure that show where a tile and an area come together: its run, its joint, its bond."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from cutmarks.errors import JobPath
from cutmarks.job.measures import bare, said
from cutmarks.job.words import Setting, found

if TYPE_CHECKING:
    from cutmarks.job.models import Job
    from cutmarks.job.tiles import AreaSpec, TileSpec


def tile_slips(job: Job, setting: Setting) -> Iterator[tuple[JobPath, str]]:
    """Every slip of a tile as an area lays it: where it stands, in the keys of the models, and its sentence."""
    most = job.limits.figures().size_wrong.value
    for surface in job.surfaces:
        for area in surface.areas:
            spec = job.tiles.get(area.tile)
            if spec is None:
                continue  # its own fault
            told = list(_run_and_size(spec, area, most, setting))
            yield from told
            if not told:
                yield from _joint_and_bond(spec, area, setting)


def _run_and_size(spec: TileSpec, area: AreaSpec, most: float, setting: Setting) -> Iterator[tuple[JobPath, str]]:
    """A run that makes another tile than the one whose size was written: one of the two is wrong."""
    for key, run, size in zip(
        ("run across", "run up"), (spec.run_across, spec.run_up), spec.sides_as_laid(area.lay), strict=True
    ):
        if run is not None and abs(run.tile(area.joint) - size) > most:
            yield (
                (*spec.where, key),
                f"It makes the tile {bare(run.tile(area.joint), setting)} in area {area.name}, and its size says "
                f"{bare(size, setting)}: measure the run again, edge to edge, count its tiles, and look at which size "
                "lies across (lay:).",
            )


def _joint_and_bond(spec: TileSpec, area: AreaSpec, setting: Setting) -> Iterator[tuple[JobPath, str]]:
    """A joint wider than the tile, a bond that steps further than to the next tile."""
    across, up = spec.sides_as_laid(area.lay)
    if area.joint > min(across, up):
        yield (
            (*area.where, "joint"),
            f"A joint of {said(area.joint, setting)} is wider than {found(spec.name)}, which is "
            f"{bare(across, setting)} x {bare(up, setting)}: write the joint, or the tile's size, again.",
        )
    if abs(area.bond.mm) > across + area.joint:
        yield (
            (*area.where, "bond"),
            f"{found(area.bond.words)} steps further than from one tile to the next, "
            f"{said(across + area.joint, setting)}: write a shorter step, or a part as in third right.",
        )
