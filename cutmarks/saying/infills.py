"""What is read for a piece that is trimmed, in words: the opening at both ends, what comes off, the cut to expect."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Literal

from cutmarks.geometry.tolerance import TOUCH
from cutmarks.openings.found import InfillFound
from cutmarks.openings.model import CutPiece, Infill, InfillEnd
from cutmarks.plan import Plan
from cutmarks.saying.dialect import wording
from cutmarks.saying.findings import size_held
from cutmarks.sides import Side
from cutmarks.units import Style, say, say_down

_AT = {Side.BOTTOM: "at the bottom", Side.TOP: "at the top", Side.LEFT: "at the left", Side.RIGHT: "at the right"}


def infill_lines(plan: Plan, piece: CutPiece) -> Iterator[str]:
    """For each axis on which it is trimmed what to read, what comes off, and the cut: one sentence.

    "from the fixed tile on the left to the end panel 121 at the bottom, 118½ at the top, less joint 2 and gap 3: cut
    116, 113½". Cuts have to go in, and are rounded down. Ends that are nearly alike have one figure, the smaller.
    Nothing is said of a piece that is not to be trimmed yet.
    """
    if size_held(plan, piece):
        return
    style, words, two_sizes = plan.say.style, plan.say.words, plan.limits.two_sizes.value
    for infill in piece.infills:
        openings, cuts = _ends(infill.ends, style, two_sizes)
        yield f"from {_source(infill)} to the {infill.to} {openings}{_off(infill, style, words)}: cut {cuts}"


def infill_found_words(found: InfillFound, style: Style) -> str:
    """What came of an opening that was read: "found 90 at the bottom, 89 at the top (91 expected): cut it 84, 83"."""
    openings, cuts = _ends(found.ends, style, 0.0)
    expected, _ = _ends(found.expected.ends, style, 0.0)
    done = f"; it was cut so{f' on {found.date}' if found.date else ''}" if found.cut else ""
    return f"the opening to the {found.expected.to} was found {openings} ({expected} expected): cut it {cuts}{done}."


def _ends(ends: Sequence[InfillEnd], style: Style, two_sizes: float) -> tuple[str, str]:
    """The openings with their ends, and the cuts; one figure where both ends have it."""
    smallest = min(ends, key=lambda end: end.cut)
    if max(end.cut for end in ends) - smallest.cut < two_sizes - TOUCH:
        ends = [smallest]
    read = [(end.at, say(end.opening, style), say_down(end.cut, style)) for end in ends]
    if len({(opening, cut) for _, opening, cut in read}) == 1:
        return read[0][1], read[0][2]
    return ", ".join(f"{opening} {_AT[at]}" for at, opening, _ in read), ", ".join(cut for _, _, cut in read)


def _source(infill: Infill) -> str:
    source, side = infill.source, infill.side.opposite
    if source.kind == "piece" and not source.across:
        return {
            Side.LEFT: "the fixed tile on the left",
            Side.RIGHT: "the fixed tile on the right",
            Side.BOTTOM: "the course below",
            Side.TOP: "the course above",
        }[side]
    return f"the {source.name} edge" if source.kind == "edge" and source.name == str(side) else source.name


def _off(infill: Infill, style: Style, words: Literal["uk", "us"]) -> str:
    said: dict[str, list[str]] = {"less": [], "plus": []}
    for off in infill.off:
        name = wording(words).joint if off.what == "joint" else off.what
        if abs(off.mm) > TOUCH:
            figure = say(abs(off.mm), style)
            words_of_it = f"{figure} {name}" if off.what == "past the edge" else f"{name} {figure}"
            said["plus" if off.mm < 0 else "less"].append(words_of_it)
    parts = [f"{word} {' and '.join(names)}" for word, names in said.items() if names]
    return f", {', '.join(parts)}" if parts else ""
