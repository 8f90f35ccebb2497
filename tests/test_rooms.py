"""The house itself: one name for one type, and no file that only hands on what another says."""

from __future__ import annotations

import ast
from collections import defaultdict
from collections.abc import Iterator, Mapping
from pathlib import Path

PACKAGE = Path(__file__).parent.parent / "cutmarks"


def sources() -> dict[str, ast.Module]:
    """Every module of the package, by its path."""
    return {path.relative_to(PACKAGE).as_posix(): ast.parse(path.read_text("utf-8")) for path in PACKAGE.rglob("*.py")}


def types_in(module: ast.Module) -> Iterator[str]:
    """The types that a module defines: its classes, and what it calls by a name as classes have one."""
    for node in module.body:
        if isinstance(node, ast.ClassDef):
            yield node.name
        elif isinstance(node, ast.Assign | ast.AnnAssign):
            targets = node.targets if isinstance(node, ast.Assign) else [node.target]
            for target in targets:
                name = target.id if isinstance(target, ast.Name) else ""
                if name.lstrip("_")[:1].isupper() and not name.isupper() and len(name.lstrip("_")) > 1:
                    yield name


def defined_twice(modules: Mapping[str, ast.Module]) -> dict[str, list[str]]:
    """The names of types that stand for several, with the modules that define them."""
    homes: dict[str, list[str]] = defaultdict(list)
    for path, module in modules.items():
        for name in dict.fromkeys(types_in(module)):
            homes[name].append(path)
    return {name: paths for name, paths in homes.items() if len(paths) > 1}


def only_hands_on(module: ast.Module) -> bool:
    """Whether a module defines nothing of its own: imports, a docstring and a list of names alone."""
    return not any(
        not isinstance(node, ast.Import | ast.ImportFrom)
        and not (isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant))
        and not (isinstance(node, ast.Assign) and ast.unparse(node.targets[0]) == "__all__")
        for node in module.body
    )


def test_a_type_has_one_home() -> None:
    assert defined_twice(sources()) == {}


def test_two_types_of_one_name_are_found() -> None:
    one, other = ast.parse("class Row: ..."), ast.parse("Row = dict[str, str]\nLIMIT = 3\nrow = 2")
    assert defined_twice({"a.py": one, "b.py": other}) == {"Row": ["a.py", "b.py"]}


def test_no_file_only_hands_on_what_another_says() -> None:
    faces = {path for path in sources() if path.endswith("__init__.py")}
    assert [path for path, module in sources().items() if path not in faces and only_hands_on(module)] == []


def test_a_file_that_only_hands_on_is_found() -> None:
    assert only_hands_on(ast.parse('"""Limits."""\nfrom a import B\n__all__ = ["B"]'))
    assert not only_hands_on(ast.parse("from a import B\nC = B"))
