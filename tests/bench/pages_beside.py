"""The pages of two checkouts beside one another, as pictures, with how much ink each takes.

    python -m tests.bench.pages_beside BEFORE AFTER --out DIR

Each example is made in both checkouts, each by its own code; of every page of pack, job sheet and set-out page there is
a picture `DIR/laundry-pack-03.png`, before at the left and after at the right, where one of them has no such page grey.
A job that one of them refuses is said.
`DIR/ink.csv` has of each page the share of it that is black in a copy that knows no grey, at 150 dots to the inch; what
is printed is the pages and the ink of each file, before and after, and the page that takes the most more. To be looked
at by somebody: it judges nothing.
"""

from __future__ import annotations

import argparse
import csv
import os
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from itertools import zip_longest
from pathlib import Path

import numpy as np
import pypdfium2
from msgspec import Struct
from PIL import Image

from tests.sheets.copied import DPI, copy_of

FILES = ("pack.pdf", "job-sheet.pdf", "set-out.pdf")
SCREEN = 80.0
"""Dots to the inch of the pictures."""
GAP = 12
"""Between both pages, dots."""


class Ink(Struct, frozen=True, dict=True):
    """One page of both checkouts: the share of it that is black; None where there is no such page."""

    job: str
    file: str
    page: int
    before: float | None
    after: float | None


def made(checkout: Path, job: Path, out: Path) -> Path:
    """The folder that a checkout's own code makes of a job."""
    environment = {**os.environ, "PYTHONPATH": str(checkout)}
    command = [sys.executable, "-m", "cutmarks", "make", str(job), "--out", str(out)]
    done = subprocess.run(command, env=environment, cwd=checkout, capture_output=True, text=True, check=False)
    if not out.is_dir():
        print(f"{checkout} makes nothing of {job.stem}: {(done.stderr or done.stdout).strip().splitlines()[-1]}")
    return out


def ink_of(data: bytes, number: int) -> float:
    """The share of a page that is black in a copy without grey."""
    return float(np.mean(copy_of(data, number).black))


def picture(data: bytes, number: int) -> Image.Image:
    """One page as it is looked at on a screen."""
    shown: Image.Image = pypdfium2.PdfDocument(data)[number].render(scale=SCREEN / 72).to_pil().convert("RGB")
    return shown


def beside(one: Image.Image | None, other: Image.Image | None) -> Image.Image:
    """Two pages beside one another, blank where there is none."""
    size = (one or other).size if (one or other) is not None else (1, 1)  # type: ignore[union-attr]
    left, right = (shown or Image.new("RGB", size, "lightgrey") for shown in (one, other))
    both = Image.new("RGB", (left.width + GAP + right.width, max(left.height, right.height)), "grey")
    both.paste(left, (0, 0))
    both.paste(right, (left.width + GAP, 0))
    return both


def compared(job: str, before: Path, after: Path, out: Path) -> Iterator[Ink]:
    """The pages of a job's files, each drawn beside the other's into `out`."""
    for file in FILES:
        both = [path.read_bytes() if (path := folder / file).exists() else None for folder in (before, after)]
        pages = [range(len(pypdfium2.PdfDocument(data))) if data else range(0) for data in both]
        for number, places in enumerate(zip_longest(*pages), start=1):
            shown = [
                picture(data, place) if data is not None and place is not None else None
                for data, place in zip(both, places, strict=True)
            ]
            inked = [
                ink_of(data, place) if data is not None and place is not None else None
                for data, place in zip(both, places, strict=True)
            ]
            beside(*shown).save(out / f"{job}-{file.partition('.')[0]}-{number:02d}.png")
            yield Ink(job, file, number, *inked)


def said(share: float | None) -> str:
    """A share in per cent, or nothing."""
    return "" if share is None else f"{100 * share:.2f}"


def main() -> int:
    """Make, draw, count."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("before", type=Path)
    parser.add_argument("after", type=Path)
    parser.add_argument("--out", type=Path, required=True)
    parser.add_argument("--only", action="append", default=[], help="one example by name; else all of AFTER")
    given = parser.parse_args()
    given.out.mkdir(parents=True, exist_ok=True)
    jobs = sorted(path for path in (given.after / "examples").glob("*/*.yaml") if path.stem == path.parent.name)
    rows: list[Ink] = []
    for job in jobs:
        if given.only and job.stem not in given.only:
            continue
        with tempfile.TemporaryDirectory() as folder:
            before, after = (
                made(checkout.resolve(), job.resolve(), Path(folder) / name)
                for checkout, name in ((given.before, "before"), (given.after, "after"))
            )
            rows += compared(job.stem, before, after, given.out)
    with (given.out / "ink.csv").open("w", encoding="utf-8", newline="") as file:
        table = csv.writer(file)
        table.writerow(("job", "file", "page", "before %", "after %"))
        table.writerows((one.job, one.file, one.page, said(one.before), said(one.after)) for one in rows)
    print(f"black in a copy at {DPI} dots to the inch, per cent of a page")
    for job_name, name in dict.fromkeys((one.job, one.file) for one in rows):
        own = [one for one in rows if (one.job, one.file) == (job_name, name)]
        parts = []
        for shares in ([one.before for one in own], [one.after for one in own]):
            there = [share for share in shares if share is not None]
            parts.append(f"{len(there)} pages, {100 * sum(there) / max(len(there), 1):.2f} each")
        print(f"{job_name:16} {name:14} before {parts[0]:24} after {parts[1]}")
    most = max(rows, key=lambda one: (one.after or 0.0) - (one.before or one.after or 0.0))
    print(f"most more: {most.job} {most.file} page {most.page}: {said(most.before)} to {said(most.after)}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
