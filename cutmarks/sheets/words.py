"""The trade's words on both sides of the ocean, in one table: what stands on paper.

A job says which it wants (`say: uk | us`). Only words that differ, and that a sheet prints, stand here; everything
else is the same sentence for both.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Dialect = Literal["uk", "us"]


@dataclass(frozen=True, slots=True)
class Wording:
    """One side's words, lower case, singular; a caller makes the capital and the plural."""

    joint: str
    """The space between two tiles."""
    batten: str
    """The level support that the first full course stands on."""
    cover: str
    """What hides the hole round a pipe."""
    faceplate: str
    """What hides the cut-out round a box."""
    back_box: str
    set_out: str
    """The lines and the order of the tiles."""
    gauge_rod: str
    worktop: str
    bath: str
    tray: str
    architrave: str
    reveal: str
    skirting: str
    adhesive: str
    calibre: str
    rcd: str
    """The device that trips on a fault to earth."""
    centre: str
    tap: str


UK = Wording(
    joint="joint",
    batten="batten",
    cover="cover",
    faceplate="faceplate",
    back_box="back box",
    set_out="set-out",
    gauge_rod="gauge rod",
    worktop="worktop",
    bath="bath",
    tray="tray",
    architrave="architrave",
    reveal="reveal",
    skirting="skirting",
    adhesive="adhesive",
    calibre="calibre",
    rcd="30 mA RCD",
    centre="centre",
    tap="tap",
)

US = Wording(
    joint="grout joint",
    batten="ledger",
    cover="escutcheon",
    faceplate="cover plate",
    back_box="electrical box",
    set_out="layout",
    gauge_rod="story pole",
    worktop="counter",
    bath="tub",
    tray="pan",
    architrave="casing",
    reveal="return",
    skirting="baseboard",
    adhesive="thin-set",
    calibre="caliber",
    rcd="GFCI (30 mA RCD)",
    centre="center",
    tap="faucet",
)


def wording(say: Dialect) -> Wording:
    """The words that a job asked for.

    >>> wording("us").batten
    'ledger'
    """
    return UK if say == "uk" else US
