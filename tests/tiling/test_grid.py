"""From a tile and a start to where every tile lies; figures by hand."""

from __future__ import annotations

from typing import Any

import pytest

from tests.properties.wall import layouts_of


def near(value: float) -> Any:
    return pytest.approx(value, abs=1e-6)


def test_a_run_of_five_gives_the_pitch() -> None:
    # Five tiles and four joints of 2 in 1248: pitch (1248 + 2) / 5 = 250, and the tile is 248.
    (layout,) = layouts_of(
        tile={"size": "250 x 400", "run across": "5 in 1248", "run up": "3 in 1198", "measured": None}
    )
    assert (layout.tile.w, layout.tile.h) == (near(248), near(398))
    assert layout.tile.measured
    assert layout.grid.pitch_u == near(250)
    # With a joint of 3 the same run is five tiles of (1248 + 3) / 5 - 3 = 247.2.
    (layout,) = layouts_of(tile={"size": "250 x 400", "run across": "5 in 1248"}, area={"joint": 3})
    assert layout.tile.w == near(247.2)


@pytest.mark.parametrize("size", ["397 x 247", "247 x 397"])
@pytest.mark.parametrize(("lay", "across"), [("long side across", 397), ("long side up", 247)])
def test_lay_and_not_the_order_of_sizes_decides(size: str, lay: str, across: float) -> None:
    (layout,) = layouts_of(tile={"size": size, "lay": lay})
    assert layout.tile.w == across
    (layout,) = layouts_of(tile={"size": size}, area={"lay": lay})
    assert layout.tile.w == across


@pytest.mark.parametrize(
    ("start", "corner"),
    # Tile 100 x 100, joint 2: where the bottom left of tile [0, 0] lies.
    [
        ({"across": "joint on V", "up": "sits on B"}, (1, 0)),
        ({"across": "middle on V", "up": "joint on B"}, (-50, 1)),
        ({"across": "left on V", "up": "middle on B"}, (0, -50)),
        ({"across": "right on V", "up": "hangs from B"}, (-100, -100)),
        ({"across": "joint on 12 right of V", "up": "sits on 30 above B"}, (13, 30)),
        ({"across": "left on 12 left of V", "up": "hangs from 30 below B"}, (-12, -130)),
    ],
)
def test_what_of_the_start_tile_lies_on_what(start: dict[str, str], corner: tuple[float, float]) -> None:
    (layout,) = layouts_of(area={"start": start})
    assert layout.grid.placement((0, 0)).xy(0, 0) == (near(corner[0]), near(corner[1]))


@pytest.mark.parametrize(
    ("bond", "shifts"),
    # Pitch 102; rows -2 to 3. Alternate: every odd row; stepped: row by row; left is the other way.
    [
        ("stack", (0, 0, 0, 0, 0, 0)),
        ("half", (0, 51, 0, 51, 0, 51)),
        ("half left", (0, -51, 0, -51, 0, -51)),
        ("third right", (0, 34, 0, 34, 0, 34)),
        ("third left", (0, -34, 0, -34, 0, -34)),
        ("third right, stepped", (-68, -34, 0, 34, 68, 102)),
        ("20 left", (0, -20, 0, -20, 0, -20)),
        ("20 right, stepped", (-40, -20, 0, 20, 40, 60)),
    ],
)
def test_bonds(bond: str, shifts: tuple[float, ...]) -> None:
    (layout,) = layouts_of(area={"bond": bond})
    assert [layout.grid.shift(row) for row in range(-2, 4)] == [near(shift) for shift in shifts]


def test_a_turned_area_turns_about_its_start() -> None:
    # A 3-4-5 turn is 36.87 degrees; at 30 the far corner of a tile whose corner lies on the crossing is worked below.
    (layout,) = layouts_of(area={"turn": 30, "start": "corner on V and B"})
    assert layout.grid.placement((0, 0)).xy(0, 0) == (near(0), near(0))
    # Along u by 100: (100 cos 30, 100 sin 30) = (86.602540, 50).
    assert layout.grid.placement((0, 0)).xy(100, 0) == (near(86.602540), near(50))
    # One column on is one pitch of 102 along u.
    assert layout.grid.placement((1, 0)).xy(0, 0) == (near(102 * 0.8660254037844386), near(51))


def test_the_crossing_of_two_joints() -> None:
    # Half a joint of 2 from the crossing along both of the tile's own sides: at 0 degrees (1, 1).
    (layout,) = layouts_of(area={"turn": 45, "start": "crossing on V and B"})
    # (1, 1) turned by 45 degrees is (0, sqrt 2).
    assert layout.grid.placement((0, 0)).xy(0, 0) == (near(0), near(2**0.5))
