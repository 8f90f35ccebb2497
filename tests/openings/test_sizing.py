"""How big the opening is, and how far off it may sit."""

from __future__ import annotations

import pytest

from cutmarks.geometry.shapes import Circle, Rect
from cutmarks.job import parse_job
from cutmarks.job.tools import Tools
from cutmarks.openings.model import Opening
from cutmarks.openings.sizing import best_hole
from cutmarks.plan import make_plan


def opening(hole: str, cores: tuple[float, ...] = (), units: str = "mm") -> Opening:
    job = f"""
job: one hole
units: {units}
tiles: {{t: {{size: 597 mm x 597 mm, measured: yes}}}}
surfaces:
  - name: wall
    kind: wall
    lines: {{V: "plumb, middle", B: "level, batten"}}
    areas: [{{name: field, tile: t, joint: 3 mm, from: B, start: {{across: middle on V, up: sits on B}}}}]
    holes: [{{name: h, {hole}}}]
"""
    (opening,) = make_plan(parse_job(job, tools=Tools(cores=cores))).openings
    return opening


ON = "across: centre 20 mm right of V, up: centre 300 mm above B"


@pytest.mark.parametrize(("core", "may_be"), [(35, 10), (28, 6.5), (45, 7)])
def test_what_a_hole_of_each_core_may_be_off(core: float, may_be: float) -> None:
    # min((D - d) / 2, (P - D) / 2 - o): 35: min(10, 12); 28: min(6.5, 15.5); 45: min(15, 7).
    assert opening(f"what: 15 copper, cover: 65, opening: {core}, {ON}").you_may_be == pytest.approx(may_be)


def test_the_best_hole() -> None:
    # D* = (d + P - 2 o) / 2 with o = 3 (common practice): a 15 pipe under a 65 cover: (15 + 65 - 6) / 2 = 37.
    assert best_hole(15, 65) == 37


@pytest.mark.parametrize(
    ("hole", "size", "may_be"),
    [
        # The largest usual core not over 37; 10 any way.
        (f"what: 15 copper, cover: 65, {ON}", 35, 10),
        # A plate laps 2 where a rose laps 3: D* = (15 + 60 - 4) / 2 = 35.5, and (60 - 35) / 2 - 2 = 10.5 is left of it.
        (f"what: 15 copper, cover: 86 x 60, {ON}", 35, 10),
        # No cover: pipe + 6 = 21, the next usual core is 22; (22 - 15) / 2.
        (f"what: 15 copper, cover: none, {ON}", 22, 3.5),
        # Play as written: 15 + 2 x 5.
        (f"what: 15 copper, cover: 65, play: 5, {ON}", 25, 5),
        # Opening as written.
        (f"what: 15 copper, cover: 65, opening: 30, {ON}", 30, 7.5),
        # The maker's range: D* = (60 + 150 - 6) / 2 = 102 lies in it; the largest usual core up to 102 is 100.
        (f"what: valve, diameter: 60, cover: 150, hole: 89 to 102, {ON}", 100, 20),
    ],
)
def test_a_round_hole(hole: str, size: float, may_be: float) -> None:
    found = opening(hole)
    assert found.shape == Circle(size)
    assert found.you_may_be == pytest.approx(may_be)


def test_a_box_is_cut_two_larger_all_round() -> None:
    found = opening(f"what: socket box, size: 70 x 72, cover: 86, {ON}")
    assert found.shape == Rect(74, 76)
    # Room round the box 2, and lap (86 - 76) / 2 - 2 = 3: the least is 2.
    assert found.you_may_be == pytest.approx(2)


def test_a_box_leaning_under_two_degrees_is_cut_level_and_above_it_as_it_leans() -> None:
    level = opening(f"what: socket box, size: 70 x 70, lean: 1.5, cover: 86, {ON}")
    assert isinstance(level.shape, Rect)
    assert level.shape.lean == 0
    # 70 (cos 1.5 + sin 1.5) + 4 = 75.81
    assert level.shape.w == pytest.approx(75.81, abs=0.005)
    assert opening(f"what: socket box, size: 70 x 70, lean: 12, cover: 86, {ON}").shape == Rect(74, 74, 12)


@pytest.mark.parametrize(
    ("written", "units", "cores", "core"),
    [
        ("35", "mm", (), 35.0),
        # No core is made in these: what is 36 or 500 across is cut some other way.
        ("36", "mm", (), None),
        ("500", "mm", (), None),
        # A tiler's own cores go before the usual series.
        ("36", "mm", (28.0, 36.0), 36.0),
        ("35", "mm", (28.0, 36.0), None),
        ("1 3/8", "in", (), 34.925),
    ],
)
def test_an_opening_as_written_is_drilled_where_there_is_a_core_of_its_size(
    written: str, units: str, cores: tuple[float, ...], core: float | None
) -> None:
    found = opening(f"what: pipe, diameter: 15 mm, opening: {written}, {ON}", cores, units)
    assert isinstance(found.shape, Circle)
    assert found.shape.d == pytest.approx(34.925 if units == "in" else float(written))
    assert found.core == (None if core is None else pytest.approx(core))
    assert found.why.startswith("as written")
    assert ("no core of that size" in found.why) == (core is None)


@pytest.mark.parametrize(
    ("hole", "may_be"),
    [
        # Nothing says how big the thing is: whether its opening holds it is not known.
        (f"what: duct, opening: 80 x 60, {ON}", None),
        (f"what: duct, opening: 80, {ON}", None),
        (f"what: duct, opening: 80 x 60, size: 70 x 54, {ON}", 3.0),
        (f"what: duct, opening: 80, diameter: 70, {ON}", 5.0),
        ("what: duct, opening: 80 x 60, across: 0 to 70 right of V, up: 273 to 327 above B", 3.0),
        (
            "what: duct, corners: [0 right of V and 273 above B, 70 right of V and 273 above B, "
            "70 right of V and 327 above B, 0 right of V and 327 above B]",
            2.0,
        ),
    ],
)
def test_how_far_off_a_thing_may_be_is_known_where_its_size_is(hole: str, may_be: float | None) -> None:
    assert opening(hole).you_may_be == (None if may_be is None else pytest.approx(may_be))
