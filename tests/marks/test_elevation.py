"""The elevation and the thumbnail, on worked example W6 and others; expected figures are worked by hand beside them."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from cutmarks.checks.model import Finding
from cutmarks.geometry.frames import Page, Point
from cutmarks.geometry.regions import Region, contains
from cutmarks.geometry.rings import Ring
from cutmarks.marks.elevation import Thumbnails, elevation, elevation_height
from cutmarks.marks.elevation_names import words_box
from cutmarks.marks.model import CircleMark, Filled, Mark, Role, Stroke, Tone
from cutmarks.plan import Plan
from tests.sheets.drawn import extents, ink_box, texts, words_of
from tests.sheets.jobs import W1, W4, W6, plan_of, small_tiles

WIDTH, HEIGHT = 180.0, 160.0
HUNDREDTH = 0.01


def drawn(plan: Plan, w: float = WIDTH, h: float = HEIGHT) -> tuple[Mark[Page], ...]:
    return elevation(plan, plan.surfaces[0], w, h)


def strokes(marks: tuple[Mark[Page], ...], role: Role) -> list[Stroke[Page]]:
    return [mark for mark in marks if isinstance(mark, Stroke) and mark.role is role]


def named(plan: Plan, name: str):
    return next(piece for piece in plan.pieces if piece.name == name)


def test_draws_each_whole_tile_once():
    # W6 by hand: course 2 has 6 places, its ends cut; 3: only 3-2 (ends cut, 3-3 to 3-5 at the window); 4: 4-2 and 4-3;
    # 5: 5-2; courses 1 and 6 are cut all along. But 3-2 takes the feed's hole: it is drawn as a cut piece.
    assert len(strokes(drawn(plan_of(W6)), Role.GRID)) == 4 + 1 + 2 + 1 - 1


def test_the_surface_is_drawn_as_measured_to_one_scale():
    (outline,) = [one for one in strokes(drawn(plan_of(W6)), Role.OUTLINE) if _width(one) > 100]
    # 1400 wide, 150 + 960 = 1110 high
    assert _width(outline) / _height(outline) == pytest.approx(1400 / 1110)


def test_the_window_is_grey_and_outlined():
    marks = drawn(plan_of(W6))
    (grey,) = [mark for mark in marks if isinstance(mark, Filled) and mark.tone is Tone.GREY]
    bounds = grey.rings[0].bounds
    assert bounds.width / bounds.height == pytest.approx(400 / 500)
    assert "window" in texts(marks)


def test_says_that_it_is_not_to_scale_and_what_the_lines_are():
    marks = drawn(plan_of(W6))
    assert "NOT TO SCALE" in texts(marks, bold=True)
    (legend,) = [text for text in texts(marks) if text.startswith("V: ")]
    assert "V: plumb, middle of the sink" in legend
    assert "B: level, top of the batten" in legend
    assert {"V", "B"} <= set(texts(marks, bold=True))
    assert len(strokes(marks, Role.SET_OUT)) == 2


def test_names_holes_and_cut_pieces():
    found = set(texts(drawn(plan_of(W6))))
    assert {"drain", "feed"} <= found
    assert {"field under 1-3", "field 2-2"} <= set(texts(drawn(plan_of(W6)), bold=True))
    # Where the whole name has no room in a piece as it lies, course and number stand in it.
    for name in ("field 2-3", "field 3-4", "field 4-5"):
        assert found & {name, name.removeprefix("field ")}
    assert not {"field 1-2", "1-2"} & found


@pytest.mark.parametrize("text", [W1, W4, W6])
@pytest.mark.parametrize(("w", "h"), [(WIDTH, HEIGHT), (90.0, 60.0)])
def test_stays_in_its_box(text: str, w: float, h: float):
    for box in extents(drawn(plan_of(text), w, h)):
        assert box.min_x >= 0
        assert box.min_y >= 0
        assert box.max_x <= w
        assert box.max_y <= h


@pytest.mark.parametrize(("w", "h"), [(WIDTH, HEIGHT), (110.0, 90.0), (90.0, 60.0)])
def test_no_name_on_another(w: float, h: float):
    legend = ("NOT TO SCALE", "V: ", "dashed: ")
    words = [one for one in words_of(drawn(plan_of(W6), w, h)) if not one.text.startswith(legend)]
    boxes = [words_box(one) for one in words]
    assert len(boxes) > 3
    assert not [
        (a.text, b.text)
        for i, (a, box) in enumerate(zip(words, boxes, strict=True))
        for b, other in zip(words[i + 1 :], boxes[i + 1 :], strict=True)
        if box.overlaps(other)
    ]


def test_a_name_that_does_not_fit_is_called_out_with_a_leader():
    marks = drawn(plan_of(W6), 90.0, 70.0)
    bold = set(texts(marks, bold=True))
    for name in ("field under 1-3", "field 2-2"):
        assert name in bold or name.removeprefix("field ") in bold
    leaders = strokes(marks, Role.MEASURE)
    words = [one for one in words_of(marks) if one.anchor != "middle" and one.at.x in (0.0, 90.0)]
    # A leader begins beside the first line of its name, which goes on below where the margin is too narrow.
    first = [
        one for one in words if any(abs(leader.path[0].y - one.at.y - one.height / 2) < HUNDREDTH for leader in leaders)
    ]
    assert len(leaders) == len(first) > 0
    assert {one.text for one in words} >= {one.text for one in first}


def test_a_leader_goes_past_the_words_of_the_others_before_it_bends():
    marks = drawn(plan_of(W6), 60.0, 45.0)
    left = [one for one in strokes(marks, Role.MEASURE) if one.path[0].x < one.path[-1].x]
    words = [one for one in words_of(marks) if one.anchor == "start" and one.at.x == 0.0]
    ends = [box.max_x for one in words if (box := ink_box(one)) is not None]
    assert left
    for leader in left:
        start, bend, _ = leader.path
        assert start.y == bend.y
        assert bend.x >= max(ends)


def test_the_sheets_stand_behind_the_names_of_their_pieces():
    plan = plan_of(W6)
    marks = elevation(plan, plan.surfaces[0], WIDTH, HEIGHT, {"field 2-2": "3, 5"})
    said = " ".join(one.text for one in words_of(marks) if one.bold)
    assert "2-2 (3, 5)" in said
    assert "(3): on sheet 3" in " ".join(texts(marks))
    assert "on sheet" not in " ".join(texts(drawn(plan)))


def test_pieces_with_findings_are_marked_by_a_pattern():
    plan = plan_of(W6)
    silent = replace(plan, findings=())
    assert not strokes(drawn(silent), Role.HATCH)
    stop = replace(plan, findings=(Finding("stop", "bridge", ("feed",), "too near", None),))
    check = replace(plan, findings=(Finding("warn", "bridge", ("feed",), "near", None),))
    note = replace(plan, findings=(Finding("note", "play", ("feed",), "taken", None),))
    close, wide = strokes(drawn(stop), Role.HATCH), strokes(drawn(check), Role.HATCH)
    assert len(close) > 1.5 * len(wide) > 0
    assert not strokes(drawn(note), Role.HATCH)
    # it lies on 3-2 alone, which reaches from 448.5 to 151.5 left of V and from 200 to 397 above B
    scale = _scale(drawn(stop))
    xs = [v.x for one in close for v in one.path]
    assert max(xs) - min(xs) == pytest.approx(297 * scale, rel=0.05)
    legend = " ".join(texts(drawn(stop)))
    assert "close hatching: STOP" in legend
    assert "wide hatching: CHECK" not in legend


def test_an_accepted_stop_is_not_marked():
    accepted = Finding("stop", "bridge", ("feed",), "too near", None, accepted="hidden by the cover")
    assert not strokes(drawn(replace(plan_of(W6), findings=(accepted,))), Role.HATCH)


def test_openings_are_drawn_at_scale_with_their_cover():
    marks = drawn(plan_of(W6))
    scale = _scale(marks)
    covers = [mark for mark in marks if isinstance(mark, CircleMark) and mark.role is Role.COVER]
    assert [cover.radius for cover in covers] == [pytest.approx(32.5 * scale)]
    feed = plan_of(W6).openings[1]
    (ring,) = [one for one in strokes(marks, Role.CUT) if abs(_width(one) - feed.ring.bounds.width * scale) < HUNDREDTH]
    assert ring.closed


def test_a_surface_of_many_tiles_shows_its_courses_only():
    # 60 x 60 = 3600 places, more than 3000: one line for each of the 60 courses
    plan = small_tiles(60, 60)
    grid = strokes(drawn(plan), Role.GRID)
    assert len(grid) == 60
    assert not any(one.closed for one in grid)
    # 50 x 50 = 2500: one by one, less the one that is holed (pipe at 345, 245: column 4, course 3)
    assert len(strokes(drawn(small_tiles(50, 50)), Role.GRID)) == 2499


def test_courses_that_would_run_together_are_thinned_out():
    # 1000 courses in some 140 mm: a line every 0.14 mm would be a black patch
    assert len(strokes(drawn(small_tiles(40, 1000)), Role.GRID)) < 220


def test_where_nothing_is_measured_the_neighbours_are_shown():
    # W1 has no edges: the tile of the riser (right of V, third course), one tile round it and the crossing of the lines
    plan = plan_of(W1)
    marks = drawn(plan)
    assert not strokes(marks, Role.OUTLINE)
    assert 5 <= len(strokes(marks, Role.GRID)) <= 20
    assert "riser" in texts(marks)
    # `from: B`: nothing of the area lies below the batten
    level = next(one for one in strokes(marks, Role.SET_OUT) if one.path[0].y == one.path[1].y).path[0].y
    assert min(v.y for one in strokes(marks, Role.GRID) for v in one.path) == pytest.approx(level, abs=HUNDREDTH)


def test_thumbnail_blackens_the_one_tile():
    plan = plan_of(W6)
    marks = Thumbnails(plan).of(named(plan, "field 2-2"), 40.0, 30.0)
    (black,) = [mark for mark in marks if isinstance(mark, Filled) and mark.tone is Tone.BLACK]
    # The letters take 1.4 x 2.32 = 3.248 at the top and on the right: 1400 x 1110 in 36.752 x 26.752, where 26.752 by
    # 1110 is 0.02410 and fits 33.74 across, so it is centred about 18.376. 3-2 begins 448.5 left of V, which is 251.5
    # from the left edge, and 200 + 150 = 350 over the floor.
    scale = 26.752 / 1110
    bounds = Region(black.rings).bounds
    assert bounds.min_x == pytest.approx(18.376 - 700 * scale + 251.5 * scale, abs=HUNDREDTH)
    assert bounds.min_y == pytest.approx(350 * scale, abs=HUNDREDTH)
    assert bounds.width == pytest.approx(297 * scale, abs=HUNDREDTH)
    # V is in the middle of the wall (700 of 1400), B 150 over the floor.
    letters = {words.text: words.at for words in words_of(marks)}
    assert set(letters) == {"V", "B"}
    assert letters["V"].x == pytest.approx(18.376, abs=HUNDREDTH)
    assert letters["V"].y > 26.752
    assert letters["B"].x > 18.376 + 700 * scale
    assert letters["B"].y + 2.32 / 2 == pytest.approx(150 * scale, abs=HUNDREDTH)


def test_a_letter_that_would_run_into_another_stays_out_of_the_thumbnail():
    plan = plan_of(W6)
    surface = plan.surfaces[0]
    # 40 on the wall is 1 mm here: a letter of 2.32 has no room there; 300 is 7.2 mm.
    near, far = (replace(surface.setout.lines["V"], name=name, at=at) for name, at in (("N", 40.0), ("F", 300.0)))
    lines = {**surface.setout.lines, "N": near, "F": far}
    more = replace(plan, surfaces=(replace(surface, setout=replace(surface.setout, lines=lines)),))
    letters = {words.text for words in words_of(Thumbnails(more).of(named(more, "field 2-2"), 40.0, 30.0))}
    assert letters == {"V", "B", "F"}


def test_thumbnail_of_a_trimmed_piece_is_what_is_left_of_it():
    plan = plan_of(W6)
    black = next(
        mark
        for mark in Thumbnails(plan).of(named(plan, "field under 1-3"), 40.0, 30.0)
        if isinstance(mark, Filled) and mark.tone is Tone.BLACK
    )
    # course 1 is 142 high
    assert Region(black.rings).bounds.height == pytest.approx(142 * 26.752 / 1110, abs=HUNDREDTH)


def test_thumbnail_stays_in_its_box():
    plan = plan_of(W1)
    for box in extents(Thumbnails(plan).of(plan.pieces[0], 40.0, 25.0)):
        assert box.min_x >= -HUNDREDTH
        assert box.max_x <= 40.0 + HUNDREDTH
        assert box.min_y >= -HUNDREDTH
        assert box.max_y <= 25.0 + HUNDREDTH


def test_thumbnail_of_a_piece_from_another_plan_is_refused():
    plan, other = plan_of(W6), plan_of(W4)
    stranger = replace(other.pieces[0], piece=replace(other.pieces[0].piece, surface="ceiling"))
    with pytest.raises(ValueError, match="no surface 'ceiling'"):
        Thumbnails(plan).of(stranger, 40.0, 30.0)


def test_the_box_that_is_filled_without_waste():
    plan = plan_of(W6)
    height = elevation_height(plan, plan.surfaces[0], WIDTH)
    (outline,) = [one for one in strokes(drawn(plan, WIDTH, height), Role.OUTLINE) if _width(one) > 100]
    # 7 mm are left free on each side for the names of the lines
    assert _width(outline) == pytest.approx(WIDTH - 14.0)


def test_hatching_lies_on_the_piece():
    plan = replace(plan_of(W6), findings=(Finding("stop", "bridge", ("field 3-5",), "thin", None),))
    marks = drawn(plan)
    scale = _scale(marks)
    rings: list[Ring[Page]] = [Ring(one.path) for one in strokes(marks, Role.BOX) if one.closed]
    # 4-5 is 95.5 wide and 197 high; so is 4-4: the hatching lies on one of the two
    alike = [Region((ring,)) for ring in rings if abs(ring.bounds.width - 95.5 * scale) < HUNDREDTH]
    hatch = strokes(marks, Role.HATCH)
    on = [all(contains(one, Point(v.x, v.y)) for stroke in hatch for v in stroke.path) for one in alike]
    assert on.count(True) == 1


def _width(stroke: Stroke[Page]) -> float:
    xs = [v.x for v in stroke.path]
    return max(xs) - min(xs)


def _height(stroke: Stroke[Page]) -> float:
    ys = [v.y for v in stroke.path]
    return max(ys) - min(ys)


def _scale(marks: tuple[Mark[Page], ...]) -> float:
    """W6's: the surface is 1400 wide."""
    return max(_width(one) for one in strokes(marks, Role.OUTLINE)) / 1400


