"""A job by questions, from pipes as from a keyboard: what is written always loads."""

from __future__ import annotations

import errno
import subprocess
import sys

import pytest

from cutmarks import load_job, make_plan
from cutmarks.cli.asking import upward
from cutmarks.cli.draft import JobDraft
from cutmarks.cli.saving import save_new
from cutmarks.cli.templates import find_template
from cutmarks.errors import OutputError
from cutmarks.job.declared import declared
from cutmarks.job.models import HoleSpec
from cutmarks.readings import BoxOfTiles, InHand

WALL = (
    *("Quay Cottage, laundry", "wall, mm", "middle of the sink", "top of the packers"),
    "rib, 248 x 398, joint 2",
    "1140 left of V at B, 1136 left of V at 1450 above B, end panel",
    "1065 right of V, next wall, 14 to come",
    "5 below B, worktop",
    "",  # no top
    "riser, 15 copper, 318 to 333 right of V, 905 to 920 above B, cover 65",
    "",
    "joint on V, sits on B",
    "",  # of what is in hand nothing is said
    "",  # the last look
)


def answers(*lines):
    return "".join(f"{line}\n" for line in lines)


def test_a_wall_by_questions_gives_worked_example_w1(run, tmp_path):
    result = run("new", "laundry.yaml", input=answers(*WALL))
    assert result.exit_code == 0, result.output
    assert "cutmarks check laundry.yaml" in result.stdout
    plan = make_plan(load_job(tmp_path / "laundry.yaml"))
    cut = next(cut for piece in plan.pieces for cut in piece.cuts)
    # Worked example W1, by hand.
    assert (cut.from_left, cut.from_bottom) == (74.5, 112.5)


def test_a_question_about_a_key_shows_the_keys_own_examples(run):
    said = run(
        "new", "laundry.yaml", input=answers(*WALL[:9], "riser", "318 to 333 right of V", "9 above B to it", "")
    ).output
    keys = declared(HoleSpec)
    for word in ("across", "up"):
        assert f"riser, {word} ({keys[word].key.examples[0]})" in said
    assert upward(HoleSpec, JobDraft(kind="floor")) == "1420 to 1530 from D"


def test_what_the_reader_does_not_take_is_asked_again_with_its_sentence(run, tmp_path):
    at = 9
    wrong = ("riser, 15 copper, -12 right of V, 905 to 920 above B", "riser, 325 right of V, 905 to 920 above B")
    result = run("new", "laundry.yaml", input=answers(*WALL[:at], *wrong, *WALL[at:]))
    assert result.exit_code == 0, result.output
    assert 'write "12 left of V"' in result.stderr
    assert "does not say to what" in result.stderr
    assert "-12" not in (tmp_path / "laundry.yaml").read_text(encoding="utf-8")


LEAST = ("middle of the sink", "top of the batten", "248 mm x 398 mm")


def test_what_must_be_known_and_enter_everywhere_else_gives_a_job_that_loads(run, tmp_path):
    result = run("new", input=answers("", "", *LEAST, *[""] * 8))
    assert result.exit_code == 0, result.output
    assert load_job(tmp_path / "job.yaml").name == "My job"
    assert "no start" in run("check", "job.yaml").output.casefold()


@pytest.mark.parametrize("kind", ["wall", "floor"])
@pytest.mark.parametrize("units", ["mm", "cm", "m", "in", "ft"])
def test_both_kinds_in_all_units(run, tmp_path, kind, units):
    result = run("new", input=answers("Mill Loft", f"{units} {kind}", *LEAST, *[""] * 8))
    assert result.exit_code == 0, result.output
    job = load_job(tmp_path / "job.yaml")
    assert (job.surfaces[0].kind, str(job.units)) == (kind, units)
    # The usual joint, whatever the unit: 3 mm, or 1/8 in.
    assert job.surfaces[0].areas[0].joint == pytest.approx(3.175 if units in ("in", "ft") else 3.0)


def test_names_that_yaml_would_spoil_survive(run, tmp_path):
    assert run("new", input=answers("pipe #1: 010", *WALL[1:])).exit_code == 0
    assert load_job(tmp_path / "job.yaml").name == "pipe #1: 010"


def test_answers_that_run_out_write_nothing(run, tmp_path):
    result = run("new", input=answers("Quay Cottage", "mm"))
    assert result.exit_code == 2
    assert not (tmp_path / "job.yaml").exists()


@pytest.mark.parametrize("arguments", [(), ("--starter", "wall"), ("--blank", "floor", "job.yaml")])
def test_a_file_that_is_there_is_never_overwritten(run, tmp_path, arguments):
    (tmp_path / "job.yaml").write_bytes(b"mine")
    result = run("new", *arguments)
    assert result.exit_code == 2
    assert result.stderr == "job.yaml is there already: give another name. Nothing was written.\n"
    assert (tmp_path / "job.yaml").read_bytes() == b"mine"


@pytest.mark.parametrize("starter", ["wall", "floor", "inch"])
def test_a_starter_is_copied_and_runs(run, tmp_path, starter):
    assert run("new", "--starter", starter, "mine.yaml").exit_code == 0
    assert (tmp_path / "mine.yaml").read_bytes() == find_template(starter).read_bytes()
    assert run("check", "mine.yaml").exit_code in (0, 1)


@pytest.mark.parametrize("blank", ["wall", "floor"])
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_a_blank_sheet_is_copied_under_its_own_name(run, tmp_path, blank, paper):
    assert run("new", "--blank", blank, "--paper", paper).exit_code == 0
    assert (tmp_path / f"measure-up-{blank}-{paper}.pdf").read_bytes().startswith(b"%PDF")


