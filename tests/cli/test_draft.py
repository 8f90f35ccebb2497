"""What was answered stands in the file as it was typed, with YAML's own reader as the judge."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from ruamel.yaml import YAML

from cutmarks.cli.draft import HoleDraft, JobDraft, VoidDraft, flow, scalar, written


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


def test_a_wall_in_the_order_in_which_things_are_learnt():
    draft = JobDraft(name="Quay Cottage, laundry", run="5 in 1248", start_across="joint on V", start_up="sits on B")
    draft.edges["left"].what = "end panel"
    draft.edges["left"].first = "1140 left of V at B"
    draft.edges["left"].second = "1136 left of V at 1450 above B"
    draft.niches.append(VoidDraft("shelf", "100 to 400 right of V", "600 to 900 above B"))
    draft.holes.append(HoleDraft("hot", "15 copper", "67 to 83 left of V", "212 to 228 above B", "65", "comes off"))
    text = written(draft)
    job = read(text)
    assert job["job"] == "Quay Cottage, laundry"
    surface = job["surfaces"][0]
    assert surface["lines"] == {"V": "plumb, where the main line is", "B": "level, top of the batten"}
    assert surface["edges"] == {
        "left": {"at": ["1140 left of V at B", "1136 left of V at 1450 above B"], "what": "end panel"}
    }
    assert surface["niches"] == [{"name": "shelf", "across": "100 to 400 right of V", "up": "600 to 900 above B"}]
    assert surface["holes"][0] == {
        "name": "hot",
        "what": "15 copper",
        "across": "67 to 83 left of V",
        "up": "212 to 228 above B",
        "cover": "65",
        "end": "comes off",
    }
    assert surface["areas"][0]["start"] == {"across": "joint on V", "up": "sits on B"}
    order = [text.index(word) for word in ("tiles:", "lines:", "edges:", "niches:", "holes:", "areas:", "start:")]
    assert order == sorted(order)


def test_a_job_without_a_start_says_how_to_write_one():
    text = written(JobDraft())
    assert "start" not in read(text)["surfaces"][0]["areas"][0]
    assert "# start: {across: joint on V, up: sits on B}" in text


def test_a_floor_reads_into_the_room():
    draft = JobDraft(kind="floor")
    draft.holes.append(HoleDraft("soil", "110 soil", "640 to 750 right of V", "1905 to 2015 from D"))
    surface = read(written(draft))["surfaces"][0]
    assert surface["lines"] == {"V": "across, where the main line is", "D": "along, top of the batten"}
    assert surface["up"] == "away from the door"
    assert surface["holes"][0]["in"] == "1905 to 2015 from D"
