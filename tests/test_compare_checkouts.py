"""The comparison of two checkouts: a fault planted in each kind of output is found, another spelling is none."""

from __future__ import annotations

import csv
import json
import re
import shutil
from functools import partial
from pathlib import Path
from xml.etree import ElementTree as ET

import pikepdf
import pytest
from msgspec.structs import replace

from tests.bench import compare_jobs
from tests.bench.compare_checkouts import compared, report, run
from tests.bench.compare_intended import (
    INTENDED,
    Intended,
    by_its_print,
    counted_from_the_first,
    digest_under_another_name,
    drilled_in_each_corner,
    list_drawn_anew,
    list_that_says_hands,
    list_with_one_side,
    one_side_is_plunged,
    page_with_the_kerf,
    page_with_who_is_asked,
    panel_beside_a_print,
    read_from_a_line,
    sheet_that_says_hands,
    sure_in_per_cent,
    thumbnail_with_larger_letters,
    waits_in_its_name,
    waits_on_its_layers,
)
from tests.bench.compare_maker import make
from tests.bench.compare_outputs import NOTHING, Difference, Output, differences
from tests.bench.compare_read import Page, Row

ROOT = Path(__file__).parents[1]
JOB = """\
job: Reed House, wash
tiles:
  pale: {size: 346 x 346, measured: yes}
surfaces:
  - name: wall
    kind: wall
    lines: {V: "plumb, middle", B: "level, batten"}
    edges: {left: {at: 500 left of V, true: plumb}}
    areas:
      - {name: a, tile: pale, joint: 3, start: {across: joint on V, up: sits on B}}
    holes:
      - {name: cold, what: 15 copper, across: 40 to 55 right of V, up: 120 to 135 above B, cover: 65, end: comes off}
      - {name: hot, what: 15 copper, across: 40 to 55 right of V, up: 470 to 486 above B, cover: 65, end: comes off}
"""


@pytest.fixture(scope="module")
def finished(tmp_path_factory):
    folder = tmp_path_factory.mktemp("finished")
    (folder / "wash.yaml").write_text(JOB, encoding="utf-8")
    (folder / "before").mkdir()
    make(folder / "wash.yaml", folder / "before" / "wash")
    return folder / "before"


@pytest.fixture
def outputs(finished, tmp_path):
    shutil.copytree(finished, tmp_path / "after")
    return finished / "wash", tmp_path / "after" / "wash"


def found(outputs):
    return [(one.kind, one.path) for one in differences("wash", *(Output(folder) for folder in outputs))]


def edited(path: Path, old: str, new: str) -> None:
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")


def with_cells(path: Path, change) -> None:
    """The list with every row changed, each by its columns' names."""
    rows = list(csv.DictReader(path.read_text(encoding="utf-8-sig").splitlines()))
    for row in rows:
        change(row)
    with path.open("w", encoding="utf-8-sig", newline="") as file:
        writer = csv.DictWriter(file, list(rows[0]), lineterminator="\n")
        writer.writeheader()
        writer.writerows(rows)


def changed_plan(folder: Path, change) -> None:
    plan = json.loads((folder / "plan.json").read_text(encoding="utf-8"))
    change(plan)
    (folder / "plan.json").write_text(json.dumps(plan), encoding="utf-8")


def test_nothing_differs_from_a_copy(outputs):
    assert found(outputs) == []


@pytest.mark.parametrize(
    ("change", "path"),
    [
        (lambda plan: plan["penetrations"][0]["at"].__setitem__(0, 47.500002), "/penetrations/cold/at/0"),
        (lambda plan: plan["findings"][0].__setitem__("text", "x"), "/findings/0/text"),
        (lambda plan: plan["findings"].pop(), r"/findings/\d"),
        (lambda plan: plan["pieces"][0].__setitem__("name", "a 9-9"), "/pieces/a 9-9"),
        (lambda plan: plan["penetrations"][0].__setitem__("new", None), "/penetrations/cold/new"),
        (lambda plan: plan.pop("sure"), "/sure"),
    ],
)
def test_plan(outputs, change, path):
    changed_plan(outputs[1], change)
    assert any(kind == "plan" and re.match(path, where) for kind, where in found(outputs))


def test_figures_closer_than_a_millionth_are_the_same(outputs):
    changed_plan(outputs[1], lambda plan: plan["penetrations"][0]["at"].__setitem__(0, 47.5000009))
    assert found(outputs) == []


