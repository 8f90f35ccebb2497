"""A kitchen wall as its tiler says it: a window that goes on up, a finish, a joint in a bond, a box with its size.

Figures are worked by hand from the sentences: right and up are positive.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from cutmarks.errors import JobError
from cutmarks.geometry.shapes import Rect
from cutmarks.job import build_job
from cutmarks.job.laying import bond_said, parse_bond
from cutmarks.job.said_edge import edge_said
from cutmarks.job.said_tile import start_said, tile_said
from cutmarks.job.words import Setting
from cutmarks.plan import make_plan
from cutmarks.sides import Side
from cutmarks.units import Unit

SETTING = Setting(
    unit=Unit.MM,
    lines={"V": "x", "B": "y"},
    line_words={"V": "middle of the window", "B": "top of the worktop at its highest"},
)
EDGES = {
    "left": "1480 left of V, next wall, finished",
    "right": "1150 right of V, plumb",
    "bottom": "3 below B, worktop, level",
    "top": {"at": "452 above B", "what": "wall units", "true": "level"},
}


def kitchen(window="window, 450 left to 450 right of V, 210 to 900 above B", holes=(), edges=None, **area):
    return build_job({
        "job": "Quarry Cottage",
        "tiles": {"chalk": {"size": "200 x 100", "measured": "yes"}},
        "surfaces": [
            {
                "name": "sink wall",
                "kind": "wall",
                "lines": {"V": "plumb, middle of the window", "B": "level, top of the worktop"},
                "edges": EDGES if edges is None else edges,
                "windows": [window],
                "areas": [{"name": "splash", "tile": "chalk", "joint": 2, "start": "joint on V, sits on B", **area}],
                "holes": list(holes),
            }
        ],
    })  # fmt: skip


def refused(**said):
    with pytest.raises(JobError) as error:
        kitchen(**said)
    return " ".join(fault.sentence for fault in error.value.faults)


@pytest.mark.parametrize("up", [
    "210 above B, goes on up past the wall units",
    "from 210 above B, runs on past the wall units",
    "sill 210 above B, head above the wall units",
    "210 above B up past the units",
    "210 above B, carries on up",
    "210 above B and up",
    "from 210 above B upwards",
])  # fmt: skip
def test_a_window_that_goes_on_up_ends_beyond_the_edge_above(up):
    plan = make_plan(kitchen(window=f"window, 450 left to 450 right of V, {up}"))
    (void,) = plan.setout("sink wall").voids
    box = void.measured.bounds
    assert (box.min_x, box.max_x, box.min_y) == (-450.0, 450.0, 210.0)
    assert box.max_y > 452.0
    # The same ground as with a window whose head was read, anywhere above the wall units.
    told = make_plan(kitchen())
    assert plan.surfaces[0].areas[0].counts == told.surfaces[0].areas[0].counts


def test_a_lining_leaves_no_tile_over_such_a_window():
    window = {"name": "window", "across": "450 left to 450 right of V", "up": "210 above B, goes on up", "lining": 300}
    (void,) = make_plan(kitchen(window=window)).setout("sink wall").voids
    assert void.measured.bounds.max_y - 300.0 > 452.0


def test_without_an_edge_above_both_sides_are_wanted():
    edges = {side: edge for side, edge in EDGES.items() if side != "top"}
    sentence = refused(window="window, 450 left to 450 right of V, 210 above B, goes on up", edges=edges)
    assert "write the top edge, or both sides of the window, as in up: 210 to 900 above B" in sentence


def test_the_sides_of_a_window_are_its_sill_and_its_head():
    (void,) = (
        make_plan(kitchen(window="window, 450 left to 450 right of V, sill 210, head 400 above B"))
        .setout("sink wall")
        .voids
    )
    assert (void.measured.bounds.min_y, void.measured.bounds.max_y) == (210.0, 400.0)


def test_one_side_alone_is_told_that_it_may_go_on():
    window = {"name": "window", "across": "450 left to 450 right of V", "up": "centre 210 above B"}
    assert "210 above B, goes on up" in refused(window=window)


def test_how_it_goes_on_belongs_to_how_high_it_begins():
    said = "window, 380 left to 420 right of V, sill 165 above B, goes on up past the wall units"
    (void,) = make_plan(kitchen(window=said)).setout("sink wall").voids
    assert void.measured.bounds.min_y == 165.0
    with pytest.raises(JobError, match="stands behind how high it begins"):
        kitchen(window="window, goes on up past the wall units, 380 left to 420 right of V, 165 above B")


def test_the_size_of_a_plate_is_none_of_the_socket_behind_it():
    said = "toaster, single socket, 795 to 868 right of V, 133 to 207 above B, plate 86 x 86"
    hole = kitchen(holes=[said]).surfaces[0].holes[0]
    assert hole.what == "single socket"
    # A box, 73 across as read and 2 of play all round; a round thing would have a core.
    assert make_plan(kitchen(holes=[said])).openings[0].shape == Rect(73.0 + 2 * 2.0, 74.0 + 2 * 2.0)


def test_a_wall_that_goes_on_is_a_remark():
    keys = edge_said("1480 left of V, wall, goes on up past the wall units", Side.LEFT, SETTING)
    assert keys == {"at": "1480 left of V", "what": "wall", "note": "the wall goes on up past the wall units"}


@pytest.mark.parametrize("what", ["open end, ", "plumb, ", "wall units, ", ""])
def test_where_the_tiles_may_be_meant_it_is_asked(what):
    with pytest.raises(ValueError, match="can be said of what is there or of the tiles: leave it out"):
        edge_said(f"1150 right of V, {what}goes on up past the wall units", Side.RIGHT, SETTING)


def test_what_an_edge_is_in_line_with_is_a_remark():
    keys = edge_said("1150 right of V, in line with the end of the wall units, open end", Side.RIGHT, SETTING)
    assert keys["at"] == "1150 right of V"
    assert keys["note"] == "in line with the end of the wall units"


@pytest.mark.parametrize("finish", ["glaze", "gloss glaze", "matt finish", "white glaze", "reactive glaze"])
def test_a_finish_behind_the_name_is_a_remark(finish):
    name, keys, area = tile_said(f"chalk, 200 x 100, {finish}, joint 2", SETTING)
    assert (name, keys, area) == ("chalk", {"size": "200 x 100", "note": finish}, {"joint": "2"})


def test_a_glaze_beside_what_it_is_made_of_stands_with_that():
    _, keys, _ = tile_said("chalk, 200 x 100, 7 thick, glaze white ceramic, joint 2", SETTING)
    assert (keys["thickness"], keys["material"]) == ("7", "glaze white ceramic")


def test_what_a_tile_looks_like_may_stand_behind_its_size_and_its_name():
    name, keys, area = tile_said("metro 150 x 75 bevelled white gloss, 2 joint", SETTING)
    assert (name, keys, area) == ("metro", {"size": "150 x 75", "note": "bevelled white gloss"}, {"joint": "2"})


def test_a_bond_among_the_words_of_a_tile_is_told_where_it_stands():
    with pytest.raises(ValueError, match='"brick bond" is how they are laid: write it with the area'):
        tile_said("linen, 150 x 75 x 8 ceramic, brick bond, joint 2", SETTING)


def test_two_names_are_two_still():
    with pytest.raises(ValueError, match="both say name"):
        tile_said("chalk, 200 x 100, slate grey oak, joint 2", SETTING)


@pytest.mark.parametrize("bond", ["brick, joint 2", "joint 2, brick", "brick bond, 2mm joints"])
def test_a_joint_in_a_bond_is_the_joint(bond):
    said, more = bond_said(bond, SETTING)
    assert parse_bond(said, Unit.MM).part == Fraction(1, 2)
    assert more["joint"] in ("2", "2mm")


def test_a_joint_in_a_bond_goes_before_that_of_the_tile():
    # The tile says 2, the area's own bond 3; where the area says its joint too the two are told apart.
    job = {
        "job": "Quarry Cottage",
        "tiles": {"chalk": {"size": "200 x 100", "measured": "yes", "joint": 2}},
        "surfaces": [
            {
                "name": "sink wall",
                "kind": "wall",
                "lines": {"V": "plumb, middle of the window", "B": "level, top of the worktop"},
                "areas": [{"name": "splash", "tile": "chalk", "bond": "brick, joint 3"}],
            }
        ],
    }
    assert build_job(job).surfaces[0].areas[0].joint == 3.0
    assert "which stands beside it" in refused(bond="brick, joint 3")


def test_a_joint_where_a_bond_is_wanted_is_told_where_it_stands():
    with pytest.raises(ValueError, match="write joint: 2, and here how courses sit, as in bond: half"):
        parse_bond("joint 2", Unit.MM)


@pytest.mark.parametrize("bond", ["brick", "bricks", "brick style", "like bricks"])
def test_a_bond_called_after_bricks_is_a_half(bond):
    assert parse_bond(bond, Unit.MM).part == Fraction(1, 2)


def test_how_tiles_sit_is_said_with_the_joint_and_what_they_stand_on():
    assert start_said("brick, 2 joint, joint on V, full tile on the worktop", SETTING) == {
        "bond": "brick",
        "joint": "2",
        "start across": "joint on V",
        "start up": "full tile on the worktop",
    }
    assert start_said("brick, not decided yet", SETTING) == {"bond": "brick"}
    assert start_said("half lap, joint in the middle of the window, whole tile at the worktop", SETTING) == {
        "bond": "half lap",
        "start across": "joint in the middle of the window",
        "start up": "whole tile at the worktop",
    }


def test_an_open_end_is_what_is_there_and_no_end_of_an_edge():
    for end in ("open end", "free end"):
        keys = edge_said(f"1150, {end}", Side.RIGHT, SETTING)
        assert keys == {"at": "1150 right of V", "what": end}


def test_a_box_of_several_sizes_has_the_one_that_is_said():
    said = "kettle, double socket box 133 x 72, centre 766 left of V, centre 186 above B, plate 146 x 86"
    keys = {
        "name": "kettle",
        "what": "double socket box 133 x 72",
        "across": "centre 766 left of V",
        "up": "centre 186 above B",
        "cover": "146 x 86",
    }
    for hole in (said, keys):
        spec = kitchen(holes=[hole]).surfaces[0].holes[0]
        assert spec.size is not None
        assert (spec.size.first, spec.size.second) == (133.0, 72.0)


def test_both_sides_that_were_read_go_before_the_size_in_its_name():
    said = "kettle, double socket box 133 x 72, 700 to 835 left of V, 150 to 222 above B, plate 146 x 86"
    assert kitchen(holes=[said]).surfaces[0].holes[0].size is None
