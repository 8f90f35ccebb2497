"""The form of a job, made of the declaration of its keys: what stands in the text, and room for what may.

Its order is that of the paper measure-up sheet. Each field knows where it stands in the job, and is filled as on site.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import cache

from msgspec import Struct
from msgspec.structs import replace

from cutmarks.errors import JobPath
from cutmarks.job.declared import Declared, apart, declared, model_in, short_of, words_of
from cutmarks.job.edges import EDGE_AS_IN, FLOOR_AS_IN, TRUE_OF, EdgeSpec, KeepOutSpec, VoidSpec
from cutmarks.job.fields import Choice
from cutmarks.job.holes import HoleSpec
from cutmarks.job.model import JobModel, tidy_key
from cutmarks.job.models import Job
from cutmarks.job.parting import BETWEEN
from cutmarks.job.reading import read_tree
from cutmarks.job.surfaces import LineSpec, SurfaceSpec
from cutmarks.job.tiles import AreaSpec, TileSpec
from cutmarks.job.tree import Entry, Items, Text
from cutmarks.sides import SIDES, Side, SurfaceKind

ALWAYS: Mapping[type[JobModel], tuple[str, ...]] = {
    Job: ("job", "units"),
    SurfaceSpec: ("name", "kind"),
    LineSpec: ("kind",),
    TileSpec: ("size", "measured", "lay", "run across", "thickness", "box"),
    EdgeSpec: ("at", "what", "true", "still to come", "gap"),
    VoidSpec: ("name", "across", "up", "gap"),
    HoleSpec: ("name", "what", "across", "up", "cover", "end"),
    KeepOutSpec: ("name", "across", "up", "why"),
    AreaSpec: ("name", "tile", "joint", "bond", "from", "to", "start"),
}
"""The keys that each thing has room for before anything is written; others are asked for. Of what is not named: all."""
GROUPS: tuple[tuple[str, str, str], ...] = (
    ("lines", "Set-out lines", "Everything is measured from these two; the words are printed."),
    ("tiles", "Tiles", "Measured. Five in a row with their four joints prove tile and joint."),
    ("edges", "Edges", "Where the tiling ends. Read each twice, far apart; once where it is true."),
    ("windows", "Windows, niches, doors", "What the tiles stop at, both sides of it; on a floor the feet of a frame."),
    ("niches", "", ""),
    ("doors", "", ""),
    ("holes", "What comes through", "Read both sides of each thing: 67 to 83, not its middle."),
    (
        "areas",
        "Where the tiles go",
        "May stay open: valves and boxes are looked at without a tile. The start may wait.",
    ),
    ("do not drill", "Not to drill, and between two holes", "Strips where cables or pipes run, and why."),
    ("pairs", "", "What was read from one hole to another."),
)
"""What a surface has several of, in the order in which it is learnt; tiles are the whole job's."""
EDGE_EXAMPLES: Mapping[SurfaceKind, Mapping[Side, Mapping[str, str]]] = {
    "wall": {
        Side.LEFT: {"at": EDGE_AS_IN["left"]},
        Side.RIGHT: {"at": f"{EDGE_AS_IN['right']} at B; 1058 right of V at 1450 above B"},
        Side.BOTTOM: {"at": EDGE_AS_IN["bottom"], "what": "worktop", "true": TRUE_OF[Side.BOTTOM]},
        Side.TOP: {"at": EDGE_AS_IN["top"], "what": "ceiling", "true": TRUE_OF[Side.TOP]},
    },
    "floor": {
        Side.LEFT: {"at": "640 left of V", "true": "square"},
        Side.RIGHT: {"at": "640 right of V at D; 633 right of V at 1450 from D", "true": "square"},
        Side.BOTTOM: {"at": FLOOR_AS_IN["bottom"], "what": "threshold", "true": "square"},
        Side.TOP: {"at": "1850 from D", "true": "square"},
    },
}
"""How each side is read, what lies there and how it is true, by the kind of surface."""
LINE_EXAMPLES: Mapping[str, str] = {
    "V": "plumb, middle of the sink",
    "B": "level, top of the batten",
    "D": "along, face of the threshold",
}
"""How the main lines are said; on a floor V runs the other way."""
FLOOR_EXAMPLES: Mapping[str, str] = {
    "V": "across, middle of the door",
    "outline": "300 left of V, 400 from D; 300 right of V, 400 from D; on V, 1850 from D",
    "from": "D",
    "to": "1850 from D",
    "nothing below": "D",
    "said": "field, slab, joint 3, stack, joint on V, sits on D",
}
"""What is said otherwise on a floor."""
HOLE_SAID: Mapping[SurfaceKind, str] = {
    "wall": "hot, 15 copper, 67 to 83 left of V, 212 to 228 above B, cover 65",
    "floor": "waste, 110 soil, 640 to 750 right of V, 1905 to 2015 from D, no cover",
}
"""A hole in one line."""
LABELS: Mapping[str, str] = {"said": "in one line", "at": "where", "box": "box, tiles in it"}
"""What a key is called in the form, where its word in the file does not say it to who has not read the file."""
ONE_LINE = ("said", "kind")
"""Where a plain value is one of these, all of the thing is in it."""


