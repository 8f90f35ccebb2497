"""Rules about what came back from the wall: a hole that moves, alone or too far, sides that disagree."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from cutmarks.checks.holes import two_sides
from cutmarks.checks.model import Finding
from cutmarks.checks.pieces import listed
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.openings.found import AsFound, ReadBack
from cutmarks.openings.model import CutPiece
from cutmarks.units import Style, say

if TYPE_CHECKING:
    from cutmarks.limits import Limits

_AWAY = {"left": "right", "right": "left", "bottom": "up", "top": "down"}
"""Away from the neighbour on a side."""
_TOWARDS = {"left": "left", "right": "right", "bottom": "down", "top": "up"}


def come_back(found: Sequence[AsFound], cut: Sequence[CutPiece], limits: Limits, style: Style) -> Iterator[Finding]:
    """Every rule, record by record."""
    spare = {(piece.name, one.opening.name): one.opening.you_may_be for piece in cut for one in piece.cuts}
    for one in found:
        yield from too_far(one, spare.get((one.piece, one.hole)), limits, style)
        yield from sides_disagree(one, spare.get((one.piece, one.hole)), limits, style)
        yield from is_corrected(one, style)
    for piece in cut:
        yield from moved_alone(piece, found, style)


def moved_alone(piece: CutPiece, found: Sequence[AsFound], style: Style) -> Iterator[Finding]:
    """A hole was found off, and nobody read the others of its tile: where the tile crept, they are off as well."""
    mine = {one.hole: one for one in found if one.piece == piece.name}
    moved = [one for one in mine.values() if one.moved]
    unread = [
        cut.opening.name
        for cut in piece.cuts
        if cut.wall_checks and not ((one := mine.get(cut.opening.name)) is not None and (one.reads or one.cut))
    ]
    if moved and unread:
        off = listed([f"{one.hole} was found {say(math.hypot(*one.differs), style)} off" for one in moved])
        yield Finding(
            "warn",
            "found off alone",
            (piece.name, *unread),
            f"{off}: read {listed(unread)} in {piece.name} too, before it is cut.",
        )


def too_far(one: AsFound, spare: float | None, limits: Limits, style: Style) -> Iterator[Finding]:
    """A shift over half of what the hole may be off is no creeping of the tiles: something was read wrong."""
    if spare is None:
        return
    off, limit = math.hypot(*one.differs), limits.shift_part.value * spare
    if one.moved and off > limit + TOUCH:
        yield Finding(
            "stop",
            "found too far",
            (one.piece, one.hole),
            too_far_words(one.hole, one.piece, say(off, style), say(limit, style)),
            off,
            limit,
            limits.shift_part.source,
        )


SAY_WHY = "say why under accept: in the job file"
"""What is done about it where the job is a file; a page that has a button for it says so instead."""


def too_far_words(hole: str, piece: str, off: str, limit: str) -> str:
    """That a hole was found further off than tiles creep."""
    return (
        f"{hole} in {piece} was found {off} off, over {limit}: read it again, then look at the line and at the first "
        f"reading. If it is so, {SAY_WHY}."
    )


def disagree_words(hole: str, piece: str, found: str, wide: str) -> str:
    """That the two sides of a thing were not found as far apart as it is wide."""
    return f"{hole} in {piece}: its two sides were found {found} apart, and it is {wide}: read it again, edge to edge."


def sides_disagree(one: AsFound, spare: float | None, limits: Limits, style: Style) -> Iterator[Finding]:
    """The two sides found are as far apart as they were expected to be.

    One of them is read wrong where they are not, and the middle is out by half of it: over what the hole may be off,
    that stops.
    """
    limit = two_sides(limits, style)
    for read in one.reads:
        wide, found = read.expected[1] - read.expected[0], read.found[1] - read.found[0]
        if abs(wide - found) > limit.value + TOUCH:
            yield Finding(
                "stop" if spare is not None and abs(wide - found) / 2 > spare + TOUCH else "warn",
                "found disagrees",
                (one.piece, one.hole),
                disagree_words(one.hole, one.piece, say(found, style), say(wide, style)),
                abs(wide - found),
                limit.value,
                limit.source,
            )


def is_corrected(one: AsFound, style: Style) -> Iterator[Finding]:
    """The sheet was made anew: never slide it by the same figure again."""
    words = corrected_words(one, style)
    if words:
        yield Finding("note", "corrected", (one.piece, one.hole), f"{one.hole} in {one.piece}: {words}")


def corrected_words(one: AsFound, style: Style) -> str:
    """What was done to the sheet, and that it is another now, or that it was cut so; empty where nothing was done."""
    parts = list(filter(None, (moved_words(one, style),)))
    if one.tile is not None:
        parts.append(f"This very tile is {say(one.tile[0], style)} x {say(one.tile[1], style)}")
    if not parts:
        return ""
    return f"{'. '.join(parts)}. {cut_words(one) or 'Use the sheet with the new fingerprint.'}"


def cut_words(one: AsFound) -> str:
    """That it was cut, and when; empty where it was not."""
    day = f" on {one.date}" if one.date else ""
    return f"It was cut so{day}." if one.cut else ""


def moved_words(one: AsFound, style: Style) -> str:
    """What was done, so that it is not done again: "corrected 1 right; now expect 70 and 85 from the left".

    Once it is cut nothing more is expected.
    """
    if one.cut:
        return shift_words(one, style)
    expect = []
    for read in _shifts(one):
        middle, half = sum(read.found) / 2, (read.expected[1] - read.expected[0]) / 2
        expect.append(f"{say(middle - half, style)} and {say(middle + half, style)} from the {read.side}")
    return f"{shift_words(one, style)}; now expect {', '.join(expect)}" if expect else ""


def shift_words(one: AsFound, style: Style) -> str:
    """By how much the hole was moved: "corrected 1 right, 2 up"; empty where it was not."""
    ways = [
        f"{say(abs(read.away), style)} {_AWAY[read.side] if read.away > 0 else _TOWARDS[read.side]}"
        for read in _shifts(one)
    ]
    return f"corrected {', '.join(ways)}" if ways else ""


def _shifts(one: AsFound) -> list[ReadBack]:
    """What was read that moved the hole."""
    return [read for read in one.reads if abs(read.away) > TOUCH] if one.moved else []
