"""The template for the back: mirrored geometry, readable words, and never to be taken for that of the face."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from cutmarks.geometry.frames import Point
from cutmarks.geometry.shapes import Rect
from cutmarks.job import parse_job
from cutmarks.marks.model import CircleMark, Filled, Role, Stroke, Tone, Words
from cutmarks.plan import make_plan
from cutmarks.registering import error_at, register
from cutmarks.saying.behind import from_behind, registered_behind
from cutmarks.saying.edges import edge_names
from cutmarks.sheets.build import build_sheets
from cutmarks.sides import Side
from tests.handmade import cut_piece, opening, plan_of, w1_piece
from tests.scenes import SCENES
from tests.sheets.special import SPECIAL, wished

JOB = """
    job: A drain
    tiles: {rib: {size: 397 x 247, measured: yes}}
    surfaces:
      - name: wall
        kind: wall
        lines: {V: "plumb, middle of the window", B: "level, top of the batten"}
        areas:
          - {name: upper, tile: rib, joint: 3, from: B, start: {across: joint on V, up: sits on B}}
        holes:
          - {name: drain, what: 42 waste, across: 474 to 516 left of V, up: 336 to 378 above B, cover: 90}
    """


def said(sheet):
    return [mark.text for mark in sheet.marks if isinstance(mark, Words)]


def hole_from_edges(sheet):
    """How far the drawn circle's centre is from the upright and the level line to line up on."""
    (hole,) = [mark for mark in sheet.marks if isinstance(mark, CircleMark) and mark.role is Role.CUT]
    edges = [mark.path for mark in sheet.marks if isinstance(mark, Stroke) and mark.role is Role.TILE_EDGE]
    (upright,) = [path[0].x for path in edges if path[0].x == path[1].x]
    (level,) = [path[0].y for path in edges if path[0].y == path[1].y]
    return hole.centre.x - upright, hole.centre.y - level


def test_the_hole_lies_on_the_other_side_of_the_same_edge():
    face, back = build_sheets(SPECIAL["both_faces"]())
    # Worked example W1: 74.5 from the left edge, 112.5 from the lower one; from behind that edge is on the right.
    assert hole_from_edges(face) == pytest.approx((74.5, 112.5))
    assert hole_from_edges(back) == pytest.approx((-74.5, 112.5))


def test_the_figures_and_the_names_of_edges_are_the_same_on_both():
    face, back = build_sheets(SPECIAL["both_faces"]())
    for words in ("74½", "112½", "(towards V)", "lower edge", "CORE 35", "69", "84"):
        assert words in " ".join(said(face))
        assert words in " ".join(said(back))
    # Right of V its left edge points there, on the wall; turned over like a page that edge lies on the right.
    assert "from the LEFT edge (towards V)" in " ".join(said(face))
    assert "edge on your RIGHT now (towards V)" in " ".join(said(back))
    assert "as you face it: from the fixed tile on the LEFT (towards V)" in " ".join(said(back))
    assert "as you face it:" not in said(face)


def test_a_sheet_for_the_back_says_that_the_core_goes_in_there():
    # A textured tile is marked on its back, and drilled where its sheet lies.
    job = JOB.replace("{size: 397 x 247, measured: yes}", "{size: 397 x 247, measured: yes, face: textured}")
    (behind,), (before,) = (build_sheets(make_plan(parse_job(text))) for text in (job, JOB))
    assert "drill from the BACK" in said(behind)
    assert "drill from the BACK" not in said(before)


@pytest.mark.parametrize("name", ["both_faces", "turned_back", "box_back", "joined_back"])
def test_a_back_sheet_says_so_three_times_and_a_face_sheet_never(name):
    sheets = build_sheets(SPECIAL[name]())
    assert any("_back_" in sheet.file for sheet in sheets)
    for sheet in sheets:
        is_back = "_back_" in sheet.file
        words = said(sheet)
        assert ("BACK" in words) == is_back
        assert ("FACE" in words) == (not is_back)
        assert any("BACK – MIRRORED" in text for text in words) == is_back
        assert (", BACK, " in sheet.title) == is_back
        bands = [mark for mark in sheet.marks if isinstance(mark, Filled) and mark.tone is Tone.BLACK]
        # The band goes right across what shows the tile: 181 on A4.
        assert (
            any(max(v.x for v in m.rings[0].vertices) - min(v.x for v in m.rings[0].vertices) > 180.0 for m in bands)
            == is_back
        )


