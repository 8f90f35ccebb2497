"""What to do about a thin bridge or a narrow piece: open the hole where that is hidden, or move the start."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from itertools import islice

from msgspec import Struct, field

from cutmarks.checks.bridges import bridge_of
from cutmarks.checks.notches import hidden_notch, is_hidden, thin_sides
from cutmarks.checks.room import InRow, has_room, in_row, is_makers, keeps_bridges
from cutmarks.checks.spaces import Facing, joints_run_through
from cutmarks.checks.starts import MOST_TROUBLED, Holes, bite_of, placed, wanted
from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.tolerance import COINCIDE, TOUCH
from cutmarks.limits import Limits
from cutmarks.openings.model import Cut, CutPiece, Opening
from cutmarks.setout.model import Void
from cutmarks.sides import SIDES, Side
from cutmarks.tiling.ends import (
    Ends,
    ends_across,
    ends_at_voids,
    ends_up,
    least_beside_voids,
    with_start_moved,
    with_voids_tiled,
)
from cutmarks.tiling.layout import Layout
from cutmarks.tiling.model import Place
from cutmarks.tiling.moves import even_moves
from cutmarks.units import MM_PER, Style, say, say_down

STEPS_ASIDE = 40
"""A move that would spoil a hole is looked for again up to so many steps to either side."""
MOVES_TRIED = 12
"""So many of the moves that help the holes are tried for what they do at the ends and to the next area."""
MAY_HELP = " Moving the start may help."
MOVES_LAID = 3
"""So many of the moves that may make the ends alike are laid and read."""


class Advice(Struct, frozen=True):
    """What there is to know for a remedy: each area's layout, each surface's openings, limits, how measures are said.

    kinds   wall or floor, by the surface's name; of_area: each area's pieces; facing: where it faces another.
    voids   each surface's windows, niches and doors.
    known   the end pieces of the areas that were asked for, by area, across or up, and how far the start is moved, mm;
            laid: these areas; jambs: those pieces that a window, niche or door makes; evened: the sentence about the
            best of these moves; in_row: each surface's openings in order; holes, starts: of each area that was asked
            for its holes as they fall, and the better start for them.
    """

    layouts: Mapping[str, Layout]
    openings: Mapping[str, Sequence[Opening]]
    limits: Limits
    style: Style
    kinds: Mapping[str, str]
    of_area: Mapping[str, Sequence[CutPiece]]
    facing: Mapping[str, Sequence[Facing]]
    voids: Mapping[str, Sequence[Void]]
    known: dict[tuple[str, bool, float], Ends] = field(default_factory=dict)
    laid: dict[tuple[str, bool, float], tuple[Layout, Layout]] = field(default_factory=dict)
    jambs: dict[tuple[str, bool, float], dict[str, float]] = field(default_factory=dict)
    evened: dict[tuple[str, bool], str] = field(default_factory=dict)
    in_row: dict[str, InRow] = field(default_factory=dict)
    holes: dict[str, Holes] = field(default_factory=dict)
    starts: dict[tuple[str, str], BetterStart | None] = field(default_factory=dict)

    def notch(self, piece: CutPiece, cut: Cut, limit: float) -> str:
        """Whether the hole may be opened to an edge, as a sentence with a blank before it; empty without a cover."""
        cover = cut.opening.cover
        notch = hidden_notch(piece, cut, limit, self.limits)
        if notch is not None:
            way = "a U cut" if len(notch.sides) == 1 else "an L cut over the corner"
            towards = " and the ".join(notch.sides)
            return f" Its cover hides {way}: write slot: towards the {towards}."
        if cover is None or not thin_sides(cut, limit):
            return ""
        return " No notch: it would show past the cover, or leave too little."

    def slot(self, piece: CutPiece, cut: Cut, side: Side) -> str:
        """What to do about the mouth of a notch over one side, as a sentence with a blank before it.

        Where tile is thin beside the hole too, it is the notch that takes both away, and no other.
        """
        limit = bridge_of(piece.piece.tile, self.kinds[piece.piece.surface], self.limits).least_look
        if thin_sides(cut, limit):
            notch = hidden_notch(piece, cut, limit, self.limits)
            both = notch is not None and side in notch.sides
            return self.notch(piece, cut, limit) if both else " Grind them off, or move it."
        opened = [one for one in SIDES if one == side or one in cut.opening.opened]
        if not is_hidden(opened, piece, cut, self.limits):
            return " Grind them off, or move it."
        return f" Its cover hides straight sides: write slot: towards the {' and the '.join(opened)}."

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
        near = self._near(layout)
        openings = {cut.opening.name: cut.opening for _, cut in where}
        if not all(has_room(opening, near, layout, moved, limit) for opening in openings.values()):
            return ""
        helped, du, dv = list(openings), 0.0 if upright else along, along if upright else 0.0
        if not self._holes(layout).no_worse(helped, du, dv) or self._spoils(layout, along, upright=upright):
            return ""
        now, then = self._ends(layout, 0.0, upright=upright), self._ends(layout, along, upright=upright)
        if now is None or then is None or self._narrows(layout, along, upright=upright):
            return ""
        return (
            f" Moving the start {say(by, self.style)} towards the {side} leaves enough here; the ends are then "
            f"{' and '.join(self._said(then))} (now {' and '.join(self._said(now))})"
            f"{self._jambs_then(layout, along, upright=upright)}."
        )

    def better_start(self, area: str, hole: str = "") -> BetterStart | None:
        """The shortest move of an area's start after which all of its holes fall well that do not now; None: no such.

        None of the others falls worse then, no end piece becomes narrow that is not, and joints that run on into the
        next area still do. With a `hole` only that one has to fall well.
        """
        key = area, hole
        if key not in self.starts:
            layout = self.layouts[area]
            helped = self._fall_badly(layout)
            self.starts[key] = self._better(layout, [name for name in helped if name == hole] if hole else helped)
        return self.starts[key]

    def _better(self, layout: Layout, helped: Sequence[str]) -> BetterStart | None:
        holes = self._holes(layout)
        if not 0 < len(helped) <= MOST_TROUBLED or layout.grid.turn:
            return None
        now = {name: holes.falls(name, 0.0, 0.0) for name in helped}
        dv: float | None = 0.0
        du: float | None = 0.0
        if any(up.trouble for _, up in now.values()):
            dv = self._first_good(layout, holes, helped, upright=True, dv=0.0)
        if dv is not None and any(holes.falls(name, 0.0, dv)[0].trouble for name in helped):
            du = self._first_good(layout, holes, helped, upright=False, dv=dv)
        if du is None or dv is None:
            return None
        moved, near = with_start_moved(layout, du, dv), self._near(layout)
        look = holes.want.bridge.least_look
        openings = {opening.name: opening for opening in self.openings[layout.surface]}
        if not all(keeps_bridges(openings[name], near, moved, look) for name in helped):
            return None
        words = " and ".join(
            f"{say(abs(by), self.style)} towards the {_towards(by, upright=upright)}"
            for by, upright in ((du, False), (dv, True))
            if by
        )
        costs = [self._cost(layout, by, upright=upright) for by, upright in ((du, False), (dv, True)) if by]
        return BetterStart(tuple(helped), f"the start {words}", "".join(costs))

    def _first_good(
        self, layout: Layout, holes: Holes, helped: Sequence[str], *, upright: bool, dv: float
    ) -> float | None:
        """The shortest move on one axis that helps and spoils nothing; None where there is none among the first few."""
        found = holes.helping(helped, _step(self.style), upright=upright, dv=dv)
        for by in islice(found, MOVES_TRIED):
            if not self._spoils(layout, by, upright=upright) and not self._narrows(layout, by, upright=upright):
                return by
        return None

    def _fall_badly(self, layout: Layout) -> list[str]:
        """The holes of an area that the grid is to blame for: thin towards a tile's own edge, or just over a joint."""
        holes = self._holes(layout)
        found: dict[str, None] = {}
        for piece in self.of_area.get(layout.area, ()):
            if piece.piece.tile != layout.tile:
                continue
            for cut in piece.cuts:
                name, near = cut.opening.name, cut.web.nearest
                thin = near is not None and near < holes.want.bridge.least_look - TOUCH
                if cut.opening.opened:
                    continue  # with another start it would be opened to another edge
                badly = thin or bite_of(cut, piece, self.limits) is not None
                if badly and name in holes.placed and any(fall.trouble for fall in holes.falls(name, 0.0, 0.0)):
                    found[name] = None
        return list(found)

    def _holes(self, layout: Layout) -> Holes:
        if layout.area not in self.holes:
            want = wanted(layout, self.kinds[layout.surface], self.limits)
            self.holes[layout.area] = Holes(layout, placed(self.openings[layout.surface], layout), want)
        return self.holes[layout.area]

    def _near(self, layout: Layout) -> InRow:
        if layout.surface not in self.in_row:
            self.in_row[layout.surface] = in_row(self.openings[layout.surface])
        return self.in_row[layout.surface]

    def _spoils(self, layout: Layout, by: float, *, upright: bool) -> bool:
        """Whether joints that run on into another area would no longer, or would only nearly."""
        pitch = layout.grid.pitch_v if upright else layout.grid.pitch_u
        if abs(by - pitch * round(by / pitch)) <= self.limits.reading.value:
            return False
        way = "across" if upright else "up"
        return any(one.way == way and joints_run_through(one, self.limits) for one in self.facing.get(layout.area, ()))

    def _near_to(self, layout: Layout, move: float, step: float, *, upright: bool) -> float | None:
        """The move nearest to this one after which no hole falls worse and no area is spoiled; None: none is near."""
        for n in range(STEPS_ASIDE + 1):
            for by in dict.fromkeys((move + n * step, move - n * step)):
                du, dv = (0.0, by) if upright else (by, 0.0)
                if self._holes(layout).no_worse((), du, dv) and not self._spoils(layout, by, upright=upright):
                    return by
        return None

    def _narrows(self, layout: Layout, by: float, *, upright: bool) -> bool:
        """Whether an end piece becomes narrow, and narrower than any is now."""
        if layout.is_open:
            return False
        now, then = self._ends(layout, 0.0, upright=upright), self._ends(layout, by, upright=upright)
        narrow = self._narrow(layout, upright=upright)
        if now is None or then is None or min(then) < min(min(now), narrow):
            return True
        return self._narrows_jambs(layout, by, narrow, upright=upright)

    def _narrows_jambs(self, layout: Layout, by: float, under: float, *, upright: bool) -> bool:
        """Whether a piece beside a window, niche or door comes under so much, and is narrower than any there is now."""
        narrow = self._narrow(layout, upright=upright)
        inside, inside_then = (self._least_beside(layout, at, upright=upright) for at in (0.0, by))
        if inside_then < min(inside, narrow) - COINCIDE:
            return True
        now, then = (self.beside_voids(layout, at, upright=upright) for at in (0.0, by))
        return any(size < min(now.get(name, math.inf), under) - COINCIDE for name, size in then.items())

    def _least_beside(self, layout: Layout, by: float, *, upright: bool) -> float:
        """The least piece beside any window, niche or door, wherever in its course, with the start moved, mm."""
        if layout.grid.turn:
            return math.inf
        least = least_beside_voids(*self._laid(layout, by, upright=upright), upright=upright)
        return math.inf if least is None else least

    def _cost(self, layout: Layout, by: float, *, upright: bool) -> str:
        """What a move of the start costs at the edges, as the end of a sentence."""
        now, then = self._ends(layout, 0.0, upright=upright), self._ends(layout, by, upright=upright)
        if layout.is_open or now is None or then is None:
            return ""
        ends = "pieces at the bottom and the top" if upright else "ends"
        moved = f"; the {ends} are then {' and '.join(self._said(then))} (now {' and '.join(self._said(now))})"
        return moved + self._jambs_then(layout, by, upright=upright)

    def _jambs_then(self, layout: Layout, by: float, *, upright: bool) -> str:
        """What a move leaves beside windows, niches and doors at the ends of courses, as the end of a sentence."""
        now, then = (self.beside_voids(layout, at, upright=upright) for at in (0.0, by))
        said = []
        for name, size in then.items():
            before = say_down(now[name] + COINCIDE, self.style) if name in now else "none"
            said.append(f"beside the {name} {say_down(size + COINCIDE, self.style)} (now {before})")
        return f"; {', '.join(said)}" if said else ""

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
            return MAY_HELP
        return self.evened_by(layout, upright=upright) or MAY_HELP

    def ends(self, layout: Layout, *, upright: bool) -> tuple[float, float] | None:
        """The least pieces at an area's own ends as it is, mm: left and right, or bottom and top; None: there are none.

        A window or the jamb of a door that lies at such an end makes pieces of its own: `beside_voids`.
        """
        return None if layout.is_open or layout.grid.turn else self._ends(layout, 0.0, upright=upright)

    def beside_voids(self, layout: Layout, by: float = 0.0, *, upright: bool) -> dict[str, float]:
        """The least piece that each window, niche or door leaves at the ends of courses, with the start moved, mm."""
        key = layout.area, upright, by
        if key not in self.jambs:
            moved, tiled = self._laid(layout, by, upright=upright)
            found: dict[str, float] = {}
            for place, size in () if layout.grid.turn else ends_at_voids(moved, tiled, upright=upright):
                name = self._void_at(moved, place)
                found[name] = min(size, found.get(name, math.inf))
            self.jambs[key] = found
        return self.jambs[key]

    def _void_at(self, layout: Layout, place: Place) -> str:
        """What the window, niche or door is called that trims what lies in a place."""
        x, y = layout.grid.to_surface.xy(*layout.grid.corner(place))
        box = Bounds(x, y, x + layout.grid.w, y + layout.grid.h)
        near = (void.called for void in self.voids[layout.surface] if void.ring.bounds.overlaps(box, layout.grid.joint))
        return next(near, "window, niche or door")

    def evened_by(self, layout: Layout, *, upright: bool) -> str:
        """The move of the start that leaves the larger end pieces, as a sentence with a blank before it; "" for none.

        No hole falls worse then, and joints that run on into the next area still do.
        """
        key = layout.area, upright
        if key not in self.evened:
            self.evened[key] = self._evened(layout, upright=upright)
        return self.evened[key]

    def _evened(self, layout: Layout, *, upright: bool) -> str:
        step = _step(self.style)
        now = self._ends(layout, 0.0, upright=upright)
        moves = even_moves(layout, upright=upright, step=step)[:MOVES_LAID]
        moves = [by for move in moves if (by := self._near_to(layout, move, step, upright=upright)) is not None]
        half = self.limits.half_part.value * (layout.grid.h if upright else layout.grid.w)
        moves = [by for by in moves if not self._narrows_jambs(layout, by, half, upright=upright)]
        laid = [(by, ends) for by in moves if (ends := self._ends(layout, by, upright=upright)) is not None]
        if now is None or not laid:
            return ""
        most = max(min(ends) for _, ends in laid)
        by, ends = next(one for one in laid if min(one[1]) >= most - COINCIDE)
        if min(ends) < min(now) + step - COINCIDE:
            return ""
        towards = _towards(by, upright=upright)
        first, last = self._said(ends)
        if upright:
            leaves = (
                f"{first} at the bottom and the top" if first == last else f"{first} at the bottom, {last} at the top"
            )
        else:
            leaves = f"{first} at both ends" if first == last else f"{first} and {last} at the ends"
        beside = self._jambs_then(layout, by, upright=upright)
        return f" Moving the start {say(abs(by), self.style)} towards the {towards} leaves {leaves}{beside}."

    def _ends(self, layout: Layout, by: float, *, upright: bool) -> tuple[float, float] | None:
        """The least end pieces with the start moved `by` mm; None where there are none, or no such first course."""
        key = layout.area, upright, by
        if key not in self.known:
            _, tiled = self._laid(layout, by, upright=upright)
            self.known[key] = ends_up(tiled) if upright else ends_across(tiled)
        first, last = self.known[key]
        if first is None or last is None or (by and upright and first < self.limits.first_course.value - TOUCH):
            return None
        return first, last

    def _laid(self, layout: Layout, by: float, *, upright: bool) -> tuple[Layout, Layout]:
        """The area with its start moved, as it is and as if its windows, niches and doors were tiled."""
        key = layout.area, upright and by != 0.0, by
        if key not in self.laid:
            moved = _moved(layout, by, upright=upright) if by else layout
            self.laid[key] = moved, with_voids_tiled(moved)
        return self.laid[key]

    def _said(self, ends: tuple[float, float]) -> tuple[str, str]:
        """Both ends rounded down, each with the kernel's own rounding made good."""
        return say_down(ends[0] + COINCIDE, self.style), say_down(ends[1] + COINCIDE, self.style)


class BetterStart(Struct, frozen=True):
    """A start at which holes fall well that do not now.

    helps  which; words: "the start 12 towards the left"; cost: what it costs at the edges, as the end of a sentence.
    """

    helps: tuple[str, ...]
    words: str
    cost: str


def _towards(by: float, *, upright: bool) -> str:
    if upright:
        return "top" if by > 0 else "bottom"
    return "right" if by > 0 else "left"


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
