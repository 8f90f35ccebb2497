"""How tiles lie, in a tiler's words, parsed: sizes, measured runs, bonds, starts and set-out lines.

Every fault is a ValueError of one sentence: what was found, what is allowed, what to write.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction
from typing import Literal

from msgspec import Struct
from msgspec.structs import replace

from cutmarks.job.grammar import is_a_line, parse_place
from cutmarks.job.tokens import Token, tokens
from cutmarks.job.vocabulary import MARKS
from cutmarks.job.words import FIGURE, UNKNOWN, Fixes, Setting, did_you_mean, either, found, in_figures, spaced
from cutmarks.patterns import late
from cutmarks.readings import Anchor, Bond, CarriesOn, Reading, Run, Size, Start
from cutmarks.sides import Axis
from cutmarks.units import Length, Unit, parse_length

LINE_KINDS: Mapping[str, Mapping[str, Fixes]] = {
    "wall": {"plumb": "x", "level": "y"},
    "floor": {"across": "x", "along": "y"},
}
"""The words for a set-out line, and the axis that it fixes."""

_PARTS: Mapping[str, Fraction] = {
    "half": Fraction(1, 2),
    "brick": Fraction(1, 2),
    "brickwork": Fraction(1, 2),
    "bricks": Fraction(1, 2),
    "running": Fraction(1, 2),
    "stretcher": Fraction(1, 2),
    "broken": Fraction(1, 2),
    "third": Fraction(1, 3),
    "thirds": Fraction(1, 3),
    "quarter": Fraction(1, 4),
    "fifth": Fraction(1, 5),
    "⅓": Fraction(1, 3),
    "¼": Fraction(1, 4),
    "½": Fraction(1, 2),
}
"""How far courses are moved, by what the bond is called; a name that means half gives way to a part that is said."""
_NAMES_OF_HALF = frozenset({"brick", "bricks", "brickwork", "running", "stretcher", "broken"})
_STRAIGHT = frozenset({"stack", "stacked", "straight", "grid"})
BOND_WAYS: Mapping[str, Literal["alternate", "progressive"]] = {
    "back and forth": "alternate",
    "there and back": "alternate",
    "alternate": "alternate",
    "alternating": "alternate",
    "stepped": "progressive",
    "stepping": "progressive",
    "stair step": "progressive",
    "progressive": "progressive",
}
"""The words for how a bond goes on from course to course."""
_BOND_FILLERS = frozenset({
    "bond", "bonded", "work", "lap", "offset", "overlap", "joints", "joint", "line", "lines", "through", "two", "ways",
    "lay", "laid", "one",
    "up", "as", "you", "go", "it", "goes", "like", "lined", "stagger", "staggered",
    "to", "the", "over", "and", "of", "a", "pattern", "way", "by", "style", "fashion",
})  # fmt: skip
_HALF_IN_HUNDREDTHS = late(r"\b50(?: ?%|/50\b)")
_NO_STEP = late(r",?\s*\bno (?:offset|stagger|overlap|lap)\b", re.IGNORECASE)
_NOT_LAID = frozenset(
    {"herringbone", "random", "basketweave", "basket", "chevron", "hexagon", "versailles", "windmill"}
)
_ON_POINT = frozenset({"point", "diamond", "diagonal"})
_UPRIGHT = frozenset({"vertical", "upright", "soldier", "end", "stood", "portrait"})
_PART_OF_A_TILE = late(r"(?<![\d.])([1-9])/([2-9])(?![\d/])(?!\s*(?:\"|in\b|mm|cm))")
_PART_SIGNS = late(rf"{_PART_OF_A_TILE.pattern}|[½⅓¼]")
_PART_SAID = late(r"\b(?:lap|offset|overlap|bond)\b", re.IGNORECASE)
_SIZE_FIRST = late(rf"[{FIGURE}][{FIGURE}./]* ?[x\u00d7] ?[{FIGURE}][{FIGURE}./]*s?\b", re.IGNORECASE)
_TWO_PARTS = late(r"\btwo (?=(?:thirds|fifths)\b)", re.IGNORECASE)
_BY = late(r"\s*(?:[x\u00d7*]|\bby\b)\s*", re.IGNORECASE)
_ANCHORS: Mapping[tuple[str, ...], Anchor] = {
    ("joint", "crossing"): "crossing",
    ("crossing",): "crossing",
    ("corner",): "corner",
    ("joint",): "joint",
    ("centre",): "middle",
    ("left",): "left",
    ("left", "edge"): "left",
    ("right",): "right",
    ("right", "edge"): "right",
    ("left", "side"): "left",
    ("right", "side"): "right",
    ("sitting", "on"): "sits on",
    ("rests", "on"): "sits on",
    ("resting", "on"): "sits on",
    ("sits",): "sits on",
    ("sits", "on"): "sits on",
    ("sat", "on"): "sits on",
    ("stands", "on"): "sits on",
    ("standing", "on"): "sits on",
    ("up", "off"): "sits on",
    ("up", "from"): "sits on",
    ("off",): "sits on",
    ("bottom",): "sits on",
    ("bottom", "edge"): "sits on",
    ("underside",): "sits on",
    ("front", "edge"): "sits on",
    ("hangs",): "hangs from",
    ("hangs", "from"): "hangs from",
    ("top",): "hangs from",
    ("top", "edge"): "hangs from",
}
"""What of the start tile lies on a line, in the words that `job.tokens` spells in full."""
_ON_A_FLOOR: Mapping[tuple[str, ...], Anchor] = {("near", "edge"): "sits on", ("far", "edge"): "hangs from"}
"""The same of a floor, seen from its base line."""
_EQUAL = frozenset(
    {"equal", "equal cuts", "equal ends", "equal pieces", "equal cuts both ends", "equal cuts at both ends"}
)
"""Cuts alike at both ends: worked out where the edges were read."""
_UP_ALONE = frozenset({"sits on", "hangs from"})
_THE_TILE = frozenset(
    {
        "whole",
        "full",
        "tile",
        "tiles",
        "one",
        "a",
        "the",
        "of",
        "1st",
        "first",
        "row",
        "course",
        "its",
        "edge",
        "hold",
        "grout",
        "start",
        "starts",
        "begin",
        "begins",
    }
)
_ALLOWED: Mapping[Axis, tuple[Anchor, ...]] = {
    "across": ("joint", "middle", "left", "right", "corner", "crossing"),
    "up": ("joint", "middle", "sits on", "hangs from", "corner", "crossing"),
}
_SQUARE = late(r"(?P<side>.*?[0-9½⅓⅔¼¾⅛⅜⅝⅞](?:\s*(?:mm|cm|in|\"))?)\s*(?:sq|square)\.?$", re.IGNORECASE, ("sq",))
_MORE_THAN_A_SIZE = late(
    r"\b(?:landscape|portrait|on end|joints?|jt|grout|spacers?|tapes?|nom|nominal|sheets?|metric|lugs|flat|stood up|"
    r"real|sold|upright)\b|\bw/|[0-9]s\b|,\s",
    re.IGNORECASE,
)
_KINDS_ALIKE: Mapping[str, str] = {
    "vertical": "plumb",
    "upright": "plumb",
    "horizontal": "level",
}
ITS_NAME = late(
    r"^[^\W\d_]{1,2}\s*[-\u2013=:]\s*(?=(?:plumb|level|across|along|vertical|horizontal)\b)",
    re.IGNORECASE,
    ("-", "=", ":"),
)
"""A line's name said again before its kind: "V - plumb"."""
LETTERS_OF_A_LINE = 2
"""A line's name has seldom more: a name of so many that is none is taken for a slip, and not for words."""
_WAYS_TO_A_LINE = late(
    r"\b(?:right of|left of|above|below|up from|down from|over|under|in from|from|off|short of|beyond|past|before)\s+"
    r"(?P<name>\S.*)$",
    re.IGNORECASE,
)
A_LENGTH = rf"\.?[{FIGURE}][{FIGURE}\s./-]*(?:\s?(?:mm|cm|in|\"))?"
"""A length as it stands in a phrase, in a regular expression."""
_JOINT = late(
    rf"(?:with |w/ ?|comes out (?:at )?)?(?P<much>{A_LENGTH}) ?(?:joints?|jts?|jnts?|grout(?: joints?| lines?)?|"
    rf"spacers?|"
    r"between(?: sheets| tiles)?)(?: all round| all around| throughout)?$",
    re.IGNORECASE,
    ("joint", "jt", "jnt", "grout", "spacer", "between"),
)
_JOINT_FIRST = late(
    rf"(?:grout )?(?:joints?|spacers?|grout) (?P<much>{A_LENGTH})$", re.IGNORECASE, ("joint", "spacer", "grout")
)
_JOINT_COMES_OUT = late(
    rf"(?:butt(?:ed)?(?: 'em| em| them)?,? )?(?:and )?comes out (?:at )?(?P<much>{A_LENGTH})$", re.I, ("comes out",)
)
MILS = late(r"(?<=[0-9½¼¾]) ?mil\b", re.IGNORECASE, ("mil",))
"""A mil is a millimetre to who has a metric tape."""
_LENGTH_FIRST = late(rf"[.{FIGURE}-]")


