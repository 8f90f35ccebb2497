"""What a print of a piece depends on, as plain values: change any of it and an old print is stale.

Values and no names of ours: a class that is called otherwise tomorrow makes no print on a site stale.
"""

from __future__ import annotations

from functools import lru_cache

from msgspec.structs import replace

from cutmarks.fingerprint import fingerprint_of
from cutmarks.geometry.frames import F, Point
from cutmarks.geometry.regions import Region
from cutmarks.geometry.rings import Ring, Vertex
from cutmarks.geometry.shapes import Circle, Outline, Rect, Shape, Slot
from cutmarks.openings.model import Cover, Cut, CutPiece, WallCheck

Values = list[object] | tuple[object, ...]


def print_of(piece: CutPiece) -> str:
    """The fingerprint of a piece: its name and place in words, its tile, and all that is marked, cut and read on it."""
    tile = piece.piece.tile
    return fingerprint_of(
        {
            "piece": piece.name,
            "place": piece.words,
            "tile": [tile.name, _mm(tile.w), _mm(tile.h)],
            "fixed": [piece.fixed.across, piece.fixed.up],
            "outline": _rings(piece.outline),
            "cuts": [cut_values(cut) for cut in piece.cuts],
            # A print of a piece of which nothing of this is said stays good.
            **({"edge work": [work.values for work in piece.edge_work]} if piece.edge_work else {}),
            **({"notes": list(piece.notes)} if piece.notes else {}),
        }
    )


def printed(piece: CutPiece) -> CutPiece:
    """The piece as it is planned, with the digits of its print."""
    digits = print_of(piece)
    return replace(piece, fingerprint=digits, print_as_planned=digits)


def shape_key(piece: CutPiece) -> tuple[object, ...]:
    """Two pieces with the same key are cut alike: tile, finished outline, the openings' centres and shapes, edges."""
    return (
        piece.piece.tile.name,
        _rings(piece.outline),
        tuple((*_point(cut.centre), _shape(cut.opening.shape)) for cut in piece.cuts),
        tuple(work.values for work in piece.edge_work),
    )


def cut_values(cut: Cut) -> dict[str, object]:
    """What is marked, cut, drilled, covered and read at one opening."""
    opening = cut.opening
    return {
        "name": opening.name,
        "at": _point(cut.centre),
        "shape": _shape(opening.shape),
        "core": None if opening.core is None else _mm(opening.core),
        "drill": None if opening.drilled is None else [_mm(opening.drilled.core), *map(_point, cut.drill_at)],
        "cover": _cover(opening.cover),
        "keep clear": _cover(opening.keep_clear),
        "may be": None if opening.you_may_be is None else _mm(opening.you_may_be),
        "from": list(cut.mark_from),
        "from cut edges": [[side, _mm(measure)] for side, measure in cut.from_cut_edges],
        "wall": [_read(check) for check in cut.wall_checks if check.fixed],
    }


def _read(check: WallCheck) -> Values:
    return [check.source.kind, check.source.name, check.side, _mm(check.near), _mm(check.far)]


def _shape(shape: Shape) -> Values:
    match shape:
        case Circle(d):
            return ("round", _mm(d))
        case Rect(w, h, lean, r):
            return ("box", _mm(w), _mm(h), _mm(lean), _mm(r))
        case Slot(length, w, lean):
            return ("slot", _mm(length), _mm(w), _mm(lean))
        case Outline(vertices):
            return ("outline", _outlined(vertices))


@lru_cache(maxsize=64)
def _outlined(vertices: tuple[Vertex, ...]) -> Values:
    """A long outline is on many tiles."""
    return Ring(vertices).rounded


def _cover(cover: Cover | None) -> Values | None:
    if cover is None:
        return None
    return ("round", _mm(cover.w)) if cover.round else ("oblong", _mm(cover.w), _mm(cover.h))


def _rings(region: Region[F]) -> Values:
    return tuple(ring.rounded for ring in region.rings)


def _point(point: Point[F]) -> Values:
    return (_mm(point.x), _mm(point.y))


def _mm(value: float) -> float:
    """A length as far as it decides; nothing is marked or cut to a millionth."""
    return round(value, 6)
