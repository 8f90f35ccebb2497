"""What is one for several walls round which courses run: where the floor lies lowest, and the cuts at the ceilings."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from cutmarks.gauging.model import Gauged, OnWall, RunsRound
from cutmarks.sides import Side


def runs_round(found: Sequence[Gauged], areas: Mapping[str, str]) -> RunsRound | None:
    """Of the walls in `areas`, by their names those of the areas that run round; None where they are no two."""
    walls = [one for one in found if one.surface.setout.name in areas]
    if len(walls) < 2:
        return None
    over: list[OnWall] = []
    cuts: list[OnWall] = []
    for wall in walls:
        setout = wall.surface.setout
        area = areas[setout.name]
        for base in wall.bases:
            lows = [stretch.lowest.over for stretch in base.stretches if stretch.on == "batten" and stretch.lowest]
            over += [OnWall(setout.name, low) for low in lows if base.area == area]
        edge = setout.edges.get(Side.TOP)
        tops = set() if edge is None else {edge.what, edge.called, *edge.whats}
        for group in wall.cuts:
            if group.side is Side.TOP and group.to in tops and group.pieces[0].startswith(f"{area} "):
                cuts += [OnWall(setout.name, mm) for mm in group.cuts]
    by_size = sorted(cuts, key=lambda one: one.mm)
    return RunsRound(
        walls=tuple(wall.surface.setout.name for wall in walls),
        lowest=max(over, key=lambda one: one.mm, default=None),
        cuts=(by_size[0], by_size[-1]) if by_size else None,
    )
