"""W1 to W7, each figure worked by hand beside it; the program must agree to 0.01 mm."""

from __future__ import annotations

import math
from typing import Any

import pytest

from tests.worked.conftest import Worked
from tests.worked.figures import W3_FOUR

HUNDREDTH = 0.01


def near(value: float) -> Any:
    return pytest.approx(value, abs=HUNDREDTH)


Json = dict[str, Any]


def piece(plan: Json, name: str) -> Json:
    found: Json
    (found,) = [p for p in plan["pieces"] if p["name"] == name]
    return found


def at_place(plan: Json, i: int, j: int) -> Json:
    found: Json
    (found,) = [p for p in plan["pieces"] if p["grid"] == [i, j]]
    return found


def only_cut(found: Json) -> Json:
    cut: Json
    (cut,) = found["cuts"]
    return cut


def bounds(found: Json) -> tuple[float, float, float, float]:
    """Of an outline of straight edges."""
    xs = [v[0] for v in found["outline"][0]]
    ys = [v[1] for v in found["outline"][0]]
    return min(xs), min(ys), max(xs), max(ys)


W1 = """
    job: W1
    tiles: {upright: {size: 248 x 398, measured: yes}}
    surfaces:
      - name: wall
        kind: wall
        lines: {V: "plumb, middle of the sink", B: "level, top of the batten"}
        areas:
          - {name: field, tile: upright, joint: 2, from: B, start: {across: joint on V, up: sits on B}}
        holes:
          - {name: riser, what: 15 copper, across: 318 to 333 right of V, up: 905 to 920 above B}
    """


def test_w1_both_sides_of_a_pipe(worked: Worked) -> None:
    plan = worked(W1)
    cut = only_cut(at_place(plan, 1, 2))
    assert (cut["from_left"], cut["from_bottom"]) == (near(74.5), near(112.5))
    assert (cut["from_right"], cut["from_top"]) == (near(173.5), near(285.5))
    assert cut["mark_from"] == ["left", "bottom"]
    checks = {check["side"]: (check["near"], check["far"]) for check in cut["wall_check"]}
    assert checks["left"] == (near(69), near(84))
    assert checks["bottom"] == (near(107), near(122))
    assert checks["right"] == (near(168), near(183))
    assert checks["top"] == (near(280), near(295))
    assert {check["side"] for check in cut["wall_check"] if check["fixed"]} == {"left", "bottom"}
    assert piece(plan, at_place(plan, 1, 2)["name"])["course"] == 3


W2 = """
    job: W2
    tiles: {flat: {size: 597 x 297, measured: yes}}
    surfaces:
      - name: wall
        kind: wall
        lines: {V: "plumb, middle", B: "level, batten"}
        areas:
          - {name: field, tile: flat, joint: 3, bond: half, from: B, start: {across: middle on V, up: sits on B}}
        holes:
          - name: socket
            what: socket box
            corners:
              - 448 left of V, 1298 above B
              - 377 left of V, 1297 above B
              - 376 left of V, 1370 above B
              - 447 left of V, 1371 above B
            play: 2
            cover: 86 x 86
    """


def test_w2_a_box_that_is_not_level(worked: Worked) -> None:
    plan = worked(W2)
    (hole,) = plan["penetrations"]
    assert hole["at"] == [near(-412), near(1334)]
    assert hole["opening"]["rect"]["w"] == near(76)
    assert hole["opening"]["rect"]["h"] == near(78)
    found = at_place(plan, -1, 4)
    assert found["course"] == 5
    assert found["origin"][0] == near(-898.5)
    cut = only_cut(found)
    sides = cut["sides"]
    assert (sides["left"], sides["right"], sides["bottom"], sides["top"]) == (
        near(448.5),
        near(524.5),
        near(95),
        near(173),
    )
    web = cut["web"]
    assert (web["left"], web["right"], web["bottom"], web["top"]) == (near(448.5), near(72.5), near(95), near(124))
    assert cut["centre"] == [near(486.5), near(134)]
    # A level 86 x 86 plate about the centre: cover left 5, right 5, bottom 4, top 4.
    x, y = cut["centre"]
    assert (sides["left"] - (x - 43), (x + 43) - sides["right"]) == (near(5), near(5))
    assert (sides["bottom"] - (y - 43), (y + 43) - sides["top"]) == (near(4), near(4))


