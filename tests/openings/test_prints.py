"""A piece's fingerprint: another for every change of what is cut, marked or read, else the same."""

from __future__ import annotations

import hashlib
import textwrap

import pytest
from msgspec.structs import replace

from cutmarks.fixing.model import FixedSides, ReadFrom
from cutmarks.geometry.frames import Point
from cutmarks.geometry.regions import region
from cutmarks.geometry.rings import polygon
from cutmarks.geometry.shapes import Circle, Outline, Rect, Slot, ring_of
from cutmarks.job import parse_job
from cutmarks.openings.model import Cover, Drilled, WallCheck
from cutmarks.openings.prints import print_of
from cutmarks.plan import make_plan
from cutmarks.sides import FourSides, Side
from tests.handmade import any_way, cut_piece, opening

HOLE = opening("riser", Circle(35.0), 100.0, 80.0, core=35.0, cover=Cover(65.0, 65.0, True), you_may_be=10.0)
CHECK = WallCheck(ReadFrom("piece", "splash 3-6"), Side.LEFT, 69.0, 84.0, True)
PIECE = cut_piece([HOLE], 248.0, 398.0, at=(0.0, 0.0), checks=(CHECK,))


def with_tile(**changes):
    return replace(PIECE, piece=replace(PIECE.piece, tile=replace(PIECE.piece.tile, **changes)))


def with_cut(**changes):
    return replace(PIECE, cuts=(replace(PIECE.cuts[0], **changes),))


def from_edges(x, y):
    """The hole's middle in other places of its tile of 248 x 398."""
    return FourSides(x, 248.0 - x, y, 398.0 - y)


def with_hole(**changes):
    return with_cut(opening=replace(HOLE, **changes))


CHANGED = {
    "name": replace(PIECE, name="splash 3-8"),
    "place": replace(PIECE, words="2nd course up from the batten, 3rd tile right of V"),
    "kind of tile": with_tile(name="slate"),
    "width": with_tile(w=248.5),
    "height": with_tile(h=398.5),
    "fixed across": replace(PIECE, fixed=FixedSides(Side.RIGHT, PIECE.fixed.up)),
    "fixed up": replace(PIECE, fixed=FixedSides(PIECE.fixed.across, Side.TOP)),
    "outline": replace(PIECE, outline=region(polygon(((0.0, 0.0), (248.0, 0.0), (248.0, 397.999), (0.0, 398.0))))),
    "no hole": replace(PIECE, cuts=()),
    "hole's name": with_hole(name="return"),
    "across": with_cut(from_edges=from_edges(100.001, 80.0)),
    "up": with_cut(from_edges=from_edges(100.0, 80.001)),
    "diameter": with_hole(shape=Circle(35.001)),
    "box for a circle": with_hole(shape=Rect(35.0, 35.0)),
    "core": with_hole(core=None),
    "drilled": with_hole(drilled=Drilled(35.0, ((0.0, 0.0),))),
    "cover's size": with_hole(cover=Cover(66.0, 66.0, True)),
    "cover square": with_hole(cover=Cover(65.0, 65.0, False)),
    "no cover": with_hole(cover=None),
    "kept clear": with_hole(keep_clear=Cover(90.0, 90.0, True)),
    "how far off": with_hole(leeway=any_way(9.5)),
    "marked from across": with_cut(mark_from=(Side.RIGHT, Side.BOTTOM)),
    "marked from up": with_cut(mark_from=(Side.LEFT, Side.TOP)),
    "from a cut edge": with_cut(from_cut_edges=((Side.LEFT, 12.0),)),
    "no wall check": with_cut(wall_checks=()),
    "source": with_cut(wall_checks=(replace(CHECK, source=ReadFrom("piece", "splash 3-5")),)),
    "side read": with_cut(wall_checks=(replace(CHECK, side=Side.RIGHT),)),
    "near": with_cut(wall_checks=(replace(CHECK, near=69.5),)),
    "far": with_cut(wall_checks=(replace(CHECK, far=84.5),)),
}


