"""Everything that one sheet gives when each cut goes right across what is left of it: exact, with a layout of each.

A saw, and a snap cutter, cut right through. Of every choice of pieces the smallest rectangles are kept out of which it
can be cut: two of them side by side, or one above the other, with the saw's kerf between, are one larger; of those none
is kept that another is no larger than. A choice is possible when one of its rectangles goes into the sheet, and never
where a part of it is not, so that choices grow piece by piece. A piece may need edges of the sheet itself, where it has
the maker's: then the rectangle that it is in lies at these sides, and spans the sheet where it needs two that face each
other. Lengths are whole hundredths of a millimetre, pieces rounded up and the sheet down.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import product

from msgspec import Struct

from cutmarks.geometry.tolerance import TOUCH
from cutmarks.sides import ON_AXIS, Axis, Side

HUNDREDTHS = 100.0
SheetChoice = tuple[int, ...]
"""How many there are of each kind of piece."""


class StockBlank(Struct, frozen=True):
    """One way in which a kind of piece may lie in a sheet: w x h mm, and the sides that it needs of the sheet.

    turn  so many quarters it is turned for that, against the clock.
    """

    kind: int
    w: float
    h: float
    makers: frozenset[Side] = frozenset()
    turn: int = 0


class LiesInStock(Struct, frozen=True):
    """A piece in a sheet: its kind, its lower left corner, mm from the sheet's, its size there, its quarter turns."""

    kind: int
    x: float
    y: float
    w: float
    h: float
    turn: int = 0


class CutAcross(Struct, frozen=True):
    """One cut through all that holds together there.

    axis        across: the saw goes up, and parts left from right; up: it goes across, and parts low from high.
    at          the edge that it makes of what is kept, mm from the sheet's left or bottom; low: where its kerf begins.
    start, end  of the cut along the saw's way, mm.
    """

    axis: Axis
    at: float
    low: float
    start: float
    end: float


class SheetLayout(Struct, frozen=True):
    """Where each piece lies, and the cuts in their order; left: what is left over, w x h mm."""

    pieces: tuple[LiesInStock, ...]
    cuts: tuple[CutAcross, ...]
    left: tuple[tuple[float, float], ...]


class _Held(Struct, frozen=True):
    """The smallest rectangle for some pieces: of a blank, or of two parts beside each other on an axis."""

    w: int
    h: int
    makers: frozenset[Side]
    blank: StockBlank | None = None
    axis: Axis = "across"
    parts: tuple[_Held, ...] = ()

    def within(self, other: _Held) -> bool:
        """Whether it does for all that the other does."""
        return self.w <= other.w and self.h <= other.h and self.makers <= other.makers


class StockSheet(Struct, frozen=True):
    """What is cut: w x h mm, and what the saw takes, mm."""

    w: float
    h: float
    kerf: float = 0.0

    @property
    def size(self) -> tuple[int, int]:
        """Its size in hundredths."""
        return _down(self.w), _down(self.h)


def possible(
    blanks: Sequence[StockBlank], most: SheetChoice, sheet: StockSheet, limit: int
) -> dict[SheetChoice, SheetLayout] | None:
    """Every choice of pieces, up to `most` of each kind, that one sheet gives, with a layout; None: over `limit`."""
    held = _grown(blanks, most, sheet, limit)
    return None if held is None else {choice: _laid_out(front[0], sheet) for choice, front in held.items()}


def _grown(
    blanks: Sequence[StockBlank], most: SheetChoice, sheet: StockSheet, limit: int
) -> dict[SheetChoice, tuple[_Held, ...]] | None:
    known: dict[SheetChoice, tuple[_Held, ...]] = {}
    for kind in range(len(most)):
        own = [one for one in (_alone(blank, sheet) for blank in blanks if blank.kind == kind) if one is not None]
        if most[kind] and own:
            known[tuple(int(other == kind) for other in range(len(most)))] = _smallest(own)
    singles, last = list(known), list(known)
    while last:
        grown: list[SheetChoice] = []
        for choice in dict.fromkeys(_more(last, singles, most)):
            front = _smallest(_built(choice, known, sheet))
            if front:
                known[choice] = front
                grown.append(choice)
                if len(known) > limit:
                    return None
        last = grown
    return known


def _more(last: Sequence[SheetChoice], singles: Sequence[SheetChoice], most: SheetChoice) -> Iterator[SheetChoice]:
    """One piece more than each of the choices."""
    for choice in last:
        for single in singles:
            more = tuple(a + b for a, b in zip(choice, single, strict=True))
            if all(a <= b for a, b in zip(more, most, strict=True)):
                yield more


def _built(choice: SheetChoice, known: Mapping[SheetChoice, tuple[_Held, ...]], sheet: StockSheet) -> Iterator[_Held]:
    """Every rectangle of two parts of a choice beside each other."""
    for part in product(*(range(many + 1) for many in choice)):
        rest = tuple(all_ - own for all_, own in zip(choice, part, strict=True))
        if part in known and rest in known:
            for one, other in product(known[part], known[rest]):
                # Each part has its turn as the one on the left, or below.
                for axis in ("across", "up") if part <= rest or one.makers or other.makers else ():
                    both = _beside(one, other, axis, sheet)
                    if both is not None:
                        yield both


def _alone(blank: StockBlank, sheet: StockSheet) -> _Held | None:
    return _fits(_up(blank.w), _up(blank.h), blank.makers, sheet, blank=blank)


