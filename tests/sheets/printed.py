"""The finished PDF against the plan, both measured by themselves.

The PDF is read by pypdf alone (`ink`); what is wrong with its words is found by `apart`. Where a page's drawing lies
on the tile is taken from the page itself: from the printed line of the tile's edge or the line to tape to; on a joined
sheet that lies beside no edge, from the paper's own figures (margin 10, foot 16.5, head 34, panels 58, strip 7, the
band at the left 84, on the back 10 of black and a frame of 5, the edge 8.5 in, an overlap of 16), written down here
again. A page that is held turned is turned back first.
What ought to be there is taken from the plan's shares of the openings: mirrored by hand for the back.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from fractions import Fraction
from itertools import pairwise

from msgspec import Struct
from msgspec.structs import replace

from cutmarks.geometry.edges import Bounds
from cutmarks.plan import Plan
from cutmarks.registering.model import Registration
from cutmarks.saying.edges import edge_names
from cutmarks.saying.seen import as_laid
from cutmarks.sheets.build import build_pack
from cutmarks.units import Unit
from cutmarks.writers.pdf import pdf_bytes
from tests.sheets.apart import word_faults
from tests.sheets.beside import beside_faults
from tests.sheets.ink import Page as Inked
from tests.sheets.ink import curve, inked_pages
from tests.sheets.places import held, place_faults
from tests.writers.pdf_reading import reader_of

HUNDREDTH = 0.01
MARGIN, FOOT, HEAD, PANELS, STRIP, INSET, OVERLAP = 10.0, 16.5, 34.0, 58.0, 7.0, 8.5, 16.0
"""The margin is the printer's own where it has one."""
BAND, BLACK, FRAME = 84.0, 10.0, 5.0
CUT, EDGE, WIDE, NARROW = 0.7, 0.5, 0.35, 0.25
CHAIN, DOUBLE_DOTTED = 4, 6
"""Dashes and gaps of the chain line and of the long-dashed double-dotted one."""
PAPER = {
    "A4": (210.0, 297.0),  # ISO 216
    "A3": (297.0, 420.0),  # ISO 216
    "Letter": (215.9, 279.4),  # ASME Y14.1
    "Tabloid": (279.4, 431.8),  # ASME Y14.1
    "any": (210.0, 279.4),
    "A2": (420.0, 594.0),  # ISO 216
    "A1": (594.0, 841.0),  # ISO 216
    "A0": (841.0, 1189.0),  # ISO 216
}
CLEAR = 3.0
"""Left free round a cut."""
TOUCH = 1e-6
CLOSE = 1e-3


class Page(Struct, frozen=True, dict=True):
    """One page as it was read: its size, its strokes as (points, is a curve, line width, dashes), mm; its words."""

    width: float
    height: float
    strokes: list
    margin: float
    said: str = ""
    held: str = "portrait"

    def turned(self):
        """The page as it is held where its band stands at the left: the file has it turned counter-clockwise."""
        strokes = [
            ([(y, self.width - x) for x, y in points], steps, width, dashes)
            for points, steps, width, dashes in self.strokes
        ]
        return Page(self.height, self.width, strokes, self.margin, self.said, "landscape")

    def view(self, back):
        """The box that shows the tile."""
        blank, high = self.margin, self.height - self.margin
        left, top = (blank, high - HEAD - PANELS) if self.held == "portrait" else (blank + BAND, high)
        box = Bounds(left, blank + FOOT, self.width - blank - STRIP, top)
        if not back:
            return box
        return Bounds(box.min_x + FRAME, box.min_y + FRAME, box.max_x - FRAME, box.max_y - BLACK - FRAME)


class Read(Struct, dict=True):
    """How much was read."""

    pages: int = 0
    words: int = 0
    lines: int = 0


def page_of(inked: Inked, margin: float, layout: str = "portrait") -> Page:
    strokes = []
    for line in inked.lines:
        points, steps = _closed(line.steps)
        strokes.append((points, steps, line.width, len(line.dashes)))
    return Page(inked.width, inked.height, strokes, margin, " ".join(word.text for word in inked.words), layout)


