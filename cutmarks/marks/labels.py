"""The words and rulers of a template, each put where it covers no line that is cut and no other words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.frames import Point, Tile
from cutmarks.geometry.regions import contains
from cutmarks.marks.clip import clipped
from cutmarks.marks.lettering import width
from cutmarks.marks.measures import Measure, measure_from, open_sides, shown, size_words
from cutmarks.marks.model import Anchor, Filled, Mark, Role, Stroke, Words, line, solid
from cutmarks.marks.room import Room
from cutmarks.marks.template import Subject, side_line, tape_at, trimmed_edges
from cutmarks.openings.model import Cut
from cutmarks.registering.register import axis_of, centre_from
from cutmarks.setout.model import Side

FIGURE = 4.0
NAME = 3.2
SMALL = 2.2
_CLEAR = 0.8
"""Between words and any line."""
_OFF = 1.4
"""Between a ruler and its figure."""
_HEAD, _HALF_HEAD = 3.0, 0.8
"""An arrow head's length and half its width."""
_STATIONS = (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.12, 0.88)


def rulers(subject: Subject, room: Room[Tile]) -> Iterator[Mark[Tile]]:
    """The measures from the edges on the paper to each cut, each along its own axis, with its figure."""
    if subject.stopped:
        return
    drawn: list[tuple[Measure, float, float, str]] = []
    for cut in subject.cuts:
        for side in subject.registration.edges:
            for measure in measure_from(cut, subject.piece, side):
                drawn += _places(subject, cut, measure)
    for measure, value, level, _ in drawn:
        marks = list(_ruler(subject, measure.side, value, level))
        room.take(marks)
        yield from marks
    for measure, value, level, text in drawn:
        words = room.place(_figure_places(subject, measure.side, value, level, text), _CLEAR)
        if words is not None:
            yield words


def _places(subject: Subject, cut: Cut, measure: Measure) -> list[tuple[Measure, float, float, str]]:
    """For each value of a measure: where its ruler runs (the level on the other axis) and its figure."""
    across = axis_of(measure.side) == "across"
    box = cut.share.bounds
    low, high = (box.min_y, box.max_y) if across else (box.min_x, box.max_x)
    level = cut.centre.y if across else cut.centre.x
    if not low < level < high:
        level = (low + high) / 2
    step = min((high - low) / 4, 8.0)
    if cut.kind == "corner notch":
        level = _beside_open_edge(subject, cut, across)
    result = []
    for index, value in enumerate(measure.values):
        text, _ = shown(value, measure.side, subject.piece, subject.style)
        result.append((measure, value, level - index * step, text))
    return result


def _beside_open_edge(subject: Subject, cut: Cut, across: bool) -> float:
    """The level of a corner notch's ruler: just inside the tile, along the edge that the notch crosses."""
    tile = subject.piece.piece.tile
    is_open = open_sides(cut, subject.piece)
    inside = 3.0
    if across:
        return inside if "bottom" in is_open else tile.h - inside
    return inside if "left" in is_open else tile.w - inside


def _ruler(subject: Subject, side: Side, value: float, level: float) -> Iterator[Stroke[Tile] | Filled[Tile]]:
    (x0, y0), (x1, y1) = _ends(subject, side, value, level)
    if abs(x1 - x0) + abs(y1 - y0) == 0.0:
        return
    yield line(x0, y0, x1, y1, Role.MEASURE)
    long = abs(x1 - x0) + abs(y1 - y0)
    ux, uy = (x1 - x0) / long, (y1 - y0) / long
    head = min(_HEAD, long / 3)
    for x, y, way in ((x0, y0, 1.0), (x1, y1, -1.0)):
        back_x, back_y = x + way * head * ux, y + way * head * uy
        half = _HALF_HEAD * head / _HEAD
        yield solid(((x, y), (back_x - half * uy, back_y + half * ux), (back_x + half * uy, back_y - half * ux)))


def _ends(subject: Subject, side: Side, value: float, level: float) -> tuple[tuple[float, float], tuple[float, float]]:
    w, h = subject.piece.piece.tile.w, subject.piece.piece.tile.h
    match side:
        case "left":
            return (0.0, level), (value, level)
        case "right":
            return (w, level), (w - value, level)
        case "bottom":
            return (level, 0.0), (level, value)
        case "top":
            return (level, h), (level, h - value)


