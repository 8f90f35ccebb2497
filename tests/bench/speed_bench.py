"""Benchmark: how planning grows with each thing that a job has more of, and what it costs against another checkout.

    python -m tests.bench.speed_bench [--only WORD ...] [--against CHECKOUT]

1. Growth: a job with twice as many holes, holes on one tile, pieces, windows, corners of an outline, unknown keys,
   surfaces or areas may take at most 2 ** 1.15 times as long to load and plan.
2. With --against, ratios to that checkout: both in turn in processes of their own, the least of each counts. A check
   of each example that both have as a whole process, plans of 2,000 pipes on a large wall and of 60 on one tile, and
   the loading and planning of 200 holes on one tile, 1,000 windows, and outlines of 1,000 corners.

Processor time all through. Both checkouts must have their bytecode kept, or both not: set PYTHONPYCACHEPREFIX to a
folder. Ends with 1 where a bar does not hold.
"""

from __future__ import annotations

import argparse
import os
import resource
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

from tests.bench.measured import Bar, exponent
from tests.bench.speed_jobs import JOBS

REPOSITORY = Path(__file__).resolve().parents[2]
STEEPEST = 1.15
SIZES: Mapping[str, Sequence[int]] = {
    "holes": (250, 500, 1000, 2000),
    "holes on one tile": (30, 60, 120, 240),
    "pieces": (250, 500, 1000, 2000),
    "windows": (125, 250, 500, 1000),
    "points of an area": (125, 250, 500, 1000),
    "points of a hole": (125, 250, 500, 1000),
    "points over tiles": (75, 150, 300, 600),
    "unknown keys": (250, 500, 1000, 2000),
    "surfaces": (25, 50, 100, 200),
    "areas": (12, 24, 48, 96),
}
REFUSED = "unknown keys"
"""The one kind of job that is not planned."""
RATIOS: Sequence[tuple[str, int, str, float]] = (
    ("holes", 2000, "plan", 0.45),
    ("holes on one tile", 60, "plan", 0.35),
    ("holes on one tile", 200, "check", 0.25),
    ("windows", 1000, "check", 0.25),
    ("points of an area", 1000, "check", 0.25),
    ("points of a hole", 1000, "check", 0.25),
    ("points over tiles", 300, "check", 0.25),
)
"""What is measured against the other checkout: the job, its size, planned alone or loaded and planned, and the bar."""
WHOLE_CHECK = 0.75
TURNS = 5
"""So often are both checkouts measured, in turn; a job that takes the other one over `LONG` seconds only once."""
LONG = 5.0

MEASURE = """
import gc, sys, time
from pathlib import Path
import cutmarks
from cutmarks.errors import JobError

def took(path):
    gc.collect()
    begun = time.process_time()
    try:
        job = cutmarks.load_job(path)
    except JobError:
        return 0.0, time.process_time() - begun
    loaded = time.process_time()
    cutmarks.make_plan(job)
    ended = time.process_time()
    return ended - loaded, ended - begun

cutmarks.make_plan(cutmarks.load_job(Path(sys.argv[1])))
found = [took(Path(sys.argv[2])) for _ in range(int(sys.argv[3]))]
print(*map(min, zip(*found)))
"""
"""Loads and plans a small job first, so that all is imported; then prints the least times to plan, and to load and
plan, s. It runs in either checkout, so it asks for nothing but the public names."""
WARM = "examples/laundry/laundry.yaml"


def seconds(checkout: Path, job: Path, rounds: int) -> Mapping[str, float]:
    """The processor time to plan a job, and to load and plan it, in a process of its own, s."""
    command = [sys.executable, "-c", MEASURE, str(REPOSITORY / WARM), str(job), str(rounds)]
    ran = subprocess.run(command, capture_output=True, text=True, check=True, env=_environment(checkout), cwd=checkout)
    plan, check = map(float, ran.stdout.split())
    return {"plan": plan, "check": check}


def check_seconds(checkout: Path, job: Path) -> float:
    """The processor time of `cutmarks check` of a job as a whole process, s."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    command = [sys.executable, "-m", "cutmarks", "check", str(job)]
    subprocess.run(command, stdout=subprocess.DEVNULL, check=False, env=_environment(checkout), cwd=checkout)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def _environment(checkout: Path) -> Mapping[str, str]:
    """The checkout is the working folder too: Python looks for modules there first."""
    return {**os.environ, "PYTHONPATH": str(checkout)}


def growth(what: str, folder: Path, sizes: Sequence[int], rounds: int) -> Bar:
    """The exponent of one dimension beside its bar; the times are printed as they come."""
    jobs = [JOBS[what](folder / f"{number}", size) for number, size in enumerate(sizes)]
    measured = [seconds(REPOSITORY, job, rounds) for job in jobs]
    if what != REFUSED and not all(one["plan"] for one in measured):
        raise RuntimeError(f"a job of {what} is refused: its size is over a limit")
    took = [one["check"] for one in measured]
    print(f"{what}: " + ", ".join(f"{size} {one * 1000:.0f} ms" for size, one in zip(sizes, took, strict=True)))
    return Bar(f"{what}, exponent", exponent(sizes, took), STEEPEST)


def _examples_of_both(other: Path) -> Iterator[Path]:
    """The examples as they stand here that the other checkout has too."""
    for job in sorted(REPOSITORY.glob("examples/*/*.yaml")):
        if job.stem == job.parent.name and (other / job.relative_to(REPOSITORY)).exists():
            yield job


def ratios(other: Path, folder: Path) -> Iterator[Bar]:
    """What each job costs here against the other checkout, beside its bar."""
    both = (REPOSITORY, other)
    for job in _examples_of_both(other):
        turns = ([check_seconds(one, job) for one in both] for _ in range(2 * TURNS))
        least = [min(turn) for turn in zip(*turns, strict=True)]
        yield Bar(f"check of {job.stem} as a whole process, ratio", least[0] / least[1], WHOLE_CHECK)
    for what, size, part, most in RATIOS:
        job = JOBS[what](folder / f"{what} {size}", size)
        here: list[float] = []
        there: list[float] = []
        while len(here) < TURNS and not (there and min(there) > LONG):
            here.append(seconds(REPOSITORY, job, 1)[part])
            there.append(seconds(other, job, 1)[part])
        yield Bar(f"{part} of {size} {what}, ratio", min(here) / min(there), most)


def main() -> int:
    """Measure and print; 0 where every bar holds."""
    options = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    options.add_argument("--only", nargs="*", default=(), help="only the growths whose names hold one of these words")
    options.add_argument("--against", type=Path, help="another checkout, to be compared with")
    options.add_argument("--rounds", type=int, default=3)
    asked = options.parse_args()
    held = []
    with tempfile.TemporaryDirectory() as place:
        for number, (what, sizes) in enumerate(SIZES.items()):
            if not asked.only or any(word in what for word in asked.only):
                bar = growth(what, Path(place) / f"growth {number}", sizes, asked.rounds)
                print(f"  {bar}", flush=True)
                held.append(bar.holds)
        if asked.against is not None:
            for bar in ratios(asked.against.resolve(), Path(place) / "ratios"):
                print(bar, flush=True)
                held.append(bar.holds)
    return 0 if all(held) else 1


if __name__ == "__main__":
    sys.exit(main())
