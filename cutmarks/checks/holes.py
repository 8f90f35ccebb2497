"""Rules about one hole: its size as read, what goes through it, what hides it, where it lands."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Literal

from cutmarks.checks.model import Finding
from cutmarks.checks.notches import is_hidden
from cutmarks.checks.opened import NEAR, hidden
from cutmarks.checks.pieces import listed
from cutmarks.fittings import pipes_near
from cutmarks.geometry.regions import contains, intersection, region
from cutmarks.geometry.rings import as_circle
from cutmarks.geometry.shapes import Circle, ring_of
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.limits import Limit, Limits
from cutmarks.locating.model import Located
from cutmarks.openings.model import CutPiece, Opening
from cutmarks.setout.model import SetOut
from cutmarks.sides import SIDES
from cutmarks.units import Style, Unit, say

SIDES_DISAGREE = "readings disagree"
"""The rule of a round thing whose two sides are not as far apart as it is wide."""


def two_sides(limits: Limits, style: Style) -> Limit:
    """By how much two sides may be further or less apart than the thing is wide, in the job's own measure."""
    return limits.derived_inch if style.unit is Unit.INCH else limits.derived_mm


def readings_disagree(located: Located, opening: Opening, limits: Limits, style: Style) -> Iterator[Finding]:
    """A round thing's two sides must be its diameter apart, on both axes alike, and by each tape held to both.

    One of them is read wrong where they are not, and the middle is out by half of it: over what the hole may be off,
    that stops.
    """
    if located.diameter is None or not isinstance(located.thing, Circle):
        return
    limit = two_sides(limits, style)
    spare, what = opening.you_may_be, located.spec.what or "it"
    reads = [
        (f"its two sides {axis} are", "apart", wide) for axis, wide in zip(("across", "up"), located.read, strict=True)
    ]
    reads += [(f'"{taken.text}" is', "from side to side", taken.sides) for taken in located.spec.readings]
    for said, apart, read in reads:
        if read is None or abs(read - located.diameter) <= limit.value + TOUCH:
            continue
        yield Finding(
            "stop" if spare is not None and abs(read - located.diameter) / 2 > spare + TOUCH else "warn",
            SIDES_DISAGREE,
            (located.spec.name,),
            f"{located.spec.name}: {said} {say(read, style)} {apart}, but {what} is {say(located.diameter, style)}: "
            "read it again, edge to edge.",
            abs(read - located.diameter),
            limit.value,
            limit.source,
        )


def unnamed_pipe(located: Located, words: Literal["uk", "us"], limits: Limits, style: Style) -> Iterator[Finding]:
    """A round thing of which nobody said what it is: what the catalogue has of that diameter, or that it has none."""
    spec = located.spec
    if spec.what or spec.diameter is not None or located.diameter is None or not isinstance(located.thing, Circle):
        return
    limit = two_sides(limits, style)
    near = pipes_near(located.diameter, words, limit.value)
    read = say(located.diameter, style)
    if near:
        known = listed(list(dict.fromkeys(f"{one.label} {one.family} ({say(one.od or 0.0, style)})" for one in near)))
        text = f"{spec.name}: its two sides are {read} apart, as of {known}. Write what: with the one that it is."
        yield Finding("note", "kind not said", (spec.name,), text, located.diameter, limit.value, limit.source)
    else:
        text = f"{spec.name}: its two sides are {read} apart, and no pipe that is known measures so. Read it again."
        yield Finding("warn", "kind not said", (spec.name,), text, located.diameter, limit.value, limit.source)


def size_not_known(opening: Opening, style: Style) -> Iterator[Finding]:
    """Of a thing that has a place and a cover, and no size, no hole can be cut."""
    if not opening.waits:
        return
    yield Finding(
        "stop",
        "size not known",
        (opening.name,),
        f"{opening.name}: its place and its cover are known, and not how big it is: read both its sides, or write "
        f"what: with the pipe that it is, or opening: with the maker's hole (its cover hides one of "
        f"{say(opening.ring.bounds.width, style)} at most). Nothing is cut for it until then.",
        source="the job says no size",
    )


def goes_through(opening: Opening, limits: Limits, style: Style) -> Iterator[Finding]:
    """The opening must hold the thing."""
    if _round_in_round(opening):
        return
    thing = region(opening.thing)
    outside = thing.area - intersection(thing, region(opening.ring)).area
    if outside > TOUCH:
        yield Finding(
            "stop",
            "does not go through",
            (opening.name,),
            f"{opening.name}: the opening does not hold it. Write a bigger opening, or read it again.",
            outside,
            0.0,
            "geometry",
        )


def _round_in_round(opening: Opening) -> bool:
    """Whether a whole round thing lies in a whole round hole, which two radii tell."""
    thing, hole = as_circle(opening.thing), as_circle(opening.ring)
    if thing is None or hole is None:
        return False
    (at, radius), (middle, room) = thing, hole
    return math.hypot(at.x - middle.x, at.y - middle.y) + radius <= room


