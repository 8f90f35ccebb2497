"""Jobs of our own invention that the tests of the job file share."""

from __future__ import annotations

import pytest

from cutmarks.errors import JobError
from cutmarks.job import Job, parse_job

WALL = """\
job: Quay Cottage, laundry
tiles:
  rib: {size: 297 x 97, thickness: 9, measured: yes}
surfaces:
  - name: sink wall
    kind: wall
    lines:
      V: plumb, middle of the sink
      B: level, top of the packers
    areas:
      - name: splash
        tile: rib
        joint: 3
        start: {across: joint on V, up: sits on B}
    holes:
      - name: hot
        what: 15 copper
        across: 67 to 83 left of V
        up: 212 to 228 above B
        cover: 65
        end: comes off
"""
"""A job in which nothing is assumed; its last hole begins in line 16."""

FLOOR = """\
job: Mill Lane
tiles:
  slab: {size: 597 x 597, measured: yes}
surfaces:
  - name: wc floor
    kind: floor
    up: towards the window
    way out: bottom
    lines:
      V: across, middle of the door
      D: along, face of the door frame
    areas:
      - {name: floor, tile: slab, joint: 3, start: {across: joint on V, in: sits on D}}
    holes:
      - name: soil
        what: 110 soil
        across: on V
        in: 1420 to 1530 from D
        cover: none
        end: comes off
"""


def changed(old: str, new: str, job: str = WALL) -> str:
    """A job with one thing in it written otherwise."""
    assert old in job
    return job.replace(old, new)


def faults(text: str) -> list[str]:
    """The sentences that refuse a job, each with its place."""
    with pytest.raises(JobError) as refused:
        parse_job(text, "job.yaml")
    return [str(fault) for fault in refused.value.faults]


def only_fault(text: str) -> str:
    """The one sentence that refuses a job."""
    told = faults(text)
    assert len(told) == 1, told
    return told[0]


def job(text: str) -> Job:
    """The job in a text."""
    return parse_job(text, "job.yaml")
