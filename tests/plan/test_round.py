"""`courses run round`: one height for the courses of several walls, decided by the floors and ceilings of all."""

from __future__ import annotations

from itertools import groupby
from pathlib import Path

import pytest
from click.testing import CliRunner

from cutmarks.choosing.offers import Choices
from cutmarks.cli.app import app
from cutmarks.errors import JobError
from cutmarks.job import parse_job
from cutmarks.plan import make_plan
from cutmarks.plan.choices import choices_of
from cutmarks.saying.gauging import sections, told

WALL = """
  - name: {name}
    kind: wall
    lines: {{V: "plumb, left end", B: "level, laser"}}
    gaps: {{left: 0, right: 0, top: 0, bottom: 0}}
    edges:
      left: {{at: on V, true: plumb, still to come: 0}}
      right: {{at: {width} right of V, true: plumb, still to come: 0}}
      bottom: {{at: {floor} below B, true: level, still to come: 0}}
      top: {{at: {ceiling} above B, true: level}}
    areas: [{{name: {area}, tile: t, joint: 3{start}}}]
"""
ROUND = "courses run round: [long wall, end wall]\n"


def job(floor: int, ceiling: int, start: str = "", other: str = "", rounds: str = ROUND) -> str:
    """A wall of 1000 from B to 1012 above it, and one of 600 from a floor so far below B up to so much above it."""
    walls = WALL.format(name="long wall", width=1209, floor=0, ceiling=1012, area="long", start=start)
    walls += WALL.format(name="end wall", width=603, floor=floor, ceiling=ceiling, area="end", start=other)
    return f"job: round\n{rounds}tiles: {{t: {{size: 300 x 200, measured: yes}}}}\nsurfaces:{walls}"


def chosen(text: str) -> tuple[Choices, Choices]:
    one, other = choices_of(parse_job(text))
    return one, other


def heights(found: Choices) -> list[float]:
    return [round(offer.starts[0].y % 203, 3) for offer in found.offers]


def test_the_long_wall_alone_takes_whole_courses() -> None:
    # 5 x 200 + 4 x 3 = 1012: nothing is cut from B up.
    one, _ = chosen(job(20, 1012, rounds=""))
    assert heights(one)[0] == 0.0
    assert one.offers[0].starts[0].figures.counted.cut == 0


def test_a_floor_that_lies_a_little_lower_next_door_moves_the_courses_of_both() -> None:
    # Next door 20 more are to be filled under B: a strip of 17 and a joint. The height of both is one at which
    # neither wall has a hair: on the long one 1012 are then cut at both ends.
    one, other = chosen(job(20, 1012))
    assert heights(one) == heights(other)
    worths = [offer.worth for offer in other.offers]
    assert all(worth.hair == 0 for worth in worths[:1])
    ends = {end.what: left.least for end, left in one.offers[0].starts[0].figures.left.items() if end.kind == "other"}
    assert set(ends) == {"bottom edge of end wall", "top edge of end wall"}
    # What the long wall was told of the end wall's floor and ceiling is what is left there.
    own = {end.what: left.least for end, left in other.offers[0].starts[0].figures.left.items() if end.kind == "edge"}
    assert ends["bottom edge of end wall"] == pytest.approx(own["bottom edge"])
    assert ends["top edge of end wall"] == pytest.approx(own["top edge"])


def test_a_height_that_one_wall_has_is_that_of_the_other() -> None:
    said = ", start: {across: left on V, up: sits on 90 above B}"
    one, other = chosen(job(20, 1012, other=said))
    assert set(heights(one)) == {90.0}
    assert set(heights(other)) == {90.0}
    # The end wall's across is said too, and stays.
    assert {offer.starts[0].x for offer in other.offers} == {0.0}


def test_courses_that_do_not_run_round_are_told() -> None:
    start, off = (f", start: {{across: left on V, up: sits on {up}}}" for up in ("B", "40 below B"))
    found = make_plan(parse_job(job(60, 1012, start, off))).findings
    told = [one for one in found if one.rule == "courses off level"]
    # 40 below is 163 above the course under it: 40 is nearer.
    assert [one.value for one in told] == [pytest.approx(40)]
    assert told[0].text.startswith("the courses of end wall lie 40 below those of long wall")
    # A whole course lower is no matter.
    even = make_plan(parse_job(job(263, 1012, start, off.replace("40 below", "203 below"))))
    assert not [one for one in even.findings if one.rule == "courses off level"]


def test_the_set_out_page_has_the_lowest_floor_and_the_cuts_of_all() -> None:
    # On 90 above B the batten is 90 over the long wall's floor and 110 over the other. Four courses of 203 later, from
    # 902 on, 1012 - 902 = 110 are left under the one ceiling and 1000 - 902 = 98 under the other.
    start = ", start: {across: left on V, up: sits on 90 above B}"
    plan = make_plan(parse_job(job(20, 1000, start, start)))
    for one in told(plan):
        said = " ".join(line for section in sections(one, plan) for line in section.lines)
        assert (
            "One level round long wall and end wall: the batten's top is 110 over the lowest floor of all, on end "
            "wall. Cuts at the ceilings: 98 at the least, on end wall, 110 at the most, on long wall."
        ) in said


def test_what_is_taken_is_taken_of_all_the_walls(tmp_path: Path) -> None:
    path = tmp_path / "job.yaml"
    path.write_text(job(20, 1012), encoding="utf-8")
    result = CliRunner().invoke(app, ["setout", str(path), "--take", "1"])
    assert result.exit_code == 0, result.output
    one, other = parse_job(path.read_text(encoding="utf-8")).surfaces
    assert one.areas[0].start_up is not None
    assert other.areas[0].start_up is not None
    assert one.areas[0].start_up.at == other.areas[0].start_up.at


@pytest.mark.parametrize(
    ("was", "instead", "words"),
    [
        ("end wall]", "hall]", 'there is no wall called "hall"'),
        ("name: end, tile: t, joint: 3", "name: end, tile: t, joint: 2", "has no area with tile and joint as high"),
    ],
)
def test_what_no_course_runs_round(was: str, instead: str, words: str) -> None:
    with pytest.raises(JobError, match=words):
        choices_of(parse_job(job(20, 1012).replace(was, instead, 1)))


def test_rows_that_are_one_start_are_told_once(tmp_path: Path) -> None:
    # The end wall has the heights of the long one's rows, two from one floor and two from the other: those that follow
    # each other and are as high are one row there.
    file = tmp_path / "job.yaml"
    file.write_text(job(20, 1012), encoding="utf-8")
    one, other = chosen(job(20, 1012))
    result = CliRunner().invoke(app, ["setout", str(file), "--surface", "end wall"])
    assert result.exit_code == 0, result.output
    rows = [
        line for line in result.stdout.splitlines() if "left on" in line or "joint on" in line or "middle on" in line
    ]
    runs = [list(run) for _, run in groupby(other.offers, key=lambda offer: (offer.starts[0].x, offer.starts[0].y))]
    assert len(rows) == len(runs) < len(one.offers) == len(other.offers)
    assert "end wall bottom" in CliRunner().invoke(app, ["setout", str(file), "--surface", "long wall"]).stdout
