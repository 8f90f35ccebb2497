"""What a workshop's list says of each number: how many of which pieces, how large, what is cut and how."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec import Struct
from msgspec.structs import replace

from cutmarks.buying.guillotine import CutAcross
from cutmarks.cutting.operations import HowCut, StraightCut
from cutmarks.geometry.shapes import Circle
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.openings.model import Cut, CutPiece
from cutmarks.saying.datum import datum_of
from cutmarks.saying.how_cut import how_in_short, how_lines, set_out_from, stops_in_words, to_cut
from cutmarks.saying.infills import infill_lines
from cutmarks.saying.measures import check_words
from cutmarks.saying.shop import TENTHS, WAIT, WHOLE_TILE, asked_words, core_of, is_worked, not_yet, shop_mm
from cutmarks.sides import SIDES, Side
from cutmarks.workshop.alike import Numbered, ShopPiece
from cutmarks.workshop.pack import ShopPack, TileCount
from cutmarks.workshop.shared import CoreFirst, SharedTile, TileCut, still_to_cut

MM_OF_A_METRE = 1000.0
SHARED = "out of shared tile"
MOST_SHARED = 2
"""Of pieces that lie in more tiles the names are not told in a list."""
_UPS = tuple(f"its UP to the {side} of the tile" for side in (Side.TOP, Side.LEFT, Side.BOTTOM, Side.RIGHT))
"""Which way the UP of a piece points in its tile that lies there turned so many quarters, against the clock."""
UP_DOWN = "UP down on the drawing"
"""Of a piece that is cut by the drawing of another one, turned half round."""


def pieces_words(number: Numbered, several: bool) -> str:
    """The pieces of a number, each with its job where there are several; one that is turned says so."""
    by_job: dict[str, list[str]] = {}
    for one in number.pieces:
        name = f"{one.piece.name} ({UP_DOWN})" if one.turned else one.piece.name
        by_job.setdefault(one.plan.job, []).append(name)
    return "; ".join(f"{job}: {', '.join(names)}" if several else ", ".join(names) for job, names in by_job.items())


def offcut_words(pack: ShopPack, number: Numbered, most: int = MOST_SHARED) -> str:
    """Which of its pieces come out of shared tiles, or of another's offcut; "" where all take a whole one.

    Where they lie in more tiles than `most` these are named alone: each tile has the names of its pieces beside it.
    """
    others = _not_whole(pack, number)
    tiles = [where for where in others if where.startswith(SHARED)]
    if len(tiles) <= most:
        return "; ".join(f"{', '.join(names)} {where}" for where, names in others.items())
    many = sum(len(others[where]) for where in tiles)
    said = f"{many} {SHARED}s {', '.join(sorted((where.removeprefix(SHARED).strip() for where in tiles), key=int))}"
    rest = (f"{', '.join(names)} {where}" for where, names in others.items() if where not in tiles)
    return "; ".join([said, *rest])


def out_of_words(pack: ShopPack, number: Numbered) -> str:
    """What its pieces come out of: a whole tile each, but for those that come out of another's."""
    others = _not_whole(pack, number)
    if not others:
        return WHOLE_TILE
    words = offcut_words(pack, number, most=len(others))
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


def tile_words(pack: ShopPack, tile: SharedTile) -> Iterator[str]:
    """All that is done to a shared tile, in its one order: holes, its cuts, what is left of its pieces.

    Where too little for a snap is left beside a cut, that it is sawn.
    """
    plan = next(plan for plan in pack.plans if plan.job == tile.job)
    steps = [f"{core_first_words(one)}, while the tile is whole" for one in tile.cores]
    steps += [_tile_cut_words(tile, one, plan.limits.snaps.value) for one in tile.cuts]
    numbers = {(one.plan.job, one.piece.name): n.number for n in pack.numbered for one in n.pieces}
    for here in tile.lying:
        left, name = still_to_cut(tile, here, here.one), here.one.piece.name
        if left.operations:
            short = how_in_short(left, here.one.piece, TENTHS)
            steps.append(f"{name}, cut out, by its own drawing no. {numbers[tile.job, name]}: {short}")
    yield from (f"{number}. {words}" for number, words in enumerate(steps, start=1))