class LineWords(Struct, frozen=True):
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
    if square := _SQUARE.match(phrase):
        side = parse_length(square["side"], unit).mm
        if side:
            return Size(side, side)
    if _MORE_THAN_A_SIZE.search(phrase):
        raise ValueError(
            f"{found(text)} says more than its size: write size: 297 x 97, how it lies as in lay: long side across, "
            "and the joint in the area, as in joint: 3; a size that was measured says measured: yes."
        )
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


def joint_in(part: str, unit: Unit) -> str:
    """How wide the joint is that a part says; "" where it says none: "3 joint", "2 mm grout", "joint 3"."""
    part = in_figures(part)
    part = part if unit.is_imperial else MILS.sub(" mm", part)
    match = _JOINT.match(part) or _JOINT_FIRST.match(part) or _JOINT_COMES_OUT.match(part)
    return match["much"].strip() if match and _is_length(match["much"].strip(), unit) else ""


def _is_length(text: str, unit: Unit) -> bool:
    try:
        parse_length(text, unit)
    except ValueError:
        return False
    return True


def joint_alone(text: str, unit: Unit) -> str:
    """The length of a joint that stands under its own key, with or without its word: 3, "3mm grout joint"."""
    part = _RECTIFIED.sub("", in_figures(spaced(text)))
    if _TWO_JOINTS.search(part):
        raise ValueError(
            f"{found(text)} gives two joints, and an area is laid with one here, both ways: write that one, as in "
            "joint: 3."
        )
    return joint_in(part, unit) or part


