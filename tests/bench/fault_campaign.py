"""Campaign: faults at every system call of `make` that touches the output folder, in scenes with links and odd parts.

    python -m tests.bench.fault_campaign --cases 100 --seed 1   # so many faults of each scene, taken by lot
    python -m tests.bench.fault_campaign                        # every fault of every scene, over 25,000: a night
    python -m tests.bench.fault_campaign --full-disk            # a small disk of every size, really full

After each fault: the old or the new output is whole, the user's own files are there byte for byte (those behind links
too), what is left beside the folder does not grow, and the next run works or says what to do. Exits 1 where one of
them does not hold. Wants Linux, root (for the small disk) and strace.
"""

from __future__ import annotations

import argparse
import json
import os
import subprocess
import sys
import tempfile
from contextlib import redirect_stdout
from functools import cache
from io import StringIO
from pathlib import Path

from msgspec import Struct

from cutmarks.cli.app import app
from tests.bench.faults import Ended, Scene, campaign, run

JOB = """\
job: Reed House
tiles: {rib: {size: 297 x 97, measured: yes, thickness: 9}}
surfaces:
  - name: wall
    kind: wall
    lines: {V: "plumb, middle", B: "level, batten"}
    areas:
      - {name: splash, tile: rib, joint: 3, bond: half, start: {across: joint on V, up: sits on B}}
    holes:
      - {name: hot, what: 15 copper, across: 67 to 83 left of V, up: 240 to 256 above B, cover: 65, end: comes off}
"""
MOVED = JOB.replace("67 to 83 left", "70 to 86 left")
COMMAND = ("make", "job.yaml", "--out", "out")
INPUTS = ("job.yaml", "job.found.yaml", "tools.yaml", "fittings.toml")

Files = dict[str, bytes]


def stands(folder: Path) -> Files:
    """Every file below a folder; links, pipes and empty folders are said as such. Nothing behind a link."""
    found: Files = {}
    for here, folders, files in os.walk(folder):
        base = Path(here)
        for name in [*files, *(name for name in folders if (base / name).is_symlink())]:
            path = base / name
            shown = path.relative_to(folder).as_posix()
            if path.is_symlink():
                found[shown] = b"link to " + os.readlink(path).encode()
            else:
                found[shown] = path.read_bytes() if path.is_file() else b"neither file nor folder"
        if not folders and not files and base != folder:
            found[base.relative_to(folder).as_posix()] = b"empty folder"
    return found


@cache
def output(job: str) -> Files:
    """What `make` writes for a job, where nothing is in the way."""
    with tempfile.TemporaryDirectory(prefix="faults.") as folder:
        write(Path(folder), job)
        return stands(Path(folder) / "out")


def write(place: Path, job: str, out: str = "out") -> None:
    """Make an output of a job called job.yaml in `place`, in this process; the job file then stands there too."""
    (place / "job.yaml").write_text(job, encoding="utf-8")
    with redirect_stdout(StringIO()):
        app(["make", str(place / "job.yaml"), "--out", str(place / out)], prog_name="cutmarks", standalone_mode=False)


TICKED = "holes.csv"
"""The file of ours that the user changes."""
TICK = b"done by the user\n"

OWN = {
    "notes.txt": b"measured twice",
    "sheets/marked.svg": b"by hand",
    "photos/wall/1.jpg": b"\xff\xd8",
    "shared": b"link to ../share",
}


def put(folder: Path, files: Files) -> None:
    """Put files into a folder; "link to" makes a link."""
    for name, data in files.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        if data.startswith(b"link to "):
            path.symlink_to(data.removeprefix(b"link to ").decode())
        else:
            path.write_bytes(data)


