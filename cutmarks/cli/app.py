"""The front door: the group of commands, and the one place where every way to end becomes an exit code.

A command's module is imported when it is called, and it goes through `cutmarks.load_job`, `cutmarks.make_plan` and
`cutmarks.write_job`, which fetch what they need in their turn: `cutmarks check` never loads a file library.
"""

from __future__ import annotations

import gc
import importlib
import os
import sys
import traceback
from collections.abc import Mapping

import click

from cutmarks import __version__
from cutmarks.cli.ending import Exit, WorkDone, exit_for, own_fault, said, sentence, work_of
from cutmarks.cli.loading import loading_once
from cutmarks.cli.options import CONTEXT, TRACE, trace_option
from cutmarks.cli.terminal import NotPrinted, silence, stand_in, tell
from cutmarks.errors import CutmarksError

EPILOG = (
    "Exit codes: 0 done; 1 done, but something says STOP; 2 nothing written, the sentence says why; "
    "4 a fault of cutmarks itself."
)


COMMANDS: Mapping[str, str] = {
    "page": "Enter a job, look at it and make its pack in the browser: no terminal, no YAML.",
    "one": "Say where the hole goes on one tile whose neighbours are fixed.",
    "new": "Ask for the measurements, a line for each thing, and write a commented job.",
    "setout": "Say where to start: the best few ways, with what each leaves at edges, windows and holes.",
    "check": "Print each hole's four measures and wall checks, and what to know before cutting.",
    "make": "Write templates, job sheet, wall page, DXF, lists and plan.json into a folder.",
    "order": "Print the set-out and the order of work of each wall and floor: batten, rod, cuts, day two.",
    "buy": "Print what the job takes: tiles with offcuts and spares, adhesive, grout, silicone.",
    "found": "Take what was read at the wall: the hole moves, and its sheet is made anew.",
    "rooms": "Say which rooms of a site what was cut for their type fits, and what is cut anew.",
    "shop": "Write a pack for the workshop: cut list, labels, one drawing for all pieces that are alike.",
    "fittings": "List pipes, boxes, plates and covers with their sizes and sources.",
    "printer": "Measure a printer, so that its sheets come out at their true size.",
    "help": "List the pages to read beside a job file, or print one.",
}
"""The commands as they are listed, each with the first sentence of its help, so that a list loads none of them; each
is a function of the same name in a module of the same name."""


class Commands(click.Group):
    """A group that fetches a command when it is called, and turns errors into sentences and exit codes."""

    def list_commands(self, _ctx: click.Context) -> list[str]:
        """The commands in the order in which a tiler meets them."""
        return list(COMMANDS)

    def format_commands(self, _ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Write the list of commands from the table."""
        room = formatter.width - 6 - max(map(len, COMMANDS))
        with formatter.section("Commands"):
            formatter.write_dl(
                [(name, click.Command(name, help=text).get_short_help_str(room)) for name, text in COMMANDS.items()]
            )

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command of that name; for an unknown one all are fetched, so that the nearest can be named."""
        wanted = (cmd_name,) if cmd_name in (*COMMANDS, *self.commands) else COMMANDS
        with loading_once():
            for name in wanted:
                if name not in self.commands:
                    self.add_command(getattr(importlib.import_module(f"cutmarks.cli.{name}"), name))
        return super().get_command(ctx, cmd_name)

    def make_context(
        self, info_name: str | None, args: list[str], parent: click.Context | None = None, **extra: object
    ) -> click.Context:
        """The context of a call; here a call of the group itself is refused, and its help page printed."""
        try:
            return super().make_context(info_name, args, parent, **extra)
        except (click.ClickException, BrokenPipeError) as error:
            raise click.exceptions.Exit(_refused(error, WorkDone())) from None
        except OSError as error:
            raise click.exceptions.Exit(_refused(NotPrinted("", error), WorkDone())) from None

    def invoke(self, ctx: click.Context) -> None:
        """Run the command that was called, then end with its exit code."""
        ctx.exit(self._ended(ctx))

    def _ended(self, ctx: click.Context) -> Exit:
        work = work_of(ctx)
        try:
            ending = super().invoke(ctx)
            return ending if isinstance(ending, Exit) else Exit.DONE
        except click.exceptions.Exit:
            raise
        except (click.ClickException, NotPrinted, BrokenPipeError) as error:
            return _refused(error, work)
        except (KeyboardInterrupt, EOFError, click.Abort) as error:
            return _ended_early(error, work)
        except CutmarksError as error:
            ending = exit_for(error)
            _explain(error, own_fault(error, work) if ending is Exit.OWN_FAULT else said(error), ctx)
            return ending
        except Exception as error:
            if isinstance(error, OSError) and error.filename is None and not work.what:
                # No file is named: it is click's own printing of a help page. Files are opened by name.
                return _refused(NotPrinted("", error), work)
            _explain(error, own_fault(error, work), ctx)
            return Exit.OWN_FAULT


@click.group(cls=Commands, context_settings=CONTEXT, epilog=EPILOG)
@click.version_option(__version__, "-V", "--version", message="cutmarks %(version)s")
@trace_option
def app() -> None:
    """From what was measured to where each hole goes on each tile.

    `cutmarks one` for a single tile; `cutmarks new`, `check` and `make` for a whole job.
    """


def main() -> None:
    """Run the command line and end the process with one of the codes of `Exit`."""
    stand_in()
    # A plug-in that another program brought for pydantic has no say in what is written; nor is one looked for.
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")
    # What a command makes it keeps nearly to its end: to look every 700 values for rings among them finds none.
    gc.set_threshold(50_000, 20, 20)
    app(prog_name="cutmarks")


def _explain(error: Exception, sentence: str, ctx: click.Context) -> None:
    """Say what was wrong; with --trace also where in the program it was found."""
    tell(sentence, err=True)
    if ctx.meta.get(TRACE):
        tell("".join(traceback.format_exception(error)), err=True, as_it_is=True)


def _refused(error: click.ClickException | NotPrinted | BrokenPipeError, work: WorkDone) -> Exit:
    """The call is refused, or standard output refuses what is printed: say so on stderr, as far as that goes."""
    if isinstance(error, click.ClickException):
        try:
            error.show()
        except OSError:
            silence(sys.stderr)
        return Exit.NOTHING_WRITTEN
    silence(sys.stdout)
    outcome = sentence(work.outcome)
    if isinstance(error, BrokenPipeError):
        if not work.done:
            return Exit.NOBODY_READS
        tell(f"{outcome} Nobody read all that was said of it.", err=True)
        return work.ending
    if not work.done:
        tell(
            f"Standard output takes nothing ({error.reason}): print to a terminal, or into a file where there is room. "
            f"{outcome}",
            err=True,
        )
        return Exit.NOTHING_WRITTEN
    tell([f"{outcome} Standard output takes nothing ({error.reason}); it was to say:", error.text], err=True)
    return work.ending


def _ended_early(error: BaseException, work: WorkDone) -> Exit:
    """Ended from the keyboard, or because piped answers ran out: click tells both as Abort."""
    cause = error.__context__ if isinstance(error, click.Abort) else error
    tell("", err=True)
    if isinstance(cause, EOFError):
        tell(f"The answers ended before the last question: {work.outcome}.", err=True)
        return Exit.NOTHING_WRITTEN
    tell(f"Ended from the keyboard: {work.outcome}.", err=True)
    return work.ending if work.done else Exit.INTERRUPTED