_TWO_JOINTS = late(
    rf"[{FIGURE}][^,]* (?:up|across|upright|level|vertical(?:ly)?)\b.*[{FIGURE}]",
    re.IGNORECASE,
    ("up", "across", "level", "vertical"),
)
_RECTIFIED = late(r",? rectified$", re.IGNORECASE)


def parse_bond(text: str, unit: Unit) -> Bond:
    """How courses sit: stack, half, brick, "third right", "third left, stepped", "200 right"; in any order."""
    phrase = _HALF_IN_HUNDREDTHS.sub("half", spaced(text))
    if _RUN_THROUGH.fullmatch(phrase):
        return Bond(words=phrase)
    if _CARRIED.search(phrase):
        return _carried_on(text, phrase)
    if said := next(filter(None, (joint_in(part.strip(), unit) for part in phrase.split(","))), ""):
        raise ValueError(
            f"{found(text)} says the joint, which stands beside it: write joint: {said}, and here how courses sit, as "
            "in bond: half (brick) or bond: stack."
        )
    if not _STRAIGHT.isdisjoint(phrase.casefold().replace(",", " ").split()):
        phrase = _NO_STEP.sub("", phrase)
    words = [part.word for part in tokens(_PART_SIGNS.sub(" ", phrase), Setting(lines={})) if part.kind == "word"]
    if not _NOT_LAID.isdisjoint(words):
        raise ValueError(
            f"{found(text)} cannot be laid here: tiles lie in courses, as in bond: half; write stack, half, third "
            "right, third left, or a distance as in 200 right."
        )
    _in_other_keys(text, words)
    rest, way = _way_of_a_bond(phrase)
    rest, part = _part_in(rest, unit)
    hands = [word for word in words if word in ("left", "right")]
    is_straight, shift = not _STRAIGHT.isdisjoint(words), None
    for one in tokens(rest, Setting(unit=unit, lines={})):
        if one.kind == "figure" and shift is None and one.first is not None and one.second is None:
            shift = one.first
        elif (
            one.kind == "figure"
            or (one.kind == "mark" and one.word not in MARKS)
            or (
                one.kind == "word"
                and one.word not in {"left", "right", *_STRAIGHT, *_NAMES_OF_HALF, *_BOND_FILLERS, *_PARTS}
            )
        ):
            raise ValueError(_no_bond(text))
    if len(set(hands)) > 1 or (is_straight and (part or shift or hands)) or (part and shift):
        raise ValueError(_no_bond(text))
    if is_straight:
        return Bond(words=phrase, way_said=way is not None)
    if part is None and shift is None:
        raise ValueError(_no_bond(text))
    step = _step_as_written(phrase, part, shift)
    if not hands and part != Fraction(1, 2):
        each = "" if part is None else " (each odd course from the start moves that way)"
        raise ValueError(f'{found(text)} does not say which way it steps: write "{step} right" or "{step} left"{each}.')
    sign = -1 if "left" in hands else 1
    way_said, way = way is not None, way or "alternate"
    if part is not None:
        return Bond(part=sign * part, way=way, words=phrase, way_said=way_said)
    assert shift is not None
    return Bond(mm=sign * shift.mm, way=way, words=phrase, way_said=way_said)


