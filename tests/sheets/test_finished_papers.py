"""Plotter sheets and rolls, from a job file to the finished PDF: the pages' sizes by hand, and all else measured.

A tile 597 x 1198 (or 1000 x 2003) with a hole high up: on desktop papers it goes by tape, on a plotter whole or from
its corner.
"""

from __future__ import annotations

from textwrap import dedent

import pytest

from cutmarks.job import parse_job
from cutmarks.plan import make_plan
from cutmarks.sheets.build import build_pack
from cutmarks.writers.pdf import pdf_bytes
from tests.sheets.ink import inked_pages
from tests.sheets.printed import faults_of

JOB = """
    job: Ferry House, utility
    paper: {paper}
    {wish}
    tiles: {{tall: {{size: {size}, lay: long side up, measured: yes}}}}
    surfaces:
      - name: wall
        kind: wall
        lines: {{V: "plumb, left end", B: "level, top of the batten"}}
        areas:
          - {{name: field, tile: tall, joint: 2, from: B, start: {{across: left on V, up: sits on B}}}}
        holes:
          - {{name: riser, what: 15 copper, across: 405 to 420 right of V, up: 900 to 915 above B, cover: 65}}
          - {{name: box, size: 72 x 72, across: centre 100 right of V, up: centre 300 above B, cover: 86 x 86}}
    """
# A roll goes on after the tile: head 34, panels 58, black 10, foot 16.5, and at both ends 20 for the margin, 5 for the
# frame and 8.5 for the edge, up to the next ten: 1198 + 118.5 + 67 = 1383.5, so 1390; 2003 + 185.5 = 2188.5, so 2190.
PAGES = {
    ("A2", "597 x 1198"): (420.0, 594.0),
    ("A1", "597 x 1198"): (594.0, 841.0),
    ("A0", "597 x 1198"): (841.0, 1189.0),
    ("900 x 610", "597 x 1198"): (610.0, 900.0),
    ("roll 610", "597 x 1198"): (610.0, 1390.0),
    ("roll 914.4", "1000 x 2003"): (914.4, 2190.0),
}


def plan_on(paper, size="597 x 1198", wish="sheets: single"):
    return make_plan(parse_job(dedent(JOB.format(paper=paper, size=size, wish=wish)), "job.yaml"))


@pytest.mark.parametrize(("paper", "size"), PAGES)
def test_each_page_has_the_size_that_was_asked_for(paper, size):
    pack = build_pack(plan_on(paper, size))
    pages = inked_pages(pdf_bytes((*pack.front, *pack.templates), "job"))
    for page in pages:
        assert (page.width, page.height) == pytest.approx(PAGES[paper, size], abs=0.001)


@pytest.mark.parametrize("wish", ["sheets: single", "sheets: joined", "template: back"])
@pytest.mark.parametrize(("paper", "size"), [one for one in PAGES if one[0] in ("A2", "900 x 610", "roll 610")])
def test_everything_on_it_measures_true(paper, size, wish):
    assert list(faults_of(plan_on(paper, size, wish), asked=paper)) == []


def test_another_length_of_a_roll_is_found():
    plan = plan_on("roll 610")
    assert any("it is 610.000 x 1390.000" in fault for fault in faults_of(plan, asked="roll 914.4"))
