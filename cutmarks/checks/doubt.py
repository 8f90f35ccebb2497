"""How sure each cut is: the doubt of its place, of print, marking and core together, against the room that there is.

Every part is taken as normal and independent of the others; give or take in the limits is two standard deviations.
Position: the readings' own, the set-out line, the pitch over the tiles from the start (no more than it was read over
where the tile is read again at the wall on the day), and how the neighbours were fixed. On the tile: the paper,
marking, and the core.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from msgspec import Struct
from msgspec.structs import replace

from cutmarks.checks.chance import chance
from cutmarks.checks.opened import seen_from_cover
from cutmarks.geometry.frames import cos_sin
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.locating.model import Doubt, Located
from cutmarks.locating.precision import SIGMAS, one_sigma
from cutmarks.openings.hidden import lap_of, under_cover
from cutmarks.openings.leeway import Leeway
from cutmarks.openings.model import Cut, CutPiece, Opening
from cutmarks.openings.sizing import best_hole
from cutmarks.registering.error import axis_error
from cutmarks.registering.figures import PaperFigures
from cutmarks.registering.model import Registration
from cutmarks.registering.sides import mark_sides
from cutmarks.units import MM_PER, Style, say, say_down, say_spare

if TYPE_CHECKING:
    from cutmarks.limits import Limits

WHOLE = 1000
"""Chances are said in so many."""


class Sure(Struct, frozen=True):
    """How sure one cut is.

    doubt   of the finished hole against the thing, mm2, along the surface's axes; give_or_take: two standard
            deviations along the worse direction, mm.
    chance  that it goes over the thing and is covered; sentence: the same in words.
    piece   "" on a surface that has no tiles.
    shows   that chance is too small, and rather because the cover hides too little than because it goes over badly.
    roomier  the round hole that would leave most room under its cover, in words; "" where that is no bigger.
    """

    hole: str
    piece: str
    doubt: Doubt
    give_or_take: float
    chance: float
    sentence: str
    shows: bool = False
    roomier: str = ""


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
            begins = f"{cut.opening.name} in {piece.name}: "
            found.append(_sure(cut.opening, piece.name, doubt, _against(piece, cut), begins, limits, style))
    return tuple(found)


def by_readings_alone(
    located: Sequence[Located], openings: Sequence[Opening], limits: Limits, style: Style
) -> tuple[Sure, ...]:
    """The same of things on a surface without tiles, as far as their readings and the set-out lines tell.

    Pitch, paper, marking and core come on top of that once it is cut: it is no surer then.
    """
    line = one_sigma(limits.line_out.value) ** 2
    found = []
    for thing, opening in zip(located, openings, strict=True):
        if opening.you_may_be is None:
            continue
        doubt = Doubt(thing.doubt.xx + line, thing.doubt.xy, thing.doubt.yy + line)
        begins = f"{opening.name}, by its readings and lines alone: "
        found.append(_sure(opening, "", doubt, opening.leeway.without_lap, begins, limits, style))
    return tuple(found)


def _sure(
    opening: Opening, piece: str, doubt: Doubt, leeway: Leeway, begins: str, limits: Limits, style: Style
) -> Sure:
    """How sure one cut is whose doubt stands against this leeway; `begins` is how its sentence begins."""
    give_or_take = SIGMAS * doubt.ellipse[0]
    along = rotated(doubt, -leeway.lean)
    part = chance(leeway.parts, along)
    too_small = part < limits.sure.value and opening.cover is not None
    shows = too_small and chance(leeway.under, along) < chance(leeway.parts[:1], along)
    said = f"{begins}{_how_often(opening, leeway, part, give_or_take, style)}."
    return Sure(
        opening.name, piece, doubt, give_or_take, part, said, shows, "" if shows else _roomier(opening, limits, style)
    )


def _roomier(opening: Opening, limits: Limits, style: Style) -> str:
    """The round hole that leaves most room under a round cover, where it is bigger than the one that is cut; or ""."""
    hole, thing, cover = opening.ring.disc, opening.thing.disc, opening.cover
    if hole is None or thing is None or cover is None or not cover.round:
        return ""
    best = best_hole(2.0 * thing[2], cover.w, lap_of(cover, limits))
    return f"a hole of {say_down(best, style)}" if best > 2.0 * hole[2] + TOUCH else ""


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


def _against(piece: CutPiece, cut: Cut) -> Leeway:
    """What a cut may be off until it shows: of an opened hole it is what is cut off the piece that counts."""
    leeway, cover = cut.opening.leeway.without_lap, cut.opening.cover
    if not cut.opening.opened or cover is None:
        return leeway
    return replace(leeway, under=(under_cover(cover, seen_from_cover(piece, cut)),))


def _how_often(opening: Opening, leeway: Leeway, part: float, give_or_take: float, style: Style) -> str:
    """How often it works out, how far it may come off, and what there is to spare.

    The chance is of `leeway`, until it shows; what there is to spare keeps the lap that its cover should have as well,
    so that both are said where they differ.
    """
    what = "goes over and stays covered" if opening.cover is not None else "goes over"
    have, until = say_spare(opening.you_may_be or 0.0, style), say_spare(leeway.least, style)
    room = f"you have {have} {'to spare' if have == 'nothing' else 'any way'}"
    if have != until:
        room += f" with the lap that its cover should have, {until} until it shows"
    return f"{in_words(part)} that it {what} (it may come {_said_up(give_or_take, style)} off, {room})"


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
    """A chance as it is said: "99.8 % sure", never more sure than it is.

    "998 times in 1000" was read as something to be done so often.
    """
    times = math.floor(part * WHOLE)
    if times >= WHOLE - 1:
        return f"over {_percent(WHOLE - 1)} sure"
    return f"{_percent(times)} sure" if times else f"under {_percent(1)} sure"


def _percent(times: int) -> str:
    return f"{times * 100 / WHOLE:g} %"
