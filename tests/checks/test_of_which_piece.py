"""Of which piece a finding is: a hole that crosses a joint is weak in one tile and not in the next."""

from __future__ import annotations

import pytest

from cutmarks.desk.why import why_parts
from cutmarks.job import build_job
from cutmarks.plan import Plan, make_plan
from cutmarks.saying.findings import findings_of, to_check, waiting_for


def job(size: str = "100 x 100", **hole: object):
    # The start tile's left edge is on V: it lies from 0 to 100, the next from 103 on.
    thing = {"name": "pipe", "what": "tail", "diameter": 54, "opening": 60, "cover": 90, "end": "comes off"}
    return build_job({
        "job": "Quay Cottage",
        "tiles": {"chip": {"size": size, "measured": "yes"}},
        "surfaces": [
            {
                "name": "wall",
                "kind": "wall",
                "lines": {"V": "plumb, edge of the sink", "B": "level, worktop"},
                "edges": {
                    "left": {"at": "3 left of V", "true": "plumb", "what": "corner", "still to come": 0},
                    "bottom": {"at": "3 below B", "true": "level", "what": "worktop", "still to come": 0},
                },
                "areas": [{"name": "splash", "tile": "chip", "joint": 3, "start": "left on V, sits on B"}],
                "holes": [{**thing, "across": "centre 75 right of V", "up": "centre 52 above B", **hole}],
            }
        ],
    })  # fmt: skip


def by_name(plan: Plan):
    return {piece.name: piece for piece in plan.pieces}


def test_a_thin_bridge_is_of_the_piece_that_it_is_in_alone() -> None:
    # 60 about (75, 52): from 22 to 82 up in the first tile, which leaves 22 and 18, under a quarter of 100. In the next
    # tile it is 28 off the middle: half a chord of sqrt(30 x 30 - 28 x 28) = 10.8, which leaves 41 and 37.
    plan = make_plan(job())
    (thin,) = [one for one in plan.findings if one.rule == "thin bridge"]
    assert "splash 1-1" in thin.about
    assert "splash 1-2" not in thin.about
    pieces = by_name(plan)
    assert "thin bridge" in to_check(plan, pieces["splash 1-1"])
    assert "thin bridge" not in to_check(plan, pieces["splash 1-2"])
    assert thin not in findings_of(plan, pieces["splash 1-2"])


def test_what_stops_one_piece_of_a_hole_holds_up_the_others() -> None:
    # 11 about the top: under an eighth of 100, which stops. The hole has to move, and with it the cut in the next tile.
    plan = make_plan(job(up="centre 59 above B"))
    (stop,) = [one for one in plan.findings if one.rule == "thin bridge"]
    assert stop.level == "stop"
    assert all(stop in waiting_for(plan, piece) for piece in by_name(plan).values() if piece.cuts)


def test_what_is_said_of_the_hole_itself_is_said_of_all_its_pieces() -> None:
    plan = make_plan(job(cover=62))
    (bare,) = [one for one in plan.findings if one.rule == "cover laps little"]
    assert bare.about == ("pipe",)
    assert all(bare in findings_of(plan, piece) for piece in by_name(plan).values() if piece.cuts)


@pytest.mark.parametrize(("size", "said"), [("98 x 98", "24½"), ("100 x 100", "25")])
def test_the_figure_on_the_page_is_the_one_among_the_limits(size: str, said: str) -> None:
    # A quarter of the side, which is less than 30.
    read = job(size)
    rows = {row.key: row for part in why_parts(read) for row in part.rows}
    assert rows["thin bridge"].what.endswith("bridge part may be less")
    assert rows["bridge part"].what.endswith(f"; here {said} on chip")
    (thin,) = [one for one in make_plan(read).findings if one.rule == "thin bridge"]
    assert f"(under {said} it may crack)" in thin.text
    assert "a quarter of the tile's side" in thin.source


def test_of_a_tile_that_is_large_enough_nothing_is_added() -> None:
    rows = {row.key: row for part in why_parts(job("300 x 300")) for row in part.rows}
    assert "here" not in rows["bridge part"].what
