"""Every cut of a job reckoned a second time, from its YAML alone, by a reader and a reckoner of its own.

Nothing of the package is used here, and none of its tables: sizes are those of the standards and of the job. It knows
the phrases that most jobs are written in; what it does not know it says (`Reckoned.beyond`) and never guesses. What a
hole, a tile, a start or an edge means stands in `cutmarks help job`.
"""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from functools import cached_property
from typing import Any

from msgspec import Struct, field
from ruamel.yaml import YAML
from ruamel.yaml.error import YAMLError
from shapely import affinity, union_all
from shapely.errors import GEOSException
from shapely.geometry import MultiPolygon, Polygon, box
from shapely.geometry.base import BaseGeometry

AGREE = 0.001
"""Two figures that differ by no more are one, mm."""
SPECK = 0.01
"""A share, or a piece, that is nearer to nothing than this, mm, may be taken for one or the other."""
LEAST_PIECE = 1.0
"""What trimming leaves under this, mm, one way, is no piece."""
FAR = 1e6
"""Where a side ends of which nothing was read, mm."""
MOST_PLACES = 4000
"""A course or an area with more places than this is not counted."""

Tree = Mapping[str, Any]


class MadeCut(Struct, frozen=True):
    """A cut as it was planned: mm, `from_` of the opening's middle to the whole tile's own edges.

    place    column and row from the start tile. opening: how far it reaches across and up the surface.
    """

    surface: str
    area: str
    place: tuple[int, int]
    piece: str
    hole: str
    from_left: float
    from_bottom: float
    tile: tuple[float, float]
    opening: tuple[float, float]


class Reckoned(Struct):
    """How many cuts were reckoned again, and how many not, by why; sentences where the two differ."""

    count: int = 0
    named: int = 0
    beyond: Counter[str] = field(default_factory=Counter)
    wrong: list[str] = field(default_factory=list)


class Beyond(Exception):
    """What this reckoner does not know."""


def reckon(text: str, cuts: Sequence[MadeCut]) -> Reckoned:
    """All cuts of a job held against what its text says."""
    result = Reckoned()
    try:
        job = _Job(YAML(typ="base", pure=True).load(text))
    except (Beyond, YAMLError, AttributeError, TypeError, ValueError):
        result.beyond["the job"] += len(cuts)
        return result
    for cut in cuts:
        try:
            _hold(job, cut, result)
        except Beyond as beyond:
            result.beyond[str(beyond)] += 1
        except GEOSException:
            result.beyond["an outline that shapely does not take"] += 1
    made = {(cut.hole, cut.area, cut.place) for cut in cuts}
    for surface in job.surfaces:
        for hole in surface.holes:
            try:
                missing = [place for place in surface.places_of(hole) if (hole, *place) not in made]
            except (Beyond, GEOSException):
                continue
            result.wrong += [f"{hole} has no cut in {area} {place}" for area, place in missing]
    return result


def _hold(job: _Job, cut: MadeCut, result: Reckoned) -> None:
    surface = job.surface(cut.surface)
    area, hole = surface.area(cut.area), surface.hole(cut.hole)
    x, y = area.on_tile(hole.at, cut.place)
    pairs = {
        "from_left": (cut.from_left, x),
        "from_bottom": (cut.from_bottom, y),
        "tile's width": (cut.tile[0], area.w),
        "tile's height": (cut.tile[1], area.h),
        "opening's width": (cut.opening[0], hole.size[0]),
        "opening's height": (cut.opening[1], hole.size[1]),
    }
    result.count += 1
    for what, (made, own) in pairs.items():
        if not abs(made - own) <= AGREE:
            result.wrong.append(f"{cut.hole} in {cut.piece}: {what} is {made:.6g}, reckoned again {own:.6g}")
    if not surface.meets(hole, area, cut.place):
        result.wrong.append(f"{cut.hole} in {cut.piece}: reckoned again it does not meet {cut.area} {cut.place}")
    try:
        name = area.name_of(cut.place)
    except Beyond as beyond:
        result.beyond[f"(name only) {beyond}"] += 1
        return
    result.named += 1
    if re.sub(r"(?<=[0-9])[a-z]+$", "", cut.piece) != name:
        result.wrong.append(f"{cut.hole} in {cut.piece}: reckoned again the piece is {name}")


# Words.

