"""What was answered stands in the file as it was typed, with YAML's own reader as the judge."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from ruamel.yaml import YAML

from cutmarks.cli.draft import JobDraft, flow, lines_of, scalar, written


def read(text):
    return YAML(typ="base", pure=True).load(text)


TYPED = st.text(st.characters(exclude_categories=("Cc", "Cs", "Zl", "Zp")), max_size=20).map(str.strip).filter(bool)


@given(TYPED)
def test_any_answer_is_read_back_as_typed(answer):
    assert read(f"key: {scalar(answer)}\n") == {"key": answer}
    assert read(flow([("a", answer), ("b", "2")])) == {"a": answer, "b": "2"}


@pytest.mark.parametrize("answer", ["15 copper", "1/2 iron pipe", "67-83 left of V", "5 in 1497", "147 x 86"])
def test_what_needs_no_quotes_gets_none(answer):
    assert scalar(answer) == answer


HOT = {
    "name": "hot",
    "what": "15 copper",
    "across": "67 to 83 left of V",
    "up": "212 to 228 above B",
    "cover": "65",
    "end": "comes off",
}


def laundry():
    draft = JobDraft(job={"job": "Quay Cottage, laundry", "units": "mm"})
    draft.tile = {"size": "248 x 398", "run across": "5 in 1248"}
    draft.area |= {"start across": "joint on V", "start up": "sits on B"}
    draft.edges["left"] = {"what": "end panel", "at": "1140 left of V at B; 1136 left of V at 1450 above B"}
    draft.edges["top"] = {"what": "ceiling"}
    draft.voids.append(("niche", {"name": "shelf", "across": "100 to 400 right of V", "up": "600 to 900 above B"}))
    draft.holes.append(dict(HOT))
    return draft


def test_a_wall_in_the_order_in_which_things_are_learnt():
    text = written(laundry())
    job = read(text)
    assert job["job"] == "Quay Cottage, laundry"
    assert job["tiles"] == {"tile": {"size": "248 x 398", "run across": "5 in 1248"}}
    surface = job["surfaces"][0]
    assert surface["lines"] == {"V": "plumb, where the main line is", "B": "level, where the level line is"}
    # An edge with no reading is left out.
    assert surface["edges"] == {
        "left": {"at": ["1140 left of V at B", "1136 left of V at 1450 above B"], "what": "end panel"}
    }
    assert surface["niches"] == [{"name": "shelf", "across": "100 to 400 right of V", "up": "600 to 900 above B"}]
    assert surface["holes"] == [HOT]
    assert surface["areas"][0]["start"] == {"across": "joint on V", "up": "sits on B"}
    order = [text.index(word) for word in ("tiles:", "lines:", "edges:", "niches:", "holes:", "areas:", "start:")]
    assert order == sorted(order)


def test_each_line_that_says_something_knows_where_it_stands():
    named = {line.at: line.text.strip() for line in lines_of(laundry()) if line.at}
    assert named["tile", "size"].startswith("size: 248 x 398")
    assert named["hole", "0", "across"] == "across: 67 to 83 left of V"
    assert named["void", "0"] == "- name: shelf"
    assert named["line", "V"] == 'V: "plumb, where the main line is"'
    assert named["edge", "left"].startswith("left: {at: [1140 left of V at B")


def test_a_job_without_a_start_says_how_to_write_one():
    text = written(JobDraft())
    assert "start" not in read(text)["surfaces"][0]["areas"][0]
    assert "# start: {across: joint on V, up: sits on B}" in text


def test_a_floor_reads_into_the_room():
    draft = JobDraft(kind="floor", surface={"up": "towards the window"})
    draft.holes.append({"name": "soil", "what": "110 soil", "in": "1905 to 2015 from D"})
    surface = read(written(draft))["surfaces"][0]
    assert surface["lines"] == {"V": "across, where the main line is", "D": "along, where the level line is"}
    assert surface["up"] == "towards the window"
    assert surface["holes"][0]["in"] == "1905 to 2015 from D"
