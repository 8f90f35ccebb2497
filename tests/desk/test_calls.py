"""What the page asks of cutmarks, call by call: texts in, texts and values out, and nothing is written."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

from cutmarks.desk.calls import CALLS, blank_job, call
from cutmarks.errors import JobError

ROOT = Path(__file__).parents[2]
LAUNDRY = ROOT / "examples" / "laundry" / "laundry.yaml"
HOT = ["surfaces", 0, "holes", 0]


def asked(name: str, text: str | None = None, /, **more: object) -> dict:
    """The answer of a call on a text, the laundry's without one."""
    return call(name, {"text": LAUNDRY.read_text("utf-8") if text is None else text, "file": str(LAUNDRY), **more})


def test_every_answer_goes_through_a_pipe():
    for name in ("form", "says", "look", "starts"):
        assert json.loads(json.dumps(asked(name)))
    with pytest.raises(KeyError):
        call("shell", {})
    assert set(CALLS) >= {"form", "says", "look", "change", "add", "remove", "rename", "near", "starts", "take", "sent"}


def test_a_plan_and_its_drawing_bring_no_library_of_files():
    done = subprocess.run(
        [
            sys.executable,
            "-c",
            "import sys; from cutmarks.desk.calls import call; from pathlib import Path; p = sys.argv[1]; "
            "a = {'text': Path(p).read_text('utf-8'), 'file': p}; "
            "assert call('look', a)['drawings'] and call('form', a)['html']; "
            "kept_out = ('ezdxf', 'pikepdf', 'pydantic', 'scipy', 'starlette', 'uvicorn'); "
            "print([one for one in kept_out if one in sys.modules])",
            str(LAUNDRY),
        ],
        capture_output=True,
        text=True,
        check=True,
    )
    assert done.stdout.strip() == "[]"


def test_it_looks_with_tiles_without_a_start_and_without_tiles():
    seen = asked("look")
    assert (seen["faults"], seen["able"], [one["surface"] for one in seen["drawings"]]) == (0, True, ["sink wall"])
    # 67 to 83 left of V is 75; from the joint on V the tile of 297 with 3 joint ends 1.5 left of V: 75 - 1.5 = 73.5.
    hot = next(one for one in seen["holes"] if one["hole"] == "hot")
    assert "73½ from the right" in hot["marks"]
    text = LAUNDRY.read_text("utf-8").replace("        start: {across: joint on V, up: sits on B}\n", "")
    without = asked("look", text)
    assert (without["undecided"], without["able"]) == (["sink wall"], False)
    bare = asked("look", (ROOT / "examples" / "treatment-room" / "treatment-room.yaml").read_text("utf-8"))
    assert bare["able"]
    assert len(bare["clearances"]) == 5
    assert any(one["level"] == "STOP" for one in bare["findings"])


def test_a_finding_stands_at_the_hole_that_it_is_about():
    found = [one for one in asked("look")["findings"] if "machine socket" in one["about"]]
    assert {one["at"] for one in found} == {json.dumps(["surfaces", 0, "holes", 3])}


def test_a_fault_of_the_plan_stands_beside_what_it_is_of():
    text = LAUNDRY.read_text("utf-8").replace("636 to 679 right of V", "1636 to 1679 right of V")
    seen = asked("look", text)
    assert seen["faults"] == 1
    assert [key for key, said in seen["says"].items() if any(one["level"] == "fault" for one in said)] == [
        json.dumps(["surfaces", 0, "holes", 4, "across"])
    ]


def test_a_value_is_changed_where_what_was_typed_over_still_stands_there():
    done = asked("change", path=[*HOT, "across"], was="67 to 83 left of V", value="70 to 86 left of V")
    assert "across: 70 to 86 left of V          # both sides" in done["text"]
    assert done["label"] == "hole hot, across"
    assert asked("change", path=[*HOT, "across"], was="60 to 76 left of V", value="x") == {
        "differs": "67 to 83 left of V"
    }


def test_several_readings_become_a_list():
    done = asked(
        "change",
        path=["surfaces", 0, "edges", "left", "at"],
        value="1120 left of V at B; 1124 left of V at 1000 above B",
    )
    assert "at: [1120 left of V at B, 1124 left of V at 1000 above B]" in done["text"]


def test_a_tile_is_renamed_with_the_areas_that_are_laid_with_it():
    done = asked("rename", path=["tiles", "rib"], name="small rib")
    assert "  small rib:\n" in done["text"]
    assert "tile: small rib\n" in done["text"]
    assert "tile: slate\n" in done["text"]


def test_a_start_is_taken_as_the_command_takes_it():
    text = (ROOT / "examples" / "mending-room" / "mending-room.yaml").read_text("utf-8")
    offered = asked("starts", text)
    assert offered["html"].count("data-take") == len(offered["pictures"][0]) > 1
    assert all(one.startswith("<?xml") for one in offered["pictures"][0])
    surface = asked("look", text)["drawings"][0]["surface"]
    taken = asked("take", text, surface=surface, number=2)["text"]
    assert taken != text
    assert [one for one in taken.splitlines() if "#" in one] == [one for one in text.splitlines() if "#" in one]


def test_where_whole_tiles_would_stand_on_packers_is_said_beside_the_starts():
    text = """\
job: Hazel Row
tiles: {linen: {size: 150 x 75, measured: yes}}
surfaces:
  - name: wall
    kind: wall
    lines: {V: "plumb, middle", B: "level, high end of the worktop"}
    edges:
      bottom: {at: [0 below B at 1300 left of V, 4 below B at 1460 right of V], what: worktop, gap: 3}
      left: {at: 1300 left of V, true: plumb}
      right: {at: 1460 right of V, true: plumb}
      top: {at: 480 above B, true: level}
    areas: [{name: field, tile: linen, joint: 2}]
"""
    assert "on packers of 3 to 7, with from: 3 above B in the area" in asked("starts", text)["html"]


def test_a_finding_is_accepted_with_its_reason():
    text = (ROOT / "examples" / "treatment-room" / "treatment-room.yaml").read_text("utf-8")
    stop = next(one for one in asked("look", text)["findings"] if one["level"] == "STOP")
    given = {"rule": stop["rule"], "about": stop["last"]}
    assert "Say why you live with it" in asked("accept", text, reason=" ", **given)["fault"]
    after = asked("accept", text, reason="a key with a joint is used", **given)["text"]
    found = [one for one in asked("look", after)["findings"] if one["rule"] == stop["rule"]]
    assert "a key with a joint is used" in [one["accepted"] for one in found]


def test_a_tap_is_said_from_the_main_lines_to_the_nearest_ten():
    assert asked("near", surface="sink wall", x=-76.2, y=243.0) == {
        "across": "80 left of V",
        "up": "240 above B",
        "floor": False,
    }


@pytest.mark.parametrize("of", ["wall", "floor"])
def test_a_job_of_nothing_can_be_looked_at(of):
    seen = asked("look", blank_job("Reed House", of, "mm"))
    assert (seen["faults"], seen["findings"], seen["able"], len(seen["drawings"])) == (0, [], False, 1)


def test_a_job_is_called_what_can_be_printed():
    with pytest.raises(JobError, match="a name has no markup"):
        blank_job("<b>", "wall", "mm")
    assert "job: \"Reed: 'House'\"" in blank_job("Reed: 'House'", "wall", "in")
