"""What a command loads: nothing of the job for its version and its help."""

from __future__ import annotations

import subprocess
import sys

import pytest

from cutmarks.cli import options
from cutmarks.fittings import OWN_FILE
from cutmarks.registering import paper

LOADED = """
import sys
from cutmarks.cli.app import main
try:
    main()
finally:
    print(*(name for name in sys.modules if name.startswith("cutmarks.")), *(n for n in sys.modules if "." not in n),
          file=sys.stderr)
"""


@pytest.mark.parametrize(
    "arguments", [("--version",), ("--help",), ("check", "--help"), ("make", "--help")], ids=" ".join
)
def test_version_and_help_load_nothing_of_the_job(arguments):
    ran = subprocess.run([sys.executable, "-c", LOADED, *arguments], capture_output=True, text=True, check=True)
    assert ran.stdout
    loaded = set(ran.stderr.split())
    assert not loaded & {"pydantic", "ruamel"}
    own = {name.split(".")[1] for name in loaded if name.startswith("cutmarks.")}
    assert own <= {"cli", "errors"}, own


def test_what_stands_in_the_command_line_is_what_stands_below():
    assert tuple(paper.PAPERS) == options.PAPERS
    assert options.FITTINGS == OWN_FILE


@pytest.mark.skipif(sys.platform in ("win32", "darwin"), reason="these have folders of their own")
def test_the_users_own_files_lie_where_the_desktops_say(monkeypatch, tmp_path):
    # XDG Base Directory Specification: ~/.config where the variable is empty, unset, or no whole path.
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "kept"))
    assert options.own_folder() == tmp_path / "kept" / "cutmarks"
    for unusable in ("", "kept"):
        monkeypatch.setenv("XDG_CONFIG_HOME", unusable)
        assert options.own_folder() == tmp_path / ".config" / "cutmarks"
    monkeypatch.delenv("XDG_CONFIG_HOME")
    assert options.printers_file() == tmp_path / ".config" / "cutmarks" / "printers.json"


def test_what_takes_sentences_apart_is_loaded_where_a_job_has_one(repository, tmp_path):
    job = repository / "examples" / "boot-room" / "boot-room.yaml"
    ran = subprocess.run([sys.executable, "-c", LOADED, "check", job], capture_output=True, text=True, check=False)
    assert "cutmarks.job.holes" in ran.stderr.split()
    assert "cutmarks.job.said_two" not in ran.stderr.split()
    (tmp_path / "said.yaml").write_text(
        "job: said\nunits: mm\nsurfaces:\n  - name: wall\n    kind: wall\n    lines: {V: plumb, B: level}\n"
        "    holes:\n      - hot, 15 copper, 67 to 83 left of V, 212 to 228 above B, cover 65\n",
        encoding="utf-8",
    )
    said = [sys.executable, "-c", LOADED, "check", tmp_path / "said.yaml"]
    ran = subprocess.run(said, capture_output=True, text=True, check=False)
    assert "cutmarks.job.said_two" in ran.stderr.split()
