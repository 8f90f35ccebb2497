"""What a job says about its sheets: paper, joined or single, face or back."""

from __future__ import annotations

import pytest

from cutmarks.job.tools import parse_paper
from cutmarks.job.words import Setting
from cutmarks.units import Unit


@pytest.mark.parametrize(
    ("written", "taken"),
    [
        ("A4", "A4"),
        ("letter", "Letter"),
        ("ANY", "any"),
        ("a1", "A1"),
        ("610 x 900", "610 x 900"),
        ("900 x 610", "610 x 900"),
        ("roll 610", "roll 610"),
        ("Roll 61 cm", "roll 610"),
        ("24 in x 36 in", "609.6 x 914.4"),
    ],
)
def test_papers(written, taken):
    assert parse_paper(written, Setting()) == taken


def test_a_bare_size_is_in_the_job_s_unit():
    assert parse_paper("24 x 36", Setting(unit=Unit.INCH)) == "609.6 x 914.4"


@pytest.mark.parametrize("written", ["foolscap", "roll", "roll wide", "100 x 200", "610 x 6000", "roll 150", ""])
def test_what_is_no_paper_says_what_is(written):
    with pytest.raises(ValueError, match=r"is no (paper|sheet for a template): write"):
        parse_paper(written, Setting())
