"""Phrases as they are said, in whole jobs: lines that say what they are above, other holes, what is assumed, inches."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

from cutmarks.errors import JobError
from cutmarks.job import build_job, parse_job
from cutmarks.job.examples import IN_INCHES, in_unit_of
from cutmarks.plan import make_plan
from cutmarks.units import Unit

JOB = Path(__file__).parents[2] / "cutmarks" / "job"


def job(**surface):
    hole = {"name": "hot", "what": "15 copper", "across": "67 to 83 left of V", "up": "212 to 227 above B", "cover": 65}
    return {
        "job": "Quay Cottage",
        "tiles": {"rib": {"size": "297 x 97", "measured": "yes"}},
        "surfaces": [
            {
                "name": "sink wall",
                "kind": "wall",
                "lines": {"V": "plumb, middle of the sink", "B": "level, 1000 above finished floor"},
                "areas": [{"name": "splash", "tile": "rib", "joint": 3, "start": "joint on V, sits on B"}],
                "holes": [hole],
                **surface,
            }
        ],
    }


def places(**surface):
    plan = make_plan(build_job(job(**surface)))
    return {cut.opening.name: cut.opening.at for piece in plan.pieces for cut in piece.cuts}


def test_words_that_begin_with_a_figure_are_words():
    surface = build_job(job()).surfaces[0]
    assert [(line.at, line.words) for line in surface.lines if line.name == "B"] == [
        (None, "1000 above finished floor")
    ]


def test_a_distance_from_another_line_is_one():
    lines = {
        "V": "plumb, middle of the sink",
        "W": "vertical, 600 right of V, left of the window",
        "B": "horizontal, top",
    }
    surface = build_job(job(lines=lines)).surfaces[0]
    by_name = {line.name: line for line in surface.lines}
    assert by_name["W"].at is not None
    assert (by_name["W"].at.low, by_name["W"].words, by_name["W"].kind) == (600, "left of the window", "plumb")
    assert by_name["B"].kind == "level"


def test_a_slip_of_a_lines_name_is_no_words():
    lines = {"V": "plumb, middle of the sink", "W": "plumb, 600 right of U", "B": "level, top"}
    with pytest.raises(JobError, match=r'"U" is no set-out line of this surface'):
        build_job(job(lines=lines))


def test_so_far_above_finished_floor_is_from_the_line_that_says_so():
    """B is 1000 above finished floor: 1227 above that is 227 above B; the pipe is 15 across, its middle 219.5 up."""
    hole = {
        "name": "hot",
        "what": "15 copper",
        "across": "c/l 75 left of V",
        "up": "1212 to 1227 above FFL",
        "cover": 65,
    }
    at = places(holes=[hole])["hot"]
    assert (at.x, at.y) == pytest.approx((-75, 219.5))


def test_so_far_from_another_hole_is_middle_to_middle():
    """Hot is at -75, 219.5; cold 150 to its right and 20 lower is at 75, 199.5."""
    hot = {
        "name": "hot",
        "what": "15 copper",
        "across": "67.5 to 82.5 left of V",
        "up": "212 to 227 above B",
        "cover": 65,
    }
    cold = {
        "name": "cold",
        "what": "15 copper",
        "across": "150 c to c right of hot",
        "up": "as hot but 20 lower",
        "cover": 65,
    }
    at = places(holes=[hot, cold])["cold"]
    assert (at.x, at.y) == pytest.approx((75, 199.5))


def test_together_with_more_readings_it_is_as_far():
    """The same, adjusted together with a second reading of the cold pipe that says the same: nothing is off."""
    hot = {
        "name": "hot",
        "what": "15 copper",
        "across": "67.5 to 82.5 left of V",
        "up": "212 to 227 above B",
        "cover": 65,
    }
    cold = {
        "name": "cold",
        "what": "15 copper",
        "across": "150 c to c right of hot",
        "up": "as hot but 20 lower",
        "readings": ["67.5 to 82.5 right of V"],
        "cover": 65,
    }
    at = places(holes=[hot, cold])["cold"]
    assert (at.x, at.y) == pytest.approx((75, 199.5), abs=0.001)


def test_bare_and_burnt_are_said_as_taken():
    hole = {
        "name": "hot",
        "what": "15 copper",
        "across": "167 bare to near side, left of V, burnt 100",
        "up": "212 to 227 above B",
        "cover": 65,
    }
    built = build_job(job(holes=[hole]))
    across = built.surfaces[0].holes[0].across
    assert across is not None
    # 167 less half a millimetre, less the 100 that the tape was held at.
    assert (across.how, across.low) == ("high", -66.5)
    said = [sentence for sentence in built.assumed if "burnt" in sentence]
    assert any("half a step of the tape less, 0.5 mm or 1/32 in" in sentence for sentence in said)
    assert any("the tape held at that figure, which comes off" in sentence for sentence in said)


def test_up_on_a_floor_says_towards_what():
    floor = {
        "kind": "floor",
        "lines": {"C": "across, middle of the doorway", "D": "along, doorway threshold"},
        "areas": [{"name": "slate", "tile": "rib", "joint": 3, "start": "joint on C, sits on D"}],
        "holes": [
            {"name": "soil", "diameter": 110, "across": "centre on C", "in": "centre 400 from D", "cover": "none"}
        ],
    }
    assert make_plan(build_job(job(**floor))).surfaces[0].setout.up == "away from D"
    assert make_plan(build_job(job(**floor, up="towards the window"))).surfaces[0].setout.up == "towards the window"
    assert make_plan(build_job(job())).surfaces[0].setout.up == ""


@pytest.mark.parametrize(
    ("phrase", "inches"),
    [
        ("67 to 83", "as in 2 5/8 to 3 1/4 left of V"),
        ("left of V", "as in 2 5/8 to 3 1/4 left of V"),
    ],
)
def test_a_question_in_an_inch_job_is_in_inches(phrase, inches):
    inch = job()
    inch["units"] = "in"
    inch["surfaces"][0]["holes"][0]["across"] = phrase
    with pytest.raises(JobError) as refused:
        build_job(inch)
    assert inches in str(refused.value)


def test_what_was_typed_stays_as_it_was_typed():
    sentence = '"67 to 83 left of V" is no position: write it as in 67 to 83 left of V.'
    assert in_unit_of(Unit.MM, sentence) == sentence
    assert in_unit_of(Unit.INCH, sentence) == (
        '"67 to 83 left of V" is no position: write it as in 2 5/8 to 3 1/4 left of V.'
    )


def test_each_example_in_inches_is_about_what_it_is_in_millimetres():
    """So that nobody learns a size from an example that no such thing has: within a fifth, or 1/8 in."""
    for metric, inches in IN_INCHES.items():
        if "copper" in metric or "cover" in metric or "x 86" in metric or "size:" in metric or "76 x" in metric:
            continue  # sizes of the trade, which differ from one country to the other
        ours = [float(figure) for figure in re.findall(r"(?<![\w.])[0-9]+(?:\.[0-9]+)?", metric)]
        theirs = [
            _inches(figure) for figure in re.findall(r"(?<![A-Z])(?:[0-9]+ [0-9]+/[0-9]+|[0-9]+/[0-9]+|[0-9]+)", inches)
        ]
        assert len(ours) == len(theirs), metric
        for mm, inch in zip(ours, theirs, strict=True):
            if mm > 5 or "5 in" not in metric:
                assert abs(inch * 25.4 - mm) <= max(mm / 5, 3.2) or "burnt" in metric or "1000" in metric, metric


def _inches(text):
    whole, _, part = text.rpartition(" ")
    over, _, under = part.partition("/")
    return float(whole or 0) + float(over) / float(under or 1)


def test_every_example_of_the_job_has_its_inches():
    """Each figure of two digits or more in a sentence that refuses something is one of the table, or of no measure."""
    no_measure = (
        r"45|30 clockwise|U\+0000|04X|16ths|32nds|2026-03-14|2 in 71|1 in 71|74\.5|642|64\.2|25 1/4|610|12 inches"
        r"|25 tiles|20 kg makes 14 litres|25 kg|up to 31 letters"
    )
    known = sorted(IN_INCHES, key=len, reverse=True)
    passed_over = re.compile("|".join(["610 x 900", *map(re.escape, known), no_measure, r"0\.5 mm", r"^, 1200 $"]))
    missing = []
    for path in sorted(JOB.glob("*.py")):
        if path.name == "examples.py":
            continue
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            told = node.exc if isinstance(node, ast.Raise) else node.value if isinstance(node, ast.Yield) else None
            for part in ast.walk(told) if told is not None else ():
                if isinstance(part, ast.Constant) and isinstance(part.value, str):
                    left = passed_over.sub("", part.value)
                    if re.search(r"(?<![\w/.])[0-9]{2,}(?![\w/])", left):
                        missing.append(f"{path.name}: {part.value}")
    assert missing == []


def test_what_only_follows_from_a_line_without_a_name_is_not_told_of_a_window_in_one_line():
    text = """\
