"""Sentences with words, numbers and orders that come up on site, and what they come to under their keys.

Every figure is worked by hand from the sentence: right and up are positive, an inch is 25.4 mm, half a step of the tape
0.5 mm or 1/32 in. What can mean two things is asked with both.
"""

from __future__ import annotations

import pytest

from cutmarks.errors import JobError
from cutmarks.job import build_job
from cutmarks.sides import Side

LINES = {"V": "plumb, middle of the basin", "B": "level, top of the batten"}
FLOOR = {"A": "across", "C": "along"}
EDGES = {"left": "1200 left of V", "right": "900 right of V", "bottom": "20 below B", "top": "2400 above B"}


def job_of(*holes, kind="wall", units="mm", tile="300 mm x 600 mm", areas=(), edges=None):
    return build_job(
        {
            "job": "Quay Cottage",
            "units": units,
            "say": "us" if units == "in" else "uk",
            "tiles": {"rib": tile},
            "surfaces": [
                {
                    "name": "here",
                    "kind": kind,
                    "lines": LINES if kind == "wall" else FLOOR,
                    "edges": edges or {},
                    "areas": list(areas),
                    "holes": list(holes),
                }
            ],
        }
    )


def holes_of(*holes, **around):
    return job_of(*holes, **around).surfaces[0].holes


def asked(*holes, **around):
    with pytest.raises(JobError) as told:
        job_of(*holes, **around)
    return [fault.sentence for fault in told.value.faults]


def place(reading):
    return (reading.how, reading.low, reading.high)


@pytest.mark.parametrize(
    ("across", "low", "high"),
    [
        ("RH side of V 130/145", 130, 145),
        ("left side of V 130 to 145", -145, -130),
        ("left of V, 402 over to 537", -537, -402),
        ("11 and a half to 13 cm right of V", 115, 130),
        ("starts 88 right of V ends 161", 88, 161),
        ("one and a half to three inch right of V", 38.1, 76.2),
    ],
)
def test_a_place_across(across, low, high):
    (hole,) = holes_of({"name": "one", "across": across, "up": "centre 100 above B", "diameter": "15"})
    assert place(hole.across) == ("sides", pytest.approx(low), pytest.approx(high))


def test_a_figure_that_is_said_to_be_less_before_it_is_read_by_eye():
    # Just shy of 6 in is 5 31/32 in: 151.60625 mm; to 6 5/8 in, 168.275 mm.
    (hole,) = holes_of(
        {"name": "one", "across": "just shy of 6 to 6 5/8 right of V", "up": "4 to 5 above B"}, units="in"
    )
    assert (hole.across.low, hole.across.high) == pytest.approx((151.60625, 168.275))


def test_a_level_with_a_range_behind_it_is_no_piece():
    (hole,) = holes_of({"name": "one", "across": "on V", "up": "up from B 212-228", "diameter": "16"})
    assert place(hole.up) == ("sides", 212, 228)


def test_the_other_side_of_a_thing_is_said_from_its_first():
    (hole,) = holes_of({"name": "one", "across": "left side 88 right of V, other side 161", "up": "10 to 83 above B"})
    assert place(hole.across) == ("sides", 88, 161)


@pytest.mark.parametrize(
    ("said", "name"),
    [
        ("w/mach hot, 15 copper, on V, 92 to 107 above B", "washing machine hot"),
        ("d/w stopcock 15: on V, 92 to 107 above B", "dishwasher stopcock"),
        ("rad tail L/H 15 cu - 60 to 75 right of V, 92 to 107 above B", "rad tail LH"),
        ("b/basin tail, 15 copper, on V, 92 to 107 above B", "b-basin tail"),
    ],
)
def test_a_name_with_a_stroke_in_it_is_spelt_so_that_it_can_be_printed(said, name):
    (hole,) = holes_of(said)
    assert (hole.name, hole.fitting.od) == (name, 15.0)


@pytest.mark.parametrize("said", ["hot/cold, 15 copper, on V, 92 to 107 above B", "h/c, 15 copper, on V, 92 above B"])
def test_two_names_with_a_stroke_between_are_never_one(said):
    assert any("more than one thing" in sentence or "hot" in sentence for sentence in asked(said))


