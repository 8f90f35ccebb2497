"""The wall check comes back: how far a hole moves in its tile by what was read, and this very tile's own size.

What was read is compared with the wall check of the plan as it would be without it: reading again after a sheet was
made anew gives the same sheet, and nothing is moved twice. Once a hole is said to be cut, its record stays.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from msgspec import Struct
from msgspec.structs import replace

from cutmarks.geometry.frames import Courses, Placement, Surface, Tile, Vector
from cutmarks.geometry.regions import Region, intersection, region
from cutmarks.geometry.rings import polygon
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.openings.model import Cut, CutPiece, Infill, InfillEnd, Opening
from cutmarks.openings.opened import opened_anew
from cutmarks.openings.pieces import Surroundings, cut_pieces
from cutmarks.readings import base_name
from cutmarks.sides import SIDES, Axis, Side
from cutmarks.tiling.model import Piece, Place
from cutmarks.tiling.touched import sorted_by_size
from cutmarks.units import Style, millionths, say

if TYPE_CHECKING:
    from cutmarks.job.models import FoundSpec
    from cutmarks.limits import Limits
    from cutmarks.readings import Reading

ACROSS: tuple[Side, Side] = (Side.LEFT, Side.RIGHT)
HoleIn = tuple[str, str]
"""A piece and a hole in it, by their names."""


class ReadBack(Struct, frozen=True):
    """One wall check as it was found: the neighbour's side, what was expected, and what was read, mm.

    near and far are to the two sides of the thing; both are the middle where one distance was read to it.
    """

    side: Side
    expected: tuple[float, float]
    found: tuple[float, float]

    @property
    def away(self) -> float:
        """How much further from the neighbour the thing is than expected, mm."""
        return (sum(self.found) - sum(self.expected)) / 2

    @property
    def twice_away(self) -> int:
        """The same twice over, in millionths of a millimetre, each figure snapped for itself."""
        return sum(map(millionths, self.found)) - sum(map(millionths, self.expected))


class AsFound(Struct, frozen=True):
    """What came back of one hole in one piece.

    reads     what was read, at most one an axis.
    differs   how far right and up, along the tile's own sides, the hole is from the plan, mm.
    moved     whether the hole was moved by it: under the limit nothing is.
    tile      this very tile's own size, mm, where it differs.
    cut    whether it was cut so; nothing but a note is taken in after that.
    date   the day on which it was cut, or the last on which it was read.
    note   as written last.
    by     who read it last, and when, where a wall page said so; else "".
    """

    piece: str
    hole: str
    reads: tuple[ReadBack, ...]
    differs: tuple[float, float]
    moved: bool
    tile: tuple[float, float] | None
    cut: bool
    date: str
    note: str
    by: str = ""

    @property
    def twice_off(self) -> tuple[int, int]:
        """`differs` twice over, in millionths of a millimetre: whole numbers, so that adding is exact."""
        off = {"across": 0, "up": 0}
        for read in self.reads:
            off[read.side.axis] -= read.side.sign * read.twice_away
        return off["across"], off["up"]


class InfillFound(Struct, frozen=True):
    """The opening of a trimmed piece as it was found, and what it is then cut to.

    expected  as planned; ends: the same with the openings found. cut, date, note: as the entry says.
    """

    piece: str
    expected: Infill
    ends: tuple[InfillEnd, ...]
    cut: bool
    date: str
    note: str


class NotTaken(ValueError):
    """What was found cannot be taken in, as it names nothing of the plan; `spec` is the entry, the sentence says why.

    cut_by  the earlier entry that stands against it, by which the hole was cut.
    """

    def __init__(self, spec: FoundSpec, sentence: str, cut_by: FoundSpec | None = None) -> None:
        super().__init__(sentence)
        self.spec = spec
        self.cut_by = cut_by


def found_at(specs: Sequence[FoundSpec]) -> Mapping[str, list[FoundSpec]]:
    """The entries of each piece, by its name in small letters without the letter of a part."""
    by_name: dict[str, list[FoundSpec]] = {}
    for spec in specs:
        by_name.setdefault(base_name(spec.piece), []).append(spec)
    return by_name


def corrected(
    place: Place,
    openings: Sequence[Opening],
    context: Surroundings,
    made: Sequence[CutPiece],
    specs: Sequence[FoundSpec],
    limits: Limits,
    style: Style,
) -> tuple[list[CutPiece], list[AsFound]]:
    """The pieces of one place made anew by what was found there, and the record of it, hole by hole.

    `made` are the pieces as planned; a hole moves where it is off by `limits.act_at` or more along either side. Of a
    tile in several parts each is read for itself: what is read of a hole in one moves nothing in the others.

    Raises:
        NotTaken: an entry names no piece, hole or neighbour that there is, reads a hole again that has been cut, gives
            a size that this tile cannot have, or moves a hole off its piece; or two parts were read so that they are
            no parts of one tile.
    """
    record: dict[HoleIn, AsFound] = {}
    cut_by: dict[HoleIn, FoundSpec] = {}
    read_by: dict[HoleIn, FoundSpec] = {}

    def moved(opening: Opening, part: CutPiece) -> Opening:
        found = record.get((part.name, opening.name))
        if found is None or not found.moved:
            return opening
        shifted = _moved(opening, part.piece, found.differs)
        return opened_anew(shifted, part.piece, context.layout.grid.joint, limits)

    for spec in specs:
        piece, cut = _named(spec, made)
        hole = piece.name, cut.opening.name
        if hole in cut_by and (spec.readings or spec.tile is not None):
            raise NotTaken(spec, cut_day_words(record[hole]), cut_by[hole])
        _size_may_be(spec, piece, limits, style)
        before = record.get(hole)
        if spec.readings and before is not None and before.moved:
            anew = cut_pieces(place, [moved(opening, piece) for opening in openings], context)
            cut = _read_anew(cut, anew, before)
        record[hole] = _taken_in(spec, piece, cut, before, limits.act_at.value)
        if spec.readings:
            read_by[hole] = spec
        if spec.cut:
            cut_by.setdefault(hole, spec)
    sizes = [one.tile for one in record.values() if one.tile is not None]
    own = _own_size(place, context, made, sizes[-1]) if sizes else None
    by_part = {
        part.name: cut_pieces(place, [moved(opening, part) for opening in openings], context, own) for part in made
    }
    for (part, name), spec in read_by.items():
        if all(cut.opening.name != name for piece in by_part[part] for cut in piece.cuts):
            raise NotTaken(spec, _is_off(record[part, name], style))
    anew = _of_parts(made, by_part, read_by)
    if own is not None:
        # Beyond this very tile the neighbours have not moved: only what it is set against can be read from.
        anew = [replace(one, cuts=tuple(_fixed_checks(cut) for cut in one.cuts)) for one in anew]
    return anew, list(record.values())


def _read_anew(planned: Cut, anew: Sequence[CutPiece], before: AsFound) -> Cut:
    """The cut as planned, its checks those of the sheet made anew by `before`, as they would have been as planned.

    A thing that moved may be read from something else on a side than it was planned to be.
    """
    moved = next(
        (cut for piece in anew if piece.name == before.piece for cut in piece.cuts if cut.opening.name == before.hole),
        None,
    )
    if moved is None:
        return planned
    right, up = before.differs
    back = {side: side.sign * (right if side.axis == "across" else up) for side in SIDES}
    known = {(check.side, check.source) for check in planned.wall_checks if check.fixed}
    others = [
        replace(check, near=check.near + back[check.side], far=check.far + back[check.side])
        for check in moved.wall_checks
        if check.fixed and (check.side, check.source) not in known
    ]
    return replace(planned, wall_checks=(*others, *planned.wall_checks))


def _of_parts(
    made: Sequence[CutPiece], by_part: Mapping[str, list[CutPiece]], read_by: Mapping[HoleIn, FoundSpec]
) -> list[CutPiece]:
    """The pieces of a place, each as what was read of it has it; `by_part` has the whole place by each.

    Where what was read of one makes other parts of the tile, the place is as that one has it.

    Raises NotTaken: another part was read as well, and what was read of both is not of one tile.
    """
    names = [part.name for part in made]
    changed = [name for name in names if [piece.name for piece in by_part[name]] != names]
    if not changed:
        return [piece for name in names for piece in by_part[name] if piece.name == name]
    read = {part: spec for (part, _), spec in read_by.items()}
    first = next((part for part in read if part in changed), changed[0])
    for other, spec in read.items():
        if other != first:
            raise NotTaken(
                spec,
                f"By what was read of {first} the tile comes out in other parts, and {other} was read as well: read "
                "both again, and take back what is not so.",
            )
    return by_part[first]


def infills_found(made: Sequence[CutPiece], spec: FoundSpec, style: Style) -> list[InfillFound]:
    """What an entry with openings says of a trimmed piece: the cut is the opening found less what comes off.

    Raises:
        NotTaken: no part of that name is trimmed that way, there are not as many openings to read, or nothing is left.
    """
    name = " ".join(spec.piece.split()).casefold()
    pieces = [piece for piece in made if piece.name.casefold() == name] or list(made)
    found: list[InfillFound] = []
    for axis, read in spec.openings:
        trimmed = [piece for piece in pieces if any(infill.side.axis == axis for infill in piece.infills)]
        if len(trimmed) != 1:
            parts = " or ".join(piece.name for piece in trimmed)
            raise NotTaken(
                spec,
                f"{spec.piece} lies in several parts: write {parts}."
                if trimmed
                else f"{spec.piece} is not trimmed {axis}, or nothing there can be read yet: look at the job sheet.",
            )
        (piece,) = trimmed
        for infill, own in _dealt(spec, piece, axis, read, style):
            found.append(
                InfillFound(
                    piece.name, infill, _cut_to(spec, piece, infill, own, style), spec.cut, spec.date, spec.note
                )
            )
    return found


def _dealt(
    spec: FoundSpec, piece: CutPiece, axis: Axis, read: Sequence[float], style: Style
) -> list[tuple[Infill, Sequence[float]]]:
    """The figures read, dealt to the readings of a piece on an axis in the job sheet's order: one each, or each end's.

    Raises NotTaken: there are not as many.
    """
    infills = [infill for infill in piece.infills if infill.side.axis == axis]
    if len(read) == len(infills):
        return [(infill, [figure]) for infill, figure in zip(infills, read, strict=True)]
    if len(read) != sum(len(infill.ends) for infill in infills):
        to = [f"the {'far side of the ' if infill.past else ''}{infill.to}" for infill in infills]
        each = " and ".join(say(infill.ends[0].opening, style) for infill in infills)
        if len(infills) > 1:
            raise NotTaken(
                spec,
                f"{spec.piece} has {len(infills)} openings to read {axis}, to {' and to '.join(to)}: give a figure for "
                f"each, as in {each}.",
            )
        ends = len(infills[0].ends)
        allowed = "one figure" if ends == 1 else "one figure, or one for each end, as in 91 and 90"
        raise NotTaken(spec, f"{spec.piece} has {len(read)} openings {axis}, and is read to {to[0]}: give {allowed}.")
    figures = iter(read)
    return [(infill, [next(figures) for _ in infill.ends]) for infill in infills]


def _cut_to(
    spec: FoundSpec, piece: CutPiece, infill: Infill, read: Sequence[float], style: Style
) -> tuple[InfillEnd, ...]:
    """The ends of an infill with the openings that were read, and the cut that each gives."""
    whole = piece.piece.tile.w if infill.side.axis == "across" else piece.piece.tile.h
    figures = list(read) if len(read) == len(infill.ends) else list(read) * len(infill.ends)
    ends = tuple(
        InfillEnd(end.at, opening, end.cut + opening - end.opening)
        for end, opening in zip(infill.ends, figures, strict=True)
    )
    for end in ends:
        if end.cut <= 0.0:
            off = say(end.opening - end.cut, style)
            raise NotTaken(spec, nothing_left_words(spec.piece, say(end.opening, style), off))
        if end.cut > whole + TOUCH:
            size, of = say(end.cut, style), say(whole, style)
            raise NotTaken(spec, too_wide_words(spec.piece, say(end.opening, style), size, of))
    return ends


def nothing_left_words(piece: str, opening: str, off: str) -> str:
    """That an opening that was read leaves nothing of the piece that goes in."""
    return f"{opening} leaves nothing of {piece}: {off} comes off it."


def too_wide_words(piece: str, opening: str, cut: str, whole: str) -> str:
    """That an opening that was read is more than one tile fills."""
    return (
        f"{opening} would be filled by {cut} of a tile, and {piece} is cut from one of {whole}: read the opening that "
        "this piece alone goes into."
    )


def _named(spec: FoundSpec, made: Sequence[CutPiece]) -> tuple[CutPiece, Cut]:
    """The piece and the cut that an entry is about."""
    name = " ".join(spec.piece.split()).casefold()
    pieces = [piece for piece in made if piece.name.casefold() == name] or list(made)
    holes: dict[str, list[tuple[CutPiece, Cut]]] = {}
    for piece in pieces:
        for cut in piece.cuts:
            holes.setdefault(cut.opening.name, []).append((piece, cut))
    if not holes:
        raise NotTaken(spec, f'nothing is cut in "{spec.piece}": look at its name on the sheet.')
    listed = " or ".join(holes)
    if not spec.hole and len(holes) > 1:
        raise NotTaken(spec, f"{spec.piece} has several holes: write hole: {listed}.")
    for hole, held in holes.items():
        if spec.hole and hole.casefold() != spec.hole.casefold():
            continue
        if len(held) > 1:
            parts = " or ".join(piece.name for piece, _ in held)
            raise NotTaken(
                spec, f"{spec.piece} lies in several parts, and {hole} is cut in more than one: write {parts}."
            )
        return held[0]
    raise NotTaken(spec, f'"{spec.hole}" is no hole in {spec.piece}: write {listed}.')


def cut_day_words(one: AsFound) -> str:
    """That a hole was cut, and that nothing changes it any more."""
    day = f" on {one.date}" if one.date else ""
    return f"{one.hole} in {one.piece} was cut{day}: what is read later does not change what was cut."


def _is_off(one: AsFound, style: Style) -> str:
    away = max(abs(way) for way in one.differs)
    return (
        f"{one.hole} would lie {say(away, style)} from where it is planned, and off {one.piece}: read it again, and "
        "where it does lie there, change its readings in the job."
    )


def _size_may_be(spec: FoundSpec, piece: CutPiece, limits: Limits, style: Style) -> None:
    """Raises NotTaken where an entry's size is further from the tile's than one tile is from another."""
    if spec.tile is None:
        return
    tile, most = piece.piece.tile, limits.size_wrong.value
    w, h = spec.tile.first, spec.tile.second
    if max(abs(w - tile.w), abs(h - tile.h)) <= most + TOUCH:
        return
    turned = max(abs(h - tile.w), abs(w - tile.h)) <= most + TOUCH
    remedy = (
        f"The size across comes first, as the tile lies: is it {_by(h, w, style)}?"
        if turned
        else "Measure the whole tile again, across first."
    )
    raise NotTaken(
        spec,
        f"{_by(w, h, style)} is more than {say(most, style)} from the {_by(tile.w, tile.h, style)} that {spec.piece} "
        f"is as it lies. {remedy}",
    )


def _by(w: float, h: float, style: Style) -> str:
    return f"{say(w, style)} x {say(h, style)}"


def _taken_in(spec: FoundSpec, piece: CutPiece, cut: Cut, before: AsFound | None, act_at: float) -> AsFound:
    """The record with one more entry: what it says goes before what was said earlier."""
    reads = {} if before is None else {read.side in ACROSS: read for read in before.reads}
    for side, reading in spec.readings:
        reads[side in ACROSS] = _read(spec, side, reading, cut)
    differs = _differs(tuple(reads.values()))
    tile = None if spec.tile is None else (spec.tile.first, spec.tile.second)
    return AsFound(
        piece=piece.name,
        hole=cut.opening.name,
        reads=tuple(reads.values()),
        differs=differs,
        moved=max(abs(differs[0]), abs(differs[1])) >= act_at - TOUCH,
        tile=tile or (None if before is None else before.tile),
        cut=spec.cut or (before is not None and before.cut),
        date=_day(spec, before),
        note=spec.note or ("" if before is None else before.note),
        by=spec.by or ("" if before is None else before.by),
    )


def _day(spec: FoundSpec, before: AsFound | None) -> str:
    """The day of the record: once it is cut, the day of the cut, which a later note leaves alone."""
    if before is None:
        return spec.date
    if before.cut:
        return before.date or (spec.date if spec.cut else "")
    return spec.date or before.date


def _read(spec: FoundSpec, side: Side, reading: Reading, cut: Cut) -> ReadBack:
    check = next((check for check in cut.wall_checks if check.side == side), None)
    if check is None:
        there = " or ".join(check.side for check in cut.wall_checks) or "no side"
        raise NotTaken(
            spec, f"{spec.piece} has nothing on its {side} to read {cut.opening.name} from: read from {there}."
        )
    if check.to_middle and reading.how != "centre" and reading.high is None:
        raise NotTaken(
            spec,
            f'"{reading.text}" is to one side of {cut.opening.name}, whose size is not known: read to both its sides, '
            "or to its middle, as in centre 120.",
        )
    wide = check.far - check.near
    if reading.high is not None:
        found = (reading.low, reading.high)
    elif reading.how == "centre":
        found = (reading.low - wide / 2, reading.low + wide / 2)
    else:
        found = (reading.low, reading.low + wide) if reading.how == "low" else (reading.low - wide, reading.low)
    return ReadBack(side, (check.near, check.far), found)


def _differs(reads: Sequence[ReadBack]) -> tuple[float, float]:
    """How far right and up the thing is from the plan, by all that was read."""
    right = sum(read.away if read.side == "left" else -read.away for read in reads if read.side in ACROSS)
    up = sum(read.away if read.side == "bottom" else -read.away for read in reads if read.side not in ACROSS)
    return right, up


def _moved(opening: Opening, piece: Piece, differs: tuple[float, float]) -> Opening:
    """The opening, and the thing with it, moved along the tile's own sides."""
    at = piece.tile_at
    dx, dy = at.cos * differs[0] - at.sin * differs[1], at.sin * differs[0] + at.cos * differs[1]
    step: Placement[Surface, Surface] = Placement.shift(dx, dy)
    return replace(
        opening,
        at=opening.at + Vector(dx, dy),
        thing=opening.thing.moved(step),
        ring=opening.ring.moved(step),
    )


