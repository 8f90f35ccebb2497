"""What a shop is told of a piece: how many, of what, which side up, what to check, how its corners are made."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction

from cutmarks.checks.model import Finding
from cutmarks.cutting.model import Cutting, ForTheJet
from cutmarks.geometry.edges import Edge, Segment
from cutmarks.geometry.frames import Tile
from cutmarks.geometry.regions import Region
from cutmarks.geometry.rings import edges
from cutmarks.geometry.shapes import Circle
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.openings.edge_work import lies_at
from cutmarks.openings.model import Cut, CutPiece
from cutmarks.openings.outlines import facing, is_rake, maker_side, sides_of
from cutmarks.plan import Plan
from cutmarks.plan.model import TileStock
from cutmarks.readings import ShopWishes
from cutmarks.saying.datum import datum_of
from cutmarks.saying.edge_work import edge_work_words
from cutmarks.saying.findings import findings_of, in_short
from cutmarks.saying.how_cut import tile_place_words
from cutmarks.setout.model import Void
from cutmarks.sides import SIDES, Side
from cutmarks.tiling.model import TileKind
from cutmarks.units import Style, say

WHOLE_TILE = "a whole tile each"
WAIT, SIGN_FIRST = "WAIT", "SIGN FIRST"
"""What must not be cut yet: before a new list comes; before it is signed for. One word each wherever it stands."""
ShopRow = tuple[str, str]
"""What is said, and the words."""
_TURNED = {
    None: "NO: the job does not say which way its pattern goes",
    "none": "the tile before it is cut, any way: it has no pattern",
    "two ways": "the tile before it is cut, half round; not the piece",
    "one way": "NO: its pattern goes one way",
}
OF_THE_CUTTING = frozenset(
    {
        *("hair bridge", "core breaks in", "thin bridge", "sharp horn", "thin leg", "long strip"),
        *("hair bite", "much cut out", "narrow piece", "will not snap"),
    }
)
"""The rules that are about how a tile is cut and carried; all others are about where it goes."""
_EDGES_BY: Mapping[bool | None, str] = {
    True: "the shop: the figures are those of the FACE when finished",
    False: "the tiler: leave them as cut, the figures are those of the FACE when finished",
    None: "not said: ask before cutting",
}
TENTHS = Style(finest=Fraction(1, 10))
"""A shop works in millimetres and to a tolerance, whatever the job is said in."""


def shop_mm(mm: float) -> str:
    """A measure for a shop: millimetres to the nearest tenth.

    >>> shop_mm(116.04), shop_mm(448.0)
    ('116', '448')
    """
    return say(mm, TENTHS)


def make_rows(
    plan: Plan, piece: CutPiece, make: str, out_of: str, signed: str, waits_with: str = ""
) -> Iterator[ShopRow]:
    """What is made, of what, how it may lie; `make` has how many and their names, `out_of` what they come out of.

    signed      which of them are signed for before they are cut.
    waits_with  the shared tiles of which another piece must not be cut yet; "" for none.
    """
    if signed:
        yield SIGN_FIRST, f"{signed}: cut by this page once sign-off.pdf is signed"
    tile = piece.piece.tile
    if later := measured_later(plan, piece):
        yield WAIT, later
    if word := not_yet(plan, piece, to_sign=bool(signed)):
        layers = plan.shop.layers.behind(in_a_name(word))
        name = in_a_name(word)
        yield "its files", f"have {name.lower()} in their names and {name} on their layers, as in {layers.outer}"
    elif not waits_with:
        yield "may be cut", "now"
    if waits_with:
        yield WAIT, f"for the rest of {waits_with}: a tile is cut when each of its pieces may be"
    yield "make", make
    yield "of the tile", f"{tile.name}, {shop_mm(tile.w)} x {shop_mm(tile.h)} as it lies"
    yield "out of", out_of
    yield "thickness", shop_mm(tile.thickness) if tile.thickness is not None else "not said: ask before cutting"
    marks = [
        f"{what} {value}" for what, value in (("batch", tile.batch), ("calibre", tile.calibre), ("shade", tile.shade))
    ]
    said = [one for one in marks if not one.endswith(" ")]
    yield "batch", ", ".join(said) if said else "not said: all of one box"
    yield "surface", surface_words(tile) or "not said"
    stock = stock_of(plan, piece)
    yield "may be turned", _TURNED[stock.pattern]


def not_yet(plan: Plan, piece: CutPiece, *, to_sign: bool) -> str:
    """Why a piece must not be cut yet: WAIT, SIGN FIRST where there is a sheet to sign; "" where it may be."""
    if plan.waits_for_reading(piece):
        return WAIT
    return SIGN_FIRST if to_sign and plan.say.cut == "ahead" else ""


def in_a_name(word: str) -> str:
    """A word of ours as it stands in names of layers, and of files in small letters: SIGN_FIRST."""
    return word.replace(" ", "_")


def asked_words(plan: Plan) -> str:
    """Who is asked about a job, and told what was found: its contact; that none is named, where it names none."""
    return plan.contact or "whoever sent this: the job names no contact"


def surface_words(tile: TileKind) -> str:
    """What a tile is made of, and what its face is: "porcelain, textured face"; "" where nothing is said."""
    kinds = (tile.material, "textured face" if tile.face == "textured" else "", "bevelled" if tile.bevelled else "")
    return ", ".join(filter(None, kinds))


def stock_of(plan: Plan, piece: CutPiece) -> TileStock:
    """What the job says of a piece's tile as it is bought."""
    name = piece.piece.tile.name
    return plan.supplies.tiles.get(name, TileStock(name))


