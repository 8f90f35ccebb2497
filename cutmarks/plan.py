"""The whole flow in one short function: a job in, a plan out."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from functools import partial
from typing import TYPE_CHECKING, Literal

from cutmarks.checks.certainty import fits_of
from cutmarks.checks.doubt import Sure, how_sure
from cutmarks.checks.findings import Material, findings
from cutmarks.checks.model import Finding
from cutmarks.errors import Fault, GeometryError, JobError, Path
from cutmarks.fittings import cores
from cutmarks.geometry.frames import Courses
from cutmarks.geometry.regions import Region
from cutmarks.job.fingerprint import fingerprint
from cutmarks.job.limits import LIMITS, Limits
from cutmarks.locating.at_face import at_the_face
from cutmarks.locating.locate import locate_all
from cutmarks.locating.model import Fit, Located
from cutmarks.openings.cuts import places_met
from cutmarks.openings.found import AsFound, NotThere, base_name, corrected, found_at
from cutmarks.openings.model import CutPiece, Opening
from cutmarks.openings.opened import as_opened
from cutmarks.openings.pieces import Context, cut_pieces, shape_key, swallowed_by
from cutmarks.openings.sizing import open_up
from cutmarks.registering import Paper, paper_named, register
from cutmarks.registering.calibration import Calibration
from cutmarks.registering.figures import PaperFigures, paper_figures
from cutmarks.registering.model import Registration
from cutmarks.registering.paper import cut_to_length
from cutmarks.setout.assumed import assumed
from cutmarks.setout.model import SetOut
from cutmarks.setout.surface import set_out
from cutmarks.tiling.areas import lay_out
from cutmarks.tiling.layout import Layout
from cutmarks.tiling.model import Counts, Grid, Place, TileKind
from cutmarks.tiling.words import fixed_sides, place_in_words
from cutmarks.units import Style, Unit

if TYPE_CHECKING:
    from cutmarks.job import Job
    from cutmarks.job.models import FoundSpec
    from cutmarks.job.models import Surface as SurfaceSpec


@dataclass(frozen=True, slots=True)
class AreaPlan:
    """An area as laid: its grid, what is counted, and its ground (inside gaps and borders, voids taken out)."""

    name: str
    tile: TileKind
    grid: Grid
    counts: Counts
    bond_words: str
    places: tuple[tuple[int, int, int], ...]
    """For drawing: (row, first column, last column) of each course; empty where the area is open."""
    courses: dict[int, int]
    """Row -> course."""
    ground: Region[Courses] = field(default_factory=lambda: Region(()))
    """Where tile may lie, in the Courses frame: a place that has no piece holds a whole tile if its middle is in it."""


@dataclass(frozen=True, slots=True)
class SurfacePlan:
    """A surface as set out, with its areas as laid."""

    setout: SetOut
    areas: tuple[AreaPlan, ...]


@dataclass(frozen=True, slots=True)
class Penetration:
    """A located hole with the names of the pieces that it meets."""

    opening: Opening
    pieces: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Say:
    """How the job wants to be spoken to on paper: words (uk, us), unit and finest step, paper and moment of cutting.

    margin  what the printer leaves blank, mm; None: not known.
    """

    words: Literal["uk", "us"] = "uk"
    units: Literal["mm", "in"] = "mm"
    finest: Fraction = Fraction(1, 2)
    paper: str = "A4"
    margin: float | None = None
    cut: Literal["ahead", "on the day"] = "on the day"


@dataclass(frozen=True, slots=True)
class Plan:
    """All that was worked out; writers need nothing else.

    calibration  of the printer that the sheets are corrected for; None: they are printed as they are.
    sure  how sure each cut is; fits: the readings that were adjusted together; found: what came back from
    the wall, hole by hole; limits: the job's own figures, and the usual ones for the rest.
    """

    job: str
    fingerprint: str
    say: Say
    surfaces: tuple[SurfacePlan, ...]
    penetrations: tuple[Penetration, ...]
    pieces: tuple[CutPiece, ...]
    registrations: tuple[Registration, ...]
    findings: tuple[Finding, ...]
    assumed: tuple[str, ...]
    calibration: Calibration | None = None
    sure: tuple[Sure, ...] = ()
    fits: tuple[Fit, ...] = ()
    found: tuple[AsFound, ...] = ()
    limits: Limits = LIMITS

    @property
    def paper_figures(self) -> PaperFigures:
        """What the error of the paper is made of, for the printer of these sheets."""
        return paper_figures(self.limits, self.calibration is not None)


Progress = Callable[[str, int, int], None]
"""Called with what is being done, how many are done, and of how many."""


def make_plan(job: Job, progress: Progress | None = None, calibration: Calibration | None = None) -> Plan:
    """Work out every piece of a job that is cut: which tile, where on it, what, and what to beware of.

    The templates in the PDF are corrected by `calibration`, which has to be of the job's own paper; its margin is kept.

    Raises:
        JobError: the job contradicts itself on the surface (areas that overlap, a hole off the wall, no start);
            all such faults at once.
        ValueError: the calibration is of another paper.
    """
    faults: list[Fault] = []
    say = _say(job)
    if calibration is not None and calibration.paper != say.paper:
        raise ValueError(f"the calibration is of {calibration.paper}, and the job's paper is {say.paper}")
    if calibration is not None and calibration.margin is not None:
        say = replace(say, margin=calibration.margin)
    laid = [_lay(surface, job, say, faults) for surface in job.surfaces]
    if faults:
        raise JobError(sorted(faults, key=lambda fault: (fault.file or "", fault.line or 0)))
    pieces: list[CutPiece] = []
    penetrations: list[Penetration] = []
    back = _Back(job, found_at(job.found))
    cut_up = [_cut_up(one, back, progress) for one in laid]
    for one, cut in zip(laid, cut_up, strict=True):
        pieces += cut.pieces
        penetrations += [Penetration(opening, tuple(cut.met[opening.name])) for opening in one.openings]
    faults += [*back.faults, *_found_nowhere(back)]
    if faults:
        raise JobError(sorted(faults, key=lambda fault: (fault.file or "", fault.line or 0)))
    pieces = _named_alike(pieces)
    tallest = max((piece.piece.tile.h for piece in pieces if piece.cuts), default=0.0)
    say = replace(say, paper=cut_to_length(say.paper, tallest))
    limits = job.limits.figures()
    paper = paper_figures(limits, calibration is not None)
    registrations = register(
        pieces,
        paper_of(say),
        joined=job.sheets == "joined",
        template=job.template,
        figures=paper,
    )
    located = [thing for one in laid for thing in one.material.located]
    sure = how_sure(
        located,
        pieces,
        registrations,
        limits,
        paper,
        ahead=job.cut == "ahead",
        style=style_of(say),
    )
    return Plan(
        job=job.name,
        fingerprint=fingerprint(job, None if calibration is None else calibration.as_read()),
        say=say,
        surfaces=tuple(_surface_plan(one, cut.gone) for one, cut in zip(laid, cut_up, strict=True)),
        penetrations=tuple(penetrations),
        pieces=tuple(pieces),
        registrations=registrations,
        findings=findings(
            [one.material for one in laid],
            pieces,
            job,
            style_of(say),
            sure,
            back.record,
            {name: names for cut in cut_up for name, names in cut.taken.items()},
        ),
        assumed=(*job.assumed, *_assumed(job, style_of(say))),
        calibration=calibration,
        sure=sure,
        fits=fits_of(located),
        found=tuple(back.record),
        limits=limits,
    )


@dataclass(frozen=True, slots=True)
class _Laid:
    """One surface half-way: set out, tiled, its openings located."""

    spec: SurfaceSpec
    setout: SetOut
    layouts: tuple[Layout, ...]
    openings: tuple[Opening, ...]
    material: Material
    contexts: tuple[Context, ...]


@dataclass(slots=True)
class _Back:
    """What came back from the wall: the entries by piece, those that were used, and what came of them."""

    job: Job
    specs: Mapping[str, Sequence[FoundSpec]]
    used: set[Path] = field(default_factory=set)
    record: list[AsFound] = field(default_factory=list)
    faults: list[Fault] = field(default_factory=list)


def _assumed(job: Job, style: Style) -> Iterator[str]:
    for surface in job.surfaces:
        yield from assumed(surface, style, job.limits.figures())


def style_of(say: Say) -> Style:
    """How measures are shown on paper for this job."""
    return Style(Unit.INCH if say.units == "in" else Unit.MM, say.finest)


def paper_of(say: Say) -> Paper:
    """The paper of all sheets of this job, with the printer's margin."""
    return paper_named(say.paper, say.margin)


