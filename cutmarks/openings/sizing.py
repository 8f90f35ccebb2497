"""How big the opening has to be: from what was written, or from the thing, its cover and the cores at hand."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from msgspec import Struct
from msgspec.structs import replace

from cutmarks.geometry.frames import Point, Surface
from cutmarks.geometry.offset import grown
from cutmarks.geometry.rings import Ring, Vertex
from cutmarks.geometry.shapes import Circle, Outline, Rect, Shape, Slot, ring_of
from cutmarks.job.thing_size import is_held_by_its_cover, shape_said
from cutmarks.limits import LIMITS, Limits
from cutmarks.locating.model import Located
from cutmarks.locating.shapes import shape_known
from cutmarks.openings.hidden import lap_of, leeway_of
from cutmarks.openings.leeway import Leeway
from cutmarks.openings.model import Cover, Opening
from cutmarks.units import Style, say

if TYPE_CHECKING:
    from cutmarks.job.models import HoleSpec

SAME_CORE = 0.01
"""An opening as written and a core of this near a diameter are one, mm: inches come to it with rounding."""


class Sized(Struct, frozen=True):
    """An opening's size and how it came about."""

    shape: Shape
    why: str
    core: float | None


def open_up(located: Located, surface: str, cores: Sequence[float], style: Style, limits: Limits = LIMITS) -> Opening:
    """The opening for one located thing, on its surface (frame Surface, mm).

    As written where `opening` says so; of a thing whose size nobody said, all that its cover hides, which is not cut
    (checks stop it); else the largest core, not over the best hole for thing and cover, that lets
    the thing through with play; else the thing plus play. `cores` are diameters in mm, ascending; `style` is how the
    figures of `why` are said; `limits` has the usual plays and laps.
    """
    spec = located.spec
    cover, size_is_known = cover_of(spec, _is_round(located)), _size_is_known(located)
    at, sized = _sized(located, cover, cores, style, limits)
    ring = ring_of(sized.shape, at)
    box = located.ring.bounds
    wide, high = located.read
    opening = Opening(
        name=spec.name,
        surface=surface,
        what=spec.what,
        at=at,
        thing=located.ring,
        read_size=(box.width if wide is None else wide, box.height if high is None else high)
        if size_is_known
        else None,
        shape=sized.shape,
        ring=ring,
        why=sized.why,
        core=sized.core,
        cover=cover,
        cover_known=spec.cover_known,
        leeway=Leeway(0.0, None),
        end=spec.end,
        note=spec.note,
        keep_clear=_keep_clear(spec),
        sweep=spec.sweep,
        service=spec.service,
        template=spec.template,
        waits=cover is not None and is_held_by_its_cover(spec),
    )
    return replace(opening, leeway=leeway_of(opening, limits, size_is_known))


def cover_of(spec: HoleSpec, is_round: bool) -> Cover | None:
    """What will hide the opening; one figure is a diameter over what is round, and the side of a square over a box."""
    if spec.cover is None or isinstance(spec.cover, str):
        return None
    if isinstance(spec.cover, (int, float)):
        return Cover(spec.cover, spec.cover, is_round)
    return Cover(spec.cover.first, spec.cover.second, False)


def _keep_clear(spec: HoleSpec) -> Cover | None:
    """What must stay free of tile; one figure is round."""
    if spec.keep_clear is None:
        return None
    if isinstance(spec.keep_clear, (int, float)):
        return Cover(spec.keep_clear, spec.keep_clear, True)
    return Cover(spec.keep_clear.first, spec.keep_clear.second, False)


def best_hole(thing: float, cover: float, lap: float = LIMITS.lap.value) -> float:
    """The hole that leaves most leeway any way, D* = (d + P - 2 o) / 2, for thing d, cover P and lap o, mm.

    There (D - d) / 2, up to the thing, and (P - D) / 2 - o, up to the cover's lap, are the same.

    >>> best_hole(15, 65)
    37.0
    """
    return (thing + cover - 2 * lap) / 2


def _sized(
    located: Located, cover: Cover | None, cores: Sequence[float], style: Style, limits: Limits
) -> tuple[Point[Surface], Sized]:
    spec = located.spec
    if spec.opening is not None:
        return located.at, _as_written(located, cores, limits)
    if cover is not None and is_held_by_its_cover(spec):
        return located.at, Sized(Circle(_most_hidden(cover, limits)), "all that its cover hides", None)
    if located.diameter is not None and isinstance(located.thing, Circle):
        return located.at, _round(spec, located.diameter, cover, cores, style, limits)
    return _boxed(located, limits.box_play.value if spec.play is None else spec.play, style, limits)


