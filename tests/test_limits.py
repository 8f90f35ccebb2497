"""Every limit decides something: set to another figure, a job made for it comes out otherwise.

What is compared is all that was worked out, less what a setting changes by being one: the limits themselves and, of a
finding, its limit and its source. The wall is that of tests/checks/jobs.py: 297 x 197 tiles, joint 3, the first one
1.5 to 298.5 right of V and 0 to 197 above B.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction
from typing import Any

import pytest
from msgspec import Struct
from msgspec.structs import replace

from cutmarks.buying.flow import what_to_buy
from cutmarks.errors import JobError
from cutmarks.job import build_job
from cutmarks.job.limits import NAMES
from cutmarks.job.models import Tools
from cutmarks.plan import Plan, make_plan
from cutmarks.plan.choices import choices_of
from cutmarks.readings import Disc
from cutmarks.registering.calibration import Calibration, Scale
from cutmarks.rooms.judging import Looked, judged
from cutmarks.saying.buying import buy_lines
from cutmarks.saying.shop import mass_words
from cutmarks.saying.starts import start_said
from cutmarks.sheets.jobsheet import jobsheet_pages
from cutmarks.sides import Side
from cutmarks.units import Style, Unit
from cutmarks.writers.dxf import dxf_files
from cutmarks.writers.lists import pieces_csv
from tests.checks.jobs import EDGES, hole
from tests.sheets.drawn import texts

Job = Mapping[str, Any]
OFFICE = Calibration("office", "", "A4", "2026-11-25", Scale(1.004, 0.997))
FIELD = {"name": "field", "tile": "rib", "joint": 3, "start": {"across": "joint on V", "up": "sits on B"}}
LINES = {"V": "plumb, middle", "B": "level, batten"}


def job(*holes: Job, tile: Job | None = None, tiles: Job | None = None, top: Job | None = None, **surface: Any) -> Job:
    """The wall with these holes; `surface` has keys of it, `top` of the job."""
    rib = {"size": "297 x 197", "measured": "yes", **(tile or {})}
    wall = {"name": "wall", "kind": "wall", "lines": LINES, "edges": EDGES, "areas": [FIELD], "holes": list(holes)}
    return {"job": "limits", "tiles": {"rib": rib, **(tiles or {})}, "surfaces": [{**wall, **surface}], **(top or {})}


def floor(*holes: Job, **keys: Any) -> Job:
    """The same as a floor, whose base line is D."""
    told = [{("in" if key == "up" else key): onto_floor(value) for key, value in one.items()} for one in holes]
    edges = {side: {key: onto_floor(value) for key, value in edge.items()} for side, edge in EDGES.items()}
    area = {**FIELD, "start": {"across": "joint on V", "up": "sits on D"}}
    lines = {"V": "across, middle", "D": "along, the door"}
    return job(*told, kind="floor", lines=lines, edges=edges, areas=[area], up="towards the window", **keys)


def onto_floor(value: Any) -> Any:
    floors = {"above B": "from D", "plumb": "square", "level": "square"}
    for word, other in floors.items():
        value = value.replace(word, other) if isinstance(value, str) else value
    return value


def at_gap(gap: float, **keys: Any) -> Job:
    """A 35 hole that leaves `gap` to the left edge of the first tile."""
    return hole(x=1.5 + gap + 17.5, opening=35, **keys)


def read(x: str, y: str, **keys: Any) -> Job:
    return {**hole(**keys), "across": x, "up": y}


def box(size: str = "70 x 70", cover: Any = "100 x 100", **keys: Any) -> Job:
    return hole("socket", what="box", size=size, cover=cover, **keys)


def taped(*readings: str, points: Job | None = None, **keys: Any) -> Job:
    riser = {"name": "riser", "what": "15 copper", "cover": 65, "end": "comes off", "readings": list(readings), **keys}
    return job(riser, points=points or POINTS, edges={})


def upright(*entries: Job) -> Job:
    """Worked example W1: what is found at its piece is expected at 69 and 84, 107 and 122."""
    tile = {"size": "248 x 398", "measured": "yes"}
    area = {**FIELD, "joint": 2, "from": "B"}
    riser = read("318 to 333 right of V", "905 to 920 above B")
    return job(riser, tile=tile, areas=[area], edges={}, top={"found": list(entries)})


def two_areas(begin: float, **second: Any) -> Job:
    """One course up to 197, and a second area from `begin` on, of a tile of its own."""
    low = {**FIELD, "name": "low", "to": "197 above B"}
    start = {"across": "joint on V", "up": f"sits on {begin} above B"}
    high = {**FIELD, "name": "high", "tile": "flag", "from": f"{begin} above B", "start": start}
    flag = {"size": "297 x 197", "measured": "yes", **second}
    return job(hole(y=197, opening=35), tile={"thickness": 8}, tiles={"flag": flag}, areas=[low, high])


def nearly_meeting() -> Job:
    """The two areas, a joint apart, the start of the second 3 further right."""
    made = two_areas(200)
    made["surfaces"][0]["areas"][1]["start"]["across"] = "joint on 3 right of V"
    return made


def large(*holes: Job, top: Job | None = None, size: str = "1200 x 1200") -> Job:
    tile = {"size": size, "measured": "yes"}
    area = {**FIELD, "joint": 2, "start": {"across": "left on V", "up": "sits on B"}}
    return job(*holes, tile=tile, areas=[area], edges={}, top=top)


def built(one: Job, **keys: Any) -> Job:
    """A tile of 9 on a bed of half of a notch of 8."""
    return job(one, tile={"thickness": 9, "notch": 8}, **keys)


def trimmed(**edges: Any) -> Job:
    return job(edges={side: {**edge, **edges.get(side, {})} for side, edge in EDGES.items()})


def over_a_worktop(top: int, *holes: Job) -> Job:
    """A worktop on B, so much below what ends the wall above, and the start on a batten 140 over it."""
    edges = {**EDGES, "bottom": {"at": "on B", "true": "level", "gap": 0}, "top": {"at": f"{top} above B"}}
    area = {**FIELD, "start": {"across": "joint on V", "up": "sits on 140 above B"}}
    return job(*holes, edges=edges, areas=[area])


def inches(x: str) -> Job:
    tile = {"size": "12 x 8", "measured": "yes"}
    area = {**FIELD, "joint": "1/8"}
    return job(read(x, "centre 4 above B", cover="none"), tile=tile, areas=[area], edges={}, top={"units": "in"})


POINTS = {"P1": "300 left of V, 1600 above B", "P2": "500 right of V, 1600 above B"}
THREE = {**POINTS, "P3": "100 right of V, 1610 above B"}
# From P1, 600 right and 800 down is 1000 (3-4-5); from P2, 200 left and 800 down is 824.6.
TAPES = ("992.5 to 1007.5 from P1", "817.1 to 832.1 from P2")
HIGH = "792.5 to 807.5 above B"
# Nails 1200 apart on one level, and a hole between them 20 below that level: it may as well be 20 above.
FLAT = {"N1": "600 left of V, 800 above B", "N2": "600 right of V, 800 above B"}
LEVEL = ("centre 600.333 from N1", "centre 600.333 from N2")
PAIR = [{"of": "hot and cold", "apart": 148, "level": "yes"}]
HOT = read("67.5 to 82.5 left of V", "92.5 to 107.5 above B", name="hot")
COLD = read("67.5 to 82.5 right of V", "92.5 to 107.5 above B", name="cold")
BOTH = read("142.5 to 157.5 right of V", "92.5 to 107.5 above B")
EYE = hole(x=450)
WINDOW = {"across": "100 to 277.5 right of V", "up": "50 to 400 above B"}
LEG = {"name": "leg", "across": "10 to 60 right of V", "in": "20 to 90 from D", "gap": 0, "undercut": 13.5}


def drawn(plan: Plan) -> object:
    return [texts(page.marks) for page in jobsheet_pages(plan)]


def listed(plan: Plan) -> object:
    """The list of pieces in inches: it has the sizes in words."""
    return pieces_csv(replace(plan, say=replace(plan.say, style=Style(Unit.INCH, Fraction(1, 32)))))


def for_the_shop(plan: Plan) -> object:
    return [file.open_data for file in dxf_files(plan)]


def bought(plan: Plan) -> object:
    return what_to_buy(plan)


def bought_in_words(plan: Plan) -> object:
    return buy_lines(what_to_buy(plan), plan)


def weighed(plan: Plan) -> object:
    return [mass_words(plan, piece) for piece in plan.pieces]


def cut_how(plan: Plan) -> object:
    return sorted(plan.how_cut.items())


def room_with_its_left_edge_at(x: float) -> Callable[[Plan], object]:
    """What is said, by the limits of a plan, of a room of its type whose left edge was read elsewhere."""

    def look(plan: Plan) -> object:
        room = build_job(job(edges={**EDGES, "left": {"at": f"{x:g} left of V", "true": "plumb"}}))
        return [one.says for one in judged(plan, make_plan(room), [Looked(room.surfaces[0].name, Side.LEFT)])]

    return look


class Scene(Struct, frozen=True, dict=True):
    """A job in which a limit decides, another figure for it, and what to look at besides the plan.

    starts  its starts are looked for too; tools: what it is cut with.
    """

    job: Job
    figure: Any
    look: Callable[[Plan], object] | None = None
    calibration: Calibration | None = None
    starts: bool = False
    tools: Tools | None = None


TRUE_LEFT = {**EDGES, "left": {"at": "1000 left of V", "true": "plumb"}}
SCENES: Mapping[str, Scene] = {
    # Trims: the floor's gap is 5, any other 3.
    "floor_gap": Scene(job(edges={**EDGES, "bottom": {"at": "0 above B", "true": "level", "what": "floor"}}), 8),
    "gap": Scene(job(edges={**EDGES, "left": {"at": "1000 left of V", "true": "plumb"}}), 6),
    # A joint of 3 at the left edge: 1.5 narrower is under 2, and not under 1; 6 wider is 9, over 5.
    "least_edge_joint": Scene(job(edges=TRUE_LEFT), 1, look=room_with_its_left_edge_at(998.5)),
    "most_edge_joint": Scene(job(edges=TRUE_LEFT), 5, look=room_with_its_left_edge_at(1006)),
    # 15 + 2 x 3 is 21, core 22; 15 + 2 x 5 is 25.
    "round_play": Scene(job(hole(cover="none")), 5),
    "box_play": Scene(job(box()), 3),
    # (15 + 65 - 2 x 3) / 2 is 37, core 35; with a lap of 8 it is 32.
    "lap": Scene(job(hole()), 8),
    # 74 under 79: laps 2.5.
    "box_lap": Scene(job(box(cover="79 x 79")), 3),
    "level_under": Scene(job(box(lean="3")), 5),
    # 15 across and 17.5 up.
    "round_within": Scene(job(read("140 to 155 right of V", "90 to 107.5 above B", what="old tail")), 3),
    "least_bite": Scene(job(at_gap(0.8)), 1),
    "thin_bridge": Scene(job(at_gap(20)), 10),
    "floor_bridge": Scene(floor(at_gap(20)), 10),
    "panel_bridge": Scene(job(at_gap(75, y=98), tile={"material": "panel"}), 72),
    "glass_bridge": Scene(job(at_gap(40, y=98), tile={"material": "glass"}), 35),
    # 10 % of 197 is 19.7.
    "bridge_part": Scene(job(at_gap(20)), "10 %"),
    "stop_bridge": Scene(job(at_gap(12)), 10),
    "floor_stop_bridge": Scene(floor(at_gap(12)), 10),
    "panel_stop_bridge": Scene(job(at_gap(65, y=98), tile={"material": "panel"}), 60),
    "glass_stop_bridge": Scene(job(at_gap(12), tile={"material": "glass"}), 10),
    # 5 % of 197 is 9.85.
    "stop_bridge_part": Scene(job(at_gap(12)), "5 %"),
    "panel_side": Scene(job(at_gap(75, y=98)), 250),
    # acos(14 / 17.5) is 36.9 degrees.
    "horn": Scene(job(hole(x=15.5, opening=35)), 30),
    # 100 long, 16 wide: 6.25 times.
    "leg_times": Scene(job(box("46 x 96", "80 x 130", x=42.5, opening="50 x 100")), 7),
    # 120 x 80 is 96 cm2, and 16.4 % of 297 x 197.
    "area_taken": Scene(job(box("116 x 76", "150 x 110")), 100),
    "taken_part": Scene(job(box("116 x 76", "150 x 110")), "10 %"),
    "inside_radius": Scene(job(box()), 0),
    # The window and its gap of 3 leave 18 of the first tile; the hole leaves 20 to the window's left: 18 is 90 %.
    "same_bridge": Scene(job(hole(x=59.5, y=100, opening=35), windows=[WINDOW]), "95 %"),
    "between_cores": Scene(job(hole(x=100, opening=35), hole("tail", x=139, opening=35)), 3),
    # 100 from the left edge of one tile, 101.5 from the right edge of the next.
    "alike": Scene(job(hole("hot", x=101.5), hole("cold", x=497)), 5),
    "derived_mm": Scene(job(read("140 to 158 right of V", "92.5 to 107.5 above B")), 4),
    # A 15 copper is 0.59 in: read 3/4 in apart it is 4.05 off.
    "derived_inch": Scene(inches("3 to 3 3/4 right of V"), "1/4"),
    "reading": Scene(job(hole(lean="2 in 71 right")), 1.5),
    # 2 in 1200 at 700 up is 1.2.
    "slope_matters": Scene(
        job(hole(y=700), lines={**LINES, "V": {"kind": "plumb", "words": "middle", "off": "2 in 1200 to the right"}}),
        1.5,
    ),
    "act_at": Scene(upright({"piece": "field 3-R2", "left": "70.2 to 85.2"}), 1.5),
    # 6 off; the hole may be 10 off.
    "shift_part": Scene(upright({"piece": "field 3-R2", "left": "75 to 90"}), "70 %"),
    # Two readings of one thing, 2 apart, each with a standard deviation of 0.5: 2 / (0.5 x root 2) is 2.83.
    "false_alarm": Scene(taped("142.5 to 157.5 right of V", "144.5 to 159.5 right of V", HIGH), "0.1 %"),
    # They cross at 50.9 degrees.
    "arcs_cross": Scene(taped(*TAPES, lies="below"), 45),
    # The residuals of three like readings are correlated by a half.
    "mirrored": Scene(taped(*(f"{x} to {x + 15} right of V" for x in (142.5, 142.5, 152.5)), HIGH), "40 %"),
    # The other place is as far above the nails as this one is below: from a third nail, 10 higher than the two, it is
    # 834.3 to the one and 814.9 to the other. 19.4 / 7.05 is 2.75 standard deviations, chi-square 7.6: 6.6 is 1 %.
    "second_place": Scene(taped(*TAPES, "centre 834.3 from P3, within 14.1", points=THREE), "1 %"),
    "one_place": Scene(taped(*LEVEL, points=FLAT), 50),
    # They cross at 3.8 degrees: 0.75 / root 2 / sin 1.9 degrees is 16 up and down.
    "lost_place": Scene(taped(*LEVEL, points=FLAT, lies="below"), 10),
    # 74 under 79 laps 2.5.
    "worst_on_the_day": Scene(job(box(cover="79 x 79")), 2.6),
    "worst_ahead": Scene(job(box(cover="79 x 79"), top={"cut": "ahead"}), 2.4),
    "two_thicknesses": Scene(two_areas(200, thickness=9), 2),
    "both_sides": Scene(job(BOTH), 2),
    "one_side": Scene(job(read("near side 142.5 right of V", "centre 100 above B")), 2),
    "by_eye": Scene(job(EYE), 3),
    "from_edge": Scene(job(read("centre 850 in from right", "centre 100 above B")), 5),
    "by_tape": Scene(taped(*TAPES, HIGH), 3),
    "of_pair": Scene(job(HOT, COLD, pairs=PAIR), 3),
    "line_out": Scene(job(BOTH), 2),
    "pitch_out": Scene(job(EYE), 2),
    "pitch_tiles": Scene(job(EYE), 6),
    "neighbour_out": Scene(job(BOTH), 2),
    "marking": Scene(job(BOTH), 2),
    "core_wander": Scene(job(BOTH), 2),
    # A box with a play of 2, read by eye, goes over about 7 times in 10.
    # 5 into the tile from 301.5 on, of 35: a quarter is 8.75.
    "bite": Scene(job(hole(x=289, opening=35)), 4),
    "bite_part": Scene(job(hole(x=289, opening=35)), "10 %"),
    # Both of 297 with a joint of 3, their starts 3 apart.
    "joints_meet": Scene(nearly_meeting(), 2),
    # 98.5 of 297 at both ends is a third.
    "half_part": Scene(job(), "30 %"),
    # And less than a third of 297, 99: with a third it is poor.
    "fair_part": Scene(job(), "30 %", starts=True),
    # 98.5 at the left, and 106.5 at the right.
    "equal_ends": Scene(trimmed(right={"at": "1008 right of V"}), 10, starts=True),
    "cuts_alike": Scene(trimmed(right={"at": "1100 right of V"}), 100, starts=True),
    # 106.5 at the right is over a third, 99, until it is 20 out.
    "out_by": Scene(trimmed(right={"at": "1008 right of V"}), 20, starts=True),
    # One whole course of 197 stands on the batten at 140, up to 480; up to 1000 four do, with the one hole under it.
    "packers": Scene(over_a_worktop(480), 150, starts=True),
    "batten_courses": Scene(over_a_worktop(480), 1, starts=True),
    "batten_bands": Scene(over_a_worktop(480), 0, starts=True),
    "waiting_part": Scene(over_a_worktop(1000, hole(y=60)), "100 %", starts=True),
    "sure": Scene(job(box()), "50 %"),
    "paper_scale": Scene(job(BOTH), "1 %"),
    "measured_paper_scale": Scene(job(BOTH), "1 %", calibration=OFFICE),
    "lining_up": Scene(job(BOTH), 1),
    "printed_line": Scene(job(BOTH), 1),
    # 300 from both edges is off one A4.
    "paper_join": Scene(large(hole(x=300, y=400), top={"sheets": "joined"}), 2),
    "marking_by_tape": Scene(large(hole(x=600, y=600)), 2),
    # 270 from the left, off an A4; from the right edge it is 28.5.
    "size_measured": Scene(job(hole(x=270)), 2),
    "size_nominal": Scene(job(hole(x=270), tile={"measured": "no"}), 2),
    "sheet_saved": Scene(large(hole("a", x=60, y=60), hole("b", x=150, y=60), size="170 x 300"), 0.9),
    # A cut of 250 x 250 is larger than what one A4 shows, 183 x 168.5: 2 x 2 sheets.
    "most_joined": Scene(large(box("250 x 250", "400 x 400", x=180, y=180)), 3),
    "most_asked": Scene(large(hole(x=300, y=400), top={"sheets": "joined"}), 3),
    # 47 to 73: 59 + 4 + 9 is 72, and 74.4 with a bed of 0.8 of the notch.
    "bed_part": Scene(built(box(depth="59 behind the board", **{"depth range": "47 to 73"})), "80 %"),
    "depth_tight": Scene(built(box(depth="59 behind the board", **{"depth range": "47 to 73"})), 0.5),
    # 13 behind the face.
    "set_back": Scene(built(box(depth="flush with the board")), 14),
    # B is said to be 1000 above the floor, and the floor to lie 90 below it.
    "line_over_floor": Scene(
        job(
            hole(),
            edges={**EDGES, "bottom": {"at": "90 below B", "true": "level", "what": "floor", "still to come": 0}},
            lines={"V": "plumb, middle", "B": "level, 94 above finished floor"},
        ),
        3,
    ),
    # The wall is 15 from the leg.
    "beside_frame": Scene(
        floor(hole(), doors=[{**LEG, "across": "985 to 935 left of V"}], tile={"thickness": 9, "notch": 8}), 20
    ),
    "goes_under": Scene(floor(hole(), doors=[LEG], tile={"thickness": 9, "notch": 8}), 20),
    # 9 + 4 + 1 is 14, over 13.5.
    "under_frame": Scene(floor(hole(), doors=[LEG], tile={"thickness": 9, "notch": 8}), 0.2),
    "screw_bite": Scene(built(box(depth="flush with the board", screw=15)), 1),
    # The last tile to the right begins at 901.5; at 903 it is 1.5 wide.
    "least_piece": Scene(trimmed(right={"at": "903 right of V"}), 2),
    "least_space": Scene(two_areas(197.5), 0.4),
    # The edge lies 7 below B: less the joint, 4 are left of a course.
    "first_course": Scene(trimmed(bottom={"at": "7 below B"}), 3),
    # 1 in 900: over a piece of 197 it is 0.2.
    "two_sizes": Scene(
        job(edges={**EDGES, "right": ["950 right of V at B", "951 right of V at 900 above B"]}), 0.1, look=drawn
    ),
    # The last tile to the right is 45 wide; a fifth of 297 is 59.4.
    # The floor steps by 5 under the tile that hangs below B.
    "small_step": Scene(
        job(
            edges={
                **EDGES,
                "bottom": {
                    "steps": [{"at": "90 below B", "until": "150 right of V", "gap": 0}, {"at": "95 below B", "gap": 0}]
                },
            }
        ),
        6,
        look=drawn,
    ),
    # The last tile to the right begins at 901.5; at 910 it is 8.5 wide.
    "snaps": Scene(trimmed(right={"at": "910 right of V"}), 8),
    "narrow": Scene(trimmed(right={"at": "946.5 right of V"}), 40),
    "narrow_part": Scene(trimmed(right={"at": "946.5 right of V"}), "10 %"),
    "narrow_from": Scene(trimmed(right={"at": "946.5 right of V"}), 300),
    # It is 20 wide at the bottom and 65 at the top.
    "narrow_spread": Scene(
        job(edges={**EDGES, "right": ["921.5 right of V at B", "966.5 right of V at 197 above B"]}), 40
    ),
    # Five courses end at 997; the top at 993 takes 4 off.
    "joint_problem": Scene(trimmed(top={"at": "993 above B"}), 3),
    # 2 in 100: past the last reading at 100 above B, up to 1000, it moves by 18.
    "edge_goes_on": Scene(job(edges={**EDGES, "right": ["950 right of V at B", "952 right of V at 100 above B"]}), 20),
    # (1497 + 3) / 5 - 3 is 297: 7, and 12, over the sizes as written.
    "size_off": Scene(job(tile={"size": "290 x 197", "lay": "long side across", "run across": "5 in 1497"}), 8),
    "size_wrong": Scene(job(tile={"size": "285 x 197", "lay": "long side across", "run across": "5 in 1497"}), 15),
    "wide_space": Scene(two_areas(204), 3),
    "offset_side": Scene(job(areas=[{**FIELD, "bond": "half"}], tile={"size": "400 x 197"}), 500),
    # 2000 wide, pitch 300, the saw takes 2: 7 x 300 - 2002 is 98, under two fifths of 297.
    "least_stagger": Scene(job(areas=[{**FIELD, "bond": "offcut carried on"}]), "40 %"),
    "offset_part": Scene(job(areas=[{**FIELD, "bond": "half"}], tile={"size": "400 x 197"}), "50 %"),
    # Six holed pieces' one spare is two at three a spare; 29 that are trimmed have two at twenty.
    "holed_per_spare": Scene(job(hole(), hole("tail", x=450)), 1, look=bought),
    "cut_per_spare": Scene(job(), 3, look=bought),
    # 148½ at both ends of each course: of 297 they come from one tile where the saw takes nothing.
    "kerf": Scene(trimmed(left={"at": "751.5 left of V"}, right={"at": "751.5 right of V"}), 0, look=bought),
    "butter_skim": Scene(job(tile={"notch": 8, "buttered": "yes"}), 2, look=bought),
    # A wall's joints for silicone, 3 wide: a metre of them takes 18 ml at 6 deep, 21.6 with a fifth over.
    "kept_whole": Scene(job(), 5, look=bought_in_words),
    "bead_depth": Scene(trimmed(left={"gap": 3}), 12, look=bought_in_words),
    "bead_over": Scene(trimmed(left={"gap": 3}), "100 %", look=bought_in_words),
    "tube": Scene(trimmed(left={"gap": 3}), 50, look=bought_in_words),
    # How it is cut: a box is plunged, 16 x 190 takes 8½ x 97 of each corner at a crossing, a round notch is a row.
    "disc_past": Scene(job(box(), tile={"thickness": 9}), 5, look=cut_how, tools=Tools(discs=(Disc(115.0),))),
    "relief_hole": Scene(job(box()), 8, look=cut_how),
    "thin_strip": Scene(job(box("16 x 190", cover="none", x=300, y=198.5)), 5, look=cut_how),
    "finger": Scene(job(hole(x=5, opening=35)), 9, look=cut_how),
    "run_out": Scene(job(hole(x=5, opening=35)), 8, look=for_the_shop),
    "tile_density": Scene(job(hole(), tile={"thickness": 9}), 2, look=weighed),
}


def seen(scene: Scene, limits: Mapping[str, Any]) -> str:
    """All that is worked out, or the faults that there are."""
    try:
        built = build_job({**scene.job, "limits": dict(limits)}, tools=scene.tools)
        plan = make_plan(built, calibration=scene.calibration)
    except JobError as error:
        return str(error)
    findings = [replace(one, limit=None, source="") for one in plan.findings]
    worked_out = (plan.surfaces, plan.openings, plan.pieces, plan.registrations, plan.assumed, plan.sure, plan.fits)
    starts = started(scene, limits) if scene.starts else None
    return repr((worked_out, findings, scene.look and scene.look(replace(plan, fingerprint="")), starts))


def started(scene: Scene, limits: Mapping[str, Any]) -> object:
    """What a start is said to leave, and the starts that are offered, in their order."""
    found = choices_of(build_job({**scene.job, "limits": dict(limits)}))[0]
    offers = [offer for offer in (found.now, *found.offers) if offer is not None]
    return [(offer.worth, offer.fragile, [start_said(start) for start in offer.starts]) for offer in offers]


def test_every_limit_has_its_scene() -> None:
    assert sorted(SCENES) == sorted(NAMES.values())


def test_what_is_seen_is_the_same_each_time() -> None:
    for name in ("two_sizes", "run_out", "by_tape"):
        assert seen(SCENES[name], {}) == seen(SCENES[name], {"horn": 44})


@pytest.mark.parametrize("name", SCENES)
def test_a_limit_that_is_set_decides(name: str) -> None:
    scene = SCENES[name]
    assert seen(scene, {name.replace("_", " "): scene.figure}) != seen(scene, {})


@pytest.mark.parametrize(
    ("name", "figure", "words"),
    [
        ("narrow_part", "18 %", "under 18 % of the tile"),
        ("narrow_part", "25 %", "under a quarter of the tile"),
        ("least_piece", 2, "under 2 is left past the last joint"),
        ("least_space", 0.6, "no joint fits in less than 0.6"),
        ("wide_space", 2.2, "over 2.2 times the joint"),
        ("offset_part", "40 %", "over 40 % may show lips"),
        ("leg_times", 6, "over 6 times"),
        ("worst_on_the_day", 3, "with everything 3 off"),
    ],
)
def test_what_is_said_has_the_jobs_own_figure(name: str, figure: Any, words: str) -> None:
    scene = SCENES[name]
    assert words in seen(scene, {name.replace("_", " "): figure})
    assert words not in seen(scene, {})


def test_the_list_of_pieces_has_two_sizes_from_the_same_figure() -> None:
    scene = replace(SCENES["two_sizes"], look=listed)
    assert "at the bottom" in seen(scene, {"two sizes": 0.1})
    assert "at the bottom" not in seen(scene, {})


@pytest.mark.parametrize(("limits", "name"), [({}, "field 1-2"), ({"least piece": 2}, "field 1-1")])
def test_a_strip_that_is_no_piece_has_no_number(limits: Job, name: str) -> None:
    # The tile from 898.5 to 601.5 left of V; past its joint 1.5 are left up to the edge.
    left = {**EDGES, "left": {**EDGES["left"], "at": "903 left of V"}}
    plan = make_plan(
        build_job({**job(read("centre 750 left of V", "centre 100 above B"), edges=left), "limits": limits})
    )
    assert [piece.name for piece in plan.pieces if piece.cuts] == [name]


def test_an_end_that_would_be_no_piece_is_not_offered() -> None:
    # 20 beside the hole, 30 wanted: the start moves 10 to the left, and the end of 98.5 becomes 88.5; where 90 is the
    # least, the tile before it, whole, ends the row.
    scene = Scene(job(at_gap(20)), None)
    assert "the ends are then 88\u00bd and 108\u00bd" in seen(scene, {})
    assert "the ends are then 297 and 108\u00bd" in seen(scene, {"least piece": 90})


@pytest.mark.parametrize(
    ("tiles", "cut", "variance"),
    # Six tiles from the start, and a pitch good to 2 (one standard deviation of 1) over so many: where the wall is read
    # again no more tiles count than that; cut ahead, all six do. (4/4)^2, (6/8)^2, (6/4)^2.
    [(4, "on the day", 1.0), (8, "on the day", 0.5625), (4, "ahead", 2.25)],
)
def test_the_pitch_is_off_by_the_tiles_that_count(tiles: int, cut: str, variance: float) -> None:
    one = job(hole(x=1.5 + 6 * 300 + 148.5, y=98.5), edges={}, top={"cut": cut})
    across = []
    for pitch in (0, 2):
        limits = {"pitch tiles": tiles, "pitch out": pitch}
        (sure,) = make_plan(build_job({**one, "limits": limits})).sure
        across.append(sure.doubt.xx)
    assert across[1] - across[0] == pytest.approx(variance)
