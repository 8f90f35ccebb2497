"""Holes with several readings, tapes from points and pairs: which belong together, and where they fit best.

The network is built in the unknown coordinates of its holes (2 i across and 2 i + 1 up, mm, Surface frame) and, behind
them, of the nails that its tapes are held to: a nail was read too, and its readings are adjusted with the others. It is
started from every place that its readings leave open, and adjusted from each; what is left is chosen between.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from typing import TYPE_CHECKING, Literal

from msgspec import Struct

from cutmarks.locating.adjust import Adjusted, Observation, Predicted, Undetermined, Unsettled, adjust, wrong_reading
from cutmarks.locating.model import Doubt, Judged, Misfit, ReadingsFit
from cutmarks.locating.models import coordinate, difference, distance, off_edge
from cutmarks.locating.starts import Clue, Known, TapeCircle, candidates
from cutmarks.readings import Lies

if TYPE_CHECKING:
    from cutmarks.limits import Limits

SLOPE_OVER = 1.0
"""The slope of an edge out of true is taken over so many mm each way."""
RIGHT_ANGLE = 90.0


class Link(Struct, frozen=True):
    """One reading of the network.

    kind    "axis": middle of hole `first` along `axis`, from what stands still; "edge": from an edge out of true, whose
            place is `edge`; "tape": from hole `first` to the nail of number `nail`; "apart": between two holes;
            "level": `second` is `value` further along `axis` than `first`.
    value   what was read, to the middle, mm; sigma: one standard deviation, mm.
    """

    kind: Literal["axis", "edge", "tape", "apart", "level"]
    text: str
    first: int
    value: float
    sigma: float
    axis: int = 0
    nail: int = -1
    second: int = -1
    edge: Callable[[float], float] | None = None


class Nail(Struct, frozen=True):
    """A named place that tapes are held to: what was read across and up, in words and in mm, each with its sigma."""

    name: str
    texts: tuple[str, str]
    at: tuple[float, float]
    sigmas: tuple[float, float]


class Placed(Struct, frozen=True):
    """The holes of a network in their places, each with its doubt."""

    at: tuple[tuple[float, float], ...]
    doubts: tuple[Doubt, ...]
    fit: ReadingsFit


class Unplaced(ValueError):
    """The readings do not place the hole `hole` (its index); the sentence says why."""

    def __init__(self, hole: int, sentence: str) -> None:
        super().__init__(sentence)
        self.hole = hole


def connected(names: Sequence[str], ties: Sequence[tuple[str, str]]) -> dict[str, tuple[str, ...]]:
    """For each name all that are tied to it, itself too, in the order of `names`."""
    group = {name: name for name in names}

    def head(name: str) -> str:
        while group[name] != name:
            name = group[name]
        return name

    for one, other in ties:
        group[head(other)] = head(one)
    members: dict[str, list[str]] = {}
    for name in names:
        members.setdefault(head(name), []).append(name)
    together = {first: tuple(group_of) for first, group_of in members.items()}
    return {name: together[head(name)] for name in names}


def place(
    names: Sequence[str],
    lies: Sequence[Lies | None],
    links: Sequence[Link],
    keep: Callable[[int, float, float], bool],
    limits: Limits,
    nails: Sequence[Nail] = (),
) -> Placed:
    """Where the holes `names` are by all `links` together, held to `nails`.

    `lies` says for each hole which of two places is meant, `keep` whether a hole can be at a place (x, y);
    `limits` say when a reading does not fit, when two places are one, and when a place is none.

    Raises:
        Unplaced: the readings leave a hole free, contradict each other, or leave two places open.
    """
    count = len(names)
    observations = [_observation(link, count) for link in links]
    observations += [one for number, nail in enumerate(nails) for one in _of_nail(nail, count + number)]
    held = [value for nail in nails for value in nail.at]
    found: list[Adjusted] = []
    fault: Unplaced | None = None
    for start in candidates(lies, [_clue(link, nails) for link in links], keep):
        try:
            adjusted = adjust(observations, [*start, *held])
        except Undetermined as error:
            fault = _left_free(error.unknown)
            continue
        except Unsettled:
            fault = Unplaced(0, "its readings contradict each other: no place fits them. Read them again.")
            continue
        worst = max(range(len(start)), key=lambda unknown: adjusted.covariance[unknown][unknown])
        if adjusted.covariance[worst][worst] > limits.lost_place.value**2:
            fault = _left_free(worst)
        elif not any(_same(adjusted, other, limits.one_place.value) for other in found):
            found.append(adjusted)
    if not found:
        raise fault or Unplaced(_loose(count, links), _free("across or up"))
    chosen = _chosen(found, count, keep, limits.second_place.value)
    return _placed(_Network(names, links, nails, observations), chosen, limits)


def _left_free(unknown: int) -> Unplaced:
    return Unplaced(unknown // 2, _free("across" if unknown % 2 == 0 else "up"))


def _free(axis: str) -> str:
    return (
        f"its readings do not say where it is {axis}: add one, as in 67 to 83 left of V, or a tape from a second point."
    )


def _loose(count: int, links: Sequence[Link]) -> int:
    """The hole with the fewest readings: the one to speak of."""
    return min(range(count), key=lambda hole: sum(hole in (link.first, link.second) for link in links))


class _Network(Struct, frozen=True):
    """Holes, what was read of them, and the nails behind it; `observations` has the links' first, then the nails'."""

    names: Sequence[str]
    links: Sequence[Link]
    nails: Sequence[Nail]
    observations: Sequence[Observation]


def _observation(link: Link, holes: int) -> Observation:
    return Observation(link.text, link.value, link.sigma, _model(link, holes))


def _of_nail(nail: Nail, place_of: int) -> Iterator[Observation]:
    """The two readings of a nail, which is the place of that number, counted behind the holes."""
    for axis in (0, 1):
        yield Observation(nail.texts[axis], nail.at[axis], nail.sigmas[axis], coordinate(2 * place_of + axis))


def _model(link: Link, holes: int) -> Predicted:
    x, y = 2 * link.first, 2 * link.first + 1
    u, v = 2 * link.second, 2 * link.second + 1
    if link.kind == "axis":
        return coordinate(x + link.axis)
    if link.kind == "edge":
        assert link.edge is not None
        return off_edge(x + link.axis, x + 1 - link.axis, link.edge, SLOPE_OVER)
    if link.kind == "tape":
        nail = 2 * (holes + link.nail)
        return distance((nail, nail + 1), (x, y))
    if link.kind == "apart":
        return distance((x, y), (u, v))
    return difference(x + link.axis, u + link.axis)


def _clue(link: Link, nails: Sequence[Nail]) -> Clue:
    """What the link says of a start: a coordinate, or a circle."""
    if link.kind == "tape":
        return TapeCircle(link.first, link.value, nails[link.nail].at, None)
    if link.kind == "apart":
        return TapeCircle(link.first, link.value, None, link.second)
    if link.kind == "level":
        return Known(link.second, link.axis, link.value, link.first)
    at = link.value + (link.edge(0.0) if link.edge is not None else 0.0)
    return Known(link.first, link.axis, at, None)


def _same(one: Adjusted, other: Adjusted, apart: float) -> bool:
    return all(abs(a - b) < apart for a, b in zip(one.values, other.values, strict=True))


def _chosen(
    found: Sequence[Adjusted], count: int, keep: Callable[[int, float, float], bool], seldom: float
) -> Adjusted:
    """The one place that is left once those are out that cannot be, or fit worse than chance would so `seldom`."""
    possible = [one for one in found if all(keep(hole, *at) for hole, at in _places(one, count))] or list(found)
    if len(possible) == 1:
        return possible[0]
    best, worse = min(one.misfit for one in possible), _chi_square(seldom)
    likely = [one for one in possible if one.misfit <= best + worse]
    if len(likely) > 1:
        first, second = sorted(likely, key=lambda one: [round(value) for value in reversed(one.values)])[:2]
        hole = max(
            range(len(first.values) // 2),
            key=lambda i: math.hypot(
                first.values[2 * i] - second.values[2 * i], first.values[2 * i + 1] - second.values[2 * i + 1]
            ),
        )
        (ax, ay), (bx, by) = (one.values[2 * hole : 2 * hole + 2] for one in (first, second))
        write = ("left", "right") if abs(ax - bx) > abs(ay - by) else ("below", "above")
        raise Unplaced(
            hole,
            f"its readings leave two places open, {ax:.0f} across and {ay:.0f} up from where the lines cross, or "
            f"{bx:.0f} and {by:.0f}: read it from a third point, or write lies: {write[0]}, or lies: {write[1]}.",
        )
    return likely[0]


def _chi_square(seldom: float) -> float:
    """What chi-square of one degree of freedom is over so seldom.

    >>> round(_chi_square(0.001), 2)
    10.83
    """
    from statistics import NormalDist  # late, as in `adjust`

    return NormalDist().inv_cdf(1.0 - seldom / 2.0) ** 2


def _places(adjusted: Adjusted, count: int) -> Iterator[tuple[int, tuple[float, float]]]:
    """Where the first `count` places are: the holes."""
    for hole in range(count):
        yield hole, (adjusted.values[2 * hole], adjusted.values[2 * hole + 1])


def _placed(network: _Network, adjusted: Adjusted, limits: Limits) -> Placed:
    c, count = adjusted.covariance, len(network.names)
    doubts = tuple(Doubt(c[2 * i][2 * i], c[2 * i][2 * i + 1], c[2 * i + 1][2 * i + 1]) for i in range(count))
    return Placed(
        tuple(at for _, at in _places(adjusted, count)),
        doubts,
        ReadingsFit(
            holes=tuple(network.names),
            doubts=doubts,
            readings=tuple(_judged(network, adjusted, index) for index in range(len(network.observations))),
            over=adjusted.freedom,
            spread=adjusted.spread,
            misfit=_misfit(network, adjusted, limits),
            crossing=tuple(_crossings(network, adjusted)),
        ),
    )


def _judged(network: _Network, adjusted: Adjusted, index: int) -> Judged:
    one, of_links = network.observations[index], len(network.links)
    if index < of_links:
        link = network.links[index]
        about, point = tuple(network.names[i] for i in (link.first, link.second) if i >= 0), ""
    else:
        point = network.nails[(index - of_links) // 2].name
        about = (point,)
    return Judged(
        about,
        one.name,
        -adjusted.residuals[index] + 0.0,
        one.sigma,
        adjusted.redundancy[index],
        -adjusted.normalised[index] + 0.0,
        point,
    )


def _misfit(network: _Network, adjusted: Adjusted, limits: Limits) -> Misfit | None:
    wrong = wrong_reading(adjusted, limits.false_alarm.value, limits.mirrored.value)
    if wrong is None:
        return None
    rest = [one for index, one in enumerate(network.observations) if index != wrong.index]
    count = len(network.names)
    try:
        without = adjust(rest, adjusted.values)
        moves = max(
            math.hypot(a[0] - b[0], a[1] - b[1])
            for (_, a), (_, b) in zip(_places(adjusted, count), _places(without, count), strict=True)
        )
    except (Undetermined, Unsettled):
        # The others alone place nothing: all that can be said is how far the reading itself is off.
        moves = abs(wrong.off)
    return Misfit(wrong.index, wrong.mirrored, wrong.off, moves, wrong.normalised, wrong.limit)


def _crossings(network: _Network, adjusted: Adjusted) -> Iterator[tuple[str, float]]:
    """Where two tapes alone place a hole: the angle at which they cross."""
    for hole, at in _places(adjusted, len(network.names)):
        own = [link for link in network.links if hole in (link.first, link.second)]
        if len(own) == 2 and all(link.kind == "tape" for link in own):
            ends = (network.nails[link.nail].at for link in own)
            first, second = (math.atan2(y - at[1], x - at[0]) for x, y in ends)
            yield network.names[hole], RIGHT_ANGLE - abs(RIGHT_ANGLE - abs(math.degrees(first - second)) % 180.0)
