"""Rules about surfaces and areas: each where it speaks, with its figure by hand, and where it is silent."""

from __future__ import annotations

from typing import Any

import pytest

from cutmarks.checks.model import Finding
from tests.properties.wall import BOX, faults_of, plan_of

PIPE = {"name": "pipe", "what": "15 copper", "cover": 65, "end": "comes off"}


def said(rule: str, **keys: Any) -> list[Finding]:
    return [finding for finding in plan_of(**keys).findings if finding.rule == rule]


def two_areas(begin: float, joint: float = 2, size: str = "100 x 100") -> dict[str, Any]:
    """A low area that ends at 202 (two courses of 100 and a joint of 2) and a high one from `begin`."""
    areas = [
        {"name": "low", "tile": "square", "joint": 2, "to": "202 above B"},
        {"name": "high", "tile": "square", "joint": joint, "from": f"{begin} above B"},
    ]
    for area, level in zip(areas, ("B", f"{begin} above B"), strict=True):
        area["start"] = {"across": "joint on V", "up": f"sits on {level}"}
    return {"surface": {"edges": BOX, "areas": areas}, "tile": {"size": size}}


@pytest.mark.parametrize(
    ("begin", "joint", "space"),
    # Over twice the larger joint, and however wide: common practice, no published source.
    [(206, 2, None), (206.5, 2, 4.5), (207, 3, None), (209, 3, 7), (250, 2, 48), (302, 2, 100), (450, 2, 248)],
)
def test_two_areas_further_apart_than_twice_the_joint(begin: float, joint: float, space: float | None) -> None:
    found = said("wide space", **two_areas(begin, joint))
    assert [(f.level, f.about, f.value, f.limit) for f in found] == (
        [] if space is None else [("note", ("low", "high"), pytest.approx(space), 2 * joint)]
    )


def test_a_hole_in_a_joint_or_off_all_areas_is_on_no_tile() -> None:
    # A 1 mm wire in the middle of the joint of 2 on V, with no play.
    wire = {"name": "wire", "diameter": 1, "opening": 1, "across": "on V", "up": "centre 50 above B", "cover": "none"}
    (finding,) = said("on no tile", holes=[wire])
    assert (finding.level, finding.about) == ("warn", ("wire",))
    assert said("on no tile", holes=[{**wire, "across": "centre 2 right of V"}]) == []
    limited = {"area": {"to": "202 above B"}, "surface": {"edges": BOX}}
    high = {**PIPE, "across": "on V", "up": "centre 400 above B"}
    assert [f.about for f in said("on no tile", **limited, holes=[high])] == [("pipe",)]


def test_a_hole_in_a_window_was_read_wrong() -> None:
    # The window is 100 to 300 right of V and 100 to 300 above B; in its middle there is no tile.
    window = {"name": "window", "across": "100 to 300 right of V", "up": "100 to 300 above B"}
    wall = {"surface": {"edges": BOX, "windows": [window]}}
    inside = {**PIPE, "across": "centre 200 right of V", "up": "centre 200 above B"}
    (finding,) = said("on no tile", **wall, holes=[inside])
    assert finding.level == "warn"
    assert finding.text == "pipe lies in window, where there is no tile: read again where it is."
    assert said("on no tile", **wall, holes=[{**inside, "across": "centre 400 right of V"}]) == []


def test_a_hole_off_the_wall_is_a_fault_and_no_finding() -> None:
    # The wall ends 500 right of V; the pipe's near side at 500 touches it, at 499 it is still on it.
    def at(middle: float) -> list[str]:
        hole = {**PIPE, "across": f"centre {middle} right of V", "up": "centre 50 above B"}
        return faults_of(surface={"edges": BOX}, holes=[hole])

    (fault,) = at(508)
    assert "it lies off wall, 508 right of and 50 above where the lines cross" in fault
    (fault,) = faults_of(surface={"edges": BOX}, holes=[{**PIPE, "across": "centre 708 left of V", "up": "on B"}])
    assert "708 left of and 0 above where the lines cross" in fault
    assert at(506.5) == []
    # Where an edge was not read nothing can be off it.
    assert faults_of(holes=[{**PIPE, "across": "centre 9000 right of V", "up": "on B"}]) == []


def trimmed_top(**edge: Any) -> dict[str, Any]:
    """Courses end at 100, 202 ... 406, 508, 610; the top edge at 609 less 2: 3 comes off the last course."""
    top = {"at": "609 above B", "true": "level", "gap": 2, **edge}
    top = {key: value for key, value in top.items() if value is not None}
    return {"surface": {"edges": {**BOX, "top": top}}}


def test_under_five_off_a_whole_row_is_a_joint_problem_but_not_where_it_is_scribed() -> None:
    (finding,) = said("joint, not a cut", **trimmed_top())
    assert (finding.level, finding.value, finding.limit) == ("warn", pytest.approx(3), 5)
    assert all(name.startswith("field 6-") for name in finding.about)
    assert said("joint, not a cut", **trimmed_top(scribe="yes")) == []
    # 5 and more is a cut like another.
    assert said("joint, not a cut", **trimmed_top(at="607 above B")) == []


