"""The wall page's figures, in a real browser, against `cutmarks found`: readings drawn by a seed, tapped, compared.

    python -m tests.bench.wall_page_campaign --cases 2000 --seed 1

A case is a piece: each of its boxes is stepped by so much, by taps; some are said to be as expected, some are left.
What the page then shows, figures to mark, checks, sizes and the digits of the right print, must be what the plan says
with the very text that the page sends back. A third of the holes were found off already when the page was made: they
move a second time. A cut that the page does not add up (it says so) is counted,
and so is one that the plan stops for another reason than what was read.
"""

from __future__ import annotations

import argparse
import json
import random
import sys
from collections import Counter
from collections.abc import Mapping, Sequence
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING, Any

from msgspec import Struct, field

from cutmarks import load_job, make_plan
from cutmarks.errors import JobError
from cutmarks.openings.model import CutPiece
from cutmarks.plan import Plan
from cutmarks.saying.cuts import ITS_MIDDLE, checked, mark_rows, marked, middle_words
from cutmarks.saying.findings import figures_held, waiting_for
from cutmarks.saying.measures import shown
from cutmarks.saying.seen import Seen, seen
from cutmarks.sides import Side
from cutmarks.units import say_down, say_up
from cutmarks.writers.wall_page.figures import bites
from tests.bench.wall_page_jobs import drawn_job
from tests.browser.phone import browser, missing, phone
from tests.writers.as_bytes import wall_page

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

MOST_STEPS, USUAL_STEPS = 12, 4
TRIMMED_PART = 0.06
"""So many of the pieces that are only trimmed are tried: there are many."""
LEAST_COMPARED = 0.7
"""So many of the cases have to be compared figure by figure, for the campaign to say anything."""
STOPPED = {"held", "otherwise", "far", "apart-stop", "nothing-left", "too-wide"}
"""What the page says where it shows no figure."""
FROM_READING = {"found too far", "found disagrees"}
TAP = """(cases) => {
  const seen = (one) => one.getClientRects().length > 0;
  return cases.map(([number, taps]) => {
    document.querySelector(`[data-listed="${number}"]`).click();
    const section = document.getElementById(`p-${number}`);
    for (const [box, by] of taps) {
      const as = section.querySelector(`[data-do=as][data-stem="${box}"]`);
      if (as) { as.click(); continue; }
      if (!by) for (const way of [1, -1])
        section.querySelector(`[data-do=step][data-box="${box}"][data-by="${way}"]`).click();
      const way = by > 0 ? 1 : -1;
      for (let n = 0; n < Math.abs(by); n += 1)
        section.querySelector(`[data-do=step][data-box="${box}"][data-by="${way}"]`).click();
    }
    const texts = (what, key) => Object.fromEntries(
      Array.from(section.querySelectorAll(what)).filter(seen).map(
        (one) => [one.dataset[key], one.textContent.replace(/\\u00a0/g, " ")]));
    return {rows: texts("[data-row]", "row"), checks: texts("[data-check]", "check"),
            middles: texts("[data-middle]", "middle"),
            sizes: texts("[data-size]", "size"),
            digits: Array.from(section.querySelectorAll(".print, [data-told=moved] [data-slot=right]")).filter(seen)
              .map((one) => one.textContent.match(/[0-9a-f]{8}/)[0]),
            told: Array.from(section.querySelectorAll("[data-told]")).filter(seen).map((one) => one.dataset.told),
            boxes: Array.from(section.querySelectorAll("button.figure")).map((one) => one.dataset.box)};
  });
}"""
SENT = (
    """() => { document.querySelector("[data-do=refresh]").click(); return document.getElementById("sent").value; }"""
)


class Tally(Struct, dict=True):
    """What was looked at, and what was found wrong."""

    cases: int = 0
    counts: Counter[str] = field(default_factory=Counter)
    wrong: list[str] = field(default_factory=list)


def run(opened: Browser, cases: int, seed: int, plant: str = "") -> Tally:
    """So many cases; `plant` replaces a piece of the page's script, to see that the campaign finds it."""
    tally, number = Tally(), 0
    with TemporaryDirectory() as folder:
        while tally.cases < cases:
            draw = random.Random(f"{seed} {number}")
            number += 1
            _job(opened, Path(folder), draw, tally, cases, plant)
            if number > 4 * cases:
                raise RuntimeError("Most of the jobs that were drawn are refused: nothing is looked at.")
    return tally


