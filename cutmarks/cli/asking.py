"""The questions of cutmarks new, in the order in which the answers are learnt on site.

Each answer is put into a copy of the draft and read by the job's own reader at once: what it does not take is asked
again, with its sentence. There is no second set of rules here, nor of examples: a question about a key shows the key's
own. One answer may say several things; only what it leaves out, and what has no usual value, is asked for.

The questions follow from the answers alone. So the answers are all that is kept: said again in their order they lead to
the same place, and without the last one to the question before.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from copy import deepcopy
from typing import Literal

from msgspec import Struct

import cutmarks
from cutmarks.cli.dealing import edge_dealt, thing_dealt, tile_dealt, unit_of
from cutmarks.cli.draft import SIDES, JobDraft, written
from cutmarks.cli.kept import Answer, KeptAnswers
from cutmarks.cli.last_look import LEAVE_OUT, changed, chosen, look_lines, named_at, standing_there
from cutmarks.cli.terminal import answer_to, tell
from cutmarks.errors import JobError, OutputError
from cutmarks.job.declared import declared, such_as
from cutmarks.job.edges import FINISH_COMES_LATER
from cutmarks.job.examples import in_unit_of
from cutmarks.job.model import JobModel
from cutmarks.job.models import IMPERIAL, AreaSpec, EdgeSpec, HoleSpec, Job, TileSpec, VoidSpec
from cutmarks.job.parting import Keys
from cutmarks.job.said_hole import in_order
from cutmarks.job.words import UNKNOWN, found
from cutmarks.units import UNIT_WORDS, Unit

BACK, HELP = "back", "help"
MOST_WRONG = 100
"""So many wrong answers in a row are no one's who reads what is said to them."""
OPENING = (
    "One line may say several things, a comma between them; what it leaves out is asked. Enter takes what stands in "
    "brackets. help: what is taken here; back: the answer before, again. Ctrl-C ends it, and the same command goes on "
    "there."
)


class Question(Struct, frozen=True):
    """One question.

    label  by which its answer is kept; text as it is asked, example only the first time.
    usual  what Enter takes; "" where it must be answered.
    put    puts an answer into a draft. Raises ValueError: one sentence, why not.
    takes  what is taken, for `help`, and examples.
    shows  what is printed before it is asked.
    """

    label: str
    text: str
    put: Callable[[JobDraft, str], None]
    takes: tuple[str, ...]
    example: str = ""
    usual: str = ""
    shows: Callable[[JobDraft], list[str]] = lambda _: []

    def asked(self, *, is_new: bool) -> str:
        """The question in one line."""
        example = f" ({self.example})" if self.example and is_new else ""
        return f"{self.text}{example}{f' [{self.usual}]' if self.usual else ''}"


class Examples(Struct, frozen=True):
    """What the questions offer, by the kind of surface."""

    edges: Mapping[str, str]
    line_kinds: tuple[str, str]
    level_words: str
    hole: str
    window: str


EXAMPLES: Mapping[str, Examples] = {
    "wall": Examples(
        edges={
            "left": "1140 left of V at B, 1136 left of V at 1450 above B, end panel",
            "right": "1065 right of V, next wall, 14 to come",
            "bottom": "5 below B, worktop",
            "top": "1462 above B, ceiling",
        },
        line_kinds=("plumb", "level"),
        level_words="top of the batten",
        hole="hot, 15 copper, 67 to 83 left of V, 212 to 228 above B, cover 65",
        window="window, 210 to 790 right of V, 1010 to 1480 above B",
    ),
    "floor": Examples(
        edges={
            "left": "1050 left of V at D, 1046 left of V at 2300 from D, next wall, 12 to come",
            "right": "1240 right of V, next wall, finished",
            "bottom": "20 short of D, threshold",
            "top": "2380 in from D, next wall, 12 to come",
        },
        line_kinds=("across, away from you", "along, to your right"),
        level_words="inner face of the door frame",
        hole="soil, 110 soil, 640 to 750 right of V, 1905 to 2015 from D, no cover",
        window="door, 418 to 474 left of V, 0 to 92 from D",
    ),
}
METRIC: Mapping[str, str] = {"size": "248 x 398", "joint": "3", "run": "1252"}
INCHES: Mapping[str, str] = {"size": "12 x 24", "joint": "1/8", "run": "60 1/2"}
"""A size to show, the usual joint, and what five such tiles measure with their joints."""
STAND_INS: Mapping[str, str] = {
    "across": "100 mm to 170 mm right of V",
    "up": "100 mm to 170 mm above B",
    "in": "100 mm to 170 mm in from D",
}
"""Where a thing is taken to be between its first answer and that to where it is, so that the rest can be judged."""


