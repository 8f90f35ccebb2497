"""What counts in a start, in its order, and by bands: shown as figures, never added up to a score."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from typing import NamedTuple

from msgspec import Struct

from cutmarks.choosing.borders import EndOf
from cutmarks.choosing.landing import Landing
from cutmarks.choosing.leaves import Left, PieceCount
from cutmarks.geometry.tolerance import COINCIDE
from cutmarks.limits import Limits
from cutmarks.sides import Side

GOOD, FAIR, POOR, HAIR = range(4)
"""The bands of a piece at an end: half a tile and over, to a third, under that, and so narrow that it is a finding."""


class Worth(NamedTuple):
    """What counts, the first that differs deciding; less is better. Several areas are taken together by `and_of`.

    grade   the band of the smallest piece in sight, worse where nobody would put up the batten (see `Carried`).
    hair, poor  how many ends have such a piece.
    stops   holes that spoil their tile; bites: those that just bite a next tile; thin: those that leave a thin bridge.
    batten  areas whose batten nobody would put up.
    lips    areas of a long tile whose courses are offset further than it bears.
    unequal opposite ends that are not alike; apart: areas with which joints do not run through.
    fair    how many ends have a fair piece.
    cuts, tiles  pieces that are cut, and tiles that are used.
    hidden  the band of the smallest piece where something covers the joint.
    short   ends at which a whole tile stops short of its gap.
    worst   the band of the smallest piece in sight, as it is.
    """

    grade: int
    hair: int
    poor: int
    stops: int
    bites: int
    thin: int
    batten: int
    lips: int
    unequal: int
    apart: int
    fair: int
    cuts: int
    tiles: int
    hidden: int
    short: int
    worst: int

    @property
    def before_cuts(self) -> tuple[int, ...]:
        """What decides before how many pieces there are: the head of `banded`, known without counting any."""
        return self[:_CUTS]

    def banded(self, limits: Limits) -> tuple[int, ...]:
        """The same with pieces and tiles by bands: so many more or less make no difference."""
        by = limits.cuts_alike.value
        return (
            *(self.grade, self.hair, self.poor, self.stops, self.bites, self.thin, self.batten),
            *(self.lips, self.unequal, self.apart, self.fair),
            *(math.ceil(self.cuts / by), math.ceil(self.tiles / by), self.hidden, self.short, self.worst),
        )

    def shown(self, limits: Limits) -> tuple[int, ...]:
        """Of the bands those of what shows or spoils: the smallest piece, hairs, poor ends, holes, and the batten."""
        return self.banded(limits)[:7]

    def and_of(self, other: Worth) -> Worth:
        """Of two areas of one surface."""
        added = Worth(*(a + b for a, b in zip(self, other, strict=True)))
        bands = {name: max(getattr(self, name), getattr(other, name)) for name in ("grade", "worst", "hidden")}
        return added._replace(**bands)


_CUTS = Worth._fields.index("cuts")


class Carried(NamedTuple):
    """What carries the first whole course of an area on a wall, and what waits until the batten is off.

    on_batten  whether it takes one: the floor, or the worktop, lies too far below for packers; None: it was not read.
    courses    the whole courses that stand on it; None where nothing was read that ends them.
    waiting, holes  of so many holes so many lie in what waits.
    """

    on_batten: bool | None
    courses: int | None
    waiting: int
    holes: int

    def is_unwanted(self, limits: Limits) -> bool:
        """Whether nobody would put up that batten: for a single course, or with most of the holes left under it."""
        few = self.on_batten and self.courses is not None and self.courses < limits.batten_courses.value
        return bool(few) or self.waiting > limits.waiting_part.value * self.holes


class Figures(Struct, frozen=True):
    """What one start leaves on one area.

    left      what lies at each of its ends; landings: how each hole lands; counted: its pieces.
    unequal   pairs of opposite ends whose pieces are not alike.
    apart     the areas whose joints miss this one's.
    carried   what its first whole course stands on; None: on a floor, or on a limit of its own.
    lips      its courses are offset further than so long a tile bears.
    """

    left: Mapping[EndOf, Left]
    landings: Mapping[str, Landing]
    counted: PieceCount
    unequal: tuple[tuple[EndOf, EndOf], ...]
    apart: tuple[str, ...]
    carried: Carried | None = None
    lips: bool = False

    def smallest(self) -> tuple[EndOf, Left] | None:
        """The end in sight with the smallest piece, as a part of a tile; None: nothing ends it in sight."""
        seen = [(end, left) for end, left in self.left.items() if not end.hidden]
        return min(seen, key=lambda one: one[1].part, default=None)


def band_of(least: float, whole: float, limits: Limits) -> int:
    """The band of a piece of which `least` mm of `whole` are left at its narrowest."""
    if least >= limits.half_part.value * whole - COINCIDE:
        return GOOD
    if least >= limits.fair_part.value * whole - COINCIDE:
        return FAIR
    return HAIR if least < hair_of(whole, limits) - COINCIDE else POOR


def hair_of(whole: float, limits: Limits) -> float:
    """What is a hair cut, mm: under the part of a tile, and under the width, at which a narrow piece is a finding."""
    return min(limits.narrow.value, limits.narrow_part.value * whole)


def opposite_ends(left: Iterable[EndOf]) -> Iterator[tuple[EndOf, EndOf]]:
    """The ends that one looks at together: an area's own left and right, bottom and top, both sides of a window."""
    left = list(left)
    own: dict[Side, EndOf] = {end.side: end for end in left if end.kind == "edge"}
    own |= {end.side: end for end in left if end.kind == "limit"}
    for one, other in ((Side.LEFT, Side.RIGHT), (Side.BOTTOM, Side.TOP)):
        if one in own and other in own:
            yield own[one], own[other]
    by_thing = {(end.thing, end.side): end for end in left if end.thing}
    for (thing, side), end in by_thing.items():
        if side is Side.LEFT and (thing, Side.RIGHT) in by_thing:
            yield end, by_thing[thing, Side.RIGHT]