def core_first_words(one: CoreFirst) -> str:
    """A hole that is drilled while its shared tile is whole: its middle from the left and the bottom of that."""
    at = f"{shop_mm(one.core.at.x)} from the left, {shop_mm(one.core.at.y)} from the bottom"
    return f"{one.core.cut} of {one.piece}: core {shop_mm(one.core.d)} from the {one.core.side}, its middle {at}"


def _tile_cut_words(tile: SharedTile, one: TileCut, least: float) -> str:
    cut = one.across
    way, side = ("up", Side.LEFT) if cut.axis == "across" else ("across", Side.BOTTOM)
    low, high = side.beside
    if cut.at > cut.low:  # what is kept lies behind the kerf: it has the maker's edge on the other side
        size = tile.w if cut.axis == "across" else tile.h
        one, side = replace(one, first=size - one.first, last=size - one.last), side.opposite
    whole = tile.h if cut.axis == "across" else tile.w
    through = cut.end - cut.start >= whole - 1.0
    reach = ", right through" if through else f", from {shop_mm(cut.start)} to {shop_mm(cut.end)} from the {low}"
    if one.of:
        ends = [f"the {low}", f"the {high}" if through else f"{shop_mm(cut.end)} from the {low}"]
        if cut.start > 1.0:
            ends[0] = f"{shop_mm(cut.start)} from the {low}"
        at = f"{shop_mm(one.first)} from the {side} at {ends[0]}, {shop_mm(one.last)} at {ends[1]} ({one.of} tapers)"
    else:
        at = f"{shop_mm(one.first)} from the {side}"
    thin = min((wide for wide in strips_beside(tile, cut) if wide < least), default=None)
    saw = "" if thin is None else f"; saw or grind it: the {shop_mm(thin)} beside it does not snap"
    return f"{way}, {at}{reach}{saw}"


def strips_beside(tile: SharedTile, cut: CutAcross) -> Iterator[float]:
    """How wide what lies to each side of a cut is, to the next cut beside it or the tile's edge, mm; not where none.

    Of what is no wider than the saw's kerf, what that takes.
    """
    whole = tile.w if cut.axis == "across" else tile.h
    beside = [
        one
        for one in tile.layout.cuts
        if one.axis == cut.axis and one != cut and min(one.end, cut.end) - max(one.start, cut.start) > TOUCH
    ]
    before = max((one.low + tile.kerf for one in beside if one.low < cut.low), default=0.0)
    after = min((one.low for one in beside if one.low > cut.low), default=whole)
    for wide in (cut.low - before, after - cut.low - tile.kerf):
        # Where two kerfs lie on each other, or one hangs over the edge, the saw takes all that there is.
        if (left := wide if wide > TOUCH else wide + tile.kerf) > TOUCH:
            yield left


def shared_pieces(pack: ShopPack, tile: SharedTile) -> Iterator[str]:
    """What lies in a shared tile, where its lower left corner is, which way its UP points there, and its number."""
    numbers = {(one.plan.job, one.piece.name): n.number for n in pack.numbered for one in n.pieces}
    for here in tile.lying:
        at, name = here.at, here.one.piece.name
        corner = f"{shop_mm(at.x)} from the left, {shop_mm(at.y)} from the bottom"
        yield f"{name}, no. {numbers[tile.job, name]}: {shop_mm(at.w)} x {shop_mm(at.h)} at {corner}, {_UPS[at.turn]}"


def tile_waits(tile: SharedTile) -> list[str]:
    """What a shared tile waits for: WAIT, SIGN FIRST, each once; WAIT too for a piece that is not in the pack."""
    words = [not_yet(here.one.plan, here.one.piece, to_sign=True) for here in tile.lying]
    held = [name for name in tile.pieces if name not in {here.one.piece.piece.name for here in tile.lying}]
    if held:
        words.append(f"{WAIT}: {', '.join(held)}, which comes out of it too, must not be cut yet")
    return list(dict.fromkeys(filter(None, words)))


