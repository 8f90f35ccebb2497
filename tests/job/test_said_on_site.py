"""What people say on site who have not seen the grammar: none is taken wrongly, and hardly any is turned away.

The phrases were collected from readers who knew the settings alone; what each means they wrote beside it, and `expect`
was worked by hand from that (a foot is 12 in, half a step of a tape is 0.5 mm or 1/32 in).
"""

from __future__ import annotations

from collections import Counter

import pytest

from tests.bench.phrases import LEAST, SAID, said, verdicts

UNSEEN = SAID.with_name("said_unseen.tsv")
LEAST_TAKEN = 181
"""Of the two hundred; thirteen of the others can mean two things, by who wrote them."""
ONE_LINE = SAID.with_name("said_in_one_line.tsv")


@pytest.fixture(scope="module")
def found():
    return list(verdicts(said()))


def test_there_are_two_hundred_or_more_of_two_countries(found):
    counts = Counter(verdict.row["say"] for verdict in found)
    assert len(found) >= 200
    assert min(counts.values()) >= 100


def test_none_is_taken_wrongly(found):
    assert [f"{one.row['phrase']}: {one.told}" for one in found if one.outcome == "wrong"] == []


def test_nine_of_ten_are_taken_or_asked_back_in_words_that_lead_on(found):
    counts = Counter(verdict.outcome for verdict in found)
    assert counts["taken"] + counts["asked"] >= LEAST * len(found)


def test_what_can_mean_two_things_is_never_taken(found):
    taken = [one.row["phrase"] for one in found if one.outcome == "taken" and "ask" in one.row]
    assert taken == []


def test_a_file_of_sentences_is_read_with_what_must_come_out():
    """Its expectations were written from what each sentence says, before it was read."""
    found = list(verdicts(said(ONE_LINE)))
    assert len(found) >= 60
    assert [f"{one.row['phrase']}: {one.told}" for one in found if one.outcome in ("wrong", "refused")] == []
    assert Counter(one.outcome for one in found)["asked"] >= 9


@pytest.fixture(scope="module")
def unseen():
    return list(verdicts(said(UNSEEN)))


def test_two_hundred_of_readers_who_had_not_seen_the_grammar_are_taken(unseen):
    assert len(unseen) == 200
    assert [f"{one.row['phrase']}: {one.told}" for one in unseen if one.outcome == "wrong"] == []
    assert Counter(one.outcome for one in unseen)["taken"] >= LEAST_TAKEN


def test_what_is_not_taken_of_them_is_asked_in_words_that_lead_on(unseen):
    turned_away = [one for one in unseen if one.outcome in ("asked", "refused")]
    assert turned_away
    assert [one.told for one in turned_away if "write" not in one.told and "begin with" not in one.told] == []
    assert [one.row["phrase"] for one in unseen if one.outcome == "taken" and "ask" in one.row] == []


def test_what_is_expected_of_a_file_can_fail(tmp_path):
    path = tmp_path / "own.tsv"
    path.write_text(
        "hot, 15 copper, 64 to 80 left of V, 92 to 107 above B\tacross = -80 to -64 V; up = 92 to 107 B; od = 15\n"
        "hot, 15 copper, 64 to 80 left of V, 92 to 107 above B\tacross = 64 to 80 V\n"
        "hot, 15 copper, 64 to 80 left of V, 92 to 107 above B\task\n"
        "hot, 15 copper, 64 to 80, 92 to 107 above B\task = from what\n"
        "hot, 15 copper, 64 to 80, 92 to 107 above B\task = something else\n"
        "# key: edge left\nLH wall 1206 top, 1211 btm from V\tat = -1206 top | -1211 bottom\n"
        "LH wall 1206 top, 1211 btm from V\tat = -1206 bottom | -1211 top\n",
        encoding="utf-8",
    )
    assert [one.outcome for one in verdicts(said(path))] == [
        *("taken", "wrong", "wrong", "asked", "refused", "taken", "wrong")
    ]
