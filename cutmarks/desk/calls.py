"""All that the page asks of cutmarks: `call(name, arguments)`, pure functions of texts.

Each takes the job's text and where its file is, since lists, tools and what was found stand beside it; none writes
anything. What they give is made of texts, numbers, lists and mappings alone, so that it goes through any pipe.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from io import BytesIO
from pathlib import Path
from typing import Any

from msgspec import to_builtins

from cutmarks.checks.model import SAID
from cutmarks.checks.returned import SAY_WHY, corrected_words, cut_words
from cutmarks.desk.drawings import shown, tapped
from cutmarks.desk.form import FormThing, form_of, more_keys, things_in
from cutmarks.desk.found import with_found, without_last
from cutmarks.desk.one import one_from
from cutmarks.desk.pages import form_html, starts_html
from cutmarks.desk.places import own_files_in
from cutmarks.desk.says import beside_fields, spelt
from cutmarks.desk.seen import clearances, findings, holes, pieces, unlooked, unlooked_words
from cutmarks.desk.sent import not_taken, take_in
from cutmarks.desk.starts import WayOut, pictured, taken_together, ways_out, with_start
from cutmarks.desk.told import HERE, parts_of
from cutmarks.errors import CutmarksError, Fault, JobError, JobPath
from cutmarks.job.editing import NewValue, renamed, with_item, with_value, without
from cutmarks.job.fields import parse_name
from cutmarks.job.load import ReadJob, read_job, setting_of
from cutmarks.job.reading import read_tree
from cutmarks.job.tree import Entry
from cutmarks.openings.found import AsFound
from cutmarks.plan import Plan, make_plan
from cutmarks.plan.choices import choices_of, laid_now
from cutmarks.plan.surfaces import say_of
from cutmarks.readings import base_name
from cutmarks.saying.findings import worst_first
from cutmarks.saying.infills import infill_found_words
from cutmarks.saying.starts import laid_words, left_out_words, now_words, packers_words
from cutmarks.sheets.model import PaperSheet
from cutmarks.sheets.starts_page import start_picture
from cutmarks.units import Style
from cutmarks.writers.drawing import drawing
from cutmarks.writers.svg import write_svg

Arguments = Mapping[str, Any]
Answered = dict[str, Any]
PICTURE = 150.0, 95.0
"""Of a start, mm wide, and high at the most."""
BOM = "\ufeff"
KEPT_FIRST = 'keep it, then say why under "Before you cut"'
NO_WAY_OUT = "None of the best few starts frees it: it takes another tile, another place, or a reason to live with it."


def call(name: str, arguments: Arguments) -> Answered:
    """The answer of one function of the page; `fault` in it is a sentence on why there is none.

    Raises:
        KeyError: there is no such function.
    """
    asked = CALLS[name]
    try:
        return asked(arguments)
    except JobError as error:
        return {"fault": " ".join(str(fault) for fault in error.faults)}
    except CutmarksError as error:
        return {"fault": str(error)}


def form(arguments: Arguments) -> Answered:
    """The form of a text as HTML; where the text cannot be read, the sentences on why, and no form."""
    read, made = _read(arguments)
    if not read.whole:
        return {"html": "", "says": _said(read, made)}
    unit = setting_of(read.tree).unit
    html = form_html(made, more_keys(), unit)
    units = "in" if unit.is_imperial else "mm"
    return {"html": html, "says": _said(read, made), "title": made.title, "units": units}


def says(arguments: Arguments) -> Answered:
    """The sentence beside each field, by the field's place."""
    read, made = _read(arguments)
    return {"says": _said(read, made)}


def look(arguments: Arguments) -> Answered:
    """The plan as far as there is one: elevations, findings, where each hole lands, what was taken for granted."""
    read, made = _read(arguments)
    if read.job is None:
        return {"says": _said(read, made), "faults": len(read.faults)}
    try:
        plan = make_plan(read.job, undecided=True)
    except JobError as error:
        return {"says": _said(read, made, error.faults), "faults": len(error.faults)}
    return {
        "says": _said(read, made),
        "faults": 0,
        "drawings": [to_builtins(one) for one in shown(plan)],
        "findings": list(findings(plan, made)),
        "unlooked": list(unlooked_words(plan)),
        "holes": list(holes(plan)),
        "pieces": list(pieces(plan)),
        "clearances": list(clearances(plan)),
        "edges": list(laid_words(laid_now(read.job, plan), plan.limits, plan.say.style, HERE)),
        "assumed": list(plan.assumed),
        "undecided": [one.surface for one in unlooked(plan) if one.lacks == "start"],
        "fingerprint": plan.fingerprint,
        "able": bool(plan.pieces or plan.clearances) and all(one.lacks != "start" for one in unlooked(plan)),
    }


