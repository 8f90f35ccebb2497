"""What comes through is a box or round as it was said and read, and where nothing says it, that is asked or printed.

The figures are by hand. Tiles of 346 with joints of 3, a joint on V: the first tile right of V lies from 1.5 to 347.5,
the second from 350.5. A box is cut 2 larger all round (the usual play of a box).
"""

from __future__ import annotations

import pytest

from cutmarks.errors import JobError
from cutmarks.geometry.shapes import Circle, Rect
from cutmarks.job import parse_job
from cutmarks.openings.model import Cover, Cut
from cutmarks.plan import Plan, make_plan

JOB = """\
job: Fell House, larder
{head}tiles:
  pale: {{size: {size}, measured: yes}}
surfaces:
  - name: wall
    kind: wall
    lines: {{V: "plumb, middle", B: "level, batten"}}
    areas:
      - {{name: a, tile: pale, joint: {joint}, start: {{across: joint on V, up: sits on B}}}}
    holes:
      - {{name: thing, {hole}, end: comes off}}
"""
ASKED = "read both its sides {} too, or write its size, as in size: 135 x 72; of one that is square, write square"


def plan_of(hole: str, head: str = "", size: str = "346 x 346", joint: str = "3") -> Plan:
    return make_plan(parse_job(JOB.format(hole=hole, head=head, size=size, joint=joint)))


def only_cut(plan: Plan) -> Cut:
    (cut,) = [cut for piece in plan.pieces for cut in piece.cuts]
    return cut


def box_sizes(plan: Plan) -> tuple[float, float]:
    shape = only_cut(plan).opening.shape
    assert isinstance(shape, Rect)
    return shape.w, shape.h


def refused(hole: str, head: str = "", size: str = "346 x 346", joint: str = "3") -> str:
    with pytest.raises(JobError) as caught:
        plan_of(hole, head, size, joint)
    (fault,) = caught.value.faults
    assert fault.line is not None
    return fault.sentence


@pytest.mark.parametrize("what", ["socket box", "back box", "1 gang box", "shaver outlet"])
def test_a_box_read_across_alone_is_a_single_one_and_square_and_says_so(what: str) -> None:
    """72 lies between the 70 and 73 of a single metal box; its middle 516 is 165.5 from the tile's edge at 350.5."""
    plan = plan_of(f"what: {what}, across: 480 to 552 right of V, up: centre 520 above B, cover: 86 x 86")
    cut = only_cut(plan)
    assert cut.opening.shape == Rect(76.0, 76.0)
    assert (cut.from_edges.left, cut.from_edges.bottom) == pytest.approx((165.5, 171.0))
    assert [(check.near, check.far) for check in cut.wall_checks if check.side == "left"] == [
        pytest.approx((480 - 347.5, 552 - 347.5))
    ]
    assert (
        "wall, box thing: taken as square, 72 both ways, as it was read across alone; read both its sides the other "
        "way too." in plan.assumed
    )


def test_a_box_that_is_said_to_be_square_needs_no_list_of_sizes() -> None:
    shape = only_cut(plan_of("what: square box, across: centre 516 right of V, up: 480 to 580 above B")).opening.shape
    assert shape == Rect(104.0, 104.0)


@pytest.mark.parametrize(
    ("hole", "way"),
    [
        ("what: socket box, across: 480 to 612 right of V, up: centre 520 above B", "up"),  # as wide as a double one
        ("what: socket box, across: centre 516 right of V, up: 480 to 550 above B", "across"),  # a double is as high
        ("what: 2 gang box, across: 480 to 612 right of V, up: centre 520 above B", "up"),
        ("what: socket box, across: 480 to 550 right of V, up: centre 520 above B, cover: 147 x 86", "up"),
    ],
)
def test_a_box_read_one_way_that_may_be_oblong_is_asked(hole: str, way: str) -> None:
    assert ASKED.format(way) in refused(hole)


def test_a_box_by_its_middle_takes_the_size_of_the_jobs_own_country_and_says_so() -> None:
    """NEMA OS 1 has about 2 x 3 in; with 2 mm of play all round 54.8 x 80.2."""
    hole = "what: 1 gang box, across: centre 20 right of V, up: centre 20 above B"
    plan = plan_of(hole, "units: in\n", "13 x 13", "1/8")
    assert box_sizes(plan) == pytest.approx((54.8, 80.2))
    (sentence,) = [one for one in plan.assumed if "catalogue" in one]
    assert sentence.startswith("wall, box thing: what was not read of its size is the catalogue's, 2 x 3 (NEMA OS 1")


