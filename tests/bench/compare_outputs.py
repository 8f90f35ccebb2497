"""Two outputs of one job laid side by side: every difference between them, none forgiven.

Files are paired by what is in them (the title of a sheet, the piece of a drawing), not by what they are called.
"""

from __future__ import annotations

import difflib
import hashlib
import html
import json
import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import cached_property
from pathlib import Path
from typing import Any, Literal, TypeVar

from msgspec import Struct

from tests.bench.compare_maker import BROKEN, REFUSED
from tests.bench.compare_read import Drawing, Page, Row, csv_header, csv_rows, drawing_of, dxf_rows, pages_of

Kind = Literal[
    "broken", "refused", "files", "name", "plan", "list", "dxf", "drawing", "label", "page", "words", "lines"
]
EXACT = 1.000001e-6
"""Figures of plan.json, lists and DXF agree within this, mm: they are written with six decimals at most."""
DRAWN = 2e-4
"""Lengths in an SVG, which has four decimals: each side may have rounded the other way."""
INKED = 2e-3
"""Lengths in a PDF, mm: written in points, and read in single precision."""
FIGURE = re.compile(r"[-+]?\d+(\.\d+)?")
PRINT_IN_TITLE = re.compile(r", piece [0-9a-f]{8}$")
NAMES = ("drawing", "drawing of open cut paths", "sha-256", "fingerprint", "piece", "hole", "job")
"""Columns whose cells are words even where they look like a figure."""
BESIDE = "page beside drawing"
"""How the key of a page for the shop begins: no list names it, it is called as the drawing that it lies beside."""
Item = TypeVar("Item")


class Nothing:
    """Stands where one of the two has nothing."""

    def __repr__(self) -> str:
        return "nothing"


NOTHING = Nothing()


class Difference(Struct, frozen=True, dict=True):
    """One difference: of what kind, in which file (named as `before` names it), where in it, and both values."""

    job: str
    kind: Kind
    file: str
    path: str
    before: Any
    after: Any

    def __str__(self) -> str:
        before, after = (_short(value) for value in (self.before, self.after))
        return f"{self.job}: {self.file}: {self.kind}: {self.path}\n    before {before}\n    after  {after}"


def _short(value: Any) -> str:
    text = " ".join(str(part) for part in value) if isinstance(value, tuple) else repr(value)
    return text if len(text) <= 300 else f"{text[:300]} ... ({len(text)} characters)"


class Output(Struct, frozen=True, dict=True):
    """What one checkout made of one job: a folder, or sentences in place of it."""

    folder: Path

    @cached_property
    def plan(self) -> dict[str, Any]:
        loaded: dict[str, Any] = json.loads((self.folder / "plan.json").read_text(encoding="utf-8"))
        return loaded

    @cached_property
    def pieces(self) -> Mapping[str, dict[str, Any]]:
        return {piece["name"]: piece for piece in self.plan["pieces"]}

    def instead(self) -> tuple[Kind, str] | None:
        """Why there is no folder, and the sentences; None where there is one."""
        endings: tuple[tuple[Kind, str], ...] = (("refused", REFUSED), ("broken", BROKEN))
        for kind, ending in endings:
            path = self.folder.with_suffix(ending)
            if path.is_file():
                return kind, path.read_text(encoding="utf-8")
        return None if self.folder.is_dir() else ("broken", "nothing was made")

    def files(self) -> dict[str, str]:
        """Every file by its key: what it is, whatever it is called."""
        return self._files

    @cached_property
    def _files(self) -> dict[str, str]:
        found = {name: name for name in self._on_disk if not name.startswith(("dxf/", "sheets/"))}
        for name in self._on_disk:
            if name.startswith("sheets/"):
                # The fingerprint at the end of a title is no part of which sheet it is.
                found[f"sheet {PRINT_IN_TITLE.sub('', _title(self.folder / name))}"] = name
        # Surfaces without tiles alone have no list of pieces.
        listed = self.folder / "pieces.csv"
        for row in csv_rows(listed) if listed.exists() else ():
            for column in ("drawing", "drawing of open cut paths"):
                if row[column]:
                    found.setdefault(f"{column} {row['piece']}", row[column])
            page = f"{row['drawing'].removesuffix('.dxf')}.pdf"
            if row["drawing"] and page in self._on_disk:
                found[f"{BESIDE} {row['piece']}"] = page
        return found

    @cached_property
    def _on_disk(self) -> list[str]:
        return sorted(path.relative_to(self.folder).as_posix() for path in self.folder.rglob("*") if path.is_file())

    def sha(self, name: str) -> str:
        """The SHA-256 of one of the files, in hex."""
        return self._sums[name]

    @cached_property
    def _sums(self) -> dict[str, str]:
        return {name: hashlib.sha256((self.folder / name).read_bytes()).hexdigest() for name in self._on_disk}

    def pages(self, name: str) -> tuple[Page, ...]:
        """The pages of one of the PDFs, read once."""
        if name not in self._read:
            self._read[name] = tuple(pages_of(self.folder / name))
        return self._read[name]

    @cached_property
    def _read(self) -> dict[str, tuple[Page, ...]]:
        return {}

    def drawing(self, name: str) -> Drawing:
        """One of the SVG files, read once."""
        if name not in self._drawn:
            self._drawn[name] = drawing_of(self.folder / name)
        return self._drawn[name]

    @cached_property
    def _drawn(self) -> dict[str, Drawing]:
        return {}

    @property
    def sheets(self) -> int:
        """How many templates there are, each a page at the end of pack.pdf."""
        return sum(name.startswith("sheets/") for name in self._on_disk)

    def strays(self) -> tuple[str, ...]:
        """Files that plan.json does not list, those it lists that are not there, drawings and pages of no piece."""
        there, listed = set(self._on_disk), set(self.plan["files"])
        return tuple(sorted((there ^ listed) | (there - set(self.files().values()))))


