"""What to do about a thin bridge or a narrow piece: open the hole where that is hidden, or move the start."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field

from cutmarks.checks.limits import Limits
from cutmarks.checks.notches import hidden_notch, is_hidden, thin_sides
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.openings.model import Cut, CutPiece
from cutmarks.openings.notches import STEPS
from cutmarks.setout.model import OPPOSITE, Side
from cutmarks.tiling.layout import Layout
from cutmarks.tiling.options import ends_across, ends_up
from cutmarks.units import Style, say, say_down

Ends = tuple[float | None, float | None]


@dataclass(frozen=True, slots=True)
class Advice:
    """What there is to know for a remedy: each area's layout, the limits, how measures are said."""

    layouts: Mapping[str, Layout]
    limits: Limits
    style: Style
    known: dict[str, tuple[Ends, Ends]] = field(default_factory=dict)
    """The end pieces across and up of the areas that were asked for."""

    def notch(self, piece: CutPiece, cut: Cut, limit: float) -> str:
        """Whether the hole may be opened to an edge, as a sentence with a blank before it; empty without a cover."""
        cover = cut.opening.cover
        lap = (self.limits.lap if cover is not None and cover.round else self.limits.box_lap).value
        notch = hidden_notch(piece, cut, limit, lap)
        if notch is not None:
            way = "U cut" if len(notch.sides) == 1 else "L cut over the corner"
            towards = " and the ".join(notch.sides)
            return f" Its cover hides a {way}: write slot: towards the {towards}."
        if cover is None or not thin_sides(cut, limit):
            return ""
        return " No notch: it would show past the cover, or leave too little."

    def slot(self, piece: CutPiece, cut: Cut, side: Side) -> str:
        """What to do about the mouth of a notch over one side, as a sentence with a blank before it."""
        cover = cut.opening.cover
        lap = (self.limits.lap if cover is not None and cover.round else self.limits.box_lap).value
        ring = cut.opening.ring.moved(piece.piece.tile_at.inverse())
        if not is_hidden(ring, (side,), piece, cut, lap):
            return " Grind them off, or move it."
        return f" Its cover hides straight sides: write slot: towards the {side}."

    def _ends(self, layout: Layout) -> tuple[Ends, Ends]:
        if layout.area not in self.known:
            self.known[layout.area] = ends_across(layout), ends_up(layout)
        return self.known[layout.area]

    def shift(self, piece: CutPiece, cut: Cut, limit: float) -> str:
        """What moving the start away from the hole would leave at the ends; empty where that does not help."""
        thin = thin_sides(cut, limit)
        if len(thin) != 1:
            return ""
        side: Side = thin[0]
        layout = self.layouts[piece.piece.area]
        web, other = getattr(cut.web, side), getattr(cut.web, OPPOSITE[side])
        if piece.piece.turn or layout.is_open or piece.piece.trimmed or web is None or other is None:
            return ""
        by = limit - web
        if other - by < limit:
            return ""
        upright = side in ("bottom", "top")
        first, last = self._ends(layout)[1 if upright else 0]
        if first is None or last is None:
            return ""
        size, pitch = (layout.grid.h, layout.grid.pitch_v) if upright else (layout.grid.w, layout.grid.pitch_u)
        step = by * sum(STEPS[side])
        least = self.limits.least_piece.value
        ends = moved_end(first, step, size, pitch, least), moved_end(last, -step, size, pitch, least)
        shown = " and ".join(say_down(end, self.style) for end in ends)
        now = " and ".join(say_down(end, self.style) for end in (first, last))
        return (
            f" Moving the start {say(by, self.style)} towards the {side} leaves enough here; the ends are then {shown} "
            f"(now {now})."
        )

    def even_ends(self, piece: CutPiece, *, upright: bool) -> str:
        """What moving the start would leave where both ends of the rows are made alike, as large as they can be."""
        layout = self.layouts[piece.piece.area]
        grid = layout.grid
        if piece.piece.turn or layout.is_open or (grid.bond_shift and not upright):
            return " Moving the start may help."
        first, last = self._ends(layout)[1 if upright else 0]
        if first is None or last is None:
            return ""
        size, pitch = (grid.h, grid.pitch_v) if upright else (grid.w, grid.pitch_u)
        ends = max(end for end in ((first + last) / 2, (first + last + pitch) / 2) if end <= size + TOUCH)
        by = ends - first
        if abs(by) > pitch / 2:
            by -= math.copysign(pitch, by)
        if abs(by) <= TOUCH:
            return ""
        towards = ("top" if by > 0 else "bottom") if upright else ("right" if by > 0 else "left")
        both = "at the bottom and the top" if upright else "at both ends"
        return (
            f" Moving the start {say(abs(by), self.style)} towards the {towards} leaves {say_down(ends, self.style)} "
            f"{both}."
        )


def moved_end(end: float, by: float, size: float, pitch: float, least: float) -> float:
    """The end piece of a row once the grid moves `by` mm away from that end: longer, a new strip, or a whole tile.

    What is under `least`, mm, is no piece: the tile before it then ends the row.

    >>> [moved_end(*ends, 297.0, 300.0, 1.0) for ends in ((100.0, 20.0), (290.0, 20.0), (10.0, -20.0), (10.0, -9.5))]
    [120.0, 10.0, 290.0, 297.0]
    """
    after = end + by
    if after > size + TOUCH:
        rest = after - pitch
        return rest if rest >= least else size
    return after if after >= least else min(after + pitch, size)
