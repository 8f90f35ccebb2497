"""The differences between two checkouts that are meant, each with its reason: written before the comparison is run.

A row says of which kind of output it speaks and decides by itself whether it explains one difference. What no row
explains fails the comparison. Rows stay for as long as a checkout from before them is compared with.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from tests.bench.compare_outputs import NOTHING, Difference, Kind, Output
from tests.bench.compare_read import Row, csv_rows, pages_of

Explains = Callable[[Difference, Output, Output], bool]


@dataclass(frozen=True)
class Intended:
    """One intended difference.

    name      what it is called in the report.
    kinds     the kinds of difference that it may explain.
    path      what the difference's path must match, from its beginning.
    explains  whether it explains one, given both outputs of the job.
    reason    why it is meant.
    """

    name: str
    kinds: tuple[Kind, ...]
    path: str
    explains: Explains
    reason: str

    def takes(self, one: Difference, before: Output, after: Output) -> bool:
        return one.kind in self.kinds and bool(re.match(self.path, one.path)) and self.explains(one, before, after)


def _plain(text: str) -> str:
    return re.sub(r"[^a-z0-9]", "", text.casefold())


def _piece_of(key: str, output: Output) -> str | None:
    """The piece that a file's key speaks of: the longest name that stands in it."""
    return max((name for name in output.pieces if name in key), key=len, default=None)


def name_with_job(one: Difference, before: Output, after: Output) -> bool:
    """The file's name has the job and the piece's fingerprint in it, and all parts that it had, in their order."""
    piece = _piece_of(one.file, after)
    was, now = (re.split(r"[_/.]", str(name)) for name in (one.before, one.after))
    parts = iter(now)
    return (
        piece is not None
        and after.pieces[piece]["fingerprint"] in one.after
        and _plain(after.plan["job"])[:20] in _plain(one.after)
        and all(part in parts for part in was)
    )


def job_column(one: Difference, before: Output, after: Output) -> bool:
    """A new column says the job in every row."""
    return one.before is NOTHING and set(one.after) <= {after.plan["job"]}


def cell_of_renamed(one: Difference, before: Output, after: Output) -> bool:
    """A cell names the paired drawing by the name that it now has."""
    pairs = {(name, after.files().get(key)) for key, name in before.files().items()}
    return (one.before, one.after) in pairs


def sha_of_drawing(one: Difference, before: Output, after: Output) -> bool:
    """The sum is the beginning of that of a drawing that lies there; what differs in the drawing is told by itself."""
    sums = [output.sha(name) for output in (before, after) for name in output.files().values() if name.endswith(".dxf")]
    return all(any(whole.startswith(value) for whole in sums) for value in (one.before, one.after) if value)


def remark_with_job(one: Difference, before: Output, after: Output) -> bool:
    """Remarks (group code 999) were added to a DXF, and nothing was taken away."""
    return one.before == () and all(row.words.startswith("999 ") for row in one.after)


MIXED_NUMBER = re.compile(r"\d \d+/\d+")


@lru_cache(maxsize=8)
def _printed(path: Path) -> tuple[str, Counter[str], Counter[tuple[str, tuple[float, ...]]]]:
    """The text of a PDF, its words, and all that is drawn in it but for how high it stands."""
    pages = pages_of(path)
    words = [word for page in pages for word in page.words]
    rows = [row for page in pages for row in page.drawn]
    return " ".join(words), Counter(words), Counter((row.words, _across(row)) for row in rows)


def _across(row: Row) -> tuple[float, ...]:
    """The figures of a row without those that say how high it stands: its line's width, and each x."""
    pen = 0 if " line - " in row.words else 1
    return tuple(round(figure, 2) + 0.0 for figure in (*row.figures[:pen], *row.figures[pen::2]))


def lines_with_fractions(one: Difference, before: Output, after: Output) -> bool:
    """Fewer lines, so that rows stand higher; every word of the file, and all that is drawn, is still there."""
    was, now = (_printed(output.folder / output.files()[one.file]) for output in (before, after))
    return bool(MIXED_NUMBER.search(was[0])) and was[1:] == now[1:]


