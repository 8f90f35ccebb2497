"""The text of the file of what was found, written anew with one entry more or less.

The YAML library reads and writes it (a round trip: remarks, order and quotation marks stay); whether all came through
is not taken on trust. The new text is read with the reader that every command reads it with, and is refused where it
does not give exactly the entries that it should, or where a remark is gone.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from io import StringIO
from typing import Any

from ruamel.yaml import YAML
from ruamel.yaml.comments import CommentedMap, CommentedSeq
from ruamel.yaml.emitter import Emitter
from ruamel.yaml.error import CommentMark, YAMLError
from ruamel.yaml.events import ScalarEvent
from ruamel.yaml.resolver import VersionedResolver
from ruamel.yaml.scalarstring import SingleQuotedScalarString
from ruamel.yaml.scanner import RoundTripScanner
from ruamel.yaml.tokens import CommentToken

from cutmarks.errors import Fault, JobError
from cutmarks.job.found_file import KEY, WHAT, Kept, read_kept
from cutmarks.job.reading import MOST_BYTES
from cutmarks.job.scanner import events
from cutmarks.job.words import found, spaced

HEAD = "# What was found at the wall and what was cut: written by cutmarks found, read with the job beside it.\n"
OWN_LINE = f"{KEY}:\n"
DASH = 2
"""Our own list stands in by so much, and each entry's keys by as much again."""
NEVER = 10**9
"""A line is never broken for being long."""
_FIRST_DASH = re.compile(r"^( *)-( +)(?=[^\s#])", re.MULTILINE)


def with_entries(content: str, added: Sequence[Mapping[str, str]], file: str) -> str:
    """The text with more entries behind the others, each value on one line, in quotation marks, blanks as one.

    Raises:
        JobError: the text cannot be written anew without loss; the sentence says where it stands in the way.
    """
    tidy = [{key: spaced(value) for key, value in entry.items()} for entry in added]
    before = read_kept(content, file)

    def put(top: CommentedMap) -> None:
        key = before.entries[-1][0][0] if before.entries else next(iter(top))
        if not top[key]:
            top[key] = CommentedSeq()
        # A list between brackets becomes one of lines; its entries stay as they were written.
        top[key].fa.set_block_style()
        for entry in tidy:
            top[key].append(CommentedMap({name: SingleQuotedScalarString(value) for name, value in entry.items()}))

    return _anew(content, before, put, [*_entries(before), *tidy])


def without_entry(content: str, number: int, file: str) -> str:
    """The text without the entry of that number, from 0; the remarks in it and below it stay where it stood.

    Raises:
        JobError: the text cannot be written anew without loss; the sentence says where it stands in the way.
    """
    before = read_kept(content, file)
    key, index = before.entries[number][0]

    def take(top: CommentedMap) -> None:
        items = top[key]
        tokens = {id(token): token for token in _around(items.ca.items.get(index), items[index])}
        del items[index]
        _hang(_lines(list(tokens.values())), top, str(key), int(index))

    entries = _entries(before)
    return _anew(content, before, take, entries[:number] + entries[number + 1 :])


def _anew(content: str, before: Kept, change: Callable[[CommentedMap], None], wanted: list[object]) -> str:
    """The text after `change`, when it holds what is wanted and every remark.

    Raises JobError.
    """
    if before.faults:
        raise JobError(before.faults)
    text = content.replace("\r\n", "\n")
    library = _library(text)
    try:
        top = library.load(text)
        if not isinstance(top, CommentedMap):
            # Nothing but remarks: the list gets its name below them, and a new file a line that says what it is.
            text = (text if text.endswith("\n") else f"{text}\n") if text.strip() else HEAD
            top = library.load(text + OWN_LINE)
        change(top)
        stream = StringIO()
        library.dump(top, stream)
    except (YAMLError, ValueError, IndexError, KeyError, TypeError, AttributeError) as error:
        mark = getattr(error, "problem_mark", None)
        raise JobError([_in_the_way(before.file, None if mark is None else mark.line + 1)]) from error
    new = stream.getvalue()
    after = read_kept(new, before.file)
    if after.faults or _entries(after) != wanted:
        raise JobError([_in_the_way(before.file, _first_other(before, wanted, _entries(after)))])
    lost = _lost(_remarks(text), _remarks(new))
    if lost is not None:
        line, remark = lost
        sentence = (
            f"The remark {found(remark)} would be lost when this list is written anew: "
            "put it on a line of its own, above an entry that begins with - and has one key a line."
        )
        raise JobError([Fault(sentence, file=before.file, line=line)])
    if "\r\n" in content:
        new = new.replace("\n", "\r\n")
    if len(new.encode()) > MOST_BYTES:
        raise JobError(
            [
                Fault(
                    f"With it this {WHAT} is over {MOST_BYTES // 1_000_000} MB, the most that is read: "
                    "move entries of what is long finished into a file of your own.",
                    file=before.file,
                )
            ]
        )
    return new


def _in_the_way(file: str, line: int | None) -> Fault:
    """That the text cannot be written anew, with the line from which on it cannot."""
    sentence = (
        "This list cannot be written anew so that it reads as before: from this line on write one key a line, "
        "each entry with - before its first."
    )
    return Fault(sentence, file=file, line=line or 1)


def _first_other(before: Kept, wanted: list[object], got: list[object]) -> int | None:
    """The line of the first entry that did not come through."""
    same = [one == other for one, other in zip(wanted, got, strict=False)]
    number = min(same.index(False) if False in same else len(same), len(before.entries) - 1)
    return before.line(number) if number >= 0 else None