def test_every_change_gives_another():
    prints = {name: print_of(piece) for name, piece in CHANGED.items()}
    # Two of so few agree by chance once in some millions: 30 * 30 / 2 / 2^32.
    assert len({print_of(PIECE), *prints.values()}) == len(CHANGED) + 1


SHAPES = (
    Rect(60.0, 40.0),
    Rect(40.0, 60.0),
    Rect(60.0, 40.0, 5.0),
    Rect(60.0, 40.0, 0.0, 5.0),
    Slot(60.0, 40.0),
    Slot(60.0, 40.0, 5.0),
    Slot(61.0, 40.0),
    Outline(tuple(ring_of(Rect(60.0, 40.0), Point(0.0, 0.0)).vertices)),
    Outline(tuple(ring_of(Slot(60.0, 40.0), Point(0.0, 0.0)).vertices)),
)


def test_every_shape_has_its_own():
    assert len({print_of(with_hole(shape=shape)) for shape in SHAPES}) == len(SHAPES)


def test_middles_of_the_core_count_where_it_is_drilled():
    drilled = replace(HOLE, drilled=Drilled(35.0, ((0.0, 0.0),)))
    middles: tuple[tuple[Point, ...], ...] = ((), (Point(100.0, 80.0),), (Point(101.0, 80.0),))
    prints = [print_of(with_cut(opening=drilled, drill_at=at)) for at in middles]
    other = print_of(with_hole(drilled=Drilled(36.0, ((0.0, 0.0),))))
    assert len({*prints, other}) == 4


@pytest.mark.parametrize("value", [1e-7, -1e-7])
def test_a_ten_millionth_is_no_change(value):
    assert print_of(with_cut(from_edges=from_edges(100.0 + value, 80.0))) == print_of(PIECE)


def test_it_is_of_values_written_out_by_hand():
    """A whole tile without a hole: the canonical text as it stands in DEVELOPERS' words, through SHA-256."""
    bare = replace(cut_piece([], 100.0, 50.5, at=(0.0, 0.0), name="splash 1-2"), words="here")
    text = (
        '{"cuts":[],"fixed":["left","bottom"],"outline":[[[0,0,0],[100,0,0],[100,50.5,0],[0,50.5,0]]],'
        '"piece":"splash 1-2","place":"here","tile":["rib",100,50.5]}'
    )
    assert print_of(bare) == hashlib.sha256(text.encode()).hexdigest()[:8]


def test_how_python_writes_a_shape_changes_nothing(monkeypatch):
    before = [print_of(with_hole(shape=shape)) for shape in (*SHAPES, Circle(35.0))]
    for one in (Circle, Rect, Slot, Outline, Cover, Drilled, WallCheck, Point):
        monkeypatch.setattr(one, "__repr__", lambda self: "other")
    assert [print_of(with_hole(shape=shape)) for shape in (*SHAPES, Circle(35.0))] == before


JOB = """\
job: Reed House
tiles: {{pale: {{size: {w} x {h}, measured: yes}}}}
surfaces:
  - name: wall
    kind: wall
    lines: {{V: "plumb, middle", B: "level, batten"}}
    areas: [{{name: a, tile: pale, joint: 3, start: {{across: left on V, up: sits on B}}, work: {work}}}]
    holes:
      - {{name: cold, what: 15 copper, across: 100 to 115 right of V, up: 120 to 135 above B, cover: {cover}}}
"""
AS_IT_IS = {"w": 346, "h": 346, "work": "left to right", "cover": 65}


@pytest.mark.parametrize(
    "change", [{"w": 347}, {"h": 347}, {"work": "right to left"}, {"cover": 70}, {"cover": "none"}]
)
def test_a_changed_job_gives_its_piece_another(change):
    (piece,) = plan_of(AS_IT_IS).pieces
    (other,) = plan_of({**AS_IT_IS, **change}).pieces
    assert piece.name.rpartition(" ")[0] == other.name.rpartition(" ")[0]
    assert piece.fingerprint != other.fingerprint
    assert plan_of(AS_IT_IS).pieces[0].fingerprint == piece.fingerprint == print_of(piece)


def plan_of(figures):
    return make_plan(parse_job(textwrap.dedent(JOB.format(**figures))))
