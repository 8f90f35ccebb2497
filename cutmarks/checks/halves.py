"""The rule about pieces under half a tile where an area ends: once an area, with the start that leaves more."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from cutmarks.checks.advice import Advice
from cutmarks.checks.model import Finding
from cutmarks.checks.pieces import part_said
from cutmarks.geometry.tolerance import COINCIDE, TOUCH
from cutmarks.limits import Limits
from cutmarks.tiling.layout import Layout
from cutmarks.units import Style, say_down


def under_half(layouts: Sequence[Layout], limits: Limits, style: Style, advice: Advice) -> Iterator[Finding]:
    """Pieces under half a tile at an area's own ends; those under a fifth have a rule of their own.

    Courses that are set off against each other have an end under half in every other one: it is said of them only where
    another start leaves more.
    """
    for layout in layouts:
        short = [one for upright in (False, True) if (one := _short(layout, limits, style, advice, upright))]
        if short:
            what = "; ".join(words for words, _, _ in short)
            moves = "".join(move for _, move, _ in short)
            yield Finding(
                "note",
                "under half",
                (layout.area,),
                f"{layout.area}: {what}: under {part_said(limits.half_part.value)} of a tile.{moves}",
                min(least for _, _, least in short),
                limits.half_part.value,
                limits.half_part.source,
            )


def _short(
    layout: Layout, limits: Limits, style: Style, advice: Advice, upright: bool
) -> tuple[str, str, float] | None:
    """What is short, the move that leaves more, and the part of a tile that the shortest is; None where nothing is."""
    size = layout.grid.h if upright else layout.grid.w
    ends = advice.ends(layout, upright=upright)
    if ends is None or size < limits.narrow_from.value:
        return None
    part, least = limits.half_part.value * size, min(ends)
    if not limits.narrow_part.value * size - TOUCH <= least < part - TOUCH:
        return None
    move = advice.evened_by(layout, upright=upright)
    if not move and layout.grid.bond_shift and not upright:
        return None
    names = ("bottom", "top") if upright else ("left", "right")
    found: dict[str, list[str]] = {}
    for end, name in zip(ends, names, strict=True):
        if end < part - TOUCH:
            found.setdefault(say_down(end + COINCIDE, style), []).append(name)
    high = "high" if upright else "wide"
    said = ", ".join(f"{shown} {high} at the {' and the '.join(where)}" for shown, where in found.items())
    return f"pieces {said}", move, least / size
