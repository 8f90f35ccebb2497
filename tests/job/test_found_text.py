"""The file of what was found, written anew: nothing of the user's own goes, and what is kept is what was said."""

from __future__ import annotations

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec import Struct

from cutmarks.errors import JobError
from cutmarks.job.found_file import read_kept
from cutmarks.job.found_text import HEAD, with_entries, without_entry
from cutmarks.job.reading import read_tree
from cutmarks.job.tree import plain

FILE = "laundry.found.yaml"
ENTRY = {"piece": "splash 3-4", "note": "it's tight: 1 # at the back"}
WRITTEN = "  - piece: 'splash 3-4'\n    note: 'it''s tight: 1 # at the back'\n"
"""The entry as YAML 1.2 has it: in single quotes a quote is written twice, and nothing else is special (7.3.2)."""


def entries(text: str) -> list[object]:
    kept = read_kept(text, FILE)
    assert kept.faults == ()
    return [plain(node) for _, node in kept.entries]


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("", f"{HEAD}found:\n{WRITTEN}"),
        ("\n\n", f"{HEAD}found:\n{WRITTEN}"),
        ("found:\n", f"found:\n{WRITTEN}"),
        ("found: []\n", f"found:\n{WRITTEN}"),
        ("Found: [ ]", f"Found:\n{WRITTEN}"),
        ("# all out\n", f"# all out\nfound:\n{WRITTEN}"),
        ("# all out", f"# all out\nfound:\n{WRITTEN}"),
        ("---\n# all out\n", f"# all out\nfound:\n{WRITTEN}"),
        ("found:  # nothing yet\n", f"found:  # nothing yet\n{WRITTEN}"),
        ("found:\n  - piece: 3-1  # mine\n", f"found:\n  - piece: 3-1  # mine\n{WRITTEN}"),
        ("found: [{piece: 3-1}]\n", f"found:\n  - {{piece: 3-1}}\n{WRITTEN}"),
        ("found:\r\n  - piece: 3-1\r\n", f"found:\n  - piece: 3-1\n{WRITTEN}".replace("\n", "\r\n")),
    ],
)
def test_one_more_entry(before: str, after: str) -> None:
    assert with_entries(before, [ENTRY], FILE) == after


def test_what_was_typed_stays_as_it_was_typed() -> None:
    """No text becomes a number, a day, a yes or a nothing, and a list that stands in differently goes on so."""
    typed = 'found:\n    -   piece: 010\n        tile: "247 x 398"\n        cut: yes\n        date: 2026-03-14\n'
    assert with_entries(typed, [{"piece": "a"}], FILE) == f"{typed}    -   piece: 'a'\n"


def test_an_entry_taken_out_leaves_every_remark() -> None:
    text = (
        "# ours\nfound:\n  # above the first\n  - piece: 3-1  # of the first\n    cut: yes\n\n"
        "  # above the second\n  - piece: 3-2\n# below\n"
    )
    assert without_entry(text, 0, FILE) == (
        "# ours\nfound:\n  # above the first\n  # of the first\n  # above the second\n  - piece: 3-2\n# below\n"
    )
    assert without_entry(text, 1, FILE) == (
        "# ours\nfound:\n  # above the first\n  - piece: 3-1  # of the first\n    cut: yes\n\n"
        "  # above the second\n  # below\n"
    )


def test_the_last_entry_taken_out_leaves_an_empty_list() -> None:
    assert without_entry("found:\n  - piece: 3-1\n", 0, FILE) == "found: []\n"
    assert without_entry("found:\n  - piece: 3-1  # why\n", 0, FILE) == "found: []\n  # why\n"


@pytest.mark.parametrize("empty", ["", "\n", "found:\n", "found: []\n", "# all out\n", "---\n", "found:\n# all out\n"])
def test_an_empty_list_is_a_list(empty: str) -> None:
    assert entries(empty) == []


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        (
            "found: [ {piece: 3-1, # why\n  note: x} ]\n",
            f'{FILE} line 1: The remark "# why" would be lost when this list is written anew: put it on a line of its '
            "own, above an entry that begins with - and has one key a line.",
        ),
        (
            "- piece: 3-1\n",
            f"{FILE} line 1: This list has no key before it: this file begins with the line found:, and each entry "
            "with - on a line of its own.",
        ),
        (
            "found: 3\n",
            f'{FILE} line 1: This file holds one list, under "found:", and nothing else: '
            "put the rest into the job file.",
        ),
    ],
)
def test_what_cannot_be_written_anew_is_said_with_its_line(text: str, sentence: str) -> None:
    with pytest.raises(JobError) as refused:
        with_entries(text, [ENTRY], FILE)
    assert str(refused.value) == sentence


def test_a_file_that_would_be_too_long_to_be_read_is_not_written() -> None:
    full = "found:\n  - piece: 3-1\n    note: x\n" + "#" * 1_999_950 + "\n"
    with pytest.raises(JobError, match="over 2 MB, the most that is read"):
        with_entries(full, [ENTRY], FILE)


@given(st.dictionaries(st.sampled_from(["piece", "left", "note"]), st.text(min_size=1, max_size=30), min_size=1))
def test_what_is_kept_is_read_again_as_it_was(entry: dict[str, str]) -> None:
    """Any words that can be printed come back, blanks as one."""
    entry = {key: " ".join("".join(c for c in value if c.isprintable()).split()) or "x" for key, value in entry.items()}
    text = with_entries(with_entries("", [{"piece": "a 1-1"}], FILE), [entry], FILE)
    tree, _, faults, whole = read_tree(text, FILE)
    assert whole
    assert not faults
    assert plain(tree) == {"found": [{"piece": "a 1-1"}, entry]}


