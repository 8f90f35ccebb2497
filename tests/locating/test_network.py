"""Holes read more often than needed, by tapes from points, and in pairs: from the job's words to their places."""

from __future__ import annotations

import math
import textwrap

import pytest

from cutmarks.job import parse_job
from cutmarks.plan import make_plan
from tests.locating.taped import TAPES, WALL, faults_of, located


def test_two_readings_are_as_before() -> None:
    hot = located("""
        holes:
          - {name: hot, what: 15 copper, across: 67 to 83 left of V, up: 212 to 228 above B}
    """)["hot"]
    assert (hot.at.x, hot.at.y) == (-75.0, 220.0)
    assert hot.fit is None
    # Both sides of a pipe are good to 1 at two sigma: 0.5 at one.
    assert (hot.doubt.xx, hot.doubt.xy, hot.doubt.yy) == (0.25, 0.0, 0.25)


def test_two_tapes_leave_two_places_open() -> None:
    # Mirrored in the line through the points, 1600 up: 800 up or 2400 up.
    sentence = faults_of(TAPES.format(more=""))
    assert "two places open" in sentence
    assert "300 across and 800 up" in sentence
    assert "300 and 2400" in sentence
    assert "lies: below" in sentence
    assert "lies: above" in sentence


def test_tapes_nearly_in_line_cross_flat() -> None:
    # P1 and P2 are 800 apart, level: tapes of 400 and 400.5 all but lie in one line.
    riser = located("""
        holes:
          - {name: riser, what: 15 copper, readings: [centre 400 from P1, centre 400.5 from P2], lies: below}
    """)["riser"]
    assert riser.fit is not None
    # Law of cosines in the triangle 400, 400.5, 800: the angle between the tapes.
    cosine = (400**2 + 400.5**2 - 800**2) / (2 * 400 * 400.5)
    assert riser.fit.crossing[0][1] == pytest.approx(180 - math.degrees(math.acos(cosine)), abs=1e-3)
    assert riser.doubt.ellipse[0] > 10


@pytest.mark.parametrize(("lies", "y"), [("below", 800.0), ("above", 2400.0)])
def test_lies_tells_which_of_them(lies: str, y: float) -> None:
    riser = located(TAPES.format(more="") + f"        lies: {lies}\n")["riser"]
    assert riser.at.x == pytest.approx(300, abs=1e-3)
    assert riser.at.y == pytest.approx(y, abs=1e-3)
    assert riser.fit is not None
    # From P1 the hole lies 53.130 degrees below level (3-4-5), from P2 104.036: they cross at 50.906.
    assert riser.fit.over == 0
    assert riser.fit.crossing[0][1] == pytest.approx(50.906, abs=1e-3)


def test_an_edge_that_is_known_tells_too() -> None:
    text = textwrap.dedent(TAPES.format(more="")) + "edges: {top: {at: 2300 above B, true: level}}\n"
    assert located(text)["riser"].at.y == pytest.approx(800, abs=1e-3)


def test_a_third_reading_tells_and_checks() -> None:
    riser = located(TAPES.format(more="- centre 800 above B"))["riser"]
    assert (riser.at.x, riser.at.y) == (pytest.approx(300, abs=1e-3), pytest.approx(800, abs=1e-3))
    assert riser.fit is not None
    assert riser.fit.over == 1
    assert riser.fit.misfit is None
    assert riser.diameter == 15.0
    # By hand, N = A'PA with unit vectors (0.6, -0.8) and (-0.242536, -0.970143), and up at sigma 1. A tape is good to
    # 1.5, and the nail that it is held to was read by eye, good to 2, both at two sigma: sqrt(0.75^2 + 1^2) = 1.25.
    a = ((0.6, -0.8, 1.25), (-0.2425356, -0.9701425, 1.25), (0.0, 1.0, 1.0))
    n11 = sum(x * x / s**2 for x, _, s in a)
    n12 = sum(x * y / s**2 for x, y, s in a)
    n22 = sum(y * y / s**2 for _, y, s in a)
    det = n11 * n22 - n12**2
    assert riser.doubt.xx == pytest.approx(n22 / det, rel=1e-5)
    assert riser.doubt.xy == pytest.approx(-n12 / det, rel=1e-5)
    assert riser.doubt.yy == pytest.approx(n11 / det, rel=1e-5)


