"""A workshop's pack on the disk.

OUT/cut-list.csv, cut-list.pdf     every number, by tile and saw setting
OUT/labels-a4.pdf, labels-roll.pdf a label for every piece
OUT/drawings.pdf                   a page for each number
OUT/dxf/                           the contours of each number, and of each its open cut paths
OUT/shared-tiles.pdf               where a tile gives several pieces: where they lie, and its cuts
OUT/sign-off.pdf                   where a job is cut ahead
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Iterator
from pathlib import Path, PurePosixPath

from cutmarks.errors import OutputError
from cutmarks.marks.piece_drawing import diagonal_of
from cutmarks.openings.model import CutPiece
from cutmarks.plan import Plan
from cutmarks.saying.names import safe_name
from cutmarks.saying.shop import (
    corner_rows,
    cut_edge_words,
    cut_round,
    cut_with_words,
    edge_works,
    makers_words,
    mass_words,
    measured_later,
    not_yet,
    shop_mm,
    stock_of,
    surface_words,
    to_look_at,
)
from cutmarks.saying.workshop import (
    UP_DOWN,
    WayToCut,
    cut_words,
    hole_words,
    offcut_words,
    out_of_words,
    pieces_words,
    signed_words,
    stop_words,
    straight_rows,
    waits_with_tile,
    ways_to_cut,
)
from cutmarks.sheets.model import PaperSheet
from cutmarks.sheets.piece_page import OnPage, piece_page
from cutmarks.sheets.workshop_pages import cut_list_pages, label_sheets, roll_labels, shared_pages, sign_off_pages
from cutmarks.workshop.alike import Numbered
from cutmarks.workshop.pack import ShopPack, pack_of
from cutmarks.writers.csv_table import CsvRow, csv_bytes, mm
from cutmarks.writers.disk import write_whole
from cutmarks.writers.documents import series_pdf
from cutmarks.writers.dxf import as_drawn, closed_dxf, cut_alike, file_names, held_back, name_in, open_dxf
from cutmarks.writers.lists import SHA_DIGITS
from cutmarks.writers.pdf import pdf_bytes
from cutmarks.writers.shop_drawing import ShopDrawing

CUT_LIST = (
    *(
        "number",
        "quantity",
        "pieces",
        UP_DOWN,
        "from offcuts",
        "tile",
        "tile w mm",
        "tile h mm",
        "thickness mm",
        "batch",
    ),
    *("calibre", "shade", "surface", "pattern", "pattern along", "over all w mm", "over all h mm", "straight cuts"),
    *(
        "holes",
        "cut to",
        "cut with",
        "inside corners",
        "how it is cut",
        "saw stops",
        "maker's edges",
        "cut edges",
        "edge work",
    ),
    *("diagonal mm", "area cm2", "mass", "wait", "sign first", "check"),
    *(
        "contours",
        "paths cut",
        "cut length mm",
        "drawing",
        "sha-256 of the drawing",
        "drawing of open cut paths",
        "drawn as",
        "jobs",
    ),
)
_MM2_PER_CM2 = 100.0


def shop_pack(plans: Iterable[Plan], issue: str = "") -> ShopPack:
    """The pack of these plans, of the pieces that nothing holds up; `issue` is a date or a number that it goes by.

    Raises:
        OutputError: nothing of them may be cut, or two have one name.
    """
    all_plans = list(plans)
    twice = [name for name, many in Counter(plan.job for plan in all_plans).items() if many > 1]
    if twice:
        raise OutputError(f'Two jobs are called "{twice[0]}": give one of them another name. Nothing was written.')
    pack = pack_of(all_plans, [_may_be_cut(plan) for plan in all_plans], issue)
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
    each = list(zip(pack.numbered, drawings, strict=True))
    for one in drawings:
        yield one.name, one.data
        yield one.open_name, one.open_data
    yield "cut-list.csv", csv_bytes(CUT_LIST, (_row(pack, *both) for both in each))
    yield "cut-list.pdf", series_pdf(cut_list_pages(pack), f"{pack.job}: cut list")
    yield "drawings.pdf", pdf_bytes([_page(pack, *both) for both in each], f"{pack.job}: drawings")
    yield "labels-a4.pdf", _labels(pack)
    yield "labels-roll.pdf", pdf_bytes(list(roll_labels(pack)), f"{pack.job}: labels on a roll")
    if pack.shared:
        yield "shared-tiles.pdf", series_pdf(shared_pages(pack), f"{pack.job}: shared tiles")
    if pack.ahead:
        yield "sign-off.pdf", series_pdf(sign_off_pages(pack), f"{pack.job}: sign-off")


def _drawing(number: Numbered) -> ShopDrawing:
    """The contours of a number's first piece; its name says how many in all."""
    plan, piece = number.first.plan, number.first.piece
    stem = f"{number.number:03d}_{safe_name(piece.piece.tile.name)}"
    name, open_name, *_ = file_names(plan, stem, piece, len(number.pieces), to_sign=True)
    cutting = as_drawn(piece, plan.cuttings[piece.name])
    wishes = held_back(plan.shop, not_yet(plan, piece, to_sign=True))
    data, paths = closed_dxf(cutting, name_in(name), wishes), open_dxf(cutting, name_in(open_name), wishes)
    return ShopDrawing(name, data, open_name, paths, tuple(one.piece.name for one in number.pieces))


