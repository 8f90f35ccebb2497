"""No key of the job file is taken and read by nobody: each, written otherwise, changes what is made of the job.

Every key of every model is left out and given its declared examples, and a further value where the examples do not
tell, in a scene where it matters. Two of these jobs have to come out differently: in plan.json, on a sheet, on the job
sheet or in a list, the fingerprints of what was read aside. What is only carried along in the plan does not count.
A key whose one effect is a fault stands in `ONLY_REFUSES`.
"""

from __future__ import annotations

import copy
import re
from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from itertools import pairwise
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import pytest
from msgspec import Struct, field
from msgspec.structs import replace

from cutmarks import Plan, build_job, make_plan
from cutmarks.errors import JobError
from cutmarks.job.declared import Declared, declared
from cutmarks.job.faults import TreeFaults
from cutmarks.job.keys import things
from cutmarks.job.limits import OwnLimits
from cutmarks.job.load import read_shop, read_tools
from cutmarks.job.model import JobModel
from cutmarks.job.models import Job, Tools
from cutmarks.job.reading import read_tree
from cutmarks.job.schema import example
from cutmarks.job.shop import LayersSpec, Shop, ToleranceSpec
from cutmarks.job.tree import Entry, Places, plain, planted
from cutmarks.sheets.build import build_pack
from cutmarks.sheets.jobsheet import jobsheet_pages
from cutmarks.sheets.piece_page import OnPage, piece_page
from cutmarks.sheets.setout_page import setout_pages
from cutmarks.writers.as_built import as_built_csv
from cutmarks.writers.dxf import dxf_files
from cutmarks.writers.lists import holes_csv, pieces_csv
from cutmarks.writers.plan_json import to_json
from tests.sheets.drawn import texts

WALL = """\
job: Quay Cottage
tiles:
  rib: {size: 297 x 97, measured: yes, thickness: 9, bed: 4}
  slab: {size: 247 x 97, measured: yes}
surfaces:
  - name: sink wall
    kind: wall
    lines:
      V: {kind: plumb, words: middle of the sink}
      B: {kind: level, words: top of the packers}
    edges:
      left: {at: 640 left of V, what: end panel, true: plumb}
      right: {at: 640 right of V, what: shelf, true: plumb}
      bottom: {at: 5 below B, what: worktop, true: level}
      top: {at: 520 above B, what: shelf, true: level}
    areas:
      - {name: splash, tile: rib, joint: 3, start: {across: joint on V, up: sits on B}}
    windows:
      - {name: window, across: 450 to 560 right of V, up: 350 to 450 above B}
    do not drill:
      - {name: strip, across: 90 to 120 left of V, up: 0 to 400 above B}
    points:
      P1: 300 left of V, 500 above B
      P2: 300 right of V, 500 above B
    holes:
      - {name: hot, what: 15 copper, across: 67 to 83 left of V, up: 212 to 228 above B, cover: 65, end: comes off}
      - {name: cold, what: 15 copper, across: 217 to 233 left of V, up: 212 to 228 above B, cover: 65, end: comes off}
    pairs:
      - {of: hot and cold, apart: 150}
"""
EXAMPLES = Path(__file__).parents[1] / "examples"
BOOT, CUPBOARD, WASH, ROOM = (
    (EXAMPLES / name / f"{name}.yaml").read_text(encoding="utf-8")
    for name in ("boot-room", "plant-cupboard", "wash-house", "treatment-room")
)
JobPath = tuple[str | int, ...]


@cache
def read_plain(text: str) -> Any:
    """A job as mappings, lists and texts."""
    tree, _, faults, _ = read_tree(text, "scene")
    assert not faults
    return plain(tree)


SURFACE: JobPath = ("surfaces", 0)
HOLE: JobPath = (*SURFACE, "holes", 0)
DROP = object()
Values = dict[str, Any]


