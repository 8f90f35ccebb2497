"""The set-out of a surface and the order of its work, in words: numbered sections, one instruction a line."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from msgspec import Struct
from msgspec.structs import replace

from cutmarks.gauging.flow import gauged
from cutmarks.gauging.model import AreaGauge, Base, BaseStretch, CutGroup, Gauged, Meeting, OverVoid, Rod
from cutmarks.geometry.tolerance import COINCIDE, TOUCH
from cutmarks.plan import Plan
from cutmarks.saying.dialect import wording
from cutmarks.saying.findings import STOP, STOP_SAW, held, held_words
from cutmarks.saying.from_lines import across_words, up_words
from cutmarks.saying.infills import off_words, source_words
from cutmarks.saying.pieces import shape_in_short
from cutmarks.saying.starts import why_lines
from cutmarks.setout.edges import position_at, what_at
from cutmarks.setout.model import SetOut
from cutmarks.sides import Side
from cutmarks.units import Style, say, say_down

MOST_JOINTS = 12
"""So many joints of a rod are listed; the rest goes on by the pitch."""
MOST_NAMES = 7
BLANK = "....."
"""Where what was read is written in."""
"""So many pieces of a group of cuts are named one by one."""
_NAME = re.compile(r"(.*?)((?:under )?)(\d+)-(\d+)([a-z]*)$")
"""A piece's name: its area, whether it lies under the base, course, number and part."""
WAYS = {Side.RIGHT: "to the right", Side.LEFT: "to the left", Side.TOP: "up", Side.BOTTOM: "down"}


class Section(Struct, frozen=True):
    """One step of the work: its title, and its lines."""

    title: str
    lines: tuple[str, ...]


def told(plan: Plan) -> tuple[Gauged, ...]:
    """The surfaces of a plan that have their start, less what waits for a finding."""
    return gauged(plan, lambda piece: held(plan, piece))


def heading_lines(one: Gauged, plan: Plan) -> tuple[str, ...]:
    """The tiles and the set-out lines of a surface, a line each."""
    style, words = plan.say.style, wording(plan.say.words)
    tiles = (
        f"{area.area.name}: {area.area.tile.name} {say(area.area.grid.w, style)} x {say(area.area.grid.h, style)}, "
        f"{words.joint} {say(area.area.grid.joint, style)}, {area.area.bond_words}"
        for area in one.areas
    )
    lines = (f"{line.name} = {line.kind}, {line.words}" for line in one.surface.setout.lines.values())
    return (*tiles, " · ".join(lines))


