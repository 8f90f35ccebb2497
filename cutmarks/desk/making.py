"""What is made of a job: its pack, the shop's, pages on their own; and the files of a pack handed out.

Of a folder those files alone are handed out that its record names.
"""

from __future__ import annotations

import base64
import datetime
import io
import tempfile
import zipfile
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from msgspec.structs import replace

import cutmarks
from cutmarks.desk.calls import Arguments
from cutmarks.desk.one import one_from
from cutmarks.desk.places import new_shop_folder, own_files_in, pack_of
from cutmarks.desk.printers import (
    LONGEST_NAME,
    STYLES,
    Measured,
    calibration_for,
    judged,
    judged_words,
    keep,
    sheet_of,
)
from cutmarks.desk.starts import pictured
from cutmarks.desk.written import changed_words, kept_words
from cutmarks.errors import CutmarksError, Fault, JobError, OutputError
from cutmarks.job import Job
from cutmarks.job.load import read_job
from cutmarks.job.tools import parse_paper
from cutmarks.job.words import Setting
from cutmarks.plan.choices import choices_of
from cutmarks.plan.model import Progress, paper_of
from cutmarks.plan.surfaces import say_of
from cutmarks.registering.calibration import BarReadings, Calibration
from cutmarks.registering.paper import LEAST_MARGIN, MOST_MARGIN
from cutmarks.saying.findings import STOP
from cutmarks.saying.workshop import count_words, left_to_ask
from cutmarks.sheets.printer_page import page_bars
from cutmarks.units import Style, parse_length
from cutmarks.writers.disk import Folder, digest_of, inside, open_parent
from cutmarks.writers.documents import printer_page_pdf, starts_file
from cutmarks.writers.folder_record import Record, read_record
from cutmarks.writers.plan_json import PLAN_FILE
from cutmarks.writers.workshop import shop_pack, write_shop_pack

MOST_FILE = 200_000_000
FIXED_DATE = (1980, 1, 1, 0, 0, 0)
"""The least that a ZIP can say: the same pack gives the same bytes."""
BACK_PACK = "The pack, all of it for the BACK of the tiles, mirrored, to print at 100 %"
LISTED = ("pack.pdf", "job-sheet.pdf", "set-out.pdf", "clearance.pdf", "wall.html", "holes.csv", "pieces.csv")
"""What is offered one by one, in this order; all is in the ZIP."""


def made(name: str, arguments: Arguments, progress: Progress) -> dict[str, Any]:
    """The answer of one of the functions here, or why there is none, under `fault`.

    Raises:
        KeyError: there is no such function.
    """
    asked = MADE[name]
    try:
        return asked(arguments, progress)
    except JobError as error:
        return {"fault": " ".join(str(fault) for fault in error.faults)}
    except CutmarksError as error:
        return {"fault": str(error)}


def make(arguments: Arguments, progress: Progress) -> dict[str, Any]:
    """Write the pack of a saved job; what stands in the folder then.

    Beside the job: the `paper`, `joined` sheets, templates for the `back`, `pictures`, a measured `printer` and its
    `tray`, the names that are printed `again`, and whether the output of another job is to `replace`.

    Raises:
        CutmarksError: the job or the folder is in the way; nothing was written.
    """
    job = Path(arguments["file"])
    read = _wished(cutmarks.load_job(job, **own_files_in(arguments)), arguments)
    plan = cutmarks.make_plan(read, progress, _calibration(arguments, read.paper))
    again = [one.strip() for one in str(arguments.get("again", "")).split(";") if one.strip()]
    written = cutmarks.write_job(
        plan,
        pack_of(job),
        again=again,
        pictures=bool(arguments.get("pictures")),
        replace=bool(arguments.get("replace")),
        progress=progress,
    )
    stops = [one.text for one in plan.findings if one.level == "stop" and one.accepted is None]
    said = [*kept_words(written), *(f"{STOP}: {text}" for text in stops)]
    said += [written.left] if written.left else []
    said += [f"The sheets are {plan.calibration}."] if plan.calibration is not None else []
    backs = [one.piece for one in plan.registrations if one.back]
    if backs:
        said.append(f"Sheets for the BACK of the tiles, mirrored, in pack.pdf: {', '.join(dict.fromkeys(backs))}.")
    listed = ("again.pdf", *LISTED) if again else LISTED
    return {
        "folder": pack_of(job).name,
        "files": [name for name in listed if name in written.files],
        "count": len(written.files),
        "called": {"pack.pdf": BACK_PACK} if backs and len(backs) == len(plan.registrations) else {},
        "said": [*said, *changed_words(written)],
    }


