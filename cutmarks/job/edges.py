"""What bounds a surface, as the tiler wrote it: edges, steps in them, windows, niches, doors, strips not to drill."""

from collections.abc import Mapping, Sequence
from typing import Annotated, ClassVar, Literal

from msgspec.structs import replace

from cutmarks.job.declared import Key, Made
from cutmarks.job.fields import (
    MEANT_ACROSS,
    MEANT_UP,
    WIDEST_GAP,
    Across,
    AnOutline,
    Flag,
    Gap,
    NameField,
    Note,
    SideField,
    Up,
    WordsField,
    check_corners,
    gap_of,
    length,
    parsed,
)
from cutmarks.job.finishes import CornerField, EdgeFinish, HowWide, parse_sill
from cutmarks.job.grammar import parse_edge, parse_place
from cutmarks.job.model import JobModel, TypedKeys, given, tidy_key
from cutmarks.job.onward import parse_void_reading
from cutmarks.job.tree import Entry, Items, Text, Told
from cutmarks.job.words import SIDE_OF, UNKNOWN, Follows, Setting, either, found, spaced
from cutmarks.readings import EdgeReading, OuterCorner, Reading, SillBoard, Spot
from cutmarks.sides import SIDES, Side

FINISH_COMES_LATER = ("floor", "next wall")
TO_COME = "still to come"
"""The key for what is not finished yet, in the words of the file."""
"""An edge that meets one of these may still lose room to a bed and tile."""
TRUE_OF: Mapping[Side, Literal["plumb", "level"]] = {
    Side.LEFT: "plumb",
    Side.RIGHT: "plumb",
    Side.BOTTOM: "level",
    Side.TOP: "level",
}
"""What each edge is when it is true; on a floor the same words stand for across and along."""
NEEDS_A_READING = "It needs a reading, or steps, not both"
EDGE_AS_IN: Mapping[str, str] = {
    "left": "1140 left of V",
    "right": "1065 right of V",
    "bottom": "5 below B",
    "top": "1462 above B",
}
"""How each edge of a wall is read."""
FLOOR_AS_IN: Mapping[str, str] = {"bottom": "20 short of D", "top": "2380 in from D"}
"""Those of a floor that are read otherwise."""


def edge_reading(text: str, setting: Setting) -> EdgeReading:
    """One reading of the edge that is being read."""
    return parse_edge(text, setting.side or Side.LEFT, setting)


def stretch_end(text: str, setting: Setting) -> Reading:
    """Where a stretch of a stepping edge ends, along the edge."""
    return parse_place(text, (setting.side or Side.LEFT).beside[0].axis, setting)


def still_to_come(text: str, setting: Setting) -> float:
    """What will still take off room at an edge: 14, or none. Raises ValueError."""
    if text.casefold() in ("none", "nothing", "no"):
        return 0.0
    return gap_of(text, setting)


def said_true(text: str, setting: Setting) -> Literal["plumb", "level", ""]:
    """Whether an edge is true, so that one reading is enough. Raises ValueError."""
    word, side = text.casefold(), setting.side or Side.LEFT
    if word in ("no", "false"):
        return ""
    own = TRUE_OF[side]
    words = (own, "yes", "true") if setting.kind == "wall" else (own, "yes", "true", "square")
    if word not in words:
        raise ValueError(f"{found(text)} is no way for a {side} edge to be true: write {either((own, 'no'))}.")
    return own


UNDER_A_FRAME = ("undercut", "goes under")
EdgeReadings = Annotated[
    tuple[Annotated[EdgeReading, parsed(edge_reading)], ...],
    Key(
        "where it is; several readings, each with its place along it, where it is out of true",
        ("1140 left of V", "[1140 left of V at B, 1133 left of V at 1450 above B]"),
        meant=("readings", "reading"),
        must=True,
        short=True,
        word="at",
    ),
]
What = Annotated[WordsField, Key("what is there: a next wall, a floor, a worktop", ("next wall", "end panel", "floor"))]
OwnGap = Annotated[
    Gap | None,
    Key(
        "its own clear space; without it the surface's, or the usual, and none on a batten or at an open end",
        ("5", "8"),
        meant=("clearance",),
    ),
]
ToCome = Annotated[
    Annotated[float, parsed(still_to_come)],
    Key(
        "what a floor, or the next wall's bed and tile, will still take off the room",
        ("14", "20", "none"),
        meant=("finish",),
    ),
]
AName = Annotated[NameField, Key("what it is called; without, it is numbered", ("left window", "alcove"), filled=True)]


