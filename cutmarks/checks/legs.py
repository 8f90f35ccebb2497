"""Rules about legs and strips: what lies between any two facing edges of a piece, beside windows and cuts alike."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from itertools import product

from cutmarks.checks.bridges import bridge_of
from cutmarks.checks.model import Finding
from cutmarks.checks.pieces import listed
from cutmarks.geometry.edges import Segment
from cutmarks.geometry.frames import Point, Tile
from cutmarks.geometry.regions import Region, contains, upright_box
from cutmarks.geometry.rings import edges
from cutmarks.geometry.thickness import thinnest
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.limits import Limits
from cutmarks.openings.model import Cut, CutPiece
from cutmarks.units import Style, say


def thin_legs(pieces: Sequence[CutPiece], kinds: Mapping[str, str], limits: Limits, style: Style) -> Iterator[Finding]:
    """A leg between any two facing edges of a piece: beside a window, niche or door, between cuts, behind a notch."""
    legs: dict[tuple[float, float, str], list[str]] = defaultdict(list)
    for piece in pieces:
        if not _has_legs(piece) or (limits.same_bridge.value <= 1.0 and _has_only_webs(piece)):
            continue
        bridge = bridge_of(piece.piece.tile, kinds[piece.piece.surface], limits)
        said = min((web for cut in piece.cuts if (web := cut.web.nearest) is not None), default=float("inf"))
        found = thinnest(piece.outline, min(bridge.least_look - TOUCH, said * limits.same_bridge.value))
        if found is None:
            continue
        legs[round(found.distance, 3), bridge.least_look, bridge.look.source].append(piece.name)
    for (leg, limit, source), names in legs.items():
        yield Finding(
            "warn",
            "thin leg",
            tuple(names),
            f"{listed(names)}: a leg of only {say(leg, style)} (under {say(limit, style)} it may crack). Hole first, "
            "while the tile is whole, then the straight cuts; carry it flat.",
            leg,
            limit,
            source,
        )


def _has_legs(piece: CutPiece) -> bool:
    """Whether a piece is more than a trimmed rectangle: something was cut in it, or it has a corner turned in."""
    corners = sum(len(ring.vertices) for ring in piece.outline.rings)
    return bool(piece.cuts) or len(piece.outline.rings) > 1 or corners > 4


def _has_only_webs(piece: CutPiece) -> bool:
    """Whether a piece is a rectangle with one round hole: its least web is then the thinnest that there is of it."""
    if len(piece.cuts) != 1 or upright_box(piece.piece.outline) is None:
        return False
    (cut,) = piece.cuts
    return cut.kind == "hole" and cut.web.nearest is not None and len(piece.outline.rings) == 2 and _is_disc(cut)


def _is_disc(cut: Cut) -> bool:
    return len(cut.share.rings) == 1 and cut.share.rings[0].disc is not None


def long_strips(
    pieces: Sequence[CutPiece], kinds: Mapping[str, str], limits: Limits, style: Style
) -> Iterator[Finding]:
    """A strip between two facing edges that is longer than five times its width; one that stops has been said."""
    strips: dict[tuple[float, float], list[str]] = defaultdict(list)
    for piece in pieces:
        if not _has_legs(piece) or _has_only_webs(piece):
            continue
        stop = bridge_of(piece.piece.tile, kinds[piece.piece.surface], limits).least_stop
        found = [strip for strip in _strips(piece.outline) if strip[0] >= stop]
        wide, long = max(found, key=lambda strip: strip[1] / strip[0], default=(1.0, 0.0))
        if long > limits.leg_times.value * wide + TOUCH:
            strips[round(wide, 3), round(long, 3)].append(piece.name)
    for (wide, long), names in strips.items():
        yield Finding(
            "warn",
            "long strip",
            tuple(names),
            f"{listed(names)}: a strip {say(wide, style)} wide is {say(long, style)} long, over "
            f"{limits.leg_times.value:g} times: it snaps when the tile is lifted. Carry it flat, and cut it last.",
            long / wide,
            limits.leg_times.value,
            limits.leg_times.source,
        )


def _strips(shape: Region[Tile]) -> Iterator[tuple[float, float]]:
    """Width and length, mm, of what lies between two straight edges that face each other along the tile's own sides.

    A piece is no strip of its own: what is as wide as the whole piece is left out.
    """
    box = shape.bounds
    sides = [edge for ring in shape.rings for edge in edges(ring) if isinstance(edge, Segment)]
    for axis, whole in ((0, box.height), (1, box.width)):
        # Counter-clockwise: the lower one of two level edges runs to the right, the right one of two upright ones up.
        along = [edge for edge in sides if abs(edge[1 - axis] - edge[3 - axis]) <= TOUCH]
        forth = [edge for edge in along if edge[axis + 2] > edge[axis]]
        back = [edge for edge in along if edge[axis + 2] < edge[axis]]
        for one, other in product(forth, back):
            wide = other[1 - axis] - one[1 - axis] if axis == 0 else one[1 - axis] - other[1 - axis]
            low, high = max(one[axis], other[axis + 2]), min(one[axis + 2], other[axis])
            if not TOUCH < wide < whole - TOUCH or high - low <= TOUCH:
                continue
            level, middle = (one[1 - axis] + other[1 - axis]) / 2.0, (low + high) / 2.0
            if contains(shape, Point(middle, level) if axis == 0 else Point(level, middle)):
                yield wide, high - low