def test_what_is_read_on_the_wall_is_read_from_the_front():
    words = [text for sheet in build_sheets(SPECIAL["box_back"]()) for text in said(sheet)]
    # Worked example W2 is fixed on the right: its neighbour towards V stays the one to read from.
    assert "from the fixed tile on the RIGHT (towards V)" in " ".join(words)
    assert {"74½", "146½"} <= set(words)


def test_from_behind_and_back_again_is_the_piece():
    piece = SCENES["quarter_of_crossing"]().pieces[0]
    again = from_behind(from_behind(piece))
    assert again.piece.tile_at == piece.piece.tile_at
    assert again.cuts[0].share.bounds == pytest.approx(piece.cuts[0].share.bounds)
    assert again.cuts[0].mark_from == piece.cuts[0].mark_from
    assert again.factory_edges == piece.factory_edges


@pytest.mark.parametrize("x", [560.1, 587.7, 619.3])
def test_a_box_larger_than_the_paper_is_as_far_off_from_behind_as_from_the_face(x):
    piece = cut_piece([opening("hatch", Rect(700.1, 620.3), x, 560.7)], 1197.6, 1198.4, at=(0.0, 0.0))
    (sheet,) = register([piece], "A4")
    behind = from_behind(piece)
    # By the tape to its near side on both axes: 1 + 0.25, and nothing of the paper lies between.
    assert error_at(piece, piece.cuts[0], sheet) == pytest.approx(1.25)
    assert error_at(behind, behind.cuts[0], registered_behind(sheet)) == pytest.approx(1.25)


@pytest.mark.parametrize("name", ["w1", "turned", "box", "raking", "slot", "quarter_of_crossing"])
def test_a_place_on_the_back_is_the_same_place_of_the_wall(name):
    piece = SCENES[name]().pieces[0]
    w = piece.piece.tile.w
    behind = from_behind(piece)
    for x, y in ((0.0, 0.0), (w, 10.0), (31.0, 77.0)):
        seen = behind.piece.tile_at.apply(Point(w - x, y))
        assert (seen.x, seen.y) == pytest.approx(piece.piece.tile_at.xy(x, y))
    for one, other in zip(piece.cuts, behind.cuts, strict=True):
        assert other.share.area == pytest.approx(one.share.area)
        assert other.share.bounds.min_x == pytest.approx(w - one.share.bounds.max_x)
        assert (other.from_left, other.from_right) == (one.from_right, one.from_left)


def test_an_edge_that_points_nowhere_says_that_it_is_seen_on_the_face():
    plan = SPECIAL["turned_back"]()
    names = edge_names(plan, from_behind(plan.pieces[0]))
    assert names[Side.LEFT] == "edge on your LEFT now (the face's right)"
    assert names[Side.RIGHT] == "edge on your RIGHT now (the face's left)"
    assert names[Side.BOTTOM] == "lower edge"


def test_a_textured_face_gets_its_template_on_the_back_unless_the_tiler_says_otherwise():
    piece = w1_piece()

    def faces(template="", **tile):
        one = replace(piece, piece=replace(piece.piece, tile=replace(piece.piece.tile, **tile)))
        return [sheet.back for sheet in register([one], "A4", template=template)]

    assert faces() == [False]
    assert faces(face="textured") == [True]
    assert faces(face="textured", template="both") == [False, True]
    assert faces(template="back") == [True]
    opening = replace(piece.cuts[0].opening, template="both")
    marked = replace(piece, cuts=(replace(piece.cuts[0], opening=opening),))
    assert [sheet.back for sheet in register([marked], "A4")] == [False, True]


def test_a_job_s_wish_goes_before_the_tile_s():
    piece = w1_piece()
    textured = replace(piece, piece=replace(piece.piece, tile=replace(piece.piece.tile, face="textured")))
    assert [sheet.back for sheet in wished(plan_of([textured]), template="face").registrations] == [False]


def test_plumb_leans_the_other_way_from_behind():
    arrows = {}
    for name, plan in (("face", SCENES["turned"]()), ("back", SPECIAL["turned_back"]())):
        (sheet,) = build_sheets(plan)
        (arrow,) = [mark for mark in sheet.marks if isinstance(mark, Stroke) and mark.role is Role.ARROW]
        arrows[name] = (arrow.path[1].x - arrow.path[0].x, arrow.path[1].y - arrow.path[0].y)
    # A tile turned by 45 degrees counter-clockwise: the wall's up leans right on its face, left on its back.
    assert arrows["face"][0] == pytest.approx(-arrows["back"][0])
    assert arrows["face"][0] > 0.0
    assert arrows["face"][1] == pytest.approx(arrows["back"][1])
