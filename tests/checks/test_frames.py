"""Tiles that are slid under a frame: high enough, far enough, and whether what is cut lets them; figures by hand."""

from __future__ import annotations

from typing import Any

import pytest

from tests.checks.jobs import only, said
from tests.tiling.test_frames import FLOOR, LEG, floor

LINING = {**LEG, "name": "lining", "in": "0 to 600 from D", "goes under": 10}
"""All along the left wall, 50 deep: tile goes under from the right alone, and begins at 40."""


def riser(slot: str = "") -> list[dict[str, Any]]:
    """A pipe in the first tile, 200 right and 100 in."""
    pipe = {"name": "riser", "what": "15 copper", "across": "centre 200 right of V", "in": "centre 100 from D"}
    return [{**pipe, "cover": 65, "end": "comes off", **({"slot": slot} if slot else {})}]


def test_a_frame_has_to_be_cut_high_enough() -> None:
    # Tile + bed + 1 (common practice): 9 + 4 + 1 = 14.
    finding = only(floor({**LEG, "undercut": 13.5}), "frame too low")
    assert (finding.level, finding.limit, finding.about) == ("stop", pytest.approx(14.0), ("field 1-1",))
    assert not said(floor({**LEG, "undercut": 14}), "frame too low")


def test_a_frame_is_over_a_tile_that_is_not_cut_at_all() -> None:
    # A post of 40 in the middle of field 2-2, which lies from 300 and 200 on: 20 from all sides meet under it.
    post = {"name": "post", "across": "400 to 440 right of V", "in": "280 to 320 from D", "undercut": 13, "gap": 0}
    made = floor({**post, "goes under": 20})
    assert only(made, "frame too low").about == ("field 2-2",)
    assert "field 2-2" not in {piece.name for piece in made.pieces}


def test_a_tile_beside_a_frame_is_not_under_it() -> None:
    # The leg ends at 90 in and 50 across: no tile but the first is anywhere near.
    assert only(floor({**LEG, "undercut": 10}), "frame too low").about == ("field 1-1",)
    # A lining that ends where the second row begins.
    low = only(floor({**LINING, "in": "0 to 200 from D", "undercut": 10}), "frame too low")
    assert low.about == ("field 1-1",)


@pytest.mark.parametrize(
    ("slot", "lets"),
    [("", False), ("10 towards the left", True), ("5 towards the left", False), ("10 towards the right", False)],
)
def test_a_tile_that_is_slid_under_a_frame_needs_a_slot_over_its_pipe(slot: str, lets: bool) -> None:
    # It begins at 40 under a lining that ends at 50: put down clear of it, it is slid 10 to the left.
    made = floor(LINING, holes=riser(slot))
    if lets:
        assert not said(made, "cannot be slid under")
    else:
        finding = only(made, "cannot be slid under")
        assert finding.about == ("field 1-1", "riser")
        assert finding.text.endswith(
            "is slid 10 towards the left, under door lining, and cannot go straight over riser. "
            "Write slot: 10 towards the left."
        )


def test_a_slot_that_would_run_out_of_its_tile_is_not_what_is_offered() -> None:
    # The leg asks for 47 to the left. A pipe 60 in, core 35 under a rose of 65, would be cut from 60 - 17.5 - 47 = -4.5
    # on, and the tile begins at the wall's gap, 3: open to that edge it slides over the pipe as well.
    beside = {**riser()[0], "across": "centre 60 right of V", "in": "centre 150 from D"}
    text = only(floor(LEG, holes=[beside]), "cannot be slid under").text
    assert text.endswith(
        "cannot go straight over riser. A slot of 47 would run out over its left edge, into what lies beyond: write "
        "slot: towards the left, which ends in the joint."
    )
    opened = floor(LEG, holes=[{**beside, "slot": "towards the left"}])
    assert not said(opened, "cannot be slid under")


