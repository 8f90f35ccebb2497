"""The catalogue against published sizes: expected values are typed from the standards' tables, not from the data."""

from __future__ import annotations

from fractions import Fraction

import pytest

from cutmarks.fittings import Fitting, catalogue, find
from cutmarks.fittings.finding import Dialect
from cutmarks.units import Unit

MM, INCH = Unit.MM, Unit.INCH
IN = 25.4
"""Exact: international yard and pound agreement, 1959."""


def od(what: str, say: Dialect = "uk", default: Unit = MM) -> float:
    fitting = find(what, say, default)
    assert fitting is not None
    assert fitting.od is not None
    return fitting.od


def test_en_1057_copper_is_called_by_its_diameter() -> None:
    # EN 1057, table of recommended sizes: 26 outside diameters.
    table = [6, 8, 10, 12, 14, 15, 16, 18, 22, 25, 28, 35, 40, 42, 54, 64, 66.7, 70, 76.1, 80, 88.9]
    table += [108, 133, 159, 219, 267]
    held = [fitting.od for fitting in catalogue() if "EN 1057" in fitting.source]
    assert held == table
    for size in table:
        assert od(f"{size:g} copper") == size


@pytest.mark.parametrize(
    ("size", "tolerance"),
    [("12", 0.04), ("15", 0.04), ("22", 0.05), ("28", 0.05), ("35", 0.06), ("54", 0.06), ("108", 0.07), ("159", 0.20)],
)
def test_en_1057_tolerance_of_the_mean_diameter(size: str, tolerance: float) -> None:
    # EN 1057, tolerances on outside diameter (mean).
    fitting = find(f"{size} copper", "uk", MM)
    assert fitting is not None
    assert fitting.tolerance == (tolerance, tolerance)


@pytest.mark.parametrize(
    ("said", "nominal"),
    [
        ("1/4", Fraction(1, 4)),
        ("3/8", Fraction(3, 8)),
        ("1/2", Fraction(1, 2)),
        ("5/8", Fraction(5, 8)),
        ("3/4", Fraction(3, 4)),
        ("1", Fraction(1)),
        ("1-1/4", Fraction(5, 4)),
        ("1-1/2", Fraction(3, 2)),
        ("2", Fraction(2)),
        ("2-1/2", Fraction(5, 2)),
        ("3", Fraction(3)),
        ("4", Fraction(4)),
    ],
)
def test_astm_b88_copper_is_an_eighth_over_its_name(said: str, nominal: Fraction) -> None:
    # ASTM B88 Table 1: outside diameter = nominal + 1/8 in, for types K, L and M alike.
    assert od(f"{said} copper", "us", INCH) == pytest.approx(float(nominal + Fraction(1, 8)) * IN, abs=1e-9)


def test_us_and_metric_copper_are_not_each_other() -> None:
    # 0.625 in is 15.875 mm and 0.875 in is 22.225 mm: neither is the 15 or 22 of EN 1057.
    assert od("1/2 copper", "us", INCH) == pytest.approx(15.875)
    assert od("15 copper") == 15.0
    assert od("3/4 copper", "us", INCH) == pytest.approx(22.225)
    assert od("22 copper") == 22.0


def test_astm_b88m() -> None:
    # ASTM B88M Table 1.
    table = [6, 8, 10, 12, 15, 18, 22, 28, 35, 42, 54, 67, 79, 105, 130, 156]
    assert [fitting.od for fitting in catalogue() if "B88M" in fitting.source] == table


ISO_228 = [  # size, threads per inch, pitch, major diameter: ISO 228-1 Table 1
    ("1/16", 28, 0.907, 7.723),
    ("1/8", 28, 0.907, 9.728),
    ("1/4", 19, 1.337, 13.157),
    ("3/8", 19, 1.337, 16.662),
    ("1/2", 14, 1.814, 20.955),
    ("5/8", 14, 1.814, 22.911),
    ("3/4", 14, 1.814, 26.441),
    ("7/8", 14, 1.814, 30.201),
    ("1", 11, 2.309, 33.249),
    ("1-1/8", 11, 2.309, 37.897),
    ("1-1/4", 11, 2.309, 41.910),
    ("1-1/2", 11, 2.309, 47.803),
    ("2", 11, 2.309, 59.614),
    ("2-1/2", 11, 2.309, 75.184),
    ("3", 11, 2.309, 87.884),
    ("4", 11, 2.309, 113.030),
]
MINOR = {"1/8": 8.566, "1/4": 11.445, "1/2": 18.631, "3/4": 24.117, "1": 30.291}
"""Minor diameters of ISO 228-1, values from memory."""
WHITWORTH_DEPTH = 0.640327
"""Depth of a Whitworth thread in pitches, BS 84: (0.960491 - 2 x 0.960491/6)."""


@pytest.mark.parametrize(("size", "threads", "pitch", "major"), ISO_228)
def test_iso_228_threads(size: str, threads: int, pitch: float, major: float) -> None:
    assert od(f"{size} BSP") == major
    # Second method for the row as typed: the pitch is 25.4 over the threads per inch, to 3 decimals.
    assert round(IN / threads, 3) == pitch


@pytest.mark.parametrize("size", sorted(MINOR))
def test_iso_228_major_from_minor_and_thread_depth(size: str) -> None:
    # Second method: major = minor + two depths of a Whitworth thread; both tables are rounded to 0.001.
    threads = {name: tpi for name, tpi, _, _ in ISO_228}[size]
    assert od(f"{size} BSP") == pytest.approx(MINOR[size] + 2 * WHITWORTH_DEPTH * IN / threads, abs=0.0016)


