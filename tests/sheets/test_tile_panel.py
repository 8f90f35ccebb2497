"""What ON THE TILE says of a cut: this tile's part of it, what to check, and how the error adds up."""

from __future__ import annotations

import re

import pytest
from msgspec.structs import replace

from cutmarks.geometry.edges import Bounds
from cutmarks.job import parse_job
from cutmarks.marks.centres import centre_marks
from cutmarks.marks.model import CircleMark, Words
from cutmarks.marks.template import subject
from cutmarks.plan import make_plan, paper_of
from cutmarks.registering.layouts import page_layout
from cutmarks.saying.cuts import corner_words, drill_words
from cutmarks.saying.measures import size_words
from cutmarks.sheets.build import build_sheets
from tests.scenes import SCENES
from tests.sheets.drawn import texts, words_of
from tests.sheets.special import SPECIAL


def job(hole, *, tile="300 x 300", say=""):
    return f"""
job: panel
{say}
tiles: {{t: {{size: {tile}, measured: yes}}}}
surfaces:
  - name: wall
    kind: wall
    lines: {{V: "plumb, middle", B: "level, batten"}}
    areas: [{{name: field, tile: t, joint: 3, from: B, start: {{across: joint on V, up: sits on B}}}}]
    holes: [{{name: h, cover: none, {hole}}}]
"""


def pages_of(text):
    """The words of each tile's first sheet, wrapped lines run together, by the tile's name in capitals."""
    plan = make_plan(parse_job(text))
    sheets = build_sheets(plan)
    pages = {}
    for piece in plan.pieces:
        sheet = next(sheet for sheet in sheets if f" {piece.name}," in sheet.title)
        pages[piece.name.upper()] = " ".join(mark.text for mark in words_of(sheet.marks))
    return pages


# Right of V the tiles lie 1.5 to 301.5 and 304.5 to 604.5. A box of 101 x 61 about 260 right of V and 100 above B
# reaches from 209.5 to 310.5 and from 69.5 to 130.5: 92 of it are in the first tile, 6 in the second, 3 in the joint.
BOX = "what: box, opening: 101 x 61, across: centre 260 right of V, up: centre 100 above B"


def test_of_a_box_over_a_joint_each_tile_says_its_own_part():
    pages = pages_of(job(BOX))
    first, second = pages["FIELD 1-R1"], pages["FIELD 1-R2"]
    assert "CUT-OUT 92 x 61" in first
    assert "CUT-OUT 6 x 61" in second
    for words, other in ((first, "field 1-R2"), (second, "field 1-R1")):
        assert "CUT-OUT 101 x 61" not in words
        assert "of 101 x 61 in all" in words
        assert f"the rest is in {other}" in words


def test_a_box_within_one_tile_says_its_own_size_alone():
    (words,) = pages_of(job(BOX.replace("260", "150"))).values()
    assert "CUT-OUT 101 x 61" in words
    assert "in all" not in words
    assert "the rest is in" not in words


def test_the_other_pair_stands_in_brackets_to_check_with():
    # 150 right of V is 148.5 from the left edge and 151.5 from the right one; 100 up is 200 down.
    pipe = "what: pipe, diameter: 15, opening: 21, across: centre 150 right of V, up: centre 100 above B"
    (words,) = pages_of(job(pipe, say="cut: ahead")).values()
    assert "148½" in words
    assert "check (151½ and 200) opposite" in words


def corners_said(text):
    """What is said of the corners of the first cut of each piece, by the piece's name."""
    plan = make_plan(parse_job(text))
    registrations = {registration.piece: registration for registration in plan.registrations}
    view = Bounds(0.0, 0.0, 190.0, 240.0)
    return {
        piece.name: corner_words(subject(plan, piece, registrations[piece.name], view), piece.cuts[0])
        for piece in plan.pieces
    }


