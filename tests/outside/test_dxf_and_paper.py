"""DXF files and paper against what is published, and against what another library reads in them.

Sources: the published DXF reference (HEADER and LWPOLYLINE group codes) for units and bulges; ISO 32000-1, 8.3.2.3, for
the PDF's unit; ISO 216 and ASME Y14.1 for papers; closed forms of the circle for areas. ezdxf reads, and its own
arithmetic of bulges is a second method beside the kernel's.
"""

from __future__ import annotations

import io
import math

import pytest
from ezdxf import filemanagement
from ezdxf.entities.circle import Circle as CircleEntity
from ezdxf.entities.lwpolyline import LWPolyline
from ezdxf.math import bulge_center, bulge_radius
from pypdf import PdfReader

from cutmarks.geometry.edges import Arc
from cutmarks.geometry.frames import Tile
from cutmarks.geometry.rings import Ring, Vertex, edges
from cutmarks.geometry.shapes import Circle, Slot
from cutmarks.registering.paper import PAPERS
from cutmarks.sheets.model import PaperSheet
from cutmarks.writers.dxf import dxf_files
from cutmarks.writers.pdf import pdf_bytes
from tests.writers.plans import boxed, cut_piece, plain, plan_of

MICRON = 1e-3
HUNDREDTH = 0.01


def read(data: bytes) -> list[CircleEntity | LWPolyline]:
    space = filemanagement.read(io.StringIO(data.decode("ascii"))).modelspace()
    return [entity for entity in space if isinstance(entity, CircleEntity | LWPolyline)]


def arcs(entity: LWPolyline) -> list[tuple[float, float, float]]:
    """Centre and radius of each arc of a polyline, by ezdxf's own arithmetic."""
    points = entity.get_points("xyb")
    found = []
    for (x, y, bulge), (after_x, after_y, _) in zip(points, points[1:] + points[:1], strict=True):
        if bulge:
            centre = bulge_center((x, y), (after_x, after_y), bulge)
            found.append((centre.x, centre.y, bulge_radius((x, y), (after_x, after_y), bulge)))
    return found


@pytest.mark.parametrize(
    ("degrees", "bulge"),
    [
        # tan(a / 4), counter-clockwise positive (DXF reference, LWPOLYLINE, group code 42): tan 22.5 = sqrt 2 - 1,
        # tan 15 = 2 - sqrt 3, tan 45 = 1.
        (90.0, 0.414213562),
        (-90.0, -0.414213562),
        (60.0, 0.267949192),
        (180.0, 1.0),
    ],
)
def test_a_bulge_is_the_tangent_of_a_quarter_of_the_angle(degrees: float, bulge: float) -> None:
    # An arc of radius 50 about (100, 100) from due east; its end by the definition of cosine and sine.
    angle = math.radians(degrees)
    end = (100 + 50 * math.cos(angle), 100 + 50 * math.sin(angle))
    ring: Ring[Tile] = Ring((Vertex(150.0, 100.0, bulge), Vertex(*end)))
    arc = edges(ring)[0]
    assert isinstance(arc, Arc)
    assert (arc.cx, arc.cy, arc.radius) == pytest.approx((100, 100, 50), abs=1e-6)
    assert math.degrees(arc.sweep) == pytest.approx(degrees, abs=1e-6)


def test_a_slots_ends_are_half_circles() -> None:
    # 60 x 20 about (120, 200): half circles of 10 about (100, 200) and (140, 200), each of bulge 1 or -1.
    (drawing,) = dxf_files(plan_of(cut_piece("splash 1-1", 248, 398, [("tap", Slot(60.0, 20.0), 120, 200)])))
    _, slot = read(drawing.data)
    assert isinstance(slot, LWPolyline)
    assert sorted(arcs(slot)) == [
        pytest.approx((100, 200, 10), abs=MICRON),
        pytest.approx((140, 200, 10), abs=MICRON),
    ]
    assert sorted(bulge for _, _, bulge in slot.get_points("xyb")) == [-1.0, -1.0, 0.0, 0.0]


def test_the_unit_is_the_published_code_for_millimetres() -> None:
    # DXF reference: $INSUNITS 0 none, 1 inches, 2 feet, 4 millimetres, 5 centimetres, 6 metres; $MEASUREMENT 1 metric.
    (drawing,) = dxf_files(plan_of(plain()))
    for data in (drawing.data, drawing.open_data):
        text = data.decode("ascii").split("\n")
        assert text[text.index("$INSUNITS") + 1 : text.index("$INSUNITS") + 3] == [" 70", "4"]
        assert text[text.index("$MEASUREMENT") + 1 : text.index("$MEASUREMENT") + 3] == [" 70", "1"]
        assert text[text.index("$ACADVER") + 1 : text.index("$ACADVER") + 3] == ["  1", "AC1015"]


