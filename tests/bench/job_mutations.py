"""A job that runs, made wrong as people (and programs) make them wrong: seeded, and said in words.

A job is read into plain mappings, lists and texts, changed there, and written again with one thing a line, so that a
case can be made smaller line by line; slips of the finger come last, on the text itself.
"""

from __future__ import annotations

import copy
import json
import re
from collections.abc import Callable, Iterator, Mapping
from functools import cache
from random import Random
from typing import Any

from msgspec import Struct
from ruamel.yaml import YAML

from tests.bench.job_seeds import seeds

MOST_ALIKE = 40
"""Copies that stay where they are: more of them on one tile are a known slow job (`job_slow`)."""
MOST_SPREAD = 200
"""Copies that are laid out over the wall."""
_PLAIN = re.compile(r"[A-Za-z0-9](?:[A-Za-z0-9 _./½¼⅜×-]*[A-Za-z0-9½¼⅜])?")
_FIGURE = re.compile(r"[0-9]+(?:\.[0-9]+)?")


class Raw(str):
    """A text that stands in the file as it is, without quotes."""

    __slots__ = ()


class Case(Struct, frozen=True):
    """One mutated job: its number makes it again."""

    number: int
    seed: str
    mutations: tuple[str, ...]
    text: str


@cache
def trees() -> Mapping[str, Any]:
    """Every seed, read; all that is no mapping or list is a text."""
    return {name: YAML(typ="base", pure=True).load(text) for name, text in seeds().items()}


def as_yaml(tree: Any, indent: int = 0) -> str:
    """A tree as YAML, one key or item a line.

    >>> print(as_yaml({"a": ["1 x 2", "#", {}], "b": {"c": "d"}}), end="")
    a:
      - 1 x 2
      - "#"
      - {}
    b:
      c: d
    """
    pad = " " * indent
    pairs = [(f"{_scalar(key)}:", value) for key, value in tree.items()] if isinstance(tree, dict) else []
    lines = [(head, value) for head, value in pairs] or [("-", value) for value in tree]
    out = []
    for head, value in lines:
        if isinstance(value, (dict, list)) and value:
            out.append(f"{pad}{head}\n{as_yaml(value, indent + 2)}")
        else:
            out.append(f"{pad}{head} {_scalar(value)}\n")
    return "".join(out)


def _scalar(value: Any) -> str:
    if isinstance(value, Raw):
        return str(value)
    if isinstance(value, (dict, list)):
        return "{}" if isinstance(value, dict) else "[]"
    text = str(value)
    return text if _PLAIN.fullmatch(text) else json.dumps(text, ensure_ascii=False)


# Where things stand in a tree.

Slot = tuple[Any, Any]
"""A mapping or list, and the key or position in it."""


def slots(tree: Any) -> Iterator[Slot]:
    """Every place of a tree that holds something."""
    for key in list(tree) if isinstance(tree, dict) else range(len(tree)):
        yield tree, key
        if isinstance(tree[key], (dict, list)):
            yield from slots(tree[key])


def leaves(tree: Any) -> list[Slot]:
    """Every place that holds a text."""
    return [(holder, key) for holder, key in slots(tree) if isinstance(holder[key], str)]


def lists_of(tree: Any, *names: str) -> list[list[Any]]:
    """Every list under one of these keys that holds anything."""
    found = [holder[key] for holder, key in slots(tree) if isinstance(holder, dict) and key in names]
    return [one for one in found if isinstance(one, list) and one]


def words_of(slot: Slot) -> str:
    """The key that a value stands under, for the description."""
    return str(slot[1]) if isinstance(slot[0], dict) else f"item {slot[1] + 1}"


# The mutations. Each changes the tree and says what it did; "" where there was nothing to do.