def test_list(outputs):
    edited(outputs[1] / "holes.csv", "15 copper", "15 steel")
    assert found(outputs) == [("list", "row 2, a 1-3: what")]


def test_list_without_a_column(outputs):
    with_cells(outputs[1] / "pieces.csv", lambda row: row.pop("surface"))
    assert ("list", "column surface") in found(outputs)


def test_dxf(outputs):
    drawing = next(path for path in (outputs[1] / "dxf").glob("*.dxf") if "open" not in path.name)
    edited(drawing, "\n346.0\n", "\n346.000002\n")
    assert {kind for kind, _ in found(outputs)} == {"dxf"}


def sheet_of(folder: Path) -> Path:
    return next((folder / "sheets").iterdir())


def test_svg_line_moved(outputs):
    # A quarter of a thousandth in the first line that is drawn.
    text = sheet_of(outputs[1]).read_text(encoding="utf-8")
    first = re.search(r' d="M([\d.]+) ', text[text.index('class="cut"') :])
    assert first is not None
    edited(sheet_of(outputs[1]), f'"M{first[1]} ', f'"M{float(first[1]) + 0.0003:.4f} ')
    assert {kind for kind, _ in found(outputs)} == {"drawing"}


def test_svg_line_dropped_or_drawn_otherwise(outputs):
    edited(sheet_of(outputs[1]), 'stroke-width="0.35"', 'stroke-width="0.36"')
    assert {kind for kind, _ in found(outputs)} == {"drawing"}


def test_svg_word(outputs):
    edited(sheet_of(outputs[1]), 'aria-label="V"', 'aria-label="W"')
    assert {kind for kind, _ in found(outputs)} == {"label"}


def test_letters_drawn_where_they_stand_and_lines_moved_as_a_group_are_no_difference(outputs):
    """Each letter that is kept once and named is drawn where it stands; all lines are moved by a group, and back."""
    path = sheet_of(outputs[1])
    tree = ET.parse(path)
    root = tree.getroot()
    svg = "{http://www.w3.org/2000/svg}"
    defs = root.find(f"{svg}defs")
    assert defs is not None
    letters = {one.get("id"): one.get("d", "") for one in defs if one.tag == f"{svg}path"}
    named = list(root.iter(f"{svg}use"))
    assert letters
    assert named
    for one in named:
        one.tag = f"{svg}path"
        one.set("d", letters[one.attrib.pop("{http://www.w3.org/1999/xlink}href").removeprefix("#")])
        one.set("transform", f"translate({one.attrib.pop('x', '0')} 0)")
    cut = next(one for one in root.iter(f"{svg}g") if one.get("class") == "cut")
    cut.set("transform", "translate(10 -20) scale(2)")
    for one in cut:
        one.set("transform", "scale(0.5) translate(-10 20)")
    tree.write(path)
    assert found(outputs) == []
    cut.set("transform", "translate(10 -20.01) scale(2)")
    tree.write(path)
    assert {kind for kind, _ in found(outputs)} == {"drawing"}


def with_pdf(folder: Path, change, name: str = "pack.pdf") -> None:
    with pikepdf.open(folder / name, allow_overwriting_input=True) as pdf:
        change(pdf)
        pdf.save(folder / name)


def letter_swapped(pdf, number: int = 0) -> None:
    """The first letter of a page is taken for another: glyphs are numbered, two hex digits each."""
    page = pdf.pages[number]
    page.contents_coalesce()
    first = rb"Tf <(\w\w)"
    data, changed = re.subn(
        first, lambda found: b"Tf <01" if found[1] != b"01" else b"Tf <02", page.Contents.read_bytes(), count=1
    )
    assert changed
    page.Contents = pdf.make_stream(data)


def line_added(pdf) -> None:
    pdf.pages[0].contents_add(b"q 0 0 m 10 10 l S Q")


@pytest.mark.parametrize(
    ("change", "kinds"),
    [
        (lambda pdf: pdf.pages.__delitem__(1), {"page"}),
        (lambda pdf: setattr(pdf.pages[0], "mediabox", [0, 0, 595, 842.2]), {"page"}),
        (line_added, {"lines"}),
        (letter_swapped, {"words"}),
    ],
)
def test_pdf(outputs, change, kinds):
    with_pdf(outputs[1], change)
    assert {kind for kind, _ in found(outputs)} == kinds


def page_beside(folder: Path) -> Path:
    return next((folder / "dxf").glob("*.pdf"))


