"""Pieces by their short names, those that follow one another as a run: "1-7 to 6-7"."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

MOST_NAMES = 7
"""So many pieces, or runs of them, are named one by one."""
_NAME = re.compile(r"(.*?)((?:under )?)(\d+)-(\d+)([a-z]*)$")
"""A piece's name: its area, whether it lies under the base, course, number and part."""


def named(pieces: Sequence[str], several: bool) -> str:
    """The pieces, without their area where there is one alone; those that follow each other as "1-7 to 6-7"."""
    runs: list[list[str]] = []
    for name in pieces:
        before = runs[-1] if runs else []
        if before and _follows(before[-1], name) and (len(before) == 1 or _same_way(before[-2], before[-1], name)):
            before.append(name)
        else:
            runs.append([name])
    said = list(_runs_said(runs, several))
    if len(said) <= MOST_NAMES:
        return ", ".join(said)
    return f"{', '.join(said[: MOST_NAMES - 1])} ... {said[-1]}, {len(pieces)} in all"


def _runs_said(runs: Sequence[Sequence[str]], several: bool) -> Iterator[str]:
    """Each run as "1-7 to 6-7"; its area before it where there are several, and it is another than before."""
    before = ""
    for run in runs:
        first, last = (_NAME.sub(r"\2\3-\4\5", name) for name in (run[0], run[-1]))
        area = area_of(run[0]) if several else ""
        said = first if len(run) == 1 else f"{first}, {last}" if len(run) == 2 else f"{first} to {last}"
        yield f"{area} {said}" if area != before else said
        before = area


def area_of(name: str) -> str:
    """The area in a piece's name."""
    return _NAME.sub(r"\1", name).strip()


def course_of(name: str) -> str:
    """The course in a piece's name: "3", "under 1"."""
    return _NAME.sub(r"\2\3", name)


def _counted(name: str) -> tuple[str, int, int] | None:
    """Area and side of the base, course and number of a whole name; None of a part, or where it counts otherwise."""
    found = _NAME.fullmatch(name)
    return None if found is None or found[5] else (f"{found[1]}{found[2]}", int(found[3]), int(found[4]))


def _step(before: str, after: str) -> tuple[int, int] | None:
    one, other = _counted(before), _counted(after)
    if one is None or other is None or one[0] != other[0]:
        return None
    return other[1] - one[1], other[2] - one[2]


def _follows(before: str, after: str) -> bool:
    """Whether a piece is the next one up or down, or the next one along."""
    return _step(before, after) in ((1, 0), (-1, 0), (0, 1), (0, -1))


def _same_way(first: str, second: str, third: str) -> bool:
    return _step(first, second) == _step(second, third)
