"""cutmarks help: every key with what it is for, and the schema as it is published."""

from __future__ import annotations

import json

import pytest

from cutmarks.job.declared import declared
from cutmarks.job.keys import things
from cutmarks.job.limits import OwnLimits
from cutmarks.job.model import JobModel
from cutmarks.job.models import Job, Tools
from cutmarks.job.schema import published_schema
from cutmarks.job.shop import Shop


def test_it_lists_its_pages(run):
    result = run("help")
    assert result.exit_code == 0
    assert [line.split()[:3] for line in result.stdout.splitlines()] == [
        ["cutmarks", "help", "page"],
        ["cutmarks", "help", "job"],
        ["cutmarks", "help", "keys"],
        ["cutmarks", "help", "said"],
        ["cutmarks", "help", "positions"],
        ["cutmarks", "help", "laying"],
        ["cutmarks", "help", "starts"],
        ["cutmarks", "help", "floors"],
        ["cutmarks", "help", "clearance"],
        ["cutmarks", "help", "sheets"],
        ["cutmarks", "help", "phone"],
        ["cutmarks", "help", "fixing"],
        ["cutmarks", "help", "order"],
        ["cutmarks", "help", "readings"],
        ["cutmarks", "help", "checks"],
        ["cutmarks", "help", "found"],
        ["cutmarks", "help", "rooms"],
        ["cutmarks", "help", "output"],
        ["cutmarks", "help", "shop"],
        ["cutmarks", "help", "schema"],
    ]


def test_the_page_of_keys_has_every_key_once_for_each_thing(run):
    lines = run("help", "keys").stdout.splitlines()
    keys = [line[2:].split("  ")[0] for line in lines if line.startswith("  ") and line[2] != " "]
    models: dict[type[JobModel], None] = dict.fromkeys(
        [Job, *(model for model, _ in things().values() if model is not OwnLimits), Tools, Shop]
    )
    assert keys == [word for model in models for word in declared(model)]


def test_the_page_of_the_job_file_ends_with_every_key(run):
    page = run("help", "job").stdout
    assert page.endswith(run("help", "keys").stdout)
    own = page.removesuffix(run("help", "keys").stdout).splitlines()
    assert max(map(len, own)) <= 120
    refused = run("help", "job", "hole")
    assert refused.exit_code == 2
    assert "This page is one: write cutmarks help job." in refused.stderr


def test_of_one_thing_it_has_the_keys_of_that_alone(run):
    out = run("help", "keys", "pair").stdout
    assert "pair: under pairs" in out
    assert "  apart          From middle to middle. 150 | 153" in out
    assert "cover" not in out
    assert run("help", "keys", "niche").stdout == run("help", "keys", "door").stdout
    assert "(on a floor in: 1420 to 1530 from D)" in " ".join(run("help", "keys", "hole").stdout.split())


def test_the_schema_is_printed_as_it_is_published(run):
    out = run("help", "schema").stdout
    assert json.loads(out) == json.loads(published_schema())


def test_every_page_is_named_where_its_matter_is_begun(run, repository):
    readme = (repository / "README.md").read_text(encoding="utf-8")
    pages = [line.split()[2] for line in run("help").stdout.splitlines()]
    assert [page for page in pages if f"cutmarks help {page}" not in readme] == []
    for page in pages:
        lines = run("help", page).stdout.splitlines()
        assert len(lines) > 5, page
        assert page in ("schema", "keys", "job") or max(map(len, lines)) <= 120, page


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        (
            ("nothing",),
            "There is no page nothing: write page, job, keys, said, positions, laying, starts, floors, clearance,",
        ),
        (("keys", "shelf"), "There is no thing shelf with keys of its own: they are job, tile, surface,"),
        (("schema", "hole"), "The schema is of the whole job file: write cutmarks help schema."),
    ],
)
def test_what_is_not_there_is_said(run, arguments, sentence):
    result = run("help", *arguments)
    assert result.exit_code == 2
    assert sentence in result.stderr
