"""Rulers of a template: the figures that each cut is marked by, each along its own axis, as the panel has them."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from msgspec import Struct

from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.frames import Point, Tile
from cutmarks.geometry.rings import Vertex
from cutmarks.marks import sizes
from cutmarks.marks.clip import clipped
from cutmarks.marks.model import Mark, Role, Stroke, Words, WordsAnchor, line, solid
from cutmarks.marks.room import Room
from cutmarks.marks.template import TOO_NEAR, Subject, tape_at
from cutmarks.openings.corners import InsideCorner
from cutmarks.openings.model import Cover, Cut
from cutmarks.saying.corners import corner_rows
from cutmarks.saying.measures import Measure, by_centre, is_bite, shown, spacing, to_mark
from cutmarks.sides import ON_AXIS, Side

TO_CUT = "to the cut"
"""Behind a figure that is no middle's, so that no core is started on it."""
APART = "apart"
"""Behind a spacing that stands off its line."""
FIGURE = sizes.TAPE
"""The figure of a measure on the drawing, mm high; `_LEAST_FIGURE` where it has no room."""
_LEAST_FIGURE = sizes.capitals(13.0)
_BESIDE_FOR = 10.0
"""A line that runs beside one of another meaning for longer is taken for it, mm."""
_MOST_OFF = 12
"""So far a measure to a cut gives way to a cover's side, mm."""
_PAST_RING = 3.0
"""A measure to a middle ends at its ring."""
CLEAR_OF_LINES = 0.8
"""Between words and any line."""
BESIDE = 1.4
"""Between a line and the words that belong to it."""
STATIONS = (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.12, 0.88)
"""Where along a line its words are tried, as shares of its length."""
_HEAD, _HALF_HEAD = 3.0, 0.8
"""An arrow head's length and half its width."""
_FAR_FIGURE = 110
"""A spacing is said no further from its line than this, mm."""
_PLAIN_FIGURE = 14
"""A figure further past its arrow than this also names the edge, mm."""
_ZIGZAG = 1.2
"""Half the width of the zigzag of a broken edge, mm."""
_LEAST_STEP, _MOST_STEP = 7.0, 9.0
"""Between the two rulers of a cut's two sides."""
_BESIDE_CORNER, _MOST_BESIDE_CORNER = 7.0, 44.0
"""How far beside the saw cut that runs the same way a ruler to an inside corner runs: a part of so much, mm."""
_BESIDE_EDGE, _CLEAR_OF_TICKS = 3.0, 9.0
"""How far inside an edge a ruler runs along it."""


class Ruler(Struct, frozen=True):
    """One measure as it is drawn: from `side`, `value` long, at `level` on the other axis, mm.

    witness  where the cut's own box begins on the other axis, where the ruler runs beside it; else None.
    start    where it begins on the axis: 0 at the side, else the middle that a spacing is from.
    to_middle  it ends at a middle, whose ring stays clear; of a spacing it begins at one too.
    """

    side: Side
    value: float
    level: float
    text: str
    witness: float | None
    start: float = 0.0
    to_middle: bool = False


def ruler_lines(subject: Subject) -> Iterator[Mark[Tile]]:
    """The measures that each cut is marked by, from the edge that they are taken from, with arrows at both ends.

    Where the sheet lies against the opposite edge the line runs out of the drawing, towards the edge that it is from;
    along an axis that goes by tape there is none.
    """
    for ruler in _rulers(subject):
        yield from _lines(subject, ruler)


def ruler_figures(subject: Subject, room: Room[Tile]) -> Iterator[Mark[Tile]]:
    """The figure of each ruler, on it where there is room."""
    for ruler in _rulers(subject):
        yield from room.place_group(_figure_places(subject, ruler), CLEAR_OF_LINES)


def _rulers(subject: Subject) -> Iterator[Ruler]:
    if subject.stopped:
        return
    yield from _to_corners(subject)
    spaced = list(_spaced(subject))
    for cut in subject.cuts:
        for measure in to_mark(cut, subject.piece):
            beyond = any(
                cut is _further(ends, measure.side) for ruler, ends in spaced if ruler.side.axis == measure.side.axis
            )
            if _is_drawn(subject, cut, measure) and not beyond:
                yield from _places(subject, cut, measure)
    yield from (ruler for ruler, _ in spaced)


