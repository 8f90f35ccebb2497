"""cutmarks setout: where to start, and what each start leaves."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, cast

import click

import cutmarks
from cutmarks.cli.ending import Exit, writing
from cutmarks.cli.loading import loading_once
from cutmarks.cli.options import job_argument, own_files, tools_option, trace_option
from cutmarks.cli.saving import save_new
from cutmarks.cli.terminal import tell, wrapped
from cutmarks.errors import OutputError

if TYPE_CHECKING:
    from cutmarks.choosing.offers import Choices
    from cutmarks.job import Job


@click.command("setout")
@job_argument
@click.option("--surface", metavar="NAME", help="Look at this wall or floor alone.")
@click.option("--take", type=click.IntRange(1), metavar="N", help="Write start N of the table into the job file.")
@click.option(
    "--page", type=click.Path(path_type=Path), metavar="FILE", help="Also draw them side by side: .pdf, .svg, .png."
)
@tools_option
@trace_option
def setout(job: Path, surface: str | None, take: int | None, page: Path | None, tools: Path | None) -> Exit:
    """Say where to start: the best few ways, with what each leaves at edges, windows and holes.

    JOB is a job file, with a start, without one, or with a part of one. Nothing is decided, and nothing written, unless
    --take says which: that start then stands in the job file as you would write it, and your own remarks stay.
    """
    # Late, all of it: --help of a command loads nothing of the job.
    with loading_once():
        from cutmarks.cli.choices import choice_lines
        from cutmarks.plan.choices import choices_of
        from cutmarks.plan.surfaces import say_of

    read = cutmarks.load_job(job, **own_files(job, tools))
    names = [one.name for one in read.surfaces]
    if surface is not None and surface.casefold() not in map(str.casefold, names):
        raise click.UsageError(f"There is no surface {surface} in {job.name}: it has {', '.join(names)}.")
    found = [one for one in choices_of(read) if surface is None or one.surface.casefold() == surface.casefold()]
    if take is not None:
        return _taken(job, read, found, take, page)
    drawn = [] if page is None else _drawn(page, read, found)
    tell([*choice_lines(found, read.limits.figures(), say_of(read).style, job.name), *drawn])
    return Exit.DONE


def _drawn(page: Path, read: Job, found: Sequence[Choices]) -> list[str]:
    """Draw the starts of one surface side by side into a file, and say so."""
    from cutmarks.desk.starts import pictured
    from cutmarks.plan.model import paper_of
    from cutmarks.plan.surfaces import say_of
    from cutmarks.writers.documents import PageKind, starts_file
    from cutmarks.writers.pictures import see_to_pictures

    one, kind = _one_of(found, "--page FILE"), page.suffix.casefold()
    if kind not in (".pdf", ".svg", ".png"):
        raise click.UsageError(f"--page {page.name}: give it a name that ends in .pdf, .svg or .png.")
    if kind == ".png":
        see_to_pictures()
    content = starts_file(one.surface, pictured(read, one), paper_of(say_of(read)), cast("PageKind", kind[1:]))
    save_new(page, content)
    return ["", *wrapped(f"Drawn: {page}.")]


def _one_of(found: Sequence[Choices], option: str) -> Choices:
    """The one surface that has starts. Raises UsageError: there are several, or none."""
    able = [one for one in found if one.offers]
    if len(able) != 1:
        names = ", ".join(one.surface for one in able) or "none"
        raise click.UsageError(f"{option} is of one surface: say which with --surface NAME (with starts: {names}).")
    return able[0]


def _taken(path: Path, read: Job, found: Sequence[Choices], take: int, page: Path | None) -> Exit:
    """Write the start that was taken into the job file, and say what stands there now.

    The page comes first: where it cannot be drawn nothing is taken.
    """
    from cutmarks.desk.starts import taken_together, with_start
    from cutmarks.job.reading import MOST_BYTES
    from cutmarks.saying.starts import start_said
    from cutmarks.writers.found_file import one_at_a_time, put, standing

    chosen = taken_together(found, read) or [_one_of(found, "--take N")]
    for one in chosen:
        if take > len(one.offers):
            raise click.UsageError(f"--take {take}: the table of {one.surface} ends at {len(one.offers)}.")
    drawn = [] if page is None else _drawn(page, read, found)
    with one_at_a_time(path), writing(path):
        before = standing(path, MOST_BYTES)
        if before is None:
            raise OutputError(f"{path.name} is no plain file: nothing was written.")
        text = before.decode("utf-8")
        for one in chosen:
            text = with_start(text, path, read, one.surface, one.offers[take - 1])
        unsure = put(path, before, text.encode("utf-8"))
    lines = [
        f"{path.name}, {one.surface}: "
        + "; ".join(f"{start.area}: {start_said(start)}" for start in one.offers[take - 1].starts)
        for one in chosen
    ]
    lines += [unsure] if unsure else []
    tell([*(line for text in lines for line in wrapped(text, "", "  ")), *drawn])
    return Exit.DONE
