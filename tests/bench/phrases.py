"""Bench: what people say on site who have not seen the grammar, each read in a whole job.

    python -m tests.bench.phrases              # how many are taken, asked back, refused; the refused ones
    python -m tests.bench.phrases --asked      # with every question that is asked
    python -m tests.bench.phrases --say us     # of one country alone

tests/job/said_on_site.jsonl holds them, one a line: the phrase, the key it was said for, the lines, edges and other
holes round it, what it means, and what must come out (`expect`, worked by hand from what it means, in the job's unit).
`ask` stands where it can mean two things, or says more than its key holds; `leads` is what the question must then say.

A phrase that says more than one key holds stands in a line of its own (`field` hole): `around` is the sentence that it
was said in, with {} in its place, and `expect` a hole, or a list of them. What a line says of an edge, a tile or an
area is read under the key `edge`, `tile`, `area`, and so on, which takes a line as it is said.

    python -m tests.bench.phrases --file FILE  # those of a file of your own, in a simpler form

A file of your own has a sentence a line, a tab, and what must come out of it. Lines that begin with # set what holds
for the sentences behind them: `# units: in`, `# kind: floor`, `# lines: V = plumb, middle of the sink | B = level, top
of the batten`, `# edges: right = door frame | bottom = floor`, `# holes: outlet | switch`, `# key: hole`. The key is
what is said: hole (one line of all of it), across, up, what, cover, edge left (or another side), tile, area, start,
bond, joint, work, line. What must come out is a list of `name = value` with semicolons between, of several holes with +
too:

    hot, 15 copper, 64 to 80 left of V, 92 to 107 above B<TAB>across = -80 to -64 V; up = 92 to 107 B; od = 15
    taps, 15 copper, 150 crs, split on V, 240 above B to centre<TAB>across = centre -75 V + across = centre 75 V
    LH wall 1206 top, 1211 btm from V<TAB>at = -1206 top | -1211 bottom
    78 L<TAB>ask

Of a place: both sides, `centre`, `low` or `high` (the side with the smaller or larger coordinate), right and up
positive, and from what: a line's name, `left edge`, `hole outlet`. Others: name, od, w, h, cover (65, 147 x 86, none),
opening, play, end, depth; of an edge at, true, what, come; of a tile w, h, lay, joint, measured; of a start across and
up (`middle V 0`); of a bond part, way, mm, lay, turn; of a line kind, words; of work work; of an area (its tile is
called pale) name, tile, joint, part, lay, from, to, right of, left of (`600 B`). What is not named is not looked at.
`ask` alone is for what can mean two things: it must be asked, in a sentence that says what to write; `ask = WORDS`, in
one that has these words in it.

    taken    read, and read as it was meant
    asked    refused as it should be, in a sentence that leads on
    refused  refused, and it need not have been; or in a sentence that leads nowhere
    wrong    read, and not as it was meant: there must be none
"""

from __future__ import annotations

import argparse
import json
import re
import sys
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from fractions import Fraction
from pathlib import Path
from typing import Any, Literal

from msgspec import Struct

from cutmarks.errors import JobError
from cutmarks.job import build_job
from cutmarks.job.models import HoleSpec, Job
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


class Verdict(Struct, frozen=True, dict=True):
    """What became of one phrase; `told` is what was read, or the sentence."""

    row: Row
    outcome: Outcome
    told: str


def said(path: Path = SAID) -> list[Row]:
    """All phrases, in the order in which they were collected; of a file of the simpler form too."""
    lines = path.read_text(encoding="utf-8").splitlines()
    return [json.loads(line) for line in lines] if path.suffix == ".jsonl" else list(_simple(lines))


USUAL_LINES = {"wall": "V = plumb | B = level", "floor": "C = across | D = along"}


