"""The differences between two checkouts that are meant, each with its reason: written before the comparison is run.

A row says of which kind of output it speaks and decides by itself whether it explains one difference. What no row
explains fails the comparison. Rows stay for as long as a checkout from before them is compared with.
"""

from __future__ import annotations

import hashlib
import math
import re
from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from decimal import Decimal
from itertools import pairwise
from pathlib import Path
from typing import Any

from msgspec import Struct

from tests.bench.compare_outputs import BESIDE, EXACT, INKED, NOTHING, Difference, Kind, Output
from tests.bench.compare_read import Drawing, Page, Row, csv_header, csv_rows

Explains = Callable[[Difference, Output, Output], bool]


class Intended(Struct, frozen=True, dict=True):
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
    alike = {piece, after.pieces[piece]["same_as"]} if piece is not None else set()
    was, now = (re.split(r"[_/.]", str(name)) for name in (one.before, one.after))
    parts = iter(now)
    return (
        any(after.pieces[name]["fingerprint"] in one.after for name in alike if name is not None)
        and _plain(after.plan["job"])[:20] in _plain(one.after)
        and all(part in parts for part in was)
    )


def job_column(one: Difference, before: Output, after: Output) -> bool:
    """A new column says the job in every row."""
    return one.before is NOTHING and set(one.after) <= {after.plan["job"]}


def job_print_column(one: Difference, before: Output, after: Output) -> bool:
    """A new column says the job's fingerprint in every row."""
    return one.before is NOTHING and set(one.after) <= {after.plan["fingerprint"]}


def name_of_the_job_file(one: Difference, before: Output, after: Output) -> bool:
    """plan.json says what its job file is called: here a job's folder is named as the file in it."""
    return one.before is NOTHING and one.after == f"{one.job}.yaml"


def digests_of_all(one: Difference, before: Output, after: Output) -> bool:
    """plan.json has size and sum of every other file that lies there, and of nothing else."""
    found = {name: (output_file(after, name).stat().st_size, after.sha(name)) for name in after.plan["files"]}
    del found["plan.json"]
    return one.before is NOTHING and found == {
        name: (digest["size"], digest["sha256"]) for name, digest in one.after.items()
    }


def output_file(output: Output, name: str) -> Path:
    return output.folder / name


def seal_of_the_rest(one: Difference, before: Output, after: Output) -> bool:
    """plan.json ends with the sum of all that stands before it."""
    data = output_file(after, "plan.json").read_bytes()
    rest = data[: data.rindex(b'"seal"')]
    return one.before is NOTHING and one.after == hashlib.sha256(rest).hexdigest()


PAIRS = {"left": ("right", "w"), "right": ("left", "w"), "bottom": ("top", "h"), "top": ("bottom", "h")}
"""For each side the one that it makes a pair with, and which size of the tile both add up to."""
LAST_PLACE = Decimal("0.001")


def pair_adds_up(one: Difference, before: Output, after: Output) -> bool:
    """A measure has moved by the last place, so that the pair adds up to the tile as listed: it did not before."""
    found = re.fullmatch(r"row (\d+), .*: from (\w+) mm", one.path)
    if found is None or abs(Decimal(one.before) - Decimal(one.after)) != LAST_PLACE:
        return False
    sums = []
    for output in (before, after):
        row = csv_rows(output.folder / one.file)[int(found[1]) - 2]
        other, size = PAIRS[found[2]]
        whole = row[f"tile {size} mm"] if f"tile {size} mm" in row else _size_of(row["piece"], size, output)
        pair = [Decimal(row[f"from {side} mm"]) for side in (found[2], other)]
        sums.append(sum(pair) - Decimal(whole))
    return sums[0] != 0 and sums[1] == 0


def _size_of(piece: str, which: str, output: Output) -> str:
    return str(output.pieces[piece]["size"]["wh".index(which)])


def web_to_an_overhanging_tip(one: Difference, before: Output, after: Output) -> bool:
    """Beside an outline in a whole tile: less is left than was said, and it is what is left to its outermost place."""
    found = re.fullmatch(r"/pieces/(.*)/cuts/(\d+)/web/(left|right|bottom|top|nearest)", one.path)
    if found is None or None in (one.before, one.after):
        return False
    piece, cut = after.pieces[found[1]], after.pieces[found[1]]["cuts"][int(found[2])]
    w, h = piece["size"]
    xs, ys = ([corner[k] for ring in cut["outline"] for corner in ring] for k in (0, 1))
    left_over = {"left": min(xs), "right": w - max(xs), "bottom": min(ys), "top": h - max(ys)}
    left_over["nearest"] = min(left_over.values())
    return (
        cut["kind"] == "hole"
        and "outline" in cut["shape"]
        and piece["sizes"] is None
        and one.after < one.before
        and abs(one.after - left_over[found[3]]) < 1e-5
    )


SAME_PLACE = re.compile(r"(?P<place>[^,]*, [^:]*): (?P<said>.*)")


def refused_in_other_words(one: Difference, before: Output, after: Output) -> bool:
    """Refused before and now, for the same thing in the same line, in words of which only the first letter changed."""
    if NOTHING in (one.before, one.after):
        return False
    was, now = (
        [found.groupdict() if (found := SAME_PLACE.fullmatch(line)) else {"said": line} for line in text.splitlines()]
        for text in (one.before, one.after)
    )
    return len(was) == len(now) and all(
        a.get("place") == b.get("place")
        and a["said"][:1].casefold() + a["said"][1:] == b["said"][:1].casefold() + b["said"][1:]
        for a, b in zip(was, now, strict=True)
    )


def cell_of_renamed(one: Difference, before: Output, after: Output) -> bool:
    """A cell names the paired drawing by the name that it now has."""
    pairs = {(name, after.files().get(key)) for key, name in before.files().items()}
    return (one.before, one.after) in pairs


def sha_of_drawing(one: Difference, before: Output, after: Output) -> bool:
    """The sum is the beginning of that of a drawing that lies there; what differs in the drawing is told by itself."""
    sums = [output.sha(name) for output in (before, after) for name in output.files().values() if name.endswith(".dxf")]
    return all(any(whole.startswith(value) for whole in sums) for value in (one.before, one.after) if value)


def nothing_to_clear(one: Difference, before: Output, after: Output) -> bool:
    """The list of what is on surfaces without tiles is new, and empty: every surface has its tiles."""
    return one.before is NOTHING and one.after == []


def set_out_is_new(one: Difference, before: Output, after: Output) -> bool:
    """The set-out page is there, listed and not empty; or its sum stands among the digests."""
    listed = "set-out.pdf" in after.plan["files"] and "set-out.pdf" not in before.plan["files"]
    if one.kind == "files":
        return listed and one.file == "set-out.pdf" and one.before is NOTHING
    held = output_file(after, "set-out.pdf").read_bytes()
    return (
        listed
        and one.before is NOTHING
        and one.after == {"sha256": hashlib.sha256(held).hexdigest(), "size": len(held)}
        and held.startswith(b"%PDF-")
    )