_RUN_THROUGH = late(
    r"\b(?:(?:the |all )?(?:joints?|lines?) )?(?:runs?|go|goes) (?:right |straight )?through\b", re.IGNORECASE
)
"""How a stack is said by its joints."""
_CARRIED = late(r"\boff-?\s?cuts?\b|\bcut ends?\b", re.IGNORECASE)
_CARRIED_ON = late(
    r"(?:(?:the )?(?:off-?\s?cuts?|cut ends?)(?: of (?:a|each|every|one) (?:row|course))? (?:is |are )?"
    r"(?:carried on|carries on|(?:to )?starts?(?: off)? (?:the )?next(?: (?:row|course))?)"
    r"|(?:carry|carries|carried|carrying) on (?:with )?(?:the )?(?:off-?\s?cuts?|cut ends?))"
    r"(?:,? (?:from|off) (?:the )?(?P<end>left|right))?$",
    re.IGNORECASE,
)
"""The bond whose cut end starts the next course, and from which end courses are laid."""


def _carried_on(text: str, phrase: str) -> Bond:
    """The bond that has each course begin with what came off the end of the one below."""
    match = _CARRIED_ON.match(phrase)
    if match is None:
        raise ValueError(
            f'{found(text)} does not say what is done with it: write "offcut carried on", or "offcut carried on, from '
            'the right" where courses are laid from there.'
        )
    carried: Literal["left", "right"] = "right" if (match["end"] or "").casefold() == "right" else "left"
    return Bond(way="progressive", words=phrase, way_said=True, carried=carried)


_END_OF = late(r"(?:the )?(left|right)(?: end)? of (?:the )?(\S.*)$", re.IGNORECASE)


def parse_carries_on(text: str) -> CarriesOn:
    """From which end of which wall courses go on round the corner: "sink wall", "the left of sink wall"."""
    match = _END_OF.match(spaced(text))
    if match is None:
        return CarriesOn("right", spaced(text))
    return CarriesOn("left" if match[1].casefold() == "left" else "right", match[2])


_LIES_TOO = late(
    r",?\s*\b(?:(?:laid|stood|standing|set) )?(?:(?:up|upright|vertical(?:ly)?|portrait|on end)|"
    r"soldier(?: course)?)(?: on end)?\b",
    re.IGNORECASE,
)
_TURNED_TOO = late(
    r",?\s*\b(?:on (?:the )?(?:point|diamond|diagonal)|diamond|diagonal(?:ly)?)\b|"
    r",?\s*\b(?:at )?45 ?(?:deg(?:rees)?|°)?(?: (?:off|to) "
    r"\S+)?",
    re.IGNORECASE,
)


