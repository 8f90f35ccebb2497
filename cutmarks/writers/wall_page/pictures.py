"""The drawings of the wall page: what all pieces of a surface share stands in the page once and is named by each."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence

from lxml import etree

from cutmarks.geometry.frames import Page, Point, Vector
from cutmarks.geometry.frames import Sheet as SheetFrame
from cutmarks.geometry.rings import Ring, Vertex
from cutmarks.geometry.shapes import Circle
from cutmarks.marks.elevation import Thumbnails, elevation, elevation_height
from cutmarks.marks.glyphs import CAP
from cutmarks.marks.lettering import width
from cutmarks.marks.model import CircleMark, Filled, Mark, Role, Stroke, Tone, Words
from cutmarks.marks.sketch import sketch, sketch_height
from cutmarks.openings.model import Cut, CutPiece
from cutmarks.plan import Plan
from cutmarks.saying import wall_words as words
from cutmarks.saying.measures import Measure
from cutmarks.sides import Side
from cutmarks.writers.drawing import DrawnPath, Letters, TextRun, runs_of
from cutmarks.writers.number import number
from cutmarks.writers.style import FILLS, LINES
from cutmarks.writers.svg import put_runs
from cutmarks.writers.wall_page.elements import put

_THUMBNAIL = 34.0, 24.0
_SKETCH = 20.0, 16.0
_ELEVATION = 190.0
_PLACES, _FEWER = 2, 1
"""Decimals of a millimetre, of small drawings and of elevations: they are looked at, nothing is measured on them."""
_ALONG, _TALL = (40.0, 15.0), (16.0, 24.0)
_ASIDE, _OFF, _TICK, _CROSS = 0.8, 1.2, 1.2, 2.0
"""A small drawing of where a measure lies: its size, along an upright edge its other size, the room round it, how far
off the edge the line is, its ticks, the arms of a middle's cross."""
_DEEPER, _AS_LONG = 1.6, 0.15
"""So many times as deep as the cut is what the drawing shows of the tile, and at least so much as it is long."""
ARROW = "up"
_IN_THE_STYLE = ("fill", "fill-rule", "stroke", "stroke-width", "stroke-dasharray")
_EM = 1.4
"""Of a font's size to the height of its capitals, as usual fonts have it."""


