"""What the page's script adds is what `cutmarks found` says: a slice of the campaign, which has its own command."""

from __future__ import annotations

import pytest

from tests.bench.wall_page_campaign import FAULTS, run

pytestmark = pytest.mark.browser


def test_sixty_pieces_and_readings_come_out_as_found_says(chromium):
    tally = run(chromium, 60, 7)
    assert tally.wrong == []
    compared = [tally.counts[what] for what in ("figures compared", "sizes compared", "stopped by what was read")]
    assert tally.counts["digits of the print made anew compared"] >= 10
    assert min(compared) > 0
    assert sum(compared) >= 40


def test_a_slip_in_the_script_is_found(chromium):
    """Readings from the right, or from above, that move a figure the wrong way."""
    assert run(chromium, 25, 7, FAULTS[0]).wrong != []
