"""Where a piece is, as one says it on site."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from cutmarks.geometry.tolerance import TOUCH
from cutmarks.readings import UNDER
from cutmarks.setout.model import SetOut
from cutmarks.tiling.layout import Layout
from cutmarks.tiling.model import Place

if TYPE_CHECKING:
    from cutmarks.job.models import AreaSpec
    from cutmarks.readings import Reading


def ordinal(number: int) -> str:
    """1st, 2nd, 3rd, 4th, 11th.

    >>> [ordinal(n) for n in (1, 2, 3, 4, 11, 12, 13, 21, 102)]
    ['1st', '2nd', '3rd', '4th', '11th', '12th', '13th', '21st', '102nd']
    """
    tail = "th" if number % 100 in (11, 12, 13) else {1: "st", 2: "nd", 3: "rd"}.get(number % 10, "th")
    return f"{number}{tail}"


def place_in_words(layout: Layout, area: AreaSpec, setout: SetOut, say: Literal["uk", "us"], place: Place) -> str:
    """Counted from the start, as on the wall: 2nd course up from the batten, 2nd tile right of V."""
    assert area.start_across is not None
    assert area.start_up is not None
    if layout.grid.turn:
        course, number = layout.course_number(place[1]), layout.number(place)
        return f"course {course}, tile {number} along it; courses run at {layout.grid.turn:g} degrees"
    on_line = area.start_up.at.low == 0
    level = said_place(area.start_up.at)
    if setout.kind == "wall" and area.start_up.anchor == "sits on" and on_line:
        level = {"uk": "the batten", "us": "the ledger"}[say]
    in_course = _course_words(layout, place, setout.kind, level, on_line)
    return f"{in_course}, {_tile_words(layout, place, said_place(area.start_across.at))}"


def _course_words(layout: Layout, place: Place, kind: str, level: str, on_line: bool) -> str:
    grid = layout.grid
    number = _count(grid.corner(place)[1] - layout.reference[1], grid.h, grid.pitch_v)
    if number == 0:
        return f"the course across {level}"
    onward, back = ("up", "down") if kind == "wall" else ("in", "out")
    counted = layout.course_number(place[1])
    course = f"{ordinal(abs(number))} course {onward if number > 0 else back}"
    if counted != number and not layout.counts_from_start:
        # Its name counts from the area's lowest course: what is counted here, from the line, is not taken for that.
        course = f"{_counted(counted)}, the {ordinal(abs(number))} {onward if number > 0 else back}"
    if on_line:
        return f"{course} from {level}"
    # "From 600 above B" alone would be a measure to the tile itself.
    return f"{course} (the 1st {'begins' if number > 0 else 'ends'} {level})"


def _counted(course: int) -> str:
    return f"course {course}" if course > 0 else f"{UNDER} {-course}"


def _tile_words(layout: Layout, place: Place, line: str) -> str:
    grid = layout.grid
    number = _count(grid.corner(place)[0] - layout.reference[0], grid.w, grid.pitch_u)
    if number == 0:
        return f"the tile across {line}"
    return f"{ordinal(abs(number))} tile {'right' if number > 0 else 'left'} of {line}"


def _count(near: float, size: float, pitch: float) -> int:
    """Which one from the line: 1, 2, ... beyond it, -1, -2, ... before it, 0 for the one across it.

    `near` is where the tile's near side lies, from the line, mm.
    """
    if near >= -TOUCH:
        return int((near + TOUCH) // pitch) + 1
    if near + size > TOUCH:
        return 0
    return -int((TOUCH - near - size) // pitch) - 1


def said_place(reading: Reading) -> str:
    """The line's name; where the start lies away from it, the reading as written (600 above B).

    On a floor "4 in from D" is said as "4 past D": beside a figure, "in" is read as inches.
    """
    if reading.low == 0 and reading.start is not None:
        return reading.start.name
    return reading.text.replace(" in from ", " past ")
