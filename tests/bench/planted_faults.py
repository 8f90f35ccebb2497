"""Faults planted in the code one at a time, each against every test that runs its line: what no test notices is told.

    python -m tests.bench.planted_faults --map MAP                 # once a tree: which test runs which line (minutes)
    python -m tests.bench.planted_faults --map MAP --count 120 --seed 1
    python -m tests.bench.planted_faults --map MAP --only cutmarks/openings/cuts.py:120

A fault is what a slip of the hand would be: another side, the other axis, a sign, a border taken in or left out, a
condition turned round, a figure one more, a step left out. The tests that run the line go first to last by how long
they take, until one fails. Exit 1: a fault lives that is not in `EQUIVALENT`.
"""

from __future__ import annotations

import argparse
import ast
import json
import os
import random
import shutil
import subprocess
import sys
import tempfile
import xml.etree.ElementTree as ET
from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path
from queue import SimpleQueue

from coverage import CoverageData
from msgspec import Struct

ROOT = Path(__file__).resolve().parents[2]
PACKAGE = "cutmarks"
MOST_SECONDS = 900
"""A run of tests that takes longer has been made to hang, which is a way of being noticed."""
FIRST = 40
"""So many of the tests of a line, the quickest, are tried before the others."""
FAILED = 1
"""What pytest ends with where a test failed."""
NOT_LOADED = ("ERROR collecting", "while loading conftest")
"""What it prints where a file of tests cannot be loaded: with a fault in what it imports, that is noticed too."""
OTHER_NAME = {
    one: other
    for pair in (
        ("LEFT", "RIGHT"), ("BOTTOM", "TOP"), ("left", "right"), ("bottom", "top"), ("x", "y"), ("w", "h"),
        ("min_x", "max_x"), ("min_y", "max_y"), ("width", "height"), ("near", "far"), ("across", "up"),
        ("from_left", "from_right"), ("from_bottom", "from_top"), ("dx", "dy"), ("cos", "sin"), ("first", "second"),
    )
    for one, other in (pair, pair[::-1])
}  # fmt: skip
OTHER_CALL = {"min": "max", "max": "min", "any": "all", "all": "any", "floor": "ceil", "ceil": "floor"}
LEFT_OUT_CALL = {"abs", "sorted", "round", "reversed"}
LEFT_OUT_ATTRIBUTE = {"opposite", "mirrored", "inverse"}
OTHER_COMPARE: Mapping[type[ast.cmpop], str] = {
    ast.Lt: "<=", ast.LtE: "<", ast.Gt: ">=", ast.GtE: ">", ast.Eq: "!=", ast.NotEq: "==",
    ast.In: "not in", ast.NotIn: "in", ast.Is: "is not", ast.IsNot: "is",
}  # fmt: skip
OTHER_OPERATOR: Mapping[type[ast.operator], str] = {ast.Add: "-", ast.Sub: "+", ast.Mult: "/", ast.Div: "*"}
EQUIVALENT: Mapping[tuple[str, str, str], str] = {
    (
        "cutmarks/job/said_edge.py",
        '"left", "right", "of", "above", "below", "over", "under", "up", "down", "from", "off", "in", "short", "the",',
        '"left", "right", "of", "above", "below", "over", "under", \'across\', "down", "from", "off", "in", "short", '
        '"the",',
    ): "tokens have made `up` of a line into `above` before this table is looked at",
    (
        "cutmarks/marks/elevation_view.py",
        "middle: Point[Courses] = Point(u + grid.w / 2, v + grid.h / 2)",
        "middle: Point[Courses] = Point(u + grid.w / 2, v + grid.h / 3)",
    ): "a place that is drawn whole lies in the ground with all of its tile, whichever of its points is asked",
    (
        "cutmarks/writers/plan_json/writing.py",
        "return json.dumps(value, ensure_ascii=False, allow_nan=False)",
        "return json.dumps(value, ensure_ascii=True, allow_nan=False)",
    ): "JSON says a letter either way, and every reader reads the same",
    (
        "cutmarks/writers/wall_page/pictures.py",
        "if run.pen.line is None or len(paths) < len(run.shapes):",
        "if run.pen.line is None or len(paths) <= len(run.shapes):",
    ): "the same lines in more elements",
    (
        "cutmarks/geometry/near.py",
        "if self._kept < len(boxes):",
        "if self._kept <= len(boxes):",
    ): "what is kept already is kept again: nothing is added",
    (
        "cutmarks/writers/dxf_blank.py",
        "_LOW, _HIGH, _MIDDLE, _HEIGHT = (-90001.5, -90002.5), (90003.5, 90004.5), (90005.5, 90006.5), 90007.5",
        "_LOW, _HIGH, _MIDDLE, _HEIGHT = (-90001.5, -90002.5), (90003.5, 90004.5), (90005.5, 90006.5), 90008.5",
    ): "a figure that stands in a blank while the file is written, and is replaced",
    (
        "cutmarks/openings/outlines.py",
        "if abs(y0) <= TOUCH and abs(y1) <= TOUCH:",
        "if abs(y0) < TOUCH and abs(y1) <= TOUCH:",
    ): "a tolerance taken in or left out at its very end",
}
"""Faults that change nothing that anyone can see: (file, the line as it stands, as planted), and why."""


