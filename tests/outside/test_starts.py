"""The search for a start, against published rules and figures of setting out; see `test_setting_out` for the model."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest

from cutmarks.choosing.offers import AreaStart, Choices
from cutmarks.job import parse_job
from cutmarks.plan.choices import choices_of
from cutmarks.sides import Side
from tests.outside.test_setting_out import CASES


def choices(
    width: float, tile: float, joint: float, gap: float, bond: str = "stack", height: float | None = None
) -> Choices:
    """A wall between true edges, V on its middle, that starts nowhere yet; one course high unless said."""
    half = width / 2
    job = f"""
job: wall
tiles: {{t: {{size: {tile} x 100, measured: yes}}}}
surfaces:
  - name: wall
    kind: wall
    lines: {{V: "plumb, middle", B: "level, batten"}}
    edges:
      left: {{at: {half} left of V, true: plumb, gap: {gap}, still to come: 0}}
      right: {{at: {half} right of V, true: plumb, gap: {gap}, still to come: 0}}
      bottom: {{at: 0 below B, true: level, what: worktop, gap: 0}}
      top: {{at: {height or 100} above B, true: level, gap: 0}}
    areas: [{{name: field, tile: t, joint: {joint}, bond: {bond}, from: B}}]
"""
    return choices_of(parse_job(job))[0]


def ends(start: AreaStart) -> tuple[float, float]:
    left = {end.side: left for end, left in start.figures.left.items()}
    return left[Side.LEFT].least, left[Side.RIGHT].least


@pytest.mark.parametrize(("width", "tile", "joint", "gap", "start", "end"), CASES[:6])
def test_the_best_start_is_the_one_that_the_parity_rule_names(
    width: float, tile: float, joint: float, gap: float, start: str, end: float
) -> None:
    # n = (W - 2g) / (t + j): floor odd, a joint on the centre; even, a tile (published by tilers). With k = floor(n) -
    # 1 whole tiles the two equal cuts are ((n - k)(t + j) - j) / 2, at least half a tile (proved from the model).
    n = Fraction(width - 2 * gap) / Fraction(tile + joint)
    assert start == ("joint" if math.floor(n) % 2 else "middle")
    best = choices(width, tile, joint, gap).offers[0].starts[0]
    assert (best.across.anchor, best.across.at.low) == (start, 0.0)
    assert ends(best) == (pytest.approx(end, abs=0.01), pytest.approx(end, abs=0.01))


def test_where_whole_tiles_fit_with_a_little_to_spare_nothing_is_cut() -> None:
    # 2400, tile 297, joint 3: 8 x 297 + 7 x 3 = 2397, and 3 to spare; n is exactly 8.0, and the model also gives 7
    # whole tiles and two halves of 148.5: no cut is made.
    best = choices(2400, 297, 3, 0).offers[0].starts[0]
    assert best.figures.counted.cut == 0
    assert best.figures.counted.whole == 8
    assert sum(left.short for left in best.figures.left.values()) == pytest.approx(3.0)


def test_the_half_tile_rule() -> None:
    # US Navy training course 14044, p 7-23: the end is (wall - n x tile + tile) / 2, n being the full tiles that fit,
    # the joint ignored. A wall of 90 in, tiles of 4 1/4 in: 21 fit, 89.25; (0.75 + 4.25) / 2 = 2.50 in, 20 full tiles.
    # A joint is at least a little here: 0.5 mm, and 21 of them leave 10.5 mm less for the two ends together.
    best = choices(90 * 25.4, 4.25 * 25.4, 0.5, 0).offers[0].starts[0]
    assert ends(best)[0] == pytest.approx(2.50 * 25.4 - 21 * 0.5 / 2, abs=0.01)
    assert best.figures.counted.whole == 20


@pytest.mark.parametrize(("width", "is_best"), [(540, 70.0), (470, 85.0)])
def test_published_cases_of_the_parity_rule(width: int, is_best: float) -> None:
    # "5.4 tiles: joint on centre, end 0.7; 4.7 tiles: tile on centre, end 0.85 and not 0.35", joints in the module. In
    # modules of 100 with a joint of 1: 540 = 2c + 4 x 99 + 5, c = 69.5; 470 = 2c + 3 x 99 + 4, c = 84.5.
    best = choices(width, 99, 1, 0).offers[0].starts[0]
    assert best.across.anchor == ("joint" if width == 540 else "middle")
    assert ends(best)[0] == pytest.approx(is_best - 0.5, abs=0.01)


def test_a_third_of_a_tile_is_fair_and_under_it_poor() -> None:
    # Trade rules: good from a half on (A108.02 4.3.2: usually none smaller than half), fair to a third, poor under.
    # Two tiles of 300 and a joint of 3 in 700: 700 - 603 = 97 to spare. Cut equally with one whole: (700 - 300 - 6) / 2
    # = 197, over a half. A wall of 400 with one whole tile leaves 97 at one end: under a third.
    assert choices(700, 300, 3, 0).offers[0].worth.worst == 0
    worths = {round(min(ends(offer.starts[0]))): offer.worth.worst for offer in choices(400, 300, 3, 0).offers}
    # 400 - 3 = 397 for two pieces: 198.5 each is the best of them.
    assert worths[198] == 0 or worths[199] == 0
    assert all(worst == (0 if least >= 150 else 1 if least >= 100 else worst) for least, worst in worths.items())


def test_every_second_course_of_a_half_bond_ends_in_the_other_piece() -> None:
    # Half bond: c and c - (t + j) / 2 end in turn. The model's equal cut is c = 289.5 of 300, and 289.5 - 151.5 = 138,
    # which is 0.46 of the tile.
    best = choices(2400, 300, 3, 0, "half", 203).offers[0].starts[0]
    assert {round(one, 1) for one in ends(best)} == {138.0}


def test_thirds_are_offered_for_halves_where_the_tile_is_over_fifteen_inches() -> None:
    # ANSI A108.02 4.3.8.2: a running bond of tiles with a side over 15 in (381 mm) is offset by 33 % at the most.
    def bonds(tile: float) -> set[str]:
        found = choices(2400, tile, 3, 0, "half", 203).offers
        return {start.bond.words for offer in found for start in offer.starts if start.bond is not None}

    assert bonds(600) & {"third right", "third left"}
    assert bonds(382) & {"third right", "third left"}
    assert bonds(381) == set()
    assert bonds(300) == set()
    # The table says of each whether it keeps to that.
    for offer in choices(2400, 600, 3, 0, "half", 203).offers:
        assert offer.worth.lips == sum(start.bond is None for start in offer.starts)
