"""The catalogue as it stands in data/*.toml, one family a file; the rows of one are read where it is asked about.

A file has `family`, `kind`, `words` (what the family is called in a phrase), `order`, `asked` (false: not offered when
a size alone is written) and a list of [[standard]]. A standard has `system`, `source`, `mark`, maybe `variant` with its
own `words`, and `rows`; what stands in a standard holds for all of its rows, and a row may say otherwise. A row has
`names`: "15 mm", "1/2 in", "DN 15", or words ("1 gang box"); the first is its label. Lengths end in _mm or _in.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping, Sequence
from decimal import Decimal
from fractions import Fraction
from functools import cache, cached_property
from pathlib import Path
from typing import Literal, cast

from msgspec import Struct

from cutmarks.fittings.model import Fitting, FittingChoice, FittingKind, SourceMark, System
from cutmarks.units import MM_PER, Unit, parse_length

DATA = Path(__file__).with_name("data")
CORES_FILE = DATA / "cores.toml"

Table = Mapping[str, object]


class FittingName(Struct, frozen=True):
    """A name of a row: a size (`number` in `unit`), a DN, or words."""

    text: str
    unit: Literal["mm", "in", "DN", "words"]
    number: float = 0.0


class FittingRow(Struct, frozen=True):
    """A fitting, all its names, and the words that tell its variant."""

    fitting: Fitting
    names: tuple[FittingName, ...]
    variant_words: tuple[str, ...]


class Family(Struct, frozen=True, dict=True):
    """One file of the catalogue: `text` is all of it, of which the rows are made when they are looked for."""

    name: str
    words: tuple[str, ...]
    asked: bool
    text: str

    @cached_property
    def rows(self) -> tuple[FittingRow, ...]:
        """Its fittings, standard by standard."""
        table = tomllib.loads(self.text, parse_float=Decimal)
        return tuple(
            _row(self.name, {"kind": table["kind"], **standard, **row}, _texts(standard, "words"))
            for standard in _tables(table, "standard")
            for row in _tables(standard, "rows")
        )

    def may_name(self, phrase: str) -> bool:
        """Whether a name in words of one of its rows can stand in a phrase: a word of that stands in the file then."""
        return any(word in self.text for word in phrase.split() if not word.isdigit())


@cache
def families() -> tuple[Family, ...]:
    """All families, in their order."""
    found = []
    for file in DATA.glob("*.toml"):
        if file != CORES_FILE:
            text = file.read_text(encoding="utf-8")
            head = tomllib.loads(text.partition("\n[[standard]]")[0])
            family = Family(head["family"], _texts(head, "words"), head.get("asked", True) is True, text)
            found.append((cast(int, head["order"]), family))
    return tuple(family for _, family in sorted(found, key=lambda one: one[0]))


def catalogue() -> tuple[Fitting, ...]:
    """Every fitting that is known, family by family."""
    return tuple(row.fitting for family in families() for row in family.rows)


@cache
def cores(series: Literal["mm", "in"]) -> tuple[float, ...]:
    """The usual diamond cores, smallest first, mm: the metric or the inch series (trade series, from memory)."""
    sizes = cast(Sequence[object], _read(CORES_FILE)[series])
    return tuple(parse_length(str(size), Unit(series)).mm for size in sizes)


def cores_source() -> str:
    """Where the usual series of cores comes from."""
    return str(_read(CORES_FILE)["source"])


def _read(file: Path) -> Table:
    return tomllib.loads(file.read_text(encoding="utf-8"), parse_float=Decimal)


def _row(family: str, table: Table, variant_words: tuple[str, ...]) -> FittingRow:
    names = tuple(_name(text) for text in _texts(table, "names"))
    label = names[0].text.removesuffix(" mm").removesuffix(" in")
    tolerance = _lengths(table, "tol")
    fitting = Fitting(
        family=family,
        label=label,
        kind=cast(FittingKind, table["kind"]),
        source=str(table["source"]),
        mark=cast(SourceMark, table["mark"]),
        system=cast(System, table["system"]),
        od=length_in(table, "od"),
        w=length_in(table, "w"),
        h=length_in(table, "h"),
        tolerance=(tolerance[0], tolerance[-1]) if tolerance else None,
        hole=length_in(table, "hole"),
        centres=length_in(table, "centres"),
        pitch=length_in(table, "pitch"),
        depths=_lengths(table, "depths"),
        choices=tuple(
            FittingChoice(str(choice["words"]), length_in(choice, "od"), length_in(choice, "w"), length_in(choice, "h"))
            for choice in _tables(table, "choices")
        ),
        variant=str(table.get("variant", "")),
        note=str(table.get("note", "")),
    )
    return FittingRow(fitting, names, variant_words)


def _name(text: str) -> FittingName:
    head, _, tail = text.rpartition(" ")
    if text.startswith("DN "):
        return FittingName(text, "DN", float(tail))
    if tail in ("mm", "in") and head[:1].isdigit():
        unit: Literal["mm", "in"] = "mm" if tail == "mm" else "in"
        return FittingName(text, unit, parse_length(text, None).mm)
    return FittingName(text, "words")


def length_in(table: Table, stem: str) -> float | None:
    """The one length that the table has as stem_mm or stem_in, mm; None where it has none."""
    found = _lengths(table, stem)
    return found[0] if found else None


def _lengths(table: Table, stem: str) -> tuple[float, ...]:
    for unit in (Unit.MM, Unit.INCH):
        value = table.get(f"{stem}_{unit}")
        if value is not None:
            values = cast(list[Decimal | int], value if isinstance(value, list) else [value])
            return tuple(float(Fraction(one) * MM_PER[unit]) for one in values)
    return ()


def _tables(table: Table, key: str) -> Sequence[Table]:
    return cast(Sequence[Table], table.get(key, ()))


def _texts(table: Table, key: str) -> tuple[str, ...]:
    return tuple(cast(Sequence[str], table.get(key, ())))
