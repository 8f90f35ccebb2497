"""holes.csv and pieces.csv: the lists as a spreadsheet or a shop's program reads them (`csv_table`).

Figures are millimetres to 0.001 with a point; an inch job has its figures as on paper beside them, with "in" behind,
so that no spreadsheet takes 1/2 for a date.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from types import MappingProxyType

from cutmarks.checks.model import SAID, Finding
from cutmarks.geometry.shapes import Rect, Slot
from cutmarks.openings.model import Cut, CutPiece, Opening, WallCheck
from cutmarks.plan import Plan
from cutmarks.saying.edge_work import edge_work_words
from cutmarks.saying.figures import cover_words, four_measures, trimmed_size
from cutmarks.saying.findings import figures_held, findings_of, held_words, size_held
from cutmarks.saying.how_cut import how_in_short, to_cut
from cutmarks.saying.infills import infill_lines
from cutmarks.saying.measures import figures_shown, to_mark
from cutmarks.sides import ON_AXIS, SIDES
from cutmarks.units import Style, Unit
from cutmarks.writers.csv_table import DECIMALS, OF_JOB, CsvRow, csv_bytes, four_mm, mm, of_job
from cutmarks.writers.number import number
from cutmarks.writers.shop_drawing import DrawingEntry

SHA_DIGITS = 16
"""So much of a file's SHA-256 is enough to tell two versions of it apart."""
MM2_PER_CM2 = 100.0
NO_SHEETS: Mapping[str, str] = MappingProxyType({})


def holes_csv(plan: Plan) -> bytes:
    """One row for each opening's share in each piece, in the order of the plan."""
    style = plan.say.style
    return csv_bytes(
        _HOLES + (_HOLES_ON_PAPER if style.unit is Unit.INCH else ()),
        (_hole(plan, piece, cut, style) for piece in plan.pieces for cut in piece.cuts),
    )


def pieces_csv(plan: Plan, drawings: Sequence[DrawingEntry] = (), sheets: Mapping[str, str] = NO_SHEETS) -> bytes:
    """One row for each piece that is not a whole tile; quantities stand with the first of those that are cut alike.

    `sheets` has the numbers of each piece's templates, in words.
    """
    style = plan.say.style
    drawn = {name: drawing for drawing in drawings for name in drawing.made_of}
    alike: dict[str, int] = {}
    for piece in plan.pieces:
        first = piece.same_as or piece.name
        alike[first] = alike.get(first, 0) + 1
    return csv_bytes(
        _PIECES + (_PIECES_ON_PAPER if style.unit is Unit.INCH else ()),
        ({**_piece(plan, piece, alike, drawn, style), "sheets": sheets.get(piece.name, "")} for piece in plan.pieces),
    )


_HOLES = (
    *OF_JOB,
    "surface",
    "piece",
    "where",
    "hole",
    "what",
    "kind",
    "tile w mm",
    "tile h mm",
    "from left mm",
    "from right mm",
    "from bottom mm",
    "from top mm",
    "mark from",
    "mark across mm",
    "mark across to mm",
    "mark up mm",
    "mark up to mm",
    "stop",
    "from cut edges mm",
    "left side at mm",
    "right side at mm",
    "lower side at mm",
    "upper side at mm",
    "opening w mm",
    "opening h mm",
    "opening leans degrees",
    "core mm",
    "how the size came about",
    "cover mm",
    "you may be mm",
    "tile left at left mm",
    "tile left at right mm",
    "tile left at bottom mm",
    "tile left at top mm",
    "tile left nearest mm",
    "wall across from",
    "wall across near mm",
    "wall across far mm",
    "wall up from",
    "wall up near mm",
    "wall up far mm",
    "before you cut",
    "note",
)
_HOLES_ON_PAPER = ("from left", "from right", "from bottom", "from top", "mark across", "mark up", "cover")
_PIECES = (
    *OF_JOB,
    "surface",
    "piece",
    "where",
    "quantity",
    "same as",
    "area",
    "course",
    "number",
    "part",
    "tile",
    "tile w mm",
    "tile h mm",
    "thickness mm",
    "material",
    "face",
    "shade",
    "calibre",
    "batch",
    "width at bottom mm",
    "width at top mm",
    "height at left mm",
    "height at right mm",
    "over all w mm",
    "over all h mm",
    "factory edges",
    "cut edges",
    "edge work",
    "stop",
    "holes",
    "contours",
    "cut length mm",
    "area cm2",
    "sheets",
    "drawing",
    "sha-256",
    "drawing of open cut paths",
    "drawn as",
    "how it is cut",
    "read",
    "before you cut",
    "notes",
    "fingerprint",
)
_PIECES_ON_PAPER = ("size",)


