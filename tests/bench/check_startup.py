"""What `cutmarks check` costs as a whole process, against one that only loads its two libraries.

    python -m tests.bench.check_startup [JOB]

The two are run in turn in one go, by processor time, so that a busy machine slows both, and the least of each counts:
the ratio must be at most 5, and the check must not have loaded any file library, pydantic or a referee. Ends with 1
where it does not hold.
"""

from __future__ import annotations

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


def loaded_in_vain(job: Path) -> list[str]:
    """The libraries of NEVER that a check of `job` has loaded."""
    command = [sys.executable, "-c", NAMES_LOADED, str(job.resolve())]
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
    """Measure, print, and say whether it holds."""
    job = Path(sys.argv[1]) if len(sys.argv) > 1 else first_example()
    vain = loaded_in_vain(job)
    turns = [(seconds("-m", "cutmarks", "check", str(job)), seconds("-c", LIBRARIES)) for _ in range(RUNS)]
    check, libraries = map(min, zip(*turns, strict=True))
    print(f"cutmarks check {job.name}: {check * 1000:.0f} ms of processor time")
    print(f"  its libraries loaded: {libraries * 1000:.0f} ms; {check / libraries:.2f} times, at most {MOST:g}")
    print(f"  loaded in vain: {', '.join(vain) or 'nothing'}")
    return 0 if check / libraries <= MOST and not vain else 1


if __name__ == "__main__":
    sys.exit(main())
