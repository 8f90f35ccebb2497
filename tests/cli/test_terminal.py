"""Words and figures on terminals of every sort."""

from __future__ import annotations

import io

import pytest

from cutmarks.cli.terminal import columns, figure, fitted, shown_in, wrapped


@pytest.mark.parametrize(
    ("paper", "terminal"),
    [("74½", "74.5"), ("½", "0.5"), ("248", "248"), ("9 17/32", "9 17/32"), ("297½ x 597", "297.5 x 597")],
)
def test_halves_are_decimals_on_a_terminal(paper, terminal):
    assert figure(paper) == terminal


def test_a_terminal_that_knows_the_signs_gets_them():
    assert shown_in("12½ × 3 – Küche", "utf-8") == "12½ × 3 – Küche"


@pytest.mark.parametrize(
    ("text", "plain"),
    [
        ("74½", "74 1/2"),
        ("½ copper", "1/2 copper"),
        ("3 × 4 – 5", "3 x 4 - 5"),
        ("2’ 1¼”", "2' 1 1/4\""),
        ("Küche", "Kuche"),
        ("壁", "?"),
    ],
)
def test_an_ascii_terminal_loses_no_figure(text, plain):
    assert shown_in(text, "ascii") == plain


def test_an_encoding_that_python_does_not_know_is_taken_as_ascii():
    assert shown_in("74½", "no-such-encoding") == "74 1/2"


def test_columns_line_up_and_leave_no_blank_at_the_end():
    assert columns([("hole", "left"), ("riser", "74.5")]) == ["  hole   left", "  riser  74.5"]


def test_long_sentences_are_wrapped_under_their_beginning(monkeypatch):
    monkeypatch.setenv("COLUMNS", "60")
    lines = wrapped("word " * 20, "  STOP  ")
    assert len(lines) == 2
    assert lines[0].startswith("  STOP  word")
    assert lines[1].startswith("        word")
    assert max(map(len, lines)) <= 60


HEADED = [("hole", "piece", "left", "you may be"), ("hot stub", "bench 2-3", "27/32 outside*", "11/32 any way")]
"""Lined up: two blanks, then 8, 9, 14 and 13 letters with two blanks between them: 2 + 44 + 6 = 52."""


def test_a_table_as_wide_as_the_terminal_keeps_its_columns(monkeypatch):
    # Two names of nine letters more: 52 + 8 = 60.
    rows = [HEADED[0], ("x" * 16, *HEADED[1][1:])]
    monkeypatch.setenv("COLUMNS", "60")
    assert [len(line) for line in columns(rows)] == [57, 60]


def test_a_table_that_is_too_wide_is_told_in_words_and_loses_nothing(monkeypatch):
    rows = [HEADED[0], ("x" * 17, *HEADED[1][1:])]
    monkeypatch.setenv("COLUMNS", "60")
    assert columns(rows) == [
        f"  {'x' * 17}: piece bench 2-3, left 27/32 outside*,",
        "    you may be 11/32 any way",
    ]
    assert columns(rows[1:], headed=False) == [
        f"  {'x' * 17}: bench 2-3, 27/32 outside*,",
        "    11/32 any way",
    ]
    monkeypatch.delenv("COLUMNS")
    monkeypatch.setattr("sys.__stdout__", io.StringIO())
    assert len(columns(rows)) == 2
    assert columns(rows)[1].startswith("  " + "x" * 17 + "  bench 2-3")


class Terminal(io.StringIO):
    """A stream that says that it is a terminal."""

    def isatty(self) -> bool:
        return True


def test_lines_that_are_too_long_for_the_terminal_are_wrapped_with_their_indent(monkeypatch):
    monkeypatch.setenv("COLUMNS", "60")
    text = f"short   as it is\n    {'word ' * 20}"
    lines = fitted(text, Terminal()).split("\n")
    assert lines[0] == "short   as it is"
    assert [line[:6] for line in lines[1:]] == ["    wo", "      "]
    assert max(map(len, lines)) <= 60
    assert fitted(text, io.StringIO()) == text
    # A terminal that is wider than prose is set has room for a table.
    monkeypatch.setenv("COLUMNS", "200")
    assert fitted("x" * 199, Terminal()) == "x" * 199