def _closed(steps):
    """The points and the steps of a path; the line that closes one is a line as any other."""
    points: list[tuple[float, float]] = []
    kinds, first = [], (0.0, 0.0)
    for kind, ends in steps:
        if kind == "m":
            first = ends[0]
        if kind == "h":
            if math.dist(points[-1], first) < TOUCH:
                continue
            kind, ends = "l", [first]
        points += ends
        kinds.append(kind)
    return points, kinds


def paper_mm(asked: str, tallest: float = 0.0) -> tuple[float, float]:
    """The size of a page on the paper that a job asks for, mm; `tallest` is its tallest tile that is cut.

    Plotter sheets are turned upright. A roll is cut off after the tile with head 34, panels 58, black 10 and foot 16.5,
    and at both ends 20 of margin, 5 of frame and the edge's 8.5; up to the next ten, no shorter than the roll is wide,
    at most 5,080.
    """
    if asked in PAPER:
        return PAPER[asked]
    if asked.startswith("roll "):
        width = float(asked.removeprefix("roll "))
        needed = tallest + HEAD + PANELS + BLACK + FOOT + 2 * (20.0 + FRAME + INSET)
        return width, min(max(width, math.ceil(needed / 10) * 10.0), 5080.0)
    one, other = (float(side) for side in asked.split(" x "))
    return min(one, other), max(one, other)


def faults_of(
    plan: Plan, drawn_from: Plan | None = None, asked: str | None = None, read: Read | None = None
) -> Iterator[str]:
    """All that is wrong with the pack of a plan, in words; nothing where all is right.

    `drawn_from` is another plan that is drawn instead, to see that a difference is found; `asked` is the paper that
    the job asks for, where the plan has a sheet made of it. `read` is told how much was looked at.
    """
    tallest = max((piece.piece.tile.h for piece in plan.pieces if piece.cuts), default=0.0)
    paper = paper_mm(asked or plan.say.paper, tallest)
    pack = build_pack(drawn_from or plan)
    front, templates = tuple(pack.front), tuple(pack.templates)
    sheets = (*front, *templates)
    if not sheets:
        return
    data = pdf_bytes(sheets, plan.job)
    preferences = reader_of(data).trailer["/Root"]["/ViewerPreferences"]
    if preferences["/PrintScaling"] != "/None":
        yield "the viewer may scale it"
    inked = inked_pages(data)
    margin = MARGIN if plan.say.margin is None else plan.say.margin
    pages = [page_of(one, margin) for one in inked]
    if read is not None:
        read.pages += len(inked)
        read.words += sum(len(one.words) for one in inked)
        read.lines += sum(len(one.lines) for one in inked)
    if len(pages) != len(sheets):
        yield f"{len(pages)} pages for {len(sheets)} sheets"
    for number, page in enumerate(pages, start=1):
        yield from (f"page {number}: {fault}" for fault in _page_faults(page, paper, plan.say.style.unit is Unit.MM))
    for number, one in enumerate(inked, start=1):
        yield from (f"page {number}: {fault}" for fault in word_faults(one, margin))
    layouts = _layouts(plan, templates)
    for number, (one, layout) in enumerate(zip(inked[len(front) :], layouts, strict=True), start=1):
        yield from (f"sheet {number}: {fault}" for fault in place_faults(one, layout, margin))
        turned, back = held(one, layout), "_back_" in templates[number - 1].file
        view = page_of(turned, margin, layout).view(back)
        yield from (f"sheet {number}: {fault}" for fault in beside_faults(turned, view))
    yield from _drawing_faults(plan, dict(_drawn(plan, templates, pages[len(front) :])))


