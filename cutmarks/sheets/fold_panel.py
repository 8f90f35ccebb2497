"""2 FOLD: the edges that the paper is folded back along, and what goes by tape where an edge is not on the sheet."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial

from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.marks import sizes
from cutmarks.marks.labels import line_up_words, tape_sentences
from cutmarks.marks.model import Mark
from cutmarks.marks.template import Subject
from cutmarks.sheets.panel import LEADING, TIGHT, Filling, Writer, panel
from cutmarks.sides import Side

TAPED = "2 LAY by MEASURE"
FOLDED = "2 FOLD the paper back"
SHORT = "2 FOLD"
STOPPED_TITLE, STOPPED = "2 FOLD nothing", "STOP: do not lay this sheet on a tile"
WRITE_UP = "write UP on the tile first"
BESIDE_NO_EDGE = "no edge on this sheet: join it"


def fold_panel(subject: Subject, box: Bounds) -> Iterator[Mark[SheetFrame]]:
    """2 FOLD in its box: each edge by its name, and each measure that goes by tape; of a stopped piece nothing."""
    if subject.stopped:
        yield from panel(box, (STOPPED_TITLE,), _ways([STOPPED]))
        return
    sheet = subject.registration
    lines = [*map(line_up_words, _names(subject)), *tape_sentences(subject)]
    title = TAPED if sheet.tape and not sheet.edges else "2 FOLD and MEASURE" if sheet.tape else FOLDED
    # The head lies above the drawing of an upright page, and at its left on the other.
    if (Side.TOP if sheet.layout == "portrait" else Side.LEFT) in subject.edges:
        lines.append(WRITE_UP)
    yield from panel(box, (title, SHORT), _ways(lines or [BESIDE_NO_EDGE]))


def _names(subject: Subject) -> Iterator[str]:
    """What the edges on this very sheet are called."""
    yield from (subject.names[side] for side in subject.edges)


def _ways(lines: Sequence[str]) -> Iterator[Filling]:
    for height in (sizes.BODY, sizes.LEAST):
        yield partial(_write, lines, height, True, LEADING)
    yield partial(_write, lines, sizes.LEAST, True, TIGHT)
    yield partial(_write, lines, sizes.LEAST, False, TIGHT)
    yield partial(_write, [" \u00b7 ".join(lines)], sizes.LEAST, False, TIGHT)


def _write(lines: Sequence[str], height: float, bold: bool, leading: float, writer: Writer) -> None:
    writer.leading = leading
    for one in lines:
        writer.text(one, height, bold=bold)
