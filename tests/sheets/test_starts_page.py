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
    from cutmarks.choosing.choose import with_offer
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
    from cutmarks.choosing.choose import with_offer
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
