"""Running commands as a tiler does: worked example W1 as a file, and the command line in one process."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from cutmarks.cli.app import app

W1 = """\
job: W1
tiles: {rib: {size: 248 x 398, measured: yes}}
surfaces:
  - name: wall
    kind: wall
    lines: {V: "plumb, middle of the sink", B: "level, top of the batten"}
    areas:
      - {name: field, tile: rib, joint: 2, from: B, start: {across: joint on V, up: sits on B}}
    holes:
      - {name: riser, what: 15 copper, across: 318 to 333 right of V, up: 905 to 920 above B, cover: 65}
"""

Run = Callable[..., Result]


@pytest.fixture
def run(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Run:
    """Run `cutmarks` with these arguments in an empty folder, away from the user's own tools."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    monkeypatch.setenv("COLUMNS", "100")
    return lambda *arguments, **options: CliRunner().invoke(app, [str(a) for a in arguments], **options)


@pytest.fixture
def w1(tmp_path: Path) -> Path:
    """The job file of worked example W1."""
    path = tmp_path / "w1.yaml"
    path.write_text(W1, encoding="utf-8")
    return path