def _to_corners(subject: Subject) -> Iterator[Ruler]:
    """The measures to the inside corners, each once: both corners of one notch are as deep."""
    told: set[tuple[Side, float]] = set()
    for number, corner in enumerate(subject.corners, start=1):
        for ruler in _to_corner(subject, corner, number / (len(subject.corners) + 1)):
            key = (ruler.side, round(ruler.value, 2))
            if key not in told:
                told.add(key)
                yield ruler


def _to_corner(subject: Subject, corner: InsideCorner, part: float) -> Iterator[Ruler]:
    """The two measures to an inside corner; where one would run along a saw cut it stands beside it, at the other.

    It stands `part` of the way along the other, of as much of that as is seen for certain.
    """
    x, y = corner.centre.x, corner.centre.y
    for side, figure, _ in corner_rows(subject, corner):
        across = side.axis == "across"
        own, ways = (y, [dy for _, dy in corner.arms]) if across else (x, [dx for dx, _ in corner.arms])
        along = min(corner.arms, key=lambda arm: abs(arm[1] if across else arm[0]))
        witness = None
        if abs(along[1] if across else along[0]) < TOO_NEAR + _BESIDE_CORNER:
            way = max(ways, key=abs)
            room = min(abs(way), _MOST_BESIDE_CORNER, _seen_beside(subject, own, way, across))
            level = own + math.copysign(max(room * part, min(_BESIDE_CORNER, room)), way)
            level = _clear_of_edges(subject, level, across)
            witness = own if abs(way) < abs(level - own) else None
        else:
            level = own
        yield Ruler(side, corner.from_edges[side], level, figure, witness)


def _seen_beside(subject: Subject, at: float, way: float, across: bool) -> float:
    """How far from a place the drawing shows the tile, up or down where `across`, else to one side, mm."""
    low, high = (subject.view.min_y, subject.view.max_y) if across else (subject.view.min_x, subject.view.max_x)
    return max(0.0, (high - at if way > 0.0 else at - low) - _BESIDE_EDGE)


def _further(ends: tuple[Cut, Cut], side: Side) -> Cut:
    """Of two middles in a row the one further from a side: the spacing leads on to it."""
    return max(ends, key=lambda cut: cut.from_edges[side])


def _is_drawn(subject: Subject, cut: Cut, measure: Measure) -> bool:
    """Whether a measure is drawn: along an axis that lies on an edge, and not where it runs along another's cover.

    The panel has its figure in any case.
    """
    side = measure.side
    if side.axis not in {one.axis for one in subject.registration.edges}:
        return False
    if measure.what != "centre":
        return True
    level = cut.centre.y if side.axis == "across" else cut.centre.x
    return not _along_a_cover(subject, [one for one in subject.cuts if one is not cut], level, side, measure.values[0])


def _along_a_cover(subject: Subject, cuts: Sequence[Cut], level: float, side: Side, value: float) -> bool:
    """Whether a measure at a level runs along a side of a square cover of these cuts: one is taken for the other."""
    across = side.axis == "across"
    edge = subject.piece.piece.tile.box.at(side)
    start, end = sorted((edge, edge - side.sign * value))
    return any(
        abs(at - level) < TOO_NEAR and min(high, end) - max(low, start) > _BESIDE_FOR
        for cut in cuts
        if cut.opening.cover is not None and not cut.opening.cover.round
        for at, low, high in _cover_sides(cut, cut.opening.cover, across)
    )


def _clear_of_covers(subject: Subject, level: float, side: Side, value: float) -> float:
    """The level of a measure to a cut, or the nearest at which it runs along no cover's side; the level if none is."""
    across = side.axis == "across"
    for step in (way * off for off in range(_MOST_OFF) for way in (1.0, -1.0)):
        at = level + step
        stays = step == 0.0 or _clear_of_tape(subject, _clear_of_edges(subject, at, across), across) == at
        if stays and not _along_a_cover(subject, subject.cuts, at, side, value):
            return at
    return level


def _cover_sides(cut: Cut, cover: Cover, across: bool) -> Iterator[tuple[float, float, float]]:
    """The two sides of an oblong cover that run along an axis: where they lie, and from where to where they run."""
    x, y = cut.centre.x, cut.centre.y
    middle, along, deep, wide = (y, x, cover.h, cover.w) if across else (x, y, cover.w, cover.h)
    for way in (-1.0, 1.0):
        yield middle + way * deep / 2, along - wide / 2, along + wide / 2


