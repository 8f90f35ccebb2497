"""Every limit and default that a job may set for itself, and where its figure comes from.

A job sets its own under `limits:`, by the names below with blanks: `limits: {thin bridge: 25, box play: 3}`. Figures
are mm, unless `unit` says otherwise. What a job has set carries "set in the job" as its source.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields, replace
from functools import partial
from typing import TYPE_CHECKING, Annotated, Literal

from pydantic import create_model

from cutmarks.job.fields import parsed
from cutmarks.job.model import Model, key_of
from cutmarks.job.words import Setting, found
from cutmarks.units import parse_length

LimitUnit = Literal["mm", "part", "degrees", "cm2", "times"]

COMMON = "common practice, no published source"
SET_IN_JOB = "set in the job"


@dataclass(frozen=True, slots=True)
class Limit:
    """A figure, where it comes from, what it decides, and between what a job may set it."""

    value: float
    source: str
    what: str = ""
    unit: LimitUnit = "mm"
    most: float = 1000.0


@dataclass(frozen=True, slots=True)
class Limits:
    """Every figure that a rule or a default looks at; the field's name is the key."""

    # Clear space at edges.
    floor_gap: Limit = Limit(5.0, COMMON + ": 4 to 5, closed with silicone", "gap over a floor where none was written")
    gap: Limit = Limit(3.0, COMMON, "gap at any other edge, and round a window, where none was written")
    # How big the opening is.
    round_play: Limit = Limit(
        3.0, "ANSI A108: at least 1/8 in all round; 3 mm in metric work", "room round a pipe where no play was written"
    )
    box_play: Limit = Limit(2.0, COMMON + ": 2 to 3", "room round a box where no play was written")
    lap: Limit = Limit(3.0, COMMON + ": 3 mm, 1/8 in", "how far a round cover laps past its hole")
    box_lap: Limit = Limit(2.0, COMMON, "how far a plate laps past its cut-out")
    level_under: Limit = Limit(2.0, COMMON, "a box that leans less is cut level", "degrees", 45.0)
    # What is left of the tile.
    least_bite: Limit = Limit(0.5, COMMON + ": a web or bite this thin breaks off", "bridge or bite that stops")
    thin_bridge: Limit = Limit(30.0, COMMON, "bridge of a wall tile that is worth a look")
    floor_bridge: Limit = Limit(30.0, COMMON, "bridge of a floor tile that is worth a look")
    panel_bridge: Limit = Limit(
        80.0, "makers' guidelines for large panels: 70 to 80", "bridge of a large panel, a look"
    )
    glass_bridge: Limit = Limit(
        50.0, "glass splashbacks, by analogy: cut-out to edge and between cut-outs 50", "bridge of glass, a look"
    )
    bridge_part: Limit = Limit(
        0.25,
        COMMON + ": a quarter of the tile's side",
        "a bridge over this part of the side is never thin",
        "part",
        1.0,
    )
    stop_bridge: Limit = Limit(15.0, COMMON, "bridge of a wall tile that stops")
    floor_stop_bridge: Limit = Limit(15.0, COMMON, "bridge of a floor tile that stops")
    panel_stop_bridge: Limit = Limit(
        70.0, "makers' guidelines for large panels: 70 to 80", "bridge of a large panel that stops"
    )
    glass_stop_bridge: Limit = Limit(15.0, COMMON + ": as for a wall tile", "bridge of glass that stops")
    stop_bridge_part: Limit = Limit(
        0.125, COMMON + ": half of the part that is worth a look", "a bridge over this part never stops", "part", 1.0
    )
    panel_side: Limit = Limit(
        1200.0,
        "BS 5385-1:2018, grout widths: larger than 1200 is set apart",
        "a tile with a longer side is a panel",
        "mm",
        5000.0,
    )
    horn: Limit = Limit(45.0, COMMON, "horn at the mouth of a notch that breaks off", "degrees", 90.0)
    leg_times: Limit = Limit(5.0, COMMON, "a strip longer than so many times its width is worth a look", "times")
    area_taken: Limit = Limit(
        77.0,
        "tool guides: 10 to 12 in2 (65 to 77 cm2) may exceed what a tile bears",
        "cut out of one tile",
        "cm2",
        10000.0,
    )
    taken_part: Limit = Limit(1 / 3, COMMON, "part of a piece that is cut out of it", "part", 1.0)
    inside_radius: Limit = Limit(
        5.0, COMMON + ": 5 or more, or 6 to 8 holes drilled first", "inside corner of a cut-out"
    )
    between_cores: Limit = Limit(5.0, COMMON, "tile left between two cores, so that the second does not break in")
    alike: Limit = Limit(1.0, COMMON, "mirror-image pieces that differ by less are taken for each other", "mm", 10.0)
    # What was read.
    derived_mm: Limit = Limit(2.0, COMMON, "a pipe's two sides against its diameter, metric jobs")
    derived_inch: Limit = Limit(25.4 / 8, COMMON + ": 1/8 in", "a pipe's two sides against its diameter, inch jobs")
    reading: Limit = Limit(0.5, COMMON, "error of a reading, one sigma; a lean is said over twice of it")
    # Covers.
    worst_on_the_day: Limit = Limit(
        2.3, COMMON + ": error budget at two sigma", "how far off a hole may sit that is measured again at the wall"
    )
    worst_ahead: Limit = Limit(3.0, COMMON, "how far off a hole may sit that is cut from the plan alone")
    two_thicknesses: Limit = Limit(0.5, COMMON, "tiles under one cover whose thickness differs by more")
    # How sure: give or take, at two sigma.
    both_sides: Limit = Limit(1.0, COMMON, "a reading to both sides of a thing, give or take")
    one_side: Limit = Limit(1.5, COMMON, "a reading to one side of a thing, give or take")
    by_eye: Limit = Limit(2.0, COMMON, "a reading to a centre by eye, give or take")
    from_edge: Limit = Limit(4.0, COMMON + ": floor or ceiling 3 to 5, corner 2 to 8", "a reading from an edge")
    by_tape: Limit = Limit(1.5, COMMON, "a tape from a point, where the arcs cross at 60 to 120 degrees")
    of_pair: Limit = Limit(1.0, COMMON, "pitch or level of two things, give or take")
    line_out: Limit = Limit(0.6, COMMON, "a set-out line as drawn, give or take")
    pitch_out: Limit = Limit(1.0, COMMON, "the pitch over four tiles, give or take")
    neighbour_out: Limit = Limit(1.0, COMMON, "how the neighbours were fixed, give or take")
    marking: Limit = Limit(1.0, COMMON, "marking on the tile, give or take")
    core_wander: Limit = Limit(1.0, COMMON, "where the core or disc starts, give or take")
    sure: Limit = Limit(0.75, COMMON, "chance of going over and being covered that is worth a look", "part", 1.0)
    false_alarm: Limit = Limit(
        0.01, "data snooping at a familywise level, Baarda 1968", "good readings that raise one", "part", 1.0
    )
    arcs_cross: Limit = Limit(60.0, COMMON + ": 60 to 120", "two tapes that cross flatter", "degrees", 90.0)
    act_at: Limit = Limit(1.0, COMMON, "what is found on the wall moves a hole from so much on", "mm", 10.0)
    shift_part: Limit = Limit(0.5, COMMON, "and stops over this part of what it may be off", "part", 1.0)
    slope_matters: Limit = Limit(1.0, COMMON, "effect of a line that is out, or not square, at a hole")
    # Depth.
    bed_part: Limit = Limit(
        0.5, "trade guides: 3/8 in notch gives 3/16 in", "bed as a part of the trowel's notch", "part", 1.0
    )
    depth_tight: Limit = Limit(2.0, COMMON, "a fitting this near to the end of its range is tight")
    set_back: Limit = Limit(6.35, "NEC 314.20, from memory: 1/4 in", "how far a box may sit behind the finished face")
    under_frame: Limit = Limit(1.0, COMMON + ": tile + bed + 1", "air over a tile that is slid under a frame")
    screw_bite: Limit = Limit(5.0, COMMON, "thread that a plate's screw must find")
    # Layout.
    narrow: Limit = Limit(50.0, COMMON + ": 50 mm or 2 in", "trimmed piece that is narrow")
    narrow_part: Limit = Limit(
        0.2, "one fifth of the tile, trade guides", "and only under this part of it", "part", 1.0
    )
    narrow_from: Limit = Limit(150.0, COMMON, "and only where the tile is at least this size")
    joint_problem: Limit = Limit(5.0, COMMON, "trimmed off a whole row: better taken up by the joints")
    wide_space: Limit = Limit(2.0, COMMON + ": twice the larger joint", "space between two areas, in joints", "times")
    offset_side: Limit = Limit(
        381.0, "ANSI A108.02 4.3.8.2: 15 in", "side from which a long offset shows", "mm", 5000.0
    )
    offset_part: Limit = Limit(1 / 3, "ANSI A108.02 4.3.8.2: 33 %", "longest offset of a long tile", "part", 1.0)


