"""The limits that the rules look at; the table and its sources stand with the job, which may set its own."""

from __future__ import annotations

from cutmarks.job.limits import COMMON, LIMITS, Limit, Limits

__all__ = ["COMMON", "LIMITS", "Limit", "Limits"]
