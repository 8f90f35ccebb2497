"""What one checkout makes of given jobs: run as a program of its own, with that checkout alone on the path.

    python -P compare_maker.py CHECKOUT JOBS OUT

Every job file of every folder of JOBS is read, planned and written into a folder of OUT. A job that is refused leaves
its sentences in a file instead; one that breaks leaves the error. Nothing else of this tree is imported: the checkout
may be an older one.
"""

import sys
from pathlib import Path

REFUSED, BROKEN = ".refused", ".broken"
"""Endings of the files that stand in place of an output."""


def make(job: Path, out: Path) -> None:
    """Write the output of one job file into `out`, or why there is none beside it."""
    from cutmarks.errors import JobError, OutputError
    from cutmarks.job import load_job
    from cutmarks.plan import make_plan
    from cutmarks.writers.pack import write_job

    try:
        write_job(make_plan(load_job(job)), out)
    except (JobError, OutputError) as error:
        out.with_suffix(REFUSED).write_text(str(error), encoding="utf-8")
    except Exception as error:
        out.with_suffix(BROKEN).write_text(f"{type(error).__name__}: {error}", encoding="utf-8")


def main() -> int:
    """Make every job; 2 where another checkout's package was imported."""
    checkout, jobs, out = (Path(given).resolve() for given in sys.argv[1:])
    import cutmarks

    if not Path(cutmarks.__file__).resolve().is_relative_to(checkout):
        print(f"{cutmarks.__file__} was imported, not the package of {checkout}", file=sys.stderr)
        return 2
    for folder in sorted(jobs.iterdir()):
        make(folder / f"{folder.name}.yaml", out / folder.name)
    return 0


if __name__ == "__main__":
    sys.exit(main())
