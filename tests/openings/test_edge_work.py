"""Trims, linings, corners, what hides an edge, finishes and remarks: where tile ends by them, and what a piece says.

The figures are by hand. Tiles of 246 with joints of 3 (a pitch of 249), a joint on V: tile 1 right of V lies from 1.5
to 247.5, tile 3 from 499.5 to 745.5; tile 2 left of V from -496.5 to -250.5, tile 3 up to -499.5.
"""

from __future__ import annotations

import csv
import io

import pytest

from cutmarks.errors import JobError
from cutmarks.job import parse_job
from cutmarks.openings.model import CutPiece
from cutmarks.plan import Plan, make_plan
from cutmarks.saying.behind import from_behind
from cutmarks.saying.edge_work import edge_work_words
from cutmarks.sheets.build import build_pack
from cutmarks.sheets.jobsheet import jobsheet_pages
from cutmarks.units import Style
from cutmarks.writers.lists import holes_csv, pieces_csv
from tests.sheets.drawn import texts, words_of

JOB = """\
job: Fell House, bay
tiles:
  pale: {size: 246 x 246, measured: yes, thickness: 9}
surfaces:
  - name: bay
    kind: wall
    lines: {V: "plumb, middle", B: "level, batten"}
    edges:
      left: {at: 500 left of V, true: plumb, LEFT}
      right: {at: 700 right of V, true: plumb, RIGHT}
      bottom: {at: 3 below B, true: level, gap: 3}
      top: {at: 1200 above B, true: level, gap: 3}
    windows:
      - {name: window, across: 400 left of V to 150 right of V, up: 600 to 1100 above B, VOID}
    areas:
      - {name: a, tile: pale, joint: 3, start: {across: joint on V, up: sits on B}}
"""


def text(left: str = "gap: 3", right: str = "gap: 3", void: str = "gap: 3") -> str:
    return JOB.replace("LEFT", left).replace("RIGHT", right).replace("VOID", void)


def plan_of(left: str = "gap: 3", right: str = "gap: 3", void: str = "gap: 3") -> Plan:
    return make_plan(parse_job(text(left, right, void)))


def piece(plan: Plan, name: str) -> CutPiece:
    (one,) = [one for one in plan.pieces if one.name == name]
    return one


def wide(plan: Plan, name: str) -> float:
    return piece(plan, name).piece.outline.bounds.width


def high(plan: Plan, name: str) -> float:
    return piece(plan, name).piece.outline.bounds.height


def words(plan: Plan, name: str) -> list[str]:
    return edge_work_words(piece(plan, name), Style())


def refused(**keys: str) -> str:
    with pytest.raises(JobError) as caught:
        plan_of(**keys)
    (fault,) = caught.value.faults
    assert fault.line is not None
    return fault.sentence


def test_a_trim_takes_its_width_off_the_piece() -> None:
    """700 - 3 - 499.5 = 197.5 without, and 2.5 less with it. Two columns stand left of V, three right of it."""
    assert wide(plan_of(), "a 1-5") == pytest.approx(197.5)
    assert wide(plan_of(right="gap: 3, trim: 2.5"), "a 1-5") == pytest.approx(195.0)


def test_a_trim_along_an_edge_that_steps_is_taken_off_all_of_it() -> None:
    stepped = (
        "      right: {trim: 2.5, steps: [{at: 700 right of V, until: 600 above B, gap: 3}, "
        "{at: 690 right of V, gap: 3}]}\n"
    )
    whole = text(void="gap: 3")
    line = next(one for one in whole.splitlines(keepends=True) if one.startswith("      right"))
    plan = make_plan(parse_job(whole.replace(line, stepped)))
    assert (wide(plan, "a 1-5"), wide(plan, "a 5-5")) == (pytest.approx(195.0), pytest.approx(185.0))


@pytest.mark.parametrize(
    ("corner", "passes"),
    [("trim 2.5", 9.5), ("mitre", 12.0), ("front laps", 12.0), ("return laps", 0.0)],
)
def test_round_an_outer_corner_tile_passes_the_edge_by_bed_and_tile_of_the_return_less_the_trim(
    corner: str, passes: float
) -> None:
    """The left edge is at -500: tile 3 left of V, up to -499.5, keeps what lies past it of -500 less `passes`.

    A front tile passes a board's edge by reveal tile + bed - trim (needs of the trade): 12 - 2.5 = 9.5.
    """
    plan = plan_of(left=f"lining: 12, corner: {corner}")
    if passes:
        assert wide(plan, "a 1-1") == pytest.approx(0.5 + passes)
    else:
        # Half a millimetre is no piece: the first column is that of tile 2 left of V, from -496.5 on.
        begins = min(one.outline.moved(one.piece.tile_at).bounds.min_x for one in plan.pieces)
        assert begins == pytest.approx(-496.5)


