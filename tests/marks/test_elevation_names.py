"""Names in an elevation: what stands in a thing is read, line by line."""

from __future__ import annotations

import pytest

from cutmarks.geometry.frames import Page, Point
from cutmarks.geometry.regions import Region, region
from cutmarks.geometry.rings import polygon
from cutmarks.marks.elevation_names import PlacedName, inside, words_box
from cutmarks.marks.room import TakenRoom


def test_two_lines_in_a_tile_stand_one_under_the_other_and_do_not_touch() -> None:
    # A tile 26 wide and 20 high on the page; its name and its sheet in one line are wider. Letters reach 0.15 of the
    # capitals' height over them and 0.3 under the line: from line to line at least 1.45 capitals.
    room: Region[Page] = region(polygon([(0.0, 0.0), (26.0, 0.0), (26.0, 20.0), (0.0, 20.0)]))
    name = PlacedName(("under 1-14\n(sheet 127)",), Point(13.0, 10.0), room, bold=True, needed=True)
    upper, lower = inside(name, TakenRoom())
    assert (upper.text, lower.text) == ("under 1-14", "(sheet 127)")
    assert upper.at.x == lower.at.x == pytest.approx(13.0)
    assert upper.at.y - lower.at.y == pytest.approx(1.45 * upper.height)
    for words in (upper, lower):
        box = words_box(words)
        assert 0.0 <= box.min_x < box.max_x <= 26.0
        assert 0.0 <= box.min_y < box.max_y <= 20.0
