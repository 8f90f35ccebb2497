"""What a DXF of ours must be, and the proof: each file is opened again and measured.

The checks are those that a shop's own import would stumble over: units, layers, contours that are open, doubled or
have an edge of no length, arcs that became polygons; then areas, sizes and every centre against the plan.
"""

from __future__ import annotations

import io
import math
from collections.abc import Iterable, Iterator, Mapping, Sequence

from ezdxf.document import Drawing
from ezdxf.entities.arc import Arc as ArcEntity
from ezdxf.entities.circle import Circle as CircleEntity
from ezdxf.entities.dxfentity import DXFEntity
from ezdxf.entities.line import Line
from ezdxf.entities.lwpolyline import LWPolyline
from ezdxf.entities.polyline import Polyline
from ezdxf.filemanagement import read

from cutmarks.cutting.model import Cutting, SmallHole
from cutmarks.geometry.edges import XY, Arc, Bounds, bulge_of
from cutmarks.geometry.frames import Point, Tile
from cutmarks.geometry.regions import Region
from cutmarks.geometry.rings import Ring, Vertex, edges
from cutmarks.geometry.shapes import Circle, ring_of
from cutmarks.geometry.tolerance import FULL_TURN, TOUCH
from cutmarks.openings.model import Cut
from cutmarks.readings import WISHES, DxfRelease, ShopWishes

ALWAYS_THERE = {"0", "Defpoints"}
"""Layers that every DXF has; nothing is drawn on them."""

RELEASES = {"R2000": "AC1015", "R12": "AC1009", "R12 plain": "AC1009"}
"""$ACADVER of each release."""
KINDS: Mapping[DxfRelease, tuple[str, ...]] = {
    "R2000": ("CIRCLE", "LWPOLYLINE"),
    "R12": ("CIRCLE", "POLYLINE"),
    "R12 plain": ("CIRCLE", "LINE", "ARC"),
}
"""What may be drawn in each release."""
MILLIMETRES = 4
"""$INSUNITS, as the published DXF reference numbers it."""
METRIC = 1
"""$MEASUREMENT, likewise."""

NAMED = "$HYPERLINKBASE"
"""The header's variable that holds the file's own name; nothing in a drawing of ours hangs on it."""

NEAR = 0.001
"""A size, a centre or a radius is the plan's within this, mm."""
ROUNDED = 1e-6
"""A coordinate in the file is the plan's within this, mm; an area within this times its contour's length."""


class DxfFault(RuntimeError):
    """A file does not give back what the plan says: a fault of cutmarks itself, and the file must not go out."""


def verify(
    data: bytes,
    name: str,
    outline: Region[Tile],
    cuts: Sequence[Cut] = (),
    wishes: ShopWishes = WISHES,
    holes: Sequence[SmallHole] = (),
) -> None:
    """Measure the closed contours of the file `name` against `outline`, and round cuts against their own centres.

    `holes` are those in inside corners, each a circle on its own layer.

    Raises:
        DxfFault: with what differs, and where.
    """
    layers = wishes.layers
    there = {layers.outer, layers.inner, *([layers.holes] if holes else ())}
    document = _opened(data, name, there, outline.bounds, wishes)
    found = _contours(document, wishes)
    small = [ring_of(Circle(hole.d), hole.at).reversed() for hole in holes]
    _same_contours(found, (*outline.rings, *small))
    for cut in cuts:
        if isinstance(cut.opening.shape, Circle) and _stands_alone(cut, cuts):
            _has_arc(found, cut.centre, cut.opening.shape.d / 2.0, whole=cut.kind == "hole")


def verify_open(data: bytes, name: str, cutting: Cutting, wishes: ShopWishes = WISHES) -> None:
    """Measure the file `name` of open cut paths against `cutting`.

    Raises:
        DxfFault: with what differs, and where.
    """
    layers = wishes.layers
    holes = [layers.holes] if cutting.holes else []
    document = _opened(data, name, {layers.outer, layers.inner, layers.open, *holes}, cutting.bounds, wishes)
    small = [ring_of(Circle(hole.d), hole.at).reversed() for hole in cutting.holes]
    _same_contours(_contours(document, wishes), (*(path.ring for path in cutting.closed), *small))
    found = [vertices for layer, vertices, closed in _rows(document, wishes) if layer == layers.open and not closed]
    if len(found) != len(cutting.open):
        raise DxfFault(f"{len(found)} open paths, and {len(cutting.open)} in the plan")
    for vertices, path in zip(found, cutting.open, strict=True):
        # A plain file has arcs by their angles: what comes back of a bulge is rounded a little more.
        near = ROUNDED if wishes.dxf != "R12 plain" else 100.0 * ROUNDED
        if len(vertices) != len(path.vertices) or any(
            math.dist(vertex[:2], expected[:2]) > 2.0 * ROUNDED or abs(vertex.bulge - expected.bulge) > near
            for vertex, expected in zip(vertices, path.vertices, strict=True)
        ):
            raise DxfFault(f"the open path from ({vertices[0].x}, {vertices[0].y}) is not the plan's")


