"""A job file, its lists and the tiler's tools, read into a Job; or every fault of them at once."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from itertools import chain, islice
from pathlib import Path as FilePath
from typing import TypedDict, TypeVar, cast

from msgspec import Struct
from msgspec.structs import replace

from cutmarks.errors import Fault, JobError
from cutmarks.fittings import OWN_FILE, Fitting, FittingRow, read_own
from cutmarks.job.assumed import assumed
from cutmarks.job.crosscheck import check_across, text, too_many
from cutmarks.job.entries import MOST_LOOKED_UP, Reader
from cutmarks.job.examples import in_unit_of
from cutmarks.job.faults import TreeFaults, as_typed
from cutmarks.job.found_file import add_found, found_path
from cutmarks.job.lists import add_lists
from cutmarks.job.model import JobModel
from cutmarks.job.models import IMPERIAL, Job, Source, Tools
from cutmarks.job.reading import MOST_BYTES, read_file, read_tree, stands
from cutmarks.job.said import put_under_keys
from cutmarks.job.shop import USUAL_SHOP, Shop
from cutmarks.job.slips import slips_of
from cutmarks.job.surfaces import SurfaceSpec
from cutmarks.job.tile_slips import tile_slips
from cutmarks.job.tools import USUAL_TOOLS
from cutmarks.job.tree import Entry, Places, plain, planted
from cutmarks.job.words import Setting
from cutmarks.units import UNIT_WORDS, Unit

M = TypeVar("M", bound=JobModel)
MOST_TOLD = 100
"""So many faults of a job are told at once."""
TOOLS_FILE = "tools.yaml"
"""Looked for beside the job where no other is given."""
SHOP_FILE = "shop.yaml"
"""Likewise: what the shop that cuts asks for."""


class OwnFiles(TypedDict):
    """The files beside a job that `load_job` is given; None: it looks for them itself."""

    tools: FilePath | None
    fittings: FilePath | None
    shop: FilePath | None


class ReadJob(Struct, frozen=True):
    """A job as far as it could be read.

    job     None where it has faults: these are all of them, in the order of their lines.
    tree    what stands in the file, what was said in one line being put under its keys.
    made    every thing of it that was read whole, with what its phrases were read in.
    whole   whether the text could be read to its end.
    """

    job: Job | None
    faults: tuple[Fault, ...]
    tree: Entry
    made: tuple[tuple[JobModel, Setting], ...]
    whole: bool


def load_job(
    path: FilePath,
    tools: FilePath | None = None,
    fittings: FilePath | None = None,
    found: Sequence[Mapping[str, str]] = (),
    taken_back: int | None = None,
    shop: FilePath | None = None,
) -> Job:
    """The job in the file at `path`, with its lists, and the tools, shop and own fittings given or found beside it.

    What was found at the wall is read from the file beside it too, without its entry number `taken_back` (from 0), and
    `found` is taken behind that, keyed and worded as under `found:` in the job file.

    Raises:
        JobError: all the faults of these files, in the order of their lines.
    """
    content = read_file(path, MOST_BYTES, "job file")
    if isinstance(content, Fault):
        _, tool_faults = load_tools(tools if tools is not None else _beside(path, TOOLS_FILE))
        _, shop_faults = load_shop(shop if shop is not None else _beside(path, SHOP_FILE))
        _, own_faults = load_fittings(fittings if fittings is not None else _beside(path, OWN_FILE))
        raise JobError([content, *tool_faults, *shop_faults, *own_faults])
    return _sure(read_job(content, path, tools, fittings, found, taken_back, shop))


def read_job(
    content: str,
    path: FilePath,
    tools: FilePath | None = None,
    fittings: FilePath | None = None,
    found: Sequence[Mapping[str, str]] = (),
    taken_back: int | None = None,
    shop: FilePath | None = None,
) -> ReadJob:
    """What `load_job` reads, of a text that is, or is to be, in the file at `path`: with all that was read of it."""
    own_tools, faults = load_tools(tools if tools is not None else _beside(path, TOOLS_FILE))
    own_shop, shop_faults = load_shop(shop if shop is not None else _beside(path, SHOP_FILE))
    faults = [*faults, *shop_faults]
    own, own_faults = load_fittings(fittings if fittings is not None else _beside(path, OWN_FILE))
    tree, places, typing, whole = read_tree(content, path.name)
    typed = TreeFaults(tree, places, typing)
    if whole:
        add_found(typed, found_path(path), found, taken_back)
    return _job(typed, whole, path.name, path.parent, own_tools, [*faults, *own_faults], own, own_shop)


def _beside(job: FilePath, name: str) -> FilePath | None:
    """What stands under this name beside the job, a file or not; None where nothing does."""
    beside = job.parent / name
    return beside if stands(beside) else None


def parse_job(text: str, file: str = "job", folder: FilePath | None = None, tools: Tools | None = None) -> Job:
    """The job in a text; `file` names it in faults, `folder` holds its lists (None: it has none).

    Raises:
        JobError: all its faults, in the order of their lines.
    """
    tree, places, typing, whole = read_tree(text, file)
    return _sure(_job(TreeFaults(tree, places, typing), whole, file, folder, (tools or USUAL_TOOLS, None), []))


def build_job(
    data: Mapping[str, object], folder: FilePath | None = None, tools: Tools | None = None, shop: Shop | None = None
) -> Job:
    """The job in a program's own mappings, lists, texts and numbers, keyed and worded as the job file is.

    Raises:
        JobError: all its faults; they have no file and no line.
    """
    tree = cast("Entry", planted(data))
    return _sure(
        _job(
            TreeFaults(tree, Places()),
            True,
            None,
            folder,
            (tools or USUAL_TOOLS, None),
            [],
            shop=(shop or USUAL_SHOP, None),
        )
    )


def load_tools(path: FilePath | None) -> tuple[tuple[Tools, Entry | None], list[Fault]]:
    """The tools in a file, what was read of it, and its faults; the usual tools where `path` is None."""
    return _beside_the_job(path, "tools file", read_tools, USUAL_TOOLS)


def load_shop(path: FilePath | None) -> tuple[tuple[Shop, Entry | None], list[Fault]]:
    """What a shop asks for in a file, what was read of it, and its faults; the usual where `path` is None."""
    return _beside_the_job(path, "shop file", read_shop, USUAL_SHOP)


def _beside_the_job(
    path: FilePath | None, what: str, read: Callable[[TreeFaults], M | None], usual: M
) -> tuple[tuple[M, Entry | None], list[Fault]]:
    """What a file that stands beside a job says, what was read of it, and its faults."""
    if path is None:
        return (usual, None), []
    content = read_file(path, MOST_BYTES, what)
    if isinstance(content, Fault):
        return (usual, None), [content]
    tree, places, faults, whole = read_tree(content, path.name)
    if not whole:
        return (usual, None), faults
    told = TreeFaults(tree, places, faults)
    made = read(told)
    return (usual, None) if made is None else (made, tree), list(told)


def read_tools(faults: TreeFaults) -> Tools | None:
    """The tools that a tree says; None where it has faults."""
    return Reader(faults).read(Tools, faults.tree, setting_of(faults.tree))


def read_shop(faults: TreeFaults) -> Shop | None:
    """What a shop asks for by a tree; None where it has faults."""
    return Reader(faults).read(Shop, faults.tree, setting_of(faults.tree))


def load_fittings(path: FilePath | None) -> tuple[tuple[FittingRow, ...] | None, list[Fault]]:
    """The user's own fittings in a file, None where it has faults, and these; none of either where `path` is None."""
    if path is None:
        return (), []
    content = read_file(path, MOST_BYTES, "file of fittings")
    if isinstance(content, Fault):
        return None, [content]
    try:
        return read_own(content), []
    except ValueError as error:
        return None, [Fault(str(error), file=path.name)]


