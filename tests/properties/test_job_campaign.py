"""A slice of the campaign of mutated jobs, and that each of its looks finds what is planted."""

from __future__ import annotations

import ast
import json
import time
from collections.abc import Callable, Sequence
from pathlib import Path

import pypdf
import pytest
from ezdxf.filemanagement import new, readfile
from msgspec.structs import replace
from pypdf.generic import DictionaryObject, NameObject, TextStringObject

from cutmarks.errors import Fault, JobError, OutputError
from cutmarks.job import parse_job
from cutmarks.plan import Plan, make_plan
from tests.bench import job_campaign, job_read_back, job_reckoner
from tests.bench.apart import run_apart
from tests.bench.job_campaign import (
    Count,
    Outcome,
    failures_of,
    looked_at,
    numbers_of,
    planned,
    shrunk,
    slow_ones,
    written_wrong,
)
from tests.bench.job_looks import faulty, unsaid
from tests.bench.job_mutations import Case, case, trees
from tests.bench.job_reckoner import MadeCut, Reckoned, reckon
from tests.bench.job_seeds import SMALL, WALL, seeds
from tests.bench.job_slow import Slow

SLICE = 150


@pytest.mark.parametrize("first", range(0, SLICE, 15))
def test_mutated_jobs(first: int) -> None:
    wrong = []
    for number in range(5_000_000 + first, 5_000_000 + first + 15):
        one = case(number)
        wrong += [(number, one.mutations, *failure) for failure in looked_at(one.text)[2]]
    assert wrong == []


@pytest.mark.parametrize("seed", ["outlines", "turned", "two areas"])
def test_written_jobs(seed: str) -> None:
    first = next(one for one in map(case, range(6_000_000, 7_000_000)) if one.seed == seed and is_planned(one.text))
    assert written_wrong(first.text) == []


def is_planned(text: str) -> bool:
    return looked_at(text)[0].result.kind == "planned"


def test_files_that_cannot_be_written_are_a_failure(monkeypatch: pytest.MonkeyPatch) -> None:
    def planted(plan: Plan, out: Path) -> list[str]:
        raise OutputError("the disk is full")

    monkeypatch.setattr(job_campaign, "write_and_read_back", planted)
    assert written_wrong(WALL) == ["not written: the disk is full"]


def test_every_seed_is_planned_and_most_of_its_cuts_are_reckoned_again() -> None:
    cuts, count, named = 0, 0, 0
    for seed, text in seeds().items():
        outcome = planned(text)
        reckoned = reckon(text, outcome.cuts)
        assert reckoned.wrong == []
        if seed == "one line":
            continue  # read by the reader alone: tests of the reader hold it against the same job by its keys
        cuts, count, named = cuts + len(outcome.cuts), count + reckoned.count, named + reckoned.named
    assert count > 0.6 * cuts
    assert named > 0.4 * cuts


def test_a_number_makes_its_case_again_and_others_make_others() -> None:
    assert case(17) == case(17)
    assert len({case(number).text for number in range(40)}) > 35
    assert {case(number).seed for number in range(200)} == set(trees())


def test_slices_make_the_whole() -> None:
    assert sorted([*numbers_of(11, 3, "1/2"), *numbers_of(11, 3, "2/2")]) == list(numbers_of(11, 3, "1/1"))
    assert list(numbers_of(3, 2, "1/1")) == [2_000_000, 2_000_001, 2_000_002]