def bond_said(text: str, setting: Setting) -> tuple[str, dict[str, str]]:
    """A bond, and the other keys of the area that it says: its joint, how the tile lies ("stacked on end"), its turn.

    The phrase as it was where it says one thing alone, or what cannot be told apart: the reader of bonds has the
    sentence for that.
    """
    phrase = _HALF_IN_HUNDREDTHS.sub("half", spaced(text))
    parts = [part.strip() for part in phrase.split(",")]
    if joints := [part for part in parts if joint_in(part, setting.unit)]:
        rest = ", ".join(part for part in parts if part not in joints)
        if len(joints) == 1 and rest:
            said, more = bond_said(rest, setting)
            return said, {**more, "joint": joint_in(joints[0], setting.unit)}
        return phrase, {}
    size = _SIZE_FIRST.match(phrase)
    bare = phrase if size is None else phrase[size.end() :].strip(" ,")
    words = {part.word for part in tokens(_PART_SIGNS.sub(" ", bare), Setting(lines={})) if part.kind == "word"}
    if {"left", "right"} & words or not (words & (_UPRIGHT | _ON_POINT) or re.search(r"\b45\b", bare)):
        return phrase, {}
    if words & _UPRIGHT:
        rest = _LIES_TOO.sub("", bare).strip(" ,")
        keys = {"lay": "long side up"}
    else:
        rest = _TURNED_TOO.sub("", bare).strip(" ,")
        keys = {"turn": "45"}
    rest = rest or "stack"
    try:
        bond = parse_bond(rest, setting.unit)
    except ValueError:
        return phrase, {}
    # On end only what lies straight has courses: the others step from column to column.
    return (rest, keys) if "turn" in keys or not (bond.part or bond.mm) else (phrase, {})


def _no_bond(text: str) -> str:
    return (
        f"{found(text)} is no bond: write stack, half, third right, third left, a distance as in 200 right, or offcut "
        "carried on; add back and forth, or stepped, to a third or a distance."
    )


def _in_other_keys(text: str, words: Sequence[str]) -> None:
    """Raises ValueError: a word of it belongs to another key, or is of a bond that stands upright."""
    # A course that moves 45 to a side is a bond as any other; 45 to no side is how it is turned.
    at_45 = re.search(r"\b45\b", text) and {"left", "right"}.isdisjoint(words)
    if at_45 or not _ON_POINT.isdisjoint(words):
        raise ValueError(
            f"{found(text)} says that the area is turned: write turn: 45 in the area, and here its bond, as in stack."
        )
    if _UPRIGHT.isdisjoint(words):
        return
    if "soldier" in words and len(words) > 2:
        raise ValueError(
            f"{found(text)} is of two areas: give the soldier course an area of its own, with lay: long side up and "
            "bond: stack, and this one its bond, as in half."
        )
    if not _STRAIGHT.isdisjoint(words) or "soldier" in words:
        raise ValueError(
            f"{found(text)} says how the tile lies too: write lay: long side up in the area, and here bond: stack."
        )
    raise ValueError(
        f"{found(text)} steps from column to column, and only courses that step can be laid here: write stack with "
        "lay: long side up, or set the wall out by hand."
    )


def _way_of_a_bond(phrase: str) -> tuple[str, Literal["alternate", "progressive"] | None]:
    """The phrase without the words for how it goes on, and what these say; None where it has none."""
    rest = re.sub(r"\s*&\s*", " and ", phrase)
    way: Literal["alternate", "progressive"] | None = None
    for words, meant in BOND_WAYS.items():
        head = re.sub(rf",?\s*\b{words}\b", " ", rest, flags=re.IGNORECASE)
        if head != rest:
            rest, way = head, meant
    return rest, way