_GLYPHS = {"½": Fraction(1, 2), "¼": Fraction(1, 4), "¾": Fraction(3, 4), "⅜": Fraction(3, 8), "⅛": Fraction(1, 8)}
_INCH = Fraction(254, 10)
_MM = {"mm": Fraction(1), "cm": Fraction(10), "m": Fraction(1000), "in": _INCH, '"': _INCH, "ft": 12 * _INCH}
_FIGURE = r"(?:(?:[0-9]+[ -])?[0-9]+/[0-9]+|[0-9]+(?:\.[0-9]+)?[½¼¾⅜⅛]?|[½¼¾⅜⅛])"
_LENGTH = _FIGURE + r"(?: ?(?:mm|cm|m|in(?! from)|ft|\")(?![a-z0-9']))?"
_ONE = re.compile(r"(?:([0-9]+)[ -])?([0-9]+)/([0-9]+)|([0-9]+(?:\.[0-9]+)?)?([½¼¾⅜⅛])?")
_WAYS = {
    "across": {"right of": 1, "left of": -1},
    "wall": {"above": 1, "below": -1},
    "floor": {"in from": 1, "from": 1, "short of": -1},
}


def tidy(text: str) -> str:
    """With single blanks."""
    return " ".join(text.split())


def value(holder: Tree, key: str) -> str | None:
    """A text under a key, None where there is none or it is not known yet. Raises Beyond: it is no text."""
    found = holder.get(key)
    if found is None or (isinstance(found, str) and tidy(found) in ("", "?")):
        return None
    if not isinstance(found, str):
        raise Beyond(f"{key}: in another form")
    return tidy(found)


def unit_of(text: str) -> str | None:
    """The unit that a length carries."""
    match = re.search(r"(mm|cm|m|in|ft|\")$", text)
    return match[1] if match else None


def length(text: str, unit: str) -> float:
    """One length in mm; `unit` is that of a figure without one."""
    text = tidy(text)
    if not re.fullmatch(_LENGTH, text):
        raise Beyond("a length in another form")
    own = unit_of(text)
    figure = text.removesuffix(own or "").strip()
    match = _ONE.fullmatch(figure)
    if match is None:
        raise Beyond("a length in another form")
    whole, over, under, number, glyph = match.groups()
    if over:
        amount = Fraction(int(whole or 0)) + Fraction(int(over), int(under))
    else:
        amount = Fraction(number or "0") + _GLYPHS.get(glyph or "", Fraction(0))
    return float(amount * _MM[own or unit])


def size(text: str, unit: str) -> tuple[float, float]:
    """Two lengths with x between; a unit at the end is for both."""
    parts = re.split(r" ?[x×] ?", tidy(text))
    if len(parts) != 2:
        raise Beyond("a size in another form")
    last = unit_of(parts[1]) or unit
    return length(parts[0], last), length(parts[1], last)


def known_keys(holder: Tree, keys: str, what: str) -> None:
    """Raises Beyond where a mapping has another key than these."""
    allowed = set(keys.split(", "))
    for key in holder:
        if key not in allowed:
            raise Beyond(f"{what} with {key}" if key.isascii() and len(key) < 20 else f"{what} with another key")


# The job.

JOB_KEYS = "job, units, say, paper, cut, tiles, surfaces, accept, sheets, limits, note"
SURFACE_KEYS = (
    "name, kind, lines, edges, gaps, areas, holes, windows, niches, doors, up, way out, board, points, square, pairs, "
    "outline, thickness, bed, notch"
)
HOLE_KEYS = (
    "name, what, across, up, in, cover, end, opening, size, diameter, play, hole, depth, depth range, screw, "
    "keep clear, sweep, service, template, note, stub"
)
AREA_KEYS = "name, tile, joint, bond, start, from, to, left of, right of, turn, lay, work, note"
TILE_KEYS = "size, lay, run across, run up, measured, thickness, bed, notch, material, face, template, note"
CORES: Mapping[str, Sequence[float]] = {
    # The trade's series, as diamond cores are sold.
    "mm": [
        *(5, 6, 7, 8, 10, 12, 14, 15, 16, 18, 20, 22, 25, 27, 28, 30, 32, 35, 38, 40, 42, 45, 50, 51, 55, 60, 65, 67),
        *(68, 70, 75, 82, 83, 100, 105, 110, 115, 120, 127),
    ],
    "in": [
        25.4 * sixteenths / 16
        for sixteenths in (
            *(3, 4, 5, 6, 8, 10, 12, 14, 16, 18, 20, 22, 24, 26, 28, 32),
            *(34, 36, 40, 42, 44, 48, 56, 64, 68, 72),
        )
    ],
}
PIPES = {
    # EN 1057, ISO 21003 and EN 1329: the size that is said is the outside diameter. ASTM B88: 1/8 in more; ASME B36.10.
    **{f"{d} copper": float(d) for d in (8, 10, 12, 15, 18, 22, 28, 35, 42, 54)},
    "16 multilayer": 16.0,
    "110 soil": 110.0,
    "1/2 copper": 15.875,
    "3/4 iron pipe": 26.67,
}
AS_READ = ("valve body", "flue pipe", "lamp feed", "40 waste", "32 waste")
"""Things of which no one size is known: as wide as they were read."""
BOXES = ("socket box", "device box")
ROUND_WITHIN = 2.0
"""A thing is round where its two measures differ by no more, mm: README, "over 2 mm is said"."""


