"""Sides named by what they point at."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from cutmarks.fixing.model import ReadFrom
from cutmarks.geometry.frames import Point
from cutmarks.geometry.shapes import Circle
from cutmarks.openings.model import Unread, WallCheck
from cutmarks.saying.edges import course_beside, edge_names, plumb_turn, read_from, unread_words
from cutmarks.setout.model import SurfaceEdge
from cutmarks.sides import Side
from tests.handmade import cut_piece, opening, plan_of


def tile(at, **more):
    x, y = at
    return cut_piece([opening("a", Circle(20.0), x + 60.0, y + 60.0)], 248.0, 398.0, at=at, **more)


def test_right_of_v_the_left_edge_points_towards_it():
    piece = tile((251.0, 800.0))
    assert edge_names(plan_of([piece]), piece) == {
        "left": "LEFT edge (towards V)",
        "right": "RIGHT edge (away from V)",
        "bottom": "lower edge",
        "top": "upper edge",
    }


def test_left_of_v_it_is_the_right_edge():
    piece = tile((-499.0, 800.0))
    named = edge_names(plan_of([piece]), piece)
    assert (named[Side.LEFT], named[Side.RIGHT]) == ("LEFT edge (away from V)", "RIGHT edge (towards V)")


def test_on_the_batten_the_edge_is_called_by_it():
    piece = tile((1.0, 0.0))
    assert edge_names(plan_of([piece]), piece)[Side.BOTTOM] == "batten edge"
    american = plan_of([piece], units="in")
    assert edge_names(american, piece)[Side.BOTTOM] == "ledger edge"


def test_where_v_runs_through_the_tile_the_next_wall_names_it():
    piece = tile((-124.0, 400.0))
    plan = plan_of([piece])
    assert edge_names(plan, piece)[Side.LEFT] == "LEFT edge"
    surface = plan.surfaces[0]
    edge = SurfaceEdge(Side.LEFT, (Point(-900.0, 0.0),), (3.0,), (3.0,), 0.0, what="end panel")
    walled = replace(plan, surfaces=(replace(surface, setout=replace(surface.setout, edges={Side.LEFT: edge})),))
    assert edge_names(walled, piece)[Side.LEFT] == "LEFT edge (towards the end panel)"


def test_the_same_wall_on_both_sides_names_neither():
    # "596½ from the edge towards the wall" would be either of the two: left and right, with the arrow upward.
    piece = tile((-124.0, 400.0))
    plan = plan_of([piece])
    surface = plan.surfaces[0]
    sides: dict[Side, SurfaceEdge] = {
        Side.LEFT: SurfaceEdge(Side.LEFT, (Point(-900.0, 0.0),), (3.0,), (3.0,), 0.0, what="wall"),
        Side.RIGHT: SurfaceEdge(Side.RIGHT, (Point(900.0, 0.0),), (3.0,), (3.0,), 0.0, what="wall"),
    }
    walled = replace(plan, surfaces=(replace(surface, setout=replace(surface.setout, edges=sides)),))
    named = edge_names(walled, piece)
    assert (named[Side.LEFT], named[Side.RIGHT]) == ("LEFT edge", "RIGHT edge")


def test_a_turned_tile_is_named_with_the_arrow_upward():
    piece = tile((300.0, 300.0), turn=45.0)
    assert edge_names(plan_of([piece]), piece)[Side.LEFT] == "LEFT edge"
    # UP is the tile's own y axis, 45 degrees left of plumb: plumb points 45 degrees to the right of it.
    assert plumb_turn(piece) == pytest.approx(-45.0)


def test_on_a_floor_the_level_line_names_the_lower_and_upper_edges():
    piece = tile((1.0, 1.0))
    named = edge_names(plan_of([piece], kind="floor"), piece)
    assert (named[Side.BOTTOM], named[Side.TOP]) == ("lower edge (towards B)", "upper edge (away from B)")


@pytest.mark.parametrize(
    ("at", "kind", "below", "above"),
    [
        ((1.0, 301.0), "wall", "the course below", "the course above"),
        ((1.0, 301.0), "floor", "the next row towards B", "the next row away from B"),
        # Short of the base line it is the other way round.
        ((1.0, -801.0), "floor", "the next row away from B", "the next row towards B"),
    ],
)
def test_a_floor_has_rows_and_no_course_below_or_above(at, kind, below, above):
    piece = tile(at)
    plan = plan_of([piece], kind=kind)
    assert (course_beside(plan, piece, Side.BOTTOM), course_beside(plan, piece, Side.TOP)) == (below, above)


@pytest.mark.parametrize(
    ("source", "side", "words"),
    [
        (ReadFrom("piece", "splash 3-6"), Side.LEFT, "the fixed tile on the LEFT (towards V)"),
        (ReadFrom("piece", "splash 2-7"), Side.BOTTOM, "the course below"),
        (ReadFrom("piece", "splash 3-3", across=True), Side.LEFT, "splash 3-3, across the window"),
        (ReadFrom("line", "V"), Side.LEFT, "V"),
        (ReadFrom("support", "B"), Side.BOTTOM, "the top of the batten"),
        (ReadFrom("support", "600 above B"), Side.BOTTOM, "600 above B, which it stands on"),
        (ReadFrom("edge", "right"), Side.RIGHT, "the right edge"),
        (ReadFrom("edge", "window"), Side.RIGHT, "the window"),
    ],
)
def test_what_is_read_from_is_said_as_it_is_called_on_site(source, side, words):
    piece = tile((251.0, 800.0))
    assert read_from(plan_of([piece]), piece, WallCheck(source, side, 69.0, 84.0, True)) == words


def test_an_edge_is_called_by_what_is_there_and_a_batten_only_where_the_job_does():
    piece = tile((251.0, 800.0))
    plan = plan_of([piece])
    surface = plan.surfaces[0]
    edge = SurfaceEdge(Side.RIGHT, (Point(900.0, 0.0),), (3.0,), (3.0,), 0.0, what="end panel")
    for of_the_line, words in (("top of the packers", "the top of the packers"), ("sill", "B, which it stands on")):
        lines = {**surface.setout.lines, "B": replace(surface.setout.lines["B"], words=of_the_line)}
        setout = replace(surface.setout, lines=lines, edges={Side.RIGHT: edge})
        walled = replace(plan, surfaces=(replace(surface, setout=setout),))
        assert read_from(walled, piece, WallCheck(ReadFrom("support", "B"), Side.BOTTOM, 1.0, 2.0, True)) == words
        assert (
            read_from(walled, piece, WallCheck(ReadFrom("edge", "right", what="end panel"), Side.RIGHT, 1.0, 2.0, True))
            == "the end panel"
        )


def test_where_nothing_can_be_read_it_says_why():
    piece = tile((251.0, 800.0))
    plan = plan_of([piece])
    assert unread_words(plan, piece, Unread("up", "splash 2-7")).startswith(
        "up: it comes through the joint with splash"
    )
    assert unread_words(plan, piece, Unread("across")).startswith("across: nothing is there yet to read from")
