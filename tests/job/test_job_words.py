"""A whole job in a tiler's words: what each part of the file says."""

from __future__ import annotations

from fractions import Fraction

import pytest

from cutmarks.readings import Size
from cutmarks.sides import Side
from cutmarks.units import Unit
from tests.job.jobs import FLOOR, WALL, changed, faults, job, only_fault


def test_a_wall():
    read = job(WALL)
    surface = read.surfaces[0]
    assert (read.name, read.units, read.say, read.finest, read.paper, read.cut) == (
        "Quay Cottage, laundry",
        Unit.MM,
        "uk",
        Fraction(1, 2),
        "A4",
        "on the day",
    )
    assert (surface.name, surface.kind, [line.name for line in surface.lines]) == ("sink wall", "wall", ["V", "B"])
    tile = read.tiles["rib"]
    assert (tile.name, tile.size.first, tile.size.second, tile.thickness, tile.measured) == ("rib", 297, 97, 9, True)
    area = surface.areas[0]
    assert area.start_across is not None
    assert area.start_up is not None
    assert (area.name, area.tile, area.joint, area.start_across.anchor, area.start_up.anchor) == (
        "splash",
        "rib",
        3,
        "joint",
        "sits on",
    )
    hole = surface.holes[0]
    assert hole.fitting is not None
    assert (hole.name, hole.fitting.od, hole.cover, hole.cover_known, hole.end) == ("hot", 15, 65, True, "comes off")


def test_a_floor_says_in_and_never_up():
    surface = job(FLOOR).surfaces[0]
    hole = surface.holes[0]
    assert hole.up is not None
    assert (hole.up.low, hole.up.high, surface.up, surface.way_out) == (1420, 1530, "towards the window", "bottom")
    assert only_fault(changed("in: 1420", "up: 1420", FLOOR)) == (
        'job.yaml line 18, hole "soil", up: On a floor the way into the room is written in, '
        'as in "in: 1420 to 1530 from D".'
    )
    assert only_fault(changed("up: 212", "in: 212")) == (
        'job.yaml line 19, hole "hot", in: On a wall the height is written up, as in "up: 212 to 228 above B".'
    )


def test_inches_bring_their_own_words_paper_and_step():
    text = (
        changed("297 x 97", "11 13/16 x 11 13/16")
        .replace("joint: 3", "joint: 3/16")
        .replace("15 copper", "1/2 copper")
        .replace("thickness: 9", "thickness: 9 mm")
    )
    read = job("units: in\n" + text)
    assert (read.say, read.paper, read.finest) == ("us", "Letter", Fraction(1, 32))
    hole = read.surfaces[0].holes[0]
    # 3/16 in is 4.7625 mm; ASTM B88 gives 0.625 in, 15.875 mm, outside for 1/2.
    assert read.surfaces[0].areas[0].joint == pytest.approx(4.7625)
    assert hole.fitting is not None
    assert hole.fitting.od == pytest.approx(15.875)
    own = job("units: in\nsay: uk\nfinest: 1/16\npaper: a3\n" + text.replace("1/2 copper", "15 copper"))
    assert (own.say, own.finest, own.paper) == ("uk", Fraction(1, 16), "A3")


def test_edges_in_all_their_words():
    edges = """\
    gaps: {floor: 5, top: 2}
    edges:
      left: 1140 left of V
      right:
        - 1065 right of V at B
        - 1058 right of V at 1450 above B
      floor: {at: 5 below B, what: floor, still to come: 14, hidden by: plinth, gap: 6}
      top: {at: 1462 above B, what: ceiling, true: level, scribe: yes, trim: 2.5}
    areas:
"""
    surface = job(changed("    areas:\n", edges)).surfaces[0]
    assert set(surface.edges) == {"left", "right", "bottom", "top"}
    assert surface.gaps == {"bottom": 5, "top": 2}
    right, bottom, top = surface.edges[Side.RIGHT], surface.edges[Side.BOTTOM], surface.edges[Side.TOP]
    assert [(r.at.low, r.along.low if r.along else None) for r in right.readings] == [(1065, 0), (1058, 1450)]
    assert (bottom.still_to_come, bottom.still_to_come_known, bottom.hidden_by, bottom.gap) == (14, True, "plinth", 6)
    assert (top.true, top.scribe, top.trim, top.what) == ("level", True, 2.5, "ceiling")
    assert surface.edges[Side.LEFT].true == ""


def test_an_edge_that_steps():
    edges = """\
    edges:
      bottom:
        steps:
          - {at: 2 below B, until: 300 left of V, what: bath, gap: 3}
          - {at: [140 below B at 300 left of V, 144 below B at 700 right of V], what: floor, still to come: 11}
    areas:
"""
    steps = job(changed("    areas:\n", edges)).surfaces[0].edges[Side.BOTTOM].steps
    assert [(step.what, len(step.readings), step.still_to_come) for step in steps] == [("bath", 1, 0), ("floor", 2, 11)]
    assert steps[0].until is not None
    assert (steps[0].until.low, steps[1].until) == (-300, None)


