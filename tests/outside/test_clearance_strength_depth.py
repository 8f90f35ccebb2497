"""Room, bridges, covers, beds and depths against what standards, makers' guides and trade sources say.

No paid standard was read whole: a figure from one stands with its clause where that is known, and with "from memory"
where it is. What has no published source says so. The figures go in as jobs and come out as what is cut and said.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

import pytest
from shapely.geometry import Point

from cutmarks.checks.leaning import hole_needed
from cutmarks.fittings import catalogue, find
from cutmarks.geometry.shapes import Circle
from cutmarks.job import build_job, parse_job
from cutmarks.job.tools import Tools
from cutmarks.openings.sizing import best_hole
from cutmarks.plan import Plan, make_plan
from cutmarks.units import Unit
from tests.checks.jobs import EDGES, hole, plan, said

INCH = 25.4
CHART = (7 / 8, 9 / 8, 11 / 8, 21 / 8, 15 / 4)
"""Holes of a US chart of clearances for pipes through framing (pipe + 1/4 in), in: sizes of cores, too."""


@pytest.mark.parametrize(("pipe", "hole_in"), list(zip((0.625, 0.875, 1.125, 2.375, 3.5), CHART, strict=True)))
def test_of_the_holes_of_a_us_chart_each_pipe_gets_its_own(pipe: float, hole_in: float) -> None:
    # A chart for framing, since none for tile was found. (Its hole for 1.660, 1-7/8, leaves 7/64 in and not 1/8.)
    job = f"""
job: chart
tiles: {{slab: {{size: 597 x 597, measured: yes}}}}
surfaces:
  - name: wall
    kind: wall
    lines: {{V: "plumb, middle", B: "level, batten"}}
    areas: [{{name: field, tile: slab, joint: 3, start: {{across: joint on V, up: sits on B}}}}]
    holes:
      - {{name: pipe, what: pipe, diameter: {pipe * INCH:.4f}, across: centre 300 right of V, up: centre 300 above B,
         cover: none, end: comes off}}
