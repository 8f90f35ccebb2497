"""The form of a job: every key has its place, and what is said beside it."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from cutmarks.desk.calls import call
from cutmarks.desk.form import fields_in, form_of, more_keys, things_in
from cutmarks.desk.pages import form_html
from cutmarks.desk.says import beside_fields, spelt
from cutmarks.job.declared import declared, model_in
from cutmarks.job.edges import EdgeSpec, KeepOutSpec, VoidSpec
from cutmarks.job.holes import HoleSpec
from cutmarks.job.load import read_job
from cutmarks.job.model import JobModel
from cutmarks.job.models import Job
from cutmarks.job.reading import read_tree
from cutmarks.job.surfaces import LineSpec, SurfaceSpec
from cutmarks.job.tiles import AreaSpec, TileSpec
from cutmarks.units import Unit

ROOT = Path(__file__).parents[2]
JOB = """\
job: Reed House
tiles: {rib: {size: 248 x 398}}
surfaces:
  - name: tap wall
    kind: wall
    lines: {V: "plumb, middle", B: level}
    edges: {right: [900 right of V at B, 907 right of V at 2000 above B]}
    holes:
      - {name: hot, what: 15 copper, across: 67 to 83 left of V, up: 21.2 to 22.8 cm above B, cover: 65}
      - cold, 15 copper, 68 to 83 right of V, 240 above B to centre, rose 65
    areas:
      - {name: field, tile: rib, joint: 2}
