"""A page of paper with its marks, and a pile of such pages."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import islice
from typing import overload

from msgspec import Struct
from msgspec.structs import replace

from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.marks.model import Mark


class PaperSheet(Struct, frozen=True):
    """One page, full size: a sheet has no scale.

    file   where its SVG goes inside the output folder: "sheets/quay_cottage__splash_3-07_face_1_1a2b3c4d.svg".
    title  what the SVG and the PDF say that it is, in words.
    width, height  of the paper, mm.
    marks  in the frame of the paper (origin bottom left, y up), in the order of drawing.
    """

    file: str
    title: str
    width: float
    height: float
    marks: tuple[Mark[SheetFrame], ...]


class Sheets(Sequence[PaperSheet]):
    """Sheets that are known by their files, each drawn only when its turn comes and kept by nobody.

    So a large job is never held as a whole. Going through them draws them; going through them again draws them again,
    alike.
    """

    __slots__ = ("_draw", "files")

    def __init__(self, files: Sequence[str], draw: Callable[[], Iterator[PaperSheet]]) -> None:
        """`draw` begins to draw them from the first on; `files` are the sheets' own, in that order."""
        self.files = tuple(files)
        self._draw = draw

    def __len__(self) -> int:
        """How many there are; none is drawn."""
        return len(self.files)

    def __iter__(self) -> Iterator[PaperSheet]:
        """They are drawn one by one."""
        return self._draw()

    @overload
    def __getitem__(self, which: int) -> PaperSheet: ...

    @overload
    def __getitem__(self, which: slice) -> tuple[PaperSheet, ...]: ...

    def __getitem__(self, which: int | slice) -> PaperSheet | tuple[PaperSheet, ...]:
        """One of them, or some: those before it are drawn as well."""
        if isinstance(which, slice):
            return tuple(self)[which]
        return next(islice(self, range(len(self))[which], None))


class Series(Sequence[PaperSheet]):
    """Pages that say which of how many they are: their number is known only when the last of them is set.

    A writer takes the `bodies`, which are set one by one and kept by nobody, and puts what is `around` each to it when
    all are there. Whoever goes through the pages themselves, or counts them, has them set for it.

    width, height  of the paper, mm.
    """

    __slots__ = ("_around", "_bodies", "height", "width")

    def __init__(
        self,
        size: tuple[float, float],
        bodies: Callable[[], Iterator[tuple[Mark[SheetFrame], ...]]],
        around: Callable[[int, int], PaperSheet],
    ) -> None:
        """`bodies` begins to set them; `around` is the page of a number, of so many, with its head and foot alone."""
        self.width, self.height = size
        self._bodies = bodies
        self._around = around

    def bodies(self) -> Iterator[tuple[Mark[SheetFrame], ...]]:
        """What each page holds but for what is around it."""
        return self._bodies()

    def around(self, number: int, count: int) -> PaperSheet:
        """The page of a number, from 1, of so many: its head and foot alone, which are drawn before its body."""
        return self._around(number, count)

    def __len__(self) -> int:
        """How many there are: all are set to be counted."""
        return sum(1 for _ in self.bodies())

    def __iter__(self) -> Iterator[PaperSheet]:
        """The whole pages, all at once."""
        bodies = list(self.bodies())
        for number, body in enumerate(bodies, start=1):
            sheet = self.around(number, len(bodies))
            yield replace(sheet, marks=(*sheet.marks, *body))

    @overload
    def __getitem__(self, which: int) -> PaperSheet: ...

    @overload
    def __getitem__(self, which: slice) -> tuple[PaperSheet, ...]: ...

    def __getitem__(self, which: int | slice) -> PaperSheet | tuple[PaperSheet, ...]:
        """One of the whole pages, or some."""
        return tuple(self)[which]
