"""What is inked on the pages of a finished PDF, in mm: words with the box round their letters' ink, lines, areas.

Read by pypdf alone, from the operators of ISO 32000-1 (8.2, 8.5, 9.4, and the Type 3 fonts of 9.6.5); nothing here
knows how the file was written, and an operator that is not understood is an error. A letter's ink is its own outline,
carried through the font's matrix, the words' and the page's; not its advance, nor the box that the font states.

Curves are taken as chords, CHORDS to each curve or as many more as make them no longer than CHORD. A line's curve is
at most an eighth of a turn, a glyph's a quarter. A chord leaves an arc of radius r by c^2 / 8 r where it is c long:
under 0.0063 mm for a line of any radius (0.5 mm long at 5 mm radius is an eighth turn's 8 chords), and by
r (1 - cos(90 / 16 degrees)), 0.0049 r, for a glyph's quarter turn: 0.01 mm at the 2 mm of a figure 7 mm high.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Sequence
from functools import cached_property
from itertools import pairwise
from typing import Any

import numpy as np
import shapely
from msgspec import Struct
from pypdf.generic import ContentStream
from shapely.geometry import LineString, MultiLineString, Polygon

from tests.writers.pdf_reading import MM, reader_of

CHORDS = 8
CHORD = 0.5
MM_PER_POINT = 25.4 / 72
EM = 2048
"""Units to an em in the tables of the font that is shipped (its head table: unitsPerEm)."""
XY = tuple[float, float]
Matrix = tuple[float, float, float, float, float, float]
Step = tuple[str, list[XY]]
IDENTITY: Matrix = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)


class Glyph(Struct, frozen=True):
    """One character of a Type 3 font, in glyph space: how far it goes on, and its outline's points."""

    text: str
    advance: float
    contours: tuple[Any, ...]


class Word(Struct, frozen=True, dict=True):
    """One text object (BT to ET): what it says, and the box that turns with it round all of its letters' ink.

    capitals  how high a capital of its font is, mm: 1493 of 2048 units to the em.
    """

    text: str
    box: Any
    grey: float
    points: float
    drawn: tuple[tuple[Glyph, Matrix], ...] = ()

    @property
    def capitals(self) -> float:
        """How high a capital of its type is, mm: 1493 of the 2048 units to an em (the OS/2 table's sCapHeight)."""
        return self.points * MM_PER_POINT * 1493 / EM

    @cached_property
    def letters(self) -> list[tuple[str, Any]]:
        """Each letter with its ink, even-odd; blanks left out."""
        found = []
        for glyph, here in self.drawn:
            ink = Polygon()
            for contour in glyph.contours:
                ink = ink.symmetric_difference(shapely.make_valid(Polygon(_moved(contour, here))))
            found.append((glyph.text, ink))
        return found


class Line(Struct, frozen=True, dict=True):
    """One stroked path: its steps with their points, curves with their handles; width mm, dashes and gaps mm."""

    steps: tuple[Step, ...]
    width: float
    dashes: tuple[float, ...]

    @cached_property
    def middle(self) -> Any:
        """The middle of the line, without its width."""
        return MultiLineString([LineString(contour) for contour in flattened(self.steps)])


class Fill(Struct, frozen=True, dict=True):
    """One filled path, even-odd."""

    steps: tuple[Step, ...]
    grey: float

    @cached_property
    def ink(self) -> Any:
        whole = Polygon()
        for contour in flattened(self.steps):
            whole = whole.symmetric_difference(shapely.make_valid(Polygon(contour)))
        return whole


class Page(Struct, frozen=True, dict=True):
    """One page: its size, mm, and all that is on it in the order of drawing: what comes later lies on top."""

    width: float
    height: float
    order: tuple[Word | Line | Fill, ...]

    @cached_property
    def words(self) -> list[Word]:
        return [one for one in self.order if isinstance(one, Word)]

    @cached_property
    def lines(self) -> list[Line]:
        return [one for one in self.order if isinstance(one, Line)]


def inked_pages(data: bytes) -> list[Page]:
    """Every page of a PDF."""
    reader = reader_of(data)
    fonts: dict[Any, dict[int, Glyph]] = {}
    found = []
    for page in reader.pages:
        left, bottom, right, top = (float(value) for value in page.mediabox)
        assert (left, bottom) == (0.0, 0.0)
        order: list[Word | Line | Fill] = []
        if (contents := page.get_contents()) is not None:
            _Walk(reader, fonts, order).run(ContentStream(contents, reader), page["/Resources"], IDENTITY)
        found.append(Page(right / MM, top / MM, tuple(order)))
    return found


