"""The rule about pieces under half a tile where an area ends: once an area, with the start that leaves more.

What a window or the jamb of a door leaves at such an end is said by its name, and never as the room's own end.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

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
    half, fifth = limits.half_part.value * size - TOUCH, limits.narrow_part.value * size - TOUCH
    at_ends = dict(zip(("bottom", "top") if upright else ("left", "right"), ends, strict=True))
    short = {name: end for name, end in at_ends.items() if end < half}
    jambs = advice.beside_voids(layout, upright=upright)
    beside = {name: least for name, least in jambs.items() if fifth <= least < half}
    if short and min(short.values()) < fifth:
        short = {}  # what is narrower has a rule of its own
    move = advice.evened_by(layout, upright=upright) if short else ""
    if not move and layout.grid.bond_shift and not upright:
        short = {}
    if not short and not beside:
        return None
    high = "high" if upright else "wide"
    words = [f"{shown} {high} at the {' and the '.join(where)}" for shown, where in _by_size(short, style).items()]
    words += [f"{shown} {high} beside the {' and the '.join(what)}" for shown, what in _by_size(beside, style).items()]
    return f"pieces {', '.join(words)}", move, min([*short.values(), *beside.values()]) / size


def _by_size(least: Mapping[str, float], style: Style) -> dict[str, list[str]]:
    """The names of those that are as large, by how large that is said to be."""
    found: dict[str, list[str]] = {}
    for name, end in least.items():
        found.setdefault(say_down(end + COINCIDE, style), []).append(name)
    return found
