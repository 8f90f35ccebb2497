"""The findings about how sure a place is: each speaks when it must, and is silent otherwise."""

from __future__ import annotations

import textwrap

import pytest

from cutmarks.checks.model import Finding
from cutmarks.job import parse_job
from cutmarks.plan import make_plan

POINTS = """
    points:
      P1: 300 left of V, 1600 above B
      P2: 500 right of V, 1600 above B
"""
# From P1, 600 right and 800 down is 1000 (3-4-5); from P2, 200 left and 800 down is 824.621.
TAPES = ["992.5 to 1007.5 from P1", "817.1 to 832.1 from P2"]


def found(holes: str, rule: str, *, pairs: str = "", limits: str = "") -> list[Finding]:
    job = parse_job(
        textwrap.dedent(f"""
            job: doubt
            limits: {{{limits}}}
            tiles: {{upright: {{size: 248 x 398, measured: yes}}}}
            surfaces:
              - name: wall
                kind: wall
                lines: {{V: "plumb, middle", B: "level, batten"}}
                areas:
                  - {{name: field, tile: upright, joint: 2, start: {{across: joint on V, up: sits on B}}}}
                pairs: [{pairs}]
        """)
        + textwrap.indent(textwrap.dedent("" if "points:" in holes else POINTS), "    ")
        + textwrap.indent(textwrap.dedent(holes), "    ")
    )
    return [finding for finding in make_plan(job).findings if finding.rule == rule]


def riser(*readings: str, more: str = "cover: 65") -> str:
    rows = "".join(f"\n      - {reading}" for reading in readings)
    return f"holes:\n  - name: riser\n    what: 15 copper\n    {more}\n    readings:{rows}\n"


def test_readings_that_agree_are_silent() -> None:
    assert not found(riser(*TAPES, "792.5 to 807.5 above B"), "reading does not fit")


def test_the_wrong_reading_is_named_with_how_far_it_is_off() -> None:
    (one,) = found(
        riser(
            "1002.5 to 1017.5 from P1",
            TAPES[1],
            "292.5 to 307.5 right of V",
            "292 to 307 right of V",
            "792.5 to 807.5 above B",
        ),
        "reading does not fit",
    )
    assert '"1002.5 to 1017.5 from P1" does not fit' in one.text
    assert "it says 10 more than they do" in one.text
    # Nothing tells a tape that was read wrong from its nail that was.
    assert one.text.endswith("Read it again, and where P1 is.")
    assert one.about == ("riser",)
    assert one.level == "warn"
    assert one.value is not None
    assert one.limit is not None
    assert one.value > one.limit


def test_what_cannot_be_told_apart_is_named_with_the_nail_once() -> None:
    # One across and one tape level with its nail, 10 apart: nothing else says which.
    (one,) = found(
        riser("centre 610 from N", "292.5 to 307.5 right of V", "792.5 to 807.5 above B", more="lies: right")
        + 'points: {N: "300 left of V, 800 above B"}\n',
        "reading does not fit",
    )
    assert one.text == (
        'riser: "292.5 to 307.5 right of V" or "centre 610 from N" or where N is, one of them is wrong, by '
        "about 10, and they cannot be told apart: read them again."
    )


def test_a_tape_to_both_sides_has_to_be_the_pipe() -> None:
    # 1076 to 1108 is 32 from side to side, and a 15 copper pipe is 15; 1000 to 1015 is it, and 17 is within 2.
    (one,) = found(riser("1076 to 1108 from P1", TAPES[1], "792.5 to 807.5 above B"), "readings disagree")
    assert one.text == (
        'riser: "1076 to 1108 from P1" is 32 from side to side, but 15 copper is 15: read it again, edge to edge.'
    )
    assert (one.level, one.value) == ("warn", pytest.approx(17))
    # 40 for 15: the middle may be 12.5 out, and the hole may be 10.
    (far,) = found(riser("1076 to 1116 from P1", TAPES[1], "792.5 to 807.5 above B"), "readings disagree")
    assert (far.level, far.value) == ("stop", pytest.approx(25))
    assert not found(riser("992 to 1009 from P1", TAPES[1], "792.5 to 807.5 above B"), "readings disagree")


