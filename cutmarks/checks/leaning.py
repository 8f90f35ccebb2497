"""Rules about pipes that lean, alone and together: what the hole needs so that the tile can be pushed on."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import combinations
from typing import TYPE_CHECKING

from msgspec import Struct

from cutmarks.checks.model import Finding
from cutmarks.checks.pieces import listed
from cutmarks.geometry.shapes import Circle
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.limits import Limits
from cutmarks.locating.model import Located
from cutmarks.openings.model import CutPiece
from cutmarks.units import Style, say

if TYPE_CHECKING:
    from cutmarks.readings import PipeLean


def hole_needed(diameter: float, slope: float, thickness: float) -> float:
    """The least round hole, mm, that a leaning pipe goes through, in a tile `thickness` mm thick.

    Cut by the tile's face the pipe is an ellipse d / cos a long, and across the tile it wanders by t tan a.

    >>> round(hole_needed(15.0, 0.0875, 10.0), 3)
    15.932
    """
    return diameter * math.hypot(1.0, slope) + thickness * slope


class Leaning(Struct, frozen=True):
    """One pipe in one tile: how it wanders for each mm outward, and the play its hole leaves it, mm."""

    name: str
    across: float
    up: float
    play: float


def leaves_room(
    located: Sequence[Located], met: dict[str, list[CutPiece]], limits: Limits, style: Style
) -> Iterator[Finding]:
    """Every leaning pipe against its own hole, and all pipes of a piece against each other while it is pushed on."""
    leaning = {thing.spec.name: thing for thing in located if _lean(thing) is not None}
    for name, thing in leaning.items():
        lean = _lean(thing)
        assert lean is not None
        if lean.rise > 2.0 * limits.reading.value + TOUCH:
            yield from _own_hole(thing, lean, met.get(name, []), style)
    pieces = {piece.name: piece for name in leaning for piece in met.get(name, [])}
    for piece in pieces.values():
        yield from _together(piece, {thing.spec.name: thing for thing in located}, style)


def _lean(thing: Located) -> PipeLean | None:
    return thing.spec.leans if thing.diameter is not None else None


def _own_hole(thing: Located, lean: PipeLean, pieces: Sequence[CutPiece], style: Style) -> Iterator[Finding]:
    assert thing.diameter is not None
    name = thing.spec.name
    for piece in pieces:
        thickness = piece.piece.tile.thickness or 0.0
        needed = hole_needed(thing.diameter, lean.slope, thickness)
        opening = next(cut.opening for cut in piece.cuts if cut.opening.name == name)
        if not isinstance(opening.shape, Circle):
            continue
        said = f"{say(lean.rise, style)} in {say(lean.run, style)}"
        if needed > opening.shape.d + TOUCH:
            yield Finding(
                "stop",
                "leaning pipe does not go through",
                (piece.name, name),
                f"{name} leans {said}: through this tile it needs a hole of {say(needed, style)}, and this one is "
                f"{say(opening.shape.d, style)}. A bigger hole, or set the pipe true.",
                needed,
                opening.shape.d,
                "geometry",
            )
        else:
            off = 10.0 * lean.slope
            back = say(lean.out * lean.slope, style)
            where = (
                f"read {say(lean.out, style)} out, and taken {back} back to the tile's face"
                if lean.out
                else f"read it where the tile's face will be (each 10 further out is {say(off, style)} off)"
            )
            yield Finding(
                "warn",
                "pipe leans",
                (name,),
                f"{name} leans {said}: {where}. That takes {say(needed - thing.diameter, style)} of the room round it.",
                lean.rise,
                None,
                "geometry",
            )
        return


def _together(piece: CutPiece, located: dict[str, Located], style: Style) -> Iterator[Finding]:
    """Whether one place of the tile lets all its pipes through, over the stub that it has to pass."""
    things = [located[cut.opening.name] for cut in piece.cuts if cut.opening.name in located]
    stubs = [thing.spec.stub for thing in things if thing.spec.stub is not None]
    if len(things) < 2 or not stubs:
        return
    thickness = piece.piece.tile.thickness or 0.0
    out = max(stubs)
    pipes = []
    for cut in piece.cuts:
        thing = located.get(cut.opening.name)
        if thing is None or thing.diameter is None or not isinstance(cut.opening.shape, Circle):
            continue
        lean = thing.spec.leans
        across, up, slope = (0.0, 0.0, 0.0) if lean is None else (lean.across, lean.up, lean.slope)
        room = (cut.opening.shape.d - hole_needed(thing.diameter, slope, thickness)) / 2.0
        pipes.append(Leaning(cut.opening.name, across, up, max(room, 0.0)))
    if len(pipes) > 1 and not have_common_place(pipes, out):
        spread = max(out * math.hypot(a.across - b.across, a.up - b.up) for a, b in combinations(pipes, 2))
        play = sum(sorted(pipe.play for pipe in pipes)[:2])
        names = [pipe.name for pipe in pipes]
        yield Finding(
            "stop",
            "tile cannot be pushed on",
            (piece.name, *names),
            f"{piece.name}: at the end of the stubs ({say(out, style)} out) {listed(names)} are {say(spread, style)} "
            f"further apart or nearer than at the face, and their holes have {say(play, style)}. Bigger holes, shorter "
            "stubs, or set the pipes true.",
            spread,
            play,
            "geometry",
        )


def have_common_place(pipes: Sequence[Leaning], out: float) -> bool:
    """Whether the tile can sit somewhere, `out` mm from the face, so that every pipe stays within its play.

    Each pipe allows a disc of places, its own wandering as middle and its play as radius. Discs share a place only if
    one's middle, or a crossing of two of their circles, lies in all of them.
    """
    discs = [(pipe.across * out, pipe.up * out, pipe.play) for pipe in pipes]
    places = [(x, y) for x, y, _ in discs]
    for a, b in combinations(discs, 2):
        places += _crossings(a, b)
    return any(all(math.hypot(px - x, py - y) <= r + TOUCH for x, y, r in discs) for px, py in places)


def _crossings(a: tuple[float, float, float], b: tuple[float, float, float]) -> list[tuple[float, float]]:
    """Where two circles cross; the place between them where they only touch."""
    ax, ay, ar = a
    bx, by, br = b
    apart = math.hypot(bx - ax, by - ay)
    if apart <= TOUCH or apart > ar + br + TOUCH or apart < abs(ar - br) - TOUCH:
        return []
    along = (apart * apart + ar * ar - br * br) / (2.0 * apart)
    high = math.sqrt(max(ar * ar - along * along, 0.0))
    ux, uy = (bx - ax) / apart, (by - ay) / apart
    foot_x, foot_y = ax + along * ux, ay + along * uy
    return [(foot_x - high * uy, foot_y + high * ux), (foot_x + high * uy, foot_y - high * ux)]
