"""The words of a template, each put where it covers no line that is cut and no other words."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence

from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.frames import Point, Tile
from cutmarks.geometry.regions import contains
from cutmarks.geometry.rings import Vertex
from cutmarks.marks import sizes
from cutmarks.marks.clip import clipped
from cutmarks.marks.frames import frame_words, frames_above
from cutmarks.marks.lettering import width
from cutmarks.marks.model import Mark, Role, Stroke, Words, WordsAnchor, line, solid
from cutmarks.marks.room import Room
from cutmarks.marks.rulers import CLEAR_OF_LINES, STATIONS, broken_edge
from cutmarks.marks.template import Subject, is_clear_of_cover, side_line, trimmed_edges
from cutmarks.marks.ticks import TICKS_LONG, TickSet, far_ticks
from cutmarks.openings.corners import InsideCorner
from cutmarks.openings.model import Cover, Cut
from cutmarks.saying.corners import corner_name
from cutmarks.saying.found_more import MEASURE
from cutmarks.saying.measures import is_bite, shown, size_words
from cutmarks.sides import ON_AXIS, Side

NAME = sizes.capitals(12.0)
SMALL = sizes.LEAST
LINE_UP = "LINE UP"
KEEP_CLEAR = "dotted: no tile (screws)"
SAW_CUT, SAW_CUT_ALONE, NOTCH_END = "saw cut, after the holes", "saw cut", "end of the notch"
THIS_GOES = "this goes"
CLIPPED = "CLIPPED: larger than the paper"
FOLD = 2.2
"""Half of the fold sign, mm."""
_FOLD_IN = 3.2
"""Its middle lies so far in from the end of the line."""
_BESIDE_EDGE, _TWO_BESIDE = 2.0, 1.4
"""Between an edge's line and its name, in one row and in two."""
_END_STEP = 3.0
"""How finely a place for an edge's name is looked for, from its end inward, mm."""
_FROM_BORDER = 2.0
"""How far from the border of the drawing a cut is taken to end that runs on past it, mm."""
_SAME_PLACE = 0.05
"""Two ends of lines that are nearer to each other are one place, mm."""
_INSIDE_COVER = 0.7
"""Words that stand along a cover's side no further from its middle than this share of half its width are inside it."""
_ROWS_APART = 1.5
"""From one row to the next, in heights of its letters."""


def names(subject: Subject, room: Room[Tile], cover_said: tuple[str, str]) -> Iterator[Mark[Tile]]:
    """What each line is: the cuts by name and size, covers, frames above, saw cuts.

    `cover_said` is what hides a round opening and what hides a box, in the job's words.
    """
    places: list[Iterable[Words[Tile]]] = []
    several = len(subject.cuts) > 1
    for cut in subject.cuts:
        if not cut.share.bounds.overlaps(subject.view):
            continue
        # Of two, words that find room only beside a cut say whose they are.
        whose, of = (f"{cut.opening.name}: ", f" of {cut.opening.name}") if several else ("", "")
        size = size_words(cut, subject.piece, subject.style)
        if is_bite(cut):
            # At the end of a measure along the edge the core's size was read as that of what begins there.
            named = f"{cut.opening.name}: {size}"
            places.append(_cut_places(cut, subject.view, named, NAME, bold=True))
        else:
            places.append(_cut_places(cut, subject.view, cut.opening.name, NAME, bold=True))
            places.append(_cut_places(cut, subject.view, size, SMALL, bold=False, outside=f"{whose}{size}"))
        if subject.registration.how != "joined" and not cut.share.bounds.within(subject.view):
            places.append(_cut_places(cut, subject.view, CLIPPED, SMALL, bold=True, outside=f"{whose}{CLIPPED}"))
        if cut.opening.cover is not None and (_in_view(cut, subject.view) or subject.registration.how != "joined"):
            said = cover_said[0] if cut.opening.cover.round else cover_said[1]
            places.append(_cover_places(cut, cut.opening.cover, subject.view, (said, of, " \u2013 do not cut")))
        if cut.opening.keep_clear is not None and is_clear_of_cover(cut) and _in_view(cut, subject.view):
            places.append(_cut_places(cut, subject.view, KEEP_CLEAR, SMALL, bold=False, outside=f"{whose}{KEEP_CLEAR}"))
    places += [
        frame_words(ring, subject.view)
        for ring in frames_above(subject.plan, subject.piece)
        if ring.bounds.overlaps(subject.view)
    ]
    if subject.corners:
        goes = (one for corner in subject.corners for one in _goes_places(corner))
        places.append(goes)
    for corner in subject.corners:
        name = corner_name(subject.piece, corner)
        if name:
            places.append(_corner_places(corner, name.rpartition(" ")[2]))
    if subject.waits != "trimming":
        said = SAW_CUT if any(cut.kind == "hole" for cut in subject.piece.cuts) else SAW_CUT_ALONE
        places += [
            _saw_places(start, end, NOTCH_END if _is_between_corners(subject, start, end) else said)
            for start, end in saw_lines(subject)
        ]
    for candidates in places:
        words = room.place(candidates, CLEAR_OF_LINES)
        if words is not None:
            yield words


