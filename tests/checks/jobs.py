"""One wall of 297 x 197 tiles, joint 3, a joint on V and the first course on B: the first tile lies 1.5 to 298.5
right of V and 0 to 197 above B."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from cutmarks.checks.model import Finding
from cutmarks.job import build_job
from cutmarks.plan import Plan, make_plan

EDGES = {
    "left": {"at": "1000 left of V", "true": "plumb", "gap": "0"},
    "right": {"at": "1000 right of V", "true": "plumb", "gap": "0"},
    "bottom": {"at": "0 above B", "true": "level", "gap": "0"},
    "top": {"at": "900 above B", "true": "level", "gap": "0"},
}


def hole(name: Any = "riser", x: Any = 150.0, y: Any = 100.0, **keys: Any) -> dict[str, Any]:
    """A hole whose middle lies x right of V and y above B; a 15 copper under a cover of 65 unless said otherwise."""
    said: dict[str, Any] = {"name": name, "what": "15 copper", "end": "comes off", "cover": 65, **keys}
    return {"across": f"centre {x:g} right of V", "up": f"centre {y:g} above B", **said}


def plan(*holes: Mapping[str, object], tile: Mapping[str, object] | None = None, **keys: Any) -> Plan:
    """The wall with these holes; `keys` go to its surface, `tile` to its tile, `job` keys by their own names."""
    job: dict[str, Any] = {
        key: keys.pop(key) for key in ("limits", "accept", "cut", "say", "units", "found") if key in keys
    }
    surface: dict[str, Any] = {
        "name": "wall",
        "kind": "wall",
        "lines": {"V": "plumb, middle", "B": "level, top of the batten"},
        "edges": EDGES,
        "areas": [{"name": "field", "tile": "rib", "joint": 3, "start": {"across": "joint on V", "up": "sits on B"}}],
        "holes": list(holes),
        **keys,
    }
    tiles = {"rib": {"size": "297 x 197", "measured": "yes", **(tile or {})}}
    return make_plan(build_job({"job": "checks", **job, "tiles": tiles, "surfaces": [surface]}))


def said(made: Plan, rule: str) -> list[Finding]:
    """The plan's findings of one rule."""
    return [finding for finding in made.findings if finding.rule == rule]


def only(made: Plan, rule: str) -> Finding:
    """The one finding of a rule."""
    (finding,) = said(made, rule)
    return finding