@pytest.mark.parametrize(("change", "kinds"), [(line_added, {"lines"}), (letter_swapped, {"words"})])
def test_page_beside_a_drawing(outputs, change, kinds):
    with_pdf(outputs[1], change, page_beside(outputs[1]).relative_to(outputs[1]).as_posix())
    assert {kind for kind, _ in found(outputs)} == kinds


def test_a_page_beside_a_drawing_that_is_missing_or_beside_none(outputs):
    page = page_beside(outputs[1])
    name = page.relative_to(outputs[1]).as_posix()
    page.rename(page.with_name("beside_none.pdf"))
    told = list(differences("wash", *(Output(folder) for folder in outputs)))
    assert [(one.kind, one.before, one.after) for one in told] == [
        ("files", NOTHING, tuple(sorted((name, "dxf/beside_none.pdf")))),
        ("files", name, NOTHING),
    ]


def test_file_missing_and_file_more(outputs):
    (outputs[1] / "job-sheet.pdf").unlink()
    (outputs[1] / "more.txt").write_text("x", encoding="utf-8")
    assert {path for kind, path in found(outputs) if kind == "files"} >= {"files", ""}


def test_another_name_is_told_and_its_drawing_compared_all_the_same(outputs):
    path = sheet_of(outputs[1])
    changed_plan(
        outputs[1],
        lambda plan: plan.__setitem__(
            "files", sorted("sheets/x.svg" if name == f"sheets/{path.name}" else name for name in plan["files"])
        ),
    )
    path.rename(path.with_name("x.svg"))
    assert [kind for kind, _ in found(outputs)] == ["name"]


def test_refused_or_broken_in_one_alone(outputs):
    shutil.rmtree(outputs[1])
    outputs[1].with_suffix(".refused").write_text("no", encoding="utf-8")
    assert [kind for kind, _ in found(outputs)] == ["refused"]
    outputs[1].with_suffix(".refused").rename(outputs[1].with_suffix(".broken"))
    assert [kind for kind, _ in found(outputs)] == ["broken"]


def test_a_row_explains_what_it_names_and_nothing_else(outputs, capsys):
    edited(sheet_of(outputs[1]), 'aria-label="V"', 'aria-label="W"')
    edited(outputs[1] / "holes.csv", "15 copper", "15 steel")
    row = Intended("letters", ("label",), "words", lambda one, *_: one.after == "W", "a test")
    result = compared("wash", outputs[0].parent, outputs[1].parent, (*INTENDED, row))
    assert result.explained == {"letters": 1}
    assert [one.kind for one in result.unexplained] == ["list"]
    assert not report([result])
    told = capsys.readouterr().out
    assert "before '15 copper'" in told
    assert "after  '15 steel'" in told
    assert "names with the job in them: explained nothing" in told
    assert "1 differences that nothing explains, in 1 jobs" in told


def explained(outputs):
    result = compared("wash", outputs[0].parent, outputs[1].parent)
    return dict(result.explained), [one.path for one in result.unexplained]


def test_another_fingerprint_is_meant_where_each_piece_has_its_own(outputs):
    def other(row, fingerprint):
        if row["piece"] == "a 1-3":
            row["fingerprint"] = fingerprint

    changed_plan(outputs[1], lambda plan: plan["pieces"][0].__setitem__("fingerprint", "01234567"))
    with_cells(outputs[1] / "pieces.csv", lambda row: other(row, "01234567"))
    assert explained(outputs) == ({"fingerprints of pieces": 2}, [])
    # The list of pieces with another one than the plan has.
    with_cells(outputs[1] / "pieces.csv", lambda row: other(row, "76543210"))
    assert explained(outputs)[1] == ["row 2, a 1-3: fingerprint"]


def test_two_pieces_that_are_not_told_apart_any_more_are_not_meant(outputs):
    def alike(plan):
        for piece in plan["pieces"]:
            piece["fingerprint"] = "01234567"

    changed_plan(outputs[1], alike)
    assert explained(outputs)[1] != []


def test_the_leeway_of_a_round_hole_is_not_meant_to_change(outputs):
    def less(row):
        row["you may be mm"] = str(float(row["you may be mm"]) - 0.5)

    with_cells(outputs[1] / "holes.csv", less)
    assert [one for one in explained(outputs)[1] if "you may be" in one]


