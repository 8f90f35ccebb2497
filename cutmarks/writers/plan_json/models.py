"""The published form of plan.json, as models. Millimetres and degrees, y up; each key says its frame.

`plan.schema.json` beside this package is the JSON Schema generated from `PlanJson`. What the words mean stands with
the values of the same names in `cutmarks.plan` and the stages' models.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field

from cutmarks.checks.model import Holds, Level
from cutmarks.openings.edge_work import CornerWay
from cutmarks.openings.model import CutKind, OffWhat, WhyNoReading
from cutmarks.sides import Axis, Side

PLAN_FILE = "plan.json"
SCHEMA = 1

XY = tuple[float, float]
RingJson = Annotated[
    list[tuple[float, float, float]],
    Field(
        min_length=2,
        description="[x, y, bulge] of each corner, closed, the first not repeated; the bulge is that of the edge to "
        "the next corner: the tangent of a quarter of its angle, 0 for a straight edge, positive counter-clockwise. "
        "Outer rings run counter-clockwise, inner ones clockwise.",
    ),
]


class JsonModel(BaseModel):
    """What all parts of the file share: no other keys, no infinities."""

    model_config = ConfigDict(extra="forbid", frozen=True, allow_inf_nan=False)


class CircleSize(JsonModel):
    """A circle by its diameter."""

    d: float


class RectSize(JsonModel):
    """A rectangle by its own sides, about its middle."""

    w: float
    h: float
    lean: float = Field(description="Degrees counter-clockwise.")
    r: float = Field(description="Radius of the inside corners.")


class SlotSize(JsonModel):
    """Two half circles and the straight sides between them, about its middle."""

    l: float = Field(description="Over all, along the slot.")  # noqa: E741 - the published key
    w: float
    lean: float = Field(description="Degrees counter-clockwise.")


class CircleShape(JsonModel):
    """{"circle": ...}."""

    circle: CircleSize


class RectShape(JsonModel):
    """{"rect": ...}."""

    rect: RectSize


class SlotShape(JsonModel):
    """{"slot": ...}."""

    slot: SlotSize


class OutlineShape(JsonModel):
    """{"outline": ...}: any outline, about its own middle."""

    outline: RingJson


ShapeJson = CircleShape | RectShape | SlotShape | OutlineShape


class LineJson(JsonModel):
    """A set-out line."""

    name: str
    fixes: Literal["x", "y"]
    at: float
    kind: str
    words: str


class EdgeJson(JsonModel):
    """One side on which the surface ends."""

    side: Side
    measured: list[XY] = Field(
        description="As read, straight from reading to reading; each step by the line of its own readings (Surface)."
    )
    gap: float
    still_to_come: float | None = Field(description="null where it was not said and the edge needs it.")
    clears: list[float] = Field(description="For each reading: how far inside it tile may come, level or plumb.")
    what: str
    assumed: bool = Field(description="One reading was taken for the whole edge.")


class SurfaceJson(JsonModel):
    """One wall or floor as it was set out."""

    name: str
    kind: Literal["wall", "floor"]
    outline: list[RingJson] | None = Field(description="The bare surface as measured; null where no edge was read.")
    lines: list[LineJson]
    edges: list[EdgeJson]


class PenetrationJson(JsonModel):
    """What comes through the surface, and the opening made for it."""

    name: str
    surface: str
    at: XY = Field(description="Middle of the opening (Surface).")
    opening: ShapeJson
    read_size: XY | None = Field(
        description="Width and height of the thing itself, as read; null where only its opening is known."
    )
    pieces: list[str]


class SizesJson(JsonModel):
    """How far the trimmed piece, before openings, reaches along the line that ends it on each side; 0 for a point.

    An end that rakes by 20 degrees at most, between two sides, is taken from its one corner to the other.
    """

    bottom: float = Field(description="Width along its lowest level.")
    top: float = Field(description="Width along its highest level.")
    left: float = Field(description="Height along its leftmost plumb line.")
    right: float = Field(description="Height along its rightmost plumb line.")


class SidesJson(JsonModel):
    """Where a box's opening has its sides."""

    left: float = Field(description="x of the opening's left side (Tile).")
    right: float
    bottom: float = Field(description="y of the opening's lower side (Tile).")
    top: float


