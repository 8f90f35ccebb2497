"""A surface and its set-out lines, as the tiler wrote them."""

from collections.abc import Mapping
from typing import Annotated, Literal

from msgspec import field
from msgspec.structs import replace

from cutmarks.job.declared import Key, Made
from cutmarks.job.edges import EdgeSpec, KeepOutSpec, VoidSpec
from cutmarks.job.fields import (
    A_NAME,
    AS_MADE,
    AnOutline,
    Gap,
    NameField,
    Note,
    SideField,
    Thickness,
    WordsField,
    check_corners,
    parse_name,
    parsed,
    text_of,
    words,
)
from cutmarks.job.holes import HoleSpec
from cutmarks.job.laying import LINE_KINDS, line_kind, parse_line
from cutmarks.job.model import JobModel, TypedKeys, given, path_of, tidy_key
from cutmarks.job.taped import PairSpec, PointField
from cutmarks.job.tiles import AreaSpec
from cutmarks.job.tree import Entry, Items, Text
from cutmarks.job.trueness import parse_lean, parse_square
from cutmarks.job.words import SIDE_OF, UNKNOWN, Fixes, Setting, found, spaced
from cutmarks.readings import LineLean, Reading, Square
from cutmarks.sides import Side

VOID_LISTS: Mapping[str, str] = {"windows": "window", "niches": "niche", "doors": "door"}


def line_name(text: str, setting: Setting) -> str:
    """The name of a set-out line. Raises ValueError: it is no name, a word for an edge, or a number."""
    tidy = parse_name(text)
    if tidy.casefold() in SIDE_OF or tidy.casefold() == "there":
        raise ValueError(f"{found(tidy)} is a word for an edge: give the line a letter, as in V or B.")
    if not any(character.isalpha() for character in tidy):
        raise ValueError(f"{found(tidy)} has no letter in it: give the line a letter, as in V or B.")
    return tidy


class LineSpec(JobModel, frozen=True, kw_only=True):
    """A set-out line: `kind` is the word written, `words` are printed.

    fixes  plumb (wall) and across (floor) fix x, level and along fix y.
    at     its distance from another line of its axis; None for the main line, at 0.
    off    how far it leans, where it was found to.
    """

    name: Annotated[str, parsed(line_name), Made()]
    fixes: Annotated[Literal["x", "y"], Made("kind")]
    at: Annotated[
        Reading | None,
        AS_MADE,
        Key(
            "its distance from another line of its kind",
            ("600 right of V", "900 right of V"),
            meant=("readings", "reading"),
        ),
    ] = None
    kind: Annotated[
        str,
        AS_MADE,
        Key(
            "plumb or level (on a floor across or along); or all of it in one phrase",
            ("plumb, middle of the sink", "plumb, 600 right of V"),
            must=True,
            short=True,
            filled=True,
        ),
    ] = ""
    words: Annotated[
        WordsField, Key("where it is, in words: they are printed", ("middle of the sink", "left of the window"))
    ] = ""
    off: Annotated[
        Annotated[LineLean, parsed(parse_lean)] | None,
        Key("how far it was found to lean", ("2 in 1200 to the right", "3 in 1200 to the left")),
    ] = None

    def check(self) -> None:
        """A plumb line leans left or right; a level one goes up or down."""
        if self.off is not None and (self.off.way == "across") != (self.fixes == "x"):
            right = "2 in 1200 to the right" if self.fixes == "x" else "3 in 1000 up to the right"
            raise ValueError(f"off: {self.off.text} is not how a line that is {self.kind} leans: write {right}.")

    @classmethod
    def prepare(cls, written: TypedKeys, setting: Setting) -> None:
        """One phrase, or a key for each part of it."""
        keys = written.keys
        words_at = path_of(keys.get("words")) or written.path
        phrase = ", ".join(text_of(keys.pop(key)) for key in ("kind", "at", "words") if key in keys)
        line = parse_line(phrase, setting)
        keys |= {"kind": line.kind, "fixes": line.fixes, "at": line.at, "words": Text(line.words, words_at)}


