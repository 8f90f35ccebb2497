"""A finding: something that the tiler must know before cutting."""

from __future__ import annotations

from typing import Literal

from msgspec import Struct

Level = Literal["stop", "warn", "note"]
Holds = Literal["all", "trimming"]
SAID: dict[Level, str] = {"stop": "STOP", "warn": "CHECK", "note": "NOTE"}


class Finding(Struct, frozen=True):
    """One sentence once, for all that it is about.

    about   pieces and holes by name; `value` and `limit` in mm or in the unit that the sentence says (None: no
            figure); `source` says where the limit comes from; `accepted` carries the tiler's reason.
    holds   what waits while it is not accepted: of a stop "all" that is cut in the piece; "trimming", of any level: its
            trimming alone (holes go on).
    """

    level: Level
    rule: str
    about: tuple[str, ...]
    text: str
    value: float | None = None
    limit: float | None = None
    source: str = ""
    accepted: str | None = None
    holds: Holds = "all"