def test_a_gap_that_nobody_said_is_named_where_it_alone_makes_the_cut() -> None:
    # The edge on 610, where the last course ends: only the usual gap of 3 comes off it. On 609 the edge itself takes 1.
    (finding,) = said("joint, not a cut", **trimmed_top(at="610 above B", gap=None))
    assert "That is the gap of 3 that was assumed at the top edge: write gap: 0 there" in finding.text
    (finding,) = said("joint, not a cut", **trimmed_top(at="609 above B", gap=None))
    assert "assumed" not in finding.text
    (finding,) = said("joint, not a cut", **trimmed_top(at="610 above B", gap=3))
    assert "assumed" not in finding.text


@pytest.mark.parametrize(
    ("size", "bond", "percent"),
    # ANSI A108.02 4.3.8.2: a side over 15 in (381) at most 33 %. 400 + 2: half is 50 %, 130 is 32.3 %, 140 is 34.8 %.
    [
        ("400 x 100", "half", 50),
        ("400 x 100", "third right", None),
        ("400 x 100", "130 right", None),
        ("400 x 100", "140 left", 100 * 140 / 402),
        ("100 x 400", "half", 50),
        ("381 x 100", "half", None),
        # 300 of 402 is as far off as 102 the other way: 25.4 %.
        ("400 x 100", "300 right", None),
    ],
)
def test_a_long_tile_with_a_wide_offset(size: str, bond: str, percent: float | None) -> None:
    found = said("long offset", tile={"size": size}, area={"bond": bond})
    assert [f.value for f in found] == ([] if percent is None else [pytest.approx(percent)])


@pytest.mark.parametrize(
    ("right", "where"),
    # Tiles end at 305; the next begins at 307: up to 308 nothing of it is a piece.
    [(307.5, ["field, right"]), (308, []), (306, [])],
)
def test_the_space_of_a_strip_that_is_no_piece_is_named(right: float, where: list[str]) -> None:
    edges = {**BOX, "right": {"at": f"{right} right of V", "true": "plumb", "gap": 0}}
    found = said("space, no piece", surface={"edges": edges})
    assert [f.text.partition(":")[0] for f in found] == where
    assert all("courses 1 to 6, under 1 to 4" in f.text for f in found), found


def test_the_space_beside_a_window_is_said_to_be_there() -> None:
    # The window leaves 0.6 of the tile from 103 to 203 on its right.
    windows = [{"name": "window", "across": "142 to 202.4 right of V", "up": "102 to 202 above B", "gap": 0}]
    (finding,) = said("space, no piece", surface={"edges": BOX, "windows": windows})
    assert "beside a window, niche or door" in finding.text


def test_each_sentence_is_said_once() -> None:
    # A wall with many of everything: two strips, a narrow side, thin bridges on four pieces.
    holes = [
        {**PIPE, "name": name, "across": f"centre {x} right of V", "up": "centre 20 above B", "opening": 35}
        for name, x in (("one", 51), ("two", 153), ("three", 255))
    ]
    edges = {**BOX, "right": {"at": "317 right of V", "true": "plumb", "gap": 0}}
    texts = [finding.text for finding in plan_of(surface={"edges": edges}, holes=holes).findings]
    assert texts
    assert len(texts) == len(set(texts))


def run(across: str, size: str = "100 x 100") -> dict[str, Any]:
    return {"tile": {"size": size, "run across": across, "measured": "yes"}}


def test_a_run_that_makes_another_tile_than_its_size_is_said() -> None:
    # 5 tiles and 4 joints of 2: 5 x 100 + 8 = 508 is the size as written; 533 makes it 105, 533.5 makes it 105.1.
    assert said("run and size differ", **run("5 in 508")) == []
    assert said("run and size differ", **run("5 in 533")) == []
    (finding,) = said("run and size differ", **run("5 in 533.5"))
    assert (finding.level, finding.about, finding.value) == ("warn", ("square",), pytest.approx(5.1))
    assert "105 x 100 by its run, and 100 x 100 as written" in finding.text


def test_a_run_that_cannot_be_of_that_tile_is_a_fault() -> None:
    # (558 + 2) / 5 - 2 is 110, (560 + 2) / 5 - 2 is 110.4. A tile miscounted: (508 + 2) / 4 - 2 is 125.5.
    assert faults_of(**run("5 in 558")) == []
    (fault,) = faults_of(**run("4 in 508"))
    assert "run across: It makes the tile 125½ in area field, and its size says 100" in fault
    (fault,) = faults_of(**run("5 in 560"))
    assert "It makes the tile 110½" in fault


def test_a_raking_edge_that_goes_on_past_its_readings_is_said_where_it_matters() -> None:
    def going_on(*right: str) -> list[Finding]:
        return said("edge goes on", surface={"edges": {**BOX, "right": list(right)}})

    # BOX reaches from 400 below B to 600 above. 6 in 600, and 400 above the last reading: it moves by 4.
    (finding,) = going_on("500 right of V at 400 below B", "506 right of V at 200 above B")
    assert finding.level == "note"
    assert finding.value == pytest.approx(4.0)
    assert "400 above its last reading, which moves it by 4." in finding.text
    # Read near its ends, or plumb, it goes on by next to nothing.
    assert going_on("500 right of V at 390 below B", "504 right of V at 590 above B") == []
    assert going_on("500 right of V at B", "500 right of V at 100 above B") == []
