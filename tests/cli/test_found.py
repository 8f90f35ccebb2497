"""What was read at the wall, from the command line into a file beside the job and back into its sheets."""

from __future__ import annotations

import csv
import io
import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from cutmarks.cli import found as command
from cutmarks.writers import found_file

READ = ("--from-left-tile", "70 to 85", "--from-course-below", "107 to 122")
PIECE = "field 3-R2"


def test_it_says_what_moves_and_keeps_it_beside_the_job(run, w1, tmp_path):
    result = run("found", w1, PIECE, *READ, "--date", "2026-03-14", "--note", "it's tight: 1")
    assert result.exit_code == 0, result.output
    # Worked example W1: 69 and 84 were expected, so the hole goes 1 further from the tile on the left, to 75.5.
    assert "corrected 1 right; now expect 70 and 85 from the left" in " ".join(result.stdout.split())
    assert "75.5*" in result.stdout
    kept = (tmp_path / "w1.found.yaml").read_text(encoding="utf-8")
    assert "left: '70 to 85'" in kept
    assert "date: '2026-03-14'" in kept
    check = run("check", w1)
    assert "75.5*" in check.stdout


def test_the_job_file_is_not_touched(run, w1):
    before = w1.read_bytes()
    run("found", w1, PIECE, *READ)
    assert w1.read_bytes() == before


def test_nothing_is_lost_when_more_is_found(run, w1, tmp_path):
    run("found", w1, PIECE, *READ, "--date", "2026-03-14")
    run("found", w1, PIECE, "--cut", "--date", "2026-03-15")
    kept = (tmp_path / "w1.found.yaml").read_text(encoding="utf-8")
    assert kept.count("- piece:") == 2
    assert "2026-03-14" in kept
    assert "cut: 'yes'" in kept


def test_a_piece_that_is_not_there_is_not_kept(run, w1, tmp_path):
    result = run("found", w1, "field 9-R9", *READ)
    assert result.exit_code == 2
    assert "no such piece" in result.stderr
    assert not (tmp_path / "w1.found.yaml").exists()


def test_a_reading_that_is_none_is_not_kept(run, w1, tmp_path):
    run("found", w1, PIECE, *READ)
    before = (tmp_path / "w1.found.yaml").read_bytes()
    result = run("found", w1, PIECE, "--from-left-tile", "70")
    assert result.exit_code == 2
    assert "does not say to what" in result.stderr
    assert "what you say was found" in result.stderr
    assert (tmp_path / "w1.found.yaml").read_bytes() == before


def test_too_far_stops(run, w1):
    result = run("found", w1, PIECE, "--from-left-tile", "79 to 94")
    assert result.exit_code == 1
    assert "was found 10 off, over 5" in " ".join(result.stdout.split())


def test_a_file_with_something_else_in_it_is_a_fault(run, w1, tmp_path):
    (tmp_path / "w1.found.yaml").write_text("holes: []\n", encoding="utf-8")
    result = run("check", w1)
    assert result.exit_code == 2
    assert "w1.found.yaml line 1" in result.stderr
    assert 'one list, under "found:"' in result.stderr


def test_a_fault_in_the_kept_file_has_its_own_line(run, w1, tmp_path):
    (tmp_path / "w1.found.yaml").write_text(
        f"found:\n  - piece: {PIECE}\n    left: 70 to 85\n  - piece: {PIECE}\n    bottom: 3\n", encoding="utf-8"
    )
    result = run("check", w1)
    assert result.exit_code == 2
    assert "w1.found.yaml line 5" in result.stderr


def test_today_is_the_day_where_none_is_given(run, w1, tmp_path):
    import datetime

    before = datetime.date.today().isoformat()
    run("found", w1, PIECE, *READ)
    kept = (tmp_path / "w1.found.yaml").read_text(encoding="utf-8")
    assert any(f"date: '{day}'" in kept for day in {before, datetime.date.today().isoformat()})


