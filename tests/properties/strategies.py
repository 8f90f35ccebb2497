"""Random scenes: one generator for hypothesis and for the long campaigns.

Measures come in half millimetres, as they are read; many holes are aimed to be flush, tangent or on a crossing.
"""

from __future__ import annotations

import math
from fractions import Fraction
from random import Random

from hypothesis import strategies as st
from msgspec import Struct
from msgspec.structs import replace

from tests.properties.scene import (
    XY,
    Area,
    Bond,
    Box,
    Corners,
    Hole,
    Long,
    Pipe,
    Scene,
    Side,
    Window,
    middle_of,
    reach_of,
)

SIZES = (72.5, 97.0, 98.0, 147.0, 197.0, 247.5, 297.0, 298.0, 397.0)
JOINTS = (1.0, 1.5, 2.0, 3.0, 5.0)
TURNS = (12.5, 30.0, -30.0, 44.0, -7.25)
ACROSS = ("joint", "middle", "left", "right")
UP = ("joint", "middle", "sits on", "hangs from")
SPACES = (1.0, 2.0, 3.0, 7.5)
HALF_WIDTH = 450
"""About half of a surface's width and height, mm: a few tiles each way, so that edges and corners come up often."""


class Taste(Struct, frozen=True):
    """What may come up in a scene."""

    floor: bool = False
    bonds: bool = True
    turns: bool = True
    open_sides: bool = True
    no_joint: bool = False
    square_boxes: bool = False
    """Boxes read by corners have right angles, to rounding, as they have not on a wall."""


ALL = Taste()
CLOSED = Taste(open_sides=False)
NO_JOINT = Taste(no_joint=True)
LEVEL_STACK = Taste(floor=True, bonds=False, turns=False, square_boxes=True)


def scenes(taste: Taste = ALL) -> st.SearchStrategy[Scene]:
    """Scenes for hypothesis: of the campaigns' kind, by their seed, and such as it draws and shrinks itself."""
    seeded = st.integers(0, 2**32 - 1).map(lambda seed: random_scene(Random(seed), taste))
    drawn = st.randoms(use_true_random=False).map(lambda draw: random_scene(draw, taste))
    return st.one_of(seeded, drawn)


def random_scene(draw: Random, taste: Taste = ALL) -> Scene:
    """One scene from a source of random numbers; the same source gives the same scene."""
    edges = _edges(draw, taste)
    gaps: dict[Side, float] = {side: draw.choice((0.0, 2.0, 3.0, 5.5)) for side in ("left", "right", "bottom", "top")}
    areas = _areas(draw, taste)
    windows = tuple(_window(draw) for _ in range(draw.choice((0, 0, 0, 1, 1, 2))))
    scene = Scene("floor" if taste.floor else "wall", edges, gaps, areas, windows, ())
    return replace(scene, holes=_holes(draw, taste, scene))


def _half(draw: Random, low: int, high: int) -> float:
    """A measure in half millimetres, in [low, high] mm."""
    return draw.randint(2 * low, 2 * high) / 2


def _edges(draw: Random, taste: Taste) -> dict[Side, tuple[XY, ...]]:
    edges: dict[Side, tuple[XY, ...]] = {}
    for side, sign in (("left", -1), ("right", 1), ("bottom", -1), ("top", 1)):
        if taste.open_sides and draw.random() < 0.12:
            continue
        at = sign * _half(draw, HALF_WIDTH - 100, HALF_WIDTH + 100)
        count = draw.choice((1, 1, 2, 2, 3))
        alongs = sorted(draw.sample(range(-400, 401, 50), count))
        rake = (0, 0, 4, 12)
        edges[side] = tuple((at + _half(draw, -1, 1) * draw.choice(rake), float(along)) for along in alongs)  # type: ignore[index]
    return edges


def _areas(draw: Random, taste: Taste) -> tuple[Area, ...]:
    split = draw.choice(("one", "one", "level", "plumb", "inside"))
    cut = _half(draw, -150, 150)
    space = draw.choice(SPACES)
    none = (None, None)
    if split == "level":
        return (_area(draw, taste, "low", none, (None, cut)), _area(draw, taste, "high", (None, cut + space), none))
    if split == "plumb":
        return (_area(draw, taste, "first", none, (cut, None)), _area(draw, taste, "last", (cut + space, None), none))
    if split == "inside":
        low = (_half(draw, -300, -150), _half(draw, -300, -150))
        return (_area(draw, taste, "panel", low, (_half(draw, 100, 300), _half(draw, 100, 300))),)
    return (_area(draw, taste, "field", none, none),)


