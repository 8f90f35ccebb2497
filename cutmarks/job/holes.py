"""What comes through the surface, as the tiler wrote it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, ClassVar, Literal, Self

from pydantic import model_validator

from cutmarks.fittings import Fitting, find
from cutmarks.job.fields import (
    LEAST_CORNERS,
    WIDEST_THING,
    Across,
    Context,
    Corner,
    Gap,
    Measure,
    Name,
    SizeField,
    Up,
    Words,
    degrees,
    parsed,
    words,
)
from cutmarks.job.laying import is_size, parse_size
from cutmarks.job.model import Model, height_key
from cutmarks.job.phrases import Side, Size
from cutmarks.job.tree import Text
from cutmarks.job.words import SIDE_OF, Setting, found, spaced
from cutmarks.units import match_range, parse_length

CORNERS = 4


def parse_opening(text: str, setting: Setting) -> float | Size:
    """A hole's own size: a diameter, or two sizes. Raises ValueError."""
    if is_size(text):
        return parse_size(text, setting.unit)
    mm = parse_length(text, setting.unit).mm
    if not 0.0 < mm <= WIDEST_THING:
        raise ValueError(f"{found(text)} is no hole: write its diameter, as in 110, or two sizes, as in 78 x 80.")
    return mm


def parse_opening_range(text: str, setting: Setting) -> tuple[float, float]:
    """The maker's least and most diameter: "89 to 102". Raises ValueError."""
    spans = match_range(text, setting.unit)
    if spans is None or spans[1] is None or spans[2] or not 0.0 < spans[0].mm < spans[1].mm:
        raise ValueError(f"{found(text)} is no range of holes: write the least and the most, as in 89 to 102.")
    return spans[0].mm, spans[1].mm


def parse_cover(text: str, setting: Setting) -> Literal["none"] | float | Size:
    """The rose, collar or plate that will hide the hole: 65, 147 x 86, or none. Raises ValueError."""
    if text.casefold() in ("none", "no"):
        return "none"
    if is_size(text):
        return parse_size(text, setting.unit)
    mm = parse_length(text, setting.unit).mm
    if not 0.0 < mm <= WIDEST_THING:
        raise ValueError(
            f"{found(text)} is no cover: write its diameter, as in 65, two sizes, as in 147 x 86, or none."
        )
    return mm


class HoleSpec(Model):
    """One thing that comes through: what it is, where it was read, and what is known of its hole and cover.

    what      as written; `fitting` is the catalogue's answer, None where it names no size.
    across, up  where it is, unless `corners` (four, any order round) or `outline` say so.
    size, diameter, slot  the thing's own sizes, mm; slot is length and width.
    open_towards  the side to which the hole is opened as a slot.
    lean      degrees counter-clockwise of a box or slot; lean_words where it was written in words (a pipe: 2 in 71).
    opening   cut exactly this; opening_range: the maker's least and most diameter.
    cover     "none", a diameter or two sizes; None with cover_known False where it is not known yet.
    end       "comes off" or "runs on"; "" where it was not said.
    """

    MUST_BE_KNOWN: ClassVar[frozenset[str]] = frozenset({"across", "up", "in", "size", "corners", "outline"})
    OWN: ClassVar[frozenset[str]] = frozenset({"fitting", "opening range", "cover known", "lean words"})
    EXTRA: ClassVar[tuple[str, ...]] = ("in",)
    ALIKE: ClassVar[Mapping[str, str]] = {"hole": "opening"}

    name: Name
    what: Words = ""
    fitting: Annotated[Fitting | None, parsed(lambda text, setting: find(text, setting.say, setting.unit))] = None
    across: Across | None = None
    up: Up | None = None
    corners: tuple[Corner, ...] = ()
    outline: tuple[Corner, ...] = ()
    size: SizeField | None = None
    diameter: Measure | None = None
    slot: SizeField | None = None
    open_towards: Annotated[Side, parsed(lambda text, _: towards(text))] | None = None
    lean: Annotated[float, parsed(degrees)] | None = None
    lean_words: Words = ""
    opening: Annotated[float | Size, parsed(parse_opening)] | None = None
    opening_range: Annotated[tuple[float, float], parsed(parse_opening_range)] | None = None
    play: Gap | None = None
    cover: Annotated[Literal["none"] | float | Size, parsed(parse_cover)] | None = None
    cover_known: bool = False
    end: Annotated[Literal["comes off", "runs on", ""], words("comes off", "runs on")] = ""
    depth: Words = ""
    note: Words = ""

    @classmethod
    def prepare(cls, taken: dict[str, object], unknown: frozenset[str], context: Context) -> dict[str, object]:
        """Look the thing up, and tell a maker's range from a hole's own size."""
        if "what" in taken:
            taken["fitting"] = taken["what"]
        opening, lean = taken.get("opening"), taken.get("lean")
        if isinstance(opening, Text) and _is_range(opening, context.setting):
            taken["opening range"] = taken.pop("opening")
        if isinstance(lean, Text) and " in " in spaced(lean):
            taken["lean words"] = taken.pop("lean")
        slot = taken.get("slot")
        if isinstance(slot, Text) and not spaced(slot)[:1].isdigit():
            taken["open towards"] = taken.pop("slot")
        taken["cover known"] = "cover" in taken
        return height_key(taken, context.setting)

    @model_validator(mode="after")
    def has_position(self) -> Self:
        """A position by two readings, by corners, or by an outline; only one of them."""
        ways = [bool(self.corners), bool(self.outline), self.across is not None or self.up is not None]
        if sum(ways) > 1:
            raise ValueError("It is placed twice: keep across and up, or corners, or the outline.")
        if not any(ways):
            raise ValueError("It has no position: write across and up, or corners.")
        if ways[2] and self.across is None:
            raise ValueError('It has no position across: write it as in "across: 67 to 83 left of V".')
        if ways[2] and self.up is None:
            raise ValueError('It has one reading alone: write the other too, as in "up: 212 to 228 above B".')
        if self.corners and len(self.corners) != CORNERS:
            raise ValueError(f"It has {len(self.corners)} corners: a box has four; write other shapes as outline.")
        if self.outline and len(self.outline) < LEAST_CORNERS:
            raise ValueError(f"Its outline has {len(self.outline)} corners: write three or more.")
        return self


def towards(text: str) -> Side:
    """The side in "towards the right" or "right". Raises ValueError."""
    word = text.casefold().removeprefix("towards ").removeprefix("the ").strip()
    word = {"down": "bottom", "up": "top"}.get(word, word)
    if word not in SIDE_OF:
        raise ValueError(f"{found(text)} is no slot: write its length and width, as in 40 x 20, or towards the right.")
    return SIDE_OF[word]


def _is_range(text: str, setting: Setting) -> bool:
    try:
        spans = match_range(text, setting.unit)
    except ValueError:
        return False
    return spans is not None and spans[1] is not None
