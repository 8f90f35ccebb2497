"""Rules about tiles that go under a frame: whether they fit under it, and whether what is cut lets them be slid."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence

from msgspec import Struct

from cutmarks.checks.depth import build_up
from cutmarks.checks.model import Finding
from cutmarks.checks.pieces import listed
from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.frames import Placement, Tile
from cutmarks.geometry.regions import Region, difference, intersection, region
from cutmarks.geometry.rings import Ring, polygon
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.limits import Limits
from cutmarks.openings.model import Cut, CutPiece
from cutmarks.setout.model import SetOut, Void
from cutmarks.sides import SIDES, Side
from cutmarks.tiling.layout import Layout
from cutmarks.tiling.model import Place, TileKind
from cutmarks.units import Style, say

SLID_UNDER = "slid under"
"""The rule that says how a piece gets in."""
SLACK = 0.5
"""A slot may be this much short, mm: lengths are said to a half, and there is room round the pipe besides."""


class Under(Struct, frozen=True):
    """A piece, whole or cut, that lies under a frame.

    slides  how far it has to be slid towards each side of its own, mm, when it is put down beside the frame, wholly
            clear of it; without the sides away from which there is no room on the surface to put it down.
    """

    name: str
    tile: TileKind
    cuts: tuple[Cut, ...]
    outline: Region[Tile]
    slides: dict[Side, float]

    @property
    def towards(self) -> Side:
        """The way in which it is slid: the shortest. Raises ValueError where there is none."""
        return min(self.slides, key=lambda side: self.slides[side])


def goes_under(
    setout: SetOut, layouts: Sequence[Layout], pieces: Sequence[CutPiece], limits: Limits, style: Style
) -> Iterator[Finding]:
    """Frames that are cut off above the floor: tile and bed with a little air have to go under.

    A tile that is slid under cannot at the same time go straight down over a pipe: its hole has to be a slot.
    """
    of_piece: dict[str, list[Under]] = defaultdict(list)
    for void in setout.voids:
        if void.goes_under is None or void.undercut is None:
            continue
        under = [one for layout in layouts for one in pieces_under(void, setout, layout, pieces)]
        yield from _too_low(void, void.undercut, under, limits, style)
        yield from _no_room(void, [one.name for one in under if not one.slides])
        for one in under:
            if one.slides:
                of_piece[one.name].append(one)
                yield from _over_a_pipe(void, one, style)
    for own in of_piece.values():
        yield from _between_two(own, style)
        yield from _slid_under(own, style)


def pieces_under(void: Void, setout: SetOut, layout: Layout, pieces: Sequence[CutPiece]) -> Iterator[Under]:
    """Every piece of an area that lies under a frame: those whose place meets the frame's own outline."""
    cut: dict[Place, list[CutPiece]] = defaultdict(list)
    for piece in pieces:
        if piece.piece.area == layout.area and piece.piece.surface == layout.surface:
            cut[piece.piece.place].append(piece)
    along = void.measured.moved(layout.grid.to_surface.inverse())
    for place in layout.places_under(along.bounds):
        to_tile = layout.grid.placement(place).inverse()
        frame: Ring[Tile] = void.measured.moved(to_tile)
        ground: Region[Tile] = setout.bare.moved(to_tile)
        if place in cut:
            found = [_under(one.name, one.piece.tile, one.cuts, one.outline, frame, ground) for one in cut[place]]
        elif (whole := layout.piece(place)) is not None:
            found = [_under(whole.name, whole.tile, (), whole.outline, frame, ground)]
        else:
            found = []
        yield from (one for one in found if one is not None)


def _under(
    name: str,
    tile: TileKind,
    cuts: tuple[Cut, ...],
    outline: Region[Tile],
    frame: Ring[Tile],
    ground: Region[Tile],
) -> Under | None:
    """How a piece lies under a frame; None where it does not. `ground` is the bare surface."""
    if intersection(outline, region(frame)).area <= TOUCH * frame.length:
        return None
    slides = {side: _slide(outline, frame.bounds, side) for side in SIDES}
    return Under(
        name, tile, cuts, outline, {side: far for side, far in slides.items() if _can_lie(outline, side, far, ground)}
    )


def _can_lie(outline: Region[Tile], side: Side, far: float, ground: Region[Tile]) -> bool:
    """Whether a piece can be put down on the surface `far` mm away from its place, to be slid towards `side`."""
    step_x, step_y = side.step
    away: Placement[Tile, Tile] = Placement.shift(-far * step_x, -far * step_y)
    box = outline.bounds
    return difference(outline.moved(away), ground).area <= TOUCH * (box.width + box.height)


def _no_room(void: Void, names: Sequence[str]) -> Iterator[Finding]:
    """Pieces that no side of their frame has room for, to put them down and slide them under."""
    if names:
        yield Finding(
            "stop",
            "cannot be got in",
            tuple(names),
            f"{listed(names)}: beside {void.called} there is no room to put it down and slide it under. Part it there, "
            "or cut the frame free down to the floor.",
            None,
            None,
            "geometry",
        )


