"""How big a job's figures may be, and how a figure is said in a fault: in the job's own measure, with its unit.

A slip of a figure is ten, a hundred or a thousand times the real one, or the right figure with another unit. What no
wall or floor has is a slip, and is said before anything is made of it.
"""

from __future__ import annotations

from fractions import Fraction

from cutmarks.job.tokens import tokens
from cutmarks.job.words import Setting, found
from cutmarks.readings import Size
from cutmarks.units import Style, Unit, say

WIDEST_THING = 2_500.0
"""Nothing that comes through a tile is wider, mm; windows, niches, doors and outlines may be."""
LEAST_THING = 1.0
"""Nor is anything narrower, mm: two sides that are closer were not both read."""
THINNEST_THING = 5.0
"""Nor is any pipe or box thinner, mm: two sides that are closer, with no unit, are likely inches or cm."""
LONGEST_SIDE = 5_000.0
"""No tile or slab has a longer side, mm; what comes through one is read from its edges within that."""
LONGEST_SURFACE = 100_000.0
"""No wall or floor that is tiled in one go is longer, mm."""
TO_THE_METRE = 500.0
"""A surface is held against that to the nearest metre: the gaps at its ends do not count."""
IMPERIAL = (Unit.INCH, Unit.FOOT)
LONG = 10_000.0
"""From here on, mm, a measure is said in metres or feet."""
METRE, FOOT = 1_000.0, 304.8
_SIXTEENTH = Fraction(1, 16)


def too_long(mm: float) -> bool:
    """Whether a surface, or a place on it from where its lines cross, is longer than any is."""
    return abs(mm) >= LONGEST_SURFACE + TO_THE_METRE


def style_of(setting: Setting) -> Style:
    """How measures are said in a fault of a job: whole and half millimetres, or 16ths of an inch."""
    return Style(Unit.INCH, _SIXTEENTH) if setting.unit in IMPERIAL else Style()


def bare(mm: float, setting: Setting) -> str:
    """A measure without its unit: "448", "17 5/8"."""
    return say(mm, style_of(setting))


def said(mm: float, setting: Setting) -> str:
    """A measure with its unit: "448 mm", "17 5/8 in"; long ones in metres or feet: "448 m"."""
    if abs(mm) >= LONG:
        unit, per = ("ft", FOOT) if setting.unit in IMPERIAL else ("m", METRE)
        return f"{round(mm / per, 1):.12g} {unit}"
    style = style_of(setting)
    return f"{say(mm, style)} {style.unit}"


def between(least: float, most: float, setting: Setting) -> str:
    """What is allowed: "1 to 2500 mm"."""
    style = style_of(setting)
    return f"{say(least, style)} to {say(most, style)} {style.unit}"


def in_range(text: str, mm: float, least: float, most: float, what: str, setting: Setting) -> float:
    """The length that a text was read as, once it is sure that `what` can have it.

    Raises ValueError: it is out of range; where the job's unit made it so, the sentence says in which it was taken.
    """
    if least <= mm <= most:
        return mm
    is_bare = not any(character.isalpha() or character in "\"'" for character in text)
    taken = f"taken for {text} {setting.unit}, which is " if is_bare and setting.unit != style_of(setting).unit else ""
    raise ValueError(f"{found(text)} is {taken}out of range for {what}: write {between(least, most, setting)}.")


def sides_in_range(text: str, size: Size, least: float, most: float, what: str, setting: Setting) -> Size:
    """Two sizes, once it is sure that `what` can have both. Raises ValueError: one is out of range."""
    for side in (size.first, size.second):
        if not least <= side <= most:
            raise ValueError(
                f"{found(text)} is {said(side, setting)} one way, and {what} has {between(least, most, setting)}: "
                f"write it again, with its unit if that is not {setting.unit}."
            )
    return size


def wide_enough(text: str, wide: float, setting: Setting, way: str = "wide") -> None:
    """Make sure that two sides are those of a thing. Raises ValueError: too far apart, or too near."""
    if wide < LEAST_THING:
        raise ValueError(
            f"{found(text)} leaves under {said(LEAST_THING, setting)} between its sides: write both sides of the "
            "thing again, or its centre."
        )
    if wide < THINNEST_THING and setting.unit is Unit.MM and not says_own_unit(text, setting):
        raise ValueError(
            f"{found(text)} makes it {said(wide, setting)} {way}, and no pipe or box is that thin: to say "
            "whether it is mm, inches or cm, write the unit behind both figures."
        )
    if wide > WIDEST_THING:
        taken = "" if setting.unit == style_of(setting).unit else f" (a figure without a unit is in {setting.unit})"
        raise ValueError(
            f"{found(text)} makes it {said(wide, setting)} {way}{taken}, and nothing that comes through a tile is over "
            f"{said(WIDEST_THING, setting)}: write both its sides again; windows, niches and doors stand under keys of "
            "their own."
        )


def says_own_unit(text: str, setting: Setting) -> bool:
    """Whether a figure of a phrase has a unit of its own."""
    return any(one is not None and one.stated for part in tokens(text, setting) for one in (part.first, part.second))


def length_as_written(mm: float, setting: Setting) -> str:
    """A length that was worked out, as it is written in this job: exact to 1/64 in, or to a thousandth of a mm."""
    if setting.unit in IMPERIAL:
        return f"{say(mm, Style(Unit.INCH, Fraction(1, 64)))}{'' if setting.unit is Unit.INCH else ' in'}"
    return f"{round(mm, 3):g}{'' if setting.unit is Unit.MM else ' mm'}"
