"""The set-out page: it can be read at arm's length, holds all that is said, and nothing lies off its paper."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from cutmarks import load_job, make_plan, write_job
from cutmarks.buying.flow import what_to_buy
from cutmarks.marks.model import CircleMark, Filled, Stroke, Words
from cutmarks.marks.room import ink_box
from cutmarks.plan import Plan
from cutmarks.saying.buying import buy_lines
from cutmarks.saying.gauging import sections, told
from cutmarks.sheets.model import PaperSheet
from cutmarks.sheets.setout_page import setout_pages
from cutmarks.writers.style import LINES
from tests.gauging.walls import TERN_ROW, example, planned, with_areas
from tests.sheets.drawn import texts
from tests.writers.pdf_reading import reader_of

NINE_POINTS = 2.3
"""Capitals of a 9 point type are 0.73 of it high, 2.3 mm, in the package's own font."""
LEAST_LINE = 0.25
WORKTOP = "{at: 3 below B, what: worktop, true: level, gap: 3, still to come: 0}"
TILED = ("boot-room", "laundry", "plant-cupboard", "potting-bench", "shower-bay", "wash-house")


def pages_of(plan: Plan) -> list[PaperSheet]:
    return list(setout_pages(plan))


def one_line(text: str) -> str:
    return "".join(text.split())


def test_an_ordinary_wall_is_one_page_lying_down() -> None:
    (page,) = pages_of(planned(TERN_ROW))
    assert (page.width, page.height) == (297, 210)


@pytest.mark.parametrize("name", TILED)
def test_each_example_is_one_page_a_surface(name: str) -> None:
    plan = example(name)
    assert len(pages_of(plan)) == len(plan.surfaces) == 1


def test_all_that_is_said_stands_on_it() -> None:
    plan = planned(TERN_ROW)
    (page,) = pages_of(plan)
    on_page = one_line("".join(mark.text for mark in page.marks if isinstance(mark, Words) and mark.text != "-"))
    (one,) = told(plan)
    for line in [line for step in sections(one, plan) for line in step.lines]:
        assert one_line(line) in on_page
    # Of what to buy all that is said but which offcut serves which piece, which stands with the cuts; or all that is
    # said in short where the page has no room for more.
    bought = [
        [one_line(line) for line in buy_lines(what_to_buy(plan), plan, tight=tight, paired=False)]
        for tight in (False, True)
    ]
    assert any(all(line in on_page for line in lines) for lines in bought)


@pytest.mark.parametrize("name", TILED)
def test_words_are_nine_points_and_lines_a_quarter_of_a_millimetre(name: str) -> None:
    for page in pages_of(example(name)):
        for mark in page.marks:
            if isinstance(mark, Words):
                assert mark.height >= NINE_POINTS, mark.text
            elif isinstance(mark, Stroke | CircleMark) and not _of_a_cover(mark):
                assert LINES[mark.role].width >= LEAST_LINE, mark.role


def _of_a_cover(mark: Stroke | CircleMark) -> bool:
    """What hides a hole is dashed and narrow, as on every elevation: nothing is read from it."""
    return mark.role.value in ("cover", "keep clear")


@pytest.mark.parametrize("name", TILED)
def test_nothing_lies_off_the_paper(name: str) -> None:
    for page in pages_of(example(name)):
        for mark in page.marks:
            if isinstance(mark, Words):
                box = ink_box(mark)
            elif isinstance(mark, Filled):
                box = mark.rings[0].bounds
            else:
                continue
            assert box is None or (box.min_x > 0 and box.max_x < page.width and box.min_y > 0), mark
            assert box is None or box.max_y < page.height, mark


def test_the_size_of_a_piece_at_the_edge_stands_in_it() -> None:
    # At the smaller of its two ends, its top, as where it is measured: the corner leans in 6½ over 1480, so that of
    # 375½ at B 374.4 are left at 247, 373.3 at 497, 372.2 at 747, 371.1 at 997.
    (page,) = pages_of(planned(TERN_ROW))
    said = set(texts(page.marks))
    assert {"374", "373", "372", "371"} <= said
    assert "375½" not in said


