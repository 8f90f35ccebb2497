"""Seeded random pieces and openings for the kernel campaign: tangent, flush, corner and turned cases among them.

Everything is made in the tile's own frame, where a second method can be trusted; `Case.placement` is the frame in
which the kernel is then asked, and from which its answer is brought back.
"""

from __future__ import annotations

import math
import random

from msgspec import Struct

from cutmarks.geometry.frames import Placement, Point, Surface, Tile, Vector
from cutmarks.geometry.rings import Ring, polygon
from cutmarks.geometry.shapes import Circle, Rect, Shape, Slot, ring_of

PITCHES = (0.5, 0.5, 1.0, 0.001)
"""Measures are mostly whole and half millimetres, so that flush and tangent come about by themselves too."""

NEAR_MISSES = (1e-13, 3e-7, 9e-7, 1e-6, 1.1e-6, 3e-6, 1e-5, 1e-4)
"""How far a near miss is off, mm: under, at and over the distance that counts as touching."""


class Put(Struct, frozen=True):
    """An opening in its place."""

    shape: Shape
    at: Point[Tile]

    def ring(self) -> Ring[Tile]:
        return ring_of(self.shape, self.at)


class Case(Struct, frozen=True):
    """A piece, its openings in the order in which they are taken out, and the frame in which that is done."""

    seed: int
    number: int
    piece: Ring[Tile]
    puts: tuple[Put, ...]
    placement: Placement[Tile, Surface]


def make_case(seed: int, number: int) -> Case:
    """The case of this number; the same for the same two numbers, on any machine."""
    rng = random.Random(seed * 1_000_003 + number)
    pitch = rng.choice(PITCHES)
    piece, w, h = _piece(rng, pitch)
    puts: list[Put] = []
    for _ in range(rng.choice((1, 1, 1, 2, 2, 3, 4, 5))):
        puts.append(_put(rng, pitch, piece, w, h, puts))
    return Case(seed, number, piece, tuple(puts), _placement(rng))


def _placement(rng: random.Random) -> Placement[Tile, Surface]:
    kind = rng.random()
    if kind < 0.5:
        return Placement()
    turn = rng.choice((90.0, 180.0, 270.0, 45.0, 30.0, rng.uniform(-180.0, 180.0)))
    return Placement.turned(turn, rng.uniform(-3000.0, 3000.0), rng.uniform(-3000.0, 3000.0), mirrored=kind > 0.9)


def _to(value: float, pitch: float) -> float:
    return round(round(value / pitch) * pitch, 6)


def _piece(rng: random.Random, pitch: float) -> tuple[Ring[Tile], float, float]:
    """A whole tile or a trimmed one, and the size of the whole."""
    w, h = _to(rng.uniform(40.0, 600.0), pitch), _to(rng.uniform(40.0, 600.0), pitch)
    kind = rng.random()
    rake = _to(rng.uniform(0.0, w / 4.0), pitch)
    if kind < 0.5:
        return polygon([(0.0, 0.0), (w, 0.0), (w, h), (0.0, h)]), w, h
    if kind < 0.65:  # a right edge out of true
        return polygon([(0.0, 0.0), (w - rake, 0.0), (w, h), (0.0, h)]), w, h
    if kind < 0.8:  # a corner taken off askew
        return polygon([(0.0, 0.0), (w, 0.0), (w, h - h / 4.0), (w - rake - 1.0, h), (0.0, h)]), w, h
    x, y = _to(rng.uniform(w / 4.0, w / 2.0), pitch), _to(rng.uniform(h / 4.0, h / 2.0), pitch)
    if kind < 0.9:  # round the corner of a window
        return polygon([(0.0, 0.0), (w, 0.0), (w, h - y), (w - x, h - y), (w - x, h), (0.0, h)]), w, h
    return polygon([(0.0, 0.0), (w, 0.0), (w, h), (x + 10.0, h), (x + 10.0, y), (x, y), (x, h), (0.0, h)]), w, h


