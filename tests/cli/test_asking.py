"""The questions of cutmarks new: how many, what one line says, back, an end on the way, and the last look."""

from __future__ import annotations

import re

import pytest

from cutmarks import load_job
from cutmarks.cli.asking import OPENING
from cutmarks.cli.dealing import edge_dealt, start_dealt, thing_dealt, tile_dealt
from cutmarks.cli.draft import JobDraft
from cutmarks.cli.terminal import answer_to
from cutmarks.marks.model import Role, Stroke
from cutmarks.sheets.measure_up import measure_up_pages
from tests.cli.test_new import answers

TWO_PIPES_AND_A_BOX = (
    "Quay Cottage, laundry",
    "",
    "middle of the sink",
    "top of the packers",
    "rib, 248 x 398, joint 2, 5 in 1248",
    "1140 left of V at B, 1136 left of V at 1450 above B, end panel",
    "1065 right of V at B, 1062 right of V at 1450 above B, next wall, 14 to come",
    "5 below B, worktop",
    "1462 above B, ceiling",
    "hot, 15 copper, 67 to 83 left of V, 212 to 228 above B, cover 65",
    "cold, 15 copper, 67 to 83 right of V, 212 to 228 above B, cover 65",
    "socket, socket box, 318 to 388 right of V, 905 to 975 above B, cover 86 x 86",
    "",
    "joint on V, sits on B",
    "25 tiles, box 8",
    "",
)


@pytest.fixture
def asked(monkeypatch):
    """The questions as they are put, with the answers that each got."""
    seen: list[tuple[str, str]] = []
    real = answer_to

    def listening(question, default=None):
        answer = real(question, default)
        seen.append((question, answer))
        return answer

    monkeypatch.setattr("cutmarks.cli.asking.answer_to", listening)
    return seen


def lines_to_write_on():
    """The ruled lines of the blank sheet for a wall; those of its table of holes apart."""
    rules = [
        sorted(
            {
                round(mark.path[0].y, 2)
                for mark in sheet.marks
                if isinstance(mark, Stroke)
                and mark.role is Role.BOX
                and not mark.closed
                and len({vertex.y for vertex in mark.path}) == 1
            },
            reverse=True,
        )
        for sheet in measure_up_pages("wall", "A4")
    ]
    first, second = rules
    holes = [y for y in second if second[0] - y <= 9.0 * second.index(y) + 0.1]
    return len(first) + len(second), len(holes)


def test_two_pipes_and_a_box_take_fewer_questions_than_the_blank_sheet_has_lines(run, tmp_path, asked):
    result = run("new", input=answers(*TWO_PIPES_AND_A_BOX))
    assert result.exit_code == 0, result.output
    job = load_job(tmp_path / "job.yaml")
    assert [hole.name for hole in job.surfaces[0].holes] == ["hot", "cold", "socket"]
    assert len(job.surfaces[0].edges) == 4
    lines, for_holes = lines_to_write_on()
    # Counted on the printed sheet: 12 lines on its first page, 22 on its second, of which 15 are for holes.
    assert (lines, for_holes) == (34, 15)
    # Fewer than on a sheet that had lines for these three holes alone.
    assert len(asked) < lines - (for_holes - 3)
    # One to a line that is written on (job, surface, V, B, tile, 4 edges, 3 holes, start), what is in hand, no more,
    # the last look.
    assert len(asked) == 13 + 3


def test_what_is_assumed_is_shown_before_anything_is_written(run, tmp_path):
    result = run("new", input=answers(*TWO_PIPES_AND_A_BOX[:-1]))
    assert not (tmp_path / "job.yaml").exists()
    look = result.stdout.partition("THE JOB AS IT WILL BE WRITTEN")[2]
    assert "across: 67 to 83 left of V" in look
    assumed = look.partition("ASSUMED")[2]
    assert "units mm, bond stack: the usual" in assumed
    assert "bottom edge: one reading, taken as level" in assumed
    assert "holes hot, cold: the end comes off" in assumed


