"""Inside corners of L cuts and notches, worked by hand: where they lie, which have a sheet, from which of its edges.

The wall of `WINDOW`: tiles 297 x 197 with a joint of 3, so courses of 200 and tiles of 300; every second course is
shifted by half, 150. A joint on V: in course 1 a tile begins 1.5 right of V. The window's gap of 3 makes it 97 to 503
and 347 to 853. Course 2 begins 200 above B, its tiles 148.5 left to 148.5 right, 451.5 to 748.5: the window's lower
left corner lies 97 + 148.5 = 245.5 and 347 - 200 = 147 in the first of these, its lower right one 503 - 451.5 = 51.5
and 147 in the other. Course 5 begins 800 above B: upper corners 97 - 1.5 = 95.5, 503 - 301.5 = 201.5, both 53 up.
"""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from cutmarks.geometry.frames import Placement, Tile
from cutmarks.job import parse_job
from cutmarks.limits import LIMITS
from cutmarks.openings.corners import InsideCorner, inside_corners
from cutmarks.plan import Plan, make_plan
from cutmarks.plan.flow import to_print
from cutmarks.registering import PAPERS, error_at, register
from cutmarks.saying.behind import from_behind
from cutmarks.sides import FourSides, Side
from tests.sheets.jobs import W6 as WINDOW
from tests.sheets.special import WAITS

STEP = """
    job: A step in the worktop
    tiles: {flat: {size: 297 x 197, measured: yes}}
    surfaces:
      - name: wall
        kind: wall
        lines: {V: "plumb, middle of the sink", B: "level, top of the packers"}
        edges:
          bottom:
            what: worktop
            steps: [{at: 0 above B, until: 200 right of V, gap: 5}, {at: RISE above B, gap: 5}]
          left: {at: 600 left of V, what: end panel, true: plumb}
          right: {at: 600 right of V, what: end panel, true: plumb}
          top: {at: 800 above B, what: shelf, true: level}
        areas:
          - {name: field, tile: flat, joint: 3, start: {across: joint on V, up: sits on B}}
    """


def plan(text: str = WINDOW) -> Plan:
    return make_plan(parse_job(text))


def corners(of: Plan) -> dict[str, list[tuple[float, ...]]]:
    return {
        piece.name: [tuple(round(mm, 6) for mm in corner.from_edges) for corner in piece.corners]
        for piece in of.pieces
        if piece.corners
    }


def test_a_window_has_four():
    assert corners(plan()) == {
        "field 2-3": [(245.5, 51.5, 147.0, 50.0)],
        "field 2-5": [(51.5, 245.5, 147.0, 50.0)],
        "field 5-4": [(95.5, 201.5, 53.0, 144.0)],
        "field 5-5": [(201.5, 95.5, 53.0, 144.0)],
    }


def test_what_goes_lies_between_the_two_saw_cuts():
    pieces = {piece.name: piece for piece in plan().pieces}
    (corner,) = pieces["field 2-3"].corners
    # The window lies right of it and above: cuts of 297 - 245.5 = 51.5 to the right and 197 - 147 = 50 upward.
    assert sorted((round(dx, 6), round(dy, 6)) for dx, dy in corner.arms) == [(0.0, 50.0), (51.5, 0.0)]
    assert corner.goes == (1.0, 1.0)
    assert corner.least_arm == pytest.approx(50.0)
    # 15 of each has to be seen.
    assert tuple(corner.bounds) == pytest.approx((245.5, 147.0, 260.5, 162.0))


def test_from_behind_it_is_mirrored_and_keeps_its_place():
    piece = next(piece for piece in plan().pieces if piece.name == "field 2-3")
    behind = from_behind(piece)
    (corner,) = behind.corners
    assert tuple(corner.from_edges) == pytest.approx((51.5, 245.5, 147.0, 50.0))
    assert corner.goes == (-1.0, 1.0)
    # The same as looking for it in the mirrored outline.
    turn: Placement[Tile, Tile] = Placement.mirror(297.0)
    again = inside_corners(
        piece.piece.outline.moved(turn), piece.outline.moved(turn), 297.0, 197.0, behind.corners[0].mark_from
    )
    assert [tuple(round(mm, 6) for mm in one.from_edges) for one in again] == [(51.5, 245.5, 147.0, 50.0)]


