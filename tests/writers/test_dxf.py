"""The DXF files: what is in them, what they are called, and that a file which is not the plan's never goes out."""

from __future__ import annotations

import io
import os
import re
import subprocess
import sys
from collections.abc import Callable
from itertools import pairwise
from pathlib import Path, PurePosixPath
from typing import Any

import pytest
from ezdxf.document import Drawing
from ezdxf.filemanagement import new, read
from msgspec.structs import replace

from cutmarks.checks.model import Finding
from cutmarks.cutting.model import Cutting
from cutmarks.cutting.paths import cutting_of
from cutmarks.geometry.frames import Tile
from cutmarks.geometry.regions import Region, region
from cutmarks.geometry.rings import polygon
from cutmarks.geometry.shapes import Circle, Rect
from cutmarks.job import load_job
from cutmarks.openings.model import CutPiece
from cutmarks.plan import make_plan
from cutmarks.writers import dxf, dxf_blank
from cutmarks.writers.dxf import closed_dxf, dxf_files, dxf_names, open_dxf
from cutmarks.writers.dxf_verify import DxfFault, verify, verify_open
from tests.sheets.random_plans import random_plan
from tests.worked.figures import W3_RIGHT, W3_TOP
from tests.writers.plans import RISER, boxed, corner, cut_piece, plain, plan_of, raking

MICRON = 1e-3
STEP = 1e-6
"""What coordinates are rounded to, mm."""
NAME = "quay_cottage__splash_3-07_face_mm_1off_248x398_t9_0badcafe"
"""A file's own name, as its header has it."""


def opened(data: bytes) -> Drawing:
    return read(io.StringIO(data.decode("ascii")))


def drawn(data: bytes) -> list[Any]:
    """What is drawn in a file."""
    return list(opened(data).modelspace())


def cut_of(piece: CutPiece) -> Cutting:
    """How a piece is cut, as the plan has it."""
    return plan_of(piece).cuttings[piece.name]


def contours(data: bytes) -> list[tuple[str, str]]:
    return [(entity.dxftype(), entity.dxf.layer) for entity in opened(data).modelspace()]


def stop(*about: str, accepted: str | None = None) -> Finding:
    return Finding("stop", "web", about, "0.4 is left beside the hole.", 0.4, 0.5, accepted=accepted)


def test_a_whole_round_hole_is_a_circle_and_all_else_a_closed_polyline() -> None:
    (drawing,) = dxf_files(plan_of(plain()))
    assert contours(drawing.data) == [("LWPOLYLINE", "OUTER-NOMINAL"), ("CIRCLE", "INNER-NOMINAL")]
    outer, circle = drawn(drawing.data)
    assert outer.get_points("xyb") == [(0, 0, 0), (248, 0, 0), (248, 398, 0), (0, 398, 0)]
    assert outer.closed
    assert tuple(circle.dxf.center) == (74.5, 112.5, 0)  # W1
    assert circle.dxf.radius == 17.5


def test_a_box_runs_clockwise_from_its_lower_left_corner() -> None:
    (drawing,) = dxf_files(plan_of(boxed()))
    _, box = drawn(drawing.data)
    # W2: x 448.5 to 524.5, y 95 to 173.
    assert box.get_points("xyb") == [(448.5, 95, 0), (448.5, 173, 0), (524.5, 173, 0), (524.5, 95, 0)]


def test_a_bitten_corner_stays_one_arc() -> None:
    (drawing,) = dxf_files(plan_of(corner()))
    (outer,) = drawn(drawing.data)
    points = outer.get_points("xyb")
    # W3, below left: the upper part of the right edge and the right part of the top edge are taken.
    assert [(round(x, 2), round(y, 2)) for x, y, _ in points] == [
        (0, 0),
        (298, 0),
        (298, W3_RIGHT),
        (W3_TOP, 598),
        (0, 598),
    ]
    assert [bulge != 0.0 for _, _, bulge in points] == [False, False, True, False, False]
    assert points[2][2] < 0  # the arc runs clockwise: the tile lies outside of the opening