class FormField(Struct, frozen=True):
    """One thing to fill in: its place in the job, what stands there, and how it is written.

    short    the key that a plain value round it stands for; several: values with "; " between them are a list.
    choices  the words that are taken, where there are only some.
    """

    path: JobPath
    word: str
    value: str
    about: str = ""
    example: str = ""
    choices: tuple[str, ...] = ()
    short: str = ""
    several: bool = False


class FormThing(Struct, frozen=True):
    """A thing with its fields: a hole, an edge; `kind` is what one is called, `more` names keys that it may have."""

    path: JobPath
    kind: str
    title: str
    fields: tuple[FormField, ...]
    groups: tuple[FormGroup, ...] = ()
    more: str = ""
    short: str = ""
    may_go: bool = False
    is_written: bool = True


class FormGroup(Struct, frozen=True):
    """Several things of one kind; `adds` is what one more is called, "" where none can be; `said`: one in one line."""

    path: JobPath
    heading: str
    hint: str
    things: tuple[FormThing, ...]
    adds: str = ""
    named: bool = False
    said: str = ""


class MoreKey(Struct, frozen=True):
    """A key that a thing may have besides: for the list that it is taken from."""

    word: str
    about: str
    example: str
    choices: tuple[str, ...]
    several: bool


def form_of(tree: Entry) -> FormThing:
    """The form of a whole job, `tree` being its text as it was typed."""
    at = {tidy_key(key): value for key, value in tree.items()}
    surfaces = at.get("surfaces")
    listed = surfaces if isinstance(surfaces, Items) else Items()
    things = tuple(_surface(tree, node, ("surfaces", number), number == 0) for number, node in enumerate(listed))
    groups = (FormGroup(("surfaces",), "", "", things, "surface"), *_lists_of_job(tree))
    return FormThing((), "job", str(at.get("job", "")), _fields(Job, tree, ()), groups, more="job")


def more_keys() -> Mapping[str, tuple[MoreKey, ...]]:
    """For each kind of thing the keys that it may have and that are no things of their own."""
    return {
        name: tuple(_more(one, floor) for one in declared(model).values() if _is_field(one))
        for name, model, floor in _kinds()
    }


def _kinds() -> Iterator[tuple[str, type[JobModel], bool]]:
    yield "job", Job, False
    for name, model in _models().items():
        yield name, model, False
        yield f"{name} of a floor", model, True


@cache
def _models() -> Mapping[str, type[JobModel]]:
    """The things of a surface and its tiles, by what one is called."""
    found: dict[str, type[JobModel]] = {"surface": SurfaceSpec, "tile": TileSpec}
    for one in declared(SurfaceSpec).values():
        model = model_in(one.field.annotation)
        if model is not None:
            found[one.key.one] = model
    return found


def _more(one: Declared, floor: bool) -> MoreKey:
    word, example = _on_the_floor(one) if floor else (one.word, _example(one))
    return MoreKey(word, one.key.about, example, _choices(one), _several(one))


def _surface(job: Entry, node: object, path: JobPath, is_first: bool) -> FormThing:
    kind = _text(_held(node, "kind")).casefold()
    floor = kind == "floor"
    groups = []
    for word, heading, hint in GROUPS:
        if word == "tiles":
            if is_first:
                groups.append(_group(job, declared(Job)["tiles"], (), heading, hint, floor))
            continue
        one = declared(SurfaceSpec)[word]
        if word == "edges":
            groups.append(_edges(node, (*path, "edges"), heading, hint, floor))
        else:
            groups.append(_group(node, one, path, heading, hint, floor))
    shown = _fields(SurfaceSpec, node, path, floor)
    name = _text(_held(node, "name"))
    return FormThing(path, "surface", name, shown, tuple(groups), _more_name("surface", floor), may_go=path[-1] != 0)


