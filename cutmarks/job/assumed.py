"""What was forgotten and taken for granted, one sentence each, printed as assumed."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import pairwise

from cutmarks.job.edges import TRUE_OF
from cutmarks.job.examples import in_unit_of
from cutmarks.job.measures import bare
from cutmarks.job.models import EdgeSpec, HoleSpec, Job, SurfaceSpec
from cutmarks.job.parting import parts_of
from cutmarks.job.thing_size import Sides, is_sized_by_catalogue, shape_said, sides_read, square_side
from cutmarks.job.tokens import plain_words
from cutmarks.job.vocabulary import BURNT, LEANS
from cutmarks.job.words import Setting, in_figures, spaced
from cutmarks.patterns import late
from cutmarks.readings import Reading

HALF = 2
"""A bond by halves is the same back and forth as stepped."""
MOST_NAMED = 8
"""More names than these are counted, not listed."""


_BY_EYE = late(rf"\b(?:{'|'.join([*LEANS, *BURNT])})\b", re.IGNORECASE)


def assumed(job: Job, as_written: Job | None = None) -> tuple[str, ...]:
    """What the job leaves out and what is taken in its place; each with what to write where that is wrong.

    `as_written` is the job as the tiler wrote it, where this one is its other hand: what was taken of a phrase is known
    from the words that were written, and what follows from it is said of this job.
    """
    sentences = list(_tiles(job))
    for surface, written in zip(job.surfaces, (as_written or job).surfaces, strict=True):
        sentences += _edges(surface)
        sentences += _areas(surface)
        sentences += _holes(surface, written)
        sentences += _in_their_order(surface, written)
        sentences += _shapes(surface, job)
    return tuple(in_unit_of(job.units, sentence) for sentence in sentences)


def _tiles(job: Job) -> Iterator[str]:
    off_the_box = [tile.name for tile in job.tiles.values() if not tile.measured]
    if off_the_box:
        yield (
            f"{_listed('tile', off_the_box)}: size taken off the box; lay out five with their joints "
            "and write what they measure, as in run across: 5 in ..., or measured: yes."
        )


def _edges(surface: SurfaceSpec) -> Iterator[str]:
    for edge in surface.edges.values():
        if len(edge.readings) == 1 and not edge.true:
            way = "square to the lines" if surface.kind == "floor" else TRUE_OF[edge.side]
            yield f"{surface.name}, {edge.side} edge: one reading, taken as {way}; read it at a second place."
        if not edge.finish_known:
            yield f"{surface.name}, {edge.side} edge: {_finish(edge)}"


def _finish(edge: EdgeSpec) -> str:
    thing = next((step.what for step in edge.steps if not step.still_to_come_known), "") or edge.what or "what it meets"
    return (
        f"what {thing} will still take off is not known, nothing is taken; "
        "write still to come: 14 (its bed and tile), or none, before a piece is trimmed there."
    )


def _areas(surface: SurfaceSpec) -> Iterator[str]:
    for area in surface.areas:
        if area.joint_or:
            yield f"area {area.name}: the first of its joints is laid; cutmarks setout tries the others too."
        if area.bond.part.denominator > HALF and not area.bond.way_said:
            yield (
                f"area {area.name}: bond {area.bond.words} goes back and forth; "
                f"write {area.bond.words}, stepped if each course goes on from the last."
            )


def _in_their_order(surface: SurfaceSpec, written: SurfaceSpec) -> Iterator[str]:
    """Of two that one line says, at centres split on a line, which is left: "hot and cold" are taken so."""
    now = dict(zip([hole.name for hole in written.holes], surface.holes, strict=True))
    for one, two in pairwise(sorted((hole for hole in written.holes if hole.said), key=lambda hole: hole.said)):
        if one.said != two.said or one.across is None or two.across is None:
            continue
        worked_out = not any(reading.text in one.said for reading in (one.across, two.across))
        is_split = one.across.how == two.across.how == "centre" and one.across.low == -two.across.low != 0.0
        called = not any(hole.name.rpartition(" ")[2] in ("left", "right") for hole in (one, two))
        if worked_out and is_split and called:
            holes = now[one.name], now[two.name]
            left, right = sorted(holes, key=lambda hole: hole.across.low if hole.across is not None else 0.0)
            as_said = "in" if left is holes[0] else "as the room is mirrored: as drawn they lie in"
            yield (
                f"{surface.name}: {left.name} is on the left and {right.name} on the right, {as_said} the order in "
                "which they are said; write each with its own place if it is the other way round."
            )


def _holes(surface: SurfaceSpec, written: SurfaceSpec) -> Iterator[str]:
    pipes = [hole for hole in surface.holes if shape_said(hole) != "box"]
    both = zip(surface.holes, written.holes, strict=True)
    to_centre = [hole.name for hole, as_written in both if _taken_to_centre(as_written)]
    boxes = [hole for hole in surface.holes if shape_said(hole) == "box"]
    no_cover = [hole.name for hole in pipes if not hole.cover_known]
    no_plate = [hole.name for hole in boxes if not hole.cover_known]
    no_end = [hole.name for hole in pipes if not hole.end]
    if to_centre:
        yield (
            f"{surface.name}, {_listed('hole', to_centre)}: the single distance is taken to the centre; "
            "write near or far before it if it is to a side."
        )
    as_drawn = "" if written is surface else ", as drawn,"
    for words, taken in _read_by_eye(written):
        yield (
            f"{surface.name}: {words}{as_drawn} is taken as {taken}; write the figure that you mean where that is too "
            "rough."
        )
    if no_cover:
        yield (
            f"{surface.name}, {_listed('hole', no_cover)}: cover not known, hole = pipe + 6 or the next core; "
            "write cover: 65, or none."
        )
    if no_plate:
        yield (
            f"{surface.name}, {_listed('box', no_plate)}: cover not known, so nothing is said about what it hides; "
            "write cover: 86 x 86, or none."
        )
    if no_end and surface.kind == "wall":
        yield f"{surface.name}, {_listed('hole', no_end)}: the end comes off; write end: runs on where it does not."
    elif no_end:
        yield (
            f"{surface.name}, {_listed('hole', no_end)}: does the end come off? Taken as yes; "
            "write end: comes off, or end: runs on."
        )


def _shapes(surface: SurfaceSpec, job: Job) -> Iterator[str]:
    """What shape or size a thing was given that nobody read."""
    setting, round_within = job.setting, job.limits.figures().round_within.value
    unsaid: list[str] = []
    for hole in surface.holes:
        fitting, read, where = hole.fitting, sides_read(hole), f"{surface.name}, box {hole.name}"
        if is_sized_by_catalogue(hole) and fitting is not None and fitting.w is not None and fitting.h is not None:
            size = " x ".join(
                bare(own if one is None else one, setting)
                for own, one in zip((fitting.w, fitting.h), read, strict=True)
            )
            yield (
                f"{where}: what was not read of its size is the catalogue's, {size} ({fitting.source}); measure it and "
                f"write size: {size}."
            )
        elif shape_said(hole) == "box" and not hole.size and (side := square_side(hole, read, setting)) is not None:
            way = "across" if read[1] is None else "up"
            yield (
                f"{where}: taken as square, {bare(side, setting)} both ways, as it was read {way} alone; read both its "
                "sides the other way too."
            )
        elif shape_said(hole) == "" and hole.fitting is None and _read_as_round(read, round_within):
            unsaid.append(hole.name)
    if unsaid:
        yield (
            f"{surface.name}, {_listed('hole', unsaid)}: what it is does not say its shape, and it is taken as round; "
            "write what: pipe, or of a box its size, as in size: 70 x 70."
        )


def _read_as_round(read: Sides, within: float) -> bool:
    """Whether a thing of no known kind is so far round that it may be: its measures are nearly alike, or one is."""
    wide, high = read
    if wide is None or high is None:
        return wide is not None or high is not None
    return abs(wide - high) <= within


def _taken_to_centre(hole: HoleSpec) -> bool:
    for reading in (hole.across, hole.up):
        if reading is None or reading.high is not None:
            continue
        if _follows_the_other_way(hole, reading):
            return True
        from_edge = reading.how == "centre" and reading.start is not None and reading.start.kind == "edge"
        if (from_edge or reading.how == "course") and "centre" not in plain_words(reading.text):
            return True
    return False


def _follows_the_other_way(hole: HoleSpec, reading: Reading) -> bool:
    """Whether a sentence says of one way alone that it goes to the middle, and this is the other one."""
    said, alone = in_figures(spaced(hole.said)), reading.text.removeprefix("centre ")
    if alone == reading.text or alone not in said or reading.text in said:
        return False
    from cutmarks.job.said_hole import is_to_centre  # late: a job whose parts stand under keys has no sentence

    return not any(is_to_centre(part, _NO_LINES) for part in parts_of(said))


_NO_LINES = Setting(lines={})


def _read_by_eye(surface: SurfaceSpec) -> Iterator[tuple[str, str]]:
    """The words bare, full and burnt in the readings of a surface, each with what it is taken as."""
    readings = [reading for hole in surface.holes for reading in (hole.across, hole.up) if reading is not None]
    readings += [read.at for edge in surface.edges.values() for read in edge.readings]
    texts = [reading.text for reading in readings] + [taken.text for hole in surface.holes for taken in hole.readings]
    said = {match[0].casefold(): text for text in texts for match in _BY_EYE.finditer(text)}
    for word, text in said.items():
        if word in BURNT:
            yield f'{word} in "{text}"', "the tape held at that figure, which comes off"
        else:
            more = "less" if LEANS[word] < 0 else "more"
            yield f'{word} in "{text}"', f"half a step of the tape {more}, 0.5 mm or 1/32 in"


def _listed(word: str, names: Sequence[str]) -> str:
    """The names as "hole hot", "holes hot, cold", "holes a, b and 40 others"."""
    if len(names) == 1:
        return f"{word} {names[0]}"
    several = f"{word}es" if word.endswith("x") else f"{word}s"
    if len(names) <= MOST_NAMED:
        return f"{several} {', '.join(names)}"
    return f"{several} {', '.join(names[:MOST_NAMED])} and {len(names) - MOST_NAMED} others"
