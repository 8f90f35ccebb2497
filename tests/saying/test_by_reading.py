"""How far a cut moves by adding, worked by hand: webs less what cracks, edges run out over, what does not add."""

from __future__ import annotations

from pathlib import Path

import pytest

from cutmarks import load_job, make_plan
from cutmarks.saying.by_reading import Covers, adds, by_reading, checks_to_read
from cutmarks.sides import Side

JOB = """\
job: by hand
tiles: {{rib: {{size: 248 x 398, measured: yes}}}}
surfaces:
  - name: wall
    kind: wall
    lines: {{V: "plumb, middle", B: "level, top of the batten"}}
    areas:
      - {{name: field, tile: rib, joint: 2, from: B, start: {{across: joint on V, up: sits on B}}}}
    holes:
      - {{{hole}}}
{more}"""
"""Tiles lie 1 to 249, 251 to 499 ... right of V, 0 to 398, 400 to 798 ... above B."""


def cut_of(tmp_path: Path, hole: str, more: str = ""):
    path = tmp_path / "by-hand.yaml"
    path.write_text(JOB.format(hole=hole, more=more), "utf-8")
    plan = make_plan(load_job(path))
    piece = next(one for one in plan.pieces if one.cuts)
    return plan, piece, piece.cuts[0]


def test_a_hole_has_room_up_to_what_cracks(tmp_path):
    # 318 to 333 right of V: its middle 74½ from the left; core 35 reaches from 57 to 92: 57 and 156 of tile beside it.
    # 905 to 920: 112½ up, from 95 to 130: 95 below, 268 above. Under 15 it cracks.
    plan, piece, cut = cut_of(
        tmp_path, "name: hot, what: 15 copper, across: 318 to 333 right of V, up: 905 to 920 above B, cover: 65"
    )
    by = by_reading(plan, piece, cut, Covers(plan))
    assert by.room is not None
    assert dict(by.room.items()) == pytest.approx(dict.fromkeys(("left", "right", "bottom", "top"), 40.0 / 2**0.5))
    # With nothing of it in the way that is as far as is looked at; without a cover that counts too.
    assert min(cut.web.beside) - 15.0 == pytest.approx(42.0)
    assert by.too_far == pytest.approx(5.0)  # half of (35 - 15)/2
    assert [check.side for check in by.checks] == [Side.LEFT, Side.BOTTOM]
    assert by.off == by.moved == (0, 0)


def test_a_cover_stays_on_the_wall(tmp_path):
    # A wall ends at 380 right of V, gap 0: the cover of 65 about 325½ reaches to 358, and has 22 left.
    cut_of(tmp_path, "name: hot, what: 15 copper, across: 318 to 333 right of V, up: 905 to 920 above B, cover: 65")
    path = tmp_path / "narrow.yaml"
    text = (tmp_path / "by-hand.yaml").read_text("utf-8")
    path.write_text(
        text.replace("    areas:", "    edges: {right: {at: 380 right of V, true: plumb, gap: 0}}\n    areas:"), "utf-8"
    )
    plan = make_plan(load_job(path))
    piece = next(one for one in plan.pieces if one.cuts)
    room = by_reading(plan, piece, piece.cuts[0], Covers(plan)).room
    assert room is not None
    assert room[Side.RIGHT] == pytest.approx(22.0 / 2**0.5)  # right and up at once come to no more than 22
    assert room[Side.TOP] == pytest.approx(22.0 / 2**0.5)


def test_what_was_found_already_is_told(tmp_path):
    plan, piece, cut = cut_of(
        tmp_path,
        "name: hot, what: 15 copper, across: 318 to 333 right of V, up: 905 to 920 above B, cover: 65",
        "found:\n  - {piece: field 3-R2, left: 70½ to 85½}\n",
    )
    by = by_reading(plan, piece, cut, Covers(plan))
    assert by.off == by.moved == (3_000_000, 0)  # 69 and 84 were expected: 1.5 off, twice over in millionths


def test_a_notch_goes_on_running_out(tmp_path):
    # Its middle 7½ left of the tile's right edge at 499: core 35 runs out over it by 10, and may move left by less.
    plan, piece, cut = cut_of(
        tmp_path, "name: hot, what: 15 copper, across: 484 to 499 right of V, up: 905 to 920 above B, cover: 65"
    )
    assert cut.kind == "edge notch"
    by = by_reading(plan, piece, cut, Covers(plan))
    assert by.room is not None
    assert by.room[Side.LEFT] == pytest.approx(10.0, abs=1e-5)
    assert by.room[Side.RIGHT] == pytest.approx(7.5, abs=1e-5)  # then its middle is off the tile


def test_a_bite_with_its_middle_off_the_tile_moves_along_its_edge_alone(tmp_path):
    # Its middle 6 right of the tile's right edge at 499, core 35: it bites 11½ deep, 2 x sqrt(17.5² - 6²) = 32.9 long.
    # Along the edge its ends go on by as much as it does; further right it would bite less deep, and less long.
    plan, piece, cut = cut_of(
        tmp_path, "name: hot, what: 15 copper, across: 497.5 to 512.5 right of V, up: 905 to 920 above B, cover: 65"
    )
    assert (cut.kind, cut.from_edges[Side.RIGHT]) == ("edge notch", pytest.approx(-6.0))
    room = by_reading(plan, piece, cut, Covers(plan)).room
    assert room is not None
    assert (room[Side.LEFT], room[Side.RIGHT]) == (0.0, 0.0)
    assert (room[Side.BOTTOM], room[Side.TOP]) == (pytest.approx(40.0 / 2**0.5), pytest.approx(40.0 / 2**0.5))


