"""The printers that were measured, in a file that the caller names: it lies in the user's configuration folder.

What is kept is what was read on the test page, not what followed from it: the judgement is made anew each time, so
that a file that was changed by hand can never correct what a program should not have scaled.
"""

from __future__ import annotations

import datetime
import json
import os
from collections.abc import Callable, Iterable, Mapping
from fractions import Fraction
from pathlib import Path

from msgspec import Struct, to_builtins

from cutmarks.errors import Fault, JobError, OutputError
from cutmarks.registering.calibration import BarReadings, Bars, Calibration, Corrected, Fine, judge
from cutmarks.registering.layouts import cut_to_length
from cutmarks.registering.paper import LEAST_MARGIN, MOST_MARGIN, Paper, paper_named
from cutmarks.units import Style, Unit

STYLES = {"mm": Style(), "in": Style(Unit.INCH, Fraction(1, 32))}
"""How the bars of the test page are said."""
LONGEST_NAME = 40
"""Characters of a printer's and a tray's name: they stand on every sheet."""
OLD_AFTER = 180
"""Days after which the bars are better measured again: paper and rollers change (common practice, no source)."""


class Measured(Struct, frozen=True):
    """One printer with one paper out of one tray: what the bars must be and what was read, mm, and when.

    margin  what it leaves blank round the paper, mm; None: not said.
    """

    printer: str
    tray: str
    paper: str
    date: str
    must: Bars
    read: BarReadings
    margin: float | None = None

    @property
    def key(self) -> tuple[str, str, str]:
        """What it is stored by; capitals do not count."""
        return self.printer.casefold(), self.tray.casefold(), self.paper

    def calibration(self, path: Path) -> Calibration:
        """What sheets are corrected by. Raises JobError where the readings, kept at `path`, cannot be corrected."""
        verdict = judge(self.read, self.must, sheet_of(self.paper, self.margin))
        if not isinstance(verdict, Fine | Corrected):
            raise JobError([Fault(f"{verdict.sentence}", f"{self.printer}, {self.paper}", str(path))])
        return Calibration(self.printer, self.tray, self.paper, self.date, verdict.scale, self.margin)


def sheet_of(paper: str, margin: float | None = None) -> Paper:
    """The sheet that a paper's test page is on: of a roll, the shortest. Raises KeyError for no paper."""
    return paper_named(cut_to_length(paper, 0.0), margin)


def known(path: Path) -> list[Measured]:
    """All printers that were measured, in the order of their names.

    Raises:
        JobError: the file cannot be read, or is not as this command wrote it.
    """
    try:
        text = path.read_text(encoding="utf-8")
    except FileNotFoundError:
        return []
    except (OSError, UnicodeDecodeError) as error:
        raise JobError(
            [Fault(f"this file cannot be read ({error}): mend it, or move it away.", file=str(path))]
        ) from error
    try:
        return sorted((_measured(entry) for entry in json.loads(text)["printers"]), key=lambda one: one.key)
    except (ValueError, KeyError, TypeError) as error:
        raise JobError(
            [
                Fault(
                    "this file is not as cutmarks wrote it: move it away and measure the printers again.",
                    file=str(path),
                )
            ]
        ) from error


def judged(measured: Measured, is_sure: Callable[[], bool]) -> Fine | Corrected:
    """What the readings of a printer's test page say of it.

    is_sure  is asked where both bars are out alike, and says that "actual size" was set.

    Raises:
        OutputError: the page has to be printed, or measured, again.
    """
    verdict = judge(measured.read, measured.must, sheet_of(measured.paper, measured.margin))
    if not isinstance(verdict, Fine | Corrected):
        raise OutputError(verdict.sentence)
    if isinstance(verdict, Corrected) and verdict.ask and not is_sure():
        raise OutputError('Print the test page again at 100 %, "actual size". Nothing was written.')
    return verdict


def judged_words(verdict: Fine | Corrected) -> str:
    """The same in a sentence."""
    return "Fine: it prints at its true size." if isinstance(verdict, Fine) else "It will be corrected."


def keep(measured: Measured, path: Path) -> None:
    """Store a printer in place of an earlier reading of the same printer, tray and paper.

    Raises:
        OutputError: the folder cannot be written to; what was there is there as before.
    """
    others = [one for one in known(path) if one.key != measured.key]
    entries = [to_builtins(one) for one in sorted((*others, measured), key=lambda one: one.key)]
    text = json.dumps({"schema": 1, "printers": entries}, indent=1, ensure_ascii=False) + "\n"
    beside = path.with_suffix(".new")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        beside.write_text(text, encoding="utf-8")
        os.replace(beside, path)
    except OSError as error:
        raise OutputError(f"{path}: {(error.strerror or str(error)).lower()}. Nothing was written.") from error


def calibration_for(printer: str, tray: str, paper: str, path: Path) -> Calibration:
    """The calibration of this printer, tray and paper.

    Raises:
        OutputError: it was never measured; the sentence says what was, and how to measure it.
    """
    measured = known(path)
    for one in measured:
        if one.key == (printer.casefold(), tray.casefold(), paper):
            return one.calibration(path)
    have = "; ".join(_name(one) for one in measured) or "none"
    raise OutputError(
        f'There is no calibration of "{printer}"{f", tray {tray}" if tray else ""}, for {paper} (there are: {have}). '
        f'Print the test page: cutmarks printer "{printer}" --paper {paper} --test-page FILE.pdf. Nothing was written.'
    )


def aged(date: str, today: datetime.date) -> str:
    """How long ago the bars were measured, and whether to do it again: for the terminal, never for paper."""
    days = (today - datetime.date.fromisoformat(date)).days
    said = "today" if days == 0 else "yesterday" if days == 1 else f"{days} days ago"
    return f"measured {said}" + ("; measure the bars again" if days > OLD_AFTER else "")


def said_of(measured: Iterable[Measured], path: Path, today: datetime.date) -> list[str]:
    """One line for each: what it is corrected by, and its age."""
    return [f"{one.calibration(path)} ({aged(one.date, today)})" for one in measured]


def _name(one: Measured) -> str:
    return ", ".join(part for part in (one.printer, one.tray, one.paper) if part)


def _measured(entry: Mapping[str, object]) -> Measured:
    """One entry of the file. Raises ValueError, KeyError or TypeError where it is another than `keep` writes."""
    words = [entry[name] for name in ("printer", "tray", "paper", "date")]
    printer, tray, paper, date = (_word(word) for word in words)
    datetime.date.fromisoformat(date)
    sheet_of(paper)
    must, read = Bars(**_lengths(entry["must"], Bars)), BarReadings(**_lengths(entry["read"], BarReadings))
    margin = entry.get("margin")
    if margin is not None and (not isinstance(margin, int | float) or not LEAST_MARGIN <= margin <= MOST_MARGIN):
        raise ValueError(margin)
    return Measured(printer, tray, paper, date, must, read, margin)


def _word(value: object) -> str:
    if not isinstance(value, str):
        raise TypeError(value)
    return value


def _lengths(values: object, kind: type[Bars] | type[BarReadings]) -> dict[str, float]:
    """The lengths of one kind of value by name. Raises TypeError or ValueError for anything else."""
    if not isinstance(values, dict) or set(values) != set(kind.__struct_fields__):
        raise TypeError(values)
    found = {name: value for name, value in values.items() if value is not None}
    if not all(isinstance(value, int | float) and value > 0 for value in found.values()):
        raise ValueError(values)
    return found
