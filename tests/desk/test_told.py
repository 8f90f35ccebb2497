"""What the page tells of a job beside its drawing: what is not known yet, the way out of a STOP, and pages to read."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from cutmarks.desk.calls import NO_WAY_OUT, call
from cutmarks.desk.told import TOLD
from tests.cli.conftest import run
from tests.desk.test_calls import LAUNDRY, asked

__all__ = ["run"]

# Tiles of 200 x 200 with joints of 2, 6 to a course: 6 x 200 + 5 x 2 = 1210 from a joint on V, with the gaps of 3 left.
# The pipe is 15 wide, 15 to 30 right of V: from a tile that begins at 1 its middle lies 21.5 in, and no core of 15 or
# more leaves the 15 that a wall tile wants at the least.
WALL = """\
job: Reed House
units: mm
tiles: {rib: {size: 200 x 200, measured: yes}}
surfaces:
  - name: tap wall
    kind: wall
    lines: {V: "plumb, middle", B: level}
    edges:
      left: {at: 604 left of V, true: plumb}
      right: {at: 604 right of V, true: plumb}
      bottom: {at: on B, true: level, gap: 0}
      top: {at: 809 above B, true: level}
    holes:
      - {name: feed, what: 15 copper, across: 15 to 30 right of V, up: 292 to 307 above B, cover: COVER, end: comes off}
    areas:
      - {name: field, tile: rib, joint: 2, bond: stack, start: {across: joint on V, up: sits on B}}
