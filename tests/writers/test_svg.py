"""Sheets as SVG, read back by an XML parser and measured in millimetres."""

from __future__ import annotations

import hashlib
import math
import re
import shutil
import subprocess
import sys
import xml.etree.ElementTree as ElementTree
from pathlib import Path

import pypdfium2
import pytest
from msgspec.structs import replace

from cutmarks.errors import GeometryError
from cutmarks.geometry.frames import Point
from cutmarks.geometry.rings import Vertex
from cutmarks.job import load_job
from cutmarks.marks.lettering import ink
from cutmarks.marks.model import CircleMark, Role, Stroke, Words, line
from cutmarks.plan import make_plan
from cutmarks.sheets.build import build_sheets
from cutmarks.sheets.model import PaperSheet
from cutmarks.writers.number import number
from cutmarks.writers.pdf import pdf_bytes
from tests.scenes import SCENES
from tests.worked.figures import W3_RIGHT, W3_TOP
from tests.writers.as_bytes import svg_bytes
from tests.writers.pdf_reading import reader_of, strokes

SVG = "{http://www.w3.org/2000/svg}"
HREF = "{http://www.w3.org/1999/xlink}href"
HUNDREDTH = 0.01
PIXELS = 4.0
"""In a millimetre."""
MM_POINTS = 72.0 / 25.4
EXAMPLES = sorted(path for path in Path(__file__).parents[2].glob("examples/*/*.yaml") if path.stem == path.parent.name)


def root_of(sheet):
    return ElementTree.fromstring(svg_bytes(sheet))


def page(*marks, title="a sheet"):
    return PaperSheet("sheets/a_face_1.svg", title, 210.0, 297.0, tuple(marks))


def group(root, name):
    return [child for one in root.iter(f"{SVG}g") if one.get("class") == name for child in one]


def numbers(text):
    return [float(one) for one in re.findall(r"-?[0-9.]+", text)]


def ends_of(d):
    """The start and the end of one straight line, x and y each; a level or plumb one says but what changes (H, V)."""
    x, y, *end = numbers(d)
    if "H" in d or "V" in d:
        end = [end[0], y] if "H" in d else [x, end[0]]
    return [x, y, *end]


def arc_centre(start, d):
    """Centre of an SVG arc, by the conversion of SVG 1.1, F.6.5, with equal radii and no rotation."""
    radius, _, _, large, sweep, x2, y2 = d
    x1, y1 = start
    half_x, half_y = (x1 - x2) / 2, (y1 - y2) / 2
    square = half_x**2 + half_y**2
    factor = math.sqrt(max(0.0, radius**2 / square - 1.0)) * (-1.0 if large == sweep else 1.0)
    return factor * half_y + (x1 + x2) / 2, -factor * half_x + (y1 + y2) / 2


@pytest.mark.parametrize("name", SCENES)
def test_the_size_is_in_millimetres_with_an_equal_view_box(name):
    for sheet in build_sheets(SCENES[name]()):
        root = root_of(sheet)
        assert root.get("width") == f"{number(sheet.width)}mm"
        assert root.get("height") == f"{number(sheet.height)}mm"
        assert numbers(root.get("viewBox")) == pytest.approx([0.0, 0.0, sheet.width, sheet.height], abs=HUNDREDTH)


def test_w1_measures_from_the_printed_edges_to_the_printed_centre():
    (sheet,) = build_sheets(SCENES["w1"]())
    root = root_of(sheet)
    (circle,) = [one for one in group(root, "cut") if one.tag == f"{SVG}circle"]
    edges = [ends_of(one.get("d")) for one in group(root, "tile-edge")]
    left = next(x0 for x0, _, x1, _ in edges if x0 == x1)
    lower = next(y0 for _, y0, _, y1 in edges if y0 == y1)
    # Worked example W1: 74.5 from the left edge, 112.5 from the bottom one (y runs down in SVG); core 35.
    assert float(circle.get("cx")) - left == pytest.approx(74.5, abs=HUNDREDTH)
    assert lower - float(circle.get("cy")) == pytest.approx(112.5, abs=HUNDREDTH)
    assert float(circle.get("r")) == pytest.approx(17.5, abs=HUNDREDTH)


def test_w2_measures_to_the_sides_of_the_box_from_the_right_edge():
    sheet = build_sheets(SCENES["box"]())[0]
    root = root_of(sheet)
    (path,) = group(root, "cut")
    # A box says each coordinate once: M x y, then H x and V y in turn.
    start_x, start_y, *_ = numbers(path.get("d"))
    xs = [start_x, *(float(x) for x in re.findall(r"H(-?[0-9.]+)", path.get("d")))]
    ys = [start_y, *(float(y) for y in re.findall(r"V(-?[0-9.]+)", path.get("d")))]
    edges = [ends_of(one.get("d")) for one in group(root, "tile-edge")]
    right = next(x0 for x0, _, x1, _ in edges if x0 == x1)
    lines = [ends_of(one.get("d")) for one in group(root, "centre")]
    taped = next(y0 for x0, y0, x1, y1 in lines if y0 == y1 and abs(x0 - x1) > 50.0)
    # Worked example W2: the right web is 72.5; the cut-out is 76 x 78. It ends 173 above the lower edge, out of reach
    # of the sheet: its middle, 39 from either side, lies on the line that is taped to.
    assert (right - max(xs), right - min(xs)) == pytest.approx((72.5, 148.5), abs=HUNDREDTH)
    assert (max(ys) - taped, taped - min(ys)) == pytest.approx((39.0, 39.0), abs=HUNDREDTH)


