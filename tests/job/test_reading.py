"""What is typed and must not be lost in silence: each trap of YAML has its own sentence, with its line."""

from __future__ import annotations

import pytest

from cutmarks.job.reading import MOST_FAULTS, read_tree
from tests.job.jobs import WALL, changed, faults, job, only_fault

QUOTES = "which YAML keeps for"


def read(text: str) -> dict[str, object]:
    tree, _, told, whole = read_tree(text, "job.yaml")
    assert whole, told
    assert not told, told
    return dict(tree)


def told(text: str) -> list[str]:
    return [str(fault) for fault in read_tree(text, "job.yaml")[2]]


@pytest.mark.parametrize(
    "name", ["010", "3.2", "2024-01-05", "no", "null", "~", "0x1F", "1e3", "12:30:45", ".inf", "yes"]
)
def test_every_scalar_stays_the_text_that_was_typed(name):
    assert read(f"name: {name}\n") == {"name": name}


@pytest.mark.parametrize(
    ("typed", "kept"),
    [
        ("name: pipe #1\n", "pipe #1"),
        ("name: pipe # 1\n", "pipe # 1"),
        ("name: #1\n", "#1"),
        ("name: pipe  #hot\n", "pipe #hot"),
    ],
)
def test_a_glued_number_sign_would_drop_the_rest(typed, kept):
    assert told(typed) == [
        f'job.yaml line 1: YAML drops all behind #: put the value in quotes, as in "{kept}", '
        "or begin a remark with two blanks, # and a blank."
    ]


@pytest.mark.parametrize(
    ("typed", "value"),
    [
        ("name: hot # the left one\n", "hot"),
        ("name: hot   # 2 of them\n", "hot"),
        ("#name: cold\nname: hot\n", "hot"),
        ('name: "pipe #1"\n', "pipe #1"),
        ("name: pipe#1\n", "pipe#1"),
        ("name: hot  ###\n", "hot"),
    ],
)
def test_a_remark_is_a_remark(typed, value):
    assert read(typed) == {"name": value}


def test_a_remark_behind_a_key_that_holds_other_keys_loses_nothing():
    assert read("holes: #what comes through\n  name: hot\n") == {"holes": {"name": "hot"}}


@pytest.mark.parametrize("where", ["[74,5 right of V, 80 right of V]", "{across: 74,5 right of V}"])
def test_a_decimal_comma_in_a_list_or_braces_splits(where):
    assert told(f"at: {where}\n") == [
        "job.yaml line 1: 74,5 is split by its comma: write 74.5 for a decimal, or 74, 5 with a blank for two values."
    ]


def test_two_sizes_in_inches_in_braces_split():
    assert told('rib: {size: 6", 12"}\n') == [
        'job.yaml line 1: "12"" stands behind a comma and has no colon: inside { } a comma ends a value. '
        "Put a value that has a comma in quotes, write a decimal with a point (74.5), and sizes with x."
    ]


def test_a_decimal_comma_outside_a_list_has_its_sentence():
    fault = only_fault(changed("across: 67 to 83", "across: 67,5 to 83"))
    assert fault == 'job.yaml line 18, hole "hot", across: "67,5" has a comma in a number: write 67.5.'


def test_a_tab_in_the_indent_is_told_for_each_line():
    assert told("surfaces:\n\tname: a\n\tkind: wall\n") == [
        "job.yaml line 2: A Tab stands before the first word of this line: YAML takes blanks only, "
        "write two for each step.",
        "job.yaml line 3: A Tab stands before the first word of this line: YAML takes blanks only, "
        "write two for each step.",
    ]


def test_a_tab_between_words_is_a_blank():
    assert read("name:\thot\nwhat:  15 copper\t# the left one\n") == {"name": "hot", "what": "15 copper"}


def test_a_question_mark_alone_is_taken_in_a_line_and_in_braces():
    assert read("cover: ?\nhole: {cover: ?, end: ?}\nlist: [?, ?]\n") == {
        "cover": "?",
        "hole": {"cover": "?", "end": "?"},
        "list": ["?", "?"],
    }


@pytest.mark.parametrize(
    ("typed", "character", "kept", "value"),
    [
        ("at: @1100\n", "@", "itself", "@1100"),
        ("other: *hot\n", "*", "aliases", "*hot"),
        ("other: &hot 3\n", "&", "anchors", "&hot 3"),
        ("other: !hot 3\n", "!", "tags", "!hot 3"),
        ("other: %hot\n", "%", "directives", "%hot"),
        ("other: `hot`\n", "`", "itself", "`hot`"),
        ("hole: {other: *hot, up: 3}\n", "*", "aliases", "*hot"),
    ],
)
def test_characters_that_yaml_keeps_for_itself(typed, character, kept, value):
    assert told(typed) == [
        f'job.yaml line 1: A value cannot begin with {character}, {QUOTES} {kept}: put it in quotes, as in "{value}".'
    ]


def test_a_python_tag_is_refused_and_nothing_is_run():
    told_ = told("job: !!python/object/apply:os.system ['true']\n")
    assert told_[0].startswith("job.yaml line 1: A value cannot begin with !, which YAML keeps for tags")


def test_a_merge_key_is_refused():
    assert told("<<: x\n") == [
        'job.yaml line 1: Merge keys (<<) are not taken: write the keys out, or put a name of "<<" in quotes.'
    ]


@pytest.mark.parametrize("typed", ["note: tap: hot\n", "hole: {note: tap: hot}\n"])
def test_a_second_colon(typed):
    assert told(typed) == [
        "job.yaml line 1: A second colon with a blank behind it stands in this line: "
        'put the value in quotes, as in "tap: hot".'
    ]


