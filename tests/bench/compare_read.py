"""Finished outputs read back as plain rows, so that two can be laid side by side whoever wrote them.

A row is words and figures, apart: words must be equal to the letter, figures within a tolerance. Lengths of drawings
are mm on the page, y down in SVG and up in PDF as the file has it. Nothing here knows the package.
"""

from __future__ import annotations

import csv
import math
import re
import xml.etree.ElementTree as ET
from collections.abc import Iterator, Sequence
from functools import lru_cache
from pathlib import Path

import pypdfium2
import pypdfium2.raw as pdfium
from msgspec import Struct

POINT_MM = 25.4 / 72.0
PATH_STEP = re.compile(r"([MmLlHhVvAaZzQqCcSsTt])([^MmLlHhVvAaZzQqCcSsTt]*)")
NUMBER = re.compile(r"[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?")
TRANSFORM = re.compile(r"(\w+)\s*\(([^)]*)\)")
PAGE_RULE = re.compile(r"@page\s*\{[^{}]*\}")
DEEPEST = 8
"""So many forms inside one another are read in a PDF."""

Matrix = tuple[float, float, float, float, float, float]
IDENTITY: Matrix = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)


class Row(Struct, frozen=True):
    """One thing drawn or written: what it is, in words, and its figures."""

    words: str
    figures: tuple[float, ...] = ()

    def __str__(self) -> str:
        return f"{self.words} {' '.join(f'{figure:.6g}' for figure in self.figures)}".strip()


class Page(Struct, frozen=True):
    """One page of a PDF: its size, mm; its words in the order of drawing; what is drawn on it."""

    width: float
    height: float
    words: tuple[str, ...]
    drawn: tuple[Row, ...]


class Drawing(Struct, frozen=True):
    """One SVG: its size and title, the words said beside its letters, and what is drawn, letters left out."""

    size: str
    title: str
    words: tuple[str, ...]
    drawn: tuple[Row, ...]


def times(one: Matrix, other: Matrix) -> Matrix:
    """First `one`, then `other`, as in PDF: a point is (x, y) -> (a x + c y + e, b x + d y + f)."""
    a, b, c, d, e, f = one
    p, q, r, s, t, u = other
    return (a * p + b * r, a * q + b * s, c * p + d * r, c * q + d * s, e * p + f * r + t, e * q + f * s + u)


def at(matrix: Matrix, x: float, y: float) -> tuple[float, float]:
    a, b, c, d, e, f = matrix
    return a * x + c * y + e, b * x + d * y + f


# CSV and DXF


def csv_rows(path: Path) -> list[dict[str, str]]:
    """The rows of a list, each cell under its column's name; none of a list that a job without tiles has not."""
    if not path.is_file():
        return []
    with path.open(encoding="utf-8-sig", newline="") as file:
        return list(csv.DictReader(file))


def csv_header(path: Path) -> list[str]:
    with path.open(encoding="utf-8-sig", newline="") as file:
        return next(csv.reader(file), [])


def dxf_rows(path: Path) -> list[Row]:
    """A DXF's pairs of group code and value; reals (codes 10-59, 140-149, 210-239) are figures, all else words."""
    lines = path.read_text(encoding="utf-8").splitlines()
    return [_pair(int(code), value) for code, value in zip(lines[0::2], lines[1::2], strict=True)]


def _pair(code: int, value: str) -> Row:
    real = 10 <= code <= 59 or 140 <= code <= 149 or 210 <= code <= 239
    return Row(str(code), (float(value),)) if real else Row(f"{code} {value}")


# SVG


def drawing_of(path: Path) -> Drawing:
    """The SVG file at `path`."""
    root = ET.parse(path).getroot()
    named = {element.get("id", ""): element for element in root.iter()}
    title = next((child.text or "" for child in root if _tag(child) == "title"), "")
    words: list[str] = []
    drawn: list[Row] = []
    _draw(root, IDENTITY, {}, False, named, words, drawn)
    size = f"{root.get('width')} x {root.get('height')}, {root.get('viewBox')}"
    return Drawing(size, title, tuple(words), tuple(drawn))


def _tag(element: ET.Element) -> str:
    return element.tag.rpartition("}")[2]


_STYLE = ("fill", "stroke", "stroke-width", "stroke-dasharray", "fill-rule")


