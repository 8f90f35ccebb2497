"""Shapes: their rings, their closed forms, and what is refused."""

from __future__ import annotations

import math

import pytest

from cutmarks.errors import GeometryError
from cutmarks.geometry.frames import Point, Tile
from cutmarks.geometry.rings import Ring, Vertex, as_circle
from cutmarks.geometry.shapes import Circle, Outline, Rect, Shape, Slot, area_of, ring_of
from tests.geometry.helpers import assert_vertices, bulge

AT: Point[Tile] = Point(100.0, 50.0)


@pytest.mark.parametrize(
    ("shape", "area"),
    [
        (Circle(50.0), 1963.495),  # pi 25^2
        (Rect(76.0, 78.0), 5928.0),
        (Rect(60.0, 40.0, r=5.0), 2378.540),  # 2400 - (4 - pi) 25
        (Rect(40.0, 40.0, r=20.0), 1256.637),  # a circle of 40
        (Slot(60.0, 20.0), 1114.159),  # 40 x 20 and a circle of 20
        (Slot(20.0, 20.0), 314.159),
        (Outline((Vertex(-10, 0), Vertex(10, 0, 1.0))), 157.080),  # half a circle of 20
    ],
)
@pytest.mark.parametrize("turn", [0.0, 90.0, 33.0, -120.0])
def test_the_closed_form_and_the_ring_have_the_same_area(shape: Shape, area: float, turn: float) -> None:
    assert area_of(shape) == pytest.approx(area, abs=0.001)
    assert ring_of(shape, AT, turn).area == pytest.approx(area, abs=0.001)


def test_a_round_hole() -> None:
    assert as_circle(ring_of(Circle(35.0), AT)) == (AT, 17.5)
    assert ring_of(Circle(35.0), AT, 17.0) == ring_of(Circle(35.0), AT)


def test_a_slot_as_long_as_wide_is_a_circle() -> None:
    assert as_circle(ring_of(Slot(20.0, 20.0), AT)) == (AT, 10.0)


def test_a_slot_stands_along_its_lean() -> None:
    # 60 long, leaning 90: from 20 to 80 upward, 20 wide.
    assert ring_of(Slot(60.0, 20.0, 90.0), AT).bounds == pytest.approx((90.0, 20.0, 110.0, 80.0))


def test_a_leaning_box_turns_counter_clockwise() -> None:
    # Lean 30 and turn 60 make a quarter turn: w stands up.
    assert_vertices(
        ring_of(Rect(40.0, 20.0, 30.0), AT, 60.0),
        [(110, 30), (110, 70), (90, 70), (90, 30)],
    )
    # The right end of a box leaning by +10 goes up.
    (_, lower_right, *_) = ring_of(Rect(40.0, 20.0, 10.0), AT).vertices
    assert lower_right.y == pytest.approx(50.0 + 20.0 * math.sin(math.radians(10)) - 10.0 * math.cos(math.radians(10)))


def test_rounded_corners() -> None:
    quarter = bulge(90.0)
    assert_vertices(
        ring_of(Rect(40.0, 20.0, r=4.0), AT),
        [
            (84, 40),
            (116, 40, quarter),
            (120, 44),
            (120, 56, quarter),
            (116, 60),
            (84, 60, quarter),
            (80, 56),
            (80, 44, quarter),
        ],
    )
    assert len(ring_of(Rect(40.0, 20.0, r=10.0), AT).vertices) == 6  # its ends are used up by the corners


def test_an_outline_comes_out_counter_clockwise() -> None:
    outline = Outline((Vertex(0, 0), Vertex(0, 10), Vertex(10, 10, -0.5)))
    ring = ring_of(outline, AT)
    assert ring.area == pytest.approx(area_of(outline))
    assert ring.area > 0.0


@pytest.mark.parametrize(
    ("make", "sentence"),
    [
        (lambda: Circle(0.0), "a round hole's diameter is 0; it must be more than 0"),
        (lambda: Circle(math.nan), "a round hole's diameter is nan; it must be more than 0"),
        (lambda: Rect(10.0, -1.0), "a box's height is -1; it must be more than 0"),
        (lambda: Rect(10.0, 8.0, r=4.5), "a box 10 x 8 has a corner radius of 4.5; 0 to 4 is possible"),
        (lambda: Rect(10.0, 8.0, math.inf), "a box's lean is inf; it must be an ordinary number of degrees"),
        (
            lambda: Slot(10.0, 12.0),
            "a slot is 10 long and 12 wide; the length over all must not be under the width",
        ),
        (lambda: Slot(math.inf, 12.0), "a slot's length is inf; it must be more than 0"),
    ],
)
def test_what_no_shape_can_be(make: object, sentence: str) -> None:
    assert callable(make)
    with pytest.raises(GeometryError) as refused:
        make()
    assert str(refused.value) == sentence


def test_shapes_take_turns_of_any_size() -> None:
    ring: Ring[Tile] = ring_of(Rect(40.0, 20.0), AT, 360.0)
    assert_vertices(ring, [(80, 40), (120, 40), (120, 60), (80, 60)])