def swapped(tree: Any, draw: Random) -> str:
    """The values of two keys change places."""
    found = leaves(tree)
    if len(found) < 2:
        return ""
    one, two = draw.sample(found, 2)
    one[0][one[1]], two[0][two[1]] = two[0][two[1]], one[0][one[1]]
    return f"{words_of(one)} and {words_of(two)} swapped"


FIGURES: tuple[str, ...] = (
    *("0", "0.0", "0.001", "0.0001", "1e-3", "1e9", "nan", "inf", "99999999999999999999", "-3", "1/3", "12 3/8"),
    *("3,5", "1.000,5", "½", "007", "1000000", "5000", "2500.1", "0.49999999999", "٣", "3", "²", "0x10", "1_000"),
)
UNITS: tuple[str, ...] = (" cm", " m", " in", " ft", " mm", '"', "'", " km", " yd", "mm", " inches", "%")


def figure(tree: Any, draw: Random) -> str:
    """One figure of another size, sign, unit or form."""
    found = [(holder, key) for holder, key in leaves(tree) if _FIGURE.search(holder[key])]
    if not found:
        return ""
    holder, key = draw.choice(found)
    before = holder[key]
    match = draw.choice(list(_FIGURE.finditer(before)))
    kind = draw.randrange(5)
    if kind == 0:
        figured = f"{float(match[0]) * draw.choice((10, 100, 1000, 0.1, 0.01, 0.001)):g}"
    elif kind == 1:
        figured = draw.choice(FIGURES)
    elif kind == 2:
        figured = match[0] + draw.choice(UNITS)
    elif kind == 3:
        figured = f"{float(match[0]) + draw.choice((-1, 1, -0.5, 0.25, 100, -100, 1000, 0.000001)):g}"
    else:
        figured = str(draw.randrange(1, 2000))
    holder[key] = before[: match.start()] + figured + before[match.end() :]
    return f"{words_of((holder, key))}: {before[:40]} became {holder[key][:60]}"


NAMES: tuple[str, ...] = (
    *("", " ", "  ", "?", "~", "null", "no", "a", "V", "B", "hot", "the floor", "left", "joint", "none", "1", "007"),
    *("two  blanks", " leading", "trailing ", "a" * 60, "b" * 61, "c" * 5000, "tap, cold", "tap: cold", "tap # 2"),
    *(
        "\uff26\uff35\uff2c\uff2c",
        "\uff1d1+1",
        "\uff0bA1",
        "\uff0d2",
        "\uff20SUM",
        "=1+1",
        "+A1",
        "-2+3",
        "@SUM(A1)",
        "\t=1",
        "%0A=1",
    ),
    *("<script>alert(1)</script>", "a<b", "&amp;", "'><svg/onload=x>", "javascript:alert(1)", "]]>", "--", "${x}"),
    *("../../etc", "a/b", "a\\b", "CON", "nul", "..", ".hidden", "a.b", "name.yaml", "C:", "x" * 59 + "é"),
    *("é", "e\u0301", "ß", "İ", "\u0131", "ﬁ", "Ω", "Ω", "naïve Größe", "水栓", "кран", "مقبس", "שקע", "🚰", "👩‍🔧"),
    *("\u202egnp", "a\u200bb", "a\u00a0b", "a\u2003b", "\ufeffx", "a\u00adb", "a\x07b", "a\x85b", "a\u2028b", "½", "²"),
    *("splash 3-7", "field 1-1", "a 1-R1", "hot a", "BACK", "FACE", "STOP", "UP", "$HOME", "%s", "{0}", "\\", "'", '"'),
)


