"""Sheets as SVG: millimetres, full size, words as outlines, the same bytes for the same sheet.

The one flip of y (up on paper, down in SVG) is done here by arithmetic; it turns the sense of arcs with it.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from functools import cache
from itertools import groupby, pairwise
from typing import cast

import svgwrite
from svgwrite.base import BaseElement

from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.geometry.rings import Vertex
from cutmarks.marks.glyphs import CAP, glyph
from cutmarks.marks.lettering import printable, start_of
from cutmarks.marks.model import CircleMark, Filled, Mark, Role, Stroke, Tone, Words
from cutmarks.sheets.model import Sheet
from cutmarks.writers.number import number
from cutmarks.writers.style import FILLS, LINES

_SCALE_PLACES = 9
"""Of the factor from font units to mm: 2,000 units of 0.005 mm are then out by less than 0.00001 mm."""
_HALF_TURN_BULGE = 1.0
"""tan(180 / 4 degrees): an arc of more has SVG's large-arc flag."""


def svg_bytes(sheet: Sheet) -> bytes:
    """The sheet as an SVG file, UTF-8, its size in mm with an equal viewBox.

    Raises GeometryError where a coordinate is not finite.
    """
    width, height = number(sheet.width), number(sheet.height)
    drawing = svgwrite.Drawing(size=(f"{width}mm", f"{height}mm"), viewBox=f"0 0 {width} {height}", debug=False)
    drawing.set_desc(title=printable(sheet.title))
    drawing.add(drawing.rect(insert=("0", "0"), size=(width, height), fill=FILLS[Tone.WHITE]))
    for key, marks in groupby(sheet.marks, key=_style):
        group = drawing.add(drawing.g(**_attributes(key)))
        for mark in marks:
            group.add(_element(drawing, mark, sheet.height))
    text = '<?xml version="1.0" encoding="utf-8"?>\n' + cast(str, drawing.tostring()) + "\n"
    return text.encode("utf-8")


_Style = tuple[str, Role | Tone]


def _style(mark: Mark[SheetFrame]) -> _Style:
    match mark:
        case Stroke(role=role) | CircleMark(role=role):
            return "line", role
        case Filled(tone=tone):
            return "fill", tone
        case Words(tone=tone):
            return "words", tone


def _attributes(style: _Style) -> dict[str, str]:
    kind, value = style
    if isinstance(value, Role):
        line = LINES[value]
        attributes = {"class": value.value.replace(" ", "-"), "fill": "none", "stroke": FILLS[Tone.BLACK]}
        attributes["stroke-width"] = number(line.width)
        if line.dashes:
            attributes["stroke-dasharray"] = " ".join(number(dash) for dash in line.dashes)
        return attributes
    return {"class": kind, "fill": FILLS[value], "stroke": "none"}


def _element(drawing: svgwrite.Drawing, mark: Mark[SheetFrame], height: float) -> BaseElement:
    match mark:
        case Stroke(path=path, closed=closed):
            return drawing.path(d=_path(path, closed, height))
        case CircleMark(centre=centre, radius=radius):
            return drawing.circle(center=(number(centre.x), number(height - centre.y)), r=number(radius))
        case Filled(rings=rings):
            d = " ".join(_path(ring.vertices, True, height) for ring in rings)
            return drawing.path(d=d, **{"fill-rule": "evenodd"})
        case Words():
            return drawing.path(
                d=_letters(mark), transform=_placing(mark, height), **{"aria-label": printable(mark.text)}
            )


def _letters(words: Words[SheetFrame]) -> str:
    """The outlines of the words in font units from the start of the baseline, y down."""
    steps = ["M0 0"]
    for char in printable(words.text):
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


def _placing(words: Words[SheetFrame], height: float) -> str:
    """The transform from font units to the sheet; the turn is the other way round where y runs down."""
    turn = f" rotate({number(-words.turn)})" if words.turn else ""
    start = f" translate({number(start_of(words))} 0)" if words.anchor != "start" else ""
    at = f"translate({number(words.at.x)} {number(height - words.at.y)})"
    return f"{at}{turn}{start} scale({number(words.height / CAP, _SCALE_PLACES)})"


def _path(vertices: tuple[Vertex, ...], closed: bool, height: float) -> str:
    steps = [f"M{_at(vertices[0], height)}"]
    steps += _edges(pairwise(vertices), height)
    if closed:
        last, first = vertices[-1], vertices[0]
        if last.bulge:
            steps.append(_edge(last, first, height))
        steps.append("Z")
    return " ".join(steps)


def _edges(pairs: Iterable[tuple[Vertex, Vertex]], height: float) -> list[str]:
    return [_edge(start, end, height) for start, end in pairs]


def _edge(start: Vertex, end: Vertex, height: float) -> str:
    if not start.bulge:
        return f"L{_at(end, height)}"
    bulge = abs(start.bulge)
    chord = math.hypot(end.x - start.x, end.y - start.y)
    radius = number(chord * (1 + bulge * bulge) / (4 * bulge))
    large = 1 if bulge > _HALF_TURN_BULGE else 0
    sweep = 0 if start.bulge > 0 else 1
    return f"A{radius} {radius} 0 {large} {sweep} {_at(end, height)}"


def _at(vertex: Vertex, height: float) -> str:
    return f"{number(vertex.x)} {number(height - vertex.y)}"
