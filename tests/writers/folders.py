"""Small outputs to publish, what stands in a folder, and processes of their own that can be killed."""

from __future__ import annotations

import hashlib
import json
import os
import re
import signal
import sys
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path
from typing import Any

import pytest

from cutmarks.errors import OutputError
from cutmarks.plan.model import Progress
from cutmarks.writers.disk import Digest
from cutmarks.writers.folder import Published
from cutmarks.writers.folder import publish as publish_contents
from cutmarks.writers.folder_record import Whose
from cutmarks.writers.plan_json import PLAN_FILE, to_json
from tests.writers.plans import cut_piece, plan_of

JOB, SURFACES = "Quay Cottage", ("wall",)
OVER = 3
"""How a process ends whose run was over before it was disturbed."""
needs_fork = pytest.mark.skipif(not hasattr(os, "fork"), reason="this system cannot fork")
not_root = pytest.mark.skipif(getattr(os, "geteuid", lambda: 1)() == 0, reason="root may write anywhere")


Content = bytes | Callable[[], bytes]
"""A file's bytes, or what makes them when its turn comes."""


def publish(
    out: Path,
    job: str | Whose,
    files: Mapping[str, Content],
    progress: Progress | None = None,
    *,
    replace: bool = False,
) -> Published:
    """Publish files by their names, each made when its turn comes; plan.json then says how the others were written."""

    def one_by_one(digests: Mapping[str, Digest]) -> Iterator[tuple[str, bytes]]:
        for name, content in files.items():
            made = content if isinstance(content, bytes) else content()
            yield name, relisted(made, digests) if name == PLAN_FILE else made

    whose = Whose(job, None, SURFACES) if isinstance(job, str) else job
    return publish_contents(out, whose, [*files], one_by_one, replace=replace, progress=progress)


def relisted(plan: bytes, digests: Mapping[str, Digest]) -> bytes:
    """A plan.json with these digests, sealed: its last line but one has the SHA-256 of every byte before that line."""
    listed = {name: {"size": one.size, "sha256": one.sha256} for name, one in sorted(digests.items())}
    line = b'"digests": ' + json.dumps(listed).encode() + b","
    body = re.sub(rb'(?m)^"digests": .*$', lambda _: line, plan)
    body = body[: body.index(b'"seal": ')]
    return body + b'"seal": "' + hashlib.sha256(body).hexdigest().encode() + b'"\n}\n'


def listed(files: Mapping[str, bytes]) -> dict[str, bytes]:
    """The files with a plan.json that says how these very ones were written."""
    others = {name: data for name, data in files.items() if name != PLAN_FILE}
    digests = {name: Digest(len(data), hashlib.sha256(data).hexdigest()) for name, data in others.items()}
    return {**files, PLAN_FILE: relisted(files[PLAN_FILE], digests)}


def output(
    version: str, *, job: str = JOB, names: tuple[str, ...] = ("holes.csv", "sheets/splash_3-07_face_1.svg")
) -> dict[str, bytes]:
    """A small output: every file holds its version, plan.json the lists of them."""
    files = {name: f"{version} {name}".encode() for name in names}
    plan = plan_of(cut_piece("splash 3-7", 248, 398, fingerprint=version), job=job)
    return listed({**files, PLAN_FILE: to_json(plan, [*files, PLAN_FILE])})


QUAY = Whose(JOB, None, SURFACES)
OLD = output("aaaaaaaa", names=("holes.csv", "sheets/splash_3-07_face_1.svg", "dxf/splash_3-07_face_mm.dxf"))
NEW = output("bbbbbbbb")
"""The new output has one file and one folder fewer."""


def contents(folder: Path) -> dict[str, bytes]:
    """Every file below a folder; links and empty folders are said as such."""
    found: dict[str, bytes] = {}
    for path in sorted(folder.rglob("*")):
        name = path.relative_to(folder).as_posix()
        if path.is_symlink():
            found[name] = b"link to " + os.readlink(path).encode()
        elif path.is_file():
            found[name] = path.read_bytes()
        elif not any(path.iterdir()):
            found[name] = b"empty folder"
    return found


def refused(out: Path, files: Any = None, job: str = JOB) -> str:
    """The sentence with which an output is refused; nothing in or beside the folder has changed by it."""
    before = contents(out.parent) if out.parent.is_dir() else {}
    with pytest.raises(OutputError) as caught:
        publish(out, job, NEW if files is None else files)
    assert (contents(out.parent) if out.parent.is_dir() else {}) == before
    return str(caught.value)


def with_own_files(out: Path) -> dict[str, bytes]:
    """An earlier output with the user's own files in it, and what these are."""
    publish(out, JOB, OLD)
    (out / "notes.txt").write_text("measured twice")
    (out / "sheets" / "marked.svg").write_text("by hand")
    (out / "photos" / "wall").mkdir(parents=True)
    (out / "photos" / "wall" / "1.jpg").write_bytes(b"\xff\xd8")
    (out / "photos" / "later").mkdir()
    (out / "latest").symlink_to("../elsewhere")
    mine = contents(out)
    for name in OLD:
        del mine[name]
    return mine


def child(run: Callable[[], object]) -> int:
    """Run something in a process of its own; returns how it ended, as os.waitpid says it."""
    return os.waitpid(start(run), 0)[1]


def start(run: Callable[[], object]) -> int:
    """Run something in a process of its own; returns its number."""
    process = os.fork()
    if process == 0:
        code = 1
        try:
            run()
            code = 0
        finally:
            os._exit(code)
    return process


def killed_at(step: int, run: Callable[[], object]) -> Callable[[], None]:
    """`run`, killed just before its `step`-th call to the operating system that touches the disk."""
    return disturbed_at(step, lambda: os.kill(os.getpid(), signal.SIGKILL), run)


def disturbed_at(step: int, disturb: Callable[[], None], run: Callable[[], object]) -> Callable[[], None]:
    """`run`, with something else done just before its `step`-th call to the operating system that touches the disk.

    What `disturb` raises, that call raises. It ends with code 3 where the run was over before.
    """

    def disturbed() -> None:
        left = step

        def watch(event: str, _: tuple[object, ...]) -> None:
            nonlocal left
            if event == "open" or event.startswith("os."):
                left -= 1
                if left == 0:
                    disturb()

        sys.addaudithook(watch)
        run()
        if left > 0:
            os._exit(OVER)

    return disturbed