def _hole(plan: Plan, piece: CutPiece, cut: Cut, style: Style) -> CsvRow:
    opening, tile = cut.opening, piece.piece.tile
    wide, high, lean = _own_size(opening, piece.piece.turn)
    row = {
        **of_job(plan),
        "surface": opening.surface,
        "piece": piece.name,
        "where": piece.words,
        "hole": opening.name,
        "what": opening.what,
        "kind": cut.kind,
        "tile w mm": mm(tile.w),
        "tile h mm": mm(tile.h),
        "stop": held_words(plan, piece),
        "opening w mm": mm(wide),
        "opening h mm": mm(high),
        "opening leans degrees": "" if lean is None else number(lean, DECIMALS),
        "core mm": mm(opening.core),
        "how the size came about": opening.why,
        "cover mm": _cover(opening),
        "you may be mm": mm(opening.you_may_be),
        "tile left nearest mm": mm(cut.web.nearest),
        "before you cut": _findings(findings_of(plan, piece)),
        "note": opening.note,
        "cover": _inches(cover_words(opening, style)),
    }
    for side in SIDES:
        row[f"tile left at {side} mm"] = mm(cut.web.beside[side])
    if not figures_held(plan, piece):
        row.update(_marked(piece, cut, style))
    for axis in ON_AXIS:
        check = next((check for check in cut.wall_checks if check.fixed and check.side.axis == axis), None)
        row.update(_wall(axis, check))
    for unread in cut.unread:
        row[f"wall {unread.axis} from"] = f"{unread.reached}: carry its cut over" if unread.reached else "nothing yet"
    return row


def _marked(piece: CutPiece, cut: Cut, style: Style) -> CsvRow:
    """The figures that a cut is marked by, as on its template, and where its middle and its sides lie on the tile."""
    tile = piece.piece.tile
    row = {
        "mark from": ", ".join(cut.mark_from),
        "from cut edges mm": ", ".join(f"{side} {mm(at)}" for side, at in cut.from_cut_edges),
    }
    for side, at in four_mm(cut.from_edges, tile.w, tile.h).items():
        row[f"from {side} mm"] = at
    for side, shown in four_measures(cut, piece, style).items():
        row[f"from {side}"] = _inches(shown)
    for measure in to_mark(cut, piece):
        axis = measure.side.axis
        row[f"mark {axis} mm"] = mm(measure.values[0])
        row[f"mark {axis} to mm"] = mm(measure.values[1]) if len(measure.values) > 1 else ""
        row[f"mark {axis}"] = _inches(f"{figures_shown(measure, piece, style)} from the {measure.side}")
    if cut.sides is not None:
        for heading, lies in zip(("left", "right", "lower", "upper"), cut.sides, strict=True):
            row[f"{heading} side at mm"] = mm(lies)
    return row


def _own_size(opening: Opening, turn: float) -> tuple[float, float, float | None]:
    """Width and height along the opening's own sides, mm, and how it leans on a tile turned by `turn`, degrees.

    Of a round one, or an outline, its width and height on the surface, and None.
    """
    match opening.shape:
        case Rect(w=w, h=h, lean=lean) | Slot(l=w, w=h, lean=lean):
            return w, h, lean - turn
        case _:
            return opening.ring.bounds.width, opening.ring.bounds.height, None