def _in_view(cut: Cut, view: Bounds) -> bool:
    """Whether the middle of the cover is on this sheet: of joined ones the others have no room near it."""
    return Bounds(cut.centre.x, cut.centre.y, cut.centre.x, cut.centre.y).within(view)


def line_up_words(name: str) -> str:
    """What stands at an edge that the sheet is lined up on."""
    return f"{LINE_UP}: {name}"


def fold_signs(subject: Subject) -> Iterator[Mark[Tile]]:
    """At the ends of each edge that the paper is folded back along: a square on its corner, its outer half black.

    None stands at the tile's own corner, where two edges meet.
    """
    for side in subject.edges:
        low, high = _visible(subject, side)
        if high - low < 4 * _FOLD_IN:
            continue
        tile = subject.piece.piece.tile.box
        corners = [tile.at(one) for one in subject.edges if one.axis != side.axis]
        for at in (low + _FOLD_IN, high - _FOLD_IN):
            if any(abs(at - corner) < 2 * _FOLD_IN for corner in corners):
                continue  # both edges' signs would lie on one another
            inner, outer = (
                [_on_edge(subject, side, at + along * FOLD, off * FOLD) for along, off in ((-1, 0), (0, way), (1, 0))]
                for way in (-side.sign, side.sign)
            )
            yield Stroke(tuple(Vertex(x, y) for x, y in inner), Role.MEASURE)
            yield solid(outer)


def edge_words(subject: Subject, room: Room[Tile], near: Mapping[Side, TickSet]) -> Iterator[Mark[Tile]]:
    """At both ends of each edge on the paper: that the sheet is lined up on it, and its name; a second set of ticks.

    The first sets, `near`, stand already. The name has what they leave, in one row or in two; on an edge that is too
    short for both it stands once, or not at all: FOLD says it in any case.
    """
    for side in subject.edges:
        found: Sequence[Words[Tile]] = ()
        for height, texts in _settings(subject, side):
            found = room.place_group(_edge_places(subject, side, texts, height, far=False), CLEAR_OF_LINES)
            if found:
                break
        yield from found
        if side in near:
            yield from far_ticks(subject, room, side, near[side])
        if found:
            yield from room.place_group(_edge_places(subject, side, texts, height, far=True), CLEAR_OF_LINES)


def _settings(subject: Subject, side: Side) -> list[tuple[float, tuple[str, ...]]]:
    """The heights and the rows that an edge's name is tried in; those that leave room for both sets of ticks first.

    The last are without what the edge points at.
    """
    low, high = _visible(subject, side)
    name = subject.names[side]
    rows = (line_up_words(name),), (f"{LINE_UP}:", name)

    def is_crowded(setting: tuple[float, tuple[str, ...]]) -> bool:
        height, texts = setting
        return 2 * (max(width(text, height, bold=True) for text in texts) + TICKS_LONG) > high - low

    one, two = rows
    # Two rows of the larger words have room inside the tile alone, at one end.
    whole = sorted([(sizes.BODY, one), (SMALL, one), (SMALL, two), (sizes.BODY, two)], key=is_crowded)
    plain = subject.plainly(side)
    return whole if plain == name else [*whole, (SMALL, (line_up_words(plain),)), (SMALL, (f"{LINE_UP}:", plain))]


