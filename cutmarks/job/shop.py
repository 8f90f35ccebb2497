"""What the shop that cuts asks for, in a file of its own: how corners are made, which DXF, layers, tolerance."""

import re
from typing import Annotated, Literal

from cutmarks.job.declared import Key
from cutmarks.job.fields import Flag, NameField, Note, WordsField, length, one_of, parsed, words
from cutmarks.job.model import JobModel, TypedKeys
from cutmarks.job.tools import DiscField, listed
from cutmarks.job.words import Setting, found, spaced
from cutmarks.patterns import late
from cutmarks.readings import LAYERS, LONGEST_LAYER, SHARP, Corners, DxfRelease, ShopLayers, ShopWishes

LEAST_CORNER, WIDEST_CORNER = 0.5, 25.0
_LAYER = late(rf"[A-Za-z0-9_$-]{{1,{LONGEST_LAYER}}}")
"""What a layer may be called in every release of DXF."""
_corner_in_range = length(LEAST_CORNER, WIDEST_CORNER, "A corner's radius, or its hole,")


def parse_corners(text: str, setting: Setting) -> Corners:
    """What is made of inside corners: "5" (a radius), "holes 6" (a small hole in each), "sharp". Raises ValueError."""
    said = spaced(text).casefold()
    if said in ("sharp", "0"):
        return SHARP
    hole = re.fullmatch(r"(?:relief )?holes?(?: of)? (?P<after>.+)|(?P<before>.+?) (?:relief )?holes?", said)
    try:
        if hole is not None:
            return Corners("holes", _corner_in_range(hole["after"] or hole["before"], setting))
        return Corners("round", _corner_in_range(said.removeprefix("r ").removeprefix("radius "), setting))
    except ValueError as error:
        raise ValueError(f"{error} Write a radius, as in 5, holes 6, or sharp.") from None


def parse_layer(text: str, setting: Setting) -> str:
    """A layer's name. Raises ValueError: it has what an old DXF cannot have."""
    if not _LAYER.fullmatch(text):
        raise ValueError(
            f"{found(text)} is no layer that every DXF can have: write up to {LONGEST_LAYER} letters, figures, - or _, "
            "and no blank."
        )
    return text


CornersField = Annotated[Corners, parsed(parse_corners)]
LayerField = Annotated[str, parsed(parse_layer)]
ToleranceField = Annotated[float, parsed(length(0.05, 5.0, "A tolerance"))]
PierceField = Annotated[float, parsed(length(1.0, 50.0, "The room to pierce"))]
JetField = Annotated[float, parsed(length(0.1, 5.0, "A jet's radius"))]
LeastHoleField = Annotated[float, parsed(length(1.0, 50.0, "The least hole"))]
RELEASES: dict[str, DxfRelease] = {"R2000": "R2000", "R12": "R12", "R12 plain": "R12 plain"}
CORNER_KEY = Key(
    "what is made of inside corners for the shop: a radius, small holes, or sharp", ("5", "holes 6", "sharp")
)


class LayersSpec(JobModel, frozen=True, kw_only=True):
    """What the shop calls its layers."""

    outline: Annotated[LayerField, Key("the layer of outlines", ("CUT", "OUTSIDE"))] = LAYERS.outer
    inside: Annotated[LayerField, Key("the layer of what is cut out of them", ("CUT", "INSIDE"))] = LAYERS.inner
    paths: Annotated[LayerField, Key("the layer of open cut paths", ("PATHS", "OPEN"))] = LAYERS.open
    holes: Annotated[LayerField, Key("the layer of small holes in inside corners", ("DRILL", "HOLES"))] = LAYERS.holes


class ToleranceSpec(JobModel, frozen=True, kw_only=True):
    """How exact the shop cuts, mm: outline and holes either way, a diameter over and not under, arrises on the face."""

    outline: Annotated[ToleranceField, Key("of outlines, either way", ("0.5", "0.3"))] = 0.5
    holes: Annotated[ToleranceField, Key("of where holes are, either way", ("0.5", "0.3"))] = 0.5
    diameter: Annotated[ToleranceField, Key("how far a hole may be over", ("1", "0.5"))] = 1.0
    arris: Annotated[
        ToleranceField, Key("how wide an arris taken off, or a chip, may be on the face", ("0.5", "1"))
    ] = 0.5


class Shop(JobModel, frozen=True, kw_only=True):
    """The shop: what it cuts with, and what it wants to be given."""

    name: Annotated[NameField, Key("what the shop is called", ("Weir Lane cutting", "Forge Yard"))] = ""
    cuts_with: Annotated[
        Literal["jet", "saw", ""], words("jet", "saw"), Key("what it cuts with", ("jet", "saw"), also=("machine",))
    ] = ""
    discs: Annotated[
        tuple[DiscField, ...],
        Key("the saw's discs, in place of your own", ("300 x 2.2 x 90 deep", "250 x 2"), also=("disc",)),
    ] = ()
    corner_radius: Annotated[CornersField, CORNER_KEY] = SHARP
    dxf: Annotated[DxfRelease, one_of(RELEASES), Key("which DXF its control reads", ("R2000", "R12", "R12 plain"))] = (
        "R2000"
    )
    layers: Annotated[LayersSpec, Key("what its layers are called", ("{outline: CUT, inside: CUT}",), one="layers")] = (
        LayersSpec()
    )
    tolerance: Annotated[
        ToleranceSpec, Key("how exact it cuts", ("{outline: 0.3, diameter: 0.5}",), one="tolerance")
    ] = ToleranceSpec()
    pierce: Annotated[
        PierceField,
        Key("the room that its jet needs to begin in", ("8", "12")),
    ] = 8.0
    jet_radius: Annotated[JetField, Key("the least radius that its jet makes", ("1", "1.5"))] = 1.0
    least_hole: Annotated[LeastHoleField, Key("a hole under this it drills", ("10", "14"))] = 10.0
    back_view: Annotated[Flag, Key("yes: a view of the back too, in a file that says so", ("yes", "no"))] = False
    edge_work: Annotated[
        Flag | None,
        Key("yes: it mitres and finishes edges itself; no: they are left as cut, for the tiler", ("yes", "no")),
    ] = None
    units: Annotated[WordsField, Key("the unit of a figure that has none", ("mm", "in"))] = ""
    note: Note = ""

    @classmethod
    def prepare(cls, written: TypedKeys, setting: Setting) -> None:
        """Discs on one line are a list."""
        listed(written, "discs")

    def wishes(self, corners: Corners | None) -> ShopWishes:
        """What it asked for, as a plan keeps it; `corners` is what the job says itself."""
        layers, tolerance = self.layers, self.tolerance
        return ShopWishes(
            name=self.name,
            jet=self.cuts_with != "saw",
            corners=self.corner_radius if corners is None else corners,
            dxf=self.dxf,
            layers=ShopLayers(layers.outline, layers.inside, layers.paths, layers.holes),
            outline=tolerance.outline,
            place=tolerance.holes,
            over=tolerance.diameter,
            arris=tolerance.arris,
            pierce=self.pierce,
            least_radius=self.jet_radius,
            least_hole=self.least_hole,
            back=self.back_view,
            edge_work=self.edge_work,
            note=self.note,
        )


USUAL_SHOP = Shop()
"""Of a job that says nothing of one."""
