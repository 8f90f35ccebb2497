"""What stands behind the pieces: findings, what was assumed, remarks, and what was set out."""

from __future__ import annotations

from lxml import etree

from cutmarks.checks.model import SAID
from cutmarks.plan import Plan
from cutmarks.saying import wall_words as words
from cutmarks.saying.dialect import cautions
from cutmarks.saying.findings import worst_first
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
            listed = put(section, "ul")
            for sentence in sentences:
                put(listed, "li", sentence)
    for surface in plan.surfaces:
        put(section, "h3", f"{words.SET_OUT}: {surface.setout.name}")
        listed = put(section, "ul")
        for line in surface.setout.lines.values():
            put(listed, "li", f"{line.name}: {line.words}")
    put(section, "h3", words.CAUTIONS)
    listed = put(section, "ul")
    for sentence in cautions(plan.say.words):
        put(listed, "li", sentence)
