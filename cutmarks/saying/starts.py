"""Starts in words: what each leaves at its ends and at its holes, and what one gains and costs against another."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence

from cutmarks.choosing.borders import EndOf
from cutmarks.choosing.figures import FAIR, GOOD, HAIR, POOR, Worth
from cutmarks.choosing.landing import Land
from cutmarks.choosing.leaves import Left
from cutmarks.choosing.offers import AreaStart, Choices, Offer
from cutmarks.choosing.on_packers import OnPackers
from cutmarks.choosing.words import start_words
from cutmarks.geometry.tolerance import COINCIDE
from cutmarks.limits import Limits
from cutmarks.plan import StartReason
from cutmarks.plan.choices import AsLaid
from cutmarks.sides import SIDES, Side
from cutmarks.units import Style, say, say_down

SMALLEST = "its smallest piece"
MOST_REASONS = 2
"""Of what another start would cost, and of what it would gain, so much is told: the first of what counts."""
_PARTS = {1 / 2: "half a tile", 1 / 3: "a third of a tile", 1 / 4: "a quarter of a tile"}
_LANDS: Mapping[Land, tuple[str, str]] = {
    "in a tile": ("in a tile", ""),
    "on a joint": ("on a joint", ""),
    "on a crossing": ("crossing", ""),
    "just bites": ("just bites", "just bites the next tile"),
    "thin": ("thin", "leaves a thin bridge"),
    "stops": ("STOP", "would spoil its tile"),
}
"""How a hole lands: in a table behind how many do, and behind its name where that is no good."""


def left_words(left: Left, style: Style) -> str:
    """What lies at an end: "whole", "295½", "369+" where others are larger, "369 to whole".

    Rounded down, because it has to go in. Of others than the smallest only that they are larger is said: how large each
    is at its own two ends stands on the set-out page.
    """
    if not left.cut:
        return "whole"
    least, most = (say_down(mm + COINCIDE, style) for mm in (left.least, left.most))
    if left.most >= left.whole - COINCIDE:
        return f"{least} to whole"
    return least if least == most else f"{least}+"


def band_words(band: int, limits: Limits) -> str:
    """How large a piece is, as a part of a tile: "half a tile or more", "under a third of a tile", "a sliver"."""
    half, third = (_part_words(limit.value) for limit in (limits.half_part, limits.fair_part))
    return {
        GOOD: f"{half} or more",
        FAIR: f"{third} or more",
        POOR: f"under {third}",
        HAIR: "a sliver",
    }[band]


def _part_words(part: float) -> str:
    """A part of a tile: "half a tile", "a third of a tile", "40 % of a tile"."""
    return next((said for value, said in _PARTS.items() if math.isclose(part, value)), f"{part * 100:g} % of a tile")


def end_words(end: EndOf) -> str:
    """Where an end is: "left edge", "left of the window"; "left of a step" for the pieces whose right end it is."""
    if end.kind == "step":
        return f"{_WHERE[end.side.opposite]} a {end.what}"
    return f"{_WHERE[end.side]} {end.what}" if end.thing else end.what


_WHERE = {Side.LEFT: "left of", Side.RIGHT: "right of", Side.BOTTOM: "under", Side.TOP: "over"}


def own_ends(start: AreaStart) -> dict[Side, tuple[EndOf, Left]]:
    """What lies at the area's own ends, by side; of several on one side the one that leaves least."""
    found: dict[Side, tuple[EndOf, Left]] = {}
    for end, left in start.figures.left.items():
        if end.thing or end.kind == "step":
            continue
        if end.side not in found or left.least < found[end.side][1].least:
            found[end.side] = end, left
    return found


def things_words(start: AreaStart, style: Style) -> str:
    """What lies round windows, niches and doors, and at steps: "window 175½ | 175½, under 217; left of a step 96½".

    And at the floors and ceilings of the other walls round which its courses run: "end wall bottom 94+, top whole".

    Two steps are never set against each other as the two sides of a window are: which of them is further left is not
    the same on a hearth and in a recess.
    """
    by: dict[str, dict[Side, Left]] = {}
    steps: list[str] = []
    walls: dict[str, list[str]] = {}
    for end, left in start.figures.left.items():
        if end.kind == "step":
            steps.append(f"{end_words(end)} {left_words(left, style)}")
        elif end.kind == "other":
            walls.setdefault(end.thing, []).append(f"{end.side.opposite} {left_words(left, style)}")
        elif end.thing:
            by.setdefault(end.what, {})[end.side] = left
    round_walls = (f"{wall} {', '.join(dict.fromkeys(sizes))}" for wall, sizes in walls.items())
    return "; ".join((*(f"{what} {_round_it(sides, style)}" for what, sides in by.items()), *steps, *round_walls))