def _page_faults(page, paper, metric):
    wide, high = paper
    if abs(page.width - wide) > HUNDREDTH or abs(page.height - high) > HUNDREDTH:
        yield f"it is {page.width:.3f} x {page.height:.3f}"
    blank = page.margin
    safe = Bounds(blank - TOUCH, blank - TOUCH, wide - blank + CLOSE, high - blank + CLOSE)
    for points, _, width, _ in page.strokes:
        if not _box(points).within(safe, CLOSE):
            yield f"a line of {width:.2f} runs to {_box(points)}"
    # The bars as they are said: tens of mm across, fifties along; whole inches in a job in inches.
    across = (wide - 2 * blank - 8.05) // 10 * 10 if metric else (wide - 2 * blank - 8.05) // 25.4 * 25.4
    along = (high - 2 * blank - 4.25) // 50 * 50 if metric else (high - 2 * blank - 4.25) // 25.4 * 25.4
    lines = [(a, b) for (a, b), steps, width, _ in _two(page) if abs(width - WIDE) < CLOSE]
    for want, axis in ((across, 0), (along, 1)):
        if not any(
            abs(abs(a[axis] - b[axis]) - want) < HUNDREDTH and abs(a[1 - axis] - b[1 - axis]) < CLOSE for a, b in lines
        ):
            yield f"no bar of {want:g}"


def _two(page):
    return [stroke for stroke in page.strokes if stroke[1] == ["m", "l"]]


def _box(points):
    xs, ys = zip(*points, strict=True)
    return Bounds(min(xs), min(ys), max(xs), max(ys))


def _drawn(plan, templates, pages):
    """The pages that show the tile, for each registration in its order, and what its pages say: (its index, both)."""
    waiting: dict = {}
    for sheet, page in zip(templates, pages, strict=True):
        stem, face, *_ = sheet.file.rpartition(".")[0].rsplit("_", 3)  # then its number and the fingerprint
        waiting.setdefault((stem, face), []).append((sheet, page))
    # Sheets of one piece and face come in the order of its registrations.
    groups: dict = {}
    for index, registration in enumerate(plan.registrations):
        groups.setdefault((registration.piece, registration.back), []).append(index)
    for (piece, back), indices in groups.items():
        own = [
            pages
            for (_, face), pages in waiting.items()
            if face == ("back" if back else "face") and f": {piece}, " in pages[0][0].title
        ]
        (queue,) = own
        for index in indices:
            sheet = plan.registrations[index]
            pages, queue = [page for _, page in queue[: sheet.pages]], queue[sheet.pages :]
            if sheet.layout == "landscape":
                pages = [page.turned() for page in pages]
            yield index, (pages, " ".join(page.said for page in pages))


def _layouts(plan, templates):
    """The layout of each template's page, in the order of the pages."""
    of_sheet: dict = {}
    for sheet in templates:
        stem, face, *_ = sheet.file.rpartition(".")[0].rsplit("_", 3)
        of_sheet.setdefault((stem, face), []).append(sheet.file)
    found: dict = {}
    for (_, face), files in of_sheet.items():
        title = next(sheet.title for sheet in templates if sheet.file == files[0])
        own = [
            one
            for one in plan.registrations
            if face == ("back" if one.back else "face") and f": {one.piece}, " in title
        ]
        found.update(zip(files, [one.layout for one in own for _ in range(one.pages)], strict=True))
    return [found[sheet.file] for sheet in templates]


def _shows_the_tile(page, back):
    """Whether a cut or an edge of the tile is drawn where the tile is shown."""
    view = page.view(back)
    return any(
        (dashes == DOUBLE_DOTTED or abs(width - CUT) < CLOSE) and _box(points).within(view, CLOSE)
        for points, _, width, dashes in page.strokes
    )


def _drawing_faults(plan, drawn):
    pieces = {piece.name: piece for piece in plan.pieces}
    seen: dict = {}
    for index, registration in enumerate(plan.registrations):
        piece = pieces[registration.piece]
        seen.setdefault((piece.name, registration.back), []).extend(registration.cuts)
        what = f"{piece.name} on {registration.how} {registration.edges}"
        pages, said = drawn[index]
        for fault in _registration_faults(plan, piece, registration, pages):
            yield f"{what}: {fault}"
        for fault in laying_faults(plan, piece, registration, said):
            yield f"{what}: {fault}"
        for fault in (*_figure_faults(plan, piece, registration, said), *_check_faults(plan, piece, pages, said)):
            yield f"{what}: {fault}"
    for piece in plan.pieces:
        cuts = sorted({cut for (name, _), found in seen.items() if name == piece.name for cut in found})
        cuts = [cut for cut in cuts if cut < len(piece.cuts)]
        if cuts != list(range(len(piece.cuts))):
            yield f"{piece.name}: only cuts {cuts} are on paper"


