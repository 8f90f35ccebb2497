"""What a workshop's list says of each number: how many of which pieces, how large, what is cut and how."""

from __future__ import annotations

from collections.abc import Iterator

from cutmarks.cutting.operations import StraightCut
from cutmarks.openings.model import Cut, CutPiece
from cutmarks.saying.how_cut import how_in_short, to_cut
from cutmarks.saying.infills import infill_lines
from cutmarks.saying.measures import check_words
from cutmarks.saying.shop import shop_mm
from cutmarks.sides import SIDES
from cutmarks.units import Style
from cutmarks.workshop.alike import Numbered, ShopPiece
from cutmarks.workshop.pack import ShopPack, TileCount

_MM = Style()
MM_OF_A_METRE = 1000.0


def pieces_words(number: Numbered, several: bool) -> str:
    """The pieces of a number, each with its job where there are several; one that is turned says so."""
    by_job: dict[str, list[str]] = {}
    for one in number.pieces:
        name = f"{one.piece.name} (turned half round)" if one.turned else one.piece.name
        by_job.setdefault(one.plan.job, []).append(name)
    return "; ".join(f"{job}: {', '.join(names)}" if several else ", ".join(names) for job, names in by_job.items())


def offcut_words(pack: ShopPack, number: Numbered) -> str:
    """Which of its pieces are cut from what another leaves of its tile; "" where all take a whole one."""
    said = []
    for one in number.pieces:
        before = pack.left_of.get((one.plan.job, one.piece.piece.name))
        if before is not None:
            said.append(f"{one.piece.name} from the offcut of {before}")
    return "; ".join(said)


def hole_words(cut: Cut) -> str:
    """A hole by its middle from the four edges of the whole tile, its core, and what is left beside it."""
    left, right, bottom, top = (shop_mm(cut.from_edges[side]) for side in SIDES)
    core = "" if cut.opening.core is None else f", core {shop_mm(cut.opening.core)}"
    web = "" if cut.web.nearest is None else f", {shop_mm(cut.web.nearest)} of tile beside it"
    box = cut.share.bounds
    size = f"{shop_mm(box.width)} x {shop_mm(box.height)}"
    return f"{cut.opening.name}: {cut.kind} {size}, left {left} right {right} bottom {bottom} top {top}{core}{web}"


def straight_words(one: ShopPiece) -> Iterator[str]:
    """Each straight cut from its edge, with the sum: what is kept, the saw's kerf, what comes off, the tile."""
    tile = one.piece.piece.tile
    for cut in to_cut(one.plan, one.piece).operations:
        measure = cut.from_edge if isinstance(cut, StraightCut) else None
        if not isinstance(cut, StraightCut) or measure is None:
            continue
        kerf = 0.0 if cut.way == "snap" else one.plan.supplies.kerf  # what is snapped loses nothing
        whole = tile.w if measure.side.axis == "across" else tile.h
        for end, figure in zip(measure.side.beside, (measure.first, measure.last), strict=True):
            kept = figure if measure.keeps else whole - figure
            off = max(whole - kept - kerf, 0.0)
            sum_ = f"{shop_mm(kept)} + {shop_mm(min(kerf, whole - kept))} + {shop_mm(off)} = {shop_mm(whole)}"
            at = f" at the {end}" if measure.two else ""
            yield f"{shop_mm(figure)} from the {measure.side}{at} ({sum_})"
            if not measure.two:
                break


def short_words(one: ShopPiece) -> str:
    """How it is cut, in one line."""
    return how_in_short(to_cut(one.plan, one.piece), one.piece, _MM)


def hangs_on(one: ShopPiece) -> Iterator[str]:
    """The readings that a piece which is cut ahead hangs on: of each hole, and of what it is trimmed to."""
    style = one.plan.say.style
    for cut in one.piece.cuts:
        checks = "; ".join(f"from {check.source.name} {check_words(check, style)}" for check in cut.wall_checks)
        yield f"{cut.opening.name}: {checks or 'not read on the wall'}"
    yield from infill_lines(one.plan, one.piece)


def read_by(one: ShopPiece) -> str:
    """By whom and when it was read at the wall, as far as that came back; "" where nothing did."""
    own = [found for found in one.plan.found if found.piece == one.piece.name]
    return "; ".join(dict.fromkeys(" ".join(filter(None, (found.by, found.date))) for found in own))


def count_words(one: TileCount) -> str:
    """What the pieces of one kind of tile come to."""
    batch = f", batch {one.batch}" if one.batch else ""
    return (
        f"{one.tile} {shop_mm(one.w)} x {shop_mm(one.h)}{batch}: {one.pieces} pieces, {one.spares} spare; "
        f"{one.length / MM_OF_A_METRE:.2f} m cut, {one.contours} contours."
    )


def room_words(piece: CutPiece) -> str:
    """Which wall or floor, and where on it."""
    return f"{piece.piece.surface}, {piece.words}"
