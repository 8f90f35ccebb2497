"""What a wall page sent: what is taken, what is known, what changed, and what two read differently."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from cutmarks.errors import JobError
from cutmarks.job.found_file import read_kept
from cutmarks.job.found_sent import read_sent, sort_out

JOB = "Tern Row 4"
HOT = {
    "piece": "field 1-2",
    "sheet": "aaaaaaaa",
    "hole": "hot",
    "left": "70 mm to 86 mm",
    "by": "JK 2026-03-14 09:40:12",
}
SHEETS = {"field 1-2": "aaaaaaaa", "field 1-3": "bbbbbbbb"}


def sent(path: Path, *entries: dict[str, str], job: str = JOB) -> Path:
    listed = "".join(f"- {json.dumps(one)}\n" for one in entries)
    path.write_text(
        f"job: {json.dumps(job)}\ndigits: 00000000\nfound:{' []' if not entries else ''}\n{listed}", "utf-8"
    )
    return path


def of(*entries: dict[str, str], tmp_path: Path, kept: str = "", whose: str = ""):
    read = read_sent([sent(tmp_path / f"{n}.txt", one) for n, one in enumerate(entries)], JOB)
    return sort_out(read, read_kept(kept, "tern.found.yaml"), SHEETS, whose)


def test_an_entry_is_kept_with_its_day_and_without_what_is_the_page_s_own(tmp_path):
    (one,) = of({**HOT, "fixed": "yes"}, tmp_path=tmp_path).taken
    assert one.to_keep == {
        "piece": "field 1-2",
        "hole": "hot",
        "left": "70 mm to 86 mm",
        "by": "JK 2026-03-14 09:40:12",
        "date": "2026-03-14",
    }


def test_a_piece_that_was_read_and_is_fixed_is_ticked_and_kept(tmp_path):
    found = of({**HOT, "fixed": "yes"}, tmp_path=tmp_path)
    assert (len(found.taken), found.ticked) == (1, ("field 1-2",))
    assert of(HOT, tmp_path=tmp_path).ticked == ()


def test_what_is_kept_is_known_again(tmp_path):
    kept = "found:\n  - {piece: field 1-2, hole: hot, left: 70 mm to 86 mm, by: 'JK 2026-03-14 09:40:12'}\n"
    found = of(HOT, tmp_path=tmp_path, kept=kept)
    assert (len(found.known), found.taken) == (1, ())


def test_an_old_file_does_not_come_back_over_a_later_reading(tmp_path):
    kept = (
        "found:\n  - {piece: field 1-2, hole: hot, left: 70 mm to 86 mm, by: 'JK 2026-03-14 09:40:12'}\n"
        "  - {piece: field 1-2, hole: hot, left: 71 mm to 87 mm, by: 'JK 2026-03-14 10:00:00'}\n"
    )
    assert of(HOT, tmp_path=tmp_path, kept=kept).taken == ()


def test_a_piece_that_changed_is_not_taken(tmp_path):
    found = of({**HOT, "sheet": "cccccccc"}, {**HOT, "piece": "field 9-9"}, tmp_path=tmp_path)
    assert (len(found.changed), found.taken) == (2, ())


def test_two_that_read_differently_are_asked(tmp_path):
    other = {**HOT, "left": "71 mm to 87 mm", "by": "AB 2026-03-14 09:50:00"}
    found = of(HOT, other, tmp_path=tmp_path)
    assert found.taken == ()
    assert found.apart == (
        (
            "field 1-2, hot: left 70 mm to 86 mm (JK 2026-03-14 09:40:12)",
            "field 1-2, hot: left 71 mm to 87 mm (AB 2026-03-14 09:50:00)",
        ),
    )
    (one,) = of(HOT, other, tmp_path=tmp_path, whose="AB").taken
    assert one.said["left"] == "71 mm to 87 mm"


def test_what_another_man_s_kept_reading_says_otherwise_is_asked_too(tmp_path):
    kept = "found:\n  - {piece: field 1-2, hole: hot, left: 70½ mm to 86½ mm, by: 'AB 2026-03-14 08:00:00'}\n"
    found = of(HOT, tmp_path=tmp_path, kept=kept)
    assert (found.taken, len(found.apart)) == ((), 1)


def test_two_that_read_the_same_are_one(tmp_path):
    other = {**HOT, "cut": "yes", "by": "AB 2026-03-14 09:50:00"}
    (one,) = of(HOT, other, tmp_path=tmp_path).taken
    assert one.said["cut"] == "yes"


def test_of_one_man_the_later_reading_counts(tmp_path):
    later = {**HOT, "left": "71 mm to 87 mm", "by": "JK 2026-03-14 09:50:00"}
    (one,) = of(later, HOT, tmp_path=tmp_path).taken
    assert one.said["left"] == "71 mm to 87 mm"


def test_nobody_s_readings_in_two_files_are_two(tmp_path):
    other = {**HOT, "left": "71 mm to 87 mm"}
    nobody = [{key: value for key, value in one.items() if key != "by"} for one in (HOT, other)]
    assert of(*nobody, tmp_path=tmp_path).taken == ()


def test_ticks_alone_are_told_and_not_kept(tmp_path):
    found = of({"piece": "field 1-3", "sheet": "bbbbbbbb", "fixed": "yes", "by": "JK"}, tmp_path=tmp_path)
    assert (found.taken, found.ticked) == ((), ("field 1-3",))


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("job: other\nfound: []\n", 'is of "other", and this job is "Tern Row 4"'),
        ("found: []\n", "is of no job"),
        ("job: Tern Row 4\n", 'has no list under "found:"'),
        ('job: Tern Row 4\nfound:\n- {"piece": "a 1-1"}\n', "has no sheet"),
        ('job: Tern Row 4\nfound:\n- {"piece": "a", "sheet": "b", "run": "x"}\n', '"run" is nothing that a wall page'),
        ("job: Tern Row 4\nfound:\n- splash\n", "no entry of a wall page"),
        ('job: Tern Row 4\nfound:\n- {"piece": "a\\u001b[2J", "sheet": "b"}\n', "no entry of a wall page"),
        ('job: Tern Row 4\nfound:\n- {"piece": "a", "sheet": "b", "by": "' + 300 * "x" + '"}\n', "no entry of a wall"),
        ("job: Tern Row 4\nfound: []\nsurfaces: []\n", '"surfaces" is nothing that a wall page writes'),
    ],
)
def test_what_no_page_wrote_is_refused_with_its_line(tmp_path, text, said):
    path = tmp_path / "sent.txt"
    path.write_text(text, "utf-8")
    with pytest.raises(JobError) as refused:
        read_sent([path], JOB)
    assert said in str(refused.value)
    assert all(fault.line for fault in refused.value.faults)
