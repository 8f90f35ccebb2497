"""What the sides of a tile are called on paper: by what they point at, which cannot be mirrored, and where that lies.

Who looks from a set-out line to the sheet in his hand takes "towards V" for either side: LEFT or RIGHT stands before
it, as the sheet lies when it is taped on.
"""

from __future__ import annotations

import math

from cutmarks.fixing.model import ReadFrom
from cutmarks.openings.model import CutPiece, Unread, WallCheck
from cutmarks.plan import Plan
from cutmarks.saying.behind import is_behind
from cutmarks.setout.edges import runs_up, what_at
from cutmarks.setout.model import BATTENS, Line, SetOut
from cutmarks.sides import SIDES, Side

_PLAIN: dict[Side, str] = {
    Side.LEFT: "LEFT edge",
    Side.RIGHT: "RIGHT edge",
    Side.BOTTOM: "lower edge",
    Side.TOP: "upper edge",
}
_BEHIND: dict[Side, str] = {
    **_PLAIN,
    Side.LEFT: "edge on your LEFT now",
    Side.RIGHT: "edge on your RIGHT now",
}
"""What they are called on a template for the back, whose left is the face's right."""
_PLAIN_BEHIND: dict[Side, str] = {
    **_BEHIND,
    Side.LEFT: f"{_BEHIND[Side.LEFT]} (the face's right)",
    Side.RIGHT: f"{_BEHIND[Side.RIGHT]} (the face's left)",
}
_NEIGHBOUR_AT: dict[Side, str] = {
    Side.LEFT: "on the LEFT",
    Side.RIGHT: "on the RIGHT",
    Side.BOTTOM: "at the lower edge",
    Side.TOP: "at the upper edge",
}
"""Where the piece beside it lies, as one faces the wall, or looks in over the floor."""
_MOST_TURN = 30.0
"""Degrees: an area that is turned further has no side that plainly points along an axis of the surface."""
_ON_LINE = 1.5
"""An edge this near to the top of the batten stands on it, mm."""


def edge_names(plan: Plan, piece: CutPiece) -> dict[Side, str]:
    """For each side what stands after "from the": "RIGHT edge (towards V)", "lower edge", "batten edge".

    A side whose direction cannot be told (the line runs through the tile and a wall is on both sides, the area is
    turned) is the left, right, lower or upper edge with the UP arrow upward. From behind it is the "edge on your LEFT
    now (towards V)".
    """
    edge, plain = (_BEHIND, _PLAIN_BEHIND) if is_behind(piece) else (_PLAIN, _PLAIN)
    ways = _ways(plan, piece)
    names = {side: f"{edge[side]} ({way})" if (way := ways[side]) else plain[side] for side in SIDES}
    setout = plan.setout(piece.piece.surface)
    if setout.kind == "wall" and abs(piece.piece.turn) <= _MOST_TURN:
        carried = {side: _batten_name(setout, piece, side, plan.say.words) for side in (Side.BOTTOM, Side.TOP)}
        names |= {side: name for side, name in carried.items() if name and name != carried[side.opposite]}
    return names


def _ways(plan: Plan, piece: CutPiece) -> dict[Side, str]:
    """For each side what it points at: "towards V", "away from V", "towards the end panel"; "" where none tells."""
    if abs(piece.piece.turn) > _MOST_TURN:
        return dict.fromkeys(SIDES, "")
    setout = plan.setout(piece.piece.surface)
    ways = {side: _way(setout, piece, side) for side in SIDES}
    return {side: "" if way == ways[side.opposite] else way for side, way in ways.items()}


def read_from(plan: Plan, piece: CutPiece, check: WallCheck) -> str:
    """What stands after "from" in a wall check: "the fixed tile on the RIGHT (towards V)", "the course below", "V".

    A batten or packers are called so only where the words of the line at their top do.
    """
    source, side = check.source, check.side
    match source.kind:
        case "piece":
            return f"{source.name}, across the window" if source.across else _neighbour_names(plan, piece)[side]
        case "line" | "mark":
            return source.name
        case "support":
            carries = carrier(plan.setout(piece.piece.surface), source.name, plan.say.words)
            return f"the top of the {carries}" if carries else f"{source.name}, which it stands on"
        case "edge":
            return edge_source(source, side)


def fixed_from(plan: Plan, piece: CutPiece, check: WallCheck) -> str:
    """The same in few words, of what is fixed when the piece goes up: a tile or a course beside it by its side."""
    if check.source.kind != "piece" or check.source.across:
        return read_from(plan, piece, check)
    beside_up = check.side.axis == "up"
    return course_beside(plan, piece, check.side) if beside_up else f"the tile on the {check.side}"


