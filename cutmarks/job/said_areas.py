"""Areas that border on each other: "left of: the band", "from: the splash", "sits on the splash".

Where one area ends, the next begins a joint farther: the joint is taken off here, and what comes out is a place from a
line, as if it had been written.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from cutmarks.errors import JobPath
from cutmarks.job.crosscheck import text, value
from cutmarks.job.grammar import parse_place
from cutmarks.job.measures import length_as_written
from cutmarks.job.model import path_of, tidy_key
from cutmarks.job.tree import Entry, Items, Text, Told
from cutmarks.job.words import Follows, Setting, found, spaced
from cutmarks.patterns import late
from cutmarks.sides import Axis
from cutmarks.units import parse_length

BORDERS: Mapping[str, tuple[str, Axis, int]] = {
    "left of": ("right of", "across", -1),
    "right of": ("left of", "across", 1),
    "to": ("from", "up", -1),
    "from": ("to", "up", 1),
}
"""Each border of an area: the border of the one beside it that it lies at, along which axis, and on which side."""
_STANDS = late(r"(?P<how>sits|stands|sat|standing|hangs|up) (?P<on>on|from|off) (?P<rest>.+)$", re.IGNORECASE)


def borders_said(areas: Items, setting: Setting) -> Iterator[tuple[JobPath, str]]:
    """Put what names another area as a place from a line; yields where that cannot be, and why."""
    named = {text(area, "name").casefold(): area for area in areas if isinstance(area, Entry) and text(area, "name")}
    typed = {name: Entry(dict(area), area.path) for name, area in named.items()}
    for own, area in named.items():
        others = {name: one for name, one in typed.items() if name != own}
        for key, held in list(area.items()):
            tidy = tidy_key(key)
            try:
                if tidy in BORDERS and isinstance(held, Text):
                    area[key] = _border(tidy, held, area, others, setting)
                elif tidy == "start" and isinstance(held, Text):
                    parts = [_start(part, area, others, setting) for part in re.split(r",\s+", spaced(held))]
                    area[key] = Text(", ".join(parts), held.path)
                elif tidy == "start" and isinstance(held, Entry):
                    for axis, part in held.items():
                        if isinstance(part, Text):
                            held[axis] = Text(_start(spaced(part), area, others, setting), part.path)
            except ValueError as error:
                if isinstance(held, Text) and tidy in BORDERS:
                    area[key] = Told(held, held.path)
                if not isinstance(error, Follows):
                    yield path_of(held), str(error)


def _border(key: str, held: Text, area: Entry, others: Mapping[str, Entry], setting: Setting) -> Text:
    other = _named(spaced(held), others)
    return held if other is None else Text(_beside(key, area, other, setting), held.path)


def _named(said: str, others: Mapping[str, Entry]) -> Entry | None:
    """The area that words name, with or without an article; None where they name none."""
    return others.get(re.sub(r"^(?:the )", "", said.casefold()).strip())


def _start(part: str, area: Entry, others: Mapping[str, Entry], setting: Setting) -> str:
    """A part of a start that stands on another area, or hangs under it, as one on a level."""
    match = _STANDS.match(part)
    other = None if match is None else _named(match["rest"], others)
    if match is None or other is None:
        return part
    key = "to" if match["how"].casefold() == "hangs" else "from"
    return f"{'hangs from' if key == 'to' else 'sits on'} {_beside(key, area, other, setting)}"


def _beside(key: str, area: Entry, other: Entry, setting: Setting) -> str:
    """Where an area ends or begins beside another, a joint from it. Raises ValueError: that is not said."""
    opposite, axis, side = BORDERS[key]
    name, limit = text(other, "name"), text(other, opposite)
    if not limit:
        raise ValueError(
            f"{found(name)} does not say where it ends on that side: write {opposite}: there, as in "
            f"{'right of: 300 left of V' if axis == 'across' else f'{opposite}: 600 above B'}."
        )
    at = parse_place(limit, axis, setting)
    assert at.start is not None
    joint = _joint(area, other, setting)
    mm = at.low + side * joint
    ways = ("left of", "right of") if axis == "across" else _UP[setting.kind]
    return f"{length_as_written(abs(mm), setting)} {ways[mm >= 0]} {at.start.name}"


_UP = {"wall": ("below", "above"), "floor": ("short of", "from")}


def _joint(area: Entry, other: Entry, setting: Setting) -> float:
    """The joint between two areas: that of both. Raises ValueError: they have two, or none."""
    said = []
    for one in (area, other):
        joint = text(one, "joint") or str(setting.joints.get(text(one, "tile"), ""))
        if not joint:
            raise ValueError(f"The joint of {found(text(one, 'name'))} is not said: write joint: 3.")
        said.append(parse_length(spaced(joint), setting.unit).mm)
    if said[0] != said[1]:
        raise ValueError(
            f"The joints of {found(text(area, 'name'))} and {found(text(other, 'name'))} differ: write where this one "
            "begins, as in 600 above B."
        )
    return said[0]


def areas_of(surface: Entry) -> Items | None:
    """The areas of a surface; None where there is no list of them."""
    held = value(surface, "areas")
    return held if isinstance(held, Items) else None
