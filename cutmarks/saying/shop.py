"""What a shop is told of a piece: how many, of what, which side up, what to check, how its corners are made."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction

from cutmarks.cutting.model import Cutting, ForTheJet
from cutmarks.geometry.shapes import Circle
from cutmarks.openings.model import Cut, CutPiece
from cutmarks.plan import Plan
from cutmarks.plan.model import TileStock
from cutmarks.readings import ShopWishes
from cutmarks.saying.edge_work import edge_work_words
from cutmarks.saying.findings import findings_of
from cutmarks.tiling.model import TileKind
from cutmarks.units import Style, say

WHOLE_TILE = "a whole tile each"
BLANK = "." * 22
"""Room for a figure or a name."""
ShopRow = tuple[str, str]
"""What is said, and the words."""
_TURNED = {
    None: "NO: the job does not say which way its pattern goes",
    "none": "the tile before it is cut, any way: it has no pattern",
    "two ways": "the tile before it is cut, half round; not the piece",
    "one way": "NO: its pattern goes one way",
}
_EDGES_BY: Mapping[bool | None, str] = {
    True: "the shop",
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


def make_rows(plan: Plan, piece: CutPiece, make: str, out_of: str) -> Iterator[ShopRow]:
    """What is made, of what, how it may lie; `make` has how many and their names, `out_of` what they come out of."""
    tile = piece.piece.tile
    if later := measured_later(plan, piece):
        yield "WAIT", later
        yield "found", f"{BLANK} mm   read by, date {BLANK}   (to {asked_words(plan)})"
    yield "make", make
    yield "of the tile", f"{tile.name}, {shop_mm(tile.w)} x {shop_mm(tile.h)} as it lies"
    yield "out of", out_of
    yield "thickness", shop_mm(tile.thickness) if tile.thickness is not None else "not said: ask before cutting"
    marks = [
        f"{what} {value}" for what, value in (("batch", tile.batch), ("calibre", tile.calibre), ("shade", tile.shade))
    ]
    said = [one for one in marks if not one.endswith(" ")]
    yield "batch", ", ".join(said) if said else "not said: all of one box"
    if surface := surface_words(tile):
        yield "surface", surface
    stock = stock_of(plan, piece)
    yield "may be turned", _TURNED[stock.pattern]


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
    makers = ", ".join(f"{edge}{' in part' if edge in piece.cut_edges else ''}" for edge in piece.factory_edges)
    yield "maker's edges", f"{makers}: not to be cut again" if makers else "none: all four are cut"
    for words in edge_works(piece):
        yield "edge", words
    if any(work.hidden for work in piece.edge_work):
        yield "size", "what is hidden is within it: nothing is added or taken off for that"
    if any(work.is_mitred for work in piece.edge_work):
        yield "mitre", "45 degrees, to meet the mitred edge of the tile round the corner"
    if is_worked(piece):
        yield "edges done by", _EDGES_BY[plan.shop.edge_work]


def is_worked(piece: CutPiece) -> bool:
    """Whether an edge of it is mitred or finished, after it was cut."""
    return any(work.is_mitred or work.finish not in ("", "as sawn") for work in piece.edge_work)


def edge_works(piece: CutPiece) -> list[str]:
    """What is done to its edges, or hides them: a sentence each."""
    return edge_work_words(piece, TENTHS)


def cut_with_words(piece: CutPiece, wishes: ShopWishes) -> str:
    """What its outline and each of its holes is cut with: "jet: outline, socket; core: hot 35"."""
    machine = "saw" if not wishes.jet else "jet" if wishes.said else "jet or saw"
    by_machine, by_core = ["outline"] if piece.piece.trimmed else [], []
    for cut in piece.cuts:
        core = core_of(cut, piece, wishes)
        if core is None:
            by_machine.append(cut.opening.name)
        else:
            by_core.append(f"{cut.opening.name} {shop_mm(core)}")
    said = [f"{machine}: {', '.join(by_machine)}"] if by_machine else []
    said += [f"core: {', '.join(by_core)}"] if by_core else []
    return "; ".join(said)


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
    tolerance = f"outline \u00b1{shop_mm(wishes.outline)}, holes where they are \u00b1{shop_mm(wishes.place)}"
    yield "tolerance", f"{tolerance}, diameters -0 +{shop_mm(wishes.over)}"
    for words in measured:
        yield "check by", words
    yield "contour", "finished size, nominal: no kerf is taken off"
    yield "open paths", "those that are cut, without maker's edges: the file with _open_"
    yield from corner_rows(piece, cutting)
    if wishes.note:
        yield "shop", wishes.note
    for trouble in cutting.trouble:
        yield "look", trouble_words(trouble)


def corner_rows(piece: CutPiece, cutting: Cutting) -> Iterator[ShopRow]:
    """What was made of inside corners, where it has any, and where that has no room."""
    corners = cutting.corners
    if corners.way == "round" and cutting.outline != piece.outline:
        yield "inside corners", f"radius {shop_mm(corners.mm)}, drawn"
    elif cutting.holes:
        yield "inside corners", f"a hole of {shop_mm(corners.mm)} in each first, drawn"
    for at in cutting.sharp:
        what = "a radius" if corners.way == "round" else "a hole"
        yield "look", f"no room for {what} of {shop_mm(corners.mm)} at {shop_mm(at.x)}, {shop_mm(at.y)}: left sharp"


def to_look_at(plan: Plan, piece: CutPiece) -> list[str]:
    """What is to be looked at before it is cut, a sentence each; how inside corners are made stands elsewhere."""
    found = findings_of(plan, piece)
    return [one.text for one in found if one.level != "note" and one.accepted is None]


def measured_later(plan: Plan, piece: CutPiece) -> str:
    """Of a piece that is trimmed to what is read on the wall: that it is not to be cut before; else ""."""
    if not plan.waits_for_reading(piece):
        return ""
    return "do not cut yet: these are the sizes to expect; it is trimmed to what is read on the wall, by a new list"


def trouble_words(trouble: ForTheJet) -> str:
    """What a jet cannot make of a contour."""
    at = f"at {shop_mm(trouble.at.x)}, {shop_mm(trouble.at.y)}"
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
