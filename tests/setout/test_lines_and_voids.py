"""Set-out lines from each other; windows, niches, doors and strips, read from lines and from edges out of true."""

from __future__ import annotations

from typing import Any

import pytest

from cutmarks.sides import Side
from tests.properties.wall import BOX, faults_of, ground_of, plan_of


def near(value: float) -> Any:
    return pytest.approx(value, abs=1e-6)


def test_a_line_may_be_given_from_one_that_comes_after_it() -> None:
    lines = {
        "V": "plumb, middle",
        "B": "level, batten",
        "T": "level, 200 above S, top rail",
        "S": "level, 1200 above B, sill",
        "W": "plumb, 350 left of V, waste",
    }
    setout = ground_of(surface={"lines": lines})
    # 1200, and 200 more; 350 to the left.
    assert {name: line.at for name, line in setout.lines.items()} == {"V": 0, "B": 0, "S": 1200, "T": 1400, "W": -350}
    assert setout.lines["T"].words == "top rail"


def test_lines_that_are_measured_from_each_other_have_no_place() -> None:
    lines = {"V": "plumb, middle", "B": "level, batten", "S": "level, 10 above T, sill", "T": "level, 10 below S, rail"}
    faults = faults_of(surface={"lines": lines})
    assert any("measured from" in fault for fault in faults), faults


def test_a_window_is_grown_by_its_gap() -> None:
    windows = [{"name": "window", "across": "100 to 500 right of V", "up": "350 to 850 above B"}]
    (void,) = ground_of(surface={"windows": windows}).voids
    # 3 where none was given (common practice, no published source).
    assert void.ring.bounds == (near(97), near(347), near(503), near(853))
    assert void.measured.bounds == (near(100), near(350), near(500), near(850))
    (void,) = ground_of(surface={"windows": [{**windows[0], "gap": 0}]}).voids
    assert void.ring.bounds == (near(100), near(350), near(500), near(850))


def test_one_gap_for_all_is_the_windows_too_and_that_is_said() -> None:
    window = {"name": "left", "across": "100 to 500 right of V", "up": "350 to 850 above B"}
    surface = {"windows": [window], "gaps": 6}
    (void,) = ground_of(surface=surface).voids
    assert void.ring.bounds == (near(94), near(344), near(506), near(856))
    assert "wall: a gap of 6 at window left; write gap: where it is another." in plan_of(surface=surface).assumed
    # By side they are the edges' own, and a window keeps the usual 3; its own gap goes before either.
    (void,) = ground_of(surface={**surface, "gaps": {"left": 6, "right": 6}}).voids
    assert void.gap == near(3)
    (void,) = ground_of(surface={**surface, "windows": [{**window, "gap": 2}]}).voids
    assert void.gap == near(2)
    # Round the corner of a lined one tile goes on: 13 past its edge, nothing kept clear.
    lined = {**surface, "windows": [{**window, "lining": 13}]}
    (void,) = ground_of(surface=lined).voids
    assert void.ring.bounds.min_x == near(113)
    assert (
        "wall: no gap at window left, as tile goes on round the corner there; the surface's gaps are not taken. Write "
        "gap: where one is kept."
    ) in plan_of(surface=lined).assumed


def test_an_outlined_voids_gap_is_at_right_angles() -> None:
    # A square on its corner, 100 from middle to corner: 4 at right angles puts each corner 4 x sqrt 2 further out.
    spots = ["100 right of V, B", "V, 100 above B", "100 left of V, B", "V, 100 below B"]
    (void,) = ground_of(surface={"niches": [{"name": "niche", "outline": spots, "gap": 4}]}).voids
    assert void.ring.bounds.max_x == near(100 + 4 * 2**0.5)
    assert void.kind == "niche"


def test_a_door_read_from_an_edge_out_of_true_is_read_at_its_own_height() -> None:
    # The left edge is at -500 at B and at -520 at 1000 above: at the door's middle, 500 up, it is at -510.
    edges = {**BOX, "left": ["500 left of V at B", "520 left of V at 1000 above B"]}
    doors = [{"name": "door", "across": "50 to 250 in from left", "up": "0 to 1000 above B", "gap": 0}]
    (void,) = ground_of(surface={"edges": edges, "doors": doors}).voids
    assert (void.ring.bounds.min_x, void.ring.bounds.max_x) == (near(-460), near(-260))


