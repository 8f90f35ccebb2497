"""A hole, two of them, an edge, a tile and a line said in one line, and what they come to under their keys.

Every figure is worked by hand from the sentence: right and up are positive, two at 150 centres lie 75 each side of what
they are split on, an end of an edge lies where the edge there was read.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from cutmarks.errors import JobError
from cutmarks.job import build_job, parse_job
from cutmarks.sides import Side

LINES = {"V": "plumb, middle of the basin", "B": "level, top of the batten"}
FLOOR = {"C": "across, middle of the doorway", "D": "along, doorway threshold"}


def surface(*holes, kind="wall", units="mm", lines=None, edges=None, tile=None):
    job = {
        "job": "Quay Cottage",
        "units": units,
        "tiles": {"rib": tile or {"size": "300 mm x 600 mm", "measured": "yes"}},
        "surfaces": [
            {
                "name": "here",
                "kind": kind,
                "lines": lines or (LINES if kind == "wall" else FLOOR),
                "edges": edges or {},
                "holes": list(holes),
            }
        ],
    }
    return build_job(job).surfaces[0]


def refused(*holes, **around):
    with pytest.raises(JobError) as told:
        surface(*holes, **around)
    return [fault.sentence for fault in told.value.faults]


def place(reading):
    """From what a reading is, and its two sides or its one figure."""
    name = reading.other if reading.start is None else reading.start.name
    return (name, reading.low) if reading.high is None else (name, reading.low, reading.high)


KEYS = {
    "name": "hot",
    "what": "15 copper",
    "across": "64 to 80 left of V",
    "up": "92 to 107 above the batten",
    "cover": "65",
}


@pytest.mark.parametrize(
    "said",
    [
        "hot, 15 copper, 64 to 80 left of V, 92 to 107 above the batten, rose 65",
        "hot, 15 copper, 92 to 107 above the batten, 64 to 80 left of V, 65 rose",
        "hot 15 copper 64 to 80 left of V 92 to 107 above the batten rose 65",
        "hot, rose 65, 64 to 80 left of V and 92 to 107 above the batten, 15mm copper",
        "hot: 15 copper, 64 to 80 left of V, 92 to 107 above the batten with a 65 rose",
        "hot - 15 copper - 64-80 left of V - 92-107 above the batten - 65 escutcheon",
        "hot (15 copper); left of V, 64 to 80; underside 92, top 107 above the batten; cover 65",
        "15 copper hot, 64 to 80 left of V, 92 to 107 above the batten, 65 collar",
    ],
)
def test_one_line_comes_to_the_same_as_a_key_for_each_part(said):
    one, keyed = surface(said).holes[0], surface(KEYS).holes[0]
    assert (one.name, one.fitting.od, one.cover) == ("hot", 15.0, 65.0)
    assert (one.fitting, one.cover, one.cover_known) == (keyed.fitting, keyed.cover, keyed.cover_known)
    assert place(one.across) == place(keyed.across) == ("V", -80.0, -64.0)
    assert place(one.up) == place(keyed.up) == ("B", 92.0, 107.0)


def test_the_name_may_stand_before_a_colon_and_keys_beside_what_is_said():
    of_list = parse_job(
        "job: Quay Cottage\nsurfaces:\n  - name: here\n    kind: wall\n"
        "    lines: {V: plumb, B: level}\n    holes:\n"
        "      - hot: 15 copper, 64 to 80 left of V, 92 to 107 above B, rose 65\n"
        '      - {said: "cold, 15 copper, 64 to 80 right of V, level with hot", cover: 52, depth: 62 behind the board}'
        "\n"
    ).surfaces[0]
    hot, cold = of_list.holes
    assert (hot.name, hot.cover, place(hot.across)) == ("hot", 65.0, ("V", -80.0, -64.0))
    assert (cold.name, cold.cover, cold.depth, place(cold.up)) == ("cold", 52.0, "62 behind the board", ("hot", 0.0))


def test_everything_of_a_hole_can_be_said():
    hole = surface(
        "valve, body 100 x 150, centre 40 left of V, 500 above B to centre, plate 120 x 170, 62 behind the board, "
        "hole 106 x 156, won't come off, screw 35, note: ask the plumber"
    ).holes[0]
    assert (hole.fitting.w, hole.fitting.h) == (100.0, 150.0)
    assert (place(hole.across), place(hole.up)) == (("V", -40.0), ("B", 500.0))
    assert (hole.cover.first, hole.cover.second) == (120.0, 170.0)
    assert (hole.opening.first, hole.opening.second) == (106.0, 156.0)
    assert (hole.depth_read.mm, hole.end, hole.screw, hole.note) == (62.0, "runs on", 35.0, "ask the plumber")
    bare = surface("tail, 22 copper, no rose, cut 2 all round, on V, 300 above B to centre").holes[0]
    assert (bare.cover, bare.play, bare.fitting.od) == ("none", 2.0, 22.0)


def test_a_size_that_was_measured_goes_with_the_name_of_what_it_is():
    # 1 7/8 in strong is half a 16th more: 1 29/32 in, 48.41875 mm.
    hole = surface(
        "trap arm, 1 1/2 pvc, 1 7/8 strong on the tape, on V, 10 above B to center",
        units="in",
    ).holes[0]
    assert hole.diameter == pytest.approx(1.90625 * 25.4)


@pytest.mark.parametrize(
    ("said", "leads"),
    [
        ("hot, 15 copper, 64 to 80, 92 to 107 above B", '"64 to 80" does not say from what'),
        ("hot, 15 copper, 64 left of V, 92 to 107 above B", 'write "centre 64 left of V"'),
        ("hot, 15 copper, 64 to 80 left of V, 92 to 107 above B, painted green", '"painted green" does not say what'),
        ("hot, 15 copper, 64 to 80 left of V, 92 to 107 above B, not there yet", '"not there yet" does not say what'),
        ("64 to 80 left of V, 92 to 107 above B", "begin with what it is called"),
        ("hot, 15 copper, 64 to 80 left of V", "write the other too"),
        ("hot, 15 copper, 22 copper, on V, 92 to 107 above B", "both say what"),
        ("75 either side of V, 92 to 107 above B", "stands where the name should"),
        (
            "socket, 1 gang box, 300 to 375 right of V, 450 to 525 above B, plate 86",
            "write plate 86 x 86 if it is square",
        ),
        ("socket, 1 gang box, centre 75 left of V, 220 above B", 'write "centre 220 above B"'),
        ("hot, about 15 copper, on V, 92 to 107 above B", '"about 15 copper" does not say what'),
    ],
)
def test_what_is_open_or_not_understood_is_asked_and_nothing_follows_from_it(said, leads):
    sentences = refused(said)
    assert len(sentences) == 1
    assert leads in sentences[0]


def test_a_question_says_what_was_understood():
    (sentence,) = refused("hot, 15 copper, 92 to 107 above B, 64 to 80")
    assert sentence.endswith("Understood so far: name: hot; what: 15 copper; up: 92 to 107 above B.")


def test_a_key_that_says_the_same_beside_is_refused():
    said = {"said": "hot, 15 copper, on V, 92 to 107 above B, rose 65", "cover": "70"}
    assert refused(said) == ['"rose 65" says cover, and cover stands beside it too: leave one out.']


@pytest.mark.parametrize(
    ("said", "names", "across"),
    [
        ("hot and cold, 15 copper, 150 centres, split on V, {up}", ("hot", "cold"), (-75.0, 75.0)),
        ("H & C 15 copper 150 crs, split on the plumb, {up}", ("hot", "cold"), (-75.0, 75.0)),
        ("tails, 15 copper, pair, 150s, V in the middle, {up}", ("tail left", "tail right"), (-75.0, 75.0)),
        ("two 15 copper stubs at 150 centres, either side of V, {up}", ("stub left", "stub right"), (-75.0, 75.0)),
        (
            "three stubs, 15 copper, 100 o.c., middle one on V, {up}",
            ("stub 1", "stub 2", "stub 3"),
            (-100, 0, 100),
        ),
        ("stops 100 either side of V, to ctr, 15 copper, {up}", ("stop left", "stop right"), (-100.0, 100.0)),
    ],
)
def test_two_at_centres_are_two_holes(said, names, across):
    holes = surface(said.format(up="240 above B to centre")).holes
    assert tuple(hole.name for hole in holes) == names
    assert tuple(hole.across.low for hole in holes) == across
    assert {hole.across.how for hole in holes} == {"centre"}
    assert {(hole.fitting.od, hole.up.how, hole.up.low) for hole in holes} == {(15.0, "centre", 240.0)}


def test_which_of_two_is_on_the_left_is_printed():
    def assumed(said):
        wall = {"name": "here", "kind": "wall", "lines": LINES, "holes": [said]}
        return [one for one in build_job({"job": "Quay Cottage", "surfaces": [wall]}).assumed if "on the left" in one]

    (told,) = assumed("hot and cold, 15 copper, 150 centres, split on V, 240 above B to centre")
    assert told.startswith("here: hot is on the left and cold on the right, in the order in which they are said")
    assert assumed("tails, 15 copper, 150 centres, split on V, 240 above B to centre") == []
    assert assumed("hot 60 to 75 left of V, cold 60 to 75 right of V, both 15 copper, both 92 to 107 above B") == []


def test_of_two_one_may_be_read_and_the_other_follows():
    left, right = surface("tails, 15 copper, 150 ctrs, LH one is 120 right of V on its c/l, centre 240 above B").holes
    assert place(left.across) == ("V", 120.0)
    assert (right.across.how, place(right.across)) == ("level with", ("tail left", 150.0))
    cold, hot = surface("hot over cold, 15 copper, 150 crs, cold c/l 240 up from B, on V").holes
    assert (cold.name, place(cold.up)) == ("cold", ("B", 240.0))
    assert (hot.name, place(hot.up)) == ("hot", ("cold", 150.0))


def test_each_behind_its_own_name():
    hot, cold = surface(
        "hot 58 to 73 L of V, cold 34 to 49 R, 92 clear between, both 240 to 255 above B, both 15 copper"
    ).holes
    assert (place(hot.across), place(cold.across)) == (("V", -73.0, -58.0), ("V", 34.0, 49.0))
    assert place(hot.up) == place(cold.up) == ("B", 240.0, 255.0)
    # 58 left and 34 right leave 92 between; 102 is a slip of one of the three.
    (sentence,) = refused(
        "hot 58 to 73 L of V, cold 34 to 49 R, 102 clear between, both 240 to 255 above B, both 15 copper"
    )
    assert "says 102 between the two, and their places leave 92" in sentence


@pytest.mark.parametrize(
    ("said", "leads"),
    [
        ("150 either side of V, 15 copper, centre 240 above B", "begin with what it is called"),
        ("hot and cold, 15 copper, 67 to 83 left of V, 92 to 107 above B", "does not say where each is"),
        ("tails, 15 copper, 150 centres, centre 240 above B", "write split on V, or where one of them is"),
        (
            "hot and cold, 15 copper, 150 centres, hot centre 200 left of V, 240 above B to centre",
            "on which side of hot",
        ),
        ("cold and hot, 15 copper, 150 centres, split on V, 240 above B to centre", "whether cold is on the left"),
        (
            "hot 15 copper 60 to 75 left of V, cold 15 copper 60 to 75 right of V, 240 to 255 above B, 52 rose",
            "of both",
        ),
    ],
)
def test_two_things_are_asked_where_it_is_open_which_or_where(said, leads):
    sentences = refused(said)
    assert len(sentences) == 1
    assert leads in sentences[0]


ENDS = {"bottom": "20 below B", "top": "2400 above B", "left": "1200 left of V", "right": "1500 right of V"}


@pytest.mark.parametrize(
    ("side", "said", "readings", "true", "what"),
    [
        ("left", "LH wall 1206 top, 1211 btm from V", [(-1206.0, 2400.0), (-1211.0, -20.0)], "", "next wall"),
        ("right", "R/H end 884, plumb", [(884.0, None)], "plumb", ""),
        ("top", "to ceiling 2390 left end, 2382 right", [(2390.0, -1200.0), (2382.0, 1500.0)], "", "ceiling"),
        ("right", "stops at trim, 2045 right of V", [(2045.0, None)], "", "trim"),
        ("bottom", "tray's dead level, 302 down from B", [(-302.0, None)], "level", "tray"),
        # It falls 6 to the right: 12 below B at the left, 18 below it at the right.
        (
            "bottom",
            "bath under B 12 at left, falls off 6 to the right",
            [(-12.0, -1200.0), (-18.0, 1500.0)],
            "",
            "bath",
        ),
        ("right", "28 at B, 30 top", [(28.0, 0.0), (30.0, 2400.0)], "", ""),
        ("left", "1140 left of V plumb end panel", [(-1140.0, None)], "plumb", "end panel"),
    ],
)
def test_an_edge_in_one_line(side, said, readings, true, what):
    edge = surface(edges={**ENDS, side: said}).edges[Side(side)]
    along = [None if one.along is None else one.along.low for one in edge.readings]
    assert list(zip([one.at.low for one in edge.readings], along, strict=True)) == readings
    assert (edge.true, edge.what) == (true, what)


@pytest.mark.parametrize(
    ("side", "said", "leads"),
    [
        ("right", "884 at btm, runs out 6 in the height", "does not say which way it goes"),
        ("left", "LH 1206 / 1211", "at which end"),
        ("bottom", "floor 187 window end, 194 door end", "write left or right"),
        ("left", "RH wall 1206 plumb", "look which it is"),
        ("left", "1206 top, 1211 btm, wobbles a bit", '"wobbles a bit" is not understood of an edge'),
    ],
)
def test_what_is_open_of_an_edge_is_asked(side, said, leads):
    sentences = refused(edges={**ENDS, side: said})
    assert len(sentences) == 1
    assert leads in sentences[0]


def test_an_end_that_no_edge_says_is_asked():
    (sentence,) = refused(edges={"left": "LH wall 1206 top, 1211 btm from V"})
    assert "nothing says where that is: give the" in sentence


@pytest.mark.parametrize(
    ("said", "size", "lay", "joint", "measured"),
    [
        ("600x300 landscape, 2 joint", (600, 300), "long side across", 2, False),
        ("300 x 600 on end, 3mm grout", (300, 600), "long side up", 3, False),
        ("148 sq, 2 spacers", (148, 148), None, 2, False),
        ("sold as 600x300 but they tape 597 x 297, landscape, 3 joint", (597, 297), "long side across", 3, True),
        ("mosaic, 298 sheets, 2 between sheets", (298, 298), None, 2, False),
        ("8x48 plank 7 7/8 by 47 1/4 in, 1/8 in grout", (200.025, 1200.15), None, 3.175, True),
    ],
)
def test_a_tile_with_its_joint_in_one_line(said, size, lay, joint, measured):
    job = build_job(
        {
            "job": "Quay Cottage",
            "tiles": {"rib": said},
            "surfaces": [
                {
                    "name": "here",
                    "kind": "wall",
                    "lines": LINES,
                    "areas": [{"name": "splash", "tile": "rib"}, {"name": "band", "tile": "rib", "joint": "5"}],
                }
            ],
        }
    )
    tile = job.tiles["rib"]
    assert (tile.size.first, tile.size.second) == pytest.approx(size)
    assert (tile.lay, tile.measured) == (lay, measured)
    assert [area.joint for area in job.surfaces[0].areas] == pytest.approx([joint, 5])


def test_how_a_tile_lies_may_be_said_with_its_bond():
    def area(bond):
        job = {
            "job": "Quay Cottage",
            "tiles": {"rib": {"size": "300 x 600", "measured": "yes"}},
            "surfaces": [
                {
                    "name": "here",
                    "kind": "wall",
                    "lines": LINES,
                    "areas": [{"name": "splash", "tile": "rib", "joint": "2", "bond": bond}],
                }
            ],
        }
        return build_job(job).surfaces[0].areas[0]

    assert (area("stacked on end").lay, area("stacked on end").bond.part) == ("long side up", 0)
    assert (area("soldier course").lay, area("soldier course").bond.part) == ("long side up", 0)
    assert (area("diamond, 45 deg off D").turn, area("on point").turn) == (45.0, 45.0)
    with pytest.raises(JobError, match="steps from column to column"):
        area("vertical brick")


def test_a_line_that_does_not_say_its_kind_is_the_other_one():
    lines = surface(lines={"V": "plumb", "B": "B is top of the batten"}).lines
    assert [(line.name, line.kind, line.words) for line in lines] == [
        ("V", "plumb", ""),
        ("B", "level", "top of the batten"),
    ]
    assert "no kind of line" in refused(lines={"V": "plumb", "B": "48 off the floor"})[0]
    assert "no kind of line" in refused(lines={"V": "middle of the sink", "B": "top of the batten"})[0]


def test_two_edges_of_one_name_are_asked_with_what_to_write():
    walls = {
        "left": {"at": "1310 left of V", "what": "next wall"},
        "right": {"at": "1290 right of V", "what": "next wall"},
    }
    (sentence,) = refused("drain, 110 across the outside, 1255 to 1365 off the next wall, on B", edges=walls)
    assert sentence.startswith(
        '"next wall" can be the left edge or the right edge here: write which, as in 67 to 83 in'
    )


def test_a_thing_that_a_line_runs_through_is_not_read_from_an_edge_in_silence():
    lines = {"V": "plumb, middle of the drain", "B": "level"}
    edges = {"left": {"at": "1310 left of V", "true": "plumb"}}
    said = {"name": "drain", "diameter": "110", "up": "centre 300 above B"}
    (sentence,) = refused({**said, "across": "1255 to 1365 in from left there"}, lines=lines, edges=edges)
    assert 'V is the middle of the drain by its own words: write "on V"' in sentence
    (hole,) = surface({**said, "across": "on V"}, lines=lines, edges=edges).holes
    assert hole.across.low == 0.0


def windows(*said):
    wall = {"name": "here", "kind": "wall", "lines": LINES, "windows": list(said)}
    return build_job({"job": "Quay Cottage", "surfaces": [wall]}).surfaces[0].windows


def test_a_window_in_one_line():
    one, two = windows(
        "left window, 100 to 500 right of V, 350 to 850 above B, gap 5",
        {"said": "600 to 900 right of V, 350 to 850 above B", "gap": "4"},
    )
    assert (one.name, place(one.across), place(one.up)) == ("left window", ("V", 100.0, 500.0), ("B", 350.0, 850.0))
    assert (two.name, place(two.across), one.gap, two.gap) == ("window 2", ("V", 600.0, 900.0), 5.0, 4.0)
    with pytest.raises(JobError, match='"100 to 500" does not say from what'):
        windows("left window, 100 to 500, 350 to 850 above B")


def area(said):
    tiles = {"rib": {"size": "300 x 100", "measured": "yes"}, "slate": "600 x 300 landscape, 2 joint"}
    wall = {"name": "here", "kind": "wall", "lines": LINES, "areas": [said]}
    return build_job({"job": "Quay Cottage", "tiles": tiles, "surfaces": [wall]}).surfaces[0].areas[0]


def test_what_stands_beside_an_area_in_one_line_says_nothing_again():
    with pytest.raises(JobError, match=r'"3" says joint, and joint stands beside it too: leave one out\.'):
        area({"said": "splash, rib, 3 joint, stack, joint on V, sits on B", "joint": "2"})


def test_an_area_in_one_line():
    splash = area("splash, rib, 3 joint, third right, stepped, from B up to 597 above B, joint on V, sits on B")
    assert (splash.tile, splash.joint, splash.bond.part, splash.bond.way) == ("rib", 3.0, Fraction(1, 3), "progressive")
    assert (splash.from_.low, splash.to.low) == (0.0, 597.0)
    assert (splash.start_across.anchor, splash.start_up.anchor) == ("joint", "sits on")
    # 600 wide about V: 300 to each side. The joint is the tile's.
    band = area("band, slate, 600 wide, dead central on V, from 900 above B to the ceiling, middle on V and B")
    assert (band.joint, band.right_of.low, band.left_of.low) == (2.0, -300.0, 300.0)
    assert (band.from_.low, band.to) == (900.0, None)
    field = area({"said": "field, slate, stacked on end, up to 1202 above B", "work": "left to right"})
    assert (field.lay, field.bond.part, field.to.low, field.work) == ("long side up", 0, 1202.0, "left to right")


@pytest.mark.parametrize(
    ("said", "leads"),
    [
        ("field, rib, 3 joint, painted blue", '"painted blue" does not say what it is of'),
        ("field, rib, 3 joint, joint on V", "is half a start: say up too"),
        ("field, 3 joint, joint on V, sits on B", '"tile" is missing'),
        ("field, slat, 3 joint, joint on V, sits on B", '"slat" does not say what it is of'),
    ],
)
def test_what_is_open_of_an_area_is_asked(said, leads):
    with pytest.raises(JobError) as told:
        area(said)
    assert len(told.value.faults) == 1
    assert leads in told.value.faults[0].sentence
