"""The wall check comes back: the hole moves, the sheet is another, and nothing is moved twice."""

from __future__ import annotations

import textwrap

import pytest

from cutmarks.errors import JobError
from cutmarks.job import parse_job
from cutmarks.openings.model import Cut, CutPiece
from cutmarks.plan import Plan, make_plan

# Worked example W1: from left 74.5, from bottom 112.5; the wall check reads 69 and 84, 107 and 122.
W1 = """
    job: W1
    tiles: {{upright: {{size: 248 x 398, measured: yes}}}}
    surfaces:
      - name: wall
        kind: wall
        lines: {{V: "plumb, middle of the sink", B: "level, top of the batten"}}
        areas:
          - {{name: field, tile: upright, joint: 2, from: B, start: {{across: joint on V, up: sits on B}}{area}}}
        holes:
          - {{name: riser, what: 15 copper, across: {across}, up: 905 to 920 above B, cover: 65{slot}}}{more}
    found: [{found}]
"""
PIECE = "field 3-R2"


def planned(
    found: str = "",
    *,
    across: str = "318 to 333 right of V",
    area: str = "",
    more: str = "",
    slot: str = "",
) -> Plan:
    text = W1.format(found=found, across=across, area=area, more=more, slot=slot)
    return make_plan(parse_job(textwrap.dedent(text)))


def at(plan: Plan, name: str = PIECE) -> tuple[CutPiece, Cut]:
    piece = next(piece for piece in plan.pieces if piece.name == name)
    return piece, piece.cuts[0]


def rules(plan: Plan) -> dict[str, str]:
    return {finding.rule: finding.text for finding in plan.findings}


def near(value: float) -> object:
    return pytest.approx(value, abs=1e-6)


def test_found_more_moves_the_hole_away() -> None:
    plan = planned(f"{{piece: {PIECE}, left: 70 to 85, bottom: 107 to 122, date: 2026-03-14}}")
    piece, cut = at(plan)
    # 70 and 85 are 1 more than 69 and 84: 74.5 + 1 from the left; the height is as expected.
    assert (cut.from_left, cut.from_right) == (near(75.5), near(172.5))
    assert (cut.from_bottom, cut.from_top) == (near(112.5), near(285.5))
    checks = {check.side: (check.near, check.far) for check in cut.wall_checks if check.fixed}
    assert checks == {"left": (near(70), near(85)), "bottom": (near(107), near(122))}
    assert "corrected 1 right; now expect 70 and 85 from the left" in rules(plan)["corrected"]
    assert piece.fingerprint != at(planned())[0].fingerprint
    (record,) = plan.found
    assert (record.piece, record.hole, record.date) == (PIECE, "riser", "2026-03-14")
    assert record.differs == (near(1), near(0))
    # The thing itself is where it was read from the lines.
    assert (plan.openings[0].at.x, plan.openings[0].at.y) == (near(325.5), near(912.5))


def test_reading_the_new_figures_again_changes_nothing() -> None:
    once = at(planned(f"{{piece: {PIECE}, left: 70 to 85}}"))[0]
    twice = at(planned(f"{{piece: {PIECE}, left: 70 to 85}}, {{piece: {PIECE}, left: 70 to 85}}"))[0]
    assert once.fingerprint == twice.fingerprint


def test_a_later_reading_goes_before_an_earlier_one() -> None:
    plan = planned(f"{{piece: {PIECE}, left: 72 to 87}}, {{piece: {PIECE}, left: 71 to 86, cut: yes}}")
    assert at(plan)[1].from_left == near(76.5)
    (record,) = plan.found
    assert record.cut


def test_what_is_read_from_something_else_on_the_new_sheet_is_compared_with_that() -> None:
    # The pipe lies over V, 1 left to 14 right of it, its middle 6.5: it is read from the left edge, 400 left of V.
    # Found 2 further right it clears V, and the sheet made anew has it 1 right of V: 1 and 16.
    edges = "\n        edges: {left: {at: 400 left of V, true: plumb, gap: 0}}"

    def over_v(found: str) -> Plan:
        text = W1.format(found=found, across="1 left to 14 right of V", area="", more="", slot="")
        return make_plan(parse_job(textwrap.dedent(text.replace("\n        areas:", f"{edges}\n        areas:"))))

    name = next(piece.name for piece in over_v("").pieces if piece.cuts)
    first = f"{{piece: {name}, left: 401 to 416}}"
    (once,) = (one for one in at(over_v(first), name)[1].wall_checks if one.fixed and one.side == "left")
    assert (once.source.name, once.near, once.far) == ("V", near(1), near(16))
    plan = over_v(f"{first}, {{piece: {name}, left: 2 to 17}}")
    # Another 1 right: 3 right of where it was planned.
    assert plan.found[0].differs == (near(3), near(0))


