"""A printer measured as a tiler does it: test page, readings, and the sheets that come of them."""

from __future__ import annotations

import datetime
import json

import pypdf
import pypdfium2
import pytest

from tests.writers.pdf_reading import HUNDREDTH, straight, strokes


@pytest.fixture
def printers(tmp_path):
    """The file that measured printers are kept in."""
    return tmp_path / "config" / "cutmarks" / "printers.json"


def bars_of(path):
    """The lengths of the wide upright and level lines of a PDF's first page, mm, the longest of each."""
    reader = pypdf.PdfReader(path)
    wide = straight(strokes(reader.pages[0], reader), 0.35)
    across = max(abs(a[0] - b[0]) for a, b in wide if abs(a[1] - b[1]) < 1e-3)
    along = max(abs(a[1] - b[1]) for a, b in wide if abs(a[0] - b[0]) < 1e-3)
    return across, along


def words_of(path, page=0):
    return pypdfium2.PdfDocument(path)[page].get_textpage().get_text_range().replace("\r\n", " ")


def test_the_test_page_has_two_bars_and_says_what_to_type(run, tmp_path):
    result = run("printer", "office", "--test-page", "test.pdf")
    assert (result.exit_code, result.stderr) == (0, "")
    assert bars_of(tmp_path / "test.pdf") == pytest.approx((180.0, 250.0), abs=HUNDREDTH)
    assert "cutmarks printer NAME --paper A4" in words_of(tmp_path / "test.pdf")
    again = run("printer", "office", "--test-page", "test.pdf")
    assert again.exit_code == 2
    assert "is there already" in again.stderr


def test_readings_in_inches(run, tmp_path):
    run("printer", "office", "--test-page", "test.pdf", "--units", "in")
    assert bars_of(tmp_path / "test.pdf") == pytest.approx((7 * 25.4, 10 * 25.4), abs=HUNDREDTH)
    result = run("printer", "office", "--units", "in", "--paper", "Letter", "--across", "7 1/32", "--along", "10")
    assert result.exit_code == 0
    # 1/32 in 7 is 0.45 %.
    assert "across +0.45 %, along 0 %" in result.stdout.replace("−", "-")


def test_each_printer_keeps_its_own_margin(run, w1, tmp_path):
    # 210 - 28 is 182, less what stands beside the bar 180 and a little: a bar of 170; 297 - 28 still holds 250.
    run("printer", "garage", "--margin", "14", "--test-page", "test.pdf")
    assert bars_of(tmp_path / "test.pdf") == pytest.approx((170.0, 250.0), abs=HUNDREDTH)
    assert "--margin 14mm" in words_of(tmp_path / "test.pdf")
    result = run("printer", "garage", "--margin", "14", "--across", "169.5", "--along", "250.5")
    assert result.exit_code == 0
    run("printer", "office", "--across", "179.5", "--along", "250.5")
    for name, margin in (("garage", 14.0), ("office", 10.0)):
        assert run("make", w1, "--out", name, "--printer", name).exit_code == 0
        reader = pypdf.PdfReader(tmp_path / name / "pack.pdf")
        lines = straight(strokes(reader.pages[0], reader), 0.35)
        nearest = min(min(a[0], b[0]) for a, b in lines)
        # The corner marks stand a quarter of a mm inside; the correction moves them by 0.3 % of half a page, 0.3 mm.
        assert abs(nearest - margin - 0.25) < 0.35


@pytest.mark.parametrize("margin", ["4", "21", "wide"])
def test_a_margin_that_no_sheet_can_have_is_a_wrong_call(run, printers, margin):
    assert run("printer", "garage", "--margin", margin, "--across", "180", "--along", "250").exit_code == 2
    assert not printers.exists()


def test_a_printer_is_kept_by_name_tray_and_paper_with_its_date(run, printers):
    run("printer", "Office", "--across", "179.5", "--along", "251", "--diagonals", "308.5", "308")
    run("printer", "office", "--tray", "upper", "--across", "180", "--along", "250.5")
    run("printer", "office", "--across", "180.5", "--along", "250.5")
    kept = json.loads(printers.read_text(encoding="utf-8"))["printers"]
    today = datetime.date.today().isoformat()
    assert [(one["printer"], one["tray"], one["paper"], one["date"]) for one in kept] == [
        ("office", "", "A4", today),
        ("office", "upper", "A4", today),
    ]
    assert kept[0]["read"] == {"across": 180.5, "along": 250.5, "rising": None, "falling": None}
    shown = run("printer").stdout
    assert shown.count("measured today") == 2


