"""The page that has the starts of one wall side by side: finished, opened again, and read."""

from __future__ import annotations

import re
from itertools import pairwise
from pathlib import Path

import pypdfium2
import pytest
from click.testing import CliRunner
from lxml import etree

from cutmarks.cli.app import app
from tests.cli.test_setout import WALL
from tests.sheets.drawn import ink_box


@pytest.fixture
def job(tmp_path: Path) -> Path:
    path = tmp_path / "job.yaml"
    path.write_text(WALL, encoding="utf-8")
    return path


def drawn(job: Path, name: str) -> tuple[Path, str]:
    page = job.parent / name
    result = CliRunner(env={"COLUMNS": "110"}).invoke(app, ["setout", str(job), "--page", str(page)])
    assert result.exit_code == 0, result.output
    return page, result.stdout


def test_every_start_of_the_table_is_on_it_with_its_sizes(job: Path) -> None:
    page, told = drawn(job, "starts.pdf")
    pdf = pypdfium2.PdfDocument(page.read_bytes())
    assert len(pdf) == 1
    wide, high = pdf[0].get_size()
    # A4 laid across: 297 x 210 mm, 72 points to 25.4 mm.
    assert (wide, high) == (pytest.approx(297 * 72 / 25.4, abs=0.1), pytest.approx(210 * 72 / 25.4, abs=0.1))
    starts = re.findall(r"^  ([1-5])  ((?:joint|middle|left|right) on .*? sits on B)", told, re.MULTILINE)
    assert len(starts) >= 2
    assert f"Drawn: {page}." in " ".join(told.split())


def test_as_an_svg_its_words_can_be_read(job: Path) -> None:
    page, _ = drawn(job, "starts.svg")
    root = etree.parse(page).getroot()
    assert root.get("width") == "297mm"
    assert "where to start" in root.findtext("{http://www.w3.org/2000/svg}title", "")


def test_as_a_picture_it_is_a_png(job: Path) -> None:
    page, _ = drawn(job, "starts.png")
    assert page.read_bytes().startswith(b"\x89PNG")


def test_what_stands_on_it_lies_on_the_paper_and_no_line_is_lost(job: Path) -> None:
    from cutmarks.choosing.offers import with_offer
    from cutmarks.job import load_job
    from cutmarks.marks.model import Filled, Tone, Words
    from cutmarks.plan import make_plan
    from cutmarks.plan.choices import choices_of
    from cutmarks.registering import paper_named
    from cutmarks.saying.starts import bad_holes, picture_lines, sizes_at
    from cutmarks.sheets.starts_page import Pictured, SizeAt, starts_page
    from cutmarks.units import Style

    read, style = load_job(job), Style()
    found = choices_of(read)[0]
    pictured = [
        Pictured(
            f"{number + 1}",
            make_plan(with_offer(read, found.surface, offer), undecided=True),
            picture_lines(found.offers, number, read.limits.figures(), style),
            tuple(SizeAt(*size) for start in offer.starts for size in sizes_at(start, style)),
            bad_holes(offer),
        )
        for number, offer in enumerate(found.offers)
    ]
    page = starts_page(found.surface, pictured, paper_named("A4"))
    words = [mark for mark in page.marks if isinstance(mark, Words)]
    assert all(0 < mark.at.x < page.width and 0 < mark.at.y < page.height for mark in words)
    on_it = " ".join(mark.text for mark in words)
    for one in pictured:
        for line in one.lines:
            assert all(word in on_it for word in line.split())
        assert all(size.words in on_it for size in one.sizes)
    # What lies under words on a drawing is white 0.3 round their ink, and hides no more of it.
    grounds = [
        (ground.rings[0].bounds, ink_box(mark))
        for ground, mark in pairwise(page.marks)
        if isinstance(ground, Filled) and ground.tone is Tone.WHITE and isinstance(mark, Words)
    ]
    assert len(grounds) > len(pictured)
    for ground, ink in grounds:
        assert ink is not None
        wanted = (ink.min_x - 0.3, ink.min_y - 0.3, ink.max_x + 0.3, ink.max_y + 0.3)
        assert tuple(ground) == pytest.approx(wanted)


def test_a_name_of_another_kind_is_refused(job: Path) -> None:
    result = CliRunner().invoke(app, ["setout", str(job), "--page", str(job.parent / "starts.txt")])
    assert result.exit_code == 2
    assert "--page starts.txt: give it a name that ends in .pdf, .svg or .png." in result.output


def test_what_is_left_under_and_over_a_window_stands_in_it() -> None:
    # Of the mending room's first start, by hand: 97 under the sill and 184 over the head of the window, which the
    # elevation shows grey.
    from cutmarks.choosing.offers import with_offer
    from cutmarks.job import load_job
    from cutmarks.marks.model import Filled, Tone, Words
    from cutmarks.plan import make_plan
    from cutmarks.plan.choices import choices_of
    from cutmarks.registering import paper_named
    from cutmarks.saying.starts import sizes_at
    from cutmarks.sheets.starts_page import Pictured, SizeAt, starts_page
    from cutmarks.units import Style

    read = load_job(Path(__file__).parents[2] / "examples" / "mending-room" / "mending-room.yaml")
    found = choices_of(read)[0]
    sizes = tuple(SizeAt(*size) for start in found.offers[0].starts for size in sizes_at(start, Style()))
    plan = make_plan(with_offer(read, found.surface, found.offers[0]), undecided=True)
    page = starts_page(found.surface, [Pictured("1", plan, (), sizes, ())], paper_named("A4"))
    grey = [mark.rings[0].bounds for mark in page.marks if isinstance(mark, Filled) and mark.tone is not Tone.WHITE]
    window = max(grey, key=lambda box: box.width * box.height)
    inside = {"184": "over", "97": "under"}
    for mark in page.marks:
        if isinstance(mark, Words) and mark.text in inside:
            ink = ink_box(mark)
            assert ink is not None
            assert window.min_y < ink.min_y < ink.max_y < window.max_y
            upper = (ink.min_y + ink.max_y) / 2 > (window.min_y + window.max_y) / 2
            assert upper == (inside.pop(mark.text) == "over")
    assert inside == {}