def test_a_corner_that_is_not_said_laps_and_is_printed_as_assumed() -> None:
    plan = plan_of(left="lining: 12")
    assert wide(plan, "a 1-1") == pytest.approx(12.5)
    assert (
        "bay, left edge: how the tiles meet round it is not said; the tile in front laps, and passes its edge by 12; "
        "write corner: trim 2.5, mitre, front laps or return laps." in plan.assumed
    )


def test_a_lined_window_with_a_trim_moves_all_its_edges() -> None:
    """It reaches from -400 + 9.5 to 150 - 9.5 and from 600 + 9.5 to 1100 - 9.5.

    Left of it tile 2 left of V (from -496.5) keeps 106; right of it tile 1 right of V (up to 247.5) keeps 107; above it
    course 5 (from 996, its top at 1200 - 3) keeps 1197 - 1090.5 = 106.5; below it course 3 (from 498) 609.5 - 498.
    """
    plan = plan_of(left="gap: 0", void="lining: 12, corner: trim 2.5")
    assert wide(plan, "a 4-1") == pytest.approx(106.0)
    assert wide(plan, "a 4-3") == pytest.approx(107.0)
    assert high(plan, "a 5-2") == pytest.approx(106.5)
    assert high(plan, "a 3-2") == pytest.approx(111.5)
    assert words(plan, "a 4-1") == ["right (window): trim 2½ on it"]


def test_a_sill_laps_the_front_whether_tiled_or_a_board() -> None:
    """Lapping tile passes by 12 at the sides and the head, and at the foot ends at the edge: 600 - 498 = 102.

    A board keeps the usual gap of 3 over the tile below it: 99.
    """
    tiled = plan_of(left="gap: 0", void="lining: 12, corner: front laps")
    assert (wide(tiled, "a 4-1"), high(tiled, "a 3-2")) == (pytest.approx(108.5), pytest.approx(102.0))
    assert words(tiled, "a 3-2") == ["top (window): what stands round the corner laps it"]
    board = plan_of(left="gap: 0", void="lining: 12, corner: front laps, sill board: oak 20")
    assert (wide(board, "a 4-1"), high(board, "a 3-2")) == (pytest.approx(108.5), pytest.approx(99.0))


def test_an_edge_that_is_lapped_is_not_seen_and_has_no_finish() -> None:
    plan = plan_of(left="gap: 0", void="lining: 12, corner: front laps, edge finish: polished")
    assert words(plan, "a 3-2") == ["top (window): what stands round the corner laps it"]
    assert words(plan, "a 4-1") == ["right (window): polished, it laps the tile round the corner"]


def test_what_the_inside_of_a_niche_is_when_it_is_lined() -> None:
    """550 - 2 x 12 = 526 wide; 500 - 12 at the head - 20 of the board = 468 high, or 12 twice where it is tiled."""
    board = plan_of(void="lining: 12, corner: mitre, sill board: oak 20").surfaces[0].setout.voids[0]
    tiled = plan_of(void="lining: 12, corner: mitre").surfaces[0].setout.voids[0]
    assert board.inside == pytest.approx((526.0, 468.0))
    assert tiled.inside == pytest.approx((526.0, 476.0))


def test_the_horns_of_a_sill_board_are_cut_round() -> None:
    """The board is 22 thick and goes 40 past the window on each side; 3 is kept clear all round it.

    Left of the window tile 2 left of V begins at -496.5. In course 3 (from 498) its notch begins at the horn,
    -400 - 40 - 3, which is 53.5, from 600 - 3 up: 99; above the horn, from 600 + 22 + 3 = 625 on (127), it ends at
    -400 + 12, which is 108.5.
    """
    plan = plan_of(left="gap: 0", void="lining: 12, corner: front laps, sill board: 'oak 22, horns 40'")
    corners = {(round(v.x, 6), round(v.y, 6)) for v in piece(plan, "a 3-1").piece.outline.rings[0].vertices}
    assert {(246.0, 99.0), (53.5, 99.0), (53.5, 127.0), (108.5, 127.0), (108.5, 246.0)} <= corners
    assert words(plan, "a 3-1") == [
        "top (window): what stands round the corner laps it",
        "right (window): it laps the tile round the corner",
    ]


