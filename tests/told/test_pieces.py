"""Pieces: their sizes at either end, which edges the saw made, what makes an old print stale, what goes to the shop."""

from __future__ import annotations

import math
from collections.abc import Callable
from fractions import Fraction
from typing import Any

import pytest
from msgspec.structs import replace

from cutmarks.checks.pieces import hidden_of
from cutmarks.cutting.paths import cutting_of
from cutmarks.fixing.model import ReadFrom
from cutmarks.geometry.frames import Placement, Surface, Tile
from cutmarks.geometry.shapes import Circle, Rect
from cutmarks.openings.edge_work import EdgeWork
from cutmarks.openings.model import Cover, CutPiece
from cutmarks.openings.prints import print_of
from cutmarks.registering import error_at, register
from cutmarks.saying.figures import trimmed_size
from cutmarks.sides import Side
from cutmarks.units import Style, Unit
from cutmarks.writers import dxf
from cutmarks.writers.dxf_verify import DxfFault
from tests.handmade import cut_piece, opening, plan_of, w1_piece
from tests.told.walls import hole_rows, piece_rows, wall

HALVES = Style(Unit.MM, Fraction(1, 2))


def trimmed(bottom: float, top: float) -> CutPiece:
    """A piece 198 high, so wide at its bottom and at its top."""
    corners = ((0.0, 0.0), (bottom, 0.0), (top, 198.0), (0.0, 198.0))
    return cut_piece([], 298.0, 198.0, trimmed_to=corners, cut_edges=(Side.RIGHT,))


def test_of_nearly_one_size_the_smaller_is_said() -> None:
    # 0.9 apart is one size, and it has to go in: the smaller end, rounded down.
    assert trimmed_size(trimmed(120.9, 120.0), HALVES, 1.0) == ["120 x 198"]
    assert trimmed_size(trimmed(120.0, 120.9), HALVES, 1.0) == ["120 x 198"]


def test_one_millimetre_apart_is_two_sizes() -> None:
    assert trimmed_size(trimmed(121.0, 120.0), HALVES, 1.0) == ["121 at the bottom", "120 at the top", "198 high"]


def test_a_piece_that_is_sawn_at_its_foot_or_its_left_is_measured_between_its_edges() -> None:
    # From its own corner up, not from the whole tile's: 198 - 50 and 198 - 60; 298 - 50 and 298 - 60.
    foot = ((0.0, 50.0), (298.0, 60.0), (298.0, 198.0), (0.0, 198.0))
    left = ((50.0, 0.0), (298.0, 0.0), (298.0, 198.0), (60.0, 198.0))
    for corners, side, said in (
        (foot, Side.BOTTOM, ["298 wide", "148 at the left", "138 at the right"]),
        (left, Side.LEFT, ["248 at the bottom", "238 at the top", "198 high"]),
    ):
        piece = cut_piece([], 298.0, 198.0, trimmed_to=corners, cut_edges=(side,))
        assert trimmed_size(piece, HALVES, 1.0) == said


def test_what_hides_a_piece_counts_along_its_own_axis() -> None:
    hides = {Side.LEFT: 3.0, Side.RIGHT: 5.0, Side.BOTTOM: 12.0, Side.TOP: 20.0}
    work = tuple(EdgeWork(side, "edge", hidden_by="strip", hidden=mm) for side, mm in hides.items())
    piece = replace(w1_piece(), edge_work=work)
    assert (hidden_of(piece, "wide"), hidden_of(piece, "high")) == (8.0, 32.0)


