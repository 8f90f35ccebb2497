"""Rules about levers: whether they turn without meeting a cover, an edge, a window, or each other."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import combinations

from cutmarks.checks.covers import by_so_much
from cutmarks.checks.model import Finding
from cutmarks.checks.pieces import listed
from cutmarks.checks.reach import as_far, to_the_edge
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
    far = [(other.name, as_far(opening.at, cover_on_surface(other) or other.ring, reach)) for other in others]
    far += [(void.called, as_far(opening.at, void.measured, reach)) for void in setout.voids]
    far.append((f"the edge of {setout.name}", to_the_edge(opening.at, setout.bare)))
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
