"""Words and figures on a terminal: never lost, whatever the terminal can show.

Standard output may be closed, full or without a reader: then `tell` raises. What standard error does not take is lost:
there is nowhere else to say it, and the work goes on.
"""

from __future__ import annotations

import errno
import io
import os
import re
import shutil
import sys
import textwrap
import unicodedata
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from typing import TextIO

import click

from cutmarks.errors import OutputError

NARROWEST, WIDEST = 60, 110
"""Lines are wrapped to the terminal within these, columns."""

_GLUE = "\x1f"
"""Stands for a blank at which a line may not end; no text of a job has it."""
_HALF = re.compile(r"(\d*)½")
_PLAIN = str.maketrans(
    "\u00d7\u2010\u2011\u2012\u2013\u2014\u2212\u2018\u2019\u2032\u201c\u201d\u2033", "x------'''\"\"\""
)
"""The multiplication sign, dashes and quotes, as a typewriter has them."""


class NotPrinted(Exception):
    """Standard output does not take what is printed: what that is, and why, in the system's words."""

    def __init__(self, text: str, error: OSError) -> None:
        self.text = text
        self.reason = (error.strerror or str(error)).lower()
        super().__init__(self.reason)


class _Closed(io.TextIOBase):
    """Standard output where there is none: it refuses what is written, instead of swallowing it."""

    encoding = "utf-8"

    def writable(self) -> bool:
        return True

    def write(self, _text: str) -> int:
        raise OSError(errno.EBADF, "it is closed")


def stand_in() -> None:
    """Put something in the place of streams that were closed before the command began, which Python leaves out."""
    if sys.stdin is None:
        sys.stdin = io.StringIO()
    if sys.stdout is None:
        sys.stdout = _Closed()
    if sys.stderr is None:
        sys.stderr = open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115 - for as long as the process lasts


def tell(lines: str | Iterable[str], *, err: bool = False, as_it_is: bool = False) -> None:
    """Print a line, or several, to stdout or stderr: as wide as the terminal, or `as_it_is` where it will be copied.

    Raises:
        NotPrinted: stdout does not take it.
        BrokenPipeError: nobody reads stdout any more.
    """
    text = lines if isinstance(lines, str) else "\n".join(lines)
    if err:
        hint(f"{text if as_it_is else fitted(text, sys.stderr)}\n")
        return
    try:
        click.echo(shown_in(text if as_it_is else fitted(text, sys.stdout), _encoding(sys.stdout)))
    except BrokenPipeError:
        raise
    except OSError as error:
        raise NotPrinted(text, error) from error


def hint(text: str) -> None:
    """Print to stderr, without a new line, what may be lost."""
    try:
        click.echo(shown_in(text, _encoding(sys.stderr)), nl=False, err=True)
    except OSError:
        silence(sys.stderr)


def silence(stream: TextIO) -> None:
    """Let what a stream still holds go nowhere when the process ends, instead of into a second error."""
    try:
        into = stream.fileno()
    except (OSError, ValueError):
        return  # no file of the system's
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, into)
    os.close(nowhere)


def answer_to(question: str, default: str | None = None, choices: Sequence[str] = ()) -> str:
    """The answer to a question, asked again until there is one, of `choices` where there are any.

    An empty one takes `default`, which stands in brackets unless it is empty itself.

    Raises:
        click.Abort: ended from the keyboard, or there are no more answers.
        OutputError: what comes is no text, or cannot be read.
        NotPrinted: stdout does not take the question.
    """
    with _reading():
        kind = click.Choice(choices) if choices else None
        answer: str = click.prompt(question, default=default, type=kind, show_default=bool(default))
        # Where the locale knows ASCII alone, Python hands on what is more as bytes in disguise.
        return answer.encode("utf-8", "surrogateescape").decode("utf-8")


def confirmed(question: str) -> bool:
    """Whether the answer is yes. Raises as `answer_to`."""
    with _reading():
        return click.confirm(question)


@contextmanager
def _reading() -> Iterator[None]:
    try:
        yield
    except BrokenPipeError:
        raise
    except UnicodeError as error:
        raise OutputError("The answers are no text in UTF-8: save them as that. Nothing was written.") from error
    except OSError as error:
        tell("")  # raises where it was the question that could not be printed
        reason = (error.strerror or str(error)).lower()
        raise OutputError(
            f"The answers cannot be read ({reason}): type them, or pipe in a file. Nothing was written."
        ) from error


