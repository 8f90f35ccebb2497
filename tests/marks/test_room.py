"""Whether a rectangle is free of what is drawn."""

from __future__ import annotations

from random import Random

import pytest

from cutmarks.geometry.edges import Bounds
from cutmarks.geometry.frames import Page, Point, Tile
from cutmarks.marks.labels import _saw_places
from cutmarks.marks.model import CircleMark, Role, Stroke, Words, block, line
from cutmarks.marks.room import Room, crosses, spans
from cutmarks.marks.sheet_map import _along


def room():
    made: Room[Tile] = Room(Bounds(0.0, 0.0, 100.0, 100.0))
    return made


def test_nothing_outside_the_view_is_free():
    assert room().free(Bounds(10.0, 10.0, 20.0, 20.0), 0.0)
    assert not room().free(Bounds(-1.0, 10.0, 20.0, 20.0), 0.0)


def test_a_line_through_a_rectangle_takes_it():
    taken = room()
    taken.take([line(0.0, 15.0, 100.0, 15.0, Role.CUT)])
    assert not taken.free(Bounds(40.0, 10.0, 60.0, 20.0), 0.0)
    assert taken.free(Bounds(40.0, 16.0, 60.0, 20.0), 0.9)
    assert not taken.free(Bounds(40.0, 16.0, 60.0, 20.0), 1.1)


def test_a_circle_takes_its_line_and_not_what_is_inside():
    taken = room()
    taken.take([CircleMark(Point(50.0, 50.0), 30.0, Role.CUT)])
    assert taken.free(Bounds(40.0, 40.0, 60.0, 60.0), 1.0)
    assert not taken.free(Bounds(75.0, 45.0, 90.0, 55.0), 0.0)
    assert taken.free(Bounds(81.0, 45.0, 90.0, 55.0), 0.5)


def test_words_and_blocks_take_their_boxes():
    taken = room()
    taken.take([block(10.0, 10.0, 20.0, 20.0), Words("CORE 35", Point(50.0, 50.0), 5.0)])
    assert not taken.free(Bounds(25.0, 25.0, 40.0, 40.0), 0.0)
    assert not taken.free(Bounds(52.0, 51.0, 54.0, 52.0), 0.0)


def test_the_first_free_words_are_placed_and_then_in_the_way():
    taken = room()
    first: Words[Tile] = Words("hot", Point(50.0, 50.0), 5.0)
    assert taken.place([first], 0.0) == first
    other: Words[Tile] = Words("hot", Point(50.0, 70.0), 5.0)
    assert taken.place([first, other], 0.0) == other
    assert taken.place([first, other], 0.0) is None


def test_a_group_is_placed_whole_or_not_at_all():
    taken = room()
    low: Words[Tile] = Words("TAPE 600", Point(10.0, 10.0), 5.0)
    high: Words[Tile] = Words("to this line", Point(10.0, 20.0), 5.0)
    assert taken.place_group([[low, high]], 0.0) == [low, high]
    assert taken.place_group([[low, Words("x", Point(80.0, 80.0), 5.0)]], 0.0) == ()


@pytest.mark.parametrize(
    ("span", "hit"),
    [
        ((0.0, 0.0, 10.0, 10.0), True),  # through the middle
        ((0.0, 12.0, 12.0, 0.0), True),  # through the middle, falling
        ((0.0, 9.0, 3.0, 12.0), False),  # past the top-left corner
        ((4.5, 5.0, 5.5, 5.0), True),  # wholly inside
        ((7.0, 0.0, 7.0, 10.0), False),  # beside it
    ],
)
def test_a_span_crosses_a_rectangle(span, hit):
    assert crosses(span, Bounds(4.0, 4.0, 6.0, 6.0), 0.0) is hit


def scattered(seed):
    """A room with lines, circles and blocks in it, and all of them one by one: boxes, and straight spans."""
    draw = Random(seed)
    made = room()
    boxes, lines = [], []
    for _ in range(draw.randrange(2, 30)):
        x, y, w, h = (draw.uniform(-20.0, 110.0) for _ in range(4))
        marks: list[Stroke[Tile] | CircleMark[Tile]]
        match draw.randrange(4):
            case 0:
                marks = [line(x, y, w, h, Role.CUT)]
            case 1:
                marks = [line(x, y, draw.choice((x, w)), y, Role.CUT)]
            case 2:
                marks = [CircleMark(Point(x, y), abs(w) / 4, Role.CUT)]
            case _:
                boxes.append(Bounds(x, y, x + abs(w) / 5, y + abs(h) / 5))
                made.take_box(boxes[-1])
                continue
        made.take(marks)
        lines += [span for mark in marks for span in spans(mark)]
    return draw, made, boxes, lines


@pytest.mark.parametrize("seed", range(40))
def test_the_index_answers_as_if_everything_were_looked_at(seed):
    draw, made, boxes, lines = scattered(seed)
    for _ in range(200):
        x, y = draw.uniform(0.0, 100.0), draw.uniform(0.0, 100.0)
        box = Bounds(x, y, x + draw.uniform(0.0, 30.0), y + draw.uniform(0.0, 30.0))
        clear = draw.choice((0.0, 0.8, 2.5))
        alone = not any(box.overlaps(one, clear) for one in boxes) and not any(
            crosses(one, box, clear) for one in lines
        )
        assert made.free(box, clear) == (alone and box.within(made.view))


@pytest.mark.parametrize(("end", "across"), [((100.0, 0.0), False), ((0.0, 100.0), True)])
def test_the_words_of_a_saw_cut_may_stand_on_either_side_of_it(end: tuple[float, float], across: bool) -> None:
    # Level words stand with their capitals over their place, upright ones with theirs left of it: they reach from the
    # one side of the line, or up to it from the other, and never lie on it.
    sides = set()
    for words in _saw_places((0.0, 0.0), end, "saw to here"):
        low = words.at.x - words.height if across else words.at.y
        assert low > 0.0 or low + words.height < 0.0
        sides.add(low > 0.0)
    assert sides == {True, False}


def test_what_is_kept_free_for_a_leader_lies_along_it() -> None:
    start: Point[Page] = Point(10.0, 5.0)
    spots = list(_along(start, Point(40.0, 25.0)))
    assert spots[0] == start
    assert len(spots) > 3
    # On the line from (10, 5) to (40, 25): two up for three across, and never past its end.
    assert [spot.y - 5.0 for spot in spots] == pytest.approx([(spot.x - 10.0) * 2.0 / 3.0 for spot in spots])
    assert all(10.0 <= spot.x < 40.0 for spot in spots)
