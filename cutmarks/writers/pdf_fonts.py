"""The shipped font inside a PDF: each glyph is drawn once in the file and named wherever it is wanted.

The glyphs are the same outlines that SVG has, as Type 3 fonts (ISO 32000-1, 9.6.5): no program that shows or prints
the file is asked for a font, and what stands on a sheet can still be searched for and copied.
"""

from __future__ import annotations

from decimal import Decimal
from functools import cache
from itertools import groupby

import pikepdf
from pikepdf import Array, Dictionary, Name

from cutmarks.marks.glyphs import EM, Command, glyph
from cutmarks.writers.number import number

CODES = 256
"""So many characters has one font of one byte a character; a file that needs more has several."""

_UNIT = Decimal(1) / EM
"""A font unit in ems, to the last figure: pikepdf rounds a float to six decimals, which made words 0.06 % narrow."""

_OPERATORS = {"M": "m", "L": "l", "Z": "h"}


class Lettering:
    """The fonts of one file: gives characters their codes as they come, and is written when all have come."""

    def __init__(self) -> None:
        self._codes: dict[tuple[str, bool], int] = {}
        self._count = {False: 0, True: 0}

    def coded(self, text: str, bold: bool) -> list[tuple[str, str]]:
        """The text as (name of a font, codes in hexadecimal), one for each stretch that one font holds."""
        codes = [self._code(char, bold) for char in text]
        face = "B" if bold else "R"
        return [
            (f"{face}{font}", "".join(f"{code % CODES:02x}" for code in group))
            for font, group in groupby(codes, key=lambda code: code // CODES)
        ]

    def _code(self, char: str, bold: bool) -> int:
        code = self._codes.get((char, bold))
        if code is None:
            code = self._codes[char, bold] = self._count[bold]
            self._count[bold] += 1
        return code

    def fonts(self, pdf: pikepdf.Pdf) -> Dictionary:
        """The fonts by the names that `coded` gave, as indirect objects of `pdf`."""
        found = Dictionary()
        for bold, face in ((False, "R"), (True, "B")):
            chars = [char for char, is_bold in self._codes if is_bold is bold]
            for first in range(0, len(chars), CODES):
                found[f"/{face}{first // CODES}"] = pdf.make_indirect(_font(pdf, chars[first : first + CODES], bold))
        return found


def _font(pdf: pikepdf.Pdf, chars: list[str], bold: bool) -> Dictionary:
    glyphs = [glyph(char, bold) for char in chars]
    inks = [one.ink for one in glyphs if one.ink is not None] or [(0.0, 0.0, 0.0, 0.0)]
    lefts, bottoms, rights, tops = zip(*inks, strict=True)
    procedures = Dictionary({f"/c{code}": pdf.make_stream(_procedure(one, bold)) for code, one in enumerate(chars)})
    return Dictionary(
        Type=Name.Font,
        Subtype=Name.Type3,
        FontBBox=Array([min(lefts), min(bottoms), max(rights), max(tops)]),
        FontMatrix=Array([_UNIT, 0, 0, _UNIT, 0, 0]),
        CharProcs=procedures,
        Encoding=Dictionary(Type=Name.Encoding, Differences=Array([0, *(Name(f"/c{i}") for i in range(len(chars)))])),
        FirstChar=0,
        LastChar=len(chars) - 1,
        Widths=Array([one.advance for one in glyphs]),
        Resources=Dictionary(),
        ToUnicode=pdf.make_stream(_to_unicode(chars)),
    )


@cache
def _procedure(char: str, bold: bool) -> bytes:
    """One glyph's outline: its advance and the box of its ink, then its contours, filled."""
    one = glyph(char, bold)
    box = one.ink or (0.0, 0.0, 0.0, 0.0)
    lines = [f"{number(one.advance)} 0 {' '.join(number(value) for value in box)} d1"]
    if one.outline:
        lines += [*_contours(one.outline), "f"]
    return "\n".join(lines).encode("ascii")


def _contours(outline: tuple[Command, ...]) -> list[str]:
    """The outline as PDF has it: a quadratic curve is the cubic one with handles at two thirds of its own."""
    lines = []
    x = y = 0.0
    for letter, numbers in outline:
        values = numbers
        if letter == "Q":
            cx, cy, x1, y1 = numbers
            values = (
                x + (cx - x) * 2 / 3,
                y + (cy - y) * 2 / 3,
                x1 + (cx - x1) * 2 / 3,
                y1 + (cy - y1) * 2 / 3,
                x1,
                y1,
            )
        lines.append(" ".join((*(number(value, 2) for value in values), _OPERATORS.get(letter, "c"))))
        if numbers:
            x, y = numbers[-2:]
    return lines


def _to_unicode(chars: list[str]) -> bytes:
    """Which character each code stands for, so that words can be searched for (ISO 32000-1, 9.10.3)."""
    rows = [f"<{code:02x}> <{char.encode('utf-16-be').hex()}>" for code, char in enumerate(chars)]
    blocks = [rows[first : first + _BLOCK] for first in range(0, len(rows), _BLOCK)]
    mapped = "\n".join(f"{len(block)} beginbfchar\n" + "\n".join(block) + "\nendbfchar" for block in blocks)
    return _CMAP.format(mapped=mapped).encode("ascii")


_BLOCK = 100
"""At most so many lines in one block (ISO 32000-1, 9.7.5.4)."""
_CMAP = """/CIDInit /ProcSet findresource begin
12 dict begin
begincmap
/CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def
/CMapName /Adobe-Identity-UCS def
/CMapType 2 def
1 begincodespacerange
<00> <ff>
endcodespacerange
{mapped}
endcmap
CMapName currentdict /CMap defineresource pop
end
end"""