def _encoding(stream: TextIO | None) -> str:
    return getattr(stream, "encoding", None) or "utf-8"


def shown_in(text: str, encoding: str) -> str:
    """The text as a terminal of that encoding can show it: signs become their plain look, the rest a question mark.

    >>> shown_in("74½ × 12", "ascii")
    '74 1/2 x 12'
    """
    try:
        text.encode(encoding)
    except (UnicodeEncodeError, LookupError):
        plain = "".join(_fraction(text, i) for i in range(len(text))).translate(_PLAIN)
        decomposed = "".join(c for c in unicodedata.normalize("NFKD", plain) if not unicodedata.combining(c))
        return decomposed.encode("ascii", errors="replace").decode("ascii")
    return text


def figure(shown: str) -> str:
    """A measure as paper shows it, as a terminal does: 74.5 and not 74½, which many terminals cannot show.

    >>> figure("74½"), figure("½"), figure("9 17/32")
    ('74.5', '0.5', '9 17/32')
    """
    return _HALF.sub(lambda found: f"{found[1] or 0}.5", shown)


def _terminal() -> int:
    """How wide the terminal is, columns, as it or COLUMNS says; 0 where there is none."""
    return shutil.get_terminal_size((0, 0)).columns


def wrapped(text: str, first: str = "", after: str | None = None) -> list[str]:
    """The text in lines as wide as the terminal; `first` stands before the first line, `after` before the others."""
    width = max(NARROWEST, min(WIDEST, _terminal() or WIDEST))
    rest = " " * len(first) if after is None else after
    return textwrap.wrap(text, width, initial_indent=first, subsequent_indent=rest, break_on_hyphens=False) or [first]


def fitted(text: str, stream: TextIO) -> str:
    """The text with lines that are too long for the terminal wrapped; as it is for a file or another program."""
    if not stream.isatty():
        return text
    return "\n".join(part for line in text.split("\n") for part in _fitted(line))


def _fitted(line: str) -> list[str]:
    lead = line[: len(line) - len(line.lstrip())]
    is_short = len(line) <= max(NARROWEST, _terminal() or WIDEST)
    return [line] if is_short else wrapped(line.lstrip(), lead, f"{lead}  ")


def columns(rows: Iterable[tuple[str, ...]], indent: str = "  ", *, headed: bool = True) -> list[str]:
    """Rows as lines with their columns lined up; two blanks between columns, none at the end.

    On a terminal that is too narrow for them each row is told in words: its first cell, and the others behind their
    headings, which are the first row where the table is `headed`.
    """
    table = list(rows)
    widths = [max(map(len, column)) for column in zip(*table, strict=True)]
    lines = [
        (indent + "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True))).rstrip()
        for row in table
    ]
    # A file or another program has no width: there a row stays a line.
    width = _terminal()
    if not width or max(map(len, lines)) <= max(NARROWEST, width):
        return lines
    heads, told = (table[0], table[1:]) if headed else (("",) * len(table[0]), table)
    return [line for row in told for line in _in_words(heads, row, indent)]


def _in_words(heads: Sequence[str], row: Sequence[str], indent: str) -> list[str]:
    """One row of a table in words. A heading and its cell are not torn apart at a line's end, where they fit in one."""
    parts = [f"{head} {cell}".strip() for head, cell in zip(heads[1:], row[1:], strict=True)]
    glued = [part.replace(" ", _GLUE) if len(part) <= NARROWEST // 2 else part for part in parts]
    return [line.replace(_GLUE, " ") for line in wrapped(f"{row[0]}: {', '.join(glued)}", indent, indent * 2)]


def _fraction(text: str, position: int) -> str:
    """One character; a vulgar fraction as 1/2, with a blank before it where it follows a figure."""
    character = text[position]
    plain = unicodedata.normalize("NFKC", character)
    if "\u2044" not in plain:
        return character
    blank = " " if position and text[position - 1].isdigit() else ""
    return blank + plain.replace("\u2044", "/")
