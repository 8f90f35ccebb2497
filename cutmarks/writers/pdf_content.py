"""A sheet as the content of a PDF page: the operators of ISO 32000-1, 8.2 and 9.4, in millimetres.

One matrix at the head of the page turns millimetres into points; a printer's calibration is part of it. PDF has no
arcs: each eighth of a turn is one cubic curve, which leaves a circle of 1 m radius by less than 0.005 mm.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from functools import lru_cache

from cutmarks.geometry.edges import Arc, Edge
from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.geometry.frames import cos_sin
from cutmarks.marks.glyphs import EM
from cutmarks.writers.drawing import KEPT, Contour, DrawnCircle, DrawnPath, DrawnShape, Letters, Pen, TextRun
from cutmarks.writers.number import number
from cutmarks.writers.pdf_fonts import Lettering
from cutmarks.writers.pdf_pictures import Pictures
from cutmarks.writers.style import SHADES, WHITEST

POINTS_PER_MM = 72.0 / 25.4
"""A point is 1/72 in (ISO 32000-1, 8.3.2.3)."""
MITRE = "4"
"""SVG's own limit for pointed corners, so that both files have the same corners."""

Matrix = tuple[float, float, float, float, float, float]
"""(a, b, c, d, e, f): (x, y) goes to (a x + c y + e, b x + d y + f), as PDF writes it; e and f in mm."""

_MATRIX_PLACES = 9
"""Over 1200 mm the matrix is then out by less than 0.000001 mm."""
_SIZE_PLACES = 6
"""Of a font size and of the sine and cosine of turned words."""
_SHADE_PLACES = 3
_PIECE_OF_TURN = math.pi / 4


def head(matrix: Matrix) -> bytes:
    """What a page's content begins with; `matrix` is applied to the whole page, in mm."""
    page = " ".join(number(value * POINTS_PER_MM, _MATRIX_PLACES) for value in matrix)
    return f"{page} cm\n{MITRE} M\n".encode("ascii")


def content(runs: Iterable[TextRun], size: tuple[float, float], lettering: Lettering, pictures: Pictures) -> bytes:
    """What runs draw on a page of a width and height in mm, not compressed; it goes behind the page's `head`.

    `lettering` gives each character its place in the file's fonts, `pictures` a name to each drawing that comes back.
    Raises GeometryError where a coordinate is not finite.
    """
    lines: list[str] = []
    for run in runs:
        if run.long:
            lines.append(f"/{pictures.named(_picture(run), size)} Do")
        else:
            lines += _run(run, lettering)
    return "\n".join(lines).encode("ascii")


def _run(run: TextRun, lettering: Lettering) -> Iterator[str]:
    yield from _state(run.pen)
    for shape in run.shapes:
        yield from _drawn(shape, run.pen, lettering)


@lru_cache(maxsize=KEPT)
def _picture(run: TextRun) -> bytes:
    """What a long run draws; there are no words in it."""
    return "\n".join(_run(run, Lettering())).encode("ascii")


def _state(pen: Pen) -> Iterator[str]:
    if pen.line is None:
        yield f"{number(SHADES[pen.tone] / WHITEST, _SHADE_PLACES)} g"
        return
    yield f"{number(pen.line.width)} w"
    yield f"[{' '.join(number(dash) for dash in pen.line.dashes)}] 0 d"


def _drawn(shape: DrawnShape, pen: Pen, lettering: Lettering) -> Iterator[str]:
    paint = "f*" if pen.line is None else "S"
    match shape:
        case DrawnPath(contours=contours):
            for contour in contours:
                yield from _traced(contour)
            yield paint
        case DrawnCircle(x=x, y=y, radius=radius):
            yield f"{_at(x + radius, y)} m"
            # Clockwise from its right end, as SVG draws a circle: its dashes then lie alike in both files.
            yield from _curves(x, y, radius, 0.0, -2 * math.pi)
            yield f"h {paint}"
        case Letters():
            yield from _written(shape, lettering)


def _traced(contour: Contour) -> Iterator[str]:
    first = contour.edges[0]
    yield f"{_at(first.x0, first.y0)} m"
    for edge in contour.edges:
        yield from _along(edge)
    if contour.closed:
        yield "h"


def _along(edge: Edge[SheetFrame]) -> Iterator[str]:
    if isinstance(edge, Arc):
        yield from _curves(edge.cx, edge.cy, edge.radius, edge.start, edge.sweep)
    else:
        yield f"{_at(edge.x1, edge.y1)} l"


def _curves(cx: float, cy: float, radius: float, start: float, sweep: float) -> Iterator[str]:
    """An arc as cubic curves of at most an eighth of a turn; the handles are 4/3 tan(a / 4) radii long."""
    count = math.ceil(abs(sweep) / _PIECE_OF_TURN - _ROUNDING)
    step = sweep / count
    handle = radius * 4.0 / 3.0 * math.tan(step / 4.0)
    for piece in range(count):
        one, other = start + piece * step, start + (piece + 1) * step
        x0, y0 = cx + radius * math.cos(one), cy + radius * math.sin(one)
        x3, y3 = cx + radius * math.cos(other), cy + radius * math.sin(other)
        near = _at(x0 - handle * math.sin(one), y0 + handle * math.cos(one))
        far = _at(x3 + handle * math.sin(other), y3 - handle * math.cos(other))
        yield f"{near} {far} {_at(x3, y3)} c"


_ROUNDING = 1e-9
"""What arithmetic may leave above a whole number of pieces."""


def _written(words: Letters, lettering: Lettering) -> Iterator[str]:
    cos, sin = cos_sin(words.turn)
    turn = " ".join(number(value, _SIZE_PLACES) for value in (cos, sin, -sin, cos))
    at = _at(words.x + cos * words.start, words.y + sin * words.start)
    size = number(words.scale * EM, _SIZE_PLACES)
    shown = " ".join(f"/{font} {size} Tf <{codes}> Tj" for font, codes in lettering.coded(words.text, words.bold))
    yield f"BT {turn} {at} Tm {shown} ET"


def _at(x: float, y: float) -> str:
    return f"{number(x)} {number(y)}"
