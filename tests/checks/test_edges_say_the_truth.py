"""What is said of edges that rake, bend, step or were not read: nothing that is not so, and each edge by itself.

The wall is that of tests/checks/jobs.py: 297 x 197 tiles, joint 3, the first one 1.5 to 298.5 right of V and 0 to 197
above B.
"""

from __future__ import annotations

from typing import Any

import pytest

from cutmarks.errors import JobError
from cutmarks.openings.model import CutPiece
from cutmarks.plan import Plan
from cutmarks.saying.pieces import shape_words
from cutmarks.setout.edges import position_at
from cutmarks.sheets.jobsheet import jobsheet_pages
from cutmarks.sides import Side
from cutmarks.units import Style
from tests.checks.jobs import EDGES, hole, only, plan, said
from tests.sheets.drawn import texts


def piece(made: Plan, name: str) -> CutPiece:
    return next(one for one in made.pieces if one.name == name)


def on_paper(made: Plan) -> str:
    return " ".join(text for page in jobsheet_pages(made) for text in texts(page.marks))


def test_a_slot_that_is_open_to_a_raking_edge_has_no_bridge_there() -> None:
    # The ceiling is 150 above B at the left end of the wall and 166 at the right end, 8 in 1000. 35 wide at 150: 131
    # are left on either side (150 - 17.5 - 1.5; 298.5 - 167.5), and 100 - 17.5 = 82.5 below.
    top = {"at": ["150 above B at 1000 left of V", "166 above B at 1000 right of V"], "gap": 0}
    made = plan(hole(opening=35, slot="towards the top"), edges={**EDGES, "top": top})
    (cut,) = piece(made, "field 1-5").cuts
    assert cut.kind == "edge notch"
    assert (cut.web.left, cut.web.right, cut.web.bottom, cut.web.top) == (
        pytest.approx(131.0),
        pytest.approx(131.0),
        pytest.approx(82.5),
        None,
    )
    assert cut.web.nearest == pytest.approx(82.5)
    assert not said(made, "hair bridge")
    assert not said(made, "thin bridge")


def test_what_is_thin_beside_such_a_slot_is_said_all_the_same() -> None:
    # Its middle 27.5 from the tile's left edge: 10 are left there.
    top = {"at": ["150 above B at 1000 left of V", "166 above B at 1000 right of V"], "gap": 0}
    made = plan(hole(x=29.0, opening=35, slot="towards the top"), edges={**EDGES, "top": top})
    assert only(made, "thin bridge").value == pytest.approx(10.0)


def test_an_edge_that_bends_within_a_tile_leaves_it_two_upright_sides() -> None:
    # Read at 0, 300 and 900 above B: the bend lies in the second course, 200 to 397.
    right = {"at": ["950 right of V at B", "948 right of V at 300 above B", "940 right of V at 900 above B"], "gap": 0}
    made = plan(edges={**EDGES, "right": right})
    (bent,) = (one for one in made.pieces if one.piece.course == 2 and "right" in one.cut_edges)
    assert bent.sizes is not None
    # The tile begins 901.5 right of V; at 200 the edge is at 950 - 2 * 2/3, at 397 at 948 - 8 * 97/600.
    wanted = {"left": 197.0, "right": 197.0, "bottom": 950 - 4 / 3 - 901.5, "top": 948 - 776 / 600 - 901.5}
    assert dict(bent.sizes.items()) == {side: pytest.approx(mm) for side, mm in wanted.items()}
    assert not said(made, "thin leg")


def test_an_edge_that_steps_from_end_to_end_goes_nowhere_on() -> None:
    made = plan(edges={**EDGES, "bottom": hearth()})
    assert not said(made, "edge goes on")


def hearth(low: Any = 5, high: Any = 0) -> dict[str, Any]:
    steps = [
        {"at": "90 below B", "until": "400 left of V", "gap": low},
        {"at": "60 above B", "until": "380 right of V", "gap": high},
        {"at": "90 below B", "gap": low},
    ]
    return {"what": "hearth", "steps": steps}


def test_each_step_keeps_its_own_gap_above_it_and_beside_it() -> None:
    # The tile from 498.5 to 201.5 left of V in the course that stands on B: the hearth, 60 high and with its gap of 2,
    # takes all beyond 402 left of V up to 62 above B.
    made = plan(edges={**EDGES, "bottom": hearth(high=2)})
    corners = {
        (round(x, 6), round(y, 6))
        for one in made.pieces
        for ring in one.piece.outline.moved(one.piece.tile_at).rings
        for x, y, _ in ring.vertices
    }
    assert (-402.0, 62.0) in corners
    assert (382.0, 62.0) in corners


