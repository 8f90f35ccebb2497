"""Rules about what hides the openings: how far it laps after the worst error, and what it lies on or runs into."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Container, Iterator, Mapping, Sequence
from itertools import product

from msgspec import Struct
from msgspec.structs import replace

from cutmarks.checks.model import Finding
from cutmarks.checks.opened import NEAR, hidden
from cutmarks.checks.pieces import listed
from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.frames import Surface
from cutmarks.geometry.near import Near
from cutmarks.geometry.regions import Region, difference, intersection, region
from cutmarks.geometry.rings import Ring
from cutmarks.geometry.shapes import Circle
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.limits import Limit, Limits
from cutmarks.openings.hidden import cover_on_surface, from_cover, lap_of, outline_about
from cutmarks.openings.model import Cover, CutPiece, Opening
from cutmarks.setout.edges import block
from cutmarks.setout.finished import finished_ground
from cutmarks.setout.model import SetOut
from cutmarks.sides import SIDES
from cutmarks.tiling.layout import Layout
from cutmarks.units import Style, say


def after_worst_error(
    openings: Sequence[Opening],
    met: Mapping[str, Sequence[CutPiece]],
    worst: Limit,
    limits: Limits,
    style: Style,
    said: Container[str] = (),
) -> Iterator[Finding]:
    """Whether a cover still hides its opening once everything is off by the worst error; one sentence a figure.

    An opening whose cover laps too little as it is has been said already; so have those named in `said`, of which it is
    known by their own readings how seldom the cover hides them. `met` has the pieces that each is cut in.
    """
    shown: dict[tuple[float, str], list[str]] = defaultdict(list)
    for opening in openings:
        if opening.cover is None or opening.name in said:
            continue
        if opening.opened:
            under = hidden(opening, met.get(opening.name, ()))
            axis, lap, spare = "past the rim", under.lap, under.spare
        else:
            axis, lap = _past(opening, opening.cover), opening.leeway.laps
            spare = lap
        near = NEAR if opening.opened else TOUCH
        if lap_of(opening.cover, limits) - near <= lap and spare < worst.value - TOUCH:
            shown[round(worst.value - spare, 3), axis].append(opening.name)
    for (short, axis), names in shown.items():
        yield Finding(
            "warn",
            "cover may not hide it",
            tuple(names),
            f"{listed(names)}: with everything {say(worst.value, style)} off, the hole shows {say(short, style)} "
            f"{axis} of its cover. Read the wall again before cutting, or take a bigger cover.",
            worst.value - short,
            worst.value,
            worst.source,
        )


def _past(opening: Opening, cover: Cover) -> str:
    """Where a closed hole shows first: past the rim of a round cover that it is not round under, else past a side."""
    if cover.round:
        return "beside" if isinstance(opening.shape, Circle) else "past the rim"
    seen = opening.ring.moved(from_cover(opening)).bounds
    return "beside" if cover.w / 2.0 - max(-seen.min_x, seen.max_x) <= opening.leeway.laps + TOUCH else "above or below"


def keeps_clear(opening: Opening, style: Style) -> Iterator[Finding]:
    """Screws and lugs: the tile must stay out of the outline that was said to be kept clear."""
    if opening.keep_clear is None:
        return
    wanted: Region[Surface] = region(outline_about(opening, opening.keep_clear))
    tile = difference(wanted, region(opening.ring))
    if tile.is_empty or tile.area <= TOUCH:
        return
    box, hole = wanted.bounds, opening.ring.bounds
    most = max(hole.min_x - box.min_x, box.max_x - hole.max_x, hole.min_y - box.min_y, box.max_y - hole.max_y, 0.0)
    yield Finding(
        "stop",
        "screws not clear",
        (opening.name,),
        f"{opening.name}: tile would lie {say(most, style)} over what has to stay clear for its screws and lugs. "
        "Write a bigger opening.",
        most,
        0.0,
        "the job",
    )


def runs_into(openings: Sequence[Opening], setout: SetOut, style: Style) -> Iterator[Finding]:
    """Covers that overlap each other, a neighbour's opening, an edge, a trim, or a window."""
    yield from _each_other(openings, style)
    ground = finished_ground(setout)
    for opening in openings:
        ring = cover_on_surface(opening)
        if ring is not None:
            yield from _edges(opening, region(ring), setout, ground, style)


class _Laid(Struct, frozen=True):
    """An opening and the outline that it takes up on the face: its cover's, or its own where nothing hides it."""

    opening: Opening
    ring: Ring[Surface]
    box: Bounds


