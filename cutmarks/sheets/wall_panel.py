"""ON THE WALL: read first. What a tape should read from the fixed neighbours, and what is done where it differs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from cutmarks.checks.returned import shift_words
from cutmarks.marks.lettering import fitting, width
from cutmarks.marks.template import Subject
from cutmarks.openings.model import Cut, WallCheck
from cutmarks.saying.edges import read_from, unread_words
from cutmarks.saying.measures import check_words
from cutmarks.saying.trust import SNAP
from cutmarks.sheets.panel import PAD, SMALL, WORDS, Panel, Which, Writer, chosen
from cutmarks.units import Style, Unit

_WALL_FIGURE = 4.3
_NAME = 3.3
_MORE = 2.6
_BLANK = "____"


def wall_panel(subject: Subject, wide: float, which: Which = None) -> Panel | None:
    """ON THE WALL: what to read from the fixed neighbours first; None where nothing fixed can be read."""
    if subject.plan.say.cut == "ahead":
        return None
    kind = subject.plan.setout(subject.piece.piece.surface).kind
    several = len(subject.piece.cuts) > 1
    writer = Writer(width=wide)
    cuts = chosen(subject.cuts, which)
    beside = any(check.fixed and check.source.kind == "piece" for cut in cuts for check in cut.wall_checks)
    writer.title(f"ON THE {kind.upper()}: read first{' (joint included)' if beside else ''}")
    read = [cut for cut in cuts if cut.unread or any(check.fixed for check in cut.wall_checks)]
    if not read:
        return None

    def one(column: Writer, cut: Cut) -> None:
        if several:
            column.text(cut.opening.name, _NAME, bold=True)
            column.gap(0.4)
        for check in cut.wall_checks:
            if check.fixed:
                _wall_row(column, subject.style, read_from(subject.plan, subject.face, check), check)

        for unread in cut.unread:
            column.text(unread_words(subject.plan, subject.face, unread), SMALL)

    writer.columns(read, one)
    for words in _corrected(subject, read):
        writer.text(words, SMALL, bold=True)
    more = "found MORE: the hole moves AWAY from it"
    writer.text(more, max(fitting(more, _MORE, writer.room - SNAP, bold=True), SMALL), bold=True)
    for words in slide_words(subject):
        writer.text(words, SMALL)
    return writer.panel()


def slide_words(subject: Subject) -> Iterator[str]:
    """What is done with the sheet where the wall differs: by the ticks along its edges, and along the tape."""
    if subject.registration.edges:
        tick = "1/32 in" if subject.style.unit is Unit.INCH else "1 mm"
        yield f"slide the sheet: fold it at a + tick for more, at a \u2212 tick for less (each {tick})"
    for side in subject.registration.tape:
        yield f"from the {subject.names[side]}: TAPE as much more as you found more, or less"


def _corrected(subject: Subject, cuts: Sequence[Cut]) -> Iterator[str]:
    """What this sheet was already corrected by, so that it is not slid by the same again."""
    several = len(subject.piece.cuts) > 1
    for one in subject.plan.found:
        if one.piece == subject.piece.name and any(cut.opening.name == one.hole for cut in cuts):
            words = shift_words(one, subject.style)
            if words:
                yield f"{one.hole + ': ' if several else ''}{words}: these are the figures to expect now"


def _wall_row(writer: Writer, style: Style, words: str, check: WallCheck) -> None:
    figures = check_words(check, style)
    said = f"from {words}"
    if width(said, WORDS) + width(figures, _WALL_FIGURE, bold=True) + 3.0 <= writer.room:
        writer.y -= _WALL_FIGURE
        writer.put(said, PAD, WORDS)
    else:
        writer.text(said, WORDS)
        writer.y -= _WALL_FIGURE
    size = fitting(figures, _WALL_FIGURE, writer.room, bold=True)
    writer.put(figures, writer.width - PAD, size, "end", bold=True)
    writer.y -= WORDS * 2.1
    writer.put(f"found {_BLANK}" if check.to_middle else f"found {_BLANK} {_BLANK}", PAD, WORDS)
    writer.put(f"differs {_BLANK}", writer.width - PAD, WORDS, "end")
    writer.y -= 2.8
