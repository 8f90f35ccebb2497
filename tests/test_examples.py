"""Every example runs through the real command, and everything that the README shows is what happens."""

from __future__ import annotations

import re
import textwrap
from pathlib import Path

import pytest
from click.testing import CliRunner

from cutmarks.cli.app import app
from cutmarks.job import load_job, parse_job
from cutmarks.plan import make_plan

ROOT = Path(__file__).parent.parent
README = (ROOT / "README.md").read_text(encoding="utf-8")
EXAMPLES = sorted(path for path in ROOT.glob("examples/*/*.yaml") if not path.name.endswith(".found.yaml"))
ENDS = {"wash-house": 1, "treatment-room": 1}
"""The exit code of an example that is there for what is wrong with it: done, but something says STOP."""


def test_there_are_examples() -> None:
    assert len(EXAMPLES) >= 3


@pytest.mark.parametrize("job", EXAMPLES, ids=lambda path: path.stem)
def test_an_example_makes_everything_that_was_promised(job: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    result = CliRunner().invoke(app, ["make", str(job), "--out", str(out)])
    assert result.exit_code == ENDS.get(job.stem, 0), result.output
    made = {path.relative_to(out).as_posix() for path in out.rglob("*") if path.is_file()}
    plan = make_plan(load_job(job))
    tiled = {"pack.pdf", "job-sheet.pdf", "holes.csv", "pieces.csv", "plan.json", "set-out.pdf"}
    assert (tiled if plan.laid else {"clearance.pdf", "clearance.csv", "sheets/clearance_1.svg", "plan.json"}) <= made
    templates = {name for name in made if name.startswith("sheets/")}
    assert len(templates) >= sum(1 for piece in plan.pieces if piece.cuts)
    closed = {name for name in made if name.endswith(".dxf") and "_open" not in name}
    assert {name.replace(".dxf", ".pdf") for name in closed} == {name for name in made if name.startswith("dxf/")} - {
        name for name in made if name.endswith(".dxf")
    }
    held = {name for one in plan.findings if one.level == "stop" and one.accepted is None for name in one.about}
    cut = [piece for piece in plan.pieces if not held & {piece.name, *(c.opening.name for c in piece.cuts)}]
    assert len(closed) == sum(1 for piece in cut if piece.same_as is None)


def job_on_the_page() -> str:
    """The whole job that `cutmarks help job` shows."""
    page = (ROOT / "cutmarks/cli/pages/job.txt").read_text(encoding="utf-8")
    return textwrap.dedent(next(part for part in page.split("\n\n") if part.startswith("    job:")))


def between(mark: str) -> str:
    found = re.search(rf"<!-- {mark} -->\n```\w*\n(.*?)```\n<!-- {mark} -->", README, re.DOTALL)
    assert found, f"the README has nothing between two {mark} comments"
    return found.group(1)


def test_the_first_listing_of_the_readme_is_what_the_command_prints() -> None:
    command, *printed = between("one-tile").splitlines()
    words = re.findall(r'"([^"]*)"|(\S+)', command.removeprefix("$ cutmarks "))
    result = CliRunner().invoke(app, [quoted or plain for quoted, plain in words])
    assert result.exit_code == 0, result.output
    assert result.output.split() == " ".join(printed).split()


def test_the_job_on_the_page_of_the_job_file_can_be_planned() -> None:
    plan = make_plan(parse_job(job_on_the_page(), "job.txt"))
    assert [hole.name for hole in plan.openings] == ["cold", "hot"]
    assert [piece.name for piece in plan.pieces if piece.cuts] == sorted(
        [*plan.pieces_met["hot"], *plan.pieces_met["cold"]], key=[piece.name for piece in plan.pieces].index
    )


def test_the_python_of_the_readme_runs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (listing,) = re.findall(r"```python\n(.*?)```", README, re.DOTALL)
    monkeypatch.chdir(ROOT)
    listing = listing.replace('Path("laundry-out")', f"Path({str(tmp_path / 'out')!r})")
    listing = listing.replace("print(", "said.append((")
    said: list[tuple[object, ...]] = []
    exec(listing.replace("cut.kind)", "cut.kind))"), {"said": said})
    assert {row[1] for row in said} == {"hot", "cold", "stop valve", "machine socket", "waste"}
    assert (tmp_path / "out" / "plan.json").is_file()


def test_the_picture_of_the_readme_is_there() -> None:
    for picture in re.findall(r"!\[[^\]]*\]\(([^)]+)\)", README):
        assert (ROOT / picture).read_bytes().startswith(b"\x89PNG")


def test_the_readme_is_short() -> None:
    """A tiler reads it standing; what is longer is a page of help."""
    assert len(README.split()) < 2000


@pytest.mark.parametrize("starter", sorted(ROOT.glob("templates/*.yaml")), ids=lambda path: path.stem)
def test_a_starter_says_nothing_that_stops(starter: Path) -> None:
    plan = make_plan(load_job(starter))
    assert plan.pieces
    assert not [finding.text for finding in plan.findings if finding.level == "stop"]


def test_the_readings_that_the_page_shows_are_those_of_an_example() -> None:
    page = (ROOT / "cutmarks/cli/pages/readings.txt").read_text(encoding="utf-8")
    listing = next(part for part in page.split("\n\n") if part.startswith("    points:"))
    example = (ROOT / "examples/plant-cupboard/plant-cupboard.yaml").read_text(encoding="utf-8")
    shown = [line.strip() for line in listing.splitlines() if not line.rstrip().endswith(":")]
    assert len(shown) > 5
    kept = [line.split("  #")[0].strip() for line in example.splitlines()]
    assert [line for line in shown if line.split("  #")[0].strip() not in kept] == []