"""
    (made,) = make_plan(parse_job(job, tools=Tools(cores=tuple(round(size * INCH, 4) for size in CHART)))).openings
    assert isinstance(made.shape, Circle)
    assert made.shape.d / INCH == pytest.approx(hole_in, abs=1e-4)


@pytest.mark.parametrize(("core", "least"), [(35.0, 10.0), (28.0, 6.5), (44.0, 7.5)])
def test_a_hole_may_be_off_until_it_meets_the_pipe_or_shows(core: float, least: float) -> None:
    # Common practice, no published source, for the lap of 3. Discs of shapely: the hole, moved by a little less, still
    # has the pipe in it and lies under its cover with its lap; moved by a little more, it fails one of the two.
    made = plan(hole(what="pipe", diameter=15, opening=core, cover=65))
    assert made.openings[0].you_may_be == pytest.approx(least)
    pipe, cover = Point(0, 0).buffer(7.5, quad_segs=720), Point(0, 0).buffer(32.5, quad_segs=720)
    for off, holds in ((least - 0.01, True), (least + 0.01, False)):
        cut = Point(off, 0).buffer(core / 2, quad_segs=720)
        assert (cut.buffer(1e-3).covers(pipe) and cover.buffer(1e-3).covers(cut.buffer(3.0, quad_segs=720))) == holds


def test_the_best_hole_is_found_by_trying_them_all() -> None:
    # Which hole round a 15 pipe under a 65 cover may be off the most, a lap of 3 kept: tried in steps of 0.01. To one
    # side the pipe's own side stands in the way, to the other the cover's rim; the least of both is what a hole may be.
    tried = [15.0 + step / 100 for step in range(5000)]
    most = max(tried, key=lambda d: min(d / 2 - 7.5, 32.5 - 3.0 - d / 2))
    assert best_hole(15.0, 65.0) == pytest.approx(most, abs=0.01)


@pytest.mark.parametrize(("size", "cover", "lap"), [("72 x 72", "86 x 86", 4.0), ("133 x 72", "146 x 86", 3.5)])
def test_boxes_under_their_plates(size: str, cover: str, lap: float) -> None:
    # UK trade sizes (BS 1363 / BS 5733 plates, read as trade sizes; boxes: measure): a 72 box with 3 all round is 78,
    # under an 86 plate it laps (86 - 78) / 2 = 4; 133 and 6 under 146 laps 3.5. Both hold with all 2.3 off, so neither
    # is spoken of; a plate that laps by half a millimetre is.
    made = plan(hole("socket", what="box", size=size, cover=cover, play=3))
    (cut,) = [cut for piece in made.pieces for cut in piece.cuts]
    assert cut.opening.cover is not None
    box = cut.opening.ring.bounds
    assert min(cut.opening.cover.w - box.width, cut.opening.cover.h - box.height) / 2 == pytest.approx(lap)
    assert not said(made, "cover laps little")
    assert not said(made, "cover may not hide it")
    wide, high = (float(side) - 2 * (lap - 0.5) for side in cover.split(" x "))
    small = plan(hole("socket", what="box", size=size, cover=f"{wide:g} x {high:g}", play=3))
    assert said(small, "cover laps little")


def test_the_screw_centres_fit_in_their_plates() -> None:
    # BS 4662, from memory: 60.3 and 120.6 between the screws, whose heads lie inside plates of 86 and 146.
    plates = {one.label: one for one in catalogue() if one.kind == "plate" and one.system == "uk"}
    assert [plates["1 gang plate"].centres, plates["2 gang plate"].centres] == [60.3, 120.6]
    assert [plates["1 gang plate"].w, plates["2 gang plate"].w] == [86.0, 146.0]


def test_us_plates_are_as_wide_as_ansi_nema_wd_6_prints_them() -> None:
    # ANSI/NEMA WD 6, inches as printed, one to ten gangs. (One page prints 4-1/2 for two: the step is 1-13/16.)
    printed = (2 + 3 / 4, 4 + 9 / 16, 6 + 3 / 8, 8 + 3 / 16, 10, 11 + 13 / 16, 13 + 5 / 8, 15 + 7 / 16, 17 + 1 / 4)
    widths = [find(f"{n} gang plate", "us", Unit.INCH) for n in range(1, 11)]
    found = [one.w for one in widths if one is not None and one.w is not None]
    assert found == pytest.approx([w * INCH for w in (*printed, 19 + 1 / 16)])


def valve(tile: Mapping[str, object], depth: str, deep: str) -> Plan:
    """A valve set `depth`, whose guide wants it `deep`, on a wall of such tiles."""
    keys = {"what": "valve body", "size": "90 x 90", "cover": "150 x 150", "depth range": deep}
    return plan(hole("valve", depth=depth, **keys), tile=tile)


DEPTHS = ("too deep", "too far out", "depth is tight")


@pytest.mark.parametrize(("notch", "bed"), [(3 / 8, 3 / 16), (1 / 4, 1 / 8)])
def test_a_bed_is_half_of_the_notch(notch: float, bed: float) -> None:
    # Trowel makers' guides: a 3/8 in notch leaves 3/16 in, a 1/4 in notch flattened 1/8 in. The valve is 40 behind the
    # board and the tile is 8: 48 and the bed lie inside a range that ends a tenth over them, and not one a tenth under.
    total = 48.0 + bed * INCH
    tile = {"thickness": 8, "notch": f"{notch * INCH:.4f}"}
    assert not said(valve(tile, "40 behind the board", f"30 to {total + 0.1:.3f}"), "too deep")
    assert said(valve(tile, "40 behind the board", f"30 to {total - 0.1:.3f}"), "too deep")


def test_the_build_up_of_a_valve() -> None:
    # A US guide of a concealed valve: 2-3/8 +- 1/2 in (60 +- 13 mm) from the pipe's centre to the finished wall. A
    # valve 47 behind a board on which 3/16 in of bed and a 5/16 in tile come: 47 + 4.7625 + 7.9375 = 59.7, in its
    # middle; with 62 behind the board it is 74.7, 1.7 too deep; 33 behind it 45.7, 1.3 too far out.
    tile = {"thickness": f"{5 / 16 * INCH:.4f}", "notch": f"{3 / 8 * INCH:.4f}"}
    found = {deep: said_of_depth(valve(tile, f"{deep} behind the board", "47 to 73")) for deep in (47, 62, 33)}
    assert found == {47: {}, 62: {"too deep": 74.7}, 33: {"too far out": 45.7}}


def said_of_depth(made: Plan) -> dict[str, float | None]:
    return {one.rule: round(one.value, 3) for one in made.findings if one.rule in DEPTHS and one.value is not None}


def test_a_box_guide_with_ten_of_float() -> None:
    # A European box guide: 58 to 68 deep. 50 behind the board with 4 of bed and 9 of tile is 63; with 15 of tile 69.
    assert said_of_depth(valve({"thickness": 9, "notch": 8}, "50 behind the board", "58 to 68")) == {}
    assert said_of_depth(valve({"thickness": 15, "notch": 8}, "50 behind the board", "58 to 68")) == {"too deep": 69.0}


def test_a_lean_of_five_degrees_read_eighty_out() -> None:
    # By a table of tangents, tan 5 degrees = 0.0875: read 80 mm out, a pipe's middle is 7.0 off where it meets the
    # wall. It leaves a 10 tile 0.875 further along, as an ellipse 22 / cos 5 degrees = 22 / 0.99619 = 22.084 long.
    slope = math.tan(math.radians(5.0))
    assert hole_needed(0.0, slope, 80.0) == pytest.approx(7.0, abs=0.01)
    assert hole_needed(22.0, slope, 10.0) == pytest.approx(22.084 + 0.875, abs=0.001)


@pytest.mark.parametrize(("side", "is_much"), [(3.4, False), (3.5, True)])
def test_what_may_be_taken_out_of_a_tile(side: float, is_much: bool) -> None:
    # Tool makers' guides: 10 to 12 in2 taken out may exceed what a tile bears. 3.4 in square are 11.56 in2, 3.5 are
    # 12.25.
    made = plan(hole(what="box", size=f"{side * INCH:.3f} x {side * INCH:.3f}", play=0, cover="150 x 150"))
    assert bool(said(made, "much cut out")) == is_much


LONG = {**EDGES, "right": {"at": "3000 right of V", "true": "plumb"}, "top": {"at": "3000 above B", "true": "level"}}


@pytest.mark.parametrize(
    ("wide", "beside", "level"),
    [(1600, 69, "stop"), (1600, 75, "warn"), (1600, 81, None), (1210, 75, "warn"), (1200, 75, None)],
)
def test_beside_a_hole_in_a_large_panel_makers_want_seventy_to_eighty(
    wide: int, beside: float, level: str | None
) -> None:
    # Panel makers' guidelines: at least 70 to 80 from a hole to an edge; no fixed figure was found. What is a panel is
    # taken from BS 5385-1:2018, whose least grout widths go up to 1200 and set larger ones apart (clause not seen).
    riser = hole(x=1.5 + beside + 20.0, y=300.0, opening=40, cover=80)
    made = plan(riser, tile={"size": f"{wide} x 600"}, edges=LONG)
    assert [one.level for one in said(made, "thin bridge")] == ([] if level is None else [level])


@pytest.mark.parametrize(("gap", "high"), [({}, 142.0), ({"gap": 6}, 141.0), ({"gap": "6.35"}, 140.65)])
def test_a_movement_joint_over_a_floor_is_what_was_written(gap: Mapping[str, object], high: float) -> None:
    # TCNA EJ171: 1/4 in (6.35) inside, or 1/8 where joints are closer. BS 5385-3:2007 cl. 6.8: 6 at least (superseded
    # by the editions of 2014 and 2024, whose clauses were not seen). Such a joint is written; where none is, 5 is left:
    # common practice, no published source. Under a batten, with a joint of 3 below it, what goes down to a floor 150
    # lower is 150 - 3 less the gap.
    job = {
        "job": "floor",
        "tiles": {"rib": {"size": "297 x 197", "measured": "yes"}},
        "surfaces": [
            {
                "name": "wall",
                "kind": "wall",
                "lines": {"V": "plumb, middle", "B": "level, top of the batten"},
                "edges": {
                    **EDGES,
                    "bottom": {"at": "150 below B", "true": "level", "what": "floor", "still to come": 0, **gap},
                },
                "areas": [
                    {"name": "field", "tile": "rib", "joint": 3, "start": {"across": "joint on V", "up": "sits on B"}}
                ],
            }
        ],
    }
    assert high in {round(piece.outline.bounds.height, 6) for piece in make_plan(build_job(job)).pieces}
