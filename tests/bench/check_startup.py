"""How long `cutmarks check` takes to say something, against a process that only loads its three libraries.

    python -m tests.bench.check_startup [JOB]

The two are run in turn in one go, so that a busy machine slows both, and the quickest run of each counts: the ratio
must be at most 2.5, and the check must not have loaded any file library or referee. Ends with 1 where it does not hold.

pydantic loads itself when a first model is defined; `import pydantic` alone loads nearly nothing. So the process that
is compared with defines one. The ratio to the bare imports is printed beside it.
"""

from __future__ import annotations

import subprocess
import sys
import time
from pathlib import Path

REPOSITORY = Path(__file__).resolve().parents[2]
RUNS = 15
MOST = 2.5
"""The check may take this many times what loading the libraries takes."""
BARE = "import pydantic, ruamel.yaml, click"
LOADED_LIBRARIES = f"{BARE}\nclass Empty(pydantic.BaseModel):\n    size: int"
NEVER = ("ezdxf", "lxml", "cairosvg", "cairocffi", "pikepdf", "fontTools", "shapely", "scipy", "numpy")
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
    """How long Python takes with these arguments, from start to end."""
    begun = time.perf_counter()
    subprocess.run([sys.executable, *arguments], stdout=subprocess.DEVNULL, check=False)
    return time.perf_counter() - begun


def quickest(job: Path, runs: int = RUNS) -> dict[str, float]:
    """The quickest of `runs` of a check of `job`, of its libraries loaded, and of their bare imports, seconds."""
    commands = {
        "check": ("-m", "cutmarks", "check", str(job)),
        "libraries": ("-c", LOADED_LIBRARIES),
        "bare": ("-c", BARE),
    }
    best = dict.fromkeys(commands, float("inf"))
    for _ in range(runs):
        for name, arguments in commands.items():
            best[name] = min(best[name], seconds(*arguments))
    return best


def main() -> int:
    """Measure, print, and say whether it holds."""
    job = Path(sys.argv[1]) if len(sys.argv) > 1 else first_example()
    vain = loaded_in_vain(job)
    best = quickest(job)
    times = best["check"] / best["libraries"]
    print(f"cutmarks check {job.name}: {best['check'] * 1000:.0f} ms")
    print(f"  its libraries loaded: {best['libraries'] * 1000:.0f} ms; {times:.2f} times, at most {MOST}")
    print(f"  their bare imports: {best['bare'] * 1000:.0f} ms; {best['check'] / best['bare']:.2f} times")
    print(f"  loaded in vain: {', '.join(vain) or 'nothing'}")
    return 0 if times <= MOST and not vain else 1


if __name__ == "__main__":
    sys.exit(main())
