"""A name is matched as it is tidied, wherever it is a key or is referred to: runs of blanks and of other spaces count
as one blank, those at its ends as none."""

from __future__ import annotations

import functools

import pytest

from cutmarks.errors import JobError
from cutmarks.job import parse_job
from cutmarks.plan import Plan, make_plan
from tests.job.jobs import faults

NBSP = "\N{NO-BREAK SPACE}"
PLAIN = """\
job: Reed House, blanks
tiles:
  "TILE": {size: 246 x 96, measured: yes}
surfaces:
  - name: "WALL"
    kind: wall
    lines: {"LINE": "plumb, middle", "LEVEL": "level, batten", E: "plumb, 600 right of LINE, jamb"}
    edges:
      left: {at: "900 left of LINE", true: plumb}
      right: {at: "900 right of LINE", true: plumb}
      bottom: {at: "3 below LEVEL", what: worktop, true: level}
      top: {at: "1200 above LEVEL", true: level}
    points:
      "POINT": "300 left of LINE, 500 above LEVEL"
      P2: "300 right of LINE, 500 above LEVEL"
    areas:
      - {name: "AREA", tile: "TILE", joint: 3, start: {across: "joint on LINE", up: "sits on LEVEL"}}
    holes:
      - {name: "HOLE", what: 15 copper, across: "67 to 83 left of LINE", up: "240 to 256 above LEVEL", cover: 65}
      - {name: like, what: 15 copper, across: "67 to 83 right of LINE", up: "level with HOLE", cover: 65}
      - {name: third, what: 15 copper, across: "267 to 283 right of LINE", up: "in course 2 of AREA, 40 up", cover: 65}
      - {name: fourth, what: 15 copper, across: "centre 60 right of the right edge of AREA 1-4",
         up: "centre 40 above LEVEL", cover: 65}
      - name: taped
        what: 15 copper
        readings: ["220 to 236 from POINT", "centre 410 from P2", "centre 202 left of LINE"]
        lies: below
        cover: 65
    pairs:
      - {of: "HOLE and like", apart: 150, level: yes}
accept:
  - {rule: thin bridge, about: "HOLE", reason: seen}
found:
  - {piece: "AREA 3-4", hole: "HOLE", note: seen}
"""
KINDS = {
    "TILE": ("white", "gloss"),
    "WALL": ("sink", "wall"),
    "LINE": ("V", "one"),
    "LEVEL": ("B", "two"),
    "POINT": ("nail", "one"),
    "AREA": ("splash", "wide"),
    "HOLE": ("hot", "tap"),
}


def written(kind: str, definition: str, reference: str) -> str:
    """The job with one name spelt in one way where it is given and in another where it is referred to."""
    text = PLAIN
    for other, (first, second) in KINDS.items():
        name = f"{first} {second}"
        if other != kind:
            text = text.replace(other, name)
            continue
        for opening in (f'"{other}":', f'name: "{other}"'):
            text = text.replace(opening, opening.replace(other, definition))
        text = text.replace(other, reference)
    return text


@functools.cache
def as_usual() -> Plan:
    """The plan of the job with every name spelt with one blank."""
    return make_plan(parse_job(written("TILE", "white gloss", "white gloss")))


@pytest.mark.parametrize("kind", list(KINDS))
@pytest.mark.parametrize("blanks", ["  ", NBSP], ids=["two blanks", "no-break space"])
@pytest.mark.parametrize("where", ["definition", "reference", "both", "ends"])
def test_a_name_is_matched_as_it_is_tidied(kind: str, blanks: str, where: str) -> None:
    first, second = KINDS[kind]
    plain, odd = f"{first} {second}", f"{first}{blanks}{second}"
    if where == "ends":
        odd = f"{plain}{blanks}"
    definition = plain if where == "reference" else odd
    reference = plain if where in ("definition", "ends") else odd
    usual = as_usual()
    same = make_plan(parse_job(written(kind, definition, reference)))
    assert [piece.name for piece in same.pieces] == [piece.name for piece in usual.pieces]
    assert [hole.at for hole in same.openings] == [hole.at for hole in usual.openings]
    assert [finding.about for finding in same.findings] == [finding.about for finding in usual.findings]
    assert {piece.piece.tile.name for piece in same.pieces} == {"white gloss"}


@pytest.mark.parametrize(
    ("old", "new", "sentence"),
    [
        (
            "  white gloss: {",
            "  white  gloss: {size: 96 x 96, measured: yes}\n  white gloss: {",
            'job.yaml line 4, tile "white gloss": Two tiles are called "white gloss" (the first is in line 3): '
            "give each a name of its own.",
        ),
        (
            '{V: "plumb, middle"',
            '{V: "plumb, middle", "V ": "plumb, 20 right of V, jamb"',
            'job.yaml line 7, line "V": Two lines are called "V" (the first is in line 7): '
            "give each a name of its own.",
        ),
        (
            "    holes:",
            "    points:\n      N 1: 20 left of V, 30 above B\n      n  1: 30 left of V, 40 above B\n    holes:",
            'job.yaml line 12, surface "wall", points, n 1: Two points are called "N 1" and "n 1" (the first is in '
            "line 11): give each a name of its own.",
        ),
        (
            "    holes:",
            '      - {name: "a ", tile: white gloss, joint: 3, from: 900 above B, '
            "start: {across: joint on V, up: sits on B}}\n"
            "    holes:",
            'job.yaml line 10, area "a", name: Two areas are called "a" (the first is on "wall", in line 9): '
            "give each a name of its own.",
        ),
        (
            "    holes:",
            "    holes:\n      - {name: hot  tap, what: 15 copper, across: on V, up: 140 to 156 above B, cover: 65}",
            'job.yaml line 12, hole "hot tap", name: Two holes are called "hot tap" (the first is on "wall", in line '
            "11): give each a name of its own.",
        ),
        (
            "    areas:",
            "    gaps: {floor: 5, bottom: 6}\n    areas:",
            'job.yaml line 5, surface "wall": The gap at the bottom edge is given twice: keep one.',
        ),
    ],
)
def test_two_names_that_are_the_same_once_tidied(old: str, new: str, sentence: str) -> None:
    text = """\
job: Reed House, blanks
tiles:
  white gloss: {size: 246 x 96, measured: yes}
surfaces:
  - name: wall
    kind: wall
    lines: {V: "plumb, middle", B: "level, batten"}
    areas:
      - {name: a, tile: white gloss, joint: 3, start: {across: joint on V, up: sits on B}}
    holes:
      - {name: hot tap, what: 15 copper, across: 67 to 83 left of V, up: 240 to 256 above B, cover: 65, end: comes off}
"""
    assert old in text
    assert sentence in faults(text.replace(old, new))


def test_two_surfaces_of_one_name_say_both_lines() -> None:
    one = (
        PLAIN[PLAIN.index('  - name: "WALL"') : PLAIN.index("accept:")].replace("AREA", "other").replace("HOLE", "tap")
    )
    with pytest.raises(JobError) as refused:
        parse_job(PLAIN.replace("accept:", one.replace("WALL", "wall ") + "accept:"), "job.yaml")
    assert (
        'job.yaml line 31, surface "wall", name: Two surfaces are called "wall" (the first is in line 5): give each a '
        "name of its own."
    ) in [str(fault) for fault in refused.value.faults]