def change(arguments: Arguments) -> Answered:
    """The text with one value changed: `path`, `value`; `was` is what stood there when it was typed.

    Where something else stands there by now, nothing is changed, and `differs` is what it is.
    """
    text, bom = _text(arguments)
    path, value = _path(arguments["path"]), str(arguments["value"])
    made = _form_in(text)
    field = next((one for thing in things_in(made) for one in thing.fields if spelt(one.path) == spelt(path)), None)
    now = "" if field is None else field.value
    if "was" in arguments and now != " ".join(str(arguments["was"]).split()):
        return {"differs": now}
    several = bool(field.several if field else arguments.get("several"))
    parts: str | Sequence[str] = [one.strip() for one in value.split(";") if one.strip()] if several else value
    if not isinstance(parts, str) and len(parts) < 2:
        parts = parts[0] if parts else ""
    short = field.short if field else _short_round(made, path)
    return {"text": bom + with_value(text, path, parts, short), "label": _label(made, path)}


def add(arguments: Arguments) -> Answered:
    """The text with one thing more: `path` of its group, `kind`, `name` where things stand behind their names.

    `said` is all of it in one line; without, it has room for what a thing of its kind is asked.
    """
    text, bom = _text(arguments)
    path, kind = _path(arguments["path"]), str(arguments["kind"])
    made = _form_in(text)
    name = " ".join(str(arguments.get("name", "")).split())
    said = " ".join(str(arguments.get("said", "")).split())
    group = next(one for thing in things_in(made) for one in thing.groups if spelt(one.path) == spelt(path))
    number = len(group.things) + 1
    if group.named:
        called = _named(name or _next_name(kind, number), [one.title for one in group.things])
        after = with_value(text, (*path, called), said or _PLAIN_KIND.get((kind, called), "")) if kind == "line" else ""
        if not after:
            after = with_value(text, (*path, called, "size"), said)
        return {"text": bom + after, "label": f"{kind} {called}"}
    item: NewValue = said
    if not said:
        asked, floor = dict(arguments.get("keys") or {}), _is_floor(made, path)
        typed = {"in" if floor and key == "up" else str(key): " ".join(str(one).split()) for key, one in asked.items()}
        item = {"name": name or f"{kind} {number}", **_blank(kind, floor), **_only_tile(kind, made), **typed}
    if kind == "surface":
        item = _blank_surface(name or f"surface {number}", str(arguments.get("of", "wall")))
    return {"text": bom + with_item(text, path, item), "label": f"{kind} {number}", "at": [*path, number - 1]}


def remove(arguments: Arguments) -> Answered:
    """The text without a thing."""
    text, bom = _text(arguments)
    path = _path(arguments["path"])
    return {"text": bom + without(text, path), "label": f"without {_label(_form_in(text), path)}"}


def rename(arguments: Arguments) -> Answered:
    """The text with another name before the colon of a thing; areas that are laid with such a tile follow."""
    text, bom = _text(arguments)
    path, name = _path(arguments["path"]), _name(str(arguments["name"]))
    old = str(path[-1])
    after = renamed(text, path, name)
    if path[0] == "tiles":
        for thing in things_in(_form_in(text)):
            for field in thing.fields:
                if thing.kind == "area" and field.word == "tile" and field.value.casefold() == old.casefold():
                    after = with_value(after, field.path, name)
    return {"text": bom + after, "label": f"{old}: {name}"}


def accept(arguments: Arguments) -> Answered:
    """The text with a finding accepted: its `rule`, `about` whom, and the `reason`, which is printed with it."""
    text, bom = _text(arguments)
    reason = " ".join(str(arguments["reason"]).split())
    if not reason:
        raise JobError([Fault("Say why you live with it: the reason is printed with the finding.")])
    entry: dict[str, NewValue] = {"rule": str(arguments["rule"])}
    if arguments.get("about"):
        entry["about"] = str(arguments["about"])
    return {
        "text": bom + with_item(text, ("accept",), {**entry, "reason": reason}),
        "label": f"accepted: {entry['rule']}",
    }


