"""What the script can answer with: every sentence once, in a template, with slots for names and figures."""

from __future__ import annotations

from lxml import etree

from cutmarks.checks.model import SAID
from cutmarks.checks.returned import disagree_words, too_far_words
from cutmarks.openings.found import nothing_left_words, too_wide_words
from cutmarks.saying import wall_words as words
from cutmarks.writers.wall_page.elements import SLOT, put, put_sentence

_STOP, _CHECK = SAID["stop"], SAID["warn"]
_HOLE, _PIECE = "hole", "piece"


def put_answers(body: etree._Element) -> None:
    """The templates, each by its name."""
    too_far = too_far_words(SLOT, SLOT, SLOT, SLOT), (_HOLE, _PIECE, "off", "limit")
    apart = disagree_words(SLOT, SLOT, SLOT, SLOT), (_HOLE, _PIECE, "found", "wide")
    moved = words.moved_template_words(SLOT, SLOT), ("sheet", "right")
    moved_on = words.moved_on_words(SLOT, SLOT), ("sheet", "sheet")
    none_left = nothing_left_words(SLOT, SLOT, SLOT), ("opening", _PIECE, "off")
    too_wide = too_wide_words(SLOT, SLOT, SLOT, SLOT), ("opening", "size", _PIECE, "whole")
    for name, label, kind, (sentence, slots) in (
        ("far", _STOP, "stop", too_far),
        ("apart-stop", _STOP, "stop", apart),
        ("apart-warn", _CHECK, "warn", apart),
        ("otherwise", _STOP, "stop", (words.otherwise_words(SLOT), ("sheet",))),
        ("held", "", "stop", (words.NO_FIGURES, ())),
        ("moving", "", "moved", (words.moving_words(SLOT), ("sheet",))),
        ("moved", "", "moved", moved),
        ("moved-on", "", "moved", moved_on),
        ("moves-too", "", "moved", (words.moves_too_words(SLOT, SLOT), ("hole", "others"))),
        ("moved-there", "", "moved", (words.moved_there_words(SLOT, SLOT), ("hole", "others"))),
        ("nothing-left", _STOP, "stop", none_left),
        ("too-wide", _STOP, "stop", too_wide),
    ):
        line = put(put(body, "template", id=f"t-{name}"), "p", class_=kind, role="alert", data_told=name)
        if label:
            put(line, "b", label).tail = " "
        put_sentence(put(line, "span"), sentence, slots)
    _put_steps(put(body, "template", id="t-steps"))
    put(put(body, "template", id="t-as"), "button", words.AS_EXPECTED, data_do="as", aria_pressed="false")
    put(put(body, "template", id="t-read"), "span", words.ALL_READ, class_="ticked")
    put(put(body, "template", id="t-moved-at"), "span", words.MOVED_THERE, class_="ticked")
    count = put(put(body, "template", id="t-count"), "span", class_="count", role="status")
    put(count, "b", words.NOT_YET, class_="less").tail = " "
    put_sentence(put(count, "span"), words.read_so_far_words(SLOT, SLOT), ("read", "of"))


def _put_steps(template: etree._Element) -> None:
    """What stands beside and behind a figure that is read."""
    row = put(template, "div", class_="steps")
    put(row, "button", "\u2212", data_do="step", data_by="-1", aria_label=words.LESS)
    put(row, "button", class_="figure", data_do="type", title=words.TYPE)
    put(row, "button", "+", data_do="step", data_by="1", aria_label=words.PLUS)
    for when, said in (("expected", words.EXPECTED), ("found", words.FOUND), ("as", words.AS_EXPECTED)):
        put(template, "span", f" {said}", class_="state", data_when=when)
