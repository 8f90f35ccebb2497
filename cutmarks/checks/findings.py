"""All findings of a plan, in order of what spoils most, each said once."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from cutmarks.checks import holes, pieces, surfaces
from cutmarks.checks.limits import LIMITS
from cutmarks.checks.model import Finding
from cutmarks.errors import Fault
from cutmarks.locating.model import Located
from cutmarks.openings.model import CutPiece, Opening
from cutmarks.setout.model import SetOut
from cutmarks.tiling.layout import Layout
from cutmarks.units import Style

if TYPE_CHECKING:
    from cutmarks.job import Job
    from cutmarks.job.models import Accepted

ORDER = {"stop": 0, "warn": 1, "note": 2}


@dataclass(frozen=True, slots=True)
class Material:
    """What the rules of one surface look at."""

    setout: SetOut
    layouts: tuple[Layout, ...]
    located: Sequence[Located]
    openings: Sequence[Opening]

    def faults(self, job: Job) -> list[Fault]:
        """Holes that are not on the surface at all: a fault of the job, not a finding."""
        return [
            job.fault(
                thing.spec.where,
                f'hole "{opening.name}"',
                f"it lies off {self.setout.name}, at {opening.at.x:g} across and {opening.at.y:g} up from where the "
                "lines cross: look at which side of which line was written.",
            )
            for thing, opening in zip(self.located, self.openings, strict=True)
            if holes.off_the_surface(opening, self.setout)
        ]


def findings(
    materials: Sequence[Material], cut: Sequence[CutPiece], accepted: Sequence[Accepted], style: Style
) -> tuple[Finding, ...]:
    """Stops first, then what to check, then notes; accepted ones carry the tiler's reason."""
    found = [_accept(finding, accepted) for finding in _all(materials, cut, style)]
    return tuple(sorted(found, key=lambda finding: ORDER[finding.level]))


def _all(materials: Sequence[Material], cut: Sequence[CutPiece], style: Style) -> Iterator[Finding]:
    met: dict[str, list[CutPiece]] = {}
    for piece in cut:
        for one in piece.cuts:
            met.setdefault(one.opening.name, []).append(piece)
    for material in materials:
        for thing, opening in zip(material.located, material.openings, strict=True):
            yield from holes.goes_through(opening, LIMITS, style)
            yield from holes.is_covered(opening, LIMITS, style)
            yield from holes.in_keep_out(opening, material.setout)
            yield from holes.readings_disagree(thing, LIMITS, style)
            yield from holes.runs_on(opening, met.get(opening.name, ()))
            yield from holes.lands_nowhere(opening, met.get(opening.name, ()), material.setout)
        yield from surfaces.finish_unknown(material.setout, cut)
    yield from pieces.thin_bridges(cut, LIMITS, style)
    yield from pieces.narrow_pieces(cut, LIMITS, style)
    yield from pieces.joint_problems(cut, LIMITS, style)
    layouts = [layout for material in materials for layout in material.layouts]
    for material in materials:
        grounds = [(la, la.bounds.moved(la.grid.to_surface)) for la in material.layouts]
        yield from surfaces.wide_spaces(material.setout, grounds, LIMITS, style)
    yield from surfaces.strips_lost(layouts, style)
    yield from surfaces.long_offsets(layouts, LIMITS, style)
    yield from surfaces.sizes_unmeasured(layouts)


def _accept(finding: Finding, accepted: Sequence[Accepted]) -> Finding:
    for one in accepted:
        if one.rule == finding.rule and (not one.about or one.about in finding.about):
            return replace(finding, accepted=one.reason)
    return finding
