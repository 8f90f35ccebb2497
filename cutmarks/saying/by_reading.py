"""How the figures of a cut move with what is read on the wall: by adding, as long as the cut keeps its kind.

A hole that was found further right is marked further right by as much; so its figures from the left grow and those from
the right shrink. That holds while it stays clear of what is beside it. Where it would run out over an edge, leave a
bridge that cracks, or push its cover over an edge or another, and for cuts whose figures do not move by as much (the
ends of a bite whose middle is off the tile, where it goes deeper), the plan is made anew.
"""

from __future__ import annotations

import math

from msgspec import Struct

from cutmarks.checks.bridges import bridge_of
from cutmarks.checks.holes import two_sides
from cutmarks.geometry.distance import gap
from cutmarks.geometry.frames import Surface
from cutmarks.geometry.near import Near
from cutmarks.geometry.regions import upright_box
from cutmarks.geometry.rings import Ring
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.openings.found import AsFound
from cutmarks.openings.hidden import cover_on_surface
from cutmarks.openings.made_anew import moved_by
from cutmarks.openings.model import Cut, CutPiece, Opening, WallCheck
from cutmarks.plan import Plan
from cutmarks.saying.measures import by_centre, is_bite, leans_on_tile
from cutmarks.setout.finished import finished_ground
from cutmarks.sides import SIDES, Axis, FourSides, Side


class ByReading(Struct, frozen=True):
    """What a cut's figures are to be moved by, mm; sides and ways are those of the tile as seen on its FACE.

    checks   what is read on the wall for it.
    off      how far right and up it was found already, by what is kept, twice over, in millionths of a millimetre: what
             is read now goes before that, each axis for itself.
    moved    by how much of that its figures, and what is expected on the wall, are moved already.
    planned  what was expected of each of `checks` before anything was found, mm; None: that is not known.
    act_at   from how much on, right or up, it moves.
    too_far  over how far off it stops; None: nothing says how far it may be.
    apart    by how much more or less than its width its two sides may be found apart; over `spare` doubled it stops.
    kept     how far the thing may go away from the side of each of `checks`, least and most, mm, until it is read from
             another thing, or one more: what comes over the base, or over an earlier piece, is not read from there.
    room     how far it may move to each side and still be marked by adding; None: not at all.
    is_cut   it is said to be cut: nothing is read for it any more.
    """

    checks: tuple[WallCheck, ...]
    off: tuple[int, int]
    moved: tuple[int, int]
    planned: tuple[tuple[float, float] | None, ...]
    kept: tuple[tuple[float, float], ...]
    act_at: float
    too_far: float | None
    apart: float
    spare: float | None
    room: FourSides[float] | None
    is_cut: bool


class Covers:
    """How far the cover of each opening of a plan, or the opening itself, is from what it must not come over."""

    def __init__(self, plan: Plan) -> None:
        """Nothing is measured yet."""
        self._laid: dict[str, list[tuple[Opening, Ring[Surface]]]] = {}
        for opening in plan.openings:
            ring = cover_on_surface(opening) or opening.ring
            self._laid.setdefault(opening.surface, []).append((opening, ring))
        self._near = {name: Near(ring.bounds for _, ring in laid) for name, laid in self._laid.items()}
        self._edges = {
            name: list(finished_ground(plan.setout(name)).rings) + [void.finished for void in plan.setout(name).voids]
            for name in self._laid
        }

    def room(self, opening: Opening) -> float:
        """How far it may move right, and up, at once: at most so far as is looked at, mm.

        Of two covers each may move, so each has half of what is between them.
        """
        own = cover_on_surface(opening) or opening.ring
        ways = [_LOOKED_AT]
        if opening.cover is not None:
            ways += [gap(own, edge) for edge in self._edges[opening.surface]]
        laid = self._laid[opening.surface]
        for number in self._near[opening.surface].within(own.bounds, 2 * _LOOKED_AT):
            other, ring = laid[number]
            if other.name != opening.name and not (other.cover is None and opening.cover is None):
                ways.append(gap(own, ring) / 2)
        return min(ways) / math.sqrt(2.0)


_LOOKED_AT = 40.0
"""So far round a cover, mm: much more than tiles creep."""


def by_reading(plan: Plan, piece: CutPiece, cut: Cut, covers: Covers) -> ByReading:
    """How this cut of a piece, seen on its face, moves with what is read."""
    limits = plan.limits
    kept = found_of(plan, piece, cut)
    checks = checks_to_read(plan, cut)
    spare = cut.opening.you_may_be
    return ByReading(
        checks=checks,
        off=(0, 0) if kept is None else kept.twice_off,
        moved=moved_by(kept),
        planned=tuple(_planned(check, kept) for check in checks),
        kept=tuple(_kept_from(check, cut) for check in checks),
        act_at=limits.act_at.value,
        too_far=None if spare is None else limits.shift_part.value * spare,
        apart=two_sides(limits, plan.say.style).value,
        spare=spare,
        room=_room(plan, piece, cut, covers) if adds(cut) else None,
        is_cut=kept is not None and kept.cut,
    )