def test_another_reader_finds_every_hole_where_the_plan_has_it() -> None:
    holes = [("a", Circle(35.0), 74.5, 112.5), ("b", Circle(22.25), 200.125, 40.0), ("c", Circle(68.0), 124.0, 300.0)]
    (drawing,) = dxf_files(plan_of(cut_piece("splash 3-7", 248, 398, holes)))
    found = [entity for entity in read(drawing.data) if isinstance(entity, CircleEntity)]
    assert sorted((c.dxf.center.x, c.dxf.center.y, 2 * c.dxf.radius) for c in found) == [
        pytest.approx((74.5, 112.5, 35.0), abs=MICRON),
        pytest.approx((124.0, 300.0, 68.0), abs=MICRON),
        pytest.approx((200.125, 40.0, 22.25), abs=MICRON),
    ]
    (drawing,) = dxf_files(plan_of(boxed()))
    _, box = read(drawing.data)
    assert isinstance(box, LWPolyline)
    xs, ys = zip(*box.get_points("xy"), strict=True)
    # W2: the middle of the box is 486.5 from the left, 134 from the bottom.
    assert ((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2) == pytest.approx((486.5, 134.0), abs=MICRON)


def area(entity: LWPolyline) -> float:
    """A contour's area by corners, and by r^2 / 2 (a - sin a) for the segment between each arc and its chord."""
    points = entity.get_points("xyb")
    total = 0.0
    for (x, y, bulge), (after_x, after_y, _) in zip(points, points[1:] + points[:1], strict=True):
        total += (x * after_y - after_x * y) / 2
        if bulge:
            angle = 4 * math.atan(bulge)
            radius = math.dist((x, y), (after_x, after_y)) / (2 * math.sin(abs(angle) / 2))
            total += radius * radius / 2 * (angle - math.sin(angle))
    return total


def disc_left_and_below(r: float, a: float, b: float) -> float:
    """The area of a disc left of x = a and below y = b, about its middle; the corner (a, b) lies in the disc.

    A sector from the left end of the upper side round to the lower end of the right side, and the two triangles from
    the middle to these sides.
    """
    left, low = (-math.sqrt(r * r - b * b), b), (a, -math.sqrt(r * r - a * a))
    angle = (math.atan2(low[1], low[0]) - math.atan2(left[1], left[0])) % (2 * math.pi)
    return r * r / 2 * angle + (low[0] * b - low[1] * a) / 2 + (a * left[1] - b * left[0]) / 2


W3 = [
    # The tile; where the opening's middle is on it; the share as the disc's part left of a and below b, mirrored where
    # the tile lies right of the middle or above it. The tile's inner edges are 4 right and 3 above, 6 right, 5 above.
    ("below left", (294.0, 595.0), (4.0, 3.0)),
    ("below right", (-6.0, 595.0), (-6.0, 3.0)),
    ("above left", (294.0, -5.0), (4.0, -5.0)),
    ("above right", (-6.0, -5.0), (-6.0, -5.0)),
]


@pytest.mark.parametrize(("where", "centre", "share"), W3, ids=[where for where, _, _ in W3])
def test_an_opening_over_four_tiles_takes_its_closed_form_of_each(
    where: str, centre: tuple[float, float], share: tuple[float, float]
) -> None:
    piece = cut_piece("field 3-1", 298, 598, [(where, Circle(50.0), *centre)], kind="corner notch")
    (drawing,) = dxf_files(plan_of(piece))
    (contour,) = read(drawing.data)
    assert isinstance(contour, LWPolyline)
    assert 298 * 598 - area(contour) == pytest.approx(disc_left_and_below(25.0, *share), abs=MICRON)
    assert arcs(contour) == [pytest.approx((*centre, 25.0), abs=MICRON)]


def test_the_four_shares_and_the_joints_make_up_the_disc() -> None:
    def left_of(t: float) -> float:
        """The area of a disc of 25 between its middle and x = t."""
        return t * math.sqrt(25.0**2 - t * t) + 25.0**2 * math.asin(t / 25.0)

    # The joints are 4 to 6 right of the middle, 3 to 5 above it, and cross in 2 x 2.
    joints = left_of(6.0) - left_of(4.0) + left_of(5.0) - left_of(3.0) - 2.0 * 2.0
    pieces = [
        cut_piece("field 3-1", 298, 598, [(where, Circle(50.0), *at)], kind="corner notch") for where, at, _ in W3
    ]
    taken = 0.0
    for piece in pieces:
        (drawing,) = dxf_files(plan_of(piece))
        (contour,) = read(drawing.data)
        assert isinstance(contour, LWPolyline)
        taken += 298 * 598 - area(contour)
    assert taken + joints == pytest.approx(math.pi * 25.0**2, abs=4 * MICRON)


@pytest.mark.parametrize(
    ("name", "points"),
    [
        # 1 pt is 1/72 in (ISO 32000-1, 8.3.2.3), so that 1 mm is 72/25.4 = 2.834645669 pt. A4 is 210 x 297 and A3
        # 297 x 420 (ISO 216); Letter is 8.5 x 11 in and Tabloid 11 x 17 in (ASME Y14.1, A and B).
        ("A4", (595.2756, 841.8898)),
        ("A3", (841.8898, 1190.5512)),
        ("Letter", (612.0, 792.0)),
        ("Tabloid", (792.0, 1224.0)),
    ],
)
def test_a_page_of_the_pdf_has_the_size_of_its_paper(name: str, points: tuple[float, float]) -> None:
    paper = PAPERS[name]
    blank = PaperSheet("sheets/blank_1.svg", "blank", paper.width, paper.height, ())
    (page,) = PdfReader(io.BytesIO(pdf_bytes([blank], "blank"))).pages
    # 0.01 mm is 0.028 pt.
    assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx(points, abs=0.028)
    assert page.user_unit == 1
