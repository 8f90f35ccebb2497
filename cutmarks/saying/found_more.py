"""Which way a template goes where the wall has more than was to be read.

Found more, the thing lies further from what it is read from, and the hole in its tile with it. The sheet is lined up
on, or taped to, an edge of the tile that may be the one on that side or the one across from it: that decides which way
it slides, and whether the tape gets longer. The figures in MARK go with the hole: from the edge on the side that is
read from they get longer, from the one across from it shorter.

Ticks are spoken of on a page that has them, and of the edges alone that have them there: elsewhere it says how far
beside its line such an edge is folded.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping

from cutmarks.checks.holes import SIDES_DISAGREE, two_sides
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.openings.model import Cut, WallCheck
from cutmarks.registering.sides import mark_sides
from cutmarks.saying.cuts import marked
from cutmarks.saying.infills import infills_read, nearest_cut
from cutmarks.saying.measures import by_centre, is_bite
from cutmarks.saying.measures import shown as as_shown
from cutmarks.saying.seen import Seen
from cutmarks.sides import Axis, Side
from cutmarks.units import say

FOLD_AT = "fold at a "
FOLD, FOLD_LESS = f"{FOLD_AT}+ tick", "for less at a \u2212 tick"
MEASURE = "MEASURE"
"""A measure that the sheet is laid by: TAPE was taken for sticky tape, which holds it on."""
JOINED = "this page goes with the one that it is joined to"


def in_doubt(shown: Seen, cut: Cut) -> Iterator[WallCheck]:
    """The readings of a round thing whose two sides are not as far apart as it is wide: which is wrong is not known."""
    thing, name = cut.opening.thing.disc, cut.opening.name
    asked = (one for one in shown.plan.findings if one.rule == SIDES_DISAGREE and one.accepted is None)
    if thing is None or shown.plan.say.cut == "ahead" or not any(name in one.about for one in asked):
        return
    limit = two_sides(shown.plan.limits, shown.style).value + TOUCH
    for check in cut.wall_checks:
        if check.fixed and not check.to_middle and abs(check.far - check.near - 2.0 * thing[2]) > limit:
            yield check


def doubt_words(shown: Seen, cut: Cut, check: WallCheck) -> str:
    """What is done where a reading is in doubt: no adding to its figures helps, as one of them is wrong."""
    side = as_it_lies(shown, check)
    middle = cut.from_edges[side]
    off = beyond_edge(shown, cut, check)
    less = f", {'less' if off > 0.0 else 'plus'} {say(abs(off), shown.style)}" if abs(off) > TOUCH else ""
    figure, _ = as_shown(middle, side, shown.piece, shown.style)
    # Of a bite the middle is not what MARK has.
    does = "MARK" if by_centre(cut) else "The centre is at"
    return (
        f"IN DOUBT from the {shown.plainly(side)}: read it again. {does} the middle of your two{less}, from there; "
        f"fold by what that differs from {figure}"
    )


def beyond_edge(shown: Seen, cut: Cut, check: WallCheck) -> float:
    """How far beyond the tile's edge that is lies what a check is read from, mm: a joint, or what of it is there."""
    return (check.near + check.far) / 2 - cut.from_edges[as_it_lies(shown, check)]


def read_sides(shown: Seen, axis: Axis) -> tuple[Side, ...]:
    """The sides of the tile that its cuts or corners are read from along an axis, each once, in the order of READ.

    They are called as the tile lies under this template. What is cut ahead is read from none, nor is a corner that no
    reading gives.
    """
    if shown.plan.say.cut == "ahead":
        return ()
    if shown.corners:
        reads = tuple(infills_read(shown.plan, shown.face))
        found = (
            side
            for corner in shown.corners
            for side in mark_sides(corner)
            if nearest_cut(shown, reads, side, corner.from_edges[side])[1] is not None
        )
    else:
        found = (as_it_lies(shown, check) for cut in shown.cuts for check in cut.wall_checks if check.fixed)
    return tuple(dict.fromkeys(side for side in found if side.axis == axis))


def as_it_lies(shown: Seen, check: WallCheck) -> Side:
    """The side that something is read from, as the tile lies under this template: on its back, left is right."""
    return check.side.mirrored if shown.registration.back else check.side


