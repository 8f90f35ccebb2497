"""The questions of cutmarks new, in the order in which the answers are learnt on site.

Each answer is put into the draft and read by the job's own reader at once: what it does not take is asked again, with
its sentence. There is no second set of rules here, nor of examples: a question about a key shows the key's own.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import cutmarks
from cutmarks.cli.draft import SIDES, EdgeDraft, HoleDraft, JobDraft, VoidDraft, written
from cutmarks.cli.terminal import answer_to, tell
from cutmarks.errors import JobError
from cutmarks.job.declared import declared, such_as
from cutmarks.job.model import JobModel
from cutmarks.job.models import AreaSpec, EdgeSpec, HoleSpec, TileSpec, VoidSpec


@dataclass(frozen=True, slots=True)
class Examples:
    """What the questions offer, by the kind of surface.

    stands_in  keeps an edge readable between being told what it meets and being asked where it is.
    """

    stands_in: Mapping[str, str]
    edges: Mapping[str, str]
    meets: Mapping[str, str]
    line_kinds: tuple[str, str]
    level_words: str
    further: str
    end: str


EXAMPLES = {
    "wall": Examples(
        stands_in=dict(zip(SIDES, ("9 m left of V", "9 m right of V", "9 m below B", "9 m above B"), strict=True)),
        edges=dict(
            zip(SIDES, ("1140 left of V at B", "1065 right of V at B", "205 below B", "1462 above B"), strict=True)
        ),
        meets=dict(zip(SIDES, ("next wall", "next wall", "floor, bath, worktop", "ceiling"), strict=True)),
        line_kinds=("plumb", "level"),
        level_words="top of the batten",
        further="above B",
        end="comes off",
    ),
    "floor": Examples(
        stands_in=dict(zip(SIDES, ("9 m left of V", "9 m right of V", "9 m short of D", "9 m in from D"), strict=True)),
        edges=dict(
            zip(SIDES, ("1050 left of V at D", "1240 right of V at D", "20 short of D", "2380 in from D"), strict=True)
        ),
        meets=dict(zip(SIDES, ("next wall", "next wall", "threshold", "next wall"), strict=True)),
        line_kinds=("across, away from you", "along, to your right"),
        level_words="inner face of the door frame",
        further="in from D",
        end="?",
    ),
}
METRIC = {"size": "300 x 600", "joint": "3"}
INCHES = {"size": "12 x 24", "joint": "1/8"}


def asked() -> JobDraft:
    """Ask for everything; the draft that comes back is one that the job's reader takes."""
    draft = JobDraft()
    tell("Enter takes what stands in brackets. Lengths may carry their own unit: 64.2 cm, 25 1/4 in.")
    _job(draft)
    words = EXAMPLES[draft.kind]
    _sides(draft, words)
    _lines(draft, words)
    _tile(draft)
    _edges(draft, words)
    _voids(draft, words)
    _holes(draft, words)
    _start(draft)
    return draft


def _job(draft: JobDraft) -> None:
    _ask(draft, "Job", draft, "name", draft.name)
    draft.units = answer_to("Units", "mm", ("mm", "in"))
    for name, value in (METRIC if draft.units == "mm" else INCHES).items():
        setattr(draft, name, value)
    draft.kind = "floor" if answer_to("Surface", "wall", ("wall", "floor")) == "floor" else "wall"
    draft.level_words = EXAMPLES[draft.kind].level_words
    if draft.kind == "floor":
        _ask(draft, "UP on a template points", draft, "up", "towards the window")


def _sides(draft: JobDraft, words: Examples) -> None:
    tell("\nWhat the surface meets on each side. Enter: that side is left out, and nothing is trimmed there.")
    for side in SIDES:
        edge = draft.edges[side]
        what = _maybe(f"  {side} ({words.meets[side]})")
        if what:
            edge.first = words.stands_in[side]
            _put(draft, f"  {side}", edge, "what", what)
            shown = such_as(EdgeSpec, "still to come", most=1)
            _ask(
                draft,
                f"    still to come off the room for tile ({shown}; 0: finished; ?: not known)",
                edge,
                "still_to_come",
                "0",
            )


def _lines(draft: JobDraft, words: Examples) -> None:
    plumb, level = words.line_kinds
    tell("\nThe two lines that everything is measured from, in words: they are printed.")
    _ask(draft, f"  V, {plumb}", draft, "plumb_words", "middle of the sink")
    _ask(draft, f"  {draft.level}, {level}", draft, "level_words", draft.level_words)


