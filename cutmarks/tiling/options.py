"""What each start would leave at the edges, for an area whose start is not decided: shown, never chosen."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from cutmarks.readings import Anchor, From, Reading, Start
from cutmarks.setout.model import SetOut
from cutmarks.setout.surface import set_out
from cutmarks.tiling.areas import layout_of
from cutmarks.tiling.ends import ends_across, ends_up
from cutmarks.tiling.unlaid import has_no_start

if TYPE_CHECKING:
    from cutmarks.job import Job
    from cutmarks.job.models import AreaSpec

ACROSS_ANCHORS: tuple[Anchor, ...] = ("joint", "middle")
UP_ANCHORS: tuple[Anchor, ...] = ("sits on", "joint", "middle")


@dataclass(frozen=True, slots=True)
class StartOption:
    """One way to start an area on one axis.

    words   as it would be written: "joint on V".
    ends    the smallest first and last pieces that it leaves, mm (left and right, or bottom and top); None on a side
            that is open.
    """

    area: str
    axis: str
    words: str
    ends: tuple[float | None, float | None]


def start_options(job: Job) -> tuple[StartOption, ...]:
    """Every usual start of every area that has none, with what it leaves at the edges."""
    options: list[StartOption] = []
    for surface in job.surfaces:
        faults = job.faults()
        setout = set_out(surface, job, faults)
        for area in surface.areas:
            if not faults:
                options += _options(area, setout, job)
    return tuple(options)


def missing_start(job: Job) -> bool:
    """Whether any area has no start, so that its pieces cannot be known yet."""
    return any(has_no_start(area) for surface in job.surfaces for area in surface.areas)


def _options(area: AreaSpec, setout: SetOut, job: Job) -> Iterator[StartOption]:
    plumb, level = _first(setout, "x"), _first(setout, "y")
    if plumb is None or level is None or area.turn:
        return
    if area.start_across is None:
        for anchor in ACROSS_ANCHORS:
            start = Start(anchor, _on(plumb))
            up = area.start_up or Start("sits on", _on(level))
            layout = layout_of(replace(area, start_across=start, start_up=up), setout, job)
            yield StartOption(area.name, "across", f"{anchor} on {plumb}", ends_across(layout))
    if area.start_up is None:
        for anchor in UP_ANCHORS:
            across = area.start_across or Start("joint", _on(plumb))
            start = Start(anchor, _on(level))
            layout = layout_of(replace(area, start_across=across, start_up=start), setout, job)
            words = f"{anchor} {level}" if anchor == "sits on" else f"{anchor} on {level}"
            yield StartOption(area.name, "up", words, ends_up(layout))


def _first(setout: SetOut, fixes: str) -> str | None:
    return next((line.name for line in setout.lines.values() if line.fixes == fixes), None)


def _on(line: str) -> Reading:
    return Reading("centre", 0.0, None, From("line", line), f"on {line}")