def _registration_faults(plan, piece, registration: Registration, pages):
    w, h = piece.piece.tile.w, piece.piece.tile.h
    back = registration.back
    flip = (lambda x: w - x) if back else (lambda x: x)
    swap = {"left": "right", "right": "left"} if back else {}
    edges = [swap.get(side, side) for side in registration.edges]
    paths, crosses = [], []
    for number, page in enumerate(pages):
        if not _shows_the_tile(page, back):
            yield f"sheet {number + 1} of it has no drawing"
        cell = (number % registration.columns, number // registration.columns)
        place, faults = _placing(plan, piece, registration, page, edges, cell, (w, h), flip)
        yield from faults
        if place is None:
            return
        view = page.view(back)
        for points, steps, width, dashes in page.strokes:
            if abs(width - CUT) < CLOSE and not dashes and _box(points).within(view, CLOSE):
                paths.append(([(x - place[0], y - place[1]) for x, y in points], steps))
        shown = Bounds(view.min_x - place[0], view.min_y - place[1], view.max_x - place[0], view.max_y - place[1])
        chain = [
            [(x - place[0], y - place[1]) for x, y in points]
            for points, _, width, dashes in _two(page)
            if dashes == CHAIN and abs(width - NARROW) < CLOSE and _box(points).within(view, CLOSE)
        ]
        crosses.append((shown, chain))
    for corner in _corners_of(piece, registration):
        yield from _corner_faults(piece, corner, paths, flip)
    for cut in (piece.cuts[index] for index in registration.cuts if index < len(piece.cuts)):
        yield from _centre_faults(plan, piece, cut, crosses, flip)
        if any(cut is not other and cut.share.bounds.overlaps(other.share.bounds) for other in piece.cuts):
            continue  # random cuts that run into each other have one outline
        yield from _cut_faults(cut, paths, flip, registration, view)


def laying_faults(plan, piece, registration, said):
    """How the sheet is laid on the tile, by its words alone: both directions, each by an edge that is named or a tape.

    Where the line to tape to lies on the tile is then known to half a step of the figures, and with it every cut.
    """
    laid, lined_up = as_laid(piece, registration)
    names = edge_names(plan, laid)
    if _is_stopped(plan, piece):
        if re.search(r"MEASURE \d|LINE UP|found MORE", said):
            yield "a piece that must not be cut says how to read it, or to lay its sheet"
        return
    for side in lined_up.edges:
        if f"LINE UP: {names[side]}" not in said:
            yield f"nothing says that the {side} edge is the {names[side]}"
    if lined_up.cuts[0] >= len(laid.cuts):
        return  # an inside corner, which has its template from two edges alone
    first = laid.cuts[lined_up.cuts[0]]
    across = {"left": first.from_left, "right": first.from_right, "bottom": first.from_bottom, "top": first.from_top}
    metric = plan.say.style.unit is Unit.MM
    half = 0.25 if metric else 25.4 * float(plan.say.style.finest) / 2
    for side, line in zip(lined_up.tape, lined_up.lines, strict=True):
        found = re.findall(rf"MEASURE (\S+(?: \d+/\d+)?) from the {re.escape(names[side])}", said)
        taped = [_mm_of(figure, metric) for figure in found]
        size = piece.piece.tile.w if side in ("left", "right") else piece.piece.tile.h
        # Both figures of a pair add up to the tile as printed: the longer one is the tile's less the shorter one's.
        far = half if line < size / 2 else 2 * half
        if not any(abs(mm - line) <= far + TOUCH for mm in taped):
            yield f"no figure to tape from the {names[side]}: {found} for {line:.2f}"
        own = first.share.bounds
        near = across[side], *(abs(end - edge) for end, edge in _ends_of(own, side, laid.piece.tile))
        if min(abs(line - mm) for mm in near) > HUNDREDTH:
            yield f"the line to tape to is {line:.2f} from the {side} edge"
    if {side.axis for side in (*lined_up.edges, *lined_up.tape)} != {"across", "up"}:
        yield "one direction is not said at all"


def _ends_of(box, side, tile):
    edge = tile.box.at(side)
    return [(end, edge) for end in ((box.min_x, box.max_x) if side.axis == "across" else (box.min_y, box.max_y))]


def _mm_of(figure, metric):
    """A figure as it is printed, in mm: "124\u00bd", "9 17/32"."""
    text = figure.replace("\u00bd", " 1/2").replace("\u00bc", " 1/4").replace("\u00be", " 3/4")
    value = sum((Fraction(part) for part in text.split()), Fraction(0))
    return float(value) * (1.0 if metric else 25.4)


def _is_stopped(plan, piece):
    names = {piece.name, piece.piece.name, *(one.opening.name for one in piece.cuts)}
    return any(
        one.level == "stop" and one.holds == "all" and one.accepted is None and names & set(one.about)
        for one in plan.findings
    )


def _placing(plan, piece, registration, page, edges, cell, size, flip):
    """Where the tile's corner lies on the page, by the printed lines; the faults of those lines."""
    faults = []
    at = []
    view = page.view(registration.back)
    first = registration.cuts[0]
    centre = (flip(piece.cuts[first].centre.x), piece.cuts[first].centre.y) if first < len(piece.cuts) else None
    for axis, names in enumerate((("left", "right"), ("bottom", "top"))):
        side = next((side for side in edges if side in names), None)
        full = (view.max_x - view.min_x, view.max_y - view.min_y)
        step = full[axis] - OVERLAP
        if side is None:
            line = _long_line(page, axis, CHAIN, NARROW, view)
            if line is None:
                return None, [f"no line to tape to, axis {axis}"]
            if centre is None:
                return None, ["an inside corner goes by tape"]
            at.append(line - centre[axis])
            continue
        far = side in ("right", "top")
        if registration.how != "joined" or cell[axis] == 0:
            line = _long_line(page, axis, DOUBLE_DOTTED, EDGE, view)
            if line is None:
                return None, [f"no line for the {side} edge"]
            at.append(line - (size[axis] if far else 0.0))
        if registration.how == "joined":
            low, high = (view.min_x, view.max_x) if axis == 0 else (view.min_y, view.max_y)
            by_hand = high - INSET - size[axis] + step * cell[axis] if far else low + INSET - step * cell[axis]
            if len(at) > axis and abs(at[axis] - by_hand) > HUNDREDTH:
                faults.append(f"the {side} edge of sheet {cell} lies {at[axis] - by_hand:.3f} out")
            elif len(at) <= axis:
                at.append(by_hand)
    return tuple(at), faults


def _long_line(page, axis, dashes, width, view):
    """The longest line of this kind that is crossed when one goes along the axis: where it is."""
    found = [
        (abs(a[1 - axis] - b[1 - axis]), a[axis])
        for (a, b), _, wide, pattern in _two(page)
        if pattern == dashes
        and abs(wide - width) < CLOSE
        and abs(a[axis] - b[axis]) < CLOSE
        and _box([a, b]).within(view, CLOSE)
    ]
    return max(found)[1] if found else None


def _centre_faults(plan, piece, cut, crosses, flip):
    """The middle of a cut is where two chain lines cross, on a sheet that shows it; a stop leaves no cross."""
    x, y = flip(cut.centre.x), cut.centre.y
    if min(cut.from_left, cut.from_right, cut.from_bottom, cut.from_top) <= 0.0:
        return  # off the tile: nothing to mark
    drawn = shown = False
    for view, chain in crosses:
        shown = shown or Bounds(x, y, x, y).within(view, -CLOSE)
        level = [(a, b) for a, b in chain if abs(a[1] - b[1]) < CLOSE and abs(a[1] - y) < HUNDREDTH]
        upright = [(a, b) for a, b in chain if abs(a[0] - b[0]) < CLOSE and abs(a[0] - x) < HUNDREDTH]
        drawn = drawn or (
            any(min(a[0], b[0]) < x < max(a[0], b[0]) for a, b in level)
            and any(min(a[1], b[1]) < y < max(a[1], b[1]) for a, b in upright)
        )
    names = {piece.name, *(one.opening.name for one in piece.cuts)}
    stopped = any(one.level == "stop" and one.accepted is None and names & set(one.about) for one in plan.findings)
    if shown and not drawn and not stopped:
        yield f"{cut.opening.name} has no cross at {x:.3f}, {y:.3f}"


def _cut_faults(cut, paths, flip, registration, view):
    """Each printed corner lies on the share's outline, and each of the share's own corners is printed."""
    outline = [
        (flip(v.x), v.y, (-v.bulge if flip(0.0) else v.bulge), flip(u.x), u.y)
        for ring in cut.share.rings
        for v, u in pairwise((*ring.vertices, ring.vertices[0]))
    ]
    near = [
        (points, steps)
        for points, steps in paths
        if all(_off(x, y, outline) < HUNDREDTH for x, y in _along(points, steps))
    ]
    if not near and registration.how != "joined" and _larger(cut, view):
        return  # none of its sides is on the one sheet, which says so: it is marked by its figures
    if not near:
        yield f"{cut.opening.name} is not drawn"
        return
    whole = cut.kind == "hole" and (registration.how != "joined")
    if whole:
        box = _box([point for points, steps in near for point in _along(points, steps)])
        share = cut.share.bounds
        xs = sorted((flip(share.min_x), flip(share.max_x)))
        want = (xs[0], share.min_y, xs[1], share.max_y)
        off = max(abs(one - other) for one, other in zip(box, want, strict=True))
        round_hole = any(step == "c" for _, steps in near for step in steps)
        clipped = box.width + HUNDREDTH < xs[1] - xs[0] or box.height + HUNDREDTH < share.max_y - share.min_y
        if off > HUNDREDTH and not (clipped and _larger(cut, view)):
            yield f"{cut.opening.name} lies {off:.3f} out{' (round)' if round_hole else ''}"


def _corners_of(piece, registration):
    """The inside corners that a sheet is for, as vertices of what trimming leaves: (x, y, before, after), by hand."""
    found: list = []
    for index in registration.cuts:
        if index >= len(piece.cuts):
            at = piece.corners[index - len(piece.cuts)].centre
            found += [
                (v.x, v.y, (u.x, u.y), (n.x, n.y))
                for ring in piece.piece.outline.rings
                for u, v, n in _threes(ring.vertices)
                if math.hypot(v.x - at.x, v.y - at.y) < TOUCH
            ] or [None]
    return found


def _threes(vertices):
    return [(vertices[k - 1], vertices[k], vertices[(k + 1) % len(vertices)]) for k in range(len(vertices))]


def _corner_faults(piece, corner, paths, flip):
    """The corner is a corner of what is printed as cut, and both saw cuts lead from it for 15, or as far as they go."""
    if corner is None:
        yield "what the sheet is for is no corner of the trimmed outline"
        return
    x, y, before, after = corner
    turn = (x - before[0]) * (after[1] - y) - (y - before[1]) * (after[0] - x)
    if turn >= 0.0:
        yield f"the corner at {x:.3f}, {y:.3f} does not point into the tile"
    lines = [pair for points, steps in paths for pair in pairwise(_along(points, steps))]
    for end in (before, after):
        long = math.dist((x, y), end)
        for far in (0.0, min(15.0, long) / 2, min(15.0, long)):
            px, py = x + (end[0] - x) * far / long, y + (end[1] - y) * far / long
            if not any(_off_edge(flip(px), py, a[0], a[1], 0.0, b[0], b[1]) < HUNDREDTH for a, b in lines):
                yield f"no saw cut at {px:.3f}, {py:.3f}"
    if not any(math.hypot(a[0] - flip(x), a[1] - y) < HUNDREDTH for pair in lines for a in pair):
        yield f"no corner at {x:.3f}, {y:.3f}"


def _figure_faults(plan, piece, registration, said):
    """Both figures of each inside corner stand on its sheet: what is left of the tile is never more than it is."""
    step = 0.5 if plan.say.style.unit is Unit.MM else 25.4 * float(plan.say.style.finest)
    w, h = piece.piece.tile.w, piece.piece.tile.h
    words = set(re.findall(r"\S+", said))
    for index in registration.cuts:
        if index < len(piece.cuts) or step != 0.5:
            continue
        corner = piece.corners[index - len(piece.cuts)]
        (at,) = [one for one in _corners_of(piece, replace(registration, cuts=(index,))) if one is not None]
        x, y, before, after = at
        for side in corner.mark_from:
            far = {"left": x, "right": w - x, "bottom": y, "top": h - y}[side]
            axis = 0 if side in ("left", "right") else 1
            out = sum((end[axis] - at[axis]) / math.dist(at[:2], end) for end in (before, after))
            goes = (out > 0) == (side in ("right", "top"))
            halves = math.ceil(far / step - 1e-4) if goes else math.floor(far / step + 1e-4)
            figure = f"{halves // 2 or ''}{chr(189) if halves % 2 else ''}" or "0"
            if figure not in words:
                yield f"no figure {figure} from the {side}"


def _check_faults(plan, piece, pages, said):
    """What has to be checked, and what stops, stands on every page of its piece, by its first sentence at least."""
    names = {piece.name, piece.piece.name, *(cut.opening.name for cut in piece.cuts)}
    for one in plan.findings:
        if one.level == "note" or not names & set(one.about):
            continue
        # What is left of a tile beside a cut is said of that tile, and not of the next one that the hole meets.
        of_a_tile = one.rule in ("thin bridge", "sharp horn", "core breaks in") and one.level == "warn"
        if of_a_tile and not {piece.name, piece.piece.name} & set(one.about):
            continue
        sentence = re.split(r"(?<=\.) ", one.text)[0]
        for page in pages:
            if sentence not in page.said:
                yield f"a page without {sentence!r}"
    if re.search(r"CHECK \d+.{0,20} on the job sheet", said):
        yield "something to check is on the job sheet"


def _larger(cut, view):
    """Whether one sheet may be too small for the cut, wherever it lies."""
    share = cut.share.bounds
    return share.width > view.width - 2 * CLEAR or share.height > view.height - 2 * CLEAR


def _along(points, steps):
    """The places that the path goes through, curves at many places each."""
    found, at = [], 0
    for step in steps:
        count = {"m": 1, "l": 1, "c": 3, "re": 4}[step]
        part = points[at : at + count]
        at += count
        if step != "c":
            found += part
            continue
        found += curve(found[-1], part)
    return found


def _off(x, y, outline):
    """How far a point is from an outline of lines and arcs."""
    return min(_off_edge(x, y, *edge) for edge in outline)


def _off_edge(x, y, x0, y0, bulge, x1, y1):
    chord = math.hypot(x1 - x0, y1 - y0)
    if chord == 0.0:
        return math.hypot(x - x0, y - y0)
    if not bulge:
        along = max(0.0, min(1.0, ((x - x0) * (x1 - x0) + (y - y0) * (y1 - y0)) / chord**2))
        return math.hypot(x - x0 - along * (x1 - x0), y - y0 - along * (y1 - y0))
    radius = chord * (1 + bulge**2) / (4 * abs(bulge))
    # The centre lies on the chord's normal, (1 - bulge squared) / (4 bulge) chords to its left.
    lift = (1 - bulge**2) / (4 * bulge)
    cx = (x0 + x1) / 2 - lift * (y1 - y0)
    cy = (y0 + y1) / 2 + lift * (x1 - x0)
    return abs(math.hypot(x - cx, y - cy) - radius)
