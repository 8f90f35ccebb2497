"""Thousands of mutated jobs, each in a process of its own: none hangs, none eats memory, none ends but in a sentence.

    python -m tests.bench.job_campaign --jobs 10000 --seed 1
    python -m tests.bench.job_campaign --jobs 10000 --seed 1 --slice 1/2    # every second one: two side by side
    python -m tests.bench.job_campaign --only 1000042                       # one again, by its number, with its YAML

A case is a job that runs (`job_seeds`) with one slip or several (`job_mutations`), seeded by its number. It is planned
in a forked child with limits on processor time and memory. Refused, each fault has its line and is a sentence
(`job_looks`). Planned, what `check` prints is looked at, every cut that the reckoner can read is reckoned a second
time (`job_reckoner`), and some are written and read back (`job_read_back`). The jobs that are known to be slow are
named in `job_slow`, strictly. Ends with 1 where anything failed; what failed is printed with its number, and its YAML
made small.
"""

from __future__ import annotations

import argparse
import math
import re
import sys
import tempfile
import time
import traceback
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import partial
from pathlib import Path

from msgspec import Struct, field

from cutmarks.cli.choices import laid_lines, undecided_lines
from cutmarks.cli.table import check_lines
from cutmarks.cli.unlooked import unlooked_lines
from cutmarks.errors import Fault, JobError, OutputError
from cutmarks.job import parse_job
from cutmarks.plan import Plan, make_plan
from cutmarks.tiling.unlaid import missing_start
from tests.bench.apart import Ran, run_apart
from tests.bench.job_looks import faulty, unsaid
from tests.bench.job_mutations import Case, case
from tests.bench.job_read_back import write_and_read_back
from tests.bench.job_reckoner import MadeCut, Reckoned, reckon
from tests.bench.job_slow import SLOW

SECONDS = 5.0
"""No job takes more processor time than this, but those in `job_slow`."""
MEGABYTES = 300.0
"""No job holds more memory than this, beyond what the campaign itself holds."""
WRITTEN = 300
"""So many of 10,000 jobs are written and read back."""
MOST_SHEETS = 40
"""Jobs with more cuts than this are not chosen to be written."""
WRITING = 30.0
"""Processor time for a job that is written and read back, s."""
SHRINKING = 20.0
"""So much processor time is spent on making a failing job small, s."""
TOLD = 250
"""After so many jobs it is told how many are done."""
FILE = "job.yaml"


class Outcome(Struct, frozen=True):
    """What became of one job, as far as it comes out of its process.

    kind    refused, planned, or asked (no start yet: `check` says what each would leave).
    faults  of a refused job; `said` all that `check` would print of another; `cuts` of a planned one.
    """

    kind: str
    faults: tuple[Fault, ...] = ()
    said: tuple[str, ...] = ()
    cuts: tuple[MadeCut, ...] = ()


def planned(text: str) -> Outcome:
    """A job as `cutmarks check` takes it."""
    try:
        job = parse_job(text, FILE)
        plan = make_plan(job, undecided=True)
        if missing_start(job):
            said = (*check_lines(plan), *undecided_lines(job, plan), *unlooked_lines(plan))
            return Outcome("asked", said=said)
    except JobError as error:
        return Outcome("refused", error.faults)
    return Outcome("planned", said=(*check_lines(plan), *laid_lines(job, plan)), cuts=tuple(cuts_of(plan)))


def cuts_of(plan: Plan) -> Iterator[MadeCut]:
    """Every cut of a plan, in figures alone."""
    for piece in plan.pieces:
        for cut in piece.cuts:
            box = cut.opening.ring.bounds
            tile = piece.piece.tile
            yield MadeCut(
                surface=piece.piece.surface,
                area=piece.piece.area,
                place=piece.piece.place,
                piece=piece.name,
                hole=cut.opening.name,
                from_left=cut.from_left,
                from_bottom=cut.from_bottom,
                tile=(tile.w, tile.h),
                opening=(box.width, box.height),
            )


class Count(Struct):
    """What the campaign has seen so far."""

    jobs: Counter[str] = field(default_factory=Counter)
    failures: Counter[str] = field(default_factory=Counter)
    cuts: int = 0
    reckoned: int = 0
    beyond: Counter[str] = field(default_factory=Counter)
    slowest: tuple[float, int] = (0.0, 0)
    biggest: tuple[float, int] = (0.0, 0)

    def add(self, number: int, ran: Ran, reckoned: Reckoned | None) -> None:
        self.jobs["run"] += 1
        self.slowest = max(self.slowest, (ran.seconds, number))
        self.biggest = max(self.biggest, (ran.megabytes, number))
        if isinstance(ran.result, Outcome):
            self.jobs[ran.result.kind] += 1
            self.cuts += len(ran.result.cuts)
        if reckoned is not None:
            self.reckoned += reckoned.count
            self.beyond.update(reckoned.beyond)