def test_the_command_ends_with_1_where_anything_failed(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(job_campaign, "SLOW", ())
    monkeypatch.setattr(job_campaign, "case", lambda number: Case(number, "wall", ("nothing",), WALL))
    monkeypatch.setattr("sys.argv", ["job_campaign", "--jobs", "2", "--seed", "3", "--written", "1"])
    assert job_campaign.main() == 0
    assert "2 jobs: 2 planned, 0 refused, 0 without a start; 1 written and read back" in capsys.readouterr().out
    monkeypatch.setattr(job_campaign, "reckon", lambda text, cuts: Reckoned(wrong=["another figure"]))
    monkeypatch.setattr(job_campaign, "SHRINKING", 0.0)
    assert job_campaign.main() == 1
    said = capsys.readouterr().out
    assert "case 3000000 (wall; nothing): reckoned\nanother figure" in said
    assert "    job: Heron Row, porch" in said
    assert "failures: reckoned 2" in said
    monkeypatch.setattr("sys.argv", ["job_campaign", "--only", "17"])
    assert job_campaign.main() == 1
    assert capsys.readouterr().out.startswith("# case 17 (wall; nothing)\njob: Heron Row, porch")


# A process of its own.


def test_what_comes_back_and_what_it_took() -> None:
    ran = run_apart(lambda: sum(k * k for k in range(1000)), 5, 300)
    assert (ran.result, ran.error, ran.slow, ran.big) == (332_833_500, "", False, False)


def spin() -> None:
    while True:
        pass


@pytest.mark.parametrize(("hang", "seconds"), [(spin, 0.5), (lambda: time.sleep(1000), 0.02)])
def test_a_planted_hang_is_ended(hang: Callable[[], None], seconds: float) -> None:
    ran = run_apart(hang, seconds, 300)
    assert ran.slow
    assert [kind for kind, _ in failures_of("", ran, None)] == ["slow"]


@pytest.mark.parametrize("megabytes", [60, 600])
def test_a_planted_memory_hog_is_seen_and_a_larger_one_ended(megabytes: int) -> None:
    # 40 MB are allowed, and the process may map twice as much.
    ran = run_apart(lambda: len(b"x" * (megabytes * 1024 * 1024)), 5, 40)
    assert ran.big
    assert [kind for kind, _ in failures_of("", ran, None)] == ["big"]


def test_what_stays_under_the_limits_passes() -> None:
    ran = run_apart(lambda: Outcome("asked", said=("x" * 1024 * 1024,)), 5, 40)
    assert failures_of("x" * 1024 * 1024, replace(ran, result=Outcome("asked")), None) == []


def test_a_planted_error_of_ours_is_exit_4() -> None:
    def planted(text: str) -> Outcome:
        none: dict[str, Outcome] = {}
        return none[text]

    _, _, wrong = looked_at("a: 3\n", planted)
    assert [kind for kind, _ in wrong] == ["exit 4, KeyError"]


def test_a_child_that_dies_is_a_failure() -> None:
    ran = run_apart(lambda: __import__("os")._exit(3), 5, 300)
    assert "said nothing" in ran.error
    assert [kind.partition(",")[0] for kind, _ in failures_of("", ran, None)] == ["exit 4"]


# Sentences.


def test_a_fault_without_a_line_is_found() -> None:
    fault = Fault("Write it again.", "hole", "job.yaml", 1)
    assert list(faulty(fault, "a")) == []
    for bad in (replace(fault, line=None), replace(fault, file=None), replace(fault, line=2), replace(fault, line=0)):
        assert len(list(faulty(bad, "a"))) == 1
    assert len(list(faulty(replace(fault, sentence="Write it again"), "a"))) == 1


@pytest.mark.parametrize(
    "sentence",
    [
        "It is nan wide.",
        "overlaps by 2e+07 x 1e+07.",
        "leaves inf to the edge.",
        "It is 0.30000000000004 wide.",
        "TileSpec is wrong.",
        "it is a NoneType.",
        "write {'a': 3} or high.",
        "write tile: .",
        "write hot, or.",
        "It takes  two.",
        "It is () wide.",
        "two\nlines.",
        "long " * 200,
    ],
)
def test_a_sentence_that_no_tiler_reads_is_found(sentence: str) -> None:
    assert list(unsaid(sentence, "")) != []


@pytest.mark.parametrize(
    "sentence",
    [
        '"nan" is no length: write a number such as 642, 64.2 cm or 25 1/4 in.',
        "Look at from, to, left of, right of.",
        '"a  b" is no name.',
        "fingerprint 12345e67.",
        'write tile: and the name of one under tiles, as in "on V".',
    ],
)
def test_a_sentence_of_the_trade_passes(sentence: str) -> None:
    assert list(unsaid(sentence, "cover: nan")) == []


def test_a_name_of_the_users_may_end_as_half_a_sentence_does() -> None:
    sentence = '"pale" is no tile of this job: write C:.'
    assert list(unsaid(sentence, 'tiles: {"C:": 3}')) == []
    assert list(unsaid(sentence, "tiles: {pale: 3}")) == ["an empty place"]


def test_a_failing_job_is_made_small() -> None:
    def planted(text: str) -> Outcome:
        if "cover: 110" in text:
            raise JobErrorOfOurs
        return Outcome("planned")

    kind = looked_at(WALL, planted)[2][0][0]
    assert shrunk(WALL, kind, planted).splitlines() == [line for line in WALL.splitlines() if "cover: 110" in line]


class JobErrorOfOurs(Exception):
    """Planted."""


def test_a_refusal_without_a_fault_is_found() -> None:
    def planted(text: str) -> Outcome:
        try:
            raise JobError([])
        except JobError as error:
            return Outcome("refused", error.faults)

    assert [kind for kind, _ in looked_at("a: 3\n", planted)[2]] == ["no fault"]


def test_a_slow_job_that_is_no_longer_slow_is_struck_out(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(job_campaign, "SLOW", (Slow("a wall", "nothing", 9.0, lambda: WALL),))
    (sentence,) = slow_ones(Count())
    assert sentence.startswith('"a wall" is no longer slow')


# The reckoner.


def test_the_reckoner_shares_nothing_with_the_package() -> None:
    tree = ast.parse(Path(job_reckoner.__file__).read_text(encoding="utf-8"))
    imported = [node.module or "" for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)]
    imported += [name.name for node in ast.walk(tree) if isinstance(node, ast.Import) for name in node.names]
    assert {name.partition(".")[0] for name in imported} == {
        *("__future__", "math", "re", "collections", "msgspec", "fractions", "functools", "typing"),
        *("ruamel", "shapely"),
    }


# WALL by hand: tiles of 246, joint 3, a joint's middle on V: the start tile at 1.5, 0. The tap at 107.5, 107.5; cover
# 60 and pipe 15: (15 + 60 - 6) / 2 = 34.5, the core below is 32. Left of the start tile are 3 more (-247.5, -496.5,
# -745.5) and what is left of a fourth (-797 to -748.5), so that it is number 5.
TAP = MadeCut("porch wall", "field", (0, 0), "field 1-5", "tap", 106.0, 107.5, (246.0, 246.0), (32.0, 32.0))


def tap_of(text: str) -> list[MadeCut]:
    return [cut for cut in planned(text).cuts if cut.hole == "tap"]


def test_a_cut_by_hand() -> None:
    assert tap_of(WALL) == [TAP]


@pytest.mark.parametrize(
    "other",
    [
        replace(TAP, from_left=106.002),
        replace(TAP, from_bottom=107.498),
        replace(TAP, from_left=float("nan")),
        replace(TAP, piece="field 1-4"),
        replace(TAP, place=(1, 0), piece="field 1-6"),
        replace(TAP, opening=(35.0, 32.0)),
        replace(TAP, tile=(246.0, 245.9)),
    ],
)
def test_a_wrong_cut_is_found(other: MadeCut) -> None:
    rest = tuple(cut for cut in planned(WALL).cuts if cut.hole != "tap")
    assert reckon(WALL, (TAP, *rest)).wrong == []
    assert reckon(WALL, (other, *rest)).wrong != []


def test_a_cut_that_is_not_made_is_found() -> None:
    rest = tuple(cut for cut in planned(WALL).cuts if cut.hole != "tap")
    assert reckon(WALL, rest).wrong == ["tap has no cut in field (0, 0)"]


def test_what_the_reckoner_does_not_know_it_says() -> None:
    leaning = WALL.replace("cover: 60,", "cover: 60, lean: 4 in 60 right,")
    assert reckon(leaning, [TAP]).beyond == {"a hole with lean": 1}
    assert reckon("a: [", [TAP]).beyond == {"the job": 1}


def test_names_are_matched_as_they_are_tidied() -> None:
    blanks = WALL.replace("  pale: {", '  "pale  gloss": {').replace("tile: pale,", 'tile: " pale gloss",')
    blanks = blanks.replace('{V: "plumb', '{"V ": "plumb')
    assert reckon(blanks, [TAP, *(cut for cut in planned(blanks).cuts if cut.hole != "tap")]).wrong == []
    assert reckon(blanks, [TAP]).count == 1


def test_a_pair_is_of_holes_by_their_tidied_names() -> None:
    paired = (
        WALL.replace("name: tap,", 'name: "a\u2003b",')
        + '    pairs:\n      - {of: "a\u2003b and flue", apart: 107.5}\n'
    )
    assert reckon(paired, [replace(TAP, hole="a b")]).beyond == {"a hole in a pair": 1}


def test_a_reckoner_that_falls_is_a_failure_and_ends_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    def fallen(text: str, cuts: Sequence[MadeCut]) -> Reckoned:
        raise KeyError("pale")

    monkeypatch.setattr(job_campaign, "reckon", fallen)
    ran, reckoned, wrong = looked_at(WALL)
    assert (ran.result.kind, reckoned) == ("planned", None)
    assert [(kind, words.splitlines()[-1]) for kind, words in wrong] == [("the reckoner fell", "KeyError: 'pale'")]


# Files.


@pytest.fixture(scope="module")
def written(tmp_path_factory: pytest.TempPathFactory) -> Path:
    out = tmp_path_factory.mktemp("campaign") / "out"
    assert job_read_back.write_and_read_back(make_plan(parse_job(SMALL["wall"], "job.yaml")), out) == []
    return out


def test_files_of_another_name_are_found(written: Path) -> None:
    listed = tuple(sorted(path.relative_to(written).as_posix() for path in written.rglob("*") if path.is_file()))
    assert list(job_read_back.names_wrong(written, listed)) == []
    assert len(list(job_read_back.names_wrong(written, listed[1:]))) == 1
    for name in ("con.svg", "A b", "a..b"):
        stray = written / name
        stray.touch()
        assert len(list(job_read_back.names_wrong(written, tuple(sorted((*listed, name)))))) == 1
        stray.unlink()


@pytest.mark.parametrize(
    ("table", "wrong"),
    [
        ("a,b\r\n-3.5,x\r\n", 0),
        ("a,b\r\n=1+1,x\r\n", 1),
        ("a,b\r\n\uff1d1+1,x\r\n", 1),
        ("a,b\r\n-3+A1,x\r\n", 1),
        ("a,b\r\n3\r\n", 1),
        ("a,b\r\nnan,3\r\n", 1),
    ],
)
def test_tables(table: str, wrong: int) -> None:
    assert len(list(job_read_back.table_wrong("holes.csv", table.encode("utf-8-sig")))) == wrong


@pytest.mark.parametrize(
    ("inside", "wrong"),
    [
        ("<path d='M0 0' aria-label='nan'/>", 0),
        ("<script>alert(1)</script>", 1),
        ("<path onload='x'/>", 1),
        ("<use href='http://x'/>", 1),
        ("<path d='M nan 0'/>", 1),
        ("<image/>", 1),
        ("<", 1),
    ],
)
def test_pictures(inside: str, wrong: int) -> None:
    content = f"<svg xmlns='http://www.w3.org/2000/svg'>{inside}</svg>"
    assert len(list(job_read_back.picture_wrong("a.svg", content.encode()))) == wrong


def test_a_plan_that_says_otherwise_is_found(written: Path) -> None:
    plan = make_plan(parse_job(SMALL["wall"], "job.yaml"))
    read = json.loads((written / "plan.json").read_text(encoding="utf-8"))
    assert list(job_read_back.plan_wrong(plan, written)) == []
    cut = next(cut for piece in read["pieces"] for cut in piece["cuts"])
    for key, value in (("from_left", cut["from_left"] + 0.002), ("penetration", "another"), ("stray", 1)):
        other = written.parent / key
        other.mkdir()
        kept = dict(cut)
        cut[key] = value
        (other / "plan.json").write_text(json.dumps(read), encoding="utf-8")
        cut.clear()
        cut.update(kept)
        assert len(list(job_read_back.plan_wrong(plan, other))) == 1
    (written.parent / "nan").mkdir()
    text = (written / "plan.json").read_text(encoding="utf-8")
    (written.parent / "nan/plan.json").write_text(text.replace('"units": "mm"', '"units": NaN'), encoding="utf-8")
    assert list(job_read_back.plan_wrong(plan, written.parent / "nan")) == ["plan.json: NaN in plan.json"]


def test_drawings_that_are_off_the_tile_are_found(written: Path, tmp_path: Path) -> None:
    first = min(written.glob("dxf/*.dxf"))
    assert list(job_read_back.drawing_wrong(first, (246.0, 246.0))) == []
    drawing = readfile(first)
    drawing.modelspace().add_circle((300, 100), 20)
    drawing.saveas(tmp_path / "off.dxf")
    assert "off a tile" in "".join(job_read_back.drawing_wrong(tmp_path / "off.dxf", (246.0, 246.0)))
    # A raking cut runs 5 past the left edge, and meets it at the lower corner: 5 out, and 5 / 0.5 = 10 down.
    for end, wrong in (((-5, -10), 0), ((-10, -10), 1), ((-5, -60), 1), ((-5, float("nan")), 1)):
        drawing = readfile(first)
        drawing.modelspace().add_lwpolyline([(100, 200), end])
        drawing.saveas(tmp_path / "raking.dxf")
        assert len(list(job_read_back.drawing_wrong(tmp_path / "raking.dxf", (246.0, 246.0)))) == wrong
    new("R2000", units=1).saveas(tmp_path / "empty.dxf")
    assert [
        words.rpartition(": ")[2] for words in job_read_back.drawing_wrong(tmp_path / "empty.dxf", (246.0, 246.0))
    ] == [
        "AC1015, unit 1",
        "nothing in it",
    ]


def test_pages_that_do_more_than_show_are_found(written: Path, tmp_path: Path) -> None:
    assert list(job_read_back.pages_wrong(written / "pack.pdf")) == []
    writer = pypdf.PdfWriter(clone_from=written / "pack.pdf")
    script = DictionaryObject({NameObject("/S"): NameObject("/JavaScript"), NameObject("/JS"): TextStringObject("x")})
    writer.root_object[NameObject("/OpenAction")] = script
    writer.write(tmp_path / "pack.pdf")
    assert any("JavaScript" in words for words in job_read_back.pages_wrong(tmp_path / "pack.pdf"))