def _finish_unsaid(written: TypedKeys, setting: Setting) -> bool:
    """Whether what is still to come is not known, or was not said where a finish comes later."""
    what = spaced(str(written.keys.get("what", ""))).casefold()
    finish = setting.kind == "wall" and what in FINISH_COMES_LATER
    return TO_COME in written.unknown or (finish and TO_COME not in written.keys)


class Step(JobModel, frozen=True, kw_only=True):
    """One stretch of an edge that steps (bath, apron, floor), up to `until` along it; None for the last stretch."""

    readings: EdgeReadings
    until: Annotated[
        Annotated[Reading, parsed(stretch_end)] | None,
        Key("where along the edge it ends; the last one goes on", ("300 right of V", "450 right of V"), must=True),
    ] = None
    what: What = ""
    gap: OwnGap = None
    still_to_come: ToCome = 0.0
    still_to_come_known: Annotated[bool, Made("still to come", "what")] = True

    @classmethod
    def prepare(cls, written: TypedKeys, setting: Setting) -> None:
        """One reading is a list of one; say whether a finish may still come."""
        written.keys["still to come known"] = not _finish_unsaid(written, setting)
        one_or_several(written)

    def check(self) -> None:
        """Several readings say each where it was taken."""
        _say_each_where(self.readings)


class EdgeSpec(JobModel, frozen=True, kw_only=True):
    """One edge of a surface as it was read.

    readings       one, or several where it is out of true; empty where `steps` are given.
    true           said to be plumb or level, so that one reading is enough; "" with one reading: assumed.
    gap            its own clear space, mm; None: the surface's, else the usual.
    still_to_come  what a floor or the next wall's bed and tile will still take off, mm, before the gap;
                   still_to_come_known False where it was not said and a finish may come.
    hidden_by      what will cover the cut edge; hides is how wide that is, mm, None where it was not said.
    trim           width of a trim along it, mm: it comes off the piece.
    lining, corner  of an outer corner: bed and tile of the return, mm, and how the tiles meet; edge_finish: how the
                   edge is finished that is seen.
    """

    side: Annotated[SideField, Made()]
    readings: EdgeReadings = ()
    what: What = ""
    true: Annotated[
        Literal["plumb", "level", ""],
        parsed(said_true),
        Key("it is true, so that one reading is enough", ("plumb", "level", "yes", "no")),
    ] = ""
    gap: OwnGap = None
    still_to_come: ToCome = 0.0
    still_to_come_known: Annotated[bool, Made("still to come", "what")] = True
    hidden_by: Annotated[WordsField, Key("what will cover the cut edge", ("architrave 15", "skirting 12"))] = ""
    hides: Annotated[HowWide | None, Made("hidden by")] = None
    scribe: Annotated[Flag, Key("yes: tiles are scribed to it", ("yes", "no"))] = False
    trim: Annotated[Gap, Key("how wide a trim along it is: it comes off the piece", ("2.5", "10"))] = 0.0
    lining: Annotated[
        Gap | None, Key("at an outer corner, what bed and tile of the return add", ("12", "14"), meant=("return",))
    ] = None
    corner: CornerField = None
    edge_finish: EdgeFinish = ""
    steps: Annotated[tuple[Step, ...], Key("its stretches, where it steps (bath, apron, floor)", one="step")] = ()
    note: Note = ""

    @classmethod
    def setting_in(cls, written: TypedKeys, setting: Setting) -> Setting:
        """The side that the readings belong to."""
        side = SIDE_OF.get(str(written.keys.get("side")))
        return setting if side is None else replace(setting, side=side)

    @classmethod
    def prepare(cls, written: TypedKeys, setting: Setting) -> None:
        """Say whether a finish may still come."""
        taken = written.keys
        if taken.get("side", Side.LEFT) not in SIDES:
            # Nothing of an edge can be read before it is known which one it is.
            written.keys, written.strange = {"side": taken["side"]}, []
            return
        if isinstance(taken.get("steps"), Items):
            taken["steps"] = _stretches(written)
        taken["still to come known"] = "steps" in taken or not _finish_unsaid(written, setting)
        if "hidden by" in taken:
            taken["hides"] = taken["hidden by"]
        one_or_several(written)

    @property
    def finish_known(self) -> bool:
        """Whether what is still to come is said all along it, of each of its steps too."""
        return self.still_to_come_known and all(step.still_to_come_known for step in self.steps)

    def check(self) -> None:
        """Readings or steps, not both; several readings say each where it was taken."""
        if bool(self.readings) == bool(self.steps):
            floor = FLOOR_AS_IN.get(self.side)
            as_in = EDGE_AS_IN[self.side] + (f" (on a floor {floor})" if floor else "")
            raise ValueError(f"{NEEDS_A_READING}: write at: {as_in}, or a list of readings.")
        _say_each_where(self.readings)
        if self.true and len(self.readings) > 1:
            raise ValueError("It is said to be true and has several readings: keep one reading, or leave true out.")
        if any(step.until is None for step in self.steps[:-1]):
            raise ValueError(
                "A step that is not the last does not say where it ends: write until: and a place along the edge."
            )
        if self.steps and self.steps[-1].until is not None:
            raise ValueError("The last step goes on to the end: leave its until out.")
        if self.steps and (self.corner is not None or self.lining is not None):
            raise ValueError("It steps, and an outer corner is one stretch: leave corner and lining out, or the steps.")
        if self.trim and self.corner is not None and self.corner.way == "trim":
            raise ValueError("Its trim is written twice, as trim and as corner: keep the corner.")
        _lined_round(self.corner, self.lining)


