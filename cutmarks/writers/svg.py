"""Sheets as SVG: millimetres, full size, words as outlines, the same bytes for the same sheet.

The outline of a letter stands in a file once and is named wherever it is wanted (`use`): written out each time it was
95 % of a file. A program that knows no `use` loses words, never a line. The one flip of y (up on paper, down in SVG) is
done here by arithmetic; it turns the sense of arcs with it.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from functools import cache, lru_cache
from string import ascii_letters
from typing import BinaryIO

from lxml import etree

from cutmarks.geometry.edges import Arc, Segment
from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.marks.glyphs import glyph
from cutmarks.marks.lettering import printable
from cutmarks.marks.model import Tone
from cutmarks.writers.drawing import KEPT, Contour, Drawing, DrawnCircle, DrawnPath, Letters, Pen, TextRun
from cutmarks.writers.number import number
from cutmarks.writers.style import FILLS

_SVG, _XLINK = "http://www.w3.org/2000/svg", "http://www.w3.org/1999/xlink"
_HREF = f"{{{_XLINK}}}href"
"""SVG 2 would do with a plain href; plotters' programs know the older one."""
_SCALE_PLACES = 9
"""Of the factor from font units to mm: 2,000 units of 0.005 mm are then out by less than 0.00001 mm."""
_UNIT_PLACES = 1
"""Of font units: implied points lie on halves."""

_Attributes = dict[str, str]
LetterNames = dict[tuple[str, bool], str]
"""The letters of a file, each (bold or not) with the name that its outline stands under."""


def write_svg(drawn: Drawing, out: BinaryIO) -> None:
    """Write a sheet as an SVG file, UTF-8, its size in mm with an equal viewBox.

    Raises GeometryError where a coordinate is not finite.
    """
    width, height = number(drawn.width), number(drawn.height)
    size = {"width": f"{width}mm", "height": f"{height}mm", "viewBox": f"0 0 {width} {height}"}
    # A ring in a ring is a hole, in every outline and letter of the page.
    page = etree.Element("svg", {"version": "1.1", **size, "fill-rule": "evenodd"}, nsmap={None: _SVG, "xlink": _XLINK})
    etree.SubElement(page, "title").text = printable(drawn.title)
    # A browser prints a page on its own paper, between its own margins, made smaller to fit: this says otherwise.
    etree.SubElement(page, "style").text = f"@page{{size:{width}mm {height}mm;margin:0}}"
    outlines = etree.SubElement(page, "defs")
    etree.SubElement(page, "rect", {"width": width, "height": height, "fill": FILLS[Tone.WHITE]})
    letters: LetterNames = {}
    put_runs(page, drawn.runs, drawn.height, letters)
    for (char, bold), name in letters.items():
        etree.SubElement(outlines, "path", {"id": name, "d": _outline(char, bold)})
    out.write(b'<?xml version="1.0" encoding="utf-8"?>\n')
    etree.ElementTree(page).write(out, encoding="utf-8", xml_declaration=False)
    out.write(b"\n")


def put_runs(into: etree._Element, runs: Iterable[TextRun], height: float, letters: LetterNames | None) -> None:
    """Put what is drawn, on a paper `height` mm high, under an element; letters that are new are added to `letters`.

    Without `letters` words are left out: whoever has a font of their own writes them.
    """
    for run in runs:
        group = etree.SubElement(into, "g", _pen(run.pen))
        for tag, attributes in _kept(run, height) if run.long else _lines(run, height):
            etree.SubElement(group, tag, attributes)
        for shape in run.shapes:
            if letters is not None and isinstance(shape, Letters):
                _write_words(group, shape, height, letters)


def _pen(pen: Pen) -> _Attributes:
    if pen.line is None:
        # Black is what is filled where nothing says otherwise.
        return {"class": pen.name} if pen.tone is Tone.BLACK else {"class": pen.name, "fill": FILLS[pen.tone]}
    attributes = {"class": pen.name, "fill": "none", "stroke": FILLS[pen.tone]}
    attributes["stroke-width"] = number(pen.line.width)
    if pen.line.dashes:
        attributes["stroke-dasharray"] = " ".join(number(dash) for dash in pen.line.dashes)
    return attributes


@lru_cache(maxsize=KEPT)
def _kept(run: TextRun, height: float) -> tuple[tuple[str, _Attributes], ...]:
    """The lines of a long run, which comes back on other sheets."""
    return tuple(_lines(run, height))


