"""The workshop's pack: what is alike has one number, every piece its label, and what is cut ahead a sheet to sign."""

from __future__ import annotations

import csv
import io
import math
from collections.abc import Mapping, Sequence
from pathlib import Path
from types import MappingProxyType
from typing import Any, Literal

import pytest
from ezdxf.entities.lwpolyline import LWPolyline
from ezdxf.filemanagement import read
from msgspec.structs import replace
from pypdfium2 import PdfDocument

from cutmarks.checks.rules import NAMES
from cutmarks.checks.waiting import about_piece
from cutmarks.cutting.making import CutWith
from cutmarks.errors import JobError, OutputError
from cutmarks.geometry.shapes import Circle, Rect
from cutmarks.job import build_job, load_job
from cutmarks.job.shop import Shop
from cutmarks.marks.lettering import ink
from cutmarks.marks.model import Role, Stroke, Words
from cutmarks.openings.edge_work import EdgeWork
from cutmarks.openings.found import InfillFound
from cutmarks.openings.model import CutKind, CutPiece, Opening
from cutmarks.plan import Plan, make_plan
from cutmarks.plan.how_cut import how_pieces_are_cut
from cutmarks.plan.model import Supplies, TileStock
from cutmarks.readings import PatternWay, ShopLayers
from cutmarks.saying.shop import OF_THE_CUTTING, cut_round, edge_works
from cutmarks.saying.workshop import (
    left_over_words,
    left_to_ask,
    offcut_words,
    out_of_words,
    straight_words,
    tile_waits,
    tile_words,
    ways_to_cut,
)
from cutmarks.sheets.piece_page import OnPage, piece_page
from cutmarks.sheets.workshop_pages import cut_list_pages, label_sheets, roll_labels, shared_pages, sign_off_pages
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
    assert first["how it is cut"] == "by saw: snap 140 from the left"
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
    assert (
        "slate 300 x 200: 3 pieces out of 3 tiles; with 2 spare for breakage: 5 tiles. 0.70 m cut in 3 paths (the "
        "files with _open_)."
    ) in said
    labels = [word for page in label_sheets(made) for word in texts(page.marks)]
    assert [labels.count(name) for name in ("a 1-1", "a 1-2", "a 2-1")] == [1, 1, 1]
    assert labels.count("FACE") == labels.count("on the") == labels.count("UP") == 3
    assert any(word.startswith("Each label goes on the dry FACE of its piece") for word in labels)
    assert "strike them out first, or they are cut twice" in said
    assert len(list(roll_labels(made))) == 3


def test_a_strip_that_does_not_snap_is_said_of_a_shared_tile() -> None:
    # 146 with the left end, 146 with the right one, and the saw's 2 beside each: 300 - 2 x 148 leave 4. Of 140 each 16.
    # Of 148.6 they leave 0.8 between the first kerf and the second piece: no strip at all, and no snap either.
    thin = "; saw or grind it: the {} beside it does not snap"
    for wide, strip in ((146.0, thin.format(4)), (140.0, ""), (148.6, thin.format("0.8"))):
        left = trimmed("a 1-1", ((0.0, 0.0), (wide, 0.0), (wide, 200.0), (0.0, 200.0)), Side.RIGHT)
        right = trimmed("a 1-9", ((W - wide, 0.0), (W, 0.0), (W, 200.0), (W - wide, 200.0)), Side.LEFT)
        made = shop_pack([planned(left, right)])
        (tile,) = made.shared
        assert [words.partition("right through")[2] for words in tile_words(made, tile)] == [strip, strip]
        rest = W - 2 * wide - 4.0
        assert left_over_words(tile) == (f"left over: {rest:g} x 200" if rest > 0.0 else "nothing left over")


def test_a_label_is_upright_on_a_piece_that_is_narrower_than_it() -> None:
    # 40 and 63 are under the 63.5 of a label, 64 is not; on the roll, 100 wide, all three are.
    pieces = [
        trimmed(f"a 1-{n}", ((0.0, 0.0), (w, 0.0), (w, 200.0), (0.0, 200.0)), Side.RIGHT)
        for n, w in ((1, 40.0), (2, 63.0), (3, 64.0))
    ]
    made = shop_pack([planned(*pieces)])
    for pages, upright in ((label_sheets(made), {"a 1-1", "a 1-2"}), (roll_labels(made), {"a 1-1", "a 1-2", "a 1-3"})):
        marks = [mark for page in pages for mark in page.marks if isinstance(mark, Words)]
        assert {mark.text for mark in marks if mark.text.startswith("a 1-") and round(mark.turn) == 90} == upright
        assert any(f"{w} x 200, tile slate" in mark.text for mark in marks for w in ("40", "63", "64"))