def _wall(axis: str, check: WallCheck | None) -> CsvRow:
    if check is None:
        return {}
    return {
        f"wall {axis} from": f"{check.source.called} ({check.side}){', to its middle' if check.to_middle else ''}",
        f"wall {axis} near mm": mm(check.near),
        f"wall {axis} far mm": mm(check.far),
    }


def _piece(
    plan: Plan, piece: CutPiece, alike: Mapping[str, int], drawn: Mapping[str, DrawingEntry], style: Style
) -> CsvRow:
    place, tile = piece.piece, piece.piece.tile
    row = {
        **of_job(plan),
        "surface": place.surface,
        "piece": piece.name,
        "where": piece.words,
        "quantity": "" if piece.same_as else str(alike[piece.name]),
        "same as": piece.same_as or "",
        "area": place.area,
        "course": place.course_said,
        "number": str(place.number),
        "part": piece.part or "",
        "tile": tile.name,
        "tile w mm": mm(tile.w),
        "tile h mm": mm(tile.h),
        "thickness mm": mm(tile.thickness),
        "material": tile.material,
        "face": f"{tile.face}, bevelled" if tile.bevelled else tile.face,
        "shade": tile.shade,
        "calibre": tile.calibre,
        "batch": tile.batch,
        "factory edges": ", ".join(piece.factory_edges),
        "cut edges": ", ".join(piece.cut_edges),
        "edge work": "; ".join(edge_work_words(piece, style)),
        "holes": ", ".join(cut.opening.name for cut in piece.cuts),
        "area cm2": number(sum(ring.area for ring in piece.outline.rings) / MM2_PER_CM2, DECIMALS),
        "how it is cut": how_in_short(to_cut(plan, piece), piece, style),
        "read": "; ".join(infill_lines(plan, piece)),
        "before you cut": _findings(findings_of(plan, piece)),
        "notes": " | ".join(piece.notes),
        "fingerprint": piece.fingerprint,
        "stop": held_words(plan, piece),
    }
    if not size_held(plan, piece):
        row.update(_size_to_trim_to(plan, piece, style))
    drawing = drawn.get(piece.name)
    if drawing is not None:
        cutting = plan.cuttings[piece.name]
        row |= {
            "contours": str(len(cutting.contours)),
            "cut length mm": mm(cutting.length),
            "drawing": drawing.name,
            "sha-256": drawing.sha256[:SHA_DIGITS],
            "drawing of open cut paths": drawing.open_name,
            "drawn as": "nominal, no kerf; face view",
        }
    return row


def _size_to_trim_to(plan: Plan, piece: CutPiece, style: Style) -> CsvRow:
    row = {"size": "; ".join(_inches(size) for size in trimmed_size(piece, style, plan.limits.two_sizes.value))}
    if piece.sizes is not None:
        for side, size in piece.sizes.items():
            row[f"{'height' if side.axis == 'across' else 'width'} at {side} mm"] = mm(size)
    if not piece.outline.is_empty:
        row["over all w mm"] = mm(piece.outline.bounds.width)
        row["over all h mm"] = mm(piece.outline.bounds.height)
    return row


def _findings(found: Iterable[Finding]) -> str:
    texts = []
    for finding in found:
        accepted = "" if finding.accepted is None else f" (accepted: {finding.accepted})"
        texts.append(f"{SAID[finding.level]}: {finding.text}{accepted}")
    return " | ".join(texts)


def _cover(opening: Opening) -> str:
    """The cover's size, "none", or "?" where it is not known."""
    cover = opening.cover
    if cover is None:
        return "none" if opening.cover_known else "?"
    return mm(cover.w) if cover.round else f"{mm(cover.w)} x {mm(cover.h)}"


def _inches(shown: str) -> str:
    """A figure of an inch job's paper, told apart from a date; words stay as they are."""
    return f"{shown} in" if shown[0].isdigit() else shown
