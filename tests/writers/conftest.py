"""Fixtures that several tests of the writers share."""

from __future__ import annotations

import os
from pathlib import Path

import pytest


@pytest.fixture
def out(tmp_path: Path) -> Path:
    return tmp_path / "quay"


@pytest.fixture
def unsynced(monkeypatch: pytest.MonkeyPatch) -> None:
    """Spare the disk: what a killed process has written is there for the next one, synced or not."""
    monkeypatch.setattr(os, "fsync", lambda _: None)