def test_the_header_says_millimetres_and_how_large_it_is() -> None:
    (drawing,) = dxf_files(plan_of(raking()))
    header = opened(drawing.data).header
    assert (header["$ACADVER"], header["$INSUNITS"], header["$MEASUREMENT"]) == ("AC1015", 4, 1)
    assert tuple(header["$EXTMIN"]) == (0, 0, 0)
    assert tuple(header["$EXTMAX"]) == (116, 448, 0)  # W5: 116 wide at the bottom, 448 high


def test_the_header_has_the_file_s_own_name_and_the_standard_s_variable_for_it() -> None:
    """Group code 9 names a variable, 1 is a text (published DXF reference); no comment stands before the header."""
    (drawing,) = dxf_files(plan_of(plain()))
    for data, kind in ((drawing.data, ""), (drawing.open_data, "open_")):
        tags = data.decode("ascii").split("\n")
        at = tags.index("$HYPERLINKBASE")
        name = f"quay_cottage__splash_3-07_face_mm_{kind}1off_248x398_t9_0badcafe"
        assert [tag.strip() for tag in tags[at - 1 : at + 3]] == ["9", "$HYPERLINKBASE", "1", name]
        assert [tag.strip() for tag in tags[:4]] == ["0", "SECTION", "2", "HEADER"]
        assert tags.index("ENDSEC") > at


def test_two_rooms_drawings_never_have_one_name() -> None:
    """Equal tiles with equal holes and an area that both starters call "field": what differs is the job."""
    rooms = [plan_of(plain(), corner(), job=f"{'Long Meadow House ' * 4}, room {n}") for n in range(2)]
    first, second = ([drawing for both in dxf_names(plan) for drawing in both] for plan in rooms)
    assert len({*first, *second}) == len(first) + len(second) == 8


def test_a_piece_that_is_cut_otherwise_has_a_drawing_of_another_name() -> None:
    now = replace(plain(), fingerprint="5ec0d000")
    assert not {*next(dxf_names(plan_of(plain())))} & {*next(dxf_names(plan_of(now)))}


def test_the_longest_name_stays_under_150_characters() -> None:
    (names,) = dxf_names(
        plan_of(cut_piece(f"{'a' * 80} 12-345", 1234.5, 1234.5, [RISER], thickness=12.5), job="j" * 300)
    )
    assert max(map(len, names)) < 150


def test_the_header_has_the_size_of_a_piece_that_does_not_begin_at_nought() -> None:
    piece = cut_piece("field 1-1", 448, 448, trimmed=[(330.5, 20), (448, 20), (448, 448), (330.5, 448)])
    (drawing,) = dxf_files(plan_of(piece))
    header = opened(drawing.data).header
    assert tuple(header["$EXTMIN"]) == (330.5, 20, 0)
    assert tuple(header["$EXTMAX"]) == (448, 448, 0)


def test_file_names_carry_job_face_unit_count_size_thickness_and_the_first_ones_fingerprint() -> None:
    first, second = (
        cut_piece("splash 3-7", 248, 398, [RISER]),
        cut_piece(
            *("splash 3-8", 248, 398, [("cold", Circle(35.0), 74.5, 112.5)]),
            same_as="splash 3-7",
            fingerprint="5ec0d000",
        ),
    )
    rake, no_thickness = raking(), cut_piece("Fläche 1-1", 248, 398, [("vent", Circle(110), 100, 100)], thickness=None)
    drawings = list(dxf_files(plan_of(first, second, rake, no_thickness)))
    assert [drawing.name for drawing in drawings] == [
        "dxf/quay_cottage__splash_3-07_face_mm_2off_248x398_t9_0badcafe.dxf",
        "dxf/quay_cottage__field_1-03_face_mm_1off_116x448_t9_0badcafe.dxf",
        "dxf/quay_cottage__flache_1-01_face_mm_1off_248x398_0badcafe.dxf",
    ]
    assert drawings[0].open_name == "dxf/quay_cottage__splash_3-07_face_mm_open_2off_248x398_t9_0badcafe.dxf"
    assert drawings[0].made_of == ("splash 3-7", "splash 3-8")


