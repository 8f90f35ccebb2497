"""One tile on the page: what is said of it, and its template."""

from __future__ import annotations

import base64
import json

import pytest

from cutmarks.desk.calls import call
from cutmarks.desk.making import made
from tests.cli.conftest import run

__all__ = ["run"]

SAID = {
    "tile": "248x398",
    "joint": "2",
    "what": "15 copper",
    "cover": "65",
    "across": "69 to 84",
    "up": "107 to 122",
}


def one(**more: str) -> dict:
    return json.loads(json.dumps(call("one", {"said": {**SAID, **more}})))


def test_it_says_what_is_marked_and_what_is_cut():
    # 69 to 84 from the left tile is 76.5, less the joint of 2: 74.5. 107 to 122 is 114.5, less 2: 112.5. 248 - 74.5 is
    # 173.5, 398 - 112.5 is 285.5.
    (row,) = one()["holes"]
    assert row["marks"] == "74½ from the left, 112½ from the bottom"
    assert row["check"] == "173½ from the right, 285½ from the top"
    assert row["cut"] == "core 35, you may be 10 any way"


def test_it_is_read_from_any_neighbour():
    # From the right tile 76.5 less the joint is 74.5 from the right; from the course above 114.5 less 2 from the top.
    (row,) = one(**{"across from": "from_right_tile", "up from": "from_course_above"})["holes"]
    assert {*row["marks"].split(", ")} == {"74½ from the right", "112½ from the top"}


def test_it_says_what_the_command_says(run):
    options = {"what": "socket box", "cover": "86 x 86", "across": "60 to 132", "up": "90 to 162", "cores": "28; 35"}
    (row,) = one(**options)["holes"]
    result = run(
        *("one", "--tile", "248x398", "--joint", "2", "--what", "socket box", "--cover", "86 x 86"),
        *("--from-left-tile", "60 to 132", "--from-course-below", "90 to 162", "--core", "28", "--core", "35"),
    )
    said = result.stdout.replace("LEFT", "left").replace("BOTTOM", "bottom")
    for mark in row["marks"].replace("½", ".5").split(", "):
        figure, _, side = mark.partition(" from the ")
        assert f"from the {side} edge {figure}" in said


@pytest.mark.parametrize(
    ("said", "says"),
    [
        ({"tile": ""}, "tile: measure it as it will lie, across first, as in 248 x 398."),
        ({"across": ""}, "across: read both its sides from the tile beside it, as in 69 to 84."),
        ({"up": "?"}, "up: "),
        ({"joint": "thin"}, 'joint: "thin" is no length'),
        ({"cores": "28; big"}, 'cores: "big" is no length'),
        ({"what": "1/2"}, "1/2"),
    ],
)
def test_what_cannot_be_is_said_in_a_sentence(said, says):
    assert says in one(**said)["fault"]


def test_all_that_is_missing_is_said_at_once():
    fault = one(tile="", joint="", what="", across="", up="")["fault"]
    assert [name in fault for name in ("tile: ", "joint: ", "what: ", "across: ", "up: ")] == [True] * 5


def test_readings_that_miss_the_tile_are_said_to():
    # 300 to 315 from the left tile lies beyond a tile of 248 and its joints.
    seen = one(across="300 to 315")
    assert "between those neighbours" in seen["none"] or seen["holes"][0]["piece"] != "tile U1-R1"


def test_its_template_is_a_page():
    answer = made("one_pdf", {"said": SAID}, lambda *_: None)
    assert base64.b64decode(answer["pdf"]).startswith(b"%PDF-")
    assert answer["name"] == "one-tile.pdf"
