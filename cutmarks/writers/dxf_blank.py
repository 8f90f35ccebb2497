"""The DXF file that all of ours are alike in, one of each release: made once by ezdxf, with blanks for its own.

R12 has neither units nor a place for a file's name. Plain, it has lines, arcs and circles alone, for the oldest
controls: each contour's edges one behind the other.

Of some 14,500 bytes 187 differ from one file to the next, and a document made and written for each cost a quarter of a
whole run. The blanks are found by values that nothing else in the file has; a release of ezdxf that writes them in
other places is refused, not guessed at.
"""

from __future__ import annotations

import io
import math
import re
from collections.abc import Iterable, Iterator, Sequence
from functools import cache
from typing import Literal

from ezdxf.document import Drawing
from ezdxf.enums import InsertUnits
from ezdxf.filemanagement import new
from msgspec import Struct

from cutmarks.geometry.edges import Arc, Edge, edge_between
from cutmarks.geometry.frames import Tile
from cutmarks.readings import DxfRelease
from cutmarks.writers.dxf_verify import METRIC, MILLIMETRES, NAMED

XY = tuple[float, float]

_NAME = "NAME OF THE FILE"
_LOW, _HIGH, _MIDDLE, _HEIGHT = (-90001.5, -90002.5), (90003.5, 90004.5), (90005.5, 90006.5), 90007.5
"""What stands in the blanks while ezdxf writes the file."""
_HANDLES = {"5", "105", "330", "340", "350", "360", "390"}
"""Group codes of handles and of what points at them."""
_ALWAYS = (
    # The first of January 2000 as a Julian date, no identity, no time at which ezdxf wrote it: the same bytes always.
    (r"(\$TDU?(?:CREATE|UPDATE)\n 40\n)[^\n]+", r"\g<1>2451545.0", (4, 2)),
    (r"(\$(?:FINGERPRINT|VERSION)GUID\n  2\n)[^\n]+", r"\g<1>{00000000-0000-0000-0000-000000000000}", (2, 0)),
    (r"[^\n]+ @ \d{4}-\d\d-\d\dT[^\n]+", "0.0 @ 2000-01-01T00:00:00.000000+00:00", (2, 2)),
)
"""What ezdxf writes anew each time, what stands instead, and how often: in R2000, in R12."""


class Round(Struct, frozen=True):
    """A CIRCLE on a layer."""

    layer: str
    centre: XY
    radius: float


class DxfLine(Struct, frozen=True):
    """An LWPOLYLINE on a layer: (x, y, bulge) of each vertex."""

    layer: str
    vertices: Sequence[tuple[float, float, float]]
    closed: bool


Entity = Round | DxfLine


class Blank(Struct, frozen=True):
    """A file with its blanks in braces; `first` is the handle of its first entity, `owner` that of all of them."""

    text: str
    release: DxfRelease
    first: int
    owner: str

    def filled(self, entities: Sequence[Entity], name: str, low: XY, high: XY, middle: XY, height: float) -> bytes:
        """A whole file: its entities, its own name, the corners of what is drawn, the view that it opens with, mm."""
        handle = self.first
        drawn: list[str] = []
        for one in entities:
            texts = _texts(one, handle, self.owner, self.release)
            drawn += texts
            handle += len(texts)
        blanks = {"name": name, "height": height}
        for corner, (x, y) in (("low", low), ("high", high), ("middle", middle)):
            blanks |= {f"{corner}_x": x, f"{corner}_y": y}
        # What ezdxf numbers after the entities; in the blank there is one of them.
        later = {f"later_{number}": f"{handle + number:X}" for number in range(_LATER)}
        return self.text.format(entities="".join(drawn), **blanks, **later).encode("ascii")


_LATER = 8
"""So many handles at most come after those of the entities."""


@cache
def blank(layers: tuple[str, ...], release: DxfRelease = "R2000") -> Blank:
    """The blank for drawings of this release with these layers.

    Raises:
        RuntimeError: what ezdxf writes has not the blanks that it had.
    """
    new_one = release == "R2000"
    document = _document(layers, "R2000" if new_one else "R12")
    space = document.modelspace()
    mark = space.add_circle(_MIDDLE, _HEIGHT, dxfattribs={"layer": layers[0]})
    first, owner = int(mark.dxf.handle, 16), mark.dxf.owner
    written = io.StringIO(newline="\n")
    document.write(written)
    text = written.getvalue()
    for pattern, instead, counts in _ALWAYS:
        text = _replaced(text, pattern, instead, counts[0 if new_one else 1])
    text = text.replace("{", "{{").replace("}", "}}")
    (entity,) = _texts(Round(layers[0], _MIDDLE, _HEIGHT), first, owner, release)
    text = _replaced(text, re.escape(entity), "{entities}", 1)
    text = _replaced(text, re.escape(_NAME), "{name}", 1 if new_one else 0)
    text = _replaced(text, rf"(?<=\n){_HEIGHT}(?=\n)", "{height}", 1)
    for corner, (x, y), count in (("low", _LOW, 2), ("high", _HIGH, 2), ("middle", _MIDDLE, 1)):
        times = count if new_one else 1
        text = _replaced(text, rf"(?<=\n){x}(?=\n)", f"{{{corner}_x}}", times)
        text = _replaced(text, rf"(?<=\n){y}(?=\n)", f"{{{corner}_y}}", times)
    return Blank("\n".join(_numbered(text.split("\n"), first)), release, first, owner)


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


