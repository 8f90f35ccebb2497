"""The job file: what the tiler wrote, read, checked and parsed; faults in sentences, all at once.

load_job(Path("laundry.yaml"))   -> Job, or JobError with every fault
parse_job(text)                  -> the same from a text
build_job({"job": "W1", ...})    -> the same from a program's own values
"""

from cutmarks.job.fingerprint import fingerprint
from cutmarks.job.grammar import parse_bare, parse_place, parse_reading, parse_spot
from cutmarks.job.laying import parse_bond, parse_size
from cutmarks.job.load import build_job, load_job, parse_job
from cutmarks.job.models import Job
from cutmarks.job.words import Setting

__all__ = [
    "Job",
    "Setting",
    "build_job",
    "fingerprint",
    "load_job",
    "parse_bare",
    "parse_bond",
    "parse_job",
    "parse_place",
    "parse_reading",
    "parse_size",
    "parse_spot",
]
