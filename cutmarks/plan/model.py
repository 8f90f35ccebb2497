"""What a plan holds: all that was worked out, which is all that marks, sheets and writers need."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import cached_property
from typing import TYPE_CHECKING, Literal

from msgspec import Struct, field

from cutmarks.checks.doubt import Sure
from cutmarks.checks.model import Finding
from cutmarks.choosing.offers import Offer
from cutmarks.cutting.model import Cutting
from cutmarks.cutting.operations import HowCut
from cutmarks.geometry.frames import Courses
from cutmarks.geometry.regions import Region
from cutmarks.limits import LIMITS, Limits
from cutmarks.locating.model import ReadingsFit
from cutmarks.openings.found import AsFound, InfillFound
from cutmarks.openings.model import CutPiece, Opening
from cutmarks.plan.clearances import Clearance
from cutmarks.readings import WISHES, BagOf, PatternAlong, PatternWay, ShopWishes
from cutmarks.registering import Paper, paper_named
from cutmarks.registering.figures import PaperFigures, paper_figures
from cutmarks.registering.model import Registration
from cutmarks.setout.model import SetOut
from cutmarks.tiling.model import Counts, Grid, TileKind
from cutmarks.tiling.unlaid import Unlooked
from cutmarks.units import Style

if TYPE_CHECKING:
    from cutmarks.registering.calibration import Calibration


class AreaWork(Struct, frozen=True):
    """Where the work of an area begins, and which way it goes.

    number     its place in the order of the surface's areas, from 0.
    base       the level that its first course stands on, y on the Surface, mm; None: it hangs, or is turned.
    base_words  how the job says where that is: "B", "600 above B".
    start_row  the row that is worked first; first, last: the pieces that go up first and last of the first day's.
    start      the start tile's own name; anchors: what of it lies on what, across and up: ("middle on V", "sits on B").
    hangs      its courses are worked downward.
    moved      of courses that are moved against the start's, where work goes outward from the start: the course, and
               the tile in it that goes up first, with where its left edge lies, x on the Surface, mm.
    """

    number: int
    base: float | None
    base_words: str
    start_row: int
    first: str
    last: str
    start: str
    anchors: tuple[str, str]
    hangs: bool = False
    moved: tuple[tuple[int, str, float], ...] = ()


class TileStock(Struct, frozen=True):
    """A kind of tile as it is bought.

    box, have  tiles a box, tiles in hand; None: not said.
    buttered   adhesive on its back too; pattern: how an offcut of it may be turned, None: not said; along: the side
               that its pattern runs along, None: not said.
    """

    name: str
    box: int | None = None
    have: int | None = None
    buttered: bool = False
    pattern: PatternWay | None = None
    along: PatternAlong | None = None


class Supplies(Struct, frozen=True):
    """What the job says of what is bought: its tiles by name, bags by their makers' figures, the saw's kerf, mm.

    kerf_why  where the kerf is from.
    """

    tiles: Mapping[str, TileStock] = field(default_factory=dict)
    bag: BagOf | None = None
    grout_bag: BagOf | None = None
    kerf: float = LIMITS.kerf.value
    kerf_why: str = LIMITS.kerf.source


class AreaPlan(Struct, frozen=True):
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
    work: AreaWork | None = None
    """Where its work begins; None in a plan that was made by hand."""


class SurfacePlan(Struct, frozen=True):
    """A surface as set out, with its areas as laid; `unlooked`: what could not be looked at where it has no grid."""

    setout: SetOut
    areas: tuple[AreaPlan, ...]
    unlooked: Unlooked | None = None


class Say(Struct, frozen=True):
    """How the job wants to be spoken to on paper: words (uk, us), how measures are shown, paper and moment of cutting.

    margin  what the printer leaves blank, mm; None: not known.
    """

    words: Literal["uk", "us"] = "uk"
    style: Style = field(default_factory=Style)
    paper: str = "A4"
    margin: float | None = None
    cut: Literal["ahead", "on the day"] = "on the day"


class StartReason(Struct, frozen=True):
    """What the start of a surface leaves, `now`, and what the plain ones would, `plain`."""

    surface: str
    now: Offer
    plain: tuple[Offer, ...]


class Plan(Struct, frozen=True, dict=True):
    """All that was worked out; writers need nothing else.

    calibration  of the printer that the sheets are corrected for; None: they are printed as they are.
    cuttings  what of each piece is cut, by its name; how_cut: the operations that make it, in their order;
    shop: what the shop that cuts asked for.
    job_file  the name of the file that the job was read from, without its folder; None: from none.
    sure  how sure each cut is; fits: the readings that were adjusted together; found: what came back from
    the wall, hole by hole, and infills_found of trimmed pieces; limits: the job's own figures, and the usual ones for
    the rest; notes: the tiler's own remarks; contact: who is asked about the job, "" where that is not said.
    clearances  the fittings of the surfaces that have no grid; supplies: what the job says of what is bought; reasons:
    why each surface is started as it is, worked out when it is asked for.
    rounds      by wall the area whose courses run round at one height.
    beside      of a plan of some pieces alone, those that lie beside them and are cut elsewhere: drawn, and no more.
    """

    job: str
    fingerprint: str
    say: Say
    surfaces: tuple[SurfacePlan, ...]
    openings: tuple[Opening, ...]
    pieces: tuple[CutPiece, ...]
    cuttings: Mapping[str, Cutting]
    registrations: tuple[Registration, ...]
    findings: tuple[Finding, ...]
    assumed: tuple[str, ...]
    calibration: Calibration | None = None
    job_file: str | None = None
    sure: tuple[Sure, ...] = ()
    fits: tuple[ReadingsFit, ...] = ()
    found: tuple[AsFound, ...] = ()
    infills_found: tuple[InfillFound, ...] = ()
    limits: Limits = LIMITS
    clearances: tuple[Clearance, ...] = ()
    notes: tuple[str, ...] = ()
    contact: str = ""
    supplies: Supplies = Supplies()
    how_cut: Mapping[str, HowCut] = field(default_factory=dict)
    shop: ShopWishes = WISHES
    rounds: Mapping[str, str] = field(default_factory=dict)
    beside: tuple[CutPiece, ...] = ()
    reasons: Callable[[], tuple[StartReason, ...]] = tuple

    def setout(self, surface: str) -> SetOut:
        """A surface as set out, by its name."""
        return next(one.setout for one in self.surfaces if one.setout.name == surface)

    def waits_for_reading(self, piece: CutPiece) -> bool:
        """Whether a piece is trimmed to what is still to be read on the wall, so that its size is one to expect."""
        read = any(one.piece == piece.name for one in self.infills_found)
        return bool(piece.infills) and self.say.cut == "on the day" and not read

    @property
    def laid(self) -> tuple[SurfacePlan, ...]:
        """The surfaces of which it is known which tile lies where."""
        return tuple(surface for surface in self.surfaces if surface.unlooked is None)

    def is_unlaid(self, surface: str) -> bool:
        """Whether it is not known yet which tile lies where on a surface, by its name."""
        return next(one for one in self.surfaces if one.setout.name == surface).unlooked is not None

    @property
    def to_clear(self) -> tuple[SurfacePlan, ...]:
        """The surfaces without a grid that have fittings, or all of those where no surface has its tiles."""
        held = {one.opening.surface for one in self.clearances}
        unlaid = (surface for surface in self.surfaces if surface.unlooked is not None)
        return tuple(surface for surface in unlaid if surface.setout.name in held or not self.laid)

    @cached_property
    def piece_names(self) -> frozenset[str]:
        """The names of all its pieces."""
        return frozenset(piece.name for piece in self.pieces)

    @cached_property
    def pieces_met(self) -> Mapping[str, tuple[str, ...]]:
        """The names of the pieces that each opening is cut in, by its own name; () for one that meets no tile."""
        met: dict[str, list[str]] = {opening.name: [] for opening in self.openings}
        for piece in self.pieces:
            for cut in piece.cuts:
                met[cut.opening.name].append(piece.name)
        return {name: tuple(pieces) for name, pieces in met.items()}

    @property
    def paper_figures(self) -> PaperFigures:
        """What the error of the paper is made of, for the printer of these sheets."""
        return paper_figures(self.limits, self.calibration is not None)


Progress = Callable[[str, int, int], None]
"""Called with what is being done, how many are done, and of how many."""


def paper_of(say: Say) -> Paper:
    """The paper of all sheets of this job, with the printer's margin."""
    return paper_named(say.paper, say.margin)
