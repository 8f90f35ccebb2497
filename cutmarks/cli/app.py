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
from collections.abc import Iterator
from contextlib import contextmanager

import click

from cutmarks import __version__
from cutmarks.cli.ending import Exit, exit_for, own_fault, said
from cutmarks.cli.options import CONTEXT, TRACE, trace_option
from cutmarks.cli.terminal import tell
from cutmarks.errors import CutmarksError

EPILOG = (
    "Exit codes: 0 done; 1 done, but something says STOP; 2 nothing written, the sentence says why; "
    "4 a fault of cutmarks itself."
)


NAMES = ("one", "new", "check", "make", "found", "fittings", "printer")
"""The commands, as they are listed; each is a function of the same name in a module of the same name."""


@contextmanager
def _loading_once() -> Iterator[None]:
    """Import without looking for garbage on the way, nor ever again in what was imported: it all stays.

    A command is over in a third of a second, of which the collector took an eighth.
    """
    known, gc_was_on = len(sys.modules), gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if len(sys.modules) > known:
            gc.freeze()
        if gc_was_on:
            gc.enable()


class Commands(click.Group):
    """A group that fetches a command when it is called, and turns errors into sentences and exit codes."""

    def list_commands(self, _ctx: click.Context) -> list[str]:
        """The commands in the order in which a tiler meets them."""
        return list(NAMES)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command of that name; for an unknown one all are fetched, so that the nearest can be named."""
        wanted = (cmd_name,) if cmd_name in (*NAMES, *self.commands) else NAMES
        with _loading_once():
            for name in wanted:
                if name not in self.commands:
                    self.add_command(getattr(importlib.import_module(f"cutmarks.cli.{name}"), name))
        return super().get_command(ctx, cmd_name)

    def invoke(self, ctx: click.Context) -> None:
        """Run the command that was called, then end with its exit code."""
        ctx.exit(self._ended(ctx))

    def _ended(self, ctx: click.Context) -> Exit:
        try:
            ending = super().invoke(ctx)
            sys.stdout.flush()
            return ending if isinstance(ending, Exit) else Exit.DONE
        except (click.exceptions.Exit, click.ClickException):
            raise
        except BrokenPipeError:
            _stop_printing()
            return Exit.NOBODY_READS
        except (KeyboardInterrupt, EOFError, click.Abort) as error:
            return _ended_early(error)
        except CutmarksError as error:
            ending = exit_for(error)
            _explain(error, own_fault(error) if ending is Exit.OWN_FAULT else said(error), ctx)
            return ending
        except Exception as error:
            _explain(error, own_fault(error), ctx)
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
    app(prog_name="cutmarks")


def _explain(error: Exception, sentence: str, ctx: click.Context) -> None:
    """Say what was wrong; with --trace also where in the program it was found."""
    tell(sentence, err=True)
    if ctx.meta.get(TRACE):
        tell("".join(traceback.format_exception(error)), err=True)


def _ended_early(error: BaseException) -> Exit:
    """Ended from the keyboard, or because piped answers ran out: click tells both as Abort."""
    cause = error.__context__ if isinstance(error, click.Abort) else error
    tell("", err=True)
    if isinstance(cause, EOFError):
        tell("The answers ended before the last question: nothing was written.", err=True)
        return Exit.NOTHING_WRITTEN
    tell("Ended from the keyboard: nothing was written.", err=True)
    return Exit.INTERRUPTED


def _stop_printing() -> None:
    """Let what is still to be flushed at the end go nowhere, instead of into a second error."""
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, sys.stdout.fileno())
