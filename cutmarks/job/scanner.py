"""The YAML scanner, taught what tilers type.

YAML would drop the rest of a line, or stop at the first odd character. Here each such place becomes a fault with its
line, and the scan goes on, so that all the faults of a file are told at once. A bare `?` is taken for "not known".
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator

from ruamel.yaml import YAML
from ruamel.yaml.events import Event
from ruamel.yaml.scanner import Scanner

END_OF_LINE = "\0\r\n\x85\u2028\u2029"
SECOND_COLON = 'A second colon with a blank behind it stands in this line: put the value in quotes, as in "tap: hot".'
WRONG_COLUMN = (
    "This line does not stand under the lines before it: begin all keys of one thing in the same column, "
    "and put a value that begins with a quotation mark in quotes as a whole."
)
Report = Callable[[int, str], None]
"""Told the line, from 1, and the sentence of each fault."""


_KEPT = {"*": "aliases", "&": "anchors", "!": "tags", "%": "directives"}
"""What YAML would take these for, and a job does not."""


class TabInFront(Exception):
    """A Tab in a line's indent; the message is not for the tiler: `reading` names every such line."""


class SiteScanner(Scanner):
    """Takes `?`, `@`, `*`, `&`, `!` and a second colon in its stride; tells of each but the first."""

    report: Report
    text_begun = 0
    """The line, from 0, on which the last plain text began."""

    def fetch_plain(self) -> None:
        """A text without quotation marks; it may go on over further lines."""
        self.text_begun = self.reader.line
        super().fetch_plain()

    def check_key(self) -> bool:
        """No line has a key of several parts: a question mark is text."""
        return False

    def check_plain(self) -> bool:
        """`?` alone stands for what is not known; characters that YAML keeps for itself get a sentence."""
        first = self.reader.peek()
        if first == "?":
            return True
        if first in "@`%|>":
            self._quotes_needed(first)
            return True
        return bool(super().check_plain())

    def check_directive(self) -> bool:
        """No directives: a job is plain YAML 1.2."""
        return False

    def fetch_alias(self) -> None:
        """`*hot` is text, with a sentence."""
        self._quotes_needed("*")
        self.fetch_plain()

    def fetch_anchor(self) -> None:
        """`&hot` is text, with a sentence."""
        self._quotes_needed("&")
        self.fetch_plain()

    def fetch_tag(self) -> None:
        """`!hot` is text, with a sentence."""
        self._quotes_needed("!")
        self.fetch_plain()

    def fetch_value(self) -> None:
        """A second colon in a line: `note: tap: hot`."""
        if self.flow_level or self.allow_simple_key or self.flow_level in self.possible_simple_keys:
            super().fetch_value()
            return
        # A text that began on an earlier line has swallowed this line's key: the line stands in the wrong column.
        self.report(self.reader.line + 1, WRONG_COLUMN if self.text_begun < self.reader.line else SECOND_COLON)
        self._skip_line()

    def scan_to_next_token(self) -> None:
        """A Tab between two words is a blank; a Tab in the indent is none."""
        super().scan_to_next_token()
        while self.reader.peek() == "\t":
            if self._in_indent():
                raise TabInFront
            self.reader.forward()
            super().scan_to_next_token()

    def _in_indent(self) -> bool:
        """Whether nothing but blanks stands before here in this line, and something behind."""
        pointer = self.reader.pointer
        before = self.reader.buffer[pointer - self.reader.column : pointer]
        ahead = 0
        while self.reader.peek(ahead) in " \t":
            ahead += 1
        return not before.strip() and self.reader.peek(ahead) not in END_OF_LINE + "#"

    def _quotes_needed(self, character: str) -> None:
        ahead = 0
        while self.reader.peek(ahead) not in END_OF_LINE:
            ahead += 1
        found = re.split(r"\s#|[,\]}]" if self.flow_level else r"\s#", self.reader.prefix(ahead))[0].strip()
        self.report(
            self.reader.line + 1,
            f"A value cannot begin with {character}, which YAML keeps for {_KEPT.get(character, 'itself')}: "
            f"put it in quotes, as in {quoted(found)}.",
        )

    def _skip_line(self) -> None:
        while self.reader.peek() not in END_OF_LINE:
            self.reader.forward()


def events(text: str, report: Report) -> Iterator[Event]:
    """The YAML events of `text`; faults that the scan survives go to `report` with their line.

    Raises ruamel.yaml's errors, and TabInFront, where it cannot go on.
    """
    # A class of its own for each text: the reader of the library builds its scanner itself, with no argument free.
    scanner = type("ReportingScanner", (SiteScanner,), {"report": staticmethod(report)})
    yaml = YAML(typ="safe", pure=True)
    yaml.Scanner = scanner
    yield from yaml.parse(text)


def quoted(text: str) -> str:
    """What to type so that YAML takes `text` as it stands."""
    found = shortened(text)
    return f"'{found}'" if '"' in found else f'"{found}"'


def shortened(text: str, most: int = 40) -> str:
    """What was found, on one line, not too long, nothing unprintable."""
    line = printable(" ".join(text.split()))
    return line if len(line) <= most else line[:most] + "..."


def printable(text: str) -> str:
    """The text with `?` for what a terminal or a sheet of paper must not be given."""
    return "".join(character if character.isprintable() else "?" for character in text)
