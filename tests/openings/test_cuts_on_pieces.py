"""What an opening does to the pieces that it meets: kinds, parts, webs, and what to read from the neighbours."""

from __future__ import annotations

import math

import pytest

from cutmarks.geometry.regions import difference
from cutmarks.geometry.rings import Vertex
from cutmarks.geometry.shapes import Outline
from cutmarks.job import parse_job
from cutmarks.openings.cuts import share_of, taken_out
from cutmarks.openings.model import Cut
from cutmarks.plan import Plan, make_plan
from tests.handmade import cut_piece, opening

EDGES = """
    edges:
      left: {at: 303 left of V, true: plumb}
      right: {at: 303 right of V, true: plumb}
      bottom: {at: 3 below B, true: level, what: worktop}
      top: {at: 606 above B, true: level}
    gaps: {left: 1.5, right: 1.5, bottom: 3, top: 4}
"""


def planned(hole: str, *, edges: str = EDGES, areas: str = "") -> Plan:
    areas = areas or "{name: field, tile: t, joint: 3, from: B, start: {across: joint on V, up: sits on B}}"
    job = f"""
job: cuts
tiles: {{t: {{size: 300 x 300, measured: yes}}, s: {{size: 97 x 97, measured: yes}}}}
surfaces:
  - name: wall
    kind: wall
    lines: {{V: "plumb, middle", B: "level, batten"}}
{edges}
    areas: [{areas}]
    holes: [{{name: h, {hole}}}]
"""
    return make_plan(parse_job(job))


def cut_on(plan: Plan, name: str) -> Cut:
    (cut,) = next(piece for piece in plan.pieces if piece.name == name).cuts
    return cut


# Right of V the tiles lie 1.5 to 301.5, left of it -301.5 to -1.5; courses 0 to 300 and 303 to 603.


@pytest.mark.parametrize(
    ("hole", "kinds"),
    [
        ("diameter: 15, opening: 40, across: centre 150 right of V, up: centre 150 above B", {"field 1-2": "hole"}),
        (
            "diameter: 15, opening: 40, across: on V, up: centre 150 above B",
            {"field 1-1": "edge notch", "field 1-2": "edge notch"},
        ),
        # Its lower side on the tile's own lower edge: flush is open.
        ("opening: 40 x 40, across: centre 150 right of V, up: centre 20 above B", {"field 1-2": "edge notch"}),
        (
            "diameter: 15, opening: 80, across: on V, up: centre 301.5 above B",
            dict.fromkeys(("field 1-1", "field 1-2", "field 2-1", "field 2-2"), "corner notch"),
        ),
        # A slot right through the tile parts it: a on the left, b on the right.
        (
            "opening: 20 x 400, across: centre 150 right of V, up: centre 150 above B",
            {"field 1-2a": "part", "field 1-2b": "part", "field 2-2": "edge notch"},
        ),
    ],
)
def test_kinds_of_cut(hole: str, kinds: dict[str, str]) -> None:
    plan = planned(f"what: thing, cover: none, {hole}")
    assert {piece.name: cut.kind for piece in plan.pieces for cut in piece.cuts} == kinds


def test_an_opening_larger_than_a_tile_takes_it_and_it_is_said() -> None:
    # A panel of 302 x 302 about the middle of field 1-2 takes all of it and nothing of another tile. Of the four places
    # one is whole; the two of course 2 (303 to 603) are trimmed by 1 to the top edge at 602; and one is gone.
    plan = planned(
        "what: panel, opening: 302 x 302, cover: none, across: centre 151.5 right of V, up: centre 150 above B"
    )
    assert not [piece for piece in plan.pieces if piece.cuts]
    counts = plan.surfaces[0].areas[0].counts
    assert (counts.whole, counts.cut, counts.gone) == (1, 2, 1)
    said = {finding.rule: finding.about for finding in plan.findings}
    assert said["whole tile taken"] == ("h", "field 1-2")
    assert "on no tile" not in said


