"""A tile said in one line with how thick it is and what it is made of, and mixed fractions with a dash everywhere.

Every figure is worked by hand: an inch is 25.4 mm, so 2-3/4 is 69.85, 4-1/2 is 114.3, 3/8 is 9.525.
"""

from __future__ import annotations

import pytest

from cutmarks.errors import JobError
from cutmarks.job import build_job


def job(tile="300 mm x 600 mm", units="mm", joint="3 mm", **surface):
    areas = [{"name": "field", "tile": "pale", "joint": joint}]
    lines = {"V": "plumb", "B": "level"}
    return build_job(
        {
            "job": "Quay Cottage",
            "units": units,
            "tiles": {"pale": tile},
            "surfaces": [{"name": "here", "kind": "wall", "lines": lines, "areas": areas, **surface}],
        }
    )


def tile_of(said, units="mm"):
    return job(said, units).tiles["pale"]


@pytest.mark.parametrize(
    ("said", "units", "sides", "thickness", "material", "note"),
    [
        ("600 x 300 x 9 porcelain, laid landscape", "mm", (600.0, 300.0), 9.0, "porcelain", ""),
        ("12 x 12 x 3/8 marble", "in", (304.8, 304.8), 9.525, "marble", ""),
        ("200x100 metro, 7 thick, ceramic", "mm", (200.0, 100.0), 7.0, "ceramic", "metro"),
        ("gloss ceramic 75 x 300, 8.5 thick", "mm", (75.0, 300.0), 8.5, "gloss ceramic", ""),
        ('12 x 24 porcelain 3/8"', "in", (304.8, 609.6), 9.525, "porcelain", ""),
        ("600 sq porc 10mm rectified", "mm", (600.0, 600.0), 10.0, "porcelain rectified", ""),
        ("2-3/4 x 5-1/2, 3/8 thick", "in", (69.85, 139.7), 9.525, "", ""),
        ("metric 200 x 100 x 8 ceramic", "in", (200.0, 100.0), 8.0, "ceramic", ""),
        ("25 by 40 cm ceramic, 8 mil thick", "mm", (250.0, 400.0), 8.0, "ceramic", ""),
        ("300 x 600 porcelain, 9mm, 2 joint", "mm", (300.0, 600.0), 9.0, "porcelain", ""),
    ],
)
def test_a_tile_says_how_thick_it_is_and_what_it_is_made_of(said, units, sides, thickness, material, note):
    tile = tile_of(said, units)
    assert (tile.size.first, tile.size.second) == pytest.approx(sides)
    assert tile.thickness == pytest.approx(thickness)
    assert (tile.material, tile.note) == (material, note)


@pytest.mark.parametrize(
    ("said", "words"),
    [
        ("600 x 9 x 300 porcelain", "three sizes"),
        ("600 x 300 x 9 landscape", "three sizes"),
        ("300 x 300 x 3/8 in marble", "three sizes"),
        ("600 x 300 porcelain 3mm", "3mm thick, or 3mm joint"),
        ("150 x 150 quarry 10mm", "10mm thick, or 10mm joint"),
        ("600 x 300, 3 joint, 9", "9 thick, or 9 joint"),
    ],
)
def test_what_can_be_a_thickness_or_something_else_is_asked(said, words):
    with pytest.raises(JobError) as told:
        job(said)
    assert any(words in fault.sentence for fault in told.value.faults)


@pytest.mark.parametrize("cover", ["2-3/4 x 4-1/2", "plate 2-3/4 x 4-1/2", "plate 2\u20133/4 x 4\u20131/2"])
def test_a_dash_in_a_mixed_fraction_is_no_course_and_number(cover):
    hole = {"name": "switch", "across": "3-1/8 to 5-3/8 right of V", "up": "40 to 43-3/4 above B", "cover": cover}
    (read,) = job(units="in", holes=[hole]).surfaces[0].holes
    assert (read.cover.first, read.cover.second) == pytest.approx((69.85, 114.3))
    assert (read.across.low, read.across.high) == pytest.approx((79.375, 136.525))


@pytest.mark.parametrize(
    ("across", "up"), [("3 to 4½ right of V", "200 to 250 above B"), ("200 to 250 right of V", "9½ to 11 above B")]
)
def test_what_is_thinner_than_any_pipe_is_asked_in_what_unit_it_is(across, up):
    with pytest.raises(JobError) as told:
        job(holes=[{"name": "waste", "across": across, "up": up}])
    assert ["mm, inches or cm" in fault.sentence for fault in told.value.faults] == [True]
    # 3 to 4 1/2 inches are 76.2 and 114.3 mm; said with its unit it is taken.
    inches = {"name": "waste", "across": "3 to 4½ in right of V", "up": "9½ to 11 in above B"}
    (read,) = job(holes=[inches]).surfaces[0].holes
    assert (read.across.low, read.across.high) == pytest.approx((76.2, 114.3))


@pytest.mark.parametrize(
    ("said", "units", "mm"),
    [
        ("3mm grout joint", "mm", 3.0),
        ("2 mm joints", "mm", 2.0),
        ("3 mil spacers all round", "mm", 3.0),
        ("1.5 joint, rectified", "mm", 1.5),
        ("1/8 in joint", "in", 3.175),
        ("3/16 grout line", "in", 4.7625),
        ("an eighth of an inch", "mm", 3.175),
        ("quarter inch joints", "in", 6.35),
    ],
)
def test_a_joint_under_its_key_may_have_its_word(said, units, mm):
    assert job(units=units, joint=said).surfaces[0].areas[0].joint == pytest.approx(mm)


@pytest.mark.parametrize("said", ["3 joint, 2 joint", "two and a quarter inch joint", "3 bed"])
def test_what_says_more_than_a_joint_is_refused(said):
    with pytest.raises(JobError):
        job(joint=said)
