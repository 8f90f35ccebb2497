"""Orders of cuts against every order there is, on a raster: no thin strip stands free while another order has none.

    python -m tests.bench.cutting_campaign --pieces 2000 --seed 1

Each piece is a tile in whole millimetres, trimmed and cut at random, of up to six cuts. The second reckoning knows the
operations alone: a raster of a millimetre, cuts on the lines between its dots, what hangs together found by flooding,
strips read off row by row and column by column. It walks through all orders (a hole that is partly in what comes off
goes first in each) and counts the states with a strip. Ends with 1 where the plan's order has more than the best.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Iterator, Sequence
from functools import cache
from itertools import permutations
from random import Random

import numpy as np
from msgspec import Struct
from numpy.typing import NDArray
from scipy import ndimage

from cutmarks.cutting.making import CutWith, how_cut
from cutmarks.cutting.operations import CoreHole, HowCut, Operation, PlungeCut, ReliefHoles, StoppedCut, StraightCut
from cutmarks.errors import GeometryError
from cutmarks.geometry.shapes import Circle, Rect
from cutmarks.limits import LIMITS
from cutmarks.openings.model import CutKind, CutPiece, Opening
from cutmarks.sides import SIDES, Side
from tests.handmade import cut_piece, opening

Bits = NDArray[np.bool_]
MOST_CUTS = 6
WIDE, TIMES = LIMITS.thin_strip.value, LIMITS.leg_times.value


def pieces(random: Random, count: int) -> Iterator[CutPiece]:
    """So many pieces of two to six cuts each."""
    made = 0
    while made < count:
        piece = _piece(random)
        if piece is not None and 2 <= len(steps_of(how_cut(piece, CutWith()))) <= MOST_CUTS:
            made += 1
            yield piece


def _piece(random: Random) -> CutPiece | None:
    w, h = random.randrange(120, 320), random.randrange(90, 240)
    left, right = (random.choice((0, 0, 0, random.randrange(4, 50))) for _ in range(2))
    bottom, top = (random.choice((0, 0, 0, random.randrange(4, 40))) for _ in range(2))
    trimmed = any((left, right, bottom, top))
    box = (left, bottom, w - right, h - top)
    corners = ((box[0], box[1]), (box[2], box[1]), (box[2], box[3]), (box[0], box[3]))
    openings: list[Opening] = []
    kinds: list[CutKind] = []
    for number in range(random.choice((0, 1, 1, 2))):
        found = _opening(random, f"hole {number}", box)
        openings.append(found[0])
        kinds.append(found[1])
    gone = {Side.LEFT: left, Side.RIGHT: right, Side.BOTTOM: bottom, Side.TOP: top}
    try:
        return cut_piece(
            openings,
            w,
            h,
            at=(0.0, 0.0),
            kinds=kinds,
            trimmed_to=corners if trimmed else (),
            factory=[side for side in SIDES if not gone[side]],
        )
    except GeometryError:
        return None  # two openings that touch along an edge


def _opening(random: Random, name: str, box: Sequence[int]) -> tuple[Opening, CutKind]:
    """A core hole or box inside, a notch from a side, a corner notch: thin legs and thin waste among them."""
    x0, y0, x1, y1 = box
    what = random.choice(("core", "box", "notch", "notch", "corner", "corner"))
    w = random.choice((random.randrange(8, 30), random.randrange(30, max(31, (x1 - x0) * 3 // 4))))
    h = random.choice((random.randrange(8, 30), random.randrange(30, max(31, (y1 - y0) * 3 // 4))))
    x, y = random.randrange(x0 + 4, max(x0 + 5, x1 - w - 4)), random.randrange(y0 + 4, max(y0 + 5, y1 - h - 4))
    d = random.choice((20, 28, 36))
    if what == "core" and min(x1 - x0, y1 - y0) > 2 * d:
        middle = random.randrange(x0 + d, x1 - d), random.randrange(y0 + d, y1 - d)
        return opening(name, Circle(float(d)), *map(float, middle), core=float(d)), "hole"
    if what == "notch":
        if random.random() < 0.5:
            x, w = random.choice(((x0, w), (x1 - w, w)))
        else:
            y, h = random.choice(((y0, h), (y1 - h, h)))
    if what == "corner":
        x, y = random.choice((x0, x1 - w)), random.choice((y0, y1 - h))
    kind: CutKind = "hole" if what == "box" else "edge notch" if what == "notch" else "corner notch"
    return opening(name, Rect(float(w), float(h)), x + w / 2.0, y + h / 2.0), kind


# The second reckoning.


class RasterStep(Struct, frozen=True, dict=True):
    """What one step takes: dots, and lines between dots (those right of a dot, those above it); goes_first: by rule."""

    gone: Bits
    right: Bits
    above: Bits
    goes_first: bool


def steps_of(how: HowCut) -> list[list[Operation]]:
    """The operations that the order counts as one step each, in the plan's order; small holes are none."""
    steps: list[list[Operation]] = []
    for one in how.operations:
        if isinstance(one, ReliefHoles):
            continue
        if steps and isinstance(one, CoreHole) and isinstance(steps[-1][-1], CoreHole):
            steps[-1].append(one)
        else:
            steps.append([one])
    return steps