def name(tree: Any, draw: Random) -> str:
    """Another name for a thing, or another key under tiles, lines and points; half of the time wherever it stands."""
    named: list[Slot] = [
        (holder, key)
        for holder, key in slots(tree)
        if isinstance(holder, dict)
        and key in ("name", "job", "what", "words", "material", "note", "tile", "piece", "of")
    ]
    keyed: list[Slot] = [
        (holder[key], own)
        for holder, key in slots(tree)
        if isinstance(holder, dict) and key in ("tiles", "lines", "points") and isinstance(holder[key], dict)
        for own in list(holder[key])
    ]
    if not named and not keyed:
        return ""
    holder, key = draw.choice(named + keyed)
    is_key = (holder, key) in [(a, b) for a, b in keyed if a is holder]
    before = str(key if is_key else holder[key])
    after = draw.choice(NAMES) if draw.random() < 0.7 else before + draw.choice(NAMES)
    if not isinstance(holder[key], str) and not is_key:
        return ""
    everywhere = draw.random() < 0.5 and before.strip() != ""
    if is_key:
        renamed = {after if one == key else one: value for one, value in holder.items()}
        holder.clear()
        holder.update(renamed)
    else:
        holder[key] = after
    if everywhere:
        whole = re.compile(rf"(?<!\w){re.escape(before)}(?!\w)")
        for other, at in leaves(tree):
            other[at] = whole.sub(lambda _: after, other[at])
    return f"{'key' if is_key else key} {before[:30]!r} became {after[:60]!r}{' everywhere' if everywhere else ''}"


KEYS: tuple[str, ...] = (
    *(
        "job",
        "units",
        "say",
        "tiles",
        "surfaces",
        "name",
        "kind",
        "lines",
        "edges",
        "gaps",
        "areas",
        "holes",
        "windows",
    ),
    *("size", "lay", "run across", "run up", "thickness", "tile", "joint", "bond", "from", "to", "left of", "right of"),
    *("outline", "turn", "start", "across", "up", "in", "what", "cover", "end", "opening", "hole", "play", "slot"),
    *("corners", "diameter", "keep clear", "sweep", "depth", "depth range", "lean", "stub", "screw", "template", "gap"),
    *("steps", "still to come", "accept", "limits", "found", "points", "pairs", "square", "readings", "within", "lies"),
    *("paper", "sheets", "cut", "printer", "cores", "board", "up", "way out", "nothing below", "work", "do not drill"),
    *("hidden by", "scribe", "trim", "undercut", "goes under", "holes list", "finest", "niches", "doors", "measured"),
)


def structure(tree: Any, draw: Random) -> str:
    """A key taken out, renamed, moved a level, or its value made a list, a mapping, or something deep or huge."""
    found = list(slots(tree))
    if not found:
        return ""
    holder, key = draw.choice(found)
    value, said = holder[key], words_of((holder, key))
    match draw.randrange(9):
        case 0:
            del holder[key]
            return f"{said} taken out"
        case 1:
            return _renamed(holder, key, draw.choice(KEYS))
        case 2:
            return _moved(tree, holder, key, draw)
        case 3:
            holder[key] = [value] if not isinstance(value, list) else dict(zip(KEYS, value, strict=False))
            return f"{said} made a list, or a mapping of what was one"
        case 4:
            holder[key] = {draw.choice(KEYS): value}
            return f"{said} one level deeper"
        case 5:
            deep = draw.choice((3, 30, 300, 3000))
            holder[key] = Raw(draw.choice(("[" * deep + "]" * deep, "{a: " * deep + "}" * deep)))
            return f"{said} made {deep} levels deep"
        case 6:
            count = draw.choice((10, 300, 3000))
            holder[key] = Raw("[" + ", ".join(["3"] * count) + "]")
            return f"{said} made a list of {count}"
        case 7:
            holder[key] = Raw(
                draw.choice(
                    (
                        "",
                        "~",
                        "null",
                        "!!python/object:os.system x",
                        "&a b",
                        "*a",
                        "|\n      x",
                        ">",
                        "true",
                        "[]",
                        "{}",
                        "2026-01-01",
                        "0x1F",
                        "!!binary aaaa",
                    )
                )
            )
            return f"{said} became {str(holder[key])!r}"
        case _:
            return _given(holder, draw, tree)


