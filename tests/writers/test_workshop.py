"""The workshop's pack: what is alike has one number, every piece its label, and what is cut ahead a sheet to sign."""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Literal

import pytest
from msgspec.structs import replace

from cutmarks.cutting.making import CutWith
from cutmarks.errors import OutputError
from cutmarks.geometry.shapes import Circle, Rect
from cutmarks.openings.model import CutPiece
from cutmarks.plan import Plan
from cutmarks.plan.how_cut import how_pieces_are_cut
from cutmarks.plan.model import Supplies, TileStock
from cutmarks.readings import PatternWay
from cutmarks.sheets.workshop_pages import cut_list_pages, label_sheets, roll_labels, sign_off_pages
from cutmarks.sides import Side
from cutmarks.tiling.model import TileKind
from cutmarks.workshop.alike import ShopPiece, numbered
from cutmarks.workshop.pack import ShopPack
from cutmarks.writers.workshop import shop_pack, write_shop_pack
from tests.handmade import cut_piece, opening, plan_of
from tests.sheets.drawn import texts

W, H = 300.0, 200.0
SLATE = TileKind("slate", W, H, True, thickness=9.0)
LEFT_HALF = ((0.0, 0.0), (140.0, 0.0), (140.0, H), (0.0, H))
RIGHT_HALF = ((160.0, 0.0), (W, 0.0), (W, H), (160.0, H))


def holed(name: str, x: float, y: float, tile: TileKind = SLATE) -> CutPiece:
    return cut_piece([opening("hot", Circle(35.0), x, y, core=35.0)], W, H, at=(0.0, 0.0), name=name, tile=tile)


def trimmed(name: str, corners: Sequence[tuple[float, float]], gone: Side) -> CutPiece:
    sides = [side for side in (Side.LEFT, Side.RIGHT, Side.BOTTOM, Side.TOP) if side is not gone]
    place = (int(name.rpartition("-")[2]), 0)
    return cut_piece([], W, H, at=(0.0, 0.0), name=name, tile=SLATE, trimmed_to=corners, factory=sides, place=place)


Moment = Literal["ahead", "on the day"]


def planned(
    *pieces: CutPiece, job: str = "Quay Cottage", pattern: PatternWay | None = None, cut: Moment = "on the day"
) -> Plan:
    plan = plan_of(pieces, sheets=False)
    return replace(
        plan,
        job=job,
        say=replace(plan.say, cut=cut),
        supplies=Supplies({"slate": TileStock("slate", pattern=pattern)}),
        how_cut=how_pieces_are_cut(pieces, CutWith(longest=900.0), ""),
    )


def numbers(*plans: Plan) -> list[list[str]]:
    """The pieces of each number; one that is turned with a star."""
    every = [ShopPiece(plan, piece) for plan in plans for piece in plan.pieces]
    return [[f"{one.piece.name}{'*' if one.turned else ''}" for one in group.pieces] for group in numbered(every)]


def test_the_same_piece_of_two_jobs_has_one_number() -> None:
    assert numbers(planned(holed("splash 1-1", 60, 75)), planned(holed("splash 1-2", 60, 75), job="Mill Loft")) == [
        ["splash 1-1", "splash 1-2"]
    ]


@pytest.mark.parametrize(("off", "alike"), [(0.04, True), (0.06, False)])
def test_alike_is_within_a_twentieth_of_a_millimetre(off: float, alike: bool) -> None:
    found = numbers(planned(holed("splash 1-1", 60, 75), holed("splash 1-2", 60 + off, 75)))
    assert (len(found) == 1) is alike


@pytest.mark.parametrize(("pattern", "alike"), [(None, False), ("one way", False), ("two ways", True), ("none", True)])
def test_half_round_where_the_pattern_allows_it(pattern: PatternWay | None, alike: bool) -> None:
    # The right half of a tile is its left half turned half round: one maker's end, one cut.
    found = numbers(
        planned(trimmed("a 1-1", LEFT_HALF, Side.RIGHT), trimmed("a 1-9", RIGHT_HALF, Side.LEFT), pattern=pattern)
    )
    assert found == ([["a 1-1", "a 1-9*"]] if alike else [["a 1-1"], ["a 1-9"]])


def test_a_hole_turned_half_round_is_where_x_and_y_are_the_rest_of_the_tile() -> None:
    # {(x, y)} = {(w - x, h - y)}: 60, 75 and 240, 125 are; 240, 75 is a mirror image.
    assert len(numbers(planned(holed("a 1-1", 60, 75), holed("a 1-2", 240, 125), pattern="none"))) == 1
    assert len(numbers(planned(holed("a 1-1", 60, 75), holed("a 1-2", 240, 75), pattern="none"))) == 2