def _round_it(sides: Mapping[Side, Left], style: Style) -> str:
    said = []
    if Side.LEFT in sides and Side.RIGHT in sides:
        said.append(f"{left_words(sides[Side.LEFT], style)} | {left_words(sides[Side.RIGHT], style)}")
    else:
        said += [f"{side} {left_words(sides[side], style)}" for side in (Side.LEFT, Side.RIGHT) if side in sides]
    said += [
        f"{word} {left_words(sides[side], style)}"
        for side, word in ((Side.BOTTOM, "under"), (Side.TOP, "over"))
        if side in sides
    ]
    return ", ".join(said)


def ends_words(start: AreaStart, style: Style) -> str:
    """What lies at each end of an area, in one line."""
    own = own_ends(start)
    said = [f"{side} {left_words(own[side][1], style)}" for side in SIDES if side in own]
    things = things_words(start, style)
    return "; ".join(filter(None, (", ".join(said), things)))


def lands_words(start: AreaStart) -> str:
    """How many holes land how: "3 in a tile, 1 on a joint, 1 biting"."""
    lands = [landing.land for landing in start.figures.landings.values()]
    return ", ".join(f"{lands.count(land)} {short}" for land, (short, _) in _LANDS.items() if land in lands)


def batten_words(start: AreaStart) -> str:
    """What stands on a batten, and what waits until that is off: "4 courses", "1 course, 2 of 2 holes wait", "none"."""
    carried = start.figures.carried
    if carried is None or carried.on_batten is None:
        return ""
    if not carried.on_batten:
        return "none"
    courses = carried.courses
    said = [] if courses is None else [f"{courses} course{'s' * (courses != 1)}"]
    if carried.waiting:
        said.append(f"{carried.waiting} of {carried.holes} hole{'s' * (carried.holes != 1)} wait")
    return ", ".join(said) or "yes"


def bad_lands(offer: Offer, style: Style) -> str:
    """The holes that land badly, by name: "the hole of feed just bites the next tile by 6"; "" where none does."""
    found: dict[str, str] = {}
    for start in offer.starts:
        for name, landing in start.figures.landings.items():
            if landing.is_bad:
                found[name] = _LANDS[landing.land][1]
            if landing.land == "just bites" and landing.bite is not None:
                found[name] += f" by {say(landing.bite, style)}"
            elif landing.land == "thin" and landing.bridge is not None:
                found[name] += f" of {say_down(landing.bridge + COINCIDE, style)}"
    by: dict[str, list[str]] = {}
    for name, how in found.items():
        by.setdefault(how, []).append(name)
    return ", ".join(f"the hole of {', '.join(names)} {how}" for how, names in by.items())


def start_said(start: AreaStart) -> str:
    """A start as it stands in a job: "joint on V, sits on B"; with another bond or joint where it has one."""
    more = [] if start.bond is None else [f"bond {start.bond.words}"]
    more += [f"joint {start.joint_words}"] if start.joint_words else []
    return ", ".join((start_words(start.across), start_words(start.up), *more))


def may_move_words(start: AreaStart, style: Style) -> str:
    """How far a start may move and counts the same: "2 left, 12 right, 0 down, 4 up"."""
    ways = ("left", "right", "down", "up")
    return ", ".join(f"{say_down(max(by, 0.0), style)} {way}" for by, way in zip(start.may_move, ways, strict=True))


def smallest_words(offer: Offer, limits: Limits, style: Style) -> str:
    """The smallest piece in sight, by how much of its tile it is, and where."""
    found = [one for start in offer.starts if (one := start.figures.smallest()) is not None]
    if not found:
        return "nothing trimmed in sight"
    end, left = min(found, key=lambda one: one[1].part)
    if not left.cut:
        return "no cut at any end"
    band = band_words(offer.worth.worst, limits)
    least, whole = say_down(left.least + COINCIDE, style), say(left.whole, style)
    return f"smallest piece {least} of {whole} ({end_words(end)}, {band})"


