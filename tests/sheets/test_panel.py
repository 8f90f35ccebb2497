"""A panel's title: as large as the running words, smaller only where the box is too narrow for it."""

from __future__ import annotations

import pytest

from cutmarks.geometry.edges import Bounds
from cutmarks.marks import sizes
from cutmarks.marks.lettering import width
from cutmarks.marks.model import Words
from cutmarks.sheets.panel import PAD, panel

TITLE = "READ ON THE BARE WALL"


@pytest.mark.parametrize(("short", "part"), [(0.0, 1.0), (0.2, 0.8)])
def test_the_title_fills_the_box_but_for_a_pad_on_both_sides(short: float, part: float) -> None:
    long = width(TITLE, sizes.BODY, bold=True)
    box = Bounds(0.0, 0.0, long * (1.0 - short) + 2.0 * PAD, 40.0)
    (title,) = [mark for mark in panel(box, [TITLE], []) if isinstance(mark, Words)]
    assert title.height == pytest.approx(max(part * sizes.BODY, sizes.LEAST))
    assert title.at.x == pytest.approx(PAD)
