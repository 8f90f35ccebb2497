"""Rules about cuts over a joint: those that just bite the next tile, which another start would spare."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from cutmarks.checks.advice import Advice
from cutmarks.checks.model import Finding
from cutmarks.checks.starts import bite_of
from cutmarks.limits import Limits
from cutmarks.openings.model import CutPiece
from cutmarks.units import Style, say


def just_bites(pieces: Sequence[CutPiece], limits: Limits, style: Style, advice: Advice) -> Iterator[Finding]:
    """A cut that takes little of the next tile: two tiles to cut, and two to break, for nothing.

    Dead on a joint or a crossing is fair: many set out for that. The one that bites least speaks for a cut over more.
    """
    least: dict[str, tuple[float, float, CutPiece]] = {}
    for piece in pieces:
        for cut in piece.cuts:
            bite = bite_of(cut, piece, limits)
            name = cut.opening.name
            if bite is not None and (name not in least or bite[0] < least[name][0]):
                least[name] = bite[0], bite[1], piece
    for name, (deep, fair, piece) in least.items():
        better = advice.better_start(piece.piece.area) or advice.better_start(piece.piece.area, name)
        remedy = ""
        if better is not None and better.helps == (name,):
            remedy = f" Moving {better.words} avoids it{better.cost}."
        only = f"{name} bites only {say(deep, style)} into {piece.name}: one more tile to cut for next to nothing."
        yield Finding(
            "warn",
            "just bites",
            (piece.name, name),
            only + remedy,
            deep,
            fair,
            limits.bite.source,
        )
