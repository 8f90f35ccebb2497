"""The user's own fittings, from a file: what they measured themselves, by the words that they use for it.

Each begins with [[fitting]]; `name` has the words as they stand in what:, `kind` is pipe where it is left out, the size
is od_mm or od_in, or w and h for what is not round; `source` and `note` are free words.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from decimal import Decimal
from typing import cast, get_args

from cutmarks.fittings.model import Fitting, FittingKind
from cutmarks.fittings.phrase import plain_words, shown
from cutmarks.fittings.rows import FittingName, FittingRow, length_in

OWN_FILE = "fittings.toml"
OWN_KEYS = ("name", "kind", "od_mm", "od_in", "w_mm", "w_in", "h_mm", "h_in", "source", "note")
SIZE_KEYS = tuple(key for key in OWN_KEYS if key.endswith(("_mm", "_in")))
WIDEST = 1000.0
"""Nothing that comes through a tile is wider, mm."""


def read_own(text: str) -> tuple[FittingRow, ...]:
    """The rows of a user's own file, in its order.

    Raises ValueError with one sentence: it is no TOML, a key is none, a row has no name or no size.
    """
    try:
        table = tomllib.loads(text, parse_float=Decimal)
    except tomllib.TOMLDecodeError as error:
        raise ValueError(f"this is not TOML: {error}.") from None
    listed = table.get("fitting", [])
    if set(table) - {"fitting"} or not isinstance(listed, list):
        raise ValueError("each fitting begins with [[fitting]] on a line of its own; nothing else stands in this file.")
    return tuple(_own_row(cast("Mapping[str, object]", one), number) for number, one in enumerate(listed, 1))


def _own_row(table: Mapping[str, object], number: int) -> FittingRow:
    where = f"fitting {number}"
    name = table.get("name")
    if not isinstance(name, str) or not plain_words(name):
        raise ValueError(f'{where} has no name: write name = "tall mixer tail".')
    where = f'"{shown(name)}"'
    for key in table:
        if key not in OWN_KEYS:
            raise ValueError(
                f'{where}: "{shown(key)}" is no key here: write {", ".join(OWN_KEYS[:-1])} or {OWN_KEYS[-1]}.'
            )
    kind = table.get("kind", "pipe")
    if kind not in get_args(FittingKind):
        raise ValueError(f'{where}: "{shown(kind)}" is no kind: write {", ".join(get_args(FittingKind))}.')
    for key in SIZE_KEYS:
        _must_be_a_size(table.get(key), f"{where}, {key}")
    od, w, h = (length_in(table, stem) for stem in ("od", "w", "h"))
    if (od is None) == (w is None or h is None):
        raise ValueError(f"{where} has no size, or two: write od_mm = 24.2, or w_mm and h_mm.")
    if not all(0.0 < size <= WIDEST for size in (od, w, h) if size is not None):
        raise ValueError(f"{where}: a size is over 0 and up to {WIDEST:g} mm.")
    source = str(table.get("source", "")) or "your own, no source written"
    fitting = Fitting(
        "own", name, cast("FittingKind", kind), source, "own", od=od, w=w, h=h, note=str(table.get("note", ""))
    )
    return FittingRow(fitting, (FittingName(plain_words(name), "words"),), ())


def _must_be_a_size(value: object, where: str) -> None:
    """Raises ValueError where a value is there and is no figure of a size: TOML has nan, inf, lists and true."""
    if value is None:
        return
    is_number = isinstance(value, int | Decimal) and not isinstance(value, bool)
    number = Decimal(cast("int | Decimal", value)) if is_number else Decimal("NaN")
    if not number.is_finite() or abs(number) > Decimal(WIDEST):
        raise ValueError(f"{where}: {shown(value)} is no size: write one number, over 0 and up to {WIDEST:g} mm.")
