"""The files of the examples, read back by other readers: every round cut has its centre where the plan says."""

from __future__ import annotations

import csv
import io
import math
import re
import xml.etree.ElementTree as ElementTree
from pathlib import Path
from typing import Any

import pypdf
import pytest
from ezdxf.filemanagement import readfile
from ezdxf.math import bulge_center, bulge_radius

from cutmarks import load_job, make_plan, write_job
from cutmarks.geometry.shapes import Circle
from cutmarks.openings.model import Cut
from cutmarks.plan import Plan
from cutmarks.sheets.names import file_stems

ROOT = Path(__file__).parents[2]
HUNDREDTH = 0.01
EXAMPLES = ("laundry", "boot-room", "potting-bench")
PAPER_MM = {"laundry": (210.0, 297.0), "boot-room": (210.0, 297.0), "potting-bench": (215.9, 279.4)}
"""ISO 216 A4; ASME Y14.1 size A, 8.5 x 11 in (Letter)."""


@pytest.fixture(scope="module", params=EXAMPLES)
def made(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> tuple[str, Plan, Path]:
    name: str = request.param
    plan = make_plan(load_job(ROOT / "examples" / name / f"{name}.yaml"))
    out = tmp_path_factory.mktemp(name) / "out"
    write_job(plan, out)
    return name, plan, out


def round_cuts(plan: Plan) -> list[tuple[float, float, float]]:
    """(x, y, radius) of each round opening on each piece that has a file of its own."""
    return [
        (cut.centre.x, cut.centre.y, cut.opening.shape.d / 2)
        for piece in plan.pieces
        if piece.same_as is None
        for cut in piece.cuts
        if isinstance(cut.opening.shape, Circle)
    ]


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


def test_every_round_cut_is_in_a_dxf_about_its_own_centre(made: tuple[str, Plan, Path]) -> None:
    _, plan, out = made
    found = [
        circle for path in sorted(out.glob("dxf/*.dxf")) if "_open" not in path.name for circle in circles_in(path)
    ]
    wanted = round_cuts(plan)
    assert wanted
    for x, y, r in wanted:
        assert any(math.dist((x, y), c[:2]) < HUNDREDTH and abs(c[2] - r) < HUNDREDTH for c in found), (x, y, r)


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
            if values:
                at = (values[-2], values[-1])
    return found


def test_every_round_cut_is_in_an_svg_as_far_from_the_printed_edges(made: tuple[str, Plan, Path]) -> None:
    # A back template is mirrored, which changes no distance. Where the paper reaches one edge only, that one is read.
    _, plan, out = made
    stems = file_stems(plan.pieces)
    looked_at = 0
    for piece in plan.pieces:
        roots = [ElementTree.parse(path).getroot() for path in sorted(out.glob(f"sheets/{stems[piece.name]}_*.svg"))]
        for cut in piece.cuts:
            if isinstance(cut.opening.shape, Circle):
                axes = max(_axes_that_agree(cut, cut.opening.shape.d / 2, root) for root in roots)
                (registration,) = (one for one in plan.registrations if one.piece == piece.name)
                assert axes == len(registration.edges), (piece.name, cut.opening.name)
                looked_at += axes
    assert looked_at


def _axes_that_agree(cut: Cut, radius: float, root: ElementTree.Element) -> int:
    """On how many axes one cut of this radius lies its own measure away from a printed edge of the tile."""
    edges = [values for mark in in_group(root, "tile-edge") if len(values := figures(mark.get("d"))) == 4]
    upright = [x0 for x0, _, x1, _ in edges if x0 == x1]
    level = [y0 for _, y0, _, y1 in edges if y0 == y1]

    def agrees(at: float, lines: list[float], *measures: float) -> bool:
        return any(abs(abs(at - line) - abs(measure)) < HUNDREDTH for line in lines for measure in measures)

    return max(
        (
            agrees(x, upright, cut.from_left, cut.from_right) + agrees(y, level, cut.from_bottom, cut.from_top)
            for x, y, r in round_in(root)
            if abs(r - radius) < HUNDREDTH
        ),
        default=0,
    )


def test_the_pack_is_on_the_paper_that_was_asked_for(made: tuple[str, Plan, Path]) -> None:
    # A point is 1/72 in (ISO 32000-1 8.3.2.3); PrintScaling None (ISO 32000-1 12.2, Table 150).
    name, _, out = made
    reader = pypdf.PdfReader(out / "pack.pdf")
    for page in reader.pages:
        size = (float(page.mediabox.width) * 25.4 / 72, float(page.mediabox.height) * 25.4 / 72)
        assert size == (
            pytest.approx(PAPER_MM[name][0], abs=HUNDREDTH),
            pytest.approx(PAPER_MM[name][1], abs=HUNDREDTH),
        )
    preferences: Any = reader.root_object["/ViewerPreferences"]
    assert preferences["/PrintScaling"] == "/None"


def test_the_list_of_holes_adds_up_to_the_tile(made: tuple[str, Plan, Path]) -> None:
    # RFC 4180, read by Python's own csv reader.
    _, plan, out = made
    rows = list(csv.DictReader(io.StringIO((out / "holes.csv").read_text(encoding="utf-8-sig"))))
    assert len(rows) == sum(len(piece.cuts) for piece in plan.pieces)
    tiles = {piece.name: piece.piece.tile for piece in plan.pieces}
    for row in rows:
        tile = tiles[row["piece"]]
        left, right, bottom, top = (float(row[f"from {side} mm"]) for side in ("left", "right", "bottom", "top"))
        assert left + right == pytest.approx(tile.w, abs=HUNDREDTH)
        assert bottom + top == pytest.approx(tile.h, abs=HUNDREDTH)