def test_a_size_by_name_that_several_pipes_have_counts_for_nothing_where_both_sides_were_read():
    # 19 1/4 to 20 1/8 in: 7/8 in wide, 22.225 mm; of what pipe a 3/4 hose bib is is not asked.
    (hole,) = holes_of("hose bib 3/4, 19-1/4 to 20-1/8 left of V, 16-1/2 to 17-3/8 above B, plate 2-1/2 rd", units="in")
    assert (hole.name, hole.what, hole.note) == ("hose bib", "hose bib", "3/4")
    assert hole.cover == pytest.approx(63.5)
    assert hole.across.high - hole.across.low == pytest.approx(22.225)
    (overflow,) = holes_of("overflow pipe ¾, 339 to 361 left of V, 890 to 912 above B, no rose")
    assert (overflow.name, overflow.cover) == ("overflow pipe", "none")


def test_a_box_that_another_country_has_by_that_name_is_one_where_it_was_read():
    (hole,) = holes_of("2-gang box, 20 to 24 left of V, 40 to 43 3/4 above B, plate 4 1/2 x 4 1/2", units="in")
    assert (hole.name, hole.what, hole.note) == ("box", "box", "2-gang box")


def test_where_its_sides_were_not_read_and_nothing_hides_it_the_pipe_is_asked():
    (sentence,) = asked("hose bib 3/4, centre 19 left of V, centre 16 above B, no cover", units="in")
    assert "copper, iron pipe or PEX" in sentence


@pytest.mark.parametrize(
    "said",
    ["cold, 2 in, on V, 92 to 107 above B", "hot and/or cold, 15 copper, on V, 92 to 107 above B"],
)
def test_a_size_by_name_that_what_was_read_cannot_have_is_asked_as_is_what_is_no_name(said):
    assert len(asked(said)) == 1


def test_a_figure_behind_a_name_is_its_size_where_that_was_read():
    (hole,) = holes_of("gas pipe 22, 612 to 634 left of V, 28 to 50 up from B, collar 45")
    assert (hole.name, hole.fitting.od, hole.cover) == ("gas pipe", 22.0, 45.0)
    (odd,) = holes_of("feed 15, 60 to 75 left of V, 240 to 290 above B")
    assert odd.name == "feed 15"
    (numbered,) = holes_of("tap 12, 612 to 634 left of V, 28 to 50 up from B, collar 45")
    assert (numbered.name, numbered.fitting) == ("tap 12", None)


def test_a_name_that_several_pipes_have_is_never_cut_inside_its_number():
    (hole,) = holes_of(
        "closet flange, ctr 12 1/2 past C, ctr 15 right of A, cut 4 1/2 dia, flange 7", kind="floor", units="in"
    )
    assert (hole.opening, hole.cover) == pytest.approx((114.3, 177.8))


def test_the_unit_of_a_whole_sentence_stands_at_its_end():
    (hole,) = holes_of("sink waste, 7.6 to 12 left of V, 4.4 to 8.7 below B, all cm, plate 80 mm dia")
    assert (place(hole.across), place(hole.up)) == (("sides", -120, -76), ("sides", -87, -44))
    assert hole.cover == 80


@pytest.mark.parametrize(
    ("said", "names", "across", "up"),
    [
        (
            "bar valve tails, 15 copper, c/l 75 left and 75 right of V, both 612 above B, roses 60 dia",
            ("bar valve tail left", "bar valve tail right"),
            (-75, 75),
            612,
        ),
        (
            "two rad tails, 15 copper, c/l 460 and 560 left of V, 29 above B to centre",
            ("rad tail right", "rad tail left"),
            (-460, -560),
            29,
        ),
        (
            "basin, 15 copper, spout 75 left and mixer 90 right of V to ctrs, 268 above B",
            ("spout", "mixer"),
            (-75, 90),
            268,
        ),
        (
            "bath taps 15 copper, pair, centres 9 cm each side of V, 4.5 cm up from B",
            ("bath tap left", "bath tap right"),
            (-90, 90),
            45,
        ),
    ],
)
def test_two_with_a_place_each_in_one_part(said, names, across, up):
    holes = holes_of(said)
    assert tuple(hole.name for hole in holes) == names
    assert [place(hole.across) for hole in holes] == [("centre", one, None) for one in across]
    assert [place(hole.up) for hole in holes] == [("centre", up, None)] * 2
    assert {hole.fitting.od for hole in holes} == {15.0}


