"""What may be started with: a start for one area, for all of a surface, the best few, and a job that takes one."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from msgspec import Struct
from msgspec.structs import replace

from cutmarks.choosing.figures import Figures, Worth
from cutmarks.choosing.on_packers import OnPackers
from cutmarks.geometry.tolerance import TOUCH
from cutmarks.readings import Bond, Start
from cutmarks.tiling.layout import Layout

if TYPE_CHECKING:
    from cutmarks.job import Job
    from cutmarks.job.models import AreaSpec

SAID_WITHIN = 1e-4
"""A start as it is read again is the one that was written, mm."""


class AreaStart(Struct, frozen=True):
    """A start for one area.

    x, y      where the corner of tile [0, 0] then lies, Surface frame, mm; across, up: the same in words.
    bond, joint  other than the job says, else None; joint_words: the joint as it is written there.
    may_move  how far it may move left, right, down and up and counts the same, mm.
    fragile   what would make it poor, in words: an edge or a hole that is a little out.
    """

    area: str
    x: float
    y: float
    across: Start
    up: Start
    figures: Figures
    worth: Worth
    bond: Bond | None = None
    joint: float | None = None
    may_move: tuple[float, float, float, float] = (0.0, 0.0, 0.0, 0.0)
    fragile: tuple[str, ...] = ()
    layout: Layout | None = None
    joint_words: str = ""


class Offer(Struct, frozen=True):
    """A start for every area of a surface, and what counts of them together."""

    starts: tuple[AreaStart, ...]
    worth: Worth

    @property
    def fragile(self) -> tuple[str, ...]:
        """What would make it poor."""
        return tuple(dict.fromkeys(one for start in self.starts for one in start.fragile))


class Choices(Struct, frozen=True):
    """What may be chosen on one surface.

    offers  the best few, in their order; now: what the job says, where it says all of it.
    why_not  why there are none, as a sentence; left_out: holes that have no place before there are tiles.
    packers  a level to begin on, of which no start was looked at as the job is.
    """

    surface: str
    offers: tuple[Offer, ...] = ()
    now: Offer | None = None
    why_not: str = ""
    left_out: tuple[str, ...] = ()
    packers: OnPackers | None = None


def together(starts: Sequence[AreaStart]) -> Worth:
    """What counts of starts for several areas of one surface."""
    worth = starts[0].worth
    for one in starts[1:]:
        worth = worth.and_of(one.worth)
    return worth


def with_offer(job: Job, surface: str, offer: Offer) -> Job:
    """The job as it is when an offer is taken."""
    starts = {start.area: start for start in offer.starts}

    def taken(area: AreaSpec) -> AreaSpec:
        start = starts[area.name]
        changed: dict[str, Any] = {"start_across": start.across, "start_up": start.up}
        changed |= {} if start.bond is None else {"bond": start.bond}
        changed |= {} if start.joint is None else {"joint": start.joint, "joint_or": ()}
        return replace(area, **changed)

    surfaces = tuple(
        replace(one, areas=tuple(map(taken, one.areas))) if one.name == surface else one for one in job.surfaces
    )
    return replace(job, surfaces=surfaces)


def says(job: Job, surface: str, offer: Offer) -> bool:
    """Whether a job says what is offered."""
    spec = next((one for one in job.surfaces if one.name == surface), None)
    areas = {} if spec is None else {area.name: area for area in spec.areas}
    return all(
        (area := areas.get(start.area)) is not None
        and (bool(area.carries_on_from) or _is_said(area.start_across, start.across))
        and _is_said(area.start_up, start.up)
        and (start.bond is None or _how(area.bond) == _how(start.bond))
        and (start.joint is None or abs(area.joint - start.joint) <= TOUCH)
        for start in offer.starts
    )


def _how(bond: Bond) -> tuple[object, ...]:
    """How a bond moves its courses, whatever it is called."""
    return bond.part, bond.mm, bond.way, bond.carried


def _is_said(said: Start | None, offered: Start) -> bool:
    return (
        said is not None
        and said.anchor == offered.anchor
        and said.at.start == offered.at.start
        and abs(said.at.low - offered.at.low) <= SAID_WITHIN
    )
