"""The figures that decide how far off the paper may be at a hole, and which sheets are taken."""

from __future__ import annotations

import math

from msgspec import Struct

from cutmarks.limits import LIMITS, Limits


class PaperFigures(Struct, frozen=True):
    """What the error at a hole is made of, two sigma, and what is worth a sheet.

    scale        share by which the printer's scale may be out along each axis, independently.
    lining_up    laying the paper's line on the tile's edge, mm; line: finding the middle of a printed line, mm.
    join         one join of two sheets, mm; several add up as the root of their number.
    tape         one measure that is marked by tape, mm.
    size_measured, size_nominal  what the tile's own size may be out, mm.
    sheet_saved  error at the worst hole that is given for a sheet less, mm.
    most_joined  joined sheets at most for a cut that is larger than the paper; most_asked: where they are asked for.
    small_step   a step in an edge under this is cut straight, and has no sheet, mm.
    """

    scale: float
    lining_up: float
    line: float
    join: float
    tape: float
    size_measured: float
    size_nominal: float
    sheet_saved: float
    most_joined: int
    most_asked: int
    small_step: float

    def reach(self, within: float) -> float:
        """How far from the edge the paper alone, print and line, is within so much, mm; 0 where it nowhere is.

        >>> round(USUAL.reach(1.0), 6)
        150.0
        """
        return max(0.0, (within - self.line) / self.scale) if self.scale else math.inf


def paper_figures(limits: Limits, calibrated: bool) -> PaperFigures:
    """The job's own figures, for a printer that was measured or for one that was not."""
    return PaperFigures(
        scale=(limits.measured_paper_scale if calibrated else limits.paper_scale).value,
        lining_up=limits.lining_up.value,
        line=limits.printed_line.value,
        join=limits.paper_join.value,
        tape=limits.marking_by_tape.value,
        size_measured=limits.size_measured.value,
        size_nominal=limits.size_nominal.value,
        sheet_saved=limits.sheet_saved.value,
        most_joined=int(limits.most_joined.value),
        most_asked=int(limits.most_asked.value),
        small_step=limits.small_step.value,
    )


USUAL = paper_figures(LIMITS, calibrated=False)
"""Where a job sets none of its own: a printer that was not measured."""
