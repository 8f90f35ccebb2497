"""What is drawn on a sheet, in the order of drawing: the one drawing code that SVG and PDF are both written from.

Marks say what a line means; here it becomes a pen and a path. A writer only spells what it is given in its own
format. Coordinates are mm in the frame of the paper: origin bottom left, y up.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache
from itertools import groupby, pairwise

from msgspec import Struct

from cutmarks.geometry.edges import Edge, edge_between
from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.geometry.rings import Vertex
from cutmarks.marks.glyphs import CAP
from cutmarks.marks.lettering import printable, start_of
from cutmarks.marks.model import CircleMark, Filled, Mark, Role, Stroke, Tone, Words
from cutmarks.sheets.model import PaperSheet
from cutmarks.writers.style import LINES, LineStyle


class Contour(Struct, frozen=True):
    """One row of edges, each from where the last one ended; a closed one may leave out its last straight edge."""

    edges: tuple[Edge[SheetFrame], ...]
    closed: bool


class DrawnPath(Struct, frozen=True):
    """What is drawn at one go; filled, a contour inside another is a hole in it (even-odd)."""

    contours: tuple[Contour, ...]


class DrawnCircle(Struct, frozen=True):
    """A whole circle, drawn at one go."""

    x: float
    y: float
    radius: float


class Letters(Struct, frozen=True):
    """One line of words as glyphs of the shipped font.

    x, y   the point that they are laid at, on the baseline.
    turn   degrees counter-clockwise about it.
    start  where the first glyph begins along the turned baseline, from that point, mm.
    scale  mm to a font unit.
    """

    text: str
    bold: bool
    x: float
    y: float
    turn: float
    start: float
    scale: float


DrawnShape = DrawnPath | DrawnCircle | Letters


class Pen(Struct, frozen=True):
    """How the shapes of a run are drawn: with a line, or, where `line` is None, filled.

    name  what they are, in one word: the role of a line, "fill" or "words".
    """

    name: str
    tone: Tone
    line: LineStyle | None = None


class TextRun(Struct, frozen=True, eq=False):
    """Shapes that follow one another with the same pen.

    Each is equal to itself alone. A long one that comes back on another sheet is the same object again, so that a
    writer can keep what it made of it.
    """

    pen: Pen
    shapes: tuple[DrawnShape, ...]
    long: bool = False


LONG = 40
"""So many marks of one pen, one after another, are the picture of a whole surface: it stands on many sheets alike."""
KEPT = 2
"""Sheets come surface by surface, and a surface's picture stands in one place for the face and in one for the back.

More would be kept in vain: with a thousand pieces one is some megabytes.
"""


class Drawing(Struct, frozen=True):
    """A sheet as it is drawn, once for all writers: its title, width and height in mm, and its runs in their order."""

    title: str
    width: float
    height: float
    runs: tuple[TextRun, ...]


def drawing(sheet: PaperSheet) -> Drawing:
    """A sheet's marks as runs of shapes."""
    return Drawing(sheet.title, sheet.width, sheet.height, tuple(runs_of(sheet.marks)))


def runs_of(marks: Iterable[Mark[SheetFrame]]) -> Iterator[TextRun]:
    """Marks as runs of shapes, in the order of drawing."""
    for pen, group in groupby(marks, key=_pen):
        together = tuple(group)
        if len(together) >= LONG and pen.name != "words":
            yield _long_run(pen, together)
        else:
            yield TextRun(pen, tuple(_shape(mark) for mark in together))


@lru_cache(maxsize=KEPT)
def _long_run(pen: Pen, marks: tuple[Mark[SheetFrame], ...]) -> TextRun:
    """A run of many marks; lines are drawn at one go, which leaves them as they are."""
    shapes = tuple(_shape(mark) for mark in marks)
    paths = [shape for shape in shapes if isinstance(shape, DrawnPath)]
    if pen.line is None or len(paths) < len(shapes):
        return TextRun(pen, shapes, long=True)
    return TextRun(pen, (DrawnPath(tuple(contour for path in paths for contour in path.contours)),), long=True)


def _pen(mark: Mark[SheetFrame]) -> Pen:
    match mark:
        case Stroke(role=role) | CircleMark(role=role):
            return _PENS[role]
        case Filled(tone=tone):
            return Pen("fill", tone)
        case Words(tone=tone):
            return Pen("words", tone)


_PENS = {role: Pen(role.value.replace(" ", "-"), Tone.BLACK, LINES[role]) for role in Role}


def _shape(mark: Mark[SheetFrame]) -> DrawnShape:
    match mark:
        case Stroke(path=path, closed=closed):
            return DrawnPath((_contour(path, closed),))
        case CircleMark(centre=centre, radius=radius):
            return DrawnCircle(centre.x, centre.y, radius)
        case Filled(rings=rings):
            return DrawnPath(tuple(_contour(ring.vertices, True) for ring in rings))
        case Words(text=text, at=at, height=height, bold=bold, turn=turn):
            start = start_of(mark) if mark.anchor != "start" else 0.0
            return Letters(printable(text), bold, at.x, at.y, turn, start, height / CAP)


def _contour(vertices: Sequence[Vertex], closed: bool) -> Contour:
    edges = [_edge(start, end) for start, end in pairwise(vertices)]
    if closed and vertices[-1].bulge:
        edges.append(_edge(vertices[-1], vertices[0]))
    return Contour(tuple(edges), closed)


def _edge(start: Vertex, end: Vertex) -> Edge[SheetFrame]:
    return edge_between(start.x, start.y, end.x, end.y, start.bulge)
