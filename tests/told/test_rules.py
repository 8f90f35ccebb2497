"""Rules where it matters which of several things decides: each speaks at its border, and is silent beside it."""

from __future__ import annotations

from pathlib import Path

import pytest

from cutmarks.checks.pieces import listed
from cutmarks.job import load_job
from cutmarks.plan import make_plan
from tests.told.walls import only_cut, said, text_of, wall


def hole(what: str, x: float, y: float, more: str = "cover: none, end: comes off") -> str:
    return f"what: {what}, across: centre {x} right of V, up: centre {y} above B, {more}"


def test_the_edge_of_a_hole_in_a_strip_is_enough() -> None:
    # The hole is 35 about 450: from 432.5 to 467.5. A strip that begins at 460 holds its edge and not its middle.
    near = "    do not drill: [{name: cable, across: 460 to 500 right of V, up: 0 to 900 above B}]"
    assert len(said(wall(hole("tail, diameter: 15, opening: 35", 450, 300), surface=near), "do not drill")) == 1
    clear = near.replace("460 to 500", "468 to 508")
    assert said(wall(hole("tail, diameter: 15, opening: 35", 450, 300), surface=clear), "do not drill") == []


def test_a_round_cover_over_a_box_hides_its_corners_or_does_not() -> None:
    # A cut-out of 40 x 40 has its corners 20 * sqrt 2 = 28.28 from its middle. A cover of 50 reaches 25: it shows 3.28
    # there, though it laps 5 past every side. A cover of 60 reaches 30: 1.72 past the corners.
    box = "15 copper, opening: 40 x 40"
    (shows,) = said(wall(hole(box, 450, 300, "cover: 50, end: comes off")), "shows past its cover")
    assert shows.level == "stop"
    assert shows.value == pytest.approx(25 - 28.2843, abs=1e-4)
    assert said(wall(hole(box, 450, 300, "cover: 60, end: comes off")), "shows past its cover") == []


@pytest.mark.parametrize(("dx", "dy"), [(60.0, 0.0), (0.0, 60.0)])
def test_covers_overlap_beside_and_above_each_other(dx: float, dy: float) -> None:
    # Two covers of 65 whose middles are 60 apart share a lens 5 wide.
    pipe = "tail, diameter: 15, opening: 28"
    plan = wall(
        hole(pipe, 430, 280, "cover: 65, end: comes off"), hole(pipe, 430 + dx, 280 + dy, "cover: 65, end: comes off")
    )
    (finding,) = said(plan, "covers overlap")
    assert (finding.level, finding.about) == ("stop", ("h1", "h2"))
    assert finding.value == pytest.approx(5, abs=1e-4)
    # 66 apart they do not.
    apart = wall(
        hole(pipe, 430, 280, "cover: 65, end: comes off"),
        hole(pipe, 430 + dx * 1.1, 280 + dy * 1.1, "cover: 65, end: comes off"),
    )
    assert said(apart, "covers overlap") == []


def leaning(stubs: tuple[float, float]) -> str:
    """What is said of two pipes of one tile that lean 7 in 70 apart, each in a hole of 35 and with a stub."""
    plan = wall(
        *(
            hole(
                "tail, diameter: 15, opening: 35",
                x,
                300,
                f"cover: 65, end: comes off, lean: 7 in 70 {way}, stub: {stub:g}",
            )
            for x, way, stub in ((390, "left", stubs[0]), (510, "right", stubs[1]))
        ),
        tile="thickness: 10",
    )
    return " ".join(finding.text for finding in plan.findings if finding.rule == "tile cannot be pushed on")


def test_of_two_stubs_the_longest_decides() -> None:
    # Splay of two pipes that lean a each: 2 L tan a. With tan a 0.1, a stub of 60 is 12 and one of 180 is 36. The room
    # round each: (35 - 15 * sqrt(1.01) - 10 * 0.1) / 2 = 9.46, 18.92 for both.
    assert leaning((60, 60)) == ""
    for stubs in ((60, 180), (180, 60)):
        assert leaning(stubs) != ""


def test_where_the_holes_have_no_room_a_small_splay_is_too_much() -> None:
    # Each leans 1 in 100 away from the other: over a stub of 75 they are 2 * 75 * 0.01 = 1.5 further apart. Through a
    # tile of 10 each needs 15 * sqrt(1.0001) + 10 * 0.01 = 15.1 of its hole of 15.2: 0.05 each way, 0.1 for both.
    plan = wall(
        *(
            hole("tail, diameter: 15, opening: 15.2", x, 300, f"end: comes off, lean: 1 in 100 {way}, stub: 75")
            for x, way in ((390, "left"), (510, "right"))
        ),
        tile="thickness: 10",
    )
    (finding,) = said(plan, "tile cannot be pushed on")
    assert finding.value == pytest.approx(1.5, abs=1e-6)
    assert finding.limit == pytest.approx(0.1, abs=2e-3)


