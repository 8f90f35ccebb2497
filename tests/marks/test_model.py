"""What a mark is, shown by the examples beside each kind of mark; and how marks are moved."""

from __future__ import annotations

import doctest
import math
from typing import get_args

import pytest

from cutmarks.geometry.frames import Placement, Point, Sheet, Tile
from cutmarks.geometry.rings import Vertex
from cutmarks.marks import model
from cutmarks.marks.model import CircleMark, Mark, Role, Stroke, Words, moved


def kinds() -> list[str]:
    """What a mark can be."""
    return [kind.__origin__.__name__ for kind in get_args(Mark)]


@pytest.mark.parametrize("kind", kinds())
def test_each_kind_of_mark_shows_what_it_is(kind):
    (found,) = doctest.DocTestFinder(recurse=False).find(getattr(model, kind), kind, globs=vars(model).copy())
    assert found.examples, f"{kind} shows nothing"
    assert doctest.DocTestRunner().run(found).failed == 0


def test_there_are_four_kinds():
    assert kinds() == ["Stroke", "CircleMark", "Filled", "Words"]


def test_a_mirror_turns_the_bulge_round_and_leaves_words_readable():
    # A half circle over a base from 0 to 40 on a tile 100 wide: from behind it stands over 60 to 100, and still upward.
    behind: Placement[Tile, Tile] = Placement.mirror(100.0)
    arc: Stroke[Tile] = Stroke((Vertex(40.0, 0.0, 1.0), Vertex(0.0, 0.0)), Role.CUT)
    assert moved(arc, behind) == Stroke((Vertex(60.0, 0.0, -1.0), Vertex(100.0, 0.0)), Role.CUT)
    words: Words[Tile] = Words("UP", Point(30.0, 5.0), 2.5)
    assert moved(words, behind) == Words("UP", Point(70.0, 5.0), 2.5)


def test_words_turn_with_the_placement_and_a_circle_keeps_its_radius():
    turned: Placement[Tile, Sheet] = Placement.turned(90.0, 50.0, 0.0)
    circle: CircleMark[Tile] = CircleMark(Point(3.0, 4.0), 2.0, Role.CUT)
    # A quarter turn takes (3, 4) to (-4, 3), and 50 to the right of that.
    assert moved(circle, turned) == CircleMark(Point(46.0, 3.0), 2.0, Role.CUT)
    words = moved(Words("75", Point(3.0, 4.0), 2.5), turned)
    assert isinstance(words, Words)
    assert math.isclose(words.turn, 90.0)
