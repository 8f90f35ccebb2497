"""The wall page as a whole: what stands in it, in which order, all of it readable where no script runs.

Every piece that is not a whole tile is there with its drawing and its figures, in the order of fixing. The script shows
one at a time, puts what was read into the boxes and adds; every sentence that it can answer with stands here, hidden.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from importlib.resources import files
from itertools import groupby
from typing import BinaryIO

from lxml import etree

from cutmarks.openings.model import CutPiece
from cutmarks.plan import Plan
from cutmarks.registering.model import Registration
from cutmarks.saying import wall_words as words
from cutmarks.saying.by_reading import Covers
from cutmarks.saying.findings import held_words
from cutmarks.units import Unit
from cutmarks.writers.wall_page import figures
from cutmarks.writers.wall_page.answers import put_answers
from cutmarks.writers.wall_page.behind import put_behind
from cutmarks.writers.wall_page.elements import HtmlOut, as_data, policy, put
from cutmarks.writers.wall_page.pictures import WallPictures, line_style
from cutmarks.writers.wall_page.piece import put_piece

WALL_PAGE = "wall.html"
STYLE, SCRIPT = "page.css", "page.js"


def write_wall_page(plan: Plan, out: BinaryIO) -> None:
    """Write the page of a plan, piece by piece: one file, the same bytes for the same plan."""
    style, script = _shipped(STYLE) + line_style(), _shipped(SCRIPT)
    inches = plan.say.style.unit is Unit.INCH
    pictures, covers, registered = WallPictures(plan), Covers(plan), _registrations(plan)
    page = HtmlOut(out)
    page.tag('<html lang="en">')
    page.part(lambda into: _head(into, plan, style, script))
    page.tag(f'<body class="{"inch" if inches else "mm"}">')
    page.part(lambda into: _top(into, plan))
    page.tag("<main>")
    data = [_piece(page, plan, number, registered, pictures, covers) for number in range(len(plan.pieces))]
    page.part(lambda into: _list(into, plan))
    page.part(pictures.put_elevations)
    page.part(lambda into: put_behind(into, plan))
    page.part(_send)
    page.tag("</main>")
    page.part(lambda into: _keypad(into, inches))
    page.part(_foot)
    page.part(put_answers)
    page.part(pictures.put_shared)
    pieces = ",".join(data)
    page.tag(
        f'<script type="application/json" id="plan">{{"pieces":[{pieces}],{as_data(figures.of_job(plan))[1:]}</script>'
    )
    page.tag(f"<script>{script}</script></body></html>\n")


def _piece(
    page: HtmlOut,
    plan: Plan,
    number: int,
    registered: Mapping[str, Sequence[Registration]],
    pictures: WallPictures,
    covers: Covers,
) -> str:
    """Write one piece; what the script adds and compares for it."""
    piece = plan.pieces[number]
    registrations = registered.get(piece.name, ())
    return as_data(page.part(lambda into: put_piece(into, plan, piece, number, registrations, pictures, covers)))


def _shipped(name: str) -> str:
    """A file of the package as it goes into the page: without remarks on lines of their own, and without indents."""
    text = files("cutmarks.writers.wall_page").joinpath(name).read_text("utf-8")
    lines = (line.strip() for line in text.splitlines())
    return "\n".join(line for line in lines if line and not line.startswith("//")) + "\n"


def _head(page: etree._Element, plan: Plan, style: str, script: str) -> None:
    head = put(page, "head")
    put(head, "meta", charset="utf-8")
    put(head, "meta", http_equiv="Content-Security-Policy", content=policy(script, style))
    put(head, "meta", name="viewport", content="width=device-width, initial-scale=1")
    put(head, "meta", name="referrer", content="no-referrer")
    put(head, "meta", name="format-detection", content="telephone=no")
    put(head, "title", f"{plan.job}: {words.TITLE}")
    put(head, "style").text = style


def _registrations(plan: Plan) -> Mapping[str, Sequence[Registration]]:
    """The templates of each piece, by its name."""
    found: dict[str, list[Registration]] = defaultdict(list)
    for registration in plan.registrations:
        found[registration.piece].append(registration)
    return found


def _top(body: etree._Element, plan: Plan) -> None:
    header = put(body, "header")
    line = put(header, "p", class_="job")
    put(line, "b", f"job {plan.fingerprint}").tail = " "
    put(line, "span", plan.job)
    put(header, "h1", words.TITLE, class_="unseen")
    put(header, "p", words.NOT_KEPT, id="m-not-kept", class_="alarm", role="alert", hidden="")
    put(put(header, "noscript"), "p", words.NO_SCRIPT, class_="alarm")


def _list(main: etree._Element, plan: Plan) -> None:
    """The list of the day: every piece in the order of fixing, surface by surface, day by day."""
    section = put(main, "section", id="v-list", class_="view with-piece", aria_labelledby="h-list")
    put(section, "h2", words.LIST, id="h-list")
    put(section, "p", words.ALL_FIXED, id="m-all-fixed", class_="note", hidden="")
    held = put(section, "div", id="m-held", hidden="")
    put(held, "p", words.HELD, class_="note")
    put(held, "ul", id="held-list")
    template = put(held, "template", id="t-held-piece")
    item = put(template, "li")
    put(item, "b", data_slot="piece")
    put(item, "span", data_slot="said")
    put(item, "button", words.PUT_AWAY, data_do="away")
    numbered = enumerate(plan.pieces)
    for (surface, day), group in groupby(numbered, key=lambda one: (one[1].piece.surface, one[1].rank.day)):
        put(section, "h3", surface if day == 1 else f"{surface}: day two")
        listed = put(section, "ol", class_="pieces")
        for number, piece in group:
            _listed(listed, plan, piece, number)
    links = put(section, "p", class_="links")
    for number, surface in enumerate(plan.laid):
        put(
            links, "a", f"{words.ELEVATION}: {surface.setout.name}", href=f"#{WallPictures.elevation_name(number)}"
        ).tail = " "
    put(links, "a", words.BEHIND, href="#v-behind").tail = " "
    put(links, "a", words.SEND, href="#v-send", class_="scripted")


def _listed(listed: etree._Element, plan: Plan, piece: CutPiece, number: int) -> None:
    link = put(put(listed, "li"), "a", href=f"#p-{number}", data_listed=str(number))
    put(link, "b", piece.name).tail = " "
    put(link, "span", piece.words).tail = " "
    waits = held_words(plan, piece)
    if waits:
        put(link, "b", waits, class_="waits").tail = " "


def _send(main: etree._Element) -> None:
    """What goes back: initials, the text, and what the other phone sent."""
    section = put(main, "section", id="v-send", class_="view scripted", aria_labelledby="h-send")
    put(section, "h2", words.SEND, id="h-send")
    put(section, "label", words.INITIALS, for_="initials")
    put(section, "input", id="initials", type="text", maxlength="8", autocomplete="off", autocapitalize="characters")
    put(section, "label", words.SENT, for_="sent")
    put(section, "textarea", id="sent", rows="8", readonly="", spellcheck="false", autocomplete="off")
    row = put(section, "p", class_="buttons")
    for do, said in (("refresh", words.REFRESH), ("copy", words.COPY), ("save", words.SAVE), ("share", words.SHARE)):
        put(row, "button", said, data_do=do).tail = " "
    half = put(section, "p", words.HALF_READ, id="m-half", class_="alarm", hidden="")
    put(half, "b", data_slot="half")
    put(section, "p", words.COPIED, id="m-copied", role="status", hidden="")
    put(section, "p", words.NOT_COPIED, id="m-not-copied", role="status", hidden="")
    put(section, "label", words.JOIN, for_="joined")
    put(section, "textarea", id="joined", rows="4", spellcheck="false", autocomplete="off")
    put(section, "label", words.JOIN_FILE, for_="joined-file")
    put(section, "input", id="joined-file", type="file", accept=".txt,.yaml,text/plain")
    put(put(section, "p", class_="buttons"), "button", words.JOIN_NOW, data_do="join")
    joined = put(section, "p", words.JOINED, id="m-joined", role="status", hidden="")
    put(joined, "b", data_slot="joined")
    put(section, "p", words.NOT_JOINED, id="m-not-joined", role="alert", class_="alarm", hidden="")
    put(section, "ul", id="asked-list")
    template = put(section, "template", id="t-asked")
    item = put(template, "li")
    put(item, "b", data_slot="piece").tail = f" {words.ASKED}"
    for do, said in (("mine", words.MINE), ("theirs", words.THEIRS)):
        button = put(item, "button", f"{said}: ", data_do=do)
        put(button, "span", data_slot=do)


def _keypad(body: etree._Element, inches: bool) -> None:
    """The keypad behind each box: whole numbers, and the parts that a tape has."""
    pad = put(body, "div", id="keypad", role="dialog", aria_modal="true", aria_labelledby="h-keypad", hidden="")
    put(pad, "h2", words.KEYPAD, id="h-keypad")
    put(pad, "p", id="typed-for")
    put(pad, "p", id="typed", role="status")
    keys = put(pad, "p", class_="keys")
    for digit in "1234567890":
        put(keys, "button", digit, data_do="digit", data_digit=digit).tail = " "
    put(keys, "button", words.WIPE, data_do="wipe").tail = " "
    parts = put(pad, "p", class_="keys parts")
    # The script shows those that the job's step has.
    for part in ("1/2",) if not inches else _SIXTEENTHS:
        over, under = part.split("/")
        said = "\u00bd" if not inches else part
        put(parts, "button", said, data_do="part", data_over=over, data_under=under).tail = " "
    if inches:
        put(parts, "button", "+ 1/32", data_do="odd", data_under="32").tail = " "
    row = put(pad, "p", class_="buttons")
    put(row, "button", words.CANCEL, data_do="leave").tail = " "
    put(row, "button", words.ENTER, data_do="enter", class_="strong")


_SIXTEENTHS = (
    *("1/16", "1/8", "3/16", "1/4", "5/16", "3/8", "7/16", "1/2"),
    *("9/16", "5/8", "11/16", "3/4", "13/16", "7/8", "15/16"),
)


def _foot(body: etree._Element) -> None:
    """Where a thumb is."""
    foot = put(body, "nav", class_="foot scripted", aria_label=words.TITLE)
    row = put(foot, "p", class_="buttons")
    for key, word in words.TICKS:
        put(row, "button", word, class_="with-piece", data_do="tick", data_tick=key, aria_pressed="false")
    put(row, "button", words.UNDO, data_do="undo", disabled="")
    put(row, "button", words.LIST, data_do="list")
    put(row, "button", words.ONWARD, data_do="onward", class_="strong")