def _draw(
    element: ET.Element,
    matrix: Matrix,
    style: dict[str, str],
    letters: bool,
    named: dict[str, ET.Element],
    words: list[str],
    drawn: list[Row],
) -> None:
    """Put what an element draws, with all inside it, into `words` and `drawn`."""
    tag = _tag(element)
    if tag in ("defs", "symbol", "title", "desc", "metadata"):
        return
    if tag == "style" and PAGE_RULE.fullmatch(element.text or ""):
        return  # how it is printed: nothing is drawn by it
    style = {**style, **{key: element.attrib[key] for key in _STYLE if key in element.attrib}}
    matrix = times(_transform(element.get("transform", "")), matrix)
    letters = letters or element.get("class") == "words" or "aria-label" in element.attrib
    if "aria-label" in element.attrib:
        words.append(element.attrib["aria-label"])
    if tag == "use":
        aim = element.get("href") or element.get("{http://www.w3.org/1999/xlink}href") or ""
        moved = times((1.0, 0.0, 0.0, 1.0, _plain(element.get("x")), _plain(element.get("y"))), matrix)
        _draw(named[aim.removeprefix("#")], moved, style, letters, named, words, drawn)
    elif tag == "text":
        words.append("".join(element.itertext()))
    elif not letters:
        drawn.extend(_shape(element, tag, matrix, style))
    for child in element:
        _draw(child, matrix, style, letters, named, words, drawn)


def _plain(text: str | None) -> float:
    return float(text) if text else 0.0


def _shape(element: ET.Element, tag: str, matrix: Matrix, style: dict[str, str]) -> Iterator[Row]:
    """The shapes of one element: each contour of a path is one."""
    pen = " ".join(style.get(key, "-") for key in _STYLE[:4])
    size = math.sqrt(abs(matrix[0] * matrix[3] - matrix[1] * matrix[2]))
    if tag == "path":
        for steps, figures in _contours(element.get("d", "")):
            yield Row(f"{pen} {steps}", _placed(steps, figures, matrix, size))
    elif tag == "circle":
        centre = at(matrix, _plain(element.get("cx")), _plain(element.get("cy")))
        yield Row(f"{pen} circle", (*centre, _plain(element.get("r")) * size))
    elif tag == "rect":
        x, y, w, h = (_plain(element.get(key)) for key in ("x", "y", "width", "height"))
        corners = [at(matrix, *corner) for corner in ((x, y), (x + w, y), (x + w, y + h), (x, y + h))]
        yield Row(f"{pen} rect", tuple(value for corner in corners for value in corner))
    elif tag == "line":
        ends = [at(matrix, _plain(element.get(f"x{i}")), _plain(element.get(f"y{i}"))) for i in (1, 2)]
        yield Row(f"{pen} ML", (*ends[0], *ends[1]))
    elif tag not in ("svg", "g", "use"):
        yield Row(f"{pen} {tag} that is not read")


@lru_cache(maxsize=4096)
def _contours(d: str) -> tuple[tuple[str, tuple[float, ...]], ...]:
    """The contours of a path in its own coordinates: their steps in letters, all figures absolute.

    M and L have x, y; an A has radius, large, sweep, x, y; H and V become L, relative steps absolute.
    """
    found: list[tuple[str, list[float]]] = []
    x = y = home_x = home_y = 0.0
    for letter, rest in PATH_STEP.findall(d):
        numbers = [float(number) for number in NUMBER.findall(rest)]
        kind, relative = letter.upper(), letter.islower()
        if kind == "Z":
            steps, figures = found[-1]
            found[-1] = (steps + "Z", figures)
            x, y = home_x, home_y
            continue
        count = {"M": 2, "L": 2, "H": 1, "V": 1, "A": 7, "Q": 4, "C": 6, "S": 4, "T": 2}[kind]
        for first in range(0, len(numbers), count):
            part = numbers[first : first + count]
            was_x, was_y = (x, y) if relative else (0.0, 0.0)
            if kind == "H":
                x = was_x + part[0]
            elif kind == "V":
                y = was_y + part[0]
            else:
                x, y = was_x + part[-2], was_y + part[-1]
            if kind == "M" and first == 0:
                home_x, home_y = x, y
                found.append(("M", [x, y]))
                continue
            if not found or found[-1][0].endswith("Z"):
                found.append(("M", [home_x, home_y]))
            step = "L" if kind in "MHV" else kind
            if kind == "A":
                middle = [part[0], part[3], part[4]]  # the radii are equal and the ellipse's turn says nothing
            else:
                middle = [value + (was_x, was_y)[place % 2] for place, value in enumerate(part[:-2])]
            steps, figures = found[-1]
            found[-1] = (steps + step, [*figures, *(middle if kind not in "HV" else []), x, y])
    return tuple((steps, tuple(figures)) for steps, figures in found)


def _placed(steps: str, figures: Sequence[float], matrix: Matrix, size: float) -> tuple[float, ...]:
    """A contour's figures on the page: points carried through the matrix, radii grown with it."""
    result: list[float] = []
    place = 0
    for step in steps:
        if step == "A":
            radius, large, sweep = figures[place : place + 3]
            mirrored = matrix[0] * matrix[3] - matrix[1] * matrix[2] < 0.0
            result += [radius * size, large, 1.0 - sweep if mirrored else sweep]
            place += 3
        for _ in range({"Z": 0, "Q": 2, "C": 3, "S": 2}.get(step, 1)):
            result += at(matrix, figures[place], figures[place + 1])
            place += 2
    return tuple(result)


