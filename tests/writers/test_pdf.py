"""Sheets as PDF, read back by libraries other than the ones that wrote it, and measured in millimetres."""

from __future__ import annotations

import builtins
import math
from io import BytesIO

import numpy as np
import pypdf
import pypdfium2
import pytest
from pypdf.generic import ContentStream

from cutmarks.errors import PdfUnavailable
from cutmarks.sheets.build import build_sheets
from cutmarks.writers.pdf import pdf_bytes
from tests.scenes import SCENES

MM = 72.0 / 25.4
"""Points in a millimetre: a point is 1/72 in (ISO 32000-1, 8.3.2.3)."""
HUNDREDTH = 0.01


def pdf_of(name):
    return pdf_bytes(build_sheets(SCENES[name]()), "Quay Cottage, laundry")


def reader_of(data):
    return pypdf.PdfReader(BytesIO(data))


def strokes(page, reader):
    """Every stroked path of a page as a list of points in mm from the paper's bottom left, with its line width.

    A reader of its own: q, Q, cm, w, m, l, c, h, re, S and forms (Do), nothing of the writers' code.
    """
    found: list = []
    _run(ContentStream(page.get_contents(), reader), page["/Resources"], (1.0, 0.0, 0.0, 1.0, 0.0, 0.0), found, reader)
    return found


def _times(one, other):
    a, b, c, d, e, f = one
    p, q, r, s, t, u = other
    return (a * p + b * r, a * q + b * s, c * p + d * r, c * q + d * s, e * p + f * r + t, e * q + f * s + u)


def _run(stream, resources, matrix, found, reader):
    stack, path, width = [], [], 1.0
    for operands, operator in stream.operations:
        values = [float(value) for value in operands] if operator in _WITH_NUMBERS else []
        match operator:
            case b"q":
                stack.append((matrix, width))
            case b"Q":
                matrix, width = stack.pop()
            case b"cm":
                matrix = _times(values, matrix)
            case b"w":
                width = values[0]
            case b"m" | b"l":
                path.append((operator.decode(), _points(values, matrix)))
            case b"re":
                x, y, w, h = values
                path.append(("re", _points([x, y, x + w, y, x + w, y + h, x, y + h], matrix)))
            case b"c":
                path.append(("c", _points(values, matrix)))
            case b"S" | b"s":
                found.append((path, width * math.sqrt(abs(matrix[0] * matrix[3] - matrix[1] * matrix[2])) / MM))
                path = []
            case b"f" | b"f*" | b"n" | b"B":
                path = []
            case b"Do":
                form = resources["/XObject"][operands[0]].get_object()
                inner = [float(value) for value in form.get("/Matrix", (1, 0, 0, 1, 0, 0))]
                _run(ContentStream(form, reader), form["/Resources"], _times(inner, matrix), found, reader)


_WITH_NUMBERS = {b"cm", b"w", b"m", b"l", b"c", b"re"}


def _points(values, matrix):
    a, b, c, d, e, f = matrix
    pairs = zip(values[0::2], values[1::2], strict=True)
    return [((a * x + c * y + e) / MM, (b * x + d * y + f) / MM) for x, y in pairs]


def straight(found, width):
    """The straight strokes of one line width, as ((x0, y0), (x1, y1))."""
    return [
        (path[0][1][0], path[1][1][0])
        for path, wide in found
        if [step for step, _ in path] == ["m", "l"] and wide == pytest.approx(width, abs=0.005)
    ]


