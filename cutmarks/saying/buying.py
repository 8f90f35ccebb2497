"""What a job takes, in words: each figure with how it came about, and what it leaves open."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator, Sequence
from typing import Literal

from cutmarks.buying.model import Adhesive, Grout, Silicone, Spacers, TileNeed, ToBuy
from cutmarks.gauging.model import Sealed
from cutmarks.limits import COMMON, LIMITS, Limits
from cutmarks.plan import Plan
from cutmarks.saying.dialect import wording
from cutmarks.saying.runs import area_of, named
from cutmarks.units import Style, Unit, say

MM2_PER_M2, MM2_PER_SQUARE_FOOT = 1_000_000.0, 304.8**2
MM_PER_M, MM_PER_FOOT = 1_000.0, 304.8
LITRES_PER_GALLON = 3.785411784
"""A US gallon."""
GROUT_STEP = 0.05
"""Grout is said up to the next of these, litres: little is needed, and too little spoils a wall."""
MOST_NAMED = 24
"""So many tiles that give several pieces are named one by one."""


def buy_lines(to_buy: ToBuy, plan: Plan, *, tight: bool = False, paired: bool = True) -> tuple[str, ...]:
    """All that is bought, a line each: the tiles, then adhesive, grout and silicone.

    tight   for a page that has no room for what is kept for a repair, nor for where the silicone goes.
    paired  which piece is cut from what another leaves; not on a page that has it beside its cuts.
    """
    tiles = (line for need in to_buy.tiles for line in tile_lines(need, plan, paired=paired))
    kept = () if tight else _kept(to_buy.tiles)
    return tuple(dict.fromkeys([*tiles, *kept, *wet_lines(to_buy, plan, tight=tight)]))


def _kept(needs: Sequence[TileNeed]) -> Iterator[str]:
    """The whole tiles that are kept for a repair, as a rule; which boxes leave them, and which do not."""
    short = [need for need in needs if need.total is not None and need.kept > (need.over or 0)]
    if short:
        of = "" if len(needs) == 1 else f" of {' and of '.join(need.tile for need in short)}"
        yield f"kept whole{of} for a repair: {short[0].kept} more ({COMMON}), not in the count"


def tile_lines(need: TileNeed, plan: Plan, *, paired: bool = True) -> Iterator[str]:
    """One kind of tile: how many, how that adds up, boxes, those in hand, and which pieces share a tile."""
    # Boxes are said where any are to be bought.
    enough = need.short is not None and need.short <= 0
    yield f"{need.tile}: {_sum(need, plan.limits)}{'' if enough else _boxes(need, plan.say.style)}"
    in_hand = _in_hand(need)
    if in_hand:
        yield in_hand
    yield from _offcuts(need, plan, paired=paired)


def _sum(need: TileNeed, limits: Limits) -> str:
    """As in "13 whole + 38 cut - 3 from offcuts = 48, spares 1 for 3 holed (one in 10): 49 tiles"."""
    if need.laid is None:
        return f"not counted: an edge of where it lies was not read. {need.cut} cut pieces are known"
    offcuts = f" - {need.from_offcuts} from offcuts" if need.from_offcuts else ""
    said = f"{need.whole} whole + {need.cut} cut{offcuts} = {need.laid}"
    spares = [
        f"{spare} for {of} {what} (one in {every:g})"
        for spare, of, what, every in (
            (need.spare_holed, need.holed, "holed", limits.holed_per_spare.value),
            (need.spare_cut, need.cut, "cut", limits.cut_per_spare.value),
        )
        if spare
    ]
    return f"{said}, spares {' + '.join(spares)}: {need.total} tiles" if spares else f"{said} tiles"


def _boxes(need: TileNeed, style: Style) -> str:
    if need.boxes is None or need.over is None:
        area = "15.5 sq ft" if style.unit is Unit.INCH else "1.44 m2"
        return "" if need.total is None else f" (boxes: write box: 8, or box: {area})"
    return f" = {need.boxes} {'box' if need.boxes == 1 else 'boxes'} of {need.box}, {need.over} whole over"


def _in_hand(need: TileNeed) -> str:
    """Whether those in hand are enough."""
    if need.have is None or need.total is None or need.laid is None:
        return ""
    if need.have >= need.total:
        over = need.have - need.total
        return f"{need.have} in hand: enough, none to buy" + (f", {over} over" if over else "")
    short = f"{need.total - need.have} short"
    if need.have >= need.laid:
        return f"{need.have} in hand: enough to lay it, {short} with the spares"
    more = "" if need.box is None else f", {math.ceil((need.total - need.have) / need.box)} more of a box's {need.box}"
    return f"{need.have} in hand: NOT ENOUGH, {short}{more}"


def _offcuts(need: TileNeed, plan: Plan, *, paired: bool) -> Iterator[str]:
    """Which pieces come from one tile, and by what rule."""
    if need.step is None:
        yield (
            f"{need.tile}: so many sizes that it was not worked out which offcut serves which piece: that is the most "
            "that is needed"
        )
    if not need.shared:
        return
    if paired:
        areas = {area_of(name) for tile in need.shared for name in tile.pieces}
        listed = "; ".join(named(tile.pieces, len(areas) > 1) for tile in need.shared[:MOST_NAMED])
        more = f"; and {len(need.shared) - MOST_NAMED} more" if len(need.shared) > MOST_NAMED else ""
        where = _on_which(areas, plan)
        yield f"one tile each gives, the later from what the earlier leaves{where}: {listed}{more}"
    style = plan.say.style
    turned = {
        "no": "not turned" + ("" if need.pattern_said else " (write pattern: none where they may be)"),
        "half": "turned half round at most",
        "any": "turned any way",
    }[need.turned]
    sizes = f", sizes up to the next {say(need.step, style)}" if need.step else ""
    why = "" if need.kerf_why == LIMITS.kerf.source else f" ({need.kerf_why})"
    yield f"by a saw that takes {say(need.kerf, style)}{why}, the maker's edge at each joint{sizes}, offcuts {turned}"


def _on_which(areas: Collection[str], plan: Plan) -> str:
    """On which surface each area lies, where they lie on several: " (oats: bin wall; rolled: scale wall)"."""
    on = {area.name: one.setout.name for one in plan.laid for area in one.areas if area.name in areas}
    return f" ({'; '.join(f'{area}: {wall}' for area, wall in on.items())})" if len(set(on.values())) > 1 else ""


def wet_lines(to_buy: ToBuy, plan: Plan, *, tight: bool = False) -> Iterator[str]:
    """Adhesive, grout and silicone, with what was not said."""
    style, words = plan.say.style, plan.say.words
    for adhesive in to_buy.adhesive:
        yield _adhesive(adhesive, plan.limits, style)
    for name in to_buy.no_bed:
        yield f"adhesive for {name}: write its bed, or the trowel's notch, and it is worked out"
    for grout in to_buy.grout:
        yield _grout(grout, style, words)
    for name in to_buy.no_thickness:
        yield f"grout for {name}: write its thickness, and it is worked out"
    for one in to_buy.spacers:
        yield _spacers(one, style)
    if to_buy.silicone:
        lengths = (f"{length_words(one.length, style)} of {say(one.width, style)}" for one in to_buy.silicone)
        yield f"silicone: {', '.join(lengths)}{_tubes(to_buy.beads, plan, tight=tight)}"


def _tubes(beads: Silicone | None, plan: Plan, *, tight: bool) -> str:
    """How many tubes that is, and along what the joints run: ", 6 deep and 20 % over = 0.18 litres, 1 tube ..."."""
    if beads is None:
        return ""
    style, limits = plan.say.style, plan.limits
    tubes = f"{beads.tubes} tube{'s' * (beads.tubes != 1)} of {limits.tube.value:g} ml"
    if tight:
        return f": {tubes}"
    along = ", ".join(f"{what} {length}" for what, length in _parts(beads.joints, style))
    over = f"{limits.bead_over.value * 100:g} % over"
    deep = f"{say(beads.depth, style)} deep and {over} = {beads.litres:.2f} litres"
    return f", {deep}, {tubes} ({limits.tube.source}): {along}"


def _parts(joints: Sequence[Sealed], style: Style) -> Iterator[tuple[str, str]]:
    """Along what the joints run, and how far: tenths that add up to what is said of each width, as printed."""
    per, unit = _per_unit(style)
    tenths: dict[str, int] = {}
    for width in dict.fromkeys(one.width for one in joints):
        own = [one for one in joints if one.width == width]
        exact = [one.length / per * 10 for one in own]
        down = [math.floor(one + 1e-9) for one in exact]
        left = _tenths(sum(one.length for one in own), per) - sum(down)
        # What the total has over all of them goes to those that lose most by being taken down.
        largest = sorted(range(len(own)), key=lambda number: down[number] - exact[number])[:left]
        for number, one in enumerate(own):
            tenths[one.what] = tenths.get(one.what, 0) + down[number] + (number in largest)
    yield from ((what, f"{many / 10:.1f} {unit}") for what, many in tenths.items())


def _adhesive(one: Adhesive, limits: Limits, style: Style) -> str:
    bed = f"bed {say(one.bed, style)}"
    if one.notch is not None:
        part = f"{limits.bed_part.value:g} of the notch {say(one.notch, style)}"
        bed = f"bed {say(one.bed, style)} ({part})"
    skim = f" + {say(one.skim, style)} skimmed on the backs ({limits.butter_skim.source})" if one.skim else ""
    thick = f"({bed}{skim})" if skim else bed
    return (
        f"adhesive, {one.tile}: {area_words(one.area, style)} x {thick} = {litres_words(one.litres, style)}"
        f"{_bags(one.bags, one.bag, 'bag: 20 kg makes 14 litres')}"
    )


def _grout(one: Grout, style: Style, words: Literal["uk", "us"]) -> str:
    up = math.ceil(one.litres / GROUT_STEP - 1e-9) * GROUT_STEP
    w, h = say(one.w, style), say(one.h, style)
    return (
        f"grout, {one.tile}: {area_words(one.area, style)} x ({w} + {h}) / ({w} x {h}) x {wording(words).joint} "
        f"{say(one.joint, style)} x tile {say(one.depth, style)} = {up:.2f} litres, "
        f"up to the next {GROUT_STEP:g}, nothing for waste"
        f"{_bags(one.bags, one.bag, 'grout bag: 5 kg makes 3 litres')}"
    )


def _spacers(one: Spacers, style: Style) -> str:
    """As in "spacers of 3: about 540 (common practice: 3 a tile in a bond)"."""
    ways = {1: "where joints cross", 3: "in a bond"}
    counted = [f"{each} a tile {ways[each]}" for each, many in ((1, one.crossing), (3, one.bonded)) if many]
    return f"spacers of {say(one.joint, style)}: about {one.count} (common practice: {', '.join(counted)})"


def _bags(bags: int | None, bag: str, wanted: str) -> str:
    """The bags by their maker's figure; where that was not said, how it is."""
    if bags is None:
        return f" (for bags write {wanted})"
    return f": {bags} x {bag}, by its maker's figure"


def area_words(mm2: float, style: Style) -> str:
    """An area: "4.1 m2", "44 sq ft"."""
    if style.unit is Unit.INCH:
        return f"{mm2 / MM2_PER_SQUARE_FOOT:.0f} sq ft"
    return f"{mm2 / MM2_PER_M2:.1f} m2"


def litres_words(litres: float, style: Style) -> str:
    """A volume: "12.2 litres"; in an inch job in US gallons too."""
    gallons = f" ({litres / LITRES_PER_GALLON:.1f} US gal)" if style.unit is Unit.INCH else ""
    return f"{litres:.1f} litres{gallons}"


def length_words(mm: float, style: Style) -> str:
    """A length to buy by, up to the next tenth: "12.7 m", "41.5 ft"."""
    per, unit = _per_unit(style)
    return f"{_tenths(mm, per) / 10:.1f} {unit}"


def _per_unit(style: Style) -> tuple[float, str]:
    """What lengths to buy by are said in: so many mm, and its name."""
    return (MM_PER_FOOT, "ft") if style.unit is Unit.INCH else (MM_PER_M, "m")


def _tenths(mm: float, per: float) -> int:
    """Whole tenths that hold a length."""
    return math.ceil(mm / per * 10 - 1e-9)
