"""plan.json read back, and the JSON Schema that says what may stand in it."""

from __future__ import annotations

import json
from collections.abc import Iterable
from importlib import resources
from typing import TypeVar

from pydantic import BaseModel, ValidationError

from cutmarks.errors import OutputError
from cutmarks.writers.plan_json.models import Index, PlanJson

FILES_LINE = b'"files": '
"""How the line with the list of files begins."""

M = TypeVar("M", bound=BaseModel)


def read_plan(data: bytes) -> PlanJson:
    """The file read back.

    Raises:
        OutputError: it is no plan.json of this schema; the sentence says where it differs first.
    """
    return _read(PlanJson, data)


def read_index(data: bytes) -> Index:
    """The little that is needed to know whose output a folder holds.

    Raises:
        OutputError: it is no plan.json of cutmarks.
    """
    return _read(Index, data)


def files_listed(lines: Iterable[bytes]) -> tuple[str, ...]:
    """The list of files in a plan.json that this program wrote, each key on a line of its own; () where there is none.

    What comes behind it is not read: use `read_index` for a file that may be anyone's.
    """
    for line in lines:
        if line.startswith(FILES_LINE):
            return tuple(json.loads(line.removeprefix(FILES_LINE).rstrip().removesuffix(b",")))
    return ()


def schema_json() -> bytes:
    """The JSON Schema of the file, generated from the models."""
    schema = PlanJson.model_json_schema(by_alias=True, mode="serialization")
    schema = {"$schema": "https://json-schema.org/draft/2020-12/schema", **schema}
    return (json.dumps(schema, indent=2, ensure_ascii=False) + "\n").encode("utf-8")


def published_schema() -> bytes:
    """The JSON Schema that is shipped."""
    return resources.files("cutmarks.writers").joinpath("plan.schema.json").read_bytes()


def _read(model: type[M], data: bytes) -> M:
    try:
        return model.model_validate_json(data)
    except ValidationError as error:
        first = error.errors(include_url=False)[0]
        where = ".".join(str(part) for part in first["loc"]) or "the file"
        raise OutputError(f"this is no plan that cutmarks wrote ({where}: {first['msg'].lower()})") from None
