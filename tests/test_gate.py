"""The project about itself: version, public names, help, and what the README promises to whoever runs it."""

from __future__ import annotations

import re
import subprocess
import sys
import tomllib

import click
import pytest

import cutmarks
from cutmarks.cli.app import COMMANDS, app

MARK = "<!-- test-command -->"


def test_the_newest_changelog_entry_is_the_version(repository):
    changelog = (repository / "CHANGELOG.md").read_text(encoding="utf-8")
    released = re.findall(r"^## (\d+\.\d+\.\d+)", changelog, re.MULTILINE)
    assert released[0] == cutmarks.__version__


def test_every_public_name_is_there():
    for name in cutmarks.__all__:
        assert getattr(cutmarks, name) is not None
    assert sorted(cutmarks._HOME) == sorted(set(cutmarks.__all__) - {"__version__"})


def test_an_unknown_public_name_is_an_attribute_error():
    with pytest.raises(AttributeError, match="has no attribute 'make_plam'"):
        _ = cutmarks.make_plam


def test_importing_the_package_loads_none_of_its_dependencies():
    declared = ("pydantic", "ruamel", "click", "ezdxf", "lxml", "pikepdf", "fontTools")
    code = f"import cutmarks, sys; print([name for name in {declared!r} if name in sys.modules])"
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert ran.stdout.strip() == "[]"


def test_every_command_and_option_has_help():
    for name in COMMANDS:
        command = app.get_command(click.Context(app), name)
        assert command is not None
        assert command.help, name
        assert " ".join(command.help.split()).startswith(COMMANDS[name].removesuffix(".")), "the list says the same"
        assert "\\b" not in command.help, f"{name}: click's own sign is the backspace itself"
        for parameter in command.params:
            if isinstance(parameter, click.Option):
                assert parameter.help, f"{name} {parameter.opts}"


def test_the_readme_shows_every_command(repository):
    readme = (repository / "README.md").read_text(encoding="utf-8")
    assert [name for name in COMMANDS if f"cutmarks {name}" not in readme] == []


def test_the_readme_has_one_test_command_and_it_runs_the_tests(repository):
    readme = (repository / "README.md").read_text(encoding="utf-8")
    assert readme.splitlines().count(MARK) == 2
    inside = readme.split(MARK)[1]
    lines = [line for line in inside.splitlines() if line.strip() and not line.startswith("```")]
    assert len(lines) == 1
    assert "pip install -e '.[dev]'" in lines[0]
    assert "-m pytest" in lines[0]


def test_what_is_used_behind_its_public_face_has_an_upper_bound(repository):
    project = tomllib.loads((repository / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    (asked,) = [one for one in project["dependencies"] if re.match(r"ruamel\.yaml\W", one)]
    assert re.search(r",<[0-9.]+$", asked), asked


def test_the_wheel_carries_the_templates(repository):
    project = tomllib.loads((repository / "pyproject.toml").read_text(encoding="utf-8"))
    wheel = project["tool"]["hatch"]["build"]["targets"]["wheel"]
    assert wheel["force-include"] == {"templates": "cutmarks/_templates"}
    assert list((repository / "templates").glob("*.yaml"))
