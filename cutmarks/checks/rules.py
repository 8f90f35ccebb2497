"""The table of rules: what each is called, what looks for it, and its place, what spoils most first.

A finding's name stands here once; several names may come of one look, which is then taken once.
"""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from cutmarks.checks import (
    alike,
    bites,
    certainty,
    covers,
    depth,
    frames,
    halves,
    holes,
    leaning,
    legs,
    levers,
    pieces,
    returned,
    service,
    spaces,
    strength,
    surfaces,
    trueness,
)
from cutmarks.checks.material import Evidence, Look, Material, on_each_hole, on_each_surface
from cutmarks.checks.model import Finding
from cutmarks.locating.model import Located
from cutmarks.openings.model import Opening
from cutmarks.tiling.round import areas_run_round

LEVELS = {"stop": 0, "warn": 1, "note": 2}


@on_each_hole
def _in_keep_out(_: Evidence, on: Material, __: Located, opening: Opening) -> Iterator[Finding]:
    return holes.in_keep_out(opening, on.setout)


@on_each_hole
def _readings_disagree(seen: Evidence, _: Material, thing: Located, opening: Opening) -> Iterator[Finding]:
    return holes.readings_disagree(thing, opening, seen.limits, seen.style)


@on_each_hole
def _kind_not_said(seen: Evidence, _: Material, thing: Located, __: Opening) -> Iterator[Finding]:
    return holes.unnamed_pipe(thing, seen.job.say, seen.limits, seen.style)


@on_each_hole
def _size_not_known(seen: Evidence, _: Material, __: Located, opening: Opening) -> Iterator[Finding]:
    return holes.size_not_known(opening, seen.style)


@on_each_hole
def _goes_through(seen: Evidence, _: Material, __: Located, opening: Opening) -> Iterator[Finding]:
    return holes.goes_through(opening, seen.limits, seen.style)


@on_each_hole
def _is_covered(seen: Evidence, _: Material, __: Located, opening: Opening) -> Iterator[Finding]:
    return holes.is_covered(opening, seen.met.get(opening.name, ()), seen.limits, seen.style)


@on_each_hole
def _keeps_clear(seen: Evidence, _: Material, __: Located, opening: Opening) -> Iterator[Finding]:
    return covers.keeps_clear(opening, seen.style)


@on_each_hole
def _runs_on(seen: Evidence, _: Material, __: Located, opening: Opening) -> Iterator[Finding]:
    return holes.runs_on(opening, seen.met.get(opening.name, ()), seen.limits)


@on_each_hole
def _stays_closed(_: Evidence, __: Material, thing: Located, opening: Opening) -> Iterator[Finding]:
    return holes.stays_closed(thing, opening)


@on_each_hole
def _slot_runs_over(seen: Evidence, _: Material, __: Located, opening: Opening) -> Iterator[Finding]:
    return holes.slot_runs_over(opening, seen.met.get(opening.name, ()), seen.style)


@on_each_hole
def _takes_whole_tiles(seen: Evidence, _: Material, __: Located, opening: Opening) -> Iterator[Finding]:
    return holes.takes_whole_tiles(opening, seen.taken.get(opening.name, ()))


@on_each_hole
def _lands_nowhere(seen: Evidence, on: Material, _: Located, opening: Opening) -> Iterator[Finding]:
    name = opening.name
    return holes.lands_nowhere(opening, seen.met.get(name, ()), seen.taken.get(name, ()), on.setout)


@on_each_surface
def _does_not_fit(seen: Evidence, on: Material) -> Iterator[Finding]:
    return certainty.readings_that_do_not_fit(on.located, on.openings, seen.limits, seen.style)


@on_each_surface
def _tapes_cross(seen: Evidence, on: Material) -> Iterator[Finding]:
    return certainty.tapes_cross_flat(on.located, seen.limits, seen.style)


@on_each_surface
def _not_square(seen: Evidence, on: Material) -> Iterator[Finding]:
    square = next(surface.square for surface in seen.job.surfaces if surface.name == on.setout.name)
    return trueness.not_square(square, on.located, on.setout, seen.limits, seen.style)


@on_each_surface
def _lines_lean(seen: Evidence, on: Material) -> Iterator[Finding]:
    return trueness.lines_that_lean(on.located, on.setout, seen.limits, seen.style)