@dataclass(frozen=True, slots=True)
class Fault:
    """One fault: a stretch of a file's bytes and what stands there instead."""

    path: str
    line: int
    start: int
    end: int
    instead: str

    def planted(self, source: bytes) -> bytes:
        """The file with the fault in it."""
        return source[: self.start] + self.instead.encode() + source[self.end :]

    def told(self, source: bytes) -> tuple[str, str]:
        """The line, or lines, as they stand and as planted."""
        first = source.rfind(b"\n", 0, self.start) + 1
        last = source.find(b"\n", self.end)
        before = source[first:last].decode()
        after = (source[first : self.start] + self.instead.encode() + source[self.end : last]).decode()
        return " ".join(before.split()), " ".join(after.split())


class _Sites(ast.NodeVisitor):
    """Every fault that can be planted in one file."""

    def __init__(self, path: str, source: bytes) -> None:
        self.found: list[Fault] = []
        self._path = path
        self._source = source
        self._starts = [0]
        for row in source.splitlines(keepends=True):
            self._starts.append(self._starts[-1] + len(row))

    def _at(self, line: int, column: int) -> int:
        return self._starts[line - 1] + column

    def _ends(self, node: ast.expr | ast.stmt) -> tuple[int, int]:
        assert node.end_lineno is not None
        assert node.end_col_offset is not None
        return self._at(node.lineno, node.col_offset), self._at(node.end_lineno, node.end_col_offset)

    def _add(self, node: ast.expr | ast.stmt, instead: str) -> None:
        self.found.append(Fault(self._path, node.lineno, *self._ends(node), instead))

    def _between(self, one: ast.expr, other: ast.expr, old: str, new: str) -> None:
        """A word or sign that stands between two expressions."""
        assert one.end_lineno is not None
        start, end = self._ends(one)[1], self._ends(other)[0]
        gap = self._source[start:end].decode()
        if gap.count(old) == 1 and "#" not in gap:
            at = start + len(gap[: gap.index(old)].encode())
            self.found.append(Fault(self._path, one.end_lineno, at, at + len(old), new))

    def _text(self, node: ast.expr) -> str:
        start, end = self._ends(node)
        return self._source[start:end].decode()

    def visit_Compare(self, node: ast.Compare) -> None:
        """A border taken in or left out, or the opposite."""
        sides = [node.left, *node.comparators]
        words = {ast.Lt: "<", ast.LtE: "<=", ast.Gt: ">", ast.GtE: ">=", ast.Eq: "==", ast.NotEq: "!=",
                 ast.In: "in", ast.NotIn: "not in", ast.Is: "is", ast.IsNot: "is not"}  # fmt: skip
        for (one, other), operator in zip(pairwise(sides), node.ops, strict=True):
            self._between(one, other, words[type(operator)], OTHER_COMPARE[type(operator)])
        self.generic_visit(node)

    def visit_BinOp(self, node: ast.BinOp) -> None:
        """The other sign."""
        signs = {ast.Add: "+", ast.Sub: "-", ast.Mult: "*", ast.Div: "/"}
        if type(node.op) in signs and not isinstance(node.left, ast.Constant | ast.JoinedStr | ast.List | ast.Tuple):
            self._between(node.left, node.right, signs[type(node.op)], OTHER_OPERATOR[type(node.op)])
        self.generic_visit(node)

    def visit_BoolOp(self, node: ast.BoolOp) -> None:
        """And for or."""
        old, new = ("and", "or") if isinstance(node.op, ast.And) else ("or", "and")
        for one, other in pairwise(node.values):
            self._between(one, other, old, new)
        self.generic_visit(node)

    def visit_UnaryOp(self, node: ast.UnaryOp) -> None:
        """A sign or a `not` left out."""
        if isinstance(node.op, ast.USub | ast.Not):
            self._add(node, f"({self._text(node.operand)})")
        self.generic_visit(node)

    def visit_Constant(self, node: ast.Constant) -> None:
        """A figure one more; yes for no; the other side's word."""
        if isinstance(node.value, bool):
            self._add(node, str(not node.value))
        elif isinstance(node.value, int | float):
            self._add(node, repr(node.value + 1))
        elif isinstance(node.value, str) and node.value in OTHER_NAME and len(node.value) > 1:
            self._add(node, repr(OTHER_NAME[node.value]))

    def visit_JoinedStr(self, node: ast.JoinedStr) -> None:
        """Words are for reading; what is put into them is not."""
        for part in node.values:
            if isinstance(part, ast.FormattedValue) and sys.version_info >= (3, 12):
                self.visit(part.value)

    def visit_Attribute(self, node: ast.Attribute) -> None:
        """The other side, axis or end."""
        if isinstance(node.ctx, ast.Load):
            held = self._text(node.value)
            if node.attr in OTHER_NAME:
                self._add(node, f"{held}.{OTHER_NAME[node.attr]}")
            elif node.attr in LEFT_OUT_ATTRIBUTE:
                self._add(node, held)
        self.generic_visit(node)

    def visit_Call(self, node: ast.Call) -> None:
        """The least for the most; a magnitude or an order left out."""
        name = node.func.id if isinstance(node.func, ast.Name) else getattr(node.func, "attr", "")
        if name in OTHER_CALL:
            self._add(node.func, self._text(node.func)[: -len(name)] + OTHER_CALL[name])
        elif isinstance(node.func, ast.Name) and name in LEFT_OUT_CALL and len(node.args) == 1 and not node.keywords:
            inside = self._text(node.args[0])
            self._add(node, f"list({inside})" if name in ("sorted", "reversed") else f"({inside})")
        self.generic_visit(node)

    def visit_Expr(self, node: ast.Expr) -> None:
        """A step left out."""
        if isinstance(node.value, ast.Constant):
            return  # a docstring
        if isinstance(node.value, ast.Call):
            self._add(node, "pass")
        elif isinstance(node.value, ast.YieldFrom):
            self._add(node, "yield from ()")
        self.generic_visit(node)

    def visit_If(self, node: ast.If) -> None:
        """A condition turned round; not of what only a reader of types loads."""
        if self._text(node.test) == "TYPE_CHECKING":
            return
        self._add(node.test, f"not ({self._text(node.test)})")
        self.generic_visit(node)

    def visit_keyword(self, node: ast.keyword) -> None:
        """What is given to a call by name; how much room a value takes decides nothing."""
        if node.arg != "slots":
            self.visit(node.value)

    def visit_Subscript(self, node: ast.Subscript) -> None:
        """Not the words that a type may have."""
        if self._text(node.value) != "Literal":
            self.generic_visit(node)

    def visit_AnnAssign(self, node: ast.AnnAssign) -> None:
        """The value alone: types decide nothing while it runs."""
        if node.value is not None:
            self.visit(node.value)

    def visit_arg(self, node: ast.arg) -> None:
        """No type of an argument."""

    def visit_FunctionDef(self, node: ast.FunctionDef) -> None:
        """Defaults and the body, no type of what it returns."""
        for part in (*node.args.defaults, *(one for one in node.args.kw_defaults if one is not None), *node.body):
            self.visit(part)