def _area(
    draw: Random,
    taste: Taste,
    name: str,
    low: tuple[float | None, float | None],
    high: tuple[float | None, float | None],
) -> Area:
    turned = taste.turns and draw.random() < 0.2
    joint = 0.0 if taste.no_joint and draw.random() < 0.2 else draw.choice(JOINTS)
    one = Area(
        name=name,
        w=draw.choice(SIZES),
        h=draw.choice(SIZES),
        joint=joint,
        bond=_bond(draw) if taste.bonds else Bond(),
        turn=draw.choice(TURNS) if turned else 0.0,
        low=low,
        high=high,
        across=draw.choice(ACROSS),
        x=_half(draw, -200, 200),
        up=draw.choice(UP),
        y=_half(draw, -200, 200),
    )
    if not turned:
        return one
    anchor = draw.choice(("middle", "crossing"))
    return replace(one, across=anchor, up=anchor)


def _bond(draw: Random) -> Bond:
    kind = draw.choice(("stack", "half", "third", "quarter", "mm"))
    if kind == "stack":
        return Bond()
    sign = draw.choice((1, -1))
    stepped = draw.random() < 0.4
    if kind == "mm":
        return Bond(mm=sign * _half(draw, 5, 60), stepped=stepped)
    return Bond(part=sign * Fraction(1, {"half": 2, "third": 3, "quarter": 4}[kind]), stepped=stepped)


def _window(draw: Random) -> Window:
    x, y = _half(draw, -300, 200), _half(draw, -300, 200)
    w, h = _half(draw, 20, 350), _half(draw, 20, 350)
    lean = draw.choice((0.0, 0.0, 3.0, -5.5))
    corners = ((x, y), (x + w, y + lean), (x + w - lean, y + h + lean), (x - lean, y + h))
    return Window(corners, draw.choice((0.0, 2.0, 3.0)))


def _holes(draw: Random, taste: Taste, scene: Scene) -> tuple[Hole, ...]:
    holes: list[Hole] = []
    for number in range(draw.choice((1, 2, 2, 3, 4))):
        hole = _hole(draw, taste, f"h{number}", draw.choice(scene.areas))
        x, y = middle_of(hole)
        clear = all(
            math.hypot(x - ox, y - oy) > reach_of(hole) + reach_of(other) + 1
            for other in holes
            for ox, oy in (middle_of(other),)
        )
        if clear and abs(x) < HALF_WIDTH - 115 and abs(y) < HALF_WIDTH - 115:
            holes.append(hole)
    return tuple(holes)


def _hole(draw: Random, taste: Taste, name: str, area: Area) -> Hole:
    kind = draw.choice(("pipe", "pipe", "box", "slot", "corners", "outline"))
    size = _half(draw, 8, draw.choice((60, 60, 120, 260)))
    if kind == "pipe":
        opening = size + 6
        return Pipe(name, *_aimed(draw, area, opening / 2, opening / 2), size, opening)
    w, h = size, _half(draw, 8, 120)
    play = draw.choice((0.0, 1.5, 2.0))
    if kind == "box":
        lean = draw.choice((0.0, 0.0, 0.0, 1.25, -1.5, 7.0, -20.0))
        return Box(name, *_aimed(draw, area, w / 2 + play, h / 2 + play), w, h, lean, play)
    if kind == "slot":
        length, width = max(w, h), min(w, h)
        place = _aimed(draw, area, length / 2 + play, width / 2 + play)
        return Long(name, *place, length, width, draw.choice((0.0, 0.0, 90.0, 35.0, -12.0)), play)
    x, y = _aimed(draw, area, w / 2, h / 2)
    x, y = round(2 * x) / 2, round(2 * y) / 2
    if kind == "corners":
        tilt = draw.choice((0.0, 0.5, 1.0, -1.0, 4.0))
        tilt = min(tilt, min(w, h) / 4)
        out = round(tilt * h / w, 9) if taste.square_boxes else tilt
        points = ((x, y), (x + w, y + tilt), (x + w - out, y + h + tilt), (x - out, y + h))
        return Corners(name, points, True, play)
    # A step at one corner: an outline that is not convex.
    a, b = w / 3, h / 2
    steps = ((x, y), (x + w, y), (x + w, y + b), (x + a, y + b), (x + a, y + h), (x, y + h))
    return Corners(name, tuple((round(4 * px) / 4, round(4 * py) / 4) for px, py in steps), False, play)


def _aimed(draw: Random, area: Area, half_w: float, half_h: float) -> XY:
    """A place for a thing: anywhere, or on this area's grid so that it is flush, tangent, on a joint or a crossing."""
    x, y = _half(draw, -320, 320), _half(draw, -320, 320)
    if area.turn:
        return x, y
    if draw.random() < 0.4:
        x = area.x + _on_grid(draw, area.w, area.joint, half_w, area.across in ("joint",))
    if draw.random() < 0.4:
        y = area.y + _on_grid(draw, area.h, area.joint, half_h, area.up in ("joint",))
    return x, y


def _on_grid(draw: Random, size: float, joint: float, half: float, from_joint: bool) -> float:
    step = draw.randint(-2, 2) * (size + joint) + (joint / 2 if from_joint else 0.0)
    return step + draw.choice((0.0, half, -half, size / 2, size - half, size, -joint / 2))