class WebJson(JsonModel):
    """What is left beside the opening on each side; null where the opening runs out there."""

    left: float | None
    right: float | None
    bottom: float | None
    top: float | None
    nearest: float | None


class FromPiece(JsonModel):
    """{"piece": ...}: an edge of that piece."""

    piece: str


class FromLine(JsonModel):
    """{"line": ...}: that set-out line."""

    line: str


class FromSupport(JsonModel):
    """{"support": ...}: what the first course stands on, by the line at its top or as the job says where that is."""

    support: str


class FromEdge(JsonModel):
    """{"edge": ...}: the surface's edge on that side, or the window, niche or door of that name, as measured."""

    edge: str


class FromMark(JsonModel):
    """{"mark": ...}: the piece's own edge, put on the bare wall with rod or level from that set-out line."""

    mark: str


class WallCheckJson(JsonModel):
    """What to read on the bare wall, from the edge of something to the near and the far side of the thing itself."""

    from_: FromPiece | FromLine | FromSupport | FromEdge = Field(alias="from")
    side: Side = Field(description="Of the piece, on which that lies.")
    near: float
    far: float
    fixed: bool = Field(description="It is there when this piece goes up; false for a neighbour that comes later.")


class InfillEndJson(JsonModel):
    """One end of a trimmed piece."""

    at: Side = Field(description="On which of its sides.")
    opening: float = Field(description="What is read there, from the source to what ends the piece.")
    cut: float = Field(description="The size that gives: the opening less what comes off.")


class TakenOffJson(JsonModel):
    """What comes off an opening; less than nothing: what is added."""

    what: OffWhat
    mm: float


class InfillJson(JsonModel):
    """What is read before a piece is trimmed on one axis. What is worked out is what to expect."""

    side: Side = Field(description="The side that is trimmed.")
    from_: FromPiece | FromLine | FromSupport | FromEdge | FromMark = Field(alias="from")
    to: str = Field(description="What ends it: what the edge is, a window, an earlier piece.")
    ends: list[InfillEndJson]
    off: list[TakenOffJson]
    past: bool = Field(description="Read to the far side of what it is notched round: tile goes on from the cut.")


class NoReadingJson(JsonModel):
    """An axis on which a piece is trimmed and nothing is read for it, and why."""

    axis: Axis
    why: WhyNoReading
    at: str = Field(description="What ends it there, or nothing.")


class DrilledJson(JsonModel):
    """The core that a hole which is opened to an edge, or as a slot, begins with: the rest is sawn to it."""

    core: float = Field(description="Its diameter.")
    at: list[XY] = Field(description="Its middle; of a slot both (Tile).")


class CutJson(JsonModel):
    """An opening's share in one piece; from_left and the like are of its centre, on the whole tile."""

    penetration: str
    kind: CutKind
    shape: ShapeJson
    centre: XY = Field(description="Of the opening; may lie off the tile (Tile).")
    from_left: float
    from_right: float
    from_bottom: float
    from_top: float
    sides: SidesJson | None
    outline: list[RingJson] = Field(description="What is taken out of this piece (Tile).")
    web: WebJson
    wall_check: list[WallCheckJson]
    unread: dict[Axis, str | None] = Field(
        description="The axes on which nothing can be read; the fixed piece that the thing comes through too, or null."
    )
    mark_from: tuple[Side, Side] = Field(description="The two edges to mark from.")
    from_cut_edges: dict[Side, float] = Field(description="The centre from the piece's cut edges, at its own height.")
    drilled: DrilledJson | None = Field(description="The core that an opened hole begins with, where one is started.")


