"""A worked example: a flag that is slid in under a door frame, over a pipe; each figure by hand, to 0.01 mm.

Flags 597 x 597, joint 3: the first lies 298.5 to each side of C, the next to its left from -898.5 to -301.5; all begin
at 4 in from D. The leg stands on the threshold bar, from 474 to 418 left of C and 92 deep, and was cut off 16 above the
floor. Tile goes 12 under it from its left, from its right and from the room; at the bar there is none.
"""

from __future__ import annotations

import pytest

from tests.worked.conftest import Worked
from tests.worked.test_worked_examples import near, only_cut, piece

FLOOR = """
    job: a frame
    tiles: {{flag: {{size: 597 x 597, measured: yes, thickness: 10, bed: 5}}}}
    surfaces:
      - name: hall
        kind: floor
        up: into the room
        lines: {{C: "across, middle of the door", D: "along, threshold bar"}}
        edges:
          left: {{at: 1310 left of C, true: square}}
          right: {{at: 1290 right of C, true: square}}
          bottom: {{at: 0 from D, true: level, gap: 4}}
          top: {{at: 3105 in from D, true: level}}
        doors:
          - {{name: leg, across: 418 to 474 left of C, in: 0 to 92 from D, gap: 2{frame}}}
        areas:
          - {{name: floor, tile: flag, joint: 3, start: {{across: middle on C, up: sits on 4 in from D}}}}
        holes:
          - {{name: riser, what: 15 copper, across: centre 700 left of C, in: centre 300 from D, hole: 35{slot}}}
    """
UNDER = ", undercut: 16, goes under: 12"


def notch(plan: dict[str, object]) -> list[tuple[float, float]]:
    """The corners of the outline of the second piece that are none of the tile's own, in order."""
    ring = piece(plan, "floor 1-2")["outline"][0]
    own = {(x, y) for x in (0, 597) for y in (0, 597)}
    return [place for vertex in ring if (place := (round(vertex[0], 6), round(vertex[1], 6))) not in own]


def test_the_notch_is_smaller_than_the_frame_by_what_goes_under(worked: Worked) -> None:
    # -474 + 12 + 898.5 = 436.5 and -418 - 12 + 898.5 = 468.5 from its left; 92 - 12 - 4 = 76 from its lower edge.
    found = notch(worked(FLOOR.format(frame=UNDER, slot="")))
    assert sorted(found) == [(near(x), near(y)) for x, y in ((436.5, 0), (436.5, 76), (468.5, 0), (468.5, 76))]
    # Not cut off: -474 - 2 + 898.5 = 422.5, -418 + 2 + 898.5 = 482.5, 92 + 2 - 4 = 90.
    found = notch(worked(FLOOR.format(frame="", slot="")))
    assert sorted(found) == [(near(x), near(y)) for x, y in ((422.5, 0), (422.5, 90), (482.5, 0), (482.5, 90))]


def test_it_is_slid_in_from_the_room_and_its_hole_is_a_slot(worked: Worked) -> None:
    # Put down with its lower edge at 92, clear of the leg, its place is 92 - 4 = 88 further down. To the right it would
    # be 474 - 301.5 = 172.5, to the left -418 + 898.5 = 480.5.
    (finding,) = [
        one for one in worked(FLOOR.format(frame=UNDER, slot=""))["findings"] if one["rule"] == "cannot be slid under"
    ]
    assert finding["text"].endswith("Write slot: 88 towards the bottom.")
    plan = worked(FLOOR.format(frame=UNDER, slot=", slot: 88 towards the bottom"))
    assert not [one for one in plan["findings"] if one["rule"] == "cannot be slid under"]
    # The pipe is 898.5 - 700 = 198.5 from the left and 300 - 4 = 296 up; the slot 35 wide, and 88 longer downward.
    cut = only_cut(piece(plan, "floor 1-2"))
    _, ring = piece(plan, "floor 1-2")["outline"]
    xs, ys = [vertex[0] for vertex in ring], [vertex[1] for vertex in ring]
    assert (cut["from_left"], cut["from_bottom"]) == (near(198.5), near(296))
    assert (min(xs), max(xs)) == (near(181), near(216))
    # Corners of a slot on its side: where its two straight edges begin and end.
    assert (min(ys), max(ys)) == (near(296 - 88), near(296))


@pytest.mark.parametrize(("undercut", "stops"), [(15.9, True), (16, False)])
def test_tile_bed_and_air_have_to_go_under(worked: Worked, undercut: float, stops: bool) -> None:
    # 10 + 5 + 1 (common practice) = 16.
    plan = worked(FLOOR.format(frame=f", undercut: {undercut}, goes under: 12", slot=""))
    assert bool([one for one in plan["findings"] if one["rule"] == "frame too low"]) is stops
