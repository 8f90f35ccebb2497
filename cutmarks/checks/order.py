"""In which order findings are said: stops first, and of each level what spoils most."""

from __future__ import annotations

from cutmarks.checks.model import Finding

LEVELS = {"stop": 0, "warn": 1, "note": 2}
SPOILS = (
    # The hole comes in the wrong place, or on the wrong tile.
    "do not drill",
    "found too far",
    "found disagrees",
    "found off alone",
    "reading does not fit",
    "readings disagree",
    "kind not said",
    "tapes cross flat",
    "lines not square",
    "line is off",
    "read from a raking edge",
    "corrected",
    "mirror images",
    "on no tile",
    # The piece comes in the wrong size.
    "still to come",
    "run and size differ",
    "size not measured",
    "edge goes on",
    # It does not go over.
    "does not go through",
    "leaning pipe does not go through",
    "tile cannot be pushed on",
    "slot not drawn",
    "cannot be put on",
    "cannot be got in",
    "cannot be slid under",
    "frame too low",
    "screws not clear",
    "pipe leans",
    # The hole shows.
    "covers overlap",
    "cover past the edge",
    "shows past its cover",
    "not sure",
    "cover may not hide it",
    "cover laps little",
    # The tile cracks.
    "hair bridge",
    "core breaks in",
    "thin bridge",
    "sharp horn",
    "thin leg",
    "long strip",
    "hair bite",
    "much cut out",
    "hole before cut",
    "slid under",
    "inside corners",
    # It ends up too deep, or too far out.
    "too deep",
    "too far out",
    "box stands out",
    "screw too short",
    "box set back",
    "depth is tight",
    "depth not known",
    # The cover does not lie flat, or the lever does not turn.
    "cover over a trim",
    "cover on two thicknesses",
    "lever has no room",
    "cover over a bevel",
    # Layout.
    "narrow piece",
    "joint, not a cut",
    "wide space",
    "space, no piece",
    "long offset",
    "whole tile taken",
    # The job itself.
    "accepted, not found",
)
"""Every rule, what spoils most first."""
_PLACE = {rule: place for place, rule in enumerate(SPOILS)}


def place_of(finding: Finding) -> tuple[int, int]:
    """What findings are sorted by: the level, then the rule's place in `SPOILS`."""
    return LEVELS[finding.level], _PLACE[finding.rule]
