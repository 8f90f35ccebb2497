"""The digits of a print made anew since its holes were found off: what a phone can work out without any geometry.

Where a piece is made anew as its planned self with its holes moved, and nothing else about it is another, its print
follows from the digits as planned and from how far each hole was found off. So its digits are a checksum of these two:
the wall page shows them before there is a print. Where more is another (a hole that became a notch, this very tile's
own size), the digits are taken of the whole piece, as they are of a planned one, and no page knows them.
"""

from __future__ import annotations

import zlib
from collections.abc import Mapping, Sequence
from math import isclose

from msgspec.structs import replace

from cutmarks.geometry.frames import Vector
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.openings.found import AsFound
from cutmarks.openings.model import Cut, CutPiece
from cutmarks.openings.prints import cut_values
from cutmarks.sides import FourSides, Side
from cutmarks.units import SNAP_PER_MM

Off = tuple[int, int]
"""How far right and up a hole was found off, twice over, in millionths of a millimetre."""


def moved_digits(as_planned: str, off: Sequence[Off]) -> str:
    """The digits of a print as planned whose holes, in their order, have moved by so much.

    A CRC-32, as of a ZIP file: a few lines in any language, and two shifts of one hole never share digits by design.
    """
    if not any(right or up for right, up in off):
        return as_planned
    said = " ".join((as_planned, *(f"{right},{up}" for right, up in off)))
    return f"{zlib.crc32(said.encode('ascii')):08x}"


def made_anew(planned: Sequence[CutPiece], piece: CutPiece, record: Sequence[AsFound]) -> CutPiece:
    """The piece with the digits of its print, `record` being what was found of the holes of its place."""
    before = next((one for one in planned if one.name == piece.name), None)
    own = {one.hole: one for one in record if one.piece == piece.name}
    off = [moved_by(own.get(cut.opening.name)) for cut in piece.cuts]
    if before is None or not _only_moved(before, piece, off):
        return replace(piece, print_as_planned=None)
    return replace(piece, fingerprint=moved_digits(before.fingerprint, off), print_as_planned=before.fingerprint)


def moved_by(found: AsFound | None) -> Off:
    """How far a hole has moved on its sheet by what was found of it."""
    return found.twice_off if found is not None and found.moved else (0, 0)


def _only_moved(before: CutPiece, piece: CutPiece, off: Sequence[Off]) -> bool:
    """Whether a print shows nothing but what was planned, with its holes moved by so much."""
    same = len(before.cuts) == len(piece.cuts) and all(
        getattr(before, name) == getattr(piece, name) for name in ("piece", "words", "fixed", "edge_work", "notes")
    )
    return same and all(
        (cut.kind, cut.runs_out) == (anew.kind, anew.runs_out) and _alike(_shown(cut, by), _shown(anew, (0, 0)))
        for cut, anew, by in zip(before.cuts, piece.cuts, off, strict=True)
    )


def _shown(cut: Cut, by: Off) -> dict[str, object]:
    """What a print shows of a cut, its figures moved.

    Of which tile of the course below it is read, a print does not say; and how far a hole is from an edge that rakes
    follows from where it is.
    """
    right, up = (twice / (2 * SNAP_PER_MM) for twice in by)

    def from_side(side: Side, mm: float) -> float:
        return mm + (right if side.axis == "across" else up) * -side.sign

    moved = replace(
        cut,
        from_edges=FourSides.of(lambda side: from_side(side, cut.from_edges[side])),
        from_cut_edges=tuple((side, 0.0) for side, _ in cut.from_cut_edges),
        drill_at=tuple(point + Vector(right, up) for point in cut.drill_at),
        wall_checks=tuple(
            replace(check, near=0.0, far=0.0)
            if check.source.kind == "edge"
            else replace(
                check,
                source=replace(check.source, name="") if check.source.kind == "piece" else check.source,
                near=from_side(check.side, check.near),
                far=from_side(check.side, check.far),
            )
            for check in cut.wall_checks
        ),
    )
    return cut_values(moved)


def _alike(one: object, other: object) -> bool:
    """Whether two values are the same, lengths to within a touch."""
    if isinstance(one, int | float) and isinstance(other, int | float):
        # One was snapped before it was moved, the other after.
        return isclose(one, other, abs_tol=4 * TOUCH, rel_tol=0.0)
    if isinstance(one, Mapping) and isinstance(other, Mapping):
        return one.keys() == other.keys() and all(_alike(one[key], other[key]) for key in one)
    if isinstance(one, list | tuple) and isinstance(other, list | tuple):
        return len(one) == len(other) and all(map(_alike, one, other))
    return one == other
