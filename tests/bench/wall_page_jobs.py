"""Jobs drawn by a seed for the wall page: pipes and boxes all over a wall of any tile, in mm or inches, cut ends."""

from __future__ import annotations

import random
from fractions import Fraction

PIPES_MM = ((15, 65), (15, 65), (15, 65), (22, 65), (22, 65), (32, 90), (110, 150))
"""A thing's diameter, and its cover, mm."""
PIPES_IN = ((Fraction(5, 8), Fraction(5, 2)), (Fraction(7, 8), 3), (Fraction(11, 8), Fraction(7, 2)))
TILES_MM = ((297, 97), (248, 398), (397, 247), (597, 297), (200, 200), (148, 148))
TILES_IN = (
    (Fraction(189, 16), Fraction(95, 16)),
    (6, 6),
    (Fraction(383, 32), Fraction(383, 32)),
    (Fraction(191, 8), 12),
)
SPACE_MM, SPACE_IN = 280, 11
LEFT_MM, LEFT_IN, UNDER_MM, UNDER_IN = 400, 16, 300, 11
"""So much of the wall lies left of V, and under B."""
COLUMNS, ROWS = 3, 3


def inches(value: Fraction | int) -> str:
    """A length in inches as it is typed: 9 17/32."""
    whole, part = divmod(Fraction(value), 1)
    if not part:
        return str(whole)
    return f"{whole} {part}" if whole else str(part)


def drawn_job(draw: random.Random) -> str:
    """The text of one job."""
    return _in_inches(draw) if draw.random() < 0.4 else _in_mm(draw)


def _between(low: Fraction | float, high: Fraction | float, inch: bool, words: tuple[str, str], line: str) -> str:
    """Both sides of a thing from a line, as they are said: 67 to 83 left of V."""
    before, after = words
    say = (lambda value: inches(Fraction(value))) if inch else (lambda value: f"{value:g}")
    if low >= 0:
        return f"{say(low)} to {say(high)} {after} {line}"
    if high <= 0:
        return f"{say(-high)} to {say(-low)} {before} {line}"
    return f"{say(-low)} {before.split()[0]} to {say(high)} {after} {line}"


_ACROSS, _UP = ("left of", "right of"), ("below", "above")


def _places(draw: random.Random) -> list[tuple[int, int]]:
    places = [(column, row) for column in range(COLUMNS) for row in range(ROWS)]
    return draw.sample(places, 6)


def _in_mm(draw: random.Random) -> str:
    w, h = draw.choice(TILES_MM)
    holes = []
    for number, (column, row) in enumerate(_places(draw)):
        x = SPACE_MM * column + draw.randrange(0, 340) / 2 - LEFT_MM
        y = SPACE_MM * row + draw.randrange(0, 340) / 2 - UNDER_MM
        if draw.random() < 0.25:
            holes.append(
                f"{{name: h{number}, what: own box, size: 74 x 74, across: {_between(x, x + 74, False, _ACROSS, 'V')}, "
                f"up: {_between(y, y + 74, False, _UP, 'B')}, cover: 92 x 92}}"
            )
        else:
            thing, cover = draw.choice(PIPES_MM)
            wide = thing + draw.choice((0, 0, 0.5, 1))
            holes.append(
                f"{{name: h{number}, what: own pipe, diameter: {thing}, "
                f"across: {_between(x, x + wide, False, _ACROSS, 'V')}, up: {_between(y, y + wide, False, _UP, 'B')}"
                f"{f', cover: {cover}' if draw.random() < 0.8 else ''}}}"
            )
    right = COLUMNS * SPACE_MM + 140 - LEFT_MM
    edges = (
        f"{right} right of V at B, {right - draw.randrange(0, 24) / 2:g} right of V at 900 above B",
        f"{ROWS * SPACE_MM + 130 + draw.randrange(0, 40) - UNDER_MM} above B",
        f"{UNDER_MM + 80 + draw.randrange(0, 40)} below B",
    )
    return _job(draw, "mm", f"{w} x {h}", draw.choice(("2", "3", "1.5")), edges, holes, f"{LEFT_MM + 80} left of V")


def _in_inches(draw: random.Random) -> str:
    w, h = draw.choice(TILES_IN)
    holes = []
    for number, (column, row) in enumerate(_places(draw)):
        x = SPACE_IN * column + Fraction(draw.randrange(0, 104), 16) - LEFT_IN
        y = SPACE_IN * row + Fraction(draw.randrange(0, 104), 16) - UNDER_IN
        thing, cover = draw.choice(PIPES_IN)
        holes.append(
            f'{{name: h{number}, what: own pipe, diameter: "{inches(thing)}", '
            f'across: "{_between(x, x + thing, True, _ACROSS, "V")}", up: "{_between(y, y + thing, True, _UP, "B")}"'
            f'{f""", cover: "{inches(cover)}" """ if draw.random() < 0.8 else ""}}}'
        )
    right = COLUMNS * SPACE_IN + 6 - LEFT_IN
    edges = (
        f"{right} right of V at B, {inches(right - Fraction(draw.randrange(0, 8), 16))} right of V at 36 above B",
        f"{inches(ROWS * SPACE_IN + 5 + Fraction(draw.randrange(0, 32), 16) - UNDER_IN)} above B",
        f"{inches(UNDER_IN + 3 + Fraction(draw.randrange(0, 32), 16))} below B",
    )
    tile = f'"{inches(w)} x {inches(h)}"'
    return _job(draw, "in", tile, draw.choice(('"1/8"', '"3/16"')), edges, holes, f"{LEFT_IN + 3} left of V")


def _job(
    draw: random.Random, units: str, tile: str, joint: str, edges: tuple[str, str, str], holes: list[str], left: str
) -> str:
    right, top, bottom = edges
    face = ", face: textured" if draw.random() < 0.4 else ""
    listed = "\n".join(f"      - {hole}" for hole in holes)
    # A gap between two steps: what is cut to it is rounded down.
    gap = draw.choice(("0", "2.3", "3.3")) if units == "mm" else draw.choice(("0", "1/16", '"0.1"'))
    fine = "finest: 1/16\n" if units == "in" and draw.random() < 0.3 else ""
    return f"""\
job: drawn
units: {units}
{fine}tiles: {{rib: {{size: {tile}, measured: yes{face}}}}}
surfaces:
  - name: wall
    kind: wall
    lines: {{V: "plumb, left end", B: "level, top of the batten"}}
    edges:
      left: {{at: {left}, what: end panel, true: plumb}}
      right: [{right}]
      bottom: {{at: {bottom}, true: level, what: floor, still to come: 0}}
      top: {{at: {top}, true: level}}
    gaps: {{left: {gap}, right: {gap}, bottom: {gap}, top: {gap}}}
    areas:
      - {{name: field, tile: rib, joint: {joint}, bond: {draw.choice(("stack", "half"))},
         start: {{across: joint on V, up: sits on B}}}}
    holes:
{listed}
"""
