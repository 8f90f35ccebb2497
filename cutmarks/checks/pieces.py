"""Rules about pieces: what is left of them beside a cut, and how narrow trimming leaves them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence

from cutmarks.checks.limits import Limits
from cutmarks.checks.model import Finding
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.openings.model import Cut, CutPiece
from cutmarks.setout.model import Side
from cutmarks.units import Style, say


def thin_bridges(pieces: Sequence[CutPiece], limits: Limits, style: Style) -> Iterator[Finding]:
    """Tile left beside a cut: 0.5 mm or less stops, under 30 mm or a quarter of the side is worth a look.

    Bridges of the same width are one sentence.
    """
    thin: dict[tuple[float, float], list[tuple[str, str]]] = defaultdict(list)
    for piece in pieces:
        for cut in piece.cuts:
            yield from _bite(piece, cut, limits, style)
            near = cut.web.nearest
            if near is None:
                continue
            side = min(piece.piece.tile.w, piece.piece.tile.h)
            limit = min(limits.thin_bridge.value, side * limits.bridge_part.value)
            if near <= limits.least_bite.value + TOUCH:
                yield Finding(
                    "stop",
                    "hair bridge",
                    (piece.name, cut.opening.name),
                    f"{piece.name}: only {say(max(near, 0.0), style)} of tile is left beside {cut.opening.name}. "
                    "Open it to the edge, or move it.",
                    near,
                    limits.least_bite.value,
                    limits.least_bite.source,
                )
            elif near < limit - TOUCH:
                thin[round(near, 3), limit].append((piece.name, cut.opening.name))
    for (near, limit), where in thin.items():
        yield Finding(
            "warn",
            "thin bridge",
            tuple(dict.fromkeys(name for pair in where for name in pair)),
            f"{say(near, style)} of tile left beside {listed([f'{hole} in {piece}' for piece, hole in where])} "
            f"(under {say(limit, style)} it may crack).",
            near,
            limit,
            limits.thin_bridge.source,
        )


def _bite(piece: CutPiece, cut: Cut, limits: Limits, style: Style) -> Iterator[Finding]:
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


def narrow_pieces(pieces: Sequence[CutPiece], limits: Limits, style: Style) -> Iterator[Finding]:
    """Trimmed pieces under a fifth of the tile and under 50 mm, where the tile is 150 or more; one line an edge."""
    found: dict[tuple[str, str, float], list[str]] = defaultdict(list)
    for piece in pieces:
        if piece.sizes is None or piece.part not in (None, "a"):
            continue
        for axis, whole, sizes in (
            ("wide", piece.piece.tile.w, (piece.sizes["bottom"], piece.sizes["top"])),
            ("high", piece.piece.tile.h, (piece.sizes["left"], piece.sizes["right"])),
        ):
            least = min(sizes)
            if (
                whole >= limits.narrow_from.value
                and least < limits.narrow_part.value * whole
                and least < limits.narrow.value
                and _is_strip(piece, axis, least)
            ):
                found[piece.piece.area, axis, round(least, 3)].append(piece.name)
    for (_, axis, least), names in found.items():
        yield Finding(
            "warn",
            "narrow piece",
            tuple(names),
            f"{listed(names)} only {say(least, style)} {axis}: under a fifth of the tile. Moving the start may help.",
            least,
            limits.narrow.value,
            limits.narrow_part.source,
        )


def _is_strip(piece: CutPiece, axis: str, least: float) -> bool:
    """Whether the whole piece is that narrow, and not only one leg of it."""
    box = piece.piece.outline.bounds
    return (box.width if axis == "wide" else box.height) <= least + 2 * 25.4


def joint_problems(pieces: Sequence[CutPiece], limits: Limits, style: Style) -> Iterator[Finding]:
    """Under 5 mm trimmed off a whole row is a joint problem, not a cut."""
    rows: dict[tuple[str, Side, int | None], list[tuple[str, float]]] = defaultdict(list)
    for piece in pieces:
        if piece.sizes is None:
            continue
        box, tile = piece.piece.outline.bounds, piece.piece.tile
        off: dict[Side, float] = {
            "left": box.min_x,
            "right": tile.w - box.max_x,
            "bottom": box.min_y,
            "top": tile.h - box.max_y,
        }
        for side, taken in off.items():
            if side in piece.cut_edges and taken > TOUCH:
                row = piece.piece.place[1] if side in ("bottom", "top") else None
                rows[piece.piece.area, side, row].append((piece.name, taken))
    for (area, side, _), found in rows.items():
        most = max(taken for _, taken in found)
        if most < limits.joint_problem.value - TOUCH:
            yield Finding(
                "warn",
                "joint, not a cut",
                tuple(name for name, _ in found),
                f"{area}, {side}: only {say(most, style)} comes off the whole row: wet saw, it will not snap. "
                "A little on the joints saves the cuts.",
                most,
                limits.joint_problem.value,
                limits.joint_problem.source,
            )


def listed(names: Sequence[str], most: int = 6) -> str:
    """Names in a row, the rest counted."""
    shown = ", ".join(names[:most])
    return shown if len(names) <= most else f"{shown} and {len(names) - most} more"
