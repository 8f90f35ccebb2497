"""What is done to a piece, in words: W3 and W6 by hand."""

from __future__ import annotations

from fractions import Fraction

import pytest
from msgspec.structs import replace

from cutmarks.geometry.regions import region
from cutmarks.geometry.rings import polygon
from cutmarks.plan import Plan
from cutmarks.saying.figures import four_measures, trimmed_size
from cutmarks.saying.measures import figures_of, figures_shown
from cutmarks.saying.pieces import runs_out_words, shape_words
from cutmarks.units import Style, Unit
from tests.handmade import cut_piece
from tests.sheets.jobs import W6, plan_of

MM = Style()

W2 = """
    job: A box that is not level
    tiles: {flat: {size: 597 x 297, measured: yes}}
    surfaces:
      - name: wall
        kind: wall
        lines: {V: "plumb, middle of the sink", B: "level, top of the batten"}
        areas:
          - {name: field, tile: flat, joint: 3, bond: half, from: B, start: {across: middle on V, up: sits on B}}
        holes:
          - {name: socket, what: socket box, size: 72 x 74, across: centre 412 left of V, up: centre 1334 above B}
    """

W3 = """
    job: A crossing
    tiles: {tall: {size: 298 x 598, measured: yes}}
    surfaces:
      - name: wall
        kind: wall
        lines: {V: "plumb, middle of the sink", B: "level, top of the batten"}
        areas:
          - {name: field, tile: tall, joint: 2, start: {across: joint on V, up: sits on B}}
        holes:
          - {name: stack, what: 40 waste, opening: 50, across: centre 5 left of V, up: centre 1795 above B}
    """


def piece(plan: Plan, name: str):
    return next(one for one in plan.pieces if one.name == name)


def at_place(plan: Plan, place: tuple[int, int]):
    return next(one for one in plan.pieces if one.piece.place == place)


@pytest.mark.parametrize(
    ("name", "words"),
    [
        # 3-3 lies 148.5 left to 148.5 right of V, 200 to 397 above B; the window with its gap begins at 97 and 347
        ("field 2-3", "L cut, the top right corner goes: 245½ stays from the left edge, 147 from the lower edge"),
        # 6-4 lies 1.5 to 298.5 right of V, 800 to 957 above B (its top is cut); the window ends at 853
        (
            "field 5-4",
            "L cut, the bottom right corner goes: 95½ stays from the left edge, 104 from the upper (cut) edge",
        ),
        # 3-5 begins 451.5 right of V: the window ends at 503, 748.5 - 503 is more than the edge leaves: 697 - 503 = 194
        ("field 2-5", "L cut, the top left corner goes: 194 stays from the right (cut) edge, 147 from the lower edge"),
        ("field 4-3", ""),
        ("field 1-1", ""),
    ],
)
def test_l_cuts_are_told_by_what_stays(name: str, words: str):
    assert shape_words(piece(plan_of(W6), name), MM) == words


@pytest.mark.parametrize(
    ("name", "size"),
    [
        ("field 1-1", ["95½ x 197"]),
        ("field 1-6", ["95½ x 197"]),
        ("field under 1-1", ["245½ x 142"]),
        ("field 2-4", ["297 x 147"]),
        ("field 3-5", ["95½ x 197"]),
        ("field 4-3", ["245½ x 197"]),
        ("field 2-3", ["297 x 197 over all"]),
    ],
)
def test_sizes(name: str, size: list[str]):
    assert trimmed_size(piece(plan_of(W6), name), MM, 1.0) == size


def shaped(*corners: tuple[float, float]):
    """A trimmed piece of that outline."""
    trimmed = piece(plan_of(W6), "field 1-1")
    return replace(trimmed, piece=replace(trimmed.piece, outline=region(polygon(corners))))


def test_a_piece_that_ends_in_a_point_is_told_over_all_with_its_corners():
    # 172.8 wide below, and its highest place is a point: no figure at the top can be given.
    found = shaped((0, 0), (172.8, 0), (191.1, 18.2), (0, 209.3))
    assert trimmed_size(found, MM, 1.0) == ["191 x 209 over all"]
    assert shape_words(found, MM).endswith("whole tile: 0 / 0, 173 / 0, 191 / 18, 0 / 209½")


def test_four_sides_are_named_up_to_twenty_degrees_of_rake():
    # 30 in 100 is 17 degrees, 40 in 100 is 22
    assert trimmed_size(shaped((0, 0), (100, 0), (100, 70), (0, 100)), MM, 1.0) == [
        "100 wide",
        "100 at the left",
        "70 at the right",
    ]
    assert trimmed_size(shaped((0, 0), (100, 0), (100, 60), (0, 100)), MM, 1.0) == ["100 x 100 over all"]


