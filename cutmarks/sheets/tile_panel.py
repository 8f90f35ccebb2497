"""ON THE TILE: mark. Its figures never stand in one list with those on the wall, which contain the joint."""

from __future__ import annotations

from cutmarks.geometry.shapes import Circle
from cutmarks.marks.lettering import fitting
from cutmarks.marks.template import Subject, is_clipped
from cutmarks.openings.model import Cut
from cutmarks.saying.cuts import (
    check_words,
    corner_words,
    drill_words,
    lined_up_words,
    mark_rows,
    middle_words,
    rest_words,
    short_check_words,
)
from cutmarks.saying.edge_work import edge_work_words
from cutmarks.saying.figures import may_be_words
from cutmarks.saying.measures import (
    centre_on_tile,
    run_out,
    shown,
    size_words,
)
from cutmarks.saying.trust import SNAP, paper_words, parts_words
from cutmarks.sheets.panel import FIGURE, LEAST_FIGURE, SMALL, WORDS, Panel, Which, Writer, chosen, widest

_SIZE = 4.6
_NAME = 3.3
_CHECK = 2.6


def tile_panel(subject: Subject, wide: float, which: Which = None) -> Panel:
    """ON THE TILE: the figures to mark from, each cut in its turn."""
    return _tile_panel(subject, wide, which, short=False)


def short_tile_panel(subject: Subject, wide: float, which: Which = None) -> Panel:
    """The same in fewer words, for a sheet that has no room for all of them."""
    return _tile_panel(subject, wide, which, short=True)


def _tile_panel(subject: Subject, wide: float, which: Which, *, short: bool) -> Panel:
    writer = Writer(width=wide)
    writer.title("ON THE TILE: mark")
    several = len(subject.piece.cuts) > 1

    def one(column: Writer, cut: Cut) -> None:
        if several:
            column.text(cut.opening.name, _NAME, bold=True)
            column.gap(0.4)
        _tile_lines(column, subject, cut, short)

    for words in subject.unsaid:
        writer.text(words, WORDS, bold=True)
    writer.columns(chosen(subject.cuts, which), one)
    others = [cut.opening.name for cut in subject.piece.cuts if cut not in subject.cuts]
    if others:
        writer.text(f"Also cut in this tile, on a sheet of its own: {', '.join(others)}.", SMALL, bold=True)
    if subject.piece.piece.tile.bevelled:
        writer.text("Bevelled tile: the lines are its OUTER edges, not where the bevel begins.", SMALL, bold=True)
    for words in edge_work_words(subject.piece, subject.style, subject.names):
        writer.text(words, SMALL, bold=True)
    for note in subject.piece.notes:
        writer.text(f"note, {note}", SMALL)
    return writer.panel()


def _stopped_lines(writer: Writer, subject: Subject, cut: Cut) -> None:
    """What would be cut; no figure to mark it by, as long as the tile must not be cut."""
    size = size_words(cut, subject.piece, subject.style)
    writer.text(size, fitting(size, _SIZE, writer.room - SNAP, bold=True), bold=True)
    writer.text("STOP: nothing is marked until this is settled", SMALL, bold=True)


def _tile_lines(writer: Writer, subject: Subject, cut: Cut, short: bool) -> None:
    if subject.stopped:
        _stopped_lines(writer, subject, cut)
        return
    rows = mark_rows(subject, cut)
    height = FIGURE
    while height > LEAST_FIGURE and widest([figure for figure, _ in rows], height) > writer.room:
        height -= 0.25
    column = widest([figure for figure, _ in rows], height)
    for figure, words in rows:
        writer.figure(figure, words, column, height)
    writer.gap(0.8)
    size = size_words(cut, subject.piece, subject.style)
    writer.text(size, fitting(size, _SIZE, writer.room - SNAP, bold=True), bold=True)
    drill = drill_words(subject, cut)
    if drill:
        writer.text(drill, SMALL, bold=True)
    rest = rest_words(subject, cut)
    if rest:
        writer.text(rest, SMALL)
    check = short_check_words(subject, cut) if short else check_words(subject, cut)
    if check:
        writer.text(check, _CHECK)
    corners = corner_words(subject, cut)
    if corners:
        writer.text(corners, SMALL)
    for line in () if short else lined_up_words(subject, cut):
        writer.text(line, SMALL)
    if cut.kind != "hole" and isinstance(cut.opening.shape, Circle):
        writer.text("no pilot here: clamp a board with a hole over it, or grind", SMALL, bold=True)
    if cut.kind == "corner notch" and isinstance(cut.opening.shape, Circle) and centre_on_tile(cut):
        writer.text(middle_words(subject, cut), SMALL)
    run = run_out(cut, subject.piece)
    if run is not None and rows:
        side, low, high = run
        ends = " to ".join(shown(value, side[1], subject.piece, subject.style)[0] for value in (low, high))
        writer.text(f"runs out over the {subject.names[side[0]]} at {ends} from the {subject.names[side[1]]}", SMALL)
    may_be = may_be_words(cut.opening, subject.style)
    if may_be:
        writer.text(may_be, WORDS, bold=True)
    if is_clipped(subject, cut):
        clipped = "LARGER THAN THE PAPER: clipped where the drawing ends, mark the rest by the tape"
        writer.text(clipped, SMALL, bold=True)
    writer.text(paper_words(subject, cut), SMALL)
    writer.text(parts_words(subject, cut), SMALL * 0.9)
