"""A DXF for each different cut piece, as a shop asks for it: what it reads is what it cuts, unasked.

R2000 or older, millimetres, the face seen from the front, 0,0 at the whole tile's bottom-left corner; of a piece that
is trimmed all round at its own, and the file says so. Nominal finished contours, closed, of lines and true arcs, inside
corners as the shop makes them, outer and inner on two layers, and nothing else: no kerf (the shop's own program takes
it off), no text, no points, no splines. A whole round hole is a CIRCLE, all else a closed LWPOLYLINE (R12: POLYLINE;
R12 plain: LINE and ARC). Beside it stands a second file of the open cut paths alone, because a finished factory edge
must not be cut again, and, where the shop asks for one, a view of the back, which is mirrored and says so in its name.

Of a piece that must not be cut yet the name says so, wait or sign_first, and so does each of its layers, in capitals:
no machine takes them for those that it cuts.

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

from msgspec.structs import replace

from cutmarks.cutting.model import ClosedPath, Cutting
from cutmarks.cutting.paths import moved
from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.frames import Placement, Tile
from cutmarks.geometry.regions import Region
from cutmarks.openings.model import CutPiece
from cutmarks.plan import Plan
from cutmarks.readings import WISHES, ShopLayers, ShopWishes
from cutmarks.saying.findings import waiting_for
from cutmarks.saying.names import file_stems
from cutmarks.saying.shop import in_a_name, not_yet, shop_mm
from cutmarks.writers.dxf_blank import DxfLine, Entity, Round, blank
from cutmarks.writers.dxf_verify import verify, verify_open
from cutmarks.writers.number import exact, exact_vertices
from cutmarks.writers.shop_drawing import ShopDrawing

MARGIN = 10.0
"""Left free round the drawing in the view that a program opens with, mm."""


def dxf_names(plan: Plan) -> Iterator[tuple[str, ...]]:
    """What the files of `dxf_files` are called: each drawing's, that of its open cut paths, that of its back if any."""
    stems = file_stems(plan.job, plan.pieces)
    return (file_names(plan, stems[group[0].name], group[0], len(group)) for group in cut_alike(plan))


def dxf_files(plan: Plan, *, measure: Literal["each kind", "all"] = "each kind") -> Iterator[ShopDrawing]:
    """The files of every different cut piece that may be cut, one by one.

    A piece with a STOP that is not accepted has none, and does not count among those that are cut alike. The first file
    of each kind, or every one, is opened again and measured: what reads one file rightly reads its like.

    Raises:
        DxfFault: a file does not give back what the plan says.
    """
    known: set[frozenset[str]] = set()
    for group, (name, open_name, *behind) in zip(cut_alike(plan), dxf_names(plan), strict=True):
        piece, cutting = group[0], as_drawn(group[0], plan.cuttings[group[0].name])
        wishes = held_back(plan.shop, not_yet(plan, piece, to_sign=False))
        data, open_data = closed_dxf(cutting, name_in(name), wishes), open_dxf(cutting, name_in(open_name), wishes)
        kinds = _kind(_closed(cutting, wishes)), _kind(_open(cutting, wishes))
        if measure == "all" or kinds[0] not in known:
            # Where the drawing has the tile's own frame, round cuts are looked at about their own centres too.
            cuts = piece.cuts if piece.part is None and not is_trimmed_all_round(piece) else ()
            verify(data, name_in(name), _expected(piece, cutting), cuts, wishes, cutting.holes)
        if measure == "all" or kinds[1] not in known:
            verify_open(open_data, name_in(open_name), cutting, wishes)
        known.update(kinds)
        back = tuple((one, closed_dxf(mirrored(piece, cutting), name_in(one), wishes)) for one in behind)
        for one, of_back in back if measure == "all" else ():
            verify(of_back, name_in(one), mirrored(piece, cutting).outline, (), wishes, mirrored(piece, cutting).holes)
        yield ShopDrawing(name, data, open_name, open_data, tuple(alike.name for alike in group), back)


def held_back(wishes: ShopWishes, word: str) -> ShopWishes:
    """What a shop wants of a drawing that must not be cut yet: `word` before each layer; "": as they are."""
    return replace(wishes, layers=wishes.layers.behind(in_a_name(word))) if word else wishes


def name_in(file: str) -> str:
    """A file's own name as its header has it: without folder and ending.

    >>> name_in("dxf/quay_cottage__splash_3-07_face_mm_1off_116.5x448_1a2b3c4d.dxf")
    'quay_cottage__splash_3-07_face_mm_1off_116.5x448_1a2b3c4d'
    """
    return PurePosixPath(file).stem


def closed_dxf(cutting: Cutting, name: str, wishes: ShopWishes = WISHES) -> bytes:
    """The finished contours of one piece; `name` is the file's own, for its header."""
    layers = wishes.layers
    return _file((layers.outer, layers.inner), cutting, _closed(cutting, wishes), cutting.finished, name, wishes)


def open_dxf(cutting: Cutting, name: str, wishes: ShopWishes = WISHES) -> bytes:
    """What has to be cut alone: open paths that run past the factory edges, and whole contours closed."""
    layers = wishes.layers
    names = layers.outer, layers.inner, layers.open
    return _file(names, cutting, _open(cutting, wishes), cutting.bounds, name, wishes)


def is_trimmed_all_round(piece: CutPiece) -> bool:
    """Whether no edge of the maker's is left: then the trimmed edges are what all is measured from."""
    return not piece.factory_edges and piece.piece.trimmed


