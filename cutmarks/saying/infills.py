"""What is read for a piece that is trimmed, in words: the opening at both ends, what comes off, the cut to expect."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Literal

from msgspec import Struct

from cutmarks.fixing.model import ReadFrom
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.openings.found import InfillFound
from cutmarks.openings.model import CutPiece, Infill, InfillEnd, NoReading, TakenOff
from cutmarks.plan import Plan
from cutmarks.saying.dialect import wording
from cutmarks.saying.edges import course_beside, edge_source
from cutmarks.saying.findings import size_held
from cutmarks.saying.from_lines import across_words, up_words
from cutmarks.sides import Side
from cutmarks.units import Style, say, say_down, say_up

AT_END = {Side.BOTTOM: "at the bottom", Side.TOP: "at the top", Side.LEFT: "at the left", Side.RIGHT: "at the right"}


class InfillRead(Struct, frozen=True):
    """What is read for a piece that is trimmed on one axis, as it is said.

    words  from what to what: "from the fixed tile on the left to the end panel".
    off    what comes off: "less joint 2 and gap 3", or "".
    """

    infill: Infill
    words: str
    off: str


def infill_lines(plan: Plan, piece: CutPiece) -> Iterator[str]:
    """For each axis on which it is trimmed what to read, what comes off, and the cut: one sentence; or why nothing is.

    "from the fixed tile on the left to the end panel 121 at the bottom, 118½ at the top, less joint 2 and gap 3: cut
    116, 113½". Cuts have to go in, and are rounded down. Ends that are nearly alike have one figure, the smaller.
    Of a piece that is not to be trimmed yet nothing is said, but what is not known.
    """
    yield from unread_lines(plan, piece)
    for read in infills_read(plan, piece):
        past = read.infill.past
        openings, cuts = _ends(read.infill.ends, plan.say.style, plan.limits.two_sizes.value, past=past)
        opening = f"{read.words} {openings}{f', {read.off}' if read.off else ''}"
        yield f"{opening}: tile again from {cuts}" if past else f"{opening}: cut {cuts}"


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
        words = f"from {source_words(plan, piece, infill.source, infill.side)} to {_to(infill)}"
        yield InfillRead(infill, words, off_words(infill.off, plan.say.style, plan.say.words))


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


def expected_lines(plan: Plan, piece: CutPiece) -> Iterator[str]:
    """The same in short, without what comes off: "end panel 121 at the bottom, 118½ at the top: cut 116, 113½".

    Nothing is said of a piece that is not to be trimmed yet.
    """
    if size_held(plan, piece):
        return
    for infill in piece.infills:
        openings, cuts = _ends(infill.ends, plan.say.style, plan.limits.two_sizes.value, past=infill.past)
        if infill.past:
            yield f"far side of the {infill.to} {openings}: tile again from {cuts}"
        else:
            yield f"{infill.to} {openings}: cut {cuts}"


def expected_of_several(plan: Plan, pieces: Sequence[CutPiece]) -> Iterator[str]:
    """The same for pieces that go into openings between the same things, from the least to the most of each.

    "end panel 71½ to 74: cut 65½ to 68, measure each".
    """
    style = plan.say.style
    for infills in zip(*(piece.infills for piece in pieces), strict=True):
        ends = [end for infill in infills for end in infill.ends]
        cut = say_up if infills[0].past else say_down
        openings, cuts = sorted(end.opening for end in ends), sorted(end.cut for end in ends)
        opening = _least_to_most(say(openings[0], style), say(openings[-1], style))
        made = _least_to_most(cut(cuts[0], style), cut(cuts[-1], style))
        to = f"far side of the {infills[0].to}" if infills[0].past else infills[0].to
        yield f"{to} {opening}: {'tile again from' if infills[0].past else 'cut'} {made}"


def _least_to_most(least: str, most: str) -> str:
    return least if least == most else f"{least} to {most}"


def infill_found_words(found: InfillFound, style: Style) -> str:
    """What came of an opening that was read: "found 90 at the bottom, 89 at the top (91 expected): cut it 84, 83"."""
    openings, cuts = _ends(found.ends, style, 0.0, past=found.expected.past)
    expected, _ = _ends(found.expected.ends, style, 0.0, past=found.expected.past)
    done = f"; it was cut so{f' on {found.date}' if found.date else ''}" if found.cut else ""
    cut = "tile again from" if found.expected.past else "cut it"
    return f"the opening to {_to(found.expected)} was found {openings} ({expected} expected): {cut} {cuts}{done}."


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
        return f"its own {side} edge, marked {words(source.at, plan.setout(piece.piece.surface), plan.say.style)},"
    if source.kind == "piece" and not source.across:
        return course_beside(plan, piece, side) if side.axis == "up" else f"the fixed tile on the {side}"
    return edge_source(source, side) if source.kind == "edge" else source.name


def off_words(offs: Sequence[TakenOff], style: Style, words: Literal["uk", "us"]) -> str:
    """What comes off an opening: "less joint 3 and gap 5"; "" where nothing does."""
    said: dict[str, list[str]] = {"less": [], "plus": []}
    for off in offs:
        name = wording(words).joint if off.what == "joint" else off.what
        if abs(off.mm) > TOUCH:
            figure = say(abs(off.mm), style)
            words_of_it = f"{figure} {name}" if off.what in ("past the edge", "under it") else f"{name} {figure}"
            said["plus" if off.mm < 0 else "less"].append(words_of_it)
    parts = [f"{word} {' and '.join(names)}" for word, names in said.items() if names]
    return ", ".join(parts)
