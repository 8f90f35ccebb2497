"""How tiles lie, in a tiler's words, parsed: sizes, measured runs, bonds, starts and set-out lines.

Every fault is a ValueError of one sentence: what was found, what is allowed, what to write.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from cutmarks.job.grammar import parse_place
from cutmarks.job.words import FIGURE, UNKNOWN, Fixes, Setting, either, found, spaced
from cutmarks.readings import Anchor, Bond, Reading, Run, Size, Start
from cutmarks.sides import Axis
from cutmarks.units import Unit, match_length, parse_length

LINE_KINDS: Mapping[str, Mapping[str, Fixes]] = {
    "wall": {"plumb": "x", "level": "y"},
    "floor": {"across": "x", "along": "y"},
}
"""The words for a set-out line, and the axis that it fixes."""

_PARTS: Mapping[str, Fraction] = {
    "half": Fraction(1, 2),
    "third": Fraction(1, 3),
    "quarter": Fraction(1, 4),
    "fifth": Fraction(1, 5),
    "two thirds": Fraction(2, 3),
    "two fifths": Fraction(2, 5),
    "⅓": Fraction(1, 3),
    "¼": Fraction(1, 4),
    "½": Fraction(1, 2),
}
BOND_WAYS: Mapping[str, Literal["alternate", "progressive"]] = {
    "back and forth": "alternate",
    "alternate": "alternate",
    "alternating": "alternate",
    "stepped": "progressive",
    "progressive": "progressive",
}
"""The words for how a bond goes on from course to course."""
_BY = re.compile(r"\s*(?:[x\u00d7*]|\bby\b)\s*", re.IGNORECASE)
_ANCHORS: Mapping[str, Anchor] = {
    "joint crossing": "crossing",
    "crossing": "crossing",
    "corner": "corner",
    "joint": "joint",
    "middle": "middle",
    "centre": "middle",
    "center": "middle",
    "left edge": "left",
    "left": "left",
    "right edge": "right",
    "right": "right",
    "sits": "sits on",
    "sits on": "sits on",
    "hangs": "hangs from",
    "hangs from": "hangs from",
}
_ALLOWED: Mapping[Axis, tuple[Anchor, ...]] = {
    "across": ("joint", "middle", "left", "right", "corner", "crossing"),
    "up": ("joint", "middle", "sits on", "hangs from", "corner", "crossing"),
}
_LENGTH_FIRST = re.compile(rf"[.{FIGURE}-]")


@dataclass(frozen=True, slots=True)
class LineWords:
    """A set-out line as written: its kind, its distance from another line, and the words that are printed."""

    kind: str
    fixes: Fixes
    at: Reading | None
    words: str


def parse_size(text: str, unit: Unit) -> Size:
    """Two sizes: 248 x 398, 248×398, 248 by 398, 11 13/16 x 11 13/16, 6" x 12".

    A unit at the end is for both: 12 x 24 in.
    """
    phrase = spaced(text)
    if phrase == UNKNOWN:
        raise ValueError("A size must be known: measure it.")
    parts = _BY.split(phrase)
    if len(parts) == 3:
        raise ValueError(f"{found(text)} has three sizes: write two, and thickness: on a line of its own.")
    if len(parts) != 2 or not all(parts):
        raise ValueError(f"{found(text)} is no size: write two with x between, as in 297 x 97.")
    second = parse_length(parts[1], unit)
    # A unit at the end is for both, unless the first has its own.
    first = parse_length(parts[0], unit if _has_unit(parts[0]) else second.unit)
    if not first.mm or not second.mm:
        raise ValueError(f"{found(text)} has a size of nothing: write two sizes, as in 297 x 97.")
    return Size(first.mm, second.mm)


def says_unit(text: str) -> bool:
    """Whether two sizes are written with a unit."""
    return any(_has_unit(part) for part in _BY.split(spaced(text)) if part)


def is_size(text: str) -> bool:
    """Whether a text is meant as two sizes: it has an x, or "by", in it."""
    return len(_BY.split(text)) > 1


def parse_run(text: str, unit: Unit) -> Run:
    """A measured run of tiles with the joints between them: "5 in 1248"."""
    phrase = spaced(text)
    match = re.match(r"(?P<count>[0-9]{1,3})(?: tiles)? (?:in|to) (?P<length>\S.*)$", phrase, re.IGNORECASE)
    if match is None:
        raise ValueError(f"{found(text)} is no run: write how many tiles in how much, as in 5 in 1248.")
    count, length = int(match["count"]), parse_length(match["length"], unit)
    if count < 2 or not length.mm:
        raise ValueError(f"{found(text)} is no run: measure over two tiles or more, best five.")
    return Run(count, length.mm)


def parse_bond(text: str, unit: Unit) -> Bond:
    """How courses sit: stack, half, "third right", "third left, stepped", "200 right"."""
    phrase = spaced(text)
    rest = re.sub(r"\s*\bbond\b", "", phrase, flags=re.IGNORECASE).strip(" ,")
    way: Literal["alternate", "progressive"] = "alternate"
    for words, meant in BOND_WAYS.items():
        head = re.sub(rf",?\s*\b{words}$", "", rest, flags=re.IGNORECASE)
        if head != rest:
            rest, way = head, meant
    if rest.lower() == "stack":
        return Bond(words=phrase)
    hand = re.match(r"(?P<step>.*?)(?:,? (?:to the )?(?P<hand>right|left))?$", rest, re.IGNORECASE)
    assert hand is not None
    step, side = hand["step"].lower(), (hand["hand"] or "").lower()
    sign = -1 if side == "left" else 1
    part = _part_of_a_tile(step, unit)
    if part is not None:
        if not side and part != Fraction(1, 2):
            raise ValueError(
                f'{found(text)} does not say which way it steps: write "{step} right" or "{step} left" '
                "(each odd course from the start moves that way)."
            )
        return Bond(part=sign * part, way=way, words=phrase)
    if match_length(step, unit) is None:
        raise ValueError(
            f"{found(text)} is no bond: write stack, half, third right, third left, or a distance as in 200 right; "
            "add back and forth, or stepped."
        )
    shift = parse_length(step, unit)
    if not side:
        raise ValueError(f'{found(text)} does not say which way it steps: write "{step} right" or "{step} left".')
    return Bond(mm=sign * shift.mm, way=way, words=phrase)


def parse_start(text: str, axis: Axis, setting: Setting) -> Start:
    """What of the start tile lies on what, on one axis: "joint on V", "sits on B", "joint 12 right of V"."""
    phrase = spaced(text)
    low = phrase.lower()
    for word in sorted(_ANCHORS, key=len, reverse=True):
        if low == word or low.startswith(word + " "):
            anchor = _ANCHORS[word]
            break
    else:
        raise ValueError(f"{found(text)} is no start: write it as in {_start_example(axis)}.")
    if anchor not in _ALLOWED[axis]:
        raise ValueError(
            f"{found(text)} is no start {axis}: it takes {either(_ALLOWED[axis][:4])}, as in {_start_example(axis)}."
        )
    rest = re.sub(r"^(?:on|from|at)\b\s*", "", phrase[len(word) :].strip(), flags=re.IGNORECASE)
    if not rest:
        raise ValueError(f"{found(text)} does not say on what: write it as in {_start_example(axis)}.")
    return Start(anchor, parse_place(rest, axis, setting))


def split_start(text: str) -> tuple[str, str]:
    """A start on both axes, in one phrase, as one for each: "middle on V and B", "joint on V, sits on B"."""
    phrase = spaced(text)
    one, comma, two = phrase.partition(", ")
    if comma:
        return one, two
    match = re.match(r"(?P<anchor>\D+? on) (?P<across>\S.*?) and (?P<up>\S.*)$", phrase, re.IGNORECASE)
    if match is None:
        raise ValueError(f'{found(text)} is no start: write it as in "joint on V, sits on B", or "middle on V and B".')
    up = match["up"]
    again = re.match(rf"(?:{'|'.join(_ANCHORS)})\b", up, re.IGNORECASE)
    return f"{match['anchor']} {match['across']}", up if again else f"{match['anchor']} {up}"


def parse_line(text: str, setting: Setting) -> LineWords:
    """A set-out line: "plumb, middle of the sink", "level, 1200 above B, top of the window"."""
    phrase = spaced(text)
    kinds = LINE_KINDS[setting.kind]
    kind, _, rest = phrase.partition(",")
    kind, rest = kind.strip().lower(), rest.strip()
    if kind not in kinds:
        other = LINE_KINDS["floor" if setting.kind == "wall" else "wall"]
        hint = f" (this surface is a {setting.kind})" if kind in other else ""
        raise ValueError(
            f"{found(kind)} is no kind of line{hint}: write {either(kinds)}, a comma, and the words to print, "
            f"as in {'plumb, middle of the sink' if setting.kind == 'wall' else 'along, face of the hearth'}."
        )
    fixes = kinds[kind]
    at, words = None, rest
    if _LENGTH_FIRST.match(rest) or (setting.lines and rest.partition(",")[0] in setting.lines):
        distance, _, words = (part.strip() for part in rest.partition(", "))
        at = parse_place(distance, "across" if fixes == "x" else "up", setting)
    return LineWords(kind, fixes, at, words)


def _part_of_a_tile(step: str, unit: Unit) -> Fraction | None:
    if step in _PARTS:
        return _PARTS[step]
    match = re.fullmatch(r"([1-9])/([2-9])", step)
    if match is None or int(match[1]) >= int(match[2]):
        return None
    if unit in (Unit.INCH, Unit.FOOT):
        raise ValueError(
            f'"{step}" can be a part of a tile or of an inch: write half, third or quarter, or {step} in with its unit.'
        )
    return Fraction(int(match[1]), int(match[2]))


def _has_unit(text: str) -> bool:
    try:
        parse_length(text, None)
    except ValueError:
        return False
    return True


def _start_example(axis: Axis) -> str:
    return "joint on V" if axis == "across" else "sits on B"