def test_no_word_of_a_label_lies_on_another() -> None:
    # What waits, is signed for, is drawn as another piece and comes out of a shared tile has most words.
    strips = [
        trimmed(f"a 1-{n}", ((0.0, 0.0), (w, 0.0), (w, 200.0), (0.0, 200.0)), Side.RIGHT)
        for n, w in enumerate((61.5, 61.5, 45.0, 36.0, 30.0, 24.0, 24.0, 20.0), start=1)
    ]
    packs = shop_pack([planned(*strips, cut="ahead", pattern="none")], "2"), shop_pack([measured()])
    for page in (page for made in packs for page in (*label_sheets(made), *roll_labels(made))):
        boxes = []
        for mark in page.marks:
            if isinstance(mark, Words):
                xs, ys = zip(*ink(mark), strict=True)
                boxes.append((min(xs), max(xs), min(ys), max(ys), mark.text))
        for number, (left, right, low, high, text) in enumerate(boxes):
            for x0, x1, y0, y1, other in boxes[number + 1 :]:
                apart = right <= x0 or x1 <= left or high <= y0 or y1 <= low
                assert apart, (page.file, text, other)


def test_a_label_is_cut_down_to_a_piece_that_is_narrower_or_lower_than_it() -> None:
    # A label is 63.5 x 38.1: upright, it is 38.1 wide. 30 is narrower; 18 leaves its words no room; 30 high lies low.
    low = ((0.0, 0.0), (300.0, 0.0), (300.0, 30.0), (0.0, 30.0))
    sides = (Side.LEFT, Side.RIGHT, Side.BOTTOM)
    pieces = [
        trimmed("a 1-1", ((0.0, 0.0), (30.0, 0.0), (30.0, 200.0), (0.0, 200.0)), Side.RIGHT),
        trimmed("a 1-2", ((0.0, 0.0), (18.0, 0.0), (18.0, 200.0), (0.0, 200.0)), Side.RIGHT),
        cut_piece([], W, H, at=(0.0, 0.0), name="a 1-3", tile=SLATE, trimmed_to=low, factory=sides, place=(3, 0)),
        trimmed("a 1-4", ((0.0, 0.0), (40.0, 0.0), (40.0, 200.0), (0.0, 200.0)), Side.RIGHT),
    ]
    (page,) = label_sheets(shop_pack([planned(*pieces)]))
    frames = [
        [round(max(axis) - min(axis), 1) for axis in zip(*((v.x, v.y) for v in mark.path), strict=True)]
        for mark in page.marks
        if isinstance(mark, Stroke) and mark.role is Role.GRID
    ]
    # The frame stands half a millimetre inside all round; 4 are kept free above the one that is tied on.
    assert frames == [[62.5, 29.0], [62.5, 33.1], [62.5, 29.0], [62.5, 37.1]]
    said = texts(page.marks)
    assert said.count("cut this off: its piece is narrower") == 2
    assert said.count("larger than its piece: tie it on") == 1


def test_a_label_that_is_longer_than_its_piece_is_tied_on() -> None:
    # A label of the roll is 100 long: 81 x 42 is lower and shorter than it, 42 x 99 shorter, 42 x 101 narrower alone.
    sizes = {"a 1-1": (81.0, 42.0), "a 1-2": (42.0, 99.0), "a 1-3": (42.0, 101.0), "a 1-4": (101.0, 101.0)}
    made = shop_pack(
        [planned(*(trimmed(name, ((0, 0), (w, 0), (w, h), (0, h)), Side.RIGHT) for name, (w, h) in sizes.items()))]
    )
    does = {"larger than its piece: tie it on": {"a 1-1", "a 1-2"}, "cut this off: its piece is narrower": {"a 1-3"}}
    for words, names in does.items():
        labels = [set(texts(page.marks)) for page in roll_labels(made)]
        assert {name for label in labels for name in sizes if {name, words} <= label} == names


@pytest.mark.parametrize(
    ("finish", "does", "said"),
    [
        ("polished", None, "not said: ask before cutting"),
        ("mitre", True, "the shop: the figures are those of the FACE when finished"),
        ("arris", False, "the tiler: leave them as cut, the figures are those of the FACE when finished"),
        ("as sawn", None, None),
        ("", None, None),
    ],
)
def test_a_drawing_says_who_works_the_edges(finish: str, does: bool | None, said: str | None) -> None:
    piece = replace(trimmed("a 1-1", LEFT_HALF, Side.RIGHT), edge_work=(EdgeWork(Side.RIGHT, "window", finish),))
    plan = planned(piece)
    plan = replace(plan, shop=replace(plan.shop, edge_work=does))
    words = texts(piece_page(plan, piece, plan.cuttings[piece.name], "p", OnPage(1, piece.name, "d.dxf")).marks)
    assert ("edges done by" in words) is (said is not None)
    assert said is None or said in words
    assert ("mitre" in words) is (finish == "mitre")
    assert ("Last the edges, as said above." in words) is (said is not None and does is not False)


def test_who_is_asked_stands_on_the_list_the_drawing_and_the_sheet_to_sign() -> None:
    for more, who in (
        ({"contact": "Wren Hollis 01632 960120"}, "Wren Hollis 01632 960120"),
        ({}, "whoever sent this: the job names no contact"),
    ):
        plan = measured(cut="ahead", more=more)
        made, piece = shop_pack([plan]), plan.pieces[0]
        page = piece_page(plan, piece, plan.cuttings[piece.name], "p", OnPage(1, piece.name, "d.dxf"))
        assert who in texts(page.marks)
        for pages in (cut_list_pages(made), sign_off_pages(made)):
            assert f"ask {who}" in " ".join(word for one in pages for word in texts(one.marks))


