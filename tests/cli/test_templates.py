"""The starter jobs and the blank sheets, and where they are found."""

from __future__ import annotations

from pathlib import Path
from typing import get_args

import pytest

from cutmarks.cli import templates
from cutmarks.cli.templates import BLANKS, STARTERS, find_template
from cutmarks.errors import OutputError
from cutmarks.job import load_job
from cutmarks.plan import make_plan
from cutmarks.sheets.measure_up import BlankPaper, blank_name
from cutmarks.sides import SurfaceKind


@pytest.mark.parametrize("name", STARTERS)
def test_a_starter_runs_as_it_is(name: str):
    plan = make_plan(load_job(find_template(name)))
    assert plan.openings
    assert all(plan.pieces_met[opening.name] for opening in plan.openings)
    assert [finding.text for finding in plan.findings if finding.level == "stop"] == []


@pytest.mark.parametrize("name", STARTERS)
def test_a_starter_assumes_nothing(name: str):
    assert load_job(find_template(name)).assumed == ()


@pytest.mark.parametrize("name", STARTERS)
def test_the_run_of_five_proves_tile_and_joint(name: str):
    # pitch = (run + joint) / n: 5 x 297 + 4 x 3 = 1497; 5 x 597 + 4 x 3 = 2997;
    # 5 x 11 13/16 + 4 x 3/16 in = 59 13/16 in
    area = make_plan(load_job(find_template(name))).surfaces[0].areas[0]
    width = {"wall.yaml": 297.0, "floor.yaml": 597.0, "inch.yaml": 11.8125 * 25.4}[name]
    joint = {"wall.yaml": 3.0, "floor.yaml": 3.0, "inch.yaml": 0.1875 * 25.4}[name]
    assert area.grid.w == pytest.approx(width, abs=1e-9)
    assert area.grid.pitch_u == pytest.approx(width + joint, abs=1e-9)


def test_every_template_is_found():
    for name in (*STARTERS, *BLANKS):
        assert find_template(name).is_file()
    assert find_template("wall") == find_template("wall.yaml")


def test_the_blanks_are_those_that_are_made():
    assert set(BLANKS) == {blank_name(kind, paper) for kind in get_args(SurfaceKind) for paper in get_args(BlankPaper)}


def test_an_unknown_template_is_answered_with_the_names():
    with pytest.raises(
        OutputError, match=r'There is no template "ceiling"\. The templates are: wall\.yaml, floor\.yaml'
    ):
        find_template("ceiling")


def test_no_path_is_taken_for_a_template():
    with pytest.raises(OutputError, match="There is no template"):
        find_template("../templates/wall.yaml")


def test_the_installed_templates_come_first(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    installed, beside = tmp_path / "_templates", tmp_path / "templates"
    for folder in (installed, beside):
        folder.mkdir()
        (folder / "wall.yaml").write_text(folder.name, encoding="utf-8")
    monkeypatch.setattr(templates, "template_folders", lambda: (installed, beside))
    assert find_template("wall").read_text(encoding="utf-8") == "_templates"
    (installed / "wall.yaml").unlink()
    assert find_template("wall").read_text(encoding="utf-8") == "templates"
    (beside / "wall.yaml").unlink()
    with pytest.raises(
        OutputError, match=r'The template "wall\.yaml" was not installed with cutmarks: install cutmarks again'
    ):
        find_template("wall")
