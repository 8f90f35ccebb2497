"""Things that are given twice, half, or in the wrong shape."""

from __future__ import annotations

import pytest

from cutmarks.sides import Side
from tests.job.jobs import FLOOR, WALL, changed, faults, job, only_fault

POSITION = "        across: 67 to 83 left of V\n        up: 212 to 228 above B\n"
SQUARE = "[[1 right of V, 1 above B], [9 right of V, 1 above B], [9 right of V, 9 above B], [1 right of V, 9 above B]]"
TRIANGLE = "[[1 right of V, 1 above B], [9 right of V, 1 above B], [9 right of V, 9 above B]]"
PAIR = "[[1 right of V, 1 above B], [9 right of V, 1 above B]]"


def before_areas(lines: str) -> str:
    """The wall with more keys of its surface, which begin in line 10."""
    return changed("    areas:\n", f"{lines}    areas:\n")


@pytest.mark.parametrize(
    ("edge", "sentence"),
    [
        (
            "left: {what: bath}",
            "It needs a reading, or steps, not both: write at: 1140 left of V, or a list of readings.",
        ),
        (
            "bottom: {what: floor}",
            "It needs a reading, or steps, not both: write at: 5 below B (on a floor 20 short of D), or a list of "
            "readings.",
        ),
        (
            "left: [1140 left of V, 1138 left of V at B]",
            "It has several readings, and one does not say where it was taken: write it as in 1065 right of V at B.",
        ),
        (
            "left: {at: [1140 left of V at B, 1138 left of V at 900 above B], true: plumb}",
            "It is said to be true and has several readings: keep one reading, or leave true out.",
        ),
        (
            "left: {steps: [{at: 1140 left of V}, {at: 1138 left of V}]}",
            "A step that is not the last does not say where it ends: write until: and a place along the edge.",
        ),
        (
            "left: {steps: [{at: 1140 left of V, until: 900 above B}]}",
            "The last step goes on to the end: leave its until out.",
        ),
    ],
)
def test_edges_half_given(edge, sentence):
    told = only_fault(before_areas(f"    edges:\n      {edge}\n"))
    assert told == f'job.yaml line 11, surface "sink wall", {edge.partition(":")[0]} edge: {sentence}'


@pytest.mark.parametrize(
    ("edge", "fault"),
    [
        (
            "left: {at: 1140 left of V, true: level}",
            'left edge, true: "level" is no way for a left edge to be true: write plumb or no.',
        ),
        (
            "lft: {at: 1140 left of V, true: plumb}",
            'lft edge: "lft" is not taken here: write left, right, bottom or top.',
        ),
        (
            "left: 1140 above B",
            'left edge: "1140 above B" does not fit across, which takes right of or left of a line: '
            "write it as in 67 to 83 left of V.",
        ),
        ("left: {at: 1140 left of V, gap: 600}", 'left edge, gap: "600" is out of range for a gap: write 0 to 500 mm.'),
    ],
)
def test_values_of_edges(edge, fault):
    assert only_fault(before_areas(f"    edges:\n      {edge}\n")) == f'job.yaml line 11, surface "sink wall", {fault}'


def test_an_edge_that_is_not_known_is_left_out():
    surface = job(before_areas("    edges: {left: ?, right: {at: 900 right of V, true: yes}}\n")).surfaces[0]
    assert list(surface.edges) == ["right"]
    assert surface.edges[Side.RIGHT].true == "plumb"
    untrue = job(before_areas("    edges: {right: {at: 900 right of V, true: no}}\n"))
    assert untrue.surfaces[0].edges[Side.RIGHT].true == ""


def test_one_gap_for_all_sides():
    assert job(before_areas("    gaps: 4\n")).surfaces[0].gaps == {"left": 4, "right": 4, "bottom": 4, "top": 4}
    assert job(before_areas("    gaps: {floor: 6, top: ?}\n")).surfaces[0].gaps == {"bottom": 6}


def test_the_floor_and_the_bottom_are_one_edge():
    assert only_fault(before_areas("    edges: {floor: 5 below B, bottom: 4 below B}\n")) == (
        'job.yaml line 5, surface "sink wall": The bottom edge is given twice: keep one.'
    )


