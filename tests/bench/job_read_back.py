"""The files of one job, read back by other readers: ezdxf, pypdf, csv, a JSON Schema's validator, an XML parser."""

from __future__ import annotations

import csv
import io
import json
import math
import re
import xml.etree.ElementTree as ElementTree
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import jsonschema
import pypdf
from ezdxf.filemanagement import readfile
from ezdxf.path import make_path
from pypdf.generic import ArrayObject, DictionaryObject, NameObject

from cutmarks import write_job
from cutmarks.plan import Plan

ROOT = Path(__file__).resolve().parents[2]
SCHEMA = json.loads((ROOT / "cutmarks/writers/plan.schema.json").read_text(encoding="utf-8"))
AGREE = 0.001
"""Figures in plan.json are to 0.001 mm or finer."""
PAST = 5.0
"""A path for a shop that leaves the maker's edges runs so far past them, mm."""
MOST_PAST = 20.0
"""And so far along them where it all but grazes them, mm."""
FLAT = 0.05
"""Arcs are looked at by chords so close to them, mm."""
_SAFE = re.compile(r"(?:[a-z]+/)?[a-z0-9][a-z0-9_.-]{0,200}")
_KEPT = re.compile(r"(?:con|prn|aux|nul|com[0-9]|lpt[0-9])(?:\.|$)")
"""Names that a system keeps for its devices."""
_FORMULA = "=+-@\t\r\n\uff1d\uff0b\uff0d\uff20"
"""What a cell may not begin with, the full-width signs too."""
_ACTIVE = {"/JavaScript", "/JS", "/OpenAction", "/AA", "/Launch", "/EmbeddedFile", "/URI"}
"""Keys and names of a PDF that make a program do more than show it."""


def write_and_read_back(plan: Plan, out: Path) -> list[str]:
    """Everything that is wrong with the files of a plan, written to `out`."""
    written = write_job(plan, out)
    return [
        *names_wrong(out, written.files),
        *plan_wrong(plan, out),
        *(wrong for path in sorted(out.glob("*.csv")) for wrong in table_wrong(path.name, path.read_bytes())),
        *(wrong for path in sorted(out.glob("dxf/*.dxf")) for wrong in drawing_wrong(path, _largest(plan))),
        *(wrong for path in sorted(out.glob("*.pdf")) for wrong in pages_wrong(path)),
        *(wrong for path in sorted(out.glob("sheets/*.svg")) for wrong in picture_wrong(path.name, path.read_bytes())),
    ]


def _largest(plan: Plan) -> tuple[float, float]:
    tiles = [piece.piece.tile for piece in plan.pieces]
    return max((tile.w for tile in tiles), default=0.0), max((tile.h for tile in tiles), default=0.0)


def names_wrong(out: Path, listed: tuple[str, ...]) -> Iterator[str]:
    """Files that are there and not listed, or the other way; names that a system or a link could take amiss."""
    there = sorted(path.relative_to(out).as_posix() for path in out.rglob("*") if not path.is_dir())
    if there != sorted(listed):
        yield f"files: {sorted(set(there) ^ set(listed))} stand in the folder or in the list alone"
    if len({name.casefold() for name in there}) != len(there):
        yield "files: two names differ in capitals alone"
    for name in there:
        if not _SAFE.fullmatch(name) or _KEPT.match(name.rpartition("/")[2]) or ".." in name:
            yield f"files: {name!r} is no safe name"


def _no_constant(word: str) -> float:
    raise ValueError(f"{word} in plan.json")


def plan_wrong(plan: Plan, out: Path) -> Iterator[str]:
    """plan.json against its schema, and its cuts against those that were planned."""
    try:
        read = json.loads((out / "plan.json").read_text(encoding="utf-8"), parse_constant=_no_constant)
        jsonschema.validate(read, SCHEMA)
    except (ValueError, jsonschema.ValidationError) as error:
        yield f"plan.json: {str(error).splitlines()[0]}"
        return
    made = [
        (piece.name, cut.opening.name, cut.from_left, cut.from_bottom) for piece in plan.pieces for cut in piece.cuts
    ]
    kept = [
        (piece["name"], cut["penetration"], cut["from_left"], cut["from_bottom"])
        for piece in read["pieces"]
        for cut in piece["cuts"]
    ]
    if [one[:2] for one in made] != [one[:2] for one in kept]:
        yield "plan.json: other cuts than were planned"
        return
    for one, two in zip(made, kept, strict=True):
        if math.dist(one[2:], two[2:]) > AGREE:
            yield f"plan.json: {two} was planned at {one[2:]}"