class _Job:
    def __init__(self, tree: Any) -> None:
        known_keys(tree, JOB_KEYS, "a job")
        self.unit = value(tree, "units") or "mm"
        if self.unit not in _MM:
            raise Beyond("units in another form")
        limits = tree.get("limits") or {}
        known_keys(limits, "thin bridge, box play", "limits")
        self.box_play = length(limits.get("box play", "2 mm"), self.unit)
        self.tiles = {tidy(name): tile for name, tile in (tree.get("tiles") or {}).items()}
        self.surfaces = [_Surface(one, self) for one in tree["surfaces"]]

    def surface(self, name: str) -> _Surface:
        found = [one for one in self.surfaces if one.name == name]
        if len(found) != 1:
            raise Beyond("a surface by another name")
        return found[0]


class _Hole(Struct, frozen=True):
    name: str
    at: tuple[float, float]
    size: tuple[float, float]
    round: bool

    @property
    def shape(self) -> Polygon:
        x, y = self.at
        w, h = self.size
        if not self.round:
            return box(x - w / 2, y - h / 2, x + w / 2, y + h / 2)
        turns = (2 * math.pi * k / 256 for k in range(256))
        return Polygon([(x + w / 2 * math.cos(a), y + w / 2 * math.sin(a)) for a in turns])


