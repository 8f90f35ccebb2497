"""An area said in one line: "splash, rib, joint 3, half bond, B to 597 above B, joint on V, sits on B".

Its name first, then its tile, in any order its joint, its bond, where it lies and its start. Every part is read by the
readers of the keys themselves.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping

from cutmarks.job.grammar import parse_place
from cutmarks.job.laying import BOND_WAYS, bond_said, joint_in, parse_bond, parse_start
from cutmarks.job.measures import length_as_written
from cutmarks.job.parting import (
    HAS_FIGURE,
    Dealt,
    Keys,
    PlaceReader,
    deal,
    fault_of,
    keyed,
    of_no_key,
    parts_of,
    takes,
)
from cutmarks.job.said_names import MOST_WORDS_NAMED
from cutmarks.job.said_places import AXES
from cutmarks.job.said_tile import lay_in, start_parts
from cutmarks.job.tiles import AreaSpec, parse_work
from cutmarks.job.tokens import plain_words
from cutmarks.job.words import FIGURE, Setting, found
from cutmarks.patterns import late
from cutmarks.units import parse_length

_LENGTH = rf"\.?[{FIGURE}][{FIGURE}\s./]*(?:\s?(?:mm|cm|in|\"))?"
_FROM_TO = late(r"(?:from )?(?P<from>\S.*?) (?:up )?to (?P<to>\S.*)$", re.IGNORECASE)
_UP_TO = late(r"(?:goes |runs |stops |ends )?(?:up to|to|as far as|at)\s+(?:the )?(?P<to>\S.*)$", re.IGNORECASE)
_BEGINS = late(r"(?:starts?|begins?|from)(?: (?:at|on|from|off))?\s+(?:the )?(?P<from>\S.*)$", re.IGNORECASE)
_WIDE = late(
    rf"(?P<wide>{_LENGTH}) wide(?:,? (?:dead )?(?P<on>(?:centred|centered|central|middle|centre) on .+))?$", re.I
)
_CENTRED = late(
    r"(?:dead )?(?:centred|centered|central|centre|middle)(?: it)? on (?:the )?(?P<line>\S.*)$", re.IGNORECASE
)
_CEILING = frozenset({"ceiling", "clg", "the ceiling", "the top", "top"})


def area_said(sentence: str, tiles: Iterable[str], setting: Setting) -> Keys:
    """The keys of an area; `tiles` are the names of the job's tiles. Raises ValueError: one sentence."""
    known = {name.casefold(): name for name in tiles}
    name, *rest = parts_of(sentence)
    if not name or HAS_FIGURE.search(name) or not _is_a_name(name):
        raise ValueError(f"{found(name)} stands where the name should: begin with what the area is called and a comma.")
    parts = [one for part in _wide_and_centred(rest) for one in start_parts(part, setting)]
    turned = bond_keys(parts, setting)

    def of_an_area(part: str) -> Dealt | None:
        tile = known.get(re.sub(r"^(?:in )?(?:the )?| tiles?$", "", part.casefold()))
        if tile is not None:
            return "tile", tile
        if joint := joint_in(part, setting.unit):
            return "joint", joint
        if lay := lay_in(part):
            return "lay", lay
        if takes(lambda: parse_bond(part, setting.unit)):
            return "bond", part
        for axis in AXES:
            if takes(lambda axis=axis: parse_start(part, axis, setting)):  # type: ignore[misc]
                return f"start {axis}", part
        if takes(lambda: parse_work(part)):
            return "work", part
        return None

    def why_not(part: str) -> str:
        if re.search(r"\bon\b", part):
            return fault_of(lambda: parse_start(part, "across", setting))
        return of_no_key(part, "from: B, right of: V, or a note: before it")

    limits: Keys = {}
    others = []
    for part in parts:
        said = limits_in(part, setting)
        if said is None:
            others.append(part)
            continue
        for key, held in said.items():
            if key in limits:
                raise ValueError(f"{found(limits[key])} and {found(held)} both say {key}: leave one out.")
            limits[key] = held
    told = PlaceReader(lambda _: None, why_not)
    keys = deal(others, [of_an_area, keyed(AreaSpec)], told, {"name": name, **turned, **limits}, within=())
    return _with_start(keys)