@pytest.fixture
def both(finished, tmp_path):
    """Two copies of one output, each to be changed."""
    for name in ("before", "after"):
        shutil.copytree(finished / "wash", tmp_path / name / "wash")
    return tmp_path / "before" / "wash", tmp_path / "after" / "wash"


def rows_and_rest(both):
    """Which rows explain how much, and what none does."""
    result = compared("wash", both[0].parent, both[1].parent)
    return dict(result.explained), [(one.kind, one.path) for one in result.unexplained]


def without_proof(plan) -> None:
    for key in ("job_file", "digests", "seal"):
        del plan[key]


def test_what_proves_an_output_is_meant_where_it_proves_it(both):
    changed_plan(both[0], without_proof)
    assert rows_and_rest(both) == ({"the job's file": 1, "digests": 1, "the seal": 1}, [])
    # A list that was changed since, and with it what plan.json says of it: its own sum is not the one of the rest.
    edited(both[1] / "plan.json", '"size": ', '"size": 1')
    assert rows_and_rest(both) == ({"the job's file": 1}, [("plan", "/digests"), ("plan", "/seal")])


def test_another_file_s_name_is_not_meant(both):
    changed_plan(both[0], without_proof)
    changed_plan(both[1], lambda plan: plan.__setitem__("job_file", "wish.yaml"))
    assert ("plan", "/job_file") in rows_and_rest(both)[1]


@pytest.mark.parametrize(("before", "after", "is_meant"), [(1, 0, True), (0, 1, False), (2, 0, False), (1, -1, False)])
def test_a_pair_may_come_to_add_up_and_nothing_else(both, before, after, is_meant):
    """Thousandths that a measure from the top is out, before and after."""
    for folder, out in zip(both, (before, after), strict=True):

        def moved(row, out=out):
            row["from top mm"] = f"{float(row['from top mm']) + out / 1000:.3f}"

        with_cells(folder / "holes.csv", moved)
    explained, rest = rows_and_rest(both)
    assert (set(explained) == {"pairs add up"}, not rest) == (is_meant, is_meant)


def moved_down(number: int):
    """All that a page draws five points further down."""

    def change(pdf) -> None:
        pdf.pages[number].contents_add(b"1 0 0 1 0 -5 cm", prepend=True)

    return change


@pytest.mark.parametrize(
    ("name", "page", "is_meant"), [("job-sheet.pdf", 0, True), ("pack.pdf", 0, True), ("pack.pdf", -1, False)]
)
def test_lines_may_follow_words_in_running_text_and_on_no_template(both, name, page, is_meant):
    with_pdf(both[1], moved_down(page), name)
    assert all(kind == "lines" for kind, _ in rows_and_rest(both)[1])
    assert rows_and_rest(both)[0] == {}, "no word has changed"
    with_pdf(both[1], partial(letter_swapped, number=page), name)
    explained, rest = rows_and_rest(both)
    assert ("layout after changed words" in explained) == is_meant
    assert {kind for kind, _ in rest} == ({"words"} if is_meant else {"words", "lines"})


def test_a_line_more_is_not_meant_where_words_have_changed(both):
    with_pdf(both[1], letter_swapped, "job-sheet.pdf")
    with_pdf(both[1], line_added, "job-sheet.pdf")
    explained, rest = rows_and_rest(both)
    assert explained == {}
    assert {kind for kind, _ in rest} == {"words", "lines"}


def test_a_figure_on_a_sheet_is_not_meant_to_change_where_no_finding_has(both):
    sheet = sheet_of(both[1])
    figure = re.search(r'aria-label="(\d\d?)"', sheet.read_text(encoding="utf-8"))
    assert figure is not None
    edited(sheet, figure[0], f'aria-label="{int(figure[1]) + 1}"')
    explained, rest = rows_and_rest(both)
    assert (explained, [kind for kind, _ in rest]) == ({}, ["label"])


def test_the_print_behind_a_title_is_that_of_the_piece(both):
    title = re.search(r"<title>(.*), piece ([0-9a-f]{8})</title>", sheet_of(both[0]).read_text(encoding="utf-8"))
    assert title is not None
    edited(sheet_of(both[0]), f", piece {title[2]}</title>", "</title>")
    assert rows_and_rest(both) == ({"fingerprint in a title": 1}, [])
    edited(sheet_of(both[1]), f", piece {title[2]}</title>", ", piece 01234567</title>")
    assert [kind for kind, _ in rows_and_rest(both)[1]] == ["label"]


