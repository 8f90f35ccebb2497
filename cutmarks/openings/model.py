"""What the openings stage gives: openings on the surface, cuts on the tiles."""

from __future__ import annotations

import math
from functools import cached_property
from typing import Literal

from msgspec import Struct

from cutmarks.fixing.model import FIRST, FixedSides, Rank, ReadFrom
from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.frames import Point, Surface, Tile
from cutmarks.geometry.regions import Region
from cutmarks.geometry.rings import Ring
from cutmarks.geometry.shapes import Shape
from cutmarks.openings.between import Between
from cutmarks.openings.corners import InsideCorner
from cutmarks.openings.edge_work import EdgeWork
from cutmarks.openings.leeway import Leeway
from cutmarks.sides import Axis, FourSides, Side
from cutmarks.tiling.model import Piece

CutKind = Literal["hole", "edge notch", "corner notch", "part"]


class Cover(Struct, frozen=True):
    """The plate that will hide the opening: round (w == h, round True) or oblong, mm, centred on the thing."""

    w: float
    h: float
    round: bool


class Drilled(Struct, frozen=True):
    """The core that an opened hole begins with; the rest is sawn to its round end, or to both.

    core   its diameter, mm; steps: where its middles stand from the opening's own middle, along the surface's axes, mm:
           one, or two at the ends of a slot.
    """

    core: float
    steps: tuple[tuple[float, float], ...]


class Opening(Struct, frozen=True):
    """The shape taken out of the tiling for one thing that comes through, on the surface.

    thing     the shape of what comes through, as read (a pipe's own circle, a box's own outline); read_size its
              (width, height) along the surface's axes, mm; None where only its opening is known, and `thing` is that.
    shape, at, ring  what is cut: shape about `at`, and the same as a ring.
    why       how the size came about, in words for the sheet: "core 35", "pipe 15 + 2 x 3".
    core      the core's diameter where it is drilled, else None.
    cover     None where nothing hides it or it is not known (cover_known tells which).
    template  the face that its template is laid on, where the tiler wished for one.
    keep_clear  what must stay free of tile round the thing (screws, lugs), centred on it; None where nothing was said.
    opened      the sides that it was opened towards, as the job said; () where it stays closed.
    closed      the shape about `at` that was opened; None where it stays closed.
    slide       how far the tile can be slid towards the side that it was opened to, as a slot, mm; None: it is no slot.
    drilled     the core that it begins with where it was opened; None where it stays closed, or no core is of its size.
    sweep       diameter over the finished face that its lever needs, mm.
    service     clear diameter over the finished face about its middle that servicing it needs, mm.
    leeway      how far it may be off the thing, every way; `you_may_be`: any way.
    waits       nothing says how big the thing is, and its shape is all that its cover hides: it is not cut like that.
    """

    name: str
    surface: str
    what: str
    at: Point[Surface]
    thing: Ring[Surface]
    read_size: tuple[float, float] | None
    shape: Shape
    ring: Ring[Surface]
    why: str
    core: float | None
    cover: Cover | None
    cover_known: bool
    leeway: Leeway
    end: str = ""
    note: str = ""
    keep_clear: Cover | None = None
    sweep: float | None = None
    service: float | None = None
    opened: tuple[Side, ...] = ()
    closed: Shape | None = None
    slide: float | None = None
    drilled: Drilled | None = None
    template: Literal["", "face", "back", "both"] = ""
    waits: bool = False

    @property
    def you_may_be(self) -> float | None:
        """How far off any way it may sit and still go over and be covered, mm; None where its size is not known."""
        return None if self.leeway.over is None else self.leeway.least


class Web(Struct, frozen=True):
    """What is left of the piece beside a cut, mm, to the piece's own edge on that side; None where the cut runs out.

    nearest also looks at the other openings of the piece and at raking edges; None where nothing is left.
    """

    left: float | None
    right: float | None
    bottom: float | None
    top: float | None
    nearest: float | None

    @property
    def beside(self) -> FourSides[float | None]:
        """The same without the nearest, by side."""
        return FourSides(self.left, self.right, self.bottom, self.top)


class WallCheck(Struct, frozen=True):
    """What to read on the wall from a source's edge to the near and far side of the thing itself, mm.

    Both are its middle where its size is not known: the hole's sides are not those of the thing.

    side   of the piece, on which the source lies.
    fixed  it is there when this piece goes up; else a neighbour that is fixed later.
    stays  how far the thing may go away from the source, least and most, until an earlier piece that it reaches now is
           read from too, or instead.
    """

    source: ReadFrom
    side: Side
    near: float
    far: float
    fixed: bool
    stays: tuple[float, float] = (-math.inf, math.inf)

    @property
    def to_middle(self) -> bool:
        """Whether it is read to the middle of the thing."""
        return self.near == self.far


class Unread(Struct, frozen=True):
    """An axis on which nothing can be read; `reached`: the earlier piece that the thing comes through too, or ""."""

    axis: Axis
    reached: str = ""


class Share(Struct, frozen=True):
    """What one opening takes of one piece, in the Tile frame of the whole tile.

    ring      the whole opening's outline.
    share     what is taken out of this piece, true arcs.
    kind      hole: wholly inside; edge notch: runs out over one edge; corner notch: over a corner; part: parts the
              piece or takes a whole strip.
    runs_out  the sides over which it leaves the piece: where a stretch of its outline is the piece's own.
    """

    opening: Opening
    ring: Ring[Tile]
    share: Region[Tile]
    kind: CutKind
    runs_out: frozenset[Side]

    @property
    def bounds(self) -> Bounds:
        """About what is taken out of this piece."""
        return self.share.bounds