def test_the_wrong_reading_is_named() -> None:
    riser = located(
        TAPES.format(more="- 292.5 to 307.5 right of V").replace("992.5 to 1007.5", "1002.5 to 1017.5")
        + "          - 792.5 to 807.5 above B\n"
    )["riser"]
    assert riser.fit is not None
    misfit = riser.fit.misfit
    assert misfit is not None
    assert riser.fit.readings[misfit.reading].text == "1002.5 to 1017.5 from P1"
    assert misfit.off == pytest.approx(10.0, abs=1e-3)


def test_within_says_how_good_a_reading_is() -> None:
    # 500 +-2 and 503 +-4 (two sigma): weights 4 to 1, 500.6, standard deviation 0.894 (one sigma).
    riser = located("""
        holes:
          - name: riser
            what: 15 copper
            up: 212 to 228 above B
            readings:
              - centre 500 right of V, within 2
              - centre 503 right of V within 4
    """)["riser"]
    assert riser.at.x == pytest.approx(500.6)
    assert math.sqrt(riser.doubt.xx) == pytest.approx(0.894, abs=5e-4)


def test_a_pair_apart_and_level_is_adjusted_together() -> None:
    # Hot 75.5 left, cold 75.5 right: 151 read, 150 known. All with the same weight: the pitch closes to 150 + 1/3.
    both = located("""
        pairs:
          - {of: hot and cold, apart: 150, level: yes}
        holes:
          - {name: hot, what: 15 copper, across: 68 to 83 left of V, up: 212.5 to 227.5 above B}
          - {name: cold, what: 15 copper, across: 68 to 83 right of V, up: 214 to 229 above B}
    """)
    assert both["cold"].at.x - both["hot"].at.x == pytest.approx(150 + 1 / 3, abs=1e-3)
    # Heights 220 and 221.5, level: the misclosure of 1.5 is shared by three readings of the same weight.
    assert both["hot"].at.y == pytest.approx(220.5, abs=1e-3)
    assert both["cold"].at.y == pytest.approx(221.0, abs=1e-3)
    assert both["hot"].fit == both["cold"].fit


def test_a_hole_may_hang_on_its_pair() -> None:
    cold = located("""
        pairs:
          - {of: hot and cold, apart: 150}
        holes:
          - {name: hot, what: 15 copper, across: 67.5 to 82.5 left of V, up: 212.5 to 227.5 above B}
          - {name: cold, what: 15 copper, readings: [level with hot], lies: right}
    """)["cold"]
    assert (cold.at.x, cold.at.y) == (pytest.approx(75), pytest.approx(220))
    # Its height hangs on hot's (0.5) and on the level (0.5).
    assert math.sqrt(cold.doubt.yy) == pytest.approx(math.hypot(0.5, 0.5))


def test_from_an_edge_out_of_true_it_is_read_at_its_own_height() -> None:
    # The edge leans from 1000 to 990 over 1000: at 500 up it is at 995, and 295 in from it is 700.
    text = """
        edges: {right: [1000 right of V at B, 990 right of V at 1000 above B]}
        holes:
          - name: riser
            what: 15 copper
            readings:
              - 287.5 to 302.5 in from right there
              - 492.5 to 507.5 above B
    """
    riser = located(text)["riser"]
    assert (riser.at.x, riser.at.y) == (pytest.approx(700), pytest.approx(500))
    assert math.sqrt(riser.doubt.xx) == pytest.approx(2.0, abs=1e-3)


def test_the_plan_goes_through_with_them() -> None:
    job = parse_job(
        textwrap.dedent(WALL) + textwrap.indent(textwrap.dedent(TAPES.format(more="- centre 800 above B")), "    ")
    )
    plan = make_plan(job)
    assert plan.openings[0].at.x == pytest.approx(300, abs=1e-3)


def test_a_box_whose_sides_were_not_read_takes_its_catalogue_size() -> None:
    riser = located("""
        holes:
          - {name: box, what: junction, size: 70 x 60, readings: [near 300 right of V, underside 500 above B]}
    """)["box"]
    # 70 across and 60 up: the middle is 35 and 30 further.
    assert (riser.at.x, riser.at.y) == (pytest.approx(335), pytest.approx(530))


def test_its_size_from_the_tape_where_it_is_nowhere_else() -> None:
    riser = located("""
        holes:
          - name: riser
            what: something
            readings: [992.5 to 1007.5 from P1, centre 824.621 from P2, centre 800 above B]
    """)["riser"]
    assert riser.diameter == 15.0
