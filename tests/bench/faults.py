"""Faults injected at a command's own system calls: what a campaign of them is made of.

A command of cutmarks is run in a process of its own, forked from this one, in which all is imported already. strace is
attached to it before it begins (Linux; `apt-get install strace`), and lets the kernel answer one call with an error, or
sends a signal at it: nothing in the program is replaced. Which call that is, is counted from a first run of the same
command in the same scene, in which every call is recorded that touches the scene's folder.

A campaign gives scenes: how the folder is made, the arguments of the command, and what must hold after any fault and
after the next run without one. See `fault_campaign` for those of `make`.
"""

from __future__ import annotations

import ctypes
import os
import random
import re
import select
import shutil
import signal
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from msgspec import Struct

from cutmarks.cli.app import app

LOOKED_AT = (
    *("openat", "newfstatat", "fstat", "statx", "readlink", "readlinkat", "getdents64", "faccessat", "faccessat2"),
    *("read", "pread64", "lseek", "close", "flock"),
)
"""Calls that only look, or hold."""
CHANGED = (
    *("mkdir", "mkdirat", "rename", "renameat", "renameat2", "link", "linkat", "symlink", "symlinkat", "unlink"),
    *("unlinkat", "rmdir", "write", "pwrite64", "fsync", "fdatasync", "ftruncate", "fchmod", "chmod", "fchmodat"),
    *("utimensat",),
)
"""Calls that change something."""

ERRORS = {**dict.fromkeys(LOOKED_AT, ("EIO", "EACCES")), **dict.fromkeys(CHANGED, ("ENOSPC", "EIO", "EACCES", "EPERM"))}
ERRORS["openat"] = ("ENOSPC", "EIO", "EACCES")
ERRORS["close"] = ("EIO",)
SIGNALS = ("SIGKILL", "SIGINT")

OVERRIDES = 0b1110
"""CAP_DAC_OVERRIDE, CAP_DAC_READ_SEARCH and CAP_FOWNER (capability.h: 1, 2, 3), with which root passes over modes."""


class Call(Struct, frozen=True, dict=True):
    """One system call of a run: its name, the how-manieth of that name it is (from 1), and its line in the record."""

    name: str
    count: int
    line: str


@dataclass(frozen=True)
class Fault:
    """What is done at a call: `what` is an error's name, or a signal's."""

    call: Call
    what: str

    @property
    def injection(self) -> str:
        """As strace is told."""
        kind = "signal" if self.what.startswith("SIG") else "error"
        return f"{self.call.name}:{kind}={self.what}:when={self.call.count}"

    def shows_in(self, line: str) -> bool:
        """Whether a line of strace's says that it came."""
        if self.what.startswith("SIG"):
            return f"--- {self.what}" in line or f"+++ killed by {self.what}" in line
        return f" {self.call.name}(" in line and "(INJECTED)" in line


class Ended(Struct, frozen=True, dict=True):
    """How a run ended: its exit code, or minus the signal's number; what it printed; whether a fault came to it."""

    code: int
    out: str
    err: str
    injected: bool


class Scene(Struct, frozen=True, dict=True):
    """A folder, a command in it, and what must hold.

    prepare   makes the scene in an empty folder, which is the command's working folder.
    command   the command's arguments.
    after     what must hold after a run with a fault; raises AssertionError.
    mended    what must hold after the next run, without one; raises AssertionError.
    always    calls that always fail in this scene, as strace is told: `linkat:error=EPERM`.
    apart     what a call may touch without being tried: the command's inputs, by their names.
    plain     whether modes hold for this user, as they do for everyone but root.
    """

    name: str
    prepare: Callable[[Path], None]
    command: Sequence[str]
    after: Callable[[Path, Ended], None]
    mended: Callable[[Path, Ended], None]
    always: tuple[str, ...] = ()
    apart: tuple[str, ...] = ()
    plain: bool = False


def run(scene: Scene, place: Path, *, fault: Fault | None = None, record: Path | None = None) -> Ended:
    """Run a scene's command in `place`, with a fault, or with every call recorded, or with neither."""
    with tempfile.TemporaryDirectory(prefix="faults.") as aside:
        log = record or Path(aside) / "log"
        out, err = Path(aside) / "out", Path(aside) / "err"
        waits, goes = os.pipe()
        stands, ready = os.pipe()
        process = os.fork()
        if process == 0:
            _command(scene, place, waits, ready, out, err)
        os.close(waits)
        os.close(ready)
        # Only then is strace let at it: what the process does to get ready is not the command's.
        os.read(stands, 1)
        os.close(stands)
        options = [f"inject={fault.injection}"] if fault is not None else []
        options += [f"inject={call}" for call in scene.always]
        traced = [fault.call.name] if fault is not None else [*LOOKED_AT, *CHANGED] if record is not None else []
        traced += [call.split(":")[0] for call in scene.always]
        tracer = _attached(process, log, traced, options) if traced else None
        os.write(goes, b"!")
        os.close(goes)
        _, status = os.waitpid(process, 0)
        if tracer is not None:
            tracer.communicate()
        told = log.read_text(errors="replace") if log.exists() else ""
        came = fault is not None and any(fault.shows_in(line) for line in told.splitlines())
        return Ended(
            os.waitstatus_to_exitcode(status),
            out.read_text(errors="replace"),
            err.read_text(errors="replace"),
            came,
        )