# A box of 50 x 50 that leans by the angle of sine 0.28 and cosine 0.96 (7, 24, 25), 16.26 degrees: its corners lie
# -17 / -31, 31 / -17, 17 / 31 and -31 / 17 from its middle. Its cut-out is 54 x 54: 27 x 0.96 and 27 x 0.28 make
# -18.36 / -33.48, 33.48 / -18.36, 18.36 / 33.48 and -33.48 / 18.36.
def leaning(x, y):
    corners = ((-17, -31), (31, -17), (17, 31), (-31, 17))
    return f"what: box, corners: {[f'{x + dx} right of V, {y + dy} above B' for dx, dy in corners]}"


def test_a_leaning_box_is_marked_by_its_corners():
    # About 150 and 150; the tile's left edge is 1.5 right of V.
    (page,) = pages_of(job(leaning(150, 150))).values()
    assert "CUT-OUT 54 x 54, leaning 16.3°" in page
    assert corners_said(job(leaning(150, 150))) == {
        "field 1-R1": "its corners, from the LEFT edge (towards V) / from the batten edge: "
        "130 / 116½, 182 / 131½, 167 / 183½, 115 / 168½"
    }


def test_of_a_leaning_box_over_a_joint_each_tile_says_the_corners_that_it_has():
    # About 303, the middle of the joint, the corners are at 284.64 and 269.52, and at 336.48 and 321.36: less 1.5 on
    # the first tile, less 304.5 on the second. Its long sides climb 0.28 in 0.96: from 283.14 / 116.52 to the first
    # tile's edge at 300 that is 4.92, from 268.02 / 168.36 it is 9.33; from 31.98 / 131.64 back to the second's it is
    # 9.33, from 16.86 / 183.48 it is 4.92.
    names = "its corners, from the LEFT edge (towards V) / from the batten edge:"
    assert corners_said(job(leaning(303, 150))) == {
        "field 1-R1": f"{names} 283 / 116½, 300 / 121½, 300 / 177½, 268 / 168½",
        "field 1-R2": f"{names} 0 / 122½, 32 / 131½, 17 / 183½, 0 / 178½",
    }


def test_a_leaning_notch_is_marked_where_it_meets_the_edge():
    pages = pages_of(job(leaning(303, 150)))
    assert "121½ to 177½" in pages["FIELD 1-R1"]
    assert "CUT-OUT 54 x 54, leaning 16.3°" in pages["FIELD 1-R1"]
    assert "122½ to 178½" in pages["FIELD 1-R2"]


def test_a_box_is_told_as_it_leans_on_a_tile_that_is_laid_turned():
    # A level box of 80 x 60 in an area that is turned by 30 degrees leans by 30 on its tile.
    turned = job("what: box, opening: 80 x 60, across: on V, up: centre 100 above B").replace(
        "joint: 3, from: B, start: {across: joint on V, up: sits on B}",
        "joint: 3, turn: 30, start: middle on V and B",
    )
    plan = make_plan(parse_job(turned))
    said = {size_words(cut, piece, plan.say.style) for piece in plan.pieces for cut in piece.cuts}
    assert said == {"CUT-OUT 80 x 60, leaning 30°"}
    assert all(words.startswith("its corner") for words in corners_said(turned).values())


def test_an_upright_box_needs_no_list_of_corners():
    assert corners_said(job(BOX.replace("260", "150"))) == {"field 1-R1": ""}


def drilled_said(hole):
    """What is said of the core that the one cut of a job begins with."""
    plan = make_plan(parse_job(job(hole, tile="600 x 300").replace("cover: none, ", "")))
    (piece,) = plan.pieces
    shown = subject(plan, piece, plan.registrations[0], Bounds(0.0, 0.0, 600.0, 300.0))
    middles = {mark.centre.x for mark in centre_marks(shown) if isinstance(mark, CircleMark)}
    return drill_words(shown, piece.cuts[0]), middles


def test_a_hole_that_is_opened_begins_with_its_core():
    # A 35 core for 15 under 65; its middle is 507.5 right of V, 506 from the tile's left edge, and 19.5 up.
    pipe = "what: 15 copper, across: 500 to 515 right of V, up: 12 to 27 above B, cover: 65, slot: towards the bottom"
    said, _ = drilled_said(pipe)
    assert (
        said == "first the CORE 35, its middle 506 / 19½ from the LEFT edge (towards V) / from the batten edge;"
        " then saw to it"
    )
    said, _ = drilled_said(pipe.replace(", slot: towards the bottom", "").replace("12 to 27", "92 to 107"))
    assert said == ""