def asked(kept: KeptAnswers) -> JobDraft:
    """Ask for everything, going on behind the answers that are kept; the draft is one that the job's reader takes.

    Raises:
        click.Abort: ended from the keyboard, or there are no more answers; what was answered is kept.
        JobError, OutputError: the answers that are kept, or those that come, cannot be read, or are all wrong.
    """
    tell(OPENING)
    talk = Talk(kept)
    talk.take_up()
    while talk.question is not None:
        talk.answered(answer_to(talk.shown(), "").strip())
    return talk.draft


class Talk:
    """The questions as far as they got: the draft, the answers that made it, and the question that is open."""

    def __init__(self, kept: KeptAnswers) -> None:
        self.draft = JobDraft()
        self.answers: list[Answer] = []
        self.is_new = True
        self._wrong = 0
        self._kept = kept
        self._begin()

    def _begin(self) -> None:
        self.draft, self.answers = JobDraft(), []
        self._questions = _all_questions(self.draft)
        self.question = next(self._questions, None)

    def take_up(self) -> None:
        """Go on behind the answers of an earlier run; those that are not taken any more are shown."""
        answers = self._kept.taken_up()
        left = self._repeated(answers)
        if answers:
            count = f"{len(answers) - len(left)} answer{'s' * (len(answers) - len(left) != 1)}"
            tell(f"Going on where you stopped: {count} taken up from {self._kept.path}. Move it away to begin anew.")
        if left:
            tell([f"Not taken any more, answer it again: {label}: {answer}" for label, answer in left])

    def shown(self) -> str:
        """The open question as it is asked, in the job's unit; where it is new, what it shows is printed before it."""
        assert self.question is not None
        if self.is_new:
            for lines in filter(None, [self.question.shows(self.draft)]):
                tell(lines)
        return self._in_unit(self.question.asked(is_new=self.is_new))

    def _in_unit(self, text: str) -> str:
        return in_unit_of(unit_of(self.draft), text)

    def answered(self, answer: str) -> None:
        """Take an answer, or one of the words that are none. Raises OutputError: none is taken any more."""
        assert self.question is not None
        self.is_new = False
        if answer.casefold() == BACK:
            self._go_back()
        elif answer.casefold() == HELP:
            tell([f"    {self._in_unit(line)}" for line in self.question.takes])
        elif (faults := self._taken(answer)) is not None:
            tell([f"    {fault}" for fault in faults], err=True)
            self._wrong += 1
            if self._wrong == MOST_WRONG:
                raise OutputError(
                    f"{MOST_WRONG} answers in a row were not taken: look at what is piped in. The job was not written."
                )
        else:
            self.is_new, self._wrong = True, 0
            if self.question is not None:
                # The last Enter is not kept: where the job cannot be written, the last look comes again.
                self._kept.keep(self.answers)

    def _go_back(self) -> None:
        if not self.answers:
            tell("    There is nothing before this question.", err=True)
            return
        label, answer = self.answers[-1]
        self._repeated(self.answers[:-1])
        self._kept.keep(self.answers)
        tell(f"    Taken back: {label}: {answer or '(Enter)'}")
        self.is_new = True

    def _repeated(self, answers: list[Answer]) -> list[Answer]:
        """Begin again and say these answers; those from the first that is not taken are handed back."""
        self._begin()
        for number, (label, answer) in enumerate(answers):
            if self.question is None or self.question.label != label or self._taken(answer) is not None:
                return answers[number:]
        return []

    def _taken(self, answer: str) -> list[str] | None:
        """Put the answer in and go on; what is wrong with it where it is not taken."""
        assert self.question is not None
        trial = deepcopy(self.draft)
        try:
            self.question.put(trial, answer)
            _read(trial)
        except ValueError as error:
            return [self._in_unit(str(error))]
        except JobError as error:
            return [fault.sentence for fault in error.faults]
        self.question.put(self.draft, answer)
        self.answers.append((self.question.label, answer))
        self.question = next(self._questions, None)
        return None


def _read(draft: JobDraft) -> Job:
    """The job of a draft in which what was not asked yet has a stand-in. Raises JobError."""
    whole = deepcopy(draft)
    whole.tile.setdefault("size", "300 mm x 600 mm")
    if whole.begun is not None:
        kind, keys = whole.begun
        _put_thing(whole, kind, {**{key: STAND_INS[key] for key in ("across", whole.up)}, **keys})
    return cutmarks.parse_job(written(whole), file="job.yaml", folder=None)


