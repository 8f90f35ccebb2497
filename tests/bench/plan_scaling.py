"""Benchmark: the cost of a plan follows what is touched, not what is tiled.

    python -m tests.bench.plan_scaling

Ratios in one run, each beside its bound; exits 1 where one is over it. Times are processor time.

1. make_plan of the same 10,000 pipes on a million tiles against ten thousand, no edge trimming a piece: time and peak
   memory at most 1.3 times.
2. The same with 100 pipes, and with none: behind 10,000 pipes a walk over all tiles would not be seen. There are a
   hundred times as many tiles in ten times as many courses, and a course costs something: with no pipe at most 10
   times, as the courses, with 100 pipes at most 1.5.
3. With raking edges and no pipes, time and peak memory for each piece BUILT, a million tiles against ten thousand: at
   most 1.5 times.
"""

from __future__ import annotations

import argparse
import gc
import sys
import tempfile
import time
import tracemalloc
from pathlib import Path

from cutmarks import load_job, make_plan
from cutmarks.job import Job
from tests.bench.jobs import write_square_wall

SMALL, LARGE = 100, 1000
PIPES = 10_000
SAME_PIPES = 1.3
FEW_PIPES, SAME_FEW = 100, 1.5
AS_COURSES = 10.0
PER_PIECE = 1.5


def seconds(job: Job, rounds: int) -> tuple[float, int]:
    """The best time of `rounds` plans, s, and how many pieces were built."""
    best, built = float("inf"), 0
    for _ in range(rounds):
        gc.collect()
        begun = time.process_time()
        plan = make_plan(job)
        best = min(best, time.process_time() - begun)
        built = len(plan.pieces)
    return best, built


def peak_bytes(job: Job) -> int:
    """The peak of what Python allocates during one plan."""
    gc.collect()
    tracemalloc.start()
    make_plan(job)
    _, peak = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    return peak


def compare(what: str, small: float, large: float, bound: float, unit: str) -> bool:
    """Print one ratio beside its bound; True where it holds."""
    ratio = large / small
    verdict = "holds" if ratio <= bound else "TOO MUCH"
    print(f"{what}: {small:.4g} -> {large:.4g} {unit}, ratio {ratio:.2f} (at most {bound}) {verdict}")
    return ratio <= bound


def main() -> int:
    """Run both comparisons; 0 where every ratio holds."""
    options = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    options.add_argument("--pipes", type=int, default=PIPES)
    options.add_argument("--rounds", type=int, default=3)
    asked = options.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        flush = [load_job(write_square_wall(Path(folder) / f"f{n}", n, asked.pipes)) for n in (SMALL, LARGE)]
        raking = [load_job(write_square_wall(Path(folder) / f"r{n}", n, 0, raking=True)) for n in (SMALL, LARGE)]
        some = [load_job(write_square_wall(Path(folder) / f"s{n}", n, FEW_PIPES)) for n in (SMALL, LARGE)]
        none = [load_job(write_square_wall(Path(folder) / f"n{n}", n, 0)) for n in (SMALL, LARGE)]
    (few, _), (many, _) = (seconds(job, asked.rounds) for job in flush)
    held = [compare(f"{asked.pipes} pipes, time", few, many, SAME_PIPES, "s")]
    for count, jobs, bound in ((FEW_PIPES, some, SAME_FEW), (0, none, AS_COURSES)):
        (small, _), (large, _) = (seconds(job, 3 * asked.rounds) for job in jobs)
        held.append(compare(f"{count} pipes, time", small, large, bound, "s"))
    less, more = (peak_bytes(job) for job in flush)
    held.append(compare(f"{asked.pipes} pipes, peak memory", less, more, SAME_PIPES, "bytes"))
    (short, short_built), (long, long_built) = (seconds(job, asked.rounds) for job in raking)
    print(f"pieces built along raking edges: {short_built} and {long_built}")
    held.append(compare("time a piece built", short / short_built, long / long_built, PER_PIECE, "s"))
    lighter, heavier = peak_bytes(raking[0]) / short_built, peak_bytes(raking[1]) / long_built
    held.append(compare("peak memory a piece built", lighter, heavier, PER_PIECE, "bytes"))
    return 0 if all(held) else 1


if __name__ == "__main__":
    sys.exit(main())
