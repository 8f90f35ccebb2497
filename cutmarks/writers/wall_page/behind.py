"""What stands behind the pieces: findings, what was assumed, remarks, the set-out, the order of work, what to buy."""

from __future__ import annotations

from collections.abc import Iterable

from lxml import etree

from cutmarks.buying.flow import what_to_buy
from cutmarks.checks.model import SAID
from cutmarks.plan import Plan
from cutmarks.saying import wall_words as words
from cutmarks.saying.buying import buy_lines
from cutmarks.saying.dialect import cautions
from cutmarks.saying.findings import worst_first
from cutmarks.saying.gauging import heading_lines, sections, told
from cutmarks.sheets.jobsheet_front import finding_sentence
from cutmarks.writers.wall_page.elements import put


def put_behind(main: etree._Element, plan: Plan) -> None:
    """One section with all of it."""
    section = put(main, "section", id="v-behind", class_="view", aria_labelledby="h-behind")
    put(section, "h2", words.BEHIND, id="h-behind")
    put(put(section, "p", class_="buttons scripted"), "button", words.LIST, data_do="list")
    if plan.findings:
        put(section, "h3", words.FINDINGS)
        for finding in worst_first(plan.findings):
            line = put(section, "p", class_=f"finding {finding.level}")
            put(line, "b", SAID[finding.level]).tail = f" {finding_sentence(finding)}"
    for title, sentences in ((words.ASSUMED, plan.assumed), (words.NOTES, plan.notes)):
        if sentences:
            put(section, "h3", title)
            _listed(section, sentences)
    gauged = told(plan)
    for one in gauged:
        put(section, "h3", f"{words.SET_OUT}: {one.surface.setout.name}")
        _listed(section, heading_lines(one, plan))
        for number, step in enumerate(sections(one, plan), start=1):
            put(section, "h4", f"{number} {step.title}")
            _listed(section, step.lines)
    if gauged:
        put(section, "h3", words.TO_BUY)
        _listed(section, buy_lines(what_to_buy(plan), plan))
    put(section, "h3", words.CAUTIONS)
    _listed(section, cautions(plan.say.words))


def _listed(section: etree._Element, sentences: Iterable[str]) -> None:
    listed = put(section, "ul")
    for sentence in sentences:
        put(listed, "li", sentence)