def test_make_prints_the_new_sheet_and_the_record(run, w1, tmp_path):
    run("make", w1, "--out", tmp_path / "out")
    first = json.loads((tmp_path / "out" / "plan.json").read_text(encoding="utf-8"))
    assert not (tmp_path / "out" / "as-built.csv").exists()
    run("found", w1, PIECE, *READ, "--cut", "--date", "2026-03-14")
    result = run("make", w1, "--out", tmp_path / "out")
    assert f"Changed since the last output: {PIECE}." in " ".join(result.stdout.split())
    second = json.loads((tmp_path / "out" / "plan.json").read_text(encoding="utf-8"))
    assert first["pieces"][0]["fingerprint"] != second["pieces"][0]["fingerprint"]
    assert "as-built.csv" in second["files"]
    text = (tmp_path / "out" / "as-built.csv").read_text(encoding="utf-8-sig")
    (row,) = csv.DictReader(io.StringIO(text))
    assert (row["date"], row["hole"], row["piece"], row["cut"]) == ("2026-03-14", "riser", PIECE, "yes")
    # W1: planned at 325.5 right of V and 912.5 above B, found 1 further right.
    assert (row["across mm"], row["up mm"]) == ("326.5", "912.5")
    assert (row["from left mm"], row["from bottom mm"]) == ("75.5", "112.5")


def test_what_is_cut_stays_as_it_was_cut(run, w1, tmp_path):
    cut = run("found", w1, PIECE, *READ, "--cut", "--date", "2026-03-14")
    said = " ".join(cut.stdout.split())
    assert "corrected 1 right. It was cut so on 2026-03-14." in said
    assert "new fingerprint" not in said
    before = (tmp_path / "w1.found.yaml").read_bytes()
    again = run("found", w1, PIECE, "--from-left-tile", "72 to 87")
    assert again.exit_code == 2
    told = " ".join(again.stderr.split())
    assert "riser in field 3-R2 was cut on 2026-03-14" in told
    # The entry begins on the third line, below a remark and the list's own name.
    assert "take back the entry that says so (w1.found.yaml line 3): " in told
    assert f'cutmarks found w1.yaml "{PIECE}" --take-back.' in told
    assert (tmp_path / "w1.found.yaml").read_bytes() == before
    note = run("found", w1, PIECE, "--note", "chipped at the back", "--date", "2026-04-02")
    assert note.exit_code == 0
    assert run("make", w1, "--out", tmp_path / "out").exit_code == 0
    text = (tmp_path / "out" / "as-built.csv").read_text(encoding="utf-8-sig")
    (row,) = csv.DictReader(io.StringIO(text))
    # 74.5 and 1 more, on the day that it was cut.
    assert (row["date"], row["from left mm"], row["note"]) == ("2026-03-14", "75.5", "chipped at the back")


def test_what_is_cut_as_planned_is_said_so(run, w1):
    result = run("found", w1, PIECE, "--cut", "--date", "2026-03-14")
    assert f"riser in {PIECE}: as planned. It was cut so on 2026-03-14." in " ".join(result.stdout.split())


def test_a_tile_the_wrong_way_round_is_not_kept(run, w1, tmp_path):
    result = run("found", w1, PIECE, "--tile", "398x248")
    assert result.exit_code == 2
    assert "The size across comes first, as the tile lies: is it 248 x 398?" in " ".join(result.stderr.split())
    assert not (tmp_path / "w1.found.yaml").exists()


# Whatever stands in the file: it stays, and every command can read it.