W3 = """
    job: W3
    tiles: {upright: {size: 298 x 598, measured: yes}}
    surfaces:
      - name: wall
        kind: wall
        lines: {V: "plumb, middle", B: "level, batten", J: "level, 1799 above B, joint of courses three and four"}
        areas:
          - {name: field, tile: upright, joint: 2, from: B, start: {across: joint on V, up: joint on J}}
        holes:
          - {name: stub, what: pipe, diameter: 44, across: centre 5 left of V, up: centre 1795 above B, opening: 50}
    """


@pytest.mark.parametrize(
    ("place", "centre", "on_upright", "on_level"),
    [
        ((-1, -1), *W3_FOUR["below left"]),
        ((0, -1), *W3_FOUR["below right"]),
        ((-1, 0), *W3_FOUR["above left"]),
        ((0, 0), *W3_FOUR["above right"]),
    ],
)
def test_w3_a_round_opening_over_four_tiles(
    worked: Worked,
    place: tuple[int, int],
    centre: tuple[float, float],
    on_upright: tuple[float, float],
    on_level: tuple[float, float],
) -> None:
    cut = only_cut(found := at_place(worked(W3), *place))
    assert cut["kind"] == "corner notch"
    assert cut["centre"] == [near(centre[0]), near(centre[1])]
    corners = {(round(x, 2), round(y, 2)) for x, y, _ in found["outline"][0]}
    assert on_upright in corners
    assert on_level in corners
    arcs = [v for v in found["outline"][0] if v[2]]
    assert len(arcs) == 1, "one arc about the opening's own centre, no polygon"
    assert arcs[0][2] < 0, "the notch is walked clockwise"


W4 = """
    job: W4
    units: in
    tiles: {square: {size: 11 13/16 x 11 13/16, measured: yes}}
    surfaces:
      - name: wall
        kind: wall
        lines: {V: "plumb, middle", B: "level, ledger"}
        areas:
          - {name: field, tile: square, joint: 3/16, from: B, start: {across: middle on V, up: sits on B}}
        holes:
          - {name: stub, what: 1/2 copper, across: 8 1/16 to 8 11/16 left of V, up: 15 1/2 to 16 1/8 above B}
    """


def test_w4_inches(worked: Worked) -> None:
    cut = only_cut(found := at_place(worked(W4), -1, 1))
    inch = 25.4
    assert found["course"] == 2
    assert cut["from_left"] == near((9 + 17 / 32) * inch)
    assert cut["from_right"] == near((2 + 9 / 32) * inch)
    assert cut["from_bottom"] == near((3 + 13 / 16) * inch)
    assert cut["from_top"] == near(8 * inch)


W5 = """
    job: W5
    tiles: {square: {size: 448 x 448, measured: yes}}
    surfaces:
      - name: wall
        kind: wall
        lines: {V: "plumb, middle", B: "level, batten"}
        edges:
          left: {at: 1 left of V, what: pier, true: plumb}
          bottom: {at: 5 below B, what: worktop, true: level}
          right: [1020 right of V at B, 1011 right of V at 1800 above B]
          top: {at: 1803 above B, what: ceiling, true: level}
        gaps: {right: 3, top: 3, bottom: 5, left: 2}
        areas:
          - {name: field, tile: square, joint: 2, from: B, start: {across: joint on V, up: sits on B}}
        holes:
          - {name: pipe, what: 15 copper, across: centre 960 right of V, up: centre 200 above B}
    """


def test_w5_an_edge_out_of_true(worked: Worked) -> None:
    found = at_place(worked(W5), 2, 0)
    assert found["sizes"]["bottom"] == near(116.00)
    assert found["sizes"]["top"] == near(113.76)
    assert "left" in found["factory_edges"]
    assert found["cut_edges"] == ["right"]
    cut = only_cut(found)
    assert (cut["from_left"], cut["from_bottom"], cut["from_top"]) == (near(59), near(200), near(248))
    assert cut["from_cut_edges"] == {"right": near(56.00)}
    assert cut["mark_from"] == ["left", "bottom"]


