"""Which edges stand on the paper with each cut, and how far the paper may be out there."""

from __future__ import annotations

import pytest

from cutmarks.geometry.shapes import Circle, Rect
from cutmarks.registering import PAPERS, Registration, error_at, register
from cutmarks.registering.layouts import fields_of
from cutmarks.registering.paper import SAFE_MARGIN
from cutmarks.sides import Side
from tests.handmade import cut_piece, opening, w1_piece
from tests.worked.figures import W5_TRIMMED


@pytest.mark.parametrize(
    ("name", "width", "height"),
    [
        ("A4", 210.0, 297.0),  # ISO 216
        ("A3", 297.0, 420.0),  # ISO 216
        ("Letter", 8.5 * 25.4, 11 * 25.4),  # ASME Y14.1 size A
        ("Tabloid", 11 * 25.4, 17 * 25.4),  # ASME Y14.1 size B
        ("any", 210.0, 11 * 25.4),  # the narrower of A4 and Letter by the shorter of them
    ],
)
def test_paper_sizes_are_those_of_the_standards(name, width, height):
    assert PAPERS[name].width == pytest.approx(width, abs=1e-9)
    assert PAPERS[name].height == pytest.approx(height, abs=1e-9)


def test_the_fixed_corner_comes_first():
    assert register([w1_piece()], "A4") == (Registration("splash 3-7", "corner", (Side.LEFT, Side.BOTTOM), (0,)),)


def test_a_hole_beyond_the_fixed_corner_takes_another_factory_corner():
    # 250 from the left of a 298 tile is 48 from its right; A4 is 190 wide inside its margins.
    piece = cut_piece([opening("a", Circle(20.0), 250.0, 60.0)], 298.0, 598.0, at=(0.0, 0.0))
    (sheet,) = register([piece], "A4")
    assert (sheet.how, sheet.edges) == ("corner", ("right", "bottom"))


def test_a_sawn_edge_is_not_lined_up_on_while_a_factory_edge_can_be_taped_from():
    piece = cut_piece(
        [opening("a", Circle(20.0), 250.0, 60.0)],
        298.0,
        598.0,
        at=(0.0, 0.0),
        factory=(Side.LEFT, Side.BOTTOM, Side.TOP),
        cut_edges=(Side.RIGHT,),
    )
    (sheet,) = register([piece], "A4")
    assert (sheet.how, sheet.edges, sheet.tape) == ("edge", ("bottom",), ("left",))


def test_the_middle_of_a_large_tile_is_laid_by_tape_alone():
    piece = cut_piece([opening("a", Circle(60.0), 600.0, 300.0)], 1200.0, 600.0, at=(0.0, 0.0))
    (sheet,) = register([piece], "A4")
    assert (sheet.how, sheet.edges, sheet.tape) == ("centre", (), ("left", "bottom"))
    assert sheet.lines == (600.0, 300.0)


def test_a_box_that_is_larger_than_the_paper_is_taped_to_its_near_corner():
    # 700 x 620 about 619 and 560: from 269 to 969 across and from 250 to 870 up. The whole of it takes more than six
    # joined sheets of A4. The tape goes to the sides themselves: 1 for the tape and 0.25 for the line.
    piece = cut_piece([opening("duct", Rect(700.0, 620.0), 619.0, 560.0)], 1198.0, 1198.0, at=(0.0, 0.0))
    (sheet,) = register([piece], "A4")
    assert (sheet.how, sheet.tape, sheet.lines) == ("centre", ("left", "bottom"), (269.0, 250.0))
    assert error_at(piece, piece.cuts[0], sheet) == pytest.approx(1.25)
    # A round one is swung from its middle, and one that fits is laid by its middle.
    for shape in (Circle(500.0), Rect(120.0, 150.0)):
        piece = cut_piece([opening("flue", shape, 619.0, 560.0)], 1198.0, 1198.0, at=(0.0, 0.0))
        (sheet,) = register([piece], "A4")
        assert sheet.lines == (619.0, 560.0)


def test_cuts_that_reach_one_corner_share_its_sheet_and_others_get_their_own():
    piece = cut_piece(
        [
            opening("near", Circle(20.0), 40.0, 60.0),
            opening("far", Circle(20.0), 560.0, 60.0),
            opening("beside", Circle(20.0), 120.0, 60.0),
        ],
        597.0,
        297.0,
        at=(0.0, 0.0),
    )
    assert [(sheet.edges, sheet.cuts) for sheet in register([piece], "A4")] == [
        (("left", "bottom"), (0, 2)),
        (("right", "bottom"), (1,)),
    ]


def test_holes_beside_one_edge_share_a_sheet_only_as_far_as_the_paper_goes():
    # 18 mm apart cost 0.09 mm on one sheet, which is less than a sheet is worth (0.1); 50 mm would cost 0.25.
    spots = (400.0, 418.0, 468.0)
    piece = cut_piece([opening(f"at {x:.0f}", Circle(20.0), x, 60.0) for x in spots], 1198.0, 598.0, at=(0.0, 0.0))
    sheets = register([piece], "A4")
    assert [(sheet.how, sheet.cuts) for sheet in sheets] == [("edge", (0, 1)), ("edge", (2,))]


