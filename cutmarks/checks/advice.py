"""What to do about a thin bridge or a narrow piece: open the hole where that is hidden, or move the start."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from cutmarks.checks.notches import hidden_notch, is_hidden, thin_sides
from cutmarks.checks.room import InRow, has_room, in_row, is_makers
from cutmarks.geometry.tolerance import COINCIDE, TOUCH
from cutmarks.limits import Limits
from cutmarks.openings.model import Cut, CutPiece, Opening
from cutmarks.sides import Side
from cutmarks.tiling.ends import Ends, ends_across, ends_up, with_start_moved
from cutmarks.tiling.layout import Layout
from cutmarks.tiling.moves import even_moves
from cutmarks.units import MM_PER, Style, say, say_down

MOVES_LAID = 3
"""So many of the moves that may make the ends alike are laid and read."""


@dataclass(frozen=True, slots=True)
class Advice:
    """What there is to know for a remedy: each area's layout, each surface's openings, limits, how measures are said.

    known   the end pieces of the areas that were asked for, by area, across or up, and how far the start is moved, mm;
            evened: the sentence about the best of these moves; in_row: each surface's openings in order.
    """

    layouts: Mapping[str, Layout]
    openings: Mapping[str, Sequence[Opening]]
    limits: Limits
    style: Style
    known: dict[tuple[str, bool, float], Ends] = field(default_factory=dict)
    evened: dict[tuple[str, bool], str] = field(default_factory=dict)
    in_row: dict[str, InRow] = field(default_factory=dict)

    def notch(self, piece: CutPiece, cut: Cut, limit: float) -> str:
        """Whether the hole may be opened to an edge, as a sentence with a blank before it; empty without a cover."""
        cover = cut.opening.cover
        notch = hidden_notch(piece, cut, limit, self.limits)
        if notch is not None:
            way = "U cut" if len(notch.sides) == 1 else "L cut over the corner"
            towards = " and the ".join(notch.sides)
            return f" Its cover hides a {way}: write slot: towards the {towards}."
        if cover is None or not thin_sides(cut, limit):
            return ""
        return " No notch: it would show past the cover, or leave too little."

    def slot(self, piece: CutPiece, cut: Cut, side: Side) -> str:
        """What to do about the mouth of a notch over one side, as a sentence with a blank before it."""
        if not is_hidden((side,), piece, cut, self.limits):
            return " Grind them off, or move it."
        return f" Its cover hides straight sides: write slot: towards the {side}."

    def shift(self, where: Sequence[tuple[CutPiece, Cut]], limit: float) -> str:
        """What moving the start away from these holes would leave at the ends.

        Empty where that does not help them all, or makes an end piece narrow that is not.

        It helps where each is thin towards the maker's edge of its tile, on one and the same side, since that edge goes
        with the start: an edge that trimming makes stays, and so does what lies between two openings.
        """
        sides = {thin_sides(cut, limit) for _, cut in where}
        areas = {piece.piece.area for piece, _ in where}
        if len(sides) != 1 or len(areas) != 1:
            return ""
        thin, layout = sides.pop(), self.layouts[areas.pop()]
        if len(thin) != 1 or layout.is_open or layout.grid.turn:
            return ""
        side = thin[0]
        if not all(is_makers(piece, cut, side, layout) for piece, cut in where):
            return ""
        webs = [web for _, cut in where if (web := cut.web.beside[side]) is not None]
        step = _step(self.style)
        by = math.ceil((limit - min(webs) - COINCIDE) / step) * step
        upright, along = side.axis == "up", side.sign * by
        moved = _moved(layout, along, upright=upright)
        if layout.surface not in self.in_row:
            self.in_row[layout.surface] = in_row(self.openings[layout.surface])
        near = self.in_row[layout.surface]
        if not all(has_room(cut.opening, near, layout, moved, limit) for _, cut in where):
            return ""
        now, then = self._ends(layout, 0.0, upright=upright), self._ends(layout, along, upright=upright)
        if now is None or then is None or min(then) < min(min(now), self._narrow(layout, upright=upright)):
            return ""
        return (
            f" Moving the start {say(by, self.style)} towards the {side} leaves enough here; the ends are then "
            f"{' and '.join(self._said(then))} (now {' and '.join(self._said(now))})."
        )

    def _narrow(self, layout: Layout, *, upright: bool) -> float:
        """What is a narrow end piece of an area, mm: no start is named that makes one."""
        size = layout.grid.h if upright else layout.grid.w
        return min(self.limits.narrow.value, self.limits.narrow_part.value * size)

    def even_ends(self, piece: CutPiece, *, upright: bool) -> str:
        """What moving the start would leave at both ends of the rows (of the columns where `upright`), at the best.

        Each move that may make them alike is laid and read. It is told only where the smaller end gains by it, and the
        piece is narrow by the area's own end and not by a void.
        """
        layout = self.layouts[piece.piece.area]
        if layout.grid.turn or layout.is_open or _is_beside_void(piece, layout, upright=upright):
            return " Moving the start may help."
        key = layout.area, upright
        if key not in self.evened:
            self.evened[key] = self._evened(layout, upright=upright)
        return self.evened[key]

    def _evened(self, layout: Layout, *, upright: bool) -> str:
        step = _step(self.style)
        now = self._ends(layout, 0.0, upright=upright)
        moves = even_moves(layout, upright=upright, step=step)[:MOVES_LAID]
        laid = [(by, ends) for by in moves if (ends := self._ends(layout, by, upright=upright)) is not None]
        if now is None or not laid:
            return " Moving the start may help."
        most = max(min(ends) for _, ends in laid)
        by, ends = next(one for one in laid if min(one[1]) >= most - COINCIDE)
        if min(ends) < min(now) + step - COINCIDE:
            return " Moving the start may help."
        towards = ("top" if by > 0 else "bottom") if upright else ("right" if by > 0 else "left")
        first, last = self._said(ends)
        if upright:
            leaves = (
                f"{first} at the bottom and the top" if first == last else f"{first} at the bottom, {last} at the top"
            )
        else:
            leaves = f"{first} at both ends" if first == last else f"{first} and {last} at the ends"
        return f" Moving the start {say(abs(by), self.style)} towards the {towards} leaves {leaves}."

    def _ends(self, layout: Layout, by: float, *, upright: bool) -> tuple[float, float] | None:
        """The least end pieces with the start moved `by` mm; None where there are none, or no such first course."""
        key = layout.area, upright, by
        if key not in self.known:
            moved = _moved(layout, by, upright=upright) if by else layout
            self.known[key] = ends_up(moved) if upright else ends_across(moved)
        first, last = self.known[key]
        if first is None or last is None or (by and upright and first < self.limits.first_course.value - TOUCH):
            return None
        return first, last

    def _said(self, ends: tuple[float, float]) -> tuple[str, str]:
        """Both ends rounded down, each with the kernel's own rounding made good."""
        return say_down(ends[0] + COINCIDE, self.style), say_down(ends[1] + COINCIDE, self.style)


def _step(style: Style) -> float:
    """The step that measures are shown in, mm: a start is moved by so many of them."""
    return float(style.finest * MM_PER[style.unit])


def _moved(layout: Layout, by: float, *, upright: bool) -> Layout:
    return with_start_moved(layout, 0.0 if upright else by, by if upright else 0.0)


def _is_beside_void(piece: CutPiece, layout: Layout, *, upright: bool) -> bool:
    """Whether a void makes the piece narrow: the area's own bounds alone would leave more of it that way."""
    box, free = piece.piece.outline.bounds, layout.without_voids(piece.piece.place)
    if free.is_empty:
        return False
    if upright:
        return free.bounds.height > box.height + COINCIDE
    return free.bounds.width > box.width + COINCIDE
