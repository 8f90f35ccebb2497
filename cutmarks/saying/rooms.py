"""Rooms of a type, in words: what fits, what does not, by how much and why. Words, and never a colour."""

from __future__ import annotations

from collections.abc import Sequence

from cutmarks.readings import RoomHand
from cutmarks.rooms.model import AlikeOverall, Cleared, Fit, RoomFits, RoomVerdict, TilesOverall
from cutmarks.units import Style, say, say_down, say_up

SAID_FIT: dict[Fit, str] = {"fits": "FITS", "close": "FITS, CLOSE", "anew": "CUT ANEW", "unjudged": "LOOK"}
"""What stands in capitals before a verdict."""


def room_words(room: RoomFits) -> str:
    """What a room comes to, in one word or two."""
    if not room.clears:
        return "WRONG" if room.worst != "anew" else "WRONG, CUT ANEW"
    return SAID_FIT[room.worst] if room.verdicts else "as its type"


def verdict_words(one: RoomVerdict, style: Style) -> str:
    """One verdict in a sentence or two, without the word in capitals."""
    said = _verdict(one, style)
    if one.whole:
        said += f" {_listed(one.whole)} {'is a whole tile' if len(one.whole) == 1 else 'are whole tiles'} there."
    if one.pieces and set(one.anew) - set(one.pieces):
        said += f" Cut anew there: {_listed(one.anew)}."
    return said


def _verdict(one: RoomVerdict, style: Style) -> str:
    if one.why == "one more":
        return "its opening is wider than the type's: a further piece goes in there."
    if one.why == "trimmed":
        return "it is not trimmed in the type, and the edge comes into it here."
    if one.why == "one less":
        return "nothing of this piece is left: the opening ends before it."
    if one.why == "no size" and one.side is None:
        return "the size of what comes through is not known, so it cannot be said how far its hole may be off."
    if one.why == "no size":
        return "its opening is not read as the type's is: hold the piece up."
    if one.why == "width":
        return "what was read is of another width than the type's: is it the same thing? Read it again."
    return _edge_words(one, style) if one.side is not None else _hole_words(one, style)


def _hole_words(one: RoomVerdict, style: Style) -> str:
    where = off_words(one, style)
    if where == "":
        return "it is where the type has it."
    may = f"{say_down(max(0.0, one.may), style)} is allowed that way"
    match one.why:
        case "thing":
            return f"it is {where} of where the type has it, and {may}: it does not go through the hole."
        case "cover":
            return f"it is {where} of where the type has it, and {may}: its cover does not hide the hole."
        case _:
            return f"it is {where} of where the type has it, and {may}."


def _edge_words(one: RoomVerdict, style: Style) -> str:
    wider = one.right or one.up
    by, may = say(abs(wider), style), say_down(max(0.0, one.may), style)
    if wider > 0.0:
        end = ": the joint there is too wide to be closed." if one.why else "."
        more = f"{by} more"
        said = f"the opening is {by} wider than the type's, and the joint takes up {may}{end}"
    else:
        off = say_up(-wider - max(0.0, one.may), style)
        end = f": trim {by} off what is cut already, {off} at the least, or cut it anew." if one.why else "."
        more = f"{by} less"
        said = f"the opening is {by} narrower than the type's, and {may} of its joint can go{end}"
    return f"{said} What other sheets of the type read from that edge is {more} here."


def wrong_words(one: Cleared, sentence: str) -> str:
    """What is wrong with a fitting on a surface without tiles, with where that is."""
    return f"{one.surface}, {sentence}" if one.name in sentence else f"{one.surface}, {one.name}: {sentence}"


def about_words(one: RoomVerdict) -> str:
    """What a verdict is about: the hole or the edge, its wall, and the pieces."""
    names = one.pieces or one.anew
    return f"{one.what}, {one.surface} ({_listed(names)})" if names else f"{one.what}, {one.surface}"


def _listed(names: Sequence[str]) -> str:
    """All of them: what is cut anew is never counted alone."""
    *others, last = names
    return f"{', '.join(others)} and {last}" if others else last


def off_words(one: RoomVerdict, style: Style) -> str:
    """How far off both ways: "15 right, 2 down"; "" where it is not, to the step of the job's measures."""
    said = []
    ways = ((one.right, "right", "left"), (one.up, *(("further in", "nearer") if one.floor else ("up", "down"))))
    for mm, more, less in ways:
        figure = say(abs(mm), style)
        if figure != say(0.0, style):
            said.append(f"{figure} {more if mm > 0.0 else less}")
    return ", ".join(said)


def type_words(type_name: str, hand: RoomHand) -> str:
    """A type by its file without the ending, and its hand where it is not as drawn."""
    name = type_name.removesuffix(".yaml")
    return name if hand == "as drawn" else f"{name}, {hand}"


def alike_words(one: AlikeOverall) -> str:
    """Which pieces of which types and hands are cut alike."""
    return "; ".join(
        f"{member.piece} of {type_words(member.type_name, member.hand)}: {member.rooms}"
        + (", turned half round" if member.turned else "")
        for member in one.members
    )


def tiles_words(one: TilesOverall) -> str:
    """One kind of tile in a sentence: whole, cut, cut anew, spare, boxes."""
    if one.total is None:
        return f"{one.tile}: an area of it runs on unmeasured, so that its tiles cannot be counted."
    anew = f" + {one.specials} cut anew, if the type's are cut already," if one.specials else ""
    boxes = f", {one.boxes} boxes of {one.box}" if one.boxes is not None else ""
    offcuts = f", {one.from_offcuts} of them from offcuts" if one.from_offcuts else ""
    return (
        f"{one.tile}: {one.laid} laid{anew} + {one.spare} spare = {one.total} tiles{boxes}. "
        f"Of those laid {one.untouched} are whole, {one.holed} more have a hole alone, and {one.cut} pieces are "
        f"trimmed{offcuts}."
    )


def whole_words(one: TilesOverall) -> str:
    """Where the whole tiles are in a list of what is cut."""
    return f"{one.tile}: whole and without a hole, as they come from the box"
