"""The search for starts against brute force, and what it promises against what is laid.

    python -m tests.bench.start_campaign --surfaces 300 --seed 1   # never worse than 0.25 mm sampling of each axis
    python -m tests.bench.start_campaign --both 20 --seed 1        # nor than 5 mm sampling of both axes together
    python -m tests.bench.start_campaign --promises 1000 --seed 1  # every start shown, laid out, gives its figures
    python -m tests.bench.start_campaign --scaling                 # a wall of 5,000 tiles and 60 holes, against `check`

What counts is compared by its bands, one after the other, as the search does; the figures of a start come from its
closed form, which `--promises` holds against the pieces that are laid, to 0.01 mm.
"""

from __future__ import annotations

import argparse
import sys
import time
from collections.abc import Callable, Iterator, Sequence

from msgspec.structs import replace

from cutmarks.choosing.choose import AreaStart, Chooser
from cutmarks.choosing.question import StartQuestion
from cutmarks.cli.table import check_lines
from cutmarks.job import Job, parse_job
from cutmarks.job.models import AreaSpec
from cutmarks.plan import make_plan
from cutmarks.plan.choices import choices_of
from cutmarks.plan.surfaces import lay, say_of
from cutmarks.tiling.areas import layout_of
from tests.bench.measured import Bar, told
from tests.bench.start_jobs import large_job, start_job
from tests.bench.start_referee import ON, lands, sizes_at_ends, waiting

FINE, COARSE = 0.25, 5.0
ALL_BUT = 0.9999
"""So much of how far a start may move it is moved."""
TOLD_EACH = 10
"""So often a long campaign says how far it is."""
PROMISED = 0.01
"""A start has to leave what was promised to so much, mm."""


def chooser_of(seed: int) -> tuple[Chooser, Job] | None:
    """The wall of a seed; None where it contradicts itself (a hole in a window)."""
    job = parse_job(start_job(seed))
    faults = job.faults()
    laid = lay(job.surfaces[0], job, say_of(job), faults, undecided=True)
    return None if faults else (Chooser(job.surfaces[0], laid.setout, laid.openings, job), job)


def walls(count: int, seed: int) -> Iterator[tuple[int, Chooser]]:
    """So many walls that can be looked at, from a seed on."""
    number = seed
    while count:
        found = chooser_of(number)
        if found is not None:
            yield number, found[0]
            count -= 1
        number += 1


def sampled(asked: StartQuestion, xs: Sequence[float], ys: Sequence[float]) -> tuple[int, ...]:
    """The best of what counts among these starts, in bands."""
    return min(asked.worth(x, y).banded(asked.limits) for x in xs for y in ys)


def steps(low: float, pitch: float, step: float) -> list[float]:
    """Offsets over one pitch."""
    return [low + number * step for number in range(int(pitch / step) + 1)]


def looked_at(chooser: Chooser, area: AreaSpec) -> tuple[StartQuestion, tuple[float, float], tuple[int, ...]]:
    """What is asked of an area alone, the best start that the enumeration finds, and what counts of it."""
    asked = chooser.question(area, ())
    best = next(chooser.best(asked, area, True, offered=False))
    return asked, (best.x.at, best.y.at), best.worth.banded(asked.limits)


def other_hand(chooser: Chooser, area: AreaSpec) -> tuple[int, ...] | None:
    """What the best start counts with the bond to the other hand: the same courses, begun one further up.

    A start is looked for over one course. Of a half, and of courses that step on, one course further up lies as another
    start does; of a third that goes back and forth it lies as the other hand does, which the search offers beside it.
    """
    bond = area.bond
    if bond.way != "alternate" or bond.part * 2 == 1 or not (bond.part or bond.mm):
        return None
    return looked_at(chooser, replace(area, bond=replace(bond, part=-bond.part, mm=-bond.mm)))[2]


