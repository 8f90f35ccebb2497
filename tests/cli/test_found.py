"""What was read at the wall, from the command line into a file beside the job and back into its sheets."""

from __future__ import annotations

import csv
import io
import json

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
    assert "take out the entry that says so (w1.found.yaml line 3)" in told
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
