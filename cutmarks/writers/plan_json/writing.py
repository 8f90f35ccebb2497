"""A plan as the bytes of plan.json: coordinates are rounded here and nowhere before.

A whole tile's measures add up in the file as well: from_left + from_right = w, from_bottom + from_top = h.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import asdict
from io import BytesIO
from typing import Any, BinaryIO, TypeVar

from cutmarks.checks.doubt import Sure
from cutmarks.checks.model import Finding
from cutmarks.geometry.frames import Frame, Point
from cutmarks.geometry.regions import Region
from cutmarks.geometry.rings import Ring
from cutmarks.geometry.shapes import Circle, Outline, Rect, Shape, Slot
from cutmarks.openings.found import AsFound
from cutmarks.openings.model import Cut, CutPiece, WallCheck
from cutmarks.plan import Penetration, Plan, SurfacePlan
from cutmarks.writers.disk import Digest
from cutmarks.writers.plan_json.models import (
    SCHEMA,
    FindingJson,
    FoundJson,
    JsonModel,
    PenetrationJson,
    PieceJson,
    PlanJson,
    SureJson,
    SurfaceJson,
)
from cutmarks.writers.plan_json.reading import sealed

DECIMALS = 6
"""Coordinates are rounded to 0.000001 mm, the width of one meeting in the geometry."""
BULGE_DECIMALS = 12
"""A bulge rounded so moves its arc by less than a coordinate's rounding does."""

F = TypeVar("F", bound=Frame)


def to_json(plan: Plan, files: Iterable[str], digests: Mapping[str, Digest] | None = None) -> bytes:
    """The file's bytes; see `write_json`."""
    out = BytesIO()
    write_json(plan, files, {} if digests is None else digests, out)
    return out.getvalue()


def write_json(plan: Plan, files: Iterable[str], digests: Mapping[str, Digest], out: BinaryIO) -> None:
    """Write the file, UTF-8, one entry of each list to a line; `files` names the whole output, plan.json included.

    `digests` are those of the other files. The entries are made one at a time: a change of one piece changes one line,
    and a large plan is not held twice. The last line seals all before it: see `reading.is_sealed`.
    """
    reckoned = hashlib.sha256()

    def put(text: str) -> None:
        data = text.encode()
        reckoned.update(data)
        out.write(data)

    lists: dict[str, tuple[type[JsonModel], Iterator[dict[str, Any]]]] = {
        "surfaces": (SurfaceJson, map(_surface, plan.surfaces)),
        "penetrations": (PenetrationJson, map(_penetration, plan.penetrations)),
        "pieces": (PieceJson, map(_piece, plan.pieces)),
        "findings": (FindingJson, map(_finding, plan.findings)),
        "sure": (SureJson, map(_sure, plan.sure)),
        "found": (FoundJson, map(_found, plan.found)),
    }
    frame = PlanJson.model_validate(
        {
            "schema": SCHEMA,
            "job": plan.job,
            "job_file": plan.job_file,
            "fingerprint": plan.fingerprint,
            "units": "mm",
            "files": sorted(files),
            "digests": {name: asdict(digest) for name, digest in sorted(digests.items())},
            "say": {**asdict(plan.say), "finest": str(plan.say.finest)},
            "counts": {
                surface.setout.name: {area.name: asdict(area.counts) for area in surface.areas}
                for surface in plan.surfaces
            },
            "assumed": list(plan.assumed),
            **{key: [] for key in lists},
            "seal": "",
        }
    )
    before = "{\n"
    for key, value in frame.model_dump(mode="json", by_alias=True, exclude={"seal"}).items():
        put(f"{before}{_text(key)}: ")
        before = ",\n"
        if key not in lists:
            put(_text(value))
            continue
        model, entries = lists[key]
        opening = "[\n"
        for entry in entries:
            put(f"{opening}{_text(model.model_validate(entry).model_dump(mode='json', by_alias=True))}")
            opening = ",\n"
        put("\n]" if opening == ",\n" else "[]")
    put(before)
    out.write(sealed(reckoned.hexdigest()))


def _text(value: object) -> str:
    return json.dumps(value, ensure_ascii=False, allow_nan=False)


def _number(value: float) -> float:
    """Rounded, and never a nought with a minus sign."""
    return round(value, DECIMALS) + 0.0


def _maybe(value: float | None) -> float | None:
    return None if value is None else _number(value)


def _xy(point: Point[F]) -> list[float]:
    return [_number(point.x), _number(point.y)]


def _ring(ring: Ring[F]) -> list[list[float]]:
    return [[_number(x), _number(y), round(bulge, BULGE_DECIMALS) + 0.0] for x, y, bulge in ring.vertices]


def _rings(region: Region[F]) -> list[list[list[float]]]:
    return [_ring(ring) for ring in region.rings]


def _shape(shape: Shape) -> dict[str, Any]:
    match shape:
        case Circle():
            return {"circle": {"d": _number(shape.d)}}
        case Rect():
            return {
                "rect": {
                    "w": _number(shape.w),
                    "h": _number(shape.h),
                    "lean": _number(shape.lean),
                    "r": _number(shape.r),
                }
            }
        case Slot():
            return {"slot": {"l": _number(shape.l), "w": _number(shape.w), "lean": _number(shape.lean)}}
        case Outline():
            return {"outline": _ring(Ring(shape.vertices))}


