"""What the set-out took for granted, said: gaps that were not given, and how far tile goes under a frame."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from typing import TYPE_CHECKING

from cutmarks.setout.surface import default_gap
from cutmarks.units import Style, say

if TYPE_CHECKING:
    from cutmarks.job.models import SurfaceSpec
    from cutmarks.limits import Limits


def assumed(surface: SurfaceSpec, style: Style, limits: Limits) -> Iterator[str]:
    """One sentence for each width of gap that was taken where none was given, and for frames without `goes under`.

    `style` is how it is said. A frame that tile goes under has no gap where tile comes, so nothing is said of its gap.
    """
    taken: dict[float, list[str]] = defaultdict(list)
    for side, edge in surface.edges.items():
        if edge.gap is None and side not in surface.gaps and not edge.steps:
            taken[default_gap(side, surface.kind, edge.what, limits)].append(f"{side} edge")
    for void in surface.voids:
        if void.gap is None and void.undercut is None:
            taken[limits.gap.value].append(f"{void.kind} {void.name}")
    for gap, where in taken.items():
        yield f"{surface.name}: a gap of {say(gap, style)} at {', '.join(where)}; write gap: where it is another."
    for void in surface.voids:
        if void.undercut is not None and void.goes_under is None:
            under = say(limits.goes_under.value, style)
            yield (
                f"{surface.name}: tile goes {under} under {void.kind} {void.name}; write goes under: where it is "
                "another."
            )
