"""The blank measure-up sheets: what stands on them, and that the files in templates/ are what the code draws."""

from __future__ import annotations

import re
from functools import cache
from io import BytesIO
from pathlib import Path
from typing import get_args

import pypdf
import pypdfium2
import pytest
from PIL import Image, ImageChops

from cutmarks.registering.paper import SAFE_MARGIN
from cutmarks.sheets.measure_up import BlankPaper, blank_name, measure_up_pages
from cutmarks.sides import SurfaceKind
from cutmarks.writers import documents
from cutmarks.writers.documents import measure_up_pdf, write_blanks
from tests.sheets.drawn import extents, overlapping, texts

BLANKS = [(kind, paper) for kind in get_args(SurfaceKind) for paper in get_args(BlankPaper)]
HOW = (
    "draw the blanks again: python -c 'from pathlib import Path; from cutmarks.writers.documents import write_blanks; "
    'write_blanks(Path("templates"))\''
)
RASTER_DPI = 60
HUNDREDTH = 0.01


def said(kind: SurfaceKind, paper: BlankPaper) -> list[str]:
    return [text for sheet in measure_up_pages(kind, paper) for text in texts(sheet.marks)]


@cache
def made(kind: SurfaceKind, paper: BlankPaper) -> bytes:
    return measure_up_pdf(kind, paper)


@pytest.mark.parametrize(("kind", "paper"), BLANKS)
def test_nothing_is_nearer_to_the_papers_edge_than_is_safe(kind: SurfaceKind, paper: BlankPaper):
    for sheet in measure_up_pages(kind, paper):
        for box in extents(sheet.marks):
            assert box.min_x >= SAFE_MARGIN
            assert box.min_y >= SAFE_MARGIN
            assert box.max_x <= sheet.width - SAFE_MARGIN
            assert box.max_y <= sheet.height - SAFE_MARGIN


@pytest.mark.parametrize(("kind", "paper"), BLANKS)
def test_no_words_on_other_words(kind: SurfaceKind, paper: BlankPaper):
    assert [pair for sheet in measure_up_pages(kind, paper) for pair in overlapping(sheet.marks)] == []


@pytest.mark.parametrize("paper", get_args(BlankPaper))
@pytest.mark.parametrize(
    ("kind", "order"),
    [
        (
            "wall",
            ("job", "surface", "what it meets", "lines", "tiles", "edges", "windows, niches, doors", "holes", "areas"),
        ),
        ("floor", ("job", "surface", "what it meets", "lines", "tiles", "edges", "holes", "do not drill", "areas")),
    ],
)
def test_the_order_in_which_things_are_learnt(kind: SurfaceKind, paper: BlankPaper, order: tuple[str, ...]):
    found = said(kind, paper)
    places = [found.index(word) for word in order]
    assert places == sorted(places)


@pytest.mark.parametrize("paper", get_args(BlankPaper))
@pytest.mark.parametrize("kind", get_args(SurfaceKind))
def test_the_words_are_the_job_files(kind: SurfaceKind, paper: BlankPaper, repository: Path):
    """Every key of the starter that is learnt by measuring stands on the sheet, letter by letter."""
    starter = (repository / "templates" / f"{kind}.yaml").read_text(encoding="utf-8")
    keys = set(re.findall(r"^\s*(?:- )?\{?([a-z][a-z ]*):", starter, re.MULTILINE))
    not_measured = {"say", "paper", "surfaces", "kind", "field", "floor", "gaps", "start"}
    on_paper = " / ".join(said(kind, paper))
    missing = {key for key in keys - not_measured if not re.search(rf"\b{key}\b", on_paper)}
    assert keys > {"job", "units", "lines", "edges", "holes", "areas", "what", "across", "cover", "end"}
    assert missing == set()


@pytest.mark.parametrize(
    ("paper", "there", "elsewhere"), [("A4", "worktop", "counter"), ("Letter", "counter", "worktop")]
)
def test_words_of_the_trade_on_both_sides(paper: BlankPaper, there: str, elsewhere: str):
    text = " ".join(said("wall", paper))
    assert there in text
    assert elsewhere not in text


@pytest.mark.parametrize(
    ("paper", "width", "height"),
    # ISO 216; ASME Y14.1
    [("A4", 210.0, 297.0), ("Letter", 215.9, 279.4)],
)
@pytest.mark.parametrize("kind", get_args(SurfaceKind))
def test_page_size_and_no_scaling(kind: SurfaceKind, paper: BlankPaper, width: float, height: float):
    reader = pypdf.PdfReader(BytesIO(made(kind, paper)))
    assert len(reader.pages) == 2
    for page in reader.pages:
        assert float(page.mediabox.width) * 25.4 / 72 == pytest.approx(width, abs=HUNDREDTH)
        assert float(page.mediabox.height) * 25.4 / 72 == pytest.approx(height, abs=HUNDREDTH)


def test_the_same_bytes_each_time():
    assert measure_up_pdf("floor", "Letter") == made("floor", "Letter")


@pytest.mark.parametrize(("kind", "paper"), BLANKS)
def test_the_files_in_templates_are_what_the_code_draws(kind: SurfaceKind, paper: BlankPaper, repository: Path):
    """Compared as pictures: another release of cairo may write the same drawing in other bytes."""
    kept = (repository / "templates" / blank_name(kind, paper)).read_bytes()
    assert _alike(kept, made(kind, paper)), HOW


def test_the_comparison_sees_a_change():
    assert not _alike(made("wall", "A4"), made("floor", "A4"))


def test_all_blanks_are_written(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(documents, "measure_up_pdf", made)
    paths = write_blanks(tmp_path)
    assert sorted(path.name for path in paths) == sorted(blank_name(kind, paper) for kind, paper in BLANKS)
    assert all(path.read_bytes() == made(kind, paper) for path, (kind, paper) in zip(paths, BLANKS, strict=True))


def _alike(one: bytes, other: bytes) -> bool:
    """Whether two PDFs have the same pages to the eye: no pixel differs by more than anti-aliasing may."""
    first, second = _pictures(one), _pictures(other)
    return len(first) == len(second) and all(
        a.size == b.size and max(ImageChops.difference(a, b).tobytes()) < 64 for a, b in zip(first, second, strict=True)
    )


def _pictures(pdf: bytes) -> list[Image.Image]:
    document = pypdfium2.PdfDocument(pdf)
    try:
        return [page.render(scale=RASTER_DPI / 72).to_pil().convert("L") for page in document]
    finally:
        document.close()