class Scene(Struct, frozen=True, dict=True):
    """Where a key is tried.

    at     the thing that it is a key of, in the job; () in the job itself.
    also   what else stands in the job for it, by path; DROP: what does not.
    tried  values beside the declared examples.
    base   the job; tools, shop: what stands in tools.yaml, in shop.yaml; files: what lies beside it.
    """

    at: JobPath
    also: Mapping[JobPath, Any] = field(default_factory=dict)
    tried: Sequence[Any] = ()
    base: str = WALL
    tools: Values | None = None
    files: Mapping[str, str] = field(default_factory=dict)
    shop: Values | None = None


HOMES: dict[str, JobPath] = {
    "Job": (),
    "TileSpec": ("tiles", "rib"),
    "SurfaceSpec": SURFACE,
    "LineSpec": (*SURFACE, "lines", "V"),
    "EdgeSpec": (*SURFACE, "edges", "left"),
    "Step": (*SURFACE, "edges", "bottom", "steps", 0),
    "AreaSpec": (*SURFACE, "areas", 0),
    "VoidSpec": (*SURFACE, "windows", 0),
    "KeepOutSpec": (*SURFACE, "do not drill", 0),
    "HoleSpec": HOLE,
    "PairSpec": (*SURFACE, "pairs", 0),
    "FoundSpec": ("found", 0),
    "Accepted": ("accept", 0),
    "OwnLimits": ("limits",),
    "Printer": ("printer",),
    "Tools": (),
    "Shop": (),
    "LayersSpec": ("layers",),
    "ToleranceSpec": ("tolerance",),
}
"""Where one of each model stands in a scene that says nothing else."""
LINES, EDGES = (*SURFACE, "lines"), (*SURFACE, "edges")
ALONE: dict[JobPath, Any] = {(*SURFACE, "pairs"): DROP, (*SURFACE, "holes", 1): DROP}
"""The hole stands alone on its surface."""
OPEN: dict[JobPath, Any] = {(*SURFACE, "edges"): DROP, (*SURFACE, "windows"): DROP, (*SURFACE, "do not drill"): DROP}
"""A surface of which nothing is known but its lines."""
LARGE: dict[JobPath, Any] = {
    ("tiles", "rib", "size"): "1200 x 1200",
    (*HOLE, "across"): "592 to 608 right of V",
    (*HOLE, "up"): "602 to 618 above B",
    **OPEN,
    **ALONE,
}
STEPS: dict[JobPath, Any] = {
    (*EDGES, "bottom"): {"steps": [{"at": "5 below B", "until": "100 right of V"}, {"at": "20 below B"}]}
}
STEP = (*EDGES, "bottom", "steps", 0)
UNPLACED: dict[JobPath, Any] = {(*HOLE, "across"): DROP, (*HOLE, "up"): DROP, **ALONE}
FOUND: dict[JobPath, Any] = {("found", 0): {"piece": "splash 3-3", "hole": "hot", "note": "seen"}}
READ: dict[JobPath, Any] = {("found", 0): {"piece": "splash 3-3", "hole": "hot"}}
TRIMMED: dict[JobPath, Any] = {("found", 0): {"piece": "splash 6-1", "note": "seen"}}
ACCEPTED: dict[JobPath, Any] = {("accept", 0): {"rule": "thin bridge", "reason": "the rose hides it"}}
BASE_SURFACE = read_plain(WALL)["surfaces"][0]
UPPER = {"name": "upper", "tile": "rib", "joint": 3, "from": "300 above B"} | {
    "start": {"across": "joint on V", "up": "sits on 300 above B"}
}
END_WALL = {"name": "end wall", **{key: BASE_SURFACE[key] for key in ("kind", "lines", "edges")}} | {
    "areas": [{"name": "end", "tile": "rib", "joint": 3, "bond": BASE_SURFACE["areas"][0].get("bond", "stack")}]
}
VALVE, SOCKET = (*SURFACE, "holes", 4), (*SURFACE, "holes", 5)


def corners(left: int, top: int) -> list[str]:
    """An outline or a box right of the plumb line, 110 wide and 100 high."""
    below = top - 100
    return [
        f"{x} right of V, {y} above B" for x, y in ((left, below), (left + 110, below), (left + 110, top), (left, top))
    ]


