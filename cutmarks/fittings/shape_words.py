"""The one list of the words by which a thing is a box, or round."""

from __future__ import annotations

BOX_WORDS = frozenset(
    [
        "box",
        "socket",
        "switch",
        "plate",
        "spur",
        "pattress",
        "gang",
        "shaver",
        "dimmer",
        "receptacle",
        "duplex",
        "thermostat",
        "isolator",
        "faceplate",
        "wallplate",
    ]
)
ROUND_WORDS = frozenset(
    [
        "pipe",
        "tube",
        "tail",
        "tap",
        "valve",
        "mixer",
        "waste",
        "drain",
        "stub",
        "stack",
        "soil",
        "hose",
        "spindle",
        "feed",
        "flue",
        "conduit",
        "rose",
        "overflow",
        "gully",
        "flange",
        "cable",
        "elbow",
        "connector",
    ]
)
MAYBE_BOX_WORDS = frozenset(["outlet"])
"""A box unless a round word stands beside it: a kitchen outlet is one, a waste outlet is not."""
