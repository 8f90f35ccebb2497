"""What is bought, as it is said on the box and the bag: boxes of tiles, tiles in hand, what a bag makes.

Every fault is a ValueError of one sentence: what was found, what is allowed, what to write.
"""

from __future__ import annotations

import math
import re

from cutmarks.job.words import UNKNOWN, Setting, found, spaced
from cutmarks.patterns import late
from cutmarks.readings import BagOf, BoxOfTiles, InHand, Size

MOST_IN_BOX = 2_000
MOST_IN_HAND = 1_000_000
BOX_OUT = 0.25
"""An area on a box is of nominal sizes, or with joints in it, and rounded: it may be so far from a whole number."""
MOST_LITRES = 1_000.0
MM2_PER_M2 = 1_000_000.0
MM2_PER_SQUARE_FOOT = 304.8**2
KG_PER_LB = 0.45359237

_COUNT = late(r"(\d+)(?:\s*(?:tiles?|pieces?|pcs?|off|no))?$", re.IGNORECASE)
_IN_BOXES = late(r"(\d+)\s*(?:box|boxes|cartons?|packs?)$", re.IGNORECASE)
_A_BOX = late(r",?\s*(?:(?:in|to)\s+(?:a|the|each|every)\s+|a\s+|per\s+|/\s*)(?:box|carton|pack)$", re.IGNORECASE)
_FIGURE = r"(\d+(?:\.\d+)?)"
_AREA = late(_FIGURE + r"\s*(m2|m²|sq\.?\s*m|sqm|square metres?|sq\.?\s*ft|sqft|ft2|ft²|square feet)$", re.IGNORECASE)
_LITRES = late(_FIGURE + r"\s*(?:l|litres?|liters?)$", re.IGNORECASE)
_WEIGHT = late(_FIGURE + r"\s*(kg|lb|lbs)$", re.IGNORECASE)
_MAKES = late(r"(.+?)\s*(?:,\s*)?(?:makes|gives|yields)\s+(.+)$", re.IGNORECASE)
_AT = late(
    r"(.+?)\s*(?:,\s*)?(?:at\s+)" + _FIGURE + r"\s*kg\s*(?:a|per|/)\s*(?:litre|liter|l|m2\s*(?:a|per|/)\s*mm)$",
    re.IGNORECASE,
)


def parse_box(text: str, setting: Setting) -> BoxOfTiles:
    """What a box holds: "8", "8 tiles", "40 in a box", "1.44 m2", "15.5 sq ft". Raises ValueError."""
    tidy = spaced(text)
    held = _A_BOX.sub("", tidy)
    counted, area = _COUNT.match(held), _AREA.match(held)
    if counted is not None and 0 < int(counted[1]) <= MOST_IN_BOX:
        return BoxOfTiles(count=int(counted[1]))
    if area is not None and float(area[1]) > 0.0:
        per = MM2_PER_M2 if area[2].casefold().replace(" ", "").startswith(("m", "sqm", "sq.m", "squarem")) else 0.0
        return BoxOfTiles(area=float(area[1]) * (per or MM2_PER_SQUARE_FOOT))
    raise ValueError(
        f"{found(tidy)} is not what a box holds: write how many tiles, as in 8, or its area, as in 1.44 m2."
    )


def check_box(box: BoxOfTiles, size: Size) -> None:
    """Raises ValueError: the area on the box is no whole number of these tiles."""
    held = box.tiles(size)
    whole = round(held)
    if not 1 <= whole <= MOST_IN_BOX or abs(held - whole) > BOX_OUT:
        raise ValueError(
            f"box: by its area it holds {held:.1f} tiles of this size: write how many tiles are in it, as in box: "
            f"{max(1, math.floor(held))}."
        )


def parse_in_hand(text: str, setting: Setting) -> InHand:
    """What is there already: "25 tiles", "25", "3 boxes". Raises ValueError."""
    tidy = spaced(text)
    for pattern, in_boxes in ((_COUNT, False), (_IN_BOXES, True)):
        said = pattern.match(tidy)
        if said is not None and int(said[1]) <= MOST_IN_HAND:
            return InHand(int(said[1]), in_boxes)
    raise ValueError(f"{found(tidy)} is no number of tiles: write as in 25 tiles, or 3 boxes.")


def parse_bag(text: str, setting: Setting) -> BagOf | None:
    """A bag by its maker's figure: "20 kg makes 14 litres", "25 kg at 1.4 kg a litre", "14 litres"; None: ?.

    1.4 kg a m2 a mm is the same figure: a square metre one millimetre thick is a litre. Raises ValueError.
    """
    tidy = spaced(text)
    if tidy == UNKNOWN:
        return None
    made = _litres_in(tidy)
    if made is None or not 0.0 < made[0] <= MOST_LITRES:
        raise ValueError(
            f"{found(tidy)} is not what a bag makes: write its maker's figure, as in 20 kg makes 14 litres, or 25 kg "
            "at 1.4 kg a litre."
        )
    return BagOf(made[0], made[1])


def _litres_in(tidy: str) -> tuple[float, str] | None:
    """The litres that a bag makes, and the bag in words."""
    alone, makes, at = _LITRES.match(tidy), _MAKES.match(tidy), _AT.match(tidy)
    if alone is not None:
        return float(alone[1]), "bag"
    if makes is not None and _WEIGHT.match(makes[1]) and (litres := _LITRES.match(makes[2])) is not None:
        return float(litres[1]), f"{makes[1]} bag"
    if at is not None and (weight := _WEIGHT.match(at[1])) is not None and float(at[2]) > 0.0:
        kg = float(weight[1]) * (1.0 if weight[2].casefold() == "kg" else KG_PER_LB)
        return kg / float(at[2]), f"{at[1]} bag"
    return None
