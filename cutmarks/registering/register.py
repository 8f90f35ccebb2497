"""Which of a tile's edges are on the paper with each of its cuts, and on which face the paper lies."""

from __future__ import annotations

from collections.abc import Iterable

from cutmarks.openings.model import Cut, CutPiece
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
    """The sheets of all pieces that are cut round something, in the order of `pieces`.

    For each piece the fewest sheets whose worst error at any cut is within `figures.sheet_saved` of the best possible;
    holes that go by tape stand together where each stays within what it may be off; no sheet has more than two cuts.

    paper     a `Paper`, or the name of one (KeyError for a name that `paper_named` does not know).
    joined    joined sheets instead of a tape, where one sheet does not reach from a corner to the cut.
    template  "face", "back" or "both" for every cut; "": as its hole or its tile says.
    figures   what the error is made of, and what is worth a sheet.

    Every cut is on exactly one sheet of each face that it has a template for.
    """
    on = paper_named(paper) if isinstance(paper, str) else paper
    sheets: list[Registration] = []
    for piece in pieces:
        for back in (False, True):
            indices = [i for i, cut in enumerate(piece.cuts) if back in faces_of(piece, cut, template)]
            if indices:
                found = on_paper(piece, indices, on, back, joined, figures)
                sheets += parted(piece, choose(found, indices, figures.sheet_saved), fields_of(on, back))
    return tuple(sheets)


def faces_of(piece: CutPiece, cut: Cut, template: str = "") -> tuple[bool, ...]:
    """On which faces the template of a cut is laid: False for the face, True for the back.

    A textured face holds neither tape nor a pencil line: without a wish its template is for the back.
    """
    tile = piece.piece.tile
    wanted = template or cut.opening.template or tile.template or ("back" if tile.face == "textured" else "face")
    return {"face": (False,), "back": (True,), "both": (False, True)}[wanted]