def test_a_size_a_hair_under_a_step_is_that_step():
    # 23 5/8 x 25.4 is 600.075. Two places each half of 0.000001 out make it 600.074999; 600.07 is 23 19/32 and more.
    inches = Style(Unit.INCH, Fraction(1, 32))
    for width, said in ((600.074999, "23 5/8"), (600.07, "23 19/32")):
        # 12 x 25.4 is 304.8
        found = shaped((0, 0), (width, 0), (width, 304.8), (0, 304.8))
        assert trimmed_size(found, inches, 1.0) == [f"{said} x 12"]


def test_a_middle_off_the_tile_is_said_in_words():
    # W3: below right the centre is 6 left of the tile and 595 up; 298 + 6 = 304 from its right edge
    right = at_place(plan_of(W3), (0, 2))
    (cut,) = right.cuts
    assert four_measures(cut, right, MM) == {"left": "6 outside", "right": "304", "bottom": "595", "top": "3"}


@pytest.mark.parametrize(
    ("place", "words"),
    [
        # W3's table: 570.32, 269.18; 570.73, 18.82; 19.68, 269.51; 19.27, 18.49, to the nearest half
        ((-1, 2), ["right edge: from 570½ to the top", "top edge: from 269 to the right"]),
        ((0, 2), ["left edge: from 570½ to the top", "top edge: from the left to 19"]),
        ((-1, 3), ["right edge: from the bottom to 19½", "bottom edge: from 269½ to the right"]),
        ((0, 3), ["left edge: from the bottom to 19½", "bottom edge: from the left to 18½"]),
    ],
)
def test_where_a_notch_meets_the_edges(place: tuple[int, int], words: list[str]):
    found = at_place(plan_of(W3), place)
    (cut,) = found.cuts
    assert runs_out_words(cut, found, MM) == words


def test_the_sides_of_a_box():
    # W2 with its level bounding box: x 448.5 to 524.5, y 95 to 173 on a tile of 597 x 297
    plan = plan_of(W2)
    (found,) = plan.pieces
    (cut,) = found.cuts
    shown = {side: figures_shown(one, found, MM) for side, one in figures_of(cut, found).items()}
    assert shown == {"left": "448½ to 524½", "right": "72½ to 148½", "bottom": "95 to 173", "top": "124 to 202"}


NOTCHED = """
    job: Legs and rakes
    tiles: {wide: {size: 600 x 300, measured: yes}}
    surfaces:
      - name: wall
        kind: wall
        lines: {V: "plumb, left end", B: "level, lower end"}
        edges:
          left: {at: 3 left of V, true: plumb, still to come: 0}
          right: [1216 right of V at B, 1196 right of V at 300 above B]
          bottom: {at: 3 below B, true: level, still to come: 0}
          top: {at: 905 above B, true: level, still to come: 0}
        gaps: {left: 3, right: 3, bottom: 3, top: 3}
        doors:
          - {name: leg, across: 200 to 260 right of V, up: 3 below to 90 above B, gap: 2}
        niches:
          - {name: niche, across: 550 to 700 right of V, up: 400 to 450 above B, gap: 2}
        areas:
          - {name: field, tile: wide, joint: 3, start: {across: left on V, up: sits on B}}
        holes: []
    """


@pytest.mark.parametrize(
    ("place", "words"),
    [
        # The leg with its gap takes 198 to 262 of the tile's lower edge, 92 high: 600 - 262 = 338, 300 - 92 = 208
        ((0, 0), "U cut in the bottom: 198 stays on the left, 338 on the right, 208 above it"),
        # The niche with its gap begins at 548 and reaches from 398 to 452; the second course lies 303 to 603:
        # 398 - 303 = 95 below, 603 - 452 = 151 above
        ((0, 1), "U cut in the right side: 95 stays below, 151 above, 548 beside it"),
        # and on the tile from 603 on it takes 702 - 603 = 99 of the left side. Its right side is raking: corners.
        # The right edge less its gap runs from 1213 at B to 1193 at 300; the tile ends at 603 + 600 = 1203,
        # which the edge crosses at 150 above B
        (
            (1, 0),
            "corners, from the left / from the bottom of the whole tile: 0 / 0, 600 / 0, 600 / 150, 590 / 300, 0 / 300",
        ),
    ],
)
def test_u_cuts_and_other_outlines(place: tuple[int, int], words: str):
    assert shape_words(at_place(plan_of(NOTCHED), place), MM) == words


def test_what_rounding_takes_off_a_corner_is_not_a_half_millimetre_less():
    # An L cut whose corner the kernel has a millionth of a mm short of 200 and 300: 200 and 300 stay, and not 199½.
    corner = (200.0 - 1e-6, 300.0 - 1e-6)
    outline = ((0.0, 0.0), (397.0, 0.0), (397.0, corner[1]), corner, (corner[0], 597.0), (0.0, 597.0))
    cut = cut_piece([], 397.0, 597.0, trimmed_to=outline)
    assert shape_words(cut, Style()).endswith("200 stays from the left edge, 300 from the lower edge")
