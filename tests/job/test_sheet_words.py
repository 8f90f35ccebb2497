"""A name that a sheet would print as what it says of the tile itself is refused, with what to write instead."""

from __future__ import annotations

import pytest

from tests.job.jobs import changed, job, only_fault

TOLD = (
    "would stand on a sheet as {}, which a sheet says of the tile itself: write a name without FACE, BACK, UP, STOP "
    "or CORE."
)
AREA, HOLE, SURFACE, TILE = "- name: splash", "- name: hot", "- name: sink wall", "rib:"


@pytest.mark.parametrize("name", ["back", "Face", "up", "the back", "stop 2", "core strip"])
def test_no_word_of_an_areas_name_is_a_sheets_own(name: str) -> None:
    word = next(word for word in name.upper().split() if word in ("FACE", "BACK", "UP", "STOP", "CORE"))
    fault = only_fault(changed(AREA, f"- name: {name}"))
    assert fault.endswith(f'"{name}" {TOLD.format(word)}')


@pytest.mark.parametrize("thing", [HOLE, SURFACE])
@pytest.mark.parametrize("name", ["back", "Stop", "core 2", "BACK wall", "STOP tap"])
def test_no_other_name_says_it_alone_or_in_capital_letters(thing: str, name: str) -> None:
    word = next(word for word in name.upper().split() if word in ("BACK", "STOP", "CORE"))
    fault = only_fault(changed(thing, f"- name: {name}"))
    assert fault.endswith(f'"{name}" {TOLD.format(word)}')


@pytest.mark.parametrize("name", ["back wall", "stop valve", "stopcock", "upper pipe", "facet", "cored"])
def test_a_tilers_own_words_are_taken(name: str) -> None:
    assert job(changed(HOLE, f"- name: {name}")).surfaces[0].holes[0].name == name


def test_an_areas_name_that_only_begins_so_is_taken() -> None:
    assert job(changed(AREA, "- name: upstand")).surfaces[0].areas[0].name == "upstand"
