"""What lies at the steps of an edge, in words: each by the side of its own step on which the piece lies."""

from __future__ import annotations

from fractions import Fraction

import pytest

from cutmarks.job import parse_job
from cutmarks.plan import make_plan
from cutmarks.plan.choices import as_laid
from cutmarks.saying.starts import things_words
from cutmarks.units import Style, Unit

WALL = """\
job: Alder Row, hearth
tiles: {{pale: {{size: 246 x 246, measured: yes}}}}
surfaces:
  - name: wall
    kind: wall
    lines: {{V: "plumb, middle", B: "level, batten"}}
    edges:
      bottom:
        what: hearth
        gap: 0
        steps:
          - {{at: {outer}, until: 400 left of V}}
          - {{at: {inner}, until: 380 right of V}}
          - {{at: {outer}}}
    areas:
      - {{name: field, tile: pale, joint: 3, start: {{across: joint on V, up: joint on B}}}}
"""


@pytest.mark.parametrize(
    ("outer", "inner", "words"),
    [
        # A hearth from 400 left to 380 right of V. The tile that begins 496.5 left of V ends at it: 96.5. That which
        # ends 496.5 right of V begins at it: 116.5.
        ("90 below B", "60 above B", {"left of a step 96½", "right of a step 116½"}),
        # A recess there: of the tile from 496.5 to 250.5 left of V what lies right of 400: 149.5; of that from 250.5
        # to 496.5 right of V what lies left of 380: 129.5.
        ("60 above B", "90 below B", {"right of a step 149½", "left of a step 129½"}),
    ],
)
def test_a_piece_at_a_step_is_said_by_the_side_on_which_it_lies(outer: str, inner: str, words: set[str]) -> None:
    job = parse_job(WALL.format(outer=outer, inner=inner))
    ((_, laid),) = as_laid(job, make_plan(job))
    (start,) = laid.now.starts
    assert set(things_words(start, Style(Unit.MM, Fraction(1, 2))).split("; ")) == words
