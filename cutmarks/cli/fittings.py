"""cutmarks fittings: what the catalogue knows, with where each figure comes from."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import click

from cutmarks.cli.ending import Exit
from cutmarks.cli.options import fittings_for, fittings_option, trace_option
from cutmarks.cli.terminal import tell, wrapped
from cutmarks.errors import JobError
from cutmarks.fittings import Fitting, FittingChoice, catalogue
from cutmarks.job.load import load_fittings
from cutmarks.units import MM_PER, Unit

INCH = MM_PER[Unit.INCH]
COUNTRY = {"uk": "UK", "eu": "EU", "us": "US", "au": "AU", "it": "IT", "iso": "ISO", "": ""}
MARKS = {"R": "read in the source", "M": "from memory", "C": "sources differ", "own": "your own"}


@click.command("fittings")
@click.argument("word", nargs=-1)
@fittings_option
@trace_option
def fittings(word: tuple[str, ...], own: Path | None) -> Exit:
    """List pipes, boxes, plates and covers with their sizes and sources: all, or those that every WORD names.

    A row from memory, or in which sources differ, says "measure yours". Your own rows stand in fittings.toml beside the
    job or in your configuration folder, and go before the others.
    """
    listed = [fitting for fitting in all_fittings(own) if _is_asked(fitting, word)]
    if not listed:
        families = ", ".join(dict.fromkeys(fitting.family for fitting in catalogue()))
        raise click.UsageError(f"Nothing in the catalogue is called {' '.join(word)}: its families are {families}.")
    tell(list(catalogue_lines(listed)))
    return Exit.DONE


def all_fittings(own: Path | None) -> list[Fitting]:
    """The user's own rows, of the file that was named or of their configuration, then the catalogue.

    Raises:
        JobError: the faults of the user's own file.
    """
    rows, faults = load_fittings(fittings_for(None, own))
    if faults:
        raise JobError(faults)
    return [*(row.fitting for row in rows or ()), *catalogue()]


def catalogue_lines(listed: list[Fitting]) -> Iterator[str]:
    """The rows, family by family and source by source."""
    head = None
    for fitting in listed:
        said = (fitting.family, COUNTRY[fitting.system], fitting.variant, fitting.source, fitting.mark)
        if said != head:
            if head is not None:
                yield ""
            head = said
            title = " ".join(filter(None, said[:3]))
            yield from wrapped(f"{title}: {fitting.source} ({MARKS[fitting.mark]})")
        measure = "; measure yours" if fitting.measure_yours else ""
        told = fitting.note.removeprefix("measure yours").removeprefix("; ")
        yield from wrapped(f"{sizes(fitting)}{measure}{f' ({told})' if told else ''}", f"  {fitting.label:<18} ")


def sizes(fitting: Fitting) -> str:
    """Everything that is known of a fitting's sizes, mm; a US one's in inches too."""
    parts = [_size(fitting, fitting)]
    parts += [f"{choice.words} {_size(choice, fitting)}" for choice in fitting.choices]
    if fitting.tolerance is not None:
        parts.append(f"+{fitting.tolerance[1]:g} -{fitting.tolerance[0]:g}")
    if fitting.hole is not None:
        parts.append(f"set in a hole of {fitting.hole:g}")
    if fitting.centres is not None:
        parts.append(f"screws {fitting.centres:g} apart")
    if fitting.pitch is not None:
        parts.append(f"side by side at {fitting.pitch:g}")
    if fitting.depths:
        parts.append(f"deep {', '.join(f'{depth:g}' for depth in fitting.depths)}")
    return ", ".join(filter(None, parts))


def _size(sized: Fitting | FittingChoice, fitting: Fitting) -> str:
    if sized.od is not None:
        return f"{sized.od:g} mm outside{_inches(fitting, sized.od)}"
    if sized.w is None or sized.h is None:
        return ""
    return f"{sized.w:g} x {sized.h:g} mm{_inches(fitting, sized.w, sized.h)}"


def _inches(fitting: Fitting, *sizes_mm: float) -> str:
    """The same in decimal inches, for what is sold by them."""
    return f" ({' x '.join(f'{mm / INCH:g}' for mm in sizes_mm)} in)" if fitting.system == "us" else ""


def _is_asked(fitting: Fitting, words: tuple[str, ...]) -> bool:
    """Whether every word stands in what the fitting is called or where it comes from, in small letters or not."""
    told = " ".join(
        (fitting.family, fitting.label, fitting.kind, fitting.variant, fitting.source, COUNTRY[fitting.system])
    ).casefold()
    return all(word.casefold() in told.split() or (not word.isdigit() and word.casefold() in told) for word in words)