def _entries(kept: Kept) -> list[object]:
    return [_bare(node) for _, node in kept.entries]


def _bare(node: object) -> object:
    """The node as built-in values, every sign of its texts kept."""
    if isinstance(node, Mapping):
        return {str(key): _bare(value) for key, value in node.items()}
    return [_bare(one) for one in node] if isinstance(node, list) else str(node)


def _remarks(text: str) -> list[tuple[int, str]]:
    """The remarks of a text, each with its line: every # that stands in no value."""
    spans = iter(
        [
            (event.start_mark.index, event.end_mark.index)
            for event in events(text, lambda line, sentence: None)
            if isinstance(event, ScalarEvent)
        ]
    )
    start, end = next(spans, (len(text), len(text)))
    found_ones, at = [], text.find("#")
    while at >= 0:
        while end <= at:
            start, end = next(spans, (len(text), len(text) + 1))
        if at >= start:
            at = text.find("#", end)
            continue
        stop = text.find("\n", at)
        stop = len(text) if stop < 0 else stop
        found_ones.append((text.count("\n", 0, at) + 1, text[at:stop].rstrip()))
        at = text.find("#", stop)
    return found_ones


def _lost(old: list[tuple[int, str]], new: list[tuple[int, str]]) -> tuple[int, str] | None:
    """The first remark that is not there or not in its turn, with its old line; None where all are as they were."""
    before, after = [remark for _, remark in old], [remark for _, remark in new]
    if before == after:
        return None
    same = next((number for number, pair in enumerate(zip(before, after, strict=False)) if pair[0] != pair[1]), 0)
    return old[same] if old else (1, after[0])


class _EveryTextStays(VersionedResolver):
    """Takes no text for a number, a day or nothing: what was typed is written again."""

    @property
    def versioned_resolver(self) -> dict[str, object]:
        return {}


class _Scanner(RoundTripScanner):
    """Takes what `scanner.SiteScanner` takes without a fault: ? as a text, a Tab between two words."""

    def check_key(self) -> bool:
        return False

    def check_plain(self) -> bool:
        return self.reader.peek() == "?" or bool(super().check_plain())

    def scan_to_next_token(self) -> object:
        token: object = super().scan_to_next_token()
        while token is None and self.reader.peek() == "\t":
            self.reader.forward()
            token = super().scan_to_next_token()
        return token


class _Emitter(Emitter):
    """Writes one key a line; behind braces and a remark the library would put two of the next entry's on one."""

    def expect_block_sequence_item(self, first: bool = False) -> None:
        self.no_newline = bool(first and self.no_newline)
        super().expect_block_sequence_item(first)


def _library(text: str) -> YAML:
    """The YAML library, set to write as the text is written: a list that stands in as far, texts quoted as they are."""
    yaml = YAML()
    yaml.Scanner = _Scanner
    yaml.Emitter = _Emitter
    yaml.Resolver = _EveryTextStays
    yaml.preserve_quotes = True
    yaml.width = NEVER
    dash = _FIRST_DASH.search(text)
    before, behind = (DASH, 1) if dash is None else (len(dash[1]), len(dash[2]))
    yaml.indent(mapping=2, sequence=before + 1 + behind, offset=before)
    return yaml


def _hang(remarks: list[str], top: CommentedMap, key: str, index: int) -> None:
    """Put remarks where the list's entry `index` stood: below the one before it, or below the list's name.

    The library keeps a remark with what stands before it: behind a key's value in the third of four slots, what comes
    between a key and its value in the fourth, behind an entry between braces in the first.
    """
    items = top[key]
    before = items[index - 1] if index > 0 else None
    if before is None:
        slots, place = top.ca.items.setdefault(key, [None] * 4), 2
        remarks = [*_lines(_flat(slots[3])), *remarks]
        slots[3] = items.ca.comment = None
        if not items:
            items.fa.set_flow_style()
    elif isinstance(before, CommentedMap) and before and not before.fa.flow_style():
        slots, place = before.ca.items.setdefault(list(before)[-1], [None] * 4), 2
    else:
        slots, place = items.ca.items.setdefault(index - 1, [None] * 4), 0
    held = slots[place]
    text = ("" if held is None else held.value).rstrip("\n") + "\n"
    indent = " " * DASH
    text += "".join(f"{indent}{remark}\n" for remark in remarks)
    slots[place] = CommentToken(text, CommentMark(0) if held is None else held.start_mark, None)


def _lines(tokens: list[Any]) -> list[str]:
    """Each remark of the tokens on its own."""
    return [line.strip() for token in tokens for line in token.value.splitlines() if line.strip()]


def _tokens(node: object) -> Iterator[Any]:
    """The library's remarks in a node, in the order of the text; some of them twice."""
    if isinstance(node, CommentedMap | CommentedSeq):
        yield from _flat(node.ca.comment)
        for key, value in node.items() if isinstance(node, CommentedMap) else enumerate(node):
            yield from _around(node.ca.items.get(key), value)


def _around(slots: list[object] | None, node: object) -> Iterator[Any]:
    """The remarks before, in and behind what stands under a key or in a list."""
    first, *others = slots or [None]
    yield from _flat(others)
    yield from _tokens(node)
    yield from _flat(first)


def _flat(held: object) -> list[Any]:
    """The remarks that the library keeps in one of its slots, however deep."""
    if held is None:
        return []
    return [token for one in held for token in _flat(one)] if isinstance(held, list | tuple) else [held]
