"""How a piece is cut, in words: each operation in a line, why it begins as it does, what may break meanwhile.

Sides and figures are those of the tile seen on its FACE.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping

from cutmarks.cutting.operations import (
    AlongOutline,
    ByHand,
    CoreHole,
    HowCut,
    Operation,
    PlungeCut,
    ReliefHoles,
    RoundNotch,
    SetOutFrom,
    StoppedCut,
    StraightCut,
)
from cutmarks.cutting.stops import DiscReach
from cutmarks.geometry.frames import Point, Tile
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.openings.model import CutPiece
from cutmarks.plan import Plan
from cutmarks.saying.datum import datum_of, from_datum
from cutmarks.saying.figures import NEARLY, goes_in
from cutmarks.saying.findings import held
from cutmarks.saying.measures import shown
from cutmarks.sides import ON_AXIS, SIDES, Axis, Side
from cutmarks.units import Style, say, say_down, say_up

_FIRST = {
    "whole": "hole first, while the tile is whole; then the straight cut",
    "opens into the cut": "the straight cut first: the notch runs out over it, and the saw comes in from there",
    "strip": "in this order, or a thin strip stands free while the next cut is made",
}
_WHY_SAWN = {
    "long": "longer than the snap cutter takes",
    "narrow": "too narrow a strip to snap",
    "hole": "a hole is near it",
    "cut": "a cut lies in the tile already",
}


def to_cut(plan: Plan, piece: CutPiece) -> HowCut:
    """How a piece is cut as far as it may be: nothing of one that is stopped, no trimming where that waits."""
    how = plan.how_cut.get(piece.name, HowCut())
    match held(plan, piece):
        case "all":
            return HowCut()
        case "trimming":
            return HowCut(tuple(one for one in how.operations if one.cut))
        case _:
            return how


def how_lines(how: HowCut, piece: CutPiece, style: Style) -> list[str]:
    """All of it, a line each: why first, the operations in order, what stands free meanwhile, where the discs stop."""
    lines = [f"{_FIRST[how.first]}."] if how.first else []
    strips = {strip.after: strip for strip in how.strips}
    for number, operation in enumerate(how.operations):
        lines.append(f"{number + 1}. {operation_words(operation, piece, style)}")
        if number in strips:
            wide, long = say(strips[number].wide, style), say(strips[number].long, style)
            lines.append(f"   Now a strip {wide} wide and {long} long stands free on one end: lay it on a board.")
    if any(isinstance(one, PlungeCut) and not one.from_face and one.from_back for one in how.operations):
        lines.append("From the back: turn the tile over left for right; left and right stay those of its FACE.")
    return [*lines, *_stop_lines(how, style)]


def _stop_lines(how: HowCut, style: Style) -> list[str]:
    """Where each disc stops, once for all corners that it stops before alike."""
    stopped = [one for one in how.operations if isinstance(one, StoppedCut)]
    if not stopped:
        return []
    found: dict[tuple[DiscReach, float], float] = {}
    for one in stopped:
        for reach in one.reaches:
            key = reach, round(one.clear, 3)
            found[key] = min(one.behind, found.get(key, one.behind))
    if not found:
        if style.by_tolerance:
            return ["Where a disc stops is not said: no disc is known that comes through, or how thick the tile is."]
        return ["Where the disc stops: write discs: in tools.yaml, and the tile's thickness."]
    least = {disc: min(reach.past for reach, _ in found if reach.disc == disc) for disc in (r.disc for r, _ in found)}
    return [
        _stop(reach, clear, behind, style, deep=reach.past > least[reach.disc] + TOUCH)
        for (reach, clear), behind in found.items()
    ]


def stops_in_words(how: HowCut, piece: CutPiece, style: Style) -> list[str]:
    """Where discs stop, a sentence each: before corners, and of every side that is plunged."""
    plunged = [operation_words(one, piece, style) for one in how.operations if isinstance(one, PlungeCut)]
    return [*_stop_lines(how, style), *plunged]


def how_in_short(how: HowCut, piece: CutPiece, style: Style) -> str:
    """The same in one line, for a list or a panel: "core 35, snap at 97 from the bottom"; "" where nothing is cut."""
    several = sum(isinstance(one, PlungeCut) for one in how.operations) > 1
    said = list(dict.fromkeys(_short(operation, piece, style, several=several) for operation in how.operations))
    return f"in order: {', then '.join(said)}" if len(said) > 1 else "".join(said)


def corner_order(how: HowCut, piece: CutPiece, names: Mapping[Side, str]) -> str:
    """Of a piece that two saw cuts into one corner make, which comes first; "" of any other.

    Its template has all else: the small hole, where the lines are, that both stop.
    """
    cuts = [one for one in how.operations if not isinstance(one, ReliefHoles)]
    stopped = [one for one in cuts if isinstance(one, StoppedCut) and not one.cut]
    sides = list(dict.fromkeys(_entered(one.start, piece) for one in stopped))
    if len(stopped) != len(cuts) or len(sides) != len(cuts) or len(cuts) != len(("one", "other")):
        return ""
    first, second = (names[side] for side in sides)
    return f"Saw in first over the {first}, then over the {second}"


def operation_words(one: Operation, piece: CutPiece, style: Style) -> str:
    """One operation, whole."""
    match one:
        case CoreHole():
            guide = "" if one.pilot else "; no pilot: a board with a hole over it holds the core"
            at = tile_place_words(one.at, piece, style)
            return f"{one.cut}: core {say(one.d, style)} from the {one.side}, its middle {at}{guide}."
        case ReliefHoles():
            where = "; ".join(tile_place_words(at, piece, style) for at in one.at)
            count = "a hole" if len(one.at) == 1 else f"{len(one.at)} holes"
            corners = "its inside corner" if len(one.at) == 1 else "its inside corners"
            return f"{_of(one.cut)}{count} of {say(one.d, style)} in {corners}: {where}."
        case StraightCut():
            return f"{_of(one.cut)}{_straight(one, piece, style)}."
        case StoppedCut():
            into = _enters(one.start, piece)
            where = f"saw in from the {into}, {_set_out(one, piece, style)}"
            return f"{_of(one.cut)}{where}, and stop before {_corner(one, piece, style)}."
        case PlungeCut():
            return f"{_of(one.cut)}{_plunge(one, piece, style)}"
        case RoundNotch():
            return _round_notch(one, piece, style)
        case ByHand():
            at = tile_place_words(one.at, piece, style)
            whose = one.cut or "the round edge"
            return (
                f"{whose}: round, radius {say(one.radius, style)} about {at}; no core is of that size: small holes "
                "along the line, then the grinder; or a shop."
            )
        case AlongOutline():
            return f"{one.cut}: follow its line by hand with a small disc, or have a shop cut it."


def _short(one: Operation, piece: CutPiece, style: Style, *, several: bool) -> str:
    """One operation in a few words; several: more sides than one are plunged, which are said together."""
    match one:
        case CoreHole():
            return f"core {say(one.d, style)} from the {one.side}"
        case ReliefHoles():
            corners = {1: "the inside corner", 2: "both inside corners"}.get(len(one.at), "each inside corner")
            return f"drill {say(one.d, style)} in {corners}"
        case StraightCut():
            way = {"snap": "snap", "saw": "saw", "either": "snap or saw"}[one.way]
            return f"{way} {_set_out(one, piece, style)}"
        case StoppedCut():
            return f"saw in from the {_enters(one.start, piece)}, {_set_out(one, piece, style)}"
        case PlungeCut():
            face = "face" if one.from_face else "back" if one.from_back else ""
            sides = "its sides" if several else "the side between its corners"
            return f"plunge {sides} from the {face}" if face else f"{sides} by hand"
        case RoundNotch():
            return f"{one.cut} in {len(one.fingers)} cuts from the {one.side}"
        case ByHand() | AlongOutline():
            return f"{one.cut or 'the round edge'} by hand"


def _of(cut: str) -> str:
    return f"{cut}: " if cut else ""


def _straight(one: StraightCut, piece: CutPiece, style: Style) -> str:
    where = _set_out(one, piece, style)
    if one.way == "snap":
        return f"score and snap {where}"
    if one.way == "either":
        return f"score and snap, or saw, {where}"
    return f"saw {where} ({_WHY_SAWN[one.why]})" if one.why else f"saw {where}"


def _set_out(one: StraightCut | StoppedCut | PlungeCut, piece: CutPiece, style: Style) -> str:
    """Where the line is: "97 from the bottom", "241 from the left at the bottom, 241½ at the top"."""
    measure = one.from_edge if one.from_edge is None else set_out_from(one.from_edge, piece, style)
    if measure is None:
        return f"from {tile_place_words(one.start, piece, style)} to {tile_place_words(one.end, piece, style)}"
    if one.cut or style.by_tolerance:
        of = " of the whole tile" if style.by_tolerance else ""
        said = _both_ends(measure, lambda mm: _say_from(mm, measure.side, piece, style), of)
        return said if measure.two else f"{said}{_of_what(measure.side, piece, style)}"
    # What is trimmed has to go in: as the sizes of a piece are, it is rounded down.
    return _both_ends(measure, lambda mm: goes_in(mm, style) if measure.keeps else say_up(mm - NEARLY, style))


def set_out_from(measure: SetOutFrom, piece: CutPiece, style: Style) -> SetOutFrom:
    """What a cut is set out by: for a shop from the edges that all its drawing is measured from."""
    return from_datum(measure, piece) if style.by_tolerance else measure


def _both_ends(measure: SetOutFrom, said: Callable[[float], str], of: str = "") -> str:
    """One figure, or one at each end where they differ by enough; `of` says of what these are the ends."""
    if not measure.two:
        ends = measure.first, measure.last
        return f"{said(min(ends) if measure.keeps else max(ends))} from the {measure.side}"
    low, high = measure.side.beside
    return f"{said(measure.first)} from the {measure.side} at the {low}, {said(measure.last)} at the {high}{of}"


def _say_from(mm: float, side: Side, piece: CutPiece, style: Style) -> str:
    return shown(mm, side, piece, style)[0]


def tile_place_words(at: Point[Tile], piece: CutPiece, style: Style) -> str:
    """A place by its two measures from the nearer maker's edges: "73½ from the right, 112½ from the bottom".

    For a shop from the edges that its drawing is measured from.
    """
    said = []
    for axis in ON_AXIS:
        side = _measured_from(axis, at, piece, style)
        figure = _say_from(piece.piece.tile.box.inward(side, at.x, at.y), side, piece, style)
        said.append(f"{figure} from the {side}{_of_what(side, piece, style)}")
    return ", ".join(said)


def _of_what(side: Side, piece: CutPiece, style: Style) -> str:
    """Of which a side is meant where the piece has its own there: a shop's drawing measures from that one."""
    return " of the whole tile" if style.by_tolerance and side not in piece.factory_edges else ""