class _Surface:
    def __init__(self, tree: Any, job: _Job) -> None:
        self.tree, self.job, self.unit = tree, job, job.unit
        self.name = tidy(tree["name"])
        self.kind = value(tree, "kind") or "wall"
        # What is said in one line is read by the reader alone: beyond this.
        self.holes = [
            tidy(one["name"]) for one in tree.get("holes") or [] if isinstance(one, Mapping) and "name" in one
        ]
        self._read: dict[str, _Hole] = {}
        self._reading: set[str] = set()

    @cached_property
    def lines(self) -> dict[str, float]:
        """Each line's own coordinate, by name in small letters."""
        words = {"plumb": "across", "level": "up"} if self.kind == "wall" else {"across": "across", "along": "up"}
        found: dict[str, float] = {}
        written = {tidy(name): text for name, text in (self.tree.get("lines") or {}).items()}
        for _ in range(len(written)):
            for name, text in list(written.items()):
                if not isinstance(text, str):
                    known_keys(text, "kind, words, off", "a line")
                    text = f"{text.get('kind')}, {text.get('words', '')}"
                kind, _, rest = tidy(text).partition(",")
                if kind not in words:
                    raise Beyond("a line in another form")
                rest = rest.strip()
                if not re.match(r"[0-9.½¼¾⅜⅛-]", rest):
                    found[name.lower()] = 0.0
                elif (there := self._from_line(rest.partition(",")[0], words[kind], found)) is not None:
                    found[name.lower()] = there
                else:
                    continue
                del written[name]
        if written:
            raise Beyond("a line in another form")
        return found

    def _ways(self, axis: str) -> Mapping[str, int]:
        return _WAYS["across" if axis == "across" else self.kind]

    def _from_line(self, text: str, axis: str, lines: Mapping[str, float]) -> float | None:
        """A coordinate by one distance from a line that is known, or by its name alone; None: it is not known yet."""
        for way, sign in self._ways(axis).items():
            match = re.fullmatch(rf"(?:centre )?({_LENGTH}) {way} (.+)", text)
            if match:
                origin = lines.get(match[2].lower())
                return None if origin is None else origin + sign * length(match[1], self.unit)
        return lines.get(text.removeprefix("on ").lower())

    def place(self, text: str, axis: str) -> float:
        """A coordinate by one distance from a set-out line, or a line's name."""
        found = self._from_line(tidy(text), axis, self.lines)
        if found is None:
            raise Beyond("a place in another form")
        return found

    # Holes.

    def hole(self, name: str) -> _Hole:
        if name not in self._read:
            keyed = [one for one in self.tree["holes"] if isinstance(one, Mapping) and "name" in one]
            found = [one for one in keyed if tidy(one["name"]) == name]
            if not found and len(keyed) < len(self.tree["holes"]):
                raise Beyond("a hole in one line")
            if len(found) != 1 or name in self._reading:
                raise Beyond("a hole by another name")
            self._reading.add(name)
            try:
                self._read[name] = self._hole(name, found[0])
            finally:
                self._reading.discard(name)
        return self._read[name]

    def _hole(self, name: str, tree: Tree) -> _Hole:
        known_keys(tree, HOLE_KEYS, "a hole")
        # A name is matched as it is tidied, which the look of a mapping would hide.
        said = (pair.values() if isinstance(pair, dict) else [pair] for pair in self.tree.get("pairs") or [])
        if any(name.lower() in tidy(str(word)).lower() for words in said for word in words):
            raise Beyond("a hole in a pair")
        across, up = value(tree, "across"), value(tree, "up") or value(tree, "in")
        if across is None or up is None:
            raise Beyond("a hole read in another form")
        own = self._own_size(tree)
        beside = 0.0
        for _ in range(60):
            xs = self._span(across, "across", own and own[0], beside)
            ys = self._span(up, "up", own and own[1], (xs[0] + xs[1]) / 2)
            if (ys[0] + ys[1]) / 2 == beside:
                break
            beside = (ys[0] + ys[1]) / 2
        wide, high = (s[1] - s[0] if self._both(text) else None for s, text in ((xs, across), (ys, up)))
        at = ((xs[0] + xs[1]) / 2, (ys[0] + ys[1]) / 2)
        return _Hole(name, at, *self._opening(tree, own, wide, high))

    def _own_size(self, tree: Tree) -> tuple[float, float] | None:
        """How large the thing itself is by what was written of it."""
        if (text := value(tree, "size")) is not None:
            return size(text, self.unit)
        if (text := value(tree, "diameter")) is not None:
            return (length(text, self.unit),) * 2
        what = (value(tree, "what") or "").lower()
        if what in PIPES:
            if what.endswith(("copper", "iron pipe")) and ("/" in what) != (self.unit in ("in", "ft")):
                raise Beyond("a pipe of another system")
            return (PIPES[what],) * 2
        if what and what not in AS_READ + BOXES:
            raise Beyond("a thing of another kind")
        return None

    def _opening(
        self, tree: Tree, own: tuple[float, float] | None, wide: float | None, high: float | None
    ) -> tuple[tuple[float, float], bool]:
        """The opening's size, and whether it is round."""
        if (text := value(tree, "opening")) is not None:
            if re.search("[x×]", text):
                return size(text, self.unit), False
            return (length(text, self.unit),) * 2, True
        what = (value(tree, "what") or "").lower()
        is_box = value(tree, "size") is not None or (own is None and what in BOXES)
        if own is None:
            if wide is None or high is None:
                raise Beyond("a thing read one way")
            is_box = is_box or abs(wide - high) > ROUND_WITHIN
            own = (wide, high) if is_box else (max(wide, high),) * 2
        play = value(tree, "play")
        if is_box:
            room = self.job.box_play if play is None else length(play, self.unit)
            return (own[0] + 2 * room, own[1] + 2 * room), False
        if play is not None:
            return (own[0] + 2 * length(play, self.unit),) * 2, True
        return (self._core(tree, own[0]),) * 2, True

    def _core(self, tree: Tree, pipe: float) -> float:
        """The hole for a pipe, by its cover, the maker's least and most, and the cores that are sold."""
        least, most, best = pipe + 6, math.inf, None
        cover = value(tree, "cover")
        if cover not in (None, "none"):
            assert cover is not None
            plate = min(size(cover, self.unit)) if re.search("[x×]", cover) else length(cover, self.unit)
            best, most = (pipe + plate - 6) / 2, plate - 6
        if (text := value(tree, "hole")) is not None:
            match = re.fullmatch(rf"({_LENGTH}) to ({_LENGTH})", text)
            if match is None or unit_of(match[1]) != unit_of(match[2]):
                raise Beyond("the maker's hole in another form")
            least, most = length(match[1], self.unit), length(match[2], self.unit)
            best = (least + most) / 2 if best is None else min(max(best, least), most)
        fitting = [core for core in CORES["in" if self.unit in ("in", "ft") else "mm"] if least <= core <= most]
        if not fitting:
            if text is not None:
                raise Beyond("no core of that size")
            return least
        return max([core for core in fitting if best is not None and core <= best], default=fitting[0])

    @staticmethod
    def _both(text: str) -> bool:
        return re.search(rf"{_LENGTH}(?: ?[a-z ]*)?(?: to |-| – ){_LENGTH}", text) is not None

    def _span(self, text: str, axis: str, own: float | None, beside: float) -> tuple[float, float]:
        """Both sides of a thing on one axis; twice its middle where that was read."""
        if match := re.fullmatch(r"level with (.+)", text):
            other = self.hole(tidy(match[1])).at[0 if axis == "across" else 1]
            return other, other
        if match := re.fullmatch(rf"({_LENGTH})(?: to | ?[-–] ?)({_LENGTH}) (.+)", text):
            last = unit_of(match[2]) or self.unit
            if unit_of(match[1]) not in (None, last) or re.match(r"[0-9]+-[0-9]+/", text):
                raise Beyond("a reading in another form")
            one, two = length(match[1], last), length(match[2], last)
            origin, sign = self._origin(match[3], axis, beside)
            low, high = sorted((origin + sign * one, origin + sign * two))
            return low, high
        ways = self._ways(axis)
        short = {way.removesuffix(" of").removesuffix(" from"): sign for way, sign in ways.items()} | dict(ways)
        either = "|".join(sorted(short, key=len, reverse=True))
        if match := re.fullmatch(rf"({_LENGTH}) ({either}) to ({_LENGTH}) ({either}) (\S+)", text):
            if unit_of(match[1]) != unit_of(match[3]):
                raise Beyond("a reading in another form")
            origin = self.place(match[5], axis)
            one, two = (origin + short[match[k + 1]] * length(match[k], self.unit) for k in (1, 3))
            return min(one, two), max(one, two)
        hand = re.match(r"(centre|near side|far side|underside|near|far) ", text)
        rest = text[hand.end() :] if hand else text
        if not hand and (at := self._from_line(text, axis, self.lines)) is not None and text.startswith("on "):
            return at, at
        match = re.fullmatch(rf"({_LENGTH}) (.+)", rest)
        if hand is None or match is None:
            raise Beyond("a reading in another form")
        origin, sign = self._origin(match[2], axis, beside)
        at = origin + sign * length(match[1], self.unit)
        word = hand[1].removesuffix(" side")
        if word == "centre":
            return at, at
        if own is None or (word == "underside" and axis == "across"):
            raise Beyond("one side of a thing of unknown size")
        low = word == "underside" or (word == "near") == (sign > 0)
        return (at, at + own) if low else (at - own, at)

    def _origin(self, text: str, axis: str, beside: float) -> tuple[float, int]:
        """What a distance is read from, and the way that it grows."""
        if match := re.fullmatch(r"in from (left|right|bottom|top) there", text):
            if (match[1] in ("left", "right")) != (axis == "across"):
                raise Beyond("a reading in another form")
            return self.edge_at(match[1], beside), 1 if match[1] in ("left", "bottom") else -1
        for way, sign in self._ways(axis).items():
            if text.startswith(way + " "):
                name = text.removeprefix(way + " ").lower()
                if name in self.lines:
                    return self.lines[name], sign
        raise Beyond("a reading in another form")

    # Edges and ground.

    def readings(self, side: str) -> list[tuple[float, float]]:
        """Where an edge was read: (how far along it, where it lies), from the first to the last."""
        written = (self.tree.get("edges") or {}).get(side)
        if isinstance(written, dict):
            known_keys(written, "at, what, true, gap, still to come", "an edge")
            written = written.get("at")
        axis, other = ("across", "up") if side in ("left", "right") else ("up", "across")
        found = []
        for text in [written] if isinstance(written, str) else written or []:
            at, _, along = tidy(text).partition(" at ")
            found.append((self.place(along, other) if along else 0.0, self.place(at, axis)))
        if not found:
            raise Beyond("an edge in another form")
        return sorted(found)

    def edge_at(self, side: str, along: float) -> float:
        """Where an edge lies, straight from reading to reading, its ends gone on."""
        points = self.readings(side)
        if len(points) == 1:
            return points[0][1]
        k = max((i for i in range(len(points) - 1) if points[i][0] <= along), default=0)
        (t0, v0), (t1, v1) = points[k], points[k + 1]
        if t0 == t1:
            raise Beyond("an edge in another form")
        return v0 + (v1 - v0) * (along - t0) / (t1 - t0)

    def clears(self, side: str) -> float:
        """How far inside an edge the tile ends."""
        edge = self.tree["edges"][side]
        edge = edge if isinstance(edge, dict) else {}
        gap = value(edge, "gap") or value(self.tree.get("gaps") or {}, side)
        what = (edge.get("what") or "").lower()
        usual = 5.0 if side == "bottom" and self.kind == "wall" and (not what or "floor" in what) else 3.0
        to_come = value(edge, "still to come")
        return (usual if gap is None else length(gap, self.unit)) + (length(to_come, self.unit) if to_come else 0.0)

    @cached_property
    def clear(self) -> BaseGeometry:
        """Everything inside the edges less their gaps."""
        if "outline" in self.tree:
            raise Beyond("a surface by its outline")
        ground: BaseGeometry = box(-FAR, -FAR, FAR, FAR)
        for side in self.tree.get("edges") or {}:
            if side not in ("left", "right", "bottom", "top"):
                raise Beyond("an edge in another form")
            inward = self.clears(side) * (1 if side in ("left", "bottom") else -1)
            alongs = [-2 * FAR, *(t for t, _ in self.readings(side)), 2 * FAR]
            line = [(t, self.edge_at(side, t) + inward) for t in alongs]
            off = 4 * FAR + max(abs(at) for _, at in line)
            beyond = -off if side in ("left", "bottom") else off
            points = [*line, (2 * FAR, beyond), (-2 * FAR, beyond)]
            ground = ground.difference(Polygon([(v, t) for t, v in points] if side in ("left", "right") else points))
        return ground

    @cached_property
    def voids(self) -> list[BaseGeometry]:
        """Windows, niches and doors with their gaps."""
        found = []
        for key in ("windows", "niches", "doors"):
            for one in self.tree.get(key) or []:
                known_keys(one, "name, across, up, in, gap", "a window")
                across, up = value(one, "across"), value(one, "up") or value(one, "in")
                if across is None or up is None:
                    raise Beyond("a window in another form")
                xs, ys = self._span(across, "across", None, 0.0), self._span(up, "up", None, 0.0)
                if "there" in across + up:
                    raise Beyond("a window in another form")
                gap = value(one, "gap")
                by = 3.0 if gap is None else length(gap, self.unit)
                found.append(box(xs[0] - by, ys[0] - by, xs[1] + by, ys[1] + by))
        return found

    # Areas.

    @cached_property
    def areas(self) -> list[_Area]:
        return [_Area(one, self) for one in self.tree.get("areas") or []]

    def area(self, name: str) -> _Area:
        found = [one for one in self.areas if one.name == name]
        if len(found) != 1:
            raise Beyond("an area by another name")
        return found[0]

    def meets(self, hole: _Hole, area: _Area, place: tuple[int, int]) -> bool:
        """Whether an opening takes, or all but takes, anything of the tile in a place."""
        return hole.shape.buffer(SPECK).intersects(area.tile(place))

    def places_of(self, name: str) -> Iterator[tuple[str, tuple[int, int]]]:
        """Every area and place in which the opening surely takes something of a piece, and does not take all of it."""
        hole = self.hole(name)
        taken = union_all([self.hole(other).shape for other in self.holes])
        for area in self.areas:
            for place in area.under(hole.shape):
                piece = area.piece(place)
                share, rest = piece.intersection(hole.shape), piece.difference(taken)
                if all(any(_sure(part, area.turn) for part in _parts(shape)) for shape in (share, rest)):
                    yield area.name, place