@on_each_surface
def _lines_over_floor(seen: Evidence, on: Material) -> Iterator[Finding]:
    return trueness.lines_over_the_floor(on.setout, seen.job.units, seen.limits, seen.style)


@on_each_surface
def _edges_rake(seen: Evidence, on: Material) -> Iterator[Finding]:
    return trueness.edges_that_rake(on.located, on.setout, seen.limits, seen.style)


@on_each_surface
def _finish_unknown(seen: Evidence, on: Material) -> Iterator[Finding]:
    return surfaces.finish_unknown(on.setout, seen.cut)


@on_each_surface
def _edges_go_on(seen: Evidence, on: Material) -> Iterator[Finding]:
    return surfaces.edges_go_on(on.setout, seen.limits, seen.style)


@on_each_surface
def _after_worst_error(seen: Evidence, on: Material) -> Iterator[Finding]:
    return covers.after_worst_error(on.openings, seen.met, seen.worst, seen.limits, seen.style, seen.unsure)


@on_each_surface
def _covers_run_into(seen: Evidence, on: Material) -> Iterator[Finding]:
    return covers.runs_into(on.openings, on.setout, seen.style)


@on_each_surface
def _levers_have_room(seen: Evidence, on: Material) -> Iterator[Finding]:
    return levers.have_room(on.openings, on.setout, seen.style)


@on_each_surface
def _serviced(seen: Evidence, on: Material) -> Iterator[Finding]:
    return service.has_room(on.openings, on.setout, seen.style)


@on_each_surface
def _covers_lie_flat(seen: Evidence, on: Material) -> Iterator[Finding]:
    return covers.lies_flat(on.openings, on.layouts, seen.limits, seen.style)


@on_each_surface
def _sits_right(seen: Evidence, on: Material) -> Iterator[Finding]:
    return depth.sits_right(on.located, seen.over, on.board, seen.limits, seen.style)


@on_each_surface
def _goes_under(seen: Evidence, on: Material) -> Iterator[Finding]:
    return frames.goes_under(on.setout, on.layouts, seen.cut, seen.limits, seen.style)


@on_each_surface
def _pipes_lean(seen: Evidence, on: Material) -> Iterator[Finding]:
    return leaning.leaves_room(on.located, seen.met, seen.limits, seen.style)


@on_each_surface
def _wide_spaces(seen: Evidence, on: Material) -> Iterator[Finding]:
    return spaces.wide_spaces(on.setout, seen.facing[on.setout.name], seen.limits, seen.style)


@on_each_surface
def _joints_meet(seen: Evidence, on: Material) -> Iterator[Finding]:
    return spaces.joints_nearly_meet(seen.facing[on.setout.name], seen.limits, seen.style)


def _come_back(seen: Evidence) -> Iterator[Finding]:
    return returned.come_back(seen.back, seen.cut, seen.limits, seen.style)


def _mirrored(seen: Evidence) -> Iterator[Finding]:
    return alike.mirror_images(seen.cut, seen.limits)


def _sizes_differ(seen: Evidence) -> Iterator[Finding]:
    return surfaces.sizes_differ(seen.tiles, seen.limits, seen.style)


def _sizes_unmeasured(seen: Evidence) -> Iterator[Finding]:
    return surfaces.sizes_unmeasured(seen.tiles, seen.style)


def _not_sure(seen: Evidence) -> Iterator[Finding]:
    return certainty.not_sure(seen.sure, seen.limits)


def _bridges(seen: Evidence) -> Iterator[Finding]:
    return strength.thin_bridges(seen.of_known_size, seen.kinds, seen.limits, seen.style, seen.advice)


def _bites(seen: Evidence) -> Iterator[Finding]:
    return bites.just_bites(seen.of_known_size, seen.limits, seen.style, seen.advice)


def _halves(seen: Evidence) -> Iterator[Finding]:
    return halves.under_half(seen.layouts, seen.limits, seen.style, seen.advice)


def _break_in(seen: Evidence) -> Iterator[Finding]:
    return strength.cores_break_in(seen.of_known_size, seen.limits, seen.style)


def _horns(seen: Evidence) -> Iterator[Finding]:
    return strength.sharp_horns(seen.of_known_size, seen.limits, seen.advice)