def failures_of(text: str, ran: Ran, reckoned: Reckoned | None) -> list[tuple[str, str]]:
    """All that is wrong with how one job went: a kind, which shrinking keeps, and words."""
    if ran.slow:
        return [("slow", f"over {SECONDS:g} s of processor time: {ran.seconds:.1f} {_last_line(ran.error)}")]
    if ran.big:
        return [("big", f"over {MEGABYTES:g} MB: {ran.megabytes:.0f} {_last_line(ran.error)}")]
    if not isinstance(ran.result, Outcome):
        return [(f"exit 4, {_place(ran.error)}", ran.error.strip())]
    outcome = ran.result
    found = [
        (f"sentence, {wrong.partition(':')[0]}", wrong) for fault in outcome.faults for wrong in faulty(fault, text)
    ]
    if outcome.kind == "refused" and not outcome.faults:
        found.append(("no fault", "refused without a fault"))
    found += [
        (f"said, {what}", f"{what}: {line}")
        for line in outcome.said
        for what in unsaid(line.strip(), text)
        if what != "two blanks"
    ]
    if reckoned is not None:
        found += [("reckoned", wrong) for wrong in reckoned.wrong]
    return found


def _last_line(error: str) -> str:
    return error.strip().splitlines()[-1] if error.strip() else ""


def _place(error: str) -> str:
    """The kind of an error and the line of ours that raised it."""
    ours = re.findall(r'cutmarks/(\S+)", line ([0-9]+)', error)
    kind = _last_line(error).partition(":")[0]
    return f"{kind} at {ours[-1][0]}:{ours[-1][1]}" if ours else kind


def looked_at(
    text: str, plan: Callable[[str], Outcome] = planned
) -> tuple[Ran, Reckoned | None, list[tuple[str, str]]]:
    """One job planned in a process of its own, its cuts reckoned again, and all that is wrong."""
    ran = run_apart(partial(plan, text), SECONDS, MEGABYTES)
    if not (isinstance(ran.result, Outcome) and ran.result.kind == "planned"):
        return ran, None, failures_of(text, ran, None)
    try:
        reckoned = reckon(text, ran.result.cuts)
    except Exception:
        # The reckoner's own fault, and not the job's: it is told, and the campaign goes on to its figures.
        return ran, None, [*failures_of(text, ran, None), ("the reckoner fell", traceback.format_exc().strip())]
    return ran, reckoned, failures_of(text, ran, reckoned)


