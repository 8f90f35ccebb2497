"""What has to be known before a tile is cut: the findings in a panel, and the black band of a STOP."""

from __future__ import annotations

from cutmarks.checks.model import SAID
from cutmarks.marks.model import Tone, block
from cutmarks.marks.template import Subject
from cutmarks.saying.findings import findings_of, held_words, waiting_for
from cutmarks.sheets.panel import SMALL, Panel, Which, Writer, chosen
from cutmarks.sheets.setting import TextSetting

BAND = 4.2
"""Height of the capitals in the band of a STOP, mm."""
_BAND_LEADING = 1.6


def findings_panel(subject: Subject, wide: float, which: Which = None) -> Panel | None:
    """BEFORE YOU CUT: every finding of the piece; None where there is none."""
    found = chosen(findings_of(subject.plan, subject.piece), which)
    if not found:
        return None
    writer = Writer(width=wide)
    writer.title("BEFORE YOU CUT")
    for finding in found:
        reason = f" (accepted: {finding.accepted})" if finding.accepted is not None else ""
        writer.text(f"{finding.text}{reason}", SMALL * 1.08, indent=15.0, label=SAID[finding.level])
        writer.gap(0.6)
    return writer.panel()


def stop_panel(subject: Subject, wide: float, which: Which = None) -> Panel | None:
    """A black band with the sentences that say why this piece must not be cut; None where there is none."""
    stops = chosen(waiting_for(subject.plan, subject.piece), which)
    return _band(f"{_held(subject)} \u2013 " + " ".join(stop.text for stop in stops), wide) if stops else None


def short_stop_panel(subject: Subject, wide: float, which: Which = None) -> Panel | None:
    """The same in one line, for a sheet that has no room for the sentences: they stand under BEFORE YOU CUT."""
    stops = chosen(waiting_for(subject.plan, subject.piece), which)
    return _band(f"{_held(subject)} \u2013 {forbidden(subject)}", wide) if stops else None


def _held(subject: Subject) -> str:
    return held_words(subject.plan, subject.piece)


def forbidden(subject: Subject) -> str:
    """What must not be done with the piece; "" where nothing is held up."""
    return {"all": "do not cut this piece", "trimming": "holes go on, its size is not known", None: ""}[subject.waits]


def _band(text: str, wide: float) -> Panel:
    words = TextSetting(leading=_BAND_LEADING, y=-2.6)
    words.lines(text, 4.0, BAND, wide - 8.0, bold=True, tone=Tone.WHITE)
    height = 4.0 - 2.6 - words.y
    return Panel(wide, height, (block(0.0, -height, wide, height), *words.marks))
