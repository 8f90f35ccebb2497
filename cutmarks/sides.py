"""The four sides of a tile, a piece or a surface, and values that there are four of, one for each side.

Left and right lie on the axis across, bottom and top on the axis up; from left to right, and from bottom to top, a
coordinate grows: the sign of right and top is 1, that of left and bottom -1.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from enum import StrEnum
from typing import Generic, Literal, TypeVar

from msgspec import Struct

T = TypeVar("T")
V = TypeVar("V")
Axis = Literal["across", "up"]
SurfaceKind = Literal["wall", "floor"]


class Side(StrEnum):
    """One side; its value is its word in plan.json and in the lists."""

    LEFT = "left"
    RIGHT = "right"
    BOTTOM = "bottom"
    TOP = "top"

    __hash__ = str.__hash__  # the enumeration's own is four times slower, and sides are keys everywhere

    axis: Axis
    """The axis that a measure from this side runs along."""
    sign: int
    """Which way it lies from the middle along its axis: 1 for right and top, -1 for left and bottom."""

    def __init__(self, word: str) -> None:
        """What is asked of a side all the time is kept with it."""
        self.axis = "across" if word in ("left", "right") else "up"
        self.sign = 1 if word in ("right", "top") else -1

    @property
    def step(self) -> tuple[int, int]:
        """One step towards it: x, y."""
        return (self.sign, 0) if self.axis == "across" else (0, self.sign)

    @property
    def beside(self) -> tuple[Side, Side]:
        """The two sides that meet it at its corners."""
        return ON_AXIS["up" if self.axis == "across" else "across"]

    @property
    def opposite(self) -> Side:
        """The other side of the same axis."""
        return _OPPOSITE[self]

    def turned(self, quarters: int) -> Side:
        """The side that it lies on once its tile is turned so many quarters, against the clock.

        >>> Side.LEFT.turned(1)
        <Side.BOTTOM: 'bottom'>
        """
        return _ROUND[(_ROUND.index(self) + quarters) % len(_ROUND)]

    @property
    def mirrored(self) -> Side:
        """The same side of a tile as it is called from behind."""
        return self.opposite if self.axis == "across" else self


_OPPOSITE = {Side.LEFT: Side.RIGHT, Side.RIGHT: Side.LEFT, Side.BOTTOM: Side.TOP, Side.TOP: Side.BOTTOM}
SIDES: tuple[Side, ...] = tuple(Side)
_ROUND = (Side.LEFT, Side.BOTTOM, Side.RIGHT, Side.TOP)
"""As they follow one another when a tile is turned a quarter round, against the clock."""
ON_AXIS: Mapping[Axis, tuple[Side, Side]] = {"across": (Side.LEFT, Side.RIGHT), "up": (Side.BOTTOM, Side.TOP)}
"""The two sides of an axis, the one that a coordinate grows from first."""


class FourSides(Struct, Generic[T], frozen=True):
    """Four values, one for each side, indexed by it.

    >>> FourSides(1, 2, 3, 4)[Side.TOP]
    4
    """

    left: T
    right: T
    bottom: T
    top: T

    @classmethod
    def of(cls, value: Callable[[Side], T]) -> FourSides[T]:
        """What `value` gives for each side."""
        return cls(value(Side.LEFT), value(Side.RIGHT), value(Side.BOTTOM), value(Side.TOP))

    def __getitem__(self, side: Side) -> T:
        """The value of one side."""
        return (self.left, self.right, self.bottom, self.top)[_INDEX[side]]

    def __iter__(self) -> Iterator[T]:
        """Left, right, bottom, top."""
        return iter((self.left, self.right, self.bottom, self.top))

    def items(self) -> Iterator[tuple[Side, T]]:
        """Each side with its value."""
        return zip(SIDES, self, strict=True)

    def map(self, change: Callable[[T], V]) -> FourSides[V]:
        """The four values, each changed."""
        return FourSides(change(self.left), change(self.right), change(self.bottom), change(self.top))

    @property
    def mirrored(self) -> FourSides[T]:
        """As they are from behind: left and right change hands."""
        return FourSides(self.right, self.left, self.bottom, self.top)


_INDEX = {side: index for index, side in enumerate(SIDES)}
