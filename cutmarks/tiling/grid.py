"""From a tile as measured, a joint, a bond and a start to the grid of an area."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from cutmarks.geometry.frames import Courses, Placement, Surface
from cutmarks.setout.lines import on_lines
from cutmarks.setout.model import Line
from cutmarks.sides import Side
from cutmarks.tiling.model import Grid, TileKind

if TYPE_CHECKING:
    from cutmarks.job.models import AreaSpec, TileSpec
    from cutmarks.readings import Start


def tile_as_laid(spec: TileSpec, area: AreaSpec) -> TileKind:
    """The tile's real size as it lies in this area, mm: w along the courses, h across them.

    A measured run of n tiles and n - 1 joints gives the pitch, (run + joint) / n, and the tile is the pitch less the
    area's joint. Without `lay` the first size written lies across.
    """
    w, h = spec.sides_as_laid(area.lay)
    return TileKind(
        name=spec.name,
        w=w if spec.run_across is None else spec.run_across.tile(area.joint),
        h=h if spec.run_up is None else spec.run_up.tile(area.joint),
        measured=spec.measured,
        thickness=spec.thickness,
        bed=spec.bed,
        notch=spec.notch,
        material=spec.material,
        face=spec.face,
        bevelled=spec.bevelled,
        shade=spec.shade,
        calibre=spec.calibre,
        batch=spec.batch,
        template=spec.template,
        written=(w, h),
    )


def grid_of(area: AreaSpec, tile: TileKind, lines: Mapping[str, Line], bond_shift: float) -> Grid:
    """Where every tile of an area lies; both starts are given, and how far its bond moves a course.

    `joint` is the middle of a joint, with tile (0, 0) right of or above it. In a turned area the start's two readings
    name one point, on which lies the tile's corner, its middle, or the crossing of two joints' middles.
    """
    assert area.start_across is not None
    assert area.start_up is not None
    x, y = on_lines(area.start_across.at, lines), on_lines(area.start_up.at, lines)
    turned: Placement[Courses, Surface] = Placement.turned(area.turn)
    du, dv = turned.xy(*start_reference(area, tile))
    return Grid(
        w=tile.w,
        h=tile.h,
        joint=area.joint,
        bond_shift=bond_shift,
        progressive=area.bond.way == "progressive",
        turn=area.turn,
        to_surface=Placement.turned(area.turn, x - du, y - dv),
        carried=None if area.bond.carried is None else Side(area.bond.carried),
    )


def _before(start: Start, size: float, joint: float) -> float:
    """How far the start's own point lies from the tile's left or bottom edge, into the tile, mm."""
    match start.anchor:
        case "joint" | "crossing":
            return -joint / 2
        case "middle":
            return size / 2
        case "right" | "hangs from":
            return size
        case _:
            return 0.0


def start_reference(area: AreaSpec, tile: TileKind) -> tuple[float, float]:
    """Where the start's point lies in the Courses frame (u, v), mm."""
    assert area.start_across is not None
    assert area.start_up is not None
    return _before(area.start_across, tile.w, area.joint), _before(area.start_up, tile.h, area.joint)