def sections(one: Gauged, plan: Plan) -> tuple[Section, ...]:
    """The steps of the work on one surface, in their order; one that has nothing to say is left out."""
    wall = one.surface.setout.kind == "wall"
    made = (
        _before(one, plan),
        _batten(one, plan) if wall else _square(one, plan),
        _rod(one, plan),
        _start(one, plan),
        _across(one, plan.say.style),
        _meet(one, plan.say.style),
        _cuts(one, plan, day=1, title="CUTS, measured one by one: opening -> cut to expect, rounded down"),
        _second_day(one, plan),
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
        lines.append("Pipes and boxes where they are drawn, and as deep as they should be? Read them again.")
    if wall and any(base.has_batten for base in one.bases):
        lines.append(
            f"Look for cables and pipes before a screw of the {batten} goes in. Tanked: no screws, prop it on blocks."
        )
    return Section("BEFORE ANYTHING", tuple(lines))


def _batten(one: Gauged, plan: Plan) -> Section:
    style = plan.say.style
    batten = wording(plan.say.words).batten
    lines = [line for base in one.bases for line in _base(base, one, style, batten)]
    kinds = {stretch.on for base in one.bases for stretch in base.stretches}
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
            case "packers":
                on = stretch.what or "what lies below"
                if stretch.packers > TOUCH:
                    yield f"{several}From {begins} to {ends} packers of {say(stretch.packers, style)} on the {on}."
                else:
                    yield f"{several}From {begins} to {ends} the first course stands on the {on}."
            case "course":
                yield f"{several}From {begins} to {ends} it stands on the area below, a joint over it."
            case "void":
                top = _level(base, setout, style)
                yield f"{several}From {begins} to {ends} a {batten} over the {stretch.what}, its top {top}."


def _level(base: Base, setout: SetOut, style: Style) -> str:
    return up_words(base.y, setout, style) if base.y else f"on {base.words or 'the level line'}"


def _heights(stretch: BaseStretch, setout: SetOut, style: Style) -> str:
    if not stretch.heights:
        return ". What lies below was not read: measure down to the finished floor at both its ends and the middle."
    what = stretch.what or "floor"
    over = (
        f"the finished {what}" if stretch.finished else f"the {what} as it is now (what is still to come is not said)"
    )
    at = ", ".join(
        f"{say(height.over, style)} at {across_words(height.x, setout, style)}" for height in stretch.heights
    )
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
    cut, goes_in = say(under.cut, style), say_down(under.cut, style)
    yield (
        f"{said}, where {say(stretch.lowest.over, style)} = {courses}joint {say(under.joint, style)} + cut {cut} + "
        f"gap {say(under.gap, style)}{'' if cut == goes_in else f': cut it {goes_in}, down, so that it goes in'}."
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
    for rod, other in _pairs(gauge):
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
        begun = _begun_otherwise(gauge, one, plan.say.style)
        check = _from_corners(gauge, one, plan.say.style) if gauge is one.areas[0] else ""
        lines.append(f"{said}{check}{first}{begun}")
    lines.append(_onward(one, wall))
    return Section("START TILE, then outward" if wall else "START TILE, set out dry from it", tuple(lines))


def _on_floor(anchor: str) -> str:
    """What of a tile lies where, going in: on a floor nothing sits, and nothing hangs."""
    for up, along in (("sits on", "near edge"), ("hangs from", "far edge")):
        if anchor.startswith(up):
            place = anchor.removeprefix(up).strip()
            return f"{along} {place}" if place[:1].isdigit() else f"{along} on {place}"
    return anchor


def _from_corners(gauge: AreaGauge, one: Gauged, style: Style) -> str:
    """How far the start tile is from both ends of the bare surface: " Check: 1015 from the next wall, ..."."""
    area, setout = gauge.area, one.surface.setout
    if area.work is None or not area.work.start or area.grid.turn:
        return ""
    x, y = area.grid.to_surface.dx, area.grid.to_surface.dy
    said = []
    for side, at in ((Side.LEFT, x), (Side.RIGHT, x + area.grid.w)):
        edge = setout.edges.get(side)
        if edge is not None and side not in setout.open_sides:
            far = (position_at(edge, y) - at) * side.sign
            if far > TOUCH:
                what = what_at(edge, y) or edge.called
                said.append(f"{say(far, style)} from the {what}")
    return f" Check: its ends are {' and '.join(said)}." if said else ""


def _begun_otherwise(gauge: AreaGauge, one: Gauged, style: Style) -> str:
    """The tile that courses moved against the start's begin with: " Courses like 2: from 2-5, its left edge ..."."""
    said = (
        f" Courses like {_courses(begun.courses)}: from {named((begun.piece,), len(one.areas) > 1)}, "
        f"its left edge {across_words(begun.left, one.surface.setout, style)}."
        for begun in gauge.begun
    )
    return "".join(said)


def _onward(one: Gauged, wall: bool) -> str:
    out = one.surface.setout.way_out
    if not wall:
        last = one.areas[-1].area.work
        ends = f" Last: {last.last}." if last is not None and last.last else ""
        if out is None:
            return f"Course by course away from the start.{ends}"
        return f"From the far end towards the way out, so that nobody walks on it.{ends}"
    down = any(gauge.area.work is not None and gauge.area.work.hangs for gauge in one.areas)
    return f"Course by course {'down' if down else 'up'}, each from the start tile outward. Check level as you go."


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


def _cuts(one: Gauged, plan: Plan, day: int, title: str) -> Section:
    groups = [group for group in one.cuts if group.day == day]
    lines = list(_groups(groups, plan, len(one.areas) > 1))
    name = one.surface.setout.name
    turned = [gauge.area.name for gauge in one.areas if gauge.area.grid.turn and gauge.area.counts.cut and day == 1]
    if turned:
        lines.append(f"{', '.join(turned)} lies turned: measure each edge piece where it goes; job sheet for its size.")
    holed = [
        piece.name for piece in plan.pieces if piece.cuts and piece.rank.day == day and piece.piece.surface == name
    ]
    waits = [piece.name for piece in plan.pieces if piece.rank.day == day and piece.name in one.waiting]
    if waits:
        lines.append(f"Not yet, what they wait for is on the job sheet: {named(waits, len(one.areas) > 1)}.")
    bent = _bent(groups, plan, len(one.areas) > 1)
    if bent:
        lines.append(f"L and U cuts, one figure a leg: {bent}.")
    if holed:
        lines.append(f"Holes, each by its own sheet: {named(holed, len(one.areas) > 1)}.")
    return Section(title, tuple(lines))


def _bent(groups: Sequence[CutGroup], plan: Plan, several: bool) -> str:
    """The pieces among these that have an inside corner, by name; "" where none has."""
    names = dict.fromkeys(name for group in groups for name in group.pieces)
    by_name = {piece.name: piece for piece in plan.pieces}
    style = plan.say.style
    cut = {name: shape_in_short(by_name[name], style) for name in names if name in by_name}
    bent = [name for name, shape in cut.items() if shape.startswith(("L cut", "U cut"))]
    return named(bent, several) if bent else ""


def _groups(groups: Sequence[CutGroup], plan: Plan, several: bool) -> Iterator[str]:
    """What is read alike in one line: "less joint 3 and gap 3: left corner 301½ -> 295½ (1-1 to 6-1); ceiling ..."."""
    lines: dict[str, list[str]] = {}
    for group in groups:
        off = off_words([one for one in group.off if one.what != "to its edge"], plan.say.style, plan.say.words)
        way = next((one for one in group.off if one.what == "to its edge"), None)
        if way is not None:
            # From a line it is as far for all of them; from an edge that rakes each has its own, on its own page.
            figure = say(abs(way.mm), plan.say.style) if group.source.kind == "line" and way.mm > 0 else ""
            edge = f"{figure}, the way to the tile's own edge," if figure else "the way to the tile's own edge"
            rest = off.removeprefix("less ")
            off = f"less {edge} and {rest}" if off.startswith("less ") else f"less {edge.rstrip(',')}{rest}"
        lines.setdefault(off, []).append(_group(group, plan, several))
    for off, said in lines.items():
        yield f"{off}: {'; '.join(said)}" if off else "; ".join(said)


def _group(group: CutGroup, plan: Plan, several: bool) -> str:
    """As in "right corner 381½ to 375 -> 375½ to 369 (1-7 to 6-7)"."""
    style = plan.say.style
    opening = _range(*(say(mm, style) for mm in reversed(group.openings)))
    cut = _range(*(say_down(mm, style) for mm in reversed(group.cuts)))
    read = ""
    if group.source.kind == "mark" or any(off.what == "to its edge" for off in group.off):
        first = next(piece for piece in plan.pieces if group.pieces[0] in (piece.name, piece.piece.name))
        read = f" from {source_words(plan, first, group.source, group.side).rstrip(',')}"
    least = ""
    if "to" in cut and len(group.pieces) > 1:
        least = f", least at {named((group.least_at,), several)}"
    return f"{group.to} {opening}{read} -> {cut} ({named(group.pieces, several)}{least}) found {BLANK}"


def _range(most: str, least: str) -> str:
    return most if most == least else f"{most} to {least}"


def named(pieces: Sequence[str], several: bool) -> str:
    """The pieces, without their area where there is one alone; those that follow each other as "1-7 to 6-7"."""
    runs: list[list[str]] = []
    for name in pieces:
        before = runs[-1] if runs else []
        if before and _follows(before[-1], name) and (len(before) == 1 or _same_way(before[-2], before[-1], name)):
            before.append(name)
        else:
            runs.append([name])
    said = list(_runs_said(runs, several))
    if len(said) <= MOST_NAMES:
        return ", ".join(said)
    return f"{', '.join(said[: MOST_NAMES - 1])} ... {said[-1]}, {len(pieces)} in all"


def _runs_said(runs: Sequence[Sequence[str]], several: bool) -> Iterator[str]:
    """Each run as "1-7 to 6-7"; its area before it where there are several, and it is another than before."""
    before = ""
    for run in runs:
        first, last = (_NAME.sub(r"\2\3-\4\5", name) for name in (run[0], run[-1]))
        area = area_of(run[0]) if several else ""
        said = first if len(run) == 1 else f"{first}, {last}" if len(run) == 2 else f"{first} to {last}"
        yield f"{area} {said}" if area != before else said
        before = area


def area_of(name: str) -> str:
    """The area in a piece's name."""
    return _NAME.sub(r"\1", name).strip()


def _counted(name: str) -> tuple[str, int, int] | None:
    """Area and side of the base, course and number of a whole name; None of a part, or where it counts otherwise."""
    found = _NAME.fullmatch(name)
    return None if found is None or found[5] else (f"{found[1]}{found[2]}", int(found[3]), int(found[4]))


def _step(before: str, after: str) -> tuple[int, int] | None:
    one, other = _counted(before), _counted(after)
    if one is None or other is None or one[0] != other[0]:
        return None
    return other[1] - one[1], other[2] - one[2]


def _follows(before: str, after: str) -> bool:
    """Whether a piece is the next one up or down, or the next one along."""
    return _step(before, after) in ((1, 0), (-1, 0), (0, 1), (0, -1))


def _same_way(first: str, second: str, third: str) -> bool:
    return _step(first, second) == _step(second, third)


def _second_day(one: Gauged, plan: Plan) -> Section | None:
    if not one.second_day and not any(base.has_batten for base in one.bases):
        return None
    style = plan.say.style
    batten = wording(plan.say.words).batten
    lines = [f"24 h, or what the bag says. {batten.capitalize()} off."]
    if one.second_day:
        lines[0] += " Then course under 1 first, and downward."
    lines += _cuts(one, plan, day=2, title="").lines
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
    sealed = [f"{joint.what} {say(joint.width, style)}" for joint in one.sealed if not joint.hidden]
    hidden = [f"{joint.what} {say(joint.width, style)} (under {joint.hidden})" for joint in one.sealed if joint.hidden]
    if not sealed and not one.surface.setout.edges and one.surface.setout.outline is not None:
        lines.append("No grout where tile ends at the outline, silicone last: its gaps as the job has them.")
    if sealed:
        lines.append(f"No grout, silicone last: {'; '.join(dict.fromkeys(sealed))}.")
    if hidden:
        lines.append(f"Left open: {'; '.join(dict.fromkeys(hidden))}.")
    return Section("GROUT, then SILICONE", tuple(lines))