SLIPS = (
    *("back", "?"),
    "Quay Cottage, laundry",
    "cellar",
    "",
    *("", "?"),
    "middle of the sink",
    "top of the packers",
    *("", "rib", "14", "?", "back"),
    "rib, 248 x 398, joint 2, 5 in 1248",
    *("1140", "-1140 left of V", "1140 above B"),
    "1140 left of V at B, 1136 left of V at 1450 above B, end panel",
    *("next wall", "?", "1065 right of V at B", "14 foot long", "back", "back"),
    "1065 right of V at B, 1062 right of V at 1450 above B, next wall, 14 to come",
    "5 below B, worktop",
    "1462 above B, ceiling",
    *("hot 15 copper 67 to 83 left of V", "hot, 67 to 83", "hot", "help", "?", "", "leave out"),
    "hot, 15 copper, 67 to 83 left of V, 212 to 228 above B, cover 65",
    *(
        "hot, 15 copper, 67 to 83 right of V, 212 to 228 above B, 65",
        "cold, 15 copper, 67 to 83 cm right of V, 65 above",
    ),
    *("cold, level with hot, cover 65", "67 to 83 right of V", "?", "cold", "back"),
    "cold, 15 copper, 67 to 83 right of V, 212 to 228 above B, cover 65",
    "socket, socket box, 318 to 388 right of V, 905 to 975 above B, cover 86 x 86",
    "",
    *("crooked", "joint on B", "sits on B"),
    "joint on V, sits on B",
    *("lots", "25 tiles, box of plenty"),
    "25 tiles, box 8",
    *("99", "colour", "hot cover: big", "size: 248", "joint: leave out", "kind: floor"),
    "",
)
"""The same job with a wrong answer, ?, help, back or an empty one at every question."""


def test_slips_on_the_way_change_nothing(run, tmp_path):
    assert run("new", "right.yaml", input=answers(*TWO_PIPES_AND_A_BOX)).exit_code == 0
    result = run("new", "slips.yaml", input=answers(*SLIPS))
    assert result.exit_code == 0, result.output
    assert (tmp_path / "slips.yaml").read_bytes() == (tmp_path / "right.yaml").read_bytes()
    assert list(tmp_path.glob("*.answers")) == []


def test_every_wrong_answer_has_its_sentence(run):
    result = run("new", input=answers(*SLIPS))
    for sentence in (
        "There is nothing before this question.",
        '"cellar" is neither a surface nor a unit',
        "Everything is measured from it",
        "The tile must be known",
        '"14" is no size',
        '"1140" does not say from what',
        '"hot 15 copper 67 to 83 left of V" stands where the name should',
        "A position must be known",
        "It must be known: write it, or leave out for all of hot.",
        '"67 to 83" does not say from what',
        '"?" is no name',
        '"65" does not say what it is of: write the word for it before it, as in cover 65',
        '"crooked" is no bond',
        '"99" is no line of this',
        '"colour" is no line of this',
        "Whether it is a wall or a floor is in all its positions",
        "A job cannot be without it",
    ):
        assert sentence in result.stderr, sentence


@pytest.mark.parametrize("end", ["pipe", "keyboard"])
@pytest.mark.parametrize("count", range(len(TWO_PIPES_AND_A_BOX)))
def test_ended_at_any_question_it_goes_on_there(run, tmp_path, monkeypatch, count, end):
    assert run("new", "whole.yaml", input=answers(*TWO_PIPES_AND_A_BOX)).exit_code == 0
    first = answers(*TWO_PIPES_AND_A_BOX[:count])
    with monkeypatch.context() as patched:
        if end == "keyboard":
            patched.setattr("cutmarks.cli.asking.answer_to", _ended_after(count))
        result = run("new", input=first)
    assert result.exit_code == (130 if end == "keyboard" else 2)
    assert not (tmp_path / "job.yaml").exists()
    if count:
        assert "your answers are kept in job.yaml.answers, and the same command goes on there" in result.stderr
    else:
        assert "nothing was written" in result.stderr
    again = run("new", input=answers(*TWO_PIPES_AND_A_BOX[count:]))
    assert again.exit_code == 0, again.output
    assert f"{count} answer" in again.stdout or not count
    assert (tmp_path / "job.yaml").read_bytes() == (tmp_path / "whole.yaml").read_bytes()
    assert not (tmp_path / "job.yaml.answers").exists()


def _ended_after(count):
    """Answers so many questions, then the keyboard ends it."""
    said = iter(TWO_PIPES_AND_A_BOX[:count])

    def answer_to(_question, _default=None):
        try:
            return next(said)
        except StopIteration:
            raise KeyboardInterrupt from None

    return answer_to


