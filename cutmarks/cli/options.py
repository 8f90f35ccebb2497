"""What several commands share: the job's path, the tools file, --trace."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar

import click
import platformdirs

from cutmarks.registering.paper import PAPERS

CONTEXT = {"help_option_names": ["-h", "--help"], "max_content_width": 100}
TRACE = "cutmarks.trace"
TOOLS = "tools.yaml"
PAPER = click.Choice(tuple(PAPERS))

AnyCommand = TypeVar("AnyCommand", bound=Callable[..., Any])


def trace_option(command: AnyCommand) -> AnyCommand:
    """--trace, on the group and on every command alike."""
    return click.option(
        "--trace",
        is_flag=True,
        expose_value=False,
        callback=_note_trace,
        help="Also print where in the program an error came from.",
    )(command)


def tools_option(command: AnyCommand) -> AnyCommand:
    """--tools FILE: the tiler's own cores, discs and printer."""
    return click.option(
        "--tools",
        type=click.Path(exists=True, dir_okay=False, path_type=Path),
        help=f"Your cores, discs and printer. Without it: {TOOLS} beside the job, or in your configuration folder.",
    )(command)


def job_argument(command: AnyCommand) -> AnyCommand:
    """JOB: the job file."""
    return click.argument("job", type=click.Path(exists=True, dir_okay=False, path_type=Path))(command)


def tools_for(job: Path | None, given: Path | None) -> Path | None:
    """The tools file: the one given, or the user's own where none lies beside the job (there the job finds it)."""
    if given is not None or (job is not None and (job.parent / TOOLS).is_file()):
        return given
    users = platformdirs.user_config_path("cutmarks", appauthor=False) / TOOLS
    return users if users.is_file() else None


def _note_trace(ctx: click.Context, _parameter: click.Parameter, value: bool) -> None:
    if value:
        ctx.meta[TRACE] = True