class _State(Struct):
    """What q keeps and Q brings back."""

    matrix: Matrix
    width: float = 1.0
    dashes: tuple[float, ...] = ()
    grey: float = 0.0


class _Walk(Struct):
    reader: Any
    fonts: dict[Any, dict[int, Glyph]]
    order: list[Word | Line | Fill]

    def run(self, stream: Any, resources: Any, matrix: Matrix) -> None:
        """Walks one content stream; an operator that is not understood is an error, never passed over."""
        state, stack, steps = _State(matrix), [], []
        text: _Text | None = None
        for operands, operator in stream.operations:
            match operator:
                case b"q":
                    stack.append(_State(state.matrix, state.width, state.dashes, state.grey))
                case b"Q":
                    state = stack.pop()
                case b"cm":
                    state.matrix = times(_six(operands), state.matrix)
                case b"w":
                    state.width = float(operands[0])
                case b"d":
                    state.dashes = tuple(float(value) for value in operands[0])
                case b"g":
                    state.grey = float(operands[0])
                case b"M":
                    pass  # how far a corner may reach: lines are taken by their middles
                case b"m" | b"l" | b"c" | b"h":
                    steps.append((operator.decode(), _points(operands, state.matrix)))
                case b"S":
                    self.order.append(_line(steps, state))
                    steps = []
                case b"f*":
                    self.order.append(Fill(tuple(steps), state.grey))
                    steps = []
                case b"Do":
                    form = resources["/XObject"][operands[0]].get_object()
                    inner = _six(form.get("/Matrix", IDENTITY))
                    self.run(ContentStream(form, self.reader), form["/Resources"], times(inner, state.matrix))
                case b"BT":
                    text = _Text(state.matrix, state.grey)
                case b"Tm" if text is not None:
                    text.matrix = _six(operands)
                case b"Tf" if text is not None:
                    text.glyphs, text.font = self._font(resources["/Font"], operands[0])
                    text.size = float(operands[1])
                case b"Tj" if text is not None:
                    text.show(operands[0].original_bytes)
                case b"ET" if text is not None:
                    if text.letters:
                        self.order.append(text.word())
                    text = None
                case _:
                    raise AssertionError(f"an operator that is not read here: {operator!r}")

    def _font(self, fonts: Any, name: str) -> tuple[dict[int, Glyph], Matrix]:
        font = fonts[name].get_object()
        key = font.indirect_reference.idnum
        if key not in self.fonts:
            self.fonts[key] = _glyphs(font, self.reader)
        return self.fonts[key], _six(font["/FontMatrix"])


class _Text:
    """A text object while it is read."""

    def __init__(self, page: Matrix, grey: float) -> None:
        self.page, self.grey, self.matrix, self.size = page, grey, IDENTITY, 0.0
        self.glyphs: dict[int, Glyph] = {}
        self.font: Matrix = IDENTITY
        self.said: list[str] = []
        self.along = 0.0
        self.letters: list[tuple[Glyph, Matrix]] = []

    def show(self, codes: bytes) -> None:
        """Glyph space to text space by the font's matrix, times the size and the way gone (9.4.4)."""
        for code in codes:
            glyph = self.glyphs[code]
            self.said.append(glyph.text)
            if glyph.contours:
                self.letters.append((glyph, times(self.font, (self.size, 0.0, 0.0, self.size, self.along, 0.0))))
            self.along += glyph.advance * self.font[0] * self.size

    def word(self) -> Word:
        """The letters by their place on the page; the box is taken before the words are turned."""
        low = np.vstack([_moved(contour, here) for glyph, here in self.letters for contour in glyph.contours])
        (left, bottom), (right, top) = low.min(axis=0), low.max(axis=0)
        a, b, c, d, e, f = times(self.matrix, self.page)
        onto = (a / MM, b / MM, c / MM, d / MM, e / MM, f / MM)
        corners = np.array([(left, bottom), (right, bottom), (right, top), (left, top)])
        em = self.font[0] * EM * self.size * math.hypot(a, b)
        drawn = tuple((glyph, times(here, onto)) for glyph, here in self.letters)
        return Word("".join(self.said), Polygon(_moved(corners, onto)), self.grey, em, drawn)


def _moved(points: Any, matrix: Matrix) -> Any:
    a, b, c, d, e, f = matrix
    return points @ np.array([(a, b), (c, d)]) + (e, f)


