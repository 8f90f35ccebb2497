"""A fitting on a surface without tiles, in words and figures: for the sheet, the list and the terminal."""

from __future__ import annotations

from cutmarks.checks.model import SAID
from cutmarks.plan.clearances import Clearance
from cutmarks.saying.figures import cover_words
from cutmarks.setout.finished import come_in
from cutmarks.setout.model import SetOut, SurfaceEdge
from cutmarks.sides import SIDES
from cutmarks.units import Style, say, say_down

PASS = "PASS"


def finished_figure(mm: float | None, style: Style) -> str:
    """How far it is from a finished edge; "?" where that is not known, in words where it lies past it."""
    if mm is None:
        return "?"
    return say(mm, style) if mm >= 0.0 else f"{say(-mm, style)} past it"


def edge_sentence(setout: SetOut, style: Style) -> str:
    """What each finished edge is, in one sentence: its words, and what comes off the measured one."""
    said = [f"{side}: {_edge_words(setout.edges.get(side), style)}" for side in SIDES]
    return f"Finished edges: {'; '.join(said)}."


def depth_words(one: Clearance, style: Style) -> list[str]:
    """How deep it lies as read, behind the finished face, and the maker's range; nothing where it was not read."""
    deep = one.deep
    if deep is None:
        return ["not read"]
    lines = [f"{say(abs(deep.read), style)} {'behind' if deep.read >= 0.0 else 'proud of'} the {deep.start}"]
    if deep.behind is None:
        lines.append("face: not known")
    elif deep.start != "face":
        way = "behind" if deep.behind >= 0.0 else "proud of"
        lines.append(f"{say(abs(deep.behind), style)} {way} the face")
    if deep.least is not None and deep.most is not None:
        lines.append(f"range {say(deep.least, style)} to {say(deep.most, style)}")
    return lines


def neighbour_words(one: Clearance, style: Style) -> list[str]:
    """The nearest other fitting, and the room between the two, rounded down; nothing where it is alone."""
    near = one.neighbour
    if near is None:
        return ["none"]
    between = "they overlap" if near.between == 0.0 else f"{say_down(near.between, style)} between"
    return [near.name, between, f"middles {say(near.middles, style)}"]


def service_words(one: Clearance, style: Style) -> list[str]:
    """The clear diameter that servicing it needs, and what of that is there, rounded down."""
    if one.opening.service is None or one.clear is None:
        return ["not said"]
    needs = f"needs {say(one.opening.service, style)}"
    if one.clear >= one.opening.service:
        return [needs, "has it"]
    return [needs, f"has {say_down(one.clear, style)}"]


def room_figures(one: Clearance, style: Style) -> tuple[str, ...]:
    """In figures alone: cover, behind the face, the maker's range, the nearest, room to it, what service needs, has.

    "" where it was not read or not said, "?" where it is not known.
    """
    deep, near, needs = one.deep, one.neighbour, one.opening.service
    face, span = "", ""
    if deep is not None:
        face = "?" if deep.behind is None else say(abs(deep.behind), style)
        face += " proud" if deep.behind is not None and deep.behind < 0.0 else ""
        if deep.least is not None and deep.most is not None:
            span = f"{say(deep.least, style)} to {say(deep.most, style)}"
    beside = ("", "") if near is None else (near.name, say_down(near.between, style))
    service = ("", "") if needs is None or one.clear is None else (say(needs, style), say_down(one.clear, style))
    return cover_words(one.opening, style), face, span, *beside, *service


def verdict(one: Clearance) -> str:
    """PASS, or the worst of what is wrong with it: "STOP"; "accepted" where the tiler lives with all of it."""
    if not one.passes:
        return next(SAID[level] for level in SAID if any(_open(one, level)))
    return PASS if not any(finding.accepted for finding in one.wrong) else "accepted"


def wrong_words(one: Clearance) -> str:
    """The rules that speak of it, what spoils most first: "STOP too deep; CHECK cover laps little"."""
    return "; ".join(f"{SAID[finding.level]} {finding.rule}" for finding in one.wrong)


def _open(one: Clearance, level: str) -> list[bool]:
    return [True for finding in one.wrong if finding.level == level and finding.accepted is None]


def _edge_words(edge: SurfaceEdge | None, style: Style) -> str:
    if edge is None:
        return "not read"
    what = edge.what or "as measured"
    if edge.still_to_come is None:
        return f"{what}, what is still to come is not said"
    comes = sorted(come_in(edge))
    if not any(comes):
        return f"{what}, nothing still to come"
    figures = " to ".join(dict.fromkeys(say(abs(come), style) for come in (comes[0], comes[-1])))
    return f"{what}, less {figures} still to come" if comes[-1] > 0.0 else f"{what}, and {figures} round the corner"
