"""What a plan may build, and who asks for more: told by division on the grid, before any piece is built.

No tiler cuts more tiles than stand here. Past that some figure of the job is a slip, the tile's size most often, and
the plan would take minutes and the machine's memory with it.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from cutmarks.errors import Fault
from cutmarks.geometry.rings import edges
from cutmarks.openings.cuts import places_met
from cutmarks.openings.model import Opening
from cutmarks.plan.surfaces import Laid
from cutmarks.tiling.layout import Layout
from cutmarks.tiling.model import Place
from cutmarks.units import Style, say

if TYPE_CHECKING:
    from cutmarks.job import Job

MOST_CUT = 25_000
"""Tiles of a job that its edges, windows and outlines cut."""
MOST_MET = 50_000
"""Tiles that all of its holes meet, one met by two counted twice."""
MOST_OF_ONE = 2_500
"""Tiles that one hole meets: a bath's outline on mosaic."""
MOST_ON_ONE = 250
"""Holes on one tile."""


def over_budget(laid: Sequence[Laid], job: Job, style: Style) -> list[Fault]:
    """A fault for each hole or area that asks for more than a plan builds; none where all of it can be built."""
    return [*_cut(laid, job, style), *_met(laid, job, style)]


def _cut(laid: Sequence[Laid], job: Job, style: Style) -> Iterator[Fault]:
    """The area that cuts most, where all of them together cut too many tiles."""
    cut = {(one, layout.area): _along_edges(layout) for one in range(len(laid)) for layout in laid[one].layouts}
    if sum(cut.values()) <= MOST_CUT:
        return
    number, name = max(cut, key=lambda key: cut[key])
    one = laid[number]
    layout = next(layout for layout in one.layouts if layout.area == name)
    spec = next(area for area in one.spec.areas if area.name == name)
    yield job.fault(
        spec.where,
        f'area "{name}"',
        f"its edges, windows and outlines cut about {_round(cut[number, name])} of its tiles, which are "
        f"{_size(layout, style)}, and a job cuts at most {MOST_CUT}: look at the size of tile {layout.tile.name}, or "
        "make several jobs of it.",
    )


def _along_edges(layout: Layout) -> int:
    """About how many tiles the outline of an area's ground runs through; none where a side is open."""
    if layout.is_open:
        return 0
    return sum(
        int(abs(edge.x1 - edge.x0) / layout.grid.pitch_u + abs(edge.y1 - edge.y0) / layout.grid.pitch_v) + 1
        for ring in layout.ground.rings
        for edge in edges(ring)
    )


def _met(laid: Sequence[Laid], job: Job, style: Style) -> Iterator[Fault]:
    """Each hole that meets too many tiles; the one too many on one tile; all of them together."""
    total, large = 0, False
    for one in laid:
        specs = {hole.name: hole for hole in one.spec.holes}
        for layout in one.layouts:
            on: Counter[Place] = Counter()
            for opening in one.openings:
                where, about = specs[opening.name].where, f'hole "{opening.name}"'
                met = _tiles_under(opening, layout)
                total += met
                if met > MOST_OF_ONE:
                    large = True
                    yield job.fault(
                        where,
                        about,
                        f"it meets about {_round(met)} tiles of area {layout.area}, which are {_size(layout, style)}, "
                        f"and one hole meets at most {MOST_OF_ONE}: look at its size, and at that of tile "
                        f"{layout.tile.name}.",
                    )
                    continue
                places = places_met(opening, layout)
                on.update(places)
                if any(on[place] > MOST_ON_ONE for place in places):
                    yield job.fault(
                        where,
                        about,
                        f"it is the {MOST_ON_ONE + 1}st on one tile of area {layout.area}, and a tile has at most "
                        f"{MOST_ON_ONE} holes: look at the places of its holes, and at the size of tile "
                        f"{layout.tile.name}.",
                    )
                    break
    if total > MOST_MET and not large:
        most = max((one for one in laid), key=lambda one: len(one.openings))
        yield job.fault(
            most.spec.where,
            f'surface "{most.setout.name}"',
            f"the holes of this job meet about {_round(total)} tiles, and a job's meet at most {MOST_MET}: make "
            "several jobs of it.",
        )


def _tiles_under(opening: Opening, layout: Layout) -> int:
    """About how many tiles the bounds of an opening, or of its cover, overlap."""
    box, cover = opening.ring.bounds_in(layout.grid.to_surface.inverse()), opening.cover
    wide, high = (box.width, box.height) if cover is None else (max(box.width, cover.w), max(box.height, cover.h))
    return int(wide / layout.grid.pitch_u + 1) * int(high / layout.grid.pitch_v + 1)


def _round(count: int) -> str:
    """A count to two figures: an estimate says no more."""
    digits = max(0, len(str(count)) - 2)
    return str(round(count, -digits))


def _size(layout: Layout, style: Style) -> str:
    return f"{say(layout.tile.w, style)} x {say(layout.tile.h, style)}"
