"""The rule about service: whether a hand, a nut, a cartridge or a spanner still gets at it once all is finished."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec import Struct

from cutmarks.checks.covers import by_so_much
from cutmarks.checks.model import Finding
from cutmarks.checks.pieces import listed
from cutmarks.checks.reach import as_far, to_the_edge
from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.near import Near
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.openings.hidden import cover_on_surface
from cutmarks.openings.model import Opening
from cutmarks.setout.finished import finished_ground
from cutmarks.setout.model import SetOut
from cutmarks.units import Style, say, say_down


class InTheWay(Struct, frozen=True):
    """What stands nearer to the middle of a fitting than servicing it allows, and how far it is from there, mm."""

    name: str
    far: float


class Standing:
    """All that stands on the finished face of one surface, to be asked what is in the way of a fitting on it."""

    def __init__(self, openings: Sequence[Opening], setout: SetOut) -> None:
        """The covers of the openings, or themselves where nothing hides them; what ends the surface, once finished."""
        self._openings, self._setout = openings, setout
        self._rings = [cover_on_surface(opening) or opening.ring for opening in openings]
        self._near = Near(ring.bounds for ring in self._rings)
        self._ground = finished_ground(setout)

    def in_the_way(self, opening: Opening) -> list[InTheWay]:
        """What stands within the room that servicing an opening's thing needs; nothing where it needs none.

        The others; windows, niches and doors; the finished edges, as far as it is known what is still to come there.
        """
        if opening.service is None:
            return []
        reach, at = opening.service / 2.0, opening.at
        about = self._near.within(Bounds(at.x, at.y, at.x, at.y), reach)
        found = [
            InTheWay(self._openings[number].name, as_far(at, self._rings[number], reach))
            for number in about
            if self._openings[number] is not opening
        ]
        found += [InTheWay(void.called, as_far(at, void.finished, reach)) for void in self._setout.voids]
        found.append(InTheWay(f"the finished edge of {self._setout.name}", to_the_edge(at, self._ground)))
        return [one for one in found if one.far < reach - TOUCH]


def has_room(openings: Sequence[Opening], setout: SetOut, style: Style) -> Iterator[Finding]:
    """Everything that was said to need room for service, against what stands about it on the finished face."""
    if all(opening.service is None for opening in openings):
        return
    standing = Standing(openings, setout)
    for opening in openings:
        met = standing.in_the_way(opening)
        if opening.service is None or not met:
            continue
        said = listed([f"{one.name}{by_so_much(opening.service / 2.0 - one.far, style)}" for one in met])
        clear = 2.0 * min(one.far for one in met)
        yield Finding(
            "stop",
            "cannot be serviced",
            (opening.name,),
            f"{opening.name}: to be serviced it needs {say(opening.service, style)} clear about its middle, and runs "
            f"into {said}: {say_down(clear, style)} is clear. Move it, or what is in its way, before it is covered up.",
            clear,
            opening.service,
            "the job",
        )
