"""Plans of scenes, and their areas added up against the referee's."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import Any

import shapely

from cutmarks.errors import JobError
from cutmarks.job import build_job
from cutmarks.openings.model import CutPiece, Opening
from cutmarks.plan import Plan, make_plan
from tests.properties.referee import Referee, opening_of, rounded, solid, split
from tests.properties.scene import XY, Area, Hole, Scene, said

AGREE = 0.02
"""Areas agree within this, mm2: what 1e-6 mm of rounding leaves over some metres of outline, and 1024 corners of a
circle of 130 radius where a joint runs through it."""
OWN_FAULTS = ("first course would be", "nothing of it lies inside", "it lies off here")
"""What a random scene may rightly be refused for."""
_NONE: Mapping[str, str] = MappingProxyType({})


def plan_of(scene: Scene, origin: XY = (0.0, 0.0), wishes: Mapping[str, str] = _NONE) -> Plan | None:
    """The plan, or None where the scene is no job: a hole off the wall, an area with no ground, a first course of 4.

    `wishes` are keys of the job about its sheets: the paper, joined sheets, which face.
    """
    try:
        return make_plan(build_job({**said(scene, origin), **wishes}))
    except JobError as error:
        if all(any(words in fault.sentence for words in OWN_FAULTS) for fault in error.faults):
            return None
        raise


def area_named(scene: Scene, name: str) -> Area:
    (found,) = (area for area in scene.areas if area.name == name)
    return found


def hole_named(scene: Scene, name: str) -> Hole:
    (found,) = (hole for hole in scene.holes if hole.name == name)
    return found


def shares(plan: Plan, opening: Opening) -> Iterator[tuple[CutPiece, float]]:
    """Each share of an opening once, with a piece that has it: the parts of one piece may all show the same one."""
    seen = set()
    for piece in plan.pieces:
        for cut in piece.cuts:
            key = (piece.piece.area, piece.piece.place, cut.share.rings)
            if cut.opening.name == opening.name and key not in seen:
                seen.add(key)
                yield piece, cut.share.area


class Ground:
    """Per area of a scene what the referee finds: what is left of each tile, slivers, and the ground itself."""

    def __init__(self, scene: Scene) -> None:
        self.scene, self.referee = scene, Referee(scene)
        self.holes = {hole.name: rounded(opening_of(hole)) for hole in scene.holes}
        self.grounds = {area.name: self.referee.ground(area) for area in scene.areas}
        self.pieces: dict[tuple[str, tuple[int, int]], list[Any]] = {}
        self.slivers: list[Any] = []
        for area in scene.areas:
            for place, left in self.referee.laid(area, self._near(self.grounds[area.name])).items():
                pieces, slivers = split(left, area.turn)
                self.slivers += slivers
                if pieces:
                    self.pieces[area.name, place] = pieces

    def _near(self, ground: Any) -> Any:
        """Where a side is open, only so far that every tile which a hole reaches is still whole."""
        if len(self.scene.edges) == 4 or not self.holes:
            return ground
        longest = max(math.hypot(area.w, area.h) for area in self.scene.areas)
        reach = shapely.union_all(list(self.holes.values())).buffer(longest + 1)
        return rounded(ground.intersection(shapely.box(*reach.bounds)))

    def vanished(self) -> dict[tuple[str, tuple[int, int]], list[Any]]:
        """The pieces of which the openings leave nothing."""
        gone = {}
        for key, parts in self.pieces.items():
            taken = [part for part in parts if all(x.area < 1e-5 for x in solid(self._after(part)))]
            if taken:
                gone[key] = taken
        return gone

    def _after(self, part: Any) -> Any:
        for hole in self.holes.values():
            part = rounded(part.difference(hole))
        return part

    def off_tile(self, name: str) -> float:
        """How much of a hole falls on joints, on slivers that stay joint, in gaps and voids and off the areas, mm2."""
        hole = self.holes[name]
        total = hole.area
        for area in self.scene.areas:
            ground = rounded(hole.intersection(self.grounds[area.name]))
            total -= ground.area
            if ground.area:
                total += sum(
                    rounded(ground.intersection(rounded(strip))).area for strip in self.referee.joints(area, ground)
                )
        return float(total + sum(rounded(hole.intersection(sliver)).area for sliver in self.slivers))


def opening_balance(plan: Plan, ground: Ground, opening: Opening) -> float:
    """Opening less its shares, what falls off the tiles, and what it takes of pieces that vanish: should be 0, mm2."""
    hole = ground.holes[opening.name]
    gone = sum(rounded(hole.intersection(part)).area for parts in ground.vanished().values() for part in parts)
    return float(hole.area) - sum(area for _, area in shares(plan, opening)) - ground.off_tile(opening.name) - gone


def surface_balance(plan: Plan, ground: Ground) -> float:
    """The bare surface less pieces, openings, joints, gaps, voids and untiled ground: should be 0, mm2."""
    (surface,) = plan.surfaces
    referee = ground.referee
    untiled = referee.clear
    for window in referee.windows:
        untiled = rounded(untiled.difference(window))
    off_clear = referee.outline.area - untiled.area
    joints = 0.0
    for area in ground.scene.areas:
        own = ground.grounds[area.name]
        untiled = rounded(untiled.difference(own))
        joints += sum(rounded(own.intersection(rounded(strip))).area for strip in referee.joints(area, own))
    joints += sum(sliver.area for sliver in ground.slivers)
    tiles = 0.0
    for laid in surface.areas:
        counted = laid.counts.whole
        assert counted is not None
        tiles += counted * laid.tile.w * laid.tile.h
    trimmed = {(p.piece.area, p.piece.place): p.piece.outline.area for p in plan.pieces if p.piece.trimmed}
    lost_whole = sum(
        part.area
        for (name, place), parts in ground.vanished().items()
        for part in parts
        if (name, place) not in trimmed
    )
    return float(referee.outline.area - off_clear - untiled.area - joints - tiles - sum(trimmed.values()) - lost_whole)


def finished_balance(plan: Plan, ground: Ground) -> float:
    """The largest difference, over the places, of what trimming leaves less its finished parts and their shares, mm2.

    Of a piece that a void parts, one part may vanish.
    """
    whole: dict[tuple[str, tuple[int, int]], float] = {}
    for piece in plan.pieces:
        key = piece.piece.area, piece.piece.place
        whole.setdefault(key, piece.piece.outline.area)
        whole[key] -= piece.outline.area
    for opening in plan.openings:
        for piece, area in shares(plan, opening):
            whole[piece.piece.area, piece.piece.place] -= area
    for key, parts in ground.vanished().items():
        if key in whole:
            whole[key] -= sum(part.area for part in parts)
    return max((abs(rest) for rest in whole.values()), default=0.0)