def _say(job: Job) -> Say:
    imperial = job.units in (Unit.INCH, Unit.FOOT)
    return Say(job.say, "in" if imperial else "mm", job.finest, job.paper, job.tools.printer.margin, job.cut)


def cores_of(job: Job) -> tuple[float, ...]:
    """The tiler's own cores, or the usual series of the job's unit, mm, ascending."""
    own = job.tools.cores
    imperial = job.units in (Unit.INCH, Unit.FOOT)
    return tuple(sorted(own)) if own else cores("in" if imperial else "mm")


def _lay(surface: SurfaceSpec, job: Job, say: Say, faults: list[Fault]) -> _Laid:
    before = len(faults)
    setout = set_out(surface, job, faults)
    layouts = lay_out(surface, setout, job, faults) if len(faults) == before else ()
    located = (
        locate_all(surface.holes, setout, layouts, job, faults, surface.pairs, surface.points)
        if len(faults) == before
        else []
    )
    located, openings = _opened(located, surface.name, layouts, job, say, faults)
    areas = {area.name: area for area in surface.areas}
    contexts = tuple(
        Context(
            layout,
            layouts,
            partial(fixed_sides, layout, areas[layout.area], setout),
            partial(place_in_words, layout, areas[layout.area], setout, say.words),
        )
        for layout in layouts
    )
    material = Material(setout, layouts, located, openings, surface.board)
    faults += material.faults(job, style_of(say))
    return _Laid(surface, setout, layouts, openings, material, contexts)


