"""A plan as the bytes of plan.json: coordinates are rounded here and nowhere before.

A whole tile's measures add up in the file as well: from_left + from_right = w, from_bottom + from_top = h.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from io import BytesIO
from typing import Any, BinaryIO, TypeVar

from msgspec import to_builtins

from cutmarks.buying.flow import what_to_buy
from cutmarks.checks.doubt import Sure
from cutmarks.checks.model import Finding, Holds
from cutmarks.cutting.operations import HowCut
from cutmarks.geometry.frames import Frame, Point
from cutmarks.geometry.regions import Region
from cutmarks.geometry.rings import Ring
from cutmarks.geometry.shapes import Circle, Outline, Rect, Shape, Slot
from cutmarks.openings.edge_work import EdgeWork
from cutmarks.openings.found import AsFound, InfillFound
from cutmarks.openings.model import Cut, CutPiece, Infill, InfillEnd, Opening, WallCheck
from cutmarks.plan import Plan, Say, SurfacePlan
from cutmarks.plan.clearances import Clearance
from cutmarks.saying.findings import held
from cutmarks.writers.disk import Digest
from cutmarks.writers.number import exact, exact_vertices
from cutmarks.writers.plan_json.how_cut import how_cut_json
from cutmarks.writers.plan_json.models import (
    SCHEMA,
    ClearanceJson,
    FindingJson,
    FoundJson,
    InfillFoundJson,
    JsonModel,
    PenetrationJson,
    PieceJson,
    PlanJson,
    SureJson,
    SurfaceJson,
)
from cutmarks.writers.plan_json.reading import sealed

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
        "penetrations": (PenetrationJson, (_opening(plan, one) for one in plan.openings)),
        "pieces": (PieceJson, (_piece(plan, piece, held(plan, piece)) for piece in plan.pieces)),
        "findings": (FindingJson, map(_finding, plan.findings)),
        "sure": (SureJson, map(_sure, plan.sure)),
        "found": (FoundJson, map(_found, plan.found)),
        "clearances": (ClearanceJson, map(_clearance, plan.clearances)),
        "infills_found": (InfillFoundJson, map(_infill_found, plan.infills_found)),
    }
    frame = PlanJson.model_validate(
        {
            "schema": SCHEMA,
            "job": plan.job,
            "job_file": plan.job_file,
            "fingerprint": plan.fingerprint,
            "units": "mm",
            "files": sorted(files),
            "digests": {name: to_builtins(digest) for name, digest in sorted(digests.items())},
            "say": _say(plan.say),
            "counts": {
                surface.setout.name: {area.name: to_builtins(area.counts) for area in surface.areas}
                for surface in plan.surfaces
            },
            "to_buy": _to_buy(plan),
            "assumed": list(plan.assumed),
            "notes": list(plan.notes),
            "contact": plan.contact,
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


def _maybe(value: float | None) -> float | None:
    return None if value is None else exact(value)


def _xy(point: Point[F]) -> list[float]:
    return [exact(point.x), exact(point.y)]


def _ring(ring: Ring[F]) -> list[list[float]]:
    return [list(vertex) for vertex in exact_vertices(ring.vertices)]


def _rings(region: Region[F]) -> list[list[list[float]]]:
    return [_ring(ring) for ring in region.rings]


def _shape(shape: Shape) -> dict[str, Any]:
    match shape:
        case Circle():
            return {"circle": {"d": exact(shape.d)}}
        case Rect():
            return {
                "rect": {
                    "w": exact(shape.w),
                    "h": exact(shape.h),
                    "lean": exact(shape.lean),
                    "r": exact(shape.r),
                }
            }
        case Slot():
            return {"slot": {"l": exact(shape.l), "w": exact(shape.w), "lean": exact(shape.lean)}}
        case Outline():
            return {"outline": _ring(Ring(shape.vertices))}


def _say(say: Say) -> dict[str, Any]:
    return {
        "words": say.words,
        "units": say.style.unit.value,
        "finest": str(say.style.finest),
        "paper": say.paper,
        "margin": say.margin,
        "cut": say.cut,
    }


def _to_buy(plan: Plan) -> dict[str, Any]:
    bought = what_to_buy(plan)
    return {
        "tiles": [
            {
                "tile": need.tile,
                "whole": need.whole,
                "cut": need.cut,
                "shared": [list(tile.pieces) for tile in need.shared],
                "exact": need.step == 0.0,
                "holed": need.holed,
                "spare_holed": need.spare_holed,
                "spare_cut": need.spare_cut,
                "total": need.total,
                "box": need.box,
                "boxes": need.boxes,
                "have": need.have,
            }
            for need in bought.tiles
        ],
        "adhesive": [
            {
                "tile": one.tile,
                "area": exact(one.area),
                "bed": exact(one.bed),
                "skim": exact(one.skim),
                "litres": exact(one.litres),
                "bags": one.bags,
            }
            for one in bought.adhesive
        ],
        "grout": [
            {
                "tile": one.tile,
                "area": exact(one.area),
                "joint": exact(one.joint),
                "depth": exact(one.depth),
                "litres": exact(one.litres),
                "bags": one.bags,
            }
            for one in bought.grout
        ],
        "silicone": [{"width": exact(one.width), "length": exact(one.length)} for one in bought.silicone],
    }


def _surface(surface: SurfacePlan) -> dict[str, Any]:
    setout = surface.setout
    return {
        "name": setout.name,
        "kind": setout.kind,
        "outline": None if setout.outline is None else _rings(setout.outline),
        "lines": [
            {"name": line.name, "fixes": line.fixes, "at": exact(line.at), "kind": line.kind, "words": line.words}
            for line in setout.lines.values()
        ],
        "edges": [
            {
                "side": edge.side,
                "measured": [_xy(point) for point in edge.measured],
                "gap": exact(edge.gap),
                "still_to_come": _maybe(edge.still_to_come),
                "clears": [exact(clear) for clear in edge.clears],
                "what": edge.what,
                "assumed": edge.assumed,
            }
            for edge in setout.edges.values()
        ],
    }


def _opening(plan: Plan, opening: Opening) -> dict[str, Any]:
    return {
        "name": opening.name,
        "surface": opening.surface,
        "at": _xy(opening.at),
        "opening": _shape(opening.shape),
        "read_size": None if opening.read_size is None else [exact(side) for side in opening.read_size],
        "pieces": list(plan.pieces_met[opening.name]),
    }


def _piece(plan: Plan, piece: CutPiece, stopped: Holds | None) -> dict[str, Any]:
    place = piece.piece
    size = (exact(place.tile.w), exact(place.tile.h))
    return {
        "name": piece.name,
        "surface": place.surface,
        "area": place.area,
        "course": place.course,
        "number": place.number,
        "part": piece.part,
        "day": piece.rank.day,
        "grid": list(place.place),
        "tile": place.tile.name,
        "origin": [exact(place.tile_at.dx), exact(place.tile_at.dy)],
        "turn": exact(place.turn),
        "size": list(size),
        "sizes": None if piece.sizes is None else {side: exact(mm) for side, mm in piece.sizes.items()},
        "outline": _rings(piece.outline),
        "factory_edges": list(piece.factory_edges),
        "cut_edges": list(piece.cut_edges),
        "how_cut": how_cut_json(plan.how_cut.get(piece.name, HowCut()), piece, plan.say.style),
        "same_as": piece.same_as,
        "fingerprint": piece.fingerprint,
        "stopped": stopped,
        "infills": [_infill(infill) for infill in piece.infills],
        "unread": [to_builtins(one) for one in piece.unread],
        "cuts": [_cut(cut, size) for cut in piece.cuts],
        "edge_work": [_edge_work(work) for work in piece.edge_work],
        "notes": list(piece.notes),
    }


def _edge_work(work: EdgeWork) -> dict[str, Any]:
    return {
        "side": work.side,
        "at": work.at,
        "finish": work.finish,
        "corner": None if work.corner is None else {"way": work.corner.way, "trim": exact(work.corner.wide)},
        "mitred": work.is_mitred,
        "back_short": _maybe(work.short),
        "hidden_by": work.hidden_by,
        "hidden": _maybe(work.hidden),
    }


def _cut(cut: Cut, size: Sequence[float]) -> dict[str, Any]:
    left, bottom = exact(cut.from_edges.left), exact(cut.from_edges.bottom)
    sides = None if cut.sides is None else dict(zip(("left", "right", "bottom", "top"), cut.sides, strict=True))
    return {
        "penetration": cut.opening.name,
        "kind": cut.kind,
        "shape": _shape(cut.opening.shape),
        "centre": _xy(cut.centre),
        "from_left": left,
        "from_right": exact(size[0] - left),
        "from_bottom": bottom,
        "from_top": exact(size[1] - bottom),
        "sides": None if sides is None else {side: exact(at) for side, at in sides.items()},
        "outline": _rings(cut.share),
        "web": {side: _maybe(getattr(cut.web, side)) for side in ("left", "right", "bottom", "top", "nearest")},
        "wall_check": [_wall_check(check) for check in cut.wall_checks],
        "unread": {unread.axis: unread.reached or None for unread in cut.unread},
        "mark_from": list(cut.mark_from),
        "from_cut_edges": {side: exact(value) for side, value in cut.from_cut_edges},
        "drilled": _drilled(cut),
    }


def _infill_found(found: InfillFound) -> dict[str, Any]:
    return {
        "piece": found.piece,
        "side": found.expected.side,
        "past": found.expected.past,
        "expected": _ends(found.expected.ends),
        "found": _ends(found.ends),
        "cut": found.cut,
        "date": found.date,
        "note": found.note,
    }


def _ends(ends: Iterable[InfillEnd]) -> list[dict[str, Any]]:
    return [{"at": end.at, "opening": exact(end.opening), "cut": exact(end.cut)} for end in ends]


def _infill(infill: Infill) -> dict[str, Any]:
    return {
        "side": infill.side,
        "from": {infill.source.kind: infill.source.name},
        "to": infill.to,
        "ends": _ends(infill.ends),
        "off": [{"what": off.what, "mm": exact(off.mm)} for off in infill.off],
        "past": infill.past,
    }


def _drilled(cut: Cut) -> dict[str, Any] | None:
    if cut.opening.drilled is None or not cut.drill_at:
        return None
    return {"core": exact(cut.opening.drilled.core), "at": [_xy(middle) for middle in cut.drill_at]}


def _wall_check(check: WallCheck) -> dict[str, Any]:
    return {
        "from": {check.source.kind: check.source.name},
        "side": check.side,
        "near": exact(check.near),
        "far": exact(check.far),
        "fixed": check.fixed,
    }


def _sure(sure: Sure) -> dict[str, Any]:
    doubt = sure.doubt
    return {
        "penetration": sure.hole,
        "piece": sure.piece,
        "chance": exact(sure.chance),
        "covariance": [exact(doubt.xx), exact(doubt.xy), exact(doubt.yy)],
    }


def _found(found: AsFound) -> dict[str, Any]:
    return {
        "penetration": found.hole,
        "piece": found.piece,
        "read": [
            {
                "side": read.side,
                "expected": [exact(mm) for mm in read.expected],
                "found": [exact(mm) for mm in read.found],
            }
            for read in found.reads
        ],
        "moved": [exact(mm) if found.moved else 0.0 for mm in found.differs],
        "tile": None if found.tile is None else [exact(mm) for mm in found.tile],
        "cut": found.cut,
        "date": found.date,
        "by": found.by,
        "note": found.note,
    }


def _clearance(one: Clearance) -> dict[str, Any]:
    near, deep = one.neighbour, one.deep
    return {
        "penetration": one.opening.name,
        "finished": {side: _maybe(mm) for side, mm in one.finished.items()},
        "behind_face": None if deep is None else _maybe(deep.behind),
        "nearest": None if near is None else near.name,
        "between": None if near is None else exact(near.between),
        "service": _maybe(one.opening.service),
        "clear": _maybe(one.clear),
        "passes": one.passes,
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
