"""What is said beside the fields of the form: what is wrong with each, what is still wanted, or what was understood."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping
from fractions import Fraction
from functools import cache
from typing import Literal

from msgspec import Struct

from cutmarks.desk.form import FormThing, fields_in, things_in
from cutmarks.errors import Fault, JobPath
from cutmarks.fittings import Fitting
from cutmarks.job.declared import declared, short_of, words_of
from cutmarks.job.edges import NEEDS_A_READING, EdgeSpec, VoidSpec
from cutmarks.job.examples import in_unit_of
from cutmarks.job.holes import HoleSpec
from cutmarks.job.keys import missing_key, things
from cutmarks.job.load import ReadJob, setting_of
from cutmarks.job.model import JobModel, tidy_key
from cutmarks.job.models import Job
from cutmarks.job.surfaces import SurfaceSpec
from cutmarks.job.tree import Entry, Items, Text
from cutmarks.limits import Limits
from cutmarks.readings import Bond, EdgeReading, From, Reading, Size
from cutmarks.setout.assumed import void_takes_usual_gap
from cutmarks.setout.surface import takes_usual_gap, usual_gap, void_gap
from cutmarks.sides import Axis, Side, SurfaceKind
from cutmarks.units import Style, Unit, say

BesideLevel = Literal["fault", "wanted", "assumed", "read"]


class Beside(Struct, frozen=True):
    """One sentence beside a field or a thing."""

    level: BesideLevel
    text: str


def spelt(path: JobPath) -> str:
    """A path as the page names it; keys as they are known, so that every spelling of one is the same."""
    return json.dumps([tidy_key(part) if isinstance(part, str) else part for part in path], ensure_ascii=False)


def beside_fields(read: ReadJob, form: FormThing, more: Iterable[Fault] = ()) -> Mapping[str, tuple[Beside, ...]]:
    """The sentences by the place they stand at; under "" what belongs to no place of the form."""
    said: dict[str, list[Beside]] = {}
    shown = list(fields_in(form))
    fields, filled = {spelt(one.path) for one in shown}, {spelt(one.path): one.value for one in shown if one.value}
    known = fields | {spelt(one.path) for one in things_in(form) if one.path}
    for fault in (*read.faults, *more):
        path, level = _place_of(fault, read, fields, filled)
        at = next((key for end in range(len(path), 0, -1) if (key := spelt(path[:end])) in known), "")
        where = "" if at or fault.line is None else f"Line {fault.line}: "
        said.setdefault(at, []).append(Beside(level, f"{where}{fault.sentence}"))
    for path, text in (*_dealt(read.tree), *_understood(read)):
        key = spelt(path)
        # That 65 is 65 mm goes without saying.
        if key in filled and key not in said and not f"{text} ".startswith(f"{filled[key]} "):
            said[key] = [Beside("read", text)]
    for path, text in _gaps_taken(read):
        key = spelt(path)
        if key in fields and key not in filled and key not in said:
            said[key] = [Beside("assumed", text)]
    return {key: tuple(dict.fromkeys(one)) for key, one in said.items()}


def _place_of(fault: Fault, read: ReadJob, fields: set[str], filled: Mapping[str, str]) -> tuple[JobPath, BesideLevel]:
    """Where a fault stands; that of a key that is missing where the key would stand."""
    reading = (*fault.path, "at")
    if fault.sentence.startswith(NEEDS_A_READING) and spelt(reading) in fields and spelt(reading) not in filled:
        return reading, "wanted"  # what is there was said first: where it is comes next
    word = _missing(setting_of(read.tree).unit).get(fault.sentence)
    if word is None:
        return fault.path, "fault"
    path = (*fault.path, word)
    return (path if spelt(path) in fields else fault.path), "wanted"


@cache
def _missing(unit: Unit) -> Mapping[str, str]:
    """The sentences for keys that have to be there, each with its key."""
    models: set[type[JobModel]] = {Job, *(model for model, _ in things().values())}
    return {
        in_unit_of(unit, missing_key(word, model)): word
        for model in models
        for word, one in declared(model).items()
        if one.key.write or one.key.examples
    }


def _dealt(node: object) -> Iterator[tuple[JobPath, str]]:
    """What was said in one line, as it was put under its keys: "what: 15 copper, across: 67 to 83 left of V"."""
    if isinstance(node, Entry):
        by_path: dict[JobPath, list[str]] = {}
        for key, held in node.items():
            own = (*node.path, key)
            if isinstance(held, Text) and held.path != own and tidy_key(key) != "said":
                by_path.setdefault(held.path, []).append(f"{key}: {held}")
            elif isinstance(held, Items) and held.path != own and held:
                by_path.setdefault(held.path, []).append(f"{key}: {'; '.join(map(str, held))}")
            else:
                yield from _dealt(held)
        for path, said in by_path.items():
            yield path, " · ".join(said)
    elif isinstance(node, Items):
        for one in node:
            yield from _dealt(one)


def _understood(read: ReadJob) -> Iterator[tuple[JobPath, str]]:
    for made, setting in read.made:
        style = style_in(setting.unit)
        for word, one in declared(type(made)).items():
            axis: Axis = "across" if word in _ACROSS or _side_axis(made) == "across" else "up"
            text = meant(getattr(made, one.field.name, None), style, setting.kind, axis)
            words = (word, one.key.floor[0]) if one.key.floor else (word,)
            for typed in words if text else ():
                yield (*made.where, typed), text
            if text and word == short_of(type(made)):
                yield made.where, text  # where it stands alone for the whole thing
        if isinstance(made, HoleSpec) and made.fitting is not None:
            yield (*made.where, "what"), _fitting_words(made.fitting, style)


def style_in(unit: Unit) -> Style:
    """How lengths are said beside the fields of a job in such units."""
    return Style(Unit.INCH, Fraction(1, 32)) if unit.is_imperial else Style()


def _unit(style: Style) -> str:
    return "in" if style.unit is Unit.INCH else "mm"


_ACROSS = frozenset({"across", "right of", "left of"})
_WAYS: Mapping[tuple[Axis, SurfaceKind], tuple[str, str]] = {
    ("across", "wall"): ("right of", "left of"),
    ("across", "floor"): ("right of", "left of"),
    ("up", "wall"): ("above", "below"),
    ("up", "floor"): ("in from", "short of"),
}


def _side_axis(made: JobModel) -> Axis | None:
    """Along which axis an edge is read; None of what is no edge."""
    return made.side.axis if isinstance(made, EdgeSpec) else None


def meant(value: object, style: Style, kind: SurfaceKind, axis: Axis) -> str:
    """What a value that was read means, in words; "" where they would only say what was typed."""
    unit = _unit(style)
    match value:
        case bool():
            return ""
        case float():
            return f"{say(value, style)} {unit}"
        case Size():
            return f"{say(value.first, style)} by {say(value.second, style)} {unit}"
        case Bond():
            return value.words
        case Reading(how="sides", high=float(high)):
            middle = _from((value.low + high) / 2, value.start, style, kind, axis)
            return f"{say(high - value.low, style)} {unit} over both sides; its middle {middle}" if middle else ""
        case Reading(how="centre"):
            return _from(value.low, value.start, style, kind, axis)
        case tuple() if len(value) > 1 and all(isinstance(one, EdgeReading) for one in value):
            lows = [one.at.low for one in value]
            return f"read {len(value)} times, {say(max(lows) - min(lows), style)} {unit} apart"
        case _:
            return ""


def _gaps_taken(read: ReadJob) -> Iterator[tuple[JobPath, str]]:
    """The gaps that are taken where none is said, each at the field that it would be said in."""
    limits = Limits() if read.job is None else read.job.limits.figures()
    surfaces = {made.where: made for made, _ in read.made if isinstance(made, SurfaceSpec)}
    for made, setting in read.made:
        if not isinstance(made, EdgeSpec | VoidSpec):
            continue
        surface = surfaces.get(made.where[:2])
        gaps = _said_for_all(read, made.where[:2]) if surface is None else surface.gaps
        if gaps is None:
            continue
        if isinstance(made, EdgeSpec) and not made.steps and takes_usual_gap(made, gaps):
            gap = usual_gap(made, setting.kind, setting.line_words, limits)
        elif isinstance(made, VoidSpec) and void_takes_usual_gap(made):
            gap = limits.gap.value if surface is None else void_gap(surface, limits)
        else:
            continue
        yield (*made.where, "gap"), _gap_words(gap, made, setting.unit)


def _said_for_all(read: ReadJob, path: JobPath) -> Mapping[Side, float] | None:
    """The gaps of a surface that is not whole yet: {} where it says none; None where what it says is not known yet."""
    surfaces = next((held for key, held in read.tree.items() if tidy_key(key) == "surfaces"), None)
    node = surfaces[int(path[1])] if isinstance(surfaces, Items) else None
    known = words_of(SurfaceSpec)
    keys = node if isinstance(node, Entry) else ()
    return None if any(tidy in known and known[tidy].word == "gaps" for tidy in map(tidy_key, keys)) else {}


def _gap_words(gap: float, made: JobModel, unit: Unit) -> str:
    if not gap:
        return "Left empty: nothing is kept clear here."
    style = style_in(unit)
    kept = f"Left empty: {say(gap, style)} {_unit(style)} is kept clear"
    if isinstance(made, VoidSpec):
        return f"{kept} all round."
    return f"{kept} here. Write 0 where the tiles stand on it or meet it."


def _fitting_words(fitting: Fitting, style: Style) -> str:
    """A fitting of the catalogue with its true size."""
    name = " ".join(filter(None, (fitting.family, fitting.label, fitting.variant)))
    if fitting.od is not None:
        return f"{name}: {say(fitting.od, style)} outside"
    if fitting.w is not None and fitting.h is not None:
        return f"{name}: {say(fitting.w, style)} wide, {say(fitting.h, style)} high"
    return f"{name}: measure yours"


def _from(mm: float, start: From | None, style: Style, kind: SurfaceKind, axis: Axis) -> str:
    """So far from what it was read from; "" where that is a piece, which the phrase itself names."""
    if start is None or start.kind == "piece":
        return ""
    if start.kind == "edge":
        return f"{say(abs(mm), style)} in from the {start.side or start.name} edge"
    after, before = _WAYS[axis, kind]
    return f"{say(abs(mm), style)} {after if mm > 0 else before} {start.name}" if mm else f"on {start.name}"