def _opened(
    located: Sequence[Located], surface: str, layouts: Sequence[Layout], job: Job, say: Say, faults: list[Fault]
) -> tuple[list[Located], tuple[Opening, ...]]:
    """The openings of things that can have one, with these things; a fault for each of the others."""
    at_hand = cores_of(job)
    kept: list[Located] = []
    openings: list[Opening] = []
    for thing in map(at_the_face, located):
        try:
            opening = open_up(thing, surface, at_hand, style_of(say), job.limits.figures())
            openings.append(as_opened(opening, thing.spec, layouts, style_of(say)))
            kept.append(thing)
        except GeometryError as error:
            sentence = f"no opening can be drawn round it: {error}."
            faults.append(job.fault(thing.spec.where, f'hole "{thing.spec.name}"', sentence))
    return kept, tuple(openings)


@dataclass(slots=True)
class _CutUp:
    """A surface's pieces that are trimmed or cut; by hole the names of those that it meets, and of those it takes.

    gone  by area, the places of which an opening leaves nothing.
    """

    pieces: list[CutPiece] = field(default_factory=list)
    met: dict[str, list[str]] = field(default_factory=lambda: defaultdict(list))
    taken: dict[str, list[str]] = field(default_factory=lambda: defaultdict(list))
    gone: dict[str, list[Place]] = field(default_factory=lambda: defaultdict(list))