def _each_other(openings: Sequence[Opening], style: Style) -> Iterator[Finding]:
    """Only what lies in the same or the next square of a grid is compared, so that many openings cost as many looks."""
    laid = []
    for opening in openings:
        ring = cover_on_surface(opening) or opening.ring
        laid.append(_Laid(opening, ring, ring.bounds))
    square = max((max(one.box.width, one.box.height) for one in laid), default=1.0)
    squares: dict[tuple[int, int], list[_Laid]] = defaultdict(list)
    for one in laid:
        column, row = int(one.box.min_x // square), int(one.box.min_y // square)
        for beside in product((column - 1, column, column + 1), (row - 1, row, row + 1)):
            for other in squares.get(beside, ()):
                if one.box.overlaps(other.box, -TOUCH):
                    yield from _overlap(other, one, style)
        squares[column, row].append(one)


def _overlap(one: _Laid, other: _Laid, style: Style) -> Iterator[Finding]:
    if one.opening.cover is None and other.opening.cover is None:
        return
    shared = intersection(region(one.ring), region(other.ring))
    if shared.is_empty or shared.area <= TOUCH:
        return
    over = min(shared.bounds.width, shared.bounds.height)
    names = sorted((one.opening.name, other.opening.name))
    both = one.opening.cover is not None and other.opening.cover is not None
    said = "their covers overlap" if both else "the cover of one lies over the hole of the other"
    yield Finding(
        "stop",
        "covers overlap",
        tuple(names),
        f"{names[0]} and {names[1]}: {said} by {say(over, style)}. One cover for both, smaller ones, or move one.",
        over,
        0.0,
        "geometry",
    )


def _edges(
    opening: Opening, cover: Region[Surface], setout: SetOut, ground: Region[Surface], style: Style
) -> Iterator[Finding]:
    """What a cover meets at an edge; `ground` is what is left of the surface once it is finished."""
    past = difference(cover, ground)
    if not past.is_empty and past.area > TOUCH:
        over = min(past.bounds.width, past.bounds.height)
        yield Finding(
            "stop",
            "cover past the edge",
            (opening.name,),
            f"{opening.name}: its cover runs {say(over, style)} past the edge of {setout.name}. Cut the cover, take a "
            "smaller one, or move it.",
            over,
            0.0,
            "geometry",
        )
    else:
        for side in SIDES:
            edge = setout.edges.get(side)
            if edge is None or edge.trim <= 0.0:
                continue
            strip = block(replace(edge, clears=tuple(edge.trim for _ in edge.measured)))
            if not intersection(cover, strip).is_empty:
                yield Finding(
                    "warn",
                    "cover over a trim",
                    (opening.name,),
                    f"{opening.name}: its cover lies over the trim at the {side} edge of {setout.name}: it cannot lie "
                    "flat. A smaller cover, or move it.",
                    None,
                    edge.trim,
                    "the job",
                )
    for void in setout.voids:
        if _meets(cover, void.finished):
            shared = intersection(cover, region(void.finished)).bounds
            over = min(shared.width, shared.height)
            yield Finding(
                "stop",
                "cover past the edge",
                (opening.name,),
                f"{opening.name}: its cover runs into {void.called}{by_so_much(over, style)}. A smaller cover, or move "
                "it.",
                over,
                0.0,
                "geometry",
            )


def _meets(shape: Region[Surface], ring: Ring[Surface]) -> bool:
    """Whether the two share more than a touch; boxes first, since most things lie far apart."""
    if not shape.bounds.overlaps(ring.bounds, -TOUCH):
        return False
    return intersection(shape, region(ring)).area > TOUCH


def by_so_much(over: float, style: Style) -> str:
    """By how much, behind what is met; nothing where that is less than a step."""
    shown = say(over, style)
    return "" if shown == "0" else f" by {shown}"


def lies_flat(
    openings: Sequence[Opening], layouts: Sequence[Layout], limits: Limits, style: Style
) -> Iterator[Finding]:
    """Covers over tiles of two thicknesses, and over the joint of bevelled tiles: they rock or gape."""
    laid = [layout for layout in layouts if not layout.ground.is_empty]
    grounds = [(layout, layout.ground.moved(layout.grid.to_surface)) for layout in laid]
    near = Near(ground.bounds for _, ground in grounds)
    bevelled: list[str] = []
    for opening in openings:
        ring = cover_on_surface(opening)
        if ring is None:
            continue
        beside = [grounds[number] for number in near.within(ring.bounds)]
        under = [layout for layout, ground in beside if not intersection(region(ring), ground).is_empty]
        thick = [layout.tile.thickness for layout in under if layout.tile.thickness is not None]
        if thick and max(thick) - min(thick) > limits.two_thicknesses.value + TOUCH:
            yield Finding(
                "warn",
                "cover on two thicknesses",
                (opening.name,),
                f"{opening.name}: its cover lies on {' and '.join(layout.area for layout in under)}, whose tiles "
                f"differ by {say(max(thick) - min(thick), style)}: bed the thinner one out, or it gapes.",
                max(thick) - min(thick),
                limits.two_thicknesses.value,
                limits.two_thicknesses.source,
            )
        if any(layout.tile.bevelled and _over_a_joint(ring, layout) for layout in layouts):
            bevelled.append(opening.name)
    if bevelled:
        yield Finding(
            "note",
            "cover over a bevel",
            tuple(bevelled),
            f"{listed(bevelled)}: the cover lies over a bevelled edge and gapes there: a gasket or silicone behind it.",
        )


def _over_a_joint(cover: Ring[Surface], layout: Layout) -> bool:
    """Whether a cover reaches over more than one place of an area."""
    box = cover.moved(layout.grid.to_surface.inverse()).bounds
    places = layout.places_under(box)
    return next(places, None) is not None and next(places, None) is not None
