"""What can be checked across a job before anything is placed: names, tiles and lines that must fit together.

It works on the tree, so that these faults are told together with those of the values.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from cutmarks.errors import JobPath
from cutmarks.job.faults import TreeFaults
from cutmarks.job.laying import LINE_KINDS, is_from_a_line, line_kind
from cutmarks.job.model import tidy_key
from cutmarks.job.tree import Entry, Items, Places, Text
from cutmarks.job.words import UNKNOWN, did_you_mean, either, found, spaced

MOST_HOLES = 20_000
"""Of a whole job, those of its lists counted in."""
MOST_READINGS = 200
MOST_CORNERS = 1_000
MOST_KEYS = 500
_OUTLINED = ("holes", "areas", "windows", "niches", "doors", "do not drill")
_OF_AN_EDGE = {"at": (MOST_READINGS, "readings of one edge"), "steps": (MOST_READINGS, "steps")}
_IN_A_JOB: Mapping[str, tuple[int, str]] = {
    "tiles": (500, "tiles"),
    "surfaces": (500, "surfaces"),
    "accept": (2_000, "findings accepted"),
}
_ON_A_SURFACE: Mapping[str, tuple[int, str]] = {
    "lines": (200, "lines"),
    "areas": (200, "areas"),
    "windows": (1_000, "windows"),
    "niches": (1_000, "niches"),
    "doors": (1_000, "doors"),
    "do not drill": (1_000, "strips"),
    "points": (200, "points"),
    "pairs": (100, "pairs"),
    "outline": (MOST_CORNERS, "corners"),
}
_OF_A_THING: Mapping[str, tuple[int, str]] = {
    "outline": (MOST_CORNERS, "corners"),
    "readings": (50, "readings of one hole"),
}
"""How many of each are the most, and the word for them. Nobody measures as many; what is over is a copy of a copy."""


def check_across(faults: TreeFaults) -> None:
    """Tell of every fault between the parts of a job."""
    for path, sentence in _across(faults.tree, faults.places):
        faults.tell(sentence, path)


def too_many(faults: TreeFaults) -> bool:
    """Tell of each list that is longer than any that was measured on a site: whether there is one.

    The rest of such a job is not read.
    """
    longer = list(_too_many(faults.tree))
    for path, sentence in longer:
        faults.tell(sentence, path)
    return bool(longer)


def _across(tree: Entry, places: Places) -> Iterator[tuple[JobPath, str]]:
    yield from _names_twice(tree, places)
    yield from _keys_twice(tree, "tiles", "tile", places)
    yield from _tiles_unknown(tree)
    yield from _areas_unknown(tree)
    for path, surface in things(tree, ("surfaces",)):
        yield from _main_lines(path, surface)
        yield from _keys_twice(surface, "lines", "line", places)
        yield from _keys_twice(surface, "points", "point", places)


def _too_many(tree: Entry) -> Iterator[tuple[JobPath, str]]:
    yield from _too_many_keys(tree)
    yield from _longer(tree, _IN_A_JOB)
    holes = 0
    for _, surface in things(tree, ("surfaces",)):
        yield from _longer(surface, _ON_A_SURFACE)
        listed, edges = value(surface, "holes"), value(surface, "edges")
        holes += len(listed) if isinstance(listed, Items) else 0
        if isinstance(edges, Entry):
            yield from _longer(edges, dict.fromkeys(map(tidy_key, edges), (MOST_READINGS, "readings of one edge")))
            for edge in edges.values():
                yield from _longer(edge, _OF_AN_EDGE)
        for _, thing in things(surface, _OUTLINED):
            yield from _longer(thing, _OF_A_THING)
    if holes > MOST_HOLES:
        yield (
            ("surfaces",),
            f"There are {holes} holes in this job, and {MOST_HOLES} is the most: make several jobs of it.",
        )


def _too_many_keys(tree: Entry) -> Iterator[tuple[JobPath, str]]:
    """Things with more keys than any has."""
    nodes: list[object] = [tree]
    while nodes:
        node = nodes.pop()
        if isinstance(node, Entry):
            nodes += node.values()
            if len(node) > MOST_KEYS:
                one_more = list(node)[MOST_KEYS]
                yield (
                    (*node.path, one_more),
                    f"This is key {MOST_KEYS + 1} of one thing, and none has so many: look at what was copied here.",
                )
        elif isinstance(node, Items):
            nodes += node


def _longer(entry: object, most: Mapping[str, tuple[int, str]]) -> Iterator[tuple[JobPath, str]]:
    """Each list or mapping under one of these keys that has more than it may."""
    if not isinstance(entry, Entry):
        return
    for typed, held in entry.items():
        allowed, words = most.get(tidy_key(typed), (0, ""))
        if allowed and isinstance(held, Items | Entry) and len(held) > allowed:
            yield (
                (*entry.path, typed),
                f"There are {len(held)} {words} here, and {allowed} is the most: leave out what is there twice, or "
                "make several jobs of it.",
            )


def value(entry: object, key: str) -> object:
    """What stands under a key, capital letters or not."""
    if not isinstance(entry, Entry):
        return None
    return next((held for typed, held in entry.items() if tidy_key(typed) == key), None)


def text(entry: object, key: str) -> str:
    """The text under a key; empty where there is none."""
    held = value(entry, key)
    return spaced(held) if isinstance(held, str) else ""


def things(entry: Entry, keys: tuple[str, ...]) -> Iterator[tuple[JobPath, Entry]]:
    """The mappings listed under one of `keys`, each with its path."""
    for typed, held in entry.items():
        if tidy_key(typed) in keys and isinstance(held, Items):
            for number, thing in enumerate(held):
                if isinstance(thing, Entry):
                    yield thing.path or (*entry.path, typed, number), thing


def _names_twice(tree: Entry, places: Places) -> Iterator[tuple[JobPath, str]]:
    """Names are one for one thing in the whole job, capital letters and runs of blanks or not."""
    seen: dict[tuple[str, str], tuple[str, JobPath]] = {}
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
                first, at = seen[key]
                where = [] if word == "surface" else [f"on {found(first)}"]
                where += [standing for standing in [_standing((*at, _key(thing, "name")), places)] if standing]
                told = f" (the first is {', '.join(where)})" if where else ""
                yield (*path, "name"), f"Two {word}s are called {found(name)}{told}: give each a name of its own."
            seen.setdefault(key, (home, path))


def _keys_twice(entry: Entry, key: str, word: str, places: Places) -> Iterator[tuple[JobPath, str]]:
    """Tiles, lines and points whose names differ in capital letters or runs of blanks alone."""
    named = value(entry, key)
    home = (*entry.path, _key(entry, key))
    seen: dict[str, str] = {}
    for name in named if isinstance(named, Entry) else ():
        first = seen.setdefault(spaced(name).casefold(), name)
        if first != name:
            both = found(first) if spaced(first) == spaced(name) else f"{found(first)} and {found(name)}"
            standing = _standing((*home, first), places)
            told = f" (the first is {standing})" if standing else ""
            yield (*home, name), f"Two {word}s are called {both}{told}: give each a name of its own."


def _standing(path: JobPath, places: Places) -> str:
    """Where a thing stands, for a sentence about another: "in line 12", "in pipes.csv line 7"; empty without a file."""
    place, own = places.find(path), places.get(())
    if place is None or place.line is None:
        return ""
    return f"in line {place.line}" if own is None or place.file == own.file else f"in {place.file} line {place.line}"


def _tiles_unknown(tree: Entry) -> Iterator[tuple[JobPath, str]]:
    tiles = value(tree, "tiles")
    known = [spaced(name) for name in tiles if spaced(name)] if isinstance(tiles, Entry) else []
    if not tiles and not isinstance(tiles, Text):
        yield from _laid_without_tiles(tree)
    if not known:
        return  # that none has a name has its own fault
    for _, surface in things(tree, ("surfaces",)):
        for path, area in things(surface, ("areas",)):
            tile = text(area, "tile")
            if tile and tile != UNKNOWN and tile not in known:
                hint = did_you_mean(tile, known) or f"write {either(known)}."
                yield (*path, "tile"), f"{found(tile)} is no tile of this job: {hint}"


def _laid_without_tiles(tree: Entry) -> Iterator[tuple[JobPath, str]]:
    """Areas of a job that has no tiles, once: at the first of them."""
    for _, surface in things(tree, ("surfaces",)):
        for path, area in things(surface, ("areas",)):
            tile = text(area, "tile")
            named = tile if tile and tile != UNKNOWN else "rib"
            yield (
                path,
                f"The job has no tiles to lay this area with: write tiles:, and under it {named}: {{size: 297 x 97}}. "
                "Where no tile is chosen yet, leave areas: out.",
            )
            return


def _areas_unknown(tree: Entry) -> Iterator[tuple[JobPath, str]]:
    """What stands under `first:` and is no area of its surface, or stands there twice."""
    for path, surface in things(tree, ("surfaces",)):
        known = [text(area, "name") for _, area in things(surface, ("areas",))]
        listed = value(surface, "first")
        names = [spaced(name) for name in listed if isinstance(name, str)] if isinstance(listed, Items) else []
        for number, name in enumerate(names):
            home = (*path, _key(surface, "first"), number)
            if name not in known:
                hint = did_you_mean(name, known) or f"write {either(filter(None, known))}."
                yield home, f"{found(name)} is no area of this surface: {hint}"
            elif name in names[:number]:
                yield home, f"{found(name)} stands under first: twice: leave one out."


def _main_lines(path: JobPath, surface: Entry) -> Iterator[tuple[JobPath, str]]:
    """One main line of each axis, and no more; the others say how far they are from it."""
    kinds = LINE_KINDS["floor" if text(surface, "kind").casefold() == "floor" else "wall"]
    lines = value(surface, "lines")
    mains: dict[str, list[str]] = {kind: [] for kind in kinds}
    counts = dict.fromkeys(kinds, 0)
    for name, line in lines.items() if isinstance(lines, Entry) else ():
        kind, has_distance = _line_said(line, lines if isinstance(lines, Entry) else ())
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


def _line_said(line: object, names: Iterable[str]) -> tuple[str, bool]:
    """The kind of a line, and whether it says how far it is from another."""
    parts = (text(line, key) for key in ("kind", "at", "words")) if isinstance(line, Entry) else (spaced(str(line)),)
    kind, _, rest = ", ".join(filter(None, parts)).partition(",")
    return line_kind(kind), is_from_a_line(rest.strip(), names)


def _drawn(kind: str) -> str:
    return kind if kind in ("plumb", "level") else f"{kind}-running"


def _key(entry: Entry, key: str) -> str:
    return next((typed for typed in entry if tidy_key(typed) == key), key)
