"""What a printer does to a full-size page, told from two bars and two diagonals, and what is to be done about it.

A printer stretches a page across and along the feed, and a sheet that runs askew shears it: what is drawn at (x, y)
comes out at (across x + skew y, along y), seen from any point of the page. The judgement keeps apart what is the
printer's and the paper's, which a matrix corrects, from what a program did to the page on its way, which must be
switched off: it would come and go with the next program. The limits are the project's own judgement; the fingerprints
follow from the sizes of papers (ISO 216, ASME Y14.1) and the margins that desktop printers leave.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from msgspec import Struct

from cutmarks.registering.paper import PAPERS, Paper
from cutmarks.units import MM_PER, Unit

NAMED_WITHIN = 0.004
"""A scale this near to that of a known cause has that cause."""
ALIKE = 0.003
"""Across and along are scaled alike where they differ by no more."""
PRINTERS_OWN = 0.015
"""Neither paper nor printer is out by more; what is, was scaled by a program."""
TO_BE_ASKED = 0.006
"""Alike both ways and out by more: it may be the printer, or a program that was set to 99 %."""
FINE = 0.001
"""0.18 in 180: less than a steel rule shows."""
MOST_SKEW = math.tan(math.radians(0.5))
"""A sheet pulled in further askew comes out otherwise every time."""
UNIT_WITHIN = 0.05
"""Bars this near to what they must be, were they in another unit, were read in that unit."""
OTHER_UNITS = (("mm", "cm"), ("mm", "in"), ("in", "mm"), ("in", "cm"))
"""The unit that a bare figure was taken for, and the one that it may be in."""
DISAGREE = 0.005
"""Share by which the diagonals may differ from what the bars say before one of them was misread."""
MARGINS = (0.0, 4.23, 5.0)
"""What desktop printers leave blank, mm: nothing, 12 pt, or 5."""
TRAYS = ("A4", "Letter", "A3", "Tabloid")
SCREEN, PRINT = 72.0, 96.0
"""Dots to the inch that programs take for granted where a file does not say."""
JUDGED = "own judgement, no published source"
"""Where the figures that judge a printer come from; a job cannot set them, since they are no job's."""


class Scale(Struct, frozen=True):
    """What a printer does: drawn (x, y) comes out at (across x + skew y, along y)."""

    across: float
    along: float
    skew: float = 0.0

    def correction(self, width: float, height: float) -> tuple[float, float, float, float, float, float]:
        """The matrix (a, b, c, d, e, f) that makes up for it on a page of this size, mm, about the page's middle.

        (x, y) is to be drawn at (a x + c y + e, b x + d y + f).
        """
        a, d = 1 / self.across, 1 / self.along
        c = -self.skew * a * d
        return a, 0.0, c, d, (width - a * width - c * height) / 2, (height - d * height) / 2


class BarReadings(Struct, frozen=True):
    """What was measured on the test page, mm: the two bars, and the diagonals where they were measured.

    rising   from the bottom left corner to the top right one; falling: from the top left one to the bottom right.
    """

    across: float
    along: float
    rising: float | None = None
    falling: float | None = None


class Bars(Struct, frozen=True):
    """What the two bars must measure, mm; they are two sides of the rectangle whose diagonals are measured."""

    across: float
    along: float

    @property
    def diagonal(self) -> float:
        """What each diagonal must measure, mm."""
        return math.hypot(self.across, self.along)


class Cause(Struct, frozen=True):
    """Something that a program does to a page: its scale, what it is called, what to switch off."""

    scale: float
    name: str
    remedy: str


class Fine(Struct, frozen=True):
    """The printer is true; what little the readings say is corrected all the same."""

    scale: Scale


class Corrected(Struct, frozen=True):
    """The printer and the paper are out by so much, and sheets are corrected for it.

    ask  both ways alike and over 0.6 %: first ask whether "actual size" was set.
    """

    scale: Scale
    ask: bool = False


class SwitchOff(Struct, frozen=True):
    """A program scaled the page: nothing is corrected. `sentence` says what to do.

    causes  what is known to give these readings, the nearest first; () where nothing is.
    """

    sentence: str
    causes: tuple[Cause, ...] = ()


class Stop(Struct, frozen=True):
    """No sense can be made of it: nothing is corrected; the sentence says what to look at."""

    sentence: str


