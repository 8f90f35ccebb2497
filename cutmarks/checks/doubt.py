"""How sure each cut is: the doubt of its place, of print, marking and core together, against the room that there is.

Every part is taken as normal and independent of the others; give or take in the limits is two standard deviations.
Position: the readings' own, the set-out line, the pitch over the tiles from the start (no more than it was read over
where the tile is read again at the wall on the day), and how the neighbours were fixed. On the tile: the paper,
marking, and the core.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from cutmarks.checks.chance import Room, box, chance, disc, inside_round
from cutmarks.checks.opened import room_under, seen_from_cover
from cutmarks.geometry.distance import gap
from cutmarks.geometry.frames import Placement, Point, Surface, Tile, cos_sin
from cutmarks.geometry.shapes import Circle, Rect, ring_of
from cutmarks.locating.model import Doubt, Located
from cutmarks.locating.precision import SIGMAS, one_sigma
from cutmarks.openings.hidden import lean_of
from cutmarks.openings.model import Cut, CutPiece, Opening
from cutmarks.registering.error import axis_error
from cutmarks.registering.figures import PaperFigures
from cutmarks.registering.model import Registration
from cutmarks.registering.sides import mark_sides
from cutmarks.units import MM_PER, Style, say, say_down

if TYPE_CHECKING:
    from cutmarks.checks.limits import Limits

WHOLE = 1000
"""Chances are said in so many."""


@dataclass(frozen=True, slots=True)
class Sure:
    """How sure one cut is.

    doubt   of the finished hole against the thing, mm2, along the surface's axes; give_or_take: two standard
            deviations along the worse direction, mm.
    chance  that it goes over the thing and is covered; sentence: the same in words.
    shows   that chance is too small, and rather because the cover hides too little than because it goes over badly.
    """

    hole: str
    piece: str
    doubt: Doubt
    give_or_take: float
    chance: float
    sentence: str
    shows: bool = False


def how_sure(
    located: Iterable[Located],
    pieces: Sequence[CutPiece],
    registrations: Sequence[Registration],
    limits: Limits,
    paper: PaperFigures,
    ahead: bool,
    style: Style,
) -> tuple[Sure, ...]:
    """Every cut of every piece, in the order of the pieces, round a thing whose size is known.

    `paper` is what the paper's error is made of; `ahead`: cut from the plan, not read again at the wall.
    """
    things = {thing.spec.name: thing for thing in located}
    sheets = {(sheet.piece, index): sheet for sheet in registrations for index in sheet.cuts}
    found = []
    for piece in pieces:
        for index, cut in enumerate(piece.cuts):
            if cut.opening.you_may_be is None:
                continue
            thing = things[cut.opening.name]
            sheet = sheets.get((piece.name, index))
            doubt = all_together(
                thing.doubt, on_tile(piece, cut, sheet, limits, paper, ahead), piece.piece.turn, limits
            )
            rooms, along = _against(piece, cut, doubt)
            part = chance(rooms, along)
            too_small = part < limits.sure.value and cut.opening.cover is not None
            found.append(
                Sure(
                    cut.opening.name,
                    piece.name,
                    doubt,
                    SIGMAS * doubt.ellipse[0],
                    part,
                    sentence(cut, piece, part, SIGMAS * doubt.ellipse[0], style),
                    shows=too_small and chance(rooms[-1:], along) < chance(rooms[:-1], along),
                )
            )
    return tuple(found)


def on_tile(
    piece: CutPiece, cut: Cut, sheet: Registration | None, limits: Limits, paper: PaperFigures, ahead: bool
) -> tuple[float, float]:
    """The variances along the tile's own sides, mm2: pitch, neighbour, paper, marking, core."""
    alike = sum(one_sigma(limit.value) ** 2 for limit in (limits.neighbour_out, limits.marking, limits.core_wander))
    column, row = piece.piece.place
    found = []
    for places, side in zip((column, row), mark_sides(cut), strict=True):
        tiles = abs(places) if ahead else min(abs(places), limits.pitch_tiles.value)
        pitch = one_sigma(limits.pitch_out.value) * tiles / limits.pitch_tiles.value
        printed = 0.0 if sheet is None else one_sigma(axis_error(piece, cut, sheet, side, paper).total)
        found.append(alike + pitch**2 + printed**2)
    return found[0], found[1]


def all_together(read: Doubt, tile: tuple[float, float], turn: float, limits: Limits) -> Doubt:
    """The doubt of the readings and of the lines, and that along the sides of a tile turned by `turn` degrees."""
    line = one_sigma(limits.line_out.value) ** 2
    turned = rotated(Doubt(tile[0], 0.0, tile[1]), turn)
    return Doubt(read.xx + line + turned.xx, read.xy + turned.xy, read.yy + line + turned.yy)