LIMITS = Limits()
NAMES: Mapping[str, str] = {key_of(field.name): field.name for field in fields(Limits)}
"""The keys of `limits:`, each with its field."""
_ENDINGS: Mapping[LimitUnit, tuple[str, ...]] = {
    "mm": (),
    "part": ("%",),
    "degrees": ("degrees", "°"),
    "cm2": ("cm2", "cm²"),
    "times": ("times",),
}


def rows(limits: Limits = LIMITS) -> tuple[tuple[str, Limit], ...]:
    """Every limit with its key, in the order of the table."""
    return tuple((key, getattr(limits, name)) for key, name in NAMES.items())


class LimitsBase(Model):
    """What a job has set of the limits; a field is None where the usual figure holds."""

    def figures(self) -> Limits:
        """The usual limits, with the job's own figures in the place of some."""
        own = {name: value for name in NAMES.values() if (value := getattr(self, name)) is not None}
        if not own:
            return LIMITS
        changed = {name: replace(getattr(LIMITS, name), value=value, source=SET_IN_JOB) for name, value in own.items()}
        return replace(LIMITS, **changed)


def parse_limit(name: str, text: str, setting: Setting) -> float:
    """A job's own figure for the limit of that field name, in the limit's unit.

    Raises ValueError: no figure that it can have.
    """
    limit: Limit = getattr(LIMITS, name)
    value = parse_length(text, setting.unit).mm if limit.unit == "mm" else _figure(text, limit.unit)
    if not 0.0 <= value <= limit.most:
        unit = "" if limit.unit == "part" else f" {limit.unit}"
        raise ValueError(f"{found(text)} is out of range for {key_of(name)}: write 0 to {limit.most:g}{unit}.")
    return value


def _figure(text: str, unit: LimitUnit) -> float:
    """A plain figure; a part may be written in percent or as a fraction."""
    bare = text
    for ending in _ENDINGS[unit]:
        bare = bare.removesuffix(ending).strip()
    head, _, below = bare.partition("/")
    if not head.replace(".", "", 1).isdecimal() or not head.isascii() or (below and not below.strip("0").isdecimal()):
        example = "0.25, 1/4 or 25 %" if unit == "part" else "5"
        raise ValueError(f"{found(text)} is no figure: write it as in {example}.")
    return float(head) / float(below or 1) / (100.0 if text.endswith("%") else 1.0)


def _reader(name: str) -> object:
    return Annotated[float | None, parsed(partial(parse_limit, name))]


if TYPE_CHECKING:

    class OwnLimits(LimitsBase):
        """The `limits:` of a job file: any of the limits, each in its own unit."""

else:
    OwnLimits = create_model(
        "OwnLimits", __base__=LimitsBase, **{name: (_reader(name), None) for name in NAMES.values()}
    )
