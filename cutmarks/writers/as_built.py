"""as-built.csv: what was found and cut, for the plumber and the client. The same form as the other lists."""

from __future__ import annotations

from collections.abc import Iterator

from cutmarks.openings.found import AsFound
from cutmarks.plan import Plan
from cutmarks.saying.findings import figures_held
from cutmarks.sheets.as_built import cut_of
from cutmarks.writers.csv_table import OF_JOB, CsvRow, csv_bytes, four_mm, mm, of_job

AS_BUILT = "as-built.csv"
_HEADINGS = (
    *OF_JOB,
    "date",
    "surface",
    "hole",
    "what",
    "piece",
    "where",
    "across mm",
    "up mm",
    "opening w mm",
    "opening h mm",
    "from left mm",
    "from right mm",
    "from bottom mm",
    "from top mm",
    "expected",
    "found",
    "moved right mm",
    "moved up mm",
    "tile w mm",
    "tile h mm",
    "cut",
    "by",
    "note",
    "fingerprint",
)


def as_built_csv(plan: Plan) -> bytes:
    """One row for each hole of which something came back: in the piece as it was found, mm to 0.001.

    across and up are of the middle of the opening from where the main lines cross, the tile taken to lie as planned;
    what is sure is where it lies in its tile.
    """
    return csv_bytes(_HEADINGS, _rows(plan))


def _rows(plan: Plan) -> Iterator[CsvRow]:
    for one in plan.found:
        yield _row(plan, one)


def _row(plan: Plan, one: AsFound) -> CsvRow:
    piece, cut = cut_of(plan, one)
    opening, tile = cut.opening, piece.piece.tile
    box, four = opening.ring.bounds, four_mm(cut.from_edges, tile.w, tile.h)
    held = figures_held(plan, piece) and not one.cut
    return {
        **of_job(plan),
        **({} if held else {f"from {side} mm": at for side, at in four.items()}),
        "date": one.date,
        "surface": opening.surface,
        "hole": one.hole,
        "what": opening.what,
        "piece": piece.name,
        "where": piece.words,
        "across mm": mm(opening.at.x),
        "up mm": mm(opening.at.y),
        "opening w mm": mm(box.width),
        "opening h mm": mm(box.height),
        "expected": "; ".join(f"{read.side} {mm(read.expected[0])} to {mm(read.expected[1])}" for read in one.reads),
        "found": "; ".join(f"{read.side} {mm(read.found[0])} to {mm(read.found[1])}" for read in one.reads),
        "moved right mm": mm(one.differs[0]) if one.moved else "0",
        "moved up mm": mm(one.differs[1]) if one.moved else "0",
        "tile w mm": mm(tile.w),
        "tile h mm": mm(tile.h),
        "cut": "yes" if one.cut else "no",
        "by": one.by,
        "note": one.note,
        "fingerprint": piece.fingerprint,
    }