def _job(opened: Browser, folder: Path, draw: random.Random, tally: Tally, cases: int, plant: str) -> None:
    path = folder / "drawn.yaml"
    path.write_text(drawn_job(draw), encoding="utf-8")
    try:
        found, plan = _found_before(path, draw, make_plan(load_job(path)))
    except JobError:
        tally.counts["job refused"] += 1
        return
    page_file = folder / "wall.html"
    page_file.write_bytes(planted(wall_page(plan), plant))
    with phone(opened) as held:
        held.open(page_file)
        _cases(held.page, path, found, plan, draw, tally, cases)
        if held.errors:
            tally.wrong.append(f"the page's script tripped: {held.errors[0]}")


def planted(page: bytes, plant: str) -> bytes:
    """The page with a slip in its script, as `before=>after`, which its policy lets run; itself for ""."""
    if not plant:
        return page
    before, after = plant.encode().split(b"=>")
    if page.count(before) != 1:
        raise ValueError(f"{plant!r} is not in the page once.")
    _, policy, rest = page.partition(b'<meta http-equiv="Content-Security-Policy"')
    return page.replace(policy + rest[: rest.index(b">") + 1], b"").replace(before, after)


def _found_before(path: Path, draw: random.Random, plan: Plan) -> tuple[list[Mapping[str, str]], Plan]:
    """What was found of a third of the holes already, by so much that most of them moved; and the plan with it."""
    entries: list[Mapping[str, str]] = []
    for piece in plan.pieces:
        for cut in piece.cuts:
            checks = [check for check in cut.wall_checks if check.fixed and not check.to_middle]
            if not checks or draw.random() > 0.33 or figures_held(plan, piece):
                continue
            check = draw.choice(checks)
            off = draw.choice((-2.5, -1.0, -0.5, 0.5, 1.0, 1.5))
            if check.near + off < 0:
                continue
            entry = {"piece": piece.name, "hole": cut.opening.name}
            entry[str(check.side)] = f"{check.near + off:.6f} mm to {check.far + off:.6f} mm"
            entries.append(entry)
    return entries, make_plan(load_job(path, found=entries))


def _to_try(plan: Plan, draw: random.Random) -> list[int]:
    """Pieces with something to be read, by number; of those that share a hole one, since it is read in each for itself.

    What stops a hole in one piece stands on the sheets of all that it is in.
    """
    chosen, taken = [], set[str]()
    for number, piece in enumerate(plan.pieces):
        holes = {cut.opening.name for cut in piece.cuts}
        if not taken & holes and (holes or draw.random() < TRIMMED_PART):
            chosen.append(number)
            taken |= holes
    return chosen


def _cases(
    page: Page,
    path: Path,
    found: Sequence[Mapping[str, str]],
    plan: Plan,
    draw: random.Random,
    tally: Tally,
    cases: int,
) -> None:
    """The cases of one page: each piece is tapped, and all that is sent back is planned at once."""
    numbers = _to_try(plan, draw)
    before = page.evaluate(TAP, [[number, []] for number in numbers])
    taps = [(number, _taps(one["boxes"], draw)) for number, one in zip(numbers, before, strict=True)]
    taps = [one for one in taps if one[1]][: cases - tally.cases]
    shown_after: list[dict[str, Any]] = page.evaluate(TAP, taps)
    entries = sent_entries(page.evaluate(SENT))
    tally.cases += len(taps)
    try:
        together: Plan | None = make_plan(load_job(path, found=[*found, *entries]))
    except JobError:
        together = None  # one of them is refused: each by itself
    for (number, tapped), after in zip(taps, shown_after, strict=True):
        piece = plan.pieces[number]
        own = [one for one in entries if one["piece"] == piece.name]
        about = f"{piece.name} of {path.read_text('utf-8')!r}, found {found}, tapped {tapped}, sent {own}"
        try:
            anew = together or make_plan(load_job(path, found=[*found, *own]))
        except JobError as error:
            tally.counts["refused by found"] += 1
            if not STOPPED & set(after["told"]):
                tally.wrong.append(f"found refuses it ({error.faults[0].sentence}), the page shows {after}: {about}")
            continue
        after["sides"] = marked_from(plan, piece)
        _compare(anew, next((one for one in anew.pieces if one.name == piece.name), None), after, tally, about)


def _taps(boxes: Sequence[str], draw: random.Random) -> list[tuple[str, int]]:
    """So many steps for each box: both sides of a thing mostly by as much, now and then by one more or less.

    Of some readings nothing is tapped, and some are said to be as expected, by their own name and no step.
    """
    taps = []
    stems = dict.fromkeys(box.rsplit(".", 1)[0] for box in boxes)
    for stem in stems:
        most = MOST_STEPS if stem.startswith("o") or draw.random() < 0.1 else USUAL_STEPS
        by = draw.randint(-most, most) if draw.random() < 0.85 else 0
        if not by:
            taps += [(stem, 0)] if draw.random() < 0.5 else []
            continue
        for box in (one for one in boxes if one.rsplit(".", 1)[0] == stem):
            apart = draw.choice((-1, 1)) if stem.startswith("c") and draw.random() < 0.15 else 0
            taps.append((box, by + apart))
    return taps


