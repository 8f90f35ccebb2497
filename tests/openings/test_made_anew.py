"""The digits of a print made anew: a checksum that a phone works out too, against GNU gzip's."""

from __future__ import annotations

import pytest

from cutmarks import load_job, make_plan
from cutmarks.openings.made_anew import moved_digits
from cutmarks.openings.prints import print_of
from tests.saying.test_by_reading import JOB

HOLE = "name: hot, what: 15 copper, across: 318 to 333 right of V, up: 905 to 920 above B, cover: 65"
"""In field 3-R2, read from the left 69 to 84; its middle is far from every edge."""


@pytest.mark.parametrize(
    ("off", "digits"),
    [
        # printf '0123abcd 3000000,0' | gzip -c | tail -c8 | od -An -tx4 -N4; a file's trailer has its CRC-32
        ([(3_000_000, 0)], "dac84a71"),
        # printf '0123abcd 3000000,-1587500 0,0' | ...
        ([(3_000_000, -1_587_500), (0, 0)], "62a84d5c"),
        ([(0, 0), (0, 0)], "0123abcd"),
    ],
)
def test_the_digits_are_a_checksum_of_those_as_planned_and_of_how_far_the_holes_moved(off, digits):
    assert moved_digits("0123abcd", off) == digits


def piece_of(tmp_path, hole, found=""):
    path = tmp_path / "job.yaml"
    path.write_text(JOB.format(hole=hole, more=found), "utf-8")
    (piece,) = (one for one in make_plan(load_job(path)).pieces if one.cuts)
    return piece


def found(piece, reading):
    return f"found:\n  - {{piece: {piece}, left: {reading}}}\n"


def test_a_hole_that_moved_has_digits_that_follow_from_those_as_planned(tmp_path):
    planned = piece_of(tmp_path, HOLE)
    assert planned.fingerprint == planned.print_as_planned == print_of(planned)
    # 69 and 84 were expected: 1½ off, twice over in millionths.
    moved = piece_of(tmp_path, HOLE, found("field 3-R2", "70½ to 85½"))
    assert moved.print_as_planned == planned.fingerprint
    assert moved.fingerprint == moved_digits(planned.fingerprint, [(3_000_000, 0)])
    again = piece_of(tmp_path, HOLE, found("field 3-R2", "69½ to 84½"))  # under 1: nothing moves
    assert again.fingerprint == planned.fingerprint


def test_where_more_is_another_than_the_place_of_a_hole_the_digits_are_of_the_whole_piece(tmp_path):
    # This very tile is 1 narrower.
    own_size = "found:\n  - {piece: field 3-R2, left: 70½ to 85½, tile: 247 x 398}\n"
    piece = piece_of(tmp_path, HOLE, own_size)
    assert piece.print_as_planned is None
    assert piece.fingerprint == print_of(piece)
