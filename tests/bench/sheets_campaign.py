"""The finished PDF of seeded random jobs and of every example, measured page by page.

    python -m tests.bench.sheets_campaign --cases 200 --seed 1

Half of the cases are whole jobs (raking edges, windows, turned areas), half single tiles of all sizes with holes,
boxes and notches, on all papers, for face and back, by tape and on joined sheets. On each page: its size, the bars,
every cut and the lines it is measured from to 0.01 mm after undoing the sheet's place, nothing outside the safe area,
no word on a line that is cut or on another word; every opening on some sheet with its edges; PrintScaling. Prints what
failed with the number that makes it again; ends with 1 where anything failed.
"""

from __future__ import annotations

import argparse
import sys
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from random import Random

from cutmarks.job import load_job
from cutmarks.plan import Plan, make_plan
from cutmarks.registering import register
from tests.properties.accounts import plan_of
from tests.properties.strategies import random_scene
from tests.sheets.printed import faults_of
from tests.sheets.random_plans import random_plan

EXAMPLES = sorted(path for path in Path(__file__).parents[2].glob("examples/*/*.yaml") if path.stem == path.parent.name)
PAPERS = ("A4", "A4", "Letter", "any", "A3", "Tabloid")


def random_case(seed: int) -> Plan | None:
    """One plan; None where the scene is no job."""
    draw = Random(seed)
    plan = random_plan(seed) if seed % 2 else plan_of(random_scene(draw))
    if plan is None:
        return None
    say = replace(plan.say, paper=draw.choice(PAPERS))
    template = draw.choice(("", "", "face", "back", "both"))
    sheets = register(plan.pieces, say.paper, joined=draw.random() < 0.4, template=template)
    return replace(plan, say=say, registrations=sheets)


def cases(count: int, seed: int) -> Iterator[tuple[str, Plan]]:
    """The examples, then so many random plans."""
    for path in EXAMPLES:
        yield path.stem, make_plan(load_job(path))
    made = 0
    while made < count:
        plan = random_case(seed)
        if plan is not None:
            made += 1
            yield f"seed {seed}", plan
        seed += 1


def main() -> int:
    """Run the campaign; 1 where anything failed."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--cases", type=int, default=200)
    parser.add_argument("--seed", type=int, default=1)
    given = parser.parse_args()
    kinds: Counter[str] = Counter()
    failed = 0
    for name, plan in cases(given.cases, given.seed):
        kinds.update(f"{sheet.how}{', back' if sheet.back else ''}" for sheet in plan.registrations)
        faults = list(faults_of(plan))
        failed += bool(faults)
        for fault in faults:
            print(f"{name}: {fault}")
    print(
        f"{given.cases} cases and {len(EXAMPLES)} examples; templates: {dict(sorted(kinds.items()))}; {failed} failed"
    )
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