def _measured_from(axis: Axis, at: Point[Tile], piece: CutPiece, style: Style) -> Side:
    """Which of two opposite sides a place is measured from: a maker's, and the nearer; for a shop its datum."""
    if style.by_tolerance:
        return datum_of(piece).on(axis)
    sides, box = ON_AXIS[axis], piece.piece.tile.box
    return min(sides, key=lambda one: (one not in piece.factory_edges, box.inward(one, at.x, at.y)))


def _enters(at: Point[Tile], piece: CutPiece) -> str:
    """The edge over which a cut comes in: the tile's own side that it begins on."""
    side = _entered(at, piece)
    return side if side in piece.factory_edges else f"cut edge at the {side}"


def _entered(at: Point[Tile], piece: CutPiece) -> Side:
    box = piece.piece.tile.box
    return min(SIDES, key=lambda one: abs(box.inward(one, at.x, at.y)))


def _corner(one: StoppedCut, piece: CutPiece, style: Style) -> str:
    """Where the corner is that it must not pass, measured along the cut."""
    dx, dy = one.end.x - one.start.x, one.end.y - one.start.y
    far = math.hypot(dx, dy)
    part = one.clear / far if far > TOUCH else 0.0
    corner: Point[Tile] = Point(one.end.x + dx * part, one.end.y + dy * part)
    side = _measured_from("across" if abs(dx) >= abs(dy) else "up", corner, piece, style)
    inward = piece.piece.tile.box.inward(side, corner.x, corner.y)
    return f"the corner {_say_from(inward, side, piece, style)} from the {side}{_of_what(side, piece, style)}"