def _part_in(phrase: str, unit: Unit) -> tuple[str, Fraction | None]:
    """The phrase without its part of a tile, and that part. Raises ValueError: a part, or inches."""
    part: Fraction | None = None
    rest = phrase
    if (match := _PART_OF_A_TILE.search(phrase)) and int(match[1]) < int(match[2]):
        if unit in (Unit.INCH, Unit.FOOT) and not _PART_SAID.search(phrase):
            raise ValueError(
                f'"{match[0]}" can be a part of a tile or of an inch: write half, third or quarter, or {match[0]} in '
                "with its unit."
            )
        part, rest = Fraction(int(match[1]), int(match[2])), phrase.replace(match[0], " ", 1)
    words = re.findall(r"[^\W\d_]+|[½⅓¼]", rest.casefold())
    for word in words:
        own = _PARTS.get(word) or (Fraction(1, 5) if word == "fifths" else None)
        if own is not None and (part is None or word not in _NAMES_OF_HALF):
            if part not in (None, own) and not (part == Fraction(1, 2) and not _NAMES_OF_HALF.isdisjoint(words)):
                raise ValueError(_no_bond(phrase))
            part = own
    if part is not None and _TWO_PARTS.search(rest):
        part *= 2
    return re.sub(r"[½⅓¼]|\b(?:two )?fifths\b", " ", rest), part


def _step_as_written(phrase: str, part: Fraction | None, shift: Length | None) -> str:
    if shift is not None:
        return shift.text
    named = next((word for word in phrase.lower().replace(",", " ").split() if word in _PARTS), "")
    fraction = _PART_OF_A_TILE.search(phrase)
    return fraction[0] if fraction else named or str(part)


_NOT_OF_A_START = late(
    r"(?:,\s*)?\b(?:for (?:the )?(?:caulk|silicone|sealant|movement|mastic)|(?:saves?|avoids?|misses|keeps?|"
    r"loses) [^,.0-9]*|full going in|"
    r"whole (?:tile )?going in|full tiles? (?:at|by) the (?:door|doorway|threshold))\b[.\s]*",
    re.IGNORECASE,
)
"""Why a start is where it is, which places nothing."""
_EQUAL_CUTS = late(r"\b(?:equal|same|even|balanced)(?: size)? cuts?\b|\bcuts? (?:the )?same\b", re.IGNORECASE)
_THE_CROSS = late(
    r"(?:the )?cross (?:of (?:the )?joints?|joints?)(?: is)? (?:where|on|at) (?P<one>\S+) (?:hits|meets|crosses|"
    r"and) (?P<two>\S+)$",
    re.IGNORECASE,
)


_OFF_A_LINE = late(
    rf"(?:starts? |begins? )?(?P<much>[{FIGURE}].*?) (?:off|from) (?P<line>\S+)$", re.IGNORECASE, ("off", "from")
)
_UP_OFF = late(
    rf"(?:the )?(?:first |full |whole )?(?:tile|row|course) (?P<rest>[{FIGURE}].* up off .+)$", re.IGNORECASE
)
"""A tile so far up off what it would sit on."""
_IN_THE_MIDDLE = late(r"\bin the (middle|centre|center) of\b", re.IGNORECASE)
_ON_A_SUPPORT = late(
    r"(?:a |the |first |full |whole |height )*(?:tiles?|course|row) (?:on|along|at) (?:the )?(?:top of the )?"
    r"(?P<rest>(?:worktop|batten|ledger|bath|tub|tray|packers|floor|sill|shelf)\b.*)$",
    re.IGNORECASE,
)
"""A tile that is said to be on what carries it."""
_EDGE_OF_A_TILE = late(r"(?:the )?(?:first |full |whole )?(?:tile|tile's|tiles) edge\b", re.IGNORECASE)
_CENTRED_ON = late(r"^(?:centred|centered|central|dead)\s+(?=on\b)", re.IGNORECASE)
_NAMED_BEHIND = late(r"\S \((?P<line>[^()]+)\)$")
"""What a line is, and its name behind that: ledger (B)."""