Verdict = Fine | Corrected | SwitchOff | Stop


def fixed_figures() -> tuple[tuple[str, str, str], ...]:
    """The figures that a printer is judged by, as they are said: what it is called, the figure, what it decides."""
    return (
        ("true enough", f"{FINE * 100:g} %", "a printer that is out by no more is fine"),
        ("printer's own", f"{PRINTERS_OWN * 100:g} %", "what is out by more was scaled by a program"),
        ("to be asked", f"{TO_BE_ASKED * 100:g} %", "out by more, alike both ways: was actual size set?"),
        ("both ways alike", f"{ALIKE * 100:g} %", "across and along are scaled alike where they differ by no more"),
        ("unit forgotten", f"{UNIT_WITHIN * 100:g} %", "bars that are right so far in another unit were read in it"),
        ("named within", f"{NAMED_WITHIN * 100:g} %", "a scale this near to that of a known cause has that cause"),
        ("diagonals", f"{DISAGREE * 100:g} %", "diagonals that fit the bars less well were misread"),
        (
            "askew",
            f"{math.degrees(math.atan(MOST_SKEW)):g} degrees",
            "a sheet that runs in further askew has to be printed again",
        ),
    )


def judge(readings: BarReadings, bars: Bars, paper: Paper) -> Verdict:
    """What the readings of a test page on `paper`, whose bars must measure `bars`, say of the printer.

    Raises ValueError for a reading that is not more than 0 and finite.
    """
    given = [one for one in (readings.across, readings.along, readings.rising, readings.falling) if one is not None]
    if not all(math.isfinite(one) and one > 0.0 for one in given):
        raise ValueError("a reading of the test page is a length over 0")
    across, along = readings.across / bars.across, readings.along / bars.along
    for taken, unit in OTHER_UNITS:
        times = float(MM_PER[Unit(unit)] / MM_PER[Unit(taken)])
        if max(abs(across * times - 1), abs(along * times - 1)) <= UNIT_WITHIN:
            return Stop(_unit_missing(readings, Unit(taken), Unit(unit)))
    near = _near(across, along, paper)
    if near:
        names = " or ".join(dict.fromkeys(cause.name for cause in near))
        found = f"Across {_percent(across)} and along {_percent(along)} of what the bars must be: {names}."
        remedies = " ".join(dict.fromkeys(cause.remedy for cause in near))
        return SwitchOff(f"{found} {remedies} Then print the test page again. Nothing is corrected.", near)
    far = min(abs(across - 1), abs(along - 1)) > PRINTERS_OWN
    if far and abs(across - along) <= ALIKE:
        return SwitchOff(
            f"Across {_percent(across)} and along {_percent(along)} of what the bars must be, both ways alike: a "
            f"program scaled the page, not the printer. {_FULL_SIZE} Then print the test page again. "
            "Nothing is corrected."
        )
    if max(abs(across - 1), abs(along - 1)) > PRINTERS_OWN:
        return Stop(
            f"Across {_percent(across)} and along {_percent(along)} of what the bars must be: neither a printer nor "
            "a program does that. Was a bar misread, or one taken for the other? Measure again, on a new print."
        )
    skew = _skew(readings, bars)
    if skew is None:
        return Stop("The diagonals do not fit the bars: one of the four was misread. Measure all four again.")
    if abs(skew) > MOST_SKEW:
        return Stop(
            f"The diagonals differ by {abs(_difference(readings)):.1f}: the sheet ran in askew. Square up the paper in "
            "the tray, set its guides, and print the test page again."
        )
    # The bar along is the longer side of a leaning rectangle.
    scale = Scale(across, math.sqrt(along * along - skew * skew), skew)
    if max(abs(scale.across - 1), abs(scale.along - 1), abs(skew)) <= FINE:
        return Fine(scale)
    ask = abs(across - along) <= ALIKE and min(abs(across - 1), abs(along - 1)) > TO_BE_ASKED
    return Corrected(scale, ask)


def _unit_missing(readings: BarReadings, taken: Unit, unit: Unit) -> str:
    """What to write instead of bars that were read in `unit`, given without it, and taken for `taken`."""
    typed = [one / float(MM_PER[taken]) for one in (readings.across, readings.along)]
    times = float(MM_PER[unit] / MM_PER[taken])
    across, along = (f"{one:.4g} {unit}, or {one * times:.4g}" for one in typed)
    return (
        f"{typed[0]:.4g} and {typed[1]:.4g} cannot be {taken}: the bars are about so long in {unit}. The unit is "
        f"missing: write {across}, for the bar across, and {along}, for the bar along."
    )