def is_covered(opening: Opening, pieces: Sequence[CutPiece], limits: Limits, style: Style) -> Iterator[Finding]:
    """What hides the opening must lap past it: past all of a closed hole, past what an opened one cuts off `pieces`."""
    if opening.cover is None:
        return
    lap = hidden(opening, pieces).lap if opening.opened else opening.leeway.laps
    remedy = "A smaller hole or a bigger cover."
    if opening.opened:
        remedy = "A bigger cover." if opening.slide is not None else "A bigger cover, or leave it closed."
    limit = limits.lap if opening.cover.round else limits.box_lap
    if lap < 0:
        yield Finding(
            "stop",
            "shows past its cover",
            (opening.name,),
            f"{opening.name}: the hole shows {say(-lap, style)} past its cover. {remedy}",
            lap,
            0.0,
            "geometry",
        )
    elif lap < limit.value - (NEAR if opening.opened else TOUCH):
        yield Finding(
            "warn",
            "cover laps little",
            (opening.name,),
            f"{opening.name}: its cover laps only {say(lap, style)} past the hole (wanted {say(limit.value, style)}).",
            lap,
            limit.value,
            limit.source,
        )


def runs_on(opening: Opening, pieces: Sequence[CutPiece], limits: Limits) -> Iterator[Finding]:
    """A pipe whose end stays connected cannot take a tile with a closed hole: a hidden slot, else a parted tile."""
    if opening.end != "runs on":
        return
    for piece in pieces:
        for cut in piece.cuts:
            if cut.opening.name != opening.name or cut.kind != "hole":
                continue
            sides = [side for side in SIDES if is_hidden((side,), piece, cut, limits)]
            remedy = (
                f"Its cover hides a slot: write slot: towards the {sides[0]}."
                if sides
                else "No slot would be hidden: take the pipe off, a bigger cover, or, as a last resort, part the tile "
                "through the hole."
            )
            yield Finding(
                "warn",
                "cannot be put on",
                (opening.name,),
                f"{opening.name} runs on: {piece.name} with a closed hole cannot be pushed over it. {remedy}",
                None,
                None,
                "geometry; ANSI A108 forbids parting a tile where there is another way",
            )


def slot_runs_over(opening: Opening, pieces: Sequence[CutPiece], style: Style) -> Iterator[Finding]:
    """A slot to slide that runs out of its own tile and into one that the hole itself does not meet."""
    if opening.slide is None or opening.closed is None:
        return
    hole = region(ring_of(opening.closed, opening.at))
    met = [piece for piece in pieces if any(cut.opening.name == opening.name for cut in piece.cuts)]
    over = [
        piece.name
        for piece in met
        if intersection(piece.piece.outline, hole.moved(piece.piece.tile_at.inverse())).area <= TOUCH
    ]
    if over and len(over) < len(met):
        side = opening.opened[0]
        yield Finding(
            "warn",
            "slot runs over",
            (opening.name, *over),
            f"{opening.name}: its slot of {say(opening.slide, style)} towards the {side} runs out of its tile and "
            f"cuts into {listed(over)}, where nothing comes through. Write slot: towards the {side}, which ends in the "
            "joint.",
            None,
            None,
            "geometry",
        )


def stays_closed(located: Located, opening: Opening) -> Iterator[Finding]:
    """A slot that was asked for and could not be drawn: told, since the tile would be cut without it."""
    if located.spec.open_towards is not None and not opening.opened:
        yield Finding(
            "stop",
            "slot not drawn",
            (opening.name,),
            f"{opening.name}: a slot towards the {located.spec.open_towards} was asked for, but its middle lies on no "
            "tile, or it is an outline of its own. Write the whole cut by its corners, as its outline.",
            None,
            None,
            "the job",
        )


def takes_whole_tiles(opening: Opening, taken: Sequence[str]) -> Iterator[Finding]:
    """Where nothing of a tile is left, no piece is fixed and none is cut: the count has it, no list does."""
    if taken:
        yield Finding(
            "note",
            "whole tile taken",
            (opening.name, *taken),
            f"{opening.name} takes all of {', '.join(taken)}: no piece is fixed there.",
            None,
            None,
            "geometry",
        )


def lands_nowhere(
    opening: Opening, pieces: Sequence[CutPiece], taken: Sequence[str], setout: SetOut
) -> Iterator[Finding]:
    """On no tile: somebody measured it, and it is to come through one; in a window, a reading is wrong."""
    if pieces or taken:
        return
    void = next((void for void in setout.voids if contains(region(void.measured), opening.at)), None)
    if void is None:
        said = f"{opening.name} meets no tile on {setout.name}: nothing is cut for it. Read again where it is."
    else:
        said = f"{opening.name} lies in {void.called}, where there is no tile: read again where it is."
    yield Finding("warn", "on no tile", (opening.name,), said)


def in_keep_out(opening: Opening, setout: SetOut) -> Iterator[Finding]:
    """Nothing is drilled in a strip that was marked so."""
    ring = region(opening.ring)
    for keep_out in setout.keep_outs:
        if not intersection(ring, region(keep_out.ring)).is_empty:
            why = f" ({keep_out.why})" if keep_out.why else ""
            yield Finding(
                "stop",
                "do not drill",
                (opening.name,),
                f"{opening.name} lies in {keep_out.name}{why}, where nothing is to be drilled.",
                None,
                None,
                "the job",
            )


def off_the_surface(opening: Opening, setout: SetOut) -> bool:
    """Whether the thing lies wholly outside the bare surface."""
    return intersection(region(opening.thing), setout.bare).is_empty


def where_words(opening: Opening, setout: SetOut, style: Style) -> str:
    """Where a thing's middle is from the crossing of the lines: "1819½ left of and 320 above where the lines cross"."""
    x, y = opening.at.x, opening.at.y
    onward, back = ("above", "below") if setout.kind == "wall" else ("past", "short of")
    across = f"{say(abs(x), style)} {'right' if x >= 0 else 'left'} of"
    return f"{across} and {say(abs(y), style)} {onward if y >= 0 else back} where the lines cross"
