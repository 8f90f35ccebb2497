"""A list as a spreadsheet or a shop's program reads it.

RFC 4180: commas, CRLF, quotes where needed; UTF-8. The file begins with a byte order mark, because a spreadsheet that
is opened by a double click takes a file without one for the machine's own code page and spoils every accent; readers
that know UTF-8 skip it.
"""

from __future__ import annotations

import csv
import io
import unicodedata
from collections.abc import Iterable, Sequence

from cutmarks.plan import Plan
from cutmarks.sides import FourSides
from cutmarks.writers.number import number

DECIMALS = 3
"""Of a millimetre in the lists."""
FORMULA = ("=", "+", "-", "@", "\t", "\r")
"""A cell that begins so, in usual or in full-width signs, is run by a spreadsheet.

The job file refuses such names, and here they are caught a second time.
"""

CsvRow = dict[str, str]
"""A line of a list: heading -> cell."""

OF_JOB = ("job", "job fingerprint")
"""The first columns of every list: lists of two rooms may be put under each other, and one knows its own drawings."""


def of_job(plan: Plan) -> CsvRow:
    """The cells of a line that say which job it is of, and which state of it."""
    return {"job": plan.job, "job fingerprint": plan.fingerprint}


def mm(value: float | None) -> str:
    """A figure in millimetres, to 0.001 with a point; empty where there is none."""
    return "" if value is None else number(value, DECIMALS)


def four_mm(from_edges: FourSides[float], w: float, h: float) -> FourSides[str]:
    """The measures from the four edges of a tile of w x h, mm: as they stand there each pair adds up to the tile."""
    left, bottom = round(from_edges.left, DECIMALS), round(from_edges.bottom, DECIMALS)
    return FourSides(left, round(w, DECIMALS) - left, bottom, round(h, DECIMALS) - bottom).map(mm)


def csv_bytes(headings: Sequence[str], rows: Iterable[CsvRow]) -> bytes:
    """The file's bytes: the headings, then the rows; a cell that a row has not is empty."""
    text = io.StringIO(newline="")
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(headings)
    for row in rows:
        writer.writerow([_cell(heading, row.get(heading, "")) for heading in headings])
    return text.getvalue().encode("utf-8-sig")


def _cell(heading: str, cell: str) -> str:
    """The cell; words that a spreadsheet would run as a formula get an apostrophe in front, figures keep their sign."""
    is_figure = heading.endswith((" mm", " cm2")) and _is_figure(cell)
    if unicodedata.normalize("NFKC", cell[:1]).startswith(FORMULA) and not is_figure:
        return f"'{cell}"
    return cell


def _is_figure(cell: str) -> bool:
    return cell.removeprefix("-").replace(".", "", 1).isdigit()