def edge_rows(plan: Plan, piece: CutPiece) -> Iterator[ShopRow]:
    """Whose its edges are, what is done to those that are seen and by whom, or what hides them."""
    makers = makers_words(piece)
    yield "maker's edges", f"{makers}: not to be cut again" if makers else "none: all four are cut"
    if round_ := cut_round(plan, piece):
        yield "cut to", round_
    for words in edge_works(piece):
        yield "edge", words
    if piece.cut_edges or piece.cuts:
        yield "other edges", "as cut" if piece.edge_work else "nothing is done to what is cut: as cut"
    if any(work.hidden for work in piece.edge_work):
        yield "size", "what is hidden is within it: nothing is added or taken off for that"
    if plan.shop.edge_work is not False and any(work.is_mitred for work in piece.edge_work):
        back = f"the back at most {shop_mm(plan.shop.outline)} further in, never further out"
        yield "mitre", f"45 degrees from the edge of the FACE, to meet the mitred tile round the corner; {back}"
    if is_worked(piece):
        yield "edges done by", _EDGES_BY[plan.shop.edge_work]


def cut_round(plan: Plan, piece: CutPiece) -> str:
    """The windows, niches and doors that a piece is cut to, by their names; "" for none."""
    along = lies_at(piece.piece, piece.outline, plan.setout(piece.piece.surface))
    return ", ".join(dict.fromkeys(thing.called for _, thing in along if isinstance(thing, Void)))


def makers_words(piece: CutPiece) -> str:
    """The sides that the maker's edge is left on, in part where a notch runs out over one: "left, top in part"."""
    makers, cut = _edged(piece)
    return ", ".join(f"{side} in part" if side in cut else str(side) for side in makers)


def cut_edge_words(piece: CutPiece) -> str:
    """The sides that a cut makes, in part where that is a notch's and the maker's edge is left beside it."""
    makers, cut = _edged(piece)
    return ", ".join(f"{side} in part" if side in makers else str(side) for side in cut)


def _edged(piece: CutPiece) -> tuple[tuple[Side, ...], tuple[Side, ...]]:
    """The sides of a finished piece that the maker's edge, and those that a cut, lies on; holes have none.

    On both is a side that a notch runs out over, or a corner is cut off: a cut looks its way, and less is left of it
    than the piece is long. A taper leaves less of the side beside it too, but no cut looks that way.
    """
    tile = piece.piece.tile
    outer = Region(tuple(ring for ring in piece.outline.rings if ring.area > 0.0))
    makers, _ = sides_of(outer, tile.w, tile.h)
    around = (edge for ring in outer.rings for edge in edges(ring))
    seen = {side for edge in around if maker_side(edge, tile.w, tile.h) is None for side in _looks(edge)}
    return makers, tuple(
        side for side in SIDES if side in seen and (side not in makers or not _is_whole(outer, side, tile))
    )


def _looks(edge: Edge[Tile]) -> tuple[Side, ...]:
    """The sides that a cut edge looks towards: one that lies aslant towards two."""
    dx, dy = edge.x1 - edge.x0, edge.y1 - edge.y0
    if is_rake(dx, dy):
        return (facing(edge),)
    return Side.RIGHT if dy > 0 else Side.LEFT, Side.BOTTOM if dx > 0 else Side.TOP


def _is_whole(outer: Region[Tile], side: Side, tile: TileKind) -> bool:
    """Whether the maker's edge is there along all of a side."""
    around = (edge for ring in outer.rings for edge in edges(ring))
    kept = sum(edge.length for edge in around if maker_side(edge, tile.w, tile.h) is side)
    return kept >= (outer.bounds.height if side.axis == "across" else outer.bounds.width) - TOUCH


