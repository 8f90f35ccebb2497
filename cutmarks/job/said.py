"""What a job says in one line, put under its keys in the tree, before anything is read of it.

    holes:
      - hot, 15 copper, 67 to 83 left of V, 212 to 228 above B, cover 65

becomes what it would be with a key for each part, so that all that comes after sees nothing new. A hole is a plain
text, or stands behind its name and a colon, or under `said` beside other keys; one that says two things becomes two.
What takes a sentence apart is loaded when one is met: many jobs have a key for each part.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

from msgspec.structs import replace

from cutmarks.errors import JobPath
from cutmarks.job.crosscheck import text, things, value
from cutmarks.job.declared import words_of
from cutmarks.job.faults import TreeFaults
from cutmarks.job.grammar import parse_edge
from cutmarks.job.holes import HoleSpec
from cutmarks.job.laying import ITS_NAME, LINE_KINDS, line_kind, parse_size
from cutmarks.job.model import TypedKeys, path_of, tidy_key
from cutmarks.job.models import joints_in
from cutmarks.job.parting import BETWEEN, Keys, parts_of, takes
from cutmarks.job.said_areas import areas_of, borders_said
from cutmarks.job.said_edge import edge_said, where_alone
from cutmarks.job.surfaces import VOID_LISTS, SurfaceSpec
from cutmarks.job.tree import Entry, Items, Text, Told
from cutmarks.job.words import SIDE_OF, UNKNOWN, Follows, Setting, found, spaced
from cutmarks.patterns import late

SAID = "said"
AN_AREA = "An area in one line is as in splash, rib, 3 joint, B to 600 above B, joint on V, sits on B."
NO_DOORWAY = (
    "On a floor a door is what stands in the ground, as in leg, across: 418 to 474 left of C, in: 0 to 92 from D; the "
    "way through is where the lower edge steps: cutmarks help floors."
)
_ANY_FLOOR = late(r"(?:above|off|over|from|up from) (?:the )?floor\b|\blaser$", re.IGNORECASE)
"""A line that is so far above a floor, finished or bare; a laser, which throws both."""


class _Read:
    """What was read of a sentence, kept for the same one in the same setting: walls of one pattern are copied."""

    def __init__(self) -> None:
        self._holes: dict[tuple[str, str], list[Keys]] = {}

    def things(self, sentence: str, setting: Setting) -> list[Keys]:
        """The keys of each hole that a sentence says. Raises ValueError."""
        folded = sentence.casefold()
        named = {fold: name for fold, name in (setting.areas or {}).items() if fold in folded}
        key = sentence, repr(replace(setting, areas=named))
        if key not in self._holes:
            from cutmarks.job.said_two import things_said

            self._holes[key] = things_said(sentence, setting)
        return [dict(keys) for keys in self._holes[key]]


def put_under_keys(faults: TreeFaults, setting: Setting) -> None:
    """Put all that is said in one line under its keys; tells of what cannot be."""
    read = _Read()
    tiles = value(faults.tree, "tiles")
    if isinstance(tiles, Entry):
        _tiles(tiles, setting, faults)
    setting = replace(setting, joints=joints_in(tiles))
    for _, surface in things(faults.tree, ("surfaces",)):
        lines = value(surface, "lines")
        if isinstance(lines, Entry):
            _lines(lines, "floor" if text(surface, "kind").casefold() == "floor" else "wall")
        within = _setting_on(surface, setting)
        areas = areas_of(surface)
        if areas is not None:
            _areas(areas, tiles, within, faults)
        for border, sentence in () if areas is None else borders_said(areas, within):
            faults.tell(sentence, border)
        edges = value(surface, "edges")
        if isinstance(edges, Entry):
            _edges(edges, within, faults)
        for key, kind in VOID_LISTS.items():
            _voids(value(surface, key), kind, within, faults)
        holes = value(surface, "holes")
        if isinstance(holes, Items):
            _holes(holes, within, faults, read)


def _setting_on(surface: Entry, setting: Setting) -> Setting:
    """What phrases on a surface are read in; the names of holes that are said in one line are known too."""
    keys = {tidy_key(key): held for key, held in surface.items()}
    within = SurfaceSpec.setting_in(TypedKeys(surface.path, keys, set(), []), setting)
    names = dict(within.holes or {})
    holes = keys.get("holes")
    for hole in holes if isinstance(holes, Items) else ():
        sentence = _sentence(hole)
        if sentence is not None:
            from cutmarks.job.said_names import name_cut_off

            try:
                name, _ = name_cut_off(spaced(sentence), within)
            except ValueError:
                continue  # told where it is read
            names.setdefault(name.casefold(), name)
    return replace(within, holes=names)


def _tell(faults: TreeFaults, error: ValueError, path: JobPath, more: str = "") -> None:
    """Tell why a sentence could not be dealt out, unless that only follows from what is told elsewhere."""
    if not isinstance(error, Follows):
        faults.tell(f"{error}{more}", path)


def _tiles(tiles: Entry, setting: Setting, faults: TreeFaults) -> None:
    """Each tile that is said in one line: "600 x 300 landscape, 2 joint"."""
    for name, tile in tiles.items():
        if not isinstance(tile, Text) or not tile.strip() or takes(lambda tile=tile: parse_size(tile, setting.unit)):  # type: ignore[misc]
            continue
        from cutmarks.job.said_tile import tile_said, told_of_a_tile

        try:
            called, keys, area = tile_said(spaced(tile), setting)
            if called and called.casefold() != name.casefold() and told_of_a_tile(called) and "note" not in keys:
                keys = {**keys, "note": called}
            elif called and called.casefold() != name.casefold():
                raise ValueError(
                    f"{found(called)} is not understood of a tile: write size: and its size, and this behind note: "
                    "beside it."
                )
        except ValueError as error:
            _tell(faults, error, tile.path)
            told = Told(tile, tile.path)
            tiles[name] = Entry({"size": told, "joint": told}, tile.path)
            continue
        tiles[name] = Entry({key: Text(held, tile.path) for key, held in {**keys, **area}.items()}, tile.path)


def _edges(edges: Entry, setting: Setting, faults: TreeFaults) -> None:
    """Each edge that is said in one line; where one was read at its ends, the edges there say where that is."""
    said = {side: edge for edge in edges if (side := SIDE_OF.get(tidy_key(edge))) is not None}
    texts = {side: _place_of(edges[key]) for side, key in said.items()}
    places = {side: where_alone(spaced(place), side, setting) for side, place in texts.items() if place}
    for side, key in said.items():
        edge, at = edges[key], texts[side]
        if at is None or takes(lambda at=at, side=side: parse_edge(spaced(at), side, setting)):  # type: ignore[misc]
            continue
        try:
            keys = edge_said(spaced(at), side, setting, {one: place for one, place in places.items() if place})
            beside = {key: held for key, held in edge.items() if key != "at"} if isinstance(edge, Entry) else {}
            _twice(keys, beside)
        except ValueError as error:
            _tell(faults, error, at.path)
            edges[key] = Told(at, at.path)
            continue
        readings = Items([Text(one, at.path) for one in keys.pop("at", "").split(BETWEEN) if one], at.path)
        dealt = {word: Text(held, at.path) for word, held in keys.items()}
        edges[key] = Entry({"at": readings, **dealt, **beside}, path_of(edge))


def _place_of(edge: object) -> Text | None:
    """The one text that says where an edge is; None where there is none, or a list of them."""
    held = value(edge, "at") if isinstance(edge, Entry) else edge
    return held if isinstance(held, Text) and spaced(held) not in ("", UNKNOWN) else None


def _lines(lines: Entry, surface: str) -> None:
    """A line that does not say its kind is of the other kind than the one beside it: "B: top of the batten"."""
    kinds = LINE_KINDS[surface]
    texts = {name: held for name, held in lines.items() if isinstance(held, Text) and spaced(held)}
    if len(lines) != 2 or len(texts) != 2:
        return
    said = {name: _kind_in(name, held, kinds) for name, held in texts.items()}
    open_ones = [name for name, kind in said.items() if not kind]
    if len(open_ones) != 1:
        return
    name, other = open_ones[0], next(kind for kind in said.values() if kind)
    kind = next(one for one in kinds if one != other)
    words = _words_of_a_line(name, texts[name])
    if _ANY_FLOOR.search(words):
        return  # whether that is the finished floor is asked
    lines[name] = Text(f"{kind}, {words}", texts[name].path)


def _kind_in(name: str, held: Text, kinds: Mapping[str, str]) -> str:
    kind = line_kind(ITS_NAME.sub("", spaced(held)).partition(",")[0])
    return kind if kind in kinds else ""


def _words_of_a_line(name: str, held: Text) -> str:
    """What a line is, without its name said again; a figure does not begin it, as a distance from another line does."""
    words = re.sub(
        rf"^{re.escape(name)}(?:\s*[-\u2013=:]\s*|\s+(?:is\s+)?)(?=\S)", "", spaced(held), flags=re.IGNORECASE
    )
    return f"the {words}" if re.match(r"[0-9]+ ?m(?:etre|eter)? line\b", words) else words


def _sentence(hole: object) -> Text | None:
    """What is said of a hole in one line; None where each part stands under its key."""
    if isinstance(hole, Text):
        return hole if hole.strip() else None
    if not isinstance(hole, Entry):
        return None
    if (said := value(hole, SAID)) is not None:
        return said if isinstance(said, Text) else None
    if len(hole) == 1:
        (name, rest), *_ = hole.items()
        # "- hot: 15 copper, 67 to 83 left of V": the name stands before the colon.
        if tidy_key(name) not in words_of(HoleSpec) and isinstance(rest, Text) and "," in rest:
            return Text(f"{name}: {rest}", path_of(rest))
    return None


def _holes(holes: Items, setting: Setting, faults: TreeFaults, read: _Read) -> None:
    """Each hole that is said in one line under its keys; what a sentence says beside the first goes to the end."""
    for number, hole in enumerate(list(holes)):
        sentence = _sentence(hole)
        if sentence is None:
            continue
        path = path_of(hole)
        beside = hole if isinstance(hole, Entry) and value(hole, SAID) is not None else Entry(path=path)
        try:
            first, *others = _dealt(sentence, beside, setting, read)
        except ValueError as error:
            _tell(faults, error, path)
            holes[number] = Entry({SAID: Told(sentence, path)}, path)
            continue
        holes[number] = first
        place = faults.places.find(path)
        for other in others:
            other.path = (*holes.path, len(holes))
            if place is not None:
                faults.places[other.path] = place
            holes.append(other)


def _areas(areas: Items, tiles: object, setting: Setting, faults: TreeFaults) -> None:
    """Each area that is said in one line under its keys."""
    names = [spaced(name) for name in tiles] if isinstance(tiles, Entry) else []
    for number, area in enumerate(list(areas)):
        said = area if isinstance(area, Text) else value(area, SAID)
        if not isinstance(said, Text) or not said.strip():
            continue
        from cutmarks.job.said_area import area_said

        beside = area if isinstance(area, Entry) else Entry(path=said.path)
        typed = text(beside, "name")
        try:
            keys = area_said(spaced(f"{typed}, {said}" if typed else said), names, setting)
            keys = {key: held for key, held in keys.items() if not (typed and key == "name")}
            _twice(keys, beside)
        except ValueError as error:
            _tell(faults, error, path_of(area), f" {AN_AREA}")
            areas[number] = Entry({SAID: Told(said, said.path)}, path_of(area))
            continue
        texts = {key: Text(held, said.path) for key, held in keys.items()}
        areas[number] = Entry({**texts, **beside, SAID: said}, path_of(area))


def _voids(voids: object, kind: str, setting: Setting, faults: TreeFaults) -> None:
    """Each window, niche or door that is said in one line under its keys."""
    for number, void in enumerate(voids if isinstance(voids, Items) else ()):
        said = void if isinstance(void, Text) else value(void, SAID)
        if not isinstance(said, Text) or not said.strip():
            continue
        from cutmarks.job.said_hole import void_said

        assert isinstance(voids, Items)
        beside = void if isinstance(void, Entry) else Entry(path=said.path)
        try:
            keys = void_said(kind, spaced(said), setting)
            _twice(keys, beside)
        except ValueError as error:
            doorway = f" {NO_DOORWAY}" if kind == "door" and setting.kind == "floor" else ""
            _tell(faults, error, path_of(void), doorway)
            voids[number] = Entry({SAID: Told(said, said.path)}, path_of(void))
            continue
        texts = {key: Text(held, said.path) for key, held in keys.items()}
        voids[number] = Entry({**texts, **beside, SAID: said}, path_of(void))


def _dealt(sentence: Text, beside: Entry, setting: Setting, read: _Read) -> list[Entry]:
    """The holes that a sentence says, each with its keys, the others with paths of their own to be given.

    Raises ValueError: it cannot be dealt out, or says what a key beside it says too.
    """
    whole = spaced(sentence)
    typed = {tidy_key(key): spaced(str(held)) for key, held in beside.items() if isinstance(held, Text)}
    if "name" in typed:
        from cutmarks.job.said_hole import hole_keys

        keys = hole_keys(typed["name"], _parts_behind(typed["name"], whole), setting)
        del keys["name"]
        said = [keys]
    else:
        said = read.things(whole, setting)
    entries = []
    for keys in said:
        _twice(keys, beside)
        texts = {key: Text(held, sentence.path) for key, held in keys.items()}
        entries.append(Entry({**texts, **beside, SAID: sentence}, beside.path or sentence.path))
    return entries


def _parts_behind(name: str, text: str) -> list[str]:
    first, *rest = parts_of(text)
    return rest if first.casefold() == name.casefold() else [first, *rest]


def _twice(keys: Mapping[str, str], beside: Mapping[str, object]) -> None:
    """Raises ValueError: a key that is written beside what was said says the same thing."""
    for typed in beside:
        tidy = tidy_key(typed)
        if tidy in keys:
            raise ValueError(f"{found(keys[tidy])} says {tidy}, and {tidy} stands beside it too: leave one out.")
