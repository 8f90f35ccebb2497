"""Holes read more often than needed, by tapes from points, and in pairs: from the job's words to their places."""

from __future__ import annotations

import math
import textwrap
from collections.abc import Mapping

import pytest

from cutmarks.errors import Fault, JobError
from cutmarks.job import parse_job
from cutmarks.locating.locate import locate_all
from cutmarks.locating.model import Located
from cutmarks.plan import make_plan
from cutmarks.setout.surface import set_out

WALL = """
    job: readings
    tiles: {upright: {size: 248 x 398, measured: yes}}
    surfaces:
      - name: wall
        kind: wall
        lines: {V: "plumb, middle of the sink", B: "level, top of the batten"}
        points:
          P1: 300 left of V, 1600 above B
          P2: 500 right of V, 1600 above B
        areas:
          - {name: field, tile: upright, joint: 2, from: B, start: {across: joint on V, up: sits on B}}
"""


def located(text: str, point: str = "") -> Mapping[str, Located]:
    wall = textwrap.dedent(WALL)
    if point:
        wall = wall.replace("    points:\n", f"    points:\n    {point}\n")
    job = parse_job(wall + textwrap.indent(textwrap.dedent(text), "    "))
    surface = job.surfaces[0]
    faults: list[Fault] = []
    setout = set_out(surface, job, faults)
    found = locate_all(surface.holes, setout, (), job, faults, surface.pairs, surface.points)
    if faults:
        raise JobError(faults)
    return {one.spec.name: one for one in found}


def faults_of(text: str) -> str:
    with pytest.raises(JobError) as caught:
        located(text)
    return str(caught.value)


def test_two_readings_are_as_before() -> None:
    hot = located("""
        holes:
          - {name: hot, what: 15 copper, across: 67 to 83 left of V, up: 212 to 228 above B}
    """)["hot"]
    assert (hot.at.x, hot.at.y) == (-75.0, 220.0)
    assert hot.fit is None
    # Both sides of a pipe are good to 1 at two sigma: 0.5 at one.
    assert (hot.doubt.xx, hot.doubt.xy, hot.doubt.yy) == (0.25, 0.0, 0.25)


# A 3-4-5: from P1, 600 right and 800 down is 1000; from P2, 200 left and 800 down is sqrt(200^2 + 800^2) = 824.621.
TAPES = """
    holes:
      - name: riser
        what: 15 copper
        readings:
          - 992.5 to 1007.5 from P1
          - centre 824.621 from P2
          {more}
"""


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


def nailed(nail: str, *readings: str) -> Located:
    """A pipe at 300 right and 800 up, read from a nail N that was read as `nail` says."""
    rows = "".join(f"\n          - {reading}" for reading in readings)
    found = located(
        f"""
    holes:
      - name: riser
        what: 15 copper
        lies: right
        readings:{rows}
    """,
        f"  N: {nail}",
    )
    return found["riser"]


def test_a_nail_that_is_out_moves_the_hole() -> None:
    tape = ("centre 600 from N", "centre 800 above B")
    at = nailed("300 left of V, 800 above B", *tape)
    out = nailed("297 left of V, 800 above B", *tape)
    # Nothing else says where it is across: it moves by all of the 3.
    assert (at.at.x, out.at.x) == (pytest.approx(300), pytest.approx(303))
    # Both sides from V too, sigma 0.5, against the tape's way of sqrt(0.75^2 + 1^2): 3 x 0.25 / (0.25 + 1.5625).
    both = nailed("297 left of V, 800 above B", *tape, "292.5 to 307.5 right of V")
    assert both.at.x == pytest.approx(300 + 3 * 0.25 / 1.8125, abs=1e-4)
    assert both.doubt.xx == pytest.approx(0.25 * 1.5625 / 1.8125, rel=1e-4)


def test_how_well_a_nail_was_read_is_in_the_doubt() -> None:
    tape = ("centre 600 from N", "centre 800 above B")
    # By eye 2 at two sigma, or what the tiler says: 0.75^2 + 1^2 and 0.75^2 + 0.5^2; its height does not come in, since
    # the tape is level.
    by_eye = nailed("300 left of V, 800 above B", *tape)
    assert (by_eye.doubt.xx, by_eye.doubt.yy) == (pytest.approx(1.5625), pytest.approx(1.0))
    said = nailed("300 left of V, 800 above B, within 1", *tape)
    assert said.doubt.xx == pytest.approx(0.8125)
    assert said.at == by_eye.at


def test_a_nail_is_among_the_readings_and_its_tape_stands_for_it() -> None:
    riser = nailed(
        "290 left of V, 800 above B",
        "centre 600 from N",
        "292.5 to 307.5 right of V",
        "centre 300 right of V",
        "792.5 to 807.5 above B",
    )
    assert riser.fit is not None
    assert [(one.about, one.text, one.point) for one in riser.fit.readings[4:]] == [
        (("N",), "290 left of V", "N"),
        (("N",), "800 above B", "N"),
    ]
    misfit = riser.fit.misfit
    assert misfit is not None
    # The nail is 10 out, and nothing tells that from a tape that was read 10 long: 600 for 300 + 290.
    assert riser.fit.readings[misfit.reading].text == "centre 600 from N"
    assert misfit.off == pytest.approx(10.0)
    assert [riser.fit.readings[index].text for index in misfit.mirrored] == ["290 left of V"]
    # The tape's way 0.75^2 + 1^2, the others together 1 / (1 / 0.25 + 1 / 1).
    assert misfit.figure == pytest.approx(10 / math.sqrt(1.5625 + 0.2), rel=1e-4)


