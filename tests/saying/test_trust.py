"""What is said of the paper follows from its figures, which a job may set; every figure by hand."""

from __future__ import annotations

from typing import Any

import pytest
from msgspec.structs import replace

from cutmarks.openings.model import CutPiece
from cutmarks.plan import Plan
from cutmarks.registering.calibration import Calibration, Scale
from cutmarks.saying.seen import seen
from cutmarks.saying.trust import paper_words, parts_words, printed_how, tile_words
from cutmarks.units import Style, Unit
from tests.checks.jobs import hole, plan

RISER = {**hole(), "across": "68.5 to 83.5 right of V", "up": "105 to 120 above B"}
"""A 15 copper 76 right of V and 112.5 above B: 74.5 and 112.5 from the tile's left and lower edges."""


def planned(**limits: Any) -> Plan:
    return plan(RISER, limits={name.replace("_", " "): figure for name, figure in limits.items()})


def cut_in(made: Plan) -> CutPiece:
    (piece,) = [piece for piece in made.pieces if piece.cuts]
    return piece


def said(made: Plan) -> tuple[str, str]:
    piece = cut_in(made)
    (sheet,) = made.registrations
    shown = seen(made, piece, sheet)
    return paper_words(shown, piece.cuts[0]), parts_words(shown, piece.cuts[0])


@pytest.mark.parametrize(
    ("limits", "far"),
    [
        # Print and line together: 0.25 + 0.5 % of 150 is 1; + 0.4 % of 187.5; 0.5 + 0.5 % of 100.
        ({}, "150 mm"),
        ({"paper_scale": "0.4 %"}, "180 mm"),
        ({"printed_line": 0.5}, "100 mm"),
        ({"printed_line": 1.2}, "0 mm"),
    ],
)
def test_how_far_the_paper_holds(limits: dict[str, Any], far: str) -> None:
    assert (
        printed_how(planned(**limits))
        == f"printer not measured: its print is within 1 mm only up to {far} from the edge lined up on"
    )


def test_how_far_the_paper_holds_in_inches() -> None:
    # 1/32 in is 0.794 mm; (0.794 - 0.25) / 0.5 % is 108.75 mm, 4.28 in. At 0.3 % it is 181.25, 7.14 in.
    inches = replace(planned(), say=replace(planned().say, style=Style(Unit.INCH)))
    assert (
        printed_how(inches)
        == "printer not measured: its print is within 1/32 in only up to 4 in from the edge lined up on"
    )
    better = replace(planned(paper_scale="0.3 %"), say=inches.say)
    assert "up to 7 in" in printed_how(better)


def test_the_error_at_a_hole_is_of_the_jobs_own_figures() -> None:
    # 112.5 x 0.5 % is 0.5625; 0.3 and 0.25: 1.1125. With 0.2 %, 0.5 and 0.1 it is 0.225 + 0.6.
    assert said(planned()) == (
        "Paper may be 1.2 out; you have 10",
        "out at most 1.2: print 0.57 + lining up 0.3 + line 0.25",
    )
    own = planned(paper_scale="0.2 %", lining_up=0.5, printed_line=0.1)
    assert said(own) == ("Paper may be 0.9 out; you have 10", "out at most 0.9: print 0.23 + lining up 0.5 + line 0.1")


def test_a_measured_printer_has_a_figure_of_its_own() -> None:
    # 112.5 x 0.1 % is 0.1125.
    office = Calibration("office", "", "A4", "2026-11-25", Scale(1.004, 0.997))
    made = replace(planned(measured_paper_scale="0.1 %", paper_scale="2 %"), calibration=office)
    assert said(made)[1] == "out at most 0.7: print 0.12 + lining up 0.3 + line 0.25"


@pytest.mark.parametrize(("limits", "out"), [({}, "1"), ({"size_nominal": 2}, "2"), ({"size_measured": 1.5}, "1.5")])
def test_how_far_a_tile_may_be_off_its_size(limits: dict[str, Any], out: str) -> None:
    made = planned(**limits)
    assert f"yours may be {out} out" in tile_words(cut_in(made), made.say.style, made.paper_figures)