class CornerJson(JsonModel):
    """How a side meets the tile round an outer corner."""

    way: CornerWay
    trim: float = Field(description="Width of a trim as seen from the front; 0 where there is none.")


class EdgeWorkJson(JsonModel):
    """What is done to one side of a piece where it is seen, or what hides it."""

    side: Side
    at: str = Field(description="The edge of the surface, or the window, niche or door, at which it lies.")
    finish: str
    corner: CornerJson | None
    mitred: bool = Field(description="Its size is then that of the face.")
    back_short: float | None = Field(description="By how much the back of a mitred side is short of its face.")
    hidden_by: str
    hidden: float | None = Field(description="How much of the piece that hides; null where its width was not said.")


class MeasuredFrom(JsonModel):
    """What a straight cut is set out by: from a side of the whole tile, at its low and at its high end."""

    side: Side
    first: float
    last: float


class DiscStops(JsonModel):
    """Where a disc's middle stops before a corner, or before either of two: cut from the face, and from the back."""

    disc: float = Field(description="Its diameter.")
    past: float = Field(description="How far it reaches past the tile's other face.")
    face: float
    back: float
    left: float = Field(description="From the face: what stays uncut on the back. From the back: what it cuts too far.")


class FreeStripJson(JsonModel):
    """A strip that stands free on one end while there is still something to cut."""

    after: int = Field(description="The operation's place in the list, from 0.")
    wide: float
    long: float


class OperationJson(JsonModel):
    """One operation of those that make a piece, in the frame of its whole tile. What it has not is null."""

    do: Literal["core", "relief holes", "straight", "stopped", "plunge", "round notch", "by hand", "along its line"]
    cut: str = Field(description="The opening that it is for; nothing where it trims the piece.")
    words: str = Field(description="The same, as it is said on paper.")
    at: list[XY] = Field(description="Middles of holes; from where to where a cut runs.")
    d: float | None = Field(description="Of what is drilled, or of what is round.")
    side: Literal["face", "back"] | None = Field(description="The face that a core is started on.")
    way: Literal["snap", "saw", "either"] | None
    from_: MeasuredFrom | None = Field(alias="from")
    stops: list[DiscStops]
    fingers: list[XY] = Field(description="Of a round notch: along its edge from its middle, and how deep.")


class HowCutJson(JsonModel):
    """The operations that make a piece, in their order."""

    first: Literal["", "whole", "opens into the cut", "strip"] = Field(
        description="Why it begins as it does: a hole while the tile is whole, the straight cut that a notch runs out "
        "over, or the order that leaves no thin strip standing free."
    )
    operations: list[OperationJson]
    strips: list[FreeStripJson]


class PieceJson(JsonModel):
    """One piece that is not a whole tile, in the frame of its whole tile."""

    name: str
    surface: str
    area: str
    course: int = Field(
        description="Counted upward from the one on the area's base; -1 is `under 1`, the first below it. Where "
        "nothing is there to count from, from the start row: 1, and -1 the one before it."
    )
    number: int
    part: str | None
    day: int = Field(description="1, or 2 for what waits under the base of its area. The list is in this order.")
    grid: tuple[int, int] = Field(description="Column and row from the start place.")
    tile: str
    origin: XY = Field(description="Bottom left of the whole tile (Surface).")
    turn: float = Field(description="Degrees counter-clockwise.")
    size: XY = Field(description="Of the whole tile, along its own sides.")
    sizes: SizesJson | None = Field(description="Of the trimmed piece; null where nothing is trimmed.")
    outline: list[RingJson] = Field(description="The finished piece (Tile).")
    factory_edges: list[Side]
    cut_edges: list[Side]
    how_cut: HowCutJson
    same_as: str | None
    fingerprint: str
    stopped: Holds | None = Field(
        description="What is not to be cut yet: all of it, or its trimming; null: nothing waits. All figures stand "
        "here, for programs; where `all` waits none of them is shown to whoever marks it, and where `trimming` does, "
        "no size."
    )
    infills: list[InfillJson] = Field(description="What is read for a piece that is trimmed.")
    unread: list[NoReadingJson] = Field(description="Where nothing is read for a piece that is trimmed.")
    cuts: list[CutJson]
    edge_work: list[EdgeWorkJson]
    notes: list[str] = Field(description="The tiler's own remarks about it, its tile, its area and what it lies at.")


