"""The two layouts of a template: where its head, its four panels, its foot and the drawing stand on the page.

Every template is one of two: PORTRAIT has the head and the panels as a band on top, LANDSCAPE as a band at the left of
the page turned by a right angle. Each thing has one place, whatever the tile: the drawing takes what is left and gives
way, never a panel. All boxes are in the Held frame: the page as it is held to be read, origin bottom left, y up, mm; a
file holds it upright, so that all of its pages are alike (`PageLayout.on_page`).
"""

from __future__ import annotations

import math
from functools import lru_cache
from typing import Literal

from msgspec import Struct

from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.frames import Placement, Sheet
from cutmarks.patterns import late
from cutmarks.registering.paper import LONGEST, MOST_MARGIN, Paper
from cutmarks.sides import Axis

LayoutName = Literal["portrait", "landscape"]

_ROLL = late(r"roll (\d+(?:\.\d+)?)")


class LayoutSizes(Struct, frozen=True):
    """Every size that a layout is made of, mm: the one table that reach, panels and drawing are all read from.

    foot, strip     with the bar along the lower side and the small print; with the bar up the right side.
    head, panels    heights of the band on top in portrait; read, mark, cut: widths of its columns, shares of the width
                    of the page; fold: the height of FOLD, over MARK.
    band            width of the band at the left in landscape; band_head ... band_cut: heights in it from the top down,
                    and what a higher page adds is shared by READ, MARK and CUT.
    black, frame    on the back: height of the black band over the drawing, and width of the hatched frame round it.
    inset           from the end of the drawing to the line for the tile's edge: room for ticks and the edge's name.
    clear           left free round a cut at the far end of the drawing; of two that keep their spacing, and
                    where it saves a second tape, clear_of_pair.
    overlap         how much of the tile two joined sheets both show.
    """

    foot: float = 16.5
    strip: float = 7.0
    head: float = 34.0
    panels: float = 58.0
    read: float = 62.0
    mark: float = 68.0
    cut: float = 53.0
    fold: float = 17.5
    band: float = 84.0
    band_head: float = 48.0
    band_read: float = 45.0
    band_fold: float = 17.5
    band_mark: float = 36.0
    band_cut: float = 27.0
    black: float = 10.0
    frame: float = 5.0
    inset: float = 8.5
    clear: float = 3.0
    clear_of_pair: float = 0.5
    overlap: float = 16.0

    @property
    def band_high(self) -> float:
        """How high the band at the left is at least."""
        return self.band_head + self.band_read + self.band_fold + self.band_mark + self.band_cut


SIZES = LayoutSizes()


class PageLayout(Struct, frozen=True):
    """One layout on one paper: the boxes of everything that stands on a template, in the Held frame.

    safe  inside the margins; head, read, fold, mark, cut: the head and the panels; field: what is left for the drawing,
          on the back with its black band and its frame.
    on_page  where the page as it is held lies on the page as the file has it.
    """

    name: LayoutName
    safe: Bounds
    head: Bounds
    read: Bounds
    fold: Bounds
    mark: Bounds
    cut: Bounds
    field: Bounds
    on_page: Placement[Sheet, Sheet]

    def view(self, back: bool) -> Bounds:
        """The part of the page that shows the tile."""
        if not back:
            return self.field
        box, frame = self.field, SIZES.frame
        return Bounds(box.min_x + frame, box.min_y + frame, box.max_x - frame, box.max_y - SIZES.black - frame)

    def black(self) -> Bounds:
        """The black band over the drawing of a template for the back."""
        return self.field._replace(min_y=self.field.max_y - SIZES.black)


class SheetField(Struct, frozen=True):
    """How much of a tile one layout shows on one sheet, mm: what the choice of sheets needs to know of it."""

    layout: LayoutName
    width: float
    height: float

    def view(self, axis: Axis) -> float:
        """How much of the tile is on one sheet along an axis."""
        return self.width if axis == "across" else self.height

    def reach(self, axis: Axis, clear: float = SIZES.clear) -> float:
        """How far from an edge on the paper a cut may reach along an axis and be wholly on it, clear of its end."""
        return self.view(axis) - SIZES.inset - clear

    def step(self, axis: Axis) -> float:
        """How much further each joined sheet reaches along an axis."""
        return self.view(axis) - SIZES.overlap


