"""The shorter way to one better start finds what the whole search puts first, or nothing where that shows no less."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from msgspec.structs import replace

from cutmarks import load_job, make_plan
from cutmarks.checks.spaces import joints_run_through
from cutmarks.choosing.choose import Chooser
from cutmarks.choosing.figures import worth_of
from cutmarks.choosing.offers import Offer
from cutmarks.choosing.question import StartQuestion
from cutmarks.job import Job, parse_job
from cutmarks.job.models import Tools
from cutmarks.plan.choices import _levelled
from cutmarks.plan.model import Plan
from cutmarks.tiling.ends import with_start_moved
from cutmarks.tiling.unlaid import lacks

EXAMPLES = Path(__file__).parents[2] / "examples"

HOLES = """
    holes:
      - {name: box one, what: box, size: 70 x 70, across: centre 400 right of V, up: centre 95 above B}
      - {name: box two, what: box, size: 70 x 70, across: centre 800 right of V, up: centre 95 above B}"""


def wall(
    areas: list[str], *, name: str = "wall", top: int = 480, lean: int = 0, floor: int = 0, below: str = "worktop"
) -> str:
    """One wall 1000 wide; its right edge leans by so much, and it ends so much below B and so much above it."""
    listed = "\n".join(f"      - {{{one}}}" for one in areas)
    return f"""
  - name: {name}
    kind: wall
    lines: {{V: "plumb, left end", B: "level, laser"}}
    gaps: {{left: 0, right: 0, top: 0, bottom: 0}}
    edges:
      left: {{at: on V, true: plumb, still to come: 0}}
      right: {{at: [1000 right of V at B, {1000 - lean} right of V at {top} above B], still to come: 0}}
      bottom: {{at: {floor} below B, true: level, what: {below}}}
      top: {{at: {top} above B, true: level}}
    areas:
{listed}"""


def job(walls: str, *, tile: str = "300 x 200", head: str = "") -> str:
    return f"job: better\n{head}tiles: {{t: {{size: {tile}, measured: yes}}}}\nsurfaces:{walls}\n"


def laid(up: str, more: str = "", across: str = "left on V") -> str:
    return f"name: a, tile: t, joint: 3{more}, start: {{across: {across}, up: {up}}}"


LAID = {
    # One course stands on the batten, and both boxes lie in the cut one under it.
    "a batten nobody would put up": job(wall([laid("sits on 137 above B")]) + HOLES),
    # A strip of 7 is left beside V and one of 17 on the floor; laid from the other end it goes on from there.
    "the offcut carried on": job(
        wall([laid("sits on 20 above B", ', bond: "offcut carried on"', "left 10 right of V")], top=806, lean=5)
    ),
    "thirds for halves": job(
        wall([laid("sits on 20 above B", ", bond: half", "left 10 right of V")], top=806), tile="900 x 200"
    ),
    "courses that run round": job(
        wall([laid("sits on B")], top=812)
        + wall([laid("sits on B").replace("name: a", "name: b")], name="end wall", top=812, floor=20),
        head="courses run round: [wall, end wall]\n",
    ),
    "one area over the other": job(
        wall(
            [
                laid("sits on 10 above B", ", to: 400 above B", "left 10 right of V"),
                "name: b, tile: t, joint: 3, from: 403 above B, start: {across: left 40 right of V, up: sits on 403 "
                "above B}",
            ],
            top=1012,
        )
        + HOLES
    ),
}

LAID["shifted courses over the other"] = LAID["one area over the other"].replace(
    "name: b, tile: t, joint: 3", "name: b, tile: t, joint: 3, bond: half"
)


def choosers(job: Job, plan: Plan) -> Iterator[Chooser]:
    """Who looks for the starts of each wall that is laid; of the first of those round which courses run with them."""
    found: dict[str, Chooser] = {}
    for surface in job.surfaces:
        if not lacks(surface):
            openings = [opening for opening in plan.openings if opening.surface == surface.name]
            found[surface.name] = Chooser(surface, plan.setout(surface.name), openings, job)
            # What it is asked alone is not to be taken for what it is asked with the others.
            assert found[surface.name].now()
    leaders = _levelled(job, found)[:1]
    yield from (found | {one.spec.name: one for one in leaders}).values()


def held(job: Job) -> list[tuple[Offer, Offer | None]]:
    """What each wall is laid as, and what is found to be better; that is held against the whole search."""
    looked_at: list[tuple[Offer, Offer | None]] = []
    for chooser in choosers(job, make_plan(job, undecided=True)):
        now = chooser.now()
        assert now is not None
        # One that was asked nothing: what the whole search is told has to be worked out anew.
        first = replace(chooser).choices(1).offers[0]
        found = chooser.better(now)
        looked_at.append((now, found))
        if first.worth.shown(chooser.limits) >= now.worth.shown(chooser.limits):
            assert found is None
            continue
        assert found is not None
        # How far it may move is looked at only where that is told.
        assert unmoved(found) == unmoved(first)
    return looked_at


def unmoved(offer: Offer) -> Offer:
    return replace(offer, starts=tuple(replace(one, may_move=(0.0, 0.0, 0.0, 0.0)) for one in offer.starts))


@pytest.mark.parametrize("name", ["laundry", "mending-room", "boot-room"])
def test_the_shorter_way_finds_what_the_whole_search_puts_first(name: str) -> None:
    assert held(load_job(EXAMPLES / name / f"{name}.yaml"))


@pytest.mark.parametrize("name", LAID)
def test_it_does_so_of_whatever_a_start_is_chosen_by(name: str) -> None:
    # Each is laid so that another start shows less: else nothing would be held against anything.
    assert [better for _, better in held(parse_job(LAID[name])) if better is not None]


def test_a_spacer_is_no_way_out_where_another_start_leaves_no_hair() -> None:
    # Courses stand on B: four of 203 are 812, and of the fifth 62 are left of 874, poor and no hair. With a joint of 1
    # four are 804 and 70 are left, over a third of 200. But a spacer is tried only where all starts leave a hair. Both
    # ends have 1000 - 804.5 = 195.5, over a half.
    start = laid("sits on B", ", from: B", "joint on 500 right of V")
    text = job(wall([start.replace("joint: 3", "joint: {joint}")], top=874))
    tools = Tools(spacers=(1.0, 3.0))
    ((now, found),) = held(parse_job(text.replace("{joint}", "3"), tools=tools))
    assert (now.worth.poor, now.worth.hair, found) == (1, 0, None)
    # What the job names is tried.
    ((now, found),) = held(parse_job(text.replace("{joint}", '"3, or 1"'), tools=tools))
    assert found is not None
    assert found.starts[0].joint == 1.0


def questions(name: str) -> Iterator[StartQuestion]:
    """What is asked of each area of a wall, beside those before it as they are laid."""
    job = parse_job(LAID[name])
    for chooser in choosers(job, make_plan(job, undecided=True)):
        now = chooser.now()
        assert now is not None
        for number, start in enumerate(now.starts):
            area = next(one for one in chooser.spec.areas if one.name == start.area)
            yield chooser.asking.question(area, now.starts[:number])


@pytest.mark.parametrize("name", LAID)
def test_what_is_kept_of_a_start_is_what_it_leaves(name: str) -> None:
    for asked in questions(name):
        places = [(10.0 + x * 151.5, y * 87.0) for x in range(3) for y in range(5)]
        for x, y in places * 2:
            assert asked.worth(x, y) == worth_of(asked.figures(x, y), asked.limits)
            # Laid out there, with nothing kept.
            here = asked.laid(x, y)
            missed = {
                one.second.area if one.first.area == here.area else one.first.area
                for one in asked.facing
                if not joints_run_through(
                    replace(one, first=here) if one.first.area == here.area else replace(one, second=here), asked.limits
                )
            }
            assert set(asked.apart(x, y)) == missed


def test_joints_of_areas_over_each_other_run_through_at_some_starts_and_not_at_others() -> None:
    job = parse_job(LAID["one area over the other"])
    (chooser,) = choosers(job, make_plan(job, undecided=True))
    now = chooser.now()
    assert now is not None
    below, upper = now.starts[0], chooser.spec.areas[1]
    assert below.layout is not None
    # The lower area's joints have their middles at 311.5 + 303 n: the upper one's meet them from 10 + 303 n on alone.
    asked = chooser.asking.question(upper, [below])
    assert [asked.apart(x, 403.0) for x in (10.0, 40.0, 313.0)] == [(), ("a",), ()]
    # Where the lower ones lie 30 further right, they meet them from 40 on.
    asked = chooser.asking.question(upper, [replace(below, layout=with_start_moved(below.layout, 30.0, 0.0))])
    assert [asked.apart(x, 403.0) for x in (10.0, 40.0, 313.0)] == [("a",), (), ("a",)]


def test_where_courses_run_round_the_other_wall_counts_whatever_was_asked_before() -> None:
    job = parse_job(LAID["courses that run round"])
    first, other = (chooser.now() for chooser in choosers(job, make_plan(job, undecided=True)))
    kinds = [{end.kind for start in now.starts for end in start.figures.left} for now in (first, other) if now]
    assert kinds == [{"edge", "other"}, {"edge"}]
