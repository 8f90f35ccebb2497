"""What is said of a fitting's depth and of a pipe's lean: "62 from the board to the thread", "2 in 71 right"."""

from __future__ import annotations

import math
import re

from msgspec.structs import replace

from cutmarks.job.measures import WIDEST_THING, in_range
from cutmarks.job.words import FIGURE, Setting, found
from cutmarks.patterns import late
from cutmarks.readings import DepthFrom, DepthRead, PipeLean
from cutmarks.units import match_length

_FROM: dict[str, DepthFrom] = {
    "stud": "studs",
    "studs": "studs",
    "framing": "studs",
    "board": "board",
    "wall": "board",
    "plaster": "board",
    "screed": "board",
    "face": "face",
    "finished face": "face",
    "tile face": "face",
}
_WHERE = late(
    r"(?P<way>behind|from|proud of|in front of|flush with)\s+(?:the\s+)?"
    r"(?P<start>tile face|finished face|face|studs?|framing|board|wall|plaster|screed)(?:\s+to\s+\S.*)?$",
    re.IGNORECASE,
)
_LEAN = late(rf"(.+?)\s+in\s+(?=[{FIGURE}])(.+)$", re.IGNORECASE)
_WAY = late(r"(?:to\s+)?(?:the\s+)?(left|right|up|down)?$", re.IGNORECASE)
_STEPS = {"left": (-1.0, 0.0), "right": (1.0, 0.0), "up": (0.0, 1.0), "down": (0.0, -1.0), "": (0.0, 0.0)}


def parse_depth(text: str, setting: Setting) -> DepthRead:
    """A depth: "62 behind the board", "62 from the studs to the thread", "3 proud of the board", "flush with the face".

    Raises ValueError: no such phrase.
    """
    wrong = ValueError(
        f"{found(text)} does not say from what: write it as in 62 behind the board, 3 proud of the board, or 90 from "
        "the studs to the thread."
    )
    if text.casefold().startswith("flush with"):
        match, mm = _WHERE.match(text), 0.0
    else:
        read = match_length(text, setting.unit)
        if read is None:
            raise wrong
        match, mm = _WHERE.match(read[1].strip()), read[0].mm
    if match is None or (match["way"].casefold() == "flush with") != text.casefold().startswith("flush"):
        raise wrong
    in_range(text, mm, 0.0, WIDEST_THING, "a depth", setting)
    sign = -1.0 if match["way"].casefold() in ("proud of", "in front of") else 1.0
    return DepthRead(sign * mm, _FROM[match["start"].casefold()])


def parse_lean(text: str, setting: Setting) -> PipeLean:
    """A lean: "2 in 71", "2 in 71 right", or two of them: "2 in 71 right, 1 in 71 up"; outward from the surface.

    ", read 60 out" behind it says that the pipe's place was read so far in front of the tile's face.

    Raises ValueError: no such phrase.
    """
    head, read, tail = text.partition(", read ")
    parts = [_one_lean(part.strip(), text, setting) for part in head.split(",")]
    out = _out(tail, text, setting) if read else 0.0
    if out and not any(one.across or one.up for one in parts):
        raise ValueError(f"{found(text)} does not say which way it leans: write left, right, up or down.")
    if len(parts) == 1:
        return replace(parts[0], out=out)
    if len(parts) > 2 or not all(bool(one.across) != bool(one.up) for one in parts) or _same_axis(*parts):
        raise ValueError(f"{found(text)} is no lean: write it as in 2 in 71 right, or 2 in 71 right, 1 in 71 up.")
    across, up = sum(one.across for one in parts), sum(one.up for one in parts)
    worst = max(parts, key=lambda one: one.slope)
    return PipeLean(math.hypot(across, up), worst.rise, worst.run, across, up, out)


def _out(text: str, whole: str, setting: Setting) -> float:
    """How far out a pipe was read, mm."""
    length = match_length(text, setting.unit)
    if length is None or length[1].strip().casefold() != "out" or length[0].mm < 0.0:
        raise ValueError(f"{found(whole)} does not say how far out it was read: write it as in read 60 out.")
    return length[0].mm


def _same_axis(a: PipeLean, b: PipeLean) -> bool:
    return bool(a.across) == bool(b.across)


def _one_lean(part: str, whole: str, setting: Setting) -> PipeLean:
    wrong = ValueError(f"{found(whole)} is no lean: write it as in 2 in 71, or 2 in 71 right.")
    said = _LEAN.match(part)
    rise = match_length(said[1], setting.unit) if said else None
    run = match_length(said[2], setting.unit) if said else None
    way = None if run is None else _WAY.match(run[1].strip())
    if rise is None or rise[1].strip() or run is None or way is None or not 0.0 <= rise[0].mm <= run[0].mm > 0.0:
        raise wrong
    slope = rise[0].mm / run[0].mm
    dx, dy = _STEPS[(way[1] or "").casefold()]
    return PipeLean(slope, rise[0].mm, run[0].mm, dx * slope, dy * slope)
