"""What is read on a template: what to mark on the tile, what to read on the wall, and what to know before cutting.

Figures on the tile and figures on the wall (which contain the joint) never stand in one list.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TypeVar

from cutmarks.checks.model import SAID
from cutmarks.checks.returned import shift_words
from cutmarks.geometry.frames import Point
from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.geometry.shapes import Circle, Rect
from cutmarks.marks.edge_words import neighbour_names
from cutmarks.marks.findings import findings_of, stops_of
from cutmarks.marks.lettering import fitting, width, wrapped
from cutmarks.marks.measures import (
    Measure,
    centre_on_tile,
    corners_on_tile,
    crossing_from,
    is_shared,
    measure_from,
    measures,
    open_sides,
    run_out,
    shown,
    size_words,
)
from cutmarks.marks.model import Mark, Tone, Words, block
from cutmarks.marks.template import Subject
from cutmarks.openings.model import Cut
from cutmarks.registering.sides import axis_of, centre_from, mark_sides, opposite
from cutmarks.setout.model import Side
from cutmarks.sheets.panel import FIGURE, LEAST_FIGURE, PAD, SMALL, WORDS, Panel, Writer, widest
from cutmarks.sheets.trust import SNAP, paper_words, parts_words
from cutmarks.units import Style, Unit, say, say_down

T = TypeVar("T")

BAND = 4.2
_SIZE = 4.6
_WALL_FIGURE = 4.3
_NAME = 3.3
_MORE = 2.6
_CHECK = 2.6
_BLANK = "____"

Row = tuple[str, str]
"""A figure and its words."""
Which = Sequence[int] | None
"""Which of a panel's items stand in it, counted from 0; None for all."""


def tile_panel(subject: Subject, wide: float, which: Which = None) -> Panel:
    """ON THE TILE: the figures to mark from, each cut in its turn."""
    return _tile_panel(subject, wide, which, short=False)


def short_tile_panel(subject: Subject, wide: float, which: Which = None) -> Panel:
    """The same in fewer words, for a sheet that has no room for all of them."""
    return _tile_panel(subject, wide, which, short=True)


def _tile_panel(subject: Subject, wide: float, which: Which, *, short: bool) -> Panel:
    writer = Writer(wide)
    writer.title("ON THE TILE: mark")
    several = len(subject.piece.cuts) > 1

    def one(column: Writer, cut: Cut) -> None:
        if several:
            column.text(cut.opening.name, _NAME, bold=True)
            column.gap(0.4)
        _tile_lines(column, subject, cut, short)

    writer.columns(_chosen(subject.cuts, which), one)
    others = [cut.opening.name for cut in subject.piece.cuts if cut not in subject.cuts]
    if others:
        writer.text(f"Also cut in this tile, on a sheet of its own: {', '.join(others)}.", SMALL, bold=True)
    if subject.piece.piece.tile.bevelled:
        writer.text("Bevelled tile: the lines are its OUTER edges, not where the bevel begins.", SMALL, bold=True)
    return writer.panel()


def _chosen(items: Sequence[T], which: Which) -> Sequence[T]:
    return items if which is None else [items[index] for index in which]


def _tile_lines(writer: Writer, subject: Subject, cut: Cut, short: bool) -> None:
    rows = mark_rows(subject, cut)
    height = FIGURE
    while height > LEAST_FIGURE and widest([figure for figure, _ in rows], height) > writer.room:
        height -= 0.25
    column = widest([figure for figure, _ in rows], height)
    for figure, words in rows:
        writer.figure(figure, words, column, height)
    writer.gap(0.8)
    size = size_words(cut, subject.style)
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
        writer.text(_middle_words(subject, cut), SMALL)
    run = run_out(cut, subject.piece)
    if run is not None and rows:
        side, low, high = run
        ends = " to ".join(shown(value, side[1], subject.piece, subject.style)[0] for value in (low, high))
        writer.text(f"runs out over the {subject.names[side[0]]} at {ends} from the {subject.names[side[1]]}", SMALL)
    if cut.opening.you_may_be is not None:
        writer.text(f"you may be {say_down(cut.opening.you_may_be, subject.style)} any way", WORDS, bold=True)
    if is_clipped(subject, cut):
        clipped = "LARGER THAN THE PAPER: clipped where the drawing ends, mark the rest by the tape"
        writer.text(clipped, SMALL, bold=True)
    writer.text(paper_words(subject, cut), SMALL)
    writer.text(parts_words(subject, cut), SMALL * 0.9)


def is_clipped(subject: Subject, cut: Cut) -> bool:
    """Whether the sheet, or the joined sheets, cannot show all of the cut."""
    return subject.registration.how != "joined" and not cut.share.bounds.within(subject.view)