def waits_with_tile(pack: ShopPack, number: Numbered) -> str:
    """The shared tiles that wait although its own pieces do not: "shared tile 3"; "" for none."""
    own = not_yet(number.first.plan, number.first.piece, to_sign=True)
    tiles = sorted({tile for one in number.pieces if (tile := shared_of(pack, one)) is not None})
    waiting = [str(tile) for tile in tiles if any(word != own for word in tile_waits(pack.shared[tile - 1]))]
    return f"shared tile{'s' if len(waiting) > 1 else ''} {', '.join(waiting)}" if waiting else ""


def left_over_words(tile: SharedTile) -> str:
    """What is left over of a tile."""
    left = "; ".join(f"{shop_mm(w)} x {shop_mm(h)}" for w, h in tile.layout.left)
    return f"left over: {left}" if left else "nothing left over"


def hole_words(one: ShopPiece, cut: Cut) -> str:
    """A round hole by its middle from the maker's edges that are left, all else by its sides; core, tile left."""
    drilled, box = core_of(cut, one.piece, one.plan.shop), cut.share.bounds
    core = "" if drilled is None else f", core {shop_mm(drilled)}"
    web = "" if cut.web.nearest is None else f", {shop_mm(cut.web.nearest)} of tile beside it"
    if isinstance(cut.opening.shape, Circle) and cut.kind == "hole":
        edges = ", ".join(f"{side} {shop_mm(cut.from_edges[side])}" for side in _there(one.piece))
        return f"{cut.opening.name}: dia {shop_mm(cut.opening.shape.d)}, its middle from {edges}{core}{web}"
    datum, tile = datum_of(one.piece), one.piece.piece.tile.box
    across, up = (
        " to ".join(map(shop_mm, sorted(abs(at - tile.at(side)) for at in ends))) + f" from the {side}"
        for side, ends in ((datum.across, (box.min_x, box.max_x)), (datum.up, (box.min_y, box.max_y)))
    )
    size = f"{shop_mm(box.width)} x {shop_mm(box.height)}"
    return f"{cut.opening.name}: {cut.kind} {size}, {across}, {up}{core}{web}"


def _there(piece: CutPiece) -> tuple[Side, ...]:
    """The sides that a place is measured from: those where the maker's edge is left; all four where none is."""
    return piece.factory_edges or SIDES


def straight_rows(pack: ShopPack, number: Numbered) -> list[str]:
    """The straight cuts of what comes out of whole tiles; those of shared tiles stand with these."""
    ways = ways_to_cut(pack, number)
    if all(way.tiles for way in ways):
        return []
    out_of = "out of a whole tile: " if any(way.tiles for way in ways) else ""
    return [f"{out_of}{words}" for words in straight_words(number.first)]


def straight_words(one: ShopPiece) -> Iterator[str]:
    """Each straight cut from its edge, with the sum: what is kept, the saw's kerf, what comes off, the tile."""
    tile = one.piece.piece.tile
    for cut in to_cut(one.plan, one.piece).operations:
        if not isinstance(cut, StraightCut) or cut.from_edge is None:
            continue
        measure = set_out_from(cut.from_edge, one.piece, TENTHS)
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


def cut_words(pack: ShopPack, number: Numbered) -> str:
    """How the pieces of a number are cut with a saw, in one line; some may have to come out of a shared tile first."""
    return "; ".join(
        ": ".join(filter(None, (way.where, f"then {way.short}" if way.tiles and way.short else way.short)))
        for way in ways_to_cut(pack, number)
    )


class WayToCut(Struct, frozen=True):
    """How some pieces of a number are cut: out of what, "" where all are cut alike out of whole tiles.

    tiles        the shared tiles that they come out of first, () for none; names: the pieces.
    lines, short what is done then, a line each and in one.
    """

    where: str
    tiles: tuple[int, ...]
    names: tuple[str, ...]
    lines: tuple[str, ...]
    short: str