def _cut_up(one: _Laid, back: _Back, progress: Progress | None) -> _CutUp:
    """Every piece of a surface that is trimmed or cut, and what each hole does to which."""
    found = _CutUp()
    for context in one.contexts:
        layout = context.layout
        wanted: dict[Place, list[Opening]] = {place: [] for place in layout.cut_places()}
        for opening in one.openings:
            for place in places_met(opening, layout):
                wanted.setdefault(place, []).append(opening)
        for done, place in enumerate(sorted(wanted, key=lambda p: (p[1], p[0]))):
            if progress is not None:
                progress(f"{one.setout.name}, {layout.area}", done + 1, len(wanted))
            made = cut_pieces(place, wanted[place], context)
            specs = back.specs.get(base_name(layout.name(place)), ())
            if specs:
                made = _as_found(place, wanted[place], context, made, specs, back)
            takers = () if made else swallowed_by(place, wanted[place], context)
            if takers:
                found.gone[layout.area].append(place)
                for name in takers:
                    found.taken[name].append(layout.name(place))
            if layout.is_open and not any(piece.cuts for piece in made):
                continue  # nothing is said about trimming there
            found.pieces += made
            for piece in made:
                for cut in piece.cuts:
                    found.met[cut.opening.name].append(piece.name)
    return found


def _as_found(
    place: Place,
    openings: Sequence[Opening],
    context: Context,
    made: list[CutPiece],
    specs: Sequence[FoundSpec],
    back: _Back,
) -> list[CutPiece]:
    """The pieces of one place made anew by what was found there; what names nothing is a fault of the job."""
    back.used.update(spec.where for spec in specs)
    try:
        made, record = corrected(place, openings, context, made, specs, back.job.limits.figures().act_at.value)
    except NotThere as error:
        about = f'found at "{error.spec.piece}"'
        back.faults.append(back.job.fault(error.spec.where, about, str(error)))
        return made
    back.record += record
    return made


def _found_nowhere(back: _Back) -> Iterator[Fault]:
    """What was found of pieces that are not cut."""
    for spec in back.job.found:
        if spec.where not in back.used:
            sentence = "there is no such piece with anything cut in it: look at its name on the sheet."
            yield back.job.fault(spec.where, f'found at "{spec.piece}"', sentence)


def _named_alike(pieces: Sequence[CutPiece]) -> list[CutPiece]:
    """Each piece that is cut like an earlier one names it."""
    first: dict[tuple[object, ...], str] = {}
    return [
        replace(piece, same_as=None if (name := first.setdefault(shape_key(piece), piece.name)) == piece.name else name)
        for piece in pieces
    ]


def _surface_plan(one: _Laid, gone: Mapping[str, Sequence[Place]]) -> SurfacePlan:
    return SurfacePlan(
        one.setout,
        tuple(
            _area_plan(layout, area.bond.words, gone.get(layout.area, ()))
            for layout, area in zip(one.layouts, one.spec.areas, strict=True)
        ),
    )


def _counted(layout: Layout, gone: Sequence[Place]) -> Counts:
    """The area's count, less the places of which an opening leaves nothing."""
    counts = layout.counts()
    if layout.is_open:
        return replace(counts, gone=counts.gone + len(gone))
    whole = sum(layout.is_whole(place) for place in gone)
    assert counts.whole is not None
    return Counts(counts.whole - whole, counts.cut - (len(gone) - whole), counts.gone + len(gone))


def _area_plan(layout: Layout, bond_words: str, gone: Sequence[Place]) -> AreaPlan:
    rows = () if layout.is_open else layout.rows()
    held = {row: ends for row in rows if (ends := layout.columns_held(row)) is not None}
    return AreaPlan(
        name=layout.area,
        tile=layout.tile,
        grid=layout.grid,
        counts=_counted(layout, gone),
        bond_words=bond_words,
        places=tuple((row, first, last) for row, (first, last) in held.items()),
        courses={row: layout.course_number(row) for row in held},
        ground=layout.ground,
    )
