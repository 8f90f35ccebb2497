"""What a tiler's phrase means, once it is parsed: values only, millimetres and words.

`across` is the x axis of the surface (right is positive), `up` the y axis (up on a wall, into the room on a floor).
Parsing stands in `cutmarks.job.grammar`; turning a phrase into a place on the surface in `cutmarks.locating`.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Literal

from msgspec import Struct

from cutmarks.sides import Axis, Side

CornerWay = Literal["trim", "mitre", "front laps", "return laps"]
Lies = Literal["left", "right", "above", "below"]
DepthFrom = Literal["studs", "board", "face"]
RoomHand = Literal["as drawn", "mirrored"]
"""Of a room of a type: as its job draws it, or built the other way round."""
Anchor = Literal["joint", "middle", "left", "right", "sits on", "hangs from", "corner", "crossing", "equal"]


class From(Struct, frozen=True):
    """What a reading is taken from.

    kind "line": a set-out line, by name. kind "edge": the surface's edge on that side, at that height ("from right
    there"); the reading is then positive INTO the surface. kind "piece": the named fixed piece's edge on `side`; the
    reading is then positive along the axis (right, up), negative the other way.
    """

    kind: Literal["line", "edge", "piece"]
    name: str
    side: Side | None = None


def with_kind(kind: str, name: str) -> str:
    """A name with what it is, where the name does not say that: "door hall", "window"."""
    return name if kind in name.casefold() else f"{kind} {name}".strip()


class Reading(Struct, frozen=True):
    """One reading along one axis.

    how  "sides": both sides of the thing, low <= high; "centre": low is the middle; "low" / "high": low is the side of
         the thing with the smaller / larger coordinate (near and far are resolved by the parser: near is the side
         towards what it is read from); "level with": the middle is `low` from that of the hole named `other`;
         "course": low (and high) up from the bottom edge of course `course` of `area` (None: the only area);
         "onward": low is the lower side of a window, which goes on past the edge above.
    low, high  signed mm from `start`: right and up positive for a line, inward positive for an edge.
    text the phrase as written, for messages.
    """

    how: Literal["sides", "centre", "low", "high", "level with", "course", "onward"]
    low: float
    high: float | None
    start: From | None
    text: str
    other: str | None = None
    course: int | None = None
    area: str | None = None


class Spot(Struct, frozen=True):
    """A place named by two readings of how "centre": "100 right of V, 350 above B"."""

    across: Reading
    up: Reading


class EdgeReading(Struct, frozen=True):
    """One reading of an edge: `at` says where it is, `along` where along the edge it was read; both of how "centre".

    `along` None: the reading holds all along the edge, or along its stretch.
    """

    at: Reading
    along: Reading | None = None


class Start(Struct, frozen=True):
    """What of the start tile [0, 0] lies on which reading.

    across: "joint" (its left joint's middle), "middle", "left", "right" (its own edge); up: "joint" (the joint below
    it), "middle", "sits on", "hangs from". "equal" has no place of its own: it is worked out where the edges were read.
    Turned areas use anchor "corner", "middle" or "crossing" on both axes.
    """

    anchor: Anchor
    at: Reading


class Bond(Struct, frozen=True):
    """How courses sit: each odd row (alternate) or every row (progressive) shifts by `part` of the pitch plus `mm`.

    Positive is to the right. Stack bond is part 0, mm 0. way_said: the tiler said the way; else it is taken. carried:
    the end at which each course begins with what came off the other end of the one below; None: none does.
    """

    part: Fraction = Fraction(0)
    mm: float = 0.0
    way: Literal["alternate", "progressive"] = "alternate"
    words: str = "stack"
    way_said: bool = False
    carried: Literal["left", "right"] | None = None


STACK = Bond()


class CarriesOn(Struct, frozen=True):
    """Courses go on round a corner from an `end` of the courses of the wall, or the area, `of`."""

    end: Literal["left", "right"]
    of: str


class Run(Struct, frozen=True):
    """A measured run of `count` tiles with their count - 1 joints, mm: pitch = (length + joint) / count."""

    count: int
    length: float

    def tile(self, joint: float) -> float:
        """The size of one tile, mm: the pitch less the joint."""
        return (self.length + joint) / self.count - joint


class Size(Struct, frozen=True):
    """Two sizes as written, mm, first across and second up unless `lay` says otherwise."""

    first: float
    second: float


class BoxOfTiles(Struct, frozen=True):
    """What a box of tiles holds: so many, or where that is not said so much area, mm2."""

    count: int | None = None
    area: float = 0.0

    def tiles(self, size: Size) -> float:
        """How many tiles of a size it holds: by its area hardly ever a whole number."""
        return self.area / (size.first * size.second) if self.count is None else float(self.count)


class InHand(Struct, frozen=True):
    """What is there already: so many tiles, or so many boxes of them."""

    count: int
    in_boxes: bool = False


class BagOf(Struct, frozen=True):
    """A bag of adhesive or grout by its maker's figure: what it makes, litres; `words`: the bag as it is bought."""

    litres: float
    words: str = "bag"


class Disc(Struct, frozen=True):
    """A disc: its diameter, what it takes where it cuts, and how deep it cuts in its machine, mm; None: not said."""

    d: float
    kerf: float | None = None
    depth: float | None = None


DxfRelease = Literal["R2000", "R12", "R12 plain"]
"""How old a control reads: R12 has polylines of its own kind and no units, R12 plain lines, arcs and circles alone."""


class Corners(Struct, frozen=True):
    """What a shop makes of a sharp inside corner: round by a radius, holes of a diameter, or sharp: 0. mm."""

    way: Literal["round", "holes", "sharp"] = "sharp"
    mm: float = 0.0


SHARP = Corners()
"""Left as they are."""