class WallPictures:
    """The drawings of one page."""

    def __init__(self, plan: Plan) -> None:
        """None is drawn yet."""
        self._plan = plan
        self._thumbnails = Thumbnails(plan)
        self._shared: dict[str, tuple[tuple[Mark[Page], ...], tuple[Mark[Page], ...]]] = {}

    def put_thumbnail(self, into: etree._Element, piece: CutPiece) -> None:
        """Where the piece is on its surface: the piece black."""
        w, h = _THUMBNAIL
        behind, black, over = self._thumbnails.layers(piece, w, h)
        surface = piece.piece.surface
        at = list(self._shared).index(surface) if surface in self._shared else len(self._shared)
        self._shared.setdefault(surface, (behind, over))
        drawn = self._svg(into, w, h, words.WHERE, "thumbnail")
        put(drawn, "use", href=f"#s-{at}")
        _put(drawn, black, h)
        put(drawn, "use", href=f"#o-{at}")

    def put_sketch(self, into: etree._Element, piece: CutPiece, *, heavy: bool) -> None:
        """The piece as it lies to be marked, on its face or, given from behind, on its back: what is hatched goes.

        With `heavy` the edges that it is marked from are.
        """
        sides = {side for cut in piece.cuts for side in cut.mark_from} if heavy else set()
        w, h = _SKETCH
        high = round(sketch_height(piece, w, h), _PLACES)
        tile = piece.piece.tile
        drawn = self._svg(into, min(w, high * tile.w / tile.h), high, words.SKETCH, "sketch")
        _put(drawn, sketch(piece, w, high, sides), high)

    @staticmethod
    def put_along(into: etree._Element, piece: CutPiece, cut: Cut, measure: Measure, edge: Side, said: str) -> None:
        """Where on the tile a measure lies: along the edge that the cut runs out over, so much of the tile as it takes.

        The piece and the cut as they are seen; what is cut is grey, each figure has its tick, and a core is drawn
        whole, with its middle, where it is no bite but a round.
        """
        tile, goes = piece.piece.tile, cut.share.bounds
        across = edge.axis == "across"
        long = tile.h if across else tile.w
        deep = max(_DEEPER * (goes.width if across else goes.height), _AS_LONG * long)
        deep, most = min(tile.w if across else tile.h, deep), _TALL if across else _ALONG
        scale = min(most[0] / (deep if across else long), most[1] / (long if across else deep))
        start, beside = tile.box.at(measure.side), tile.box.at(edge)

        def at(along: float, off: float) -> Point[Page]:
            """A place on the drawing, so far from the measure's side and so far outside the edge."""
            one, two = start - measure.side.sign * along, beside + edge.sign * off
            return Point(*((two * scale, one * scale) if across else (one * scale, two * scale)))

        shape = cut.opening.shape
        # The line is clear of a core that stands out over the edge.
        out = shape.d / 2 - cut.from_edges[edge] if isinstance(shape, Circle) else 0.0
        aside = max(out + _TICK / scale, 0.0) + _OFF / scale
        ends = [at(0.0, -deep), at(0.0, 0.0), at(long, 0.0), at(long, -deep)]
        lines = [ends, [at(0.0, aside), at(measure.values[-1], aside)]]
        lines += [[at(one, 0.0), at(one, aside + _TICK / scale)] for one in (0.0, *measure.values)]
        taken: list[Ring[Page]] = [
            Ring(tuple(Vertex(x * scale, y * scale, bend) for x, y, bend in ring.vertices)) for ring in cut.share.rings
        ]
        marks: list[Mark[Page]] = [Filled(tuple(taken), Tone.GREY)]
        if isinstance(shape, Circle):
            middle: Point[Page] = Point(cut.from_edges.left * scale, cut.from_edges.bottom * scale)
            marks.append(CircleMark(middle, shape.d / 2 * scale, Role.CENTRE_RING))
            arms: list[Vector[Page]] = [Vector(_CROSS, 0.0), Vector(0.0, _CROSS)]
            lines += [[middle + Vector(-arm.x, -arm.y), middle + arm] for arm in arms]
        marks += [Stroke(tuple(Vertex(one.x, one.y) for one in line), Role.MEASURE) for line in lines]
        corners = [at(along, off) for along in (0.0, long) for off in (-deep, aside + _TICK / scale)]
        low_x, high_x = min(one.x for one in corners), max(one.x for one in corners)
        low_y, high_y = min(one.y for one in corners), max(one.y for one in corners)
        drawn = put(into, "svg", class_="along tall" if across else "along", role="img", aria_label=said)
        box = low_x - _ASIDE, -high_y - _ASIDE, high_x - low_x + 2 * _ASIDE, high_y - low_y + 2 * _ASIDE
        drawn.attrib["viewBox"] = " ".join(map(_short, box))
        _put(drawn, marks, 0.0)

    @staticmethod
    def elevation_name(number: int) -> str:
        """What links to the elevation of the surface of that number, of those that are laid."""
        return f"v-elevation-{number}"

    def put_elevations(self, main: etree._Element) -> None:
        """Each surface that is laid, as large as the script's buttons make it."""
        for at, surface in enumerate(self._plan.laid):
            name = surface.setout.name
            title = f"h-elevation-{at}"
            section = put(main, "section", id=self.elevation_name(at), class_="view", aria_labelledby=title)
            put(section, "h2", f"{words.ELEVATION}: {name}", id=title)
            row = put(section, "p", class_="buttons scripted")
            put(row, "button", words.SMALLER, data_do="smaller").tail = " "
            put(row, "button", words.LARGER, data_do="larger").tail = " "
            put(row, "button", words.LIST, data_do="list")
            h = round(elevation_height(self._plan, surface, _ELEVATION), _FEWER)
            box = put(
                section, "div", class_="wide", tabindex="0", role="group", aria_label=f"{words.ELEVATION}: {name}"
            )
            drawn = self._svg(box, _ELEVATION, h, f"{words.ELEVATION}: {name}", "elevation")
            marks = elevation(self._plan, surface, _ELEVATION, h)
            _put(drawn, marks, h, _FEWER)

    def put_shared(self, into: etree._Element) -> None:
        """What the thumbnails share, and the arrow."""
        defs = put(put(into, "svg", width="0", height="0", aria_hidden="true", class_="shared"), "defs")
        put(defs, "path", id=ARROW, d="M10 0 20 12H14V24H6V12H0Z")
        for at, layers in enumerate(self._shared.values()):
            for name, marks in zip("so", layers, strict=True):
                self._group(defs, f"{name}-{at}", marks)

    def _group(self, defs: etree._Element, name: str, marks: Iterable[Mark[Page]]) -> None:
        group = put(defs, "g", id=name)
        _put(group, marks, _THUMBNAIL[1])

    @staticmethod
    def _svg(into: etree._Element, w: float, h: float, said: str, kind: str) -> etree._Element:
        box = {"viewBox": f"0 0 {number(w)} {number(h)}"}
        drawn = put(into, "svg", class_=kind, role="img", aria_label=said)
        drawn.attrib.update(box)
        return drawn