def test_a_piece_with_a_stop_has_no_drawing_until_it_is_accepted() -> None:
    hot, box = plain(), boxed()
    assert [d.made_of[0] for d in dxf_files(plan_of(hot, box, findings=[stop("splash 3-7")]))] == ["upper 5-2"]
    assert [d.made_of[0] for d in dxf_files(plan_of(hot, box, findings=[stop("socket")]))] == ["splash 3-7"]
    accepted = stop("splash 3-7", accepted="the rose hides it")
    warned = Finding("warn", "web", ("upper 5-2",), "20 is left.", 20.0, 30.0)
    assert [d.made_of[0] for d in dxf_files(plan_of(hot, box, findings=[accepted, warned]))] == [
        "splash 3-7",
        "upper 5-2",
    ]


def test_a_stop_on_the_first_of_two_alike_leaves_the_second_its_drawing() -> None:
    cold = ("cold", Circle(35.0), 74.5, 112.5)
    twin = cut_piece("splash 3-8", 248, 398, [cold], same_as="splash 3-7", fingerprint="5ec0d000")
    (drawing,) = dxf_files(plan_of(plain(), twin, findings=[stop("riser")]))
    assert drawing.made_of == ("splash 3-8",)
    assert drawing.name == "dxf/quay_cottage__splash_3-08_face_mm_1off_248x398_t9_5ec0d000.dxf"


def test_the_names_are_known_before_anything_is_drawn() -> None:
    twin = cut_piece("splash 3-8", 248, 398, [("cold", Circle(35.0), 74.5, 112.5)], same_as="splash 3-7")
    plan = plan_of(plain(), twin, boxed(), raking())
    assert [*dxf_names(plan)] == [(drawing.name, drawing.open_name) for drawing in dxf_files(plan)]


@pytest.mark.parametrize("seed", ["1", "2"])
def test_another_process_makes_the_same_bytes(seed: str, repository: Path) -> None:
    code = (
        "import sys; from tests.writers.plans import *; from cutmarks.writers.dxf import dxf_files\n"
        "for d in dxf_files(plan_of(plain(), corner())): sys.stdout.buffer.write(d.data + d.open_data)"
    )
    environment = {**os.environ, "PYTHONHASHSEED": seed}
    ran = subprocess.run([sys.executable, "-c", code], cwd=repository, env=environment, capture_output=True, check=True)
    here = b"".join(drawing.data + drawing.open_data for drawing in dxf_files(plan_of(plain(), corner())))
    assert ran.stdout == here


# The open cut paths.


def test_a_piece_with_no_factory_edge_left_is_one_contour_in_both_files() -> None:
    outline: Region[Tile] = region(polygon([(10, 10), (90, 10), (90, 40), (10, 40)]))
    cutting = cutting_of(outline, 100.0, 50.0, 5.0)
    assert contours(open_dxf(cutting, NAME)) == contours(closed_dxf(cutting, NAME)) == [("LWPOLYLINE", "OUTER-NOMINAL")]


def test_the_open_file_of_a_whole_tile_is_empty() -> None:
    cutting = cutting_of(region(polygon([(0, 0), (100, 0), (100, 50), (0, 50)])), 100.0, 50.0, 5.0)
    assert drawn(open_dxf(cutting, NAME)) == []
    verify_open(open_dxf(cutting, NAME), NAME, cutting)


