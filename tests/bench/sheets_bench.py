"""Benchmark: what a sheet costs to be drawn and written, down to the libraries that write it.

    python -m tests.bench.sheets_bench
    python -m tests.bench.sheets_bench --faults      # each bar with the fault that it is there for: all must fail

Ratios in one run, in turns and by processor time, each beside its bar; exits 1 where one is over it. The sheets are
those of seeded plans, each another tile with other cuts, and the 50 joined sheets of one cut of 700 x 1410.

1. All pages of a PDF, from finished sheets, against zlib and pikepdf alone packing the same contents.
2. All SVG files, likewise, against lxml alone writing the same elements.
3. Drawing the sheets, looking for a place for each word in the drawing, against writing both kinds of file; of the
   joined sheets too.
4. The time for 1,000 different sheets drawn and written one by one into one PDF, against the same ten at a time, each
   ten with a PDF of their own; and the peak memory of a process, from 10 to 1,000: at most 1.2 times. Memory is the
   peak resident size as Linux gives it (VmHWM: getrusage would begin with the size of the process that started it).
"""

from __future__ import annotations

import argparse
import re
import subprocess
import sys
import zlib
from collections.abc import Callable, Iterable, Iterator
from contextlib import AbstractContextManager
from functools import cache
from io import BytesIO
from pathlib import Path
from typing import Any
from unittest import mock

import pikepdf
from lxml import etree

from cutmarks.geometry.edges import Bounds
from cutmarks.job import parse_job
from cutmarks.marks.room import TakenRoom, crosses
from cutmarks.plan import Plan, make_plan
from cutmarks.sheets import layout
from cutmarks.sheets.build import build_sheets
from cutmarks.sheets.model import PaperSheet
from cutmarks.writers import pdf, svg
from cutmarks.writers.drawing import drawing
from cutmarks.writers.pdf import pdf_bytes
from cutmarks.writers.svg import write_svg
from tests.bench.plan_scaling import compare
from tests.bench.turns import Bar, bites, held, in_turns
from tests.sheets.random_plans import random_plan

FEW, MANY = 10, 1000
PLANS = 24
"""Seeded plans for the bars of one process."""
ROUNDS = 5
GROWTH = 1.2
OF_PIKEPDF, OF_LXML = 15.0, 1.7
"""Measured when they were set: 10.7 and 1.1; with their faults 22 and 2.5."""
DRAWN, JOINED_DRAWN = 1.1, 0.9
"""Likewise 0.7 and 0.5; with their faults 1.7 and 1.5."""

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
"""A panel with a way through it. On A4 the first sheet reaches 171.5 across and 157 up, each further one 167 and 152.5
(190 and 277 safe, less strip 7, head 34, panels 58, foot 16.5, the edge's 8.5 and 3 at the far end, an overlap of 16):
790 across are 1 + 3.7 sheets, so five, and 1475 up are 1 + 8.6, so ten."""


@cache
def hatch() -> Plan:
    """The plan of the joined sheets. Raises ValueError where they are not five by ten."""
    plan = make_plan(parse_job(HATCH, "hatch.yaml"))
    if [(sheet.how, sheet.columns, sheet.rows) for sheet in plan.registrations] != [("joined", 5, 10)]:
        raise ValueError(f"the hatch is on other sheets: {plan.registrations}")
    return plan


@cache
def different_plans() -> tuple[Plan, ...]:
    """Plans of one tile each, no two alike."""
    return tuple(random_plan(seed) for seed in range(PLANS))


def drawn(plans: Iterable[Plan]) -> list[PaperSheet]:
    """All sheets of the plans, drawn."""
    return [sheet for plan in plans for sheet in build_sheets(plan)]


def write(sheets: Iterable[PaperSheet]) -> None:
    """The sheets as one PDF and as an SVG file each, as a run writes them."""
    pages = pdf.Pages("benchmark")
    for sheet in sheets:
        once = drawing(sheet)
        pages.add(once)
        svg.write_svg(once, BytesIO())
    pages.save(BytesIO())


def write_svgs(sheets: Iterable[PaperSheet]) -> None:
    """The sheets as SVG files."""
    for sheet in sheets:
        svg.write_svg(drawing(sheet), BytesIO())


def contents_of(data: bytes) -> list[bytes]:
    """What each page of a PDF draws, unpacked."""
    with pikepdf.open(BytesIO(data)) as read:
        return [page.Contents.read_bytes() for page in read.pages]


def pikepdf_alone(contents: Iterable[bytes]) -> None:
    """The same contents packed and put on pages by the bare libraries."""
    made = pikepdf.new()
    for content in contents:
        stream = made.make_stream(zlib.compress(content), Filter=pikepdf.Name.FlateDecode)
        box = pikepdf.Array([0, 0, 595, 842])
        page = pikepdf.Dictionary(Type=pikepdf.Name.Page, MediaBox=box, Contents=stream)
        made.pages.append(pikepdf.Page(made.make_indirect(page)))
    made.save(BytesIO(), deterministic_id=True, object_stream_mode=pikepdf.ObjectStreamMode.generate)


def lxml_alone(roots: Iterable[etree._Element]) -> None:
    """The same elements made anew and written by the bare library."""
    for root in roots:
        page = etree.Element(root.tag, root.attrib, nsmap=root.nsmap)
        _copied(root, page)
        etree.ElementTree(page).write(BytesIO(), encoding="utf-8", xml_declaration=False)


