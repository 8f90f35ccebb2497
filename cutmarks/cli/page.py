"""cutmarks page: the desk page, served to this machine's own browser."""

from __future__ import annotations

import html
import os
import secrets
import socket
import tempfile
import threading
import webbrowser
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from functools import partial
from pathlib import Path

import click

from cutmarks.cli.ending import Exit
from cutmarks.cli.fittings import all_fittings, catalogue_lines
from cutmarks.cli.help import TOPICS
from cutmarks.cli.options import own_files, printers_file, trace_option
from cutmarks.cli.templates import find_template
from cutmarks.cli.terminal import tell
from cutmarks.errors import OutputError

WANTED = (
    "The page needs a few things that are not installed here: pipx install 'cutmarks[page]', or "
    "pip install 'cutmarks[page]'. Nothing was started."
)


@click.command("page")
@click.argument("folder", default=".", type=click.Path(exists=True, file_okay=False, resolve_path=True, path_type=Path))
@click.option(
    "--port", type=click.IntRange(0, 65535), default=0, help="Serve at this port; without it, any that is free."
)
@click.option("--no-browser", is_flag=True, help="Open no browser, only say where the page is.")
@trace_option
def page(folder: Path, port: int, no_browser: bool) -> Exit:
    """Enter a job, look at it and make its pack in the browser: no terminal, no YAML.

    FOLDER has the jobs; without it, the one that you are in. The page is served to this machine alone, and nothing is
    fetched from anywhere. Every change is kept beside the job until it is saved. Ctrl-C ends it.
    """
    try:
        import jinja2  # noqa: F401 - whether all is there is asked
        import uvicorn

        from cutmarks.desk.app import Desk, application
    except ImportError as error:
        if (error.name or "").partition(".")[0] not in ("jinja2", "uvicorn", "starlette", "anyio", "h11"):
            raise
        raise OutputError(WANTED) from None
    desk = Desk(folder, secrets.token_urlsafe(24), own_files, _starter, printers_file(), _help_pages())
    with _listening(port) as here:
        desk.port = here.getsockname()[1]
        address = f"http://127.0.0.1:{desk.port}{desk.root}"
        with _way_in(address) as way_in:
            if not no_browser:
                webbrowser.open(way_in.as_uri())
            tell([f"The jobs of {folder} are at", address, "Ctrl-C ends it."], as_it_is=True)
            threading.Thread(target=desk.workers.warm, daemon=True).start()
            settings = uvicorn.Config(
                application(desk),
                log_level="critical",
                access_log=False,
                server_header=False,
                date_header=False,
                lifespan="off",
                timeout_graceful_shutdown=2,
            )
            try:
                uvicorn.Server(settings).run(sockets=[here])
            except KeyboardInterrupt:
                pass
            finally:
                desk.workers.close()
    return Exit.DONE


def _starter(name: str) -> bytes:
    """A starter job. Raises OutputError: there is none of that name."""
    return find_template(name).read_bytes()


def _help_pages() -> dict[str, tuple[str, Callable[[], str]]]:
    """The pages of `cutmarks help`, and the catalogue, for who has no terminal to read them in."""
    pages: dict[str, tuple[str, Callable[[], str]]] = {
        name: (about, partial(_help_page, name)) for name, (_, about) in TOPICS.items()
    }
    return {**pages, "fittings": ("pipes, boxes, plates and covers with their sizes and sources", _catalogue)}


def _catalogue() -> str:
    return "\n".join(catalogue_lines(all_fittings(None)))


def _help_page(name: str) -> str:
    return "\n".join(TOPICS[name][0](""))


@contextmanager
def _listening(port: int) -> Iterator[socket.socket]:
    """A socket that this machine alone can reach. Raises OutputError: the port is taken."""
    here = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    try:
        if os.name == "posix":
            here.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            here.bind(("127.0.0.1", port))
            here.listen()  # before anybody is told: who asks at once is answered when all is loaded
        except OSError as error:
            raise OutputError(
                f"Port {port} cannot be had ({(error.strerror or str(error)).lower()}): leave out --port."
            ) from error
        yield here
    finally:
        here.close()


@contextmanager
def _way_in(address: str) -> Iterator[Path]:
    """A file that leads the browser to the page: a browser's arguments are seen by all users, this file by its own."""
    handle, name = tempfile.mkstemp(prefix="cutmarks-", suffix=".html")
    path = Path(name)
    try:
        with os.fdopen(handle, "w", encoding="utf-8") as file:
            file.write(
                '<!doctype html><meta charset="utf-8"><meta name="referrer" content="no-referrer">'
                f'<meta http-equiv="refresh" content="0;url={html.escape(address)}"><title>cutmarks</title>'
                f'<a href="{html.escape(address)}">To the page</a>'
            )
        yield path
    finally:
        with suppress(OSError):
            path.unlink()
