"""A printer's own margin: all sheets keep inside it, and their bars too, on every paper."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from cutmarks.geometry.edges import Bounds
from cutmarks.marks.model import Role, Stroke
from cutmarks.plan import paper_of
from cutmarks.registering import register
from cutmarks.sheets.build import build_pack
from tests.scenes import SCENES
from tests.sheets.drawn import extents, overlapping
from tests.sheets.special import SPECIAL

TOUCH = 1e-6


@pytest.mark.parametrize("margin", [5.0, 14.0, 20.0])
@pytest.mark.parametrize("paper", ["A4", "Letter", "any", "A1", "610 x 1320"])
@pytest.mark.parametrize("name", ["w1", "inches", "joined_back"])
def test_everything_keeps_inside_the_margin(name, paper, margin):
    plan = {**SCENES, **SPECIAL}[name]()
    say = replace(plan.say, paper=paper, margin=margin)
    back = any(sheet.back for sheet in plan.registrations)
    sheets = register(plan.pieces, paper_of(say), joined=True, template="back" if back else "")
    pack = build_pack(replace(plan, say=say, registrations=sheets))
    for sheet in (*pack.front, *pack.templates):
        safe = Bounds(margin, margin, sheet.width - margin, sheet.height - margin)
        assert [box for box in extents(sheet.marks) if not box.within(safe, TOUCH)] == []
        assert overlapping(sheet.marks) == []
        bars = [m for m in sheet.marks if isinstance(m, Stroke) and m.role is Role.BAR and len(m.path) == 2]
        long = [abs(m.path[1].x - m.path[0].x) + abs(m.path[1].y - m.path[0].y) for m in bars]
        # One across and one along, each over three quarters of what the margins leave.
        assert max(long) > 0.75 * (sheet.height - 2 * margin)
        assert any(0.75 * (sheet.width - 2 * margin) < one < sheet.width - 2 * margin for one in long)
