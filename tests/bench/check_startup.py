"""What `cutmarks check` costs as a whole process, against one that only loads its two libraries.

    python -m tests.bench.check_startup [JOB]
    python -m tests.bench.check_startup --faults    # with what writes files loaded by a check: both bars must fail

The two are run in turn in one go, by processor time, so that a busy machine slows both, and the least of each counts:
the ratio must be at most 5, and the check must not have loaded any file library, pydantic or a referee. Ends with 1
where it does not hold; with --faults, where one of the two holds all the same.
"""

from __future__ import annotations

import argparse
import resource
import subprocess
import sys
from pathlib import Path

REPOSITORY = Path(__file__).resolve().parents[2]
RUNS = 15
MOST = 5.0
"""The check may take this many times what loading the libraries takes."""
LIBRARIES = "import ruamel.yaml, click"
NEVER = ("pydantic", "ezdxf", "lxml", "cairosvg", "cairocffi", "pikepdf", "fontTools", "shapely", "scipy", "numpy")
"""What `cutmarks check` must not load: it writes no file, and the referees are for tests."""
CHECK = """
from cutmarks.cli import main
main()
"""
FAULT = "import cutmarks.writers.pack\n"
"""What writes files is loaded before a check begins."""
NAMES_LOADED = f"""
import sys
from cutmarks.cli.app import app
try:
    app(["check", sys.argv[1]], prog_name="cutmarks")
finally:
    print(*(name for name in {NEVER!r} if name in sys.modules), file=sys.stderr)
"""


def first_example() -> Path:
    """The first of the examples, by name."""
    return min(path for path in (REPOSITORY / "examples").glob("*/*.yaml") if path.name != "tools.yaml")


def loaded_in_vain(job: Path, fault: str = "") -> list[str]:
    """The libraries of NEVER that a check of `job` has loaded."""
    command = [sys.executable, "-c", fault + NAMES_LOADED, str(job.resolve())]
    ran = subprocess.run(command, capture_output=True, text=True, check=False, cwd=REPOSITORY)
    if ran.returncode not in (0, 1):
        raise RuntimeError(f"cutmarks check {job} ended with {ran.returncode}: {ran.stderr}")
    return ran.stderr.split()


def seconds(*arguments: str) -> float:
    """The processor time that Python takes with these arguments, from start to end."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    subprocess.run([sys.executable, *arguments], stdout=subprocess.DEVNULL, check=False)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def main() -> int:
    """Measure, print, and say whether it holds; with a fault, whether both bars see it."""
    options = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    options.add_argument("job", type=Path, nargs="?", default=first_example())
    options.add_argument("--faults", action="store_true", help="load what writes files: both bars must fail")
    asked = options.parse_args()
    fault = FAULT if asked.faults else ""
    vain = loaded_in_vain(asked.job, fault)
    turns = [(seconds("-c", fault + CHECK, "check", str(asked.job)), seconds("-c", LIBRARIES)) for _ in range(RUNS)]
    check, libraries = map(min, zip(*turns, strict=True))
    print(f"cutmarks check {asked.job.name}: {check * 1000:.0f} ms of processor time")
    print(f"  its libraries loaded: {libraries * 1000:.0f} ms; {check / libraries:.2f} times, at most {MOST:g}")
    print(f"  loaded in vain: {', '.join(vain) or 'nothing'}")
    bars = [check / libraries <= MOST, not vain]
    return 0 if (not any(bars) if asked.faults else all(bars)) else 1


if __name__ == "__main__":
    sys.exit(main())
