"""What the gauging stage gives: values, mm, on the Surface (x right, y up) unless a field says from where."""

from __future__ import annotations

from typing import Literal

from msgspec import Struct

from cutmarks.fixing.model import ReadFrom
from cutmarks.geometry.frames import Point, Surface
from cutmarks.openings.model import CutPiece, InfillEnd, TakenOff
from cutmarks.plan import AreaPlan, SurfacePlan
from cutmarks.sides import Axis, Side

REACH = 22.0
"""Areas that are no further apart border on each other, mm."""

StandsOn = Literal["batten", "packers", "cut", "course", "void"]


class Height(Struct, frozen=True):
    """How far the top of a batten lies over what is under it at `x`, mm."""

    x: float
    over: float


class UnderBase(Struct, frozen=True):
    """How the lowest point under a batten adds up: whole courses of `pitch`, a joint, the cut and the gap, mm."""

    courses: int
    pitch: float
    joint: float
    cut: float
    gap: float


class BaseStretch(Struct, frozen=True):
    """One stretch of a base, from x `low` to `high`, and what the first course stands on there.

    on       batten: screwed on, `heights` at its left end, its middle and its right end over what is under it; packers:
             `packers` mm on what lies right below; cut: the course is cut to what lies below, on packers as high as the
             gap, its upper edge at `top`; course: another area's tiles; void: over a window, niche or door.
    heights  how far it lies over what is below: packers have them too.
    what     what lies below, in the tiler's words.
    lowest   where what is below lies lowest; None where it was not read.
    finished  the heights are over what will be finished, still to come taken in; else over what is there now.
    to_come   what is still to come there, mm, and not there to be measured from.
    course    of what stands out over the first course, a bath in a floor: the course that begins on it; else None.
    instead   of a batten over what carries a cut course: the corner of a start that has that course go first.
    """

    low: float
    high: float
    on: StandsOn
    what: str = ""
    packers: float = 0.0
    heights: tuple[Height, ...] = ()
    lowest: Height | None = None
    finished: bool = True
    under: UnderBase | None = None
    to_come: float = 0.0
    instead: Point[Surface] | None = None
    top: float = 0.0
    course: int | None = None


class Base(Struct, frozen=True):
    """What the first course of an area stands on, stretch by stretch; `y`: its level; words: how the job says that."""

    area: str
    y: float
    words: str
    stretches: tuple[BaseStretch, ...]

    @property
    def has_batten(self) -> bool:
        """Whether any of it stands on a batten, which comes off on the second day."""
        return any(stretch.on in ("batten", "void") for stretch in self.stretches)


class RodJoint(Struct, frozen=True):
    """One joint on a rod: its two tile edges, how far they are from the line, the nearer first, mm."""

    near: float
    far: float


class Rod(Struct, frozen=True):
    """One way of a gauge rod: every joint from a main line on.

    courses  of a bond the courses that it is for, as they are counted, the first two of them; () for all.
    end      what lies at its end, in the tiler's words; "" where that was not read.
    """

    way: Side
    joints: tuple[RodJoint, ...]
    pitch: float
    courses: tuple[int, ...] = ()
    end: str = ""


class OwnJoint(Struct, frozen=True):
    """Courses that lie alike, and the joint of theirs by which they are set out: x of its two tile edges, mm.

    courses  as on a rod. low, high: of the first joint right of the upright line, else of the last one left of it.
    """

    courses: tuple[int, ...]
    low: float
    high: float


class Creeps(Struct, frozen=True):
    """Of a bond of which each course has a rod of its own: a joint of each, and the rule that makes them.

    by      how far each course lies beside the one `down` below it, mm, to the right where positive; 0: just over it.
    """

    joints: tuple[OwnJoint, ...]
    by: float
    down: int


class CourseLevel(Struct, frozen=True):
    """A course as it is counted, and where its tile lies, bottom and top, y, mm."""

    course: int
    bottom: float
    top: float


class OverVoid(Struct, frozen=True):
    """Columns that go on over a window, niche or door: the outer edges of two pieces, under it and over it.

    pairs  (left piece, right piece, distance of their outer edges, mm), the lower one first.
    """

    void: str
    pairs: tuple[tuple[str, str, float], ...]

    @property
    def alike(self) -> bool:
        """Whether one distance holds under it and over it."""
        return len(self.pairs) > 1 and max(far for *_, far in self.pairs) - min(far for *_, far in self.pairs) < 0.25


class MadeToMeet(Struct, frozen=True):
    """With what two areas would meet: another joint in the second, mm, and a border so wide before its first course.

    None: as it is, or none. every: with these each so many-th joint meets.
    """

    joint: float | None
    border: float | None
    every: int