def rotated(doubt: Doubt, degrees: float) -> Doubt:
    """The same doubt seen along axes from which its own are turned by `degrees` counter-clockwise."""
    c, s = cos_sin(degrees)
    return Doubt(
        doubt.xx * c * c + doubt.yy * s * s - 2 * doubt.xy * c * s,
        (doubt.xx - doubt.yy) * c * s + doubt.xy * (c * c - s * s),
        doubt.xx * s * s + doubt.yy * c * c + 2 * doubt.xy * c * s,
    )


def _against(piece: CutPiece, cut: Cut, doubt: Doubt) -> tuple[list[Room], Doubt]:
    """The rooms of a cut and the doubt, both along the opening's own sides.

    An opened hole has at least the room round the thing that it had closed; of its cover it is what is cut off the
    piece that counts.
    """
    opening, lean = cut.opening, lean_of(cut.opening)
    if opening.closed is None:
        return rooms_of(opening, lean), rotated(doubt, -lean)
    closed = replace(opening, shape=opening.closed, ring=ring_of(opening.closed, opening.at), cover=None)
    rooms = rooms_of(closed, lean)
    if opening.cover is not None:
        rooms.append(room_under(opening.cover, seen_from_cover(piece, cut)))
    return rooms, rotated(doubt, -lean)


def rooms_of(opening: Opening, lean: float = 0.0) -> list[Room]:
    """How far a closed hole may sit off and still hold the thing, and be covered, along axes that lean by `lean`.

    The cover's is the last, where it has one. A cover is fixed to the thing: it is the opening that moves under it.
    """
    own: Placement[Tile, Surface] = Placement.turned(lean, opening.at.x, opening.at.y)
    thing = opening.thing.moved(own.inverse()).bounds
    cut = opening.ring.moved(own.inverse()).bounds
    middle: Point[Tile] = Point((thing.min_x + thing.max_x) / 2, (thing.min_y + thing.max_y) / 2)
    rooms = []
    if isinstance(opening.shape, Circle):
        if _is_round(opening):
            rooms.append(disc((opening.shape.d - thing.width) / 2))
        else:
            rooms.append(inside_round(thing.width, thing.height, opening.shape.d))
    elif isinstance(opening.shape, Rect):
        rooms.append(
            box(cut.max_x - thing.max_x, thing.min_x - cut.min_x, cut.max_y - thing.max_y, thing.min_y - cut.min_y)
        )
    else:
        rooms.append(disc(gap(opening.ring, opening.thing)))
    cover = opening.cover
    if cover is not None:
        if cover.round and isinstance(opening.shape, Circle):
            rooms.append(disc((cover.w - opening.shape.d) / 2))
        elif cover.round:
            rooms.append(inside_round(cut.width, cut.height, cover.w))
        else:
            rooms.append(
                box(
                    cut.min_x - middle.x + cover.w / 2,
                    middle.x + cover.w / 2 - cut.max_x,
                    cut.min_y - middle.y + cover.h / 2,
                    middle.y + cover.h / 2 - cut.max_y,
                )
            )
    return rooms


def _is_round(opening: Opening) -> bool:
    """Whether the thing is a circle: its outline is all arcs."""
    return all(vertex.bulge != 0.0 for vertex in opening.thing.vertices)


def sentence(cut: Cut, piece: CutPiece, part: float, give_or_take: float, style: Style) -> str:
    """One sentence: how often it works out, how far it may come off, and what there is to spare."""
    what = "goes over and stays covered" if cut.opening.cover is not None else "goes over"
    spare = cut.opening.you_may_be
    have = "" if spare is None else f", you have {say_down(spare, style)} any way"
    out = _said_up(give_or_take, style)
    return f"{cut.opening.name} in {piece.name}: it {what} {in_words(part)} (it may come {out} off{have})."


def ellipse_words(doubt: Doubt, style: Style) -> str:
    """How good a place is by its readings: the error ellipse at two standard deviations, rounded up."""
    long, short, points = doubt.ellipse
    far, near = _said_up(SIGMAS * long, style), _said_up(SIGMAS * short, style)
    if far == near:
        return f"good to {far} any way"
    return f"good to {far} along a line at {points:.0f} degrees, to {near} across it"


def _said_up(mm: float, style: Style) -> str:
    step = float(style.finest * MM_PER[style.unit])
    return say(math.ceil(mm / step) * step, style)


def in_words(part: float) -> str:
    """A chance as it is said: "998 times in 1000", never more sure than it is."""
    times = math.floor(part * WHOLE)
    if times >= WHOLE - 1:
        return f"more than {WHOLE - 1} times in {WHOLE}"
    return f"{times} times in {WHOLE}" if times else f"not once in {WHOLE}"