def _stop(reach: DiscReach, clear: float, behind: float, style: Style, *, deep: bool) -> str:
    """deep: as far as its machine lets it come out below, where a table may be in the way."""
    near, far = say_up(reach.near + clear, style), say_up(reach.far + clear, style)
    left, over = say_up(max(reach.left, 0.0), style), max(reach.left - clear, 0.0)
    down = f"only where it has to lie face down, {far} before it{_past(over, behind, 'it', style)}"
    if over >= behind:
        thin = f"where only {say(behind, style)} of tile lies"
        down = f"not face down: the back would be cut {say_up(over, style)} past it, {thin}"
    room = ", where the table leaves it room" if deep else ""
    return (
        f"{_disc(reach, style)}{room}: face up its middle stops {near} before the corner, {left} stay on the back to "
        f"snap and grind; {down}."
    )


def _past(over: float, behind: float, what: str, style: Style) -> str:
    """How far the back is cut too far, and of how much tile: a thin tongue bears less."""
    if over <= TOUCH:
        return ""
    # At least: behind another corner that is cut alike there may lie more.
    of = f", where at least {say_down(behind, style)} of tile lies" if math.isfinite(behind) else ""
    return f", the back is cut {say_up(over, style)} past {what}{of}"


def _disc(reach: DiscReach, style: Style) -> str:
    return f"Disc {say(reach.disc.d, style)}, reaching {say(reach.past, style)} out of the far side"


