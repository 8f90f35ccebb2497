"""Lines clipped to the paper: lengths by hand, arcs about their own centre."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest

from cutmarks.geometry.edges import Arc, Bounds, edge_between
from cutmarks.geometry.frames import Point, Tile
from cutmarks.geometry.rings import Vertex
from cutmarks.marks.clip import clipped, clipped_circle
from cutmarks.marks.model import CircleMark, Role, Stroke, line, rectangle

VIEW = Bounds(0.0, 0.0, 100.0, 100.0)


def edges_of(strokes):
    for stroke in strokes:
        path = (*stroke.path, stroke.path[0]) if stroke.closed else stroke.path
        for start, end in pairwise(path):
            yield edge_between(start.x, start.y, end.x, end.y, start.bulge)


def test_a_line_inside_is_left_as_it_is():
    inside: Stroke[Tile] = line(10.0, 10.0, 90.0, 20.0, Role.CUT)
    assert list(clipped(inside, VIEW)) == [inside]


def test_a_line_across_is_cut_at_both_sides():
    across: Stroke[Tile] = line(-50.0, 0.0, 150.0, 100.0, Role.CUT)
    (part,) = clipped(across, VIEW)
    # By hand: it rises 1 in 2, so that it enters at (0, 25) and leaves at (100, 75).
    assert part.path == (Vertex(0.0, 25.0), Vertex(100.0, 75.0))


def test_a_line_outside_leaves_nothing():
    outside: Stroke[Tile] = line(-50.0, -1.0, 150.0, -1.0, Role.CUT)
    assert list(clipped(outside, VIEW)) == []


def test_a_rectangle_over_a_corner_leaves_one_path_of_two_sides():
    over: Stroke[Tile] = rectangle(80.0, 80.0, 50.0, 50.0, Role.COVER)
    (part,) = clipped(over, VIEW)
    assert {(v.x, v.y) for v in part.path} == {(80.0, 100.0), (80.0, 80.0), (100.0, 80.0)}
    assert not part.closed


def test_a_circle_inside_stays_a_circle():
    circle: CircleMark[Tile] = CircleMark(Point(50.0, 50.0), 30.0, Role.CUT)
    assert list(clipped_circle(circle, VIEW)) == [circle]


def test_a_circle_over_an_edge_leaves_one_arc_about_its_own_centre():
    circle: CircleMark[Tile] = CircleMark(Point(10.0, 50.0), 25.0, Role.COVER)
    parts = list(clipped_circle(circle, VIEW))
    arcs = list(edges_of(parts))
    assert len(parts) == 1
    assert all(isinstance(arc, Arc) for arc in arcs)
    for arc in arcs:
        assert (arc.cx, arc.cy, arc.radius) == pytest.approx((10.0, 50.0, 25.0))
    # By hand: the edge is 10 from the centre, so that 2 acos(10 / 25) of the turn is cut off.
    assert sum(arc.length for arc in arcs) == pytest.approx(25.0 * (2 * math.pi - 2 * math.acos(0.4)))


def test_a_circle_over_all_four_sides_leaves_four_arcs():
    circle: CircleMark[Tile] = CircleMark(Point(50.0, 50.0), 60.0, Role.COVER)
    parts = list(clipped_circle(circle, VIEW))
    # By hand: each side is 50 from the centre and cuts off 2 acos(50 / 60).
    expected = 60.0 * (2 * math.pi - 8 * math.acos(50.0 / 60.0))
    assert len(parts) == 4
    assert sum(arc.length for arc in edges_of(parts)) == pytest.approx(expected)