def _legs(seen: Evidence) -> Iterator[Finding]:
    return legs.thin_legs(seen.of_known_size, seen.kinds, seen.limits, seen.style)


def _strips(seen: Evidence) -> Iterator[Finding]:
    return legs.long_strips(seen.cut, seen.kinds, seen.limits, seen.style)


def _much_taken(seen: Evidence) -> Iterator[Finding]:
    return strength.much_taken(seen.of_known_size, seen.limits, seen.style)


def _hole_first(seen: Evidence) -> Iterator[Finding]:
    return strength.order_of_cuts(seen.cut)


def _corners(seen: Evidence) -> Iterator[Finding]:
    return strength.sharp_corners(seen.cut, seen.limits, seen.style)


def _narrow(seen: Evidence) -> Iterator[Finding]:
    return pieces.narrow_pieces(seen.cut, seen.kinds, seen.limits, seen.style, seen.advice)


def _no_cut(seen: Evidence) -> Iterator[Finding]:
    unsaid = seen.gaps_unsaid
    return pieces.joint_problems(seen.cut, seen.advice.layouts, seen.scribed, unsaid, seen.limits, seen.style)


def _snaps(seen: Evidence) -> Iterator[Finding]:
    return pieces.will_not_snap(seen.cut, seen.limits, seen.style)


def _strips_lost(seen: Evidence) -> Iterator[Finding]:
    return surfaces.strips_lost(seen.layouts, seen.style)


def _courses_off_level(seen: Evidence) -> Iterator[Finding]:
    return surfaces.courses_off_level(seen.layouts, areas_run_round(seen.job), seen.limits, seen.style)


def _near_joints(seen: Evidence) -> Iterator[Finding]:
    return surfaces.near_joints(seen.layouts, seen.limits, seen.style)


def _long_offsets(seen: Evidence) -> Iterator[Finding]:
    return surfaces.long_offsets(seen.layouts, seen.limits, seen.style)


class Rule(Struct, frozen=True):
    """A finding's name, and what looks for it; None: it is found among the findings themselves.

    grid  what of the tiles it looks at, in words, where it can only be looked for once it is known which tile lies
          where: all rules of one look alike; "" where that is no matter.
    """

    name: str
    look: Look | None
    grid: str = ""


STRENGTH = "what is left of each tile beside its holes"
GOES_ON = "whether a tile goes over its pipes, and in under a frame"
MIXED_UP = "tiles that could be taken for each other, and holes on none"
LAYOUT = "the pieces at the edges, and spaces and joints between areas"
COVER = "covers over two thicknesses, or over a bevel"
FOUND = "what was found at the wall"
OF_THE_TILES = (STRENGTH, GOES_ON, LAYOUT, MIXED_UP, COVER, FOUND)
"""What the rules that need a grid look at, as it is said where there is none."""

