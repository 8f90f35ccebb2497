"""Depths, leans, slots and limits as they are written."""

from __future__ import annotations

import math

import pytest

from cutmarks.job.depths import parse_depth, parse_lean
from cutmarks.job.words import Setting
from cutmarks.units import Unit
from tests.job.jobs import changed, job, only_fault

MM, INCH = Setting(), Setting(unit=Unit.INCH)
END = "        end: comes off\n"


def the_hole(lines: str):
    return job(changed(END, END + "".join(f"        {line}\n" for line in lines.split("; ")))).surfaces[0].holes[0]


@pytest.mark.parametrize(
    ("text", "setting", "mm", "start"),
    [
        ("62 from the board to the thread", MM, 62.0, "board"),
        ("90 behind the studs", MM, 90.0, "studs"),
        ("3 proud of the board", MM, -3.0, "board"),
        ("Flush with the tile face", MM, 0.0, "face"),
        ("2 3/8 behind the board", INCH, 60.325, "board"),
    ],
)
def test_depths(text, setting, mm, start):
    found = parse_depth(text, setting)
    assert (found.mm, found.start) == (pytest.approx(mm), start)


@pytest.mark.parametrize("text", ["62", "62 from the moon", "proud of the board", "flush with 3"])
def test_a_depth_that_does_not_say_from_what(text):
    with pytest.raises(ValueError, match="does not say from what"):
        parse_depth(text, MM)


@pytest.mark.parametrize(
    ("text", "setting", "across", "up", "slope"),
    [
        ("2 in 71", MM, 0.0, 0.0, 2 / 71),
        ("2 in 71 right", MM, 2 / 71, 0.0, 2 / 71),
        ("2 in 71 to the left, 1 in 71 down", MM, -2 / 71, -1 / 71, math.sqrt(5) / 71),
        ("1/16 in 3 up", INCH, 0.0, 1 / 48, 1 / 48),
        ("1/16 in in 3 in up", MM, 0.0, 1 / 48, 1 / 48),
    ],
)
def test_leans(text, setting, across, up, slope):
    found = parse_lean(text, setting)
    assert (found.across, found.up, found.slope) == (pytest.approx(across), pytest.approx(up), pytest.approx(slope))


def test_how_far_out_a_pipe_was_read():
    assert parse_lean("2 in 71 right, read 60 out", MM).out == 60.0
    assert parse_lean("2 in 71 right", MM).out == 0.0
    with pytest.raises(ValueError, match="which way it leans"):
        parse_lean("2 in 71, read 60 out", MM)
    with pytest.raises(ValueError, match="write it as in read 60 out"):
        parse_lean("2 in 71 right, read 60", MM)


@pytest.mark.parametrize("text", ["2", "2 in", "2 in 0", "90 in 71", "2 in 71 sideways", "2 in 71 up, 1 in 71 down"])
def test_a_lean_that_is_none(text):
    with pytest.raises(ValueError, match="is no lean"):
        parse_lean(text, MM)


def test_of_two_leans_each_says_which_way_however_far_out_it_was_read():
    with pytest.raises(ValueError, match="write it as in 2 in 71 right, or 2 in 71 right, 1 in 71 up"):
        parse_lean("2 in 71 right, 1 in 71, read 60 out", MM)


def test_a_slot_says_where_to_and_how_far():
    assert the_hole("slot: towards the right and the top").open_also == "top"
    slid = the_hole("slot: 12 towards the right")
    assert (slid.open_towards, slid.slide) == ("right", 12.0)
    assert the_hole("slot: 40 x 20").slot is not None


@pytest.mark.parametrize(
    ("slot", "sentence"),
    [
        ("towards the left and the right", "write two sides that meet"),
        ("towards the top and the top", "write two sides that meet"),
        ("12 towards the left and the top", "A tile is slid one way: write slot: 12 towards the left."),
        ("towards the moon", "is no slot"),
        ("far towards the left", "far"),
    ],
)
def test_a_slot_that_opens_nowhere(slot, sentence):
    assert sentence in only_fault(changed(END, END + f"        slot: {slot}\n"))