def _middle_words(subject: Subject, cut: Cut) -> str:
    """Where the middle of a half-moon is, for the board that guides the core."""
    parts = []
    for side in mark_sides(cut):
        figure, _ = shown(centre_from(cut, side), side, subject.piece, subject.style)
        parts.append(f"{figure} from the {subject.names[side]}")
    return f"its middle: {', '.join(parts)}"


def mark_rows(subject: Subject, cut: Cut) -> list[Row]:
    """The figures to mark a cut from, with their words, fixed side first."""
    if cut.kind == "corner notch":
        rows = _corner_rows(subject, cut)
        if rows:
            return rows
    return [(_figures(subject, measure), _from_words(subject, cut, measure)) for measure in _own(subject, cut)]


def _own(subject: Subject, cut: Cut) -> tuple[Measure, ...]:
    return measures(cut, subject.piece)


def _figures(subject: Subject, measure: Measure) -> str:
    texts = [shown(value, measure.side, subject.piece, subject.style)[0] for value in measure.values]
    return " to ".join(texts)


def _from_words(subject: Subject, cut: Cut, measure: Measure) -> str:
    name = subject.names[measure.side]
    if measure.what == "end":
        deep = measure.side in open_sides(cut, subject.piece)
        return f"deep, from the {name}" if deep else f"to the cut, from the {name}"
    return f"from the {name}"


def _corner_rows(subject: Subject, cut: Cut) -> list[Row]:
    """A notch over a corner: how far in and how far down (or up) from the corner that goes."""
    piece = subject.piece
    gone = open_sides(cut, piece)
    rows: list[Row] = []
    for side in sorted(gone, key=axis_of):
        if side not in piece.factory_edges or len(gone) != 2:
            return []
        crossing = crossing_from(cut, piece, side)
        if crossing is None:
            return []
        other = next(one for one in gone if one != side)
        way = {"left": "in", "right": "in", "bottom": "up", "top": "down"}[side]
        figure = shown(crossing, side, piece, subject.style)[0]
        rows.append((figure, f"{way} from the corner that goes, along the {subject.names[other]}"))
    return rows


def drill_words(subject: Subject, cut: Cut) -> str:
    """Where the core of an opened hole, or of a slot, is started; "" for a cut that does not begin with one."""
    if cut.opening.drilled is None or not cut.drill_at:
        return ""
    across, up = mark_sides(cut)
    tile = subject.piece.piece.tile
    at = {"left": 0.0, "bottom": 0.0, "right": tile.w, "top": tile.h}
    spots = [
        " / ".join(
            shown(abs(value - at[side]), side, subject.piece, subject.style)[0]
            for value, side in ((middle.x, across), (middle.y, up))
        )
        for middle in cut.drill_at
    ]
    names = f"from the {subject.names[across]} / from the {subject.names[up]}"
    core = say(cut.opening.drilled.core, subject.style)
    middles = "middle" if len(spots) == 1 else "middles"
    return f"first the CORE {core}, its {middles} {' and '.join(spots)} {names}; then saw to it"


def rest_words(subject: Subject, cut: Cut) -> str:
    """Of a cut over a joint, the whole of it and which tiles take the rest; "" where this tile takes it all."""
    others = [
        name
        for penetration in subject.plan.penetrations
        if penetration.opening.name == cut.opening.name
        for name in penetration.pieces
        if name != subject.piece.name
    ]
    match cut.opening.shape:
        case Rect(w=w, h=h) if is_shared(cut):
            whole = f"of {say(w, subject.style)} x {say(h, subject.style)} in all"
        case _:
            whole = ""
    rest = f"the rest is in {', '.join(others)}" if others else ""
    return ", ".join(words for words in (whole, rest) if words)


def corner_words(subject: Subject, cut: Cut) -> str:
    """Where the corners of a leaning cut are, each by its two measures; "" for any other cut."""
    across, up = mark_sides(cut)
    spots = [
        " / ".join(
            shown(value, side, subject.piece, subject.style)[0] for value, side in zip(at, (across, up), strict=True)
        )
        for at in corners_on_tile(cut, subject.piece)
    ]
    if not spots:
        return ""
    names = f"from the {subject.names[across]} / from the {subject.names[up]}"
    return f"{'its corner' if len(spots) == 1 else 'its corners'}, {names}: {', '.join(spots)}"


def lined_up_words(subject: Subject, cut: Cut) -> Iterator[str]:
    """Where the sheet does not lie against the edge that is marked from: which it lies against, and what to check."""
    for mark in mark_sides(cut):
        side = opposite(mark)
        if side not in subject.registration.edges:
            continue
        figures = [_figures(subject, measure) for measure in measure_from(cut, subject.piece, mark)]
        if figures:
            yield (
                f"the sheet lies against the {subject.names[side]}: check {figures[0]} from the {subject.names[mark]} "
                "by tape"
            )


