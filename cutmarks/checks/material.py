"""What the rules look at: each surface with what is on it, and what is known of the job as a whole."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import cached_property, wraps
from typing import TYPE_CHECKING

from msgspec import Struct, field
from msgspec.structs import replace

from cutmarks.checks import certainty, depth, holes
from cutmarks.checks.advice import Advice
from cutmarks.checks.doubt import Sure
from cutmarks.checks.model import Finding
from cutmarks.checks.spaces import Facing, facing
from cutmarks.errors import Faults
from cutmarks.limits import Limit, Limits
from cutmarks.locating.model import Located
from cutmarks.openings.found import AsFound
from cutmarks.openings.model import CutPiece, Opening
from cutmarks.setout.model import SetOut
from cutmarks.sides import Side
from cutmarks.tiling.layout import Layout
from cutmarks.tiling.model import TileKind
from cutmarks.tiling.unlaid import Layers, Unlooked
from cutmarks.units import Style

if TYPE_CHECKING:
    from cutmarks.job import Job


class Unlaid(Struct, frozen=True):
    """What takes the place of the grid on a surface that has none.

    unlooked  what could not be looked at.
    tiles     of its areas, as they will lie.
    over      what will lie on the wall over each hole, by its name.
    """

    unlooked: Unlooked
    tiles: tuple[TileKind, ...]
    over: Mapping[str, Sequence[Layers]]


class Material(Struct, frozen=True):
    """What the rules of one surface look at; `unlaid` where it has no grid."""

    setout: SetOut
    layouts: tuple[Layout, ...]
    located: Sequence[Located]
    openings: Sequence[Opening]
    board: float | None = None
    unlaid: Unlaid | None = None

    def tell_off(self, faults: Faults, style: Style) -> None:
        """Tell of holes that are not on the surface at all: a fault of the job, not a finding."""
        for thing, opening in zip(self.located, self.openings, strict=True):
            if holes.off_the_surface(opening, self.setout):
                with faults.about(f'hole "{opening.name}"', (*thing.spec.where, self._axis_off(opening))):
                    faults.tell(
                        f"it lies off {self.setout.name}, {holes.where_words(opening, self.setout, style)}: look at "
                        "which side of which line was written."
                    )

    def _axis_off(self, opening: Opening) -> str:
        """The key of the reading that takes a thing off the surface."""
        bounds = self.setout.bare.bounds
        if not bounds.min_x <= opening.at.x <= bounds.max_x:
            return "across"
        return "up" if self.setout.kind == "wall" else "in"


class Evidence(Struct, frozen=True, dict=True):
    """All that the rules of a job look at.

    taken  the pieces of which an opening leaves nothing, by the opening's name.
    """

    materials: Sequence[Material]
    cut: Sequence[CutPiece]
    job: Job
    style: Style
    sure: Sequence[Sure] = ()
    back: Sequence[AsFound] = ()
    taken: Mapping[str, Sequence[str]] = field(default_factory=dict)

    @cached_property
    def limits(self) -> Limits:
        """The usual limits, with the job's own."""
        return self.job.limits.figures()

    @cached_property
    def met(self) -> dict[str, list[CutPiece]]:
        """The pieces that each opening meets, by its name."""
        return depth.pieces_by_hole(self.cut)

    @cached_property
    def of_known_size(self) -> Sequence[CutPiece]:
        """The pieces, without the cuts for things of no known size: what these would leave is not known."""
        return [
            replace(piece, cuts=tuple(cut for cut in piece.cuts if not cut.opening.waits))
            if any(cut.opening.waits for cut in piece.cuts)
            else piece
            for piece in self.cut
        ]

    @cached_property
    def over(self) -> Mapping[str, Sequence[Layers]]:
        """The tiles, with their beds, that come over each hole, by its name."""
        over: dict[str, Sequence[Layers]] = {
            name: list(dict.fromkeys(piece.piece.tile for piece in pieces)) for name, pieces in self.met.items()
        }
        for material in self.materials:
            if material.unlaid is not None:
                over.update(material.unlaid.over)
        return over

    @cached_property
    def with_grid(self) -> Evidence:
        """The same without the surfaces of which no grid is known."""
        laid = [material for material in self.materials if material.unlaid is None]
        return self if len(laid) == len(self.materials) else replace(self, materials=laid)

    @cached_property
    def tiles(self) -> Sequence[TileKind]:
        """The tiles of all areas, those without a grid too."""
        unlaid = [tile for one in self.materials if one.unlaid is not None for tile in one.unlaid.tiles]
        return [*(layout.tile for layout in self.layouts), *unlaid]

    @cached_property
    def unsure(self) -> set[str]:
        """The openings that are known to be covered too seldom."""
        return certainty.unsure_of_cover(self.sure, self.limits)

    @cached_property
    def kinds(self) -> Mapping[str, str]:
        """Wall or floor, by the surface's name."""
        return {material.setout.name: material.setout.kind for material in self.materials}

    @cached_property
    def layouts(self) -> Sequence[Layout]:
        """All areas."""
        return [layout for material in self.materials for layout in material.layouts]

    @cached_property
    def advice(self) -> Advice:
        """What can be done about it."""
        openings = {material.setout.name: material.openings for material in self.materials}
        layouts = {layout.area: layout for layout in self.layouts}
        of_area: dict[str, list[CutPiece]] = defaultdict(list)
        for piece in self.cut:
            of_area[piece.piece.area].append(piece)
        faces: dict[str, list[Facing]] = defaultdict(list)
        for one in (one for found in self.facing.values() for one in found):
            faces[one.first.area].append(one)
            faces[one.second.area].append(one)
        voids = {material.setout.name: material.setout.voids for material in self.materials}
        return Advice(layouts, openings, self.limits, self.style, self.kinds, of_area, faces, voids)

    @cached_property
    def facing(self) -> Mapping[str, Sequence[Facing]]:
        """Where two areas face each other, by the surface's name."""
        return {material.setout.name: facing(material.setout, material.layouts) for material in self.materials}

    @property
    def worst(self) -> Limit:
        """How far off a hole may sit: less where the wall is read again before it is cut."""
        return self.limits.worst_ahead if self.job.cut == "ahead" else self.limits.worst_on_the_day

    @property
    def scribed(self) -> set[tuple[str, Side]]:
        """The edges, by surface and side, that tile is scribed to."""
        return {(m.setout.name, side) for m in self.materials for side, edge in m.setout.edges.items() if edge.scribe}

    @cached_property
    def gaps_unsaid(self) -> dict[tuple[str, Side], float]:
        """The gaps that were taken where none was said, by surface and side, mm."""
        edges = ((m.setout.name, edge) for m in self.materials for edge in m.setout.edges.values())
        return {(name, edge.side): edge.gap for name, edge in edges if edge.usual_gap}


Look = Callable[[Evidence], Iterator[Finding]]
"""A look at a job as a whole; what comes of it are findings."""
SurfaceLook = Callable[[Evidence, Material], Iterator[Finding]]
HoleLook = Callable[[Evidence, Material, Located, Opening], Iterator[Finding]]


def on_each_surface(one: SurfaceLook) -> Look:
    """The look at one surface, taken of every surface."""

    @wraps(one)
    def every(seen: Evidence) -> Iterator[Finding]:
        for material in seen.materials:
            yield from one(seen, material)

    return every


def on_each_hole(one: HoleLook) -> Look:
    """The look at one hole, taken of every hole."""

    @wraps(one)
    def every(seen: Evidence) -> Iterator[Finding]:
        for material in seen.materials:
            for thing, opening in zip(material.located, material.openings, strict=True):
                yield from one(seen, material, thing, opening)

    return every
