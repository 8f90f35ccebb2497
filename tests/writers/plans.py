"""Plans made by hand, for writers to be tried on without the stages before them."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from cutmarks.checks.model import Finding
from cutmarks.cutting.paths import cuttings
from cutmarks.geometry.frames import Placement, Point, Surface, Tile
from cutmarks.geometry.regions import Region, difference, intersection, region
from cutmarks.geometry.rings import Ring, polygon
from cutmarks.geometry.shapes import Circle, Rect, Shape, ring_of
from cutmarks.limits import LIMITS
from cutmarks.openings.cuts import runs_out
from cutmarks.openings.model import Cover, Cut, CutKind, CutPiece, Opening, WallCheck, Web
from cutmarks.plan import AreaPlan, Plan, Say, SurfacePlan
from cutmarks.setout.model import Line, SetOut, SurfaceEdge
from cutmarks.sides import FourSides, Side
from cutmarks.tiling.model import Counts, FixedSides, Grid, Piece, TileKind
from cutmarks.units import Style, Unit
from tests.handmade import any_way

Hole = tuple[str, Shape, float, float]
"""A name, a shape and its centre on the tile, mm."""

METRIC = Say()
INCHES = Say(words="us", style=Style(Unit.INCH, Fraction(1, 32)), paper="Letter")


def cut_piece(
    name: str,
    w: float,
    h: float,
    holes: Iterable[Hole] = (),
    *,
    kind: CutKind = "hole",
    trimmed: Iterable[tuple[float, float]] | None = None,
    same_as: str | None = None,
    thickness: float | None = 9.0,
    fingerprint: str = "0badcafe",
) -> CutPiece:
    """A piece called "area course-number" of a tile w x h, trimmed to a polygon if that is given, with these holes."""
    area, _, place = name.partition(" ")
    course, _, number = place.partition("-")
    outline: Region[Tile] = region(polygon(trimmed or ((0, 0), (w, 0), (w, h), (0, h))))
    tile_at: Placement[Tile, Surface] = Placement(dx=251.0, dy=800.0)
    piece = Piece(
        name=name,
        surface="wall",
        area=area,
        course=int(course),
        number=int(number),
        place=(1, 2),
        tile=TileKind("rib", w, h, True, thickness=thickness, material="ceramic", batch="17B"),
        tile_at=tile_at,
        turn=0.0,
        outline=outline,
        trimmed=trimmed is not None,
    )
    cuts, finished = [], outline
    for hole, shape, x, y in holes:
        ring: Ring[Tile] = ring_of(shape, Point(x, y))
        share = intersection(outline, region(ring))
        finished = difference(finished, region(ring))
        cuts.append(_cut(hole, shape, x, y, share, kind, runs_out(share, outline), w, h, tile_at))
    bounds = outline.bounds
    sizes = FourSides(bounds.height, bounds.height, bounds.width, bounds.width)
    return CutPiece(
        piece=piece,
        name=name,
        part=None,
        outline=finished,
        cuts=tuple(cuts),
        sizes=None if trimmed is None else sizes,
        factory_edges=(Side.LEFT, Side.RIGHT, Side.BOTTOM, Side.TOP)
        if trimmed is None
        else (Side.LEFT, Side.BOTTOM, Side.TOP),
        cut_edges=() if trimmed is None else (Side.RIGHT,),
        fixed=FixedSides(Side.LEFT, Side.BOTTOM),
        words="3rd course up from the batten, 2nd tile right of V",
        same_as=same_as,
        fingerprint=fingerprint,
    )


def _cut(
    hole: str,
    shape: Shape,
    x: float,
    y: float,
    share: Region[Tile],
    kind: CutKind,
    over: frozenset[Side],
    w: float,
    h: float,
    tile_at: Placement[Tile, Surface],
) -> Cut:
    at = tile_at.apply(Point(x, y))
    sides = None
    if isinstance(shape, Rect):
        sides = (x - shape.w / 2, x + shape.w / 2, y - shape.h / 2, y + shape.h / 2)
    opening = Opening(
        name=hole,
        surface="wall",
        what="15 copper",
        at=at,
        thing=ring_of(Circle(15.0), at),
        read_size=(15.0, 15.0),
        shape=shape,
        ring=ring_of(shape, at),
        why="core 35",
        core=35.0 if isinstance(shape, Circle) else None,
        cover=Cover(65.0, 65.0, round=True),
        cover_known=True,
        leeway=any_way(10.0),
    )
    return Cut(
        opening=opening,
        kind=kind,
        ring=ring_of(shape, Point(x, y)),
        runs_out=over,
        from_edges=FourSides(x, w - x, y, h - y),
        sides=None if sides is None else FourSides(*sides),
        share=share,
        web=Web(57.0, 156.0, 95.0, 268.0, 57.0),
        wall_checks=(
            WallCheck("splash 3-6", Side.LEFT, 69.0, 84.0, fixed=True),
            WallCheck("splash 3-8", Side.RIGHT, 168.0, 183.0, fixed=False),
            WallCheck("splash 2-7", Side.BOTTOM, 107.0, 122.0, fixed=True),
        ),
        mark_from=(Side.LEFT, Side.BOTTOM),
        from_cut_edges=(),
    )


def plan_of(*pieces: CutPiece, findings: Iterable[Finding] = (), say: Say = METRIC, job: str = "Quay Cottage") -> Plan:
    """A plan of one wall, 2000 x 1200, with these pieces."""
    outline: Region[Surface] = region(polygon([(-1000, -5), (1000, -5), (1000, 1200), (-1000, 1200)]))
    setout = SetOut(
        name="wall",
        kind="wall",
        lines={
            "V": Line("V", "x", 0.0, "plumb", "middle of the sink"),
            "B": Line("B", "y", 0.0, "level", "top of the batten"),
        },
        edges={
            Side.RIGHT: SurfaceEdge(
                Side.RIGHT, (Point(1000.0, 0.0), Point(1000.0, 1200.0)), clears=(3.0, 3.0), gap=3.0, still_to_come=None
            )
        },
        outline=outline,
        clear=outline,
        open_sides=frozenset(),
        voids=(),
        keep_outs=(),
    )
    grid = Grid(248.0, 398.0, 2.0, 0.0, False, 0.0, Placement(dx=1.0))
    area = AreaPlan("splash", TileKind("rib", 248.0, 398.0, True), grid, Counts(20, len(pieces), 1), "stack", (), {})
    openings: dict[str, Opening] = {cut.opening.name: cut.opening for piece in pieces for cut in piece.cuts}
    return Plan(
        job=job,
        fingerprint="12345678",
        say=say,
        surfaces=(SurfacePlan(setout, (area,)),),
        openings=tuple(openings.values()),
        pieces=pieces,
        cuttings=cuttings(pieces, LIMITS.run_out.value),
        registrations=(),
        findings=tuple(findings),
        assumed=("The cover of hot is not known.",),
    )


RISER: Hole = ("riser", Circle(35.0), 74.5, 112.5)


def plain() -> CutPiece:
    """Worked example W1: one round hole in a tile 248 x 398."""
    return cut_piece("splash 3-7", 248.0, 398.0, [RISER])


def corner() -> CutPiece:
    """Worked example W3, below left: an opening of 50 takes the top right corner of a tile 298 x 598."""
    return cut_piece("field 3-1", 298.0, 598.0, [("soil", Circle(50.0), 294.0, 595.0)], kind="corner notch")


def raking() -> CutPiece:
    """Worked example W5: a tile 448 x 448 trimmed to 116 at the bottom and 113.76 at the top, with a hole of 21."""
    trimmed = [(0.0, 0.0), (116.0, 0.0), (113.76, 448.0), (0.0, 448.0)]
    return cut_piece("field 1-3", 448.0, 448.0, [("tail", Circle(21.0), 59.0, 200.0)], trimmed=trimmed)


def boxed() -> CutPiece:
    """Worked example W2: a box 76 x 78 cut level in a tile 597 x 297."""
    return cut_piece("upper 5-2", 597.0, 297.0, [("socket", Rect(76.0, 78.0), 486.5, 134.0)])