def test_what_a_shop_would_have_to_ask_is_said_before_the_pack_goes_out() -> None:
    polished = replace(trimmed("a 1-1", LEFT_HALF, Side.RIGHT), edge_work=(EdgeWork(Side.RIGHT, "window", "polished"),))
    plan = planned(polished)
    assert left_to_ask(shop_pack([plan])) == [
        "Quay Cottage names nobody to be asked: write contact: a name and a number.",
        "Who works the edges of a 1-1 is not said: write edge work: yes or no in shop.yaml.",
        "What slate is made of is not said, and an edge of it is worked: write its material.",
    ]
    known = replace(plan, contact="Wren Hollis 01632 960120", shop=replace(plan.shop, edge_work=True))
    stone = replace(polished, piece=replace(polished.piece, tile=replace(SLATE, material="stone")))
    assert left_to_ask(shop_pack([replace(known, pieces=(stone,))])) == []
    bare = replace(polished, piece=replace(polished.piece, tile=replace(SLATE, material="stone", thickness=None)))
    assert left_to_ask(shop_pack([replace(known, pieces=(bare,))])) == [
        "How thick slate is is not said: write its thickness."
    ]


def test_a_window_and_a_niche_that_a_piece_is_cut_to_are_named() -> None:
    # The sixth course is 1000 to 1197 above B. The second tile right of V, 301.5 to 598.5, meets the window, to 350
    # right and from 1000 up, and the niche, from 500 right and to 1060 up; left of V there is the window alone; the
    # fourth right of V, from 901.5, meets neither.
    plan = make_plan(load_job(Path("examples/shower-bay/shower-bay.yaml")))
    found = {piece.name: cut_round(plan, piece) for piece in plan.pieces}
    assert {*found["bay 6-6"].split(", ")} == {"window", "niche"}
    assert (found["bay 6-3"], found["bay 6-8"]) == ("window", "")


def test_an_edge_of_a_notch_is_said_by_where_it_lies() -> None:
    # An L: its side beside the window looks left at 180 from the left; its own left side is the maker's below 90.
    step = ((0.0, 0.0), (300.0, 0.0), (300.0, 200.0), (180.0, 200.0), (180.0, 90.0), (0.0, 90.0))
    piece = cut_piece([], W, H, at=(0.0, 0.0), name="a 1-1", tile=SLATE, trimmed_to=step)
    work = EdgeWork(Side.LEFT, "window", "polished"), EdgeWork(Side.TOP, "window", "polished")
    assert edge_works(replace(piece, edge_work=work)) == [
        "left side at 180 from the left (window): polished",
        "top side at 90 from the bottom (window): polished",
    ]
    assert edge_works(
        replace(trimmed("a 1-2", LEFT_HALF, Side.RIGHT), edge_work=(EdgeWork(Side.RIGHT, "door", "arris"),))
    ) == ["right (door): arris"]


def test_a_piece_from_an_offcut_says_of_which(tmp_path: Path) -> None:
    # 140 with the left end and 140 with the right: with the saw's 2 between them both come out of 300.
    ends = trimmed("a 1-1", LEFT_HALF, Side.RIGHT), trimmed("a 1-9", RIGHT_HALF, Side.LEFT)
    write_shop_pack(shop_pack([planned(*ends)]), tmp_path / "out")
    listed = rows((tmp_path / "out" / "cut-list.csv").read_bytes())
    assert [row["from offcuts"] for row in listed] == ["a 1-1 out of shared tile 1", "a 1-9 out of shared tile 1"]


def test_what_is_cut_ahead_has_a_sheet_to_sign(tmp_path: Path) -> None:
    made = pack(cut="ahead")
    assert "sign-off.pdf" in write_shop_pack(made, tmp_path / "out")
    said = " ".join(word for page in sign_off_pages(made) for word in texts(page.marks))
    assert "socket: not read on the wall" in said
    assert "date, signature" in said


# One course of 300 x 200 tiles, joint 3, 10 thick, a joint on V: the first tile each way ends 301.5 from V, the next
# begins at 304.5. On the left the wall ends at 450: 450 - 3 - 304.5 = 142.5. On the right it ends at 450.7 at B and at
# 444.4 at 200 above it: 450.7 - 3 - 304.5 = 143.2, and 136.9 at the top.


def measured(
    job: str = "Fell Side", cut: Moment = "on the day", more: Mapping[str, Any] = MappingProxyType({})
) -> Plan:
    wall = {
        "name": "wall",
        "kind": "wall",
        "lines": {"V": "plumb, middle", "B": "level, batten"},
        "edges": {
            "left": {"at": "450 left of V", "what": "end panel", "true": "plumb", "gap": 3},
            "right": {
                "at": ["450.7 right of V at B", "444.4 right of V at 200 above B"],
                "what": "end panel",
                "gap": 3,
            },
        },
        "areas": [
            {"name": "row", "tile": "slate", "joint": 3, "from": "B", "to": "200 above B"}
            | {"start": {"across": "joint on V", "up": "sits on B"}}
        ],
        "holes": [
            {"name": "tap", "what": "15 copper", "across": "centre 150 left of V", "up": "centre 100 above B"}
            | {"cover": 65, "end": "comes off"},
            {"name": "vent", "diameter": 8, "opening": 9, "across": "centre 60 right of V", "up": "centre 100 above B"}
            | {"cover": "none", "end": "comes off"},
            {"name": "socket", "size": "70 x 70", "across": "165 to 235 right of V", "up": "65 to 135 above B"}
            | {"cover": "86 x 86", "end": "comes off"},
        ],
    }
    tiles = {"slate": {"size": "300 x 200", "measured": "yes", "thickness": 10, "pattern": "none"}}
    return make_plan(
        build_job({"job": job, "cut": cut, "tiles": tiles, "surfaces": [wall], **more}, shop=Shop(cuts_with="jet"))
    )


