"""Surfaces to look for starts on, made from a seed: edges out of true, steps, windows, areas, bonds, holes."""

from __future__ import annotations

from random import Random

TILES = ((397, 247), (297, 97), (197, 197), (598, 298), (148, 148), (246, 496))
BONDS = ("stack", "stack", "half", "third right", "third left", "third right, stepped", "quarter left")

CARRIED = 0.15
"""So many areas, by dice of their own, carry their offcut on."""


def start_job(seed: int) -> str:
    """The text of one job without starts."""
    dice = Random(seed)
    wide, high = dice.randint(1500, 3600), dice.randint(1200, 2500)
    left = -dice.randint(500, wide - 500)
    right = left + wide
    lines = [
        f"job: seeded {seed}",
        "units: mm",
        "tiles:",
    ]
    count = dice.choice((1, 1, 1, 2, 3))
    sizes = [dice.choice(TILES) for _ in range(count)]
    for number, (w, h) in enumerate(sizes):
        lines.append(f"  t{number}: {{size: {w} x {h}, thickness: 8, measured: yes}}")
    lines += [
        "surfaces:",
        "  - name: wall",
        "    kind: wall",
        '    lines: {V: "plumb, a line", B: "level, a batten"}',
        "    edges:",
        f"      left: {_edge(dice, left, 'V', high, ('left', 'right'))}",
        f"      right: {_edge(dice, right, 'V', high, ('left', 'right'))}",
        f"      bottom: {_floor(dice, left, right)}",
        f"      top: {_edge(dice, high, 'B', right, ('below', 'above'), left)}",
    ]
    windows = dice.choice((0, 1, 1, 2))
    if windows:
        lines.append("    windows:")
        for number in range(windows):
            a = left + wide * number // windows + dice.randint(150, 400)
            b = min(a + dice.randint(250, 900), left + wide * (number + 1) // windows - 100)
            low = dice.randint(200, high // 2)
            top = min(low + dice.randint(200, 900), high - 100)
            lines.append(
                f"      - {{name: w{number}, across: {_off(a, 'V')} to {_off(b, 'V')}, up: {low} to {top} above B}}"
            )
    lines.append("    areas:")
    joint = dice.choice((2, 3, 5))
    borders = sorted(dice.sample(range(300, high - 300, 50), count - 1)) if count > 1 else []
    for number in range(count):
        bond = dice.choice(BONDS)
        if Random(f"{seed} {number}").random() < CARRIED:
            bond = "offcut carried on"
        keys = [f"name: a{number}", f"tile: t{number}", f"joint: {joint}", f'bond: "{bond}"']
        if number:
            keys.append(f"from: {borders[number - 1] + joint} above B")
        if number < count - 1:
            keys.append(f"to: {borders[number]} above B")
        lines.append(f"      - {{{', '.join(keys)}}}")
    holes = dice.randint(0, 5)
    if holes:
        lines.append("    holes:")
        for number in range(holes):
            x, y = dice.randint(left + 90, right - 90), dice.randint(90, high - 90)
            if dice.random() < 0.6:
                lines.append(
                    f"      - {{name: h{number}, what: 15 copper, across: centre {_at(x, 'V')}, "
                    f"up: centre {y} above B, cover: 65, end: comes off}}"
                )
            else:
                lines.append(
                    f"      - {{name: h{number}, what: box, size: 70 x 70, across: centre {_at(x, 'V')}, "
                    f"up: centre {y} above B}}"
                )
    return "\n".join(lines) + "\n"


def large_job(tiles: int, holes: int, bond: str, start: str = "") -> str:
    """A wall of about so many tiles of 97 x 97 about a window, with so many pipes; `start` is written as given."""
    dice = Random(5)
    side = int(tiles**0.5 * 100)
    lines = [
        "job: large",
        "units: mm",
        "tiles: {t: {size: 97 x 97, thickness: 8, measured: yes}}",
        "surfaces:",
        "  - name: wall",
        "    kind: wall",
        '    lines: {V: "plumb, a line", B: "level, a batten"}',
        "    edges:",
        "      left: {at: 400 left of V, true: plumb, still to come: 0}",
        f"      right: {{at: [{side - 400} right of V at B, {side - 406} right of V at {side} above B], "
        "still to come: 0}",
        "      bottom: {at: [0 below B at 400 left of V, 4 below B at 3000 right of V], still to come: 0}",
        f"      top: {{at: {side} above B, true: level}}",
        "    windows:",
        "      - {name: w, across: 500 to 1500 right of V, up: 900 to 1800 above B}",
        "    areas:",
        f"      - {{name: a, tile: t, joint: 3, bond: {bond}{start}}}",
        "    holes:",
    ]
    placed: list[tuple[int, int]] = []
    while len(placed) < holes:
        x, y = dice.randint(-300, side - 600), dice.randint(100, side - 100)
        in_window = 350 < x < 1650 and 750 < y < 1950
        if in_window or any(abs(x - a) < 80 and abs(y - b) < 80 for a, b in placed):
            continue
        lines.append(
            f"      - {{name: h{len(placed)}, what: 15 copper, across: centre {_at(x, 'V')}, up: centre {y} above B, "
            "cover: 45, end: comes off}"
        )
        placed.append((x, y))
    return "\n".join(lines) + "\n"


def _at(value: int, line: str) -> str:
    return _off(value, line) if value else f"on {line}"


def _off(value: int, line: str) -> str:
    """The same as one end of a stretch, which is so far from the line even where that is nothing."""
    return f"{abs(value)} {'right' if value >= 0 else 'left'} of {line}"


def _edge(dice: Random, at: int, line: str, far: int, ways: tuple[str, str], near: int = 0) -> str:
    """An edge that is true, or leans by up to 8 mm."""
    upright = ways[0] == "left"
    said = _at(at, line) if upright else f"{at} above {line}"
    if dice.random() < 0.4:
        return f"{{at: {said}, true: {'plumb' if upright else 'level'}, still to come: 0}}"
    other = at + dice.choice((-8, -5, -3, 2, 4, 7))
    if upright:
        return f"{{at: [{said} at B, {_at(other, line)} at {far} above B], still to come: 0}}"
    return f"{{at: [{said} at {_at(near, 'V')}, {other} above {line} at {_at(far, 'V')}]}}"


def _floor(dice: Random, left: int, right: int) -> str:
    if dice.random() < 0.5:
        return "{at: 0 below B, true: level, gap: 0}"
    below = dice.randint(60, 180)
    if dice.random() < 0.5:
        middle = (left + right) // 2
        return f"{{still to come: 0, steps: [{{at: 0 below B, until: {_at(middle, 'V')}}}, {{at: {below} below B}}]}}"
    fall = dice.randint(1, 6)
    return (
        f"{{at: [{below} below B at {_at(left, 'V')}, {below + fall} below B at {_at(right, 'V')}], still to come: 0}}"
    )
