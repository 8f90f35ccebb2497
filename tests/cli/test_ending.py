"""Every way to end has its exit code and its sentence."""

from __future__ import annotations

import io
import subprocess
import sys
from pathlib import Path

import click
import pytest
from click.testing import CliRunner

from cutmarks.cli.app import Commands, app
from cutmarks.cli.ending import Exit, said, writing
from cutmarks.cli.options import trace_option
from cutmarks.cli.terminal import fitted
from cutmarks.errors import CutmarksError, Fault, GeometryError, JobError, OutputError

FAULTS = (
    Fault('"fuor" is no length.', 'hole "hot", across', "laundry.yaml", 31),
    Fault("no start.", 'area "splash"', "laundry.yaml", 40),
)


def ending_with(raised: BaseException | Exit, *arguments: str, after: Exit | None = None):
    """What a command that ends so gives: its exit code, stdout and stderr; `after`: DIR was written, with that code."""

    @click.command("act")
    @trace_option
    def act() -> Exit:
        if after is not None:
            with writing(Path("DIR"), after):
                pass
        if isinstance(raised, Exit):
            return raised
        raise raised

    group = Commands("cutmarks", commands={"act": act})
    return CliRunner().invoke(group, ["act", *arguments])


@pytest.mark.parametrize(
    ("raised", "code"),
    [
        (Exit.DONE, 0),
        (Exit.STOP, 1),
        (JobError(FAULTS), 2),
        (OutputError("laundry: this is a file"), 2),
        (click.UsageError("wrong call"), 2),
        (GeometryError("a ring crosses itself"), 4),
        (CutmarksError("unheard of"), 4),
        (ZeroDivisionError("division by zero"), 4),
        (KeyboardInterrupt(), 130),
    ],
)
def test_each_ending_has_its_code(raised, code):
    assert ending_with(raised).exit_code == code


def test_all_faults_are_told_at_once_on_stderr():
    result = ending_with(JobError(FAULTS))
    assert result.stdout == ""
    assert result.stderr == (
        'laundry.yaml line 31, hole "hot", across: "fuor" is no length.\n'
        'laundry.yaml line 40, area "splash": no start.\n'
        "2 faults: nothing was written.\n"
    )


def test_one_fault_is_counted_as_one():
    assert said(JobError(FAULTS[:1])).endswith("\n1 fault: nothing was written.")


def test_a_fault_of_our_own_says_what_to_send_and_traces_only_when_asked():
    quiet, traced = ending_with(ZeroDivisionError("division by zero")), ending_with(ZeroDivisionError("x"), "--trace")
    assert quiet.stderr == (
        "This is a fault of cutmarks itself, not of your job (ZeroDivisionError: division by zero). Nothing was "
        "written. Run the same command with --trace and send what it prints, with the job file, to those who keep "
        "cutmarks.\n"
    )
    assert "Traceback" in traced.stderr


@pytest.mark.parametrize("code", [Exit.DONE, Exit.STOP])
def test_ended_from_the_keyboard_when_all_is_written_the_work_counts(code):
    result = ending_with(KeyboardInterrupt(), after=code)
    assert (result.exit_code, result.stderr) == (code, "\nEnded from the keyboard: all of DIR was written.\n")


def test_a_fault_of_our_own_after_the_writing_does_not_say_that_nothing_was_written():
    result = ending_with(ZeroDivisionError("x"), after=Exit.DONE)
    assert result.exit_code == 4
    assert "(ZeroDivisionError: x). All of DIR was written. Run the same" in result.stderr


@pytest.mark.parametrize(
    ("raised", "code", "said_of_it"),
    [
        (KeyboardInterrupt(), 130, "it is not sure that DIR was written: it is as it was before, or new and whole."),
        (OSError(28, "No space left on device"), 4, "It is not sure that DIR was written: it is as it was before"),
        (OutputError("DIR: this is a file: nothing was written"), 2, "DIR: this is a file: nothing was written\n"),
        (JobError(FAULTS[:1]), 2, "1 fault: nothing was written."),
    ],
)
def test_what_ends_in_the_middle_of_the_writing_claims_no_more_than_is_known(raised, code, said_of_it):
    @click.command("act")
    def act() -> None:
        with writing(Path("DIR")):
            raise raised

    result = CliRunner().invoke(Commands("cutmarks", commands={"act": act}), ["act"])
    assert result.exit_code == code
    assert said_of_it in result.stderr


