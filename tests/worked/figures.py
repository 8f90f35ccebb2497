"""Figures of the worked examples that other tests draw, write or say: they stand here once, with their working.

"From left, from bottom" is on the whole tile, seen on its face, mm.
"""

from __future__ import annotations

W3_TILE = (298.0, 598.0)
W3_FOUR = {
    "below left": ((294.0, 595.0), (298.0, 570.32), (269.18, 598.0)),
    "below right": ((-6.0, 595.0), (0.0, 570.73), (18.82, 598.0)),
    "above left": ((294.0, -5.0), (298.0, 19.68), (269.51, 0.0)),
    "above right": ((-6.0, -5.0), (0.0, 19.27), (18.49, 0.0)),
}
"""An opening of 50 over four tiles: its centre on each, where it leaves the tile's upright edge and its level one.

Below left its centre is 4 from the right edge and 3 from the top one: 595 - sqrt(25^2 - 4^2) = 595 - 24.678, and
294 - sqrt(25^2 - 3^2) = 294 - 24.819; the others likewise.
"""
W3_CENTRE, (_, W3_RIGHT), (W3_TOP, _) = W3_FOUR["below left"]
W5_TRIMMED = ((0.0, 0.0), (116.0, 0.0), (113.76, 448.0), (0.0, 448.0))
"""Course 1 beside a corner that rakes by 1 in 200: 1020 - 3 - 901 wide at the bottom, 2.24 less at the top."""
