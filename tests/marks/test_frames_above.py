"""A frame that the tile is slid under is drawn where it stands above it, dashed and never as a cut, on either face."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from cutmarks.geometry.edges import Bounds
from cutmarks.marks.frames import FRAME_ABOVE, frames_above
from cutmarks.marks.model import Role, Stroke
from cutmarks.marks.template import lines, subject
from cutmarks.plan import Plan
from cutmarks.saying.behind import from_behind
from cutmarks.sheets.build import build_sheets
from tests.sheets.drawn import texts
from tests.tiling.test_frames import LEG, floor

WIDE = Bounds(-2000.0, -2000.0, 2000.0, 2000.0)
PIPE = {"name": "riser", "what": "15 copper", "across": "centre 120 right of V", "in": "centre 100 from D", "cover": 65}


def leg(**keys: object) -> Plan:
    return floor({**LEG, **keys}, holes=[{**PIPE, "end": "comes off", "slot": "47 towards the left"}])


def strokes(made: Plan, role: Role) -> list[tuple[float, float, float, float]]:
    """The extents of a template's lines of one role."""
    (piece,) = [one for one in made.pieces if one.cuts]
    (lined_up,) = [one for one in made.registrations if one.piece == piece.name]
    found = [one for one in lines(subject(made, piece, lined_up, WIDE)) if isinstance(one, Stroke) and one.role is role]
    paths = [([v.x for v in one.path], [v.y for v in one.path]) for one in found]
    return [(min(xs), min(ys), max(xs), max(ys)) for xs, ys in paths]


def test_it_is_drawn_as_measured_and_the_notch_inside_it() -> None:
    made = leg(**{"goes under": 10})
    # The tile's corner lies where V and D cross, so that the frame is on it as it was measured: 50 x 70.
    assert strokes(made, Role.ABOVE) == [pytest.approx((0.0, 20.0, 50.0, 90.0))]
    # What is sawn: the notch 10 inside of it, in one line with the walls' gaps of 3.
    assert any(box == pytest.approx((3.0, 3.0, 297.0, 197.0)) for box in strokes(made, Role.CUT))


def test_a_frame_that_stands_on_the_floor_is_not_above() -> None:
    made = floor({key: value for key, value in LEG.items() if key != "undercut"}, holes=[{**PIPE, "end": "comes off"}])
    assert not strokes(made, Role.ABOVE)


def test_from_behind_it_lies_on_the_other_side() -> None:
    made = leg()
    (piece,) = [one for one in made.pieces if one.cuts]
    (ring,) = frames_above(made, from_behind(piece))
    # 297 - 50 and 297 - 0.
    assert tuple(ring.bounds) == pytest.approx((247.0, 20.0, 297.0, 90.0))


def test_the_sheet_says_what_the_line_is() -> None:
    sheet = next(iter(build_sheets(replace(leg(), findings=()))))  # one stops it: nothing is said on a stopped drawing
    assert FRAME_ABOVE in texts(sheet.marks)
