"""How long `cutmarks check` takes to say something, against a process that only imports its three libraries.

    python -m tests.bench.check_startup [JOB]

The two are run in turn in one go, so that a busy machine slows both; the ratio of their medians must be at most 2.5,
and the check must not have loaded any file library or referee. Ends with 1 where it does not hold.
"""

from __future__ import annotations

import statistics
import subprocess
import sys
import time
from pathlib import Path

RUNS = 15
MOST = 2.5
"""The check may take this many times what the imports alone take."""
LIBRARIES = "import pydantic, ruamel.yaml, click"
NEVER = ("ezdxf", "svgwrite", "cairosvg", "cairocffi", "pikepdf", "fontTools", "shapely", "scipy", "numpy")
"""What `cutmarks check` must not load: it writes no file, and the referees are for tests."""
LOADED = f"""
import sys
from cutmarks.cli.app import app
try:
    app(["check", sys.argv[1]], prog_name="cutmarks")
finally:
    print(*(name for name in {NEVER!r} if name in sys.modules), file=sys.stderr)
"""


def first_example() -> Path:
    """The first of the examples, by name."""
    folder = Path(__file__).resolve().parents[2] / "examples"
    return min(path for path in folder.glob("*/*.yaml") if path.name != "tools.yaml")


def loaded_in_vain(job: Path) -> list[str]:
    """The libraries of NEVER that a check of `job` has loaded."""
    ran = subprocess.run([sys.executable, "-c", LOADED, str(job)], capture_output=True, text=True, check=False)
    if ran.returncode not in (0, 1):
        raise RuntimeError(f"cutmarks check {job} ended with {ran.returncode}: {ran.stderr}")
    return ran.stderr.split()


def seconds(*arguments: str) -> float:
    """How long Python takes with these arguments, from start to end."""
    begun = time.perf_counter()
    subprocess.run([sys.executable, *arguments], stdout=subprocess.DEVNULL, check=False)
    return time.perf_counter() - begun


def ratio(job: Path, runs: int = RUNS) -> tuple[float, float, float]:
    """The ratio of the medians, then the medians themselves: of the check and of the imports, seconds."""
    checks, imports = [], []
    for _ in range(runs + 1):
        imports.append(seconds("-c", LIBRARIES))
        checks.append(seconds("-m", "cutmarks", "check", str(job)))
    # The first run of each fills the disk's cache and the compiled files.
    check, libraries = statistics.median(checks[1:]), statistics.median(imports[1:])
    return check / libraries, check, libraries


def main() -> int:
    """Measure, print, and say whether it holds."""
    job = Path(sys.argv[1]) if len(sys.argv) > 1 else first_example()
    vain = loaded_in_vain(job)
    times, check, libraries = ratio(job)
    print(f"cutmarks check {job.name}: {check * 1000:.0f} ms, {times:.2f} times the imports' {libraries * 1000:.0f} ms")
    print(f"loaded in vain: {', '.join(vain) or 'nothing'}")
    return 0 if times <= MOST and not vain else 1


if __name__ == "__main__":
    sys.exit(main())