def test_what_a_fitting_needs_is_read():
    hole = the_hole(
        "depth: 62 behind the board; depth range: 47 to 73; screw: 35; keep clear: 74 x 74; sweep: 180; stub: 60"
    )
    assert (hole.depth_range, hole.screw, hole.sweep, hole.stub) == ((47.0, 73.0), 35.0, 180.0, 60.0)
    assert hole.depth_read is not None
    assert hole.depth_read.mm == 62.0


def test_faults_have_their_own_line():
    told = only_fault(changed(END, END + "        depth: 62\n"))
    assert told.startswith('job.yaml line 22, hole "hot", depth: "62" does not say from what')
    told = only_fault(changed(END, END + "        depth range: 73 to 47\n"))
    assert "write the least and the most, as in 47 to 73" in told


def test_limits_are_read_in_their_own_units():
    limits = job(
        "limits: {thin bridge: 1 in, bridge part: 1/5, area taken: 65 cm2, level under: 3, most joined: 12}\n"
        + changed("x", "x")
    ).limits
    figures = limits.figures()
    assert figures.thin_bridge.value == pytest.approx(25.4)
    assert figures.bridge_part.value == pytest.approx(0.2)
    assert (figures.area_taken.value, figures.level_under.value) == (65.0, 3.0)
    assert (figures.most_joined.value, figures.lap.value) == (12.0, 3.0)


@pytest.mark.parametrize(
    ("limit", "sentence"),
    [
        ("thin brigde: 3", 'limit "thin brigde": "thin brigde" is no key here: did you mean thin bridge?'),
        ("bridge part: 150 %", 'limit "bridge part": "150 %" is out of range for bridge part: write 0 to 1.'),
        ("bridge part: 25", 'limit "bridge part": "25" is out of range for bridge part: write 25 % or 0.25.'),
        ("bridge part: 1.5", 'limit "bridge part": "1.5" is out of range for bridge part: write 1.5 % or 0.015.'),
        ("bridge part: 250", 'limit "bridge part": "250" is out of range for bridge part: write 0 to 1.'),
        ("paper scale: 0.5", 'limit "paper scale": "0.5" is out of range for paper scale: write 0.5 % or 0.005.'),
        ("bridge part: 1/0", 'limit "bridge part": "1/0" is no figure: write it as in 0.25, 1/4 or 25 %.'),
        ("area taken: lots", 'limit "area taken": "lots" is no figure: write it as in 5.'),
        ("most joined: 2.5", 'limit "most joined": "2.5" is no whole number: write most joined: 6.'),
        ("most joined: 0", 'limit "most joined": "0" is out of range for most joined: write 1 to 100.'),
        ("paper scale: 0 %", 'limit "paper scale": "0 %" is out of range for paper scale: write 0.0001 to 0.1.'),
        ("pitch tiles: 0", 'limit "pitch tiles": "0" is out of range for pitch tiles: write 1 to 1000.'),
        ("false alarm: 0", 'limit "false alarm": "0" is out of range for false alarm: write 0.0001 to 1.'),
    ],
)
def test_a_limit_that_is_none(limit, sentence):
    assert only_fault(f"limits: {{{limit}}}\n" + changed("x", "x")).endswith(sentence)


@pytest.mark.parametrize("typed", ["20 %", "20%", '"20 %"', "'20 %'", "0.2", "1/5"])
def test_a_part_is_written_in_percent_or_as_a_fraction(typed):
    # Twenty in a hundred is a fifth.
    limits = job(f"limits: {{bridge part: {typed}}}\n" + changed("x", "x")).limits
    assert limits.figures().bridge_part.value == pytest.approx(0.2)


def test_a_limit_is_part_of_what_was_read():
    assert job("limits: {lap: 4}\n" + changed("x", "x")).read != job(changed("x", "x")).read