def test_under_a_millimetre_nothing_is_moved() -> None:
    plan = planned(f"{{piece: {PIECE}, left: 69.5 to 84.5}}")
    assert at(plan)[1].from_left == near(74.5)
    assert at(plan)[0].fingerprint == at(planned())[0].fingerprint
    assert "corrected" not in rules(plan)
    assert not plan.found[0].moved


def test_from_the_course_below_it_moves_up() -> None:
    plan = planned(f"{{piece: {PIECE}, below: 105 to 120}}")
    # 105 is 2 less than 107: down by 2.
    assert at(plan)[1].from_bottom == near(110.5)
    assert "corrected 2 down; now expect 105 and 120 from the bottom" in rules(plan)["corrected"]


def test_one_distance_to_a_side_or_to_the_centre() -> None:
    # The middle is expected at 76.5, the near side at 69, the far side at 84.
    for words in ("centre 78.5", "near 71", "far 86"):
        assert at(planned(f"{{piece: {PIECE}, left: {words}}}"))[1].from_left == near(76.5)


def test_over_half_of_what_it_may_be_it_stops() -> None:
    # A 35 core over 15 under 65 leaves 10 any way: 5 is the half.
    assert "found too far" not in rules(planned(f"{{piece: {PIECE}, left: 74 to 89}}"))
    plan = planned(f"{{piece: {PIECE}, left: 75 to 90}}")
    assert next(finding.level for finding in plan.findings if finding.rule == "found too far") == "stop"
    assert "was found 6 off, over 5" in rules(plan)["found too far"]


def test_sides_that_are_not_the_things_own_width_apart() -> None:
    assert "found disagrees" not in rules(planned(f"{{piece: {PIECE}, left: 69 to 86}}"))
    assert "found 20 apart, and it is 15" in rules(planned(f"{{piece: {PIECE}, left: 69 to 89}}"))["found disagrees"]


def test_sides_so_far_apart_that_the_hole_may_not_fit_stop() -> None:
    # It may be 10 any way: sides 15 + 20 apart put the middle out by 10, 15 + 22 by 11.
    def level(found: str) -> str:
        plan = planned(f"{{piece: {PIECE}, left: {found}}}")
        return next(finding.level for finding in plan.findings if finding.rule == "found disagrees")

    assert level("69 to 104") == "warn"
    assert level("69 to 106") == "stop"


def test_a_notch_that_moves_away_from_its_edge_still_reaches_it() -> None:
    # The tile begins 251 right of V and the middle lies 278.5 right of it: 27.5 from the edge; core 35, open to the
    # left; the wall check is 22 and 37. Found 3 more it is 30.5 from the edge, and the cut still begins there: 3 less
    # half the joint would be a bridge that breaks off.
    def notch(found: str = "") -> Cut:
        text = planned(found, across="271 to 286 right of V", slot=", slot: towards the left")
        return at(text)[1]

    assert notch().share.bounds.min_x == near(0)
    moved = notch(f"{{piece: {PIECE}, left: 25 to 40}}")
    assert (notch().from_left, moved.from_left) == (near(27.5), near(30.5))
    assert moved.share.bounds.min_x == near(0)
    assert moved.share.bounds.max_x == near(48)
    assert moved.kind == "edge notch"


def test_this_very_tile_is_smaller() -> None:
    plan = planned(f"{{piece: {PIECE}, tile: 246 x 397}}")
    piece, cut = at(plan)
    assert (piece.piece.tile.w, piece.piece.tile.h) == (246, 397)
    # It is set against the tile on its left and the course below: those measures stay, the other two are 2 and 1 less.
    assert (cut.from_left, cut.from_bottom) == (near(74.5), near(112.5))
    assert (cut.from_right, cut.from_top) == (near(171.5), near(284.5))
    assert piece.outline.bounds.width == near(246)
    assert all(check.fixed for check in cut.wall_checks)
    assert rules(plan)["corrected"].startswith(f"riser in {PIECE}: This very tile is 246 x 397")


