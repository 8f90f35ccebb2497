"""What is left of a page in a copy in black and white: each line and each letter, dot by dot.

The copy has 150 dots to the inch, a dot black where more than half of it is inked, as PDFium draws it at 600; a line's
dashes and a letter's outline are taken from the PDF by pypdf alone (`ink`). A line has to be black along nine tenths of
what it inks. A letter has to keep its weight, its strokes and its holes: of the dots that lie wholly in its ink, and of
those in its box that lie wholly outside it, nine tenths are as they should be; it may lie a dot off, since a letter is
set to whole dots.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise, product
from typing import Any

import numpy as np
import pypdfium2
import shapely
from msgspec import Struct

from tests.sheets.ink import Fill, Line, Page, Word, flattened

DPI = 150
DOT = 25.4 / DPI
FINER = 4
KEPT, WHOLLY = 0.9, 0.9
WEIGHT = 0.4
"""Of a letter's ink at least so much is black."""
STEP = 0.05
"""A line is looked at so finely along, mm."""


class Copy(Struct, frozen=True, dict=True):
    """A page in black and white: True where a dot is black, the lowest row first; so many dots to a mm each way."""

    black: Any
    across: float
    up: float


def copy_of(data: bytes, number: int) -> Copy:
    """A page as it comes out of a copier that knows no grey.

    It is drawn finer first: a line thinner than a dot would be drawn a dot wide.
    """
    page = pypdfium2.PdfDocument(data)[number]
    fine = page.render(scale=FINER * DPI / 72, grayscale=True).to_numpy()[::-1]
    wide, high = (size * 25.4 / 72 for size in page.get_size())
    across, up = fine.shape[1] / wide / FINER, fine.shape[0] / high / FINER
    rows, columns = fine.shape[0] // FINER, fine.shape[1] // FINER
    grey = fine[: rows * FINER, : columns * FINER].reshape(rows, FINER, columns, FINER).mean(axis=(1, 3))
    return Copy(grey < 128, across, up)


def copy_faults(page: Page, copy: Copy, every: int = 1) -> Iterator[str]:
    """What of the page's lines and letters is lost in the copy, in words; of letters each so many-th is looked at."""
    number = 0
    for place, one in enumerate(page.order):
        if isinstance(one, Line):
            later = [other.ink for other in page.order[place + 1 :] if isinstance(other, Fill)]
            kept = _kept_of_line(one, copy, shapely.union_all(later) if later else None)
            if kept < KEPT:
                yield f"of a line of {one.width:.2f} {_where(one.middle)} {100 * kept:.0f} % is left"
        elif isinstance(one, Word):
            for text, ink in one.letters:
                number += 1
                if number % every == 0 and not ink.is_empty and not _is_read(ink, copy, white=one.grey > 0.5):
                    yield f"{text!r} of {one.text!r} {_where(ink)} is lost"


def _where(shape: Any) -> str:
    return f"at {shape.centroid.x:.0f}, {shape.centroid.y:.0f}"


def _kept_of_line(line: Line, copy: Copy, covered: Any) -> float:
    """The share of a line's inked length along which the copy is black where the line is, or a dot beside it."""
    if line.middle.length < DOT:
        return 1.0  # where a cut is clipped at the border: no more than a dot
    seen = kept = 0
    for contour in flattened(line.steps):
        gone = 0.0
        for (x0, y0), (x1, y1) in pairwise(contour):
            long = math.hypot(x1 - x0, y1 - y0)
            if long == 0.0:
                continue
            for at in np.arange(STEP / 2, long, STEP):
                if _inked(gone + at, line.dashes):
                    x, y = x0 + (x1 - x0) * at / long, y0 + (y1 - y0) * at / long
                    if covered is not None and covered.contains(shapely.Point(x, y)):
                        continue
                    seen += 1
                    kept += _black_near(copy, x, y)
            gone += long
    return kept / seen if seen else 1.0


def _inked(at: float, dashes: tuple[float, ...]) -> bool:
    """Whether a dashed line has ink so far along; an end of a dash, half a dot long, is not asked for."""
    if not dashes:
        return True
    at %= sum(dashes)
    for number, long in enumerate(dashes):
        if at < long:
            return number % 2 == 0 and (long <= 2 * DOT or DOT / 2 < at < long - DOT / 2)
        at -= long
    return False


def _black_near(copy: Copy, x: float, y: float) -> bool:
    column, row = x * copy.across, y * copy.up
    rows = slice(max(int(row - 0.5), 0), int(row + 0.5) + 1)
    columns = slice(max(int(column - 0.5), 0), int(column + 0.5) + 1)
    return bool(copy.black[rows, columns].any())


def _is_read(ink: Any, copy: Copy, *, white: bool) -> bool:
    """Whether a letter keeps its strokes and its holes, where it lies or a dot beside."""
    left, bottom, right, top = ink.bounds
    columns = np.arange(math.floor(left * copy.across), math.ceil(right * copy.across))
    rows = np.arange(math.floor(bottom * copy.up), math.ceil(top * copy.up))
    xs, ys = np.meshgrid(columns / copy.across, rows / copy.up)
    dots = shapely.box(xs, ys, xs + 1 / copy.across, ys + 1 / copy.up)
    share = shapely.area(shapely.intersection(dots, ink)) * copy.across * copy.up
    inside, outside = share > WHOLLY, share < 1.0 - WHOLLY
    kept = 0.0
    for up, along in product((-1, 0, 1), repeat=2):
        black = copy.black[np.ix_(rows + up, columns + along)] != white
        right_dots = np.concatenate([black[inside], ~black[outside]])
        if black.sum() >= WEIGHT * share.sum():
            kept = max(kept, right_dots.mean() if right_dots.size else 1.0)
    return kept >= KEPT
