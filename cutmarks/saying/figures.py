"""Measures as they stand on paper."""

from __future__ import annotations

from cutmarks.geometry.frames import Tile
from cutmarks.geometry.regions import Region
from cutmarks.geometry.rings import Vertex, edges
from cutmarks.openings.model import Cut, CutPiece, Opening
from cutmarks.openings.outlines import nearly_facing
from cutmarks.saying.measures import shown, whole
from cutmarks.sides import Side
from cutmarks.units import Style, say, say_down, say_spare, say_sum

NEARLY = 2e-6
"""A size this little under a step, mm, is that step: each of its two ends may be out by the kernel's own rounding."""
ROUND: list[Side | None] = [Side.BOTTOM, Side.RIGHT, Side.TOP, Side.LEFT]
"""The sides as they follow one another round an outline."""


def size(w: float, h: float, style: Style) -> str:
    """A size, across x up, to the nearest step: "297 x 597"."""
    return f"{say(w, style)} x {say(h, style)}"


def four_measures(cut: Cut, piece: CutPiece, style: Style) -> dict[Side, str]:
    """The centre's measures from left, right, bottom and top of the whole tile, as shown: each pair adds up.

    The measure from the nearer factory edge keeps its own rounding (left and bottom on a tie).
    """
    left, right = _pair(cut.from_edges.left, Side.LEFT, piece, style)
    bottom, top = _pair(cut.from_edges.bottom, Side.BOTTOM, piece, style)
    return {Side.LEFT: left, Side.RIGHT: right, Side.BOTTOM: bottom, Side.TOP: top}


def _pair(value: float, side: Side, piece: CutPiece, style: Style) -> tuple[str, str]:
    size = whole(piece, side)
    if 0.0 <= value <= size:
        return shown(value, side, piece, style)
    out = -value if value < 0.0 else value - size
    other = say_sum(size, out, style)
    return (f"{say(out, style)} outside", other) if value < 0.0 else (other, f"{say(out, style)} outside")


def trimmed_size(piece: CutPiece, style: Style, two_sizes: float) -> list[str]:
    """The sizes of a piece that has to go in, rounded down; one line for each where it has two that way.

    It has two where its ends differ by `two_sizes`, mm. A piece of `four_corners` is measured along its lower and
    upper, left and right edge, from corner to corner, level and plumb; any other is told over all.
    """
    shape = trimmed_outline(piece)
    corners = four_corners(shape)
    if corners is None:
        bounds = shape.bounds
        return [f"{goes_in(bounds.width, style)} x {goes_in(bounds.height, style)} over all"]
    wide, high = _ends(corners)
    across = _two(wide, ("at the bottom", "at the top"), style, two_sizes)
    up = _two(high, ("at the left", "at the right"), style, two_sizes)
    if len(across) == len(up) == 1:
        return [f"{across[0]} x {up[0]}"]
    return [*(across if len(across) > 1 else [f"{across[0]} wide"]), *(up if len(up) > 1 else [f"{up[0]} high"])]


def goes_in(mm: float, style: Style) -> str:
    """A size read off an outline that has to go in, rounded down; within `NEARLY` of a step it is that step."""
    return say_down(mm + NEARLY, style)


def trimmed_outline(piece: CutPiece) -> Region[Tile]:
    """What trimming leaves, before anything is cut in it; of a part of a parted piece its finished outline."""
    return piece.piece.outline if piece.part is None else piece.outline


def four_corners(shape: Region[Tile]) -> tuple[Vertex, Vertex, Vertex, Vertex] | None:
    """Bottom left, bottom right, top right and top left of an outline of four straight sides; else None.

    Two of them are within `RAKE` degrees of level, two of plumb.
    """
    if len(shape.rings) != 1:
        return None
    vertices = shape.rings[0].vertices
    faces = [nearly_facing(edge) for edge in edges(shape.rings[0])]
    if len(vertices) != len(ROUND) or "bottom" not in faces:
        return None
    first = faces.index(Side.BOTTOM)
    if faces[first:] + faces[:first] != ROUND:
        return None
    bottom_left, bottom_right, top_right, top_left = vertices[first:] + vertices[:first]
    return bottom_left, bottom_right, top_right, top_left


def goes_in_both_ways(piece: CutPiece) -> tuple[float, float]:
    """How wide and how high a piece is at the least, mm: at the smaller of its two ends, else over all."""
    shape = trimmed_outline(piece)
    corners = four_corners(shape)
    if corners is None:
        return shape.bounds.width, shape.bounds.height
    wide, high = _ends(corners)
    return min(wide), min(high)


def _ends(corners: tuple[Vertex, Vertex, Vertex, Vertex]) -> tuple[tuple[float, float], tuple[float, float]]:
    """How wide it is at the bottom and at the top, how high at the left and at the right."""
    (bottom_left, bottom_right, top_right, top_left) = corners
    return (
        (bottom_right.x - bottom_left.x, top_right.x - top_left.x),
        (top_left.y - bottom_left.y, top_right.y - bottom_right.y),
    )


def _two(ends: tuple[float, float], at: tuple[str, str], style: Style, apart: float) -> list[str]:
    """The size at both ends where they differ by `apart`, else the smaller one."""
    if abs(ends[0] - ends[1]) < apart:
        return [goes_in(min(ends), style)]
    return [f"{goes_in(end, style)} {where}" for end, where in zip(ends, at, strict=True)]


def may_be_words(opening: Opening, style: Style) -> str:
    """How far off any way it may be: "you may be 9½ any way"; "" where it is not known."""
    if opening.you_may_be is None:
        return ""
    spare = say_spare(opening.you_may_be, style)
    return "nothing to spare: dead on" if spare == "nothing" else f"you may be {spare} any way"


def cover_words(opening: Opening, style: Style) -> str:
    """What hides the opening: its size, "none", or "?" where it is not known."""
    cover = opening.cover
    if cover is None:
        return "none" if opening.cover_known else "?"
    return say(cover.w, style) if cover.round else size(cover.w, cover.h, style)
