"""What a shop wishes of its drawings: round corners, small holes, older releases, its own layers, the back.

Areas are closed forms: a corner of 90 degrees that is rounded by r keeps r^2 (1 - pi / 4) of tile.
"""

from __future__ import annotations

import io
import math
from collections import Counter
from pathlib import PurePosixPath

import pytest
from ezdxf.document import Drawing
from ezdxf.filemanagement import read
from msgspec.structs import replace

from cutmarks.cutting.paths import cuttings
from cutmarks.geometry.frames import Tile
from cutmarks.geometry.inscribed import largest_circle
from cutmarks.geometry.regions import Region, region
from cutmarks.geometry.rings import Ring, Vertex, polygon
from cutmarks.geometry.shapes import Circle, Rect
from cutmarks.openings.model import CutPiece
from cutmarks.plan import Plan
from cutmarks.readings import Corners, DxfRelease, ShopLayers, ShopWishes
from cutmarks.tiling.model import TileKind
from cutmarks.writers.dxf import dxf_files, dxf_names
from cutmarks.writers.shop_drawing import ShopDrawing
from tests.handmade import cut_piece, opening, plan_of

RELEASES: tuple[DxfRelease, ...] = ("R2000", "R12", "R12 plain")
SOCKET = 76.0
STEP_CUT = ((0.0, 0.0), (300.0, 0.0), (300.0, 120.0), (180.0, 120.0), (180.0, 200.0), (0.0, 200.0))


def boxed() -> CutPiece:
    """300 x 200 with a box of 76 in it."""
    return cut_piece([opening("socket", Rect(SOCKET, SOCKET), 150.0, 100.0)], 300.0, 200.0, at=(0.0, 0.0))


def wished(piece: CutPiece, **wishes: object) -> Plan:
    plan = plan_of([piece], sheets=False)
    shop = replace(ShopWishes(), **wishes)
    return replace(plan, shop=shop, cuttings=cuttings(plan.pieces, 5.0, shop))


def drawn(piece: CutPiece, **wishes: object) -> ShopDrawing:
    (one,) = dxf_files(wished(piece, **wishes), measure="all")
    return one


def opened(data: bytes) -> Drawing:
    return read(io.StringIO(data.decode("ascii")))


def kinds(data: bytes) -> Counter[tuple[str, str]]:
    return Counter((one.dxftype(), one.dxf.layer) for one in opened(data).modelspace())


@pytest.mark.parametrize("release", RELEASES)
@pytest.mark.parametrize("corners", [Corners(), Corners("round", 5.0), Corners("holes", 6.0)])
def test_every_release_gives_back_what_was_written(release: DxfRelease, corners: Corners) -> None:
    # `measure="all"` reads each file again; here its entities are counted by hand.
    counted = kinds(drawn(boxed(), dxf=release, corners=corners).data)
    arcs = 4 if corners.way == "round" else 0
    expected: dict[DxfRelease, dict[tuple[str, str], int]] = {
        "R2000": {("LWPOLYLINE", "OUTER-NOMINAL"): 1, ("LWPOLYLINE", "INNER-NOMINAL"): 1},
        "R12": {("POLYLINE", "OUTER-NOMINAL"): 1, ("POLYLINE", "INNER-NOMINAL"): 1},
        "R12 plain": {("LINE", "OUTER-NOMINAL"): 4, ("LINE", "INNER-NOMINAL"): 4, ("ARC", "INNER-NOMINAL"): arcs},
    }
    holes = {("CIRCLE", "HOLES-NOMINAL"): 4} if corners.way == "holes" else {}
    assert counted == Counter({key: many for key, many in (expected[release] | holes).items() if many})


def test_the_releases_are_what_they_say() -> None:
    assert [opened(drawn(boxed(), dxf=release).data).dxfversion for release in RELEASES] == [
        "AC1015",
        "AC1009",
        "AC1009",
    ]
    assert drawn(boxed(), dxf="R12").data == drawn(boxed(), dxf="R12").data