def _lists_of_job(tree: Entry) -> Iterator[FormGroup]:
    """What is accepted: it is only there where it is written."""
    held = _held(tree, "accept")
    if isinstance(held, Items):
        yield _group(tree, declared(Job)["accept"], (), "Accepted", "Findings that you have seen and live with.", False)


def _group(node: object, one: Declared, path: JobPath, heading: str, hint: str, floor: bool) -> FormGroup:
    model = model_in(one.field.annotation)
    assert model is not None
    held, here = _held(node, one.word), (*path, one.word)
    if one.key.named:
        named = held.items() if isinstance(held, Entry) else ()
        things = tuple(_thing(model, value, (*here, key), key, one.key.one, floor) for key, value in named)
    else:
        listed = held if isinstance(held, Items) else ()
        things = tuple(
            _thing(model, value, (*here, number), _title(value, number), one.key.one, floor)
            for number, value in enumerate(listed)
        )
    said = HOLE_SAID["floor" if floor else "wall"] if model is HoleSpec else ""
    return FormGroup(here, heading, hint, things, one.key.one, one.key.named, said)


def _edges(node: object, path: JobPath, heading: str, hint: str, floor: bool) -> FormGroup:
    """All four sides, written or not: what is not known is left empty."""
    held = _held(node, "edges")
    written = {tidy_key(key): (key, value) for key, value in held.items()} if isinstance(held, Entry) else {}
    things = []
    for side in SIDES:
        alike = {"bottom": ("bottom", "floor"), "top": ("top", "ceiling")}.get(side.value, (side.value,))
        key, value = next((written.pop(one) for one in alike if one in written), (side.value, Text("")))
        made = _thing(EdgeSpec, value, (*path, key), side.value, "edge", floor)
        examples = EDGE_EXAMPLES["floor" if floor else "wall"][side]
        shown = tuple(replace(one, example=examples.get(_key_of(one, made), one.example)) for one in made.fields)
        things.append(replace(made, fields=shown))
    things += [_thing(EdgeSpec, value, (*path, key), key, "edge", floor) for key, value in written.values()]
    return FormGroup(path, heading, hint, tuple(things))


def _thing(model: type[JobModel], node: object, path: JobPath, title: str, kind: str, floor: bool) -> FormThing:
    short = short_of(model) or ""
    is_written = isinstance(node, Entry) or (isinstance(node, Text | Items) and bool(node))
    shown = _fields(model, node, path, floor)
    plain = short if isinstance(node, Text | Items) and node else ""
    groups: tuple[FormGroup, ...] = ()
    if model is EdgeSpec and isinstance(_held(node, "steps"), Items):
        steps = declared(EdgeSpec)["steps"]
        groups = (_group(node, steps, path, "Steps", "Its stretches, where it steps.", floor),)
    return FormThing(path, kind, title, shown, groups, _more_name(kind, floor), plain, is_written, is_written)


def _more_name(kind: str, floor: bool) -> str:
    return f"{kind} of a floor" if floor else kind


def _title(node: object, number: int) -> str:
    """What one of a list is called: its name, or what is said of it up to the first comma."""
    name = _text(_held(node, "name")) or _text(_held(node, "rule"))
    if name:
        return name
    said = node if isinstance(node, Text) else _held(node, "said")
    return _text(said).partition(",")[0][:40] if isinstance(said, Text) and said else str(number + 1)


def _fields(model: type[JobModel], node: object, path: JobPath, floor: bool = False) -> tuple[FormField, ...]:
    """The fields of a thing: those that it always has room for, then what else is written in it."""
    short = short_of(model) or ""
    if isinstance(node, Text | Items) and node and short:
        alone = declared(model)[short]
        first = _field(alone, path, node, floor)
        if short in ONE_LINE:
            return (_of_line(first, floor) if model is LineSpec else first,)
        others = (declared(model)[word] for word in ALWAYS.get(model, ()) if word != short)
        return (first, *(_field(one, (*path, one.word), Text(""), floor, short) for one in others))
    typed = {tidy_key(key): (key, value) for key, value in node.items()} if isinstance(node, Entry) else {}
    known, keys = words_of(model), declared(model)
    written = {known[tidy].word: held for tidy, held in typed.items() if tidy in known}
    if SAID in written and model in (HoleSpec, VoidSpec, AreaSpec):
        always: Sequence[str] = (SAID,)
    else:
        always = ALWAYS.get(model, tuple(word for word, one in keys.items() if _is_field(one)))
    fields: list[FormField] = []
    for word in dict.fromkeys((*always, *(word for word in keys if word in written))):
        one = keys[word]
        key, value = written.get(word, (_on_the_floor(one)[0] if floor else word, Text("")))
        fields += _one_or_its_parts(one, (*path, key), value, floor)
    strange = [key for tidy, (key, _) in typed.items() if tidy not in known]
    fields += [FormField((*path, key), key, _shown(typed[tidy_key(key)][1])) for key in strange]
    return tuple(fields)


