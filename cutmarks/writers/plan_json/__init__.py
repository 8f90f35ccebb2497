"""plan.json: all that was worked out, for other programs."""

from cutmarks.writers.plan_json.models import PLAN_FILE, Index, PlanJson
from cutmarks.writers.plan_json.reading import files_listed, published_schema, read_index, read_plan, schema_json
from cutmarks.writers.plan_json.writing import to_json, write_json

__all__ = [
    "PLAN_FILE",
    "Index",
    "PlanJson",
    "files_listed",
    "published_schema",
    "read_index",
    "read_plan",
    "schema_json",
    "to_json",
    "write_json",
]