def listed(tmp_path: Path, *plans: Plan) -> dict[str, Mapping[str, str]]:
    """The rows of the list by the name of their first piece."""
    write_shop_pack(shop_pack(plans), tmp_path / "out")
    return {row["pieces"]: row for row in rows((tmp_path / "out" / "cut-list.csv").read_bytes())}


def test_a_tapered_piece_has_one_figure_wherever_it_is_told(tmp_path: Path) -> None:
    plan = measured()
    row = listed(tmp_path, plan)["row 1-4"]
    piece = next(one for one in plan.pieces if one.name == "row 1-4")
    assert list(straight_words(ShopPiece(plan, piece))) == [
        "143.2 from the left at the bottom of the whole tile (143.2 + 2 + 154.8 = 300)",
        "136.9 from the left at the top of the whole tile (136.9 + 2 + 161.1 = 300)",
    ]
    # It comes out of a tile with row 1-1, aslant at once, and has no other order anywhere.
    assert row["straight cuts"] == "those of shared-tiles.pdf"
    assert row["how it is cut"] == "out of shared tile 1, in the order of shared-tiles.pdf"
    made = shop_pack([plan])
    (tile,) = made.shared
    turn = next(one.at.turn for one in tile.lying if one.one.piece.name == "row 1-4")
    # Turned half round it lies at the right, and is measured from there, its foot at the top.
    at = "143.2 from the left at the bottom, 136.9 at the top"
    at = "136.9 from the right at the bottom, 143.2 at the top" if turn else at
    assert any(f"up, {at} (row 1-4 tapers), right through" in words for words in tile_words(made, tile))
    assert "_143.2x200_" in row["drawing"]
    # The longer way across: from the lower right, 143.2, to the upper left.
    assert float(row["diagonal mm"]) == pytest.approx(math.hypot(143.2, 200.0), abs=0.05)
    said = texts(piece_page(plan, piece, plan.cuttings["row 1-4"], "p", OnPage(1, "row 1-4", "d.dxf")).marks)
    assert (
        "1. score and snap, or saw, 143.2 from the left at the bottom, 136.9 at the top of the whole tile."
        in " ".join(said)
    )
    assert {"143.2", "136.9"} <= set(said)


def test_what_waits_says_so_wherever_it_stands_and_comes_last(tmp_path: Path) -> None:
    plan = measured()
    found = listed(tmp_path, plan)
    waits = {name for name, row in found.items() if row["wait"].startswith("do not cut yet")}
    assert waits == {"row 1-1", "row 1-4"}
    numbers_of = {name: int(row["number"]) for name, row in found.items()}
    assert min(numbers_of[name] for name in waits) > max(numbers_of[name] for name in found.keys() - waits)
    made = shop_pack([plan])
    pages = [word for page in cut_list_pages(made) for word in texts(page.marks)]
    assert pages.count("WAIT") == 3  # over the rows, and in each
    assert [word for page in label_sheets(made) for word in texts(page.marks)].count("WAIT") == 2


def test_what_is_cut_from_an_offcut_stands_after_what_leaves_it(tmp_path: Path) -> None:
    # 142.5 and 143.2 with the saw's 2 between them are 287.7 of 300: one tile.
    found = listed(tmp_path, measured())
    left, right = (int(found[name]["number"]) for name in ("row 1-1", "row 1-4"))
    child, parent = ("row 1-1", "row 1-4") if right < left else ("row 1-4", "row 1-1")
    assert found[child]["from offcuts"] == f"{child} out of shared tile 1"
    assert found[parent]["from offcuts"] == f"{parent} out of shared tile 1"


def test_what_a_jet_makes_and_what_a_core_makes(tmp_path: Path) -> None:
    plan = measured()
    found = listed(tmp_path, plan)
    # A jet makes the 70 box and the tap's hole; one of 9 in a tile of 10 is drilled.
    assert found["row 1-2"]["cut with"] == "tap by jet or saw"
    assert found["row 1-3"]["cut with"] == "socket by jet or saw; vent by core 9"
    sawn = listed(tmp_path / "saw", replace(plan, shop=replace(plan.shop, jet=False)))
    assert sawn["row 1-2"]["cut with"] == f"tap by core {plan.openings[0].core:g}"


