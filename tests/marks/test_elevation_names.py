"""Names in an elevation: what stands in a thing is read, line by line."""

from __future__ import annotations

from pathlib import Path

import pytest

from cutmarks import load_job, make_plan
from cutmarks.geometry.frames import Page, Point
from cutmarks.geometry.regions import Region, region
from cutmarks.geometry.rings import polygon
from cutmarks.marks.elevation import elevation
from cutmarks.marks.elevation_names import PlacedName, inside, words_box
from cutmarks.marks.model import CircleMark, Role, Words
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


@pytest.mark.parametrize("example", ["laundry", "mending-room", "wash-house"])
def test_the_name_of_a_hole_lies_on_no_cover(example: str) -> None:
    # Two taps 150 apart: "hot" reached over the cover of "cold", and stood between both.
    plan = make_plan(load_job(Path(__file__).parents[2] / "examples" / example / f"{example}.yaml"))
    names = {opening.name for opening in plan.openings}
    seen = 0
    for surface in plan.surfaces:
        marks = list(elevation(plan, surface, 190.0, 150.0, {}))
        covers = [mark for mark in marks if isinstance(mark, CircleMark) and mark.role is Role.COVER]
        for words in (mark for mark in marks if isinstance(mark, Words) and mark.text in names):
            box = words_box(words)
            for cover in covers:
                seen += 1
                x = min(max(cover.centre.x, box.min_x), box.max_x)
                y = min(max(cover.centre.y, box.min_y), box.max_y)
                assert (x - cover.centre.x) ** 2 + (y - cover.centre.y) ** 2 >= cover.radius**2, words.text
    assert seen
