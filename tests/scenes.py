"""Tiles that a sheet has to cope with, each as a plan made by hand; every kind of cut, edge and page is among them."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from cutmarks.checks.model import Finding
from cutmarks.fixing.model import ReadFrom
from cutmarks.geometry.frames import Placement, Surface, Tile
from cutmarks.geometry.shapes import Circle, Rect, Slot
from cutmarks.openings.model import Cover, WallCheck
from cutmarks.plan import Plan
from cutmarks.sides import Side
from tests.handmade import cut_piece, opening, plan_of, w1_piece
from tests.worked.figures import W5_TRIMMED

ROSE = Cover(65.0, 65.0, True)
INCH = 25.4
STOP = Finding(
    "stop", "bridge", ("slab 1-1",), "Nothing is left between riser and the right edge: move the hole.", 0.2, 0.5, ""
)


def _checks(*rows: tuple[Side, float, float]) -> tuple[WallCheck, ...]:
    return tuple(WallCheck(ReadFrom("piece", "next to it"), side, near, far, True) for side, near, far in rows)


def w1() -> Plan:
    """Worked example W1."""
    return plan_of([w1_piece()])


def small_tile() -> Plan:
    """A 97 x 297 tile with one pipe: its right edge is on the paper too."""
    cold = opening("cold", Circle(28.0), 138.0, 180.0, core=28.0, cover=ROSE, you_may_be=6.5)
    checks = _checks((Side.LEFT, 43.5, 58.5), (Side.BOTTOM, 115.5, 130.5))
    return plan_of([cut_piece([cold], 97.0, 297.0, at=(90.0, 60.0), checks=checks)])


def box() -> Plan:
    """Worked example W2, lined up on the right: a box 76 x 78 under an 86 plate."""
    socket = opening("shaver socket", Rect(76.0, 78.0), -412.0, 1334.0, cover=Cover(86.0, 86.0, False), you_may_be=2.0)
    piece = cut_piece(
        [socket],
        597.0,
        297.0,
        at=(-898.5, 1200.0),
        fixed=(Side.RIGHT, Side.BOTTOM),
        name="field 5-2",
        checks=_checks((Side.RIGHT, 74.5, 146.5), (Side.BOTTOM, 98.0, 172.0)),
    )
    return plan_of([piece])


def quarter_of_crossing() -> Plan:
    """Worked example W3, below left: a corner notch on the corner that the sheet is lined up on."""
    pipe = opening("pipe", Circle(50.0), -5.0, 1795.0, core=50.0, cover=Cover(90.0, 90.0, True), you_may_be=9.0)
    piece = cut_piece(
        [pipe],
        298.0,
        598.0,
        at=(-299.0, 1200.0),
        fixed=(Side.RIGHT, Side.BOTTOM),
        kinds=["corner notch"],
        checks=_checks((Side.BOTTOM, 500.0, 520.0)),
        name="field 3-4",
    )
    return plan_of([piece])


def far_corner() -> Plan:
    """A notch over the corner across from the one that is lined up."""
    waste = opening("waste", Circle(60.0), 92.0, 92.0, core=60.0)
    return plan_of([cut_piece([waste], 100.0, 100.0, at=(1.0, 1.0), kinds=["corner notch"], name="tiny 3-4")])


def middle_of_large() -> Plan:
    """A hole in the middle of a 1200 x 600 tile: no edge on the paper."""
    soil = opening("soil", Circle(117.0), 601.0, 301.0, core=117.0, cover=Cover(160.0, 160.0, True), you_may_be=12.0)
    return plan_of([cut_piece([soil], 1200.0, 600.0, at=(1.0, 1.0), name="slab 1-1")])


def one_edge() -> Plan:
    """A hole beyond the paper's reach upward, with two findings."""
    riser = opening("riser", Circle(35.0), 75.0, 206.0, core=35.0, cover=ROSE, you_may_be=10.0)
    found = [
        Finding("warn", "bridge", ("slab 1-1",), "Only 22 of tile is left beside riser: drill slowly, full of water."),
        Finding("note", "opening", ("riser",), "The hole is 35: the pipe's 15 and 10 all round.", accepted="as said"),
    ]
    checks = _checks((Side.LEFT, 67.5, 82.5), (Side.BOTTOM, 199.5, 214.5))
    return plan_of([cut_piece([riser], 298.0, 598.0, at=(1.0, 1.0), name="slab 1-1", checks=checks)], findings=found)


def stopped() -> Plan:
    """A piece that must not be cut."""
    riser = opening("riser", Circle(35.0), 75.0, 101.0, core=35.0, cover=ROSE, you_may_be=10.0)
    piece = cut_piece([riser], 298.0, 598.0, at=(1.0, 1.0), name="slab 1-1", checks=_checks((Side.LEFT, 67.5, 82.5)))
    return plan_of([piece], findings=[STOP])


