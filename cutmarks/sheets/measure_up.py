"""Blank measure-up sheets: the job file's words in the job file's order, with room to write beside them.

What is written on the sheet is typed into the job file from top to bottom, without looking for a key.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Literal

from msgspec import Struct

from cutmarks.geometry.frames import Point
from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.marks.model import Mark, Role, Words, line, rectangle
from cutmarks.registering.paper import PAPERS
from cutmarks.saying.dialect import Wording, wording
from cutmarks.sheets.flow import Block, heading, paragraph, placed, space
from cutmarks.sheets.forms import HINT, ROW, Field, label, line_of, ruled, table
from cutmarks.sheets.model import PaperSheet
from cutmarks.sides import Side, SurfaceKind

BlankPaper = Literal["A4", "Letter"]
SIDE, TOP, FOOT = 13.0, 12.0, 12.0
EDGE_ROW = 11.5
"""Two lines are written in a row of the edges."""
FOOT_ROOM = 6.0


class _Axes(Struct, frozen=True):
    """How the two directions are said on this kind of surface."""

    across: str
    up: str
    up_key: str
    lines: tuple[tuple[str, str], tuple[str, str]]
    edges: tuple[tuple[Side, str, str], ...]


_ON: dict[SurfaceKind, _Axes] = {
    "wall": _Axes(
        across="left / right of V",
        up="above / below B",
        up_key="up",
        lines=(("V", "plumb,"), ("B", "level,")),
        edges=(
            (Side.LEFT, "left of V", "above / below B"),
            (Side.RIGHT, "right of V", "above / below B"),
            (Side.BOTTOM, "below / above B", "left / right of V"),
            (Side.TOP, "above B", "left / right of V"),
        ),
    ),
    "floor": _Axes(
        across="left / right of V",
        up="in from / short of D",
        up_key="in",
        lines=(("V", "across,"), ("D", "along,")),
        edges=(
            (Side.LEFT, "left of V", "in from D"),
            (Side.RIGHT, "right of V", "in from D"),
            (Side.BOTTOM, "short of / in from D", "left / right of V"),
            (Side.TOP, "in from D", "left / right of V"),
        ),
    ),
}


def blank_name(kind: SurfaceKind, paper: BlankPaper) -> str:
    """The file name of a blank sheet: "measure-up-wall-A4.pdf"."""
    return f"measure-up-{kind}-{paper}.pdf"


def measure_up_pages(kind: SurfaceKind, paper: BlankPaper) -> tuple[PaperSheet, ...]:
    """The two pages of the blank for one surface: what it meets and what it is laid with; what comes through it."""
    width, height = PAPERS[paper].width, PAPERS[paper].height
    room = width - 2 * SIDE
    words = wording("uk" if paper == "A4" else "us")
    depth = height - TOP - FOOT - FOOT_ROOM
    pages = (list(_first(kind, room, depth, words)), list(_second(kind, room, depth, words)))
    return tuple(
        PaperSheet(
            file=f"measure-up-{kind}-{paper}_{number}.svg",
            title=f"Measure-up: {kind}, page {number} of {len(pages)}",
            width=width,
            height=height,
            marks=(*_stacked(blocks, height - TOP), *_foot(kind, width, number, len(pages))),
        )
        for number, blocks in enumerate(pages, start=1)
    )


def _stacked(blocks: Sequence[Block], top: float) -> Iterator[Mark[SheetFrame]]:
    for one in blocks:
        yield from placed(one, SIDE, top)
        top -= one.height


def _foot(kind: SurfaceKind, width: float, number: int, pages: int) -> Iterator[Mark[SheetFrame]]:
    yield Words("The words are those of the job file, in its order. ? means not known yet.", Point(SIDE, FOOT), HINT)
    yield Words(f"measure-up {kind}, page {number} of {pages}", Point(width - SIDE, FOOT), HINT, "end")


def _first(kind: SurfaceKind, room: float, depth: float, words: Wording) -> Iterator[Block]:
    axes = _ON[kind]
    seen = "as you face it" if kind == "wall" else "standing at D, looking in: right is right, in is away from you"
    blocks = [
        heading(f"MEASURE-UP: {kind.upper()}", room, seen),
        line_of((("job", 0.5, ""), ("units", 0.2, "mm / in"), ("cut", 0.3, "on the day / ahead")), room),
        line_of(
            (("surface", 1.0, ""),)
            if kind == "wall"
            else (("surface", 0.5, ""), ("up", 0.28, "towards"), ("way out", 0.22, "")),
            room,
        ),
        label("what it meets", f"{words.worktop}, floor, {words.bath}, next wall ...; and whether that is finished"),
        line_of(tuple((side, 0.25, "") for side, _, _ in axes.edges), room),
        label("lines", "where they are, in words that get printed; everything is measured from these two"),
        line_of(tuple((name, 0.5, kind_word) for name, kind_word in axes.lines), room),
        label("tiles", "measured. Lay five in a row with their four joints: that proves tile and joint"),
        table(
            (
                Field("name", 18),
                Field("size, across x up", 32, ("x",)),
                Field("lay: long side", 27, ("across / up",)),
                Field("run across", 23, before="5 in"),
                Field("run up", 22, before="5 in"),
                Field("joint", 16),
                Field("thickness", 20),
                Field("material", 24),
            ),
            2,
            room,
        ),
        label("edges", "read each twice, far apart; once where it is true. To come: floor, next wall's tile"),
        _edges(axes, room),
        label("windows, niches, doors" if kind == "wall" else "doors, and what else the tiles stop at", ""),
        table(
            (
                Field("what, name", 30),
                Field("across", 58, (axes.across,)),
                Field(axes.up_key, 62, (axes.up,)),
                Field("gap", 12),
                Field("note", 22),
            ),
            2,
            room,
        ),
        label("sketch", ""),
    ]
    yield from blocks
    yield _sketch(axes, room, depth - sum(one.height for one in blocks))


def _second(kind: SurfaceKind, room: float, depth: float, words: Wording) -> Iterator[Block]:
    axes = _ON[kind]
    base = axes.lines[1][0]
    above = [
        heading("WHAT COMES THROUGH", room, "read BOTH sides of each thing: 67 to 83, not its middle"),
        label("holes", f"cover: the {_hides(words)}, its size, or none. end: comes off, or runs on"),
    ]
    below = [
        *_notes(
            (
                "A box that is not level: its four corners. A distance always has its side in words, never a minus.",
                "Read from an edge: which, and at what height. Read from a fixed tile: which, and which edge of it.",
            ),
            room,
        ),
        label("do not drill", "strips and patches where cables or pipes run, and why"),
        table(
            (Field("name, why", 50), Field("across", 67, (axes.across,)), Field(axes.up_key, 67, (axes.up,))), 2, room
        ),
        space(3.0),
        heading("WHERE THE TILES GO", room, "may stay open until it is known what is left at the edges"),
        label("areas", "bond: stack, half, third right, third left. from, to: the levels between which the area lies"),
        table(
            (
                Field("name", 21),
                Field("tile", 19),
                Field("bond", 19),
                Field("from", 19),
                Field("to", 19),
                Field("start across", 46, ("joint / middle / left / right", "on V")),
                Field("start up", 41, ("joint / middle / sits on /", f"hangs from {base}")),
            ),
            3,
            room,
        ),
        label("notes", ""),
        Block(2 * ROW, tuple(line(0.0, -ROW * (row + 1), room, -ROW * (row + 1), Role.BOX) for row in range(2))),
    ]
    holes = (
        Field("name", 24),
        Field("what (size first)", 32),
        Field("across", 46, (axes.across,)),
        Field(axes.up_key, 50, (axes.up,)),
        Field("cover", 17),
        Field("end", 15, ("off / on",)),
    )
    left = depth - sum(one.height for one in (*above, *below)) - table(holes, 0, room).height
    yield from above
    yield table(holes, int(left / ROW), room)
    yield from below


def _hides(words: Wording) -> str:
    return f"{words.cover} or {words.faceplate}" if words.cover != "cover" else f"rose, collar or {words.faceplate}"


def _notes(sentences: Sequence[str], room: float) -> Iterator[Block]:
    yield space(1.2)
    for sentence in sentences:
        yield from paragraph(sentence, room, height=HINT)


def _edges(axes: _Axes, room: float) -> Block:
    fields = (
        Field("edge", 17),
        Field("first reading, and where", 56),
        Field("second reading, and where", 56),
        Field("true", 15),
        Field("still to come", 24),
        Field("gap", 16),
    )
    hints = [((), reading, reading, (true,), (), ()) for reading, true in _edge_hints(axes)]
    return ruled(fields, hints, room, EDGE_ROW, [side for side, _, _ in axes.edges])


def _edge_hints(axes: _Axes) -> Iterator[tuple[tuple[str, str], str]]:
    for side, at, along in axes.edges:
        upright = side.axis == "across"
        yield (at, along), ("plumb" if upright else "level") if axes.up_key == "up" else "straight"


def _sketch(axes: _Axes, room: float, height: float) -> Block:
    """A box to sketch in, with the two lines crossing in it."""
    x, y = room / 2, -height * 0.62
    (plumb, _), (level, _) = axes.lines
    return Block(
        height,
        (
            rectangle(0.0, -height, room, height, Role.BOX),
            line(x, -2.0, x, -height + 2.0, Role.SET_OUT),
            line(2.0, y, room - 2.0, y, Role.SET_OUT),
            Words(plumb, Point(x + 1.5, -5.0), 2.6, bold=True),
            Words(level, Point(room - 2.5, y + 1.5), 2.6, "end", bold=True),
        ),
    )
