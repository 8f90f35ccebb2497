"""A job that is being changed: every step is kept in a file beside it until it is saved, and none is lost unseen.

    .laundry.yaml.draft    {"cutmarks": "draft", "base": the digest of the file it began from, "at": 3, "steps": [...]}

The job's own file is written by `save` alone, and only while it still is what the draft began from. Who changed it
meanwhile is found out by its bytes; then nothing is written before it was said which of the two is to stand, and the
other stays one step back.
"""

from __future__ import annotations

import hashlib
import json
from pathlib import Path
from typing import Any

from msgspec import Struct

from cutmarks.desk.places import draft_of
from cutmarks.errors import OutputError
from cutmarks.job.reading import MOST_BYTES
from cutmarks.writers.found_file import holds, one_at_a_time, put, standing

MOST_STEPS = 100
MOST_KEPT = 8_000_000
"""So many steps back are kept, and so many characters of them."""
MOST_DRAFT = 40_000_000


class KeptStep(Struct, frozen=True):
    """A text that the job had, and what was changed to come to it."""

    label: str
    text: str


class OpenJob(Struct):
    """One job on the desk.

    steps    its texts, oldest first; at: which of them it is now.
    base     the bytes of the job's file that it began from, or was saved as last.
    outside  the file's bytes, where another program changed them and the draft has changes of its own.
    told     what is to be said once: that the file was changed and taken up.
    """

    path: Path
    base: bytes
    steps: list[KeptStep]
    at: int = 0
    outside: bytes | None = None
    told: str = ""
    _typed: str = ""
    _on_disk: bytes | None = None

    @property
    def text(self) -> str:
        """What the job says now."""
        return self.steps[self.at].text

    @property
    def is_saved(self) -> bool:
        """Whether the job's file says the same."""
        return self.text.encode() == self.base and self.outside is None

    @property
    def version(self) -> str:
        """Tells this text from any other."""
        return digest(self.text.encode())[:16]

    def state(self) -> dict[str, Any]:
        """What the page shows of it."""
        told, self.told = self.told, ""
        return {
            "version": self.version,
            "saved": self.is_saved,
            "undo": self.steps[self.at].label if self.at else "",
            "redo": self.steps[self.at + 1].label if self.at + 1 < len(self.steps) else "",
            "outside": self.outside is not None,
            "told": told,
        }

    def step(self, text: str, label: str, typed: str = "") -> None:
        """One more step; what is typed on in one field makes one step of it all."""
        if len(text.encode()) > MOST_BYTES:
            raise OutputError(f"This job is over {MOST_BYTES // 1_000_000} MB: nothing was changed.")
        if text == self.text:
            return
        del self.steps[self.at + 1 :]
        goes_on = bool(typed) and typed == self._typed and self.at > 0
        if goes_on:
            self.steps[self.at] = KeptStep(label, text)
        else:
            self.steps.append(KeptStep(label, text))
            self.at += 1
        self._typed = typed
        while len(self.steps) > MOST_STEPS or (
            len(self.steps) > 2 and sum(len(one.text) for one in self.steps) > MOST_KEPT
        ):
            del self.steps[0]
            self.at -= 1
        self._keep()

    def undo(self) -> None:
        """One step back."""
        self.at, self._typed = max(self.at - 1, 0), ""
        self._keep()

    def redo(self) -> None:
        """One step on again."""
        self.at, self._typed = min(self.at + 1, len(self.steps) - 1), ""
        self._keep()

    def look_at_file(self) -> None:
        """See whether another program changed the job's file; what it says now is taken up where nothing is unsaved."""
        now = _held(self.path)
        if now == self.base:
            self.outside = None
            return
        if self.text.encode() == self.base:
            self._take(now, "the file as another program saved it")
            self.told = f"{self.path.name} was changed by another program: this is what it says now."
        else:
            self.outside = now

    def save(self) -> str:
        """Write the job's file; a sentence where the disk does not confirm it.

        Raises:
            OutputError: another program changed it meanwhile, or the disk is in the way; nothing was written.
        """
        with one_at_a_time(self.path):
            self.look_at_file()
            if self.outside is not None:
                raise OutputError(
                    f"{self.path.name} was changed by another program meanwhile: say first which of the two is to "
                    "stand. Nothing was written."
                )
            content = self.text.encode()
            unsure = put(self.path, self.base, content) if content != self.base else ""
        self.base, self._typed = content, ""
        self._keep()
        return unsure

    def take_file(self) -> None:
        """Let the file stand as the other program saved it: what was here is one step back."""
        if self.outside is not None:
            self._take(self.outside, "the file as another program saved it")

    def keep_mine(self) -> None:
        """Let what is here stand: what the other program saved is one step back, and is written over by `save`."""
        if self.outside is not None:
            mine = self.steps[self.at]
            self._take(self.outside, "the file as another program saved it")
            self.step(mine.text, mine.label or "what was here")

    def _take(self, content: bytes, label: str) -> None:
        text = decoded(content, self.path.name)
        self.base, self.outside = content, None
        self.step(text, label)
        self._keep()

    def _keep(self) -> None:
        """Put the steps beside the job; where all is saved, nothing is left there."""
        draft = draft_of(self.path)
        if self.is_saved:
            if self._on_disk is not None and holds(draft, self._on_disk):
                draft.unlink(missing_ok=True)
            self._on_disk = None
            return
        steps = [[one.label, one.text] for one in self.steps]
        kept = {"cutmarks": "draft", "base": digest(self.base), "at": self.at, "steps": steps}
        content = json.dumps(kept, ensure_ascii=False).encode()
        put(draft, self._on_disk, content)
        self._on_disk = content


