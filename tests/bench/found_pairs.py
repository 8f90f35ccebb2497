"""Campaign: two `cutmarks found` at once for one job, again and again: none of what they say may be lost.

    python -m tests.bench.found_pairs --pairs 200

Each pair is two processes, forked when all is imported, that are let go at the same moment; each says a note of its
own. At the end the file has to hold every note, once, the two of a pair side by side in either order, and nothing else
may lie in the folder. Exits 1 where one is missing or a run did not say "Kept".
"""

from __future__ import annotations

import argparse
import contextlib
import io
import os
import sys
import tempfile
from pathlib import Path

from cutmarks.cli.app import app
from cutmarks.cli.ending import Exit
from cutmarks.job.found_file import found_path, read_kept
from cutmarks.job.tree import plain
from tests.cli.conftest import W1

PIECE = "field 3-R2"


def run(folder: Path, pairs: int) -> list[str]:
    """What went wrong, in sentences; nothing where every note was kept."""
    warmed_up()
    job = folder / "w1.yaml"
    job.write_text(W1, encoding="utf-8")
    failures = []
    for pair in range(pairs):
        codes = _at_once(job, [f"note {pair} {one}" for one in "ab"])
        failures += [f"pair {pair}: a run ended with {code}" for code in codes if code != Exit.DONE]
    path = found_path(job)
    kept = read_kept(path.read_text(encoding="utf-8") if path.exists() else "", path.name)
    failures += [str(fault) for fault in kept.faults]
    notes = [plain(node)["note"] for _, node in kept.entries]  # type: ignore[index]
    for pair in range(pairs):
        if sorted(notes[2 * pair : 2 * pair + 2]) != [f"note {pair} a", f"note {pair} b"]:
            failures.append(f"pair {pair}: its place in the list holds {notes[2 * pair : 2 * pair + 2]}")
    if len(notes) != 2 * pairs:
        failures.append(f"{len(notes)} entries of {2 * pairs}")
    left = {one.name for one in folder.iterdir()} - {job.name, path.name}
    return failures + [f"{name} was left" for name in sorted(left)]


def warmed_up() -> None:
    """Run the command once each way in this process: what is forked from it has imported all that a run takes."""
    with tempfile.TemporaryDirectory(prefix="cutmarks-pairs-") as folder:
        job = Path(folder) / "w1.yaml"
        job.write_text(W1, encoding="utf-8")
        for way in (("--note", "x"), ("--take-back",)):
            with contextlib.redirect_stdout(io.StringIO()):
                app(["found", str(job), PIECE, *way], prog_name="cutmarks", standalone_mode=False)


def _at_once(job: Path, notes: list[str]) -> list[int]:
    """The exit codes of runs that are let go together, each with a note of its own."""
    hold, go = os.pipe()
    children = []
    for note in notes:
        child = os.fork()
        if child == 0:
            os.close(go)
            os.read(hold, 1)  # ends when the parent lets go
            os._exit(_found(job, note))
        children.append(child)
    os.close(go)
    os.close(hold)
    return [os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) for child in children]


def _found(job: Path, note: str) -> int:
    """One run in this process; its exit code."""
    with Path(os.devnull).open("w") as nowhere, contextlib.redirect_stdout(nowhere):
        try:
            app(["found", str(job), PIECE, "--note", note], prog_name="cutmarks")
        except SystemExit as ended:
            return int(ended.code or 0)
    return Exit.OWN_FAULT


def main() -> int:
    """Run the campaign as the command line says; 0 when nothing was lost."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench.found_pairs", description=__doc__.splitlines()[0])
    parser.add_argument("--pairs", type=int, default=200)
    pairs = parser.parse_args().pairs
    with tempfile.TemporaryDirectory(prefix="cutmarks-pairs-") as folder:
        failures = run(Path(folder), pairs)
    for failure in failures[:50]:
        sys.stdout.write(failure + "\n")
    sys.stdout.write(f"{pairs} pairs at once, {2 * pairs} entries wanted, {len(failures)} failures\n")
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
