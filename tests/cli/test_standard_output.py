"""Standard output, input and error that are closed, full or without a reader: what was written is what counts.

Every command runs as a process of its own, whose descriptors are as a shell leaves them after `>&-` or `>/dev/full`.
"""

from __future__ import annotations

import os
import shlex
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from cutmarks import load_job

pytestmark = [
    pytest.mark.skipif(sys.platform == "win32", reason="no such descriptors there"),
    pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no /dev/full"),
]

FULL, CLOSED = ">/dev/full", ">&-"
REASON = {FULL: "no space left on device", CLOSED: "it is closed"}
TAKES_NOTHING = "Standard output takes nothing ({reason}): print to a terminal, or into a file where there is room."

Shell = Callable[..., subprocess.CompletedProcess[str]]


@pytest.fixture
def shell(w1: Path, repository: Path, tmp_path: Path) -> Shell:
    """Run `cutmarks` through the shell with these arguments and redirections, in the folder of the job w1.yaml."""
    own = {"PYTHONPATH": str(repository), "XDG_CONFIG_HOME": str(tmp_path / "config")}
    python = shlex.quote(sys.executable)

    def run(arguments: str, redirected: str = "") -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            ["bash", "-c", f"{python} -B -m cutmarks {arguments} {redirected}"],
            cwd=w1.parent,
            env={**os.environ, **own},
            stdin=subprocess.DEVNULL,
            capture_output=True,
            text=True,
            timeout=120,
        )

    return run


def whole(out: Path) -> bool:
    """Whether an output stands there, finished."""
    return (out / "plan.json").is_file() and not (out / ".cutmarks-unfinished").exists()


@pytest.mark.parametrize("stdout", [FULL, CLOSED])
def test_what_make_wrote_is_said_on_the_other_stream_and_ends_with_its_code(shell, tmp_path, stdout):
    ran = shell("make w1.yaml --out out", stdout)
    assert ran.returncode == 0
    assert ran.stderr.startswith(
        f"All of out was written. Standard output takes nothing ({REASON[stdout]}); it was to say:\nWritten to out: "
    )
    assert whole(tmp_path / "out")


def test_a_stop_is_not_lost_with_standard_output(shell, w1, tmp_path):
    # 1 of tile is left between the hole of 35 and the edge at 248: the worked example moved to the right by 155.
    w1.write_text(w1.read_text().replace("318 to 333", "473 to 488"), encoding="utf-8")
    ran = shell("make w1.yaml --out out", FULL)
    assert ran.returncode == 1, ran.stderr
    assert "\nBEFORE YOU CUT\n" in ran.stderr
    assert "STOP" in ran.stderr
    assert whole(tmp_path / "out")


@pytest.mark.parametrize(
    "streams", [">/dev/full 2>&-", ">&- 2>&-", ">/dev/full 2>/dev/full", "2>&1 | true; exit ${PIPESTATUS[0]}"]
)
def test_with_nowhere_to_say_it_the_work_is_done_all_the_same(shell, tmp_path, streams):
    ran = shell("make w1.yaml --out out", streams)
    assert (ran.returncode, ran.stderr) == (0, "")
    assert whole(tmp_path / "out")


def test_a_reader_that_has_gone_does_not_hide_what_was_written(shell, tmp_path):
    ran = shell("make w1.yaml --out out", "| true; exit ${PIPESTATUS[0]}")
    assert ran.returncode == 0
    assert ran.stderr == "All of out was written. Nobody read all that was said of it.\n"
    assert whole(tmp_path / "out")


@pytest.mark.parametrize(
    ("arguments", "redirected", "code"),
    [
        ("make w1.yaml --out out", FULL, 0),
        ("check w1.yaml", FULL, 2),
        ("--help", FULL, 2),
        ("make w1.yaml --out out", "| true; exit ${PIPESTATUS[0]}", 0),
        ("--version", "| true; exit ${PIPESTATUS[0]}", 141),
    ],
)
def test_it_is_the_same_where_nothing_is_buffered(shell, monkeypatch, arguments, redirected, code):
    monkeypatch.setenv("PYTHONUNBUFFERED", "1")
    ran = shell(arguments, redirected)
    assert ran.returncode == code
    assert "Traceback" not in ran.stderr
    assert "Exception ignored" not in ran.stderr


def test_check_without_a_reader_ends_as_the_shell_expects(shell):
    ran = shell("check w1.yaml", "| true; exit ${PIPESTATUS[0]}")
    assert (ran.returncode, ran.stderr) == (141, "")