def _wished(read: Job, arguments: Arguments) -> Job:
    """The job with what was wished of this pack alone. Raises JobError: that is no paper."""
    wished: dict[str, Any] = {}
    if arguments.get("paper"):
        wished["paper"] = _paper(str(arguments["paper"]))
    if arguments.get("joined"):
        wished["sheets"] = "joined"
    if arguments.get("back"):
        wished["template"] = "back"
    return replace(read, **wished)


def _paper(said: str) -> str:
    try:
        return parse_paper(said, Setting())
    except ValueError as error:
        raise JobError([Fault(str(error))]) from error


def _calibration(arguments: Arguments, paper: str) -> Calibration | None:
    """What the sheets are corrected for. Raises OutputError: that printer was never measured with this paper."""
    if not arguments.get("printer"):
        return None
    return calibration_for(str(arguments["printer"]), str(arguments.get("tray", "")), paper, _printers(arguments))


def _printers(arguments: Arguments) -> Path:
    return Path(str(arguments["printers"]))


def shop(arguments: Arguments, progress: Progress) -> dict[str, Any]:
    """Write the pack for the workshop of a saved job, into a folder that is not there yet.

    Raises:
        CutmarksError: nothing of it may be cut yet, or the disk is in the way.
    """
    job = Path(arguments["file"])
    plan = cutmarks.make_plan(cutmarks.load_job(job, **own_files_in(arguments)), progress)
    pack = shop_pack([plan])
    folder = new_shop_folder(job)
    names = write_shop_pack(pack, folder)
    pieces = sum(len(number.pieces) for number in pack.numbered)
    said = [f"{pieces} pieces, {len(pack.numbered)} drawings.", *map(count_words, pack.counts)]
    if pack.held:
        held = ", ".join(one.piece.name for one in pack.held)
        said.append(f"NOT in it, since it must not be cut yet: {held}.")
    said += [f"ASKED OF YOU: {words}" for words in left_to_ask(pack)]
    return {"folder": folder.name, "files": [], "called": {}, "names": list(names), "count": len(names), "said": said}


def starts_page(arguments: Arguments, progress: Progress) -> dict[str, Any]:
    """The page that has the starts of one surface side by side, as a PDF."""
    text, path = str(arguments["text"]).removeprefix("\ufeff"), Path(arguments["file"])
    read = read_job(text, path, **own_files_in(arguments))
    if read.job is None:
        raise JobError(read.faults)
    one = next(one for one in choices_of(read.job) if one.surface == arguments["surface"])
    if not one.offers:
        raise OutputError(f"{one.surface}: there is no start to draw.")
    return _as_pdf(starts_file(one.surface, pictured(read.job, one), paper_of(say_of(read.job)), "pdf"), "starts")


def test_page(arguments: Arguments, progress: Progress) -> dict[str, Any]:
    """The page by which a printer is measured, as a PDF."""
    paper, style, blank = _tray(arguments)
    return _as_pdf(printer_page_pdf(sheet_of(paper, blank), style), "printer-test")


def measured(arguments: Arguments, progress: Progress) -> dict[str, Any]:
    """Keep what was read of a printer's test page.

    Raises:
        CutmarksError: a reading is none, or the page has to be printed again; nothing was written.
    """
    paper, style, blank = _tray(arguments)
    lengths = [_length(arguments, name, style) for name in ("across", "along")]
    lengths += [_length(arguments, name, style) for name in ("a to a", "b to b") if arguments.get(name)]
    name, tray = (" ".join(str(arguments.get(key, "")).split()) for key in ("printer", "tray"))
    for said, least in ((name, 1), (tray, 0)):
        if not least <= len(said) <= LONGEST_NAME or not said.isprintable():
            raise OutputError(f"Give the printer a name of 1 to {LONGEST_NAME} letters, figures and signs.")
    today = datetime.date.fromisoformat(str(arguments["today"])).isoformat()
    must = page_bars(sheet_of(paper, blank), style)
    one = Measured(name, tray, paper, today, must, BarReadings(*lengths), blank)
    verdict = judged(one, lambda: bool(arguments.get("actual size")))
    keep(one, _printers(arguments))
    return {"said": f"{judged_words(verdict)} Kept: {one.calibration(_printers(arguments))}."}


