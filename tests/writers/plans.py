"""Plans made by hand, for writers to be tried on without the stages before them: those of `tests.handmade`, in which
every cut has webs and wall checks to be written, on a wall with an edge."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from msgspec.structs import replace

from cutmarks.checks.model import Finding
from cutmarks.fixing.model import ReadFrom
from cutmarks.geometry.frames import Placement, Point, Surface
from cutmarks.geometry.regions import Region, region
from cutmarks.geometry.rings import polygon
from cutmarks.geometry.shapes import Circle, Rect, Shape
from cutmarks.openings.model import Cover, CutKind, CutPiece, WallCheck, Web
from cutmarks.plan import AreaPlan, Plan, Say, SurfacePlan
from cutmarks.setout.model import SurfaceEdge
from cutmarks.sides import Side
from cutmarks.tiling.model import Counts, Grid, TileKind
from cutmarks.units import Style, Unit
from tests import handmade
from tests.worked.figures import W3_CENTRE, W3_TILE, W5_TRIMMED

Hole = tuple[str, Shape, float, float]
"""A name, a shape and its centre on the tile, mm."""

METRIC = Say()
INCHES = Say(words="us", style=Style(Unit.INCH, Fraction(1, 32)), paper="Letter")
AT = (251.0, 800.0)
"""Where the lower left corner of every tile lies."""
CHECKS = (
    WallCheck(ReadFrom("piece", "splash 3-6"), Side.LEFT, 69.0, 84.0, fixed=True),
    WallCheck(ReadFrom("piece", "splash 3-8"), Side.RIGHT, 168.0, 183.0, fixed=False),
    WallCheck(ReadFrom("piece", "splash 2-7"), Side.BOTTOM, 107.0, 122.0, fixed=True),
)


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
    openings = [
        handmade.opening(
            hole,
            shape,
            AT[0] + x,
            AT[1] + y,
            core=35.0 if isinstance(shape, Circle) else None,
            cover=Cover(65.0, 65.0, round=True),
            you_may_be=10.0,
            thing=Circle(15.0),
            why="core 35",
        )
        for hole, shape, x, y in holes
    ]
    factory = (Side.LEFT, Side.RIGHT, Side.BOTTOM, Side.TOP) if trimmed is None else (Side.LEFT, Side.BOTTOM, Side.TOP)
    return handmade.cut_piece(
        openings,
        w,
        h,
        at=AT,
        kinds=[kind] * len(openings),
        trimmed_to=tuple(trimmed or ()),
        factory=factory,
        cut_edges=() if trimmed is None else (Side.RIGHT,),
        checks=CHECKS,
        name=name,
        tile=TileKind("rib", w, h, True, thickness=thickness, material="ceramic", batch="17B"),
        web=Web(57.0, 156.0, 95.0, 268.0, 57.0),
        words="3rd course up from the batten, 2nd tile right of V",
        same_as=same_as,
        fingerprint=fingerprint,
    )


def plan_of(*pieces: CutPiece, findings: Iterable[Finding] = (), say: Say = METRIC, job: str = "Quay Cottage") -> Plan:
    """A plan of one wall, 2000 x 1200 with a right edge, with these pieces and no sheets."""
    made = handmade.plan_of(pieces, findings=tuple(findings), sheets=False)
    outline: Region[Surface] = region(polygon([(-1000, -5), (1000, -5), (1000, 1200), (-1000, 1200)]))
    edge = SurfaceEdge(
        Side.RIGHT, (Point(1000.0, 0.0), Point(1000.0, 1200.0)), clears=(3.0, 3.0), gaps=(3.0, 3.0), still_to_come=None
    )
    setout = replace(
        made.surfaces[0].setout,
        edges={Side.RIGHT: edge},
        outline=outline,
        bare=outline,
        clear=outline,
        open_sides=frozenset(),
    )
    grid = Grid(248.0, 398.0, 2.0, 0.0, False, 0.0, Placement(dx=1.0))
    area = AreaPlan("splash", TileKind("rib", 248.0, 398.0, True), grid, Counts(20, len(pieces), 1), "stack", (), {})
    return replace(
        made,
        job=job,
        fingerprint="12345678",
        say=say,
        surfaces=(SurfacePlan(setout, (area,)),),
        assumed=("The cover of hot is not known.",),
    )


RISER: Hole = ("riser", Circle(35.0), 74.5, 112.5)


def plain() -> CutPiece:
    """Worked example W1: one round hole in a tile 248 x 398."""
    return cut_piece("splash 3-7", 248.0, 398.0, [RISER])


def corner() -> CutPiece:
    """Worked example W3, below left: an opening of 50 takes the top right corner of a tile 298 x 598."""
    return cut_piece("field 3-1", *W3_TILE, [("soil", Circle(50.0), *W3_CENTRE)], kind="corner notch")


def raking() -> CutPiece:
    """Worked example W5: a tile 448 x 448 trimmed along a raking corner, with a hole of 21."""
    return cut_piece("field 1-3", 448.0, 448.0, [("tail", Circle(21.0), 59.0, 200.0)], trimmed=W5_TRIMMED)


def boxed() -> CutPiece:
    """Worked example W2: a box 76 x 78 cut level in a tile 597 x 297."""
    return cut_piece("upper 5-2", 597.0, 297.0, [("socket", Rect(76.0, 78.0), 486.5, 134.0)])
