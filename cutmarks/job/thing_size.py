"""Whether anything says how big a thing is, and what to write where nothing does."""

from __future__ import annotations

from typing import TYPE_CHECKING

from cutmarks.job.words import found

if TYPE_CHECKING:
    from cutmarks.job.holes import HoleSpec
    from cutmarks.readings import Reading

HIDES_ONLY = ("plate", "cover", "device")
"""Kinds of fitting that lie on the tile and do not come through it."""


def no_size(spec: HoleSpec) -> str | None:
    """Why a thing that is read across and up has no size, in a sentence; None where something gives it one."""
    if spec.slot is not None or spec.size is not None or spec.diameter is not None:
        return None
    readings = [reading for reading in (spec.across, spec.up) if reading is not None]
    fitting = spec.fitting
    if fitting is not None and fitting.kind not in HIDES_ONLY:
        one_read = any(reading.high is None for reading in readings)
        if fitting.od is not None or (fitting.w is not None and fitting.h is not None and one_read):
            return None
    for reading in readings:
        if reading.how in ("low", "high") and reading.high is None:
            return one_side(reading)
    if spec.opening is not None or any(reading.high is not None for reading in readings):
        return None
    if fitting is not None and fitting.choices:
        sizes = ", ".join(f"{choice.words} ({choice.od:g})" for choice in fitting.choices if choice.od)
        return (
            f"{found(spec.what)} is more than one size: {sizes}. Read both its sides, or write diameter: with what you "
            "measured."
        )
    return (
        "Its size is not known: read both its sides, as in 67 to 83 left of V, or say what it is (15 copper), or give "
        "size: 70 x 70."
    )


def one_side(reading: Reading) -> str:
    """The sentence for a reading to one side of something of no known size."""
    return (
        f"{found(reading.text)} is one side of something whose size is not known: read both sides, as in 67 to 83 left "
        "of V, or say what it is (15 copper)."
    )
