"""1 READ: what a tape should read on the wall from what is fixed there, with a box for each figure that was found."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial

from cutmarks.checks.returned import shift_words
from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.marks import sizes
from cutmarks.marks.lettering import width
from cutmarks.marks.model import Mark, Role, rectangle
from cutmarks.marks.template import Subject
from cutmarks.saying.edges import read_from, unread_words
from cutmarks.saying.measures import check_figures
from cutmarks.sheets.panel import PAD, Filling, Writer, lines_of, panel

MORE = "found MORE: the hole moves AWAY from it: fold at a + tick, for less at a \u2212 tick"
MORE_BY_TAPE = "found MORE: the hole moves AWAY from it: TAPE as much more, or less"
AHEAD = "Cut ahead: nothing is read on the wall."


@dataclass(frozen=True, slots=True)
class WallRow:
    """One reading: what it is from, in words, and the figures to both sides of the thing, or to its middle."""

    words: str
    figures: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ReadSetting:
    """How large READ is set: figures, words, boxes for what was found; `beside`: the words stand at their left."""

    figure: float
    words: float
    box: float
    beside: bool


_SETTINGS = (
    ReadSetting(sizes.READ, sizes.BODY, 7.5, False),
    ReadSetting(sizes.READ, sizes.BODY, 6.5, True),
    ReadSetting(sizes.READ, sizes.LEAST, 6.0, True),
    ReadSetting(sizes.capitals(13.0), sizes.LEAST, 5.0, True),
    ReadSetting(sizes.capitals(11.0), sizes.LEAST, 4.0, True),
    ReadSetting(sizes.LEAST, sizes.LEAST, 3.2, True),
)
_LEAST_BOX = 13.0
"""A box for a figure that is written by hand is at least so wide, mm."""
_AIR = 1.2


def read_panel(subject: Subject, box: Bounds) -> Iterator[Mark[SheetFrame]]:
    """1 READ in its box: what the tape should read first, of each hole, on the bare wall or floor."""
    kind = subject.plan.setout(subject.piece.piece.surface).kind
    rows, sentences = read_rows(subject), tuple(_sentences(subject))
    beside = any(check.fixed and check.source.kind == "piece" for cut in subject.cuts for check in cut.wall_checks)
    title = f"1 READ, bare {kind}"
    titles = (f"{title}, joint included", "1 READ, joint included") if beside and rows else (title,)
    yield from panel(box, (*titles, "1 READ"), _ways(subject, rows, sentences))


def _ways(subject: Subject, rows: Sequence[WallRow], sentences: Sequence[str]) -> Iterator[Filling]:
    for setting in _SETTINGS:
        yield partial(_write, subject, rows, sentences, setting)


def read_rows(subject: Subject) -> list[WallRow]:
    """What is read, each row once: a row that is alike for both holes says so."""
    if subject.plan.say.cut == "ahead":
        return []
    of_cut: dict[WallRow, list[str]] = {}
    for cut in subject.cuts:
        for check in cut.wall_checks:
            if check.fixed:
                middle = " to its middle" if check.to_middle else ""
                said = f"from {read_from(subject.plan, subject.face, check)}{middle}"
                of_cut.setdefault(WallRow(said, check_figures(check, subject.style)), []).append(cut.opening.name)
    several = len(subject.piece.cuts) > 1
    return [
        WallRow(f"{_whose(subject, names)}: {row.words}" if several else row.words, row.figures)
        for row, names in of_cut.items()
    ]


def _whose(subject: Subject, names: Sequence[str]) -> str:
    return "both" if len(names) == len(subject.cuts) > 1 else ", ".join(names)


def _sentences(subject: Subject) -> Iterator[str]:
    """What else has to be known before: where nothing can be read, and what the sheet was already corrected by."""
    if subject.plan.say.cut == "ahead":
        yield AHEAD
        return
    several = len(subject.piece.cuts) > 1
    of_cut: dict[str, list[str]] = {}
    for cut in subject.cuts:
        for unread in cut.unread:
            of_cut.setdefault(unread_words(subject.plan, subject.face, unread), []).append(cut.opening.name)
    for words, names in of_cut.items():
        yield f"{_whose(subject, names)}: {words}" if several else words
    for one in subject.plan.found:
        if one.piece == subject.piece.name and any(cut.opening.name == one.hole for cut in subject.cuts):
            words = shift_words(one, subject.style)
            if words:
                yield f"{one.hole + ': ' if several else ''}{words}: these are the figures to expect now"


def _write(
    subject: Subject, rows: Sequence[WallRow], sentences: Iterable[str], setting: ReadSetting, writer: Writer
) -> None:
    for row in rows:
        (_row_beside if setting.beside else _row_above)(writer, row, setting)
    for words in sentences:
        writer.text(words, min(setting.words, sizes.BODY), bold=True)
    if rows and not subject.stopped:
        writer.text(MORE if subject.registration.edges else MORE_BY_TAPE, sizes.LEAST, bold=True)


def _columns(row: WallRow, setting: ReadSetting) -> float:
    """How wide each figure's column is."""
    return max(_LEAST_BOX, *(width(figure, setting.figure, bold=True) + _AIR for figure in row.figures)) + _AIR


def _row_above(writer: Writer, row: WallRow, setting: ReadSetting) -> None:
    """The words, the figures under them, and under each the box for what was found."""
    writer.text(row.words, setting.words)
    _figures(writer, row, setting, "found")


def _row_beside(writer: Writer, row: WallRow, setting: ReadSetting) -> None:
    """The words at the left of the figures and their boxes."""
    wide = writer.room - len(row.figures) * _columns(row, setting) - _AIR
    if lines_of(row.words, setting.words, wide) > 3 or wide < 15.0:
        _row_above(writer, row, setting)
        return
    top = writer.y
    left = Writer(width=wide + 2 * PAD, leading=writer.leading, y=top)
    left.text(row.words, setting.words)
    writer.marks += left.marks
    _figures(writer, row, setting, "")
    writer.y = min(writer.y, left.y)


def _figures(writer: Writer, row: WallRow, setting: ReadSetting, found: str) -> None:
    column = min(_columns(row, setting), writer.room / len(row.figures))
    writer.fits &= all(width(figure, setting.figure, bold=True) + _AIR <= column for figure in row.figures)
    writer.y -= setting.figure
    for number, figure in enumerate(reversed(row.figures)):
        right = writer.width - PAD - number * column
        writer.put(figure, right, setting.figure, "end", bold=True)
        writer.marks.append(
            rectangle(right - column + _AIR, writer.y - _AIR - setting.box, column - _AIR, setting.box, Role.BOX)
        )
    writer.y -= _AIR + setting.box
    if found and PAD + width(found, sizes.LEAST) + 1.0 <= writer.width - PAD - len(row.figures) * column + _AIR:
        writer.put(found, PAD, sizes.LEAST)
    writer.y -= _AIR