@pytest.mark.parametrize(
    ("said", "leads"),
    [
        ("hot & cold, 15 copper, c/l 60 right and 60 left of V, 92 above B", "does not say which is which"),
        ("cold & hot, 15 copper, c/l 60 left and 60 right of V, 92 above B", "does not say which is which"),
        ("valve, 15 copper, c/l 75 left and 75 right of V, 92 to 107 above B", "more than one thing"),
        ("hot, 22 to 44 left of V, 61 to 83 above B, plate 116 x 76 vertical", "write plate 76 x 116, or leave"),
    ],
)
def test_what_is_open_of_two_or_says_two_things_is_asked(said, leads):
    (sentence,) = asked(said)
    assert leads in sentence


@pytest.mark.parametrize("between", [" - ", " to ", "-"])
def test_a_fraction_behind_a_mixed_number_is_asked_whether_the_whole_one_holds_for_it_too(between):
    (sentence,) = asked(
        {"name": "one", "across": f"3 1/4{between}7/8 left of V", "up": "5 to 6 above B", "what": "1/2 copper"},
        units="in",
    )
    assert "can be 3 1/4 to 3 7/8, or 7/8 to 3 1/4" in sentence


def test_what_stands_first_and_is_no_name_is_asked_where_it_is():
    (sentence,) = asked("15 copper 67/83 V, 106/122 B, 65")
    assert "does not say which side: write right of V or left of V" in sentence


@pytest.mark.parametrize(
    ("said", "leads"),
    [
        ({"edges": {**EDGES, "left": "left wall 1212/1206 from V"}}, "1212 bottom, 1206 top"),
        (
            {"areas": [{"name": "field", "tile": "rib", "joint": "3", "start": "start 45 off V, sat on B"}]},
            "which edge of the tile, nor on which side of V",
        ),
        ({"areas": [{"name": "field", "tile": "rib", "joint": "2 up, 3 across"}]}, "gives two joints"),
    ],
)
def test_two_readings_two_joints_and_a_start_with_no_side_are_asked(said, leads):
    (sentence,) = asked(**said)
    assert leads in sentence


def test_a_cover_has_two_sizes_only_where_they_are_said_to_be_its_two_sides():
    with pytest.raises(JobError, match="says more than the size of a cover"):
        job_of(
            {"name": "one", "what": "15 copper", "across": "on V", "up": "9 to 24 above B", "cover": "rose 65 over 15"}
        )


def test_a_figure_that_numbers_a_thing_is_not_its_size():
    left, right = holes_of(
        "mixer, 15 copper, left pipe 60 to 75 left of V, right pipe 60 to 75 right of V, both 9 to 24 up from B"
    )
    assert (left.name, right.name) == ("mixer left pipe", "mixer right pipe")
    (tail,) = holes_of("tail 2, 10 to 25 left of V, 20 to 35 above B")
    assert (tail.name, tail.what, tail.fitting) == ("tail 2", "tail", None)


def test_both_sides_of_one_thing_stay_one():
    (hole,) = holes_of("hot, 15 copper, 7 left and 8 right of V, 92 to 107 above B")
    assert place(hole.across) == ("sides", -7, 8)


def test_each_by_its_own_name_with_what_they_are_of():
    hot, cold = holes_of(
        "lav hot 3-7/8 to 4-1/2 left of V, cold 3-3/4 to 4-3/8 right of V, both 11 to 11-5/8 over B", units="in"
    )
    assert (hot.name, cold.name) == ("lav hot", "lav cold")
    assert (hot.across.low, cold.across.low) == pytest.approx((-4.5 * 25.4, 3.75 * 25.4))


def test_what_goes_to_the_middle_one_way_goes_there_the_other_way_and_that_is_printed():
    job = job_of("hot, 15 copper, centre 95 right of V, 265 above B")
    (hole,) = job.surfaces[0].holes
    assert place(hole.up) == ("centre", 265, None)
    assert any("hole hot: the single distance is taken to the centre" in one for one in job.assumed)
    told = job_of("hot, 15 copper, centre 95 right of V, 265 above B, all to centre").assumed
    assert not any("taken to the centre" in one for one in told)


