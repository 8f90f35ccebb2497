"""Whether a thing is a box or a round one: the one list of words, for all that asks."""

from __future__ import annotations

from cutmarks.fittings.model import Fitting

BOX_KINDS = ("box", "plate", "device")
ROUND_KINDS = ("pipe", "waste")
BOX_WORDS = ("box", "socket", "switch", "plate", "spur", "outlet")


def is_box(what: str, fitting: Fitting | None) -> bool:
    """By the catalogue's kind where it knows, else by the words: a wc outlet is round, a kitchen outlet a box."""
    if fitting is not None and fitting.kind in (*BOX_KINDS, *ROUND_KINDS):
        return fitting.kind in BOX_KINDS
    return any(word in what.casefold() for word in BOX_WORDS)
