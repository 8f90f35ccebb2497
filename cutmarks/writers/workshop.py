"""A workshop's pack on the disk.

OUT/cut-list.csv, cut-list.pdf     every number, by tile and saw setting
OUT/labels-a4.pdf, labels-roll.pdf a label for every piece
OUT/drawings.pdf                   a page for each number
OUT/dxf/                           the contours of each number, and of each its open cut paths
OUT/sign-off.pdf                   where a job is cut ahead
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from pathlib import Path, PurePosixPath

from cutmarks.errors import OutputError
from cutmarks.openings.model import CutPiece
from cutmarks.plan import Plan
from cutmarks.saying.findings import findings_of
from cutmarks.saying.how_cut import how_lines, to_cut
from cutmarks.saying.names import safe_name
from cutmarks.saying.shop import edge_rows, stock_of
from cutmarks.saying.workshop import hole_words, offcut_words, pieces_words, short_words, straight_words
from cutmarks.sheets.model import PaperSheet
from cutmarks.sheets.piece_page import piece_page
from cutmarks.sheets.workshop_pages import cut_list_pages, label_sheets, roll_labels, sign_off_pages
from cutmarks.units import Style
from cutmarks.workshop.alike import Numbered
from cutmarks.workshop.pack import ShopPack, pack_of
from cutmarks.writers.csv_table import CsvRow, csv_bytes, mm
from cutmarks.writers.disk import write_whole
from cutmarks.writers.documents import series_pdf
from cutmarks.writers.dxf import as_drawn, closed_dxf, cut_alike, file_names, name_in, open_dxf
from cutmarks.writers.lists import SHA_DIGITS
from cutmarks.writers.pdf import pdf_bytes
from cutmarks.writers.shop_drawing import ShopDrawing

CUT_LIST = (
    *(
        "number",
        "quantity",
        "pieces",
        "turned half round",
        "from offcuts",
        "tile",
        "tile w mm",
        "tile h mm",
        "thickness mm",
        "batch",
    ),
    *("calibre", "shade", "surface", "pattern", "pattern along", "over all w mm", "over all h mm", "straight cuts"),
    *("holes", "how it is cut", "stops", "factory edges", "cut edges", "edge work", "area cm2", "before you cut"),
    *("contours", "cut length mm", "drawing", "sha-256", "drawing of open cut paths", "drawn as"),
)
_MM2_PER_CM2 = 100.0


def shop_pack(plans: Iterable[Plan]) -> ShopPack:
    """The pack of these plans, of the pieces that nothing holds up.

    Raises:
        OutputError: nothing of them may be cut.
    """
    all_plans = list(plans)
    pack = pack_of(all_plans, [_may_be_cut(plan) for plan in all_plans])
    if not pack.numbered:
        raise OutputError("Nothing of it may be cut: each piece has a STOP, or none is cut. Nothing was written.")
    return pack


def labels_of(plan: Plan) -> bytes | None:
    """The labels of what may be cut of one job, on A4; None where nothing may."""
    pack = pack_of([plan], [_may_be_cut(plan)])
    return _labels(pack) if pack.numbered else None


def _labels(pack: ShopPack) -> bytes:
    return pdf_bytes(list(label_sheets(pack)), f"{pack.job}: labels")


def _may_be_cut(plan: Plan) -> list[CutPiece]:
    free = {piece.name for group in cut_alike(plan) for piece in group}
    return [piece for piece in plan.pieces if piece.name in free]


def write_shop_pack(pack: ShopPack, out: Path) -> tuple[str, ...]:
    """Write the pack into a folder that is missing or empty; the names of its files.

    Raises:
        OutputError: the folder holds something, or the disk is in the way.
    """
    made = dict(_contents(pack))
    try:
        if out.exists() and any(out.iterdir()):
            raise OutputError(f"{out} is not empty: name a folder that is missing or empty. Nothing was written.")
        (out / "dxf").mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise OutputError(f"{out} cannot be made ({error.strerror}). Nothing was written.") from None
    for name, content in made.items():
        write_whole(out, name, content)
    return tuple(made)


def _contents(pack: ShopPack) -> Iterator[tuple[str, bytes]]:
    drawings = [_drawing(number) for number in pack.numbered]
    for one in drawings:
        yield one.name, one.data
        yield one.open_name, one.open_data
    yield "cut-list.csv", csv_bytes(CUT_LIST, (_row(pack, *both) for both in zip(pack.numbered, drawings, strict=True)))
    yield "cut-list.pdf", series_pdf(cut_list_pages(pack), f"{pack.job}: cut list")
    yield "drawings.pdf", pdf_bytes(list(map(_page, pack.numbered, drawings)), f"{pack.job}: drawings")
    yield "labels-a4.pdf", _labels(pack)
    yield "labels-roll.pdf", pdf_bytes(list(roll_labels(pack)), f"{pack.job}: labels on a roll")
    if pack.ahead:
        yield "sign-off.pdf", series_pdf(sign_off_pages(pack), f"{pack.job}: sign-off")


def _drawing(number: Numbered) -> ShopDrawing:
    """The contours of a number's first piece; its name says how many in all."""
    plan, piece = number.first.plan, number.first.piece
    stem = f"{number.number:03d}_{safe_name(piece.piece.tile.name)}"
    name, open_name, *_ = file_names(plan, stem, piece, len(number.pieces))
    cutting = as_drawn(piece, plan.cuttings[piece.name])
    data, paths = closed_dxf(cutting, name_in(name), plan.shop), open_dxf(cutting, name_in(open_name), plan.shop)
    return ShopDrawing(name, data, open_name, paths, tuple(one.piece.name for one in number.pieces))


