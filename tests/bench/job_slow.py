"""The jobs that are known to be slow, or to take much memory: odd, legal, and strictly listed.

One that is no longer slow fails the campaign until it is struck out here; no other job may be slow.
"""

from __future__ import annotations

from collections.abc import Callable

from msgspec import Struct

WALL = """\
job: Heron Row, slow wall
tiles: {{rib: {{size: {size}, measured: yes}}}}
surfaces:
  - name: wall
    kind: wall
    lines: {{V: "plumb, middle", B: "level, batten"}}
    areas:
      - {{name: field, tile: rib, joint: 3, start: {{across: joint on V, up: sits on B}}}}
"""


class Slow(Struct, frozen=True):
    """One slow job, what is slow about it, and the processor time that it took when it was listed, s."""

    name: str
    why: str
    seconds: float
    text: Callable[[], str]


def many_holes(count: int) -> str:
    """So many pipes over a large wall."""
    rows = [
        f"      - {{name: p{k}, diameter: 10, opening: 16, across: centre {50 + k % 300 * 100} right of V, "
        f"up: centre {50 + k // 300 * 100} above B, cover: none}}\n"
        for k in range(count)
    ]
    return WALL.format(size="97 x 97") + "    holes:\n" + "".join(rows)


def unknown_keys(count: int) -> str:
    """So many keys that are none."""
    return "".join(f"k{k}: 3\n" for k in range(count)) + WALL.format(size="97 x 97")


SLOW: tuple[Slow, ...] = (
    # 30,000 are over the values that a job file may have, which is a sentence.
    Slow("10,000 holes", "a plan of 10,000 pieces, each with all its checks", 24.6, lambda: many_holes(10_000)),
    # Refused by a sentence: the time is that of reading the file.
    Slow("150,000 unknown keys", "all the file is read before the first is told", 7.2, lambda: unknown_keys(150_000)),
)
