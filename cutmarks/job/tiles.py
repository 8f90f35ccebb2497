"""Tiles and areas, as the tiler wrote them."""

import re
from collections.abc import Mapping
from typing import Annotated, ClassVar, Literal

from cutmarks.job.declared import Key, Made
from cutmarks.job.fields import (
    A_NAME,
    SHEET_WORDS,
    AnOutline,
    BondField,
    CarriesOnField,
    Flag,
    Joint,
    Lay,
    LevelField,
    NameField,
    Note,
    PlumbField,
    RunField,
    Template,
    Thickness,
    TileNote,
    Turn,
    WordsField,
    check_corners,
    joint_width,
    parse_name,
    parsed,
    says_what_a_sheet_says,
    text_of,
    words,
)
from cutmarks.job.laying import bond_said, parse_size, parse_start, says_unit, split_start
from cutmarks.job.measures import LONGEST_SIDE, bare, sides_in_range
from cutmarks.job.model import JobModel, TypedKeys, path_of, tidy_key
from cutmarks.job.packs import check_box, parse_box, parse_in_hand
from cutmarks.job.tree import Entry, Text, Told
from cutmarks.job.words import UNKNOWN, Follows, Setting, either, found, spaced
from cutmarks.patterns import late
from cutmarks.readings import STACK, UNDER, BoxOfTiles, InHand, PatternAlong, PatternWay, Size, Start
from cutmarks.units import Unit

SHORTEST_SIDE = 5.0
"""No tile has a shorter side, mm."""
SMALL_SIDE = 50.0
"""A side under this, mm, is seldom a tile's: many a box says its size in centimetres."""
_OR = late(r",?\s+or\s+", re.IGNORECASE)
LIKE_A_PIECE = late(r" [UD]?[0-9]+-[RL]?[0-9]+[a-z]?$", re.IGNORECASE, ("-",))


def lone_joint(text: str, setting: Setting) -> float:
    """The joint of a tile, mm. Raises ValueError: it is none, or there are several, which are of an area."""
    if all(others := _OR.split(text)) and len(others) > 1:
        raise ValueError(
            f"{found(text)}: a tile has one joint. Several, of which setout takes the best, go under its areas: write "
            f"joint: {' '.join(text.split())} there, and leave the tile's out."
        )
    return joint_width(text, setting)


def tile_size(text: str, setting: Setting) -> Size:
    """The two sizes of a tile. Raises ValueError: no two sizes, or none that a tile has."""
    return sides_in_range(text, parse_size(text, setting.unit), SHORTEST_SIDE, LONGEST_SIDE, "a tile", setting)


def not_centimetres(size: object, setting: Setting) -> None:
    """Raises ValueError: a size off the box is so small in mm that its figures may be centimetres, as on many boxes."""
    if not isinstance(size, Text) or setting.unit is not Unit.MM or says_unit(size):
        return
    try:
        sides = parse_size(size, setting.unit)
    except ValueError:
        return  # its own fault
    small = min(sides.first, sides.second)
    if small < SMALL_SIDE:
        text = spaced(size)
        raise ValueError(
            f"{found(text)} is off the box, and has a side of {bare(small, setting)}: {bare(small, setting)} mm, or "
            f"{bare(small, setting)} cm? Write its unit, as in size: {text} cm, or measured: yes where you measured "
            "the tile."
        )


def area_name(text: str, setting: Setting) -> str:
    """The name of an area. Raises ValueError: it is no name, or ends as a piece's name does."""
    tidy = parse_name(text)
    if LIKE_A_PIECE.search(tidy):
        raise ValueError(f"{found(tidy)} ends as the name of a piece does (course and number): leave the figures out.")
    if tidy.casefold().split()[-1] == UNDER:
        raise ValueError(
            f'{found(tidy)} ends in "{UNDER}", which stands before the courses below the base ({UNDER} 1-3): give the '
            "area another name."
        )
    word = next((word for word in re.findall(r"[^\W\d_]+", tidy) if word.casefold() in SHEET_WORDS), None)
    if word is not None:  # each piece is called by it, in the largest letters of its sheet
        raise ValueError(says_what_a_sheet_says(tidy, word))
    return tidy


LayField = Annotated[
    Lay | None, Key("how it lies", ("long side across", "long side up"), meant=("orientation", "direction"))
]