def _renamed(holder: Any, key: Any, other: str) -> str:
    if not isinstance(holder, dict):
        return ""
    renamed = {other if one == key else one: value for one, value in holder.items()}
    holder.clear()
    holder.update(renamed)
    return f"{key} renamed {other}"


def _moved(tree: Any, holder: Any, key: Any, draw: Random) -> str:
    """The value goes, with its key, to another mapping or list."""
    places = [tree] + [one[at] for one, at in slots(tree) if isinstance(one[at], (dict, list))]
    target = draw.choice(places)
    value = copy.deepcopy(holder[key])
    del holder[key]
    if isinstance(target, dict):
        target[str(key)] = value
    else:
        target.append(value)
    return f"{key} moved to another level"


def _given(holder: Any, draw: Random, tree: Any) -> str:
    """A mapping gets a key that it may or may not take, with a value from somewhere else."""
    if not isinstance(holder, dict):
        return ""
    key = draw.choice(KEYS)
    other, at = draw.choice(list(slots(tree)))
    holder[key] = copy.deepcopy(other[at])
    return f"{key} given, as in {words_of((other, at))}"


def copies(tree: Any, draw: Random) -> str:
    """A hole, window, area, surface or reading many times over: in its place, or laid out over the wall."""
    found = lists_of(tree, "holes", "windows", "niches", "doors", "areas", "surfaces", "readings", "pairs", "corners")
    if not found:
        return ""
    chosen = draw.choice(found)
    one = draw.choice(chosen)
    spread = draw.random() < 0.6
    count = draw.choice((1, 2, 10, MOST_SPREAD if spread else MOST_ALIKE))
    along = draw.choice((7, 30, 110, 400))
    for k in range(1, count + 1):
        another = copy.deepcopy(one)
        if draw.random() < 0.98:
            _call_otherwise(another, k)
        if spread:
            _shift(another, k * along)
        chosen.append(another)
    return f"{count} copies of one{f', {along} apart' if spread else ''}"


def _call_otherwise(thing: Any, k: int) -> None:
    """Names of its own for a copy and all that is in it."""
    if isinstance(thing, dict) and isinstance(thing.get("name"), str):
        thing["name"] += f" no {k}"
    for part in thing.values() if isinstance(thing, dict) else thing if isinstance(thing, list) else ():
        if isinstance(part, (dict, list)):
            _call_otherwise(part, k)


def _shift(thing: Any, by: int) -> None:
    """Every figure of its reading across so much more."""
    if isinstance(thing, dict) and isinstance(thing.get("across"), str):
        thing["across"] = _FIGURE.sub(lambda match: f"{float(match[0]) + by:g}", thing["across"])


def corners(tree: Any, draw: Random) -> str:
    """Corners or an outline in another order, one slipped, one twice; or a hole that is placed by four of them."""
    found = lists_of(tree, "corners", "outline", "at", "steps")
    if not found or draw.random() < 0.3:
        return _cornered(tree, draw)
    chosen = draw.choice(found)
    match draw.randrange(5):
        case 0:
            draw.shuffle(chosen)
            return "corners in another order"
        case 1:
            chosen.append(copy.deepcopy(draw.choice(chosen)))
            return "a corner twice"
        case 2:
            del chosen[draw.randrange(len(chosen))]
            return "a corner left out"
        case 3:
            at = draw.randrange(len(chosen))
            if isinstance(chosen[at], str):
                chosen[at] = _FIGURE.sub(lambda match: match[0] + draw.choice(("", "", "0", "00")), chosen[at])
            return "a corner slipped"
        case _:
            at = draw.randrange(len(chosen))
            if isinstance(chosen[at], str):
                opposite = {"left of": "right of", "right of": "left of", "above": "below", "below": "above"}
                chosen[at] = re.sub("left of|right of|above|below", lambda match: opposite[match[0]], chosen[at])
            return "a corner on the other side"


