"""How the benchmarks judge, with planted figures: no test looks at the clock."""

from __future__ import annotations

from contextlib import AbstractContextManager, contextmanager
from unittest import mock

import pytest

from tests.bench import against_checkout, turns
from tests.bench.sheets_bench import bars
from tests.bench.turns import Bar, bites, held, judged


@pytest.mark.parametrize(
    ("work", "most", "holds"),
    [
        ([3.0, 2.0, 9.0], 2.0, True),  # 2 to 1, at most 2: a slow turn is another program's
        ([3.0, 2.1, 9.0], 2.0, False),
        ([0.4, 0.5], 0.4, True),
    ],
)
def test_the_quickest_turns_are_compared(work, most, holds, capsys):
    assert judged("work", work, [1.0, 5.0], most) is holds
    assert ("holds" if holds else "TOO MUCH") in capsys.readouterr().out


@pytest.fixture
def clock(monkeypatch):
    """Processor time that goes on only where it is told to."""
    now = [0.0]
    monkeypatch.setattr("time.process_time", lambda: now[0])

    def taking(seconds):
        def work():
            now[0] += seconds() if callable(seconds) else seconds

        return work

    return taking


def test_both_take_turns_after_one_that_does_not_count(clock):
    order: list[str] = []

    def told(name, seconds):
        order.append(name)
        return seconds

    one, other = clock(lambda: told("one", 2.0)), clock(lambda: told("other", 0.5))
    assert turns.in_turns(one, other, 2) == ([2.0, 2.0], [0.5, 0.5])
    assert order == ["one", "other"] * 3


@pytest.mark.parametrize(("factor", "caught"), [(1.0, False), (1.9, False), (2.1, True)])
def test_a_bar_bites_where_its_fault_takes_it_over(clock, factor, caught):
    slow = [1.0]

    @contextmanager
    def fault():
        slow[0] = factor
        yield
        slow[0] = 1.0

    def planted() -> AbstractContextManager[object]:
        return fault()

    bar = Bar("work", clock(lambda: 3.0 * slow[0]), clock(3.0), 2.0, planted)
    assert bites(bar, 2) is caught
    assert held(bar, 2)


def test_a_checkout_is_judged_by_its_quickest_round(capsys):
    assert against_checkout.judged([4.0, 5.0], [2.4, 9.0], 0.6)
    assert not against_checkout.judged([4.0, 5.0], [2.41, 2.5], 0.6)
    assert capsys.readouterr().out.count("at most 0.6") == 2


def test_every_bar_of_the_sheets_has_a_fault_that_leaves_the_work_to_be_done(monkeypatch):
    monkeypatch.setattr("tests.bench.sheets_bench.PLANS", 2)
    for bar in bars():
        with bar.fault() as planted:
            assert not isinstance(planted, mock.NonCallableMock)
            bar.work()
        bar.yardstick()
