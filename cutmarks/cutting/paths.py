"""What has to be cut of each piece: the parts of the finished outline that the maker has not made already.

A finished factory edge must not be cut again, so a shop is also given the open paths alone. Tile frame, mm.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from types import MappingProxyType

from msgspec.structs import replace

from cutmarks.cutting.jet import for_the_jet
from cutmarks.cutting.model import ClosedPath, Cutting, OpenPath, SmallHole
from cutmarks.geometry.edges import Edge, heading
from cutmarks.geometry.frames import Placement, Point, Tile
from cutmarks.geometry.regions import Region
from cutmarks.geometry.rings import Vertex, edges
from cutmarks.geometry.rounding import rounded
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.openings.model import CutPiece
from cutmarks.openings.outlines import maker_side
from cutmarks.readings import WISHES, Corners, ShopWishes

NO_CORNERS: Mapping[str, Corners] = MappingProxyType({})
"""No piece has its own."""

LONGEST_RUN_OUT = 4.0
"""A path that leaves the tile at a flat angle runs on no further than so many times the run-out."""

GRAZING = math.sin(math.radians(2.0))
"""A path that meets the factory edge flatter than this does not run on: it would follow the edge, and cut it again."""


def cuttings(
    pieces: Iterable[CutPiece], run_out: float, wishes: ShopWishes = WISHES, own: Mapping[str, Corners] = NO_CORNERS
) -> dict[str, Cutting]:
    """How each piece is cut, by its name; `run_out` as for `cutting_of`, corners its `own` or the shop's."""
    return {one.name: _as_wished(one, run_out, wishes, own.get(one.name, wishes.corners)) for one in pieces}


def _as_wished(piece: CutPiece, run_out: float, wishes: ShopWishes, corners: Corners) -> Cutting:
    tile = piece.piece.tile
    outline, holes, sharp = piece.outline, tuple[SmallHole, ...](), tuple[Point[Tile], ...]()
    if corners.way != "sharp":
        radius = corners.mm if corners.way == "round" else corners.mm / 2.0
        made = rounded(piece.outline, radius)
        sharp = tuple(turn.at for turn in made.sharp)
        if corners.way == "round":
            outline = made.region
        else:
            holes = tuple(SmallHole(turn.middle(radius), corners.mm) for turn in made.fits)
    cutting = cutting_of(outline, tile.w, tile.h, run_out)
    trouble = tuple(for_the_jet(outline, tile.thickness, wishes)) if wishes.jet else ()
    return replace(cutting, corners=corners, holes=holes, sharp=sharp, trouble=trouble)


def moved(cutting: Cutting, place: Placement[Tile, Tile]) -> Cutting:
    """The same in another place, or mirrored."""

    def of_path(path: OpenPath) -> OpenPath:
        if not place.mirrored:
            ends = [Vertex(*place.xy(v.x, v.y), v.bulge) for v in path.vertices]
        else:
            # Run the other way round, a mirrored path keeps its bulges: each then leaves the end of its edge.
            row = path.vertices[::-1]
            bulges = [before.bulge for before in path.vertices[-2::-1]]
            ends = [Vertex(*place.xy(v.x, v.y), bulge) for v, bulge in zip(row, [*bulges, 0.0], strict=True)]
        return replace(path, vertices=tuple(ends))

    return replace(
        cutting,
        contours=tuple(replace(path, ring=path.ring.moved(place)) for path in cutting.contours),
        open=tuple(map(of_path, cutting.open)),
        holes=tuple(replace(hole, at=place.apply(hole.at)) for hole in cutting.holes),
        sharp=tuple(map(place.apply, cutting.sharp)),
        trouble=tuple(replace(one, at=place.apply(one.at)) for one in cutting.trouble),
    )


def cutting_of(outline: Region[Tile], w: float, h: float, run_out: float) -> Cutting:
    """How the finished `outline` is cut of a whole tile of w x h mm, its corners as they are.

    An open path runs `run_out` mm past the factory edge, square to it: the jet or disc starts and ends off the tile.
    """
    contours: list[ClosedPath] = []
    paths: list[OpenPath] = []
    for ring in outline.rings:
        around = edges(ring)
        made = [maker_side(edge, w, h) is not None for edge in around]
        contours.append(ClosedPath(ring, all_round=not any(made)))
        for start in range(len(around)):
            if made[start - 1] and not made[start]:
                chain: list[Edge[Tile]] = []
                while not made[(start + len(chain)) % len(around)]:
                    chain.append(around[(start + len(chain)) % len(around)])
                paths.append(_run_out(chain, w, h, run_out))
    return Cutting(tuple(contours), tuple(paths))


def _run_out(chain: list[Edge[Tile]], w: float, h: float, past: float) -> OpenPath:
    first, last = chain[0], chain[-1]
    back, on = heading(first, at_end=False) + math.pi, heading(last, at_end=True)
    before = _beyond(first.x0, first.y0, math.cos(back), math.sin(back), w, h, past)
    after = _beyond(last.x1, last.y1, math.cos(on), math.sin(on), w, h, past)
    on_tile = [Vertex(edge.x0, edge.y0, edge.bulge) for edge in chain] + [Vertex(last.x1, last.y1)]
    vertices = (*([before] if before else []), *on_tile, *([after] if after else []))
    return OpenPath(vertices, sum(edge.length for edge in chain))


def _beyond(x: float, y: float, dx: float, dy: float, w: float, h: float, past: float) -> Vertex | None:
    """The place `past` mm past the factory edge at (x, y), the way (dx, dy) goes; None where it only grazes the edge.

    A straight line that leaves the tile never meets it again, as the arc of an opening might.
    """
    leaving = 0.0
    if abs(x) <= TOUCH:
        leaving = max(leaving, -dx)
    if abs(x - w) <= TOUCH:
        leaving = max(leaving, dx)
    if abs(y) <= TOUCH:
        leaving = max(leaving, -dy)
    if abs(y - h) <= TOUCH:
        leaving = max(leaving, dy)
    if leaving < GRAZING:
        return None
    far = min(past / leaving, past * LONGEST_RUN_OUT)
    return Vertex(x + dx * far, y + dy * far)
