"""Types mirrored, and thousands of rooms judged, each from outside.

    python -m tests.bench.rooms_campaign --types 200 --seed 1      # a mirrored type against the same laid by hand
    python -m tests.bench.rooms_campaign --rooms 10000 --seed 1    # verdicts against a simulation
    python -m tests.bench.rooms_campaign --speed 400               # rooms a second by one and by two processes, memory
    python -m tests.bench.rooms_campaign --killed 20               # killed at any moment, gone on with: the same bytes
    python -m tests.bench.rooms_campaign --faults                  # each bar with the fault that it is there for

A type is a random scene of bare numbers, which is worded as it is and, mirrored as numbers, once more: the job that the
package mirrors must have the pieces of the one that was worded in the other hand, and mirrored twice its own.

A room is a type's wall with one thing somewhere else. Whether the pipe goes through the hole that is cut, and whether
its cover hides that hole, is reckoned here by discs and boxes alone: (D - d) / 2 and (P - D) / 2 less the lap, each way
along the sides for boxes. Rooms are drawn most often near the border, where 0.01 mm to either side must be told apart.
"""

from __future__ import annotations

import argparse
import math
import os
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator, Sequence
from pathlib import Path
from random import Random
from unittest import mock

from msgspec import Struct

from cutmarks.cli import batch
from cutmarks.errors import JobError
from cutmarks.geometry.frames import Placement
from cutmarks.job import build_job, mirroring, parse_job
from cutmarks.job.in_a_room import with_readings
from cutmarks.job.rooms_file import RoomRead, RoomSpec
from cutmarks.plan import Plan, make_plan
from cutmarks.rooms import judging
from cutmarks.rooms.judging import Looked, judged
from tests.bench.measured import Bar, Planted, all_bite, told
from tests.properties import scene as scenes
from tests.properties import strategies
from tests.properties.compare import Change, assert_same_piece, matched
from tests.properties.scene import Scene, said
from tests.properties.strategies import ALL, CLOSED, LEVEL_STACK, NO_JOINT, Taste, random_scene

TASTES: tuple[Taste, ...] = (ALL, CLOSED, LEVEL_STACK, NO_JOINT)
SAME = Change(Placement(), lambda w, h: Placement())
BORDER = NEAR = 0.01
"""So near the border, mm, a verdict must be right."""


class Tally(Struct, dict=True):
    """What was looked at, and what was wrong."""

    types: int = 0
    pieces: int = 0
    rooms: int = 0
    near: int = 0
    fits: int = 0
    wrong_types: int = 0
    wrong_rooms: int = 0


def _plan_or_none(data: dict[str, object]) -> Plan | None:
    try:
        return make_plan(build_job(data))
    except JobError:
        return None


def _handed(scene: Scene) -> dict[str, object]:
    """The scene's job, its outlines mirrored with the room, as the numbers are."""
    data = said(scene)
    for surface in data["surfaces"]:
        for hole in surface.get("holes", ()):
            hole["handed"] = "yes"
    return data


def type_looked_at(number: int, tally: Tally) -> Iterator[str]:
    """One type, mirrored by the package and by its numbers."""
    scene = random_scene(Random(number), TASTES[number % len(TASTES)])
    by_hand = _plan_or_none(_handed(scenes.mirrored(scene)))
    as_drawn = _plan_or_none(_handed(scene))
    if by_hand is None or as_drawn is None:
        return
    job = build_job(_handed(scene))
    once = make_plan(mirroring.mirrored(job))
    twice = make_plan(mirroring.mirrored(mirroring.mirrored(job)))
    tally.types += 1
    for what, one, other in (("by hand", by_hand, once), ("twice", as_drawn, twice)):
        names = [[piece.name for piece in plan.pieces] for plan in (one, other)]
        if names[0] != names[1]:
            yield f"{what}: other pieces"
            continue
        tally.pieces += len(one.pieces)
        try:
            for before, after in matched(one, other, SAME):
                assert_same_piece(before, after, SAME)
        except AssertionError as error:
            yield f"{what}: {str(error).splitlines()[0] if str(error) else 'another piece'}"