def test_a_size_that_no_tile_of_these_can_have_is_refused() -> None:
    # 10 is the limit: 238 is 10 less than 248, and 398 x 248 is 150 off both ways.
    assert at(planned(f"{{piece: {PIECE}, tile: 238 x 408}}"))[0].piece.tile.w == 238
    for size, says in (
        ("398 x 248", "is it 248 x 398?"),
        ("237 x 398", "Measure the whole tile again, across first."),
        ("248 x 409", "Measure the whole tile again"),
        # 398 is the tile's height, but 397 is not its width: it was not read the wrong way round.
        ("398 x 397", "Measure the whole tile again"),
    ):
        with pytest.raises(JobError) as caught:
            planned(f"{{piece: {PIECE}, tile: {size}}}")
        assert says in str(caught.value)


def test_what_is_cut_is_not_read_again() -> None:
    cut = f"{{piece: {PIECE}, left: 70 to 85, cut: yes, date: 2026-03-14}}"
    for later in ("left: 72 to 87", "below: 105 to 120", "tile: 247 x 398", "left: 72 to 87, cut: yes"):
        with pytest.raises(JobError) as caught:
            planned(f"{cut}, {{piece: {PIECE}, {later}}}")
        told = str(caught.value)
        assert f"riser in {PIECE} was cut on 2026-03-14: what is read later does not change what was cut." in told
        assert "take out the entry that says so (job line 12). A note can still be added." in told


def test_a_note_may_still_be_added_to_what_is_cut_and_its_day_stays() -> None:
    cut = f"{{piece: {PIECE}, left: 70 to 85, cut: yes, date: 2026-03-14}}"
    plan = planned(f"{cut}, {{piece: {PIECE}, note: chipped at the back, date: 2026-04-02}}")
    (record,) = plan.found
    assert (record.date, record.note, record.cut) == ("2026-03-14", "chipped at the back", True)
    assert at(plan)[0].fingerprint == at(planned(cut))[0].fingerprint
    # 74.5 from the left, found 1 further right.
    assert at(plan)[1].from_left == near(75.5)


def test_what_is_cut_has_no_new_sheet_to_use() -> None:
    found = f"piece: {PIECE}, left: 70 to 85, date: 2026-03-14"
    assert rules(planned(f"{{{found}}}"))["corrected"].endswith("Use the sheet with the new fingerprint.")
    words = rules(planned(f"{{{found}, cut: yes}}"))["corrected"]
    assert words == f"riser in {PIECE}: corrected 1 right. It was cut so on 2026-03-14."


DRAIN = "\n          - {name: drain, what: 15 copper, across: 400 to 415 right of V, up: 1005 to 1020 above B}"


def test_a_hole_found_off_asks_for_the_others_of_its_tile() -> None:
    # 69 and 84 are expected: 71.5 and 86.5 are 2.5 more.
    riser = f"{{piece: {PIECE}, hole: riser, left: 71.5 to 86.5}}"
    plan = planned(riser, more=DRAIN)
    (finding,) = [finding for finding in plan.findings if finding.rule == "found off alone"]
    assert (finding.level, finding.about) == ("warn", (PIECE, "drain"))
    assert finding.text == f"riser was found 2½ off: read drain in {PIECE} too, before it is cut."
    # As planned, nothing is off; read back or cut, the drain is left alone; and alone in its tile, a hole has none.
    for found, more in (
        (f"{{piece: {PIECE}, hole: riser, left: 69 to 84}}", DRAIN),
        (f"{riser}, {{piece: {PIECE}, hole: drain, left: 151 to 166}}", DRAIN),
        (f"{riser}, {{piece: {PIECE}, hole: drain, cut: yes}}", DRAIN),
        (riser, ""),
    ):
        assert "found off alone" not in rules(planned(found, more=more))


def test_this_very_tile_fixed_from_the_right() -> None:
    # Left of V, and the work goes right to left: the tile is set against the one on its right.
    plan = planned("{piece: field 3-L2, tile: 246 x 398}", across="318 to 333 left of V", area=", work: right to left")
    _, cut = at(plan, "field 3-L2")
    # Mirrored W1: 74.5 from the right, 173.5 from the left, less the 2 that it is smaller.
    assert cut.from_right == near(74.5)
    assert cut.from_left == near(171.5)
    # What it is set against can still be read from: the tile on its right, 74.5 + 2 less and plus 7.5.
    checks = {check.side: (check.near, check.far) for check in cut.wall_checks}
    assert checks == {"right": (near(69), near(84)), "bottom": (near(107), near(122))}


