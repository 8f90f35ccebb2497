"""Sentences for text that YAML cannot read: never the library's own."""

from __future__ import annotations

from collections.abc import Sequence

from ruamel.yaml.error import MarkedYAMLError

from cutmarks.job.scanner import SECOND_COLON, WRONG_COLUMN

TAB = "A Tab stands before the first word of this line: YAML takes blanks only, write two for each step."

_COLON = 'This line has no colon and blank behind its key: write it as "key: value".'
_OPEN_QUOTE = "A quotation mark opens here and does not close: close it, or put the value between ' and '."
_BRACKET = (
    "A [ or {{ from line {opened} is not closed, or a comma is missing: close it, "
    "and put values with odd characters in quotes."
)
_OTHER = "This line cannot be read: write it as key: value, and put a value with odd characters in quotes."

_BY_PROBLEM = (
    ("could not find expected ':'", _COLON),
    ("found unexpected end of stream", _OPEN_QUOTE),
    ("found unexpected document separator", _OPEN_QUOTE),
    ("found unknown escape character", "A \\ stands inside double quotes: use ' and ' there, or write / instead."),
    ("expected escape sequence", "A \\ stands inside double quotes: use ' and ' there, or write / instead."),
    ("but got ':'", SECOND_COLON),
    ("expected ',' or", _BRACKET),
    ("found unexpected ':'", SECOND_COLON),
    ("expected the node content", _BRACKET),
    ("expected <block end>", WRONG_COLUMN),
    ("sequence entries are not allowed", "A list cannot begin here: put the - on a line of its own."),
    ("mapping values are not allowed", SECOND_COLON),
    ("expected '<document start>'", WRONG_COLUMN),
)


def explained(error: MarkedYAMLError, lines: Sequence[str]) -> tuple[int, str]:
    """The line, from 1, and one sentence for what the library could not read."""
    problem = error.problem or ""
    mark = error.problem_mark or error.context_mark
    at = min(mark.line, len(lines) - 1) if mark is not None else 0
    opened = error.context_mark.line if error.context_mark is not None else at
    for words, sentence in _BY_PROBLEM:
        if words in problem:
            if sentence is SECOND_COLON and opened != at:
                # The bracket was opened on an earlier line: this line is a key of its own, it only was not closed.
                sentence = _BRACKET
            # A missing colon, and a quotation mark left open, are seen further on than they were typed.
            line = opened if sentence in (_COLON, _OPEN_QUOTE) else at
            return line + 1, sentence.format(opened=opened + 1) if sentence is _BRACKET else sentence
    return at + 1, _OTHER