BOXED: dict[JobPath, Any] = {
    **ALONE,
    HOLE: {"name": "slit", "what": "slit box", "size": "6 x 40", "opening": "6 x 40", "cover": "none"}
    | {"across": "67 to 73 left of V", "up": "230 to 270 above B"},
}
"""One narrow box in the wall, which a jet has little room to begin in."""
CABLE: dict[JobPath, Any] = {
    **ALONE,
    (*HOLE, "opening"): "12",
    (*HOLE, "what"): "6 copper",
    (*HOLE, "across"): "centre 75 left of V",
    (*HOLE, "up"): "centre 250 above B",
}
"""One small hole."""
SCENES: dict[tuple[str, str], Scene] = {
    ("Job", "sheets"): Scene((), LARGE),
    ("Job", "tiles"): Scene((), tried=[{"rib": {"size": "247 x 97", "measured": "yes"}}]),
    ("Job", "surfaces"): Scene(
        (), tried=[[BASE_SURFACE], [{**BASE_SURFACE, "holes": BASE_SURFACE["holes"][:1], "pairs": []}]]
    ),
    ("Job", "limits"): Scene((), tried=[{"thin bridge": "1"}]),
    ("Job", "accept"): Scene((), tried=[[ACCEPTED["accept", 0]]]),
    ("Job", "found"): Scene((), tried=[[FOUND["found", 0]]]),
    ("TileSpec", "joint"): Scene(("tiles", "rib"), {(*SURFACE, "areas", 0, "joint"): DROP}),
    ("TileSpec", "bed"): Scene(("tiles", "chalk"), {("tiles", "chalk", "notch"): DROP}, base=WASH),
    ("TileSpec", "notch"): Scene(("tiles", "chalk"), base=WASH),
    ("TileSpec", "buttered"): Scene(("tiles", "rib")),
    # The ends of the wall's courses are 34 wide: two of them come from one tile where an offcut may be turned.
    ("TileSpec", "pattern"): Scene(("tiles", "rib"), {(*EDGES, "left", "at"): "1137 left of V"}),
    ("SurfaceSpec", "lines"): Scene(
        SURFACE, tried=[{"V": "plumb, middle of the tap", "B": "level, top of the batten"}]
    ),
    ("SurfaceSpec", "outline"): Scene(
        SURFACE,
        {(*SURFACE, "edges"): DROP},
        [["640 left of V, 5 below B", "640 right of V, 5 below B", "640 right of V, 520 above B", "on V, 520 above B"]],
    ),
    ("SurfaceSpec", "areas"): Scene(SURFACE, tried=[[{**BASE_SURFACE["areas"][0], "name": "other"}]]),
    ("SurfaceSpec", "windows"): Scene(SURFACE, tried=[BASE_SURFACE["windows"]]),
    ("SurfaceSpec", "niches"): Scene(SURFACE, {(*SURFACE, "windows"): DROP}, [BASE_SURFACE["windows"]]),
    ("SurfaceSpec", "doors"): Scene(SURFACE, {(*SURFACE, "windows"): DROP}, [BASE_SURFACE["windows"]]),
    ("SurfaceSpec", "do not drill"): Scene(SURFACE, tried=[BASE_SURFACE["do not drill"]]),
    ("SurfaceSpec", "holes"): Scene(SURFACE, ALONE, [BASE_SURFACE["holes"], BASE_SURFACE["holes"][:1]]),
    ("SurfaceSpec", "holes list"): Scene(
        SURFACE,
        files={"pipes.csv": "name,what,across,up,cover\ndrain,32 waste,200 to 235 right of V,200 to 235 above B,75\n"},
    ),
    ("SurfaceSpec", "points"): Scene(
        SURFACE,
        tried=[
            {"N1": "610 left of V, 1905 above B", "N2": "590 right of V, 1905 above B"},
            {"N1": "612 left of V, 1905 above B", "N2": "590 right of V, 1905 above B"},
        ],
        base=CUPBOARD,
    ),
    ("SurfaceSpec", "pairs"): Scene(
        SURFACE, tried=[[{"of": "hot and cold", "apart": "150"}], [{"of": "hot and cold", "apart": "153"}]]
    ),
    ("SurfaceSpec", "square"): Scene(SURFACE, tried=["900 x 1200, diagonal 1530"]),
    ("SurfaceSpec", "first"): Scene(
        SURFACE,
        {(*SURFACE, "areas"): [{**BASE_SURFACE["areas"][0], "to": "297 above B"}, UPPER], **ALONE},
        [["upper"]],
    ),
    ("SurfaceSpec", "board"): Scene(SURFACE, {(*VALVE, "depth"): "78 behind the studs"}, base=WASH),
    ("LineSpec", "at"): Scene((*LINES, "W"), {(*LINES, "W", "kind"): "plumb"}),
    ("LineSpec", "kind"): Scene((*LINES, "V"), {(*LINES, "V", "words"): DROP}, ["plumb, left of the tap"]),
    ("LineSpec", "off"): Scene((*LINES, "V"), tried=["20 in 1200 to the right"]),
    ("EdgeSpec", "at"): Scene((*EDGES, "left"), tried=["650 left of V"]),
    ("EdgeSpec", "scribe"): Scene((*EDGES, "left"), {(*EDGES, "left", "at"): "899 left of V"}),
    ("EdgeSpec", "trim"): Scene((*EDGES, "left"), {(*EDGES, "left", "at"): "120 left of V", **ALONE}, ["15"]),
    ("EdgeSpec", "corner"): Scene((*EDGES, "left"), {(*EDGES, "left", "lining"): "12"}),
    ("VoidSpec", "said"): Scene(
        (*SURFACE, "windows", 0), {(*SURFACE, "windows", 0, key): DROP for key in ("name", "across", "up")}
    ),
    ("VoidSpec", "corner"): Scene((*SURFACE, "windows", 0), {(*SURFACE, "windows", 0, "lining"): "12"}),
    ("EdgeSpec", "steps"): Scene(
        (*EDGES, "bottom"),
        {(*EDGES, "bottom"): {}},
        [
            [{"at": "5 below B", "until": "100 right of V"}, {"at": "20 below B"}],
            [{"at": "5 below B", "until": "100 right of V"}, {"at": "30 below B"}],
        ],
    ),
    ("Step", "at"): Scene(STEP, STEPS, ["5 below B", "8 below B"]),
    ("Step", "until"): Scene(STEP, STEPS),
    ("Step", "what"): Scene(STEP, STEPS),
    ("Step", "gap"): Scene(STEP, STEPS),
    ("SurfaceSpec", "thickness"): Scene(SURFACE, base=ROOM),
    ("SurfaceSpec", "bed"): Scene(SURFACE, base=ROOM),
    ("SurfaceSpec", "notch"): Scene(SURFACE, {(*SURFACE, "bed"): DROP}, base=ROOM),
    ("Step", "still to come"): Scene(STEP, STEPS),
    ("AreaSpec", "said"): Scene(
        (*SURFACE, "areas", 0), {(*SURFACE, "areas", 0, key): DROP for key in ("name", "tile", "joint", "start")}
    ),
    ("Job", "courses run round"): Scene(
        (),
        {
            ("surfaces", 1): END_WALL,
            ("surfaces", 1, "areas", 0, "start"): {"across": "joint on V", "up": "sits on 12 above B"},
        },
    ),
    ("AreaSpec", "carries on from"): Scene(("surfaces", 1, "areas", 0), {("surfaces", 1): END_WALL}),
    ("AreaSpec", "tile"): Scene((*SURFACE, "areas", 0), tried=["slab"]),
    ("VoidSpec", "outline"): Scene(
        (*SURFACE, "windows", 0),
        {(*SURFACE, "windows", 0): {"name": "window"}},
        [corners(450, 450), corners(440, 450)],
    ),
    ("VoidSpec", "undercut"): Scene((*SURFACE, "doors", 0), {(*SURFACE, "doors", 0, "goes under"): DROP}, base=BOOT),
    ("VoidSpec", "goes under"): Scene((*SURFACE, "doors", 0), base=BOOT),
    ("KeepOutSpec", "across"): Scene((*SURFACE, "do not drill", 0), tried=["60 to 90 left of V"]),
    ("KeepOutSpec", "up"): Scene((*SURFACE, "do not drill", 0), tried=["0 to 400 above B"]),
    ("KeepOutSpec", "outline"): Scene(
        (*SURFACE, "do not drill", 0), {(*SURFACE, "do not drill", 0): {"name": "strip"}}, [corners(450, 450)]
    ),
    ("HoleSpec", "name"): Scene(HOLE, {(*SURFACE, "pairs"): DROP}, ["warm"]),
    ("HoleSpec", "said"): Scene(HOLE, {**{(*HOLE, key): DROP for key in ("name", "what", "cover", "end")}, **UNPLACED}),
    ("HoleSpec", "corners"): Scene(HOLE, {(*HOLE, "what"): "socket box", **UNPLACED}, [corners(130, 250)]),
    ("HoleSpec", "outline"): Scene(
        HOLE, {(*HOLE, "what"): "socket box", **UNPLACED}, [corners(130, 250), corners(140, 250)]
    ),
    ("HoleSpec", "readings"): Scene(
        HOLE, UNPLACED, [["67 to 83 left of V", "212 to 228 above B"], ["67 to 83 left of V", "213 to 229 above B"]]
    ),
    ("HoleSpec", "lies"): Scene(
        (*SURFACE, "holes", 2),
        {(*SURFACE, "holes", 2, "readings"): ["1271 to 1306 from N1", "1045 to 1081 from N2"]},
        base=CUPBOARD,
    ),
    ("HoleSpec", "depth range"): Scene(VALVE, base=WASH),
    ("HoleSpec", "service"): Scene(HOLE, tried=["120", "280"]),
    ("HoleSpec", "screw"): Scene(SOCKET, tried=["15"], base=WASH),
    ("HoleSpec", "stub"): Scene(
        HOLE, {(*HOLE, "lean"): "6 in 60 right", (*SURFACE, "holes", 1, "lean"): "9 in 60 left"}
    ),
    ("PairSpec", "of"): Scene(
        (*SURFACE, "pairs", 0),
        {(*SURFACE, "holes", 2): {**BASE_SURFACE["holes"][1], "name": "drain", "across": "317 to 333 left of V"}},
    ),
    ("Accepted", "rule"): Scene(("accept", 0), ACCEPTED, ["narrow piece"]),
    ("Accepted", "about"): Scene(("accept", 0), ACCEPTED, ["cold"]),
    ("Accepted", "reason"): Scene(("accept", 0), ACCEPTED, ["it was tried"]),
    ("FoundSpec", "piece"): Scene(
        ("found", 0),
        {
            ("found", 0): {"cut": "yes"},
            (*SURFACE, "holes", 1, "across"): "467 to 483 left of V",
            (*SURFACE, "pairs"): DROP,
        },
        ["splash 3-3", "splash 3-2"],
    ),
    ("FoundSpec", "hole"): Scene(("found", 0), FOUND, ["hot"]),
    ("FoundSpec", "left"): Scene(("found", 0), READ, ["219 to 235", "221 to 237"]),
    ("FoundSpec", "right"): Scene(("found", 0), READ, ["68 to 84", "70 to 86"]),
    ("FoundSpec", "bottom"): Scene(("found", 0), READ, ["15 to 31", "16 to 32"]),
    ("FoundSpec", "top"): Scene(("found", 0), READ, ["72 to 88", "73 to 89"]),
    ("FoundSpec", "opening across"): Scene(("found", 0), TRIMMED, ["42", "41 and 42"]),
    ("FoundSpec", "opening up"): Scene(("found", 0), TRIMMED, ["23", "22 and 23"]),
    ("FoundSpec", "tile"): Scene(("found", 0), READ),
    ("FoundSpec", "cut"): Scene(("found", 0), FOUND),
    ("FoundSpec", "date"): Scene(("found", 0), {("found", 0): {"piece": "splash 3-3", "hole": "hot", "cut": "yes"}}),
    ("FoundSpec", "by"): Scene(("found", 0), FOUND),
    ("FoundSpec", "note"): Scene(("found", 0), READ),
    ("Tools", "cores"): Scene((), tried=["28, 51"]),
    ("Tools", "discs"): Scene((), tried=["230 x 3"]),
    # The ends of the wall's courses are trimmed, 97 high.
    ("Tools", "longest snap"): Scene((), tried=["90"]),
    ("Tools", "narrowest snap"): Scene((), tools={"longest snap": "900"}),
    ("Job", "corner radius"): Scene((), BOXED),
    ("Job", "corner radius of"): Scene((), BOXED, [{"splash 3-3": "2"}]),
    ("Shop", "corner radius"): Scene((), BOXED),
    ("Shop", "cuts with"): Scene((), BOXED),
    ("Shop", "discs"): Scene((), BOXED),
    ("Shop", "layers"): Scene((), tried=[{"outline": "CUT"}]),
    ("LayersSpec", "holes"): Scene(("layers",), BOXED, shop={"corner radius": "holes 3"}),
    ("Shop", "tolerance"): Scene((), tried=[{"outline": "0.3"}]),
    ("Shop", "pierce"): Scene((), BOXED),
    ("Shop", "jet radius"): Scene((), BOXED, shop={"corner radius": "1.2"}),
    ("Shop", "least hole"): Scene((), CABLE),
    ("Shop", "edge work"): Scene((), {(*SURFACE, "windows", 0, "edge finish"): "polished"}),
    ("Shop", "units"): Scene((), BOXED, shop={"pierce": "1"}, tried=["mm", "cm"]),
    ("Tools", "units"): Scene((), tried=["cm"], tools={"cores": "3.5"}),
}
ONLY_REFUSES: dict[tuple[str, str], str] = {
    ("SurfaceSpec", "kind"): "it says in which words all else on the surface is read",
}


