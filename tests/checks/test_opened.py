"""Covers over holes that are opened: measured from the pipe to what is cut off the tile; figures by hand.

The pipe is a 15 in a core of 35, `d` from the left edge of its tile, which lies 1.5 right of V.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest

from cutmarks.checks.chance import chance
from cutmarks.geometry.frames import Point, Tile
from cutmarks.geometry.rings import Ring
from cutmarks.geometry.shapes import Rect, ring_of
from cutmarks.geometry.slack import in_round
from cutmarks.locating.model import Doubt
from cutmarks.plan import Plan
from tests.checks.jobs import hole, only, plan, said

SHOWS, LAPS_LITTLE, MAY_NOT_HIDE = "shows past its cover", "cover laps little", "cover may not hide it"
DRAWN = 200_000
BOX: Ring[Tile] = ring_of(Rect(20.0, 12.0), Point(0.0, 0.0))
QUANTILE = 3.2905
"""Of the normal distribution for 99.9 % between two sides (tables)."""


def closed(d: float, **keys: Any) -> Plan:
    limits = keys.pop("limits", {})
    return plan(hole(**{"x": 1.5 + d, "opening": 35, **keys}), limits=limits)


def u_cut(d: float, **keys: Any) -> Plan:
    return closed(d, **{"slot": "towards the left", **keys})


def slid(by: float, **keys: Any) -> Plan:
    """A slot in the middle of a tile."""
    return plan(hole(opening=35, slot=f"{by:g} towards the left", **keys))


def covered(made: Plan) -> bool:
    return not said(made, SHOWS) and not said(made, LAPS_LITTLE)


@pytest.mark.parametrize(("d", "says"), [(32.0, "4"), (36.0, "7½"), (72.0, "41½")])
def test_the_mouth_of_a_u_cut_shows(d: float, says: str) -> None:
    # Its corners, at the edge of the tile, lie d across and 17.5 up from the pipe; the cover reaches 32.5.
    finding = only(u_cut(d), SHOWS)
    assert (finding.level, finding.value) == ("stop", pytest.approx(32.5 - math.hypot(d, 17.5)))
    assert f"the hole shows {says} past its cover" in finding.text


def test_a_notch_over_a_corner_shows_at_the_corner_of_the_tile() -> None:
    # sqrt(48^2 + 47.5^2) = 67.53 to the corner, the cover reaches 40.
    finding = only(u_cut(48.0, y=47.5, cover=80, slot="towards the left and the bottom"), SHOWS)
    assert (finding.level, finding.value) == ("stop", pytest.approx(40 - math.hypot(48, 47.5)))
    assert "shows 27½ past" in finding.text


def test_a_slot_to_slide_shows_at_its_far_end() -> None:
    # 30 + 17.5 from the pipe, where a cover of 65 reaches 32.5 and a plate of 60 reaches 30.
    assert only(slid(30), SHOWS).value == pytest.approx(-15)
    assert only(slid(30, cover="60 x 60"), SHOWS).value == pytest.approx(-17.5)


def test_the_far_end_of_a_slot_has_to_be_lapped() -> None:
    # 32.5 - 17.5 - 12 = 3 is the lap that is wanted of a round cover; 13 leaves 2. A plate of 60: 2 wanted, 30 - 27.5.
    assert covered(slid(12))
    assert only(slid(13), LAPS_LITTLE).value == pytest.approx(2)
    assert covered(slid(10, cover="60 x 60"))
    assert only(slid(11, cover="60 x 60"), LAPS_LITTLE).value == pytest.approx(1.5)


@pytest.mark.parametrize(("d", "lap"), [(26.0, 19.5 - 17.5), (25.5, 2.6494), (31.0, None), (25.0, 3.2673)])
def test_a_mouth_is_lapped_along_the_edge_of_the_tile(d: float, lap: float | None) -> None:
    # Along the edge, d from the pipe, the cover reaches sqrt(32.5^2 - d^2) up and down, and the mouth 17.5:
    # 26 and 19.5 are 4 and 3 parts of 6.5. At 31 it reaches 9.8: the mouth shows.
    made = u_cut(d)
    if lap is None:
        assert said(made, SHOWS)
    elif lap < 3:
        assert only(made, LAPS_LITTLE).value == pytest.approx(lap, abs=1e-4)
    else:
        assert covered(made)


def test_a_notch_that_is_offered_is_hidden_when_it_is_cut() -> None:
    # sqrt(43^2 - 37.5^2) = 21.04: 3.54 beside the mouth.
    assert "write slot: towards the left" in only(closed(37.5, cover=86), "thin bridge").text
    assert covered(u_cut(37.5, cover=86))


def test_a_mouth_at_a_cut_edge_ends_there() -> None:
    # The wall begins 1000 left of V and the tile is cut to it: 30 beside the pipe, sqrt(30^2 + 17.5^2) = 34.73.
    finding = only(u_cut(0.0, across="centre 970 left of V"), SHOWS)
    assert finding.value == pytest.approx(32.5 - math.hypot(30, 17.5))


def test_a_hole_over_a_joint_counts_on_both_tiles() -> None:
    # 10 right of the left edge, a joint of 3: the core is cut 4.5 into the tile on the left. Opened to the right, its
    # mouth is 287 off, which shows by sqrt(287^2 + 17.5^2) - 32.5; to the left it ends at the edge, well covered.
    assert only(u_cut(10.0, slot="towards the right"), SHOWS).value == pytest.approx(32.5 - math.hypot(287, 17.5))
    assert covered(u_cut(10.0))


def test_the_plate_of_a_leaning_box_leans_over_its_notch_too() -> None:
    # 70 + 2 x 2 leaning by 12: it reaches 37 (cos 12 + sin 12) = 43.89 up and down. The mouth, 50 left of the middle,
    # has one corner 50 cos 12 + 43.89 sin 12 = 58.03 out along the plate's own sides, of which it reaches 56.
    c, s = math.cos(math.radians(12)), math.sin(math.radians(12))
    up = 37 * (c + s)
    box = {"what": "socket box", "size": "70 x 70", "lean": 12, "cover": "112 x 112", "opening": "74 x 74"}
    finding = only(plan(hole(x=51.5, slot="towards the left", **box)), SHOWS)
    assert finding.value == pytest.approx(56 - (50 * c + up * s))
    assert covered(plan(hole(x=51.5, **box)))
    assert covered(plan(hole(x=51.5, slot="towards the left", **{**box, "cover": "122 x 122"})))


def test_what_shows_when_everything_is_off() -> None:
    # 25 from the edge the cover laps 3.27, but the corner of the mouth lies sqrt(25^2 + 17.5^2) = 30.52 out: moved 2.3
    # straight out it is 32.82 off, and 0.32 of it show. 20 from the edge there is 5.9 to spare.
    finding = only(u_cut(25.0, limits={"sure": "75 %"}), MAY_NOT_HIDE)
    assert finding.value == pytest.approx(32.5 - math.hypot(25, 17.5), abs=1e-3)
    assert "past the rim of its cover" in finding.text
    assert not said(u_cut(20.0), MAY_NOT_HIDE)


def half_round(left: float, right: float, half: float = 17.5) -> np.ndarray:
    """The outermost places of a core from `left` to `right` of the pipe, its mouth at the left."""
    # In steps of a degree: 17.5 (1 - cos 0.5) = 0.0007 short of the arc.
    angles = np.radians(np.arange(-90.0, 91.0))
    end = np.column_stack([right - half + half * np.cos(angles), half * np.sin(angles)])
    return np.vstack([[[left, -half], [left, half]], end])


BACK = half_round(0.0, 17.5)
CASES: list[tuple[dict[str, Any], np.ndarray, float, float]] = [
    # keys, the places of the cut about the pipe, its cover's radius (or half its side), whether it is a plate
    ({"d": 25.0}, half_round(-25.0, 17.5), 32.5, 0),
    ({"d": 22.0}, half_round(-22.0, 17.5), 32.5, 0),
    ({"d": 29.0}, half_round(-29.0, 17.5), 32.5, 0),
    ({"d": 28.0, "cover": "62 x 62"}, half_round(-28.0, 17.5), 31.0, 1),
    (
        {"d": 24.0, "y": 23.0, "cover": 70, "slot": "towards the left and the bottom"},
        np.vstack([[[-24.0, -23.0], [-24.0, 17.5], [17.5, -23.0]], BACK]),
        35.0,
        0,
    ),
    ({"d": 150.0, "slot": "13 towards the left"}, np.vstack([BACK, -BACK - [13.0, 0.0]]), 32.5, 0),
]


@pytest.mark.parametrize("number", range(len(CASES)))
def test_how_sure_it_is_against_errors_drawn_one_by_one(number: int) -> None:
    keys, places, reach, plate = CASES[number]
    sure = u_cut(**keys).sure[0]
    covariance = [[sure.doubt.xx, sure.doubt.xy], [sure.doubt.xy, sure.doubt.yy]]
    errors = np.random.default_rng(number).multivariate_normal([0.0, 0.0], covariance, DRAWN)
    good = np.hypot(*errors.T) <= 10.0
    for x, y in places:
        moved = errors + np.array([x, y])
        good &= (np.abs(moved).max(axis=1) if plate else np.hypot(*moved.T)) <= reach
    seen = float(good.mean())
    assert 0.05 < seen < 0.9999
    assert abs(sure.chance - seen) <= QUANTILE * math.sqrt(seen * (1 - seen) / DRAWN) + 1e-4


def test_a_mouth_that_shows_is_not_sure() -> None:
    # 39.9 out where the cover reaches 32.5: it would have to come 7.5 off the right way, five times its doubt.
    assert u_cut(36.0).sure[0].chance < 0.001


@pytest.mark.parametrize("dx", np.linspace(-3.5, 3.5, 9))
def test_the_room_under_a_round_cover_is_that_of_a_box_in_closed_form(dx: float) -> None:
    # A box of 20 x 12 under a cover of 30: its corners (|dx| + 10, |dy| + 6) are at most 15 out.
    found = in_round((BOX,), 15.0)
    half = math.sqrt(15.0**2 - (abs(dx) + 10.0) ** 2) - 6.0
    assert found.span(dx) == pytest.approx((-half, half))
    far = math.sqrt(15.0**2 - 6.0**2) - 10.0
    assert found.reach == pytest.approx((-far, far))


def test_there_is_no_room_for_what_is_larger_than_its_cover() -> None:
    larger: Ring[Tile] = ring_of(Rect(20.0, 20.0), Point(0.0, 0.0))
    # Its half diagonal is 14.14; along x alone it would fit.
    assert chance([in_round((larger,), 14.0)], Doubt(1.0, 0.0, 1.0)) == 0.0
    assert chance([in_round((larger,), 9.0)], Doubt(1.0, 0.0, 1.0)) == 0.0