def test_what_pipes_in_nothing_but_wrong_answers_is_ended(run, tmp_path):
    result = run("new", input=answers("My job", "wall", *["?"] * 1000))
    assert result.exit_code == 2
    assert "100 answers in a row were not taken" in result.stderr
    assert (tmp_path / "job.yaml.answers").read_text(encoding="utf-8").endswith("job: My job\nsurface: wall\n")


def test_answers_of_before_that_are_not_taken_any_more_are_shown(run, tmp_path):
    run("new", input=answers(*TWO_PIPES_AND_A_BOX[:6]))
    kept = tmp_path / "job.yaml.answers"
    kept.write_text(
        kept.read_text(encoding="utf-8").replace("tile: rib, 248 x 398", "tile: rib, 248"), encoding="utf-8"
    )
    result = run("new", input="")
    assert "4 answers taken up" in result.stdout
    assert "Not taken any more, answer it again: tile: rib, 248, joint 2, 5 in 1248" in result.stdout
    assert "Not taken any more, answer it again: left: 1140 left of V at B" in result.stdout


def test_a_file_of_that_name_that_is_none_of_ours_is_left_alone(run, tmp_path):
    (tmp_path / "job.yaml.answers").write_text("mine\n", encoding="utf-8")
    result = run("new", input=answers(*TWO_PIPES_AND_A_BOX))
    assert result.exit_code == 2
    assert "job.yaml.answers is there already, and is no file of answers" in result.stderr
    assert (tmp_path / "job.yaml.answers").read_text(encoding="utf-8") == "mine\n"
    assert not (tmp_path / "job.yaml").exists()


def test_help_says_what_is_taken_at_every_question(run, asked):
    lines = [line for answer in TWO_PIPES_AND_A_BOX for line in ("help", answer)]
    result = run("new", input=answers(*lines))
    assert result.exit_code == 0, result.output
    assert len(asked) == 2 * len(TWO_PIPES_AND_A_BOX)
    for said in (
        "floor | wall, in",
        "no measure is needed",
        "long side across",
        "gap 5",
        "depth 62",
        "1: 2" * 0 or "2: in",
    ):
        assert said in result.stdout
    assert "back: the answer before, again" in OPENING


@pytest.mark.parametrize(
    ("change", "line"),
    [
        (("2: cm",), "units: cm"),
        (("joint: 3",), "        joint: 3"),
        (("joint", "3"), "        joint: 3"),
        (("hot cover: none",), "        cover: none "),
        (("hot end: runs on",), "        end: runs on "),
        (("hot depth: 62 behind the board",), "        depth: 62 behind the board"),
        (("top: leave out",), None),
        (("top: leave out", "top: 1500 above B"), "      top: {at: 1500 above B}"),
        (("tile: slate",), "        tile: slate"),
        (("V: middle of the bath",), '      V: "plumb, middle of the bath"'),
        (("thickness: 9",), "    thickness: 9"),
        (("bond: half",), "        bond: half"),
        (("start: middle on V and B",), "        start: {across: middle on V, up: middle on B}"),
        (("cold: leave out",), None),
        (("hot: hot, 22 copper, 64 to 86 left of V, 209 to 231 above B, cover 65",), "        what: 22 copper"),
        (("add", "tap, 15 copper, 500 to 515 right of V, 212 to 228 above B, none", ""), "      - name: tap"),
        (("add", "niche, 500 to 800 right of V, 412 to 628 above B", ""), "      - name: niche"),
        (("paper: A3",), "paper: A3"),
        (("job", ""), 'job: "Quay Cottage, laundry"'),
    ],
)
def test_any_line_is_changed_in_the_last_look_by_its_number_or_name(run, tmp_path, change, line):
    result = run("new", input=answers(*TWO_PIPES_AND_A_BOX[:-1], *change, ""))
    assert result.exit_code == 0, result.output
    text = (tmp_path / "job.yaml").read_text(encoding="utf-8")
    load_job(tmp_path / "job.yaml")
    if line is None:
        assert change[0].partition(":")[0] not in re.findall(r"^ *(?:- name: )?(\w+)", text, re.MULTILINE)
        assert "name: cold" not in text or "cold" not in change[0]
    else:
        assert any(one.startswith(line) for one in text.splitlines())