def _page(number: Numbered, drawing: ShopDrawing) -> PaperSheet:
    one = number.first
    names = [f"{each.plan.job}: {each.piece.name}" for each in number.pieces]
    cutting = one.plan.cuttings[one.piece.name]
    return piece_page(one.plan, one.piece, names, cutting, drawing.name, PurePosixPath(drawing.name).name)


def _row(pack: ShopPack, number: Numbered, drawing: ShopDrawing) -> CsvRow:
    one = number.first
    piece, tile, plan = one.piece, one.piece.piece.tile, one.plan
    stock, cutting, box = stock_of(plan, piece), plan.cuttings[piece.name], piece.outline.bounds
    stops = [words for words in how_lines(to_cut(plan, piece), piece, Style()) if words.startswith("Disc ")]
    return {
        "number": str(number.number),
        "quantity": str(len(number.pieces)),
        "pieces": pieces_words(number, len(pack.plans) > 1),
        "turned half round": "; ".join(each.piece.name for each in number.pieces if each.turned),
        "from offcuts": offcut_words(pack, number),
        "tile": tile.name,
        "tile w mm": mm(tile.w),
        "tile h mm": mm(tile.h),
        "thickness mm": mm(tile.thickness),
        "batch": tile.batch,
        "calibre": tile.calibre,
        "shade": tile.shade,
        "surface": f"{tile.face}, bevelled" if tile.bevelled else tile.face,
        "pattern": stock.pattern or "not said",
        "pattern along": stock.along or "",
        "over all w mm": mm(box.width),
        "over all h mm": mm(box.height),
        "straight cuts": "; ".join(straight_words(one)),
        "holes": " | ".join(map(hole_words, piece.cuts)),
        "how it is cut": short_words(one),
        "stops": " | ".join(stops),
        "factory edges": ", ".join(piece.factory_edges),
        "cut edges": ", ".join(piece.cut_edges),
        "edge work": "; ".join(words for what, words in edge_rows(piece) if what == "seen"),
        "area cm2": mm(piece.outline.area / _MM2_PER_CM2),
        "before you cut": " | ".join(finding.text for finding in findings_of(plan, piece)),
        "contours": str(len(cutting.contours)),
        "cut length mm": mm(cutting.length),
        "drawing": drawing.name,
        "sha-256": drawing.entry.sha256[:SHA_DIGITS],
        "drawing of open cut paths": drawing.open_name,
        "drawn as": "nominal, no kerf; face view",
    }
