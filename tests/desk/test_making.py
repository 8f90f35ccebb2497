"""What is made on the page: the pack as it is wished, the shop's, a page of starts, and a printer that is measured."""

from __future__ import annotations

import base64
import io
import time
import zipfile
from pathlib import Path
from typing import Any

import pikepdf
import pytest

from cutmarks.desk.making import made
from tests.desk.asking import desk_on, do, get
from tests.desk.test_calls import LAUNDRY

PT_PER_MM = 72 / 25.4
PATIENCE = 300.0
"""So many seconds what is waited for may take on a busy machine."""


@pytest.fixture
def job(tmp_path: Path) -> Path:
    path = tmp_path / "laundry.yaml"
    path.write_bytes(LAUNDRY.read_bytes())
    return path


def asked(name: str, job: Path, **more: object) -> dict[str, Any]:
    given = {"file": str(job), "text": job.read_text("utf-8"), "printers": str(job.with_name("printers.json")), **more}
    return made(name, given, lambda *_: None)


def paper_of(pdf: Path) -> tuple[int, int]:
    """The size of the last page, mm, the shorter first."""
    with pikepdf.open(pdf) as opened:
        box = [float(one) / PT_PER_MM for one in opened.pages[-1].mediabox]
    short, long = sorted((round(box[2] - box[0]), round(box[3] - box[1])))
    return short, long


def test_a_pack_is_made_on_the_paper_that_was_wished(job):
    # ISO 216: A3 is 297 x 420.
    assert "pack.pdf" in asked("make", job, paper="a3")["files"]
    assert paper_of(job.parent / "laundry-pack" / "pack.pdf") == (297, 420)


def test_what_broke_is_printed_again(job):
    answer = asked("make", job, again="hot; splash 3-5")
    assert answer["files"][0] == "again.pdf"
    with pikepdf.open(job.parent / "laundry-pack" / "again.pdf") as opened:
        assert len(opened.pages) == 2
    assert "No piece changed since the last output." in asked("make", job)["said"]


def test_templates_for_the_back_are_mirrored(job):
    face = asked("make", job)
    back = asked("make", job, back=True)
    assert face["count"] == back["count"]
    # In the list of files they are called what they are, and every tile with a sheet is named.
    assert face["called"] == {}
    assert "BACK" in back["called"]["pack.pdf"]
    (words,) = [one for one in back["said"] if "BACK" in one]
    assert "splash 3-4" in words
    # The upper tiles are textured: their sheets are for the back in any case.
    (words,) = [one for one in face["said"] if "BACK" in one]
    assert "upper 1-5" in words
    assert "splash 3-4" not in words
    sheets = list((job.parent / "laundry-pack" / "sheets").glob("*.svg"))
    assert sheets
    assert all("BACK" in one.read_text("utf-8") for one in sheets)


@pytest.mark.parametrize(
    ("wish", "says"),
    [
        ({"paper": "A9"}, '"A9" is no paper'),
        ({"again": "nothing of that name"}, "nothing of that name"),
        ({"printer": "office"}, 'There is no calibration of "office", for A4'),
    ],
)
def test_a_wish_that_cannot_be_is_said_and_nothing_is_written(job, wish, says):
    assert says in asked("make", job, **wish)["fault"]
    assert [one.name for one in job.parent.iterdir()] == ["laundry.yaml"]


def test_the_shops_pack_never_takes_the_place_of_another(job):
    assert asked("shop", job)["folder"] == "laundry-shop"
    answer = asked("shop", job)
    assert answer["folder"] == "laundry-shop-2"
    said = any(words.startswith("ASKED OF YOU") and "contact:" in words for words in answer["said"])
    assert said is ("contact:" not in job.read_text(encoding="utf-8"))
    for folder in ("laundry-shop", "laundry-shop-2"):
        assert {one.name for one in (job.parent / folder).iterdir()} >= {"cut-list.csv", "drawings.pdf", "dxf"}
    assert answer["count"] == len(answer["names"]) == sum(one.is_file() for one in (job.parent / folder).rglob("*"))


def test_the_shops_pack_is_handed_out_and_nothing_else_of_its_folder(job):
    desk = desk_on(job.parent)
    assert get(desk, "shop/laundry.yaml").status == 404
    assert do(desk, "shop", "laundry.yaml")["busy"]
    patience = time.monotonic() + PATIENCE
    while (answer := do(desk, "making", "laundry.yaml", what="shop")).get("busy"):
        assert time.monotonic() < patience
        time.sleep(0.05)
    folder = job.parent / answer["folder"]
    (folder / "mine.txt").write_text("mine")
    zipped = get(desk, "shop/laundry.yaml")
    names = set(zipfile.ZipFile(io.BytesIO(zipped.body)).namelist())
    assert names == {f"laundry-shop/{name}" for name in answer["names"]}
    (folder / "cut-list.csv").unlink()
    (folder / "cut-list.csv").symlink_to(job)
    assert get(desk, "shop/laundry.yaml").status == 404


def test_the_starts_are_drawn_on_one_page(job):
    answer = asked("starts_page", job, surface="sink wall")
    with pikepdf.open(io.BytesIO(base64.b64decode(answer["pdf"]))) as opened:
        assert len(opened.pages) == 1
    assert answer["name"] == "starts.pdf"


def test_a_printer_is_measured_once_and_its_sheets_are_corrected(job):
    assert base64.b64decode(asked("test_page", job)["pdf"]).startswith(b"%PDF-")
    read = {"printer": "office", "across": "179.5", "along": "251", "today": "2026-03-14"}
    # The bars are 180 and 250: 179.5 / 180 is 0.28 % short, 251 / 250 is 0.40 % long.
    words = "corrected for office, A4, measured 2026-03-14: across \u22120.28 %, along +0.40 %"
    assert asked("measured", job, **read)["said"] == f"It will be corrected. Kept: {words}."
    assert f"The sheets are {words}." in asked("make", job, printer="office")["said"]
    desk = desk_on(job.parent)
    desk.printers = job.with_name("printers.json")
    assert do(desk, "printers", "laundry.yaml")["printers"] == [{"name": "office", "tray": "", "words": words}]


@pytest.mark.parametrize(
    ("read", "says"),
    [
        ({"printer": " ", "across": "180", "along": "250"}, "Give the printer a name of 1 to 40"),
        ({"printer": "office", "across": "?", "along": "250"}, "across: "),
        ({"printer": "office", "across": "180", "along": "250", "margin": "200"}, "blank is from"),
        ({"printer": "office", "across": "90", "along": "125"}, "Nothing is corrected."),
    ],
)
def test_a_reading_of_a_printer_that_cannot_be_is_said_and_not_kept(job, read, says):
    assert says in asked("measured", job, today="2026-03-14", **read)["fault"]
    assert not job.with_name("printers.json").exists()