TURNED = """
    job: Turned, and open on one side
    tiles: {slab: {size: 150 x 330, lay: long side up, measured: yes}}
    surfaces:
      - name: wall
        kind: wall
        lines: {V: "plumb, one", B: "level, other"}
        edges:
          right: {at: 390 right of V, true: plumb}
          bottom: {at: 490 below B, true: level}
          top: {at: 370 above B, true: level}
        gaps: {right: 3, bottom: 3, top: 3}
        areas:
          - {name: field, tile: slab, joint: 3, turn: 12, start: {across: middle on V, up: middle on B}}
        holes:
          - {name: pipe, what: 15 copper, across: centre 150 left of V, up: centre 100 below B, cover: 65}
    """


def test_turned_tiles_that_reach_past_what_is_shown_are_cut_off_at_the_words():
    plan = plan_of(TURNED)
    height = elevation_height(plan, plan.surfaces[0], WIDTH)
    marks = drawn(plan, WIDTH, height)
    legend = max(box.max_y for box in extents([one for one in words_of(marks) if one.text == "NOT TO SCALE"]))
    grid = [box for one in strokes(marks, Role.GRID) for box in extents([one])]
    assert grid
    assert all(box.min_y >= legend and box.max_y <= height for box in grid)
    assert all(box.min_x >= 0.0 and box.max_x <= WIDTH for box in grid)
