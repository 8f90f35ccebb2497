"""What a set-out page says of a wall's edges, of its corners with other walls, and of how its last course ends."""

from __future__ import annotations

import pytest

from cutmarks.fixing.model import ReadFrom
from cutmarks.gauging.corners import walls_in_order
from cutmarks.gauging.model import CutGroup, InCorner, OneCut
from cutmarks.openings.model import InfillEnd, TakenOff
from cutmarks.saying.gauging import heading_lines, sections, told
from cutmarks.saying.openings_told import read_to_tile
from cutmarks.sides import Side
from tests.gauging.walls import planned, with_areas

WALLS = """\
job: two walls
tiles: {{rib: {{size: 297 x 97, measured: yes, thickness: 8}}}}
surfaces:
  - name: long wall
    kind: wall
    lines: {{V: "plumb, middle", B: "level, batten"}}
    edges:
      left: {{at: [600 left of V at 100 above B, 604 left of V at 400 above B], what: frame, still to come: {frame}}}
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


def walls(long: str = "0", short: str = "12", top: float = 500, frame: str = "0") -> list[list[str]]:
    """All that is said of each of the two walls, its heading first."""
    plan = planned(WALLS.format(long=long, short=short, top=top, frame=frame))
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
    assert "Tile into the corner of the short wall: its tile and bed, 12, cover the end." in long
    assert "The long wall is tiled by now, 12 with its bed: read cuts and checks to its tile." in short
    assert all("Walls in this order: long wall, then short wall." in said for said in (long, short))
    turned, back = walls(long="12", short="0")
    assert any(line.startswith("The short wall is tiled by now, ") for line in turned)
    assert any(line.startswith("Tile into the corner of the long wall: ") for line in back)
    assert all("Walls in this order: short wall, then long wall." in said for said in (turned, back))


def test_where_a_wall_is_tiled_before_this_one_all_is_read_to_its_tile() -> None:
    # The short wall's left corner is 400 left of V bare, 388 once the tile of 12 with its bed is on. Its start tile
    # lies on V, so that its left end is 388 from that tile. Courses of 297 and 3 to the left: one whole, its left edge
    # 300 left of V, and from there 88 to the tile: less a joint of 3 and a gap of 3 that is 82. Moved by a half bond,
    # 150, the last edge is 150 left of V: 238 to the tile, and 232 to be cut.
    _, short = walls(long="0", short="12")
    assert any("its ends are 388 from the long wall's tile and 103 from the post." in line for line in short)
    (line,) = (line for line in short if line.startswith("to the long wall's tile"))
    assert line.startswith("to the long wall's tile, less joint 3 and gap 3. ")
    assert "88 -> 82 ...." in line
    assert "238 -> 232 ...." in line


def test_an_opening_that_is_told_as_it_was_read_is_shorter_by_that_tile_too() -> None:
    # 269 to the bare wall, of which tile and bed take 12: 257 to the face, and the cut of 251 is the same.
    group = CutGroup(
        day=1,
        side=Side.LEFT,
        source=ReadFrom("mark", "", at=0.0),
        to="Bin wall",
        off=(TakenOff("gap", 6.0), TakenOff("still to come", 12.0)),
        pieces=("f 1-1",),
        openings=(269.0, 269.0),
        cuts=(251.0, 251.0),
        each=(OneCut("f 1-1", (InfillEnd(Side.LEFT, 269.0, 251.0),)),),
    )
    read = read_to_tile(group, (InCorner(Side.LEFT, "bin wall", 12.0, goes_first=False),))
    assert (read.to, read.off, read.openings) == ("Bin wall's tile", (TakenOff("gap", 6.0),), (257.0, 257.0))
    assert read.each[0].ends == (InfillEnd(Side.LEFT, 257.0, 251.0),)
    # Where this wall goes first, or the corner is at its other end, nothing is on yet.
    assert read_to_tile(group, (InCorner(Side.LEFT, "bin wall", 12.0, goes_first=True),)) == group
    assert read_to_tile(group, (InCorner(Side.RIGHT, "bin wall", 12.0, goes_first=False),)) == group


def test_walls_have_an_order_only_where_their_corners_settle_it() -> None:
    def corner(other: str, *, goes_first: bool) -> InCorner:
        return InCorner(Side.LEFT, other, 12.0, goes_first)

    first, last = corner("b", goes_first=True), corner("b", goes_first=False)
    middle = (corner("a", goes_first=False), corner("c", goes_first=True))
    assert walls_in_order({"c": (last,), "b": middle, "a": (first,), "d": ()}) == ("a", "b", "c")
    # Both a and c before b: which of the two goes first nothing says.
    assert walls_in_order({"a": (first,), "b": (middle[0], corner("c", goes_first=False)), "c": (first,)}) == ()
    # Round a room each after the next: no first one.
    assert walls_in_order({"a": (last,), "b": (middle[0],)}) == ()


@pytest.mark.parametrize(
    ("edge", "is_said"),
    [("what: next wall, still to come: 11", True), ("what: next wall, still to come: 0", False), ("what: pier", False)],
)
def test_of_a_wall_that_is_not_in_the_job_it_is_said_which_tile_ends_in_the_corner(edge: str, is_said: bool) -> None:
    # 11 for the other wall's tile and bed, and the gap of 3: 14 off the plaster.
    area = "name: splash, tile: rib, joint: 3, start: {across: joint on V, up: sits on B}"
    plan = planned(with_areas(area, left=f"{{at: 900 left of V, true: plumb, gap: 3, {edge}}}"))
    (one,) = told(plan)
    lines = [line for step in sections(one, plan) for line in step.lines if line.startswith("At the next wall")]
    wanted = (
        "At the next wall this tile stops 14 off what is bare, with 11 for tile and bed there: that wall's tile runs "
        "into the corner, and this one ends against it. To run this one in, and have that wall's cover its end, write "
        "still to come: none there and set out anew."
    )
    assert lines == ([wanted] if is_said else [])


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
        assert not any(" is tiled by now" in line or line.startswith(("Tile into", "Walls in")) for line in said)


def test_once_what_is_to_come_is_on_it_is_left_out() -> None:
    note = "Openings are to what is bare: once what is still to come is on, read to its face, and leave it out."
    # Of the frame nothing says that it is the tile of a wall of the job: what is to come there may not be on yet.
    assert note in walls(long="0", short="12", frame="12")[0]
    # The long wall is tiled by then, and its tile is what is read to.
    assert not any(note in said for said in walls(long="0", short="12"))


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
