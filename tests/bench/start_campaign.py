"""The search for starts against brute force, and what it promises against what is laid.

    python -m tests.bench.start_campaign --surfaces 300 --seed 1   # never worse than 0.25 mm sampling of each axis
    python -m tests.bench.start_campaign --both 20 --seed 1        # nor than 5 mm sampling of both axes together
    python -m tests.bench.start_campaign --promises 1000 --seed 1  # every start shown, laid out, gives its figures
    python -m tests.bench.start_campaign --scaling                 # a wall of 5,000 tiles and 60 holes, against `check`

Beside what is found anywhere the first two hold what is offered against every start in whole millimetres (`--both`: in
5 mm) that has room beside it. What counts is compared by its bands, one after the other, as the search does; the
figures of a start come from its closed form, which `--promises` holds against the pieces that are laid, to 0.01 mm.
"""

from __future__ import annotations

import argparse
import math
import sys
import time
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import nullcontext
from functools import partial
from itertools import product
from typing import NamedTuple
from unittest.mock import patch

from msgspec.structs import replace

from cutmarks.choosing import choose
from cutmarks.choosing.asking import AXES
from cutmarks.choosing.choose import Chooser
from cutmarks.choosing.offers import AreaStart
from cutmarks.choosing.question import StartQuestion
from cutmarks.choosing.steps import has_room
from cutmarks.cli.table import check_lines
from cutmarks.job import Job, parse_job
from cutmarks.job.models import AreaSpec
from cutmarks.plan import make_plan
from cutmarks.plan.choices import choices_of
from cutmarks.plan.surfaces import lay, say_of
from cutmarks.sides import Axis
from cutmarks.tiling.areas import layout_of
from tests.bench.measured import Bar, told
from tests.bench.start_jobs import large_job, start_job
from tests.bench.start_referee import ON, lands, sizes_at_ends, waiting

Place = tuple[float, float]
"""Where a start lies, mm."""
Steps = tuple[Sequence[float], Sequence[float]]
"""Starts on each axis, mm."""

FINE, COARSE = 0.25, 5.0
BESIDE = 0.25
"""A start in whole millimetres has to count the same so much to one side of it, mm."""
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


def steps(low: float, pitch: float, step: float) -> list[float]:
    """Offsets over one pitch."""
    return [low + number * step for number in range(math.ceil(pitch / step))]


class Judged(NamedTuple):
    """How many areas were looked at, at how many starts; at how many areas one was better than what was found."""

    areas: int = 0
    starts: int = 0
    worse: int = 0


def looked_at(chooser: Chooser, area: AreaSpec, *, anywhere: bool) -> tuple[StartQuestion, Place, tuple[int, ...]]:
    """What is asked of an area alone, the best start that is offered, or that lies anywhere, and what counts of it."""
    asked = chooser.asking.question(area, ())
    every = chooser.best(asked, area, True, anywhere=anywhere)
    best = next(one for one in every if anywhere or has_room(one.x, one.y, asked, chooser.asking.step))
    return asked, (best.x.at, best.y.at), best.worth.banded(asked.limits)


def other_hand(chooser: Chooser, area: AreaSpec, *, anywhere: bool) -> tuple[int, ...] | None:
    """What the best start counts with the bond to the other hand: the same courses, begun one further up.

    A start is looked for over one course. Of a half, and of courses that step on, one course further up lies as another
    start does; of a third that goes back and forth it lies as the other hand does, which the search offers beside it.
    """
    bond = area.bond
    if bond.way != "alternate" or bond.part * 2 == 1 or not (bond.part or bond.mm):
        return None
    other = replace(area, bond=replace(bond, part=-bond.part, mm=-bond.mm))
    return looked_at(chooser, other, anywhere=anywhere)[2]


def never_worse(count: int, seed: int, tell: Callable[[str], None] = print) -> Judged:
    """Areas sampled on each axis with the other as found; in whole steps each axis with the other as offered.

    Whole steps up are those of the course in which starts are looked for: where courses are shifted by no whole steps,
    the ones over it lie as no start in whole steps does.
    """

    def on_each_axis(at: Place, each: Steps) -> Iterator[Place]:
        yield from ((x, at[1]) for x in each[0])
        yield from ((at[0], y) for y in each[1])

    return _never_worse(count, seed, FINE, 1.0, on_each_axis, tell)


def never_worse_together(count: int, seed: int, tell: Callable[[str], None] = print) -> Judged:
    """The same with both axes sampled together."""

    def on_both(_: Place, each: Steps) -> Iterator[Place]:
        yield from product(*each)

    return _never_worse(count, seed, COARSE, COARSE, on_both, tell)