def test_a_page_that_a_program_scaled_is_refused_and_not_kept(run, printers):
    result = run("printer", "office", "--across", "172.8", "--along", "240")
    assert result.exit_code == 2
    assert 'Switch off "fit to page"' in result.stderr
    assert not printers.exists()


def test_bars_that_are_out_alike_are_asked_about(run, printers):
    # 99.2 % both ways.
    readings = ("printer", "office", "--across", "178.6", "--along", "248")
    assert run(*readings, input="n\n").exit_code == 2
    assert not printers.exists()
    assert run(*readings, input="y\n").exit_code == 0
    assert run(*readings, "--actual-size").exit_code == 0
    assert printers.exists()


@pytest.mark.parametrize(
    "call",
    [
        ("office", "--across", "180"),
        ("office", "--across", "180", "--along", "250", "--test-page", "test.pdf"),
        ("--across", "180", "--along", "250"),
        ("office", "--across", "wide", "--along", "250"),
        ("office", "--margin", "14"),
        ("--margin", "14"),
        ("o" * 41, "--across", "180", "--along", "250"),
        ("of\x07fice", "--across", "180", "--along", "250"),
    ],
)
def test_a_wrong_call_keeps_nothing(run, printers, call):
    assert run("printer", *call).exit_code == 2
    assert not printers.exists()


def test_a_margin_alone_is_not_dropped_silently(run):
    result = run("printer", "office", "--margin", "14")
    assert result.exit_code == 2
    assert "--margin goes with --test-page, or with the readings of a page" in " ".join(result.stderr.split())


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (("--across", "18", "--along", "25"), "write 18 cm, or 180, for the bar across, and 25 cm, or 250, for"),
        # 180 and 250 are 7.087 and 9.843 in.
        (
            ("--across", "7.09", "--along", "9.84"),
            "write 7.09 in, or 180.1, for the bar across, and 9.84 in, or 249.9,",
        ),
        (("--units", "in", "--paper", "Letter", "--across", "178", "--along", "254"), "write 178 mm, or 7.008, for"),
        (("--units", "in", "--paper", "Letter", "--across", "17.8", "--along", "25.4"), "write 17.8 cm, or 7.008, for"),
    ],
)
def test_bars_without_their_unit_are_no_program_s_fault(run, printers, call, words):
    result = run("printer", "office", *call)
    assert result.exit_code == 2
    said = " ".join(result.stderr.split())
    assert words in said
    assert "program" not in said
    assert not printers.exists()


def test_bars_with_their_unit_are_taken(run):
    assert run("printer", "office", "--across", "18 cm", "--along", "25 cm").exit_code == 0


def test_a_printer_that_nobody_measured_is_said_to_be_so(run):
    result = run("printer", "office")
    assert result.exit_code == 2
    assert "--test-page" in result.stderr


@pytest.mark.parametrize(
    "text",
    [
        "",
        "[]",
        '{"printers": [{}]}',
        '{"printers": [{"printer": "office", "tray": "", "paper": "A4", "date": "2026-11-25", '
        '"must": {"across": 180, "along": 250}, "read": {"across": -1, "along": 1, "rising": null, "falling": null}}]}',
        '{"printers": [{"printer": "office", "tray": "", "paper": "foolscap", "date": "2026-11-25", '
        '"must": {"across": 180, "along": 250}, "read": {"across": 1, "along": 1, "rising": null, "falling": null}}]}',
    ],
)
def test_a_file_that_somebody_changed_is_a_fault_with_its_name(run, w1, printers, text):
    printers.parent.mkdir(parents=True)
    printers.write_text(text, encoding="utf-8")
    result = run("make", w1, "--out", "out", "--printer", "office")
    assert result.exit_code == 2
    assert "printers.json" in result.stderr


def test_readings_that_were_changed_by_hand_are_judged_anew(run, w1, printers):
    run("printer", "office", "--across", "179.5", "--along", "251")
    printers.write_text(printers.read_text(encoding="utf-8").replace("179.5", "172.8").replace("251.0", "240.0"))
    result = run("make", w1, "--out", "out", "--printer", "office")
    assert result.exit_code == 2
    assert "fitted to" in result.stderr


