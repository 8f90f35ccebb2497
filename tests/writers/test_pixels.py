"""Pages at 600 dots to the inch through another program: circles fitted to the dots, from the edges among the dots."""

from __future__ import annotations

import math
import random

import numpy as np
import pypdfium2
import pytest

from cutmarks.geometry.shapes import Circle
from cutmarks.registering.calibration import Scale
from cutmarks.sheets.build import build_sheets
from cutmarks.writers.pdf import pdf_bytes
from tests.bench.printer_campaign import some_plan, template
from tests.scenes import SCENES

DOTS = 600 / 25.4
"""In a millimetre."""
WITHIN = 0.1


def dark_dots(data):
    """The first page as an array of dots, True where there is ink; the first row is the top one."""
    return pypdfium2.PdfDocument(data)[0].render(scale=600 / 72, grayscale=True).to_numpy() < 128


def edges_of(dark):
    """Where the left and the lower edge of the tile are on the paper, mm from its lower left corner.

    They are the only wide lines right along the tile: the darkest column and row in their places.
    """
    height = len(dark)
    columns = dark[int(height * 0.4) : int(height * 0.75), : int(40 * DOTS)].sum(axis=0)
    left = np.average(np.arange(columns.size)[columns > 0.8 * columns.max()] + 0.5) / DOTS
    first = int(height - 50 * DOTS)
    rows = dark[first : int(height - 30 * DOTS)].sum(axis=1)
    lower = (height - first - np.average(np.arange(rows.size)[rows > 0.8 * rows.max()] + 0.5)) / DOTS
    return left, lower


def fitted(dark, x, y, radius):
    """The circle that fits the dots near the one that is looked for: (centre x, centre y, radius), mm.

    Away from its cross and its name, which lie on its axes; a second fit leaves out what the first one misses.
    """
    row, column = np.nonzero(dark)
    xs, ys = (column + 0.5) / DOTS, (len(dark) - row - 0.5) / DOTS
    turned = np.degrees(np.arctan2(ys - y, xs - x)) % 90.0
    near = (np.abs(np.hypot(xs - x, ys - y) - radius) < 1.2) & (turned > 20.0) & (turned < 70.0)
    assert near.sum() > 500
    xs, ys = xs[near], ys[near]
    a, b, r = _least_squares(xs, ys)
    close = np.abs(np.hypot(xs - a, ys - b) - r) < 0.3
    return _least_squares(xs[close], ys[close])


def _least_squares(x, y):
    """Least squares of x^2 + y^2 = 2 a x + 2 b y + c: the centre (a, b) and the radius."""
    a, b, c = np.linalg.lstsq(np.column_stack((2 * x, 2 * y, np.ones_like(x))), x**2 + y**2, rcond=None)[0]
    return a, b, math.sqrt(c + a**2 + b**2)


def test_w1_is_where_w1_says():
    dark = dark_dots(pdf_bytes(build_sheets(SCENES["w1"]()), "w1"))
    left, lower = edges_of(dark)
    a, b, radius = fitted(dark, left + 74.5, lower + 112.5, 17.5)
    # Worked example W1: 74.5 from the left edge, 112.5 from the lower one; core 35.
    assert (a - left, b - lower, radius) == pytest.approx((74.5, 112.5, 17.5), abs=WITHIN)


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_every_hole_of_a_page_is_where_it_was_measured(seed):
    plan = some_plan(random.Random(seed))
    dark = dark_dots(pdf_bytes(build_sheets(plan)[:1], "holes"))
    left, lower = edges_of(dark)
    for cut in plan.pieces[0].cuts:
        assert isinstance(cut.opening.shape, Circle)
        expected = (cut.from_left, cut.from_bottom, cut.opening.shape.d / 2)
        a, b, radius = fitted(dark, left + expected[0], lower + expected[1], expected[2])
        assert (a - left, b - lower, radius) == pytest.approx(expected, abs=WITHIN)


def test_a_corrected_page_is_stretched_by_what_the_printer_takes_away():
    plan = some_plan(random.Random(4))
    dark = dark_dots(template(plan, Scale(0.988, 1.011)))
    left, lower = edges_of(dark)
    for cut in plan.pieces[0].cuts:
        assert isinstance(cut.opening.shape, Circle)
        # By hand: what comes out at x was drawn at x / 0.988, and y / 1.011.
        x, y = cut.from_left / 0.988, cut.from_bottom / 1.011
        a, b, _ = fitted(dark, left + x, lower + y, cut.opening.shape.d / 2)
        assert (a - left, b - lower) == pytest.approx((x, y), abs=WITHIN)
