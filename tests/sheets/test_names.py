"""File names that every disk keeps apart."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cutmarks.geometry.shapes import Circle
from cutmarks.sheets.names import file_stems, safe_name, unique
from tests.handmade import cut_piece, opening


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("splash", "splash"),
        ("Küche, links", "kuche_links"),
        ("Straße", "strasse"),
        ("../../etc", "etc"),
        ("a/b\\c", "a_b_c"),
        ("CON", "con_"),  # a device on Windows
        ("lpt1", "lpt1_"),
        ("浴室", "piece"),
        ("  ", "piece"),
    ],
)
def test_a_name_is_lower_case_ascii(text, name):
    assert safe_name(text) == name


@given(st.text(max_size=200))
def test_no_name_leaves_its_folder(text):
    assert re.fullmatch(r"[a-z0-9_-]{1,61}", safe_name(text))


@given(st.lists(st.sampled_from(["a", "a_2", "a_3", "b"]), max_size=12))
def test_names_are_unique_and_in_order(names):
    made = unique(names)
    assert len(set(made)) == len(made) == len(names)
    assert all(one.startswith(name) for one, name in zip(made, names, strict=True))


def test_pieces_of_areas_that_look_alike_are_kept_apart():
    def piece(name):
        return cut_piece([opening(name, Circle(20.0), 300.0, 900.0)], 248.0, 398.0, name=name)

    pieces = [piece("Café 3-7"), piece("cafe 3-7"), piece("cafe 3-12")]
    assert file_stems(pieces) == {"Café 3-7": "cafe_3-07", "cafe 3-7": "cafe_3-07_2", "cafe 3-12": "cafe_3-12"}