def _document(layers: Iterable[str], release: Literal["R2000", "R12"]) -> Drawing:
    """An empty drawing with the layers, the extents and the view that have blanks later; in mm where it can say so."""
    # R12 has no units, and ezdxf complains of any that are set.
    document = new(release, setup=False, units=MILLIMETRES) if release == "R2000" else Drawing.new("R12")
    if release == "R2000":
        document.header["$INSUNITS"] = MILLIMETRES
        document.header["$MEASUREMENT"] = METRIC
        document.header[NAMED] = _NAME
        document.modelspace().units = InsertUnits.Millimeters
    low, high = (*_LOW, 0.0), (*_HIGH, 0.0)
    # Both are needed: the layout's overrule the header's when the file is written, except where they are 0,0.
    document.header["$EXTMIN"], document.header["$EXTMAX"] = low, high
    document.modelspace().reset_extents(low, high)
    for layer in layers:
        document.layers.add(layer)
    document.set_modelspace_vport(_HEIGHT, _MIDDLE)
    return document


def _texts(one: Entity, handle: int, owner: str, release: DxfRelease) -> list[str]:
    """An entity as pairs of group code and value, in the order of the published DXF reference: a text a handle."""
    if release == "R2000":
        return [_entity(one, handle, owner)]
    if isinstance(one, Round):
        return [_old_circle(one, handle)]
    return list(_plain(one, handle) if release == "R12 plain" else _old_polyline(one, handle))


def _old_circle(one: Round, handle: int) -> str:
    x, y = one.centre
    return f"{_old('CIRCLE', handle, one.layer)} 10\n{x}\n 20\n{y}\n 30\n0.0\n 40\n{one.radius}\n"


def _old(kind: str, handle: int, layer: str) -> str:
    return f"  0\n{kind}\n  5\n{handle:X}\n  8\n{layer}\n"


def _old_polyline(one: DxfLine, handle: int) -> Iterator[str]:
    nowhere = " 10\n0.0\n 20\n0.0\n 30\n0.0\n"
    yield f"{_old('POLYLINE', handle, one.layer)} 66\n1\n{nowhere} 70\n{int(one.closed)}\n"
    for number, (x, y, bulge) in enumerate(one.vertices, handle + 1):
        bent = f" 42\n{bulge}\n" if bulge else ""
        yield f"{_old('VERTEX', number, one.layer)} 10\n{x}\n 20\n{y}\n 30\n0.0\n{bent} 70\n0\n"
    yield _old("SEQEND", handle + 1 + len(one.vertices), one.layer)


def _plain(one: DxfLine, handle: int) -> Iterator[str]:
    """Each edge as a LINE or an ARC, one behind the other; an arc always runs counter-clockwise."""
    after = [*one.vertices[1:], one.vertices[0]]
    rows = list(zip(one.vertices, after, strict=True))
    for number, ((x, y, bulge), (to_x, to_y, _)) in enumerate(rows if one.closed else rows[:-1], handle):
        edge: Edge[Tile] = edge_between(x, y, to_x, to_y, bulge)
        if isinstance(edge, Arc):
            begins, ends = sorted((edge.start, edge.start + edge.sweep))
            turned = f" 50\n{math.degrees(begins) % 360.0}\n 51\n{math.degrees(ends) % 360.0}\n"
            round_ = f" 10\n{edge.cx}\n 20\n{edge.cy}\n 30\n0.0\n 40\n{edge.radius}\n{turned}"
            yield f"{_old('ARC', number, one.layer)}{round_}"
        else:
            line = f" 10\n{x}\n 20\n{y}\n 30\n0.0\n 11\n{to_x}\n 21\n{to_y}\n 31\n0.0\n"
            yield f"{_old('LINE', number, one.layer)}{line}"


def _entity(one: Entity, handle: int, owner: str) -> str:
    """An entity of R2000."""
    head = f"  5\n{handle:X}\n330\n{owner}\n100\nAcDbEntity\n  8\n{one.layer}\n"
    if isinstance(one, Round):
        x, y = one.centre
        return f"  0\nCIRCLE\n{head}100\nAcDbCircle\n 10\n{x}\n 20\n{y}\n 30\n0.0\n 40\n{one.radius}\n"
    corners = "".join(f" 10\n{x}\n 20\n{y}\n" + (f" 42\n{bulge}\n" if bulge else "") for x, y, bulge in one.vertices)
    shape = f"100\nAcDbPolyline\n 90\n{len(one.vertices)}\n 70\n{int(one.closed)}\n"
    return f"  0\nLWPOLYLINE\n{head}{shape}{corners}"
