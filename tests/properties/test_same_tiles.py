"""Where lines are drawn, which way one stands and any placement change nothing on the tiles; a mirror mirrors them."""

from __future__ import annotations

from hypothesis import assume, given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from cutmarks.fixing.order import AreaOrder, Order
from cutmarks.fixing.sources import Sources, Thing
from cutmarks.geometry.frames import Placement, Surface
from cutmarks.job import build_job
from cutmarks.openings.cuts import places_met
from cutmarks.openings.model import Opening
from cutmarks.openings.pieces import Surroundings, cut_pieces
from cutmarks.plan import Plan
from cutmarks.setout.model import SetOut
from cutmarks.setout.surface import set_out
from cutmarks.sides import Side
from cutmarks.tiling.areas import lay_out
from cutmarks.tiling.layout import Layout
from cutmarks.tiling.model import Piece
from tests.properties.accounts import plan_of
from tests.properties.compare import Change, assert_same_piece, is_beside, matched
from tests.properties.scene import QUARTER, Scene, mirrored, said, turned_quarter
from tests.properties.strategies import LEVEL_STACK, scenes

MIRROR = Change(
    Placement(mirrored=True),
    lambda w, h: Placement(dx=w, mirrored=True),
    {"left": "right", "right": "left", "bottom": "bottom", "top": "top"},
)
TURN = Change(Placement.turned(90), lambda w, h: Placement.turned(90, h, 0.0), QUARTER)

quarters = st.integers(-8000, 8000).map(lambda n: n / 4)


def planned(scene: Scene, origin: tuple[float, float] = (0.0, 0.0)) -> Plan:
    """The plan; an example that is no job is left out."""
    plan = plan_of(scene, origin)
    assume(plan is not None)
    assert plan is not None
    return plan


@given(scenes(), quarters, quarters)
@settings(max_examples=40)
def test_measuring_from_other_lines_changes_nothing(scene: Scene, x: float, y: float) -> None:
    before, after = planned(scene), planned(scene, (x, y))
    change = Change(Placement(dx=-x, dy=-y), lambda w, h: Placement())
    assert [p.name for p in before.pieces] == [p.name for p in after.pieces]
    for one, two in matched(before, after, change):
        assert one.name == two.name
        assert one.fixed == two.fixed
        assert [_from_pieces(c) for c in one.cuts] == [_from_pieces(c) for c in two.cuts]
        assert_same_piece(one, two, change)


def _from_pieces(cut):
    """The sides that it is marked from where an earlier piece is read from: a line elsewhere may lie on another."""
    axes = {check.side.axis for check in cut.wall_checks if check.fixed and is_beside(check)}
    return [side for side in cut.mark_from if side.axis in axes]


@given(scenes())
@settings(max_examples=40)
def test_a_mirrored_job_has_mirrored_cuts(scene: Scene) -> None:
    for one, two in matched(planned(scene), planned(mirrored(scene)), MIRROR):
        assert one.piece.course == two.piece.course
        assert_same_piece(one, two, MIRROR)


@given(scenes(LEVEL_STACK), st.integers(1, 3))
@settings(max_examples=40)
def test_a_floor_seen_from_another_side_has_the_same_tiles(scene: Scene, turns: int) -> None:
    before = planned(scene)
    for _ in range(turns):
        scene = turned_quarter(scene)
        after = planned(scene)
        for one, two in matched(before, after, TURN):
            assert_same_piece(one, two, TURN)
        before = after


@st.composite
def anywhere(draw: st.DrawFn) -> Placement[Surface, Surface]:
    shift = st.floats(-5e4, 5e4)
    return Placement.turned(draw(st.floats(-180, 180)), draw(shift), draw(shift), mirrored=draw(st.booleans()))


def moved(layout: Layout, opening: Opening, by: Placement[Surface, Surface]) -> tuple[Layout, Opening]:
    """The same grid and the same opening, elsewhere."""
    grid = replace(layout.grid, to_surface=layout.grid.to_surface.then(by))
    return (
        Layout(
            layout.area,
            layout.surface,
            layout.tile,
            grid,
            layout.bounds,
            layout.ground,
            layout.reference,
            layout.open_to,
            layout.least_piece,
            stands_at=layout.stands_at,
        ),
        replace(opening, at=by.apply(opening.at), ring=opening.ring.moved(by), thing=opening.thing.moved(by)),
    )


class Alone(Sources):
    """One area by itself, every piece of it with its work coming from the left and from below: nothing else is read."""

    def __init__(self, layout: Layout, setout: SetOut) -> None:
        alone = AreaOrder(layout, 0, Side.LEFT, Side.TOP, False, False, False, frozenset())
        super().__init__(Order([alone], setout, {}))

    def without_neighbour(self, piece: Piece, thing: Thing, only: Side | None = None) -> None:
        return None


@given(scenes(), anywhere())
@settings(max_examples=30)
def test_any_placement_leaves_the_tiles_alone(scene: Scene, by: Placement[Surface, Surface]) -> None:
    job = build_job(said(scene))
    faults = job.faults()
    (surface,) = job.surfaces
    setout = set_out(surface, job, faults)
    layouts = lay_out(surface, setout, job, faults)
    openings = planned(scene).openings
    change = Change(by, lambda w, h: Placement())
    for layout in layouts:
        for opening in openings:
            there, taken = moved(layout, opening, by)
            # A neighbouring area would have to move too: each is looked at alone.
            here_context = Surroundings(layout, Alone(layout, setout), lambda _: "")
            there_context = Surroundings(there, Alone(there, setout), lambda _: "")
            assert set(places_met(opening, layout)) >= {
                place for place in places_met(taken, there) if _has_cut(there_context, place, taken)
            }
            for place in places_met(opening, layout):
                before = cut_pieces(place, [opening], here_context)
                after = cut_pieces(place, [taken], there_context)
                assert [p.name for p in before] == [p.name for p in after]
                for one, two in zip(before, after, strict=True):
                    if layout.grid.turn:  # read sizes are of the turned frame then, which a mirror leaves as it is
                        assert_same_piece(one, two, change)
                    else:
                        assert_same_piece(_unread(one), _unread(two), change)


def _has_cut(context: Surroundings, place: tuple[int, int], opening: Opening) -> bool:
    return any(piece.cuts for piece in cut_pieces(place, [opening], context))


def _unread(piece):
    """Without wall checks: a tape reads level and plumb, which another placement is not."""
    return replace(piece, cuts=tuple(replace(cut, wall_checks=()) for cut in piece.cuts))