def test_a_sawn_edge_is_told_from_a_makers_edge() -> None:
    # The wall ends 150 right of V and 130 left of it, gaps 2: the tile 1 to 299 is sawn at 148 on the right, that from
    # -299 to -1 at -128 on the left; courses 0 to 198 and 200 to 398 are whole, the third is sawn at 500 - 2.
    edges = (
        "left: {at: 130 left of V, true: plumb, gap: 2}, right: {at: 150 right of V, true: plumb, gap: 2}, "
        "top: {at: 500 above B, true: level, gap: 2}"
    )
    pipe = "what: 15 copper, across: centre 70 right of V, up: centre 100 above B, cover: 65, end: comes off"
    rows = {row["piece"]: (row["factory edges"], row["cut edges"]) for row in piece_rows(wall(pipe, edges=edges))}
    assert rows["field 1-1"] == ("right, bottom, top", "left")
    assert rows["field 1-2"] == ("left, bottom, top", "right")
    assert rows["field 3-1"] == ("right, bottom", "left, top")
    assert rows["field 3-2"] == ("left, bottom", "right, top")


def test_a_bottom_edge_that_was_sawn_is_told_from_the_makers() -> None:
    # The worktop is 100 below B, gap 2: under the course that stands on B the tile from -200 to -2 is sawn at -98.
    edges = (
        "left: {at: 0 right of V, true: plumb, gap: 1}, right: {at: 600 right of V, true: plumb, gap: 1}, "
        "bottom: {at: 100 below B, what: worktop, true: level, gap: 2}, top: {at: 600 above B, true: level, gap: 2}"
    )
    rows = piece_rows(wall(area="start: {across: joint on V, up: sits on B}", edges=edges))
    under = [row for row in rows if not row["holes"]]
    assert len(under) == 2
    for row in under:
        assert (row["factory edges"], row["cut edges"]) == ("left, right, top", "bottom")
        assert row["height at left mm"] == "96"


@pytest.mark.parametrize("turn", [45.0, 30.0])
def test_a_box_on_a_turned_tile_is_read_by_its_width_along_the_tile(turn: float) -> None:
    # 40 wide and 20 high, level, on tiles turned by a: along the tile's lower side it spans 40 cos a + 20 sin a, along
    # its upright side 40 sin a + 20 cos a: 42.43 either way at 45 degrees, 44.64 and 37.32 at 30.
    at = "across: centre 210 right of V, up: centre 620 above B"
    box = f"what: socket, size: 40 x 20, {at}, cover: none, end: comes off"
    rows = hole_rows(wall(box, area=f"turn: {turn:g}, start: joint crossing on V and B"))
    cos, sin = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    for way, wide in (("across", 40.0 * cos + 20.0 * sin), ("up", 40.0 * sin + 20.0 * cos)):
        read = [(row[f"wall {way} near mm"], row[f"wall {way} far mm"]) for row in rows if row[f"wall {way} near mm"]]
        assert read
        for near, far in read:
            assert float(far) - float(near) == pytest.approx(wide, abs=2e-3)


def test_a_notch_is_as_far_off_as_its_far_side() -> None:
    # A notch 60 x 60 over the left edge, its middle 10 in from it: it ends 40 from that edge. Of the paper's error the
    # part that grows with the distance is that at 40, not at 10: against a hole with its middle at 40 no difference.
    size = 400.0
    notch = cut_piece([opening("box", Rect(60.0, 60.0), 10.0, 10.0)], size, size, at=(0.0, 0.0), kinds=["corner notch"])
    hole = cut_piece([opening("pipe", Circle(20.0), 40.0, 40.0)], size, size, at=(0.0, 0.0))
    near = cut_piece([opening("pipe", Circle(20.0), 10.0, 10.0)], size, size, at=(0.0, 0.0))
    errors = []
    for piece in (notch, hole, near):
        (sheet,) = register([piece], "A4")
        errors.append(error_at(piece, piece.cuts[0], sheet))
    assert errors[0] == pytest.approx(errors[1])
    assert errors[0] > errors[2] + 1e-6


def _tile(**values: Any) -> Callable[[CutPiece], CutPiece]:
    return lambda piece: replace(piece, piece=replace(piece.piece, tile=replace(piece.piece.tile, **values)))


