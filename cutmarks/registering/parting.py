"""No sheet has more than two cuts: a template's panels have room for the figures of two."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from msgspec.structs import replace

from cutmarks.openings.model import CutPiece
from cutmarks.registering.candidates import MOST_CUTS
from cutmarks.registering.layouts import SheetField, sheets_to
from cutmarks.registering.model import Registration
from cutmarks.registering.sides import span


def parted(piece: CutPiece, sheets: Sequence[Registration], fields: Sequence[SheetField]) -> Iterator[Registration]:
    """The sheets with those of more than two cuts made two or more, each with cuts that lie near each other.

    `fields` are those of the layouts. The order of the first cuts is kept.
    """
    found = []
    for sheet in sheets:
        if len(sheet.cuts) <= MOST_CUTS:
            found.append(sheet)
            continue
        found += [_with(piece, sheet, cuts, fields) for cuts in _near_each_other(piece, sheet.cuts)]
    yield from sorted(found, key=lambda sheet: min(sheet.cuts))


def _near_each_other(piece: CutPiece, cuts: Sequence[int]) -> Iterator[tuple[int, ...]]:
    """The cuts in pairs, from the first on each with the nearest that is left."""
    left = sorted(cuts)
    while left:
        first = left.pop(0)
        at = piece.spots[first].centre
        others = sorted(
            left, key=lambda index: math.hypot(piece.spots[index].centre.x - at.x, piece.spots[index].centre.y - at.y)
        )
        pair = (first, *others[: MOST_CUTS - 1])
        left = [index for index in left if index not in pair]
        yield pair


def _with(piece: CutPiece, sheet: Registration, cuts: tuple[int, ...], fields: Sequence[SheetField]) -> Registration:
    """The same sheet with some of its cuts alone; of joined ones as many as these take."""
    if sheet.how != "joined":
        return replace(sheet, cuts=cuts)
    field = next(one for one in fields if one.layout == sheet.layout)
    columns, rows = (
        max(sheets_to(span(piece.spots[index], piece, side)[1], field, side.axis) for index in cuts)
        for side in sheet.edges
    )
    return replace(sheet, cuts=cuts, columns=columns, rows=rows)
