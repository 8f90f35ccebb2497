"""What the rooms stage gives: verdicts on what was cut for a type, room by room; values only, mm."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from msgspec import Struct

from cutmarks.checks.model import Level
from cutmarks.plan.model import Say
from cutmarks.readings import RoomHand
from cutmarks.sides import Side

Fit = Literal["fits", "close", "anew", "unjudged"]
"""fits; close: it fits, but over half of what it may be off is used up; anew: it does not fit; unjudged: not known."""
Why = Literal["", "thing", "cover", "wide", "tight", "width", "no size", "one more", "one less", "trimmed"]


class RoomVerdict(Struct, frozen=True):
    """Whether one hole, or one trimmed edge, of what was cut for the type is right in a room.

    surface  where it is; pieces: that are cut for it, as the type calls them.
    anew     what is cut in their place for the room alone, as it is called there: where a piece more or less goes in at
             an edge, those beside it are counted otherwise.
    what     the hole's name; of an edge its side and what lies there: "left edge".
    right, up  how far the thing is from where the type has it, as one faces the surface, mm; of an edge how much wider
             (or narrower, below 0) the opening of the piece is, at the end where that is worst.
    may      how far it may be off that way, mm; of an edge what the joint there may still give that way.
    why      what is in the way where it does not fit: the thing that has to go through, the cover that has to hide it;
             a joint too wide to close, a piece too tight to go in; a thing of another width; a piece more or less; a
             tile that is trimmed there and is not in the type.
    floor    on a floor `up` is further into the room.
    whole    those of the pieces in whose place a whole tile goes, as the type calls them.
    """

    surface: str
    pieces: tuple[str, ...]
    what: str
    says: Fit
    right: float = 0.0
    up: float = 0.0
    may: float = 0.0
    why: Why = ""
    side: Side | None = None
    floor: bool = False
    whole: tuple[str, ...] = ()
    anew: tuple[str, ...] = ()


class Cleared(Struct, frozen=True):
    """One fitting of a surface without tiles, and what is wrong with it that nobody has accepted."""

    surface: str
    name: str
    wrong: tuple[tuple[Level, str], ...]
    """How much it spoils, and the sentence."""

    @property
    def passes(self) -> bool:
        """Whether nothing is; notes do not count."""
        return all(level == "note" for level, _ in self.wrong)


class RoomFits(Struct, frozen=True):
    """One room judged: what was read in it, thing by thing, and its fittings on surfaces without tiles.

    fingerprint  of the room: it changes with its type and its own readings, and with nothing else.
    """

    room: str
    type_name: str
    hand: RoomHand
    fingerprint: str
    verdicts: tuple[RoomVerdict, ...]
    cleared: tuple[Cleared, ...] = ()
    note: str = ""

    @property
    def clears(self) -> bool:
        """Whether all its fittings on surfaces without tiles pass."""
        return all(one.passes for one in self.cleared)

    @property
    def wrong(self) -> Iterator[tuple[Level, Cleared, str]]:
        """What is wrong with its fittings there, but for notes: how much it spoils, the fitting and the sentence."""
        for one in self.cleared:
            yield from ((level, one, sentence) for level, sentence in one.wrong if level != "note")

    @property
    def worst(self) -> Fit:
        """The worst of its verdicts; a room in which nothing was read fits as its type does."""
        order: tuple[Fit, ...] = ("anew", "unjudged", "close", "fits")
        return min((one.says for one in self.verdicts), key=order.index, default="fits")

    @property
    def specials(self) -> tuple[str, ...]:
        """The pieces that are cut for this room alone, each once, as they are called in it."""
        return tuple(dict.fromkeys(name for one in self.verdicts for name in one.anew))

    @property
    def whole(self) -> tuple[str, ...]:
        """The pieces of the type in whose place a whole tile goes, each once."""
        return tuple(dict.fromkeys(name for one in self.verdicts for name in one.whole))

    @property
    def replaced(self) -> tuple[str, ...]:
        """The pieces of the type that are of no use in this room, each once."""
        return tuple(dict.fromkeys(name for one in self.verdicts if one.says == "anew" for name in one.pieces))


class Member(Struct, frozen=True):
    """One piece of a type in a hand, and in how many rooms it is as it was cut for the type.

    turned  it is cut as the first of those that are alike, and turned half round then.
    """

    type_name: str
    hand: RoomHand
    piece: str
    rooms: int
    turned: bool = False


class AlikeOverall(Struct, frozen=True):
    """Pieces that are cut alike over all types, hands and rooms: one number, one drawing; count of them in all."""

    number: int
    tile: str
    members: tuple[Member, ...]

    @property
    def called(self) -> str:
        """Its number on paper, which is none of a label's: R1."""
        return f"R{self.number}"

    @property
    def count(self) -> int:
        """How many are cut."""
        return sum(member.rooms for member in self.members)


class TilesOverall(Struct, frozen=True):
    """One kind of tile over all rooms.

    whole     tiles that are not trimmed, as the types are laid out; None: an area runs on unmeasured. holed: those of
              them that something comes through.
    cut       trimmed pieces; from_offcuts: those of them that come from what another left of its tile.
    specials  what is cut anew for rooms that the type's piece does not fit, a tile each.
    spare     for tiles with a hole and for trimmed ones, of the whole batch; box: tiles in one, None: not said.
    """

    tile: str
    whole: int | None
    holed: int
    cut: int
    from_offcuts: int
    specials: int
    spare: int
    box: int | None

    @property
    def untouched(self) -> int | None:
        """Tiles that are laid as they come from the box."""
        return None if self.whole is None else self.whole - self.holed

    @property
    def laid(self) -> int | None:
        """Tiles that the rooms take as their types are laid out."""
        return None if self.whole is None else self.whole + self.cut - self.from_offcuts

    @property
    def total(self) -> int | None:
        """All of it."""
        return None if self.laid is None else self.laid + self.specials + self.spare

    @property
    def boxes(self) -> int | None:
        """Whole boxes that hold them."""
        return None if self.total is None or self.box is None else -(-self.total // self.box)


class RoomsReport(Struct, frozen=True):
    """All that is said of a site: a page by room, a page by piece, quantities, the clearance round.

    job, fingerprint, say  head and foot of its pages, as of a job's own.
    failed  rooms whose readings have faults, or that could not be written, with the sentences.
    """

    job: str
    fingerprint: str
    say: Say
    rooms: tuple[RoomFits, ...]
    failed: tuple[tuple[str, str], ...]
    alike: tuple[AlikeOverall, ...]
    tiles: tuple[TilesOverall, ...]

    @property
    def to_cut(self) -> tuple[RoomFits, ...]:
        """The rooms for which something is cut anew."""
        return tuple(room for room in self.rooms if room.worst == "anew")