class Story(Struct, frozen=True, dict=True):
    """What must hold of a scene of `make`.

    old      the files of ours that stood in the output before, as they stood; None: none, or not known.
    own      the user's own, by their names in the folder.
    lost     what must be found somewhere, under whatever name: the file of ours that the user changed.
    share    what stands behind the user's links.
    refused  whether the command is refused as long as the scene is as it is; then nothing changes.
    beside   what may stand beside for good afterwards.
    """

    old: Files | None
    own: Files
    lost: tuple[bytes, ...]
    share: Files
    refused: bool = False
    beside: tuple[str, ...] = ()

    def after(self, place: Path, ended: Ended) -> None:
        """After a run with a fault."""
        new = output(MOVED)
        assert stands(place / "share") == self.share, "what is behind the link has changed"
        folders = [stands(place / name) for name in ("out", "out.old") if (place / name).is_dir()]
        for name, data in self.own.items():
            assert any(files.get(name) == data for files in folders), f"{name} of the user's is not there"
        for data in self.lost:
            assert data in stands(place).values(), "what the user changed is nowhere"
        whole = [known for known in (self.old, new) for files in folders if known and known.items() <= files.items()]
        assert whole or self.old is None, "neither the old nor the new output is whole"
        out = stands(place / "out") if (place / "out").is_dir() else {}
        if ended.code in (0, 1):
            assert new.items() <= out.items(), "it says that all was written, and it was not"
        if ended.code == 2:
            assert ended.err.strip(), "it says nothing"
            if self.old is not None:
                assert any(self.old.items() <= files.items() for files in folders), f"the old is gone: {ended.err}"
        if "othing was written" in ended.err and self.old != new:
            assert not new.items() <= out.items(), f"it was written: {ended.err}"

    def mended(self, place: Path, ended: Ended) -> None:
        """After the next run, without a fault."""
        self.after(place, ended)
        if self.refused:
            assert ended.code == 2, f"not refused: {ended.out}"
            return
        assert ended.code == 0, f"the next run does not work: {ended.err}"
        out = stands(place / "out")
        extra = {name: data for name, data in out.items() if name not in output(MOVED) and name not in self.own}
        assert all(".yours" in name and data in self.lost for name, data in extra.items()), f"left in it: {[*extra]}"
        assert len(extra) <= len(self.lost), f"kept more than once: {[*extra]}"
        beside = set(os.listdir(place)) - {"job.yaml", "share", "out"} - set(self.beside)
        assert not beside, f"left beside: {sorted(beside)}"


SHARE = {"precious.txt": b"another job's", "deep/er.txt": b"too"}


def begun(place: Path) -> None:
    """What every scene has: a folder elsewhere that links lead to, and the job, which has changed since."""
    put(place / "share", SHARE)
    (place / "job.yaml").write_text(MOVED, encoding="utf-8")


def replaced(place: Path) -> None:
    """An earlier output with the user's own files in it, one of ours ticked off."""
    write(place, JOB)
    begun(place)
    put(place / "out", OWN)
    with (place / "out" / TICKED).open("ab") as file:
        file.write(TICK)


def ticked() -> bytes:
    """The file of ours as the user changed it."""
    return output(JOB)[TICKED] + TICK


def old_files() -> Files:
    """The earlier output, as `replaced` has it."""
    return {**output(JOB), TICKED: ticked()}


def waits(place: Path) -> None:
    """A run was stopped between the two renames."""
    replaced(place)
    (place / "out").rename(place / "out.old")
    put(place / "out.new", {".cutmarks-unfinished": b"", "holes.csv": b"half"})


def half_removed(place: Path) -> None:
    """A run was stopped while the earlier output was being removed: some of it is gone, the user's own came over."""
    replaced(place)
    (place / "out").rename(place / "out.old")
    put(place / "out", {**output(MOVED), ".cutmarks-unfinished": b""})
    put(place / "out", OWN)
    for name in output(JOB):
        if name.startswith("dxf/"):
            (place / "out.old" / name).unlink()
    (place / "out.old" / "dxf").rmdir()


def linked(place: Path) -> None:
    """One of our folders is the user's own link, with files of our names behind it."""
    write(place, JOB)
    begun(place)
    names = os.listdir(place / "out" / "dxf")
    put(place / "share", dict.fromkeys(names, b"another job's"))
    for name in names:
        (place / "out" / "dxf" / name).unlink()
    (place / "out" / "dxf").rmdir()
    (place / "out" / "dxf").symlink_to("../share")


def closed(place: Path) -> None:
    """A folder of the output may not be changed."""
    replaced(place)
    (place / "out" / "sheets").chmod(0o555)


def of_the_first_releases(place: Path) -> None:
    """An output whose plan.json does not say how the others were written."""
    write(place, JOB)
    begun(place)
    plan = json.loads((place / "out" / "plan.json").read_bytes())
    for key in ("digests", "seal", "job_file"):
        del plan[key]
    (place / "out" / "plan.json").write_text(json.dumps(plan, indent=0), encoding="utf-8")
    put(place / "out", OWN)