def test_traps_are_told_all_at_once_with_the_faults_of_the_values():
    text = (
        changed("what: 15 copper", "what: 15 copper #left")
        .replace("cover: 65", "cover: @65")
        .replace("joint: 3", "joint: 3 mn")
    )
    assert faults(text) == [
        'job.yaml line 13, area "splash", joint: "mn" behind 3 is no unit: write mm, cm, m, in or ft.',
        'job.yaml line 17: YAML drops all behind #: put the value in quotes, as in "15 copper #left", '
        "or begin a remark with two blanks, # and a blank.",
        'job.yaml line 20: A value cannot begin with @, which YAML keeps for itself: put it in quotes, as in "@65".',
    ]


def test_a_key_written_twice_names_both_lines():
    assert told("job: a\nunits: mm\njob: b\n") == [
        'job.yaml line 3: "job" is written a second time, first in line 1: keep one.'
    ]


def test_two_documents_are_refused_and_one_is_not():
    assert told("--- # ours\njob: a\n") == []
    assert told("job: a\n---\njob: b\n") == ["job.yaml line 2: A second --- begins here: write one job in one file."]


@pytest.mark.parametrize(
    ("typed", "fault"),
    [
        (
            "job: a\n  units: mm\n",
            "job.yaml line 2: This line does not stand under the lines before it: begin all keys of one thing in the "
            "same column, and put a value that begins with a quotation mark in quotes as a whole.",
        ),
        (
            'job: "a\nunits: mm\n',
            "job.yaml line 1: A quotation mark opens here and does not close: "
            "close it, or put the value between ' and '.",
        ),
        (
            "areas: [a, b\nunits: mm\n",
            "job.yaml line 2: A [ or { from line 1 is not closed, or a comma is missing: close it, "
            "and put values with odd characters in quotes.",
        ),
        ("areas: {joint:3}\n", 'job.yaml line 1: "joint:3" has no blank behind its colon: write joint: 3.'),
        (
            "job a\n",
            'job.yaml line 1: "job a" has no key before it: a job begins with a line such as job: Quay Cottage.',
        ),
        (
            "- job\n",
            "job.yaml line 1: This list has no key before it: a job begins with a line such as job: Quay Cottage.",
        ),
        ("areas: - a\n", "job.yaml line 1: A list cannot begin here: put the - on a line of its own."),
        ("job: a\x07\n", "job.yaml line 1: A control character (U+0007) stands in this line: take it out."),
        (
            'job: "C:\\pipes"\n',
            "job.yaml line 1: A \\ stands inside double quotes: use ' and ' there, or write / instead.",
        ),
        ("[a]: b\n", "job.yaml line 1: A key is one text: a list or braces cannot stand before a colon."),
    ],
)
def test_what_yaml_cannot_read_has_our_own_sentence(typed, fault):
    assert told(typed) == [fault]


def test_no_sentence_is_the_librarys():
    for typed in ("a: {b\n", "a: ]\n", "a: >x\n", "a: |x\n", "a: 'b' c\n", "a\nb: c\n", "? [a]\n: b\n", "a: - b\n"):
        for sentence in told(typed):
            assert "while" not in sentence
            assert "expected" not in sentence
            assert "unicode string" not in sentence


def test_a_job_is_not_deep():
    nested = "a: " + "{b: " * 30 + "c" + "}" * 30 + "\n"
    assert told(nested) == ["job.yaml line 1: This is more than 20 deep: a job needs seven."]


def test_a_file_full_of_faults_is_not_read_to_its_end():
    tree, _, found, whole = read_tree("k: v #x\n" * (MOST_FAULTS + 50), "job.yaml")
    assert tree
    assert not whole
    assert str(found[-1]).endswith(f"There are over {MOST_FAULTS} faults: the rest was not read.")


@pytest.mark.parametrize(
    ("typed", "across"),
    [
        ("across: 66½ to 83 left of V", (-83.0, -66.5)),
        ("across: 67 – 83 left of V", (-83.0, -67.0)),
        ("across: 2 ½” to 3’ left of V", (-914.4, -63.5)),
        ("across: 67mm to 83mm left of V", (-83.0, -67.0)),
        ("across: 6.7 cm to 8.3 cm left of V", (-83.0, -67.0)),
        ("across: 67\u00a0to\u00a083 left of\u00a0V", (-83.0, -67.0)),
    ],
)
def test_what_the_phone_types_is_taken(typed, across):
    """By hand: 2 1/2 in is 63.5 mm, 3 ft is 914.4 mm."""
    hole = job(changed("across: 67 to 83 left of V", typed)).surfaces[0].holes[0]
    assert hole.across is not None
    assert (hole.across.low, hole.across.high) == pytest.approx(across, abs=1e-9)


def test_the_phones_times_sign_is_taken():
    assert job(changed("297 x 97", "297 × 97")).tiles["rib"].size.second == 97.0


def test_a_bare_half_in_a_millimetre_job_is_a_fault():
    fault = only_fault(changed("across: 67 to 83", "across: 1/2 to 83"))
    assert fault == (
        'job.yaml line 18, hole "hot", across: 1/2 is a fraction with no unit, and lengths here are in mm: '
        'write 1/2" if it is inches, else a decimal.'
    )


def test_names_are_text_whatever_yaml_thinks():
    for name in ("010", "3.2", "2024-01-05", "no"):
        assert job(changed("name: hot", f"name: {name}")).surfaces[0].holes[0].name == name


def test_the_job_that_the_tests_change_is_good():
    assert job(WALL).assumed == ()
