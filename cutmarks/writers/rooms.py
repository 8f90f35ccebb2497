"""What a site of rooms becomes on the disk: lists, pages, and the record of each room by which a batch is resumed.

OUT/rooms.pdf, rooms.csv, alike.csv     which rooms to look at, what to cut anew, how many of what
OUT/clearance-round.pdf                 where a type has a surface without tiles
OUT/types/wash-room[_mirrored]/         everything for a type in a hand, as `cutmarks make` writes it
OUT/rooms/102/                          what is cut anew for that room alone, where anything is
OUT/rooms/102-labels.pdf                a label for each piece of it
OUT/rooms/102.json                      the room's record, written when all else of it is there
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from functools import lru_cache
from pathlib import Path
from typing import Any

from msgspec import to_builtins

from cutmarks import __version__
from cutmarks.checks.model import SAID
from cutmarks.rooms.model import Cleared, RoomFits, RoomsReport, RoomVerdict
from cutmarks.saying.names import safe_name, unique
from cutmarks.saying.rooms import SAID_FIT, alike_words, verdict_words, whole_words
from cutmarks.sheets.rooms_page import clearance_round_pages, rooms_pages
from cutmarks.sides import Side
from cutmarks.writers.csv_table import CsvRow, csv_bytes, mm
from cutmarks.writers.disk import write_whole
from cutmarks.writers.documents import series_pdf

ROOMS_PDF, ROOMS_CSV, ALIKE_CSV, ROUND_PDF = "rooms.pdf", "rooms.csv", "alike.csv", "clearance-round.pdf"
_VERDICTS = (
    "site", "room", "type", "hand", "surface", "what", "pieces", "says", "right mm", "up mm", "may be mm", "why",
    "room fingerprint",
)  # fmt: skip
_ALIKE = ("site", "number", "tile", "how many", "pieces")


@lru_cache(maxsize=4)
def room_names(rooms: tuple[str, ...]) -> Mapping[str, str]:
    """For each room's name the name of its folder; a room that is added behind changes no other's."""
    return dict(zip(rooms, unique(safe_name(room, nameless="room") for room in rooms), strict=True))


def record_of(fits: RoomFits) -> bytes:
    """The record of a room that was judged, and written where anything is cut anew for it."""
    return json.dumps({"cutmarks": __version__, **to_builtins(fits)}, ensure_ascii=False, indent=1).encode() + b"\n"


def read_record(content: bytes) -> RoomFits | None:
    """The room of a record; None where it is none of this version, and the room is judged again."""
    try:
        held: dict[str, Any] = json.loads(content)
        if held.pop("cutmarks") != __version__:
            return None
        verdicts = tuple(
            RoomVerdict(
                **{
                    **one,
                    **{key: tuple(one[key]) for key in ("pieces", "whole", "anew")},
                    "side": None if one["side"] is None else Side(one["side"]),
                }
            )
            for one in held.pop("verdicts")
        )
        cleared = tuple(
            Cleared(one["surface"], one["name"], tuple((level, text) for level, text in one["wrong"]))
            for one in held.pop("cleared")
        )
        return RoomFits(**held, verdicts=verdicts, cleared=cleared)
    except (ValueError, KeyError, TypeError):
        return None


def write_report(report: RoomsReport, out: Path) -> tuple[str, ...]:
    """The pages and lists of a site into its folder, each whole or not at all; their names."""
    made = {
        ROOMS_CSV: csv_bytes(_VERDICTS, _verdict_rows(report)),
        ALIKE_CSV: csv_bytes(_ALIKE, _alike_rows(report)),
        ROOMS_PDF: series_pdf(rooms_pages(report), f"{report.job}: rooms"),
    }
    if any(room.cleared for room in report.rooms):
        made[ROUND_PDF] = series_pdf(clearance_round_pages(report), f"{report.job}: clearance round")
    for name, content in made.items():
        write_whole(out, name, content)
    return tuple(made)


def _verdict_rows(report: RoomsReport) -> Iterator[CsvRow]:
    for room in report.rooms:
        own = {
            "site": report.job,
            "room": room.room,
            "type": room.type_name,
            "hand": room.hand,
            "room fingerprint": room.fingerprint,
        }
        if not room.verdicts and room.clears:
            yield {**own, "says": "as its type"}
        for level, fitting, sentence in room.wrong:
            yield {**own, "surface": fitting.surface, "what": fitting.name, "says": SAID[level], "why": sentence}
        for one in room.verdicts:
            yield {
                **own,
                "surface": one.surface,
                "what": one.what,
                "pieces": "; ".join(one.pieces),
                "says": SAID_FIT[one.says],
                "right mm": mm(one.right),
                "up mm": mm(one.up),
                "may be mm": mm(one.may),
                "why": verdict_words(one, report.say.style),
            }
    for name, sentence in report.failed:
        yield {"site": report.job, "room": name, "says": "NOT DONE", "why": sentence}


def _alike_rows(report: RoomsReport) -> Iterator[CsvRow]:
    for one in report.alike:
        yield {
            "site": report.job,
            "number": one.called,
            "tile": one.tile,
            "how many": str(one.count),
            "pieces": alike_words(one),
        }
    for tiles in report.tiles:
        if tiles.untouched:
            yield {
                "site": report.job,
                "number": "whole",
                "tile": tiles.tile,
                "how many": str(tiles.untouched),
                "pieces": whole_words(tiles),
            }
