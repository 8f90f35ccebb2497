"""A job file's text with one value changed, added or taken out: everything else stays as it was typed, remarks too.

A place is a path in the keys as they are known: ("surfaces", 0, "holes", 2, "across"). The text is cut where its own
scanner found keys and values (`rewriting.py`). Each change is read again: where the text would then say anything else
than that one change, it is refused, so that nothing else can be lost by an edit.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from ruamel.yaml.error import YAMLError

from cutmarks.errors import Fault, JobError, JobPath
from cutmarks.job.model import tidy_key
from cutmarks.job.reading import read_tree
from cutmarks.job.rewriting import TextSpot, end_of_line, last_of, spots_of, written_value
from cutmarks.job.scanner import TabInFront
from cutmarks.job.tree import plain
from cutmarks.job.words import spaced

NewValue = str | Sequence[str] | Mapping[str, "NewValue"]
"""A phrase, several of them, or keys with what is to stand under each."""
STEP = 2
"""Blanks for each step of what is written on lines of its own."""
_PLAIN_WITH_COMMAS = re.compile(r"[\w½⅓¼⅛⅜⅝⅞(][\w½⅓⅔¼¾⅛⅜⅝⅞ ./'(),-]*")
_MOST_IN_BRACES = 100
"""Keys that take more characters stand on lines of their own."""


def with_value(text: str, path: JobPath, value: str | Sequence[str], short: str = "") -> str:
    """The text with a value at `path`; what is missing on the way there is written, the key without a value too.

    short  the key that a plain value on the way there, or a list, stands for: it becomes keys.

    Raises:
        JobError: it cannot be put there without changing something else.
    """
    spot, rest = _nearest(_spots(text), path)
    whole: NewValue = value
    for part in reversed(rest):
        whole = {part: whole} if isinstance(part, str) else [whole]  # type: ignore[list-item]
    if rest and isinstance(rest[0], str) and spot.is_mapping:
        after = _with_key(text, spot, rest[0], _under(whole, rest[0]))
    elif rest and _says_something(spot):
        if not short:
            raise _not_there()
        kept: NewValue = [spaced(one.text) for one in spot.items] if spot.items else spaced(spot.text)
        after = _replaced(text, spot, _one_line({short: kept, **_keys(whole)}))
    elif rest or (spot.start == spot.end and value):
        after = _filled(text, path[: len(path) - len(rest)], spot, whole)
    else:
        after = _replaced(text, spot, _one_line(value) if _in_braces(text, path) else _alone(value))
    return _checked(text, after, path, value, short)


def with_item(text: str, path: JobPath, item: NewValue) -> str:
    """The text with one more thing at the end of the list at `path`, which is begun where it is missing.

    Raises:
        JobError: there is no place for it.
    """
    spot, rest = _nearest(_spots(text), path)
    if rest:
        if not spot.is_mapping or len(rest) > 1 or not isinstance(rest[0], str):
            raise _not_there()
        after = _with_key(text, spot, rest[0], [item])  # type: ignore[list-item]
    elif not spot.items and not spot.text and not spot.in_braces:
        after = _filled(text, path, spot, [item])  # type: ignore[list-item]
    elif spot.in_braces:
        after = _behind_in_braces(text, spot, _one_line(item))
    elif spot.items:
        last = spot.items[-1]
        column = _dash_of(text, last) - _line_begin(text, last.start)
        end = end_of_line(text, _end_of(text, last))
        after = text[:end] + _lines_in(text, _block([item], column)) + text[end:]  # type: ignore[list-item]
    else:
        raise _not_there()
    held = _at(plain(read_tree(text, "")[0]), path)
    number = len(held) if isinstance(held, list) else 0
    return _checked(text, after, (*path, number), item)


def without(text: str, path: JobPath) -> str:
    """The text without what stands at `path`: a thing of a list, or a key with what is under it.

    Raises:
        JobError: nothing stands there, or it cannot be taken out without changing something else.
    """
    parent, rest = _nearest(_spots(text), path[:-1])
    if rest:
        raise _not_there()
    last = path[-1]
    if isinstance(last, int):
        if last >= len(parent.items):
            raise _not_there()
        parts = [(one, one) for one in parent.items]
        number = last
    else:
        names = [tidy_key(one) for one in parent.keys]
        if tidy_key(last) not in names:
            raise _not_there()
        parts, number = list(parent.keys.values()), names.index(tidy_key(last))
    before, at = parts[number]
    if parent.in_braces:
        start = before.start if number + 1 < len(parts) else (parts[number - 1][1].end if number else before.start)
        end = parts[number + 1][0].start if number + 1 < len(parts) else at.end
        after = text[:start] + text[end:]
    else:
        begin = _dash_of(text, at) if isinstance(last, int) else before.start
        start = _line_begin(text, begin)
        if text[start:begin].strip():
            raise _not_there()  # it begins behind something else on its line: the dash of a thing of which it is a key
        end = end_of_line(text, _end_of(text, at) if at.start < at.end else before.end)
        end += 2 if text[end : end + 2] == "\r\n" else 1 if end < len(text) else 0
        after = text[:start] + text[end:]
    return _checked(text, after, path, None)


def renamed(text: str, path: JobPath, name: str) -> str:
    """The text with another name before the colon of the thing at `path`.

    Raises:
        JobError: it has no such thing, or one of that name is there already.
    """
    parent, rest = _nearest(_spots(text), path[:-1])
    old = path[-1]
    found = None if rest or not isinstance(old, str) else parent.keys.get(tidy_key(old))
    if found is None:
        raise _not_there()
    key = found[0]
    after = text[: key.start] + written_value(spaced(name)) + text[key.end :]
    tree = plain(read_tree(text, "")[0])
    holder = _at(tree, path[:-1])
    if not isinstance(holder, dict) or spaced(name) in holder:
        raise JobError([Fault(f"There is a {name} already: give it another name.")])
    expected = {(spaced(name) if tidy_key(one) == tidy_key(str(old)) else one): held for one, held in holder.items()}
    holder.clear()
    holder.update(expected)
    if plain(read_tree(after, "")[0]) != tree:
        raise _not_there()
    return after


def _spots(text: str) -> TextSpot:
    """The places of all that stands in a text. Raises JobError: it cannot be read to its end."""
    try:
        return spots_of(text)
    except (YAMLError, TabInFront) as error:
        raise _not_there() from error


def _nearest(top: TextSpot, path: JobPath) -> tuple[TextSpot, JobPath]:
    """The spot of the longest part of a path that is there, and the rest of the path."""
    spot = top
    for number, part in enumerate(path):
        if isinstance(part, str):
            found = spot.keys.get(tidy_key(part))
            if found is None:
                return spot, path[number:]
            spot = found[1]
        elif part < len(spot.items):
            spot = spot.items[part]
        else:
            return spot, path[number:]
    return spot, ()


def _in_braces(text: str, path: JobPath) -> bool:
    """Whether a value stands somewhere inside [ ] or { }, where a comma ends it."""
    spot = _spots(text)
    for number in range(len(path)):
        if spot.in_braces:
            return True
        spot = _nearest(spot, path[number : number + 1])[0]
    return False


def _says_something(spot: TextSpot) -> bool:
    return bool(spot.text or spot.items)


def _keys(value: NewValue) -> Mapping[str, NewValue]:
    if not isinstance(value, Mapping):
        raise _not_there()
    return value


def _under(value: NewValue, key: str) -> NewValue:
    return _keys(value)[key]


def _replaced(text: str, spot: TextSpot, written: str) -> str:
    """The text with a value in place of another; an empty one begins behind its colon, or its dash."""
    end = spot.end
    while end > spot.start and text[end - 1].isspace():
        end -= 1
    if spot.items and not spot.in_braces:
        end = _end_of(text, spot)
    blank = " " if end == spot.start and written and text[spot.start - 1 : spot.start] in (":", "-") else ""
    before = (
        text[: spot.start] if written or text[end : end + 1] not in ("", "\r", "\n") else text[: spot.start].rstrip(" ")
    )
    return before + blank + written + text[end:]


def _filled(text: str, path: JobPath, spot: TextSpot, value: NewValue) -> str:
    """The text with something under a key that has nothing yet."""
    parent, _ = _nearest(_spots(text), path[:-1])
    key = parent.keys.get(tidy_key(str(path[-1]))) if path and isinstance(path[-1], str) else None
    if key is None:
        raise _not_there()
    behind = text.index(":", key[0].end) + 1
    if parent.in_braces or _fits(value):
        return text[:behind] + f" {(_one_line if parent.in_braces else _alone)(value)}" + text[behind:]
    column = key[0].start - _line_begin(text, key[0].start)
    end = end_of_line(text, behind)
    return text[:end] + _lines_in(text, _block(value, column + STEP)) + text[end:]


def _with_key(text: str, spot: TextSpot, key: str, value: NewValue) -> str:
    """The text with one more key in a thing that has keys, behind those that it has."""
    if spot.in_braces:
        return _behind_in_braces(text, spot, f"{written_value(key)}: {_one_line(value)}")
    end = end_of_line(text, _end_of(text, spot)) if spot.keys else len(text)
    head = f"{' ' * spot.column}{written_value(key)}:"
    lines = [f"{head} {_alone(value)}".rstrip()] if _fits(value) else [head, *_block(value, spot.column + STEP)]
    return text[:end] + _lines_in(text, lines) + text[end:]


def _behind_in_braces(text: str, spot: TextSpot, written: str) -> str:
    end = spot.end - 1
    while text[end - 1].isspace():
        end -= 1
    if text[end - 1] == ":":
        end += 1  # nothing stands there yet, and a colon wants its blank
    comma = "" if text[end - 1] in "{[," else ", "
    return text[:end] + comma + written + text[end:]


def _fits(value: NewValue) -> bool:
    """Whether a value stands on its key's line: a phrase, a list of them, a few keys with phrases."""
    if isinstance(value, str):
        return True
    if isinstance(value, Mapping):
        return all(isinstance(one, str) and one for one in value.values()) and len(_one_line(value)) <= _MOST_IN_BRACES
    return all(isinstance(one, str) for one in value)


