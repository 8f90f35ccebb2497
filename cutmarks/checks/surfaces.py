"""Rules about a surface as set out: what was not said, spaces that no tile fills, bonds and sizes."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

from cutmarks.checks.model import Finding
from cutmarks.checks.pieces import part_said
from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.frames import Surface
from cutmarks.geometry.regions import Region
from cutmarks.geometry.rings import edges
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.limits import Limits
from cutmarks.openings.edge_work import AT_THE_EDGE, lets_come
from cutmarks.openings.model import CutPiece
from cutmarks.readings import UNDER
from cutmarks.setout.edges import FAR, is_unfinished_at, position_at, read_at, runs_up, step_begins
from cutmarks.setout.model import SetOut, SurfaceEdge
from cutmarks.sides import SIDES, Side
from cutmarks.tiling.layout import Layout
from cutmarks.tiling.model import Grid, Place, TileKind
from cutmarks.units import Style, Unit, say


def finish_unknown(setout: SetOut, pieces: Sequence[CutPiece]) -> Iterator[Finding]:
    """A next wall or a floor that is not finished takes off room that nobody has said: trimmed pieces there wait.

    A floor is the usual state of day one: what is cut to it is cut on day two. A next wall is asked for.
    """
    for side in SIDES:
        edge = setout.edges.get(side)
        if edge is None or edge.still_to_come is not None:
            continue
        here = (p for p in pieces if p.piece.surface == setout.name)
        names = tuple(p.name for p in here if any(is_unfinished_at(edge, at) for at in _trimmed_at(edge, p)))
        if names:
            what = _unfinished(edge) or "what it meets"
            by_day_two = setout.kind == "wall" and side == "bottom"
            yield Finding(
                "note" if by_day_two else "stop",
                "still to come",
                names,
                _day_two(setout, what) if by_day_two else _asked(setout, side, what),
                None,
                None,
                "the job",
                holds="trimming",
            )


def _day_two(setout: SetOut, what: str) -> str:
    return (
        f"{setout.name}: {what} is still to come, so what is cut to it is cut on day two (holes go on). Measure it "
        "then, and write still to come: 0; or write its bed and tile now."
    )


def _asked(setout: SetOut, side: Side, what: str) -> str:
    return (
        f"{setout.name}, {side} edge: how much of {what} is still to come is not known, so the trimmed pieces there "
        "have no size yet (holes go on). Measure them when it is there, or write still to come: and what its bed and "
        "tile take off, or none."
    )


def trimmed_by(edge: SurfaceEdge, piece: CutPiece) -> bool:
    """Whether this edge, less what stays clear of it, is what a piece was trimmed by."""
    return any(_trimmed_at(edge, piece))


def _trimmed_at(edge: SurfaceEdge, piece: CutPiece) -> Iterator[float]:
    """Where along the edge, mm, corners of a piece lie that it was trimmed at; none where it was not."""
    if edge.side in piece.cut_edges:
        for ring in piece.piece.outline.moved(piece.piece.tile_at).rings:
            yield from (y if runs_up(edge.side) else x for x, y, _ in ring.vertices if lets_come(edge, x, y))


def _unfinished(edge: SurfaceEdge) -> str:
    """What it is that is not finished there: the edge, or its stretches."""
    whats = [what for what, waits in zip(edge.whats, edge.unfinished, strict=True) if waits]
    return " and ".join(dict.fromkeys(what for what in whats if what)) or edge.what


def strips_lost(layouts: Sequence[Layout], style: Style) -> Iterator[Finding]:
    """A strip under its joint and the least piece is no piece: the space is named."""
    for layout in layouts:
        rows: dict[str, set[int]] = defaultdict(set)
        for place, box in layout.lost_strips():
            rows[_where_lost(layout, place, box)].add(layout.course_number(place[1]))
        for where, courses in rows.items():
            rows_said = _courses(courses)
            yield Finding(
                "note",
                "space, no piece",
                (layout.area,),
                f"{layout.area}, {where}: under {say(layout.least_piece, style)} is left past the last joint, so no "
                f"piece is cut there ({rows_said}). Fill it as joint.",
            )


def _where_lost(layout: Layout, place: Place, strip: Bounds) -> str:
    """The side of the area on which a strip lies, by where it lies on its tile; or that a void leaves it."""
    if layout.is_beside_void(place):
        return "beside a window, niche or door"
    if strip.width < strip.height:
        return "left" if strip.min_x > TOUCH else "right"
    return "bottom" if strip.min_y > TOUCH else "top"


def long_offsets(layouts: Sequence[Layout], limits: Limits, style: Style) -> Iterator[Finding]:
    """A long offset of a tile that has a long side shows every bow of the tile."""
    for layout in layouts:
        long_side, part = max(layout.grid.w, layout.grid.h), layout.grid.offset_part
        if offset_is_long(layout.grid, limits):
            most = float(math.floor(limits.offset_part.value * 100 + TOUCH))
            yield Finding(
                "note",
                "long offset",
                (layout.area,),
                f"{layout.area}: courses are offset by {part * 100:.0f} % on a tile {say(long_side, style)} long: "
                f"over {most:g} % may show lips where the tile is bowed.",
                part * 100,
                most,
                limits.offset_part.source,
            )


def courses_off_level(
    layouts: Sequence[Layout], rounds: Mapping[str, str], limits: Limits, style: Style
) -> Iterator[Finding]:
    """Courses that are to run round several walls, by wall the area that does, and lie at another height on one."""
    level = [one for name, area in rounds.items() for one in layouts if (one.surface, one.area) == (name, area)]
    for other in level[1:]:
        first, pitch = level[0], other.grid.pitch_v
        by = (other.grid.to_surface.dy - first.grid.to_surface.dy) % pitch
        off = min(by, pitch - by)
        if off > limits.reading.value:
            where = "above" if by <= pitch - by else "below"
            yield Finding(
                "warn",
                "courses off level",
                (first.area, other.area),
                f"the courses of {other.surface} lie {say(off, style)} {where} those of {first.surface}, round which "
                "they are to run at one height: start both walls at the same height over their level line.",
                off,
                limits.reading.value,
                limits.reading.source,
            )


def offset_is_long(grid: Grid, limits: Limits) -> bool:
    """Whether courses are offset further than a tile with so long a side bears."""
    return max(grid.w, grid.h) > limits.offset_side.value and grid.offset_part > limits.offset_part.value + TOUCH


def near_joints(layouts: Sequence[Layout], limits: Limits, style: Style) -> Iterator[Finding]:
    """How far courses are moved that carry an offcut on is what the wall leaves: joints may all but meet."""
    for layout in layouts:
        grid = layout.grid
        apart, least = grid.offset_part * grid.pitch_u, limits.least_stagger.value * grid.w
        if grid.carried is not None and apart < least - TOUCH:
            yield Finding(
                "warn",
                "joints near",
                (layout.area,),
                f"{layout.area}: the joints of each course lie {say(apart, style)} beside those of the one below, "
                f"under {part_said(limits.least_stagger.value)} of the tile: with the offcut carried on that is what "
                "this width leaves. Lay it third right, or with another joint.",
                apart,
                least,
                limits.least_stagger.source,
            )


def sizes_unmeasured(tiles: Sequence[TileKind], style: Style) -> Iterator[Finding]:
    """A size off the box is a nominal size."""
    names = sorted({tile.name for tile in tiles if not tile.measured})
    small = "1/32 in is 5/8 in" if style.unit is Unit.INCH else "1 mm is 20 mm"
    if names:
        yield Finding(
            "note",
            "size not measured",
            tuple(names),
            f"tile {', '.join(names)}: size off the box, not measured: {small} in 20 tiles. Measure a run.",
        )


def sizes_differ(tiles: Sequence[TileKind], limits: Limits, style: Style) -> Iterator[Finding]:
    """The run makes another tile than its size as written: a nominal size, or a run that was miscounted."""
    seen: set[tuple[str, float, float]] = set()
    for tile in tiles:
        off = max(abs(differs) for differs in tile.run_differs)
        if tile.written is None or off <= limits.size_off.value or (tile.name, tile.w, tile.h) in seen:
            continue
        seen.add((tile.name, tile.w, tile.h))
        by_run, written = (f"{say(w, style)} x {say(h, style)}" for w, h in ((tile.w, tile.h), tile.written))
        yield Finding(
            "warn",
            "run and size differ",
            (tile.name,),
            f"tile {tile.name} is {by_run} by its run, and {written} as written: the run counts. Measure one tile, and "
            "the run again, edge to edge.",
            off,
            limits.size_off.value,
            limits.size_off.source,
        )


def edges_go_on(setout: SetOut, limits: Limits, style: Style) -> Iterator[Finding]:
    """An edge that rakes is taken to go on straight past its last reading: said where that makes a difference.

    It goes on as far as it is the end of the surface itself: up to the next edge, and not to where that one leans out
    to. Where no next edge was read nothing is known, and nothing said.
    """
    for edge in setout.edges.values():
        up = runs_up(edge.side)
        reaches = _reaches(edge, setout.bare)
        if reaches is None or len(edge.measured) < 2:
            continue
        words = ("below", "above") if up else ("left of", "right of")
        onto = (Side.BOTTOM, Side.TOP) if up else (Side.LEFT, Side.RIGHT)
        for points, low, high in _stretches(edge, reaches):
            ways = zip(words, onto, (points[0], points[-1]), (low, high), (-1.0, 1.0), strict=True)
            for way, next_side, (last, at), end, onward in ways:
                if end in reaches and next_side not in setout.edges:
                    continue  # where two edges that lean together would meet, far off, is no end of the surface
                beyond, moved = onward * (end - last), abs(read_at(points, end) - at)
                if TOUCH < beyond < FAR / 2.0 and moved > limits.edge_goes_on.value + TOUCH:
                    yield Finding(
                        "note",
                        "edge goes on",
                        (setout.name,),
                        f"{setout.name}, {edge.side} edge: taken to go on straight {say(beyond, style)} {way} its last "
                        f"reading, which moves it by {say(moved, style)}. Read it there too.",
                        moved,
                        limits.edge_goes_on.value,
                        limits.edge_goes_on.source,
                    )


def _stretches(
    edge: SurfaceEdge, reaches: tuple[float, float]
) -> Iterator[tuple[list[tuple[float, float]], float, float]]:
    """The readings of each stretch of an edge, (along, where it is), and from where to where that lies, mm."""
    up = runs_up(edge.side)
    begins = step_begins(edge)
    running = [point.y if up else point.x for point in edge.measured]
    ends = [reaches[0], *(running[at] for at in begins[1:]), reaches[1]]
    for read, (low, high) in zip(edge.read or (edge.measured,), pairwise(ends), strict=True):
        yield [(p.y, p.x) if up else (p.x, p.y) for p in read], low, high


def _courses(numbers: set[int]) -> str:
    """Courses in words, those below the base last: courses 1 to 4, under 1."""
    above, below = {number for number in numbers if number > 0}, {-number for number in numbers if number < 0}
    said = [f"{'course' if len(above) == 1 else 'courses'} {_ranges(above)}"] if above else []
    return ", ".join([*said, *([f"{UNDER} {_ranges(below)}"] if below else [])])


def _reaches(edge: SurfaceEdge, bare: Region[Surface]) -> tuple[float, float] | None:
    """From where to where along itself an edge is the end of the bare surface, mm; None where it is nowhere."""
    up = runs_up(edge.side)
    found: list[float] = []
    for side in (side for ring in bare.rings for side in edges(ring)):
        ends = ((side.y0, side.x0), (side.y1, side.x1)) if up else ((side.x0, side.y0), (side.x1, side.y1))
        middle = (ends[0][0] + ends[1][0]) / 2.0, (ends[0][1] + ends[1][1]) / 2.0
        if ends[0][0] != ends[1][0] and abs(position_at(edge, middle[0]) - middle[1]) <= AT_THE_EDGE:
            found += (ends[0][0], ends[1][0])
    return (min(found), max(found)) if found else None


def _ranges(numbers: set[int]) -> str:
    """Runs as words: 1 to 4, 7 for {1, 2, 3, 4, 7}."""
    out: list[str] = []
    ordered = sorted(numbers)
    first = last = ordered[0]
    for number in [*ordered[1:], ordered[-1] + 2]:
        if number == last + 1:
            last = number
            continue
        out.append(str(first) if first == last else f"{first} to {last}")
        first = last = number
    return ", ".join(out)