def test_a_web_is_meant_to_be_less_only_down_to_the_outermost_place(both):
    # A hole that is no outline: less is left beside it on one side than there was.
    changed_plan(both[1], lambda plan: plan["pieces"][0]["cuts"][0]["web"].__setitem__("left", 1.0))
    assert rows_and_rest(both)[0] == {}


def test_the_same_number_gives_the_same_job():
    assert compare_jobs.seeded_job(7) == compare_jobs.seeded_job(7)
    assert compare_jobs.seeded_job(7) != compare_jobs.seeded_job(8)


def test_two_checkouts_are_made_and_a_fault_in_one_is_found(tmp_path):
    """A copy of the package in which a figure of 3 mm of room is 4: its plans, lists and papers differ."""
    for name in ("before", "after"):
        shutil.copytree(ROOT / "cutmarks", tmp_path / name / "cutmarks", ignore=shutil.ignore_patterns("__pycache__"))
    edited(tmp_path / "after" / "cutmarks" / "limits.py", '3.0,\n        "1/8 in all', '4.0,\n        "1/8 in all')
    (tmp_path / "work").mkdir()
    results = run(tmp_path / "before", tmp_path / "after", 2, 5, tmp_path / "work")
    assert results is not None
    kinds = {one.kind for result in results for one in result.unexplained}
    assert {"plan", "list", "drawing", "words"} <= kinds
    assert "broken" not in kinds


def test_the_phone_s_page_explains_no_other_file(outputs):
    before, after = (Output(folder) for folder in outputs)
    row = next(one for one in INTENDED if one.name == "the phone's page")
    own = Difference("wash", "files", "wall.html", "", NOTHING, "wall.html")
    assert row.takes(own, before, after)
    assert not row.takes(replace(own, file="other.html", after="other.html"), before, after)
    assert not row.takes(replace(own, before="wall.html", after=NOTHING), before, after)
    assert not row.takes(replace(own, kind="plan", path="/digests/pack.pdf"), before, after)


def without_pages(folder: Path, how_many: int) -> None:
    """So many of the two pages beside a drawing are not there, not listed, and have no sum."""

    def less(plan):
        for name in names:
            plan["files"].remove(name)
            del plan["digests"][name]

    pages = sorted((folder / "dxf").glob("*.pdf"))
    assert len(pages) == 2
    names = [page.relative_to(folder).as_posix() for page in pages[:how_many]]
    for page in pages[:how_many]:
        page.unlink()
    changed_plan(folder, less)


def test_pages_beside_drawings_are_meant_where_there_were_none(both):
    without_pages(both[0], 2)
    assert rows_and_rest(both) == ({"the page beside a drawing": 4}, [])
    # One that is changed since: plan.json has no longer its sum.
    with_pdf(both[1], line_added, page_beside(both[1]).relative_to(both[1]).as_posix())
    explained, rest = rows_and_rest(both)
    assert explained == {"the page beside a drawing": 3}
    assert [path.rpartition("/")[2] for _, path in rest] == [page_beside(both[1]).name]


@pytest.mark.parametrize("less", [(1, 0), (0, 2), (0, 1)])
def test_a_page_beside_one_drawing_of_two_or_one_that_is_lost_is_not_meant(both, less):
    for folder, how_many in zip(both, less, strict=True):
        without_pages(folder, how_many)
    explained, rest = rows_and_rest(both)
    assert explained == {}
    assert sorted(kind for kind, _ in rest) == sorted(("files", "plan") * sum(less))


def test_who_read_it_explains_nobody_s_name(outputs):
    before, after = (Output(folder) for folder in outputs)
    row = next(one for one in INTENDED if one.name == "who read it")
    own = Difference("wash", "list", "as-built.csv", "column by", NOTHING, ("", ""))
    assert row.takes(own, before, after)
    assert not row.takes(replace(own, after=("", "JK")), before, after)
    assert not row.takes(replace(own, path="column nearby"), before, after)


class Said(Output, frozen=True):
    """An output of which only the words of one PDF matter, and its lists, of which it has none."""

    said: tuple[Page, ...] = ()

    def pages(self, name: str) -> tuple[Page, ...]:
        return self.said


def said_on(folder: Path, *pages: str) -> Said:
    return Said(folder, tuple(Page(210.0, 297.0, tuple(words.split()), ()) for words in pages))


