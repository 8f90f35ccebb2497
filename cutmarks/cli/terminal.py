"""Words and figures on a terminal: never lost, whatever the terminal can show."""

from __future__ import annotations

import re
import shutil
import sys
import textwrap
import unicodedata
from collections.abc import Iterable

import click

NARROWEST, WIDEST = 60, 110
"""Lines are wrapped to the terminal within these, columns."""

_HALF = re.compile(r"(\d*)½")
_PLAIN = str.maketrans(
    "\u00d7\u2010\u2011\u2012\u2013\u2014\u2212\u2018\u2019\u2032\u201c\u201d\u2033", "x------'''\"\"\""
)
"""The multiplication sign, dashes and quotes, as a typewriter has them."""


def tell(lines: str | Iterable[str], *, err: bool = False) -> None:
    """Print a line, or several, to stdout or stderr."""
    text = lines if isinstance(lines, str) else "\n".join(lines)
    stream = sys.stderr if err else sys.stdout
    click.echo(shown_in(text, getattr(stream, "encoding", None) or "utf-8"), err=err)


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


def wrapped(text: str, first: str = "", after: str | None = None) -> list[str]:
    """The text in lines as wide as the terminal; `first` stands before the first line, `after` before the others."""
    width = max(NARROWEST, min(WIDEST, shutil.get_terminal_size((WIDEST, 24)).columns))
    rest = " " * len(first) if after is None else after
    return textwrap.wrap(text, width, initial_indent=first, subsequent_indent=rest, break_on_hyphens=False) or [first]


def columns(rows: Iterable[tuple[str, ...]], indent: str = "  ") -> list[str]:
    """Rows as lines with their columns lined up; two blanks between columns, none at the end."""
    table = list(rows)
    widths = [max(map(len, column)) for column in zip(*table, strict=True)]
    return [
        (indent + "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True))).rstrip()
        for row in table
    ]


def _fraction(text: str, position: int) -> str:
    """One character; a vulgar fraction as 1/2, with a blank before it where it follows a figure."""
    character = text[position]
    plain = unicodedata.normalize("NFKC", character)
    if "\u2044" not in plain:
        return character
    blank = " " if position and text[position - 1].isdigit() else ""
    return blank + plain.replace("\u2044", "/")