def never_worse(count: int, seed: int, tell: Callable[[str], None] = print) -> tuple[int, int]:
    """How many areas were sampled on each axis with the other as found, and at how many a sample was better."""

    def best_of(asked: StartQuestion, x: float, y: float, ys: Sequence[float]) -> tuple[int, ...]:
        return min(sampled(asked, steps(x, asked.grid.pitch_u, FINE), [y]), sampled(asked, [x], ys))

    return _never_worse(count, seed, FINE, best_of, tell)


def never_worse_together(count: int, seed: int, tell: Callable[[str], None] = print) -> tuple[int, int]:
    """The same with both axes sampled together."""

    def best_of(asked: StartQuestion, x: float, y: float, ys: Sequence[float]) -> tuple[int, ...]:
        return sampled(asked, steps(x, asked.grid.pitch_u, COARSE), ys)

    return _never_worse(count, seed, COARSE, best_of, tell)


def _never_worse(
    count: int,
    seed: int,
    step: float,
    best_of: Callable[[StartQuestion, float, float, Sequence[float]], tuple[int, ...]],
    tell: Callable[[str], None],
) -> tuple[int, int]:
    looked = worse = 0
    for number, chooser in walls(count, seed):
        for area in chooser.spec.areas:
            asked, (x, y), found = looked_at(chooser, area)
            ys = [y] if area.from_ is not None else steps(y, asked.grid.pitch_v, step)
            best = best_of(asked, x, y, ys)
            looked += 1
            if best < found and best < (other_hand(chooser, area) or found):
                worse += 1
                tell(f"seed {number}, {area.name}: found {found}, sampled {best}")
            _say_how_far(looked, number, tell)
    return looked, worse


def _say_how_far(looked: int, number: int, tell: Callable[[str], None]) -> None:
    """Now and then how far a long campaign is, so that one that was stopped says what it looked at."""
    if looked % TOLD_EACH == 0:
        tell(f"{looked} looked at, up to seed {number}")


def promises(count: int, seed: int, tell: Callable[[str], None] = print) -> tuple[int, int, float]:
    """How many starts were shown and laid out, at how many a figure is another, and the most it is off, mm."""
    shown = broken = 0
    most = 0.0
    for number, chooser in walls(count, seed):
        for offer in chooser.choices().offers:
            for start in offer.starts:
                shown += 1
                off, wrong = _held_against_layout(chooser, start)
                wrong += _moved(chooser, start, offer.starts[: offer.starts.index(start)])
                most = max(most, off)
                if wrong or off > PROMISED:
                    broken += 1
                    tell(f"seed {number}, {start.area}: {'; '.join(wrong) or f'off by {off:.3f}'}")
                _say_how_far(shown, number, tell)
    return shown, broken, most


def _moved(chooser: Chooser, start: AreaStart, before: Sequence[AreaStart]) -> list[str]:
    """How far it may move: at half of each way, and at all but a hair of it, it has to count the same."""
    area = next(one for one in chooser.spec.areas if one.name == start.area)
    spec = replace(area, bond=start.bond or area.bond, joint=area.joint if start.joint is None else start.joint)
    asked = chooser.question(spec, before)
    left, right, down, up = start.may_move
    return [
        f"moved by {dx:.2f}, {dy:.2f} it counts otherwise"
        for x, y in ((-left, 0.0), (right, 0.0), (0.0, -down), (0.0, up))
        for part in (0.5, 1.0)
        if abs(dx := part * x * ALL_BUT) + abs(dy := part * y * ALL_BUT) > 0.0
        and not asked.alike(start.x + dx, start.y + dy, (start.x, start.y))
    ]


