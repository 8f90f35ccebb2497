"""The openings of a surface with the cuts to expect, a line for each thing that they go to, a blank for each cut.

Both figures of a cut are rounded down to the step, so that it goes in, and with what comes off they add up as printed.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from msgspec.structs import replace

from cutmarks.gauging.model import CutGroup, InCorner, OneCut
from cutmarks.plan import Plan
from cutmarks.saying.infills import off_words, own_ends, source_words
from cutmarks.saying.runs import named
from cutmarks.units import say, say_steps, steps_down, steps_nearest

BLANK = "...."
"""Where what was read is written in."""
BOTH_ENDS = " | "
"""Between the figures of a piece's two ends."""
MOST_EACH, MOST_TIGHT = 12, 3
"""So many cuts to one thing have a figure each, fewer where there is little room; of more the most and the least do."""
MOST_BLANKS = 3
"""So many blanks stand behind cuts that have one figure."""


def openings_told(groups: Sequence[CutGroup], plan: Plan, several: bool, *, tight: bool = False) -> Iterator[str]:
    """A line for all that is read alike: from what to what, what comes off, then the pieces with opening and cut.

    "to the end wall, less joint 3 and gap 3. 1-6: 231 -> 225 ....; 3-6: ...".
    """
    alike: dict[tuple[object, ...], list[CutGroup]] = {}
    for group in groups:
        alike.setdefault(_read_alike(group, plan), []).append(group)
    for members in alike.values():
        yield _line(members, plan, several, MOST_TIGHT if tight else MOST_EACH)


def read_to_tile(group: CutGroup, corners: Sequence[InCorner]) -> CutGroup:
    """Openings to a wall that is tiled by then, as they are read: to the face of its tile, nothing still to come."""
    first = any(one.side is group.side and not one.goes_first and _is_other(one, group) for one in corners)
    come = sum(off.mm for off in group.off if off.what == "still to come")
    if not first or not come:
        return group
    each = tuple(
        replace(one, ends=tuple(replace(end, opening=end.opening - come) for end in one.ends)) for one in group.each
    )
    low, high = group.openings
    return replace(
        group,
        to=tile_of(group.to),
        off=tuple(off for off in group.off if off.what != "still to come"),
        openings=(low - come, high - come),
        each=each,
    )


def tile_of(wall: str) -> str:
    """What is read to in a corner where the other wall is tiled first."""
    return f"{wall}'s tile"


def _is_other(corner: InCorner, group: CutGroup) -> bool:
    return corner.other.casefold() == group.to.casefold()


def _read_alike(group: CutGroup, plan: Plan) -> tuple[object, ...]:
    """What has to be alike for one line: from which side of a piece it is measured shows on the drawing."""
    off = tuple((one.what, say(one.mm, plan.say.style)) for one in group.off)
    return group.to, group.side.axis, _from(group, plan), off


def _from(group: CutGroup, plan: Plan) -> str:
    """What it is measured from, " from B"; "" of the tile beside it."""
    if group.source.kind == "piece" and not group.source.across:
        return ""
    first = next(piece for piece in plan.pieces if group.pieces[0] in (piece.name, piece.piece.name))
    return f" from {source_words(plan, first, group.source, group.side).rstrip(',')}"


def _line(members: Sequence[CutGroup], plan: Plan, several: bool, most: int) -> str:
    style, first = plan.say.style, members[0]
    way = next((one for one in first.off if one.what == "to its edge"), None)
    others = [one for one in first.off if one.what != "to its edge"]
    off = off_words(others, style, plan.say.words)
    comes_off = sum(steps_nearest(one.mm, style) for one in others)
    taken: int | None = comes_off
    if way is not None:
        # From a line it is as far for all of them; from an edge that rakes each has its own, on its own page.
        lined = first.source.kind == "line" and way.mm > 0
        taken = comes_off + steps_nearest(way.mm, style) if lined else None
        own = f"less {say(way.mm, style)} to the tile's own edge" if lined else "less the way to the tile's own edge"
        off = ", ".join(filter(None, (own, off.removeprefix("less "))))
    said = "; ".join(_each([group.each for group in members], taken, plan, several, most))
    return f"to the {first.to}{_from(first, plan)}{off and f', {off}'}. {said}"


def _each(sets: Sequence[Sequence[OneCut]], taken: int | None, plan: Plan, several: bool, most: int) -> Iterator[str]:
    """Each piece with its opening, its cut and a blank; those that have the same figures together.

    sets  the cuts of nearly one size: of too many each of these has its most and its least.
    """
    runs = _alike([one for cuts in sets for one in cuts], taken, plan)
    if len(runs) <= most:
        yield from (_one_figure(run, several) for run in runs)
        return
    for cuts in sets:
        own = _alike(cuts, taken, plan)
        if len(own) == 1:
            yield _one_figure(own[0], several)
            continue
        by_size = sorted(cuts, key=lambda one: min(end.cut for end in one.ends))
        large, small = (
            f"{_figures(one, taken, plan)} at {named((one.piece,), several)} {BLANK}"
            for one in (by_size[-1], by_size[0])
        )
        yield f"{named([one.piece for one in cuts], several)}, most {large}, least {small}"


def _alike(cuts: Sequence[OneCut], taken: int | None, plan: Plan) -> list[list[tuple[str, str]]]:
    """The pieces with their figures, those together that follow one another and have the same."""
    figures = [(one.piece, _figures(one, taken, plan)) for one in cuts]
    return [list(run) for _, run in groupby(figures, key=lambda one: one[1])]


def _one_figure(run: Sequence[tuple[str, str]], several: bool) -> str:
    blanks = " ".join([BLANK] * min(len(run), MOST_BLANKS))
    return f"{named([name for name, _ in run], several)}: {run[0][1]} {blanks}"


def _figures(one: OneCut, taken: int | None, plan: Plan) -> str:
    """Opening and cut: "80 -> 62"; of both its ends, "81 | 80 -> 63 | 62", where these differ by more than a little.

    taken  what comes off in steps, so that the opening is the cut and that, as printed; None: it is each piece's own.
    """
    style = plan.say.style
    ends = own_ends(one.ends, plan.limits.two_sizes.value)
    cuts = [steps_down(end.cut, style) for end in ends]
    openings = [
        steps_down(end.opening, style) if taken is None else cut + taken for end, cut in zip(ends, cuts, strict=True)
    ]
    read, made = (dict.fromkeys(say_steps(mm, style) for mm in figures) for figures in (openings, cuts))
    return f"{BOTH_ENDS.join(read)} -> {BOTH_ENDS.join(made)}"
