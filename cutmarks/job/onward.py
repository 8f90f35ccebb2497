"""What goes on past the edge above, said: a window that is higher than the tiling, a wall beside the wall units."""

from __future__ import annotations

import re

from msgspec.structs import replace

from cutmarks.job.grammar import parse_reading
from cutmarks.job.words import Setting, spaced
from cutmarks.patterns import late
from cutmarks.readings import Reading
from cutmarks.sides import Axis

_GOES = r"(?:goes|going|runs|running|carries|carrying|continues|continuing)(?: (?:right|straight|all the way))?(?: on)?"
_PAST = r"(?:past|beyond|behind|above|over|to) (?:the )?[^\W\d_][^\d,;]*"
_GOES_ON = late(
    rf"(?:,\s*|\s+|^)(?:(?:and|then) )?(?:"
    rf"(?:(?:it|that|its (?:head|top)|(?:the )?head) )?{_GOES}(?: up(?:wards?)?)?(?: {_PAST})?"
    rf"|up(?:wards?)? (?:past|beyond|behind) (?:the )?[^\W\d_][^\d,;]*"
    rf"|(?:its |the )?(?:head|top)(?: is| goes)? {_PAST}"
    r"|(?:and )?up(?:wards?)?|up to the (?:ceiling|top edge|wall units)"
    r")$",
    re.IGNORECASE,
)
"""At the end of a phrase, or in one of its own: "goes on up past the wall units", "head above the shelf"."""
_OF_A_WINDOW = ((late(r"\b[sc]ill (?=[0-9½¼¾])", re.I), "underside "), (late(r"\bhead (?=[0-9½¼¾])", re.I), "top "))
"""What the sides of a window are called: sill 210, head 900 above B."""
_ITS_FOOT = late(r"^(?:(?:from|starts?|begins?|its|the|sill|cill|foot|underside|bottom|at|is)\s+)+(?=[0-9½¼¾])", re.I)


def goes_on(part: str) -> bool:
    """Whether that is all that a part says."""
    match = _GOES_ON.search(part)
    return match is not None and match.start() == 0


def without(sentence: str) -> tuple[str, str]:
    """A sentence without the part of it that says so, and that part; "" where none does."""
    parts = [spaced(part) for part in sentence.split(",")]
    own = next((part for part in parts if goes_on(part)), "")
    return ", ".join(part for part in parts if part != own), own


def parse_void_reading(text: str, axis: Axis, setting: Setting) -> Reading:
    """Where a window, a niche or a door is along one axis; up a wall one side is enough where it goes on at the other.

    Such a reading is of how "onward": its lower side. Raises ValueError: one sentence.
    """
    phrase = spaced(text)
    for called, side in _OF_A_WINDOW:
        phrase = called.sub(side, phrase)
    match = _GOES_ON.search(phrase) if axis == "up" and setting.kind == "wall" else None
    if match is None or not match.start():
        return parse_reading(phrase, axis, setting)
    foot = _ITS_FOOT.sub("", phrase[: match.start()].strip(" ,"))
    try:
        reading = parse_reading(f"underside {foot}", axis, setting)
    except ValueError as error:
        raise ValueError(str(error).replace(f"underside {foot}", foot)) from None
    if reading.how != "low" or reading.high is not None or reading.start is None or reading.start.kind != "line":
        return parse_reading(text, axis, setting)
    return replace(reading, how="onward", text=phrase)