"""
STARTED = WALL.replace("COVER", "65")
HOLE = "- {name: feed, what: 15 copper, across: 15 to 30 right of V, up: 292 to 307 above B, cover: 65, end: comes off}"
ONE_LINE = "- feed, 15 copper, 15 to 30 right of V, 292 to 307 above B, cover 65, comes off"
BARE = STARTED.replace(", start: {across: joint on V, up: sits on B}", "")
NO_TILES = BARE.partition("    areas:")[0]


def stop_of(text: str, rule: str) -> dict:
    return next(one for one in asked("look", text)["findings"] if one["level"] == "STOP" and one["rule"] == rule)


def test_before_there_is_a_start_nothing_is_said_to_pass():
    seen = asked("look", BARE)
    assert [one["verdict"] for one in seen["clearances"]] == ["not known before there is a start"]
    (words,) = seen["unlooked"]
    assert words.startswith("tap wall has no start yet for field: which tile each thing lands on is not known")
    assert not seen["able"]


def test_without_tiles_it_is_said_how_far_a_pass_goes():
    seen = asked("look", NO_TILES)
    assert [one["verdict"] for one in seen["clearances"]] == ["PASS by itself: no tile was looked at"]
    (words,) = seen["unlooked"]
    assert words.startswith("tap wall has no tiles yet: valves and boxes are looked at by themselves.")


def test_with_a_start_all_is_looked_at():
    assert asked("look", STARTED)["unlooked"] == []


def test_a_stop_says_which_start_frees_it_and_that_start_does():
    stop = stop_of(STARTED, "thin bridge")
    assert (stop["about"][-1], stop["laid"]) == ("feed", True)
    offers = asked("frees", STARTED, rule=stop["rule"], about=stop["about"])
    assert offers["offers"]
    assert offers["none"] == ""
    for one in offers["offers"]:
        text = asked("take", STARTED, surface=one["surface"], number=one["number"])["text"]
        stops = [each for each in asked("look", text)["findings"] if each["level"] == "STOP"]
        assert not [each for each in stops if "feed" in each["about"]]
        assert f"Start {one['number']} (" in one["words"]
        assert ("no other STOP" in one["words"]) == (not stops)


def test_what_no_start_frees_is_said_to_be_so():
    # A cover of 17 hides no hole round a pipe of 15 that has room and a lap of the cover, wherever the tile lies.
    text = STARTED.replace("15 to 30", "92 to 107").replace("cover: 65", "cover: 17")
    stop = next(one for one in asked("look", text)["findings"] if one["level"] == "STOP")
    assert asked("frees", text, rule=stop["rule"], about=stop["about"]) == {"offers": [], "none": NO_WAY_OUT}


def test_each_hole_has_all_its_figures():
    # Joint on V: the tile begins 1 right of V. 92 to 107 is 99.5 from V, 98.5 from its left, 101.5 from its right.
    # Upward 292 to 307 is 299.5; the second course begins at 202: 97.5 from its bottom, 102.5 from its top.
    (row,) = asked("look", STARTED.replace("15 to 30", "92 to 107"))["holes"]
    figures = {row["piece"], *row["marks"].split(", "), *row["check"].split(", ")}
    assert figures == {
        *("field 2-4", "98½ from the left", "101½ from the right", "97½ from the bottom", "102½ from the top"),
    }
    # From V 92 and 107; from the course below, whose top is at 200, 92 and 107 too.
    assert row["read"] == "92 and 107 from V; 92 and 107 from the course below"


def test_what_was_cut_is_listed_tile_by_tile_those_with_holes_first():
    pieces = asked("look")["pieces"]
    assert {"piece": "splash 3-4", "holes": ["hot"]} in pieces
    holed = [bool(one["holes"]) for one in pieces]
    assert holed == sorted(holed, reverse=True)
    assert len({one["piece"] for one in pieces}) == len(pieces)


def words_of(what: str, text: str | None = None) -> str:
    return " ".join(
        line for part in asked("told", text, what=what)["parts"] for line in [part["heading"], *part["lines"]]
    )


@pytest.mark.parametrize("what", TOLD)
def test_each_page_is_told_and_goes_through_a_pipe(what):
    parts = json.loads(json.dumps(asked("told", what=what)))["parts"]
    assert parts
    assert all(part["heading"] and part["lines"] for part in parts)


@pytest.mark.parametrize(("what", "command"), [("order", ["order"]), ("buy", ["buy"]), ("limits", ["check", "--why"])])
def test_the_page_tells_what_the_command_tells(run, what, command):
    said = "".join(run(command[0], LAUNDRY, *command[1:]).stdout.split()).casefold()
    for part in asked("told", what=what)["parts"]:
        for line in part["lines"] if what != "limits" else [one.partition(":")[0] for one in part["lines"]]:
            words = "".join(line.replace("½", ".5").replace(' "Where to start"', " cutmarks setout").split()).casefold()
            assert words.removeprefix(".5") in said, line


def test_what_to_buy_is_counted():
    # 604 - 3 each way from a joint on V: 600 after half the joint, which is 200 + 2 + 200 + 2 + 196: 2 whole and a cut
    # one on each side, 4 courses of 202 in 806.
    assert "rib: 16 whole + 8 cut" in words_of("buy", STARTED)


def test_what_lies_at_the_edges_is_told():
    assert "tap wall, field: left 196, right 196" in words_of("edges", STARTED)


@pytest.mark.parametrize("what", ["order", "buy", "edges"])
def test_of_what_there_is_not_yet_nothing_is_told(what):
    assert asked("told", BARE, what=what)["fault"] == (
        "There is nothing to tell before a surface has its tiles and its start."
    )


def saved(tmp_path: Path) -> Path:
    path = tmp_path / "laundry.yaml"
    path.write_bytes(LAUNDRY.read_bytes())
    return path


def test_what_was_read_is_said_by_hand_and_taken_back(tmp_path):
    job = saved(tmp_path)
    entry = {"piece": "splash 3-4", "hole": "hot", "right": "70 to 86", "date": "2026-03-14"}
    shown = call("found", {"text": "", "file": str(job), "entry": entry})
    # 68½ and 84½ were expected from the right, 70 and 86 were found: 1½ further left.
    assert "corrected 1½ left; now expect 70 and 86 from the right" in shown["moves"][0]
    assert not (tmp_path / "laundry.found.yaml").exists()
    (tmp_path / "laundry.found.yaml").write_text(shown["after"])
    back = call("taken_back", {"text": "", "file": str(job), "piece": "splash 3-4", "hole": ""})
    assert back["said"].startswith("Taken back from laundry.found.yaml: piece: splash 3-4, hole: hot")
    assert back["moves"] == ["Nothing is kept of splash 3-4 any more: it is as planned."]
    assert "70" not in back["after"]


def test_a_reading_too_far_off_says_where_on_the_page_it_is_lived_with(tmp_path):
    job = saved(tmp_path)
    # 68½ was expected: 31½ off, where tiles creep by a few.
    entry = {"piece": "splash 3-4", "hole": "hot", "right": "100 to 116", "date": "2026-03-14"}
    shown = call("found", {"text": "", "file": str(job), "entry": entry})
    (words,) = [one["text"] for one in shown["findings"] if "was found" in one["text"]]
    assert words.endswith('If it is so, keep it, then say why under "Before you cut".')
    (tmp_path / "laundry.found.yaml").write_text(shown["after"])
    kept = call("look", {"text": job.read_text("utf-8"), "file": str(job)})["findings"]
    (words,) = [one["text"] for one in kept if "was found 31½ off" in one["text"]]
    assert words.endswith("If it is so, say why by the button here.")
    assert "job file" not in words


def test_a_reading_that_names_nothing_is_not_kept(tmp_path):
    job = saved(tmp_path)
    entry = {"piece": "splash 99-4", "right": "70 to 86"}
    assert "splash 99-4" in call("found", {"text": "", "file": str(job), "entry": entry})["fault"]


def test_what_a_finding_says_to_write_is_written_where_it_is_said():
    # 15 to 30 right of V in a tile that begins at 1: 21.5 from its left, 97.5 from its bottom. A slot to the left is
    # hidden by the cover of 65, and takes the thin tile beside the hole away.
    for text, place in ((STARTED, HOLE), (STARTED.replace(HOLE, ONE_LINE), ONE_LINE)):
        assert place in text
        stop = stop_of(text, "thin bridge")
        assert stop["write"] == {
            "path": ["surfaces", 0, "holes", 0, "slot"],
            "key": "slot",
            "value": "towards the left",
            "of": "",
        }
        after = asked("change", text, path=stop["write"]["path"], value=stop["write"]["value"])["text"]
        assert not [one for one in asked("look", after)["findings"] if one["level"] == "STOP"]
        assert all(not one["write"] for one in asked("look", after)["findings"])


def test_a_gap_that_was_assumed_is_written_off_where_a_finding_says_so():
    # The first course stands on B, and the edge lies there, a worktop: 3 is kept by custom, and that alone comes off.
    for edge in ("{at: on B, true: level, what: worktop}", '"worktop, on B, level"'):
        text = STARTED.replace("{at: on B, true: level, gap: 0}", edge)
        found = [one for one in asked("look", text)["findings"] if one["rule"] == "joint, not a cut"]
        (write,) = [one["write"] for one in found if one["write"]]
        assert write["path"] == ["surfaces", 0, "edges", "bottom", "gap"]
        after = asked("change", text, path=write["path"], value=write["value"])["text"]
        assert "bottom: only 3 comes off" in " ".join(one["text"] for one in found)
        assert "bottom: only" not in " ".join(one["text"] for one in asked("look", after)["findings"])