def sites(root: Path) -> Iterator[Fault]:
    """Every fault that can be planted in the package."""
    for file in sorted((root / PACKAGE).rglob("*.py")):
        source = file.read_bytes()
        finder = _Sites(str(file.relative_to(root)), source)
        finder.visit(ast.parse(source))
        yield from finder.found


class Runs(Struct, frozen=True):
    """Which tests run which line, and how long each takes, s; `anywhere` those that run any line of a file."""

    by_line: Mapping[tuple[str, int], frozenset[str]]
    anywhere: Mapping[str, frozenset[str]]
    seconds: Mapping[str, float]

    def of(self, fault: Fault) -> list[str]:
        """The tests for a fault, quickest first; of what runs as its file is loaded, all that run the file."""
        tests = self.by_line.get((fault.path, fault.line)) or self.anywhere.get(fault.path, frozenset())
        return sorted(tests, key=lambda test: (self.seconds.get(test, 0.0), test))


def make_map(file: Path, processes: int) -> None:
    """Run the suite once and note which test runs which line; tests that fail as it stands are told and left out.

    Raises SystemExit where the suite could not be run to its end.
    """
    with tempfile.TemporaryDirectory() as folder:
        times = Path(folder) / "times.xml"
        data_file = Path(folder) / "coverage"
        command = [
            sys.executable, "-m", "pytest", "-q", "-n", str(processes), f"--cov={PACKAGE}", "--cov-context=test",
            "--cov-report=", f"--junitxml={times}", "-o", "junit_family=xunit1", "-p", "no:cacheprovider",
        ]  # fmt: skip
        environment = {**os.environ, "COVERAGE_FILE": str(data_file), "PYTHONPATH": str(ROOT)}
        if subprocess.run(command, cwd=ROOT, env=environment, check=False).returncode not in (0, FAILED):
            raise SystemExit("The suite was not run to its end: mend that first.")
        cases = {f"{case.get('file')}::{case.get('name')}": case for case in ET.parse(times).getroot().iter("testcase")}
        failed = {
            name for name, case in cases.items() if any(case.find(what) is not None for what in ("failure", "error"))
        }
        for name in sorted(failed):
            print(f"FAILS AS IT STANDS {name}")
        data = CoverageData(basename=str(data_file))
        data.read()
        lines: dict[str, dict[str, list[str]]] = {}
        for name in data.measured_files():
            path = str(Path(name).relative_to(ROOT))
            lines[path] = {
                str(line): sorted({one.rpartition("|")[0] for one in contexts if one} - failed)
                for line, contexts in data.contexts_by_lineno(name).items()
            }
        seconds = {name: float(case.get("time") or 0.0) for name, case in cases.items()}
        file.write_text(json.dumps({"lines": lines, "seconds": seconds}), encoding="utf-8")


