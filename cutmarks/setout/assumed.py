"""What the set-out took for granted, said: gaps that were not given, and how far tile goes under a frame."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from typing import TYPE_CHECKING

from cutmarks.readings import with_kind
from cutmarks.setout.surface import (
    gap_of_step,
    has_unsized_trim,
    is_outer_corner,
    takes_usual_gap,
    usual_gap,
    void_gap,
)
from cutmarks.units import Style, say

if TYPE_CHECKING:
    from cutmarks.job.models import EdgeSpec, SurfaceSpec, VoidSpec
    from cutmarks.limits import Limits


def _round_corners(surface: SurfaceSpec, style: Style) -> Iterator[str]:
    """How tile meets round an outer corner, where that was not said."""
    corners: list[tuple[str, EdgeSpec | VoidSpec]] = [(f"{side} edge", edge) for side, edge in surface.edges.items()]
    corners += [(with_kind(void.kind, void.name), void) for void in surface.voids]
    for where, spec in corners:
        if spec.corner is None and spec.lining is not None:
            yield (
                f"{surface.name}, {where}: how the tiles meet round it is not said; the tile in front laps, and passes "
                f"its edge by {say(spec.lining, style)}; write corner: trim 2.5, mitre, front laps or return laps."
            )


def _usual_gaps(edge: EdgeSpec, surface: SurfaceSpec, limits: Limits) -> list[float]:
    """The widths of gap that an edge without its own takes, mm; of one that steps, those of the stretches without.

    None where its gap was said.
    """
    if not takes_usual_gap(edge, surface.gaps):
        return []
    if not edge.steps:
        return [usual_gap(edge, surface.kind, surface.line_words, limits)]
    without = (step for step in edge.steps if step.gap is None)
    return list(dict.fromkeys(gap_of_step(step, edge, surface, limits) for step in without))


def void_takes_usual_gap(void: VoidSpec) -> bool:
    """Whether a window, niche or door has a gap, and none was said."""
    return void.gap is None and void.undercut is None and (not is_outer_corner(void) or bool(void.sill_board))


def assumed(surface: SurfaceSpec, style: Style, limits: Limits) -> Iterator[str]:
    """One sentence for each width of gap that was taken where none was given, and for frames without `goes under`.

    `style` is how it is said. A frame that tile goes under has no gap where tile comes, so nothing is said of its gap.
    """
    taken: dict[float, list[str]] = defaultdict(list)
    for side, edge in surface.edges.items():
        for gap in _usual_gaps(edge, surface, limits):
            taken[gap].append(f"{side} edge")
    for void in surface.voids:
        if void_takes_usual_gap(void):
            taken[void_gap(surface, limits)].append(with_kind(void.kind, void.name))
    for gap, where in taken.items():
        kept = f"a gap of {say(gap, style)}" if gap else "no gap"
        yield f"{surface.name}: {kept} at {', '.join(where)}; write gap: where it is another."
    lined = [with_kind(one.kind, one.name) for one in surface.voids if one.gap is None and is_outer_corner(one)]
    if lined and surface.gaps:
        yield (
            f"{surface.name}: no gap at {', '.join(lined)}, as tile goes on round the corner there; the surface's gaps "
            "are not taken. Write gap: where one is kept."
        )
    yield from _round_corners(surface, style)
    for side, edge in surface.edges.items():
        if edge.hidden_by and edge.hides is None:
            yield (
                f"{surface.name}, {side} edge: how far {edge.hidden_by} hides the cut edge is not said, and nothing is "
                f"taken as hidden; write its width, as in hidden by: {edge.hidden_by} 15."
            )
    for side, edge in surface.edges.items():
        if has_unsized_trim(edge):
            yield (
                f"{surface.name}, {side} edge: how wide the trim is that {edge.what} names is not said, and nothing is "
                "taken off for it; write trim: and its width, as in trim: 2.5."
            )
    for void in surface.voids:
        if void.undercut is not None and void.goes_under is None:
            under = say(limits.goes_under.value, style)
            yield (
                f"{surface.name}: tile goes {under} under {with_kind(void.kind, void.name)}; write goes under: where "
                "it is another."
            )
