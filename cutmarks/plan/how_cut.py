"""How each piece of a plan is cut: the operations of the cutting stage, once for pieces that are alike."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from msgspec.structs import replace

from cutmarks.cutting.making import CutWith, how_cut
from cutmarks.cutting.operations import Face, HowCut
from cutmarks.cutting.paths import NO_CORNERS
from cutmarks.limits import Limits
from cutmarks.openings.model import CutPiece
from cutmarks.readings import Corners
from cutmarks.registering.register import faces_of

if TYPE_CHECKING:
    from cutmarks.job import Job


def cut_with(job: Job, limits: Limits, kerf: float) -> CutWith:
    """What the pieces of a job are cut with: the shop's discs or else the tiler's, the largest first.

    A small hole in an inside corner is of the radius that the shop makes there, or as large as it drills.
    """
    tools, corners = job.tools, job.shop.corner_radius if job.corner_radius is None else job.corner_radius
    discs = tuple(sorted(job.shop.discs or tools.discs, key=lambda disc: -disc.d))
    return CutWith(discs, tools.longest_snap, tools.narrowest_snap, kerf, _relief(corners, limits), limits)


def _relief(corners: Corners, limits: Limits) -> float:
    return {"sharp": limits.relief_hole.value, "holes": corners.mm, "round": 2.0 * corners.mm}[corners.way]


def how_pieces_are_cut(
    pieces: Sequence[CutPiece], tools: CutWith, template: str, own: Mapping[str, Corners] = NO_CORNERS
) -> Mapping[str, HowCut]:
    """By the pieces' names; `own` has the corners of those that have their own.

    A hole is drilled from the face that its template lies on, from the face where on both.
    """
    found: dict[str, HowCut] = {}
    for piece in pieces:
        first = None if piece.same_as is None else found.get(piece.same_as)
        with_it = replace(tools, relief=_relief(own[piece.name], tools.limits)) if piece.name in own else tools
        found[piece.name] = how_cut(piece, with_it, _sides(piece, template)) if first is None else first
    return found


def _sides(piece: CutPiece, template: str) -> dict[str, Face]:
    return {cut.opening.name: "back" if faces_of(piece, cut, template) == (True,) else "face" for cut in piece.cuts}
