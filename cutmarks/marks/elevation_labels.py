"""What is named in an elevation, and the words under it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from itertools import islice

from cutmarks.checks.waiting import is_of_its_pieces
from cutmarks.geometry.frames import Page, Point
from cutmarks.geometry.regions import Region, spans_across
from cutmarks.geometry.rings import Ring
from cutmarks.marks import sizes
from cutmarks.marks.elevation_names import BREAK, PlacedName, beside, inside, on_white, short_name, words_box
from cutmarks.marks.elevation_surface import OVERHANG, drawn_box, hiding_box
from cutmarks.marks.elevation_view import View, on_surface, openings_of, pieces_of
from cutmarks.marks.lettering import width, wrapped
from cutmarks.marks.model import Mark, Words
from cutmarks.marks.room import TakenRoom
from cutmarks.openings.model import CutPiece, Opening
from cutmarks.plan import Plan, SurfacePlan

NAME_HEIGHT = 2.6
LEGEND_HEIGHT = sizes.LEAST
MOST_NAMES = 500
"""More names than these cannot be read on one page: the rest is left to the lists."""
LEGEND_GAP = 6.0
"""Between two entries in one row of the legend, mm."""


def worst_levels(plan: Plan) -> dict[str, str]:
    """The worst level of finding, stop or warn, of each piece; one about an opening goes for its pieces.

    What is left of a tile is of that tile alone: `checks.waiting` has it so for the sheets.
    """
    found: dict[str, str] = {}
    for level in ("warn", "stop"):
        for finding in plan.findings:
            if finding.level == level and finding.accepted is None:
                about = plan.piece_names.intersection(finding.about) if is_of_its_pieces(finding) else finding.about
                found |= {piece: level for name in about for piece in plan.pieces_met.get(name, (name,))}
    return found


def named(
    plan: Plan, surface: SurfacePlan, view: View, sheets: Mapping[str, str], *, of_pieces: bool = True
) -> tuple[list[Mark[Page]], list[PlacedName]]:
    """The names that found a place in the drawing, and those that need a callout in the margin.

    of_pieces  those of pieces too, and of windows; else the lines' and the holes' alone.
    """
    marks: list[Mark[Page]] = []
    unnamed: list[PlacedName] = []
    taken, covered = TakenRoom(), TakenRoom()
    for words in _line_names(surface, view):
        taken.take(words_box(words))
        marks += on_white(words)
    openings = openings_of(plan, surface.setout)
    for opening in openings:
        taken.take(drawn_box(opening, view))
        covered.take(hiding_box(opening, view))
    wanted = _wanted(plan, surface, openings, view, sheets) if of_pieces else _holes(openings, view)
    for name, clear in islice(wanted, MOST_NAMES):
        found = inside(name, taken) if clear is None else beside(name, clear, view.page, (taken, covered))
        for words in found:
            taken.take(words_box(words))
            marks += on_white(words)
        if not found and name.needed:
            unnamed.append(name)
    return marks, unnamed


def _line_names(surface: SurfacePlan, view: View) -> Iterator[Words[Page]]:
    page = view.page
    for name, set_out in surface.setout.lines.items():
        x, y = view.xy(set_out.at, set_out.at)
        if set_out.fixes == "x" and page.min_x <= x <= page.max_x:
            yield Words(name, Point(x, page.max_y + OVERHANG + 1.0), NAME_HEIGHT, "middle", bold=True)
        elif set_out.fixes == "y" and page.min_y <= y <= page.max_y:
            yield Words(name, Point(page.max_x + OVERHANG + 1.0, y - NAME_HEIGHT / 2), NAME_HEIGHT, bold=True)


def _wanted(
    plan: Plan, surface: SurfacePlan, openings: Iterable[Opening], view: View, sheets: Mapping[str, str]
) -> Iterator[tuple[PlacedName, float | None]]:
    """Names in the order in which they take a place: pieces with sheets, holes, where not to drill, pieces, the rest.

    The figure is how far a small thing reaches from its middle; None for what the name may stand in.
    """
    pieces = pieces_of(plan, surface.setout)
    yield from ((name, None) for piece in pieces if piece.name in sheets for name in _named_piece(piece, view, sheets))
    yield from _holes(openings, view)
    for keep_out in surface.setout.keep_outs:
        yield _in_ring(f"do not drill: {keep_out.name}", view.ring(keep_out.ring)), None
    for piece in sorted(pieces, key=lambda piece: not piece.cuts):
        if piece.name not in sheets:
            yield from ((name, None) for name in _named_piece(piece, view, sheets))
    for void in surface.setout.voids:
        yield _in_ring(void.name or void.kind, view.ring(void.measured)), None


def _holes(openings: Iterable[Opening], view: View) -> Iterator[tuple[PlacedName, float]]:
    nothing: Region[Page] = Region(())
    for opening in openings:
        bounds = hiding_box(opening, view)
        clear = max(bounds.width, bounds.height) / 2
        yield PlacedName((opening.name,), view.point(opening.at), nothing, bold=False, needed=True), clear


def _named_piece(piece: CutPiece, view: View, sheets: Mapping[str, str]) -> Iterator[PlacedName]:
    room = Region(rings_of(view, piece))
    if not room.is_empty:
        holed = bool(piece.cuts)
        yield PlacedName(_texts(piece, sheets), _spot(room), room, bold=holed, needed=holed)


def _texts(piece: CutPiece, sheets: Mapping[str, str]) -> tuple[str, ...]:
    """The whole name; where it does not fit, course and number alone. Behind it its sheets, in brackets."""
    own = sheets[piece.name].replace(", ", f",{BREAK}") if piece.name in sheets else ""
    behind = f"{BREAK}({own})" if own else ""
    return tuple(f"{name}{behind}" for name in (piece.name, short_name(piece.name, piece.piece.area)))


def _in_ring(text: str, ring: Ring[Page]) -> PlacedName:
    room = Region((ring,))
    return PlacedName((text,), _spot(room), room, bold=False, needed=False)


def rings_of(view: View, piece: CutPiece) -> tuple[Ring[Page], ...]:
    """The finished piece on the page."""
    return tuple(view.ring(ring) for ring in on_surface(piece, piece.outline).rings)


def _spot(room: Region[Page]) -> Point[Page]:
    """A point in the region for a leader to end at: the middle of its longest level stretch at half height."""
    bounds = room.bounds
    y = (bounds.min_y + bounds.max_y) / 2
    low, high = max(spans_across(room, y), key=lambda span: span[1] - span[0], default=(bounds.min_x, bounds.max_x))
    return Point((low + high) / 2, y)


def legend(plan: Plan, surface: SurfacePlan, w: float, sheets: Mapping[str, str]) -> list[str]:
    """Rows of words under the drawing, no longer than `w` mm, the first of them that it is not to scale."""
    levels = worst_levels(plan)
    shown = {levels[piece.name] for piece in pieces_of(plan, surface.setout) if piece.name in levels}
    parts = [
        f"{name}: {set_out.kind}, {set_out.words}" if set_out.words else f"{name}: {set_out.kind}"
        for name, set_out in surface.setout.lines.items()
    ]
    if any(piece.name in sheets for piece in pieces_of(plan, surface.setout)):
        parts.append("(3): on sheet 3")
    if any(opening.cover is not None for opening in openings_of(plan, surface.setout)):
        parts.append("dashed: what hides the hole")
    if any(opening.keep_clear is not None for opening in openings_of(plan, surface.setout)):
        parts.append("dotted: no tile, for screws and lugs")
    if surface.setout.keep_outs:
        parts.append("long dashes: do not drill")
    if "stop" in shown:
        parts.append("close hatching: STOP")
    if "warn" in shown:
        parts.append("wide hatching: CHECK")
    return ["NOT TO SCALE", *_rows(parts, w)]


def _rows(parts: list[str], w: float) -> list[str]:
    blank = " " * max(1, round(LEGEND_GAP / width(" ", LEGEND_HEIGHT)))
    rows: list[str] = []
    for part in parts:
        longer = f"{rows[-1]}{blank}{part}" if rows else part
        if rows and width(longer, LEGEND_HEIGHT) <= w:
            rows[-1] = longer
        else:
            rows += wrapped(part, LEGEND_HEIGHT, w)
    return rows
