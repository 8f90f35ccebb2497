"""Faults that once lived, planted again one by one: each has a row, and the tests that are there for it must fail.

    python -m tests.bench.listed_faults                 # all of them, each against its own test files (minutes)
    python -m tests.bench.listed_faults --only behind   # those whose file or words hold a word

`planted_faults` draws slips at random and asks every test; here stand slips that somebody planted and no test noticed,
each beside the tests that were written for it, so that none of these tests loses its teeth. Exit 1: one lives.
"""

from __future__ import annotations

import argparse
import tempfile
from collections.abc import Sequence
from pathlib import Path

from msgspec import Struct

from tests.bench.planted_faults import ROOT, Fault, copied_tree, lives

FOUND, PRINTS, BEHIND = "openings/found.py", "openings/prints.py", "saying/behind.py"
LISTS, OUTLINES, PIECES = "writers/lists.py", "openings/outlines.py", "openings/pieces.py"
RULERS, COVERS, ORDER = "marks/rulers.py", "checks/covers.py", "fixing/order.py"
READ_BACK, TOLD_LISTS, TOLD_PIECES, RULES, SHEETS = (
    f"tests/told/test_{name}.py" for name in ("read_back", "lists", "pieces", "rules", "sheets")
)


class Listed(Struct, frozen=True):
    """A fault by what it does, in a file of the package: the one place where `found` stands, and what stands there.

    tests  the files that must notice.
    """

    words: str
    path: str
    found: str
    instead: str
    tests: tuple[str, ...]

    @property
    def file(self) -> str:
        """The file from the root of the tree."""
        return f"cutmarks/{self.path}"

    def fault(self, root: Path = ROOT) -> Fault:
        """The fault in a tree.

        Raises ValueError where the code has moved on: `found` is not there, or not once.
        """
        source = (root / self.file).read_bytes()
        found = self.found.encode()
        if source.count(found) != 1:
            raise ValueError(
                f"{self.words}: in {self.file} this stands {source.count(found)} times, and a fault is planted where "
                f"it stands once: {self.found}"
            )
        start = source.index(found)
        return Fault(self.file, source.count(b"\n", 0, start) + 1, start, start + len(found), self.instead)


