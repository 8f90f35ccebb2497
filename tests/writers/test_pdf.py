"""Sheets as PDF, read back by libraries other than the ones that wrote it, and measured in millimetres."""

from __future__ import annotations

import math
from io import BytesIO

import cairosvg
import numpy as np
import pypdfium2
import pytest
from msgspec.structs import replace
from PIL import Image

from cutmarks.errors import GeometryError
from cutmarks.geometry.frames import Placement, Point
from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.marks.model import CircleMark, Mark, Role, Words, moved, rectangle
from cutmarks.sheets.build import build_sheets
from cutmarks.sheets.model import PaperSheet
from cutmarks.writers.pdf import pdf_bytes
from tests.scenes import SCENES
from tests.writers.as_bytes import svg_bytes
from tests.writers.pdf_reading import HUNDREDTH, MM, circles, reader_of, straight, strokes


def pdf_of(name):
    return pdf_bytes(build_sheets(SCENES[name]()), "Quay Cottage, laundry")


@pytest.mark.parametrize("name", ["w1", "inches", "two_sheets"])
def test_pages_have_the_paper_s_size_to_a_hundredth(name):
    sheets = build_sheets(SCENES[name]())
    pages = reader_of(pdf_bytes(sheets, "x")).pages
    assert len(pages) == len(sheets)
    # A4 is 210 x 297 (ISO 216), Letter 215.9 x 279.4 (ASME Y14.1).
    expected = (215.9, 279.4) if name == "inches" else (210.0, 297.0)
    for page in pages:
        size = (float(page.mediabox.width) / MM, float(page.mediabox.height) / MM)
        assert size == pytest.approx(expected, abs=HUNDREDTH)
        assert "/UserUnit" not in page
        assert page.get("/Rotate", 0) == 0


def test_the_viewer_is_asked_not_to_scale():
    preferences = reader_of(pdf_of("w1")).trailer["/Root"]["/ViewerPreferences"]
    assert preferences["/PrintScaling"] == "/None"
    assert preferences["/PickTrayByPDFSize"] == True  # noqa: E712 - a PDF object, not a bool
    assert preferences["/Duplex"] == "/Simplex"
    assert list(preferences["/Enforce"]) == ["/PrintScaling"]


def test_w1_measures_from_the_printed_edges_to_the_printed_centre():
    reader = reader_of(pdf_of("w1"))
    found = strokes(reader.pages[0], reader)
    (centre,) = circles(found, 17.5)
    wide = straight(found, 0.5)
    upright = {round(a[0], 3) for a, b in wide if abs(a[0] - b[0]) < 1e-3 and abs(a[1] - b[1]) > 150.0}
    level = {round(a[1], 3) for a, b in wide if abs(a[1] - b[1]) < 1e-3 and abs(a[0] - b[0]) > 150.0}
    # Worked example W1: one upright wide line is 74.5 left of the centre, one level one 112.5 below it.
    assert min(abs(centre[0] - x - 74.5) for x in upright) < HUNDREDTH
    assert min(abs(centre[1] - y - 112.5) for y in level) < HUNDREDTH


def test_w2_measures_to_the_sides_of_the_box():
    reader = reader_of(pdf_of("box"))
    found = strokes(reader.pages[0], reader)
    boxes = []
    for path, wide in found:
        corners = [point for _, points in path for point in points]
        xs, ys = zip(*corners, strict=True)
        size = (max(xs) - min(xs), max(ys) - min(ys))
        if wide == pytest.approx(0.7, abs=0.005) and size == pytest.approx((76.0, 78.0), abs=HUNDREDTH):
            boxes.append((max(xs), min(ys)))
    ((right_side, lower_side),) = boxes
    upright = {a[0] for a, b in straight(found, 0.5) if abs(a[0] - b[0]) < 1e-3 and abs(a[1] - b[1]) > 150.0}
    # Worked example W2: 72.5 to the right edge; it ends 173 above the lower one, which is out of reach, and its middle,
    # 134 up, goes by tape: the line to lay on the mark runs 39 over its lower side.
    assert min(abs(x - right_side - 72.5) for x in upright) < HUNDREDTH
    level = {a[1] for a, b in straight(found, 0.25) if abs(a[1] - b[1]) < 1e-3 and abs(a[0] - b[0]) > 50.0}
    assert min(abs(y - lower_side - 39.0) for y in level) < HUNDREDTH


