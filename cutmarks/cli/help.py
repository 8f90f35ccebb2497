"""cutmarks help: pages to read beside a job file, made of what the reader itself goes by."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from importlib.resources import files

import click

from cutmarks.cli.ending import Exit
from cutmarks.cli.options import trace_option
from cutmarks.cli.terminal import tell, wrapped
from cutmarks.job.declared import Declared, declared, short_of
from cutmarks.job.keys import things
from cutmarks.job.limits import OwnLimits
from cutmarks.job.model import JobModel
from cutmarks.job.models import Job, Tools
from cutmarks.job.schema import published_schema
from cutmarks.job.shop import Shop
from cutmarks.job.words import either

SAID = (
    "positions   67 to 83 left of V; centre 75 left of V; on V; 42 below to 30 above B; near side 67 left of V; "
    "underside 212 above B; 120 to 135 above the floor; 277 to 292 in from right there; level with hot; "
    "in course 4, 98 up; 12 to 27 right of the right edge of splash 3-6; on a floor 30 short to 62 in from D",
    "lengths     642; 64.2 cm; 12 3/8; 12-3/8; 9.69 in; 2' 1 1/4\"; never negative: sides are words",
    "not known   ?, but for positions and sizes, which must be known",
)
"""How values are said, whatever the key."""
COLUMN, KEY_COLUMN = 12, 13


@click.command("help")
@click.argument("topic", required=False)
@click.argument("thing", nargs=-1)
@trace_option
def help(topic: str | None, thing: tuple[str, ...]) -> Exit:
    """List the pages to read beside a job file, or print one.

    `cutmarks help keys` has every key of a job file; `cutmarks help keys hole` those of one thing. `cutmarks help
    schema` is a JSON Schema for an editor: write it into a file beside the job.
    """
    if topic is None:
        if thing:
            raise click.UsageError("Give a topic first.")
        tell([f"cutmarks help {name:<9} {TOPICS[name][1]}" for name in TOPICS])
        return Exit.DONE
    if topic not in TOPICS:
        raise click.UsageError(f"There is no page {topic}: write {either(TOPICS)}.")
    tell(list(TOPICS[topic][0](" ".join(thing))))
    return Exit.DONE


def keys_page(wanted: str = "") -> Iterator[str]:
    """Every key of a job file and of the tools beside it, thing by thing; of one thing where it is wanted.

    Raises click.UsageError: there is no such thing.
    """
    sections = list(_sections())
    if wanted and not any(wanted in names for names, _, _ in sections):
        known = ", ".join(name for names, _, _ in sections for name in names)
        raise click.UsageError(f"There is no thing {wanted} with keys of its own: they are {known}.")
    if not wanted:
        for line in SAID:
            yield from wrapped(line[COLUMN:], line[:COLUMN])
    for names, model, where in sections:
        if not wanted or wanted in names:
            yield ""
            yield from wrapped(f"{', '.join(names)}: {where}")
            for one in declared(model).values():
                yield from _row(one)


def _sections() -> Iterator[tuple[tuple[str, ...], type[JobModel], str]]:
    """Each kind of thing once, by its names, with where it stands: the job, what stands under its keys, the tools."""
    yield ("job",), Job, "the file itself"
    holders: dict[type[JobModel], list[tuple[str, str]]] = {}
    for holder, (model, one) in things().items():
        if model is not OwnLimits:
            holders.setdefault(model, []).append((holder, one))
    for model, held in holders.items():
        short = short_of(model)
        alone = f"; a value alone is its {short}" if short else ""
        under = ", ".join(holder for holder, _ in held)
        yield tuple(one for _, one in held), model, f"under {under}{alone}"
    yield ("tools",), Tools, "tools.yaml, beside the job or in your configuration folder"
    yield ("shop",), Shop, "shop.yaml, in the same places"


def _row(one: Declared) -> Iterator[str]:
    """A key: what it is for, how it is written, and what else it is called."""
    said = [f"{one.key.about[:1].upper()}{one.key.about[1:]}."]
    if one.key.examples:
        said.append(" | ".join(one.key.examples))
    if one.key.floor:
        said.append(f"(on a floor {one.key.floor[0]}: {one.key.floor[1]})")
    if one.key.also:
        said.append(f"(or {', '.join(one.key.also)})")
    yield from wrapped(" ".join(said), f"  {one.word:<{KEY_COLUMN}}  ", " " * (KEY_COLUMN + 4))


def schema_page(wanted: str = "") -> Iterator[str]:
    """The JSON Schema of a job file. Raises click.UsageError: one of its things alone is wanted."""
    if wanted:
        raise click.UsageError("The schema is of the whole job file: write cutmarks help schema.")
    yield published_schema().decode("utf-8").removesuffix("\n")


def _text_page(name: str) -> Callable[[str], Iterator[str]]:
    """A page that stands as a text beside this module."""

    def page(wanted: str = "") -> Iterator[str]:
        if wanted:
            raise click.UsageError(f"This page is one: write cutmarks help {name}.")
        yield from (files("cutmarks.cli") / "pages" / f"{name}.txt").read_text(encoding="utf-8").splitlines()

    return page


def job_page(wanted: str = "") -> Iterator[str]:
    """The job file: how it is written, then every key of it. Raises click.UsageError: one thing alone is wanted."""
    yield from _text_page("job")(wanted)
    yield from keys_page()


TOPICS: Mapping[str, tuple[Callable[[str], Iterator[str]], str]] = {
    "page": (_text_page("page"), "a job entered in the browser: without a terminal, without YAML"),
    "job": (job_page, "the job file: one whole, how each part is said, and every key"),
    "keys": (keys_page, "every key of a job file: what it is for and how it is written"),
    "said": (_text_page("said"), "a hole, two holes, an edge or a tile in one line"),
    "positions": (_text_page("positions"), "how it is said where a thing is, and from what"),
    "laying": (_text_page("laying"), "starts, bonds, the order of work, lines from lines, edges that step"),
    "starts": (_text_page("starts"), "where to start: what is looked at, what counts, and in which order"),
    "floors": (_text_page("floors"), "a floor's across, along and up, doorways, strips not to drill"),
    "clearance": (_text_page("clearance"), "valves and boxes checked before a tile is chosen, and the sheet of it"),
    "sheets": (
        _text_page("sheets"),
        "how to read a sheet, which for which cut, faces and backs, papers, printers",
    ),
    "phone": (_text_page("phone"), "the figures on a phone at the wall, and how what was read comes back"),
    "fixing": (_text_page("fixing"), "the order in which pieces are fixed, and what each is read from"),
    "order": (_text_page("order"), "the set-out page, the order of work, and what to buy"),
    "readings": (_text_page("readings"), "a hole that was measured more than once"),
    "checks": (_text_page("checks"), "what is looked at before a tile is cut"),
    "found": (_text_page("found"), "what was read at the wall, and what was cut"),
    "rooms": (_text_page("rooms"), "one type and many rooms: what was cut that fits, and what is cut anew"),
    "output": (_text_page("output"), "what make writes, what is done with its folder, how a command ends"),
    "shop": (_text_page("shop"), "drawings and lists for a shop"),
    "schema": (schema_page, "a JSON Schema of the job file, for an editor that completes and checks it"),
}
"""The pages, each with its maker and what it is about."""
