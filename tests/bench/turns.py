"""Two pieces of work done in turns, in one process and by processor time, and one judged by the other.

What else the machine does then falls on both alike; the quickest turn of each counts. A bar is worth something only
where it can fail: each has a fault that can be planted, with which it has to.
"""

from __future__ import annotations

import gc
import time
from collections.abc import Callable, Sequence
from contextlib import AbstractContextManager

from msgspec import Struct

Work = Callable[[], object]


class Bar(Struct, frozen=True, dict=True):
    """Some work may cost at most so many times what a yardstick costs.

    fault  makes the work as slow as it was, or would be, with a fault that the bar is there for.
    """

    what: str
    work: Work
    yardstick: Work
    most: float
    fault: Callable[[], AbstractContextManager[object]]


def seconds(work: Work) -> float:
    """The processor time of one turn, s."""
    gc.collect()
    begun = time.process_time()
    work()
    return time.process_time() - begun


def in_turns(one: Work, other: Work, rounds: int) -> tuple[list[float], list[float]]:
    """What each took in its turns, s; both are done once before, so that all is loaded."""
    one(), other()
    took = [(seconds(one), seconds(other)) for _ in range(rounds)]
    return [mine for mine, _ in took], [theirs for _, theirs in took]


def judged(what: str, work: Sequence[float], yardstick: Sequence[float], most: float) -> bool:
    """Print the ratio of the quickest turns beside its bar; whether it holds."""
    ratio = min(work) / min(yardstick)
    verdict = "holds" if ratio <= most else "TOO MUCH"
    print(f"{what}: {min(work):.3f} s to {min(yardstick):.3f} s, ratio {ratio:.2f} (at most {most}) {verdict}")
    return ratio <= most


def held(bar: Bar, rounds: int) -> bool:
    """Whether the work stays under its bar."""
    return judged(bar.what, *in_turns(bar.work, bar.yardstick, rounds), bar.most)


def bites(bar: Bar, rounds: int) -> bool:
    """Whether the bar fails with its fault planted in the work alone."""

    def faulty() -> object:
        with bar.fault():
            return bar.work()

    return not judged(f"with a fault, {bar.what}", *in_turns(faulty, bar.yardstick, rounds), bar.most)
