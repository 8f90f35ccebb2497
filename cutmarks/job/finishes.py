"""How the edge of a tiled face is finished: what covers it, and how tile meets tile round an outer corner."""

from __future__ import annotations

import re
from typing import Annotated, Literal

from cutmarks.job.declared import Key
from cutmarks.job.fields import WIDEST_GAP, parsed, words
from cutmarks.job.measures import in_range
from cutmarks.job.words import FIGURE, Setting, either, found
from cutmarks.patterns import late
from cutmarks.readings import OuterCorner, SillBoard
from cutmarks.units import match_length, parse_length

CORNERS = ("trim 2.5", "mitre", "front laps", "return laps")


def parse_corner(text: str, setting: Setting) -> OuterCorner:
    """A way for tile to meet tile: trim 2.5, mitre, front laps or return laps. Raises ValueError."""
    phrase = text.casefold()
    if phrase in ("mitre", "miter", "mitred", "mitered"):
        return OuterCorner("mitre")
    if phrase in ("front laps", "return laps"):
        return OuterCorner("front laps" if phrase == "front laps" else "return laps")
    if phrase.startswith("trim ") and phrase[5:].strip():
        width = parse_length(text[5:].strip(), setting.unit).mm
        return OuterCorner("trim", in_range(text, width, 0.0, WIDEST_GAP, "a trim", setting))
    raise ValueError(f"{found(text)} is no way for tiles to meet round a corner: write {either(CORNERS)}.")


def how_wide(text: str, setting: Setting) -> float | None:
    """The figure in what covers an edge, mm: "architrave 15", "oak 20", "22 thick"; None where it has none.

    Raises ValueError: it has more than one, and which of them is meant cannot be told.
    """
    first = re.search(f"[{FIGURE}]", text)
    if first is None:
        return None
    taken = match_length(text[first.start() :], setting.unit)
    if taken is None:
        return None
    length, rest = taken
    if re.search(f"[{FIGURE}]", rest):
        raise ValueError(f"{found(text)} has more than one figure: write one alone, as in architrave 15, or oak 20.")
    return in_range(text, length.mm, 0.0, WIDEST_GAP, "what covers an edge", setting)


_HORNS = late(r",?\s*(?:with )?horns?\b\s*(?:of )?")


def parse_sill(text: str, setting: Setting) -> SillBoard:
    """What lies on a foot: "oak 20", "tile", "oak 22, horns 40".

    Raises ValueError: its horns have no length, or the board no thickness.
    """
    cut = _HORNS.search(text.casefold())
    board = text if cut is None else text[: cut.start()]
    thick = how_wide(board, setting)
    if cut is None:
        return SillBoard(text, thick)
    horns = how_wide(text[cut.end() :], setting)
    if horns is None or thick is None:
        raise ValueError(
            f"{found(text)} does not say how thick the board is and how far its horns go past the opening on each "
            "side: write sill board: oak 22, horns 40."
        )
    return SillBoard(text, thick, horns)


CornerField = Annotated[
    Annotated[OuterCorner, parsed(parse_corner)] | None,
    Key("how tile meets tile round an outer corner", CORNERS),
]
EdgeFinish = Annotated[
    Literal["as sawn", "arris", "polished", "mitre", "bullnose", ""],
    words("as sawn", "arris", "polished", "mitre", "bullnose"),
    Key("how the tile's edge is finished there, where it is seen", ("polished", "arris", "bullnose", "mitre")),
]
HowWide = Annotated[float, parsed(how_wide)]