def test_which_side_the_kerf_is_on_is_said_of_what_is_in_the_open_file(tmp_path: Path) -> None:
    # A hole is run anticlockwise by most machines: what lies on the left of it then is the slug.
    plan = measured()
    hole = "a hole (a CIRCLE, a closed line) has slug and kerf inside it, the piece outside"
    past = "what is open runs on past the tile's edge, the piece on its left and the kerf on its right"
    for name, has in (("row 1-2", {hole}), ("row 1-3", {hole}), ("row 1-1", {past})):
        piece = next(one for one in plan.pieces if one.name == name)
        page = piece_page(plan, piece, plan.cuttings[name], "p", OnPage(1, name, "d.dxf"))
        said = " ".join(texts(page.marks))
        assert {words for words in (hole, past) if words in said} == has
    plain = replace(plan, shop=replace(plan.shop, dxf="R12 plain"))
    (end,) = (one for one in plain.pieces if one.name == "row 1-1")
    said = " ".join(texts(piece_page(plain, end, plain.cuttings[end.name], "p", OnPage(1, end.name, "d.dxf")).marks))
    assert "the piece on each LINE's left and the kerf on each LINE's right; an ARC, which always runs" in said


def notched(name: str) -> CutPiece:
    """With a notch in the top from 100 to 170, 50 deep."""
    socket = opening("socket", Rect(70.0, 100.0), 135.0, 200.0)
    return cut_piece([socket], W, H, at=(0.0, 0.0), name=name, tile=SLATE, kinds=["edge notch"])


def test_the_open_paths_of_a_notch_have_the_piece_on_their_left(tmp_path: Path) -> None:
    # Down on its right side, across its foot to the left, and up: below the foot is the piece.
    row = listed(tmp_path, planned(notched("a 1-1")))["a 1-1"]
    drawing = read(io.StringIO((tmp_path / "out" / row["drawing of open cut paths"]).read_text(encoding="ascii")))
    (path,) = drawing.modelspace()
    assert isinstance(path, LWPolyline)
    points = [(round(x), round(y)) for x, y in path.get_points("xy")]
    assert points.index((170, 150)) < points.index((100, 150))  # to the left along the foot: its left is below


def test_a_notch_leaves_the_makers_edge_in_part_and_a_taper_leaves_all_of_it(tmp_path: Path) -> None:
    slanting = trimmed("a 1-2", ((0.0, 0.0), (149.0, 0.0), (147.0, 200.0), (0.0, 200.0)), Side.RIGHT)
    # Of a corner that is cut off aslant, 60 across and 50 up, both sides are left in part.
    corner = ((0.0, 0.0), (300.0, 0.0), (300.0, 150.0), (240.0, 200.0), (0.0, 200.0))
    off = cut_piece([], W, H, at=(0.0, 0.0), name="a 1-3", tile=SLATE, trimmed_to=corner, place=(3, 0))
    found = listed(tmp_path, planned(notched("a 1-1"), slanting, off))
    assert {name: (row["maker's edges"], row["cut edges"]) for name, row in found.items()} == {
        "a 1-1": ("left, right, bottom, top in part", "top in part"),
        "a 1-2": ("left, bottom, top", "right"),
        "a 1-3": ("left, right in part, bottom, top in part", "right in part, top in part"),
    }


def test_mass_and_area_are_those_of_the_finished_piece(tmp_path: Path) -> None:
    # 142.5 x 200 x 10 mm are 0.285 litres, and 2.4 kg each of them 0.684.
    found = listed(tmp_path, measured(more={"corner radius": 5}))
    assert (found["row 1-1"]["area cm2"], found["row 1-1"]["mass"]) == ("285", "0.68 kg")
    # 300 x 200 less a box of 74 x 74 with corners of 5, which leaves (4 - pi) 25 more, and a hole of 9.
    area = 60_000 - (74 * 74 - (4 - math.pi) * 25) - math.pi * 4.5**2
    assert float(found["row 1-3"]["area cm2"]) == pytest.approx(area / 100, abs=0.001)


def test_a_piece_has_corners_of_its_own(tmp_path: Path) -> None:
    found = listed(tmp_path, measured(more={"corner radius": 5, "corner radius of": {"Row 1-3": "holes 6"}}))
    assert "_holes6_" in found["row 1-3"]["drawing"]
    assert found["row 1-3"]["inside corners"] == "a hole of 6 in each first, drawn"
    assert found["row 1-2"]["inside corners"] == "as drawn"
    with pytest.raises(JobError, match='corner radius of "row 9-9": there is no such piece with anything cut in it'):
        measured(more={"corner radius of": {"row 9-9": 5}})


def test_the_issue_of_a_pack_stands_on_every_page_and_label(tmp_path: Path) -> None:
    plans = [measured(), measured("Fell Top", "ahead")]
    made = shop_pack(plans, "2, 28 November")
    series = cut_list_pages(made), shared_pages(made), sign_off_pages(made)
    pages = [*(page for one in series for page in one), *label_sheets(made), *roll_labels(made)]
    for page in pages:
        assert any("issue 2, 28 November" in words for words in texts(page.marks)), page.file
    write_shop_pack(made, tmp_path / "out")
    drawings = PdfDocument(str(tmp_path / "out" / "drawings.pdf"))
    assert all("issue 2, 28 November" in page.get_textpage().get_text_range() for page in drawings)
    assert not any("issue" in words for page in label_sheets(shop_pack(plans)) for words in texts(page.marks))


