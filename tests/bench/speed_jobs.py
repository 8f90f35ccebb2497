"""Jobs of any size along one dimension each: holes, pieces, windows, points, keys, surfaces, areas."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from pathlib import Path

from tests.bench.jobs import write_square_wall

SIDE = 1000
"""Tiles along the large wall: a million of them."""

HEAD = """\
job: growing
units: mm
tiles:
  small: {size: 98 x 98, measured: yes}
surfaces:
"""


def _surface(name: str, width: float, height: float, more: str, tile: str = "small", area: str = "") -> str:
    """One wall from V to the right and from B up, nothing trimmed at its edges; `more` is put at its end."""
    return f"""\
  - name: {name}
    kind: wall
    lines: {{V: "plumb, left end", B: "level, lower end"}}
    edges:
      left: {{at: 3 left of V, true: plumb}}
      right: {{at: {width + 3:g} right of V, true: plumb}}
      bottom: {{at: 3 below B, true: level, what: worktop}}
      top: {{at: {height + 3:g} above B, true: level}}
    gaps: {{left: 3, right: 3, bottom: 3, top: 3}}
    areas:
      - {{name: {area or name}, tile: {tile}, joint: 2, start: {{across: left on V, up: sits on B}}}}
{more}"""


def _pipe(name: str, x: float, y: float) -> str:
    return (
        f"      - {{name: {name}, what: 15 copper, opening: 22, cover: 30, "
        f"across: centre {x:g} right of V, up: centre {y:g} above B}}\n"
    )


def holes_on_a_wall(folder: Path, count: int) -> Path:
    """So many pipes on a million tiles, one on a tile."""
    return write_square_wall(folder, SIDE, count)


def holes_on_one_tile(folder: Path, count: int) -> Path:
    """So many pipes on one tile, 60 apart, in rows of about as many as there are rows."""
    row = math.ceil(math.sqrt(count))
    side = 60 * (row + 1)
    pipes = "".join(_pipe(f"p{k}", 60 * (k % row + 1), 60 * (k // row + 1)) for k in range(count))
    head = HEAD.replace("size: 98 x 98", f"size: {side} x {side}")
    return _written(folder, head + _surface("wall", side, side, "    holes:\n" + pipes))


def pieces(folder: Path, count: int) -> Path:
    """About so many trimmed pieces, along two raking edges."""
    return write_square_wall(folder, count // 2, 0, raking=True)


def windows(folder: Path, count: int) -> Path:
    """So many windows of 150 x 150, a metre apart, in rows of thirty-two: every one trims nine tiles about it."""
    rows = math.ceil(count / _IN_A_ROW)
    width, height = 1000 * _IN_A_ROW - 2, 1000 * rows - 2
    more = "    windows:\n" + "".join(
        f"      - {{name: w{k}, across: {x} to {x + 150} right of V, up: {y} to {y + 150} above B, gap: 3}}\n"
        for k in range(count)
        for x, y in [(1000 * (k % _IN_A_ROW) + 430, 1000 * (k // _IN_A_ROW) + 430)]
    )
    return _written(folder, HEAD + _surface("wall", width, height, more))


_IN_A_ROW = 32


def _round_corners(count: int, middle: float, radius: float) -> str:
    """Corners round a shape of five waves, as a stone or a basin is scribed: none lies in line with its neighbours."""
    spots = []
    for k in range(count):
        angle = 2 * math.pi * k / count
        reach = radius * (1.0 + 0.05 * math.sin(5 * angle))
        x, y = middle + reach * math.cos(angle), middle + reach * math.sin(angle)
        spots.append(f'"{x:.3f} right of V, {y:.3f} above B"')
    return f"[{', '.join(spots)}]"


def points_of_an_area(folder: Path, count: int) -> Path:
    """An area with an outline of so many corners, six metres across, on tiles of a tenth of a metre."""
    text = HEAD + _surface("wall", 7000, 7000, "")
    outline = f"outline: {_round_corners(count, 3500, 3000)}, "
    return _written(folder, text.replace("joint: 2, ", f"joint: 2, {outline}"))


def points_of_a_hole(folder: Path, count: int) -> Path:
    """A hole with an outline of so many corners, in one tile of 3 x 3 m."""
    more = f"    holes:\n      - {{name: h, outline: {_round_corners(count, 1500, 1000)}, cover: none}}\n"
    return _written(folder, HEAD.replace("size: 98 x 98", "size: 2998 x 2998") + _surface("wall", 2998, 2998, more))


def points_over_tiles(folder: Path, count: int) -> Path:
    """A hole over many tiles whose outline has so many corners, in and out like a saw blade."""
    spots = []
    for k in range(count):
        turn, reach = 2 * math.pi * k / count, (800, 790)[k % 2]
        spots.append(f'"{1500 + reach * math.cos(turn):.2f} right of V, {1500 + reach * math.sin(turn):.2f} above B"')
    more = f"    holes:\n      - {{name: h, outline: [{', '.join(spots)}], cover: none}}\n"
    return _written(folder, HEAD + _surface("wall", 2998, 2998, more))


def unknown_keys(folder: Path, count: int) -> Path:
    """A job with so many keys that are no keys: every one a fault with the nearest key named."""
    more = "    holes:\n" + "".join(
        _pipe(f"p{k}", 50 + 100 * k, 50).replace("what:", "waht:").replace("cover:", "covver:")
        for k in range(count // 2)
    )
    return _written(folder, HEAD + _surface("wall", 100 * count, 998, more))


def surfaces(folder: Path, count: int) -> Path:
    """So many walls with two pipes each."""
    walls = []
    for k in range(count):
        more = "    holes:\n" + _pipe(f"a{k}", 250, 250) + _pipe(f"b{k}", 1250, 650)
        walls.append(_surface(f"wall {k}", 2998, 1998, more, area=f"area {k}"))
    return _written(folder, HEAD + "".join(walls))


def areas(folder: Path, count: int) -> Path:
    """So many areas one above another on one wall, three courses each, with two pipes in each."""
    high = 300
    text = HEAD + _surface("wall", 2998, high * count - 2, "")
    rows, pipes = [], "    holes:\n"
    for k in range(count):
        low = high * k
        start = "B" if low == 0 else f"{low} above B"
        rows.append(
            f"      - {{name: area {k}, tile: small, joint: 2, from: {start}, to: {low + high - 2} above B, "
            f"start: {{across: left on V, up: sits on {start}}}}}\n"
        )
        pipes += _pipe(f"a{k}", 250, low + 150) + _pipe(f"b{k}", 1250, low + 50)
    line = next(row for row in text.splitlines(keepends=True) if "joint: 2" in row)
    return _written(folder, text.replace(line, "".join(rows)) + pipes)


def _written(folder: Path, text: str) -> Path:
    folder.mkdir(parents=True, exist_ok=True)
    job = folder / "growing.yaml"
    job.write_text(text, encoding="utf-8")
    return job


JOBS: Mapping[str, Callable[[Path, int], Path]] = {
    "holes": holes_on_a_wall,
    "holes on one tile": holes_on_one_tile,
    "pieces": pieces,
    "windows": windows,
    "points of an area": points_of_an_area,
    "points of a hole": points_of_a_hole,
    "points over tiles": points_over_tiles,
    "unknown keys": unknown_keys,
    "surfaces": surfaces,
    "areas": areas,
}
