"""The fingerprint of a job: it changes when what was read changes, and never otherwise."""

from __future__ import annotations

from cutmarks.fingerprint import fingerprint_of
from cutmarks.job.models import Job


def fingerprint(job: Job) -> str:
    """The first 8 hex digits of the SHA-256 of the canonical JSON of what was read: job, lists and tools.

    Remarks, the order of keys, blanks and quotation marks do not count.
    """
    return fingerprint_of(job.read)
