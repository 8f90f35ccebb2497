"""What can be checked across a job before anything is placed: names, tiles and lines that must fit together.

It works on the tree, so that these faults are told together with those of the values.
"""

from __future__ import annotations

from collections.abc import Iterator

from cutmarks.errors import Fault, Path
from cutmarks.job.laying import LINE_KINDS
from cutmarks.job.model import tidy_key
from cutmarks.job.report import fault_at
from cutmarks.job.tree import Entry, Items, Places
from cutmarks.job.words import UNKNOWN, did_you_mean, either, found, spaced


def check_across(tree: Entry, places: Places) -> list[Fault]:
    """Every fault between the parts of a job."""
    found_faults = [*_names_twice(tree), *_keys_twice(tree, "tiles", "tile"), *_tiles_unknown(tree)]
    for path, surface in things(tree, ("surfaces",)):
        found_faults += _main_lines(path, surface)
        found_faults += _keys_twice(surface, "lines", "line")
    return [fault_at(path, sentence, tree, places) for path, sentence in found_faults]


def value(entry: object, key: str) -> object:
    """What stands under a key, capital letters or not."""
    if not isinstance(entry, Entry):
        return None
    return next((held for typed, held in entry.items() if tidy_key(typed) == key), None)


def text(entry: object, key: str) -> str:
    """The text under a key; empty where there is none."""
    held = value(entry, key)
    return spaced(held) if isinstance(held, str) else ""


def things(entry: Entry, keys: tuple[str, ...]) -> Iterator[tuple[Path, Entry]]:
    """The mappings listed under one of `keys`, each with its path."""
    for typed, held in entry.items():
        if tidy_key(typed) in keys and isinstance(held, Items):
            for number, thing in enumerate(held):
                if isinstance(thing, Entry):
                    yield thing.path or (*entry.path, typed, number), thing


def _names_twice(tree: Entry) -> Iterator[tuple[Path, str]]:
    """Names are one for one thing in the whole job, capital letters or not."""
    seen: dict[tuple[str, str], str] = {}
    for surface_path, surface in things(tree, ("surfaces",)):
        home = text(surface, "name") or str(surface_path[-1])
        named = [(surface_path, surface, "surface")]
        named += [(path, thing, "area") for path, thing in things(surface, ("areas",))]
        named += [(path, thing, "hole") for path, thing in things(surface, ("holes",))]
        for path, thing, word in named:
            name = text(thing, "name")
            if not name or name == UNKNOWN:
                continue
            key = (word, name.casefold())
            if key in seen:
                where = "" if word == "surface" else f" (the first is on {found(seen[key])})"
                yield (*path, "name"), f"Two {word}s are called {found(name)}{where}: give each a name of its own."
            seen.setdefault(key, home)


def _keys_twice(entry: Entry, key: str, word: str) -> Iterator[tuple[Path, str]]:
    """Tiles and lines whose names differ in capital letters alone."""
    named = value(entry, key)
    seen: dict[str, str] = {}
    for name in named if isinstance(named, Entry) else ():
        first = seen.setdefault(spaced(name).casefold(), name)
        if first != name:
            yield (
                (*entry.path, _key(entry, key), name),
                f"Two {word}s are called {found(first)} and {found(name)}: give each a name of its own.",
            )


def _tiles_unknown(tree: Entry) -> Iterator[tuple[Path, str]]:
    tiles = value(tree, "tiles")
    if not isinstance(tiles, Entry):
        return
    known = [spaced(name) for name in tiles]
    for _, surface in things(tree, ("surfaces",)):
        for path, area in things(surface, ("areas",)):
            tile = text(area, "tile")
            if tile and tile != UNKNOWN and tile not in known:
                hint = did_you_mean(tile, known) or f"write {either(known)}."
                yield (*path, "tile"), f"{found(tile)} is no tile of this job: {hint}"


def _main_lines(path: Path, surface: Entry) -> Iterator[tuple[Path, str]]:
    """One main line of each axis, and no more; the others say how far they are from it."""
    kinds = LINE_KINDS["floor" if text(surface, "kind").casefold() == "floor" else "wall"]
    lines = value(surface, "lines")
    mains: dict[str, list[str]] = {kind: [] for kind in kinds}
    counts = dict.fromkeys(kinds, 0)
    for name, line in lines.items() if isinstance(lines, Entry) else ():
        kind, has_distance = _line_said(line)
        if kind not in kinds:
            # Its own fault; until it is put right, nothing can be said of the others.
            return
        counts[kind] += 1
        if not has_distance:
            mains[kind].append(name)
    examples = {"plumb": "V: plumb, middle of the sink", "level": "B: level, top of the batten"}
    examples |= {"across": "V: across, middle of the door", "along": "D: along, face of the door frame"}
    for kind, names in mains.items():
        line_path = (*path, _key(surface, "lines"))
        if not counts[kind]:
            yield line_path, f'There is no {_drawn(kind)} line: write one under lines, as in "{examples[kind]}".'
        elif not names:
            yield (
                line_path,
                f"Each {_drawn(kind)} line is measured from another: give one of them no distance, it is the main one.",
            )
        for second in names[1:]:
            way = "right of" if kinds[kind] == "x" else ("above" if kind == "level" else "from")
            yield (
                (*line_path, second),
                f"Two {_drawn(kind)} lines have no distance between them: write how far this one is from {names[0]}, "
                f'as in "{kind}, 1200 {way} {names[0]}, and its words".',
            )


def _line_said(line: object) -> tuple[str, bool]:
    """The kind of a line, and whether it says how far it is from another."""
    if isinstance(line, Entry):
        return text(line, "kind").casefold(), bool(text(line, "at"))
    kind, _, rest = spaced(str(line)).partition(",")
    return kind.strip().casefold(), rest.strip()[:1].isnumeric()


def _drawn(kind: str) -> str:
    return kind if kind in ("plumb", "level") else f"{kind}-running"


def _key(entry: Entry, key: str) -> str:
    return next((typed for typed in entry if tidy_key(typed) == key), key)
