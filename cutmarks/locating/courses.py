"""Heights that are read in a course: from the lower edge that is seen, which may be a cut one."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from cutmarks.geometry.frames import Tile
from cutmarks.geometry.regions import Region
from cutmarks.geometry.rings import edges
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.locating.shapes import Unlocatable
from cutmarks.tiling.layout import Layout

if TYPE_CHECKING:
    from collections.abc import Sequence

    from cutmarks.readings import Reading


def lower_edge(reading: Reading, layouts: Sequence[Layout], beside: float | None, rakes_from: float) -> float:
    """The height of the lower edge of the course that `reading` names, mm in the Surface frame.

    It is the edge that a tape is held to: the tile's own, or where the piece at `beside` across is cut at its lower
    side, the cut edge there. With `beside` None (not known yet) it has to be one height all along the course.

    Raises:
        Unlocatable: no such area or course, a turned one, or an edge that rises by `rakes_from` mm or more.
    """
    layout, row = _course(reading, layouts)
    heights = list(_all_along(layout, row) if beside is None else _at(layout, row, beside))
    if heights and max(heights) - min(heights) >= rakes_from - TOUCH:
        raise Unlocatable(
            f'"{reading.text}": the lower edge of that course is cut, and not at one height there: read it from the '
            f"upper edge, as in centre 98 below the top edge of {_example(layout, row, beside)}, or from a line."
        )
    return layout.grid.to_surface.dy + row * layout.grid.pitch_v + (heights[0] if heights else 0.0)


def _course(reading: Reading, layouts: Sequence[Layout]) -> tuple[Layout, int]:
    """The area that is meant, and the row of the course."""
    meant = [layout for layout in layouts if reading.area in (None, layout.area)]
    if not meant:
        raise Unlocatable(f'"{reading.text}" needs the start of its area.')
    if len(meant) > 1:
        raise Unlocatable(f'"{reading.text}": say of which area, as in course 4 of {meant[0].area}, 98 up.')
    (layout,) = meant
    if layout.grid.turn:
        raise Unlocatable(f"the courses of {layout.area} are turned: measure from a line.")
    assert reading.course is not None
    return layout, layout.row_of(reading.course)


def _at(layout: Layout, row: int, x: float) -> Iterator[float]:
    """The heights of the lower edge of the piece at x, over the whole tile's own; that at x first."""
    u = x - layout.grid.to_surface.dx
    place = layout.column_at(u, row), row
    shape = layout.shape(place)
    if shape is None:
        return
    own = u - layout.grid.corner(place)[0]
    stretches = list(_lower_stretches(shape))
    for x0, y0, x1, y1 in stretches:
        if x0 <= own <= x1:
            yield y0 + (y1 - y0) * (own - x0) / (x1 - x0)
    for _, y0, _, y1 in stretches:
        yield from (y0, y1)


def _all_along(layout: Layout, row: int) -> Iterator[float]:
    """The heights of the lower edges of all pieces of a course, over the whole tile's own."""
    course = layout.course(row)
    if any(map(len, course.whole)):
        yield 0.0
    for column in course.touched_columns():
        if (shape := layout.shape((column, row))) is not None:
            for _, y0, _, y1 in _lower_stretches(shape):
                yield from (y0, y1)


def _lower_stretches(shape: Region[Tile]) -> Iterator[tuple[float, float, float, float]]:
    """The edges of a piece that a tape can be held to from above, left to right; a steep one is a side of it."""
    for ring in shape.rings:
        for edge in edges(ring) if ring.area > 0.0 else ():
            if edge.x1 - edge.x0 > max(TOUCH, abs(edge.y1 - edge.y0)):
                yield edge.x0, edge.y0, edge.x1, edge.y1


def _example(layout: Layout, row: int, beside: float | None) -> str:
    """The name of a piece of the course: of the one that is meant, where that is known."""
    if beside is not None:
        return layout.name((layout.column_at(beside - layout.grid.to_surface.dx, row), row))
    held = None if layout.is_open else layout.columns_held(row)
    return layout.name((0 if held is None else held[0], row))