def _say_each_where(readings: Sequence[EdgeReading]) -> None:
    """Raises ValueError: one of several readings does not say where it was taken."""
    if len(readings) > 1 and any(reading.along is None for reading in readings):
        raise ValueError(
            "It has several readings, and one does not say where it was taken: write it as in 1065 right of V at B."
        )


def _stretches(edge: TypedKeys) -> Items:
    """The steps of an edge; what it says of all of it holds for each step that does not say its own."""
    steps = edge.keys["steps"]
    assert isinstance(steps, Items)
    handed = {word: edge.keys[word] for word in ("what", TO_COME) if word in edge.keys}
    if TO_COME in edge.unknown:
        handed[TO_COME] = Text(UNKNOWN, edge.path)
    made: list[object] = []
    for step in steps:
        own = {tidy_key(key) for key in step} if isinstance(step, Entry) else set()
        more = {word.replace(" ", "_"): value for word, value in handed.items() if word not in own}
        made.append(given(step, "at", **more))
    return Items(made, steps.path)


BothSidesAcross = Annotated[
    Across | None,
    Key("both its sides, across", ("100 to 500 right of V", "150 to 500 right of V"), meant=MEANT_ACROSS, must=True),
]
_UP = Key(
    "both its sides, up",
    ("350 to 850 above B", "400 to 850 above B"),
    meant=MEANT_UP,
    must=True,
    floor=("in", "350 to 850 in from D"),
)
BothSidesUp = Annotated[Up | None, _UP]
"""Where a strip that is not drilled is, unless an outline says so."""
VoidUp = Annotated[
    Annotated[Reading, parsed(lambda text, setting: parse_void_reading(text, "up", setting))] | None, _UP
]
"""The same of a window, a niche or a door: it may go on past the edge above."""