def _title(svg: Path) -> str:
    found = re.search(r"<(?:\w+:)?title>(.*?)</", svg.read_text(encoding="utf-8"))
    return html.unescape(found.group(1)) if found else svg.name


def differences(job: str, before: Output, after: Output) -> Iterator[Difference]:
    """Every difference between two outputs of a job."""
    one, two = before.instead(), after.instead()
    if one or two:
        if one != two:
            kind = two[0] if two else one[0] if one else "broken"
            yield Difference(job, kind, "", "", one[1] if one else NOTHING, two[1] if two else NOTHING)
        return
    for output in (before, after):
        if output.strays():
            yield Difference(job, "files", "plan.json", "files", NOTHING, output.strays())
    ours, theirs = before.files(), after.files()
    for key in sorted(ours.keys() | theirs.keys()):
        a, b = ours.get(key), theirs.get(key)
        if a is None or b is None:
            yield Difference(job, "files", key, "", a or NOTHING, b or NOTHING)
            continue
        if a != b:
            yield Difference(job, "name", key, "", a, b)
        first, second = before.folder / a, after.folder / b
        if first.read_bytes() != second.read_bytes():
            for kind, path, was, is_now in _inside(first, second):
                yield Difference(job, kind, key, path, was, is_now)


Found = tuple[Kind, str, Any, Any]


def _inside(first: Path, second: Path) -> Iterator[Found]:
    match first.suffix:
        case ".json":
            yield from _plan(first, second)
        case ".csv":
            yield from _list(first, second)
        case ".dxf":
            yield from _rows("dxf", "pairs", dxf_rows(first), dxf_rows(second), EXACT)
        case ".svg":
            yield from _svg(first, second)
        case ".pdf":
            yield from _pdf(first, second)
        case _:
            yield "files", "bytes", first.name, second.name


def _plan(first: Path, second: Path) -> Iterator[Found]:
    one, two = (json.loads(path.read_text(encoding="utf-8")) for path in (first, second))
    # The list of files is held against the disk, and names are compared pair by pair.
    one.pop("files"), two.pop("files")
    yield from tree("", one, two)


def tree(path: str, one: Any, two: Any) -> Iterator[Found]:
    """What differs in two trees of JSON; things with a name are paired by it."""
    if isinstance(one, dict) and isinstance(two, dict):
        for key in (*one, *(key for key in two if key not in one)):
            yield from tree(f"{path}/{key}", one.get(key, NOTHING), two.get(key, NOTHING))
    elif isinstance(one, list) and isinstance(two, list):
        yield from _lists(path, one, two)
    elif not same(one, two):
        yield "plan", path, one, two


def _lists(path: str, one: list[Any], two: list[Any]) -> Iterator[Found]:
    named = [_by_name(part) for part in (one, two)]
    if named[0] is not None and named[1] is not None:
        if list(named[0]) != list(named[1]) and sorted(named[0]) == sorted(named[1]):
            yield "plan", f"{path} in order", tuple(named[0]), tuple(named[1])
        yield from tree(path, named[0], named[1])
        return
    if len(one) == len(two):
        for number, (a, b) in enumerate(zip(one, two, strict=True)):
            yield from tree(f"{path}/{number}", a, b)
        return
    keys = [[json.dumps(_rounded(part), sort_keys=True) for part in parts] for parts in (one, two)]
    for low, high, start, end in _changed(keys[0], keys[1]):
        if high - low == end - start:
            for number in range(high - low):
                yield from tree(f"{path}/{low + number}", one[low + number], two[start + number])
        else:
            for number in range(low, high):
                yield "plan", f"{path}/{number}", one[number], NOTHING
            for number in range(start, end):
                yield "plan", f"{path}/{number}", NOTHING, two[number]


def _by_name(parts: list[Any]) -> dict[str, Any] | None:
    if not parts or not all(isinstance(part, dict) and "name" in part for part in parts):
        return None
    named = {part["name"]: part for part in parts}
    return named if len(named) == len(parts) else None


def _rounded(value: Any) -> Any:
    if isinstance(value, float):
        return round(value, 5) + 0.0
    if isinstance(value, list):
        return [_rounded(part) for part in value]
    return {key: _rounded(part) for key, part in value.items()} if isinstance(value, dict) else value


