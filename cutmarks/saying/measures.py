"""The figures of a cut: what is measured, from which side, in words and as they are printed.

Both the rulers on the template and the figures beside it come from here, so that they cannot differ.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from msgspec import Struct

from cutmarks.geometry.rings import edges
from cutmarks.geometry.shapes import Circle, Rect, Slot
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.openings.model import Cut, CutPiece, WallCheck
from cutmarks.openings.outlines import facing, runs_along
from cutmarks.registering.sides import mark_sides, span
from cutmarks.saying.behind import is_behind
from cutmarks.sides import SIDES, Axis, Side
from cutmarks.units import Style, pair_in_steps, say, say_steps

MeasuredWhat = Literal["centre", "sides", "end"]


class Measure(Struct, frozen=True):
    """One or two places along one axis, from one side of the whole tile, mm.

    "centre": the middle of the opening; "sides": where the cut begins and ends; "end": where it ends (it runs out
    over the other end).
    """

    side: Side
    what: MeasuredWhat
    values: tuple[float, ...]


def centre_on_tile(cut: Cut) -> bool:
    """Whether the middle of the opening is on the whole tile, where it can be marked."""
    return min(cut.from_edges) > 0.0


def by_centre(cut: Cut) -> bool:
    """Whether the cut is marked by its middle: a round one whose middle is on the tile, and any hole but a box."""
    if cut.kind == "hole":
        return cut.sides is None
    return isinstance(cut.opening.shape, Circle) and centre_on_tile(cut)


def is_bite(cut: Cut) -> bool:
    """Whether it is a round bite out of one edge with its middle off the tile: its ends move along that edge alone.

    Where it goes deeper, or less deep, the ends come further apart, or nearer to each other.
    """
    return isinstance(cut.opening.shape, Circle) and cut.kind == "edge notch" and not by_centre(cut)


def measures(cut: Cut, piece: CutPiece) -> tuple[Measure, ...]:
    """What to mark the cut by, from its two sides to mark from; for a notch, from the side that it runs out over."""
    return tuple(measure for side in mark_sides(cut) for measure in measure_from(cut, piece, side))


def measure_from(cut: Cut, piece: CutPiece, side: Side) -> tuple[Measure, ...]:
    """The same along the axis of one side, measured from that side; () where the cut takes the whole of the axis."""
    if cut.kind == "corner notch":
        crossing = crossing_from(cut, piece, side)
        if crossing is not None:
            return (Measure(side, "end", (crossing,)),)
    if by_centre(cut):
        return (Measure(side, "centre", (cut.from_edges[side],)),)
    low, high = span(cut, piece, side)
    near_open, far_open = side in cut.runs_out, side.opposite in cut.runs_out
    if near_open and far_open:
        return ()
    if near_open:
        return (Measure(side, "end", (high,)),)
    if far_open:
        return (Measure(side, "end", (low,)),)
    return (Measure(side, "sides", (low, high)),)


def figures_of(cut: Cut, piece: CutPiece) -> dict[Side, Measure]:
    """What the cut is marked by and checked with, by side: the one set of figures for panel, drawing and lists.

    A side from which there is nothing to measure, because the cut runs out over both ends, is left out; of a leaning
    cut-out over one edge all that is marked lies along that edge.
    """
    met = meets_edge(cut, piece)
    if met is not None:
        (_, side), low, high = met
        size = whole(piece, side)
        return {
            side: Measure(side, "sides", (low, high)),
            side.opposite: Measure(side.opposite, "sides", (size - high, size - low)),
        }
    found = (measure_from(cut, piece, side) for side in SIDES)
    return {measure.side: measure for measures_found in found for measure in measures_found}


def to_mark(cut: Cut, piece: CutPiece) -> tuple[Measure, ...]:
    """The figures of a cut from the two sides that it is marked from, across first."""
    figures = figures_of(cut, piece)
    return tuple(figures[side] for side in mark_sides(cut) if side in figures)


def figures_shown(measure: Measure, piece: CutPiece, style: Style) -> str:
    """A measure as it is printed: "74½", "184½ to 227½"."""
    return " to ".join(shown(value, measure.side, piece, style)[0] for value in measure.values)


def crossing_from(cut: Cut, piece: CutPiece, side: Side) -> float | None:
    """Where a corner notch crosses the tile's edge that runs along the axis of `side`, measured from `side`, mm."""
    along = next((one for one in SIDES if one in cut.runs_out and one.axis != side.axis), None)
    end = next((one for one in SIDES if one in cut.runs_out and one.axis == side.axis), None)
    if along is None or end is None:
        return None
    places = _crossings(cut, piece, along, side)
    return max(places) if end == side else min(places)


