"""Pictures of the sheets and of the surfaces, to be sent from a site: PNG, drawn by CairoSVG from the very SVG.

CairoSVG, and the system library cairo that it draws with, are asked for here alone, and only where pictures are.
"""

from __future__ import annotations

from io import BytesIO
from typing import BinaryIO

from cutmarks.errors import OutputError
from cutmarks.writers.drawing import Drawing
from cutmarks.writers.svg import write_svg

PICTURES = "pictures"
DOTS = 150
"""To the inch: the least print that has to be read on a screen is 9 point, 19 dots high."""


def see_to_pictures() -> None:
    """Look whether pictures can be drawn here, before anything is written.

    Raises:
        OutputError: CairoSVG or cairo is missing.
    """
    try:
        import cairosvg  # noqa: F401  late: only who wants pictures needs it
    except ImportError:
        raise OutputError(
            "Pictures are drawn by CairoSVG, which is not installed here: pip install 'cutmarks[pictures]', or leave "
            "out --pictures. Nothing was written."
        ) from None
    except OSError:
        raise OutputError(
            "Pictures are drawn by the library cairo, which is not installed here: apt-get install libcairo2 (macOS: "
            "brew install cairo), or leave out --pictures. Nothing was written."
        ) from None


def picture_name(sheet: str) -> str:
    """What a sheet's picture is called, by its SVG file: of "sheets/a_face_1.svg" it is "pictures/a_face_1.png"."""
    return f"{PICTURES}/{sheet.rpartition('/')[2].removesuffix('.svg')}.png"


def write_picture(drawn: Drawing, out: BinaryIO) -> None:
    """Write a sheet as a PNG file; the same bytes for the same sheet on one machine."""
    import cairosvg

    svg = BytesIO()
    write_svg(drawn, svg)
    cairosvg.svg2png(bytestring=svg.getvalue(), write_to=out, dpi=DOTS)