ONLY_CHOSEN: dict[tuple[str, str], str] = {
    ("Tools", "spacers"): "it changes the starts that are offered, and no plan: tests/choosing/test_choose.py has it",
    (
        "HoleSpec",
        "handed",
    ): "it changes a room of the other hand, and not the job's own: tests/job/test_mirroring.py has it",
}


def tried() -> Iterator[tuple[type[JobModel], Declared]]:
    """Every key of a job file and of the tools. Of the limits, each is tried by its rule, in test_limits."""
    models: dict[type[JobModel], None] = dict.fromkeys([Job, *(model for model, _ in things().values()), Tools, Shop])
    return ((model, one) for model in models if model is not OwnLimits for one in declared(model).values())


TRIED = {(model.__name__, one.word): (model, one) for model, one in tried()}


def put(job: Any, path: JobPath, value: Any) -> None:
    """Write a value at a path, or take out what stands there; things and lists on the way are begun."""
    for part, after in pairwise(path):
        if isinstance(job, list):
            while len(job) <= int(part):
                job.append({})
            job = job[int(part)]
        else:
            job = job.setdefault(part, [] if isinstance(after, int) else {})
    last = path[-1]
    if value is DROP:
        if isinstance(job, list):
            del job[int(last)]
        else:
            job.pop(last, None)
    elif isinstance(job, list) and last == len(job):
        job.append(value)
    else:
        job[last] = value


