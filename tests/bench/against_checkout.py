"""Benchmark: what a `make` of the examples costs in one checkout against another, in one run.

    python -m tests.bench.against_checkout BEFORE AFTER

Each checkout has a process of its own in which everything is imported and every example was made once; the two then
take turns, each time with all examples of BEFORE, so that whatever else the machine does falls on both alike. Processor
time; the quickest round of each counts. Prints the ratio beside its bound, and exits 1 where it is over it; 2 where a
checkout could not be run.
"""

from __future__ import annotations

import argparse
import contextlib
import io
import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROUNDS = 7
BOUND = 0.6


def examples_of(checkout: Path) -> list[Path]:
    """Its example jobs."""
    return sorted(path for path in checkout.glob("examples/*/*.yaml") if path.stem == path.parent.name)


def serve(jobs: list[Path]) -> None:
    """Make all jobs for each line that comes in, and answer with the processor time that it took, s."""
    from cutmarks.cli.app import app

    for _ in sys.stdin:
        with tempfile.TemporaryDirectory() as folder, contextlib.redirect_stdout(io.StringIO()):
            begun = time.process_time()
            for number, job in enumerate(jobs):
                app(["make", str(job), "--out", f"{folder}/{number}"], prog_name="cutmarks", standalone_mode=False)
            took = time.process_time() - begun
        print(took, flush=True)


class Server:
    """One checkout that makes the jobs when it is asked."""

    def __init__(self, checkout: Path, jobs: list[Path]) -> None:
        """Begin the process."""
        environment = {**os.environ, "PYTHONPATH": str(checkout.resolve())}
        own = [sys.executable, "-P", str(Path(__file__).resolve()), "--serve", *map(str, jobs)]
        self._process = subprocess.Popen(
            own, env=environment, cwd=checkout, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
        )

    def seconds(self) -> float:
        """What one round took, s. Raises OSError or ValueError where the checkout cannot be run."""
        assert self._process.stdin is not None
        assert self._process.stdout is not None
        self._process.stdin.write("\n")
        self._process.stdin.flush()
        return float(self._process.stdout.readline())

    def close(self) -> None:
        """End the process."""
        if self._process.stdin is not None:
            with contextlib.suppress(OSError):
                self._process.stdin.close()
        self._process.wait()


def judged(before: list[float], after: list[float], bound: float) -> bool:
    """Print the ratio of the quickest rounds; whether it is within the bound."""
    ratio = min(after) / min(before)
    verdict = "holds" if ratio <= bound else "TOO MUCH"
    print(
        f"make of the examples: {min(before):.3f} -> {min(after):.3f} s, ratio {ratio:.2f} (at most {bound}) {verdict}"
    )
    return ratio <= bound


def main() -> int:
    """Let both checkouts take turns; 0 where the ratio holds."""
    if sys.argv[1:2] == ["--serve"]:
        serve([Path(name) for name in sys.argv[2:]])
        return 0
    options = argparse.ArgumentParser(description="What a make costs in one checkout against another.")
    options.add_argument("before", type=Path, metavar="BEFORE")
    options.add_argument("after", type=Path, metavar="AFTER")
    options.add_argument("--rounds", type=int, default=ROUNDS)
    options.add_argument("--bound", type=float, default=BOUND)
    asked = options.parse_args()
    jobs = [path.resolve() for path in examples_of(asked.before)]
    servers = [Server(checkout, jobs) for checkout in (asked.before, asked.after)]
    try:
        for server in servers:
            server.seconds()  # Everything is imported, every glyph known.
        rounds = [[server.seconds() for server in servers] for _ in range(asked.rounds)]
    except (OSError, ValueError):
        print("a checkout could not be run: its own words stand above")
        return 2
    finally:
        for server in servers:
            server.close()
    for one, two in rounds:
        print(f"  {one:.3f}  {two:.3f}")
    before, after = (list(column) for column in zip(*rounds, strict=True))
    return 0 if judged(before, after, asked.bound) else 1


if __name__ == "__main__":
    sys.exit(main())
