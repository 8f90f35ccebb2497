"""Loading what a command needs, when it is called and not before."""

from __future__ import annotations

import gc
import sys
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def loading_once() -> Iterator[None]:
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
