"""Setting out, from the job file to the end pieces, against published rules and figures."""

from __future__ import annotations

from fractions import Fraction

import pytest

from cutmarks.job import parse_job
from cutmarks.plan import Plan, make_plan

CASES = [
    # wall, tile, joint, end gap, start: the two equal end pieces. The model W = 2g + 2c + k t + (k + 1) j, solved for c
    # with k = floor(n) - 1 whole tiles, n = (W - 2g) / (t + j); k even puts a joint on the centre, k odd a tile.
    (2400, 300, 3, 0, "joint", 289.5),
    (2400, 300, 3, 3, "joint", 286.5),
    (2400, 300, 3, 5, "joint", 284.5),
    (2400, 600, 3, 0, "joint", 595.5),
    (1800, 200, 2, 0, "middle", 192.0),
    (3000, 450, 3, 5, "middle", 361.0),
    (2400, 297, 3, 0, "middle", 148.5),
    # The other way of each: the smaller pieces that the rule avoids.
    (2400, 300, 3, 0, "middle", 138.0),
    (2400, 600, 3, 0, "middle", 294.0),
    (1800, 200, 2, 0, "joint", 91.0),
    (3000, 450, 3, 5, "joint", 134.5),
]


def wall(width: float, tile: float, joint: float, gap: float, start: str) -> Plan:
    half = Fraction(width) / 2
    return make_plan(
        parse_job(
            f"""
job: wall
tiles: {{t: {{size: {tile} x {tile}, measured: yes}}}}
surfaces:
  - name: wall
    kind: wall
    lines: {{V: "plumb, middle", B: "level, batten"}}
    edges:
      left: {{at: {float(half)} left of V, true: plumb, gap: {gap}}}
      right: {{at: {float(half)} right of V, true: plumb, gap: {gap}}}
      bottom: {{at: 0 below B, true: level, what: worktop, gap: 0}}
      top: {{at: {tile} above B, true: level, gap: 0}}
    areas: [{{name: field, tile: t, joint: {joint}, start: {{across: {start} on V, up: sits on B}}}}]
"""
        )
    )


def ends(plan: Plan) -> list[float]:
    return [piece.outline.bounds.width for piece in plan.pieces]


@pytest.mark.parametrize(("width", "tile", "joint", "gap", "start", "end"), CASES)
def test_two_equal_cuts(width: float, tile: float, joint: float, gap: float, start: str, end: float) -> None:
    # The model is worked out by hand (see CASES); that the bigger cuts come by joint or tile on the centre is the
    # parity rule that tilers publish: n = (W - 2g) / (t + j), floor odd: centre a joint; even: centre a tile.
    plan = wall(width, tile, joint, gap, start)
    assert ends(plan) == [pytest.approx(end, abs=1e-9)] * 2
    whole = plan.surfaces[0].areas[0].counts.whole
    assert whole is not None
    assert 2 * gap + 2 * end + whole * tile + (whole + 1) * joint == pytest.approx(width)


@pytest.mark.parametrize(("width", "tile", "joint", "gap"), [case[:4] for case in CASES[:7]])
def test_the_parity_rule_leaves_at_least_half_a_tile(width: float, tile: float, joint: float, gap: float) -> None:
    # Parity rule as published by tilers. ANSI A108.02: 4.3.1 centre and balance the areas of tile, 4.3.2 usually no cut
    # smaller than half size.
    n = Fraction(width - 2 * gap) / Fraction(tile + joint)
    start = "joint" if int(n) % 2 else "middle"
    assert min(ends(wall(width, tile, joint, gap, start)), default=tile) >= tile / 2


def test_one_sided_start_leaves_what_the_sum_says() -> None:
    # Started with a whole tile at one end: 7 tiles and 279 (2400, 300, 3, no gap): 2400 - 7 x 303 = 279.
    plan = make_plan(
        parse_job(
            """
job: wall
tiles: {t: {size: 300 x 300, measured: yes}}
surfaces:
  - name: wall
    kind: wall
    lines: {V: "plumb, left end", B: "level, batten"}
    edges:
      left: {at: 0 left of V, true: plumb, gap: 0}
      right: {at: 2400 right of V, true: plumb, gap: 0}
      bottom: {at: 0 below B, true: level, what: worktop, gap: 0}
      top: {at: 300 above B, true: level, gap: 0}
    areas: [{name: field, tile: t, joint: 3, start: {across: left on V, up: sits on B}}]
"""
        )
    )
    assert ends(plan) == [pytest.approx(279)]
    assert plan.surfaces[0].areas[0].counts.whole == 7


