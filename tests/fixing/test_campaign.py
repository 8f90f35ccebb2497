"""A slice of the fixing campaign: see tests/bench/fixing_campaign.py for what is looked at."""

from __future__ import annotations

import pytest

from tests.bench.fixing_campaign import FAULTS, _planted, run


def test_every_tile_goes_up_in_turn_and_is_read_from_what_is_there() -> None:
    tally = run(25, seed=11)
    assert tally.failures == []
    assert tally.cuts > 60
    assert {"piece", "line", "support"} <= set(tally.read)


@pytest.mark.parametrize("name", ["the far course first", "every neighbour is earlier"])
def test_a_planted_fault_is_found(name: str) -> None:
    owner, attribute, other = FAULTS[name]
    with _planted(owner, attribute, other):
        assert run(6, seed=11).failures
