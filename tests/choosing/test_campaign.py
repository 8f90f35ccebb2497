"""A slice of the campaign: no sample is better, and what is promised is what is laid."""

from __future__ import annotations

from contextlib import ExitStack
from unittest.mock import patch

import pytest

from cutmarks.choosing import breakpoints, leaves
from tests.bench import start_campaign
from tests.bench.start_campaign import PROMISED, never_worse, never_worse_together, promises


def test_no_sample_of_one_axis_is_better() -> None:
    with patch.object(start_campaign, "FINE", 10.0):
        judged = never_worse(1, 40)
    # The wall is one area: every 10 mm of a pitch, then every whole one, on each axis.
    assert judged.areas == 1
    assert judged.starts > 400
    assert judged.worse == 0


def test_no_sample_of_both_axes_is_better() -> None:
    with patch.object(start_campaign, "COARSE", 40.0):
        judged = never_worse_together(1, 40)
    assert judged.areas == 1
    assert judged.worse == 0


def test_what_is_promised_is_laid() -> None:
    shown, broken, most = promises(2, 1)
    assert shown >= 5
    assert broken == 0
    assert most <= PROMISED


@pytest.mark.parametrize("fault", ["ends", "reach"])
def test_a_fault_in_it_is_found(fault: str) -> None:
    """Breakpoints that are left out make a sample better; a piece that is told a little longer breaks a promise."""
    with ExitStack() as planted:
        if fault == "ends":
            planted.enter_context(patch.object(breakpoints, "_of_ends", lambda *_: iter(())))
            planted.enter_context(patch.object(breakpoints, "_of_equal_ends", lambda *_: iter(())))
            planted.enter_context(patch.object(breakpoints, "easily_said", lambda *_: iter(())))
            planted.enter_context(patch.object(start_campaign, "FINE", 20.0))
            planted.enter_context(patch("cutmarks.choosing.asking.easily_said", lambda *_: iter(())))
            assert never_worse(2, 1, lambda _: None).worse
        else:
            exact = leaves.pieces_of
            planted.enter_context(
                patch.object(leaves, "pieces_of", lambda *given, **keys: [one * 1.001 for one in exact(*given, **keys)])
            )
            _, broken, most = promises(1, 1, lambda _: None)
            assert broken
            assert most > PROMISED