def _lines(run: TextRun, height: float) -> Iterator[tuple[str, _Attributes]]:
    """All that a run draws but its words: each element's name and attributes."""
    for shape in run.shapes:
        match shape:
            case DrawnPath(contours=contours):
                yield "path", {"d": " ".join(_path(contour, height) for contour in contours)}
            case DrawnCircle(x=x, y=y, radius=radius):
                yield "circle", {"cx": number(x), "cy": number(height - y), "r": number(radius)}


def _write_words(group: etree._Element, words: Letters, height: float, letters: LetterNames) -> None:
    """One line of words: each letter is named in its place, in font units from the start of the baseline.

    `letters` are those of the page, with the name of each; new ones are added to it.
    """
    line = etree.SubElement(group, "g", {"transform": _placing(words, height), "aria-label": words.text})
    x = 0.0
    for char in words.text:
        drawn = glyph(char, words.bold)
        if drawn.outline:
            name = letters.get((char, words.bold))
            if name is None:
                name = letters[char, words.bold] = _name(len(letters))
            etree.SubElement(line, "use", {_HREF: f"#{name}", "x": f"{x:.0f}"} if x else {_HREF: f"#{name}"})
        x += drawn.advance


def _name(count: int) -> str:
    """A short name for the letter of this number: it stands in the file as often as the letter does.

    >>> _name(0), _name(51), _name(52), _name(104)
    ('a', 'Z', 'aa', 'ba')
    """
    more, last = divmod(count, len(ascii_letters))
    return (_name(more - 1) if more else "") + ascii_letters[last]


@cache
def _outline(char: str, bold: bool) -> str:
    """One glyph's outline as relative path commands, in font units, y down; as short as they can be said."""
    steps = []
    pen = home = (0.0, 0.0)
    before = ""
    for letter, numbers in glyph(char, bold).outline:
        points = [(x, -y) for x, y in zip(numbers[0::2], numbers[1::2], strict=True)]
        relative = [number(value, _UNIT_PLACES) for x, y in points for value in (x - pen[0], y - pen[1])]
        said = letter.lower()
        if said == "l" and "0" in relative:
            said = "h" if relative[1] == "0" else "v"
            relative = [relative[0] if said == "h" else relative[1]]
        # A command that is the one before stands for itself; a minus parts two numbers as well as a blank does.
        steps.append((" " if said == before else said) + " ".join(relative))
        before = said
        if letter == "M":
            home = points[-1]
        pen = points[-1] if points else home
    return "".join(steps).replace(" -", "-")


def _placing(words: Letters, height: float) -> str:
    """The transform from font units to the sheet; the turn is the other way round where y runs down."""
    scale = f"scale({number(words.scale, _SCALE_PLACES)})"
    if not words.turn:
        return f"translate({_at(words.x + words.start, words.y, height)}) {scale}"
    start = f" translate({number(words.start)} 0)" if words.start else ""
    return f"translate({_at(words.x, words.y, height)}) rotate({number(-words.turn)}){start} {scale}"


def _path(contour: Contour, height: float) -> str:
    first = contour.edges[0]
    start = f"M{_at(first.x0, first.y0, height)}"
    if all(isinstance(edge, Segment) and _along(edge) for edge in contour.edges):
        # A box, as most of a small elevation is, or a measure: each line says the one coordinate that changes.
        sides = (f"V{number(height - e.y1)}" if e.x0 == e.x1 else f"H{number(e.x1)}" for e in contour.edges)
        return start + "".join(sides) + ("Z" if contour.closed else "")
    steps = [start]
    bent = False
    for edge in contour.edges:
        end = _at(edge.x1, edge.y1, height)
        if isinstance(edge, Arc):
            steps.append(f"A{_arc(edge)} {end}")
        else:
            # What follows a start, or a straight line, is a straight line without saying so.
            steps.append(f"L{end}" if bent else end)
        bent = isinstance(edge, Arc)
    return " ".join(steps) + ("Z" if contour.closed else "")


def _along(edge: Segment[SheetFrame]) -> bool:
    """Whether an edge runs along one axis of the sheet."""
    return (edge.x0 == edge.x1) != (edge.y0 == edge.y1)


def _arc(edge: Arc[SheetFrame]) -> str:
    radius = number(edge.radius)
    large = 1 if abs(edge.sweep) > math.pi else 0
    sweep = 0 if edge.sweep > 0 else 1
    return f"{radius} {radius} 0 {large} {sweep}"


def _at(x: float, y: float, height: float) -> str:
    return f"{number(x)} {number(height - y)}"
