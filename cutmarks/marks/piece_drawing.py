"""A finished piece drawn to fit, for whoever cuts it: every measure from the edges that all is measured from.

In the Page frame, its bottom-left corner at (0, 0); the only drawing besides the elevation that is not full size, and
its page says so. Measures stand outside the piece, each on a line of its own from the place that it measures, those
across along its lower or upper edge, whichever the place is nearer to, those up beside it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from msgspec import Struct

from cutmarks.cutting.model import Cutting
from cutmarks.geometry.edges import XY, Bounds
from cutmarks.geometry.frames import Page, Point
from cutmarks.geometry.regions import contains
from cutmarks.geometry.rings import Vertex, as_circle, edges
from cutmarks.marks import sizes
from cutmarks.marks.lettering import width
from cutmarks.marks.model import CircleMark, Mark, Role, Stroke, Words, WordsAnchor, line, rectangle, solid
from cutmarks.openings.model import CutPiece
from cutmarks.openings.outlines import maker_side
from cutmarks.saying.datum import datum_of
from cutmarks.saying.shop import shop_mm
from cutmarks.sides import SIDES, Side

FIGURE = sizes.LEAST
AROUND = 30.0
"""What the measures take round the piece, mm."""
_FIRST, _LEADER = 6.0, 5.0
"""From the piece to where a leader bends, and from there to its figure, mm."""
_STEP = FIGURE * 1.6
"""From one figure to the next where they stand close."""
_BESIDE, _APART = 2.8, 3.2
"""How far from a corner its number stands each way, and how far apart two numbers are, mm."""
_SAME = 0.05
"""Places that differ by less have one figure."""


def diagonal_of(cutting: Cutting) -> tuple[XY, XY]:
    """The two corners of a piece's outline that are furthest apart: what it is checked by."""
    corners = [(v.x, v.y) for path in cutting.contours if not path.is_inner for v in path.ring.vertices]
    pairs = ((a, b) for number, a in enumerate(corners) for b in corners[number + 1 :])
    return max(pairs, key=lambda pair: math.dist(*pair))


class CornerCheck(Struct, frozen=True):
    """Two corners of a piece between which it is measured, Tile frame; before: as before it is notched."""

    first: XY
    second: XY
    before: bool = False

    @property
    def mm(self) -> float:
        """From the one to the other."""
        return math.dist(self.first, self.second)

    def may_be_out(self, piece: CutPiece, outline: float) -> float:
        """How far the measure may be out where each cut edge may be out by `outline`; 0 between maker's corners, mm.

        No less than that itself: less is not read off a rule.
        """
        box, far = piece.piece.tile.box, self.mm
        makers = [side for side in SIDES if side in piece.factory_edges]
        out = 0.0
        for axis, apart in enumerate((self.second[0] - self.first[0], self.second[1] - self.first[1])):
            own = [box.at(side) for side in makers if (side.axis == "up") == bool(axis)]
            cut = sum(all(abs(end[axis] - at) > _SAME for at in own) for end in (self.first, self.second))
            out += cut * outline * abs(apart) / far
        return max(math.ceil(10.0 * out - _SAME) / 10.0, outline) if out else 0.0


def corner_checks(piece: CutPiece, cutting: Cutting) -> tuple[CornerCheck, ...]:
    """What a piece is checked by: its diagonal, and of a notched one a measure that the notch changes.

    The diagonal of a tile with a notch is that of the whole tile, and would be right with any notch. From where the
    notch begins on an edge to the corner that is furthest, or to where it ends on another edge.
    """
    a, b = diagonal_of(cutting)
    mouths = _mouths(piece, cutting.finished)
    if not mouths:
        return (CornerCheck(a, b),)
    box = cutting.finished
    corners = [(x, y) for x in (box.min_x, box.max_x) for y in (box.min_y, box.max_y)]
    over = [(p, q) for n, p in enumerate(mouths) for q in mouths[n + 1 :] if not _on_one_side(p, q)]
    to_corner = ((mouths[0], max(corners, key=lambda corner: math.dist(corner, mouths[0]))),)
    whole = all(_sides_at(corner, box) == 2 for corner in (a, b))
    return CornerCheck(a, b, before=whole), CornerCheck(*max(over or to_corner, key=lambda pair: math.dist(*pair)))


def _on_one_side(a: XY, b: XY) -> bool:
    return abs(a[0] - b[0]) <= _SAME or abs(a[1] - b[1]) <= _SAME


def _mouths(piece: CutPiece, box: Bounds) -> list[XY]:
    """Where notches run out over its four sides: from there its outline goes inward, or round."""
    found: dict[XY, None] = {}
    for ring in piece.outline.rings:
        for edge in edges(ring) if ring.area > 0.0 else ():
            start, end = (edge.x0, edge.y0), (edge.x1, edge.y1)
            for one, other in ((start, end), (end, start)):
                if _sides_at(one, box) == 1 and (edge.bulge or not _sides_at(other, box)):
                    found[one] = None
    return list(found)


def _sides_at(at: XY, box: Bounds) -> int:
    """On how many sides of the box a place lies: none inside it, two in its corners."""
    return sum(abs(at[side.axis == "up"] - box.at(side)) <= _SAME for side in SIDES)


