"""The words of a template, each put where it covers no line that is cut and no other words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.frames import Point, Tile
from cutmarks.geometry.regions import contains
from cutmarks.marks.clip import clipped
from cutmarks.marks.frames import frame_words, frames_above
from cutmarks.marks.lettering import width
from cutmarks.marks.model import Mark, Role, Stroke, Words, WordsAnchor, line
from cutmarks.marks.room import Room
from cutmarks.marks.rulers import BESIDE, CLEAR_OF_LINES, FIGURE, STATIONS
from cutmarks.marks.template import Subject, side_line, tape_at, trimmed_edges
from cutmarks.openings.model import Cover, Cut
from cutmarks.saying.measures import shown, size_words
from cutmarks.sides import Side

NAME = 3.2
SMALL = 2.2
LINE_UP = "LINE UP"
KEEP_CLEAR = "dotted: no tile (screws)"
CLIPPED = "CLIPPED: larger than the paper"
_FROM_BORDER = 2.0
"""How far from the border of the drawing a cut is taken to end that runs on past it, mm."""
_ROWS_APART = 1.5
"""From one row to the next, in heights of its letters."""
_EDGE_STATIONS = (*STATIONS, *(step / 40 for step in range(2, 39)))


def names(subject: Subject, room: Room[Tile], cover_said: tuple[str, str]) -> Iterator[Mark[Tile]]:
    """What each line is: the cuts by name and size, covers, frames above, saw cuts.

    `cover_said` is what hides a round opening and what hides a box, in the job's words.
    """
    places: list[Iterable[Words[Tile]]] = []
    for cut in subject.cuts:
        if not cut.share.bounds.overlaps(subject.view):
            continue
        places.append(_cut_places(cut, subject.view, cut.opening.name, NAME, bold=True))
        places.append(_cut_places(cut, subject.view, size_words(cut, subject.piece, subject.style), SMALL, bold=False))
        if subject.registration.how != "joined" and not cut.share.bounds.within(subject.view):
            places.append(_cut_places(cut, subject.view, CLIPPED, SMALL, bold=True))
        if cut.opening.cover is not None and (_in_view(cut, subject.view) or subject.registration.how != "joined"):
            said = cover_said[0] if cut.opening.cover.round else cover_said[1]
            places.append(_cover_places(cut, cut.opening.cover, subject.view, f"{said} \u2013 do not cut"))
        if cut.opening.keep_clear is not None and _in_view(cut, subject.view):
            places.append(_cut_places(cut, subject.view, KEEP_CLEAR, SMALL, bold=False))
    places += [
        frame_words(ring, subject.view)
        for ring in frames_above(subject.plan, subject.piece)
        if ring.bounds.overlaps(subject.view)
    ]
    if subject.waits != "trimming":
        places += [_saw_places(start, end) for start, end in saw_lines(subject)]
    for candidates in places:
        words = room.place(candidates, CLEAR_OF_LINES)
        if words is not None:
            yield words


def _in_view(cut: Cut, view: Bounds) -> bool:
    """Whether the middle of the cover is on this sheet: of joined ones the others have no room near it."""
    return Bounds(cut.centre.x, cut.centre.y, cut.centre.x, cut.centre.y).within(view)


def edge_words(subject: Subject, room: Room[Tile]) -> Iterator[Mark[Tile]]:
    """At each edge on the paper: that the sheet is lined up on it, and its name; in one row or in two.

    Where neither has room at least the first: `unsaid` then has the name for the panel.
    """
    for side in subject.edges:
        rows = (f"{LINE_UP}: {subject.names[side]}",), (f"{LINE_UP}:", subject.names[side]), (LINE_UP,)
        for texts in rows:
            words = room.place_group(_edge_places(subject, side, texts), CLEAR_OF_LINES)
            if words:
                yield from words
                break


def unsaid(subject: Subject, marks: Iterable[Mark[Tile]]) -> tuple[str, ...]:
    """What is needed to lay the sheet on the tile and found no room in its drawing: the panel has to say it."""
    said = {mark.text for mark in marks if isinstance(mark, Words)}
    found = []
    for side in subject.edges:
        name = subject.names[side]
        if not said.intersection((f"{LINE_UP}: {name}", name)):
            found.append(f"{LINE_UP}: {name}")
    for side, figure in _taped(subject):
        if not said.issuperset((figure, _from_edge(subject, side))):
            way = "upright" if side.axis == "across" else "level"
            found.append(f"{figure} {_from_edge(subject, side)} to the {way} chain line")
    return tuple(found)


def _taped(subject: Subject) -> Iterator[tuple[Side, str]]:
    """The edges that the tape is held to, with the words of its figure; none where nothing is to be marked."""
    if subject.stopped:
        return
    for side, at in zip(subject.registration.tape, subject.registration.lines, strict=True):
        yield side, f"TAPE {shown(at, side, subject.piece, subject.style)[0]}"


def _from_edge(subject: Subject, side: Side) -> str:
    return f"from the {subject.names[side]}"


def tape_words(subject: Subject, room: Room[Tile]) -> Iterator[Mark[Tile]]:
    """Beside each line to tape to: how far it is from which edge."""
    for side, figure in _taped(subject):
        yield from room.place_group(_tape_places(subject, side, figure), CLEAR_OF_LINES)


def _edge_places(subject: Subject, side: Side, texts: Sequence[str]) -> Iterator[list[Words[Tile]]]:
    """Rows of words along the edge, outside the tile where there is room, else inside; an upright edge's level too."""
    x0, y0, x1, y1 = side_line(subject.piece, side)
    view = subject.view
    x0, x1 = max(x0, view.min_x), min(x1, view.max_x)
    y0, y1 = max(y0, view.min_y), min(y1, view.max_y)
    for height in (2.8, SMALL):
        deep = height + (len(texts) - 1) * height * _ROWS_APART
        for off in (2.2, 3.4, -2.2, -6.5):
            for part in _EDGE_STATIONS:
                x, y = x0 + part * (x1 - x0), y0 + part * (y1 - y0)
                low = side.sign * off if side.sign * off > 0 else side.sign * off - deep
                yield _edge_rows(texts, x, y, low, height, upright=side.axis == "across")
    if side.axis == "across":
        for height in (2.8, SMALL):
            for part in _EDGE_STATIONS:
                y = y0 + part * (y1 - y0) + (len(texts) - 1) * height * _ROWS_APART
                for way in (-side.sign, side.sign):
                    anchor: WordsAnchor = "start" if way > 0 else "end"
                    yield [
                        Words(text, Point(x0 + way * 2.2, y - row * height * _ROWS_APART), height, anchor, bold=True)
                        for row, text in enumerate(texts)
                    ]