def read_map(file: Path) -> Runs:
    """What `make_map` noted."""
    noted = json.loads(file.read_text(encoding="utf-8"))
    by_line = {(path, int(line)): frozenset(tests) for path, of in noted["lines"].items() for line, tests in of.items()}
    anywhere: dict[str, set[str]] = defaultdict(set)
    for (path, _), tests in by_line.items():
        anywhere[path] |= tests
    return Runs(by_line, {path: frozenset(tests) for path, tests in anywhere.items()}, noted["seconds"])


def copied_tree(to: Path) -> Path:
    """A copy of the tree to plant in, at `to`."""
    shutil.copytree(ROOT, to, ignore=shutil.ignore_patterns(".git", ".venv", "__pycache__", "*.pyc"))
    return to


def lives(fault: Fault, source: bytes, tests: Sequence[str], tree: Path) -> bool:
    """Whether none of these tests, run in `tree`, notices the fault.

    Raises RuntimeError where they were not run: there is no such test, or pytest itself could not go on.
    """
    if not tests:
        return True
    file = tree / fault.path
    file.write_bytes(fault.planted(source))
    listed = tree / "planted.args"
    listed.write_text("\n".join(tests), encoding="utf-8")
    command = [sys.executable, "-B", "-m", "pytest", "-x", "-q", "-p", "no:cacheprovider", f"@{listed.name}"]
    environment = {**os.environ, "PYTHONPATH": str(tree), "PYTHONDONTWRITEBYTECODE": "1"}
    try:
        run = subprocess.run(
            command, cwd=tree, env=environment, check=False, capture_output=True, text=True, timeout=MOST_SECONDS
        )
    except subprocess.TimeoutExpired:
        return False
    finally:
        file.write_bytes(source)
    if run.returncode == FAILED or any(words in run.stdout + run.stderr for words in NOT_LOADED):
        return False
    if run.returncode:
        raise RuntimeError(f"{fault.path}:{fault.line}: the tests were not run.\n{run.stdout}{run.stderr}")
    return True