def parse_start(text: str, axis: Axis, setting: Setting) -> Start:
    """What of the start tile lies on what, on one axis: "joint on V", "sits on B", "whole tile centred on V"."""
    phrase = spaced(text)
    if phrase.casefold() in _EQUAL:
        return Start("equal", Reading("centre", 0.0, None, None, phrase))
    phrase = _IN_THE_MIDDLE.sub(r"on the \1 of", phrase)
    anchor, rest = _anchor_of(phrase, setting)
    if (off_a_line := _OFF_A_LINE.match(phrase)) is not None and (setting.lines or {}).get(off_a_line["line"]) == "x":
        much, line = off_a_line["much"].strip(), off_a_line["line"]
        raise ValueError(
            f"{found(text)} does not say which edge of the tile, nor on which side of {line}: write left edge {much} "
            f"right of {line}, or as it is."
        )
    if anchor is None and axis == "up" and (off := _UP_OFF.match(phrase)) is not None:
        anchor, rest = "sits on", off["rest"]
    if anchor is None and axis == "up" and (stands := _ON_A_SUPPORT.match(phrase)) is not None:
        anchor, rest = "sits on", stands["rest"]
    if anchor is None and _EDGE_OF_A_TILE.match(phrase):
        up = ("near", "far") if setting.kind == "floor" else ("bottom", "top")
        one, two = ("left", "right") if axis == "across" else up
        raise ValueError(
            f"{found(text)} does not say which edge of the tile: write {one} edge or {two} edge in its place, with "
            "what stands behind it."
        )
    if anchor is None:
        raise ValueError(
            f"{found(text)} is no start: write what of the tile lies on what, as in {_start_example(axis)}; what else "
            "is to be said of it stands under work, or in a note."
        )
    if anchor not in _ALLOWED[axis]:
        raise ValueError(
            f"{found(text)} is no start {axis}: it takes {either(_ALLOWED[axis][:4])}, as in {_start_example(axis)}."
        )
    rest = _CENTRED_ON.sub("", rest) if anchor == "joint" else rest
    rest = re.sub(r"^(?:on|from|at|is|to)\b\s*", "", rest, flags=re.IGNORECASE)
    if (named := _NAMED_BEHIND.search(rest)) is not None and named["line"] in (setting.lines or {}):
        rest = named["line"]
    if anchor == "middle" and (middle := f"middle of {rest}") and is_a_line(middle, axis, setting):
        # "whole tile middle of sink", where the line is the middle of the sink.
        rest = middle
    if not rest:
        raise ValueError(f"{found(text)} does not say on what: write it as in {_start_example(axis)}.")
    return Start(anchor, parse_place(rest, axis, setting))


def _anchor_of(phrase: str, setting: Setting) -> tuple[Anchor | None, str]:
    """What of the tile is meant, and the rest of the phrase; words for the tile itself are passed over."""
    parts = tokens(phrase, replace(setting, lines={}, holes={}, points={}))
    anchor: Anchor | None = None
    at = 0
    known = _ANCHORS if setting.kind == "wall" else {**_ANCHORS, **_ON_A_FLOOR}
    while at < len(parts):
        words = tuple(part.word for part in parts[at : at + 2] if part.kind == "word")
        row = next((row for row in (words, words[:1]) if row in known), ())
        if row and anchor is None:
            anchor, at = known[row], at + len(row)
            if anchor == "middle" and (joint := _joint_follows(parts, at)):
                anchor, at = "joint", joint  # "center a joint on V"
        elif words and words[0] in _THE_TILE and parts[at].kind == "word":
            at += 1
        else:
            break
    return anchor, phrase[parts[at].start :].strip() if at < len(parts) else ""


def _joint_follows(parts: Sequence[Token], at: int) -> int:
    """Where a joint ends that is named from `at` on, "a grout joint"; 0 for none."""
    while at < len(parts) and parts[at].word in ("a", "the", "grout"):
        at += 1
    return at + 1 if at < len(parts) and parts[at].word == "joint" else 0