def _cut(**values: Any) -> Callable[[CutPiece], CutPiece]:
    return lambda piece: replace(piece, cuts=(replace(piece.cuts[0], **values),))


def _opening(**values: Any) -> Callable[[CutPiece], CutPiece]:
    return lambda piece: replace(
        piece, cuts=(replace(piece.cuts[0], opening=replace(piece.cuts[0].opening, **values)),)
    )


def _check(**values: Any) -> Callable[[CutPiece], CutPiece]:
    """One of its two readings otherwise, the other as it was."""

    def changed(piece: CutPiece) -> CutPiece:
        first, *others = piece.cuts[0].wall_checks
        return _cut(wall_checks=(replace(first, **values), *others))(piece)

    return changed


@pytest.mark.parametrize(
    "change",
    [
        _tile(w=249.0),
        _tile(h=399.0),
        _opening(cover=Cover(60.0, 60.0, True)),
        _opening(cover=Cover(65.0, 65.0, False)),
        _opening(cover=None),
        _opening(shape=Circle(36.0)),
        _opening(core=34.0),
        _cut(mark_from=(Side.RIGHT, Side.BOTTOM)),
        _cut(mark_from=(Side.LEFT, Side.TOP)),
        _check(near=69.5),
        _check(far=84.5),
        _check(source=ReadFrom("piece", "splash 3-8")),
        _check(source=ReadFrom("line", "splash 3-6")),
        _check(side=Side.RIGHT),
        _cut(wall_checks=()),
        _cut(from_cut_edges=((Side.RIGHT, 170.0),)),
    ],
)
def test_what_a_sheet_shows_makes_it_stale(change: Callable[[CutPiece], CutPiece]) -> None:
    piece = w1_piece()
    assert print_of(change(piece)) != print_of(piece)


def test_each_side_of_an_oblong_cover_makes_it_stale() -> None:
    over = _opening(cover=Cover(147.0, 86.0, False))(w1_piece())
    for cover in (Cover(146.0, 86.0, False), Cover(147.0, 87.0, False), Cover(86.0, 147.0, False)):
        assert print_of(_opening(cover=cover)(over)) != print_of(over)


def test_what_a_sheet_does_not_show_leaves_it_good() -> None:
    piece = w1_piece()
    at: Placement[Tile, Surface] = Placement(dx=9.0, dy=9.0)
    assert print_of(replace(piece, piece=replace(piece.piece, tile_at=at))) == print_of(piece)


def test_a_drawing_that_is_not_the_piece_never_goes_out(monkeypatch: pytest.MonkeyPatch) -> None:
    # The contours of another tile, a millimetre narrower, under the right name.
    plan = plan_of([cut_piece([opening("riser", Circle(35.0), 325.5, 912.5)], 248.0, 398.0)])
    narrow = cut_piece([opening("riser", Circle(35.0), 325.5, 912.5)], 247.0, 398.0).outline
    write = dxf.closed_dxf
    monkeypatch.setattr(dxf, "closed_dxf", lambda _, name, *__: write(cutting_of(narrow, 247.0, 398.0, 5.0), name))
    with pytest.raises(DxfFault):
        list(dxf.dxf_files(plan))


def test_open_paths_that_are_not_the_pieces_never_go_out(monkeypatch: pytest.MonkeyPatch) -> None:
    # A hole that is 2 wider, under the right name.
    plan = plan_of([cut_piece([opening("riser", Circle(35.0), 325.5, 912.5)], 248.0, 398.0)])
    wide = cut_piece([opening("riser", Circle(37.0), 325.5, 912.5)], 248.0, 398.0).outline
    write = dxf.open_dxf
    monkeypatch.setattr(dxf, "open_dxf", lambda _, name, *__: write(cutting_of(wide, 248.0, 398.0, 5.0), name))
    with pytest.raises(DxfFault):
        list(dxf.dxf_files(plan))