@pytest.mark.parametrize(
    ("after", "is_meant"),
    [
        (("IN THE ORDER OF FIXING splash 3-7 MARK 74½ CORE 35", "READ 69 and 84"), True),
        (("IN THE ORDER OF FIXING splash 3-7 MARK 74 CORE 35", "READ 69 and 84"), False),  # a figure is another
        (("IN THE ORDER OF FIXING splash 3-7 MARK 74½ CORE 35",), False),  # the wall's are gone
        (("TILES TO CUT splash 3-7 74½ CORE 35", "READ 69 and 84 again"), False),  # it is no new list
    ],
)
def test_a_list_of_the_site_is_meant_where_every_figure_is_on_it_still(tmp_path, after, is_meant):
    before = said_on(tmp_path, "TILES TO CUT splash 3-7, 74½ CORE 35 page 1 of 2", "near 69 far 84 page 2 of 2")
    one = Difference("wash", "words", "job-sheet.pdf", "page 1, word 1", "TILES", "IN")
    assert list_drawn_anew(one, before, said_on(tmp_path, *after)) is is_meant


@pytest.mark.parametrize(
    ("high", "long", "is_meant"),
    [
        (30.0, 9.0, True),
        (30.0, 10.0, False),  # it has only moved
        (30.0, 11.0, False),  # it is larger
        (41.0, 9.0, False),  # it is no part of the head
    ],
)
def test_a_thumbnail_is_meant_to_be_smaller_and_in_the_head_alone(both, high, long, is_meant):
    output = Output(both[1])
    sheet = next(key for key in output.files() if key.startswith("sheet "))
    was = Row("none black 0.13 - ML", (100.0, 20.0, 110.0, 20.0))
    now = Row("none black 0.13 - ML", (101.0, high, 101.0 + long, high))
    one = Difference("wash", "drawing", sheet, "drawn, 3", (was,), (now,))
    assert thumbnail_with_larger_letters(one, output, output) is is_meant


@pytest.mark.parametrize(
    ("explains", "was", "now", "is_meant"),
    [
        (counted_from_the_first, "4th in, counting from 4 past D, a", "4th in (the 1st begins 4 past D), a", True),
        (counted_from_the_first, "4th in, counting from 4 past D, a", "4th in (the 1st begins 5 past D), a", False),
        (counted_from_the_first, "2nd up, counting from 6 above B, a", "2nd up (the 1st begins 6 above B), a", True),
        (sure_in_per_cent, "it goes over 880 times in 1000 (3)", "88 % sure that it goes over (3)", True),
        (sure_in_per_cent, "it goes over 880 times in 1000 (3)", "87 % sure that it goes over (3)", False),
        (sure_in_per_cent, "it goes over 880 times in 1000 (3)", "88 % sure that it goes over (4)", False),
        (drilled_in_each_corner, "6 holes in the inside corners, then", "drill 6 in each inside corner, then", True),
        (drilled_in_each_corner, "6 holes in the inside corners, then", "drill 5 in each inside corner, then", False),
        (
            one_side_is_plunged,
            "plunge its sides from the back",
            "plunge the side between its corners from the back",
            True,
        ),
        (one_side_is_plunged, "its sides by hand, then", "the side between its corners by hand, then", True),
        (
            one_side_is_plunged,
            "plunge its sides from the back",
            "plunge the side between its corners from the face",
            False,
        ),
        (
            one_side_is_plunged,
            "saw 5, then its sides by hand",
            "saw 6, then the side between its corners by hand",
            False,
        ),
    ],
)
def test_other_words_are_meant_with_the_same_figures_alone(both, explains, was, now, is_meant):
    before, after = (Output(folder) for folder in both)
    assert explains(Difference("wash", "list", "pieces.csv", "row 2, a", was, now), before, after) is is_meant


def test_a_name_is_meant_to_have_its_own_piece_s_print(both):
    before, after = (Output(folder) for folder in both)
    piece = next(iter(after.pieces))
    old, new = before.pieces[piece]["fingerprint"], "0badcafe"
    after.pieces[piece]["fingerprint"] = new
    named = Difference("wash", "name", "drawing", "", f"dxf/a_{old}.dxf", f"dxf/a_{new}.dxf")
    assert by_its_print(named, before, after)
    assert not by_its_print(replace(named, after=f"dxf/b_{new}.dxf"), before, after)
    assert not by_its_print(replace(named, after="dxf/a_0badcaff.dxf"), before, after)
    rows = (Row(f"1 a_{old}", ()),), (Row(f"1 a_{new}", ()),)
    said = Difference("wash", "dxf", "drawing", "pairs, 9", *rows)
    assert by_its_print(said, before, after)
    assert not by_its_print(replace(said, after=(Row(f"10 a_{new}", ()),)), before, after)