@pytest.mark.parametrize(
    ("ends_now", "tile", "whole", "start", "end"),
    [((1.75, 1.25), 11.75, 4, "joint", 7.375), ((24.0, 1.5), 24.0, 1, "middle", 12.75)],
)
def test_balanced_cuts_of_two_published_examples(
    ends_now: tuple[float, float], tile: float, whole: int, start: str, end: float
) -> None:
    # Tile tips of the Ceramic Tile Education Foundation on ANSI A108.02 4.3.1 and 4.3.2, inches, joints left aside: two
    # slivers and one whole tile halved, 1-3/4 + 1-1/4 + 11-3/4 = 14-3/4, so 7-3/8; 24 + 1-1/2 = 25-1/2, so 12-3/4.
    width = 25.4 * (end * 2 + whole * tile)
    assert width / 25.4 == pytest.approx(sum(ends_now) + (whole if ends_now[0] == tile else whole + 1) * tile)
    assert [one / 25.4 for one in ends(wall(width, 25.4 * tile, 0, 0, start))] == [pytest.approx(end)] * 2


def test_half_tile_rule_of_the_navy_course() -> None:
    # US Navy training course 14044, p 7-23: end = (wall - n x tile + tile) / 2, joints left aside. Wall 90 in, tile
    # 4 1/4 in: 21 whole tiles fit, the ends are (0.75 + 4.25) / 2 = 2.5 in, with 20 whole tiles.
    plan = make_plan(
        parse_job(
            """
job: wall
units: in
tiles: {t: {size: 4 1/4 x 4 1/4, measured: yes}}
surfaces:
  - name: wall
    kind: wall
    lines: {V: "plumb, middle", B: "level, ledger"}
    edges:
      left: {at: 45 left of V, true: plumb, gap: 0}
      right: {at: 45 right of V, true: plumb, gap: 0}
      bottom: {at: 0 below B, true: level, what: countertop, gap: 0}
      top: {at: 4 1/4 above B, true: level, gap: 0}
    areas: [{name: field, tile: t, joint: 0 in, start: {across: joint on V, up: sits on B}}]
"""
        )
    )
    assert [end / 25.4 for end in ends(plan)] == [pytest.approx(2.5)] * 2
    assert plan.surfaces[0].areas[0].counts.whole == 20


@pytest.mark.parametrize(("tile", "joint", "module"), [(597, 3, 600), (296, 4, 300), (97, 3, 100), (197, 3, 200)])
def test_the_module_is_work_size_and_joint(tile: float, joint: float, module: float) -> None:
    # ISO 13006 / EN 14411: coordinating size = work size + joint.
    grid = wall(2400, tile, joint, 0, "joint").surfaces[0].areas[0].grid
    assert (grid.pitch_u, grid.pitch_v) == (module, module)


def test_a_long_tile_offset_by_half_is_noted() -> None:
    # ANSI A108.02 4.3.8.2: over 15 in (381 mm) at most 33 % offset.
    def noted(size: str, bond: str) -> list[float | None]:
        plan = make_plan(
            parse_job(
                f"""
job: wall
tiles: {{t: {{size: {size}, measured: yes}}}}
surfaces:
  - name: wall
    kind: wall
    lines: {{V: "plumb, middle", B: "level, batten"}}
    areas: [{{name: field, tile: t, joint: 3, bond: {bond}, from: B, start: {{across: joint on V, up: sits on B}}}}]
"""
            )
        )
        return [finding.value for finding in plan.findings if finding.rule == "long offset"]

    assert noted("597 x 297", "half") == [pytest.approx(50)]
    assert noted("597 x 297", "third right stepped") == []
    assert noted("380 x 190", "half") == []
