"""A page of paper with its marks."""

from __future__ import annotations

from dataclasses import dataclass

from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.marks.model import Mark


@dataclass(frozen=True, slots=True)
class Sheet:
    """One page, full size: a sheet has no scale.

    file   where its SVG goes inside the output folder: "sheets/splash_3-07_face_1.svg".
    title  what the SVG and the PDF say that it is, in words.
    width, height  of the paper, mm.
    marks  in the frame of the paper (origin bottom left, y up), in the order of drawing.
    """

    file: str
    title: str
    width: float
    height: float
    marks: tuple[Mark[SheetFrame], ...]
