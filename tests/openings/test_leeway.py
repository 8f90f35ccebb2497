"""How far a hole may be off: by hand, in the words of every output, and against offsets tried one by one."""

from __future__ import annotations

import math

import pytest
from msgspec.structs import replace

from cutmarks.geometry.frames import Point
from cutmarks.geometry.shapes import Circle, Rect, Shape, Slot, ring_of
from cutmarks.geometry.slack import InDisc
from cutmarks.limits import LIMITS
from cutmarks.openings.hidden import _leeway_of_any, leeway_of
from cutmarks.openings.leeway import Leeway
from cutmarks.openings.model import Cover
from tests.bench.leeway_campaign import KINDS, Tally, look_at, pairs
from tests.checks.jobs import hole, only, plan, said
from tests.handmade import opening

ROSE = Cover(65.0, 65.0, True)


def leeway(thing: Shape, cut: Shape, cover: Cover | None) -> Leeway:
    made = replace(opening("hole", cut, 100.0, 200.0, cover=cover), thing=ring_of(thing, Point(100.0, 200.0)))
    return leeway_of(made, LIMITS, size_known=True)


@pytest.mark.parametrize(
    ("cut", "until_it_shows"),
    [
        # To the corner: 32.5 - sqrt(20^2 + 20^2) = 4.2157; 32.5 - sqrt(15^2 + 25^2) = 3.3452; the rose's lap is 3.
        (Rect(40.0, 40.0), 32.5 - math.hypot(20.0, 20.0)),
        (Rect(30.0, 50.0), 32.5 - math.hypot(15.0, 25.0)),
    ],
)
def test_a_square_hole_under_a_rose_shows_at_its_corner(cut: Shape, until_it_shows: float) -> None:
    found = leeway(Circle(15.0), cut, ROSE)
    assert found.least == pytest.approx(until_it_shows - 3.0)
    assert found.without_lap.least == pytest.approx(until_it_shows)
    assert (found.why, found.shows_by) == ("cover", 0.0)
    assert found.laps == pytest.approx(until_it_shows)


def test_what_it_may_be_off_in_one_direction() -> None:
    found = leeway(Circle(15.0), Rect(40.0, 40.0), ROSE)
    # Straight across both corners of a side go out together: sqrt(29.5^2 - 20^2) - 20 = 1.6852; to a corner 1.2157.
    assert found.along(1.0, 0.0) == pytest.approx(math.sqrt(29.5**2 - 400.0) - 20.0)
    assert found.along(-3.0, -3.0) == pytest.approx(29.5 - math.hypot(20.0, 20.0))
    assert found.contains(1.685, 0.0)
    assert not found.contains(1.686, 0.0)
    assert not found.contains(1.0, 1.0)


def test_round_under_round_is_the_trade_s_formula() -> None:
    # min((D - d) / 2, (P - D) / 2 - o) for 15 in 45 under 65: min(15, 7).
    assert leeway(Circle(15.0), Circle(45.0), ROSE).least == pytest.approx(7.0)
    assert leeway(Circle(15.0), Circle(28.0), ROSE).why == "thing"


def test_a_plate_has_its_own_lap_over_a_round_hole_too() -> None:
    # A plate laps 2: (60 - 50) / 2 - 2 up and down, where the pipe has (50 - 15) / 2.
    assert leeway(Circle(15.0), Circle(50.0), Cover(90.0, 60.0, False)).least == pytest.approx(3.0)


def test_a_leaning_box_is_reckoned_along_its_own_sides() -> None:
    # 70 x 40 in 76 x 48 under 86 x 54, all leaning by 20: 3 and 4 round the box, 5 - 2 and 3 - 2 to the plate's edge.
    found = leeway(Rect(70.0, 40.0, 20.0), Rect(76.0, 48.0, 20.0), Cover(86.0, 54.0, False))
    assert found.least == pytest.approx(1.0)
    c, s = math.cos(math.radians(20.0)), math.sin(math.radians(20.0))
    assert found.along(c, s) == pytest.approx(3.0)
    assert found.along(-s, c) == pytest.approx(1.0)
    assert found.contains(2.99 * c, 2.99 * s)
    assert not found.contains(3.01 * c, 3.01 * s)


def test_a_slot_in_a_slot() -> None:
    # 3 all round, however it leans; under a rose of 100: 50 - 3 - 43 from the middle to the end.
    found = leeway(Slot(80.0, 20.0, 30.0), Slot(86.0, 26.0, 30.0), Cover(100.0, 100.0, True))
    assert found.least == pytest.approx(3.0)
    assert found.laps == pytest.approx(7.0)


def test_what_is_larger_than_its_cover_has_no_leeway_and_says_how_far_it_shows() -> None:
    found = leeway(Circle(15.0), Rect(50.0, 50.0), ROSE)
    assert found.least == 0.0
    assert found.shows_by == pytest.approx(math.hypot(25.0, 25.0) - 32.5)
    assert found.along(1.0, 0.0) == 0.0
    assert not found.contains(0.0, 0.0)


