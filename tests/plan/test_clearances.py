"""What is known of a fitting before a tile is chosen. Figures by hand."""

from __future__ import annotations

from typing import Any

import pytest

from cutmarks.job import build_job
from cutmarks.plan import Plan, make_plan
from cutmarks.plan.clearances import Clearance
from cutmarks.saying.clearances import edge_sentence, finished_figure, verdict, wrong_words
from cutmarks.units import Style

FLOOR = {"at": "1000 below B", "true": "level", "what": "floor", "still to come": 62}
LEFT = {"at": "900 left of V", "true": "plumb", "what": "next wall", "still to come": "?"}


def fitting(name: str, x: float, y: float = 0.0, within: str = "?", **keys: Any) -> dict[str, Any]:
    place = {"across": f"centre {x:g} right of V", "up": f"centre {y:g} above B"}
    return {"name": name, "what": "15 copper", "end": "comes off", "cover": 65, "depth range": within, **place, **keys}


def bare(*holes: object, **keys: Any) -> Plan:
    surface = {
        "name": "wall",
        "kind": "wall",
        "lines": {"V": "plumb, middle", "B": "level, the metre line"},
        "edges": {"left": LEFT, "bottom": FLOOR},
        "holes": list(holes),
        "thickness": 9,
        "bed": 4,
        **{key: value for key, value in keys.items() if key != "accept"},
    }
    return make_plan(build_job({"job": "bare", "surfaces": [surface], "accept": keys.get("accept", [])}))


def named(plan: Plan) -> dict[str, Clearance]:
    return {one.opening.name: one for one in plan.clearances}


def test_the_nearest_is_told_by_its_cover_however_far() -> None:
    found = named(bare(fitting("hot", 0), fitting("cold", 150), fitting("far", 3150, cover=100)))
    hot, cold, far = (found[name].neighbour for name in ("hot", "cold", "far"))
    assert hot is not None
    assert cold is not None
    assert far is not None
    # 150 less half of 65 twice: 85. 3000 less 32.5 and 50: 2917.5.
    assert (hot.name, hot.between, hot.middles) == ("cold", pytest.approx(85), pytest.approx(150))
    assert cold.name == "hot"
    assert (far.name, far.between, far.middles) == ("cold", pytest.approx(2917.5), pytest.approx(3000))


def test_the_nearest_of_many_is_that_of_all_compared() -> None:
    holes = [fitting(f"p{n}", 137.0 * n % 1900, 211.0 * n % 1700, cover=20) for n in range(40)]
    made = bare(*holes)
    at = {one.name: one.at for one in made.openings}
    for one in made.clearances:
        mine = one.opening.at
        least = min(
            ((mine.x - other.x) ** 2 + (mine.y - other.y) ** 2) ** 0.5
            for name, other in at.items()
            if name != one.opening.name
        )
        assert one.neighbour is not None
        # All covers are round and alike: the nearest middle is the nearest cover.
        assert one.neighbour.middles == pytest.approx(least)


def test_covers_that_overlap_leave_no_room() -> None:
    one = named(bare(fitting("hot", 0, cover=100), fitting("cold", 0, 20, cover=20)))["hot"]
    assert one.neighbour is not None
    assert one.neighbour.between == 0.0  # the small one lies wholly under the large one


def test_one_that_is_alone_has_no_neighbour() -> None:
    assert named(bare(fitting("hot", 0)))["hot"].neighbour is None


def test_how_deep_it_comes_to_lie() -> None:
    made = named(
        bare(
            fitting("behind", 0, depth="62 behind the board", within="47 to 77"),
            fitting("proud", 400, depth="20 proud of the board"),
            fitting("studs", 800, depth="62 behind the studs"),
            fitting("unread", 1200),
        )
    )
    # 62 + 4 + 9 = 75; -20 + 13 = -7, 7 proud; how thick the board is was not said.
    assert [None if one.deep is None else one.deep.behind for one in made.values()] == [75.0, -7.0, None, None]
    behind = made["behind"].deep
    assert behind is not None
    assert (behind.least, behind.most) == (47.0, 77.0)


def test_what_passes_and_what_is_wrong() -> None:
    close = fitting("valve", 0, service=140), fitting("tap", 100), fitting("free", 900, service=140)
    made = named(bare(*close))
    assert [verdict(one) for one in made.values()] == ["STOP", "PASS", "PASS"]
    assert wrong_words(made["valve"]) == "STOP cannot be serviced"
    # 100 less 32.5, twice; and no more than it needs where nothing is near.
    assert [one.clear for one in made.values()] == [135.0, None, 140.0]
    lived_with = [{"rule": "cannot be serviced", "about": "valve", "reason": "the tap comes off"}]
    accepted = named(bare(*close, accept=lived_with))["valve"]
    assert accepted.passes
    assert verdict(accepted) == "accepted"


def test_the_edges_are_said_with_what_comes_off_them() -> None:
    made = bare(fitting("hot", 0))
    assert edge_sentence(made.surfaces[0].setout, Style()) == (
        "Finished edges: left: next wall, what is still to come is not said; right: not read; bottom: floor, less 62 "
        "still to come; top: not read."
    )
    one = made.clearances[0]
    assert [finished_figure(mm, Style()) for mm in one.finished] == ["?", "?", "938", "?"]
    assert finished_figure(-12, Style()) == "12 past it"


def test_a_surface_with_its_tiles_has_no_clearances() -> None:
    tiled = {
        "areas": [{"name": "a", "tile": "rib", "joint": 3, "start": {"across": "joint on V", "up": "sits on B"}}],
    }
    surface = {
        "name": "wall",
        "kind": "wall",
        "lines": {"V": "plumb, middle", "B": "level, the metre line"},
        "holes": [fitting("hot", 100, 100)],
        **tiled,
    }
    plan = make_plan(build_job({"job": "tiled", "tiles": {"rib": "297 x 97"}, "surfaces": [surface]}))
    assert not plan.clearances
    assert plan.laid == plan.surfaces
