"""Found more at the wall, the sheet goes the right way, from whichever side of the tile it was read.

Worked by hand, from what the words on the sheet say alone: a sheet is folded at a tick, and the tick is laid on the
tile's edge. What is drawn then lies, from that edge, where it lay from the tick. READ says that more found means that
the hole moves away from what it is read from.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from msgspec.structs import replace

from cutmarks import load_job, make_plan
from cutmarks.marks.model import Role, Stroke, Words
from cutmarks.openings.model import Cut
from cutmarks.plan import Plan
from cutmarks.saying.found_more import other_way, what_more_does
from cutmarks.saying.seen import seen
from cutmarks.sheets.build import build_sheets
from cutmarks.sheets.model import PaperSheet
from cutmarks.sides import Axis, Side
from tests.scenes import SCENES

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
JOBS = (
    "laundry/laundry.yaml",
    "mending-room/mending-room.yaml",
    "potting-bench/potting-bench.yaml",
    "harbour-view/site/wash-room.yaml",
)


def of_example(job: str) -> Plan:
    return make_plan(load_job(EXAMPLES / job))


def plus_lies(sheet: PaperSheet) -> Iterator[Side]:
    """Towards which side of the sheet + lies from the line that it is drawn beside."""
    words = [mark for mark in sheet.marks if isinstance(mark, Words)]
    edges = [mark.path for mark in sheet.marks if isinstance(mark, Stroke) and mark.role is Role.TILE_EDGE]
    for plus in (mark for mark in words if mark.text == "+5"):
        upright = plus.anchor == "middle"
        lines = {path[0].x if upright else path[0].y for path in edges if (path[0].x == path[1].x) is upright}
        at = plus.at.x if upright else plus.at.y + plus.height / 2
        near = min(lines, key=lambda line: abs(line - at))
        # Five ticks of 1 mm, or of 1/32 in.
        assert abs(at - near) == pytest.approx(5.0, abs=0.2) or abs(at - near) == pytest.approx(5 * 25.4 / 32, abs=0.2)
        if upright:
            yield Side.LEFT if at < near else Side.RIGHT
        else:
            yield Side.BOTTOM if at < near else Side.TOP


@pytest.mark.parametrize("job", JOBS)
def test_at_a_plus_tick_every_hole_goes_away_from_what_it_is_read_from(job):
    plan = of_example(job)
    seen_ticks = 0
    assert all(one.pages == 1 for one in plan.registrations)
    for sheet, registration in zip(build_sheets(plan), plan.registrations, strict=True):
        (piece,) = (one for one in plan.pieces if one.name == registration.piece)
        cuts = [spot for spot in (piece.spots[index] for index in registration.cuts) if isinstance(spot, Cut)]
        # A landscape page is drawn turned; its ticks are those of the same tile.
        if cuts and registration.layout == "portrait":
            first: dict[Axis, Side] = {}
            for check in (check for cut in cuts for check in cut.wall_checks if check.fixed):
                # On the back, left is right.
                first.setdefault(check.side.axis, check.side.mirrored if registration.back else check.side)
            # The line at + is laid on the edge: all that is drawn goes over by as much, away from where + was.
            for side in plus_lies(sheet):
                seen_ticks += 1
                assert side is first[side.axis], sheet.file
    assert seen_ticks


def words_of(plan: Plan) -> str:
    return " ".join(mark.text for sheet in build_sheets(plan) for mark in sheet.marks if isinstance(mark, Words))


def test_a_hole_read_from_the_other_side_than_it_is_marked_from_has_its_plus_inside():
    # Worked example W1 read from the tile on its right: more found there moves the hole left, towards the edge that it
    # is marked from, so that edge has to come to lie to the right of its line.
    plan = SCENES["w1"]()
    (piece,) = plan.pieces
    (cut,) = piece.cuts
    turned = tuple(replace(check, side=Side.RIGHT) if check.side is Side.LEFT else check for check in cut.wall_checks)
    plan = replace(plan, pieces=(replace(piece, cuts=(replace(cut, wall_checks=turned),)),))
    (sheet,) = build_sheets(plan)
    across = [side for side in plus_lies(sheet) if side.axis == "across"]
    assert across
    assert set(across) == {Side.RIGHT}


def test_on_the_back_left_and_right_have_changed_hands():
    plan = SCENES["w1"]()
    plan = replace(plan, registrations=tuple(replace(one, back=True) for one in plan.registrations))
    (sheet,) = build_sheets(plan)
    # Read from the left on the face, which is the right of the paper here.
    assert {side for side in plus_lies(sheet) if side.axis == "across"} == {Side.RIGHT}


def test_a_second_reading_from_the_other_side_says_that_it_is_the_other_way():
    plan = of_example("mending-room/mending-room.yaml")
    (piece,) = (one for one in plan.pieces if one.name == "pale 5-6")
    registration = next(one for one in plan.registrations if one.piece == "pale 5-6")
    shown = seen(plan, piece, registration)
    (cut,) = piece.cuts
    said = {check.side: other_way(shown, check) for check in cut.wall_checks if check.fixed}
    # Its lamp lead is read from the fixed tiles on both sides, right first: more from the left is less from the right.
    assert said == {Side.RIGHT: "", Side.LEFT: "MORE: a \u2212 tick", Side.BOTTOM: ""}
    assert "(MORE: a \u2212 tick)" in words_of(replace(plan, registrations=(registration,)))


def test_a_sheet_by_tape_says_whether_the_tape_gets_longer():
    plan = SCENES["one_edge"]()
    (piece,) = plan.pieces
    (cut,) = piece.cuts
    (registration,) = plan.registrations
    # Taped up from the lower edge, and read from the course below: more is more.
    assert registration.tape == (Side.BOTTOM,)
    assert what_more_does(seen(plan, piece, registration)).endswith("; TAPE and MARK that way as much more, or less")
    turned = tuple(replace(check, side=check.side.opposite) for check in cut.wall_checks)
    piece = replace(piece, cuts=(replace(cut, wall_checks=turned),))
    # Read from the course above, more is nearer to the lower edge.
    assert what_more_does(seen(plan, piece, registration)).endswith(
        "; TAPE and MARK that way as much less, for less as much more"
    )


def shown_from(*read: Side) -> str:
    """What worked example W1 says, its hole marked from the left and from below, where it is read from these sides."""
    plan = SCENES["w1"]()
    (piece,) = plan.pieces
    (cut,) = piece.cuts
    assert set(cut.mark_from) == {Side.LEFT, Side.BOTTOM}
    by_axis = {side.axis: side for side in read}
    checks = tuple(replace(one, side=by_axis[one.side.axis]) for one in cut.wall_checks if one.side.axis in by_axis)
    piece = replace(piece, cuts=(replace(cut, wall_checks=checks),))
    (registration,) = plan.registrations
    return what_more_does(seen(plan, piece, registration))


def test_the_figures_in_mark_go_with_the_hole():
    # A hole 100 from the left edge that is read from the left and found 3 further is marked 103 from that edge. Read
    # from the right and found 3 more, it lies 3 nearer to the left edge: 97.
    fold = "fold at a + tick, for less at a \u2212 tick; "
    assert shown_from(Side.LEFT, Side.BOTTOM) == f"{fold}MARK that way as much more, or less"
    assert shown_from(Side.RIGHT, Side.TOP) == f"{fold}MARK that way as much less, for less as much more"
    # Nothing is read up: no figure from below changes.
    assert shown_from(Side.RIGHT) == f"{fold}MARK that way as much less, for less as much more"
    mixed = shown_from(Side.RIGHT, Side.BOTTOM)
    assert re.search("MARK as much less from the LEFT edge[^;]*; MARK as much more from the lower edge", mixed), mixed


def test_a_tape_and_marks_that_go_the_same_way_are_said_at_once_and_others_each():
    plan = SCENES["one_edge"]()
    (piece,) = plan.pieces
    (cut,) = piece.cuts
    (registration,) = plan.registrations
    assert "TAPE and MARK" in what_more_does(seen(plan, piece, registration))
    # Taped from below, and read from there; across it is read from the side that it is not marked from.
    across = next(side for side in cut.mark_from if side.axis == "across")
    checks = tuple(replace(one, side=across.opposite) if one.side.axis == "across" else one for one in cut.wall_checks)
    piece = replace(piece, cuts=(replace(cut, wall_checks=checks),))
    said = what_more_does(seen(plan, piece, registration))
    assert "; TAPE as much more, or less; MARK as much less from the " in said


def test_what_is_cut_ahead_has_no_ticks_as_nothing_is_read():
    plan = SCENES["w1"]()
    (sheet,) = build_sheets(replace(plan, say=replace(plan.say, cut="ahead")))
    assert not list(plus_lies(sheet))