def measured_sides(subject: Subject, cut: Cut) -> Iterator[Side]:
    """The sides of a cut's middle on which a measure runs to it."""
    if subject.stopped:
        return
    for measure in to_mark(cut, subject.piece):
        if measure.what == "centre" and _is_drawn(subject, cut, measure):
            yield measure.side
    for ruler, ends in _spaced(subject):
        if cut in ends:
            towards = ruler.side if cut is ends[1] else ruler.side.opposite
            yield towards


def _spaced(subject: Subject) -> Iterator[tuple[Ruler, tuple[Cut, Cut]]]:
    """How far the middles of two holes on one sheet are apart, drawn between them where they stand level or plumb."""
    if len(subject.cuts) != len(("one", "other")):
        return
    one, other = subject.cuts
    if not (by_centre(one) and by_centre(other)):
        return
    apart = spacing(one, other, subject.piece, subject.style)
    if len(apart) != 1:
        return
    ((axis, text),) = apart.items()
    side = Side.LEFT if axis == "across" else Side.BOTTOM
    first, second = sorted((one, other), key=lambda cut: cut.from_edges[side])
    level = first.centre.y if axis == "across" else first.centre.x
    start, end = first.from_edges[side], second.from_edges[side]
    yield Ruler(side, end, level, text, None, start, to_middle=True), (first, second)


def _places(subject: Subject, cut: Cut, measure: Measure) -> Iterator[Ruler]:
    """One ruler for each value of a measure: on the cut's own axis, the second beside the first."""
    across = measure.side.axis == "across"
    box = cut.share.bounds
    low, high = (box.min_y, box.max_y) if across else (box.min_x, box.max_x)
    level = cut.centre.y if across else cut.centre.x
    if not low < level < high:
        level = (low + high) / 2
    if cut.kind == "corner notch":
        level = _beside_open_edge(subject, cut, across)
    if measure.what != "centre":
        level = _clear_of_tape(subject, _clear_of_edges(subject, level, across), across)
    to_middle = measure.what == "centre" and not _on_tile_edge(subject, level, across)
    if measure.what == "centre" and not to_middle:
        level = _clear_of_edges(subject, level, across)
    step = min(max((high - low) / 4, _LEAST_STEP), _MOST_STEP)
    if any(_clear(subject, level - step, across) != level - step for _clear in (_clear_of_edges, _clear_of_tape)):
        step = -step
    for index, value in enumerate(measure.values):
        text, _ = shown(value, measure.side, subject.piece, subject.style)
        at = level - index * step
        if measure.what != "centre":
            at = _clear_of_covers(subject, at, measure.side, value)
            at = _clear_of_arc(cut, at, across)
        witness = low if at < low else high if at > high else None
        yield Ruler(measure.side, value, at, text, witness, to_middle=to_middle)


def _clear_of_arc(cut: Cut, level: float, across: bool) -> float:
    """The level, or one further in where it would graze the deepest point of a bite: which is the cut is not seen."""
    for side in ON_AXIS["up" if across else "across"] if is_bite(cut) else ():
        deepest = cut.share.bounds.at(side)
        if side.opposite in cut.runs_out and abs(level - deepest) < _BESIDE_EDGE:
            return deepest + side.sign * _BESIDE_EDGE
    return level


def _clear_of_edges(subject: Subject, level: float, across: bool) -> float:
    """The level, or the nearest that keeps off an edge that runs the same way, and off its ticks where it has them."""
    size = subject.piece.piece.tile.h if across else subject.piece.piece.tile.w
    near, far = ON_AXIS["up" if across else "across"]
    edges = subject.registration.edges
    level = max(level, _CLEAR_OF_TICKS if near in edges else _BESIDE_EDGE)
    return min(level, size - (_CLEAR_OF_TICKS if far in edges else _BESIDE_EDGE))


def _on_tile_edge(subject: Subject, level: float, across: bool) -> bool:
    """Whether a ruler at that level would run along an edge of the tile that no sheet is lined up on."""
    box = subject.piece.piece.tile.box
    sides = ON_AXIS["up" if across else "across"]
    return any(abs(level - box.at(side)) < TOO_NEAR for side in sides if side not in subject.registration.edges)


