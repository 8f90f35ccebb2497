"""Inside corners rounded, and small holes drilled in them, against closed forms and a second method.

    python -m tests.bench.rounding_campaign --pieces 20000 --seed 1

Each piece is a tile less some boxes (level, leaning), circles and slots, inside it, over its edges and over each other.
Looked at: the area grows by r^2 (tan(t / 2) - t / 2) a corner that turns by t; every arc that was put in lies about its
own centre, read back from its vertices and bulge by the DXF definition, within 0.001 mm, and touches the lines of both
edges; no contour crosses itself, none of them another; nothing of the piece is lost; a small hole of the same radius
takes nothing of the sharp piece. Where every corner has room, what is cut out is also opened by a disc of polygons
(shapely: shrunk, then grown by the radius), which no arithmetic of ours is part of; but for a gap right through that is
narrower than the disc, which has no corner and is closed by it. Ends with 1 where anything is wrong.
"""

from __future__ import annotations

import argparse
import math
import sys
from collections import Counter
from collections.abc import Callable, Iterator
from random import Random

import shapely
from shapely.geometry import Polygon, box

from cutmarks.errors import GeometryError
from cutmarks.geometry.edges import Arc
from cutmarks.geometry.frames import Point, Tile
from cutmarks.geometry.regions import Region, difference, intersection, region
from cutmarks.geometry.rings import Ring, edges, polygon, self_crossing
from cutmarks.geometry.rounding import Rounded, rounded
from cutmarks.geometry.shapes import Circle, Rect, Shape, Slot, ring_of

NEAR = 0.001
RADII = (0.5, 1.0, 3.0, 3.5, 4.0, 5.0, 8.0, 12.0)
POLYGON_PARTS = 32
"""Of a quarter turn, in the second method: an arc of radius r is off by r (1 - cos(pi / 128)), 0.0003 r."""


def pieces(random: Random, count: int) -> Iterator[Region[Tile]]:
    """So many tiles less up to four openings."""
    for _ in range(count):
        w, h = random.choice(((297.0, 97.0), (247.5, 397.0), (600.0, 300.0), (148.0, 148.0)))
        made: Region[Tile] = region(polygon(((0.0, 0.0), (w, 0.0), (w, h), (0.0, h))))
        for _ in range(random.choice((1, 1, 2, 3, 4))):
            try:
                made = difference(made, region(_opening(random, w, h)))
            except GeometryError:
                continue  # two outlines too near to tell apart are refused, and tried elsewhere
        if made.rings:
            yield made


def _opening(random: Random, w: float, h: float) -> Ring[Tile]:
    def half(low: float, high: float) -> float:
        return random.randrange(round(low * 2), round(high * 2)) / 2.0

    shape: Shape
    match random.choice(("box", "box", "box", "leaning", "circle", "slot", "thin")):
        case "box":
            shape = Rect(half(8, w * 0.6), half(8, h * 0.6))
        case "leaning":
            shape = Rect(half(8, w * 0.5), half(8, h * 0.5), random.uniform(-44.0, 44.0))
        case "circle":
            shape = Circle(half(8, 70))
        case "slot":
            wide = half(8, 30)
            shape = Slot(wide + half(1, 60), wide, random.choice((0.0, 90.0)))
        case _:
            shape = Rect(half(2, 12), half(8, h * 0.8), random.choice((0.0, 90.0)))
    at = random.choice((0.0, w, half(0, w))), random.choice((0.0, h, half(0, h)))
    return ring_of(shape, Point(*at))


def wrong_in(piece: Region[Tile], radius: float, seen: Counter[str]) -> Iterator[str]:
    """What is wrong with one piece; `seen` counts what was looked at."""
    found = rounded(piece, radius)
    seen["corners rounded"] += len(found.fits)
    seen["corners left sharp"] += len(found.sharp)
    grown = sum(radius * radius * (math.tan(turn.turn / 2.0) - turn.turn / 2.0) for turn in found.fits)
    if abs(found.region.area - piece.area - grown) > 1e-6 * max(1.0, grown):
        yield f"area {found.region.area:.6f}, and {piece.area + grown:.6f} by closed form"
    yield from _wrong_arcs(found, radius, seen)
    for ring in found.region.rings:
        if self_crossing(ring) is not None:
            yield "a contour crosses itself"
    if len(found.region.rings) != len(piece.rings):
        yield f"{len(found.region.rings)} contours, and {len(piece.rings)} before"
    if found.fits and abs(intersection(piece, found.region).area - piece.area) > 1e-4:
        yield "something of the piece was lost"
    yield from _wrong_holes(piece, found, radius, seen)
    if found.fits and not found.sharp and not any(isinstance(e, Arc) for r in piece.rings for e in edges(r)):
        yield from _not_as_opened(piece, found, radius, seen)