def test_w3_is_one_arc_about_the_opening_s_own_centre():
    (sheet,) = build_sheets(SCENES["quarter_of_crossing"]())
    root = root_of(sheet)
    (path,) = group(root, "cut")
    d = path.get("d")
    assert (d.count("A"), d.count("L")) == (1, 0)
    x1, y1, *arc = numbers(d)
    edges = [ends_of(one.get("d")) for one in group(root, "tile-edge")]
    right = next(x0 for x0, _, x1_, _ in edges if x0 == x1_)
    upper = next(y0 for _, y0, _, y1_ in edges if y0 == y1_)
    centre = arc_centre((x1, y1), arc)
    # Worked example W3, below left: centre 4 from the right edge and 3 from the top one.
    assert (right - centre[0], centre[1] - upper) == pytest.approx((4.0, 3.0), abs=HUNDREDTH)
    ends = sorted([(x1, y1), (arc[5], arc[6])])
    assert (right - ends[0][0], ends[0][1] - upper) == pytest.approx((298 - W3_TOP, 0.0), abs=HUNDREDTH)
    assert (right - ends[1][0], ends[1][1] - upper) == pytest.approx((0.0, 598 - W3_RIGHT), abs=HUNDREDTH)


def test_the_flip_of_y_turns_the_sense_of_arcs():
    # Counter-clockwise with y up (bulge 1 is a half circle): from (20, 10) over the top to (10, 10) and the arc's
    # middle at (15, 15). With y down that is counter-clockwise on the paper too, which SVG calls sweep 0.
    half: Stroke = Stroke((Vertex(20.0, 10.0, 1.0), Vertex(10.0, 10.0)), Role.CUT)
    (path,) = group(root_of(page(half)), "cut")
    assert path.get("d") == "M20 287 A5 5 0 0 0 10 287"


def test_an_arc_of_more_than_half_a_turn_is_the_large_one():
    # Bulge tan(270 / 4 degrees): three quarters of a turn, clockwise; radius = chord / sqrt 2.
    bulge = -math.tan(math.radians(270.0) / 4)
    arc: Stroke = Stroke((Vertex(10.0, 10.0, bulge), Vertex(20.0, 10.0)), Role.CUT)
    (path,) = group(root_of(page(arc)), "cut")
    radius, _, _, large, sweep, _, _ = numbers(path.get("d"))[2:]
    assert (large, sweep) == (1, 1)
    assert radius == pytest.approx(10.0 / math.sqrt(2.0), abs=1e-3)


def test_words_are_outlines_and_can_still_be_read_in_the_file():
    words: Words = Words("74½ & <b>", Point(20.0, 20.0), 7.0)
    data = svg_bytes(page(words, title="A & B \x07"))
    root = ElementTree.fromstring(data)
    assert [one.get("aria-label") for one in group(root, "words")] == ["74½ & <b>"]
    assert list(root.iter(f"{SVG}text")) == []
    assert next(root.iter(f"{SVG}title")).text == "A & B □"


@pytest.mark.parametrize("name", ["w1", "box", "turned"])
def test_a_letter_s_outline_stands_once_and_is_named_wherever_it_is_wanted(name):
    for sheet in build_sheets(SCENES[name]()):
        root = root_of(sheet)
        outlines = [one.get("id") for one in root.find(f"{SVG}defs")]
        assert len({one.get("d") for one in root.find(f"{SVG}defs")}) == len(set(outlines)) == len(outlines)
        named = [one.get(HREF).removeprefix("#") for one in root.iter(f"{SVG}use")]
        assert set(named) == set(outlines)
        # Every letter but a blank is there.
        said = "".join(one.get("aria-label") for one in root.iter() if one.get("aria-label"))
        assert len(named) == len(said) - said.count(" ")


def test_a_reader_that_knows_no_use_still_has_every_line():
    root = root_of(build_sheets(SCENES["w1"]())[0])
    for words in [one for one in root.iter(f"{SVG}g") if one.get("aria-label")]:
        assert {child.tag for child in words} == {f"{SVG}use"}
    kinds = {child.tag for one in root.iter(f"{SVG}g") if one.get("class") not in (None, "words") for child in one}
    assert kinds <= {f"{SVG}path", f"{SVG}circle"}


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_a_sheet_of_an_example_weighs_at_most_90_kb(path):
    for sheet in build_sheets(make_plan(load_job(path))):
        assert len(svg_bytes(sheet)) <= 90_000, sheet.file


