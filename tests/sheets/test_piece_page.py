"""The drawing for a shop: whoever has it alone knows how many of what, which side up, what to check and do first."""

from __future__ import annotations

import math

import pytest
from msgspec.structs import replace

from cutmarks import build_job, make_plan
from cutmarks.cutting.paths import cuttings
from cutmarks.geometry.shapes import Circle, Rect
from cutmarks.job.shop import Shop
from cutmarks.marks.lettering import ink
from cutmarks.marks.model import Stroke, Words
from cutmarks.marks.piece_drawing import corner_checks, numbered_corners, piece_drawing
from cutmarks.openings.model import CutPiece
from cutmarks.plan import Plan
from cutmarks.plan.model import Supplies, TileStock
from cutmarks.readings import Corners, ShopWishes
from cutmarks.sheets.model import PaperSheet
from cutmarks.sheets.piece_page import OnPage, piece_page
from cutmarks.sides import Side
from cutmarks.tiling.model import TileKind
from cutmarks.writers.documents import piece_page_pdf
from tests.handmade import cut_piece, opening, plan_of
from tests.sheets.drawn import texts

STEP_CUT = ((0.0, 0.0), (300.0, 0.0), (300.0, 120.0), (180.0, 120.0), (180.0, 200.0), (0.0, 200.0))
SLATE = TileKind("slate", 300.0, 200.0, True, thickness=9.0, batch="0317", calibre="4")


def page(piece: CutPiece, *, stock: TileStock | None = None, **wishes: object) -> PaperSheet:
    plan = planned(piece, stock, **wishes)
    return piece_page(plan, piece, plan.cuttings[piece.name], "p", OnPage(1, piece.name, "d.dxf"))


def planned(piece: CutPiece, stock: TileStock | None, **wishes: object) -> Plan:
    plan = plan_of([piece], sheets=False)
    shop = replace(ShopWishes(name="Weir Lane cutting"), **wishes)
    supplies = Supplies({"slate": stock or TileStock("slate")})
    return replace(plan, shop=shop, supplies=supplies, cuttings=cuttings(plan.pieces, 5.0, shop))


def holed(**keys: object) -> CutPiece:
    hole = opening("hot", Circle(35.0), 60.0, 75.5, core=35.0)
    box = opening("socket", Rect(76.0, 78.0), 200.0, 100.0)
    return cut_piece([hole, box], 300.0, 200.0, at=(0.0, 0.0), tile=SLATE, **keys)  # type: ignore[arg-type]


def test_it_says_all_that_would_be_asked() -> None:
    said = texts(page(holed(), stock=TileStock("slate", pattern="two ways", along="long")).marks)
    for words in (
        "splash 3-7",
        "for Weir Lane cutting",
        "millimetres, NOT TO SCALE",
        "FACE",
        "UP",
        "PATTERN",
        "measured from the left edge and the bottom edge",
        "1 off: splash 3-7",
        "slate, 300 x 200 as it lies",
        "a whole tile each",
        "hot, socket by jet or saw",
        "9",
        "batch 0317, calibre 4",
        "the tile before it is cut, half round; not the piece",
        "left, right, bottom, top: not to be cut again",
        "corners 1 to 2: 360.6, the tile's own",  # sqrt(300^2 + 200^2)
        "dia 35",
    ):
        assert words in said, words
    zero = "0, 0 is the lower left corner of a tile of 300 x 200"
    assert f"finished size, nominal: no kerf is taken off; {zero}" in " ".join(said)
    assert "a steel rule: each figure of the drawing, from the edges that it is measured from; and" in " ".join(said)
    assert (
        "each cut edge, notch and corner radius ±0.5; where a hole is ±0.5; its diameter -0 +1; an arris taken off, or "
        "a chip, no wider than 0.5 on the FACE"
    ) in " ".join(said)


@pytest.mark.parametrize(
    ("outline", "gone", "said"),
    [
        # Both corners at a side that is cut, and the measure all but along it: no less than the tolerance of an edge.
        (((0, 0), (20, 0), (20, 200), (0, 200)), (Side.RIGHT,), "201 ±0.5"),
        # From (0, 0) to (150, 150), cut at the right and the top: 0.5 (150 + 150) / 212.1 = 0.707, and so at most 0.8.
        (((0, 0), (150, 0), (150, 150), (0, 150)), (Side.RIGHT, Side.TOP), "212.1 ±0.8"),
    ],
)
def test_a_diagonal_may_be_out_as_its_edges_may_be(
    outline: tuple[tuple[float, float], ...], gone: tuple[Side, ...], said: str
) -> None:
    left = [side for side in (Side.LEFT, Side.RIGHT, Side.BOTTOM, Side.TOP) if side not in gone]
    piece = cut_piece([], 300.0, 200.0, at=(0.0, 0.0), tile=SLATE, trimmed_to=outline, factory=left)
    assert f"corners 1 to 2: {said}" in texts(page(piece).marks)


