"""What was forgotten is asked for in one sentence, with the default that was taken."""

from __future__ import annotations

import pytest

from cutmarks.sides import Side
from tests.job.jobs import FLOOR, WALL, changed, job


def test_nothing_forgotten_nothing_assumed():
    assert job(WALL).assumed == ()
    assert job(FLOOR).assumed == ()


def test_a_tile_off_the_box():
    assert job(changed(", measured: yes", "")).assumed == (
        "tile rib: size taken off the box; lay out five with their joints and write what they measure, "
        "as in run across: 5 in ..., or measured: yes.",
    )
    assert job(changed("measured: yes", "run across: 5 in 1497")).assumed == ()


def test_an_edge_read_once_is_taken_as_true():
    once = changed("    areas:\n", "    edges: {left: 1140 left of V, top: 1462 above B}\n    areas:\n")
    assert job(once).assumed == (
        "sink wall, left edge: one reading, taken as plumb; read it at a second place.",
        "sink wall, top edge: one reading, taken as level; read it at a second place.",
    )
    said = once.replace("left: 1140 left of V", "left: {at: 1140 left of V, true: plumb}").replace(
        "top: 1462 above B", "top: [1462 above B at V, 1460 above B at 900 left of V]"
    )
    assert job(said).assumed == ()


def test_a_finish_that_is_still_to_come():
    for what in ("floor", "next wall"):
        edge = f"    edges:\n      bottom: {{at: 150 below B, true: level, what: {what}}}\n    areas:\n"
        read = job(changed("    areas:\n", edge))
        assert read.assumed == (
            f"sink wall, bottom edge: what {what} will still take off is not known, nothing is taken; "
            "write still to come: 14 (its bed and tile), or none, before a piece is trimmed there.",
        )
        assert not read.surfaces[0].edges[Side.BOTTOM].still_to_come_known
    for said in ("14", "none", "0"):
        edge = f"{{at: 150 below B, true: level, what: floor, still to come: {said}}}"
        read = job(changed("    areas:\n", f"    edges:\n      bottom: {edge}\n    areas:\n"))
        assert read.assumed == ()
        assert read.surfaces[0].edges[Side.BOTTOM].still_to_come == (14 if said == "14" else 0)


STEPPED = "    edges:\n      bottom: {{what: floor{more}, steps: [{{at: 90 below B, until: 250 right of V{first}}}, "
STEPPED += "{{at: 60 below B{second}}}]}}\n    areas:\n"


@pytest.mark.parametrize("more", ["", ', still to come: "?"'])
def test_what_an_edge_is_holds_for_its_steps_too(more):
    # A floor in two heights: its finish may still come at both, though neither step says again that it is a floor.
    read = job(changed("    areas:\n", STEPPED.format(more=more, first="", second="")))
    assert read.assumed == (
        "sink wall, bottom edge: what floor will still take off is not known, nothing is taken; "
        "write still to come: 14 (its bed and tile), or none, before a piece is trimmed there.",
    )
    assert [step.still_to_come_known for step in read.surfaces[0].edges[Side.BOTTOM].steps] == [False, False]


def test_what_an_edge_says_is_still_to_come_holds_for_each_step_that_does_not_say_its_own():
    for more, first, second, steps in (
        (", still to come: 14", "", "", [14, 14]),
        (", still to come: 14", ", still to come: none", "", [0, 14]),
        (', still to come: "?"', ", still to come: 20", ", still to come: none", [20, 0]),
        ("", ", still to come: 20", ", what: bath", [20, 0]),
    ):
        read = job(changed("    areas:\n", STEPPED.format(more=more, first=first, second=second)))
        assert read.assumed == ()
        bottom = read.surfaces[0].edges[Side.BOTTOM]
        assert bottom.finish_known
        assert [step.still_to_come for step in bottom.steps] == steps


def test_covers_and_ends_on_a_wall():
    assert job(changed("        cover: 65\n        end: comes off\n", "")).assumed == (
        "sink wall, hole hot: cover not known, hole = pipe + 6 or the next core; write cover: 65, or none.",
        "sink wall, hole hot: the end comes off; write end: runs on where it does not.",
    )


def test_an_end_on_a_floor_is_asked_for():
    assert job(changed("        end: comes off\n", "", FLOOR)).assumed == (
        "wc floor, hole soil: does the end come off? Taken as yes; write end: comes off, or end: runs on.",
    )


def test_a_box_has_a_cover_and_no_end():
    box = changed("what: 15 copper", "what: socket box").replace("        cover: 65\n        end: comes off\n", "")
    assert job(box).assumed == (
        "sink wall, box hot: cover not known, so nothing is said about what it hides; write cover: 86 x 86, or none.",
    )


def at_an_edge(across: str) -> str:
    """The wall with its right edge read, and the hole read from it."""
    wall = changed("    areas:\n", "    edges: {right: {at: 900 right of V, true: plumb}}\n    areas:\n")
    return changed("67 to 83 left of V", across, wall)


def test_a_single_distance_from_an_edge_or_in_a_course_goes_to_the_centre():
    sentence = (
        "sink wall, hole hot: the single distance is taken to the centre; "
        "write near or far before it if it is to a side."
    )
    assert job(at_an_edge("277 in from right there")).assumed == (sentence,)
    assert job(changed("212 to 228 above B", "in course 4, 98 up")).assumed == (sentence,)
    assert job(at_an_edge("centre 277 in from right there")).assumed == ()


def test_which_way_a_third_goes_on():
    assert job(changed("joint: 3\n", "joint: 3\n        bond: third left\n")).assumed == (
        "area splash: bond third left goes back and forth; "
        "write third left, stepped if each course goes on from the last.",
    )
    assert job(changed("joint: 3\n", "joint: 3\n        bond: third left, stepped\n")).assumed == ()
    assert job(changed("joint: 3\n", "joint: 3\n        bond: half\n")).assumed == ()


def test_many_of_a_kind_are_one_sentence():
    more = "".join(
        f"      - {{name: p{n}, what: 15 copper, across: {100 * n} to {100 * n + 15} right of V, "
        "up: 2 to 17 above B, cover: 65}\n"
        for n in range(1, 12)
    )
    assert job(WALL + more).assumed == (
        "sink wall, holes p1, p2, p3, p4, p5, p6, p7, p8 and 3 others: the end comes off; "
        "write end: runs on where it does not.",
    )