def _is_a_name(name: str) -> bool:
    """Whether an area may be called so: "upper left" may, "plank to the bar then hall tile" says more."""
    words = plain_words(name)
    return len(words) <= MOST_WORDS_NAMED and SAYS_MORE.isdisjoint(words)


SAYS_MORE = frozenset({"to", "from", "then", "on", "goes", "stands", "above", "below", "round", "off", "and", "up"})


def bond_keys(parts: list[str], setting: Setting) -> Keys:
    """The keys of a bond that says how the tile lies too, which is taken out of the parts."""
    for number, part in enumerate(parts):
        bond, more = bond_said(part, setting)
        if more and not lay_in(part):
            del parts[number]
            return {"bond": bond, **more}
    return {}


def limits_in(part: str, setting: Setting) -> Keys | None:
    """Where an area lies: "B to 600 above B", "600 wide centred on V"; None: it says no such thing."""
    if wide := _WIDE.match(part):
        centred = None if wide["on"] is None else _CENTRED.match(wide["on"])
        line = "" if centred is None else _line(centred["line"], setting)
        if line:
            half = length_as_written(parse_length(wide["wide"].strip(), setting.unit).mm / 2, setting)
            return {"right of": f"{half} left of {line}", "left of": f"{half} right of {line}"}
        return None
    low, high = "from", "to"
    if (both := _FROM_TO.match(part)) and _is_level(both["from"], setting):
        above = both["to"].casefold() in _CEILING
        if above or _is_level(both["to"], setting):
            return {low: both["from"], **({} if above else {high: both["to"]})}
    if match := _UP_TO.match(part):
        if match["to"].casefold() in _CEILING:
            return {}
        return {high: match["to"]} if _is_level(match["to"], setting) else None
    if (match := _BEGINS.match(part)) and _is_level(match["from"], setting):
        return {low: match["from"]}
    for key in ("right of", "left of"):
        rest = part[len(key) :].strip()
        if part.casefold().startswith(f"{key} ") and _is_place_across(rest, setting):
            return {key: rest}
    return None


def _is_place_across(text: str, setting: Setting) -> bool:
    return takes(lambda: parse_place(text, "across", setting))


def _is_level(text: str, setting: Setting) -> bool:
    return takes(lambda: parse_place(text, "up", setting))


def _line(text: str, setting: Setting) -> str:
    try:
        place = parse_place(text, "across", setting)
    except ValueError:
        return ""
    return place.start.name if place.start is not None and not place.low else ""


def _wide_and_centred(parts: Iterable[str]) -> list[str]:
    """The parts; "600 wide" and "dead central on V" behind it are one, and so are a bond and how it goes on."""
    made: list[str] = []
    for part in parts:
        part = re.sub(r"^start (?=(?:joint|middle|left edge|right edge|sits|hangs)\b)", "", part, flags=re.IGNORECASE)
        wide = _WIDE.match(made[-1]) if made and _CENTRED.match(part) else None
        goes_on = bool(made) and part.casefold() in BOND_WAYS
        if goes_on or (wide is not None and wide["on"] is None):
            made[-1] = f"{made[-1]}, {part}"
        else:
            made.append(part)
    return made


def _with_start(keys: Mapping[str, str]) -> Keys:
    """The two parts of a start as one key."""
    start = [keys[key] for key in ("start across", "start up") if key in keys]
    rest = {key: held for key, held in keys.items() if not key.startswith("start ")}
    if len(start) == 1:
        missing = "up" if "start across" in keys else "across"
        example = "sits on B" if missing == "up" else "joint on V"
        raise ValueError(f"{found(start[0])} is half a start: say {missing} too, as in {example}.")
    return {**rest, **({"start": ", ".join(start)} if start else {})}