def _page(pack: ShopPack, number: Numbered, drawing: ShopDrawing) -> PaperSheet:
    one = number.first
    about = OnPage(
        len(number.pieces),
        pieces_words(number, len(pack.plans) > 1),
        PurePosixPath(drawing.name).name,
        number.number,
        out_of_words(pack, number),
        signed_words(number),
        tuple((_way_words(way), way.lines) for way in ways_to_cut(pack, number)),
        pack.issue,
        waits_with_tile(pack, number),
    )
    return piece_page(one.plan, one.piece, one.plan.cuttings[one.piece.name], drawing.name, about)


def _way_words(way: WayToCut) -> str:
    """What stands over how some of its pieces are cut: which, out of what, and that this comes afterwards."""
    if not way.where:
        return ""
    after = " Then:" if way.lines else " Nothing is left to cut."
    return f"{', '.join(way.names)}: {way.where}.{after if way.tiles else ''}"


def _row(pack: ShopPack, number: Numbered, drawing: ShopDrawing) -> CsvRow:
    one = number.first
    piece, tile, plan = one.piece, one.piece.piece.tile, one.plan
    whole = any(not way.tiles for way in ways_to_cut(pack, number))
    tiles = waits_with_tile(pack, number)
    stock, cutting, box = stock_of(plan, piece), plan.cuttings[piece.name], piece.outline.bounds
    return {
        "number": str(number.number),
        "quantity": str(len(number.pieces)),
        "pieces": pieces_words(number, len(pack.plans) > 1),
        UP_DOWN: "; ".join(each.piece.name for each in number.pieces if each.turned),
        "from offcuts": offcut_words(pack, number),
        "tile": tile.name,
        "tile w mm": shop_mm(tile.w),
        "tile h mm": shop_mm(tile.h),
        "thickness mm": "" if tile.thickness is None else shop_mm(tile.thickness),
        "batch": tile.batch,
        "calibre": tile.calibre,
        "shade": tile.shade,
        "surface": surface_words(tile),
        "pattern": stock.pattern or "not said",
        "pattern along": stock.along or "",
        "over all w mm": shop_mm(box.width),
        "over all h mm": shop_mm(box.height),
        "straight cuts": "; ".join(straight_rows(pack, number)) or ("none" if whole else "those of shared-tiles.pdf"),
        "holes": " | ".join(hole_words(one, cut) for cut in piece.cuts),
        "cut to": cut_round(plan, piece),
        "cut with": cut_with_words(piece, plan.shop),
        "inside corners": "; ".join(words for _, words in corner_rows(piece, cutting)) or "as drawn",
        "how it is cut": cut_words(pack, number),
        "saw stops": " | ".join(stop_words(one)) or "none",
        "maker's edges": makers_words(piece),
        "cut edges": cut_edge_words(piece),
        "edge work": "; ".join(edge_works(piece)),
        "diagonal mm": shop_mm(math.dist(*diagonal_of(cutting))),
        "area cm2": mm(cutting.outline.area / _MM2_PER_CM2),
        "mass": mass_words(plan, piece),
        "wait": measured_later(plan, piece) or (f"for the rest of {tiles}" if tiles else ""),
        "sign first": signed_words(number),
        "check": " | ".join(to_look_at(plan, piece)),
        "contours": str(len(cutting.contours)),
        "paths cut": str(cutting.paths),
        "cut length mm": shop_mm(cutting.length),
        "drawing": drawing.name,
        "sha-256 of the drawing": drawing.entry.sha256[:SHA_DIGITS],
        "drawing of open cut paths": drawing.open_name,
        "drawn as": "nominal, no kerf; face view",
        "jobs": "; ".join(dict.fromkeys(f"{each.plan.job} {each.plan.fingerprint}" for each in number.pieces)),
    }