def is_worked(piece: CutPiece) -> bool:
    """Whether an edge of it is mitred or finished, after it was cut."""
    return any(work.is_mitred or work.finish not in ("", "as sawn") for work in piece.edge_work)


def edge_works(piece: CutPiece) -> list[str]:
    """What is done to its edges, or hides them: a sentence each."""
    return edge_work_words(piece, TENTHS, {side: _named(piece, side) for side in SIDES})


def _named(piece: CutPiece, side: Side) -> str:
    """What a side is called: that of a notch, which is not the piece's own, by where it lies."""
    tile, box, datum = piece.piece.tile, piece.outline.bounds, datum_of(piece)
    row = (edge for ring in piece.outline.rings for edge in edges(ring))
    cut = (one for one in row if isinstance(one, Segment) and maker_side(one, tile.w, tile.h) is None)
    own = [one for one in cut if facing(one) is side and is_rake(one.x1 - one.x0, one.y1 - one.y0)]
    across, zero = side.axis == "across", datum.on(side.axis)
    ends = [(one.x0, one.x1) if across else (one.y0, one.y1) for one in own]
    at_side = any(abs(place - box.at(side)) <= TOUCH for both in ends for place in both)  # its own side may rake
    at = {shop_mm(abs(both[0] - (box if zero in datum.trimmed else tile.box).at(zero))) for both in ends}
    return str(side) if at_side or len(at) != 1 else f"{side} side at {at.pop()} from the {zero}"


def cut_with_words(piece: CutPiece, wishes: ShopWishes) -> str:
    """What its outline and each of its holes is cut with: "outline, socket by jet or saw; hot by core 35".

    What a jet may make a saw may make as well: how that does it stands wherever this is said.
    """
    machine = "jet or saw" if wishes.jet else "saw"
    by_machine, by_core = ["outline"] if piece.piece.trimmed else [], []
    for cut in piece.cuts:
        core = core_of(cut, piece, wishes)
        if core is None:
            by_machine.append(cut.opening.name)
        else:
            by_core.append(f"{cut.opening.name} by core {shop_mm(core)}")
    return "; ".join([*([f"{', '.join(by_machine)} by {machine}"] if by_machine else []), *by_core])


def core_of(cut: Cut, piece: CutPiece, wishes: ShopWishes) -> float | None:
    """The core that drills a hole; None where the machine cuts it: a jet makes every hole that is not too small."""
    shape, thickness = cut.opening.shape, piece.piece.tile.thickness or 0.0
    if not wishes.jet:
        return cut.opening.core if cut.opening.drilled is None else cut.opening.drilled.core
    if not isinstance(shape, Circle) or cut.kind != "hole":
        return None
    return shape.d if shape.d < max(wishes.least_hole, thickness) else None


def mass_words(plan: Plan, piece: CutPiece) -> str:
    """What the finished piece weighs: "1.46 kg"; "" where its thickness is not known."""
    thickness = piece.piece.tile.thickness
    if thickness is None:
        return ""
    return f"{plan.cuttings[piece.name].mass(thickness, plan.limits.tile_density.value):.2f} kg"


def check_rows(plan: Plan, piece: CutPiece, cutting: Cutting, measured: Sequence[str]) -> Iterator[ShopRow]:
    """What it is cut with and checked by, how its corners are made, what a jet cannot make.

    `measured` has what is measured between its numbered corners.
    """
    wishes, mass = plan.shop, mass_words(plan, piece)
    yield "cut with", cut_with_words(piece, wishes)
    if mass:
        yield "mass", f"{mass}, at {shop_mm(plan.limits.tile_density.value)} kg a litre"
    yield "may be out", _tolerance_words(wishes)
    yield "check by", "a steel rule: each figure of the drawing, from the edges that it is measured from; and"
    for words in measured:
        yield "", words
    yield "contour", f"finished size, nominal: no kerf is taken off; 0, 0 is {_zero_words(piece)}"
    yield "open paths", f"the file with _open_: cuts alone; {'; '.join(_kerf_words(cutting, wishes))}"
    yield from corner_rows(piece, cutting)
    if wishes.note:
        yield "shop", wishes.note
    for trouble in cutting.trouble:
        yield "look", trouble_words(trouble, piece)


def _kerf_words(cutting: Cutting, wishes: ShopWishes) -> Iterator[str]:
    """On which side of what is cut the kerf lies: of what is open by the way it runs, of what is closed it is inside.

    A CIRCLE runs no way of its own, and most machines run it anticlockwise: then its slug is on the left.
    """
    if cutting.open:
        plain = wishes.dxf == "R12 plain"
        whose = "each LINE's" if plain else "its"
        yield f"what is open runs on past the tile's edge, the piece on {whose} left and the kerf on {whose} right"
        if plain:
            yield "an ARC, which always runs anticlockwise, has its kerf where the lines that it joins have it"
    if any(path.is_inner for path in cutting.closed):
        yield "a hole (a CIRCLE, a closed line) has slug and kerf inside it, the piece outside, whichever way it is run"
    if any(not path.is_inner for path in cutting.closed):
        yield "the outline, closed, has the piece inside it and the kerf outside"
    if cutting.holes:
        yield "the small holes in its corners are drilled to their size"


