"""Set-out lines: each fixes one coordinate of the surface; the main two cross at its origin."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from cutmarks.errors import Fault
from cutmarks.setout.model import Line

if TYPE_CHECKING:
    from cutmarks.job import Job
    from cutmarks.job.models import LineSpec
    from cutmarks.job.models import Surface as SurfaceSpec
    from cutmarks.job.phrases import Reading


def on_lines(reading: Reading, lines: Mapping[str, Line]) -> float:
    """The coordinate that a single reading from a set-out line names, mm in the Surface frame.

    `reading` is of how "centre" and from a line, which loading has made sure of.
    """
    assert reading.start is not None
    return lines[reading.start.name].at + reading.low


def place_lines(surface: SurfaceSpec, job: Job, faults: list[Fault]) -> dict[str, Line]:
    """Every line of a surface at its coordinate; a line may be given from another, in any order.

    Lines that refer to each other in a circle are a fault of the job.
    """
    placed: dict[str, Line] = {}
    waiting = list(surface.lines)
    while waiting:
        ready = [line for line in waiting if _origin_known(line, placed)]
        if not ready:
            for line in waiting:
                faults.append(
                    job.fault(
                        line.where,
                        f'line "{line.name}"',
                        "is measured from a line that is measured from it in turn: "
                        "give one of them as a main line, with no distance.",
                    )
                )
                placed[line.name] = Line(line.name, line.fixes, 0.0, line.kind, line.words)
            break
        for line in ready:
            at = 0.0 if line.at is None else on_lines(line.at, placed)
            off = 0.0 if line.off is None else line.off.slope
            placed[line.name] = Line(line.name, line.fixes, at, line.kind, line.words, off)
            waiting.remove(line)
    return placed


def _origin_known(line: LineSpec, placed: Mapping[str, Line]) -> bool:
    return line.at is None or (line.at.start is not None and line.at.start.name in placed)
