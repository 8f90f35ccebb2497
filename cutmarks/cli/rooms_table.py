"""The rooms of a site on the terminal: what is wrong first."""

from __future__ import annotations

from collections.abc import Iterator

from cutmarks.checks.model import SAID
from cutmarks.cli.terminal import wrapped
from cutmarks.rooms.model import RoomFits, RoomsReport
from cutmarks.saying.rooms import SAID_FIT, about_words, room_words, tiles_words, type_words, verdict_words, wrong_words
from cutmarks.units import Style

_ORDER = ("anew", "unjudged", "close", "fits")


def room_lines(report: RoomsReport) -> list[str]:
    """Each room with a line of its own, under it what was judged; then the tiles of all."""
    lines = [f"{report.job}: {len(report.rooms)} rooms, {len(report.to_cut)} with something to cut anew"]
    for name, sentence in report.failed:
        lines += wrapped(f"{name}: NOT DONE. {sentence}", "", "  ")
    for room in sorted(report.rooms, key=lambda room: _ORDER.index(room.worst)):
        lines += _room(room, report.say.style)
    for tiles in report.tiles:
        lines += wrapped(tiles_words(tiles), "", "  ")
    return lines


def _room(room: RoomFits, style: Style) -> Iterator[str]:
    yield f"{room.room} ({type_words(room.type_name, room.hand)}): {room_words(room)}"
    for one in sorted(room.verdicts, key=lambda one: _ORDER.index(one.says)):
        if one.says == "fits" and room.worst != "fits":
            continue
        said = f"{SAID_FIT[one.says]} {about_words(one)}: {verdict_words(one, style)}"
        yield from wrapped(said, "  ", "    ")
    for level, cleared, sentence in room.wrong:
        yield from wrapped(f"{SAID[level]} {wrong_words(cleared, sentence)}", "  ", "    ")
