"""What has to stay clear of tile is drawn round its cut, on the template and on the elevation, and never as a cut."""

from __future__ import annotations

import pytest

from cutmarks.geometry.edges import Bounds
from cutmarks.marks.elevation import elevation
from cutmarks.marks.model import CircleMark, Mark, Role, Stroke
from cutmarks.marks.template import lines, subject
from cutmarks.plan import Plan
from tests.checks.jobs import hole, plan
from tests.sheets.drawn import texts

WIDE = Bounds(-2000.0, -2000.0, 2000.0, 2000.0)


def socket(keep_clear: str) -> Plan:
    """A 74 x 74 cut-out whose middle lies 148.5 from the left and 100 up on its tile."""
    return plan(hole("socket", what="box", size="70 x 70", cover="86 x 86", **{"keep clear": keep_clear}))


def template(made: Plan) -> tuple[Mark, ...]:
    (piece,) = [one for one in made.pieces if one.cuts]
    (lined_up,) = [one for one in made.registrations if one.piece == piece.name]
    return lines(subject(made, piece, lined_up, WIDE))


def extent(mark: Stroke) -> tuple[float, float, float, float]:
    xs, ys = [v.x for v in mark.path], [v.y for v in mark.path]
    return min(xs), min(ys), max(xs), max(ys)


def test_a_template_has_it_dotted_at_full_size() -> None:
    # 70 x 62 about (148.5, 100): from 113.5 to 183.5 and from 69 to 131.
    (mark,) = [one for one in template(socket("70 x 62")) if isinstance(one, Stroke) and one.role is Role.KEEP_CLEAR]
    assert extent(mark) == pytest.approx((113.5, 69.0, 183.5, 131.0))
    (circle,) = [one for one in template(socket("72")) if isinstance(one, CircleMark)]
    assert (circle.role, circle.radius) == (Role.KEEP_CLEAR, 36.0)


def test_the_elevation_has_it_to_scale_and_says_what_it_is() -> None:
    made = socket("70 x 62")
    marks = elevation(made, made.surfaces[0], 700.0, 500.0)
    (clear,) = [one for one in marks if isinstance(one, Stroke) and one.role is Role.KEEP_CLEAR]
    (cover,) = [one for one in marks if isinstance(one, Stroke) and one.role is Role.COVER]
    (x0, y0, x1, y1), (a0, b0, a1, b1) = extent(clear), extent(cover)
    assert ((x1 - x0) / (a1 - a0), (y1 - y0) / (b1 - b0)) == pytest.approx((70 / 86, 62 / 86))
    assert "dotted: no tile, for screws and lugs" in " ".join(texts(marks))


def test_nothing_is_dotted_where_nothing_was_said() -> None:
    made = plan(hole())
    assert not [one for one in template(made) if isinstance(one, Stroke | CircleMark) and one.role is Role.KEEP_CLEAR]