class SurfaceSpec(JobModel, frozen=True, kw_only=True):
    """One wall or floor with all that was read on it.

    edges   by side; a side not given is not known. outline: any outline instead.
    gaps    clear space by side, mm, where an edge has no gap of its own.
    holes   from the file, then from its list.
    square  the main lines checked by a triangle.
    points  named places to hold a tape to; pairs: what was read between two holes.
    first   the areas that are fixed first; cuts: whether trimmed pieces wait for the whole ones of their course;
            holed_tiles: whether tiles with a hole are put in last.
    board   what still goes on the studs before the tile's bed, mm; None: not said.
    thickness, bed, notch  what comes on the board or the wall where no tile is chosen yet, mm; None: not said.
    up      on a floor, what UP on a template points at, in words; way_out: towards which side the work goes.
    """

    name: Annotated[NameField, Key("what it is called", ("sink wall", "bath floor"), write=A_NAME)]
    kind: Annotated[
        Literal["wall", "floor"],
        words("wall", "floor"),
        Key("a wall or a floor", ("wall", "floor"), meant=("type",), write="kind: wall, or kind: floor"),
    ]
    lines: Annotated[
        tuple[LineSpec, ...],
        Key(
            "the set-out lines that everything is measured from",
            ('{V: "plumb, middle of the sink", B: "level, top of the packers"}',),
            meant=("datums", "datum", "set-out", "set-out lines", "layout lines"),
            one="line",
            named=True,
        ),
    ] = ()
    edges: Annotated[
        Mapping[Side, EdgeSpec],
        Key(
            "where the tiling ends, by side: left, right, bottom (floor), top (ceiling)",
            ("{left: 1140 left of V}",),
            one="edge",
            named=True,
        ),
    ] = field(default_factory=dict)
    outline: AnOutline = ()
    gaps: Annotated[
        Mapping[SideField, Gap],
        Key(
            "the clear space at the edges, by side, or one for all and for windows, niches and doors too",
            ("{left: 4}", "6"),
            also=("gap",),
        ),
    ] = field(default_factory=dict)
    areas: Annotated[
        tuple[AreaSpec, ...],
        Key("the parts that are laid with one tile each", meant=("zones", "zone", "fields", "area"), one="area"),
    ] = ()
    windows: Annotated[tuple[VoidSpec, ...], Key("the windows", one="window")] = ()
    niches: Annotated[tuple[VoidSpec, ...], Key("the niches", one="niche")] = ()
    doors: Annotated[tuple[VoidSpec, ...], Key("the doors; on a floor the feet of their frames", one="door")] = ()
    do_not_drill: Annotated[
        tuple[KeepOutSpec, ...],
        Key("strips in which nothing is drilled", meant=("keep out", "keepout"), one="strip"),
    ] = ()
    holes: Annotated[
        tuple[HoleSpec, ...],
        Key("what comes through", meant=("penetrations", "pipes", "openings", "cut-outs", "cutouts"), one="hole"),
    ] = ()
    holes_list: Annotated[WordsField, Key("a file beside the job with more holes, a row each", ("pipes.csv",))] = ""
    points: Annotated[
        Mapping[NameField, PointField],
        Key(
            "places that a tape is held to, each behind its name",
            ('{P1: "600 left of V, 1800 above B"}', '{P1: "650 left of V, 1800 above B"}'),
        ),
    ] = field(default_factory=dict)
    pairs: Annotated[tuple[PairSpec, ...], Key("what was read between two holes", one="pair")] = ()
    square: Annotated[
        Annotated[Square, parsed(parse_square)] | None,
        Key("the two main lines checked by a triangle", ("900 x 1200, diagonal 1501", "900 x 1200, diagonal 1497")),
    ] = None
    up: Annotated[
        WordsField, Key("on a floor, what UP on a template points at", ("towards the window", "away from the door"))
    ] = ""
    way_out: Annotated[
        SideField | None, Key("on a floor, the side that the work goes towards", ("bottom", "right"))
    ] = None
    first: Annotated[
        tuple[NameField, ...],
        Key("the areas that are fixed first, in their order; the others follow", ("[upper]", "[band, field]")),
    ] = ()
    cuts: Annotated[
        Literal["in turn", "after"],
        words("in turn", "after"),
        Key("after: trimmed pieces are fixed after the whole tiles of their course", ("after", "in turn")),
    ] = "in turn"
    holed_tiles: Annotated[
        Literal["in turn", "left out"],
        words("in turn", "left out"),
        Key("left out: tiles with a hole are put in last, read from all that is fixed round them", ("left out",)),
    ] = "in turn"
    board: Annotated[Thickness | None, Key("what still goes on the studs before the tile's bed", ("12.5", "9.5"))] = (
        None
    )
    thickness: Annotated[Thickness | None, Key("how thick the tile will be, where none is chosen yet", ("9", "11"))] = (
        None
    )
    bed: Annotated[Thickness | None, Key("how thick the adhesive will be, where no tile is chosen yet", ("4", "3"))] = (
        None
    )
    notch: Annotated[Thickness | None, Key("the trowel's notch, where no tile is chosen yet", ("8", "10"))] = None
    note: Note = ""

    @property
    def voids(self) -> tuple[VoidSpec, ...]:
        """Windows, then niches, then doors."""
        return self.windows + self.niches + self.doors

    @property
    def line_words(self) -> dict[str, str]:
        """What each set-out line is, in words."""
        return {line.name: line.words for line in self.lines}

    @property
    def one_gap(self) -> float | None:
        """The gap that is said for all four sides alike, and so for windows, niches and doors too, mm; None: none."""
        said = set(self.gaps.values())
        return said.pop() if len(self.gaps) == len(Side) and len(said) == 1 else None

    @classmethod
    def setting_in(cls, written: TypedKeys, setting: Setting) -> Setting:
        """The kind of this surface, and the names on it."""
        keys = written.keys
        kind = spaced(str(keys.get("kind", "wall"))).casefold()
        return replace(
            setting,
            kind="floor" if kind == "floor" else "wall",
            lines=_lines(keys.get("lines")),
            holes=_names(keys.get("holes")),
            areas=_names(keys.get("areas")),
            points=_keyed(keys.get("points")),
            line_words=_line_words(keys.get("lines")),
            edge_words=_edge_words(keys.get("edges")),
        )

    @classmethod
    def prepare(cls, written: TypedKeys, setting: Setting) -> None:
        """Give names and sides to what has them before its colon."""
        taken = written.keys
        lines, edges, gaps = taken.get("lines"), taken.get("edges"), taken.get("gaps")
        if isinstance(lines, Entry):
            taken["lines"] = _lines_named(lines)
        if isinstance(edges, Entry):
            taken["edges"] = _sides_named(edges)
        if isinstance(gaps, Text):
            taken["gaps"] = Entry(dict.fromkeys(("left", "right", "bottom", "top"), gaps), gaps.path)
        elif isinstance(gaps, Entry):
            taken["gaps"] = _gaps_named(gaps)
        for key, kind_of_void in VOID_LISTS.items():
            taken[key] = _void_list(taken.get(key), kind_of_void)
        if isinstance(taken.get("do not drill"), Items):
            taken["do not drill"] = _void_list(taken["do not drill"], None)

    def check(self) -> None:
        """A point is told from a line by its name; edges or an outline; a tile's thickness stands with the tile."""
        lines = {line.name.casefold() for line in self.lines}
        for point in self.points:
            if point.casefold() in lines:
                raise ValueError(f"{found(point)} is a set-out line and a point: give the point a name of its own.")
        if self.edges and self.outline:
            raise ValueError("It has edges and an outline: keep one.")
        if self.areas:
            for word, held in (("thickness", self.thickness), ("bed", self.bed), ("notch", self.notch)):
                if held is not None:
                    raise ValueError(
                        f"{word}: stands on a surface whose tile is not chosen yet, and this one has areas: write it "
                        f"under tiles:, with the tile {found(self.areas[0].tile)}."
                    )
        check_corners(self.outline)
        onward = next((void for void in self.voids if void.up is not None and void.up.how == "onward"), None)
        if onward is not None and Side.TOP not in self.edges:
            raise ValueError(
                f"{found(onward.up.text if onward.up else '')} goes on past the edge above, which is not given: write "
                "the top edge, or both sides of the window, as in up: 210 to 900 above B."
            )