def against_words(one: Offer, other: Offer, limits: Limits, style: Style) -> tuple[list[str], list[str]]:
    """What `one` gains against `other`, and what it costs, by what counts, in its order."""
    gains: list[str] = []
    costs: list[str] = []
    banded, banded_other = one.worth.banded(limits), other.worth.banded(limits)
    for name in ("worst", *Worth._fields[:-1]):
        number = Worth._fields.index(name)
        # The grade is told by what makes it: the smallest piece, and the batten.
        if name == "grade" or banded[number] == banded_other[number]:
            continue
        by = one.worth[number] - other.worth[number]
        text = _difference(name, by, one, other, limits)
        (gains if by < 0 else costs).append(text)
    return gains, costs


def _difference(name: str, by: int, one: Offer, other: Offer, limits: Limits) -> str:
    """One thing that differs, in words."""
    count, more = abs(by), "fewer" if by < 0 else "more"
    if name in ("worst", "hidden"):
        what = SMALLEST if name == "worst" else "its smallest hidden piece"
        bands = (band_words(getattr(of.worth, name), limits) for of in (one, other))
        return f"{what} is {', not '.join(bands)}"
    nouns = {
        "hair": ("end with a sliver", "ends with a sliver"),
        "poor": ("end with less than a third", "ends with less than a third"),
        "stops": ("hole that would spoil a tile", "holes that would spoil a tile"),
        "bites": ("hole that just bites the next tile", "holes that just bite the next tile"),
        "thin": ("thin bridge", "thin bridges"),
        "batten": ("batten that nobody would put up", "battens that nobody would put up"),
        "lips": ("area whose offset a tile so long may not bear", "areas whose offset a tile so long may not bear"),
        "unequal": ("pair of opposite ends that differ", "pairs of opposite ends that differ"),
        "apart": ("area whose joints do not run through", "areas whose joints do not run through"),
        "fair": ("end with less than a half", "ends with less than a half"),
        "cuts": ("cut", "cuts"),
        "tiles": ("tile", "tiles"),
        "short": ("end where a whole tile stops short", "ends where a whole tile stops short"),
    }
    noun = nouns[name][count != 1]
    return f"{count} {more} {noun}"


def told_once(offers: Sequence[Offer]) -> Iterator[tuple[str, int]]:
    """The numbers of starts as they are told, with the place of each: those that follow one another and are one, once.

    Where courses run round, a wall has the same start for several of another one's that are as high: "1 to 4".
    """
    said = [[(one.area, start_said(one)) for one in offer.starts] for offer in offers]
    first = 0
    for number in range(1, len(offers) + 1):
        if number == len(offers) or said[number] != said[first]:
            yield (f"{first + 1}" if number == first + 1 else f"{first + 1} to {number}"), first
            first = number


def gain_lines(offers: Sequence[Offer], limits: Limits, style: Style) -> Iterator[str]:
    """One line for each offer: what it gains and what it costs, against the first; the first against the second."""
    for number, offer in enumerate(offers):
        against = 1 if number == 0 else 0
        words = _leaves(offer, limits, style)
        if len(offers) > 1:
            gains, costs = against_words(offer, offers[against], limits, style)
            if gains:
                words += f"; against {against + 1} it gains: {_listed(gains)}"
            if costs:
                words += f"{';' if gains else f'; against {against + 1} it'} costs: {_listed(costs)}"
            if not gains and not costs:
                words += f"; counts as {against + 1} does"
        words += "; " + "; ".join(
            f"{'' if len(offer.starts) == 1 else f'{start.area} '}may move {may_move_words(start, style)}"
            for start in offer.starts
        )
        if offer.fragile:
            words += f"; no longer so good where {_either(offer.fragile)} is {say_down(limits.out_by.value, style)} out"
        yield words


def laid_words(laid: Iterable[tuple[str, AsLaid]], limits: Limits, style: Style, shown_by: str) -> Iterator[str]:
    """What lies at each edge and window of the surfaces that have their start, and which start is clearly better.

    shown_by  what shows all starts, as who reads this can ask for it.
    """
    for surface, one in laid:
        for start in one.now.starts:
            words = ends_words(start, style)
            if words:
                yield f"{surface}, {start.area}: {words}"
        if one.better is not None:
            gains, costs = against_words(one.better, one.now, limits, style)
            cost = f"; it costs: {_listed(costs)}" if costs else ""
            yield f"{surface}: another start is clearly better, as {shown_by} shows: {_listed(gains)}{cost}."