def test_another_batch_or_a_cut_edge_in_place_of_the_makers_is_another_number() -> None:
    batch = holed("a 1-2", 60, 75, replace(SLATE, batch="0412"))
    assert len(numbers(planned(holed("a 1-1", 60, 75), batch))) == 2
    right, left = trimmed("a 1-1", LEFT_HALF, Side.RIGHT), trimmed("a 1-9", RIGHT_HALF, Side.LEFT)
    assert len(numbers(planned(right, left))) == 2  # the same size, the maker's edge on the other side


def pack(cut: Moment = "on the day") -> ShopPack:
    box = cut_piece([opening("socket", Rect(76.0, 76.0), 150, 100)], W, H, at=(0.0, 0.0), name="a 2-1", tile=SLATE)
    halves = [trimmed(name, LEFT_HALF, Side.RIGHT) for name in ("a 1-1", "a 1-2")]
    return shop_pack([planned(*halves, box, cut=cut)])


def rows(data: bytes) -> list[Mapping[str, str]]:
    return list(csv.DictReader(io.StringIO(data.decode("utf-8-sig"))))


def test_the_pack_on_the_disk(tmp_path: Path) -> None:
    names = write_shop_pack(pack(), tmp_path / "out")
    on_disk = {
        path.relative_to(tmp_path / "out").as_posix() for path in (tmp_path / "out").rglob("*") if path.is_file()
    }
    assert set(names) == on_disk
    assert {"cut-list.csv", "cut-list.pdf", "drawings.pdf", "labels-a4.pdf", "labels-roll.pdf"} <= on_disk
    assert "sign-off.pdf" not in on_disk
    assert sum(name.endswith(".dxf") for name in names) == 4
    listed = rows((tmp_path / "out" / "cut-list.csv").read_bytes())
    first = next(row for row in listed if row["quantity"] == "2")
    assert first["pieces"] == "a 1-1, a 1-2"
    # Snapped: 140 kept and 160 off are the tile of 300; no kerf.
    assert first["straight cuts"] == "140 from the left (140 + 0 + 160 = 300)"
    assert first["how it is cut"] == "snap 140 from the left"
    assert first["cut length mm"] == "200"
    assert "_2off_140x200_t9_" in first["drawing"]
    assert (tmp_path / "out" / first["drawing"]).is_file()


def test_a_folder_that_holds_something_is_left_alone(tmp_path: Path) -> None:
    (tmp_path / "mine.txt").write_text("keep", encoding="utf-8")
    with pytest.raises(OutputError, match="is not empty: name a folder that is missing or empty"):
        write_shop_pack(pack(), tmp_path)
    assert [path.name for path in tmp_path.iterdir()] == ["mine.txt"]


def test_the_pages_say_what_is_wanted() -> None:
    made = pack()
    said = " ".join(word for page in cut_list_pages(made) for word in texts(page.marks))
    assert "a 1-1, a 1-2" in said
    # 200 + 200 along both halves, and 4 x 76 round the box.
    assert "slate 300 x 200: 3 pieces, 2 spare; 0.70 m cut, 4 contours." in said
    labels = [word for page in label_sheets(made) for word in texts(page.marks)]
    assert [labels.count(name) for name in ("a 1-1", "a 1-2", "a 2-1")] == [1, 1, 1]
    assert labels.count("FACE") == labels.count("UP") == 3
    assert len(list(roll_labels(made))) == 3


def test_a_piece_from_an_offcut_says_of_which(tmp_path: Path) -> None:
    # 140 with the left end and 140 with the right: with the saw's 2 between them both come out of 300.
    ends = trimmed("a 1-1", LEFT_HALF, Side.RIGHT), trimmed("a 1-9", RIGHT_HALF, Side.LEFT)
    write_shop_pack(shop_pack([planned(*ends)]), tmp_path / "out")
    listed = rows((tmp_path / "out" / "cut-list.csv").read_bytes())
    assert [row["from offcuts"] for row in listed] == ["", "a 1-9 from the offcut of a 1-1"]


def test_what_is_cut_ahead_has_a_sheet_to_sign(tmp_path: Path) -> None:
    made = pack(cut="ahead")
    assert "sign-off.pdf" in write_shop_pack(made, tmp_path / "out")
    said = " ".join(word for page in sign_off_pages(made) for word in texts(page.marks))
    assert "socket: not read on the wall" in said
    assert "date, signature" in said