SAID = "said"


def _of_line(field: FormField, floor: bool) -> FormField:
    """The one field of a set-out line, with what is said of such a line."""
    name = str(field.path[-1])
    example = (FLOOR_EXAMPLES.get(name) if floor else None) or LINE_EXAMPLES.get(name.upper(), field.example)
    return replace(field, word="which, and where", example=example)


def _key_of(field: FormField, thing: FormThing) -> str:
    """Which key of its thing a field is; the short one where the thing is said by it alone."""
    return str(field.path[-1]) if field.path != thing.path else thing.short


def _one_or_its_parts(one: Declared, path: JobPath, value: object, floor: bool) -> Iterator[FormField]:
    """A field; one for each part of what has parts, and of what has keys that are no thing's."""
    if one.key.parts and (isinstance(value, Entry) or not value):
        parts = [part for part in one.key.parts if part != ("up" if floor else "in")]
        examples = {"across": "joint on V", "up": "sits on B", "in": "sits on D"}
        for part in parts:
            held = _held(value, part)
            yield FormField(
                (*path, part), f"{one.word} {part}", _shown(held), one.key.about, examples.get(part, ""), short=""
            )
    elif isinstance(value, Entry) and model_in(one.field.annotation) is None:
        for key, held in value.items():
            yield FormField((*path, key), f"{one.word}: {key}", _shown(held), one.key.about)
    elif isinstance(value, Entry) and one.word == "limits":
        for key, held in value.items():
            yield FormField((*path, key), f"limit: {key}", _shown(held), one.key.about)
    elif _is_field(one):
        yield _field(one, path, value, floor)


def _field(one: Declared, path: JobPath, value: object, floor: bool, short: str = "") -> FormField:
    word, example = _on_the_floor(one) if floor else (one.word, _example(one))
    shown = LABELS.get(word, word)
    return FormField(path, shown, _shown(value), one.key.about, example, _choices(one), short, _several(one))


def _on_the_floor(one: Declared) -> tuple[str, str]:
    word, example = one.key.floor or (one.word, _example(one))
    return word, FLOOR_EXAMPLES.get(word, example)


def _example(one: Declared) -> str:
    """The first example of a key as it is typed into a field: several phrases stand on one line."""
    example = next(iter(one.key.examples), "")
    return _shown(_listed(example)) if example.startswith("[") else example.strip('"')


@cache
def _listed(example: str) -> object:
    """The phrases of a list as it stands in a file."""
    return read_tree(f"one: {example}", "")[0]["one"]


def _is_field(one: Declared) -> bool:
    """Whether it is filled in, and holds no things with keys of their own."""
    return model_in(one.field.annotation) is None


def _several(one: Declared) -> bool:
    """Whether it may hold several phrases."""
    return "tuple[" in str(one.field.annotation) and not one.key.parts


def _choices(one: Declared) -> tuple[str, ...]:
    """The only words that it may hold; none where it is free."""
    beside = (*one.field.beside, *apart(one.field.annotation)[1])
    choice = next((said for said in beside if isinstance(said, Choice)), None)
    return choice.allowed if choice is not None else ()


def _held(node: object, word: str) -> object:
    if not isinstance(node, Entry):
        return None
    return next((value for key, value in node.items() if tidy_key(key) == word), None)


def _text(node: object) -> str:
    return str(node) if isinstance(node, Text) else ""


def _shown(node: object) -> str:
    """What stands under a key, on one line."""
    if isinstance(node, Items):
        return BETWEEN.join(_shown(one) for one in node)
    if isinstance(node, Entry):
        return BETWEEN.join(f"{key}: {_shown(one)}" for key, one in node.items())
    return " ".join(str(node).split()) if node is not None else ""


def fields_in(thing: FormThing) -> Iterator[FormField]:
    """Every field of a thing and of what stands under it."""
    yield from thing.fields
    for group in thing.groups:
        for one in group.things:
            yield from fields_in(one)


def things_in(thing: FormThing) -> Iterator[FormThing]:
    """A thing, and every thing under it."""
    yield thing
    for group in thing.groups:
        for one in group.things:
            yield from things_in(one)
