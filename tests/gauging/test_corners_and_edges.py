"""What a set-out page says of a wall's edges, of its corners with other walls, and of how its last course ends."""

from __future__ import annotations

import pytest

from cutmarks.saying.gauging import heading_lines, sections, told
from tests.gauging.walls import planned

WALLS = """\
job: two walls
tiles: {{rib: {{size: 297 x 97, measured: yes, thickness: 8}}}}
surfaces:
  - name: long wall
    kind: wall
    lines: {{V: "plumb, middle", B: "level, batten"}}
    edges:
      left: {{at: [600 left of V at 100 above B, 604 left of V at 400 above B], what: frame, still to come: 0}}
      right:
        at: [747 right of V at 100 above B, 744 right of V at 400 above B]
        what: Short wall
        still to come: {long}
      bottom: {{at: 0 below B, what: worktop, true: level, gap: 0}}
      top: {{at: [{top} above B at 600 left of V, {top} above B at 747 right of V], what: shelf}}
    areas: [{{name: ribs, tile: rib, joint: 3, bond: half, start: {{across: left on V, up: sits on B}}}}]
  - name: short wall
    kind: wall
    lines: {{V: "plumb, middle", B: "level, batten"}}
    edges:
      left: {{at: 400 left of V, what: long wall, true: plumb, still to come: {short}}}
      right: {{at: 400 right of V, what: post, true: plumb, still to come: 0}}
      bottom: {{at: 0 below B, what: worktop, true: level, gap: 0}}
      top: {{at: 500 above B, what: shelf, true: level}}
    areas: [{{name: more, tile: rib, joint: 3, bond: half, start: {{across: left on V, up: sits on B}}}}]
"""


def walls(long: str = "0", short: str = "12", top: float = 500) -> list[list[str]]:
    """All that is said of each of the two walls, its heading first."""
    plan = planned(WALLS.format(long=long, short=short, top=top))
    return [
        [*heading_lines(one, plan), *(line for step in sections(one, plan) for line in step.lines)]
        for one in told(plan)
    ]


def test_the_edges_are_said_as_they_were_read_with_what_they_lean() -> None:
    # Going up, the left end goes outward by 4, from 600 to 604 left of V, the right one inward by 3, from 747 to 744.
    long, short = walls()
    assert (
        "Measured: frame 600 left of V (100 above B) to 604 (400 above B), leans 4 out; "
        "Short wall 747 right of V (100 above B) to 744 (400 above B), leans 3 in; worktop on B, level; "
        "shelf 500 above B, level"
    ) in long
    assert (
        "Measured: long wall 400 left of V, plumb; post 400 right of V, plumb; worktop on B, level; "
        "shelf 500 above B, level"
    ) in short


def test_of_two_walls_that_goes_first_on_which_nothing_is_to_come() -> None:
    long, short = walls(long="0", short="12")
    assert (
        "Before the short wall: this tile runs into the corner, and that wall's tile and bed, 12, cover its end."
        in long
    )
    assert (
        "After the long wall: what is still to come there is its tile and bed, 12, over which this tile ends." in short
    )
    turned, back = walls(long="12", short="0")
    assert any(line.startswith("After the short wall: ") for line in turned)
    assert any(line.startswith("Before the long wall: ") for line in back)


def test_the_corner_of_two_walls_is_closed_once_both_are_tiled() -> None:
    # The walls have a gap of 3 wherever none is said, and none at the worktop.
    long, short = walls(long="0", short="12")
    (line,) = (line for line in long if line.startswith("No grout"))
    assert set(line.removeprefix("No grout, silicone last: ").rstrip(".").split("; ")) == {
        "Short wall 3 once both are on",
        "shelf 3",
        "frame 3",
    }
    assert any("long wall 3 once both are on" in line for line in short)


@pytest.mark.parametrize("both", ["0", "12"])
def test_where_both_or_neither_have_it_nothing_follows(both: str) -> None:
    for said in walls(long=both, short=both):
        assert not any(line.startswith(("Before the", "After the")) for line in said)


def test_once_what_is_to_come_is_on_it_is_left_out() -> None:
    note = "Openings are to what is bare: once what is still to come is on, read to its face, and leave it out."
    long, short = walls(long="0", short="12")
    assert note in short
    assert note not in long


@pytest.mark.parametrize(
    ("top", "words"),
    [
        # Courses of 100 from B: the fifth ends at 497, under a shelf at 500 and its gap of 3.
        (500, "course 5, the last, is whole: its top 497 above B, 3 under the shelf"),
        (560, "course 6, the last, is cut to the shelf"),
    ],
)
def test_it_is_said_how_the_last_course_ends(top: float, words: str) -> None:
    assert words in walls(top=top)[0]
