"""1 READ: what a tape should read on the wall from what is fixed there, with a box for each figure that was found."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence
from functools import partial

from msgspec import Struct

from cutmarks.checks.returned import shift_words
from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.frames import Point
from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.marks import sizes
from cutmarks.marks.lettering import width, wrapped
from cutmarks.marks.model import Mark, Role, Words, rectangle
from cutmarks.marks.template import Subject
from cutmarks.openings.model import Cut, InfillEnd, WallCheck
from cutmarks.saying.edges import read_from, unread_words
from cutmarks.saying.found_more import beyond_edge, doubt_words, in_doubt, more_words, other_way
from cutmarks.saying.infills import AT_END, InfillRead, infills_read, nearest_cut, off_words, own_ends, unread_lines
from cutmarks.saying.measures import check_figures
from cutmarks.sheets.panel import LEADING, PAD, TIGHT, Filling, Writer, lines_of, panel
from cutmarks.sides import Side
from cutmarks.units import say

NO_READING = "No reading gives this corner by itself: hold the tile up dry in its place, and mark it there."
AHEAD = "Cut ahead: nothing is read on the wall."
FACING = "as you face it:"
"""The sheet itself lies mirrored."""
STOPPED_TITLE, STOPPED = "1 READ nothing", "STOP: why stands across the drawing, and what to change"


class WallRow(Struct, frozen=True):
    """One reading: what it is from, in words, and the figures to both sides of the thing, or to its middle."""

    words: str
    figures: tuple[str, ...]


class Said(Struct, frozen=True):
    """A sentence, and whether it stands in bold."""

    words: str
    bold: bool


class ReadSetting(Struct, frozen=True):
    """How large READ is set: figures, words, boxes for what was found; `beside`: the words stand at their left.

    inline  each box stands behind its figure, and not under it.
    under   then the words go across the panel, and the figures stand behind their last line, or under it.
    leading from one baseline to the next, in heights of a capital.
    """

    figure: float
    words: float
    box: float
    beside: bool
    inline: bool = False
    under: bool = False
    leading: float = LEADING


_SETTINGS = (
    ReadSetting(sizes.READ, sizes.BODY, 7.5, False),
    ReadSetting(sizes.READ, sizes.BODY, 6.5, True),
    ReadSetting(sizes.READ, sizes.LEAST, 6.0, True),
    ReadSetting(sizes.capitals(13.0), sizes.LEAST, 5.0, True),
    ReadSetting(sizes.capitals(11.0), sizes.LEAST, 4.0, True),
    ReadSetting(sizes.LEAST, sizes.LEAST, 3.2, True),
    ReadSetting(sizes.BODY, sizes.LEAST, 4.4, True, inline=True),
    ReadSetting(sizes.BODY, sizes.LEAST, 4.4, True, inline=True, under=True),
    ReadSetting(sizes.LEAST, sizes.LEAST, 3.4, True, inline=True, under=True, leading=TIGHT),
)
_TIGHTEST = -3
"""From this setting on it is tried in short as well."""
_LEAST_BOX = 13.0
"""A box for a figure that is written by hand is at least so wide, mm."""
_AIR = 1.2
_LEAST_BESIDE = 24.0
"""Words beside figures and boxes in one line have at least so much room, mm."""


def read_panel(subject: Subject, box: Bounds, ticked: Collection[Side]) -> Iterator[Mark[SheetFrame]]:
    """1 READ in its box: what the tape should read first, of each hole, on the bare wall or floor; stopped: nothing.

    `ticked` are the edges that have a set of ticks on this page.
    """
    if subject.stopped:
        yield from panel(box, (STOPPED_TITLE,), [_stopped])
        return
    kind = subject.plan.setout(subject.piece.piece.surface).kind
    rows, sentences = read_rows(subject, ticked), tuple(_sentences(subject))
    checks = [check for cut in subject.cuts for check in cut.wall_checks if check.fixed]
    beside = bool(subject.corners) or any(check.source.kind == "piece" for check in checks)
    title = f"1 READ, bare {kind}"
    titles = (f"{title}, joint included", "1 READ, joint included") if beside and rows else (title,)
    more = more_words(subject, subject.edges, ticked) if rows else ("",)
    yield from panel(box, (*titles, "1 READ"), _ways(subject, rows, sentences, more))


def _stopped(writer: Writer) -> None:
    writer.text(STOPPED, sizes.BODY, bold=True)


def _ways(
    subject: Subject, rows: Sequence[WallRow], sentences: Sequence[str], more: Sequence[str]
) -> Iterator[Filling]:
    """Each setting; where none has room, the tightest of them with that in short which is done when more is found."""
    for number, words in enumerate(more):
        for setting in _SETTINGS[_TIGHTEST:] if number else _SETTINGS:
            yield partial(_write, subject, rows, sentences, Said(words, bold=number == 0), setting)


def read_rows(subject: Subject, ticked: Collection[Side]) -> list[WallRow]:
    """What is read, each row once: a row that is alike for both holes says so."""
    if subject.plan.say.cut == "ahead":
        return []
    if subject.corners:
        return list(_opening_rows(subject))
    of_cut: dict[WallRow, list[str]] = {}
    for cut in subject.cuts:
        for check in cut.wall_checks:
            if check.fixed:
                # A line has no word of where it lies, and two figures behind it alone were not understood.
                sides = " to the near and the far side" if check.source.kind == "line" else ""
                sides = f"{_in_a_joint(subject, cut, check)}{sides}"
                middle = " to its middle" if check.to_middle else sides
                turned = f" ({way})" if (way := other_way(subject, check, ticked)) else ""
                said = f"from {read_from(subject.plan, subject.face, check)}{middle}{turned}"
                of_cut.setdefault(WallRow(said, check_figures(check, subject.style)), []).append(cut.opening.name)
    several = len(subject.piece.cuts) > 1
    return [
        WallRow(f"{_whose(subject, names)}: {row.words}" if several else row.words, row.figures)
        for row, names in of_cut.items()
    ]


def _in_a_joint(subject: Subject, cut: Cut, check: WallCheck) -> str:
    """Of a line that runs down the middle of the joint beside the tile: that half of it is in the figures."""
    own = subject.piece.piece
    areas = (area for surface in subject.plan.surfaces for area in surface.areas)
    joint = next((area.grid.joint for area in areas if area.name == own.area), 0.0)
    beyond = beyond_edge(subject, cut, check)
    if check.source.kind != "line" or joint <= TOUCH or abs(beyond - joint / 2) > TOUCH:
        return ""
    return f" (the middle of a joint: {say(beyond, subject.style)} of it is in)"


def _opening_rows(subject: Subject) -> Iterator[WallRow]:
    """The openings whose cuts meet at the sheet's corners, each at the end where they do."""
    reads = list(infills_read(subject.plan, subject.face))
    own: dict[int, list[InfillEnd]] = {}
    for corner in subject.corners:
        for side in corner.mark_from:
            number, end = nearest_cut(subject, reads, side, corner.from_edges[side])
            if end is not None and end not in own.setdefault(number, []):
                own[number].append(end)
    two_sizes = subject.plan.limits.two_sizes.value
    # One edge that leans may be two readings, an end each: alike in words, they would leave open which is whose.
    alike: dict[str, list[tuple[InfillRead, tuple[InfillEnd, ...]]]] = {}
    for number, read in enumerate(reads):
        if number in own:
            ends = own_ends(own[number], two_sizes, past=read.infill.past)
            alike.setdefault(_opening_words(subject, read), []).append((read, ends))
    for words, some in alike.items():
        yield _opening_row(subject, words, some)


