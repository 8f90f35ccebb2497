"""A tile, and how tiles sit, said in one line: "600 x 300 landscape, 2 joint", "third right, joint on V, sits on B"."""

from __future__ import annotations

import re

from cutmarks.job.declared import words_of
from cutmarks.job.laying import is_size, parse_bond, parse_run, parse_size, parse_start, split_start
from cutmarks.job.parting import (
    HAS_FIGURE,
    Dealt,
    Keys,
    PlaceReader,
    behind,
    deal,
    fault_of,
    keyed,
    of_no_key,
    parts_of,
    takes,
)
from cutmarks.job.said_hole import AXES
from cutmarks.job.tiles import AreaSpec, TileSpec
from cutmarks.job.words import FIGURE, Setting, found
from cutmarks.units import Unit, parse_length

_LENGTH = rf"\.?[{FIGURE}][{FIGURE}\s./-]*(?:\s?(?:mm|cm|in|\"))?"
_JOINT = re.compile(
    rf"(?:with |w/ ?|comes out (?:at )?)?(?P<much>{_LENGTH}) ?(?:joints?|jts?|jnts?|grout(?: joints?| lines?)?|"
    rf"spacers?|"
    r"between(?: sheets| tiles)?)$",
    re.IGNORECASE,
)
_JOINT_FIRST = re.compile(rf"(?:grout )?(?:joints?|spacers?|grout) (?P<much>{_LENGTH})$", re.IGNORECASE)
_JOINT_COMES_OUT = re.compile(
    rf"(?:butt(?:ed)?(?: 'em| em| them)?,? )?(?:and )?comes out (?:at )?(?P<much>{_LENGTH})$", re.I
)
_MILS = re.compile(r"(?<=[0-9½¼¾]) ?mil\b", re.IGNORECASE)
_METRIC = re.compile(r"[,\s]*\bmetric\b", re.IGNORECASE)
_LIES = {
    "long side across": r"(?:laid )?(?:landscape|flat)|lying down|long (?:side|way) (?:across|flat)|horizontal(?:ly)?",
    "long side up": r"(?:laid )?portrait|on end|stood (?:up|on end)|upright|long (?:side|way) up|vertical(?:ly)?",
}
_LIES_BARE = re.compile(r"(?:lay )?(?:long side )?(?P<way>across|up)$", re.IGNORECASE)
_SQUARE = re.compile(r"\bsq(?:uare)?\b", re.IGNORECASE)
_SHEETS = re.compile(rf"(?P<side>{_LENGTH}) ?sheets?$", re.IGNORECASE)
_OFF_THE_BOX = re.compile(
    r"^(?:(?:sold|called) as |nominal(?:ly)? |nom\.? )|(?: nom(?:inal)?\.?| on the (?:box|carton))$", re.IGNORECASE
)
_AS_MEASURED = re.compile(
    r"^(?:(?:but |and )?(?:they |it )?(?:really )?(?:tapes?|measures?|mikes?)(?: at)? |real(?: size)? |actual(?:ly)? |"
    r"true (?:size )?)",
    re.IGNORECASE,
)
_MATERIALS = frozenset({
    "ceramic", "porcelain", "glass", "stone", "marble", "slate", "granite", "limestone", "travertine", "terracotta",
    "quarry",
})  # fmt: skip
_SAID_NOTHING = re.compile(
    r"(?:lugs?|lugged|butt(?:ed)?(?: 'em| em| them| up)?|mosaics?|planks?|rectified)$", re.IGNORECASE
)
_CALLED = re.compile(rf"(?P<name>[^{FIGURE}]+?):? (?P<size>[{FIGURE}].*)$")


def tile_said(sentence: str, setting: Setting) -> tuple[str, Keys, Keys]:
    """A tile: its name, "" where none is said, its own keys, and those of the areas that are laid with it (its joint).

    Raises ValueError: one sentence.
    """
    unit = setting.unit
    if _METRIC.search(sentence) and unit in (Unit.INCH, Unit.FOOT):
        sentence, unit = _MILS.sub("", _METRIC.sub("", sentence)), Unit.MM
    parts = _parts(sentence, unit)

    def of_a_tile(part: str) -> Dealt | None:
        if takes(lambda: parse_run(part, unit)):
            return "run across", part
        if part.casefold() in _MATERIALS:
            return "material", part
        if joint := joint_in(part, unit):
            return "joint", _stated(joint, unit, setting)
        if lay := lay_in(part):
            return "lay", lay
        if sheet := _SHEETS.match(part):
            return "size", _stated(f"{sheet['side'].strip()} sq", unit, setting)
        if _AS_MEASURED.match(part) and _is_size(_AS_MEASURED.sub("", part), unit):
            return "measured size", _stated(_AS_MEASURED.sub("", part), unit, setting)
        if _is_size(part, unit):
            return "size", _stated(part, unit, setting)
        return ("", part) if _SAID_NOTHING.match(part) else None

    def name(part: str) -> Dealt | None:
        return None if HAS_FIGURE.search(part) else ("name", part)

    def why_not(part: str) -> str:
        if re.match(r"[0-9]+ (?:in|to) ", part):
            return fault_of(lambda: parse_run(part, unit))
        if not is_size(part):
            return of_no_key(part, "joint 3")
        if re.search(r"[0-9]s\b", part) and _is_size(re.sub(r"(?<=[0-9])s\b", "", part), unit):
            return (
                f"{found(part)} is what they are called, and does not say how they lie: write their size and "
                f"landscape, or "
                "portrait, as in 600 x 300 landscape, 3 joint."
            )
        sentence = fault_of(lambda: parse_size(part, unit))
        if ": write size:" not in sentence:
            return sentence
        return (
            f"{found(part)} says more than its size: write how it lies and the joint behind it, as in 600 x 300 "
            f"landscape, "
            "3 joint, with a comma between what are two."
        )

    joint = words_of(AreaSpec)["joint"]
    readers = [of_a_tile, keyed(TileSpec), behind({word: "joint" for word in (*joint.words, *joint.key.meant)}), name]
    keys = deal(
        [part for part in parts if not _SAID_NOTHING.match(part)],
        readers,
        PlaceReader(lambda _: None, why_not),
        {},
        within=[of_a_tile],
    )
    measured = keys.pop("measured size", None)
    if measured is not None:
        keys = {**keys, "size": measured, "measured": "yes"}
    area = {key: keys.pop(key) for key in ("joint",) if key in keys}
    return keys.pop("name", ""), {key: keys[key] for key in ("size", *keys) if key in keys}, area


