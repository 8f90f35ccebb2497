"""Bench: what people say on site who have not seen the grammar, each read in a whole job.

    python -m tests.bench.phrases              # how many are taken, asked back, refused; the refused ones
    python -m tests.bench.phrases --asked      # with every question that is asked
    python -m tests.bench.phrases --say us     # of one country alone

tests/job/said_on_site.jsonl holds them, one a line: the phrase, the key it was said for, the lines, edges and other
holes round it, what it means, and what must come out (`expect`, worked by hand from what it means, in the job's unit).
`ask` stands where it can mean two things, or says more than its key holds; `leads` is what the question must then say.

    taken    read, and read as it was meant
    asked    refused as it should be, in a sentence that leads on
    refused  refused, and it need not have been; or in a sentence that leads nowhere
    wrong    read, and not as it was meant: there must be none
"""

from __future__ import annotations

import argparse
import json
import sys
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from typing import Any, Literal

from cutmarks.errors import JobError
from cutmarks.job import build_job
from cutmarks.job.models import Job
from cutmarks.readings import Reading, Size
from cutmarks.sides import Side
from cutmarks.units import Unit, parse_length

SAID = Path(__file__).parents[1] / "job" / "said_on_site.jsonl"
LEAST = 0.9
"""So much of all that is said must be taken or asked."""
FAR = {"mm": "3000", "in": "118"}
"""How far the edges lie that a phrase is read from; nothing here is said of how far."""
Outcome = Literal["taken", "asked", "refused", "wrong"]
Row = Mapping[str, Any]


@dataclass(frozen=True)
class Verdict:
    """What became of one phrase; `told` is what was read, or the sentence."""

    row: Row
    outcome: Outcome
    told: str


def said(path: Path = SAID) -> list[Row]:
    """All phrases, in the order in which they were collected."""
    return [json.loads(line) for line in path.read_text(encoding="utf-8").splitlines()]


def verdicts(rows: Iterable[Row]) -> Iterator[Verdict]:
    """Read each phrase in a job of its own."""
    for row in rows:
        try:
            got = _read(row, build_job(_job(row)))
        except JobError as error:
            leads = row.get("leads", "")
            sentences = [fault.sentence for fault in error.faults]
            leads_on = bool(leads) and any(leads in sentence for sentence in sentences)
            yield Verdict(row, "asked" if "ask" in row and leads_on else "refused", " | ".join(sentences))
            continue
        is_right = "expect" in row and _agrees(got, row["expect"], Unit(row["units"]))
        yield Verdict(row, "taken" if is_right else "wrong", str(got))


def _job(row: Row) -> dict[str, object]:
    """A job in which the phrase stands under its own key."""
    phrase, field, unit = row["phrase"], row["field"], row["units"]
    plumb, level = _lines(row)
    up = "up" if row["kind"] == "wall" else "in"
    above = f"centre 100 {'above' if up == 'up' else 'from'} {level}"
    hole: dict[str, object] = {"name": "the one", "across": f"on {plumb}", up: above, "diameter": "1 in"}
    area: dict[str, object] = {"name": "field", "tile": "pale", "joint": "2 mm"}
    tile: object = {"size": "300 mm x 600 mm", "measured": "yes"}
    surface: dict[str, object] = {
        "name": "here",
        "kind": row["kind"],
        "lines": dict(row["lines"]),
        "edges": {side: _edge(side, what, row) for side, what in row.get("edges", {}).items()},
    }
    match field:
        case "across":
            hole["across"] = phrase
        case "up":
            hole[up] = phrase
        case "what":
            hole = {"name": "the one", "what": phrase, "across": f"0 to 20 mm right of {plumb}", up: above}
        case "cover":
            hole[field] = phrase
        case "edge":
            surface["edges"] = {row["side"]: phrase}
        case "line":
            own = next((name for name in row["lines"] if phrase.split()[0] == name), None)
            surface["lines"] = {**row["lines"], own or level: phrase}
        case "bond" | "start" | "work":
            area[field] = phrase
        case "tile":
            tile = phrase
        case "doors":
            surface["doors"] = [phrase]
    others = [
        {"name": name, "across": f"centre {300 + 40 * number} mm right of {plumb}", up: above, "diameter": "1 in"}
        for number, name in enumerate(row.get("holes", ()))
    ]
    surface["areas"] = [phrase] if field == "area" else [area]
    surface["holes"] = [hole, *others]
    return {"job": "said", "units": unit, "say": row["say"], "tiles": {"pale": tile}, "surfaces": [surface]}


def _lines(row: Row) -> tuple[str, str]:
    """The names of the line that fixes across, and of the one that fixes up."""
    across = ("plumb", "across")
    return (
        next(name for name, words in row["lines"].items() if words.startswith(across)),
        next(name for name, words in row["lines"].items() if not words.startswith(across)),
    )