def _transform(text: str) -> Matrix:
    """A transform attribute as one matrix; the last one written is applied first."""
    result = IDENTITY
    for name, inside in TRANSFORM.findall(text):
        values = [float(number) for number in NUMBER.findall(inside)]
        result = times(_step(name, values), result)
    return result


def _step(name: str, values: list[float]) -> Matrix:
    if name == "translate":
        return (1.0, 0.0, 0.0, 1.0, values[0], values[1] if len(values) > 1 else 0.0)
    if name == "scale":
        return (values[0], 0.0, 0.0, values[-1], 0.0, 0.0)
    if name == "rotate":
        c, s = math.cos(math.radians(values[0])), math.sin(math.radians(values[0]))
        turn: Matrix = (c, s, -s, c, 0.0, 0.0)
        if len(values) == 1:
            return turn
        x, y = values[1:]
        return times(times((1.0, 0.0, 0.0, 1.0, -x, -y), turn), (1.0, 0.0, 0.0, 1.0, x, y))
    if name == "matrix":
        a, b, c, d, e, f = values
        return (a, b, c, d, e, f)
    raise ValueError(f"a transform that is not read: {name}")


# PDF


def pages_of(path: Path) -> list[Page]:
    """Every page of the PDF at `path`."""
    document = pypdfium2.PdfDocument(path)
    try:
        return [_page(page) for page in document]
    finally:
        document.close()


def _page(page: pypdfium2.PdfPage) -> Page:
    width, height = page.get_size()
    words: list[str] = []
    drawn: list[Row] = []
    text = page.get_textpage()
    _ink(page, None, IDENTITY, text, words, drawn, 0)
    text.close()
    return Page(width * POINT_MM, height * POINT_MM, tuple(words), tuple(drawn))


def _ink(
    page: pypdfium2.PdfPage,
    form: object,
    matrix: Matrix,
    text: pypdfium2.PdfTextPage,
    words: list[str],
    drawn: list[Row],
    depth: int,
) -> None:
    """Put what a page, or a form on it, holds into `words` and `drawn`."""
    for thing in page.get_objects(max_depth=1, form=form):
        placed = times(thing.get_matrix().get(), matrix)
        if thing.type == pdfium.FPDF_PAGEOBJ_TEXT:
            words.extend(_said(thing.raw, text.raw).split())
        elif thing.type == pdfium.FPDF_PAGEOBJ_PATH:
            drawn.extend(_path(thing.raw, placed))
        elif thing.type == pdfium.FPDF_PAGEOBJ_FORM and depth < DEEPEST:
            _ink(page, thing.raw, placed, text, words, drawn, depth + 1)
        else:
            drawn.append(Row(f"object {thing.type}", tuple(value * POINT_MM for value in placed)))


def _said(thing: object, text: object) -> str:
    length = pdfium.FPDFTextObj_GetText(thing, text, None, 0)
    buffer = (pdfium.FPDF_WCHAR * length)()
    pdfium.FPDFTextObj_GetText(thing, text, buffer, length)
    return bytes(buffer).decode("utf-16-le").rstrip("\0")


def _path(thing: object, matrix: Matrix) -> Iterator[Row]:
    """The contours of one path with its pen: line width in mm, grey of fill and stroke."""
    fill, stroke = pdfium.c_int(), pdfium.c_int()
    pdfium.FPDFPath_GetDrawMode(thing, fill, stroke)
    width = pdfium.c_float()
    pdfium.FPDFPageObj_GetStrokeWidth(thing, width)
    grey = [_grey(get, thing) for get in (pdfium.FPDFPageObj_GetFillColor, pdfium.FPDFPageObj_GetStrokeColor)]
    dashes = pdfium.FPDFPageObj_GetDashCount(thing) if stroke.value else 0
    size = math.sqrt(abs(matrix[0] * matrix[3] - matrix[1] * matrix[2]))
    pen = f"fill {grey[0] if fill.value else '-'} line {grey[1] if stroke.value else '-'} {dashes} dashes"
    line = (width.value * size * POINT_MM,) if stroke.value else ()
    steps, figures = "", list(line)
    for number in range(pdfium.FPDFPath_CountSegments(thing)):
        segment = pdfium.FPDFPath_GetPathSegment(thing, number)
        x, y = pdfium.c_float(), pdfium.c_float()
        pdfium.FPDFPathSegment_GetPoint(segment, x, y)
        step = {0: "L", 1: "C", 2: "M"}.get(pdfium.FPDFPathSegment_GetType(segment), "?")
        if step == "M" and steps:
            yield Row(f"{pen} {steps}", tuple(figures))
            steps, figures = "", list(line)
        steps += step + ("Z" if pdfium.FPDFPathSegment_GetClose(segment) else "")
        figures += [value * POINT_MM for value in at(matrix, x.value, y.value)]
    if steps:
        yield Row(f"{pen} {steps}", tuple(figures))


def _grey(get: object, thing: object) -> str:
    channels = [pdfium.c_uint() for _ in range(4)]
    get(thing, *channels)  # type: ignore[operator]
    return "/".join(str(channel.value) for channel in channels[:3])
