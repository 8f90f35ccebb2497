"""Slips of a figure: ten, a hundred or a thousand times the real one, or the right one in another unit. Each is a
sentence with its line, told from the text alone."""

# ruff: noqa: E501 - sentences as they are told

from __future__ import annotations

import pytest

from cutmarks.sides import Side
from tests.job.jobs import WALL, changed, faults, job, only_fault

EDGES = (
    "    edges: {left: {at: 1140 left of V, true: plumb}, right: {at: 1060 right of V, true: plumb},\n"
    "            bottom: {at: 3 below B, what: worktop, true: level}, top: {at: 600 above B, true: level}}\n"
)
BOXED = changed("        across: 67 to 83 left of V\n        up: 212 to 228 above B\n", "        corners: CORNERS\n")
TOO_FAR = "and no wall or floor that is tiled goes over 100 m: write the figure again."
TOO_WIDE = (
    "and nothing that comes through a tile is over 2500 mm: write both its sides again; windows, niches and doors stand "
    "under keys of their own."
)


def with_edges(text: str = WALL) -> str:
    """A job with all four edges, in lines 10 and 11."""
    return changed("    areas:\n", EDGES + "    areas:\n", text)


def boxed(*corners: str) -> str:
    """The job with a box by four corners in line 18."""
    return BOXED.replace("CORNERS", "[" + ", ".join(f'"{corner}"' for corner in corners) + "]")


BOX = (
    "448 left of V, 298 above B",
    "377 left of V, 297 above B",
    "376 left of V, 370 above B",
    "447 left of V, 371 above B",
)


@pytest.mark.parametrize(
    ("slip", "words"),
    [
        # By the other three: -377 + -447 - -448 = -376 across, 297 + 371 - 298 = 370 up.
        (
            {2: "376000 left of V, 370 above B"},
            '"376000 left of V, 370 above B" would be about 376 left of V, 370 above B',
        ),
        (
            {2: "376 left of V, 37000 above B"},
            '"376 left of V, 37000 above B" would be about 376 left of V, 370 above B',
        ),
        # Two boxes are possible where a figure is too small: 71 wide with the one, 410 with the other. Both are said:
        # -448 + -376 - -447 = -377, 298 + 370 - 371 = 297; and -37.7 + -447 - -448 = -36.7, said as -36.5.
        (
            {1: "37.7 left of V, 297 above B"},
            '"37.7 left of V, 297 above B" would be about 377 left of V, 297 above B or "376 left of V, 370 above B" would '
            "be about 36½ left of V, 370 above B",
        ),
        # On the other side of the line: -377 + -447 - -448 = -376 again.
        (
            {2: "376 right of V, 370 above B"},
            '"376 right of V, 370 above B" would be about 376 left of V, 370 above B or "377 left of V, 297 above B" would '
            "be about 375 right of V, 297 above B",
        ),
    ],
)
def test_four_corners_that_make_no_box(slip: dict[int, str], words: str) -> None:
    corners = [slip.get(number, corner) for number, corner in enumerate(BOX)]
    assert only_fault(boxed(*corners)) == (
        f'job.yaml line 18, hole "hot", corners: These four corners make no box: by the other three, {words}. Write it '
        "again, or another shape as its outline."
    )


@pytest.mark.parametrize("order", [(0, 1, 2, 3), (3, 2, 1, 0), (1, 3, 0, 2), (0, 2, 1, 3)])
def test_a_box_by_its_corners_in_any_order(order: tuple[int, ...]) -> None:
    assert len(job(boxed(*(BOX[number] for number in order))).surfaces[0].holes[0].corners) == 4


def test_corners_of_no_box_at_all_and_of_one_too_large() -> None:
    # A kite and a row: no three of them are square.
    row = (
        "0 right of V, 0 above B",
        "100 right of V, 10 above B",
        "200 right of V, 0 above B",
        "330 right of V, 9 above B",
    )
    assert only_fault(boxed(*row)).endswith(
        "These four corners make no box: read them again, or write another shape as its outline."
    )
    large = ("9 m left of V, B", "3 m right of V, B", "3 m right of V, 100 above B", "9 m left of V, 100 above B")
    assert only_fault(boxed(*large)) == (
        'job.yaml line 18, hole "hot", corners: These four corners make it 12 m wide, and nothing that comes through a '
        "tile is over 2500 mm: write them again; windows, niches and doors stand under keys of their own."
    )