def page_beside_is_new(one: Difference, before: Output, after: Output) -> bool:
    """A page for the shop beside a drawing, where no drawing had one; or its size and sum among the digests."""
    were, are = ({name for key, name in o.files().items() if key.startswith(BESIDE)} for o in (before, after))
    if were or one.before is not NOTHING:
        return False
    if one.kind == "files":
        return one.file.startswith(BESIDE) and one.after in are
    name = one.path.removeprefix("/digests/")
    if name not in are:
        return False
    held = output_file(after, name).read_bytes()
    return bool(one.after == {"sha256": hashlib.sha256(held).hexdigest(), "size": len(held)})


def what_is_bought(one: Difference, before: Output, after: Output) -> bool:
    """What the job takes is new, and each kind of tile adds up: what is laid less what is shared, with the spares."""
    if one.before is not NOTHING:
        return False
    counted = [area for surface in after.plan["counts"].values() for area in surface.values()]
    needs = one.after["tiles"]
    for need in needs:
        shared = sum(len(pieces) - 1 for pieces in need["shared"])
        if need["whole"] is not None:
            laid = need["whole"] + need["cut"] - shared
            if need["total"] != laid + need["spare_holed"] + need["spare_cut"]:
                return False
    return sum(need["cut"] for need in needs) == sum(area["cut"] for area in counted)


def gap_of_its_stretch(one: Difference, before: Output, after: Output) -> bool:
    """What comes off an opening at a step is called otherwise, or what it meets; opening and cut are as before."""
    found = re.match(r"/pieces/([^/]*)/infills/(\d+)/(?:off|to)", one.path)
    if found is None or found[1] not in before.pieces or found[1] not in after.pieces:
        return False
    was, now = (output.pieces[found[1]]["infills"][int(found[2])] for output in (before, after))
    taken = [sum(off["mm"] for off in infill["off"]) for infill in (was, now)]
    return was["ends"] == now["ends"] and abs(taken[0] - taken[1]) <= EDGE_OF_A_STEP


EDGE_OF_A_STEP = 0.02
"""Past a step that rakes an edge and what it keeps clear are so far from being the same way apart, mm."""


def remark_with_job(one: Difference, before: Output, after: Output) -> bool:
    """Remarks (group code 999) were added to a DXF, and nothing was taken away."""
    return one.before == () and all(row.words.startswith("999 ") for row in one.after)


def name_in_the_header(one: Difference, before: Output, after: Output) -> bool:
    """One text of a DXF was empty, and says now what the file is called."""
    stem = Path(after.files()[one.file]).stem
    return [row.words for rows in (one.before, one.after) for row in rows] == ["1 ", f"1 {stem}"]


def print_in_the_title(one: Difference, before: Output, after: Output) -> bool:
    """A sheet's title says the fingerprint of its piece behind all that it said."""
    piece = _piece_of(one.file, after)
    return piece is not None and one.after == f"{one.before}, piece {after.pieces[piece]['fingerprint']}"


MIXED_NUMBER = re.compile(r"\d \d+/\d+")


def running_text(one: Difference, output: Output) -> tuple[Page, ...]:
    """The pages of running text in the PDF that a difference is in; none where it is on a template.

    The job sheet is nothing else, and so are the first pages of pack.pdf: the templates are its last ones.
    """
    pages = output.pages(output.files()[one.file])
    found = re.match(r"page (\d+)", one.path)
    if one.file == "pack.pdf":
        pages = pages[: len(pages) - output.sheets]
    return pages if one.file in ("pack.pdf", "job-sheet.pdf") and found and int(found[1]) <= len(pages) else ()


def _words_of(pages: Sequence[Page], output: Output) -> Counter[str]:
    """The words of some pages, whatever the fingerprints of pieces are."""
    prints = {piece["fingerprint"] for piece in output.pieces.values()}
    return Counter("a fingerprint" if word in prints else word for page in pages for word in page.words)


def _rows_of(pages: Sequence[Page]) -> Counter[tuple[str, tuple[float, ...]]]:
    """All that is drawn on some pages but for how high it stands."""
    return Counter((row.words, _across(row)) for page in pages for row in page.drawn)


def _across(row: Row) -> tuple[float, ...]:
    """The figures of a row without those that say how high it stands: its line's width, and each x."""
    pen = 0 if " line - " in row.words else 1
    return tuple(round(figure, 2) + 0.0 for figure in (*row.figures[:pen], *row.figures[pen::2]))


def lines_with_fractions(one: Difference, before: Output, after: Output) -> bool:
    """Fewer lines, so that rows stand higher; every word of the text, and all that is drawn, is still there."""
    was, now = (running_text(one, output) for output in (before, after))
    return (
        bool(MIXED_NUMBER.search(" ".join(word for page in was for word in page.words)))
        and _words_of(was, before) == _words_of(now, after)
        and _rows_of(was) == _rows_of(now)
    )


def layout_after_words(one: Difference, before: Output, after: Output) -> bool:
    """In running text whose words differ: what is drawn is all there, each as wide and as far across.

    The words differ by what other rows explain, or the comparison fails on them.
    """
    was, now = (running_text(one, output) for output in (before, after))
    return _words_of(was, before) != _words_of(now, after) and _rows_of(was) == _rows_of(now)


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
    changed = _changed_findings(before, after)
    said = {word for text in changed for word in text.split()} | (_LEVELS if changed else set())
    figures = _leeways(before, after) | _times(before, after) | _counts(before, after)
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


def _counts(before: Output, after: Output) -> set[str]:
    """How many findings there are, of each level and in all, where that has changed."""
    were, are = (Counter(one["level"] for one in output.plan["findings"]) for output in (before, after))
    if were == are:
        return set()
    return {str(number) for counted in (were, are) for number in (*counted.values(), counted.total())}


def page_for_the_phone(one: Difference, before: Output, after: Output) -> bool:
    """A file more, and that one, of a job whose pieces are known; and what plan.json says of it."""
    if one.kind == "plan":
        return one.before is NOTHING and "wall.html" in after.files()
    return (one.file, one.before, one.after) == ("wall.html", NOTHING, "wall.html") and "holes.csv" in after.files()


def who_read_it(one: Difference, before: Output, after: Output) -> bool:
    """Nobody is named: of what is compared nothing came from a page."""
    return one.before is NOTHING and not any(one.after)


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


REWORDED = {
    r"Of the room round it (.+?) is used up\.": r"That takes \1 of the room round it.",
    r", and (\S+(?: \d+/\d+)?) apart they meet": r", and are \1 apart: they meet",
    r"have (\S+(?: \d+/\d+)?) short of 0 left for the thread": r"end \1 before the thread",
    r"have 0 left for the thread": "just reach the thread",
    r"to come: with its bed and tile, or 0\.": "to come: and what its bed and tile take off, or none.",
    r"Draw the whole cut as outline: instead\.": "Write the whole cut by its corners, as its outline.",
}
"""Sentences of findings as they were said before, and as they are said now."""


def finding_reworded(one: Difference, before: Output, after: Output) -> bool:
    """The same finding in other words, its figures as they were."""
    said = str(one.before)
    for was, now in REWORDED.items():
        said = re.sub(was, now, said)
    return said == one.after


def up_of_a_floor(one: Difference, before: Output, after: Output) -> bool:
    """What UP on a floor points at stands behind what stood there, and where nothing did."""
    return bool(re.fullmatch(rf"{re.escape(str(one.before))}(?:; UP is )?away from \S+", str(one.after)))