def _simple(lines: Iterable[str]) -> Iterator[Row]:
    """The rows of a file that has a sentence a line, and what must come out of it behind a tab."""
    around = {"units": "mm", "kind": "wall", "key": "hole", "edges": "", "holes": "", "lines": ""}
    for number, line in enumerate(lines, 1):
        sentence, tab, wanted = line.partition("\t")
        if line.startswith("#"):
            word, colon, value = line[1:].partition(":")
            if colon and word.strip() in around:
                around[word.strip()] = value.strip()
        elif tab and sentence.strip():
            field, _, side = around["key"].partition(" ")
            row: dict[str, Any] = {
                "id": f"line {number}",
                "field": field,
                "phrase": sentence.strip(),
                "say": "us" if around["units"] in ("in", "ft") else "uk",
                "units": around["units"],
                "kind": around["kind"],
                "lines": dict(_pairs(around["lines"] or USUAL_LINES[around["kind"]], "|")),
                "edges": dict(_pairs(around["edges"], "|")),
                "holes": [name.strip() for name in around["holes"].split("|") if name.strip()],
                **({"side": side} if side else {}),
            }
            yield row | _wanted(wanted, field)


def _pairs(text: str, between: str) -> Iterator[tuple[str, str]]:
    for part in text.split(between):
        word, equals, value = part.partition("=")
        if equals:
            yield word.strip(), value.strip()


def _wanted(text: str, field: str) -> dict[str, Any]:
    """What must come out, of the form `across = -80 to -64 V; od = 15 + ...`."""
    things = [dict(_pairs(thing, ";")) for thing in text.split(" + ")]
    if "ask" in things[0] or text.strip() == "ask":
        return {"ask": "it can mean two things", "leads": things[0].get("ask") or LEADING}
    if field == "hole":
        return {"expect": [{key: _simple_value(key, value) for key, value in thing.items()} for thing in things]}
    only = {key: _simple_value(key, value, field) for key, value in things[0].items()}
    return {"expect": only[field] if field in ("across", "up") and field in only else only}


def _simple_value(key: str, value: str, field: str = "hole") -> object:
    if field == "start":
        anchored = _ANCHORED.match(value)
        return list(anchored.groups()) if anchored else value
    if field == "area" and key in ("from", "to", "right of", "left of"):
        return list(value.rpartition(" ")[::2])
    if key == "at":
        return [
            list(reading.strip().partition(" at ")[::2])
            if " at " in reading
            else _figure_and_word(reading.strip(), ("top", "bottom", "left", "right"))
            for reading in value.split("|")
        ]
    if key not in ("across", "up"):
        return value
    place, ref = _figure_and_word(value, ("edge", "hole"))
    how, _, figure = place.partition(" ")
    if how in ("centre", "low", "high"):
        return {how: figure, "ref": ref}
    low, _, high = place.partition(" to ")
    return {"low": low, "high": high, "ref": ref}


_ANCHORED = re.compile(r"(joint|middle|left|right|sits on|hangs from|corner|crossing) (\S+) (\S.*)$")


def _figure_and_word(text: str, words: Sequence[str]) -> list[str]:
    """Figures and what stands behind them: "-3 1/4 to -2 5/8 V", "120 right edge", "centre 30 hole outlet", "884"."""
    parts = text.split()
    if words[0] == "edge":
        count = 2 if parts[-1] == "edge" or parts[-2] == "hole" else 1
    else:
        count = 1 if parts[-1] in words else 0
    return [" ".join(parts[: len(parts) - count]), " ".join(parts[len(parts) - count :])]


def verdicts(rows: Iterable[Row]) -> Iterator[Verdict]:
    """Read each phrase in a job of its own."""
    for row in rows:
        try:
            got = _read(row, build_job(_job(row)))
        except JobError as error:
            leads = row.get("leads", "")
            sentences = [fault.sentence for fault in error.faults]
            leads_on = any(leads in sentence for sentence in sentences) if leads != LEADING else _lead_on(sentences)
            asked = "ask" in row and bool(leads) and leads_on
            yield Verdict(row, "asked" if asked else "refused", " | ".join(sentences))
            continue
        expect = row.get("expect")
        if isinstance(expect, Mapping) and "at" in expect:
            row = {**row, "expect": {**expect, "at": _by_end(expect["at"], Unit(row["units"]))}}
        is_right = "expect" in row and _agrees(got, row["expect"], Unit(row["units"]))
        yield Verdict(row, "taken" if is_right else "wrong", str(got))


LEADING = "what to write"
"""In place of the words of a question: any that say what to write."""