def test_what_waits_is_meant_to_say_so_in_its_name_and_on_its_layers(both):
    before, after = (Output(folder) for folder in both)
    piece = next(iter(after.pieces))
    for waits in (False, True):
        after.pieces[piece]["infills"] = [{"side": "left"}] if waits else []
        named = Difference("wash", "name", f"drawing {piece}", "", "dxf/a_face_mm_1.dxf", "dxf/a_wait_face_mm_1.dxf")
        said = Difference(
            "wash", "dxf", f"drawing {piece}", "pairs, 9", (Row("1 a_face_mm_1", ()),), (Row("1 a_wait_face_mm_1", ()),)
        )
        layer = replace(said, before=(Row("8 OUTER-NOMINAL", ()),), after=(Row("8 WAIT_OUTER-NOMINAL", ()),))
        in_table = replace(said, before=(Row("2 CUT", ()),), after=(Row("2 WAIT_CUT", ()),))
        assert [waits_in_its_name(one, before, after) for one in (named, said)] == [waits, waits]
        assert [waits_on_its_layers(one, before, after) for one in (layer, in_table)] == [waits, waits]
        assert not waits_in_its_name(replace(named, after="dxf/b_wait_face_mm_1.dxf"), before, after)
        assert not waits_in_its_name(replace(said, after=(Row("1 a_wait_face_mm_2", ()),)), before, after)
        assert not waits_on_its_layers(replace(layer, after=(Row("8 WAIT_INNER-NOMINAL", ()),)), before, after)
        assert not waits_on_its_layers(replace(layer, after=(Row("8 OUTER-NOMINAL", ()),)), before, after)
    # A reading that came back: it may be cut.
    assert waits_in_its_name(named, before, after)
    after.plan["infills_found"].append({"piece": piece})
    assert not waits_in_its_name(named, before, after)


def test_a_sum_is_meant_under_another_name_where_the_file_lies_there(both):
    before, after = (Output(folder) for folder in both)
    name = next(name for name in before.plan["digests"] if name.startswith("dxf/") and name.endswith(".dxf"))
    now = re.sub("[0-9a-f]{8}[.]dxf$", "0badcafe.dxf", name)
    (both[1] / name).rename(both[1] / now)
    true = after.plan["digests"].pop(name)
    after.plan["digests"][now] = true
    one = Difference("wash", "plan", "plan.json", f"/digests/{now}", NOTHING, true)
    assert digest_under_another_name(one, before, after)
    assert not digest_under_another_name(replace(one, after={**true, "size": 2}), before, after)
    gone = replace(one, path=f"/digests/{name}", before=true, after=NOTHING)
    assert digest_under_another_name(gone, before, after)
    del after.plan["digests"][now]  # it is lost, and not renamed
    assert not digest_under_another_name(gone, before, after)


@pytest.mark.parametrize(
    ("now", "is_meant"),
    [
        ("from the left (towards V) 74½, 97.9 % sure", True),
        ("from the left (towards V) 74, 97.9 % sure", False),  # a figure is another
        ("from the left (towards V) 74½, 97.8 % sure", False),  # so sure it was not
        ("from the left 74½, 97.9 % sure", False),  # it says nothing new of a side
    ],
)
def test_a_list_is_meant_to_say_its_sides_with_every_figure(both, now, is_meant):
    before, after = Said(both[0], said_pages("from the left 74½, 979 times in 1000")), Said(both[1], said_pages(now))
    one = Difference("wash", "words", "job-sheet.pdf", "page 1, word 1", "from", "from")
    assert list_that_says_hands(one, before, after) is is_meant


@pytest.mark.parametrize(
    ("now", "is_meant"),
    [
        ("402.1 and 7½ ask whoever sent this", True),
        ("402.7 and 7½ ask whoever sent this", False),  # over half a millimetre off
        ("402.1 ask whoever sent this", False),  # a figure is lost
        ("402.1 and 7½", False),  # nobody is to be asked
    ],
)
def test_a_shop_s_page_is_meant_to_have_tenths_and_to_say_whom_to_ask(both, now, is_meant):
    before, after = Said(both[0], said_pages("402 and 7½")), Said(both[1], said_pages(now))
    key = next(key for key in before.files() if key.startswith("page beside drawing"))
    one = Difference("wash", "words", key, "page 1, word 1", "402", "402.1")
    assert page_with_who_is_asked(one, before, after) is is_meant


