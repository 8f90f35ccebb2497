"""What `cutmarks check` did not look at, said last: what, why, and what to write so that it does."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from cutmarks.checks.pieces import listed
from cutmarks.checks.rules import OF_THE_TILES
from cutmarks.cli.terminal import wrapped

if TYPE_CHECKING:
    from cutmarks.plan import Plan
    from cutmarks.tiling.unlaid import Unlooked

INDENT = "  "
START = "{across: joint on V, up: sits on B}"


def unlooked_lines(plan: Plan) -> list[str]:
    """What was not looked at, why, and what to write: a few lines; nothing where all was looked at."""
    found = [surface.unlooked for surface in plan.surfaces if surface.unlooked is not None]
    if not found:
        return []
    where = listed([one.surface for one in found])
    what = f"{where}, as it is not known which tile lies where: {'; '.join(OF_THE_TILES)}."
    sentences = [what, *_why(found)]
    return ["", "NOT LOOKED AT", *(line for one in sentences for line in wrapped(one, INDENT, INDENT * 2))]


def unlaid_words(one: Unlooked) -> str:
    """What a surface lacks, in the line that has the count of tiles of the others."""
    return "no tiles yet" if one.lacks == "tiles" else f"no start yet for {listed(one.areas)}"


def _why(found: Sequence[Unlooked]) -> Iterator[str]:
    """Why, and what to write: once for all surfaces that lack the same, and once for the holes read from a tile."""
    bare = [one.surface for one in found if one.lacks == "tiles"]
    if bare:
        yield (
            f"No tiles yet on {listed(bare)}: once they are chosen, write them under tiles:, and areas: on the surface."
        )
    areas = [area for one in found if one.lacks == "start" for area in one.areas]
    if areas:
        yield f"No start yet for {listed(areas)}: write start: {START}, or one of those above."
    half = [missing for one in found for missing in one.half]
    if half:
        yield f"Half a start: {listed(half)} is not said; write both, as in joint on V, sits on B."
    holes = [hole for one in found for hole in one.holes]
    if holes:
        is_, its = ("is", "its") if len(holes) == 1 else ("are", "their")
        yield (
            f"{listed(holes)} {is_} read from a course or a tile, so nothing at all was looked at there: "
            f"it needs the tiles for {its} place. Read from the lines, it is looked at before that."
        )