def table_wrong(name: str, content: bytes) -> Iterator[str]:
    """A list with a cell that a spreadsheet runs, rows of another length than its head, or a figure that is none."""
    rows = list(csv.reader(io.StringIO(content.decode("utf-8-sig"), newline="")))
    if any(len(row) != len(rows[0]) for row in rows):
        yield f"{name}: rows of different lengths"
    for cell in (cell for row in rows for cell in row):
        if cell[:1] in tuple(_FORMULA) and not _is_number(cell):
            yield f"{name}: {cell[:40]!r} can be run"
        if cell in ("nan", "inf", "-inf", "None"):
            yield f"{name}: a cell says {cell}"


def _is_number(cell: str) -> bool:
    return re.fullmatch(r"-?[0-9]+(\.[0-9]+)?", cell) is not None


def drawing_wrong(path: Path, largest: tuple[float, float]) -> Iterator[str]:
    """A DXF with a fault, another unit than mm, nothing in it, or a line that is off the tile."""
    drawing = readfile(path)
    if errors := drawing.audit().errors:
        yield f"{path.name}: {errors[0].message}"
    if (drawing.dxfversion, drawing.header.get("$INSUNITS")) != ("AC1015", 4):
        yield f"{path.name}: {drawing.dxfversion}, unit {drawing.header.get('$INSUNITS')}"
    lines = list(drawing.modelspace())
    kinds = {entity.dxftype() for entity in lines}
    if not lines or not kinds <= {"CIRCLE", "LWPOLYLINE", "LINE", "ARC"}:
        yield f"{path.name}: {kinds or 'nothing'} in it"
        return
    for x, y in (point.vec2 for line in lines for point in make_path(line).flattening(FLAT)):
        if not _is_on_tile(x, y, *largest):
            yield f"{path.name}: it reaches ({x:.3f}, {y:.3f}), off a tile of {largest}"
            return


def _is_on_tile(x: float, y: float, w: float, h: float) -> bool:
    """Whether a place is on a tile, or not further past the maker's edge than a path runs.

    A path runs square to the edge that it leaves, and where it rakes further along it: near a corner it is then off
    the tile both ways, and by no more than PAST the one way.
    """
    off = sorted(max(-at, at - side, 0.0) for at, side in ((x, w), (y, h)))
    past = off[0] if off[0] > 0.0 else off[1]
    return math.isfinite(x + y) and past <= PAST + 1.0 and off[1] <= MOST_PAST + 1.0


def pages_wrong(path: Path) -> Iterator[str]:
    """A PDF that does not open, has no page, or does anything but show."""
    reader = pypdf.PdfReader(io.BytesIO(path.read_bytes()), strict=True)
    if not reader.pages:
        yield f"{path.name}: no page"
    # Asked of the objects: among the bytes of packed streams such letters come by chance.
    yield from (f"{path.name}: {word} in it" for word in sorted(_ACTIVE & set(_names(reader))))
    for page in reader.pages:
        if page.get("/Annots") or page.get("/AA"):
            yield f"{path.name}: a page with more than marks"
    words = reader.pages[0].extract_text()
    if re.search(r"\b(?:nan|inf|None)\b", words):
        yield f"{path.name}: its first page says nan, inf or None"


def _names(reader: pypdf.PdfReader) -> Iterator[str]:
    """Every key, and every name that is a value, of all the objects of a PDF."""
    due: list[object] = [reader.get_object(number) for number in range(1, int(str(reader.trailer["/Size"])))]
    due.append(reader.trailer)
    while due:
        found = due.pop()
        if isinstance(found, DictionaryObject):
            yield from (str(key) for key in found)
            due += found.values()
        elif isinstance(found, ArrayObject):
            due += found
        elif isinstance(found, NameObject):
            yield str(found)


PAGE_RULE = re.compile(r"@page\{size:[0-9.]+mm [0-9.]+mm;margin:0\}")
"""The one style that a sheet has: how large its paper is."""


def picture_wrong(name: str, content: bytes) -> Iterator[str]:
    """An SVG that is no XML, or has a script, an event, anything from outside or a style but its paper's size."""
    try:
        root = ElementTree.fromstring(content)
    except ElementTree.ParseError as error:
        yield f"{name}: {error}"
        return
    for element in root.iter():
        tag = element.tag.rpartition("}")[2]
        if tag == "style" and PAGE_RULE.fullmatch(element.text or ""):
            continue
        if tag.lower() in ("script", "foreignobject", "iframe", "a", "image", "style", "animate", "set"):
            yield f"{name}: a {tag} in it"
        yield from (f"{name}: {words}" for words in _attributes_wrong(element.attrib))


def _attributes_wrong(attributes: dict[str, Any]) -> Iterator[str]:
    for key, text in attributes.items():
        bare = key.rpartition("}")[2].lower()
        if bare.startswith("on") or (bare == "href" and not text.startswith("#")):
            yield f"{key} is {text[:40]!r}"
        if bare != "aria-label" and re.search(r"\b(?:nan|inf)\b", text):
            yield f"{key} has a figure that is none"