def test_windows_niches_doors_and_strips():
    voids = """\
    windows:
      - {across: 100 to 500 right of V, up: 350 to 850 above B, sill board: "22 thick, horns 40"}
    niches:
      - {name: shelf, across: 800 to 500 left of V, up: 42 below to 30 above B, lining: 12, gap: 2}
    doors:
      - name: door
        outline:
          - [600 right of V, 100 below B]
          - 900 right of V, 100 below B
          - "900 right of V, 800 above B"
    do not drill:
      - {across: 10 left to 10 right of V, up: 0 to 900 above B, why: cable to the switch}
    areas:
"""
    surface = job(changed("    areas:\n", voids)).surfaces[0]
    assert [(void.kind, void.name) for void in surface.voids] == [
        ("window", "window"),
        ("niche", "shelf"),
        ("door", "door"),
    ]
    assert (surface.niches[0].lining, surface.niches[0].gap, surface.windows[0].gap) == (12, 2, None)
    assert [(spot.across.low, spot.up.low) for spot in surface.doors[0].outline] == [
        (600, -100),
        (900, -100),
        (900, 800),
    ]
    assert (surface.do_not_drill[0].name, surface.do_not_drill[0].why) == ("strip", "cable to the switch")


@pytest.mark.parametrize(
    ("line", "field", "value"),
    [
        ("hole: 110", "opening", 110),
        ("opening: 35", "opening", 35),
        ("hole: 89 to 102", "opening_range", (89, 102)),
        ("cover: none", "cover", "none"),
        ("cover: ?", "cover", None),
        ("end: runs on", "end", "runs on"),
        ("play: 2.5", "play", 2.5),
        ("diameter: 1 1/4 in", "diameter", 31.75),
        ("lean: 3 clockwise", "lean", -3),
        ("lean: 2 in 71", "lean_words", "2 in 71"),
        ("slot: towards the right", "open_towards", "right"),
        ("depth: 62 from the board to the thread", "depth", "62 from the board to the thread"),
        ("note: stub, cap it", "note", "stub, cap it"),
    ],
)
def test_what_a_hole_says(line, field, value):
    text = changed("        cover: 65\n        end: comes off\n", f"        {line}\n")
    hole = job(text).surfaces[0].holes[0]
    assert getattr(hole, field) == value
    assert hole.cover_known == (line == "cover: none")


def test_oblong_covers_holes_and_slots():
    hole = (
        job(changed("cover: 65", "cover: 147 x 86\n        hole: 78 x 80\n        slot: 40 x 20")).surfaces[0].holes[0]
    )
    assert (hole.cover, hole.opening, hole.slot) == (Size(147, 86), Size(78, 80), Size(40, 20))


def test_a_box_by_its_corners():
    position = changed(
        "        across: 67 to 83 left of V\n        up: 212 to 228 above B\n", "        corners:\n"
    ).replace(
        "        corners:\n",
        "        corners: [[448 left of V, 1298 above B], [377 left of V, 1297 above B],\n"
        "          [376 left of V, 1370 above B], [447 left of V, 1371 above B]]\n",
    )
    hole = job(position).surfaces[0].holes[0]
    assert [(s.across.low, s.up.low) for s in hole.corners] == [(-448, 1298), (-377, 1297), (-376, 1370), (-447, 1371)]


def test_corners_that_a_list_splits_are_a_fault():
    text = changed(
        "        across: 67 to 83 left of V\n        up: 212 to 228 above B\n",
        "        corners: [448 left of V, 1298 above B]\n",
    )
    assert faults(text)[0] == (
        'job.yaml line 18, hole "hot", corners: "448 left of V" is no corner: write both its readings in quotes '
        'or on a line of their own, as in "100 right of V, 350 above B".'
    )


def test_question_marks_are_taken_for_all_but_positions_and_sizes():
    known = job(
        changed("thickness: 9", "thickness: ?").replace("cover: 65", "cover: ?").replace("what: 15 copper", "what: ?")
    )
    hole = known.surfaces[0].holes[0]
    assert (known.tiles["rib"].thickness, hole.cover_known, hole.what, hole.fitting) == (None, False, "", None)
    assert job(changed("start: {across: joint on V, up: sits on B}", "start: ?")).surfaces[0].areas[0].start_up is None
    started = job(changed("up: sits on B", "up: ?")).surfaces[0].areas[0]
    assert started.start_across is not None
    assert started.start_up is None
    assert only_fault(changed("size: 297 x 97", "size: ?")) == (
        'job.yaml line 3, tile "rib", size: A size must be known: measure it.'
    )
    assert only_fault(changed("across: 67 to 83 left of V", "across: ?")) == (
        'job.yaml line 18, hole "hot", across: A position must be known: measure it, or leave the hole out until it is.'
    )


def test_a_start_may_be_missing():
    area = job(changed("        start: {across: joint on V, up: sits on B}\n", "")).surfaces[0].areas[0]
    assert (area.start_across, area.start_up) == (None, None)