def near(arguments: Arguments) -> Answered:
    """Where a tap fell on a surface, in words of its main lines: across and up, to the nearest 10."""
    read, _ = _read(arguments)
    if read.job is None:
        raise JobError(read.faults)
    plan = make_plan(read.job, undecided=True)
    surface = next(one for one in plan.surfaces if one.setout.name == arguments["surface"])
    across, up = tapped(plan, surface.setout.name, float(arguments["x"]), float(arguments["y"]))
    return {"across": across, "up": up, "floor": surface.setout.kind == "floor"}


def starts(arguments: Arguments) -> Answered:
    """The starts of each surface, each drawn with what it leaves, as HTML; and why there are none."""
    read, _ = _read(arguments)
    if read.job is None:
        raise JobError(read.faults)
    surfaces, pictures = [], []
    limits, style = read.job.limits.figures(), say_of(read.job).style
    for one in choices_of(read.job):
        drawn = pictured(read.job, one)
        offers = [
            {"name": each.name, "lines": [part for line in each.lines for part in line.split("; ")]} for each in drawn
        ]
        notes = [now_words(one.now, one.offers[0], limits, style)] if one.now is not None and one.offers else []
        notes += [packers_words(one.packers, style)] if one.packers is not None else []
        notes += [left_out_words(one)] if one.left_out else []
        surfaces.append({"surface": one.surface, "why_not": one.why_not, "offers": offers, "notes": notes})
        pictures.append([_svg(start_picture(one.surface, each, *PICTURE)) for each in drawn])
    return {"html": starts_html(surfaces), "pictures": pictures}


def take(arguments: Arguments) -> Answered:
    """The text with start `number`, from 1, of `surface` in it, as `setout --take` writes it.

    Of walls whose courses run round, all are written: they have one height.
    """
    text, bom = _text(arguments)
    read, _ = _read(arguments)
    if read.job is None:
        raise JobError(read.faults)
    found = choices_of(read.job)
    mine = next(one for one in found if one.surface == arguments["surface"])
    together = taken_together(found, read.job)
    chosen = together if mine in together else [mine]
    number = int(arguments["number"]) - 1
    for one in chosen:
        text = with_start(text, _file(arguments), read.job, one.surface, one.offers[number])
    return {"text": bom + text, "label": f"start of {', '.join(one.surface for one in chosen)}"}


def frees(arguments: Arguments) -> Answered:
    """The starts with which a STOP, of `rule` and `about` these, is gone; a sentence where there is none."""
    read, _ = _read(arguments)
    if read.job is None:
        raise JobError(read.faults)
    found, why_not = ways_out(read.job, str(arguments["rule"]), [str(one) for one in arguments["about"]])
    offers = [{"surface": one.surface, "number": one.number, "words": _way_out_words(one)} for one in found]
    return {"offers": offers, "none": "" if offers else " ".join(why_not) or NO_WAY_OUT}


def _way_out_words(one: WayOut) -> str:
    others = "no other STOP" if not one.stops else "1 other STOP" if one.stops == 1 else f"{one.stops} other STOPs"
    return f"Start {one.number} ({one.said}) frees it, with {others}."


def told(arguments: Arguments) -> Answered:
    """What is read of a job, `what` of it: the order of work, what to buy, and the like, under headings."""
    read, _ = _read(arguments)
    if read.job is None:
        raise JobError(read.faults)
    parts = parts_of(str(arguments["what"]), read.job, make_plan(read.job, undecided=True))
    return {"parts": [{"heading": heading, "lines": lines} for heading, lines in parts]}


def found(arguments: Arguments) -> Answered:
    """What was read at the wall, `entry` by its keys, against the job as it is saved: what moves with it."""
    entry = {str(key): " ".join(str(one).split()) for key, one in dict(arguments["entry"]).items()}
    entry = {key: one for key, one in entry.items() if one}
    back = with_found(_file(arguments), entry, own_files_in(arguments))
    return {"after": back.after, "said": back.said, **_moved(back.plan, entry.get("piece", ""))}