def ways_to_cut(pack: ShopPack, number: Numbered) -> list[WayToCut]:
    """How its pieces are cut: those that come out of shared tiles by the order of these, and then what is left."""
    drawn, saw = number.first, "by saw: " if number.first.plan.shop.jet else ""
    whole = to_cut(drawn.plan, drawn.piece)
    found: dict[tuple[bool, tuple[str, ...], str], list[tuple[int | None, str]]] = {}
    for one in number.pieces:
        tile = shared_of(pack, one)
        how = whole if tile is None else _left_of(pack.shared[tile - 1], one, drawn)
        short = how_in_short(how, drawn.piece, TENTHS)
        key = tile is not None, tuple(how_lines(how, drawn.piece, TENTHS)), f"{saw}{short}" if short else ""
        found.setdefault(key, []).append((tile, one.piece.name))
    made = []
    for (shared, lines, short), members in found.items():
        tiles = tuple(sorted({tile for tile, _ in members if tile is not None}))
        names = tuple(name for _, name in members)
        where = _out_of_tiles(tiles) if shared else "out of a whole tile" if len(found) > 1 else ""
        made.append(WayToCut(where, tiles, names, lines, short))
    return made


def _out_of_tiles(tiles: Sequence[int]) -> str:
    which = ", ".join(map(str, tiles))
    return f"out of shared tile{'s' if len(tiles) > 1 else ''} {which}, in the order of shared-tiles.pdf"


def _left_of(tile: SharedTile, one: ShopPiece, drawn: ShopPiece) -> HowCut:
    here = next(lying for lying in tile.lying if lying.one == one)
    return still_to_cut(tile, here, drawn)


def hangs_on(one: ShopPiece) -> Iterator[str]:
    """The readings that a piece which is cut ahead hangs on, one each: of its holes, and of what it is trimmed to."""
    style = one.plan.say.style
    for cut in one.piece.cuts:
        for check in cut.wall_checks:
            yield f"{cut.opening.name}: from {check.source.name} {check_words(check, style)}"
        if not cut.wall_checks:
            yield f"{cut.opening.name}: not read on the wall"
    yield from infill_lines(one.plan, one.piece)


def read_by(one: ShopPiece) -> str:
    """By whom and when it was read at the wall, as far as that came back; "" where nothing did."""
    own = [found for found in one.plan.found if found.piece == one.piece.name]
    return "; ".join(dict.fromkeys(" ".join(filter(None, (found.by, found.date))) for found in own))


def count_words(one: TileCount) -> str:
    """What the pieces of one kind of tile come to."""
    batch = f", batch {one.batch}" if one.batch else ""
    return (
        f"{one.tile} {shop_mm(one.w)} x {shop_mm(one.h)}{batch}: {one.pieces} pieces out of {one.whole} tiles; with "
        f"{one.spares} spare for breakage: {one.whole + one.spares} tiles. {one.length / MM_OF_A_METRE:.2f} m cut in "
        f"{one.paths} paths (the files with _open_)."
    )


def left_to_ask(pack: ShopPack) -> list[str]:
    """What a shop would have to ask before it cuts, a sentence each with what to write."""
    said = [
        f"{plan.job} names nobody to be asked: write contact: a name and a number."
        for plan in pack.plans
        if not plan.contact
    ]
    every = [one for number in pack.numbered for one in number.pieces]
    worked = [one for one in every if is_worked(one.piece)]
    unsaid = [one.piece.name for one in worked if one.plan.shop.edge_work is None]
    if unsaid:
        names = ", ".join(unsaid)
        said.append(f"Who works the edges of {names} is not said: write edge work: yes or no in shop.yaml.")
    tiles = dict.fromkeys(one.piece.piece.tile.name for one in worked if not one.piece.piece.tile.material)
    said += [f"What {name} is made of is not said, and an edge of it is worked: write its material." for name in tiles]
    thin = dict.fromkeys(one.piece.piece.tile.name for one in every if one.piece.piece.tile.thickness is None)
    return said + [f"How thick {name} is is not said: write its thickness." for name in thin]


def room_words(piece: CutPiece) -> str:
    """Which wall or floor, and where on it."""
    return f"{piece.piece.surface}, {piece.words}"
