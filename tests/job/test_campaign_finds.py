"""What the campaign of mutated jobs found: each made small, with the sentence that it has now."""

from __future__ import annotations

import pytest

from tests.job.jobs import WALL, changed, faults, only_fault

LIST = "A list stands where one value is wanted: write one value."
KEYS = "Keys stand where one value is wanted: write one value on this line."


@pytest.mark.parametrize(
    ("old", "new", "head", "sentence"),
    [
        ("name: hot", "name: [hot]", "hole 1, name", LIST),
        ("name: hot", "name: {a: hot}", "hole 1, name", KEYS),
        ("name: sink wall", "name: [sink wall]", "surface 1, name", LIST),
        ("name: splash", "name: {a: b}", "area 1, name", KEYS),
    ],
)
def test_a_name_that_is_none_is_told_by_its_number(old: str, new: str, head: str, sentence: str) -> None:
    assert any(fault.endswith(f", {head}: {sentence}") for fault in faults(changed(old, new)))


def test_a_name_that_is_none_is_not_offered() -> None:
    second = "      - {name: cold, what: 15 copper, across: 67 to 83 right of V, up: level with hut}\n"
    found = faults(WALL.replace("name: hot", "name: [hot]") + second)
    assert found[-1].endswith('hole "cold", up: "hut" is no hole of this surface: write cold.')


def test_a_line_that_is_a_list_is_a_list() -> None:
    found = faults(changed("V: plumb, middle of the sink", "V: [plumb, middle of the sink]"))
    assert any(fault.endswith(f'line "V": {LIST}') for fault in found), found


@pytest.mark.parametrize(("spots", "has"), [(1, "1 corner"), (2, "2 corners")])
def test_an_areas_outline_has_three_corners(spots: int, has: str) -> None:
    outline = ", ".join(['"10 right of V, 10 above B"'] * spots)
    fault = only_fault(changed("joint: 3\n", f"joint: 3\n        outline: [{outline}]\n"))
    assert fault.endswith(f'area "splash": Its outline has {has}: write three or more.')


def test_a_limit_that_is_none_says_where_they_are_listed() -> None:
    fault = only_fault(WALL + "limits: {quokka: 3}\n")
    assert fault.endswith('"quokka" is no limit: write one that cutmarks check --why prints.')


def test_a_pair_of_nothing_says_what_to_write() -> None:
    found = faults(changed("    holes:", "    pairs:\n      - {apart: 150}\n    holes:"))
    assert any(
        fault.endswith('"of" is missing: write of: and the names of two holes, as in of: flow and return.')
        for fault in found
    ), found


KEYS = "Keys stand where one value is wanted: write one value on this line."


def test_a_corner_that_has_keys_is_told() -> None:
    corners = ", ".join(f'"{x} left of V, {y} above B"' for x, y in ((83, 212), (67, 212), (67, 228)))
    read = "        across: 67 to 83 left of V\n        up: 212 to 228 above B\n"
    fault = only_fault(changed(read, f"        corners: [{corners}, {{gap: 3}}]\n"))
    assert fault.endswith(f'hole "hot", corners: {KEYS}')


def test_a_point_that_has_keys_is_told() -> None:
    fault = only_fault(changed("    holes:", "    points: {P1: {across: 300 left of V}}\n    holes:"))
    assert fault.endswith(KEYS)


def test_an_edge_without_a_side_has_no_blank_in_its_place() -> None:
    found = faults(changed("    areas:", "    edges:\n      : 300 left of V\n    areas:"))
    assert found
    assert all('surface "sink wall", edge: ' in fault for fault in found), found
