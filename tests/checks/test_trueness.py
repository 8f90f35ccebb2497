"""Lines that lean, lines that are not square, edges that rake: the effect where the thing is."""

from __future__ import annotations

import textwrap

import pytest

from cutmarks.checks.model import Finding
from cutmarks.checks.trueness import give_or_take, out_of_square
from cutmarks.errors import JobError
from cutmarks.job import parse_job
from cutmarks.limits import LIMITS
from cutmarks.plan import make_plan
from cutmarks.readings import Square

HOT = "{name: hot, what: 15 copper, across: 67 to 83 left of V, up: 1492 to 1508 above B}"


def found(
    rule: str,
    *,
    v: str = "plumb, middle",
    b: str = "level, batten",
    hole: str = HOT,
    more: str = "",
) -> list[Finding]:
    job = parse_job(
        textwrap.dedent(f"""
            job: true
            tiles: {{upright: {{size: 248 x 398, measured: yes}}}}
            surfaces:
              - name: wall
                kind: wall
                lines:
                  V: {v}
                  B: {b}
                areas:
                  - {{name: field, tile: upright, joint: 2, start: {{across: joint on V, up: sits on B}}}}
                holes:
                  - {hole}
        """)
        + textwrap.indent(more, "    ")
    )
    return [finding for finding in make_plan(job).findings if finding.rule == rule]


def test_a_plumb_line_that_is_off_is_said_at_the_height_of_the_thing() -> None:
    # 2 in 1200 at 1500 up: 2.5.
    (one,) = found("line is off", v="{kind: plumb, words: middle, off: 2 in 1200 to the right}")
    assert "there the line is 2½ right of where it should be" in one.text
    assert one.value == pytest.approx(2.5)
    # At 300 up it is 0.5, and nothing is said.
    low = HOT.replace("1492 to 1508", "292 to 308")
    assert not found("line is off", v="{kind: plumb, words: middle, off: 2 in 1200 to the right}", hole=low)


@pytest.mark.parametrize(
    ("across", "reads"),
    # The line is 2.5 to the right at 1500 up: what was read from it lies 2.5 further right of where it should be.
    [
        ("67 to 83 left of V", "64½ to 80½ left"),
        ("67 to 83 right of V", "69½ to 85½ right"),
        ("centre 75 left of V", "centre 72½ left"),
        ("on V", "centre 2½ right"),
        ("near 67 left of V", "right side 64½ left"),
        ("far 83 left of V", "left side 80½ left"),
        ("8 left to 7 right of V", "5½ left to 9½ right"),
        ("2 left to 13 right of V", "½ to 15½ right"),
    ],
)
def test_what_would_be_read_from_the_line_drawn_true_is_said(across: str, reads: str) -> None:
    hole = f"{{name: hot, what: 15 copper, across: {across}, up: 1492 to 1508 above B}}"
    (one,) = found("line is off", v="{kind: plumb, words: middle, off: 2 in 1200 to the right}", hole=hole)
    assert f"From V drawn true it would read {reads}." in one.text


def test_so_it_is_up_from_a_level_line() -> None:
    # 20 in 1000 up to the left, 75 left: B is 1.5 too high there.
    (one,) = found("line is off", b="{kind: level, words: batten, off: 20 in 1000 up to the left}")
    assert "From B drawn true it would read 1493½ to 1509½ above." in one.text
    hole = "{name: hot, what: 15 copper, across: 67 to 83 left of V, up: underside 1492 above B}"
    (one,) = found("line is off", b="{kind: level, words: batten, off: 20 in 1000 up to the left}", hole=hole)
    assert "it would read underside 1493½ above." in one.text


def test_a_level_line_that_is_off_is_said_where_the_thing_is() -> None:
    # 20 in 1000, up to the left: 75 left of V it is 1.5 higher.
    (one,) = found("line is off", b="{kind: level, words: batten, off: 20 in 1000 up to the left}")
    assert "1½ above where it should be" in one.text.replace("of where", "where")
    assert found("line is off", b="{kind: level, words: batten, off: 20 in 1000 down to the right}")


def test_a_raking_edge_is_read_where_the_thing_is() -> None:
    edge = "edges: {right: [1000 right of V at B, 990 right of V at 1000 above B]}\n"
    hole = "{name: hot, what: 15 copper, across: 200 to 216 in from right there, up: 492 to 508 above B}"
    # 10 in 1000, at 500 up: 5 to the left.
    (one,) = found("read from a raking edge", hole=hole, more=edge)
    assert "there it is 5 left of where it is at the set-out line" in one.text
    assert not found("read from a raking edge", more=edge)


def test_three_four_five_is_square() -> None:
    assert out_of_square(Square(900.0, 1200.0, 1500.0, "")) == pytest.approx(0.0, abs=1e-9)
    assert not found("lines not square", more="square: 900 x 1200, diagonal 1500\n")


def test_a_diagonal_too_long_is_an_obtuse_angle() -> None:
    # Law of cosines: cos C = (900^2 + 1200^2 - 1515^2) / (2 900 1200) = -0.0209375, C = 91.19970 degrees.
    assert out_of_square(Square(900.0, 1200.0, 1515.0, "")) == pytest.approx(1.19970, abs=1e-4)
    (one,) = found("lines not square", more="square: 900 x 1200, diagonal 1515\n")
    # tan 1.1997 degrees x 1500 up = 31.4.
    assert "1.20 degrees out of square" in one.text
    assert "at hot that is 31½" in one.text