JOB = """\
job: Quay House
tiles:
  slab: {{size: 997 x 997, measured: yes}}
surfaces:
  - name: wall
    kind: wall
    lines: {{V: plumb, B: level}}
    edges: {{left: 1400 left of V, right: 1400 right of V, bottom: 5 below B, top: 1900 above B}}
    areas:
      - {{name: field, tile: slab, joint: 3, start: {{across: middle on V, up: sits on B}}}}
    holes:
      - {{name: thing, {size}, opening: {opening}, cover: {cover}, across: {x}, up: {y},
         end: comes off}}
"""
LAP_ROUND, LAP_BOX = 3.0, 2.0
"""Laps that are wanted where no job says otherwise: cutmarks' own defaults, common practice, no published source."""


class Thing(Struct, frozen=True, dict=True):
    """A thing, the hole cut for it and its cover, each round (one figure) or a box (two), mm."""

    size: tuple[float, ...]
    opening: tuple[float, ...]
    cover: tuple[float, ...]

    def margin(self, dx: float, dy: float) -> float:
        """How far inside the border an offset lies, mm; below 0: it does not fit. By discs and boxes alone."""
        if len(self.size) == 1:
            off = math.hypot(dx, dy)
            through = (self.opening[0] - self.size[0]) / 2
            hidden = (self.cover[0] - self.opening[0]) / 2 - LAP_ROUND
            return min(through, hidden) - off
        through = min((o - s) / 2 - abs(d) for o, s, d in zip(self.opening, self.size, (dx, dy), strict=True))
        hidden = min((c - o) / 2 - LAP_BOX - abs(d) for c, o, d in zip(self.cover, self.opening, (dx, dy), strict=True))
        return min(through, hidden)

    def job(self, x: float, y: float) -> str:
        """The type's job with it at a place."""
        words = [" x ".join(f"{one:g}" for one in figures) for figures in (self.size, self.opening, self.cover)]
        size = f"diameter: {words[0]}" if len(self.size) == 1 else f"what: box, size: {words[0]}"
        return JOB.format(size=size, opening=words[1], cover=words[2], x=_across(x), y=_up(y))


def _across(x: float) -> str:
    return f"centre {abs(x):.6f} {'right' if x >= 0.0 else 'left'} of V"


def _up(y: float) -> str:
    return f"centre {y:.6f} above B"


def random_thing(draw: Random) -> Thing:
    """A pipe under a rose, or a box under a plate."""
    if draw.random() < 0.5:
        d = draw.randint(24, 120) / 2
        opening = d + draw.randint(4, 60) / 2
        return Thing((d,), (opening,), (opening + 2 * LAP_ROUND + draw.randint(2, 60) / 2,))
    sizes = [draw.randint(80, 200) / 2 for _ in range(2)]
    openings = [size + draw.randint(4, 30) / 2 for size in sizes]
    covers = [one + 2 * LAP_BOX + draw.randint(2, 60) / 2 for one in openings]
    return Thing((sizes[0], sizes[1]), (openings[0], openings[1]), (covers[0], covers[1]))


def rooms_looked_at(number: int, rooms: int, tally: Tally) -> Iterator[str]:
    """One type with so many rooms of it."""
    draw = Random(number)
    thing, x, y = random_thing(draw), draw.randint(-300, 300) / 2, draw.randint(600, 1300) / 2
    job = parse_job(thing.job(x, y))
    as_cut = make_plan(job)
    for _ in range(rooms):
        way = draw.random() * 2 * math.pi
        far = _border(thing, way)
        far += (
            draw.choice((-2 * BORDER, -BORDER, BORDER, 2 * BORDER)) if draw.random() < 0.5 else draw.uniform(-far, far)
        )
        dx, dy = far * math.cos(way), far * math.sin(way)
        margin = thing.margin(dx, dy)
        read = RoomRead(hole="thing", across=_across(x + dx), up=_up(y + dy))
        faults = job.faults()
        there = with_readings(job, RoomSpec(name="1", read=(read,)), faults)
        if faults:
            yield f"type {number}: {next(iter(faults))}"
            continue
        (verdict,) = judged(as_cut, make_plan(there), [Looked("wall", "thing")])
        tally.rooms += 1
        tally.near += abs(margin) <= 2 * NEAR
        tally.fits += margin > 0.0
        if abs(margin) >= BORDER / 2 and (verdict.says != "anew") != (margin > 0.0):
            yield f"type {number}: {dx:.4f}, {dy:.4f} off is {margin:.4f} inside, and is said to be {verdict.says}"