def _lines(lines: object) -> Mapping[str, Fixes | None]:
    """The lines and the axis that each fixes, as far as their first word tells."""
    if not isinstance(lines, Entry):
        return {}
    kinds = {**LINE_KINDS["wall"], **LINE_KINDS["floor"]}
    axes: dict[str, Fixes | None] = {}
    for name, line in lines.items():
        if not spaced(name):
            continue  # its own fault
        words = line.get("kind", "") if isinstance(line, Entry) else line
        axes[spaced(name)] = kinds.get(line_kind(spaced(str(words)).partition(",")[0]))
    return axes


def _line_words(lines: object) -> Mapping[str, str]:
    """What each line is in words, and how far it says that it lies above something: all behind its kind."""
    if not isinstance(lines, Entry):
        return {}
    said: dict[str, str] = {}
    for name, line in lines.items():
        parts = [line.get(key, "") for key in ("kind", "words")] if isinstance(line, Entry) else [line]
        typed = ", ".join(spaced(str(part)) for part in parts if isinstance(part, Text) and spaced(part))
        said[spaced(name)] = typed.partition(",")[2].strip()
    return said


def _edge_words(edges: object) -> Mapping[Side, str]:
    """What each edge is in words, "" where that is not said."""
    if not isinstance(edges, Entry):
        return {}
    said: dict[Side, str] = {}
    for key, edge in edges.items():
        side = SIDE_OF.get(tidy_key(key))
        if side is not None:
            what = edge.get("what", "") if isinstance(edge, Entry) else ""
            said[side] = spaced(what) if isinstance(what, Text) else ""
    return said