def _edge(side: str, what: str, row: Row) -> dict[str, object]:
    plumb, level = _lines(row)
    on_a_wall = row["kind"] == "wall"
    words = {
        "left": f"left of {plumb}",
        "right": f"right of {plumb}",
        "bottom": f"below {level}" if on_a_wall else f"short of {level}",
        "top": f"above {level}" if on_a_wall else f"from {level}",
    }
    return {"at": f"{FAR[row['units']]} {words[side]}", "what": what, "true": "yes"}


def _read(row: Row, job: Job) -> dict[str, object]:
    """What was read, in the words of `expect`."""
    surface = job.surfaces[0]
    hole, area = surface.holes[0], surface.areas[0]
    match row["field"]:
        case "across" | "up":
            reading = hole.across if row["field"] == "across" else hole.up
            assert reading is not None
            return _place(reading)
        case "what":
            fitting = hole.fitting
            if fitting is None:
                return {"size": "read"}
            if fitting.choices:
                return {"size": f"of the {fitting.kind}, not said"}
            return {"od": fitting.od} if fitting.od is not None else {"w": fitting.w, "h": fitting.h}
        case "cover":
            cover = hole.cover
            return {"w": cover.first, "h": cover.second} if isinstance(cover, Size) else {"od": cover}
        case "bond":
            return {"part": area.bond.part, "way": area.bond.way, "mm": area.bond.mm}
        case "start":
            starts = {"across": area.start_across, "up": area.start_up}
            return {
                axis: [start.anchor, start.at.start.name, start.at.low]
                for axis, start in starts.items()
                if start is not None and start.at.start is not None
            }
        case "line":
            line = next(line for line in surface.lines if row["phrase"].startswith(line.name))
            return {"kind": line.kind, "words": line.words}
        case _:
            return {"taken": row["phrase"]}


def _place(reading: Reading) -> dict[str, object]:
    """A reading as coordinates from what it is read from: right and up positive, from an edge too."""
    if reading.how == "level with":
        return {"centre": reading.low, "ref": f"hole {reading.other}"}
    start = reading.start
    assert start is not None
    is_edge = start.kind == "edge"
    sign = -1.0 if is_edge and start.side in (Side.RIGHT, Side.TOP) else 1.0
    ref = f"{start.side} edge" if is_edge else start.name
    if reading.high is None:
        return {reading.how: sign * reading.low, "ref": ref}
    low, high = sorted((sign * reading.low, sign * reading.high))
    return {"low": low, "high": high, "centre": (low + high) / 2, "ref": ref}


def _agrees(got: object, wanted: object, unit: Unit) -> bool:
    """Whether what was read is what was meant, as far as it was said; lengths to a thousandth of a millimetre.

    Of a place so much must have been read that it is one: a side, or the middle, and from what.
    """
    if isinstance(wanted, Mapping):
        if not isinstance(got, Mapping):
            return False
        shared = [key for key in wanted if key in got]
        of_place = {"low", "high", "centre"} & set(wanted)
        enough = bool(of_place & set(got)) if of_place else len(shared) == len(wanted)
        return enough and all(_agrees(got[key], wanted[key], unit) for key in shared)
    if isinstance(wanted, list):
        return isinstance(got, list) and len(got) == len(wanted) and all(map(_agrees, got, wanted, [unit] * len(got)))
    if isinstance(got, Fraction):
        return got == Fraction(str(wanted))
    if isinstance(got, int | float):
        typed = str(wanted)
        mm = parse_length(typed.lstrip("-"), unit).mm
        return abs(got - (-mm if typed.startswith("-") else mm)) < 0.001
    return str(got) == str(wanted)


def main(arguments: list[str] | None = None) -> int:
    """Say what became of them all; 1 where one is wrong, or too many are refused."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--asked", action="store_true", help="say every question too")
    parser.add_argument("--say", choices=("uk", "us"), help="those of one country alone")
    options = parser.parse_args(arguments)
    rows = [row for row in said() if options.say in (None, row["say"])]
    found = list(verdicts(rows))
    shown = ("refused", "wrong", *(("asked",) if options.asked else ()))
    for verdict in found:
        if verdict.outcome in shown:
            row = verdict.row
            print(f"{verdict.outcome:8} {row['id']:6} {row['field']:7} {row['phrase']}\n         {verdict.told}")
    counts = Counter(verdict.outcome for verdict in found)
    good = counts["taken"] + counts["asked"]
    print(
        f"{len(found)} said: {counts['taken']} taken, {counts['asked']} asked back, {counts['refused']} refused, "
        f"{counts['wrong']} wrong; {100 * good / len(found):.1f} % taken or asked"
    )
    return 0 if not counts["wrong"] and good >= LEAST * len(found) else 1


if __name__ == "__main__":
    sys.exit(main())