def checks_to_read(plan: Plan, cut: Cut) -> tuple[WallCheck, ...]:
    """What is read on the wall before this cut is marked; nothing where tiles are cut ahead."""
    return () if plan.say.cut == "ahead" else tuple(check for check in cut.wall_checks if check.fixed)


def _planned(check: WallCheck, kept: AsFound | None) -> tuple[float, float] | None:
    """What a check was before its hole moved; None where another side was read then."""
    if kept is None or not kept.moved:
        return check.near, check.far
    read = next((one for one in kept.reads if one.side.axis == check.side.axis), None)
    if read is None:
        return check.near, check.far
    return read.expected if read.side == check.side else None


def _kept_from(check: WallCheck, cut: Cut) -> tuple[float, float]:
    """How far a thing may go away from the side of a check, least and most, and still be read from the same, mm."""
    low, high = check.stays
    over = (check.far - check.near) / 2 - cut.from_edges[check.side]
    low = max(low, -check.near)
    if check.source.kind == "edge" and check.side.axis == "up" and over >= -TOUCH:
        high = min(high, max(over, 0.0))
    return low if low > -_LOOKED_AT else -math.inf, high if high < _LOOKED_AT else math.inf


def found_of(plan: Plan, piece: CutPiece, cut: Cut) -> AsFound | None:
    """What came back of a cut, if anything did."""
    return next((one for one in plan.found if one.piece == piece.name and one.hole == cut.opening.name), None)


def adds(cut: Cut) -> bool:
    """Whether every figure that the cut is marked by moves by as much as the thing."""
    if cut.opening.opened or cut.kind == "part" or leans_on_tile(cut):
        return False
    return cut.sides is not None or (by_centre(cut) and cut.kind != "corner notch") or is_bite(cut)


def _room(plan: Plan, piece: CutPiece, cut: Cut, covers: Covers) -> FourSides[float]:
    """How far the cut may move to each side, mm: it keeps its kind, no bridge cracks, no cover comes over an edge."""
    kind, limits = plan.setout(piece.piece.surface).kind, plan.limits
    least = max(bridge_of(piece.piece.tile, kind, limits).least_stop, limits.least_bite.value)
    most = covers.room(cut.opening)
    number = piece.cuts.index(cut)
    between = min(
        (piece.between.gap(number, other) for other in range(len(piece.cuts)) if other != number), default=None
    )
    if between is not None:
        # The other may move as well.
        most = min(most, (between - max(least, limits.between_cores.value)) / 2 / math.sqrt(2.0))
    if upright_box(piece.piece.outline) is None:
        # Beside edges that rake or step what is nearest bounds every way, and two ways at once.
        most = min(most, ((cut.web.nearest or 0.0) - least) / math.sqrt(2.0))
    deeper = {side.axis for side in cut.runs_out} if is_bite(cut) else set[Axis]()
    if deeper and upright_box(piece.piece.outline) is None:
        # Beside edges that rake or step it may go deeper wherever it goes.
        deeper = {"across", "up"}
    return FourSides(
        *(0.0 if side.axis in deeper else max(min(_way(piece, cut, side, least), most), 0.0) for side in SIDES)
    )


def _way(piece: CutPiece, cut: Cut, side: Side, least: float) -> float:
    """How far it may move towards one side, for what lies on that side and for the edge that it runs out over."""
    web = cut.web.beside[side]
    whole, here = cut.ring.bounds, cut.share.bounds
    if web is not None:
        # A web is measured at some levels; where a round notch is widest may lie between two of them.
        ways = [web - least, abs(piece.piece.outline.bounds.at(side) - here.at(side)) - least]
    elif side in cut.runs_out:
        # Its middle, or of a box its inner side, has to stay on the tile.
        wide = here.width if side.axis == "across" else here.height
        ways = [(cut.from_edges[side] if cut.sides is None else wide) - TOUCH]
    else:
        ways = [0.0]
    if side.opposite in cut.runs_out:
        # It has to go on running out over the other side.
        past = {
            Side.LEFT: here.min_x - whole.min_x,
            Side.RIGHT: whole.max_x - here.max_x,
            Side.BOTTOM: here.min_y - whole.min_y,
            Side.TOP: whole.max_y - here.max_y,
        }
        ways.append(past[side.opposite] - TOUCH)
    return min(ways)
