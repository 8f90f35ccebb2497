"""plan.json read back, and the JSON Schema that says what may stand in it."""

from __future__ import annotations

import json
from collections.abc import Iterable
from hashlib import sha256
from importlib import resources
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError

from cutmarks.errors import OutputError
from cutmarks.writers.disk import Digest
from cutmarks.writers.plan_json.models import Index, PlanJson

SEAL = b'"seal": "'
"""How the last line of a whole file begins; behind it stands the digest of all that is before it."""

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
    return tuple(_value(lines, "files") or ())


def digests_listed(lines: Iterable[bytes]) -> dict[str, Digest]:
    """The digests in a plan.json that this program wrote, of each file by its name; see `files_listed`."""
    return {name: Digest(**digest) for name, digest in (_value(lines, "digests") or {}).items()}


def is_sealed(data: bytes) -> bool:
    """Whether a plan.json is to the last byte as this program wrote it, and so what it says of the other files."""
    end = data.rfind(SEAL)
    return end >= 0 and data[end:] == sealed(sha256(data[:end]).hexdigest())


def sealed(digest: str) -> bytes:
    """The end of a plan.json, `digest` being that of all before it."""
    return SEAL + digest.encode("ascii") + b'"\n}\n'


def _value(lines: Iterable[bytes], key: str) -> Any:  # noqa: ANN401 - any JSON
    """What stands behind a key that has a line of its own; None where there is none."""
    start = f'"{key}": '.encode("ascii")
    for line in lines:
        if line.startswith(start):
            return json.loads(line.removeprefix(start).rstrip().removesuffix(b","))
    return None


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