class TileSpec(JobModel, frozen=True, kw_only=True):
    """A kind of tile: its two sizes as written, and how it lies.

    measured  a run was given, or `measured: yes`; else the size is off the box.
    template  the face that its templates are laid on; without it the back where the face is textured.
    bed       thickness of the adhesive under it, mm; notch: of the trowel, mm, which makes the bed where `bed` is not
              said; thickness of the tile, mm; None: not said.
    buttered  adhesive on its back too; pattern: how an offcut may be turned, None: not said; box: what a box holds;
              have: what is there already.
    """

    name: Annotated[NameField, Made()]
    size: Annotated[
        Size,
        parsed(tile_size),
        Key(
            "its two sizes, across first and then up",
            ("297 x 97", "248 x 398"),
            meant=("dimensions",),
            must=True,
            short=True,
        ),
    ]
    lay: LayField = None
    run_across: Annotated[
        RunField | None, Key("tiles with the joints between them, measured across", ("5 in 1497", "5 in 1512"))
    ] = None
    run_up: Annotated[RunField | None, Key("the same, measured up", ("5 in 497", "4 in 398"))] = None
    measured: Annotated[Flag, Key("yes: the size was measured, and is not off the box", ("yes", "no"))] = False
    joint: Annotated[
        Annotated[float, parsed(lone_joint)] | None,
        Key("the joint it is laid with, where its areas say none", ("3", "2"), meant=("grout", "spacer", "spacing")),
    ] = None
    thickness: Annotated[Thickness | None, Key("how thick it is", ("9", "6"))] = None
    bed: Annotated[Thickness | None, Key("how thick the adhesive under it is", ("4", "3"))] = None
    notch: Annotated[Thickness | None, Key("the trowel's notch, which makes the bed", ("8", "10"))] = None
    material: Annotated[
        WordsField, Key("what it is made of; glass and large panels have limits of their own", ("porcelain", "glass"))
    ] = ""
    face: Annotated[
        Literal["plain", "textured"],
        words("plain", "textured"),
        Key("textured: tape does not hold on it, so templates are for the back", ("textured", "plain")),
    ] = "plain"
    bevelled: Annotated[Flag, Key("yes: its edges are bevelled", ("yes", "no"), also=("bevelled edges", "beveled"))] = (
        False
    )
    shade: Annotated[WordsField, Key("the maker's shade, for the cut list", ("K2", "K3"))] = ""
    calibre: Annotated[WordsField, Key("the maker's calibre, for the cut list", ("4", "5"), also=("caliber",))] = ""
    batch: Annotated[WordsField, Key("the maker's batch, for the cut list", ("0317", "0412"))] = ""
    buttered: Annotated[
        Flag, Key("yes: adhesive is skimmed on its back too", ("yes", "no"), also=("back buttered", "buttering"))
    ] = False
    pattern: Annotated[
        PatternWay | None,
        words("none", "two ways", "one way"),
        Key(
            "which way round an offcut of it may go on (none: any way), and along which side it runs",
            ("none", "two ways", "one way", "along the long side", '"one way, along the short side"'),
        ),
    ] = None
    pattern_along: Annotated[PatternAlong | None, words("long", "short"), Made("pattern")] = None
    box: Annotated[
        BoxOfTiles | None, parsed(parse_box), Key("what a box of it holds", ("8", "1.44 m2"), meant=("carton", "pack"))
    ] = None
    have: Annotated[
        InHand | None,
        parsed(parse_in_hand),
        Key("how many of it you have already", ("25 tiles", "3 boxes"), meant=("stock", "in hand")),
    ] = None
    template: Template = ""
    note: TileNote = ""

    def check(self) -> None:
        """A box by its area holds a whole number of tiles; what is counted in boxes needs one."""
        if self.box is not None:
            check_box(self.box, self.size)
        elif self.have is not None and self.have.in_boxes:
            raise ValueError(
                "have: is in boxes, and how many a box holds is not said: write box: 8, or have: 25 tiles."
            )

    def sides_as_laid(self, lay: Lay | None) -> tuple[float, float]:
        """Its size as written, across and up as it lies in an area that says `lay`: without, the first lies across."""
        across, up = self.size.first, self.size.second
        lay = lay or self.lay
        return (across, up) if lay is None or (across >= up) == (lay == "long side across") else (up, across)

    @classmethod
    def prepare(cls, written: TypedKeys, setting: Setting) -> None:
        """A run means that the tile was measured; off the box, a figure may be one of centimetres.

        A pattern that runs along a side may be turned half round, where it is not said that it goes one way.
        """
        taken = written.keys
        _split_pattern(taken)
        if {"run across", "run up"} & taken.keys():
            taken.setdefault("measured", True)
        elif spaced(str(taken.get("measured", "no"))).casefold() in ("no", "false"):
            not_centimetres(taken.get("size"), setting)


_ALONG = late(r"(?P<way>.*?)[\s,]*\balong (?:the |its )?(?P<side>long|short) sides?$", re.IGNORECASE)


