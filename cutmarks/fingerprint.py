"""Eight hex digits that change when what was read, or what is to be cut, changes; and never otherwise."""

from __future__ import annotations

import hashlib
import json
import math
from collections.abc import Mapping

DIGITS = 8
"""Short enough to compare by eye; among a thousand pieces, two agree by chance in one job of 8600."""


def fingerprint_of(value: object) -> str:
    """The first eight hex digits of the SHA-256 of `canonical_json(value)`.

    Raises:
        TypeError: something in `value` is no JSON value.
        ValueError: a number in it is not finite.
    """
    return hashlib.sha256(canonical_json(value).encode("ascii")).hexdigest()[:DIGITS]


def canonical_json(value: object) -> str:
    r"""One text for one value: keys sorted by code point, no spaces, ASCII alone, 80.0 as 80 and -0.0 as 0.

    Takes None, bool, int, float, str, mappings with text keys, lists and tuples. Numbers are not rounded: a caller
    who wants two readings to be one rounds them first.

    Raises:
        TypeError: something in `value` is no JSON value.
        ValueError: a number in it is not finite.

    >>> canonical_json({"b": [80.0, -0.0], "a": "½"})
    '{"a":"\\u00bd","b":[80,0]}'
    """
    return _ENCODER.encode(_plain(value))


_ENCODER = json.JSONEncoder(sort_keys=True, separators=(",", ":"), ensure_ascii=True, allow_nan=False)


def _plain(value: object) -> object:
    """`value` with every number in its one form and every sequence a list."""
    if isinstance(value, list | tuple):
        # Most of it is lists of plain figures and words: nothing is called for each of these.
        return [
            (int(entry) if entry.is_integer() else entry)
            if type(entry) is float and math.isfinite(entry)
            else entry
            if type(entry) is str
            else _plain(entry)
            for entry in value
        ]
    if isinstance(value, float):
        if not math.isfinite(value):
            raise ValueError(f"{value!r} is not a finite number: it has no fingerprint")
        return int(value) if value.is_integer() else value
    if isinstance(value, str | int) or value is None:
        return value
    if isinstance(value, Mapping):
        for key in value:
            if not isinstance(key, str):
                raise TypeError(f"the key {key!r} is not text: it has no fingerprint")
        return {key: _plain(entry) for key, entry in value.items()}
    raise TypeError(f"{type(value).__name__} is no JSON value: it has no fingerprint")
