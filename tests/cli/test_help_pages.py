"""What the pages of help say is taken as they say it: each phrase of a page is read, in the job that the page means."""

from __future__ import annotations

import pytest

from cutmarks.job import build_job, parse_bond, parse_reading
from cutmarks.job.laying import parse_start, split_start
from cutmarks.job.words import Setting
from cutmarks.plan import make_plan
from cutmarks.sides import Side
from cutmarks.units import Unit

WALL = Setting(
    lines={"V": "x", "B": "y"},
    holes={"hot": "hot", "valve": "valve"},
    areas={"splash": "splash"},
    points={},
    line_words={"V": "middle of the sink", "B": "top of the batten, 1000 above finished floor"},
    edge_words={Side.RIGHT: "door frame", Side.BOTTOM: "worktop"},
)
ACROSS = (
    "67 to 83 left of V",
    "left of V, 67 to 83",
    "67 & 83 left of V",
    "22 L / 51 R of V",
    "near edge 67, far edge 83, left of V",
    "centre 75 left of V",
    "near 67 left of V",
    "right side 12 right of V",
    "near side 67 left of V, 15 wide",
    "c/l 412 right of V, 22 pipe",
    "right edge flush with V, 40 wide",
    "on V",
    "dead on the plumb",
    "right side hard up to the door frame",
    "167 to 183 left of V, burnt 100",
    "277 in from right there",
    "355 to 428 from the right corner",
    "69 to 84 right of splash 3-6",
    "centre 150 left of hot",
)
UP = (
    "underside 412, top 485 above B",
    "32 below to 41 above B",
    "412 above B to the underside",
    "level with hot",
    "same height as hot",
    "28 c to c below the valve",
    "in course 4, 98 up",
)
STARTS = (
    "joint on V, sits on B",
    "whole tile centred on V, sat on the batten",
    "left edge of first tile 12 right of V, bottom edge on B",
    "middle on V and B",
)
BONDS = (
    "stack",
    "straight",
    "stacked",
    "half",
    "brick",
    "running",
    "stretcher",
    "broken",
    "half lap",
    "third right",
    "quarter left",
    "1/3 offset right",
    "two fifths left",
    "200 right",
)


@pytest.fixture
def page(run):
    def text(name):
        return " ".join(run("help", name).stdout.split())

    return text


@pytest.mark.parametrize(("axis", "phrases"), [("across", ACROSS), ("up", UP)])
def test_each_position_of_the_page_is_taken(page, axis, phrases):
    said = page("positions")
    for phrase in phrases:
        assert phrase in said
        assert parse_reading(phrase, axis, WALL).text == phrase


@pytest.mark.parametrize("phrase", STARTS)
def test_each_start_of_the_page_is_taken(page, phrase):
    across, up = split_start(phrase, WALL)
    assert phrase in page("laying")
    assert (parse_start(across, "across", WALL).at.start, parse_start(up, "up", WALL).at.start) != (None, None)


@pytest.mark.parametrize("phrase", BONDS)
def test_each_bond_of_the_page_is_taken(page, phrase):
    assert phrase in page("laying")
    assert parse_bond(phrase, Unit.MM).words == phrase


def floor(**more):
    return {
        "job": "Mill Loft",
        "tiles": {"flag": {"size": "597 x 597", "measured": "yes"}},
        "surfaces": [
            {
                "name": "hall",
                "kind": "floor",
                "lines": {"C": "across, middle of the doorway", "D": "along, threshold bar"},
                "edges": {
                    "left": {"at": "1310 left of C", "true": "square"},
                    "right": {"at": "1290 right of C", "true": "square"},
                    "top": {"at": "3105 from D", "true": "level"},
                    "bottom": {
                        "steps": [
                            {"at": "4 from D", "until": "381 left of C"},
                            {"at": "110 short of D", "until": "381 right of C"},
                            {"at": "4 from D"},
                        ]
                    },
                },
                "areas": [
                    {
                        "name": "floor",
                        "tile": "flag",
                        "joint": 3,
                        "start": {"across": "middle on C", "in": "sits on 4 from D"},
                    }
                ],
                "holes": [
                    {"name": "riser", "what": "15 copper", "across": "centre 340 left of C", "in": "centre 300 from D"}
                ],
                **more,
            }
        ],
    }


def test_the_doorway_of_the_page_is_ground_that_is_tiled():
    """The way in is as wide as 381 each side of C and goes 110 short of D; beside it the floor begins at D.

    Tile lies there: the course below the start begins at 4 from D less a joint, 1, and goes down into the doorway.
    """
    plan = make_plan(build_job(floor()))
    lowest = min(piece.piece.outline.moved(piece.piece.tile_at).bounds.min_y for piece in plan.pieces)
    assert plan.surfaces[0].setout.up == "away from D"
    assert -110 <= lowest < 0


def test_nothing_is_drilled_in_a_strip_of_the_page(page):
    strip = {"across": "300 to 380 left of C", "in": "0 to 3105 from D", "why": "heating pipe"}
    assert "do not drill: [{across: 300 to 380 left of C, in: 0 to 3105 from D, why: heating pipe}]" in page("floors")
    plan = make_plan(build_job(floor(**{"do not drill": [strip]})))
    told = [finding for finding in plan.findings if "riser" in finding.about and finding.level == "stop"]
    assert [finding for finding in told if "strip" in finding.text or "heating pipe" in finding.text]
    assert not [finding for finding in make_plan(build_job(floor())).findings if "heating pipe" in finding.text]


WALL_ENDS = {"left": "1200 left of V", "right": "1500 right of V", "bottom": "20 below B", "top": "2400 above B"}


def said_wall(**more):
    """A wall on which what the page of one line says is read."""
    lines = {"V": "plumb, middle of the basin", "B": "level, top of the batten"}
    return build_job(
        {"job": "Mill Loft", "surfaces": [{"name": "wall", "kind": "wall", "lines": lines, "edges": WALL_ENDS, **more}]}
    ).surfaces[0]


def test_each_hole_of_the_page_of_one_line_is_taken(run):
    """Each line of the page that is said of a hole, alone; two in a line are two holes."""
    said = [line.strip()[2:] for line in run("help", "said").stdout.splitlines() if line.startswith("  - ")]
    assert len(said) == 8
    counts = [len(said_wall(holes=[one]).holes) for one in said]
    assert counts == [1, 1, 2, 2, 2, 2, 2, 2]


def test_each_edge_of_the_page_of_one_line_is_taken(run):
    """Each of them alone, those beside each other on a line too: how many readings it makes."""
    lines = [line.strip().partition(": ") for line in run("help", "said").stdout.splitlines() if line.startswith("  ")]
    said = [
        (side, one.partition(": ")[2] or one)
        for side, colon, held in lines
        if colon and side in WALL_ENDS
        for one in held.split(" | ")
    ]
    assert len(said) == 6
    read = [(side, said_wall(edges={**WALL_ENDS, side: one}).edges) for side, one in said]
    counts = [len(edges[next(key for key in edges if key == side)].readings) for side, edges in read]
    assert counts == [2, 2, 1, 2, 2, 2]