def _slide(outline: Region[Tile], frame: Bounds, side: Side) -> float:
    """How far a piece has to lie away from its place, against the way in which it is slid, to be clear of the frame."""
    own = outline.bounds
    beyond = own.width + own.height
    reach = frame.with_side(side, own.at(side) + side.sign * beyond)
    within = intersection(outline, _box(reach)).bounds
    return side.sign * (within.at(side) - frame.at(side.opposite))


def _box(box: Bounds) -> Region[Tile]:
    corners = ((box.min_x, box.min_y), (box.max_x, box.min_y), (box.max_x, box.max_y), (box.min_x, box.max_y))
    return region(polygon(corners))


def _over_a_pipe(void: Void, one: Under, style: Style) -> Iterator[Finding]:
    """Closed holes, and slots that are too short or lie another way, in a piece that is slid."""
    side, far = one.towards, one.slides[one.towards]
    closed = [cut for cut in one.cuts if cut.kind == "hole" and not _lets_slide(cut, side, far)]
    if closed:
        names = [cut.opening.name for cut in closed]
        runs_out = [cut.opening.name for cut in closed if _runs_out(cut, one, side, far)]
        remedy = f" Write slot: {say(far, style)} towards the {side}." if len(runs_out) < len(closed) else ""
        if runs_out:
            which = f" for {listed(runs_out)}" if remedy else ""
            remedy += (
                f" A slot of {say(far, style)}{which} would run out over its {side} edge, into what lies beyond: write "
                f"slot: towards the {side}, which ends in the joint."
            )
        yield Finding(
            "warn",
            "cannot be slid under",
            (one.name, *names),
            f"{one.name} is slid {say(far, style)} towards the {side}, under {void.called}, and cannot go "
            f"straight over {listed(names)}.{remedy}",
            None,
            None,
            "geometry",
        )


def _runs_out(cut: Cut, one: Under, side: Side, far: float) -> bool:
    """Whether a slot to slide that far would leave its piece on that side."""
    return side.sign * (cut.ring.bounds.at(side) + side.sign * far - one.outline.bounds.at(side)) > -TOUCH


def _lets_slide(cut: Cut, side: Side, far: float) -> bool:
    slide = cut.opening.slide
    return slide is not None and side in cut.opening.opened and slide >= far - SLACK


def _between_two(own: Sequence[Under], style: Style) -> Iterator[Finding]:
    """A piece that goes under one frame to one side and under another to the other."""
    ways = {one.towards for one in own}
    if not any(way.opposite in ways for way in ways):
        return
    name = own[0].name
    both = {
        side: max(one.slides[side] for one in own)
        for side in SIDES
        if side not in ways and all(side in one.slides for one in own)
    }
    help_it = "Cut one leg free down to the floor, or part the tile between them."
    if both:
        side = min(both, key=lambda way: both[way])
        at_once = f"{say(both[side], style)} towards the {side}, while nothing lies there"
        help_it += f" Or slide it under both at once: {at_once}."
    yield Finding(
        "stop",
        "cannot be got in",
        (name,),
        f"{name}: under a frame on both sides, it can be slid under neither. {help_it}",
        None,
        None,
        "geometry",
    )


def _slid_under(own: Sequence[Under], style: Style) -> Iterator[Finding]:
    """Which way a piece goes under, and what must not be fixed yet where it is put down: it may be read from there."""
    ways = {one.towards for one in own}
    if len(ways) > 1 and any(way.opposite in ways for way in ways):
        return
    slid = {way: say(max(one.slides[way] for one in own if one.towards == way), style) for way in SIDES if way in ways}
    moves = [f"{far} towards the {way}" for way, far in slid.items()]
    beside = " and ".join(f"at its {way.opposite}" for way in slid)
    yield Finding(
        "note",
        SLID_UNDER,
        (own[0].name,),
        f"{own[0].name} goes in under a frame: put down clear of it, slid {' and '.join(moves)}. Until it is in, fix "
        f"nothing {beside}: lay that dry, to read from, and lift it.",
    )


def _too_low(void: Void, undercut: float, under: Sequence[Under], limits: Limits, style: Style) -> Iterator[Finding]:
    for tile in dict.fromkeys(one.tile for one in under):
        built = build_up("board", tile, None, limits)
        if built is None:
            continue
        needed = built.total + limits.under_frame.value
        if undercut < needed:
            names = [one.name for one in under if one.tile == tile]
            yield Finding(
                "stop",
                "frame too low",
                tuple(names),
                f"{listed(names)} cannot go under {void.called}: {say(undercut, style)} is free, and "
                f"{built.said(style)} + {say(limits.under_frame.value, style)} of air is {say(needed, style)}. Cut the "
                "frame higher.",
                undercut,
                needed,
                limits.under_frame.source,
            )