@pytest.mark.parametrize("stdout", [FULL, CLOSED])
@pytest.mark.parametrize("arguments", ["check w1.yaml", "--help", "make --help"])
def test_a_command_that_only_prints_has_done_nothing_then(shell, arguments, stdout):
    ran = shell(arguments, stdout)
    assert ran.returncode == 2
    assert ran.stderr == f"{TAKES_NOTHING.format(reason=REASON[stdout])} Nothing was written.\n"


@pytest.mark.parametrize("stderr", ["2>/dev/full", "2>&-"])
@pytest.mark.parametrize("arguments", ["check nowhere.yaml", "--nonsense", "make w1.yaml --out w1.yaml"])
def test_a_refusal_that_cannot_be_said_keeps_its_code(shell, arguments, stderr):
    ran = shell(arguments, stderr)
    assert (ran.returncode, ran.stderr) == (2, "")


def test_what_found_keeps_is_said(shell, w1):
    # The sheet reads 69 to 84 from the left neighbour (W1): 2 less.
    ran = shell('found w1.yaml "field 3-R2" --from-left-tile "67 to 82"', FULL)
    assert ran.returncode == 0, ran.stderr
    assert ran.stderr.startswith("All of w1.found.yaml was written. Standard output takes nothing")
    assert "Kept in w1.found.yaml." in ran.stderr
    assert "67" in w1.with_name("w1.found.yaml").read_text(encoding="utf-8")


def test_one_tile_s_template_is_written_and_its_figures_are_said(shell, tmp_path):
    ran = shell(
        'one --tile 248x398 --joint 2 --what "15 copper" --cover 65 --from-left-tile "69 to 84" '
        '--from-course-below "107 to 122" --out out',
        CLOSED,
    )
    assert ran.returncode == 0
    # W1.
    assert "from the LEFT edge 74.5, from the BOTTOM edge 112.5" in ran.stderr
    assert whole(tmp_path / "out")


def test_a_printer_is_kept_and_its_test_page_written(shell, tmp_path):
    page, readings = (
        shell("printer --test-page test.pdf", FULL),
        shell("printer office --across 180 --along 250", FULL),
    )
    assert (page.returncode, readings.returncode) == (0, 0)
    assert page.stderr.startswith("All of test.pdf was written. ")
    assert (tmp_path / "test.pdf").read_bytes().startswith(b"%PDF")
    assert readings.stderr.startswith(f"All of {tmp_path / 'config/cutmarks/printers.json'} was written. ")


def test_a_starter_is_written_and_said(shell, tmp_path):
    ran = shell("new --starter wall job.yaml", CLOSED)
    assert ran.returncode == 0
    assert ran.stderr.endswith("it was to say:\nWritten: job.yaml\n")
    assert (tmp_path / "job.yaml").is_file()


@pytest.mark.parametrize(
    ("streams", "sentence"),
    [
        ("<&-", "The answers ended before the last question: nothing was written."),
        ("</dev/null", "The answers ended before the last question: nothing was written."),
        (
            "0>/dev/null",
            "The answers cannot be read (bad file descriptor): type them, or pipe in a file. Nothing was written.",
        ),
        (">/dev/full", f"{TAKES_NOTHING.format(reason=REASON[FULL])} Nothing was written."),
        ("<&- >&-", f"{TAKES_NOTHING.format(reason=REASON[CLOSED])} Nothing was written."),
    ],
)
def test_questions_that_cannot_be_asked_or_answered_end_in_a_sentence(shell, tmp_path, streams, sentence):
    ran = shell("new job.yaml", streams)
    assert ran.returncode == 2
    assert ran.stderr.strip() == sentence
    assert not (tmp_path / "job.yaml").exists()


@pytest.mark.parametrize("locale", ["C", "C.UTF-8"])
def test_answers_that_are_no_text_end_in_a_sentence(shell, tmp_path, monkeypatch, locale):
    monkeypatch.setenv("LC_ALL", locale)
    ran = shell("new job.yaml", r"< <(printf 'K\xfcche\n')")
    assert ran.returncode == 2
    assert ran.stderr == "The answers are no text in UTF-8: save them as that. Nothing was written.\n"
    assert not (tmp_path / "job.yaml").exists()


def test_answers_in_utf8_are_taken_where_the_locale_knows_ascii_alone(shell, tmp_path, monkeypatch):
    for name, value in (("LC_ALL", "C"), ("PYTHONUTF8", "0"), ("PYTHONCOERCECLOCALE", "0")):
        monkeypatch.setenv(name, value)
    ran = shell("new job.yaml", r"< <(printf 'K\xc3\xbcche\n\nsink\nbatten\n248 x 398\n'; yes '')")
    assert ran.returncode == 0, ran.stderr
    assert load_job(tmp_path / "job.yaml").name == "K\u00fcche"