@pytest.mark.parametrize(("name", "lengths"), [("w1", (180.0, 250.0)), ("inches", (7 * 25.4, 10 * 25.4))])
def test_both_bars_measure_what_they_say(name, lengths):
    reader = reader_of(pdf_of(name))
    wide = straight(strokes(reader.pages[0], reader), 0.35)
    across = [abs(a[0] - b[0]) for a, b in wide if abs(a[1] - b[1]) < 1e-3]
    along = [abs(a[1] - b[1]) for a, b in wide if abs(a[0] - b[0]) < 1e-3]
    assert min(abs(one - lengths[0]) for one in across) < HUNDREDTH
    assert min(abs(one - lengths[1]) for one in along) < HUNDREDTH


def test_every_font_carries_its_own_glyphs():
    fonts = [font.get_object() for page in reader_of(pdf_of("two_sheets")).pages for font in _fonts(page)]
    assert fonts
    for font in fonts:
        # A Type 3 font is drawn by the file itself (ISO 32000-1, 9.6.5): nothing is asked of the machine.
        assert font["/Subtype"] == "/Type3"
        drawn = set(font["/CharProcs"])
        assert {str(one) for one in font["/Encoding"]["/Differences"][1:]} == drawn
        assert len(font["/Widths"]) == len(drawn)


def _fonts(page):
    return page["/Resources"]["/Font"].values()


def test_words_can_be_searched_for():
    # What W1's sheet says in its biggest words and figures, read by a library that did not write it.
    text = pypdfium2.PdfDocument(pdf_of("w1"))[0].get_textpage().get_text_range()
    for words in ("FACE", "UP", "74½", "112½", "3 MARK on the tile", "CORE 35"):
        assert words in text


def test_more_characters_than_one_font_holds():
    # 300 different characters, of which the shipped font lacks some: each still comes back as itself.
    characters = "".join(map(chr, range(0x4E00, 0x4E00 + 300)))
    rows = [characters[first : first + 25] for first in range(0, 300, 25)]
    marks: tuple[Mark[SheetFrame], ...] = tuple(
        Words(row, Point(10.0, 280.0 - 10.0 * i), 3.0) for i, row in enumerate(rows)
    )
    data = pdf_bytes([PaperSheet("sheets/a_face_1.svg", "a", 210.0, 297.0, marks)], "a")
    assert len(list(_fonts(reader_of(data).pages[0]))) == 2
    text = pypdfium2.PdfDocument(data)[0].get_textpage().get_text_range()
    assert "".join(text.split()) == characters


@pytest.mark.parametrize("name", ["w1", "box", "quarter_of_crossing", "turned", "slot", "floor"])
def test_the_pixels_are_those_of_the_svg_through_another_program(name):
    # CairoSVG draws the SVG, pdfium the PDF: two formats, two programs, one drawing.
    for sheet in build_sheets(SCENES[name]()):
        drawn = cairosvg.svg2png(bytestring=svg_bytes(sheet), output_width=DOTS_ACROSS)
        svg = np.asarray(Image.open(BytesIO(drawn)).convert("L"))
        page = pypdfium2.PdfDocument(pdf_bytes([sheet], "x"))[0]
        pdf = np.asarray(page.render(scale=DOTS_ACROSS / page.get_width(), grayscale=True).to_pil())
        rows, columns = min(len(svg), len(pdf)), min(svg.shape[1], pdf.shape[1])
        svg, pdf = svg[:rows, :columns], pdf[:rows, :columns]
        assert (svg < INKED).sum() > 10_000
        # Six dots to a mm: what is inked in one has ink within 0.17 mm of it in the other.
        assert not ((svg < INKED) & ~_near(pdf < GREYED)).any()
        assert not ((pdf < INKED) & ~_near(svg < GREYED)).any()