def _copied(of: etree._Element, into: etree._Element) -> None:
    for child in of:
        _copied(child, etree.SubElement(into, child.tag, child.attrib))


def over_and_over(target: object, name: str, times: int = 3) -> Callable[[], AbstractContextManager[object]]:
    """A fault: a function does its work so many times."""
    own = getattr(target, name)

    def call(*given: Any, **named: Any) -> Any:
        for _ in range(times - 1):
            own(*given, **named)
        return own(*given, **named)

    return lambda: mock.patch.object(target, name, call)


def drawn_thrice() -> AbstractContextManager[object]:
    """A fault: each page is drawn two times more than it is used."""
    own = layout._marks

    def again(*given: Any) -> Any:
        for _ in range(2):
            list(own(*given))
        return own(*given)

    return mock.patch.object(layout, "_marks", again)


def one_by_one_looked_at() -> AbstractContextManager[object]:
    """A fault: a place is compared with everything that is drawn, near it or far off."""

    def free(taken: TakenRoom, box: Bounds, clearance: float = 0.0) -> bool:
        boxes = [other for some in taken._boxes.values() for other in some]
        lines = [line for some in taken._spans.values() for line in some]
        return not any([box.overlaps(other, clearance) for other in boxes]) and not any(
            [crosses(line, box, clearance) for line in lines]
        )

    return mock.patch.object(TakenRoom, "free", free)


def bars() -> list[Bar]:
    """The bars of one process."""
    plans, joined = different_plans(), [hatch()]
    sheets, joined_sheets = drawn(plans), drawn(joined)
    contents = contents_of(pdf_bytes(sheets, "benchmark"))
    roots = [etree.fromstring(written(sheet)) for sheet in sheets]
    print(f"{len(sheets)} sheets of {len(plans)} plans, {len(joined_sheets)} joined ones")
    return [
        Bar(
            "pages of a PDF against zlib and pikepdf alone",
            lambda: pdf_bytes(sheets, "benchmark"),
            lambda: pikepdf_alone(contents),
            OF_PIKEPDF,
            over_and_over(pdf, "content"),
        ),
        Bar(
            "SVG files against lxml alone",
            lambda: write_svgs(sheets),
            lambda: lxml_alone(roots),
            OF_LXML,
            over_and_over(svg, "_write_words"),
        ),
        Bar(
            "drawing sheets against writing them",
            lambda: drawn(plans),
            lambda: write(sheets),
            DRAWN,
            one_by_one_looked_at,
        ),
        Bar(
            "drawing joined sheets against writing them",
            lambda: drawn(joined),
            lambda: write(joined_sheets),
            JOINED_DRAWN,
            drawn_thrice,
        ),
    ]


def written(sheet: PaperSheet) -> bytes:
    """A sheet's SVG file."""
    out = BytesIO()
    write_svg(drawing(sheet), out)
    return out.getvalue()


def one_by_one(plans: Iterable[Plan]) -> int:
    """Each plan drawn and written, and its sheets forgotten before the next; how many sheets there were."""
    pages = pdf.Pages("benchmark")
    made = 0
    for plan in plans:
        for sheet in build_sheets(plan):
            once = drawing(sheet)
            pages.add(once)
            svg.write_svg(once, BytesIO())
            made += 1
    pages.save(BytesIO())
    return made


def so_many(count: int) -> Iterator[Plan]:
    """Different plans, until they have so many sheets at least."""
    made, seed = 0, 0
    while made < count:
        plan = random_plan(seed)
        yield plan
        made += sum(1 for _ in build_sheets(plan))
        seed += 1


def grows(many: int) -> bool:
    """Whether a sheet costs as much among many as among few: the same sheets, all at once and ten at a time."""
    plans = list(so_many(many))
    each = max(1, round(len(plans) * FEW / many))
    few = [plans[first : first + each] for first in range(0, len(plans), each)]
    together, apart = in_turns(lambda: one_by_one(plans), lambda: [one_by_one(some) for some in few], 1)
    return compare("time of a thousand sheets, ten at a time and together", min(apart), min(together), GROWTH, "s")


def peak_kilobytes(count: int) -> float:
    """The peak resident size of a process that makes so many sheets."""
    command = [sys.executable, "-m", "tests.bench.sheets_bench", "--peak-of", str(count)]
    return float(subprocess.run(command, capture_output=True, text=True, check=True).stdout)


def peak_of_this_process() -> str:
    """The peak resident size of this process, kB."""
    (found,) = re.findall(r"VmHWM:\s+(\d+) kB", Path("/proc/self/status").read_text(encoding="ascii"))
    return str(found)


def main() -> int:
    """Run all comparisons; 0 where every ratio holds, or, with faults, where each is caught."""
    options = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    options.add_argument("--many", type=int, default=MANY)
    options.add_argument("--faults", action="store_true", help="plant the fault that each bar is there for")
    options.add_argument("--peak-of", type=int, help="only make so many sheets and print the peak resident size, kB")
    asked = options.parse_args()
    if asked.peak_of:
        one_by_one(so_many(asked.peak_of))
        print(peak_of_this_process())
        return 0
    judge = bites if asked.faults else held
    results = [judge(bar, ROUNDS) for bar in bars()]
    if not asked.faults:
        results.append(grows(asked.many))
        results.append(compare("peak memory", peak_kilobytes(FEW), peak_kilobytes(asked.many), GROWTH, "kB"))
    return 0 if all(results) else 1


if __name__ == "__main__":
    sys.exit(main())
