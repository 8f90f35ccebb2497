"""How thin a bridge may be: by what the tile is made of, how large it is, and where it lies."""

from __future__ import annotations

from msgspec import Struct

from cutmarks.limits import Limit, Limits
from cutmarks.tiling.model import TileKind


class Bridge(Struct, frozen=True):
    """How thin a bridge may be on one tile, mm, and which limits say so: `look` and `stop`."""

    look: Limit
    stop: Limit
    least_look: float
    least_stop: float


def bridge_of(tile: TileKind, kind: str, limits: Limits) -> Bridge:
    """The limits of a tile: by its material and size, and never more than a part of its side but for a panel.

    `kind` is the surface's, wall or floor.
    """
    side = min(tile.w, tile.h)
    if is_panel(tile, limits):
        look, stop, parted = limits.panel_bridge, limits.panel_stop_bridge, False
    elif _says(tile.material, "glass"):
        look, stop, parted = limits.glass_bridge, limits.glass_stop_bridge, True
    elif kind == "floor":
        look, stop, parted = limits.floor_bridge, limits.floor_stop_bridge, True
    else:
        look, stop, parted = limits.thin_bridge, limits.stop_bridge, True
    if not parted:
        return Bridge(look, stop, look.value, stop.value)
    most_look, most_stop = side * limits.bridge_part.value, side * limits.stop_bridge_part.value
    return Bridge(
        limits.bridge_part if most_look < look.value else look,
        limits.stop_bridge_part if most_stop < stop.value else stop,
        min(look.value, most_look),
        min(stop.value, most_stop),
    )


def is_panel(tile: TileKind, limits: Limits) -> bool:
    """Whether a tile is a large panel, by its size or by what it is called."""
    return max(tile.w, tile.h) > limits.panel_side.value or _says(tile.material, "panel", "slab")


def _says(material: str, *words: str) -> bool:
    return any(word in material.casefold() for word in words)