def test_the_open_file_holds_paths_and_whole_holes_and_no_factory_edge() -> None:
    (with_hole, rake) = dxf_files(plan_of(plain(), raking()))
    assert contours(with_hole.open_data) == [("CIRCLE", "INNER-NOMINAL")]
    assert contours(rake.open_data) == [("LWPOLYLINE", "OPEN-NOMINAL"), ("CIRCLE", "INNER-NOMINAL")]
    assert not drawn(rake.open_data)[0].closed


EXAMPLES = sorted(path for path in Path(__file__).parents[2].glob("examples/*/*.yaml") if path.stem == path.parent.name)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_every_file_of_an_example_is_the_plans(path: Path) -> None:
    plan = make_plan(load_job(path))
    assert [one.data for one in dxf_files(plan, measure="all")] == [one.data for one in dxf_files(plan)]


@pytest.mark.parametrize("seed", range(0, 40))
def test_every_file_of_a_random_plan_is_the_plans(seed: int) -> None:
    plan = random_plan(seed)
    assert len(list(dxf_files(plan, measure="all"))) == len(list(dxf_names(plan)))


def test_a_run_measures_the_first_file_of_each_kind(monkeypatch: pytest.MonkeyPatch) -> None:
    measured: list[str] = []
    monkeypatch.setattr(dxf, "verify", lambda _, name, *__: measured.append(name))
    monkeypatch.setattr(dxf, "verify_open", lambda _, name, *__: measured.append(name))
    hole, again = plain(), cut_piece("splash 3-8", 248, 398, [("tap", Circle(35.0), 80.0, 112.5)])
    drawings = list(dxf_files(plan_of(hole, again, boxed(), corner())))
    # A round hole in a whole tile, alone as open paths: a circle. The second has nothing new; a box is straight; an arc
    # out of the corner bends the outline.
    names = [PurePosixPath(name).stem for one in drawings for name in (one.name, one.open_name)]
    assert measured == [*names[:2], *names[4:]]


