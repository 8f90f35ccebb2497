"""Campaign: faults at every system call of `found` that touches the job's folder, taking in and taking back.

    python -m tests.bench.found_campaign                     # every fault of every scene
    python -m tests.bench.found_campaign --cases 50 --seed 1
    python -m tests.bench.found_campaign --full-disk         # a small disk of every size, really full

After each fault: the file of what was found is the old one or the new one, whole, with the user's remarks; the user's
own files are there; what is said is what happened; at most one file of our own is left, after a kill alone, and the
next run clears it. Exits 1 where one of them does not hold. Wants Linux, strace, and root for the small disk.
"""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
import tempfile
from pathlib import Path

from msgspec import Struct
from msgspec.structs import replace

from cutmarks.job.found_file import read_kept
from cutmarks.job.tree import plain
from tests.bench.faults import Ended, Scene, campaign, run
from tests.bench.found_pairs import PIECE, warmed_up
from tests.cli.conftest import W1

KEPT = "job.found.yaml"
REMARK = "# ours: after the rain\n"
FIRST = {"piece": PIECE, "left": "70 to 85", "date": "2026-03-14"}
SECOND = {"piece": PIECE, "cut": "yes", "date": "2026-03-15", "note": "it's tight: 1"}
TAKE_IN = ("found", "job.yaml", PIECE, "--cut", "--date", "2026-03-15", "--note", "it's tight: 1")
TAKE_BACK = ("found", "job.yaml", PIECE, "--take-back")
OWN = {
    "notes.txt": b"measured twice",
    "job.found.yaml.new": b"mine",
    ".cutmarks-found": b"mine too",
    "job.yaml": W1.encode(),
}
OURS = ".cutmarks-found-"

Entries = list[object]


class Story(Struct, frozen=True, dict=True):
    """What must hold of a scene: the entries before, after the command, and after the command again.

    again    what the command makes of it when it comes again and again, as it does where a fault leaves something;
             None where it is then refused, as there is nothing more to take back.
    refused  whether the command is refused as the scene is.
    left_before  whether a killed run left something before.
    """

    before: Entries
    done: Entries
    again: tuple[Entries, ...] | None
    remark: str = REMARK
    refused: bool = False
    left_before: bool = False

    def after(self, place: Path, ended: Ended) -> None:
        """After a run with a fault."""
        holds = self.entries(place)
        assert holds in (self.before, self.done), f"neither old nor new: {holds}"
        said = ended.out + ended.err
        if ended.code == 0:
            assert holds == self.done, f"said to be done, and it is not: {said}"
        if "othing was written" in said:
            assert holds == self.before, f"said not to be done, and it is: {said}"
        if ended.code == 2:
            assert "othing was written" in said or "Usage:" in said, f"refused without a word of the file: {said}"
        if "Kept in" in said or "Taken back from" in said:
            assert holds == self.done, f"said to be done, and it is not: {said}"
        left = self.left(place)
        # A run that is stopped before it writes, or cannot list the folder, does not clear what one before it left.
        may = 1 if ended.code == -9 or self.left_before else 0
        assert len(left) <= may, f"left: {left}"

    def mended(self, place: Path, ended: Ended) -> None:
        """After the next run, without a fault."""
        holds = self.entries(place)
        assert not self.left(place), f"still left: {self.left(place)}"
        if self.refused:
            assert ended.code == 2, f"not refused: {ended.out}"
            assert holds == self.before
        elif ended.code == 2:
            assert self.again is None, f"the next run does not work: {ended.err}"
            assert holds == self.done
        else:
            assert ended.code == 0, f"the next run does not work: {ended.err}"
            assert holds in (self.done, *(self.again or ())), f"holds {holds}"

    def entries(self, place: Path) -> Entries:
        """What the file holds, read as every command reads it; the user's own files and remarks are looked at, too."""
        for name, data in OWN.items():
            assert (place / name).read_bytes() == data, f"{name} of the user's has changed"
        if not (place / KEPT).exists():
            return []
        text = (place / KEPT).read_text(encoding="utf-8")
        assert self.remark in text, f"the remark is gone: {text}"
        kept = read_kept(text, KEPT)
        assert not kept.faults, f"cannot be read: {kept.faults}"
        return [plain(node) for _, node in kept.entries]

    def left(self, place: Path) -> list[str]:
        """What stands beside, and is not the user's."""
        return [name for name in os.listdir(place) if name.startswith(OURS)]


def begun(place: Path) -> None:
    """The job and the user's own files; nothing was found yet."""
    for name, data in OWN.items():
        (place / name).write_bytes(data)


