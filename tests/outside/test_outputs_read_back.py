"""The files of the examples, read back by other readers: every round cut has its centre where it was measured.

Wanted are the centres in plan.json, read as any program reads it, and those centres are held against the figures that
come out of the examples' own readings by hand, where that is feasible.
"""

from __future__ import annotations

import csv
import io
import json
import math
import re
import xml.etree.ElementTree as ElementTree
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

import pypdf
import pytest
from ezdxf.filemanagement import readfile
from ezdxf.math import bulge_center, bulge_radius
from msgspec import Struct

from cutmarks import load_job, make_plan, write_job
from cutmarks.plan import Plan
from cutmarks.saying.names import file_stems
from tests.sheets.apart import word_faults
from tests.sheets.ink import Page, curve, inked_pages

ROOT = Path(__file__).parents[2]
HUNDREDTH = 0.01
JOBS = sorted(path for path in ROOT.glob("examples/*/*.yaml") if path.stem == path.parent.name)
EXAMPLES = [path.stem for path in JOBS if "\ntiles:" in path.read_text(encoding="utf-8")]
A4, LETTER = (210.0, 297.0), (215.9, 279.4)
"""ISO 216; ASME Y14.1 size A, 8.5 x 11 in."""
INCH = 25.4

BY_HAND: Mapping[str, Mapping[tuple[str, str], tuple[float, float]]] = {
    # 297 x 97 ((1497 - 4 x 3) / 5), joint 3, a joint's middle on V: tiles begin at 1.5, each 300 on; every second
    # course 150 further right; courses at 0, 100, 200 ... Of 397 x 247 one has its middle on V: 201.5, at 600.
    "laundry": {
        ("splash 3-4", "hot"): (298.5 - (67 + 83) / 2, (240 + 256) / 2 - 200),
        ("splash 3-5", "cold"): ((68 + 83) / 2 - 1.5, 248.0 - 200),
        ("splash 5-7", "waste"): ((636 + 679) / 2 - 601.5, (388 + 431) / 2 - 400),
        ("splash 4-7", "waste"): (657.5 - (151.5 + 300), 409.5 - 300),
        ("upper 1-5", "stop valve"): ((470 + 554) / 2 - 201.5, (706 + 790) / 2 - 600),
    },
    # 597 ((2397 - 4 x 3 + 3) / 4), pitch 600, a tile's middle on C: tiles begin at -298.5; the first course at 4.
    # The left wall is 1308 from C at D and 1316 at 3000: at 1012 it is 1308 + 8 x 1012 / 3000 = 1310.6987.
    "boot-room": {
        ("floor 4-3", "soil"): ((243 + 353) / 2 + 298.5, (2150 + 2260) / 2 - 1804),
        ("floor 4-4", "soil"): (298.0 - 301.5, 2205.0 - 1804),
        ("floor 2-1", "heating flow"): (1498.5 - (1308 + 8 * 1012 / 3000) + 208, 1012.0 - 604),
        ("floor 2-1", "heating return"): (1498.5 - (1308 + 8 * 1012 / 3000) + 258, 1012.0 - 604),
    },
    # 11 13/16, pitch 12 in, a tile's middle on V: tiles begin at -5 29/32, every second course 6 further right.
    "potting-bench": {
        ("bench 2-3", "hot stub"): ((11.90625 - (8.0625 + 8.6875) / 2) * INCH, ((15.5 + 16.125) / 2 - 12) * INCH),
        ("bench 2-4", "cold stub"): (((3.3125 + 3.9375) / 2 - 0.09375) * INCH, 3.8125 * INCH),
        ("bench 4-1", "hose bib"): ((35.90625 - 24.625) * INCH, ((40.4375 + 41.5) / 2 - 36) * INCH),
        ("bench 4-2", "hose bib"): ((23.90625 - 24.625) * INCH, 4.96875 * INCH),
    },
    # 198 ((1002 - 4 x 3) / 5), pitch 201, a tile's middle on V: tiles begin at -99; courses at 0, 201, 402 ...
    "wash-house": {
        ("trough 1-4", "waste"): (501 - (319 + 362) / 2, (84 + 127) / 2),
        ("trough 3-5", "hot"): (300 - (159 + 174) / 2, (480 + 495) / 2 - 402),
        ("trough 3-7", "cold"): (166.5 - 102, 487.5 - 402),
        ("trough 4-8", "yard tap"): ((388 + 410) / 2 - 303, (690 + 722) / 2 - 603),
        ("trough 5-6", "mixer"): (99.0, (854 + 954) / 2 - 804),
    },
    # 297 x 197, a joint's middle on V: the second tile left of it but one begins at -898.5, and left of that stands one
    # more, since the mitred tile passes -950 by 13; the seventh course begins at 1200.
    "shower-bay": {("bay 7-2", "shower arm"): (898.5 - (692 + 708) / 2, (1250 + 1266) / 2 - 1200)},
    # Of 297 x 197 with joints of 3 a joint's middle is 82 right of V: tiles begin at 83.5, 383.5; courses at 400, 600
    # ... 1200. Of 247 x 97 one begins at 18, so at 518; every second course is moved, the third is not: 200.
    "mending-room": {
        ("pale 5-6", "lamp lead"): ((560 + 580) / 2 - 383.5, (1260 + 1280) / 2 - 1200),
        ("reed 3-8", "tap feed"): ((700 + 716) / 2 - 518, (240 + 256) / 2 - 200),
    },
    # 297 x 147, joint 3, a tile's left edge 48 left of V: tiles begin at -348, -48 ..., every second course 150 further
    # right, so at -498, -198; courses from 800 below B, each 150: the second at -650, the third at -500.
    "meal-store": {
        ("rolled 2-3", "water"): (498 - (208 + 224) / 2, 650 - (500 + 516) / 2),
        ("rolled 3-3", "water"): (348 - 216.0, 500 - 508.0),
    },
}
"""From the left and from the lower side of the whole tile, mm. The plant cupboard's are adjusted."""


