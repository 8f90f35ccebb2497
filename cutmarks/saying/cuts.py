"""What is said of one cut on its tile: the figures to mark it by and to check it with, and what else matters."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from cutmarks.geometry.shapes import Circle
from cutmarks.openings.model import Cut
from cutmarks.registering.sides import mark_sides
from cutmarks.saying.measures import (
    Measure,
    corners_on_tile,
    crossing_from,
    figures_shown,
    is_bite,
    is_shared,
    leans_on_tile,
    measure_from,
    measures,
    meets_edge,
    run_out,
    shown,
)
from cutmarks.saying.seen import Seen
from cutmarks.sides import Side
from cutmarks.units import say

FigureRow = tuple[str, str]
"""A figure and its words."""


class MarkRow(Struct, frozen=True):
    """One row of what a cut is marked by: the measure, and the words beside its figures."""

    measure: Measure
    words: str


def mark_rows(seen: Seen, cut: Cut) -> list[FigureRow]:
    """The figures to mark a cut from, with their words, fixed side first."""
    return [(_figures(seen, row.measure), row.words) for row in marked(seen, cut)]


def marked(seen: Seen, cut: Cut) -> list[MarkRow]:
    """The same with the measures themselves, for whoever moves them by what is read."""
    if cut.kind == "corner notch":
        rows = _corner_rows(seen, cut)
        if rows:
            return rows
    met = meets_edge(cut, seen.piece)
    if met is not None:
        (along, side), low, high = met
        return [
            MarkRow(Measure(side, "sides", (low, high)), f"along the {seen.names[along]}, from the {seen.names[side]}")
        ]
    return [MarkRow(measure, _from_words(seen, cut, measure)) for measure in _own(seen, cut)]


def _own(seen: Seen, cut: Cut) -> tuple[Measure, ...]:
    return measures(cut, seen.piece)


def _figures(seen: Seen, measure: Measure) -> str:
    return figures_shown(measure, seen.piece, seen.style)


def _from_words(seen: Seen, cut: Cut, measure: Measure) -> str:
    name = seen.names[measure.side]
    if measure.what == "end":
        deep = measure.side in cut.runs_out
        return f"deep, from the {name}" if deep else f"{reaches_words(cut, measure)}, from the {name}"
    return f"from the {name}"


def reaches_words(cut: Cut, measure: Measure) -> str:
    """What of the cut a measure goes to: of a core's bite its deepest point, which a straight cut would run along."""
    if measure.what == "centre":
        return "to its middle"
    bite = cut.kind != "corner notch" and isinstance(cut.opening.shape, Circle)
    return "to its deepest point" if bite and measure.what == "end" else "to the cut"


def _corner_rows(seen: Seen, cut: Cut) -> list[MarkRow]:
    """A notch over a corner: how far in and how far down (or up) from the corner that goes."""
    piece = seen.piece
    gone = cut.runs_out
    rows: list[MarkRow] = []
    for side in sorted(gone, key=lambda side: side.axis):
        if side not in piece.factory_edges or len(gone) != 2:
            return []
        crossing = crossing_from(cut, piece, side)
        if crossing is None:
            return []
        other = next(one for one in gone if one != side)
        way = {"left": "in", "right": "in", "bottom": "up", "top": "down"}[side]
        measure = Measure(side, "end", (crossing,))
        rows.append(MarkRow(measure, f"{way} from the corner that goes, along the {seen.names[other]}"))
    return rows


def opposite_figures(seen: Seen, cut: Cut) -> list[str]:
    """The same marks from the edges that are not marked from, across first: what to check with."""
    return [figure for _, figure in _checks(seen, cut)]


def _checks(seen: Seen, cut: Cut) -> Iterator[tuple[Side, str]]:
    """The sides that are not marked from, each with what a tape should read from it to the cut."""
    for measure in checked(seen, cut):
        _, text = shown(measure.values[-1], measure.side, seen.piece, seen.style)
        yield measure.side.opposite, text


def checked(seen: Seen, cut: Cut) -> tuple[Measure, ...]:
    """The measures whose last value is checked from the other side."""
    if cut.kind == "corner notch":
        return tuple(
            Measure(side, "end", (crossing,))
            for side in sorted(cut.runs_out, key=lambda side: side.axis)
            if (crossing := crossing_from(cut, seen.piece, side)) is not None
        )
    return () if leans_on_tile(cut) and cut.kind != "hole" else _own(seen, cut)


