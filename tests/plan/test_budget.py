"""What a plan may build is counted before anything is built: past that one sentence says who asks for it."""

# ruff: noqa: E501 - sentences as they are told

from __future__ import annotations

import pytest

from cutmarks.errors import JobError
from cutmarks.job import parse_job
from cutmarks.plan import make_plan

JOB = """\
job: Reed House, budget
tiles:
  chip: {size: 20 x 20, measured: yes}
surfaces:
  - name: wall
    kind: wall
    lines: {V: "plumb, middle", B: "level, batten"}
EDGES    areas:
      - {name: field, tile: chip, joint: 2, start: {across: left on V, up: sits on B}}
HOLES"""


def told(edges: str = "", holes: str = "", size: str = "20 x 20") -> list[str]:
    """Why a job is not planned; nothing where it is."""
    text = JOB.replace("EDGES", edges).replace("HOLES", holes).replace("20 x 20", size)
    job = parse_job(text, "job.yaml")
    try:
        make_plan(job)
    except JobError as error:
        return [str(fault) for fault in error.faults]
    return []


def box(side: int) -> str:
    """A box of that side, from where the lines cross, in line 11."""
    return f"    holes:\n      - {{name: box, what: socket box, across: 0 to {side} right of V, up: 0 to {side} above B}}\n"


def test_one_hole_over_too_many_tiles() -> None:
    # With its play of 2 a box of 1500 is 1504: over a pitch of 22 that is 68 and a part, so 69 x 69 = 4761, about 4800.
    assert told(holes=box(1500)) == [
        'job.yaml line 11, hole "box": it meets about 4800 tiles of area field, which are 20 x 20, and one hole meets at '
        "most 2500: look at its size, and at that of tile chip."
    ]
    # 200 x 200 with 2: 10 x 10 tiles or a row more, which anyone may cut.
    assert told(holes=box(200)) == []


def test_edges_that_cut_too_many_tiles() -> None:
    # Four sides of 90 m and a pitch of 12: 4 x 7500 = 30000.
    edges = (
        "    edges: {left: {at: 3 left of V, true: plumb}, right: {at: 90 m right of V, true: plumb},\n"
        "            bottom: {at: 3 below B, true: level, what: worktop}, top: {at: 90 m above B, true: level}}\n"
    )
    assert told(edges, size="10 x 10") == [
        'job.yaml line 11, area "field": its edges, windows and outlines cut about 30000 of its tiles, which are 10 x 10, '
        "and a job cuts at most 25000: look at the size of tile chip, or make several jobs of it."
    ]


def test_holes_on_one_tile() -> None:
    rows = "".join(
        f"      - {{name: h{n}, what: 15 copper, across: centre {40 + n % 50 * 40} right of V, "
        f"up: centre {40 + n // 50 * 40} above B, cover: none}}\n"
        for n in range(251)
    )
    text = JOB.replace("EDGES", "").replace("HOLES", f"    holes:\n{rows}").replace("20 x 20", "2397 x 597")
    laid = parse_job(text, "job.yaml")
    with pytest.raises(JobError) as refused:
        make_plan(laid)
    # The first hole stands in line 11, the 251st in line 261.
    assert [str(fault) for fault in refused.value.faults] == [
        'job.yaml line 261, hole "h250": it is the 251st on one tile of area field, and a tile has at most 250 holes: '
        "look at the places of its holes, and at the size of tile chip."
    ]