def fields_of(paper: Paper, back: bool = False) -> tuple[SheetField, ...]:
    """What each layout of a paper shows of a tile, portrait first."""
    views = ((name, page_layout(paper, name).view(back)) for name in layouts_of(paper))
    return tuple(SheetField(name, view.width, view.height) for name, view in views)


def layouts_of(paper: Paper) -> tuple[LayoutName, ...]:
    """The layouts that a paper has room for: one that is too narrow for the band at the left has the other alone."""
    high = paper.safe_width - SIZES.foot
    return ("portrait", "landscape") if high >= SIZES.band_high - _SNAP else ("portrait",)


_SNAP = 1e-9


@lru_cache(maxsize=16)
def page_layout(paper: Paper, name: LayoutName) -> PageLayout:
    """The boxes of one layout on a paper."""
    return _portrait(paper) if name == "portrait" else _landscape(paper)


def _portrait(paper: Paper) -> PageLayout:
    safe = Bounds(paper.margin, paper.margin, paper.width - paper.margin, paper.height - paper.margin)
    right = safe.max_x - SIZES.strip
    top, low = safe.max_y - SIZES.head, safe.max_y - SIZES.head - SIZES.panels
    share = (right - safe.min_x) / (SIZES.read + SIZES.mark + SIZES.cut)
    first, second = safe.min_x + SIZES.read * share, right - SIZES.cut * share
    return PageLayout(
        "portrait",
        safe,
        head=Bounds(safe.min_x, top, right, safe.max_y),
        read=Bounds(safe.min_x, low, first, top),
        fold=Bounds(first, top - SIZES.fold, second, top),
        mark=Bounds(first, low, second, top - SIZES.fold),
        cut=Bounds(second, low, right, top),
        field=Bounds(safe.min_x, safe.min_y + SIZES.foot, right, low),
        on_page=Placement(),
    )


def _landscape(paper: Paper) -> PageLayout:
    safe = Bounds(paper.margin, paper.margin, paper.height - paper.margin, paper.width - paper.margin)
    left, right, foot = safe.min_x, safe.min_x + SIZES.band, safe.min_y + SIZES.foot
    more = (safe.max_y - foot - SIZES.band_high) / 3
    heights = (
        SIZES.band_head,
        SIZES.band_read + more,
        SIZES.band_fold,
        SIZES.band_mark + more,
        SIZES.band_cut + more,
    )
    tops = [safe.max_y - math.fsum(heights[:number]) for number in range(len(heights))]
    head, read, fold, mark, cut = (
        Bounds(left, top - high, right, top) for top, high in zip(tops, heights, strict=True)
    )
    return PageLayout(
        "landscape",
        safe,
        head=head,
        read=read,
        fold=fold,
        mark=mark,
        cut=cut._replace(min_y=foot),
        field=Bounds(right, foot, safe.max_x - SIZES.strip, safe.max_y),
        # Turned counter-clockwise: what is at its left when it is held lies at the foot of the page in the file.
        on_page=Placement.turned(90.0, paper.width, 0.0),
    )


def sheets_to(far: float, field: SheetField, axis: Axis) -> int:
    """How many joined sheets along an axis it takes to show a cut that ends `far` mm from the edge."""
    return 1 + max(0, math.ceil((far - field.reach(axis)) / field.step(axis)))


def join_at(number: int, step: float) -> float:
    """Where sheet `number` (counted from 0) is joined to the next one, mm from the edge: the middle of the overlap."""
    return (number + 1) * step - SIZES.inset + SIZES.overlap / 2


def joins_to(far: float, step: float) -> int:
    """How many joins lie between the edge and a place `far` mm from it."""
    return max(0, math.ceil((far + SIZES.inset - SIZES.overlap / 2) / step) - 1)


def cut_to_length(name: str, tallest: float) -> str:
    """A roll as a sheet that shows a tile `tallest` mm high; any other paper as it is.

    All sheets of a job have one length, and are upright: no shorter than the roll is wide.
    """
    roll = _ROLL.fullmatch(name)
    if roll is None:
        return name
    width = float(roll[1])
    around = SIZES.head + SIZES.panels + SIZES.foot + SIZES.black
    needed = tallest + around + 2 * (MOST_MARGIN + SIZES.frame + SIZES.inset)
    return f"{width:g} x {min(max(width, math.ceil(needed / 10) * 10), LONGEST):g}"
