"""In which order a tile is cut, so that no thin strip stands free on one end while there is still something to cut.

The tile is seen as the rectangles between all its cuts. What is cut off from the piece falls away; a strip is a row of
rectangles whose long sides are free (an edge, or a cut) and which hangs on at one end alone, narrower than a limit and
longer than so many times its width. Cuts that lie aslant by more than `outlines.RAKE` bound no strip.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Iterator, Sequence
from functools import cache
from itertools import accumulate, pairwise

from msgspec import Struct

from cutmarks.cutting.operations import FreeStrip
from cutmarks.geometry.edges import XY, Bounds

MOST_EXACT = 8
"""So many steps at most are put in order by looking at all orders; of more, each next step is chosen by itself."""
SAME = 1e-3
"""Places nearer than this are one, mm: no cut is told apart by less."""


class CutStep(Struct, frozen=True):
    """What is cut at once, as the order sees it.

    rank    what is usually done first has the lower one.
    slits   cuts along the tile's sides: (x0, y0, x1, y1), level or plumb.
    voids   what a hole takes out, as the box round it.
    before  numbers of the steps that it must come before.
    """

    rank: int
    slits: tuple[tuple[float, float, float, float], ...] = ()
    voids: tuple[Bounds, ...] = ()
    before: tuple[int, ...] = ()


class Ordered(Struct, frozen=True):
    """The order, by the steps' numbers; the strips that it cannot help; whether it had to leave the usual order."""

    steps: tuple[int, ...]
    strips: tuple[FreeStrip, ...]
    changed: bool


class Cells:
    """A tile of w x h mm in the rectangles between its cuts; states are numbers with a bit for each step that is done.

    is_piece  whether a place is the finished piece's.
    """

    def __init__(
        self,
        w: float,
        h: float,
        steps: Sequence[CutStep],
        is_piece: Callable[[float, float], bool],
        wide: float,
        times: float,
    ) -> None:
        """Work out what each step takes from each rectangle and from each border between two."""
        self.wide, self.times = wide, times
        corners = [(x, y) for one in steps for x0, y0, x1, y1 in one.slits for x, y in ((x0, y0), (x1, y1))]
        corners += [xy for one in steps for box in one.voids for xy in (box[:2], box[2:])]
        self.xs, self.ys = _lines([x for x, _ in corners], w), _lines([y for _, y in corners], h)
        self.columns, self.rows = len(self.xs) - 1, len(self.ys) - 1
        middles = [(x0 + x1) / 2.0 for x0, x1 in pairwise(self.xs)], [(y0 + y1) / 2.0 for y0, y1 in pairwise(self.ys)]
        self.is_piece = [[is_piece(x, y) for y in middles[1]] for x in middles[0]]
        # For every border and every rectangle the steps that take it, as bits.
        self.right_of = [[0] * self.rows for _ in range(self.columns)]
        self.above = [[0] * self.rows for _ in range(self.columns)]
        self.gone = [[0] * self.rows for _ in range(self.columns)]
        for number, one in enumerate(steps):
            self._take(1 << number, one, middles)

    def _take(self, bit: int, one: CutStep, middles: tuple[list[float], list[float]]) -> None:
        for x0, y0, x1, y1 in one.slits:
            if abs(x1 - x0) <= SAME:
                i = _place(self.xs, x0)
                for j, y in enumerate(middles[1]):
                    if 0 < i <= self.columns and min(y0, y1) < y < max(y0, y1):
                        self.right_of[i - 1][j] |= bit
            else:
                j = _place(self.ys, y0)
                for i, x in enumerate(middles[0]):
                    if 0 < j <= self.rows and min(x0, x1) < x < max(x0, x1):
                        self.above[i][j - 1] |= bit
        for box in one.voids:
            for i, x in enumerate(middles[0]):
                for j, y in enumerate(middles[1]):
                    if box.min_x < x < box.max_x and box.min_y < y < box.max_y:
                        self.gone[i][j] |= bit

    def strip(self, done: int) -> XY | None:
        """(wide, long) of the longest strip that stands free when these steps are done; None where there is none."""
        body = self._body(done)
        return max(
            (*self._strips(body, done, level=True), *self._strips(body, done, level=False)), key=_long, default=None
        )

    def _body(self, done: int) -> list[list[bool]]:
        """What still hangs together with any part of the finished piece."""
        body = [[False] * self.rows for _ in range(self.columns)]
        todo = [
            (i, j)
            for i in range(self.columns)
            for j in range(self.rows)
            if self._there(i, j, done) and self.is_piece[i][j]
        ]
        for i, j in todo:
            body[i][j] = True
        while todo:
            i, j = todo.pop()
            for a, b, cut in self._beside(i, j):
                if not body[a][b] and not cut & done and self._there(a, b, done):
                    body[a][b] = True
                    todo.append((a, b))
        return body

    def _there(self, i: int, j: int, done: int) -> bool:
        return not self.gone[i][j] & done

    def _beside(self, i: int, j: int) -> Iterator[tuple[int, int, int]]:
        """The rectangles beside one, each with the steps that cut it off."""
        if i > 0:
            yield i - 1, j, self.right_of[i - 1][j]
        if i + 1 < self.columns:
            yield i + 1, j, self.right_of[i][j]
        if j > 0:
            yield i, j - 1, self.above[i][j - 1]
        if j + 1 < self.rows:
            yield i, j + 1, self.above[i][j]

    def _strips(self, body: list[list[bool]], done: int, *, level: bool) -> Iterator[XY]:
        """The free strips that lie level, or stand."""
        along, across = (self.columns, self.rows) if level else (self.rows, self.columns)
        ends, sides = (self.xs, self.ys) if level else (self.ys, self.xs)

        def there(u: int, v: int) -> bool:
            return 0 <= u < along and 0 <= v < across and (body[u][v] if level else body[v][u])

        def joined_across(u: int, v: int) -> bool:
            """Whether (u, v) and (u, v + 1) hang together."""
            if not (there(u, v) and there(u, v + 1)):
                return False
            return not (self.above[u][v] if level else self.right_of[v][u]) & done

        def joined_along(u: int, low: int, high: int) -> bool:
            """Whether any of (u, low..high) hangs together with (u + 1, ...)."""
            return any(
                there(u, v) and there(u + 1, v) and not (self.right_of[u][v] if level else self.above[v][u]) & done
                for v in range(low, high + 1)
            )

        for low in range(across):
            for high in range(low, across):
                wide = sides[high + 1] - sides[low]
                if wide >= self.wide - SAME:
                    break
                free = [
                    all(there(u, v) for v in range(low, high + 1))
                    and all(joined_across(u, v) for v in range(low, high))
                    and not joined_across(u, low - 1)
                    and not joined_across(u, high)
                    for u in range(along)
                ]
                start = 0
                while start < along:
                    if not free[start]:
                        start += 1
                        continue
                    end = start
                    while end + 1 < along and free[end + 1] and joined_along(end, low, high):
                        end += 1
                    held = joined_along(start - 1, low, high), joined_along(end, low, high)
                    long = ends[end + 1] - ends[start]
                    if held.count(True) == 1 and long > self.times * wide + SAME:
                        yield wide, long
                    start = end + 1