def _beside(one: _Held, other: _Held, axis: Axis, sheet: StockSheet) -> _Held | None:
    """The one on the left of the other, or below it; None where an edge would lie inside, or it does not fit."""
    low, high = ON_AXIS[axis]
    if high in one.makers or low in other.makers:
        return None
    kerf = _up(sheet.kerf)
    w, h = max(one.w, other.w), max(one.h, other.h)
    if axis == "across":
        w = one.w + kerf + other.w
    else:
        h = one.h + kerf + other.h
    return _fits(w, h, one.makers | other.makers, sheet, axis=axis, parts=(one, other))


def _fits(
    w: int,
    h: int,
    makers: frozenset[Side],
    sheet: StockSheet,
    *,
    blank: StockBlank | None = None,
    axis: Axis = "across",
    parts: tuple[_Held, ...] = (),
) -> _Held | None:
    """A rectangle that spans the sheet where it has to; None where it is larger, or a piece that has to is smaller."""
    wide = _spanning(w, sheet.size[0], spans=makers.issuperset(ON_AXIS["across"]), of_blank=blank is not None)
    high = _spanning(h, sheet.size[1], spans=makers.issuperset(ON_AXIS["up"]), of_blank=blank is not None)
    return None if wide is None or high is None else _Held(wide, high, makers, blank, axis, parts)


def _spanning(size: int, whole: int, *, spans: bool, of_blank: bool) -> int | None:
    """How long it is on an axis: all of the sheet where it spans it; one hundredth more or less is no difference."""
    if size > whole + 1 or (spans and of_blank and size < whole - 1):
        return None
    return whole if spans else min(size, whole)


def _smallest(rectangles: Iterable[_Held]) -> tuple[_Held, ...]:
    """Those that none of the others does for."""
    front: list[_Held] = []
    for one in sorted(rectangles, key=lambda held: (held.w * held.h, held.w, len(held.makers))):
        if not any(before.within(one) for before in front):
            front.append(one)
    return tuple(front)


class _Box(Struct, frozen=True):
    """A part of the sheet, its lower left and upper right corner."""

    left: int
    low: int
    right: int
    high: int

    def parted(self, axis: Axis, at: int, kerf: int) -> tuple[_Box, _Box]:
        """What lies before a cut whose kerf begins at `at`, and what lies behind it."""
        if axis == "across":
            return _Box(self.left, self.low, at, self.high), _Box(at + kerf, self.low, self.right, self.high)
        return _Box(self.left, self.low, self.right, at), _Box(self.left, at + kerf, self.right, self.high)

    def span(self, axis: Axis) -> tuple[int, int]:
        """From where to where it reaches on an axis."""
        return (self.left, self.right) if axis == "across" else (self.low, self.high)


class _Cutter:
    """A layout while it is made."""

    def __init__(self, kerf: int) -> None:
        self.kerf = kerf
        self.pieces: list[LiesInStock] = []
        self.cuts: list[CutAcross] = []
        self.left: list[tuple[float, float]] = []

    def place(self, held: _Held, box: _Box) -> None:
        """Cut what is too much of a box off first, so that it is one offcut, then part what is held."""
        for axis, (_, far) in ON_AXIS.items():
            box = self._trimmed(box, axis, held.w if axis == "across" else held.h, from_high=far in held.makers)
        if held.blank is not None:
            blank = held.blank
            self.pieces.append(
                LiesInStock(blank.kind, box.left / HUNDREDTHS, box.low / HUNDREDTHS, blank.w, blank.h, blank.turn)
            )
            return
        one, other = held.parts
        at = box.span(held.axis)[0] + (one.w if held.axis == "across" else one.h)
        self._cut(box, held.axis, at, at)
        low, high = box.parted(held.axis, at, self.kerf)
        self.place(one, low)
        self.place(other, high)

    def _trimmed(self, box: _Box, axis: Axis, size: int, *, from_high: bool) -> _Box:
        low, high = box.span(axis)
        if high - low <= size:
            return box
        if from_high:
            self._cut(box, axis, high - size, high - size - self.kerf)
            off, kept = box.parted(axis, high - size - self.kerf, self.kerf)
        else:
            self._cut(box, axis, low + size, low + size)
            kept, off = box.parted(axis, low + size, self.kerf)
        w, h = off.right - off.left, off.high - off.low
        if min(w, h) > 0:
            self.left.append((w / HUNDREDTHS, h / HUNDREDTHS))
        return kept

    def _cut(self, box: _Box, axis: Axis, at: int, low: int) -> None:
        start, end = box.span("up" if axis == "across" else "across")
        self.cuts.append(CutAcross(axis, at / HUNDREDTHS, low / HUNDREDTHS, start / HUNDREDTHS, end / HUNDREDTHS))


def _laid_out(held: _Held, sheet: StockSheet) -> SheetLayout:
    """Where the pieces lie and how the sheet is cut."""
    cutter = _Cutter(_up(sheet.kerf))
    cutter.place(held, _Box(0, 0, *sheet.size))
    return SheetLayout(tuple(cutter.pieces), tuple(cutter.cuts), tuple(cutter.left))


def _up(mm: float) -> int:
    return math.ceil(mm * HUNDREDTHS - TOUCH)


def _down(mm: float) -> int:
    return math.floor(mm * HUNDREDTHS + TOUCH)