def test_an_opening_over_two_tiles_may_take_one_and_notch_the_other() -> None:
    # From 0.5 to 341.5 right of V and -5 to 305 above B: all of field 1-2 (1.5 to 301.5) and 37 of the next, whose left
    # edge is at 304.5; the course above from 303 loses 2.
    wide = EDGES.replace("303 right of V", "606 right of V")
    plan = planned(
        "what: panel, opening: 341 x 310, cover: none, across: centre 171 right of V, up: centre 150 above B",
        edges=wide,
    )
    assert {piece.name for piece in plan.pieces if piece.cuts} == {"field 1-3", "field 2-2", "field 2-3"}
    assert [f.about for f in plan.findings if f.rule == "whole tile taken"] == [("h", "field 1-2")]
    counts = plan.surfaces[0].areas[0].counts
    assert counts.gone == 1


def test_a_tangent_hole_stays_a_hole_and_stops() -> None:
    # Centre 20 from the lower edge, radius 20: it touches and leaves nothing.
    plan = planned(
        "what: pipe, diameter: 15, opening: 40, cover: none, across: centre 150 right of V, up: centre 20 above B"
    )
    cut = cut_on(plan, "field 1-2")
    assert cut.kind == "hole"
    assert cut.web.bottom == pytest.approx(0, abs=1e-6)
    assert "hair bridge" in {finding.rule for finding in plan.findings if finding.level == "stop"}


def test_webs_to_all_sides() -> None:
    # Centre at 148.5, 100 on the tile (150 - 1.5), radius 20.
    cut = cut_on(
        planned(
            "what: pipe, diameter: 15, opening: 40, cover: none, across: centre 150 right of V, up: centre 100 above B"
        ),
        "field 1-2",
    )
    web = cut.web
    assert (web.left, web.right, web.bottom, web.top) == (
        pytest.approx(128.5),
        pytest.approx(131.5),
        pytest.approx(80),
        pytest.approx(180),
    )
    assert web.nearest == pytest.approx(80)


def test_the_first_tile_is_read_from_the_line_and_the_batten() -> None:
    # Pipe 15 at 148.5, 100 on field 1-2, which goes up first: from V 150 - 7.5 = 142.5 and 157.5, from the batten 92.5
    # and 107.5. Its neighbours come later: left, edge at -3, 148.5 - 7.5 + 3 = 144 and 159; above, edge at 303,
    # 303 - 107.5 = 195.5 and 210.5.
    plan = planned("what: 15 copper, cover: 65, across: centre 150 right of V, up: centre 100 above B")
    found = {c.source.name: (c.side, c.near, c.far, c.fixed) for c in cut_on(plan, "field 1-2").wall_checks}
    assert found == {
        "V": ("left", pytest.approx(142.5), pytest.approx(157.5), True),
        "B": ("bottom", pytest.approx(92.5), pytest.approx(107.5), True),
        "field 1-1": ("left", pytest.approx(144), pytest.approx(159), False),
        "field 2-2": ("top", pytest.approx(195.5), pytest.approx(210.5), False),
    }


def test_the_next_tile_is_read_from_the_one_that_is_fixed() -> None:
    # The same pipe mirrored, on field 1-1: from field 1-2, whose edge is 3 from its own: 148.5 - 7.5 + 3 and 159.
    plan = planned("what: 15 copper, cover: 65, across: centre 150 left of V, up: centre 400 above B")
    checks = [c for c in cut_on(plan, "field 2-1").wall_checks if c.fixed]
    found = {c.source.name: (c.side, c.near, c.far) for c in checks}
    # Course 2 begins at 303: 400 - 7.5 - 300 = 92.5 from the course below, its joint of 3 included.
    assert found == {
        "field 2-2": ("right", pytest.approx(144), pytest.approx(159)),
        "field 1-1": ("bottom", pytest.approx(92.5), pytest.approx(107.5)),
    }


