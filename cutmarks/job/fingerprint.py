"""The fingerprint of a job: it changes when what was read changes, and never otherwise."""

from __future__ import annotations

from collections.abc import Mapping

from cutmarks.fingerprint import fingerprint_of
from cutmarks.job.models import Job


def fingerprint(job: Job, calibration: Mapping[str, object] | None = None) -> str:
    """The first 8 hex digits of the SHA-256 of the canonical JSON of what was read: job, lists and tools.

    Remarks, the order of keys, blanks and quotation marks do not count; the printer's calibration does, where the
    sheets are corrected by one.
    """
    return fingerprint_of(job.read if calibration is None else {**job.read, "calibration": calibration})
