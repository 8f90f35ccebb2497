"""The choice among candidates: the fewest sheets whose worst error is within a little of the best possible."""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Iterable, Iterator, Mapping, Sequence

from msgspec.structs import replace

from cutmarks.registering.candidates import Candidate, PaperFit
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
    if len(indices) == 1:
        return [_for_one(candidates, indices[0], slack)]
    return _searched(candidates, indices, slack)


def _for_one(candidates: Sequence[Candidate], index: int, slack: float) -> Registration:
    """The short way for one cut alone: among the sheets that show it, any tape being held to itself."""
    showing = [one for one in candidates if index in one.fits]
    limit = min([one.fits[index].error for one in showing]) + slack + _EXACT
    kept = [one for one in showing if one.fits[index].error <= limit]
    chosen = min(kept, key=lambda one: _cost(one.registration.pages, [one.fits[index]]))
    return replace(chosen.registration, cuts=(index,))


def _searched(candidates: Sequence[Candidate], indices: Sequence[int], slack: float) -> list[Registration]:
    """The long way, for any number of cuts."""
    kept = _within(candidates, _best(candidates, indices) + slack + _EXACT)
    search = _Search(kept, tuple(indices))
    search.run((), 0, (1 << len(indices)) - 1)
    return _sheets(kept, search.chosen, indices)


def _best(candidates: Sequence[Candidate], indices: Sequence[int]) -> float:
    """The least worst error with which every cut is on some sheet, however many sheets that takes, mm."""
    alone = [
        replace(one, fits={index: replace(fit, spaced=False) for index, fit in one.fits.items()}) for one in candidates
    ]
    errors = sorted({fit.error for one in alone for fit in one.fits.values()})
    every = set(indices)
    first = bisect_left(errors, True, key=lambda error: _cover(_within(alone, error)) >= every)
    last = bisect_left(errors, True, lo=first, key=lambda error: _own_cover(_within(alone, error)) >= every)
    # Between the two some cut stands beside another's tape alone: two of them may want the same tape.
    return next((error for error in errors[first:last] if _is_enough(_within(alone, error), indices)), errors[last])


def _cover(candidates: Iterable[Candidate]) -> set[int]:
    return {index for one in candidates for index in one.fits}


def _own_cover(candidates: Iterable[Candidate]) -> set[int]:
    """The cuts that stand on a sheet without a tape, or with a tape of their own: these never want the same one."""
    return {index for one in candidates for index in one.fits if one.anchor in (None, index)}


def _is_enough(kept: Sequence[Candidate], indices: Sequence[int]) -> bool:
    """Whether there is a sheet for every cut, no tape being held to one cut on two sheets."""
    search = _Search(kept, tuple(indices))
    search.run((), 0, (1 << len(indices)) - 1)
    return search.cost is not None


def _within(candidates: Iterable[Candidate], limit: float) -> list[Candidate]:
    """The candidates with those of their cuts that come no further off than `limit`; the tape's own cut must.

    One that keeps its spacing stays with it where `limit` holds for that.
    """
    kept = []
    for one in candidates:
        fits = {index: fit for index, fit in one.fits.items() if fit.error <= limit or fit.spaced}
        if fits and (one.anchor is None or one.anchor in fits):
            kept.append(replace(one, fits=fits))
    return kept


class _Search:
    """Branch and bound: the cut that the fewest candidates show is put on each of them in turn.

    A set of cuts is the bits of one number, by their places in `indices`.
    """

    def __init__(self, kept: Sequence[Candidate], indices: tuple[int, ...]) -> None:
        self.chosen: tuple[int, ...] = ()
        self.cost: Cost | None = None
        self.steps = 0
        self._kept = kept
        self._showing = _showing(kept, indices)
        places = {index: place for place, index in enumerate(indices)}
        self._shows = [sum(1 << places[index] for index in one.fits) for one in kept]
        hardest = sorted(indices, key=lambda index: (len(self._showing[index]), index))
        self._hardest = [(1 << places[index], self._showing[index]) for index in hardest]

    def run(self, taken: tuple[int, ...], pages: int, open_cuts: int) -> None:
        """Try every way to show the cuts that are still open, given the candidates that are taken, and their pages."""
        self.steps += 1
        if not open_cuts:
            if self.cost is None or pages <= self.cost[0]:
                cost = self._cost(pages, taken)
                if self.cost is None or cost < self.cost:
                    self.cost, self.chosen = cost, taken
            return
        if self.cost is not None and (pages + 1 > self.cost[0] or self.steps > _MOST_STEPS):
            return
        # A cut that one tape is held to stands on that sheet alone.
        anchored = {self._kept[number].anchor for number in taken}
        hardest = next(numbers for cut, numbers in self._hardest if cut & open_cuts)
        # The widest first: a good cover early on cuts off most of the rest.
        for number in sorted(hardest, key=lambda n: (-(open_cuts & self._shows[n]).bit_count(), n)):
            one = self._kept[number]
            if one.anchor is None or one.anchor not in anchored:
                self.run((*taken, number), pages + one.registration.pages, open_cuts & ~self._shows[number])

    def _cost(self, pages: int, taken: Sequence[int]) -> Cost:
        fits = [fit for _, _, fit in _shared(self._kept, taken, self._showing)]
        return _cost(pages, fits)


def _cost(pages: int, fits: Sequence[PaperFit]) -> Cost:
    return pages, sum([fit.off_fixed for fit in fits]), round(math.fsum([fit.error for fit in fits]), 9)


def _showing(kept: Sequence[Candidate], indices: Sequence[int]) -> Mapping[int, list[int]]:
    """The candidates that each cut stands on, by number: the best for it first."""
    found: dict[int, list[int]] = {index: [] for index in indices}
    for number, one in enumerate(kept):
        for index in one.fits:
            found[index].append(number)
    for index, numbers in found.items():
        numbers.sort(key=lambda one: (kept[one].fits[index].off_fixed, kept[one].fits[index].error, one))
    return found


def _shared(
    kept: Sequence[Candidate], taken: Sequence[int], by_cut: Mapping[int, Sequence[int]]
) -> Iterator[tuple[int, int, PaperFit]]:
    """Each cut with the candidate taken that it goes on: the one that has the tape held to it, else the best for it."""
    there = frozenset(taken)
    anchored = {kept[number].anchor: number for number in taken}
    for index, numbers in by_cut.items():
        number = anchored.get(index)
        if number is None:
            number = next(one for one in numbers if one in there)
        yield index, number, kept[number].fits[index]


def _sheets(kept: Sequence[Candidate], taken: Sequence[int], indices: Sequence[int]) -> list[Registration]:
    on_sheet: dict[int, list[int]] = {number: [] for number in taken}
    for index, number, _ in _shared(kept, taken, _showing(kept, indices)):
        on_sheet[number].append(index)
    sheets = []
    for number, cuts in on_sheet.items():
        if cuts:
            anchor = kept[number].anchor
            cuts.sort(key=lambda index: (index != anchor, index))
            sheets.append(replace(kept[number].registration, cuts=tuple(cuts)))
    return sorted(sheets, key=lambda sheet: min(sheet.cuts))