def one_pdf(arguments: Arguments, progress: Progress) -> dict[str, Any]:
    """The template of one tile, as it was `said`, as a PDF."""
    said = {str(key): " ".join(str(value).split()) for key, value in dict(arguments["said"]).items()}
    plan = one_from(said)
    with tempfile.TemporaryDirectory() as folder:
        written = cutmarks.write_job(plan, Path(folder) / "one")
        if "pack.pdf" not in written.files:
            raise OutputError("There is nothing to print: look at what is said of it.")
        return _as_pdf((Path(folder) / "one" / "pack.pdf").read_bytes(), "one-tile")


def _tray(arguments: Arguments) -> tuple[str, Style, float | None]:
    """The paper, how its bars are said, and what the printer leaves blank, mm."""
    units = "in" if arguments.get("units") == "in" else "mm"
    said = str(arguments.get("paper") or ("Letter" if units == "in" else "A4"))
    style = STYLES[units]
    blank = _length(arguments, "margin", style) if arguments.get("margin") else None
    if blank is not None and not LEAST_MARGIN <= blank <= MOST_MARGIN:
        raise OutputError(f"What it leaves blank is from {LEAST_MARGIN:g} to {MOST_MARGIN:g} mm.")
    return _paper(said), style, blank


def _length(arguments: Arguments, name: str, style: Style) -> float:
    try:
        return parse_length(str(arguments.get(name, "")), style.unit).mm
    except ValueError as error:
        raise JobError([Fault(f"{name}: {error}")]) from error


def _as_pdf(content: bytes, stem: str) -> dict[str, Any]:
    return {"pdf": base64.b64encode(content).decode("ascii"), "name": f"{stem}.pdf"}


MADE: Mapping[str, Callable[[Arguments, Progress], dict[str, Any]]] = {
    one.__name__: one for one in (make, shop, starts_page, test_page, measured, one_pdf)
}
"""The functions by their names."""


def file_of(job: Path, name: str) -> bytes:
    """A file of a job's pack, as it was written: none else of that folder, and through no link.

    Raises:
        OutputError: there is no such file.
    """
    try:
        with _pack(job) as (out, record):
            if name in record.digests or name == PLAN_FILE:
                content = _held(out, name, record)
                if content is not None:
                    return content
    except OSError as error:
        raise OutputError("That is no file of this pack.") from error
    raise OutputError("That is no file of this pack.")


def zip_of(job: Path) -> bytes:
    """All files of a job's pack as they were written, in one ZIP; the same bytes for the same pack.

    Raises:
        OutputError: there is no pack.
    """
    made = io.BytesIO()
    try:
        with _pack(job) as (out, record), zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as archive:
            for name in sorted({*record.digests, PLAN_FILE}):
                content = _held(out, name, record)
                if content is not None:
                    archive.writestr(zipfile.ZipInfo(f"{pack_of(job).name}/{name}", FIXED_DATE), content)
    except OSError as error:
        raise OutputError("There is no pack of this job: make it first.") from error
    return made.getvalue()


def zip_of_shop(job: Path, folder: str, names: Sequence[str]) -> bytes:
    """The files of a pack for the workshop, as `shop` wrote them, in one ZIP.

    Raises:
        OutputError: they are not there any more.
    """
    content = io.BytesIO()
    try:
        with (
            open_parent(job.parent, job.parent) as parent,
            parent.sub(folder) as out,
            zipfile.ZipFile(content, "w", zipfile.ZIP_DEFLATED) as archive,
        ):
            for name in sorted(names):
                with inside(out, name) as (under, last):
                    held = under.read(last, MOST_FILE)
                if held is not None:
                    archive.writestr(zipfile.ZipInfo(f"{folder}/{name}", FIXED_DATE), held)
    except OSError as error:
        raise OutputError("That pack is not there any more: make it again.") from error
    return content.getvalue()


@contextmanager
def _pack(job: Path) -> Iterator[tuple[Folder, Record]]:
    pack = pack_of(job)
    with open_parent(pack.parent, pack.parent) as parent, parent.sub(pack.name) as out:
        yield out, read_record(out)


def _held(out: Folder, name: str, record: Record) -> bytes | None:
    """A file of a pack; None where it is another than was written."""
    with inside(out, name) as (folder, last):
        content = folder.read(last, MOST_FILE)
    wanted = record.digests.get(name)
    if content is None or (wanted is not None and digest_of(io.BytesIO(content)) != wanted):
        return None
    return content