def _shape(rng: random.Random, pitch: float, w: float, h: float) -> Shape:
    most = min(w, h)
    a, b = _to(rng.uniform(4.0, 0.6 * most), pitch), _to(rng.uniform(4.0, 0.6 * most), pitch)
    kind = rng.random()
    lean = 0.0 if rng.random() < 0.5 else rng.choice((90.0, 45.0, -30.0, rng.uniform(-90.0, 90.0)))
    if kind < 0.45:
        return Circle(a)
    if kind < 0.6:
        return Slot(max(a, b), min(a, b), lean)
    if kind < 0.7:
        r = rng.choice((1.0, min(a, b) / 4.0, min(a, b) / 2.0))
        return Rect(a, b, lean, min(_to(r, 0.5 * pitch), min(a, b) / 2.0))
    if kind < 0.75:  # a slot that is a round hole, a box whose corners use up its sides
        return rng.choice((Slot(a, a, lean), Rect(a, a, lean, a / 2.0), Rect(a, 2.0 * a, lean, a / 2.0)))
    return Rect(a, b, lean)


def _put(rng: random.Random, pitch: float, piece: Ring[Tile], w: float, h: float, puts: list[Put]) -> Put:
    shape = _shape(rng, pitch, w, h)
    at: Point[Tile] = Point(_to(rng.uniform(-20.0, w + 20.0), pitch), _to(rng.uniform(-20.0, h + 20.0), pitch))
    kind = rng.random()
    if kind < 0.4:
        put = Put(shape, at)
    elif kind < 0.7 or not puts:
        put = _by_the_piece(rng, shape, at, piece)
    else:
        put = _by_another(rng, shape, at, rng.choice(puts))
    if rng.random() < 0.15:
        off, way = rng.choice(NEAR_MISSES), rng.choice((0.0, 0.5 * math.pi, math.pi, rng.uniform(0.0, 7.0)))
        put = Put(put.shape, put.at + Vector(off * math.cos(way), off * math.sin(way)))
    return put


def _half(shape: Shape) -> float:
    """Half the size of a round hole, or half the width of what stands level."""
    match shape:
        case Circle(d):
            return d / 2.0
        case Slot(_, w, _):
            return w / 2.0
        case Rect(_, h, _, _):
            return h / 2.0
    raise AssertionError(shape)


def _by_the_piece(rng: random.Random, shape: Shape, at: Point[Tile], piece: Ring[Tile]) -> Put:
    """Tangent or flush to a side from within or without, on a side, on a corner, or just reaching a corner."""
    k = rng.randrange(len(piece.vertices))
    a, b = piece.vertices[k - 1], piece.vertices[k]
    dx, dy = b.x - a.x, b.y - a.y
    length = math.hypot(dx, dy)
    ux, uy = dx / length, dy / length
    part = rng.choice((0.0, 0.5, rng.uniform(-0.1, 1.1)))
    x, y = a.x + part * dx, a.y + part * dy
    half = _half(shape)
    lean = math.degrees(math.atan2(dy, dx))
    if isinstance(shape, Rect):
        shape = Rect(shape.w, shape.h, lean, shape.r)
    elif isinstance(shape, Slot):
        shape = Slot(shape.l, shape.w, lean)
    match rng.randrange(4):
        case 0:  # against the side from within
            return Put(shape, Point(x - uy * half, y + ux * half))
        case 1:  # against it from without
            return Put(shape, Point(x + uy * half, y - ux * half))
        case 2:  # in the middle of the side, or of a corner
            return Put(shape, Point(x, y))
        case _:  # a round hole that just reaches the corner
            way = rng.uniform(0.0, 7.0)
            return Put(Circle(2.0 * half), Point(b.x + half * math.cos(way), b.y + half * math.sin(way)))


def _by_another(rng: random.Random, shape: Shape, at: Point[Tile], other: Put) -> Put:
    """Tangent to another opening from within or without, flush with it, about the same centre, or on it."""
    half, other_half = _half(shape), _half(other.shape)
    way = rng.choice((0.0, 0.5 * math.pi, rng.uniform(0.0, 7.0)))
    ux, uy = math.cos(way), math.sin(way)
    match rng.randrange(6):
        case 0:
            return other
        case 1:
            return Put(shape, other.at)
        case 2:
            apart = half + other_half
            return Put(shape, Point(other.at.x + ux * apart, other.at.y + uy * apart))
        case 3:
            apart = abs(half - other_half)
            return Put(shape, Point(other.at.x + ux * apart, other.at.y + uy * apart))
        case 4:  # one after the other in a row, flush: the same shape moved along its own width
            return Put(other.shape, Point(other.at.x + ux * 2.0 * other_half, other.at.y + uy * 2.0 * other_half))
        case _:
            return Put(other.shape, Point(other.at.x + ux * other_half, other.at.y))
