"""What several commands share: the job's path, the tools file, --trace."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import click

if TYPE_CHECKING:
    from cutmarks.job.load import OwnFiles
    from cutmarks.units import Unit

CONTEXT = {"help_option_names": ["-h", "--help"], "max_content_width": 100}
TRACE = "cutmarks.trace"
TOOLS = "tools.yaml"
SHOP = "shop.yaml"
FITTINGS = "fittings.toml"
PRINTERS = "printers.json"
PAPERS = ("A4", "A3", "Letter", "Tabloid", "any", "A2", "A1", "A0")
"""The papers that are shown in --help; a test holds them to those that `registering.paper` knows."""


class PaperType(click.ParamType):  # type: ignore[type-arg]
    """A paper as a job names it: by its usual name, or a plotter's sheet or roll in mm."""

    name = "paper"

    def get_metavar(self, param: click.Parameter, ctx: click.Context | None = None) -> str:
        """The usual names, as they are shown in --help."""
        return "|".join(PAPERS)

    def convert(self, value: str, param: click.Parameter | None, ctx: click.Context | None) -> str:
        """The paper's name in its known form; a usage error where there is none."""
        from cutmarks.job.tools import parse_paper  # late: a command that needs no job does not load its models
        from cutmarks.job.words import Setting

        try:
            return parse_paper(value, Setting())
        except ValueError as error:
            self.fail(str(error), param, ctx)


PAPER = PaperType()


def length(text: str, unit: Unit, option: str) -> float:
    """A length as an option has it, mm; a usage error where it is none.

    No type of click's own: what a bare figure is in, another option says, and the job takes some as they were typed.
    """
    from cutmarks.units import parse_length  # late: help and version load nothing that they do not need

    try:
        return parse_length(text, unit).mm
    except ValueError as error:
        raise click.BadParameter(str(error), param_hint=option) from None


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


def shop_option(command: AnyCommand) -> AnyCommand:
    """--shop FILE: what the shop that cuts asks for."""
    return click.option(
        "--shop",
        "shop_file",
        type=click.Path(exists=True, dir_okay=False, path_type=Path),
        help=f"What the shop that cuts asks for. Without it: {SHOP} beside the job, or in your configuration folder.",
    )(command)


def printer_options(command: AnyCommand) -> AnyCommand:
    """--printer NAME and --tray TRAY: the measured printer that the sheets are corrected for."""
    tray = click.option("--tray", default="", metavar="TRAY", help="The tray of that printer, where it was named.")
    printer = click.option(
        "--printer", metavar="NAME", help="Correct the sheets for this printer: see cutmarks printer --help."
    )
    return printer(tray(command))


def replace_option(command: AnyCommand) -> AnyCommand:
    """--replace: the output of another job may make room for this one."""
    return click.option(
        "--replace",
        "replace_other",
        is_flag=True,
        help="Also replace the output of another job. What is no output of cutmarks is never replaced.",
    )(command)


def job_argument(command: AnyCommand) -> AnyCommand:
    """JOB: the job file."""
    return click.argument("job", type=click.Path(exists=True, dir_okay=False, path_type=Path))(command)


def fittings_option(command: AnyCommand) -> AnyCommand:
    """--fittings FILE: the tiler's own fittings."""
    return click.option(
        "--fittings",
        "own",
        type=click.Path(exists=True, dir_okay=False, path_type=Path),
        help=f"Your own fittings. Without it: {FITTINGS} beside the job, or in your configuration folder.",
    )(command)


def own_folder() -> Path:
    """Where the user's own files are kept."""
    folder = Path(click.get_app_dir("cutmarks", roaming=False))
    # XDG_CONFIG_HOME that is empty, or no whole path, is as if it were not set (XDG Base Directory Specification).
    return folder if folder.is_absolute() else Path.home() / ".config" / "cutmarks"


def printers_file() -> Path:
    """Where measured printers are kept."""
    return own_folder() / PRINTERS


def fittings_for(job: Path | None, given: Path | None) -> Path | None:
    """The file of fittings: the one given, or the user's own where none lies beside the job."""
    return _own_file(FITTINGS, job, given)


def tools_for(job: Path | None, given: Path | None) -> Path | None:
    """The tools file: the one given, or the user's own where none lies beside the job (there the job finds it)."""
    return _own_file(TOOLS, job, given)


def own_files(job: Path, tools: Path | None = None, shop: Path | None = None) -> OwnFiles:
    """Those of a job: the ones given, or the user's own where none lie beside it."""
    return {"tools": tools_for(job, tools), "fittings": fittings_for(job, None), "shop": shop_for(job, shop)}


def shop_for(job: Path | None, given: Path | None) -> Path | None:
    """The shop's file: the one given, or the user's own where none lies beside the job."""
    return _own_file(SHOP, job, given)


def _own_file(name: str, job: Path | None, given: Path | None) -> Path | None:
    # What has the name and is no file is not passed over: reading it says so.
    if given is not None or (job is not None and _is_beside(name, job)):
        return given
    users = own_folder() / name
    return users if os.path.lexists(users) else None


def _is_beside(name: str, job: Path) -> bool:
    from cutmarks.job.reading import stands  # late: a command that needs no job does not load its models

    return stands(job.parent / name)


def _note_trace(ctx: click.Context, _parameter: click.Parameter, value: bool) -> None:
    if value:
        ctx.meta[TRACE] = True
