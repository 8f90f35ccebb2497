"""4 CUT: the core or the cut-out, how far it may be off, and what has to be known before.

What is cut, how, what a piece waits for and what has to be checked stand on this page in any case: where the panel is
too small, by their first sentences, and then in a box in the drawing. Notes alone go to the job sheet, by number.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from functools import partial

from msgspec import Struct
from msgspec.structs import replace

from cutmarks.checks.frames import SLID_UNDER
from cutmarks.checks.model import SAID, Finding
from cutmarks.cutting.operations import CoreHole
from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.geometry.shapes import Circle
from cutmarks.marks import sizes
from cutmarks.marks.lettering import width
from cutmarks.marks.model import Mark, Tone, block
from cutmarks.marks.template import Subject, is_clear_of_cover, is_clipped
from cutmarks.openings.model import Cut
from cutmarks.saying.corners import (
    against_words,
    between_words,
    corners_cut,
    other_corners,
    radius_words,
    stop_words,
)
from cutmarks.saying.cuts import corner_words, drill_words, lined_up_words, middle_words, rest_words, run_out_words
from cutmarks.saying.edge_work import edge_work_words
from cutmarks.saying.figures import may_be_words
from cutmarks.saying.findings import READ_AGAIN, called, findings_of, held_words, in_short, to_read_again, waiting_for
from cutmarks.saying.how_cut import corner_order, how_in_short, to_cut
from cutmarks.saying.measures import centre_on_tile, is_bite, size_words, spacing_words
from cutmarks.saying.trust import paper_words
from cutmarks.sheets.more_to_check import MoreToCheck
from cutmarks.sheets.panel import PAD, Filling, Writer, fit, panel
from cutmarks.sides import SIDES
from cutmarks.units import say

NEEDED, CHECKS, PAPER, DONE, REST, NOTES = range(6)
"""How much a sentence is needed on the sheet itself: the lower the later it gives way."""
_SIZES = (sizes.CORE, sizes.capitals(20.0), sizes.capitals(16.0), sizes.capitals(13.0), sizes.BODY)
FROM_BEHIND = "drill from the BACK"
ON_JOB_SHEET = "more about this tile: job sheet"
NUMBERED = "read on the JOB SHEET: "
"""It leads: a number alone was looked for on the front sheet."""
_KEPT = frozenset({SLID_UNDER})
"""Notes that stay on the sheet: who holds the tile has to know how it gets in."""
_DONE_SO = frozenset({"much cut out", "inside corners"})
"""Notes that say how it is drilled or cut, and give way late: by what is done alone."""
_BAND = 1.1
"""Clear of the words in the band of a piece that waits, mm."""


class CutLine(Struct, frozen=True):
    """One sentence of the panel: how much it is needed, and, of a finding, which it is."""

    needed: int
    text: str
    height: float = sizes.LEAST
    bold: bool = False
    finding: Finding | None = None

    @property
    def short(self) -> CutLine:
        """The same by the first sentence of its finding; one that stays on the sheet is not shortened."""
        return (
            self
            if self.finding is None or self.finding.rule in _KEPT or self.needed == DONE
            else replace(self, text=_found(self.finding, in_short(self.finding)))
        )


def cut_panel(subject: Subject, box: Bounds, *, alone: bool = False) -> tuple[list[Mark[SheetFrame]], MoreToCheck]:
    """4 CUT in its box, and what has to be checked that it has no room for.

    Where the drawing has none either, the panel stands `alone`: it names what else is to be checked by number.
    """
    lines = list(cut_lines(subject))
    left: list[CutLine] = []
    ways = _ways(subject, cut_sizes(subject), lines, left, alone=alone)
    marks = list(panel(box, ("4 CUT",), ways))
    return marks, MoreToCheck(tuple(line.text for line in left if line.needed <= CHECKS))


def _ways(
    subject: Subject, heads: Sequence[str], lines: Sequence[CutLine], left: list[CutLine], *, alone: bool
) -> Iterator[Filling]:
    """With all lines, then with one less after the other, the least needed first; then smaller, and in short.

    At last what has to be checked goes one after the other too, for the drawing to hold: findings before what is said
    of the cuts themselves. `left` is what the way that was tried last has no line for.
    """
    write = partial(_write, alone=alone)
    by_need = sorted(range(len(lines)), key=lambda number: (lines[number].needed, lines[number].finding is not None))
    checks = sum(line.needed <= CHECKS for line in lines)
    needed = sum(line.needed == NEEDED for line in lines)
    large = [replace(line, height=sizes.BODY) for line in lines]
    yield partial(write, subject, heads, large, sizes.CORE, frozenset(by_need), left)
    paper = sum(line.needed <= PAPER for line in lines)
    for count in range(len(lines), paper, -1):
        yield partial(write, subject, heads, lines, sizes.CORE, frozenset(by_need[:count]), left)
    for size in _SIZES[:3]:
        yield partial(write, subject, heads, lines, size, frozenset(by_need[:paper]), left)
    for count in range(paper - 1, checks - 1, -1):
        yield partial(write, subject, heads, lines, sizes.CORE, frozenset(by_need[:count]), left)
    short = [line.short for line in lines]
    for texts, size in ((lines, _SIZES[1]), (lines, _SIZES[2]), *((short, size) for size in _SIZES)):
        yield partial(write, subject, heads, texts, size, frozenset(by_need[:checks]), left)
    # What no longer stands in the panel leaves it room for how far the paper may be out, and for what is less needed.
    besides = [number for number in by_need[checks:] if lines[number].needed < NOTES]
    for count in range(checks - 1, needed - 1, -1):
        for also in range(len(besides), -1, -1):
            kept = frozenset((*by_need[:count], *besides[:also]))
            yield partial(write, subject, heads, short, _SIZES[2], kept, left)
    for is_brief in (False, True):
        for size in _SIZES[3:]:
            yield partial(write, subject, heads, short, size, frozenset(by_need[:needed]), left, is_brief=is_brief)


def cut_sizes(subject: Subject) -> list[str]:
    """What is cut, each hole by its name where two of them differ: "CORE 35", "hot: CORE 35"; stopped: NOTHING."""
    if subject.stopped:
        return ["NOTHING"]
    if subject.corners:
        return [corners_cut(subject.piece)]
    several = len(subject.cuts) > 1
    said = [size_words(cut, subject.piece, subject.style) for cut in subject.cuts]
    if len(set(said)) == 1:
        return said[:1]
    return [f"{cut.opening.name}: {words}" if several else words for cut, words in zip(subject.cuts, said, strict=True)]


def cut_lines(subject: Subject) -> Iterator[CutLine]:
    """All that CUT has to say below the sizes, in the order in which it stands."""
    if not subject.stopped:
        yield from _of_corners(subject) if subject.corners else _of_cuts(subject)
        radius = radius_words(subject)
        if radius:
            yield CutLine(CHECKS, radius, bold=True)
    findings = findings_of(subject.plan, subject.piece)
    for finding in findings:
        if finding in waiting_for(subject.plan, subject.piece) and subject.stopped:
            continue  # it stands across the drawing
        if finding.rule in _DONE_SO and not subject.stopped:
            yield CutLine(DONE, _found(finding, finding.text.rpartition(". ")[2]), finding=finding)
            continue
        is_remark = finding.level == "note" and finding.holds == "all" and finding.rule not in _KEPT
        needed = NOTES if is_remark else CHECKS
        yield CutLine(needed, _found(finding, finding.text), finding=finding)
    yield from _of_piece(subject)


def _found(finding: Finding, text: str) -> str:
    reason = f" (accepted: {finding.accepted})" if finding.accepted is not None else ""
    return f"{SAID[finding.level]}: {text}{reason}"


def _of_corners(subject: Subject) -> Iterator[CutLine]:
    """What is said of L cuts and notches."""
    yield CutLine(NEEDED, stop_words(subject), bold=True)
    for words in between_words(subject):
        yield CutLine(NEEDED, words, bold=True)
    for words in other_corners(subject):
        yield CutLine(NEEDED, words)
    yield CutLine(PAPER, paper_words(subject, *subject.corners))
    for corner in subject.corners:
        for words in against_words(subject, corner):
            yield CutLine(REST, words)


def _of_cuts(subject: Subject) -> Iterator[CutLine]:
    """What is said of each cut, by its name where there are two; what is so of both stands once."""
    if len(subject.cuts) == 1:
        yield from _of_cut(subject, subject.cuts[0])
        return
    of_line: dict[CutLine, list[str]] = {}
    for cut in subject.cuts:
        for line in _of_cut(subject, cut):
            of_line.setdefault(line, []).append(cut.opening.name)
    for line, names in of_line.items():
        whose = "both" if len(names) > 1 else names[0]
        yield replace(line, text=f"{whose}: {line.text}")


def _of_cut(subject: Subject, cut: Cut) -> Iterator[CutLine]:
    if subject.registration.back and _is_cored_from_behind(subject, cut):
        yield CutLine(NEEDED, FROM_BEHIND, sizes.BODY, bold=True)
    drill = drill_words(subject, cut)
    if drill:
        yield CutLine(NEEDED, drill, bold=True)
    if is_clipped(subject, cut):
        yield CutLine(NEEDED, "LARGER THAN THE PAPER: mark the rest by the tape", bold=True)
    may_be = may_be_words(cut.opening, subject.style)
    if may_be:
        yield CutLine(NEEDED, may_be, sizes.BODY, bold=True)
    is_round = isinstance(cut.opening.shape, Circle)
    if cut.kind != "hole" and is_round:
        yield CutLine(CHECKS, "no pilot here: clamp a board with a hole over it, or grind", bold=True)
    if (cut.kind == "corner notch" and is_round and centre_on_tile(cut)) or is_bite(cut):
        yield CutLine(CHECKS, middle_words(subject, cut))
    run = run_out_words(subject, cut)
    if run:
        yield CutLine(CHECKS, run)
    clear = cut.opening.keep_clear
    if clear is not None and not is_clear_of_cover(cut):
        size = (
            say(clear.w, subject.style)
            if clear.round
            else f"{say(clear.w, subject.style)} x {say(clear.h, subject.style)}"
        )
        yield CutLine(NEEDED, f"{size} about its middle stays free of tile (screws)")
    rest = rest_words(subject, cut)
    if rest:
        yield CutLine(CHECKS, rest)
    yield CutLine(PAPER, paper_words(subject, cut))
    for words in lined_up_words(subject, cut):
        yield CutLine(REST, words)
    corners = corner_words(subject, cut)
    if corners:
        yield CutLine(NOTES, corners)


def _is_cored_from_behind(subject: Subject, cut: Cut) -> bool:
    """Whether the core goes in where this sheet lies, on the back."""
    operations = to_cut(subject.plan, subject.face).operations
    return any(isinstance(one, CoreHole) and one.cut == cut.opening.name and one.side == "back" for one in operations)


def _of_piece(subject: Subject) -> Iterator[CutLine]:
    piece = subject.piece
    if len(subject.cuts) > 1 and not subject.stopped:
        apart = spacing_words(subject.cuts[0], subject.cuts[1:], piece, subject.style)
        yield CutLine(CHECKS, f"keep {apart}", bold=True)
    others = [cut for cut in piece.cuts if cut not in subject.cuts]
    if others and subject.cuts and not subject.stopped:
        apart = spacing_words(subject.cuts[0], others, piece, subject.style)
        yield CutLine(CHECKS, f"on another sheet: {apart}", bold=True)
    how = to_cut(subject.plan, subject.face)
    if len(how.operations) > 1 and not subject.registration.back:  # its sides are those of the face
        plain = {side: subject.plainly(side) for side in SIDES}
        order = corner_order(how, subject.face, plain) if subject.corners else ""
        yield CutLine(REST, order or how_in_short(how, subject.face, subject.style))
    if piece.piece.tile.bevelled:
        yield CutLine(REST, "Bevelled tile: the lines are its OUTER edges, not where the bevel begins.", bold=True)
    for words in edge_work_words(piece, subject.style, subject.names):
        yield CutLine(REST, words, bold=True)
    for note in piece.notes:
        yield CutLine(NOTES, f"note, {note}")


def _write(
    subject: Subject,
    heads: Sequence[str],
    lines: Sequence[CutLine],
    size: float,
    kept: Collection[int],
    left: list[CutLine],
    writer: Writer,
    *,
    alone: bool = False,
    is_brief: bool = False,
) -> None:
    waits = held_words(subject.plan, subject.piece)
    if waits and not subject.stopped:
        _band(writer, waits)
    elif not is_brief and not waits and to_read_again(subject.plan, subject.piece):
        _band(writer, READ_AGAIN)
    for words in heads:
        _head(writer, words, size)
    left.clear()
    for number, line in enumerate(lines):
        if number in kept:
            writer.text(line.text, line.height, bold=line.bold)
        else:
            left.append(line)
    elsewhere = [line for line in left if (alone or line.needed > CHECKS) and line.needed != PAPER]
    numbers = [called(subject.plan, line.finding) for line in elsewhere if line.finding]
    if numbers and not is_brief:
        # Who reads the one note alone would miss what else has no room: a remark has no number.
        more = " and this tile's row" if any(line.finding is None for line in elsewhere) else ""
        writer.text(f"{NUMBERED}{', '.join(numbers)}{more}", sizes.LEAST, bold=True)
    elif elsewhere:
        writer.text(ON_JOB_SHEET, sizes.LEAST)


def _head(writer: Writer, words: str, size: float) -> None:
    """What is cut, in as many lines as it takes; no word of it is broken."""
    longest = max(width(word, size, bold=True) for word in words.split())
    writer.text(words, size * min(1.0, writer.room / longest), bold=True)


def _band(writer: Writer, words: str) -> None:
    """DAY TWO, or STOP BEFORE THE SAW, white on black."""
    high = sizes.BODY + 2 * _BAND
    writer.marks.append(block(PAD, writer.y - high, writer.room, high))
    writer.y -= _BAND + sizes.BODY
    size = fit(words, sizes.BODY, sizes.LEAST, writer.room - 2 * _BAND)
    writer.put(words, PAD + _BAND, size, bold=True, tone=Tone.WHITE)
    writer.y -= _BAND + 0.8
