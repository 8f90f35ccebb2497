"""A surface's edges as they were read, on one line: where each is, how far it leans or falls, or that it is true."""

from __future__ import annotations

from collections.abc import Iterator

from cutmarks.geometry.tolerance import TOUCH
from cutmarks.saying.from_lines import across_words, up_words
from cutmarks.setout.edges import runs_up
from cutmarks.setout.model import SetOut, SurfaceEdge
from cutmarks.sides import Side
from cutmarks.units import Style, say


def edges_read(setout: SetOut, style: Style) -> str:
    """As in "door frame 1247 left of V (880 below B) to 1251 (400 above B), leans 4 out; shelf 400 above B, level"."""
    edges = (setout.edges[side] for side in Side if side in setout.edges and side not in setout.open_sides)
    return "; ".join(_edge(edge, setout, style) for edge in edges)


def _edge(edge: SurfaceEdge, setout: SetOut, style: Style) -> str:
    up = runs_up(edge.side)
    at, along = (across_words, up_words) if up else (up_words, across_words)
    what = " and ".join(dict.fromkeys(edge.whats)) or edge.what or edge.called
    places = [(point.x, point.y) if up else (point.y, point.x) for point in edge.measured]
    found = sorted({place for place, _ in places})
    if found[-1] - found[0] <= TOUCH:
        true = "straight" if setout.kind == "floor" else "plumb" if up else "level"
        return f"{what} {at(found[0], setout, style)}, {true}"
    if len(places) != 2:
        return f"{what} between {at(found[0], setout, style)} and {at(found[-1], setout, style)}"
    (first, low), (last, high) = places
    same_way = at(first, setout, style).partition(" ")[2] == at(last, setout, style).partition(" ")[2]
    to = say(abs(last), style) if same_way else at(last, setout, style)
    read = f"{at(first, setout, style)} ({along(low, setout, style)}) to {to} ({along(high, setout, style)})"
    return f"{what} {read}{''.join(_out_of_true(edge.side, last - first, setout, style))}"


def _out_of_true(side: Side, by: float, setout: SetOut, style: Style) -> Iterator[str]:
    """How far a wall's end leans going up, or its top or foot falls going right."""
    if setout.kind == "floor":
        return
    if runs_up(side):
        yield f", leans {say(abs(by), style)} {'out' if by * side.sign > 0 else 'in'}"
    else:
        yield f", {'rises' if by > 0 else 'falls'} {say(abs(by), style)} to the right"