def setting_of(tree: Entry) -> Setting:
    """The unit and the words of a job, as far as they can be read; mm and uk where they cannot."""
    unit = UNIT_WORDS.get(text(tree, "units").casefold() or text(tree, "unit").casefold(), Unit.MM)
    say = text(tree, "say").casefold()
    return Setting(unit=unit, say="us" if say == "us" or (say != "uk" and unit in IMPERIAL) else "uk")


def _job(
    typed: TreeFaults,
    whole: bool,
    file: str | None,
    folder: FilePath | None,
    tools: tuple[Tools, Entry | None],
    tool_faults: Iterable[Fault],
    own: tuple[FittingRow, ...] | None = (),
    shop: tuple[Shop, Entry | None] = (USUAL_SHOP, None),
) -> ReadJob:
    """A job from a tree, `typed` having the faults of its typing."""
    tree, places = typed.tree, typed.places
    job: Job | None = None
    made: list[tuple[JobModel, Setting]] = []
    if whole:
        add_lists(typed, folder)
        mistyped = {(fault.file, fault.line) for fault in typed if fault.line is not None}
        values = TreeFaults(tree, places)
        job, made = _read(values, own)
        # A line that was mistyped is not told of a second time for what is left of it.
        typed.add(fault for fault in values if (fault.file, fault.line) not in mistyped)
    unit = setting_of(tree).unit
    told = [*(replace(fault, sentence=in_unit_of(unit, fault.sentence)) for fault in typed), *tool_faults]
    if told or job is None:
        return ReadJob(None, tuple(_in_order(told, file)), tree, tuple(made), whole)
    read = {"job": plain(tree), "tools": None if tools[1] is None else plain(tools[1])}
    if shop[1] is not None:
        read["shop"] = plain(shop[1])
    if own:
        read["fittings"] = [[row.fitting.label, row.fitting.kind, *_sizes(row.fitting)] for row in own]
    paper = job.paper if tools[0].printer.paper is None or "paper" in tree else tools[0].printer.paper
    job = replace(job, tools=tools[0], shop=shop[0], source=Source(file, places), read=read, paper=paper)
    job = replace(job, assumed=assumed(job))
    return ReadJob(job, (), tree, tuple(made), whole)


