"""What the catalogue says of one fitting: values only, millimetres."""

from __future__ import annotations

from typing import Literal

from msgspec import Struct

FittingKind = Literal["pipe", "waste", "box", "plate", "device", "valve", "cover"]
"""waste: a pipe that carries off; device: what shows through a plate; cover: the rose or collar round a pipe."""

System = Literal["uk", "eu", "us", "au", "it", "iso", ""]
"""Where a size is sold under that name; "" for what the tiler wrote."""

SourceMark = Literal["R", "M", "C", "own"]
"""How far a row is to be trusted: R read in a source, M from memory, C sources differ, own: written by the tiler."""


class FittingChoice(Struct, frozen=True):
    """One of the sizes that the same name stands for; `words` tells it from the others."""

    words: str
    od: float | None = None
    w: float | None = None
    h: float | None = None


class Fitting(Struct, frozen=True):
    """A pipe, box, plate or valve with its true sizes, mm.

    family, label  "copper", "1/2": the kind, and the size as it is said; family is "" where only a size was written.
    od             outside diameter of what is round; w, h: across and up of what is not. All None where `choices` has
                   several, or where no source has a size (a box of which only its hole is known): then measure it.
    tolerance      (minus, plus) on the outside diameter, both positive; None where none was found.
    hole           the round hole that the standard or maker sets it in.
    centres        between the fixing screws; pitch: between two side by side; depths: as sold, or least and most.
    source, mark   where the figures come from, and how far to trust them.
    """

    family: str
    label: str
    kind: FittingKind
    source: str
    mark: SourceMark
    system: System = ""
    od: float | None = None
    w: float | None = None
    h: float | None = None
    tolerance: tuple[float, float] | None = None
    hole: float | None = None
    centres: float | None = None
    pitch: float | None = None
    depths: tuple[float, ...] = ()
    choices: tuple[FittingChoice, ...] = ()
    variant: str = ""
    note: str = ""

    @property
    def measure_yours(self) -> bool:
        """Whether the tiler has to be told to measure the real thing."""
        return self.mark in ("M", "C") or bool(self.choices)
