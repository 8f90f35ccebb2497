"""Random walls and floors for the fixing campaign, and the order in which their tiles go up, tile by tile.

Nothing of cutmarks is used here. Every tile is a polygon of its own (shapely), every tile is listed, and the order is
walked as a tiler would walk it: area by area, course by course, from the first of a course outward.
"""

from __future__ import annotations

import itertools
import math
import random
from collections.abc import Iterator
from functools import cached_property

from msgspec import Struct, field
from shapely.affinity import rotate
from shapely.geometry import LineString, Polygon, box
from shapely.geometry.base import BaseGeometry
from shapely.prepared import prep

LEAST = 1.0
"""A piece is at least so wide and high, mm; what is less stays joint."""
REACH = 22.0
"""What lies so near under a tile carries it, mm: no joint is wider."""
FAR = 20_000.0
SEEN = 1_500.0
"""How far a wall without an end is listed, mm from the crossing of its lines."""

BONDS = [
    ("stack", 0.0, False),
    ("half", 0.5, False),
    ("third right", 1 / 3, False),
    ("third left, stepped", -1 / 3, True),
]

Key = tuple[str, int, int]


class Window(Struct, frozen=True, dict=True):
    """A window: its sides as measured, mm."""

    name: str
    left: float
    right: float
    bottom: float
    top: float

    def shape(self, gap: float = 0.0) -> BaseGeometry:
        """The window grown by its gap."""
        return box(self.left - gap, self.bottom - gap, self.right + gap, self.top + gap)


class Area(Struct, frozen=True, dict=True):
    """An area as the job says it; limits None where the surface's edges end it."""

    name: str
    w: float
    h: float
    joint: float
    bond: str
    shift: float
    stepped: bool
    across: tuple[str, float]
    up: tuple[str, float]
    work: str
    turn: float
    left: float | None = None
    right: float | None = None
    low: float | None = None
    high: float | None = None


class Hole(Struct, frozen=True, dict=True):
    """A pipe of 15 with an opening of 35, its middle."""

    name: str
    x: float
    y: float


class Case(Struct, frozen=True, dict=True):
    """One surface. `ends`: by side where it ends, the right one at the bottom and at the top; None: not measured."""

    kind: str
    ends: dict[str, float | None]
    right_top: float
    areas: tuple[Area, ...]
    windows: tuple[Window, ...]
    holes: tuple[Hole, ...]
    cuts: str
    holed: str
    way_out: str
    first: tuple[str, ...]

    def job(self) -> dict[str, object]:
        """The job as a tiler would write it."""
        wall = self.kind == "wall"
        edges: dict[str, object] = {}
        for side, at in self.ends.items():
            if at is None:
                continue
            if side == "right":
                top = f"{self.right_top:g} right of V at {self.ends['top'] or 1000:g} {_above(wall)}"
                edges[side] = {"at": [f"{at:g} right of V at B", top], "what": "end panel"}
            elif side == "left":
                edges[side] = {"at": f"{-at:g} left of V", "true": "yes", "what": "end panel"}
            else:
                edges[side] = {"at": _level(at, wall), "true": "yes", "what": "shelf"}
        surface: dict[str, object] = {
            "name": "one",
            "kind": self.kind,
            "lines": {"V": "plumb, middle", "B": "level, top of the batten"}
            if wall
            else {"V": "across, middle", "B": "along, threshold"},
            "edges": edges,
            "gaps": {"left": 3, "right": 3, "bottom": 5, "top": 3},
            "windows": [
                {
                    "name": one.name,
                    "across": _span(one.left, one.right, "right of V", "left of V"),
                    ("up" if wall else "in"): _span(one.bottom, one.top, _above(wall), _below(wall)),
                    "gap": 3,
                }
                for one in self.windows
            ],
            "areas": [_written(area, wall) for area in self.areas],
            "holes": [
                {
                    "name": hole.name,
                    "what": "15 copper",
                    "opening": 35,
                    "cover": 70,
                    "across": f"centre {_right(hole.x)}",
                    ("up" if wall else "in"): f"centre {_level(hole.y, wall)}",
                    "end": "comes off",
                }
                for hole in self.holes
            ],
            "cuts": self.cuts,
            "holed tiles": self.holed,
        }
        if self.way_out:
            surface["way out"] = self.way_out
        if self.first:
            surface["first"] = list(self.first)
        sizes = {area.name: {"size": f"{area.w:g} x {area.h:g}", "measured": "yes"} for area in self.areas}
        return {"job": "campaign", "tiles": sizes, "surfaces": [surface]}


