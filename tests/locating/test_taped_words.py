"""Readings, points and pairs that say nothing, or say it twice, are faults with the way to write them."""

from __future__ import annotations

import textwrap

import pytest

from cutmarks.errors import JobError
from cutmarks.job import parse_job
from tests.locating.taped import WALL, faults_of


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


def test_a_tape_along_the_line_that_it_is_read_from_says_little() -> None:
    # 700 right of V, and 1000 from a point 300 left of V: the hole is level with the point, and up and down it turns
    # on the tape's end without the tape seeing it.
    text = """
        holes:
          - {name: riser, what: 15 copper, readings: [centre 700 right of V, centre 1000 from P1], lies: below}
    """
    assert "do not say where it is up" in faults_of(text)