def split_start(text: str, setting: Setting | None = None) -> tuple[str, str]:
    """A start on both axes, in one phrase, as one for each: "middle on V and B", "joint on V, sits on B".

    Across first; what sits or hangs is the other, wherever it stands.
    """
    phrase = spaced(text)
    if _EQUAL_CUTS.search(phrase):
        raise ValueError(
            f"{found(text)} leaves open which of two it is: write middle on V, or joint on V, with V in the middle; "
            "without a start cutmarks check says what each leaves at both ends."
        )
    if cross := _THE_CROSS.match(phrase):
        return f"joint on {cross['one']}", f"joint on {cross['two']}"
    phrase = re.sub(r"^start(?:ing)? with (?:a |the )?", "", phrase, flags=re.IGNORECASE)
    if "full going in" in phrase or "tile going in" in phrase:
        phrase = re.sub(r"\bedge of (?:the |first )?tile\b", "front edge", phrase)
    phrase = re.sub(r"(?<=[a-z]{3})\. (?=[a-z])", ", ", _NOT_OF_A_START.sub(", ", phrase)).strip(" ,")
    phrase = re.sub(r"\s+with (?:a |the )?(?=joint|middle|tile|full|whole)", ", ", phrase)
    phrase = re.sub(r"(?:,\s*)+", ", ", phrase)
    one, comma, two = phrase.partition(", ")
    if comma:
        anchors = [_anchor_of(part, setting or Setting())[0] for part in (one, two)]
        is_turned = anchors[0] in _UP_ALONE and anchors[1] not in _UP_ALONE
        return (two, one) if is_turned else (one, two)
    match = re.match(r"(?P<anchor>\D+? on) (?P<across>\S.*?) and (?P<up>\S.*)$", phrase, re.IGNORECASE)
    if match is None and (half := _half_a_start(phrase, setting or Setting())) is not None:
        return half
    if match is None:
        raise ValueError(
            f'{found(text)} is no start: write what of the tile lies on what, as in "joint on V, sits on B", or '
            '"middle on '
            'V and B"; what else is to be said of it stands under work, or in a note.'
        )
    up = match["up"]
    again = _anchor_of(up, setting or Setting())[0] is not None
    return f"{match['anchor']} {match['across']}", up if again else f"{match['anchor']} {up}"


def _half_a_start(phrase: str, setting: Setting) -> tuple[str, str] | None:
    """A start that says one way alone, "" in the place of the other: which way the line says that it names."""
    fits: list[Axis] = []
    for axis in ("across", "up"):
        try:
            parse_start(phrase, axis, setting)
        except ValueError:
            continue
        fits.append(axis)
    if len(fits) != 1 or setting.lines is None:
        return None
    return (phrase, "") if fits[0] == "across" else ("", phrase)


def parse_line(text: str, setting: Setting) -> LineWords:
    """A set-out line: "plumb, middle of the sink", "level, 1200 above B, top of the window"."""
    phrase = ITS_NAME.sub("", spaced(text))
    kinds = LINE_KINDS[setting.kind]
    typed, _, rest = phrase.partition(",")
    kind, rest = line_kind(typed), rest.strip()
    if kind not in kinds:
        other = LINE_KINDS["floor" if setting.kind == "wall" else "wall"]
        hint = f" (this surface is a {setting.kind})" if kind in other else ""
        raise ValueError(
            f"{found(typed.strip().lower())} is no kind of line{hint}: write {either(kinds)}, a comma, and the words "
            "to print, as in "
            f"{'plumb, middle of the sink' if setting.kind == 'wall' else 'along, face of the hearth'}."
        )
    fixes = kinds[kind]
    at, words = None, rest
    if is_from_a_line(rest, setting.lines or {}):
        distance, _, words = (part.strip() for part in rest.partition(", "))
        at = parse_place(distance, "across" if fixes == "x" else "up", setting)
    return LineWords(kind, fixes, at, words)


def line_kind(text: str) -> str:
    """The kind of a line as it is known: vertical, and plumb line, are plumb."""
    word = spaced(text).casefold().removesuffix(" line")
    return _KINDS_ALIKE.get(word, word)


def is_from_a_line(text: str, lines: Iterable[str]) -> bool:
    """Whether what stands behind a line's kind begins with its distance from another line.

    "1200 above B" does; "1000 above finished floor" is words, as long as no line is called so. A name that nearly is a
    line's, or is short as these are, is taken for a slip of one.
    """
    first = text.partition(",")[0].strip()
    names = {name.casefold() for name in lines}
    if first.casefold() in names:
        return True
    if not _LENGTH_FIRST.match(text):
        return False
    ways = _WAYS_TO_A_LINE.search(first)
    if ways is None:
        return True
    name = re.sub(r"^(?:the )?(?:line )?", "", ways["name"].strip(), flags=re.IGNORECASE)
    return name.casefold() in names or len(name) <= LETTERS_OF_A_LINE or bool(did_you_mean(name, names))


def _has_unit(text: str) -> bool:
    try:
        parse_length(text, None)
    except ValueError:
        return False
    return True


def _start_example(axis: Axis) -> str:
    return "joint on V" if axis == "across" else "sits on B"
