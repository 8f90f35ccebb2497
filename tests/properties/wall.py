"""A plain wall for tests of single stages: two lines, one area of 100 x 100 tiles with joints of 2, no edges.

Every key of the job, its surface and its area can be overridden; `None` takes a key out.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from cutmarks.errors import JobError
from cutmarks.job import Job, build_job
from cutmarks.openings.model import Cut, CutPiece
from cutmarks.plan import Plan, make_plan
from cutmarks.setout.model import SetOut
from cutmarks.setout.surface import set_out
from cutmarks.tiling.areas import lay_out
from cutmarks.tiling.layout import Layout

BOX = {
    "left": {"at": "500 left of V", "true": "plumb"},
    "right": {"at": "500 right of V", "true": "plumb"},
    "bottom": {"at": "400 below B", "true": "level", "what": "worktop"},
    "top": {"at": "600 above B", "true": "level"},
}
"""Edges of a wall of 1000 x 1000."""


def _merged(base: Mapping[str, Any], more: Mapping[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in {**base, **more}.items() if value is not None}


def wall(
    *,
    job: Mapping[str, Any] | None = None,
    surface: Mapping[str, Any] | None = None,
    area: Mapping[str, Any] | None = None,
    tile: Mapping[str, Any] | None = None,
    holes: list[dict[str, Any]] | None = None,
) -> dict[str, Any]:
    """The job as it would be written."""
    one_area = _merged(
        {"name": "field", "tile": "square", "joint": 2, "start": {"across": "joint on V", "up": "sits on B"}},
        area or {},
    )
    one_surface = _merged(
        {
            "name": "wall",
            "kind": "wall",
            "lines": {"V": "plumb, middle", "B": "level, batten"},
            "areas": [one_area],
            "holes": holes or [],
        },
        surface or {},
    )
    tiles = {"square": _merged({"size": "100 x 100", "measured": "yes"}, tile or {})}
    return _merged({"job": "plain", "tiles": tiles, "surfaces": [one_surface]}, job or {})


def built(**keys: Any) -> Job:
    return build_job(wall(**keys))


def ground_of(**keys: Any) -> SetOut:
    """The wall set out; any fault fails the test."""
    job = built(**keys)
    faults = job.faults()
    setout = set_out(job.surfaces[0], job, faults)
    assert not faults, list(faults)
    return setout


def layouts_of(**keys: Any) -> tuple[Layout, ...]:
    """The wall's areas laid; any fault fails the test."""
    job = built(**keys)
    faults = job.faults()
    layouts = lay_out(job.surfaces[0], set_out(job.surfaces[0], job, faults), job, faults)
    assert not faults, list(faults)
    return layouts


def plan_of(**keys: Any) -> Plan:
    return make_plan(built(**keys))


def faults_of(**keys: Any) -> list[str]:
    """The sentences for which the job is refused; none where it is taken."""
    try:
        make_plan(built(**keys))
    except JobError as error:
        return [str(fault) for fault in error.faults]
    return []


def piece(plan: Plan, name: str) -> CutPiece:
    (found,) = (p for p in plan.pieces if p.name == name)
    return found


def cut_of(plan: Plan, hole: str, of: str | None = None) -> Cut:
    """The only cut for a hole, or the one in the piece `of`."""
    (found,) = (c for p in plan.pieces for c in p.cuts if c.opening.name == hole and of in (None, p.name))
    return found