def _lead_on(sentences: Iterable[str]) -> bool:
    """Whether each sentence says what to write, or by what example."""
    return all(
        any(words in sentence for words in ("write", "as in", "begin with", "leave one out", "read both"))
        for sentence in sentences
    )


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
            ends = ("bottom", "top") if row["side"] in ("left", "right") else ("left", "right")
            surface["edges"] = {row["side"]: phrase, **{side: _edge(side, "", row) for side in ends}}
        case "line":
            own = next((name for name in row["lines"] if phrase.split()[0] == name), None)
            surface["lines"] = {**row["lines"], own or level: phrase}
        case "bond" | "start" | "work" | "joint":
            area[field] = phrase
        case "tile":
            tile = phrase
            if "joint" in row.get("expect", ("joint",)):
                del area["joint"]  # the sentence says it; of one that does not the area does, as in any job
        case "doors":
            surface["doors"] = [phrase]
    others = [
        {"name": name, "across": f"centre {300 + 40 * number} mm right of {plumb}", up: above, "diameter": "1 in"}
        for number, name in enumerate(row.get("holes", ()))
    ]
    surface["areas"] = [phrase] if field == "area" else [area]
    first: object = row.get("around", "{}").replace("{}", phrase) if field == "hole" else hole
    surface["holes"] = [first, *others]
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


def _read(row: Row, job: Job) -> object:
    """What was read, in the words of `expect`."""
    surface = job.surfaces[0]
    hole, area = surface.holes[0], surface.areas[0]
    match row["field"]:
        case "hole":
            others = len(row.get("holes", ()))
            said = [one for one in surface.holes if one.name not in row.get("holes", ())]
            assert len(said) + others == len(surface.holes)
            return [_of_a_hole(one, surface.holes) for one in said]
        case "across" | "up":
            reading = hole.across if row["field"] == "across" else hole.up
            assert reading is not None
            return _place(reading)
        case "what":
            return _size(hole)
        case "cover":
            cover = hole.cover
            return {"w": cover.first, "h": cover.second} if isinstance(cover, Size) else {"od": cover}
        case "edge":
            edge = surface.edges[Side(row["side"])]
            return {
                "at": _by_end([one.at.low, _end(one.along, edge.side)] for one in edge.readings),
                "true": edge.true,
                "what": edge.what,
                "come": edge.still_to_come if edge.still_to_come_known else "?",
            }
        case "tile":
            tile = job.tiles["pale"]
            return {
                "w": tile.size.first,
                "h": tile.size.second,
                "lay": tile.lay or "",
                "joint": area.joint,
                "measured": "yes" if tile.measured else "no",
            }
        case "joint":
            return {"joint": area.joint}
        case "bond":
            bond = area.bond
            return {"part": bond.part, "way": bond.way, "mm": bond.mm, "lay": area.lay or "", "turn": f"{area.turn:g}"}
        case "start":
            starts = {"across": area.start_across, "up": area.start_up}
            return {
                axis: [start.anchor, start.at.start.name, start.at.low]
                for axis, start in starts.items()
                if start is not None and start.at.start is not None
            }
        case "line":
            line = next(line for line in surface.lines if line.name == _line_of(row))
            return {"kind": line.kind, "words": line.words}
        case "work":
            return {"work": area.work}
        case "area":
            limits = {"from": area.from_, "to": area.to, "right of": area.right_of, "left of": area.left_of}
            return {
                **{
                    key: [at.low, at.start.name]
                    for key, at in limits.items()
                    if at is not None and at.start is not None
                },
                "name": area.name,
                "tile": area.tile,
                "joint": area.joint,
                "part": area.bond.part,
                "lay": area.lay or "",
            }
        case _:
            return {"taken": row["phrase"]}


def _line_of(row: Row) -> str:
    return next((name for name in row["lines"] if row["phrase"].split()[0] == name), _lines(row)[1])


def _size(hole: HoleSpec) -> dict[str, object]:
    fitting = hole.fitting
    if fitting is None:
        return {"size": "read"}
    if fitting.choices:
        return {"size": f"of the {fitting.kind}, not said"}
    return {"od": fitting.od} if fitting.od is not None else {"w": fitting.w, "h": fitting.h}


