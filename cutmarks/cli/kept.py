"""The answers to the questions of cutmarks new, kept in a file beside the job until that is written.

One answer a line, behind the label of its question. It is kept at every answer, so that whatever ends the command, a
key, a closed terminal or a power cut, loses none.
"""

from __future__ import annotations

from pathlib import Path

from cutmarks.cli.ending import note_kept
from cutmarks.cli.terminal import tell
from cutmarks.errors import Fault, JobError, OutputError
from cutmarks.job.reading import read_file, stands

HEAD = "# Answers to cutmarks new: the same command goes on behind them. Each stands behind its question."
SUFFIX = ".answers"
MOST_BYTES = 1_000_000
Answer = tuple[str, str]
"""The label of a question, and what was answered."""


class KeptAnswers:
    """The file of answers of one job; where it cannot be written that is said once, and the questions go on."""

    def __init__(self, target: Path) -> None:
        self.path = target.with_name(target.name + SUFFIX)
        self.is_kept = True
        self._holds: bytes | None = None

    def taken_up(self) -> list[Answer]:
        """The answers of an earlier run; none where there was none.

        Raises:
            JobError, OutputError: a file of that name is no file of answers, or cannot be read.
        """
        if not stands(self.path):
            return []
        content = read_file(self.path, MOST_BYTES, "file of answers")
        if isinstance(content, Fault):
            raise JobError([content])
        head, *lines = (line.removesuffix("\r") for line in content.split("\n"))
        if head != HEAD:
            raise OutputError(
                f"{self.path} is there already, and is no file of answers: give the job another name, or move that "
                "file away. Nothing was written."
            )
        self._now_holds(content)
        parted = [line.partition(":") for line in lines if line]
        return [(label, answer.removeprefix(" ")) for label, _, answer in parted]

    def keep(self, answers: list[Answer]) -> None:
        """Keep these answers, all that were taken so far."""
        from cutmarks.writers.found_file import put  # late: only what is asked for writes it

        content = "".join(f"{line}\n" for line in (HEAD, *(f"{label}: {answer}" for label, answer in answers)))
        try:
            put(self.path, self._holds, content.encode("utf-8"))
            self._now_holds(content)
        except OutputError as error:
            if self.is_kept:
                tell(f"{error} The questions go on, but an end before the last loses what follows.", err=True)
            self.is_kept = False

    def _now_holds(self, content: str) -> None:
        self._holds, self.is_kept = content.encode("utf-8"), True
        note_kept(
            f"the job is not written yet; your answers are kept in {self.path}, and the same command goes on there"
        )

    def remove(self) -> None:
        """Take the file away, once the job is written; what was changed by others in it stays."""
        from cutmarks.writers.found_file import holds

        if self._holds is not None and holds(self.path, self._holds):
            self.path.unlink(missing_ok=True)
