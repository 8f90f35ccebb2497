"""Tiles whose sheets are out of the ordinary: joined, for the back, larger than the paper, stopped, on a roll."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from msgspec.structs import replace

from cutmarks.checks.model import Finding
from cutmarks.geometry.shapes import Circle, Rect
from cutmarks.openings.model import Cover
from cutmarks.plan import Plan
from cutmarks.registering import register
from tests.handmade import cut_piece, opening, plan_of, w1_piece
from tests.scenes import ROSE, STOP, box, raking, turned

WAITS = Finding(
    "stop", "still to come", ("slab 1-1",), "How much of the next wall is still to come is not known.", holds="trimming"
)


def wished(plan: Plan, *, joined: bool = False, template: str = "", paper: str | None = None) -> Plan:
    """The plan with its sheets chosen anew."""
    say = plan.say if paper is None else replace(plan.say, paper=paper)
    return replace(plan, say=say, registrations=register(plan.pieces, say.paper, joined=joined, template=template))


def large(*spots: tuple[float, float]) -> Plan:
    """A 1200 x 1200 tile with soil pipes at these places."""
    cover = Cover(160.0, 160.0, True)
    pipes = [
        opening(f"soil {n}", Circle(122.0), x, y, core=122.0, cover=cover, you_may_be=8.0)
        for n, (x, y) in enumerate(spots, start=1)
    ]
    return plan_of([cut_piece(pipes, 1200.0, 1200.0, at=(0.0, 0.0))])


def joined() -> Plan:
    """A hole that no one sheet reaches, on joined sheets."""
    return wished(large((300.0, 250.0)), joined=True)


def joined_far_corner() -> Plan:
    """The same from the upper right corner: joins run the other way."""
    return wished(large((900.0, 940.0)), joined=True)


def joined_back() -> Plan:
    """Joined sheets for the back."""
    return wished(large((300.0, 250.0)), joined=True, template="back")


def too_large() -> Plan:
    """A round hole larger than A4: on joined sheets, unasked."""
    duct = opening("duct", Circle(250.0), 200.0, 200.0, cover=Cover(300.0, 300.0, True), you_may_be=8.0)
    return plan_of([cut_piece([duct], 600.0, 600.0, at=(0.0, 0.0))])


def clipped() -> Plan:
    """A cut-out that would take more joined sheets than anybody wants."""
    bath = opening("bath", Rect(900.0, 700.0), 600.0, 250.0)
    return plan_of([cut_piece([bath], 1198.0, 598.0, at=(0.0, 0.0), kinds=["edge notch"])])


def both_faces() -> Plan:
    """Worked example W1 with a template for each face."""
    return wished(plan_of([w1_piece()]), template="both")


def turned_back() -> Plan:
    """A tile turned by 45 degrees, from behind."""
    return wished(turned(), template="back")


def box_back() -> Plan:
    """A box, from behind."""
    return wished(box(), template="back")


def stopped_everywhere() -> Plan:
    """A stop on a tile whose cut leaves no room for the sentence."""
    duct = opening("duct", Rect(160.0, 205.0), 87.0, 109.0)
    findings = [replace(STOP, about=("duct",), text="No tile is left beside duct. " * 6)]
    return plan_of([cut_piece([duct], 448.0, 448.0, at=(1.0, 1.0))], findings=findings)


def waiting() -> Plan:
    """A raking edge whose trimming waits; the hole goes on."""
    plan = raking()
    return replace(plan, findings=(replace(WAITS, about=(plan.pieces[0].name,)),))


def on_a_roll() -> Plan:
    """A tall tile whole on a plotter's roll."""
    riser = opening("riser", Circle(35.0), 300.0, 700.0, core=35.0, cover=ROSE, you_may_be=10.0)
    return wished(plan_of([cut_piece([riser], 600.0, 1200.0, at=(0.0, 0.0))]), paper="610 x 1320")


SPECIAL: Mapping[str, Callable[[], Plan]] = {
    scene.__name__: scene
    for scene in (
        joined,
        joined_far_corner,
        joined_back,
        too_large,
        clipped,
        both_faces,
        turned_back,
        box_back,
        stopped_everywhere,
        waiting,
        on_a_roll,
    )
}
