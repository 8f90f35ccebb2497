"""cutmarks one: a single tile from its fixed neighbours."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import TYPE_CHECKING

import click

from cutmarks.cli.ending import Exit
from cutmarks.cli.make import corrected_for, make_into
from cutmarks.cli.options import PAPER, length, printer_options, replace_option, trace_option
from cutmarks.cli.table import cut_size, finding_lines, may_be, measure, says_stop
from cutmarks.cli.terminal import figure, tell
from cutmarks.desk.one import ACROSS, HERE, UP, FixedEdge, Given, plan_of_one
from cutmarks.errors import OutputError
from cutmarks.job import parse_bare
from cutmarks.saying.figures import four_measures
from cutmarks.saying.findings import STOP, figures_held
from cutmarks.units import Unit

if TYPE_CHECKING:
    from cutmarks.openings.model import Cut, CutPiece
    from cutmarks.plan import Plan


@click.command("one")
@click.option(
    "--tile",
    "tile",
    required=True,
    metavar="SIZE",
    help="The tile, measured, as it will lie: 248x398 is 248 across, 398 up.",
)
@click.option("--joint", required=True, metavar="WIDTH", help="The joint beside it.")
@click.option(
    "--what", required=True, metavar="THING", help='What comes through: "15 copper", "1/2 iron pipe", "socket box".'
)
@click.option(
    "--from-left-tile", metavar="READING", help='From the right edge of the fixed tile on the left: "69 to 84".'
)
@click.option("--from-right-tile", metavar="READING", help="From the left edge of the fixed tile on the right.")
@click.option("--from-course-below", metavar="READING", help='From the top edge of the course below: "107 to 122".')
@click.option("--from-course-above", metavar="READING", help="From the bottom edge of the course above.")
@click.option("--cover", metavar="SIZE", help="What will hide the hole: 65, 147x86, or none.")
@click.option(
    "--core",
    "cores",
    multiple=True,
    metavar="SIZE",
    help="A core that you own; give it once for each. Without it: the usual sizes.",
)
@click.option("--opening", metavar="SIZE", help="Cut exactly this: 35, or 78x80 for a box.")
@click.option("--hole", metavar="RANGE", help='The least and most that the maker allows: "89 to 102".')
@click.option("--thickness", metavar="SIZE", help="How thick the tile is.")
@click.option(
    "--units", type=click.Choice(["mm", "in"]), default="mm", show_default=True, help="Of every length without its own."
)
@click.option("--paper", type=PAPER, help="The paper of the template. Without it: A4, or Letter for inches.")
@click.option("--back", "template", flag_value="back", help="A template for the back of the tile, mirrored.")
@click.option(
    "--out", type=click.Path(path_type=Path), metavar="DIR", help="Write the template there too, as cutmarks make does."
)
@replace_option
@printer_options
@trace_option
def one(
    out: Path | None, replace_other: bool, printer: str | None, tray: str, **given: str | tuple[str, ...] | None
) -> Exit:
    """Say where the hole goes on one tile whose neighbours are fixed.

    Each READING is what you measure from that fixed edge to both sides of the thing, joint included: "69 to 84". One
    reading across and one up are needed.

    \b
    cutmarks one --tile 248x398 --joint 2 --what "15 copper" --cover 65 \\
        --from-left-tile "69 to 84" --from-course-below "107 to 122"
    """  # noqa: D301 - the backspace is click's own sign for lines that are not to be run together
    if out is None and (printer or tray):
        raise click.UsageError("--printer is for a template on paper: give --out DIR too.")
    plan = planned(given, printer, tray)
    lines = one_lines(plan)
    if out is None:
        tell(lines)
        return Exit.STOP if says_stop(plan) else Exit.DONE
    try:
        return make_into(plan, out, before=lines, replace=replace_other)
    except OutputError:
        tell(lines)  # the figures are good, whatever is wrong with the folder
        raise


def planned(given: Given, printer: str | None = None, tray: str = "") -> Plan:
    """The plan of a job with this one tile in it, corrected for a printer where one is named.

    Raises:
        OutputError: that printer was never measured with this paper.
        click.UsageError: not exactly one reading across and one up, or one that is none.
        JobError: another figure is at fault; there is no file, so no line stands before the sentence.
    """
    across, up = _reading(given, ACROSS), _reading(given, UP)
    unit = Unit(str(given["units"]))
    # The joint stands in three places of the job: at fault, it is told of once.
    length(str(given["joint"]), unit, "--joint")
    cores = [length(text, unit, "--core") for text in given["cores"] or ()]
    return plan_of_one(given, across, up, cores, lambda paper: corrected_for(printer, tray, paper))


def one_lines(plan: Plan) -> list[str]:
    """What is printed: the two figures to mark, the two to check with, the core, and how far off it may be."""
    cuts = [(piece, cut) for piece in plan.pieces for cut in piece.cuts]
    lines = [" ".join(_sentences(piece, cut, plan)) for piece, cut in cuts]
    if not any(piece.piece.place == HERE for piece, _ in cuts):
        lines.append("None of it is on the tile between those neighbours: look at the readings again.")
    return lines + finding_lines(plan)


def _sentences(piece: CutPiece, cut: Cut, plan: Plan) -> Iterator[str]:
    style = plan.say.style
    shown = {side: figure(text) for side, text in four_measures(cut, piece, style).items()}
    if piece.piece.place != HERE:
        yield f"On {piece.name} beside it ({piece.words}):"
    if figures_held(plan, piece):
        yield f"{STOP}: nothing is marked on it until what stands below is settled."
        return
    marked = ", ".join(f"from the {side.upper()} edge {shown[side]}" for side in cut.mark_from)
    checked = ", ".join(f"{side} {text}" for side, text in shown.items() if side not in cut.mark_from)
    yield f"{marked} (check: {checked})."
    if cut.kind != "hole":
        yield f"It runs out of the tile: {cut.kind}."
    said = cut_size(cut, style)
    if cut.sides is None:
        yield f"{said[0].upper()}{said[1:]}."
    else:
        left, right, bottom, top = (measure(side, style) for side in cut.sides)
        yield f"Cut-out {said}: from {left} to {right} from the left, from {bottom} to {top} from the bottom."
    if cut.opening.you_may_be is not None:
        room = may_be(cut, style)
        works = f"it still goes over{' and is covered' if cut.opening.cover else ''}"
        yield "Nothing to spare: set it dead on." if room == "nothing" else f"You may be {room}: {works}."
    if not cut.opening.cover_known:
        yield "What covers it is not known: give --cover."


def _reading(given: Given, sides: Mapping[str, str]) -> FixedEdge:
    """The one reading of an axis: the option's name and the phrase from the line that stands for its edge."""
    found = [(name, f"{given[name]} {side}") for name, side in sides.items() if given[name]]
    if len(found) != 1:
        names = " or ".join(f"--{name.replace('_', '-')}" for name in sides)
        raise click.UsageError(f"Give one of {names}: {'there is none' if not found else 'there are both'}.")
    name, phrase = found[0]
    try:
        parse_bare(str(given[name]), Unit(str(given["units"])))
    except ValueError as error:
        raise click.BadParameter(str(error), param_hint=f"--{name.replace('_', '-')}") from None
    return name, phrase
