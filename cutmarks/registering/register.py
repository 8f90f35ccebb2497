"""Which of a tile's edges are on the paper with each cut and inside corner, and on which face the paper lies."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from cutmarks.openings.model import Cut, CutPiece, SheetSpot
from cutmarks.registering.candidates import on_paper
from cutmarks.registering.choice import choose
from cutmarks.registering.figures import USUAL, PaperFigures
from cutmarks.registering.layouts import fields_of
from cutmarks.registering.model import Registration
from cutmarks.registering.paper import Paper, paper_named
from cutmarks.registering.parting import parted


def register(
    pieces: Iterable[CutPiece],
    paper: Paper | str,
    *,
    joined: bool = False,
    template: str = "",
    figures: PaperFigures = USUAL,
) -> tuple[Registration, ...]:
    """The sheets of all pieces that are cut round something, or have an inside corner, in the order of `pieces`.

    For each piece the fewest sheets whose worst error at any cut is within `figures.sheet_saved` of the best possible;
    holes that go by tape stand together where each stays within what it may be off; no sheet has more than two cuts.

    paper     a `Paper`, or the name of one (KeyError for a name that `paper_named` does not know).
    joined    joined sheets instead of a tape, where one sheet does not reach from a corner to the cut.
    template  "face", "back" or "both" for every cut; "": as its hole or its tile says.
    figures   what the error is made of, and what is worth a sheet.

    Every cut is on exactly one sheet of each face that it has a template for. So is every inside corner that lies so
    near one of the tile's own that a sheet shows both; the corners of steps that are cut straight have none. No sheet
    has cuts and inside corners: the holes come first, while the tile is whole.
    """
    on = paper_named(paper) if isinstance(paper, str) else paper
    sheets: list[Registration] = []
    for piece in pieces:
        for back in (False, True):
            for spots in _sorts(piece, back, template, figures):
                sheets += _sheets(piece, spots, on, back, joined, figures)
    return tuple(sheets)


def _sorts(piece: CutPiece, back: bool, template: str, figures: PaperFigures) -> Iterator[list[int]]:
    """What has a template for a face, by index: the cuts; and the inside corners, but for those of small steps."""
    wanted = [
        index
        for index, spot in enumerate(piece.spots)
        if back in faces_of(piece, spot, template) and (isinstance(spot, Cut) or spot.least_arm >= figures.small_step)
    ]
    yield [index for index in wanted if index < len(piece.cuts)]
    yield [index for index in wanted if index >= len(piece.cuts)]


def _sheets(
    piece: CutPiece, indices: Sequence[int], paper: Paper, back: bool, joined: bool, figures: PaperFigures
) -> Iterator[Registration]:
    """The sheets of one sort; of inside corners those that need neither a tape nor a join."""
    found = on_paper(piece, indices, paper, back, joined, figures) if indices else []
    if indices and indices[0] >= len(piece.cuts):
        found = [one for one in found if one.registration.how == "corner"]
        indices = sorted({index for one in found for index in one.fits})
    if indices:
        yield from parted(piece, choose(found, indices, figures.sheet_saved), fields_of(paper, back))


def faces_of(piece: CutPiece, spot: SheetSpot, template: str = "") -> tuple[bool, ...]:
    """On which faces the template of a cut, or of an inside corner, is laid: False for the face, True for the back.

    A textured face holds neither tape nor a pencil line: without a wish its template is for the back.
    """
    tile = piece.piece.tile
    own = spot.opening.template if isinstance(spot, Cut) else ""
    wanted = template or own or tile.template or ("back" if tile.face == "textured" else "face")
    return {"face": (False,), "back": (True,), "both": (False, True)}[wanted]
