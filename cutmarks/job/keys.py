"""The keys of a job file: what else they are called, where each belongs, and how each is written."""

from __future__ import annotations

import difflib
from collections.abc import Mapping

from cutmarks.errors import Path
from cutmarks.job.edges import EdgeSpec, KeepOutSpec, Step, VoidSpec
from cutmarks.job.found import FoundSpec
from cutmarks.job.holes import HoleSpec
from cutmarks.job.limits import OwnLimits
from cutmarks.job.model import UNTAKEN, Model, key_of, tidy_key
from cutmarks.job.models import Accepted
from cutmarks.job.surfaces import LineSpec, Surface
from cutmarks.job.taped import PairSpec
from cutmarks.job.tiles import AreaSpec, TileSpec
from cutmarks.job.tools import Printer
from cutmarks.job.words import either, found

THINGS: Mapping[str, tuple[type[Model], str]] = {
    "tiles": (TileSpec, "tile"),
    "surfaces": (Surface, "surface"),
    "lines": (LineSpec, "line"),
    "edges": (EdgeSpec, "edge"),
    "steps": (Step, "step"),
    "areas": (AreaSpec, "area"),
    "windows": (VoidSpec, "window"),
    "niches": (VoidSpec, "niche"),
    "doors": (VoidSpec, "door"),
    "do not drill": (KeepOutSpec, "strip"),
    "holes": (HoleSpec, "hole"),
    "pairs": (PairSpec, "pair"),
    "found": (FoundSpec, "found"),
    "accept": (Accepted, "accepted finding"),
    "printer": (Printer, "printer"),
    "limits": (OwnLimits, "limit"),
}
"""What stands under each key that holds things, and what one of them is called."""

MEANT: Mapping[str, tuple[str, ...]] = {
    "penetrations": ("holes",),
    "pipes": ("holes",),
    "openings": ("holes",),
    "cut-outs": ("holes",),
    "cutouts": ("holes",),
    "zones": ("areas",),
    "zone": ("areas",),
    "fields": ("areas",),
    "area": ("areas",),
    "walls": ("surfaces",),
    "floors": ("surfaces",),
    "wall": ("surfaces",),
    "floor": ("surfaces", "bottom"),
    "rooms": ("surfaces",),
    "plate": ("cover",),
    "rose": ("cover",),
    "collar": ("cover",),
    "escutcheon": ("cover",),
    "faceplate": ("cover",),
    "grout": ("joint",),
    "grout joint": ("joint",),
    "spacer": ("joint",),
    "spacing": ("joint",),
    "joints": ("joint",),
    "pattern": ("bond",),
    "offset": ("bond",),
    "x": ("across",),
    "horizontal": ("across",),
    "position": ("across",),
    "y": ("up", "in"),
    "height": ("up",),
    "vertical": ("up",),
    "type": ("what", "kind"),
    "kind": ("what",),
    "pipe": ("what",),
    "fitting": ("what",),
    "od": ("diameter",),
    "dia": ("diameter",),
    "clearance": ("play", "gap"),
    "rotation": ("turn", "lean"),
    "rotate": ("turn", "lean"),
    "angle": ("turn", "lean"),
    "orientation": ("lay",),
    "direction": ("lay", "work"),
    "dimensions": ("size",),
    "title": ("job",),
    "name": ("job",),
    "project": ("job",),
    "datums": ("lines",),
    "datum": ("lines",),
    "set-out": ("lines",),
    "set-out lines": ("lines",),
    "layout lines": ("lines",),
    "keep out": ("do not drill",),
    "keepout": ("do not drill",),
    "comment": ("note",),
    "remark": ("note",),
    "notes": ("note",),
    "origin": ("start",),
    "finish": ("still to come",),
    "language": ("say",),
    "end of pipe": ("end",),
    "readings": ("at",),
    "reading": ("at",),
    "accepted": ("accept",),
}
"""Words that are typed for keys, and the keys that are meant, where they are keys of the thing at hand."""

WRITE: Mapping[str, str] = {
    "job": "job: Quay Cottage",
    "name": "name: and a word for it",
    "size": "size: 297 x 97",
    "tiles": "tiles:, and under it rib: {size: 297 x 97}",
    "surfaces": "surfaces:, and under it - name: sink wall",
    "kind": "kind: wall, or kind: floor",
    "tile": "tile: and the name of one under tiles",
    "joint": "joint: 3",
    "at": "at: 1140 left of V",
    "rule": "rule: and the finding's rule",
    "reason": "reason: and why you live with it",
    "of": "of: and the names of two holes, as in of: flow and return",
}
"""How a key that is missing is written."""

START = "start "
ELSEWHERE: Mapping[str, str] = {
    "cores": "The tiler's own tools stand in tools.yaml beside the job: write cores there.",
    "discs": "The tiler's own tools stand in tools.yaml beside the job: write discs there.",
    "printer": "The tiler's own tools stand in tools.yaml beside the job: write printer there.",
    "tools": "The tiler's own tools stand in tools.yaml beside the job: write cores, discs and printer there.",
}
"""Keys that stand in another file."""

OTHER_KIND: Mapping[str, str] = {
    "in": 'On a wall the height is written up, as in "up: 212 to 228 above B".',
    "up": 'On a floor the way into the room is written in, as in "in: 1420 to 1530 from D".',
}
"""The word for the second reading on the other kind of surface."""


def model_at(path: Path, root: type[Model]) -> type[Model]:
    """The model of the thing that the keys at `path` belong to."""
    for part in reversed(path):
        if isinstance(part, str) and part in THINGS:
            return THINGS[part][0]
    return root


def keys_of(model: type[Model]) -> list[str]:
    """The keys that can be written in a thing."""
    return [key for key in map(key_of, model.model_fields) if key not in model.OWN | {"where"}] + list(model.EXTRA)


def unknown_key(key: str, model: type[Model]) -> str:
    """The sentence for a key that is none, with the key that was meant where that can be told."""
    typed = tidy_key(key.removeprefix(UNTAKEN))
    known = keys_of(model)
    if typed.startswith(START):
        return (
            f"{found(typed.removeprefix(START))} is no part of a start: "
            "write across and up, as in start: {across: joint on V, up: sits on B}."
        )
    if typed in ELSEWHERE and typed not in known:
        return ELSEWHERE[typed]
    if typed in OTHER_KIND and "in" in model.EXTRA:
        return OTHER_KIND[typed]
    for meant in MEANT.get(typed, ()):
        if meant in known:
            return f"{found(typed)} is no key here: write {meant}."
    homes = sorted({word for thing, word in THINGS.values() if typed in keys_of(thing)})
    if homes:
        there = either(_UNDER.get(home, f"{_a(home)} {home}") for home in homes)
        return f"{found(typed)} is no key here, it belongs to {there}: move it there."
    near = difflib.get_close_matches(typed, known, n=1)
    if near:
        return f"{found(typed)} is no key here: did you mean {near[0]}?"
    if model is OwnLimits:
        return f"{found(typed)} is no limit: write one that cutmarks check --why prints."
    return f"{found(typed)} is no key here: write {either(known)}."


_UNDER: Mapping[str, str] = {"found": "an entry under found", "limit": "the list under limits"}
"""What is no thing of its own name."""


def _a(word: str) -> str:
    return "an" if word[0] in "aeiou" else "a"