@pytest.mark.parametrize("paper", sorted(PAPERS))
def test_every_cut_is_on_exactly_one_sheet(paper):
    spots = [(x, y) for x in (30.0, 200.0, 400.0, 600.0, 850.0, 1170.0) for y in (30.0, 300.0, 570.0)]
    piece = cut_piece([opening(f"{x:.0f} {y:.0f}", Circle(20.0), x, y) for x, y in spots], 1198.0, 598.0, at=(0.0, 0.0))
    shown = sorted(index for sheet in register([piece], paper) for index in sheet.cuts)
    assert shown == list(range(len(spots)))


@pytest.mark.parametrize(
    ("wide", "how", "edges"), [(898.0, "corner", ("left", "bottom")), (800.0, "edge", ("bottom",))]
)
def test_a_cut_larger_than_the_paper_is_lined_up_on_where_it_begins(wide, how, edges):
    piece = cut_piece(
        [opening("bath", Rect(wide, 400.0), 599.0, 150.0)], 1198.0, 598.0, at=(0.0, 0.0), kinds=["edge notch"]
    )
    (sheet,) = register([piece], "A4")
    # 350 high from the lower edge on: it begins on the paper. 898 wide it begins 150 from either side, so that 21.5
    # of it are within the 171.5 that A4 reaches; 800 wide it begins at 199, and its middle is laid by tape.
    assert (sheet.how, sheet.edges) == (how, edges)


def test_a_piece_that_is_only_trimmed_has_no_template():
    trimmed = cut_piece([], 448.0, 448.0, trimmed_to=W5_TRIMMED)
    assert register([trimmed], "A4") == ()


def test_an_unknown_paper_is_refused():
    with pytest.raises(KeyError):
        register([w1_piece()], "foolscap")


def test_the_error_at_a_hole_is_distance_by_scale_plus_lining_up_plus_line():
    piece = w1_piece()
    (sheet,) = register([piece], "A4")
    # By hand: the farther measure is 112.5; 0.5 % of it is 0.5625, and 0.3 + 0.25.
    assert error_at(piece, piece.cuts[0], sheet) == pytest.approx(0.5625 + 0.55)


def test_an_edge_that_is_not_the_fixed_one_adds_the_spread_of_a_measured_tile():
    piece = cut_piece([opening("a", Circle(20.0), 250.0, 20.0)], 298.0, 598.0, at=(0.0, 0.0))
    (sheet,) = register([piece], "A4")
    # 48 from the right edge: 0.24 + 0.55, and 0.5 for the size of a tile that was measured.
    assert error_at(piece, piece.cuts[0], sheet) == pytest.approx(0.24 + 0.55 + 0.5)


def test_a_measure_by_tape_is_one_millimetre_and_the_line():
    piece = cut_piece([opening("a", Circle(60.0), 600.0, 300.0)], 1200.0, 600.0, at=(0.0, 0.0))
    (sheet,) = register([piece], "A4")
    # Common practice, no published source: 1 for marking by tape, 0.25 for the printed line.
    assert error_at(piece, piece.cuts[0], sheet) == pytest.approx(1.25)


@pytest.mark.parametrize("paper", sorted(PAPERS))
def test_what_a_paper_reaches_lies_inside_its_safe_area(paper):
    size = PAPERS[paper]
    upright, turned = fields_of(size)
    for field, wide, high in ((upright, size.width, size.height), (turned, size.height, size.width)):
        assert 0.0 < field.reach("across") < wide - 2 * SAFE_MARGIN
        assert 0.0 < field.reach("up") < high - 2 * SAFE_MARGIN


def mixer(spare):
    """Hot and cold 150 apart in a tile 598 x 298, 224 from either side and 112 up: the ends of a bar mixer."""
    pipes = [
        opening(name, Circle(32.0), x, 112.0, core=32.0, you_may_be=spare)
        for name, x in (("hot", 224.0), ("cold", 374.0))
    ]
    return cut_piece(pipes, 598.0, 298.0, at=(0.0, 0.0))


def test_two_pipes_that_keep_their_spacing_stand_on_one_sheet_and_are_taped_once():
    # 224 from either side is out of reach of both layouts (171.5 and 174.5 less half a core): by tape. 150 and 32 are
    # 182, and a sheet shows 183 of the tile.
    (sheet,) = register([mixer(8.5)], "A4")
    assert (sheet.how, sheet.edges, sheet.tape, sheet.cuts) == ("edge", ("bottom",), ("left",), (0, 1))
    assert sheet.lines == (224.0,)
    # The first by the tape alone; the second 150 x 0.5 % more.
    piece = mixer(8.5)
    assert [error_at(piece, cut, sheet) for cut in piece.cuts] == pytest.approx([1.25, 2.0])


def test_pipes_that_may_not_be_so_far_off_get_a_sheet_each():
    # On one sheet the second would be 2 off, by the sum above.
    assert [sheet.cuts for sheet in register([mixer(1.9)], "A4")] == [(0,), (1,)]
    assert [sheet.cuts for sheet in register([mixer(2.1)], "A4")] == [(0, 1)]


def test_no_sheet_has_more_than_two_cuts():
    spots = [(x, y) for x in (30.0, 70.0, 110.0) for y in (30.0, 70.0, 110.0)]
    piece = cut_piece([opening(f"{x:.0f} {y:.0f}", Circle(20.0), x, y) for x, y in spots], 298.0, 298.0, at=(0.0, 0.0))
    sheets = register([piece], "A4")
    assert sorted(index for sheet in sheets for index in sheet.cuts) == list(range(9))
    assert sorted(len(sheet.cuts) for sheet in sheets) == [1, 2, 2, 2, 2]
