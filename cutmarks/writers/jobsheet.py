"""The job sheet as a PDF."""

from __future__ import annotations

from collections.abc import Mapping
from typing import BinaryIO

from cutmarks.plan import Plan
from cutmarks.sheets.jobsheet import jobsheet_pages
from cutmarks.writers.pdf import Pages


def write_job_sheet(plan: Plan, sheets: Mapping[str, str], out: BinaryIO) -> None:
    """Write the job sheet of a plan; the same bytes for the same plan. `sheets`: see `jobsheet_pages`."""
    pages = Pages(f"{plan.job}: job sheet")
    pages.add_series(jobsheet_pages(plan, sheets))
    pages.save(out)
