"""A QR code as a mark (ISO/IEC 18004, by the library segno): its dark modules as one shape, white left round it."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from cutmarks.geometry.rings import Ring, Vertex
from cutmarks.marks.model import F, Filled

QUIET = 4
"""So many modules have to stay white all round."""


def qr_code(text: str, x: float, y: float, side: float) -> Filled[F]:
    """The code of `text`, as large as fits with its white margin in a square of `side` mm whose lower left is (x, y).

    The strongest correction that the same size of code has; modules that touch in a row are one rectangle.
    """
    import segno  # late: nothing but a label needs it

    rows = [bytes(row) for row in segno.make(text, micro=False, error="m").matrix]
    module = side / (len(rows) + 2 * QUIET)
    left, top = x + QUIET * module, y + side - QUIET * module
    return Filled(tuple(_runs(rows, left, top, module)))


def _runs(rows: list[bytes], left: float, top: float, module: float) -> Iterator[Ring[F]]:
    for number, row in enumerate(rows):
        high, low = top - number * module, top - (number + 1) * module
        place = 0
        for dark, run in groupby(row):
            start, place = place, place + len(list(run))
            if dark:
                near, far = left + start * module, left + place * module
                yield Ring((Vertex(near, low), Vertex(far, low), Vertex(far, high), Vertex(near, high)))