def _edge_rows(
    texts: Sequence[str], x: float, y: float, low: float, height: float, *, upright: bool
) -> list[Words[Tile]]:
    """The rows beside a place on an edge, their lower side `low` mm off it: read from below, or from the right."""
    step = height * _ROWS_APART
    if upright:
        return [
            Words(text, Point(x + low + height + row * step, y), height, "middle", bold=True, turn=90.0)
            for row, text in enumerate(texts)
        ]
    high = (len(texts) - 1) * step
    return [
        Words(text, Point(x, y + low + high - row * step), height, "middle", bold=True)
        for row, text in enumerate(texts)
    ]


def _tape_places(subject: Subject, side: Side, figure: str) -> Iterator[list[Words[Tile]]]:
    """Three short lines along the line, on either side of it, from its ends inward."""
    at = tape_at(subject.piece, subject.registration)
    across = side.axis == "across"
    view = subject.view
    low, high = (view.min_y, view.max_y) if across else (view.min_x, view.max_x)
    for height in (NAME, SMALL):
        rows = ((figure, FIGURE), (_from_edge(subject, side), height), ("to this line", height))
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
    y = start + deep if across else at.y + (BESIDE + deep if side_of > 0 else -BESIDE)
    for text, size in rows:
        if across:
            anchor: WordsAnchor = "start" if side_of > 0 else "end"
            words.append(Words(text, Point(at.x + side_of * BESIDE * 1.4, y - size), size, anchor, bold=True))
        else:
            words.append(Words(text, Point(start, y - size), size, "start", bold=True))
        y -= size * 1.6
    return words