@pytest.mark.parametrize(
    ("hole", "why"),
    [
        (
            "name: soil, what: own pipe, diameter: 110, across: 430 to 540 right of V, up: 720 to 830 above B",
            "a quarter circle over a corner",
        ),
        (
            "name: box, what: own box, corners: ['330 right of V, 900 above B', '400 right of V, 910 above B', "
            "'390 right of V, 980 above B', '320 right of V, 970 above B']",
            "a box that leans",
        ),
    ],
)
def test_what_does_not_add_says_so(tmp_path, hole, why):
    plan, piece, cut = cut_of(tmp_path, hole)
    assert not adds(cut), why
    assert by_reading(plan, piece, cut, Covers(plan)).room is None


def test_cut_ahead_nothing_is_read(tmp_path):
    plan, _, cut = cut_of(
        tmp_path,
        "name: hot, what: 15 copper, across: 318 to 333 right of V, up: 905 to 920 above B, cover: 65",
        "cut: ahead\n",
    )
    assert checks_to_read(plan, cut) == ()


def test_two_holes_of_a_tile_share_what_is_between_them(tmp_path):
    # Middles 60 apart, cores of 35: 25 between them. Under 15 it cracks, each may take 5, right and up at once.
    plan, piece, cut = cut_of(
        tmp_path,
        "name: hot, what: 15 copper, across: 318 to 333 right of V, up: 905 to 920 above B, cover: 50, opening: 35}\n"
        "      - {name: cold, what: 15 copper, across: 378 to 393 right of V, up: 905 to 920 above B, cover: 50, "
        "opening: 35",
    )
    assert [one.opening.name for one in piece.cuts] == ["hot", "cold"]
    room = by_reading(plan, piece, cut, Covers(plan)).room
    assert room is not None
    assert dict(room.items()) == pytest.approx(dict.fromkeys(("left", "right", "bottom", "top"), 5.0 / 2**0.5))


def test_a_round_notch_is_as_near_as_where_it_is_widest(tmp_path):
    # Its middle 36 right of the tile's left edge at 251, 8½ over its lower edge at 400: core 35 reaches to 18½ from the
    # left edge, at the height of its middle. Under 15 it cracks.
    plan, piece, cut = cut_of(
        tmp_path, "name: hot, what: 15 copper, across: 279.5 to 294.5 right of V, up: 401 to 416 above B, cover: 65"
    )
    piece = next(one for one in plan.pieces if one.name == "field 2-R2")
    cut = piece.cuts[0]
    assert cut.kind == "edge notch"
    room = by_reading(plan, piece, cut, Covers(plan)).room
    assert room is not None
    assert room[Side.LEFT] == pytest.approx(3.5)


@pytest.mark.parametrize(
    ("up", "kept"),
    [
        ("5 to 20 above B", (-5.0, float("inf"))),  # 5 over the batten: it is read from that until it comes over it
        # 4 of it lie under B, 11 over it: from the floor, until it is 4 higher and over B, or 11 lower and under it.
        ("4 below to 11 above B", (-11.0, 4.0)),
        ("905 to 920 above B", (float("-inf"), float("inf"))),  # from the course below, wherever it is
    ],
)
def test_how_far_a_thing_may_go_and_is_read_from_the_same(tmp_path, up, kept):
    hole = f"name: hot, what: 15 copper, across: 318 to 333 right of V, up: {up}, cover: 65"
    text = JOB.format(hole=hole, more="").replace(
        "    areas:", "    edges: {bottom: {at: 200 below B, true: level, what: floor, still to come: 0}}\n    areas:"
    )
    path = tmp_path / "by-hand.yaml"
    path.write_text(text, "utf-8")
    plan = make_plan(load_job(path))
    piece = next(one for one in plan.pieces if one.cuts and one.name.startswith(("field 1-", "field 3-")))
    by = by_reading(plan, piece, piece.cuts[0], Covers(plan))
    (own,) = (way for check, way in zip(by.checks, by.kept, strict=True) if check.side is Side.BOTTOM)
    assert own == pytest.approx(kept)


@pytest.mark.parametrize(
    ("up", "stays"),
    [
        # The course below ends at 398: the pipe touches it; any nearer to the ceiling it is read from there.
        ("398 to 413 above B", (0.0, float("inf"))),
        ("395.5 to 410.5 above B", (-2.5, float("inf"))),
    ],
)
def test_what_reaches_the_course_below_is_read_from_the_ceiling_until_it_comes_off_it(tmp_path, up, stays):
    path = tmp_path / "reached.yaml"
    hole = f"name: hot, what: 15 copper, across: 318 to 333 right of V, up: {up}, cover: 65"
    edges = "    edges: {top: {at: 1300 above B, true: level, gap: 0}}\n    areas:"
    path.write_text(JOB.format(hole=hole, more="").replace("    areas:", edges), "utf-8")
    plan = make_plan(load_job(path))
    piece = next(one for one in plan.pieces if one.name == "field 2-R2")
    by = by_reading(plan, piece, piece.cuts[0], Covers(plan))
    told = {check.side: kept for check, kept in zip(by.checks, by.kept, strict=True)}
    assert told[Side.TOP] == pytest.approx(stays)
