"""A job file to a Job: its words, its names, what fits together, and faults in sentences, all at once."""

from __future__ import annotations

import time
from fractions import Fraction
from pathlib import Path

import pytest

from cutmarks.errors import JobError
from cutmarks.job import build_job, load_job
from cutmarks.job.phrases import Size
from cutmarks.job.reading import MOST_BYTES
from cutmarks.units import Unit
from tests.job.jobs import FLOOR, WALL, changed, faults, job, only_fault

NAME_FAULT = "use letters, figures, blanks and hyphens."


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
    right, bottom, top = surface.edges["right"], surface.edges["bottom"], surface.edges["top"]
    assert [(r.at.low, r.along.low if r.along else None) for r in right.readings] == [(1065, 0), (1058, 1450)]
    assert (bottom.still_to_come, bottom.still_to_come_known, bottom.hidden_by, bottom.gap) == (14, True, "plinth", 6)
    assert (top.true, top.scribe, top.trim, top.what) == ("level", True, 2.5, "ceiling")
    assert surface.edges["left"].true == ""


def test_an_edge_that_steps():
    edges = """\
    edges:
      bottom:
        steps:
          - {at: 2 below B, until: 300 left of V, what: bath, gap: 3}
          - {at: [140 below B at 300 left of V, 144 below B at 700 right of V], what: floor, still to come: 11}
    areas:
"""
    steps = job(changed("    areas:\n", edges)).surfaces[0].edges["bottom"].steps
    assert [(step.what, len(step.readings), step.still_to_come) for step in steps] == [("bath", 1, 0), ("floor", 2, 11)]
    assert steps[0].until is not None
    assert (steps[0].until.low, steps[1].until) == (-300, None)


