"""The clearance sheet: every fitting of the surfaces on which no tile is chosen yet, for whoever sets it.

First what is wrong, then each surface drawn, its fittings with all that is known of them, and the record to fill in.
"""

from __future__ import annotations

from collections.abc import Iterator

from cutmarks.checks.model import SAID, Finding
from cutmarks.geometry.frames import Point
from cutmarks.marks.model import Role, Words, line
from cutmarks.plan import Plan, SurfacePlan
from cutmarks.plan.clearances import Clearance, by_surface
from cutmarks.saying.clearances import (
    depth_words,
    edge_sentence,
    finished_figure,
    neighbour_words,
    service_words,
    verdict,
)
from cutmarks.saying.dialect import wording
from cutmarks.saying.figures import cover_words
from cutmarks.saying.from_lines import place_words
from cutmarks.sheets.flow import (
    SMALL,
    Block,
    Cell,
    Column,
    TextBlock,
    filling,
    heading,
    paragraph,
    space,
    table,
)
from cutmarks.sheets.job_pages import job_pages
from cutmarks.sheets.jobsheet_front import LABEL_WIDTH, finding_sentence, surface_blocks
from cutmarks.sheets.model import Series
from cutmarks.sides import SIDES
from cutmarks.units import Style, Unit

TITLE = "CLEARANCE SHEET"
FIGURE = 2.83
BLANK = "________"


def clearance_pages(plan: Plan) -> Series:
    """The pages of the clearance sheet, portrait, in the Sheet frame, mm."""
    return job_pages(plan, TITLE, "sheets/clearance_{}.svg", lambda width: _blocks(plan, width))


def _blocks(plan: Plan, width: float) -> Iterator[Block]:
    named = by_surface(plan.clearances)
    yield from _title(plan, width)
    yield from _wrong(plan, width)
    for surface in plan.to_clear:
        own = named.get(surface.setout.name, [])
        yield from surface_blocks(plan, surface, width)
        if own:
            yield from _fittings(plan, surface, own, width)
            yield from _as_built(plan, surface, own, width)


def _title(plan: Plan, width: float) -> Iterator[Block]:
    """The job's name, and how many fittings pass."""
    for one in paragraph(plan.job, width - 52.0, bold=True, height=5.0):
        yield Block(one.height, one.marks, keep=True)
    yield Block(0.0, (Words(TITLE, Point(width, 6.4), 3.2, "end", bold=True),), keep=True)
    yield space(1.0)
    units = "millimetres" if plan.say.style.unit is Unit.MM else "inches"
    count, good = len(plan.clearances), sum(one.passes for one in plan.clearances)
    fittings = f"{count} fitting" if count == 1 else f"{count} fittings"
    yield from paragraph(
        f"{fittings}, {good} pass. No tile is chosen here yet: nothing is cut from this sheet. Measures in {units}, to "
        "the middle.",
        width,
    )
    yield Block(2.0, (line(0.0, -0.5, width, -0.5, Role.CUT),))


def _wrong(plan: Plan, width: float) -> Iterator[Block]:
    """What was found about these fittings and their surfaces, and what was assumed."""
    yield heading("BEFORE IT IS COVERED UP", width)
    findings = list(_about(plan))
    if not findings:
        yield from paragraph("Nothing was found that is wrong with them.", width)
    for finding in findings:
        yield from paragraph(finding_sentence(finding), width, label=SAID[finding.level], indent=LABEL_WIDTH)
        yield space(0.9)
    for sentence in plan.assumed:
        yield from paragraph(sentence, width, label="-", indent=3.0)
    yield space(4.0)


def _about(plan: Plan) -> Iterator[Finding]:
    """The findings about a fitting of a surface without tiles, or about such a surface."""
    names = {one.opening.name for one in plan.clearances}
    names |= {surface.setout.name for surface in plan.to_clear}
    return (finding for finding in plan.findings if not finding.about or names.intersection(finding.about))


def _fittings(plan: Plan, surface: SurfacePlan, own: list[Clearance], width: float) -> Iterator[Block]:
    """One row a fitting: its place from the lines and the finished edges, depth, cover, neighbour, service."""
    setout, style = surface.setout, plan.say.style
    band = heading(f"FITTINGS - {setout.name.upper()}", width, "measured from the FINISHED edges, in bold")
    hides = wording(plan.say.words).cover
    columns = filling(
        (
            Column(("fitting",), 32.0),
            Column(("from the lines",), 28.0),
            *(Column(("from", side.upper()), 18.5, "end") for side in SIDES),
            Column(("",), 2.0),
            Column(("depth,", hides), 32.0),
            Column(("nearest,", "service"), 30.0),
        ),
        width,
    )
    yield band
    for one in paragraph(edge_sentence(setout, style), width, height=SMALL):
        yield Block(one.height, one.marks, keep=True)
    yield from table(columns, (_row(surface, one, style, hides) for one in own), (band,))
    yield space(4.0)


def _row(surface: SurfacePlan, one: Clearance, style: Style, hides: str) -> list[Cell]:
    opening, service = one.opening, service_words(one, style)
    return [
        [
            TextBlock(opening.name, bold=True, height=FIGURE),
            *(TextBlock(words) for words in (opening.what, opening.note) if words),
            TextBlock(verdict(one), bold=True),
        ],
        [TextBlock(words) for words in place_words(opening.at, surface.setout, style)],
        *([TextBlock(finished_figure(one.finished[side], style), True, FIGURE, fits=True)] for side in SIDES),
        [],
        [TextBlock(words) for words in (*depth_words(one, style), f"{hides} {cover_words(opening, style)}")],
        [TextBlock(words) for words in (*neighbour_words(one, style), f"service: {', '.join(service)}")],
    ]


def _as_built(plan: Plan, surface: SurfacePlan, own: list[Clearance], width: float) -> Iterator[Block]:
    """The record, a row a fitting, to be filled in when it is set: where it is, how deep, by whom and when."""
    style = plan.say.style
    band = heading(
        f"AS BUILT - {surface.setout.name.upper()}", width, "fill in when it is set, before it is covered up"
    )
    columns = filling(
        (
            Column(("fitting",), 34.0),
            Column(("as measured", "for this sheet"), 44.0),
            Column(("found", "across"), 24.0, "middle"),
            Column(("found", "up" if surface.setout.kind == "wall" else "in"), 24.0, "middle"),
            Column(("found", "depth"), 24.0, "middle"),
            Column(("day",), 22.0, "middle"),
            Column(("by",), 22.0, "middle"),
        ),
        width,
    )
    yield band
    blank: Cell = [TextBlock(BLANK)]
    rows = (
        [
            [TextBlock(one.opening.name, bold=True, height=FIGURE)],
            [TextBlock(words) for words in _planned(surface, one, style)],
            *([blank] * 5),
        ]
        for one in own
    )
    yield from table(columns, rows, (band,))
    yield space(4.0)


def _planned(surface: SurfacePlan, one: Clearance, style: Style) -> list[str]:
    """Where it is by this sheet, and how deep where that was read."""
    at = ", ".join(place_words(one.opening.at, surface.setout, style))
    return [at] if one.deep is None else [at, depth_words(one, style)[0]]
