"""Benchmark: what a sheet costs, and what is held at once, in a whole `make` of 10, 100 and 1,000 sheets.

    python -m tests.bench.make_bench
    python -m tests.bench.make_bench --faults      # the bars of libraries and memory, each with a fault: both must fail

Each job is a wall of ten thousand tiles with one pipe on each of so many tiles; it goes from the job file to the
finished folder as `cutmarks make` takes it, in a process of its own. From the fewest sheets to the most:

1. Processor time a sheet is at most 1.2 times as much (another program on the machine does not count). A job of 10
   sheets is made before, so that the libraries are loaded and warm.
2. The peak resident size of the process, as Linux gives it (VmHWM: getrusage would begin with the size of the process
   that started it), grows by at most 0.4 of what is written more; here nothing is made before. A plan has all of its
   pieces, and a PDF is written when its last page is packed, so that it grows with the job; what it may not do is to
   hold the sheets and drawings that it has written, or is to write. A bound on the whole, most of which is Python and
   its libraries, says little of that at a hundred sheets, and at ten thousand refuses the plan itself.

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
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager, nullcontext, redirect_stdout
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
HELD = 0.4
"""Of each byte that is written so many may be held. Measured when it was set: 0.13 to 100 sheets, 0.27 to 1,000; with
its fault 1.07."""
OF_LIBRARIES = 9.5
"""Measured when it was set: 8.6; with its fault 10.4. A make had become so much cheaper that its fault stayed under the
bar before, 14.8."""
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


def made(sheets: int) -> tuple[float, int]:
    """Make a job of so many sheets; the processor time that it took, s, and the bytes that were written."""
    with tempfile.TemporaryDirectory() as folder:
        job, out = write_square_wall(Path(folder) / "job", SIDE, sheets), Path(folder) / "out"
        begun = time.process_time()
        run(job, out)
        took = time.process_time() - begun
        count = sum(1 for _ in (out / "sheets").iterdir())
        written = sum(path.stat().st_size for path in out.rglob("*") if path.is_file())
    if count != sheets:
        raise RuntimeError(f"{count} sheets were made instead of {sheets}")
    return took, written


def seconds_of(sheets: int) -> float:
    """The processor time of such a job, s, when all is loaded."""
    return min(made(sheets)[0] for _ in range(ROUNDS if sheets <= SMALL else 1))


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


@contextmanager
def all_made_before_any_is_written() -> Iterator[None]:
    """A fault: every sheet is drawn and every drawing made before the first of them is written."""
    one_by_one = pack._contents
    with mock.patch.object(pack, "_contents", lambda *of, **more: iter(list(one_by_one(*of, **more)))):
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


def in_its_own_process(what: str, sheets: int, *more: str) -> list[float]:
    """The last line of figures that a process of this module prints for one job."""
    command = [sys.executable, "-m", "tests.bench.make_bench", f"--{what}-of", str(sheets), *more]
    ran = subprocess.run(command, capture_output=True, text=True, check=True)
    return [float(figure) for figure in ran.stdout.splitlines()[-1].split()]


def judge_memory(small: Sequence[float], large: Sequence[float], most: float = HELD) -> bool:
    """Print how much of what is written is held at once, from two jobs' peaks (kB) and bytes; whether it holds."""
    held_more, written_more = (large[0] - small[0]) * 1024, large[1] - small[1]
    verdict = "holds" if held_more <= most * written_more else "TOO MUCH"
    print(
        f"memory: {held_more / 1e6:.1f} MB held more for {written_more / 1e6:.1f} MB written more, "
        f"{held_more / written_more:.2f} (at most {most}) {verdict}"
    )
    return held_more <= most * written_more


def main() -> int:
    """Measure every size, compare the first with the last; 0 where both ratios hold."""
    options = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    options.add_argument("--sizes", type=int, nargs="+", default=SIZES)
    options.add_argument("--peak-of", type=int, help="only make so many sheets and print the peak resident size, kB")
    options.add_argument("--seconds-of", type=int, help="only make so many sheets and print the processor time, s")
    options.add_argument("--all-first", action="store_true", help="with --peak-of: plant its fault")
    options.add_argument("--faults", action="store_true", help="plant the faults that two of the bars are for")
    asked = options.parse_args()
    if asked.faults:
        few, many = (in_its_own_process("peak", size, "--all-first") for size in (min(SIZES), SMALL))
        faults = [not judge_memory(few, many), judge_by_the_libraries(bites)]
        return 0 if all(faults) else 1
    if asked.peak_of:
        with all_made_before_any_is_written() if asked.all_first else nullcontext():
            _, written = made(asked.peak_of)
        print(peak_of_this_process(), written)
        return 0
    if asked.seconds_of:
        made(min(SIZES))
        print(seconds_of(asked.seconds_of))
        return 0
    each = [in_its_own_process("seconds", size)[0] / size for size in asked.sizes]
    peaks = [in_its_own_process("peak", size) for size in asked.sizes]
    for size, seconds, peak in zip(asked.sizes, each, peaks, strict=True):
        print(f"{size} sheets: {seconds * 1000:.1f} ms a sheet, peak {peak[0] / 1024:.1f} MB")
    results = [
        compare("time a sheet", each[0], each[-1], GROWTH, "s"),
        judge_memory(peaks[0], peaks[-1]),
        judge_by_the_libraries(held),
    ]
    return 0 if all(results) else 1


if __name__ == "__main__":
    sys.exit(main())