def _cornered(tree: Any, draw: Random) -> str:
    """A hole or window by an outline through random places."""
    found = lists_of(tree, "holes", "windows", "niches", "areas")
    if not found:
        return ""
    thing = draw.choice(draw.choice(found))
    if not isinstance(thing, dict):
        return ""
    for key in ("across", "up", "in", "what", "size", "diameter", "slot"):
        if draw.random() < 0.9:
            thing.pop(key, None)
    key = draw.choice(("corners", "outline"))
    count = 4 if key == "corners" else draw.choice((1, 2, 3, 4, 5, 8, 40))
    lines = [line for one, at in slots(tree) if at == "lines" and isinstance(one[at], dict) for line in one[at]]
    first, second = (str(lines[0]), str(lines[1])) if len(lines) > 1 else ("V", "B")
    reach = draw.choice((1, 100, 1000, 20000))
    word, sides = draw.choice(("above", "above", "from")), ("left of", "right of")
    thing[key] = [
        f"{draw.randint(0, reach)} {draw.choice(sides)} {first}, {draw.randint(0, reach)} {word} {second}"
        for _ in range(count)
    ]
    return f"{key} of {count} random places, up to {reach} off"


SLIPS: tuple[str, ...] = (
    *(
        "\t",
        " ",
        "  ",
        "\n",
        "\r\n",
        ":",
        ": ",
        ",",
        "'",
        '"',
        "#",
        " #",
        "- ",
        "-",
        "{",
        "}",
        "[",
        "]",
        "|",
        ">",
        "&",
        "*",
    ),
    *(
        "!",
        "%",
        "@",
        "`",
        "?",
        "? ",
        "<<: ",
        "---\n",
        "...\n",
        "\ufeff",
        "\x00",
        "\u2028",
        "–",
        "’",
        "½",
        "=",
        "\\",
        "é",
    ),
)


def slip(text: str, draw: Random) -> tuple[str, str]:
    """The text with one slip of the finger, and what it was."""
    lines = text.splitlines(keepends=True)
    at = draw.randrange(len(text) + 1)
    row = draw.randrange(len(lines)) if lines else 0
    match draw.randrange(7):
        case 0:
            typed = draw.choice(SLIPS)
            return text[:at] + typed + text[at:], f"{typed!r} typed in"
        case 1:
            return text[:at] + text[at + draw.randint(1, 12) :], "some characters gone"
        case 2:
            return text[:at], "the end cut off"
        case 3:
            lines[row : row + 1] = [lines[row]] * 2
            return "".join(lines), "a line twice"
        case 4:
            lines[row] = draw.choice((" ", "  ", "\t", "    ")) + lines[row]
            return "".join(lines), "a line further in"
        case 5:
            del lines[row]
            return "".join(lines), "a line gone"
        case _:
            return re.sub(r"^ ", "\t", text, count=draw.choice((1, 3, 0)), flags=re.MULTILINE), "tabs for blanks"


Mutation = Callable[[Any, Random], str]
MUTATIONS: tuple[Mutation, ...] = (swapped, figure, figure, figure, name, name, structure, structure, copies, corners)
SLIPPED = 0.15
"""Of so many jobs the text has a slip too."""


def case(number: int) -> Case:
    """The mutated job of that number."""
    draw = Random(f"job {number}")
    seed = draw.choice(sorted(trees()))
    tree = copy.deepcopy(trees()[seed])
    wanted = draw.choice((1, 1, 1, 2, 3))
    done: list[str] = []
    for _ in range(30):
        mutation = draw.choice(MUTATIONS)
        if said := mutation(tree, draw):
            done.append(f"{mutation.__name__}: {said}")
        if len(done) == wanted or not tree:
            break
    text = as_yaml(tree) if tree else "{}\n"
    if draw.random() < SLIPPED and text:
        text, said = slip(text, draw)
        done.append(f"slip: {said}")
    return Case(number, seed, tuple(done), text)