def planned(key: tuple[str, str], value: Any) -> Plan | str:
    """The plan of the scene of a key with this value, its fingerprint taken out; or its faults."""
    model, one = TRIED[key]
    scene = SCENES.get(key) or Scene(HOMES[model.__name__])
    job, tools, shop = copy.deepcopy(read_plain(scene.base)), dict(scene.tools or {}), dict(scene.shop or {})
    for path, other in scene.also.items():
        put(job, path, other if other is DROP else copy.deepcopy(other))
    written = tools if model in (Tools, things()["printer"][0]) else shop if model in SHOPS else job
    put(written, (*scene.at, one.word), value)
    with TemporaryDirectory() as folder:
        for name, text in scene.files.items():
            (Path(folder) / name).write_text(text, encoding="utf-8")
        try:
            own = tools_of(tools) if tools else None
            cuts = shop_of(shop) if shop else None
            return replace(make_plan(build_job(job, Path(folder), own, cuts)), fingerprint="00000000")
        except JobError as error:
            return " ".join(fault.sentence for fault in error.faults)


def tools_of(keys: Values) -> Tools:
    """The tools that a file with these keys says. Raises JobError."""
    tree = planted(keys)
    assert isinstance(tree, Entry)
    faults = TreeFaults(tree, Places())
    tools = read_tools(faults)
    if tools is None:
        raise JobError(faults)
    return tools


