"""What a workshop's list says of each number: how many of which pieces, how large, what is cut and how."""

from __future__ import annotations

from collections.abc import Iterator

from cutmarks.buying.guillotine import CutAcross
from cutmarks.cutting.operations import StraightCut
from cutmarks.geometry.shapes import Circle
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.openings.model import Cut, CutPiece
from cutmarks.saying.how_cut import how_in_short, stops_in_words, to_cut
from cutmarks.saying.infills import infill_lines
from cutmarks.saying.measures import check_words
from cutmarks.saying.shop import TENTHS, WHOLE_TILE, asked_words, core_of, shop_mm
from cutmarks.sides import SIDES
from cutmarks.workshop.alike import Numbered, ShopPiece
from cutmarks.workshop.pack import SharedTile, ShopPack, TileCount

MM_OF_A_METRE = 1000.0
SHARED = "out of shared tile"
MOST_SHARED = 2
"""Of pieces that lie in more tiles the names are not told in a list."""
_TURNS = ("", ", its UP to the left", ", its UP down", ", its UP to the right")
"""Which way a piece lies that is turned so many quarters against the clock."""


def pieces_words(number: Numbered, several: bool) -> str:
    """The pieces of a number, each with its job where there are several; one that is turned says so."""
    by_job: dict[str, list[str]] = {}
    for one in number.pieces:
        name = f"{one.piece.name} (turned half round)" if one.turned else one.piece.name
        by_job.setdefault(one.plan.job, []).append(name)
    return "; ".join(f"{job}: {', '.join(names)}" if several else ", ".join(names) for job, names in by_job.items())


def offcut_words(pack: ShopPack, number: Numbered) -> str:
    """Which of its pieces come out of shared tiles, or of another's offcut; "" where all take a whole one.

    Where they lie in many tiles these are named alone: each tile has the names of its pieces beside it.
    """
    others = _not_whole(pack, number)
    tiles = [where for where in others if where.startswith(SHARED)]
    if len(tiles) <= MOST_SHARED:
        return "; ".join(f"{', '.join(names)} {where}" for where, names in others.items())
    many = sum(len(others[where]) for where in tiles)
    said = f"{many} {SHARED}s {', '.join(where.removeprefix(SHARED).strip() for where in tiles)}"
    rest = (f"{', '.join(names)} {where}" for where, names in others.items() if where not in tiles)
    return "; ".join([said, *rest])


def out_of_words(pack: ShopPack, number: Numbered) -> str:
    """What its pieces come out of: a whole tile each, but for those that come out of another's."""
    others = _not_whole(pack, number)
    if not others:
        return WHOLE_TILE
    words = offcut_words(pack, number)
    if any(where.startswith(SHARED) for where in others):
        words += "; its straight cuts there are those of shared-tiles.pdf, not those out of a whole tile"
    return words if sum(map(len, others.values())) == len(number.pieces) else f"{WHOLE_TILE}, but for {words}"


def _not_whole(pack: ShopPack, number: Numbered) -> dict[str, list[str]]:
    """The names of its pieces that take no whole tile, by what they come out of."""
    found: dict[str, list[str]] = {}
    for one in number.pieces:
        shared, before = shared_of(pack, one), pack.left_of.get((one.plan.job, one.piece.piece.name))
        if shared is not None:
            found.setdefault(f"{SHARED} {shared}", []).append(one.piece.name)
        elif before is not None:
            found.setdefault(f"from the offcut of {before}", []).append(one.piece.name)
    return found


def signed_words(number: Numbered) -> str:
    """Which of its pieces must not be cut before they are signed for; "" where all may be."""
    return ", ".join(one.piece.name for one in number.pieces if one.plan.say.cut == "ahead")


def stop_words(one: ShopPiece) -> list[str]:
    """Where each disc stops before a corner, and how each side that is plunged is: a sentence each."""
    return stops_in_words(to_cut(one.plan, one.piece), one.piece, TENTHS)


def job_words(pack: ShopPack) -> Iterator[str]:
    """Each job of a pack with its digits, as they stand on its labels and drawings, and who is asked about it."""
    for plan in pack.plans:
        own = sum(one.plan is plan for number in pack.numbered for one in number.pieces)
        when = ", cut ahead: sign-off first" if plan.say.cut == "ahead" else ""
        yield f"{plan.job}: job {plan.fingerprint}, {own} pieces{when}"
        yield f"    ask {asked_words(plan)}"


def shared_of(pack: ShopPack, one: ShopPiece) -> int | None:
    """The number of the shared tile that a piece lies in, from 1; None where it lies in none that is drawn."""
    name = one.piece.piece.name
    places = (n for n, tile in enumerate(pack.shared, 1) if tile.job == one.plan.job and name in tile.pieces)
    return next(places, None)