def test_a_trimmed_tile_of_its_own_size_keeps_its_trimming() -> None:
    # A floor at 100 below B, gap 5: the course below B spans -400 to -2 and is cut at -95, 93 high; its top edge is
    # the maker's and stays.
    text = (
        textwrap.dedent(
            W1.format(
                found="{piece: field under 1-R2, tile: 247 x 398}",
                across="318 to 333 right of V",
                area="",
                more="",
                slot="",
            )
        )
        .replace("from: B, ", "")
        .replace("905 to 920 above B", "42.5 to 57.5 below B")
    )
    text = text.replace(
        "areas:", "edges: {bottom: {at: 100 below B, true: level, gap: 5, still to come: none}}\n    areas:"
    )
    plan = make_plan(parse_job(text))
    piece = next(piece for piece in plan.pieces if piece.cuts)
    assert piece.sizes is not None
    assert piece.sizes.left == near(93)
    assert piece.outline.bounds.width == near(247)


@pytest.mark.parametrize(
    ("found", "says"),
    [
        ("{piece: field 9-R9, left: 70 to 85}", "no such piece"),
        (f"{{piece: {PIECE}, hole: waste, left: 70 to 85}}", '"waste" is no hole in'),
        (f"{{piece: {PIECE}}}", "It says nothing"),
        (f"{{piece: {PIECE}, left: 70 to 85, right: 10 to 25}}", "keep the one that lies against what is fixed"),
        (f"{{piece: {PIECE}, tile: 398 x 248}}", "that field 3-R2 is as it lies. The size across comes first"),
        (f"{{piece: {PIECE}, tile: 237 x 398}}", "237 x 398 is more than 10 from the 248 x 398 that field 3-R2 is"),
        (f"{{piece: {PIECE}, left: 70}}", "does not say to what"),
        (f"{{piece: {PIECE}, cut: yes, date: 14.3.2026}}", "is no day"),
        ("{left: 70 to 85}", "names no piece"),
    ],
)
def test_what_names_nothing_is_a_fault(found: str, says: str) -> None:
    with pytest.raises(JobError) as caught:
        planned(found)
    assert says in str(caught.value)
    assert "line" in str(caught.value)


def test_a_hole_that_would_leave_its_piece_is_told_and_not_lost() -> None:
    # 470 and 485 are 401 more than 69 and 84: 475.5 from the left of a tile of 248.
    with pytest.raises(JobError) as caught:
        planned(f"{{piece: {PIECE}, left: 470 to 485}}")
    assert (
        f"riser would lie 401 from where it is planned, and off {PIECE}: read it again, and where it does lie there, "
        "change its readings in the job." in str(caught.value)
    )
    assert "line" in str(caught.value)


def test_a_piece_with_several_holes_asks_which() -> None:
    more = "\n          - {name: drain, what: 15 copper, across: 400 to 415 right of V, up: 1005 to 1020 above B}"
    with pytest.raises(JobError) as caught:
        planned(f"{{piece: {PIECE}, left: 70 to 85}}", more=more)
    assert "has several holes: write hole: riser or drain" in str(caught.value)
    plan = planned(f"{{piece: {PIECE}, hole: drain, left: 153 to 168}}", more=more)
    moved = {cut.opening.name: cut.from_left for cut in at(plan)[0].cuts}
    # The drain is expected at 400 - 249 = 151; found at 153 it moves by 2, from 156.5 to 158.5. The riser stays.
    assert moved == {"riser": near(74.5), "drain": near(158.5)}


def test_only_the_tile_that_was_read_moves_where_a_hole_is_cut_in_two() -> None:
    across = "242.5 to 257.5 right of V"
    plain = planned(across=across)
    plan = planned("{piece: field 3-R1, below: 109 to 124}", across=across)
    assert at(plan, "field 3-R1")[1].from_bottom == near(at(plain, "field 3-R1")[1].from_bottom + 2)
    assert at(plan, "field 3-R2")[0].fingerprint == at(plain, "field 3-R2")[0].fingerprint


