"""Elements of a page: text is text wherever it comes from, and numbers stand in a block that no name can end."""

from __future__ import annotations

import base64
import hashlib
import json
from collections.abc import Callable, Sequence
from typing import BinaryIO, TypeVar

from lxml import etree

from cutmarks.marks.lettering import printable

PartMade = TypeVar("PartMade")
SLOT = "\x00"
"""Stands in a sentence for a figure that the script puts in; no name holds it."""


def put(into: etree._Element, tag: str, text: str = "", **attributes: str) -> etree._Element:
    """One more element; `class_` is its class, an underscore in a name stands for a hyphen."""
    named = {name.rstrip("_").replace("_", "-"): value for name, value in attributes.items()}
    element = etree.SubElement(into, tag, {name: printable(value) for name, value in named.items()})
    if text:
        element.text = printable(text)
    return element


def put_sentence(into: etree._Element, sentence: str, slots: Sequence[str]) -> None:
    """A sentence with an empty element for each SLOT in it: `slots` has their names, in their order."""
    first, *rest = sentence.split(SLOT)
    into.text = printable(first)
    for name, text in zip(slots, rest, strict=True):
        put(into, "b", data_slot=name).tail = printable(text)


def as_data(value: object) -> str:
    """Values as JSON in ASCII, no `<`, `>` or `&` among it: nothing in a name ends a block or begins another."""
    text = json.dumps(value, ensure_ascii=True, separators=(",", ":"), sort_keys=True, allow_nan=False)
    for sign in "<>&":
        text = text.replace(sign, f"\\u{ord(sign):04x}")
    return text


def policy(script: str, style: str) -> str:
    """A content security policy that lets this script and this style run, and nothing in or out."""
    return (
        f"default-src 'none'; script-src '{_hash(script)}'; style-src '{_hash(style)}'; base-uri 'none'; "
        "form-action 'none'"
    )


def _hash(text: str) -> str:
    return f"sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}"


class HtmlOut:
    """A page that is written part by part, each forgotten then: HTML in ASCII, whatever codes a reader guesses."""

    def __init__(self, out: BinaryIO) -> None:
        """Begin it."""
        self._out = out
        self.tag("<!doctype html>\n")

    def tag(self, text: str) -> None:
        """Text that is HTML already."""
        self._out.write(text.encode("ascii"))

    def part(self, build: Callable[[etree._Element], PartMade]) -> PartMade:
        """What is put into an element that stands for where it goes; hands on what that gives."""
        holder = etree.Element("div")
        made = build(holder)
        for child in holder:
            self._out.write(etree.tostring(child, method="html", encoding="ascii"))
        return made