def _of_a_hole(hole: HoleSpec, holes: Sequence[HoleSpec]) -> dict[str, object]:
    """All that was read of one hole; what lies so far from another is told from where that one is read."""
    size = dict(_size(hole)) if hole.size is None else {"w": hole.size.first, "h": hole.size.second}
    if hole.diameter is not None:
        size = {"od": hole.diameter}
    cover = hole.cover
    told: dict[str, object] = {
        **size,
        "name": hole.name,
        "cover": [cover.first, cover.second] if isinstance(cover, Size) else cover,
        "opening": [hole.opening.first, hole.opening.second] if isinstance(hole.opening, Size) else hole.opening,
        "play": hole.play,
        "end": hole.end,
        "depth": hole.depth,
    }
    for axis, reading in (("across", hole.across), ("up", hole.up)):
        if reading is not None:
            told[axis] = _from_a_line(reading, axis, holes)
    return told


def _from_a_line(reading: Reading, axis: str, holes: Sequence[HoleSpec]) -> dict[str, object]:
    place = _place(reading)
    other = next((one for one in holes if reading.how == "level with" and one.name == reading.other), None)
    if other is None:
        return place
    of = other.across if axis == "across" else other.up
    assert of is not None
    there = _from_a_line(of, axis, holes)
    middle = there.get("centre")
    return {"centre": middle + reading.low, "ref": there["ref"]} if isinstance(middle, int | float) else place


def _by_end(readings: Iterable[Sequence[object]], unit: Unit = Unit.MM) -> list[Sequence[object]]:
    """The readings of an edge by the end that each was taken at: in which order they were said does not count.

    unit  of how far along it one was taken, where that is no end: it comes out in mm.
    """

    def end(one: Sequence[object]) -> str:
        said = str(one[1]) if one[1:] else ""
        return f"{parse_length(said, unit).mm:g}" if said[:1].isdigit() else said

    return sorted(([one[0], end(one)] for one in readings), key=lambda one: str(one[1]))


def _end(along: Reading | None, side: Side) -> str:
    """At which end of an edge a reading was taken; the edges there lie far off on both sides of the lines."""
    if along is None:
        return ""
    ends = ("bottom", "top") if side.axis == "across" else ("left", "right")
    return ends[along.low > 0] if abs(along.low) > _AT_AN_END else f"{along.low:g}"


_AT_AN_END = 2_900
"""The edges lie farther off than any place that is said along one, mm."""


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
        if "across" in wanted or "up" in wanted or "name" in wanted or "tile" in wanted:
            return all(key in got and _agrees(got[key], held, unit) for key, held in wanted.items())
        shared = [key for key in wanted if key in got]
        of_place = {"low", "high", "centre"} & set(wanted)
        enough = bool(of_place & set(got)) if of_place else len(shared) == len(wanted)
        return enough and all(_agrees(got[key], wanted[key], unit) for key in shared)
    if isinstance(wanted, list):
        return isinstance(got, list) and len(got) == len(wanted) and all(map(_agrees, got, wanted, [unit] * len(got)))
    if isinstance(got, list) and isinstance(wanted, str):
        return " x " in wanted and _agrees(got, wanted.split(" x "), unit)
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
    parser.add_argument("--file", type=Path, default=SAID, help="sentences of your own, each with what must come out")
    parser.add_argument("--say", choices=("uk", "us"), help="those of one country alone")
    options = parser.parse_args(arguments)
    rows = [row for row in said(options.file) if options.say in (None, row["say"])]
    found = list(verdicts(rows))
    shown = ("refused", "wrong", *(("asked",) if options.asked else ()))
    for verdict in found:
        if verdict.outcome in shown:
            row = verdict.row
            print(f"{verdict.outcome:8} {row['id']:6} {row['field']:7} {row['phrase']}\n         {verdict.told}")
    counts = Counter(verdict.outcome for verdict in found)
    good = counts["taken"] + counts["asked"]
    leading = sum(one.outcome == "refused" and _lead_on(one.told.split(" | ")) for one in found)
    print(
        f"{len(found)} said: {counts['taken']} taken, {counts['asked']} asked back, {counts['refused']} refused "
        f"({leading} of them with what to write), {counts['wrong']} wrong; {100 * good / len(found):.1f} % taken or "
        "asked"
    )
    return 0 if not counts["wrong"] and good >= LEAST * len(found) else 1


if __name__ == "__main__":
    sys.exit(main())
