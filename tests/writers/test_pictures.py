"""Pictures of sheets and surfaces: in the folder's list of files, and refused before anything is written."""

from __future__ import annotations

import builtins
import json
import struct
from pathlib import Path

import numpy as np
import pypdfium2
import pytest
from msgspec.structs import replace
from PIL import Image

from cutmarks import load_job, make_plan, write_job
from cutmarks.errors import OutputError
from cutmarks.plan import Plan
from cutmarks.sheets.build import build_pack
from cutmarks.sheets.elevation_page import elevation_pages
from cutmarks.writers.pdf import pdf_bytes
from tests.cli.conftest import W1
from tests.sheets.drawn import extents, overlapping, texts

DOTS = 150
INCH = 25.4


@pytest.fixture(scope="module")
def plan(tmp_path_factory: pytest.TempPathFactory) -> Plan:
    job = tmp_path_factory.mktemp("job") / "w1.yaml"
    job.write_text(W1, encoding="utf-8")
    return make_plan(load_job(job))


def pictures(out: Path) -> list[str]:
    return sorted(path.relative_to(out).as_posix() for path in out.rglob("*.png"))


def test_each_sheet_and_each_surface_has_its_picture(plan: Plan, tmp_path: Path) -> None:
    written = write_job(plan, tmp_path / "out", pictures=True)
    (sheet,) = (name for name in written.files if name.endswith(".svg"))
    own = sheet.removeprefix("sheets/").removesuffix(".svg")
    assert pictures(tmp_path / "out") == ["pictures/w1__elevation_wall.png", f"pictures/{own}.png"]
    # PNG: the width and height stand in its first chunk (ISO/IEC 15948, 11.2.2). A4 is 210 x 297 mm.
    header = (tmp_path / "out" / "pictures" / f"{own}.png").read_bytes()[:24]
    assert struct.unpack(">II", header[16:]) == (round(210 * DOTS / INCH), round(297 * DOTS / INCH))


def test_a_picture_shows_what_the_pdf_shows(plan: Plan, tmp_path: Path) -> None:
    write_job(plan, tmp_path / "out", pictures=True)
    drawn = Image.open(tmp_path / "out" / pictures(tmp_path / "out")[1]).convert("L")
    (sheet,) = build_pack(plan).templates
    page = pypdfium2.PdfDocument(pdf_bytes([sheet], "w1"))[0].render(scale=DOTS / 72, grayscale=True).to_pil()
    size = (page.width // 4, page.height // 4)
    ours, theirs = (np.asarray(one.resize(size), dtype=float) for one in (drawn, page))
    assert (abs(ours - theirs) > 64).mean() < 0.005
    assert (ours < 128).sum() > 100


def test_they_are_in_the_list_of_files_and_go_with_the_next_output(plan: Plan, tmp_path: Path) -> None:
    out = tmp_path / "out"
    write_job(plan, out, pictures=True)
    made = json.loads((out / "plan.json").read_bytes())
    assert set(pictures(out)) <= set(made["files"])
    assert set(pictures(out)) <= set(made["digests"])
    write_job(plan, out)
    assert not (out / "pictures").exists()


def test_the_same_plan_gives_the_same_pictures(plan: Plan, tmp_path: Path) -> None:
    for name in ("one", "two"):
        write_job(plan, tmp_path / name, pictures=True)
    for name in pictures(tmp_path / "one"):
        assert (tmp_path / "one" / name).read_bytes() == (tmp_path / "two" / name).read_bytes()


@pytest.mark.parametrize(
    ("error", "sentence"),
    [
        (
            ModuleNotFoundError("No module named 'cairosvg'"),
            "Pictures are drawn by CairoSVG, which is not installed here: pip install 'cutmarks[pictures]', or leave "
            "out --pictures. Nothing was written.",
        ),
        (
            OSError('no library called "cairo-2" was found'),
            "Pictures are drawn by the library cairo, which is not installed here: apt-get install libcairo2 (macOS: "
            "brew install cairo), or leave out --pictures. Nothing was written.",
        ),
    ],
)
def test_where_they_cannot_be_drawn_nothing_is_written(
    plan: Plan, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, error: Exception, sentence: str
) -> None:
    real = builtins.__import__

    def without(name: str, *given: object, **named: object) -> object:
        if name == "cairosvg":
            raise error
        return real(name, *given, **named)  # type: ignore[arg-type]

    monkeypatch.setattr(builtins, "__import__", without)
    with pytest.raises(OutputError) as told:
        write_job(plan, tmp_path / "out", pictures=True)
    assert str(told.value) == sentence
    assert not (tmp_path / "out").exists()


def test_a_surface_is_drawn_on_a_page_of_its_own_size_inside_it(plan: Plan) -> None:
    (page,) = elevation_pages(plan, {plan.pieces[0].name: "1"})
    assert {"W1: wall", "riser"} <= set(texts(page.marks))
    assert overlapping(page.marks) == []
    for box in extents(page.marks):
        assert min(box.min_x, box.min_y) >= 0.0
        assert (box.max_x, box.max_y) <= (page.width, page.height)


def test_two_surfaces_whose_names_are_one_on_a_disk_have_two_pictures(plan: Plan) -> None:
    (surface,) = plan.surfaces
    named = [replace(surface, setout=replace(surface.setout, name=name)) for name in ("wall", "Wall!", "wall 2")]
    files = [page.file for page in elevation_pages(replace(plan, surfaces=tuple(named)), {})]
    assert len(set(files)) == 3
