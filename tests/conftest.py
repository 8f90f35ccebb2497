"""What all tests share."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import settings

# No deadline: a busy machine is no fault of the code. Reproducible: a change that breaks something breaks it each time.
settings.register_profile("cutmarks", deadline=None, derandomize=True)
settings.load_profile("cutmarks")


@pytest.fixture(scope="session")
def repository() -> Path:
    """The folder that holds README.md, examples/ and templates/."""
    return Path(__file__).resolve().parent.parent
