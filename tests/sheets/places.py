"""Whether everything on a finished template stands where its layout has it, and is large enough to be read.

The boxes are written down here again, by hand, from the sizes that the layouts are made of; the page is read by pypdf
alone (`ink`). A page that is held turned is turned back first.
"""

from __future__ import annotations

from collections.abc import Iterator

import shapely
from msgspec.structs import replace
from shapely.affinity import affine_transform

from tests.sheets.ink import Line, Page, Word

LEAST, PRINT = 9.0, 8.0
"""Point."""
FOOT, STRIP, HEAD, PANELS, FOLD = 16.5, 7.0, 34.0, 58.0, 17.5
READ, MARK, CUT = 62.0, 68.0, 53.0
BAND, BAND_HEAD, BAND_READ, BAND_MARK, BAND_CUT = 84.0, 48.0, 45.0, 36.0, 27.0
FRAME = 0.3
"""A panel's frame lies so far inside its box."""
TITLE = 5.4
CLOSE = 0.02
NARROW = 0.25
PRINT_HIGH = 10.4
"""The small print ends so far above the safe area's foot."""
TITLES = {"read": ("1 READ",), "fold": ("2 FOLD", "2 LAY"), "mark": ("3 MARK",), "cut": ("4 CUT",)}


def boxes_of(layout: str, width: float, height: float, margin: float) -> dict[str, tuple[float, float, float, float]]:
    """The boxes of head and panels on a page as it is held, by hand: (left, bottom, right, top), mm."""
    left, right, top, foot = margin, width - margin - STRIP, height - margin, margin + FOOT
    if layout == "portrait":
        wide = (right - left) / (READ + MARK + CUT)
        low, under = top - HEAD - PANELS, top - HEAD
        one, two = left + READ * wide, right - CUT * wide
        return {
            "head": (left, under, right, top),
            "read": (left, low, one, under),
            "fold": (one, under - FOLD, two, under),
            "mark": (one, low, two, under - FOLD),
            "cut": (two, low, right, under),
        }
    more = (top - foot - BAND_HEAD - BAND_READ - FOLD - BAND_MARK - BAND_CUT) / 3
    found, y = {}, top
    for name, high in (
        ("head", BAND_HEAD),
        ("read", BAND_READ + more),
        ("fold", FOLD),
        ("mark", BAND_MARK + more),
        ("cut", BAND_CUT + more),
    ):
        found[name] = (left, y - high, left + BAND, y)
        y -= high
    return found


def held(page: Page, layout: str) -> Page:
    """The page as it is held: one with its band at the left stands in the file turned counter-clockwise."""
    if layout == "portrait":
        return page
    turn = (0.0, 1.0, -1.0, 0.0, 0.0, page.width)  # x to y, y to width - x
    order: list[object] = []
    for one in page.order:
        if isinstance(one, Word):
            order.append(replace(one, box=affine_transform(one.box, turn), drawn=()))
        elif isinstance(one, Line):
            steps = tuple((step, [(y, page.width - x) for x, y in points]) for step, points in one.steps)
            order.append(Line(steps, one.width, one.dashes))
    return Page(page.height, page.width, tuple(order))  # type: ignore[arg-type]


def place_faults(page: Page, layout: str, margin: float) -> Iterator[str]:
    """All that is out of its place on a template, or too small: in words."""
    page = held(page, layout)
    boxes = boxes_of(layout, page.width, page.height, margin)
    frames = [line.middle.bounds for line in page.lines if abs(line.width - NARROW) < 0.01 and _is_box(line)]
    for name, (left, bottom, right, top) in boxes.items():
        box = (left + FRAME, bottom + FRAME, right - FRAME, top - FRAME)
        if name != "head" and not any(_alike(frame, box) for frame in frames):
            yield f"no frame of {name} at {tuple(round(value, 1) for value in box)}"
        titles = [word for word in page.words if name in TITLES and word.text.startswith(TITLES[name])]
        if name in TITLES and not any(shapely.box(left, top - TITLE, right, top).contains(one.box) for one in titles):
            yield f"no title of {name} in its place"
    yield from _word_faults(page, boxes, margin)


def _is_box(line: Line) -> bool:
    steps = [step for step, _ in line.steps]
    return steps in (["m", "l", "l", "l", "h"], ["m", "l", "l", "l", "l", "h"])


def _alike(one: tuple[float, ...], other: tuple[float, ...]) -> bool:
    return all(abs(a - b) < CLOSE for a, b in zip(one, other, strict=True))


def _word_faults(page: Page, boxes: dict[str, tuple[float, float, float, float]], margin: float) -> Iterator[str]:
    """Words under 9 pt, 8 in the small print; words that leave the panel that they begin in."""
    for word in page.words:
        x, y = word.box.centroid.x, word.box.centroid.y
        in_print = y < margin + PRINT_HIGH
        least = PRINT if in_print else LEAST
        if word.points < least - 0.01:
            yield f"{word.text!r} is {word.points:.2f} pt"
        for name, box in boxes.items():
            area = shapely.box(*box)
            if area.contains(shapely.Point(x, y)) and not area.contains(word.box):
                yield f"{word.text!r} leaves {name}"
