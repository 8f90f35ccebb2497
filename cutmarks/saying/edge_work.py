"""What is done to the sides of a piece that are seen, and what hides them, in words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from cutmarks.openings.edge_work import EdgeWork
from cutmarks.openings.model import CutPiece
from cutmarks.sides import SIDES, Side
from cutmarks.units import Style, say

PLAIN: Mapping[Side, str] = {side: str(side) for side in SIDES}
_MEETS = {"front laps": "it laps the tile round the corner", "return laps": "what stands round the corner laps it"}


def edge_work_words(piece: CutPiece, style: Style, names: Mapping[Side, str] = PLAIN) -> list[str]:
    """One sentence for each side that the job says more of: "right (window): polished, trim 2½ on it".

    `names` has what the sides are called; a mitre says where its size is.
    """
    return [f"{_where(work, names)}: {', '.join(_parts(work, style))}" for work in piece.edge_work]


def _where(work: EdgeWork, names: Mapping[Side, str]) -> str:
    """The side, and what it lies at: of an edge of the surface that is called as the side, its name alone."""
    side = names[work.side]
    return work.at if work.at == f"{side} edge" else f"{side} ({work.at})"


def _parts(work: EdgeWork, style: Style) -> Iterator[str]:
    if work.is_mitred:
        back = "by the tile's thickness" if work.short is None else say(work.short, style)
        yield f"MITRE, its size is at the FACE and the back is short {back}"
    elif work.finish:
        yield work.finish
    if work.corner is not None and work.corner.way == "trim":
        yield f"trim {say(work.corner.wide, style)} on it"
    elif work.corner is not None and work.corner.way in _MEETS:
        yield _MEETS[work.corner.way]
    if work.hidden is None:
        if work.hidden_by:
            yield f"{work.hidden_by} covers it"
    elif work.hidden > 0.0:
        yield f"{work.hidden_by} hides {say(work.hidden, style)} of it"
    else:
        yield f"{work.hidden_by} does not reach over it"