class Made(Struct, frozen=True, dict=True):
    """One example: its plan, the folder that was written, and the plan.json in it."""

    name: str
    plan: Plan
    out: Path
    told: Any


class Wanted(Struct, frozen=True, dict=True):
    """A round cut as plan.json has it: of which piece, where on its whole tile, and how large."""

    piece: str
    hole: str
    x: float
    y: float
    r: float
    size: tuple[float, float]


@pytest.fixture(scope="module", params=EXAMPLES)
def made(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Made:
    name: str = request.param
    plan = make_plan(load_job(ROOT / "examples" / name / f"{name}.yaml"))
    out = tmp_path_factory.mktemp(name) / "out"
    write_job(plan, out)
    return Made(name, plan, out, json.loads((out / "plan.json").read_text(encoding="utf-8")))


def wanted(made: Made) -> list[Wanted]:
    found = [
        Wanted(piece["name"], cut["penetration"], x, y, cut["shape"]["circle"]["d"] / 2, tuple(piece["size"]))
        for piece in made.told["pieces"]
        for cut in piece["cuts"]
        if "circle" in cut["shape"]
        for x, y in [cut["centre"]]
    ]
    assert found
    return found


def test_round_cuts_are_where_the_readings_put_them_by_hand(made: Made) -> None:
    by_hand = BY_HAND.get(made.name, {})
    told = {(one.piece, one.hole): (one.x, one.y) for one in wanted(made)}
    assert bool(by_hand) == (made.name != "plant-cupboard")
    assert not by_hand or told.keys() == by_hand.keys()
    for key, centre in by_hand.items():
        assert told[key] == pytest.approx(centre, abs=0.001), key


def circles_in(path: Path) -> list[tuple[float, float, float]]:
    """Every circle and every arc of a DXF as (x, y, radius), by ezdxf; bulge = tan(angle / 4) (DXF reference)."""
    found = []
    document = readfile(path)
    assert document.header["$INSUNITS"] == 4, "millimetres, by the DXF reference"
    entity: Any
    for entity in document.modelspace():
        if entity.dxftype() == "CIRCLE":
            found.append((entity.dxf.center.x, entity.dxf.center.y, entity.dxf.radius))
            continue
        points = list(entity.get_points("xyb"))
        for (x0, y0, bulge), (x1, y1, _) in zip(points, points[1:] + points[:1], strict=True):
            if bulge:
                centre = bulge_center((x0, y0), (x1, y1), bulge)
                found.append((centre.x, centre.y, bulge_radius((x0, y0), (x1, y1), bulge)))
    return found


def test_every_round_cut_is_in_its_own_piece_s_dxf(made: Made) -> None:
    # pieces.csv names the file of each piece; one that must not be cut has none.
    with (made.out / "pieces.csv").open(encoding="utf-8-sig", newline="") as text:
        files = {row["piece"]: row["drawing"] for row in csv.DictReader(text)}
    stopped = {
        name
        for finding in made.told["findings"]
        if finding["level"] == "stop" and finding["accepted"] is None
        for name in finding["about"]
    }
    held = {one.piece for one in wanted(made) if {one.piece, one.hole} & stopped}
    assert bool(held) == (made.name == "wash-house")
    for piece in {one.piece for one in wanted(made)}:
        assert bool(files[piece]) == (piece not in held), piece
        if piece in held:
            continue
        found = circles_in(made.out / files[piece])
        own = [one for one in wanted(made) if one.piece == piece]
        for one in own:
            assert any(_same((one.x, one.y, one.r), circle) for circle in found), one
        for circle in found:
            assert any(_same((one.x, one.y, one.r), circle) for one in own), (piece, circle)


def _same(one: Sequence[float], other: Sequence[float]) -> bool:
    return math.dist(one[:2], other[:2]) < HUNDREDTH and abs(one[2] - other[2]) < HUNDREDTH


SVG = "{http://www.w3.org/2000/svg}"


def figures(text: str | None) -> list[float]:
    return [float(one) for one in re.findall(r"-?[0-9.]+", text or "")]


def in_group(root: ElementTree.Element, name: str) -> list[ElementTree.Element]:
    return [child for group in root.iter(f"{SVG}g") if group.get("class") == name for child in group]


def round_in(root: ElementTree.Element) -> list[tuple[float, float, float]]:
    """Every cut circle and arc of an SVG as (x, y, radius); arcs by the conversion of SVG 1.1, F.6.5 (equal radii)."""
    found = []
    for mark in in_group(root, "cut"):
        if mark.tag == f"{SVG}circle":
            x, y, r = (float(mark.get(key, "nan")) for key in ("cx", "cy", "r"))
            found.append((x, y, r))
            continue
        at = (0.0, 0.0)
        for step, rest in re.findall(r"([A-Z])([^A-Z]*)", mark.get("d") or ""):
            values = figures(rest)
            if step == "A":
                r, _, _, large, sweep, x, y = values
                half_x, half_y = (at[0] - x) / 2, (at[1] - y) / 2
                factor = math.sqrt(max(0.0, r**2 / (half_x**2 + half_y**2) - 1)) * (-1 if large == sweep else 1)
                found.append((factor * half_y + (at[0] + x) / 2, -factor * half_x + (at[1] + y) / 2, r))
            if step in "HV":
                at = (values[0], at[1]) if step == "H" else (at[0], values[0])
            elif values:
                at = (values[-2], values[-1])
    return found


class Drawn(Struct, frozen=True, dict=True):
    """What one sheet shows: round cuts, and where the printed edges of the tile are, upright and level ones."""

    rounds: list[tuple[float, float, float]]
    upright: list[float]
    level: list[float]


def line_in(d: str) -> list[float]:
    """One straight line of path data, start and end; by SVG 1.1, 8.3.4, H and V say one coordinate of the end."""
    values = figures(d)
    if len(values) == 3 and "H" in d:
        return [*values, values[1]]
    return [*values[:2], values[0], values[2]] if len(values) == 3 and "V" in d else values


def drawn_in_svg(root: ElementTree.Element) -> Drawn:
    lines = [line for mark in in_group(root, "tile-edge") if len(line := line_in(mark.get("d") or "")) == 4]
    upright = [x0 for x0, _, x1, _ in lines if x0 == x1]
    return Drawn(round_in(root), upright, [y0 for _, y0, _, y1 in lines if y0 == y1])


def drawn_in_pdf(page: Page) -> Drawn:
    """Line types by ISO 128-2: continuous, 0.7, is cut; long-dashed double-dotted, 0.5, is the edge to line up on."""
    lined_up = [line for line in page.lines if abs(line.width - 0.5) < 0.005 and len(line.dashes) == 6]
    edges = [[p for _, ps in line.steps for p in ps] for line in lined_up]
    upright = [a[0] for a, b in edges if abs(a[0] - b[0]) < 0.001]
    level = [a[1] for a, b in edges if abs(a[1] - b[1]) < 0.001]
    cut = [line for line in page.lines if abs(line.width - 0.7) < 0.005 and not line.dashes]
    return Drawn([ring for line in cut for ring in _rings(line.steps)], upright, level)


def _rings(steps: Sequence[tuple[str, list[tuple[float, float]]]]) -> Iterator[tuple[float, float, float]]:
    """The circle through each row of curves that follow one another, where all of the row lies on one."""
    row: list[tuple[float, float]] = []
    for step, points in (*steps, ("end", [])):
        if step == "c":
            row += curve(row[-1], points)
            continue
        if len(row) > 2:
            x, y, r = _circle(row[0], row[len(row) // 3], row[2 * len(row) // 3])
            if all(abs(math.dist((x, y), point) - r) < HUNDREDTH / 2 for point in row):
                yield x, y, r
        row = points[-1:]


def _circle(a: tuple[float, float], b: tuple[float, float], c: tuple[float, float]) -> tuple[float, float, float]:
    """The circle through three points: where the perpendicular bisectors of two chords meet."""
    (bx, by), (cx, cy) = (b[0] - a[0], b[1] - a[1]), (c[0] - a[0], c[1] - a[1])
    d = 2 * (bx * cy - by * cx)
    x = (cy * (bx**2 + by**2) - by * (cx**2 + cy**2)) / d
    y = (bx * (cx**2 + cy**2) - cx * (bx**2 + by**2)) / d
    return a[0] + x, a[1] + y, math.hypot(x, y)


def test_every_round_cut_is_in_an_svg_as_far_from_the_printed_edges(made: Made) -> None:
    stems = file_stems(made.plan.job, made.plan.pieces)
    for one in wanted(made):
        paths = sorted(made.out.glob(f"sheets/{stems[one.piece]}_*.svg"))
        _check_on_sheets(made, one, [drawn_in_svg(ElementTree.parse(path).getroot()) for path in paths])


def test_every_round_cut_is_in_the_pdf_as_far_from_the_printed_edges(made: Made) -> None:
    # A page is known by the name that it prints.
    pages = inked_pages((made.out / "pack.pdf").read_bytes())
    for one in wanted(made):
        # In one line, or the area and the tile's place in two that follow one another.
        own = [page for page in pages if one.piece.upper() in " ".join(word.text for word in page.words)]
        assert own
        _check_on_sheets(made, one, [drawn_in_pdf(page) for page in own])


def _check_on_sheets(made: Made, one: Wanted, sheets: Sequence[Drawn]) -> None:
    """On some sheet, as far from each edge that it is lined up on as it is measured.

    A back template is mirrored, which changes no distance. Where the paper reaches one edge only, that one is read. A
    page that is held turned has the tile's upright edges lying level.
    """
    lined_up = [
        sheet
        for sheet in made.plan.registrations
        if sheet.piece == one.piece and one.hole in {_hole(made.plan, sheet.piece, index) for index in sheet.cuts}
    ]
    turned = {sheet.layout == "landscape" for sheet in lined_up}
    axes = max(_axes_that_agree(one, sheet, way) for sheet in sheets for way in turned)
    assert axes == max(len(sheet.edges) for sheet in lined_up), one


def _hole(plan: Plan, name: str, index: int) -> str:
    (piece,) = (piece for piece in plan.pieces if piece.name == name)
    return piece.cuts[index].opening.name if index < len(piece.cuts) else "an inside corner"


def _axes_that_agree(one: Wanted, sheet: Drawn, turned: bool) -> int:
    """On how many axes one cut of this radius lies its own measure away from a printed edge of the tile."""

    def agrees(at: float, lines: list[float], *measures: float) -> bool:
        return any(abs(abs(at - line) - abs(measure)) < HUNDREDTH for line in lines for measure in measures)

    w, h = one.size
    across, up = (one.x, w - one.x), (one.y, h - one.y)
    if turned:
        across, up = up, across
    return max(
        (
            agrees(x, sheet.upright, *across) + agrees(y, sheet.level, *up)
            for x, y, r in sheet.rounds
            if abs(r - one.r) < HUNDREDTH
        ),
        default=0,
    )


def test_the_pack_is_on_the_paper_that_was_asked_for(made: Made) -> None:
    # A point is 1/72 in (ISO 32000-1 8.3.2.3); PrintScaling None (ISO 32000-1 12.2, Table 150).
    wide, high = LETTER if made.name == "potting-bench" else A4
    reader = pypdf.PdfReader(made.out / "pack.pdf")
    for page in reader.pages:
        size = (float(page.mediabox.width) * 25.4 / 72, float(page.mediabox.height) * 25.4 / 72)
        assert size == (
            pytest.approx(wide, abs=HUNDREDTH),
            pytest.approx(high, abs=HUNDREDTH),
        )
    preferences: Any = reader.root_object["/ViewerPreferences"]
    assert preferences["/PrintScaling"] == "/None"


@pytest.mark.parametrize("file", ["pack.pdf", "job-sheet.pdf"])
def test_no_word_lies_on_a_line_or_on_another_word(made: Made, file: str) -> None:
    keep_apart((made.out / file).read_bytes())


@pytest.mark.parametrize("job", [path for path in JOBS if path.stem not in EXAMPLES], ids=lambda path: path.stem)
def test_nor_does_one_on_a_clearance_sheet(job: Path, tmp_path: Path) -> None:
    write_job(make_plan(load_job(job)), tmp_path / "out")
    keep_apart((tmp_path / "out" / "clearance.pdf").read_bytes())


def keep_apart(pdf: bytes) -> None:
    # A desktop printer prints up to 10 mm from the paper's edge: nothing that is read lies further out.
    pages = inked_pages(pdf)
    assert sum(len(page.words) for page in pages) > 50
    for number, page in enumerate(pages, start=1):
        assert list(word_faults(page, margin=10.0)) == [], number


def test_the_list_of_holes_adds_up_to_the_tile(made: Made) -> None:
    # RFC 4180, read by Python's own csv reader.
    plan, out = made.plan, made.out
    rows = list(csv.DictReader(io.StringIO((out / "holes.csv").read_text(encoding="utf-8-sig"))))
    assert len(rows) == sum(len(piece.cuts) for piece in plan.pieces)
    tiles = {piece.name: piece.piece.tile for piece in plan.pieces}
    for row in rows:
        tile = tiles[row["piece"]]
        if row["stop"] == "STOP":
            # Nothing is marked on it, so that no figure stands here.
            assert not any(row[heading] for heading in row if heading.startswith(("from ", "mark ")))
            continue
        left, right, bottom, top = (float(row[f"from {side} mm"]) for side in ("left", "right", "bottom", "top"))
        assert left + right == pytest.approx(tile.w, abs=HUNDREDTH)
        assert bottom + top == pytest.approx(tile.h, abs=HUNDREDTH)
