"""What the tests of the wall page share: one browser, and pages made of jobs."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path

import pytest

from cutmarks import load_job, make_plan
from tests.browser.phone import browser, missing, phone
from tests.cli.conftest import run
from tests.writers.as_bytes import wall_page

__all__ = ["run"]

LAUNDRY = Path(__file__).parents[2] / "examples" / "laundry" / "laundry.yaml"


@pytest.fixture(scope="session")
def chromium() -> Iterator[object]:
    """The browser of all tests; where there is none they are skipped, and say so."""
    why = missing()
    if why and os.environ.get("WALL_PAGE") == "must":
        pytest.fail(why)
    if why:
        pytest.skip(why)
    with browser() as opened:
        yield opened


@pytest.fixture
def handset(chromium):
    """A phone with nothing on it."""
    with phone(chromium) as held:
        yield held


@pytest.fixture
def other_handset(chromium):
    """The other man's."""
    with phone(chromium) as held:
        yield held


@pytest.fixture
def made(tmp_path: Path):
    """Makes the wall page of a job file in a folder of its own."""

    def make(job: Path = LAUNDRY, name: str = "one") -> Path:
        folder = tmp_path / name
        folder.mkdir(exist_ok=True)
        page = folder / "wall.html"
        page.write_bytes(wall_page(make_plan(load_job(job))))
        return page

    return make
