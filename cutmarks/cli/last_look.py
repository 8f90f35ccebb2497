"""The last look at a job before it is written: the file, numbered, and what was assumed.

A line is changed by its number, or by its name: size, left, hot cover.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from cutmarks.cli.dealing import edge_dealt, start_dealt, thing_dealt
from cutmarks.cli.draft import SIDES, At, JobDraft, lines_of
from cutmarks.cli.terminal import wrapped
from cutmarks.job.declared import words_of
from cutmarks.job.models import AreaSpec, HoleSpec, Job, SurfaceSpec, TileSpec, VoidSpec
from cutmarks.job.parting import Keys
from cutmarks.job.words import did_you_mean, found

LEAVE_OUT = "leave out"
ADD = "add"
NUMBER = 4
"""Room for a number and a blank, letters."""
_KIND = ("kind", "surface")


def look_lines(draft: JobDraft, assumed: Sequence[str]) -> list[str]:
    """The job as it will be written, numbered, and what was assumed in it."""
    numbers = iter(range(1, len(list(lines_of(draft))) + 1))
    shown = [f"{next(numbers) if line.at else '':>{NUMBER - 1}} {line.text}".rstrip() for line in lines_of(draft)]
    took = [*_usual(draft), *assumed]
    return [
        "",
        "THE JOB AS IT WILL BE WRITTEN",
        *shown,
        *(["ASSUMED"] if took else []),
        *(line for sentence in took for line in wrapped(sentence, "    ")),
    ]


def _usual(draft: JobDraft) -> Iterator[str]:
    """What has a usual value and was not said."""
    values = {"units": draft.job["units"], "tile": draft.tile_name, **draft.area}
    taken = [f"{key} {values[key]}" for key in ("units", "tile", "joint", "bond", "start up") if _is_usual(draft, key)]
    if taken:
        yield f"{', '.join(taken)}: the usual, as nothing else was said."
    left = [side for side in SIDES if not draft.edges[side]]
    if left:
        yield f"{', '.join(left)}: left out, so nothing is trimmed there; write {left[0]}: and where it is."
    if draft.kind == "floor" and "up" not in draft.surface:
        yield f"UP on a template points away from {draft.level}; write up: and towards what, where it does not."


def _is_usual(draft: JobDraft, key: str) -> bool:
    return key not in draft.said and (key != "start up" or "start up" in draft.area)


def chosen(draft: JobDraft, answer: str) -> None:
    """Take what is answered to the last look: nothing, add, or a line, perhaps with what it is to be.

    Raises ValueError: there is no such line, or it cannot be that.
    """
    if not answer:
        draft.done = True
    elif answer.casefold() == ADD:
        draft.adding = True
    else:
        name, colon, value = (part.strip() for part in answer.partition(":"))
        at = _at(name, draft)
        if colon and value:
            changed(draft, at, value)
        else:
            draft.changing = at


def _at(name: str, draft: JobDraft) -> At:
    """Where what is called so, or has that number, stands. Raises ValueError."""
    standing = [line.at for line in lines_of(draft) if line.at]
    if name.isdecimal() and 0 < int(name[:NUMBER]) <= len(standing):
        return standing[int(name[:NUMBER]) - 1]
    fold = name.casefold()
    names = {named_at(at, draft).casefold(): at for at in reversed(standing)}
    if fold in names:
        return names[fold]
    if fold in _KIND:
        raise ValueError("Whether it is a wall or a floor is in all its positions: go back to it with back.")
    if fold in SIDES:
        return "edge", fold
    for part, model in (("tile", TileSpec), ("area", AreaSpec), ("surface", SurfaceSpec), ("job", Job)):
        if fold in words_of(model):
            return part, words_of(model)[fold].word
    for at in standing:
        if len(at) == 2 and at[0] in ("hole", "void") and fold.startswith(f"{named_at(at, draft).casefold()} "):
            key = fold[len(at_name := named_at(at, draft)) :].strip()
            words = words_of(HoleSpec if at[0] == "hole" else VoidSpec)
            if at_name and key in words:
                return *at, key if words[key].key.floor else words[key].word
    hint = did_you_mean(name, names) or "give its number, or a name such as left, size or start."
    raise ValueError(f"{found(name)} is no line of this: {hint}")


def named_at(at: At, draft: JobDraft) -> str:
    """What stands there is called: "size", "left", "hot cover"."""
    if at[0] in ("hole", "void"):
        return " ".join((draft.thing(at)["name"], *at[2:]))
    return at[-1]


def standing_there(draft: JobDraft, at: At) -> str:
    """What is said there now, as it would be answered; "" where nothing is."""
    match at:
        case ("tile",):
            return draft.tile_name
        case ("line", name):
            return draft.plumb_words if name == "V" else draft.level_words
        case ("edge", side):
            return _in_words(draft.edges[side])
        case ("area", "start"):
            return ", ".join(draft.area[key] for key in ("start across", "start up") if key in draft.area)
        case ("hole" | "void", _):
            return _in_words(draft.thing(at))
        case _:
            return _holder(draft, at).get(at[-1], "")


def _in_words(keys: Keys) -> str:
    plain = ("name", "what", "across", "up", "in", "at", "end")
    return ", ".join(value if key in plain else f"{key} {value}" for key, value in keys.items())


def _holder(draft: JobDraft, at: At) -> Keys:
    """The keys under which it stands."""
    if at[0] in ("hole", "void"):
        return draft.thing(at)
    return {"job": draft.job, "tile": draft.tile, "area": draft.area, "surface": draft.surface}[at[0]]


def changed(draft: JobDraft, at: At, answer: str) -> None:
    """Put the answer where that stands, or take it out. Raises ValueError: it cannot be that."""
    goes = answer.casefold() == LEAVE_OUT
    match at:
        case ("tile",):
            draft.tile_name = _said(answer, goes)
            draft.said.add("tile")
        case ("line", name):
            words = _said(answer, goes)
            if name == "V":
                draft.plumb_words = words
            else:
                draft.level_words = words
        case ("edge", side):
            draft.edges[side] = {} if goes else edge_dealt(answer, side, draft)
            if draft.edges[side] and "at" not in draft.edges[side]:
                raise ValueError(f"{found(answer)} does not say where the edge is: write that too, or {LEAVE_OUT}.")
        case ("area", "start"):
            _put_start(draft, "" if goes else answer)
        case ("hole" | "void", _):
            _put_thing(draft, at, "" if goes else answer)
        case _:
            holder = _holder(draft, at)
            if goes:
                holder.pop(at[-1], None)
            else:
                holder[at[-1]] = answer
            if goes and at in (("job", "job"), ("job", "units"), ("tile", "size"), ("area", "joint")):
                _said(answer, goes)
            draft.said.add(at[-1])


def _said(answer: str, goes: bool) -> str:
    """The answer, once it is one. Raises ValueError: it cannot be left out."""
    if goes:
        raise ValueError("A job cannot be without it: write what it is to be.")
    return answer


def _put_start(draft: JobDraft, answer: str) -> None:
    for key in ("start across", "start up"):
        draft.area.pop(key, None)
    keys = start_dealt(answer, draft) if answer else {}
    draft.area |= keys
    draft.said |= keys.keys()
    if "start up" in keys and "start across" not in keys:
        raise ValueError(f"{found(answer)} does not say how it starts across: write that too, as in joint on V.")
    if "start across" in keys:
        draft.area.setdefault("start up", f"sits on {draft.level}")


def _put_thing(draft: JobDraft, at: At, answer: str) -> None:
    number = int(at[1])
    things: list[object] = draft.holes if at[0] == "hole" else draft.voids  # type: ignore[assignment]
    things.pop(number)
    if answer:
        kind, keys = thing_dealt(answer, draft)
        is_hole = kind == "hole"
        if is_hole != (at[0] == "hole"):
            raise ValueError(f"{found(answer)} is another kind of thing: leave this one out, and add the other.")
        keep = () if not is_hole else tuple(key for key in ("what", "cover") if key not in keys)
        keys |= {key: "?" for key in keep}
        things.insert(number, keys if is_hole else (kind, keys))
