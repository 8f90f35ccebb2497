"""Where a saw stops, against published chords, a table worked by hand, and a disc that is moved by numbers.

Machinery's Handbook, 31st edition, segments of circles: p. 79 (r = 60, h = 8, chord 59.86; c = 16, h = 6, r = 8 1/3)
and p. 50 (r = 12, depth 2: chord 13.27). The table of half-chords is sqrt((t+e)(2R-t-e)) and sqrt(e(2R-e)) by hand.
"""

from __future__ import annotations

import math

import pytest

from cutmarks.cutting.stops import Finger, half_chord, reach_of, reaches, row_of_cuts
from cutmarks.readings import Disc


@pytest.mark.parametrize(
    ("radius", "height", "chord"),
    # The book prints 59.86: it rounds the half chord (29.93); the exact chord is 59.8665.
    [(60.0, 8.0, 59.8665), (25.0 / 3.0, 6.0, 16.0), (12.0, 2.0, 13.266)],
)
def test_chords_as_in_the_handbook(radius: float, height: float, chord: float) -> None:
    assert 2.0 * half_chord(2.0 * radius, height) == pytest.approx(chord, abs=0.0006)


@pytest.mark.parametrize(
    ("d", "deep", "half"), [(200.0, 20.0, 60.0), (200.0, 40.0, 80.0), (250.0, 25.0, 75.0), (130.0, 40.0, 60.0)]
)
def test_half_chords_that_come_out_whole(d: float, deep: float, half: float) -> None:
    # Pythagorean triples: 60-80-100, 80-60-100, 75-100-125, 60-25-65.
    assert half_chord(d, deep) == half


TABLE = [
    (115.0, 8.0, 33.82, 18.33, 15.49),
    (115.0, 10.0, 36.41, 18.33, 18.08),
    (200.0, 10.0, 49.31, 24.31, 24.99),
    (200.0, 20.0, 63.80, 24.31, 39.49),
    (250.0, 10.0, 55.51, 27.22, 28.29),
]


@pytest.mark.parametrize(("d", "thickness", "near", "far", "left"), TABLE)
def test_the_table_for_a_disc_that_reaches_three_past(
    d: float, thickness: float, near: float, far: float, left: float
) -> None:
    reach = reach_of(Disc(d), thickness, 3.0)
    assert reach is not None
    assert (reach.near, reach.far, reach.left) == pytest.approx((near, far, left), abs=0.006)


@pytest.mark.parametrize(("past", "left"), [(1.0, 31.5), (3.0, 25.0), (10.0, 16.4), (30.0, 8.6)])
def test_the_deeper_it_goes_the_less_is_left(past: float, left: float) -> None:
    reach = reach_of(Disc(200.0), 10.0, past)
    assert reach is not None
    assert reach.left == pytest.approx(left, abs=0.06)


@pytest.mark.parametrize(("d", "thickness"), [(115.0, 8.0), (115.0, 10.0), (200.0, 20.0), (250.0, 10.0)])
def test_a_disc_moved_by_numbers_cuts_what_is_said(d: float, thickness: float) -> None:
    # Second method: points of both faces, 0.001 apart, are cut where they lie in the disc; no chord is worked out.
    reach = reach_of(Disc(d), thickness, 3.0)
    assert reach is not None
    radius, lowest = d / 2.0, thickness + 3.0
    middle = lowest - radius  # the disc's middle over the near face (0), depth counted down

    def cut_to(depth: float) -> float:
        steps = range(round(radius * 1000.0))
        return max(step / 1000.0 for step in steps if math.hypot(step / 1000.0, depth - middle) <= radius)

    assert cut_to(0.0) == pytest.approx(reach.near, abs=0.0011)
    assert cut_to(thickness) == pytest.approx(reach.far, abs=0.0011)


def test_a_box_that_can_be_plunged_from_the_back_alone() -> None:
    # A 115 disc in a tile of 10: a cut from the face is 72.8 long at least, from the back 36.7.
    reach = reach_of(Disc(115.0), 10.0, 3.0)
    assert reach is not None
    assert (2.0 * reach.near, 2.0 * reach.far) == pytest.approx((72.8, 36.7), abs=0.06)
    assert not reach.fits_from_face(68.0)
    assert reach.fits_from_back(68.0)
    assert reach.left == pytest.approx(18.1, abs=0.06)


def test_a_tile_held_to_the_middle_of_the_disc_is_cut_alike_on_both_faces() -> None:
    # The faces of a tile of 10, 5 either way of the middle of a 200 disc: equal chords, an end bulged by 0.125.
    assert half_chord(200.0, 105.0) == pytest.approx(half_chord(200.0, 95.0))
    assert 100.0 - half_chord(200.0, 95.0) == pytest.approx(0.125, abs=0.0005)


def test_a_disc_goes_no_deeper_than_its_machine_lets_it() -> None:
    assert reach_of(Disc(200.0, 2.0, 10.0), 10.0, 3.0) is None
    shallow = reach_of(Disc(200.0, 2.0, 11.0), 10.0, 3.0)
    assert shallow is not None
    assert shallow.past == 1.0
    assert shallow.left == pytest.approx(31.5, abs=0.06)
    assert [round(one.past, 3) for one in reaches([Disc(200.0, 2.0, 40.0), Disc(115.0)], 10.0, 3.0)] == [3.0, 30.0, 3.0]


def test_a_round_notch_as_a_row_of_cuts() -> None:
    # r = 30 with its centre on the edge, kerf 2: by hand 29.98, 28.84, 25.69, 19.56, 0 at 0, 7.25, 14.5, 21.75, 29.
    row = row_of_cuts(30.0, 0.0, 2.0, 6.0)
    right = row[4:]
    assert [one.at for one in right] == pytest.approx([0.0, 7.25, 14.5, 21.75, 29.0])
    assert [one.deep for one in right] == pytest.approx([29.98, 28.84, 25.69, 19.56, 0.0], abs=0.006)
    assert row[:4] == tuple(Finger(-one.at, one.deep) for one in right[:0:-1])


def test_no_cut_of_a_row_leaves_the_notch() -> None:
    for radius, inside, kerf in ((30.0, 12.0, 2.0), (30.0, -12.0, 1.2), (8.0, 0.0, 1.6), (55.0, -54.0, 2.0)):
        for one in row_of_cuts(radius, inside, kerf, 6.0):
            for x in (one.at - kerf / 2.0, one.at + kerf / 2.0):
                assert math.hypot(x, one.deep - inside) <= radius + 1e-9 or one.deep == 0.0