SHOPS = (Shop, LayersSpec, ToleranceSpec)


def shop_of(keys: Values) -> Shop:
    """What a shop's file with these keys says. Raises JobError."""
    tree = planted(keys)
    assert isinstance(tree, Entry)
    faults = TreeFaults(tree, Places())
    shop = read_shop(faults)
    if shop is None:
        raise JobError(faults)
    return shop


def apart(one: Plan, other: Plan) -> bool:
    """Whether two plans differ in what comes out of them."""
    if one == other:
        return False
    return (
        in_json(one) != in_json(other) or on_paper(one) != on_paper(other) or for_the_shop(one) != for_the_shop(other)
    )


def for_the_shop(plan: Plan) -> str:
    """The names of all drawings, what is in them, and the words of the page beside each."""
    by_name = {one.name: one for one in plan.pieces}
    held = []
    for one in dxf_files(plan):
        first = by_name[one.made_of[0]]
        page = piece_page(plan, first, plan.cuttings[first.name], "p", OnPage(1, " ".join(one.made_of), "d.dxf"))
        held += [
            one.name,
            one.data.decode(),
            one.open_data.decode(),
            *(name for name, _ in one.back),
            *texts(page.marks),
        ]
    return unmarked("\n".join(held))


def in_json(plan: Plan) -> str:
    return unmarked(to_json(plan, ()).decode())


