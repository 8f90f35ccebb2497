"""File names that every disk keeps apart: lower case ASCII, unique after case folding.

A file that leaves the folder alone is told by its name: the job, the piece, and the piece's fingerprint, which is the
print's own. The fingerprint does not depend on the job, so that a job may get another name and its prints stay good;
two rooms with equal tiles and equal holes have equal ones, and are told apart by the job. What is in two files of one
name is therefore the same drawing, as often.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Sequence

from cutmarks.fingerprint import DIGITS, fingerprint_of
from cutmarks.openings.model import CutPiece

_LONGEST = 60
_LONGEST_JOB, _LONGEST_AREA = 40, 32
"""With these a whole name stays under 150 characters, its folder included: a zip or a mail takes it as it is."""
_BESIDE = "__"
"""Between job and piece, and nowhere else: "flat 1" with an area "2 left" is not "flat 1 2" with one called "left"."""
_RESERVED = {"con", "prn", "aux", "nul"} | {f"{port}{n}" for port in ("com", "lpt") for n in range(1, 10)}
"""Names that Windows keeps for devices, whatever the ending."""
_SPELT = str.maketrans({"ß": "ss", "æ": "ae", "œ": "oe", "ø": "o", "ł": "l", "đ": "d", "þ": "th", "ð": "d"})


def safe_name(text: str, longest: int = _LONGEST, nameless: str = "piece") -> str:
    """The text as part of a file name: a to z, 0 to 9, "-" and "_" alone, of at most `longest` and never empty.

    `nameless` stands where none of its letters can be spelt so.

    >>> safe_name("Küche, links")
    'kuche_links'
    >>> safe_name("../CON")
    'con_'
    """
    spelt = unicodedata.normalize("NFKD", text.casefold().translate(_SPELT))
    plain = spelt.encode("ascii", "ignore").decode("ascii")
    name = re.sub(r"[^a-z0-9-]+", "_", plain).strip("_-")[:longest].rstrip("_-") or nameless
    return f"{name}_" if name in _RESERVED else name


def job_stem(job: str) -> str:
    """The job as the beginning of its files' names: with eight more digits where its name does not stand in it whole.

    So two jobs whose names differ at their far end, or in letters that ASCII has not, have files of other names.
    Capitals, blanks and commas alone do not make another job.

    >>> job_stem("Quay Cottage, laundry")
    'quay_cottage_laundry'
    >>> job_stem("Küche")
    'kuche_8e2cfdc1'
    """
    plain = " ".join(unicodedata.normalize("NFC", job).casefold().replace(",", " ").split())
    whole = safe_name(job, nameless="job")
    if len(whole) <= _LONGEST_JOB and whole.replace("_", " ") == plain:
        return whole
    short = safe_name(job, _LONGEST_JOB - DIGITS - 1, "job")
    return f"{short.rstrip('_')}_{fingerprint_of(plain)}"


def file_stems(job: str, pieces: Sequence[CutPiece]) -> dict[str, str]:
    """For each piece's name the beginning of its files' names: "splash 3-7" gives "quay_cottage__splash_3-07".

    Two names that come out alike are numbered in the order of `pieces`.
    """
    of_job = job_stem(job)
    stems = unique(f"{of_job}{_BESIDE}{_stem(piece)}" for piece in pieces)
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
    number = piece.piece.name.rpartition("-")[2]
    counted = f"{int(number):02d}" if number.isdigit() else number  # so that a folder lists 3-2 before 3-10
    # The place whole, however long the area's name.
    place = safe_name(f"{piece.piece.course_said}-{counted}{piece.part or ''}")
    return f"{safe_name(piece.piece.area, _LONGEST_AREA)}_{place}"