def digest_of_what_differs(one: Difference, before: Output, after: Output) -> bool:
    """The size or sum of a file as it lies there, or the seal of the rest: what the file says is compared by itself."""
    if NOTHING in (one.before, one.after):
        return False
    if one.path == "/seal":
        data = output_file(after, "plan.json").read_bytes()
        return bool(one.after == hashlib.sha256(data[: data.rindex(b'"seal"')]).hexdigest())
    name, _, key = one.path.removeprefix("/digests/").rpartition("/")
    lies = output_file(after, name)
    return lies.exists() and bool(one.after == (lies.stat().st_size if key == "size" else after.sha(name)))


def new_of_a_piece(one: Difference, before: Output, after: Output) -> bool:
    """What waits agrees with the findings; nothing is said of what is read."""
    if one.before is not NOTHING:
        return False
    piece = one.path.split("/")[2]
    if one.path.endswith("/unread"):
        read = {infill["side"] in ("left", "right") for infill in after.pieces[piece]["infills"]}
        return all((unread["axis"] == "across") not in read for unread in one.after)
    if not one.path.endswith("/stopped"):
        return not one.after
    about = {piece, re.sub(r"[a-z]\d*$", "", piece), *(cut["penetration"] for cut in after.pieces[piece]["cuts"])}
    holds = {
        finding.get("holds", "all")
        for finding in after.plan["findings"]
        if about & set(finding["about"]) and finding["accepted"] is None and finding["level"] == "stop"
    }
    return bool(one.after == "all" if "all" in holds else one.after in (None, "trimming"))


def readings_of_a_notch(one: Difference, before: Output, after: Output) -> bool:
    """Readings that were not there, or a line about them; those that were stand there with their figures."""
    if one.kind == "plan":
        piece = after.pieces[one.path.split("/")[2]]
        had = [] if one.before is NOTHING else one.before if isinstance(one.before, list) else [one.before]
        ends = [end for infill in piece["infills"] for end in infill["ends"]]
        return all(end in ends for infill in had for end in infill["ends"])
    return "tile again from" in str(one.after) and "tile again from" not in str(one.before)


def edge_by_what_it_is(one: Difference, before: Output, after: Output) -> bool:
    """Only the name of the edge differs: right (right) is end panel (right)."""
    was, now = (re.fullmatch(r"(.*) \((left|right|bottom|top)\)(.*)", str(text)) for text in (one.before, one.after))
    whats = {edge["side"]: edge["what"] for surface in after.plan["surfaces"] for edge in surface["edges"]}
    return (
        was is not None
        and now is not None
        and was[1] == was[2]
        and was.groups()[1:] == now.groups()[1:]
        and now[1] in whats.values()
    )


def read_from_what_it_is(one: Difference, before: Output, after: Output) -> bool:
    """The same readings, but that an edge is called what it is there, and a window has its article."""
    if one.kind == "words":
        sides = {f"{edge['side']} edge": edge["what"] for one in after.plan["surfaces"] for edge in one["edges"]}
        return sides.get(str(one.before)) == one.after or (one.before, one.after) == ("", "the")
    now = str(one.after)
    for edge in (edge for surface in after.plan["surfaces"] for edge in surface["edges"]):
        now = now.replace(f"from the {edge['what']} to", f"from the {edge['side']} edge to")
    return now.replace("from the window to", "from window to") == str(one.before).replace(
        "from the window to", "from window to"
    )


def parted_by_what_ends_it(one: Difference, before: Output, after: Output) -> bool:
    """Two stretches of a piece that end at different things are two readings: their figures stand in the lists."""
    parted = any(
        len({infill["to"] for infill in piece["infills"] if infill["side"] == side and not infill["past"]}) > 1
        for piece in after.pieces.values()
        for side in ("left", "right", "bottom", "top")
    )
    read = [row["read"] for output in (before, after) for row in csv_rows(output.folder / "pieces.csv")]
    figures = re.compile(r"[0-9]+½?")
    return parted and set(figures.findall(f"{one.before} {one.after}")) <= set(figures.findall(" ".join(read)))


def why_nothing_is_read(one: Difference, before: Output, after: Output) -> bool:
    """Where no reading was printed a sentence says why there is none."""
    why = r"(?:READ )?(?:(?:across|up|in): )?nothing[^;]*?(?:given|known|there|mark the tile in place)(?:; )?"
    said = f"{one.after}".replace("nothing straight to read to", "nothing")
    return one.before == "" and re.fullmatch(f"(?:{why} ?)+", said) is not None


def new_rule(one: Difference, before: Output, after: Output) -> bool:
    """A finding of a rule that there was not."""
    return one.before is NOTHING and one.after["rule"] in {"will not snap", "line and floor disagree", "slot runs over"}


def who_is_first(one: Difference, before: Output, after: Output) -> bool:
    """What was asked of two areas is assumed now, and printed."""
    assumed = any("is taken to be fixed first" in text for text in after.plan.get("assumed", ()))
    return "which is fixed first of" in str(one.before) and one.after is NOTHING and assumed


def longer_job_sheet(one: Difference, before: Output, after: Output) -> bool:
    """The readings round notches make the job sheet a page longer."""
    more = any(infill["past"] for piece in after.pieces.values() for infill in piece["infills"])
    return one.file == "job-sheet.pdf" and more and one.after == one.before + 1


def nothing_to_spare(one: Difference, before: Output, after: Output) -> bool:
    """The same words but for 0, or less than a step, of room."""
    was, now = str(one.before), str(one.after)
    for said, plain in (
        ("nothing to spare: dead on", "you may be 0 any way"),
        ("you have nothing to spare", "you have 0 any way"),
        ("you have nothing to spare: mark", "you have only 0: mark"),
        ("you have nothing", "you have 0"),
        ("nothing to spare:", "only 0:"),
    ):
        if now.replace(said, plain) == was:
            return True
    return False


def nothing_to_say(one: Difference, before: Output, after: Output) -> bool:
    """A new key or column for what is done to edges and for remarks, and the job says nothing of either."""
    return one.before is NOTHING and not any(one.after)


def bytes_of_a_list(one: Difference, before: Output, after: Output) -> bool:
    """The sum or the size of a list that has columns which it had not before; what else differs is told by itself."""
    name = one.path.split("/")[2]
    had, has = (set(csv_header(output.folder / name)) for output in (before, after))
    return bool(has - had)


def seal_of_other_digests(one: Difference, before: Output, after: Output) -> bool:
    """The seal of a plan.json in which something else differs: that is told by itself."""
    was, now = (output.plan.get("digests") for output in (before, after))
    return None not in (was, now) and was != now


def name_as_a_sheet_says(one: Difference, before: Output, after: Output) -> bool:
    """A job that was taken is refused for a name alone that a sheet would print as its own word."""
    return one.before is NOTHING and "which a sheet says of the tile itself" in str(one.after)


def unsized(output: Output) -> set[str]:
    """The holes of which only the opening is known."""
    return {hole["name"] for hole in output.plan["penetrations"] if hole["read_size"] is None}