def test_digits_on_labels_are_those_of_the_jobs_on_every_page(tmp_path: Path) -> None:
    day, ahead = measured(), measured("Fell Top", "ahead")
    made = shop_pack([day, ahead])
    labels = [word for page in label_sheets(made) for word in texts(page.marks)]
    on_list = [word for page in cut_list_pages(made) for word in texts(page.marks)]
    assert f"Fell Side: job {day.fingerprint}, 4 pieces" in on_list
    assert f"Fell Top: job {ahead.fingerprint}, 4 pieces, cut ahead: sign-off first" in on_list
    assert f"job {day.fingerprint}, {ahead.fingerprint}" in on_list  # at the foot
    for number in made.numbered:
        for one in number.pieces:
            assert f"job {one.plan.fingerprint}, piece {one.piece.fingerprint}" in labels
            drawn = f"to fix, drawn as piece {number.first.piece.fingerprint}"
            assert any(drawn in words for words in labels) is (len(number.pieces) > 1)
    assert sum(words.startswith("SIGN FIRST") for words in labels) == 4
    signs = [word for page in sign_off_pages(made) for word in texts(page.marks)]
    assert signs.count(f"job {ahead.fingerprint}") == 4
    assert all(f"piece {piece.fingerprint}" in signs for piece in ahead.pieces)


def test_two_jobs_of_one_name_are_refused() -> None:
    with pytest.raises(OutputError, match='Two jobs are called "Fell Side": give one of them another name'):
        shop_pack([measured(), measured(cut="ahead")])


def test_a_panel_that_gives_several_pieces_is_drawn_with_its_cuts(tmp_path: Path) -> None:
    # 1200 x 600 with 2 between, a joint on V and walls 1100 from it less 3: 1096 wide at both ends. The upper course is
    # 800 - 3 - 602 = 195 high, and both its pieces come out of one panel: 195 + 2 + 195 of 600.
    wall = {
        "name": "bay wall",
        "kind": "wall",
        "lines": {"V": "plumb, middle", "B": "level, tray"},
        "edges": {
            "left": {"at": "1100 left of V", "what": "end panel", "true": "plumb", "gap": 3},
            "right": {"at": "1100 right of V", "what": "end panel", "true": "plumb", "gap": 3},
            "bottom": {"at": "3 below B", "what": "tray", "true": "level", "gap": 3},
            "top": {"at": "800 above B", "what": "ceiling", "true": "level", "gap": 3},
        },
        "areas": [
            {"name": "bay", "tile": "slab", "joint": 2, "start": {"across": "joint on V", "up": "sits on B"}},
        ],
    }
    tiles = {"slab": {"size": "1200 x 600", "measured": "yes", "thickness": 6, "pattern": "none"}}
    tiles["slab"]["material"] = "porcelain panel"
    job = {"job": "Quarry Loft", "cut": "ahead", "tiles": tiles, "surfaces": [wall]}
    made = shop_pack([make_plan(build_job(job, shop=Shop(cuts_with="jet")))])
    assert "shared-tiles.pdf" in write_shop_pack(made, tmp_path / "out")
    (count,) = made.counts
    assert (count.pieces, count.whole) == (4, 3)
    (panel,) = made.shared
    said = [word for page in shared_pages(made) for word in texts(page.marks)]
    assert "1: slab 1200 x 600, Quarry Loft" in said
    assert {panel.pieces[one.kind] for one in panel.layout.pieces} == {"bay 2-1", "bay 2-2"}
    assert [(round(one.w, 3), round(one.h, 3)) for one in panel.layout.pieces] == [(1096, 195), (1096, 195)]
    # The maker's edges meet at the lower right of 2-1, and at the lower left of 2-2: one of them lies upside down.
    at = {panel.pieces[one.kind]: (round(one.x), round(one.y), one.turn) for one in panel.layout.pieces}
    assert at in (
        {"bay 2-1": (104, 0, 0), "bay 2-2": (104, 405, 2)},
        {"bay 2-1": (0, 405, 2), "bay 2-2": (0, 0, 0)},
    )
    joined = " ".join(said)
    turned = next(name for name, (_, _, turn) in at.items() if turn == 2)
    assert f"{turned}, no. " in joined
    assert joined.count("its UP to the bottom of the tile") == joined.count("its UP to the top of the tile") == 1
    found = {row["pieces"]: row["from offcuts"] for row in rows((tmp_path / "out" / "cut-list.csv").read_bytes())}
    assert found["bay 2-1"] == "bay 2-1 out of shared tile 1"


def test_what_is_to_be_checked_stands_on_the_drawing_and_a_free_piece_apart_from_one_to_be_signed_for(
    tmp_path: Path,
) -> None:
    day, ahead = measured(), measured("Fell Top", "ahead")
    found = listed(tmp_path, day, ahead)
    assert "Fell Side: row 1-2" in found
    assert found["Fell Top: row 1-2"]["sign first"] == "row 1-2"
    assert found["Fell Side: row 1-2"]["sign first"] == ""
    free, signed, waits = (
        [int(row["number"]) for row in found.values() if bool(row["sign first"]) == first and bool(row["wait"]) == wait]
        for first, wait in ((False, False), (True, False), (False, True))
    )
    assert max(free) < min(signed) < max(signed) < min(waits)
    heads = [word for page in cut_list_pages(shop_pack([day, ahead])) for word in texts(page.marks)]
    assert next(word for word in heads if word in ("CUT NOW", "SIGN FIRST", "WAIT")) == "CUT NOW"