def _alone(value: NewValue) -> str:
    """A value on one line that stands in no braces: a comma is one of its own."""
    if isinstance(value, str) and _PLAIN_WITH_COMMAS.fullmatch(value) and not value.endswith((" ", ",")):
        return value
    return _one_line(value)


def _one_line(value: NewValue) -> str:
    if isinstance(value, str):
        return written_value(value) if value else ""
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{written_value(key)}: {_one_line(one)}" for key, one in value.items()) + "}"
    return "[" + ", ".join(_one_line(one) for one in value) + "]"


def _block(value: NewValue, column: int) -> list[str]:
    """A value on lines of its own, each beginning at `column`."""
    blanks = " " * column
    lines: list[str] = []
    if isinstance(value, Mapping):
        for key, one in value.items():
            head = f"{blanks}{written_value(key)}:"
            lines += [f"{head} {_alone(one)}".rstrip()] if _fits(one) else [head, *_block(one, column + STEP)]
        return lines
    for item in value if not isinstance(value, str) else [value]:
        if isinstance(item, Mapping):
            first, *others = _block(item, column + STEP)
            lines += [f"{blanks}- {first.lstrip()}", *others]
        else:
            lines.append(f"{blanks}- {_alone(item)}")
    return lines


def _lines_in(text: str, lines: Sequence[str]) -> str:
    end = "\r\n" if "\r\n" in text else "\n"
    return "".join(f"{end}{line}" for line in lines)