def _surface(surface: SurfacePlan) -> dict[str, Any]:
    setout = surface.setout
    return {
        "name": setout.name,
        "kind": setout.kind,
        "outline": None if setout.outline is None else _rings(setout.outline),
        "lines": [
            {"name": line.name, "fixes": line.fixes, "at": _number(line.at), "kind": line.kind, "words": line.words}
            for line in setout.lines.values()
        ],
        "edges": [
            {
                "side": edge.side,
                "measured": [_xy(point) for point in edge.measured],
                "gap": _number(edge.gap),
                "still_to_come": _maybe(edge.still_to_come),
                "clears": [_number(clear) for clear in edge.clears],
                "what": edge.what,
                "assumed": edge.assumed,
            }
            for edge in setout.edges.values()
        ],
    }


def _penetration(penetration: Penetration) -> dict[str, Any]:
    opening = penetration.opening
    return {
        "name": opening.name,
        "surface": opening.surface,
        "at": _xy(opening.at),
        "opening": _shape(opening.shape),
        "read_size": [_number(side) for side in opening.read_size],
        "pieces": list(penetration.pieces),
    }


def _piece(piece: CutPiece) -> dict[str, Any]:
    place = piece.piece
    size = (_number(place.tile.w), _number(place.tile.h))
    return {
        "name": piece.name,
        "surface": place.surface,
        "area": place.area,
        "course": place.course,
        "number": place.number,
        "part": piece.part,
        "grid": list(place.place),
        "tile": place.tile.name,
        "origin": [_number(place.tile_at.dx), _number(place.tile_at.dy)],
        "turn": _number(place.turn),
        "size": list(size),
        "sizes": None if piece.sizes is None else {side: _number(mm) for side, mm in piece.sizes.items()},
        "outline": _rings(piece.outline),
        "factory_edges": list(piece.factory_edges),
        "cut_edges": list(piece.cut_edges),
        "same_as": piece.same_as,
        "fingerprint": piece.fingerprint,
        "cuts": [_cut(cut, size) for cut in piece.cuts],
    }


def _cut(cut: Cut, size: Sequence[float]) -> dict[str, Any]:
    left, bottom = _number(cut.from_left), _number(cut.from_bottom)
    sides = None if cut.sides is None else dict(zip(("left", "right", "bottom", "top"), cut.sides, strict=True))
    return {
        "penetration": cut.opening.name,
        "kind": cut.kind,
        "shape": _shape(cut.opening.shape),
        "centre": _xy(cut.centre),
        "from_left": left,
        "from_right": _number(size[0] - left),
        "from_bottom": bottom,
        "from_top": _number(size[1] - bottom),
        "sides": None if sides is None else {side: _number(at) for side, at in sides.items()},
        "outline": _rings(cut.share),
        "web": {side: _maybe(getattr(cut.web, side)) for side in ("left", "right", "bottom", "top", "nearest")},
        "wall_check": [_wall_check(check) for check in cut.wall_checks],
        "mark_from": list(cut.mark_from),
        "from_cut_edges": {side: _number(value) for side, value in cut.from_cut_edges},
        "drilled": _drilled(cut),
    }


def _drilled(cut: Cut) -> dict[str, Any] | None:
    if cut.opening.drilled is None or not cut.drill_at:
        return None
    return {"core": _number(cut.opening.drilled.core), "at": [_xy(middle) for middle in cut.drill_at]}


def _wall_check(check: WallCheck) -> dict[str, Any]:
    return {
        "neighbour": check.neighbour,
        "side": check.side,
        "near": _number(check.near),
        "far": _number(check.far),
        "fixed": check.fixed,
    }


def _sure(sure: Sure) -> dict[str, Any]:
    doubt = sure.doubt
    return {
        "penetration": sure.hole,
        "piece": sure.piece,
        "chance": _number(sure.chance),
        "covariance": [_number(doubt.xx), _number(doubt.xy), _number(doubt.yy)],
    }


def _found(found: AsFound) -> dict[str, Any]:
    return {
        "penetration": found.hole,
        "piece": found.piece,
        "read": [
            {
                "side": read.side,
                "expected": [_number(mm) for mm in read.expected],
                "found": [_number(mm) for mm in read.found],
            }
            for read in found.reads
        ],
        "moved": [_number(mm) if found.moved else 0.0 for mm in found.differs],
        "tile": None if found.tile is None else [_number(mm) for mm in found.tile],
        "cut": found.cut,
        "date": found.date,
        "note": found.note,
    }


def _finding(finding: Finding) -> dict[str, Any]:
    return {
        "level": finding.level,
        "rule": finding.rule,
        "about": list(finding.about),
        "text": finding.text,
        "value": _maybe(finding.value),
        "limit": _maybe(finding.limit),
        "source": finding.source,
        "accepted": finding.accepted,
        "holds": finding.holds,
    }