def test_no_wall_check_where_the_thing_reaches_the_neighbour() -> None:
    plan = planned("what: stub, diameter: 40, cover: none, across: on V, up: centre 150 above B")
    # 40 across the joint at V: neither V nor the tile beside it gives a figure. The wall's ends at 303 do, 303 - 20.
    found = {c.source.name: (c.near, c.far, c.fixed) for c in cut_on(plan, "field 1-2").wall_checks}
    assert found == {
        "left": (pytest.approx(283), pytest.approx(323), True),
        "B": (pytest.approx(130), pytest.approx(170), True),
        "field 2-2": (pytest.approx(133), pytest.approx(173), False),
    }
    # The next tile, which it comes through too, is marked from the joint, where the cut in the first one shows it.
    assert cut_on(plan, "field 1-1").mark_from == ("right", "bottom")


def test_a_wall_check_over_the_border_of_an_area() -> None:
    # Small tiles up to 297 (three courses of 97 and two joints), the large ones from 300: the edge below lies 3 under.
    areas = (
        "{name: low, tile: s, joint: 3, from: B, to: 297 above B, start: {across: joint on V, up: sits on B}}, "
        "{name: high, tile: t, joint: 3, from: 300 above B, start: {across: joint on V, up: sits on 300 above B}}"
    )
    plan = planned("what: 15 copper, cover: 65, across: centre 150 right of V, up: centre 400 above B", areas=areas)
    below = next(c for c in cut_on(plan, "high 1-2").wall_checks if c.side == "bottom")
    assert below.source.name.startswith("low 3-")
    assert (below.near, below.far) == (pytest.approx(100 - 7.5 + 3), pytest.approx(100 + 7.5 + 3))
    assert below.fixed


@pytest.mark.parametrize(
    ("across", "up", "mark"),
    [
        ("150 right of V", "150 above B", ("left", "bottom")),
        ("150 left of V", "150 above B", ("right", "bottom")),
        ("150 right of V", "150 below B", ("left", "top")),
    ],
)
def test_marked_from_what_is_already_fixed(across: str, up: str, mark: tuple[str, str]) -> None:
    # Work goes away from the start, upward from the batten; what lies under the batten is fixed last.
    areas = "{name: field, tile: t, joint: 3, start: {across: joint on V, up: sits on B}}"
    plan = planned(f"what: 15 copper, cover: 65, across: centre {across}, up: centre {up}", edges="", areas=areas)
    ((cut,),) = [piece.cuts for piece in plan.pieces]
    assert cut.mark_from == mark


@pytest.mark.parametrize("turn", [0.0, 30.0, 45.0])
def test_a_long_outline_seen_on_a_tile_takes_out_of_it_what_the_whole_one_takes(turn: float) -> None:
    # Forty teeth about (0, 0), 190 to 200 off; tiles of 60 x 60 in rows over all of it, each cut by the whole outline
    # by hand in `cut_piece`.
    points = [(math.pi * k / 40, (200.0, 190.0)[k % 2]) for k in range(80)]
    outline = Outline(tuple(Vertex(r * math.cos(at), r * math.sin(at)) for at, r in points))
    kinds = set()
    for column in range(-4, 4):
        for row in range(-4, 4):
            made = cut_piece([opening("saw", outline, 0.0, 0.0)], 60.0, 60.0, at=(60.0 * column, 60.0 * row), turn=turn)
            share = share_of(made.cuts[0].opening, made.piece, made.piece.outline)
            whole = made.cuts[0].share
            if share is None:
                assert whole.area < 1e-3
                continue
            kinds.add(share.kind)
            assert share.share.area == pytest.approx(whole.area, abs=1e-6)
            assert difference(share.share, whole).area < 1e-4
            left = taken_out(made.piece.outline, [share])
            assert left.area == pytest.approx(made.outline.area, abs=1e-6)
            assert difference(left, made.outline).area < 1e-4
    assert len(kinds) > 1