def test_less_than_its_lap_is_no_leeway_and_does_not_show() -> None:
    found = leeway(Circle(15.0), Circle(61.0), ROSE)
    assert (found.least, found.shows_by, found.laps) == (0.0, 0.0, pytest.approx(2.0))


def test_without_a_cover_it_is_the_room_round_the_thing() -> None:
    found = leeway(Circle(15.0), Rect(30.0, 50.0), None)
    assert (found.least, found.laps, found.why) == (pytest.approx(7.5), math.inf, "thing")


def test_where_the_size_is_not_known_its_cover_is_reckoned_all_the_same() -> None:
    made = plan(hole(what="duct", opening="40 x 40", cover="50 x 50"))
    found = made.openings[0]
    assert found.you_may_be is None
    assert found.leeway.laps == pytest.approx(5.0)


def test_every_output_says_the_same_of_a_square_hole_under_a_rose() -> None:
    made = plan(hole(opening="40 x 40"))
    assert made.openings[0].you_may_be == pytest.approx(29.5 - math.hypot(20.0, 20.0))
    # Rounded down to what is shown: 1.2157 is 1.
    assert "you have 1 any way" in made.sure[0].sentence


def test_a_square_hole_whose_corners_show_stops() -> None:
    finding = only(plan(hole(opening="50 x 50")), "shows past its cover")
    assert finding.value == pytest.approx(32.5 - math.hypot(25.0, 25.0))
    assert not said(plan(hole(opening="40 x 40")), "shows past its cover")


def test_a_square_hole_under_a_rose_may_not_be_hidden_once_all_is_off() -> None:
    # 44 x 44: 32.5 - 31.11 = 1.39 is under the lap of 3 and said so; 41 x 41: 3.51, over it, and under what all may be.
    assert said(plan(hole(opening="44 x 44")), "cover laps little")
    made = plan(hole(opening="41 x 41"))
    assert not said(made, "cover laps little")
    spare = 32.5 - math.hypot(20.5, 20.5)
    for finding in said(made, "cover may not hide it"):
        assert finding.value == pytest.approx(spare, abs=1e-3)
        assert "past the rim of its cover" in finding.text


def test_an_opened_hole_that_is_found_off_is_reckoned_where_it_then_is() -> None:
    # A core of 35 opened to the left, 25 from the tile's edge: with its lap the mouth's corner is 25 across, 20.5 up.
    notch = hole(x=26.5, opening=35, slot="towards the left")
    made = plan(notch)
    assert made.openings[0].you_may_be == pytest.approx(32.5 - math.hypot(25.0, 20.5))
    (piece,) = [one for one in made.pieces if one.cuts]
    # The first of its course is read from V: expected 26.5 - 7.5 = 19 and 34; read 3 less: 22 from the edge.
    found = plan(notch, found=[{"piece": piece.name, "left": "16 to 31"}])
    (moved,) = [one for one in found.pieces if one.cuts]
    assert moved.cuts[0].opening.you_may_be == pytest.approx(32.5 - math.hypot(22.0, 20.5))


@pytest.mark.parametrize("kind", range(len(KINDS)))
def test_a_slice_of_the_campaign(kind: int) -> None:
    tally = Tally()
    for number, pair in list(pairs(len(KINDS), 3))[kind :: len(KINDS)]:
        look_at(pair, 60, number, tally)
    assert tally.wrong == []
    assert tally.judged > 30


@pytest.mark.parametrize(
    "planted",
    [
        # Each is a leeway with one fault: the lap forgotten, the cover forgotten, not turned, the lap of a plate.
        lambda one: one.without_lap,
        lambda one: replace(one, under=()),
        lambda one: replace(one, lean=one.lean + 1.0),
        lambda one: replace(one, over=None, under=()),
    ],
)
def test_the_campaign_finds_a_fault(planted, monkeypatch) -> None:
    monkeypatch.setattr(
        "tests.bench.leeway_campaign.leeway_of", lambda *args, **keys: planted(leeway_of(*args, **keys))
    )
    tally = Tally()
    for number, pair in pairs(len(KINDS), 3):
        look_at(pair, 40, number, tally)
    assert tally.wrong != []


@pytest.mark.parametrize("known", [True, False])
@pytest.mark.parametrize("cover", [None, Cover(65.0, 65.0, True), Cover(30.0, 30.0, True)])
def test_the_short_way_for_round_things_is_the_long_one(cover: Cover | None, known: bool) -> None:
    for x, y, off in ((0.0, 0.0, 0.0), (1234.5, -87.3, 1.5), (-40.1, 812.7, -3.0)):
        made = replace(opening("h", Circle(35.0), x, y, cover=cover), thing=ring_of(Circle(15.0), Point(x + off, y)))
        short, long = leeway_of(made, LIMITS, known), _leeway_of_any(made, LIMITS, known)
        assert (short.lean, len(short.parts), len(short.bare)) == (long.lean, len(long.parts), len(long.bare))
        for one, other in zip((*short.parts, *short.bare), (*long.parts, *long.bare), strict=True):
            assert isinstance(one, InDisc)
            assert isinstance(other, InDisc)
            assert (one.cx, one.cy, one.radius) == pytest.approx((other.cx, other.cy, other.radius), abs=1e-9)
