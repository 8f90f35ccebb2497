"""Where a part of a sentence says that a thing is: across, up, or either."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

from cutmarks.job.parting import EITHER, HAS_FIGURE, Dealt, PlaceReader, fault_of, of_no_key, takes
from cutmarks.job.said_words import UPWARD
from cutmarks.job.tokens import plain_words, tokens
from cutmarks.job.words import Setting
from cutmarks.sides import Axis

AXES: tuple[Axis, Axis] = ("across", "up")


def both_ways(parse: Callable[[str, Axis, Setting], object], setting: Setting) -> PlaceReader:
    """Positions across and up; the key of the second way is that of this kind of surface."""
    up = "up" if setting.kind == "wall" else "in"
    words: dict[Axis, str] = {"across": "across", "up": up}

    @cache
    def read(part: str) -> Dealt | None:
        ways = ways_read(parse, part, setting)
        return None if not ways else (words[ways[0]] if len(ways) == 1 else EITHER, part)

    def why_not(part: str) -> str:
        said = set(plain_words(part))
        if said & {"left", "right"}:
            return fault_of(lambda: parse(part, "across", setting))
        names = {token.word for token in tokens(part, setting) if token.kind == "name"}
        fixes = {(setting.lines or {}).get(name) for name in names}
        is_up = "y" in fixes or bool(said & (UPWARD | {"up"}))
        if "x" in fixes or (not is_up and is_range(part, setting)):
            return fault_of(lambda: parse(part, "across", setting))
        if (is_up or said & {"up", "off", "from", "down", "high"}) and HAS_FIGURE.search(part):
            return fault_of(lambda: parse(part, "up", setting))
        return of_no_key(part, f"cover 65; if it is what comes through: what: {part}")

    return PlaceReader(read, why_not, up)


def ways_read(parse: Callable[[str, Axis, Setting], object], part: str, setting: Setting) -> list[Axis]:
    """Along which ways a part can be read."""
    return [axis for axis in AXES if takes(lambda axis=axis: parse(part, axis, setting))]  # type: ignore[misc]


def says_where(name: str, setting: Setting) -> bool:
    """Whether a name has figures and words of a place in it."""
    words = {"left", "right", "near", "far", "above", "below"} & set(plain_words(name))
    return is_range(name, setting) or (bool(HAS_FIGURE.search(name)) and bool(words))


def is_range(part: str, setting: Setting) -> bool:
    """Whether two figures stand in it that belong together: 67 to 83."""
    return any(token.second is not None for token in tokens(part, setting))