@pytest.mark.parametrize(
    ("old", "new", "fault"),
    [
        # 377 m, meant as 377 mm; 8300 - 67 = 8233.
        ("67 to 83 left", "centre 377 m left", f'18, hole "hot", across: "centre 377 m left of V" lies 377 m from where the lines cross, {TOO_FAR}'),
        ("67 to 83 left", "67 to 8300 left", f'18, hole "hot", across: "67 to 8300 left of V" makes it 8233 mm wide, {TOO_WIDE}'),
        ("212 to 228", "212 to 22800", f'19, hole "hot", up: "212 to 22800 above B" makes it 22.6 m high, {TOO_WIDE}'),
        ("67 to 83", "67 to 67.5", '18, hole "hot", across: "67 to 67.5 left of V" leaves under 1 mm between its sides: write both sides of the thing again, or its centre.'),
        ("cover: 65", "size: 70000 x 70", '20, hole "hot", size: "70000 x 70" is 70 m one way, and a thing has 1 to 2500 mm: write it again, with its unit if that is not mm.'),
        ("cover: 65", "diameter: 0", '20, hole "hot", diameter: "0" is out of range for a diameter: write 1 to 2500 mm.'),
        ("cover: 65", "cover: 6500", '20, hole "hot", cover: "6500" is out of range for a cover: write 1 to 2500 mm.'),
        ("cover: 65", "keep clear: 7400", '20, hole "hot", keep clear: "7400" is out of range for a clear space: write 1 to 2500 mm.'),
        ("cover: 65", "hole: 89 to 10200", '20, hole "hot", hole: "89 to 10200" is out of range for a hole: write 1 to 2500 mm.'),
        ("cover: 65", "play: 300", '20, hole "hot", play: "300" is out of range for play: write 0 to 100 mm.'),
        ("cover: 65", "screw: 3500", '20, hole "hot", screw: "3500" is out of range for a screw: write 0 to 500 mm.'),
        ("cover: 65", "depth: 62 m behind the board", '20, hole "hot", depth: "62 m behind the board" is out of range for a depth: write 0 to 2500 mm.'),
        ("cover: 65", "lean: 300", '20, hole "hot", lean: "300" is over half a turn: write 0 to 180 degrees, either way.'),
        ("297 x 97", "70000 x 70", '3, tile "rib", size: "70000 x 70" is 70 m one way, and a tile has 5 to 5000 mm: write it again, with its unit if that is not mm.'),
        ("297 x 97", "1000000 x 97", '3, tile "rib", size: "1000000 x 97" is 1000 m one way, and a tile has 5 to 5000 mm: write it again, with its unit if that is not mm.'),
        ("sits on B", "sits on 400 m above B", f'14, area "splash", start, up: "400 m above B" lies 400 m from where the lines cross, {TOO_FAR}'),
        ("joint: 3\n", "joint: 3\n        from: 900 m above B\n", f'14, area "splash", from: "900 m above B" lies 900 m from where the lines cross, {TOO_FAR}'),
        ("joint: 3\n", "joint: 3\n        from: 600 above B\n        to: 300 above B\n", '15, area "splash", to: "300 above B" does not lie above "600 above B": nothing is left between the two; look at which side of which line was written.'),
        # (297 + 3) is from one tile to the next; (12 + 3) / 5 - 3 = 0.
        ("joint: 3\n", "joint: 3\n        bond: 2000 right\n", '14, area "splash", bond: "2000 right" steps further than from one tile to the next, 300 mm: write a shorter step, or a part as in third right.'),
        ("thickness: 9, measured: yes", "thickness: 9, run across: 5 in 12", '3, tile "rib", run across: It makes the tile 0 in area splash, and its size says 297: measure the run again, edge to edge, count its tiles, and look at which size lies across (lay:).'),
        ("size: 297 x 97", "size: 297 x 20", ""),
        ("B: level,", "W: plumb, 300 m right of V, door\n      B: level,", f'9, line "W": "300 m right of V" lies 300 m from where the lines cross, {TOO_FAR}'),
    ],
)  # fmt: skip
def test_a_slip_is_a_sentence_at_its_line(old: str, new: str, fault: str) -> None:
    if not fault:
        # A joint of 30 between tiles of 297 x 20.
        assert only_fault(changed("joint: 3\n", "joint: 30\n", changed(old, new))) == (
            'job.yaml line 13, area "splash", joint: A joint of 30 mm is wider than "rib", which is 297 x 20: write the '
            "joint, or the tile's size, again."
        )
        return
    told = only_fault(changed(old, new))
    assert told == f"job.yaml line {fault}"


