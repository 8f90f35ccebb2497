"""Rules where it matters which of several things decides: each speaks at its border, and is silent beside it."""

from __future__ import annotations

from pathlib import Path

import pytest

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


def core_of(folder: Path, cores: str, cover: int) -> float | None:
    """The core that is taken for a pipe of 15 under a cover, of those in the tiler's own file."""
    (folder / "tools.yaml").write_text(f"cores: [{cores}]\n", encoding="utf-8")
    (folder / "job.yaml").write_text(text_of(hole("15 copper", 450, 300, f"cover: {cover}, end: comes off")), "utf-8")
    return only_cut(make_plan(load_job(folder / "job.yaml")))[1].opening.core


def test_a_core_laps_on_both_sides_of_its_hole(tmp_path: Path) -> None:
    # Under a cover of 40 a hole is at most 40 - 2 * 3 = 34: a core of 36, which laps 2, is not taken; one of 34 is.
    assert core_of(tmp_path, "36", 40) is None
    assert core_of(tmp_path, "34", 40) == 34


def test_cores_may_be_listed_in_any_order(tmp_path: Path) -> None:
    # A pipe of 15 under 65: best (15 + 65 - 6) / 2 = 37, and the largest core that is not over it is 35.
    assert core_of(tmp_path, "68, 20, 35, 28", 65) == 35
    assert core_of(tmp_path, "28, 35, 20, 68", 65) == 35
