"""Words and figures on terminals of every sort."""

from __future__ import annotations

import pytest

from cutmarks.cli.terminal import columns, figure, shown_in, wrapped


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