def test_what_ezdxf_writes_otherwise_is_refused_and_not_guessed_at(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(dxf_blank, "NAMED", "$MENU")
    twice = ((r"\$MENU\n  1\n", "", (2, 2)),)
    monkeypatch.setattr(dxf_blank, "_ALWAYS", twice)
    with pytest.raises(RuntimeError, match="its DXF is not the one we know"):
        dxf_blank.blank.__wrapped__(("OUTER-NOMINAL",))


def test_the_file_is_what_ezdxf_itself_would_have_written() -> None:
    """Second method: the same entities put into a document of ezdxf's own, which numbers and spells them itself."""
    rows = [(0.0, 0.0, 0.0), (248.0, 0.0, 0.41421356237), (248.0, 398.5, 0.0), (0.0, 1e-06, -1.0)]
    document = new("R2000", setup=False, units=4)
    for layer in ("OUTER-NOMINAL", "INNER-NOMINAL"):
        document.layers.add(layer)
    space = document.modelspace()
    space.add_lwpolyline(rows, format="xyb", close=True, dxfattribs={"layer": "OUTER-NOMINAL"})
    space.add_lwpolyline(rows[:3], format="xyb", dxfattribs={"layer": "INNER-NOMINAL"})
    space.add_circle((74.5, 112.5), 17.5, dxfattribs={"layer": "INNER-NOMINAL"})
    entities: list[dxf_blank.Entity] = [
        dxf_blank.DxfLine("OUTER-NOMINAL", rows, closed=True),
        dxf_blank.DxfLine("INNER-NOMINAL", rows[:3], closed=False),
        dxf_blank.Round("INNER-NOMINAL", (74.5, 112.5), 17.5),
    ]
    ours = dxf_blank.blank(("OUTER-NOMINAL", "INNER-NOMINAL")).filled(
        entities, NAME, (0.0, 0.0), (248.0, 398.5), (124.0, 199.25), 418.5
    )
    written = io.StringIO(newline="\n")
    document.write(written)

    def drawn_in(text: str) -> list[str]:
        """The entities as they are spelt, without the numbers that they have in a file."""
        body = text[text.index("  2\nENTITIES\n") :]
        return re.sub(r"\n(  5|330)\n[0-9A-F]+", "", body[: body.index("ENDSEC")]).splitlines()

    assert drawn_in(ours.decode("ascii")) == drawn_in(written.getvalue())
    # Every handle is there once, and the next free one is said.
    pairs = list(zip(*[iter(ours.decode("ascii").splitlines())] * 2, strict=True))
    seed = next(after[1] for one, after in pairwise(pairs) if one[1] == "$HANDSEED")
    handles = [value for code, value in pairs if code == "  5" and re.fullmatch("[0-9A-F]+", value)]
    handles.remove(seed)
    assert len(handles) == len(set(handles))
    assert max(int(handle, 16) for handle in handles) == int(seed, 16) - 1


# What must not go out.


def edited(data: bytes, change: Callable[[Drawing], object]) -> bytes:
    document = opened(data)
    change(document)
    text = io.StringIO()
    document.write(text)
    return text.getvalue().encode("ascii")


def outer(document: Drawing) -> Any:
    return document.modelspace().query("LWPOLYLINE").first


def circle(document: Drawing) -> Any:
    return document.modelspace().query("CIRCLE").first


def opened_up(document: Drawing) -> None:
    outer(document).closed = False


def doubled_vertex(document: Drawing) -> None:
    points = outer(document).get_points("xyb")
    outer(document).set_points([*points, points[0]], format="xyb")


def turned_round(document: Drawing) -> None:
    points = outer(document).get_points("xyb")
    outer(document).set_points(points[::-1], format="xyb")


def polygonised(document: Drawing) -> None:
    space = document.modelspace()
    corners = [(92.0, 112.5), (74.5, 95.0), (57.0, 112.5), (74.5, 130.0)]
    space.add_lwpolyline(corners, close=True, dxfattribs={"layer": "INNER-NOMINAL"})
    space.delete_entity(circle(document))


def moved_hole(document: Drawing) -> None:
    circle(document).dxf.center = (74.502, 112.5, 0)


def larger_hole(document: Drawing) -> None:
    circle(document).dxf.radius = 17.502


def doubled_hole(document: Drawing) -> None:
    document.modelspace().add_circle((74.5, 112.5), 17.5, dxfattribs={"layer": "INNER-NOMINAL"})


def lost_hole(document: Drawing) -> None:
    document.modelspace().delete_entity(circle(document))


def in_inches(document: Drawing) -> None:
    document.header["$INSUNITS"] = 1


def in_feet_and_inches(document: Drawing) -> None:
    document.header["$MEASUREMENT"] = 0


def of_another_job(document: Drawing) -> None:
    document.header["$HYPERLINKBASE"] = NAME.replace("quay_cottage", "mill_loft")


def of_another_size(document: Drawing) -> None:
    document.header["$EXTMAX"] = (250.0, 398.0, 0.0)


def with_words(document: Drawing) -> None:
    document.modelspace().add_text("FACE", dxfattribs={"layer": "OUTER-NOMINAL"})


def with_words_on_paper(document: Drawing) -> None:
    document.layout("Layout1").add_text("FACE", dxfattribs={"layer": "OUTER-NOMINAL"})


def another_layer(document: Drawing) -> None:
    document.layers.add("NOTES")


def on_layer_nought(document: Drawing) -> None:
    outer(document).dxf.layer = "0"


def with_width(document: Drawing) -> None:
    outer(document).dxf.const_width = 0.5


def lifted(document: Drawing) -> None:
    outer(document).dxf.elevation = 3.0


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        (opened_up, "a contour on layer OUTER-NOMINAL is open"),
        (doubled_vertex, r"the vertex \(0.0, 0.0\) is there twice: an edge has no length"),
        (turned_round, "a contour on layer OUTER-NOMINAL runs the wrong way round"),
        (polygonised, r"no contour has the area and size of the plan's from \(57.000, 112.500\)"),
        (moved_hole, r"no contour has the area and size of the plan's from \(57.000, 112.500\)"),
        (larger_hole, r"no contour has the area and size of the plan's from \(57.000, 112.500\)"),
        (doubled_hole, "1 contours are not in the plan"),
        (lost_hole, r"no contour has the area and size of the plan's from \(57.000, 112.500\)"),
        (in_inches, r"\$INSUNITS is 1, not 4"),
        (in_feet_and_inches, r"\$MEASUREMENT is 0, not 1"),
        (of_another_job, r"\$HYPERLINKBASE is mill_loft__.*_0badcafe, not quay_cottage__.*_0badcafe"),
        (of_another_size, r"\$EXTMIN and \$EXTMAX are \(0.0, 0.0, 250.0, 398.0\), not"),
        (with_words, "a TEXT is in it; only CIRCLE and LWPOLYLINE may be"),
        (with_words_on_paper, "1 entities lie outside the drawing itself"),
        (another_layer, "the layers are .*NOTES"),
        (on_layer_nought, 'a LWPOLYLINE lies on layer "0"'),
        (with_width, "a contour on layer OUTER-NOMINAL has a width, an elevation or a thickness"),
        (lifted, "a contour on layer OUTER-NOMINAL has a width, an elevation or a thickness"),
    ],
)
def test_a_file_that_is_not_the_plans_is_refused(change: Callable[[Drawing], None], sentence: str) -> None:
    piece = plain()
    good = closed_dxf(cut_of(piece), NAME)
    verify(good, NAME, piece.outline, piece.cuts)
    with pytest.raises(DxfFault, match=sentence):
        verify(edited(good, change), NAME, piece.outline, piece.cuts)