def _opened(data: bytes, named: str, layers: set[str], bounds: Bounds, wishes: ShopWishes) -> Drawing:
    """The drawing, after all that can be wrong with it as a whole; R12 knows neither units nor a name of its own."""
    document = read(io.StringIO(data.decode("ascii")))
    header: dict[str, object] = {"$ACADVER": RELEASES[wishes.dxf]}
    if wishes.dxf == "R2000":
        header |= {"$INSUNITS": MILLIMETRES, "$MEASUREMENT": METRIC, NAMED: named}
    for name, wanted in header.items():
        if document.header[name] != wanted:
            raise DxfFault(f"{name} is {document.header[name]}, not {wanted}")
    extents = Bounds(*document.header["$EXTMIN"][:2], *document.header["$EXTMAX"][:2])
    if not _same_bounds(extents, bounds):
        raise DxfFault(f"$EXTMIN and $EXTMAX are {tuple(extents)}, not {tuple(bounds)}")
    if {layer.dxf.name for layer in document.layers} != layers | ALWAYS_THERE:
        raise DxfFault(f"the layers are {sorted(layer.dxf.name for layer in document.layers)}, not {sorted(layers)}")
    elsewhere = [entity for block in document.blocks if not block.is_modelspace for entity in block]
    if elsewhere:
        raise DxfFault(f"{len(elsewhere)} entities lie outside the drawing itself")
    kinds = KINDS[wishes.dxf]
    for entity in document.modelspace():
        if entity.dxftype() not in kinds:
            raise DxfFault(f"a {entity.dxftype()} is in it; only {' and '.join(kinds)} may be")
        if entity.dxf.layer not in layers:
            raise DxfFault(f'a {entity.dxftype()} lies on layer "{entity.dxf.layer}", not on one of {sorted(layers)}')
    return document


DxfRow = tuple[str, tuple[Vertex, ...], bool]
"""A row of lines and arcs: its layer, its vertices, and whether it is closed."""
_Ends = tuple[XY, XY, float]
"""From where to where a line or an arc runs, and its bulge."""


def _contours(document: Drawing, wishes: ShopWishes) -> list[Ring[Tile]]:
    """The closed contours as rings: outer counter-clockwise, inner and small holes clockwise."""
    layers = wishes.layers
    found: list[Ring[Tile]] = []
    for entity in document.modelspace():
        if isinstance(entity, CircleEntity) and not isinstance(entity, ArcEntity):  # to ezdxf an arc is a circle too
            if entity.dxf.layer not in (layers.inner, layers.holes):
                raise DxfFault(f"a CIRCLE lies on layer {entity.dxf.layer}, not on {layers.inner}")
            (x, y, _), r = entity.dxf.center, entity.dxf.radius
            found.append(Ring((Vertex(x - r, y, -1.0), Vertex(x + r, y, -1.0))))
    for layer, vertices, closed in _rows(document, wishes):
        if closed == (layer == layers.open) and layers.open not in (layers.outer, layers.inner):
            raise DxfFault(f"a contour on layer {layer} is {'closed' if closed else 'open'}")
        if not closed:
            continue
        ring: Ring[Tile] = Ring(vertices)
        if layer != (layers.outer if ring.area > 0.0 else layers.inner):
            raise DxfFault(f"a contour on layer {layer} runs the wrong way round")
        found.append(ring)
    return found


def _rows(document: Drawing, wishes: ShopWishes) -> list[DxfRow]:
    """Every row of lines and arcs, after all that can be wrong with one: ends, edges of no length, widths."""
    if wishes.dxf == "R12 plain":
        rows = list(_chained(document))
    else:
        rows = [_row(entity) for entity in document.modelspace() if not isinstance(entity, CircleEntity)]
    for _, vertices, closed in rows:
        following = vertices[1:] + vertices[:1] if closed else vertices[1:]
        for vertex, after in zip(vertices, following, strict=False):
            if math.dist(vertex[:2], after[:2]) < ROUNDED:
                raise DxfFault(f"the vertex ({vertex.x}, {vertex.y}) is there twice: an edge has no length")
    return rows


def _row(entity: DXFEntity) -> DxfRow:
    if isinstance(entity, LWPolyline):
        if entity.has_width or entity.dxf.elevation or entity.dxf.thickness:
            raise DxfFault(f"a contour on layer {entity.dxf.layer} has a width, an elevation or a thickness")
        return entity.dxf.layer, tuple(Vertex(*point) for point in entity.get_points("xyb")), entity.closed
    if isinstance(entity, Polyline):
        corners = [(one.dxf.location, one.dxf.bulge) for one in entity.vertices]
        if any(at.z for at, _ in corners) or entity.dxf.thickness:
            raise DxfFault(f"a contour on layer {entity.dxf.layer} has an elevation or a thickness")
        return entity.dxf.layer, tuple(Vertex(at.x, at.y, bulge) for at, bulge in corners), entity.is_closed
    raise DxfFault(f"a {entity.dxftype()} lies on layer {entity.dxf.layer}, where polylines alone may")