def _figure_places(subject: Subject, side: Side, value: float, level: float, text: str) -> Iterator[Words[Tile]]:
    (x0, y0), (x1, y1) = _ends(subject, side, value, level)
    for height in (FIGURE, FIGURE * 0.75):
        for part in _STATIONS:
            x, y = x0 + part * (x1 - x0), y0 + part * (y1 - y0)
            yield from _beside(x, y, axis_of(side) == "across", text, height)
    far = 1.0 if x1 + y1 > x0 + y0 else -1.0
    full = f"{text} from the {subject.names[side]}"
    for gap in range(4, 60, 2):
        for words in (full, text):
            if axis_of(side) == "across":
                anchor: Anchor = "start" if far > 0 else "end"
                yield Words(words, Point(x1 + far * gap, y1 + _OFF), FIGURE * 0.75, anchor, bold=True)
                yield Words(words, Point(x1 + far * gap, y1 - _OFF - FIGURE * 0.75), FIGURE * 0.75, anchor, bold=True)
            else:
                base = y1 + far * gap - (0.0 if far > 0 else FIGURE * 0.75)
                yield Words(words, Point(x1 + _OFF, base), FIGURE * 0.75, "start", bold=True)
                yield Words(words, Point(x1 - _OFF, base), FIGURE * 0.75, "end", bold=True)


def _beside(x: float, y: float, level: bool, text: str, height: float) -> Iterator[Words[Tile]]:
    if level:
        yield Words(text, Point(x, y + _OFF), height, "middle", bold=True)
        yield Words(text, Point(x, y - _OFF - height), height, "middle", bold=True)
    else:
        yield Words(text, Point(x - _OFF, y), height, "middle", bold=True, turn=90.0)
        yield Words(text, Point(x + _OFF + height, y), height, "middle", bold=True, turn=90.0)


def names(subject: Subject, room: Room[Tile], cover_said: tuple[str, str]) -> Iterator[Mark[Tile]]:
    """What each line is: the edges to line up on, the cuts by name, covers, saw cuts, lines to tape to.

    `cover_said` is what hides a round opening and what hides a box, in the job's words.
    """
    places: list[Iterable[Words[Tile]]] = [_edge_places(subject, side) for side in subject.registration.edges]
    for cut in subject.cuts:
        places.append(_cut_places(cut, cut.opening.name, NAME, bold=True))
        places.append(_cut_places(cut, size_words(cut, subject.style), SMALL, bold=False))
        if cut.opening.cover is not None:
            said = cover_said[0] if cut.opening.cover.round else cover_said[1]
            places.append(_cover_places(cut, f"{said} \u2013 do not cut"))
    places += [_saw_places(start, end) for start, end in saw_lines(subject)]
    for candidates in places:
        words = room.place(candidates, _CLEAR)
        if words is not None:
            yield words


def tape_words(subject: Subject, room: Room[Tile]) -> Iterator[Mark[Tile]]:
    """Beside each line to tape to: how far it is from which edge."""
    for side in subject.registration.tape:
        yield from room.place_group(_tape_places(subject, side), _CLEAR)


def _edge_places(subject: Subject, side: Side) -> Iterator[Words[Tile]]:
    """Along the edge, outside the tile where there is room, else inside."""
    text = f"LINE UP: {subject.names[side]}"
    x0, y0, x1, y1 = side_line(subject.piece, side)
    view = subject.view
    x0, x1 = max(x0, view.min_x), min(x1, view.max_x)
    y0, y1 = max(y0, view.min_y), min(y1, view.max_y)
    outward = 1.0 if side in ("right", "top") else -1.0
    for height in (2.8, SMALL):
        for off in (2.2, 3.4, -2.2, -6.5):
            for part in _STATIONS:
                x, y = x0 + part * (x1 - x0), y0 + part * (y1 - y0)
                low = outward * off if outward * off > 0 else outward * off - height
                if axis_of(side) == "across":
                    base = x + low + height
                    yield Words(text, Point(base, y), height, "middle", bold=True, turn=90.0)
                else:
                    yield Words(text, Point(x, y + low), height, "middle", bold=True)


def _tape_places(subject: Subject, side: Side) -> Iterator[list[Words[Tile]]]:
    """Three short lines along the line, on either side of it, from its ends inward."""
    at = tape_at(subject)
    across = axis_of(side) == "across"
    value = centre_from(subject.cuts[0], side)
    figure, _ = shown(value, side, subject.piece, subject.style)
    view = subject.view
    low, high = (view.min_y, view.max_y) if across else (view.min_x, view.max_x)
    for height in (NAME, SMALL):
        rows = ((f"TAPE {figure}", FIGURE), (f"from the {subject.names[side]}", height), ("to this line", height))
        deep = sum(size * 1.6 for _, size in rows)
        long = max(width(text, size, bold=True) for text, size in rows)
        room = high - low - (deep if across else long) - 4.0
        for step in range(0, int(room / 4.0)):
            for start in (low + 2.0 + 2.0 * step, high - 2.0 - 2.0 * step - (deep if across else long)):
                for side_of in (1.0, -1.0):
                    yield _tape_block(rows, at, start, across, side_of, deep)


