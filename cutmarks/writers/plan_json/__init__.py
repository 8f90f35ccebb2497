"""plan.json: all that was worked out, for other programs."""

from cutmarks.writers.plan_json.models import PLAN_FILE, Index, PlanJson
from cutmarks.writers.plan_json.reading import (
    digests_listed,
    files_listed,
    is_sealed,
    published_schema,
    read_index,
    read_plan,
    schema_json,
)
from cutmarks.writers.plan_json.writing import to_json, write_json

__all__ = [
    "PLAN_FILE",
    "Index",
    "PlanJson",
    "digests_listed",
    "files_listed",
    "is_sealed",
    "published_schema",
    "read_index",
    "read_plan",
    "schema_json",
    "to_json",
    "write_json",
]
