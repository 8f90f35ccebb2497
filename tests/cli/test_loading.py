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
    assert not loaded & {"pydantic", "ruamel", "platformdirs"}
    own = {name.split(".")[1] for name in loaded if name.startswith("cutmarks.")}
    assert own <= {"cli", "errors"}, own


def test_what_stands_in_the_command_line_is_what_stands_below():
    assert tuple(paper.PAPERS) == options.PAPERS
    assert options.FITTINGS == OWN_FILE
