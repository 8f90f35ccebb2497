"""What a DXF of ours must be, and the proof: each file is opened again and measured.

The checks are those that a shop's own import would stumble over: units, layers, contours that are open, doubled or
have an edge of no length, arcs that became polygons; then areas, sizes and every centre against the plan.
"""

from __future__ import annotations

import io
import math
from collections.abc import Iterable, Sequence

from ezdxf.document import Drawing
from ezdxf.entities.circle import Circle as CircleEntity
from ezdxf.entities.dxfentity import DXFEntity
from ezdxf.entities.lwpolyline import LWPolyline
from ezdxf.filemanagement import read

from cutmarks.cutting.model import Cutting
from cutmarks.geometry.edges import Arc, Bounds
from cutmarks.geometry.frames import Point, Tile
from cutmarks.geometry.regions import Region
from cutmarks.geometry.rings import Ring, Vertex, edges
from cutmarks.geometry.shapes import Circle
from cutmarks.geometry.tolerance import FULL_TURN, TOUCH
from cutmarks.openings.model import Cut

OUTER, INNER, OPEN = "OUTER-NOMINAL", "INNER-NOMINAL", "OPEN-NOMINAL"
"""The layers: an outline, what is cut out of it, and the paths of the second file. ASCII, our own."""
ALWAYS_THERE = {"0", "Defpoints"}
"""Layers that every DXF has; nothing is drawn on them."""

RELEASE = "AC1015"
"""$ACADVER of release 2000."""
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


def verify(data: bytes, name: str, outline: Region[Tile], cuts: Sequence[Cut] = ()) -> None:
    """Measure the closed contours of the file `name` against `outline`, and round cuts against their own centres.

    Raises:
        DxfFault: with what differs, and where.
    """
    document = _opened(data, name, {OUTER, INNER}, outline.bounds)
    found = [_contour(entity) for entity in document.modelspace()]
    _same_contours(found, outline.rings)
    for cut in cuts:
        if isinstance(cut.opening.shape, Circle) and _stands_alone(cut, cuts):
            _has_arc(found, cut.centre, cut.opening.shape.d / 2.0, whole=cut.kind == "hole")


def verify_open(data: bytes, name: str, cutting: Cutting) -> None:
    """Measure the file `name` of open cut paths against `cutting`.

    Raises:
        DxfFault: with what differs, and where.
    """
    document = _opened(data, name, {OUTER, INNER, OPEN}, cutting.bounds)
    entities = list(document.modelspace())
    _same_contours(
        [_contour(entity) for entity in entities if entity.dxf.layer != OPEN], [path.ring for path in cutting.closed]
    )
    found = [_vertices(entity) for entity in entities if entity.dxf.layer == OPEN]
    if len(found) != len(cutting.open):
        raise DxfFault(f"{len(found)} open paths, and {len(cutting.open)} in the plan")
    for vertices, path in zip(found, cutting.open, strict=True):
        if len(vertices) != len(path.vertices) or any(
            math.dist(vertex[:2], expected[:2]) > 2.0 * ROUNDED or abs(vertex.bulge - expected.bulge) > ROUNDED
            for vertex, expected in zip(vertices, path.vertices, strict=True)
        ):
            raise DxfFault(f"the open path from ({vertices[0].x}, {vertices[0].y}) is not the plan's")


def _opened(data: bytes, named: str, layers: set[str], bounds: Bounds) -> Drawing:
    """The drawing, after all that can be wrong with it as a whole."""
    document = read(io.StringIO(data.decode("ascii")))
    header = {
        "$ACADVER": RELEASE,
        "$INSUNITS": MILLIMETRES,
        "$MEASUREMENT": METRIC,
        NAMED: named,
    }
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
    for entity in document.modelspace():
        if not isinstance(entity, CircleEntity | LWPolyline):
            raise DxfFault(f"a {entity.dxftype()} is in it; only CIRCLE and LWPOLYLINE may be")
        if entity.dxf.layer not in layers:
            raise DxfFault(f'a {entity.dxftype()} lies on layer "{entity.dxf.layer}", not on one of {sorted(layers)}')
    return document


def _vertices(entity: DXFEntity) -> tuple[Vertex, ...]:
    """The vertices of a polyline, after all that can be wrong with one: ends, edges of no length, widths."""
    if not isinstance(entity, LWPolyline):
        raise DxfFault(f"a {entity.dxftype()} lies on layer {entity.dxf.layer}, where polylines alone may")
    if entity.closed == (entity.dxf.layer == OPEN):
        raise DxfFault(f"a contour on layer {entity.dxf.layer} is {'closed' if entity.closed else 'open'}")
    if entity.has_width or entity.dxf.elevation or entity.dxf.thickness:
        raise DxfFault(f"a contour on layer {entity.dxf.layer} has a width, an elevation or a thickness")
    vertices = tuple(Vertex(*point) for point in entity.get_points("xyb"))
    following = vertices[1:] + vertices[:1] if entity.closed else vertices[1:]
    for vertex, after in zip(vertices, following, strict=False):
        if math.dist(vertex[:2], after[:2]) < ROUNDED:
            raise DxfFault(f"the vertex ({vertex.x}, {vertex.y}) is there twice: an edge has no length")
    return vertices


def _contour(entity: DXFEntity) -> Ring[Tile]:
    """A closed contour as a ring: outer counter-clockwise, inner clockwise."""
    if isinstance(entity, CircleEntity):
        if entity.dxf.layer != INNER:
            raise DxfFault(f"a CIRCLE lies on layer {entity.dxf.layer}, not on {INNER}")
        (x, y, _), r = entity.dxf.center, entity.dxf.radius
        return Ring((Vertex(x - r, y, -1.0), Vertex(x + r, y, -1.0)))
    ring: Ring[Tile] = Ring(_vertices(entity))
    if (ring.area > 0.0) != (entity.dxf.layer == OUTER):
        raise DxfFault(f"a contour on layer {entity.dxf.layer} runs the wrong way round")
    return ring


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
