"""What a job file cannot say: names, keys, values and things that do not fit together, all faults at once."""

from __future__ import annotations

import pytest

from tests.job.jobs import WALL, changed, faults, only_fault

NAME_FAULT = "use letters, figures, blanks and hyphens."


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


@pytest.mark.parametrize(
    "sign",
    [
        "\N{FULLWIDTH EQUALS SIGN}",
        "\N{FULLWIDTH PLUS SIGN}",
        "\N{FULLWIDTH HYPHEN-MINUS}",
        "\N{FULLWIDTH COMMERCIAL AT}",
        "\N{SMALL HYPHEN-MINUS}",
    ],
)
def test_a_name_of_full_width_signs_is_a_formula_too(sign):
    told = only_fault(changed("name: hot", f"name: {sign}SUM(1)"))
    assert told == (
        f'job.yaml line 16, hole "{sign}SUM(1)", name: "{sign}SUM(1)" begins with {sign}, which a spreadsheet runs as '
        "a formula: begin with a letter or a figure."
    )


def test_names_are_one_for_one_thing_in_the_whole_job():
    second = (
        WALL[WALL.index("  - name: sink wall") :].replace("sink wall", "bath wall").replace("name: hot", "name: HOT")
    )
    assert faults(WALL + second) == [
        'job.yaml line 28, area "splash", name: Two areas are called "splash" (the first is on "sink wall", in line '
        "11): give each a name of its own.",
        'job.yaml line 33, hole "HOT", name: Two holes are called "HOT" (the first is on "sink wall", in line 16): '
        "give each a name of its own.",
    ]
    assert (
        'Two surfaces are called "sink wall" (the first is in line 5): give each a name of its own.'
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


@pytest.mark.parametrize(
    "line", ['{kind: "plumb, 600 right of V"}', "{kind: plumb, at: 600 right of V}", '"plumb, 600 right of V"']
)
def test_a_line_that_is_measured_from_itself_is_told_however_it_is_written(line):
    assert only_fault(changed("V: plumb, middle of the sink", f"V: {line}")) == (
        'job.yaml line 7, surface "sink wall", lines: Each plumb line is measured from another: '
        "give one of them no distance, it is the main one."
    )


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
            '3, tile "rib", size: "297 x 2" is 2 mm one way, and a tile has 5 to 5000 mm: '
            "write it again, with its unit if that is not mm.",
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
    assert 'There is no level line: write one under lines, as in "B: level, top of the batten".' in faults(no_level)[0]


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
        'job.yaml line 9, line "v": Two lines are called "V" and "v" (the first is in line 8): '
        "give each a name of its own."
    )
    assert only_fault(changed("surfaces:", "  Rib: {size: 297 x 97, measured: yes}\nsurfaces:")) == (
        'job.yaml line 4, tile "Rib": Two tiles are called "rib" and "Rib" (the first is in line 3): '
        "give each a name of its own."
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
        'job.yaml line 1: "surfaces" is missing: write surfaces:, and under it - name: sink wall.',
    ]


def test_several_joints_are_of_an_area():
    said = only_fault(changed("measured: yes", "measured: yes, joint: 1.5 or 2"))
    assert said.endswith(
        'joint: "1.5 or 2": a tile has one joint. Several, of which setout takes the best, go under its areas: write '
        "joint: 1.5 or 2 there, and leave the tile's out."
    )


@pytest.mark.parametrize(
    ("edge", "name", "way"),
    [
        ("left: [1140 left of V at the floor, 1133 left of V at B]", "the floor", "1000 below B"),
        ("bottom: [90 below B at the corner, 95 below B at V]", "the corner", "1000 left of V"),
    ],
)
def test_a_place_along_an_edge_that_is_no_line_has_its_way_out(edge, name, way):
    said = only_fault(changed("    areas:\n", f"    edges: {{{edge}}}\n    areas:\n"))
    assert said.endswith(
        f'"{name}" is no set-out line of this surface: write V or B, or how far from a line that is, as in {way}.'
    )
