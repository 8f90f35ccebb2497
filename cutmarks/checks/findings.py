"""All findings of a plan, in order of what spoils most, each said once."""

from __future__ import annotations

from cutmarks.checks.acceptance import with_reasons
from cutmarks.checks.material import Evidence
from cutmarks.checks.merged import said_once
from cutmarks.checks.model import Finding
from cutmarks.checks.rules import NEED_A_GRID, looked_for, place_of


def findings(seen: Evidence) -> tuple[Finding, ...]:
    """Stops first, then what to check, then notes, each in the order of `RULES`; accepted ones carry the reason.

    An entry under `accept:` that is for none of them is a note.
    """
    found = said_once(looked_for(seen), {piece.name for piece in seen.cut})
    not_looked_for = () if seen.with_grid is seen else NEED_A_GRID
    return tuple(sorted(with_reasons(found, seen.job.accepted, not_looked_for), key=place_of))