def edge_source(source: ReadFrom, side: Side) -> str:
    """An edge that is read from, by what it is: "the hearth"; "the left edge" where that is not said."""
    return f"the {source.called} edge" if source.called == str(side) else f"the {source.called}"


def unread_words(plan: Plan, piece: CutPiece, unread: Unread) -> str:
    """Why nothing can be read on an axis: "across: nothing is fixed yet and no line shows"."""
    kind = plan.setout(piece.piece.surface).kind
    axis = "across" if unread.axis == "across" else "up" if kind == "wall" else "in"
    if unread.reached:
        return f"{axis}: it comes through the joint with {unread.reached}, already fixed: carry its cut over from there"
    return f"{axis}: nothing is there yet to read from: offer the tile up dry, and mark it round the thing"


def carrier(setout: SetOut, line: str, words: str) -> str:
    """What the first course stands on, as the words of the line at its top call it: batten, ledger, packers; or ""."""
    said = setout.lines[line].words.casefold() if line in setout.lines else ""
    if any(word in said for word in BATTENS):
        return "batten" if words == "uk" else "ledger"
    return "packers" if "packer" in said else ""


def course_beside(plan: Plan, piece: CutPiece, side: Side) -> str:
    """The course on that side of a piece: below or above; on a floor the next row towards its base line, or away."""
    setout = plan.setout(piece.piece.surface)
    line = None if setout.kind == "wall" else _main_line(setout, "y")
    if line is None:
        return "the course below" if side is Side.BOTTOM else "the course above"
    middle = (_middle(piece, Side.BOTTOM)[1] + _middle(piece, Side.TOP)[1]) / 2
    is_towards = (middle > line.at) == (side is Side.BOTTOM)
    return f"the next row {'towards' if is_towards else 'away from'} {line.name}"


def _neighbour_names(plan: Plan, piece: CutPiece) -> dict[Side, str]:
    """For each side what the piece beside it is called: "the fixed tile on the RIGHT (towards V)"."""
    ways = _ways(plan, piece)
    return {
        side: f"the fixed tile {_NEIGHBOUR_AT[side]}{f' ({ways[side]})' if ways[side] else ''}"
        if side.axis == "across" or ways[side]
        else course_beside(plan, piece, side)
        for side in SIDES
    }


def _way(setout: SetOut, piece: CutPiece, side: Side) -> str:
    upright = side.axis == "up"
    if upright and setout.kind == "wall":
        return ""
    line = _main_line(setout, "y" if upright else "x")
    if line is not None and not _straddles(piece, side, line):
        here, there = (_distance(piece, one, line) for one in (side, side.opposite))
        return f"towards {line.name}" if here < there else f"away from {line.name}"
    edge = setout.edges.get(side.mirrored if is_behind(piece) else side)
    if edge is not None:
        x, y = _middle(piece, side)
        what = what_at(edge, y if runs_up(edge.side) else x)
        if what:
            return f"towards the {what}"
    return ""


def _batten_name(setout: SetOut, piece: CutPiece, side: Side, words: str) -> str | None:
    _, y = _middle(piece, side)
    for line in setout.lines.values():
        said = line.words.casefold()
        if line.fixes == "y" and abs(line.at - y) <= _ON_LINE and any(word in said for word in BATTENS):
            return f"{'batten' if words == 'uk' else 'ledger'} edge"
    return None


def _main_line(setout: SetOut, fixes: str) -> Line | None:
    lines = [line for line in setout.lines.values() if line.fixes == fixes]
    return min(lines, key=lambda line: abs(line.at), default=None)


def _distance(piece: CutPiece, side: Side, line: Line) -> float:
    x, y = _middle(piece, side)
    return abs((x if line.fixes == "x" else y) - line.at)


def _straddles(piece: CutPiece, side: Side, line: Line) -> bool:
    here, there = (_middle(piece, one) for one in (side, side.opposite))
    index = 0 if line.fixes == "x" else 1
    low, high = sorted((here[index], there[index]))
    return low < line.at < high


def _middle(piece: CutPiece, side: Side) -> tuple[float, float]:
    """The middle of a side of the whole tile, on the surface."""
    w, h = piece.piece.tile.w, piece.piece.tile.h
    u, v = {"left": (0.0, h / 2), "right": (w, h / 2), "bottom": (w / 2, 0.0), "top": (w / 2, h)}[side]
    return piece.piece.tile_at.xy(u, v)


def plumb_turn(piece: CutPiece) -> float:
    """Where the surface's own up points on the sheet, degrees counter-clockwise from the sheet's up."""
    turn = math.degrees(math.atan2(piece.piece.tile_at.sin, piece.piece.tile_at.cos))
    return turn if is_behind(piece) else -turn
