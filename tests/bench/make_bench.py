"""Benchmark: what a sheet costs, and what is held at once, in a whole `make` of 10, 100 and 1,000 sheets.

    python -m tests.bench.make_bench
    python -m tests.bench.make_bench --faults      # the bar against the libraries, with a fault: it must fail

Each job is a wall of ten thousand tiles with one pipe on each of so many tiles; it goes from the job file to the
finished folder as `cutmarks make` takes it, in a process of its own. From the fewest sheets to the most, at most 1.2
times:

1. Processor time a sheet (another program on the machine does not count). A job of 10 sheets is made before, so that
   the libraries are loaded and warm.
2. The peak resident size of the process, as Linux gives it (VmHWM: getrusage would begin with the size of the process
   that started it); here nothing is made before.

The sizes in between are printed. And, in turns in one process:

3. Processor time of a `make` of 100 sheets, against the bare libraries reading and writing the same files again (lxml
   each SVG, pikepdf each PDF, json and csv theirs, a DXF as it is).

Exits 1 where a ratio is over its bound.
"""

from __future__ import annotations

import argparse
import csv
import json
import re
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, redirect_stdout
from functools import partial
from io import StringIO
from pathlib import Path
from unittest import mock

import pikepdf
from lxml import etree

from cutmarks.cli.app import app
from cutmarks.writers import pack
from cutmarks.writers.dxf import dxf_files
from tests.bench.jobs import write_square_wall
from tests.bench.plan_scaling import compare
from tests.bench.turns import Bar, bites, held

GROWTH = 1.2
OF_LIBRARIES = 14.8
"""Measured when it was set: 13.2; with its fault 18.4."""
SIZES = (10, 100, 1000)
SIDE = 100
ROUNDS = 3
"""So often is a small job made; the quickest counts."""
SMALL = 100
"""A job of so many sheets is small."""


def run(job: Path, out: Path) -> None:
    """`cutmarks make` in this process, without its words."""
    with redirect_stdout(StringIO()):
        app(["make", str(job), "--out", str(out)], prog_name="cutmarks", standalone_mode=False)


def made(sheets: int) -> float:
    """Make a job of so many sheets; the processor time that it took, s."""
    with tempfile.TemporaryDirectory() as folder:
        job, out = write_square_wall(Path(folder) / "job", SIDE, sheets), Path(folder) / "out"
        begun = time.process_time()
        run(job, out)
        took = time.process_time() - begun
        count = sum(1 for _ in (out / "sheets").iterdir())
    if count != sheets:
        raise RuntimeError(f"{count} sheets were made instead of {sheets}")
    return took


def seconds_of(sheets: int) -> float:
    """The processor time of such a job, s, when all is loaded."""
    return min(made(sheets) for _ in range(ROUNDS if sheets <= SMALL else 1))


def by_the_libraries(made: Path, out: Path) -> None:
    """Every file of a finished folder read and written again by the library that it is written with."""
    for path in sorted(path for path in made.rglob("*") if path.is_file()):
        to = out / path.relative_to(made)
        to.parent.mkdir(parents=True, exist_ok=True)
        match path.suffix:
            case ".svg":
                etree.parse(path).write(to, encoding="utf-8")
            case ".pdf":
                with pikepdf.open(path) as read:
                    read.save(to, deterministic_id=True, object_stream_mode=pikepdf.ObjectStreamMode.generate)
            case ".json":
                to.write_text(json.dumps(json.loads(path.read_bytes()), indent=1), encoding="utf-8")
            case ".csv":
                with (
                    path.open(newline="", encoding="utf-8") as rows,
                    to.open("w", newline="", encoding="utf-8") as file,
                ):
                    csv.writer(file).writerows(csv.reader(rows))
            case _:
                to.write_bytes(path.read_bytes())


@contextmanager
def each_drawing_read_back() -> Iterator[None]:
    """A fault: every DXF is read back and measured, not the first of each kind alone."""
    with mock.patch.object(pack, "dxf_files", partial(dxf_files, measure="all")):
        yield


def judge_by_the_libraries(judge: Callable[[Bar, int], bool]) -> bool:
    """The bar against the bare libraries, as it is or with its fault."""
    with tempfile.TemporaryDirectory() as temporary:
        folder = Path(temporary)
        job = write_square_wall(folder / "job", SIDE, SMALL)
        run(job, folder / "made")
        bar = Bar(
            f"a make of {SMALL} sheets against the bare libraries",
            lambda: made(SMALL),
            lambda: by_the_libraries(folder / "made", folder / "again"),
            OF_LIBRARIES,
            each_drawing_read_back,
        )
        return judge(bar, ROUNDS)


def peak_of_this_process() -> int:
    """The peak resident size of this process, kB."""
    (found,) = re.findall(r"VmHWM:\s+(\d+) kB", Path("/proc/self/status").read_text(encoding="ascii"))
    return int(found)


def in_its_own_process(what: str, sheets: int) -> float:
    """The last line that a process of this module prints for one figure of one job."""
    command = [sys.executable, "-m", "tests.bench.make_bench", f"--{what}-of", str(sheets)]
    ran = subprocess.run(command, capture_output=True, text=True, check=True)
    return float(ran.stdout.splitlines()[-1])


def main() -> int:
    """Measure every size, compare the first with the last; 0 where both ratios hold."""
    options = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    options.add_argument("--sizes", type=int, nargs="+", default=SIZES)
    options.add_argument("--peak-of", type=int, help="only make so many sheets and print the peak resident size, kB")
    options.add_argument("--seconds-of", type=int, help="only make so many sheets and print the processor time, s")
    options.add_argument("--faults", action="store_true", help="plant the fault that the bar of the libraries is for")
    asked = options.parse_args()
    if asked.faults:
        return 0 if judge_by_the_libraries(bites) else 1
    if asked.peak_of:
        made(asked.peak_of)
        print(peak_of_this_process())
        return 0
    if asked.seconds_of:
        made(min(SIZES))
        print(seconds_of(asked.seconds_of))
        return 0
    each = [in_its_own_process("seconds", size) / size for size in asked.sizes]
    peaks = [in_its_own_process("peak", size) for size in asked.sizes]
    for size, seconds, peak in zip(asked.sizes, each, peaks, strict=True):
        print(f"{size} sheets: {seconds * 1000:.1f} ms a sheet, peak {peak / 1024:.1f} MB")
    results = [
        compare("time a sheet", each[0], each[-1], GROWTH, "s"),
        compare("peak memory", peaks[0], peaks[-1], GROWTH, "kB"),
        judge_by_the_libraries(held),
    ]
    return 0 if all(results) else 1


if __name__ == "__main__":
    sys.exit(main())