@pytest.mark.parametrize("text", ["found:\n", "found: []\n", "# all out\n", "", "Found: [ ]\n# below\n"])
def test_an_empty_list_is_a_list_for_every_command(run, w1, tmp_path, text):
    kept = tmp_path / "w1.found.yaml"
    kept.write_text(text, encoding="utf-8")
    assert run("check", w1).exit_code == 0
    assert run("make", w1, "--out", tmp_path / "out").exit_code == 0
    assert run("found", w1, PIECE, *READ).exit_code == 0
    assert run("check", w1).exit_code == 0
    for remark in re.findall("#.*", text):
        assert remark in kept.read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("note", "read"),
    [
        ("first\n--- second", "first --- second"),
        ('- it\'s "so": # yes  ', '- it\'s "so": # yes'),
        ("\t\u00e9 \u4e2d\u00a0\u2028x\r\ny", "\u00e9 \u4e2d x y"),
    ],
)
def test_a_note_is_kept_on_one_line(run, w1, tmp_path, note, read):
    assert run("found", w1, PIECE, "--cut", "--note", note).exit_code == 0
    assert run("make", w1, "--out", tmp_path / "out").exit_code == 0
    plan = json.loads((tmp_path / "out" / "plan.json").read_text(encoding="utf-8"))
    assert [one["note"] for one in plan["found"]] == [read]


def test_a_note_with_a_control_character_is_not_kept(run, w1, tmp_path):
    result = run("found", w1, PIECE, "--cut", "--note", "bell \a")
    assert result.exit_code == 2
    assert "has a control character in it (U+0007): take it out." in " ".join(result.stderr.split())
    assert not (tmp_path / "w1.found.yaml").exists()


def test_a_file_of_the_users_own_beside_it_stays(run, w1, tmp_path):
    own = tmp_path / "w1.found.yaml.new"
    own.write_text("mine", encoding="utf-8")
    assert run("found", w1, PIECE, *READ).exit_code == 0
    assert own.read_text(encoding="utf-8") == "mine"
    assert sorted(one.name for one in tmp_path.iterdir()) == ["w1.found.yaml", "w1.found.yaml.new", "w1.yaml"]


def test_a_remark_that_would_be_lost_is_said_and_nothing_is_written(run, w1, tmp_path):
    kept = tmp_path / "w1.found.yaml"
    kept.write_text(f"found: [ {{piece: {PIECE}, # why\n  cut: yes}} ]\n", encoding="utf-8")
    before = kept.read_bytes()
    result = run("found", w1, PIECE, "--note", "chipped")
    assert result.exit_code == 2
    assert 'w1.found.yaml line 1: The remark "# why" would be lost' in " ".join(result.stderr.split())
    assert kept.read_bytes() == before


def test_a_list_without_its_name_is_told_how_the_file_begins(run, w1, tmp_path):
    (tmp_path / "w1.found.yaml").write_text(f"- piece: {PIECE}\n  cut: yes\n", encoding="utf-8")
    result = run("check", w1)
    assert result.exit_code == 2
    assert "this file begins with the line found:, and each entry with - on a line of its own." in " ".join(
        result.stderr.split()
    )


# What has the name and is no plain file.

ODD_PLACES = ("w1.found.yaml", "tools.yaml", "fittings.toml")
WHAT = {"w1.found.yaml": "file of what was found", "tools.yaml": "tools file", "fittings.toml": "file of fittings"}


@pytest.mark.parametrize("name", ODD_PLACES)
@pytest.mark.parametrize(
    ("put", "said"),
    [
        (Path.mkdir, "is a folder, and only a plain file is read: put one in its place, or give another name."),
        (os.mkfifo, "is a pipe, and only a plain file is read: put one in its place, or give another name."),
        (
            lambda path: path.symlink_to("/nowhere/at/all"),
            'is a link to "/nowhere/at/all", where nothing is: mend the link, or take it away.',
        ),
        (
            lambda path: path.symlink_to(os.devnull),
            "is a device, and only a plain file is read: put one in its place, or give another name.",
        ),
    ],
)
def test_what_is_no_file_is_never_passed_over(run, w1, tmp_path, name, put, said):
    put(tmp_path / name)
    for call in (("check", w1), ("make", w1, "--out", tmp_path / "out")):
        result = run(*call)
        assert result.exit_code == 2
        assert f"{name}: This {WHAT[name]} {said}" in " ".join(result.stderr.split())
    result = run("found", w1, PIECE, *READ)
    assert result.exit_code == 2
    assert f"{name}: " in result.stderr
    assert sorted(one.name for one in tmp_path.iterdir()) == sorted(["w1.yaml", name])