@pytest.mark.parametrize(
    ("size", "dn", "iso_mm", "asme_in", "asme_mm"),
    [  # ISO and EN steel pipe; ASME B36.10M in inches, and its own millimetres to 0.01
        ("1/2", 15, 21.3, 0.840, 21.34),
        ("3/4", 20, 26.9, 1.050, 26.67),
        ("1", 25, 33.7, 1.315, 33.40),
        ("1-1/4", 32, 42.4, 1.660, 42.16),
        ("1-1/2", 40, 48.3, 1.900, 48.26),
        ("2", 50, 60.3, 2.375, 60.33),
        ("2-1/2", 65, 76.1, 2.875, 73.03),
        ("3", 80, 88.9, 3.500, 88.90),
        ("4", 100, 114.3, 4.500, 114.30),
    ],
)
def test_steel_pipe(size: str, dn: int, iso_mm: float, asme_in: float, asme_mm: float) -> None:
    assert od(f"DN {dn} steel") == iso_mm
    assert od(f"{size} in iron pipe", "uk", MM) == iso_mm
    us = od(f"{size} iron pipe", "us", INCH)
    assert us == pytest.approx(asme_in * IN, abs=1e-9)
    assert us == pytest.approx(asme_mm, abs=0.0051)


@pytest.mark.parametrize(("size", "inches"), [("3/8", 0.500), ("1/2", 0.625), ("3/4", 0.875), ("1", 1.125)])
def test_astm_f876_pex_has_the_size_of_copper(size: str, inches: float) -> None:
    # ASTM F876 Table 2.
    assert od(f"{size} PEX", "us", INCH) == pytest.approx(inches * IN, abs=1e-9)
    assert od(f"{size} PEX", "us", INCH) == od(f"{size} copper", "us", INCH)


@pytest.mark.parametrize(
    ("size", "inch_name", "solvent", "push_fit"), [(32, "1-1/4", 36, 34), (40, "1-1/2", 43, 41), (50, "2 in", 56, 54)]
)
def test_british_waste_is_larger_than_its_name(size: int, inch_name: str, solvent: float, push_fit: float) -> None:
    # BS EN 1329-1, national foreword (36, 43, 56 are 1-1/4, 1-1/2, 2 of BS 5255); push-fit: British trade sizes.
    assert od(f"{size} solvent waste") == solvent
    assert od(f"{inch_name} solvent waste") == solvent
    assert od(f"{size} push-fit waste") == push_fit


@pytest.mark.parametrize(
    ("size", "inches"), [("1-1/4", 1.660), ("1-1/2", 1.900), ("2", 2.375), ("3", 3.500), ("4", 4.500)]
)
def test_us_drain_pipe_has_the_size_of_iron_pipe(size: str, inches: float) -> None:
    # ASTM D1785, D2665 and D2661, Table 1 each.
    assert od(f"{size} drain", "us", INCH) == pytest.approx(inches * IN, abs=1e-9)
    assert od(f"{size} drain", "us", INCH) == od(f"{size} iron pipe", "us", INCH)


@pytest.mark.parametrize(
    ("gangs", "width"),
    [  # ANSI/NEMA WD 6
        (1, Fraction(11, 4)),
        (2, Fraction(73, 16)),
        (3, Fraction(51, 8)),
        (4, Fraction(131, 16)),
        (5, Fraction(10)),
        (6, Fraction(189, 16)),
        (7, Fraction(109, 8)),
        (8, Fraction(247, 16)),
        (9, Fraction(69, 4)),
        (10, Fraction(305, 16)),
    ],
)
def test_us_plates(gangs: int, width: Fraction) -> None:
    plate = find(f"{gangs} gang plate", "us", INCH)
    assert plate is not None
    assert plate.w == pytest.approx(float(width) * IN, abs=1e-9)
    assert plate.h == pytest.approx(4.5 * IN)
    # Second method: one more gang is 1-13/16 in more, the spacing of the devices.
    assert float(Fraction(11, 4) + (gangs - 1) * Fraction(29, 16)) == float(width)
    assert plate.pitch == pytest.approx(1.8125 * IN)


def test_british_plates() -> None:
    # Trade sizes with BS 1363 and BS 5733; the double plate from memory.
    single, double = plate("1 gang plate"), plate("2 gang plate")
    assert (single.w, single.h) == (86.0, 86.0)
    assert (double.w, double.h, double.mark) == (146.0, 86.0, "M")
    # BS 4662, from memory: 60.3 and 120.6 between the screws.
    assert (single.centres, double.centres) == (60.3, 120.6)


def plate(what: str) -> Fitting:
    fitting = find(what, "uk", MM)
    assert fitting is not None
    return fitting


def test_round_boxes() -> None:
    # DIN 49073: hole 68, boxes side by side at 71, screws at 60.
    fitting = plate("round box")
    assert (fitting.hole, fitting.pitch, fitting.centres) == (68.0, 71.0, 60.0)


def test_us_device_screws_and_faces() -> None:
    # ANSI/NEMA WD 6: 3.281 in (83.34 mm) between the screws; decorator face 1.310 x 2.630 in (33.3 x 66.8 mm).
    box, face = find("1 gang box", "us", INCH), find("decorator face", "us", INCH)
    assert box is not None
    assert face is not None
    assert box.centres == pytest.approx(83.34, abs=0.005)
    assert face.w == pytest.approx(33.3, abs=0.05)
    assert face.h == pytest.approx(66.8, abs=0.05)