def test_the_gaps_of_all_steps_are_on_the_job_sheet() -> None:
    text = on_paper(plan(edges={**EDGES, "bottom": hearth(high=2)}))
    first = "90 below B as far as 400 left of V (gap 5)"
    second = "60 above B from 400 left of V to 380 right of V (gap 2)"
    assert f"{first}; {second}; 90 below B from 380 right of V (gap 5)" in text


def test_of_a_step_whose_finish_is_not_known_the_job_sheet_asks() -> None:
    # A floor in two heights, of which nobody said what is still to come: neither stretch is shown as finished.
    steps = [{"at": "90 below B", "until": "400 left of V", "gap": 5}, {"at": "60 below B", "gap": 4}]
    text = on_paper(plan(edges={**EDGES, "bottom": {"what": "floor", "steps": steps}}))
    first = "90 below B as far as 400 left of V (gap 5, still to come ?)"
    assert f"{first}; 60 below B from 400 left of V (gap 4, still to come ?)" in text


def test_what_is_still_to_come_at_all_steps_is_on_the_job_sheet() -> None:
    steps = [
        {"at": "90 below B", "until": "400 left of V", "still to come": 14},
        {"at": "60 below B", "still to come": 14},
    ]
    text = on_paper(plan(edges={**EDGES, "bottom": {"what": "floor", "gap": 5, "steps": steps}}))
    first = "90 below B as far as 400 left of V (gap 5, still to come 14)"
    assert f"{first}; 60 below B from 400 left of V (gap 5, still to come 14)" in text


FLOOR = ["100 below B at 1000 left of V", "112 below B at 1000 right of V"]
"""A floor that falls 12 in 2000 was read at both ends of the room; a bath stands on it from 400 left to 380 right."""


def about_a_bath(floor: list[str], first: list[str] | None = None) -> dict[str, Any]:
    steps = [
        {"at": first or floor, "until": "400 left of V", "what": "floor", "gap": 5},
        {"at": "60 above B", "until": "380 right of V", "what": "bath", "gap": 3},
        {"at": floor, "what": "floor", "gap": 5},
    ]
    return {"still to come": "none", "steps": steps}


@pytest.mark.parametrize("floor", [FLOOR, FLOOR[::-1]])
def test_readings_outside_a_step_lie_where_they_were_taken(floor: list[str]) -> None:
    # By hand: 600 and 1380 along the 2000 the floor has fallen 12 * 600 / 2000 = 3.6 and 12 * 1380 / 2000 = 8.28.
    made = plan(edges={**EDGES, "bottom": about_a_bath(floor)})
    bottom = made.setout("wall").edges[Side.BOTTOM]
    for x, y in ((-1000, -100.0), (-400.001, -103.6), (-400, 60.0), (379.999, 60.0), (380, -108.28), (1000, -112.0)):
        assert position_at(bottom, x) == pytest.approx(y, abs=1e-4)
    text = on_paper(made)
    taken = "100 below B at 1000 left of V, 112 below B at 1000 right of V,"
    assert f"bottom edge: floor {taken} as far as 400 left of V (gap 5); bath 60 above B from 400 left" in text
    assert f"; floor {taken} from 380 right of V (gap 5)" in text
    assert not said(made, "edge goes on")


def test_a_step_goes_on_straight_past_its_last_reading_and_that_is_said() -> None:
    # Read at 1000 and 800 left, 4 apart: 400 further on, where the bath begins, the floor is 8 lower still.
    first = ["100 below B at 1000 left of V", "104 below B at 800 left of V"]
    made = plan(edges={**EDGES, "bottom": about_a_bath(FLOOR, first)})
    assert position_at(made.setout("wall").edges[Side.BOTTOM], -400.001) == pytest.approx(-112.0, abs=1e-4)
    found = only(made, "edge goes on")
    assert found.value == pytest.approx(8.0)
    assert "400 right of its last reading" in found.text


def test_a_step_of_which_all_readings_lie_beyond_it_goes_on_by_their_line() -> None:
    # 2 lower in 200 between the two: at 400 left, 800 before the first, 8 higher; at 900 left 5 higher still.
    first = ["100 below B at 400 right of V", "102 below B at 600 right of V"]
    made = plan(edges={**EDGES, "bottom": about_a_bath(FLOOR, first)})
    bottom = made.setout("wall").edges[Side.BOTTOM]
    assert position_at(bottom, -400.001) == pytest.approx(-92.0, abs=1e-4)
    assert position_at(bottom, -900) == pytest.approx(-87.0)


def test_two_readings_of_a_step_say_where_each_was_taken_and_not_at_one_place() -> None:
    for twice, word in (
        (["100 below B", "112 below B"], "does not say where it was taken"),
        (["100 below B at V", "112 below B at V"], "at one place"),
    ):
        with pytest.raises(JobError, match=word):
            plan(edges={**EDGES, "bottom": about_a_bath(FLOOR, twice)})


