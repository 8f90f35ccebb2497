"""A job file's text to a tree of texts with line numbers: YAML 1.2 by ruamel.yaml, and nothing lost in silence.

YAML would take "pipe #1" for "pipe", split {size: 6", 12"} in two, and read 010 as a number. Here every scalar stays
the text that was typed, and what YAML would drop or split is a fault with its line. The rules where YAML leaves a
doubt:

- A `#` behind a text begins a remark only with a blank behind it (`67 to 83 left of V  # hot`). `pipe #1`, and
  `pipe # 1` with one blank before and a figure behind, are faults: put the text in quotes.
- A comma between two figures inside [ ] or { } is a fault: a decimal has a point, and two values have a blank between.
- No anchors, aliases, tags, directives, merge keys, or second document.
"""

from __future__ import annotations

import errno
import os
import re
import stat
from collections.abc import Iterator
from pathlib import Path as FilePath

from ruamel.yaml.error import MarkedYAMLError, YAMLError
from ruamel.yaml.events import (
    DocumentStartEvent,
    Event,
    MappingEndEvent,
    MappingStartEvent,
    ScalarEvent,
    SequenceEndEvent,
    SequenceStartEvent,
)

from cutmarks.errors import Fault, JobPath
from cutmarks.job.scanner import TabInFront, events, shortened
from cutmarks.job.syntax import TAB, explained
from cutmarks.job.tree import Entry, Items, Node, Places, SourcePlace, Text
from cutmarks.patterns import late

MOST_BYTES = 2_000_000
"""A job file is at most 2 MB; ten thousand holes belong in a list of their own."""
MOST_DEEP = 20
"""A job is seven deep; more is no job."""
MOST_NODES = 200_000
"""A job of 2 MB that was written by hand has fewer values."""

A_JOB_BEGINS = "a job begins with a line such as job: Quay Cottage"
_KINDS = {stat.S_IFDIR: "a folder", stat.S_IFIFO: "a pipe", stat.S_IFSOCK: "a socket"}
"""What is no plain file; all else is a device."""
LOOK = 200
"""How far round a text its line is looked at: a job's lines are short, and a long one must not take long."""
MOST_FAULTS = 1_000
"""Beyond so many faults of typing, this is no job."""

_CUT_FIGURE = late(r"([0-9]+(?:\.[0-9]+)?),$")
_UNPRINTABLE = late("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x84\x86-\x9f\ud800-\udfff\ufffe\uffff]")
_GLUED = late(r"[ \t]+#[^\s#]|[ \t]#[ \t]+[0-9]")
_TAB_IN_FRONT = late(r"^ *\t[ \t]*[^\s#]")


def read_file(path: FilePath, most_bytes: int, what: str) -> str | Fault:
    """The text of a file, or the fault that keeps it from being read; never more than `most_bytes` are read."""
    name = path.name
    try:
        odd = _no_plain_file(path)
        if odd:
            return Fault(f"This {what} {odd}", file=name)
        with open(path, "rb", opener=_without_waiting) as file:
            data = file.read(most_bytes + 1)
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) and error.strerror else "no such path"
        return Fault(f"This {what} cannot be read ({reason}).", file=name)
    if len(data) > most_bytes:
        return Fault(f"This {what} is over {most_bytes // 1_000_000} MB, the most that is read.", file=name)
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        return Fault(f"This {what} is not in UTF-8: save it again as UTF-8 text.", file=name, line=line)


def stands(path: FilePath) -> bool:
    """Whether anything has this name, a plain file or not.

    Where the system will not say, something is taken to: to read it then says what is wrong, and it is not passed over.
    """
    try:
        path.lstat()
    except (FileNotFoundError, NotADirectoryError):
        return False
    except OSError as error:
        return error.errno != errno.ENAMETOOLONG
    return True


def _no_plain_file(path: FilePath) -> str:
    """What stands at `path` in place of a plain file, and what to do; empty where one does."""
    try:
        mode = path.stat().st_mode
    except (FileNotFoundError, NotADirectoryError):
        if not path.is_symlink():
            return "is not there: write the path of a file."
        return f'is a link to "{shortened(str(path.readlink()))}", where nothing is: mend the link, or take it away.'
    if stat.S_ISREG(mode):
        return ""
    kind = _KINDS.get(stat.S_IFMT(mode), "a device")
    return f"is {kind}, and only a plain file is read: put one in its place, or give another name."