def test_a_users_own_tools_that_are_a_pipe_are_said_too(run, w1, tmp_path):
    (tmp_path / "config" / "cutmarks").mkdir(parents=True)
    os.mkfifo(tmp_path / "config" / "cutmarks" / "tools.yaml")
    result = run("check", w1)
    assert result.exit_code == 2
    assert "tools.yaml: This tools file is a pipe" in " ".join(result.stderr.split())


def test_a_job_that_is_a_pipe_is_refused_and_nothing_hangs(run, tmp_path):
    os.mkfifo(tmp_path / "w1.yaml")
    for call in (("check", "w1.yaml"), ("found", "w1.yaml", PIECE, *READ)):
        result = run(*call)
        assert result.exit_code == 2
        assert "w1.yaml: This job file is a pipe, and only a plain file is read" in " ".join(result.stderr.split())


def test_nothing_is_written_through_a_link(run, w1, tmp_path):
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    real = elsewhere / "real.yaml"
    real.write_text("found: []\n", encoding="utf-8")
    (tmp_path / "w1.found.yaml").symlink_to(real)
    assert run("check", w1).exit_code == 0
    result = run("found", w1, PIECE, *READ)
    assert result.exit_code == 2
    assert f"w1.found.yaml: this is a link to {real}, and cutmarks writes through no link" in result.stderr
    assert real.read_text(encoding="utf-8") == "found: []\n"


def test_a_file_that_cannot_be_read_is_said(run, w1, tmp_path, monkeypatch):
    kept = tmp_path / "w1.found.yaml"
    kept.write_text("found: []\n", encoding="utf-8")
    real = os.open

    def refuse(path, *arguments, **keywords):
        if Path(path) == kept:
            raise PermissionError(13, "Permission denied", path)
        return real(path, *arguments, **keywords)

    monkeypatch.setattr(os, "open", refuse)
    for call in (("check", w1), ("found", w1, PIECE, *READ)):
        result = run(*call)
        assert result.exit_code == 2
        assert "cannot be read (permission denied)" in result.stderr.casefold()


@pytest.mark.parametrize("name", ODD_PLACES)
def test_what_the_disk_does_not_tell_of_is_not_taken_as_not_there(run, w1, tmp_path, name, monkeypatch):
    """A look at the name that fails for another reason than that nothing has it: what it holds is not passed over."""
    (tmp_path / name).write_text("", encoding="utf-8")
    for looked in ("stat", "lstat"):
        real = getattr(os, looked)

        def fails(path, *arguments, real=real, **keywords):
            if str(path).endswith(name):
                raise OSError(5, "Input/output error", str(path))
            return real(path, *arguments, **keywords)

        monkeypatch.setattr(os, looked, fails)
    for call in (("check", w1), ("found", w1, PIECE, *READ)):
        result = run(*call)
        assert result.exit_code == 2
        assert f"{name}" in result.stderr
        assert "cannot be read (input/output error)" in result.stderr.casefold()
    assert sorted(one.name for one in tmp_path.iterdir()) == sorted(["w1.yaml", name])


# Taking back.


def figures(result) -> str:
    """What is said from the figures on: the first lines say what was done."""
    return result.stdout[result.stdout.index("ON THE TILE") :]