def test_a_starter_and_a_blank_sheet_are_two_things(run):
    assert run("new", "--starter", "wall", "--blank", "wall").exit_code == 2


def test_a_folder_that_is_not_there_is_one_sentence(run):
    result = run("new", "--starter", "wall", "nowhere/job.yaml")
    assert result.exit_code == 2
    assert result.stderr == (
        "nowhere/job.yaml: there is no folder nowhere: make it first, or give another place. Nothing was written.\n"
    )


def test_a_floor_with_a_door_and_a_name_taken_twice(run, tmp_path):
    result = run(
        "new",
        input=answers(
            *("Mill Loft, hall", "floor", "middle of the door", "inner face of the frame", "slab 597 x 597"),
            *("", "", "20 short of D, threshold", "2380 in from D, next wall, finished"),
            "door hall door, 400 left to 380 right of V, 20 short to 60 in from D",
            "soil, 110 soil, 640 to 750 right of V, 1905 to 2015 from D, none",
            *("soil, ?, 800 to 900 right of V, 300 to 400 in from D, none",),
            *("gully, ?, 800 to 900 right of V, 300 to 400 in from D, none", ""),
            *("middle on V and D", "3 boxes of 8", "top: leave out", "up: towards the window", ""),
        ),
    )
    assert result.exit_code == 0, result.output
    job = load_job(tmp_path / "job.yaml")
    (slab,) = job.tiles.values()
    assert (slab.box, slab.have) == (BoxOfTiles(8), InHand(3, in_boxes=True))
    surface = job.surfaces[0]
    assert [hole.name for hole in surface.holes] == ["soil", "gully"]
    assert [(void.kind, void.name) for void in surface.voids] == [("door", "hall door")]
    assert list(surface.edges) == ["bottom"]
    assert surface.up == "towards the window"
    assert 'Two holes are called "soil"' in result.stderr


@pytest.mark.skipif(sys.platform == "win32", reason="no limit on a file's size there")
def test_a_disk_that_is_full_leaves_no_half_file(repository, tmp_path):
    # A limit of 10 bytes on any file stands in for a disk that is full.
    limited = "import resource\nresource.setrlimit(resource.RLIMIT_FSIZE, (10, 10))\n"
    script = (
        f"{limited}from cutmarks.cli.app import app\napp(['new', '--starter', 'wall', {str(tmp_path / 'job.yaml')!r}])"
    )
    ran = subprocess.run([sys.executable, "-B", "-c", script], capture_output=True, text=True, cwd=repository)
    assert ran.returncode == 2
    assert ran.stderr.endswith(
        "job.yaml: the disk takes no file of that size: give a place on another one. Nothing was written.\n"
    )
    assert not (tmp_path / "job.yaml").exists()


@pytest.mark.skipif(sys.platform == "win32", reason="no limit on a file's size there")
def test_answers_for_which_the_disk_has_no_room_are_printed(run, tmp_path, monkeypatch):
    """The disk fills up while the questions are answered: what was answered is a job file on the terminal."""
    monkeypatch.setattr("cutmarks.cli.new.save_new", _full)
    result = run("new", "laundry.yaml", input=answers(*WALL))
    assert result.exit_code == 2
    assert result.stderr == "The disk is full. Your answers stand above, as a job file: put them into one.\n"
    (tmp_path / "kept.yaml").write_text(result.stdout[result.stdout.rindex("\njob: ") :], encoding="utf-8")
    assert load_job(tmp_path / "kept.yaml").name == "Quay Cottage, laundry"
    assert not (tmp_path / "laundry.yaml").exists()


def _full(*_: object) -> None:
    raise OutputError("The disk is full.")


@pytest.mark.parametrize(
    ("name", "sentence"),
    [
        ("there", "there is a folder: give the name of a file in it, such as there/job.yaml."),
        ("there/file/job.yaml", "there/file/job.yaml: there/file is no folder: give another place."),
        ("n" * 300, f"{'n' * 300}: that name is too long for the disk: give a shorter one."),
        ("there/link", "there/link is there already: give another name."),
    ],
)
@pytest.mark.parametrize("arguments", [("--starter", "wall"), ()])
def test_a_name_that_cannot_be_is_said_before_anything_is_asked(run, tmp_path, name, sentence, arguments):
    (tmp_path / "there").mkdir()
    (tmp_path / "there" / "file").write_bytes(b"mine")
    (tmp_path / "there" / "link").symlink_to("nowhere")
    result = run("new", *arguments, name, input="")
    assert (result.exit_code, result.stdout) == (2, "")
    assert result.stderr == f"{sentence} Nothing was written.\n"
    assert sorted(path.name for path in tmp_path.rglob("*")) == ["file", "link", "there"]


def test_a_file_that_takes_the_name_meanwhile_is_neither_written_over_nor_removed(tmp_path, monkeypatch):
    """While ours is written somebody moves it away and puts one of his own there; then the disk is full."""
    target = tmp_path / "job.yaml"

    def full(_handle: int) -> None:
        target.rename(tmp_path / "moved.yaml")
        target.write_bytes(b"mine")
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr("cutmarks.cli.saving.os.fsync", full)
    with pytest.raises(OutputError, match="the disk is full: make room"):
        save_new(target, b"ours")
    assert target.read_bytes() == b"mine"


def test_a_save_that_is_ended_from_the_keyboard_leaves_no_half_file(tmp_path, monkeypatch):
    def ended(_handle: int) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("cutmarks.cli.saving.os.fsync", ended)
    with pytest.raises(KeyboardInterrupt):
        save_new(tmp_path / "job.yaml", b"ours")
    assert list(tmp_path.iterdir()) == []