def _border(thing: Thing, way: float) -> float:
    """How far off the border lies in a direction, mm, by halving."""
    low, high = 0.0, 1000.0
    for _ in range(60):
        middle = (low + high) / 2
        if thing.margin(middle * math.cos(way), middle * math.sin(way)) > 0.0:
            low = middle
        else:
            high = middle
    return low


def run(types: Sequence[int], batches: Sequence[int], rooms: int) -> Tally:
    """All types by their numbers, and so many rooms of each of the batches; what is wrong is printed."""
    tally = Tally()
    for number in types:
        tally.wrong_types += _told(number, type_looked_at(number, tally))
    for number in batches:
        tally.wrong_rooms += _told(number, rooms_looked_at(number, rooms, tally))
    return tally


def _told(number: int, look: Iterator[str]) -> int:
    """How much is wrong with one case, each printed; any error at all is a failure of its case."""
    count = 0
    try:
        for sentence in look:
            count += 1
            print(f"{number}: {sentence}")
    except Exception as error:
        count += 1
        print(f"{number}: {type(error).__name__}: {error}")
    return count


def bars(tally: Tally, types: int, rooms: int) -> list[Bar]:
    """What was looked at beside what must have been: a campaign of refused jobs shows nothing."""
    held: list[Bar] = []
    if types:
        held += [
            Bar("types mirrored wrongly", tally.wrong_types, most=0),
            Bar("types mirrored, of all", tally.types / types, least=0.8),
            Bar("pieces held against another's, a type", tally.pieces / types, least=20),
        ]
    if rooms:
        held += [
            Bar("rooms judged wrongly", tally.wrong_rooms, most=0),
            Bar("rooms judged, of all", tally.rooms / rooms, least=0.99),
            Bar("rooms within 0.02 of the border, of all", tally.near / rooms, least=0.3),
            Bar("rooms that fit, of all", tally.fits / rooms, least=0.3, most=0.8),
        ]
    return held


HERE = sys.modules[__name__]
FAULTS: dict[str, Planted] = {
    "types mirrored wrongly": lambda: mock.patch.object(mirroring, "_bond", side_effect=lambda bond: bond),
    "types mirrored, of all": lambda: mock.patch.object(HERE, "_plan_or_none", return_value=None),
    "pieces held against another's, a type": lambda: mock.patch.object(strategies, "_edges", return_value={}),
    "rooms judged wrongly": lambda: mock.patch.object(judging, "_of_hole", return_value=("fits", 1.0, "")),
    "rooms judged, of all": lambda: mock.patch.object(HERE, "judged", side_effect=ValueError("planted")),
    "rooms within 0.02 of the border, of all": lambda: mock.patch.object(HERE, "BORDER", 1.0),
    "rooms that fit, of all": lambda: mock.patch.object(HERE, "_border", return_value=500.0),
}


ROOM = """\
  - name: "{number}"
    hand: {hand}
    read:
      - {{hole: hot, across: {hot} to {hot_far} left of V}}
"""