def taken_back(arguments: Arguments) -> Answered:
    """The job, as it is saved, without the last that was read of a `piece` and its `hole`."""
    piece, hole = (" ".join(str(arguments.get(key, "")).split()) for key in ("piece", "hole"))
    back = without_last(_file(arguments), piece, hole, own_files_in(arguments))
    return {"after": back.after, "said": back.said, **_moved(back.plan, piece), "faults": list(back.faults)}


def _moved(plan: Plan | None, piece: str) -> Answered:
    """What became of a piece, all parts of it: what moved, and what to know before it is cut."""
    if plan is None:
        return {"moves": [], "findings": []}
    style = plan.say.style
    moves = [f"{one.hole} in {one.piece}: {_found_words(one, style)}" for one in plan.found if _is(one.piece, piece)]
    moves += [f"{one.piece}: {infill_found_words(one, style)}" for one in plan.infills_found if _is(one.piece, piece)]
    about = [one for one in plan.findings if any(_is(name, piece) for name in one.about)]
    return {
        "moves": moves or [f"Nothing is kept of {piece} any more: it is as planned."],
        "findings": [
            {"level": SAID[one.level], "text": one.text.replace(SAY_WHY, KEPT_FIRST)} for one in worst_first(about)
        ],
    }


def _is(name: str, piece: str) -> bool:
    """Whether a name is that of a tile, or of a part of it."""
    return base_name(name).casefold() == base_name(piece).casefold()


def _found_words(one: AsFound, style: Style) -> str:
    return corrected_words(one, style) or f"as planned. {cut_words(one)}".strip()


def one(arguments: Arguments) -> Answered:
    """One tile from its fixed neighbours, as `said`: what is marked and cut, and what to know before that."""
    plan = one_from(_said_of_one(arguments))
    rows = list(holes(plan))
    return {
        "holes": rows,
        "findings": list(findings(plan, form_of(Entry()))),
        "none": "" if rows else "None of it is on the tile between those neighbours: look at the readings again.",
    }


def _said_of_one(arguments: Arguments) -> dict[str, str]:
    return {str(key): " ".join(str(value).split()) for key, value in dict(arguments["said"]).items()}


def begun(arguments: Arguments) -> Answered:
    """The text of a job of which nothing is known yet but what it is `called`, `of` a wall or a floor, its `units`."""
    called, of, units = (str(arguments[key]) for key in ("called", "of", "units"))
    return {"text": blank_job(called, of, units)}


def sent(arguments: Arguments) -> Answered:
    """What a wall page sent back, against the job as it is saved: what is not taken, what is new, and what moves."""
    names = [(str(one["name"]), str(one["text"])) for one in arguments["sent"]]
    taken = take_in(_file(arguments), names, str(arguments.get("of", "")), own_files_in(arguments))
    plan, style = taken.plan, taken.plan.say.style
    pieces = dict.fromkeys(one.said["piece"] for one in taken.found.taken)
    moves = [f"{one.hole} in {one.piece}: {corrected_words(one, style) or 'as planned.'}" for one in plan.found]
    moves += [f"{one.piece}: {infill_found_words(one, style)}" for one in plan.infills_found]
    about = [one for one in plan.findings if set(one.about) & set(pieces)]
    return {
        "not_taken": not_taken(taken.found),
        "taken": [one.words for one in taken.found.taken],
        "moves": moves if pieces else [],
        "findings": [
            {"level": SAID[one.level], "text": one.text.replace(SAY_WHY, KEPT_FIRST)} for one in worst_first(about)
        ],
        "after": taken.after,
    }


CALLS: Mapping[str, Callable[[Arguments], Answered]] = {
    each.__name__: each
    for each in (
        *(form, says, look, told, change, add, remove, rename, accept, near, begun, one),
        *(starts, take, frees, sent, found, taken_back),
    )
}
"""The functions by their names."""


def _svg(page: PaperSheet) -> str:
    out = BytesIO()
    write_svg(drawing(page), out)
    return out.getvalue().decode()


def _text(arguments: Arguments) -> tuple[str, str]:
    """The job's text, and the mark that stands before it in the file."""
    text = str(arguments["text"])
    return (text[1:], BOM) if text.startswith(BOM) else (text, "")


def _file(arguments: Arguments) -> Path:
    return Path(str(arguments["file"]))


