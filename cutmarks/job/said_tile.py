"""A tile, and how tiles sit, said in one line: "600 x 300 landscape, 2 joint", "third right, joint on V, sits on B"."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from cutmarks.job.declared import words_of
from cutmarks.job.laying import (
    A_LENGTH,
    MILS,
    is_size,
    joint_in,
    parse_bond,
    parse_run,
    parse_size,
    parse_start,
    split_start,
)
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
from cutmarks.job.said_places import AXES
from cutmarks.job.tiles import AreaSpec, TileSpec
from cutmarks.job.tokens import tokens
from cutmarks.job.words import FIGURE, Setting, found, in_figures
from cutmarks.patterns import late
from cutmarks.units import Unit, parse_length

_ALONE = r"(?:[0-9]+(?:-| +)[0-9]+/[0-9]+|[0-9]+/[0-9]+|[0-9]* ?[½⅓⅔¼¾⅛⅜⅝⅞]|[0-9]*\.?[0-9]+)(?: ?(?:mm|cm|in|\"))?"
"""One length and no more."""
_METRIC = late(r"[,\s]*\bmetric\b", re.IGNORECASE)
_LIES = {
    "long side across": r"(?:(?:laid|set) )?(?:landscape|flat|on (?:its|their) side|long (?:side|way) (?:across|flat)|"
    r"horizontal(?:ly)?)|lying down",
    "long side up": r"(?:(?:laid|set|stood|standing) )?(?:portrait|on end|upright|long (?:side|way) up|"
    r"vertical(?:ly)?)|stood up",
}
_LIES_BARE = late(r"(?:lay )?(?:long side )?(?P<way>across|up)$", re.IGNORECASE)
_SQUARE = late(r"\bsq(?:uare)?\b", re.IGNORECASE)
_SHEETS = late(rf"(?P<side>{A_LENGTH}) ?sheets?$", re.IGNORECASE)
_OFF_THE_BOX = late(
    r"^(?:(?:sold|called) as |nominal(?:ly)? |nom\.? )|(?: nom(?:inal)?\.?| on the (?:box|carton))$", re.IGNORECASE
)
_AS_MEASURED = late(
    r"^(?:(?:but |and )?(?:they |it )?(?:really )?(?:tapes?|measures?|mikes?)(?: at)? |real(?: size)? |actual(?:ly)? |"
    r"true (?:size )?)",
    re.IGNORECASE,
)
_MATERIALS = frozenset({
    "ceramic", "porcelain", "glass", "stone", "marble", "slate", "granite", "limestone", "travertine", "terracotta",
    "quarry", "terrazzo", "zellige", "cement", "encaustic",
})  # fmt: skip
_MADE_OF: Mapping[str, str] = {
    **{word: word for word in _MATERIALS},
    "porc": "porcelain",
    "porcelains": "porcelain",
    "ceramics": "ceramic",
    "quarries": "quarry",
}
"""What a tile is made of, by the words for it."""
_OF_A_TILE = frozenset({
    "tile", "tiles", "wall", "floor", "field", "white", "black", "grey", "gray", "cream", "blue", "green", "gloss",
    "glossy",
    "matt", "matte", "satin", "glaze", "glazed", "unglazed", "finish", "reactive", "ivory", "beige", "pink", "sage",
    "off",    "polished", "honed", "rectified", "rect", "metro", "metros",
    "subway", "subways", "plain", "bevelled", "beveled", "textured", "crackle", "crackled", "handmade",
    "wood", "look", "effect", "plank", "planks", "penny", "round", "mosaic", "mosaics",
})  # fmt: skip
"""Words that say of a tile what it looks like or is sold as, and nothing of its size or how it lies."""
_WIDEST_JOINT_LIKELY = 6.0
"""A length behind what a tile is made of is its thickness from here on, mm: below it may be the joint."""
_THICKEST = 40.0
"""No tile is thicker, mm: more is one of its sides."""
_JOINTED_WIDE = frozenset({"quarry", "terracotta", "stone", "cement", "encaustic"})
"""These are laid with joints as wide as they are thick."""
_SAID_NOTHING = late(r"(?:lugs?|lugged|butt(?:ed)?(?: 'em| em| them| up)?|mosaics?|planks?|rectified)$", re.IGNORECASE)
_SIZE_IN = late(
    rf"(?<![\w.])(?P<one>{_ALONE})(?: ?(?:[x\u00d7]|by) ?(?P<two>{_ALONE})(?: ?(?:[x\u00d7]|by) ?(?P<three>{_ALONE}))?"
    r"| ?sq(?:uare)?\b\.?)(?![\w.])",
    re.IGNORECASE,
)
"""Two sizes, or one of a square tile; a third is the thickness."""
_THICK = late(rf"(?<![\w.])(?P<much>{A_LENGTH}) ?(?:thick|thk)\b\.?", re.IGNORECASE)
_LONE = late(rf"(?<![\w.])(?P<much>{_ALONE})(?![\w./])", re.IGNORECASE)
_NOMINAL = late(r"\bnom(?:inal)?\b\.?", re.IGNORECASE)
"""A size is one off the box unless it is said to be measured."""
_NOT_YET = late(
    r"(?:the )?(?:start )?(?:is )?(?:not (?:decided|known|sure)(?: yet)?|(?:i )?don['’]?t know(?: yet)?|undecided|\?)$",
    re.IGNORECASE,
)
"""A start that is left to be looked for."""
_CALLED_SHEETS = late(rf"(?P<name>[^{FIGURE}]+?):? (?P<size>{A_LENGTH} ?sheets?)$", re.IGNORECASE)
_CALLED = late(rf"(?P<name>[^{FIGURE}]+?):? (?P<size>[{FIGURE}].*)$")


def tile_said(sentence: str, setting: Setting) -> tuple[str, Keys, Keys]:
    """A tile: its name, "" where none is said, its own keys, and those of the areas that are laid with it (its joint).

    Raises ValueError: one sentence.
    """
    unit = setting.unit
    sentence = in_figures(sentence)
    if _METRIC.search(sentence) and unit in (Unit.INCH, Unit.FOOT):
        sentence, unit = MILS.sub("", _METRIC.sub("", sentence)), Unit.MM
    elif unit not in (Unit.INCH, Unit.FOOT):
        sentence = MILS.sub(" mm", sentence)
    laid = _lay_apart(parts_of(sentence))
    parts = _parts(", ".join(_with_thickness(laid, unit, setting)), unit)

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

    named: list[str] = []

    def name(part: str) -> Dealt | None:
        if HAS_FIGURE.search(part):
            return None
        if named and told_of_a_tile(part):
            return "note", part  # what it looks like, behind its name
        if named and takes(lambda: parse_bond(part, unit)):
            raise ValueError(f"{found(part)} is how they are laid: write it with the area, as in bond: {part}.")
        named.append(part)
        return "name", part

    def why_not(part: str) -> str:
        if re.match(r"[0-9]+ (?:in|to) ", part):
            return fault_of(lambda: parse_run(part, unit))
        if takes(lambda: parse_length(part, unit)):
            return f"{found(part)} can be how thick it is, or the joint: write {part} thick, or {part} joint."
        if (side := _one_side(part, setting)) and _made_of(part):
            both = "6 x 12 in" if unit in (Unit.INCH, Unit.FOOT) else "150 x 300"
            return (
                f"{found(part)} gives one side of the tile: write {side} square if the other is the same, or both, as "
                f"in {both}."
            )
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
        several="note",
        within=[of_a_tile],
    )
    measured = keys.pop("measured size", None)
    if measured is not None:
        keys = {**keys, "size": measured, "measured": "yes"}
    area = {key: keys.pop(key) for key in ("joint",) if key in keys}
    return keys.pop("name", ""), {key: keys[key] for key in ("size", *keys) if key in keys}, area


def _lay_apart(parts: Sequence[str]) -> list[str]:
    """The parts; of one that ends with how the tile lies, that is one of its own, before it."""
    apart: list[str] = []
    for part in parts:
        rest = part
        for lay, words in _LIES.items():
            trimmed = re.sub(rf"[\s,]+(?:{words})$", "", rest, flags=re.IGNORECASE)
            if trimmed != rest and HAS_FIGURE.search(trimmed):
                apart.append(lay)
                rest = trimmed
        apart.append(rest)
    return apart


def _with_thickness(parts: Sequence[str], unit: Unit, setting: Setting) -> list[str]:
    """The parts; of those that say more than a size, its thickness and what the tile is made of stand by themselves.

    "600 x 300 x 9 gloss porcelain" -> 600 x 300 | thickness: 9 | material: gloss porcelain. A part with a word that is
    none of a tile's is left as it is.
    """
    made = frozenset(word for part in parts for word in _made_of(part))
    joined = any(joint_in(part, unit) for part in parts)
    apart: list[str] = []
    for part in parts:
        apart += _thickness_apart(part, unit, setting, made, joined) or [part]
    return apart


def _made_of(text: str) -> list[str]:
    return [_MADE_OF[word] for word in re.findall(r"[a-z]+", text.casefold()) if word in _MADE_OF]


def _thickness_apart(part: str, unit: Unit, setting: Setting, made: frozenset[str], joined: bool) -> list[str]:
    """A part as its size, its thickness and its words; nothing where it says something else, or is one of these.

    made    what the sentence says the tile is made of: with it a third size is the thickness, and what has a unit.
    joined  whether it says the joint: what it then says with no word is none.
    """
    size = _SIZE_IN.search(part)
    rest = _NOMINAL.sub(" ", part if size is None else f"{part[: size.start()]} ; {part[size.end() :]}")
    thick = [] if size is None or not size["three"] else [size["three"].strip()]
    if thick and not (made and size is not None and _is_flat(size, unit)):
        return []
    alone: list[str] = []
    if (said := _THICK.search(rest)) is not None:
        thick.append(said["much"].strip())
        rest = f"{rest[: said.start()]} ; {rest[said.end() :]}"
    elif (lone := _LONE.search(rest)) is not None and (size is not None or made or joined):
        is_thickness = _is_thickness(lone["much"], rest, unit, made, joined)
        (thick if is_thickness else alone).append(lone["much"].strip())
        rest = f"{rest[: lone.start()]} ; {rest[lone.end() :]}"
    words = re.findall(r"[^\s;,.]+", rest)
    folded = [word.casefold() for word in words]
    if len(thick) > 1 or any(word not in _OF_A_TILE and word not in _MADE_OF for word in folded):
        return []
    made_of = any(word in _MADE_OF for word in folded)
    if (words and not made_of and size is not None and re.search(r"\w", part[: size.start()])) or not (
        thick or size is not None or made_of
    ):
        return []  # what stands before a size is what the tile is called
    if thick and not takes(lambda: parse_length(thick[0], unit)):
        return []
    sizes = [] if size is None else [f"{size['one']} x {size['two']}" if size["two"] else size[0].rstrip(".")]
    if sizes and not _is_size(sizes[0], unit):
        return []
    said_words = " ".join(_MADE_OF.get(word.casefold(), word) for word in words)
    told = [f"{'material' if made_of else 'note'}: {said_words}"] if words else []
    return [*sizes, *alone, *(f"thickness: {_with_unit(one, unit, setting)}" for one in thick), *told]


def _is_flat(size: re.Match[str], unit: Unit) -> bool:
    """Whether a third size is surely the thickness: less than both others, in the unit that they have."""
    try:
        one, two, three = (parse_length(size[word].strip(), unit) for word in ("one", "two", "three"))
    except ValueError:
        return False
    return three.mm < min(one.mm, two.mm) and three.unit is one.unit is two.unit


def _with_unit(much: str, unit: Unit, setting: Setting) -> str:
    return much if parse_length(much, unit).stated else _stated(much, unit, setting)


def _is_thickness(much: str, rest: str, unit: Unit, made: frozenset[str], joined: bool) -> bool:
    """Whether a length that has no word of its own is the thickness: "porcelain 10mm", "300 x 600 ceramic, 9mm"."""
    own = set(_made_of(rest))
    if not takes(lambda: parse_length(much.strip(), unit)):
        return False
    length = parse_length(much.strip(), unit)
    made_of = own or (made if length.stated else frozenset())
    is_thick = bool(made_of) and not made_of & _JOINTED_WIDE and _WIDEST_JOINT_LIKELY <= length.mm <= _THICKEST
    return is_thick or (joined and length.stated)


def told_of_a_tile(words: str) -> bool:
    """Whether words say what a tile looks like, and are no name of another one: "metro", "gloss white subways"."""
    return all(word in _OF_A_TILE or word in _MADE_OF for word in words.casefold().split())


def _one_side(part: str, setting: Setting) -> str:
    """The only length that a part has, as typed; "" where it has none, or several."""
    figures = [token for token in tokens(part, setting) if token.kind == "figure"]
    return figures[0].word if len(figures) == 1 and figures[0].second is None else ""


def _parts(sentence: str, unit: Unit) -> list[str]:
    """The parts of what is said of a tile, each of one thing: its name, sizes, how it lies, its joint."""
    parts: list[str] = []
    for typed in parts_of(re.sub(r"\bbut (?=they|it|tapes?|measures?)", ", ", sentence)):
        part = _OFF_THE_BOX.sub("", typed).strip()
        if (sheets := _CALLED_SHEETS.match(part)) is not None:
            parts += [sheets["name"], sheets["size"]]
            continue
        named = _CALLED.match(part)
        if named is not None and is_size(named["size"]) and _is_size(named["size"], unit):
            is_measured = _AS_MEASURED.match(part)
            parts += [part] if is_measured else [named["name"], named["size"]]
            continue
        if named is not None and (size := _SIZE_IN.match(named["size"])) is not None:
            looks = named["size"][size.end() :].strip()
            if looks and told_of_a_tile(looks) and _is_size(size[0], unit):
                parts += [named["name"], size[0].strip(), looks]
                continue
        two = re.match(rf"(?P<box>[{FIGURE}]\S*(?: ?x ?\S+)?) planks? (?P<size>[{FIGURE}].*)$", part, re.IGNORECASE)
        parts += [f"measures {two['size']}"] if two and _is_size(two["size"], unit) else [part]
    if any(_AS_MEASURED.match(part) for part in parts):
        # What the box says gives way to what was measured.
        parts = [part for part in parts if not _is_size(part, unit)]
    return parts


def _is_size(part: str, unit: Unit) -> bool:
    return (is_size(part) or bool(_SQUARE.search(part))) and takes(lambda: parse_size(part, unit))


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
        if joint := joint_in(part, setting.unit):
            return "joint", joint
        return ("bond", part) if takes(lambda: parse_bond(part, setting.unit)) else None

    def why_not(part: str) -> str:
        names = "|".join(map(re.escape, setting.lines or {}))
        is_a_start = re.search(rf"\b(?:on|tiles?|course|row|cuts?)\b|\b(?:{names})\b", part)
        return fault_of(lambda: parse_start(part, "across", setting) if is_a_start else parse_bond(part, setting.unit))

    parts: list[str] = []
    for part in parts_of(sentence):
        if _NOT_YET.match(part):
            continue
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