class Meeting(Struct, frozen=True):
    """Where the joints of two areas that lie beside or over each other run on into each other.

    way     "across": one lies beside the other, and courses are compared, at heights y; "up": over it, columns, at x.
    at      the middles of the joints that meet, mm; of: how many of the wider pitch there are.
    made    what in `second` would make them meet; None: nothing that is laid.
    """

    first: str
    second: str
    way: Literal["across", "up"]
    at: tuple[float, ...]
    of: int
    made: MadeToMeet | None = None


class Sealed(Struct, frozen=True):
    """A joint that is left for silicone: what tile meets there, how wide, and how long it is in all, mm.

    hidden  what covers it: it is left open then, and takes no silicone.
    """

    what: str
    width: float
    length: float
    hidden: str = ""


class OneCut(Struct, frozen=True):
    """One piece of a group of cuts, and what is read at its ends, low first."""

    piece: str
    ends: tuple[InfillEnd, ...]


class CutGroup(Struct, frozen=True):
    """Pieces that are measured alike: the opening on the side `side`, from `source`, to `to`, less `off`.

    pieces   their names, in the order of fixing; day: 1 or 2.
    openings, cuts  the least and the most of them, mm; least_at: the piece that has the least.
    each     every one of them, in the order of fixing.
    """

    day: int
    side: Side
    source: ReadFrom
    to: str
    off: tuple[TakenOff, ...]
    pieces: tuple[str, ...]
    openings: tuple[float, float]
    cuts: tuple[float, float]
    least_at: str = ""
    each: tuple[OneCut, ...] = ()


class ThreeFourFive(Struct, frozen=True):
    """What proves two lines square: so far along each from their crossing, and the distance between, mm."""

    along: float
    across: float
    diagonal: float


class FromTop(Struct, frozen=True):
    """A hole in a piece of the second day: from its TOP edge, which is the maker's, mm."""

    piece: str
    hole: str
    down: float


class Begun(Struct, frozen=True):
    """Courses that are moved against the start's: the first two of them, and the tile in them that goes up first.

    left  where that tile's own left edge lies, x, mm.
    """

    courses: tuple[int, ...]
    piece: str
    left: float


class AreaGauge(Struct, frozen=True):
    """One area: its rods, its courses from the lowest up, and with which tile those begin that are moved.

    creeps  where more courses lie otherwise than rods are written out for: then `across` has that of the first alone.
    """

    area: AreaPlan
    across: tuple[Rod, ...]
    up: tuple[Rod, ...]
    courses: tuple[CourseLevel, ...]
    begun: tuple[Begun, ...] = ()
    creeps: Creeps | None = None


class OnWall(Struct, frozen=True):
    """A measure on one of several walls, mm."""

    wall: str
    mm: float


class InCorner(Struct, frozen=True):
    """An inside corner with another wall of the job.

    covers      the tile and bed of the wall that goes up second, mm: so much of the first one's end lies behind it.
    goes_first  whether it is this wall whose tile runs into the corner.
    """

    side: Side
    other: str
    covers: float
    goes_first: bool


class RunsRound(Struct, frozen=True):
    """Walls round which courses run at one height.

    lowest  how far the batten's top lies over the floor where that is lowest of all; None: there is no batten.
    cuts    the least and the most of the cuts at their ceilings; None: there are none.
    """

    walls: tuple[str, ...]
    lowest: OnWall | None
    cuts: tuple[OnWall, OnWall] | None


class HandedOn(Struct, frozen=True):
    """What one piece leaves of its tile and another is cut from.

    along  the axis on which the first is cut first for that; None: it may be cut in any order.
    """

    first: CutPiece
    later: CutPiece
    along: Axis | None


class Gauged(Struct, frozen=True):
    """One surface that has its start: all that is marked, checked and measured, in the order of the work.

    round    the walls round which its courses run, itself among them; None: they run round none.
    corners  the inside corners with other walls of the job of which it is known which of the two goes up first.
    order    the walls that meet in such corners, as they follow from one to the next; () where nothing settles that.
    handed   the offcuts that are kept on it or used on it, in the order of fixing, as what is bought counts them.
    waiting  the pieces that wait for a finding, or for what is still to come: no size of theirs stands among the cuts.
    """

    surface: SurfacePlan
    areas: tuple[AreaGauge, ...]
    bases: tuple[Base, ...]
    across: tuple[OverVoid, ...] = ()
    meetings: tuple[Meeting, ...] = ()
    cuts: tuple[CutGroup, ...] = ()
    waiting: tuple[str, ...] = ()
    from_top: tuple[FromTop, ...] = ()
    sealed: tuple[Sealed, ...] = ()
    square: ThreeFourFive | None = None
    round: RunsRound | None = None
    corners: tuple[InCorner, ...] = ()
    order: tuple[str, ...] = ()
    handed: tuple[HandedOn, ...] = ()

    @property
    def second_day(self) -> bool:
        """Whether anything waits until the batten is off."""
        return any(group.day == 2 for group in self.cuts) or any(
            course.course < 0 for gauge in self.areas for course in gauge.courses
        )
