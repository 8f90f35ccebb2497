"""What `cutmarks check` did not look at, said last: by surface and why, and what to write so that it does."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from cutmarks.checks.pieces import listed
from cutmarks.checks.rules import NEED_A_GRID
from cutmarks.cli.terminal import wrapped

if TYPE_CHECKING:
    from cutmarks.plan import Plan
    from cutmarks.tiling.unlaid import Unlooked

INDENT = "  "
START = "{across: joint on V, up: sits on B}"


def unlooked_lines(plan: Plan) -> list[str]:
    """Every surface of which it is not known which tile lies where; nothing where all were looked at."""
    found = [surface.unlooked for surface in plan.surfaces if surface.unlooked is not None]
    if not found:
        return []
    lines = ["", "NOT LOOKED AT"]
    for one in found:
        for sentence in _sentences(one):
            lines += wrapped(sentence, INDENT, INDENT * 2)
    where = "there" if len(found) < len(plan.surfaces) else "anywhere"
    rules = f"So it was not looked {where} for: {', '.join(NEED_A_GRID)}."
    return [*lines, *wrapped(rules, INDENT, INDENT * 2)]


def unlaid_words(one: Unlooked) -> str:
    """What a surface lacks, in the line that has the count of tiles of the others."""
    return "no tiles yet" if one.lacks == "tiles" else f"no start yet for {listed(one.areas)}"


def _sentences(one: Unlooked) -> Iterator[str]:
    if one.lacks == "tiles":
        yield (
            f"{one.surface}: it has no tiles, so it is not known where each hole comes on one. Once they are chosen, "
            "write them under tiles:, and areas: on this surface."
        )
    else:
        what = "area" if len(one.areas) == 1 else "areas"
        have = "has" if len(one.areas) == 1 else "have"
        yield (
            f"{one.surface}: {what} {listed(one.areas)} {have} no start, so it is not known where each hole comes on "
            f"its tile. Write start: {START}, or one of those above."
        )
    if one.holes:
        are, their = ("is", "its") if len(one.holes) == 1 else ("are", "their")
        yield (
            f"{one.surface}: {listed(one.holes)} {are} read from a course or a tile, so nothing at all was looked at: "
            f"it needs the tiles for {their} place. Read from the lines, it is looked at before that."
        )