def by_hand(place: Path) -> None:
    """A file with a remark and one entry."""
    begun(place)
    (place / KEPT).write_text(f"found:\n  {REMARK}  - piece: {PIECE}\n    left: 70 to 85\n    date: 2026-03-14\n")


def twice(place: Path) -> None:
    """A file with two entries, a remark above the second."""
    by_hand(place)
    with (place / KEPT).open("a", encoding="utf-8") as file:
        file.write(
            "  # the tile crept\n"
            + "".join(
                f'{lead}{key}: "{value}"\n'
                for lead, (key, value) in zip(("  - ", *["    "] * 3), SECOND.items(), strict=True)
            )
        )


def killed_before(place: Path) -> None:
    """A run was killed before this one, and left what it had begun."""
    by_hand(place)
    from cutmarks.writers.found_file import _stem

    (place / f"{_stem(Path(KEPT))}0123456789abcdef.new").write_bytes(b"found:\n  - pie")


def protected(place: Path) -> None:
    """The folder may not be changed."""
    by_hand(place)
    place.chmod(0o555)


def scenes() -> list[Scene]:
    """All scenes of `found`."""
    first = Story([], [SECOND], tuple([SECOND] * count for count in (2, 3, 4)), remark="")
    usual = Story([FIRST], [FIRST, SECOND], tuple([FIRST, *[SECOND] * count] for count in (2, 3, 4)))
    killed = replace(usual, left_before=True)
    back = Story([FIRST, SECOND], [FIRST], ([],))
    last = Story([FIRST], [], None)
    shut = Story([FIRST], [FIRST], None, refused=True)
    made = [
        ("a first entry", begun, TAKE_IN, first),
        ("one more entry", by_hand, TAKE_IN, usual),
        ("a killed run before", killed_before, TAKE_IN, killed),
        ("the second taken back", twice, TAKE_BACK, back),
        ("the last taken back", by_hand, TAKE_BACK, last),
    ]
    found = [Scene(name, prepare, command, story.after, story.mended) for name, prepare, command, story in made]
    found.append(Scene("a folder that is read-only", protected, TAKE_IN, shut.after, shut.mended, plain=True))
    return found


def long(place: Path) -> None:
    """A file of twenty kilobytes: a disk may have room for a part of the new one."""
    by_hand(place)
    with (place / KEPT).open("a", encoding="utf-8") as file:
        file.write("# a line of the user's own\n" * 750)


def full_disks() -> int:
    """A small disk of one size after another, from one with no room for the new file; how many did not hold."""
    failed, seen = 0, set()
    story = Story([FIRST], [FIRST, SECOND], ())
    scene = Scene("a full disk", long, TAKE_IN, story.after, story.mended)
    sizes = range(40, 76, 4)
    for size in sizes:
        with tempfile.TemporaryDirectory(prefix="faults.") as folder:
            disk = Path(os.path.realpath(folder)) / "disk"
            disk.mkdir()
            subprocess.run(["mount", "-t", "tmpfs", "-o", f"size={size}k", "tmpfs", str(disk)], check=True)
            try:
                place = disk / "scene"
                place.mkdir()
                scene.prepare(place)
                for _ in range(2):
                    before = story.entries(place)
                    ended = run(scene, place)
                    seen.add(ended.code)
                    if ended.code != 0:
                        assert "(no space left on device): nothing was written" in ended.err, ended.err
                        assert story.entries(place) == before, "said not to be done, and it is"
                    assert not story.left(place), story.left(place)
                subprocess.run(["mount", "-o", "remount,size=8M", str(disk)], check=True)
                assert run(scene, place).code == 0, "with room again it does not work"
                assert not story.left(place), story.left(place)
            except AssertionError as error:
                failed += 1
                sys.stdout.write(f"  {size} kB: {error}\n")
            finally:
                subprocess.run(["umount", str(disk)], check=True)
    sys.stdout.write(f"a full disk: {len(sizes)} sizes, ended with {sorted(seen)}, {failed} do not hold\n")
    return failed


def main() -> int:
    """Run the campaign; 0 where all holds."""
    options = argparse.ArgumentParser(prog="python -m tests.bench.found_campaign", description=__doc__.splitlines()[0])
    options.add_argument("--cases", type=int, help="so many faults of each scene, taken by lot; without it: all")
    options.add_argument("--seed", type=int, default=1)
    options.add_argument("--full-disk", action="store_true", help="only full disks")
    asked = options.parse_args()
    warmed_up()
    if asked.full_disk:
        return 1 if full_disks() else 0
    return 1 if campaign(scenes(), asked.cases, asked.seed) else 0


if __name__ == "__main__":
    sys.exit(main())