def opened(path: Path) -> OpenJob:
    """A job with what was kept of it beside it.

    Raises:
        OutputError: its file, or the draft, is no file that can be read.
    """
    base = _held(path)
    job = OpenJob(path, base, [KeptStep("", decoded(base, path.name))])
    draft = draft_of(path)
    content = standing(draft, MOST_DRAFT)
    if content is None:
        return job
    began, steps, at = _read(content, draft)
    job.steps, job.at, job._on_disk = steps, at, content
    if began == digest(base):
        job.told = "" if job.is_saved else "What was not saved yet is still here."
    elif job.text.encode() != base:
        job.outside, job.base = base, b""
    job._keep()
    return job


def _read(content: bytes, draft: Path) -> tuple[str, list[KeptStep], int]:
    try:
        kept = json.loads(content)
        steps = [KeptStep(str(label), str(text)) for label, text in kept["steps"]]
        began, at = str(kept["base"]), int(kept["at"])
        if kept["cutmarks"] != "draft" or not 0 <= at < len(steps) or len(steps) > MOST_STEPS:
            raise ValueError
        for one in steps:
            one.text.encode()
    except (ValueError, KeyError, TypeError, RecursionError) as error:
        raise OutputError(
            f"{draft.name} lies beside the job and is no draft of cutmarks: look at it, and move it away."
        ) from error
    return began, steps, at


def digest(content: bytes) -> str:
    """SHA-256 in hex."""
    return hashlib.sha256(content).hexdigest()


def decoded(content: bytes, name: str) -> str:
    """A file's text. Raises OutputError: it is none, or too long."""
    if len(content) > MOST_BYTES:
        raise OutputError(f"{name} is over {MOST_BYTES // 1_000_000} MB, the most that is read.")
    try:
        return content.decode()
    except UnicodeDecodeError as error:
        raise OutputError(f"{name} is not in UTF-8: save it again as UTF-8 text.") from error


def _held(path: Path) -> bytes:
    content = standing(path, MOST_BYTES + 1)
    if content is None:
        raise OutputError(f"{path.name} is no plain file any more: put it back, or go back to all jobs.")
    return content
