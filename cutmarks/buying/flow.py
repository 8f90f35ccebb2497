"""From a plan to what its job takes: tiles, adhesive, grout and silicone, as it is laid out."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence

from cutmarks.buying.model import Adhesive, Grout, Shared, Silicone, Spacers, TileNeed, ToBuy
from cutmarks.buying.offcuts import ToCut, Turned, WholeTile, shared_tiles
from cutmarks.checks.bridges import is_panel
from cutmarks.checks.depth import bed_of
from cutmarks.gauging.ends import once_each, sealed_joints
from cutmarks.gauging.model import Sealed
from cutmarks.geometry.edges import XY, Bounds
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.openings.model import CutPiece
from cutmarks.plan import AreaPlan, Plan
from cutmarks.plan.model import TileStock
from cutmarks.readings import BagOf, PatternWay
from cutmarks.sides import SIDES, Side
from cutmarks.tiling.model import Counts

MM2_OF_A_LITRE_PER_MM = 1_000_000.0
"""A square metre that is one millimetre thick is a litre."""
MM3_OF_A_LITRE, ML_OF_A_LITRE = 1_000_000.0, 1_000.0
TURNED: dict[PatternWay | None, Turned] = {None: "no", "one way": "no", "two ways": "half", "none": "any"}
"""How an offcut may be turned; where the job does not say, it is not."""


def what_to_buy(plan: Plan) -> ToBuy:
    """What the surfaces take that have their start, all together: an offcut of one may serve another.

    Of a plan of some pieces alone it is their tiles alone: what they are bedded in is bought with the others.
    """
    by_tile: dict[str, list[tuple[str, AreaPlan]]] = defaultdict(list)
    for surface in plan.laid:
        for area in surface.areas:
            by_tile[area.tile.name].append((surface.setout.name, area))
    tiles = tuple(_tiles(plan, name, areas) for name, areas in by_tile.items())
    if plan.beside:
        return ToBuy(tiles, (), (), ())
    joints = tuple(_joints(plan))
    return ToBuy(
        tiles=tiles,
        adhesive=tuple(one for name, areas in by_tile.items() for one in _adhesive(plan, name, areas)),
        grout=tuple(one for name, areas in by_tile.items() for one in _grout(plan, name, areas)),
        silicone=_by_width(joints),
        beads=_beads(joints, plan),
        spacers=tuple(_spacers(plan)),
        no_bed=tuple(
            name for name, areas in by_tile.items() if any(bed_of(area.tile, plan.limits) is None for _, area in areas)
        ),
        no_thickness=tuple(
            name for name, areas in by_tile.items() if any(area.tile.thickness is None for _, area in areas)
        ),
    )


def _tiles(plan: Plan, name: str, areas: Sequence[tuple[str, AreaPlan]]) -> TileNeed:
    stock, limits, supplies = plan.supplies.tiles.get(name, TileStock(name)), plan.limits, plan.supplies
    area = areas[0][1]
    turned = TURNED[stock.pattern]
    own = {(surface, one.name) for surface, one in areas}
    pieces = [piece for piece in plan.pieces if (piece.piece.surface, piece.piece.area) in own]
    begins = {name: before for surface, one in areas for name, before in _carried_on(surface, one, pieces)}
    # An area that lies the other way round has the tile's two sizes the other way round.
    shared: tuple[Shared, ...] = ()
    steps: list[float | None] = []
    for w, h in dict.fromkeys((one.tile.w, one.tile.h) for _, one in areas):
        # What waits until a batten is off is fixed after the first day of all surfaces: no piece of that day is cut
        # from what it leaves.
        lying = sorted(
            (piece for piece in pieces if (piece.piece.tile.w, piece.piece.tile.h) == (w, h)),
            key=lambda piece: piece.rank.day,
        )
        whole = WholeTile(w, h, supplies.kerf, turned, is_panel(area.tile, limits))
        found, step = shared_tiles(list(_wanted(lying, begins)), whole)
        shared = (*shared, *found)
        steps.append(step)
    counts = [one.counts for _, one in areas]
    cut = sum(one.cut for one in counts)
    holed = len({(piece.piece.surface, piece.piece.area, piece.piece.place) for piece in pieces if piece.cuts})
    return TileNeed(
        tile=name,
        w=area.tile.w,
        h=area.tile.h,
        area=_area(areas),
        whole=_whole(counts),
        cut=cut,
        shared=shared,
        step=None if None in steps else max(step for step in steps if step is not None),
        holed=holed,
        spare_holed=math.ceil(holed / limits.holed_per_spare.value),
        spare_cut=math.ceil(cut / limits.cut_per_spare.value),
        kerf=supplies.kerf,
        kerf_why=supplies.kerf_why,
        pattern_said=stock.pattern is not None,
        turned=turned,
        box=stock.box,
        have=stock.have,
        kept=round(limits.kept_whole.value),
    )


def _whole(counts: Sequence[Counts]) -> int | None:
    known = [one.whole for one in counts if one.whole is not None]
    return sum(known) if len(known) == len(counts) else None


def _carried_on(surface: str, area: AreaPlan, pieces: Sequence[CutPiece]) -> Iterator[tuple[str, str]]:
    """Of a bond whose offcut is carried on the first piece of each course, and the last of the one below it."""
    carried = area.grid.carried
    if carried is None:
        return
    names = {
        piece.piece.place: piece.piece.name
        for piece in pieces
        if (piece.piece.surface, piece.piece.area) == (surface, area.name)
    }
    ends = {row: {Side.LEFT: first, Side.RIGHT: last} for row, first, last in area.places}
    for row, columns in ends.items():
        last = (columns[carried.opposite], row)
        first = (ends[row + 1][carried], row + 1) if row + 1 in ends else last
        if first != last and first in names and last in names:
            yield names[first], names[last]


def _wanted(pieces: Sequence[CutPiece], begins: Mapping[str, str]) -> Iterator[ToCut]:
    """Each place that holds a trimmed piece, once: the parts of one tile are cut from that one tile.

    begins  the pieces that their bond has begun with what comes off another, and that one.
    """
    seen: set[tuple[str, str, tuple[int, int]]] = set()
    for piece in pieces:
        place = (piece.piece.surface, piece.piece.area, piece.piece.place)
        if piece.piece.trimmed and place not in seen:
            seen.add(place)
            box, tile = piece.piece.outline.bounds, piece.piece.tile.box
            makers = frozenset(side for side in SIDES if _is_makers(box, tile, side))
            corners = _corners(piece) if piece.piece.turn else ()
            after = begins.get(piece.piece.name, "")
            yield ToCut(piece.piece.name, box.width, box.height, makers, corners, after)


def _corners(piece: CutPiece) -> tuple[XY, ...]:
    """The corners of what trimming leaves, in the Tile frame; () where it is in parts, or an arc bounds it."""
    rings = piece.piece.outline.rings
    if len(rings) != 1 or any(vertex.bulge for vertex in rings[0].vertices):
        return ()
    return tuple((vertex.x, vertex.y) for vertex in rings[0].vertices)


def _is_makers(box: Bounds, tile: Bounds, side: Side) -> bool:
    return abs(box.at(side) - tile.at(side)) <= TOUCH


def _area(areas: Sequence[tuple[str, AreaPlan]]) -> float:
    """The tiled ground, joints in it and windows out of it, mm2; an area that runs on unmeasured has none."""
    return sum(area.ground.area for _, area in areas if area.counts.whole is not None)


def _adhesive(plan: Plan, name: str, areas: Sequence[tuple[str, AreaPlan]]) -> Iterator[Adhesive]:
    tile, area = areas[0][1].tile, _area(areas)
    bed = bed_of(tile, plan.limits)
    if bed is None or area <= 0.0:
        return
    stock = plan.supplies.tiles.get(name, TileStock(name))
    skim = plan.limits.butter_skim.value if stock.buttered else 0.0
    litres = area * (bed + skim) / MM2_OF_A_LITRE_PER_MM
    notch = tile.notch if tile.bed is None else None
    yield Adhesive(name, area, bed, notch, skim, litres, *_bags(litres, plan.supplies.bag))


def _grout(plan: Plan, name: str, areas: Sequence[tuple[str, AreaPlan]]) -> Iterator[Grout]:
    """One a joint: two areas of one tile may have two."""
    tile = areas[0][1].tile
    if tile.thickness is None:
        return
    for joint in dict.fromkeys(one.grid.joint for _, one in areas):
        area = _area([one for one in areas if one[1].grid.joint == joint])
        litres = area * (tile.w + tile.h) / (tile.w * tile.h) * joint * tile.thickness / MM2_OF_A_LITRE_PER_MM
        if litres > 0.0:
            bags = _bags(litres, plan.supplies.grout_bag)
            yield Grout(name, area, tile.w, tile.h, joint, tile.thickness, litres, *bags)


def _bags(litres: float, bag: BagOf | None) -> tuple[int | None, str]:
    return (None, "") if bag is None else (math.ceil(litres / bag.litres), bag.words)


def _spacers(plan: Plan) -> Iterator[Spacers]:
    """The spacers by joint, of the areas of which all tiles are known."""
    laid: dict[float, list[int]] = defaultdict(lambda: [0, 0])
    for area in (area for surface in plan.laid for area in surface.areas):
        if area.counts.whole is not None and area.grid.joint > TOUCH:
            laid[area.grid.joint][area.grid.offset_part > TOUCH] += area.counts.whole + area.counts.cut
    for joint, (crossing, bonded) in sorted(laid.items()):
        yield Spacers(joint, crossing, bonded)


def _joints(plan: Plan) -> Iterator[Sealed]:
    """The joints that take silicone, on all surfaces, that of a corner once."""
    packers = plan.limits.packers.value
    found = ((one.setout.name, sealed_joints(one.areas, one.setout, packers)) for one in plan.laid)
    yield from once_each((name, [joint for joint in joints if not joint.hidden]) for name, joints in found)


def _by_width(joints: Sequence[Sealed]) -> tuple[Sealed, ...]:
    """Those of one width together."""
    by_width: dict[float, float] = defaultdict(float)
    for joint in joints:
        by_width[joint.width] += joint.length
    return tuple(Sealed("", width, length) for width, length in sorted(by_width.items()))


def _beads(joints: Sequence[Sealed], plan: Plan) -> Silicone | None:
    """How much silicone they take, and how many tubes; None for no joint."""
    if not joints:
        return None
    limits = plan.limits
    along: dict[tuple[str, float], float] = defaultdict(float)
    for joint in joints:
        along[joint.what, joint.width] += joint.length
    depth, tube = limits.bead_depth.value, limits.tube.value / ML_OF_A_LITRE
    held = sum(joint.length * joint.width for joint in joints) * depth / MM3_OF_A_LITRE
    litres = held * (1.0 + limits.bead_over.value)
    named = tuple(Sealed(what, width, length) for (what, width), length in along.items())
    return Silicone(named, depth, litres, math.ceil(litres / tube - TOUCH), tube)
