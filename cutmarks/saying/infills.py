"""What is read for a piece that is trimmed, in words: the opening at both ends, what comes off, what is kept of it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Literal

from msgspec import Struct
from msgspec.structs import replace

from cutmarks.fixing.model import ReadFrom
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.openings.found import InfillFound
from cutmarks.openings.model import CutPiece, Infill, InfillEnd, NoReading, OffWhat, TakenOff
from cutmarks.plan import Plan
from cutmarks.saying.dialect import wording
from cutmarks.saying.edges import course_beside, edge_source
from cutmarks.saying.findings import size_held
from cutmarks.saying.from_lines import across_words, up_words
from cutmarks.saying.seen import Seen
from cutmarks.sides import Side
from cutmarks.units import Style, say, say_down, say_up

AT_END = {Side.BOTTOM: "at the bottom", Side.TOP: "at the top", Side.LEFT: "at the left", Side.RIGHT: "at the right"}
_SAME_CUT = 1.0
"""A reading is that of a corner where its cut is so near to it, mm."""

_BEYOND: Mapping[OffWhat, str] = {
    "past the start": "past where it is read from",
    "past the edge": "past it",
    "under it": "to go under it",
}
"""What tile has beyond what is read to: past a side that it laps, in under a frame."""


class InfillRead(Struct, frozen=True):
    """What is read for a piece that is trimmed on one axis, as it is said.

    words  from what to what: "from the fixed tile on the left to the end panel".
    off    what comes off: "less joint 2 and gap 3", or "".
    """

    infill: Infill
    words: str
    off: str


def infill_lines(plan: Plan, piece: CutPiece) -> Iterator[str]:
    """For each axis on which it is trimmed what to read, what comes off, what is kept: one sentence; or why nothing is.

    "from the fixed tile on the left to the end panel 121 at the bottom, 118½ at the top, less joint 2 and gap 3: keep
    116, 113½". "Cut 116" was taken for what is sawn off. Cuts have to go in, and are rounded down. Ends that are nearly
    alike have one figure, the smaller.
    Of a piece that is not to be trimmed yet nothing is said, but what is not known.
    """
    yield from unread_lines(plan, piece)
    for read in infills_read(plan, piece):
        past = read.infill.past
        openings, cuts = _ends(read.infill.ends, plan.say.style, plan.limits.two_sizes.value, past=past)
        opening = f"{read.words} {openings}{f', {read.off}' if read.off else ''}"
        yield f"{opening}: tile again from {cuts}" if past else f"{opening}: keep {cuts}"


def unread_lines(plan: Plan, piece: CutPiece) -> Iterator[str]:
    """Why nothing is read for it on an axis on which it is trimmed."""
    held = size_held(plan, piece)
    kind = plan.setout(piece.piece.surface).kind
    for why in dict.fromkeys(no_reading_words(one, kind) for one in piece.unread):
        if not held or any(one.why == "still to come" for one in piece.unread):
            yield why


def infills_read(plan: Plan, piece: CutPiece) -> Iterator[InfillRead]:
    """What is read for each opening that the piece goes into, in its parts; none while it must not be trimmed yet."""
    if size_held(plan, piece):
        return
    for infill in piece.infills:
        words = (
            f"from {source_words(plan, piece, infill.source, infill.side)} to {_to(infill)}{_at_one_end(piece, infill)}"
        )
        yield InfillRead(infill, words, off_words(infill.off, plan.say.style, plan.say.words))


def nearest_cut(shown: Seen, reads: Sequence[InfillRead], side: Side, at: float) -> tuple[int, InfillEnd | None]:
    """The reading, by number, and its end, whose cut from a side of the piece is nearest to a corner that lies there.

    The readings are those of the face, the side that of the template. (-1, None) where no reading gives that corner.
    """
    begins = side.mirrored if shown.registration.back else side
    found = [
        (abs(end.cut - at), number, end)
        for number, read in enumerate(reads)
        if read.infill.side.opposite is begins
        for end in read.infill.ends
    ]
    off, number, end = min(found, key=lambda one: one[:2], default=(_SAME_CUT, -1, None))
    return (number, end) if off < _SAME_CUT else (-1, None)


def _at_one_end(piece: CutPiece, infill: Infill) -> str:
    """Where it is read, of one that another has the words of: something else comes off there; "" of any other."""
    alike = [one for one in piece.infills if replace(one, ends=(), off=()) == replace(infill, ends=(), off=())]
    own = any(one.off != infill.off for one in alike) and len(infill.ends) == 1
    return f" {AT_END[infill.ends[0].at]}" if own else ""


def no_reading_words(one: NoReading, kind: Literal["wall", "floor"]) -> str:
    """Why nothing is read on an axis, and what to do: "up: nothing yet, ... the floor is still to come"."""
    axis = one.axis if kind == "wall" or one.axis == "across" else "in"
    match one.why:
        case "turned":
            return (
                "nothing square to the wall, its area is turned: hold the tile up dry in its place, and mark it there"
            )
        case "still to come":
            unknown = f"what is still to come at the {one.at} is not known"
            return f"{axis}: nothing yet, as {unknown}: measure it when it is there"
        case "border":
            return f"{axis}: nothing, its area ends there at nothing fixed yet: cut it to the size given"
        case "shape":
            return "nothing straight to read to: hold the tile up dry in its place, and mark it there"
        case "nothing there":
            return (
                f"{axis}: nothing is fixed yet, and no line shows, to read to the {one.at} from: mark the tile in place"
            )


def never(_: Infill) -> bool:
    """Nothing was told before."""
    return False


def expected_lines(plan: Plan, piece: CutPiece, told: Callable[[Infill], bool] = never) -> Iterator[str]:
    """The same on the day's list: "left tile to end panel 121 at the bottom, 118½ at the top, less 5: keep 116, 113½".

    What it is read from says which side of the tile is kept, and how much comes off in all what another reading gives.
    Both are left out where they are `told`, by a sheet of the piece or by a row before it.

    Nothing is said of a piece that is not to be trimmed yet.
    """
    if size_held(plan, piece):
        return
    for infill in piece.infills:
        openings, cuts = _ends(infill.ends, plan.say.style, plan.limits.two_sizes.value, past=infill.past)
        off = infill.ends[0].opening - infill.ends[0].cut
        to = f"{_to(infill).removeprefix('the ')}{_at_one_end(piece, infill)}"
        opening = f"{to} {openings}"
        if not told(infill):
            opening = f"{_begins(plan, piece, infill)} to {opening}{_off_in_all(off, plan.say.style)}"
        yield f"{opening}: tile again from {cuts}" if infill.past else f"{opening}: keep {cuts}"


def _begins(plan: Plan, piece: CutPiece, infill: Infill) -> str:
    """What it is read from, in short: "left tile", "own right edge", "course below"."""
    source, side = infill.source, infill.side.opposite
    if source.kind == "mark":
        return f"own {side} edge"
    if source.kind == "piece" and not source.across and side.axis == "across":
        return f"{side} tile"
    return source_words(plan, piece, source, infill.side).removeprefix("the ")


def _off_in_all(off: float, style: Style) -> str:
    """What comes off an opening in all, or is added: ", less 6", ", plus 10"; "" where nothing does."""
    return f", {'less' if off > 0.0 else 'plus'} {say(abs(off), style)}" if abs(off) > TOUCH else ""


def expected_of_several(plan: Plan, pieces: Sequence[CutPiece]) -> Iterator[str]:
    """The same for pieces that go into openings between the same things, from the least to the most of each.

    "left tile to end panel 71½ to 74, less 6: keep 65½ to 68".
    """
    style = plan.say.style
    for infills in zip(*(piece.infills for piece in pieces), strict=True):
        ends = [end for infill in infills for end in infill.ends]
        cut = say_up if infills[0].past else say_down
        openings, cuts = sorted(end.opening for end in ends), sorted(end.cut for end in ends)
        opening = _least_to_most(say(openings[0], style), say(openings[-1], style))
        made = _least_to_most(cut(cuts[0], style), cut(cuts[-1], style))
        begins = {_begins(plan, piece, own) for piece, own in zip(pieces, infills, strict=True)}
        to = _to(infills[0]).removeprefix("the ")
        to = f"{begins.pop()} to {to}" if len(begins) == 1 else to
        offs = {_off_in_all(end.opening - end.cut, style) for end in ends}
        off = offs.pop() if len(offs) == 1 else ""
        yield f"{to} {opening}{off}: {'tile again from' if infills[0].past else 'keep'} {made}"


def _least_to_most(least: str, most: str) -> str:
    return least if least == most else f"{least} to {most}"


def infill_found_words(found: InfillFound, style: Style) -> str:
    """What came of an opening that was read: "found 90 at the bottom, 89 at the top (91 expected): keep 84, 83"."""
    openings, cuts = _ends(found.ends, style, 0.0, past=found.expected.past)
    expected, _ = _ends(found.expected.ends, style, 0.0, past=found.expected.past)
    done = f"; it was cut so{f' on {found.date}' if found.date else ''}" if found.cut else ""
    keep = "tile again from" if found.expected.past else "keep"
    return f"the opening to {_to(found.expected)} was found {openings} ({expected} expected): {keep} {cuts}{done}."


def _to(infill: Infill) -> str:
    return f"the far side of the {infill.to}" if infill.past else f"the {infill.to}"


def own_ends(ends: Sequence[InfillEnd], two_sizes: float, *, past: bool = False) -> tuple[InfillEnd, ...]:
    """The ends that have a figure of their own: where they are nearly alike one alone, that which goes in."""
    smallest, largest = (of(ends, key=lambda end: end.cut) for of in (min, max))
    return (largest if past else smallest,) if largest.cut - smallest.cut < two_sizes - TOUCH else tuple(ends)


def _ends(ends: Sequence[InfillEnd], style: Style, two_sizes: float, *, past: bool = False) -> tuple[str, str]:
    """The openings with their ends, and the cuts; one figure where both ends have it: the one that goes in."""
    ends = own_ends(ends, two_sizes, past=past)
    cut = say_up if past else say_down
    read = [(end.at, say(end.opening, style), cut(end.cut, style)) for end in ends]
    if len({(opening, cut) for _, opening, cut in read}) == 1:
        return read[0][1], read[0][2]
    return ", ".join(f"{opening} {AT_END[at]}" for at, opening, _ in read), ", ".join(cut for _, _, cut in read)


def source_words(plan: Plan, piece: CutPiece, source: ReadFrom, towards: Side) -> str:
    """What an opening of a piece towards a side is read from: "the fixed tile on the left", "V", "the right edge"."""
    side = towards.opposite
    if source.kind == "mark":
        words = across_words if side.axis == "across" else up_words
        place = words(source.at, plan.setout(piece.piece.surface), plan.say.style)
        return f"where its own {side} edge comes (mark it {place} first)"
    if source.kind == "piece" and not source.across:
        return course_beside(plan, piece, side) if side.axis == "up" else f"the fixed tile on the {side}"
    return edge_source(source, side) if source.kind == "edge" else source.name


def off_words(offs: Sequence[TakenOff], style: Style, words: Literal["uk", "us"]) -> str:
    """What comes off an opening: "less joint 3 and gap 5"; "" where nothing does."""
    said: dict[str, list[str]] = {"less": [], "plus": []}
    beyond: list[str] = []
    for off in offs:
        if abs(off.mm) <= TOUCH:
            continue
        word, figure = "plus" if off.mm < 0 else "less", say(abs(off.mm), style)
        if off.what in _BEYOND:
            # Less and plus of the same 12 stand one under the other: each says which it is, right before the figure.
            beyond.append(f"{word} {figure} {_BEYOND[off.what]}")
        else:
            said[word].append(f"{wording(words).joint if off.what == 'joint' else off.what} {figure}")
    return ", ".join([*(f"{word} {_and(names)}" for word, names in said.items() if names), *beyond])


def _and(names: Sequence[str]) -> str:
    """As they are counted: "joint 3 and gap 5", "joint 3, gap 3 and still to come 12"."""
    *first, last = names
    return f"{', '.join(first)} and {last}" if first else last
