"""How far the paper can be trusted: what is said at the foot of every sheet, and at each cut."""

from __future__ import annotations

import math

from cutmarks.openings.model import Cut, CutPiece, SheetSpot
from cutmarks.plan import Plan
from cutmarks.registering.error import error_at, worst_error
from cutmarks.registering.figures import PaperFigures
from cutmarks.saying.seen import Seen
from cutmarks.units import MM_PER, Style, Unit, say, say_spare

SNAP = 1e-6
"""What arithmetic may leave above a whole step."""
REACH_STEP = 10.0
"""How far the paper holds is said in steps of so many mm; in a job in inches in whole inches."""


def printed_how(plan: Plan) -> str:
    """The calibration that the sheets are corrected by, or that there is none and how far they hold."""
    if plan.calibration is not None:
        return str(plan.calibration)
    inch = float(MM_PER[Unit.INCH])
    if plan.say.style.unit is Unit.INCH:
        within, far = "1/32 in", f"{math.floor(plan.paper_figures.reach(inch / 32) / inch + SNAP)} in"
    else:
        within, far = "1 mm", f"{math.floor(plan.paper_figures.reach(1.0) / REACH_STEP + SNAP) * REACH_STEP:g} mm"
    # The print alone: lining up and the tile's own size come on top of it, and stand at each cut.
    return f"printer not measured: its print is within {within} only up to {far} from the edge lined up on"


def paper_words(seen: Seen, *spots: SheetSpot) -> str:
    """How far off the paper may be at a cut, against what there is to spare; or at the worst of inside corners."""
    error = max(error_at(seen.piece, spot, seen.registration, seen.plan.paper_figures) for spot in spots)
    out = error_said(error, seen.style)
    spares = [spot.opening.you_may_be for spot in spots if isinstance(spot, Cut)]
    spare = spares[0] if spares else None
    if spare is None:
        return f"Paper may be {out} out"
    have = say_spare(spare, seen.style)
    if error > spare:
        room = f"{have} to spare" if have == "nothing" else have if have.startswith("under") else f"only {have}"
        return f"Paper may be {out} out and you have {room}: mark by the tape, not through the paper"
    return f"Paper may be {out} out; you have {have}"


def parts_words(seen: Seen, cut: SheetSpot) -> str:
    """What the error said at a cut is made of, along the worse of the two axes: each part rounded up to 0.01 mm.

    In a job in inches the parts are in thousandths of an inch. The figure is their sum, rounded up once more.
    """
    error = worst_error(seen.piece, cut, seen.registration, seen.plan.paper_figures)
    parts = (
        ("print", error.printing),
        ("lining up", error.lining_up),
        ("tape", error.tape),
        ("joins", error.joins),
        ("the tile's own size", error.size),
        ("line", error.line),
    )
    in_inches = seen.style.unit is Unit.INCH
    per_step = MM_PER[Unit.INCH] / 1000 if in_inches else 0.01
    steps = [(name, math.ceil(value / per_step - SNAP)) for name, value in parts if value > SNAP]

    def said(count: int) -> str:
        return f"{count / 1000:.3f}".lstrip("0") if in_inches else f"{count / 100:g}"

    parts_said = " + ".join(f"{name} {said(count)}" for name, count in steps)
    return f"out at most {error_said(error.total, seen.style)}: {parts_said}"


def error_said(error: float, style: Style) -> str:
    """An error as printed, rounded up: to a tenth of a mm, or to the job's own step in inches."""
    if style.unit is Unit.MM:
        return f"{math.ceil(error * 10 - SNAP) / 10:g}"
    step = float(style.finest * MM_PER[Unit.INCH])
    return say(math.ceil(error / step - SNAP) * step, style)


def tile_out(style: Style, paper: PaperFigures) -> str:
    """How far a tile may be off the size that was measured, and with it all that is checked from its far edges."""
    # A run gives the usual size; a single tile may be as far off as one that was not measured.
    return error_said(max(paper.size_measured, paper.size_nominal), style)


def tile_words(piece: CutPiece, style: Style, paper: PaperFigures) -> str:
    """The tile's size, and how far it can be trusted: checks are measured on it, marks are not."""
    tile = piece.piece.tile
    size = f"{say(tile.w, style)} x {say(tile.h, style)}"
    if tile.measured:
        return f"tile {size} as measured; yours may be {tile_out(style, paper)} out: keep to MARK"
    return f"tile {size} off the box: measure yours; keep to MARK"
