"""What is read and not drawn: the order of work, what to buy, what lies at the edges, how sure, and every limit.

Each is told under headings, a sentence a line, as the commands `order`, `buy` and `check` tell it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

from cutmarks.buying.flow import what_to_buy
from cutmarks.desk.fewer import fewer_lines
from cutmarks.desk.why import why_parts
from cutmarks.errors import Fault, JobError
from cutmarks.job import Job
from cutmarks.plan import Plan
from cutmarks.plan.choices import as_laid
from cutmarks.saying.buying import buy_lines
from cutmarks.saying.gauging import heading_lines, sections, told
from cutmarks.saying.starts import laid_words

HERE = '"Where to start"'
"""The part of the page that shows all starts."""
ToldPart = tuple[str, list[str]]
"""A heading, and the lines under it."""


def order(read: Job, plan: Plan) -> Iterator[ToldPart]:
    """The set-out and the order of work of each surface, step by step."""
    for one in told(plan):
        yield one.surface.setout.name, list(heading_lines(one, plan))
        for number, step in enumerate(sections(one, plan), 1):
            yield f"{number}  {step.title}", list(step.lines)


def buy(read: Job, plan: Plan) -> Iterator[ToldPart]:
    """What the job takes, and which start needs fewer where what is in hand is not enough."""
    to_buy = what_to_buy(plan)
    yield "What to buy", [*buy_lines(to_buy, plan), *fewer_lines(read, to_buy.tiles, HERE)]


def edges(read: Job, plan: Plan) -> Iterator[ToldPart]:
    """What lies at each edge and window, and whether another start is clearly better."""
    yield "At the edges", list(laid_words(as_laid(read, plan), plan.limits, plan.say.style, HERE))


def sure(read: Job, plan: Plan) -> Iterator[ToldPart]:
    """How sure each cut is."""
    yield "How sure each cut is", [one.sentence for one in plan.sure]


def limits(read: Job, plan: Plan) -> Iterator[ToldPart]:
    """Every limit and default, and where its figure comes from."""
    for part in why_parts(read):
        yield part.heading, [f"{one.key}: {one.shown}, {one.what} ({one.source})" for one in part.rows]


TOLD: Mapping[str, Callable[[Job, Plan], Iterator[ToldPart]]] = {
    one.__name__: one for one in (order, buy, edges, sure, limits)
}
"""All of it, by what the page calls it."""
OF_TILES = ("order", "buy", "edges")
"""What there is of surfaces with tiles and a start alone."""


def parts_of(what: str, read: Job, plan: Plan) -> list[ToldPart]:
    """What is told, without the headings under which there is nothing.

    Raises:
        JobError: there are no tiles yet, of which it is told.
    """
    if what in OF_TILES and not plan.laid:
        raise JobError([Fault("There is nothing to tell before a surface has its tiles and its start.")])
    return [(heading, lines) for heading, lines in TOLD[what](read, plan) if lines or heading]
