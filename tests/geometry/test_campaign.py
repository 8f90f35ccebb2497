"""A slice of the kernel campaign: see tests/bench/kernel_campaign.py for what is checked."""

from __future__ import annotations

from tests.bench.kernel_campaign import run


def test_five_hundred_random_pieces() -> None:
    tally = run(500, seed=20)
    assert tally.failures == []
    assert len(tally.seconds) == 500
    assert tally.differences > 900
    assert tally.worst_arc < 0.001
