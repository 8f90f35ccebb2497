"""One value of a job's text changed, added or taken out: all else stays as it was typed, remarks too."""

from __future__ import annotations

import difflib
from pathlib import Path

import pytest

from cutmarks.errors import JobError
from cutmarks.job.editing import renamed, with_item, with_value, without

ROOT = Path(__file__).parents[2]
WALL = """\
# Reed House
job: Reed House   # invented
tiles:
  rib: {size: 248 x 398, joint: 2}   # ribbed
surfaces:
  - name: tap wall
    kind: wall
    lines: {V: plumb, B: level}
    edges:   # as measured
    holes:
      - name: hot
        across: 67 to 83 left of V   # both sides
        cover:
      - cold, 15 copper, 68 to 83 right of V, 240 above B   # all of it
"""
HOLES = ("surfaces", 0, "holes")


def changes(before: str, after: str) -> list[str]:
    """The lines that went and came."""
    return [line for line in difflib.ndiff(before.splitlines(), after.splitlines()) if line[0] in "+-"]


def test_a_value_is_changed_and_its_remark_stays() -> None:
    assert changes(WALL, with_value(WALL, (*HOLES, 0, "across"), "70 to 85 left of V")) == [
        "-         across: 67 to 83 left of V   # both sides",
        "+         across: 70 to 85 left of V   # both sides",
    ]


@pytest.mark.parametrize(
    ("path", "value", "line"),
    [
        ((*HOLES, 0, "cover"), "65", "+         cover: 65"),
        ((*HOLES, 0, "depth"), "12", "+         depth: 12"),
        ((*HOLES, 0, "note"), "tap: hot #2", '+         note: "tap: hot #2"'),
        ((*HOLES, 0, "note"), "?", '+         note: "?"'),
        (("tiles", "rib", "lay"), "long side up", "+   rib: {size: 248 x 398, joint: 2, lay: long side up}   # ribbed"),
        (("tiles", "rib", "note"), "a, b", '+   rib: {size: 248 x 398, joint: 2, note: "a, b"}   # ribbed'),
        (("surfaces", 0, "edges", "left", "at"), "900 left of V", "+       left: {at: 900 left of V}"),
        (
            ("surfaces", 0, "edges", "left", "at"),
            ["900 left of V at B", "903 left of V at 2000 above B"],
            "+         at: [900 left of V at B, 903 left of V at 2000 above B]",
        ),
        (("surfaces", 0, "lines", "V"), "plumb, middle", '+     lines: {V: "plumb, middle", B: level}'),
        (("units",), "mm", "+ units: mm"),
    ],
)
def test_what_is_missing_is_written_where_it_belongs(path, value, line) -> None:
    assert line in changes(WALL, with_value(WALL, path, value))


def test_what_is_said_in_one_line_becomes_keys_and_stays_as_it_was_said() -> None:
    after = with_value(WALL, (*HOLES, 1, "depth"), "12", short="said")
    assert '- {said: "cold, 15 copper, 68 to 83 right of V, 240 above B", depth: 12}   # all of it' in after


def test_a_thing_more_stands_behind_the_last_one() -> None:
    after = with_item(WALL, HOLES, {"name": "waste", "what": "", "across": ""})
    assert after == WALL + "      - name: waste\n        what:\n        across:\n"
    assert with_item(after, HOLES, "flow, 15 copper").endswith("across:\n      - flow, 15 copper\n")
    first = with_item(WALL, ("surfaces", 0, "areas"), {"name": "field", "tile": "rib"})
    assert first == WALL + "    areas:\n      - name: field\n        tile: rib\n"


def test_a_thing_is_taken_out_and_no_other() -> None:
    one = without(WALL, (*HOLES, 0))
    assert "hot" not in one
    assert one.endswith("    holes:\n      - cold, 15 copper, 68 to 83 right of V, 240 above B   # all of it\n")
    assert without(one, (*HOLES, 0)).endswith("    holes:\n")
    assert "rib" not in without(WALL, ("tiles", "rib"))
    assert "lines: {B: level}" in without(WALL, ("surfaces", 0, "lines", "V"))
    assert "lines: {V: plumb}" in without(WALL, ("surfaces", 0, "lines", "B"))


def test_another_name_before_the_colon() -> None:
    assert "  small rib: {size" in renamed(WALL, ("tiles", "rib"), "small rib")
    with pytest.raises(JobError, match="There is a B already"):
        renamed(WALL, ("surfaces", 0, "lines", "V"), "B")


def test_line_ends_stay_those_of_the_file() -> None:
    after = with_item(WALL.replace("\n", "\r\n"), HOLES, {"name": "waste", "what": ""})
    assert after.count("\r\n") == after.count("\n") == WALL.count("\n") + 2


@pytest.mark.parametrize(
    ("text", "path"),
    [
        ("job: [a, b\n", ("job",)),  # cannot be read
        ("job: Reed House\n", ("job", 3)),
        ("job: Reed House\nsurfaces: none\n", ("surfaces", 0, "name")),
        ("job: Reed House\n", ("surfaces", 4, "name")),
    ],
)
def test_what_would_touch_something_else_is_refused(text, path) -> None:
    with pytest.raises(JobError, match="change it in the text"):
        with_value(text, path, "x")


def test_a_note_of_several_lines_is_replaced_as_a_whole_or_refused() -> None:
    text = "job: a\nnote: mind\n  the cable\nunits: mm\n"
    assert with_value(text, ("note",), "none") == "job: a\nnote: none\nunits: mm\n"


@pytest.mark.parametrize("file", sorted((ROOT / "templates").glob("*.yaml")), ids=lambda one: one.stem)
def test_what_is_added_and_taken_out_again_leaves_the_starter_as_it_was(file) -> None:
    before = file.read_text(encoding="utf-8")
    number = before.count("\n      - ") and len(_holes(before))
    after = with_item(before, HOLES, {"name": "one more", "what": ""})
    assert after != before
    assert without(after, (*HOLES, number)) == before


def _holes(text: str) -> list[object]:
    from cutmarks.job.reading import read_tree

    tree = read_tree(text, "")[0]
    surfaces = tree["surfaces"]
    assert isinstance(surfaces, list)
    return surfaces[0]["holes"]