def test_the_sheets_are_corrected_and_say_so(run, w1, tmp_path):
    run("printer", "office", "--across", "179.5", "--along", "251")
    result = run("make", w1, "--out", "out", "--printer", "office")
    assert (result.exit_code, result.stderr) == (0, "")
    assert "(measured today)" in result.stdout
    # By hand: on this printer 180 comes out as 179.5 and 250 as 251.
    across, along = bars_of(tmp_path / "out" / "pack.pdf")
    assert across * 179.5 / 180 == pytest.approx(180.0, abs=HUNDREDTH)
    assert along * 251 / 250 == pytest.approx(250.0, abs=HUNDREDTH)
    said = words_of(tmp_path / "out" / "pack.pdf")
    assert f"corrected for office, A4, measured {datetime.date.today().isoformat()}" in said
    assert "measured today" not in said
    # 112.5 x 0.3 % + 0.3 + 0.25 is 0.89; uncalibrated it is 1.12.
    assert "Paper may be 0.9 out" in words_of(tmp_path / "out" / "pack.pdf", page=1)
    # SVG goes to plotters: as drawn, and it says that nothing is corrected.
    run("make", w1, "--out", "plain")
    plain = {path.name: path.read_bytes() for path in (tmp_path / "plain" / "sheets").iterdir()}
    for path in (tmp_path / "out" / "sheets").iterdir():
        assert b"printer not measured" in path.read_bytes()
        assert b"corrected for" not in path.read_bytes()
        assert path.name in plain


def test_the_job_s_fingerprint_covers_the_calibration_and_a_piece_s_does_not(run, w1, tmp_path):
    run("printer", "office", "--across", "179.5", "--along", "251")
    run("make", w1, "--out", "plain")
    run("make", w1, "--out", "out", "--printer", "office")
    plain, out = (json.loads((tmp_path / name / "plan.json").read_bytes()) for name in ("plain", "out"))
    assert plain["fingerprint"] != out["fingerprint"]
    assert [one["fingerprint"] for one in plain["pieces"]] == [one["fingerprint"] for one in out["pieces"]]


@pytest.mark.parametrize("more", [("--paper", "A3"), ("--tray", "upper")])
def test_another_paper_or_tray_has_another_calibration(run, w1, tmp_path, more):
    run("printer", "office", "--across", "179.5", "--along", "251")
    result = run("make", w1, "--out", "out", "--printer", "office", *more)
    assert result.exit_code == 2
    assert "There is no calibration" in result.stderr
    assert "office, A4" in result.stderr
    assert not (tmp_path / "out").exists()


def test_a_tray_without_a_printer_is_a_wrong_call(run, w1):
    assert run("make", w1, "--out", "out", "--tray", "upper").exit_code == 2


def test_an_old_calibration_is_said_on_the_terminal(run, w1, printers):
    run("printer", "office", "--across", "179.5", "--along", "251")
    today = datetime.date.today()
    old = (today - datetime.timedelta(days=200)).isoformat()
    printers.write_text(printers.read_text(encoding="utf-8").replace(today.isoformat(), old), encoding="utf-8")
    said = " ".join(run("make", w1, "--out", "out", "--printer", "office").stdout.split())
    assert "(measured 200 days ago; measure the bars again)" in said


def test_one_tile_s_template_is_corrected_too(run, tmp_path):
    run("printer", "office", "--across", "179.5", "--along", "251")
    readings = ("--from-left-tile", "69 to 84", "--from-course-below", "107 to 122")
    call = ("one", "--tile", "248x398", "--joint", "2", "--what", "15 copper", *readings, "--printer", "office")
    assert run(*call).exit_code == 2
    assert run(*call, "--out", "out").exit_code == 0
    across, _ = bars_of(tmp_path / "out" / "pack.pdf")
    assert across == pytest.approx(180.0 * 180.0 / 179.5, abs=HUNDREDTH)


@pytest.mark.parametrize("paper", ["610 x 900", "roll 610"])
def test_a_plotter_is_measured_like_any_printer(run, tmp_path, paper):
    assert run("printer", "plotter", "--paper", paper, "--test-page", "test.pdf").exit_code == 0
    across, along = bars_of(tmp_path / "test.pdf")
    assert (
        run("printer", "plotter", "--paper", paper, "--across", f"{across:.1f}", "--along", f"{along:.1f}").exit_code
        == 0
    )
    assert f"plotter, {paper}" in run("printer").stdout