def _tape_block(
    rows: Sequence[tuple[str, float]], at: Point[Tile], start: float, across: bool, side_of: float, deep: float
) -> list[Words[Tile]]:
    """The rows beside the line through `at`: to its right or left (a plumb line), above or below it (a level one)."""
    words: list[Words[Tile]] = []
    y = start + deep if across else at.y + (_OFF + deep if side_of > 0 else -_OFF)
    for text, size in rows:
        if across:
            anchor: Anchor = "start" if side_of > 0 else "end"
            words.append(Words(text, Point(at.x + side_of * _OFF * 1.4, y - size), size, anchor, bold=True))
        else:
            words.append(Words(text, Point(start, y - size), size, "start", bold=True))
        y -= size * 1.6
    return words


def _cut_places(cut: Cut, text: str, height: float, bold: bool) -> Iterator[Words[Tile]]:
    """Inside the cut, beside its cross, where the words fit; else round about it, from near to far."""
    box = cut.share.bounds
    x, y = cut.centre.x, cut.centre.y
    middle_x, middle_y = (box.min_x + box.max_x) / 2, (box.min_y + box.max_y) / 2
    long = width(text, height, bold)
    corners = ((box.min_x, box.min_y), (box.min_x, box.max_y), (box.max_x, box.min_y), (box.max_x, box.max_y))
    if _inside_fits(cut, long):
        for down in range(0, int(box.height), 2):
            for base in (y + 1.6 + down, y - 1.6 - height - down):
                for left in (x + 1.6, x - 1.6 - long, middle_x - long / 2):
                    inside = Bounds(left, base, left + long, base + height)
                    if _in_share(cut, inside):
                        yield Words(text, Point(left, base), height, "start", bold)
    for gap in range(2, 120, 2):
        yield Words(text, Point(middle_x, box.max_y + gap), height, "middle", bold)
        for corner_x, corner_y in corners:
            anchor: Anchor = "end" if corner_x < middle_x else "start"
            out = -gap if corner_x < middle_x else gap
            for base in (corner_y - height if corner_y > middle_y else corner_y, corner_y):
                yield Words(text, Point(corner_x + out, base), height, anchor, bold)
        yield Words(text, Point(middle_x, box.min_y - gap - height), height, "middle", bold)


def _inside_fits(cut: Cut, long: float) -> bool:
    return long < cut.share.bounds.width


def _in_share(cut: Cut, box: Bounds) -> bool:
    corners = ((box.min_x, box.min_y), (box.max_x, box.min_y), (box.max_x, box.max_y), (box.min_x, box.max_y))
    return all(contains(cut.share, Point(x, y)) for x, y in corners)


def _cover_places(cut: Cut, text: str) -> Iterator[Words[Tile]]:
    """Between the cut and the cover's line where there is room, else outside it."""
    cover = cut.opening.cover
    if cover is None:
        return
    x, y = cut.centre.x, cut.centre.y
    half_w, half_h = cover.w / 2, cover.h / 2
    for height in (SMALL, 1.8):
        for down in range(2, 30):
            yield Words(text, Point(x, y + half_h - down - height), height, "middle")
            yield Words(text, Point(x, y - half_h + down), height, "middle")
            yield Words(text, Point(x - half_w + down + height, y), height, "middle", turn=90.0)
            yield Words(text, Point(x + half_w - down, y), height, "middle", turn=90.0)
        for up in range(2, 60, 2):
            for base in (y + half_h + up, y - half_h - up - height):
                for part in (0.0, -0.5, 0.5, -1.0, 1.0):
                    yield Words(text, Point(x + part * cover.w, base), height, "middle")


def saw_lines(subject: Subject) -> Iterator[tuple[tuple[float, float], tuple[float, float]]]:
    """The straight cuts of trimming that are on the paper, end to end."""
    view = subject.view
    for edge in trimmed_edges(subject.piece):
        stroke: Stroke[Tile] = line(edge[0], edge[1], edge[2], edge[3], Role.CUT)
        for part in clipped(stroke, view):
            yield (part.path[0].x, part.path[0].y), (part.path[-1].x, part.path[-1].y)


def _saw_places(start: tuple[float, float], end: tuple[float, float]) -> Iterator[Words[Tile]]:
    (x0, y0), (x1, y1) = start, end
    level = abs(x1 - x0) >= abs(y1 - y0)
    text = "saw cut, after the holes"
    for height in (SMALL, 1.8):
        for off in range(2, 12, 2):
            for part in _STATIONS:
                x, y = x0 + part * (x1 - x0), y0 + part * (y1 - y0)
                for sign in (1.0, -1.0):
                    if level:
                        base = y + off if sign > 0 else y - off - height
                        yield Words(text, Point(x, base), height, "middle")
                    else:
                        base = x + off + height if sign > 0 else x - off
                        yield Words(text, Point(base, y), height, "middle", turn=90.0)