def read_to_its_middle(one: Difference, before: Output, after: Output) -> bool:
    """What is read of a thing whose size is not known: its middle, halfway between the sides of its hole as before."""
    odd = unsized(after)
    if one.path.endswith("/read_size"):
        return one.after is None
    if one.kind == "plan":
        piece, cut = one.path.split("/")[2], int(one.path.split("/")[4])
        was, now = (output.pieces[piece]["cuts"][cut] for output in (before, after))
        halves = {check["side"]: (check["near"] + check["far"]) / 2 for check in was["wall_check"]}
        return now["penetration"] in odd and all(
            check["near"] == check["far"] and abs(check["near"] - halves[check["side"]]) < HALF_OF_A_THOUSANDTH
            for check in now["wall_check"]
        )
    row = csv_rows(after.folder / "holes.csv")[int(re.findall(r"\d+", one.path)[0]) - 2]
    return row["hole"] in odd


CUT_PENS = ("none black 0.35 - ", "none black 0.7 - ")
"""How a cut is drawn in an SVG, whichever of the two drew it."""
PAPER_SAID = frozenset(
    ("out", "out;", "and", "only", "mark", "by", "the", "tape,", "not", "through", "paper", "you", "have")
)
"""Words in which a sheet sets what the paper may be out against how far the hole may be."""


def laid_out_anew(before: Output, after: Output) -> set[str]:
    """Pieces whose sheets say something else: a finding that one side alone has is about them, or a leeway moved."""
    changed = _changed_findings(before, after)
    found = {
        name
        for output in (before, after)
        for one in output.plan["findings"]
        if f"{one['text']} ({one['source']})" in changed
        for name in (*one["about"], *one.get("places", ()))
    }
    were, are = ({_cut(row): row["you may be mm"] for row in csv_rows(o.folder / "holes.csv")} for o in (before, after))
    moved = {
        piece for (piece, hole), may in are.items() if were.get((piece, hole)) != may and hole in not_round(before)
    }
    holes = found | {hole for piece, hole in are if piece in moved}
    return {name for name in after.pieces if name in found | moved} | {p for p, hole in are if hole in holes}


def _cut(row: dict[str, str]) -> tuple[str, str]:
    return row["piece"], row["hole"]


def _drawings(piece: str, output: Output) -> list[Drawing]:
    """The sheets of a piece, and of the piece that it is like, as they are drawn."""
    like = output.pieces[piece]["same_as"] or piece
    keys = [key for key in output.files() if key.startswith("sheet ") and f": {like}, " in key]
    return [output.drawing(output.files()[key]) for key in keys]


def _cut_shapes(drawings: Sequence[Drawing]) -> Counter[tuple[str, tuple[float, ...]]]:
    """What is cut on some sheets, wherever on the paper; a line of one stroke (a bar, a crop mark) is no cut."""
    rows = (row for drawing in drawings for row in drawing.drawn if row.words.startswith(CUT_PENS))
    return Counter((row.words, _from_its_first(row)) for row in rows if not row.words.endswith(" ML"))


def _from_its_first(row: Row) -> tuple[float, ...]:
    """The figures of a path, each place from its first one, to 0.01: before an arc's its radius and two flags."""
    if row.words.endswith(" circle"):
        return (round(row.figures[2], 2),)
    figures, found = list(row.figures), []
    x, y = figures[:2]
    for step in row.words.rsplit(" ", 1)[1].rstrip("Z"):
        if step == "A":
            found += figures[:3]
            del figures[:3]
        found += [round(figures[0] - x, 2) + 0.0, round(figures[1] - y, 2) + 0.0]
        del figures[:2]
    return tuple(found)


def _sheet_of(one: Difference, before: Output, after: Output) -> str | None:
    """The piece of the template that a difference is on; None where it is on none."""
    key = one.file
    page = re.match(r"page (\d+)", one.path)
    if key == "pack.pdf" and page:
        number = int(page[1]) - (len(after.pages("pack.pdf")) - after.sheets)
        key = next((key for key in after.files() if f", sheet {number} of " in key), "")
    return _piece_of(key, after) if key.startswith("sheet ") else None


def sheet_laid_out_anew(one: Difference, before: Output, after: Output) -> bool:
    """On a sheet that says something else: what is cut is drawn as it was, and the rest stands where it has room."""
    piece = _sheet_of(one, before, after)
    if piece is None or piece not in before.pieces:
        return False
    were, are = _drawings(piece, before), _drawings(piece, after)
    says_another = piece in laid_out_anew(before, after) or {beside(d) for d in were} != {beside(d) for d in are}
    return says_another and _cut_shapes(were) == _cut_shapes(are)


def beside(drawing: Drawing) -> bool:
    """Whether a sheet has the longer wording beside a join."""
    return any("cross on cross" in words for words in drawing.words)


def other_number_of_sheets(one: Difference, before: Output, after: Output) -> bool:
    """A piece that says less has fewer sheets, and so there are fewer in all: another count and other numbers."""
    if before.sheets == after.sheets or not laid_out_anew(before, after):
        return False
    if one.kind == "files":
        piece = _sheet_of(one, before, after)
        if piece is None or piece not in before.pieces:
            return False
        # Each sheet has the pieces small in its corner: fewer sheets have those less often.
        were, are = (_cut_shapes(_drawings(piece, output)) for output in (before, after))
        return were.keys() == are.keys()
    words = [] if one.kind == "page" else f"{one.before} {one.after}".split()
    return all(word == "and" or word.isdigit() for word in words)


def paper_against_leeway(one: Difference, before: Output, after: Output) -> bool:
    """What the paper may be out, against a leeway that has changed."""
    said = PAPER_SAID | _leeways(before, after)
    piece, changed = _sheet_of(one, before, after), laid_out_anew(before, after)
    if piece is None and one.file != "pack.pdf":
        return False
    if piece is None:
        # On the front pages a row that has become longer may also have gone to the next page, whole.
        sides = [output.pages(one.file) for output in (before, after)]
        were, are = (
            _words_of(pages[: len(pages) - o.sheets], o) for pages, o in zip(sides, (before, after), strict=True)
        )
        words = list(((were - are) + (are - were)).elements())
        return (
            bool(changed) and one.file == "pack.pdf" and all(word in said or word.strip(":") in said for word in words)
        )
    words = f"{one.before} {one.after}".split()
    return piece in changed and all(word in said or word.strip(":") in said for word in words)


def panel_beside_a_print(one: Difference, before: Output, after: Output) -> bool:
    """One frame that stands elsewhere along the sheet, on a sheet whose piece has another fingerprint."""
    piece = _sheet_of(one, before, after)
    if piece is None or piece not in before.pieces or [len(rows) for rows in (one.before, one.after)] != [1, 1]:
        return False
    was, now = one.before[0], one.after[0]
    if len(was.figures) != len(now.figures):
        return False
    moved = [b - a for a, b in zip(was.figures, now.figures, strict=True)]
    along, up = moved[0::2], moved[1::2]
    prints = {output.pieces[piece]["fingerprint"] for output in (before, after)}
    return was.words == now.words and max(along) - min(along) < INKED and max(map(abs, up)) < INKED and len(prints) == 2


def elevation_in_other_room(one: Difference, before: Output, after: Output) -> bool:
    """A job sheet with a finding that one side alone has: each thing is drawn, the elevation to another scale."""
    if one.file != "job-sheet.pdf" or not _changed_findings(before, after):
        return False
    were, are = (Counter(row.words for page in o.pages("job-sheet.pdf") for row in page.drawn) for o in (before, after))
    return were.keys() == are.keys()