def run_out(cut: Cut, piece: CutPiece) -> tuple[tuple[Side, Side], float, float] | None:
    """For a round notch over one edge: that edge and the side measured from; where it crosses the edge, mm."""
    if not by_centre(cut) or len(cut.runs_out) != 1:
        return None
    (along,) = cut.runs_out
    side = next(one for one in mark_sides(cut) if one.axis != along.axis)
    places = _crossings(cut, piece, along, side)
    return (along, side), min(places), max(places)


def _crossings(cut: Cut, piece: CutPiece, along: Side, side: Side) -> list[float]:
    """The ends of what the cut takes off the edge `along`, measured from `side`, mm."""
    return [
        _from(piece, side, x, y)
        for ring in cut.share.rings
        for edge in edges(ring)
        if facing(edge) == along and runs_along(piece.piece.outline, edge)
        for x, y in ((edge[0], edge[1]), (edge[2], edge[3]))
    ]


def _from(piece: CutPiece, side: Side, x: float, y: float) -> float:
    return piece.piece.tile.box.inward(side, x, y)


def whole(piece: CutPiece, side: Side) -> float:
    """The whole tile's size along the axis of `side`, mm."""
    return piece.piece.tile.w if side.axis == "across" else piece.piece.tile.h


def shown(value: float, side: Side, piece: CutPiece, style: Style) -> tuple[str, str]:
    """A measure from `side` and what is left to the other side, as printed: together the tile as printed.

    The measure from the nearer factory edge keeps its own rounding (left and bottom on a tie).
    """
    own, other = _in_steps(value, side, piece, style)
    return say_steps(own, style), say_steps(other, style)


def _in_steps(value: float, side: Side, piece: CutPiece, style: Style) -> tuple[int, int]:
    """The same in steps of the style."""
    size = whole(piece, side)
    rest = size - value
    own_is_factory, other_is_factory = (edge in piece.factory_edges for edge in (side, side.opposite))
    on_a_tie = ("right", "bottom") if is_behind(piece) else ("left", "bottom")  # the face's left, on either face
    nearer = value < rest or (value == rest and side in on_a_tie)
    if own_is_factory if own_is_factory != other_is_factory else nearer:
        return pair_in_steps(value, size, style)
    other, own = pair_in_steps(rest, size, style)
    return own, other


def leans_on_tile(cut: Cut) -> bool:
    """Whether a box's cut-out leans on this tile: as it was read, or because the tile itself is laid turned."""
    return isinstance(cut.opening.shape, Rect) and cut.sides is None


def is_shared(cut: Cut) -> bool:
    """Whether this piece takes only a part of a box that lies square on it: of 137 x 76 over a joint, 130½ x 76."""
    if cut.sides is None:
        return False
    left, right, bottom, top = cut.sides
    box = cut.share.bounds
    return box.width < right - left - TOUCH or box.height < top - bottom - TOUCH