class CountsJson(JsonModel):
    """Places of one area that hold a whole tile, a cut piece, or none."""

    whole: int | None = Field(description="null where the area has an open side.")
    cut: int
    gone: int


class FindingJson(JsonModel):
    """What must be known before cutting."""

    level: Level
    rule: str
    about: list[str]
    text: str
    value: float | None
    limit: float | None
    source: str
    accepted: str | None = Field(description="The tiler's reason for going on all the same.")
    holds: Literal["all", "trimming"] = Field(
        description="What waits while it is not accepted: of a stop all that is cut; trimming, of any level."
    )


class SayJson(JsonModel):
    """How the job is spoken on paper; the figures of this file are millimetres all the same."""

    words: Literal["uk", "us"]
    units: Literal["mm", "in"]
    finest: str = Field(description="The finest step on paper, in `units`: 1/2, 1/32.")
    paper: str
    margin: float | None = Field(description="What the printer leaves blank round the paper; null: not known.")
    cut: Literal["ahead", "on the day"]


class SureJson(JsonModel):
    """How sure one cut is, with all that is known of readings, lines, pitch, paper, marking and core."""

    penetration: str
    piece: str = Field(description='"" on a surface without tiles: by its readings and lines alone.')
    chance: float = Field(description="That it goes over the thing and is covered, 0 to 1.")
    covariance: tuple[float, float, float] = Field(
        description="xx, xy, yy of the finished hole against the thing, mm2, one sigma (Surface)."
    )


class ReadJson(JsonModel):
    """One wall check as it was found."""

    side: Side
    expected: XY = Field(description="To the near and the far side of the thing, from the neighbour on that side.")
    found: XY


class FoundJson(JsonModel):
    """What came back from the wall of one hole in one piece."""

    penetration: str
    piece: str
    read: list[ReadJson]
    moved: XY = Field(description="How far the hole was moved by it, right and up along the tile's own sides.")
    tile: XY | None = Field(description="This very tile's own size, where it differs.")
    cut: bool
    date: str
    by: str = Field(default="", description="Who read it last, and when, where a wall page said so.")
    note: str


class ClearanceJson(JsonModel):
    """What is known of a fitting on a surface that has no tiles; its place is that of the penetration."""

    penetration: str
    finished: dict[Side, float | None] = Field(
        description="Its middle from each finished edge, positive inside; null where that is not known."
    )
    behind_face: float | None = Field(description="How deep it lies behind the finished face; null: not known.")
    nearest: str | None = Field(description="The nearest other penetration.")
    between: float | None = Field(description="Between the two covers, or openings; 0 where they overlap.")
    service: float | None = Field(description="The clear diameter that servicing it needs.")
    clear: float | None = Field(description="What of that is there.")
    passes: bool = Field(description="No finding says stop or warn of it that is not accepted.")


class InfillFoundJson(JsonModel):
    """The opening of a trimmed piece as it was found, in the order in which it was written down."""

    piece: str
    side: Side = Field(description="The side that is trimmed.")
    past: bool = Field(description="Read to the far side of what it is notched round.")
    expected: list[InfillEndJson]
    found: list[InfillEndJson] = Field(description="The openings found, and what the piece is then cut to.")
    cut: bool
    date: str
    note: str


class DigestJson(JsonModel):
    """What tells that a file is as it was written."""

    size: int = Field(description="Bytes.")
    sha256: str = Field(description="In hex.")