@pytest.mark.parametrize(
    ("lines", "sentence"),
    [
        (
            f"    outline: {SQUARE}\n    edges: {{left: {{at: 9 left of V, true: yes}}}}\n",
            "It has edges and an outline: keep one.",
        ),
        (f"    outline: {PAIR}\n", "Its outline has 2 corners: write three or more."),
    ],
)
def test_surfaces_bounded_twice_or_not_at_all(lines, sentence):
    assert only_fault(before_areas(lines)) == f'job.yaml line 5, surface "sink wall": {sentence}'


@pytest.mark.parametrize(
    ("keys", "sentence"),
    [
        ("across: 1 to 5 right of V", "It has no up: write both its sides, as in up: 350 to 850 above B."),
        ("up: 1 to 5 above B", "It has no across: write both its sides, as in across: 100 to 500 right of V."),
        (
            "across: centre 5 right of V, up: 1 to 5 above B",
            '"centre 5 right of V" does not give both its sides: write it as in across: 100 to 500 right of V.',
        ),
        (f"across: 1 to 5 right of V, outline: {TRIANGLE}", "It has sides and an outline: keep one."),
        (f"outline: {PAIR}", "Its outline has 2 corners: write three or more."),
    ],
)
def test_windows_and_strips_half_given(keys, sentence):
    for listed, called in (("windows", 'window "w"'), ("do not drill", 'strip "w"')):
        told = only_fault(before_areas(f"    {listed}:\n      - {{name: w, {keys}}}\n"))
        assert told == f"job.yaml line 11, {called}: {sentence}"


@pytest.mark.parametrize(
    ("position", "sentence"),
    [
        ("", "It has no position: write across and up, or corners."),
        ("        up: 212 to 228 above B\n", 'It has no position across: write it as in "across: 67 to 83 left of V".'),
        (
            f"{POSITION}        corners: {SQUARE}\n",
            "It is placed twice: keep across and up, or corners, or the outline.",
        ),
        (f"        corners: {TRIANGLE}\n", "It has 3 corners: a box has four; write other shapes as outline."),
        (f"        outline: {PAIR}\n", "Its outline has 2 corners: write three or more."),
    ],
)
def test_holes_placed_twice_or_not_at_all(position, sentence):
    assert only_fault(changed(POSITION, position)) == f'job.yaml line 16, hole "hot": {sentence}'


@pytest.mark.parametrize(
    ("line", "sentence"),
    [
        ("cover: 0", '"0" is out of range for a cover: write 1 to 2500 mm.'),
        ("hole: 0", '"0" is out of range for a hole: write 1 to 2500 mm.'),
        ("hole: 102 to 89", '"102 to 89" is no range of holes: write the least and the most, as in 89 to 102.'),
        ("slot: sideways", '"sideways" is no slot: write its length and width, as in 40 x 20, or towards the right.'),
        ("lean: crooked", '"crooked" is no angle: write degrees counter-clockwise, as in 45, or 30 clockwise.'),
    ],
)
def test_values_of_holes(line, sentence):
    key = line.partition(":")[0]
    assert only_fault(changed("cover: 65", line)) == f'job.yaml line 20, hole "hot", {key}: {sentence}'


@pytest.mark.parametrize(
    ("old", "new", "fault"),
    [
        ("    lines:\n", "    lines: V\n    note:\n", 'line 7, surface "sink wall", lines: '),
        (
            "    areas:\n",
            "    doors: 3\n    areas:\n",
            'line 10, surface "sink wall", doors: A list is wanted here: begin each thing with - on a line of its own.',
        ),
        (
            "    holes:\n",
            "    windows: [3]\n    holes:\n",
            'line 15, window "3": It has no across: write both its sides, as in across: 100 to 500 right of V.',
        ),
        (
            "tiles:\n  rib: {size: 297 x 97, thickness: 9, measured: yes}\n",
            "tiles: 297 x 97\n",
            "line 2, tiles: Keys are wanted here, one a line, each with a colon and a blank behind it.",
        ),
        (
            "cover: 65",
            "cover: {w: 3}",
            'line 20, hole "hot", cover: Keys stand where one value is wanted: write one value on this line.',
        ),
        (
            "cover: 65",
            "note: " + "n" * 401,
            f'line 20, hole "hot", note: "{"n" * 40}..." is 401 characters long: write at most 400.',
        ),
        (
            "cover: 65",
            "Cover: 65\n        COVER: 66",
            'line 16, hole "hot": "Cover" and "COVER" say the same: keep one.',
        ),
        ("job: Quay Cottage, laundry", 'job: ""', 'line 1: "job" is missing: write job: Quay Cottage.'),
    ],
)
def test_wrong_shapes(old, new, fault):
    assert any(told.startswith(f"job.yaml {fault}") for told in faults(changed(old, new))), faults(changed(old, new))


