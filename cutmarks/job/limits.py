"""What a job sets of the limits under `limits:`; what it has set carries "set in the job" as its source."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property, partial
from typing import TYPE_CHECKING, Annotated

from msgspec import defstruct
from msgspec.structs import replace

from cutmarks.job.declared import Key
from cutmarks.job.fields import parsed
from cutmarks.job.model import JobModel, key_of
from cutmarks.job.words import Setting, found
from cutmarks.limits import LIMITS, Limit, Limits, LimitUnit
from cutmarks.units import parse_length

__all__ = [
    "NAMES",
    "NO_LIMITS",
    "SET_IN_JOB",
    "LimitsBase",
    "OwnLimits",
    "parse_limit",
    "rows",
]

SET_IN_JOB = "set in the job"
NAMES: Mapping[str, str] = {key_of(name): name for name in Limits.__struct_fields__}
"""The keys of `limits:`, each with its field."""
_ENDINGS: Mapping[LimitUnit, tuple[str, ...]] = {
    "mm": (),
    "part": ("%",),
    "degrees": ("degrees", "°"),
    "cm2": ("cm2", "cm²"),
    "times": ("times",),
    "count": (),
}


def rows(limits: Limits = LIMITS) -> tuple[tuple[str, Limit], ...]:
    """Every limit with its key, in the order of the table."""
    return tuple((key, getattr(limits, name)) for key, name in NAMES.items())


class LimitsBase(JobModel, frozen=True, kw_only=True, dict=True):
    """What a job has set of the limits; a field is None where the usual figure holds."""

    def figures(self) -> Limits:
        """The usual limits, with the job's own figures in the place of some."""
        return self._figures

    @cached_property
    def _figures(self) -> Limits:
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
    if limit.unit == "count" and not value.is_integer():
        raise ValueError(f"{found(text)} is no whole number: write {key_of(name)}: {limit.value:g}.")
    if limit.unit == "part" and not text.endswith("%") and limit.most < value <= 100 * limit.most:
        raise ValueError(f"{found(text)} is out of range for {key_of(name)}: write {value:g} % or {value / 100:g}.")
    if not limit.least <= value <= limit.most:
        unit = "" if limit.unit in ("part", "count") else f" {limit.unit}"
        allowed = f"{limit.least:g} to {limit.most:g}{unit}"
        raise ValueError(f"{found(text)} is out of range for {key_of(name)}: write {allowed}.")
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
    limit: Limit = getattr(LIMITS, name)
    return Annotated[float | None, parsed(partial(parse_limit, name)), Key(limit.what, (f"{limit.value:g}",))]


if TYPE_CHECKING:

    class OwnLimits(LimitsBase, frozen=True, kw_only=True):
        """The `limits:` of a job file: any of the limits, each in its own unit."""

else:
    OwnLimits = defstruct(
        "OwnLimits",
        [(name, _reader(name), None) for name in NAMES.values()],
        bases=(LimitsBase,),
        namespace={"__doc__": "The `limits:` of a job file."},
        module=__name__,
        frozen=True,
        kw_only=True,
    )

NO_LIMITS = OwnLimits()
"""Of a job that sets none."""