def name_with_room(one: Difference, before: Output, after: Output) -> bool:
    """A window's name, for which an elevation of another scale has room."""
    return elevation_in_other_room(one, before, after) and bool(
        re.fullmatch(r"(window \d+)?", f"{one.before}{one.after}")
    )


def finding_with_its_pieces(one: Difference, before: Output, after: Output) -> bool:
    """A finding that one side alone has, with its heading, and the other pieces that it is said of."""
    said = {word for text in _changed_findings(before, after) for word in text.split()} | _LEVELS
    said |= {"BEFORE", "YOU", "CUT", "For:"} | {word for name in after.pieces for word in name.split()}
    return all(word in said or word.strip("(),.") in said for word in f"{one.before} {one.after}".split())


NEW_HEADS = {
    "pack.pdf": "THE DAY'S LIST:",
    "job-sheet.pdf": "IN THE ORDER OF FIXING",
    "clearance.pdf": "nearest, service",
}
"""What the site's lists are headed by since they are drawn so."""
OF_THE_CARD = frozenset(("85.60", "53.98"))
AROUND_A_FIGURE = "(),;:.\u00b7"


def list_drawn_anew(one: Difference, before: Output, after: Output) -> bool:
    """The front pages, the job sheet or the clearance sheet as one list: all figures and names on it are on it still.

    But for the card's, which is on the printer's test page, what the paper may be out, which is on each template, the
    number of a page, and what a piece that must not be cut would be cut with.
    """
    file = "clearance.pdf" if ": clearance sheet, page" in one.file else one.file
    if file not in NEW_HEADS or (file == "pack.pdf" and before.sheets != after.sheets):
        return False
    were, are = (_running_pages(file, output) for output in (before, after))
    page = re.match(r"page (\d+)", one.path)
    if page and int(page[1]) > len(are):
        return False
    said = [" ".join(" ".join(words) for words in pages) for pages in (were, are)]
    if [NEW_HEADS[file] in words for words in said] != [False, True]:
        return False
    spare = OF_THE_CARD | {str(number) for number in range(max(len(were), len(are)) + 1)} | _stopped_figures(before)
    for words in were:
        spare |= {b.strip(AROUND_A_FIGURE) for a, b in pairwise(words) if a in ("be", "have", "only")}
    kept, left = (
        {word.strip(AROUND_A_FIGURE) for words in pages for word in words if re.search(r"[\d\u00bd]", word)}
        for pages in (were, are)
    )
    return kept - left <= spare


def _running_pages(file: str, output: Output) -> list[tuple[str, ...]]:
    """The words of a PDF's pages; of the pack those of its front pages."""
    pages = output.pages(file)
    return [page.words for page in (pages[: len(pages) - output.sheets] if file == "pack.pdf" else pages)]


def _stopped_figures(output: Output) -> set[str]:
    """The sizes of what must not be cut yet."""
    rows = [row for row in csv_rows(output.folder / "holes.csv") if row.get("stop") == "STOP"]
    sizes = {row[name] for row in rows for name in ("core mm", "opening w mm", "opening h mm") if row[name]}
    return {f"{float(size):g}" for size in sizes} | {f"{float(size):g}".replace(".5", "\u00bd") for size in sizes}


HEAD_DEEP = 40.0
"""Above this, from the paper's upper edge, stand the head of a template and its band, mm: margin 10, 28, and 2."""


def thumbnail_with_larger_letters(one: Difference, before: Output, after: Output) -> bool:
    """In the head of a template: the letters beside the small elevation are larger, and all else in it smaller."""
    piece = _sheet_of(one, before, after)
    if piece is None or not all(isinstance(rows, tuple) for rows in (one.before, one.after)):
        return False
    if len(one.before) != len(one.after):
        return False
    for was, now in zip(one.before, one.after, strict=True):
        ups = [*_heights(was), *_heights(now)]
        if one.kind == "lines":
            ups = [after.pages("pack.pdf")[0].height - up for up in ups]
        larger = was.words.startswith("white") or "fill 255/255/255" in was.words  # what stands behind a letter
        if was.words != now.words or not all(up < HEAD_DEEP for up in ups):
            return False
        share = _long(now) / max(_long(was), INKED)
        if not (share > 1.05 if larger else share < 0.995):
            return False
    return True


def _long(row: Row) -> float:
    """How high and how wide a row is together."""
    (xs, ys) = zip(*_points(row), strict=True)
    return max(xs) - min(xs) + max(ys) - min(ys)


def _heights(row: Row) -> list[float]:
    return [y for _, y in _points(row)]


def _points(row: Row) -> list[tuple[float, float]]:
    """The points of a row's path; nowhere near a head where it is none."""
    *_, steps = row.words.split(" ")
    counts = {"M": 2, "L": 2, "A": 5, "C": 2, "Z": 0}  # each point of a PDF's curve is one C
    wanted = sum(counts.get(step, 1000) for step in steps)
    figures = row.figures[1:] if len(row.figures) == wanted + 1 else row.figures  # a PDF's line has its width first
    if len(figures) != wanted:
        return [(math.nan, math.nan)]
    found, place = [], 0
    for step in steps.replace("Z", ""):
        place += counts[step]
        found.append((figures[place - 2], figures[place - 1]))
    return found


def by_its_print(one: Difference, before: Output, after: Output) -> bool:
    """The same name with the piece's new fingerprint in the place of its old one; also where a DXF says its name."""
    named = ["" if one.kind == "name" else row.words for row in (*_rows_in(one.before), *_rows_in(one.after))]
    was, now = (str(one.before), str(one.after)) if one.kind == "name" else (" ".join(named[:1]), " ".join(named[1:]))
    prints = {
        (before.pieces[name]["fingerprint"], piece["fingerprint"])
        for name, piece in after.pieces.items()
        if name in before.pieces
    }
    return was != now and any(old in was and was.replace(old, new) == now for old, new in prints)


def _rows_in(value: object) -> Sequence[Row]:
    return [row for row in value if isinstance(row, Row)] if isinstance(value, tuple) else []


def digest_under_another_name(one: Difference, before: Output, after: Output) -> bool:
    """What plan.json has of a file with other digits in its name: gone under its old name, true under its new one."""
    name = re.match(r"/digests/(.+?\.\w+)(?:/|$)", one.path)
    if name is None or (one.before is NOTHING) == (one.after is NOTHING):
        return False
    other, own = (before, after) if one.before is NOTHING else (after, before)
    called = {_whatever_its_digits(each) for each in other.plan["digests"]}
    if name[1] in other.plan["digests"] or _whatever_its_digits(name[1]) not in called:
        return False
    lies = output_file(own, name[1])
    told = one.after if one.before is NOTHING else one.before
    return bool(told == {"size": lies.stat().st_size, "sha256": own.sha(name[1])})


def _whatever_its_digits(name: str) -> str:
    return re.sub(r"[0-9a-f]{8}(?=\.\w+$)", "digits", name).replace(f"{WAITS}{VIEW}", VIEW)


WAITS, VIEW = "_wait", "_face_mm_"
"""What a drawing's name has before its view where its piece waits for a reading."""