def _command(scene: Scene, place: Path, waits: int, ready: int, out: Path, err: Path) -> None:
    """The forked process: get ready and say so, wait until strace is there, run the command, end."""
    code = 70
    try:
        os.chdir(place)
        for path, number in ((out, 1), (err, 2)):
            os.dup2(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600), number)
        # Whoever runs this may have put something of its own in the place of the streams.
        sys.stdout, sys.stderr = (os.fdopen(number, "w", encoding="utf-8", closefd=False) for number in (1, 2))
        if scene.plain:
            as_everyone()
        os.write(ready, b"!")
        select.select([waits], [], [])
        app([*scene.command], prog_name="cutmarks")
    except SystemExit as ending:
        code = ending.code if isinstance(ending.code, int) else 0
    except BaseException as error:
        os.write(2, f"escaped: {error!r}".encode())
    finally:
        sys.stdout.flush()
        sys.stderr.flush()
        os._exit(code)


def as_everyone() -> None:
    """Give up, in this process, what lets root read and write where modes forbid it (capset(2), version 3)."""
    libc = ctypes.CDLL(None, use_errno=True)
    header = (ctypes.c_uint32 * 2)(0x20080522, 0)
    data = (ctypes.c_uint32 * 6)()
    if libc.capget(header, data):
        raise OSError(ctypes.get_errno(), "capget")
    for part in range(3):
        data[part] &= ~OVERRIDES
    if libc.capset(header, data):
        raise OSError(ctypes.get_errno(), "capset")


def _attached(process: int, log: Path, traced: Iterable[str], options: Iterable[str]) -> subprocess.Popen[bytes]:
    command = ["strace", "-f", "-y", "-o", str(log), "-e", f"trace={','.join(dict.fromkeys(traced))}"]
    for option in options:
        command += ["-e", option]
    tracer = subprocess.Popen([*command, "-p", str(process)], stderr=subprocess.PIPE)
    assert tracer.stderr is not None
    said = tracer.stderr.readline()
    if b"attached" not in said:
        os.kill(process, signal.SIGKILL)
        raise RuntimeError(f"strace does not attach: {said.decode().strip()}")
    return tracer


def calls_of(scene: Scene, template: Path) -> list[Call]:
    """Every call of an undisturbed run of the scene that touches its folder, in order."""
    with placed(template) as place, tempfile.NamedTemporaryFile(prefix="faults.") as record:
        run(scene, place, record=Path(record.name))
        counts: dict[str, int] = {}
        found = []
        for line in Path(record.name).read_text(errors="replace").splitlines():
            began = re.match(r"\d+ +(\w+)\((.*)", line)
            if began is None:
                continue
            name = began[1]
            counts[name] = counts.get(name, 0) + 1
            # By a full path, or by one that is relative to the scene's folder.
            touches = str(place) in line or (name in CHANGED and "AT_FDCWD" in line)
            if touches and not any(apart in line for apart in scene.apart):
                found.append(Call(name, counts[name], line.replace(str(place), "PLACE")))
    return found


def faults_of(scene: Scene, calls: Iterable[Call]) -> list[Fault]:
    """All that can be done at these calls, but at those that always fail in this scene."""
    failing = {call.split(":")[0] for call in scene.always}
    return [Fault(call, what) for call in calls if call.name not in failing for what in (*ERRORS[call.name], *SIGNALS)]


@contextmanager
def placed(template: Path) -> Iterator[Path]:
    """A copy of a scene's folder, always under the same path, as the run that was recorded had it."""
    place = template.with_name(f"{template.name}.run")
    _remove(place)
    shutil.copytree(template, place, symlinks=True)
    try:
        yield place
    finally:
        _remove(place)


def _remove(place: Path) -> None:
    if place.exists():
        shutil.rmtree(place)


REPEATED = 2
"""So often the same fault comes again where the first left something beside: what it leaves must not grow."""


def tried(scene: Scene, template: Path, fault: Fault) -> str:
    """Let a fault come to a scene; "" where all holds, else what does not."""
    with placed(template) as place:
        before = sorted(os.listdir(place))
        ended = run(scene, place, fault=fault)
        try:
            assert ended.injected, "the fault did not come to the run"
            assert ended.code != 4, f"a fault of cutmarks itself: {ended.err}"
            assert "escaped" not in ended.err, ended.err
            scene.after(place, ended)
            stands = sorted(os.listdir(place))
            if stands != before and ended.code not in (0, 1):
                for _ in range(REPEATED):
                    assert run(scene, place, fault=fault).code != 4, "a fault of cutmarks itself, the second time"
                grown = sorted(os.listdir(place))
                assert len(grown) <= len(stands) + 1, f"what is left grows: {stands}, then {grown}"
            scene.mended(place, run(scene, place))
        except AssertionError as error:
            told = str(error).splitlines()
            return f"{scene.name}: {fault.injection}: {' '.join(told[:3])}\n    at {fault.call.line[:160]}"
    return ""


def campaign(scenes: Sequence[Scene], cases: int | None, seed: int) -> int:
    """Every fault of every scene, or so many of them taken by lot; how many did not hold. Prints what it does."""
    failed = 0
    sys.dont_write_bytecode = True
    for scene in scenes:
        with tempfile.TemporaryDirectory(prefix="faults.") as folder:
            template = Path(os.path.realpath(folder)) / "scene"
            template.mkdir()
            scene.prepare(template)
            with placed(template) as place:
                run(scene, place)
            calls = calls_of(scene, template)
            faults = faults_of(scene, calls)
            drawn = faults if cases is None else random.Random(seed).sample(faults, min(cases, len(faults)))
            said = [sentence for fault in drawn if (sentence := tried(scene, template, fault))]
            failed += len(said)
            print(f"{scene.name}: {len(calls)} calls, {len(drawn)} of {len(faults)} faults, {len(said)} do not hold")
            for sentence in said:
                print(f"  {sentence}")
            sys.stdout.flush()
    return failed