def check_words(subject: Subject, cut: Cut) -> str:
    """The same marks from the other edges: "check: 173½ from the right edge, 285½ from the upper edge"."""
    rest = [f"{figure} from the {subject.names[side]}" for side, figure in _checks(subject, cut)]
    return f"check: {', '.join(rest)}" if rest else ""


def short_check_words(subject: Subject, cut: Cut) -> str:
    """The same without the edges' names: "check: 173½ / 285½ from the opposite edges"."""
    rest = [figure for _, figure in _checks(subject, cut)]
    return f"check: {' / '.join(rest)} from the opposite edge{'s' if len(rest) > 1 else ''}" if rest else ""


def _checks(subject: Subject, cut: Cut) -> Iterator[tuple[Side, str]]:
    """The sides that are not marked from, each with what a tape should read from it to the cut."""
    own = _own(subject, cut)
    if cut.kind == "corner notch":
        own = tuple(
            Measure(side, "end", (crossing,))
            for side in sorted(open_sides(cut, subject.piece), key=axis_of)
            if (crossing := crossing_from(cut, subject.piece, side)) is not None
        )
    for measure in own:
        _, text = shown(measure.values[-1], measure.side, subject.piece, subject.style)
        yield opposite(measure.side), text


def wall_panel(subject: Subject, wide: float, which: Which = None) -> Panel | None:
    """ON THE WALL: what to read from the fixed neighbours first; None where nothing fixed can be read."""
    if subject.plan.say.cut == "ahead":
        return None
    names = neighbour_names(subject.plan, subject.face)
    kind = next(one for one in subject.plan.surfaces if one.setout.name == subject.piece.piece.surface).setout.kind
    several = len(subject.piece.cuts) > 1
    writer = Writer(wide)
    writer.title(f"ON THE {kind.upper()}: read first (joint included)")
    cuts = _chosen(subject.cuts, which)
    read = [cut for cut in cuts if any(check.fixed for check in cut.wall_checks)]
    if not read:
        return None

    def one(column: Writer, cut: Cut) -> None:
        if several:
            column.text(cut.opening.name, _NAME, bold=True)
            column.gap(0.4)
        for check in cut.wall_checks:
            if check.fixed:
                _wall_row(column, subject.style, names[check.side], check.near, check.far)

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


def _wall_row(writer: Writer, style: Style, words: str, near: float, far: float) -> None:
    figures = f"{say(near, style)} and {say(far, style)}"
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
    writer.put(f"found {_BLANK} {_BLANK}", PAD, WORDS)
    writer.put(f"differs {_BLANK}", writer.width - PAD, WORDS, "end")
    writer.y -= 2.8


def findings_panel(subject: Subject, wide: float, which: Which = None) -> Panel | None:
    """BEFORE YOU CUT: every finding of the piece; None where there is none."""
    found = _chosen(findings_of(subject.plan, subject.piece), which)
    if not found:
        return None
    writer = Writer(wide)
    writer.title("BEFORE YOU CUT")
    for finding in found:
        reason = f" (accepted: {finding.accepted})" if finding.accepted is not None else ""
        writer.text(f"{finding.text}{reason}", SMALL * 1.08, indent=15.0, label=SAID[finding.level])
        writer.gap(0.6)
    return writer.panel()


def stop_panel(subject: Subject, wide: float, which: Which = None) -> Panel | None:
    """A black band with the sentences that say why this piece must not be cut; None where there is none."""
    stops = _chosen(stops_of(subject.plan, subject.piece), which)
    return _band(f"{_stop_words(subject)} \u2013 " + " ".join(stop.text for stop in stops), wide) if stops else None


def short_stop_panel(subject: Subject, wide: float, which: Which = None) -> Panel | None:
    """The same in one line, for a sheet that has no room for the sentences: they stand under BEFORE YOU CUT."""
    stops = _chosen(stops_of(subject.plan, subject.piece), which)
    return _band(f"{_stop_words(subject)} \u2013 {forbidden(subject)}", wide) if stops else None


def _stop_words(subject: Subject) -> str:
    return "STOP" if subject.waits == "all" else "STOP BEFORE THE SAW"


def forbidden(subject: Subject) -> str:
    """What must not be done with the piece; "" where nothing is held up."""
    return {"all": "do not cut this piece", "trimming": "holes go on, its size is not known", None: ""}[subject.waits]


def _band(text: str, wide: float) -> Panel:
    rows = wrapped(text, BAND, wide - 8.0, bold=True)
    step = BAND * 1.6
    height = step * len(rows) + 4.0
    marks: list[Mark[SheetFrame]] = [block(0.0, -height, wide, height)]
    marks += [
        Words(row, Point(4.0, -2.6 - BAND - number * step), BAND, bold=True, tone=Tone.WHITE)
        for number, row in enumerate(rows)
    ]
    return Panel(wide, height, tuple(marks))