def _parts(sentence: str, unit: Unit) -> list[str]:
    """The parts of what is said of a tile, each of one thing: its name, sizes, how it lies, its joint."""
    parts: list[str] = []
    for typed in parts_of(re.sub(r"\bbut (?=they|it|tapes?|measures?)", ", ", sentence)):
        part = _OFF_THE_BOX.sub("", typed).strip()
        for lay, words in _LIES.items():
            trimmed = re.sub(rf"[\s,]+(?:{words})$", "", part, flags=re.IGNORECASE)
            if trimmed != part and HAS_FIGURE.search(trimmed):
                parts.append(lay)
                part = trimmed
        named = _CALLED.match(part)
        if named is not None and is_size(named["size"]) and _is_size(named["size"], unit):
            is_measured = _AS_MEASURED.match(part)
            parts += [part] if is_measured else [named["name"], named["size"]]
            continue
        two = re.match(rf"(?P<box>[{FIGURE}]\S*(?: ?x ?\S+)?) planks? (?P<size>[{FIGURE}].*)$", part, re.IGNORECASE)
        parts += [f"measures {two['size']}"] if two and _is_size(two["size"], unit) else [part]
    if any(_AS_MEASURED.match(part) for part in parts):
        # What the box says gives way to what was measured.
        parts = [part for part in parts if not _is_size(part, unit)]
    return parts


def _is_size(part: str, unit: Unit) -> bool:
    return (is_size(part) or bool(_SQUARE.search(part))) and takes(lambda: parse_size(part, unit))


def joint_in(part: str, unit: Unit) -> str:
    """How wide the joint is that a part says; "" where it says none: "3 joint", "2 mm grout", "joint 3"."""
    match = _JOINT.match(part) or _JOINT_FIRST.match(part) or _JOINT_COMES_OUT.match(part)
    return match["much"].strip() if match and takes(lambda: parse_length(match["much"].strip(), unit)) else ""


def lay_in(part: str) -> str:
    """How a tile lies, in the words of its key; "" where a part does not say that."""
    if bare := _LIES_BARE.match(part):
        return f"long side {bare['way'].lower()}"
    return next((lay for lay, words in _LIES.items() if re.fullmatch(words, part, re.IGNORECASE)), "")


def _stated(text: str, unit: Unit, setting: Setting) -> str:
    """A length or size with its unit, where that is not the job's."""
    if unit is setting.unit:
        return text
    one, square, _ = text.partition(" sq")
    return f"{one} {unit.value}{' sq' if square else ''}"


def start_said(sentence: str, setting: Setting) -> Keys:
    """How tiles sit: the bond, and the two parts of the start. Raises ValueError: one sentence."""

    def one_way(part: str) -> Dealt | None:
        for axis in AXES:
            if takes(lambda axis=axis: parse_start(part, axis, setting)):  # type: ignore[misc]
                return f"start {axis}", part
        return ("bond", part) if takes(lambda: parse_bond(part, setting.unit)) else None

    def why_not(part: str) -> str:
        names = "|".join(map(re.escape, setting.lines or {}))
        is_a_start = re.search(rf"\bon\b|\b(?:{names})\b", part)
        return fault_of(lambda: parse_start(part, "across", setting) if is_a_start else parse_bond(part, setting.unit))

    parts: list[str] = []
    for part in parts_of(sentence):
        parts += start_parts(part, setting) if one_way(part) is None else [part]
    return deal(parts, [one_way, keyed(AreaSpec)], PlaceReader(lambda _: None, why_not), {}, within=())


def start_parts(part: str, setting: Setting) -> list[str]:
    """A start on both axes in one phrase, as two; else the part itself."""
    try:
        across, up = split_start(part, setting)
    except ValueError:
        return [part]
    both = takes(lambda: (parse_start(across, "across", setting), parse_start(up, "up", setting)))
    return [across, up] if both else [part]
