"""The published JSON Schema of the job file: that it is current, takes every job of ours and refuses a misspelt key."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from ruamel.yaml import YAML

from cutmarks.job.reading import read_tree
from cutmarks.job.schema import published_schema, schema_json
from cutmarks.job.tree import plain
from tests.job.jobs import FLOOR, WALL
from tests.test_examples import job_on_the_page

ROOT = Path(__file__).parents[2]
JOBS = {
    **{
        str(path.relative_to(ROOT)): path.read_text(encoding="utf-8")
        for path in (*sorted((ROOT / "examples").glob("*/*.yaml")), *sorted((ROOT / "templates").glob("*.yaml")))
        if not path.name.endswith(".found.yaml")
    },
    "the page of the job file": job_on_the_page(),
    "wall": WALL,
    "floor": FLOOR,
}
WRITE_ANEW = """write the schema anew:
python -c 'import sys; from cutmarks.job.schema import schema_json as s; sys.stdout.buffer.write(s())' \\
  > /tmp/job.schema.json && mv /tmp/job.schema.json cutmarks/job/job.schema.json"""


def checked(job: object) -> list[str]:
    validator = jsonschema.Draft202012Validator(json.loads(published_schema()))
    return [error.message for error in validator.iter_errors(job)]


def as_yaml(text: str) -> object:
    """As an editor reads it: YAML's own numbers; a key is a text, `true` too."""

    def keyed(node: object) -> object:
        if isinstance(node, dict):
            return {str(key).lower() if isinstance(key, bool) else str(key): keyed(one) for key, one in node.items()}
        return [keyed(one) for one in node] if isinstance(node, list) else node

    return keyed(YAML(typ="safe", pure=True).load(text))


def as_typed(text: str) -> Any:
    return plain(read_tree(text, "job.yaml")[0])


def test_the_published_schema_is_the_keys_own() -> None:
    assert published_schema() == schema_json(), WRITE_ANEW


def test_it_is_a_schema() -> None:
    jsonschema.Draft202012Validator.check_schema(json.loads(published_schema()))


@pytest.mark.parametrize("name", JOBS)
def test_it_takes_every_job_as_typed_and_as_yaml_reads_it(name: str) -> None:
    assert checked(as_typed(JOBS[name])) == []
    assert checked(as_yaml(JOBS[name])) == []


@pytest.mark.parametrize(
    ("old", "new", "found"),
    [
        ("job: Quay", "jobb: Quay", "'jobb' was unexpected"),
        ("cover: 65", "diametre: 65", "is not valid under any of the given schemas"),
        ("joint: 3", "joints: 3", "is not valid under any of the given schemas"),
        ("    kind: wall\n", "", "'kind' is a required property"),
        ("kind: wall", "kind: roof", "'roof' is not one of"),
        ("end: comes off", "end: maybe", "is not valid under any of the given schemas"),
        ("cover: 65", "fitting: 65", "is not valid under any of the given schemas"),
        ("across: joint", "acros: joint", "is not valid under any of the given schemas"),
        ("thickness: 9", "thicknes: 9", "is not valid under any of the given schemas"),
        ("cover: 65", "cover: [65, 70]", "is not valid under any of the given schemas"),
    ],
)
def test_it_refuses_what_the_reader_refuses(old: str, new: str, found: str) -> None:
    assert old in WALL
    assert any(found in message for message in checked(as_typed(WALL.replace(old, new, 1))))


@pytest.mark.parametrize(
    "lines",
    [
        "unit: mm\n",
        "finest: 1\n",
        'template: "?"\n',
        "note:\n",
        "limits: {thin bridge: 25, bridge part: 20 %}\n",
        "accept: [{rule: bridge, reason: hidden}]\n",
        "found: [{piece: splash 3-7, below: 43 to 59, cut: true}]\n",
    ],
)
def test_it_takes_other_words_and_what_yaml_makes_of_them(lines: str) -> None:
    assert checked(as_yaml(lines + WALL)) == []
    assert checked(as_typed(lines + WALL)) == []
