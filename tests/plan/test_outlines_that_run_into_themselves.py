"""An outline with a slit in it: what goes all round it would run into itself, which is said in words of the trade."""

from __future__ import annotations

import pytest

from cutmarks.errors import JobError
from cutmarks.job import parse_job
from cutmarks.plan import make_plan

JOB = """\
job: slit
tiles: {{rib: {{size: 297 x 97, measured: yes}}}}
surfaces:
  - name: wall
    kind: wall
    lines: {{V: "plumb, middle", B: "level, batten"}}
    areas:
      - {{name: splash, tile: rib, joint: 3, start: {{across: joint on V, up: sits on B}}}}
    {key}:
      - {{name: shelf, {round}, outline: [{corners}]}}
"""
# A slit from 246 to 254, 8 wide: 3 from both its sides leaves 2 of it, 5 leaves none.
CORNERS = ", ".join(
    f'"{x} right of V, {y} above B"'
    for x, y in ((200, 300), (300, 300), (300, 600), (254, 600), (254, 320), (246, 320), (246, 600), (200, 600))
)


@pytest.mark.parametrize(
    ("key", "round_it", "sentence"),
    [
        (
            "niches",
            "gap",
            'job line 10, niche "shelf": with a gap of 5 mm all round, its outline would run into itself: look at its '
            "corners, or write a smaller gap.",
        ),
        (
            "holes",
            "play",
            'job line 10, hole "shelf": with its play all round, its opening would run into itself or have no size: '
            "look at its corners and its size, or write another play.",
        ),
    ],
)
def test_what_goes_round_a_slit(key: str, round_it: str, sentence: str) -> None:
    def planned(mm: int) -> None:
        make_plan(parse_job(JOB.format(key=key, round=f"{round_it}: {mm}", corners=CORNERS)))

    planned(3)
    with pytest.raises(JobError) as refused:
        planned(5)
    assert [str(fault) for fault in refused.value.faults] == [sentence]
