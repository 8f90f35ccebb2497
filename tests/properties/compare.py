"""Two plans of the same tiles, told apart by nothing but where their lines were drawn."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

from msgspec import Struct, field

from cutmarks.geometry.frames import Placement, Surface, Tile
from cutmarks.geometry.regions import Region
from cutmarks.openings.model import Cut, CutPiece, WallCheck
from cutmarks.openings.outlines import boundary_distance
from cutmarks.plan import Plan
from cutmarks.sides import Side

CLOSE = 1e-5
"""Lengths agree within this, mm."""


class Change(Struct, frozen=True):
    """What becomes of a tile when its surface is changed: how its own frame moves, and which side is which.

    `on_surface` says where a place of the surface goes, `on_tile` does so in a tile's frame, given its w and h.
    """

    on_surface: Placement[Surface, Surface]
    on_tile: Callable[[float, float], Placement[Tile, Tile]]
    sides: Mapping[str, str] = field(default_factory=lambda: {s: s for s in ("left", "right", "bottom", "top")})


def spot(piece: CutPiece, change: Change | None = None) -> tuple[float, float]:
    """The middle of a finished piece's bounds, taken to the surface; after the change where there is one."""
    box = piece.outline.bounds
    x, y = piece.piece.tile_at.xy((box.min_x + box.max_x) / 2, (box.min_y + box.max_y) / 2)
    return (x, y) if change is None else change.on_surface.xy(x, y)


def matched(before: Plan, after: Plan, change: Change) -> Iterator[tuple[CutPiece, CutPiece]]:
    """Each piece with the one that it has become, by where it lies; raises AssertionError where one has none."""
    left = list(after.pieces)
    for piece in before.pieces:
        x, y = spot(piece, change)
        found = [p for p in left if abs(spot(p)[0] - x) < CLOSE and abs(spot(p)[1] - y) < CLOSE]
        assert len(found) == 1, f"{piece.name} has become {[p.name for p in found]}"
        left.remove(found[0])
        yield piece, found[0]
    assert not left, f"{[p.name for p in left]} came from nowhere"


def assert_alike(one: Region[Tile], two: Region[Tile]) -> None:
    """The same outline, wherever its vertices on arcs lie: area, bounds, length, each one's corners on the other."""
    assert one.is_empty == two.is_empty
    if one.is_empty:
        return
    assert abs(one.area - two.area) < CLOSE * 1000
    assert all(abs(a - b) < CLOSE for a, b in zip(one.bounds, two.bounds, strict=True))
    assert abs(sum(r.length for r in one.rings) - sum(r.length for r in two.rings)) < CLOSE * 10
    for a, b in ((one, two), (two, one)):
        assert all(boundary_distance(b, v.x, v.y) < CLOSE for ring in a.rings for v in ring.vertices)


def assert_same_piece(before: CutPiece, after: CutPiece, change: Change) -> None:
    """The piece after is the piece before, moved in its tile's frame and with its sides renamed."""
    w, h = before.piece.tile.w, before.piece.tile.h
    move = change.on_tile(w, h)
    assert_alike(before.outline.moved(move), after.outline)
    assert {change.sides[s] for s in before.factory_edges} == set(after.factory_edges)
    assert {change.sides[s] for s in before.cut_edges} == set(after.cut_edges)
    assert (before.sizes is None) == (after.sizes is None)
    if before.sizes is not None and after.sizes is not None:
        assert all(abs(size - after.sizes[Side(change.sides[s])]) < CLOSE for s, size in before.sizes.items())
    by_name = {cut.opening.name: cut for cut in after.cuts}
    assert {cut.opening.name for cut in before.cuts} == set(by_name)
    for cut in before.cuts:
        assert_same_cut(cut, by_name[cut.opening.name], move, change.sides)


def is_beside(check: WallCheck) -> bool:
    """Whether it is read from the piece beside it: what else it is read from depends on where lines are drawn."""
    return check.source.kind == "piece" and not check.source.across


def assert_same_cut(before: Cut, after: Cut, move: Placement[Tile, Tile], sides: Mapping[str, str]) -> None:
    """The cut after is the cut before, moved; measures, webs and wall checks go with their sides."""
    assert before.kind == after.kind
    assert_alike(before.share.moved(move), after.share)
    for side in sides:
        assert abs(getattr(before, f"from_{side}") - getattr(after, f"from_{sides[side]}")) < CLOSE
        one, two = getattr(before.web, side), getattr(after.web, sides[side])
        assert (one is None) == (two is None)
        assert one is None or abs(one - two) < CLOSE
    checks = {sides[c.side]: (c.near, c.far) for c in before.wall_checks if is_beside(c)}
    found: dict[str, tuple[float, float]] = {c.side: (c.near, c.far) for c in after.wall_checks if is_beside(c)}
    assert set(checks) == set(found)
    assert all(abs(a - b) < CLOSE for side, read in checks.items() for a, b in zip(read, found[side], strict=True))
    edges = {sides[side]: distance for side, distance in before.from_cut_edges}
    edges_found: dict[str, float] = {side: distance for side, distance in after.from_cut_edges}
    assert edges.keys() == edges_found.keys()
    assert all(abs(edges[side] - edges_found[side]) < CLOSE for side in edges)