def _all_questions(draft: JobDraft) -> Iterator[Question]:
    """The questions, each asked for when the one before has been answered in `draft`."""
    yield Question(
        "job", "Job, what it is called", _put_job, ("Any words: they stand on every sheet.",), usual="My job"
    )
    yield Question(
        "surface",
        "Surface, wall or floor; and the unit of a figure that has none",
        _put_surface,
        ("wall or floor, and mm, cm, m, in or ft: floor | wall, in | floor, cm.",),
        usual="wall, mm",
    )
    words = EXAMPLES[draft.kind]
    for name, kind, example in zip(
        ("V", draft.level), words.line_kinds, ("middle of the sink", words.level_words), strict=True
    ):
        yield _line(name, kind, example)
    yield from _tile(draft)
    for side in SIDES:
        yield from _edge(draft, side, words)
    yield from _things(draft)
    yield Question(
        "start",
        "How the tiles sit: bond and start",
        _put_start,
        (
            f"joint on V, sits on {draft.level} | half, middle on V and {draft.level} | a bond alone: "
            f"{such_as(AreaSpec, 'bond')}.",
            "Without a start, cutmarks check says what each would leave at the edges.",
        ),
        example=f"half, joint on V, sits on {draft.level}",
        usual="stack, start not decided",
    )
    yield Question(
        "stock",
        "How many tiles are there already, and how many a box holds",
        _put_stock,
        (
            f"Either or both: {such_as(TileSpec, 'have')}; box {such_as(TileSpec, 'box')}; 3 boxes of 8.",
            "cutmarks buy then says whether they are enough, and how many boxes it takes.",
        ),
        example="25 tiles, box 8",
        usual="not said",
    )
    while not draft.done:
        yield from _last_look(draft)


def _line(name: str, kind: str, example: str) -> Question:
    def put(draft: JobDraft, answer: str) -> None:
        if answer in ("", UNKNOWN):
            raise ValueError(f"Everything is measured from it: write where it is, as in {example}.")
        changed(draft, ("line", name), answer)

    return Question(
        f"line {name}",
        f"{name}, the line that is {kind}: where it is, in words that get printed",
        put,
        (f"Words, such as {example}; no measure is needed.",),
    )


def _tile(draft: JobDraft) -> Iterator[Question]:
    usual = _usual(draft)
    size = usual["size"]
    example = f"rib, {size}, joint {usual['joint']}"
    run = f"5 in {usual['run']}"
    yield Question(
        "tile",
        "The tile, measured and not off the box",
        _put_tile,
        (
            f"Its name, its size across x up, the joint, a run with its joints: {example}, {run}.",
            f"Also {such_as(TileSpec, 'lay')}, thickness 9, material glass, face textured.",
            f"A joint that is not said is {usual['joint']}.",
        ),
        example=f"{example}, {run}",
    )
    if "size" not in draft.tile:
        yield Question("size", "  size, across x up", _put_size, (f"Its two sides, as in {size}.",), example=size)


def _edge(draft: JobDraft, side: str, words: Examples) -> Iterator[Question]:
    example = words.edges[side]

    def put(draft: JobDraft, answer: str) -> None:
        draft.edges[side] = {} if answer.casefold() in ("", UNKNOWN, LEAVE_OUT) else edge_dealt(answer, side, draft)

    def put_at(draft: JobDraft, answer: str) -> None:
        if answer.casefold() == LEAVE_OUT:
            draft.edges[side] = {}
        else:
            more = edge_dealt(answer, side, draft)
            if "at" not in more:
                raise ValueError(f"Write where it is, as in {example.partition(',')[0]}; or {LEAVE_OUT}.")
            draft.edges[side] = {**draft.edges[side], **more}

    def put_to_come(draft: JobDraft, answer: str) -> None:
        draft.edges[side] |= {"still to come": UNKNOWN, **edge_dealt(_to_come(answer), side, draft)}

    yield Question(
        side,
        f"{side.capitalize()} edge",
        put,
        (
            f"Where it is, once or at two places, what is there, what is still to come: {example}.",
            f"Also plumb or level where it is true, gap 5, trim 10. {LEAVE_OUT.capitalize()} (Enter): nothing is "
            "trimmed there.",
        ),
        example=example,
        usual="left out",
    )
    if draft.edges[side] and "at" not in draft.edges[side]:
        yield Question(
            f"{side} at",
            "  where it is",
            put_at,
            (f"{example}; or {LEAVE_OUT}.",),
            example=example.partition(",")[0],
        )
    edge = draft.edges[side]
    if edge.get("what", "").casefold() in FINISH_COMES_LATER and "still to come" not in edge:
        yield Question(
            f"{side} to come",
            f"  what {edge['what']} will still take off the room",
            put_to_come,
            ("The thickness of bed and tile, or floor: 14 to come; none where it is finished; ? not known.",),
            example=such_as(EdgeSpec, "still to come"),
            usual=UNKNOWN,
        )