def _read(arguments: Arguments) -> tuple[ReadJob, FormThing]:
    text, _ = _text(arguments)
    return read_job(text, _file(arguments), **own_files_in(arguments)), _form_in(text)


def _form_in(text: str) -> FormThing:
    tree, _, _, whole = read_tree(text, "")
    return form_of(tree if whole else Entry())


def _path(given: object) -> JobPath:
    """A path as the page sends it. Raises JobError: it is none."""
    if not isinstance(given, list) or not given or not all(isinstance(part, str | int) for part in given):
        raise JobError([Fault("That is no place of a job.")])
    return tuple(given)


def _said(read: ReadJob, made: FormThing, more: Sequence[Fault] = ()) -> dict[str, list[dict[str, str]]]:
    return {key: [to_builtins(one) for one in found] for key, found in beside_fields(read, made, more).items()}


def _label(made: FormThing, path: JobPath) -> str:
    """What stands at a path, in a few words, for the step that undoes it."""
    for thing in things_in(made):
        if spelt(thing.path) == spelt(path):
            return f"{thing.kind} {thing.title}"
        for field in thing.fields:
            if spelt(field.path) == spelt(path):
                return f"{thing.kind} {thing.title}, {field.word}" if thing.path else field.word
    return str(path[-1])


def _short_round(made: FormThing, path: JobPath) -> str:
    """The key that a plain value stands for, of the thing that a new key is written in."""
    thing = next((one for one in things_in(made) if spelt(one.path) == spelt(path[:-1])), None)
    return thing.short if thing else ""


def _is_floor(made: FormThing, path: JobPath) -> bool:
    surface = next((one for one in things_in(made) if spelt(one.path) == spelt(path[:2])), None)
    return surface is not None and any(one.word == "kind" and one.value == "floor" for one in surface.fields)


def _name(name: str) -> str:
    try:
        return parse_name(name)
    except ValueError as error:
        raise JobError([Fault(str(error))]) from error


def _named(name: str, known: Sequence[str]) -> str:
    name = _name(name)
    if name.casefold() in map(str.casefold, known):
        raise JobError([Fault(f"There is a {name} already: give it another name.")])
    return name


def _next_name(kind: str, number: int) -> str:
    return f"{kind} {number}" if kind != "line" else chr(ord("V") + number - 3) if 2 < number < 8 else f"line {number}"


_PLAIN_KIND: Mapping[tuple[str, str], str] = {("line", "V"): "plumb", ("line", "B"): "level"}


def _blank(kind: str, floor: bool) -> dict[str, NewValue]:
    """The keys of a new thing of a list, with nothing under them yet."""
    up = "in" if floor else "up"
    keys = {
        "hole": ("what", "across", up, "cover", "end"),
        "window": ("across", up),
        "niche": ("across", up),
        "door": ("across", up),
        "strip": ("across", up, "why"),
        "area": ("tile", "joint", "bond"),
    }
    return dict.fromkeys(keys.get(kind, ()), "")


def _only_tile(kind: str, made: FormThing) -> dict[str, NewValue]:
    """The tile that a new area is laid with, where the job has one alone."""
    tiles = [one.title for one in things_in(made) if one.kind == "tile"]
    return {"tile": tiles[0]} if kind == "area" and len(tiles) == 1 else {}


def _blank_surface(name: str, of: str) -> NewValue:
    floor = of == "floor"
    lines: NewValue = {"V": "across", "D": "along"} if floor else {"V": "plumb", "B": "level"}
    return {"name": name, "kind": "floor" if floor else "wall", "lines": lines}


def blank_job(name: str, of: str, units: str) -> str:
    """The text of a job of which nothing is known yet but what it is called. Raises JobError: that is no name."""
    head = (
        "# Lengths are in the units below unless they say so. Sides are said in words, never with a minus sign.\n"
        f"# ? means not known yet.\n\njob:\nunits: {'in' if units == 'in' else 'mm'}\n\nsurfaces:\n"
    )
    return with_item(with_value(head, ("job",), _name(name)), ("surfaces",), _blank_surface(of, of))


def is_a_job(text: str) -> bool:
    """Whether a text has what a job begins with: its name, or its surfaces."""
    tree = read_tree(text, "")[0]
    return bool({"job", "surfaces"} & set(tree))