class Cut(Share, frozen=True):
    """A share with its figures: where it is marked, checked and drilled, and what is left beside it.

    from_edges  of the opening's centre to the WHOLE tile's four edges, mm: left + right = w, bottom + top = h; negative
                on the side where it lies off the tile.
    sides    for boxes: where the opening's own sides lie, x of left and right, y of bottom and top, mm.
    drill_at  the middles of the core (`opening.drilled.core`) that an opened hole begins with, where they stand on this
             piece; () where it is not opened, or no core can be started here.
    mark_from  the two edges to mark from: on the sides that are read from, factory edges only where there is one.
    from_cut_edges  measures to the piece's cut edges at the centre's height, by side; each must say so.
    unread   the axes on which nothing can be read, and why.
    """

    from_edges: FourSides[float]
    sides: FourSides[float] | None
    web: Web
    wall_checks: tuple[WallCheck, ...]
    mark_from: tuple[Side, Side]
    from_cut_edges: tuple[tuple[Side, float], ...]
    drill_at: tuple[Point[Tile], ...] = ()
    unread: tuple[Unread, ...] = ()

    @property
    def centre(self) -> Point[Tile]:
        """Of the opening; it may lie off the tile."""
        return Point(self.from_edges.left, self.from_edges.bottom)

    @property
    def from_left(self) -> float:
        """From the whole tile's left edge to the centre, mm."""
        return self.from_edges.left

    @property
    def from_right(self) -> float:
        """From its right edge."""
        return self.from_edges.right

    @property
    def from_bottom(self) -> float:
        """From its bottom edge."""
        return self.from_edges.bottom

    @property
    def from_top(self) -> float:
        """From its top edge."""
        return self.from_edges.top


SheetSpot = Cut | InsideCorner
"""What a template shows, and is lined up for."""

OffWhat = Literal[
    "joint", "gap", "sill board", "still to come", "trim", "past the start", "past the edge", "under it", "to its edge"
]
WhyNoReading = Literal["turned", "still to come", "border", "shape", "nothing there"]


class TakenOff(Struct, frozen=True):
    """What comes off an opening before it is the piece's size, mm; less than nothing: what is added."""

    what: OffWhat
    mm: float


class InfillEnd(Struct, frozen=True):
    """One end of a trimmed piece: on which of its sides, the opening that is read there, and the cut it gives, mm."""

    at: Side
    opening: float
    cut: float


class Infill(Struct, frozen=True):
    """What is read before a piece is trimmed on one axis: the opening from `source` to what ends it on `side`.

    to    what that is: the end panel, a window, an earlier piece.
    ends  at one end of the piece or both, low first; off: what comes off, the source's side first.
    past  it is read to the far side of what the piece is notched round, and tile goes on from there: `cut` is where.
    """

    side: Side
    source: ReadFrom
    to: str
    ends: tuple[InfillEnd, ...]
    off: tuple[TakenOff, ...]
    past: bool = False


class NoReading(Struct, frozen=True):
    """An axis on which a piece is trimmed and nothing is read for it, and why; `at`: what ends it there, or "".

    turned: its area is turned; still to come: what takes off room there is not known yet; border: its area ends there,
    at nothing that a tape can be held to; shape: what it is cut to is round, or rakes too much; nothing there: nothing
    is fixed or drawn yet to read from.
    """

    axis: Axis
    why: WhyNoReading
    at: str = ""


class CutPiece(Struct, frozen=True, dict=True):
    """A piece that is not a whole tile: trimmed, cut round something, or one part of a parted piece.

    piece.outline is what trimming leaves; `outline` is the finished contour, openings taken out (rings: outer
    counter-clockwise, inner clockwise). `sizes` is given where trimmed, mm: how far what trimming leaves reaches along
    its lowest and highest level (bottom, top) and its leftmost and rightmost plumb line (left, right), 0 for a point,
    and an end that rakes from corner to corner (outlines.sizes_of). `factory_edges` lists the sides of which any
    stretch of the maker's edge is left; `cut_edges` the sides along which trimming made an edge. `same_as` names an
    earlier piece with the same tile, outline and cuts. `fixed` says from which sides the work comes,
    `rank` when it goes up. `infills` has what is read for a piece that is trimmed, `unread` why nothing is.
    `words` says where it is:
    "2nd course up from the batten, 2nd tile right of V". `fingerprint` has the digits of its print, `print_as_planned`
    those that it had before its holes were found off, where its own follow from them and from how far (`made_anew`);
    else None. `edge_work` says what is done to its sides, or hides them, and
    `notes` are the tiler's own remarks on it, its tile, its area and what it lies at. `corners` are the inside corners
    that trimming leaves, those of its L cuts and notches.
    """

    piece: Piece
    name: str
    part: str | None
    outline: Region[Tile]
    cuts: tuple[Cut, ...]
    sizes: FourSides[float] | None
    factory_edges: tuple[Side, ...]
    cut_edges: tuple[Side, ...]
    fixed: FixedSides
    words: str
    same_as: str | None
    fingerprint: str
    print_as_planned: str | None = None
    rank: Rank = FIRST
    infills: tuple[Infill, ...] = ()
    unread: tuple[NoReading, ...] = ()
    edge_work: tuple[EdgeWork, ...] = ()
    notes: tuple[str, ...] = ()
    corners: tuple[InsideCorner, ...] = ()

    @property
    def spots(self) -> tuple[SheetSpot, ...]:
        """All that a template may be lined up for, as its registration counts them: the cuts, then the corners."""
        return (*self.cuts, *self.corners)

    @cached_property
    def between(self) -> Between:
        """What is left between its openings, by their place in `cuts`."""
        return Between([cut.opening.ring for cut in self.cuts])
