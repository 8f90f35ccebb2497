"""Where two edges meet: crossings, tangent points, and ends that lie on the other edge.

Coming within TOUCH is one meeting. Edges that lie on each other meet at the ends of what they share.
"""

from __future__ import annotations

import math

from cutmarks.geometry.edges import XY, Arc, Edge, Segment, touches, travelled
from cutmarks.geometry.frames import F
from cutmarks.geometry.tolerance import SHALLOW, TOUCH


def meetings(a: Edge[F], b: Edge[F], tolerance: float = TOUCH) -> list[XY]:
    """The places where two edges meet, ends first; a place may be named twice to rounding."""
    found: list[XY] = []
    for x, y in ((a[0], a[1]), (a[2], a[3])):
        if touches(b, x, y, tolerance):
            found.append((x, y))
    for x, y in ((b[0], b[1]), (b[2], b[3])):
        if touches(a, x, y, tolerance):
            found.append((x, y))
    crossings = line_crossings(a, b, tolerance)
    found += [(x, y) for x, y in crossings if _reaches(a, x, y, tolerance) and _reaches(b, x, y, tolerance)]
    return found


def line_crossings(a: Edge[F], b: Edge[F], tolerance: float = TOUCH) -> list[XY]:
    """Where the whole lines or circles of two edges cross, their ends aside; one place where they are tangent.

    None where they are parallel, or one and the same.
    """
    if isinstance(a, Segment):
        return _line_line(a, b) if isinstance(b, Segment) else _line_circle(a, b, tolerance)
    return _line_circle(b, a, tolerance) if isinstance(b, Segment) else _circle_circle(a, b, tolerance)


def _reaches(edge: Edge[F], x: float, y: float, tolerance: float) -> bool:
    """Whether a place on the edge's line or circle lies between its ends, or at one of them."""
    x0, y0, x1, y1 = edge[0], edge[1], edge[2], edge[3]
    if isinstance(edge, Arc):
        if travelled(edge, x, y) <= abs(edge.sweep):
            return True
    else:
        dx, dy = x1 - x0, y1 - y0
        if 0.0 <= (x - x0) * dx + (y - y0) * dy <= dx * dx + dy * dy:
            return True
    return math.hypot(x - x0, y - y0) <= tolerance or math.hypot(x - x1, y - y1) <= tolerance


def _line_line(a: Segment[F], b: Segment[F]) -> list[XY]:
    """The crossing of the two whole lines; none where they are parallel."""
    ax, ay = a.x1 - a.x0, a.y1 - a.y0
    bx, by = b.x1 - b.x0, b.y1 - b.y0
    cross = ax * by - ay * bx
    if cross == 0.0:
        return []
    part = ((b.x0 - a.x0) * by - (b.y0 - a.y0) * bx) / cross
    if not math.isfinite(part):
        return []  # parallel to the last digit
    # On an upright or level line the place is exactly on it: notches stay level to the last digit.
    x = a.x0 if ax == 0.0 else b.x0 if bx == 0.0 else a.x0 + part * ax
    y = a.y0 if ay == 0.0 else b.y0 if by == 0.0 else a.y0 + part * ay
    return [(x, y)]


def _line_circle(line: Segment[F], arc: Arc[F], tolerance: float) -> list[XY]:
    """The crossings of a whole line and a whole circle; one where it only touches."""
    dx, dy = line.x1 - line.x0, line.y1 - line.y0
    length = math.hypot(dx, dy)
    if length == 0.0:
        return []
    dx, dy = dx / length, dy / length
    along = (arc.cx - line.x0) * dx + (arc.cy - line.y0) * dy
    off = dx * (arc.cy - line.y0) - dy * (arc.cx - line.x0)  # the centre lies this far left of the line
    radius = arc.radius
    if abs(off) > radius + tolerance:
        return []
    half = math.sqrt(max(0.0, (radius - off) * (radius + off)))
    if abs(abs(off) - radius) <= tolerance and half <= max(tolerance, SHALLOW * radius):
        side = math.copysign(radius, off)
        return [(arc.cx + dy * side, arc.cy - dx * side)]
    foot_x, foot_y = line.x0 + along * dx, line.y0 + along * dy
    return [(foot_x - half * dx, foot_y - half * dy), (foot_x + half * dx, foot_y + half * dy)]


def _circle_circle(a: Arc[F], b: Arc[F], tolerance: float) -> list[XY]:
    """The crossings of two whole circles; one where they only touch, none where they are the same circle."""
    dx, dy = b.cx - a.cx, b.cy - a.cy
    apart = math.hypot(dx, dy)
    wide, narrow = (a, b) if a.radius >= b.radius else (b, a)
    if apart + (wide.radius - narrow.radius) <= tolerance:
        return []
    if apart > a.radius + b.radius + tolerance or apart < wide.radius - narrow.radius - tolerance:
        return []
    # From the wide circle's centre: the common chord stands `along` off, and is 2 x `half` long.
    if wide is b:
        dx, dy = -dx, -dy
    dx, dy = dx / apart, dy / apart
    along = (apart * apart + (wide.radius - narrow.radius) * (wide.radius + narrow.radius)) / (2.0 * apart)
    half = math.sqrt(max(0.0, (wide.radius - along) * (wide.radius + along)))
    outside = abs(apart - (a.radius + b.radius)) <= tolerance
    inside = abs(apart - (wide.radius - narrow.radius)) <= tolerance
    if (outside or inside) and half <= max(tolerance, SHALLOW * narrow.radius):
        return [(wide.cx + wide.radius * dx, wide.cy + wide.radius * dy)]
    foot_x, foot_y = wide.cx + along * dx, wide.cy + along * dy
    return [(foot_x - half * dy, foot_y + half * dx), (foot_x + half * dy, foot_y - half * dx)]