DOTS_ACROSS = 1240
INKED, GREYED = 90, 215
"""The two programs smooth the edges of a line in their own ways: what is dark in one is at least grey in the other."""


def _near(inked):
    """Each dot, whether it or one of its eight neighbours is inked."""
    padded = np.pad(inked, 1)
    rows, columns = inked.shape
    return np.any([padded[i : i + rows, j : j + columns] for i in range(3) for j in range(3)], axis=0)


def test_a_drawing_that_is_half_a_millimetre_off_would_be_seen():
    sheet = build_sheets(SCENES["w1"]())[0]
    other = replace(sheet, marks=tuple(moved(mark, Placement(1.0, 0.0, 0.5, 0.0)) for mark in sheet.marks))
    pages = [pypdfium2.PdfDocument(pdf_bytes([one], "x"))[0] for one in (sheet, other)]
    one, two = (
        np.asarray(page.render(scale=DOTS_ACROSS / page.get_width(), grayscale=True).to_pil()) for page in pages
    )
    assert ((one < INKED) & ~_near(two < GREYED)).sum() > 1000


def test_w3_is_one_arc_about_the_opening_s_own_centre():
    (sheet,) = build_sheets(SCENES["quarter_of_crossing"]())
    reader = reader_of(pdf_bytes([sheet], "w3"))
    found = strokes(reader.pages[0], reader)
    (arc,) = [path for path, wide in found if abs(wide - 0.7) < 0.01 and {step for step, _ in path} == {"m", "c"}]
    wide = straight(found, 0.5)
    # The bars are 180 and 250 long; the tile's edges are the longest others.
    upright = [a[0] for a, b in wide if abs(a[0] - b[0]) < 1e-3 and 100.0 < abs(a[1] - b[1]) < 249.0]
    level = [a[1] for a, b in wide if abs(a[1] - b[1]) < 1e-3 and 100.0 < abs(a[0] - b[0]) < 179.0]
    ends = [points[-1] for _, points in arc]
    # Worked example W3, below left: radius 25 about a centre 4 from the right edge and 3 from the top one.
    assert any(
        all(math.hypot(x - right + 4.0, y - upper + 3.0) == pytest.approx(25.0, abs=HUNDREDTH) for x, y in ends)
        for right in upright
        for upper in level
    )


@pytest.mark.parametrize("radius", [3.0, 17.5, 75.0, 500.0])
def test_a_circle_is_round_to_five_microns(radius):
    sheet = PaperSheet("sheets/a_face_1.svg", "a", 1189.0, 1189.0, (CircleMark(Point(594.5, 594.5), radius, Role.CUT),))
    reader = reader_of(pdf_bytes([sheet], "a"))
    ((path, _),) = strokes(reader.pages[0], reader)
    pen = path[0][1][0]
    for step, points in path[1:]:
        assert step == "c"
        for t in np.linspace(0.0, 1.0, 21):
            # Bernstein's form of a cubic curve.
            shares = ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t**2 * (1 - t), t**3)
            x = sum(share * p[0] for share, p in zip(shares, (pen, *points), strict=True))
            y = sum(share * p[1] for share, p in zip(shares, (pen, *points), strict=True))
            assert math.hypot(x - 594.5, y - 594.5) == pytest.approx(radius, abs=0.005)
        pen = points[-1]
    assert pen == pytest.approx(path[0][1][0], abs=1e-3)


def test_a_viewer_s_own_ruler_reads_millimetres():
    page = reader_of(pdf_of("w1")).pages[0]
    (viewport,) = page["/VP"]
    # ISO 32000-1, 12.9: a factor from points to the unit; 25.4 / 72 mm to a point.
    assert float(viewport["/Measure"]["/X"][0]["/C"]) == pytest.approx(25.4 / 72.0)
    assert viewport["/Measure"]["/X"][0]["/U"] == "mm"
    assert [float(one) for one in viewport["/BBox"]] == [float(one) for one in page.mediabox]


