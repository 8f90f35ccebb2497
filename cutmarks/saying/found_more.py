"""Which way a template goes where the wall has more than was to be read.

Found more, the thing lies further from what it is read from, and the hole in its tile with it. The sheet is lined up
on, or taped to, an edge of the tile that may be the one on that side or the one across from it: that decides which way
it slides, and whether the tape gets longer. The figures in MARK go with the hole: from the edge on the side that is
read from they get longer, from the one across from it shorter.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from cutmarks.openings.model import WallCheck
from cutmarks.registering.sides import mark_sides
from cutmarks.saying.cuts import marked
from cutmarks.saying.seen import Seen
from cutmarks.sides import Axis, Side

FOLD = "fold at a + tick, for less at a \u2212 tick"


def read_sides(shown: Seen, axis: Axis) -> tuple[Side, ...]:
    """The sides of the tile that its cuts or corners are read from along an axis, each once, in the order of READ.

    They are called as the tile lies under this template. What is cut ahead is read from none.
    """
    if shown.plan.say.cut == "ahead":
        return ()
    if shown.corners:
        found = (side for corner in shown.corners for side in mark_sides(corner))
    else:
        found = (as_it_lies(shown, check) for cut in shown.cuts for check in cut.wall_checks if check.fixed)
    return tuple(dict.fromkeys(side for side in found if side.axis == axis))


def as_it_lies(shown: Seen, check: WallCheck) -> Side:
    """The side that something is read from, as the tile lies under this template: on its back, left is right."""
    return check.side.mirrored if shown.registration.back else check.side


def what_more_does(shown: Seen) -> str:
    """What is to be done where more is found: "fold at a + tick, ...; TAPE and MARK that way as much more, or less"."""
    ways = [FOLD] if any(read_sides(shown, side.axis) for side in shown.registration.edges) else []
    tapes, marks = _longer(shown, shown.registration.tape), _longer(shown, _marked_from(shown))
    if tapes and len({*tapes.values(), *marks.values()}) == 1:
        return "; ".join((*ways, *_as_much(shown, "TAPE and MARK that way", marks)))
    return "; ".join((*ways, *_as_much(shown, "TAPE", tapes), *_as_much(shown, "MARK that way", marks)))


def _marked_from(shown: Seen) -> Iterator[Side]:
    """The sides that the figures in MARK are from, across first."""
    sides = [row.measure.side for cut in shown.cuts for row in marked(shown, cut)]
    sides += [side for corner in shown.corners for side in mark_sides(corner)]
    yield from sorted(sides, key=lambda side: side.axis)


def _longer(shown: Seen, sides: Iterable[Side]) -> dict[Side, bool]:
    """Of the sides along whose axis something is read, whether what is from there gets longer where more is found."""
    return {side: read[0] is side for side in sides if (read := read_sides(shown, side.axis))}


def _as_much(shown: Seen, what: str, longer: Mapping[Side, bool]) -> Iterator[str]:
    """The words for it: once where all go the same way, else by side."""
    if len(set(longer.values())) == 1:
        yield f"{what} as much {'more, or less' if all(longer.values()) else 'less, for less as much more'}"
        return
    for side, more in longer.items():
        yield f"{what.split()[0]} as much {'more' if more else 'less'} from the {shown.names[side]}"


def other_way(shown: Seen, check: WallCheck) -> str:
    """Of a reading from the other side than the first on its axis: which way it is there; "" of any other."""
    side = as_it_lies(shown, check)
    if side is read_sides(shown, side.axis)[0]:
        return ""
    tape = next((one for one in shown.registration.tape if one.axis == side.axis), None)
    if tape is None:
        return "MORE: a \u2212 tick"
    return "MORE: TAPE more" if tape is side else "MORE: TAPE less"
