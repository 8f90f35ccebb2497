"""Whatever is typed, a job is refused in sentences or taken: nothing else escapes."""

from __future__ import annotations

import contextlib
import re

from hypothesis import example, given, settings
from hypothesis import strategies as st

from cutmarks.errors import JobError
from cutmarks.job import Setting, parse_bare, parse_bond, parse_job, parse_place, parse_reading, parse_size, parse_spot
from cutmarks.job.laying import parse_line, parse_run, parse_start
from cutmarks.units import Unit
from tests.job.jobs import FLOOR, WALL

ODD = st.sampled_from(
    [
        *"#:,-?@*&!%|>'\"{}[]`\\\t\n ½”’–×\u00a0\u202e\x00\x85\ufeff0123456789./abVB=<",
        "67 to 83",
        " left of V",
        "above B",
        "in course 4",
        " # ",
        ": ",
        "- ",
        "? ",
        "<<: ",
        "---\n",
        "nan",
        "1e9",
        "1/2",
        "'''",
    ]
)
SETTINGS = [
    Setting(lines={"V": "x", "B": "y"}, holes={"hot": "hot"}, areas={"a": "a"}),
    Setting(unit=Unit.INCH, say="us"),
    Setting(kind="floor", lines={"V": "x", "D": "y"}),
]


def refused_in_sentences(text: str) -> None:
    refused = None
    try:
        parse_job(text, "job.yaml")
    except JobError as error:
        refused = error
    for fault in () if refused is None else refused.faults:
        sentence = str(fault)
        assert sentence.startswith("job.yaml line ")
        assert "\n" not in sentence
        assert sentence.isprintable()
        assert sentence[-1] in ".?"
        assert fault.line is not None
        assert 1 <= fault.line <= len(re.split("\r\n|[\n\r\x85\u2028\u2029]", text))
    assert refused is None or refused.faults


@settings(max_examples=150)
@given(st.text(max_size=200) | st.lists(ODD, max_size=40).map("".join))
@example("a: [")
@example("? ")
@example("\ufeff")
@example("job: [a, &b c]\n")
@example("a:\n- b\n- - c\n")
@example("tiles: {rib: }\nsurfaces: [?, 3, {areas: 4, lines: [a], edges: 3, gaps: [2], holes: {a: b}}]\n")
@example("surfaces:\n - {holes: [{corners: 3, name: [a]}], edges: {left: [[a]], right: {steps: {a: b}}}, kind: []}\n")
@example(
    "surfaces: [{holes list: [a], windows: {a: b}, doors: [3], lines: {V: [a]}, areas: [{start: [a, b], name: x}]}]\n"
)
@example("tiles: [a]\nunits: [mm]\nsay: {a: b}\naccept: [{rule: [a]}, 3]\n")
def test_any_text(text):
    refused_in_sentences(text)


@settings(max_examples=150)
@given(st.sampled_from([WALL, FLOOR]), st.data())
def test_a_good_job_with_a_slip_of_the_finger(text, data):
    at = data.draw(st.integers(0, len(text)))
    length = data.draw(st.integers(0, 12))
    slip = "".join(data.draw(st.lists(ODD, max_size=3)))
    refused_in_sentences(text[:at] + slip + text[at + length :])


@settings(max_examples=300)
@given(
    st.sampled_from(SETTINGS),
    st.sampled_from(["across", "up"]),
    st.text(max_size=40) | st.lists(ODD, max_size=8).map("".join),
)
def test_any_phrase(setting, axis, phrase):
    for parse in (
        lambda: parse_reading(phrase, axis, setting),
        lambda: parse_place(phrase, axis, setting),
        lambda: parse_start(phrase, axis, setting),
        lambda: parse_spot(phrase, setting),
        lambda: parse_line(phrase, setting),
        lambda: parse_bare(phrase, setting.unit),
        lambda: parse_size(phrase, setting.unit),
        lambda: parse_run(phrase, setting.unit),
        lambda: parse_bond(phrase, setting.unit),
    ):
        with contextlib.suppress(ValueError):
            value = parse()
            assert value is not None


@given(
    st.integers(0, 5000),
    st.integers(1, 300),
    st.sampled_from(
        ["{} to {} right of V", "{}-{} right of V", "{} – {}   right of V", "{} mm to {} mm to the right of V"]
    ),
)
def test_both_sides_come_back_as_they_were_typed(near, width, phrase):
    reading = parse_reading(phrase.format(near, near + width), "across", SETTINGS[0])
    assert (reading.low, reading.high) == (near, near + width)
    mirrored = parse_reading(phrase.format(near, near + width).replace("right", "left"), "across", SETTINGS[0])
    assert (mirrored.low, mirrored.high) == (-near - width, -near)
