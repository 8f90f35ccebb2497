"""A thing with a place and a cover, and no size: it is stopped, and nothing is told of a hole that nobody knows.

The wall is that of `tests.checks.jobs`; a rose of 70 laps 3 all round, so that it hides a hole of 64 at most.
"""

from __future__ import annotations

import pytest

from cutmarks.errors import JobError
from cutmarks.limits import LIMITS
from tests.checks.jobs import hole, only, plan, said


def unsized(x: float = 150.0, y: float = 100.0, **keys: object) -> dict[str, object]:
    return {key: held for key, held in hole("filler", x=x, y=y, cover=70, **keys).items() if key != "what"}


def test_it_has_a_place_and_is_stopped_on_its_piece() -> None:
    made = plan(unsized())
    finding = only(made, "size not known")
    assert finding.level == "stop"
    assert f"hides one of {70 - 2 * LIMITS.lap.value:g} at most" in finding.text
    assert "read both its sides" in finding.text
    (piece,) = [piece for piece in made.pieces if piece.cuts]
    (cut,) = piece.cuts
    assert (cut.opening.at.x, cut.opening.at.y) == pytest.approx((150.0, 100.0))
    assert cut.opening.waits
    assert cut.opening.read_size is None


@pytest.mark.parametrize(
    "keys", [{"what": "15 copper"}, {"diameter": 40}, {"opening": 50}, {"across": "140 to 160 right of V"}]
)
def test_what_says_its_size_lifts_it(keys: dict[str, object]) -> None:
    assert said(plan({**unsized(), **keys}), "size not known") == []


def test_nothing_is_told_of_what_a_hole_of_no_known_size_would_leave() -> None:
    # Its middle lies 35 from the tile's right edge at 298.5: of a hole of 64 only 3 of tile would be left.
    made = plan(unsized(x=263.5))
    bridges = ("hair bridge", "thin bridge")
    assert [one for rule in bridges for one in said(made, rule)] == []
    assert [one for rule in bridges for one in said(plan(unsized(x=263.5, opening=64)), rule)]


def test_beside_it_a_hole_of_known_size_is_looked_at_as_ever() -> None:
    # A hole of 60 whose middle lies 40 from the tile's left edge at 1.5 leaves 10 of tile.
    made = plan(unsized(x=220.0), hole("riser", x=41.5, opening=60, cover=80))
    assert any("riser" in one.text for rule in ("hair bridge", "thin bridge") for one in said(made, rule))


def test_with_no_cover_or_of_a_box_it_is_a_fault_of_the_job() -> None:
    for keys in ({"cover": "none"}, {"what": "switch"}):
        with pytest.raises(JobError, match=r"Its size is not known|read both its sides"):
            plan({**unsized(), **keys})
