"""Which area of a surface is fixed before which."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from cutmarks.fixing.beside import USUAL, most_apart
from cutmarks.geometry.frames import Placement, Surface
from cutmarks.geometry.near import pairs_near
from cutmarks.geometry.regions import Region, intersection
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.setout.model import SetOut
from cutmarks.tiling.layout import Layout

if TYPE_CHECKING:
    from cutmarks.errors import Faults
    from cutmarks.job.models import AreaSpec, SurfaceSpec


def order_of_areas(surface: SurfaceSpec, setout: SetOut, layouts: Sequence[Layout], faults: Faults) -> dict[str, int]:
    """Each area's place in the order: those named in `first:`, then X before Y where Y stands on X.

    Of those that may come next the one with the lower start does, else the one written first; on a floor with a way
    out, the one that begins furthest from it. Areas that stand on each other in a ring are a fault, which asks.
    """
    specs = {area.name: area for area in surface.areas}
    before = {layout.area: set[str]() for layout in layouts}
    for lower, upper in _one_over_another(layouts, setout):
        if hangs(specs[lower]) and hangs(specs[upper]):
            before[lower].add(upper)
        else:
            before[upper].add(lower)
    order = [name for name in surface.first if name in before]
    rest = [layout for layout in layouts if layout.area not in order]
    near = {layout.area: _nearness(layout, setout) for layout in rest}
    while rest:
        ready = [layout for layout in rest if not before[layout.area] - set(order)]
        if not ready:
            with faults.about(f'surface "{surface.name}"', surface.where):
                faults.tell(_ring([layout.area for layout in rest]))
            ready = rest
            before = {name: set() for name in before}  # one sentence asks for all of them
        chosen = min(ready, key=lambda layout: near[layout.area])
        order.append(chosen.area)
        rest.remove(chosen)
    return {name: number for number, name in enumerate(order)}


def assumed_order(surface: SurfaceSpec, setout: SetOut, layouts: Sequence[Layout]) -> Iterator[str]:
    """A sentence for each two areas of which the lower hangs from its line and the upper sits right over it.

    A wall is tiled upward, and so the lower one is taken to be first; who puts the upper one on a batten along that
    line, and hangs the lower one afterwards, names it under `first:`.
    """
    specs = {area.name: area for area in surface.areas}
    for lower, upper in dict.fromkeys(_one_over_another(layouts, setout)):
        if hangs(specs[lower]) and not hangs(specs[upper]) and not {lower, upper} & set(surface.first):
            yield (
                f"{surface.name}: {lower} hangs from its line and {upper} sits right over it; {lower} is taken to be "
                f"fixed first, and {upper} to stand on it. Write first: [{upper}] where it is the other way."
            )


def _nearness(layout: Layout, setout: SetOut) -> float:
    """Less for the area that comes first: its start's height, or how near to the way out it begins, mm."""
    out = setout.way_out
    if setout.kind == "floor" and out is not None:
        return out.sign * layout.on_surface.at(out)
    return layout.grid.to_surface.xy(*layout.reference)[1]


def _ring(names: Sequence[str]) -> str:
    listed = " and ".join(f'"{name}"' for name in names)
    return (
        f"which is fixed first of {listed}? By their starts each waits for another. Write first: [{names[0]}] on the "
        "surface, the one that goes up first in front."
    )


def _one_over_another(layouts: Sequence[Layout], setout: SetOut) -> Iterator[tuple[str, str]]:
    """(lower, upper) of each two areas of which the one lies right over the other, on a wall."""
    laid = [layout for layout in layouts if not layout.bounds.is_empty]
    if setout.kind == "floor" or not laid:
        return
    grounds = [(layout, layout.bounds.moved(layout.grid.to_surface)) for layout in laid]
    boxes = [((layout, ground), ground.bounds) for layout, ground in grounds]
    for (a, a_ground), (b, b_ground) in pairs_near(boxes, most_apart(*(layout.grid.joint for layout in laid))):
        down = most_apart(a.grid.joint, b.grid.joint)
        for lower, upper, low, high in ((a, b, a_ground, b_ground), (b, a, b_ground, a_ground)):
            if _lies_under(low, high, down):
                yield lower.area, upper.area


def hangs(area: AreaSpec) -> bool:
    """Whether an area's courses hang from its start's line, on a wall."""
    return area.start_up is not None and area.start_up.anchor == "hangs from"


def _lies_under(lower: Region[Surface], upper: Region[Surface], by: float) -> bool:
    """Whether some of the upper area, wider than a joint, lies right over the lower one, no further than `by` mm."""
    down: Placement[Surface, Surface] = Placement(dy=-by)
    both = intersection(upper.moved(down), lower)
    return not both.is_empty and both.bounds.width > USUAL + TOUCH and both.area > USUAL * TOUCH