def test_windows_niches_doors_and_strips():
    voids = """\
    windows:
      - {across: 100 to 500 right of V, up: 350 to 850 above B, sill board: 22 thick with horns}
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


@pytest.mark.parametrize(
    ("name", "sentence"),
    [
        ("../hot", f'"../hot" has / in it, and a name is no path: {NAME_FAULT}'),
        ("a\\b", f'"a\\b" has \\ in it, and a name is no path: {NAME_FAULT}'),
        ("a..b", f'"a..b" has .. in it, and a name is no path: {NAME_FAULT}'),
        ("<b>hot", f'"<b>hot" has < in it, and a name has no markup: {NAME_FAULT}'),
        ("hot & cold", f'"hot & cold" has & in it, and a name has no markup: {NAME_FAULT}'),
        ('"=1+1"', '"=1+1" begins with =, which a spreadsheet runs as a formula: begin with a letter or a figure.'),
        ('"@sum"', '"@sum" begins with @, which a spreadsheet runs as a formula: begin with a letter or a figure.'),
        ("+hot", '"+hot" begins with +, which a spreadsheet runs as a formula: begin with a letter or a figure.'),
        ('"hot\\u202e"', '"hot?" has a control character in it (U+202E): take it out.'),
        ("h" * 61, f'"{"h" * 40}..." is 61 characters long: a name has at most 60.'),
    ],
)
def test_names_that_could_do_harm(name, sentence):
    assert only_fault(changed("name: hot", f"name: {name}")).endswith(f"name: {sentence}")
    for other in ("name: splash", "name: sink wall"):
        assert only_fault(changed(other, f"name: {name}")).endswith(f"name: {sentence}")


def test_names_are_one_for_one_thing_in_the_whole_job():
    second = (
        WALL[WALL.index("  - name: sink wall") :].replace("sink wall", "bath wall").replace("name: hot", "name: HOT")
    )
    assert faults(WALL + second) == [
        'job.yaml line 28, area "splash", name: Two areas are called "splash" (the first is on "sink wall"): '
        "give each a name of its own.",
        'job.yaml line 33, hole "HOT", name: Two holes are called "HOT" (the first is on "sink wall"): '
        "give each a name of its own.",
    ]
    assert (
        'Two surfaces are called "sink wall": give each a name of its own.'
        in faults(WALL + second.replace("bath wall", "sink wall").replace("splash", "other").replace("HOT", "cold"))[0]
    )


@pytest.mark.parametrize(
    ("old", "new", "fault"),
    [
        (
            "cover: 65",
            "diametre: 65",
            'line 20, hole "hot", diametre: "diametre" is no key here: did you mean diameter?',
        ),
        ("cover: 65", "plate: 65", 'line 20, hole "hot", plate: "plate" is no key here: write cover.'),
        ("cover: 65", "plate: ?", 'line 20, hole "hot", plate: "plate" is no key here: write cover.'),
        (
            "    holes:",
            "    penetrations:",
            'line 15, surface "sink wall", penetrations: "penetrations" is no key here: write holes.',
        ),
        ("    areas:", "    zones:", 'line 10, surface "sink wall", zones: "zones" is no key here: write areas.'),
        (
            "joint: 3",
            "grout joint: 3",
            'line 13, area "splash", grout joint: "grout joint" is no key here: write joint.',
        ),
        (
            "job: Quay",
            "cover: 3\njob: Quay",
            'line 1, cover: "cover" is no key here, it belongs to a hole: move it there.',
        ),
        (
            "job: Quay",
            "cores: 20\njob: Quay",
            "line 1, cores: The tiler's own tools stand in tools.yaml beside the job: write cores there.",
        ),
        (
            "across: joint",
            "acros: joint",
            'line 14, area "splash", start, acros: "acros" is no part of a start: '
            "write across and up, as in start: {across: joint on V, up: sits on B}.",
        ),
        ("cover: 65", "fitting: 65", 'line 20, hole "hot", fitting: "fitting" is no key here: write what.'),
    ],
)
def test_unknown_keys_suggest_the_right_one(old, new, fault):
    assert f"job.yaml {fault}" in faults(changed(old, new))


def test_keys_of_our_own_cannot_be_written():
    text = changed("cover: 65", "where: 3\n        cover known: no\n        opening range: 3").replace(
        "rib: {", "rib: {name: x, "
    )
    assert [fault.split(":")[0] for fault in faults(text)] == [
        'job.yaml line 3, tile "rib", name',
        'job.yaml line 20, hole "hot", where',
        'job.yaml line 21, hole "hot", cover known',
        'job.yaml line 22, hole "hot", opening range',
    ]


@pytest.mark.parametrize(
    ("old", "new", "fault"),
    [
        (
            "joint: 3",
            "joint: -3",
            '13, area "splash", joint: "-3" has a sign, and a length has none: leave it out, '
            "and say the side in words (left of, right of, above, below).",
        ),
        (
            "joint: 3",
            "joint: nan",
            '13, area "splash", joint: "nan" is no length: write a number such as 642, 64.2 cm or 25 1/4 in.',
        ),
        ("joint: 3", "joint: 300", '13, area "splash", joint: "300" is out of range for a joint: write 0 to 50 mm.'),
        ("joint: 3", "joint: 3,5", '13, area "splash", joint: "3,5" has a comma in a number: write 3.5.'),
        ("tile: rib", "tile: ribs", '12, area "splash", tile: "ribs" is no tile of this job: did you mean rib?'),
        ("kind: wall", "kind: roof", '6, surface "sink wall", kind: "roof" is not taken here: write wall or floor.'),
        (
            "297 x 97",
            "297 x 2",
            '3, tile "rib", size: "297 x 2" is 2 mm one way: a tile has 5 to 5000 mm; '
            "write its unit with it if it is not in the job's.",
        ),
        ("what: 15 copper", "what: 1/2", '17, hole "hot", what: '),
        ("end: comes off", "end: maybe", '21, hole "hot", end: "maybe" is not taken here: write comes off or runs on.'),
        (
            "        up: 212 to 228 above B\n",
            "",
            '16, hole "hot": It has one reading alone: write the other too, as in "up: 212 to 228 above B".',
        ),
        ("        name: splash\n", "", ""),
        (
            "        tile: rib\n",
            "",
            '11, area "splash": "tile" is missing: write tile: and the name of one under tiles.',
        ),
        (
            "cover: 65",
            "cover: [65, 70]",
            '20, hole "hot", cover: A list stands where one value is wanted: write one value.',
        ),
        (
            "joint: 3\n",
            "joint: 3\n        turn: 60\n",
            '14, area "splash", turn: "60" is out of range: an area turns by over '
            "-45 to 45 degrees; change lay for more.",
        ),
    ],
)
def test_values_that_are_refused(old, new, fault):
    if not fault:
        old, new, fault = (
            "      - name: splash\n        tile",
            "      - tile",
            '11, area 1: "name" is missing: write name: and a word for it.',
        )
    assert only_fault(changed(old, new)).startswith(f"job.yaml line {fault}")


def test_lines_that_contradict():
    assert only_fault(changed("level, top of the packers", "level, top of the packers\n      C: level, sill")) == (
        'job.yaml line 10, line "C": Two level lines have no distance between them: write how far this one is from B, '
        'as in "level, 1200 above B, and its words".'
    )
    assert only_fault(
        changed("V: plumb, middle", "V: plumb, 30 right of W, middle").replace(
            "      B:", "      W: plumb, 30 left of V, door\n      B:"
        )
    ) == (
        'job.yaml line 7, surface "sink wall", lines: Each plumb line is measured from another: '
        "give one of them no distance, it is the main one."
    )
    no_level = (
        changed("      B: level, top of the packers\n", "")
        .replace("up: sits on B", "up: ?")
        .replace("above B", "from the floor")
    )
    assert 'There is no level line: write one under lines, as in "B: level, top of the batten".' in only_fault(no_level)


def test_a_line_on_the_wrong_axis():
    assert only_fault(changed("67 to 83 left of V", "67 to 83 left of B")) == (
        'job.yaml line 18, hole "hot", across: B is level: right of or left of needs a line that is plumb.'
    )


@pytest.mark.parametrize(
    ("name", "sentence"),
    [
        ("floor", '"floor" is a word for an edge: give the line a letter, as in V or B.'),
        ("12", '"12" has no letter in it: give the line a letter, as in V or B.'),
        ("<V>", f'"<V>" has < in it, and a name has no markup: {NAME_FAULT}'),
    ],
)
def test_names_of_lines(name, sentence):
    text = changed("      B: level", f"      {name}: level, 30 above B, sill\n      B: level")
    assert only_fault(text) == f'job.yaml line 9, line "{name}": {sentence}'


def test_names_that_differ_in_capital_letters_alone():
    assert only_fault(changed("      B: level", "      v: plumb, 30 right of V, tap\n      B: level")) == (
        'job.yaml line 9, line "v": Two lines are called "V" and "v": give each a name of its own.'
    )
    assert only_fault(changed("surfaces:", "  Rib: {size: 297 x 97, measured: yes}\nsurfaces:")) == (
        'job.yaml line 4, tile "Rib": Two tiles are called "rib" and "Rib": give each a name of its own.'
    )


def test_an_area_is_not_called_like_a_piece():
    assert only_fault(changed("name: splash", "name: splash 3-7")) == (
        'job.yaml line 11, area "splash 3-7", name: "splash 3-7" ends as the name of a piece does '
        "(course and number): leave the figures out."
    )


def test_all_faults_at_once_in_the_order_of_the_file():
    text = (
        changed("size: 297 x 97", "size: 297")
        .replace("joint: 3", "joint: x")
        .replace("67 to 83 left", "75 left")
        .replace("cover: 65", "covr: 65")
    )
    assert [fault.partition(",")[0] for fault in faults(text)] == [f"job.yaml line {n}" for n in (3, 13, 18, 20)]


def test_an_empty_job_says_what_a_job_has():
    assert faults("") == [
        'job.yaml line 1: "job" is missing: write job: Quay Cottage.',
        'job.yaml line 1: "tiles" is missing: write tiles:, and under it rib: {size: 297 x 97}.',
        'job.yaml line 1: "surfaces" is missing: write surfaces:, and under it - name: sink wall.',
    ]


def test_later_stages_find_the_line_of_anything():
    read = job(WALL)
    hole = read.surfaces[0].holes[0]
    assert str(read.fault((*hole.where, "up"), 'hole "hot"', "Too high.")) == 'job.yaml line 19, hole "hot": Too high.'
    assert str(read.fault((*hole.where, "play"), 'hole "hot"', "Odd.")) == 'job.yaml line 16, hole "hot": Odd.'


def test_a_job_is_frozen():
    with pytest.raises(ValueError, match="frozen"):
        job(WALL).surfaces[0].holes[0].name = "cold"


def test_a_program_builds_a_job_from_its_own_values():
    built = build_job(
        {
            "job": "One",
            "tiles": {"rib": {"size": "297 x 97", "measured": True}},
            "surfaces": [
                {
                    "name": "wall",
                    "kind": "wall",
                    "lines": {"V": "plumb", "B": "level"},
                    "areas": [{"name": "a", "tile": "rib", "joint": 3, "start": "joint on V, sits on B"}],
                    "holes": [{"name": "h", "what": "15 copper", "across": "on V", "up": "centre 50.5 above B"}],
                }
            ],
        }
    )
    assert built.surfaces[0].holes[0].up is not None
    assert built.surfaces[0].holes[0].up.low == 50.5
    assert str(built.fault(("surfaces", 0), "wall", "Odd.")) == "wall: Odd."
    with pytest.raises(JobError) as refused:
        build_job({"job": "One", "tiles": {"rib": {"size": 3}}, "surfaces": []})
    assert [str(fault) for fault in refused.value.faults] == [
        'tile "rib", size: "3" is no size: write two with x between, as in 297 x 97.'
    ]


def test_a_file_that_cannot_be_read(tmp_path: Path):
    def told(path: Path) -> str:
        with pytest.raises(JobError) as refused:
            load_job(path)
        return str(refused.value)

    assert told(tmp_path / "no.yaml") == "no.yaml: This job file is not there: write the path of a file."
    assert told(tmp_path) == f"{tmp_path.name}: This job file is a folder: write the path of a file."
    old = tmp_path / "old.yaml"
    old.write_bytes(b"job: a\nnote: 12\xbd wide\n")
    assert told(old) == "old.yaml line 2: This job file is not in UTF-8: save it again as UTF-8 text."


def test_a_huge_file_is_refused_before_it_is_read(tmp_path: Path):
    huge = tmp_path / "huge.yaml"
    with huge.open("wb") as file:
        file.truncate(100_000_000)
    begun = time.perf_counter()
    with pytest.raises(JobError) as refused:
        load_job(huge)
    assert time.perf_counter() - begun < 1.0
    assert str(refused.value) == "huge.yaml: This job file is over 2 MB, the most that is read."
    assert MOST_BYTES == 2_000_000


def test_the_file_may_have_a_byte_order_mark_and_windows_line_ends(tmp_path: Path):
    path = tmp_path / "job.yaml"
    path.write_bytes(b"\xef\xbb\xbf" + WALL.replace("\n", "\r\n").encode())
    assert load_job(path).surfaces[0].holes[0].name == "hot"


def test_the_tools_beside_the_job_are_found(tmp_path: Path):
    path = tmp_path / "job.yaml"
    path.write_text(WALL)
    assert len(load_job(path).tools.cores) == 0
    (tmp_path / "tools.yaml").write_text("cores: 20, 28, 35\ndiscs: [115, 1' 2\"]\nprinter: {paper: A4, margin: 4.2}\n")
    tools = load_job(path).tools
    # By hand: 1 ft 2 in is 14 x 25.4 = 355.6 mm.
    assert list(tools.cores) == [20, 28, 35]
    assert list(tools.discs) == pytest.approx([115, 355.6])
    assert (tools.printer.paper, tools.printer.margin) == ("A4", 4.2)
    own = tmp_path / "mine.yaml"
    own.write_text("units: in\ncores: [1 3/8]\n")
    assert load_job(path, tools=own).tools.cores == pytest.approx((34.925,))


def test_the_printers_paper_is_taken_by_jobs_that_name_none(tmp_path: Path):
    path = tmp_path / "job.yaml"
    (tmp_path / "tools.yaml").write_text("printer: {paper: A3}\n")
    path.write_text(WALL)
    assert load_job(path).paper == "A3"
    path.write_text("paper: Letter\n" + WALL)
    assert load_job(path).paper == "Letter"
    path.write_text("say: us\n" + WALL)
    assert load_job(path).paper == "A3"


def test_faults_of_the_tools_stand_with_those_of_the_job(tmp_path: Path):
    path = tmp_path / "job.yaml"
    path.write_text(changed("joint: 3", "joint: x"))
    (tmp_path / "tools.yaml").write_text("cores: [20,28]\nsaws: 3\n")
    with pytest.raises(JobError) as refused:
        load_job(path)
    assert [str(fault) for fault in refused.value.faults] == [
        'job.yaml line 13, area "splash", joint: "x" is no length: write a number such as 642, 64.2 cm or 25 1/4 in.',
        "tools.yaml line 1: 20,28 is split by its comma: write 20.28 for a decimal, "
        "or 20, 28 with a blank for two values.",
        'tools.yaml line 2, saws: "saws" is no key here: write cores, discs, printer, units or note.',
    ]