def _cut_places(cut: Cut, view: Bounds, text: str, height: float, bold: bool) -> Iterator[Words[Tile]]:
    """Inside the cut, beside its cross, where the words fit; else round about it, from near to far.

    Of a cut that is not wholly on the sheet, inside and round about what is on it.
    """
    whole = cut.share.bounds
    box = Bounds(
        max(whole.min_x, view.min_x + _FROM_BORDER),
        max(whole.min_y, view.min_y + _FROM_BORDER),
        min(whole.max_x, view.max_x - _FROM_BORDER),
        min(whole.max_y, view.max_y - _FROM_BORDER),
    )
    middle_x, middle_y = (box.min_x + box.max_x) / 2, (box.min_y + box.max_y) / 2
    x, y = (cut.centre.x, cut.centre.y) if _in_view(cut, view) else (middle_x, middle_y)
    long = width(text, height, bold)
    corners = ((box.min_x, box.min_y), (box.min_x, box.max_y), (box.max_x, box.min_y), (box.max_x, box.max_y))
    if long < box.width:
        for down in range(0, int(box.height), 2):
            for base in (y + 1.6 + down, y - 1.6 - height - down):
                for left in (x + 1.6, x - 1.6 - long, middle_x - long / 2):
                    inside = Bounds(left, base, left + long, base + height)
                    if _in_share(cut, inside):
                        yield Words(text, Point(left, base), height, "start", bold)
    for gap in range(2, 120, 2):
        yield Words(text, Point(middle_x, box.max_y + gap), height, "middle", bold)
        for corner_x, corner_y in corners:
            anchor: WordsAnchor = "end" if corner_x < middle_x else "start"
            out = -gap if corner_x < middle_x else gap
            for base in (corner_y - height if corner_y > middle_y else corner_y, corner_y):
                yield Words(text, Point(corner_x + out, base), height, anchor, bold)
        yield Words(text, Point(middle_x, box.min_y - gap - height), height, "middle", bold)


def _in_share(cut: Cut, box: Bounds) -> bool:
    corners = ((box.min_x, box.min_y), (box.max_x, box.min_y), (box.max_x, box.max_y), (box.min_x, box.max_y))
    return all(contains(cut.share, Point(x, y)) for x, y in corners)


def _cover_places(cut: Cut, cover: Cover, view: Bounds, text: str) -> Iterator[Words[Tile]]:
    """Between the cut and the cover's line where there is room, else outside it; along what of it is on the sheet."""
    x, y = cut.centre.x, cut.centre.y
    half_w, half_h = cover.w / 2, cover.h / 2
    # Of a cover whose middle is off the sheet, or over the next tile, the middle of what is to be seen.
    along = (max(x - half_w, view.min_x) + min(x + half_w, view.max_x)) / 2
    beside = (max(y - half_h, view.min_y) + min(y + half_h, view.max_y)) / 2
    for height in (SMALL, 1.8):
        for down in range(2, 30):
            yield Words(text, Point(along, y + half_h - down - height), height, "middle")
            yield Words(text, Point(along, y - half_h + down), height, "middle")
            yield Words(text, Point(x - half_w + down + height, beside), height, "middle", turn=90.0)
            yield Words(text, Point(x + half_w - down, beside), height, "middle", turn=90.0)
        for up in range(2, 60, 2):
            for base in (y + half_h + up, y - half_h - up - height):
                for part in (0.0, -0.5, 0.5, -1.0, 1.0):
                    yield Words(text, Point(along + part * cover.w, base), height, "middle")
            for base in (x - half_w - up, x + half_w + up + height):
                yield Words(text, Point(base, beside), height, "middle", turn=90.0)


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
            for part in STATIONS:
                x, y = x0 + part * (x1 - x0), y0 + part * (y1 - y0)
                for sign in (1.0, -1.0):
                    if level:
                        base = y + off if sign > 0 else y - off - height
                        yield Words(text, Point(x, base), height, "middle")
                    else:
                        base = x + off + height if sign > 0 else x - off
                        yield Words(text, Point(base, y), height, "middle", turn=90.0)