def _glyphs(font: Any, reader: Any) -> dict[int, Glyph]:
    """The font's characters by their codes (9.6.5): /Differences name procedures, the first operator is d1."""
    assert font["/Subtype"] == "/Type3"
    said = _unicode(font["/ToUnicode"].get_object().get_data())
    code, found = 0, {}
    for entry in font["/Encoding"]["/Differences"]:
        if not isinstance(entry, str):
            code = int(entry)
            continue
        advance, contours = _outline(font["/CharProcs"][entry].get_object(), reader)
        assert advance == float(font["/Widths"][code - int(font["/FirstChar"])])
        found[code] = Glyph(said[code], advance, contours)
        code += 1
    return found


_OUTLINES: dict[bytes, tuple[float, tuple[Any, ...]]] = {}
"""What each glyph procedure that was read draws: files of one program have the same ones."""


def _outline(procedure: Any, reader: Any) -> tuple[float, tuple[Any, ...]]:
    """A glyph's advance and its contours; all of its ink lies in the box that it states (d1), as it has to."""
    data = procedure.get_data()
    if data not in _OUTLINES:
        (stated, first), *rest = ContentStream(procedure, reader).operations
        assert first == b"d1"
        advance, _, left, bottom, right, top = (float(value) for value in stated)
        steps = [(operator.decode(), _points(operands, IDENTITY, 1.0)) for operands, operator in rest]
        assert not steps or steps.pop()[0] == "f"
        contours = tuple(np.array(one) for one in flattened(steps, finest=math.inf) if len(one) > _LINE)
        for points in contours:
            assert (points.min(axis=0) >= (left, bottom)).all()
            assert (points.max(axis=0) <= (right, top)).all()
        _OUTLINES[data] = advance, contours
    return _OUTLINES[data]


_LINE = 3
"""A contour of a point, or of a line there and back, fills nothing."""


def _unicode(cmap: bytes) -> dict[int, str]:
    rows = re.findall(rb"<([0-9a-f]{2})> <([0-9a-f]+)>", cmap.partition(b"endcodespacerange")[2])
    return {int(code, 16): bytes.fromhex(text.decode()).decode("utf-16-be") for code, text in rows}


def _line(steps: Sequence[Step], state: _State) -> Line:
    a, b, c, d, _, _ = state.matrix
    size = math.sqrt(abs(a * d - b * c)) / MM
    return Line(tuple(steps), state.width * size, tuple(value * size for value in state.dashes))


def flattened(steps: Sequence[Step], finest: float = CHORD) -> Iterator[list[XY]]:
    """The contours of a path as points, closed ones ending where they began."""
    contour: list[XY] = []
    for step, points in steps:
        if step == "m":
            if len(contour) > 1:
                yield contour
            contour = [points[0]]
        elif step == "h":
            contour.append(contour[0])
        elif step == "l":
            contour.append(points[0])
        else:
            contour += curve(contour[-1], points, finest)
    if len(contour) > 1:
        yield contour


def curve(start: XY, handles_and_end: Sequence[XY], finest: float = CHORD) -> Iterator[XY]:
    """Points along a cubic curve, its beginning left out (8.5.2.2)."""
    four = (start, *handles_and_end)
    long = sum(math.dist(one, other) for one, other in pairwise(four))
    count = max(CHORDS, math.ceil(long / finest))
    for number in range(1, count + 1):
        t = number / count
        weights = ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t**2 * (1 - t), t**3)
        x, y = (sum(w * point[axis] for w, point in zip(weights, four, strict=True)) for axis in (0, 1))
        yield x, y


def times(one: Matrix, other: Matrix) -> Matrix:
    """First `one`, then `other` (8.3.4)."""
    a, b, c, d, e, f = one
    p, q, r, s, t, u = other
    return (a * p + b * r, a * q + b * s, c * p + d * r, c * q + d * s, e * p + f * r + t, e * q + f * s + u)


def apply(x: float, y: float, matrix: Matrix) -> XY:
    a, b, c, d, e, f = matrix
    return a * x + c * y + e, b * x + d * y + f


def _points(operands: Sequence[Any], matrix: Matrix, unit: float = MM) -> list[XY]:
    values = [float(value) for value in operands]
    found = []
    for x, y in zip(values[0::2], values[1::2], strict=True):
        u, v = apply(x, y, matrix)
        found.append((u / unit, v / unit))
    return found


def _six(values: Sequence[Any]) -> Matrix:
    a, b, c, d, e, f = (float(value) for value in values)
    return a, b, c, d, e, f