def _tile(draft: JobDraft) -> None:
    tell("\nThe tile, measured and not off the box.")
    _ask(draft, "  name", draft, "tile", draft.tile)
    _ask(draft, "  size, across x up", draft, "size", draft.size)
    _ask(draft, "  joint", draft, "joint", draft.joint)
    _ask(
        draft,
        f"  a run across, with its joints ({such_as(TileSpec, 'run across', most=1)}; Enter: not measured)",
        draft,
        "run",
        "",
    )
    _ask(draft, f"  lay ({such_as(TileSpec, 'lay')}; Enter: as the size says)", draft, "lay", "")


def _edges(draft: JobDraft, words: Examples) -> None:
    told = [side for side in SIDES if draft.edges[side].what]
    if told:
        tell("\nWhere each edge is, read twice: low and high, or left and right.")
    for side in told:
        edge = draft.edges[side]
        _ask(draft, f"  {side} ({words.edges[side]}; Enter: leave it out)", edge, "first", "")
        if edge.first:
            _ask(draft, "    second reading, and where it was taken (Enter: none, taken as true)", edge, "second", "")
        else:
            draft.edges[side] = EdgeDraft()


def _voids(draft: JobDraft, words: Examples) -> None:
    for kind, voids in (("window", draft.windows), ("niche", draft.niches), ("door", draft.doors)):
        while name := _maybe(f"\nA {kind}: its name (Enter: no{' more' if voids else 'ne'})"):
            void = VoidDraft(name, "100 mm to 200 mm right of V", f"100 mm to 200 mm {words.further}")
            voids.append(void)
            _put(draft, "  name", void, "name", name)
            _ask(draft, f"  across ({such_as(VoidSpec, 'across', most=1)})", void, "across", None)
            _ask(draft, f"  {upward(VoidSpec, draft)}", void, "up", None)


def _holes(draft: JobDraft, words: Examples) -> None:
    tell("\nWhat comes through. Read both sides of each thing.")
    while name := _maybe(
        f"A hole: its name ({such_as(HoleSpec, 'name', most=1)}; Enter: no{' more' if draft.holes else 'ne'})"
    ):
        hole = HoleDraft(name, "?", "100 mm to 115 mm right of V", f"100 mm to 115 mm {words.further}")
        draft.holes.append(hole)
        _put(draft, "  name", hole, "name", name)
        _ask(draft, f"  what ({such_as(HoleSpec, 'what')}, ?)", hole, "what", "?")
        _ask(draft, f"  across ({such_as(HoleSpec, 'across', most=1)})", hole, "across", None)
        _ask(draft, f"  {upward(HoleSpec, draft)}", hole, "up", None)
        _ask(draft, f"  cover ({such_as(HoleSpec, 'cover')}, ?)", hole, "cover", "?")
        _ask(draft, "  end (comes off; runs on: the tile cannot be pushed over it; ?)", hole, "end", words.end)


def _start(draft: JobDraft) -> None:
    tell("\nHow the tiles sit. Without a start, check says what a joint or a middle on the line would leave.")
    _ask(draft, f"  bond ({such_as(AreaSpec, 'bond', most=4)})", draft, "bond", draft.bond)
    across = _maybe("  start across (joint on V, middle on V; Enter: not decided)")
    if across:
        draft.start_up = f"sits on {draft.level}"
        _put(draft, "  start across", draft, "start_across", across)
        _ask(draft, "  start up", draft, "start_up", draft.start_up)


def upward(model: type[JobModel], draft: JobDraft) -> str:
    """The word for the second reading of a thing on this kind of surface, and how it is written."""
    one = declared(model)["up"]
    if draft.kind == "floor" and one.key.floor:
        word, example = one.key.floor
        return f"{word} ({example})"
    return f"{one.word} ({one.key.examples[0]})"


def _maybe(question: str) -> str:
    """An answer that may be left out."""
    return answer_to(question, "").strip()


def _ask(draft: JobDraft, question: str, part: object, name: str, default: str | None) -> None:
    """Ask for `name` of `part` (of the draft) until the job's reader takes the answer; None: it must be answered."""
    while not _taken(draft, part, name, answer_to(question, default).strip()):
        continue


def _put(draft: JobDraft, question: str, part: object, name: str, answer: str) -> None:
    """Put in what was answered already; only if it is not taken is it asked for."""
    if not _taken(draft, part, name, answer):
        _ask(draft, question, part, name, None)


def _taken(draft: JobDraft, part: object, name: str, answer: str) -> bool:
    """Put the answer in; if the job's reader finds fault with it, say why and take it out again."""
    before = getattr(part, name)
    setattr(part, name, answer)
    try:
        cutmarks.parse_job(written(draft), file="job.yaml", folder=None)
    except JobError as error:
        setattr(part, name, before)
        tell([f"    {fault.sentence}" for fault in error.faults], err=True)
        return False
    return True