def test_an_outline_that_left_its_own_hole_is_refused() -> None:
    """The contours agree with one another, but not with where the plan says that the hole's middle is."""
    made, said = plain(), cut_piece("splash 3-7", 248, 398, [("riser", Circle(35.0), 74.51, 112.5)])
    with pytest.raises(DxfFault, match=r"no whole circle of radius 17.500 about \(74.510, 112.500\) is in it"):
        verify(closed_dxf(cut_of(made), NAME), NAME, made.outline, said.cuts)


def test_a_notch_that_left_its_own_middle_is_refused() -> None:
    made = corner()
    said = cut_piece("field 3-1", 298, 598, [("soil", Circle(50.0), 294.0, 594.99)], kind="corner notch")
    with pytest.raises(DxfFault, match=r"no arc of radius 25.000 about \(294.000, 594.990\) is in it"):
        verify(closed_dxf(cut_of(made), NAME), NAME, made.outline, said.cuts)


def test_holes_that_run_into_each_other_are_measured_as_one_contour() -> None:
    piece = cut_piece("splash 3-7", 248, 398, [RISER, ("box", Rect(60.0, 60.0), 90.0, 112.5)])
    (drawing,) = dxf_files(plan_of(piece))
    assert contours(drawing.data) == [("LWPOLYLINE", "OUTER-NOMINAL"), ("LWPOLYLINE", "INNER-NOMINAL")]


def test_an_open_path_that_moved_is_refused() -> None:
    cutting = cut_of(raking())
    good = open_dxf(cutting, NAME)
    verify_open(good, NAME, cutting)

    def shifted(document: Drawing) -> None:
        first, *rest = outer(document).get_points("xyb")
        outer(document).set_points([(first[0] + 0.01, *first[1:]), *rest], format="xyb")

    with pytest.raises(DxfFault, match=r"the open path from .* is not the plan's"):
        verify_open(edited(good, shifted), NAME, cutting)
    with pytest.raises(DxfFault, match="0 open paths, and 1 in the plan"):
        verify_open(edited(good, lambda document: document.modelspace().delete_entity(outer(document))), NAME, cutting)
