"""The pieces that end rows and columns, at their narrowest, and layouts whose start has moved; figures by hand."""

from __future__ import annotations

from typing import Any

import pytest

from cutmarks.tiling.ends import ends_across, ends_up, with_start_moved
from cutmarks.tiling.layout import Layout
from cutmarks.tiling.moves import even_moves
from tests.properties.wall import BOX, layouts_of


def near(*values: float) -> Any:
    return pytest.approx(values, abs=1e-6)


def layout(*, area: dict[str, Any] | None = None, **edges: Any) -> Layout:
    """Tiles of 100, joint 2, from 1 right of V and B; the wall ends 500 left and right, 0 below and 600 above."""
    box = {**BOX, "bottom": {"at": "B", "true": "level", "what": "worktop"}, **edges}
    bare = {side: {**edge, "gap": 0} if isinstance(edge, dict) else edge for side, edge in box.items()}
    (found,) = layouts_of(surface={"edges": bare}, area=area)
    return found


def test_plain_ends() -> None:
    # The fifth tile to each side begins at 1 + 4 x 102 = 409: 91 to the edge. The sixth course begins at 510: 90.
    assert ends_across(layout()) == near(91, 91)
    assert ends_up(layout()) == near(100, 90)


def test_an_end_that_rakes_is_read_at_its_narrowest() -> None:
    # 500 at B, 494 at 600 above: the last piece is 91 at B and 85 on top. The mean of neither row is that.
    right = {"at": ["500 right of V at B", "494 right of V at 600 above B"]}
    assert ends_across(layout(right=right)) == near(91, 85)


def test_a_floor_that_rakes_leaves_less_of_the_lowest_course() -> None:
    # 40 below B on the left and 50 on the right: of the course that ends 2 below B 38 and 48.
    floor = {"at": ["40 below B at 500 left of V", "50 below B at 500 right of V"], "what": "worktop"}
    assert ends_up(layout(bottom=floor)) == near(38, 90)


def test_a_course_that_begins_half_way_along_begins_with_next_to_nothing() -> None:
    # The floor is 10 above B on the left and 10 below on the right, 1 in 50. It passes 2 below B, where a new course
    # begins, 100 right of V: 0.02 of the tile from 1 to 101 is joint, and the one from 103 on begins 0.06 high.
    floor = {"at": ["10 above B at 500 left of V", "10 below B at 500 right of V"], "what": "worktop"}
    assert ends_up(layout(bottom=floor)) == near(0.06, 90)


def test_moving_the_start_lays_the_area_anew() -> None:
    # 10 to the right: 101 on the left are a tile of 100 and its joint's half; 81 on the right. Another 10: 111 - 102.
    # 30 up: 28 come in below the first course, 60 are left above.
    found = layout()
    assert ends_across(with_start_moved(found, 10, 0)) == near(100, 81)
    assert ends_across(with_start_moved(found, 20, 0)) == near(9, 71)
    assert ends_up(with_start_moved(found, 0, 30)) == near(28, 60)
    moved = with_start_moved(found, 10, 30)
    assert moved.grid.to_surface.xy(0, 0) == near(11, 30)
    assert found.grid.to_surface.xy(0, 0) == near(1, 0)


def test_a_window_in_the_first_tile_does_not_make_the_end_narrower() -> None:
    # The first tile lies 509 to 409 left of V; the window takes its right part, 440 to 300, of the second course only.
    windows = [{"name": "window", "across": "440 to 300 left of V", "up": "120 to 180 above B", "gap": 0}]
    (found,) = layouts_of(surface={"edges": {**BOX, "left": {"at": "500 left of V", "gap": 0}}, "windows": windows})
    first, _ = ends_across(found)
    assert first == pytest.approx(91)


@pytest.mark.parametrize("bond", ["", "half", "third right"])
@pytest.mark.parametrize("lean", [0, 6, -7])
@pytest.mark.parametrize("upright", [False, True])
def test_no_start_leaves_a_larger_smaller_end(bond: str, lean: int, upright: bool) -> None:
    # Every start, in steps of 1 over one pitch, laid and read: what is found first in steps of 1 is as good.
    edges: dict[str, Any] = {
        "right": {"at": ["463 right of V at B", f"{463 + lean} right of V at 600 above B"]},
        "bottom": {"at": ["44 below B at 500 left of V", f"{44 + lean} below B at 500 right of V"], "what": "worktop"},
    }
    found = layout(area={"bond": bond} if bond else None, **edges)

    def least(by: float) -> float:
        ends = ends_up(with_start_moved(found, 0, by)) if upright else ends_across(with_start_moved(found, by, 0))
        assert None not in ends
        return min(end for end in ends if end is not None)

    best = max(least(by) for by in range(-51, 52))
    assert max(least(by) for by in even_moves(found, upright=upright, step=1.0)[:3]) >= best - 1e-6