# The tile lies 1 to 601 right of V and 202 to 402 above B. A box of 40 x 206 over all of its height, its middle 300
# from either end, parts it: what is left of it is R1a, what is right R1b, and both are read from V.
PARTED = """
    job: parted
    tiles: {{wide: {{size: 600 x 200, measured: yes}}}}
    surfaces:
      - name: wall
        kind: wall
        lines: {{V: "plumb, middle", B: "level, top of the batten"}}
        areas:
          - {{name: field, tile: wide, joint: 2, from: B, start: {{across: joint on V, up: sits on B}}}}
        holes:
          - {{{hole}}}
    found: [{found}]
"""
BOX = "name: riser, what: own box, size: 40 x 206, across: 281 to 321 right of V, up: 200 to 406 above B"


def parted(found: str = "", hole: str = BOX) -> Plan:
    return make_plan(parse_job(textwrap.dedent(PARTED.format(found=found, hole=hole))))


def test_each_part_of_a_tile_is_read_for_itself() -> None:
    plain = parted()
    plan = parted("{piece: field 2-R1a, left: 282 to 322}, {piece: field 2-R1b, left: 279 to 319}")
    # 1 more and 2 less than 281 and 321.
    assert [at(plan, f"field 2-R1{part}")[1].from_left for part in "ab"] == [near(301), near(298)]
    assert [(one.piece, one.differs[0]) for one in plan.found] == [("field 2-R1a", near(1)), ("field 2-R1b", near(-2))]
    alone = parted("{piece: field 2-R1a, left: 282 to 322}")
    assert at(alone, "field 2-R1a")[0].fingerprint == at(plan, "field 2-R1a")[0].fingerprint
    assert at(alone, "field 2-R1b") == at(plain, "field 2-R1b")


def test_which_part_was_read_is_asked() -> None:
    with pytest.raises(JobError) as caught:
        parted("{piece: field 2-R1, left: 282 to 322}")
    said = "field 2-R1 lies in several parts, and riser is cut in more than one: write field 2-R1a or field 2-R1b."
    assert said in str(caught.value)


def test_two_parts_that_are_none_of_one_tile_are_asked_again() -> None:
    # A core of 42, its middle 20 from the left edge and 20 from the lower one, 28.3 from their corner, over 21: of the
    # corner a tip is left. 3 further from both, 23, it is a hole in one piece.
    hole = "name: riser, what: own pipe, diameter: 35, across: 3.5 to 38.5 right of V, up: 204.5 to 239.5 above B"
    tip, rest = [piece.name for piece in parted(hole=hole).pieces if piece.name.startswith("field 2")]
    further = f"{{piece: {rest}, left: 6.5 to 41.5, below: 7.5 to 42.5}}"
    assert [one.name for one in parted(further, hole).pieces if one.name.startswith("field 2")] == ["field 2-R1"]
    with pytest.raises(JobError) as caught:
        parted(f"{further}, {{piece: {tip}, left: 3.5 to 38.5}}", hole)
    assert f"By what was read of {rest} the tile comes out in other parts, and {tip} was read" in str(caught.value)


def test_in_a_turned_area_it_moves_along_the_tiles_own_sides() -> None:
    text = """
        job: turned
        tiles: {{square: {{size: 297 x 297, measured: yes}}}}
        surfaces:
          - name: wall
            kind: wall
            lines: {{V: "plumb, middle", B: "level, batten"}}
            areas:
              - {{name: field, tile: square, joint: 3, turn: 30, start: middle on V and B}}
            holes:
              - {{name: riser, what: 15 copper, across: centre 40 right of V, up: centre 30 above B, cover: 65}}
        found: [{found}]
    """
    plain = make_plan(parse_job(textwrap.dedent(text.format(found=""))))
    cut = plain.pieces[0].cuts[0]
    left = next(check for check in cut.wall_checks if check.side == "left")
    name = plain.pieces[0].name
    reading = f"{{piece: {name}, left: {left.near + 3:.6f} to {left.far + 3:.6f}}}"
    moved = make_plan(parse_job(textwrap.dedent(text.format(found=reading)))).pieces[0].cuts[0]
    assert moved.from_left == pytest.approx(cut.from_left + 3, abs=1e-5)
    assert moved.from_bottom == pytest.approx(cut.from_bottom, abs=1e-5)
