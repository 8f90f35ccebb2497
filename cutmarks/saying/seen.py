"""A piece as one of its templates shows it: on its face or from behind, with what its edges are called."""

from __future__ import annotations

from msgspec import Struct

from cutmarks.checks.model import Holds
from cutmarks.openings.corners import InsideCorner
from cutmarks.openings.model import Cut, CutPiece, SheetSpot
from cutmarks.plan import Plan
from cutmarks.registering.model import Registration
from cutmarks.saying.behind import from_behind, registered_behind
from cutmarks.saying.edges import edge_names
from cutmarks.saying.findings import held
from cutmarks.sides import Side
from cutmarks.units import Style


class Seen(Struct, frozen=True):
    """What is said of a piece's cuts is said of this.

    piece, registration  in the Back frame where the template is for the back.
    names  what stands after "from the", by side.
    face   the piece as it is seen on its face.
    waits  what must not be cut yet: "all", "trimming", or None.
    """

    plan: Plan
    piece: CutPiece
    registration: Registration
    names: dict[Side, str]
    style: Style
    face: CutPiece
    waits: Holds | None

    def plainly(self, side: Side) -> str:
        """An edge's name without what it points at: "RIGHT edge"."""
        return self.names[side].partition(" (")[0]

    @property
    def stopped(self) -> bool:
        """Whether nothing may be cut in this piece."""
        return self.waits == "all"

    @property
    def cuts(self) -> tuple[Cut, ...]:
        """The cuts that stand on this template."""
        return tuple(spot for spot in self.spots if isinstance(spot, Cut))

    @property
    def corners(self) -> tuple[InsideCorner, ...]:
        """The inside corners that stand on it: it has cuts, or these."""
        return tuple(spot for spot in self.spots if isinstance(spot, InsideCorner))

    @property
    def spots(self) -> tuple[SheetSpot, ...]:
        """What stands on it, cuts or inside corners."""
        return tuple(self.piece.spots[index] for index in self.registration.cuts)


def as_laid(piece: CutPiece, registration: Registration) -> tuple[CutPiece, Registration]:
    """The piece and the registration in the frame of the template: Back where it lies on the back."""
    return (from_behind(piece), registered_behind(registration)) if registration.back else (piece, registration)


def seen(plan: Plan, piece: CutPiece, registration: Registration) -> Seen:
    """The piece as the template of that registration shows it; no sheet has to be drawn for it."""
    laid, lined_up = as_laid(piece, registration)
    return Seen(plan, laid, lined_up, edge_names(plan, laid), plan.say.style, piece, held(plan, piece))
