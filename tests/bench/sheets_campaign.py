"""The finished PDF of seeded random jobs and of every example, measured page by page.

    python -m tests.bench.sheets_campaign --cases 200 --seed 1

Half of the cases are whole jobs (raking edges, windows, turned areas), half single tiles of all sizes with holes,
boxes and notches, on desktop papers, plotter sheets and rolls, for face and back, by tape and on joined sheets. On each
page: what edges it is lined up on, by name, and the figure of each tape, so that each cut can be laid on its tile from
the paper alone; its size, the bars, every cut, its centre cross and the lines it is measured from to 0.01 mm after
undoing the sheet's place, nothing outside the safe area, no word's ink on any line's ink, on another word's or on
black; every opening on some sheet with its edges; PrintScaling. No page without a drawing; the four panels at the
places of the page's layout, every word inside the panel that it begins in, none under 9 pt (8 in the small print); no
two lines of other meaning within 2 mm for more than 10. Prints what failed with the number that makes it again, and
how many words, lines and pages were read; ends with 1 where anything failed.
"""

from __future__ import annotations

import argparse
import sys
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from random import Random

from msgspec import Struct
from msgspec.structs import replace

from cutmarks.errors import JobError
from cutmarks.job import load_job
from cutmarks.plan import Plan, make_plan, paper_of
from cutmarks.plan.flow import to_print
from cutmarks.registering import register
from cutmarks.registering.layouts import cut_to_length
from tests.properties.accounts import plan_of
from tests.properties.strategies import random_scene
from tests.sheets.printed import Read, faults_of
from tests.sheets.random_plans import random_plan

EXAMPLES = sorted(path for path in Path(__file__).parents[2].glob("examples/*/*.yaml") if path.stem == path.parent.name)
MARGINS = (None, None, None, None, 5.0, 7.5, 14.0, 20.0)
"""What a printer leaves blank, mm; None: what is usual."""
PAPERS = ("A4", "A4", "A4", "Letter", "Letter", "any", "A3", "Tabloid", "A2", "A1", "610 x 900", "roll 610")


class Case(Struct, frozen=True, dict=True):
    """A plan, and the paper that its job asks for."""

    name: str
    plan: Plan
    paper: str


def random_case(seed: int) -> Case | None:
    """One case, as a whole job or as a single tile; None where the scene is no job, or one that is asked about."""
    try:
        return _random_case(seed)
    except JobError:
        return None


def _random_case(seed: int) -> Case | None:
    draw = Random(seed)
    paper, joined = draw.choice(PAPERS), draw.random() < 0.4
    template = draw.choice(("", "", "face", "back", "both"))
    margin = draw.choice(MARGINS)
    name = f"seed {seed}, {paper}"
    if seed % 2:
        plan: Plan | None = random_plan(seed)
    else:
        wishes = {"paper": paper, "sheets": "joined" if joined else "single"}
        plan = plan_of(random_scene(draw), wishes=wishes | ({"template": template} if template else {}))
    if plan is None or (seed % 2 == 0 and margin is None):
        return None if plan is None else Case(name, plan, paper)
    # A tile made by hand, or a job with its printer's margin: its sheets are chosen anew, as the plan does it.
    say = replace(
        plan.say, paper=cut_to_length(paper, max((p.piece.tile.h for p in plan.pieces if p.cuts), default=0.0))
    )
    say = replace(say, margin=margin)
    wanted = register(plan.pieces, paper_of(say), joined=joined, template=template)
    sheets = tuple(to_print(wanted, plan.pieces, plan.findings))
    return Case(f"{name}, margin {margin}", replace(plan, say=say, registrations=sheets), paper)


def cases(count: int, seed: int) -> Iterator[Case]:
    """The examples, then so many random plans."""
    for path in EXAMPLES:
        plan = make_plan(load_job(path))
        yield Case(path.stem, plan, plan.say.paper)
    made = 0
    while made < count:
        case = random_case(seed)
        if case is not None:
            made += 1
            yield case
        seed += 1


def main() -> int:
    """Run the campaign; 1 where anything failed."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--cases", type=int, default=200)
    parser.add_argument("--seed", type=int, default=1)
    given = parser.parse_args()
    kinds: Counter[str] = Counter()
    papers: Counter[str] = Counter()
    read = Read()
    failed = 0
    for case in cases(given.cases, given.seed):
        kinds.update(f"{sheet.how}{', back' if sheet.back else ''}" for sheet in case.plan.registrations)
        papers.update([case.paper])
        faults = list(faults_of(case.plan, asked=case.paper, read=read))
        failed += bool(faults)
        for fault in faults:
            print(f"{case.name}: {fault}")
    print(f"{given.cases} cases and {len(EXAMPLES)} examples; templates: {dict(sorted(kinds.items()))}")
    print(f"papers: {dict(sorted(papers.items()))}")
    print(f"{read.pages} pages, {read.words} words, {read.lines} lines; {failed} failed")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
