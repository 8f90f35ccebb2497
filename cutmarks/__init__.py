"""cutmarks: from what a tiler measured to which tile each pipe lands on, where on it, and what is cut there.

The whole way in three steps, the same that the commands take:

    from pathlib import Path
    from cutmarks import load_job, make_plan, write_job

    plan = make_plan(load_job(Path("laundry.yaml")))
    write_job(plan, Path("laundry"))

`load_job` raises `JobError` with all faults at once; `write_job` raises `OutputError` and then has written nothing.
Lengths are millimetres, angles degrees, y up; the frame of every point stands in its type.
"""

from __future__ import annotations

import importlib
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from cutmarks.errors import CutmarksError, GeometryError, JobError, OutputError
    from cutmarks.job import Job, build_job, load_job, parse_job
    from cutmarks.plan import Plan, make_plan
    from cutmarks.writers.pack import Written, write_job

__version__ = "0.1.0"

__all__ = [
    "CutmarksError",
    "GeometryError",
    "Job",
    "JobError",
    "OutputError",
    "Plan",
    "Written",
    "__version__",
    "build_job",
    "load_job",
    "make_plan",
    "parse_job",
    "write_job",
]

_HOME = {
    "CutmarksError": "cutmarks.errors",
    "GeometryError": "cutmarks.errors",
    "Job": "cutmarks.job",
    "JobError": "cutmarks.errors",
    "OutputError": "cutmarks.errors",
    "Plan": "cutmarks.plan",
    "Written": "cutmarks.writers.pack",
    "build_job": "cutmarks.job",
    "load_job": "cutmarks.job",
    "make_plan": "cutmarks.plan",
    "parse_job": "cutmarks.job",
    "write_job": "cutmarks.writers.pack",
}
"""Where each public name lives. It is fetched when it is asked for: who only plans does not wait for the writers."""


def __getattr__(name: str) -> object:
    if name not in _HOME:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    value: object = getattr(importlib.import_module(_HOME[name]), name)
    globals()[name] = value
    return value