@pytest.mark.parametrize(("lined", "told"), [("gap: 3", True), ("lining: 12, corner: trim 2.5", False)])
def test_a_cover_may_lie_on_tile_that_passes_the_edge(lined: str, told: bool) -> None:
    """A rose of 60 about 425 left of V ends at -395: past the window's edge at -400, and not past tile up to -390.5."""
    tap = (
        "    holes:\n      - {name: tap, what: 15 copper, across: 417.5 to 432.5 left of V, up: 800 to 815 above B, "
        "cover: 60, end: comes off}\n"
    )
    plan = make_plan(parse_job(text(left="gap: 0", void=lined) + tap))
    assert any(finding.rule == "cover past the edge" for finding in plan.findings) == told


def test_a_mitre_is_measured_at_the_face_and_its_back_is_short_by_the_thickness() -> None:
    """The tile is 9 thick, and 45 degrees take as much off the back as they go deep."""
    plan = plan_of(left="lining: 12, corner: mitre")
    assert words(plan, "a 1-1") == ["left edge: MITRE, its size is at the FACE and the back is short 9"]
    unknown = make_plan(parse_job(text(left="lining: 12, corner: mitre").replace(", thickness: 9", "")))
    assert "short by the tile's thickness" in words(unknown, "a 1-1")[0]


def test_from_behind_a_mitre_changes_hands() -> None:
    seen = from_behind(piece(plan_of(left="lining: 12, corner: mitre"), "a 1-1"))
    assert [str(work.side) for work in seen.edge_work] == ["right"]


def test_what_hides_an_edge_hides_so_much_of_the_piece() -> None:
    """An architrave of 15 from 700 on, gap 3 and trim 2.5: 15 - 5.5 = 9.5 of the piece."""
    plan = plan_of(right="gap: 3, trim: 2.5, hidden by: architrave 15")
    assert words(plan, "a 1-5") == ["right edge: architrave 15 hides 9½ of it"]
    assert words(plan_of(right="gap: 16, hidden by: architrave 15"), "a 1-5") == [
        "right edge: architrave 15 does not reach over it"
    ]


def test_a_piece_is_narrow_by_what_is_seen_of_it() -> None:
    """A fifth of 246 is 49.2. At 557.5 right of V the third tile keeps 557.5 - 3 - 499.5 = 55, less 15 - 3 hidden."""
    seen = text(left="gap: 0").replace("700 right of V", "557.5 right of V")
    hidden = text(left="gap: 0", right="gap: 3, hidden by: architrave 15").replace("700 right of V", "557.5 right of V")
    told = [finding.text for finding in make_plan(parse_job(seen)).findings if finding.rule == "narrow piece"]
    assert not told
    (finding,) = [one for one in make_plan(parse_job(hidden)).findings if one.rule == "narrow piece"]
    assert "55 wide, of which architrave 15 leaves 43 to be seen: under a fifth" in finding.text
    assert finding.value == pytest.approx(43.0)


def test_the_finish_of_an_edge_that_is_seen_stands_in_the_list_and_on_the_job_sheet() -> None:
    plan = plan_of(right="gap: 3, edge finish: bullnose", void="gap: 3, edge finish: polished")
    rows = {row["piece"]: row for row in csv.DictReader(io.StringIO(pieces_csv(plan).decode("utf-8-sig")))}
    assert rows["a 1-5"]["edge work"] == "right edge: bullnose"
    assert "right (window): polished" in rows["a 4-1"]["edge work"]
    said = " ".join(words for page in jobsheet_pages(plan, {}) for words in texts(page.marks))
    assert "every tile's edge there bullnose, whole tiles' too" in said
    assert "right edge: bullnose" in said


NOTED = (
    text(right="gap: 3, note: mind the frame", void="gap: 3, note: board first")
    .replace("job: Fell House, bay\n", "job: Fell House, bay\nnote: ring before ten\n")
    .replace("thickness: 9", "thickness: 9, note: not to be turned")
    .replace("kind: wall\n", "kind: wall\n    note: damp at the foot\n")
    .replace("sits on B}}", "sits on B}, note: from the new box}")
) + (
    "    holes:\n      - {name: tap, what: 15 copper, across: 600 to 616 right of V, up: 100 to 116 above B, "
    "cover: 60, end: comes off, note: capped}\n"
)