def _above(wall: bool) -> str:
    return "above B" if wall else "in from B"


def _below(wall: bool) -> str:
    return "below B" if wall else "short of B"


def _right(x: float) -> str:
    return f"{x:.6f} right of V" if x >= 0 else f"{-x:.6f} left of V"


def _level(y: float, wall: bool) -> str:
    return f"{y:.6f} {_above(wall)}" if y >= 0 else f"{-y:.6f} {_below(wall)}"


def _span(low: float, high: float, more: str, less: str) -> str:
    if low >= 0:
        return f"{low:g} to {high:g} {more}"
    if high <= 0:
        return f"{abs(high):g} to {-low:g} {less}"
    return f"{-low:g} {less} to {high:g} {more}"


def _written(area: Area, wall: bool) -> dict[str, object]:
    (across, x), (up, y) = area.across, area.up
    preposition = "" if up in ("sits on", "hangs from") else " on"
    said: dict[str, object] = {"name": area.name, "tile": area.name, "joint": area.joint, "bond": area.bond}
    if area.turn:
        said |= {"turn": area.turn, "start": "middle on V and B"}
    else:
        level = "B" if y == 0 else _level(y, wall)
        line = "V" if x == 0 else _right(x)
        said["start"] = {"across": f"{across} on {line}", ("up" if wall else "in"): f"{up}{preposition} {level}"}
    if area.work:
        said["work"] = area.work
    for key, at in (("right of", area.left), ("left of", area.right)):
        if at is not None:
            said[key] = _right(at)
    for key, at in (("from", area.low), ("to", area.high)):
        if at is not None:
            said[key] = _level(at, wall)
    return said


ENDS = {"left to right": "left", "right to left": "right"}
"""From which end a course is worked, where it is said."""


class Tile(Struct, frozen=True, dict=True):
    """A piece in its place: its outline on the surface, and whether it is a whole tile."""

    key: Key
    name: str
    shape: BaseGeometry
    whole: bool