def _held_against_layout(chooser: Chooser, start: AreaStart) -> tuple[float, list[str]]:
    """The most that a piece at an end is off, mm, and what else is not as promised."""
    area = next(one for one in chooser.spec.areas if one.name == start.area)
    spec = replace(area, start_across=start.across, start_up=start.up)
    if start.bond is not None:
        spec = replace(spec, bond=start.bond)
    if start.joint is not None:
        spec = replace(spec, joint=start.joint)
    layout = layout_of(spec, chooser.setout, chooser.job)
    laid = sizes_at_ends(layout, chooser.ends_in(spec))
    wrong: list[str] = []
    off = 0.0
    for end, left in start.figures.left.items():
        if left.cut != (end in laid):
            wrong.append(f"{end.what} {end.side}: cut is promised to be {left.cut}")
        elif left.cut and max(left.least, laid[end][0]) >= layout.least_piece:
            off = max(off, abs(left.least - laid[end][0]))
    wrong += [f"{end.what} {end.side} is not promised at all" for end in laid if end not in start.figures.left]
    counts = layout.counts()
    if (counts.whole, counts.cut) != (start.figures.counted.whole, start.figures.counted.cut):
        wrong.append(f"{counts} and not {start.figures.counted}")
    asked = chooser.question(area, ())
    for opening in chooser.openings:
        landing = start.figures.landings.get(opening.name)
        if landing is not None and (landing.land if landing.is_bad else "well") != lands(opening, layout, asked.want):
            wrong.append(f"{opening.name}: {landing.land}")
    carried = start.figures.carried
    _, highest, _ = asked.ends.from_floor_to_ceiling
    # Where the floor rises over what a start sits on, its course is no whole one: what waits is told of the next.
    if carried is not None and start.up.anchor == "sits on" and (highest is None or start.y >= highest - ON):
        waits = waiting([one for one in chooser.openings if one.name in start.figures.landings], layout)
        if carried.waiting != waits:
            wrong.append(f"{waits} holes wait and not {carried.waiting}")
    return off, wrong


def scaling() -> list[Bar]:
    """Processor time of the search against that of `check` on the same wall, in turns; and how it grows."""
    start = ", start: {across: joint on V, up: sits on B}"
    for tiles, holes in ((1250, 15), (1250, 60), (5000, 15), (5000, 60)):
        print(f"{tiles} tiles, {holes} holes: {_searched(large_job(tiles, holes, 'half')):.2f} s")
    bars = []
    for bond in ("stack", "half", "third right"):
        turns = [(_searched(large_job(5000, 60, bond)), _checked(large_job(5000, 60, bond, start))) for _ in range(3)]
        ratio = min(one for one, _ in turns) / min(other for _, other in turns)
        bars.append(Bar(f"{bond}: the search, in times of check", ratio, most=10))
    return bars


def _searched(text: str) -> float:
    before = time.process_time()
    choices_of(parse_job(text))
    return time.process_time() - before


def _checked(text: str) -> float:
    before = time.process_time()
    list(check_lines(make_plan(parse_job(text))))
    return time.process_time() - before


def main(arguments: Sequence[str] | None = None) -> int:
    """Run what is asked for; 1 where a bar does not hold."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--surfaces", type=int, default=0)
    parser.add_argument("--both", type=int, default=0)
    parser.add_argument("--promises", type=int, default=0)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--scaling", action="store_true")
    given = parser.parse_args(arguments)
    bars: list[Bar] = scaling() if given.scaling else []
    if given.surfaces:
        looked, worse = never_worse(given.surfaces, given.seed)
        bars += [
            Bar("areas sampled at 0.25 mm", looked, least=given.surfaces),
            Bar("a sample is better", worse, most=0),
        ]
    if given.both:
        looked, worse = never_worse_together(given.both, given.seed)
        bars += [Bar("areas sampled both ways", looked, least=given.both), Bar("a sample is better", worse, most=0)]
    if given.promises:
        shown, broken, most = promises(given.promises, given.seed)
        bars += [
            Bar("starts shown and laid out", shown, least=given.promises),
            Bar("promises that are broken", broken, most=0),
            Bar("the most that a piece is off, mm", most, most=PROMISED),
        ]
    return 0 if told(bars) else 1


if __name__ == "__main__":
    sys.exit(main())