def _never_worse(
    count: int,
    seed: int,
    fine: float,
    whole: float,
    places: Callable[[Place, Steps], Iterator[Place]],
    tell: Callable[[str], None],
) -> Judged:
    judged = Judged()
    for number, chooser in walls(count, seed):
        for area in chooser.spec.areas:
            starts = 0
            better: list[str] = []
            for anywhere, step in ((True, fine), (False, whole)):
                held = partial(_judged, chooser, area, anywhere, step, places)
                # What is found without looking closer is no better than what is found: where no sample is better than
                # that, none is better than the whole search either, which takes ten times as long where ends lean.
                with patch.object(choose, "where_the_other_tells", lambda *_: iter(())) if anywhere else nullcontext():
                    looked, best = held()
                starts += looked
                if anywhere and best:
                    looked, best = held()
                    starts += looked
                better += [best] if best else []
            for one in better:
                tell(f"seed {number}, {area.name}: {one}")
            judged = Judged(judged.areas + 1, judged.starts + starts, judged.worse + bool(better))
            _say_how_far(judged.areas, number, tell)
    return judged


def _judged(
    chooser: Chooser, area: AreaSpec, anywhere: bool, step: float, places: Callable[[Place, Steps], Iterator[Place]]
) -> tuple[int, str]:
    """How many starts were looked at about what is found, and what is found and the best of them, if it is better."""
    asked, at, found = looked_at(chooser, area, anywhere=anywhere)
    free: Sequence[Axis] = ("across",) if area.from_ is not None else ("across", "up")
    each = [
        _steps_of(chooser, asked, axis, one if anywhere else None, step) if axis in free else [one]
        for axis, one in zip(AXES, at, strict=True)
    ]
    every = list(places(at, (each[0], each[1])))
    best = sampled(asked, every, found, () if anywhere else free)
    if best is None or best[0] >= (other_hand(chooser, area, anywhere=anywhere) or found):
        return len(every), ""
    return len(every), f"{'found' if anywhere else 'offered'} {found} at {at}, sampled {best}"


def _steps_of(chooser: Chooser, asked: StartQuestion, axis: Axis, low: float | None, step: float) -> Sequence[float]:
    """What is sampled of an axis, over one pitch from `low` on; None: whole steps of where starts are looked for."""
    origin, pitch = chooser.asking.origin(asked, axis)
    return steps(float(math.ceil(origin)) if low is None else low, pitch, step)


def sampled(
    asked: StartQuestion, places: Iterable[Place], found: tuple[int, ...], room: Sequence[Axis]
) -> tuple[tuple[int, ...], Place] | None:
    """The best of what counts among these starts, in bands, and where, if it is better than what was found.

    Of those alone that count the same a quarter of a millimetre to one side on each axis that `room` names.
    """
    # Pieces are counted of those alone that what decides before them does not rule out.
    close = (one for one in places if (decides := asked.uncounted(*one).before_cuts) <= found[: len(decides)])
    counted = ((asked.worth(*one).banded(asked.limits), one) for one in close)
    better = sorted(one for one in counted if one[0] < found)
    return next((one for one in better if all(is_roomy(asked, *one, axis) for axis in room)), None)


def is_roomy(asked: StartQuestion, counts: tuple[int, ...], place: Place, axis: Axis) -> bool:
    """Whether a start counts the same a quarter of a millimetre to the left or right, or above or below."""
    x, y = place
    aside = [(x + by, y) if axis == "across" else (x, y + by) for by in (-BESIDE, BESIDE)]
    return any(asked.worth(*one).banded(asked.limits) == counts for one in aside)


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
    asked = chooser.asking.question(spec, before)
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
    laid = sizes_at_ends(layout, chooser.asking.ends_in(spec))
    wrong: list[str] = []
    off = 0.0
    for end, left in start.figures.left.items():
        if left.cut and end not in laid and left.whole - left.least <= PROMISED:
            # A leaning end that takes a hair off a corner: the referee passes over stretches that are no piece long.
            off = max(off, left.whole - left.least)
        elif left.cut != (end in laid):
            wrong.append(f"{end.what} {end.side}: cut is promised to be {left.cut}")
        elif left.cut and max(left.least, laid[end][0]) >= layout.least_piece:
            off = max(off, abs(left.least - laid[end][0]))
    wrong += [f"{end.what} {end.side} is not promised at all" for end in laid if end not in start.figures.left]
    counts = layout.counts()
    if (counts.whole, counts.cut) != (start.figures.counted.whole, start.figures.counted.cut):
        wrong.append(f"{counts} and not {start.figures.counted}")
    asked = chooser.asking.question(area, ())
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
    for count, judge in ((given.surfaces, never_worse), (given.both, never_worse_together)):
        if count:
            judged = judge(count, given.seed)
            print(f"{judged.areas} areas, {judged.starts} starts")
            bars += [Bar("areas sampled", judged.areas, least=count), Bar("a sample is better", judged.worse, most=0)]
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