def size_words(cut: Cut, piece: CutPiece, style: Style) -> str:
    """What is cut in this piece, in capitals: "CORE 35", "CUT-OUT 76 x 78"; of a box over a joint, the part here."""
    match cut.opening.shape:
        case Circle(d=d):
            if cut.opening.core is not None:
                return f"CORE {say(cut.opening.core, style)}"
            return f"HOLE {say(d, style)} round"
        case Rect(w=w, h=h, lean=lean):
            if cut.sides is not None:
                return f"CUT-OUT {_size(cut, style)}"
            turns, lean = _square_turns(lean - piece.piece.turn)
            w, h = (h, w) if turns % 2 else (w, h)
            return f"CUT-OUT {say(w, style)} x {say(h, style)}, leaning {round(abs(lean), 1):g}°"
        case Slot(l=l, w=w, lean=lean):
            lean = (lean - piece.piece.turn + 90.0) % 180.0 - 90.0
            words = f"SLOT {say(l, style)} x {say(w, style)}"
            return f"{words}, leaning {round(abs(lean), 1):g}°" if lean else words
        case _:
            drilled = cut.opening.drilled
            if drilled is not None and cut.drill_at:
                return f"CORE {say(drilled.core, style)}, CUT-OUT {_size(cut, style)}"
            return f"CUT-OUT {_size(cut, style)} overall"


def _size(cut: Cut, style: Style) -> str:
    box = cut.share.bounds
    return f"{say(box.width, style)} x {say(box.height, style)}"


def _square_turns(degrees: float) -> tuple[int, float]:
    """An angle as so many right angles and what is left, over -45 up to 45 degrees."""
    turns = round(degrees / 90.0)
    return turns, degrees - 90.0 * turns


def corners_on_tile(cut: Cut, piece: CutPiece) -> list[tuple[float, float]]:
    """The corners of a leaning cut-out in this piece, those where it meets the piece's edges too, mm.

    Each from the two sides to mark from; in the order round the cut, from the one nearest to the second of these
    sides. [] for a cut whose sides run along the tile's own: its two measures say as much.
    """
    if not leans_on_tile(cut):
        return []
    across, up = mark_sides(cut)
    own = [vertex for ring in piece.piece.outline.rings for vertex in ring.vertices]
    found = [
        (_from(piece, across, v.x, v.y), _from(piece, up, v.x, v.y))
        for ring in cut.share.rings
        for v in ring.vertices
        if not any(abs(v.x - at.x) + abs(v.y - at.y) <= TOUCH for at in own)
    ]
    first = min(range(len(found)), key=lambda index: found[index][1], default=0)
    return found[first:] + found[:first]


def meets_edge(cut: Cut, piece: CutPiece) -> tuple[tuple[Side, Side], float, float] | None:
    """For a leaning cut-out over one edge: that edge and the side measured from; where it crosses the edge, mm."""
    if not leans_on_tile(cut) or len(cut.runs_out) != 1:
        return None
    (along,) = cut.runs_out
    side = next(one for one in mark_sides(cut) if one.axis != along.axis)
    places = _crossings(cut, piece, along, side)
    return (along, side), min(places), max(places)


def check_words(check: WallCheck, style: Style) -> str:
    """What a tape reads from a neighbour: "69 and 84" to both sides of the thing, or "to its middle 172½"."""
    figures = check_figures(check, style)
    return f"to its middle {figures[0]}" if check.to_middle else " and ".join(figures)


def check_figures(check: WallCheck, style: Style) -> tuple[str, ...]:
    """The figures of the same, near side first; one where it is read to the middle."""
    near = say(check.near, style)
    return (near,) if check.to_middle else (near, say(check.far, style))


def spacing(one: Cut, other: Cut, piece: CutPiece, style: Style) -> dict[Axis, str]:
    """How far the middles of two holes are apart along each axis, as printed: what their printed figures differ by.

    Along an axis on which they stand level there is nothing.
    """
    found: dict[Axis, str] = {}
    for side in (Side.LEFT, Side.BOTTOM):
        first, second = (_in_steps(cut.from_edges[side], side, piece, style)[0] for cut in (one, other))
        if first != second:
            found[side.axis] = say_steps(abs(first - second), style)
    return found


def spacing_words(cut: Cut, others: Sequence[Cut], piece: CutPiece, style: Style) -> str:
    """How far other cuts of the tile are from this one: "150 across, hot to cold"."""
    parts = []
    for other in others:
        apart = spacing(cut, other, piece, style)
        said = " and ".join(f"{figure} {'across' if axis == 'across' else 'up'}" for axis, figure in apart.items())
        between = f"{cut.opening.name} to {other.opening.name}"
        parts.append(f"{said}, {between}" if said else between)
    return "; ".join(parts)