@pytest.mark.parametrize(
    ("answer", "keys"),
    [
        (
            "hot, 15 copper, 67 to 83 left of V, 212 to 228 above B, cover 65",
            {"what": "15 copper", "across": "67 to 83 left of V", "up": "212 to 228 above B", "cover": "65"},
        ),
        (
            "hot; left of V, 67 to 83; 212 to 228 above B; 15 copper; 65 rose; runs on",
            {
                "what": "15 copper",
                "across": "left of V, 67 to 83",
                "up": "212 to 228 above B",
                "cover": "65 rose",
                "end": "runs on",
            },
        ),
        (
            "near edge 67, far edge 83, left of V, in course 4, 98 up",
            None,
        ),
        (
            "tap, mixer valve, near edge 67, far edge 83, left of V, in course 4, 98 up, no cover, "
            "depth 62 behind the board",
            {
                "what": "mixer valve",
                "across": "near edge 67, far edge 83, left of V",
                "up": "in course 4, 98 up",
                "cover": "none",
                "depth": "62 behind the board",
            },
        ),
        ("15 copper, on V, centre 220 above B", {"what": "15 copper", "across": "on V", "up": "centre 220 above B"}),
        ("cold, dead on V, level with hot", {"across": "dead on V", "up": "level with hot"}),
        (
            "cold, same height as hot, 150 centres right of hot",
            {"across": "150 centres right of hot", "up": "same height as hot"},
        ),
        (
            "pan, soil 110, 640 to 750 right of V and 905 to 1015 above B, size 110 x 110",
            {"what": "soil 110", "across": "640 to 750 right of V", "up": "905 to 1015 above B", "size": "110 x 110"},
        ),
        ("door stop, 15 copper, on V, 67 to 83 above B", None),
        ("hole: door stop, on V, 67 to 83 above B", {"across": "on V", "up": "67 to 83 above B"}),
        ("pair, 75 either side of V, 200 to 215 above B", None),
        # What it is stands where it belongs; that no duct of 100 is known is said of it there.
        ("duct, 100 duct, on V, 67 to 83 above B", {"what": "100 duct", "across": "on V", "up": "67 to 83 above B"}),
        ("cold, level with hot", None),
        ("cold, 67 to 83 left of V, 67 to 83 right of V", None),
        ("cold, 67 to 83 lft of V", None),
        ("cold, 65", None),
        ("cold, what: a 65 thing, cover: ?", {"what": "a 65 thing", "cover": "?"}),
    ],
)
def test_a_line_about_a_hole_is_dealt_out_under_its_keys(answer, keys):
    draft = JobDraft(holes=[{"name": "hot"}])
    if keys is None:
        with pytest.raises(ValueError, match=r"[.:]"):
            thing_dealt(answer, draft)
        return
    kind, dealt = thing_dealt(answer, draft)
    assert kind == "hole"
    assert {key: value for key, value in dealt.items() if key != "name"} == keys


def test_a_tile_an_edge_and_a_start_in_a_line_each():
    draft = JobDraft()
    assert tile_dealt("rib 248 x 398, 2 joint, 5 in 1248, long side up, thickness 9", draft) == (
        "rib",
        {"size": "248 x 398", "run across": "5 in 1248", "lay": "long side up", "thickness": "9"},
        {"joint": "2"},
    )
    assert edge_dealt(
        "right: next wall, 1065 right of V at B, 1062 right of V at 1450 above B, 14 to come", "right", draft
    ) == {
        "at": "1065 right of V at B; 1062 right of V at 1450 above B",
        "what": "next wall",
        "still to come": "14",
    }
    assert tile_dealt("slab, 600 sq, joint: 3, glass", draft)[1] == {"size": "600 sq", "material": "glass"}
    assert edge_dealt("1065 right of V at B and 1062 right of V at 1450 above B", "right", draft) == {
        "at": "1065 right of V at B; 1062 right of V at 1450 above B"
    }
    assert edge_dealt("1140 left of V plumb end panel", "left", draft) == {
        "at": "1140 left of V",
        "what": "end panel",
        "true": "plumb",
    }
    assert edge_dealt("5 below B, worktop, level, gap 5", "bottom", draft) == {
        "at": "5 below B",
        "what": "worktop",
        "true": "level",
        "gap": "5",
    }
    assert start_dealt("third right, joint on V, sits on B", draft) == {
        "bond": "third right",
        "start across": "joint on V",
        "start up": "sits on B",
    }
    assert start_dealt("half, work left to right", draft) == {"bond": "half", "work": "left to right"}
    assert start_dealt("middle on V and B", draft) == {"start across": "middle on V", "start up": "middle on B"}
