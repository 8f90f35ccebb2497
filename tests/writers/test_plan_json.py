"""plan.json: its keys, its numbers, its schema, and what is said of a file that is none."""

from __future__ import annotations

import hashlib
import json
from typing import Any

import jsonschema
import pytest
from msgspec.structs import replace
from pydantic import ValidationError

from cutmarks.checks.model import Finding
from cutmarks.errors import OutputError
from cutmarks.geometry.rings import Vertex
from cutmarks.geometry.shapes import Circle, Outline, Slot
from cutmarks.plan import Plan
from cutmarks.sides import FourSides, Side
from cutmarks.writers.disk import Digest
from cutmarks.writers.plan_json import is_sealed, published_schema, read_index, read_plan, schema_json, to_json
from tests.properties.wall import plan_of as plan_of_wall
from tests.writers.plans import INCHES, RISER, boxed, corner, cut_piece, plain, plan_of, raking

FINDING = Finding(
    "stop", "web", ("splash 3-7", "riser"), "0.4 is left.", 0.4, 0.5, "common practice", "the rose hides it"
)


WRITE_ANEW = """write the schema anew:
python -c 'import sys; from cutmarks.writers.plan_json import schema_json as s; sys.stdout.buffer.write(s())' \\
  > cutmarks/writers/plan.schema.json"""


def whole_plan() -> Plan:
    slot = cut_piece("splash 1-1", 248, 398, [("tap", Slot(40.0, 20.0, 30.0), 120, 200)])
    shape = Outline((Vertex(-10.0, -5.0), Vertex(10.0, -5.0), Vertex(0.0, 5.0)))
    free = cut_piece("splash 1-2", 248, 398, [("tray", shape, 120, 200)], same_as="splash 1-1")
    return plan_of(plain(), corner(), raking(), boxed(), slot, free, findings=[FINDING])


def as_read(plan: Plan) -> dict[str, Any]:
    read: dict[str, Any] = json.loads(to_json(plan, ["plan.json", "holes.csv"]))
    return read


def keys(value: dict[str, Any]) -> list[str]:
    return list(value)


def test_the_keys_are_the_published_ones() -> None:
    read = as_read(whole_plan())
    assert set(read) == {
        *("schema", "job", "fingerprint", "units", "files", "say", "surfaces", "penetrations", "pieces", "counts"),
        *(
            "contact",
            "findings",
            "assumed",
            "notes",
            "sure",
            "found",
            "infills_found",
            "job_file",
            "digests",
            "seal",
            "clearances",
            "to_buy",
        ),
    }
    assert (read["schema"], read["units"], read["files"]) == (1, "mm", ["holes.csv", "plan.json"])
    assert set(read["surfaces"][0]) == {"name", "kind", "outline", "lines", "edges"}
    assert keys(read["penetrations"][0]) == ["name", "surface", "at", "opening", "read_size", "pieces"]
    assert keys(read["pieces"][0]) == [
        *(
            "name",
            "surface",
            "area",
            "course",
            "number",
            "part",
            "day",
            "grid",
            "tile",
            "origin",
            "turn",
            "size",
            "sizes",
        ),
        *(
            "outline",
            "factory_edges",
            "cut_edges",
            "how_cut",
            "same_as",
            "fingerprint",
            "stopped",
            "infills",
            "unread",
            "cuts",
        ),
        *("edge_work", "notes"),
    ]
    assert keys(read["pieces"][0]["cuts"][0]) == [
        *("penetration", "kind", "shape", "centre", "from_left", "from_right", "from_bottom", "from_top", "sides"),
        *("outline", "web", "wall_check", "unread", "mark_from", "from_cut_edges", "drilled"),
    ]
    assert keys(read["pieces"][0]["cuts"][0]["wall_check"][0]) == ["from", "side", "near", "far", "fixed"]


def test_the_first_worked_example_as_it_is_written() -> None:
    (piece,) = as_read(plan_of(plain()))["pieces"]
    (cut,) = piece["cuts"]
    # W1.
    assert (piece["origin"], piece["size"], piece["grid"]) == ([251.0, 800.0], [248.0, 398.0], [1, 2])
    assert cut["centre"] == [74.5, 112.5]
    assert [cut[f"from_{side}"] for side in ("left", "right", "bottom", "top")] == [74.5, 173.5, 112.5, 285.5]
    assert cut["shape"] == {"circle": {"d": 35.0}}
    assert cut["wall_check"][0] == {
        "from": {"piece": "splash 3-6"},
        "side": "left",
        "near": 69.0,
        "far": 84.0,
        "fixed": True,
    }
    # A ring of two half circles from its left end: 74.5 - 17.5 and 74.5 + 17.5; a hole runs clockwise.
    assert piece["outline"][1] == [[57.0, 112.5, -1.0], [92.0, 112.5, -1.0]]