class VoidSpec(JobModel, frozen=True, kw_only=True):
    """A window, niche or door: both its sides, across and up, or an outline.

    said    all of it as it was said, where that was in one line.
    gap     clear space round it, mm; None: the usual.
    lining  bed and tile of a niche's inside or a reveal, mm: they come off its inside, and the tile in front passes
            its edge by so much, less what `corner` says.
    sill_board  what lies on its foot instead of tile, and laps the tile in front; sill is what that says.
    undercut    the height that is free under a frame that was cut off above the floor, mm.
    goes_under  how far the tile is slid in under it, mm; None: the usual.
    """

    KEYS_WANTED: ClassVar[str] = "Keys are wanted here: across: 100 to 500 right of V, and up: 350 to 850 above B."

    kind: Annotated[Literal["window", "niche", "door"], Made()]
    name: AName
    said: Annotated[
        WordsField,
        Key(
            "all of it in one line: its name, where it is both ways, and other keys behind their words",
            (
                '"left window, 100 to 500 right of V, 350 to 850 above B, gap 5"',
                '"left window, 150 to 500 right of V, 400 to 850 above B"',
            ),
            short=True,
        ),
    ] = ""
    across: BothSidesAcross = None
    up: VoidUp = None
    outline: AnOutline = ()
    gap: OwnGap = None
    lining: Annotated[
        Gap | None, Key("bed and tile of its inside: the tile in front passes its edge by so much", ("12", "20"))
    ] = None
    corner: CornerField = None
    edge_finish: EdgeFinish = ""
    sill_board: Annotated[WordsField, Key("what its sill will be", ("oak 20", "tile", "oak 22, horns 40"))] = ""
    sill: Annotated[Annotated[SillBoard, parsed(parse_sill)] | None, Made("sill board")] = None
    undercut: Annotated[
        Gap | None, Key("on a floor, the height that is free under a frame that was cut off", ("14", "12"))
    ] = None
    goes_under: Annotated[
        Annotated[float, parsed(length(1.0, WIDEST_GAP, "How far a tile goes under"))] | None,
        Key("how far the tile is slid in under it", ("10", "8")),
    ] = None
    note: Note = ""

    @classmethod
    def prepare(cls, written: TypedKeys, setting: Setting) -> None:
        """Only on a floor is a frame cut off above it."""
        if isinstance(written.keys.get("said"), Told):
            raise Follows("what was said could not be dealt out under its keys, which is told there")
        if setting.kind == "wall" and any(key in written.keys for key in UNDER_A_FRAME):
            raise ValueError(
                "It has undercut or goes under, which are of a frame that the tile of a floor is slid under: take them "
                "out, or write the door with its floor."
            )
        if "sill board" in written.keys:
            written.keys["sill"] = written.keys["sill board"]

    def check(self) -> None:
        """Both sides on both axes, or an outline; how far tile goes under only what it can go under."""
        _needs_both_sides(self.across, self.up, self.outline)
        _lined_round(self.corner, self.lining)
        if self.sill is not None and self.sill.horns and self.outline:
            raise ValueError("Its sill board has horns, and it is given by an outline: draw them in the outline.")
        if self.undercut is not None and (self.lining is not None or self.corner is not None):
            raise ValueError("Tile goes under it, and round it no lining is tiled: leave lining and corner out.")
        if self.goes_under is not None and self.undercut is None:
            raise ValueError(
                "It says how far tile goes under, and not how high it was cut off: write undercut: and the height that "
                "is free under it, as in undercut: 14, or take goes under out."
            )


class KeepOutSpec(JobModel, frozen=True, kw_only=True):
    """A strip or outline where nothing is drilled (`do not drill`); it trims nothing."""

    name: AName
    across: BothSidesAcross = None
    up: BothSidesUp = None
    outline: AnOutline = ()
    why: Annotated[WordsField, Key("why nothing is drilled there", ("cable", "heating pipe"))] = ""
    note: Note = ""

    def check(self) -> None:
        """Both sides on both axes, or an outline."""
        _needs_both_sides(self.across, self.up, self.outline)


def one_or_several(written: TypedKeys) -> None:
    """`at` with one reading, or a list of them, as a list."""
    at = written.keys.get("at")
    if at is not None:
        written.keys["at"] = at if isinstance(at, Items) else [at]


def _lined_round(corner: OuterCorner | None, lining: float | None) -> None:
    """Raises ValueError: how tiles meet round a corner is said, and not how much stands round it."""
    if corner is not None and corner.way != "return laps" and lining is None:
        raise ValueError(
            f"corner: {corner.way} needs to know how far the tile round the corner stands out: write lining: 12, its "
            "bed and tile together."
        )


def _needs_both_sides(across: Reading | None, up: Reading | None, outline: tuple[Spot, ...]) -> None:
    """Raises ValueError: neither an outline nor both sides on both axes."""
    if outline:
        if across is not None or up is not None:
            raise ValueError("It has sides and an outline: keep one.")
        check_corners(outline)
        return
    for reading, key, example in ((across, "across", "100 to 500 right of V"), (up, "up", "350 to 850 above B")):
        if reading is None:
            raise ValueError(f"It has no {key}: write both its sides, as in {key}: {example}.")
        if reading.how not in ("sides", "onward") or reading.start is None or reading.start.kind == "piece":
            onward = "; or, where it goes on past the edge above, 210 above B, goes on up" if key == "up" else ""
            raise ValueError(
                f"{found(reading.text)} does not give both its sides: write it as in {key}: {example}{onward}."
            )
