"""What is read for a piece that is trimmed, and the cut it gives; figures by hand."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from cutmarks import load_job, make_plan
from cutmarks.openings.model import CutPiece, Infill
from cutmarks.saying.infills import expected_lines, infill_found_words, infill_lines
from tests.properties.wall import BOX, faults_of, plan_of
from tests.properties.wall import piece as named

BOOT_ROOM = Path(__file__).parents[2] / "examples/boot-room/boot-room.yaml"
SHOWER_BAY = BOOT_ROOM.parents[1] / "shower-bay/shower-bay.yaml"


def near(value: float) -> Any:
    return pytest.approx(value, abs=1e-4)


W5: dict[str, Any] = {
    "tile": {"size": "448 x 448"},
    "area": {"from": "B"},
    "surface": {
        "edges": {
            "left": {"at": "1000 left of V", "true": "plumb"},
            "right": {
                "at": ["1020 right of V at B", "1011 right of V at 1800 above B"],
                "what": "next tiles",
                "gap": 3,
            },
            "bottom": {"at": "0 above B", "true": "level", "gap": 0},
            "top": {"at": "1500 above B", "true": "level"},
        }
    },
}
"""Worked example W5, with the other edges too: right of V whole tiles end at 899, the corner is 1020 - y/200."""


def piece_at(plan, place: tuple[int, int]) -> CutPiece:
    return next(piece for piece in plan.pieces if piece.piece.place == place)


def across(piece: CutPiece) -> Infill:
    return next(one for one in piece.infills if one.side.axis == "across")


def test_the_opening_to_a_raking_corner_at_both_ends() -> None:
    infill = across(piece_at(plan_of(**W5), (2, 0)))
    assert (infill.side, infill.source.kind, infill.source.name, infill.to) == (
        "right",
        "piece",
        "field 1-5",
        "next tiles",
    )
    # From 899 to 1020 and, at 448, to 1017.76; less the joint of 2 and the gap of 3: W5's 116.00 and 113.76.
    assert [(end.at, end.opening, end.cut) for end in infill.ends] == [
        ("bottom", near(121), near(116)),
        ("top", near(118.76), near(113.76)),
    ]
    assert [(off.what, off.mm) for off in infill.off] == [("joint", near(2)), ("gap", near(3))]


def test_it_is_said_with_cuts_that_go_in() -> None:
    plan = plan_of(**W5)
    lines = list(infill_lines(plan, piece_at(plan, (2, 0))))
    assert lines == [
        "from the fixed tile on the left to the next tiles 121 at the bottom, 119 at the top, less joint 2 and gap 3: "
        "keep 116, 113½"
    ]


def test_a_floor_that_is_still_to_come_comes_off() -> None:
    # Under 1 from -102 to -2 over a floor at -80 that still gets 14, gap 5: from course 1 at 0 the opening is 80; less
    # the joint of 2, 14 and 5 it is cut to 59.
    floor = {"at": "80 below B", "true": "level", "what": "floor", "gap": 5, "still to come": 14}
    plan = plan_of(surface={"edges": {**BOX, "bottom": floor}})
    piece = piece_at(plan, (0, -1))
    (infill,) = piece.infills
    assert (infill.source.name, infill.to) == ("field 1-6", "floor")
    assert [(off.what, off.mm) for off in infill.off] == [
        ("joint", near(2)),
        ("gap", near(5)),
        ("still to come", near(14)),
    ]
    assert [(end.opening, end.cut) for end in infill.ends] == [(near(80), near(59))] * 2
    assert piece.sizes is not None
    assert piece.sizes.left == near(59)


def test_under_a_sill_and_from_a_window() -> None:
    # A window 3 to 60 right of V: left of it the tile from -101 to -1 is whole; right of it the piece from 63 to 101
    # has nothing on its left but the window, whose gap comes off: it waits for the tile on its right, from 103 on.
    windows = [{"name": "window", "across": "3 to 60 right of V", "up": "100 to 400 above B", "gap": 3}]
    plan = plan_of(surface={"edges": BOX, "windows": windows})
    piece = piece_at(plan, (0, 1))
    assert piece.cut_edges == ("left",)
    infill = across(piece)
    assert (infill.side, infill.to) == ("left", "window")
    assert (infill.source.kind, infill.source.name) == ("piece", "field 2-7")
    # From 103 to 60: the joint of 2, the piece of 38, the window's gap of 3.
    assert [(end.opening, end.cut) for end in infill.ends] == [(near(43), near(38))] * 2
    assert [(off.what, off.mm) for off in infill.off] == [("joint", near(2)), ("gap", near(3))]


def test_a_cut_that_begins_a_course_is_not_measured_across_the_room() -> None:
    # Worked from the left wall, which keeps 22 of the first tile: 230 less gap 3 less 205. The second tile is fixed
    # first, from 203 left of V; from there to the wall are 27, the joint of 2 and the gap of 3 with the piece.
    plan = plan_of(surface={"edges": {**BOX, "left": "230 left of V"}}, area={"work": "left to right"})
    infill = across(piece_at(plan, (-3, 0)))
    assert (infill.source.kind, infill.side) == ("piece", "left")
    assert [(end.opening, end.cut) for end in infill.ends] == [(near(27), near(22))] * 2


def test_nothing_is_worked_out_where_a_finish_is_not_known_yet_and_that_is_said() -> None:
    floor = {"at": "80 below B", "true": "level", "what": "floor", "still to come": "?"}
    plan = plan_of(surface={"edges": {**BOX, "bottom": floor}})
    piece = piece_at(plan, (0, -1))
    assert piece.infills == ()
    assert list(infill_lines(plan, piece)) == [
        "up: nothing yet, as what is still to come at the floor is not known: measure it when it is there"
    ]


def test_only_what_is_cut_to_a_next_wall_whose_tile_is_not_known_waits_for_it() -> None:
    # Tiles of 100, joint 2, a joint on V: the fifth tile right of V lies from 409 to 509, and the wall ends at 500. Of
    # the pieces only those of that column, number 4 from the start, are cut to it.
    next_wall = {"at": "500 right of V", "true": "plumb", "what": "next wall", "still to come": "?"}
    plan = plan_of(surface={"edges": {**BOX, "right": next_wall}})
    at_the_wall = {piece.name for piece in plan.pieces if piece.piece.place[0] == 4}
    assert len(at_the_wall) == 10  # under B to -400 and over it to 600: rows of 102, four under and six over
    (waits,) = [finding for finding in plan.findings if finding.rule == "still to come"]
    assert (waits.level, set(waits.about)) == ("stop", at_the_wall)
    assert "Measure them when it is there" in waits.text
    said = "across: nothing yet, as what is still to come at the next wall is not known: measure it when it is there"
    assert {piece.name for piece in plan.pieces if said in infill_lines(plan, piece)} == at_the_wall
    others = [piece for piece in plan.pieces if piece.name not in at_the_wall]
    assert all(any(": keep" in line for line in infill_lines(plan, piece)) for piece in others)


def test_round_the_foot_of_a_door_frame() -> None:
    # examples/boot-room: the middle tile goes up first, from 298.5 left of C to 298.5 right of it; left of it 1-2,
    # joint 3. The frame stands 418 to 474 left of C and 92 deep, and tile goes 12 under it: the notch begins
    # 418 - 298.5 - 3 + 12 = 128.5 from the tile's right edge and ends at 474 - 298.5 - 3 - 12 = 160.5. Worked
    # towards the door: course 2 begins 4 + 597 + 3 = 604 in; 604 - 92 = 512 to the frame, 512 - 3 + 12 = 521 of tile.
    plan = make_plan(load_job(BOOT_ROOM))
    assert list(infill_lines(plan, named(plan, "floor 1-2"))) == [
        "from the fixed tile on the right to the door frame leg 119½, less joint 3, plus 12 to go under it: keep 128½",
        "from the fixed tile on the right to the far side of the door frame leg 175½, less joint 3, less 12 to go "
        "under it: tile again from 160½",
        "from the next row away from D to the door frame leg 512, less joint 3, plus 12 to go under it: keep 521",
    ]


ALCOVE = {"name": "alcove", "across": "122.2 to 160.4 right of V", "up": "130 to 160 above B", "gap": 3}


def test_all_round_a_niche_inside_a_tile() -> None:
    # Tile 2-7 lies 103 to 203 right of V and 102 to 202 above B; 2-6 ends at 101, the course below at 100. Across: 21.2
    # to the niche, 59.4 to its far side; the hole from 21.2 - 2 - 3 = 16.2 (in: 16) to 59.4 - 2 + 3 = 60.4 (past: 60½).
    plan = plan_of(surface={"edges": BOX, "niches": [ALCOVE]})
    assert list(infill_lines(plan, piece_at(plan, (1, 1)))) == [
        "from the fixed tile on the left to the niche alcove 21, less joint 2 and gap 3: keep 16",
        "from the fixed tile on the left to the far side of the niche alcove 59½, less joint 2, plus gap 3: tile again "
        "from 60½",
        "from the course below to the niche alcove 30, less joint 2 and gap 3: keep 25",
        "from the course below to the far side of the niche alcove 60, less joint 2, plus gap 3: tile again from 61",
    ]


def test_both_sides_of_what_it_is_notched_round_are_found() -> None:
    entry = {"piece": "field 2-7", "opening across": "22 and 60"}
    plan = plan_of(surface={"edges": BOX, "niches": [ALCOVE]}, job={"found": [entry]})
    # 22 - 5 = 17; 60 + 1 = 61.
    assert [infill_found_words(back, plan.say.style) for back in plan.infills_found] == [
        "the opening to the niche alcove was found 22 (21 expected): keep 17.",
        "the opening to the far side of the niche alcove was found 60 (59½ expected): tile again from 61.",
    ]
    (sentence,) = faults_of(
        surface={"edges": BOX, "niches": [ALCOVE]}, job={"found": [{**entry, "opening across": "22"}]}
    )
    assert (
        "field 2-7 has 2 openings to read across, to the niche alcove and to the far side of the niche alcove: give a "
        "figure for each, as in 21 and 59½."
    ) in sentence


STEPPED = {
    "what": "worktop",
    "steps": [
        {"at": "50 below B", "until": "130 left of V", "gap": 5},
        {"at": "30 above B", "until": "140 right of V", "gap": 0, "what": "hearth"},
        {"at": "50 below B", "gap": 5, "what": "floor"},
    ],
}


def test_a_step_is_called_what_it_is() -> None:
    # Under 1-4 (103 to 203 left of V) ends at the side of the hearth, 130 left of V. The tile on its left ends 205
    # left: 75, less joint 2. Under it lies the worktop at 50, less joint 2 and gap 5.
    plan = plan_of(surface={"edges": {**BOX, "bottom": STEPPED}})
    assert list(infill_lines(plan, piece_at(plan, (-2, -1)))) == [
        "from the fixed tile on the left to the hearth 75, less joint 2: keep 73",
        "from the course above to the worktop 50, less joint 2 and gap 5: keep 43",
    ]
    # Over the hearth 100 - 30 = 70 stay, read from where the tile's own top comes, 100 above B, not from the ceiling.
    assert list(infill_lines(plan, piece_at(plan, (0, 0)))) == [
        "from where its own top edge comes (mark it 100 above B first) to the hearth 70: keep 70"
    ]
    # The floor of the last stretch may still get its finish, so only what is cut to that waits.
    unknown = "up: nothing yet, as what is still to come at the floor is not known: measure it when it is there"
    assert list(infill_lines(plan, piece_at(plan, (2, -1)))) == [unknown]
    (waits,) = (finding for finding in plan.findings if finding.rule == "still to come")
    # The first of them begins at the hearth's other side, and is put in after the one on its right.
    assert waits.about == ("field under 1-8", "field under 1-7", "field under 1-9", "field under 1-10")
    assert waits.text.startswith("wall: floor is still to come")


def test_a_turned_area_says_why_nothing_is_read() -> None:
    plan = plan_of(surface={"edges": BOX}, area={"turn": 45, "start": {"across": "corner on V", "up": "corner on B"}})
    trimmed = next(piece for piece in plan.pieces if piece.piece.trimmed)
    assert list(infill_lines(plan, trimmed)) == [
        "nothing square to the wall, its area is turned: hold the tile up dry in its place, and mark it there"
    ]


def test_a_surface_by_its_corners_is_read_to_as_well() -> None:
    corners = ["250 left of V, 0 above B", "250 right of V, 0 above B", "250 right of V, 230 above B"]
    plan = plan_of(surface={"outline": [*corners, "250 left of V, 230 above B"], "gaps": {"right": 3}})
    # From the tile that ends at 203 to 250: 47, less joint 2 and gap 3.
    assert next(infill_lines(plan, piece_at(plan, (2, 1)))) == (
        "from the fixed tile on the left to the right edge 47, less joint 2 and gap 3: keep 42"
    )


def found(**entry: object) -> list[dict[str, object]]:
    return [{"piece": "field 1-6", **entry}]


def test_an_opening_that_was_found_gives_the_cut() -> None:
    plan = plan_of(**W5, job={"found": found(**{"opening across": "120 and 118"})})
    (back,) = plan.infills_found
    # One less at the bottom, 0.76 less at the top: 115 and 113.
    assert [(end.opening, end.cut) for end in back.ends] == [(120, near(115)), (118, near(113))]
    assert infill_found_words(back, plan.say.style) == (
        "the opening to the next tiles was found 120 at the bottom, 118 at the top (121 at the bottom, 119 at the top "
        "expected): keep 115, 113."
    )
    assert plan.found == ()


@pytest.mark.parametrize(
    ("entry", "words"),
    [
        ({"opening up": "90"}, "field 1-6 is not trimmed up"),
        ({"opening across": "4"}, "4 leaves nothing of field 1-6: 5 comes off it"),
        ({"opening across": "460"}, "would be filled by 455 of a tile, and field 1-6 is cut from one of 448"),
        ({"opening across": "4 and 5 and 6"}, "has 3 openings across, and is read to the next tiles: give one figure"),
        ({"opening across": "120", "left": "70 to 85"}, "write an entry for each"),
        ({"piece": "field 1-5", "opening across": "120"}, "there is no such piece"),
    ],
)
def test_what_cannot_be_taken_is_said(entry: dict[str, object], words: str) -> None:
    (sentence,) = faults_of(**W5, job={"found": found(**entry)})
    assert words in sentence


def test_beside_the_horn_of_a_sill_board_the_tape_goes_to_the_board_and_no_edge_is_passed() -> None:
    # examples/shower-bay: the window ends 350 from V, tile passes it by 13 - 2.5 = 10.5; its board is 22 thick and goes
    # 40 on past it, to 390 from V, its foot at 1000. Course 6 is 1000 to 1197 above B; tiles are 297, joint 3.
    plan = make_plan(load_job(SHOWER_BAY))
    # 6-2 ends at 601.5 left of V: 601.5 - 390 = 211.5 to the board; 601.5 - 350 = 251.5 to the window; 1197 - 1022 up.
    assert list(infill_lines(plan, named(plan, "bay 6-3"))) == [
        "from the fixed tile on the left to the window's sill board 211½, less joint 3: keep 208½",
        "from the fixed tile on the left to the window 251½, less joint 3, plus 10½ past it: keep 259",
        "from where its own top edge comes (mark it 1197 above B first) to the window's sill board 175: keep 175",
    ]
    # From the window to the niche, whose side is 500 right of V and passed by 13, is 150 wherever it is read; but the
    # tile begins at the board's end below, 390, and 10.5 past the window above it, 339.5: 513 - 390 and 513 - 339.5.
    assert list(infill_lines(plan, named(plan, "bay 6-6")))[:2] == [
        "from the window to the niche at the bottom 150, less sill board 40, plus 13 past it: keep 123",
        "from the window to the niche at the top 150, plus 10½ past where it is read from, plus 13 past it: keep 173½",
    ]
    # On the day's list: from what says which side is kept, and 13 - 40 = -27, 10.5 + 13 = 23.5 what comes off or on.
    assert list(expected_lines(plan, named(plan, "bay 6-6")))[:2] == [
        "window to niche at the bottom 150, less 27: keep 123",
        "window to niche at the top 150, plus 23½: keep 173½",
    ]
    assert list(expected_lines(plan, named(plan, "bay 1-8"))) == ["left tile to door frame 201½, less 6: keep 195½"]
    assert list(expected_lines(plan, named(plan, "bay 4-7"))) == [
        "own right edge to niche 98½, plus 13: keep 111½",
        "course below to niche 93, less 3: keep 90",
    ]