def _opening_words(subject: Subject, read: InfillRead) -> str:
    """From what to what it is read, and what comes off."""
    # Without it nobody sees why the figure to mark is another, where tile passes an edge even a larger one.
    off = off_words(read.infill.off, subject.style, subject.plan.say.words)
    return f"{read.words}; {off}" if off else read.words


def _opening_row(subject: Subject, words: str, reads: Sequence[tuple[InfillRead, tuple[InfillEnd, ...]]]) -> WallRow:
    """The readings that have these words, each with its ends: the openings there; where, if they are not alike."""
    ends = [end for _, some in reads for end in some]
    figures = tuple(say(end.opening, subject.style) for end in ends)
    infill, two_sizes = reads[0][0].infill, subject.plan.limits.two_sizes.value
    if len(reads) == 1 and len(own_ends(infill.ends, two_sizes, past=infill.past)) == 1:
        return WallRow(words, figures[:1])
    return WallRow(f"{words}, {', '.join(AT_END[end.at] for end in ends)}", figures)


def _whose(subject: Subject, names: Sequence[str]) -> str:
    return "both" if len(names) == len(subject.cuts) > 1 else ", ".join(names)


def _sentences(subject: Subject) -> Iterator[str]:
    """What else has to be known before: where nothing can be read, and what the sheet was already corrected by."""
    if subject.plan.say.cut == "ahead":
        yield AHEAD
        return
    if subject.corners:
        why = list(unread_lines(subject.plan, subject.face))
        yield from why
        if not why and not any(_opening_rows(subject)):
            yield NO_READING
    several = len(subject.piece.cuts) > 1
    of_cut: dict[str, list[str]] = {}
    for cut in subject.cuts:
        for check in in_doubt(subject, cut):
            of_cut.setdefault(doubt_words(subject, cut, check), []).append(cut.opening.name)
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
    subject: Subject,
    rows: Sequence[WallRow],
    sentences: Iterable[str],
    more: Said,
    setting: ReadSetting,
    writer: Writer,
) -> None:
    writer.leading = setting.leading
    if rows and subject.registration.back:
        writer.text(FACING, sizes.LEAST, bold=True)
    for row in rows:
        write = _row_inline if setting.inline else _row_beside if setting.beside else _row_above
        write(writer, row, setting)
    for words in sentences:
        writer.text(words, min(setting.words, sizes.BODY), bold=True)
    if more.words:
        writer.text(more.words, sizes.LEAST, bold=more.bold)


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


def _row_inline(writer: Writer, row: WallRow, setting: ReadSetting) -> None:
    """The figures in one line, each with its box behind it; the words at their left or over them."""
    long = sum(width(figure, setting.figure, bold=True) + _LEAST_BOX + 2 * _AIR for figure in row.figures)
    top, wide = writer.y, writer.room - long
    beside = wide >= _LEAST_BESIDE and not setting.under
    left = Writer(width=(wide if beside else writer.room) + 2 * PAD, leading=writer.leading, y=top)
    left.text(row.words, setting.words)
    writer.marks += left.marks
    y = (top if beside else left.y) - setting.box
    if setting.under and width(wrapped(row.words, setting.words, left.room)[-1], setting.words) <= wide:
        y += setting.words * writer.leading
    writer.fits &= long <= writer.room
    x = writer.width - PAD - long + _AIR
    for figure in row.figures:
        writer.marks.append(Words(figure, Point(x, y + (setting.box - setting.figure) / 2), setting.figure, bold=True))
        x += width(figure, setting.figure, bold=True) + _AIR
        writer.marks.append(rectangle(x, y, _LEAST_BOX, setting.box, Role.BOX))
        x += _LEAST_BOX + _AIR
    writer.y = min(y, left.y) - _AIR / 2


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
