"""Room to service a fitting: what a hand, a nut or a spanner needs about it. Figures by hand."""

from __future__ import annotations

from typing import Any

import pytest

from tests.checks.jobs import EDGES, hole, only, plan, said


def test_a_neighbours_cover_stands_in_the_way() -> None:
    holes = hole("valve", x=150, service=140), hole("tap", x=250, cover=65)
    # 100 from middle to middle less half of 65: 67.5 are free, and half of 140 is 70: 135 clear.
    found = only(plan(*holes), "cannot be serviced")
    assert (found.level, found.about, found.value, found.limit) == ("stop", ("valve",), 135.0, 140.0)
    assert "runs into tap by 2½: 135 is clear" in found.text
    assert not said(plan(hole("valve", x=150, service=135), holes[1]), "cannot be serviced")


def test_a_neighbour_without_a_cover_stands_there_with_its_hole() -> None:
    # A core of 22 over a bare 15: 100 - 11 = 89 are free.
    holes = hole("tap", x=250, opening=22, cover="none"), hole("valve", x=150, service=180)
    assert only(plan(*holes), "cannot be serviced").value == pytest.approx(178)


def test_the_finished_edge_counts_and_not_the_measured_one() -> None:
    def beside(come: Any) -> Any:
        edges = {**EDGES, "left": {"at": "1000 left of V", "true": "plumb", "gap": "0", "still to come": come}}
        return plan(hole("valve", across="centre 940 left of V", cover=40, service=100), edges=edges)

    # 60 to the bare corner; with 14 of bed and tile still to come, 46: 92 clear of the 100.
    assert not said(beside(0), "cannot be serviced")
    assert only(beside(14), "cannot be serviced").value == pytest.approx(92)


def test_a_window_stands_in_the_way() -> None:
    window = [{"name": "window", "across": "200 to 600 right of V", "up": "50 to 500 above B"}]
    found = only(plan(hole("valve", x=150, y=100, service=120), windows=window), "cannot be serviced")
    assert found.value == pytest.approx(100)  # 50 to its edge
    assert "runs into window by 10" in found.text


def test_a_cover_past_the_finished_edge_is_told() -> None:
    edges = {**EDGES, "left": {"at": "1000 left of V", "true": "plumb", "gap": "0", "still to come": 14}}
    # 40 to the bare corner, 26 to the finished one, and a cover of 65 reaches 32.5: 6.5 past it.
    assert only(plan(hole(across="centre 960 left of V"), edges=edges), "cover past the edge").value == pytest.approx(
        6.5
    )
    assert not said(plan(hole(across="centre 960 left of V")), "cover past the edge")
