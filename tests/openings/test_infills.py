"""What is read for a piece that is trimmed, and the cut it gives; figures by hand."""

from __future__ import annotations

from typing import Any

import pytest

from cutmarks.openings.model import CutPiece, Infill
from cutmarks.saying.infills import infill_found_words, infill_lines
from tests.properties.wall import BOX, faults_of, plan_of


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
        "cut 116, 113½"
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
    # has nothing earlier on its left but the window, whose gap comes off.
    windows = [{"name": "window", "across": "3 to 60 right of V", "up": "100 to 400 above B", "gap": 3}]
    plan = plan_of(surface={"edges": BOX, "windows": windows})
    piece = piece_at(plan, (0, 1))
    assert piece.cut_edges == ("left",)
    infill = across(piece)
    # It is the first of its course: what shows right of it is the wall's own end at 500, 440 from the window.
    assert (infill.side, infill.to) == ("left", "window")
    # From 500 to 60; the tile's own right edge lies at 101, 399 from the wall; 3 is the window's gap.
    assert [(end.opening, end.cut) for end in infill.ends] == [(near(440), near(38))] * 2
    assert [(off.what, off.mm) for off in infill.off] == [("to its edge", near(399)), ("gap", near(3))]


def test_nothing_is_worked_out_where_a_finish_is_not_known_yet() -> None:
    floor = {"at": "80 below B", "true": "level", "what": "floor", "still to come": "?"}
    assert piece_at(plan_of(surface={"edges": {**BOX, "bottom": floor}}), (0, -1)).infills == ()


def found(**entry: object) -> list[dict[str, object]]:
    return [{"piece": "field 1-6", **entry}]


def test_an_opening_that_was_found_gives_the_cut() -> None:
    plan = plan_of(**W5, job={"found": found(**{"opening across": "120 and 118"})})
    (back,) = plan.infills_found
    # One less at the bottom, 0.76 less at the top: 115 and 113.
    assert [(end.opening, end.cut) for end in back.ends] == [(120, near(115)), (118, near(113))]
    assert infill_found_words(back, plan.say.style) == (
        "the opening to the next tiles was found 120 at the bottom, 118 at the top (121 at the bottom, 119 at the top "
        "expected): cut it 115, 113."
    )
    assert plan.found == ()


@pytest.mark.parametrize(
    ("entry", "words"),
    [
        ({"opening up": "90"}, "field 1-6 is not trimmed up"),
        ({"opening across": "4"}, "4 leaves nothing of field 1-6: 5 comes off it"),
        ({"opening across": "460"}, "would be filled by 455 of a tile, and field 1-6 is cut from one of 448"),
        ({"opening across": "4 and 5 and 6"}, "has 3 openings"),
        ({"opening across": "120", "left": "70 to 85"}, "write an entry for each"),
        ({"piece": "field 1-5", "opening across": "120"}, "there is no such piece"),
    ],
)
def test_what_cannot_be_taken_is_said(entry: dict[str, object], words: str) -> None:
    (sentence,) = faults_of(**W5, job={"found": found(**entry)})
    assert words in sentence