def test_a_remark_stands_on_the_piece_in_its_lists_and_on_the_job_sheet() -> None:
    plan = make_plan(parse_job(NOTED))
    of_the_piece = (
        "tile pale: not to be turned",
        "area a: from the new box",
        "tap: capped",
        "right edge: mind the frame",
    )
    assert piece(plan, "a 1-5").notes == of_the_piece
    assert "window: board first" in piece(plan, "a 4-1").notes
    assert plan.notes == (
        "ring before ten",
        "tile pale: not to be turned",
        "bay: damp at the foot",
        "bay, right edge: mind the frame",
        "bay, area a: from the new box",
        "bay, window: board first",
        "bay, hole tap: capped",
    )
    sheets = [" ".join(mark.text for mark in words_of(page.marks)) for page in build_pack(plan).templates]
    on_job_sheet = " ".join(words for page in jobsheet_pages(plan, {}) for words in texts(page.marks))
    (on_sheet,) = [said for said in sheets if said.startswith("A 1-5 ")]
    # Three of them have no room in the panel of the cut: the sheet then says where they stand, beside its note too.
    assert [note for note in of_the_piece if f"note, {note}" in on_sheet] == ["tile pale: not to be turned"]
    assert "read on the JOB SHEET: NOTE 1 and this tile's row" in on_sheet
    (by_the_window,) = [said for said in sheets if said.startswith("A 3-3 ")]
    assert "note, window: board first" not in by_the_window
    assert "more about this tile: job sheet" in by_the_window
    for note in plan.notes:
        assert note in on_job_sheet
    assert "capped" in holes_csv(plan).decode("utf-8-sig")
    assert "not to be turned" in pieces_csv(plan).decode("utf-8-sig")


def test_a_remark_that_has_room_stands_on_the_sheet() -> None:
    lone = text().replace("thickness: 9", "thickness: 9, note: not to be turned") + (
        "    holes:\n      - {name: tap, what: 15 copper, across: 600 to 616 right of V, up: 100 to 116 above B, "
        "cover: 60, end: comes off}\n"
    )
    pages = [texts(page.marks) for page in build_pack(make_plan(parse_job(lone))).templates]
    (words,) = [list(page) for page in pages if "tap" in page]  # an L cut's sheet has less room, and no such remark
    # In two lines of the panel of the cut.
    assert words.index("turned") > words.index("note, tile pale: not to be")
    assert "job sheet" not in " ".join(words)


def test_what_is_said_of_an_edge_makes_an_old_print_stale_and_a_piece_another() -> None:
    plain, mitred = plan_of(), plan_of(right="gap: 3, edge finish: mitre")
    assert piece(plain, "a 1-5").fingerprint != piece(mitred, "a 1-5").fingerprint
    assert piece(plain, "a 4-1").fingerprint == piece(mitred, "a 4-1").fingerprint


@pytest.mark.parametrize(
    ("keys", "sentence"),
    [
        (
            {"left": "gap: -9"},
            '"-9" is less than nothing: where tile passes an edge round an outer corner write lining',
        ),
        ({"void": "gap: -9.5"}, '"-9.5" is less than nothing'),
        ({"left": "corner: mitre"}, "corner: mitre needs to know how far the tile round the corner stands out"),
        ({"left": "lining: 12, trim: 2, corner: trim 2"}, "Its trim is written twice"),
        ({"left": "lining: 12, corner: round"}, '"round" is no way for tiles to meet round a corner: write trim 2.5'),
        ({"right": "hidden by: architrave 15 or 20"}, "has more than one figure"),
        ({"void": "sill board: oak 22 with horns"}, "write sill board: oak 22, horns 40"),
        ({"right": "edge finish: shiny"}, '"shiny" is not taken here: write as sawn, arris, polished, mitre'),
        (
            {"void": "lining: 300, corner: mitre"},
            "tile would pass its edges by 300 mm, and nothing of it would be left",
        ),
    ],
)
def test_what_is_refused(keys: dict[str, str], sentence: str) -> None:
    assert sentence in refused(**keys)


def test_a_width_that_is_not_said_hides_nothing_and_that_is_said() -> None:
    plan = plan_of(right="gap: 3, hidden by: architrave")
    assert words(plan, "a 1-5") == ["right edge: architrave covers it"]
    assert any("how far architrave hides the cut edge is not said" in one for one in plan.assumed)
