"""How a piece is cut, as plan.json has it."""

from __future__ import annotations

from typing import Any

from cutmarks.cutting.operations import (
    AlongOutline,
    ByHand,
    CoreHole,
    HowCut,
    Operation,
    PlungeCut,
    ReliefHoles,
    RoundNotch,
    StoppedCut,
    StraightCut,
)
from cutmarks.geometry.frames import Point, Tile
from cutmarks.openings.model import CutPiece
from cutmarks.saying.how_cut import operation_words
from cutmarks.units import Style
from cutmarks.writers.number import exact


def how_cut_json(how: HowCut, piece: CutPiece, style: Style) -> dict[str, Any]:
    """The operations in their order, each with its words."""
    return {
        "first": how.first,
        "operations": [
            {**_NOTHING, "cut": one.cut, "words": operation_words(one, piece, style), **_operation(one)}
            for one in how.operations
        ],
        "strips": [
            {"after": strip.after, "wide": exact(strip.wide), "long": exact(strip.long)} for strip in how.strips
        ],
    }


_NOTHING: dict[str, Any] = {"at": [], "d": None, "side": None, "way": None, "from": None, "stops": [], "fingers": []}


def _operation(one: Operation) -> dict[str, Any]:
    match one:
        case CoreHole():
            return {"do": "core", "at": [_xy(one.at)], "d": exact(one.d), "side": one.side}
        case ReliefHoles():
            return {"do": "relief holes", "at": list(map(_xy, one.at)), "d": exact(one.d)}
        case StraightCut():
            return {"do": "straight", "way": one.way, **_along(one)}
        case StoppedCut():
            return {"do": "stopped", **_along(one), "stops": _stops(one)}
        case PlungeCut():
            return {"do": "plunge", **_along(one), "stops": _stops(one)}
        case RoundNotch():
            return {"do": "round notch", "fingers": [[exact(cut.at), exact(cut.deep)] for cut in one.fingers]}
        case ByHand():
            return {"do": "by hand", "at": [_xy(one.at)], "d": exact(2.0 * one.radius)}
        case AlongOutline():
            return {"do": "along its line"}


def _along(one: StraightCut | StoppedCut | PlungeCut) -> dict[str, Any]:
    measure = one.from_edge
    if measure is None:
        return {"at": [_xy(one.start), _xy(one.end)]}
    from_edge = {"side": measure.side, "first": exact(measure.first), "last": exact(measure.last)}
    return {"at": [_xy(one.start), _xy(one.end)], "from": from_edge}


def _stops(one: StoppedCut | PlungeCut) -> list[dict[str, Any]]:
    return [
        {
            "disc": exact(reach.disc.d),
            "past": exact(reach.past),
            "face": exact(reach.near + one.clear),
            "back": exact(reach.far + one.clear),
            "left": exact(reach.left),
        }
        for reach in one.reaches
    ]


def _xy(at: Point[Tile]) -> list[float]:
    return [exact(at.x), exact(at.y)]