class ByHand(Struct, frozen=True, dict=True):
    """A file as somebody types it: its text, what it holds, and how many remarks "# r0", "# r1", ... are in it.

    plainly  nothing in it but what README shows: entries of one key a line, remarks on lines of their own or behind.
    """

    text: str
    holds: list[dict[str, str]]
    remarks: int
    plainly: bool


VALUES = ("70 to 85", "'it''s'", '"a: b, # no remark"', "010", "2026-03-14", "yes", "?", "x\n\n            y", "")
MEANT = {
    "'it''s'": "it's",
    '"a: b, # no remark"': "a: b, # no remark",
    "x\n\n            y": "x y",
}
"""What a value means, where it is not what was typed: quotes taken off, line breaks as blanks."""
KEYS = ("piece", "hole", "note")


@st.composite
def by_hand(draw: st.DrawFn) -> ByHand:
    """A file with remarks wherever YAML takes one."""
    plainly = draw(st.booleans())
    count = 0

    def remark(before: str, often: int = 3) -> str:
        nonlocal count
        if draw(st.integers(0, often)):
            return ""
        count += 1
        return f"{before}# r{count - 1}"

    def line(indent: int) -> str:
        return f"{typed}\n" if (typed := remark(" " * indent)) else "\n" if draw(st.integers(0, 5)) == 0 else ""

    def value() -> str:
        return draw(st.sampled_from(VALUES[:6] if plainly else VALUES))

    dash, gap = draw(st.integers(0, 4)), draw(st.integers(1, 3))
    text = f"{line(0)}{line(0)}found:{remark('  ')}\n{line(dash)}"
    holds = []
    for _ in range(draw(st.integers(0, 4))):
        said = {key: value() for key in KEYS[: draw(st.integers(1, 3))]}
        if not plainly and draw(st.booleans()):
            said = {key: typed for key, typed in said.items() if "\n" not in typed and typed != "?"} or {"piece": "3"}
            inside = ", ".join(f"{key}: {typed}" for key, typed in said.items())
            text += f"{' ' * dash}-{' ' * gap}{{{inside}}}{remark('  ')}\n"
        else:
            for number, (key, typed) in enumerate(said.items()):
                lead = f"{' ' * dash}-{' ' * gap}" if number == 0 else " " * (dash + 1 + gap)
                text += f"{lead}{key}: {typed}{remark('  ')}\n"
                if number < len(said) - 1:
                    text += line(draw(st.sampled_from([0, dash + 1 + gap])))
        holds.append({key: MEANT.get(typed, typed) for key, typed in said.items()})
        text += line(draw(st.sampled_from([0, dash])))
    if draw(st.booleans()):
        text = text.replace("\n", "\r\n")
    return ByHand(text, holds, count, plainly)


YAML_SIGNS = ("- x", "? ", "#", "a # b", "'", '"', "''\"\"", "a: b", "{", "[x", "&a", "*a", "!a", "%a", "@a", "`", "|")
OTHERS = (
    ">",
    "\\n",
    "---",
    "...",
    "\u00e9\u4e2d\U0001f6b0",
    "x  ",
    "two\nlines",
    "~",
    "null",
    "yes",
    "\ufeffx",
    "\x85",
)
ODD = st.text(min_size=1, max_size=20) | st.sampled_from([*YAML_SIGNS, *OTHERS])


def printable(words: str) -> str:
    """What a job takes as words: `free_words` refuses the rest before anything is written."""
    return " ".join("".join(c for c in words if c.isprintable() or c.isspace()).split()) or "x"


@settings(max_examples=120)
@given(by_hand(), st.lists(ODD | st.integers(0, 5), min_size=1, max_size=5))
def test_whatever_is_found_and_taken_back_the_file_stays_whole(typed: ByHand, steps: list[str | int]) -> None:
    """A text is a note to keep, a number an entry to take back: what was there stays, remark for remark."""
    text, holds = typed.text, list(typed.holds)
    assert entries(text) == holds
    for step in steps:
        if isinstance(step, int) and step >= len(holds):
            continue
        new, refused = changed(text, step)
        if new is None:
            # Only where a remark stands in a place that the library does not keep, and then the line is said.
            assert not typed.plainly, refused
            assert re.match(f'{FILE} line [0-9]+: The remark "# r[0-9]+" would be lost', refused)
            return
        text, holds = new, after(holds, step)
        assert entries(text) == holds
        for number in range(typed.remarks):
            assert len(re.findall(rf"# r{number}\b", text)) == 1


def changed(text: str, step: str | int) -> tuple[str | None, str]:
    """The text after one step; or None, and the sentence that refuses it."""
    try:
        if isinstance(step, int):
            return without_entry(text, step, FILE), ""
        return with_entries(text, [{"piece": "a 1", "note": printable(step)}], FILE), ""
    except JobError as refused:
        return None, str(refused)


def after(holds: list[dict[str, str]], step: str | int) -> list[dict[str, str]]:
    """What the file should hold after one step."""
    if isinstance(step, int):
        return [*holds[:step], *holds[step + 1 :]]
    return [*holds, {"piece": "a 1", "note": printable(step)}]
