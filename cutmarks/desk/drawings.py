"""The elevations of a plan as the page shows them: the marks of the job sheet, and where on the wall a tap falls."""

from __future__ import annotations

from io import BytesIO

from msgspec import Struct

from cutmarks.geometry.frames import Page, Placement, Point, Surface
from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.marks.elevation import elevation_height, elevation_in_view
from cutmarks.marks.model import moved
from cutmarks.plan import Plan, SurfacePlan
from cutmarks.saying.from_lines import place_words
from cutmarks.sheets.model import PaperSheet
from cutmarks.writers.drawing import drawing
from cutmarks.writers.svg import write_svg

WIDTH, MOST_HEIGHT = 150.0, 220.0
"""Of a drawing, mm; a screen shows it larger, so that the least words of a sheet can be read."""
_TO_SHEET: Placement[Page, SheetFrame] = Placement.shift(0.0, 0.0)


class ShownSurface(Struct, frozen=True):
    """A surface drawn as SVG, `width` by `height` mm; surface = (page - (dx, dy)) / scale, y up from its foot."""

    surface: str
    svg: str
    width: float
    height: float
    scale: float
    dx: float
    dy: float


def shown(plan: Plan) -> tuple[ShownSurface, ...]:
    """Every surface of a plan, with its tiles or without, in the job's order."""
    return tuple(_shown(plan, surface) for surface in plan.surfaces)


def _shown(plan: Plan, surface: SurfacePlan) -> ShownSurface:
    name = surface.setout.name
    height = min(elevation_height(plan, surface, WIDTH), MOST_HEIGHT)
    view, marks = elevation_in_view(plan, surface, WIDTH, height)
    page = PaperSheet("", f"{plan.job}: {name}", WIDTH, height, tuple(moved(mark, _TO_SHEET) for mark in marks))
    out = BytesIO()
    write_svg(drawing(page), out)
    return ShownSurface(name, out.getvalue().decode(), WIDTH, height, view.scale, view.dx, view.dy)


def tapped(plan: Plan, surface: str, x: float, y: float) -> tuple[str, str]:
    """Where a tap fell, (x, y) mm on the surface, in words of the main lines: only to say which side of them it is."""
    at: Point[Surface] = Point(float(round(x / 10) * 10), float(round(y / 10) * 10))
    return place_words(at, plan.setout(surface), plan.say.style)
