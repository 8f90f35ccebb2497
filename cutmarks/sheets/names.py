"""File names that every disk keeps apart: lower case ASCII, unique after case folding."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Sequence

from cutmarks.openings.model import CutPiece

_LONGEST = 60
_RESERVED = {"con", "prn", "aux", "nul"} | {f"{port}{n}" for port in ("com", "lpt") for n in range(1, 10)}
"""Names that Windows keeps for devices, whatever the ending."""
_SPELT = str.maketrans({"ß": "ss", "æ": "ae", "œ": "oe", "ø": "o", "ł": "l", "đ": "d", "þ": "th", "ð": "d"})


def safe_name(text: str) -> str:
    """The text as part of a file name: a to z, 0 to 9, "-" and "_" alone, never empty.

    >>> safe_name("Küche, links")
    'kuche_links'
    >>> safe_name("../CON")
    'con_'
    """
    spelt = unicodedata.normalize("NFKD", text.casefold().translate(_SPELT))
    plain = spelt.encode("ascii", "ignore").decode("ascii")
    name = re.sub(r"[^a-z0-9_-]+", "_", plain).strip("_-")[:_LONGEST].rstrip("_-") or "piece"
    return f"{name}_" if name in _RESERVED else name


def file_stems(pieces: Sequence[CutPiece]) -> dict[str, str]:
    """For each piece's name the beginning of its files' names: "splash 3-7" gives "splash_3-07".

    Two names that come out alike are numbered in the order of `pieces`.
    """
    stems = unique(_stem(piece) for piece in pieces)
    return {piece.name: stem for piece, stem in zip(pieces, stems, strict=True)}


def unique(names: Iterable[str]) -> list[str]:
    """The names, later ones that are taken already with _2, _3 ... behind.

    >>> unique(["a", "a", "a_2"])
    ['a', 'a_2', 'a_2_2']
    """
    taken: set[str] = set()
    result = []
    for name in names:
        candidate, count = name, 1
        while candidate in taken:
            count += 1
            candidate = f"{name}_{count}"
        taken.add(candidate)
        result.append(candidate)
    return result


def _stem(piece: CutPiece) -> str:
    course, number = piece.piece.name.rpartition(" ")[2].split("-")
    counted = f"{int(number):02d}" if number.isdigit() else number  # so that a folder lists 3-2 before 3-10
    return safe_name(f"{piece.piece.area}_{course}-{counted}{piece.part or ''}")