def _chained(document: Drawing) -> Iterator[DxfRow]:
    """The lines and arcs of a plain file, each behind the one that it begins at the end of."""
    row: list[_Ends] = []
    layer = ""
    for entity in document.modelspace():
        ends = _ends(entity)
        if ends is None:
            continue
        longer = _gone_on(row, ends) if entity.dxf.layer == layer else None
        if row and longer is None:
            yield _of_edges(layer, row)
        layer, row = entity.dxf.layer, longer or [ends]
    if row:
        yield _of_edges(layer, row)


def _gone_on(row: list[_Ends], ends: _Ends) -> list[_Ends] | None:
    """The row with one edge more; None where that does not begin at its end.

    An arc is written counter-clockwise: the other way round it may still go on from here, and the first edge of a row
    may have been one.
    """
    if not row or _comes_back(row):
        return None
    for before in (row, [_turned(row[0])])[: 2 if len(row) == 1 else 1]:
        for after in (ends, _turned(ends)):
            if math.dist(before[-1][1], after[0]) <= NEAR:
                return [*before, after]
    return None


def _turned(ends: _Ends) -> _Ends:
    start, end, bulge = ends
    return end, start, -bulge


def _comes_back(row: Sequence[_Ends]) -> bool:
    return len(row) > 1 and math.dist(row[0][0], row[-1][1]) <= NEAR


def _ends(entity: DXFEntity) -> _Ends | None:
    """From where to where a line or an arc runs, and its bulge; None for a circle."""
    if isinstance(entity, Line):
        start, end = entity.dxf.start, entity.dxf.end
        return (start.x, start.y), (end.x, end.y), 0.0
    if isinstance(entity, ArcEntity):
        sweep = math.radians((entity.dxf.end_angle - entity.dxf.start_angle) % 360.0)
        start, end = entity.start_point, entity.end_point
        return (start.x, start.y), (end.x, end.y), bulge_of(sweep)
    return None


def _of_edges(layer: str, row: Sequence[_Ends]) -> DxfRow:
    vertices = [Vertex(*start, bulge) for start, _, bulge in row]
    closed = math.dist(row[0][0], row[-1][1]) <= NEAR
    return layer, tuple(vertices if closed else [*vertices, Vertex(*row[-1][1])]), closed


def _same_contours(found: Sequence[Ring[Tile]], planned: Iterable[Ring[Tile]]) -> None:
    """Each planned ring is there once, with its area, its size and all its arcs; and nothing else is."""
    left = list(found)
    for ring in planned:
        same = next((other for other in left if _is_same(other, ring)), None)
        if same is None:
            start = ring.vertices[0]
            raise DxfFault(f"no contour has the area and size of the plan's from ({start.x:.3f}, {start.y:.3f})")
        left.remove(same)
        for edge in edges(ring):
            if isinstance(edge, Arc):
                chord = math.dist((edge.x0, edge.y0), (edge.x1, edge.y1))
                _has_arc([same], edge.centre, edge.radius, slack=2.0 * ROUNDED * edge.radius / max(chord, TOUCH))
    if left:
        raise DxfFault(f"{len(left)} contours are not in the plan")


def _is_same(one: Ring[Tile], other: Ring[Tile]) -> bool:
    by_area = abs(one.area - other.area) <= ROUNDED * max(other.length, 1.0)
    return by_area and _same_bounds(one.bounds, other.bounds)


def _same_bounds(one: Bounds, other: Bounds) -> bool:
    return all(abs(a - b) <= NEAR for a, b in zip(one, other, strict=True))


def _has_arc(
    rings: Iterable[Ring[Tile]], centre: Point[Tile], radius: float, *, slack: float = 0.0, whole: bool = False
) -> None:
    """Raise unless an arc about `centre`, or the `whole` circle, is on one of the rings."""
    for ring in rings:
        arcs = [
            edge
            for edge in edges(ring)
            if isinstance(edge, Arc)
            and math.dist((edge.cx, edge.cy), (centre.x, centre.y)) <= NEAR + slack
            and abs(edge.radius - radius) <= NEAR + slack
        ]
        if arcs and (not whole or abs(sum(arc.sweep for arc in arcs)) > FULL_TURN - NEAR / radius):
            return
    what = "whole circle" if whole else "arc"
    raise DxfFault(f"no {what} of radius {radius:.3f} about ({centre.x:.3f}, {centre.y:.3f}) is in it")


def _stands_alone(cut: Cut, cuts: Iterable[Cut]) -> bool:
    """Whether no other cut can have taken a part of this one's outline."""
    if cut.kind == "part" or cut.share.is_empty:
        return False
    box = cut.share.bounds
    return not any(other is not cut and other.share.bounds.overlaps(box, TOUCH) for other in cuts)
