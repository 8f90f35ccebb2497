"""One tile from its fixed neighbours, with no job: for `one` and for the page.

No second arithmetic: the fixed tiles' edges become the set-out lines of a job with one tile in it, and that job goes
the way of every other.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from msgspec.structs import replace

from cutmarks.errors import Fault, JobError
from cutmarks.fixing.model import ReadFrom
from cutmarks.job import build_job, parse_bare
from cutmarks.job.parting import BETWEEN
from cutmarks.job.tools import Tools
from cutmarks.openings.model import CutPiece
from cutmarks.plan import Plan, make_plan
from cutmarks.registering.calibration import Calibration
from cutmarks.sides import Side
from cutmarks.units import Unit, parse_length

Given = Mapping[str, str | tuple[str, ...] | None]
"""What was said of the tile, by the names of the options of `one`."""
FixedEdge = tuple[str, str]
"""Which neighbour is read from, and the phrase from the line that stands for its edge."""
ACROSS: Mapping[str, str] = {"from_left_tile": "right of V", "from_right_tile": "left of V"}
UP: Mapping[str, str] = {"from_course_below": "above B", "from_course_above": "below B"}
"""The neighbours that a reading may be from, each with how it then reads from a line."""
NAME = "one tile"
AREA = "tile"
HERE = (0, 0)
"""The place of the tile that is asked about; its neighbours have others."""


def plan_of_one(
    given: Given,
    across: FixedEdge,
    up: FixedEdge,
    cores: Sequence[float],
    calibration_of: Callable[[str], Calibration | None],
) -> Plan:
    """The plan of a job with this one tile in it, corrected for a printer where one is named.

    cores  those that are at hand, mm; none: the usual ones.

    Raises:
        JobError: a figure is at fault; there is no file, so no line stands before the sentence.
    """
    job = build_job(_job(given, across, up))
    # Own cores count as read: with others the hole, and the sheet, would be another.
    read = {**job.read, "tools": {"cores": list(cores)}}
    job = replace(job, tools=Tools(cores=tuple(cores)), read=read)
    plan = make_plan(job, calibration=calibration_of(job.paper))
    here = {
        "from_left_tile": "beside the fixed tile on its left: V is that tile's edge",
        "from_right_tile": "beside the fixed tile on its right: V is that tile's edge",
    }[across[0]]
    course = Side.BOTTOM if up[0] == "from_course_below" else Side.TOP
    pieces = tuple(_beside(piece, here, course) if piece.piece.place == HERE else piece for piece in plan.pieces)
    return replace(plan, pieces=pieces)


def one_from(said: Mapping[str, str]) -> Plan:
    """The plan of what was said on the page: the same words, and one reading across and one up by its neighbour.

    Raises:
        JobError: a figure is at fault, or a reading is missing.
    """
    unit = Unit.INCH if said.get("units") == "in" else Unit.MM
    given: dict[str, str | None] = {name: said.get(name) or None for name in SAID}
    cores = [one.strip() for one in said.get("cores", "").split(BETWEEN.strip()) if one.strip()]
    faults = [Fault(f"{name}: {words}") for name, words in NEEDED.items() if not said.get(name)]
    edges: list[FixedEdge] = []
    for axis, sides in (("across", ACROSS), ("up", UP)):
        name = said.get(f"{axis} from") or next(iter(sides))
        edges.append((name, f"{said.get(axis, '')} {sides[name]}"))
        faults += _wrong(axis, said.get(axis, ""), parse_bare, unit)
    for name, text in (("joint", said.get("joint", "")), *(("cores", core) for core in cores)):
        faults += _wrong(name, text, parse_length, unit)
    if faults:
        raise JobError(faults)
    given |= {"units": unit.value, "paper": said.get("paper") or None, "template": said.get("template") or None}
    return plan_of_one(given, edges[0], edges[1], [parse_length(core, unit).mm for core in cores], lambda _: None)


SAID = ("tile", "joint", "what", "cover", "opening", "hole", "thickness")
"""What is said of the tile and the thing."""
NEEDED: Mapping[str, str] = {
    "tile": "measure it as it will lie, across first, as in 248 x 398.",
    "joint": "say how wide it is, as in 2.",
    "what": "say what comes through, as in 15 copper, or socket box.",
    "across": "read both its sides from the tile beside it, as in 69 to 84.",
    "up": "read both its sides from the course below or above, as in 107 to 122.",
}
"""What must be said, and how."""


def _wrong(name: str, text: str, read: Callable[[str, Unit], object], unit: Unit) -> list[Fault]:
    """What is wrong with a phrase; that there is none is told elsewhere."""
    try:
        if text:
            read(text, unit)
    except ValueError as error:
        return [Fault(f"{name}: {error}")]
    return []


def _beside(piece: CutPiece, here: str, course: Side) -> CutPiece:
    """The piece as it is said here: B is the edge of a course that is fixed, and it is read from that course."""
    cuts = []
    for cut in piece.cuts:
        checks = [check for check in cut.wall_checks if check.source != ReadFrom("line", "B")]
        fixed = [replace(check, fixed=check.fixed or check.side is course) for check in checks]
        cuts.append(replace(cut, wall_checks=tuple(sorted(fixed, key=lambda check: not check.fixed))))
    return replace(piece, words=here, cuts=tuple(cuts))


def _job(given: Given, across: FixedEdge, up: FixedEdge) -> dict[str, object]:
    """The job, with its keys as a job file has them."""
    joint = given["joint"]
    half = parse_length(str(joint), Unit(str(given["units"]))).mm / 2
    plumb, start_across, work = {
        "from_left_tile": ("right edge of the fixed tile on the left", f"left on {joint} right of V", "left to right"),
        "from_right_tile": ("left edge of the fixed tile on the right", f"right on {joint} left of V", "right to left"),
    }[across[0]]
    level, start_up = {
        # The joint's middle on half of it: the tile stands on no line, but on the course below.
        "from_course_below": ("top of the course below", f"joint on {half:.9f} mm above B"),
        "from_course_above": ("bottom of the course above", f"hangs from {joint} below B"),
    }[up[0]]
    hole = {
        "name": "hole",
        "what": given["what"],
        "across": across[1],
        "up": up[1],
        "cover": given["cover"],
        "opening": given["opening"],
        "hole": given["hole"],
        "end": "comes off",
    }
    area = {
        "name": AREA,
        "tile": AREA,
        "joint": joint,
        "work": work,
        "start": {"across": start_across, "up": start_up},
    }
    surface = {
        "name": "wall",
        "kind": "wall",
        "lines": {"V": f"plumb, {plumb}", "B": f"level, {level}"},
        "areas": [area],
        "holes": [_known(hole)],
    }
    return {
        "job": NAME,
        "units": given["units"],
        **_known({"paper": given["paper"], "template": given["template"]}),
        "tiles": {AREA: {"measured": "yes", **_known({"size": given["tile"], "thickness": given["thickness"]})}},
        "surfaces": [surface],
    }


def _known(entries: Mapping[str, object]) -> dict[str, object]:
    """The entries that were given."""
    return {key: value for key, value in entries.items() if value is not None}
