"""Progress is for whoever sits at a terminal, and leaves nothing behind."""

from __future__ import annotations

import io
import sys

from cutmarks.cli.progress import progress_line


class Terminal(io.StringIO):
    """A terminal that keeps what was written to it."""

    def isatty(self) -> bool:
        return True


def test_nothing_is_said_where_nobody_looks(monkeypatch):
    monkeypatch.setattr(sys, "stderr", io.StringIO())
    with progress_line() as show:
        assert show is None


def test_a_short_run_says_nothing(monkeypatch):
    terminal = Terminal()
    monkeypatch.setattr(sys, "stderr", terminal)
    with progress_line() as show:
        assert show is not None
        show("pack.pdf", 1, 40)
    assert terminal.getvalue() == ""


def test_a_long_run_keeps_one_line_and_wipes_it(monkeypatch):
    terminal = Terminal()
    monkeypatch.setattr(sys, "stderr", terminal)
    clock = iter([0.0, 1.0, 1.01, 2.0])
    monkeypatch.setattr("cutmarks.cli.progress.time.monotonic", lambda: next(clock))
    with progress_line() as show:
        assert show is not None
        show("job-sheet.pdf", 1, 40)
        show("too soon", 2, 40)
        show("pack.pdf", 3, 40)
    lines = terminal.getvalue().split("\r")
    assert [line.rstrip() for line in lines] == ["", "1 of 40  job-sheet.pdf", "3 of 40  pack.pdf", "", ""]
    assert len(lines[2]) == len(lines[1])