def raster_step(step: Sequence[Operation], piece: CutPiece) -> RasterStep:
    """A step on the raster of its tile."""
    w, h = round(piece.piece.tile.w), round(piece.piece.tile.h)
    gone, right, above = (np.zeros((w, h), bool) for _ in range(3))
    first = False
    kept = piece.piece.outline.bounds
    for one in step:
        if isinstance(one, CoreHole):
            r = one.d / 2.0
            box = one.at.x - r, one.at.y - r, one.at.x + r, one.at.y + r
            gone[_from(box[0]) : _from(box[2]), _from(box[1]) : _from(box[3])] = True
            first |= not (box[0] >= kept[0] and box[1] >= kept[1] and box[2] <= kept[2] and box[3] <= kept[3])
        elif isinstance(one, StraightCut | StoppedCut | PlungeCut):
            clear = 0.0 if isinstance(one, StraightCut) else one.clear
            at_start = clear if isinstance(one, PlungeCut) else 0.0
            (x0, y0), (x1, y1) = (one.start.x, one.start.y), (one.end.x, one.end.y)
            if abs(x1 - x0) > abs(y1 - y0):
                way = 1.0 if x1 > x0 else -1.0
                low, high = sorted((round(x0 - way * at_start), round(x1 + way * clear)))
                above[low:high, round(y0) - 1] = True
            else:
                way = 1.0 if y1 > y0 else -1.0
                low, high = sorted((round(y0 - way * at_start), round(y1 + way * clear)))
                right[round(x0) - 1, low:high] = True
        else:
            raise TypeError(f"no such operation is drawn here: {one}")
    return RasterStep(gone, right, above, first)


def _from(at: float) -> int:
    return max(0, round(at))


def has_strip(done: Sequence[RasterStep], finished: Bits) -> bool:
    """Whether a thin strip stands free on one end once these steps are done."""
    there = np.ones_like(finished)
    right, above = np.zeros_like(finished), np.zeros_like(finished)
    for step in done:
        there &= ~step.gone
        right |= step.right
        above |= step.above
    body = flooded(there, right, above, finished)
    return strip_in(body, right, above) or strip_in(body.T, above.T, right.T)


def flooded(there: Bits, right: Bits, above: Bits, finished: Bits) -> Bits:
    """The dots that still hang together with any dot of the finished piece."""
    w, h = there.shape
    wide = np.zeros((2 * w - 1, 2 * h - 1), bool)
    wide[::2, ::2] = there
    wide[1::2, ::2] = there[:-1] & there[1:] & ~right[:-1]
    wide[::2, 1::2] = there[:, :-1] & there[:, 1:] & ~above[:, :-1]
    labels, _ = ndimage.label(wide)
    own = labels[::2, ::2]
    kept = np.unique(own[finished & there])
    body: Bits = np.isin(own, kept[kept > 0])
    return body