@pytest.mark.parametrize(
    ("now", "is_meant"),
    [
        ("no kerf is taken off 402 and the kerf on its right", True),
        ("no kerf is taken off 403 and the kerf on its right", False),  # another figure
        ("no kerf is taken off 402", False),  # nothing more is said of the kerf
    ],
)
def test_a_shop_s_page_is_meant_to_say_the_side_of_the_kerf(both, now, is_meant):
    before, after = Said(both[0], said_pages("no kerf is taken off 402")), Said(both[1], said_pages(now))
    key = next(key for key in before.files() if key.startswith("page beside drawing"))
    assert page_with_the_kerf(Difference("wash", "words", key, "page 1, word 1", "a", "b"), before, after) is is_meant
    one = Difference("wash", "words", "job-sheet.pdf", "page 1, word 1", "a", "b")
    assert not page_with_the_kerf(one, before, after)


@pytest.mark.parametrize(
    ("now", "is_meant"),
    [
        ("snap 74 then the side between its corners by hand", True),
        ("snap 75 then the side between its corners by hand", False),  # another figure
        ("snap 74 then by hand", False),  # no side is called one
    ],
)
def test_a_list_is_meant_to_call_a_single_side_one(both, now, is_meant):
    before, after = Said(both[0], said_pages("snap 74 then its sides by hand")), Said(both[1], said_pages(now))
    one = Difference("wash", "words", "job-sheet.pdf", "page 1, word 1", "sides", "side")
    assert list_with_one_side(one, before, after) is is_meant
    assert not list_with_one_side(replace(one, file="found.pdf"), before, after)


def said_pages(*pages: str) -> tuple[Page, ...]:
    return said_on(Path(), *pages).said


def test_a_template_is_meant_to_say_hands_and_to_be_cut_as_it_was(both):
    key = next(key for key in Output(both[1]).files() if key.startswith("sheet "))
    sheet = both[1] / Output(both[1]).files()[key]
    text = sheet.read_text(encoding="utf-8")
    one = Difference("wash", "label", key, "words, word 9", "", "RIGHT edge")
    assert not sheet_that_says_hands(one, Output(both[0]), Output(both[1]))  # no edge is called otherwise
    more = text.replace('aria-label="V"', 'aria-label="V RIGHT edge"', 1)
    assert more != text
    sheet.write_text(more, encoding="utf-8")
    assert sheet_that_says_hands(one, Output(both[0]), Output(both[1]))
    figure = next(iter(re.findall(r'aria-label="(\d{2,})"', more)))
    sheet.write_text(more.replace(f'aria-label="{figure}"', 'aria-label="9999"'), encoding="utf-8")
    assert not sheet_that_says_hands(one, Output(both[0]), Output(both[1]))


def test_a_frame_with_other_figures_is_no_panel_that_has_moved(both):
    output = Output(both[1])
    key = next(key for key in output.files() if key.startswith("sheet "))
    rows = (Row("none black 0.13 - ML", (1.0, 2.0)),), (Row("none black 0.13 - ML", (1.0, 2.0, 3.0)),)
    assert not panel_beside_a_print(Difference("wash", "drawing", key, "drawn, 1", *rows), output, output)


@pytest.mark.parametrize(
    ("opening", "start", "is_meant"), [(98.5, "mark", True), (99.5, "mark", False), (98.5, "edge", False)]
)
def test_an_opening_is_meant_to_be_read_from_a_line_where_it_ends_there(both, opening, start, is_meant):
    before, after = (Output(folder) for folder in both)
    piece = next(iter(before.pieces))
    # 300 to the edge, of which 201.5 were taken off: 98.5 are left.
    off = [{"what": "to its edge", "mm": 201.5}]
    before.pieces[piece]["infills"] = [
        {"side": "right", "from": {"edge": "right"}, "off": off, "ends": [{"opening": 300.0}]}
    ]
    after.pieces[piece]["infills"] = [
        {"side": "right", "from": {start: "V"}, "off": [], "ends": [{"opening": opening}]}
    ]
    one = Difference("wash", "plan", "plan.json", f"/pieces/{piece}/infills/0/from/mark", NOTHING, "V")
    assert read_from_a_line(one, before, after) is is_meant
