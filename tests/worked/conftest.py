from __future__ import annotations

import json
import textwrap
from collections.abc import Callable
from typing import Any

import pytest

from cutmarks.job import parse_job
from cutmarks.plan import make_plan
from cutmarks.writers.plan_json import to_json

Worked = Callable[[str], dict[str, Any]]


@pytest.fixture
def worked() -> Worked:
    """From the text of a job file to its plan.json, read back."""

    def run(text: str) -> dict[str, Any]:
        plan = make_plan(parse_job(textwrap.dedent(text), "worked.yaml"))
        read: dict[str, Any] = json.loads(to_json(plan, ()))
        return read

    return run
