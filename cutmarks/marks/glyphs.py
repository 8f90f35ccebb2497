"""The shipped font's glyphs as outlines, in font units; the only module that knows fontTools.

Import it late (`cutmarks.marks.lettering` does): a check at the wall needs no font.
"""

from __future__ import annotations

from functools import cache
from importlib import resources
from io import BytesIO

from fontTools.pens.basePen import BasePen  # type: ignore[import-untyped]
from fontTools.ttLib import TTFont  # type: ignore[import-untyped]
from msgspec import Struct

Command = tuple[str, tuple[float, ...]]
"""("M", (x, y)), ("L", (x, y)), ("Q", (control x, control y, x, y)) or ("Z", ()), y up."""

EM = 2048
"""Font units to the em of both faces (their head table)."""
CAP = 1493
"""Height of a capital H in both faces, font units."""
BOX = "\u25a1"
"""Stands for a character that the font lacks; both faces have it."""

_FILES = {False: "DejaVuSans.ttf", True: "DejaVuSans-Bold.ttf"}


class Glyph(Struct, frozen=True):
    """One character: how far it moves the pen on, its outline, and the box of its ink (None for a blank).

    All in font units; the box is (min x, min y, max x, max y) of the outline's points, control points included.
    """

    advance: float
    outline: tuple[Command, ...]
    ink: tuple[float, float, float, float] | None


class _Recorder(BasePen):  # type: ignore[misc]
    """Keeps what is drawn as commands; BasePen resolves compound glyphs and implied points."""

    def __init__(self, glyphs: object) -> None:
        super().__init__(glyphs)
        self.commands: list[Command] = []

    def _moveTo(self, pt: tuple[float, float]) -> None:
        self.commands.append(("M", (pt[0], pt[1])))

    def _lineTo(self, pt: tuple[float, float]) -> None:
        self.commands.append(("L", (pt[0], pt[1])))

    def _qCurveToOne(self, pt1: tuple[float, float], pt2: tuple[float, float]) -> None:
        self.commands.append(("Q", (pt1[0], pt1[1], pt2[0], pt2[1])))

    def _closePath(self) -> None:
        self.commands.append(("Z", ()))


@cache
def _face(bold: bool) -> tuple[TTFont, dict[int, str]]:
    data = resources.files("cutmarks.marks").joinpath("font", _FILES[bold]).read_bytes()
    font = TTFont(BytesIO(data), lazy=True)
    return font, font.getBestCmap()


@cache
def glyph(char: str, bold: bool) -> Glyph:
    """The glyph of one character; of `BOX` where the font has none, so that nothing is ever dropped in silence."""
    font, names = _face(bold)
    name = names.get(ord(char)) or names[ord(BOX)]
    glyphs = font.getGlyphSet()
    pen = _Recorder(glyphs)
    glyphs[name].draw(pen)
    xs = [x for _, numbers in pen.commands for x in numbers[0::2]]
    ys = [y for _, numbers in pen.commands for y in numbers[1::2]]
    ink = (min(xs), min(ys), max(xs), max(ys)) if xs else None
    return Glyph(glyphs[name].width, tuple(pen.commands), ink)


def has(char: str, bold: bool) -> bool:
    """Whether the font itself has this character."""
    return ord(char) in _face(bold)[1]