LISTED: tuple[Listed, ...] = (
    # What was found moves the hole.
    Listed(
        "found from the right tile, the hole moves the wrong way",
        FOUND,
        'read.away if read.side == "left" else -read.away',
        "read.away",
        (READ_BACK,),
    ),
    Listed(
        "found from above, the hole moves the wrong way",
        FOUND,
        'read.away if read.side == "bottom" else -read.away',
        "read.away",
        (READ_BACK,),
    ),
    Listed(
        "a cut is marked from a sawn edge",
        PIECES,
        "return fixed.opposite if fixed not in factory and fixed.opposite in factory else fixed",
        "return fixed",
        (READ_BACK,),
    ),
    # The lists.
    Listed(
        "holes.csv: width and height of the tile change places",
        LISTS,
        '"kind": cut.kind,\n        "tile w mm": mm(tile.w),\n        "tile h mm": mm(tile.h),',
        '"kind": cut.kind,\n        "tile w mm": mm(tile.h),\n        "tile h mm": mm(tile.w),',
        (TOLD_LISTS,),
    ),
    Listed(
        "pieces.csv: width and height of the tile change places",
        LISTS,
        '"tile w mm": mm(tile.w),\n        "tile h mm": mm(tile.h),\n        "thickness',
        '"tile w mm": mm(tile.h),\n        "tile h mm": mm(tile.w),\n        "thickness',
        (TOLD_LISTS,),
    ),
    Listed(
        "holes.csv: what is left at left and right changes places",
        LISTS,
        "mm(cut.web.beside[side])",
        "mm(cut.web.beside[side.mirrored])",
        (TOLD_LISTS,),
    ),
    Listed(
        "holes.csv: what is left at bottom and top changes places",
        LISTS,
        "mm(cut.web.beside[side])",
        "mm(cut.web.beside[side if side.axis == 'across' else side.opposite])",
        (TOLD_LISTS,),
    ),
    Listed(
        "holes.csv: a reading from a tile that is not fixed yet",
        LISTS,
        "if check.fixed and check.side.axis == axis",
        "if not check.fixed and check.side.axis == axis",
        (TOLD_LISTS,),
    ),
    Listed(
        "holes.csv: where nothing can be read yet, the tile that comes later is read from",
        LISTS,
        "if check.fixed and check.side.axis == axis",
        "if check.side.axis == axis",
        (TOLD_LISTS,),
    ),
    Listed(
        "pieces.csv: one width for both ends",
        LISTS,
        '} at {side} mm"] = mm(size)',
        '} at {side} mm"] = mm(piece.sizes.bottom if side.axis == "up" else size)',
        (TOLD_LISTS,),
    ),
    Listed(
        "pieces.csv: one height for both ends",
        LISTS,
        '} at {side} mm"] = mm(size)',
        '} at {side} mm"] = mm(piece.sizes.left if side.axis == "across" else size)',
        (TOLD_LISTS,),
    ),
    Listed(
        "pieces.csv: factory edges and cut edges change places",
        LISTS,
        '"factory edges": ", ".join(piece.factory_edges),\n        "cut edges": ", ".join(piece.cut_edges),',
        '"factory edges": ", ".join(piece.cut_edges),\n        "cut edges": ", ".join(piece.factory_edges),',
        (TOLD_PIECES,),
    ),
    Listed(
        "pieces with other hole shapes are called alike",
        PRINTS,
        "_rings(piece.outline),\n"
        "        tuple((*_point(cut.centre), _shape(cut.opening.shape)) for cut in piece.cuts),",
        "_rings(piece.piece.outline),\n        tuple(_point(cut.centre) for cut in piece.cuts),",
        (TOLD_LISTS,),
    ),
    Listed(
        "courses follow each other from the top down",
        ORDER,
        "return (2 if waits else 1), away < 0, abs(away)",
        "return (2 if waits else 1), away < 0, -abs(away)",
        (TOLD_LISTS,),
    ),
    Listed(
        "what hangs from a line is laid upward",
        ORDER,
        "            away = -away",
        "            pass",
        (TOLD_LISTS, READ_BACK),
    ),
    Listed(
        "pieces stand in no order",
        "plan/pieces.py",
        "    wanted.sort(key=lambda one: one[0])\n",
        "",
        (TOLD_LISTS,),
    ),
    # Rules.
    Listed(
        "`do not drill` is looked at in the middle of the hole only",
        "checks/holes.py",
        "if not intersection(ring, region(keep_out.ring)).is_empty:",
        "if contains(region(keep_out.ring), opening.at):",
        (RULES,),
    ),
    Listed(
        "a round cover over a box whose corners show",
        "openings/hidden.py",
        "return in_round(cut.rings, cover.w / 2.0 - lap)",
        "return in_box(cut.rings, cover.w / 2.0 - lap, cover.w / 2.0 - lap)",
        (RULES,),
    ),
    Listed(
        "covers that overlap one above the other",
        COVERS,
        "(row - 1, row, row + 1)",
        "(row,)",
        (RULES,),
    ),
    Listed(
        "covers that overlap one beside the other",
        COVERS,
        "(column - 1, column, column + 1)",
        "(column,)",
        (RULES,),
    ),
    Listed(
        "by how much covers overlap is how wide the lens is",
        COVERS,
        "over = min(shared.bounds.width, shared.bounds.height)",
        "over = shared.bounds.width",
        (RULES,),
    ),
    Listed(
        "by how much covers overlap is how high the lens is",
        COVERS,
        "over = min(shared.bounds.width, shared.bounds.height)",
        "over = shared.bounds.height",
        (RULES,),
    ),
    Listed("the shortest stub decides", "checks/leaning.py", "out = max(stubs)", "out = min(stubs)", (RULES,)),
    Listed(
        "an end that was not written cannot be put on",
        "checks/holes.py",
        'if opening.end != "runs on":',
        'if opening.end == "comes off":',
        (RULES,),
    ),
    Listed(
        "what is left between two holes is not looked at",
        PIECES,
        "nearest = to_others(math.inf if web.nearest is None else web.nearest)",
        "nearest = math.inf if web.nearest is None else web.nearest",
        (RULES,),
    ),
    Listed(
        "the largest core with one lap for two",
        "openings/sizing.py",
        "most, best = across - 2 * lap,",
        "most, best = across - lap,",
        (RULES,),
    ),
    Listed(
        "the best hole with one lap for two",
        "openings/sizing.py",
        "(thing + cover - 2 * lap) / 2",
        "(thing + cover - lap) / 2",
        (RULES,),
    ),
    Listed("cores stay unsorted", "plan/surfaces.py", "tuple(sorted(own))", "tuple(own)", (RULES,)),
    # Sizes and edges of pieces.
    Listed(
        "a tape reads across a turned tile as across a straight one",
        "openings/neighbours.py",
        "if piece.turn == 0:",
        "if True:",
        (TOLD_PIECES,),
    ),
    Listed(
        "on a turned tile the tape's width and height change places",
        "openings/neighbours.py",
        "return box.width / 2, box.height / 2",
        "return box.height / 2, box.width / 2",
        (TOLD_PIECES,),
    ),
    *(
        Listed(
            f"a sawn edge is taken for the maker's {side} edge",
            OUTLINES,
            f"{found}:\n        return Side.{side.upper()}",
            f"facing(edge) is Side.{side.upper()}:\n        return Side.{side.upper()}",
            (TOLD_PIECES,),
        )
        for side, found in (
            ("left", "abs(x0) <= TOUCH and abs(x1) <= TOUCH"),
            ("right", "abs(x0 - w) <= TOUCH and abs(x1 - w) <= TOUCH"),
            ("bottom", "abs(y0) <= TOUCH and abs(y1) <= TOUCH"),
            ("top", "abs(y0 - h) <= TOUCH and abs(y1 - h) <= TOUCH"),
        )
    ),
    *(
        Listed(
            f"the maker's {side} edge is taken for a sawn one",
            OUTLINES,
            f"        return Side.{side.upper()}\n",
            "        return None\n",
            (TOLD_PIECES,),
        )
        for side in ("left", "right", "bottom", "top")
    ),
    Listed(
        "one size is said as the larger end",
        "saying/figures.py",
        "goes_in(min(ends), style)",
        "goes_in(max(ends), style)",
        (TOLD_PIECES,),
    ),
    Listed(
        "exactly 1 apart is one size",
        "saying/figures.py",
        "if abs(ends[0] - ends[1]) < apart:",
        "if abs(ends[0] - ends[1]) <= apart:",
        (TOLD_PIECES,),
    ),
    Listed(
        "a notch's error is that at its middle",
        "registering/error.py",
        'return cut.from_edges[side] if cut.kind in ("hole", "corner") else span(cut, piece, side)[1]',
        "return cut.from_edges[side]",
        (TOLD_PIECES,),
    ),
    Listed(
        "a notch's error is that at its near side",
        "registering/error.py",
        "span(cut, piece, side)[1]\n",
        "span(cut, piece, side)[0]\n",
        (TOLD_PIECES,),
    ),
    # What makes a print stale.
    *(
        Listed(f"the fingerprint is blind to {what}", PRINTS, found, instead, (TOLD_PIECES,))
        for what, found, instead in (
            ("the tile's width", "[tile.name, _mm(tile.w), _mm(tile.h)]", "[tile.name, _mm(tile.h)]"),
            ("the tile's height", "[tile.name, _mm(tile.w), _mm(tile.h)]", "[tile.name, _mm(tile.w)]"),
            ("the cover", '        "cover": _cover(opening.cover),\n', ""),
            (
                "whether a cover is round",
                'return ("round", _mm(cover.w)) if cover.round else ("oblong", _mm(cover.w), _mm(cover.h))',
                "return (_mm(cover.w), _mm(cover.h))",
            ),
            (
                "the height of an oblong cover",
                'else ("oblong", _mm(cover.w), _mm(cover.h))',
                'else ("oblong", _mm(cover.w))',
            ),
            ("the sides that are marked from", '        "from": list(cut.mark_from),\n', ""),
            ("the second side that is marked from", "list(cut.mark_from)", "list(cut.mark_from[:1])"),
            ("what is read on the wall", "[_read(check) for check in cut.wall_checks if check.fixed]", "[]"),
            ("how near the wall's readings are", "_mm(check.near), _mm(check.far)]", "_mm(check.far)]"),
            ("how far the wall's readings are", "_mm(check.near), _mm(check.far)]", "_mm(check.near)]"),
            ("what is read from", "check.source.kind, check.source.name, check.side", "check.source.kind, check.side"),
            ("the side that is read from", "check.source.name, check.side, _mm", "check.source.name, _mm"),
            ("the opening's shape", '        "shape": _shape(opening.shape),\n', ""),
            ("the core", '        "core": None if opening.core is None else _mm(opening.core),\n', ""),
            ("what is said from sawn edges", "[[side, _mm(measure)] for side, measure in cut.from_cut_edges]", "[]"),
        )
    ),
    Listed(
        "a drawing for the shop goes out unread",
        "writers/dxf.py",
        "            verify(data, name_in(name), _expected(piece, cutting), cuts, wishes, cutting.holes)\n",
        "            pass\n",
        (TOLD_PIECES,),
    ),
    Listed(
        "open cut paths go out unread",
        "writers/dxf.py",
        "            verify_open(open_data, name_in(open_name), cutting, wishes)\n",
        "            pass\n",
        (TOLD_PIECES,),
    ),
    # A sheet's measures.
    *(
        Listed(
            f"a measure from the {side} begins at the other edge",
            RULERS,
            "side, level = ruler.side, ruler.level\n    edge = subject.piece.piece.tile.box.at(side)",
            "side, level = ruler.side, ruler.level\n"
            f'    edge = subject.piece.piece.tile.box.at(side.opposite if side == "{side}" else side)',
            (SHEETS,),
        )
        for side in ("left", "right", "bottom", "top")
    ),
    *(
        Listed(
            f"a measure from the {side} runs outward",
            RULERS,
            "edge - side.sign * ruler.value",
            f'edge - side.sign * (-ruler.value if side == "{side}" else ruler.value)',
            (SHEETS,),
        )
        for side in ("left", "right", "bottom", "top")
    ),
    *(
        Listed(
            f"a measure from the {side} has the figure from the other edge",
            RULERS,
            "text, _ = shown(value, measure.side, subject.piece, subject.style)",
            f'text = shown(value, measure.side, subject.piece, subject.style)[1 if measure.side == "{side}" else 0]',
            (SHEETS,),
        )
        for side in ("left", "right", "bottom", "top")
    ),
    *(
        Listed(
            f"the figure of a measure from the {side} stands elsewhere",
            RULERS,
            "x, y = x0 + part * (x1 - x0), y0 + part * (y1 - y0)",
            "x, y = x0 + part * (x1 - x0), y0 + part * (y1 - y0)\n"
            f'                x, y = (x + 30.0, y + 30.0) if side == "{side}" else (x, y)',
            (SHEETS,),
        )
        for side in ("left", "right", "bottom", "top")
    ),
    Listed(
        "a measure runs beside the middle of its hole",
        RULERS,
        "at = level - index * step",
        "at = level - (index + 1) * step",
        (SHEETS,),
    ),
    # The back.
    *(
        Listed(f"the back keeps {what} of the face", BEHIND, found, instead, (SHEETS,))
        for what, found, instead in (
            ("the factory edges", "tuple(side.mirrored for side in piece.factory_edges)", "piece.factory_edges"),
            ("the cut edges", "tuple(side.mirrored for side in piece.cut_edges)", "piece.cut_edges"),
            ("the fixed side", "replace(piece.fixed, across=piece.fixed.across.mirrored)", "piece.fixed"),
            ("the sides of a box", "FourSides(w - sides.right, w - sides.left, sides.bottom, sides.top)", "sides"),
            ("the figures", "cut.from_edges.mirrored", "cut.from_edges"),
            ("what is left beside a cut", "replace(cut.web, left=cut.web.right, right=cut.web.left)", "cut.web"),
            ("the sides that are marked from", "(first.mirrored, second.mirrored)", "(first, second)"),
            (
                "what is said from sawn edges",
                "tuple((side.mirrored, value) for side, value in cut.from_cut_edges)",
                "cut.from_cut_edges",
            ),
            ("the share", "cut.share.moved(turn)", "cut.share"),
            ("the cut's outline", "cut.ring.moved(turn)", "cut.ring"),
            ("the piece's outline", "        outline=piece.outline.moved(turn),\n        cuts", "        cuts"),
            ("the sides that a cut runs out over", "frozenset(side.mirrored for side in cut.runs_out)", "cut.runs_out"),
            ("the places to drill", "tuple(map(turn.apply, cut.drill_at))", "cut.drill_at"),
            (
                "the sides that edge work is done to",
                "tuple(replace(work, side=work.side.mirrored) for work in piece.edge_work)",
                "piece.edge_work",
            ),
            ("the edges to line up on", "tuple(side.mirrored for side in registration.edges)", "registration.edges"),
            ("the edges to tape from", "tuple(side.mirrored for side in registration.tape)", "registration.tape"),
        )
    ),
    Listed(
        "on a tie the back rounds up the other edge",
        "saying/measures.py",
        '("right", "bottom") if is_behind(piece) else ("left", "bottom")',
        '("left", "bottom")',
        (SHEETS,),
    ),
    # Drawn at random, and noticed by no test of their line.
    Listed(
        "a piece that is sawn at its foot is as high as its two corners added up",
        "saying/figures.py",
        "top_right.y - bottom_right.y",
        "top_right.y + bottom_right.y",
        (TOLD_PIECES,),
    ),
    Listed(
        "what hides the foot of a piece does not count",
        "checks/pieces.py",
        'sides = ("left", "right") if axis == "wide" else ("bottom", "top")',
        'sides = ("left", "right") if axis == "wide" else ("top", "top")',
        (TOLD_PIECES,),
    ),
    Listed(
        "UP is no fatter than other words",
        "sheets/head.py",
        'yield Words("UP", Point(x, foot + 0.6), up, "middle", bold=True)',
        'yield Words("UP", Point(x, foot + 0.6), up, "middle", bold=False)',
        (SHEETS,),
    ),
    Listed(
        "the picture beside a figure has another edge heavy",
        "sheets/mark_panel.py",
        "x0, y0, x1, y1 = box.with_side(row.side.opposite, box.at(row.side))",
        "x0, y0, x1, y1 = box.with_side(row.side, box.at(row.side.opposite))",
        (SHEETS,),
    ),
    Listed(
        "two sides found too far apart stop although the middle may be so far off",
        "checks/returned.py",
        "abs(wide - found) / 2 > spare + TOUCH",
        "abs(wide - found) * 2 > spare + TOUCH",
        (RULES,),
    ),
    Listed(
        "a hole with no room round its pipe has some",
        "checks/leaning.py",
        "max(room, 0.0)",
        "max(room, 1.0)",
        (RULES,),
    ),
    Listed(
        "a panel's title is set smaller than its box asks for",
        "sheets/panel.py",
        "room = box.width - 2 * PAD",
        "room = box.width - 3 * PAD",
        ("tests/sheets/test_panel.py",),
    ),
    Listed(
        "a strip that does not snap is looked for on the other axis",
        "checks/pieces.py",
        '(side.axis == "across") == (axis == "wide")',
        '(side.axis != "across") == (axis == "wide")',
        (RULES,),
    ),
    Listed(
        "how trimmed tiles are marked is said where there are none",
        "sheets/jobsheet_tiles.py",
        "if any(piece.piece.trimmed for piece in plan.pieces):",
        "if not any(piece.piece.trimmed for piece in plan.pieces):",
        ("tests/writers/test_jobsheet.py",),
    ),
    Listed(
        "the height at which an edge was read is not taken from a sentence",
        "job/said_edge.py",
        "while self._word_at(at) in _ALONG:",
        "while self._word_at(at) not in _ALONG:",
        ("tests/job/test_any_order.py",),
    ),
    Listed(
        "a control character is told a line too high under an empty first line",
        "job/reading.py",
        'self.text.count("\\n", 0, bad.start())',
        'self.text.count("\\n", 1, bad.start())',
        ("tests/job/test_load.py",),
    ),
    Listed(
        "two lines of a name in an elevation run into each other",
        "marks/elevation_names.py",
        "height * STEP",
        "height / STEP",
        ("tests/marks/test_elevation_names.py",),
    ),
    Listed(
        "the phone leaves out the shape of a piece",
        "writers/wall_page/piece.py",
        "    if shape:\n",
        "    if not shape:\n",
        ("tests/writers/test_wall_page.py",),
    ),
    Listed(
        "the holes of another surface stand on the set-out page",
        "saying/gauging.py",
        "piece.rank.day == day and piece.piece.surface == name]\n",
        "piece.rank.day == day and piece.piece.surface != name]\n",
        ("tests/gauging/test_gauging.py",),
    ),
    Listed(
        "a piece of the first day is cut from what the second leaves",
        "buying/flow.py",
        "key=lambda piece: piece.rank.day,",
        "key=lambda piece: 0,",
        ("tests/gauging/test_offcuts_told.py",),
    ),
    Listed(
        "what leaves a larger piece may be cut to its height first",
        "saying/offcuts.py",
        "(other.h > own.h + TOUCH) if",
        "(other.h < own.h - TOUCH) if",
        ("tests/gauging/test_offcuts_told.py",),
    ),
    Listed(
        "an opening to a wall that is tiled by then is read to it bare",
        "saying/openings_told.py",
        'off=tuple(off for off in group.off if off.what != "still to come"),',
        "off=group.off,",
        ("tests/gauging/test_corners_and_edges.py",),
    ),
    Listed(
        "the finish under a batten is that of another stretch",
        "gauging/base.py",
        "index = stretch_at(edge, (low + high) / 2.0)\n    to_come",
        "index = stretch_at(edge, (low + high) * 2.0)\n    to_come",
        ("tests/gauging/test_gauging.py",),
    ),
    Listed(
        "stretches of a floor with another finish are one",
        "gauging/base.py",
        '*(_kept_below(setout, (a + b) / 2.0) if one.on in ("batten", "packers") else ())',
        "",
        ("tests/gauging/test_gauging.py",),
    ),
    Listed(
        "of six names none is left and counted",
        "checks/pieces.py",
        "if len(names) <= most else",
        "if len(names) < most else",
        (RULES,),
    ),
    Listed(
        "a course that a window takes wholly cannot be counted",
        "tiling/layout.py",
        "if first is None or ends is None:",
        "if first is None and ends is None:",
        (TOLD_LISTS,),
    ),
    Listed(
        "on a floor no line may be off along it",
        "checks/trueness.py",
        '("up", "floor"): ("short", "in"),',
        '("across", "floor"): ("short", "in"),',
        ("tests/checks/test_trueness.py",),
    ),
    Listed(
        "capitals are a unit higher than the font's",
        "marks/glyphs.py",
        "CAP = 1493",
        "CAP = 1494",
        ("tests/marks/test_lettering.py",),
    ),
    Listed(
        "of two leans one may leave out its way",
        "job/depths.py",
        "if out and not any(",
        "if out and not all(",
        ("tests/job/test_depths_and_limits.py",),
    ),
    Listed(
        "the phone leaves out what is wrong",
        "writers/wall_page/behind.py",
        "if plan.findings:",
        "if not plan.findings:",
        ("tests/writers/test_wall_page.py",),
    ),
    Listed(
        "an area in one line may say again what stands beside it",
        "job/said.py",
        'if not (typed and key == "name")}\n            _twice(keys, beside)\n',
        'if not (typed and key == "name")}\n',
        ("tests/job/test_said_in_one_line.py",),
    ),
    Listed(
        "a tile that was measured wrong is taken to be read the wrong way round",
        "openings/found.py",
        "turned = max(",
        "turned = min(",
        ("tests/openings/test_found.py",),
    ),
    Listed(
        "a horn of 45 degrees is sharp",
        "limits.py",
        "horn: Limit = Limit(45.0,",
        "horn: Limit = Limit(46.0,",
        ("tests/checks/test_strength.py",),
    ),
    Listed(
        "a move is advised that helps one hole and spoils the other",
        "checks/advice.py",
        "if not all(has_room(opening, near, layout, moved, limit)",
        "if not any(has_room(opening, near, layout, moved, limit)",
        (RULES,),
    ),
    Listed(
        "a bond of a half in one sign is a whole tile",
        "job/laying.py",
        '"\u00bd": Fraction(1, 2),',
        '"\u00bd": Fraction(2, 2),',
        ("tests/job/test_laying.py",),
    ),
    Listed(
        "the small pictures on the phone are empty",
        "writers/wall_page/pictures.py",
        '                self._group(defs, f"{name}-{at}", marks)\n',
        "                pass\n",
        ("tests/writers/test_wall_page.py",),
    ),
    Listed(
        "a reading that stops a tile on the phone offers what another job left there",
        "writers/wall_page/page.py",
        'id="t-held-piece"',
        'id="t-held"',
        ("tests/writers/test_wall_page.py",),
    ),
    Listed(
        "white under words on the page of starts hides what lies over them",
        "sheets/starts_page.py",
        "box.width + 0.6, box.height + 0.6, Tone.WHITE",
        "box.width + 0.6, box.height + 1.6, Tone.WHITE",
        ("tests/sheets/test_starts_page.py",),
    ),
    Listed(
        "of two holes on a sheet only the first is told of",
        "sheets/cut_panel.py",
        "    if len(subject.cuts) == 1:\n        yield from _of_cut",
        "    if len(subject.cuts) != 1:\n        yield from _of_cut",
        (SHEETS,),
    ),
    Listed(
        "an edge that rises does so twice",
        "job/said_edge.py",
        '"rise": 1,',
        '"rise": 2,',
        ("tests/job/test_any_order.py",),
    ),
    Listed(
        "a piece that was read and is fixed is not ticked",
        "job/found_sent.py",
        "if one.fixed or not one.to_keep)",
        "if one.fixed and not one.to_keep)",
        ("tests/job/test_found_sent.py",),
    ),
    Listed(
        "a cover that is too small is never what is to be mended",
        "checks/doubt.py",
        "shows = too_small and chance(leeway.under, along) < chance(leeway.parts[:1], along)",
        "shows = too_small and chance(leeway.under, along) < chance(leeway.parts[:2], along)",
        ("tests/checks/test_unlaid.py",),
    ),
    Listed(
        "a Tab between two words is one in the indent",
        "job/scanner.py",
        "self.reader.buffer[pointer - self.reader.column : pointer]",
        "self.reader.buffer[pointer + self.reader.column : pointer]",
        ("tests/job/test_structure.py",),
    ),
    Listed(
        "beside a window lies the tile after next",
        "gauging/columns.py",
        ">= grid.w - TOUCH",
        ">= grid.h - TOUCH",
        ("tests/gauging/test_gauging.py",),
    ),
    Listed(
        "what the first end has in a course of a bond is not counted",
        "choosing/search.py",
        "every = (1 << count) - 1",
        "every = (1 << count) - 2",
        ("tests/choosing/test_choose.py",),
    ),
    Listed(
        "a whole step that ends its stretch is not looked at",
        "choosing/steps.py",
        "for end, by in ((low, room), (high, -room)):",
        "for end, by in ((low, room),):",
        ("tests/choosing/test_steps.py",),
    ),
    Listed(
        "a start that nothing may be out of is offered",
        "choosing/steps.py",
        "asked.alike(at[0] + sign * dx, at[1] + sign * dy, at) for sign in (-1, 1)",
        "asked.alike(at[0] + sign * dx, at[1] + sign * dy, at) for sign in (0, 1)",
        ("tests/choosing/test_steps.py",),
    ),
    Listed(
        "where a whole tile begins to stop short is not looked at",
        "choosing/breakpoints.py",
        "        size + asked.ends.least,\n",
        "",
        ("tests/choosing/test_steps.py",),
    ),
    Listed(
        "a thin leg counts where no course goes on past the window",
        "choosing/search.py",
        "(first, border.turns0 and low < border.t0 - TOUCH)",
        "(first, border.turns0)",
        ("tests/choosing/test_steps.py",),
    ),
    Listed(
        "starts that count alike are shown again and again",
        "choosing/choose.py",
        "(near_x or near_y or one.x.way + one.y.way > 1)",
        "(near_x or near_y and one.x.way + one.y.way > 1)",
        ("tests/choosing/test_choose.py",),
    ),
    Listed(
        "the words of a saw cut are tried on one side of it",
        "marks/labels.py",
        "for sign in (1.0, -1.0):",
        "for sign in (1.0, (1.0)):",
        ("tests/marks/test_room.py",),
    ),
    Listed(
        "a leader runs over names",
        "marks/sheet_map.py",
        "yield Point(start.x + part * (end.x - start.x),",
        "yield Point(start.x - part * (end.x - start.x),",
        ("tests/marks/test_room.py",),
    ),
)


def main(arguments: Sequence[str] | None = None) -> int:
    """Exit code 1 where a fault lives."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--only", default="", help="a word of a row's words, or of its file")
    options = parser.parse_args(arguments)
    rows = [row for row in LISTED if options.only in row.words or options.only in row.file]
    planted = [(row, row.fault()) for row in rows]
    living = 0
    with tempfile.TemporaryDirectory() as folder:
        tree = copied_tree(Path(folder) / "tree")
        for row, fault in planted:
            alive = lives(fault, (ROOT / fault.path).read_bytes(), row.tests, tree)
            living += alive
            print(f"{'LIVES  ' if alive else 'noticed'} {fault.path}:{fault.line} {row.words}", flush=True)
    print(f"{len(planted)} planted, {len(planted) - living} noticed, {living} live")
    return 1 if living else 0


if __name__ == "__main__":
    raise SystemExit(main())
