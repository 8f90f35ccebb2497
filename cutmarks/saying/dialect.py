"""The trade's words on both sides of the ocean, in one table: what stands on paper.

A job says which it wants (`say: uk | us`). Only words that differ, and that a sheet prints, stand here; everything
else is the same sentence for both. (A tile's place in words comes with the piece, from `cutmarks.tiling.words`.)
"""

from __future__ import annotations

from msgspec import Struct

from cutmarks.fittings.finding import Dialect


class Wording(Struct, frozen=True):
    """One side's words, lower case, singular.

    joint      the space between two tiles.
    cover      what hides the hole round a pipe.
    faceplate  what hides the cut-out round a box.
    worktop, bath  what a wall stands on.
    rcd        the device that trips on a fault to earth.
    batten     what a first course stands on, screwed to the wall.
    rod        what tiles and joints are marked off on.
    set_out    where the tiles go, as it is marked.
    """

    joint: str
    cover: str
    faceplate: str
    worktop: str
    bath: str
    rcd: str
    batten: str
    rod: str
    set_out: str


UK = Wording(
    joint="joint",
    cover="cover",
    faceplate="faceplate",
    worktop="worktop",
    bath="bath",
    rcd="30 mA RCD",
    batten="batten",
    rod="gauge rod",
    set_out="set-out",
)

US = Wording(
    joint="grout joint",
    cover="escutcheon",
    faceplate="cover plate",
    worktop="counter",
    bath="tub",
    rcd="GFCI (30 mA RCD)",
    batten="ledger",
    rod="story pole",
    set_out="layout",
)


def wording(say: Dialect) -> Wording:
    """The words that a job asked for.

    >>> wording("us").cover
    'escutcheon'
    """
    return UK if say == "uk" else US


def cautions(say: Dialect) -> tuple[str, ...]:
    """The cautions, one instruction a line."""
    words = wording(say)
    return (
        "Cables and pipes behind the surface: find them before you drill.",
        "Before a plate comes off: the supply isolated, and proved dead by someone competent.",
        "Cut wet and keep the dust down: it holds respirable crystalline silica. Protect eyes, ears and lungs.",
        f"Run the saw on a {words.rcd}. Large panels are carried by two.",
        "Local codes, the makers' sheets and licensed practice come first.",
        "Measure again on the wall before cutting. Dry-fit before bedding.",
    )