def test_a_nail_that_two_tapes_contradict_is_named_itself() -> None:
    both = located("""
        pairs:
          - {of: hot and cold, level: yes}
        holes:
          - name: hot
            what: 15 copper
            readings: [centre 225 from P1, 67.5 to 82.5 left of V, centre 75 left of V, centre 1600 above B]
          - name: cold
            what: 15 copper
            readings: [centre 385 from P1, 67.5 to 82.5 right of V, centre 75 right of V, centre 1600 above B]
    """)
    # From 300 left to 75 left it is 225, to 75 right 375: only the one tape is 10 long.
    fit = both["hot"].fit
    assert fit is not None
    assert fit.misfit is not None
    assert fit.readings[fit.misfit.reading].text == "centre 385 from P1"
    # Both 10 long: it is the nail that lies 10 further left than was read.
    both = located("""
        pairs:
          - {of: hot and cold, level: yes}
        holes:
          - name: hot
            what: 15 copper
            readings: [centre 235 from P1, 67.5 to 82.5 left of V, centre 75 left of V, centre 1600 above B]
          - name: cold
            what: 15 copper
            readings: [centre 385 from P1, 67.5 to 82.5 right of V, centre 75 right of V, centre 1600 above B]
    """)
    fit = both["hot"].fit
    assert fit is not None
    assert fit.misfit is not None
    named = fit.readings[fit.misfit.reading]
    assert (named.point, named.text) == ("P1", "300 left of V")
    assert fit.misfit.off == pytest.approx(10.0)


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


def test_what_is_not_said_is_asked_for() -> None:
    one = faults_of("""
        holes:
          - {name: riser, what: 15 copper, readings: [292.5 to 307.5 right of V]}
    """)
    assert 'hole "riser"' in one
    assert "do not say where it is" in one
    twice = faults_of("""
        holes:
          - {name: riser, what: 15 copper, readings: [centre 400 from P1, centre 401 from P1]}
    """)
    assert "do not say where it is" in twice
    corners = faults_of("""
        pairs:
          - {of: hot and box, level: yes}
        holes:
          - {name: hot, what: 15 copper, across: 67 to 83 left of V, up: 212 to 228 above B}
          - name: box
            corners: ["300 right of V, 200 above B", "370 right of V, 200 above B",
              "370 right of V, 270 above B", "300 right of V, 270 above B"]
    """)
    assert "read it across and up" in corners


def parse_fault(text: str) -> str:
    with pytest.raises(JobError) as caught:
        parse_job(textwrap.dedent(WALL) + textwrap.indent(textwrap.dedent(text), "    "))
    return str(caught.value)


@pytest.mark.parametrize(
    ("reading", "says"),
    [
        ("900 from P9", "no point of this surface: write P1 or P2"),
        ("centre 900 to 915 from P1", "names the centre and gives two distances"),
        ("900 to 900 from P1", "the same distance twice"),
        ("centre 900 above B, within 0", "no reading is without error"),
        ("75 right of V", "does not say to what"),
        ("?", "must be known"),
    ],
)
def test_a_reading_that_is_none_is_a_fault(reading: str, says: str) -> None:
    sentence = parse_fault(f"""
        holes:
          - name: riser
            what: 15 copper
            readings:
              - "{reading}"
    """)
    assert says in sentence
    assert 'hole "riser", readings' in sentence


@pytest.mark.parametrize(
    ("point", "says"),
    [
        ("300 left of V, 800 above B, within 0", "no reading is without error: write how good it is, as in within 2"),
        ("300 left of V", "is no point: write both its readings"),
        ("300 left of V, 800 above B, 2", "is no point: write both its readings"),
    ],
)
def test_a_point_that_is_none_is_a_fault(point: str, says: str) -> None:
    with pytest.raises(JobError) as caught:
        parse_job(textwrap.dedent(WALL).replace("P1: 300 left of V, 1600 above B", f"P1: {point}"))
    assert says in str(caught.value)


def test_a_point_may_be_a_list() -> None:
    text = textwrap.dedent(WALL).replace("300 left of V, 1600 above B", "[1600 above B, 300 left of V, within 3]")
    point = parse_job(text).surfaces[0].points["P1"]
    assert (point.across.low, point.up.low, point.within) == (-300.0, 1600.0, 3.0)


@pytest.mark.parametrize(
    ("pair", "says"),
    [
        ("{of: hot and hot, apart: 150}", "names one hole twice"),
        ("{of: hot, apart: 150}", "is no pair"),
        ("{of: hot and tepid, apart: 150}", "no hole of this surface"),
        ("{of: hot and cold}", "says nothing of the two"),
    ],
)
def test_a_pair_that_is_none_is_a_fault(pair: str, says: str) -> None:
    assert says in parse_fault(f"""
        pairs:
          - {pair}
        holes:
          - {{name: hot, what: 15 copper, across: 67 to 83 left of V, up: 212 to 228 above B}}
          - {{name: cold, what: 15 copper, across: 67 to 83 right of V, up: 212 to 228 above B}}
    """)


def test_the_plan_goes_through_with_them() -> None:
    job = parse_job(
        textwrap.dedent(WALL) + textwrap.indent(textwrap.dedent(TAPES.format(more="- centre 800 above B")), "    ")
    )
    plan = make_plan(job)
    assert plan.penetrations[0].opening.at.x == pytest.approx(300, abs=1e-3)


def test_a_tape_along_the_line_that_it_is_read_from_says_little() -> None:
    # 700 right of V, and 1000 from a point 300 left of V: the hole is level with the point, and up and down it turns
    # on the tape's end without the tape seeing it.
    text = """
        holes:
          - {name: riser, what: 15 copper, readings: [centre 700 right of V, centre 1000 from P1], lies: below}
    """
    assert "do not say where it is up" in faults_of(text)


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
