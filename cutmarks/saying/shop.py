"""What a shop is told of a piece: how many, of what, which side up, what to check, how its corners are made."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from cutmarks.cutting.model import Cutting, ForTheJet
from cutmarks.openings.model import CutPiece
from cutmarks.plan import Plan
from cutmarks.plan.model import TileStock
from cutmarks.readings import ShopWishes
from cutmarks.saying.edge_work import edge_work_words
from cutmarks.units import Style

ShopRow = tuple[str, str]
"""What is said, and the words."""
_TURNED = {
    None: "NO: the job does not say which way its pattern goes",
    "none": "any way: it has no pattern",
    "two ways": "half round, so that UP is down",
    "one way": "NO: its pattern goes one way",
}
_MM = Style()
"""A shop works in millimetres, whatever the job is said in."""


def shop_mm(mm: float) -> str:
    """A measure for a shop: millimetres to a tenth.

    >>> shop_mm(116.04), shop_mm(448.0)
    ('116', '448')
    """
    return f"{mm + 0.0:.1f}".removesuffix(".0")


def make_rows(plan: Plan, piece: CutPiece, names: Sequence[str]) -> Iterator[ShopRow]:
    """What is made, of pieces that are cut alike, by their names: how many, of which tile, how its pattern runs."""
    tile = piece.piece.tile
    yield "make", f"{len(names)} off: {', '.join(names)}"
    yield "of the tile", f"{tile.name}, {shop_mm(tile.w)} x {shop_mm(tile.h)} as it lies, one tile a piece"
    yield "thickness", shop_mm(tile.thickness) if tile.thickness is not None else "not said: ask before cutting"
    marks = [
        f"{what} {value}" for what, value in (("batch", tile.batch), ("calibre", tile.calibre), ("shade", tile.shade))
    ]
    said = [one for one in marks if not one.endswith(" ")]
    yield "batch", ", ".join(said) if said else "not said: all of one box"
    if tile.material or tile.face == "textured" or tile.bevelled:
        kinds = [tile.material, "textured face" if tile.face == "textured" else "", "bevelled" if tile.bevelled else ""]
        yield "surface", ", ".join(one for one in kinds if one)
    stock = stock_of(plan, piece)
    yield "may be turned", _TURNED[stock.pattern]


def stock_of(plan: Plan, piece: CutPiece) -> TileStock:
    """What the job says of a piece's tile as it is bought."""
    name = piece.piece.tile.name
    return plan.supplies.tiles.get(name, TileStock(name))


def edge_rows(piece: CutPiece) -> Iterator[ShopRow]:
    """Whose its edges are, and what is done to those that are seen."""
    makers = ", ".join(piece.factory_edges)
    yield "maker's edges", f"{makers}: not to be cut again" if makers else "none: all four are cut"
    for words in edge_work_words(piece, _MM):
        yield "seen", words


def check_rows(piece: CutPiece, cutting: Cutting, wishes: ShopWishes, diagonal: float) -> Iterator[ShopRow]:
    """What it is checked by, how its corners are made, what a jet cannot make."""
    tolerance = f"outline \u00b1{shop_mm(wishes.outline)}, holes where they are \u00b1{shop_mm(wishes.place)}"
    yield "tolerance", f"{tolerance}, diameters -0 +{shop_mm(wishes.over)}"
    yield "diagonal", f"A to B {shop_mm(diagonal)}"
    yield "contour", "finished size, nominal: no kerf is taken off"
    yield from corner_rows(cutting)
    if wishes.note:
        yield "shop", wishes.note
    for trouble in cutting.trouble:
        yield "look", trouble_words(trouble)


def corner_rows(cutting: Cutting) -> Iterator[ShopRow]:
    """What was made of inside corners, and where that has no room."""
    corners = cutting.corners
    if corners.way == "round":
        yield "inside corners", f"radius {shop_mm(corners.mm)}, drawn"
    elif corners.way == "holes":
        yield "inside corners", f"a hole of {shop_mm(corners.mm)} in each first, drawn"
    for at in cutting.sharp:
        what = "a radius" if corners.way == "round" else "a hole"
        yield "look", f"no room for {what} of {shop_mm(corners.mm)} at {shop_mm(at.x)}, {shop_mm(at.y)}: left sharp"


def measured_later(plan: Plan, piece: CutPiece) -> Iterator[ShopRow]:
    """Of a piece that is trimmed to what is read on the wall: that it is not to be cut before."""
    found = {one.piece for one in plan.infills_found}
    if piece.infills and plan.say.cut == "on the day" and piece.name not in found:
        yield "WAIT", "it is trimmed to what is read on the wall: these are the sizes to expect"


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