def test_two_surfaces_have_a_page_each_and_one_for_what_to_buy() -> None:
    wall = TERN_ROW[TERN_ROW.index("  - name: window wall") :]
    for old, new in (("window wall", "other wall"), ("name: slate", "name: second"), ("- name: waste", "- name: tail")):
        wall = wall.replace(old, new)
    wall = wall.replace("- name: sockets", "- name: switch").replace("- name: machine", "- name: drain")
    pages = pages_of(planned(TERN_ROW + wall))
    assert len(pages) == 3
    assert "WINDOW WALL" in texts(pages[0].marks)
    assert "OTHER WALL" in texts(pages[1].marks)
    bought = one_line("".join(texts(pages[2].marks)))
    # 13 whole and 38 cut on each of both.
    assert "26whole+76cut" in bought
    assert "26whole" not in one_line("".join(texts(pages[0].marks)))


def test_make_writes_it_beside_the_others(tmp_path: Path) -> None:
    write_job(planned(TERN_ROW), tmp_path / "out")
    reader = reader_of((tmp_path / "out" / "set-out.pdf").read_bytes())
    words = " ".join(" ".join(page.extract_text() for page in reader.pages).split())
    assert "919 = 3 x 250 + joint 3 + cut up to 161 +" in words
    box = reader.pages[0].mediabox
    assert (float(box.width), float(box.height)) == (pytest.approx(297 / 25.4 * 72), pytest.approx(210 / 25.4 * 72))


def test_the_same_plan_gives_the_same_page() -> None:
    assert pages_of(planned(TERN_ROW)) == pages_of(planned(TERN_ROW))


def test_of_a_piece_that_waits_no_size_is_drawn() -> None:
    text = TERN_ROW.replace("what: right corner\n        still to come: 0", "what: next wall\n        still to come: ?")
    (page,) = pages_of(planned(text))
    assert not {"375½", "374", "373", "372", "371"} & set(texts(page.marks))


def test_a_window_that_goes_on_above_the_wall_is_drawn_no_higher_than_the_wall(tmp_path: Path) -> None:
    # The window of the wall ends at 1000 above B, 500 over the wall's top: drawn whole it would lie over the heading.
    job = tmp_path / "job.yaml"
    job.write_text(
        """\
job: Low wall
tiles:
  pale: {size: 248 x 98, thickness: 8, measured: yes}
surfaces:
  - name: low wall
    kind: wall
    lines: {V: "plumb, middle of the sink", B: "level, top of the worktop"}
    edges:
      left: {at: 1000 left of V, true: plumb}
      right: {at: 1000 right of V, true: plumb}
      bottom: {at: 0 below B, true: level}
      top: {at: 500 above B, true: level}
    windows:
      - window, 300 left to 300 right of V, 200 to 1000 above B
    areas:
      - {name: splash, tile: pale, joint: 2, start: {across: joint on V, up: sits on B}}
""",
        encoding="utf-8",
    )
    page = pages_of(make_plan(load_job(job)))[0]
    heading = next(mark.at.y for mark in page.marks if isinstance(mark, Words) and "V = " in mark.text)
    greys = [mark for mark in page.marks if isinstance(mark, Filled)]
    tops = [vertex.y for mark in greys for ring in mark.rings for vertex in ring.vertices]
    assert tops
    assert max(tops) < heading