def _end_of(text: str, spot: TextSpot) -> int:
    """Where what is written of a value ends; a text that could go on over more lines ends for YAML where they begin."""
    end = last_of(spot)
    while end > spot.start and text[end - 1].isspace():
        end -= 1
    return end


def _line_begin(text: str, at: int) -> int:
    return max(text.rfind("\n", 0, at), text.rfind("\r", 0, at)) + 1


def _dash_of(text: str, item: TextSpot) -> int:
    """Where the dash stands that begins a thing of a list."""
    return text.rindex("-", 0, item.start + (1 if item.start == item.end else 0))


def _at(tree: object, path: JobPath) -> object:
    for part in path:
        if isinstance(tree, dict) and isinstance(part, str):
            tree = next((held for key, held in tree.items() if tidy_key(key) == tidy_key(part)), None)
        elif isinstance(tree, list) and isinstance(part, int) and part < len(tree):
            tree = tree[part]
        else:
            return None
    return tree


def _checked(before: str, after: str, path: JobPath, value: NewValue | None, short: str = "") -> str:
    """The text after the change, once it is sure that it says this change and no other."""
    tree, _, old_faults, was_whole = read_tree(before, "")
    again, _, faults, whole = read_tree(after, "")
    if not was_whole or not whole or len(faults) > len(old_faults):
        raise _not_there()
    if plain(again) != _changed(plain(tree), path, value, short):
        raise _not_there()
    if value is not None and _remarks(before) != _remarks(after):
        raise _not_there()
    return after


def _remarks(text: str) -> list[str]:
    """The lines that are remarks alone."""
    return [line.strip() for line in text.splitlines() if line.lstrip().startswith("#")]


def _changed(tree: object, path: JobPath, value: NewValue | None, short: str) -> object:
    """What a tree of plain values says with this change."""
    if not path:
        return _bare(value)
    part, rest = path[0], path[1:]
    if isinstance(part, int):
        items = list(tree) if isinstance(tree, list) else []
        if part > len(items):
            raise _not_there()
        if part == len(items):
            items.append("")
        if value is None and not rest:
            del items[part]
        else:
            items[part] = _changed(items[part], rest, value, short)
        return items or ""
    alone = {short: tree} if tree and short else {}
    held = dict(tree) if isinstance(tree, dict) else alone
    key = next((one for one in held if tidy_key(one) == tidy_key(part)), part)
    if value is None and not rest:
        del held[key]
        return held or ""
    held[key] = _changed(held.get(key, ""), rest, value, short)
    return held


def _bare(value: NewValue | None) -> object:
    if value is None or isinstance(value, str):
        return spaced(value or "")
    if isinstance(value, Mapping):
        return {key: _bare(one) for key, one in value.items()}
    return [_bare(one) for one in value]


def _not_there() -> JobError:
    return JobError(
        [Fault("This cannot be changed here without touching what stands round it: change it in the text.")]
    )