W6 = """
    job: W6
    tiles: {brick: {size: 297 x 197, measured: yes}}
    surfaces:
      - name: wall
        kind: wall
        lines: {V: "plumb, middle", B: "level, batten"}
        edges:
          left: {at: 700 left of V, true: plumb}
          right: {at: 700 right of V, true: plumb}
          bottom: {at: 150 below B, what: floor, true: level, still to come: 0}
          top: {at: 960 above B, what: ceiling, true: level}
        gaps: {left: 3, right: 3, top: 3, bottom: 5}
        windows:
          - {name: window, across: 100 to 500 right of V, up: 350 to 850 above B, gap: 3}
        areas:
          - {name: field, tile: brick, joint: 3, bond: half, start: {across: joint on V, up: sits on B}}
        holes:
          - {name: pipe, what: 15 copper, across: centre 100 right of V, up: centre 60 below B}
    """


def test_w6_names_a_bond_below_the_batten_and_a_window(worked: Worked) -> None:
    plan = worked(W6)

    def box(name: str) -> tuple[float, float, float, float]:
        return bounds(piece(plan, name))

    under_1 = [p for p in plan["pieces"] if p["course"] == -1]
    assert sorted(p["name"] for p in under_1) == [f"field under 1-{number}" for number in (1, 2, 3, 4, 5)]
    assert all(bounds(p)[3] - bounds(p)[1] == near(142) for p in under_1)
    assert [box(f"field under 1-{number}")[2] - box(f"field under 1-{number}")[0] for number in (1, 5)] == [
        near(245.5)
    ] * 2
    assert [box(name)[2] - box(name)[0] for name in ("field 1-1", "field 1-6")] == [near(95.5), near(95.5)]
    course_5 = [p for p in plan["pieces"] if p["course"] == 5]
    assert all(bounds(p)[3] == near(157) for p in course_5)

    assert box("field 2-4") == (near(0), near(0), near(297), near(147))
    assert box("field 3-4") == (near(0), near(0), near(95.5), near(197))
    assert box("field 3-5") == (near(201.5), near(0), near(297), near(197))
    assert piece(plan, "field 3-5")["origin"][0] == near(301.5)
    names = {p["name"] for p in plan["pieces"]}
    assert "field 4-4" not in names
    wide = piece(plan, "field 4-5")
    assert box("field 4-5")[2] - box("field 4-5")[0] == near(194)
    assert not {"left", "right"} & set(wide["factory_edges"])
    assert len(piece(plan, "field 4-3")["outline"][0]) == 4, "trimmed straight"
    for name in ("field 2-3", "field 2-5", "field 5-4", "field 5-5"):
        assert len(piece(plan, name)["outline"][0]) == 6, f"{name} has a corner taken out"

    cut = only_cut(piece(plan, "field under 1-3"))
    assert (cut["from_left"], cut["from_bottom"], cut["from_top"]) == (near(248.5), near(140), near(57))
    assert cut["from_cut_edges"] == {"bottom": near(85)}
    assert plan["counts"]["wall"]["field"]["gone"] == 1


W7 = """
    job: W7
    tiles: {square: {size: 297 x 297, measured: yes}}
    surfaces:
      - name: wall
        kind: wall
        lines: {V: "plumb, middle", B: "level, middle"}
        areas:
          - {name: field, tile: square, joint: 3, turn: 45, start: middle on V and B}
        holes:
          - {name: pipe, what: 15 copper, across: centre 100 right of V, up: centre 50 above B}
    """


def test_w7_a_turned_area(worked: Worked) -> None:
    u, v = 150 / math.sqrt(2), -50 / math.sqrt(2)
    assert (u, v) == (near(106.07), near(-35.36))
    cut = only_cut(at_place(worked(W7), 0, 0))
    assert (cut["from_left"], cut["from_right"]) == (near(254.57), near(42.43))
    assert (cut["from_bottom"], cut["from_top"]) == (near(113.14), near(183.86))
