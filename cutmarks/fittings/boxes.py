"""Whether a thing is a box or a round one, for all that asks."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import Literal

from cutmarks.fittings.finding import PHRASES_KEPT, find
from cutmarks.fittings.model import Fitting
from cutmarks.fittings.shape_words import BOX_WORDS, MAYBE_BOX_WORDS, ROUND_WORDS
from cutmarks.units import Unit

BOX_KINDS = ("box", "plate", "device")
ROUND_KINDS = ("pipe", "waste", "cover")
SINGLE = "1 gang box"
"""The catalogue's word for the box that a single plate covers."""

ThingShape = Literal["box", "round", ""]


@lru_cache(maxsize=PHRASES_KEPT)
def shape_by_kind(what: str, fitting: Fitting | None) -> ThingShape:
    """Box or round, by the catalogue's kind where it knows, else by the words; "" where neither tells.

    A wc outlet is round, a kitchen outlet a box; a box that the catalogue knows by its round hole is round.
    """
    if fitting is not None and fitting.kind in BOX_KINDS:
        return "round" if fitting.hole is not None and fitting.w is None else "box"
    if fitting is not None and fitting.kind in ROUND_KINDS:
        return "round"
    words = {word for plural in _words(what) for word in (plural, _singular(plural))}
    if {"round", "circular", "elbow"} & words:
        return "round"
    if words & BOX_WORDS:
        return "box"
    if words & ROUND_WORDS:
        return "round"
    return "box" if words & MAYBE_BOX_WORDS else ""


def is_box(what: str, fitting: Fitting | None) -> bool:
    """Whether it is known to be a box."""
    return shape_by_kind(what, fitting) == "box"


def is_square_box(what: str, fitting: Fitting | None, say: Literal["uk", "us"], wide: float | None) -> bool:
    """Whether a box is known to be as wide as it is high: it is said, or all boxes of its name are.

    A box of no name that the catalogue knows is square where it is as wide, mm, as a single box of the job's own
    country, and that is: a double one is as high, but twice as wide.
    """
    if "square" in _words(what):
        return True
    sizes = sizes_of(fitting)
    if sizes:
        return all(w == h for w, h in sizes)
    single = sizes_of(find(SINGLE, say, Unit.MM))
    return wide is not None and all(w == h for w, h in single) and single[0][0] <= wide <= single[-1][0]


def sizes_of(fitting: Fitting | None) -> list[tuple[float, float]]:
    """The sizes that a box of this name is sold in, across and up, mm, the smallest first; none where none is known."""
    if fitting is None:
        return []
    if fitting.w is not None and fitting.h is not None:
        return [(fitting.w, fitting.h)]
    return sorted((one.w, one.h) for one in fitting.choices if one.w is not None and one.h is not None)


def _words(what: str) -> list[str]:
    return re.findall(r"[^\W\d_]+", what.casefold())


def _singular(word: str) -> str:
    return word.removesuffix("es") if word.endswith(("boxes", "switches")) else word.removesuffix("s")