def lined_up_words(seen: Seen, cut: Cut) -> Iterator[str]:
    """Where the sheet does not lie against the edge that is marked from: which it lies against, and what to check."""
    for mark in mark_sides(cut):
        side = mark.opposite
        if side not in seen.registration.edges:
            continue
        figures = [_figures(seen, measure) for measure in measure_from(cut, seen.piece, mark)]
        if is_bite(cut) and cut.from_edges[side] >= 0.0:
            # Its ends are others where it was found deeper; the middle between them is not.
            figures = [f"{shown(cut.from_edges[mark], mark, seen.piece, seen.style)[0]} to its deepest point"]
        if figures:
            yield (f"The sheet lies against the {seen.plainly(side)}: check {figures[0]} from the {seen.plainly(mark)}")


def rest_words(seen: Seen, cut: Cut) -> str:
    """Of a cut over a joint, the whole of it and which tiles take the rest; "" where this tile takes it all."""
    others = [name for name in seen.plan.pieces_met[cut.opening.name] if name != seen.piece.name]
    whole = ""
    if cut.sides is not None and is_shared(cut):
        left, right, bottom, top = cut.sides
        whole = f"of {say(right - left, seen.style)} x {say(top - bottom, seen.style)} in all"
    rest = f"the rest is in {', '.join(others)}" if others else ""
    return ", ".join(words for words in (whole, rest) if words)


def corner_words(seen: Seen, cut: Cut) -> str:
    """Where the corners of a leaning cut are, each by its two measures; "" for any other cut."""
    across, up = mark_sides(cut)
    spots = [
        " / ".join(shown(value, side, seen.piece, seen.style)[0] for value, side in zip(at, (across, up), strict=True))
        for at in corners_on_tile(cut, seen.piece)
    ]
    if not spots:
        return ""
    names = f"from the {seen.names[across]} / from the {seen.names[up]}"
    return f"{'its corner' if len(spots) == 1 else 'its corners'}, {names}: {', '.join(spots)}"


def drill_words(seen: Seen, cut: Cut) -> str:
    """Where the core of an opened hole, or of a slot, is started; "" for a cut that does not begin with one."""
    if cut.opening.drilled is None or not cut.drill_at:
        return ""
    across, up = mark_sides(cut)
    tile = seen.piece.piece.tile
    spots = [
        " / ".join(
            shown(abs(value - tile.box.at(side)), side, seen.piece, seen.style)[0]
            for value, side in ((middle.x, across), (middle.y, up))
        )
        for middle in cut.drill_at
    ]
    names = f"from the {seen.names[across]} / from the {seen.names[up]}"
    core = say(cut.opening.drilled.core, seen.style)
    middles = "middle" if len(spots) == 1 else "middles"
    return f"first the CORE {core}, its {middles} {' and '.join(spots)} {names}; then saw to it"


def run_out_words(seen: Seen, cut: Cut) -> str:
    """Where a round notch crosses the edge that it runs out over; "" for any other cut."""
    run = run_out(cut, seen.piece)
    if run is None:
        return ""
    side, low, high = run
    ends = " to ".join(shown(value, side[1], seen.piece, seen.style)[0] for value in (low, high))
    return f"Runs out over the {seen.plainly(side[0])} at {ends} from the {seen.plainly(side[1])}"


def middle_words(seen: Seen, cut: Cut) -> str:
    """Where the middle of a half-moon is, for the board that guides the core."""
    parts = [f"{figure} {words}" for _, figure, words in middle_parts(seen, cut)]
    return f"{ITS_MIDDLE}{', '.join(parts)}"


ITS_MIDDLE = "its middle: "


def middle_parts(seen: Seen, cut: Cut) -> Iterator[tuple[Measure | None, str, str]]:
    """Its two measures, each with its figure and words; off the tile how far outside it lies, which is no measure."""
    for side in mark_sides(cut):
        past = cut.from_edges[side.opposite]
        if past < 0.0:
            yield None, say(-past, seen.style), f"outside the {seen.names[side.opposite]}"
            continue
        measure = Measure(side, "centre", (cut.from_edges[side],))
        yield measure, _figures(seen, measure), f"from the {seen.names[side]}"