def piece_drawing(piece: CutPiece, cutting: Cutting, wide: float, high: float) -> Iterator[Mark[Page]]:
    """The piece in a space of `wide` x `high` mm, with its measures round it.

    Raises GeometryError for a piece of which nothing is left.
    """
    tile = piece.piece.tile
    box = cutting.finished
    whole = Bounds(min(0.0, box.min_x), min(0.0, box.min_y), max(tile.w, box.max_x), max(tile.h, box.max_y))
    scale = min((wide - 2 * AROUND) / whole.width, (high - 2 * AROUND) / whole.height)
    left, low = (wide - whole.width * scale) / 2.0, (high - whole.height * scale) / 2.0
    place = _Scaled(scale, left - whole.min_x * scale, low - whole.min_y * scale)
    yield rectangle(*place.xy(0.0, 0.0), tile.w * scale, tile.h * scale, Role.TILE)
    yield from _contours(piece, cutting, place)
    yield from _numbered_corners(piece, cutting, place)
    yield from _measures(
        piece, cutting, place, Bounds(left, low, left + whole.width * scale, low + whole.height * scale)
    )


class _Scaled(Struct, frozen=True):
    """From the Tile frame to the Page, reduced."""

    scale: float
    dx: float
    dy: float

    def xy(self, x: float, y: float) -> XY:
        return x * self.scale + self.dx, y * self.scale + self.dy

    def back(self, x: float, y: float) -> XY:
        """A place of the Page in the Tile frame."""
        return (x - self.dx) / self.scale, (y - self.dy) / self.scale

    def path(self, vertices: Sequence[Vertex]) -> tuple[Vertex, ...]:
        return tuple(Vertex(*self.xy(v.x, v.y), v.bulge) for v in vertices)


def _contours(piece: CutPiece, cutting: Cutting, place: _Scaled) -> Iterator[Mark[Page]]:
    """What is cut in a wide line, what is the maker's as the tile's own edge; small holes as circles."""
    w, h, box = piece.piece.tile.w, piece.piece.tile.h, cutting.finished
    for path in cutting.contours:
        if path.all_round:
            yield Stroke(place.path(path.ring.vertices), Role.CUT, closed=True)
            if path.circle is not None:
                centre, radius = path.circle
                x, y = place.xy(centre.x, centre.y)
                reach = radius * place.scale + 2.0
                yield line(x - reach, y, x + reach, y, Role.CENTRE)
                yield line(x, y - reach, x, y + reach, Role.CENTRE)
                yield _diameter(shop_mm(2.0 * radius), x, y, radius * place.scale, place.xy(box.max_x, 0.0)[0])
            continue
        for edge in edges(path.ring):
            role = Role.CUT if maker_side(edge, w, h) is None else Role.TILE_EDGE
            yield Stroke((Vertex(*place.xy(edge.x0, edge.y0), edge.bulge), Vertex(*place.xy(edge.x1, edge.y1))), role)
    for hole in cutting.holes:
        yield CircleMark(Point(*place.xy(hole.at.x, hole.at.y)), hole.d / 2.0 * place.scale, Role.CUT)


def _diameter(figure: str, x: float, y: float, radius: float, end: float) -> Words[Page]:
    """A hole's diameter on the right of it, on its left where it would lie on the end of the piece there."""
    text, off = f"dia {figure}", radius + 1.0
    if x + off + width(text, FIGURE, bold=True) < end:
        return Words(text, Point(x + off, y + 1.0), FIGURE, bold=True)
    return Words(text, Point(x - off, y + 1.0), FIGURE, "end", bold=True)


def numbered_corners(checks: Sequence[CornerCheck]) -> dict[XY, str]:
    """The corners that are measured between, numbered: a letter would be taken for a set-out line."""
    corners = dict.fromkeys(corner for check in checks for corner in (check.first, check.second))
    return {corner: str(number) for number, corner in enumerate(corners, start=1)}


def _numbered_corners(piece: CutPiece, cutting: Cutting, place: _Scaled) -> Iterator[Mark[Page]]:
    """The corners of the checks, each numbered beside it: inside the piece, or where that is too narrow outside it.

    A number is nearer to its own corner than to any other that is numbered.
    """
    box = cutting.finished
    middle = (box.min_x + box.max_x) / 2.0, (box.min_y + box.max_y) / 2.0
    numbers = numbered_corners(corner_checks(piece, cutting))
    corners = [place.xy(*corner) for corner in numbers]
    taken: list[XY] = []
    for (x, y), name in numbers.items():
        px, py = place.xy(x, y)
        to_x, to_y = (1.0 if x < middle[0] else -1.0), (1.0 if y < middle[1] else -1.0)
        signs = ((to_x, to_y), (-to_x, to_y), (to_x, -to_y), (-to_x, -to_y))
        # Beside a notch the middle of its box may lie in the waste; a narrow leg has room for one number at its end.
        spots = [(px + a * _BESIDE, py + b * _BESIDE) for a, b in signs]
        own = [at for at in spots if min(corners, key=lambda one: math.dist(one, at)) == (px, py)]
        free = [at for at in own if all(math.dist(at, one) >= _APART for one in taken)]
        inside = [at for at in free if contains(piece.outline, Point(*place.back(*at)))]
        at_x, at_y = next(iter([*inside, *free, *spots]))
        taken.append((at_x, at_y))
        yield Words(name, Point(at_x, at_y - FIGURE / 2.0), FIGURE, "middle", bold=True)