def as_drawn(piece: CutPiece, cutting: Cutting) -> Cutting:
    """What is cut in the frame of its drawing: the whole tile's, or its own corner's where it is trimmed all round."""
    if not is_trimmed_all_round(piece):
        return cutting
    box = cutting.finished
    return moved(cutting, Placement.shift(-box.min_x, -box.min_y))


def mirrored(piece: CutPiece, cutting: Cutting) -> Cutting:
    """What is cut as it is seen from behind; `cutting` as drawn."""
    width = cutting.finished.width if is_trimmed_all_round(piece) else piece.piece.tile.w
    return moved(cutting, Placement.mirror(width))


def _expected(piece: CutPiece, cutting: Cutting) -> Region[Tile]:
    """What a drawing has to give back: the piece itself, where neither its corners nor its place are changed for it."""
    changed = cutting.corners.way == "round" or is_trimmed_all_round(piece)
    return cutting.outline if changed else piece.outline


def _closed(cutting: Cutting, wishes: ShopWishes) -> tuple[Entity, ...]:
    return *(_contour(path, wishes.layers) for path in cutting.contours), *_holes(cutting, wishes)


def _open(cutting: Cutting, wishes: ShopWishes) -> tuple[Entity, ...]:
    return (
        *(DxfLine(wishes.layers.open, exact_vertices(path.vertices), closed=False) for path in cutting.open),
        *(_contour(path, wishes.layers) for path in cutting.closed),
        *_holes(cutting, wishes),
    )


def _holes(cutting: Cutting, wishes: ShopWishes) -> Iterator[Entity]:
    for hole in cutting.holes:
        yield Round(wishes.layers.holes, (exact(hole.at.x), exact(hole.at.y)), exact(hole.d / 2.0))


def _kind(entities: Iterable[Entity]) -> frozenset[str]:
    """Which sorts of things are in a file: circles and polylines, on which layer, straight or bent."""
    return frozenset(
        f"{one.layer} round"
        if isinstance(one, Round)
        else f"{one.layer} {'bent' if any(bulge for _, _, bulge in one.vertices) else 'straight'}"
        for one in entities
    )


def cut_alike(plan: Plan) -> list[list[CutPiece]]:
    """The pieces that may be cut, those with the same tile, outline and cuts together, in the order of the plan.

    One that waits to be read is not alike to one that was read: its file says so.
    """
    groups: dict[tuple[str, bool], list[CutPiece]] = {}
    for piece in plan.pieces:
        if not waiting_for(plan, piece) and not piece.outline.is_empty:
            groups.setdefault((piece.same_as or piece.name, plan.waits_for_reading(piece)), []).append(piece)
    return list(groups.values())


def file_names(plan: Plan, stem: str, piece: CutPiece, count: int, *, to_sign: bool = False) -> tuple[str, ...]:
    """What a shop wants to see before it opens a file: view, unit, how many, size over all, thickness, corners.

    Before all of that, that it must not be cut yet, where it must not; to_sign: what is cut ahead is signed for first.

    Last the piece's fingerprint, of the first of those that are cut alike: the one that is drawn.
    """
    bounds, thickness = piece.outline.bounds, piece.piece.tile.thickness
    size = f"{count}off_{shop_mm(bounds.width)}x{shop_mm(bounds.height)}"
    if thickness is not None:
        size += f"_t{shop_mm(thickness)}"
    cutting = plan.cuttings[piece.name]
    if cutting.corners.way != "sharp" and (cutting.holes or cutting.outline != piece.outline):
        size += f"_{'r' if cutting.corners.way == 'round' else 'holes'}{shop_mm(cutting.corners.mm)}"
    if is_trimmed_all_round(piece):
        size += "_from_trimmed_edges"
    size += f"_{piece.fingerprint}"
    if word := not_yet(plan, piece, to_sign=to_sign):
        stem += f"_{in_a_name(word).lower()}"  # as all our files' names: no folder tells capitals apart for us
    names = f"dxf/{stem}_face_mm_{size}.dxf", f"dxf/{stem}_face_mm_open_{size}.dxf"
    return (*names, f"dxf/{stem}_back_mm_{size}.dxf") if plan.shop.back else names


def _file(
    layers: tuple[str, ...], cutting: Cutting, entities: Sequence[Entity], bounds: Bounds, name: str, wishes: ShopWishes
) -> bytes:
    """A drawing in millimetres, with a view of what is in it; a layer for small holes where there are any."""
    all_layers = tuple(dict.fromkeys((*layers, *([wishes.layers.holes] if cutting.holes else ()))))
    middle = (exact((bounds.min_x + bounds.max_x) / 2.0), exact((bounds.min_y + bounds.max_y) / 2.0))
    return blank(all_layers, wishes.dxf).filled(
        entities,
        name,
        low=(exact(bounds.min_x), exact(bounds.min_y)),
        high=(exact(bounds.max_x), exact(bounds.max_y)),
        middle=middle,
        height=exact(max(bounds.width, bounds.height) + 2.0 * MARGIN),
    )


def _contour(path: ClosedPath, layers: ShopLayers) -> Entity:
    if path.circle is not None:
        centre, radius = path.circle
        return Round(layers.inner, (exact(centre.x), exact(centre.y)), exact(radius))
    layer = layers.inner if path.is_inner else layers.outer
    return DxfLine(layer, exact_vertices(path.ring.vertices), closed=True)
