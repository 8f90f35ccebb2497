"""Plans made by hand, one tile at a time, for the tests of paper: no job file, no set-out.

The tile stands at (at_x, at_y) on a wall with a plumb line V at 0 and the top of a batten B at 0; its left and lower
sides lie against fixed tiles unless said otherwise.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Literal

from cutmarks.checks.model import Finding
from cutmarks.cutting.paths import cuttings
from cutmarks.fixing.model import FixedSides, ReadFrom
from cutmarks.geometry.frames import Placement, Point, Surface, Tile
from cutmarks.geometry.regions import Region, difference, intersection, region
from cutmarks.geometry.rings import polygon
from cutmarks.geometry.shapes import Circle, Rect, Shape, ring_of
from cutmarks.geometry.slack import InDisc
from cutmarks.limits import LIMITS
from cutmarks.openings.cuts import runs_out
from cutmarks.openings.leeway import Leeway
from cutmarks.openings.model import Cover, Cut, CutKind, CutPiece, Opening, WallCheck, Web
from cutmarks.plan import AreaPlan, Plan, Say, SurfacePlan
from cutmarks.registering import register
from cutmarks.setout.model import Line, SetOut
from cutmarks.sides import FourSides, Side
from cutmarks.tiling.model import Counts, Grid, Piece, TileKind
from cutmarks.units import Style, Unit

NO_WEB = Web(None, None, None, None, None)


def opening(
    name: str,
    shape: Shape,
    x: float,
    y: float,
    *,
    core: float | None = None,
    cover: Cover | None = None,
    you_may_be: float | None = None,
    thing: Shape | None = None,
    why: str = "",
) -> Opening:
    """An opening about (x, y) on the surface, round a thing that fills it unless said; `you_may_be` is its leeway."""
    at: Point[Surface] = Point(x, y)
    ring = ring_of(shape, at)
    through = ring if thing is None else ring_of(thing, at)
    box = through.bounds
    leeway = any_way(you_may_be)
    return Opening(
        name, "wall", "15 copper", at, through, (box.width, box.height), shape, ring, why, core, cover, True, leeway
    )


def any_way(by: float | None) -> Leeway:
    """A leeway of so much any way, mm; None: it is not known."""
    return Leeway(0.0, None if by is None else InDisc(0.0, 0.0, by))


def cut_piece(
    openings: Sequence[Opening],
    w: float,
    h: float,
    *,
    at: tuple[float, float] = (251.0, 800.0),
    turn: float = 0.0,
    fixed: tuple[Side, Side] = (Side.LEFT, Side.BOTTOM),
    kinds: Sequence[CutKind] = (),
    trimmed_to: Sequence[tuple[float, float]] = (),
    factory: Sequence[Side] = (Side.LEFT, Side.RIGHT, Side.BOTTOM, Side.TOP),
    cut_edges: Sequence[Side] = (),
    checks: Sequence[WallCheck] = (),
    name: str = "splash 3-7",
    place: tuple[int, int] = (1, 2),
    tile: TileKind | None = None,
    web: Web = NO_WEB,
    words: str = "2nd course up from the batten, 2nd tile right of V",
    same_as: str | None = None,
    fingerprint: str = "5e6f7a8b",
) -> CutPiece:
    """One tile w by h with its openings taken out; `kinds` says what each is ("hole" where not given).

    `web` stands for what is left beside each. A piece that is trimmed has the sizes of its bounds.
    """
    tile_at: Placement[Tile, Surface] = Placement.turned(turn, *at)
    corners = trimmed_to or ((0.0, 0.0), (w, 0.0), (w, h), (0.0, h))
    outline: Region[Tile] = region(polygon(corners))
    area, _, number = name.partition(" ")
    course, _, column = number.partition("-")
    piece = Piece(
        name=name,
        surface="wall",
        area=area,
        course=int(course),
        number=int(column),
        place=place,
        tile=TileKind("rib", w, h, True) if tile is None else tile,
        tile_at=tile_at,
        turn=turn,
        outline=outline,
        trimmed=bool(trimmed_to),
    )
    cuts = []
    finished = outline
    for index, one in enumerate(openings):
        ring = one.ring.moved(tile_at.inverse())
        taken: Region[Tile] = region(ring)
        share = intersection(taken, outline)
        finished = difference(finished, taken)
        centre = tile_at.inverse().apply(one.at)
        box = ring.bounds
        is_square = isinstance(one.shape, Rect) and (one.shape.lean - turn) % 90 == 0
        sides = (box.min_x, box.max_x, box.min_y, box.max_y) if is_square else None
        cuts.append(
            Cut(
                opening=one,
                kind=kinds[index] if index < len(kinds) else "hole",
                ring=ring,
                runs_out=runs_out(share, outline),
                from_edges=FourSides(centre.x, w - centre.x, centre.y, h - centre.y),
                sides=None if sides is None else FourSides(*sides),
                share=share,
                web=web,
                wall_checks=tuple(checks),
                mark_from=fixed,
                from_cut_edges=(),
            )
        )
    box = outline.bounds
    return CutPiece(
        piece=piece,
        name=name,
        part=None,
        outline=finished,
        cuts=tuple(cuts),
        sizes=FourSides(box.height, box.height, box.width, box.width) if trimmed_to else None,
        factory_edges=tuple(factory),
        cut_edges=tuple(cut_edges),
        fixed=FixedSides(*fixed),
        words=words,
        same_as=same_as,
        fingerprint=fingerprint,
    )


def plan_of(
    pieces: Sequence[CutPiece],
    *,
    findings: Sequence[Finding] = (),
    paper: str = "A4",
    units: Literal["mm", "in"] = "mm",
    kind: Literal["wall", "floor"] = "wall",
    joint: float = 2.0,
    sheets: bool = True,
) -> Plan:
    """A plan of these pieces on one surface that is open on every side, with their sheets unless said."""
    tile = pieces[0].piece.tile
    ground: Region[Surface] = region(
        polygon(((-5000.0, -5000.0), (5000.0, -5000.0), (5000.0, 5000.0), (-5000.0, 5000.0)))
    )
    lines = {
        "V": Line("V", "x", 0.0, "plumb", "middle of the sink"),
        "B": Line("B", "y", 0.0, "level", "top of the batten"),
    }
    setout = SetOut(
        "wall", kind, lines, {}, None, ground, ground, frozenset((Side.LEFT, Side.RIGHT, Side.BOTTOM, Side.TOP)), (), ()
    )
    areas = tuple(
        AreaPlan(
            name=area,
            tile=tile,
            grid=Grid(tile.w, tile.h, joint, 0.0, False, pieces[0].piece.turn, Placement.turned(pieces[0].piece.turn)),
            counts=Counts(None, len(pieces), 0),
            bond_words="stack",
            places=(),
            courses={},
        )
        for area in dict.fromkeys(piece.piece.area for piece in pieces)
    )
    openings = {cut.opening.name: cut.opening for piece in pieces for cut in piece.cuts}
    finest = Fraction(1, 32) if units == "in" else Fraction(1, 2)
    return Plan(
        job="Quay Cottage, laundry",
        fingerprint="1a2b3c4d",
        say=Say("us" if units == "in" else "uk", Style(Unit(units), finest), paper),
        surfaces=(SurfacePlan(setout, areas),),
        openings=tuple(openings.values()),
        pieces=tuple(pieces),
        cuttings=cuttings(pieces, LIMITS.run_out.value),
        registrations=register(pieces, paper) if sheets else (),
        findings=tuple(findings),
        assumed=(),
    )


def w1_piece() -> CutPiece:
    """Worked example W1: a 248 x 398 tile, a riser 74.5 from the left and 112.5 from the bottom, core 35, cover 65."""
    riser = opening("riser", Circle(35.0), 325.5, 912.5, core=35.0, cover=Cover(65.0, 65.0, True), you_may_be=10.0)
    checks = (
        WallCheck(ReadFrom("piece", "splash 3-6"), Side.LEFT, 69.0, 84.0, True),
        WallCheck(ReadFrom("piece", "splash 2-7"), Side.BOTTOM, 107.0, 122.0, True),
    )
    return cut_piece([riser], 248.0, 398.0, checks=checks)
