"""Starts in whole steps: a step that ends a stretch belongs to it, and one that nothing may be out of is no start."""

from __future__ import annotations

import pytest

from cutmarks.choosing.choose import Chooser
from cutmarks.choosing.offers import Choices
from cutmarks.choosing.search import _counts, _in_courses, _OneAxis
from cutmarks.choosing.steps import Offset, offered
from cutmarks.choosing.words import start_at, start_words
from cutmarks.job import parse_job
from cutmarks.plan.surfaces import lay, say_of
from cutmarks.setout.model import Line
from cutmarks.units import Unit
from tests.choosing.scenes import choices, question

# Tiles of 300 x 200 with joints of 3, 1000 wide: with a tile beginning at x the pieces at the ends are x - 3 and
# 1000 - 606 - x = 394 - x, both half a tile or more from 153 to 244.
WALL = """
job: wall
tiles: {t: {size: 300 x 200, measured: yes}}
surfaces:
  - name: wall
    kind: wall
    lines: {V: "plumb, left end", B: "level, worktop"}
    gaps: {left: 0, right: 0, top: 0, bottom: 0}
    edges:
      left: {at: on V, true: plumb, still to come: 0}
      right: {at: 1000 right of V, true: plumb, still to come: 0}
      bottom: {at: on B, true: level, what: worktop}
      top: {at: TOP above B, true: level}
WINDOWS
    areas: [{name: a, tile: t, joint: 3FROM}]
    holes: [HOLES]
"""


def box(name: str, across: tuple[float, float], up: float) -> str:
    """A box that takes from one place to the other, 2 of it the room round the box on each side, and as much up."""
    low, high = across
    size = f"{high - low - 4:g} x {high - low - 4:g}"
    at = f"across: centre {(low + high) / 2:g} right of V, up: centre {up:g} above B"
    return f"{{name: {name}, what: box, size: {size}, {at}}}"


def wall(*holes: str, top: int, start: str = "", windows: str = "") -> str:
    text = WALL.replace("TOP", str(top)).replace("FROM", start).replace("HOLES", ", ".join(holes))
    return text.replace("WINDOWS", windows)


def between_two_boxes(low: float, high: float) -> Choices:
    """One course with two boxes of 60 in one tile: one leaves no bridge under 30 up to x = low - 30 alone, the other
    only from high + 30 - 300 on. No joint comes as far into either as a fair share of 15.
    """
    return choices(
        wall(box("one", (low, low + 60), 100), box("two", (high - 60, high), 100), top=200, start=", from: B")
    )


@pytest.mark.parametrize(
    ("low", "high", "left", "right"),
    [
        (230.0, 469.5, 0.5, 0.0),  # from 199.5 to 200
        (230.5, 470.0, 0.0, 0.5),  # from 200 to 200.5
    ],
)
def test_a_whole_step_that_ends_its_stretch_is_a_start(low: float, high: float, left: float, right: float) -> None:
    best = between_two_boxes(low, high).offers[0].starts[0]
    assert best.x == 200.0
    assert (best.worth.worst, best.worth.thin) == (0, 0)
    assert best.may_move[:2] == pytest.approx((left, right), abs=1e-6)


def test_a_whole_step_that_nothing_may_be_out_of_is_none() -> None:
    # 200 alone leaves both bridges: up to it the one, from it on the other. The next best ends a tile in the last 3 of
    # the other box, which then goes into its joint: from 167 to 170, and the ends are no more alike.
    found = between_two_boxes(230.0, 470.0)
    starts = [start for offer in found.offers for start in offer.starts]
    assert starts
    assert all(abs((start.x - 200.0) % 303.0) > 0.2 for start in starts)
    assert 167.0 <= starts[0].x <= 170.0
    assert (starts[0].worth.thin, starts[0].worth.unequal) == (0, 1)
    asked = question(wall(box("one", (230, 290), 100), box("two", (410, 470), 100), top=200, start=", from: B"))
    counts = [asked.worth(x, 0.0) for x in (199.75, 200.0, 200.25)]
    assert [(one.thin, one.unequal) for one in counts] == [(1, 0), (0, 0), (1, 0)]