def waits_in_its_name(one: Difference, before: Output, after: Output) -> bool:
    """The drawing of a piece that waits for a reading says so in its name, also where a DXF says its name."""
    if not _waits(_piece_of(one.file, after), after):
        return False
    named = [[str(value)] if one.kind == "name" else [row.words for row in value] for value in (one.before, one.after)]
    return all(len(words) == 1 for words in named) and named[0][0].replace(VIEW, f"{WAITS}{VIEW}") == named[1][0]


def waits_on_its_layers(one: Difference, before: Output, after: Output) -> bool:
    """A layer of the drawing of a piece that waits has WAIT_ before its name, in its table or where something lies."""
    if not _waits(_piece_of(one.file, after), after):
        return False
    were, are = ([row.words for row in value] for value in (one.before, one.after))
    return were != [] and [re.sub(r"^([28]) ", r"\1 WAIT_", words) for words in were] == are


def _waits(piece: str | None, output: Output) -> bool:
    """Whether a piece is trimmed to a reading that has not come back."""
    read = {found["piece"] for found in output.plan["infills_found"]}
    return piece is not None and bool(output.pieces[piece]["infills"]) and piece not in read


def counted_from_the_first(one: Difference, before: Output, after: Output) -> bool:
    """Where a piece lies says at which height its first course begins, in brackets."""
    return re.sub(r" (in|up), counting from ([^,]*),", r" \1 (the 1st begins \2),", str(one.before)) == one.after


def sure_in_per_cent(one: Difference, before: Output, after: Output) -> bool:
    """A finding says in per cent how sure a hole is."""

    def told(found: re.Match[str]) -> str:
        return f"{int(found[2]) / 10:g} % sure that {found[1]}"

    said = str(one.before)
    return said != one.after and re.sub(r"(it goes over[^.(;]*?) (\d+) times in 1000", told, said) == one.after


def drilled_in_each_corner(one: Difference, before: Output, after: Output) -> bool:
    """Holes in inside corners are an order to drill them."""
    return (
        re.sub(r"(\d\S*) holes in the inside corners", r"drill \1 in each inside corner", str(one.before)) == one.after
    )


def one_side_is_plunged(one: Difference, before: Output, after: Output) -> bool:
    """Of a single side that a disc is let into, or that is made by hand, it is said that it is one."""
    said = str(one.before)
    return said != one.after and re.sub(r"its sides (?=from the|by hand)", f"{ONE_SIDE} ", said) == one.after


ONE_SIDE = "the side between its corners"


def list_with_one_side(one: Difference, before: Output, after: Output) -> bool:
    """Front pages and job sheet that call a single side one: each figure is on them still."""
    if one.file not in ("pack.pdf", "job-sheet.pdf") or _sheet_of(one, before, after) is not None:
        return False
    were, are = ([word for words in _running_pages(one.file, output) for word in words] for output in (before, after))
    counted = [" ".join(words).count(ONE_SIDE) for words in (were, are)]
    return counted[0] < counted[1] and not _figures(were) - _figures(are) - _prints(before)


def page_with_the_kerf(one: Difference, before: Output, after: Output) -> bool:
    """A page beside a drawing that says on which side the kerf is: each figure is on it still."""
    if not one.file.startswith(BESIDE):
        return False
    were, are = (
        [word for page in output.pages(output.files()[one.file]) for word in page.words] for output in (before, after)
    )
    told = [sum(word == "kerf" for word in words) for words in (were, are)]
    lost = {word for word in _figures(were) - _figures(are) - _prints(before) if not word.endswith(".dxf")}
    return told[0] < told[1] and not lost


HANDS = {("LEFT", "edge"), ("RIGHT", "edge"), ("upper", "edge"), ("lower", "edge")}
"""How an edge is called since a sheet says where it lies as one looks at it."""
SAID_OF_SIDES = frozenset(("(towards", "(away", "expect,"))
"""How lists say what an edge points at, and the set-out sheet what to expect of a size."""
TIMES_IN = re.compile(r"(\d+) times in 1000")
ASKED_OF_THE_SENDER = frozenset(("whoever", "contact"))
"""What a page beside a drawing has since it says who is asked about it."""
HALF = 0.5
"""A shop's page has tenths where it had halves, mm."""


def sheet_that_says_hands(one: Difference, before: Output, after: Output) -> bool:
    """A template whose edges are called by where they lie: cut as it was, and each figure is on it still.

    But for what the paper may be out by, where the tile's own size is told instead; a tick's own figure, which is told
    by a sentence; and fingerprints.
    """
    piece = _sheet_of(one, before, after)
    if piece is None or piece not in before.pieces:
        return False
    were, are = _drawings(piece, before), _drawings(piece, after)
    said = [" ".join(words for drawing in drawings for words in drawing.words) for drawings in (were, are)]
    called = [sum(pair in HANDS for pair in pairwise(words.split())) for words in said]
    if called[1] <= called[0]:
        return False
    error = re.search(r"print [\d.]+ \+ .*? = [\d.]+", said[0])
    spare = _figures(error[0].split()) if error else set()
    spare |= {word for word in said[0].split() if re.fullmatch("[+\u2212-]\\d+", word)} | _prints(before)
    now = _figures(said[1].split())
    spare |= {
        figure for times in TIMES_IN.findall(said[0]) if f"{int(times) / 10:g}" in now for figure in (times, "1000")
    }
    spare |= _read_otherwise(piece, before, after)
    lost = _figures(said[0].split()) - now - spare
    return not lost and _cut_shapes(were) == _cut_shapes(are)


def read_from_a_line(one: Difference, before: Output, after: Output) -> bool:
    """A piece's opening is read from a mark of its own now: by as much less as was taken off for the edge beyond."""
    found = re.match(r"/pieces/(.+)/infills/(\d+)/", one.path)
    if found is None:
        return False
    was, now = (output.pieces[found[1]]["infills"][int(found[2])] for output in (before, after))
    return _is_from_a_line(was, now)


def _is_from_a_line(was: Any, now: Any) -> bool:
    off = sum(part["mm"] for part in was["off"]) - sum(part["mm"] for part in now["off"])
    ends = zip(was["ends"], now["ends"], strict=True)
    is_line = "edge" in was["from"] and "mark" in now["from"] and was["side"] == now["side"]
    # Of an edge that leans so much is taken off at one end; its own edge is level.
    return is_line and any(abs(a["opening"] - off - b["opening"]) <= EXACT for a, b in ends)


def _read_otherwise(piece: str, before: Output, after: Output) -> set[str]:
    """The figures on a sheet of openings that are read from a line now."""
    infills = [output.pieces[piece]["infills"] for output in (before, after)]
    if len(infills[0]) != len(infills[1]):
        return set()
    figures = [
        figure
        for was, now in zip(*infills, strict=True)
        if was["from"] != now["from"] and _is_from_a_line(was, now)
        for figure in (*(end["opening"] for end in was["ends"]), *(part["mm"] for part in was["off"]))
    ]
    return {f"{figure:g}".replace(".5", "\u00bd") for figure in figures}


