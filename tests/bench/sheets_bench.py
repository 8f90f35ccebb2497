"""Benchmark: what a page of the PDF costs, against CairoSVG drawing the same page from its SVG.

    python -m tests.bench.sheets_bench

Ratios in one run, each beside its bound; exits 1 where one is over it.

1. The 35 joined sheets of one cut that is 700 x 1410, asked for by a job (`sheets: joined`), with their joins,
   crosses, verniers, rulers, ticks and words: at most two CairoSVG calls, each drawing one such sheet from its SVG.
2. 1,000 different sheets: at most 1.3 times the CairoSVG calls for the same drawings (a sample of them is called).
3. Time a sheet, and the peak memory of the whole process, from 10 to 1,000 sheets: at most 1.2 times.

The joined sheets are laid out before they are timed, as CairoSVG is given finished drawings too; how long laying
them out takes is printed beside it. The other sheets are made one by one while they are written, so that what is
measured is the writer and not a list of sheets.
Memory is the peak resident size of a process that writes nothing else, as Linux gives it (VmHWM: getrusage would
begin with the size of the process that started it).
"""

from __future__ import annotations

import argparse
import re
import subprocess
import sys
import time
from collections.abc import Iterable, Iterator
from dataclasses import replace
from functools import cache
from pathlib import Path

import cairosvg

from cutmarks.geometry.frames import Point
from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.job import parse_job
from cutmarks.marks.model import CircleMark, Mark, Role, Words
from cutmarks.plan import make_plan
from cutmarks.sheets.build import build_sheets
from cutmarks.sheets.model import Sheet
from cutmarks.writers.pdf import pdf_bytes
from tests.bench.plan_scaling import compare
from tests.scenes import w1
from tests.writers.as_bytes import svg_bytes

FEW, MANY = 10, 1000
EACH = 6
"""Every so many joined sheets one is drawn by CairoSVG, so that near and far ones, edges and middles are among them."""
TWO_CALLS = 2.0
OF_CAIRO = 1.3
GROWTH = 1.2
SAMPLE = 20


HATCH = """\
job: Weir Cottage, hatch
sheets: joined
tiles: {panel: {size: 998 x 1598, measured: yes, thickness: 6}}
surfaces:
  - name: wall
    kind: wall
    lines: {V: "plumb, left side of the panel", B: "level, top of the batten"}
    areas:
      - {name: field, tile: panel, joint: 2, from: B, start: {across: left on V, up: sits on B}}
    holes:
      - {name: hatch, size: 696 x 1406, play: 2, across: centre 440 right of V, up: centre 770 above B, cover: none}
"""
"""A panel with a way through it. On A4 the first sheet reaches 169.5 across and 218.5 up, each further one 165 and 214
(190 and 277 safe, less strip 9, head 28, foot 19, the edge's 8.5 and 3 at the far end, an overlap of 16): 790 across
are 1 + 3.8 sheets, so five, and 1475 up are 1 + 5.9, so seven."""


@cache
def joined_sheets() -> tuple[Sheet, ...]:
    """The joined sheets of the hatch, laid out. Raises ValueError where they are not five by seven."""
    plan = make_plan(parse_job(HATCH, "hatch.yaml"))
    if [(sheet.how, sheet.columns, sheet.rows) for sheet in plan.registrations] != [("joined", 5, 7)]:
        raise ValueError(f"the hatch is on other sheets: {plan.registrations}")
    return tuple(build_sheets(plan))


def different(count: int) -> Iterator[Sheet]:
    """Sheets whose hole, figures and name are others each time."""
    (sheet,) = build_sheets(w1())
    for number in range(count):
        x, y = 40.0 + number % 97, 60.0 + number % 89
        own: list[Mark[SheetFrame]] = [
            CircleMark(Point(x, y), 10.0 + number % 31, Role.CUT),
            Words(f"SPLASH {number // 40}-{number % 40}", Point(20.0, 30.0), 8.0, bold=True),
            Words(f"{x:g}", Point(x, y), 7.0, bold=True),
            Words(f"{y:g}", Point(x, y + 10.0), 7.0, turn=90.0),
        ]
        yield replace(sheet, title=f"sheet {number}", marks=(*sheet.marks, *own))


def seconds(sheets: Iterable[Sheet]) -> float:
    """How long these sheets take to be written, s."""
    begun = time.perf_counter()
    pdf_bytes(sheets, "benchmark")
    return time.perf_counter() - begun


def cairo_seconds(sheets: Iterable[Sheet]) -> float:
    """How long one CairoSVG call takes for one of these sheets, s: the mean, the first (which loads it) left out."""
    drawings = [svg_bytes(sheet) for sheet in sheets]
    cairosvg.svg2pdf(bytestring=drawings[0])
    begun = time.perf_counter()
    for drawing in drawings:
        cairosvg.svg2pdf(bytestring=drawing)
    return (time.perf_counter() - begun) / len(drawings)


def peak_kilobytes(count: int) -> float:
    """The peak resident size of a process that writes so many sheets."""
    command = [sys.executable, "-m", "tests.bench.sheets_bench", "--peak-of", str(count)]
    return float(subprocess.run(command, capture_output=True, text=True, check=True).stdout)


def peak_of_this_process() -> str:
    """The peak resident size of this process, kB."""
    (found,) = re.findall(r"VmHWM:\s+(\d+) kB", Path("/proc/self/status").read_text(encoding="ascii"))
    return str(found)


def main() -> int:
    """Run all comparisons; 0 where every ratio holds."""
    options = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    options.add_argument("--many", type=int, default=MANY)
    options.add_argument("--peak-of", type=int, help="only write so many sheets and print the peak resident size, kB")
    asked = options.parse_args()
    if asked.peak_of:
        pdf_bytes(different(asked.peak_of), "benchmark")
        print(peak_of_this_process())
        return 0
    seconds(different(FEW))
    begun = time.perf_counter()
    sheets = joined_sheets()
    print(f"laying out {len(sheets)} joined sheets: {time.perf_counter() - begun:.2f} s")
    call = cairo_seconds(sheets[::EACH])
    held = [compare(f"{len(sheets)} joined sheets against one CairoSVG call", call, seconds(sheets), TWO_CALLS, "s")]
    calls = asked.many * cairo_seconds(different(SAMPLE))
    long = seconds(different(asked.many))
    held.append(compare(f"{asked.many} sheets against as many CairoSVG calls", calls, long, OF_CAIRO, "s"))
    short = min(seconds(different(FEW)) for _ in range(5))
    held.append(compare("time a sheet", short / FEW, long / asked.many, GROWTH, "s"))
    held.append(compare("peak memory", peak_kilobytes(FEW), peak_kilobytes(asked.many), GROWTH, "kB"))
    size = len(pdf_bytes(different(asked.many), "benchmark"))
    print(f"bytes a page: {size / asked.many:.0f}, CairoSVG {len(cairosvg.svg2pdf(svg_bytes(next(different(1)))))}")
    return 0 if all(held) else 1


if __name__ == "__main__":
    sys.exit(main())