def _visible(subject: Subject, side: Side) -> tuple[float, float]:
    """From where to where along its axis an edge of the tile is on the paper."""
    x0, y0, x1, y1 = side_line(subject.piece, side)
    view = subject.view
    if side.axis == "across":
        return max(y0, view.min_y), min(y1, view.max_y)
    return max(x0, view.min_x), min(x1, view.max_x)


def _on_edge(subject: Subject, side: Side, along: float, off: float) -> tuple[float, float]:
    """A place `along` an edge, `off` to the right of it, or above it."""
    at = subject.piece.piece.tile.box.at(side)
    return (at + off, along) if side.axis == "across" else (along, at + off)


def tape_sentences(subject: Subject) -> Iterator[str]:
    """What is marked by tape, and from where, for the panel."""
    for side, figure in taped(subject):
        yield f"{MEASURE} {figure} {from_edge(subject, side)}"


def taped(subject: Subject) -> Iterator[tuple[Side, str]]:
    """The edges that the tape is held to, with its figure; none where nothing is to be marked."""
    if subject.stopped:
        return
    for side, at in zip(subject.registration.tape, subject.registration.lines, strict=True):
        yield side, shown(at, side, subject.piece, subject.style)[0]


def from_edge(subject: Subject, side: Side) -> str:
    """From which edge, in words."""
    return f"from the {subject.names[side]}"


def _edge_places(
    subject: Subject, side: Side, texts: Sequence[str], height: float, *, far: bool
) -> Iterator[list[Words[Tile]]]:
    """Rows of words along the edge from one of its ends inward: outside the tile where there is room, else inside."""
    low, high = _visible(subject, side)
    long = max(width(text, height, bold=True) for text in texts)
    step = height * _ROWS_APART
    deep = height + (len(texts) - 1) * step
    beside = _BESIDE_EDGE if len(texts) == 1 else _TWO_BESIDE
    for off in (beside,) if far else (beside, -_BESIDE_EDGE - deep):
        base = off if side.sign > 0 else -off - deep
        for number in range(int((high - low - long) / _END_STEP)):
            middle = (high - number * _END_STEP if far else low + number * _END_STEP) + (-long if far else long) / 2
            x, y = _on_edge(subject, side, middle, 0.0)
            yield _edge_rows(texts, x, y, base, height, upright=side.axis == "across")


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


