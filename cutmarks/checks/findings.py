"""All findings of a plan, in order of what spoils most, each said once."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import TYPE_CHECKING

from cutmarks.checks import (
    alike,
    certainty,
    covers,
    depth,
    frames,
    holes,
    leaning,
    legs,
    levers,
    pieces,
    returned,
    strength,
    surfaces,
    trueness,
)
from cutmarks.checks.acceptance import with_reasons
from cutmarks.checks.advice import Advice
from cutmarks.checks.doubt import Sure
from cutmarks.checks.limits import Limit, Limits
from cutmarks.checks.model import Finding
from cutmarks.checks.order import place_of
from cutmarks.errors import Fault
from cutmarks.locating.model import Located
from cutmarks.openings.found import AsFound
from cutmarks.openings.model import CutPiece, Opening
from cutmarks.setout.model import SetOut, Side
from cutmarks.tiling.layout import Layout
from cutmarks.units import Style

if TYPE_CHECKING:
    from cutmarks.job import Job


@dataclass(frozen=True, slots=True)
class Material:
    """What the rules of one surface look at."""

    setout: SetOut
    layouts: tuple[Layout, ...]
    located: Sequence[Located]
    openings: Sequence[Opening]
    board: float | None = None

    def faults(self, job: Job, style: Style) -> list[Fault]:
        """Holes that are not on the surface at all: a fault of the job, not a finding."""
        return [
            job.fault(
                (*thing.spec.where, self._axis_off(opening)),
                f'hole "{opening.name}"',
                f"it lies off {self.setout.name}, {holes.where_words(opening, self.setout, style)}: look at which side "
                "of which line was written.",
            )
            for thing, opening in zip(self.located, self.openings, strict=True)
            if holes.off_the_surface(opening, self.setout)
        ]

    def _axis_off(self, opening: Opening) -> str:
        """The key of the reading that takes a thing off the surface."""
        assert self.setout.outline is not None
        bounds = self.setout.outline.bounds
        if not bounds.min_x <= opening.at.x <= bounds.max_x:
            return "across"
        return "up" if self.setout.kind == "wall" else "in"


def findings(
    materials: Sequence[Material],
    cut: Sequence[CutPiece],
    job: Job,
    style: Style,
    sure: Sequence[Sure] = (),
    back: Sequence[AsFound] = (),
    taken: Mapping[str, Sequence[str]] = MappingProxyType({}),
) -> tuple[Finding, ...]:
    """Stops first, then what to check, then notes, each in the order of `SPOILS`; accepted ones carry the reason.

    An entry under `accept:` that is for none of them is a note.

    `taken` has the pieces of which an opening leaves nothing, by the opening's name.
    """
    found = tuple(_all(materials, cut, job, style, sure, back, taken))
    return tuple(sorted(with_reasons(found, job.accepted), key=place_of))


def _all(
    materials: Sequence[Material],
    cut: Sequence[CutPiece],
    job: Job,
    style: Style,
    sure: Sequence[Sure],
    back: Sequence[AsFound],
    taken: Mapping[str, Sequence[str]],
) -> Iterator[Finding]:
    limits = job.limits.figures()
    met = depth.pieces_by_hole(cut)
    unsure = certainty.unsure_of_cover(sure, limits)
    squares = {surface.name: surface.square for surface in job.surfaces}
    for material in materials:
        for thing, opening in zip(material.located, material.openings, strict=True):
            yield from holes.goes_through(opening, limits, style)
            yield from holes.is_covered(opening, met.get(opening.name, ()), limits, style)
            yield from covers.keeps_clear(opening, style)
            yield from holes.in_keep_out(opening, material.setout)
            yield from holes.readings_disagree(thing, opening, limits, style)
            yield from holes.unnamed_pipe(thing, job.say, limits, style)
            yield from holes.runs_on(opening, met.get(opening.name, ()), limits)
            yield from holes.stays_closed(thing, opening)
            gone = taken.get(opening.name, ())
            yield from holes.takes_whole_tiles(opening, gone)
            yield from holes.lands_nowhere(opening, met.get(opening.name, ()), gone, material.setout)
        yield from covers.after_worst_error(material.openings, met, _worst(job, limits), limits, style, unsure)
        yield from covers.runs_into(material.openings, material.setout, style)
        yield from levers.have_room(material.openings, material.setout, style)
        yield from covers.lies_flat(material.openings, material.layouts, limits, style)
        yield from depth.sits_right(material.located, met, material.board, limits, style)
        yield from frames.goes_under(material.setout, material.layouts, cut, limits, style)
        yield from leaning.leaves_room(material.located, met, limits, style)
        yield from certainty.readings_that_do_not_fit(material.located, material.openings, limits, style)
        yield from certainty.tapes_cross_flat(material.located, limits, style)
        yield from trueness.lines_that_lean(material.located, material.setout, limits, style)
        yield from trueness.edges_that_rake(material.located, material.setout, limits, style)
        square = squares.get(material.setout.name)
        yield from trueness.not_square(square, material.located, material.setout, limits, style)
        yield from surfaces.finish_unknown(material.setout, cut)
    advice = Advice(
        {layout.area: layout for material in materials for layout in material.layouts},
        {material.setout.name: material.openings for material in materials},
        limits,
        style,
    )
    yield from _strength(materials, cut, limits, style, advice)
    yield from pieces.narrow_pieces(cut, limits, style, advice)
    yield from pieces.joint_problems(cut, _scribed(materials), limits, style)
    layouts = [layout for material in materials for layout in material.layouts]
    for material in materials:
        grounds = [(la, la.bounds.moved(la.grid.to_surface)) for la in material.layouts]
        yield from surfaces.wide_spaces(material.setout, grounds, limits, style)
        yield from surfaces.edges_go_on(material.setout, limits, style)
    yield from surfaces.strips_lost(layouts, style)
    yield from surfaces.long_offsets(layouts, limits, style)
    yield from surfaces.sizes_unmeasured(layouts)
    yield from surfaces.sizes_differ(layouts, limits, style)
    yield from certainty.not_sure(sure, limits)
    yield from returned.come_back(back, cut, limits, style)


def _worst(job: Job, limits: Limits) -> Limit:
    """How far off a hole may sit: less where the wall is read again before it is cut."""
    return limits.worst_ahead if job.cut == "ahead" else limits.worst_on_the_day


def _strength(
    materials: Sequence[Material], cut: Sequence[CutPiece], limits: Limits, style: Style, advice: Advice
) -> Iterator[Finding]:
    kinds: dict[str, str] = {material.setout.name: material.setout.kind for material in materials}
    yield from strength.thin_bridges(cut, kinds, limits, style, advice)
    yield from strength.cores_break_in(cut, limits, style)
    yield from strength.sharp_horns(cut, limits, advice)
    yield from legs.thin_legs(cut, kinds, limits, style)
    yield from legs.long_strips(cut, kinds, limits, style)
    yield from strength.much_taken(cut, limits, style)
    yield from strength.sharp_corners(cut, limits, style)
    yield from strength.order_of_cuts(cut)
    yield from alike.mirror_images(cut, limits)


def _scribed(materials: Sequence[Material]) -> set[tuple[str, Side]]:
    """The edges, by surface and side, that tile is scribed to."""
    return {(m.setout.name, side) for m in materials for side, edge in m.setout.edges.items() if edge.scribe}
