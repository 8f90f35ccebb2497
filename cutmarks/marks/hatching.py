"""A pattern of slanting lines that marks an area; it says what a colour would say elsewhere."""

from __future__ import annotations

from collections.abc import Iterator

from cutmarks.geometry.frames import Page, Placement
from cutmarks.geometry.regions import Region, spans_across
from cutmarks.marks.model import Mark, Role, line


def hatched(region: Region[Page], step: float, *, rising: bool) -> Iterator[Mark[Page]]:
    """Lines at 45 degrees inside a region, `step` mm apart: turned level, cut at each height, turned back."""
    turn: Placement[Page, Page] = Placement.turned(-45.0 if rising else 45.0)
    if region.is_empty:
        return
    level, back = region.moved(turn), turn.inverse()
    bounds = level.bounds
    for number in range(1, int(bounds.height / step) + 1):
        y = bounds.min_y + (number - 0.5) * step
        for low, high in spans_across(level, y):
            yield line(*back.xy(low, y), *back.xy(high, y), Role.HATCH)