def pairs_of(before: Output, after: Output) -> dict[str, set[str]]:
    """For each fingerprint of a piece now, all that the same pieces had before."""
    pairs: dict[str, set[str]] = {}
    for name, piece in after.pieces.items():
        if name in before.pieces:
            pairs.setdefault(piece["fingerprint"], set()).add(before.pieces[name]["fingerprint"])
    return pairs


def print_anew(one: Difference, before: Output, after: Output) -> bool:
    """Fingerprints of pieces, and nothing else: each that is there now had one before, and another one."""
    pairs = pairs_of(before, after)
    was, now = str(one.before).split(), str(one.after).split()
    return len(was) == len(now) > 0 and all(
        a in pairs.get(b, ()) and len(pairs[b]) == 1 for a, b in zip(was, now, strict=True)
    )


def beside_a_join(one: Difference, before: Output, after: Output) -> bool:
    """The longer wording beside a join for the shorter, or the other way round."""
    longer, shorter = sorted((str(one.before), str(one.after)), key=len, reverse=True)
    return longer == f"{shorter}, cross on cross" or (longer, shorter) == (", cross on cross", "")


LEEWAY_RULES = {
    *("shows past its cover", "cover laps little", "cover may not hide it", "not sure", "cannot be put on"),
    *("readings disagree", "reading does not fit", "found too far", "sides disagree", "thin bridge", "slot sides"),
}
"""Findings that read how far a hole may be off, how its cover laps, or whether a notch would be hidden."""


def not_round(output: Output) -> set[str]:
    """The holes that are not a closed round one under a round cover or none."""
    plates = {row["hole"] for row in csv_rows(output.folder / "holes.csv") if " x " in row["cover mm"]}
    return plates | {hole["name"] for hole in output.plan["penetrations"] if "circle" not in hole["opening"]}


def leeway_cell(one: Difference, before: Output, after: Output) -> bool:
    """How far a hole that is not round under round may be off."""
    row = csv_rows(after.folder / "holes.csv")[int(re.findall(r"\d+", one.path)[0]) - 2]
    return row["hole"] in not_round(before)


def leeway_chance(one: Difference, before: Output, after: Output) -> bool:
    """How sure a hole is that is not round under round."""
    number = int(one.path.split("/")[2])
    return before.plan["sure"][number]["penetration"] in not_round(before)


def leeway_finding(one: Difference, before: Output, after: Output) -> bool:
    """What is found of a hole that is not round under round, by a rule that reads its leeway."""
    number = int(one.path.split("/")[2])
    found = [
        value if isinstance(value, dict) else output.plan["findings"][number]
        for value, output in ((one.before, before), (one.after, after))
        if value is not NOTHING
    ]
    return all(each["rule"] in LEEWAY_RULES and not_round(before) & set(each["about"]) for each in found)


def _changed_findings(before: Output, after: Output) -> set[str]:
    """What findings say on one side alone, each with its source behind it."""
    texts = [{f"{one['text']} ({one['source']})" for one in output.plan["findings"]} for output in (before, after)]
    return texts[0] ^ texts[1]


def follows_from_findings(one: Difference, before: Output, after: Output) -> bool:
    """Words of a finding that one side alone has, a count of findings, or a figure of a leeway that has changed."""
    said = {word for text in _changed_findings(before, after) for word in text.split()} | _LEVELS
    figures = _leeways(before, after) | _times(before, after) | _COUNTS
    words = f"{one.before} {one.after}".split()
    return all(word in said or word.strip("(),.") in figures for word in words)


def sentences_of_findings(one: Difference, before: Output, after: Output) -> bool:
    """Of the sentences in a cell those that one side alone has are findings that one side alone has."""
    sides = [set(re.sub("(STOP|CHECK|NOTE): ", "", str(value)).split(" | ")) for value in (one.before, one.after)]
    changed = _changed_findings(before, after)
    return all(not said or any(text.startswith(said) for text in changed) for said in sides[0] ^ sides[1])


def _times(before: Output, after: Output) -> set[str]:
    """So many times in 1000, of the holes that are not round under round."""
    odd = not_round(before)
    sure = [one for output in (before, after) for one in output.plan["sure"]]
    return {str(int(one["chance"] * 1000 + 1e-9)) for one in sure if one["penetration"] in odd}


