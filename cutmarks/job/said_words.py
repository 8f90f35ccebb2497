"""The words of what is said of a thing in one line, in tables: what it is called, what hides it, how it is cut.

A word that is to be known costs a row here; where a thing is, `cutmarks.job.vocabulary` says.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

from cutmarks.job.vocabulary import HANDS, INTO, ONE_WAY, SIDES, STANDS, UP
from cutmarks.job.worded import rows_of
from cutmarks.patterns import late

CALLED = frozenset({"hot", "cold", "flow", "return", "h", "c", "mains", "filtered", "fill"})
"""What pipes are called, whatever they are."""
DUCTS = frozenset({"duct", "vent", "flue"})
COVER_NAMES = frozenset({
    "rose", "collar", "plate", "escutcheon", "cover", "trim", "faceplate", "esc", "grate", "grille", "ring",
    "skirt", "frame", "surround", "bezel",
})  # fmt: skip
"""What hides a hole."""
NOT_OF_A_THING = frozenset({
    "not", "no", "never", "mind", "check", "ask", "yet", "still", "before", "after", "if", "when", "may", "might",
    "about", "maybe", "roughly", "same", "again", "except", "unless", "then", "but", "cannot", "t", "other", "next",
    "each", "between", "gap", "centres", "two", "three",
})  # fmt: skip
"""Words that no name and no word for a thing has: they say something else."""
UPWARD = {word for row in (*UP, *INTO) for word in row} - {
    "to", "the", "in", "up", "off", "of", "room", "than", "from",
}  # fmt: skip
SIZE_WORDS = frozenset({
    "wide", "high", "tall", "by", "dia", "diameter", "overall", "and", "long", "square", "sq", "black", "white",
    "chrome", "chromed", "brass", "plain", "thick", "wall", "galv", "push", "fit", "solvent", "weld", "mm", "single",
    "double", "twin", "gang", "sunk", "deep", "flush", "surface", "mount", "conc", "concealed", "for", "i",
})  # fmt: skip
"""Words that stand beside the size of a thing and say nothing else of what it is."""
CARRIES = frozenset({
    "gas", "water", "feed", "supply", "supplie", "stopcock", "cock", "isolator", "iso", "heating", "wc", "toilet",
    "pan", "bib", "dryer", "dishwasher", "washing", "machine", "washer", "ice", "maker", "rad", "radiator", "towel",
    "rail", "kitchen", "sink", "vanity", "laundry", "urinal", "bidet", "cistern", "mains", "extractor", "boiler",
})  # fmt: skip
"""Words for what a pipe is for: its size is not of them."""
OF_A_PLACE = {
    *HANDS, *SIDES, *ONE_WAY["across"], *ONE_WAY["up"], "on", "from", "to", "in", "at", "off", "with", "line",
}  # fmt: skip
HOW_IT_STANDS = {word for row in STANDS for word in row}
"""Words that say how a thing lies to a line, and end no name."""
THROUGH = late(r"\s+(?:coming )?(?:up |out )?(?:through|thro'?|thru) (?:the )?(?:floor|wall)$", re.IGNORECASE)
"""Where everything comes through: that is known."""

NAMES_SPELT: Mapping[str, str] = {
    "w/mach": "washing machine", "washing m/c": "washing machine", "w/m": "washing machine", "wash m/c":
    "washing machine", "w/machine": "washing machine", "d/w": "dishwasher", "d/washer": "dishwasher", "m/c": "machine",
    "f/f": "fridge freezer", "t/d": "tumble dryer", "t/rail": "towel rail", "w/h": "water heater", "l/h": "LH",
    "r/h": "RH", "s/o": "socket", "b/room": "bathroom", "o/flow": "overflow", "u/floor": "underfloor",
}  # fmt: skip
"""What stands in a name with a stroke in it, which no name has."""
PAIRED = frozenset({"h/c", "c/h", "f/r", "r/f", "and/or"})
"""Two things, and no name of one."""

COVERED = rows_of(
    ("cover", "none", "none"),
    ("cover", "#", "# round|dia|diameter? cap over it|the_hole|the_top|that?"),
    ("cover", "none", "there|there_is? no cover|rose|plate|collar|escutcheon|flange|trim on_this|on_it|on_that?"),
)
SAID_OF_A_HOLE = rows_of(
    ("end", "runs on", "end|it? runs|stays on"),
    ("end", "runs on", "end|it? won_t|wont|will_not|doesn_t|doesnt|does_not|can_t|cant|cannot|can_not come off"),
    ("end", "comes off", "end|it? comes|will_come|can_come off"),
    ("note", "", "so|because|cos|as ..."),
    ("note", "", "stub|pipe|it|tail shows"),
    ("note", "", "on_show|exposed"),
    ("note", "", "for the|a|an? ..."),
    ("note", "", "cut|make|keep it? nice_and? neat|tidy|tight|close|clean|snug"),
    ("note", "", "just|only silicone|silicone_it|caulk|caulk_it|mastic|sealant"),
    ("note", "", "so # lap all? round|around"),
    ("play", "#", "cut|leave|allow? # clear? all round|around it|and_silicone|for_silicone|and_caulk|for_caulk?"),
    ("opening", "#", "cut|core|drill # dia|diameter|round"),
    ("opening", "##", "cut|core|drill? one|a? round? hole|core|cut|opening of? ##"),
    ("opening", "##", "cut|core|drill? one|a? ## round? hole|core|opening"),
)
"""What a part says that is neither a place nor a cover, nor what the thing is."""
_A_DESCRIPTION = (
    "conc|concealed|exposed|vertical|upright|horizontal|on_end|dbl|dble|double|single|twin|s_trap|p_trap|chrome|white|"
    "brass|black|old|new|existing|recessed|flush"
)
DESCRIBED = rows_of(
    ("note", "", "# gang|way"),
    ("note", "", f"{_A_DESCRIPTION} {_A_DESCRIPTION}? {_A_DESCRIPTION}?"),
)
"""Words that say what a thing looks like, and nothing of its size or place."""
MEASURED = rows_of(
    (
        "diameter",
        "#",
        "it? mics|mikes|miked|tapes|measures|real_size|actual at|up? # bare|full|strong|shy? over|od|across|outside?",
    ),
    ("diameter", "#", "# across|over the_outside|the_body|all"),
    ("diameter", "#", "# bare|full|strong|shy? on the tape"),
)
"""What was measured of it."""
SQUARE_BOX = rows_of(
    ("size", "# x #", "# sq|square? box"),
    ("size", "# x #", "box #"),
)
"""A box of one figure is as wide as it is high, where boxes are metric."""
TO_CENTRE = rows_of(
    (
        "",
        "",
        "two|all|all_dims|dims|all_measured|measured|two_measured? to|at? the|its|their? "
        "centre|centres|middles line|lines? of_it|of_them|of_the_pipe|of_the_box|of_the_valve?",
    ),
)
"""A part that says of all places that they go to the middle."""
