"""The whole output through the command line, on worked example W1."""

from __future__ import annotations

import hashlib
import json
import subprocess
import sys
from io import BytesIO

import pypdf
import pytest

from tests.cli.conftest import W1

TWO = W1 + "      - {name: hot, what: 15 copper, across: 67 to 83 left of V, up: 112 to 128 above B, cover: 65}\n"


def stood(folder):
    """What every file in a folder holds."""
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def test_everything_stands_in_one_folder(run, w1, tmp_path):
    result = run("make", w1, "--out", "out")
    assert (result.exit_code, result.stderr) == (0, "")
    files = stood(tmp_path / "out")
    kinds = sorted({name.split("/")[0] for name in files})
    assert kinds == [
        "dxf",
        "holes.csv",
        "job-sheet.pdf",
        "pack.pdf",
        "pieces.csv",
        "plan.json",
        "set-out.pdf",
        "sheets",
        "wall.html",
    ]
    assert sorted(json.loads(files["plan.json"])["files"]) == sorted(files)
    assert result.stdout.startswith("Written to out: ")
    assert "since the last output" not in result.stdout


def test_pictures_are_drawn_where_they_are_asked_for(run, w1, tmp_path):
    told = " ".join(run("make", w1, "--out", "out", "--pictures").stdout.split())
    # One sheet and one surface.
    assert "1 in sheets/, 3 in dxf/, 2 in pictures/." in told
    assert len(list((tmp_path / "out" / "pictures").iterdir())) == 2
    told = " ".join(run("make", w1, "--out", "out").stdout.split())
    assert "pictures" not in told
    assert not (tmp_path / "out" / "pictures").exists()


def test_the_same_job_gives_the_same_bytes(run, w1, tmp_path):
    run("make", w1, "--out", "one")
    run("make", w1, "--out", "two")
    assert stood(tmp_path / "one") == stood(tmp_path / "two")


def test_plan_json_says_how_each_other_file_was_written(run, w1, tmp_path):
    run("make", w1, "--out", "out")
    files = stood(tmp_path / "out")
    plan = json.loads(files.pop("plan.json"))
    found = {name: {"size": len(data), "sha256": hashlib.sha256(data).hexdigest()} for name, data in files.items()}
    assert plan["digests"] == found
    assert plan["job_file"] == "w1.yaml"


def test_a_file_that_was_changed_is_kept_and_told(run, w1, tmp_path):
    run("make", w1, "--out", "out")
    with (tmp_path / "out" / "holes.csv").open("ab") as holes:
        holes.write(b"done\n")
    ticked = (tmp_path / "out" / "holes.csv").read_bytes()
    assert "\nYou had changed holes.csv: yours is now holes.yours.csv.\n" in run("make", w1, "--out", "out").stdout
    assert (tmp_path / "out" / "holes.yours.csv").read_bytes() == ticked
    assert "You had changed" not in run("make", w1, "--out", "out").stdout


def test_an_output_that_proves_nothing_is_kept_and_told(run, w1, tmp_path):
    run("make", w1, "--out", "out")
    plan = json.loads((tmp_path / "out" / "plan.json").read_bytes())
    del plan["digests"]
    (tmp_path / "out" / "plan.json").write_text(json.dumps(plan), encoding="utf-8")
    told = " ".join(run("make", w1, "--out", "out").stdout.split())
    assert (
        "The earlier output does not say how each of its files was written: all of it is kept as out.earlier, "
        "and yours to remove."
    ) in told
    assert "kept as" not in run("make", w1, "--out", "out").stdout


def test_another_job_file_of_the_same_name_replaces_an_output_only_when_asked(run, w1, tmp_path):
    run("make", w1, "--out", "out")
    other = tmp_path / "other.yaml"
    other.write_text(w1.read_text(encoding="utf-8").replace("318 to 333", "328 to 343"), encoding="utf-8")
    before = stood(tmp_path / "out")
    result = run("make", other, "--out", "out")
    assert result.exit_code == 2
    assert result.stderr == (
        'out: this folder holds the output of another job that is called "W1" too, from w1.yaml and not from '
        "other.yaml: give this one a folder of its own, or say --replace to put it in the place of that one\n"
    )
    assert stood(tmp_path / "out") == before
    assert run("make", other, "--out", "out", "--replace").exit_code == 0
    assert json.loads((tmp_path / "out" / "plan.json").read_bytes())["job_file"] == "other.yaml"


@pytest.mark.parametrize(
    ("out", "said"),
    [
        ("/", "/: this is the root of the disk: give the output a folder of its own"),
        (".", ".: you are in this folder, and the output takes the place of it as a whole: go out of it first"),
        ("..", "..: you are in this folder, and the output takes the place of it as a whole: go out of it first"),
        ("n" * 253, f"{'n' * 253}: this name is too long"),
        ("no/where", "no/where: there is no folder no to put it in: make that first, or check the name"),
        ("w1.yaml", "w1.yaml: this is a file: give a folder that is new, empty, or an earlier output of this job"),
        ("w1.yaml/out", "w1.yaml/out: w1.yaml is a file and no folder to put it in: check the name"),
    ],
)
def test_where_no_output_can_be_is_said(run, w1, tmp_path, out, said):
    result = run("make", w1, "--out", out)
    assert result.exit_code == 2
    assert result.stderr.startswith(said)
    assert [path.name for path in tmp_path.iterdir()] == ["w1.yaml"]