def test_round_corners_keep_tile_by_the_closed_form() -> None:
    plan = wished(boxed(), corners=Corners("round", 5.0))
    area = plan.cuttings["splash 3-7"].outline.area
    assert area == pytest.approx(300 * 200 - SOCKET**2 + 4 * 25.0 * (1 - math.pi / 4), abs=1e-9)
    outer, inner = opened(drawn(boxed(), corners=Corners("round", 5.0)).data).modelspace()
    read_back: Ring = Ring(tuple(Vertex(*point) for point in inner.get_points("xyb")))  # type: ignore[attr-defined]
    assert read_back.area == pytest.approx(-(SOCKET**2 - 4 * 25.0 * (1 - math.pi / 4)), abs=1e-4)
    assert len(outer.get_points()) == 4  # type: ignore[attr-defined]


def test_small_holes_touch_both_sides_of_their_corners() -> None:
    entities = opened(drawn(boxed(), corners=Corners("holes", 6.0)).data).modelspace()
    holes = [one for one in entities if one.dxftype() == "CIRCLE" and one.dxf.radius == 3.0]
    # The box is 112 to 188 across and 62 to 138 up: 3 in from either side.
    assert sorted((one.dxf.center.x, one.dxf.center.y) for one in holes) == [
        (115.0, 65.0),
        (115.0, 135.0),
        (185.0, 65.0),
        (185.0, 135.0),
    ]


def test_a_radius_that_has_no_room_stays_sharp_and_is_known() -> None:
    slot = cut_piece([opening("slit", Rect(8.0, 60.0), 150.0, 100.0)], 300.0, 200.0, at=(0.0, 0.0))
    cutting = wished(slot, corners=Corners("round", 5.0)).cuttings["splash 3-7"]
    assert [(at.x, at.y) for at in sorted(cutting.sharp, key=lambda at: (at.x, at.y))] == [
        (146.0, 70.0),
        (146.0, 130.0),
        (154.0, 70.0),
        (154.0, 130.0),
    ]
    assert cutting.outline == slot.outline
    # No corner of it was changed, so its name says no radius.
    assert "_r5" not in drawn(slot, corners=Corners("round", 5.0)).name


@pytest.mark.parametrize(
    ("corners", "said"), [(Corners(), ""), (Corners("round", 5.0), "_r5"), (Corners("holes", 6.0), "_holes6")]
)
def test_the_name_says_what_was_made_of_the_corners(corners: Corners, said: str) -> None:
    name = PurePosixPath(drawn(boxed(), corners=corners).name).name
    assert name == f"quay_cottage_laundry__splash_3-07_face_mm_1off_300x200{said}_5e6f7a8b.dxf"


def test_layers_are_called_as_the_shop_calls_them() -> None:
    layers = ShopLayers("CUT", "CUT", "PATHS", "DRILL")
    drawing = drawn(boxed(), layers=layers, corners=Corners("holes", 6.0))
    assert kinds(drawing.data) == Counter({("LWPOLYLINE", "CUT"): 2, ("CIRCLE", "DRILL"): 4})
    assert kinds(drawing.open_data) == Counter({("LWPOLYLINE", "CUT"): 1, ("CIRCLE", "DRILL"): 4})


def test_a_view_of_the_back_is_another_file_that_says_so() -> None:
    off = cut_piece([opening("hot", Circle(35.0), 60.0, 100.0)], 300.0, 200.0, at=(0.0, 0.0))
    drawing = drawn(off, back=True)
    ((name, data),) = drawing.back
    assert name == "dxf/quay_cottage_laundry__splash_3-07_back_mm_1off_300x200_5e6f7a8b.dxf"
    (circle,) = [one for one in opened(data).modelspace() if one.dxftype() == "CIRCLE"]
    assert (circle.dxf.center.x, circle.dxf.center.y) == (240.0, 100.0)
    assert [*dxf_names(wished(off, back=True))] == [(drawing.name, drawing.open_name, name)]
    assert drawn(off).back == ()


@pytest.mark.parametrize("release", RELEASES)
def test_open_paths_of_an_l_cut_with_round_corners(release: DxfRelease) -> None:
    piece = cut_piece([], 300.0, 200.0, at=(0.0, 0.0), trimmed_to=STEP_CUT)
    drawing = drawn(piece, dxf=release, corners=Corners("round", 5.0))
    counted = kinds(drawing.open_data)
    expected: dict[DxfRelease, dict[tuple[str, str], int]] = {
        "R2000": {("LWPOLYLINE", "OPEN-NOMINAL"): 1},
        "R12": {("POLYLINE", "OPEN-NOMINAL"): 1},
        # The run-outs go on from the last edges in the same way, each a line of its own.
        "R12 plain": {("LINE", "OPEN-NOMINAL"): 4, ("ARC", "OPEN-NOMINAL"): 1},
    }
    assert counted == Counter(expected[release])