LONGEST_LAYER = 31
"""The letters of a layer's name that the oldest DXF takes."""


class ShopLayers(Struct, frozen=True):
    """What a shop calls its layers: outlines, what is cut out of them, open cut paths, holes in inside corners."""

    outer: str = "OUTER-NOMINAL"
    inner: str = "INNER-NOMINAL"
    open: str = "OPEN-NOMINAL"
    holes: str = "HOLES-NOMINAL"

    def behind(self, word: str) -> ShopLayers:
        """The layers of what must not be cut yet: a word before each, so that no machine takes them for its own.

        Our own names behind it where the shop's would be longer than an old DXF takes.

        >>> ShopLayers("CUT", "CUT").behind("WAIT").outer
        'WAIT_CUT'
        """
        own = (self.outer, self.inner, self.open, self.holes)
        if max(map(len, own)) + len(word) + 1 > LONGEST_LAYER:
            own = (LAYERS.outer, LAYERS.inner, LAYERS.open, LAYERS.holes)
        return ShopLayers(*(f"{word}_{name}" for name in own))


LAYERS = ShopLayers()
"""Our own, where the shop has none."""


class ShopWishes(Struct, frozen=True):
    """What the shop that cuts asked for; the figures in mm.

    outline, place, over  tolerance: of the outline, of where holes are, and how far a hole may be over its diameter.
    arris        how wide an arris that is taken off, or a chip, may be on the face.
    pierce       how much room a jet needs to begin in what is cut out; least_radius: what it leaves in a corner itself.
    least_hole   a smaller hole is drilled.
    back         a view of the back too, in a file that says so.
    jet          it may cut with a jet; a saw and cores need no room to begin.
    edge_work    it mitres and finishes edges itself; False: they are left as cut, for the tiler; None: not said.
    note         a remark of the tiler's own on it.
    """

    name: str = ""
    jet: bool = True
    corners: Corners = SHARP
    dxf: DxfRelease = "R2000"
    layers: ShopLayers = LAYERS
    outline: float = 0.5
    place: float = 0.5
    over: float = 1.0
    arris: float = 0.5
    pierce: float = 8.0
    least_radius: float = 1.0
    least_hole: float = 10.0
    back: bool = False
    edge_work: bool | None = None
    note: str = ""


WISHES = ShopWishes()
"""Of a shop of which nothing is known."""


PatternWay = Literal["none", "two ways", "one way"]
"""How a tile's pattern lets it be turned: any way, half round alone, not at all."""
PatternAlong = Literal["long", "short"]
"""The side of a tile that its pattern runs along."""


class OuterCorner(Struct, frozen=True):
    """How tile meets tile round an outer corner: the end of a wall, the reveal of a window, the inside of a niche.

    way   trim: a profile, `wide` mm seen from the front, stands between them; mitre: both are cut at 45 degrees; front
          laps: the edge of the tile in front is seen; return laps: that of the tile round the corner.
    """

    way: CornerWay
    wide: float = 0.0

    def passes(self, lining: float) -> float:
        """How far the tile in front passes the edge as measured, mm; `lining` is the bed and tile round the corner.

        >>> OuterCorner("trim", 2.5).passes(12.0), OuterCorner("mitre").passes(12.0)
        (9.5, 12.0)
        """
        return 0.0 if self.way == "return laps" else lining - self.wide


USUAL_CORNER = OuterCorner("front laps")


class SillBoard(Struct, frozen=True):
    """What lies on the foot of a window or a niche: as written, how thick, and how far it goes past on each side, mm.

    thick  None: it was not said, or it is tile.
    """

    text: str
    thick: float | None = None
    horns: float = 0.0


class Taken(Struct, frozen=True):
    """One of several readings.

    axis     with `reading`: what it is along; None for a tape from `point`.
    length   of the tape to the middle of the thing, mm; sides: between its two sides where both were read, else None.
    within   give or take, two sigma, mm, where the tiler said so.
    """

    text: str
    axis: Axis | None = None
    reading: Reading | None = None
    point: str = ""
    length: float = 0.0
    sides: float | None = None
    within: float | None = None


class PointRead(Struct, frozen=True):
    """A place that a tape is held to, as read: across and up, both of how "centre" and from set-out lines.

    within   give or take of each of the two, two sigma, mm, where the tiler said so.
    """

    across: Reading
    up: Reading
    within: float | None = None


class LineLean(Struct, frozen=True):
    """How far a line leans: `slope` mm per mm, positive to the right going up, or up going right; text: as written."""

    slope: float
    way: Literal["across", "up"]
    text: str


class Square(Struct, frozen=True):
    """Two lines checked by a triangle: `across` along the first, `up` along the second, and between their ends, mm."""

    across: float
    up: float
    diagonal: float
    text: str


class DepthRead(Struct, frozen=True):
    """How far behind a face a fitting's own mark lies, mm; negative where it stands proud of it."""

    mm: float
    start: DepthFrom


class PipeLean(Struct, frozen=True):
    """How a pipe leans on its way out of the surface.

    slope   sideways for each mm outward, 2/71 for "2 in 71"; rise, run: as read, mm.
    across, up  the same by direction; both 0 where the direction was not said.
    out     how far in front of the tile's face the pipe's place was read, mm.
    """

    slope: float
    rise: float
    run: float
    across: float = 0.0
    up: float = 0.0
    out: float = 0.0


UNDER = "under"
"""What stands before the number of a course that lies below its area's base: `splash under 1-3`."""


def base_name(piece: str) -> str:
    """A piece's name in small letters, without the letter of a part: "splash 3-7a" is "splash 3-7"."""
    name = " ".join(piece.split()).casefold()
    return name[:-1] if name[-1:].isalpha() and name[-2:-1].isdigit() else name