def test_of_a_box_it_is_asked():
    (sentence,) = asked("socket, 1 gang box, centre 95 right of V, 265 above B")
    assert 'write "centre 265 above B"' in sentence


def test_a_way_with_no_line_is_asked_with_the_line_and_the_edge():
    (sentence,) = asked("flow, 22 cu, 298 to 320 right, 54 to 76 below B", edges={"right": "900 right of V"})
    assert '"298 to 320 right of V", or "298 to 320 in from right there"' in sentence
    (sentence,) = asked(
        "shaver, box, 145 to 213 right of V, 720 to 852 up", edges={"bottom": {"at": "20 below B", "what": "floor"}}
    )
    assert '"720 to 852 above B", or "720 to 852 in from bottom there"' in sentence


@pytest.mark.parametrize(
    ("side", "said", "readings"),
    [
        (
            "left",
            "left hand corner 121.2cm from V at the batten, 121.9cm at six foot above it",
            [(-1212, 0), (-1219, 1828.8)],
        ),
        ("right", "RH wall 843 right of V at B, 849 at 2000 up", [(843, 0), (849, 2000)]),
        ("bottom", "floor 11 inch below the batten, same both ends", [(-279.4, -1200), (-279.4, 900)]),
    ],
)  # fmt: skip
def test_an_edge_at_a_height(side, said, readings):
    edge = job_of(edges={**EDGES, side: said}).surfaces[0].edges[Side(side)]
    found = [(one.at.low, one.along.low) for one in edge.readings]
    assert found == [pytest.approx(one) for one in readings]


def test_an_edge_of_a_floor_at_a_distance_past_a_line():
    edge = job_of(edges={"left": "left wall 61 1/4 left of A at C, 61 5/8 at 96 past C"}, kind="floor", units="in")
    found = [(one.at.low, one.along.low) for one in edge.surfaces[0].edges[Side.LEFT].readings]
    assert found == [pytest.approx((-61.25 * 25.4, 0)), pytest.approx((-61.625 * 25.4, 96 * 25.4))]


@pytest.mark.parametrize(
    ("said", "thick"), [("300 x 600 ceramic, 9mm", 9), ("wall tile 4-1/4 in x 4-1/4 in ceramic, 1/4 in", 6.35)]
)
def test_a_length_with_its_unit_behind_what_a_tile_is_made_of_is_its_thickness(said, thick):
    assert job_of(tile=said).tiles["rib"].thickness == pytest.approx(thick)


@pytest.mark.parametrize(
    ("said", "leads"),
    [
        ("300 x 600 ceramic, 3mm", "can be how thick it is, or the joint"),
        ("quarry 150 x 150, 8mm", "can be how thick it is, or the joint"),
        ("six inch white ceramic, quarter inch thick", 'write 6 inch square if the other is the same, or both'),
    ],
)  # fmt: skip
def test_what_can_be_two_things_of_a_tile_is_asked(said, leads):
    assert any(leads in sentence for sentence in asked(tile=said))


@pytest.mark.parametrize(
    ("said", "across", "up", "kind"),
    [
        ("joint on V, tiles start off top of batten", ("joint", 0), ("sits on", 0), "wall"),
        ("grout joint centred on V, first row sits on batten (B)", ("joint", 0), ("sits on", 0), "wall"),
        ("first tile RH edge to V, bottom edge 5 below B", ("right", 0), ("sits on", -5), "wall"),
        ("left edge on A, near edge on C", ("left", 0), ("sits on", 0), "floor"),
        ("left edge 14 left of V", ("left", -14), None, "wall"),
        ("bottom edge 3 up from B", None, ("sits on", 3), "wall"),
    ],
)
def test_a_start(said, across, up, kind):
    (area,) = job_of(areas=[{"name": "field", "tile": "rib", "joint": "3", "start": said}], kind=kind).surfaces[0].areas
    found = [one and (one.anchor, one.at.low) for one in (area.start_across, area.start_up)]
    assert found == [across, up]


def test_the_edge_of_a_tile_alone_is_asked():
    areas = [{"name": "field", "tile": "rib", "joint": "3", "start": "joint on A, tile edge 10 past C"}]
    assert any("write near edge or far edge" in one for one in asked(areas=areas, kind="floor"))