def _clear_of_tape(subject: Subject, level: float, across: bool) -> float:
    """The level, or one further from the edges on the paper, where a line to tape to runs along it."""
    at = tape_at(subject.piece, subject.registration)
    for side in subject.registration.tape:
        line_at = at.x if side.axis == "across" else at.y
        if (side.axis == "up") == across and abs(level - line_at) < _LEAST_STEP:
            return line_at + _LEAST_STEP
    return level


def _beside_open_edge(subject: Subject, cut: Cut, across: bool) -> float:
    """The level of a corner notch's ruler: just inside the tile, along the edge that the notch crosses."""
    tile = subject.piece.piece.tile
    is_open = cut.runs_out
    pair = ON_AXIS["up" if across else "across"]
    side = pair[0] if pair[0] in is_open else pair[1]
    inside = _CLEAR_OF_TICKS if side in subject.registration.edges else _BESIDE_EDGE
    size = tile.h if across else tile.w
    return inside if side == pair[0] else size - inside


def _lines(subject: Subject, ruler: Ruler) -> Iterator[Mark[Tile]]:
    (x0, y0), (x1, y1) = _ends(subject, ruler)
    long = abs(x1 - x0) + abs(y1 - y0)
    if long <= 2 * _PAST_RING and ruler.to_middle:
        return
    if long == 0.0:
        return
    ux, uy = (x1 - x0) / long, (y1 - y0) / long
    ends = [(x0, y0, 1.0), (x1, y1, -1.0)]
    if ruler.to_middle:
        ends[1] = (x1 - _PAST_RING * ux, y1 - _PAST_RING * uy, 0.0)
        if ruler.start:
            ends[0] = (x0 + _PAST_RING * ux, y0 + _PAST_RING * uy, 0.0)
    whole: Stroke[Tile] = line(*ends[0][:2], *ends[1][:2], Role.MEASURE)
    yield from clipped(whole, subject.view)
    head = min(_HEAD, long / 3)
    for x, y, way in ends:
        inside = Bounds(x, y, x, y).within(subject.view)
        if way and inside:
            back_x, back_y = x + way * head * ux, y + way * head * uy
            half = _HALF_HEAD * head / _HEAD
            yield solid(((x, y), (back_x - half * uy, back_y + half * ux), (back_x + half * uy, back_y - half * ux)))
    if not ruler.start and not Bounds(x0, y0, x0, y0).within(subject.view):
        yield from broken_edge(subject, ruler.side, ruler.level)
    if ruler.witness is not None and not _along_tile(subject, ruler, x1, y1):
        end = (x1, ruler.witness) if ruler.side.axis == "across" else (ruler.witness, y1)
        witness: Stroke[Tile] = line(x1, y1, *end, Role.MEASURE)
        yield from clipped(witness, subject.view)


def _along_tile(subject: Subject, ruler: Ruler, x: float, y: float) -> bool:
    """Whether a witness line would run so near an edge of the tile that one is taken for the other."""
    sides = ON_AXIS[ruler.side.axis]
    box = subject.piece.piece.tile.box
    return any(abs((x if ruler.side.axis == "across" else y) - box.at(side)) < TOO_NEAR for side in sides)


def broken_edge(subject: Subject, side: Side, level: float) -> Iterator[Mark[Tile]]:
    """Where a measure runs off the sheet towards the tile's edge: that edge, broken, as a zigzag across the line."""
    view = subject.view
    at = (max if side.sign < 0 else min)(view.at(side), subject.piece.piece.tile.box.at(side)) - side.sign * _ZIGZAG
    steps = ((0.0, -6.0), (0.0, -2.2), (1.0, -1.1), (-1.0, 1.1), (0.0, 2.2), (0.0, 6.0))
    path = [
        (at + off * _ZIGZAG, level + along) if side.axis == "across" else (level + along, at + off * _ZIGZAG)
        for off, along in steps
    ]
    yield from clipped(Stroke(tuple(Vertex(x, y) for x, y in path), Role.MEASURE), view)