def _to_come(answer: str) -> str:
    """The answer to what is still to come, as it is said of an edge."""
    return answer if "come" in answer or answer == "finished" else f"still to come: {answer or UNKNOWN}"


def _things(draft: JobDraft) -> Iterator[Question]:
    """What comes through and what the tiles stop at, one after the other, until there is no more."""
    words = EXAMPLES[draft.kind]
    while True:
        draft.adding = True
        is_first = not draft.holes and not draft.voids
        yield Question(
            "through",
            f"What comes through, or tiles stop at{'' if is_first else ', the next'}",
            _put_begun,
            (
                f"Name, what it is, both its sides each way, its cover: {words.hole}.",
                f"What tiles stop at, behind the word for it: {words.window}.",
                f"Any key of the job file behind its word: {such_as(HoleSpec, 'depth', 1)}: depth 62 behind the board.",
                "Where the name of a hole begins with window, niche or door: hole: door stop, and so on.",
            ),
            example=f"{words.hole}; {words.window}" if is_first else "",
            usual="nothing" if is_first else "no more",
        )
        if not draft.adding:
            return
        yield from _missing(draft)


def _missing(draft: JobDraft) -> Iterator[Question]:
    """What was not said of the thing that is begun, and has no usual value."""
    assert draft.begun is not None
    kind, keys = draft.begun
    model = HoleSpec if kind == "hole" else VoidSpec
    deep = upward(model, draft)
    positions = {"across": such_as(model, "across", most=1), draft.up: deep}
    asked_for = {} if {"corners", "outline", "readings"} & keys.keys() else positions
    optional = {key: such_as(HoleSpec, key) for key in ("what", "cover")} if kind == "hole" else {}
    for key, example in (*asked_for.items(), *optional.items()):
        if _lacks(draft, key):
            yield _of_the_begun(key, keys["name"], example)
    if draft.begun is not None:
        _put_thing(draft, *draft.begun)
        draft.begun = None


def _lacks(draft: JobDraft, key: str) -> bool:
    """Whether a thing is begun of which that is not known yet."""
    return draft.begun is not None and key not in draft.begun[1]


def _of_the_begun(key: str, name: str, example: str) -> Question:
    must = key not in ("what", "cover")

    def put(draft: JobDraft, answer: str) -> None:
        assert draft.begun is not None
        kind, keys = draft.begun
        if answer.casefold() == LEAVE_OUT:
            draft.begun = None
        elif must and not answer:
            raise ValueError(f"It must be known: write it, or {LEAVE_OUT} for all of {keys['name']}.")
        elif must:
            # What is said may be more than what is asked for: both ways, or its cover.
            name = keys["name"]
            said = answer.removeprefix(name).lstrip(" ,") if answer.startswith(f"{name},") else answer
            _, more = thing_dealt(f"{kind}: {name}, {_keyed(key, said)}", draft)
            if key not in more:
                raise ValueError(f"{found(answer)} does not say where it is {key}: write that too, as in {example}.")
            draft.begun = kind, {**keys, **{word: value for word, value in more.items() if word != "name"}}
        else:
            draft.begun = kind, {**keys, key: answer or UNKNOWN}

    takes = f"{example}; {'' if must else '? not known; '}{LEAVE_OUT} takes all of {name} out again."
    return Question(key, f"  {name}, {key}", put, (takes,), example=example, usual="" if must else UNKNOWN)


def _keyed(key: str, answer: str) -> str:
    """An answer to the question for a key, behind that key if it says one thing."""
    return answer if "," in answer or ":" in answer else f"{key}: {answer}"


