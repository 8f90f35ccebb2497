"""A wall with two nails, and where the holes on it are found."""

from __future__ import annotations

import textwrap
from collections.abc import Mapping

import pytest

from cutmarks.errors import JobError
from cutmarks.job import parse_job
from cutmarks.locating.locate import locate_all
from cutmarks.locating.model import Located
from cutmarks.setout.surface import set_out

WALL = """
    job: readings
    tiles: {upright: {size: 248 x 398, measured: yes}}
    surfaces:
      - name: wall
        kind: wall
        lines: {V: "plumb, middle of the sink", B: "level, top of the batten"}
        points:
          P1: 300 left of V, 1600 above B
          P2: 500 right of V, 1600 above B
        areas:
          - {name: field, tile: upright, joint: 2, from: B, start: {across: joint on V, up: sits on B}}
"""


def located(text: str, point: str = "") -> Mapping[str, Located]:
    wall = textwrap.dedent(WALL)
    if point:
        wall = wall.replace("    points:\n", f"    points:\n    {point}\n")
    job = parse_job(wall + textwrap.indent(textwrap.dedent(text), "    "))
    surface = job.surfaces[0]
    faults = job.faults()
    setout = set_out(surface, job, faults)
    found = locate_all(surface.holes, setout, (), job, faults, surface.pairs, surface.points)
    if faults:
        raise JobError(faults)
    return {one.spec.name: one for one in found}


def faults_of(text: str) -> str:
    with pytest.raises(JobError) as caught:
        located(text)
    return str(caught.value)


# A 3-4-5: from P1, 600 right and 800 down is 1000; from P2, 200 left and 800 down is sqrt(200^2 + 800^2) = 824.621.
TAPES = """
    holes:
      - name: riser
        what: 15 copper
        readings:
          - 992.5 to 1007.5 from P1
          - centre 824.621 from P2
          {more}
"""
