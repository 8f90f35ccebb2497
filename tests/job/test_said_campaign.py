"""Sentences put together from forms whose figures are known: none is taken wrongly, and one that were is noticed."""

from __future__ import annotations

from collections import Counter

from msgspec.structs import replace

from tests.bench.said_campaign import Drawn, outcome, sentences


def test_none_of_two_hundred_is_taken_wrongly_and_most_are_taken():
    found = [(one.text, *outcome(one)) for one in sentences(200, 7)]
    assert [one for one in found if one[1] == "wrong"] == []
    assert Counter(one[1] for one in found)["taken"] >= 150


def test_a_sentence_that_means_something_else_counts_as_wrong():
    taken = next(one for one in sentences(50, 7) if outcome(one)[0] == "taken")
    turned = Drawn(taken.across.said, tuple(-mm for mm in reversed(taken.across.means)))
    assert outcome(replace(taken, across=turned))[0] == "wrong"
    assert outcome(replace(taken, cover=61.0))[0] == "wrong"
    assert outcome(replace(taken, od=28.0))[0] == "wrong"
