"""The tiler's own remarks and what the job says of edges: put with the pieces that they are about."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from msgspec.structs import replace

from cutmarks.openings.edge_work import EdgeWork, lies_at, work_of
from cutmarks.openings.model import CutPiece
from cutmarks.openings.prints import printed
from cutmarks.plan.surfaces import Laid
from cutmarks.readings import with_kind

if TYPE_CHECKING:
    from cutmarks.job import Job
    from cutmarks.job.models import SurfaceSpec
    from cutmarks.setout.model import SetOut


def remarked(piece: CutPiece, area: str, one: Laid, job: Job) -> CutPiece:
    """The piece with what the edges and voids at which it lies ask of its sides, and with the remarks about it."""
    notes = list(_notes_on(piece, area, one.spec, job))
    setout, work = one.setout, list[EdgeWork]()
    if _says_anything(setout):
        for side, thing in lies_at(piece.piece, piece.outline, setout):
            asked = work_of(side, thing, piece.piece)
            if asked is not None:
                work.append(asked)
            if thing.note:
                notes.append(f"{thing.called}: {thing.note}")
    if not work and not notes:
        return piece
    return printed(replace(piece, edge_work=tuple(work), notes=tuple(dict.fromkeys(notes))))


def _says_anything(setout: SetOut) -> bool:
    """Whether the job says more of an edge or a void than where it is: most do not, and no side is looked for."""
    return any(edge.hidden_by or edge.note or edge.finish or edge.corner for edge in setout.edges.values()) or any(
        void.note or void.finish or void.corner or void.lining is not None for void in setout.voids
    )


def _notes_on(piece: CutPiece, area: str, surface: SurfaceSpec, job: Job) -> Iterator[str]:
    """The remarks on its tile, its area and its holes."""
    spec = next(one for one in surface.areas if one.name == area)
    tile = job.tiles[spec.tile]
    if tile.note:
        yield f"tile {tile.name}: {tile.note}"
    if spec.note:
        yield f"area {spec.name}: {spec.note}"
    for cut in piece.cuts:
        if cut.opening.note:
            yield f"{cut.opening.name}: {cut.opening.note}"


def notes_of(job: Job) -> Iterator[str]:
    """Every remark in a job, each with what it is about; then those on the tiler's own tools."""
    if job.note:
        yield job.note
    for tile in job.tiles.values():
        if tile.note:
            yield f"tile {tile.name}: {tile.note}"
    for surface in job.surfaces:
        for about, note in _on_surface(surface):
            if note:
                yield f"{surface.name}{about}: {note}"
    if job.tools.note:
        yield f"your tools: {job.tools.note}"
    if job.tools.printer.note:
        yield f"your printer: {job.tools.printer.note}"


def _on_surface(surface: SurfaceSpec) -> Iterator[tuple[str, str]]:
    yield "", surface.note
    for side, edge in surface.edges.items():
        yield f", {side} edge", edge.note
    for area in surface.areas:
        yield f", area {area.name}", area.note
    for void in surface.voids:
        yield f", {with_kind(void.kind, void.name)}", void.note
    for strip in surface.do_not_drill:
        yield f", do not drill {strip.name}", strip.note
    for hole in surface.holes:
        yield f", hole {hole.name}", hole.note
