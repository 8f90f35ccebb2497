"""A job as bare numbers of the surface frame, so that it can be measured from other lines, mirrored or turned.

`said` words it as a tiler would, from any pair of lines; nothing here uses the package.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from fractions import Fraction
from typing import Any, Literal

from msgspec import Struct
from msgspec.structs import replace

XY = tuple[float, float]
Side = Literal["left", "right", "bottom", "top"]
OPPOSITE: Mapping[str, Side] = {"left": "right", "right": "left", "bottom": "top", "top": "bottom"}
QUARTER: Mapping[str, Side] = {"left": "bottom", "bottom": "right", "right": "top", "top": "left"}
"""Which side each side becomes when a floor is turned a quarter counter-clockwise."""
PARTS: Mapping[Fraction, str] = {Fraction(1, 2): "half", Fraction(1, 3): "third", Fraction(1, 4): "quarter"}


class Bond(Struct, frozen=True):
    part: Fraction = Fraction(0)
    mm: float = 0.0
    stepped: bool = False

    def words(self) -> str:
        if not self.part and not self.mm:
            return "stack"
        size = f"{abs(self.mm):g}" if self.mm else PARTS[abs(self.part)]
        hand = "left" if self.part < 0 or self.mm < 0 else "right"
        return f"{size} {hand}{', stepped' if self.stepped else ''}"

    def mirrored(self) -> Bond:
        return replace(self, part=-self.part, mm=-self.mm)


class Area(Struct, frozen=True):
    """`low` and `high` are its limits (None: none); `x` and `y` are what the two anchors lie on."""

    name: str
    w: float
    h: float
    joint: float
    bond: Bond
    turn: float
    low: tuple[float | None, float | None]
    high: tuple[float | None, float | None]
    across: str
    x: float
    up: str
    y: float


class Window(Struct, frozen=True):
    corners: tuple[XY, ...]
    gap: float


class Pipe(Struct, frozen=True):
    name: str
    x: float
    y: float
    d: float
    opening: float


class Box(Struct, frozen=True):
    name: str
    x: float
    y: float
    w: float
    h: float
    lean: float
    play: float


class Long(Struct, frozen=True):
    """A slot, `length` over all."""

    name: str
    x: float
    y: float
    length: float
    width: float
    lean: float
    play: float


class Corners(Struct, frozen=True):
    """A box read by its corners (four), or any outline."""

    name: str
    points: tuple[XY, ...]
    is_box: bool
    play: float


Hole = Pipe | Box | Long | Corners


class Scene(Struct, frozen=True):
    """edges: for each side that is known its readings, (where the edge is, where along it was read)."""

    kind: Literal["wall", "floor"]
    edges: Mapping[Side, tuple[XY, ...]]
    gaps: Mapping[Side, float]
    areas: tuple[Area, ...]
    windows: tuple[Window, ...]
    holes: tuple[Hole, ...]


def middle_of(hole: Hole) -> XY:
    """About where a hole is: enough to keep two of them apart."""
    if isinstance(hole, Corners):
        xs, ys = [x for x, _ in hole.points], [y for _, y in hole.points]
        return (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2
    return hole.x, hole.y


def reach_of(hole: Hole) -> float:
    """A radius about its middle that holds the whole opening."""
    match hole:
        case Pipe():
            return max(hole.opening, hole.d) / 2
        case Box():
            return math.hypot(hole.w, hole.h) / 2 + 2 * hole.play
        case Long():
            return hole.length / 2 + hole.play
        case Corners():
            x, y = middle_of(hole)
            # A mitre at a corner of 60 degrees or more reaches at most twice the play past it.
            return max(math.hypot(px - x, py - y) for px, py in hole.points) + 2 * hole.play


def said(scene: Scene, origin: XY = (0.0, 0.0)) -> dict[str, Any]:
    """The job as it would be written, everything measured from lines that cross at `origin`."""
    ox, oy = origin
    up_key = "up" if scene.kind == "wall" else "in"

    def figure(value: float) -> str:
        return f"{abs(value):.9f}".rstrip("0").rstrip(".")

    def x_of(x: float) -> str:
        d = round(x - ox, 9)
        return "on V" if d == 0 else f"{figure(d)} {'right' if d > 0 else 'left'} of V"

    def y_of(y: float) -> str:
        d = round(y - oy, 9)
        return "on B" if d == 0 else f"{figure(d)} {'above' if d > 0 else 'below'} B"

    def plain(place: str) -> str:
        return place.removeprefix("on ")

    def spot(point: XY) -> str:
        return f"{plain(x_of(point[0]))}, {plain(y_of(point[1]))}"

    def edge(side: Side, readings: tuple[XY, ...]) -> Any:
        at, along = (x_of, y_of) if side in ("left", "right") else (y_of, x_of)
        if len(readings) == 1:
            return {"at": plain(at(readings[0][0])), "true": "plumb" if side in ("left", "right") else "level"}
        return [f"{plain(at(where))} at {plain(along(beside))}" for where, beside in readings]

    def area(one: Area) -> dict[str, Any]:
        written: dict[str, Any] = {
            "name": one.name,
            "tile": one.name,
            "joint": f"{one.joint:g}",
            "bond": one.bond.words(),
        }
        if one.turn:
            written["turn"] = f"{one.turn:g}"
        for key, value, word in (
            ("right of", one.low[0], x_of),
            ("from", one.low[1], y_of),
            ("left of", one.high[0], x_of),
            ("to", one.high[1], y_of),
        ):
            if value is not None:
                written[key] = plain(word(value))

        def start(anchor: str, place: str) -> str:
            if anchor in ("sits on", "hangs from"):
                return f"{anchor} {plain(place)}"
            return f"{anchor} on {plain(place)}"

        written["start"] = {"across": start(one.across, x_of(one.x)), "up": start(one.up, y_of(one.y))}
        return written

    def centre(place: str) -> str:
        return place if place.startswith("on ") else f"centre {place}"

    def hole(one: Hole) -> dict[str, Any]:
        if isinstance(one, Corners):
            key = "corners" if one.is_box else "outline"
            return {"name": one.name, key: [spot(p) for p in one.points], "play": f"{one.play:g}"}
        written: dict[str, Any] = {"name": one.name, "across": centre(x_of(one.x)), up_key: centre(y_of(one.y))}
        match one:
            case Pipe():
                written |= {"diameter": f"{one.d:g}", "opening": f"{one.opening:g}"}
            case Box():
                written |= {"size": f"{one.w:g} x {one.h:g}", "lean": _degrees(one.lean), "play": f"{one.play:g}"}
            case Long():
                written |= {
                    "slot": f"{one.length:g} x {one.width:g}",
                    "lean": _degrees(one.lean),
                    "play": f"{one.play:g}",
                }
        return written

    return {
        "job": "scene",
        "tiles": {one.name: {"size": f"{one.w:g} x {one.h:g}", "measured": "yes"} for one in scene.areas},
        "surfaces": [
            {
                "name": "here",
                "kind": scene.kind,
                "lines": {"V": "plumb, one", "B": "level, other"}
                if scene.kind == "wall"
                else {"V": "across, one", "B": "along, other"},
                "edges": {side: edge(side, readings) for side, readings in scene.edges.items()},
                "gaps": {side: f"{gap:g}" for side, gap in scene.gaps.items()},
                "windows": [
                    {"name": f"window {i}", "outline": [spot(p) for p in one.corners], "gap": f"{one.gap:g}"}
                    for i, one in enumerate(scene.windows)
                ],
                "areas": [area(one) for one in scene.areas],
                "holes": [hole(one) for one in scene.holes],
            }
        ],
    }


def mirrored(scene: Scene) -> Scene:
    """The same room seen in a mirror: left is right."""

    def edge(side: Side, readings: tuple[XY, ...]) -> tuple[Side, tuple[XY, ...]]:
        if side in ("left", "right"):
            return OPPOSITE[side], tuple((-at, along) for at, along in readings)
        return side, tuple((at, -along) for at, along in readings)

    def area(one: Area) -> Area:
        return replace(
            one,
            bond=one.bond.mirrored(),
            turn=-one.turn,
            low=(None if one.high[0] is None else -one.high[0], one.low[1]),
            high=(None if one.low[0] is None else -one.low[0], one.high[1]),
            across={"left": "right", "right": "left"}.get(one.across, one.across),
            x=-one.x,
        )

    def hole(one: Hole) -> Hole:
        match one:
            case Corners():
                return replace(one, points=tuple((-x, y) for x, y in reversed(one.points)))
            case Pipe():
                return replace(one, x=-one.x)
            case Box() | Long():
                return replace(one, x=-one.x, lean=-one.lean)

    return replace(
        scene,
        edges=dict(edge(side, readings) for side, readings in scene.edges.items()),
        gaps={OPPOSITE[s] if s in ("left", "right") else s: gap for s, gap in scene.gaps.items()},
        areas=tuple(area(one) for one in scene.areas),
        windows=tuple(replace(one, corners=tuple((-x, y) for x, y in reversed(one.corners))) for one in scene.windows),
        holes=tuple(hole(one) for one in scene.holes),
    )


def turned_quarter(scene: Scene) -> Scene:
    """The same floor with its lines a quarter turn on, counter-clockwise: (x, y) becomes (-y, x). Stack bond only."""

    def flip(value: float | None) -> float | None:
        return None if value is None else -value

    def edge(side: Side, readings: tuple[XY, ...]) -> tuple[Side, tuple[XY, ...]]:
        # A left edge is read at x, along y; it becomes a bottom edge read at y, along x = minus the old y.
        if side in ("left", "right"):
            return QUARTER[side], tuple((at, -along) for at, along in readings)
        return QUARTER[side], tuple((-at, along) for at, along in readings)

    def area(one: Area) -> Area:
        assert one.bond.words() == "stack"
        assert one.turn == 0
        return replace(
            one,
            w=one.h,
            h=one.w,
            low=(flip(one.high[1]), one.low[0]),
            high=(flip(one.low[1]), one.high[0]),
            across={"sits on": "right", "hangs from": "left"}.get(one.up, one.up),
            x=-one.y,
            up={"left": "sits on", "right": "hangs from"}.get(one.across, one.across),
            y=one.x,
        )

    def hole(one: Hole) -> Hole:
        match one:
            case Corners():
                return replace(one, points=tuple((-y, x) for x, y in one.points))
            case Pipe():
                return replace(one, x=-one.y, y=one.x)
            case Box():
                return replace(one, x=-one.y, y=one.x, w=one.h, h=one.w)
            case Long():
                return replace(one, x=-one.y, y=one.x, lean=one.lean + 90)

    return replace(
        scene,
        edges=dict(edge(side, readings) for side, readings in scene.edges.items()),
        gaps={QUARTER[side]: gap for side, gap in scene.gaps.items()},
        areas=tuple(area(one) for one in scene.areas),
        windows=tuple(replace(one, corners=tuple((-y, x) for x, y in one.corners)) for one in scene.windows),
        holes=tuple(hole(one) for one in scene.holes),
    )


def _degrees(turned: float) -> str:
    """A lean as a job file takes it, within half a turn either way."""
    return f"{(turned + 180.0) % 360.0 - 180.0:g}"
