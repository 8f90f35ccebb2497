"""Two checkouts make the same jobs, and what they wrote is compared: plan.json, lists, DXF, drawings, printed pages.

    python -m tests.bench.compare_checkouts BEFORE AFTER --jobs 300 --seed 1

Each checkout makes every job in a process of its own, with this interpreter: the examples and starters of BEFORE and
so many seeded jobs, written once and given to both. In plan.json, lists and DXF figures must agree to 0.000001 and
words to the letter; on paper each page's words, size and lines, and what each SVG draws, its letters apart. A
difference that is meant stands in `compare_intended`, with its reason, before the run. Any other one is printed, and
the command ends with 1; 2 where a checkout could not be run. A row of that table that explained nothing is told.
"""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
import tempfile
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from functools import partial
from pathlib import Path

from msgspec import Struct

from tests.bench import compare_maker
from tests.bench.compare_intended import INTENDED, Intended
from tests.bench.compare_jobs import write_jobs
from tests.bench.compare_outputs import Difference, Output, differences

WORKERS = 2
SHOWN = 40
"""So many unexplained differences are printed; the rest are counted."""


class Compared(Struct, frozen=True, dict=True):
    """What came of one job: how it ended, which rows explained how much, and what none explained."""

    job: str
    ended: str
    explained: Counter[str]
    unexplained: tuple[Difference, ...]


def compared(job: str, before: Path, after: Path, intended: Sequence[Intended] = INTENDED) -> Compared:
    """Compare the outputs of one job; `before` and `after` hold a folder for each job."""
    one, two = Output(before / job), Output(after / job)
    explained: Counter[str] = Counter()
    rest = []
    for found in differences(job, one, two):
        row = next((row for row in intended if row.takes(found, one, two)), None)
        if row is None:
            rest.append(found)
        else:
            explained[row.name] += 1
    instead = two.instead()
    return Compared(job, instead[0] if instead else "planned", explained, tuple(rest))


def made(checkout: Path, jobs: Path, out: Path) -> subprocess.Popen[bytes]:
    """Begin to make all jobs in `checkout`."""
    out.mkdir()
    environment = {**os.environ, "PYTHONPATH": str(checkout.resolve())}
    maker = [sys.executable, "-P", compare_maker.__file__, str(checkout.resolve()), str(jobs), str(out)]
    return subprocess.Popen(maker, env=environment, cwd=out)


def run(before: Path, after: Path, seeded: int, seed: int, work: Path) -> list[Compared] | None:
    """Make all jobs in both checkouts and compare them; None where a checkout could not be run."""
    jobs, outs = work / "jobs", (work / "before", work / "after")
    jobs.mkdir()
    write_jobs(before, seeded, seed, jobs)
    makers = [made(checkout, jobs, out) for checkout, out in zip((before, after), outs, strict=True)]
    if not all(_done(makers)):
        return None
    names = sorted(folder.name for folder in jobs.iterdir())
    with ProcessPoolExecutor(WORKERS) as pool:
        return list(pool.map(partial(compared, before=outs[0], after=outs[1]), names, chunksize=4))


def _done(makers: Sequence[subprocess.Popen[bytes]]) -> Iterator[bool]:
    """Whether each came to its end; where one did not, the others are stopped."""
    try:
        for maker in makers:
            yield maker.wait() == 0
    finally:
        for maker in makers:
            if maker.poll() is None:
                maker.terminate()
                maker.wait()


def report(results: Iterable[Compared]) -> bool:
    """Print what was found; whether all of it is explained."""
    results = list(results)
    ended = Counter(one.ended for one in results)
    explained = sum((one.explained for one in results), Counter[str]())
    rest = [found for one in results for found in one.unexplained]
    for found in rest[:SHOWN]:
        print(found)
    if len(rest) > SHOWN:
        print(f"... and {len(rest) - SHOWN} more; by kind: {dict(Counter(found.kind for found in rest))}")
    print(f"{len(results)} jobs: {', '.join(f'{count} {word}' for word, count in sorted(ended.items()))}")
    for row in INTENDED:
        told = f"{explained[row.name]} differences" if explained[row.name] else "explained nothing"
        print(f"  {row.name}: {told} ({row.reason})")
    print(f"{len(rest)} differences that nothing explains, in {sum(bool(one.unexplained) for one in results)} jobs")
    return not rest


def main() -> int:
    """Run the comparison."""
    parser = argparse.ArgumentParser(description="Compare what two checkouts make of the same jobs.")
    parser.add_argument("before", type=Path, metavar="BEFORE")
    parser.add_argument("after", type=Path, metavar="AFTER")
    parser.add_argument("--jobs", type=int, default=300, help="seeded jobs beside the examples and starters")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--keep", type=Path, help="a new folder to keep jobs and outputs in")
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory(prefix="compare-") as temporary:
        work = Path(temporary) if asked.keep is None else asked.keep
        work.mkdir(exist_ok=True)
        results = run(asked.before, asked.after, asked.jobs, asked.seed, work)
    if results is None:
        print("a checkout could not be run: its own words stand above")
        return 2
    return 0 if report(results) else 1


if __name__ == "__main__":
    sys.exit(main())
