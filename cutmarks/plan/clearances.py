"""What is known of each fitting before a tile is chosen: where it is, how deep, what hides it, what is about it.

For whoever sets valves and boxes: a place from the finished edges too, which stand where no line is drawn yet.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from msgspec import Struct

from cutmarks.checks.depth import build_up
from cutmarks.checks.model import Finding
from cutmarks.checks.service import Standing
from cutmarks.geometry.distance import apart, gap
from cutmarks.geometry.near import Near
from cutmarks.geometry.regions import intersection, region
from cutmarks.geometry.rings import Ring
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.limits import Limits
from cutmarks.openings.hidden import cover_on_surface
from cutmarks.openings.model import Opening
from cutmarks.setout.finished import from_finished
from cutmarks.sides import FourSides

if TYPE_CHECKING:
    from cutmarks.checks.material import Material
    from cutmarks.geometry.frames import Surface
    from cutmarks.locating.model import Located
    from cutmarks.readings import DepthFrom

FIRST_LOOK = 64.0
"""How far about a fitting its nearest neighbour is looked for at first, mm: then twice as far, and so on."""


class Deep(Struct, frozen=True):
    """How deep a fitting lies, mm: as read (negative: proud of it), and from there to the finished face.

    behind  the finished face; None where what comes on the wall is not known.
    least, most  the maker's range for that; None: none was said.
    """

    read: float
    start: DepthFrom
    behind: float | None
    least: float | None
    most: float | None


class NearestFitting(Struct, frozen=True):
    """The nearest other fitting.

    between  the two covers (or holes, where nothing hides them), mm; 0 where they overlap.
    middles  from middle to middle, mm.
    """

    name: str
    between: float
    middles: float


class Clearance(Struct, frozen=True):
    """One fitting of a surface that has no tiles yet.

    finished  its middle from each finished edge, mm; None where that is not known.
    clear     the clear diameter about its middle, mm, where servicing it was said to need some: no more than it needs.
    wrong     what was found about it, what spoils most first.
    """

    opening: Opening
    finished: FourSides[float | None]
    deep: Deep | None
    neighbour: NearestFitting | None
    clear: float | None
    wrong: tuple[Finding, ...]

    @property
    def passes(self) -> bool:
        """Whether nothing is wrong with it that is not accepted; notes do not count."""
        return not any(finding.level != "note" and finding.accepted is None for finding in self.wrong)


def clearances(material: Material, findings: Sequence[Finding], limits: Limits) -> Iterator[Clearance]:
    """Every fitting of a surface without a grid, in the order of the job."""
    nearest, standing = dict(_nearest(material.openings)), Standing(material.openings, material.setout)
    about: dict[str, list[Finding]] = {}
    for finding in findings:
        for name in dict.fromkeys(finding.about):
            about.setdefault(name, []).append(finding)
    for thing, opening in zip(material.located, material.openings, strict=True):
        yield Clearance(
            opening,
            from_finished(material.setout, opening.at),
            _deep(thing, material, limits),
            nearest.get(opening.name),
            _clear(opening, standing),
            tuple(about.get(opening.name, ())),
        )


def _deep(thing: Located, material: Material, limits: Limits) -> Deep | None:
    """How deep it lies; the deepest where tiles of several thicknesses may come over it."""
    read = thing.spec.depth_read
    if read is None:
        return None
    layers = () if material.unlaid is None else material.unlaid.over.get(thing.spec.name, ())
    built = [build_up(read.start, one, material.board, limits) for one in layers]
    known = [one.total for one in built if one is not None]
    behind = read.mm + max(known) if known and len(known) == len(built) else None
    least, most = thing.spec.depth_range or (None, None)
    return Deep(read.mm, read.start, behind, least, most)


def _clear(opening: Opening, standing: Standing) -> float | None:
    if opening.service is None:
        return None
    return min((2.0 * one.far for one in standing.in_the_way(opening)), default=opening.service)


def _nearest(openings: Sequence[Opening]) -> Iterator[tuple[str, NearestFitting]]:
    """For each opening's name the nearest other; nothing of one that is alone."""
    rings = [cover_on_surface(opening) or opening.ring for opening in openings]
    near = Near(ring.bounds for ring in rings)
    for number, opening in enumerate(openings):
        found = _nearest_of(number, rings, near)
        if found is not None:
            other, between = found
            at, there = opening.at, openings[other].at
            middles = math.hypot(at.x - there.x, at.y - there.y)
            yield opening.name, NearestFitting(openings[other].name, between, middles)


def _nearest_of(number: int, rings: Sequence[Ring[Surface]], near: Near) -> tuple[int, float] | None:
    """The other outline that is nearest, and how far it is: it is looked for in an ever wider ring of neighbours."""
    if len(rings) < 2:
        return None
    box, reach = rings[number].bounds, FIRST_LOOK
    while True:
        others = [other for other in near.within(box, reach) if other != number]
        found = min(((_between(rings[number], rings[other]), other) for other in others), default=None)
        if found is not None and (found[0] <= reach or len(others) == len(rings) - 1):
            return found[1], found[0]
        reach *= 2.0


def _between(one: Ring[Surface], other: Ring[Surface]) -> float:
    """How far two outlines are apart, mm; 0 where they share more than a touch."""
    if apart(one.bounds, other.bounds) == 0.0 and intersection(region(one), region(other)).area > TOUCH:
        return 0.0
    return gap(one, other)


def by_surface(found: Sequence[Clearance]) -> Mapping[str, list[Clearance]]:
    """The same by the name of their surface."""
    named: dict[str, list[Clearance]] = {}
    for one in found:
        named.setdefault(one.opening.surface, []).append(one)
    return named