def test_a_nail_that_its_tapes_contradict_is_named() -> None:
    # Two pipes, each with two readings across, and both tapes 10 long: P1 lies 10 further left than it was read.
    rows = "".join(
        f"""
  - name: {name}
    what: 15 copper
    readings: [centre {tape} from P1, 67.5 to 82.5 {side} of V, centre 75 {side} of V, centre 1600 above B]"""
        for name, tape, side in (("hot", 235, "left"), ("cold", 385, "right"))
    )
    (one,) = found(f"holes:{rows}\n", "reading does not fit", pairs="{of: hot and cold, level: yes}")
    assert one.text.startswith('P1: "300 left of V" does not fit the other readings: it says 10 more than they do')
    assert one.text.endswith("Read it again.")


def test_it_stops_where_the_hole_would_move_by_much_of_what_it_may_be_off() -> None:
    # A 20 opening over a 15 pipe leaves 2.5; the wrong height pulls the place by more than half of it.
    (one,) = found(
        riser(*TAPES, "292.5 to 307.5 right of V", "822.5 to 837.5 above B", more="opening: 20"),
        "reading does not fit",
    )
    assert one.level == "stop"
    assert '"822.5 to 837.5 above B"' in one.text


def test_two_that_cannot_be_told_apart_are_named_both() -> None:
    (one,) = found(
        riser("292.5 to 307.5 right of V", "302.5 to 317.5 right of V", "792.5 to 807.5 above B"),
        "reading does not fit",
    )
    assert '"292.5 to 307.5 right of V" or "302.5 to 317.5 right of V"' in one.text or (
        '"302.5 to 317.5 right of V" or "292.5 to 307.5 right of V"' in one.text
    )
    assert "cannot be told apart" in one.text


def test_a_pair_that_is_not_as_far_apart_as_it_should_be() -> None:
    # 67.5 to 82.5 each side of V is 150 from middle to middle; somebody read 140.
    holes = """
        holes:
          - {name: hot, what: 15 copper, across: 67.5 to 82.5 left of V, up: 212.5 to 227.5 above B}
          - {name: cold, what: 15 copper, across: 67.5 to 82.5 right of V, up: 212.5 to 227.5 above B}
    """
    assert not found(holes, "reading does not fit", pairs="{of: hot and cold, apart: 150, level: yes}")
    (one,) = found(holes, "reading does not fit", pairs="{of: hot and cold, apart: 140, level: yes}")
    assert one.about == ("hot", "cold")


def test_tapes_that_cross_flat_ask_for_a_third() -> None:
    # They cross at 50.9 degrees: 53.130 and 104.036 below level.
    (one,) = found(riser(*TAPES, more="lies: below"), "tapes cross flat")
    assert "cross at 51 degrees (wanted 60 to 120)" in one.text
    assert one.value == pytest.approx(50.906, abs=0.01)
    assert not found(riser(*TAPES, more="lies: below"), "tapes cross flat", limits="arcs cross: 45")
    assert not found(riser(*TAPES, "792.5 to 807.5 above B"), "tapes cross flat")


def test_a_chance_that_is_too_small_is_said_once_for_a_hole() -> None:
    holes = """
        holes:
          - {{name: riser, what: 15 copper, across: 242.5 to 257.5 right of V, up: 212.5 to 227.5 above B, opening: {}}}
    """
    # 250 right of V is the middle of a joint: the hole is cut in both tiles.
    (one,) = found(holes.format(17), "not sure")
    assert one.about[0] == "riser"
    assert len(one.about) == 3
    assert "you have 1 any way" in one.text
    assert not found(holes.format(28), "not sure")
    assert not found(holes.format(17), "not sure", limits="sure: 1 %")