class TileNeedJson(JsonModel):
    """A kind of tile: what is laid, and what is bought; null where that is not known or was not said."""

    tile: str
    whole: int | None
    cut: int
    shared: list[list[str]] = Field(
        description="The tiles that give several pieces: their names in the order of fixing, the later from what the "
        "earlier leaves."
    )
    exact: bool = Field(
        description="No way of cutting takes fewer tiles; else sizes were taken up, or none was looked for."
    )
    holed: int
    spare_holed: int
    spare_cut: int
    total: int | None = Field(description="Tiles with the spares.")
    box: int | None = Field(description="Tiles a box.")
    boxes: int | None
    have: int | None


class AdhesiveJson(JsonModel):
    """The adhesive under a kind of tile."""

    tile: str
    area: float = Field(description="mm2.")
    bed: float
    skim: float = Field(description="On the backs of tiles that are buttered.")
    litres: float
    bags: int | None = Field(description="By the maker's figure; null: it was not said.")


class GroutJson(JsonModel):
    """The grout between tiles of a kind, at one joint."""

    tile: str
    area: float = Field(description="mm2.")
    joint: float
    depth: float
    litres: float
    bags: int | None


class SealedJson(JsonModel):
    """The joints of one width that take silicone."""

    width: float
    length: float


class ToBuyJson(JsonModel):
    """What the surfaces take that have their start."""

    tiles: list[TileNeedJson]
    adhesive: list[AdhesiveJson] = Field(description="Of tiles whose bed, or the trowel's notch, was said.")
    grout: list[GroutJson] = Field(description="Of tiles whose thickness was said.")
    silicone: list[SealedJson]


class PlanJson(JsonModel):
    """The whole file."""

    model_config = ConfigDict(title="plan.json")

    schema_: Literal[1] = Field(alias="schema")
    job: str
    job_file: str | None = Field(description="The job file's name, without its folder; null: it was read from none.")
    fingerprint: str
    units: Literal["mm"]
    files: list[str] = Field(description="Every file of the output, this one among them.")
    digests: dict[str, DigestJson] = Field(description="Of every other file of the output, as it was written.")
    say: SayJson
    surfaces: list[SurfaceJson]
    penetrations: list[PenetrationJson]
    pieces: list[PieceJson] = Field(description="Only what is cut.")
    counts: dict[str, dict[str, CountsJson]] = Field(description="By surface, then by area.")
    to_buy: ToBuyJson
    findings: list[FindingJson]
    assumed: list[str]
    notes: list[str] = Field(description="The tiler's own remarks, each with what it is about.")
    contact: str = Field(description="Who is asked about the job, a name and a telephone number; empty: not said.")
    sure: list[SureJson]
    found: list[FoundJson]
    clearances: list[ClearanceJson] = Field(description="The fittings of surfaces that have no tiles.")
    infills_found: list[InfillFoundJson]
    seal: str = Field(description="SHA-256, in hex, of every byte before this key.")


class IndexPiece(BaseModel):
    """A piece that is cut, by its name, and its place."""

    name: str
    fingerprint: str
    surface: str = ""
    area: str = ""
    grid: tuple[int, int] | None = None
    part: str | None = None


class IndexSurface(BaseModel):
    """A surface, by its name."""

    name: str


class Index(BaseModel):
    """What every plan.json has, of whichever schema: whose output it is, which files are ours, which pieces are cut.

    Those of the first releases have no `job_file` and no `digests`; the file of a job that was read from none is null.
    """

    schema_: int = Field(alias="schema")
    job: str
    job_file: str | None = None
    fingerprint: str
    files: list[str]
    digests: dict[str, DigestJson] = {}
    surfaces: list[IndexSurface] = []
    pieces: list[IndexPiece]

    @property
    def says_job_file(self) -> bool:
        """Whether it says from which file the job was read, or that it was from none."""
        return "job_file" in self.model_fields_set
