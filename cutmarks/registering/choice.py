"""The choice among candidates: the fewest sheets whose worst error is within a little of the best possible."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from cutmarks.registering.candidates import Candidate, Fit
from cutmarks.registering.model import Registration

_EXACT = 1e-9
"""What rounding may add to an error, mm."""
_MOST_STEPS = 4_000
"""Steps of the search in one piece; a tile with a dozen holes takes some hundred. Then the best found is taken."""

Cost = tuple[int, int, float]
"""Pages, axes that are not lined up on the fixed side, sum of the errors."""


def choose(candidates: Sequence[Candidate], indices: Sequence[int], slack: float) -> list[Registration]:
    """The sheets for the cuts of `indices`, each cut on exactly one; every cut must fit some candidate.

    A sheet less is worth `slack` mm of error at the worst hole.
    Among covers with as few pages those are taken that line up most on the fixed side, then those with the least
    sum of errors.
    """
    kept = _within(candidates, _best(candidates, indices) + slack + _EXACT)
    search = _Search(kept, tuple(indices))
    search.run((), frozenset(indices))
    return _sheets(kept, search.chosen, indices)


def _best(candidates: Sequence[Candidate], indices: Sequence[int]) -> float:
    """The least worst error with which every cut is on some sheet, however many sheets that takes, mm."""
    errors = sorted({fit.error for one in candidates for fit in one.fits.values()})
    return errors[bisect_left(errors, True, key=lambda error: _cover(_within(candidates, error)) >= set(indices))]


def _cover(candidates: Iterable[Candidate]) -> set[int]:
    return {index for one in candidates for index in one.fits}


def _within(candidates: Iterable[Candidate], limit: float) -> list[Candidate]:
    """The candidates with those of their cuts that come no further off than `limit`; the tape's own cut must."""
    kept = []
    for one in candidates:
        fits = {index: fit for index, fit in one.fits.items() if fit.error <= limit}
        if fits and (one.anchor is None or one.anchor in fits):
            kept.append(replace(one, fits=fits))
    return kept


@dataclass(slots=True)
class _Search:
    """Branch and bound: the cut that the fewest candidates show is put on each of them in turn."""

    kept: Sequence[Candidate]
    indices: tuple[int, ...]
    chosen: tuple[int, ...] = ()
    cost: Cost | None = None
    steps: int = 0

    def run(self, taken: tuple[int, ...], open_cuts: frozenset[int]) -> None:
        """Try every way to show the cuts that are still open, given the candidates that are taken."""
        self.steps += 1
        pages = sum(self.kept[number].registration.pages for number in taken)
        if not open_cuts:
            cost = self._cost(pages, taken)
            if self.cost is None or cost < self.cost:
                self.cost, self.chosen = cost, taken
            return
        if self.cost is not None and (pages + 1 > self.cost[0] or self.steps > _MOST_STEPS):
            return
        showing = {
            index: [number for number, one in enumerate(self.kept) if index in one.fits] for index in sorted(open_cuts)
        }
        # A cut that one tape is held to stands on that sheet alone.
        anchored = {self.kept[number].anchor for number in taken}
        hardest = min(showing, key=lambda index: len(showing[index]))
        # The widest first: a good cover early on cuts off most of the rest.
        for number in sorted(showing[hardest], key=lambda n: -len(open_cuts & self.kept[n].fits.keys())):
            if self.kept[number].anchor is None or self.kept[number].anchor not in anchored:
                self.run((*taken, number), open_cuts - self.kept[number].fits.keys())

    def _cost(self, pages: int, taken: Sequence[int]) -> Cost:
        fits = [fit for on in _shared(self.kept, taken, self.indices).values() for fit in on.values()]
        return pages, sum(fit.off_fixed for fit in fits), round(sum(fit.error for fit in fits), 9)


def _shared(kept: Sequence[Candidate], taken: Sequence[int], indices: Sequence[int]) -> Mapping[int, dict[int, Fit]]:
    """Each cut on one of the candidates taken: the one that has the tape held to it, else the best for it."""
    shared: dict[int, dict[int, Fit]] = {number: {} for number in taken}
    anchored = {kept[number].anchor: number for number in taken}
    for index in indices:
        number = anchored.get(index)
        if number is None:
            on = [one for one in taken if index in kept[one].fits]
            number = min(on, key=lambda one: (kept[one].fits[index].off_fixed, kept[one].fits[index].error, one))
        shared[number][index] = kept[number].fits[index]
    return shared


def _sheets(kept: Sequence[Candidate], taken: Sequence[int], indices: Sequence[int]) -> list[Registration]:
    sheets = []
    for number, fits in _shared(kept, taken, indices).items():
        if fits:
            anchor = kept[number].anchor
            cuts = sorted(fits, key=lambda index: (index != anchor, index))
            sheets.append(replace(kept[number].registration, cuts=tuple(cuts)))
    return sorted(sheets, key=lambda sheet: min(sheet.cuts))