def raking() -> Plan:
    """Worked example W5: a piece trimmed along a raking edge, a pipe in it."""
    tail = opening("tail", Circle(28.0), 960.0, 200.0, core=28.0, cover=ROSE, you_may_be=6.5)
    piece = cut_piece(
        [tail],
        448.0,
        448.0,
        at=(901.0, 0.0),
        trimmed_to=W5_TRIMMED,
        factory=(Side.LEFT, Side.BOTTOM, Side.TOP),
        cut_edges=(Side.RIGHT,),
        name="field 1-5",
        checks=_checks((Side.LEFT, 53.5, 68.5)),
    )
    return plan_of([piece])


def inches() -> Plan:
    """Worked example W4 on Letter paper."""
    w = 11.8125 * INCH
    stub = opening(
        "stub",
        Circle(1.375 * INCH),
        -8.375 * INCH,
        15.8125 * INCH,
        core=1.375 * INCH,
        cover=Cover(2.5 * INCH, 2.5 * INCH, True),
        you_may_be=0.3 * INCH,
    )
    piece = cut_piece(
        [stub],
        w,
        w,
        at=(-(17 + 29 / 32) * INCH, 12 * INCH),
        fixed=(Side.RIGHT, Side.BOTTOM),
        name="field 2-3",
        checks=_checks((Side.RIGHT, 2.15625 * INCH, 2.78125 * INCH), (Side.BOTTOM, 3.6875 * INCH, 4.3125 * INCH)),
    )
    return plan_of([piece], units="in", paper="Letter", joint=3 / 16 * INCH)


def turned() -> Plan:
    """Worked example W7: a tile turned by 45 degrees."""
    tap = opening("tap", Circle(35.0), 100.0, 50.0, core=35.0, cover=ROSE, you_may_be=10.0)
    turn: Placement[Tile, Surface] = Placement.turned(45.0)
    return plan_of([cut_piece([tap], 297.0, 297.0, at=turn.xy(-148.5, -148.5), turn=45.0, name="diamond 4-4")])


def two_holes() -> Plan:
    """Two holes on one sheet; the words go on a second page."""
    hot = opening("hot", Circle(35.0), 301.0, 950.0, core=35.0, cover=ROSE, you_may_be=10.0)
    cold = opening("cold", Circle(35.0), 376.0, 950.0, core=35.0, cover=ROSE, you_may_be=10.0)
    return plan_of(
        [cut_piece([hot, cold], 248.0, 398.0, checks=_checks((Side.LEFT, 44.5, 59.5), (Side.BOTTOM, 144.5, 159.5)))]
    )


def two_sheets() -> Plan:
    """Two holes that no one corner reaches."""
    hot = opening("hot", Circle(35.0), 301.0, 950.0, core=35.0, cover=ROSE, you_may_be=10.0)
    cold = opening("cold", Circle(35.0), 751.0, 950.0, core=35.0, cover=ROSE, you_may_be=10.0)
    return plan_of([cut_piece([hot, cold], 597.0, 397.0, checks=_checks((Side.LEFT, 44.5, 59.5)))])


def round_notch() -> Plan:
    """A round notch over the lower edge, its middle on the tile."""
    feed = opening("feed", Circle(35.0), 301.0, 808.0, core=35.0, cover=ROSE, you_may_be=10.0)
    return plan_of([cut_piece([feed], 248.0, 398.0, kinds=["edge notch"], checks=_checks((Side.LEFT, 44.5, 59.5)))])


def box_notch() -> Plan:
    """A box over the upper edge."""
    socket = opening("socket", Rect(76.0, 78.0), 341.0, 1180.0, cover=Cover(86.0, 86.0, False), you_may_be=3.0)
    return plan_of([cut_piece([socket], 248.0, 398.0, kinds=["edge notch"], checks=_checks((Side.LEFT, 54.0, 126.0)))])


def under_batten() -> Plan:
    """A tile that hangs from the batten: marked from its upper edge."""
    trap = opening("trap", Circle(44.0), 341.0, -100.0, core=44.0, cover=ROSE, you_may_be=6.0)
    checks = _checks((Side.LEFT, 71.0, 113.0))
    return plan_of([cut_piece([trap], 248.0, 398.0, at=(251.0, -399.0), fixed=(Side.LEFT, Side.TOP), checks=checks)])


def slot() -> Plan:
    """A leaning slot."""
    tail = opening("tail", Slot(60.0, 24.0, lean=30.0), 340.0, 900.0, you_may_be=4.0)
    return plan_of([cut_piece([tail], 248.0, 398.0)])


def floor() -> Plan:
    """A large hole in a floor tile, its cover nearly as wide as the paper."""
    soil = opening("soil", Circle(122.0), 120.0, 130.0, core=122.0, cover=Cover(160.0, 160.0, True), you_may_be=8.0)
    return plan_of([cut_piece([soil], 448.0, 448.0, at=(1.0, 1.0))], kind="floor")


SCENES: Mapping[str, Callable[[], Plan]] = {
    scene.__name__: scene
    for scene in (
        w1,
        small_tile,
        box,
        quarter_of_crossing,
        far_corner,
        middle_of_large,
        one_edge,
        stopped,
        raking,
        inches,
        turned,
        two_holes,
        two_sheets,
        round_notch,
        box_notch,
        under_batten,
        slot,
        floor,
    )
}