def first_files() -> Files:
    """The files of `of_the_first_releases` that are known beforehand."""
    return {name: data for name, data in output(JOB).items() if name != "plan.json"}


def scenes() -> list[Scene]:
    """All scenes of `make`."""
    behind = {
        **SHARE,
        **dict.fromkeys((n.removeprefix("dxf/") for n in output(JOB) if n.startswith("dxf/")), SHARE["precious.txt"]),
    }
    fresh = Story(None, {}, (), SHARE)
    usual = Story(old_files(), OWN, (ticked(),), SHARE)
    half = Story(output(MOVED), OWN, (ticked(),), SHARE)
    shut = Story(old_files(), OWN, (ticked(),), SHARE, refused=True)
    link = Story(
        {n: d for n, d in output(JOB).items() if not n.startswith("dxf/")},
        {"dxf": b"link to ../share"},
        (),
        behind,
        refused=True,
    )
    unproved = Story(None, OWN, tuple(first_files().values()), SHARE, beside=("out.earlier",))
    made = [
        ("first", begun, fresh),
        ("replaced", replaced, usual),
        ("stopped between the renames", waits, usual),
        ("stopped in the removal", half_removed, half),
        ("a link in place of dxf", linked, link),
        ("an output of the first releases", of_the_first_releases, unproved),
    ]
    found = [Scene(name, prepare, COMMAND, story.after, story.mended, apart=INPUTS) for name, prepare, story in made]
    found.append(
        Scene(
            "no hard links", replaced, COMMAND, usual.after, usual.mended, always=("linkat:error=EPERM",), apart=INPUTS
        )
    )
    found.append(
        Scene("a folder that is read-only", closed, COMMAND, shut.after, shut.mended, plain=True, apart=INPUTS)
    )
    return found


def full_disks(step_kb: int) -> int:
    """A small disk of one size after another, from just the old output to enough for both; how many did not hold."""
    failed = 0
    usual = Story(old_files(), OWN, (ticked(),), SHARE)
    scene = Scene("a full disk", replaced, COMMAND, usual.after, usual.mended)
    seen = set()
    with tempfile.TemporaryDirectory(prefix="faults.") as folder:
        sizes = range(500, 1400, step_kb)
        for size in sizes:
            disk = Path(os.path.realpath(folder)) / "disk"
            disk.mkdir(exist_ok=True)
            subprocess.run(["mount", "-t", "tmpfs", "-o", f"size={size}k", "tmpfs", str(disk)], check=True)
            try:
                place = disk / "scene"
                place.mkdir()
                scene.prepare(place)
                before = stands(place)
                for _ in range(3):
                    ended = run(scene, place)
                    scene.after(place, ended)
                    seen.add(ended.code)
                    if ended.code == 2:
                        assert stands(place) == before, f"changed: {ended.err}"
                        assert "no space left on device: nothing was written: make room" in ended.err, ended.err
                subprocess.run(["mount", "-o", "remount,size=8M", str(disk)], check=True)
                scene.mended(place, run(scene, place))
            except AssertionError as error:
                failed += 1
                print(f"  {size} kB: {error}")
            finally:
                subprocess.run(["umount", str(disk)], check=True)
    print(f"a full disk: {len(sizes)} sizes, ended with {sorted(seen)}, {failed} do not hold")
    return failed


def main() -> int:
    """Run the campaign; 0 where all holds."""
    options = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    options.add_argument("--cases", type=int, help="so many faults of each scene, taken by lot; without it: all")
    options.add_argument("--seed", type=int, default=1)
    options.add_argument("--scene", help="only scenes with this in their name")
    options.add_argument("--full-disk", type=int, nargs="?", const=20, metavar="KB", help="only full disks, KB apart")
    asked = options.parse_args()
    if asked.full_disk:
        return 1 if full_disks(asked.full_disk) else 0
    wanted = [scene for scene in scenes() if asked.scene is None or asked.scene in scene.name]
    return 1 if campaign(wanted, asked.cases, asked.seed) else 0


if __name__ == "__main__":
    sys.exit(main())