def _split_pattern(taken: dict[str, object]) -> None:
    """Which way a pattern may be turned, and along which side it runs, each under a key of its own."""
    said = taken.get("pattern")
    found = _ALONG.fullmatch(spaced(said)) if isinstance(said, Text) else None
    if isinstance(said, Text) and found is not None:
        way = found["way"].casefold()
        if way == "none":
            raise ValueError(
                "Its pattern is none, and runs along no side: write pattern: none, or along the long side."
            )
        taken |= {
            "pattern": Text(way or "two ways", said.path),
            "pattern along": Text(found["side"].casefold(), said.path),
        }


WORK = ("left to right", "right to left", "away from the start")
_WORK_ALIKE = {"l to r": WORK[0], "lh to rh": WORK[0], "r to l": WORK[1], "rh to lh": WORK[1]}
_WORK_SAID: Mapping[str, str] = {
    WORK[
        0
    ]: r"(?:start(?:ing)? (?:at |from )?(?:the )?(?:lh|left(?:[- ]hand)?|l/h)(?: end| side)?|l to r|left to right)",
    WORK[
        1
    ]: r"(?:start(?:ing)? (?:at |from )?(?:the )?(?:rh|right(?:[- ]hand)?|r/h)(?: end| side)?|r to l|right to left)",
    WORK[2]: r"(?:(?:off|from) \S+ both ways|both ways (?:off|from) \S+)",
}
_WORK_AS_USUAL = late(
    r"(?:,?\s*(?:and )?(?:finish(?:ing)? in the corner(?: by the [a-z]+)?|(?:up )?(?:off|from) the (?:batten|"
    r"ledger|packers)(?: up)?|"
    r"batten (?:out|off) next day|(?:bottom row|row below (?:the )?(?:batten|ledger)) last|work(?:ing)? up))+$",
    re.IGNORECASE,
)
"""What is done in any case: up from the base, what lies under it last."""


def parse_work(text: str) -> str:
    """The order along a course, in a tiler's words: "start LH end", "L to R, off the ledger up". Raises ValueError."""
    rest = _WORK_AS_USUAL.sub("", text).strip(" ,")
    folded = rest.casefold()
    if folded in (*WORK, *_WORK_ALIKE):
        return _WORK_ALIKE.get(folded, folded)
    way = next((way for way, words in _WORK_SAID.items() if re.fullmatch(words, rest, re.IGNORECASE)), None)
    if way is not None:
        return way
    raise ValueError(
        f"{found(text)} is not taken here: write {either(WORK)}. Which side the work goes towards on a floor stands on "
        "the surface, as in way out: bottom; cuts that wait, as in cuts: after."
    )


OtherJoints = Annotated[
    tuple[float, ...], parsed(lambda text, setting: tuple(joint_width(one, setting) for one in _OR.split(text)))
]


def _split_joints(written: TypedKeys) -> None:
    """The first of several joints is the joint, the others stand under a key of their own."""
    joint = written.keys.get("joint")
    if isinstance(joint, Text):
        first, *others = _OR.split(spaced(joint))
        if first and others and all(others):
            written.keys |= {"joint": Text(first, joint.path), "joint or": Text(" or ".join(others), joint.path)}


StartAcross = Annotated[Start, parsed(lambda text, setting: parse_start(text, "across", setting))]
StartUp = Annotated[Start, parsed(lambda text, setting: parse_start(text, "up", setting))]