def _own_size(place: Place, context: Surroundings, made: Sequence[CutPiece], size: tuple[float, float]) -> Piece | None:
    """The tile of the place in its own size: the edges that it is marked from stay where they are."""
    layout = context.layout
    piece = layout.piece(place)
    if piece is None:
        return None
    w, h = size
    cut = next(cut for one in made for cut in one.cuts)
    du = piece.tile.w - w if "right" in cut.mark_from else 0.0
    dv = piece.tile.h - h if "top" in cut.mark_from else 0.0
    x, y = piece.tile_at.xy(du, dv)
    at = replace(piece.tile_at, dx=x, dy=y)
    whole: Region[Tile] = region(polygon([(0.0, 0.0), (w, 0.0), (w, h), (0.0, h)]))
    outline: Region[Tile] | None = whole
    if piece.trimmed:
        corner_u, corner_v = layout.grid.corner(place)
        to_tile: Placement[Courses, Tile] = Placement.shift(-corner_u - du, -corner_v - dv)
        outline, _ = sorted_by_size(intersection(whole, layout.ground.moved(to_tile)), layout.least_piece)
    if outline is None:
        return None
    tile = replace(piece.tile, w=w, h=h, measured=True)
    return replace(piece, tile=tile, tile_at=at, outline=outline)


def _fixed_checks(cut: Cut) -> Cut:
    return replace(cut, wall_checks=tuple(check for check in cut.wall_checks if check.fixed))
