"""What is done to a piece, in words: how it is trimmed, which edges are whose, what is cut in it."""

from __future__ import annotations

from itertools import pairwise

from cutmarks.geometry.frames import Tile
from cutmarks.geometry.regions import Region
from cutmarks.geometry.rings import Ring, Vertex, edges
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.limits import LIMITS
from cutmarks.openings.model import Cut, CutPiece
from cutmarks.openings.outlines import maker_side
from cutmarks.saying.figures import four_corners, goes_in, trimmed_outline
from cutmarks.sides import SIDES
from cutmarks.units import Style, say

L_CORNERS, U_CORNERS = 6, 8
_BY_CORNERS = "corners"
DRAWN = "an outline of its own: see its sheet"
MOST_CORNERS = 12
"""An outline with more corners is read from the template or the DXF, not from a list."""


def shape_words(
    piece: CutPiece, style: Style, small_step: float = LIMITS.small_step.value, *, drawn: bool = False
) -> str:
    """How a trimmed outline differs from a rectangle: an L cut, a U cut, or its corners one by one; "" for none.

    Figures are from the edges of the whole tile. What has to go in is rounded down. A step of less than `small_step` mm
    is cut straight. Where the outline is `drawn` on a sheet its corners are no longer told one by one.
    """
    words = _shape_words(piece, style, small_step)
    return DRAWN if drawn and words.startswith(_BY_CORNERS) else words


def _shape_words(piece: CutPiece, style: Style, small_step: float) -> str:
    outline = trimmed_outline(piece)
    if four_corners(outline) is not None:
        return ""
    if len(outline.rings) != 1:
        return _corners(outline, style)
    ring = outline.rings[0]
    count = len(ring.vertices)
    if _upright(ring) and count == L_CORNERS:
        return _step(ring, style, small_step) or _l_cut(ring, piece, style)
    if _upright(ring) and count == U_CORNERS:
        return _u_cut(ring, style) or _corners(outline, style)
    return _corners(outline, style)


def shape_in_short(piece: CutPiece, style: Style, small_step: float = LIMITS.small_step.value) -> str:
    """The same without its figures: "L cut, the top right corner goes"; "" for a rectangle."""
    kind = shape_words(piece, style, small_step).partition(":")[0]
    return "by its corners, see the job sheet" if kind.startswith(_BY_CORNERS) else kind


def _bent(ring: Ring[Tile]) -> bool:
    return any(vertex.bulge for vertex in ring.vertices)


def _upright(ring: Ring[Tile]) -> bool:
    """Whether every side is straight and runs along one of the tile's own sides."""
    corners = (*ring.vertices, ring.vertices[0])
    return not _bent(ring) and all(abs(a.x - b.x) <= TOUCH or abs(a.y - b.y) <= TOUCH for a, b in pairwise(corners))


def _inner(ring: Ring[Tile]) -> list[Vertex]:
    """The corners that point into the piece (where a counter-clockwise ring turns right)."""
    vertices = ring.vertices
    found = []
    for index, here in enumerate(vertices):
        before, after = vertices[index - 1], vertices[(index + 1) % len(vertices)]
        turn = (here.x - before.x) * (after.y - here.y) - (here.y - before.y) * (after.x - here.x)
        if turn < -TOUCH:
            found.append(here)
    return found


def _step(ring: Ring[Tile], style: Style, small: float) -> str:
    """What is done about a step too small to be cut as one; "" for an L cut."""
    (corner,) = _inner(ring)
    box = ring.bounds
    deep, high = (min(corner.x - box.min_x, box.max_x - corner.x), min(corner.y - box.min_y, box.max_y - corner.y))
    if min(deep, high) >= small:
        return ""
    size = f"{goes_in(box.width - deep, style)} wide" if deep < high else f"{goes_in(box.height - high, style)} high"
    return f"a step of {say(min(deep, high), style)}: cut it straight, {size}, and the joint takes up the rest"