def test_the_last_entry_is_taken_back_and_the_figures_are_as_before(run, w1, tmp_path):
    first = run("found", w1, PIECE, *READ, "--date", "2026-03-14")
    run("found", w1, PIECE, "--from-left-tile", "72 to 87", "--date", "2026-03-15")
    result = run("found", w1, PIECE, "--take-back")
    assert result.exit_code == 0
    assert result.stdout.startswith(
        "Taken back from w1.found.yaml: piece: field 3-R2, left: 72 to 87, date: 2026-03-15.\n"
    )
    assert figures(result) == figures(first)
    again = run("found", w1, PIECE, "riser", "--take-back")
    assert "Nothing is kept of field 3-R2 any more: it is as planned." in again.stdout
    # W1: 74.5 from the left as planned.
    assert "74.5*" in again.stdout
    assert (tmp_path / "w1.found.yaml").read_text(encoding="utf-8").endswith("found: []\n")
    none = run("found", w1, PIECE, "--take-back")
    assert none.exit_code == 2
    assert 'w1.found.yaml: Nothing is kept of any piece: there is no entry of "field 3-R2" to take back.' in none.stderr


def test_what_was_not_cut_is_taken_back_by_its_command(run, w1):
    run("found", w1, PIECE, *READ, "--cut", "--date", "2026-03-14")
    assert run("found", w1, PIECE, "--from-left-tile", "72 to 87").exit_code == 2
    result = run("found", w1, PIECE, "--take-back")
    assert "left: 70 to 85, bottom: 107 to 122, cut: yes, date: 2026-03-14." in " ".join(result.stdout.split())
    assert run("found", w1, PIECE, "--from-left-tile", "72 to 87").exit_code == 0


def test_an_entry_in_the_job_file_is_not_touched(run, w1, tmp_path):
    w1.write_text(w1.read_text(encoding="utf-8") + f"found:\n  - {{piece: {PIECE}, left: 70 to 85}}\n")
    before = w1.read_bytes()
    line = before.decode().splitlines().index(f"  - {{piece: {PIECE}, left: 70 to 85}}") + 1
    result = run("found", w1, PIECE, "--take-back")
    assert result.exit_code == 2
    assert (
        f"w1.yaml line {line}, found 1: This entry stands in the job file itself, which cutmarks found never writes: "
        "take it out there."
    ) in " ".join(result.stderr.split())
    assert w1.read_bytes() == before
    assert not (tmp_path / "w1.found.yaml").exists()


def test_a_cut_said_in_the_job_file_is_taken_out_there(run, w1):
    w1.write_text(w1.read_text(encoding="utf-8") + f"found:\n  - {{piece: {PIECE}, cut: yes}}\n")
    result = run("found", w1, PIECE, *READ)
    assert result.exit_code == 2
    # The job of W1 has ten lines; the list's name is the eleventh.
    assert "take out the entry that says so (w1.yaml line 12)." in " ".join(result.stderr.split())


def test_another_piece_is_named_where_there_is_none_to_take_back(run, w1):
    run("found", w1, PIECE, *READ)
    result = run("found", w1, "field 9-R9", "--take-back")
    assert result.exit_code == 2
    assert 'w1.found.yaml: No entry of "field 9-R9" is kept, only of "field 3-R2": write one of these.' in " ".join(
        result.stderr.split()
    )


def test_nothing_is_taken_in_while_something_is_taken_back(run, w1):
    run("found", w1, PIECE, *READ)
    result = run("found", w1, PIECE, "--take-back", "--cut")
    assert result.exit_code == 2
    assert "--take-back takes the last entry out and nothing in" in " ".join(result.stderr.split())


def test_an_entry_that_stops_the_whole_job_is_taken_back_all_the_same(run, w1, tmp_path):
    kept = tmp_path / "w1.found.yaml"
    kept.write_text("found:\n  - piece: old 1-1\n    cut: yes\n  - piece: old 1-2\n    cut: yes\n", encoding="utf-8")
    assert run("check", w1).exit_code == 2
    first = run("found", w1, "old 1-2", "--take-back")
    # Taken back, and said; but something still stops.
    assert first.exit_code == 1
    assert "Taken back from w1.found.yaml: piece: old 1-2, cut: yes." in first.stdout
    assert 'w1.found.yaml line 2, found at "old 1-1": there is no such piece' in " ".join(first.stdout.split())
    assert run("found", w1, "old 1-1", "--take-back").exit_code == 0
    assert run("check", w1).exit_code == 0