def _wrong_arcs(found: Rounded[Tile], radius: float, seen: Counter[str]) -> Iterator[str]:
    arcs = [edge for ring in found.region.rings for edge in edges(ring) if isinstance(edge, Arc)]
    for turn in found.fits:
        middle = turn.middle(radius)
        own = [arc for arc in arcs if math.hypot(arc.cx - middle.x, arc.cy - middle.y) <= NEAR]
        if not own:
            yield f"no arc about ({middle.x:.3f}, {middle.y:.3f})"
            continue
        seen["arcs"] += 1
        for arc in own:
            ends = math.hypot(arc.x0 - middle.x, arc.y0 - middle.y), math.hypot(arc.x1 - middle.x, arc.y1 - middle.y)
            if any(abs(end - radius) > NEAR for end in (*ends, arc.radius)):
                yield f"an arc of {arc.radius:.6f} about its own centre, its ends at {ends[0]:.6f} and {ends[1]:.6f}"
        for edge in (turn.before, turn.after):
            dx, dy = edge.x1 - edge.x0, edge.y1 - edge.y0
            off = abs(dx * (middle.y - edge.y0) - dy * (middle.x - edge.x0)) / math.hypot(dx, dy)
            if abs(off - radius) > NEAR:
                yield f"an arc's centre is {off:.6f} off its edge, and its radius {radius}"


def _wrong_holes(piece: Region[Tile], found: Rounded[Tile], radius: float, seen: Counter[str]) -> Iterator[str]:
    for turn in found.fits:
        seen["small holes"] += 1
        hole: Region[Tile] = region(ring_of(Circle(2.0 * radius), turn.middle(radius)))
        taken = intersection(piece, hole).area
        if taken > 1e-4:
            yield f"a small hole takes {taken:.6f} mm2 of the piece"


def _not_as_opened(piece: Region[Tile], found: Rounded[Tile], radius: float, seen: Counter[str]) -> Iterator[str]:
    """What is cut out, shrunk and grown again by the radius: all that a disc of that radius can reach."""
    around = box(-100.0, -100.0, 800.0, 600.0)
    void = around.difference(shapely.union_all([_polygon(piece)]))
    disc = radius - 1e-6  # a gap of just its width is open, and rounding must not close it
    shrunk = void.buffer(-disc, quad_segs=POLYGON_PARTS, join_style="mitre", mitre_limit=50.0)
    if _pieces_and_holes(shrunk) != _pieces_and_holes(void):
        seen["with a gap right through"] += 1
        return
    seen["opened by a disc of polygons"] += 1
    opened = shrunk.buffer(disc, quad_segs=POLYGON_PARTS)
    left = around.area - opened.area - found.region.area
    corners_of_around = 4.0 * radius * radius * (1.0 - math.pi / 4.0)
    # The polygons lie in their circles: a quarter turn of n parts lacks r^2 / 2 (pi / 2 - n sin(pi / 2 n)).
    lacks = radius * radius / 2.0 * (math.pi / 2.0 - POLYGON_PARTS * math.sin(math.pi / 2.0 / POLYGON_PARTS))
    if abs(left - corners_of_around) > lacks * 4.0 * (len(found.fits) + 4) + 1e-6:
        yield f"opened by a disc it differs by {left - corners_of_around:.6f} mm2"


def _pieces_and_holes(shape: shapely.Geometry) -> tuple[int, int]:
    """Of how many pieces a shape is, and how many holes they have: a gap that is closed changes either."""
    parts = shapely.get_parts(shape)
    return len(parts), sum(shapely.get_num_interior_rings(part) for part in parts)


def _polygon(piece: Region[Tile]) -> shapely.Geometry:
    outers = [Polygon([v[:2] for v in ring.vertices]) for ring in piece.rings if ring.area > 0.0]
    holes = [Polygon([v[:2] for v in ring.vertices]) for ring in piece.rings if ring.area < 0.0]
    whole = shapely.union_all(outers)
    for hole in holes:
        whole = whole.difference(hole)
    return whole


def campaign(count: int, seed: int, tell: Callable[[str], None]) -> int:
    """How many pieces are wrong."""
    random, wrong, seen = Random(seed), 0, Counter[str]()
    for number, piece in enumerate(pieces(random, count)):
        radius = random.choice(RADII)
        faults = list(wrong_in(piece, radius, seen))
        wrong += bool(faults)
        for fault in faults[:1]:
            tell(f"piece {number}, radius {radius}: {fault}")
    tell(f"{count} pieces: {wrong} wrong; {', '.join(f'{many} {what}' for what, many in sorted(seen.items()))}")
    return wrong


def main() -> int:
    """The command."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--pieces", type=int, default=20_000)
    parser.add_argument("--seed", type=int, default=1)
    given = parser.parse_args()
    return 1 if campaign(given.pieces, given.seed, print) else 0


if __name__ == "__main__":
    sys.exit(main())