def _plunge(one: PlungeCut, piece: CutPiece, style: Style) -> str:
    where = f"plunge the side {_set_out(one, piece, style)}"
    if not one.reaches:
        long = f"{say(one.room, style)} long"
        return f"{where}, {long}; it must not pass its corners (discs: in tools.yaml, and the thickness)."
    if one.from_face:
        fits = min(one.from_face, key=lambda reach: reach.near)
        ends = say_up(fits.near + one.clear, style)
        return f"{where} from the face: {_disc(fits, style)}, its middle no nearer than {ends} to either corner."
    if one.from_back:
        fits = min(one.from_back, key=lambda reach: reach.left)
        ends, over = say_up(fits.far + one.clear, style), max(fits.left - one.clear, 0.0)
        return (
            f"{where} from the BACK alone ({_too_short(one, style)} from the face): {_disc(fits, style)}, its middle "
            f"no nearer than {ends} to either corner{_past(over, one.behind, 'each', style)}."
        )
    return f"{where}: {_too_short(one, style)} for any of the discs: a row of small holes, then break out and grind."


def _too_short(one: PlungeCut, style: Style) -> str:
    """How long a plunged cut may be, that no disc is small enough for; less than its side where holes end it."""
    holes = " clear of its corner holes" if one.clear > TOUCH else ""
    return f"{say(one.room, style)}{holes} is too short"


def _round_notch(one: RoundNotch, piece: CutPiece, style: Style) -> str:
    low = Side.LEFT if one.side.axis == "up" else Side.BOTTOM
    from_low = SetOutFrom(low, one.middle, one.middle)
    measure = set_out_from(from_low, piece, style)
    middle = _say_from(measure.first, measure.side, piece, style)
    half = [finger for finger in one.fingers if finger.at >= -TOUCH]
    row = ", ".join(f"{say_down(finger.at, style)}: {say_down(finger.deep, style)}" for finger in half)
    core = f", or the core {say(one.core, style)} held by a board" if one.core is not None else ""
    return (
        f"{one.cut}: {len(one.fingers)} cuts from the {one.side} edge, so far either way of its middle ({middle} from "
        f"the {measure.side}) and so deep: {row}; break out and grind{core}."
    )
