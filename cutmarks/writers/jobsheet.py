"""The job sheet as a PDF."""

from __future__ import annotations

from collections.abc import Mapping

from cutmarks.plan import Plan
from cutmarks.sheets.jobsheet import jobsheet_pages
from cutmarks.writers.pdf import pdf_bytes


def job_sheet_pdf(plan: Plan, sheets: Mapping[str, str] | None = None) -> bytes:
    """The job sheet of a plan; the same bytes for the same plan. `sheets`: see `jobsheet_pages`."""
    return pdf_bytes(jobsheet_pages(plan, sheets), f"{plan.job}: job sheet")