def test_a_panel_that_is_trimmed_all_round_is_measured_from_its_trimmed_edges() -> None:
    inside = ((10.0, 10.0), (290.0, 10.0), (290.0, 190.0), (10.0, 190.0))
    hole = opening("hot", Circle(35.0), 60.0, 100.0)
    piece = cut_piece([hole], 300.0, 200.0, at=(0.0, 0.0), trimmed_to=inside, factory=())
    drawing = drawn(piece)
    assert drawing.name.endswith("_280x180_from_trimmed_edges_5e6f7a8b.dxf")
    outer, circle = opened(drawing.data).modelspace()
    assert [point[:2] for point in outer.get_points()] == [(0, 0), (280, 0), (280, 180), (0, 180)]  # type: ignore[attr-defined]
    assert (circle.dxf.center.x, circle.dxf.center.y) == (50.0, 90.0)


def test_what_a_jet_cannot_make_is_known() -> None:
    def trouble(*openings: object, **wishes: object) -> list[tuple[str, float, float]]:
        piece = cut_piece(list(openings), 300.0, 200.0, at=(0.0, 0.0))  # type: ignore[arg-type]
        found = wished(piece, **wishes).cuttings["splash 3-7"].trouble
        return [(one.what, round(one.mm, 2), one.least) for one in found]

    assert trouble(opening("hot", Circle(35.0), 60.0, 100.0)) == []
    # Under 10, or under the thickness of the tile, a hole is drilled; 6 across is no room to begin in.
    assert trouble(opening("wire", Circle(9.0), 60.0, 100.0)) == [("small hole", 9.0, 10.0)]
    assert trouble(opening("slit", Rect(6.0, 60.0), 60.0, 100.0)) == [("no room to pierce", 6.0, 8.0)]
    assert trouble(opening("box", Rect(60.0, 60.0, r=0.6), 60.0, 100.0)) == [("small radius", 0.6, 1.0)] * 4
    assert trouble(opening("slit", Rect(6.0, 60.0), 60.0, 100.0), jet=False) == []


def test_a_hole_under_the_thickness_is_drilled() -> None:
    hole = opening("wire", Circle(14.0), 60.0, 100.0)
    for thickness, found in ((20.0, 1), (12.0, 0)):
        tile = TileKind("slab", 300.0, 200.0, True, thickness=thickness)
        piece = cut_piece([hole], 300.0, 200.0, at=(0.0, 0.0), tile=tile)
        assert len(wished(piece).cuttings["splash 3-7"].trouble) == found


def test_the_largest_circle_of_an_l_is_in_its_corner() -> None:
    # Both legs are 10 wide: the circle that touches the outer sides and the inner corner (10, 10) is about (r, r), and
    # r = 10 / (1 + 1 / sqrt 2) = 5.8579.
    ell: Region[Tile] = region(
        polygon(((0.0, 0.0), (60.0, 0.0), (60.0, 10.0), (10.0, 10.0), (10.0, 60.0), (0.0, 60.0)))
    )
    at, radius = largest_circle(ell)
    assert radius == pytest.approx(10.0 / (1.0 + 1.0 / math.sqrt(2.0)), abs=0.011)
    assert math.dist((at.x, at.y), (5.858, 5.858)) < 0.1


@pytest.mark.parametrize("release", RELEASES)
def test_a_slot_is_a_closed_contour_in_every_release(release: DxfRelease) -> None:
    # 57 x 10 with its corners rounded by 5 has an arc first, and plain ARCs are written counter-clockwise alone.
    slot = cut_piece([opening("slit", Rect(57.0, 10.0), 70.0, 68.0)], 300.0, 200.0, at=(0.0, 0.0))
    made = kinds(drawn(slot, dxf=release, corners=Corners("round", 5.0)).data)
    inner = {kind: count for (kind, layer), count in made.items() if layer == "INNER-NOMINAL"}
    assert inner == ({"LINE": 2, "ARC": 2} if release == "R12 plain" else {made_of(release): 1})


def made_of(release: DxfRelease) -> str:
    return "LWPOLYLINE" if release == "R2000" else "POLYLINE"