def test_a_shop_looks_at_what_it_cuts_and_leaves_the_rest_to_whoever_sent_it(tmp_path: Path) -> None:
    plan = measured()
    doubt = next(one for one in plan.findings if one.level == "warn" and about_piece([one], plan.pieces[0]))
    piece = plan.pieces[0]
    for rule, seen in (("thin leg", True), (doubt.rule, False)):
        assert (rule in OF_THE_CUTTING) is seen
        told = replace(plan, findings=(replace(doubt, rule=rule, text="A leg of 9. Move the start."),))
        row = listed(tmp_path / str(seen), told)[piece.name]
        assert row["check"] == ("A leg of 9." if seen else "")
        said = texts(piece_page(told, piece, told.cuttings[piece.name], "p", OnPage(1, piece.name, "d.dxf")).marks)
        assert ("CHECK" in said, "settled" in said) == (seen, not seen)


def test_what_a_shop_looks_at_are_rules_that_there_are() -> None:
    assert set(NAMES) >= OF_THE_CUTTING


def test_a_drawing_of_what_must_not_be_cut_yet_says_so_in_its_name_and_on_its_layers(tmp_path: Path) -> None:
    write_shop_pack(shop_pack([measured(), measured("Fell Top", "ahead")]), tmp_path / "out")
    found: dict[str, set[str]] = {}
    for row in rows((tmp_path / "out" / "cut-list.csv").read_bytes()):
        word = "WAIT_" if row["wait"] else "SIGN_FIRST_" if row["sign first"] else ""
        for name in (row["drawing"], row["drawing of open cut paths"]):
            assert ("_wait_face_mm" in name, "_sign_first_face_mm" in name) == (word == "WAIT_", word == "SIGN_FIRST_")
            drawing = read(io.StringIO((tmp_path / "out" / name).read_text(encoding="ascii")))
            assert drawing.header["$HYPERLINKBASE"] == Path(name).stem
            found.setdefault(word, set()).update(one.dxf.layer for one in drawing.modelspace())
    assert found.keys() == {"", "WAIT_", "SIGN_FIRST_"}
    usual = {"OUTER-NOMINAL", "INNER-NOMINAL", "OPEN-NOMINAL"}
    for word, layers in found.items():
        assert layers <= {f"{word}{name}" for name in usual}
        assert f"{word}OUTER-NOMINAL" in layers


def test_a_layer_with_a_word_before_it_is_one_that_the_oldest_dxf_takes() -> None:
    # 20 letters and SIGN_FIRST_ are 31; with 21 the shop's own names are too long, and ours stand there.
    twenty, more = ShopLayers("A" * 20, "B", "C", "D"), ShopLayers("A" * 21, "B", "C", "D")
    assert twenty.behind("SIGN_FIRST").outer == "SIGN_FIRST_" + "A" * 20
    assert (more.behind("SIGN_FIRST").outer, more.behind("SIGN_FIRST").inner) == (
        "SIGN_FIRST_OUTER-NOMINAL",
        "SIGN_FIRST_INNER-NOMINAL",
    )


def test_a_hole_is_listed_by_its_middle_and_a_cut_out_by_its_sides(tmp_path: Path) -> None:
    found = listed(tmp_path, measured())
    # The tap's middle is 150 left of V, on a tile from 301.5 to 1.5 left of it: 151.5 and 148.5 from its edges.
    assert "tap: dia 35, its middle from left 151.5, right 148.5, bottom 100, top 100" in found["row 1-2"]["holes"]
    # The socket, 165 to 235 read and 2 more all round: 163 - 1.5 and 237 - 1.5 on a tile that begins 1.5 right of V.
    assert "socket: hole 74 x 74, 161.5 to 235.5 from the left, 63 to 137 from the bottom" in found["row 1-3"]["holes"]


def left_piece(name: str, corners: Sequence[tuple[float, float]], *holes: Opening) -> CutPiece:
    sides, place = (Side.LEFT, Side.BOTTOM, Side.TOP), (int(name.rpartition("-")[2]), 0)
    kinds: list[CutKind] = ["hole" if hole.at.x < 120.0 else "edge notch" for hole in holes]
    return cut_piece(
        list(holes),
        W,
        H,
        at=(0.0, 0.0),
        name=name,
        tile=SLATE,
        kinds=kinds,
        trimmed_to=corners,
        factory=sides,
        place=place,
    )


def test_a_hole_is_drilled_where_it_lies_while_the_shared_tile_is_whole() -> None:
    # Two left halves out of one tile: one of them lies at the right, turned half round. Its 60, 75 are there 140 - 60
    # from its own left, 160 + 80 = 240 from the tile's, and 200 - 75 = 125 from the bottom.
    hole = opening("hot", Circle(35.0), 60.0, 75.0, core=35.0)
    made = shop_pack([planned(left_piece("a 1-1", LEFT_HALF, hole), left_piece("a 1-9", LEFT_HALF), pattern="none")])
    (tile,) = made.shared
    turn = next(one.at.turn for one in tile.lying if one.one.piece.name == "a 1-1")
    at = "240 from the left, 125 from the bottom" if turn else "60 from the left, 75 from the bottom"
    assert list(tile_words(made, tile)) == [
        f"1. hot of a 1-1: core 35 from the face, its middle {at}, while the tile is whole",
        "2. up, 140 from the left, right through",
        "3. up, 140 from the right, right through",
    ]
    for number in made.numbered:
        (way,) = ways_to_cut(made, number)
        assert (way.where, way.lines) == ("out of shared tile 1, in the order of shared-tiles.pdf", ())