_LEVELS = {"STOP", "CHECK", "NOTE", "STOP:", "CHECK:", "NOTE:"}


def _leeways(before: Output, after: Output) -> set[str]:
    """How far the holes that are not round under round may be off, as it is printed: down to a half."""
    odd, found = not_round(before), set()
    for output in (before, after):
        for row in csv_rows(output.folder / "holes.csv"):
            if row["hole"] in odd and row["you may be mm"]:
                halves = int(float(row["you may be mm"]) * 2 + 1e-6)
                found.add(f"{halves // 2 or ('' if halves % 2 else 0)}{'½' if halves % 2 else ''}")
    return found


_COUNTS = {str(number) for number in range(40)}


def note_of_how_sure(one: Difference, before: Output, after: Output) -> bool:
    """The job sheet says that HOW SURE counts without the lap."""
    return (one.before, one.after) == ("together", "together; until it shows, the lap not counted")


def chance_in_fewer_steps(one: Difference, before: Output, after: Output) -> bool:
    """A chance that differs by what the integral is good to."""
    return abs(one.before - one.after) <= 1.5e-4


def times_in_fewer_steps(one: Difference, before: Output, after: Output) -> bool:
    """So many times in 1000, one more or less."""
    counts = [str(value).split() for value in (one.before, one.after)]
    return all(len(count) == 1 and count[0].isdigit() for count in counts) and (
        abs(int(one.before) - int(one.after)) == 1 and int(one.before) > 20
    )


INTENDED: tuple[Intended, ...] = (
    Intended(
        "lines with fractions",
        ("words", "lines"),
        "page ",
        lines_with_fractions,
        "a fraction was glued to its whole number by a character 2.3 times too wide: lines broke early",
    ),
    Intended(
        "names with the job in them",
        ("name",),
        "",
        name_with_job,
        "DXF and SVG leave the folder alone: two rooms' files had the same names",
    ),
    Intended("the job's column", ("list",), "column job$", job_column, "a list that leaves the folder says its job"),
    Intended(
        "names of drawings in a list",
        ("list",),
        r"row .*: drawing( of open cut paths)?$",
        cell_of_renamed,
        "the list names the drawing as it is called now",
    ),
    Intended("sums of drawings", ("list",), r"row .*: sha-256$", sha_of_drawing, "a drawing has other bytes"),
    Intended("remarks in a DXF", ("dxf",), "", remark_with_job, "a DXF that leaves the folder says its job"),
    Intended(
        "fingerprints of pieces",
        ("plan", "list", "words", "label"),
        r"/pieces/.*/fingerprint$|row .*: fingerprint$|page |words",
        print_anew,
        "they are of values, and of all that is marked, cut and read; every earlier print reads as stale once",
    ),
    Intended(
        "leeway in lists", ("list",), "row .*: you may be mm$", leeway_cell, "it is exact for every pair of shapes"
    ),
    Intended("leeway in HOW SURE", ("plan",), r"/sure/\d+/chance$", leeway_chance, "slots and outlines are exact"),
    Intended("leeway in findings", ("plan",), r"/findings/\d+", leeway_finding, "they read the one leeway"),
    Intended(
        "leeway in words",
        ("words", "label"),
        "page |words",
        follows_from_findings,
        "what is printed follows from the figures",
    ),
    Intended(
        "leeway in cells",
        ("list",),
        "row .*: before you cut$",
        sentences_of_findings,
        "what is listed follows from the figures",
    ),
    Intended(
        "words beside a join",
        ("words", "label"),
        "page |words",
        beside_a_join,
        "the longer of two wordings stands where it has room, which depends on the width of the fingerprint in it",
    ),
    Intended("HOW SURE without the lap", ("words",), "page ", note_of_how_sure, "it counts until the hole shows"),
    Intended("chance", ("plan",), r"/sure/\d+/chance$", chance_in_fewer_steps, "48 steps of the integral for 127"),
    Intended("times in 1000", ("words",), "page ", times_in_fewer_steps, "48 steps of the integral for 127"),
)
