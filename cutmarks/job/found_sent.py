"""What a wall page sent back from a phone: read, and sorted into what is taken and what is not.

    # cutmarks found JOB --from FILE
    job: "Quay Cottage, laundry"
    digits: 9023662b
    found:
    - {"piece": "splash 3-4", "sheet": "a8ee98cd", "hole": "hot", "right": "70 mm to 86 mm", "by": "JK 2026-03-14"}

Each entry says what one under `found:` in the job says, and two things more: `sheet`, the digits that the piece had on
that page; `fixed: yes`, which is for the other phone. An entry of a piece whose digits are others now is not taken: its
figures were read for something else. `by` says who read it and when, and tells what was taken in already.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path as FilePath

from msgspec import Struct

from cutmarks.errors import Fault, JobError, JobPath
from cutmarks.job.crosscheck import text
from cutmarks.job.found_file import Kept
from cutmarks.job.reading import MOST_BYTES, read_file, read_tree
from cutmarks.job.tree import Entry, Items, Places, Text
from cutmarks.job.words import either, found, spaced

WHAT = "file that a wall page sent"
BEGINS = "it begins with a line such as job: Quay Cottage, as the page wrote it"
OF_A_FILE = ("job", "digits", "found")
READ = ("left", "right", "bottom", "top", "opening across", "opening up")
"""What differs where two read one piece otherwise."""
OF_AN_ENTRY = ("piece", "sheet", "hole", *READ, "cut", "fixed", "by")
LONGEST = 200
"""A name is shorter, and so are two readings."""
_STAMP = re.compile(r"(?P<who>.*?) ?(?P<day>\d{4}-\d\d-\d\d)( \d\d:\d\d:\d\d)?")


class SentEntry(Struct, frozen=True):
    """One entry, each value as it was sent: of which file and line, and the digits of its piece's sheet."""

    file: str
    line: int | None
    sheet: str
    said: Mapping[str, str]
    fixed: bool

    @property
    def about(self) -> tuple[str, str, bool]:
        """What it is of: a hole in a piece, or the openings that the piece goes into."""
        opening = any(key in self.said for key in ("opening across", "opening up"))
        return spaced(self.said["piece"]).casefold(), spaced(self.said.get("hole", "")).casefold(), opening

    @property
    def who(self) -> str:
        """The initials of who read it."""
        return who_of(self.said)

    @property
    def read(self) -> tuple[tuple[str, str], ...]:
        """What was read."""
        return read_in(self.said)

    @property
    def words(self) -> str:
        """What it is of and says, in one line."""
        said = [f"{key} {value}" for key, value in self.said.items() if key not in ("piece", "hole", "by", "date")]
        hole = f", {self.said['hole']}" if "hole" in self.said else ""
        fixed = ["fixed"] if self.fixed else []
        return f"{self.said['piece']}{hole}: {', '.join((*said, *fixed)) or 'ticked'} ({self.said.get('by', '?')})"

    @property
    def to_keep(self) -> Mapping[str, str]:
        """The entry as it is kept in the file of what was found; empty where there is nothing to keep."""
        return self.said if self.read or ("cut" in self.said and "hole" in self.said) else {}


class SortedOut(Struct, frozen=True):
    """The entries of all files, sorted.

    taken    those to be kept, in the order in which they were sent.
    known    those that are kept already.
    changed  those of pieces whose figures are others now.
    apart    those of one piece that two read differently, with each other's.
    ticked   the pieces that are said to be fixed, or cut with nothing to keep of it: that stays with the phone.
    """

    taken: tuple[SentEntry, ...]
    known: tuple[SentEntry, ...]
    changed: tuple[SentEntry, ...]
    apart: tuple[tuple[str, ...], ...]
    ticked: tuple[str, ...]


def who_of(said: Mapping[str, str]) -> str:
    """The initials in an entry's `by`; "" where it has none."""
    by = spaced(said.get("by", ""))
    stamp = _STAMP.fullmatch(by)
    return stamp["who"] if stamp else by


def read_in(said: Mapping[str, str]) -> tuple[tuple[str, str], ...]:
    """What was read, of all that an entry says."""
    return tuple((key, spaced(said[key])) for key in READ if key in said)


def read_sent(paths: Iterable[FilePath], job: str) -> list[SentEntry]:
    """The entries of files that wall pages of a job sent.

    Raises:
        JobError: one cannot be read, is of another job, or holds what no wall page writes; all faults at once.
    """
    contents = [(path.name, read_file(path, MOST_BYTES, WHAT)) for path in paths]
    return sent_in(contents, job)


def sent_in(contents: Iterable[tuple[str, str | Fault]], job: str) -> list[SentEntry]:
    """The entries of what wall pages of a job sent, each text behind the name that faults call it.

    Raises:
        JobError: as `read_sent`.
    """
    faults: list[Fault] = []
    entries: list[SentEntry] = []
    for name, content in contents:
        if isinstance(content, Fault):
            faults.append(content)
            continue
        tree, places, typed, whole = read_tree(content, name, begin=BEGINS)
        faults += typed
        if whole and not typed:
            faults += _of_the_job(tree, places, name, job)
            entries += _entries(tree, places, name, faults)
    if faults:
        raise JobError(faults)
    return entries


