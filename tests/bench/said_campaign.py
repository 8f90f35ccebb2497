"""Bench: sentences put together at random from forms whose figures are known, each read in a whole job.

    python -m tests.bench.said_campaign --sentences 1500 --seed 1

A sentence is a name, what it is, a place each way, a cover and a remark, in any order and with any comma; what must
come out is drawn with it. A lone distance up must be asked, or go to the middle where the place across does so by its
own words. Anything that is read otherwise is wrong, and printed; what is asked is counted.
"""

from __future__ import annotations

import argparse
import random
import sys
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from typing import Literal

from msgspec import Struct

from cutmarks.errors import JobError
from cutmarks.job import build_job
from cutmarks.job.models import HoleSpec
from cutmarks.readings import Reading

LINES = {"V": "plumb, middle of the basin", "B": "level, top of the batten"}
EDGES = {"left": "2000 left of V", "right": "2000 right of V", "bottom": "2000 below B", "top": "2400 above B"}
NAMES = ("hot", "cold", "basin waste", "w/mach cold", "rad tail L/H", "iso valve", "stopcock", "shower mixer", "tap 2")
WHATS = (("15 copper", 15.0), ("15mm copper", 15.0), ("22 cu", 22.0), ("22mm copper pipe", 22.0), ("", None))
SIDES: Mapping[int, Sequence[str]] = {
    1: ("right of V", "R of V", "RH of V", "to the right of V", "RH side of V", "right V", "right of the plumb"),
    -1: ("left of V", "L of V", "LH of V", "to the left of V", "LH side of V", "left V", "left of plumb"),
}
WAYS: Mapping[int, Sequence[str]] = {
    1: ("above B", "up from B", "over B", "abv B", "up off B", "above the batten"),
    -1: ("below B", "under B", "down from B"),
}
REMARKS = ("", "", "", "cut it neat", "comes off", "note: ask the plumber")
Outcome = Literal["taken", "asked", "wrong"]


class Drawn(Struct, frozen=True):
    """A place as it is said, and what it means: both sides, low first, or the middle alone; `lone`: to what is open."""

    said: str
    means: tuple[float, ...]
    lone: bool = False


class Sentence(Struct, frozen=True):
    """A sentence, and what must come out of it; `od` None where it does not say what the thing is."""

    text: str
    across: Drawn
    up: Drawn
    cover: float | str | None
    od: float | None


def sentences(count: int, seed: int) -> Iterator[Sentence]:
    """So many of them."""
    draw = random.Random(seed)
    for _ in range(count):
        name, (what, od) = draw.choice(NAMES), draw.choice(WHATS)
        across, up = _across(draw), _up(draw)
        cover_said, cover = _cover(draw)
        rest = [part for part in (what, across.said, up.said, cover_said, draw.choice(REMARKS)) if part]
        head = name
        if what and draw.random() < 0.4:
            head, rest = f"{name} {what}", rest[1:]
        draw.shuffle(rest)
        yield Sentence(draw.choice((", ", ",", "; ")).join([head, *rest]), across, up, cover, od)


def _across(draw: random.Random) -> Drawn:
    near, wide, sign = draw.randint(20, 600), draw.randint(12, 60), draw.choice((1, -1))
    far, way = near + wide, draw.choice(SIDES[sign])
    low, high = sorted((float(sign * near), float(sign * far)))
    forms = (
        f"{near} to {far} {way}",
        f"{near}-{far} {way}",
        f"{way} {near} to {far}",
        f"from {near} over to {far} {way}",
        f"starts {near} {way} ends {far}",
        f"{near / 10:g} to {far / 10:g} cm {way}",
    )
    if draw.random() < 1 / 7:
        return Drawn(f"{draw.choice(('c/l', 'ctr', 'centre', 'center'))} {near} {way}", (float(sign * near),))
    return Drawn(draw.choice(forms), (low, high))


def _up(draw: random.Random) -> Drawn:
    near, wide, sign = draw.randint(20, 900), draw.randint(12, 60), draw.choice((1, 1, -1))
    far, way = near + wide, draw.choice(WAYS[sign])
    low, high = sorted((float(sign * near), float(sign * far)))
    middle = (float(sign * near),)
    return draw.choice((
        Drawn(f"{near} to {far} {way}", (low, high)),
        Drawn(f"{way} {near} to {far}", (low, high)),
        Drawn(f"{draw.choice(('c/l', 'ctr'))} {near} {way}", middle),
        Drawn(f"{near} {way} to {draw.choice(('ctr', 'centre', 'the middle'))}", middle),
        Drawn(f"{near} {way}", middle, lone=True),
    ))  # fmt: skip


def _cover(draw: random.Random) -> tuple[str, float | str | None]:
    over = float(draw.randint(62, 120))
    return draw.choice((
        (f"{over:g} rose", over),
        (f"collar {over:g}", over),
        (f"rose {over:g} dia", over),
        (f"flange {over:g}", over),
        (f"dress ring {over:g}", over),
        (f"{over:g} cap over it", over),
        ("no cover", "none"),
        ("no rose, just silicone", "none"),
        ("", None),
    ))  # fmt: skip


def outcome(sentence: Sentence) -> tuple[Outcome, str]:
    """What became of a sentence, and what was read of it, or asked."""
    wall = {"name": "here", "kind": "wall", "lines": LINES, "edges": EDGES, "holes": [sentence.text]}
    try:
        holes = build_job({"job": "said", "surfaces": [wall]}).surfaces[0].holes
    except JobError as error:
        return "asked", error.faults[0].sentence
    told = "; ".join(f"{hole.across} {hole.up} {hole.cover} {hole.fitting}" for hole in holes)
    return ("taken" if len(holes) == 1 and _is_meant(holes[0], sentence) else "wrong"), told


def _is_meant(hole: HoleSpec, sentence: Sentence) -> bool:
    od = None if hole.fitting is None else hole.fitting.od
    may_be_lone = not sentence.up.lone or len(sentence.across.means) == 1
    return (
        may_be_lone
        and _is_at(hole.across, sentence.across)
        and _is_at(hole.up, sentence.up)
        and hole.cover == sentence.cover
        and (sentence.od is None or od == sentence.od)
    )


def _is_at(reading: Reading | None, place: Drawn) -> bool:
    if reading is None:
        return False
    read = (reading.low,) if reading.high is None else (reading.low, reading.high)
    is_alike = len(read) == len(place.means) and (len(read) == 2 or reading.how == "centre")
    return is_alike and all(abs(one - other) < 0.001 for one, other in zip(read, place.means, strict=True))


def main(arguments: list[str] | None = None) -> int:
    """Say what became of them all; 1 where one is wrong."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--sentences", type=int, default=1500, metavar="N")
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args(arguments)
    counts: Counter[Outcome] = Counter()
    for sentence in sentences(options.sentences, options.seed):
        found, told = outcome(sentence)
        counts[found] += 1
        if found == "wrong":
            print(f"wrong    {sentence.text}\n         {told}")
    print(f"{counts.total()} sentences: {counts['taken']} taken, {counts['asked']} asked back, {counts['wrong']} wrong")
    return 1 if counts["wrong"] else 0


if __name__ == "__main__":
    sys.exit(main())