def campaign(faults: Sequence[Fault], runs: Runs, workers: int) -> list[Fault]:
    """The faults that live, told as they are found."""
    living: list[Fault] = []
    trees: SimpleQueue[Path] = SimpleQueue()

    def tried(fault: Fault) -> None:
        tree = trees.get()
        try:
            source = (ROOT / fault.path).read_bytes()
            tests = runs.of(fault)
            # Most are noticed by the first few: to gather all that run a line takes longer than to run these.
            alive = lives(fault, source, tests[:FIRST], tree) and lives(fault, source, tests[FIRST:], tree)
        finally:
            trees.put(tree)
        if alive:
            living.append(fault)
            before, after = fault.told(source)
            print(f"LIVES {fault.path}:{fault.line}\n    {before}\n    {after}", flush=True)

    with tempfile.TemporaryDirectory() as folder:
        for number in range(workers):
            tree = Path(folder) / f"tree-{number}"
            trees.put(copied_tree(tree))
        with ThreadPoolExecutor(workers) as pool:
            list(pool.map(tried, faults))
    return living


def main(arguments: Sequence[str] | None = None) -> int:
    """Exit code 1 where a fault lives that is not known to be equivalent."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--map", type=Path, required=True, help="which test runs which line; made where it is missing")
    parser.add_argument("--count", type=int, default=120)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--only", default="", help="FILE or FILE:LINE")
    parser.add_argument("--workers", type=int, default=os.cpu_count() or 1)
    options = parser.parse_args(arguments)
    if not options.map.exists():
        make_map(options.map, options.workers)
    runs = read_map(options.map)
    faults = [
        fault
        for fault in sites(ROOT)
        if f"{fault.path}:{fault.line}:".startswith(f"{options.only}:" if options.only else "")
    ]
    if len(faults) > options.count:
        faults = random.Random(options.seed).sample(faults, options.count)
    living = campaign(faults, runs, options.workers)
    known = [fault for fault in living if (fault.path, *fault.told((ROOT / fault.path).read_bytes())) in EQUIVALENT]
    by_package = Counter(fault.path.split("/")[1] for fault in living)
    print(f"{len(faults)} planted, {len(faults) - len(living)} noticed, {len(known)} equivalent, "
          f"{len(living) - len(known)} live", dict(by_package))  # fmt: skip
    return 1 if len(living) > len(known) else 0


if __name__ == "__main__":
    raise SystemExit(main())
