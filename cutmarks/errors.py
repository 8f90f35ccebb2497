"""Every error that cutmarks raises on purpose, as a tree.

    CutmarksError
    |-- JobError        the job file (or a list, or a command's figures) is at fault: all faults at once
    |-- OutputError     the folder, the disk or a name stands in the way: nothing is written
    `-- GeometryError   a shape that the kernel cannot take (open, crossing itself, not finite)

Anything else that escapes is a fault of cutmarks itself; `cutmarks.cli` says so and ends with exit code 4.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager

from msgspec import Struct

JobPath = tuple[str | int, ...]
"""Where a value stands in a job: keys and list positions from the top, as in ("surfaces", 0, "holes", 2, "across")."""


class CutmarksError(Exception):
    """The root: catch this to catch all that cutmarks says on purpose."""


class GeometryError(CutmarksError):
    """A shape that no tile can be cut to."""


class OutputError(CutmarksError):
    """Nothing was written; the sentence says what is in the way."""


class Fault(Struct, frozen=True):
    """One thing that is wrong with what was read.

    `about` names the thing in the tiler's words (hole "hot", across); `sentence` says what was found, what is
    allowed and what to write; `file` and `line` (from 1) say where, None where there is no file. `path` is where that
    stands in the job, () where it is not known: two faults of one line are one all the same.
    """

    sentence: str
    about: str = ""
    file: str | None = None
    line: int | None = None
    path: JobPath = ()

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Fault) and self._told == other._told

    def __hash__(self) -> int:
        return hash(self._told)

    @property
    def _told(self) -> tuple[object, ...]:
        return self.sentence, self.about, self.file, self.line

    def __str__(self) -> str:
        where = ""
        if self.file is not None:
            where = self.file if self.line is None else f"{self.file} line {self.line}"
        head = ", ".join(part for part in (where, self.about) if part)
        return f"{head}: {self.sentence}" if head else self.sentence


class Faults:
    """The faults of what is being read or planned, each once, in the order in which they were told.

    It knows what is being looked at, and where that stands in the job: who finds something wrong says only what.
    """

    def __init__(self, make: Callable[[JobPath, str, str], Fault], told: Iterable[Fault] = ()) -> None:
        """`make` makes a fault of a path in the job, of what stands there in the tiler's words, and of a sentence."""
        self._make = make
        self._told = list(told)
        self._here: tuple[JobPath, str] = ((), "")

    def __len__(self) -> int:
        return len(self._told)

    def __iter__(self) -> Iterator[Fault]:
        return iter(dict.fromkeys(self._told))

    @contextmanager
    def about(self, thing: str, where: JobPath) -> Iterator[None]:
        """What is told inside is about a thing, in the tiler's words, that stands at `where`."""
        before, self._here = self._here, (where, thing)
        try:
            yield
        finally:
            self._here = before

    def tell(self, sentence: str, where: JobPath | None = None) -> None:
        """One fault of what is being looked at; `where` is a place of its own in it."""
        here, thing = self._here
        self._told.append(self._make(here if where is None else where, thing, sentence))

    def add(self, faults: Iterable[Fault]) -> None:
        """Faults that know already where they stand."""
        self._told += faults


class JobError(CutmarksError):
    """All the faults of a job, in the order of the file."""

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults: tuple[Fault, ...] = tuple(faults)
        super().__init__("\n".join(str(fault) for fault in self.faults))
