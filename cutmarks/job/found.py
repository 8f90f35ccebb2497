"""What comes back from the wall: what was read from the fixed neighbours, this very tile's size, and what was cut.

    found:
      - piece: splash 3-7
        hole: hot                     # may be left out where the piece has one
        left: 70 to 85                # from the tile on the left; or right
        bottom: 107 to 122            # from the course below; or top
        tile: 247 x 398               # this very tile, where it differs
        cut: yes
        date: 2026-03-14
      - piece: splash 2-9
        opening across: 91 and 90     # of a trimmed piece: at the bottom and at the top; or opening up

Later entries of the same piece and hole go before earlier ones; none is lost. After cut: yes only a note may follow.
"""

import re
from typing import Annotated

from cutmarks.job.declared import Key
from cutmarks.job.fields import Flag, Note, SizeField, WordsField, parsed
from cutmarks.job.grammar import parse_bare
from cutmarks.job.measures import LONGEST_SIDE, in_range, wide_enough
from cutmarks.job.model import JobModel, TypedKeys
from cutmarks.job.words import Setting, found
from cutmarks.readings import Reading
from cutmarks.sides import Axis, Side
from cutmarks.units import parse_length

SIDES: tuple[Side, ...] = (Side.LEFT, Side.RIGHT, Side.BOTTOM, Side.TOP)


def parse_found(text: str, setting: Setting) -> Reading:
    """Both sides of the thing, or one side or its centre, from a neighbour's edge. Raises ValueError."""
    reading = parse_bare(text, setting.unit)
    if reading.high is not None:
        wide_enough(text, reading.high - reading.low, setting)
    in_range(text, reading.low if reading.high is None else reading.high, 0.0, LONGEST_SIDE, "a reading", setting)
    return reading


def parse_openings(text: str, setting: Setting) -> tuple[float, ...]:
    """The openings of a trimmed piece on one axis, one for each of its ends or one for both. Raises ValueError.

    How many there are to read only the plan knows.
    """
    parts = re.split(r"\s+and\s+", text, flags=re.IGNORECASE)
    return tuple(
        in_range(part, parse_length(part, setting.unit).mm, 0.0, LONGEST_SIDE, "an opening", setting) for part in parts
    )


def parse_date(text: str, _: Setting) -> str:
    """A day as year, month, day. Raises ValueError."""
    import datetime  # late: most jobs have nothing from the wall yet

    try:
        return datetime.date.fromisoformat(text).isoformat()
    except ValueError:
        raise ValueError(f"{found(text)} is no day: write year, month and day, as in 2026-03-14.") from None


Openings = Annotated[tuple[float, ...], parsed(parse_openings)]
FromSide = Annotated[Reading, parsed(parse_found)]


class FoundSpec(JobModel, frozen=True, kw_only=True):
    """What was found at one piece, and of one hole in it.

    left, right, bottom, top  read from the neighbour's edge on that side to the thing, mm, positive away from it.
    tile   this very tile, across and up as it lies, mm, where it is not as the others.
    opening_across, opening_up  the opening that a trimmed piece goes into, mm, at its two ends or one figure for both.
    cut    whether it has been cut so.
    by     who read it, and when, as a wall page says it: so that the same is never taken in twice.
    """

    piece: Annotated[WordsField, Key("the piece, as on its sheet", ("splash 3-7", "splash 3-4"), must=True)]
    hole: Annotated[WordsField, Key("the hole, where the piece has several", ("hot", "cold"))] = ""
    left: Annotated[FromSide | None, Key("read from the tile on the left", ("70 to 85", "72 to 88"))] = None
    right: Annotated[FromSide | None, Key("read from the tile on the right", ("70 to 85", "72 to 88"))] = None
    bottom: Annotated[
        FromSide | None, Key("read from the course below", ("43 to 59", "45 to 61"), meant=("floor",), also=("below",))
    ] = None
    top: Annotated[FromSide | None, Key("read from the course above", ("43 to 59", "45 to 61"), also=("above",))] = None
    tile: Annotated[
        SizeField | None, Key("this very tile, where it is not as the others", ("296 x 97", "297 x 96"))
    ] = None
    opening_across: Annotated[
        Openings | None,
        Key("the opening that a trimmed piece goes into, at its bottom and its top", ("91 and 90", "90 and 91")),
    ] = None
    opening_up: Annotated[
        Openings | None,
        Key("the same upward, at its left and its right", ("115 and 114", "114 and 115")),
    ] = None
    cut: Annotated[Flag, Key("yes: it was cut so", ("yes", "no"))] = False
    date: Annotated[str, parsed(parse_date), Key("the day", ("2026-03-14", "2026-03-15"))] = ""
    by: Annotated[
        WordsField, Key("who read it, and when, as the wall page says it", ("JK 2026-03-14 09:40:12", "JK"))
    ] = ""
    note: Note = ""

    @property
    def readings(self) -> tuple[tuple[Side, Reading], ...]:
        """What was read, by side."""
        pairs = ((side, getattr(self, side)) for side in SIDES)
        return tuple((side, reading) for side, reading in pairs if reading is not None)

    @property
    def openings(self) -> tuple[tuple[Axis, tuple[float, ...]], ...]:
        """The openings that were read, by the axis that they are read along."""
        pairs: tuple[tuple[Axis, tuple[float, ...] | None], ...] = (
            ("across", self.opening_across),
            ("up", self.opening_up),
        )
        return tuple((axis, read) for axis, read in pairs if read is not None)

    @classmethod
    def prepare(cls, written: TypedKeys, setting: Setting) -> None:
        """A piece's name is needed; nothing else is."""
        if "piece" not in written.keys:
            raise ValueError("It names no piece: write it as on its sheet, as in piece: splash 3-7.")

    def check(self) -> None:
        """A reading, a size, that it was cut, or a note; one reading on each axis."""
        if self.openings and (self.readings or self.tile is not None or self.hole):
            raise ValueError("It has the opening of a trimmed piece and something of a hole: write an entry for each.")
        if not (self.readings or self.openings or self.tile is not None or self.cut or self.note):
            raise ValueError(
                "It says nothing: write what was read (left: 70 to 85), the tile's size, cut: yes, or a note."
            )
        for one, other in (("left", "right"), ("bottom", "top")):
            if getattr(self, one) is not None and getattr(self, other) is not None:
                raise ValueError(
                    f"It is read from {one} and from {other}: keep the one that lies against what is fixed."
                )