def is_equal(pair: tuple[EndOf, EndOf], left: Mapping[EndOf, Left], limits: Limits) -> bool:
    """Whether the pieces at two opposite ends are alike; from floor to ceiling a whole tile at one of them will do."""
    one, other = left[pair[0]], left[pair[1]]
    if pair[0].side.axis == "up" and (not one.cut or not other.cut):
        return True
    return abs(one.least - other.least) <= limits.equal_ends.value + COINCIDE


def worth_of(figures: Figures, limits: Limits) -> Worth:
    """What counts, of one area."""
    seen = [band_of(left.least, left.whole, limits) for end, left in figures.left.items() if not end.hidden]
    covered = [band_of(left.least, left.whole, limits) for end, left in figures.left.items() if end.hidden]
    lands = [landing.land for landing in figures.landings.values()]
    worst = max(seen, default=GOOD)
    batten = figures.carried is not None and figures.carried.is_unwanted(limits)
    return Worth(
        grade=graded(worst, batten, limits),
        hair=seen.count(HAIR),
        poor=seen.count(POOR),
        stops=lands.count("stops"),
        bites=lands.count("just bites"),
        thin=lands.count("thin"),
        batten=int(batten),
        lips=int(figures.lips),
        unequal=len(figures.unequal),
        apart=len(figures.apart),
        fair=seen.count(FAIR),
        cuts=figures.counted.cut,
        tiles=figures.counted.tiles,
        hidden=max(covered, default=GOOD),
        short=sum(left.short >= limits.least_piece.value for left in figures.left.values()),
        worst=worst,
    )


def graded(worst: int, batten: bool, limits: Limits) -> int:
    """The band of a smallest piece as it counts: worse by so many where nobody would put up the batten."""
    return worst + int(limits.batten_bands.value) * batten
