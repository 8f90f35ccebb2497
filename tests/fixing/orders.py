"""A surface's order of fixing from its job, for tests of the stage alone."""

from __future__ import annotations

from cutmarks.fixing.areas import order_of_areas
from cutmarks.fixing.order import Order, order_of
from cutmarks.job import Job
from cutmarks.setout.surface import set_out
from cutmarks.tiling.areas import lay_out


def order_on(job: Job) -> Order:
    """The order on the job's first surface; any fault fails the test."""
    surface, faults = job.surfaces[0], job.faults()
    setout = set_out(surface, job, faults)
    layouts = lay_out(surface, setout, job, faults)
    numbers = order_of_areas(surface, setout, layouts, faults)
    assert not faults, list(faults)
    return order_of(surface, setout, layouts, numbers, {})
