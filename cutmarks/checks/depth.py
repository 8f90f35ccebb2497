"""Rules about depth: whether a fitting ends up within its range, a box at the face, a screw in its thread."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from msgspec import Struct

from cutmarks.checks.model import Finding
from cutmarks.checks.pieces import listed
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.job.examples import in_unit_of
from cutmarks.job.thing_size import shape_said
from cutmarks.limits import Limits
from cutmarks.locating.model import Located
from cutmarks.openings.model import CutPiece
from cutmarks.tiling.unlaid import Layers
from cutmarks.units import Style, say

if TYPE_CHECKING:
    from cutmarks.job.models import HoleSpec
    from cutmarks.readings import DepthRead


class BuildUp(Struct, frozen=True):
    """What lies between where a depth was read from and the tile's face, mm: board, bed and tile."""

    board: float
    bed: float
    tile: float

    @property
    def total(self) -> float:
        """All of it, mm."""
        return self.board + self.bed + self.tile

    def said(self, style: Style) -> str:
        """The sum in words: "board 12 + bed 4 + tile 9"."""
        parts = (("board", self.board), ("bed", self.bed), ("tile", self.tile))
        return " + ".join(f"{word} {say(mm, style)}" for word, mm in parts if mm > 0.0) or "nothing"


def bed_of(tile: Layers, limits: Limits) -> float | None:
    """The bed as written, else about half of the trowel's notch, mm; None where neither was said."""
    if tile.bed is not None:
        return tile.bed
    return None if tile.notch is None else tile.notch * limits.bed_part.value


def build_up(start: str, tile: Layers, board: float | None, limits: Limits) -> BuildUp | None:
    """What comes on from `start` (studs, board, face) to the tile's face; None where a part of it was not said."""
    if start == "face":
        return BuildUp(0.0, 0.0, 0.0)
    bed = bed_of(tile, limits)
    if bed is None or tile.thickness is None or (start == "studs" and board is None):
        return None
    return BuildUp(board if start == "studs" and board is not None else 0.0, bed, tile.thickness)


def sits_right(
    located: Sequence[Located], over: Mapping[str, Sequence[Layers]], board: float | None, limits: Limits, style: Style
) -> Iterator[Finding]:
    """Every fitting whose depth was read against its range, a box against the face, its screws against the thread.

    `over` has the tiles that come over each, with their beds; nothing is said of one over which none comes.
    """
    unknown: list[str] = []
    for thing in located:
        spec = thing.spec
        if spec.depth_read is None:
            continue
        for tile in over.get(spec.name, ()):
            built = build_up(spec.depth_read.start, tile, board, limits)
            if built is None:
                unknown.append(spec.name)
                continue
            deep = spec.depth_read.mm + built.total
            if spec.depth_range is not None:
                yield from _in_range(spec, deep, built, limits, style)
            elif shape_said(spec) == "box":
                yield from _at_the_face(spec, deep, built, limits, style)
            if spec.screw is not None:
                yield from _screw_bites(spec, deep, limits, style)
    if unknown:
        names = list(dict.fromkeys(unknown))
        yield Finding(
            "note",
            "depth not known",
            tuple(names),
            in_unit_of(
                style.unit,
                f"{listed(names)}: the depth to the tile's face needs the tile's thickness and its bed (or the "
                "trowel's notch), and from the studs the board. Write thickness: 9, notch: 8, board: 12.5.",
            ),
        )


def _in_range(spec: HoleSpec, deep: float, built: BuildUp, limits: Limits, style: Style) -> Iterator[Finding]:
    assert spec.depth_range is not None
    assert spec.depth_read is not None
    least, most = spec.depth_range
    figures = (
        f"{spec.name}: {_from(spec.depth_read, style)}, with {built.said(style)} it {_at(deep, style)} "
        f"the tile's face; its range is {say(least, style)} to {say(most, style)}"
    )
    if deep > most + TOUCH:
        text = f"{figures}: {say(deep - most, style)} too deep. Bring it forward or get the maker's extension now."
        yield Finding("stop", "too deep", (spec.name,), text, deep, most, "the maker's range")
    elif deep < least - TOUCH:
        text = f"{figures}: {say(least - deep, style)} too far out. Set it back, or pack the wall out."
        yield Finding("stop", "too far out", (spec.name,), text, deep, least, "the maker's range")
    elif min(most - deep, deep - least) < limits.depth_tight.value - TOUCH:
        text = f"{figures}: tight. Keep the bed to {say(built.bed, style)}."
        near = most if most - deep < deep - least else least
        yield Finding("warn", "depth is tight", (spec.name,), text, deep, near, limits.depth_tight.source)


def _at_the_face(spec: HoleSpec, deep: float, built: BuildUp, limits: Limits, style: Style) -> Iterator[Finding]:
    if deep < -TOUCH:
        text = f"{spec.name}: its box stands {say(-deep, style)} proud of the tile's face. Set it back."
        yield Finding("stop", "box stands out", (spec.name,), text, deep, 0.0, "geometry")
    elif deep > limits.set_back.value + TOUCH:
        yield Finding(
            "warn",
            "box set back",
            (spec.name,),
            f"{spec.name}: with {built.said(style)} its box lies {say(deep, style)} behind the tile's face (at most "
            f"{say(limits.set_back.value, style)}). An extension ring, or bring it forward.",
            deep,
            limits.set_back.value,
            limits.set_back.source,
        )


def _screw_bites(spec: HoleSpec, deep: float, limits: Limits, style: Style) -> Iterator[Finding]:
    assert spec.screw is not None
    bite = spec.screw - max(deep, 0.0)
    if bite < limits.screw_bite.value - TOUCH:
        wanted = max(deep, 0.0) + limits.screw_bite.value
        yield Finding(
            "warn",
            "screw too short",
            (spec.name,),
            f"{spec.name}: its screws of {say(spec.screw, style)} {_bites(bite, style)}. "
            f"Take {say(wanted, style)} or longer, and the plate's own thickness more.",
            bite,
            limits.screw_bite.value,
            limits.screw_bite.source,
        )


def _from(read: DepthRead, style: Style) -> str:
    """The depth as read: "66 behind the board"."""
    return f"{say(abs(read.mm), style)} {'behind' if read.mm >= 0.0 else 'proud of'} the {read.start}"


def _at(deep: float, style: Style) -> str:
    """Where a mark is, deep behind the tile's face, mm: "lies 12 behind", "stands 3 proud of"."""
    return f"lies {say(deep, style)} behind" if deep >= 0.0 else f"stands {say(-deep, style)} proud of"


def _bites(mm: float, style: Style) -> str:
    """How much of a screw is left for its thread, mm; where it is too short to reach that, by how much."""
    if mm < 0.0:
        return f"end {say(-mm, style)} before the thread"
    return f"have {say(mm, style)} left for the thread" if mm > TOUCH else "just reach the thread"


def pieces_by_hole(pieces: Sequence[CutPiece]) -> dict[str, list[CutPiece]]:
    """The pieces that each opening is cut in, by the opening's name."""
    met: dict[str, list[CutPiece]] = defaultdict(list)
    for piece in pieces:
        for cut in piece.cuts:
            met[cut.opening.name].append(piece)
    return met
