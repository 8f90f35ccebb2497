"""The fittings of surfaces without a grid, for the terminal: where each is, how deep, and what is about it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from cutmarks.cli.terminal import columns, figure, wrapped
from cutmarks.plan.clearances import by_surface
from cutmarks.saying.clearances import edge_sentence, finished_figure, room_figures, verdict
from cutmarks.saying.from_lines import place_words
from cutmarks.sides import SIDES

if TYPE_CHECKING:
    from cutmarks.plan import Plan, SurfacePlan
    from cutmarks.plan.clearances import Clearance

INDENT = "  "
WHERE = "WITHOUT THE TILES. To the middle of each, from the lines and from the FINISHED edges"
BESIDE = "ROOM. How deep it lies and may lie, the room to the nearest cover, what servicing it needs and has"


def clearance_lines(plan: Plan) -> list[str]:
    """Two tables a surface that has no grid; nothing where all have one."""
    named = by_surface(plan.clearances)
    lines: list[str] = []
    for surface in plan.surfaces:
        own = named.get(surface.setout.name)
        if own:
            lines += _surface(plan, surface, own)
    return lines


def _surface(plan: Plan, surface: SurfacePlan, own: list[Clearance]) -> list[str]:
    setout, style = surface.setout, plan.say.style
    places: list[tuple[str, ...]] = [("hole", "from the lines", *SIDES)]
    rooms: list[tuple[str, ...]] = [("hole", "", "cover", "behind face", "range", "nearest", "room", "service", "has")]
    for one in own:
        name, at = one.opening.name, ", ".join(place_words(one.opening.at, setout, style))
        places.append((name, at, *(figure(finished_figure(one.finished[side], style)) for side in SIDES)))
        rooms.append((name, verdict(one), *map(figure, room_figures(one, style))))
    return [
        "",
        *wrapped(f"{setout.name.upper()}, {WHERE}", "", INDENT),
        *columns(places, INDENT),
        *wrapped(edge_sentence(setout, style), INDENT, INDENT * 2),
        "",
        *wrapped(f"{setout.name.upper()}, {BESIDE}", "", INDENT),
        *columns(rooms, INDENT),
    ]
