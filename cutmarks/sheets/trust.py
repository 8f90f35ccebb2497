"""How far the paper can be trusted: what is said at the foot of every sheet, and at each cut."""

from __future__ import annotations

import math

from cutmarks.marks.template import Subject
from cutmarks.openings.model import Cut, CutPiece
from cutmarks.plan import Plan
from cutmarks.registering.error import error_at, worst_error
from cutmarks.units import MM_PER, Style, Unit, say, say_down

UNCALIBRATED = "uncalibrated: within 1 mm only up to 150 mm from the edge"
UNCALIBRATED_IN = "uncalibrated: within 1/32 in only up to 6 in from the edge"
SNAP = 1e-6
"""What arithmetic may leave above a whole step."""


def printed_how(plan: Plan) -> str:
    """The calibration that the sheets are corrected by, or that there is none and how far they hold."""
    if plan.calibration is not None:
        return str(plan.calibration)
    return UNCALIBRATED_IN if plan.say.units == "in" else UNCALIBRATED


def paper_words(subject: Subject, cut: Cut) -> str:
    """How far off the paper may be at this cut, against what there is to spare."""
    error = error_at(subject.piece, cut, subject.registration, subject.plan.scale_error)
    out = error_said(error, subject.style)
    spare = cut.opening.you_may_be
    if spare is None:
        return f"Paper may be {out} out"
    have = say_down(spare, subject.style)
    if error > spare:
        return f"Paper may be {out} out and you have only {have}: mark by the tape, not through the paper"
    return f"Paper may be {out} out; you have {have}"


def parts_words(subject: Subject, cut: Cut) -> str:
    """What the error is made of, along the worse of the two axes, each part rounded up to a hundredth of a mm.

    In a job in inches the parts are in thousandths of an inch.
    """
    error = worst_error(subject.piece, cut, subject.registration, subject.plan.scale_error)
    parts = (
        ("print", error.printing),
        ("lining up", error.lining_up),
        ("tape", error.tape),
        ("joins", error.joins),
        ("the tile's own size", error.size),
        ("line", error.line),
    )
    return " + ".join(f"{name} {_part_said(value, subject.style)}" for name, value in parts if value > SNAP)


def _part_said(mm: float, style: Style) -> str:
    if style.unit is Unit.MM:
        return f"{math.ceil(mm * 100 - SNAP) / 100:g}"
    return f"{math.ceil(mm / MM_PER[Unit.INCH] * 1000 - SNAP) / 1000:.3f}".lstrip("0")


def error_said(error: float, style: Style) -> str:
    """An error as printed, rounded up: to a tenth of a mm, or to the job's own step in inches."""
    if style.unit is Unit.MM:
        return f"{math.ceil(error * 10 - SNAP) / 10:g}"
    step = float(style.finest * MM_PER[Unit.INCH])
    return say(math.ceil(error / step - SNAP) * step, style)


def tile_words(piece: CutPiece, style: Style) -> str:
    """The tile's size, and how far it can be trusted: checks are measured on it, marks are not."""
    tile = piece.piece.tile
    size = f"{say(tile.w, style)} x {say(tile.h, style)}"
    if tile.measured:
        return f"tile {size} as measured; yours may be {error_said(1.0, style)} out: the MARK figures win"
    return f"tile {size} off the box: measure yours; the MARK figures win"
