"""What the buying stage gives: values. Lengths in mm, areas in mm2, volumes in litres (1 m2 of 1 mm is one litre)."""

from __future__ import annotations

from typing import Literal

from msgspec import Struct

from cutmarks.buying.guillotine import SheetLayout
from cutmarks.gauging.model import Sealed


class Shared(Struct, frozen=True):
    """One tile that gives several pieces, in the order of fixing: each is cut from what the one before left.

    layout  where they lie in it, each by its number among them, and the cuts; None: they lie slantwise.
    """

    pieces: tuple[str, ...]
    layout: SheetLayout | None = None


class TileNeed(Struct, frozen=True):
    """One kind of tile: what is laid, what is bought.

    whole, cut   places that hold a whole tile, or a trimmed piece of one; None: an area runs on unmeasured.
    shared       the tiles that give more than one piece; step: 0 where no way takes fewer tiles, else the step, mm,
                 to whole ones of which sizes were taken up for it; None: too many sizes, and none is shared.
    holed        tiles with a hole; spare_holed, spare_cut: spares for them, and for the trimmed ones.
    box, have    tiles a box, and in hand; None: not said.
    kept         whole tiles that are kept for a repair, as a rule: not in the count.
    turned       how an offcut was turned: not at all, half round, any way; pattern_said: the job says so.
    kerf         what the saw took between two pieces of one tile, mm.
    """

    tile: str
    w: float
    h: float
    area: float
    whole: int | None
    cut: int
    shared: tuple[Shared, ...]
    step: float | None
    holed: int
    spare_holed: int
    spare_cut: int
    kerf: float
    kerf_why: str
    pattern_said: bool
    turned: Literal["no", "half", "any"] = "no"
    box: int | None = None
    have: int | None = None
    kept: int = 0

    @property
    def from_offcuts(self) -> int:
        """How many pieces are cut from what another left."""
        return sum(len(tile.pieces) - 1 for tile in self.shared)

    @property
    def laid(self) -> int | None:
        """Tiles that are used, spares left out."""
        return None if self.whole is None else self.whole + self.cut - self.from_offcuts

    @property
    def total(self) -> int | None:
        """Tiles with the spares."""
        return None if self.laid is None else self.laid + self.spare_holed + self.spare_cut

    @property
    def boxes(self) -> int | None:
        """Whole boxes that hold them."""
        return None if self.total is None or self.box is None else -(-self.total // self.box)

    @property
    def over(self) -> int | None:
        """How many whole tiles those boxes leave."""
        return None if self.box is None or self.total is None else -self.total % self.box

    @property
    def short(self) -> int | None:
        """How many are missing of those in hand: 0 or less where there are enough; None where either is not known."""
        return None if self.total is None or self.have is None else self.total - self.have


class Adhesive(Struct, frozen=True):
    """The adhesive under one kind of tile: area x (bed + skim).

    bed     its thickness when the tile is down, mm, `bed_from` as the job says it or by the trowel's `notch`.
    skim    what is skimmed on the back of a buttered tile, mm.
    bags    of `bag_litres`, by the maker's figure; None: it was not said.
    """

    tile: str
    area: float
    bed: float
    notch: float | None
    skim: float
    litres: float
    bags: int | None = None
    bag: str = ""


class Grout(Struct, frozen=True):
    """The grout between tiles of one kind at one joint: area x (w + h) / (w x h) x joint x depth.

    depth  the tile's thickness, mm; `bags` as with adhesive.
    """

    tile: str
    area: float
    w: float
    h: float
    joint: float
    depth: float
    litres: float
    bags: int | None = None
    bag: str = ""


class Spacers(Struct, frozen=True):
    """The spacers of one joint, mm: one a tile where joints cross, three where a joint ends on the tile below.

    crossing, bonded  tiles laid the one way and the other.
    """

    joint: float
    crossing: int
    bonded: int

    @property
    def count(self) -> int:
        """How many: on a tile below two carry each tile, and one stands at its end; a cross does for four corners."""
        return self.crossing + 3 * self.bonded


class Silicone(Struct, frozen=True):
    """What closes the joints that are not grouted: their length x width x depth, and what is tooled off.

    joints  by what they are along, and their width; depth, mm; litres; tubes of `tube` litres.
    """

    joints: tuple[Sealed, ...]
    depth: float
    litres: float
    tubes: int
    tube: float


class ToBuy(Struct, frozen=True):
    """What a job takes.

    no_bed, no_thickness  the tiles of which the bed (and notch), or the thickness, was not said: no adhesive, no grout.
    silicone  the joints that take it, of all surfaces; beads: how much of it they take, None for no joint.
    """

    tiles: tuple[TileNeed, ...]
    adhesive: tuple[Adhesive, ...]
    grout: tuple[Grout, ...]
    silicone: tuple[Sealed, ...]
    spacers: tuple[Spacers, ...] = ()
    no_bed: tuple[str, ...] = ()
    no_thickness: tuple[str, ...] = ()
    beads: Silicone | None = None