_FULL_SIZE = (
    'Switch off "fit to page", "shrink to fit" and "borderless", and set 100 % or "actual size", in the program and in '
    "the printer's own settings."
)


def causes(paper: Paper) -> Iterator[Cause]:
    """What programs do to a page of this size, and by how much: fitted to a sheet, or taken for another resolution."""
    for name in TRAYS:
        tray = PAPERS[name]
        for margin in MARGINS:
            scale = min((tray.width - 2 * margin) / paper.width, (tray.height - 2 * margin) / paper.height)
            if abs(scale - 1) <= PRINTERS_OWN:
                continue
            into = f"the whole of {name}" if margin == 0.0 else f"the part of {name} that the printer can ink"
            change = "" if name == paper.name else f" Put {paper.name} in the tray, or make the sheets for {name}."
            yield Cause(scale, f"this page was fitted to {into}", _FULL_SIZE + change)
    for scale, taken, shown in ((SCREEN / PRINT, PRINT, SCREEN), (PRINT / SCREEN, SCREEN, PRINT)):
        name = f"a program took {shown:.0f} dots to the inch for {taken:.0f}"
        yield Cause(scale, name, "Print from a PDF viewer, not from a browser or a picture program, at 100 %.")


def _near(across: float, along: float, paper: Paper) -> tuple[Cause, ...]:
    """The known causes that both scales are near to, the nearest first."""
    near = [one for one in causes(paper) if max(abs(across - one.scale), abs(along - one.scale)) <= NAMED_WITHIN]
    return tuple(sorted(near, key=lambda one: abs(across - one.scale) + abs(along - one.scale)))


def _difference(readings: BarReadings) -> float:
    return (readings.rising or 0.0) - (readings.falling or 0.0)


def _skew(readings: BarReadings, bars: Bars) -> float | None:
    """How far a level line's end is moved for each mm along; 0 without diagonals; None where they contradict the bars.

    With the sides w and h as printed, h leaning by k bars.along, the squares of the diagonals differ by
    4 w k bars.along, and add up to 2 (w^2 + h^2).
    """
    if readings.rising is None or readings.falling is None:
        return 0.0
    squares = readings.rising**2 + readings.falling**2
    expected = 2 * (readings.across**2 + readings.along**2)
    if abs(math.sqrt(squares / expected) - 1) > DISAGREE:
        return None
    return (readings.rising**2 - readings.falling**2) / (4 * readings.across * bars.along)


def _percent(scale: float) -> str:
    return f"{scale * 100:.1f} %"


class Calibration(Struct, frozen=True):
    """A printer's own scale with one paper out of one tray, and the day on which it was measured (2026-11-25).

    margin  what it leaves blank round that paper, mm; None where that was not said.
    """

    printer: str
    tray: str
    paper: str
    date: str
    scale: Scale
    margin: float | None = None

    def __str__(self) -> str:
        scale = self.scale
        tray = self.tray if "tray" in self.tray.casefold() else f"tray {self.tray}"
        where = f"{self.printer}, {tray}" if self.tray else self.printer
        if scale == Scale(1.0, 1.0):
            return f"printed true on {where}, {self.paper}, measured {self.date}"
        askew = f", skew {_signed(math.degrees(math.atan(scale.skew)))}\u00b0" if scale.skew else ""
        parts = f"across {_signed(100 * (scale.across - 1))} %, along {_signed(100 * (scale.along - 1))} %{askew}"
        return f"corrected for {where}, {self.paper}, measured {self.date}: {parts}"

    def as_read(self) -> dict[str, object]:
        """What a fingerprint covers of it."""
        scale = [self.scale.across, self.scale.along, self.scale.skew]
        own = {} if self.margin is None else {"margin": self.margin}
        read = {"printer": self.printer, "tray": self.tray, "paper": self.paper, "date": self.date, "scale": scale}
        return {**read, **own}


def _signed(value: float) -> str:
    """With its sign and two decimals; nothing is minus nothing."""
    text = f"{value:+.2f}"
    return "0" if text in ("+0.00", "-0.00") else text.replace("-", "\u2212")
