"""Counts and names by looking at every single tile with shapely, against division on the grid."""

from __future__ import annotations

from hypothesis import assume, given, settings

from cutmarks.job import build_job
from cutmarks.setout.surface import set_out
from cutmarks.tiling.areas import lay_out
from tests.properties.referee import Referee, split
from tests.properties.scene import Area, Scene, said
from tests.properties.strategies import CLOSED, scenes

WHOLE_WITHIN = 1e-3
"""A tile that lacks less than this, mm2, is whole."""

Place = tuple[int, int]


class Tally:
    """Every place of an area, each looked at: what is held, whole, and where each row begins, voids left aside."""

    def __init__(self, scene: Scene, area: Area) -> None:
        referee = Referee(scene)
        self.held: dict[Place, bool] = {}
        for place, left in referee.laid(area, referee.ground(area)).items():
            pieces, _ = split(left, area.turn)
            if pieces:
                self.held[place] = sum(p.area for p in pieces) > area.w * area.h - WHOLE_WITHIN
        self.first: dict[int, int] = {}
        for (column, row), left in referee.laid(area, referee.limits(area)).items():
            if split(left, area.turn)[0]:
                self.first[row] = min(column, self.first.get(row, column))

    @property
    def counts(self) -> tuple[int, int, int]:
        """(whole, cut, gone): a place is gone if it lies between number 1 and the last of its row and holds nothing."""
        whole = sum(self.held.values())
        gone = 0
        for row in {row for _, row in self.held}:
            columns = [column for column, r in self.held if r == row]
            gone += max(columns) - self.first[row] + 1 - len(columns)
        return whole, len(self.held) - whole, gone

    def name(self, area: Area, place: Place) -> str:
        """Courses count from the row that stands on the start's line, or on the area's own lower limit over that."""
        stands_on = [area.y] if area.up == "sits on" else []
        stands_on += [] if area.low[1] is None else [area.low[1]]
        row = min(row for _, row in self.held)
        if stands_on and not area.turn:
            bottom = {"joint": area.joint / 2, "middle": -area.h / 2, "sits on": 0.0, "hangs from": -area.h}[area.up]
            over = max(stands_on) + 0.999 - area.y - bottom
            above = min(r for r in range(-999, 999) if r * (area.h + area.joint) + area.h > over)
            row = above if above <= max(self.first) else row
        up = place[1] - row
        course = f"{up + 1}" if up >= 0 else f"under {-up}"
        return f"{area.name} {course}-{place[0] - self.first[place[1]] + 1}"


@given(scenes(CLOSED))
@settings(max_examples=50)
def test_counts_and_names(scene: Scene) -> None:
    job = build_job(said(scene))
    faults = job.faults()
    (surface,) = job.surfaces
    layouts = lay_out(surface, set_out(surface, job, faults), job, faults)
    assume(not faults)
    for layout, area in zip(layouts, scene.areas, strict=True):
        tally = Tally(scene, area)
        counts = layout.counts()
        assert (counts.whole, counts.cut, counts.gone) == tally.counts
        cut = {place for place, whole in tally.held.items() if not whole}
        assert set(layout.cut_places()) == cut
        for place, whole in tally.held.items():
            assert layout.name(place) == tally.name(area, place)
            assert layout.is_whole(place) == whole