def _cut_places(
    cut: Cut, view: Bounds, text: str, height: float, bold: bool, outside: str = ""
) -> Iterator[Words[Tile]]:
    """Inside the cut, beside its cross, where the words fit; else round about it, from near to far.

    Of a cut that is not wholly on the sheet, inside and round about what is on it. `outside` is what stands there where
    that is more.
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
    text = outside or text
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


def _cover_places(cut: Cut, cover: Cover, view: Bounds, parts: tuple[str, str, str]) -> Iterator[Words[Tile]]:
    """Between the cut and the cover's line where there is room, else outside it; along what of it is on the sheet.

    `parts` are what it is, whose it is, which is said outside it alone, and what is not to be done.
    """
    x, y = cut.centre.x, cut.centre.y
    half_w, half_h = cover.w / 2, cover.h / 2
    # Of a cover whose middle is off the sheet, or over the next tile, the middle of what is to be seen.
    along = (max(x - half_w, view.min_x) + min(x + half_w, view.max_x)) / 2
    beside = (max(y - half_h, view.min_y) + min(y + half_h, view.max_y)) / 2
    height = SMALL
    text = f"{parts[0]}{parts[2]}"
    most_x, most_y = (_INSIDE_COVER * half - width(text, height) / 2 for half in (half_w, half_h))
    # In the middle of a side a measure may run: then further along it, where that lies well inside.
    for off in (0.0, 20.0, -20.0, 30.0, -30.0, 40.0, -40.0):
        is_level, is_upright = (
            not off or abs(at + off) <= most for at, most in ((along - x, most_x), (beside - y, most_y))
        )
        for down in range(2, 30):
            if is_level:
                yield Words(text, Point(along + off, y + half_h - down - height), height, "middle")
                yield Words(text, Point(along + off, y - half_h + down), height, "middle")
            if is_upright:
                yield Words(text, Point(x - half_w + down + height, beside + off), height, "middle", turn=90.0)
                yield Words(text, Point(x + half_w - down, beside + off), height, "middle", turn=90.0)
    text = "".join(parts)
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


def _is_between_corners(subject: Subject, start: tuple[float, float], end: tuple[float, float]) -> bool:
    """Whether no saw comes in along a line from an edge: it leads from one inside corner to another."""
    corners = [(corner.centre.x, corner.centre.y) for corner in subject.piece.corners]
    return all(any(math.dist(at, corner) < _SAME_PLACE for corner in corners) for at in (start, end))


def saw_breaks(subject: Subject) -> Iterator[Mark[Tile]]:
    """Where a saw cut goes on past the end of the drawing: the tile's edge there, broken, as a measure has it.

    A line that just ends would be taken to end at the tile's edge. Of joined sheets the next has the rest.
    """
    if subject.waits is not None or subject.registration.how == "joined":
        return
    view, tile = subject.view, subject.piece.piece.tile.box
    for start, end in saw_lines(subject):
        is_level = abs(start[0] - end[0]) > abs(start[1] - end[1])
        for x, y in (start, end):
            for side in ON_AXIS["across" if is_level else "up"]:
                at, level = (x, y) if is_level else (y, x)
                goes_on = (tile.at(side) - view.at(side)) * side.sign > FOLD
                if goes_on and abs(at - view.at(side)) < _SAME_PLACE:
                    yield from broken_edge(subject, side, level)


def _goes_places(corner: InsideCorner) -> Iterator[Words[Tile]]:
    """In what goes, between both saw cuts of a corner, from near to far: level, or else upright."""
    x, y = corner.centre.x, corner.centre.y
    way_x, way_y = corner.goes
    for far in range(3, 120, 3):
        for near in (3.0, 8.0, 14.0, 22.0, 32.0):
            for off_x, off_y in ((near, far), (far, near)):
                base = y + way_y * off_y - (0.0 if way_y > 0 else NAME)
                anchor: WordsAnchor = "start" if way_x > 0 else "end"
                if _is_between(corner, off_x + width(THIS_GOES, NAME, bold=True), off_y + NAME):
                    yield Words(THIS_GOES, Point(x + way_x * off_x, base), NAME, anchor, bold=True)
                base = x + way_x * off_x + (NAME if way_x > 0 else 0.0)
                anchor = "start" if way_y > 0 else "end"
                if _is_between(corner, off_x + NAME, off_y + width(THIS_GOES, NAME, bold=True)):
                    yield Words(THIS_GOES, Point(base, y + way_y * off_y), NAME, anchor, bold=True, turn=90.0)


def _is_between(corner: InsideCorner, wide: float, high: float) -> bool:
    """Whether so much lies beside both saw cuts of a corner, and not past the end of one."""
    return wide <= max(abs(dx) for dx, _ in corner.arms) and high <= max(abs(dy) for _, dy in corner.arms)


def _corner_places(corner: InsideCorner, text: str) -> Iterator[Words[Tile]]:
    """Beside an inside corner, first across from what goes, from near to far."""
    x, y = corner.centre.x, corner.centre.y
    way_x, way_y = corner.goes
    across = (-way_x, -way_y)
    for ways in ((across,), ((way_x, -way_y), (-way_x, way_y)), (across, (way_x, way_y))):
        for far, (sign_x, sign_y) in ((far, way) for far in range(3, 40, 3) for way in ways):
            anchor: WordsAnchor = "start" if sign_x > 0 else "end"
            for off_x, off_y in ((3.0, far), (far, 3.0)):
                base = y + sign_y * off_y - (0.0 if sign_y > 0 else NAME)
                yield Words(text, Point(x + sign_x * off_x, base), NAME, anchor, bold=True)


def _saw_places(start: tuple[float, float], end: tuple[float, float], text: str) -> Iterator[Words[Tile]]:
    (x0, y0), (x1, y1) = start, end
    level = abs(x1 - x0) >= abs(y1 - y0)
    height = SMALL
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