def _put(into: etree._Element, marks: Iterable[Mark[Page]], h: float, places: int = _PLACES) -> None:
    """Marks under an element; words as text, as wide as they are meant to be: a phone has a font."""
    for run in _runs(marks, places):
        if run.pen.line is not None or not isinstance(run.shapes[0], Letters):
            put_runs(into, [run], h, None)
            own = ("fill",) if run.pen.line is None and run.pen.tone is not Tone.BLACK else ()
            for attribute in _IN_THE_STYLE:
                if attribute not in own:
                    into[-1].attrib.pop(attribute, None)
            continue
        group = put(into, "g", fill=FILLS[run.pen.tone])
        for shape in run.shapes:
            if isinstance(shape, Letters):
                _put_words(group, shape, h)


def _put_words(group: etree._Element, said: Letters, h: float) -> None:
    height = said.scale * CAP
    text = put(group, "text", said.text)
    turn = math.radians(said.turn)
    x, y = said.x + said.start * math.cos(turn), said.y + said.start * math.sin(turn)
    at = {"x": number(x, _PLACES), "y": number(h - y, _PLACES)}
    text.attrib.update(at)
    text.attrib["font-size"] = number(height * _EM, _PLACES)
    text.attrib["textLength"] = number(width(said.text, height, said.bold), _PLACES)
    text.attrib["lengthAdjust"] = "spacingAndGlyphs"
    if said.bold:
        text.attrib["font-weight"] = "bold"
    if said.turn:
        text.attrib["transform"] = f"rotate({number(-said.turn, _PLACES)} {at['x']} {at['y']})"


def _runs(marks: Iterable[Mark[Page]], places: int) -> Iterator[TextRun]:
    """Marks as runs of shapes, coarse; the lines of one pen are drawn at one go."""
    for run in runs_of(_coarse(mark, places) for mark in marks):
        paths = [shape for shape in run.shapes if isinstance(shape, DrawnPath)]
        if run.pen.line is None or len(paths) < len(run.shapes):
            yield run
        else:
            yield TextRun(run.pen, (DrawnPath(tuple(contour for path in paths for contour in path.contours)),))


def line_style() -> str:
    """How each kind of line looks, as the page's style says it once.

    No rule asks what a drawing stands in: what `use` shows stands in nothing.
    """
    rules = ["g.fill{fill-rule:evenodd;stroke:none}"]
    for role, line in LINES.items():
        dashes = f";stroke-dasharray:{' '.join(number(dash) for dash in line.dashes)}" if line.dashes else ""
        rules.append(
            f"g.{role.value.replace(' ', '-')}{{fill:none;stroke:#000;stroke-width:{number(line.width)}{dashes}}}"
        )
    return "\n".join(rules) + "\n"


def _coarse(mark: Mark[Page], places: int) -> Mark[SheetFrame]:
    match mark:
        case Stroke(path=path, role=role, closed=closed):
            return Stroke(_rounded(path, places), role, closed)
        case CircleMark(centre=centre, radius=radius, role=role):
            return CircleMark(_point(centre, places), round(radius, places), role)
        case Filled(rings=rings, tone=tone):
            return Filled(tuple(Ring(_rounded(ring.vertices, places)) for ring in rings), tone)
        case Words():
            return Words(mark.text, _point(mark.at, places), mark.height, mark.anchor, mark.bold, mark.turn, mark.tone)


def _rounded(path: Sequence[Vertex], places: int) -> tuple[Vertex, ...]:
    return tuple(Vertex(round(x, places), round(y, places), bulge) for x, y, bulge in path)


def _short(value: float) -> str:
    return number(value, _FEWER)


def _point(point: Point[Page], places: int) -> Point[SheetFrame]:
    return Point(round(point.x, places), round(point.y, places))
