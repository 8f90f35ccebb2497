"""Holes from a list: a CSV file in the job's folder, its header in the same words as the job file."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator
from pathlib import Path as FilePath
from pathlib import PurePosixPath

from cutmarks.errors import Fault, JobPath
from cutmarks.job.crosscheck import text, things
from cutmarks.job.faults import TreeFaults
from cutmarks.job.holes import HoleSpec
from cutmarks.job.keys import knows, unknown_key
from cutmarks.job.model import tidy_key
from cutmarks.job.reading import read_file
from cutmarks.job.tree import Entry, Items, Places, SourcePlace, Text
from cutmarks.job.words import UNKNOWN, found

MOST_BYTES = 20_000_000
"""A list is at most 20 MB."""
SEPARATORS = ";\t,"


def add_lists(faults: TreeFaults, folder: FilePath | None) -> None:
    """Put the holes of each surface's list behind its own in the tree; tells of what is wrong with the lists."""
    for path, surface in things(faults.tree, ("surfaces",)):
        wanted = text(surface, "holes list")
        if wanted in ("", UNKNOWN):
            continue
        list_path = (*path, next(key for key in surface if tidy_key(key) == "holes list"))
        content = _content(wanted, folder)
        if isinstance(content, str):
            faults.tell(content, list_path)
            continue
        holes_key = next((key for key in surface if tidy_key(key) == "holes"), "holes")
        own = surface.get(holes_key)
        holes = own if isinstance(own, Items) else Items(path=(*path, holes_key))
        faults.add(_rows(content[0], wanted, holes, faults.places))
        surface[holes_key] = holes


def _content(wanted: str, folder: FilePath | None) -> tuple[str] | str:
    """The list's text in a tuple, or the sentence that keeps it from being read."""
    if folder is None:
        return "A list needs a job file on the disk: load the job from its file, or write its holes under holes."
    pure = PurePosixPath(wanted)
    if pure.is_absolute() or ".." in pure.parts or "\\" in wanted or ":" in wanted or "\0" in wanted:
        return _leads_out(wanted)
    path = folder / pure
    try:
        inside = path.resolve().is_relative_to(folder.resolve())
    except OSError:
        inside = False
    if not inside:
        return _leads_out(wanted)
    content = read_file(path, MOST_BYTES, "list")
    return f"{found(wanted)}: {content.sentence}" if isinstance(content, Fault) else (content,)


def _leads_out(wanted: str) -> str:
    return (
        f"{found(wanted)} leads out of the job's folder: put the list beside the job and write its name, "
        "as in pipes.csv."
    )


def _rows(content: str, file: str, holes: Items, places: Places) -> Iterator[Fault]:
    """Append a hole for each row; yields the faults of the list's form."""
    if "\0" in content:
        yield Fault("A control character (U+0000) stands in this list: take it out.", file=file)
        return
    first = content.partition("\n")[0]
    separator = max(SEPARATORS, key=first.count)
    reader = csv.reader(io.StringIO(content, newline=""), delimiter=separator, strict=True)
    try:
        header = [tidy_key(cell) for cell in next(reader, [])]
        yield from _header_faults(header, file)
        line = reader.line_num + 1
        for cells in reader:
            if any(cell.strip() for cell in cells):
                if len(cells) > len(header) and any(cell.strip() for cell in cells[len(header) :]):
                    yield Fault(
                        f"This row has {len(cells)} cells under {len(header)} headings: put a cell that has a "
                        f"{'comma' if separator == ',' else 'separator'} in quotes, and write a decimal with a point.",
                        file=file,
                        line=line,
                    )
                else:
                    path: JobPath = (*holes.path, len(holes))
                    row = {
                        key: Text(cell, (*path, key)) for key, cell in zip(header, cells, strict=False) if cell.strip()
                    }
                    places[path] = SourcePlace(file, line)
                    holes.append(Entry(row, path))
            line = reader.line_num + 1
    except csv.Error as error:
        yield Fault(
            f"This row cannot be read ({error}): close its quotes, one row a line.", file=file, line=reader.line_num
        )


def _header_faults(header: list[str], file: str) -> Iterator[Fault]:
    if not any(header):
        yield Fault(
            "This list has no header: write name, what, across, up, cover in its first line.", file=file, line=1
        )
    for heading in header:
        if heading and not knows(heading, HoleSpec):
            yield Fault(unknown_key(heading, HoleSpec), "header", file, 1)
    for heading in dict.fromkeys(heading for heading in header if heading and header.count(heading) > 1):
        yield Fault(f"{found(heading)} heads two columns: keep one.", "header", file, 1)