def site(folder: Path, rooms: int) -> Path:
    """A file of so many rooms of one type of some 60 cut pieces, every one of them read, one in ten cut anew."""
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "bath.yaml").write_text(TYPE, encoding="utf-8")
    listed = []
    for number in range(rooms):
        hot = 67 + (20 if number % 10 == 9 else number % 5)
        hand = "mirrored" if number % 2 else "as drawn"
        listed.append(ROOM.format(number=1000 + number, hand=hand, hot=hot, hot_far=hot + 16))
    path = folder / "rooms.yaml"
    path.write_text("site: Harbour View\ntype: bath.yaml\nrooms:\n" + "".join(listed), encoding="utf-8")
    return path


TYPE = """\
job: Harbour bath
tiles:
  rib: {size: 147 x 97, measured: yes, thickness: 9, bed: 4}
surfaces:
  - name: basin wall
    kind: wall
    lines: {V: "plumb, middle of the basin", B: "level, top of the batten"}
    edges:
      left: {at: 900 left of V, what: end panel, true: plumb}
      right: {at: 930 right of V, what: end panel, true: plumb}
      bottom: {at: 5 below B, what: worktop, true: level}
      top: {at: 2270 above B, what: shelf, true: level}
    areas:
      - {name: splash, tile: rib, joint: 3, bond: half, start: {across: joint on V, up: sits on B}}
    holes:
      - {name: hot, what: 15 copper, across: 67 to 83 left of V, up: 112 to 128 above B, cover: 65, end: comes off}
      - {name: cold, what: 15 copper, across: 67 to 83 right of V, up: 112 to 128 above B, cover: 65, end: comes off}
    pairs:
      - {of: hot and cold, level: yes}
"""


class Ran(Struct, frozen=True, dict=True):
    """A run of its own: seconds by the clock, processor seconds of it and of its workers, largest memory of any, MB."""

    clock: float
    own: float
    workers: float
    memory: float

    def of(self, workers: int) -> float:
        """Processor seconds from beginning to end where nothing else runs: its own, and a worker's share of theirs."""
        return self.own + self.workers / workers


_MEASURED = """\
import resource
from cutmarks.cli import main
try: main()
except SystemExit: pass
used = [resource.getrusage(who) for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)]
print("USED", *(one.ru_utime + one.ru_stime for one in used), max(one.ru_maxrss for one in used) / 1024)
"""


def timed(path: Path, out: Path, at_once: int) -> Ran:
    """A run over a file of rooms in a process of its own."""
    before = time.monotonic()
    ran = subprocess.run(
        [sys.executable, "-c", _MEASURED, "rooms", str(path), "--out", str(out), "--at-once", str(at_once)],
        capture_output=True, text=True, check=True,
    )  # fmt: skip
    return Ran(time.monotonic() - before, *map(float, ran.stdout.rsplit("USED", 1)[1].split()))


def cost_of_a_room(path: Path, out: Path) -> float:
    """Processor seconds a room takes, its type being planned: the mean over as many rounds as make 400 rooms."""
    (out / "rooms").mkdir(parents=True)
    rooms = batch.rooms_of(path, None)
    for kind in rooms.kinds:
        rooms.plan(kind)
    batch.one_room(rooms, 0, out)
    plain = [number for number in range(len(rooms.specs)) if number % 10 != 9]  # these have no piece of their own
    rounds = math.ceil(400 / len(plain))
    begun = time.process_time()
    for _ in range(rounds):
        for number in plain:
            (out / "rooms" / f"{rooms.specs[number].name}.json").unlink(missing_ok=True)
            batch.one_room(rooms, number, out)
    return (time.process_time() - begun) / (rounds * len(plain))