def sent_entries(text: str) -> list[dict[str, str]]:
    """The entries of a text that a page sent, as `cutmarks found` keeps them."""
    entries = [json.loads(line[2:]) for line in text.splitlines() if line.startswith("- ")]
    return [{key: value for key, value in one.items() if key not in ("sheet", "fixed")} for one in entries]


def _compare(plan: Plan, piece: CutPiece | None, after: Mapping[str, Any], tally: Tally, about: str) -> None:
    told = set(after["told"])
    if piece is None:
        # What was two parts is one piece now, or the other way round.
        tally.counts["in other parts"] += 1
        if after["rows"]:
            tally.wrong.append(f"the piece is gone, and the page shows {after['rows']}: {about}")
        return
    if piece.cuts:
        _compare_rows(plan, piece, after, told, tally, about)
    if plan.infills_found:
        _compare_sizes(plan, piece, after, tally, about)


def _compare_sizes(plan: Plan, piece: CutPiece, after: Mapping[str, Any], tally: Tally, about: str) -> None:
    """The sizes that a trimmed piece is cut to, opening by opening; of ends shown as one, the one that goes in."""
    for one in (found for found in plan.infills_found if found.piece == piece.name):
        round_it = say_up if one.expected.past else say_down
        number = piece.infills.index(one.expected)
        shown_sizes = [text for key, text in after["sizes"].items() if key.startswith(f"{number}.")]
        ends = [end.cut for end in one.ends]
        if len(shown_sizes) == 1:
            ends = [max(ends) if one.expected.past else min(ends)]
        sizes = [round_it(cut, plan.say.style) for cut in ends]
        tally.counts["sizes compared"] += 1
        if dict.fromkeys(shown_sizes) != dict.fromkeys(sizes):
            tally.wrong.append(f"sizes: the page says {shown_sizes}, found says {sizes}: {about}")


def _compare_rows(
    plan: Plan, piece: CutPiece, after: Mapping[str, Any], told: set[str], tally: Tally, about: str
) -> None:
    stops = {one.rule for one in waiting_for(plan, piece) if one.holds == "all"}
    on_page = {"far", "apart-stop"} & told
    if "held" in told and not on_page:
        # It was stopped as planned; whether what was read puts that right is seen when it is planned anew.
        tally.counts["held as planned"] += 1
        if after["rows"]:
            tally.wrong.append(f"figures of a piece that is held: {about}")
        return
    if stops & FROM_READING or on_page:
        tally.counts["stopped by what was read"] += 1
        if not (stops & FROM_READING and on_page) or after["rows"]:
            tally.wrong.append(f"found stops by {stops}, the page by {told}: {about}")
        return
    if "otherwise" in told:
        tally.counts["not by adding"] += 1
        return
    if stops:
        tally.counts["stopped otherwise"] += 1
        if after["rows"]:
            tally.wrong.append(f"found stops by {stops}, and the page shows {after['rows']}: {about}")
        return
    rows, checks = expected_rows(plan, piece)
    tally.counts["figures compared"] += 1
    tally.counts["figures moved"] += bool({"moved", "moved-on"} & told)
    tally.counts["digits of the print made anew compared"] += "moved" in told
    tally.counts["its digits not known"] += "moved-on" in told
    if after["digits"] not in ([], [piece.fingerprint]):
        tally.wrong.append(f"the page says {after['digits']} is right, found prints {piece.fingerprint}: {about}")
    middles = expected_middles(plan, piece)
    if {"moved-on", "moving"} & told:
        # Read from something else now, it is marked from the other edge on paper; on the page it still is from its own.
        turned = {key for key, side in marked_from(plan, piece).items() if side.opposite == after["sides"].get(key)}
        rows, checks = (
            {key: (other if key in turned else own)[key] for key in own}
            for own, other in ((rows, checks), (checks, rows))
        )
    if (after["rows"], after["checks"], after["middles"]) != (rows, checks, middles):
        tables = (
            ("", after["rows"], rows),
            ("check ", after["checks"], checks),
            ("middle ", after["middles"], middles),
        )
        said = {f"{name}{key}": text for name, shown_here, _ in tables for key, text in shown_here.items()}
        wanted = {f"{name}{key}": text for name, _, expected in tables for key, text in expected.items()}
        differs = {
            key: (said.get(key), wanted.get(key)) for key in {*said, *wanted} if said.get(key) != wanted.get(key)
        }
        tally.wrong.append(f"(the page, found): {differs}: {about}")


