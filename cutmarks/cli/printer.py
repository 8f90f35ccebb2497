"""cutmarks printer: the test page, what it says of a printer, and what is known already."""

from __future__ import annotations

import datetime
from pathlib import Path

import click

from cutmarks.cli.ending import Exit, writing
from cutmarks.cli.options import PAPER, length, printers_file, trace_option
from cutmarks.cli.saving import save_new
from cutmarks.cli.terminal import confirmed, tell, wrapped
from cutmarks.desk.printers import (
    LONGEST_NAME,
    STYLES,
    Measured,
    judged,
    judged_words,
    keep,
    known,
    said_of,
    sheet_of,
)
from cutmarks.errors import OutputError
from cutmarks.registering.calibration import BarReadings, Bars
from cutmarks.registering.paper import LEAST_MARGIN, MOST_MARGIN, Paper
from cutmarks.units import Unit


@click.command("printer")
@click.argument("name", required=False)
@click.option("--test-page", type=click.Path(path_type=Path), metavar="FILE", help="Write the test page to this PDF.")
@click.option("--paper", type=PAPER, help="The paper in the tray. Without it: A4, or Letter for inches.")
@click.option(
    "--tray", default="", metavar="TRAY", help="Which tray, where it has several: each pulls paper its own way."
)
@click.option("--margin", metavar="LENGTH", help="What it leaves blank round the paper. Without it: 10 mm.")
@click.option("--across", metavar="LENGTH", help="What the bar across the paper measures.")
@click.option("--along", metavar="LENGTH", help="What the bar along the paper measures.")
@click.option("--diagonals", nargs=2, metavar="A B", help="What A to A and B to B measure, for paper that runs askew.")
@click.option(
    "--units", type=click.Choice(["mm", "in"]), default="mm", show_default=True, help="Of the bars and readings."
)
@click.option("--actual-size", is_flag=True, help='The page was printed at "actual size": do not ask.')
@trace_option
def printer(
    name: str | None,
    test_page: Path | None,
    paper: str | None,
    tray: str,
    margin: str | None,
    across: str | None,
    along: str | None,
    diagonals: tuple[str, str] | None,
    units: str,
    actual_size: bool,
) -> Exit:
    """Measure a printer, so that its sheets come out at their true size.

    \b
    cutmarks printer office --test-page test.pdf     print it, measure its bars and diagonals
    cutmarks printer office --across 179.5 --along 251 --diagonals 308.5 308
    cutmarks make JOB --out DIR --printer office

    NAME is your own name for the printer. Without readings it says what is known of the printer, and how old it is.
    """  # noqa: D301 - the backspace is click's own sign for lines that are not to be run together
    measures = across, along, diagonals
    paper = paper or ("Letter" if units == "in" else "A4")
    blank = None if margin is None else _margin(margin, Unit(units))
    if test_page is not None:
        if any(measures):
            raise click.UsageError("--test-page writes the page to be measured: give the readings in another call.")
        return _write_page(test_page, sheet_of(paper, blank), units)
    if not any(measures):
        if margin is not None:
            raise click.UsageError(
                "--margin goes with --test-page, or with the readings of a page: without either it is kept nowhere."
            )
        return _say_known(name)
    if name is None or across is None or along is None:
        raise click.UsageError("Give the printer's name and both bars: NAME --across LENGTH --along LENGTH.")
    unit = Unit(units)
    readings = BarReadings(
        length(across, unit, "--across"),
        length(along, unit, "--along"),
        *(length(one, unit, "--diagonals") for one in diagonals or ()),
    )
    today = datetime.date.today().isoformat()
    measured = Measured(
        _named(name, "NAME"), _named(tray, "--tray"), paper, today, _must(paper, blank, units), readings, blank
    )
    return _judge(measured, actual_size)


def _must(paper: str, margin: float | None, units: str) -> Bars:
    """What the bars of the test page must be."""
    from cutmarks.sheets.printer_page import page_bars

    return page_bars(sheet_of(paper, margin), STYLES[units])


def _write_page(path: Path, sheet: Paper, units: str) -> Exit:
    from cutmarks.writers.documents import printer_page_pdf

    save_new(path, printer_page_pdf(sheet, STYLES[units]))
    tell(f"Written: {path}. Print it as it says, measure it, and give what you read: see cutmarks printer --help")
    return Exit.DONE


def _say_known(name: str | None) -> Exit:
    """The printers that were measured: all of them, or the one that is asked for."""
    found = [one for one in known(printers_file()) if name is None or one.printer.casefold() == name.casefold()]
    if not found:
        which = "No printer" if name is None else f'No printer called "{name}"'
        raise OutputError(f"{which} was measured yet. Print the test page: cutmarks printer NAME --test-page FILE.pdf")
    tell(said_of(found, printers_file(), datetime.date.today()))
    return Exit.DONE


def _judge(measured: Measured, actual_size: bool) -> Exit:
    verdict = judged(measured, lambda: actual_size or _asked())
    with writing(printers_file()):
        keep(measured, printers_file())
    tell(wrapped(f"{judged_words(verdict)} Kept in {printers_file()}: {measured.calibration(printers_file())}."))
    return Exit.DONE


def _asked() -> bool:
    return confirmed(
        'Both bars are out alike, by more than printers mostly are. Was "actual size" (100 %) set when it was printed?'
    )


def _named(text: str, option: str) -> str:
    """A name that can stand on a sheet."""
    name = " ".join(text.split())
    if len(name) > LONGEST_NAME or not name.isprintable() or (not name and option == "NAME"):
        raise click.BadParameter(f"give a name of 1 to {LONGEST_NAME} letters, figures and signs", param_hint=option)
    return name


def _margin(text: str, unit: Unit) -> float:
    """What a printer leaves blank, mm."""
    blank = length(text, unit, "--margin")
    if not LEAST_MARGIN <= blank <= MOST_MARGIN:
        raise click.BadParameter(f"give from {LEAST_MARGIN:g} to {MOST_MARGIN:g} mm", param_hint="--margin")
    return blank