def _names(things: object) -> Mapping[str, str]:
    """The names in a list of things, by the name in small letters."""
    if not isinstance(things, Items):
        return {}
    names = [thing.get("name", "") for thing in things if isinstance(thing, Entry)]
    # A list or keys where a name is wanted have their own fault, and are none.
    tidy = [spaced(str(name)) for name in names if not isinstance(name, Items | Entry)]
    return {name.casefold(): name for name in tidy if name}


def _keyed(things: object) -> Mapping[str, str]:
    """The names before the colons, by the name in small letters."""
    names = [spaced(name) for name in things] if isinstance(things, Entry) else []
    return {name.casefold(): name for name in names if name}


def _lines_named(lines: Entry) -> Items:
    """Each line with the name that stands before its colon."""
    return Items([given(line, "kind", name=Text(name, path_of(line))) for name, line in lines.items()], lines.path)


def _sides_named(edges: Entry) -> Entry:
    """Each edge with the side that stands before its colon; floor and ceiling are the bottom and the top."""
    named = Entry(path=edges.path)
    for key, edge in edges.items():
        tidy = tidy_key(key)
        side = SIDE_OF.get(tidy, tidy)
        if isinstance(edge, Text) and spaced(edge) in ("", UNKNOWN):
            continue
        if side in named:
            raise ValueError(f"The {side} edge is given twice: keep one.")
        named[side] = given(edge, "at", side=Text(side, path_of(edge)))
    return named


def _gaps_named(gaps: Entry) -> Entry:
    """Gaps by side, floor and ceiling too; what is not known is left out."""
    named = Entry(path=gaps.path)
    for key, gap in gaps.items():
        tidy = tidy_key(key)
        if not isinstance(gap, Text) or spaced(gap) not in ("", UNKNOWN):
            side = SIDE_OF.get(tidy, tidy)
            if side in named:
                raise ValueError(f"The gap at the {side} edge is given twice: keep one.")
            named[side] = gap
    return named


def _void_list(things: object, kind: str | None) -> object:
    """Each window, niche, door or strip with its kind, and a name where it has none."""
    if not isinstance(things, Items):
        return () if things is None else things
    made = Items(path=things.path)
    for number, thing in enumerate(things, 1):
        keys: dict[str, object] = {} if kind is None else {"kind": kind}
        if isinstance(thing, Entry) and not any(tidy_key(key) == "name" for key in thing):
            word = kind or "strip"
            keys["name"] = Text(word if len(things) == 1 else f"{word} {number}", thing.path)
        made.append(given(thing, None, **keys))
    return made