def speed(rooms: int) -> list[Bar]:
    """Two processes against one, the cost of a room from few to many, and memory."""
    with tempfile.TemporaryDirectory() as held:
        folder = Path(held)
        few, many = site(folder / "few", 4), site(folder / "many", rooms)
        costs = [cost_of_a_room(path, folder / "cost" / path.parent.name) for path in (few, many)]
        start = timed(few, folder / "out4", 1)
        one, two = (timed(many, folder / f"out{at_once}", at_once) for at_once in (1, 2))
        pieces = len(batch.rooms_of(many, None).plan(("bath.yaml", "mirrored")).pieces)
    for called, ran in (("4 rooms", start), (f"{rooms}, one process", one), (f"{rooms}, two workers", two)):
        used = f"{ran.own:.1f} + {ran.workers:.1f} s of processors"
        print(f"{called}: {ran.clock:.1f} s by the clock, {used}, {ran.memory:.0f} MB")
    print(f"{rooms / one.own:.2f} rooms a second of one processor")
    return [
        Bar("cut pieces of a room", pieces, least=60),
        Bar("one process against two, by processor time", one.own / two.of(2), least=1.7),
        Bar("one process against two, by the clock", one.clock / two.clock, least=1.7),
        Bar("memory of many rooms against four", max(one.memory, two.memory) / start.memory, most=1.2),
        Bar("cost of a room, of many against four", costs[1] / costs[0], most=1.1),
    ]


def killed(times: int, seed: int) -> list[Bar]:
    """A batch that is killed at some moment of its run, and gone on with: the same bytes in the end, each time.

    Every second time the first process alone is killed, and its workers are left to notice it.
    """
    draw, differs, cut_short, left_over = Random(seed), 0, 0, 0
    with tempfile.TemporaryDirectory() as held:
        folder = Path(held)
        path = site(folder / "site", 12)
        seconds = timed(path, folder / "whole", 2).clock
        whole = _bytes_of(folder / "whole")
        for number in range(times):
            out = folder / f"out{number}"
            with subprocess.Popen(
                [sys.executable, "-m", "cutmarks", "rooms", str(path), "--out", str(out), "--at-once", "2"],
                stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, start_new_session=True,
            ) as run:  # fmt: skip
                try:
                    run.wait(draw.uniform(0.2, seconds))
                except subprocess.TimeoutExpired:
                    cut_short += 1
                    if number % 2:
                        run.kill()
                    else:
                        os.killpg(run.pid, signal.SIGKILL)
            left_over += not _all_gone(run.pid)
            timed(path, out, 2)
            same = _bytes_of(out) == whole
            differs += not same
            print(f"{number}: {'the same' if same else 'differs'}", flush=True)
    return [
        Bar("folders that differ", differs, most=0),
        Bar("runs of which a worker was left", left_over, most=0),
        Bar("runs killed before their end, of all", cut_short / times, least=0.5),
    ]


def _all_gone(group: int) -> bool:
    """Whether nothing of a group of processes runs any more, within ten seconds; what is left is ended."""
    for _ in range(100):
        try:
            os.killpg(group, 0)
        except ProcessLookupError:
            return True
        time.sleep(0.1)
    os.killpg(group, signal.SIGKILL)
    return False


def _bytes_of(folder: Path) -> dict[str, bytes]:
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def main() -> int:
    """Run what was asked for; 1 where anything is wrong."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--types", type=int, default=0)
    parser.add_argument("--rooms", type=int, default=0)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--speed", type=int, default=0)
    parser.add_argument("--killed", type=int, default=0)
    parser.add_argument("--faults", action="store_true")
    asked = parser.parse_args()
    if asked.speed:
        return 0 if told(speed(asked.speed)) else 1
    if asked.killed:
        return 0 if told(killed(asked.killed, asked.seed)) else 1
    if asked.faults:
        few = range(asked.seed, asked.seed + 20)
        return 0 if all_bite(lambda: bars(run(few, few, 10), 20, 200), FAULTS) else 1
    types = range(asked.seed * 100_000, asked.seed * 100_000 + asked.types)
    batches = range(asked.seed * 100_000, asked.seed * 100_000 + math.ceil(asked.rooms / 50))
    tally = run(types, batches, 50)
    print(f"{tally.types} types, {tally.pieces} pieces; {tally.rooms} rooms, {tally.near} near the border")
    return 0 if told(bars(tally, asked.types, len(batches) * 50)) else 1


if __name__ == "__main__":
    sys.exit(main())