def same(one: Any, two: Any, within: float = EXACT) -> bool:
    """Figures within a tolerance, all else to the letter; a truth is no figure."""
    if _is_figure(one) and _is_figure(two):
        return bool(abs(one - two) <= within)
    return type(one) is type(two) and one == two


def _is_figure(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


def _list(first: Path, second: Path) -> Iterator[Found]:
    heads, rows = (csv_header(first), csv_header(second)), (csv_rows(first), csv_rows(second))
    for column in (column for column in heads[0] if column not in heads[1]):
        yield "list", f"column {column}", column, NOTHING
    for column in (column for column in heads[1] if column not in heads[0]):
        yield "list", f"column {column}", NOTHING, tuple(row[column] for row in rows[1])
    shared = [column for column in heads[0] if column in heads[1]]
    if shared != [column for column in heads[1] if column in heads[0]]:
        yield "list", "columns in order", tuple(heads[0]), tuple(heads[1])
    if len(rows[0]) != len(rows[1]):
        yield "list", "rows", len(rows[0]), len(rows[1])
        return
    for number, (one, two) in enumerate(zip(*rows, strict=True), start=2):
        about = one.get("piece") or one.get("hole") or ""
        for column in shared:
            if not _same_cell(column, one[column], two[column]):
                yield "list", f"row {number}, {about}: {column}", one[column], two[column]


def _same_cell(column: str, one: str, two: str) -> bool:
    if column not in NAMES and FIGURE.fullmatch(one) and FIGURE.fullmatch(two):
        return same(float(one), float(two))
    return one == two


def _svg(first: Path, second: Path) -> Iterator[Found]:
    one, two = drawing_of(first), drawing_of(second)
    if one.size != two.size:
        yield "page", "size", one.size, two.size
    yield from _words("label", "title", one.title.split(), two.title.split())
    yield from _words("label", "words", " ".join(one.words).split(), " ".join(two.words).split())
    yield from _rows("drawing", "drawn", one.drawn, two.drawn, DRAWN)


def _pdf(first: Path, second: Path) -> Iterator[Found]:
    pages = pages_of(first), pages_of(second)
    if len(pages[0]) != len(pages[1]):
        yield "page", "how many pages", len(pages[0]), len(pages[1])
        return
    for number, (one, two) in enumerate(zip(*pages, strict=True), start=1):
        yield from _pages(f"page {number}", one, two)


def _pages(name: str, one: Page, two: Page) -> Iterator[Found]:
    if not (same(one.width, two.width, INKED) and same(one.height, two.height, INKED)):
        yield "page", f"{name}: size", (one.width, one.height), (two.width, two.height)
    yield from _words("words", name, one.words, two.words)
    yield from _rows("lines", name, one.drawn, two.drawn, INKED)


def _words(kind: Kind, path: str, one: Sequence[str], two: Sequence[str]) -> Iterator[Found]:
    """Each run of words that differs, with its place: the number of its first word."""
    for low, high, start, end in _changed(one, two):
        yield kind, f"{path}, word {low + 1}", " ".join(one[low:high]), " ".join(two[start:end])


def _rows(kind: Kind, path: str, one: Sequence[Row], two: Sequence[Row], within: float) -> Iterator[Found]:
    """Each run of rows that differs, those left out that agree within the tolerance."""

    def key(row: Row) -> tuple[str, tuple[float, ...]]:
        return row.words, tuple(round(figure, 3) + 0.0 for figure in row.figures)

    if len(one) == len(two) and all(_alike(a, b, within) for a, b in zip(one, two, strict=True)):
        return
    # What is alike when rounded is looked at once more: rounding hides half a thousandth.
    for low, high, start, end in _changed(one, two, key):
        a, b = one[low:high], two[start:end]
        if len(a) != len(b):
            yield kind, f"{path}, {low + 1} to {high}", tuple(a), tuple(b)
            continue
        for number, (was, is_now) in enumerate(zip(a, b, strict=True)):
            if not _alike(was, is_now, within):
                yield kind, f"{path}, {low + number + 1}", (was,), (is_now,)


def _alike(one: Row, two: Row, within: float) -> bool:
    return (
        one.words == two.words
        and len(one.figures) == len(two.figures)
        and all(abs(a - b) <= within for a, b in zip(one.figures, two.figures, strict=True))
    )


def _changed(
    one: Sequence[Item], two: Sequence[Item], key: Callable[[Item], Any] = lambda item: item
) -> Iterator[tuple[int, int, int, int]]:
    """The runs (from, to, from, to) in which two rows of things are not equal."""
    keys = [key(item) for item in one], [key(item) for item in two]
    if keys[0] == keys[1]:
        # Alike when rounded, and yet not within the tolerance: a run each.
        yield from ((n, n + 1, n, n + 1) for n, (a, b) in enumerate(zip(one, two, strict=True)) if a != b)
        return
    for tag, low, high, start, end in difflib.SequenceMatcher(None, *keys, autojunk=False).get_opcodes():
        if tag != "equal":
            yield low, high, start, end
        else:
            for number in range(high - low):
                if one[low + number] != two[start + number]:
                    yield low + number, low + number + 1, start + number, start + number + 1