def test_a_slot_that_was_written_and_runs_into_the_next_tile_is_said() -> None:
    # Tile 1-2 begins at 300: from 330 the slot goes to 330 - 17.5 - 47 = 265.5, over the joint into 1-1, up to 297.
    beside = {**riser("47 towards the left")[0], "across": "centre 330 right of V"}
    found = only(floor(holes=[beside]), "slot runs over")
    assert (found.level, found.about) == ("warn", ("riser", "field 1-1"))
    assert found.text == (
        "riser: its slot of 47 towards the left runs out of its tile and cuts into field 1-1, where nothing comes "
        "through. Write slot: towards the left, which ends in the joint."
    )
    assert not said(floor(holes=riser("47 towards the left")), "slot runs over")


def test_a_tile_that_goes_round_a_leg_is_slid_as_far_as_it_reaches_behind() -> None:
    # Its strips below and above the leg begin at the wall's gap, 3: 50 - 3 = 47 to the left; 90 - 3 = 87 downward.
    assert "Write slot: 47 towards the left." in only(floor(LEG, holes=riser()), "cannot be slid under").text
    assert not said(floor(LEG, holes=riser("47 towards the left")), "cannot be slid under")


def test_a_pipe_that_the_tile_is_open_to_does_not_hinder() -> None:
    assert not said(floor(LINING, holes=riser("towards the left")), "cannot be slid under")


def test_a_tile_between_walls_with_a_leg_at_each_is_slid_under_both_at_once() -> None:
    # Walls 300 apart leave no room to put it down 47 further left or right; 90 - 3 = 87 further in they do.
    edges = {**FLOOR, "right": {"at": "300 right of V", "true": "square", "gap": 3}}
    other = {**LEG, "name": "other leg", "across": "250 to 300 right of V"}
    made = floor(LEG, other, edges=edges)
    assert not said(made, "cannot be got in")
    finding = only(made, "slid under")
    assert (finding.level, finding.about) == ("note", ("field 1-1",))
    # What lies where it is put down is read from as well: it cannot be left out, and must not be fixed.
    assert finding.text == (
        "field 1-1 goes in under a frame: put down clear of it, slid 87 towards the bottom. Until it is in, fix "
        "nothing at its top: lay that dry, to read from, and lift it."
    )


def test_a_tile_that_there_is_no_room_beside_cannot_be_got_in() -> None:
    # The same in a recess of 270: the tile reaches to 197 and would have to be put down 87 further in, up to 284.
    edges = {
        **FLOOR,
        "right": {"at": "300 right of V", "true": "square", "gap": 3},
        "top": {"at": "270 from D", "true": "square", "gap": 3},
    }
    other = {**LEG, "name": "other leg", "across": "250 to 300 right of V"}
    findings = said(floor(LEG, other, edges=edges), "cannot be got in")
    assert {finding.level for finding in findings} == {"stop"}
    assert all("there is no room to put it down" in finding.text for finding in findings)
    assert said(
        floor(LEG, other, edges={**edges, "top": {"at": "290 from D", "true": "square", "gap": 3}}), "slid under"
    )


def test_a_tile_under_a_post_at_each_end_is_slid_under_neither() -> None:
    # Away from the walls there is room to both sides: it goes 30 to the left under the one, 27 to the right under the
    # other, and cannot do both. The tile is the second of its row, 300 to 597; the posts lie 30 and 27 in it, and each
    # reaches on under the next.
    posts = [
        {"name": name, "across": across, "in": "230 to 370 from D", "undercut": 14, "goes under": 10, "gap": 0}
        for name, across in (("first", "290 to 330 right of V"), ("second", "570 to 610 right of V"))
    ]
    finding = next(one for one in said(floor(*posts), "cannot be got in") if one.about == ("field 2-2",))
    assert finding.level == "stop"
    assert "Or slide it under both at once: " in finding.text
    # A leg further in is under the next tile: each is slid under its own.
    apart = {**LEG, "name": "other leg", "across": "850 to 900 right of V"}
    assert not said(floor(LEG, apart), "cannot be got in")