RULES: tuple[Rule, ...] = (
    # The hole comes in the wrong place, or on the wrong tile.
    Rule("do not drill", _in_keep_out),
    Rule("found too far", _come_back, grid=FOUND),
    Rule("found disagrees", _come_back, grid=FOUND),
    Rule("found off alone", _come_back, grid=FOUND),
    Rule("reading does not fit", _does_not_fit),
    Rule("readings disagree", _readings_disagree),
    Rule("kind not said", _kind_not_said),
    Rule("tapes cross flat", _tapes_cross),
    Rule("lines not square", _not_square),
    Rule("line is off", _lines_lean),
    Rule("line and floor disagree", _lines_over_floor),
    Rule("read from a raking edge", _edges_rake),
    Rule("corrected", _come_back, grid=FOUND),
    Rule("mirror images", _mirrored, grid=MIXED_UP),
    Rule("on no tile", _lands_nowhere, grid=MIXED_UP),
    # The piece comes in the wrong size.
    Rule("still to come", _finish_unknown, grid=LAYOUT),
    Rule("run and size differ", _sizes_differ),
    Rule("size not measured", _sizes_unmeasured),
    Rule("edge goes on", _edges_go_on),
    # It does not go over.
    Rule("size not known", _size_not_known),
    Rule("does not go through", _goes_through),
    Rule("leaning pipe does not go through", _pipes_lean, grid=GOES_ON),
    Rule("tile cannot be pushed on", _pipes_lean, grid=GOES_ON),
    Rule("slot not drawn", _stays_closed, grid=GOES_ON),
    Rule("slot runs over", _slot_runs_over, grid=GOES_ON),
    Rule("cannot be put on", _runs_on, grid=GOES_ON),
    Rule("cannot be got in", _goes_under, grid=GOES_ON),
    Rule("cannot be slid under", _goes_under, grid=GOES_ON),
    Rule("frame too low", _goes_under, grid=GOES_ON),
    Rule("screws not clear", _keeps_clear),
    Rule("pipe leans", _pipes_lean, grid=GOES_ON),
    # The hole shows.
    Rule("covers overlap", _covers_run_into),
    Rule("cover past the edge", _covers_run_into),
    Rule("shows past its cover", _is_covered),
    Rule("not sure", _not_sure),
    Rule("cover may not hide it", _after_worst_error),
    Rule("cover laps little", _is_covered),
    # The tile cracks.
    Rule("hair bridge", _bridges, grid=STRENGTH),
    Rule("core breaks in", _break_in, grid=STRENGTH),
    Rule("thin bridge", _bridges, grid=STRENGTH),
    Rule("just bites", _bites, grid=STRENGTH),
    Rule("sharp horn", _horns, grid=STRENGTH),
    Rule("thin leg", _legs, grid=STRENGTH),
    Rule("long strip", _strips, grid=STRENGTH),
    Rule("hair bite", _bridges, grid=STRENGTH),
    Rule("much cut out", _much_taken, grid=STRENGTH),
    Rule("hole before cut", _hole_first, grid=STRENGTH),
    Rule(frames.SLID_UNDER, _goes_under, grid=GOES_ON),
    Rule("inside corners", _corners, grid=STRENGTH),
    # It ends up too deep, or too far out.
    Rule("too deep", _sits_right),
    Rule("too far out", _sits_right),
    Rule("box stands out", _sits_right),
    Rule("screw too short", _sits_right),
    Rule("box set back", _sits_right),
    Rule("depth is tight", _sits_right),
    Rule("depth not known", _sits_right),
    # The cover does not lie flat, the lever does not turn, or no spanner gets at it.
    Rule("cover over a trim", _covers_run_into),
    Rule("cover on two thicknesses", _covers_lie_flat, grid=COVER),
    Rule("lever has no room", _levers_have_room),
    Rule("cannot be serviced", _serviced),
    Rule("cover over a bevel", _covers_lie_flat, grid=COVER),
    # Layout.
    Rule("narrow piece", _narrow, grid=LAYOUT),
    Rule("joint, not a cut", _no_cut, grid=LAYOUT),
    Rule("will not snap", _snaps, grid=LAYOUT),
    Rule("joints nearly meet", _joints_meet, grid=LAYOUT),
    Rule("start can move", _bridges, grid=STRENGTH),
    Rule("under half", _halves, grid=LAYOUT),
    Rule("wide space", _wide_spaces, grid=LAYOUT),
    Rule("space, no piece", _strips_lost, grid=LAYOUT),
    Rule("courses off level", _courses_off_level, grid=LAYOUT),
    Rule("joints near", _near_joints, grid=LAYOUT),
    Rule("long offset", _long_offsets, grid=LAYOUT),
    Rule("whole tile taken", _takes_whole_tiles, grid=MIXED_UP),
    # The job itself.
    Rule("accepted, not found", None),
)
"""Every rule, what spoils most first."""
NAMES: tuple[str, ...] = tuple(rule.name for rule in RULES)
NEED_A_GRID: tuple[str, ...] = tuple(rule.name for rule in RULES if rule.grid)
"""The rules that are not looked for on a surface of which it is not known which tile lies where."""
_PLACE = {name: place for place, name in enumerate(NAMES)}


def looked_for(seen: Evidence) -> Iterator[Finding]:
    """What all the rules find, each look taken once, in the order of the table.

    Those that need a grid look only at the surfaces that have one.
    """
    for look, grid in dict.fromkeys((rule.look, rule.grid) for rule in RULES):
        if look is not None:
            yield from look(seen.with_grid if grid else seen)


def place_of(finding: Finding) -> tuple[int, int]:
    """What findings are sorted by: the level, then the rule's place in the table."""
    return LEVELS[finding.level], _PLACE[finding.rule]