def _tolerance_words(wishes: ShopWishes) -> str:
    """How far which figure may be out."""
    outline, place = shop_mm(wishes.outline), shop_mm(wishes.place)
    edges = f"each cut edge, notch and corner radius \u00b1{outline}"
    arris = f"an arris taken off, or a chip, no wider than {shop_mm(wishes.arris)} on the FACE"
    return f"{edges}; where a hole is \u00b1{place}; its diameter -0 +{shop_mm(wishes.over)}; {arris}"


def _zero_words(piece: CutPiece) -> str:
    """Where the drawing's 0, 0 lies, and by what a tile is set that is not exactly of its size."""
    if not piece.factory_edges and piece.piece.trimmed:
        return "its own lower left corner"
    tile, datum = piece.piece.tile, datum_of(piece)
    zero = f"the lower left corner of a tile of {shop_mm(tile.w)} x {shop_mm(tile.h)}"
    if (datum.across, datum.up) == (Side.LEFT, Side.BOTTOM):
        return zero
    return f"{zero}; set one that is larger or smaller by its {datum.across} and its {datum.up} edge"


def corner_rows(piece: CutPiece, cutting: Cutting) -> Iterator[ShopRow]:
    """What was made of inside corners, where it has any, and where that has no room."""
    corners = cutting.corners
    if corners.way == "round" and cutting.outline != piece.outline:
        yield "inside corners", f"radius {shop_mm(corners.mm)}, drawn"
    elif cutting.holes:
        yield "inside corners", f"a hole of {shop_mm(corners.mm)} in each first, drawn"
    for at in cutting.sharp:
        what = "a radius" if corners.way == "round" else "a hole"
        where = tile_place_words(at, piece, TENTHS)
        yield "look", f"no room for {what} of {shop_mm(corners.mm)} at {where}: left sharp"


def to_look_at(plan: Plan, piece: CutPiece) -> list[str]:
    """What whoever cuts it is to look at, a sentence each; how inside corners are made stands elsewhere.

    What asks for another reading, start or cover is not a shop's to settle: see `settled_elsewhere`.
    """
    return [in_short(one) for one in _doubts(plan, piece) if one.rule in OF_THE_CUTTING]


def settled_elsewhere(plan: Plan, piece: CutPiece) -> bool:
    """Whether there is more to look at, which whoever sends it was told of and decides."""
    return any(one.rule not in OF_THE_CUTTING for one in _doubts(plan, piece))


def _doubts(plan: Plan, piece: CutPiece) -> Iterator[Finding]:
    return (one for one in findings_of(plan, piece) if one.level != "note" and one.accepted is None)


def measured_later(plan: Plan, piece: CutPiece) -> str:
    """Of a piece that is trimmed to what is read on the wall: that it is not to be cut before; else ""."""
    if not plan.waits_for_reading(piece):
        return ""
    return "do not cut yet: these are sizes to expect; what is read on the wall decides, in a new list"


def look_rows(plan: Plan, piece: CutPiece, *, signed: bool) -> Iterator[ShopRow]:
    """What is to be looked at before it is cut; that all else is settled: a shop does not read on the wall."""
    yield from (("CHECK", words) for words in to_look_at(plan, piece))
    if settled_elsewhere(plan, piece):
        by = "by signing" if signed else "by sending it"
        known = "nothing more is to be asked: whoever sent this knows the other doubts about it"
        yield "settled", f"{known}, and {by} decided that it is cut as drawn"


def trouble_words(trouble: ForTheJet, piece: CutPiece) -> str:
    """What a jet cannot make of a contour."""
    at = f"at {tile_place_words(trouble.at, piece, TENTHS)}"
    match trouble.what:
        case "no room to pierce":
            return (
                f"{at}: the largest circle in what is cut out is {shop_mm(trouble.mm)}, and a jet begins in "
                f"{shop_mm(trouble.least)}: drill there first"
            )
        case "small hole":
            return f"{at}: a hole of {shop_mm(trouble.mm)} is under {shop_mm(trouble.least)}: drill it with a core"
        case "small radius":
            return f"{at}: a radius of {shop_mm(trouble.mm)} is under the {shop_mm(trouble.least)} that a jet leaves"
