"""What a job says of what is bought, as a plan keeps it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from cutmarks.plan.model import Supplies, TileStock
from cutmarks.tiling.bonds import kerf_of

if TYPE_CHECKING:
    from cutmarks.job import Job
    from cutmarks.job.models import TileSpec


def supplies_of(job: Job) -> Supplies:
    """The job's tiles as they are bought, its bags, and what the saw takes."""
    return Supplies({name: _stock(tile) for name, tile in job.tiles.items()}, job.bag, job.grout_bag, *kerf_of(job))


def _stock(tile: TileSpec) -> TileStock:
    box = None if tile.box is None else round(tile.box.tiles(tile.size))
    have = None if tile.have is None else tile.have.count
    if have is not None and box is not None and tile.have is not None and tile.have.in_boxes:
        have *= box
    return TileStock(tile.name, box, have, tile.buttered, tile.pattern, tile.pattern_along)
