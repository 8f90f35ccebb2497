"""Walls to look for starts on. The first is the window wall whose set-out page was worked out by hand."""

from __future__ import annotations

from cutmarks.choosing.asking import Asking
from cutmarks.choosing.offers import Choices
from cutmarks.choosing.question import StartQuestion
from cutmarks.job import Job, parse_job
from cutmarks.plan.choices import choices_of
from cutmarks.plan.surfaces import lay, say_of

WINDOW_WALL = """
job: Tern Row 4, utility
tiles: {slate: {size: 397 x 247, measured: yes}}
surfaces:
  - name: window wall
    kind: wall
    lines: {V: "plumb, middle of the window", B: "level, top of the packers"}
    edges:
      left: {at: 1300 left of V, true: plumb, still to come: 0}
      right: {at: [1380 right of V at B, 1373.5 right of V at 1480 above B], still to come: 0}
      bottom:
        still to come: 0
        gap: 5
        steps:
          - {at: 0 below B, until: 387 right of V, gap: 0}
          - {at: [915 below B at 390 right of V, 919 below B at 1380 right of V]}
      top: {at: [1480 above B at 1300 left of V, 1474 above B at 1380 right of V]}
    windows: [{name: window, across: 420 left to 420 right of V, up: 220 to 1115 above B}]
    areas: [{name: field, tile: slate, joint: 3, bond: stack%s}]
"""


def job_of(text: str) -> Job:
    return parse_job(text)


def question(text: str, area: str = "") -> StartQuestion:
    """What is asked of an area of the first surface; of the first one where none is named."""
    job = parse_job(text)
    surface, faults = job.surfaces[0], job.faults()
    laid = lay(surface, job, say_of(job), faults, undecided=True)
    assert not faults
    spec = next(one for one in surface.areas if area in ("", one.name))
    return Asking(surface.areas, laid.setout, laid.openings, job).question(spec, ())


def choices(text: str) -> Choices:
    return choices_of(parse_job(text))[0]