def test_a_piece_waits_with_the_rest_of_its_tile(tmp_path: Path) -> None:
    # Both ends of the row come out of one tile. Of one the reading came back: it may be cut, and the tile may not.
    plan = measured()
    (end,) = [piece for piece in plan.pieces if piece.name == "row 1-1"]
    read = replace(plan, infills_found=(InfillFound(end.name, end.infills[0], end.infills[0].ends, False, "", ""),))
    made = shop_pack([read])
    (tile,) = made.shared
    assert {*tile.pieces} == {"row 1-1", "row 1-4"}
    assert tile_waits(tile) == ["WAIT"]
    row = listed(tmp_path, read)["row 1-1"]
    assert row["wait"] == "for the rest of shared tile 1"
    bold = (m for page in cut_list_pages(made) for m in page.marks if isinstance(m, Words) and m.bold)
    column = " ".join(mark.text for mark in bold if mark.at.x < 80.0)  # the names of the pieces
    assert "WAIT for the rest of shared tile 1" in column
    pages = PdfDocument(str(tmp_path / "out" / "drawings.pdf"))
    said = pages[int(row["number"]) - 1].get_textpage().get_text_range()
    assert "for the rest of shared tile 1: a tile is cut when each of its pieces may be" in said
    assert "may be cut" not in said


def test_a_tile_waits_for_a_piece_that_is_not_in_the_pack() -> None:
    both = left_piece("a 1-1", LEFT_HALF), left_piece("a 1-9", LEFT_HALF)
    (tile,) = shop_pack([planned(*both, pattern="none")]).shared
    alone = replace(tile, lying=tile.lying[:1])
    gone = tile.lying[1].one.piece.name
    assert tile_waits(alone) == [f"WAIT: {gone}, which comes out of it too, must not be cut yet"]


def test_a_hole_that_reaches_over_its_cut_is_drilled_once_the_piece_is_out() -> None:
    # About 140, 100, on the cut itself: 17.5 of it would go into what lies beside.
    hole = opening("hot", Circle(35.0), 140.0, 100.0, core=35.0)
    made = shop_pack([planned(left_piece("a 1-1", LEFT_HALF, hole), left_piece("a 1-9", LEFT_HALF), pattern="none")])
    (tile,) = made.shared
    assert tile.cores == ()
    number = next(one for one in made.numbered if one.first.piece.name == "a 1-1")
    (way,) = ways_to_cut(made, number)
    assert way.lines == ("1. hot: core 35 from the face, its middle 140 from the left, 100 from the bottom.",)
    assert f"3. a 1-1, cut out, by its own drawing no. {number.number}: core 35 from the face" in tile_words(made, tile)


def test_a_taper_with_another_piece_right_behind_the_kerf_is_cut_on_its_own() -> None:
    # 149 and 149 with the saw's 2 between are the tile: aslant the one cut would leave a wedge on the other piece.
    slanting = left_piece("a 1-1", ((0.0, 0.0), (149.0, 0.0), (147.0, 200.0), (0.0, 200.0)))
    other = trimmed("a 1-9", ((151.0, 0.0), (300.0, 0.0), (300.0, 200.0), (151.0, 200.0)), Side.LEFT)
    made = shop_pack([planned(slanting, other)])
    (tile,) = made.shared
    number = next(one for one in made.numbered if one.first.piece.name == "a 1-1").number
    assert list(tile_words(made, tile)) == [
        "1. up, 149 from the left, right through",
        f"2. a 1-1, cut out, by its own drawing no. {number}: saw 149 from the left at the bottom, 147 at the top of "
        "the whole tile",
    ]


def test_alike_pieces_out_of_many_tiles_name_the_tiles_alone() -> None:
    # Three left halves and three right halves, not to be turned: a pair of 140 + 2 + 140 out of each of three tiles.
    lefts = [trimmed(f"a 1-{n}", LEFT_HALF, Side.RIGHT) for n in (1, 2, 3)]
    rights = [trimmed(f"a 1-{n}", RIGHT_HALF, Side.LEFT) for n in (7, 8, 9)]
    made = shop_pack([planned(*lefts, *rights)])
    assert [offcut_words(made, number) for number in made.numbered] == ["3 out of shared tiles 1, 2, 3"] * 2
    assert [len(tile.pieces) for tile in made.shared] == [2, 2, 2]
    # Its own page has room for all: which piece comes out of which tile.
    for number in made.numbered:
        told = out_of_words(made, number)
        for n, tile in enumerate(made.shared, start=1):
            (name,) = {*tile.pieces} & {one.piece.name for one in number.pieces}
            assert f"{name} out of shared tile {n}" in told
