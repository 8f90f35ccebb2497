"""The set-out of a surface and the order of its work, in words: numbered sections, one instruction a line."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterator, Sequence

from msgspec import Struct
from msgspec.structs import replace

from cutmarks.gauging.flow import gauged
from cutmarks.gauging.model import (
    AreaGauge,
    Base,
    BaseStretch,
    Creeps,
    CutGroup,
    Gauged,
    HandedOn,
    Meeting,
    OverVoid,
    Rod,
)
from cutmarks.geometry.tolerance import COINCIDE, TOUCH
from cutmarks.openings.model import CutPiece
from cutmarks.plan import Plan
from cutmarks.saying.dialect import wording
from cutmarks.saying.edges_read import edges_read
from cutmarks.saying.figures import goes_in, goes_in_both_ways
from cutmarks.saying.findings import STOP, STOP_SAW, held, held_words
from cutmarks.saying.from_lines import across_words, up_words
from cutmarks.saying.holes_told import holes_told
from cutmarks.saying.offcuts import handed_on, offcut_lines
from cutmarks.saying.openings_told import BOTH_ENDS, openings_told, read_to_tile, tile_of
from cutmarks.saying.pieces import shape_in_short
from cutmarks.saying.runs import MOST_NAMES, course_of, named
from cutmarks.saying.starts import why_lines
from cutmarks.setout.edges import position_at, what_at
from cutmarks.setout.model import SetOut, SurfaceEdge
from cutmarks.sides import Side
from cutmarks.tiling.model import Grid
from cutmarks.units import Style, say, say_down

MOST_JOINTS = 12
"""So many joints of a rod are listed; the rest goes on by the pitch."""
MOST_COURSES = 24
"""So many courses that lie each otherwise are listed; the rule says the rest."""
WAYS = {Side.RIGHT: "to the right", Side.LEFT: "to the left", Side.TOP: "up", Side.BOTTOM: "down"}


class Section(Struct, frozen=True):
    """One step of the work: its title, and its lines."""

    title: str
    lines: tuple[str, ...]


def told(plan: Plan) -> tuple[Gauged, ...]:
    """The surfaces of a plan that have their start, less what waits for a finding; with the offcuts that are kept."""
    handed: dict[str, list[HandedOn]] = defaultdict(list)
    for one in handed_on(plan):
        for name in dict.fromkeys((one.first.piece.surface, one.later.piece.surface)):
            handed[name].append(one)
    surfaces = gauged(plan, lambda piece: held(plan, piece))
    return tuple(replace(one, handed=tuple(handed[one.surface.setout.name])) for one in surfaces)


def heading_lines(one: Gauged, plan: Plan) -> tuple[str, ...]:
    """The tiles with the set-out lines, how pieces are counted, and the edges of a surface, a line each."""
    style, words, setout = plan.say.style, wording(plan.say.words), one.surface.setout
    tiles = [
        f"{area.area.name}: tile {area.area.tile.name} {say(area.area.grid.w, style)} x "
        f"{say(area.area.grid.h, style)}, {words.joint} {say(area.area.grid.joint, style)}, {area.area.bond_words}"
        for area in one.areas
    ]
    lines = " · ".join(f"{line.name} = {line.kind}, {line.words}" for line in setout.lines.values())
    counted = "Pieces: 1-6 = course 1, 6th from the left"
    if one.second_day:
        counted += f"; under 1 = first course under the {words.batten}"
    drawn = "holes solid, their covers dashed; " if any(one.surface == setout.name for one in plan.openings) else ""
    first = next((_course(rod.courses[0]) if rod.courses else "1" for gauge in one.areas for rod in gauge.across), "")
    drawn += f"figures below: left edges in course {first}" if first else ""
    how = f"{counted} · drawn: {drawn.rstrip('; ')}" if drawn else counted
    edges = edges_read(setout, style)
    head = " · ".join((*tiles, lines))
    return (head, how, *([f"Measured: {edges}"] if edges else []))


def sections(one: Gauged, plan: Plan, *, tight: bool = False) -> tuple[Section, ...]:
    """The steps of the work on one surface, in their order; one that has nothing to say is left out.

    tight  for a page that has no room for a line for each cut.
    """
    wall = one.surface.setout.kind == "wall"
    made = (
        _before(one, plan),
        _batten(one, plan) if wall else _square(one, plan),
        _rod(one, plan),
        _start(one, plan),
        _across(one, plan.say.style),
        _meet(one, plan.say.style),
        _cuts(one, plan, day=1, title="CUTS, each measured: opening -> cut to expect, both rounded down", tight=tight),
        _second_day(one, plan, tight=tight),
        _grout(one, plan),
        _why(one, plan),
    )
    return tuple(section for section in made if section is not None and section.lines)


def _before(one: Gauged, plan: Plan) -> Section:
    wall = one.surface.setout.kind == "wall"
    batten = wording(plan.say.words).batten
    lines = ["Local codes, the makers' sheets and licensed practice come first."]
    name = one.surface.setout.name
    stopped = [
        piece.name
        for piece in plan.pieces
        if piece.piece.surface == name and held_words(plan, piece) in (STOP, STOP_SAW)
    ]
    if stopped:
        lines.insert(0, f"STOP at {named(stopped, len(one.areas) > 1)}: the job sheet says why. They are not cut yet.")
    if plan.openings:
        lines.append("Pipes and boxes where they are drawn, and as deep as they should be?")
    if wall and any(base.has_batten for base in one.bases):
        lines.append(
            f"Look for cables and pipes before a screw of the {batten} goes in. Tanked: no screws, prop it on blocks."
        )
    return Section("BEFORE ANYTHING", tuple(lines))


def _batten(one: Gauged, plan: Plan) -> Section:
    style = plan.say.style
    batten = wording(plan.say.words).batten
    lines = [line for base in one.bases for line in _base(base, one, style, batten)]
    kinds = {stretch.on for base in one.bases for stretch in base.stretches if stretch.course is None}
    if {"batten", "packers"} <= kinds:
        lines.append("Level across both: check with the long level.")
    lines += _one_level(one, style, batten)
    return Section(batten.upper() if any(base.has_batten for base in one.bases) else "FIRST COURSE", tuple(lines))


def _one_level(one: Gauged, style: Style, batten: str) -> Iterator[str]:
    """What is one for all the walls round which these courses run."""
    level = one.round
    if level is None:
        return
    walls = f"{', '.join(level.walls[:-1])} and {level.walls[-1]}"
    lowest = level.lowest
    over = (
        ""
        if lowest is None
        else f": the {batten}'s top is {say(lowest.mm, style)} over the lowest floor of all, on {lowest.wall}"
    )
    yield f"One level round {walls}{over}."
    if level.cuts is not None:
        least, most = level.cuts
        yield (
            f"Cuts at the ceilings: {say_down(least.mm + COINCIDE, style)} at the least, on {least.wall}, "
            f"{say_down(most.mm + COINCIDE, style)} at the most, on {most.wall}."
        )


def _base(base: Base, one: Gauged, style: Style, batten: str) -> Iterator[str]:
    setout = one.surface.setout
    several = f"{base.area}: " if len(one.areas) > 1 else ""
    for stretch in base.stretches:
        begins, ends = across_words(stretch.low, setout, style), across_words(stretch.high, setout, style)
        match stretch.on:
            case "batten":
                at = f"from {begins} to {ends}, its top {_level(base, setout, style)}"
                yield f"{several}{batten.capitalize()} {at}{_heights(stretch, setout, style)}"
                yield from _lowest(stretch, setout, style)
                yield from _instead(stretch, setout, style)
            case "packers" | "cut" if stretch.course is not None:
                yield f"{several}From {begins} to {ends} {_over_it(stretch, setout, style)}"
            case "packers":
                yield f"{several}From {begins} to {ends} {_packers(stretch, setout, style)}."
            case "cut":
                top, gap = up_words(stretch.top, setout, style), stretch.packers
                on = f"on packers of {say(gap, style)} on the " if gap > TOUCH else "on the "
                yield (
                    f"{several}From {begins} to {ends} the first course is cut, and stands {on}"
                    f"{stretch.what or 'edge below'}: no {batten}. Its upper edges go to {top}, by the level line."
                )
            case "course":
                yield f"{several}From {begins} to {ends} it stands on the area below, a joint over it."
            case "void":
                top = _level(base, setout, style)
                yield f"{several}From {begins} to {ends} a {batten} over the {stretch.what}, its top {top}."


def _over_it(stretch: BaseStretch, setout: SetOut, style: Style) -> str:
    """What carries the course that begins on what stands out: "course 9 is cut, and stands on packers of 3 on it"."""
    assert stretch.course is not None
    gap = stretch.packers
    on = f"on packers of {say(gap, style)} on the " if gap > TOUCH else "on the "
    cut = "is cut, and stands" if stretch.on == "cut" else "stands whole"
    return (
        f"course {_course(stretch.course)} {cut} {on}{stretch.what or 'edge below'}: no batten there. Its upper edges "
        f"go to {up_words(stretch.top, setout, style)}, by the level line."
    )


def _packers(stretch: BaseStretch, setout: SetOut, style: Style) -> str:
    """How high packers are, at both ends and the middle where what they stand on is not level."""
    on = stretch.what or "what lies below"
    said = [say(max(height.over, 0.0), style) for height in stretch.heights]
    if len(set(said)) > 1:
        at = ", ".join(
            f"{much} {_there(height.x, setout, style)}" for much, height in zip(said, stretch.heights, strict=True)
        )
        return f"packers on the {on}, which is not level: {at}; set them to the level line"
    if stretch.packers > TOUCH:
        return f"packers of {say(stretch.packers, style)} on the {on}"
    return f"the first course stands on the {on}"


def _there(x: float, setout: SetOut, style: Style) -> str:
    """Where along a level something is: "at 900 left of V", "on V"."""
    where = across_words(x, setout, style)
    return where if where.startswith("on ") else f"at {where}"


def _instead(stretch: BaseStretch, setout: SetOut, style: Style) -> Iterator[str]:
    """That what is there carries the cut course too, and with which start."""
    if stretch.instead is not None and stretch.under is not None:
        at, gap = stretch.instead, stretch.under.gap
        packers = f", on packers of {say(gap, style)}," if gap > TOUCH else ""
        yield (
            f"Or without it: the {stretch.what} carries the cut course{packers} and that goes first, with start: "
            f"{{across: left on {across_words(at.x, setout, style)}, up: sits on {up_words(at.y, setout, style)}}}."
        )


def _level(base: Base, setout: SetOut, style: Style) -> str:
    return up_words(base.y, setout, style) if base.y else f"on {base.words or 'the level line'}"


def _heights(stretch: BaseStretch, setout: SetOut, style: Style) -> str:
    if not stretch.heights:
        return ". What lies below was not read: measure down to the finished floor at both its ends and the middle."
    what = stretch.what or "floor"
    over = (
        f"the finished {what}" if stretch.finished else f"the {what} as it is now (what is still to come is not said)"
    )
    at = ", ".join(f"{say(height.over, style)} {_there(height.x, setout, style)}" for height in stretch.heights)
    bare = ""
    if stretch.finished and stretch.to_come >= 0.5:
        heights = ", ".join(say(height.over + stretch.to_come, style) for height in stretch.heights)
        bare = f" Over the bare {what}, {say(stretch.to_come, style)} lower, that is {heights}."
    return f": over {over} {at}.{bare}"


def _lowest(stretch: BaseStretch, setout: SetOut, style: Style) -> Iterator[str]:
    if stretch.lowest is None:
        return
    falls = stretch.lowest.over - min(height.over for height in stretch.heights)
    where = across_words(stretch.lowest.x, setout, style)
    what = f"The {stretch.what or 'floor'}"
    said = f"{what} falls {say(falls, style)}: lowest {where}" if falls >= 0.5 else f"{what} is level"
    under = stretch.under
    if under is None:
        yield f"{said}."
        return
    courses = f"{under.courses} x {say(under.pitch, style)} + " if under.courses else ""
    yield (
        f"{said}, where {say(stretch.lowest.over, style)} = {courses}joint {say(under.joint, style)} + "
        f"cut up to {say(under.cut, style)} + gap {say(under.gap, style)}."
    )


def _square(one: Gauged, plan: Plan) -> Section | None:
    square, style = one.square, plan.say.style
    lines = one.surface.setout.lines.values()
    upright = next((line.name for line in lines if line.fixes == "x" and line.at == 0.0), None)
    level = next((line.name for line in lines if line.fixes == "y" and line.at == 0.0), None)
    if square is None or upright is None or level is None:
        return None
    return Section(
        "TWO LINES, square",
        (
            f"From where {upright} and {level} cross mark {say(square.along, style)} along {upright} and "
            f"{say(square.across, style)} along {level}: the two marks are {say(square.diagonal, style)} apart.",
        ),
    )


def _rod(one: Gauged, plan: Plan) -> Section:
    lines = [line for gauge in one.areas for line in _rods(gauge, one, plan)]
    name = wording(plan.say.words).rod.upper()
    return Section(f"{name}, both edges of every joint", tuple(lines))


def _rods(gauge: AreaGauge, one: Gauged, plan: Plan) -> Iterator[str]:
    style, setout = plan.say.style, one.surface.setout
    several = f"{gauge.area.name}, " if len(one.areas) > 1 else ""
    if gauge.area.grid.turn:
        yield f"{several}courses run at {gauge.area.grid.turn:g} degrees: no rod along the lines."
    if gauge.creeps is not None:
        yield from _each_its_own(gauge.creeps, gauge.area.grid, several, setout, style)
    for rod, other in _pairs(gauge):
        if gauge.creeps is not None and rod.way.axis == "across":
            continue
        fixes = "x" if rod.way.axis == "across" else "y"
        line = next((line.name for line in setout.lines.values() if line.fixes == fixes and line.at == 0.0), "the line")
        if rod.courses:
            named = _courses(rod.courses)
            courses = f"courses like {named}, " if len(rod.courses) > 1 else f"course {named}, "
        else:
            courses = ""
        if other is not None:
            ends = " and ".join(dict.fromkeys(one.end for one in (rod, other) if one.end))
            yield f"{several}{courses}both ways from {line}: {_joints(replace(rod, end=ends), style)}"
        else:
            yield f"{several}{courses}{_way(rod.way, setout)} from {line}: {_joints(rod, style)}"
    yield from (f"{several}{line}" for line in _last_course(gauge, setout, style))


def _last_course(gauge: AreaGauge, setout: SetOut, style: Style) -> Iterator[str]:
    """How the highest course ends, where an edge lies over it that was read: whole, and how far under, or cut."""
    edge, box = setout.edges.get(Side.TOP), gauge.area.ground.moved(gauge.area.grid.to_surface).bounds
    if edge is None or Side.TOP in setout.open_sides or not gauge.courses or setout.kind != "wall":
        return
    last = gauge.courses[-1]
    under = sorted(position_at(edge, x) - last.top for x in (box.min_x, box.max_x))
    if under[0] > gauge.area.grid.pitch_v:
        return
    what = what_at(edge, box.max_x) or edge.called
    if under[0] < max(edge.clears) - TOUCH:
        yield f"course {_course(last.course)}, the last, is cut to the {what}"
    else:
        far = dict.fromkeys(say(mm, style) for mm in under)
        yield (
            f"course {_course(last.course)}, the last, is whole: its top {up_words(last.top, setout, style)}, "
            f"{' to '.join(far)} under the {what}"
        )


def _each_its_own(creeps: Creeps, grid: Grid, several: str, setout: SetOut, style: Style) -> Iterator[str]:
    """Where hardly two courses lie alike, a joint of each, and the rule: "1 at 34 | 37; 2 at 181 | 184; ..."."""
    line = next((one.name for one in setout.lines.values() if one.fixes == "x" and one.at == 0.0), "the line")
    said = "; ".join(
        f"{_courses(one.courses)} at {'' if one.low >= -TOUCH else 'left '}"
        + " | ".join(say(abs(mm), style) for mm in ((one.low, one.high) if one.low >= -TOUCH else (one.high, one.low)))
        for one in creeps.joints[:MOST_COURSES]
    )
    more = " and so on" if len(creeps.joints) > MOST_COURSES else ""
    others = f"its others {say(grid.pitch_u, style)} on from it both ways"
    yield f"{several}the first joint of each course right of {line}, {others}: {said}{more}"
    below = {1: "the one below it", 2: "the one two below it"}.get(creeps.down, f"the one {creeps.down} below it")
    way = "right" if creeps.by > 0 else "left"
    rule = (
        f"lies {say(abs(creeps.by), style)} further {way} than"
        if abs(creeps.by) > TOUCH
        else "has its joints over those of"
    )
    begins = ""
    if grid.carried is not None:
        begins = (
            f"begins at the {grid.carried} with what comes off the {grid.carried.opposite} end of the one below it, "
        )
    yield f"{several}the rule: each course {begins}{rule} {below}"


def _pairs(gauge: AreaGauge) -> Iterator[tuple[Rod, Rod | None]]:
    """The rods, each with the one of the other way where both have the same joints: then one line says both."""
    rods = [*gauge.across, *gauge.up]
    while rods:
        rod = rods.pop(0)
        alike = next((one for one in rods if one.way is rod.way.opposite and _marks(one) == _marks(rod)), None)
        if alike is not None:
            rods.remove(alike)
        yield rod, alike


def _marks(rod: Rod) -> tuple[object, ...]:
    return rod.courses, tuple((round(one.near, 3), round(one.far, 3)) for one in rod.joints)


def _way(way: Side, setout: SetOut) -> str:
    if setout.kind == "floor":
        return {Side.TOP: "in", Side.BOTTOM: "back"}.get(way, WAYS[way])
    return WAYS[way]


def _course(course: int) -> str:
    return str(course) if course > 0 else f"under {-course}"


def _courses(courses: Sequence[int]) -> str:
    """Courses as they are counted: "2 and 4", "2, 4 and under 1"."""
    *first, last = map(_course, courses)
    return f"{', '.join(first)} and {last}" if first else last


def _joints(rod: Rod, style: Style) -> str:
    listed = ", ".join(f"{say(joint.near, style)} | {say(joint.far, style)}" for joint in rod.joints[:MOST_JOINTS])
    end = f", then to {rod.end}" if rod.end else ""
    if len(rod.joints) > MOST_JOINTS:
        last = rod.joints[-1]
        return (
            f"{listed}, then {say(rod.pitch, style)} each, to {say(last.near, style)} | {say(last.far, style)}"
            f" ({len(rod.joints)} joints){end}"
        )
    return listed + end


def _start(one: Gauged, plan: Plan) -> Section:
    lines = []
    wall = one.surface.setout.kind == "wall"
    if len(one.areas) > 1:
        lines.append("Areas in this order: " + ", then ".join(gauge.area.name for gauge in one.areas) + ".")
    for gauge in one.areas:
        area, work = gauge.area, gauge.area.work
        if work is None:
            continue
        named = work.start or f"{area.name}'s start tile, which is not there itself"
        across = work.anchors[0].replace("joint ", "middle of its left joint ", 1)
        up = work.anchors[1] if wall else _on_floor(work.anchors[1])
        said = f"{named}: {across}, {up}." if all(work.anchors) else f"{named}."
        first = f" The first that is fixed: {work.first}." if work.first and work.first != work.start else ""
        begun = _begun_otherwise(gauge, one, plan)
        check = _from_corners(gauge, one, plan.say.style) if gauge is one.areas[0] else ""
        lines.append(f"{said}{check}{first}{begun}")
    lines += _corners(one, plan.say.style)
    lines.append(_onward(one, wall))
    if not wall:
        lines += _at_the_door(one, plan)
    return Section("START TILE, then outward" if wall else "START TILE, set out dry from it", tuple(lines))


def _corners(one: Gauged, style: Style) -> Iterator[str]:
    """Which wall goes first, as far as the corners settle it; of a corner with a wall not in the job, what is laid."""
    if one.order:
        yield f"Walls in this order: {', then '.join(one.order)}."
    for corner in one.corners:
        covers = say(corner.covers, style)
        if corner.goes_first:
            yield f"Tile into the corner of the {corner.other}: its tile and bed, {covers}, cover the end."
        else:
            yield f"The {corner.other} is tiled by now, {covers} with its bed: read cuts and checks to its tile."
    told = {corner.side for corner in one.corners}
    for edge in one.surface.setout.edges.values() if one.surface.setout.kind == "wall" else ():
        come = edge.still_to_come
        if come and come > TOUCH and edge.side.axis == "across" and edge.side not in told and _is_a_wall(edge):
            yield (
                f"At the {edge.what} this tile stops {say(edge.clears[0], style)} off what is bare, with "
                f"{say(come, style)} for tile and bed there: that wall's tile runs into the corner, and this one ends "
                "against it. To run this one in, and have that wall's cover its end, write still to come: none there "
                "and set out anew."
            )


def _is_a_wall(edge: SurfaceEdge) -> bool:
    """Whether an edge is said to be a wall that is tiled too."""
    return re.search(r"\bwall\b", edge.what, re.IGNORECASE) is not None


def _on_floor(anchor: str) -> str:
    """What of a tile lies where, going in: on a floor nothing sits, and nothing hangs."""
    for up, along in (("sits on", "near edge"), ("hangs from", "far edge")):
        if anchor.startswith(up):
            place = anchor.removeprefix(up).strip()
            return f"{along} {place}" if place[:1].isdigit() else f"{along} on {place}"
    return anchor


def _from_corners(gauge: AreaGauge, one: Gauged, style: Style) -> str:
    """How far the start tile is from both ends of the surface: " Check: its ends are 1015 from the next wall ...".

    To the bare end, or to the face of the tile of a wall that goes first.
    """
    area, setout = gauge.area, one.surface.setout
    if area.work is None or not area.work.start or area.grid.turn:
        return ""
    x, y = area.grid.to_surface.dx, area.grid.to_surface.dy
    first = {corner.side: corner for corner in one.corners if not corner.goes_first}
    found = []
    for side, at in ((Side.LEFT, x), (Side.RIGHT, x + area.grid.w)):
        edge = setout.edges.get(side)
        if edge is not None and side not in setout.open_sides:
            far = (position_at(edge, y) - at) * side.sign - (first[side].covers if side in first else 0.0)
            if far > TOUCH:
                what = what_at(edge, y) or edge.called
                found.append((say(far, style), tile_of(what) if side in first else what, side))
    alike = len({what for _, what, _ in found}) < len(found)
    said = [f"{far} from the {what}{f' on the {side}' if alike else ''}" for far, what, side in found]
    return f" Check: its ends are {' and '.join(said)}." if said else ""


def _begun_otherwise(gauge: AreaGauge, one: Gauged, plan: Plan) -> str:
    """The tile that courses moved against the start's begin with: " Courses like 2: from 2-5, its left edge ...".

    Where a cut one goes up before it, measured from a line, that first.
    """
    said = []
    for begun in gauge.begun:
        cut = _cut_first(gauge, begun.courses[0], plan)
        before = "from "
        if cut is not None:
            line = next(infill.source.name for infill in cut.infills if infill.source.kind == "line")
            before = f"first {named((cut.name,), len(one.areas) > 1)}, its cut measured from {line}, then "
        left = across_words(begun.left, one.surface.setout, plan.say.style)
        piece = named((begun.piece,), len(one.areas) > 1)
        said.append(f" Courses like {_courses(begun.courses)}: {before}{piece}, its left edge {left}.")
    return "".join(said)


def _cut_first(gauge: AreaGauge, course: int, plan: Plan) -> CutPiece | None:
    """The piece that a course begins with where that is a cut one, measured from a line."""
    own = (
        piece
        for piece in plan.pieces
        if piece.piece.area == gauge.area.name and piece.piece.course == course and not piece.rank.following
    )
    return next(
        (
            piece
            for piece in own
            if any(one.source.kind == "line" and one.side.axis == "across" for one in piece.infills)
        ),
        None,
    )


def _onward(one: Gauged, wall: bool) -> str:
    out = one.surface.setout.way_out
    if not wall:
        last = one.areas[-1].area.work
        ends = f" Last: {last.last}." if last is not None and last.last else ""
        if out is None:
            return f"Course by course away from the start.{ends}"
        return f"From the far end towards the way out, so that nobody walks on it.{ends}"
    down = any(gauge.area.work is not None and gauge.area.work.hangs for gauge in one.areas)
    own = any(gauge.creeps is not None for gauge in one.areas)
    begun = "its own joint on the rod outward" if own else "the start tile outward"
    return f"Course by course {'down' if down else 'up'}, from {begun}. Check level as you go."


def _at_the_door(one: Gauged, plan: Plan) -> Iterator[str]:
    """The course that is laid last, at the way out, and what ends it left and right: that is seen from the door."""
    setout, area = one.surface.setout, one.areas[-1].area
    out, name = setout.way_out, area.work.last if area.work is not None else ""
    edge = None if out is None else setout.edges.get(out)
    if edge is None or not name or out not in (Side.BOTTOM, Side.TOP) or area.grid.turn:
        return
    course = course_of(name)
    own = [
        piece
        for piece in plan.pieces
        if (piece.piece.surface, piece.piece.area, piece.piece.course_said) == (setout.name, area.name, course)
    ]
    row = next(((first, last) for row, first, last in area.places if str(area.courses[row]) == course), None)
    if row is None:
        return
    style = plan.say.style
    ends = []
    for side, column in zip(("left", "right"), row, strict=True):
        cut = next((piece for piece in own if piece.piece.place[0] == column), None)
        wide = area.grid.w if cut is None else goes_in_both_ways(cut)[0]
        ends.append((side, wide, "whole" if wide > area.grid.w - TOUCH else goes_in(wide, style)))
    (_, left, left_said), (_, right, right_said) = ends
    alike = ", alike to the eye" if abs(left - right) <= plan.limits.equal_ends.value else ""
    yield (
        f"The last course is {course}, at the {edge.what or 'way out'}. Seen from there it ends with {left_said} at "
        f"the left and {right_said} at the right{alike}."
    )


def _across(one: Gauged, style: Style) -> Section:
    return Section("MEASURE ACROSS", tuple(_columns(across, style) for across in one.across))


def _columns(across: OverVoid, style: Style) -> str:
    (left, right, far), *over = across.pairs
    first = f"{across.void}: the outer edges of {left} and {right} are {say(far, style)} apart"
    if not over:
        return f"{first}."
    left, right, again = over[0]
    if across.alike:
        return f"{first}, and so are those of {left} and {right} over it: measure both."
    return f"{first}, those of {left} and {right} over it {say(again, style)}: measure both."


def _meet(one: Gauged, style: Style) -> Section:
    return Section(
        "JOINTS FROM AREA TO AREA", tuple(_meeting(meeting, one.surface.setout, style) for meeting in one.meetings)
    )


def _meeting(meeting: Meeting, setout: SetOut, style: Style) -> str:
    both, sort = f"{meeting.first} and {meeting.second}", "courses" if meeting.way == "across" else "columns"
    if meeting.of and len(meeting.at) == meeting.of:
        return f"{both}: their {sort} run through at every joint."
    would = _would_meet(meeting, style)
    if not meeting.at:
        where = "" if meeting.way == "across" else " where they face"
        return f"{both}: no joint of their {sort} meets{where}.{would}"
    words = up_words if meeting.way == "across" else across_words
    at = ", ".join(words(middle, setout, style) for middle in meeting.at[:MOST_NAMES])
    return f"{both}: their {sort} meet {at}, and nowhere else.{would}"


def _would_meet(meeting: Meeting, style: Style) -> str:
    """What would make them meet: " With a joint of 2.5 mm in side every course would meet."."""
    made = meeting.made
    if made is None:
        return ""
    ways = [] if made.joint is None else [f"a joint of {made.joint:.1f} mm in {meeting.second}"]
    if made.border is not None:
        where = "under" if meeting.way == "across" else "left of"
        ways.append(f"a border of {say(made.border, style)} {where} {'it' if ways else meeting.second}")
    nth = {1: "every", 2: "every second", 3: "every third"}.get(made.every, f"every {made.every}th")
    return f" With {' and '.join(ways)} {nth} {'course' if meeting.way == 'across' else 'column'} would meet."


def _cuts(one: Gauged, plan: Plan, day: int, title: str, *, tight: bool) -> Section:
    cuts = [read_to_tile(group, one.corners) for group in one.cuts]
    groups = [group for group in cuts if group.day == day]
    lines = list(openings_told(groups, plan, len(one.areas) > 1, tight=tight))
    name = one.surface.setout.name
    turned = [gauge.area.name for gauge in one.areas if gauge.area.grid.turn and gauge.area.counts.cut and day == 1]
    if turned:
        lines.append(f"{', '.join(turned)} lies turned: measure each edge piece where it goes; job sheet for its size.")
    holed = [piece for piece in plan.pieces if piece.cuts and piece.rank.day == day and piece.piece.surface == name]
    waits = [piece.name for piece in plan.pieces if piece.rank.day == day and piece.name in one.waiting]
    if waits:
        lines.append(f"Not yet, what they wait for is on the job sheet: {named(waits, len(one.areas) > 1)}.")
    bent = _bent(groups, plan, len(one.areas) > 1)
    if bent:
        lines.append(f"L and U cuts, one figure a leg: {bent}.")
    lines += offcut_lines(one, plan, day)
    lines += holes_told(holed, plan.say.style, several=len(one.areas) > 1, tight=tight)
    to_come = {group.day for group in cuts for off in group.off if off.what == "still to come" and off.mm > TOUCH}
    if to_come and day == min(to_come):
        lines.append(
            "Openings are to what is bare: once what is still to come is on, read to its face, and leave it out."
        )
    if any(BOTH_ENDS in line for line in lines) and day == 1:
        lines.append("Two figures are of its two ends, the lower or the left one first.")
    if groups and day == 1:
        lines.insert(0, "Measure at both ends, from the tile that is on or from what is named.")
    return Section(title, tuple(lines))


def _bent(groups: Sequence[CutGroup], plan: Plan, several: bool) -> str:
    """The pieces among these that have an inside corner, by name; "" where none has."""
    names = dict.fromkeys(name for group in groups for name in group.pieces)
    by_name = {piece.name: piece for piece in plan.pieces}
    style = plan.say.style
    cut = {name: shape_in_short(by_name[name], style) for name in names if name in by_name}
    bent = [name for name, shape in cut.items() if shape.startswith(("L cut", "U cut"))]
    return named(bent, several) if bent else ""


def _second_day(one: Gauged, plan: Plan, *, tight: bool) -> Section | None:
    if not one.second_day and not any(base.has_batten for base in one.bases):
        return None
    style = plan.say.style
    batten = wording(plan.say.words).batten
    lines = [
        f"24 h, or what the bag says: {batten} off{', then course under 1, and downward' if one.second_day else ''}."
    ]
    lines += _cuts(one, plan, day=2, title="", tight=tight).lines
    several = len(one.areas) > 1
    lines += [
        f"{hole.hole} in {named((hole.piece,), several)}: {say(hole.down, style)} down from the TOP edge."
        for hole in one.from_top
    ]
    return Section("DAY TWO", tuple(lines))


def _why(one: Gauged, plan: Plan) -> Section | None:
    reason = next((reason for reason in plan.reasons() if reason.surface == one.surface.setout.name), None)
    return None if reason is None else Section("WHY THIS START", tuple(why_lines(reason, plan.limits, plan.say.style)))


def _grout(one: Gauged, plan: Plan) -> Section:
    style = plan.say.style
    lines = ["Grout 24 h after the last tile, or when the bag says."]
    corners = {corner.other.casefold() for corner in one.corners}
    sealed = [
        f"{joint.what} {say(joint.width, style)}{' once both are on' if joint.what.casefold() in corners else ''}"
        for joint in one.sealed
        if not joint.hidden
    ]
    hidden = [f"{joint.what} {say(joint.width, style)} (under {joint.hidden})" for joint in one.sealed if joint.hidden]
    if not sealed and not one.surface.setout.edges and one.surface.setout.outline is not None:
        lines.append("No grout where tile ends at the outline, silicone last: its gaps as the job has them.")
    if sealed:
        lines.append(f"No grout, silicone last: {'; '.join(dict.fromkeys(sealed))}.")
    if hidden:
        lines.append(f"Left open: {'; '.join(dict.fromkeys(hidden))}.")
    return Section("GROUT, then SILICONE", tuple(lines))