def now_words(now: Offer, best: Offer, limits: Limits, style: Style) -> str:
    """What the first start is against the one that the job says."""
    gains, costs = against_words(best, now, limits, style)
    if best.worth.banded(limits) >= now.worth.banded(limits):
        return "The start that the job says counts as well as any."
    words = f"Against what the job says 1 gains: {_listed(gains)}"
    return f"{words}; it costs: {_listed(costs)}." if costs else f"{words}."


def left_out_words(one: Choices) -> str:
    """The holes that no start was looked at for, since they have no place before there are tiles."""
    return f"Not looked at: {_listed(one.left_out)}, read from a course or a tile, which moves with the start."


def packers_words(one: OnPackers, style: Style) -> str:
    """That a whole first course may stand on what falls, and what is written so that it is looked at."""
    far = say(abs(one.y), style)
    level = one.line if far == "0" else f"{far} {'above' if one.y > 0.0 else 'below'} {one.line}"
    return (
        f"The {one.what} falls {say(one.falls, style)}. Whole tiles stand on it all along, on packers of "
        f"{say(one.least, style)} to {say(one.most, style)}, with from: {level} in the area: write that, and the "
        "starts on it are looked at."
    )


def why_lines(reason: StartReason, limits: Limits, style: Style) -> Iterator[str]:
    """Why a surface is started so: what it leaves, then whether each of the plain starts is worse, and what it leaves.

    Of what a worse one would gain nothing is said: it comes behind what it costs, and is no reason. One that counts
    better is called so, and where to look.
    """
    yield f"It leaves: {_leaves(reason.now, limits, style)}."
    for plain in reason.plain:
        start = start_words(plain.starts[0].across)
        start = f"a {start}" if start.startswith("joint") else f"the {start.replace(' on', ' of a tile on')}"
        gains, costs = (
            [said for said in differs if not said.startswith(SMALLEST)][:MOST_REASONS]
            for differs in against_words(plain, reason.now, limits, style)
        )
        if bad_lands(plain, style):
            costs = [said for said in costs if " hole" not in said]  # they are named, each by how it lands
        one, other = plain.worth.banded(limits), reason.now.worth.banded(limits)
        verdict, why = ("worse", costs) if one > other else ("better", gains) if one < other else ("no better", [])
        look = ": see cutmarks setout" if verdict == "better" else ""
        said = "" if verdict == "no better" else f": {'; '.join((_leaves(plain, limits, style), *why))}{look}"
        yield f"With {start} it is {verdict}{said}."


def _leaves(offer: Offer, limits: Limits, style: Style) -> str:
    """The smallest piece in sight, and the holes that land badly."""
    return "; ".join(filter(None, (smallest_words(offer, limits, style), bad_lands(offer, style))))


def sizes_at(start: AreaStart, style: Style) -> Iterator[tuple[str, str, Side, str]]:
    """What stands at each end in a picture: the area, the window or "", its side, and the size in words.

    Where an area ends at a border of its own, with whole tiles, nothing does.
    """
    for side, (end, left) in own_ends(start).items():
        if end.kind == "edge" or left.cut:
            yield start.area, "", side, left_words(left, style)
    for end, left in start.figures.left.items():
        if end.thing:
            yield start.area, end.thing, end.side, left_words(left, style)


def bad_holes(offer: Offer) -> tuple[tuple[str, str], ...]:
    """The holes that land badly, each with the word for it in a picture."""
    return tuple(
        (name, _LANDS[landing.land][0])
        for start in offer.starts
        for name, landing in start.figures.landings.items()
        if landing.is_bad
    )


def picture_lines(offers: Sequence[Offer], number: int, limits: Limits, style: Style) -> tuple[str, ...]:
    """What stands under the picture of one offer: its holes and its pieces, what it gains and costs."""
    lines: list[str] = []
    for start in offers[number].starts:
        of = "" if len(offers[number].starts) == 1 else f"{start.area}: "
        counted = start.figures.counted
        cut = f"{counted.whole} whole, {counted.cut} cut" if counted.tiles else ""
        words = batten_words(start)
        batten = f"batten: {words}" if words not in ("", "none") else ""
        lines.append(of + "; ".join(filter(None, (lands_words(start), batten, cut))))
    return (*lines, list(gain_lines(offers, limits, style))[number])


def _listed(words: Iterable[str]) -> str:
    return ", ".join(words)


def _either(words: Sequence[str]) -> str:
    """One of several: "hot, cold or the shaver socket"."""
    return " or ".join(filter(None, (_listed(words[:-1]), words[-1])))