def test_answers_that_run_out_are_told_and_write_nothing():
    @click.command("act")
    def act() -> None:
        click.prompt("Job")

    result = CliRunner().invoke(Commands("cutmarks", commands={"act": act}), ["act"], input="")
    assert result.exit_code == 2
    assert "The answers ended before the last question: nothing was written." in result.stderr


@pytest.mark.parametrize(
    "arguments", [["-h"], ["--help"], ["check", "-h"], ["make", "-h"], ["one", "-h"], ["new", "-h"]]
)
def test_help_is_there_in_both_lengths(arguments):
    result = CliRunner().invoke(app, arguments)
    assert result.exit_code == 0
    assert "Usage:" in result.stdout


def test_a_misspelt_command_names_the_nearest():
    result = CliRunner().invoke(app, ["chekc"])
    assert result.exit_code == 2
    assert "check" in result.stderr


def test_a_job_that_is_not_there_is_a_usage_error():
    result = CliRunner().invoke(app, ["check", "nowhere.yaml"])
    assert result.exit_code == 2
    assert "'nowhere.yaml' does not exist" in result.stderr


@pytest.mark.skipif(sys.platform == "win32", reason="no pipes that break there")
def test_a_reader_that_has_gone_is_no_error(repository):
    script = (
        "import click\nfrom cutmarks.cli.app import Commands\n"
        "@click.command('act')\ndef act():\n    for _ in range(100000):\n        click.echo('a line')\n"
        "Commands('cutmarks', commands={'act': act})(['act'])\n"
    )
    with subprocess.Popen(
        [sys.executable, "-c", script], stdout=subprocess.PIPE, stderr=subprocess.PIPE, cwd=repository
    ) as ran:
        assert ran.stdout is not None
        assert ran.stderr is not None
        ran.stdout.readline()
        ran.stdout.close()
        assert ran.stderr.read() == b""
        assert ran.wait() == Exit.NOBODY_READS


class _Terminal(io.StringIO):
    """A stream that is a terminal."""

    def isatty(self) -> bool:
        return True


def test_faults_fit_the_terminal_that_they_go_to(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "72")
    faults = "\n".join(["job.yaml line 3, hole hot: " + "left of V " * 12, "1 fault: nothing was written."])
    lines = fitted(faults, _Terminal()).splitlines()
    assert max(map(len, lines)) <= 72
    assert " ".join(" ".join(lines).split()) == " ".join(faults.split())
    assert lines[1].startswith("  ")
    assert fitted(faults, io.StringIO()) == faults


LEAVING = """
import os, sys
class Held:
    def __del__(self, write=os.write):
        write(2, b"taken apart")
sys.held = Held()
{}
from cutmarks.cli import main
main()
"""


def left(setup: str, *arguments: str):
    return subprocess.run(
        [sys.executable, "-c", LEAVING.format(setup), *arguments], capture_output=True, text=True, check=False
    )


def test_a_process_ends_at_once_with_all_that_it_said_and_its_code():
    done = left("", "--version")
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.startswith("cutmarks ")
    refused = left("", "check", "no-such-file.yaml")
    assert refused.returncode == Exit.NOTHING_WRITTEN
    assert "no-such-file.yaml" in refused.stderr
    assert "taken apart" not in refused.stderr


@pytest.mark.parametrize(
    "setup",
    [
        'import atexit; atexit.register(os.write, 2, b"at its end")',
        'import threading as t; t.Thread(target=lambda: (t.main_thread().join(), os.write(2, b"at its end"))).start()',
    ],
    ids=["registered", "another thread"],
)
def test_what_waits_for_the_end_of_the_process_has_it(setup):
    done = left(setup, "--version")
    assert done.returncode == 0
    assert "at its end" in done.stderr
    assert "taken apart" in done.stderr
