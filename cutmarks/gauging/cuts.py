"""The cuts in the order in which they are measured, those that are measured alike together."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from cutmarks.gauging.model import CutGroup, FromTop, OneCut
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.openings.model import CutPiece, Infill
from cutmarks.sides import Side

RAKES_BY = 12.0
"""Pieces whose cuts follow one another by less are one group: so much an edge that rakes takes a course."""
ALIKE = 0.01
"""What comes off is the same where it differs by less, mm."""


def cut_groups(pieces: Sequence[CutPiece]) -> tuple[CutGroup, ...]:
    """Every reading of every trimmed piece, in the order of fixing; those from and to the same are one group."""
    found: dict[tuple[object, ...], list[tuple[CutPiece, Infill]]] = {}
    for piece in pieces:
        for infill in piece.infills:
            if infill.past:
                continue  # read to the far side of what it is notched round: no size of the piece
            # How far it is to the tile's own edge is the same from a line, and another from each place of an edge.
            lined = infill.source.kind == "line"
            off = tuple((one.what, round(one.mm / ALIKE)) for one in infill.off if lined or one.what != "to its edge")
            source = (infill.source.kind, infill.source.across, "" if infill.source.kind == "piece" else infill.source)
            found.setdefault((piece.rank.day, infill.side, infill.to, off, source), []).append((piece, infill))
    groups = (_group(alike) for members in found.values() for alike in _alike(members))
    return tuple(sorted(groups, key=lambda group: group.day))


def _alike(members: Sequence[tuple[CutPiece, Infill]]) -> list[list[tuple[CutPiece, Infill]]]:
    """Those of nearly the same size together, so that the two ends of a bond are told apart; the first fixed first."""
    by_size = sorted(range(len(members)), key=lambda number: _least(members[number][1]))
    sets: list[list[int]] = []
    for number in by_size:
        last = sets[-1] if sets else None
        if last is not None and _least(members[number][1]) - _least(members[last[-1]][1]) <= RAKES_BY:
            last.append(number)
        else:
            sets.append([number])
    return [[members[number] for number in sorted(one)] for one in sorted(map(sorted, sets))]


def _least(infill: Infill) -> float:
    return min(end.cut for end in infill.ends)


def _group(members: Sequence[tuple[CutPiece, Infill]]) -> CutGroup:
    piece, infill = members[0]
    ends = [end for _, one in members for end in one.ends]
    openings, cuts = [end.opening for end in ends], [end.cut for end in ends]
    return CutGroup(
        day=piece.rank.day,
        side=infill.side,
        source=infill.source,
        to=infill.to,
        off=infill.off,
        pieces=tuple(dict.fromkeys(one.name for one, _ in members)),
        openings=(min(openings), max(openings)),
        cuts=(min(cuts), max(cuts)),
        least_at=min(members, key=lambda member: _least(member[1]))[0].name,
        each=tuple(OneCut(one.name, infill.ends) for one, infill in members),
    )


def holes_from_top(pieces: Sequence[CutPiece]) -> Iterator[FromTop]:
    """The holes of pieces that are cut to the floor on the second day: measured down from the maker's top edge."""
    for piece in pieces:
        if piece.rank.day == 2 and Side.TOP in piece.factory_edges:
            for cut in piece.cuts:
                if cut.from_edges.top > TOUCH:
                    yield FromTop(piece.name, cut.opening.name, cut.from_edges.top)