def test_entries_of_several_holes_are_told_apart(run, w1, tmp_path):
    text = w1.read_text(encoding="utf-8")
    w1.write_text(
        text
        + "      - {name: cold, what: 15 copper, across: 398 to 413 right of V, up: 905 to 920 above B, cover: 45}\n"
    )
    for hole in ("riser", "cold"):
        assert run("found", w1, PIECE, hole, "--cut").exit_code in (0, 1)
    which = run("found", w1, PIECE, "--take-back")
    assert which.exit_code == 2
    assert 'Entries of riser or cold are kept for "field 3-R2": write which behind it.' in " ".join(
        which.stderr.split()
    )
    assert run("found", w1, PIECE, "Riser", "--take-back").exit_code in (0, 1)
    kept = (tmp_path / "w1.found.yaml").read_text(encoding="utf-8")
    assert "cold" in kept
    assert "riser" not in kept


# What is said is what happened.


def test_a_key_pressed_after_it_was_kept_does_not_say_that_nothing_was(run, w1, tmp_path, monkeypatch):
    def pressed(*_arguments):
        raise KeyboardInterrupt

    monkeypatch.setattr(command, "tell", pressed)
    result = run("found", w1, PIECE, *READ)
    assert result.exit_code == 0  # the code is for what was done
    assert f"Ended from the keyboard: all of {tmp_path / 'w1.found.yaml'} was written." in result.stderr
    assert "70 to 85" in (tmp_path / "w1.found.yaml").read_text(encoding="utf-8")


def test_a_key_pressed_before_it_was_kept_says_that_nothing_was(run, w1, tmp_path, monkeypatch):
    def pressed(*_arguments):
        raise KeyboardInterrupt

    monkeypatch.setattr(os, "replace", pressed)
    result = run("found", w1, PIECE, *READ)
    assert result.exit_code == 130
    assert "Ended from the keyboard: nothing was written." in result.stderr
    assert [one.name for one in tmp_path.iterdir()] == ["w1.yaml"]


@pytest.mark.parametrize(("to", "reason"), [(">/dev/full", "no space left on device"), (">&-", "it is closed")])
def test_what_was_kept_is_said_where_it_cannot_be_printed(run, w1, tmp_path, to, reason):
    command = f'{sys.executable} -m cutmarks found w1.yaml "{PIECE}" --cut {to}'
    result = subprocess.run(["sh", "-c", command], cwd=tmp_path, capture_output=True, text=True, check=False)
    assert result.returncode == 0
    assert result.stderr.startswith(
        f"All of w1.found.yaml was written. Standard output takes nothing ({reason}); it was to say:\n"
        "Kept in w1.found.yaml.\n"
    )
    assert "cut: 'yes'" in (tmp_path / "w1.found.yaml").read_text(encoding="utf-8")


def test_a_file_changed_meanwhile_is_not_written_over(run, w1, tmp_path, monkeypatch):
    real = command.found_lines

    def meanwhile(*arguments):
        (tmp_path / "w1.found.yaml").write_text("found: []  # by hand\n", encoding="utf-8")
        return real(*arguments)

    monkeypatch.setattr(command, "found_lines", meanwhile)
    result = run("found", w1, PIECE, *READ)
    assert result.exit_code == 2
    assert "w1.found.yaml was changed by another program just now" in result.stderr
    assert (tmp_path / "w1.found.yaml").read_text(encoding="utf-8") == "found: []  # by hand\n"


def test_who_waits_too_long_is_told_who_is_at_work(run, w1, monkeypatch):
    monkeypatch.setattr(found_file, "PATIENCE", 0.0)
    with found_file.one_at_a_time(w1):
        result = run("found", w1, PIECE, *READ)
    assert result.exit_code == 2
    assert "w1.yaml: another cutmarks found is at work on this job: let it finish, then say it again." in result.stderr
    assert run("found", w1, PIECE, *READ).exit_code == 0