job: A
tiles: {rib: {size: 297 x 97, measured: yes}}
surfaces:
  - name: wall
    kind: wall
    lines: {V: plumb, "  ": level}
    windows:
      - alcove, 100 to 500 right of V, 350 to 850 above B
    areas:
      - {name: splash, tile: rib, joint: 3}
"""
    with pytest.raises(JobError) as told:
        parse_job(text)
    assert [fault.line for fault in told.value.faults] == [6]


TENFOLD = """\
job: A
tiles: {rib: {size: 200 x 100, measured: yes}}
surfaces:
  - name: wall
    kind: wall
    lines: {V: plumb, B: level}
    edges:
      left: [LOW left of V at B, 1011 left of V at 600 above B]
"""


@pytest.mark.parametrize("low", ["101.5", "101"])
def test_an_edge_read_in_cm_at_one_height_and_in_mm_at_another_is_asked_about(low):
    with pytest.raises(JobError, match="nearly tenfold: is the smaller one in cm"):
        parse_job(TENFOLD.replace("LOW", low))


@pytest.mark.parametrize("low", ["1015", "101.5 cm", "101.5 mm", "611"])
def test_an_edge_that_says_its_unit_or_only_leans_is_taken(low):
    parse_job(TENFOLD.replace("LOW", low))