def expected_rows(plan: Plan, piece: CutPiece) -> tuple[dict[str, str], dict[str, str]]:
    """The figures to mark and to check with, as the sheets of this plan have them, by cut and row."""
    rows: dict[str, str] = {}
    checks: dict[str, str] = {}
    for index in range(len(piece.cuts)):
        views = views_of(plan, piece, index)
        figures = [text for view in views for text, _ in mark_rows(view, view.piece.cuts[index])]
        rows.update({f"{index}.{n}": text for n, text in enumerate(figures)})
        rest = [
            shown(measure.values[-1], measure.side, view.piece, view.style)[1]
            for view in views
            for measure in checked(view, view.piece.cuts[index])
        ]
        checks.update({f"{index}.{n}": text for n, text in enumerate(rest)})
    return rows, checks


def marked_from(plan: Plan, piece: CutPiece) -> dict[str, Side]:
    """The side of the tile, as it lies to be marked, that each figure is taken from, by cut and row."""
    sides: dict[str, Side] = {}
    for index in range(len(piece.cuts)):
        rows = [row for view in views_of(plan, piece, index) for row in marked(view, view.piece.cuts[index])]
        sides.update({f"{index}.{n}": row.measure.side for n, row in enumerate(rows)})
    return sides


def views_of(plan: Plan, piece: CutPiece, index: int) -> list[Seen]:
    """The templates that a cut stands on, one for each face."""
    views: dict[bool, Seen] = {}
    for registration in plan.registrations:
        if registration.piece == piece.name and index in registration.cuts:
            views.setdefault(registration.back, seen(plan, piece, registration))
    return list(views.values())


def expected_middles(plan: Plan, piece: CutPiece) -> dict[str, str]:
    """The middles of cores that only bite into the piece, as its first sheet has each, by cut and row."""
    middles: dict[str, str] = {}
    for index in range(len(piece.cuts)):
        for view in views_of(plan, piece, index)[:1]:
            told = middle_words(view, view.piece.cuts[index]).removeprefix(ITS_MIDDLE).split(", ")
            on_tile = [words.split(" from the ")[0] for words in told if " from the " in words]
            if bites(view.piece.cuts[index]):
                middles.update({f"{index}.{n}": text for n, text in enumerate(on_tile)})
    return middles


def report(tally: Tally) -> bool:
    """Print what was seen; whether all of it holds."""
    print(f"{tally.cases} cases: " + "; ".join(f"{count} {what}" for what, count in sorted(tally.counts.items())))
    for sentence in tally.wrong[:5]:
        print(f"WRONG {sentence}")
    compared = sum(tally.counts[what] for what in ("figures compared", "sizes compared", "stopped by what was read"))
    enough = compared >= LEAST_COMPARED * tally.cases
    print(f"{len(tally.wrong)} wrong; {compared} compared" + ("" if enough else ": too few to say anything"))
    return not tally.wrong and enough


FAULTS = (
    'check.s === "left" || check.s === "bottom" ? 1 : -1=>1',
    "row.n === 0 || (row.n > 1=>row.n === 1 || (row.n > 1",
    "(twice + STEP) / (2 * STEP)=>(twice + STEP - 2) / (2 * STEP)",
    ">= plan.act=>> plan.act + 500000",
    "return Math.floor(length / STEP);=>return Math.round(length / STEP);",
    "cut.m[check.a] + sign=>sign",
    "away > cut.l=>away > 1.1 * cut.l",
    "check.b || both(check.e)=>both(check.e)",
    "at(row, row.v[0])=>2 * row.v[0]",
    "(y[0] !== null && away <= y[0] + NEAR)=>false",
)
"""Slips in the script's arithmetic, each of which the campaign has to find."""


def main() -> int:
    """Run the campaign."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--cases", type=int, default=2000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--faults", action="store_true", help="plant slips in the page's script: each must be found")
    given = parser.parse_args()
    why = missing()
    if why:
        print(why)
        return 2
    with browser() as opened:
        if not given.faults:
            return 0 if report(run(opened, given.cases, given.seed)) else 1
        unseen = [plant for plant in FAULTS if not run(opened, given.cases, given.seed, plant).wrong]
    for plant in unseen:
        print(f"NOT FOUND {plant}")
    print(f"{len(FAULTS) - len(unseen)} of {len(FAULTS)} slips found")
    return 1 if unseen else 0


if __name__ == "__main__":
    sys.exit(main())