@pytest.mark.parametrize(
    ("at", "strip", "words"), [(894, 8, "only 8 comes off"), (612, 8, "only 8 wide"), (880, 22, "")]
)
def test_a_strip_that_does_not_snap_is_said_of_the_axis_it_is_cut_on(at: int, strip: float, words: str) -> None:
    # The last tile is 601 to 899, the gap 3. To a wall at 894 it is cut at 891, and 8 come off; to one at 612 at 609,
    # and 8 stay: under the 10 that a snap cutter takes. To one at 880 it is cut at 877, and 22 come off.
    edges = (
        f"left: {{at: 0 right of V, true: plumb, gap: 1}}, right: {{at: {at} right of V, true: plumb, gap: 3}}, "
        "bottom: {at: 0 above B, true: level, gap: 0}, top: {at: 400 above B, true: level, gap: 2}"
    )
    found = said(wall(hole("15 copper", 450, 300), edges=edges), "will not snap")
    assert [(one.value, words in one.text) for one in found] == ([(pytest.approx(strip), True)] if words else [])


@pytest.mark.parametrize(("far", "level"), [(145, "warn"), (157, "stop")])
def test_two_sides_found_too_far_apart_stop_where_half_of_it_is_over_the_leeway(far: int, level: str) -> None:
    # 119 and 134 are expected, 15 apart, and the hole may be 10 off. 119 to 145 is 26, 11 too many: the middle is out
    # by 5.5 at most. 119 to 157 is 38, 23 too many: out by 11.5.
    (finding,) = said(wall(more=f"found: [{{piece: field 3-R2, left: 119 to {far}}}]"), "found disagrees")
    assert (finding.level, finding.value) == (level, pytest.approx(far - 134))


def test_an_end_that_is_not_written_is_not_taken_to_run_on() -> None:
    pipe = "15 copper"
    assert said(wall(hole(pipe, 450, 300, "cover: 65")), "cannot be put on") == []
    assert len(said(wall(hole(pipe, 450, 300, "cover: 65, end: runs on")), "cannot be put on")) == 1


def test_what_is_left_between_two_holes_is_a_bridge() -> None:
    # Two holes of 35, their middles 60 apart: 25 between them, and over 100 to every edge.
    pipe = "tail, diameter: 15, opening: 35"
    plan = wall(hole(pipe, 420, 300), hole(pipe, 480, 300))
    (finding,) = said(plan, "thin bridge")
    assert finding.value == pytest.approx(25, abs=1e-4)
    # 66 apart there are 31, over the 30 that is asked about.
    assert said(wall(hole(pipe, 420, 300), hole(pipe, 486, 300)), "thin bridge") == []


@pytest.mark.parametrize(
    ("wide", "remedy"),
    [(200, "Moving the start 10 towards the left leaves enough here; the ends are then 188 and 206"), (246, "")],
)
def test_a_move_that_helps_one_hole_and_spoils_the_other_is_not_advised(wide: float, remedy: str) -> None:
    # Both leave 20 at their left: the pipe in the tile from 301, the wide one in that from 601. 10 to the left gives
    # both 30. On the right of 200 the tile has 298 - 20 - 200 = 78 left, and 68 then; on that of 246 it has 32, and 22
    # then, under the 30 that is asked for. At the ends 499 - 301 = 198 lose 10, and 1097 - 901 = 196 win it.
    edges = (
        "left: {at: 500 left of V, true: plumb, gap: 1}, right: {at: 1100 right of V, true: plumb, gap: 3}, "
        "bottom: {at: 0 above B, true: level, gap: 0}, top: {at: 600 above B, true: level, gap: 2}"
    )
    first = hole("tail, diameter: 15, opening: 35", 301 + 20 + 17.5, 300)
    second = hole(f"tail, diameter: 15, opening: {wide} x 35", 601 + 20 + wide / 2, 300)
    (finding,) = said(wall(first, second, edges=edges), "thin bridge")
    assert finding.value == pytest.approx(20)
    assert remedy in finding.text
    assert ("Moving the start" in finding.text) == bool(remedy)


def core_of(folder: Path, cores: str, cover: int) -> float | None:
    """The core that is taken for a pipe of 15 under a cover, of those in the tiler's own file."""
    (folder / "tools.yaml").write_text(f"cores: [{cores}]\n", encoding="utf-8")
    (folder / "job.yaml").write_text(text_of(hole("15 copper", 450, 300, f"cover: {cover}, end: comes off")), "utf-8")
    return only_cut(make_plan(load_job(folder / "job.yaml")))[1].opening.core


def test_a_core_laps_on_both_sides_of_its_hole(tmp_path: Path) -> None:
    # Under a cover of 40 a hole is at most 40 - 2 * 3 = 34: a core of 36, which laps 2, is not taken; one of 34 is.
    assert core_of(tmp_path, "36", 40) is None
    assert core_of(tmp_path, "34", 40) == 34


def test_the_best_hole_keeps_a_lap_on_both_sides(tmp_path: Path) -> None:
    # A pipe of 15 under 65: best (15 + 65 - 2 * 3) / 2 = 37. Of cores of 35 and 38 the one that is not over it.
    assert core_of(tmp_path, "35, 38", 65) == 35


def test_cores_may_be_listed_in_any_order(tmp_path: Path) -> None:
    # A pipe of 15 under 65: best (15 + 65 - 6) / 2 = 37, and the largest core that is not over it is 35.
    assert core_of(tmp_path, "68, 20, 35, 28", 65) == 35
    assert core_of(tmp_path, "28, 35, 20, 68", 65) == 35


def test_six_names_are_listed_and_of_more_the_rest_is_counted() -> None:
    assert listed(list("abcdef")) == "a, b, c, d, e, f"
    assert listed(list("abcdefg")) == "a, b, c, d, e, f and 1 more"