def _without_waiting(path: str, flags: int) -> int:
    """Open without waiting for a writer: what was a plain file just now may have become a pipe."""
    return os.open(path, flags | getattr(os, "O_NONBLOCK", 0))


def read_tree(text: str, file: str, begin: str = A_JOB_BEGINS) -> tuple[Entry, Places, list[Fault], bool]:
    """The tree of a job's text, where each part of it stands, the faults of its typing, and whether it was read whole.

    Where the text cannot be read to its end, the tree holds what came before, and there is a fault. `begin` says how
    such a file begins, to whom wrote no key.
    """
    grower = _Grower(text, file, begin)
    tree, whole = grower.grow()
    return tree, grower.places, list(grower.told), whole


class _Stop(Exception):
    """Nothing behind this place can be read."""


class _Grower:
    """Grows the tree of one text from YAML's events."""

    def __init__(self, text: str, file: str, begin: str) -> None:
        self.text = text
        self.begin = begin
        # YAML ends a line at these alone; str.splitlines would also at form feeds and the like.
        self.lines = re.split("\r\n|[\n\r\x85\u2028\u2029]", text)
        self.file = file
        self.places = Places({(): SourcePlace(file, 1)})
        self.grown_nodes = 0
        # A dictionary keeps the order, and each fault once.
        self.told: dict[Fault, None] = {}

    def report(self, line: int, sentence: str) -> None:
        """One fault of this text, once."""
        if len(self.told) >= MOST_FAULTS:
            self.told[
                Fault(f"There are over {MOST_FAULTS} faults: the rest was not read.", file=self.file, line=line)
            ] = None
            raise _Stop
        self.told[Fault(sentence, file=self.file, line=line)] = None

    def grow(self) -> tuple[Entry, bool]:
        """The top mapping, and whether the text was read to its end."""
        top = Entry()
        try:
            return top, self.grown(top)
        except _Stop:
            return top, False

    def grown(self, top: Entry) -> bool:
        """Fill the top mapping; whether the text was read to its end."""
        bad = _UNPRINTABLE.search(self.text)
        if bad is not None:
            line = self.text.count("\n", 0, bad.start()) + 1
            self.report(line, f"A control character (U+{ord(bad[0]):04X}) stands in this line: take it out.")
            return False
        try:
            stream = events(self.text, self.report)
            for event in stream:
                if isinstance(event, MappingStartEvent):
                    self.mapping(stream, event, top, 0)
                elif isinstance(event, ScalarEvent | SequenceStartEvent):
                    self.not_a_job(event)
                elif isinstance(event, DocumentStartEvent) and event.explicit and len(self.places) > 1:
                    self.report(event.start_mark.line + 1, "A second --- begins here: write one job in one file.")
                    break
            return True
        except TabInFront:
            for number, typed in enumerate(self.lines, 1):
                if _TAB_IN_FRONT.match(typed):
                    self.report(number, TAB)
        except MarkedYAMLError as error:
            line, sentence = explained(error, self.lines)
            self.report(line, sentence)
        except (YAMLError, ValueError, IndexError, RecursionError) as error:
            self.report(1, f"This is not YAML ({shortened(str(error), 80)}): write it as key: value, line by line.")
        return False

    def not_a_job(self, event: Event) -> None:
        """The text begins with something that has no keys."""
        text = f'"{shortened(event.value)}"' if isinstance(event, ScalarEvent) else "This list"
        if text != '""':
            sentence = f"{text} has no key before it: {self.begin}."
            self.report(event.start_mark.line + 1, sentence)
            raise _Stop

    def node(self, stream: Iterator[Event], event: Event, path: JobPath, depth: int) -> Node:
        """The node that `event` begins."""
        self.grown_nodes += 1
        if self.grown_nodes > MOST_NODES:
            self.report(
                event.start_mark.line + 1,
                f"This file has over {MOST_NODES} values, which no job has: the rest was not read; write many holes as "
                "a list (holes list: pipes.csv).",
            )
            raise _Stop
        if depth > MOST_DEEP:
            self.report(event.start_mark.line + 1, f"This is more than {MOST_DEEP} deep: a job needs seven.")
            raise _Stop
        if isinstance(event, MappingStartEvent):
            entry = Entry(path=path)
            self.mapping(stream, event, entry, depth)
            return entry
        if isinstance(event, SequenceStartEvent):
            return self.sequence(stream, event, path, depth)
        assert isinstance(event, ScalarEvent)
        self.check_scalar(event)
        return Text(event.value, path)

    def mapping(self, stream: Iterator[Event], start: MappingStartEvent, entry: Entry, depth: int) -> None:
        """Fill `entry` up to the end of the mapping that `start` began."""
        in_braces = start.flow_style is True
        self.places.setdefault(entry.path, SourcePlace(self.file, start.start_mark.line + 1))
        for event in stream:
            if isinstance(event, MappingEndEvent):
                return
            if not isinstance(event, ScalarEvent):
                self.report(
                    event.start_mark.line + 1, "A key is one text: a list or braces cannot stand before a colon."
                )
                raise _Stop
            key, line = event.value, event.start_mark.line + 1
            split = in_braces and self.check_comma(event)
            value_event = next(stream)
            if in_braces and not split and self.without_colon(event, value_event):
                self.report(line, _no_colon(key))
                split = True
            if _is_empty(value_event):
                self.check_remark(event)
            path = (*entry.path, key)
            if key == "<<":
                self.report(line, 'Merge keys (<<) are not taken: write the keys out, or put a name of "<<" in quotes.')
            elif key in entry:
                before = self.places[path].line
                self.report(line, f'"{shortened(key)}" is written a second time, first in line {before}: keep one.')
                path = (*entry.path, f"{key} again")
                self.node(stream, value_event, path, depth + 1)
                continue
            self.places[path] = SourcePlace(self.file, line)
            value = self.node(stream, value_event, path, depth + 1)
            if not split:
                entry[key] = value

    def sequence(self, stream: Iterator[Event], start: SequenceStartEvent, path: JobPath, depth: int) -> Items:
        """The list that `start` began."""
        items = Items(path=path)
        self.places.setdefault(path, SourcePlace(self.file, start.start_mark.line + 1))
        for event in stream:
            if isinstance(event, SequenceEndEvent):
                break
            item_path = (*path, len(items))
            self.places[item_path] = SourcePlace(self.file, event.start_mark.line + 1)
            if start.flow_style and isinstance(event, ScalarEvent) and self.check_comma(event):
                continue
            items.append(self.node(stream, event, item_path, depth + 1))
        return items

    def check_scalar(self, event: ScalarEvent) -> None:
        """A remark glued to a text on the same line takes the rest of it away."""
        if event.style in (None, "") and event.value:
            self.check_remark(event)

    def check_remark(self, event: ScalarEvent) -> None:
        """Look behind the end of a plain text, or of the colon behind a key, for a `#` that eats the rest."""
        behind = self.behind(event)
        rest = behind.removeprefix(":")
        if _GLUED.match(rest):
            whole = shortened(("" if behind.startswith(":") else event.value) + rest)
            self.report(
                event.end_mark.line + 1,
                f'YAML drops all behind #: put the value in quotes, as in "{whole.strip()}", '
                "or begin a remark with two blanks, # and a blank.",
            )

    def check_comma(self, event: ScalarEvent) -> bool:
        """Whether a comma between two figures, with no blank, made two values of one."""
        mark = event.start_mark
        line = self.lines[mark.line] if mark.line < len(self.lines) else ""
        before = _CUT_FIGURE.search(line[max(mark.column - LOOK, 0) : mark.column])
        part = re.match(r"[0-9]+", event.value)
        if before is None or part is None:
            return False
        whole, tail = before[1], part[0]
        self.report(
            mark.line + 1,
            f"{whole},{tail} is split by its comma: write {whole}.{tail} for a decimal, "
            f"or {whole}, {tail} with a blank for two values.",
        )
        return True

    def without_colon(self, key: ScalarEvent, value: Event) -> bool:
        """Whether a key inside { } has no colon behind it."""
        if not _is_empty(value):
            return False
        return not self.behind(key).lstrip().startswith(":")

    def behind(self, event: ScalarEvent) -> str:
        """What stands behind a text on its line, no further than it is worth looking."""
        mark = event.end_mark
        return self.lines[mark.line][mark.column : mark.column + LOOK] if mark.line < len(self.lines) else ""


def _no_colon(key: str) -> str:
    if ":" in key:
        head, tail = key.split(":", 1)
        return f'"{shortened(key)}" has no blank behind its colon: write {shortened(head)}: {shortened(tail.strip())}.'
    return (
        f'"{shortened(key)}" stands behind a comma and has no colon: inside {{ }} a comma ends a value. '
        "Put a value that has a comma in quotes, write a decimal with a point (74.5), and sizes with x."
    )


def _is_empty(event: Event) -> bool:
    return isinstance(event, ScalarEvent) and not event.value and event.style in (None, "")