"""
SURFACE = ("surfaces", 0)


def said(text: str) -> dict[str, list[tuple[str, str]]]:
    """What stands beside each place of a job."""
    read, form = read_job(text, Path("reed.yaml")), form_of(read_tree(text, "")[0])
    return {key: [(one.level, one.text) for one in all_of] for key, all_of in beside_fields(read, form).items()}


def beside(text: str, *path: str | int) -> list[tuple[str, str]]:
    return said(text).get(spelt(path), [])


KINDS: dict[str, type[JobModel]] = {
    "job": Job,
    "surface": SurfaceSpec,
    "line": LineSpec,
    "tile": TileSpec,
    "edge": EdgeSpec,
    "window": VoidSpec,
    "hole": HoleSpec,
    "strip": KeepOutSpec,
    "area": AreaSpec,
}


@pytest.mark.parametrize("kind", KINDS)
def test_every_key_of_a_thing_can_be_asked_for(kind):
    words = {word for word, one in declared(KINDS[kind]).items() if model_in(one.field.annotation) is None}
    assert {one.word for one in more_keys()[kind]} == words


def test_every_key_that_is_written_has_its_field_in_the_examples():
    for path in sorted((ROOT / "examples").glob("*/*.yaml")):
        tree, _, _, whole = read_tree(path.read_text(encoding="utf-8"), path.name)
        if not whole or "surfaces" not in tree:
            continue
        shown = {spelt(one.path) for one in fields_in(form_of(tree))}
        surfaces = tree["surfaces"]
        assert isinstance(surfaces, list)
        for number, surface in enumerate(surfaces):
            for at, hole in enumerate(surface.get("holes") or ()):
                path_of = ("surfaces", number, "holes", at)
                wanted = [path_of] if isinstance(hole, str) else [(*path_of, key) for key in hole]
                assert {spelt(one) for one in wanted} <= shown, path


def test_all_four_edges_have_room_and_those_of_a_floor_have_its_words():
    form = form_of(read_tree(JOB, "")[0])
    edges = [one for one in things_in(form) if one.kind == "edge"]
    assert [one.title for one in edges] == ["left", "right", "bottom", "top"]
    assert [one.is_written for one in edges] == [False, True, False, False]
    assert edges[1].fields[0].value == "900 right of V at B; 907 right of V at 2000 above B"
    floor = form_of(read_tree(JOB.replace("kind: wall", "kind: floor"), "")[0])
    hole = next(one for one in things_in(floor) if one.title == "hot")
    assert [one.word for one in hole.fields[:4]] == ["name", "what", "across", "in"]


def test_it_is_said_what_was_understood():
    # 67 to 83: 16 over both sides, its middle (67 + 83) / 2 = 75; 212 to 228 likewise; 907 - 900 = 7.
    holes = (*SURFACE, "holes", 0)
    assert beside(JOB, *holes, "across") == [("read", "16 mm over both sides; its middle 75 left of V")]
    assert beside(JOB, *holes, "up") == [("read", "16 mm over both sides; its middle 220 above B")]
    assert beside(JOB, *holes, "what") == [("read", "copper 15: 15 outside")]
    assert beside(JOB, *holes, "cover") == []  # that 65 is 65 mm goes without saying
    assert beside(JOB, *SURFACE, "edges", "right") == [("read", "read 2 times, 7 mm apart")]
    ((level, words),) = beside(JOB, *SURFACE, "holes", 1)
    assert level == "read"
    assert words.startswith("name: cold · what: 15 copper · across: 68 to 83 right of V")


def test_a_fault_stands_beside_its_field():
    wrong = JOB.replace("67 to 83 left of V", "67 to 83 left")
    ((level, words),) = beside(wrong, *SURFACE, "holes", 0, "across")
    assert (level, words.partition(":")[0]) == ("fault", '"67 to 83 left" does not say from what')
    ((level, words),) = beside(JOB.replace("rose 65", "rse 65"), *SURFACE, "holes", 1)
    assert level == "fault"
    assert "rse" in words


def test_what_is_missing_is_wanted_and_is_no_fault():
    assert [level for level, _ in beside(JOB.replace("tile: rib, ", ""), *SURFACE, "areas", 0, "tile")] == ["wanted"]


def test_an_edge_of_which_only_is_said_what_is_there_wants_its_place():
    text = JOB.replace("edges: {right:", "edges: {bottom: {what: floor}, right:")
    ((level, words),) = beside(text, *SURFACE, "edges", "bottom", "at")
    assert level == "wanted"
    assert "write at: 5 below B" in words
    assert beside(text, *SURFACE, "edges", "bottom") == []


def test_a_file_that_cannot_be_read_is_said_at_the_top_with_its_line():
    (_, words), *_ = said(JOB + "    note: [a\n")[""]
    assert words.startswith("Line ")


def test_a_gap_that_nobody_said_stands_beside_its_field_with_its_figure():
    # Usual (common practice): 5 over a floor, 3 elsewhere, none where the tiles stand on what is there.
    meets = "Write 0 where the tiles stand on it or meet it."
    edges = (*SURFACE, "edges")
    assert beside(JOB, *edges, "right", "gap") == [("assumed", f"Left empty: 3 mm is kept clear here. {meets}")]
    for what, words in (
        ("floor", f"Left empty: 5 mm is kept clear here. {meets}"),
        ("worktop", f"Left empty: 3 mm is kept clear here. {meets}"),
        ("batten", "Left empty: nothing is kept clear here."),
    ):
        # A reading of a hole that is still open takes nothing from it.
        text = JOB.replace("{right:", f"{{bottom: {{at: on B, what: {what}}}, right:").replace("67 to 83", "67")
        assert beside(text, *edges, "bottom", "gap") == [("assumed", words)], what
    assert beside(JOB.replace("edges: {", "gaps: 4\n    edges: {"), *edges, "right", "gap") == []
    assert (
        beside(
            JOB.replace("{right: [", "{right: {gap: 2, at: [").replace("above B]}", "above B]}}"),
            *edges,
            "right",
            "gap",
        )
        == []
    )
    window = 'windows: [{name: sash, across: "100 to 300 right of V", up: "100 to 300 above B"}]'
    said_of_it = beside(JOB.replace("    holes:", f"    {window}\n    holes:"), *SURFACE, "windows", 0, "gap")
    assert said_of_it == [("assumed", "Left empty: 3 mm is kept clear all round.")]


def test_a_gap_is_said_in_the_units_of_the_job():
    text = JOB.replace("tiles:", "units: in\ntiles:").replace("{right:", "{left: 30 left of V, right:")
    ((_, words),) = beside(text, *SURFACE, "edges", "left", "gap")
    # 3 mm is 0.118 in, 3.8 of 32 parts.
    assert words.startswith("Left empty: 1/8 in is kept clear here.")


def test_an_empty_field_has_its_sample_in_the_units_of_the_job():
    text = JOB.replace("job: Reed House\n", "job: Reed House\nunits: in\n")
    assert call("form", {"text": text, "file": "reed.yaml"})["units"] == "in"
    html = form_html(form_of(read_tree(text, "")[0]), more_keys(), Unit.INCH)
    samples = re.findall(r'data-example="([^"]*)"|placeholder="e\.g\. ([^"]*)"', html)
    # A figure of two places or more is none of an inch job's, but as a part of it, or where it is no length.
    no_length = ("20 kg", "01632", "0317", "25 tiles", "45", "180", "32", "16")
    left = [
        one
        for pair in samples
        for one in pair
        if any(float(figure) > 75 for figure in re.findall(r"(?<![/\d])\d+(?!\d*/)", one))
        and not any(word in one for word in no_length)
    ]
    assert left == []
