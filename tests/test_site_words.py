"""Jobs in the words of the site, as a tiler would write them down, read from the first line to the last."""

from __future__ import annotations

from fractions import Fraction

import pytest

from cutmarks.errors import JobError
from cutmarks.job import parse_job
from cutmarks.sides import Side

HOLES = """\
    holes:                                    # what comes through
      - name: hot
        what:   15 copper                     # size first, as it is said; copper 15 too. 1/2 alone is a fault: copper, iron pipe or PEX?
        across: 67 to 83 left of V            # one reading a line, no brackets
        up:     212 to 228 above B            # on a floor: in: 1420 to 1530 from D
        cover:  65                            # rose, collar, plate, escutcheon; none if hidden; 147 x 86 for an oblong one
        end:    comes off                     # or: runs on (stack to the ceiling, tail that stays connected: a round hole is useless)
"""  # noqa: E501 - as it is written on site

SINK_WALL = (
    """\
job: Quay Cottage, laundry              # invented
units: mm                               # or in; any value may carry its own: 12 3/8 in
tiles:
  slate: {size: 397 x 247, thickness: 8, material: porcelain}
  rib:   {size: 297 x 97, thickness: 9, material: ceramic, face: textured}
surfaces:
  - name: sink wall
    kind: wall
    lines:
      V: plumb, middle of the sink      # the words are printed
      B: level, top of the packers
    edges:                              # one reading, or several where the edge is out of true
      left:   {at: 1140 left of V, what: end panel, true: plumb}
      right:  [1065 right of V at B, 1058 right of V at 1450 above B]
      bottom: {at: 5 below B, what: worktop}   # the gap of 5 is what the first course stands off it
      top:    {at: 1462 above B, what: ceiling}
    gaps: {bottom: 5, top: 3, left: 3, right: 3}
    areas:
      - {name: splash, tile: rib, joint: 3, bond: half, from: B, to: 597 above B, start: {across: joint on V, up: sits on B}}
      - {name: upper, tile: slate, joint: 3, bond: stack, from: 600 above B, start: {across: middle on V, up: sits on 600 above B}}
"""  # noqa: E501 - as it is written on site
    + HOLES
)


def test_the_whole_job_of_the_sink_wall():
    job = parse_job(SINK_WALL)
    (surface,) = job.surfaces
    assert list(job.tiles) == ["slate", "rib"]
    assert (job.tiles["rib"].face, job.tiles["slate"].material) == ("textured", "porcelain")
    assert [line.words for line in surface.lines] == ["middle of the sink", "top of the packers"]
    assert [(area.name, area.bond.part) for area in surface.areas] == [
        ("splash", Fraction(1, 2)),
        ("upper", Fraction(0)),
    ]
    splash, upper = surface.areas
    assert splash.from_ is not None
    assert splash.to is not None
    assert upper.start_up is not None
    assert (splash.from_.low, splash.to.low, upper.start_up.anchor, upper.start_up.at.low) == (0, 597, "sits on", 600)
    assert surface.edges[Side.LEFT].true == "plumb"
    assert [reading.at.low for reading in surface.edges[Side.RIGHT].readings] == [1065, 1058]
    hot = surface.holes[0]
    assert hot.fitting is not None
    assert hot.across is not None
    assert hot.up is not None
    # EN 1057: the nominal size of copper tube is its outside diameter.
    assert hot.fitting.od == 15
    assert (hot.across.low, hot.across.high, hot.up.low, hot.up.high) == (-83, -67, 212, 228)
    assert (hot.cover, hot.end) == (65, "comes off")


def position(across: str = "67 to 83 left of V", up: str = "212 to 228 above B") -> tuple[float, float | None]:
    """The position of a hole with these words."""
    text = SINK_WALL.replace("67 to 83 left of V", across).replace("212 to 228 above B", up)
    text += "      - {name: cold, what: 15 copper, across: 67 to 83 right of V, up: 212 to 228 above B, cover: 65}\n"
    hole = parse_job(text).surfaces[0].holes[0]
    assert hole.across is not None
    assert hole.up is not None
    reading = hole.up if across == "67 to 83 left of V" else hole.across
    return reading.low, reading.high


@pytest.mark.parametrize(
    ("words", "low", "high"),
    [
        ("67 to 83 left of V", 212, 228),
        ("67-83 left of V", -83, -67),
        ("12-3/8 in to 13 in left of V", -330.2, -314.325),
        ("centre 75 left of V", -75, None),
        ("on V", 0, None),
        ("near 67 left of V", -67, None),
        ("far 83 left of V", -83, None),
        ("277 in from right there", 277, None),
        ("level with cold", 0, None),
    ],
)
def test_positions_across(words, low, high):
    """By hand: 12 3/8 in is 314.325 mm and 13 in is 330.2."""
    read = position(across=words)
    assert read[0] == pytest.approx(low, abs=1e-9)
    assert read[1] == (None if high is None else pytest.approx(high, abs=1e-9))


@pytest.mark.parametrize(
    ("words", "low", "high"),
    [
        ("42 below to 30 above B", -42, 30),
        ("underside 212 above B", 212, None),
        ("top 228 above B", 228, None),
        ("level with cold", 0, None),
        ("in course 4, 98 up", 98, None),
    ],
)
def test_positions_up(words, low, high):
    assert position(up=words) == (low, high)


def test_a_floors_position():
    floor = (
        SINK_WALL.replace("kind: wall", "kind: floor")
        .replace("V: plumb", "V: across")
        .replace("B: level", "D: along")
        .replace("above B", "from D")
        .replace("below B", "short of D")
        .replace("at B,", "at D,")
        .replace("from: B", "from: D")
        .replace("sits on B", "sits on D")
        .replace("true: plumb", "true: square")
        .replace("        up:     212 to 228 from D", "        in:     1420 to 1530 from D")
    )
    hole = parse_job(floor).surfaces[0].holes[0]
    assert hole.up is not None
    assert (hole.up.low, hole.up.high) == (1420, 1530)


def refused(old: str, new: str) -> str:
    assert old in SINK_WALL
    with pytest.raises(JobError) as error:
        parse_job(SINK_WALL.replace(old, new), "laundry.yaml")
    (fault,) = error.value.faults
    return str(fault)


def test_a_half_alone_asks_of_what():
    sentence = refused("15 copper ", "1/2 ")
    assert sentence.startswith('laundry.yaml line 23, hole "hot", what: ')
    assert "copper, iron pipe or PEX" in sentence


def test_a_single_reading_offers_the_three_ways():
    assert refused("67 to 83 left of V", "75 right of V") == (
        'laundry.yaml line 24, hole "hot", across: "75 right of V" does not say to what: write "centre 75 right of V", '
        '"near 75 right of V" or "far 75 right of V", or both sides, as in "67 to 83 right of V".'
    )


def test_a_negative_distance_is_turned_round():
    assert refused("67 to 83 left of V", "-12 right of V") == (
        'laundry.yaml line 24, hole "hot", across: A distance from a set-out line cannot be negative: '
        'write "12 left of V".'
    )


def test_copper_may_stand_before_its_size():
    hole = parse_job(SINK_WALL.replace("15 copper ", "copper 15 ")).surfaces[0].holes[0]
    assert hole.fitting is not None
    assert hole.fitting.od == 15


def test_edges_may_be_left_out():
    begin, end = SINK_WALL.index("    edges:"), SINK_WALL.index("    gaps:")
    assert parse_job(SINK_WALL[:begin] + SINK_WALL[end:]).surfaces[0].edges == {}
