"""A slice of the notch campaign: see tests/bench/notch_campaign.py for what is looked at."""

from __future__ import annotations

from tests.bench.notch_campaign import run


def test_sixty_notches_are_hidden_strong_and_hold_their_opening_and_none_is_missed() -> None:
    tally = run(60, seed=7)
    assert tally.failures == []
    assert tally.notches == 60
    assert tally.due > 50
    assert tally.corners > 0
