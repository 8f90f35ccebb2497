"""The DXF file that all of ours are alike in: made once by ezdxf, with blanks for what each has of its own.

Of some 14,500 bytes 187 differ from one file to the next, and a document made and written for each cost a quarter of a
whole run. The blanks are found by values that nothing else in the file has; a release of ezdxf that writes them in
other places is refused, not guessed at.
"""

from __future__ import annotations

import io
import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache

from ezdxf.document import Drawing
from ezdxf.enums import InsertUnits
from ezdxf.filemanagement import new

from cutmarks.writers.dxf_verify import METRIC, MILLIMETRES, NAMED

XY = tuple[float, float]

_NAME = "NAME OF THE FILE"
_LOW, _HIGH, _MIDDLE, _HEIGHT = (-90001.5, -90002.5), (90003.5, 90004.5), (90005.5, 90006.5), 90007.5
"""What stands in the blanks while ezdxf writes the file."""
_HANDLES = {"5", "105", "330", "340", "350", "360", "390"}
"""Group codes of handles and of what points at them."""
_ALWAYS = (
    # The first of January 2000 as a Julian date, no identity, no time at which ezdxf wrote it: the same bytes always.
    (r"(\$TDU?(?:CREATE|UPDATE)\n 40\n)[^\n]+", r"\g<1>2451545.0", 4),
    (r"(\$(?:FINGERPRINT|VERSION)GUID\n  2\n)[^\n]+", r"\g<1>{00000000-0000-0000-0000-000000000000}", 2),
    (r"[^\n]+ @ \d{4}-\d\d-\d\dT[^\n]+", "0.0 @ 2000-01-01T00:00:00.000000+00:00", 2),
)
"""What ezdxf writes anew each time, what stands instead, and how often."""


@dataclass(frozen=True, slots=True)
class Round:
    """A CIRCLE on a layer."""

    layer: str
    centre: XY
    radius: float


@dataclass(frozen=True, slots=True)
class DxfLine:
    """An LWPOLYLINE on a layer: (x, y, bulge) of each vertex."""

    layer: str
    vertices: Sequence[tuple[float, float, float]]
    closed: bool


Entity = Round | DxfLine


@dataclass(frozen=True, slots=True)
class Blank:
    """A file with its blanks in braces; `first` is the handle of its first entity, `owner` that of all of them."""

    text: str
    first: int
    owner: str

    def filled(self, entities: Sequence[Entity], name: str, low: XY, high: XY, middle: XY, height: float) -> bytes:
        """A whole file: its entities, its own name, the corners of what is drawn, the view that it opens with, mm."""
        drawn = (_entity(one, self.first + number, self.owner) for number, one in enumerate(entities))
        blanks = {"name": name, "height": height}
        for corner, (x, y) in (("low", low), ("high", high), ("middle", middle)):
            blanks |= {f"{corner}_x": x, f"{corner}_y": y}
        # What ezdxf numbers after the entities; in the blank there is one of them.
        later = {f"later_{number}": f"{self.first + len(entities) + number:X}" for number in range(_LATER)}
        return self.text.format(entities="".join(drawn), **blanks, **later).encode("ascii")


_LATER = 8
"""So many handles at most come after those of the entities."""


@cache
def blank(layers: tuple[str, ...]) -> Blank:
    """The blank for drawings with these layers.

    Raises:
        RuntimeError: what ezdxf writes has not the blanks that it had.
    """
    document = _document(layers)
    space = document.modelspace()
    mark = space.add_circle(_MIDDLE, _HEIGHT, dxfattribs={"layer": layers[0]})
    first, owner = int(mark.dxf.handle, 16), mark.dxf.owner
    written = io.StringIO(newline="\n")
    document.write(written)
    text = written.getvalue()
    for pattern, instead, count in _ALWAYS:
        text = _replaced(text, pattern, instead, count)
    text = text.replace("{", "{{").replace("}", "}}")
    entity = _entity(Round(layers[0], _MIDDLE, _HEIGHT), first, owner)
    text = _replaced(text, re.escape(entity), "{entities}", 1)
    text = _replaced(text, re.escape(_NAME), "{name}", 1)
    text = _replaced(text, rf"(?<=\n){_HEIGHT}(?=\n)", "{height}", 1)
    for corner, (x, y), count in (("low", _LOW, 2), ("high", _HIGH, 2), ("middle", _MIDDLE, 1)):
        text = _replaced(text, rf"(?<=\n){x}(?=\n)", f"{{{corner}_x}}", count)
        text = _replaced(text, rf"(?<=\n){y}(?=\n)", f"{{{corner}_y}}", count)
    return Blank("\n".join(_numbered(text.split("\n"), first)), first, owner)


def _numbered(lines: Sequence[str], first: int) -> Iterator[str]:
    """The lines with blanks for the handles that come after the first entity's."""
    code = ""
    for number, line in enumerate(lines):
        if number % 2 == 0:
            code = line.strip()
        elif code in _HANDLES and re.fullmatch("[0-9A-F]+", line) and int(line, 16) > first:
            line = f"{{later_{int(line, 16) - first - 1}}}"
        yield line


def _replaced(text: str, pattern: str, instead: str, count: int) -> str:
    text, found = re.subn(pattern, instead, text)
    if found != count:
        raise RuntimeError(f"ezdxf writes {pattern!r} {found} times, and not {count}: its DXF is not the one we know.")
    return text


def _document(layers: Iterable[str]) -> Drawing:
    """An empty drawing in millimetres with the layers, the extents and the view that have blanks later."""
    document = new("R2000", setup=False, units=MILLIMETRES)
    document.header["$INSUNITS"] = MILLIMETRES
    document.header["$MEASUREMENT"] = METRIC
    document.header[NAMED] = _NAME
    low, high = (*_LOW, 0.0), (*_HIGH, 0.0)
    # Both are needed: the layout's overrule the header's when the file is written, except where they are 0,0.
    document.header["$EXTMIN"], document.header["$EXTMAX"] = low, high
    document.modelspace().reset_extents(low, high)
    for layer in layers:
        document.layers.add(layer)
    document.set_modelspace_vport(_HEIGHT, _MIDDLE)
    document.modelspace().units = InsertUnits.Millimeters
    return document


def _entity(one: Entity, handle: int, owner: str) -> str:
    """An entity as pairs of group code and value, in the order of the published DXF reference."""
    head = f"  5\n{handle:X}\n330\n{owner}\n100\nAcDbEntity\n  8\n{one.layer}\n"
    if isinstance(one, Round):
        x, y = one.centre
        return f"  0\nCIRCLE\n{head}100\nAcDbCircle\n 10\n{x}\n 20\n{y}\n 30\n0.0\n 40\n{one.radius}\n"
    corners = "".join(f" 10\n{x}\n 20\n{y}\n" + (f" 42\n{bulge}\n" if bulge else "") for x, y, bulge in one.vertices)
    shape = f"100\nAcDbPolyline\n 90\n{len(one.vertices)}\n 70\n{int(one.closed)}\n"
    return f"  0\nLWPOLYLINE\n{head}{shape}{corners}"