def circles(found, radius):
    """The centres of the full circles of one radius: the middle of their curves' outermost points."""
    centres = []
    for path, _ in found:
        ends = [points[-1] for step, points in path if step == "c"]
        if len(ends) < 4:
            continue
        xs, ys = zip(*ends, strict=True)
        centre = ((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2)
        if all(math.hypot(x - centre[0], y - centre[1]) == pytest.approx(radius, abs=0.02) for x, y in ends):
            centres.append(centre)
    return centres


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
    wide = straight(found, 0.35)
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
        if wide == pytest.approx(0.35, abs=0.005) and size == pytest.approx((76.0, 78.0), abs=HUNDREDTH):
            boxes.append((max(xs), min(ys)))
    ((right_side, lower_side),) = boxes
    wide = straight(found, 0.35)
    upright = {a[0] for a, b in wide if abs(a[0] - b[0]) < 1e-3 and abs(a[1] - b[1]) > 150.0}
    level = {a[1] for a, b in wide if abs(a[1] - b[1]) < 1e-3 and abs(a[0] - b[0]) > 150.0}
    # Worked example W2: 72.5 to the right edge, 95 to the bottom one.
    assert min(abs(x - right_side - 72.5) for x in upright) < HUNDREDTH
    assert min(abs(lower_side - y - 95.0) for y in level) < HUNDREDTH


@pytest.mark.parametrize(("name", "lengths"), [("w1", (180.0, 250.0)), ("inches", (7 * 25.4, 10 * 25.4))])
def test_both_bars_measure_what_they_say(name, lengths):
    reader = reader_of(pdf_of(name))
    wide = straight(strokes(reader.pages[0], reader), 0.35)
    across = [abs(a[0] - b[0]) for a, b in wide if abs(a[1] - b[1]) < 1e-3]
    along = [abs(a[1] - b[1]) for a, b in wide if abs(a[0] - b[0]) < 1e-3]
    assert min(abs(one - lengths[0]) for one in across) < HUNDREDTH
    assert min(abs(one - lengths[1]) for one in along) < HUNDREDTH


def test_no_page_asks_for_a_font():
    for page in reader_of(pdf_of("two_sheets")).pages:
        resources = [page["/Resources"]]
        for one in resources:
            assert not one.get("/Font")
            resources += [form.get_object()["/Resources"] for form in one.get("/XObject", {}).values()]


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


def test_a_circle_fitted_to_the_pixels_at_600_dpi_is_where_w1_says():
    dots = 600 / 25.4
    picture = pypdfium2.PdfDocument(pdf_of("w1"))[0].render(scale=600 / 72, grayscale=True).to_numpy()
    height = picture.shape[0]
    dark = picture < 128
    row, column = np.nonzero(dark)
    xs, ys = (column + 0.5) / dots, (height - row - 0.5) / dots
    # The lined-up edges are the only wide lines right along the tile: the darkest column and row in their places.
    columns = dark[int(height * 0.45) : int(height * 0.75), : int(40 * dots)].sum(axis=0)
    left = np.average(np.arange(columns.size)[columns > 0.5 * columns.max()] + 0.5) / dots
    rows = dark[int(height - 50 * dots) : int(height - 30 * dots)].sum(axis=1)
    top = height - int(height - 50 * dots)
    lower = np.average(top - np.arange(rows.size)[rows > 0.5 * rows.max()] - 0.5) / dots
    # Points of the circle away from its cross and its name: the lower left, between the two rulers.
    near_x, near_y = left + 74.5, lower + 112.5
    away = np.hypot(xs - near_x, ys - near_y)
    turned = np.degrees(np.arctan2(ys - near_y, xs - near_x)) % 90.0
    ring = (np.abs(away - 17.5) < 1.5) & (turned > 20.0) & (turned < 70.0)
    # Least squares of x^2 + y^2 = 2 a x + 2 b y + c.
    x, y = xs[ring], ys[ring]
    a, b, c = np.linalg.lstsq(np.column_stack((2 * x, 2 * y, np.ones_like(x))), x**2 + y**2, rcond=None)[0]
    assert (a - left, b - lower) == pytest.approx((74.5, 112.5), abs=0.1)
    assert math.sqrt(c + a**2 + b**2) == pytest.approx(17.5, abs=0.1)


def test_two_runs_give_the_same_bytes_and_no_date():
    first, second = pdf_of("w1"), pdf_of("w1")
    assert first == second
    assert b"Date" not in first
    metadata = reader_of(first).metadata
    assert metadata is not None
    assert dict(metadata) == {"/Title": "Quay Cottage, laundry"}


def test_a_page_that_is_there_twice_is_drawn_twice():
    sheet = build_sheets(SCENES["w1"]())[0]
    done: list[int] = []
    assert len(reader_of(pdf_bytes([sheet, sheet], "x", done.append)).pages) == 2
    assert done == [1, 2]


def test_without_cairo_the_sentence_says_what_to_install(monkeypatch):
    real = builtins.__import__

    def without_cairo(name, *rest, **named):
        if name == "cairosvg":
            raise OSError("no library called cairo-2 was found")
        return real(name, *rest, **named)

    sheets = build_sheets(SCENES["w1"]())
    monkeypatch.setattr(builtins, "__import__", without_cairo)
    with pytest.raises(PdfUnavailable, match="apt install libcairo2"):
        pdf_bytes(sheets, "x")


def test_a_pdf_without_sheets_is_refused():
    with pytest.raises(ValueError, match="at least one sheet"):
        pdf_bytes([], "x")
