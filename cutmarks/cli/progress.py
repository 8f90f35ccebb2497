"""How far a long run is, on one line of a terminal; nothing where nobody looks."""

from __future__ import annotations

import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

from cutmarks.cli.terminal import hint

if TYPE_CHECKING:
    from cutmarks.plan.model import Progress

PATIENCE_S = 0.5
"""A run that is done sooner says nothing about being on its way, seconds."""
EVERY_S = 0.1
"""The line is written anew no more often than this, seconds."""


@contextmanager
def progress_line() -> Iterator[Progress | None]:
    """A callback that keeps one line on stderr up to date, and wipes it at the end; None where that is no terminal."""
    if sys.stderr is None or not sys.stderr.isatty():
        yield None
        return
    last = time.monotonic() + PATIENCE_S - EVERY_S
    shown = ""

    def show(name: str, done: int, count: int) -> None:
        nonlocal last, shown
        now = time.monotonic()
        if now - last < EVERY_S:
            return
        last = now
        line = f"{done} of {count}  {name}"
        hint(f"\r{line.ljust(len(shown))}")
        shown = line

    try:
        yield show
    finally:
        if shown:
            hint(f"\r{' ' * len(shown)}\r")
