"""The examples in sentences, in the unit of the job: who works in inches is shown inches.

A sentence is written with its example in millimetres, "as in 67 to 83 left of V"; in a job in inches or feet the same
sentence says "as in 2 5/8 to 3 1/4 left of V". What the tiler typed, at the head of a sentence, stays as it was typed.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

from cutmarks.job.measures import IMPERIAL
from cutmarks.patterns import late
from cutmarks.units import Unit

IN_INCHES: Mapping[str, str] = {
    "230 x 1.6 x 60 deep": "9 x 1/16 x 2 3/8 deep",
    "67 to 83 left of V": "2 5/8 to 3 1/4 left of V",
    "67 to 83 left": "2 5/8 to 3 1/4 left",
    "67 to 83 right of V": "2 5/8 to 3 1/4 right of V",
    "212 to 228 above B": "8 3/8 to 9 above B",
    "1420 to 1530 from D": "56 to 60 1/4 from D",
    "1167 to 1183 left of V, burnt 100": "3 5/8 to 4 1/4 left of V, burnt 1",
    "1202 to 1218 from P1": "47 3/8 to 48 from P1",
    "600 left of V, 1800 above B": "24 left of V, 72 above B",
    "100 right of V, 350 above B": "4 right of V, 14 above B",
    "100 right of V, 350 from D": "4 right of V, 14 from D",
    "100 to 500 right of V": "4 to 20 right of V",
    "350 to 850 above B": "14 to 34 above B",
    "1000 above finished floor": "48 above finished floor",
    "1140 left of V": "45 left of V",
    "1065 right of V": "42 right of V",
    "1058 right of V at 1450 above B": "41 5/8 right of V at 57 above B",
    "1850 from D": "73 from D",
    "640 left of V": "25 1/4 left of V",
    "640 right of V at D; 633 right of V at 1450 from D": "25 1/4 right of V at D; 25 right of V at 57 from D",
    "400 from D": "16 from D",
    "350 to 850 in from D": "14 to 34 in from D",
    "1136 left of V at 1450 above B": "44 7/8 left of V at 57 above B",
    "1050 left of V at D, 1046 left of V at 2300 from D": "42 left of V at D, 41 7/8 left of V at 90 from D",
    "1240 right of V": "49 right of V",
    "20 short of D": "3/4 short of D",
    "2380 in from D": "93 3/4 in from D",
    "640 to 750 right of V": "25 1/4 to 29 3/4 right of V",
    "1905 to 2015 from D": "75 to 79 1/2 from D",
    "418 to 474 left of V": "16 1/2 to 18 3/4 left of V",
    "418 to 474 left of C": "16 1/2 to 18 3/4 left of C",
    "0 to 92 from D": "0 to 3 5/8 from D",
    "210 to 790 right of V": "8 1/4 to 31 right of V",
    "1010 to 1480 above B": "39 3/4 to 58 1/4 above B",
    "12 to come": "1/2 to come",
    "14 to come": "9/16 to come",
    "14, 20, none": "9/16, 3/4, none",
    "cover 65": "cover 2 1/2",
    "1450 above B": "57 above B",
    "at 1450": "at 57",
    "1140 bottom, 1133 top": "45 bottom, 44 3/4 top",
    "1140 left, 1133 right": "45 left, 44 3/4 right",
    "600 x 300 landscape, 3 joint": "24 x 12 landscape, 1/8 joint",
    "15 copper, 150 centres, split on V, 240 above B": "1/2 copper, 8 centres, split on V, 10 above B",
    "left one centre 75 left of": "left one centre 3 left of",
    "1462 above B": "57 1/2 above B",
    "300 left of V": "12 left of V",
    "150 centres": "6 centres",
    "600 above B": "24 above B",
    "597 above B": "23 7/8 above B",
    "5 below B": "1/4 below B",
    "277 in from": "10 7/8 in from",
    "69 to 84": "2 3/4 to 3 5/16",
    "centre 150 left of": "centre 6 left of",
    "98 up": "3 7/8 up",
    "read 60 out": "read 2 3/8 out",
    "left: 70 to 85": "left: 2 3/4 to 3 3/8",
    "62 behind the board": "2 7/16 behind the board",
    "3 proud of the board": "1/8 proud of the board",
    "90 from the studs": "3 1/2 from the studs",
    "still to come: 14": "still to come: 9/16",
    "undercut: 14": "undercut: 9/16",
    "apart: 150": "apart: 6",
    "hole = pipe + 6": "hole = pipe + 1/4",
    "cover: 65": "cover: 2 1/2",
    "cover: 86 x 86": "cover: 2 3/4 x 4 1/2",
    "65, 147 x 86, or none": "2 1/2, 2 3/4 x 4 1/2, or none",
    "size: 70 x 70": "size: 2 1/4 x 3 3/4",
    "as in 76 x 76": "as in 3 x 3",
    "89 to 102": "3 1/2 to 4",
    "47 to 73": "1 7/8 to 2 7/8",
    "40 x 20": "1 5/8 x 3/4",
    "15 copper": "1/2 copper",
    "200 right": "8 right",
    "297 x 97": "11 11/16 x 3 13/16",
    "joint: 3": "joint: 1/8",
    "thickness: 9": "thickness: 3/8",
    "gap: 5": "gap: 1/4",
    "5 in 1497": "5 in 59",
    "play: 2": "play: 1/16",
    "5 in 1248": "5 in 49 1/8",
    "plumb, 1200": "plumb, 48",
    "level, 1200": "level, 48",
    "across, 1200": "across, 48",
    "along, 1200": "along, 48",
    "diagonal 1503": "diagonal 60 1/8",
    "900 x 1200": "36 x 48",
    "91 and 90": "3 5/8 and 3 1/2",
    "lining: 12": "lining: 1/2",
    "gap 5, trim 10": "gap 3/16, trim 3/8",
    "thickness 9": "thickness 3/8",
    "65, 147 x 86, none": "2 1/2, 2 3/4 x 4 1/2, none",
    "110 soil": "4 ABS",
    "corner: trim 2.5": "corner: trim 1/8",
    "goes under: 10": "goes under: 3/8",
    "architrave 15": "architrave 5/8",
    "oak 20": "oak 3/4",
    "oak 22, horns 40": "oak 7/8, horns 1 1/2",
    "thickness: 9, notch: 8, board: 12.5": "thickness: 3/8, notch: 5/16, board: 1/2",
}
"""Each example as it is written, and what stands in its place in a job in inches; about the same measure."""
_EXAMPLE = late(
    r"(?<![\w.])(?:" + "|".join(re.escape(one) for one in sorted(IN_INCHES, key=len, reverse=True)) + r")(?![\w.]*\d)"
)
_TYPED = late(r'"[^"]*"(?=[ :])')


def in_unit_of(unit: Unit, sentence: str) -> str:
    """The sentence with its examples in that unit: as it is in a metric job."""
    if unit not in IMPERIAL:
        return sentence
    typed = _TYPED.match(sentence)
    start = typed.end() if typed else 0
    return sentence[:start] + _EXAMPLE.sub(lambda match: IN_INCHES[match[0]], sentence[start:])