def test_what_was_read_goes_before_the_catalogue() -> None:
    """Read 2-1/4 in across: 57.15; the catalogue's 3 in up stays."""
    hole = "what: 1 gang box, across: 18 to 20 1/4 right of V, up: centre 20 above B"
    assert box_sizes(plan_of(hole, "units: in\n", "13 x 13", "1/8")) == pytest.approx((57.15 + 4, 80.2))


def test_a_name_of_several_sizes_by_its_middle_is_asked() -> None:
    assert (
        '"1 gang box" is more than one size: smallest (70 x 70), largest (73 x 73). Read both its sides, or write '
        "size: with what you measured."
    ) in refused("what: 1 gang box, across: centre 516 right of V, up: centre 520 above B")


@pytest.mark.parametrize("what", ["round box", "waste outlet", "plated tail", "round socket"])
def test_round_things_stay_round(what: str) -> None:
    shape = only_cut(plan_of(f"what: {what}, across: 480 to 520 right of V, up: 500 to 540 above B")).opening.shape
    assert isinstance(shape, Circle)


def test_what_no_word_tells_the_shape_of_is_said_to_be_taken_as_round() -> None:
    plan = plan_of("what: lamp feeder, across: 480 to 520 right of V, up: 500 to 540 above B")
    assert (
        "wall, hole thing: what it is does not say its shape, and it is taken as round; write what: pipe, or of a box "
        "its size, as in size: 70 x 70." in plan.assumed
    )
    known = plan_of("what: mixer tail, across: 480 to 520 right of V, up: 500 to 540 above B")
    assert not [one for one in known.assumed if "taken as round" in one]


BY_MIDDLE = "across: centre 520 right of V, up: centre 530 above B, opening: 105"


@pytest.mark.parametrize(
    ("hole", "cover"),
    [
        (f"what: valve body, {BY_MIDDLE}, cover: 150", Cover(150.0, 150.0, True)),
        (f"what: valve body, {BY_MIDDLE} x 105, cover: 150", Cover(150.0, 150.0, True)),
        ("what: 15 copper, across: 67 to 83 right of V, up: 100 to 116 above B, cover: 65", Cover(65.0, 65.0, True)),
        (f"what: socket box, {BY_MIDDLE}, cover: 150", Cover(150.0, 150.0, False)),
    ],
)
def test_one_figure_of_cover_is_a_diameter_over_what_is_round(hole: str, cover: Cover) -> None:
    assert only_cut(plan_of(hole)).opening.cover == cover


def test_a_thing_of_unknown_size_is_read_to_its_middle_never_to_the_sides_of_its_hole() -> None:
    """The tile on the left ends at 347.5, the course below at 346: 520 - 347.5 = 172.5, 530 - 346 = 184."""
    checks = only_cut(plan_of(f"what: 40 waste, {BY_MIDDLE}, cover: none")).wall_checks
    read = {str(check.side): (check.near, check.far) for check in checks}
    assert read["left"] == pytest.approx((172.5, 172.5))
    assert read["bottom"] == pytest.approx((184.0, 184.0))


def found(reading: str) -> str:
    hole = f"what: 40 waste, {BY_MIDDLE}, cover: none"
    return JOB.format(hole=hole, head="", size="346 x 346", joint="3") + (
        f"found:\n  - {{piece: a 2-R2, hole: thing, left: {reading}}}\n"
    )


@pytest.mark.parametrize("reading", ["155 to 195", "centre 175"])
def test_what_is_found_of_a_thing_of_unknown_size_is_its_middle(reading: str) -> None:
    """Its middle was expected at 172.5 and is at 175: the hole moves 2.5 right, from 169.5 to 172."""
    plan = make_plan(parse_job(found(reading)))
    assert only_cut(plan).from_edges.left == pytest.approx(172.0)


def test_one_side_of_a_thing_of_unknown_size_moves_nothing() -> None:
    with pytest.raises(JobError) as caught:
        make_plan(parse_job(found("near side 155")))
    (fault,) = caught.value.faults
    assert fault.sentence == (
        '"near side 155" is to one side of thing, whose size is not known: read to both its sides, or to its middle, '
        "as in centre 120."
    )
