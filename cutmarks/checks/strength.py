"""Rules about strength: what is left of a tile beside its cuts, how much is taken out, how near two cores come."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence

from cutmarks.checks.advice import Advice
from cutmarks.checks.bridges import Bridge, bridge_of
from cutmarks.checks.model import Finding, Level
from cutmarks.checks.notches import mouth
from cutmarks.checks.pieces import listed
from cutmarks.geometry.shapes import Rect
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.limits import COMMON, Limits
from cutmarks.openings.model import Cut, CutPiece
from cutmarks.units import Style, Unit, say

CM2, IN2 = 100.0, 25.4**2
"""Square millimetres in a square centimetre."""


def thin_bridges(
    pieces: Sequence[CutPiece], kinds: Mapping[str, str], limits: Limits, style: Style, advice: Advice
) -> Iterator[Finding]:
    """Tile left beside a cut: a hair stops, so does what is under the stop limit of its kind of tile.

    `kinds` says of each surface whether it is a wall or a floor. Bridges of one width with one remedy are one sentence.
    A start that puts more than one hole of an area right is said by itself, unless one of these sentences has it.
    """
    thin: dict[tuple[Level, str, float, str, str], list[tuple[CutPiece, Cut, float, float]]] = defaultdict(list)
    for piece in pieces:
        bridge = bridge_of(piece.piece.tile, kinds[piece.piece.surface], limits)
        for number, cut in enumerate(piece.cuts):
            yield from hair_bites(piece, cut, limits, style)
            near = _nearest(piece, number, limits)
            if near is None:
                continue
            if near <= limits.least_bite.value + TOUCH:
                yield _hair_bridge(piece, cut, near, bridge, limits, style, advice)
            elif near < bridge.least_look - TOUCH and say(near, style) != say(bridge.least_look, style):
                stops = near < bridge.least_stop - TOUCH
                limit = bridge.least_stop if stops else bridge.least_look
                source = (bridge.stop if stops else bridge.look).source
                key: tuple[Level, str, float, str, str] = (
                    "stop" if stops else "warn",
                    say(near, style),
                    limit,
                    source,
                    advice.notch(piece, cut, bridge.least_look),
                )
                thin[key].append((piece, cut, near, bridge.least_look))
    told: set[str] = set()
    for (level, shown, limit, source, notch), where in thin.items():
        _, _, near, look = where[0]
        start = _start(advice, [(piece, cut) for piece, cut, _, _ in where], look)
        told.update(piece.piece.area for piece, _, _, _ in where if start)
        named = listed([f"{cut.opening.name} in {piece.name}" for piece, cut, _, _ in where])
        yield Finding(
            level,
            "thin bridge",
            tuple(dict.fromkeys(name for piece, cut, _, _ in where for name in (piece.name, cut.opening.name))),
            f"{shown} of tile left beside {named} (under {say(limit, style)} it "
            f"{'cracks' if level == 'stop' else 'may crack'}).{notch}" + start,
            near,
            limit,
            source,
        )
    yield from _starts_that_help([area for area in advice.layouts if area not in told], advice)


def _start(advice: Advice, where: Sequence[tuple[CutPiece, Cut]], look: float) -> str:
    """What moving the start does for these, as a sentence; "" where it helps more holes and is said once an area."""
    names = {cut.opening.name for _, cut in where}
    areas = {piece.piece.area for piece, _ in where}
    better = advice.better_start(areas.pop()) if len(areas) == 1 else None
    if better is not None and not names.issuperset(better.helps):
        return ""
    shift = advice.shift(where, look)
    if shift or better is None:
        return shift
    return f" Moving {better.words} leaves enough beside {listed(better.helps)}{better.cost}."


def _starts_that_help(areas: Sequence[str], advice: Advice) -> Iterator[Finding]:
    """One start that puts more than one hole of an area right; once an area."""
    for area in areas:
        better = advice.better_start(area)
        if better is not None and len(better.helps) > 1:
            yield Finding(
                "note",
                "start can move",
                (area, *better.helps),
                f"{area}: moving {better.words} puts {listed(better.helps)} right, all at once{better.cost}.",
            )


def _hair_bridge(
    piece: CutPiece, cut: Cut, near: float, bridge: Bridge, limits: Limits, style: Style, advice: Advice
) -> Finding:
    return Finding(
        "stop",
        "hair bridge",
        (piece.name, cut.opening.name),
        f"{piece.name}: only {say(max(near, 0.0), style)} of tile is left beside {cut.opening.name}. "
        f"Open it to the edge, or move it.{advice.notch(piece, cut, bridge.least_look)}",
        near,
        limits.least_bite.value,
        limits.least_bite.source,
    )


def _nearest(piece: CutPiece, number: int, limits: Limits) -> float | None:
    """The least bridge beside a cut; one to another core that is so near that it breaks in has a rule of its own."""
    web, least = piece.cuts[number].web, limits.between_cores.value - TOUCH
    if web.nearest is None or not _cores_nearer(piece, number, least):
        return web.nearest
    sides = [side for side in (web.left, web.right, web.bottom, web.top) if side is not None]
    nearer = _cores_nearer(piece, number, min(sides, default=math.inf))
    far_enough = [between for other in nearer if (between := piece.between.gap(number, other)) >= least]
    return min([*sides, *far_enough], default=None)


def _cores_nearer(piece: CutPiece, number: int, than: float) -> list[int]:
    """The other cores of a piece less than `than` mm off one of its cuts, by number; none where that is no core."""
    if piece.cuts[number].opening.core is None:
        return []
    return [other for other in piece.between.nearer(number, than) if piece.cuts[other].opening.core is not None]


def cores_break_in(pieces: Sequence[CutPiece], limits: Limits, style: Style) -> Iterator[Finding]:
    """Two cores so near that the second has no tile to run in: it wanders into the first hole."""
    least = limits.between_cores.value - TOUCH
    for piece in pieces:
        near = ((i, j) for i in range(len(piece.cuts)) for j in _cores_nearer(piece, i, least) if i < j)
        for one, other, between in ((piece.cuts[i], piece.cuts[j], piece.between.gap(i, j)) for i, j in near):
            yield Finding(
                "stop" if between <= limits.least_bite.value + TOUCH else "warn",
                "core breaks in",
                (piece.name, one.opening.name, other.opening.name),
                f"{piece.name}: {say(between, style)} of tile between {one.opening.name} and {other.opening.name}: the "
                "second core breaks into the first. Smaller holes, or one slot round both (slot: or size:).",
                between,
                limits.between_cores.value,
                limits.between_cores.source,
            )


def sharp_horns(pieces: Sequence[CutPiece], limits: Limits, advice: Advice) -> Iterator[Finding]:
    """A round notch whose middle lies well inside the tile leaves a horn on either side of its mouth.

    So does one that is opened to another edge, on the side that stays.
    """
    for piece in pieces:
        for cut in piece.cuts:
            found = mouth(piece, cut)
            if found is not None and found[1] < limits.horn.value:
                side, angle = found
                one = any(opened in side.beside for opened in cut.opening.opened)
                leaves, breaks = ("a horn", "breaks") if one else ("horns", "break")
                yield Finding(
                    "warn",
                    "sharp horn",
                    (piece.name, cut.opening.name),
                    f"{cut.opening.name} in {piece.name}: its mouth at the {side} edge is narrower than the hole and "
                    f"leaves {leaves} of {angle:.0f} degrees that {breaks} off.{advice.slot(piece, cut, side)}",
                    angle,
                    limits.horn.value,
                    limits.horn.source,
                )


def much_taken(pieces: Sequence[CutPiece], limits: Limits, style: Style) -> Iterator[Finding]:
    """So much cut out of a tile that what is left may not bear it; all such pieces in one sentence."""
    found: dict[tuple[str, str], tuple[list[str], float]] = {}
    for piece in pieces:
        taken = sum(cut.share.area for cut in piece.cuts)
        whole = piece.piece.outline.area
        for limit, figure in ((limits.area_taken, taken / CM2), (limits.taken_part, taken / whole)):
            if figure > limit.value:
                names, most = found.get((limit.unit, limit.source), ([], 0.0))
                found[limit.unit, limit.source] = ([*names, piece.name], max(most, figure))
    for (unit, source), (names, most) in found.items():
        if unit == "cm2":
            said = f"up to {most * CM2 / IN2:.0f} in2" if style.unit is Unit.INCH else f"up to {most:.0f} cm2"
        else:
            said = f"up to {most * 100.0:.0f} % of the piece"
        limit = limits.area_taken if unit == "cm2" else limits.taken_part
        yield Finding(
            "note",
            "much cut out",
            tuple(names),
            f"{listed(names)}: {said} is cut out. Cut with the tile flat on its whole face, and carry it on edge.",
            most,
            limit.value,
            source,
        )


def sharp_corners(pieces: Sequence[CutPiece], limits: Limits, style: Style) -> Iterator[Finding]:
    """Inside corners of cut-outs are drilled or rounded, or a crack runs from them; once for the whole job."""
    boxes = dict.fromkeys(
        cut.opening.name
        for piece in pieces
        for cut in piece.cuts
        if isinstance(cut.opening.shape, Rect) and cut.opening.shape.r < limits.inside_radius.value - TOUCH
    )
    if boxes:
        drill = "1/4 to 5/16" if style.unit is Unit.INCH else "6 to 8"
        yield Finding(
            "note",
            "inside corners",
            tuple(boxes),
            f"{listed(list(boxes))}: drill a {drill} hole in each inside corner first, or leave a radius of "
            f"{say(limits.inside_radius.value, style)}: a crack starts in a sharp corner.",
            0.0,
            limits.inside_radius.value,
            limits.inside_radius.source,
        )


def order_of_cuts(pieces: Sequence[CutPiece]) -> Iterator[Finding]:
    """A piece that is drilled and trimmed is drilled while it is whole; all such pieces in one sentence."""
    names = [piece.name for piece in pieces if piece.piece.trimmed and any(cut.kind == "hole" for cut in piece.cuts)]
    if names:
        yield Finding(
            "note",
            "hole before cut",
            tuple(names),
            f"{listed(names)}: hole first, while the tile is whole, then the straight cut.",
            None,
            None,
            COMMON,
        )


def hair_bites(piece: CutPiece, cut: Cut, limits: Limits, style: Style) -> Iterator[Finding]:
    """A notch of 0.5 mm or less is no notch that can be cut."""
    if cut.kind == "hole":
        return
    deep = min(cut.share.bounds.width, cut.share.bounds.height)
    if deep <= limits.least_bite.value + TOUCH:
        yield Finding(
            "stop",
            "hair bite",
            (piece.name, cut.opening.name),
            f"{piece.name}: {cut.opening.name} takes a bite of only {say(deep, style)}. Move it, or leave it out.",
            deep,
            limits.least_bite.value,
            limits.least_bite.source,
        )