def test_a_whole_tile_that_fits_is_offered_before_one_that_stops_short() -> None:
    # Up 510 the second course ends at y + 403. On 107 it just fits, and 104 are left below, half a tile and over; from
    # 1 lower on it stops short of its gap, and higher up it is cut and not alike with what is left below. A box from
    # 150 to 195 would leave a bridge of 5 with the whole course on the worktop, and just bite with equal cuts, 155.
    best = choices(wall(box("one", (327, 372), 172.5), top=510)).offers[0].starts[0]
    assert best.y == 107.0
    assert (best.worth.worst, best.worth.stops, best.worth.bites, best.worth.unequal) == (0, 0, 0, 0)
    assert best.worth.short == 0
    assert best.may_move[2:] == pytest.approx((1.0, 0.0), abs=1e-3)


@pytest.mark.parametrize(("y", "hair"), [(0.0, 0), (10.0, 1)])
def test_a_thin_leg_counts_only_where_a_course_goes_on_past_the_window(y: float, hair: int) -> None:
    # The window begins at 400.5 and goes from 203 to 403 up: with x at 97 a tile begins 0.5 before it, which is no
    # piece. On B its one course is as high as the window; 10 higher that goes on over the window, and below it the one
    # under it does: a leg of half a millimetre.
    windows = "    windows: [{name: w, across: 400.5 right to 800.5 right of V, up: 203 to 403 above B}]"
    asked = question(wall(top=606, windows=windows))
    over = _OneAxis(asked, "across")
    counts = _counts(_in_courses(over.of(Offset(97.0, 97.0, 97.0)), over.courses(y), over))
    seen = [end for end, left in asked.figures(97.0, y).left.items() if end.side.axis == "across" and left.least < 1.0]
    assert counts[1] == hair
    assert len(seen) == hair


def test_a_place_is_worked_out_once_as_it_is_said_most_easily() -> None:
    # A joint on V, 1.5, is one place with the full tile that ends there and with the measure; so is a course on B.
    job = parse_job(wall(top=606))
    faults = job.faults()
    laid = lay(job.surfaces[0], job, say_of(job), faults, undecided=True)
    chooser = Chooser(job.surfaces[0], laid.setout, laid.openings, job)
    area = chooser.spec.areas[0]
    found = list(chooser.best(chooser.asking.question(area, ()), area, True))
    places = [(one.x.at, one.y.at) for one in found]
    assert len(set(places)) == len(places)
    assert {one.x.way for one in found if one.x.at == 1.5} == {0}
    assert {one.y.way for one in found if one.y.at == 0.0} == {0}


def test_what_is_offered_of_an_interval() -> None:
    # Inside it where a whole step lies there with a quarter of one to a side; on its whole ends where none does.
    assert offered([Offset(5.0, 3.2, 6.9)], 1.0) == [Offset(5.0, 3.2, 6.9)]
    assert offered([Offset(3.5, 3.0, 4.0)], 1.0) == [
        Offset(3.0, 3.0, 4.0, aside=0.25),
        Offset(4.0, 3.0, 4.0, aside=-0.25),
    ]
    assert offered([Offset(3.5, 3.2, 3.8)], 1.0) == []
    assert offered([Offset(4.0, 3.9, 4.1)], 1.0) == [Offset(4.0, 3.9, 4.1, aside=by) for by in (-0.25, 0.25)]
    # What needs no figure is taken wherever it lies.
    assert offered([Offset(1.5, 1.4, 1.6, 0)], 1.0) == [Offset(1.5, 1.4, 1.6, 0)]


def test_a_figure_is_read_from_a_line_that_makes_it_a_whole_one() -> None:
    # A screen's line lies at 600.5: a tile that begins at 640 lies 39.5 from it, and 640 from V.
    def line(name: str, at: float) -> Line:
        return Line(name, "x", at, "plumb", "")

    lines = (line("V", 0.0), line("S", 600.5))
    assert start_words(start_at("across", 640.0, 300.0, 4.0, lines, "wall", Unit.MM, 1.0)) == "left on 640 right of V"
    # One that begins at 640.5 is a whole figure from the screen; at 640.2 from neither, and the nearer one is taken.
    assert start_words(start_at("across", 640.5, 300.0, 4.0, lines, "wall", Unit.MM, 1.0)) == "left on 40 right of S"
    assert start_words(start_at("across", 640.2, 300.0, 4.0, lines, "wall", Unit.MM, 1.0)) == "left on 39.7 right of S"
