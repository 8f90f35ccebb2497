"""Where the tiles in hand are not enough: which of the starts that `cutmarks setout` shows needs fewer."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from cutmarks.buying.flow import what_to_buy
from cutmarks.choosing.offers import with_offer
from cutmarks.plan import make_plan
from cutmarks.plan.choices import choices_of
from cutmarks.saying.starts import start_said

if TYPE_CHECKING:
    from cutmarks.buying.model import TileNeed
    from cutmarks.choosing.offers import Choices, Offer
    from cutmarks.job import Job


def fewer_lines(read: Job, needs: Sequence[TileNeed], shown_by: str) -> Iterator[str]:
    """A line for each kind of tile that is short, counted as what is bought: offcuts and spares in it.

    shown_by  what shows all starts, as who reads this can ask for it.
    """
    short = [need for need in needs if need.short is not None and need.short > 0]
    if not short:
        return
    taken = [
        (one, number, offer, _totals(read, one, offer))
        for one in choices_of(read)
        for number, offer in enumerate(one.offers, 1)
    ]
    for need in short:
        assert need.total is not None
        better = [
            (total, one, number, offer)
            for one, number, offer, totals in taken
            if (total := totals.get(need.tile)) is not None and total < need.total
        ]
        if not better:
            yield f"{need.tile}: no start that {shown_by} shows needs fewer than {need.total}"
            continue
        total, one, number, offer = min(better, key=lambda row: row[0])
        said = "; ".join(start_said(start) for start in offer.starts)
        assert need.have is not None
        enough = "enough" if total <= need.have else f"{total - need.have} short"
        yield f"{need.tile}: start {number} of {shown_by}, {one.surface} ({said}) needs {total}: {enough}"


def _totals(read: Job, one: Choices, offer: Offer) -> dict[str, int | None]:
    """How many tiles of each kind the whole job takes with this start."""
    plan = make_plan(with_offer(read, one.surface, offer), undecided=True)
    return {need.tile: need.total for need in what_to_buy(plan).tiles}