def shrunk(text: str, kind: str, plan: Callable[[str], Outcome] = planned) -> str:
    """The fewest lines found that still fail in the same way: runs of lines are left out, ever shorter ones."""
    lines = text.splitlines(keepends=True)
    spent = 0.0
    run = max(1, len(lines) // 2)
    while run and spent < SHRINKING:
        at = 0
        while at < len(lines) and spent < SHRINKING:
            without = lines[:at] + lines[at + run :]
            ran, _, wrong = looked_at("".join(without), plan)
            spent += ran.seconds
            if any(found == kind for found, _ in wrong):
                lines = without
            else:
                at += run
        run //= 2
    return "".join(lines)


def written_wrong(text: str) -> list[str]:
    """What is wrong with the files of one job, written into a folder of its own and read back, in a child."""

    def write() -> list[str]:
        with tempfile.TemporaryDirectory(prefix="cutmarks-") as folder:
            plan = make_plan(parse_job(text, FILE))
            try:
                return write_and_read_back(plan, Path(folder) / "out")
            except OutputError as error:
                return [f"not written: {error}"]

    ran = run_apart(write, WRITING, 2 * MEGABYTES)
    if ran.slow or ran.big or ran.error:
        return [ran.error or f"{ran.seconds:.1f} s, {ran.megabytes:.0f} MB"]
    wrong: list[str] = ran.result
    return wrong


def slow_ones(count: Count) -> Iterator[str]:
    """What is wrong with the list of slow jobs: each that is no longer slow has to be struck out."""
    for slow in SLOW:
        ran = run_apart(partial(planned, slow.text()), SECONDS, MEGABYTES)
        count.jobs["known slow"] += 1
        if not (ran.slow or ran.big):
            yield f'"{slow.name}" is no longer slow ({ran.seconds:.1f} s, {ran.megabytes:.0f} MB): strike it out'


def numbers_of(jobs: int, seed: int, part: str) -> range:
    """The numbers of a campaign, or of the part "1/2" of it."""
    share, _, of = part.partition("/")
    first = seed * 1_000_000
    return range(first + int(share) - 1, first + jobs, int(of))


def run(numbers: Sequence[int], written: int, out: Callable[[str], None], until: float = math.inf) -> Count:
    """All cases of a campaign, or those begun by `until` on the clock; failures are told as they come."""
    count = Count()
    every = max(1, len(numbers) // (2 * written)) if written else 0
    for done, number in enumerate(numbers):
        if done and done % TOLD == 0:
            print(f"{done} of {len(numbers)} jobs", file=sys.stderr, flush=True)
        if time.monotonic() > until:
            break
        one = case(number)
        ran, reckoned, wrong = looked_at(one.text)
        count.add(number, ran, reckoned)
        _tell(one, wrong, count, out)
        outcome = ran.result
        due = every and count.jobs["written"] <= done // every and count.jobs["written"] < written
        if due and isinstance(outcome, Outcome) and 0 < len(outcome.cuts) <= MOST_SHEETS:
            count.jobs["written"] += 1
            found = written_wrong(one.text)
            _tell(one, [(f"written, {_place(told)}", told) for told in found], count, out, shrink=False)
    return count


def _tell(
    one: Case, wrong: Iterable[tuple[str, str]], count: Count, out: Callable[[str], None], *, shrink: bool = True
) -> None:
    """Each kind of failure once a job, its YAML made small the first time that the kind is seen."""
    kinds = dict(reversed(list(wrong)))
    for kind, words in kinds.items():
        first = kind not in count.failures
        count.failures[kind] += 1
        out(f"case {one.number} ({one.seed}; {'; '.join(one.mutations)}): {kind}\n{words}")
        if first:
            small = shrunk(one.text, kind) if shrink else one.text
            out("".join(f"    {line}\n" for line in small.splitlines()))


def summary(count: Count) -> list[str]:
    """The figures of a campaign."""
    jobs = count.jobs
    lines = [
        f"{jobs['run']} jobs: {jobs['planned']} planned, {jobs['refused']} refused, {jobs['asked']} without a start; "
        f"{jobs['written']} written and read back",
        f"{count.cuts} cuts, {count.reckoned} reckoned again; beyond the reckoner: "
        + (", ".join(f"{words} {many}" for words, many in count.beyond.most_common()) or "none"),
        f"slowest {count.slowest[0]:.1f} s (case {count.slowest[1]}), most memory {count.biggest[0]:.0f} MB "
        f"(case {count.biggest[1]}); {jobs['known slow']} known slow jobs",
    ]
    failed = ", ".join(f"{kind} {many}" for kind, many in count.failures.most_common())
    return [*lines, f"failures: {failed or 'none'}"]


def main() -> int:
    """Run the campaign; 0 where nothing failed."""
    options = argparse.ArgumentParser(description="Mutated jobs, each in a process of its own.")
    options.add_argument("--jobs", type=int, default=10_000)
    options.add_argument("--seed", type=int, default=1)
    options.add_argument(
        "--slice", default="1/1", metavar="N/OF", help="one part of the cases, the first with the slow ones"
    )
    options.add_argument("--written", type=int, default=None, help="how many are written (300 of 10,000)")
    options.add_argument("--minutes", type=float, default=math.inf, help="begin no case after so many minutes")
    options.add_argument("--only", type=int, help="one case, by the number that was printed, with its YAML")
    asked = options.parse_args()
    if asked.only is not None:
        one = case(asked.only)
        print(f"# case {one.number} ({one.seed}; {'; '.join(one.mutations)})\n{one.text}", end="")
        wrong = [words for _, words in looked_at(one.text)[2]] + written_wrong_if_planned(one.text)
        print("\n".join(wrong) or "nothing is wrong with it")
        return 1 if wrong else 0
    numbers = numbers_of(asked.jobs, asked.seed, asked.slice)
    written = WRITTEN * len(numbers) // 10_000 if asked.written is None else asked.written
    count = run(numbers, written, lambda words: print(words, flush=True), time.monotonic() + 60 * asked.minutes)
    for sentence in slow_ones(count) if asked.slice.startswith("1/") else ():
        count.failures["no longer slow"] += 1
        print(sentence)
    print("\n".join(summary(count)))
    return 1 if count.failures else 0


def written_wrong_if_planned(text: str) -> list[str]:
    """The same as `written_wrong`, of a job that may be refused."""
    outcome = looked_at(text)[0].result
    return written_wrong(text) if isinstance(outcome, Outcome) and outcome.kind == "planned" else []


if __name__ == "__main__":
    sys.exit(main())
