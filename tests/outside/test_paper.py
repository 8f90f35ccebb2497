"""Papers and the finished PDF against the standards that they are made by.

Sources: ISO 216 for the A series and its trimming, ASME Y14.1 for A and B (8.5 x 11 and 11 x 17 in), ISO 32000-1 for
what is asked of a PDF viewer (12.2, Table 150), for a page's size (14.11.2, annex C) and for its own ruler (12.9);
ISO/IEC 7810 for a bank or identity card, ID-1: 85.60 x 53.98 mm, corners of radius 2.88 to 3.48.
"""

from __future__ import annotations

import math
from io import BytesIO
from itertools import pairwise

import pikepdf
import pypdf
import pytest

from cutmarks.registering.calibration import causes
from cutmarks.registering.paper import PAPERS, SAFE_MARGIN
from cutmarks.sheets.build import build_sheets
from cutmarks.units import Style
from cutmarks.writers.documents import printer_page_pdf
from cutmarks.writers.pdf import pdf_bytes
from tests.scenes import w1
from tests.writers.pdf_reading import HUNDREDTH, reader_of, strokes

INCH = 25.4


@pytest.mark.parametrize(
    ("paper", "size"),
    [
        ("A4", (210.0, 297.0)),  # ISO 216
        ("A3", (297.0, 420.0)),
        ("A2", (420.0, 594.0)),
        ("A1", (594.0, 841.0)),
        ("A0", (841.0, 1189.0)),
        ("Letter", (8.5 * INCH, 11 * INCH)),  # ASME Y14.1, A
        ("Tabloid", (11 * INCH, 17 * INCH)),  # ASME Y14.1, B
        ("any", (210.0, 11 * INCH)),  # what an A4 and a Letter sheet share: the narrower and the shorter
    ],
)
def test_papers_have_their_standard_sizes(paper, size):
    assert (PAPERS[paper].width, PAPERS[paper].height) == pytest.approx(size, abs=1e-9)


def test_each_size_of_the_a_series_is_half_the_one_before():
    # ISO 216: the longer side is halved, rounded down to a whole millimetre.
    for larger, smaller in pairwise(PAPERS[name] for name in ("A0", "A1", "A2", "A3", "A4")):
        assert (smaller.width, smaller.height) == (math.floor(larger.height / 2), larger.width)


def test_no_line_is_nearer_to_the_paper_s_edge_than_its_trimming_may_be_out():
    # ISO 216 lets a side of 150 to 600 mm be 2 mm out: the paper's edge is never measured from, nor drawn on.
    assert SAFE_MARGIN > 2 * 2.0
    reader = reader_of(pdf_bytes(build_sheets(w1()), "w1"))
    for path, wide in strokes(reader.pages[0], reader):
        for _, points in path:
            for x, y in points:
                assert 2.0 + wide < min(x, y, 210.0 - x, 297.0 - y)


def test_the_viewer_is_asked_for_what_iso_32000_names():
    root = reader_of(pdf_bytes(build_sheets(w1()), "w1")).trailer["/Root"]
    # Table 150: PrintScaling None "shall indicate no page scaling"; the tray by the page's size; one side.
    asked = root["/ViewerPreferences"]
    assert (asked["/PrintScaling"], asked["/Duplex"]) == ("/None", "/Simplex")
    assert asked["/PickTrayByPDFSize"].value is True


@pytest.mark.parametrize("paper", ["A4", "A3", "Letter", "Tabloid", "any", "A0"])
def test_a_page_is_as_large_as_its_paper_in_points_and_no_larger_than_a_page_may_be(paper):
    size = PAPERS[paper]
    (page,) = pypdf.PdfReader(BytesIO(printer_page_pdf(size, Style()))).pages
    # 72 points to the inch; 0.01 mm is 0.028 pt. Annex C: 14,400 points a side at most.
    expected = (size.width / INCH * 72.0, size.height / INCH * 72.0)
    assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx(expected, abs=0.028)
    assert max(page.mediabox.width, page.mediabox.height) <= 14_400
    assert "/Rotate" not in page
    assert page.user_unit == 1


def test_a_hundred_millimetres_are_283_points():
    # 100 mm is 100 / 25.4 x 72 = 283.4646 pt: the bar across of A4, 180 mm, is 510.2362 pt in the file's own numbers.
    reader = reader_of(printer_page_pdf(PAPERS["A4"], Style()))
    lengths = [
        abs(path[0][1][0][0] - path[1][1][0][0]) for path, _ in strokes(reader.pages[0], reader) if len(path) == 2
    ]
    assert max(lengths) * 283.4646 / 100 == pytest.approx(510.2362, abs=HUNDREDTH * 2.8346)


def test_the_file_is_whole_and_names_no_font_program_of_the_machine():
    with pikepdf.open(BytesIO(pdf_bytes(build_sheets(w1()), "w1"))) as pdf:
        assert pdf.check_pdf_syntax() == []
        for font in pdf.pages[0].Resources.Font.values():
            # 9.6.5: a Type 3 font is drawn by the file's own content.
            assert font.Subtype == "/Type3"


@pytest.mark.parametrize(
    ("paper", "percents"),
    [
        # A page fitted to a sheet, by the sizes above and margins of 0, 12 pt (4.23 mm) or 5 mm; to 0.1 %.
        ("A4", {96.0, 95.2, 94.1, 91.2}),
        ("Letter", {97.3, 93.3}),
    ],
)
def test_a_fitted_page_has_the_scale_that_paper_sizes_give(paper, percents):
    known = {round(100 * cause.scale, 1) for cause in causes(PAPERS[paper])}
    assert percents <= known


def test_the_pocket_gauge_is_a_card_of_the_standard_s_size():
    reader = reader_of(printer_page_pdf(PAPERS["A4"], Style()))
    cards = []
    for page in reader.pages:
        for path, wide in strokes(page, reader):
            ends = [points[-1] for _, points in path]
            xs, ys = [x for x, _ in ends], [y for _, y in ends]
            if {step for step, _ in path} == {"m", "l", "c"} and max(xs) - min(xs) > 50.0:
                cards.append((max(xs) - min(xs), max(ys) - min(ys), wide))
                corner = min(x for x, y in ends if abs(y - max(ys)) < HUNDREDTH) - min(xs)
                assert 2.88 <= corner <= 3.48
    ((across, up, wide),) = cards
    # A card laid on the line covers it to its middle: the line is drawn on the standard's own size.
    assert (across, up) == pytest.approx((85.60, 53.98), abs=HUNDREDTH)
    assert wide < 0.4