def strip_in(body: Bits, right: Bits, above: Bits) -> bool:
    """Whether a level strip stands free: the same run of dots, closed below and above, column after column."""
    w = body.shape[0]
    joined = [_runs(body[x], above[x]) if x == 0 or _differs(body, above, x) else None for x in range(w)]
    runs: list[frozenset[tuple[int, int]]] = []
    for found in joined:
        runs.append(runs[-1] if found is None else found)
    for x in range(w):
        for low, high in runs[x]:
            if high - low >= WIDE or (x > 0 and (low, high) in runs[x - 1] and _open(body, right, x - 1, low, high)):
                continue
            end = x
            while end + 1 < w and (low, high) in runs[end + 1] and _open(body, right, end, low, high):
                end += 1
            held = (x > 0 and _open(body, right, x - 1, low, high)) + (
                end + 1 < w and _open(body, right, end, low, high)
            )
            if held == 1 and end + 1 - x > TIMES * (high - low):
                return True
    return False


def _differs(body: Bits, above: Bits, x: int) -> bool:
    return bool((body[x] != body[x - 1]).any() or (above[x] != above[x - 1]).any())


def _runs(body: Bits, above: Bits) -> frozenset[tuple[int, int]]:
    """The runs of dots of one column that hang together: from, up to."""
    found, start = [], None
    for y in range(len(body)):
        if body[y] and start is None:
            start = y
        if start is not None and (y + 1 == len(body) or not body[y + 1] or above[y] or not body[y]):
            if body[y]:
                found.append((start, y + 1))
            start = None
    return frozenset(found)


def _open(body: Bits, right: Bits, x: int, low: int, high: int) -> bool:
    return bool((body[x, low:high] & body[x + 1, low:high] & ~right[x, low:high]).any())


def judged(piece: CutPiece) -> tuple[int, int, int, int]:
    """States with a strip: in the plan's order, in the best and in the worst of all, and what the plan says itself."""
    how = how_cut(piece, CutWith())
    steps = [raster_step(step, piece) for step in steps_of(how)]
    finished = _finished(piece)

    @cache
    def strip(done: frozenset[int]) -> bool:
        return has_strip([steps[number] for number in done], finished)

    def count(order: Sequence[int]) -> int:
        return sum(strip(frozenset(order[: n + 1])) for n in range(len(order) - 1))

    own = tuple(range(len(steps)))
    counts = [count(order) for order in _orders(steps, how)]
    return count(own), min(counts), max(counts), len(how.strips)


def _orders(steps: Sequence[RasterStep], how: HowCut) -> Iterator[tuple[int, ...]]:
    """All orders in which what goes first by rule comes before every straight cut."""
    kinds = [step[0] for step in steps_of(how)]
    for order in permutations(range(len(steps))):
        place = {number: at for at, number in enumerate(order)}
        if all(
            place[one] < place[other]
            for one, step in enumerate(steps)
            if step.goes_first
            for other, kind in enumerate(kinds)
            if isinstance(kind, StraightCut)
        ):
            yield order


def _finished(piece: CutPiece) -> Bits:
    """The finished piece's dots: the box that trimming leaves, less the boxes round its openings."""
    w, h = round(piece.piece.tile.w), round(piece.piece.tile.h)
    dots = np.zeros((w, h), bool)
    box = piece.piece.outline.bounds
    dots[_from(box[0]) : _from(box[2]), _from(box[1]) : _from(box[3])] = True
    for cut in piece.cuts:
        own = cut.ring.bounds
        dots[_from(own[0]) : _from(own[2]), _from(own[1]) : _from(own[3])] = False
    return dots


def campaign(count: int, seed: int, tell: Callable[[str], None]) -> int:
    """How many pieces are cut in an order that another beats."""
    random, worse, with_strips, at_stake = Random(seed), 0, 0, 0
    for number, piece in enumerate(pieces(random, count)):
        own, best, worst, said = judged(piece)
        with_strips += best > 0
        at_stake += worst > best
        if own > best or said != own:
            worse += 1
            tell(f"piece {number}: {own} states with a strip, the best order has {best}, {said} were said")
    tell(
        f"{count} pieces: {worse} wrong; of {at_stake} the order matters, of {with_strips} no order is without a strip"
    )
    return worse


def main() -> int:
    """The command."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--pieces", type=int, default=2000)
    parser.add_argument("--seed", type=int, default=1)
    given = parser.parse_args()
    return 1 if campaign(given.pieces, given.seed, print) else 0


if __name__ == "__main__":
    sys.exit(main())
