"""One piece on the wall page: where it is, what to read, what to mark, and what to cut it to."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from lxml import etree

from cutmarks.checks.model import SAID
from cutmarks.geometry.shapes import Circle
from cutmarks.openings.found import cut_day_words
from cutmarks.openings.model import Cut, CutPiece, InfillEnd, WallCheck
from cutmarks.plan import Plan
from cutmarks.registering.model import Registration
from cutmarks.saying import wall_words as words
from cutmarks.saying.behind import from_behind
from cutmarks.saying.by_reading import ByReading, Covers, by_reading, found_of
from cutmarks.saying.cuts import (
    ITS_MIDDLE,
    MarkRow,
    checked,
    corner_words,
    drill_words,
    middle_parts,
    reaches_words,
    rest_words,
)
from cutmarks.saying.edge_work import edge_work_words
from cutmarks.saying.edges import plumb_turn, read_from, unread_words
from cutmarks.saying.figures import may_be_words, trimmed_size
from cutmarks.saying.findings import findings_of, held, held_words, size_held, waiting_for
from cutmarks.saying.infills import AT_END, InfillRead, infills_read, unread_lines
from cutmarks.saying.measures import figures_shown, shown, size_words
from cutmarks.saying.pieces import edges_words, shape_words
from cutmarks.saying.seen import Seen, seen
from cutmarks.sides import Side
from cutmarks.units import say, say_down, say_up
from cutmarks.writers.number import number as number_of
from cutmarks.writers.wall_page import figures
from cutmarks.writers.wall_page.elements import put
from cutmarks.writers.wall_page.pictures import ARROW, WallPictures

_TURNED = 0.05
"""Degrees: a tile that is turned less stands upright."""


def put_piece(
    main: etree._Element,
    plan: Plan,
    piece: CutPiece,
    number: int,
    registrations: Sequence[Registration],
    pictures: WallPictures,
    covers: Covers,
) -> figures.Counted:
    """The section of a piece, the one of that number; what the script adds and compares for it."""
    section = put(main, "section", id=f"p-{number}", class_="view piece", aria_labelledby=f"n-{number}")
    if any(finding.level == "stop" for finding in waiting_for(plan, piece)):
        section.attrib["data-stops"] = ""
    put(section, "p", words.NEXT, class_="next", hidden="")
    put(section, "h2", piece.name, id=f"n-{number}")
    put(section, "p", piece.words, class_="place")
    views = [seen(plan, piece, registration) for registration in registrations]
    _look(section, plan, piece, views, pictures)
    for finding in waiting_for(plan, piece):
        band = put(section, "p", class_="stop")
        put(band, "b", held_words(plan, piece)).tail = f" {finding.text}"
    stopped = held(plan, piece) == "all"
    by = [by_reading(plan, piece, cut, covers) for cut in piece.cuts]
    _read(section, plan, piece, by)
    openings = list(infills_read(plan, piece))
    ends = [_ends_found(plan, piece, one) or one.infill.ends for one in openings]
    shown_ends = [
        figures.ends_shown(one, own, plan.limits.two_sizes.value) for one, own in zip(openings, ends, strict=True)
    ]
    _openings(section, plan, piece, openings, ends, shown_ends)
    _mark(section, plan, piece, views, by, stopped)
    _size(section, plan, piece, bool(openings))
    _also(section, plan, piece, any(view.registration.back for view in views))
    return figures.of_piece(
        piece,
        [
            figures.of_cut(one, cut, _views_of(views, index), not stopped)
            for index, (one, cut) in enumerate(zip(by, piece.cuts, strict=True))
        ],
        [figures.of_opening(one, own, numbers) for one, own, numbers in zip(openings, ends, shown_ends, strict=True)],
    )


def _views_of(views: Sequence[Seen], index: int) -> list[Seen]:
    """The templates that a cut stands on: one for each face that it is laid on."""
    found: dict[bool, Seen] = {}
    for view in views:
        if index in view.registration.cuts:
            found.setdefault(view.registration.back, view)
    return list(found.values())


def _ends_found(plan: Plan, piece: CutPiece, read: InfillRead) -> tuple[InfillEnd, ...] | None:
    """The ends of an opening as they were found last; None where nothing came back."""
    return next(
        (one.ends for one in reversed(plan.infills_found) if one.piece == piece.name and one.expected == read.infill),
        None,
    )


def _look(section: etree._Element, plan: Plan, piece: CutPiece, views: Sequence[Seen], pictures: WallPictures) -> None:
    """Where it is, what goes, which face, which way is up."""
    row = put(section, "div", class_="look")
    backs = {view.registration.back for view in views}
    is_back = backs == {True}
    number = next(at for at, one in enumerate(plan.laid) if one.setout.name == piece.piece.surface)
    where = put(row, "a", class_="where", href=f"#{pictures.elevation_name(number)}")
    pictures.put_thumbnail(where, piece)
    # Beside a drawing that is mirrored it says how it is seen.
    put(where, "span", words.AS_FACED if is_back else words.ELEVATION)
    drawn = from_behind(piece) if is_back else piece
    pictures.put_sketch(row, drawn, heavy=held(plan, piece) != "all")
    face = put(row, "p", class_="face")
    put(face, "b", words.BACK if is_back else words.FACE)
    up = put(row, "p", class_="up")
    _arrow(up, 0.0)
    put(up, "b", words.UP)
    turn, setout = plumb_turn(piece), plan.setout(piece.piece.surface)
    if abs(turn) > _TURNED:
        plumb = put(row, "p", class_="up")
        _arrow(plumb, -turn)
        put(plumb, "span", words.PLUMB if setout.kind == "wall" else setout.up)
    elif setout.up:
        put(up, "span", setout.up)
    if True in backs:
        put(section, "p", words.MIRRORED, class_="band")


def _arrow(into: etree._Element, turn: float) -> None:
    """An arrow that points up, turned clockwise."""
    drawn = put(into, "svg", class_="arrow", aria_hidden="true")
    drawn.attrib["viewBox"] = "0 0 20 24"
    turned = {"transform": f"rotate({number_of(turn)} 10 12)"} if turn else {}
    put(drawn, "use", href=f"#{ARROW}", **turned)


def _read(section: etree._Element, plan: Plan, piece: CutPiece, by: Sequence[ByReading]) -> None:
    """What a tape reads on the bare wall, each in a box that is stepped."""
    if not any(one.checks or cut.unread for one, cut in zip(by, piece.cuts, strict=True)) or plan.say.cut == "ahead":
        return
    group = put(section, "div", class_="read")
    title = put(group, "h3", words.READ)
    if any(one.checks for one in by):
        title.text = f"{title.text} "
        put(title, "span", words.MORE)
    for index, (one, cut) in enumerate(zip(by, piece.cuts, strict=True)):
        if len(piece.cuts) > 1 and (one.checks or cut.unread):
            put(group, "h4", cut.opening.name)
        kept = found_of(plan, piece, cut)
        if one.is_cut and kept is not None:
            put(group, "p", cut_day_words(kept), class_="note")
        for number, check in enumerate(one.checks):
            _check(group, plan, piece, cut, check, f"c.{index}.{number}", one.is_cut)
        for unread in cut.unread:
            put(group, "p", unread_words(plan, piece, unread), class_="from")


def _check(
    group: etree._Element, plan: Plan, piece: CutPiece, cut: Cut, check: WallCheck, box: str, is_cut: bool
) -> None:
    put(group, "p", f"from {read_from(plan, piece, check)}", class_="from")
    # The boxes stand as the two sides do on the wall: read from the right, the near one is the right one.
    pair = put(group, "div", class_="pair from-right" if check.side is Side.RIGHT else "pair")
    ends = [(check.near, words.MIDDLE)] if check.to_middle else [(check.near, words.NEAR), (check.far, words.FAR)]
    for number, (mm, what) in enumerate(ends):
        _box(pair, f"{box}.{number}", say(mm, plan.say.style), what, is_cut)


def _box(into: etree._Element, name: str, figure: str, what: str, is_cut: bool = False) -> None:
    """A figure in a box of its own; the script puts a large minus and plus beside it, and the keypad behind it."""
    box = put(into, "div", class_="box", **({} if is_cut else {"data_box": name}))
    put(box, "span", what, class_="what")
    put(box, "span", figure, class_="figure")


def _mark(
    section: etree._Element,
    plan: Plan,
    piece: CutPiece,
    views: Sequence[Seen],
    by: Sequence[ByReading],
    stopped: bool,
) -> None:
    """The figures to mark each cut by; where nothing may be cut, what would be."""
    if not piece.cuts:
        return
    group = put(section, "div", class_="mark")
    put(group, "h3", words.MARK)
    if stopped:
        put(group, "p", words.NO_FIGURES, class_="stop", data_told="held")
    for index, cut in enumerate(piece.cuts):
        own = _views_of(views, index)
        if len(piece.cuts) > 1:
            put(group, "h4", cut.opening.name)
        marked = put(group, "div", data_marked=str(index))
        if not stopped:
            _rows(marked, own, cut, index, several=len(own) > 1)
        # What is taken off a tile by a box over its edge is another size once it moves; a core stays as it is.
        stays = cut.kind == "hole" or isinstance(cut.opening.shape, Circle)
        size = size_words(cut, piece, plan.say.style)
        put(marked, "p", size, class_="core" if stays else "core planned", data_cut=str(index))
        may_be = may_be_words(cut.opening, plan.say.style)
        if may_be:
            put(marked, "p", may_be, class_="may-be")
        if not stopped:
            _checks(marked, own, cut, index)
            for rest in filter(None, (rest_words(view, figures.own_cut(view, cut)) for view in own[:1])):
                put(marked, "p", rest, class_="rest")
            for said in _of_the_cut(own, cut):
                put(marked, "p", said, class_="planned", data_cut=str(index))
            _middle(marked, own, cut, index)
        put(group, "div", data_answers=str(index))
    put(group, "p", words.template_words(piece.fingerprint), class_="print")


def _rows(marked: etree._Element, views: Sequence[Seen], cut: Cut, index: int, *, several: bool) -> None:
    """The rows of every template of a cut."""
    row_number = 0
    for view in views:
        if several:
            put(marked, "p", words.BACK if view.registration.back else words.FACE, class_="which")
        for row in figures.rows_of(view, cut):
            _row(marked, view, row, figures.own_cut(view, cut), f"{index}.{row_number}")
            row_number += 1


def _checks(marked: etree._Element, views: Sequence[Seen], cut: Cut, index: int) -> None:
    """What to check with, on every template of a cut."""
    check_number = 0
    for view in views:
        measures = checked(view, figures.own_cut(view, cut))
        if not measures:
            continue
        reaches = [reaches_words(figures.own_cut(view, cut), measure) for measure in measures]
        alike = len(set(reaches)) == 1
        line = put(marked, "p", f"{words.CHECK} {reaches[0]}: " if alike else f"{words.CHECK}: ", class_="check")
        for position, (measure, reach) in enumerate(zip(measures, reaches, strict=True)):
            _, rest = shown(measure.values[-1], measure.side, view.piece, view.style)
            end = "" if position == len(measures) - 1 else ", "
            figure = put(line, "span", rest, data_check=f"{index}.{check_number}")
            to = "" if alike else f" {reach}"
            figure.tail = f"{to} from the {view.names[measure.side.opposite]}{end}"
            check_number += 1


NO_BREAK = "\u00a0"
_TO = f"{NO_BREAK}to{NO_BREAK}"


def _row(marked: etree._Element, view: Seen, row: MarkRow, cut: Cut, name: str) -> None:
    line = put(marked, "p", class_="row")
    measure = row.measure
    edge = next((side for side in cut.runs_out if side.axis != measure.side.axis), None)
    # Both ends of what is cut lie on one edge, which the words beside the figures say where they are not of a lean.
    along = words.along_words(view.names[edge]) if measure.what == "sides" and edge is not None else ""
    # A line of the phone may end at "to", never within 8 15/16.
    figure = figures_shown(row.measure, view.piece, view.style).replace(" ", NO_BREAK).replace(_TO, " to ")
    put(line, "b", figure, class_="figure", data_row=name).tail = " "
    put(line, "span", row.words if not along or row.words.startswith(along) else f"{along}, {row.words}")
    if along and edge is not None:
        WallPictures.put_along(line, view.piece, cut, measure, edge, along)


def _of_the_cut(views: Sequence[Seen], cut: Cut) -> Iterator[str]:
    """What else is said of a cut as it was planned."""
    for view in views[:1]:
        own = figures.own_cut(view, cut)
        yield from filter(None, (drill_words(view, own), corner_words(view, own)))


def _middle(marked: etree._Element, views: Sequence[Seen], cut: Cut, index: int) -> None:
    """Where the middle of a core is that only bites into the tile, for the board that guides it."""
    for view in views[:1]:
        own = figures.own_cut(view, cut)
        if not figures.bites(own):
            continue
        line = put(marked, "p", ITS_MIDDLE, class_="middle", data_cut=str(index))
        number, is_off = 0, False
        for position, (measure, figure, said) in enumerate(middle_parts(view, own)):
            told = put(line, "span", figure)
            told.tail = f" {said}" if position else f" {said}, "
            if measure is not None:
                told.attrib["data-middle"] = f"{index}.{number}"
                number += 1
            else:
                is_off = True
        if is_off:
            put(marked, "p", words.CLAMP_SCRAP, class_="middle")


def _openings(
    section: etree._Element,
    plan: Plan,
    piece: CutPiece,
    openings: Sequence[InfillRead],
    ends: Sequence[Sequence[InfillEnd]],
    shown_ends: Sequence[Sequence[int]],
) -> None:
    """What is read for a piece that is trimmed, and what it is cut to; or why nothing is read."""
    style = plan.say.style
    unread = list(unread_lines(plan, piece))
    if unread:
        group = put(section, "div", class_="read")
        put(group, "h3", words.READ)
        for said in unread:
            put(group, "p", said, class_="from")
    for number, (read, own, numbers) in enumerate(zip(openings, ends, shown_ends, strict=True)):
        several = len(numbers) > 1
        group = put(section, "div", class_="read")
        put(group, "h3", words.READ)
        put(group, "p", read.words, class_="from")
        pair = put(group, "div", class_="pair")
        for index in numbers:
            what = AT_END[own[index].at] if several else words.OPENING
            _box(pair, f"o.{number}.{index}", say(own[index].opening, style), what)
        if read.off:
            put(group, "p", read.off, class_="note")
        cut_to = put(section, "div", class_="mark", data_cutting=str(number))
        put(cut_to, "h3", words.TILE_AGAIN if read.infill.past else words.CUT_TO)
        for index in numbers:
            line = put(cut_to, "p", class_="row")
            size = (say_up if read.infill.past else say_down)(own[index].cut, style)
            put(line, "b", size, class_="figure", data_size=f"{number}.{index}").tail = " "
            put(line, "span", AT_END[own[index].at] if several else words.AXIS[read.infill.side.axis])
        put(section, "div", data_answers=f"o.{number}")


def _size(section: etree._Element, plan: Plan, piece: CutPiece, is_read: bool) -> None:
    """What a trimmed piece comes to as planned, and how it is trimmed."""
    if not (piece.piece.trimmed or piece.part is not None):
        return
    style = plan.say.style
    if size_held(plan, piece):
        put(section, "p", words.SIZE_HELD if held(plan, piece) == "trimming" else words.ALL_HELD, class_="note")
        return
    line = put(section, "p", words.AS_PLANNED, class_="size planned-size" if is_read else "size")
    put(line, "b", "; ".join(trimmed_size(piece, style, plan.limits.two_sizes.value)))
    shape = shape_words(piece, style, plan.limits.small_step.value)
    if shape:
        put(section, "p", shape, class_="size planned-size" if is_read else "size")


def _also(section: etree._Element, plan: Plan, piece: CutPiece, is_back: bool) -> None:
    """Its edges, what else the job says of it, and what must be known before it is cut."""
    group = put(section, "div", class_="also")
    for said in edges_words(piece):
        put(group, "p", f"{said}, {words.ON_ITS_FACE}" if is_back else said)
    for said in edge_work_words(piece, plan.say.style):
        put(group, "p", said)
    for note in piece.notes:
        put(group, "p", f"note, {note}")
    for finding in findings_of(plan, piece):
        reason = f" (accepted: {finding.accepted})" if finding.accepted is not None else ""
        line = put(group, "p", class_=f"finding {finding.level}")
        put(line, "b", SAID[finding.level]).tail = f" {finding.text}{reason}"