def test_it_says_which_pieces_changed(run, tmp_path):
    job = tmp_path / "job.yaml"
    job.write_text(TWO, encoding="utf-8")
    run("make", job, "--out", "out")
    assert "No piece changed since the last output." in run("make", job, "--out", "out").stdout
    job.write_text(TWO.replace("67 to 83 left", "77 to 93 left"), encoding="utf-8")
    pieces = json.loads((tmp_path / "out" / "plan.json").read_bytes())["pieces"]
    moved = next(piece["name"] for piece in pieces if piece["cuts"][0]["penetration"] == "hot")
    assert f"Changed since the last output: {moved}." in run("make", job, "--out", "out").stdout


def test_only_prints_again_what_broke_beside_the_whole_pack(run, tmp_path):
    job = tmp_path / "job.yaml"
    job.write_text(TWO, encoding="utf-8")
    assert run("make", job, "--out", "out", "--only", "Riser").exit_code == 0
    assert len(pypdf.PdfReader(tmp_path / "out" / "pack.pdf").pages) == 3  # a front sheet, and two templates
    again = pypdf.PdfReader(tmp_path / "out" / "again.pdf")
    plan = json.loads((tmp_path / "out" / "plan.json").read_bytes())
    riser = next(piece["name"] for piece in plan["pieces"] if piece["cuts"][0]["penetration"] == "riser")
    assert len(again.pages) == 1
    run("make", job, "--out", "by piece", "--only", riser)
    assert (tmp_path / "by piece" / "again.pdf").read_bytes() == (tmp_path / "out" / "again.pdf").read_bytes()
    run("make", job, "--out", "out")
    assert not (tmp_path / "out" / "again.pdf").exists()


def test_only_what_has_a_sheet_can_be_printed_again(run, w1, tmp_path):
    result = run("make", w1, "--out", "out", "--only", "rizer")
    assert result.exit_code == 2
    assert 'There is no sheet for "rizer"' in result.stderr
    assert "riser" in result.stderr
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize(("paper", "size_mm"), [("A4", (210, 297)), ("A3", (297, 420)), ("Letter", (215.9, 279.4))])
def test_the_paper_can_be_chosen_for_this_run(run, w1, tmp_path, paper, size_mm):
    # ISO 216 and ASME Y14.1; a point is 25.4/72 mm.
    run("make", w1, "--out", "out", "--paper", paper)
    box = pypdf.PdfReader(BytesIO((tmp_path / "out" / "pack.pdf").read_bytes())).pages[0].mediabox
    assert float(box.width) * 25.4 / 72 == pytest.approx(size_mm[0], abs=0.01)
    assert float(box.height) * 25.4 / 72 == pytest.approx(size_mm[1], abs=0.01)


def test_no_system_library_is_loaded_for_the_pdfs(w1, tmp_path):
    # A process of its own: other tests load CairoSVG as a referee.
    code = (
        "import sys; from cutmarks.cli.app import app; "
        f"app(['make', {str(w1)!r}, '--out', {str(tmp_path / 'out')!r}], standalone_mode=False); "
        "print([name for name in ('cairosvg', 'cairocffi') if name in sys.modules])"
    )
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert ran.stdout.splitlines()[-1] == "[]"
    assert {"pack.pdf", "job-sheet.pdf"} < set(stood(tmp_path / "out"))


def test_a_stop_is_written_and_ends_with_1(run, tmp_path):
    job = tmp_path / "job.yaml"
    text = W1.replace("318 to 333 right of V", "265.5 to 280.5 right of V").replace("cover: 65", "opening: 43")
    job.write_text(text, encoding="utf-8")
    result = run("make", job, "--out", "out")
    assert result.exit_code == 1
    assert "STOP" in result.stdout
    assert (tmp_path / "out" / "pack.pdf").is_file()
    assert not (tmp_path / "out" / "dxf").exists()


def test_the_users_own_folder_is_refused_and_left_alone(run, w1, tmp_path):
    own = tmp_path / "photos"
    own.mkdir()
    (own / "wall.jpg").write_bytes(b"mine")
    result = run("make", w1, "--out", own)
    assert result.exit_code == 2
    assert stood(own) == {"wall.jpg": b"mine"}


def test_a_faulty_job_leaves_the_earlier_output_as_it_was(run, w1, tmp_path):
    run("make", w1, "--out", "out")
    before = stood(tmp_path / "out")
    w1.write_text(W1.replace("joint: 2", "joint: two"), encoding="utf-8")
    assert run("make", w1, "--out", "out").exit_code == 2
    assert stood(tmp_path / "out") == before


def test_a_job_without_a_start_is_refused_and_told_what_to_write(run, tmp_path):
    job = tmp_path / "job.yaml"
    job.write_text(W1.replace(", start: {across: joint on V, up: sits on B}", ""), encoding="utf-8")
    result = run("make", job, "--out", "out")
    assert result.exit_code == 2
    assert "start: {across: joint on V, up: sits on B}" in result.stderr