def _l_cut(ring: Ring[Tile], piece: CutPiece, style: Style) -> str:
    (corner,) = _inner(ring)
    bounds = ring.bounds
    at = {(vertex.x, vertex.y) for vertex in ring.vertices}
    right = (bounds.max_x, bounds.max_y) not in at or (bounds.max_x, bounds.min_y) not in at
    top = (bounds.max_x, bounds.max_y) not in at or (bounds.min_x, bounds.max_y) not in at
    across = corner.x - bounds.min_x if right else bounds.max_x - corner.x
    up = corner.y - bounds.min_y if top else bounds.max_y - corner.y
    side, level = ("left" if right else "right"), ("lower" if top else "upper")
    gone = f"{'top' if top else 'bottom'} {'right' if right else 'left'}"
    return (
        f"L cut, the {gone} corner goes: {goes_in(across, style)} stays from the {_edge(side, piece)} edge, "
        f"{goes_in(up, style)} from the {_edge(level, piece)} edge"
    )


def _edge(side: str, piece: CutPiece) -> str:
    """The side's name; a cut edge has to say that it is one."""
    named = {"lower": "bottom", "upper": "top"}.get(side, side)
    return f"{side} (cut)" if named in piece.cut_edges and named not in piece.factory_edges else side


def _u_cut(ring: Ring[Tile], style: Style) -> str:
    """A notch in the middle of a side; "" where the two inner corners are not one notch."""
    inner = _inner(ring)
    if len(inner) != 2:
        return ""
    (a, b), bounds = sorted(inner, key=lambda corner: (corner.x, corner.y)), ring.bounds
    if abs(a.y - b.y) <= TOUCH and abs(a.x - b.x) > TOUCH:
        opens_up = any(abs(v.x - a.x) <= TOUCH and v.y > a.y + TOUCH for v in ring.vertices)
        depth = a.y - bounds.min_y if opens_up else bounds.max_y - a.y
        return (
            f"U cut in the {'top' if opens_up else 'bottom'}: {goes_in(a.x - bounds.min_x, style)} stays on the left, "
            f"{goes_in(bounds.max_x - b.x, style)} on the right, {goes_in(depth, style)} "
            f"{'below' if opens_up else 'above'} it"
        )
    if abs(a.x - b.x) <= TOUCH:
        opens_right = any(abs(v.y - a.y) <= TOUCH and v.x > a.x + TOUCH for v in ring.vertices)
        depth = a.x - bounds.min_x if opens_right else bounds.max_x - a.x
        return (
            f"U cut in the {'right' if opens_right else 'left'} side: {goes_in(a.y - bounds.min_y, style)} stays "
            f"below, {goes_in(bounds.max_y - b.y, style)} above, {goes_in(depth, style)} beside it"
        )
    return ""


def _corners(outline: Region[Tile], style: Style) -> str:
    vertices = [vertex for ring in outline.rings for vertex in ring.vertices]
    if len(vertices) > MOST_CORNERS or any(vertex.bulge for vertex in vertices):
        return "an outline of its own: see its template, or the DXF"
    spots = ", ".join(f"{_at(v.x, style)} / {_at(v.y, style)}" for v in vertices)
    return f"{_BY_CORNERS}, from the left / from the bottom of the whole tile: {spots}"


def _at(mm: float, style: Style) -> str:
    return say(max(mm, 0.0), style)


def edges_words(piece: CutPiece) -> list[str]:
    """Whose edges they are: the maker's, or the saw's."""
    lines = []
    if piece.factory_edges:
        lines.append(f"factory edges: {', '.join(piece.factory_edges)}")
    if piece.cut_edges:
        lines.append(f"cut edges: {', '.join(piece.cut_edges)}")
    return lines


def cut_words(cut: Cut) -> str:
    """A hole's share in a piece: "hot, hole"."""
    return f"{cut.opening.name}, {cut.kind}"


def runs_out_words(cut: Cut, piece: CutPiece, style: Style) -> list[str]:
    """Where a notch meets the whole tile's edges: "right edge: from 570½ to the top".

    Figures are from the left or the bottom of the whole tile.
    """
    tile = piece.piece.tile
    lines = []
    for side in SIDES:
        upright = side.axis == "across"
        # The stretches of the share that lie on this side of the whole tile.
        own = [edge for ring in cut.share.rings for edge in edges(ring) if maker_side(edge, tile.w, tile.h) is side]
        if not own:
            continue
        ends = [at for edge in own for at in (edge[1::2] if upright else edge[0:4:2])]
        span, end = (min(ends), max(ends)), tile.h if upright else tile.w
        first, last = side.beside
        low = f"the {first}" if span[0] <= TOUCH else say(span[0], style)
        high = f"the {last}" if span[1] >= end - TOUCH else say(span[1], style)
        lines.append(f"{side} edge: from {low} to {high}")
    return lines
