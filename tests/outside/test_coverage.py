"""Grout and adhesive against what is published of them, as far as any is.

No standard has a table of either; makers print their own for their own product. What was found is a building magazine's
table (hausjournal.net, "Wieviel Fugenmoertel pro qm") and rates for a millimetre of bed.
"""

from __future__ import annotations

import pytest

from cutmarks import make_plan, parse_job
from cutmarks.buying.flow import what_to_buy
from cutmarks.buying.model import Adhesive, Grout

WALL = """\
job: covered
BAG
tiles: {{field: {{size: {w} x {h}, measured: yes, thickness: {depth}, bed: {bed}}}}}
surfaces:
  - name: wall
    kind: floor
    up: towards the window
    lines: {{V: "across, middle", D: "along, door"}}
    gaps: {{left: 0, right: 0, bottom: 0, top: 0}}
    edges:
      left: {{at: 5000 left of V, what: wall, true: square, still to come: 0}}
      right: {{at: 5000 right of V, what: wall, true: square, still to come: 0}}
      bottom: {{at: 0 short of D, what: wall, true: square, still to come: 0}}
      top: {{at: 10000 in from D, what: wall, true: square, still to come: 0}}
    areas:
      - {{name: field, tile: field, joint: {joint}, start: {{across: joint on V, in: sits on D}}}}
"""
"""A hundred square metres."""
SQUARE_METRES = 100.0


def grout_of(w: float, h: float, joint: float, depth: float) -> Grout:
    text = WALL.format(w=w, h=h, joint=joint, depth=depth, bed=3).replace("BAG\n", "")
    return what_to_buy(make_plan(parse_job(text))).grout[0]


def adhesive_of(bed: float, bag: str) -> Adhesive:
    text = WALL.format(w=600, h=600, joint=3, depth=10, bed=bed).replace("BAG", f"bag: {bag}")
    return what_to_buy(make_plan(parse_job(text))).adhesive[0]


@pytest.mark.parametrize(
    ("w", "h", "depth", "joint", "published"),
    [(100, 100, 5, 5, 4.76), (200, 200, 10, 6, 5.83), (300, 300, 10, 8, 5.19), (300, 600, 10, 8, 3.91)],
)
def test_grout_as_the_magazine_has_it(w: float, h: float, depth: float, joint: float, published: float) -> None:
    # Its column is headed litres a square metre, and is of ten: a tile of 10 x 10 cm with joints of 5 by 5 mm has 10 %
    # of its area in joints (as the table says too), 5 deep: half a litre. It counts tile and joint where the trade's
    # formula counts the tile alone, so that it has up to 5 % less.
    a_metre = grout_of(w, h, joint, depth).litres / SQUARE_METRES
    assert a_metre == pytest.approx(published / 10, rel=0.055)
    assert a_metre >= published / 10


def test_larger_tiles_take_less_grout_as_the_magazine_says() -> None:
    # hausjournal.net, "Wieviel Fugenmoertel pro m2 Klinker": joints of 5 by 5 take some 600 g at 20 cm, 400 g at 30 cm.
    small, large = grout_of(200, 200, 5, 5), grout_of(300, 300, 5, 5)
    assert small.litres / large.litres == pytest.approx(600 / 400)


@pytest.mark.parametrize(("bed", "metres"), [(3, 25 / (1.5 * 3)), (5, 25 / (1.5 * 5))])
def test_a_bag_goes_as_far_as_its_rate_says(bed: float, metres: float) -> None:
    # Trade guides: about 1.5 kg a square metre and millimetre of bed (1.0 to 1.8, common practice), so
    # that 25 kg go for 5.6 m2 at 3.
    found = adhesive_of(bed, "25 kg at 1.5 kg a m2 a mm")
    assert found.bags is not None
    assert SQUARE_METRES / metres <= found.bags < SQUARE_METRES / metres + 1


def test_grout_counted_joint_by_joint() -> None:
    # Tiles of 97 and joints of 3 on 10 m by 10 m: the tiles cover (97 / 100) squared of it, the rest is joint, 8 deep:
    # 100 x (1 - 0.9409) x 8 = 47.28 litres. The trade's formula has 194 / 9409 x 3 x 8 x 100 = 49.49: 4.7 % more, since
    # it counts the tile without its joint.
    grout = grout_of(97, 97, 3, 8)
    assert grout.litres == pytest.approx(49.49, rel=0.001)
    assert grout.litres == pytest.approx(47.28, rel=0.05)