def more_words(shown: Seen, here: Collection[Side], ticked: Collection[Side]) -> tuple[str, str, str]:
    """What READ says of more: that the hole moves away, and what is done then; at length, in short, and in one line.

    `here` are the edges to line up on that are on the page, `ticked` those of them that have a set of ticks there.
    """
    what = "corner" if shown.corners else "hole"
    also = f"its {MEASURE} and MARK" if shown.registration.tape else "its MARK"
    long, short = what_more_does(shown, here, ticked), "; ".join(_folds(shown, here, ticked, less=False))
    return (
        f"found MORE: the {what} moves AWAY from it{f': {long}' if long else ''}",
        f"found MORE: the {what} and {also} move AWAY from it{f': {short}' if short else ''}",
        f"MORE: AWAY ({also.removeprefix('its ')} too){f', {short.removeprefix(FOLD_AT)}' if short else ''}",
    )


def what_more_does(shown: Seen, here: Collection[Side], ticked: Collection[Side]) -> str:
    """What is to be done where more is found: "fold at a + tick, ...; TAPE and MARK that way as much more, or less"."""
    return "; ".join(filter(None, (_moved(shown, here, ticked), *_by_the_paper(shown))))


def _by_the_paper(shown: Seen) -> Iterator[str]:
    """Of bites, whose ends no adding gives where they go deeper: that these are not marked by the tape then."""
    if any(is_bite(cut) and any(read_sides(shown, side.axis) for side in cut.runs_out) for cut in shown.cuts):
        yield "the two ends go BY THE PAPER"


def _moved(shown: Seen, here: Collection[Side], ticked: Collection[Side]) -> str:
    """How paper, measures and figures go with what is found."""
    ways = list(_folds(shown, here, ticked, less=True))
    tapes, marks = _longer(shown, shown.registration.tape), _longer(shown, _marked_from(shown))
    if tapes and len({*tapes.values(), *marks.values()}) == 1:
        return "; ".join((*ways, *_as_much(shown, f"{MEASURE} and MARK that way", marks)))
    return "; ".join((*ways, *_as_much(shown, MEASURE, tapes), *_as_much(shown, "MARK that way", marks)))


def _folds(shown: Seen, here: Collection[Side], ticked: Collection[Side], *, less: bool) -> Iterator[str]:
    """Where each edge is folded then: at its ticks, or where it has none as far beside its line; and for `less`."""
    edges = [side for side in shown.registration.edges if read_sides(shown, side.axis)]
    bare = [side for side in edges if side in here and side not in ticked]
    with_ticks = [side for side in edges if side in ticked]
    if with_ticks:
        at = f" at the {' and the '.join(map(shown.plainly, with_ticks))}" if bare else ""
        yield f"{FOLD}{at}, {FOLD_LESS}" if less else f"{FOLD}{at}"
    for side in bare:
        ways = ("outside", "inside") if read_sides(shown, side.axis)[0] is side else ("inside", "outside")
        more = f"fold the {shown.plainly(side)} as much {ways[0]} its line"
        yield f"{more}, for less {ways[1]}" if less else more
    if any(side not in here for side in edges):
        yield JOINED


def _marked_from(shown: Seen) -> Iterator[Side]:
    """The sides that the figures in MARK are from, across first."""
    sides = [row.measure.side for cut in shown.cuts for row in marked(shown, cut)]
    sides += [side for corner in shown.corners for side in mark_sides(corner)]
    yield from sorted(sides, key=lambda side: side.axis)


def _longer(shown: Seen, sides: Iterable[Side]) -> dict[Side, bool]:
    """Of the sides along whose axis something is read, whether what is from there gets longer where more is found."""
    return {side: read[0] is side for side in sides if (read := read_sides(shown, side.axis))}


def _as_much(shown: Seen, what: str, longer: Mapping[Side, bool]) -> Iterator[str]:
    """The words for it: once where all go the same way, else by side."""
    if len(set(longer.values())) == 1:
        yield f"{what} as much {'more, or less' if all(longer.values()) else 'less, for less as much more'}"
        return
    for side, more in longer.items():
        yield f"{what.split()[0]} as much {'more' if more else 'less'} from the {shown.plainly(side)}"


def other_way(shown: Seen, check: WallCheck, ticked: Collection[Side]) -> str:
    """Of a reading from the other side than the first on its axis: which way it is there; "" of any other."""
    side = as_it_lies(shown, check)
    if side is read_sides(shown, side.axis)[0]:
        return ""
    tape = next((one for one in shown.registration.tape if one.axis == side.axis), None)
    if tape is None:
        has_ticks = any(one.axis == side.axis for one in ticked)
        return "MORE: a \u2212 tick" if has_ticks else "MORE: as less from the other side"
    return f"MORE: {MEASURE} {'more' if tape is side else 'less'}"