def list_that_says_hands(one: Difference, before: Output, after: Output) -> bool:
    """Front pages, job sheet and set-out sheet in other words: each figure is on them still, or told in per cent."""
    if one.file not in ("pack.pdf", "job-sheet.pdf", "set-out.pdf") or _sheet_of(one, before, after) is not None:
        return False
    were, are = ([word for words in _running_pages(one.file, output) for word in words] for output in (before, after))
    sides = [sum(word in SAID_OF_SIDES for word in words) for words in (were, are)]
    told = " ".join(were)
    per_cent = {figure for times in TIMES_IN.findall(told) for figure in (times, "1000")}
    lost = _figures(were) - _figures(are) - per_cent - _prints(before)
    is_told = all(f"{int(times) / 10:g}" in _figures(are) for times in TIMES_IN.findall(told))
    return were != are and sides[1] > sides[0] and not lost and is_told


def page_with_who_is_asked(one: Difference, before: Output, after: Output) -> bool:
    """A page beside a drawing that says who is asked about it: each figure is on it still, to half a millimetre."""
    if not one.file.startswith(BESIDE):
        return False
    were, are = (
        [word for page in output.pages(output.files()[one.file]) for word in page.words] for output in (before, after)
    )
    asked = [bool(ASKED_OF_THE_SENDER & {word.strip(".,:;") for word in words}) for words in (were, are)]
    now = [figure for word in _figures(are) if (figure := _in_mm(word)) is not None]
    lost = [_in_mm(word) for word in _figures(were) - _figures(are) - _prints(before) if not word.endswith(".dxf")]
    near = all(one is not None and any(abs(one - other) <= HALF for other in now) for one in lost)
    return asked == [False, True] and near


def _in_mm(word: str) -> float | None:
    """A figure as a sheet shows it; None where it is another one."""
    found = re.fullmatch("(\\d*)(\u00bd)?|(\\d+\\.\\d+)", word)
    if found is None or not word:
        return None
    return float(word) if found[3] else float(found[1] or 0) + (HALF if found[2] else 0.0)


def _figures(words: Iterable[str]) -> set[str]:
    return {word.strip(AROUND_A_FIGURE) for word in words if re.search("[\\d\u00bd]", word)}


def _prints(output: Output) -> set[str]:
    return {output.plan["fingerprint"], *(piece["fingerprint"] for piece in output.pieces.values())}


def nobody_is_named(one: Difference, before: Output, after: Output) -> bool:
    """plan.json says who is asked about the job; nobody where the job names none."""
    return one.before is NOTHING and one.after == ""


def phone_page_in_other_words(one: Difference, before: Output, after: Output) -> bool:
    """The phone's page has another script and other words: each piece that was on it is on it."""
    if one.file != "wall.html":
        return False
    was, now = (output_file(output, one.file).read_text(encoding="utf-8") for output in (before, after))
    return all(name in now for name in before.pieces if name in was)


HALF_OF_A_THOUSANDTH = 0.0005