def test_a_job_without_tiles_or_surfaces():
    bare = job("job: a\nsurfaces: [{name: a, kind: wall, lines: {V: plumb, B: level}, thickness: 9, notch: 8}]\n")
    assert (bare.tiles, bare.surfaces[0].areas, bare.surfaces[0].thickness, bare.surfaces[0].notch) == ({}, (), 9, 8)
    assert faults(WALL.replace("    kind: wall\n", "    kind: wall\n    thickness: 9\n")) == [
        'job.yaml line 5, surface "sink wall": thickness: stands on a surface whose tile is not chosen yet, and this '
        'one has areas: write it under tiles:, with the tile "rib".'
    ]
    assert faults("job: a\ntiles: {rib: 297 x 97}\nsurfaces: []\n") == [
        "job.yaml line 1: It has no surfaces: write one under surfaces:, with name, kind, lines and areas."
    ]
    assert faults("finest: 1/16\n" + WALL) == [
        "job.yaml line 1: finest: 1/16 is too fine for a job in mm: write 1/2 or 1."
    ]


def test_a_line_in_keys_of_its_own():
    text = changed(
        "V: plumb, middle of the sink",
        "V: {kind: plumb, words: middle of the sink}\n      W: {kind: plumb, at: 30 left of V}",
    )
    v, w, _ = job(text).surfaces[0].lines
    assert (v.at, v.words, w.words) == (None, "middle of the sink", "")
    assert w.at is not None
    assert w.at.low == -30


def test_a_start_in_one_phrase():
    text = changed("start: {across: joint on V, up: sits on B}", "start: middle on V and B\n        turn: 45")
    area = job(text).surfaces[0].areas[0]
    assert area.start_across is not None
    assert area.start_up is not None
    assert (area.start_across.anchor, area.start_up.anchor, area.turn) == ("middle", "middle", 45)


def test_accepted_findings_have_a_reason():
    accepted = "accept:\n  - {rule: bridge, about: splash 3-2, reason: hidden by the cover}\n"
    (one,) = job(WALL + accepted).accepted
    assert (one.rule, one.about, one.reason) == ("bridge", "splash 3-2", "hidden by the cover")
    assert only_fault(WALL + "accept:\n  - {rule: bridge}\n") == (
        'job.yaml line 23, accepted finding 1: "reason" is missing: write reason: and why you live with it.'
    )


def test_a_tab_between_two_words_is_a_blank():
    for tab in ("kind:\twall", "kind: \t wall"):
        assert job(WALL.replace("kind: wall", tab)).surfaces == job(WALL).surfaces


def test_work_and_limits():
    limits = ("work: right to left", "left of: 300 right of V", "nothing below: B", "to: 597 above B")
    area = "\n        ".join(("joint: 3", *limits)) + "\n"
    read = job(changed("joint: 3\n", area)).surfaces[0].areas[0]
    assert read.left_of is not None
    assert read.nothing_below is not None
    assert read.to is not None
    assert (read.work, read.left_of.low, read.nothing_below.low, read.to.low) == ("right to left", 300, 0, 597)


def test_a_floors_edges_are_square():
    edges = "    edges: {left: {at: 900 left of V, true: square}, top: {at: 1700 from D, true: yes}}\n    areas:\n"
    surface = job(changed("    areas:\n", edges, FLOOR)).surfaces[0]
    assert (surface.edges[Side.LEFT].true, surface.edges[Side.TOP].true) == ("plumb", "level")
