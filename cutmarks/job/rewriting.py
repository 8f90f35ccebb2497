"""A job file's text with other values for some keys of its areas: everything else stays as it was typed, remarks too.

The text is cut at the places where its own scanner found keys and values, and put together again around the new ones.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence

from msgspec import Struct, field
from ruamel.yaml.events import (
    Event,
    MappingEndEvent,
    MappingStartEvent,
    ScalarEvent,
    SequenceEndEvent,
    SequenceStartEvent,
)

from cutmarks.errors import Fault, JobError
from cutmarks.job.model import tidy_key
from cutmarks.job.said import SAID
from cutmarks.job.scanner import events
from cutmarks.job.words import spaced

_PLAIN = re.compile(r"[\w½⅓¼⅛⅜⅝⅞(][\w½⅓⅔¼¾⅛⅜⅝⅞ ./'()-]*")
"""A value that needs no quotation marks, in braces either."""

NO_START = "# No start yet: cutmarks setout says where to start, and --take writes it here."
"""Stands in a job that `cutmarks new` wrote where its area has no start, with a start to show behind it."""
SHOWN_START = "# start: {across: joint on V, up: sits on "
Value = str | Mapping[str, str]
"""A phrase, or keys with phrases, as they are to stand behind a key."""


class TextSpot(Struct):
    """A value as it stands in the text: from `start` to `end`, characters; `column` of its first one.

    keys  of a mapping, each with the spot of its key and of its value; items: of a list.
    """

    start: int
    end: int
    column: int
    text: str = ""
    in_braces: bool = False
    keys: dict[str, tuple[TextSpot, TextSpot]] = field(default_factory=dict)
    items: list[TextSpot] = field(default_factory=list)
    is_mapping: bool = False


def with_area_keys(text: str, surface: str, changes: Mapping[str, Mapping[str, Value]]) -> str:
    """The text with these keys of these areas of a surface set, a key that is missing written behind the others.

    A value that has keys is set key by key. An area said in one line becomes keys: its line as it stands, and these.

    Raises:
        JobError: one of the areas is not found in the surface's list, so that there is no place for them.
    """
    edits: list[tuple[int, int, str]] = []
    areas = dict(_areas(spots_of(text), surface))
    for area, keys in changes.items():
        spot = areas.get(area.casefold())
        if spot is None:
            raise JobError([Fault(_no_place(area, surface, keys))])
        if not spot.is_mapping:
            said = ", ".join((f"{SAID}: {written_value(spot.text)}", *_keys_written(keys)))
            edits.append((spot.start, spot.end, "{" + said + "}"))
            edits += _no_longer_so(text, spot) if "start" in keys else ()
            continue
        edits += _set_all(text, spot, keys)
        edits += _no_longer_so(text, spot) if "start" in keys else ()
    for start, end, new in sorted(edits, reverse=True):
        text = text[:start] + new + text[end:]
    return text


def _areas(top: TextSpot, surface: str) -> Iterator[tuple[str, TextSpot]]:
    for one in _listed(_value(top, "surfaces")):
        if _name(one) != surface.casefold():
            continue
        for area in _listed(_value(one, "areas")):
            yield _name(area), area


def _keys_written(keys: Mapping[str, Value]) -> Iterator[str]:
    return (f"{key}: {written_value(value)}" for key, value in keys.items())


def _no_place(area: str, surface: str, keys: Mapping[str, Value]) -> str:
    """The sentence that an area was not found where its keys could stand, with what to write instead."""
    what = ", ".join(_keys_written(keys))
    return f'Area "{area}" of {surface} is not written under its areas by this name: write {what} beside it by hand.'


def _value(spot: TextSpot | None, key: str) -> TextSpot | None:
    found = None if spot is None else spot.keys.get(key)
    return None if found is None else found[1]


def _listed(spot: TextSpot | None) -> Sequence[TextSpot]:
    return () if spot is None else spot.items


def _name(spot: TextSpot) -> str:
    """What a thing is called: by its key, or said first in its line, before the first comma."""
    name = _value(spot, "name")
    if name is not None:
        return spaced(name.text).casefold()
    said = _value(spot, SAID) if spot.is_mapping else spot
    return "" if said is None else spaced(said.text.partition(",")[0]).casefold()


def _set_all(text: str, spot: TextSpot, keys: Mapping[str, Value]) -> Iterator[tuple[int, int, str]]:
    new: list[str] = []
    for key, value in keys.items():
        name = "in" if key == "up" and "in" in spot.keys else key
        found = spot.keys.get(name)
        if found is None:
            new.append(f"{name}: {written_value(value)}")
            continue
        before, at = found
        if not at.text and at.start == at.end:
            behind = text.index(":", before.end) + 1  # nothing stands there yet
            yield behind, behind, f" {written_value(value)}"
        elif isinstance(value, Mapping) and at.is_mapping and at.keys:
            yield from _set_all(text, at, value)
        else:
            yield at.start, at.end, written_value(value)
    if not new:
        return
    if spot.in_braces:
        end = spot.end - 1
        while text[end - 1].isspace():
            end -= 1
        comma = "" if text[end - 1] in "{," else ", "
        yield end, end, comma + ", ".join(new)
        return
    end = end_of_line(text, last_of(spot))
    line = "\r\n" if "\r\n" in text else "\n"
    yield end, end, "".join(f"{line}{' ' * spot.column}{one}" for one in new)


def _no_longer_so(text: str, spot: TextSpot) -> Iterator[tuple[int, int, str]]:
    """The remark behind an area that it has no start, and the start to show, which are ours: they go."""
    at = end_of_line(text, last_of(spot))
    while at < len(text):
        begin = at
        while at < len(text) and text[at] in "\r\n":
            at += 1
        end = end_of_line(text, at)
        line = text[at:end].strip()
        if not line.startswith((NO_START, SHOWN_START)):
            return
        yield begin, end, ""
        at = end


def written_value(value: Value) -> str:
    """A value on one line, as it is read back: in quotes where it needs them."""
    if isinstance(value, str):
        return value if _PLAIN.fullmatch(value) else '"' + value.replace("\\", "\\\\").replace('"', '\\"') + '"'
    return "{" + ", ".join(f"{key}: {written_value(one)}" for key, one in value.items()) + "}"


def last_of(spot: TextSpot) -> int:
    """Where what is written of a value ends: of keys or a list on lines of their own, where their last value does."""
    if spot.in_braces or not (spot.keys or spot.items):
        return spot.end
    # An empty value stands, for YAML, where the next thing begins, behind the remarks between.
    ends = [last_of(value) if value.start < value.end else key.end for key, value in spot.keys.values()]
    return max(ends + [last_of(one) for one in spot.items])


def end_of_line(text: str, at: int) -> int:
    """Where the line ends that the character `at` stands in."""
    while at < len(text) and text[at] not in "\r\n":
        at += 1
    return at


def spots_of(text: str) -> TextSpot:
    """The top mapping of a text, with the places of all that stands in it; an empty one where it has no keys."""
    stream = events(text, lambda _line, _sentence: None)
    for event in stream:
        if isinstance(event, MappingStartEvent):
            return _grown(stream, event)
    return TextSpot(0, 0, 0)


def _grown(stream: Iterator[Event], event: Event) -> TextSpot:
    spot = TextSpot(event.start_mark.index, event.end_mark.index, event.start_mark.column)
    if isinstance(event, ScalarEvent):
        spot.text = event.value
    elif isinstance(event, SequenceStartEvent):
        spot.in_braces = bool(event.flow_style)
        for inner in stream:
            if isinstance(inner, SequenceEndEvent):
                spot.end = inner.end_mark.index
                break
            spot.items.append(_grown(stream, inner))
    elif isinstance(event, MappingStartEvent):
        spot.in_braces, spot.is_mapping = bool(event.flow_style), True
        for inner in stream:
            if isinstance(inner, MappingEndEvent):
                spot.end = inner.end_mark.index
                break
            key = _grown(stream, inner)
            spot.keys[tidy_key(key.text)] = key, _grown(stream, next(stream))
    return spot
