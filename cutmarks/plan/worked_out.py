"""Starts that a job leaves to be worked out: equal cuts, and courses that go on from another wall."""

from __future__ import annotations

from typing import TYPE_CHECKING

from cutmarks.plan.carrying import with_carried_starts
from cutmarks.plan.equal import with_equal_starts
from cutmarks.tiling.round import look_at_rounds
from cutmarks.units import Style

if TYPE_CHECKING:
    from cutmarks.errors import Faults
    from cutmarks.job import Job


def with_starts_worked_out(job: Job, style: Style, faults: Faults, *, undecided: bool) -> tuple[Job, tuple[str, ...]]:
    """The job with every such start, and what each came to, as sentences; what cannot be is told to `faults`.

    Where `undecided`, a wall that goes on from one without a start is left without one.
    """
    look_at_rounds(job, faults)
    job, equal = with_equal_starts(job, style, faults)
    job, carried = with_carried_starts(job, style, faults, undecided=undecided)
    return job, (*equal, *carried)