def test_every_shape_has_its_own_key() -> None:
    shapes = [piece["cuts"][0]["shape"] for piece in as_read(whole_plan())["pieces"]]
    assert shapes == [
        {"circle": {"d": 35.0}},
        {"circle": {"d": 50.0}},
        {"circle": {"d": 21.0}},
        {"rect": {"w": 76.0, "h": 78.0, "lean": 0.0, "r": 0.0}},
        {"slot": {"l": 40.0, "w": 20.0, "lean": 30.0}},
        {"outline": [[-10.0, -5.0, 0.0], [10.0, -5.0, 0.0], [0.0, 5.0, 0.0]]},
    ]


def test_counts_stand_by_surface_and_area() -> None:
    assert as_read(whole_plan())["counts"] == {"wall": {"splash": {"whole": 20, "cut": 6, "gone": 1}}}


def test_a_finding_keeps_its_figure_limit_source_and_the_reason_to_go_on() -> None:
    (finding,) = as_read(whole_plan())["findings"]
    assert finding == {
        "level": "stop",
        "rule": "web",
        "about": ["splash 3-7", "riser"],
        "text": "0.4 is left.",
        "value": 0.4,
        "limit": 0.5,
        "source": "common practice",
        "accepted": "the rose hides it",
        "holds": "all",
    }


def test_numbers_are_rounded_and_a_nought_has_no_sign() -> None:
    piece = cut_piece("splash 3-7", 248.0, 398.0, [("riser", Circle(35.0), 74.5000004, 112.5)])
    cut = replace(piece.cuts[0], from_edges=FourSides(-1e-9, 248.0, 1 / 3, 398 - 1 / 3))
    (read,) = as_read(plan_of(replace(piece, cuts=(cut,))))["pieces"][0]["cuts"]
    assert read["centre"] == [0.0, 0.333333]
    assert str(read["centre"][0]) == "0.0"
    assert (read["from_bottom"], read["from_top"]) == (0.333333, 397.666667)
    assert read["from_bottom"] + read["from_top"] == pytest.approx(398.0, abs=1e-12)


def test_measures_to_cut_edges_stand_by_side() -> None:
    piece = raking()
    # W5: 56 from the raking cut edge at the height of the pipe.
    cut = replace(piece.cuts[0], from_cut_edges=((Side.RIGHT, 56.0),))
    (read,) = as_read(plan_of(replace(piece, cuts=(cut,))))["pieces"][0]["cuts"]
    assert read["from_cut_edges"] == {"right": 56.0}


def test_the_finest_step_of_an_inch_job_is_a_fraction() -> None:
    assert as_read(plan_of(plain(), say=INCHES))["say"] == {
        "words": "us",
        "units": "in",
        "finest": "1/32",
        "paper": "Letter",
        "margin": None,
        "cut": "on the day",
    }


@pytest.mark.parametrize("bad", [float("nan"), float("inf")])
def test_a_number_that_is_none_is_never_written(bad: float) -> None:
    piece = plain()
    wrong = replace(piece, cuts=(replace(piece.cuts[0], from_edges=replace(piece.cuts[0].from_edges, left=bad)),))
    with pytest.raises(ValidationError, match="finite number"):
        to_json(plan_of(wrong), [])


def test_one_piece_is_one_line() -> None:
    lines = to_json(plan_of(plain(), boxed()), []).decode("utf-8").splitlines()
    assert [line[:22] for line in lines if "from_left" in line] == ['{"name": "splash 3-7",', '{"name": "upper 5-2", ']


def test_the_same_plan_is_the_same_bytes_and_reads_back() -> None:
    written = to_json(whole_plan(), ["plan.json"])
    assert written == to_json(whole_plan(), ["plan.json"])
    read = read_plan(written)
    assert [piece.name for piece in read.pieces][:2] == ["splash 3-7", "field 3-1"]
    assert read.pieces[0].cuts[0].from_left == 74.5
    assert json.loads(read.model_dump_json(by_alias=True)) == json.loads(written)


def test_names_keep_their_letters() -> None:
    written = to_json(plan_of(cut_piece("Fläche 1-1", 248, 398, [RISER]), job="Küche"), [])
    assert '"job": "Küche"' in written.decode("utf-8")