INTENDED: tuple[Intended, ...] = (
    Intended(
        "called by its new print",
        ("name", "dxf"),
        "",
        by_its_print,
        "how a piece is cut counts among what it is: its digits, and the files that are called by them, are new",
    ),
    Intended(
        "waits, in its name",
        ("name", "dxf"),
        "",
        waits_in_its_name,
        "no drawing of what must not be cut yet is taken for one that may be",
    ),
    Intended(
        "waits, on its layers",
        ("dxf",),
        "",
        waits_on_its_layers,
        "no machine takes the layers of what must not be cut yet for those that it cuts",
    ),
    Intended(
        "sums under new names",
        ("plan",),
        "/digests/",
        digest_under_another_name,
        "plan.json has the sum of each file by what it is called",
    ),
    Intended(
        "counted from the first course",
        ("list", "plan"),
        r"row .*: where$|/pieces/[^/]*/where$",
        counted_from_the_first,
        "'counting from 4 past D' was not understood",
    ),
    Intended(
        "sure in per cent",
        ("plan",),
        r"/findings/\d+/text$",
        sure_in_per_cent,
        "'774 times in 1000' was read as an order",
    ),
    Intended(
        "read from a line",
        ("plan",),
        r"/pieces/.+/infills/\d+/(?:from/(?:edge|mark)|ends/\d+/opening|off(?:/\d+)?)$",
        read_from_a_line,
        "a piece with nothing fixed beside it is read from its own edge, which is marked from a line first",
    ),
    Intended(
        "holes in corners drilled",
        ("list", "plan"),
        r"row .*: how it is cut$|/pieces/[^/]*/how_cut",
        drilled_in_each_corner,
        "what is to be done is said as an order",
    ),
    Intended(
        "one side is plunged, in lists",
        ("list",),
        r"row .*: how it is cut$",
        one_side_is_plunged,
        "a notch has one side that no edge of the tile is at",
    ),
    Intended(
        "one side is plunged, on pages",
        ("words", "lines"),
        "page ",
        list_with_one_side,
        "a notch has one side that no edge of the tile is at",
    ),
    Intended(
        "the side of the kerf",
        ("words", "lines", "page"),
        "page ",
        page_with_the_kerf,
        "the slug of a hole that is run anticlockwise lies on the left, where the piece was said to be",
    ),
    Intended(
        "edges by hand, on templates",
        ("words", "label", "lines", "drawing"),
        "",
        sheet_that_says_hands,
        "an edge is called LEFT or RIGHT as the sheet lies when it is taped on, and MARK has its picture",
    ),
    Intended(
        "edges by hand, on lists",
        ("words", "lines"),
        "page ",
        list_that_says_hands,
        "lists say the sides as the sheets do, how sure a hole is in per cent, and the size to expect",
    ),
    Intended(
        "who is asked about a drawing",
        ("words", "lines", "page"),
        "page ",
        page_with_who_is_asked,
        "a shop's page says whom to ask, in tenths, and numbers the corners that are measured between",
    ),
    Intended("nobody named", ("plan",), "/contact$", nobody_is_named, "plan.json has who is asked about the job"),
    Intended(
        "the phone's page in other words",
        ("files",),
        "bytes$",
        phone_page_in_other_words,
        "the phone says how far a figure reaches, and what is read from which side",
    ),
    Intended("findings in other words", ("plan",), r"/findings/\d+/text$", finding_reworded, "as a tiler says them"),
    Intended(
        "UP of a floor",
        ("words", "label"),
        "(?:page |words)",
        up_of_a_floor,
        "a floor's UP always says towards what: away from its base line where the job does not say",
    ),
    Intended(
        "digests of what differs",
        ("plan",),
        "/(?:digests/|seal$)",
        digest_of_what_differs,
        "a file whose words differ has another size and sum, and both are those of the file that lies there",
    ),
    Intended(
        "edge work and remarks, nothing said",
        ("plan", "list"),
        r"/pieces/[^/]*/(edge_work|notes)$|/notes$|column (note|notes|edge work)$",
        nothing_to_say,
        "what is done to edges, and the tiler's remarks, stand in plan.json and in the lists",
    ),
    Intended(
        "what waits, and what is not read",
        ("plan",),
        r"/pieces/[^/]*/(?:unread|stopped|infills/\d+/past)$",
        new_of_a_piece,
        "plan.json says of each piece what of it waits, and why nothing is read for it",
    ),
    Intended(
        "readings round a notch",
        ("plan", "list", "words"),
        r"/pieces/[^/]*/infills(?:/\d+)?$|row .*: read$|page ",
        readings_of_a_notch,
        "what goes round a frame, a post or a niche is read to both its sides",
    ),
    Intended(
        "edges by what they are",
        ("list",),
        r"row .*: wall (?:across|up) from$",
        edge_by_what_it_is,
        "an edge that is read from is called what it is",
    ),
    Intended(
        "READ from what an edge is",
        ("list", "words"),
        r"row .*: read$|page ",
        read_from_what_it_is,
        "an edge that is read from is called what it is",
    ),
    Intended(
        "READ of each thing by itself",
        ("list", "words"),
        r"row .*: read$|page ",
        parted_by_what_ends_it,
        "a window and a niche that end one piece were one reading to the first of them",
    ),
    Intended(
        "why nothing is read",
        ("list", "words"),
        r"row .*: read$|page ",
        why_nothing_is_read,
        "where nothing can be read for a piece that is trimmed it is said",
    ),
    Intended(
        "rules that are new",
        ("plan",),
        r"/findings/\d+$",
        new_rule,
        "what will not snap, a slot into the next tile, and a line that the floor contradicts are said",
    ),
    Intended(
        "who is first", ("refused",), "", who_is_first, "over an area that hangs from its line the upper one is second"
    ),
    Intended(
        "longer job sheets", ("page",), "how many pages", longer_job_sheet, "what goes round a notch has its readings"
    ),
    Intended(
        "nothing to spare",
        ("plan", "list", "words", "label"),
        "",
        nothing_to_spare,
        "no room at all, or less than a step, is said in words and not as 0",
    ),
    Intended(
        "clearances, none",
        ("plan",),
        "/clearances$",
        nothing_to_clear,
        "the fittings of surfaces without tiles stand in plan.json, and before there could be none",
    ),
    Intended(
        "the set-out page",
        ("files", "plan"),
        r"$|/digests/set-out\.pdf$",
        set_out_is_new,
        "where the tiles go, the order of work and what to buy stand on a page of their own",
    ),
    Intended(
        "the page beside a drawing",
        ("files", "plan"),
        r"$|/digests/dxf/.*\.pdf$",
        page_beside_is_new,
        "what a shop asks of a piece stands on a page beside its DXF",
    ),
    Intended("what is bought", ("plan",), "/to_buy$", what_is_bought, "what the job takes stands in plan.json"),
    Intended(
        "the gap of a step's own stretch",
        ("plan",),
        r"/pieces/[^/]*/infills/\d+/(off|to)",
        gap_of_its_stretch,
        "the gap of the edge's first stretch, or a hair past a step, was said with the rest called still to come",
    ),
    Intended(
        "bytes of lists",
        ("plan",),
        r"/digests/(holes|pieces)\.csv/",
        bytes_of_a_list,
        "a list with new columns has another sum",
    ),
    Intended("seal of lists", ("plan",), "/seal$", seal_of_other_digests, "a list with new columns has another sum"),
    Intended(
        "names that a sheet says",
        ("refused",),
        "",
        name_as_a_sheet_says,
        "an area called back made a FACE sheet say BACK",
    ),
    Intended(
        "read to the middle",
        ("plan", "list"),
        r"/penetrations/.*/read_size$|/pieces/[^/]*/cuts/\d+/wall_check|row .*: wall \w+ (near|far|from)( mm)?$",
        read_to_its_middle,
        "the sides of a hole are not those of the thing in it",
    ),
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
        "the job's fingerprint in lists",
        ("list",),
        "column job fingerprint$",
        job_print_column,
        "a list that leaves the folder says of which state of its job it is",
    ),
    Intended("the job's file", ("plan",), "/job_file$", name_of_the_job_file, "another job of one name replaces none"),
    Intended("digests", ("plan",), "/digests$", digests_of_all, "what is removed is proved to be as it was written"),
    Intended("the seal", ("plan",), "/seal$", seal_of_the_rest, "a plan.json that was changed proves nothing"),
    Intended(
        "pairs add up", ("list",), r"row \d+, .*: from \w+ mm$", pair_adds_up, "each was rounded by itself before"
    ),
    Intended(
        "web of a tip that overhangs",
        ("plan",),
        r"/pieces/.*/web/\w+$",
        web_to_an_overhanging_tip,
        "only its middle and the ends of its edges were looked at",
    ),
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
        "fingerprint in a title",
        ("label",),
        "title",
        print_in_the_title,
        "a sheet that leaves the folder says which print of its piece it is",
    ),
    Intended("name in a DXF's header", ("dxf",), "", name_in_the_header, "a drawing that was renamed says what it was"),
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
    Intended(
        "layout after changed words",
        ("lines",),
        "page ",
        layout_after_words,
        "a sentence of another length moves what stands below it",
    ),
    Intended(
        "refused in other words",
        ("refused",),
        "$",
        refused_in_other_words,
        "a fault that the text shows is told with the others, and its sentence stands alone",
    ),
    Intended("HOW SURE without the lap", ("words",), "page ", note_of_how_sure, "it counts until the hole shows"),
    Intended(
        "findings with their pieces",
        ("words", "label"),
        "page |words",
        finding_with_its_pieces,
        "what is printed follows from the figures",
    ),
    Intended(
        "sheets that say something else",
        ("drawing", "lines"),
        "page |drawn",
        sheet_laid_out_anew,
        "a panel with a sentence more or less, or of another width, has another place, and the drawing the rest",
    ),
    Intended(
        "panels beside a fingerprint",
        ("drawing", "lines"),
        "page |drawn",
        panel_beside_a_print,
        "the words beside a join are as wide as the fingerprint in them, and a panel keeps clear of them",
    ),
    Intended(
        "fewer sheets",
        ("files", "page", "words"),
        "$|how many|page ",
        other_number_of_sheets,
        "a piece that says less may do with one sheet less, and the others are counted anew",
    ),
    Intended(
        "what the paper may be out",
        ("words", "label"),
        "page |words",
        paper_against_leeway,
        "a square under a round cover may be off by less than was said: fewer of them may be marked through paper",
    ),
    Intended(
        "elevation in other room",
        ("lines",),
        "page ",
        elevation_in_other_room,
        "a finding less leaves the elevation more of the page",
    ),
    Intended(
        "lists of the site",
        ("page", "words", "lines", "drawing", "label", "files"),
        "$|how many pages|page |drawn|words|title",
        list_drawn_anew,
        "the front sheet is the day's list, the job sheet one list in place of three, and no word is under 9 point",
    ),
    Intended(
        "letters of a thumbnail",
        ("drawing", "lines"),
        "page |drawn",
        thumbnail_with_larger_letters,
        "a set-out line's letter beside the small elevation is 9 point too",
    ),
    Intended("names with room", ("words",), "page ", name_with_room, "a larger elevation has room for a window's name"),
    Intended(
        "the phone's page",
        ("files", "plan"),
        r"$|/digests/wall\.html$",
        page_for_the_phone,
        "wall.html is written beside the rest",
    ),
    Intended(
        "who read it",
        ("plan", "list"),
        r"/found/\d+/by$|column by$",
        who_read_it,
        "what a wall page sends says who read it; what was typed before does not",
    ),
    Intended("chance", ("plan",), r"/sure/\d+/chance$", chance_in_fewer_steps, "48 steps of the integral for 127"),
    Intended("times in 1000", ("words",), "page ", times_in_fewer_steps, "48 steps of the integral for 127"),
)