def sheets_of_corners(of: Plan) -> dict[str, tuple[Side, ...]]:
    cuts = {piece.name: len(piece.cuts) for piece in of.pieces}
    return {one.piece: one.edges for one in of.registrations if one.cuts[0] >= cuts[one.piece]}


def test_each_has_a_sheet_that_shows_two_of_the_tile_s_edges_and_nothing_else_is_cut_straight_on_one():
    # A4 shows 183 x 168.5, the edge 8.5 in and 3 clear: 171.5 and 157 (held sideways 174.5 and 162). Where the saw cut
    # leads away from the edge, 15 of it have to be seen too: 245.5 from the left is out of reach.
    found = sheets_of_corners(plan())
    assert {name: edges[0] for name, edges in found.items()} == {
        "field 2-3": Side.RIGHT,
        "field 2-5": Side.LEFT,
        "field 5-4": Side.LEFT,
        "field 5-5": Side.RIGHT,
    }
    trimmed = {piece.name for piece in plan().pieces if not piece.cuts}
    assert len(trimmed) > 20
    assert {one.piece for one in plan().registrations} & trimmed == set(found)


def test_out_of_reach_of_a_sheet_it_has_none():
    large = WINDOW.replace("297 x 197", "997 x 797").replace("bond: half, ", "").replace("joint on V", "middle on V")
    # One tile of 997 about V, and the next from 501.5 on: the window's left side lies 97 + 498.5 = 595.5 from the left,
    # 401.5 from the right of the first.
    made = plan(large)
    assert any(piece.corners for piece in made.pieces)
    assert sheets_of_corners(made) == {}
    assert sheets_of_corners(plan(large.replace("job:", "paper: A1\n    job:"))) != {}


@pytest.mark.parametrize(("rise", "has_one"), [("60", True), ("3", False)])
def test_a_step_has_one_unless_it_is_cut_straight(rise, has_one):
    # The tiles sit on B: up to 200 right of V the gap takes 5 off them, beyond that the step and its gap of 5 do. A
    # step of 3 is under 1/8 in: the joint takes it up.
    made = plan(STEP.replace("RISE", rise))
    found = corners(made)
    # Tiles begin 1.5 right of V: the step's side lies 200 - 1.5 = 198.5 in, less its gap of 5 at the most.
    assert [name for name in found] == ["field 1-3"]
    ((left, _, bottom, _),) = found["field 1-3"]
    assert 193.0 <= left <= 198.5
    assert bottom == pytest.approx(float(rise) + 5.0)
    assert (LIMITS.small_step.value < float(rise)) == has_one
    assert bool(sheets_of_corners(made)) == has_one


def test_the_error_is_that_of_the_corner():
    # From the right edge 51.5 and the lower edge 147: 0.5 % of 147 is 0.735, with 0.3 to line up and 0.25 for the line.
    made = plan()
    piece = next(piece for piece in made.pieces if piece.name == "field 2-5")
    (sheet,) = [one for one in made.registrations if one.piece == "field 2-5"]
    assert sheet.edges == (Side.LEFT, Side.BOTTOM)
    assert error_at(piece, piece.corners[0], sheet) == pytest.approx(0.735 + 0.3 + 0.25)


def test_a_corner_of_a_piece_that_waits_has_no_sheet():
    made = plan()
    waits = [replace(WAITS, about=("field 2-3",))]
    kept = [one.piece for one in to_print(made.registrations, made.pieces, waits)]
    assert kept == [one.piece for one in made.registrations if one.piece != "field 2-3"]
    accepted = [replace(waits[0], accepted="the floor is measured")]
    assert tuple(to_print(made.registrations, made.pieces, accepted)) == made.registrations


def test_no_more_than_two_stand_on_a_sheet():
    piece = next(piece for piece in plan().pieces if piece.name == "field 2-5")
    sides = (Side.LEFT, Side.BOTTOM)
    spots = [(20.0, 30.0), (60.0, 30.0), (60.0, 90.0), (100.0, 90.0)]
    many = tuple(
        InsideCorner(FourSides(x, 297.0 - x, y, 197.0 - y), ((-10.0, 0.0), (0.0, -10.0)), sides) for x, y in spots
    )
    found = register([replace(piece, corners=many)], PAPERS["A4"])
    assert sorted(index for sheet in found for index in sheet.cuts) == [0, 1, 2, 3]
    assert [len(sheet.cuts) for sheet in found] == [2, 2]