def _ends(subject: Subject, ruler: Ruler) -> tuple[tuple[float, float], tuple[float, float]]:
    side, level = ruler.side, ruler.level
    edge = subject.piece.piece.tile.box.at(side)
    start, end = edge - side.sign * ruler.start, edge - side.sign * ruler.value
    return ((start, level), (end, level)) if side.axis == "across" else ((level, start), (level, end))


def _figure_places(subject: Subject, ruler: Ruler) -> Iterator[Sequence[Words[Tile]]]:
    """What is written on a ruler, at all of its places: the figure, and what it is from or goes to where that shows."""
    (x0, y0), (x1, y1) = _ends(subject, ruler)
    side, text = ruler.side, ruler.text
    seen = subject.view
    if not Bounds(min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1)).overlaps(seen):
        return  # it is on another of the joined sheets
    x0, x1 = (min(max(x, seen.min_x), seen.max_x) for x in (x0, x1))
    y0, y1 = (min(max(y, seen.min_y), seen.max_y) for y in (y0, y1))
    named = f"{text} from the {subject.names[side]}"
    to_cut = not ruler.to_middle and not ruler.start
    runs_out = side not in subject.registration.edges and not ruler.start
    for words in (*([named] if runs_out else ()), *([f"{text} {TO_CUT}"] if to_cut else ()), text):
        for height in (FIGURE, _LEAST_FIGURE, sizes.BODY) if words is named else (FIGURE, _LEAST_FIGURE):
            for part in STATIONS:
                x, y = x0 + part * (x1 - x0), y0 + part * (y1 - y0)
                if words is text and to_cut and not runs_out:
                    yield _on_both_sides(x, y, side.axis == "across", text, height)
                yield from ((one,) for one in _beside(x, y, side.axis == "across", words, height))
    if ruler.start:
        yield from _off_the_line((x0 + x1) / 2, (y0 + y1) / 2, side.axis == "across", f"{text} {APART}")
        return
    far = 1.0 if x1 + y1 > x0 + y0 else -1.0
    size = _LEAST_FIGURE
    for gap in range(4, 60, 2):
        # Next to its arrow the figure alone is plain; further off it needs to say what it is.
        words = text if gap <= _PLAIN_FIGURE else named
        if side.axis == "across":
            anchor: WordsAnchor = "start" if far > 0 else "end"
            yield (Words(words, Point(x1 + far * gap, y1 + BESIDE), size, anchor, bold=True),)
            yield (Words(words, Point(x1 + far * gap, y1 - BESIDE - size), size, anchor, bold=True),)
        else:
            base = y1 + far * gap - (0.0 if far > 0 else size)
            yield (Words(words, Point(x1 + BESIDE, base), size, "start", bold=True),)
            yield (Words(words, Point(x1 - BESIDE, base), size, "end", bold=True),)


def _off_the_line(x: float, y: float, level: bool, text: str) -> Iterator[Sequence[Words[Tile]]]:
    """Beside a line whose figure has no room on it, because two covers leave none: from near to far."""
    size = _LEAST_FIGURE
    for gap in range(4, _FAR_FIGURE, 2):
        if level:
            yield (Words(text, Point(x, y + gap), size, "middle", bold=True),)
            yield (Words(text, Point(x, y - gap - size), size, "middle", bold=True),)
        else:
            yield (Words(text, Point(x - gap, y), size, "middle", bold=True, turn=90.0),)
            yield (Words(text, Point(x + gap + size, y), size, "middle", bold=True, turn=90.0),)


def _on_both_sides(x: float, y: float, level: bool, text: str, height: float) -> Sequence[Words[Tile]]:
    """The figure over its line, and under it that it goes to a cut: it is not taken for one to a middle."""
    figure = next(_beside(x, y, level, text, height))
    *_, under = _beside(x, y, level, TO_CUT, sizes.LEAST)
    return figure, under


def _beside(x: float, y: float, level: bool, text: str, height: float) -> Iterator[Words[Tile]]:
    if level:
        yield Words(text, Point(x, y + BESIDE), height, "middle", bold=True)
        yield Words(text, Point(x, y - BESIDE - height), height, "middle", bold=True)
    else:
        yield Words(text, Point(x - BESIDE, y), height, "middle", bold=True, turn=90.0)
        yield Words(text, Point(x + BESIDE + height, y), height, "middle", bold=True, turn=90.0)