def _last_look(draft: JobDraft) -> Iterator[Question]:
    yield Question(
        "look",
        "Enter writes it. A number or a name changes that line; add: a thing more",
        chosen,
        (
            "A number, or a name such as left, size, start: it is asked for again. With what it is to be behind a "
            "colon, at once: 2: in | joint: 2 | hot cover: none.",
            f"What is not there yet too: top: 1462 above B. {LEAVE_OUT.capitalize()} behind the colon takes it out.",
        ),
        shows=lambda draft: look_lines(draft, _read(draft).assumed),
    )
    if draft.adding:
        yield from _things(draft)
    elif draft.changing:
        name, now = named_at(draft.changing, draft), standing_there(draft, draft.changing)

        def put(draft: JobDraft, answer: str) -> None:
            if answer:
                changed(draft, draft.changing, answer)
            draft.changing = ()

        yield Question(
            "change",
            f"  {name}",
            put,
            (f"What {name} is to be; {LEAVE_OUT} takes it out.",),
            usual=now or "left out",
        )


def _put_job(draft: JobDraft, answer: str) -> None:
    if answer == UNKNOWN:
        raise ValueError(f"{found(answer)} is no name of a job: write what it is called, or Enter for My job.")
    draft.job["job"] = answer or "My job"


def _put_surface(draft: JobDraft, answer: str) -> None:
    """The kind and the unit, in any order."""
    kind: Literal["wall", "floor"] = "wall"
    for word in answer.casefold().replace(",", " ").split():
        if word in ("wall", "floor"):
            kind = "floor" if word == "floor" else "wall"
        elif word in UNIT_WORDS or word in {unit.value for unit in Unit}:
            draft.job["units"] = UNIT_WORDS[word].value if word in UNIT_WORDS else word
            draft.said.add("units")
        else:
            raise ValueError(
                f"{found(word)} is neither a surface nor a unit: write wall or floor, and mm, cm, m, in or ft."
            )
    draft.kind = kind
    draft.area["joint"] = _usual(draft)["joint"]


def _usual(draft: JobDraft) -> Mapping[str, str]:
    """A size to show, and the usual joint, in the unit of the job."""
    unit = unit_of(draft)
    if unit in (Unit.MM, Unit.INCH):
        return INCHES if unit in IMPERIAL else METRIC
    return {key: _with_unit(value, unit) for key, value in (INCHES if unit in IMPERIAL else METRIC).items()}


def _with_unit(value: str, unit: Unit) -> str:
    own = "in" if unit in IMPERIAL else "mm"
    return " x ".join(f"{part} {own}" for part in value.split(" x "))


def _put_tile(draft: JobDraft, answer: str) -> None:
    if answer in ("", UNKNOWN):
        raise ValueError(f"The tile must be known: write its size at least, as in {_usual(draft)['size']}.")
    name, keys, area = tile_dealt(answer, draft)
    draft.tile_name = name or draft.tile_name
    draft.tile = keys
    draft.area |= area
    draft.said |= {*area, *(("tile",) if name else ())}


def _put_size(draft: JobDraft, answer: str) -> None:
    if not answer:
        raise ValueError(f"The size must be known: measure one, and write it as in {_usual(draft)['size']}.")
    draft.tile = {"size": answer, **draft.tile}


def _put_begun(draft: JobDraft, answer: str) -> None:
    draft.adding = answer.casefold() not in ("", LEAVE_OUT)
    draft.begun = thing_dealt(answer, draft) if draft.adding else None


def _put_thing(draft: JobDraft, kind: str, keys: Keys) -> None:
    if kind == "hole":
        draft.holes.append(in_order(keys))
    else:
        draft.voids.append((kind, in_order(keys)))


def _put_start(draft: JobDraft, answer: str) -> None:
    if answer not in ("", UNKNOWN):
        changed(draft, ("area", "start"), answer)


def _put_stock(draft: JobDraft, answer: str) -> None:
    """What is in hand and what a box holds, in any order."""
    if answer in ("", UNKNOWN):
        return
    for part in re.split(r"\s*,\s*|\s+of\s+", answer):
        box = re.fullmatch(r"(?:a\s+)?box(?:\s+(?:of|holds))?\s*:?\s+(.+)", part, re.IGNORECASE)
        after_of = part.isdecimal() and "box" in answer.casefold() and "have" in draft.tile
        if box or after_of:
            draft.tile["box"] = box[1] if box else part
        else:
            draft.tile["have"] = re.sub(r"^have\s*:?\s+", "", part, flags=re.IGNORECASE)


def upward(model: type[JobModel], draft: JobDraft) -> str:
    """How the second reading of a thing is written on this kind of surface."""
    key = declared(model)["up"].key
    return key.floor[1] if draft.kind == "floor" and key.floor else key.examples[0]