def _most_hidden(cover: Cover, limits: Limits) -> float:
    """The largest round hole that a cover hides with its lap, mm; half of the cover where that leaves less."""
    across = min(cover.w, cover.h)
    return max(across - 2 * lap_of(cover, limits), across / 2)


def _as_written(located: Located, cores: Sequence[float], limits: Limits) -> Sized:
    opening = located.spec.opening
    if isinstance(opening, (int, float)):
        core = next((core for core in cores if abs(core - opening) <= SAME_CORE), None)
        return Sized(Circle(opening), "as written" if core else "as written, no core of that size", core)
    assert opening is not None
    lean = located.thing.lean if isinstance(located.thing, (Rect, Slot)) else 0.0
    return Sized(
        Rect(opening.first, opening.second, lean if abs(lean) >= limits.level_under.value else 0.0), "as written", None
    )


def _round(
    spec: HoleSpec, thing: float, cover: Cover | None, cores: Sequence[float], style: Style, limits: Limits
) -> Sized:
    if spec.play is not None:
        size = thing + 2 * spec.play
        return Sized(Circle(size), _with_play(thing, spec.play, style), size if size in cores else None)
    least, most, best = thing + 2 * limits.round_play.value, float("inf"), None
    if cover is not None:
        across = min(cover.w, cover.h)
        lap = lap_of(cover, limits)
        most, best = across - 2 * lap, best_hole(thing, across, lap)
    if spec.opening_range is not None:
        low, high = spec.opening_range
        least, most = low, high
        best = (low + high) / 2 if best is None else min(max(best, low), high)
    fitting = [core for core in cores if least <= core <= most]
    if not fitting:
        size = best if spec.opening_range is not None and best is not None else least
        return Sized(Circle(size), f"{_with_play(thing, (size - thing) / 2, style)}, no core of that size", None)
    if best is None:
        core = fitting[0]
    else:
        not_over = [core for core in fitting if core <= best]
        core = not_over[-1] if not_over else fitting[0]
    return Sized(Circle(core), f"core {say(core, style)}", core)


def _with_play(thing: float, play: float, style: Style) -> str:
    return f"{say(thing, style)} + 2 x {say(play, style)}"


def _boxed(located: Located, play: float, style: Style, limits: Limits) -> tuple[Point[Surface], Sized]:
    """A box, slot or outline plus play; a lean under 2 degrees is cut level, round the thing's own bounds."""
    thing, why = located.thing, f"its size + 2 x {say(play, style)}"
    if isinstance(thing, Circle):
        return located.at, Sized(Circle(thing.d + 2 * play), why, None)
    if isinstance(thing, Slot):
        return located.at, Sized(Slot(thing.l + 2 * play, thing.w + 2 * play, thing.lean), why, None)
    if isinstance(thing, Rect):
        if abs(thing.lean) >= limits.level_under.value:
            return located.at, Sized(Rect(thing.w + 2 * play, thing.h + 2 * play, thing.lean), why, None)
        box = located.ring.bounds
        middle: Point[Surface] = Point((box.min_x + box.max_x) / 2, (box.min_y + box.max_y) / 2)
        return middle, Sized(Rect(box.width + 2 * play, box.height + 2 * play), why, None)
    wider: Ring[Surface] = grown(located.ring, play)
    at = located.at
    vertices = tuple(Vertex(v.x - at.x, v.y - at.y, v.bulge) for v in wider.vertices)
    return at, Sized(Outline(vertices), why, None)


def _is_round(located: Located) -> bool:
    """Whether the thing is round, however its place and its size were given."""
    if located.diameter is not None:
        return True
    said = shape_said(located.spec)
    return said == "round" and located.spec.slot is None if said else isinstance(located.thing, Circle)


def _size_is_known(located: Located) -> bool:
    """Whether anything says how big the thing is, and not only its opening."""
    spec = located.spec
    if located.diameter is not None or located.read != (None, None):
        return True
    return bool(spec.corners or spec.outline) or shape_known(spec)[0] is not None
