"""Boxes, tiles in hand, bags and discs as they are said: what is taken, and the sentence where it is not."""

from __future__ import annotations

import pytest

from cutmarks import make_plan, parse_job
from cutmarks.errors import JobError
from cutmarks.job.packs import parse_bag, parse_box, parse_in_hand
from cutmarks.job.tools import parse_disc
from cutmarks.job.words import Setting
from cutmarks.readings import BagOf, BoxOfTiles, Disc, InHand
from cutmarks.units import Unit

MM, INCH = Setting(unit=Unit.MM), Setting(unit=Unit.INCH)


@pytest.mark.parametrize(
    ("text", "box"),
    [
        ("8", BoxOfTiles(count=8)),
        ("8 tiles", BoxOfTiles(count=8)),
        ("40 in a box", BoxOfTiles(count=40)),
        ("40 a box", BoxOfTiles(count=40)),
        ("40 tiles per box", BoxOfTiles(count=40)),
        ("1.44 m2 to the box", BoxOfTiles(area=1.44e6)),
        ("1.44 m2", BoxOfTiles(area=1.44e6)),
        ("1.44 m²", BoxOfTiles(area=1.44e6)),
        ("1.44 sqm", BoxOfTiles(area=1.44e6)),
        ("10 sq ft", BoxOfTiles(area=10 * 304.8**2)),
        ("10 square feet", BoxOfTiles(area=10 * 304.8**2)),
    ],
)
def test_a_box_by_its_tiles_or_its_area(text: str, box: BoxOfTiles) -> None:
    assert parse_box(text, MM) == box


@pytest.mark.parametrize("text", ["0", "a few", "8 m", "-8", "1.44", "in a box", "a box of 8"])
def test_what_no_box_holds(text: str) -> None:
    with pytest.raises(ValueError, match=r"is not what a box holds: write how many tiles, as in 8, or its area"):
        parse_box(text, MM)


@pytest.mark.parametrize(
    ("text", "held"),
    [("25 tiles", InHand(25)), ("25", InHand(25)), ("1 tile", InHand(1)), ("3 boxes", InHand(3, in_boxes=True))],
)
def test_tiles_in_hand(text: str, held: InHand) -> None:
    assert parse_in_hand(text, MM) == held


def test_what_is_no_number_of_tiles() -> None:
    with pytest.raises(ValueError, match=r"is no number of tiles: write as in 25 tiles, or 3 boxes\."):
        parse_in_hand("some", MM)


@pytest.mark.parametrize(
    ("text", "bag"),
    [
        ("20 kg makes 14 litres", BagOf(14, "20 kg bag")),
        ("20kg, yields 14 l", BagOf(14, "20kg bag")),
        ("14 litres", BagOf(14)),
        ("14 liters", BagOf(14)),
        ("50 lb makes 20 liters", BagOf(20, "50 lb bag")),
    ],
)
def test_a_bag_by_what_it_makes(text: str, bag: BagOf) -> None:
    assert parse_bag(text, MM) == bag


@pytest.mark.parametrize("text", ["28 kg at 1.4 kg a litre", "28 kg at 1.4 kg per m2 per mm", "28 kg at 1.4 kg/m2/mm"])
def test_a_bag_by_its_weight_a_litre(text: str) -> None:
    # 28 / 1.4 = 20 litres; a square metre one millimetre thick is a litre.
    bag = parse_bag(text, MM)
    assert bag is not None
    assert (bag.litres, bag.words) == (pytest.approx(20), "28 kg bag")


def test_pounds_are_weighed_too() -> None:
    # 50 lb are 22.68 kg.
    bag = parse_bag("50 lb at 1.5 kg a litre", INCH)
    assert bag is not None
    assert bag.litres == pytest.approx(22.6796 / 1.5, rel=1e-4)


@pytest.mark.parametrize("text", ["20 kg", "a bag", "20 kg makes 14", "0 litres", "20 kg at 0 kg a litre"])
def test_what_says_not_what_a_bag_makes(text: str) -> None:
    with pytest.raises(ValueError, match=r"is not what a bag makes: write its maker's figure"):
        parse_bag(text, MM)


@pytest.mark.parametrize(
    ("text", "disc"), [("230", Disc(230)), ("230 x 1.6", Disc(230, 1.6)), ("115 by 1.2", Disc(115, 1.2))]
)
def test_a_disc_with_what_it_takes(text: str, disc: Disc) -> None:
    assert parse_disc(text, MM) == disc


@pytest.mark.parametrize("text", ["20", "230 x 12", "230 x 0.1", "large"])
def test_what_is_no_disc(text: str) -> None:
    with pytest.raises(ValueError, match=r"."):
        parse_disc(text, MM)


def faults(keys: str, size: str = "298 x 598") -> list[str]:
    text = f"""\
job: told
tiles: {{field: {{size: {size}, measured: yes, {keys}}}}}
surfaces:
  - {{name: wall, kind: wall, lines: {{V: "plumb, middle", B: "level, batten"}}}}
"""
    try:
        make_plan(parse_job(text))
    except JobError as error:
        return [fault.sentence for fault in error.faults]
    return []


def test_an_area_on_a_box_is_a_whole_number_of_tiles() -> None:
    # 0.298 x 0.598 = 0.1782 m2: 1.44, eight of 0.3 x 0.6 as they are called, are 8.08; 1.5 are 8.42.
    assert faults("box: 1.44 m2") == []
    assert faults("box: 1.5 m2") == [
        "box: by its area it holds 8.4 tiles of this size: write how many tiles are in it, as in box: 8."
    ]


def test_an_area_with_the_joints_in_it_is_asked_about() -> None:
    # Bautechnik fuer Fliesen-, Platten- und Mosaikleger, 7.4.1, has a box of 1.07 m2 with 9 tiles of 33.5 x 33.5 cm:
    # those are 1.01 m2, and 1.07 would be 9.5 of them.
    text = faults("box: 1.07 m2", "335 x 335")
    assert text == ["box: by its area it holds 9.5 tiles of this size: write how many tiles are in it, as in box: 9."]


def test_boxes_in_hand_need_what_a_box_holds() -> None:
    assert faults("box: 8, have: 3 boxes") == []
    assert faults("have: 3 boxes") == [
        "have: is in boxes, and how many a box holds is not said: write box: 8, or have: 25 tiles."
    ]


def test_what_is_not_known_yet_is_taken() -> None:
    assert faults("box: ?, have: ?, pattern: ?") == []