def test_every_place_has_its_measure_from_the_edges() -> None:
    # The box is 162 to 238 across and 61 to 139 up; the hole's middle is at 60, 75.5.
    said = texts(page(holed()).marks)
    for figure in ("60", "162", "238", "300", "75.5", "61", "139", "200"):
        assert figure in said, figure


def test_where_the_left_edge_is_cut_it_is_measured_from_the_right() -> None:
    trimmed = ((110.0, 0.0), (300.0, 0.0), (300.0, 200.0), (106.0, 200.0))
    piece = cut_piece(
        [], 300.0, 200.0, at=(0.0, 0.0), tile=SLATE, trimmed_to=trimmed, factory=[Side.RIGHT, Side.BOTTOM, Side.TOP]
    )
    said = texts(page(piece).marks)
    assert "measured from the right edge and the bottom edge" in said
    # A tapered piece has both ends: 190 at the bottom, 194 at the top.
    assert "190" in said
    assert "194" in said


def test_a_radius_is_told_and_the_corner_measured_where_its_edges_meet() -> None:
    piece = cut_piece([], 300.0, 200.0, at=(0.0, 0.0), tile=SLATE, trimmed_to=STEP_CUT)
    said = texts(page(piece, corners=Corners("round", 5.0)).marks)
    assert "radius 5, drawn" in said
    assert {"180", "120"} <= set(said)
    assert not {"185", "125"} & set(said)


@pytest.mark.parametrize(
    ("outline", "said"),
    [
        # An L cut of 120 x 80 off the lower left corner: from where it begins to where it ends sqrt(120^2 + 80^2).
        (((120, 0), (300, 0), (300, 200), (0, 200), (0, 80), (120, 80)), "corners 3 to 4: 144.2 ±0.7"),
        # A U cut from the top, 100 to 160 and 70 deep: from (160, 200) to (0, 0) sqrt(160^2 + 200^2), from (100, 200)
        # to (300, 0) sqrt(200^2 + 200^2); the first one that is met along the outline is taken.
        # Out by 0.5: of the L at both ends, 2 x 0.5 x (120 + 80) / 144.2 / 2 = 0.69; of the U across alone.
        (((0, 0), (300, 0), (300, 200), (160, 200), (160, 130), (100, 130), (100, 200), (0, 200)), "256.1 ±0.5"),
    ],
)
def test_a_notched_piece_is_checked_by_its_notch_too(outline: tuple[tuple[float, float], ...], said: str) -> None:
    piece = cut_piece([], 300.0, 200.0, at=(0.0, 0.0), tile=SLATE, trimmed_to=outline)
    words = texts(page(piece).marks)
    assert any(one.endswith(said) for one in words)
    assert "corners 1 to 2: 360.6, the tile's own, as before it is notched" in words


@pytest.mark.parametrize("high", [110.0, 62.0, 40.0])
def test_a_number_stands_at_its_own_corner(high: float) -> None:
    # Legs of 97 and 397 beside a notch of a panel of 1200 x 600: at 20 mm to 600 a leg of 97 is 3.2 mm on the page.
    notch = ((1200, 0), (1200, 600), (1103, 600), (1103, 345), (397, 345), (397, 600), (0, 600), (0, 0))
    step = ((0, 0), (297, 0), (297, 197), (246.5, 197), (246.5, 90), (0, 90))
    for w, h, outline in ((1200.0, 600.0, notch), (297.0, 197.0, step)):
        piece = cut_piece([], w, h, at=(0.0, 0.0), tile=TileKind("slate", w, h, True), trimmed_to=outline)
        cutting = planned(piece, None).cuttings[piece.name]
        tile, *marks = piece_drawing(piece, cutting, 184.0, high + 60.0)
        assert isinstance(tile, Stroke)
        left, low = (min(vertex[axis] for vertex in tile.path) for axis in (0, 1))
        scale = (max(vertex.x for vertex in tile.path) - left) / w
        wanted = {
            name: (x * scale + left, y * scale + low)
            for (x, y), name in numbered_corners(corner_checks(piece, cutting)).items()
        }
        found = {
            mark.text: (mark.at.x, mark.at.y + mark.height / 2.0)
            for mark in marks
            if isinstance(mark, Words) and mark.bold and mark.text in wanted
        }
        assert found.keys() == wanted.keys()
        assert len(wanted) >= 3
        for name, at in found.items():
            assert min(wanted, key=lambda one: math.dist(wanted[one], at)) == name
            assert math.dist(at, wanted[name]) <= 4.0  # 2.8 each way are 3.96
            assert all(math.dist(at, other) >= 3.2 for one, other in found.items() if one != name)