def test_a_step_that_ends_where_the_one_before_it_does_is_refused() -> None:
    bath = about_a_bath(FLOOR)
    bath["steps"][1]["until"] = "400 left of V"
    with pytest.raises(JobError, match='It ends at "400 left of V", where the step before it does: write where it'):
        plan(edges={**EDGES, "bottom": bath})


def test_an_edge_that_was_read_in_both_its_corners_goes_nowhere_on() -> None:
    # The left wall leans out by 200, past where the floor, 25 in 1000 out of level, was read: the floor does not go
    # there. Read short of the corner by 200 it does, by 5.
    left = {"at": ["1000 left of V at B", "1200 left of V at 900 above B"], "gap": 0}

    def floor(first: str) -> Plan:
        return plan(edges={**EDGES, "left": left, "bottom": {"at": [first, "50 above B at 1000 right of V"], "gap": 0}})

    assert not said(floor("0 above B at 1000 left of V"), "edge goes on")
    found = only(floor("5 above B at 800 left of V"), "edge goes on")
    assert found.value == pytest.approx(5.0)
    assert "200 left of its last reading" in found.text


def test_an_edge_is_looked_at_where_another_was_not_read() -> None:
    # 6 in 600, and 400 to the ceiling; the left edge was not read.
    edges = {**EDGES, "right": {"at": ["1000 right of V at B", "1006 right of V at 500 above B"], "gap": 0}}
    del edges["left"]
    assert only(plan(edges=edges), "edge goes on").value == pytest.approx(4.8)
    # Nothing is known of how far it goes where there is no ceiling.
    del edges["top"]
    assert not said(plan(edges=edges), "edge goes on")


def test_two_edges_that_lean_together_do_not_end_where_they_would_meet() -> None:
    # 6 in 500 on either side, 2000 apart: they would meet 83 m up, and nobody has read a ceiling yet.
    left = {"at": ["1000 left of V at B", "994 left of V at 500 above B"], "gap": 0}
    right = {"at": ["1000 right of V at B", "994 right of V at 500 above B"], "gap": 0}
    edges = {**EDGES, "left": left, "right": right}
    assert len(said(plan(edges=edges), "edge goes on")) == 2
    del edges["top"]
    assert not said(plan(edges=edges), "edge goes on")


def test_a_small_step_is_cut_straight_and_is_no_l_cut() -> None:
    # The floor steps by 1.6, a sixteenth, at 150 right of V: 90 and 91.6 are left of the tile that hangs below B.
    def stepping(second: str) -> str:
        steps = [{"at": "90 below B", "until": "150 right of V", "gap": 0}, {"at": second, "gap": 0}]
        made = plan(edges={**EDGES, "bottom": {"steps": steps}})
        (found,) = (one for one in made.pieces if one.piece.place == (0, -1))
        return shape_words(found, Style())

    assert stepping("91.6 below B") == "a step of 1½: cut it straight, 87 high, and the joint takes up the rest"
    assert stepping("100 below B").startswith("L cut, the bottom left corner goes")


def test_a_little_off_one_tile_is_not_off_a_row() -> None:
    # One course, its last tile 1201.5 to 1498.5 right of V: a wall that ends at 1496 takes 2.5 off that tile alone.
    edges = {
        **EDGES,
        "top": {**EDGES["top"], "at": "197 above B"},
        "right": {**EDGES["right"], "at": "1496 right of V"},
    }
    found = only(plan(edges=edges), "joint, not a cut")
    assert found.text.startswith("field, right: only 2½ comes off field 1-9: wet saw")
    # All the courses lose it: the whole row.
    rows = only(plan(edges={**edges, "top": EDGES["top"]}), "joint, not a cut")
    assert "comes off the whole row" in rows.text


def test_a_cover_past_one_edge_is_said_where_another_was_not_read() -> None:
    # 20 from the right edge, under a cover of 65: 12.5 past it. The ceiling was not read.
    edges = {side: edge for side, edge in EDGES.items() if side != "top"}
    assert only(plan(hole(x=980), edges=edges), "cover past the edge").value == pytest.approx(12.5)
    assert not said(plan(hole(x=960), edges=edges), "cover past the edge")
    # Over a side that was not read nothing is known.
    assert not said(plan(hole(y=1500), edges=edges), "cover past the edge")


def test_a_lever_is_held_to_an_edge_where_another_was_not_read() -> None:
    edges = {side: edge for side, edge in EDGES.items() if side != "top"}
    assert "the edge of wall" in only(plan(hole(x=900, y=300, sweep=240), edges=edges), "lever has no room").text
    assert not said(plan(hole(x=870, y=300, sweep=240), edges=edges), "lever has no room")
