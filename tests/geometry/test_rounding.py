"""Inside corners made round, by hand and by a slice of the campaign (`tests/bench/rounding_campaign.py`)."""

from __future__ import annotations

import math

import pytest

from cutmarks.geometry.edges import Arc
from cutmarks.geometry.frames import Tile
from cutmarks.geometry.regions import Region, region
from cutmarks.geometry.rings import edges, polygon
from cutmarks.geometry.rounding import rounded
from tests.bench.rounding_campaign import campaign

ELL = ((0.0, 0.0), (300.0, 0.0), (300.0, 120.0), (180.0, 120.0), (180.0, 200.0), (0.0, 200.0))


def shape(*corners: tuple[float, float]) -> Region[Tile]:
    return region(polygon(corners))


def test_one_inside_corner_becomes_one_arc_about_its_own_centre() -> None:
    found = rounded(shape(*ELL), 5.0)
    (arc,) = [edge for edge in edges(found.region.rings[0]) if isinstance(edge, Arc)]
    # In what is cut out, 5 from either edge; it runs clockwise by a quarter.
    assert (arc.cx, arc.cy, arc.radius) == pytest.approx((185.0, 125.0, 5.0))
    assert arc.sweep == pytest.approx(-math.pi / 2.0)
    assert found.region.area == pytest.approx(300 * 120 + 180 * 80 + 25.0 * (1.0 - math.pi / 4.0))
    assert found.sharp == ()


def test_outside_corners_stay_as_they_are() -> None:
    square = shape((0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0))
    assert rounded(square, 5.0).region == square


@pytest.mark.parametrize(("radius", "fits"), [(40.0, 1), (80.0, 1), (80.1, 0)])
def test_an_arc_has_room_up_to_the_end_of_its_edge(radius: float, fits: int) -> None:
    # The shorter edge at the corner is 80 long.
    found = rounded(shape(*ELL), radius)
    assert (len(found.fits), len(found.sharp)) == (fits, 1 - fits)


def test_two_corners_of_a_slot_share_its_end() -> None:
    # A notch 20 wide: two arcs of 10 are half a circle, of 10.1 there is room for neither.
    notch = ((0.0, 0.0), (40.0, 0.0), (40.0, 50.0), (60.0, 50.0), (60.0, 0.0), (100.0, 0.0), (100.0, 90.0), (0.0, 90.0))
    found = rounded(shape(*notch), 10.0)
    assert found.region.area == pytest.approx(100 * 90 - 20 * 40 - math.pi * 100.0 / 2.0)
    assert len(rounded(shape(*notch), 10.1).sharp) == 2


def test_a_blunt_corner_turns_by_its_own_angle() -> None:
    # At (50, 40) the outline turns to the right by 2 atan(40 / 50): r^2 (tan(t / 2) - t / 2) of tile is kept there.
    vee = ((0.0, 0.0), (100.0, 0.0), (100.0, 80.0), (50.0, 40.0), (0.0, 80.0))
    turn = 2.0 * math.atan(40.0 / 50.0)
    found = rounded(shape(*vee), 5.0)
    assert found.region.area - shape(*vee).area == pytest.approx(25.0 * (math.tan(turn / 2.0) - turn / 2.0))


def test_a_slice_of_the_campaign() -> None:
    told: list[str] = []
    assert campaign(150, 11, told.append) == 0, told
