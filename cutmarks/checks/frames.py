"""Rules about tiles that go under a frame: whether they fit under it, and whether what is cut lets them be slid."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence

from cutmarks.checks.depth import build_up
from cutmarks.checks.limits import Limits
from cutmarks.checks.model import Finding
from cutmarks.checks.pieces import listed
from cutmarks.openings.model import CutPiece
from cutmarks.setout.model import OPPOSITE, SetOut, Side, Void
from cutmarks.units import Style, say

BESIDE = 0.01
"""A piece that was trimmed by a frame's outline lies against it to rounding, mm."""


def goes_under(setout: SetOut, pieces: Sequence[CutPiece], limits: Limits, style: Style) -> Iterator[Finding]:
    """Frames that are cut off above the floor: tile and bed with a little air have to go under.

    A tile that is slid under cannot at the same time go straight down over a pipe: its hole has to be a slot.
    """
    sides: dict[str, set[Side]] = defaultdict(set)
    for void in setout.voids:
        if void.undercut is None:
            continue
        under = [piece for piece in pieces if piece.piece.surface == setout.name and _lies_against(piece, void)]
        yield from _too_low(void, void.undercut, under, limits, style)
        for piece in under:
            sides[piece.name].add(_towards(piece, void))
            closed = [cut.opening.name for cut in piece.cuts if cut.kind == "hole" and not cut.opening.opened]
            if closed:
                side = _towards(piece, void)
                yield Finding(
                    "warn",
                    "cannot be slid under",
                    (piece.name, *closed),
                    f"{piece.name} is slid under {void.kind} {void.name}, and cannot go straight over "
                    f"{listed(closed)}. Write how far it goes under, as in slot: 12 towards the {side}.",
                    None,
                    None,
                    "geometry",
                )

    caught = [name for name, own in sides.items() if any(OPPOSITE[side] in own for side in own)]
    if caught:
        yield Finding(
            "stop",
            "cannot be got in",
            tuple(caught),
            f"{listed(caught)}: under a frame on both sides, it can be slid under neither. Cut one leg free down to "
            "the floor, or part the tile between them.",
            None,
            None,
            "geometry",
        )


def _too_low(void: Void, undercut: float, under: Sequence[CutPiece], limits: Limits, style: Style) -> Iterator[Finding]:
    for tile in dict.fromkeys(piece.piece.tile for piece in under):
        built = build_up("board", tile, None, limits)
        if built is None:
            continue
        needed = built.total + limits.under_frame.value
        if undercut < needed:
            names = [piece.name for piece in under if piece.piece.tile == tile]
            yield Finding(
                "stop",
                "frame too low",
                tuple(names),
                f"{listed(names)} cannot go under {void.kind} {void.name}: {say(undercut, style)} is free, and "
                f"{built.said(style)} + {say(limits.under_frame.value, style)} of air is {say(needed, style)}. Cut the "
                "frame higher.",
                undercut,
                needed,
                limits.under_frame.source,
            )


def _lies_against(piece: CutPiece, void: Void) -> bool:
    """Whether a frame trimmed this piece."""
    if not piece.piece.trimmed:
        return False
    on_tile = void.ring.moved(piece.piece.tile_at.inverse())
    return piece.piece.outline.bounds.overlaps(on_tile.bounds, BESIDE)


def _towards(piece: CutPiece, void: Void) -> Side:
    """The side of the tile on which the frame lies, by the two middles."""
    own, frame = piece.piece.outline.bounds, void.ring.moved(piece.piece.tile_at.inverse()).bounds
    dx = (frame.min_x + frame.max_x - own.min_x - own.max_x) / 2.0
    dy = (frame.min_y + frame.max_y - own.min_y - own.max_y) / 2.0
    if abs(dx) >= abs(dy):
        return "right" if dx > 0.0 else "left"
    return "top" if dy > 0.0 else "bottom"