def test_what_the_tape_cannot_tell_is_not_said() -> None:
    # A diagonal 1 too long: the angle is out by 0.080 degrees. The sides turn it by a, b and c over a b for each mm
    # (a right angle): 1.5 x sqrt(900^2 + 1200^2 + 1500^2) / (900 x 1200) = 0.00295 rad = 0.169 degrees.
    square = Square(900.0, 1200.0, 1501.0, "")
    assert out_of_square(square) == pytest.approx(0.0796, abs=5e-4)
    assert give_or_take(Square(900.0, 1200.0, 1500.0, ""), LIMITS) == pytest.approx(0.1688, abs=1e-3)
    assert not found("lines not square", more="square: 900 x 1200, diagonal 1501\n")


@pytest.mark.parametrize(
    ("v", "says"),
    [
        ("{kind: plumb, words: middle, off: 2 to the right}", "does not say how far"),
        ("{kind: plumb, words: middle, off: 200 in 1200 to the right}", "no small slope"),
        ("{kind: plumb, words: middle, off: 2 in 1200 up to the right}", "is not how a line that is plumb leans"),
    ],
)
def test_a_lean_that_is_none_is_a_fault(v: str, says: str) -> None:
    with pytest.raises(JobError, match=says):
        found("line is off", v=v)


@pytest.mark.parametrize(
    ("square", "says"),
    [("900 x 1200", "is no triangle"), ("900 x 1200, diagonal 2500", "does not close")],
)
def test_a_triangle_that_is_none_is_a_fault(square: str, says: str) -> None:
    with pytest.raises(JobError, match=says):
        found("lines not square", more=f"square: {square}\n")


FLOOR_LINE = "level, 1000 above finished floor"


def test_a_line_whose_words_say_another_height_than_the_floor_is_to_be_checked() -> None:
    # The floor lies 990 below B and still gets 14: B is 990 - 14 = 976 above the finished floor, and not 1000.
    floor = "edges: {bottom: {at: 990 below B, what: floor, true: level, still to come: 14}}\n"
    (one,) = found("line and floor disagree", b=FLOOR_LINE, more=floor)
    assert one.level == "warn"
    assert one.text == (
        "wall: B is said to be 1000 above the floor, and the bottom edge was read 990 below it, 976 with what is still "
        "to come on it: measure it again, and mend the words of the line or the edge."
    )
    assert one.value == pytest.approx(10)
    # Said lower than both: 960, where 976 are over the finish.
    (one,) = found("line and floor disagree", b="level, 960 above finished floor", more=floor)
    assert one.value == pytest.approx(16)


@pytest.mark.parametrize(
    ("words", "edge"),
    [
        # As measured, or finished: either is the floor.
        ("level, 1000 above finished floor", "{at: 1014 below B, what: floor, true: level, still to come: 14}"),
        ("level, 1014 above floor", "{at: 1014 below B, what: floor, true: level, still to come: 14}"),
        # What is still to come makes it less.
        ("level, 1000 above finished floor", "{at: 1030 below B, what: floor, true: level, still to come: '?'}"),
        # A floor that rakes from 1010 to 990 below.
        ("level, 1000 above finished floor", "[1010 below B at V, 990 below B at 900 right of V]"),
        # The surface ends at a worktop, and how high that is is not said.
        ("level, 1000 above finished floor", "{at: 5 below B, what: worktop, true: level}"),
        ("level, 1000 above worktop", "{at: 900 below B, what: floor, true: level, still to come: 0}"),
    ],
)
def test_what_does_not_contradict_the_floor_is_let_be(words: str, edge: str) -> None:
    assert not found("line and floor disagree", b=words, more=f"edges: {{bottom: {edge}}}\n")


def test_an_inch_job_reads_the_words_of_its_lines_in_inches() -> None:
    edge = "edges: {bottom: {at: 47 1/2 in below B, what: floor, true: level, still to come: 0}}\nunits: in\n"
    assert not found("line and floor disagree", b="level, 47 1/2 in above finished floor", more=edge.split("\n")[0])


def test_on_a_floor_what_would_be_read_is_said_in_or_short_of_the_line() -> None:
    # D goes 20 in 1000 further in to the left: 3 at 150 left of C. What was read 300 to 316 in lies 303 to 319 in from
    # D drawn true; what was read 310 to 294 short of it 307 to 291 short.
    for read, true in (("300 to 316 in from D", "303 to 319 in"), ("294 to 310 short of D", "291 to 307 short")):
        job = parse_job(
            textwrap.dedent(f"""
                job: true floor
                tiles: {{flag: {{size: 448 x 448, measured: yes}}}}
                surfaces:
                  - name: floor
                    kind: floor
                    up: towards the window
                    lines:
                      C: across, middle
                      D: {{kind: along, words: door, off: 20 in 1000 up to the left}}
                    areas:
                      - {{name: field, tile: flag, joint: 2, start: {{across: joint on C, up: sits on D}}}}
                    holes:
                      - {{name: drain, what: 15 copper, across: centre 150 left of C, in: {read}}}
            """)
        )
        (one,) = (finding for finding in make_plan(job).findings if finding.rule == "line is off")
        assert f"From D drawn true it would read {true}." in one.text
