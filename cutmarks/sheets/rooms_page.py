"""The pages of a site's rooms: which to look at, room by room; what is cut anew, piece by piece; how many of what.

What is wrong comes first. Verdicts stand in words, so that they are told apart on any printer.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import chain

from cutmarks.checks.model import SAID, Level
from cutmarks.geometry.frames import Point
from cutmarks.marks.model import Role, Words, line
from cutmarks.rooms.model import RoomFits, RoomsReport
from cutmarks.saying.rooms import (
    SAID_FIT,
    about_words,
    alike_words,
    tiles_words,
    type_words,
    verdict_words,
    whole_words,
    wrong_words,
)
from cutmarks.sheets.flow import Block, Cell, Column, TextBlock, filling, heading, paragraph, space, table, title
from cutmarks.sheets.job_pages import job_pages
from cutmarks.sheets.model import Series
from cutmarks.units import Style, Unit

TITLE = "ROOMS"
CLEARANCE_TITLE = "CLEARANCE ROUND"
_LABEL = 31.0


def rooms_pages(report: RoomsReport) -> Series:
    """The pages by room and by piece, portrait, in the Sheet frame, mm."""
    return job_pages(report, TITLE, "rooms_{}.svg", lambda width: _blocks(report, width))


def clearance_round_pages(report: RoomsReport) -> Series:
    """The clearance round: the fittings of all rooms on surfaces without tiles, what is wrong first."""
    return job_pages(report, CLEARANCE_TITLE, "clearance_round_{}.svg", lambda width: _round(report, width))


def _blocks(report: RoomsReport, width: float) -> Iterator[Block]:
    style = report.say.style
    count, anew = len(report.rooms), len(report.to_cut)
    close = sum(room.worst == "close" for room in report.rooms)
    look = sum(room.worst == "unjudged" for room in report.rooms)
    found = [(anew, "with something to cut anew"), (close, "with a close fit"), (look, "to read again")]
    said = [_rooms(count), *(f"{of} {words}" for of, words in found if of)]
    yield from _title(report, TITLE, ", ".join(said) + f". Measures in {_unit(style)}, as one faces the wall.", width)
    yield from _failed(report, width)
    yield from _by_room(report, style, width)
    yield from _by_piece(report, width)
    yield from _quantities(report, width)


def _title(report: RoomsReport, title: str, said: str, width: float) -> Iterator[Block]:
    for one in paragraph(report.job, width - 60.0, bold=True, height=5.0):
        yield Block(one.height, one.marks, keep=True)
    yield Block(0.0, (Words(title, Point(width, 6.4), 3.2, "end", bold=True),), keep=True)
    yield space(1.0)
    yield from paragraph(said, width)
    yield Block(2.0, (line(0.0, -0.5, width, -0.5, Role.CUT),))


def _rooms(count: int) -> str:
    return f"{count} room" if count == 1 else f"{count} rooms"


def _unit(style: Style) -> str:
    return "millimetres" if style.unit is Unit.MM else "inches"


def _failed(report: RoomsReport, width: float) -> Iterator[Block]:
    """Rooms whose readings cannot be taken: they are named first, since nothing is known of them."""
    if report.failed:
        yield heading("NOT DONE: TO BE MENDED", width)
    for room, sentence in report.failed:
        yield from paragraph(sentence, width, label=room, indent=_LABEL)
        yield space(0.9)


def _by_room(report: RoomsReport, style: Style, width: float) -> Iterator[Block]:
    """The rooms that need something first, then those that are close, then the others in one list."""
    yield heading("ROOM BY ROOM", width)
    order = ("anew", "unjudged", "close")
    for worst in order:
        for room in report.rooms:
            if room.worst == worst:
                yield from _room(room, style, width)
    fits = [room for room in report.rooms if room.worst == "fits"]
    for label, rooms in (
        ("FITTINGS", [room for room in fits if not room.clears]),
        ("FIT AS CUT", [room for room in fits if room.clears]),
    ):
        said = "; ".join(f"{room.room} ({type_words(room.type_name, room.hand)})" for room in rooms)
        if rooms:
            more = ": something is wrong before tiling, as the clearance round says." if label == "FITTINGS" else ""
            yield from paragraph(said + more, width, label=label, indent=_LABEL)
    yield space(4.0)


def _room(room: RoomFits, style: Style, width: float) -> Iterator[Block]:
    yield from title(f"Room {room.room}: {type_words(room.type_name, room.hand)}", width)
    if room.note:
        yield from paragraph(room.note, width, indent=_LABEL)
    for one in sorted(room.verdicts, key=lambda one: ("anew", "unjudged", "close", "fits").index(one.says)):
        if one.says == "fits" and room.worst != "fits" and one.side is not None:
            continue  # of an edge, the pieces that fit go without saying beside those that do not
        yield from paragraph(
            f"{about_words(one)}: {verdict_words(one, style)}", width, label=SAID_FIT[one.says], indent=_LABEL
        )
    if room.replaced:
        said = f"of the type's pack, for this room: {', '.join(room.replaced)}. Its own pack has what goes there."
        yield from paragraph(said, width, label="LEAVE OUT", indent=_LABEL)
    yield space(2.0)


def _by_piece(report: RoomsReport, width: float) -> Iterator[Block]:
    """What is cut anew: each piece with the rooms that it is cut anew for."""
    rows: dict[str, list[str]] = {}
    for room in report.to_cut:
        for name in room.specials:
            rows.setdefault(f"{name}, {type_words(room.type_name, room.hand)}", []).append(room.room)
        for name in room.whole:
            rows.setdefault(f"{name}, {type_words(room.type_name, room.hand)}: a whole tile", []).append(room.room)
    if not rows:
        return
    band = heading("PIECE BY PIECE: CUT ANEW", width, "each room has a pack and labels of its own")
    columns = filling((Column(("how many",), 22.0), Column(("piece",), 70.0), Column(("for room",), 90.0)), width)
    yield band
    yield from table(columns, (_piece_row(name, rooms) for name, rooms in rows.items()), (band,))
    yield space(4.0)


def _piece_row(name: str, rooms: list[str]) -> list[Cell]:
    return [[TextBlock(str(len(rooms)))], [TextBlock(name, bold=True)], [TextBlock(", ".join(rooms))]]


def _quantities(report: RoomsReport, width: float) -> Iterator[Block]:
    """Tiles over all rooms, and the pieces that are cut alike."""
    yield heading("HOW MANY OF WHAT", width)
    for tiles in report.tiles:
        yield from paragraph(tiles_words(tiles), width)
    yield space(2.0)
    columns = filling(
        (
            Column(("how many",), 22.0),
            Column(("no.",), 14.0),
            Column(("alike: tile, piece of its type: in how many rooms",), 146.0),
        ),
        width,
    )
    rows = (
        [
            [TextBlock(str(one.count), bold=True)],
            [TextBlock(one.called)],
            [TextBlock(f"{one.tile}: {alike_words(one)}")],
        ]
        for one in report.alike
    )
    whole = (
        [[TextBlock(str(one.untouched), bold=True)], [TextBlock("-")], [TextBlock(whole_words(one))]]
        for one in report.tiles
        if one.untouched
    )
    yield from table(columns, chain(rows, whole))


def _round(report: RoomsReport, width: float) -> Iterator[Block]:
    """Before tiling: nothing but what is wrong first, then how many pass in each room."""
    rooms = [room for room in report.rooms if room.cleared]
    count = sum(len(room.cleared) for room in rooms)
    good = sum(one.passes for room in rooms for one in room.cleared)
    said = f"{_rooms(len(rooms))}, {count} fittings, {good} pass. Nothing is cut from this page."
    yield from _title(report, CLEARANCE_TITLE, said, width)
    yield from _failed(report, width)
    yield heading("WRONG: BEFORE IT IS COVERED UP", width)
    if good == count:
        yield from paragraph("Nothing was found that is wrong.", width)
    for (level, sentence), names in _wrong(rooms):
        where = f"Room{'s' if len(names) > 1 else ''} {', '.join(names)}"
        yield from paragraph(f"{where}: {sentence}", width, label=SAID[level], indent=_LABEL)
        yield space(0.9)
    yield space(4.0)
    yield heading("ALL ROOMS", width)
    passing: dict[str, list[str]] = {}
    for room in sorted(rooms, key=lambda room: sum(not one.passes for one in room.cleared), reverse=True):
        said = f"{sum(one.passes for one in room.cleared)} of {len(room.cleared)} pass"
        passing.setdefault(said, []).append(f"{room.room} ({type_words(room.type_name, room.hand)})")
    for said, names in passing.items():
        yield from paragraph("; ".join(names), width, label=said, indent=_LABEL)


def _wrong(rooms: Sequence[RoomFits]) -> Iterator[tuple[tuple[Level, str], list[str]]]:
    """What is wrong, each sentence once with the rooms that it is said of; what must not be covered up first."""
    found: dict[tuple[Level, str], list[str]] = {}
    for room in rooms:
        for level, one, sentence in room.wrong:
            names = found.setdefault((level, wrong_words(one, sentence)), [])
            if room.room not in names:
                names.append(room.room)
    for worst in ("stop", "warn"):
        yield from ((said, names) for said, names in found.items() if said[0] == worst)
