"""All that is said of a site, once every room is done."""

from __future__ import annotations

from collections.abc import Mapping

from cutmarks.fingerprint import fingerprint_of
from cutmarks.rooms.counting import alike_overall, specials_by_tile, tiles_overall
from cutmarks.rooms.flow import Rooms
from cutmarks.rooms.model import RoomFits, RoomsReport


def report_of(rooms: Rooms, done: Mapping[str, RoomFits | str]) -> RoomsReport:
    """The report over what each room came to, by its name: judged, or the sentence of what is wrong with it."""
    judged = tuple(one for one in done.values() if isinstance(one, RoomFits))
    failed = tuple((name, one) for name, one in done.items() if isinstance(one, str))
    plans = {kind: rooms.plan(kind) for kind in rooms.kinds}
    return RoomsReport(
        job=rooms.file.site.name,
        fingerprint=fingerprint_of(
            {"rooms": [one.fingerprint for one in judged], "failed": [list(one) for one in failed]}
        ),
        say=next(iter(plans.values())).say,
        rooms=judged,
        failed=failed,
        alike=alike_overall(plans, judged),
        tiles=tiles_overall(plans, judged, specials_by_tile(plans, judged)),
    )
