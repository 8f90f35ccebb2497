"""Every limit and default that a job may set for itself: the figure, where it comes from, what it decides.

A job sets its own under `limits:`, by the names below with blanks: `limits: {thin bridge: 25, box play: 3}`. Figures
are mm, unless `unit` says otherwise.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Literal

from msgspec import Struct

LimitUnit = Literal["mm", "part", "degrees", "cm2", "times", "count"]

COMMON = "common practice, no published source"


class Limit(Struct, frozen=True):
    """A figure, where it comes from, what it decides, and between what a job may set it (a count is a whole number)."""

    value: float
    source: str
    what: str = ""
    unit: LimitUnit = "mm"
    most: float = 1000.0
    least: float = 0.0


class Limits(Struct, frozen=True):
    """Every figure that a rule or a default looks at; the field's name is the key."""

    # Clear space at edges.
    floor_gap: Limit = Limit(5.0, COMMON + ": 4 to 5, closed with silicone", "gap over a floor where none was written")
    gap: Limit = Limit(3.0, COMMON, "gap at any other edge, and round a window, where none was written")
    least_edge_joint: Limit = Limit(
        2.0, COMMON, "in a room of a type, a piece that is cut already goes in where so much stays free at its edge"
    )
    most_edge_joint: Limit = Limit(
        10.0,
        COMMON + ": a bead of silicone",
        "in a room of a type, a joint at an edge that is still closed with silicone",
    )
    # How big the opening is.
    round_play: Limit = Limit(
        3.0,
        "1/8 in all round, as the trade ascribes it to ANSI A108 (no clause found); 3 mm in metric work",
        "room round a pipe where no play was written",
    )
    box_play: Limit = Limit(2.0, COMMON + ": 2 to 3", "room round a box where no play was written")
    lap: Limit = Limit(3.0, COMMON + ": 3 mm, 1/8 in", "how far a round cover laps past its hole")
    box_lap: Limit = Limit(2.0, COMMON, "how far a plate laps past its cut-out")
    level_under: Limit = Limit(2.0, COMMON, "a box that leans less is cut level", "degrees", 45.0)
    round_within: Limit = Limit(
        2.0, COMMON, "a thing of no known kind is round where its two measures differ by no more"
    )
    # What is left of the tile.
    least_bite: Limit = Limit(
        0.5, COMMON + ": a web or bite this thin breaks off", "a thinner bridge, or a smaller bite, stops"
    )
    thin_bridge: Limit = Limit(
        30.0, COMMON, "bridge of a wall tile under which it is worth a look; bridge part may be less"
    )
    floor_bridge: Limit = Limit(
        30.0, COMMON, "bridge of a floor tile under which it is worth a look; bridge part may be less"
    )
    panel_bridge: Limit = Limit(
        80.0, "makers' guidelines for large panels: 70 to 80", "bridge of a large panel under which it is worth a look"
    )
    glass_bridge: Limit = Limit(
        50.0,
        "glass splashbacks, by analogy: cut-out to edge and between cut-outs 50",
        "bridge of glass under which it is worth a look; bridge part may be less",
    )
    bridge_part: Limit = Limit(
        0.25,
        COMMON + ": a quarter of the tile's side",
        "a bridge over this part of the side is never thin",
        "part",
        1.0,
    )
    stop_bridge: Limit = Limit(15.0, COMMON, "bridge of a wall tile under which it stops")
    floor_stop_bridge: Limit = Limit(15.0, COMMON, "bridge of a floor tile under which it stops")
    panel_stop_bridge: Limit = Limit(
        70.0, "makers' guidelines for large panels: 70 to 80", "bridge of a large panel under which it stops"
    )
    glass_stop_bridge: Limit = Limit(15.0, COMMON + ": as for a wall tile", "bridge of glass under which it stops")
    stop_bridge_part: Limit = Limit(
        0.125, COMMON + ": half of the part that is worth a look", "a bridge over this part never stops", "part", 1.0
    )
    panel_side: Limit = Limit(
        1200.0,
        "BS 5385-1:2018, grout widths: larger than 1200 is set apart",
        "a tile with a longer side is a panel",
        "mm",
        5000.0,
    )
    bite: Limit = Limit(15.0, COMMON, "a cut that takes less of the next tile just bites it")
    bite_part: Limit = Limit(
        0.25,
        COMMON + ": dead on a joint it takes a half",
        "and only where that is under this part of the cut",
        "part",
        1.0,
    )
    horn: Limit = Limit(45.0, COMMON, "a sharper horn at the mouth of a notch breaks off", "degrees", 90.0)
    leg_times: Limit = Limit(5.0, COMMON, "a strip longer than so many times its width is worth a look", "times")
    area_taken: Limit = Limit(
        77.0,
        "tool guides: 10 to 12 in2 (65 to 77 cm2) may exceed what a tile bears",
        "more cut out of one tile may be too much",
        "cm2",
        10000.0,
    )
    taken_part: Limit = Limit(1 / 3, COMMON, "a larger part of a piece cut out of it may be too much", "part", 1.0)
    inside_radius: Limit = Limit(
        5.0, COMMON + ": 5 or more, or 6 to 8 holes drilled first", "radius of an inside corner of a cut-out"
    )
    same_bridge: Limit = Limit(
        0.75, COMMON, "a leg over this part of a bridge that was said is that bridge, seen askew", "part", 1.0
    )
    between_cores: Limit = Limit(5.0, COMMON, "tile left between two cores, so that the second does not break in")
    alike: Limit = Limit(1.0, COMMON, "mirror-image pieces that differ by less are taken for each other", "mm", 10.0)
    # What was read.
    derived_mm: Limit = Limit(2.0, COMMON, "a pipe's two sides may be so far from its diameter, metric jobs")
    derived_inch: Limit = Limit(
        25.4 / 8, COMMON + ": 1/8 in", "a pipe's two sides may be so far from its diameter, inch jobs"
    )
    reading: Limit = Limit(0.5, COMMON, "how far one reading may be off; a lean is said over twice of it")
    slope_matters: Limit = Limit(
        1.0, COMMON, "what a line that is out, or not square, does at a hole is said from so much on"
    )
    line_over_floor: Limit = Limit(
        5.0, COMMON, "how high a line's words say that it is over the floor, and what the floor's reading says"
    )
    # Back from the wall.
    act_at: Limit = Limit(1.0, COMMON, "what is found on the wall moves a hole from so much on", "mm", 10.0)
    shift_part: Limit = Limit(0.5, COMMON, "and stops over this part of what it may be off", "part", 1.0)
    # Readings that are adjusted together.
    false_alarm: Limit = Limit(
        0.01,
        "data snooping at a familywise level, Baarda 1968",
        "how often good readings, all together, raise an alarm",
        "part",
        1.0,
        0.0001,
    )
    arcs_cross: Limit = Limit(
        60.0, COMMON + ": 60 to 120", "two tapes that cross flatter than this are worth a look", "degrees", 90.0
    )
    mirrored: Limit = Limit(
        0.9,
        "common practice in surveying, no published source",
        "readings whose residuals go together so much cannot be told apart",
        "part",
        1.0,
    )
    second_place: Limit = Limit(
        0.001,
        "chi-square of one degree of freedom, over 10.83 once in 1000",
        "a second place is left out where it fits worse than chance would so seldom",
        "part",
        1.0,
        0.0001,
    )
    one_place: Limit = Limit(1.0, COMMON, "two places that lie nearer to each other are one", "mm", 100.0)
    lost_place: Limit = Limit(
        100.0, COMMON, "a place that may be further off than this (one standard deviation) is none"
    )
    # Covers.
    worst_on_the_day: Limit = Limit(
        2.3, COMMON + ": error budget at two sigma", "how far off a hole may sit that is measured again at the wall"
    )
    worst_ahead: Limit = Limit(3.0, COMMON, "how far off a hole may sit that is cut from the plan alone")
    two_thicknesses: Limit = Limit(0.5, COMMON, "tiles under one cover may differ by so much in thickness")
    # How sure.
    both_sides: Limit = Limit(1.0, COMMON, "a reading to both sides of a thing, give or take")
    one_side: Limit = Limit(1.5, COMMON, "a reading to one side of a thing, give or take")
    by_eye: Limit = Limit(2.0, COMMON, "a reading to a centre by eye, give or take")
    from_edge: Limit = Limit(
        4.0, COMMON + ": floor or ceiling 3 to 5, corner 2 to 8", "a reading from an edge, give or take"
    )
    by_tape: Limit = Limit(1.5, COMMON, "a tape from a point to a hole, give or take")
    of_pair: Limit = Limit(1.0, COMMON, "pitch or level of two things, give or take")
    line_out: Limit = Limit(0.6, COMMON, "a set-out line as drawn, give or take")
    pitch_out: Limit = Limit(1.0, COMMON, "the pitch over so many tiles as the next line says, give or take")
    pitch_tiles: Limit = Limit(
        4.0,
        COMMON + ": five tiles in a row have four pitches",
        "tiles that the pitch was read over; more do not count where the wall is read again",
        "count",
        1000.0,
        1.0,
    )
    neighbour_out: Limit = Limit(1.0, COMMON, "how the neighbours were fixed, give or take")
    marking: Limit = Limit(1.0, COMMON, "marking on the tile, give or take")
    core_wander: Limit = Limit(1.0, COMMON, "where the core or disc starts, give or take")
    sure: Limit = Limit(
        0.95, COMMON + ": 19 in 20", "a smaller chance of going over and being covered is worth a look", "part", 1.0
    )
    # The paper.
    paper_scale: Limit = Limit(
        0.005, COMMON + ", for desktop printers", "scale of a printer that was not measured", "part", 0.1, 0.0001
    )
    measured_paper_scale: Limit = Limit(
        0.003,
        "bars read to 0.5 mm, and paper that moves by up to 0.2 % with damp",
        "scale of a printer that was measured",
        "part",
        0.1,
    )
    lining_up: Limit = Limit(0.3, COMMON, "laying the paper's line on the tile's edge", "mm", 10.0)
    printed_line: Limit = Limit(0.25, COMMON, "finding the middle of a printed line", "mm", 10.0)
    paper_join: Limit = Limit(
        0.6, COMMON, "one join of two sheets; several add up as the root of their number", "mm", 10.0
    )
    marking_by_tape: Limit = Limit(1.0, COMMON, "one measure that goes by tape", "mm", 10.0)
    size_measured: Limit = Limit(0.5, COMMON, "the tile's own size, where a run was measured", "mm", 10.0)
    size_nominal: Limit = Limit(1.0, COMMON, "the tile's own size, where it is off the box", "mm", 10.0)
    # Which sheets.
    sheet_saved: Limit = Limit(0.1, COMMON, "error at the worst hole that is given for a sheet less", "mm", 10.0)
    most_joined: Limit = Limit(
        6.0, COMMON, "joined sheets at most for a cut that is larger than the paper", "count", 100.0, 1.0
    )
    most_asked: Limit = Limit(
        60.0, COMMON, "joined sheets at most where they are asked for; then the tape", "count", 1000.0, 1.0
    )
    # Depth.
    bed_part: Limit = Limit(
        0.5, "trade guides: 3/8 in notch gives 3/16 in", "bed as a part of the trowel's notch", "part", 1.0
    )
    depth_tight: Limit = Limit(2.0, COMMON, "a fitting this near to the end of its range is tight")
    set_back: Limit = Limit(6.35, "NEC 314.20, from memory: 1/4 in", "how far a box may sit behind the finished face")
    under_frame: Limit = Limit(1.0, COMMON + ": tile + bed + 1", "air over a tile that is slid under a frame")
    goes_under: Limit = Limit(10.0, COMMON, "how far a tile runs in under a frame, where it was not written", least=1.0)
    beside_frame: Limit = Limit(10.0, COMMON, "ground between such a frame and a wall that is not tiled", least=1.0)
    screw_bite: Limit = Limit(5.0, COMMON, "thread that a plate's screw must find")
    # Layout.
    least_piece: Limit = Limit(1.0, COMMON, "what is left under this is no piece: it stays joint", "mm", 100.0, 0.1)
    least_space: Limit = Limit(1.0, COMMON, "two areas nearer than this have no joint between them", "mm", 50.0)
    first_course: Limit = Limit(5.0, COMMON, "a first course under this is none: its start was forgotten")
    two_sizes: Limit = Limit(1.0, COMMON, "a trimmed piece whose ends differ by so much has two sizes", "mm", 100.0)
    half_part: Limit = Limit(
        0.5,
        "ANSI A108.02 4.3.2: no cut smaller than half a tile where it can be helped",
        "less at an edge is said",
        "part",
        1.0,
    )
    fair_part: Limit = Limit(
        1 / 3,
        "a third: common practice, no published source",
        "a start that leaves less at an edge is poor",
        "part",
        1.0,
    )
    equal_ends: Limit = Limit(5.0, COMMON, "pieces at opposite ends that differ by no more look alike", "mm", 100.0)
    cuts_alike: Limit = Limit(
        5.0,
        COMMON + ": half a box",
        "cuts, and tiles, are counted by so many where starts are held against each other",
        "count",
        1000.0,
        1.0,
    )
    packers: Limit = Limit(
        22.0,
        COMMON,
        "what lies no further under a first course carries it on packers, and no batten is put up",
        "mm",
        100.0,
    )
    batten_courses: Limit = Limit(
        2.0,
        COMMON + ": nobody puts one up for a single course",
        "a batten that carries fewer whole courses makes a start worse",
        "count",
        100.0,
    )
    waiting_part: Limit = Limit(
        0.5,
        COMMON + ": what is holed is fixed while it can still be lined up with the course below",
        "a start that leaves a larger part of the holes to what waits for the batten is worse",
        "part",
        1.0,
    )
    batten_bands: Limit = Limit(
        1.0, COMMON, "by so many bands of the smallest piece; 0: it does not count", "count", 3.0
    )
    out_by: Limit = Limit(
        3.0, COMMON, "a start that is no longer so good where a wall or a pipe is so far out says so", "mm", 50.0
    )
    small_step: Limit = Limit(
        25.4 / 8,
        COMMON + ": 1/8 in, what a joint takes up",
        "a step in an edge under this is cut straight, and is no L cut",
        "mm",
        50.0,
    )
    snaps: Limit = Limit(10.0, COMMON, "a strip under this is not snapped off: wet saw, grinder or nippers")
    narrow: Limit = Limit(50.0, COMMON + ": 50 mm or 2 in", "a trimmed piece under this is narrow")
    narrow_part: Limit = Limit(
        0.2, "one fifth of the tile, trade guides", "and only under this part of it", "part", 1.0
    )
    narrow_from: Limit = Limit(150.0, COMMON, "and only where the tile is at least this size")
    narrow_spread: Limit = Limit(50.8, COMMON + ": 2 in", "and only where it is nowhere wider by more than this")
    joint_problem: Limit = Limit(5.0, COMMON, "less off a whole row is better taken up by the joints")
    edge_goes_on: Limit = Limit(
        3.0, COMMON, "an edge that rakes is said to go on past its last reading where that moves it by more"
    )
    size_off: Limit = Limit(5.0, COMMON, "a size written and the one by the run may differ by so much")
    size_wrong: Limit = Limit(
        10.0, COMMON, "and where they, or a tile read at the wall, differ by more, it is refused", "mm", 100.0
    )
    joints_meet: Limit = Limit(
        5.0, COMMON, "joints of two areas that miss each other by no more look like a slip", "mm", 100.0
    )
    wide_space: Limit = Limit(
        2.0, COMMON + ": twice the larger joint", "a wider space between two areas, in joints, is said", "times"
    )
    offset_side: Limit = Limit(
        381.0, "ANSI A108.02 4.3.8.2: 15 in", "longer side of a tile over which a long offset shows", "mm", 5000.0
    )
    offset_part: Limit = Limit(1 / 3, "ANSI A108.02 4.3.8.2: 33 %", "longest offset of such a tile", "part", 1.0)
    least_stagger: Limit = Limit(
        0.2,
        COMMON + ": a fifth of the tile; nearer they look like a fault",
        "where the offcut is carried on, joints of two courses that lie nearer are worth a look",
        "part",
        0.5,
    )
    # What to buy.
    kerf: Limit = Limit(
        2.0, COMMON + ": 1.6 to 2.2", "what the saw takes where a disc's own was not written", "mm", 10.0
    )
    holed_per_spare: Limit = Limit(
        10.0, COMMON + ": one in ten of porcelain", "tiles with a hole to one spare", "count", 1000.0, 1.0
    )
    cut_per_spare: Limit = Limit(20.0, COMMON, "trimmed pieces to one spare", "count", 1000.0, 1.0)
    butter_skim: Limit = Limit(1.0, COMMON, "adhesive skimmed on the back of a tile that is buttered", "mm", 10.0)
    kept_whole: Limit = Limit(
        2.0, COMMON, "whole tiles of each kind that are kept for a repair; said, and not in the count", "count", 100.0
    )
    bead_depth: Limit = Limit(
        6.0,
        COMMON + ": over a backing strip where a joint is deeper",
        "how deep silicone is put into a joint",
        "mm",
        50.0,
        1.0,
    )
    bead_over: Limit = Limit(
        0.2, COMMON, "silicone over what the joints hold: tooled off, and left in the nozzle", "part", 2.0
    )
    tube: Limit = Limit(310.0, COMMON, "millilitres in a tube of silicone", "count", 1000.0, 50.0)
    # How it is cut.
    disc_past: Limit = Limit(
        3.0, COMMON, "how far a disc reaches past the tile's other face where it stops", "mm", 50.0, 0.1
    )
    relief_hole: Limit = Limit(
        6.0, COMMON + ": 6 to 8", "hole that is drilled in an inside corner before the saw comes to it", "mm", 20.0, 2.0
    )
    thin_strip: Limit = Limit(
        30.0, COMMON, "a narrower strip that stands free on one end breaks while the next cut is made"
    )
    finger: Limit = Limit(
        6.0, COMMON, "what stands between two cuts of a round notch, to be broken out", "mm", 50.0, 1.0
    )
    # For the shop.
    run_out: Limit = Limit(5.0, COMMON, "an open cut path runs so far past the tile's edge", "mm", 100.0)
    tile_density: Limit = Limit(
        2.4,
        "usual of porcelain, from memory: glass 2.5, wall tiles under 2",
        "a tile's weight to water's",
        "times",
        9.0,
        0.5,
    )


LIMITS = Limits()
HEADINGS: Mapping[str, str] = MappingProxyType(
    {
        "floor_gap": "GAPS AT EDGES",
        "round_play": "HOW BIG THE OPENING IS",
        "least_bite": "WHAT IS LEFT OF THE TILE",
        "derived_mm": "WHAT WAS READ",
        "act_at": "BACK FROM THE WALL",
        "false_alarm": "READINGS ADJUSTED TOGETHER",
        "worst_on_the_day": "COVERS",
        "both_sides": "HOW SURE: give or take holds for 19 in 20 (two standard deviations)",
        "paper_scale": "THE PAPER: how far off it may be at a hole; the parts add up",
        "sheet_saved": "WHICH SHEETS",
        "bed_part": "DEPTH",
        "least_piece": "LAYOUT",
        "disc_past": "HOW IT IS CUT",
        "run_out": "FOR THE SHOP",
    }
)
"""What stands over the limits from this field on."""
