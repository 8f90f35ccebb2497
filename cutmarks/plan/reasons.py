"""Why a surface is started as it is: what its start leaves, beside the two that anybody would try first."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import cache
from typing import TYPE_CHECKING

from msgspec.structs import replace

from cutmarks.choosing.choose import Chooser
from cutmarks.choosing.offers import Offer
from cutmarks.choosing.words import of_axis
from cutmarks.plan.model import StartReason
from cutmarks.plan.surfaces import Laid
from cutmarks.readings import Anchor, From, Reading, Start

if TYPE_CHECKING:
    from cutmarks.job import Job

PLAIN: tuple[Anchor, ...] = ("joint", "middle")
"""What a tiler puts on the main line when he does not think about it: a joint, or the middle of a tile."""


def reasons_of(laid: Sequence[Laid], job: Job) -> Callable[[], tuple[StartReason, ...]]:
    """For each surface that has its start what it leaves, and what the plain ones would that are another.

    It takes as long as a tenth of the plan, and two pages alone want it: it is worked out, once, when it is asked for.
    """
    choosers = [Chooser(one.spec, one.setout, one.openings, job) for one in laid if one.material.unlaid is None]

    @cache
    def reasons() -> tuple[StartReason, ...]:
        return tuple(_reasons(choosers))

    return reasons


def _reasons(choosers: Sequence[Chooser]) -> Iterator[StartReason]:
    for one in choosers:
        now = one.now()
        if now is not None:
            yield StartReason(one.setout.name, now, tuple(_plain(one, now)))


def _plain(one: Chooser, now: Offer) -> Iterator[Offer]:
    """The areas with the same start on the main line, each as high as it is; not where that is what they have."""
    line = of_axis(one.setout.lines.values(), "across")[0].name
    seen = {_places(now)}
    for anchor in PLAIN:
        across = Start(anchor, Reading("centre", 0.0, None, From("line", line), line))
        spec = replace(one.spec, areas=tuple(replace(area, start_across=across) for area in one.spec.areas))
        offer = replace(one, spec=spec).now()
        if offer is not None and _places(offer) not in seen:
            seen.add(_places(offer))
            yield offer


def _places(offer: Offer) -> tuple[tuple[str, float], ...]:
    """Where the tiles of each area then lie across, whatever words put them there."""
    return tuple(
        (start.area, round(start.x % start.layout.grid.pitch_u, 3) if start.layout is not None else start.x)
        for start in offer.starts
    )
