"""From the job file and the command line to the sheets: `sheets: joined`, `template:`, rolls, a printer's margin."""

from __future__ import annotations

from textwrap import dedent

import pytest
from click.testing import CliRunner

from cutmarks.cli.app import app
from cutmarks.job import parse_job
from cutmarks.plan import make_plan, paper_of

JOB = """
    job: One slab
    {head}
    tiles: {{slab: {{size: 1198 x 1198, measured: yes{tile}}}}}
    surfaces:
      - name: wall
        kind: wall
        lines: {{V: "plumb, left end", B: "level, top of the batten"}}
        areas:
          - {{name: field, tile: slab, joint: 2, from: B, start: {{across: left on V, up: sits on B}}}}
        holes:
          - {{name: riser, what: 15 copper, across: centre 400 right of V, up: centre 300 above B, cover: 65{hole}}}
    """


def text(head="", tile="", hole=""):
    return dedent(JOB).format(head=head, tile=tile, hole=hole)


def sheets(**said):
    plan = make_plan(parse_job(text(**said), "job.yaml"))
    return [(sheet.how, sheet.back) for sheet in plan.registrations]


def test_the_tape_unless_joined_sheets_are_asked_for():
    assert sheets() == [("centre", False)]
    assert sheets(head="sheets: joined") == [("joined", False)]


def test_face_and_back():
    assert sheets(tile=", face: textured") == [("centre", True)]
    assert sheets(tile=", face: textured, template: face") == [("centre", False)]
    assert sheets(hole=", template: both") == [("centre", False), ("centre", True)]
    assert sheets(head="template: back", hole=", template: both") == [("centre", True)]


def test_a_roll_is_cut_to_the_tile():
    plan = make_plan(parse_job(text(head="paper: roll 1300"), "job.yaml"))
    # 1198, 118.5 for head, panels, black band and foot, 67 for margins, frames and insets: 1383.5, so 1390; no shorter
    # than it is wide.
    assert (paper_of(plan.say).width, paper_of(plan.say).height) == (1300.0, 1390.0)
    assert [sheet.how for sheet in plan.registrations] == ["corner"]


def test_the_printer_s_margin_comes_from_the_tools(tmp_path):
    (tmp_path / "tools.yaml").write_text("printer: {margin: 14}\n", encoding="utf-8")
    (tmp_path / "job.yaml").write_text(text(), encoding="utf-8")
    from cutmarks.job import load_job

    plan = make_plan(load_job(tmp_path / "job.yaml"))
    assert paper_of(plan.say).margin == 14.0


@pytest.mark.parametrize(
    ("options", "names"),
    [
        ((), {"field_1-r1_face_1"}),
        (("--back",), {"field_1-r1_back_1"}),
        (("--joined",), {f"field_1-r1_face_{number}" for number in range(1, 7)}),
    ],
)
def test_the_command_s_wishes(tmp_path, options, names):
    (tmp_path / "job.yaml").write_text(text(), encoding="utf-8")
    result = CliRunner().invoke(app, ["make", str(tmp_path / "job.yaml"), "--out", str(tmp_path / "out"), *options])
    assert result.exit_code == 0, result.output
    # Each name begins with the job and ends with the piece's fingerprint.
    made = [path.stem for path in (tmp_path / "out" / "sheets").iterdir()]
    assert names <= {name.removeprefix("one_slab__").rpartition("_")[0] for name in made}


def test_a_paper_that_is_none_is_refused_with_those_that_are(tmp_path):
    (tmp_path / "job.yaml").write_text(text(), encoding="utf-8")
    result = CliRunner().invoke(app, ["make", str(tmp_path / "job.yaml"), "--out", "x", "--paper", "foolscap"])
    assert result.exit_code == 2
    assert "is no paper: write A4" in result.output


def test_one_tile_from_behind(tmp_path):
    said = ["one", "--tile", "248x398", "--joint", "2", "--what", "15 copper", "--cover", "65"]
    said += ["--from-left-tile", "69 to 84", "--from-course-below", "107 to 122", "--out", str(tmp_path / "out")]
    face, back = (CliRunner().invoke(app, [*said, *more]) for more in ((), ("--back",)))
    assert face.exit_code == back.exit_code == 0, back.output
    (sheet,) = (tmp_path / "out" / "sheets").iterdir()
    assert "_back_1_" in sheet.name
    # The figures do not change with the face.
    assert face.output.splitlines()[0] == back.output.splitlines()[0]
