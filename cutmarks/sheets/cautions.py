"""What is said once a job, before anybody drills."""

from __future__ import annotations

from cutmarks.fittings.finding import Dialect
from cutmarks.sheets.words import wording


def cautions(say: Dialect) -> tuple[str, ...]:
    """The cautions, one instruction a line."""
    words = wording(say)
    return (
        "Cables and pipes behind the surface: find them before you drill.",
        "Before a plate comes off: the supply isolated, and proved dead by someone competent.",
        "Cut wet and keep the dust down: it holds respirable crystalline silica. Protect eyes, ears and lungs.",
        f"Run the saw on a {words.rcd}. Large panels are carried by two.",
        "Local codes, the makers' sheets and licensed practice come first.",
        "Measure again on the wall before cutting. Dry-fit before bedding.",
    )
