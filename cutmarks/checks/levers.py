"""Rules about levers: whether they turn without meeting a cover, an edge, a window, or each other."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import combinations

from cutmarks.checks.covers import by_so_much
from cutmarks.checks.model import Finding
from cutmarks.checks.pieces import listed
from cutmarks.geometry.distance import apart
from cutmarks.geometry.edges import Bounds, distance_to
from cutmarks.geometry.frames import Surface
from cutmarks.geometry.regions import Region, contains, region
from cutmarks.geometry.rings import Ring, edges
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.openings.hidden import cover_on_surface
from cutmarks.openings.model import Opening
from cutmarks.setout.model import SetOut
from cutmarks.units import Style, say


def have_room(openings: Sequence[Opening], setout: SetOut, style: Style) -> Iterator[Finding]:
    """What each lever meets, and each two that meet each other."""
    yield from _two_levers(openings, style)
    for opening in openings:
        if opening.sweep is not None:
            yield from _lever(opening, openings, setout, style)


def _lever(opening: Opening, openings: Sequence[Opening], setout: SetOut, style: Style) -> Iterator[Finding]:
    """What stands in the way of a lever: another cover, an edge, a window; another lever is said of both."""
    assert opening.sweep is not None
    reach = opening.sweep / 2.0
    others = [other for other in openings if other is not opening and _levers_meet(opening, other) <= TOUCH]
    far = [(other.name, _as_far(opening, cover_on_surface(other) or other.ring)) for other in others]
    far += [(void.called, _as_far(opening, void.measured)) for void in setout.voids]
    far.append((f"the edge of {setout.name}", _to_the_edge(opening, setout.bare)))
    met = [(name, distance) for name, distance in far if distance < reach - TOUCH]
    if met:
        said = listed([f"{name}{by_so_much(reach - distance, style)}" for name, distance in met])
        yield Finding(
            "warn",
            "lever has no room",
            (opening.name,),
            f"{opening.name}: its lever sweeps {say(opening.sweep, style)} and meets {said}. A lever that sweeps less, "
            "or move it.",
            2.0 * min(distance for _, distance in met),
            opening.sweep,
            "the job",
        )


def _two_levers(openings: Sequence[Opening], style: Style) -> Iterator[Finding]:
    """Two levers that sweep into each other: one sentence for both."""
    levers = sorted((opening for opening in openings if opening.sweep is not None), key=lambda one: one.name)
    for one, other in combinations(levers, 2):
        over = _levers_meet(one, other)
        if over > TOUCH:
            assert one.sweep is not None
            assert other.sweep is not None
            wanted = (one.sweep + other.sweep) / 2.0
            yield Finding(
                "warn",
                "lever has no room",
                (one.name, other.name),
                f"{one.name} and {other.name}: their levers sweep {say(one.sweep, style)} and "
                f"{say(other.sweep, style)}, and are {say(wanted - over, style)} apart: they "
                f"meet{by_so_much(over, style)}. "
                "Levers that sweep less, or move one.",
                wanted - over,
                wanted,
                "the job",
            )


def _levers_meet(one: Opening, other: Opening) -> float:
    """By how much two levers sweep into each other, mm; 0 or less where they do not, or one has none."""
    if one.sweep is None or other.sweep is None:
        return 0.0
    return (one.sweep + other.sweep) / 2.0 - math.hypot(one.at.x - other.at.x, one.at.y - other.at.y)


def _as_far(opening: Opening, ring: Ring[Surface]) -> float:
    """How far what an outline encloses is from an opening's middle, mm; 0 where it lies over it."""
    box, at = ring.bounds, opening.at
    beyond = apart(box, Bounds(at.x, at.y, at.x, at.y))
    if opening.sweep is not None and beyond >= opening.sweep / 2.0:
        return beyond  # never more than the true distance, and out of reach
    return 0.0 if contains(region(ring), at) else _to(ring, opening)


def _to_the_edge(opening: Opening, outline: Region[Surface]) -> float:
    """How far an opening's middle is from the edge of what it lies in, mm; 0 where it lies outside."""
    return min(_to(ring, opening) for ring in outline.rings) if contains(outline, opening.at) else 0.0


def _to(ring: Ring[Surface], opening: Opening) -> float:
    return min(distance_to(edge, opening.at.x, opening.at.y) for edge in edges(ring))