@pytest.mark.parametrize("anchor", ["start", "middle", "end"])
@pytest.mark.parametrize("turn", [0.0, 90.0, 30.0])
def test_the_words_stand_where_they_were_measured(anchor, turn):
    # Rasterised by a PDF reader; the extents are those that the lettering reckons with.
    words: Words = Words("Hgf½", Point(100.0, 150.0), 20.0, anchor, bold=True, turn=turn)
    picture = (
        pypdfium2.PdfDocument(pdf_bytes([page(words)], "x"))[0]
        .render(scale=PIXELS / MM_POINTS, grayscale=True)
        .to_pil()
    )
    left, top, right, bottom = picture.point(lambda value: 255 if value < 128 else 0).getbbox()
    xs, ys = zip(*ink(words), strict=True)
    if turn % 90.0 == 0.0:
        # A pixel is a quarter of a millimetre; control points may lie a little outside the ink.
        assert (left / PIXELS, right / PIXELS) == pytest.approx((min(xs), max(xs)), abs=0.6)
        assert (297 - bottom / PIXELS, 297 - top / PIXELS) == pytest.approx((min(ys), max(ys)), abs=0.6)
    assert min(xs) - 0.6 <= left / PIXELS
    assert right / PIXELS <= max(xs) + 0.6


def test_nothing_is_told_by_colour():
    colours = {
        one.get(kind)
        for name in ("w1", "stopped", "one_edge", "turned")
        for sheet in build_sheets(SCENES[name]())
        for one in root_of(sheet).iter()
        for kind in ("fill", "stroke")
        if one.get(kind) not in (None, "none")
    }
    assert colours <= {"black", "white", "#c8c8c8"}


@pytest.mark.parametrize("bad", [math.nan, math.inf])
def test_a_number_that_is_not_finite_is_refused(bad):
    with pytest.raises(GeometryError, match="nothing is drawn"):
        svg_bytes(page(CircleMark(Point(bad, 10.0), 5.0, Role.CUT)))


def test_numbers_are_short_and_plain():
    assert number(0.1 + 0.2) == "0.3"
    assert number(-1e-9) == "0"
    assert number(1e6) == "1000000"
    assert number(210.0) == "210"


def test_marks_of_one_kind_share_one_group():
    drawn = page(line(0.0, 0.0, 1.0, 1.0, Role.CUT), line(1.0, 1.0, 2.0, 2.0, Role.CUT))
    assert len([one for one in root_of(drawn).iter(f"{SVG}g") if one.get("class") == "cut"]) == 1


def test_two_runs_give_the_same_bytes_whatever_the_order_of_hashing():
    program = (
        "import hashlib; from tests.scenes import SCENES; from cutmarks.sheets.build import build_sheets;"
        "from tests.writers.as_bytes import svg_bytes;"
        "names = ('quarter_of_crossing', 'two_sheets', 'one_edge');"
        "print(hashlib.sha256(b''.join(svg_bytes(s) for n in names for s in build_sheets(SCENES[n]()))).hexdigest())"
    )
    runs = {
        subprocess.run(
            [sys.executable, "-c", program], capture_output=True, text=True, check=True, env={"PYTHONHASHSEED": seed}
        ).stdout.strip()
        for seed in ("1", "2")
    }
    here = b"".join(
        svg_bytes(sheet)
        for name in ("quarter_of_crossing", "two_sheets", "one_edge")
        for sheet in build_sheets(SCENES[name]())
    )
    assert runs == {hashlib.sha256(here).hexdigest()}


def test_it_says_to_a_browser_what_paper_it_is_and_that_it_has_no_margin():
    for sheet in (page(), replace(page(), width=215.9, height=279.4)):
        style = root_of(sheet).find(f"{SVG}style")
        # CSS Paged Media, 5.1 and 6.1: the page's size, and its margin.
        assert style.text == f"@page{{size:{number(sheet.width)}mm {number(sheet.height)}mm;margin:0}}"


@pytest.mark.skipif(shutil.which("chromium") is None, reason="prints through a browser, which is not on this machine")
def test_a_browser_prints_it_at_full_size_on_one_page(tmp_path):
    (sheet,) = build_sheets(SCENES["w1"]())
    (tmp_path / "sheet.svg").write_bytes(svg_bytes(sheet))
    command = ["chromium", "--headless", "--no-sandbox", "--disable-gpu", f"--user-data-dir={tmp_path / 'profile'}"]
    command += [f"--print-to-pdf={tmp_path / 'out.pdf'}", (tmp_path / "sheet.svg").as_uri()]
    subprocess.run(command, check=True, capture_output=True, timeout=120)
    reader = reader_of((tmp_path / "out.pdf").read_bytes())
    (printed,) = reader.pages
    size = [float(side) / MM_POINTS for side in (printed.mediabox.width, printed.mediabox.height)]
    assert size == pytest.approx([210.0, 297.0], abs=0.15)
    lines = [path for path, _ in strokes(printed, reader) if [step for step, _ in path] == ["m", "l"]]
    long = [math.dist(path[0][1][0], path[1][1][0]) for path in lines]
    for bar in (180.0, 250.0):
        # A browser counts in 1/96 in and rounds a page's size to it: within 0.05 %.
        assert any(one == pytest.approx(bar, rel=0.0005) for one in long)