def shared_cuts(pack: ShopPack, tile: SharedTile) -> Iterator[str]:
    """The cuts of a shared tile in their order, each right through what holds together there.

    Where too little for a snap is left beside one, that it is sawn.
    """
    plan = next(plan for plan in pack.plans if plan.job == tile.job)
    least = plan.limits.snaps.value
    for number, cut in enumerate(tile.layout.cuts, start=1):
        way, side, along = ("up", "left", "bottom") if cut.axis == "across" else ("across", "bottom", "left")
        whole = tile.h if cut.axis == "across" else tile.w
        right = "" if cut.end - cut.start >= whole - 1.0 else f", from {shop_mm(cut.start)} to {shop_mm(cut.end)}"
        reach = f"{right} from the {along}" if right else ", right through"
        thin = min((wide for wide in strips_beside(tile, cut, plan.supplies.kerf) if wide < least), default=None)
        saw = "" if thin is None else f"; saw or grind it: the {shop_mm(thin)} beside it does not snap"
        yield f"{number}. {way} at {shop_mm(cut.at)} from the {side}{reach}{saw}"


def strips_beside(tile: SharedTile, cut: CutAcross, kerf: float) -> Iterator[float]:
    """How wide what lies to each side of a cut is, to the next cut beside it or the tile's edge, mm; not where none."""
    whole = tile.w if cut.axis == "across" else tile.h
    beside = [
        one
        for one in tile.layout.cuts
        if one.axis == cut.axis and one != cut and min(one.end, cut.end) - max(one.start, cut.start) > TOUCH
    ]
    before = max((one.low + kerf for one in beside if one.low < cut.low), default=0.0)
    after = min((one.low for one in beside if one.low > cut.low), default=whole)
    yield from (wide for wide in (cut.low - before, after - cut.low - kerf) if wide > TOUCH)


def shared_pieces(pack: ShopPack, tile: SharedTile) -> Iterator[str]:
    """What lies in a shared tile, where its lower left corner is, which way its UP points where it is turned.

    Of what is no rectangle, whose drawing it is cut to afterwards.
    """
    numbers = {(one.plan.job, one.piece.piece.name): (n, one.piece) for n in pack.numbered for one in n.pieces}
    for one in tile.layout.pieces:
        at = f"{shop_mm(one.x)}, {shop_mm(one.y)}"
        name = tile.pieces[one.kind]
        number, piece = numbers[tile.job, name]
        shaped = piece.outline.area < piece.outline.bounds.width * piece.outline.bounds.height - 1.0
        then = f"; then cut to drawing no. {number.number}" if shaped else f", no. {number.number}"
        yield f"{name}: {shop_mm(one.w)} x {shop_mm(one.h)} at {at}{_TURNS[one.turn]}{then}"


def left_over_words(tile: SharedTile) -> str:
    """What is left over of a tile."""
    left = "; ".join(f"{shop_mm(w)} x {shop_mm(h)}" for w, h in tile.layout.left)
    return f"left over: {left}" if left else "nothing left over"


def hole_words(one: ShopPiece, cut: Cut) -> str:
    """A round hole by its middle from the four edges of the whole tile, all else by its sides; core, tile left."""
    drilled, box = core_of(cut, one.piece, one.plan.shop), cut.share.bounds
    core = "" if drilled is None else f", core {shop_mm(drilled)}"
    web = "" if cut.web.nearest is None else f", {shop_mm(cut.web.nearest)} of tile beside it"
    if isinstance(cut.opening.shape, Circle) and cut.kind == "hole":
        edges = ", ".join(f"{side} {shop_mm(cut.from_edges[side])}" for side in SIDES)
        return f"{cut.opening.name}: dia {shop_mm(cut.opening.shape.d)}, its middle from {edges}{core}{web}"
    across = f"{shop_mm(box.min_x)} to {shop_mm(box.max_x)} from the left"
    up = f"{shop_mm(box.min_y)} to {shop_mm(box.max_y)} from the bottom"
    size = f"{shop_mm(box.width)} x {shop_mm(box.height)}"
    return f"{cut.opening.name}: {cut.kind} {size}, {across}, {up}{core}{web}"


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
            at = f" at the {end} of the whole tile" if measure.two else ""
            yield f"{shop_mm(figure)} from the {measure.side}{at} ({sum_})"
            if not measure.two:
                break


def short_words(one: ShopPiece) -> str:
    """How it is cut with a saw, in one line."""
    short = how_in_short(to_cut(one.plan, one.piece), one.piece, TENTHS)
    return f"by saw: {short}" if short and one.plan.shop.jet else short


def cut_words(pack: ShopPack, number: Numbered) -> str:
    """The same of a number, of whose pieces some may have to come out of a shared tile first."""
    short = short_words(number.first)
    if all(shared_of(pack, one) is None for one in number.pieces):
        return short
    return f"out of a shared tile: by shared-tiles.pdf first; out of a whole one {short}"


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
        f"{one.tile} {shop_mm(one.w)} x {shop_mm(one.h)}{batch}: {one.pieces} pieces out of {one.whole} tiles, "
        f"{one.spares} spare; "
        f"{one.length / MM_OF_A_METRE:.2f} m cut, {one.contours} contours."
    )


def room_words(piece: CutPiece) -> str:
    """Which wall or floor, and where on it."""
    return f"{piece.piece.surface}, {piece.words}"
