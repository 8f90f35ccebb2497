"""A DXF for each different cut piece, as a shop asks for it: what it reads is what it cuts, unasked.

R2000, millimetres, the face seen from the front, 0,0 at the whole tile's bottom-left corner. Nominal finished contours,
closed, of lines and true arcs, outer and inner on two layers, and nothing else: no kerf (the shop's own program takes
it off), no text, no points, no splines. A whole round hole is a CIRCLE, all else a closed LWPOLYLINE. Beside it stands
a second file of the open cut paths alone, because a finished factory edge must not be cut again.

A file's name tells the job, the piece and its fingerprint, and stands in its header as well, so that a file that was
given another name is still known. It stands as $HYPERLINKBASE: of the variables of this release that hold free text the
one that a reader of contours passes over ($PROJECTNAME came later, and a comment at the head of a file stops some).

The first file of each kind is opened again and measured before it is handed out (`cutmarks.writers.dxf_verify`); the
tests measure every one.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from pathlib import PurePosixPath
from typing import Literal

from cutmarks.cutting.model import ClosedPath, Cutting
from cutmarks.geometry.edges import Bounds
from cutmarks.openings.model import CutPiece
from cutmarks.plan import Plan
from cutmarks.saying.findings import waiting_for
from cutmarks.saying.names import file_stems
from cutmarks.writers.dxf_blank import DxfLine, Entity, Round, blank
from cutmarks.writers.dxf_verify import INNER, OPEN, OUTER, verify, verify_open
from cutmarks.writers.number import exact, exact_vertices
from cutmarks.writers.shop_drawing import ShopDrawing

MARGIN = 10.0
"""Left free round the drawing in the view that a program opens with, mm."""


def dxf_names(plan: Plan) -> Iterator[tuple[str, str]]:
    """What the files of `dxf_files` are called, each drawing's and that of its open cut paths."""
    stems = file_stems(plan.job, plan.pieces)
    return (_file_names(stems[group[0].name], group) for group in _cut_alike(plan))


def dxf_files(plan: Plan, *, measure: Literal["each kind", "all"] = "each kind") -> Iterator[ShopDrawing]:
    """The files of every different cut piece that may be cut, one by one.

    A piece with a STOP that is not accepted has none, and does not count among those that are cut alike. The first file
    of each kind, or every one, is opened again and measured: what reads one file rightly reads its like.

    Raises:
        DxfFault: a file does not give back what the plan says.
    """
    known: set[frozenset[str]] = set()
    for group, (name, open_name) in zip(_cut_alike(plan), dxf_names(plan), strict=True):
        piece, cutting = group[0], plan.cuttings[group[0].name]
        data, open_data = closed_dxf(cutting, name_in(name)), open_dxf(cutting, name_in(open_name))
        kinds = _kind(_closed(cutting)), _kind(_open(cutting))
        if measure == "all" or kinds[0] not in known:
            verify(data, name_in(name), piece.outline, piece.cuts if piece.part is None else ())
        if measure == "all" or kinds[1] not in known:
            verify_open(open_data, name_in(open_name), cutting)
        known.update(kinds)
        yield ShopDrawing(name, data, open_name, open_data, tuple(alike.name for alike in group))


def name_in(file: str) -> str:
    """A file's own name as its header has it: without folder and ending.

    >>> name_in("dxf/quay_cottage__splash_3-07_face_mm_1off_116.5x448_1a2b3c4d.dxf")
    'quay_cottage__splash_3-07_face_mm_1off_116.5x448_1a2b3c4d'
    """
    return PurePosixPath(file).stem


def closed_dxf(cutting: Cutting, name: str) -> bytes:
    """The finished contours of one piece; `name` is the file's own, for its header."""
    return _file((OUTER, INNER), _closed(cutting), cutting.finished, name)


def open_dxf(cutting: Cutting, name: str) -> bytes:
    """What has to be cut alone: open paths that run past the factory edges, and whole contours closed."""
    return _file((OUTER, INNER, OPEN), _open(cutting), cutting.bounds, name)


def _closed(cutting: Cutting) -> tuple[Entity, ...]:
    return tuple(map(_contour, cutting.contours))


def _open(cutting: Cutting) -> tuple[Entity, ...]:
    return (
        *(DxfLine(OPEN, exact_vertices(path.vertices), closed=False) for path in cutting.open),
        *map(_contour, cutting.closed),
    )


def _kind(entities: Iterable[Entity]) -> frozenset[str]:
    """Which sorts of things are in a file: circles and polylines, on which layer, straight or bent."""
    return frozenset(
        f"{one.layer} round"
        if isinstance(one, Round)
        else f"{one.layer} {'bent' if any(bulge for _, _, bulge in one.vertices) else 'straight'}"
        for one in entities
    )


def _cut_alike(plan: Plan) -> list[list[CutPiece]]:
    """The pieces that may be cut, those with the same tile, outline and cuts together, in the order of the plan."""
    groups: dict[str, list[CutPiece]] = {}
    for piece in plan.pieces:
        if not waiting_for(plan, piece) and not piece.outline.is_empty:
            groups.setdefault(piece.same_as or piece.name, []).append(piece)
    return list(groups.values())


def _file_names(stem: str, group: Sequence[CutPiece]) -> tuple[str, str]:
    """What a shop wants to see before it opens a file: face view, unit, how many, size over all, thickness.

    Last the piece's fingerprint, of the first of those that are cut alike: the one that is drawn.
    """
    bounds, thickness = group[0].outline.bounds, group[0].piece.tile.thickness
    size = f"{len(group)}off_{_short(bounds.width)}x{_short(bounds.height)}"
    if thickness is not None:
        size += f"_t{_short(thickness)}"
    size += f"_{group[0].fingerprint}"
    return f"dxf/{stem}_face_mm_{size}.dxf", f"dxf/{stem}_face_mm_open_{size}.dxf"


def _short(mm: float) -> str:
    return f"{mm:.1f}".removesuffix(".0")


def _file(layers: tuple[str, ...], entities: Sequence[Entity], bounds: Bounds, name: str) -> bytes:
    """A drawing in millimetres, with a view of what is in it."""
    middle = (exact((bounds.min_x + bounds.max_x) / 2.0), exact((bounds.min_y + bounds.max_y) / 2.0))
    return blank(layers).filled(
        entities,
        name,
        low=(exact(bounds.min_x), exact(bounds.min_y)),
        high=(exact(bounds.max_x), exact(bounds.max_y)),
        middle=middle,
        height=exact(max(bounds.width, bounds.height) + 2.0 * MARGIN),
    )


def _contour(path: ClosedPath) -> Entity:
    if path.circle is not None:
        centre, radius = path.circle
        return Round(INNER, (exact(centre.x), exact(centre.y)), exact(radius))
    return DxfLine(INNER if path.is_inner else OUTER, exact_vertices(path.ring.vertices), closed=True)