# The schema.


def test_the_published_schema_is_the_models_own() -> None:
    assert published_schema() == schema_json(), WRITE_ANEW


def test_the_schema_is_one_and_takes_what_is_written() -> None:
    schema = json.loads(published_schema())
    jsonschema.Draft202012Validator.check_schema(schema)
    jsonschema.validate(as_read(whole_plan()), schema)


@pytest.mark.parametrize(
    ("change", "found"),
    [
        (lambda plan: plan.pop("counts"), "'counts' is a required property"),
        (lambda plan: plan.update(extra=1), "Additional properties are not allowed"),
        (lambda plan: plan.update(units="in"), "'mm' was expected"),
        (lambda plan: plan["pieces"][0].update(course="3"), "'3' is not of type 'integer'"),
        (lambda plan: plan["pieces"][0]["cuts"][0].update(kind="slit"), "'slit' is not one of"),
        (lambda plan: plan["pieces"][0]["outline"].append([[0, 0, 0]]), "is too short"),
    ],
)
def test_the_schema_refuses_what_is_not(change: Any, found: str) -> None:
    plan = as_read(whole_plan())
    change(plan)
    with pytest.raises(jsonschema.ValidationError, match=found):
        jsonschema.validate(plan, json.loads(published_schema()))


# What proves that it is as it was written.


def test_the_last_line_is_the_digest_of_all_before_it() -> None:
    data = to_json(
        whole_plan(), ["plan.json", "holes.csv"], {"holes.csv": Digest(3, hashlib.sha256(b"a,b").hexdigest())}
    )
    body, _, end = data.rpartition(b'"seal": ')
    assert json.loads(end.removesuffix(b"\n}\n")) == hashlib.sha256(body).hexdigest()
    assert is_sealed(data)
    # sha256sum of the three bytes "a,b", by GNU coreutils
    assert json.loads(data)["digests"] == {
        "holes.csv": {"size": 3, "sha256": "1eb7c54d52831bbfe8942af0b1c56b7409523a59ed6ca99c1174fef7eb32c1b5"}
    }


def test_no_byte_of_it_can_be_changed_unseen() -> None:
    data = to_json(plan_of(plain()), ["plan.json"])
    for place in range(len(data)):
        assert not is_sealed(data[:place] + bytes([data[place] ^ 1]) + data[place + 1 :])
    assert not is_sealed(data[:-1])
    assert not is_sealed(data + b"\n")


# Files that are none of ours.


@pytest.mark.parametrize(
    ("data", "sentence"),
    [
        (b"", r"this is no plan that cutmarks wrote \(the file: invalid json.*\)"),
        (b'{"job": "a"}', r"this is no plan that cutmarks wrote \(schema: field required\)"),
        (b"[1]", r"this is no plan that cutmarks wrote \(the file: .*\)"),
        (b'\xff\xfe{"schema"', r"this is no plan that cutmarks wrote \(the file: .*\)"),
    ],
)
def test_another_file_is_said_to_be_none_of_ours(data: bytes, sentence: str) -> None:
    with pytest.raises(OutputError, match=sentence):
        read_plan(data)
    with pytest.raises(OutputError, match=sentence):
        read_index(data)


def test_the_index_of_a_later_schema_can_be_read_all_the_same() -> None:
    later = {**as_read(plan_of(plain())), "schema": 7, "kerf": 1.2}
    index = read_index(json.dumps(later).encode())
    assert (index.job, index.files) == ("Quay Cottage", ["holes.csv", "plan.json"])
    with pytest.raises(OutputError, match=r"schema: input should be 1"):
        read_plan(json.dumps(later).encode())


def test_a_piece_says_what_of_it_waits() -> None:
    # Its middle 24.5 - 1 = 23.5 from the left edge, 46 across: 0.5 of tile is left, which stops; accepted it waits for
    # nothing.
    thin = {"name": "hot", "what": "15 copper", "across": "17 to 32 right of V", "up": "42.5 to 57.5 above B"}
    holes = [{**thin, "opening": 46, "cover": 65, "end": "comes off"}]
    (piece,) = as_read(plan_of_wall(holes=holes))["pieces"]
    assert piece["stopped"] == "all"
    accept = [{"rule": "hair bridge", "about": "hot", "reason": "the rose hides it"}]
    (piece,) = as_read(plan_of_wall(holes=holes, job={"accept": accept}))["pieces"]
    assert piece["stopped"] is None