def test_a_slot_has_a_core_at_each_of_its_ends_and_a_cross_there():
    # (22 + 70 - 6) / 2 is 43: core 42, its middle 311 right of V and 131 up; the slot goes 12 on to the left.
    pipe = (
        "what: 22 copper, across: 300 to 322 right of V, up: 120 to 142 above B, cover: 70, slot: 12 towards the left"
    )
    said, middles = drilled_said(pipe)
    assert said == (
        "first the CORE 42, its middles 309½ / 131 and 297½ / 131 from the LEFT edge (towards V) / from the batten "
        "edge; then saw to it"
    )
    assert {309.5, 297.5} <= {round(x, 6) for x in middles}


def test_a_sheet_against_another_edge_says_which_and_what_to_check_by_tape():
    # A tile of 600 with a hole 540 from the edge towards V: a sheet of A4 reaches it from the far edge alone, at 60.
    pipe = "what: pipe, diameter: 15, opening: 35, across: centre 541.5 right of V, up: centre 100 above B"
    (words,) = pages_of(job(pipe, tile="600 x 600", say="cut: ahead")).values()
    assert "LINE UP: RIGHT edge (away from V)" in words
    assert "The sheet lies against the RIGHT edge: check 540 from the LEFT edge" in words


@pytest.mark.parametrize("say", ["", "units: in"])
def test_the_parts_of_the_error_add_up_as_printed(say):
    size, at = ("12 x 12", "5 1/2") if say else ("300 x 300", "148")
    pipe = f"what: pipe, diameter: 1/2, opening: 1, across: centre {at} right of V, up: centre 4 above B"
    if not say:
        pipe = f"what: pipe, diameter: 15, opening: 21, across: centre {at} right of V, up: centre 100 above B"
    text = job(pipe, tile=size, say=say).replace("joint: 3", "joint: 1/8") if say else job(pipe)
    (words,) = pages_of(text).values()
    found = re.search(r"out at most (\S+): print ([\d.]+) \+ lining up ([\d.]+) \+ line ([\d.]+)", words)
    assert found is not None
    # 146.5 x 0.5 % is 0.7325, and up to a hundredth 0.74; with 0.3 and 0.25 that is 1.29.
    # 5 1/2 in less half the joint of 1/8 in is 5.4375 in, and 0.5 % of it 0.0272 in, up to a thousandth .028; 0.3 mm
    # is .0118 in, up to .012; 0.25 mm is .0098 in, up to .010: .050 in all.
    assert sum(map(float, found.groups()[1:])) == pytest.approx(0.05 if say else 1.29)
    # The figure that CUT says, up to a tenth, or to 1/32 in: one figure, and what it is made of.
    assert found.group(1) == ("1/16" if say else "1.3")
    assert f"Paper may be {found.group(1)} out" in words


def test_what_is_drawn_beside_a_mirrored_sheet_says_how_it_is_seen():
    face, back = build_sheets(SPECIAL["both_faces"]())
    assert "as you face it" in texts(back.marks)
    assert "as you face it" not in texts(face.marks)


@pytest.mark.parametrize("turned", [False, True])
def test_two_holes_stand_in_mark_as_they_do_in_the_drawing(turned):
    # Hot lies 75 left of cold, whichever of the two the job names first; on the back it lies to its right.
    plan = SCENES["two_holes"]()
    (one,) = plan.registrations
    for back, order in ((False, ["hot", "cold"]), (True, ["cold", "hot"])):
        registration = replace(one, cuts=one.cuts[::-1] if turned else one.cuts, back=back)
        (sheet,) = build_sheets(replace(plan, registrations=(registration,)))
        box = page_layout(paper_of(plan.say), registration.layout).mark
        names = [
            (mark.at.x, mark.text)
            for mark in sheet.marks
            if isinstance(mark, Words)
            and mark.text in order
            and box.min_x <= mark.at.x <= box.max_x
            and box.min_y <= mark.at.y <= box.max_y
        ]
        assert [text for _, text in sorted(names)] == order