def test_a_picture_that_stands_alone_names_its_lines_and_holes() -> None:
    from cutmarks.desk.starts import pictured
    from cutmarks.job import load_job
    from cutmarks.marks.model import Words
    from cutmarks.plan.choices import choices_of
    from cutmarks.sheets.starts_page import start_picture

    read = load_job(Path(__file__).parents[2] / "examples" / "mending-room" / "mending-room.yaml")
    found = choices_of(read)[0]
    alone = start_picture(found.surface, pictured(read, found)[0], 150.0, 95.0)
    words = {mark.text: ink_box(mark) for mark in alone.marks if isinstance(mark, Words)}
    assert set(words) >= {"V", "B", "iron socket", "tap feed", "lamp lead"}
    assert all(box.min_x >= 0.0 and box.max_x <= 150.0 and box.max_y <= 95.0 for box in words.values() if box)


KITCHEN = """\
job: Quarry Cottage, kitchen
tiles:
  chalk: {size: 200 x 100, measured: yes}
surfaces:
  - name: sink wall
    kind: wall
    lines: {V: "plumb, middle of the window", B: "level, top of the worktop"}
    edges:
      left: {at: [1480 left of V at B, 1484 left of V at 450 above B], what: next wall, still to come: none}
      right: {at: 1150 right of V, what: open end, true: plumb}
      bottom: {at: [0 below B at 1480 left of V, 3 below B at 1150 right of V], what: worktop}
      top: {at: 452 above B, what: wall units, true: level}
    windows:
      - window, 450 left to 450 right of V, 210 above B, goes on up past the wall units
    holes:
      - kettle socket, double socket box 133 x 72, 700 to 833 left of V, 150 to 222 above B, cover 146 x 86
      - toaster socket, double socket box 133 x 72, 700 to 833 right of V, 150 to 222 above B, cover 146 x 86
    areas:
      - splash, chalk, joint 2, brick
"""
"""A wall six times as wide as it is high: what stands in and beside its pictures has little room."""


def kitchen_page(tmp_path: Path):
    from cutmarks.desk.starts import pictured
    from cutmarks.job import load_job
    from cutmarks.plan.choices import choices_of
    from cutmarks.registering import paper_named
    from cutmarks.sheets.starts_page import starts_page

    path = tmp_path / "kitchen.yaml"
    path.write_text(KITCHEN, encoding="utf-8")
    read = load_job(path)
    found = choices_of(read)[0]
    starts = pictured(read, found)
    return starts, starts_page(found.surface, starts, paper_named("A4"))


def test_no_size_lies_over_another_nor_over_a_hole(tmp_path: Path) -> None:
    from cutmarks.marks.model import Filled, Role, Stroke, Tone, Words

    starts, page = kitchen_page(tmp_path)
    said = {at.words for one in starts for at in one.sizes} | {words for one in starts for _, words in one.holes}
    boxes = [ink_box(mark) for mark in page.marks if isinstance(mark, Words) and mark.text in said]
    assert len(boxes) == sum(len(one.sizes) + len(one.holes) for one in starts)
    for number, box in enumerate(boxes):
        assert box is not None
        assert not any(box.overlaps(other) for other in boxes[number + 1 :] if other is not None)
    holes = [
        (min(at.x for at in mark.path), min(at.y for at in mark.path), max(at.x for at in mark.path))
        for mark in page.marks
        if isinstance(mark, Stroke) and mark.role is Role.CUT
    ]
    assert len(holes) == 2 * len(starts)
    grounds = [m.rings[0].bounds for m in page.marks if isinstance(m, Filled) and m.tone is Tone.WHITE]
    for left, low, right in holes:
        middle = (left + right) / 2, low + 0.5
        covering = [one for one in grounds if one.min_x < middle[0] < one.max_x and one.min_y < middle[1] < one.max_y]
        # Its own white ground, and no word's.
        assert len(covering) == 1


def test_pictures_of_a_low_wide_wall_are_as_wide_as_the_page_gives(tmp_path: Path) -> None:
    from cutmarks.marks.model import Filled, Tone

    # Two abreast on 297 less 12 at both sides and 5 between: 134 each, less 9 or a little more for the sizes beside it.
    # The window is 900 of 2634: at 116 / 2634 that is 39.6. Three abreast it would be 88 - 18: 70 / 2634, 23.9.
    _, page = kitchen_page(tmp_path)
    windows = [m.rings[0].bounds for m in page.marks if isinstance(m, Filled) and m.tone is Tone.GREY]
    assert len(windows) == 5
    assert all(36.0 < box.width < 40.0 for box in windows)


def test_a_window_is_drawn_no_higher_than_the_wall(tmp_path: Path) -> None:
    from cutmarks.marks.model import Filled, Tone

    # 242 of it lie on the wall, of 900 across.
    _, page = kitchen_page(tmp_path)
    windows = [m.rings[0].bounds for m in page.marks if isinstance(m, Filled) and m.tone is Tone.GREY]
    assert all(box.height / box.width == pytest.approx(242 / 900, abs=0.005) for box in windows)