def test_the_start_tile_and_what_is_cut_are_named_in_the_drawing() -> None:
    # 900 left of V and half a tile: 297 + 3 go thrice, and a joint of 3 with its middle on V: the start tile is the
    # fourth of its course, the first on packers. 300 by 97 on this wall are 34 x 11 mm on paper: room for two lines.
    text = with_areas("name: splash, tile: rib, joint: 3, start: {across: joint on V, up: sits on B}", bottom=WORKTOP)
    text = text.replace("top: {at: 1000 above B", "top: {at: 450 above B")
    plan = planned(text)
    (page,) = pages_of(plan)
    words = [mark for mark in page.marks if isinstance(mark, Words)]
    bold = [mark.text for mark in words if mark.bold]
    assert "START" in bold
    assert "1-4" in bold
    # The rest of its course, each once; what is cut at the ends and under the ceiling, each once with its size.
    names = [mark.text for mark in words if re.fullmatch(r"[0-9]+-[0-9]+", mark.text)]
    assert len(names) == len(set(names))
    assert {f"1-{number}" for number in range(1, 7)} <= set(names)
    assert {f"{course}-{number}" for course in range(2, 5) for number in (1, 6)} <= set(names)


def test_the_words_in_the_drawing_lie_apart() -> None:
    (page,) = pages_of(planned(TERN_ROW))
    drawn = [mark for mark in page.marks if isinstance(mark, Words) and mark.at.y > 120]
    boxes = [box for mark in drawn if (box := ink_box(mark)) is not None]
    for number, box in enumerate(boxes):
        assert not any(box.overlaps(other) for other in boxes[number + 1 :])


def test_each_cut_has_a_figure_of_its_own_where_the_page_has_room() -> None:
    # In the window 217 under it, 175½ beside it, 129 over it; at the left corner 295½; at the right one, which leans, 6
    # figures, at the ceiling, which falls, 7; on day two 205½ at the worktop, 375½ at the corner, 3 at the floor: 22.
    # Of more than three, where there is no room, the most and the least: 4 fewer at the corner, 5 at the ceiling.
    plan = planned(TERN_ROW)
    (one,) = told(plan)
    counts = []
    for tight in (False, True):
        lines = [line for step in sections(one, plan, tight=tight) for line in step.lines if " ...." in line]
        assert all(line.count("->") <= line.count(" ....") for line in lines)
        counts.append(sum(line.count("->") for line in lines))
    assert counts == [22, 13]


def test_the_drawing_names_its_holes_the_batten_and_the_sides_of_its_figures() -> None:
    bins, scale, _, _ = pages_of(example("meal-store"))
    # The box is read 404 to 476 left of V and 214 to 286 above B: 72 wide and high, its middle at 440 and 250. The
    # courses are drawn so low that the batten's name has no room between two of them: it stands at its height.
    assert {"dust socket, 72 x 72", "440 left of V", "250 above B", "batten 800", "left of V", "right of V"} <= set(
        texts(bins.marks)
    )
    # The pipe at 208 to 224 left of V, and 500 to 516 below B; here the batten stands beside its line.
    assert {"water, 15 copper", "216 left of V", "508 below B", "batten"} <= set(texts(scale.marks))
    # 1-4 lies from 48 left of V on, every 300: 48, 348 and 648 left of V, 252 and 552 right of it.
    assert {"48", "348", "648", "252", "552"} <= set(texts(scale.marks))


def test_a_low_wall_keeps_a_figure_for_each_cut() -> None:
    # All words have room beside and under its drawing, which is wider than high and no larger with fewer of them.
    bins = pages_of(example("meal-store"))[0]
    on_page = one_line("".join(texts(bins.marks)))
    # The right end leans in by 3 while the joints move 6 left every second course: 62 grows to 78 in six courses.
    for figures in ("1-10: 68 -> 62", "3-10: 73½ -> 67½", "5-10: 79 -> 73", "7-10: 84 -> 78"):
        assert one_line(figures) in on_page


def test_a_start_tile_that_is_drawn_too_small_for_the_word_has_it_beside_it() -> None:
    # 1-6 is drawn 11 mm wide here, and the word is 12 long: its number stands in it, the word right of it.
    bins, *_ = pages_of(example("meal-store"))
    words = {mark.text: mark for mark in bins.marks if isinstance(mark, Words) and mark.bold}
    assert words["START"].at.y == pytest.approx(words["1-6"].at.y)
    assert words["START"].at.x > words["1-6"].at.x
    first, *_ = pages_of(example("mending-room"))
    assert "START" in texts(first.marks)
