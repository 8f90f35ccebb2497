"""Found more at the wall, the sheet goes the right way, from whichever side of the tile it was read.

Worked by hand, from what the words on the sheet say alone: a sheet is folded at a tick, and the tick is laid on the
tile's edge. What is drawn then lies, from that edge, where it lay from the tick. READ says that more found means that
the hole moves away from what it is read from.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path

import pytest
from msgspec.structs import replace

from cutmarks import load_job, make_plan
from cutmarks.marks.model import Role, Stroke, Words
from cutmarks.openings.model import Cut
from cutmarks.plan import Plan
from cutmarks.registering.model import Registration
from cutmarks.saying.found_more import more_words, other_way, read_sides, what_more_does
from cutmarks.saying.seen import Seen, seen
from cutmarks.sheets.build import build_pack, build_sheets
from cutmarks.sheets.model import PaperSheet
from cutmarks.sides import Axis, Side
from tests.bench.sheets_campaign import EXAMPLES as WHOLE_JOBS
from tests.bench.sheets_campaign import Case, random_case
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


def what_more(shown: Seen) -> str:
    """What is said where all edges are on the page, and have ticks."""
    return what_more_does(shown, shown.registration.edges, shown.registration.edges)


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
    said = {check.side: other_way(shown, check, shown.registration.edges) for check in cut.wall_checks if check.fixed}
    # Its lamp lead is read from the fixed tiles on both sides, right first: more from the left is less from the right.
    assert said == {Side.RIGHT: "", Side.LEFT: "MORE: a \u2212 tick", Side.BOTTOM: ""}
    assert "(MORE: a \u2212 tick)" in words_of(replace(plan, registrations=(registration,)))
    # Without ticks on that edge none is spoken of.
    (left,) = (check for check in cut.wall_checks if check.side is Side.LEFT)
    assert other_way(shown, left, ()) == "MORE: as less from the other side"


def test_a_sheet_by_tape_says_whether_the_tape_gets_longer():
    plan = SCENES["one_edge"]()
    (piece,) = plan.pieces
    (cut,) = piece.cuts
    (registration,) = plan.registrations
    # Taped up from the lower edge, and read from the course below: more is more.
    assert registration.tape == (Side.BOTTOM,)
    assert what_more(seen(plan, piece, registration)).endswith("; MEASURE and MARK that way as much more, or less")
    turned = tuple(replace(check, side=check.side.opposite) for check in cut.wall_checks)
    piece = replace(piece, cuts=(replace(cut, wall_checks=turned),))
    # Read from the course above, more is nearer to the lower edge.
    assert what_more(seen(plan, piece, registration)).endswith(
        "; MEASURE and MARK that way as much less, for less as much more"
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
    return what_more(seen(plan, piece, registration))


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
    assert "MEASURE and MARK" in what_more(seen(plan, piece, registration))
    # Taped from below, and read from there; across it is read from the side that it is not marked from.
    across = next(side for side in cut.mark_from if side.axis == "across")
    checks = tuple(replace(one, side=across.opposite) if one.side.axis == "across" else one for one in cut.wall_checks)
    piece = replace(piece, cuts=(replace(cut, wall_checks=checks),))
    said = what_more(seen(plan, piece, registration))
    assert "; MEASURE as much more, or less; MARK as much less from the " in said


def test_an_edge_without_ticks_is_folded_beside_its_line():
    # W1 is lined up on its left and its lower edge. Read from the left, 3 more moves the hole 3 to the right, and the
    # sheet with it: the tile's edge then lies 3 to the left of its line, which is outside the tile. Read from the
    # right it lies inside.
    plan = SCENES["w1"]()
    (piece,), (registration,) = plan.pieces, plan.registrations
    shown = seen(plan, piece, registration)
    left, bottom = registration.edges
    assert (left, bottom) == (Side.LEFT, Side.BOTTOM)
    assert what_more_does(shown, (left, bottom), (bottom,)).startswith(
        "fold at a + tick at the lower edge, for less at a \u2212 tick; "
        "fold the LEFT edge as much outside its line, for less inside; "
    )
    (cut,) = piece.cuts
    checks = tuple(replace(one, side=Side.RIGHT) if one.side is Side.LEFT else one for one in cut.wall_checks)
    shown = seen(plan, replace(piece, cuts=(replace(cut, wall_checks=checks),)), registration)
    assert "fold the LEFT edge as much inside its line, for less outside" in what_more_does(shown, (left, bottom), ())
    # A joined page beside neither edge goes with the one that is.
    assert what_more_does(shown, (), ()).startswith("this page goes with the one that it is joined to; ")


def test_where_read_is_full_it_is_said_in_short():
    # Two holes read from four things and marked from three edges: all of it at length took nine lines.
    (case,) = (one for one in [random_case(434)] if one is not None)
    said = words_of(case.plan)
    assert "found MORE: the hole and its MARK move AWAY from it: fold at a + tick" in said
    long, short, line = more_words(_seen_w1(), (Side.LEFT, Side.BOTTOM), (Side.LEFT, Side.BOTTOM))
    assert long.startswith("found MORE: the hole moves AWAY from it: fold at a + tick, for less at a \u2212 tick; MARK")
    assert short == "found MORE: the hole and its MARK move AWAY from it: fold at a + tick"
    assert line == "MORE: AWAY (MARK too), + tick"


def _seen_w1() -> Seen:
    plan = SCENES["w1"]()
    (piece,), (registration,) = plan.pieces, plan.registrations
    return seen(plan, piece, registration)


def on_page(sheet: PaperSheet, plan: Plan, registration: Registration, number: int) -> Iterator[tuple[Side, bool, str]]:
    """Each edge on a page along whose axis something is read: whether it has ticks, and its name in the sentences."""
    (piece,) = (one for one in plan.pieces if one.name == registration.piece)
    shown = seen(plan, piece, registration)
    cell = (number % registration.columns, number // registration.columns)
    # A set across an edge that stands upright has its figures over it, one across a level edge beside it.
    ticked = {mark.anchor for mark in sheet.marks if isinstance(mark, Words) and mark.text == "+5"}
    for side, place in zip(shown.registration.edges, cell, strict=False):
        if read_sides(shown, side.axis) and (registration.how != "joined" or place == 0):
            yield side, ("middle" if side.axis == "across" else "start") in ticked, shown.names[side].partition(" (")[0]


PLANS: dict[str, Callable[[], Plan | Case | None]] = {
    **{job: partial(of_example, job) for job in (*JOBS, *(f"{path.stem}/{path.name}" for path in WHOLE_JOBS))},
    **{str(seed): partial(random_case, seed) for seed in (*range(1, 26), 185, 378, 428)},
}


@pytest.mark.parametrize("name", PLANS)
def test_every_sentence_about_ticks_has_its_ticks_on_that_page_and_the_other_way_round(name):
    made = PLANS[name]()
    if made is None:
        return  # the seed is no job
    plan = made if isinstance(made, Plan) else made.plan
    pack = build_pack(plan)
    templates = list(pack.templates)
    assert [number for one in pack.listed for number in range(one.first, one.last + 1)] == [
        *range(1, len(templates) + 1)
    ]
    for listed in pack.listed:
        one = listed.registration
        for number, sheet in enumerate(templates[listed.first - 1 : listed.last]):
            said = " ".join(mark.text for mark in sheet.marks if isinstance(mark, Words))
            if "do not lay this sheet on a tile" in said:
                assert " tick" not in said
                assert "+5" not in said
                continue
            edges = list(on_page(sheet, plan, one, number))
            assert (" + tick" in said) is any(ticked for _, ticked, _ in edges) is ("+5" in said), sheet.file
            for _, ticked, edge in edges:
                beside = f"fold the {edge} as much" in said
                assert beside is not ticked, (sheet.file, edge)
                if "fold at a + tick at the" in said and ticked:
                    assert re.search(f"fold at a [+] tick at the [^,]*{edge}", said), (sheet.file, edge)


def test_what_is_cut_ahead_has_no_ticks_as_nothing_is_read():
    plan = SCENES["w1"]()
    (sheet,) = build_sheets(replace(plan, say=replace(plan.say, cut="ahead")))
    assert not list(plus_lies(sheet))