@pytest.mark.parametrize(
    ("old", "new", "fault"),
    [
        # 6700 - 1140 = 5560; 5970 - 600 = 5370; 90000 - 1140 = 88860; 60000 - 1060 = 58940.
        ("67 to 83 left", "6700 to 6716 left", '20, hole "hot", across: It lies off sink wall, 5560 mm past the left edge: look at which side of which line was written.'),
        ("joint: 3\n", "joint: 3\n        to: 5970 above B\n", '16, area "splash", to: "5970 above B" lies 5370 mm past the top edge of this surface: write the figure again, or the edge.'),
        ("    areas:\n", "    windows: [{across: 1000 to 90000 left of V, up: 5 to 60 above B}]\n    areas:\n", '12, window 1, across: "1000 to 90000 left of V" lies 88.9 m past the left edge of this surface: write the figure again, or the edge.'),
        ("right: {at: 1060 right", "right: {at: 60 m right", ""),
        ("right: {at: 1060 right", "right: {at: 1160 left", '10, surface "sink wall", right edge: The right edge lies 20 mm left of the left one: look at which side of which line was written.'),
    ],
)  # fmt: skip
def test_what_lies_past_the_edges_that_are_known(old: str, new: str, fault: str) -> None:
    text = changed(old, new, with_edges())
    if not fault:
        # A floor of 61 m is one.
        assert job(text).surfaces[0].edges[Side.RIGHT].readings[0].at.low == 60_000
        return
    assert only_fault(text) == f"job.yaml line {fault}"


def test_a_surface_of_over_a_hundred_metres() -> None:
    # 60 + 60 m; 50.2 + 50.2 is 100 to the nearest metre.
    long = with_edges().replace("1140 left", "60 m left").replace("1060 right", "60 m right")
    assert only_fault(long) == (
        'job.yaml line 10, surface "sink wall", right edge: Its left and right edges lie 120 m from each other, and no '
        "wall or floor that is tiled in one goes over 100 m: write the figures again, or make two surfaces of it."
    )
    job(long.replace("60 m", "50.2 m"))


def test_a_figure_taken_in_another_unit_says_so() -> None:
    # 83 - 67 m = 16 m; a joint of 3 m.
    told = faults(changed("job: Quay", "units: m\njob: Quay"))
    assert told[:3] == [
        'job.yaml line 4, tile "rib", size: "297 x 97" is 297 m one way, and a tile has 5 to 5000 mm: write it again, with '
        "its unit if that is not m.",
        'job.yaml line 4, tile "rib", thickness: "9" is taken for 9 m, which is out of range for a thickness: write 0 to '
        "100 mm.",
        'job.yaml line 14, area "splash", joint: "3" is taken for 3 m, which is out of range for a joint: write 0 to 50 mm.',
    ]
    assert told[3] == (
        'job.yaml line 19, hole "hot", across: "67 to 83 left of V" makes it 16 m wide (a figure without a unit is in m), '
        + TOO_WIDE
    )


def test_an_edge_that_was_not_read_is_no_start_of_a_reading() -> None:
    assert only_fault(changed("67 to 83 left of V", "277 in from right there")) == (
        'job.yaml line 18, hole "hot", across: "277 in from right there" is from the right edge, which has no reading: '
        "write it under edges, as in right: 1065 right of V, or read from a line."
    )


def test_what_follows_from_another_fault_is_kept_back() -> None:
    assert only_fault(changed("      V: plumb, middle of the sink\n", "")) == (
        'job.yaml line 7, surface "sink wall", lines: There is no plumb line: write one under lines, as in "V: plumb, '
        'middle of the sink".'
    )
    assert only_fault(changed("  rib: {size: 297 x 97, thickness: 9, measured: yes}", "  {}")) == (
        'job.yaml line 11, area "splash": The job has no tiles to lay this area with: write tiles:, and under it rib: '
        "{size: 297 x 97}. Where no tile is chosen yet, leave areas: out."
    )


@pytest.mark.parametrize(("old", "new"), [("  rib: {", '  " ": {'), ("      V: plumb", '      " ": plumb')])
def test_what_has_no_name_is_not_offered(old: str, new: str) -> None:
    told = faults(changed(old, new))
    assert [fault.partition(": ")[2] for fault in told] == ['"name" is missing: write name: and a word for it.']


def test_no_more_faults_are_told_than_anyone_mends() -> None:
    told = faults(WALL + "".join(f"k{number}: 1\n" for number in range(400)))
    # WALL has 21 lines: the hundredth of them stands in line 121.
    assert len(told) == 101
    assert told[99].startswith("job.yaml line 121, k99: ")
    assert (
        told[100] == "job.yaml line 122: There are more faults from here on, over 100 in all: mend those above first."
    )


def test_longer_lists_than_any_job_has() -> None:
    spots = "".join(f"      - {number} right of V, {number} above B\n" for number in range(1_001))
    assert only_fault(changed("    areas:\n", f"    outline:\n{spots}    areas:\n")) == (
        'job.yaml line 10, surface "sink wall", outline: There are 1001 corners here, and 1000 is the most: leave out what '
        "is there twice, or make several jobs of it."
    )
    assert only_fault(WALL + "".join(f"k{number}: 1\n" for number in range(498))).endswith(
        "k497: This is key 501 of one thing, and none has so many: look at what was copied here."
    )