def test_a_tapered_piece_is_checked_by_its_diagonal_alone() -> None:
    outline = ((0.0, 0.0), (190.0, 0.0), (194.0, 200.0), (0.0, 200.0))
    piece = cut_piece([], 300.0, 200.0, at=(0.0, 0.0), tile=SLATE, trimmed_to=outline)
    # sqrt(194^2 + 200^2)
    assert [one for one in texts(page(piece).marks) if one.startswith("corners")] == ["corners 1 to 2: 278.6 ±0.5"]


def test_what_a_jet_cannot_make_and_a_corner_without_room_are_said() -> None:
    slit = cut_piece([opening("slit", Rect(6.0, 60.0), 60.0, 100.0)], 300.0, 200.0, at=(0.0, 0.0), tile=SLATE)
    said = " ".join(texts(page(slit, corners=Corners("round", 5.0)).marks))
    assert "no room for a radius of 5 at 57 from the left, 70 from the bottom: left sharp" in said
    assert "the largest circle in what is cut out is 6, and a jet begins in 8: drill there first" in said


def test_no_word_lies_on_another() -> None:
    many = [opening(f"p{n}", Circle(20.0), 30.0 + 9.0 * n, 30.0 + 4.0 * n) for n in range(0, 24, 3)]
    for piece in (holed(), cut_piece(many, 300.0, 200.0, at=(0.0, 0.0), tile=SLATE)):
        words = [mark for mark in page(piece).marks if isinstance(mark, Words)]
        figures = [mark for mark in words if mark.text.replace(".", "").isdigit() and mark.text != "9"]
        boxes = [ink(mark) for mark in figures]
        for number, one in enumerate(boxes):
            for other in boxes[number + 1 :]:
                xs, ys = [x for x, _ in one], [y for _, y in one]
                us, vs = [x for x, _ in other], [y for _, y in other]
                apart = max(xs) <= min(us) or max(us) <= min(xs) or max(ys) <= min(vs) or max(vs) <= min(ys)
                assert apart, (figures[number].text, one, other)


@pytest.mark.parametrize("x", [60.0, 282.0])
def test_a_diameter_lies_on_no_end_of_the_piece(x: float) -> None:
    hole = opening("hot", Circle(30.0), x, 100.0)
    piece = cut_piece([hole], 300.0, 200.0, at=(0.0, 0.0), tile=SLATE)
    tile, *marks = piece_drawing(piece, planned(piece, None).cuttings[piece.name], 184.0, 110.0)
    (said,) = (mark for mark in marks if isinstance(mark, Words) and mark.text == "dia 30")
    assert isinstance(tile, Stroke)
    ends = [vertex.x for vertex in tile.path]
    assert min(ends) < min(across for across, _ in ink(said))
    assert max(across for across, _ in ink(said)) < max(ends)


def test_a_piece_that_is_measured_on_the_day_says_wait() -> None:
    job = {
        "job": "Quay Cottage",
        "tiles": {"rib": {"size": "297 x 97", "measured": "yes", "thickness": 9}},
        "surfaces": [
            {
                "name": "wall",
                "kind": "wall",
                "lines": {"V": "plumb, middle", "B": "level, batten"},
                "edges": {"left": {"at": "640 left of V", "what": "end panel", "true": "plumb"}},
                "areas": [
                    {"name": "splash", "tile": "rib", "joint": 3, "to": "97 above B", "left of": "600 right of V"}
                    | {"from": "B", "start": {"across": "joint on V", "up": "sits on B"}}
                ],
            }
        ],
    }
    for cut, waits in (("on the day", True), ("ahead", False)):
        plan = make_plan(build_job({**job, "cut": cut}, shop=Shop()))
        piece = next(one for one in plan.pieces if one.infills)
        said = texts(piece_page(plan, piece, plan.cuttings[piece.name], "p", OnPage(1, piece.name, "d.dxf")).marks)
        assert ("WAIT" in said) is waits


def test_it_is_one_page_with_the_name_of_its_drawing() -> None:
    data = piece_page_pdf(planned(holed(), None), holed(), ["splash 3-7"], "dxf/splash_face_mm.dxf")
    assert data.startswith(b"%PDF")
    assert data == piece_page_pdf(planned(holed(), None), holed(), ["splash 3-7"], "dxf/splash_face_mm.dxf")
