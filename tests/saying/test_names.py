"""File names that every disk keeps apart."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cutmarks.geometry.shapes import Circle
from cutmarks.saying.names import file_stems, job_stem, safe_name, unique
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
    assert file_stems("Mill Loft", pieces) == {
        "Café 3-7": "mill_loft__cafe_3-07",
        "cafe 3-7": "mill_loft__cafe_3-07_2",
        "cafe 3-12": "mill_loft__cafe_3-12",
    }


def test_a_long_area_leaves_its_pieces_their_places():
    area = "the-wall-behind-the-bath-left-of-the-window"
    piece = cut_piece([opening("tap", Circle(20.0), 300.0, 900.0)], 248.0, 398.0, name=f"{area} 12-3")
    assert file_stems("J", [piece])[piece.name] == "j__the-wall-behind-the-bath-left-of_12-03"


def test_a_job_stands_whole_in_its_files_names_where_it_can():
    assert job_stem("Quay Cottage, laundry") == job_stem("quay cottage  laundry") == "quay_cottage_laundry"


@pytest.mark.parametrize(
    "jobs",
    [
        ("Long Meadow House, second floor, bathroom 1", "Long Meadow House, second floor, bathroom 2"),
        ("浴室", "厨房"),
        ("Küche", "Kuche"),
        ("Unit A+", "Unit A-"),
        ("Plot 1.2", "Plot 1 2"),
        ("CON", "con_"),
    ],
)
def test_jobs_that_ascii_or_a_short_name_would_make_one_are_kept_apart(jobs):
    assert len({job_stem(job).casefold() for job in jobs}) == len(jobs)


def test_one_name_in_two_forms_of_unicode_is_one_job():
    assert job_stem("K\u00fcche") == job_stem("Ku\u0308che")


@given(st.text(max_size=200))
def test_no_job_leaves_its_folder_or_hides_where_it_ends(text):
    assert re.fullmatch(r"[a-z0-9][a-z0-9_-]{0,39}", job_stem(text))
    assert "__" not in job_stem(text)


def test_a_thousand_rooms_of_one_hotel_have_a_thousand_names():
    rooms = [job_stem(f"Long Meadow House, second floor, bathroom of room {n}") for n in range(1000)]
    assert len(set(rooms)) == 1000
