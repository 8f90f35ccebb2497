"""An answer of `cutmarks new` of several parts on one line, dealt out under the keys of the job file.

The job's own readers deal it out, as they do a sentence in a job file; here stands what they are read in.
"""

from __future__ import annotations

from cutmarks.cli.draft import JobDraft
from cutmarks.job.measures import IMPERIAL
from cutmarks.job.parting import BETWEEN, Keys, parts_of
from cutmarks.job.said_edge import edge_said
from cutmarks.job.said_hole import VOID_WORDS, hole_keys, in_order, void_said
from cutmarks.job.said_names import named_first
from cutmarks.job.said_tile import start_said, tile_said
from cutmarks.job.words import Setting
from cutmarks.sides import Side
from cutmarks.units import UNIT_WORDS, Unit


def unit_of(draft: JobDraft) -> Unit:
    """The unit of a figure that has none; mm where the draft's cannot be read, which its reader tells."""
    word = draft.job["units"].casefold()
    return UNIT_WORDS.get(word) or next((unit for unit in Unit if unit.value == word), Unit.MM)


def setting_of(draft: JobDraft, side: str = "") -> Setting:
    """What phrases are read in, at this point of the questions."""
    unit = unit_of(draft)
    return Setting(
        unit=unit,
        say="us" if unit in IMPERIAL else "uk",
        kind=draft.kind,
        lines={"V": "x", draft.level: "y"},
        holes={hole["name"].casefold(): hole["name"] for hole in draft.holes},
        line_words={"V": draft.plumb_words, draft.level: draft.level_words},
        edge_words={Side(one): edge.get("what", "") for one, edge in draft.edges.items() if edge},
        side=Side(side) if side else None,
    )


def thing_dealt(answer: str, draft: JobDraft) -> tuple[str, Keys]:
    """What comes through, or what tiles stop at ("window, 100 to 700 right of V, ..."): its kind and its keys."""
    first, *rest = parts_of(answer)
    word, _, name = first.partition(":") if ":" in first else first.partition(" ")
    kind = word.casefold() if word.casefold() in (*VOID_WORDS, "hole") else "hole"
    setting = setting_of(draft)
    if kind != "hole":
        return kind, in_order(void_said(kind, ", ".join((name.strip() or kind, *rest)), setting))
    begins = name.strip() if word.casefold() == "hole" and name.strip() else first
    called, others = named_first([begins, *rest], setting)
    return kind, in_order(hole_keys(called, others, setting))


def edge_dealt(answer: str, side: str, draft: JobDraft) -> Keys:
    """One edge: where it was read, what is there, and what is still to come."""
    ends = {
        Side(one): edge["at"].partition(BETWEEN)[0].partition(" at ")[0]
        for one, edge in draft.edges.items()
        if "at" in edge
    }
    return edge_said(answer, Side(side), setting_of(draft, side), ends)


def tile_dealt(answer: str, draft: JobDraft) -> tuple[str, Keys, Keys]:
    """A tile: its name, its own keys, and the area's (its joint)."""
    return tile_said(answer, setting_of(draft))


def start_dealt(answer: str, draft: JobDraft) -> Keys:
    """How the tiles sit: the bond, and the two parts of the start."""
    return start_said(answer, setting_of(draft))