def _sure(read: ReadJob) -> Job:
    """The job that was read. Raises JobError: all its faults."""
    if read.job is None:
        raise JobError(read.faults)
    return read.job


def _read(faults: TreeFaults, own: tuple[FittingRow, ...] | None) -> tuple[Job | None, list[tuple[JobModel, Setting]]]:
    """The job that a tree says, None where it has faults, and all things in it; its slips are told too."""
    if too_many(faults):
        return None, []
    setting = replace(setting_of(faults.tree), own_fittings=own)
    put_under_keys(faults, setting)
    check_across(faults)
    reader = Reader(faults)
    job = reader.read(Job, faults.tree, setting)
    surfaces = ((one, within) for one, within in reader.made if isinstance(one, SurfaceSpec))
    slips = chain.from_iterable(slips_of(surface, within) for surface, within in surfaces)
    if job is not None:
        slips = chain(slips, tile_slips(job, setting))
    for where, sentence in islice(slips, MOST_LOOKED_UP):
        faults.tell(sentence, as_typed(where, faults.tree))
    return job, reader.made


def _sizes(fitting: Fitting) -> list[str]:
    return [str(size) for size in (fitting.od, fitting.w, fitting.h)]


def _in_order(faults: Iterable[Fault], file: str | None) -> list[Fault]:
    """By line, the job file first, and no more than anyone mends before looking again."""
    told = sorted(faults, key=lambda fault: (fault.file != file, fault.file or "", fault.line or 0))
    if len(told) <= MOST_TOLD:
        return told
    first = told[MOST_TOLD]
    rest = f"There are more faults from here on, over {MOST_TOLD} in all: mend those above first."
    return [*told[:MOST_TOLD], Fault(rest, file=first.file, line=first.line)]