class _Measured(Struct, frozen=True):
    """A place that is measured along one axis: where it is on that axis and on the other, Tile frame."""

    at: float
    off: float


def _measures(piece: CutPiece, cutting: Cutting, place: _Scaled, around: Bounds) -> Iterator[Mark[Page]]:
    datum = datum_of(piece)
    box = cutting.finished
    for axis, side in (("across", datum.across), ("up", datum.up)):
        places = list(_places(piece, cutting, level=axis == "across"))
        middle = (box.min_y + box.max_y) / 2.0 if axis == "across" else (box.min_x + box.max_x) / 2.0
        zero = box.at(side) if side in datum.trimmed else piece.piece.tile.box.at(side)
        for low in (True, False):
            own = [one for one in places if (one.off <= middle) == low]
            yield from _row(own, zero, side, level=axis == "across", low=low, place=place, around=around)


def _places(piece: CutPiece, cutting: Cutting, *, level: bool) -> Iterator[_Measured]:
    """The corners of all contours and the middles of round holes, along and off.

    Of a corner that the shop makes round it is the place where its two edges meet.
    """
    for ring in piece.outline.rings:
        circle = as_circle(ring) if ring.area < 0.0 else None
        if circle is not None:
            centre = circle[0]
            yield _Measured(centre.x, centre.y) if level else _Measured(centre.y, centre.x)
            continue
        for vertex in ring.vertices:
            yield _Measured(vertex.x, vertex.y) if level else _Measured(vertex.y, vertex.x)
    for hole in cutting.holes:
        yield _Measured(hole.at.x, hole.at.y) if level else _Measured(hole.at.y, hole.at.x)


def _row(
    places: Sequence[_Measured], zero: float, side: Side, *, level: bool, low: bool, place: _Scaled, around: Bounds
) -> Iterator[Mark[Page]]:
    """The figures along one edge, spread so that none lies on another, each with a leader to its place."""
    by_figure: dict[str, _Measured] = {}
    for one in sorted(places, key=lambda one: (one.at, one.off if low else -one.off)):
        by_figure.setdefault(shop_mm(abs(one.at - zero)), one)
    figures = [(figure, one) for figure, one in by_figure.items() if abs(one.at - zero) > _SAME]
    if not figures:
        return
    wanted = [(place.xy(one.at, 0.0)[0] if level else place.xy(0.0, one.at)[1]) for _, one in figures]
    stand = _spread(wanted, _STEP)
    edge = (around.min_y if low else around.max_y) if level else (around.min_x if low else around.max_x)
    out = -1.0 if low else 1.0
    for (figure, one), at, to in zip(figures, wanted, stand, strict=True):
        start = place.xy(one.at, one.off)[1] if level else place.xy(one.off, one.at)[0]
        bend, end = edge + out * _FIRST, edge + out * (_FIRST + _LEADER)
        corners = ((at, start), (at, bend), (to, end)) if level else ((start, at), (bend, at), (end, to))
        yield Stroke(tuple(Vertex(*corner) for corner in corners), Role.MEASURE)
        turn = 90.0 if level else 0.0
        x, y = (to + FIGURE / 2.0, end + out) if level else (end + out, to - FIGURE / 2.0)
        anchor: WordsAnchor = "end" if low else "start"
        yield Words(figure, Point(x, y), FIGURE, anchor, turn=turn)


def _spread(wanted: Sequence[float], step: float) -> list[float]:
    """Places at least a step apart, as near as can be to those that are wanted, which ascend."""
    groups: list[tuple[float, int]] = []  # where a group's middle is, and how many stand in it
    for at in wanted:
        groups.append((at, 1))
        while len(groups) > 1 and groups[-1][0] - groups[-2][0] < step * (groups[-1][1] + groups[-2][1]) / 2.0:
            (b, many), (a, few) = groups.pop(), groups.pop()
            groups.append(((a * few + b * many) / (few + many), few + many))
    return [middle + (number - (many - 1) / 2.0) * step for middle, many in groups for number in range(many)]


def pattern_arrow(x: float, y: float, long: float, *, level: bool) -> Iterator[Mark[Page]]:
    """An arrow with two heads about (x, y): which way the pattern runs."""
    dx, dy = (long / 2.0, 0.0) if level else (0.0, long / 2.0)
    yield line(x - dx, y - dy, x + dx, y + dy, Role.ARROW)
    for sign in (-1.0, 1.0):
        tip, back = (x + sign * dx, y + sign * dy), (x + sign * dx * 0.6, y + sign * dy * 0.6)
        half = long * 0.12
        off = (0.0, half) if level else (half, 0.0)
        yield solid((tip, (back[0] + off[0], back[1] + off[1]), (back[0] - off[0], back[1] - off[1])))