class AreaSpec(JobModel, frozen=True, kw_only=True):
    """A part of a surface laid with one tile, joint and bond.

    from_, to          levels (on a floor: distances into the room) between which it lies.
    right_of, left_of  limits across: `left of: 300 right of V` means that it lies left of that.
    nothing_below      nothing of the area lies below this.
    start_across, start_up  None: not decided yet. joint_or: other joints that would do too.
    carries_on_from    from which end of which wall its courses go on round the corner; None: from none.
    """

    KEYS_WANTED: ClassVar[str] = (
        "An area has keys, one a line: its name, tile and joint; where it lies, as in from: B and to: 600 above B, or "
        "right of: V; and its start, as in start: joint on V, sits on B."
    )

    name: Annotated[
        str,
        parsed(area_name),
        Key("what it is called; each piece's name begins so", ("splash", "upper"), write=A_NAME, filled=True),
    ]
    said: Annotated[
        WordsField,
        Key(
            "all of it in one line: its name, and in any order its tile, joint, bond, where it lies and its start",
            (
                '"splash, rib, joint 3, half, B to 397 above B, joint on V, sits on B"',
                '"splash, rib, joint 3, stack, B to 297 above B, joint on V, sits on B"',
            ),
            short=True,
        ),
    ] = ""
    tile: Annotated[
        NameField,
        Key(
            "the name of one under tiles", ("rib", "slate"), write="tile: and the name of one under tiles", filled=True
        ),
    ]
    joint: Annotated[
        Joint,
        Key(
            "how wide the joints are; more than one, and setout tries each; without it what its tile says",
            ("3", "2", "3, or 2"),
            meant=("grout", "grout joint", "spacer", "spacing", "joints"),
            filled=True,
        ),
    ]
    joint_or: Annotated[OtherJoints, Made("joint")] = ()
    bond: Annotated[
        BondField,
        Key(
            "how courses sit on each other",
            ("stack", "half", "third right", "third left", "120 right", "third right, stepped", "offcut carried on"),
            meant=("pattern", "offset"),
        ),
    ] = STACK
    lay: LayField = None
    turn: Annotated[
        Turn,
        Key("turned so many degrees counter-clockwise", ("45", "30 clockwise"), meant=("rotation", "rotate", "angle")),
    ] = 0.0
    from_: Annotated[
        LevelField | None, Key("where it begins, going up (on a floor: in)", ("B", "600 above B"), must=True)
    ] = None
    to: Annotated[LevelField | None, Key("where it ends, going up", ("597 above B", "397 above B"), must=True)] = None
    right_of: Annotated[PlumbField | None, Key("it lies right of this", ("V", "300 left of V"), must=True)] = None
    left_of: Annotated[PlumbField | None, Key("it lies left of this", ("V", "300 right of V"), must=True)] = None
    outline: AnOutline = ()
    nothing_below: Annotated[
        LevelField | None,
        Key(
            "nothing of it lies below this (on a floor: short of)",
            ("B", "100 above B"),
            also=("nothing short of",),
            must=True,
        ),
    ] = None
    start_across: Annotated[
        StartAcross | None,
        Key(
            "what of the start tile lies on what, across and up",
            (
                "{across: joint on V, up: sits on B}",
                "{across: middle on V, up: hangs from B}",
                "middle on V and B",
                "{across: equal, up: sits on B}",
            ),
            meant=("origin",),
            key="start",
            parts=("across", "up", "in"),
        ),
    ] = None
    start_up: Annotated[StartUp | None, Made("start")] = None
    carries_on_from: Annotated[
        CarriesOnField | None,
        Key(
            "the wall whose last tiles go round the corner: what is left of each begins the course here",
            ("sink wall", "the left of sink wall"),
            write="carries on from: and the wall on its left, or the left of the wall on its right",
        ),
    ] = None
    work: Annotated[
        Literal["left to right", "right to left", "away from the start", ""],
        parsed(lambda text, _: parse_work(text)),
        Key(
            "the order in which tiles are fixed along a course",
            ("left to right", "right to left", "away from the start"),
        ),
    ] = ""
    note: Note = ""

    @property
    def half_missing(self) -> Literal["across", "up", ""]:
        """The way that its start does not say; "" where it says both, or nothing."""
        if (self.start_across is None) == (self.start_up is None):
            return ""
        return "across" if self.start_across is None else "up"

    def check(self) -> None:
        """An outline encloses something; a turned area has no two ends that could be equal."""
        check_corners(self.outline)
        if self.turn and "equal" in (getattr(start, "anchor", "") for start in (self.start_across, self.start_up)):
            raise ValueError("It is turned, and has no two ends to be equal: write start: middle on V and B.")

    @classmethod
    def prepare(cls, written: TypedKeys, setting: Setting) -> None:
        """A start is one phrase for both axes, or a key for each; a joint may have others behind it, as in "3, or 2".

        Where an area says no joint it is its tile's.
        """
        if isinstance(written.keys.get("said"), Told):
            raise Follows("what was said could not be dealt out under its keys, which is told there")
        bond = written.keys.get("bond")
        if isinstance(bond, Text):
            said, more = bond_said(text_of(bond), setting)
            if not more.keys() & written.keys.keys():
                written.keys |= {word: Text(held, bond.path) for word, held in {"bond": said, **more}.items()}
        joint = setting.joints.get(spaced(str(written.keys.get("tile", ""))))
        if joint is not None and "joint" not in written.unknown:
            written.keys.setdefault("joint", joint)
        _split_joints(written)
        start = written.keys.pop("start", None)
        if isinstance(start, Entry):
            for key, value in start.items():
                tidy = {"in": "up"}.get(tidy_key(key), tidy_key(key))
                if spaced(str(value)) not in ("", UNKNOWN):
                    if tidy in ("across", "up"):
                        written.keys[f"start {tidy}"] = value
                    else:
                        written.strange.append((f"start {tidy}", value))
        elif start is not None:
            across, up = split_start(text_of(start), setting)
            at = path_of(start)
            both = {"start across": across, "start up": up}
            written.keys |= {key: Text(part, at) for key, part in both.items() if part}
