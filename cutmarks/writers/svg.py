"""Sheets as SVG: millimetres, full size, words as outlines, the same bytes for the same sheet.

The one flip of y (up on paper, down in SVG) is done here by arithmetic; it turns the sense of arcs with it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import cache, lru_cache
from typing import BinaryIO
from xml.etree.ElementTree import ElementTree

import svgwrite
from svgwrite.base import BaseElement

from cutmarks.geometry.edges import Arc, Edge
from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.marks.glyphs import glyph
from cutmarks.marks.lettering import printable
from cutmarks.marks.model import Tone
from cutmarks.sheets.model import Sheet
from cutmarks.writers.drawing import KEPT, Contour, Disc, Letters, Path, Pen, Run, Shape, drawing
from cutmarks.writers.number import number
from cutmarks.writers.style import FILLS

_SCALE_PLACES = 9
"""Of the factor from font units to mm: 2,000 units of 0.005 mm are then out by less than 0.00001 mm."""


def write_svg(sheet: Sheet, out: BinaryIO) -> None:
    """Write the sheet as an SVG file, UTF-8, its size in mm with an equal viewBox.

    Raises GeometryError where a coordinate is not finite.
    """
    width, height = number(sheet.width), number(sheet.height)
    page = svgwrite.Drawing(size=(f"{width}mm", f"{height}mm"), viewBox=f"0 0 {width} {height}", debug=False)
    page.set_desc(title=printable(sheet.title))
    page.add(page.rect(insert=("0", "0"), size=(width, height), fill=FILLS[Tone.WHITE]))
    for run in drawing(sheet):
        group = page.add(page.g(**_attributes(run.pen)))
        for element in _elements(run, sheet.height) if run.long else _made(run, sheet.height):
            group.add(element)
    out.write(b'<?xml version="1.0" encoding="utf-8"?>\n')
    # Element by element: a text of the whole sheet would leave a large hole in the memory for each sheet.
    ElementTree(page.get_xml()).write(out, encoding="utf-8", xml_declaration=False)
    out.write(b"\n")


def _attributes(pen: Pen) -> dict[str, str]:
    if pen.line is None:
        return {"class": pen.name, "fill": FILLS[pen.tone], "stroke": "none"}
    attributes = {"class": pen.name, "fill": "none", "stroke": FILLS[pen.tone]}
    attributes["stroke-width"] = number(pen.line.width)
    if pen.line.dashes:
        attributes["stroke-dasharray"] = " ".join(number(dash) for dash in pen.line.dashes)
    return attributes


@lru_cache(maxsize=KEPT)
def _elements(run: Run, height: float) -> tuple[BaseElement, ...]:
    """The elements of a long run, which comes back on other sheets."""
    return tuple(_made(run, height))


def _made(run: Run, height: float) -> Iterator[BaseElement]:
    for shape in run.shapes:
        yield _element(run.pen, shape, height)


def _element(pen: Pen, shape: Shape, height: float) -> BaseElement:
    match shape:
        case Path(contours=contours):
            d = " ".join(_path(contour, height) for contour in contours)
            return svgwrite.path.Path(d=d, debug=False, **({} if pen.line else {"fill-rule": "evenodd"}))
        case Disc(x=x, y=y, radius=radius):
            centre = (number(x), number(height - y))
            return svgwrite.shapes.Circle(center=centre, r=number(radius), debug=False)
        case Letters():
            placing = {"transform": _placing(shape, height), "aria-label": shape.text}
            return svgwrite.path.Path(d=_letters(shape), debug=False, **placing)


def _letters(words: Letters) -> str:
    """The outlines of the words in font units from the start of the baseline, y down."""
    steps = ["M0 0"]
    for char in words.text:
        drawn, x, y = _glyph(char, words.bold)
        steps.append(f"{drawn}m{number(glyph(char, words.bold).advance - x, 1)} {number(-y, 1)}")
    return "".join(steps)


@cache
def _glyph(char: str, bold: bool) -> tuple[str, float, float]:
    """One glyph as relative path commands, so that the text of a sheet is put together from few strings.

    Also where the pen stands after it, from where it began, y down: where its last contour was closed.
    """
    steps = []
    pen = home = (0.0, 0.0)
    for letter, numbers in glyph(char, bold).outline:
        points = [(x, -y) for x, y in zip(numbers[0::2], numbers[1::2], strict=True)]
        relative = (number(value, 1) for x, y in points for value in (x - pen[0], y - pen[1]))
        steps.append(letter.lower() + " ".join(relative))
        if letter == "M":
            home = points[-1]
        pen = points[-1] if points else home
    return "".join(steps), *pen


def _placing(words: Letters, height: float) -> str:
    """The transform from font units to the sheet; the turn is the other way round where y runs down."""
    turn = f" rotate({number(-words.turn)})" if words.turn else ""
    start = f" translate({number(words.start)} 0)" if words.start else ""
    at = f"translate({number(words.x)} {number(height - words.y)})"
    return f"{at}{turn}{start} scale({number(words.scale, _SCALE_PLACES)})"


def _path(contour: Contour, height: float) -> str:
    first = contour.edges[0]
    steps = [f"M{_at(first.x0, first.y0, height)}", *(_edge(edge, height) for edge in contour.edges)]
    if contour.closed:
        steps.append("Z")
    return " ".join(steps)


def _edge(edge: Edge[SheetFrame], height: float) -> str:
    end = _at(edge.x1, edge.y1, height)
    if not isinstance(edge, Arc):
        return f"L{end}"
    radius = number(edge.radius)
    large = 1 if abs(edge.sweep) > math.pi else 0
    sweep = 0 if edge.sweep > 0 else 1
    return f"A{radius} {radius} 0 {large} {sweep} {end}"


def _at(x: float, y: float, height: float) -> str:
    return f"{number(x)} {number(height - y)}"