def test_a_correction_moves_a_whole_page_by_one_matrix():
    sheet = build_sheets(SCENES["w1"]())[0]
    # As measured on another printer: 180 comes out as 180 x 0.9965, 250 as 250 x 1.0042; corrected by the inverse.
    data = pdf_bytes([sheet], "x", correction=lambda _w, _h: (1 / 0.9965, 0.0, 0.0, 1 / 1.0042, 0.0, 0.0))
    reader = reader_of(data)
    wide = straight(strokes(reader.pages[0], reader), 0.35)
    across = [abs(a[0] - b[0]) for a, b in wide if abs(a[1] - b[1]) < 1e-3]
    along = [abs(a[1] - b[1]) for a, b in wide if abs(a[0] - b[0]) < 1e-3]
    assert min(abs(one - 180.0 / 0.9965) for one in across) < HUNDREDTH
    assert min(abs(one - 250.0 / 1.0042) for one in along) < HUNDREDTH
    assert "/VP" not in reader.pages[0]


def test_nothing_is_inked_outside_the_safe_area():
    document = pypdfium2.PdfDocument(pdf_of("w1"))
    picture = document[0].render(scale=150 / 72, grayscale=True).to_pil()
    box = picture.point(lambda value: 255 if value < 200 else 0).getbbox()
    margin = 10.0 * 150 / 25.4
    # One pixel of the raster at each side is grey from the line beside it.
    assert box[0] >= margin - 1
    assert box[1] >= margin - 1
    assert box[2] <= picture.width - margin + 1
    assert box[3] <= picture.height - margin + 1


def test_two_runs_give_the_same_bytes_and_no_date():
    first, second = pdf_of("w1"), pdf_of("w1")
    assert first == second
    assert b"Date" not in first
    metadata = reader_of(first).metadata
    assert metadata is not None
    assert dict(metadata) == {"/Title": "Quay Cottage, laundry"}


def test_a_page_that_is_there_twice_is_written_once():
    sheet = build_sheets(SCENES["w1"]())[0]
    data = pdf_bytes([sheet, sheet], "x")
    pages = reader_of(data).pages
    assert len(pages) == 2
    assert pages[0].raw_get("/Contents") == pages[1].raw_get("/Contents")


def test_a_picture_that_stands_on_many_pages_is_in_the_file_once_and_drawn_on_each():
    # A wall of 10 x 12 tiles, the same on three sheets whose words differ.
    wall: list[Mark[SheetFrame]] = [
        rectangle(20.0 + 15.0 * i, 30.0 + 20.0 * j, 15.0, 20.0, Role.GRID) for i in range(10) for j in range(12)
    ]
    sheets = [
        PaperSheet("sheets/a_face_1.svg", "a", 210.0, 297.0, (*wall, Words(f"sheet {i}", Point(20.0, 20.0), 3.0)))
        for i in range(3)
    ]
    reader = reader_of(pdf_bytes(sheets, "wall"))
    forms = {page["/Resources"]["/XObject"].raw_get("/P0").idnum for page in reader.pages}
    assert len(forms) == 1
    for page in reader.pages:
        assert list(page["/Resources"]["/XObject"]) == ["/P0"]
        ((path, _),) = strokes(page, reader)
        starts = {(round(points[0][0], 3), round(points[0][1], 3)) for step, points in path if step == "m"}
        assert starts == {(20.0 + 15.0 * i, 30.0 + 20.0 * j) for i in range(10) for j in range(12)}


def test_a_number_that_is_none_is_refused():
    sheet = PaperSheet("sheets/a_face_1.svg", "a", 210.0, 297.0, (CircleMark(Point(math.nan, 0.0), 5.0, Role.CUT),))
    with pytest.raises(GeometryError, match="nan"):
        pdf_bytes([sheet], "a")


def test_a_pdf_without_sheets_is_refused():
    with pytest.raises(ValueError, match="at least one sheet"):
        pdf_bytes([], "x")
