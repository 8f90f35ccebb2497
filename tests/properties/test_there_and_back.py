"""From the surface to a tile and back is the identity, whatever the grid."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from cutmarks.geometry.frames import Courses, Placement, Point, Surface
from cutmarks.job import build_job
from cutmarks.setout.surface import set_out
from cutmarks.tiling.areas import lay_out
from cutmarks.tiling.model import Grid
from tests.properties.accounts import plan_of
from tests.properties.scene import Scene, said
from tests.properties.strategies import CLOSED, scenes

NEAR = 1e-7
"""Rounding of some kilometres in double precision, with room."""

sizes = st.floats(10, 2000)
places = st.tuples(st.integers(-500, 500), st.integers(-500, 500))
coordinates = st.floats(-1e5, 1e5)


@st.composite
def placements(draw: st.DrawFn) -> Placement[Any, Any]:
    return Placement.turned(
        draw(st.floats(-360, 360)), draw(coordinates), draw(coordinates), mirrored=draw(st.booleans())
    )


@st.composite
def grids(draw: st.DrawFn) -> Grid:
    to_surface: Placement[Courses, Surface] = draw(placements())
    return Grid(
        w=draw(sizes),
        h=draw(sizes),
        joint=draw(st.floats(0, 20)),
        bond_shift=draw(st.floats(-300, 300)),
        progressive=draw(st.booleans()),
        turn=math.degrees(math.atan2(to_surface.sin, to_surface.cos)),
        to_surface=to_surface,
    )


@given(grids(), places, coordinates, coordinates)
@settings(max_examples=300)
def test_surface_to_tile_and_back(grid: Grid, place: tuple[int, int], x: float, y: float) -> None:
    tile_at = grid.placement(place)
    at: Point[Surface] = Point(x, y)
    back = tile_at.apply(tile_at.inverse().apply(at))
    assert (back.x, back.y) == (pytest.approx(x, abs=NEAR), pytest.approx(y, abs=NEAR))


@given(grids(), places)
@settings(max_examples=300)
def test_a_tiles_corners_lie_on_the_grid(grid: Grid, place: tuple[int, int]) -> None:
    # By hand: column pitches and the row's shift along the courses, row pitches across them, then onto the surface.
    column, row = place
    shift = grid.bond_shift * (row if grid.progressive else row % 2)
    u, v = column * (grid.w + grid.joint) + shift, row * (grid.h + grid.joint)
    for du, dv in ((0.0, 0.0), (grid.w, 0.0), (grid.w, grid.h)):
        on_surface = grid.to_surface.xy(u + du, v + dv)
        assert grid.placement(place).xy(du, dv) == (
            pytest.approx(on_surface[0], abs=NEAR * 10),
            pytest.approx(on_surface[1], abs=NEAR * 10),
        )


@given(scenes())
@settings(max_examples=40)
def test_every_piece_lies_where_its_own_frame_says(scene: Scene) -> None:
    plan = plan_of(scene)
    assume(plan is not None)
    assert plan is not None
    for piece in plan.pieces:
        for cut in piece.cuts:
            back = piece.piece.tile_at.apply(cut.centre)
            assert (back.x, back.y) == (
                pytest.approx(cut.opening.at.x, abs=NEAR),
                pytest.approx(cut.opening.at.y, abs=NEAR),
            )
            assert cut.from_left + cut.from_right == pytest.approx(piece.piece.tile.w, abs=NEAR)
            assert cut.from_bottom + cut.from_top == pytest.approx(piece.piece.tile.h, abs=NEAR)


@given(scenes(CLOSED))
@settings(max_examples=25)
def test_a_pieces_name_leads_back_to_it(scene: Scene) -> None:
    job = build_job(said(scene))
    faults = job.faults()
    (surface,) = job.surfaces
    layouts = lay_out(surface, set_out(surface, job, faults), job, faults)
    assume(not faults)
    names: set[str] = set()
    for layout in layouts:
        for place in layout.cut_places():
            piece = layout.piece(place)
            assert piece is not None
            assert piece.name not in names, "no two pieces of a surface have one name"
            names.add(piece.name)
            again = layout.named(piece.name)
            assert again is not None
            assert again.place == place
