"""clearance.csv: every fitting of a surface without tiles, for the plumber and the site, in the form of all lists."""

from __future__ import annotations

from collections.abc import Iterator

from cutmarks.plan import Plan
from cutmarks.plan.clearances import Clearance
from cutmarks.saying.clearances import verdict, wrong_words
from cutmarks.sides import SIDES
from cutmarks.writers.csv_table import OF_JOB, CsvRow, csv_bytes, mm, of_job

CLEARANCE = "clearance.csv"
_HEADINGS = (
    *OF_JOB,
    "surface",
    "fitting",
    "what",
    "across mm",
    "up mm",
    *(f"from finished {side} mm" for side in SIDES),
    "depth read mm",
    "depth from",
    "behind face mm",
    "range least mm",
    "range most mm",
    "cover w mm",
    "cover h mm",
    "nearest",
    "between mm",
    "middles mm",
    "service mm",
    "service clear mm",
    "verdict",
    "what is wrong",
    "note",
)


def clearance_csv(plan: Plan) -> bytes:
    """One row for each fitting, mm to 0.001: across and up of its middle from where the main lines cross.

    An empty cell is not known, or was not said; a depth that stands proud is negative.
    """
    return csv_bytes(_HEADINGS, _rows(plan))


def _rows(plan: Plan) -> Iterator[CsvRow]:
    for one in plan.clearances:
        yield {**of_job(plan), **_row(one)}


def _row(one: Clearance) -> CsvRow:
    opening, deep, near = one.opening, one.deep, one.neighbour
    row: CsvRow = {
        "surface": opening.surface,
        "fitting": opening.name,
        "what": opening.what,
        "across mm": mm(opening.at.x),
        "up mm": mm(opening.at.y),
        **{f"from finished {side} mm": mm(one.finished[side]) for side in SIDES},
        "service mm": mm(opening.service),
        "service clear mm": mm(one.clear),
        "verdict": verdict(one),
        "what is wrong": wrong_words(one),
        "note": opening.note,
    }
    if deep is not None:
        row |= {"depth read mm": mm(deep.read), "depth from": deep.start, "behind face mm": mm(deep.behind)}
        row |= {"range least mm": mm(deep.least), "range most mm": mm(deep.most)}
    if opening.cover is not None:
        row |= {"cover w mm": mm(opening.cover.w), "cover h mm": mm(opening.cover.h)}
    if near is not None:
        row |= {"nearest": near.name, "between mm": mm(near.between), "middles mm": mm(near.middles)}
    return row