class Simulation(Struct, dict=True):
    """Every tile of a case, and the order in which they go up."""

    case: Case
    tiles: dict[Key, Tile] = field(default_factory=dict)
    start_rows: dict[str, int] = field(default_factory=dict)
    bases: dict[str, float | None] = field(default_factory=dict)
    _flat: dict[float, dict[Key, BaseGeometry]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        for area in self.case.areas:
            self._lay(area)

    def clear(self) -> BaseGeometry:
        """The surface less its gaps."""
        ends = self.case.ends
        left = -FAR if ends["left"] is None else ends["left"] + 3.0
        low = -FAR if ends["bottom"] is None else ends["bottom"] + 5.0
        high = FAR if ends["top"] is None else ends["top"] - 3.0
        if ends["right"] is None:
            return box(left, low, FAR, high)
        return Polygon([(left, low), (self.right_at(low) - 3.0, low), (self.right_at(high) - 3.0, high), (left, high)])

    def right_at(self, y: float) -> float:
        """Where the right edge lies at a height."""
        at, top = self.case.ends["right"], self.case.ends["top"] or 1000.0
        assert at is not None
        return at + (self.case.right_top - at) * y / top

    def is_open(self, area: Area) -> bool:
        """Whether nothing ends the area on some side."""
        own = {"left": area.left, "right": area.right, "bottom": area.low, "top": area.high}
        return any(self.case.ends[side] is None and own[side] is None for side in own)

    def corner(self, area: Area, column: int, row: int) -> tuple[float, float]:
        """The lower left corner of a place along the area's own courses, from its start's point."""
        (across, _), (up, _) = area.across, area.up
        x = {"joint": area.joint / 2, "middle": -area.w / 2, "left": 0.0, "right": -area.w}[across]
        y = {"joint": area.joint / 2, "middle": -area.h / 2, "sits on": 0.0, "hangs from": -area.h}[up]
        moved = area.shift * (area.w + area.joint) * (row if area.stepped else row % 2)
        return x + column * (area.w + area.joint) + moved, y + row * (area.h + area.joint)

    def outline(self, area: Area, column: int, row: int) -> BaseGeometry:
        """The whole tile of a place, on the surface."""
        x, y = self.corner(area, column, row)
        if not area.turn:
            x, y = x + area.across[1], y + area.up[1]
            return box(x, y, x + area.w, y + area.h)
        return rotate(box(x, y, x + area.w, y + area.h), area.turn, origin=(0.0, 0.0))

    def _lay(self, area: Area) -> None:
        own = box(
            -FAR if area.left is None else area.left,
            -FAR if area.low is None else area.low,
            FAR if area.right is None else area.right,
            FAR if area.high is None else area.high,
        )
        bounds = self.clear().intersection(own)
        ground = bounds
        for window in self.case.windows:
            ground = ground.difference(window.shape(3.0))
        rows: dict[int, list[tuple[int, BaseGeometry | None]]] = {}
        inside = prep(ground)
        for row, column in self._near(area, bounds):
            tile = self.outline(area, column, row)
            if inside.contains(tile):
                rows.setdefault(row, []).append((column, tile))
            elif self._is_piece(area, tile.intersection(bounds)):
                left = tile.intersection(ground)
                rows.setdefault(row, []).append((column, left if self._is_piece(area, left) else None))
        held = [row for row, places in rows.items() if any(shape is not None for _, shape in places)]
        base = self._base_row(area, rows)
        self.start_rows[area.name] = self._start_row(area, base, held)
        from_start = base is None and self.case.ends["bottom"] is None and area.low is None
        first = base if base is not None else 0 if from_start else min(held, default=0)
        for row, places in rows.items():
            begin = None if self.case.ends["left"] is None and area.left is None else min(c for c, _ in places)
            course = row - first + 1 if row >= first else row - first
            said = f"U{course}" if course > 0 else f"D{-course}"
            if not from_start:
                said = str(course) if course > 0 else f"under {-course}"
            for column, shape in places:
                if shape is None:
                    continue
                number = f"R{column + 1}" if column >= 0 else f"L{-column}"
                number = number if begin is None else str(column - begin + 1)
                key = (area.name, column, row)
                whole = abs(shape.area - area.w * area.h) < 1e-3
                self.tiles[key] = Tile(key, f"{area.name} {said}-{number}", shape, whole)

    def _near(self, area: Area, bounds: BaseGeometry) -> Iterator[tuple[int, int]]:
        """The rows and columns of all tiles that may meet the area, as far as the wall is listed."""
        reach = math.ceil(2.2 * SEEN / (min(area.w, area.h) + area.joint)) + 4
        x0, y0, x1, y1 = bounds.bounds
        cos, sin, slack = math.cos(math.radians(area.turn)), math.sin(math.radians(area.turn)), area.w + area.h
        for row, column in itertools.product(range(-reach, reach), range(-reach, reach)):
            u, v = self.corner(area, column, row)
            u, v = u + area.w / 2, v + area.h / 2
            x, y = cos * u - sin * v + area.across[1], sin * u + cos * v + area.up[1]
            if max(abs(x), abs(y)) <= SEEN and x0 - slack < x < x1 + slack and y0 - slack < y < y1 + slack:
                yield row, column

    @staticmethod
    def _is_piece(area: Area, shape: BaseGeometry) -> bool:
        parts = list(getattr(shape, "geoms", [shape]))
        for part in parts:
            if part.is_empty:
                continue
            x0, y0, x1, y1 = in_courses(area, part).bounds
            if min(x1 - x0, y1 - y0) >= LEAST - 1e-6:
                return True
        return False

    def _base_row(self, area: Area, rows: dict[int, list[tuple[int, BaseGeometry | None]]]) -> int | None:
        """The lowest row that stands on the line its area's start sits on, or on its own lower limit over that."""
        found = [area.up[1]] if area.up[0] == "sits on" and not area.turn else []
        if area.low is not None and not area.turn:
            found.append(area.low)
        if not found:
            self.bases[area.name] = None
            return None
        base = max(found)
        top = area.high if area.high is not None else FAR
        if self.case.ends["top"] is not None:
            top = min(top, self.case.ends["top"] - 3.0)
        row = next(
            row
            for row in range(-2000, 2000)
            if area.up[1] + self.corner(area, 0, row)[1] + area.h > base + LEAST - 1e-6
        )
        self.bases[area.name] = base if area.up[1] + self.corner(area, 0, row)[1] < top else None
        return row if self.bases[area.name] is not None else None

    def _start_row(self, area: Area, base: int | None, held: list[int]) -> int:
        hangs = self.hangs(area)
        row = 0 if hangs or base is None else base
        if self.is_open(area) or not held:
            return row
        if row < min(held):
            return min(held) if not hangs else max(held)
        if row > max(held):
            return max(held) if hangs else min(held)
        return row

    def hangs(self, area: Area) -> bool:
        """Whether it is worked downward."""
        return self.case.kind == "wall" and area.up[0] == "hangs from"

    def is_holed(self, key: Key) -> bool:
        """Whether something comes through a tile: circles of 35 about the pipes."""
        return key in self._holed

    @cached_property
    def _holed(self) -> set[Key]:
        circles = [_circle(hole) for hole in self.case.holes]
        return {
            key
            for key, tile in self.tiles.items()
            if any(one.intersects(tile.shape) and one.intersection(tile.shape).area > 1e-4 for one in circles)
        }

    def flat(self, area: Area) -> dict[Key, BaseGeometry]:
        """Every tile as it lies along an area's courses."""
        if area.turn not in self._flat:
            self._flat[area.turn] = {key: in_courses(area, tile.shape) for key, tile in self.tiles.items()}
        return self._flat[area.turn]

    def area_order(self) -> list[Area]:
        """The areas as they follow each other: of all orders that no standing forbids, the first by start and file."""
        areas, case = list(self.case.areas), self.case
        named = [area for name in case.first for area in areas if area.name == name]
        rest = [area for area in areas if area not in named]
        must = set()
        for lower, upper in itertools.permutations(areas, 2):
            if case.kind == "wall" and lower.high is not None and upper.low is not None:
                over = min(_or(lower.right, FAR), _or(upper.right, FAR)) - max(
                    _or(lower.left, -FAR), _or(upper.left, -FAR)
                )
                if 0 < upper.low - lower.high < REACH and over > REACH:
                    must.add((lower.name, upper.name))

        def place(area: Area) -> float:
            if case.kind == "floor" and case.way_out:
                low, high = self._reach(area, case.way_out in ("bottom", "top"))
                return {"bottom": -low, "left": -low, "top": high, "right": high}[case.way_out]
            return area.up[1]

        for order in sorted(
            itertools.permutations(rest), key=lambda order: [(place(area), areas.index(area)) for area in order]
        ):
            names = [area.name for area in (*named, *order)]
            if all(
                names.index(low) < names.index(high) for low, high in must if high not in [one.name for one in named]
            ):
                return [*named, *order]
        raise AssertionError("no order of areas")

    def _reach(self, area: Area, upright: bool) -> tuple[float, float]:
        own = box(_or(area.left, -FAR), _or(area.low, -FAR), _or(area.right, FAR), _or(area.high, FAR))
        x0, y0, x1, y1 = self.clear().intersection(own).bounds
        return (y0, y1) if upright else (x0, x1)

    @cached_property
    def order(self) -> list[Key]:
        """Every tile in the order in which it goes up."""
        left_out = self.case.holed == "left out"
        days: dict[int, list[Key]] = {1: [], 2: []}
        late: dict[int, list[Key]] = {1: [], 2: []}
        for area in self.area_order():
            for day, row in self._courses(area):
                for key in self._course(area, row):
                    (late if left_out and self.is_holed(key) else days)[day].append(key)
        return days[1] + late[1] + days[2] + late[2]

    def _courses(self, area: Area) -> list[tuple[int, int]]:
        """(day, row) of each course of an area, as they follow each other."""
        rows = sorted({row for name, _, row in self.tiles if name == area.name})
        if self.case.kind == "floor" and self.case.way_out in ("bottom", "top"):
            return [(1, row) for row in (rows[::-1] if self.case.way_out == "bottom" else rows)]
        start = self.start_rows[area.name]
        up, down = [row for row in rows if row >= start], [row for row in rows if row < start][::-1]
        if self.hangs(area):
            return [
                (1, row) for row in [row for row in rows if row <= start][::-1] + [row for row in rows if row > start]
            ]
        second = 2 if self.case.kind == "wall" and self.bases[area.name] is not None else 1
        return [(1, row) for row in up] + [(second, row) for row in down]

    def _course(self, area: Area, row: int) -> list[Key]:
        """One course from its first tile outward, or from the end that it is worked from."""
        columns = sorted(column for name, column, at in self.tiles if name == area.name and at == row)
        end = ENDS.get(area.work, "")
        if not end and not area.work and self.case.way_out in ("left", "right"):
            end = "right" if self.case.way_out == "left" else "left"
        if end:
            walked = columns if end == "left" else columns[::-1]
        else:
            off = {column: self.corner(area, column, row)[0] + area.w / 2 for column in columns}
            right = self.corner(area, 0, 0)[0] + area.w / 2 > -1e-6
            first = min(columns, key=lambda c: (round(abs(off[c]), 6), -off[c] if right else off[c]))
            rightward = off[first] > 0 if abs(off[first]) > 1e-6 else right
            ahead = [c for c in columns if (c > first if rightward else c < first)]
            behind = [c for c in columns if (c < first if rightward else c > first)]
            walked = [first, *sorted(ahead, reverse=not rightward), *sorted(behind, reverse=rightward)]
            end = "left" if rightward else "right"
        keys = [(area.name, column, row) for column in walked]
        keys = self._cuts_put_in(area, keys, end)
        if self.case.cuts == "after":
            keys = [k for k in keys if self.tiles[k].whole] + [k for k in keys if not self.tiles[k].whole]
        return keys

    def _cuts_put_in(self, area: Area, keys: list[Key], begins: str) -> list[Key]:
        """The same with what is cut where its work comes from behind the tile on its other side."""
        if area.turn:
            return keys
        found = list(keys)
        for key in keys:
            first = keys[0][1]
            from_an_end = area.work in ENDS or self._is_worked_from_an_end(area)
            near = begins if key[1] == first or from_an_end else "left" if key[1] > first else "right"
            sides = ["left", "right"] if near == "left" else ["right", "left"]
            if key[1] == first and not from_an_end:
                sides = [side for side in sides if not self._is_read_from_the_line(area, key, side)]
            else:
                sides = sides[:1]
            for side in sides:
                other, step = ("right", 1) if side == "left" else ("left", -1)
                beside = (key[0], key[1] + step, key[2])
                waits = beside in keys and self._is_cut(area, key, side) and not self._is_cut(area, key, other)
                last = self.case.holed == "left out" and self.is_holed(beside) and not self.is_holed(key)
                if waits and not self._is_cut(area, beside, other) and not last:
                    found.remove(key)
                    found.insert(found.index(beside) + 1, key)
                    break
        return found

    def _is_read_from_the_line(self, area: Area, key: Key, side: str) -> bool:
        """Whether a tile ends on a side beyond the start line, which lies at 0 along the courses."""
        (left, _, right, _), whole = self.tiles[key].shape.bounds, self.outline(area, key[1], key[2]).bounds
        begin = self.corner(area, key[1], key[2])[0]
        end = begin + (left if side == "left" else right) - whole[0]
        return end < -1e-6 if side == "left" else end > 1e-6

    def _is_worked_from_an_end(self, area: Area) -> bool:
        return not area.work and self.case.way_out in ("left", "right")

    def _is_cut(self, area: Area, key: Key, side: str) -> bool:
        """Whether at any level a tile ends short of where a whole one would."""
        shape = self.tiles[key].shape
        left, _, right, _ = self.outline(area, key[1], key[2]).bounds
        # What is left of a tile may be in parts, a line or a point of no width among them.
        parts = [part for part in getattr(shape, "geoms", [shape]) if part.area > 0.0]
        levels = sorted({y for part in parts for ring in (part.exterior, *part.interiors) for _, y in ring.coords})
        for low, high in itertools.pairwise(levels):
            if high - low < 1e-3:
                continue
            for level in (low + 1e-4, (low + high) / 2, high - 1e-4):
                a, _, b, _ = shape.intersection(LineString([(left - 1, level), (right + 1, level)])).bounds
                if (a - left if side == "left" else right - b) > 1e-3:
                    return True
        return False


def in_courses(area: Area, shape: BaseGeometry) -> BaseGeometry:
    """A shape as it lies along an area's courses; one that is turned starts on the crossing of the lines."""
    return rotate(shape, -area.turn, origin=(0.0, 0.0)) if area.turn else shape


def _or(value: float | None, other: float) -> float:
    return other if value is None else value


def _circle(hole: Hole) -> BaseGeometry:
    return Polygon(
        [
            (hole.x + 17.5 * math.cos(math.radians(k)), hole.y + 17.5 * math.sin(math.radians(k)))
            for k in range(0, 360, 2)
        ]
    )


def make_case(seed: int, number: int) -> Case:
    """The case of that number."""
    rng = random.Random(f"fixing {seed} {number}")
    wall = rng.random() < 0.75
    kind = "wall" if wall else "floor"
    left, right = -float(rng.randint(420, 1000)), float(rng.randint(420, 1000))
    bottom, top = -float(rng.randint(20, 500)), float(rng.randint(500, 1100))
    ends: dict[str, float | None] = {"left": left, "right": right, "bottom": bottom, "top": top}
    right_top = right - rng.choice([0, 0, 4, 11])
    turned = rng.random() < 0.08
    how = rng.choice(["one", "one", "stacked", "beside", "three"]) if not turned else "one"
    if how == "one" and not turned:
        for side in ends:
            if rng.random() < 0.08:
                ends[side] = None
    if ends["top"] is None:
        right_top = right
    areas = _areas(rng, how, wall, turned, top)
    rng.shuffle(areas)
    windows = []
    for k in range(rng.choice([0, 0, 1, 1, 2])):
        x, y = (
            float(rng.randint(int(left) + 60, int(right) - 260)),
            float(rng.randint(int(bottom) + 60, int(top) - 260)),
        )
        windows.append(Window(f"window {k + 1}", x, x + rng.randint(80, 400), y, y + rng.randint(80, 330)))
    if len(windows) == 2 and windows[0].shape(30).intersects(windows[1].shape(30)):
        windows.pop()
    holes: list[Hole] = []
    for k in range(rng.randint(2, 7)):
        for _ in range(30):
            x, y = rng.uniform(left + 40, right - 50), rng.uniform(bottom + 40, top - 40)
            pipe = Hole(f"pipe {k}", round(x, 3), round(y, 3))
            if not any(one.shape(25).intersects(_circle(pipe)) for one in windows) and not any(
                math.hypot(x - one.x, y - one.y) < 80 for one in holes
            ):
                holes.append(pipe)
                break
    way_out = "" if wall or rng.random() < 0.3 else rng.choice(["left", "right", "bottom", "top"])
    first = (rng.choice(areas).name,) if len(areas) > 1 and rng.random() < 0.15 else ()
    return Case(
        kind,
        ends,
        right_top,
        tuple(areas),
        tuple(windows),
        tuple(holes),
        rng.choice(["in turn", "in turn", "after"]),
        rng.choice(["in turn", "in turn", "left out"]),
        way_out,
        first,
    )


def _areas(rng: random.Random, how: str, wall: bool, turned: bool, top: float) -> list[Area]:
    if how == "one":
        low = None if rng.random() < 0.7 else rng.choice([0.0, 37.0])
        return [_area(rng, "field", wall, turned, low=low)]
    if how == "stacked":
        at = float(rng.randint(200, int(top) - 150))
        lower = _area(rng, "lower", wall, False, high=at)
        return [lower, _area(rng, "upper", wall, False, low=at + lower.joint)]
    if how == "beside":
        at = float(rng.randint(-200, 200))
        one = _area(rng, "west", wall, False, right=at)
        return [one, _area(rng, "east", wall, False, left=at + one.joint)]
    at, x = float(rng.randint(150, 300)), float(rng.randint(-200, 200))
    plinth = _area(rng, "plinth", wall, False, high=at)
    one = _area(rng, "west", wall, False, low=at + plinth.joint, right=x)
    return [plinth, one, _area(rng, "east", wall, False, low=at + plinth.joint, left=x + one.joint)]


def _area(
    rng: random.Random,
    name: str,
    wall: bool,
    turned: bool,
    *,
    left: float | None = None,
    right: float | None = None,
    low: float | None = None,
    high: float | None = None,
) -> Area:
    w, h = float(rng.choice([97, 148, 197, 247, 297, 397])), float(rng.choice([97, 148, 197, 247, 297]))
    bond, shift, stepped = rng.choice(
        [
            ("stack", 0.0, False),
            ("half", 0.5, False),
            ("third right", 1 / 3, False),
            ("third left, stepped", -1 / 3, True),
        ]
    )
    joint = float(rng.choice([2, 3, 5]))
    if turned:
        return Area(
            name, w, h, joint, "stack", 0.0, False, ("middle", 0.0), ("middle", 0.0), "", rng.choice([45.0, -30.0])
        )
    up = rng.choice(["sits on", "sits on", "sits on", "joint", "middle"])
    at = 0.0
    if low is not None and rng.random() < 0.7:
        at = low
    elif high is None and low is None and wall and rng.random() < 0.2:
        up, at = "hangs from", float(rng.choice([0, 300]))
    elif high is not None and low is None and wall and rng.random() < 0.25:
        up, at = "hangs from", high  # what stands on it comes after it all the same
    return Area(
        name,
        w,
        h,
        joint,
        bond,
        shift,
        stepped,
        (rng.choice(["joint", "middle", "left", "right"]), float(rng.choice([0, 0, 60]))),
        (up, at),
        rng.choice(["", "", "", "left to right", "right to left"]),
        0.0,
        left,
        right,
        low,
        high,
    )