class _Area:
    def __init__(self, tree: Tree, surface: _Surface) -> None:
        known_keys(tree, AREA_KEYS, "an area")
        self.tree, self.surface = tree, surface
        self.name = tidy(tree["name"])
        unit = surface.unit
        self.joint = length(value(tree, "joint") or "", unit)
        self.turn = float(value(tree, "turn") or "0")
        if not -45 < self.turn <= 45:
            raise Beyond("an area turned in another form")
        if (tile := surface.job.tiles.get(value(tree, "tile") or "")) is None:
            raise Beyond("a tile by another name")
        self.w, self.h = self._tile(tile, unit)
        self.shift_by, self.stepped = self._bond(value(tree, "bond") or "stack", unit)
        self.x, self.y, self.before = self._start()

    def _tile(self, tile: Any, unit: str) -> tuple[float, float]:
        if isinstance(tile, str):
            tile = {"size": tile}
        known_keys(tile, TILE_KEYS, "a tile")
        w, h = size(value(tile, "size") or "", unit)
        lay = value(self.tree, "lay") or value(tile, "lay")
        if lay not in (None, "long side across", "long side up"):
            raise Beyond("lay in another form")
        if (lay == "long side across" and w < h) or (lay == "long side up" and w > h):
            w, h = h, w
        found = []
        for side, key in ((w, "run across"), (h, "run up")):
            if (run := value(tile, key)) is not None:
                match = re.fullmatch(rf"([0-9]+) in ({_LENGTH})", run)
                if match is None:
                    raise Beyond("a run in another form")
                side = (length(match[2], unit) - (int(match[1]) - 1) * self.joint) / int(match[1])
            found.append(side)
        return found[0], found[1]

    def _bond(self, words: str, unit: str) -> tuple[float, bool]:
        stepped = words.endswith("stepped")
        words = re.sub(r",? (?:stepped|back and forth)$", "", words)
        if words == "stack":
            return 0.0, stepped
        match = re.fullmatch(rf"(half|third|quarter|fifth|{_LENGTH})(?: (right|left))?", words)
        if match is None or (match[2] is None and match[1] != "half"):
            raise Beyond("a bond in another form")
        sign = -1 if match[2] == "left" else 1
        parts = {"half": 2, "third": 3, "quarter": 4, "fifth": 5}
        if match[1] in parts:
            return sign * (self.w + self.joint) / parts[match[1]], stepped
        if "/" in match[1]:
            raise Beyond("a bond in another form")
        return sign * length(match[1], unit), stepped

    def _start(self) -> tuple[float, float, tuple[float, float]]:
        """The point of the start, and how far it lies into the start tile."""
        start = self.tree.get("start")
        if isinstance(start, str):
            match = re.fullmatch(r"(middle|corner|crossing) on (\S+) and (\S+)", tidy(start))
            if match is None:
                raise Beyond("a start in another form")
            start = {"across": f"{match[1]} on {match[2]}", "up": f"{match[1]} on {match[3]}"}
        if not isinstance(start, dict):
            raise Beyond("a start in another form")
        known_keys(start, "across, up, in", "a start")
        at, before = [], []
        words = (value(start, "across") or "", value(start, "up") or value(start, "in") or "")
        for text, axis, side in zip(words, ("across", "up"), (self.w, self.h), strict=True):
            match = re.fullmatch(r"(joint|middle|left|right|sits|hangs|corner|crossing) (?:on|from) (.+)", text)
            if match is None:
                raise Beyond("a start in another form")
            at.append(self.surface.place(match[2], axis))
            into = {"joint": -self.joint / 2, "crossing": -self.joint / 2, "middle": side / 2, "right": side}
            before.append(side if match[1] == "hangs" else into.get(match[1], 0.0))
        return at[0], at[1], (before[0], before[1])

    def corner(self, place: tuple[int, int]) -> tuple[float, float]:
        """A tile's lower left corner along the courses, from the start's point."""
        column, row = place
        shift = self.shift_by * (row if self.stepped else row % 2)
        u = column * (self.w + self.joint) + shift - self.before[0]
        return u, row * (self.h + self.joint) - self.before[1]

    def on_tile(self, at: tuple[float, float], place: tuple[int, int]) -> tuple[float, float]:
        """A place on the surface, from the left and lower edge of a tile."""
        x, y = at[0] - self.x, at[1] - self.y
        c, s = math.cos(math.radians(self.turn)), math.sin(math.radians(self.turn))
        u, v = self.corner(place)
        return x * c + y * s - u, y * c - x * s - v

    def tile(self, place: tuple[int, int]) -> BaseGeometry:
        """A whole tile on the surface."""
        u, v = self.corner(place)
        turned = affinity.rotate(box(u, v, u + self.w, v + self.h), self.turn, (0, 0))
        return affinity.translate(turned, self.x, self.y)

    def _along(self, shape: BaseGeometry) -> BaseGeometry:
        """A shape as seen along the courses, from the start's point."""
        return affinity.rotate(affinity.translate(shape, -self.x, -self.y), -self.turn, (0, 0))

    def under(self, shape: BaseGeometry) -> list[tuple[int, int]]:
        """The places whose tiles a shape may reach."""
        u0, v0, u1, v1 = self._along(shape).bounds
        found = []
        for row in range(*self._between(v0, v1, self.before[1], self.h)):
            shift = self.corner((0, row))[0]
            found += [(column, row) for column in range(*self._between(u0, u1, -shift, self.w))]
            if len(found) > MOST_PLACES:
                raise Beyond("too many places to count")
        return found

    def _between(self, low: float, high: float, before: float, side: float) -> tuple[int, int]:
        pitch = side + self.joint
        first, last = math.floor((low + before - side) / pitch), math.ceil((high + before) / pitch) + 1
        if last - first > MOST_PLACES:
            raise Beyond("too many places to count")
        return first, last

    # What is left of it, and what it is called.

    @cached_property
    def limits(self) -> dict[str, float | None]:
        texts = {side: value(self.tree, key) for side, key in _LIMITS.items()}
        axes = {"left": "across", "right": "across", "bottom": "up", "top": "up"}
        return {side: None if text is None else self.surface.place(text, axes[side]) for side, text in texts.items()}

    @cached_property
    def bounds(self) -> BaseGeometry:
        """Where it may lie, windows left aside."""
        far = {"left": -FAR, "right": FAR, "bottom": -FAR, "top": FAR}
        sides = {side: far[side] if at is None else at for side, at in self.limits.items()}
        own = box(sides["left"], sides["bottom"], sides["right"], sides["top"])
        return self.surface.clear.intersection(own)

    @cached_property
    def ground(self) -> BaseGeometry:
        ground = self.bounds
        for void in self.surface.voids:
            ground = ground.difference(void)
        return ground

    def piece(self, place: tuple[int, int]) -> BaseGeometry:
        """What trimming leaves of a tile: parts that surely are pieces."""
        left = _parts(self.tile(place).intersection(self.ground))
        return MultiPolygon([part for part in left if self._is_piece(part)])

    def _is_piece(self, part: Polygon) -> bool:
        u0, v0, u1, v1 = self._along(part).bounds
        least = min(u1 - u0, v1 - v0)
        if abs(least - LEAST_PIECE) < SPECK:
            raise Beyond("a piece that may be none")
        return least > LEAST_PIECE

    def _holds(self, place: tuple[int, int], ground: BaseGeometry) -> bool:
        return any(self._is_piece(part) for part in _parts(self.tile(place).intersection(ground)))

    @cached_property
    def open_to(self) -> set[str]:
        """The sides on which neither an edge nor a limit of its own ends it."""
        edges = self.surface.tree.get("edges") or {}
        if self.surface.clear.is_empty:
            raise Beyond("an area with no piece")
        found = {side for side, at in self.limits.items() if at is None and side not in edges}
        if found and self.turn:
            raise Beyond("an open area that is turned")
        over_edge = found & {"left", "right"} and self.limits["bottom"] is None and "bottom" in edges
        if over_edge and len(self.surface.readings("bottom")) > 1:
            raise Beyond("an open area over a raking edge")
        return found

    @cached_property
    def base(self) -> int | None:
        """The row of course 1 where it has a base: the line its start sits on, or its own lower limit over that."""
        start = self.tree.get("start")
        sits = isinstance(start, dict) and (value(start, "up") or value(start, "in") or "").startswith("sits")
        stands_on = [at for at, there in ((self.y, sits), (self.limits["bottom"], True)) if there and at is not None]
        if self.turn or not stands_on:
            return None
        base, row = max(stands_on) - self.y, -10_000
        while self.corner((0, row))[1] + self.h - base < LEAST_PIECE:
            row += 1
        top = self.bounds.bounds[3] - self.y
        return row if self.corner((0, row))[1] < top else None

    @cached_property
    def lowest(self) -> int:
        """The row of course 1."""
        if self.open_to & {"left", "right", "top"}:
            # Nothing beside the start column is known to be there; the lower edge is level.
            low = self.bounds.bounds[1] - self.y
            row = math.floor((low + self.before[1]) / (self.h + self.joint)) - 1
            while self.corner((0, row))[1] + self.h - low < LEAST_PIECE:
                row += 1
            return row
        _, v0, _, v1 = self._along(self.ground).bounds
        for row in range(*self._between(v0, v1, self.before[1], self.h)):
            if any(self._holds(place, self.ground) for place in self._row(row, self.ground)):
                return row
        raise Beyond("an area with no piece")

    def _row(self, row: int, ground: BaseGeometry) -> Iterator[tuple[int, int]]:
        u0, _, u1, _ = self._along(ground).bounds
        for column in range(*self._between(u0, u1, -self.corner((0, row))[0], self.w)):
            yield column, row

    def name_of(self, place: tuple[int, int]) -> str:
        """What the piece in a place is called, parts of one aside."""
        column, row = place
        if self.base is None and "bottom" in self.open_to:
            up = f"U{row + 1}" if row >= 0 else f"D{-row}"
        else:
            over = row - (self.lowest if self.base is None else self.base)
            up = str(over + 1) if over >= 0 else f"under {-over}"
        if "left" in self.open_to:
            return f"{self.name} {up}-{f'R{column + 1}' if column >= 0 else f'L{-column}'}"
        low, _, _, _ = self._along(self.bounds).bounds
        first = self._between(low, low, -self.corner((0, row))[0], self.w)[0]
        for candidate in range(first, column + 1):
            if self._holds((candidate, row), self.bounds):
                return f"{self.name} {up}-{column - candidate + 1}"
        raise Beyond("a piece that may be none")


_LIMITS = {"left": "right of", "right": "left of", "bottom": "from", "top": "to"}


def _parts(shape: BaseGeometry) -> list[Polygon]:
    return [part for part in getattr(shape, "geoms", [shape]) if isinstance(part, Polygon) and part.area > 0]


def _sure(part: Polygon, turn: float) -> bool:
    """Whether a share is more than a touch, both ways."""
    u0, v0, u1, v1 = affinity.rotate(part, -turn, (0, 0)).bounds
    return min(u1 - u0, v1 - v0) > SPECK