def test_from_a_right_edge_the_larger_reading_is_further_in() -> None:
    windows = [{"name": "window", "across": "50 to 250 in from right", "up": "0 to 100 above B", "gap": 0}]
    (void,) = ground_of(surface={"edges": BOX, "windows": windows}).voids
    assert (void.ring.bounds.min_x, void.ring.bounds.max_x) == (near(250), near(450))


def test_a_strip_not_to_drill_trims_nothing() -> None:
    strips = [
        {"name": "cable", "across": "20 left to 20 right of V", "up": "0 to 600 above B", "why": "cable to the fan"}
    ]
    setout = ground_of(surface={"do not drill": strips})
    (strip,) = setout.keep_outs
    assert strip.ring.bounds == (near(-20), near(0), near(20), near(600))
    assert strip.why == "cable to the fan"
    assert not setout.voids


def test_a_void_whose_outline_crosses_itself_is_a_fault() -> None:
    spots = ["V, B", "100 right of V, 100 above B", "100 right of V, B", "V, 100 above B"]
    faults = faults_of(surface={"windows": [{"name": "bow", "outline": spots}]})
    assert any("crosses itself" in fault for fault in faults), faults


@pytest.mark.parametrize(
    ("what", "gap"),
    # Common practice, no published source: 5 over a floor, 3 beside what is there, none on what the tiles stand on.
    [
        *(("batten", 0), ("top of the ledger", 0), ("packers", 0), ("worktop", 3), ("floor", 5)),
        *(("open end", 0), ("open end, metal trim", 0), ("an Open  End", 0), ("end of the open shelf", 3)),
    ],
)
def test_no_gap_is_kept_where_the_tiles_stand_on_what_is_there_or_end_beside_nothing(what: str, gap: int) -> None:
    edges = {**BOX, "bottom": {"at": "on B", "true": "level", "what": what}}
    surface = {"edges": edges}
    assert ground_of(surface=surface).edges[Side.BOTTOM].gap == gap
    kept = f"a gap of {gap}" if gap else "no gap"
    assert any(one.startswith(f"wall: {kept} at ") and "bottom edge" in one for one in plan_of(surface=surface).assumed)


@pytest.mark.parametrize(
    ("keys", "asked"),
    [
        ({"what": "open end, metal trim"}, True),
        ({"what": "open end, metal trim", "trim": 2.5}, False),
        ({"what": "open end"}, False),
        ({"what": "open shelf with a trim"}, False),
    ],
)
def test_a_trim_at_an_open_end_is_asked_for_its_width(keys: dict[str, object], asked: bool) -> None:
    edges = {**BOX, "top": {"at": "400 above B", "true": "level", **keys}}
    sentences = [one for one in plan_of(surface={"edges": edges}).assumed if "trim" in one]
    wanted = (
        "wall, top edge: how wide the trim is that open end, metal trim names is not said, and nothing is taken off "
        "for it; write trim: and its width, as in trim: 2.5."
    )
    assert sentences == ([wanted] if asked else [])


def test_an_edge_on_the_line_of_the_batten_is_the_batten() -> None:
    for at, lines, gap in (
        ("on B", {"V": "plumb", "B": "level, top of the batten"}, 0),
        ("on B", {"V": "plumb", "B": "level, top of the counter"}, 5),
        ("5 below B", {"V": "plumb", "B": "level, top of the batten"}, 5),
    ):
        edges = {**BOX, "bottom": {"at": at, "true": "level"}}
        assert ground_of(surface={"edges": edges, "lines": lines}).edges[Side.BOTTOM].gap == gap


def test_a_batten_beside_the_end_of_a_course_keeps_the_gap() -> None:
    edges = {**BOX, "left": {"at": "500 left of V", "true": "plumb", "what": "batten"}}
    assert ground_of(surface={"edges": edges}).edges[Side.LEFT].gap == 3