def _long(strip: XY) -> float:
    return strip[1]


def _lines(places: Sequence[float], far: float) -> list[float]:
    """The lines between rectangles: both sides of the tile and all places between, each once."""
    lines: list[float] = [0.0]
    for place in sorted(places):
        if lines[-1] + SAME < place < far - SAME:
            lines.append(place)
    return [*lines, far]


def _place(lines: Sequence[float], at: float) -> int:
    """The number of the line that a place lies on."""
    number = bisect_left(lines, at - SAME)
    return min(number, len(lines) - 1)


def in_order(steps: Sequence[CutStep], cells: Cells) -> Ordered:
    """The steps in the order in which fewest leave a strip standing free, and of such orders the most usual."""
    usual = sorted(range(len(steps)), key=lambda number: (steps[number].rank, number))
    after = _after(steps)
    if len(steps) <= MOST_EXACT:
        chosen = _of_all(steps, cells, usual, after)
    else:
        chosen = _one_by_one(steps, cells, usual, after)
    strips, done = [], 0
    for place, number in enumerate(chosen[:-1]):
        done |= 1 << number
        strip = cells.strip(done)
        if strip is not None:
            strips.append(FreeStrip(place, *strip))
    return Ordered(tuple(chosen), tuple(strips), chosen != _allowed(usual, after))


def _after(steps: Sequence[CutStep]) -> list[int]:
    """For each step the steps that have to be done before it, as bits."""
    after = [0] * len(steps)
    for number, one in enumerate(steps):
        for later in one.before:
            after[later] |= 1 << number
    return after


def _allowed(usual: Sequence[int], after: Sequence[int]) -> list[int]:
    """The usual order, with what must come before a step put before it."""
    left, row, done = list(usual), [], 0
    while left:
        number = next((one for one in left if not after[one] & ~done), left[0])
        left.remove(number)
        row.append(number)
        done |= 1 << number
    return row


def _of_all(steps: Sequence[CutStep], cells: Cells, usual: Sequence[int], after: Sequence[int]) -> list[int]:
    """The best of all orders, from the last step back."""
    whole = (1 << len(steps)) - 1
    leaves_strip = cache(lambda done: done != whole and cells.strip(done) is not None)
    row = _allowed(usual, after)
    if row == list(usual) and not any(map(leaves_strip, accumulate(1 << number for number in row))):
        return row  # nothing is out of its turn, and nothing stands free: no other order is better

    @cache
    def best(done: int) -> tuple[int, int, tuple[int, ...]]:
        """(states with a strip, steps taken out of their turn, the row) from here on."""
        if done == whole:
            return 0, 0, ()
        found: tuple[int, int, tuple[int, ...]] | None = None
        for number in usual:
            if done >> number & 1 or after[number] & ~done:
                continue
            then = done | 1 << number
            strips, turns, row = best(then)
            strips += leaves_strip(then)
            turns += sum(steps[o].rank < steps[number].rank for o in usual if not then >> o & 1)
            if found is None or (strips, turns) < found[:2]:
                found = strips, turns, (number, *row)
        return found or (0, 0, ())

    return list(best(0)[2])


def _one_by_one(steps: Sequence[CutStep], cells: Cells, usual: Sequence[int], after: Sequence[int]) -> list[int]:
    """Each next step the first of the usual order that leaves no strip; where each does, the first."""
    left, row, done = list(usual), [], 0
    while left:
        allowed = [one for one in left if not after[one] & ~done] or left
        clear = (one for one in allowed if len(left) == 1 or cells.strip(done | 1 << one) is None)
        number = next(clear, allowed[0])
        left.remove(number)
        row.append(number)
        done |= 1 << number
    return row