def on_paper(plan: Plan) -> str:
    """The words of every sheet, of the job sheet and of the lists."""
    pack = build_pack(plan)
    pages = [*pack.front, *pack.templates, *jobsheet_pages(plan, {}), *setout_pages(plan)]
    lists = holes_csv(plan) + pieces_csv(plan) + (as_built_csv(plan) if plan.found else b"")
    return unmarked("\n".join([*(text for page in pages for text in texts(page.marks)), lists.decode()]))


def unmarked(text: str) -> str:
    """Without fingerprints and sums."""
    return re.sub(r"\b[0-9a-f]{8,64}\b", "", text)


def outcomes(key: tuple[str, str]) -> tuple[bool, list[str]]:
    """Whether two jobs came out differently, without the key and with each of its values; and what was refused."""
    scene, first, refused = SCENES.get(key), None, []
    for value in (DROP, *example(TRIED[key][1]), *(scene.tried if scene else ())):
        plan = planned(key, value)
        if isinstance(plan, str):
            refused.append(plan)
        elif first is None:
            first = plan
        elif apart(first, plan):
            return True, refused
    assert first is not None, refused
    return False, refused


@pytest.mark.parametrize("key", [key for key in TRIED if key not in {*ONLY_REFUSES, *ONLY_CHOSEN}], ids=str)
def test_a_key_written_otherwise_makes_another_plan_or_paper(key: tuple[str, str]) -> None:
    differs, refused = outcomes(key)
    assert differs, refused


@pytest.mark.parametrize("key", ONLY_REFUSES, ids=str)
def test_a_key_that_only_refuses_takes_one_value_and_not_another(key: tuple[str, str]) -> None:
    differs, refused = outcomes(key)
    assert not differs
    assert refused


def test_every_scene_and_every_exception_is_of_a_key() -> None:
    assert {*SCENES, *ONLY_REFUSES} <= TRIED.keys()