def _of_the_job(tree: Entry, places: Places, file: str, job: str) -> Iterable[Fault]:
    """That the file is of this job, and has nothing in it that no page writes."""
    named = tree.get("job")
    if not isinstance(named, Text) or spaced(named) != spaced(job):
        what = found(named) if isinstance(named, Text) else "no job"
        yield Fault(
            f"This {WHAT} is of {what}, and this job is {found(job)}: give it with the job that its page was made for.",
            file=file,
            line=_line(places, ("job",)) or 1,
        )
    for key in tree:
        if key not in OF_A_FILE:
            yield _odd(key, OF_A_FILE, file, _line(places, (key,)))
    if not isinstance(tree.get("found"), Items):
        sentence = f'This {WHAT} has no list under "found:": send it from the page again.'
        yield Fault(sentence, file=file, line=_line(places, ("found",)) or 1)


def _entries(tree: Entry, places: Places, file: str, faults: list[Fault]) -> Iterable[SentEntry]:
    listed = tree.get("found")
    for number, node in enumerate(listed if isinstance(listed, Items) else ()):
        line = _line(places, ("found", number))
        if not isinstance(node, Entry) or not all(_is_plain(key) and _is_plain(value) for key, value in node.items()):
            faults.append(Fault("This is no entry of a wall page: send it from the page again.", file=file, line=line))
            continue
        faults += [_odd(key, OF_AN_ENTRY, file, line) for key in node if key not in OF_AN_ENTRY]
        missing = [key for key in ("piece", "sheet") if not text(node, key)]
        if missing:
            sentence = f"This entry has no {either(missing)}: send it from the page again."
            faults.append(Fault(sentence, file=file, line=line))
            continue
        said = {key: str(value) for key, value in node.items() if key not in ("sheet", "fixed")}
        stamp = _STAMP.fullmatch(spaced(said.get("by", "")))
        if stamp:
            said["date"] = stamp["day"]
        yield SentEntry(file, line, text(node, "sheet"), said, text(node, "fixed") == "yes")


def _is_plain(value: object) -> bool:
    """Whether it is a text of one line that can be printed: nothing that a terminal would do something by."""
    return isinstance(value, str) and value.isprintable() and len(value) <= LONGEST


def _odd(key: str, known: Sequence[str], file: str, line: int | None) -> Fault:
    return Fault(f"{found(key)} is nothing that a wall page writes: it writes {either(known)}.", file=file, line=line)


def _line(places: Places, path: JobPath) -> int | None:
    place = places.find(path)
    return None if place is None else place.line


def sort_out(entries: Sequence[SentEntry], kept: Kept, sheets: Mapping[str, str], of: str = "") -> SortedOut:
    """What is taken of the entries, and why the others are not.

    `sheets` are the digits of each piece now, by its name in small letters. Where two read one piece differently, those
    of the initials `of` are taken; without them none.
    """
    before = [_kept_entry(node) for _, node in kept.entries]
    stamps = {(*_about(said), said["by"]) for said in before if "by" in said}
    last = {_about(said): said for said in before}
    known, changed, open_ones = [], [], []
    for one in entries:
        if not one.to_keep:
            continue
        if (*one.about, one.said.get("by", "")) in stamps or _says_the_same(last.get(one.about), one):
            known.append(one)
        elif sheets.get(one.about[0]) != one.sheet:
            changed.append(one)
        else:
            open_ones.append(one)
    taken, apart = _one_of_each(open_ones, last, of)
    ticked = dict.fromkeys(one.said["piece"] for one in entries if one.fixed or not one.to_keep)
    return SortedOut(tuple(taken), tuple(known), tuple(changed), tuple(apart), tuple(ticked))


def _one_of_each(
    entries: Sequence[SentEntry], last: Mapping[tuple[str, str, bool], Mapping[str, str]], of: str
) -> tuple[list[SentEntry], list[tuple[str, ...]]]:
    """Of each hole, or opening, the last that one man read; what two read differently, in words."""
    by_hole: dict[tuple[str, str, bool], dict[str, SentEntry]] = {}
    for one in entries:
        own = by_hole.setdefault(one.about, {})
        who = one.who or one.file  # nobody signed it: another file may be another phone's
        earlier = own.get(who)
        if earlier is None or one.said.get("by", "") >= earlier.said.get("by", ""):
            own[who] = one
    taken: list[SentEntry] = []
    apart: list[tuple[str, ...]] = []
    for about, own in by_hole.items():
        said = {who: one.read for who, one in own.items() if one.read}
        words = [one.words for one in own.values()]
        held = last.get(about)
        if held is not None and read_in(held) and who_of(held) and who_of(held) not in said:
            said[who_of(held)] = read_in(held)
            words.append(f"kept already: {', '.join(f'{key} {value}' for key, value in read_in(held))} ({held['by']})")
        if len(set(said.values())) > 1 and of not in said:
            apart.append(tuple(words))
        elif len(set(said.values())) > 1:
            taken += [own[of]] if of in own else []
        else:
            # All read the same: of those, what says most, that it was cut as well.
            taken.append(max(own.values(), key=lambda one: ("cut" in one.said, bool(one.read), one.said.get("by", ""))))
    return taken, apart


def _kept_entry(node: object) -> dict[str, str]:
    return {str(key): spaced(str(value)) for key, value in node.items()} if isinstance(node, Entry) else {}


def _about(said: Mapping[str, str]) -> tuple[str, str, bool]:
    opening = any(key in said for key in ("opening across", "opening up"))
    return said.get("piece", "").casefold(), said.get("hole", "").casefold(), opening


def _says_the_same(held: Mapping[str, str] | None, one: SentEntry) -> bool:
    """Whether the last that is kept of it says no less."""
    return held is not None and read_in(held) == one.read and ("cut" not in one.said or "cut" in held)
